//! Sizing: designs that hold, the trade-off drawn, and what proves that no better one does.

mod draw;
mod page;

use fishplate_proto::v1::{Measure, SizeProjectRequest, SizedDesign};

use crate::Units;
use crate::numbers::fixed;

pub use page::sizing_page;

/// The letter of a quantity.
#[must_use]
pub fn letter(place: usize) -> char {
    let place = u32::try_from(place).unwrap_or(0);
    char::from_u32('a' as u32 + place % 26).unwrap_or('?')
}

/// A measure in words, and its unit on the wire.
#[must_use]
pub fn measure(by: Measure) -> (&'static str, &'static str) {
    match by {
        Measure::Unspecified | Measure::Mass => ("mass of steel", "kg"),
        Measure::WeldLength => ("length of weld", "mm"),
        Measure::WeldVolume => ("weld metal", "mm³"),
        Measure::Cut => ("length of cuts", "mm"),
        Measure::Bolts => ("bolts", ""),
        Measure::Pieces => ("pieces of steel", ""),
        Measure::Utilisation => ("highest use", ""),
        Measure::Cost => ("cost", ""),
    }
}

/// The two measures of the trade-off.
#[must_use]
pub fn front_of(asked: &SizeProjectRequest) -> [Measure; 2] {
    let or = |given: Measure, usual: Measure| {
        if given == Measure::Unspecified { usual } else { given }
    };
    [or(asked.front_first(), Measure::Mass), or(asked.front_second(), Measure::Utilisation)]
}

/// The number of a measure, in the unit of the wire.
#[must_use]
pub fn number(design: &SizedDesign, by: Measure) -> f64 {
    match by {
        Measure::Unspecified | Measure::Mass => design.mass_kg,
        Measure::WeldLength => design.weld_length_mm,
        Measure::WeldVolume => design.weld_volume_mm3,
        Measure::Cut => design.cut_mm,
        Measure::Bolts => f64::from(design.bolts),
        Measure::Pieces => f64::from(design.pieces),
        Measure::Utilisation => design.utilisation,
        Measure::Cost => design.cost,
    }
}

/// A measure of a design as it is printed, with its unit.
#[must_use]
pub fn value(design: &SizedDesign, by: Measure, units: Units) -> String {
    let (_, wire) = measure(by);
    let (value, unit) = units.of(number(design, by), wire);
    let decimals = match by {
        Measure::Unspecified | Measure::Mass => 3,
        Measure::Utilisation | Measure::Cost => 2,
        Measure::WeldLength | Measure::WeldVolume | Measure::Cut => 0,
        Measure::Bolts | Measure::Pieces => 0,
    };
    let number = fixed(value, decimals);
    if unit.is_empty() { number } else { format!("{number} {unit}") }
}

#[cfg(test)]
mod tests;
