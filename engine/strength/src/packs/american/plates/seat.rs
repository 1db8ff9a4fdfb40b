//! Faces under heads, washers and end plates; plates that spread their force; sleeves.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SeatInput, SleeveInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::{BEARING, BENDING, COMPRESSION};
use crate::packs::american::{aisc, manual};

const J7: Source = aisc("J7(a)");
const PRESSURE: Source = Source::mechanics("pressure under a seat against what the face stands");
const OVERHANG: Source = manual("Part 14, cantilever of a plate in bearing");
const SLEEVE: Source = aisc("J4.4(a), sleeve");

/// Bearing on a finished face.
pub(super) struct Bearing;

impl Clause<SeatInput> for Bearing {
    fn reference(&self) -> Source {
        J7
    }

    fn title(&self) -> &'static str {
        "bearing on the face under the seat"
    }

    fn short(&self) -> &'static str {
        "bearing of the seat"
    }

    fn applies(&self, input: &SeatInput) -> Applicability {
        Applicability::only_if(
            input.f_y_seat.is_some(),
            "the yield strength of the softer face is not given",
        )
    }

    fn formula(
        &self,
        input: &SeatInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = once!(trace, input.f_ed);
        let f_y_seat = once!(trace, input.f_y_seat)?;
        let a_pb = bearing_area(input, trace)?;
        step!(trace, Force, J7, "nominal bearing strength"; r_n(f_y_seat, a_pb) = 1.8 * f_y_seat * a_pb);
        available!(trace, factors, phi_brg or omega_brg of BEARING;
            Force, J7, "available bearing strength"; r_c(r_n));
        step!(trace, Ratio, J7, "utilisation"; utilisation(f_ed, r_c) = f_ed / r_c);
        Checked::new(f_ed, r_c, Dimension::Force, utilisation)
    }
}

/// Records and returns the area that bears.
fn bearing_area(input: &SeatInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let d_w = once!(trace, input.d_w);
    let d_h = once!(trace, input.d_h);
    if d_h >= d_w {
        return Err(NotChecked::OutOfRange {
            symbol: "d_h",
            what: "diameter of the hole under the seat",
            value: d_h,
            dimension: Dimension::Length,
            allowed: "less than the diameter of the seat",
        });
    }
    step!(trace, Area, Source::mechanics("ring"), "area that bears";
        a_pb(d_w, d_h) = PI / 4.0 * (sq(d_w) - sq(d_h)));
    Ok(a_pb)
}

/// Pressure against a limit of the project, as in tables for bolted joints.
pub(super) struct Pressure;

impl Clause<SeatInput> for Pressure {
    fn reference(&self) -> Source {
        PRESSURE
    }

    fn title(&self) -> &'static str {
        "pressure under the seat"
    }

    fn applies(&self, _: &SeatInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SeatInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let p_limit = input.p_limit(trace);
        let p_r = pressure(input, trace)?;
        step!(trace, Ratio, PRESSURE, "utilisation"; utilisation(p_r, p_limit) = p_r / p_limit);
        Checked::new(p_r, p_limit, Dimension::Stress, utilisation)
    }
}

fn pressure(input: &SeatInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let f_ed = once!(trace, input.f_ed);
    let a_pb = bearing_area(input, trace)?;
    step!(trace, Stress, PRESSURE, "pressure"; p_r(f_ed, a_pb) = f_ed / a_pb);
    Ok(p_r)
}

/// Reach of a spreading plate: how far its overhang carries the pressure as a plastic cantilever.
pub(super) struct Overhang;

impl Clause<SeatInput> for Overhang {
    fn reference(&self) -> Source {
        OVERHANG
    }

    fn title(&self) -> &'static str {
        "reach of the spreading plate"
    }

    fn applies(&self, input: &SeatInput) -> Applicability {
        Applicability::only_if(input.overhang.is_some(), "no plate spreads the force")
    }

    fn formula(
        &self,
        input: &SeatInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let overhang = input.overhang(trace)?;
        let t_plate = input.t_plate(trace)?;
        let f_y_plate = input.f_y_plate(trace)?;
        let p_r = pressure(input, trace)?;
        step!(trace, LineForce, OVERHANG, "moment per width at the edge of what it carries";
            m_r(p_r, overhang) = p_r * sq(overhang) / 2.0);
        step!(trace, LineForce, OVERHANG, "plastic moment per width";
            m_p(f_y_plate, t_plate) = f_y_plate * sq(t_plate) / 4.0);
        available!(trace, factors, phi_b or omega_b of BENDING;
            LineForce, OVERHANG, "available moment per width"; m_c(m_p));
        step!(trace, Ratio, OVERHANG, "utilisation"; utilisation(m_r, m_c) = m_r / m_c);
        Checked::new(m_r, m_c, Dimension::LineForce, utilisation)
    }
}

/// A sleeve pressed by the preload.
pub(super) struct SleeveYields;

impl Clause<SleeveInput> for SleeveYields {
    fn reference(&self) -> Source {
        SLEEVE
    }

    fn title(&self) -> &'static str {
        "yielding of the sleeve under the preload"
    }

    fn short(&self) -> &'static str {
        "sleeve yields"
    }

    fn applies(&self, _: &SleeveInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SleeveInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_m = input.f_m(trace);
        let d_out = input.d_out(trace);
        let d_in = input.d_in(trace);
        let f_y = input.f_y(trace);
        if d_in >= d_out {
            return Err(NotChecked::OutOfRange {
                symbol: "d_in",
                what: "inner diameter of the sleeve",
                value: d_in,
                dimension: Dimension::Length,
                allowed: "less than the outer diameter",
            });
        }
        step!(trace, Area, SLEEVE, "area of the sleeve";
            a_s(d_out, d_in) = PI / 4.0 * (sq(d_out) - sq(d_in)));
        step!(trace, Force, SLEEVE, "yield force"; p_n(f_y, a_s) = f_y * a_s);
        available!(trace, factors, phi_c or omega_c of COMPRESSION;
            Force, SLEEVE, "available strength"; p_c(p_n));
        step!(trace, Ratio, SLEEVE, "utilisation"; utilisation(f_m, p_c) = f_m / p_c);
        Checked::new(f_m, p_c, Dimension::Force, utilisation)
    }
}
