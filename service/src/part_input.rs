//! Parts on the wire: what the messages, fields and words of `part_input.proto` are called, and in
//! which units their numbers are. The file itself is written from the inputs of the clauses by a
//! test of this module.

#[cfg(test)]
mod written;

use fishplate_quantity::Dimension;
use fishplate_strength::clause::input::{Choice, ChoiceKind, Field};

use crate::units::{DEG, KM, MM, MM2, MM3, MM4, MM6, MPA, N_PER_MM, NMM, NMM2};

/// The unit of a number on the wire.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Unit {
    /// What its field ends in, underscore included.
    pub(crate) ending: &'static str,
    /// Its size in SI.
    pub(crate) size: f64,
    /// What it is called.
    pub(crate) name: &'static str,
}

/// The unit that numbers of a dimension have on the wire.
pub(crate) fn unit(dimension: Dimension) -> Unit {
    let (ending, size, name) = match dimension {
        Dimension::Ratio => ("", 1.0, ""),
        Dimension::Length => ("_mm", MM, "mm"),
        Dimension::Area => ("_mm2", MM2, "mm²"),
        Dimension::SectionModulus => ("_mm3", MM3, "mm³"),
        Dimension::SecondMoment => ("_mm4", MM4, "mm⁴"),
        Dimension::Warping => ("_mm6", MM6, "mm⁶"),
        Dimension::Force => ("_n", 1.0, "N"),
        Dimension::Moment => ("_nmm", NMM, "N mm"),
        Dimension::Bimoment => ("_nmm2", NMM2, "N mm²"),
        Dimension::Stress => ("_mpa", MPA, "MPa"),
        Dimension::LineForce | Dimension::Stiffness => ("_n_per_mm", N_PER_MM, "N/mm"),
        Dimension::Angle => ("_deg", DEG, "degrees"),
        Dimension::Distance => ("_km", KM, "km"),
        Dimension::Mass => ("_kg", 1.0, "kg"),
        Dimension::Acceleration => ("_m_per_s2", 1.0, "m/s²"),
    };
    Unit { ending, size, name }
}

/// The name of a number on the wire: `e_1_mm`.
pub(crate) fn field_name(field: &Field) -> String {
    format!("{}{}", field.symbol, unit(field.dimension).ending)
}

/// The enum of a choice of one of some words.
pub(crate) fn enum_name(choice: &Choice) -> Option<String> {
    match choice.kind {
        ChoiceKind::OneOf { name, .. } => Some(format!("{name}Choice")),
        ChoiceKind::Row(_) | ChoiceKind::Records { .. } => None,
    }
}

/// The value of an enum for a word: `HOLE_CHOICE_SHORT_SLOT_ALONG` for `short-slot-along`.
pub(crate) fn value_name(enum_name: &str, word: &str) -> String {
    let mut name = String::new();
    for (at, letter) in enum_name.char_indices() {
        if at > 0 && letter.is_uppercase() {
            name.push('_');
        }
        name.extend(letter.to_uppercase());
    }
    format!("{name}_{}", word.replace('-', "_").to_uppercase())
}
