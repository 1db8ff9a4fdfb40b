//! A point of a fillet weld between faces at any angle, with unequal legs and a stated quality.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::FilletInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::WELDS;
use crate::packs::american::{IN, aisc, d1_1};

use super::FIT_UP;

/// Strength that is the same in any direction, with bending about the root of a bead on one side.
pub(super) struct AnyFillet;

const ANY: Source = aisc("J2.4, faces at any angle");

impl Clause<FilletInput> for AnyFillet {
    fn reference(&self) -> Source {
        ANY
    }

    fn title(&self) -> &'static str {
        "fillet weld between faces at any angle"
    }

    fn short(&self) -> &'static str {
        "fillet, any angle"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AnyDirection
    }

    fn applies(&self, input: &FilletInput) -> Applicability {
        let degrees = input.psi.to_degrees();
        // AWS D1.1, skewed joints; angles given in degrees come back with a rounding error.
        if (60.0 - 1e-9..=135.0 + 1e-9).contains(&degrees) {
            return Applicability::Applies;
        }
        Applicability::DoesNotApply(format!(
            "faces at {degrees:.0} degrees: below 60 it is a groove weld of partial penetration, \
             above 135 no fillet"
        ))
    }

    fn formula(
        &self,
        input: &FilletInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let t_e = throat(input, trace)?;
        let m_root = input.m_root(trace);
        step!(trace, LineForce, Source::mechanics("resultant of three components"),
            "force per length"; q(q_1, q_2, q_l) = sqrt(sq(q_1) + sq(q_2) + sq(q_l)));
        step!(trace, LineForce, Source::mechanics("elastic bending of the throat about the root"),
            "force per length of the same stress, bending included";
            q_ed(q, m_root, t_e) = q + 6.0 * m_root / t_e);
        let k_quality = quality(input, trace)?;
        let f_exx = input.f_exx(trace)?;
        step!(trace, LineForce, ANY, "nominal strength, as far as it is relied on";
            r_n(k_quality, f_exx, t_e) = k_quality * 0.60 * f_exx * t_e);
        available!(trace, factors, phi_w or omega_w of WELDS;
            LineForce, ANY, "available strength"; r_w(r_n));
        step!(trace, Ratio, ANY, "utilisation"; utilisation(q_ed, r_w) = q_ed / r_w);
        Checked::new(q_ed, r_w, Dimension::LineForce, utilisation)
    }
}

/// Records and returns the shortest way from the root to the face of the bead.
fn throat(input: &FilletInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    const SKEWED: Source = d1_1("effective throat of skewed joints");
    let z_1 = input.z_1(trace);
    let z_2 = input.z_2(trace);
    let gap = input.gap(trace);
    let psi = input.psi(trace);
    if gap > 3.0 / 16.0 * IN || gap >= z_1 || gap >= z_2 {
        return Err(NotChecked::OutOfRange {
            symbol: "gap",
            what: "fit-up gap at the root",
            value: gap,
            dimension: Dimension::Length,
            allowed: "at most 3/16 in and less than the legs: close the gap or weld it otherwise",
        });
    }
    step!(trace, Length, FIT_UP, "leg 1 that counts, a gap over 1/16 in taken off";
        w_1(z_1, gap) = if gap > IN / 16.0 { z_1 - gap } else { z_1 });
    step!(trace, Length, FIT_UP, "leg 2 that counts, a gap over 1/16 in taken off";
        w_2(z_2, gap) = if gap > IN / 16.0 { z_2 - gap } else { z_2 });
    step!(trace, Length, Source::mechanics("law of cosines"), "width of the face of the bead";
        c(w_1, w_2, psi) = sqrt(sq(w_1) + sq(w_2) - 2.0 * w_1 * w_2 * cos(psi)));
    step!(trace, Length, SKEWED, "effective throat, the height of the triangle over its face";
        t_e(w_1, w_2, psi, c) = w_1 * w_2 * sin(psi) / c);
    Ok(t_e)
}

/// Records and returns the share of the strength that is relied on.
fn quality(input: &FilletInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let k_quality = input.k_quality(trace);
    if k_quality <= 1.0 {
        return Ok(k_quality);
    }
    Err(NotChecked::OutOfRange {
        symbol: "k_quality",
        what: "share of the full strength that is relied on",
        value: k_quality,
        dimension: Dimension::Ratio,
        allowed: "at most 1",
    })
}
