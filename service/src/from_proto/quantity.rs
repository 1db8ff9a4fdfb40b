//! `quantity.proto`: numbers with what is known about them.

use fishplate_mounts::describe::{Place, Side};
use fishplate_proto::v1;
use fishplate_quantity::written::Written;
use fishplate_quantity::{Acceleration, Length, Mass, Moment, Stiffness, Stress, TurningStiffness};

use super::Reader;
use crate::path::Path;
use crate::units::{MM, NMM};

/// One reader a message: `None` where the message is left out.
macro_rules! written {
    ($($(#[$doc:meta])* $name:ident: $message:ident { $value:ident, $low:ident, $high:ident }
       -> $quantity:ty, $from:expr;)+) => {
        $($(#[$doc])*
        pub(super) fn $name(
            reader: &mut Reader,
            path: &Path<'_>,
            given: Option<v1::$message>,
        ) -> Option<Written<$quantity>> {
            let v1::$message { $value: value, guessed, $low: low, $high: high } = given?;
            let names = (stringify!($low), stringify!($high));
            let spread = spread(reader, path, names, (low, value, high));
            Some(Written { value, spread, guessed }.map($from))
        })+
    };
}

written! {
    /// A length.
    length: Length { value_mm, low_mm, high_mm } -> Length, Length::from_mm;
    /// A mass.
    mass: Mass { value_kg, low_kg, high_kg } -> Mass, Mass::from_kg;
    /// A torque.
    torque: Torque { value_nmm, low_nmm, high_nmm } -> Moment, Moment::from_nmm;
    /// A stress.
    stress: Stress { value_mpa, low_mpa, high_mpa } -> Stress, Stress::from_mpa;
    /// A stiffness against a movement.
    stiffness: Stiffness { value_n_per_mm, low_n_per_mm, high_n_per_mm }
        -> Stiffness, Stiffness::from_n_per_mm;
    /// A stiffness against a turn.
    turning_stiffness: TurningStiffness { value_nmm_per_rad, low_nmm_per_rad, high_nmm_per_rad }
        -> TurningStiffness, |value| TurningStiffness::from_si(value * NMM);
    /// A pure number.
    number: Number { value, low, high } -> f64, std::convert::identity;
    /// An acceleration.
    acceleration: Acceleration { value_g, low_g, high_g } -> Acceleration, Acceleration::from_g;
}

/// The spread: both ends or none, and the value between them.
fn spread(
    reader: &mut Reader,
    path: &Path<'_>,
    names: (&str, &str),
    (low, value, high): (Option<f64>, f64, Option<f64>),
) -> Option<(f64, f64)> {
    match (low, high) {
        (None, None) => None,
        (Some(low), Some(high)) => {
            if low > value {
                let allowed = format!("at most the value, {value}");
                reader.refuse(&path.field(names.0), low.to_string(), allowed, "");
            }
            if high < value {
                let allowed = format!("at least the value, {value}");
                reader.refuse(&path.field(names.1), high.to_string(), allowed, "");
            }
            Some((low, high))
        }
        (Some(_), None) => {
            reader.refuse(&path.field(names.1), "nothing", "both ends of a spread, or none", "");
            None
        }
        (None, Some(_)) => {
            reader.refuse(&path.field(names.0), "nothing", "both ends of a spread, or none", "");
            None
        }
    }
}

/// A point; what is left out stays out.
pub(super) fn place(given: v1::Point) -> Place {
    let v1::Point { x_mm, y_mm, z_mm, spread_mm, guessed } = given;
    let [x, y, z, spread] = [x_mm, y_mm, z_mm, spread_mm].map(|v| v.map(|v| v * MM));
    Place { x, y, z, spread, guessed }
}

/// Points of a list.
pub(super) fn places(given: Vec<v1::Point>) -> Vec<Place> {
    given.into_iter().map(place).collect()
}

/// A side, or none.
pub(super) fn side(given: v1::Side) -> Option<Side> {
    match given {
        v1::Side::Unspecified => None,
        v1::Side::Left => Some(Side::Left),
        v1::Side::Right => Some(Side::Right),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(value_mm: f64, low_mm: Option<f64>, high_mm: Option<f64>) -> Vec<String> {
        let mut reader = Reader::default();
        let given = v1::Length { value_mm, guessed: true, low_mm, high_mm };
        length(&mut reader, &Path::ROOT.field("leg"), Some(given));
        reader.into_faults().0.into_iter().map(|fault| fault.path).collect()
    }

    #[test]
    fn a_spread_has_two_ends_around_its_value() {
        assert!(read(4.0, Some(3.0), Some(5.0)).is_empty());
        assert!(read(4.0, None, None).is_empty());
        assert_eq!(read(4.0, Some(3.0), None), ["leg.high_mm"]);
        assert_eq!(read(4.0, Some(4.5), Some(3.5)), ["leg.low_mm", "leg.high_mm"]);
    }
}
