//! What a refusal says.

use tonic::{Code, Status};
use tonic_types::StatusExt;

/// A refusal, taken apart.
#[derive(Debug, Clone, PartialEq)]
pub struct Refusal {
    /// The code.
    pub code: Code,
    /// The sentence.
    pub message: String,
    /// The reason for programs.
    pub reason: String,
    /// Fields at fault, with what is said about each.
    pub fields: Vec<(String, String)>,
    /// Facts for programs.
    pub facts: Vec<(String, String)>,
}

impl Refusal {
    /// Takes a status apart.
    #[must_use]
    pub fn of(status: &Status) -> Self {
        let details = status.get_error_details();
        let fields = details.bad_request().map_or_else(Vec::new, |bad| {
            let told = bad.field_violations.iter();
            told.map(|v| (v.field.clone(), v.description.clone())).collect()
        });
        let info = details.error_info();
        let mut facts: Vec<(String, String)> = info
            .map(|info| info.metadata.iter().map(|(k, v)| (k.clone(), v.clone())).collect())
            .unwrap_or_default();
        facts.sort();
        Self {
            code: status.code(),
            message: status.message().to_owned(),
            reason: info.map(|info| info.reason.clone()).unwrap_or_default(),
            fields,
            facts,
        }
    }

    /// The fact of this name; empty where there is none.
    #[must_use]
    pub fn fact(&self, name: &str) -> &str {
        self.facts.iter().find(|(key, _)| key == name).map_or("", |(_, value)| value)
    }
}
