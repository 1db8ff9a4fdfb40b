//! Where in the file each field of the request was written.

use std::collections::BTreeMap;
use std::ops::Range;

/// Field paths (`rails[0].readings[2].thickness`) to bytes of the file.
#[derive(Debug, Clone, Default)]
pub struct Places {
    spans: BTreeMap<String, Range<usize>>,
}

impl Places {
    /// Notes that `path` was written at `span`.
    pub(crate) fn set(&mut self, path: &str, span: Range<usize>) {
        self.spans.insert(path.to_owned(), span);
    }

    /// Where `path` was written, or the longest part of it that is known. A leading `project.` is
    /// skipped: requests hold the project in a field of that name.
    #[must_use]
    pub fn find(&self, path: &str) -> Option<Range<usize>> {
        let mut path = path.strip_prefix("project.").unwrap_or(path);
        loop {
            if let Some(span) = self.spans.get(path) {
                return Some(span.clone());
            }
            let cut = path.rfind(['.', '['])?;
            path = &path[..cut];
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_unknown_path_falls_back_to_what_holds_it() {
        let mut places = Places::default();
        places.set("mounts[0]", 3..9);
        places.set("mounts[0].at", 20..40);
        assert_eq!(places.find("mounts[0].at"), Some(20..40));
        assert_eq!(places.find("mounts[0].at.z_mm"), Some(20..40));
        assert_eq!(places.find("project.mounts[0].bush"), Some(3..9));
        assert_eq!(places.find("mounts[1].bush"), None);
    }
}
