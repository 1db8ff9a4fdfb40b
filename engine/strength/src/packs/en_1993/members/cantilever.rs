//! A flat on edge as a cantilever.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::FlatCantileverInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{e_of_steel, g_of_steel, general};

use super::reduction;

/// Sideways buckling of a flat that stands on edge, held at its root, loaded at its tip.
pub(super) struct FlatCantilever;

const BUCKLING: Source = general("6.3.2.2, flat cantilever on edge");
const CRITICAL: Source = Source::new(
    "Timoshenko and Gere, Theory of Elastic Stability, 2nd ed., from memory",
    "6.3, cantilever of narrow rectangular section",
);

impl Clause<FlatCantileverInput> for FlatCantilever {
    fn reference(&self) -> Source {
        BUCKLING
    }

    fn title(&self) -> &'static str {
        "sideways buckling of a flat cantilever on edge"
    }

    fn short(&self) -> &'static str {
        "sideways"
    }

    fn applies(&self, input: &FlatCantileverInput) -> Applicability {
        if input.h <= input.t {
            return Applicability::DoesNotApply("the flat does not stand on edge".to_owned());
        }
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FlatCantileverInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let l = input.l(trace);
        let h = input.h(trace);
        let t = input.t(trace);
        step!(trace, SecondMoment, CRITICAL, "second moment about the weak axis";
            i_z(h, t) = h * cube(t) / 12.0);
        step!(trace, SecondMoment, Source::mechanics("torsion of a rectangle"), "torsion constant";
            i_t(h, t) = h * cube(t) / 3.0 * (1.0 - 0.63 * t / h));
        let lever = if input.z_g.is_some() {
            let z_g = input.z_g(trace)?;
            let e_steel = e_of_steel(trace);
            let g_steel = g_of_steel(trace);
            step!(trace, Ratio, CRITICAL, "height of the force over the length that bends as it twists";
                lever(z_g, l, i_z, i_t, e_steel, g_steel) = z_g / l * sqrt(e_steel * i_z / (g_steel * i_t)));
            lever
        } else {
            step!(trace, Ratio, CRITICAL, "force in the middle of the depth"; lever() = 0.0);
            lever
        };
        let Some(root) = critical_factor(lever) else {
            return Err(NotChecked::OutOfRange {
                symbol: "z_g",
                what: "height of the force above the middle of the depth",
                value: input.z_g.unwrap_or(0.0),
                dimension: Dimension::Length,
                allowed: "at most some lengths of the cantilever",
            });
        };
        let what = "least root of the equation of bending with twist, 4.013 in the middle";
        let k_cr = trace.input("k_cr", what, Dimension::Ratio, root, || {
            Provenance::Solved("the power series of its solution at the root".to_owned())
        });
        let e_steel = e_of_steel(trace);
        let g_steel = g_of_steel(trace);
        step!(trace, Moment, CRITICAL, "elastic critical moment at the root";
            m_cr(k_cr, l, i_z, i_t, e_steel, g_steel) = k_cr / l * sqrt(e_steel * i_z * (g_steel * i_t)));
        step!(trace, SectionModulus, BUCKLING, "plastic section modulus"; w_pl(t, h) = t * sq(h) / 4.0);
        step!(trace, Ratio, BUCKLING, "slenderness"; lambda_lt(w_pl, f_y, m_cr) = sqrt(w_pl * f_y / m_cr));
        let what = "imperfection factor, curve d of Table 6.4";
        let alpha_lt = trace.input("alpha_lt", what, Dimension::Ratio, 0.76, || {
            Provenance::Table("EN 1993-1-1:2005, Table 6.3".to_owned())
        });
        reduction!(trace, BUCKLING, phi_lt, chi_lt(lambda_lt, alpha_lt));
        step!(trace, Moment, BUCKLING, "moment at the root"; m_ed(f_ed, l) = f_ed * l);
        step!(trace, Moment, BUCKLING, "moment resistance against sideways buckling";
            m_b_rd(chi_lt, w_pl, f_y, gamma_m1) = chi_lt * w_pl * f_y / gamma_m1);
        step!(trace, Ratio, BUCKLING, "utilisation"; utilisation(m_ed, m_b_rd) = m_ed / m_b_rd);
        Checked::new(m_ed, m_b_rd, Dimension::Moment, utilisation)
    }
}

/// The least k for which a flat under a force at its tip, `lever` above the middle, can stand turned.
///
/// With s from the tip to the root over the length, the turn obeys f'' + k² s² f = 0, is zero at the
/// root, and starts at the tip with f = 1, f' = -k lever: two power series.
fn critical_factor(lever: f64) -> Option<f64> {
    let at_root = |k: f64| {
        let (mut even, mut odd) = (1.0, 1.0);
        let (mut even_term, mut odd_term) = (1.0, 1.0);
        for n in 1..60 {
            let four = 4.0 * f64::from(n);
            even_term *= -(k * k) / ((four - 1.0) * four);
            odd_term *= -(k * k) / (four * (four + 1.0));
            even += even_term;
            odd += odd_term;
        }
        even - k * lever * odd
    };
    if lever.abs() > 1e3 {
        return None;
    }
    let high = (1..600).map(|i| f64::from(i) * 0.02).find(|k| at_root(*k) <= 0.0)?;
    let (mut low, mut high) = (high - 0.02, high);
    for _ in 0..100 {
        let middle = f64::midpoint(low, high);
        if at_root(middle) > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The same equation shot from the root to the tip in steps (Runge and Kutta).
    fn at_tip(k: f64, lever: f64) -> f64 {
        const STEPS: u32 = 400;
        let step = 1.0 / f64::from(STEPS);
        let bend = |x: f64, f: f64| -(k * (1.0 - x)).powi(2) * f;
        let (mut f, mut slope) = (0.0, 1.0);
        for i in 0..STEPS {
            let x = f64::from(i) * step;
            let (f1, s1) = (slope, bend(x, f));
            let (f2, s2) = (slope + step / 2.0 * s1, bend(x + step / 2.0, f + step / 2.0 * f1));
            let (f3, s3) = (slope + step / 2.0 * s2, bend(x + step / 2.0, f + step / 2.0 * f2));
            let (f4, s4) = (slope + step * s3, bend(x + step, f + step * f3));
            f += step / 6.0 * (f1 + 2.0 * f2 + 2.0 * f3 + f4);
            slope += step / 6.0 * (s1 + 2.0 * s2 + 2.0 * s3 + s4);
        }
        slope - k * lever * f
    }

    #[test]
    fn the_series_gives_what_shooting_along_the_flat_gives() {
        for lever in [-0.5, -0.2, 0.0, 0.1, 0.3, 1.0] {
            let k = critical_factor(lever).unwrap();
            assert!(at_tip(k * 0.9999, lever) > 0.0 && at_tip(k * 1.0001, lever) < 0.0, "{lever}");
        }
        // Timoshenko and Gere: 4.013 for a force in the middle of the depth.
        assert!((critical_factor(0.0).unwrap() / 4.013 - 1.0).abs() < 2e-4);
    }

    /// The linear form 1 - lever for the load height is kinder than the equation.
    #[test]
    fn a_force_above_the_middle_takes_more_than_its_linear_share() {
        let middle = critical_factor(0.0).unwrap();
        assert!(critical_factor(0.2).unwrap() < 0.95 * 0.8 * middle);
    }
}
