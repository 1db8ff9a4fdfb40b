//! Arc spot welds through sheet.

use std::f64::consts::PI;

use fishplate_quantity::algebra::sqrt;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::ArcSpotInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SHEET_THROAT, SPOT_MIDDLE, SPOT_THICK, SPOT_THIN};
use crate::packs::american::{IN, aisi, e_of_sheet};

/// Shear of an arc spot: of the weld metal, or of the sheet around it.
pub(super) struct Spot;

const SPOT: Source = aisi("J2.2.2.1");
const SIZE: Source = aisi("J2.2.1");

impl Clause<ArcSpotInput> for Spot {
    fn reference(&self) -> Source {
        SPOT
    }

    fn title(&self) -> &'static str {
        "arc spot weld in shear"
    }

    fn short(&self) -> &'static str {
        "arc spot"
    }

    fn applies(&self, input: &ArcSpotInput) -> Applicability {
        if input.t > 0.15 * IN {
            return Applicability::DoesNotApply("the sheets are over 0.15 in together".to_owned());
        }
        Applicability::within(input.t >= 0.028 * IN, || {
            "sheet under 0.028 in needs a weld washer, of which this rule does not speak".to_owned()
        })
    }

    fn formula(
        &self,
        input: &ArcSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        if input.f_t_ed.is_some() && input.f_t_ed(trace)? > 0.0 {
            let reason = "pull on an arc spot is not covered: let a screw or a bolt take it";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let f_v_ed = input.f_v_ed(trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let f_exx = input.f_exx(trace);
        let f_u = input.f_u(trace);
        let d_e = if input.d_fused.is_some() {
            let d_fused = input.d_fused(trace)?;
            step!(trace, Length, SIZE, "effective diameter of the fused face, as measured";
                d_e(d_fused) = d_fused);
            d_e
        } else {
            step!(trace, Length, SIZE, "effective diameter of the fused face";
                d_e(d, t) = smaller(0.7 * d - 1.5 * t, 0.55 * d));
            d_e
        };
        if d_e < 3.0 / 8.0 * IN {
            return Err(NotChecked::OutOfRange {
                symbol: "d",
                what: "visible diameter of the spot at the face",
                value: d,
                dimension: Dimension::Length,
                allowed: "such that the fused face measures at least 3/8 in, AISI S100 J2.2.1",
            });
        }
        step!(trace, Force, SPOT, "nominal strength of the weld metal";
            p_weld(d_e, f_exx) = PI / 4.0 * sq(d_e) * 0.75 * f_exx);
        available!(trace, factors, phi_throat or omega_throat of SHEET_THROAT;
            Force, SPOT, "available strength of the weld metal"; p_a_weld(p_weld));
        let d_a = average_diameter(input, d, t, trace)?;
        step!(trace, Ratio, SPOT, "diameter over thickness"; slender(d_a, t) = d_a / t);
        let e_sheet = e_of_sheet(trace);
        let limit = sqrt(e_sheet / f_u);
        let p_a_sheet = if slender <= 0.815 * limit {
            step!(trace, Force, SPOT, "nominal strength of the sheet, spot small for its thickness";
                p_sheet(t, d_a, f_u) = 2.20 * t * d_a * f_u);
            available!(trace, factors, phi_spot_thick or omega_spot_thick of SPOT_THICK;
                Force, SPOT, "available strength of the sheet"; p_a_sheet(p_sheet));
            p_a_sheet
        } else if slender < 1.397 * limit {
            step!(trace, Force, SPOT, "nominal strength of the sheet, spot of middle size";
                p_sheet(slender, t, d_a, f_u, e_sheet) =
                0.280 * (1.0 + 5.59 * sqrt(e_sheet / f_u) / slender) * t * d_a * f_u);
            available!(trace, factors, phi_spot_middle or omega_spot_middle of SPOT_MIDDLE;
                Force, SPOT, "available strength of the sheet"; p_a_sheet(p_sheet));
            p_a_sheet
        } else {
            step!(trace, Force, SPOT, "nominal strength of the sheet, spot large for its thickness";
                p_sheet(t, d_a, f_u) = 1.40 * t * d_a * f_u);
            available!(trace, factors, phi_spot_thin or omega_spot_thin of SPOT_THIN;
                Force, SPOT, "available strength of the sheet"; p_a_sheet(p_sheet));
            p_a_sheet
        };
        step!(trace, Force, SPOT, "available strength, the lower of both";
            p_a(p_a_weld, p_a_sheet) = smaller(p_a_weld, p_a_sheet));
        trace.note(|| {
            let what = if p_a_weld < p_a_sheet { "the weld metal" } else { "the sheet" };
            format!("{what} governs")
        });
        step!(trace, Ratio, SPOT, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// Records and returns the mean diameter within the sheets.
fn average_diameter(
    input: &ArcSpotInput,
    d: f64,
    t: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let n_sheets = input.n_sheets(trace);
    if n_sheets > 2.5 {
        return Err(NotChecked::OutOfRange {
            symbol: "n_sheets",
            what: "sheets melted through",
            value: n_sheets,
            dimension: Dimension::Ratio,
            allowed: "1 or 2",
        });
    }
    step!(trace, Length, SIZE, "mean diameter within the sheets";
        d_a(d, t, n_sheets) = if n_sheets < 1.5 { d - t } else { d - 2.0 * t });
    if d_a > 0.0 {
        return Ok(d_a);
    }
    Err(NotChecked::OutOfRange {
        symbol: "d",
        what: "visible diameter of the spot at the face",
        value: d,
        dimension: Dimension::Length,
        allowed: "more than what the thickness of the sheets takes off it",
    })
}

/// Least distance from the centre of a spot to the edge.
pub(super) struct EdgeOfSpot;

const EDGE: Source = aisi("J2.2.1, edge distance");

impl Clause<ArcSpotInput> for EdgeOfSpot {
    fn reference(&self) -> Source {
        EDGE
    }

    fn title(&self) -> &'static str {
        "least edge distance of an arc spot"
    }

    fn short(&self) -> &'static str {
        "spot, edge"
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
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d = input.d(trace);
        let e = input.e(trace)?;
        step!(trace, Length, EDGE, "least distance"; required(d) = 1.5 * d);
        step!(trace, Ratio, EDGE, "required over provided"; utilisation(required, e) = required / e);
        Checked::new(required, e, Dimension::Length, utilisation)
    }
}
