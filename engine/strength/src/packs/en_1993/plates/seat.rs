//! Faces under heads, washers and spreading plates.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::SeatInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{joints, preload};

/// Bearing pressure under a head or washer.
pub(super) struct Pressure;

const PRESSURE: Source = preload("R10: surface pressure");

impl Clause<SeatInput> for Pressure {
    fn reference(&self) -> Source {
        PRESSURE
    }

    fn title(&self) -> &'static str {
        "pressure on the face under the head or washer"
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
        let p_ed = pressure(input, trace)?;
        let p_limit = input.p_limit(trace);
        step!(trace, Ratio, PRESSURE, "utilisation"; utilisation(p_ed, p_limit) = p_ed / p_limit);
        Checked::new(p_ed, p_limit, Dimension::Stress, utilisation)
    }
}

fn pressure(input: &SeatInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let f_ed = input.f_ed(trace);
    let d_w = input.d_w(trace);
    let d_h = input.d_h(trace);
    if d_h >= d_w {
        return Err(NotChecked::OutOfRange {
            symbol: "d_h",
            what: "diameter of the hole under it",
            value: d_h,
            dimension: Dimension::Length,
            allowed: "less than the diameter of the seat",
        });
    }
    step!(trace, Area, Source::mechanics("ring"), "area that bears";
        a_p(d_w, d_h) = PI / 4.0 * (sq(d_w) - sq(d_h)));
    step!(trace, Stress, PRESSURE, "pressure"; p_ed(f_ed, a_p) = f_ed / a_p);
    Ok(p_ed)
}

/// Reach of a spreading plate: how far its overhang still carries that pressure.
pub(super) struct Overhang;

const OVERHANG: Source = joints("6.2.5(4)");

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
        let p_ed = pressure(input, trace)?;
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Ratio, OVERHANG, "utilisation, reach over c = t √(fy / (3 p γM0))";
            utilisation(overhang, t_plate, f_y_plate, p_ed, gamma_m0) =
            overhang / t_plate * sqrt(3.0 * p_ed * gamma_m0 / f_y_plate));
        // Without pressure any reach will do; the limit quoted is then the reach itself.
        let c = if utilisation > 0.0 { overhang / utilisation } else { overhang };
        let demand = if utilisation > 0.0 { overhang } else { 0.0 };
        Checked::new(demand, c, Dimension::Length, utilisation)
    }
}
