//! Where in a request something stands, written only when it is told.

use std::fmt;

/// A path of fields and list places, linked to its parent on the stack: nothing is allocated
/// until a fault needs the text.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Path<'a> {
    parent: Option<&'a Path<'a>>,
    step: Step<'a>,
}

#[derive(Debug, Clone, Copy)]
enum Step<'a> {
    Root,
    Field(&'a str),
    Place(&'a str, usize),
}

impl<'a> Path<'a> {
    /// The request itself.
    pub(crate) const ROOT: Path<'static> = Path { parent: None, step: Step::Root };

    /// A field of this message.
    pub(crate) fn field(&'a self, name: &'a str) -> Path<'a> {
        Path { parent: Some(self), step: Step::Field(name) }
    }

    /// An entry of a list of this message, counted from 0.
    pub(crate) fn place(&'a self, name: &'a str, index: usize) -> Path<'a> {
        Path { parent: Some(self), step: Step::Place(name, index) }
    }
}

impl fmt::Display for Path<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(parent) = self.parent {
            fmt::Display::fmt(parent, f)?;
            if !matches!(parent.step, Step::Root) {
                f.write_str(".")?;
            }
        }
        match self.step {
            Step::Root => Ok(()),
            Step::Field(name) => f.write_str(name),
            Step::Place(name, index) => write!(f, "{name}[{index}]"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_dotted_and_places_bracketed() {
        let beam = Path::ROOT.place("beams", 2);
        let offset = beam.field("start_offset");
        assert_eq!(offset.field("x_mm").to_string(), "beams[2].start_offset.x_mm");
        assert_eq!(Path::ROOT.field("row_id").to_string(), "row_id");
    }
}
