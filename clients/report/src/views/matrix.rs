//! Small arrows of the case table: seen from above, and up or down.

use crate::numbers::force_in_table;
use crate::svg::arrows::{Arrow, arrow};
use crate::svg::geometry::{Space, larger};
use crate::svg::project::View;
use crate::svg::writer::Figure;
use crate::units::Units;

/// Length of the arrow of the reference force.
const LENGTH: f64 = 26.0;
/// Length of an arrow that is there, but would be too small to see.
const STUB: f64 = 9.0;
/// Below this force nothing is drawn, N.
const LEAST: f64 = 100.0;
/// The reference force, N, unless a larger one must find room.
const REFERENCE: f64 = 7500.0;

/// The reference force of a table in which `largest` is the largest component, N.
pub(crate) fn reference(largest: f64) -> f64 {
    larger(largest, REFERENCE)
}

/// The two arrows of one mount in one case.
pub(crate) fn mini(force: Option<Space>, reference: f64, units: Units) -> String {
    let mut figure = Figure::new();
    figure.circle([34.0, 31.0], 1.8, "dot");
    figure.line([80.0, 5.0], [80.0, 57.0], "rule");
    figure.line([74.0, 31.0], [86.0, 31.0], "rule");
    let mut title = "force at the mount not given".to_owned();
    if let Some([x, y, z]) = force.filter(|f| f.iter().all(|c| c.is_finite())) {
        let flat = View::PLAN.flat([x, y, 0.0]);
        let size = x.hypot(y);
        if size >= LEAST {
            let long = larger(size * LENGTH / reference, STUB) / size;
            arrow(&mut figure, [34.0, 31.0], flat.map(|c| c * long), Arrow::Out);
        }
        if z.abs() >= LEAST {
            let long = larger(z.abs() * LENGTH / reference, STUB);
            arrow(&mut figure, [80.0, 31.0], [0.0, -z.signum() * long], Arrow::Out);
        }
        let [x, y, z] = [x, y, z].map(|n| force_in_table(n, units));
        title = format!("force at the mount: x {x}, y {y}, z {z} {}", units.unit("N"));
    }
    figure.framed([0.0, 0.0], [92.0, 62.0], "mini", &title)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reference_force_is_26_units_long_and_forward_is_left() {
        // By hand: 7.5 kN forward from x 34 ends at x 8; 7.5 kN up from y 31 ends at y 5.
        let svg = mini(Some([7500.0, 0.0, 7500.0]), 7500.0, Units::Si);
        assert!(svg.contains("L8 31L"), "{svg}");
        assert!(svg.contains("L80 5L"), "{svg}");
        assert!(svg.contains("x 7500, y 0, z 7500 N"));
    }

    #[test]
    fn nothing_is_drawn_where_nothing_is_known() {
        assert!(!mini(None, 7500.0, Units::Si).contains("aout"));
        assert!(!mini(Some([90.0, 0.0, f64::NAN]), 7500.0, Units::Si).contains("aout"));
    }
}
