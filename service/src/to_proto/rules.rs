//! The rules as used.

use fishplate_proto::v1;
use fishplate_strength::clause::Factors;
use fishplate_strength::packs::Pack;

use super::check::came_from;

/// A pack with its factors, settled; what was given stands in `given_in`.
pub(crate) fn rules(pack: &Pack, factors: &Factors, given_in: &str) -> v1::RulesUsed {
    let edition = factors.edition();
    let used = factors.all().map(|(spec, value, origin)| v1::FactorUsed {
        symbol: spec.symbol.to_owned(),
        what: spec.what.to_owned(),
        value,
        source: came_from(origin, given_in),
    });
    v1::RulesUsed {
        pack: pack.id.to_owned(),
        title: pack.title.to_owned(),
        edition: edition.id.to_owned(),
        format: factors.format().word().to_owned(),
        strengths: factors.strengths().word().to_owned(),
        documents: edition.documents.iter().map(|&d| d.to_owned()).collect(),
        factors: used.collect(),
    }
}

/// The rules in one line, with editions.
pub(crate) fn in_a_line(pack: &Pack, factors: &Factors) -> String {
    format!("{}: {}", pack.id, factors.edition().documents.join(", "))
}
