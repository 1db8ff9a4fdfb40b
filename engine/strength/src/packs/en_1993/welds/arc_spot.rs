//! Arc spot welds through sheet.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::ArcSpotInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, MPA, sheet};

/// Spots go through 4 mm of sheet at most.
fn thin_enough(input: &ArcSpotInput) -> Applicability {
    if input.t > 4.0 * MM {
        return Applicability::DoesNotApply("the sheets are over 4 mm together".to_owned());
    }
    Applicability::within(input.t >= 0.7 * MM, || {
        "sheet under 0.7 mm needs a weld washer, of which this rule does not speak".to_owned()
    })
}

fn no_pull(input: &ArcSpotInput, trace: &mut Trace) -> Result<(), NotChecked> {
    if input.f_t_ed.is_some() && input.f_t_ed(trace)? > 0.0 {
        let reason = "an arc spot must not carry pull: let a screw or a bolt take it";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    Ok(())
}

/// Records and returns the diameter at the interface: what was measured, else by the formula.
///
/// EN 1993-1-3 bounds the formula by 0.55 of the visible diameter from below, AISI S100 from above
/// (both from memory). A spot does not grow with the sheet it has to melt: the smaller is taken.
fn interface(input: &ArcSpotInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    const SIZE: Source = sheet("8.5.3(4), interface diameter (from memory)");
    if input.d_fused.is_some() {
        let d_fused = input.d_fused(trace)?;
        step!(trace, Length, SIZE, "interface diameter, as measured"; d_s(d_fused) = d_fused);
        return Ok(d_s);
    }
    let d = input.d(trace);
    let t = input.t(trace);
    step!(trace, Length, SIZE, "interface diameter";
        d_s(d, t) = smaller(0.7 * d - 1.5 * t, 0.55 * d));
    if d_s > 0.0 {
        return Ok(d_s);
    }
    Err(NotChecked::OutOfRange {
        symbol: "d",
        what: "visible diameter of the spot at the face",
        value: d,
        dimension: Dimension::Length,
        allowed: "more than 2.15 times the sheets: nothing is fused below them",
    })
}

/// Shear of the weld metal at the interface.
pub(super) struct SpotMetal;

const METAL: Source = sheet("8.5.3(3), arc spot, weld metal (from memory)");

impl Clause<ArcSpotInput> for SpotMetal {
    fn reference(&self) -> Source {
        METAL
    }

    fn title(&self) -> &'static str {
        "arc spot weld shearing off"
    }

    fn short(&self) -> &'static str {
        "arc spot shears"
    }

    fn applies(&self, input: &ArcSpotInput) -> Applicability {
        thin_enough(input)
    }

    fn formula(
        &self,
        input: &ArcSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let d_s = interface(input, trace)?;
        let f_exx = input.f_exx(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, METAL, "resistance of the weld metal";
            f_w_rd(d_s, f_exx, gamma_m2) = PI / 4.0 * sq(d_s) * 0.625 * f_exx / gamma_m2);
        step!(trace, Ratio, METAL, "utilisation"; utilisation(f_v_ed, f_w_rd) = f_v_ed / f_w_rd);
        Checked::new(f_v_ed, f_w_rd, Dimension::Force, utilisation)
    }
}

/// Tearing of the sheet around the spot.
pub(super) struct SpotSheet;

const SHEET: Source = sheet("8.5.3(3), arc spot, sheet around it (from memory)");

impl Clause<ArcSpotInput> for SpotSheet {
    fn reference(&self) -> Source {
        SHEET
    }

    fn title(&self) -> &'static str {
        "sheet tearing around an arc spot weld"
    }

    fn short(&self) -> &'static str {
        "sheet at arc spot"
    }

    fn applies(&self, input: &ArcSpotInput) -> Applicability {
        thin_enough(input)
    }

    fn formula(
        &self,
        input: &ArcSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let n_sheets = input.n_sheets(trace);
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Length, SHEET, "diameter within the sheets";
            d_p(d, t, n_sheets) = if n_sheets < 1.5 { d - t } else { d - 2.0 * t });
        if d_p <= 0.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "d",
                what: "visible diameter of the spot at the face",
                value: d,
                dimension: Dimension::Length,
                allowed: "more than what the thickness of the sheets takes off it",
            });
        }
        step!(trace, Force, SHEET, "resistance of the sheet: small, middle or large for its thickness";
        f_w_rd(d_p, t, f_u, gamma_m2) =
        if d_p / t <= 18.0 * sqrt(420.0 * MPA / f_u) {
            1.5 * d_p * t * f_u / gamma_m2
        } else if d_p / t < 30.0 * sqrt(420.0 * MPA / f_u) {
            27.0 * sqrt(420.0 * MPA / f_u) * sq(t) * f_u / gamma_m2
        } else {
            0.9 * d_p * t * f_u / gamma_m2
        });
        step!(trace, Ratio, SHEET, "utilisation"; utilisation(f_v_ed, f_w_rd) = f_v_ed / f_w_rd);
        Checked::new(f_v_ed, f_w_rd, Dimension::Force, utilisation)
    }
}

