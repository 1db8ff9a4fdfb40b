//! One refused input. The door reports all of them, never only the first.

use std::fmt;

/// One input that cannot be used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Path of the field, dotted, list places in brackets: `rails[0].readings[2].thickness`.
    pub path: String,
    /// What was given, as the reader would recognise it.
    pub given: String,
    /// What is allowed.
    pub allowed: String,
    /// How to mend it. Empty where `allowed` says it all.
    pub advice: String,
}

impl Fault {
    /// A fault at `path`.
    pub fn new(
        path: impl Into<String>,
        given: impl Into<String>,
        allowed: impl Into<String>,
        advice: impl Into<String>,
    ) -> Self {
        Self {
            path: path.into(),
            given: given.into(),
            allowed: allowed.into(),
            advice: advice.into(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: given {}; allowed: {}", self.path, self.given, self.allowed)?;
        if self.advice.is_empty() { Ok(()) } else { write!(f, "; {}", self.advice) }
    }
}

/// Collects faults on the way through a request.
#[derive(Debug, Default)]
pub struct Faults {
    found: Vec<Fault>,
}

impl Faults {
    /// An empty collection.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds one fault.
    pub fn push(&mut self, fault: Fault) {
        self.found.push(fault);
    }

    /// Adds many faults.
    pub fn extend(&mut self, faults: impl IntoIterator<Item = Fault>) {
        self.found.extend(faults);
    }

    /// Adds a fault made of its four parts.
    pub fn add(
        &mut self,
        path: impl Into<String>,
        given: impl Into<String>,
        allowed: impl Into<String>,
        advice: impl Into<String>,
    ) {
        self.found.push(Fault::new(path, given, allowed, advice));
    }

    /// How many faults there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.found.len()
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// `Ok(value)` when nothing was found, else all faults in the order of their finding.
    ///
    /// # Errors
    /// All collected faults.
    pub fn or<T>(self, value: T) -> Result<T, Vec<Fault>> {
        if self.found.is_empty() { Ok(value) } else { Err(self.found) }
    }

    /// The faults so far, in the order of their finding.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.found.iter()
    }

    /// All collected faults.
    #[must_use]
    pub fn into_vec(self) -> Vec<Fault> {
        self.found
    }
}
