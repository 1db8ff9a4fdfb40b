//! `designs.proto`: designs that share a base.

use fishplate_mounts::study::space::Space;
use fishplate_proto::v1;

use super::changes;
use crate::from_proto::Reader;
use crate::limits::DESIGNS;
use crate::path::Path;

/// Designs to check.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) space: Space,
    /// Options of all designs, one design after the other; every combination where none.
    pub(crate) choices: Option<Vec<usize>>,
    /// Whether the governing row of each is told.
    pub(crate) governing: bool,
}

/// Reads a request to check many designs.
pub(crate) fn check(reader: &mut Reader, request: v1::CheckDesignsRequest) -> Option<Asked> {
    let governing = request.detail() == v1::DesignDetail::Governing;
    let v1::CheckDesignsRequest { space: given, choices, detail: _ } = request;
    let path = Path::ROOT.field("space");
    let given = reader.required(&path, given)?;
    let space = changes::space(reader, &path, given)?;
    if choices.is_empty() {
        let designs = space.designs();
        if designs > DESIGNS as u128 {
            let allowed = format!("at most {DESIGNS} at once");
            let advice = "name the designs in `choices`, some at a time";
            reader.refuse(&path.field("quantities"), format!("{designs} designs"), allowed, advice);
            return None;
        }
        return Some(Asked { space, choices: None, governing });
    }
    let sizes: Vec<usize> = space.quantities().iter().map(|q| q.options.len()).collect();
    let path = Path::ROOT.field("choices");
    if sizes.is_empty() || choices.len() % sizes.len() != 0 {
        let allowed = format!("a whole number of designs of {} options each", sizes.len());
        reader.refuse(&path, format!("{} numbers", choices.len()), allowed, "");
        return None;
    }
    let mut sound = Some(());
    let mut read = Vec::with_capacity(choices.len());
    for (at, option) in choices.into_iter().enumerate() {
        let size = sizes[at % sizes.len()];
        let option = usize::try_from(option).unwrap_or(usize::MAX);
        if option >= size {
            let allowed = format!("the place of an option, below {size}");
            reader.refuse(&Path::ROOT.place("choices", at), option.to_string(), allowed, "");
            sound = None;
        }
        read.push(option);
    }
    sound?;
    Some(Asked { space, choices: Some(read), governing })
}