/// Least diameter at the interface.
pub(super) struct SpotSize;

const LEAST: Source = sheet("8.5.3(2), least arc spot (from memory)");

impl Clause<ArcSpotInput> for SpotSize {
    fn reference(&self) -> Source {
        LEAST
    }

    fn title(&self) -> &'static str {
        "least interface diameter of an arc spot"
    }

    fn short(&self) -> &'static str {
        "least arc spot"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &ArcSpotInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ArcSpotInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d_s = interface(input, trace)?;
        step!(trace, Length, LEAST, "least diameter"; d_s_min() = 10.0 * MM);
        step!(trace, Ratio, LEAST, "required over provided";
            utilisation(d_s_min, d_s) = d_s_min / d_s);
        Checked::new(d_s_min, d_s, Dimension::Length, utilisation)
    }
}

/// Distance to the edge the spot is pushed to.
pub(super) struct SpotEdge;

const EDGE: Source = sheet("8.5.3(5), arc spot, edge distance (from memory)");

impl Clause<ArcSpotInput> for SpotEdge {
    fn reference(&self) -> Source {
        EDGE
    }

    fn title(&self) -> &'static str {
        "arc spot weld tearing out to the edge"
    }

    fn short(&self) -> &'static str {
        "arc spot, edge"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &ArcSpotInput) -> Applicability {
        Applicability::only_if(input.e.is_some(), "there is no edge near the spot")
    }

    fn formula(
        &self,
        input: &ArcSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        let e = input.e(trace)?;
        let k_e = if input.f_y.is_some() {
            let f_y = input.f_y(trace)?;
            step!(trace, Ratio, EDGE, "factor, larger for sheet that hardly hardens";
                k_e(f_u, f_y) = if f_u >= 1.15 * f_y { 1.8 } else { 2.1 });
            k_e
        } else {
            step!(trace, Ratio, EDGE, "factor, the larger as the yield strength is not given"; k_e() = 2.1);
            k_e
        };
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Length, EDGE, "least distance";
            e_min(k_e, f_v_ed, t, f_u, gamma_m2) = k_e * f_v_ed / (t * f_u / gamma_m2));
        step!(trace, Ratio, EDGE, "required over provided"; utilisation(e_min, e) = e_min / e);
        Checked::new(e_min, e, Dimension::Length, utilisation)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::en_1993::examples::factors;
    use crate::packs::en_1993::welds::groove_examples::spot;

    /// The three ranges of the formula for the sheet meet: 1.5 18 = 27 = 0.9 30.
    #[test]
    fn the_ranges_meet() {
        for bound in [18.0, 30.0] {
            let at = |ratio: f64| {
                let t = 1e-3;
                let d = t * (1.0 + ratio * (420.0_f64 / 360.0).sqrt());
                let input = ArcSpotInput { d, t, n_sheets: 1.0, ..spot() };
                SpotSheet.evaluate(&input, &factors(), &mut Trace::off()).unwrap().resistance
            };
            assert!((at(bound - 1e-6) / at(bound + 1e-6) - 1.0).abs() < 1e-5);
        }
    }

    #[test]
    fn a_pulled_spot_is_never_a_pass() {
        let pulled = ArcSpotInput { f_t_ed: Some(1.0), ..spot() };
        for clause in [&SpotMetal as &dyn Clause<ArcSpotInput>, &SpotSheet] {
            let refused = clause.evaluate(&pulled, &factors(), &mut Trace::off());
            assert!(matches!(refused, Err(NotChecked::NoRule { .. })));
        }
    }
}
