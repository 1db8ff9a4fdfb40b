//! What of a design is checked.

/// What of a design is checked: which mounts, and whether what belongs to none of them. The rows of a
/// mount have the same numbers and the same bits whatever else is checked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Scope {
    /// By place in the design; none where all of them are.
    mounts: Option<Vec<usize>>,
    whole: bool,
}

impl Scope {
    /// Everything there is to check.
    #[must_use]
    pub fn everything() -> Self {
        Self { mounts: None, whole: true }
    }

    /// The rows of these mounts, by place in the design (those of the project in its order, left
    /// before right), and nothing else.
    #[must_use]
    pub fn mounts(places: impl IntoIterator<Item = usize>) -> Self {
        Self { mounts: Some(places.into_iter().collect()), whole: false }
    }

    /// With the rows that belong to no mount: bars across the car, rails as beams, fishplates.
    #[must_use]
    pub fn and_whole(self) -> Self {
        Self { whole: true, ..self }
    }

    /// Whether the rows of a mount are checked.
    #[must_use]
    pub fn holds_mount(&self, place: usize) -> bool {
        self.mounts.as_ref().is_none_or(|places| places.contains(&place))
    }

    /// Whether the rows that belong to no mount are.
    #[must_use]
    pub fn holds_whole(&self) -> bool {
        self.whole
    }

    /// Whether it leaves out nothing.
    #[must_use]
    pub fn is_everything(&self) -> bool {
        self.whole && self.mounts.is_none()
    }
}
