//! A hollow rail clamped by a bolt without a sleeve: wall bending and crippling of the webs.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{ClampedRailInput, RailPlace, WebKind};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, e_of_steel, sheet};

/// Bending of the wall under a washer midway between the corners.
///
/// Two patterns of yield lines are compared per half: a fan of radius b0/2 around the round
/// washer, and the rectangle of the chord-face form; the smaller holds.
pub(super) struct WallUnderWasher;

const WASHER: Source = Source::mechanics("yield lines in a wall under a washer");

impl Clause<ClampedRailInput> for WallUnderWasher {
    fn reference(&self) -> Source {
        WASHER
    }

    fn title(&self) -> &'static str {
        "bending of the empty wall under the preload"
    }

    fn applies(&self, _: &ClampedRailInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ClampedRailInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_m = input.f_m(trace);
        let b_0 = input.b_0(trace);
        let d_w = input.d_w(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        if d_w >= b_0 {
            return Err(NotChecked::NoRule {
                reason: "the washer covers the whole wall: the webs take the clamping".to_owned(),
            });
        }
        step!(trace, Force, WASHER, "plastic moment per length";
            m_p(f_y, t, gamma_m0) = f_y * sq(t) / (4.0 * gamma_m0));
        let half = closed_half(b_0, d_w, trace);
        step!(trace, Force, WASHER, "force that bends the wall in";
            f_rd(m_p, half) = 2.0 * m_p * half);
        step!(trace, Ratio, WASHER, "utilisation"; utilisation(f_m, f_rd) = f_m / f_rd);
        Checked::new(f_m, f_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the work of one half of the pattern around a washer `d_w` midway between
/// walls `b_0` apart, per plastic moment and unit of movement, where the plate goes on.
///
/// With R = b0/2, r = dw/2, g = R - r: the half fan turns by 1/g on hinges of length π r and π R
/// and bends along its radii, together 2 π R / g; the half rectangle of least work needs
/// (4 r + 8 √(R g)) / g.
pub(in crate::packs) fn closed_half(b_0: f64, d_w: f64, trace: &mut Trace) -> f64 {
    step!(trace, Length, WASHER, "distance from washer to wall"; g(b_0, d_w) = (b_0 - d_w) / 2.0);
    step!(trace, Ratio, WASHER, "work of half a fan"; fan(b_0, g) = PI * b_0 / g);
    step!(trace, Ratio, WASHER, "work of half a rectangle";
        rectangle(b_0, d_w, g) = (2.0 * d_w + 8.0 * sqrt(b_0 / 2.0 * g)) / g);
    step!(trace, Ratio, WASHER, "the smaller"; half(fan, rectangle) = smaller(fan, rectangle));
    half
}

/// Crippling of the two webs under the washer.
pub(super) struct WebCrippling;

const CRIPPLING: Source = sheet("6.1.7.3");

impl Clause<ClampedRailInput> for WebCrippling {
    fn reference(&self) -> Source {
        CRIPPLING
    }

    fn title(&self) -> &'static str {
        "crippling of the two webs under the preload"
    }

    fn applies(&self, input: &ClampedRailInput) -> Applicability {
        Applicability::within(input.r <= 10.0 * input.t, || {
            "the bend radius is above ten times the thickness".to_owned()
        })
    }

    fn formula(
        &self,
        input: &ClampedRailInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_m = input.f_m(trace);
        let t = input.t(trace);
        let r = input.r(trace);
        let d_w = input.d_w(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let value = match (input.at, input.webs) {
            (RailPlace::NearEnd, WebKind::Hat) => 0.057,
            (RailPlace::NearEnd, WebKind::Sheeting) => 0.075,
            (RailPlace::Inside, WebKind::Hat) => 0.115,
            (RailPlace::Inside, WebKind::Sheeting) => 0.15,
        };
        let what = "coefficient of the web";
        let alpha = trace.input("alpha", what, Dimension::Ratio, value, || {
            fishplate_quantity::Provenance::Table("EN 1993-1-3:2006, 6.1.7.3(5)".to_owned())
        });
        let l_a = match input.at {
            RailPlace::NearEnd => {
                step!(trace, Length, CRIPPLING, "bearing length near an end"; l_a() = 10.0 * MM);
                l_a
            }
            RailPlace::Inside => {
                step!(trace, Length, CRIPPLING, "bearing length, at most 200 mm";
                    l_a(d_w) = smaller(d_w, 200.0 * MM));
                l_a
            }
        };
        // The last bracket of the formula, 2.4 + (phi/90)², is 3.4 for upright webs.
        let e_steel = e_of_steel(trace);
        step!(trace, Force, CRIPPLING, "resistance of two upright webs";
            r_w_rd(alpha, t, f_y, e_steel, r, l_a, gamma_m1) =
            2.0 * alpha * sq(t) * sqrt(f_y * e_steel) * positive(1.0 - 0.1 * sqrt(r / t))
                * (0.5 + sqrt(0.02 * l_a / t)) * (2.4 + 1.0) / gamma_m1);
        step!(trace, Ratio, CRIPPLING, "utilisation"; utilisation(f_m, r_w_rd) = f_m / r_w_rd);
        Checked::new(f_m, r_w_rd, Dimension::Force, utilisation)
    }
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::algebra::smaller;

    use super::*;

    /// Half a fan cut into flat sectors: each turns about its outer chord, and its boundary
    /// projected on that chord (outer chord, inner chord, both radial lines) turns with it.
    fn half_fan_of_sectors(b_0: f64, d_w: f64, sectors: u32) -> f64 {
        let (outer, inner) = (b_0 / 2.0, d_w / 2.0);
        let half_angle = PI / f64::from(sectors) / 2.0;
        let turn = 1.0 / ((outer - inner) * half_angle.cos());
        let projected = 2.0 * half_angle.sin() * (outer + inner + (outer - inner));
        f64::from(sectors) * turn * projected
    }

    #[test]
    fn the_fan_is_the_limit_of_many_flat_sectors() {
        let fan = closed_half(0.1, 0.028, &mut Trace::off());
        let rough = half_fan_of_sectors(0.1, 0.028, 20);
        let fine = half_fan_of_sectors(0.1, 0.028, 20_000);
        assert!(rough > fine && (fine / fan - 1.0).abs() < 1e-8, "{fan}: {rough}, {fine}");
    }

    /// A half rectangle of least work, found by trying its lengths (virtual work of its regions).
    #[test]
    fn near_the_wall_the_rectangle_governs_and_is_the_least_of_all_lengths() {
        let (b_0, d_w) = (0.1, 0.09);
        let g = (b_0 - d_w) / 2.0;
        let half = |x: f64| 2.0 * 2.0 * (d_w / 2.0 + x) / g + 2.0 * b_0 / x;
        let least = (1..100_000).map(|i| half(f64::from(i) * 1e-6)).reduce(smaller).unwrap();
        let clause = closed_half(b_0, d_w, &mut Trace::off());
        assert!((clause / least - 1.0).abs() < 1e-6, "{clause} against {least}");
    }
}
