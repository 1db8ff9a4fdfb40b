//! Stiffness of a bonded cylindrical rubber bush from its size: closed forms.
//!
//! Rubber bonded to an inner and an outer sleeve, incompressible, small movements. The true radial
//! stiffness lies between a short bush (rubber free to bulge at the ends) and a long one.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Fault, Faults, Provenance, Source, Trace, step};

use crate::loads::vehicle::within;

/// A bonded bush.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BondedBush {
    /// Outer radius of the inner sleeve, m.
    pub inner_radius: f64,
    /// Inner radius of the outer sleeve, m.
    pub outer_radius: f64,
    /// Length of the rubber, m.
    pub length: f64,
    /// Shear modulus of the rubber, Pa; 0.5 to 1.2 MPa.
    pub shear_modulus: f64,
}

/// Stiffnesses of a bonded bush.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BondedStiffness {
    /// Along the axis, N/m.
    pub axial: f64,
    /// Across the axis, ends free to bulge: the lower bound, N/m.
    pub radial_short: f64,
    /// Across the axis, no flow to the ends: the upper bound, N/m.
    pub radial_long: f64,
    /// Turning about the axis, N m/rad.
    pub torsion: f64,
}

const SHEAR: Source = Source::mechanics("shear of a cylinder bonded to two sleeves");
const RADIAL: Source =
    Source::new("Adkins and Gent, British Journal of Applied Physics 5 (1954)", "from memory");

impl BondedBush {
    /// Its stiffnesses.
    ///
    /// # Errors
    /// Sizes or modulus that cannot be; paths start at `bush`.
    pub fn stiffness(&self, trace: &mut Trace) -> Result<BondedStiffness, Vec<Fault>> {
        let mut faults = Faults::new();
        let (length, stress) = (Dimension::Length, Dimension::Stress);
        within(&mut faults, "bush.inner_radius", self.inner_radius, length, (0.002, 0.1), "");
        let wider = (1.01 * self.inner_radius, 0.2);
        let advice = "wider than the inner sleeve";
        within(&mut faults, "bush.outer_radius", self.outer_radius, length, wider, advice);
        within(&mut faults, "bush.length", self.length, length, (0.002, 0.3), "");
        let rubber = "shear modulus of rubber: 0.5 to 1.2 MPa";
        within(&mut faults, "bush.shear_modulus", self.shear_modulus, stress, (1e5, 2e7), rubber);
        faults.or(())?;
        let given = |name: &str| Provenance::Given(format!("bush.{name}"));
        let mut let_in = |symbol, what, dimension, value, name: &str| {
            trace.input(symbol, what, dimension, value, || given(name))
        };
        let a = let_in("a", "inner radius", length, self.inner_radius, "inner_radius");
        let b = let_in("b", "outer radius", length, self.outer_radius, "outer_radius");
        let l = let_in("l", "length of the rubber", length, self.length, "length");
        let shear = let_in("shear", "shear modulus", stress, self.shear_modulus, "shear_modulus");
        step!(trace, Stiffness, SHEAR, "axial stiffness";
            k_a(shear, l, a, b) = 2.0 * PI * shear * l / (b / a).ln());
        step!(trace, Moment, SHEAR, "torsional stiffness, per rad";
            k_t(shear, l, a, b) = 4.0 * PI * shear * l / (1.0 / sq(a) - 1.0 / sq(b)));
        step!(trace, Ratio, RADIAL, "shape of the rubber";
            e(a, b) = (sq(b) - sq(a)) / (sq(a) + sq(b)));
        step!(trace, Stiffness, RADIAL, "radial stiffness of a long bush";
            k_long(shear, l, a, b, e) = 4.0 * PI * shear * l / ((b / a).ln() - e));
        step!(trace, Stiffness, RADIAL, "radial stiffness of a short bush";
            k_short(shear, l, a, b, e) =
            80.0 * PI * shear * l / (25.0 * (b / a).ln() - 9.0 * e));
        Ok(BondedStiffness { axial: k_a, radial_short: k_short, radial_long: k_long, torsion: k_t })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const BUSH: BondedBush = BondedBush {
        inner_radius: 0.012,
        outer_radius: 0.030,
        length: 0.050,
        shear_modulus: 0.9e6,
    };

    // By hand from the forms of Adkins and Gent 1954 as quoted by Horton et al. 2000 (from memory):
    // a 12, b 30, l 50 mm, G 0.9 MPa: 309, 690 to 2943 N/mm, 97 N m/rad.
    #[test]
    fn a_bush_by_hand() {
        let mut trace = Trace::on();
        let k = BUSH.stiffness(&mut trace).unwrap();
        for (got, expected) in [
            (k.axial / 1e3, 309.0),
            (k.radial_short / 1e3, 690.0),
            (k.radial_long / 1e3, 2943.0),
            (k.torsion, 97.0),
        ] {
            assert!((got - expected).abs() <= 0.5, "{got} against {expected}");
        }
        assert!(trace.orphans().is_empty());
    }

    // Plane elasticity (second method): k/l = 2π(1+κ)G/(κ ln(b/a) − (b²−a²)/(κ(a²+b²))), κ = 1 in
    // plane strain and 5/3 in plane stress at ν = 1/2.
    #[test]
    fn both_bounds_are_plane_elasticity() {
        let k = BUSH.stiffness(&mut Trace::off()).unwrap();
        let (a, b) = (BUSH.inner_radius, BUSH.outer_radius);
        let plane = |kappa: f64| {
            let flow = (b * b - a * a) / (kappa * (a * a + b * b));
            2.0 * PI * (1.0 + kappa) * BUSH.shear_modulus * BUSH.length
                / (kappa * (b / a).ln() - flow)
        };
        assert!((k.radial_long / plane(1.0) - 1.0).abs() < 1e-12);
        assert!((k.radial_short / plane(5.0 / 3.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn sleeves_that_touch_are_refused() {
        let solid = BondedBush { outer_radius: 0.012, shear_modulus: 0.9, ..BUSH };
        let faults = solid.stiffness(&mut Trace::off()).unwrap_err();
        assert_eq!(faults.len(), 2);
        assert_eq!(faults[0].path, "bush.outer_radius");
    }
}
