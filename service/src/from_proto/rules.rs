//! `rules.proto`: the rules to check by.

use fishplate_proto::v1;
use fishplate_quantity::Provenance;
use fishplate_strength::packs::{OwnFactor, PACKS, Pack, Rules, pack};

use super::Reader;
use crate::path::Path;

/// The pack and what is chosen of it. Whether the pack offers that is for the pack to say.
pub(crate) fn rules(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::Rules,
) -> Option<(&'static Pack, Rules)> {
    let v1::Rules { pack: name, edition, format, national, strengths, factors } = given;
    let found = pack(&name);
    if found.is_none() {
        let given = if name.is_empty() { "nothing".to_owned() } else { format!("`{name}`") };
        let known: Vec<_> = PACKS.iter().map(|pack| pack.id).collect();
        reader.refuse(&path.field("pack"), given, known.join(", "), "");
    }
    let said = |word: String| Some(word).filter(|word| !word.is_empty());
    let own = factors.into_iter().map(|factor| {
        let v1::FactorChoice { symbol, value, reason } = factor;
        let why = if reason.is_empty() { String::new() } else { format!(": {reason}") };
        let provenance = Provenance::Given(format!("rules, {symbol}{why}"));
        OwnFactor { symbol, value, provenance }
    });
    let rules = Rules {
        edition: said(edition),
        format: said(format),
        national: said(national),
        strengths: said(strengths),
        own: own.collect(),
    };
    Some((found?, rules))
}
