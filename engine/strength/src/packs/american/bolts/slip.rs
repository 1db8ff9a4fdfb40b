//! Slip of clamped joints.
//!
//! A joint that slips moves by the clearance of its holes and then bears: shear and bearing are rows
//! of their own.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, FayingFaces, Hole, Tightening};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Format, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SLIP, SLIP_LARGE, SLIP_LONG};
use crate::packs::american::{KSI, aisc, since};

use super::shear::shear_demand;

/// Slip under the pretension of a controlled procedure.
pub(super) struct SlipCritical;

const SLIP_CRITICAL: Source = aisc("J3.8 and J3.9");

impl Clause<BoltInput> for SlipCritical {
    fn reference(&self) -> Source {
        SLIP_CRITICAL
    }

    fn title(&self) -> &'static str {
        "slip of a slip-critical joint"
    }

    fn short(&self) -> &'static str {
        "slip"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ControlledSlip
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        if input.tightening == Tightening::Snug {
            return not_tightened();
        }
        // Class 8.8, the metric kin of group 120, has 800 MPa where the nominal strength is given.
        if input.f_ub < 799e6 || input.f_ub > 151.0 * KSI {
            return Applicability::OutsideScope(
                "AISC 360 Table J3.1 has pretensions for bolts of groups 120 and 150 only"
                    .to_owned(),
            );
        }
        Applicability::within(input.tightening == Tightening::Controlled, || {
            "a torque wrench that is not calibrated every day does not prove the least pretension"
                .to_owned()
        })
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let f_t_ed = input.f_t_ed(trace);
        let of_2010 = since(2010, factors, trace);
        let t_b = least_pretension(input, trace);
        let mu = friction(input, of_2010, trace)?;
        let n_friction = input.n_friction(trace)?;
        let what = "mean installed over least pretension";
        let d_u = trace.input("d_u", what, Dimension::Ratio, 1.13, || {
            Provenance::Table("AISC 360, J3.8".to_owned())
        });
        let h = hole_or_filler_factor(input, of_2010, trace)?;
        step!(trace, Force, SLIP_CRITICAL, "nominal slip strength without tension";
            r_ns(mu, d_u, h, t_b, n_friction) = mu * d_u * h * t_b * n_friction);
        let k_sc = if factors.format() == Format::AllowableStrength {
            step!(trace, Ratio, aisc("J3.9"), "factor for the tension on the bolt";
                k_sc(f_t_ed, d_u, t_b) = positive(1.0 - 1.5 * f_t_ed / (d_u * t_b)));
            k_sc
        } else {
            step!(trace, Ratio, aisc("J3.9"), "factor for the tension on the bolt";
                k_sc(f_t_ed, d_u, t_b) = positive(1.0 - f_t_ed / (d_u * t_b)));
            k_sc
        };
        step!(trace, Force, SLIP_CRITICAL, "nominal slip strength"; r_n(r_ns, k_sc) = r_ns * k_sc);
        let r_s = match group(input.hole, of_2010) {
            HoleGroup::Standard => {
                available!(trace, factors, phi_slip or omega_slip of SLIP;
                    Force, SLIP_CRITICAL, "available slip strength"; r_s(r_n));
                r_s
            }
            HoleGroup::Large => {
                available!(trace, factors, phi_slip_large or omega_slip_large of SLIP_LARGE;
                    Force, SLIP_CRITICAL, "available slip strength"; r_s(r_n));
                r_s
            }
            HoleGroup::Long => {
                available!(trace, factors, phi_slip_long or omega_slip_long of SLIP_LONG;
                    Force, SLIP_CRITICAL, "available slip strength"; r_s(r_n));
                r_s
            }
        };
        step!(trace, Ratio, SLIP_CRITICAL, "utilisation";
            utilisation(f_v_ed, r_s) = share(f_v_ed, r_s));
        Checked::new(f_v_ed, r_s, Dimension::Force, utilisation)
    }
}

fn not_tightened() -> Applicability {
    Applicability::DoesNotApply("the bolt is not tightened to a known preload".to_owned())
}

/// Records and returns the least pretension; Table J3.1 lists it rounded to a kip.
fn least_pretension(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_ub = input.f_ub(trace);
    let a_s = input.a_s(trace);
    step!(trace, Force, aisc("Table J3.1"), "least pretension, 0.7 of the tensile strength";
        t_b(f_ub, a_s) = 0.7 * f_ub * a_s);
    t_b
}

fn friction(input: &BoltInput, of_2010: bool, trace: &mut Trace) -> Result<f64, NotChecked> {
    let value = match (input.faying, of_2010) {
        (FayingFaces::AsGiven, _) => {
            trace.note(|| {
                "friction as given: AISC 360 knows classes A and B, any other needs a slip test"
                    .to_owned()
            });
            return input.mu(trace);
        }
        (FayingFaces::ClassA, true) => 0.30,
        (FayingFaces::ClassA, false) => 0.35,
        (FayingFaces::ClassB, _) => 0.50,
    };
    Ok(trace.input("mu", "friction of the class of faces", Dimension::Ratio, value, || {
        Provenance::Table("AISC 360, J3.8".to_owned())
    }))
}

/// From 2010 on the factor is one for fillers, in 2005 it was one for holes.
fn hole_or_filler_factor(
    input: &BoltInput,
    of_2010: bool,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if of_2010 && input.n_fillers.is_some() {
        let n_fillers = input.n_fillers(trace)?;
        step!(trace, Ratio, SLIP_CRITICAL, "factor for fillers";
            h(n_fillers) = if n_fillers > 1.5 { 0.85 } else { 1.0 });
        return Ok(h);
    }
    let (what, value) = if of_2010 {
        ("factor for fillers", if input.t_packing.is_some() { 0.85 } else { 1.0 })
    } else {
        let value = match input.hole {
            Hole::Normal => 1.0,
            Hole::Oversized | Hole::ShortSlotAcross | Hole::ShortSlotAlong => 0.85,
            Hole::LongSlotAcross | Hole::LongSlotAlong => 0.70,
        };
        ("factor for the shape of the hole", value)
    };
    Ok(trace.input("h", what, Dimension::Ratio, value, || {
        Provenance::Table("AISC 360, J3.8".to_owned())
    }))
}

/// Holes with one resistance factor.
enum HoleGroup {
    Standard,
    Large,
    Long,
}

/// In 2005 slip across slots was a matter of service, slip along them or in large holes of strength.
fn group(hole: Hole, of_2010: bool) -> HoleGroup {
    match (hole, of_2010) {
        (Hole::Normal | Hole::ShortSlotAcross, _) | (Hole::LongSlotAcross, false) => {
            HoleGroup::Standard
        }
        (Hole::Oversized | Hole::ShortSlotAlong, _) | (Hole::LongSlotAlong, false) => {
            HoleGroup::Large
        }
        (Hole::LongSlotAcross | Hole::LongSlotAlong, true) => HoleGroup::Long,
    }
}

/// Slip under the least preload a torque wrench leaves, forces without load factor. The whole
/// tension is taken off the clamping, as if the bolt were rigid: the safe side.
pub(super) struct SlipTorque;

const TORQUE: Source = Source::mechanics("friction under the least preload of a torque wrench");

impl Clause<BoltInput> for SlipTorque {
    fn reference(&self) -> Source {
        TORQUE
    }

    fn title(&self) -> &'static str {
        "slip of a joint tightened by torque wrench, forces without load factor"
    }

    fn short(&self) -> &'static str {
        "slip, wrench"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Slip
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        tightened_by_torque(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_1_ser = input.f_1_ser(trace);
        let f_2_ser = input.f_2_ser(trace);
        step!(trace, Force, Source::mechanics("resultant of two components"),
            "shear on the bolt without load factor";
            f_v_ser(f_1_ser, f_2_ser) = hypot(f_1_ser, f_2_ser));
        let f_t_ser = input.f_t_ser(trace);
        let f_min = least_preload(input, trace)?;
        let mu = input.mu(trace)?;
        let n_friction = input.n_friction(trace)?;
        step!(trace, Force, TORQUE, "slip strength under the clamping that is left";
            r_s(mu, n_friction, f_min, f_t_ser) = mu * n_friction * positive(f_min - f_t_ser));
        step!(trace, Ratio, TORQUE, "utilisation"; utilisation(f_v_ser, r_s) = share(f_v_ser, r_s));
        Checked::new(f_v_ser, r_s, Dimension::Force, utilisation)
    }
}

fn tightened_by_torque(input: &BoltInput) -> Applicability {
    match input.tightening {
        Tightening::Torque => Applicability::Applies,
        Tightening::Controlled => Applicability::DoesNotApply(
            "tightened by a controlled procedure: AISC 360 J3.8 speaks".to_owned(),
        ),
        Tightening::Snug => not_tightened(),
    }
}

fn least_preload(input: &BoltInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let f_m = input.f_m(trace)?;
    let alpha_a = input.alpha_a(trace)?;
    if alpha_a < 1.0 {
        return Err(NotChecked::OutOfRange {
            symbol: "alpha_a",
            what: "tightening factor, largest over least preload",
            value: alpha_a,
            dimension: Dimension::Ratio,
            allowed: "1 or more",
        });
    }
    step!(trace, Force, Source::new("VDI 2230 Part 1:2003", "R1: tightening factor"),
        "least preload after tightening"; f_min(f_m, alpha_a) = f_m / alpha_a);
    Ok(f_min)
}

/// What a procedure that counts as controlled surely leaves against the pretension the standard asks
/// of a slip-critical joint.
pub(super) struct LeastPretension;

const PRETENSION: Source = aisc("J3.1 and Table J3.1");

impl Clause<BoltInput> for LeastPretension {
    fn reference(&self) -> Source {
        PRETENSION
    }

    fn title(&self) -> &'static str {
        "least pretension, with the scatter of the tightening"
    }

    fn short(&self) -> &'static str {
        "least pretension"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        let stated = input.f_m.is_some() && input.alpha_a.is_some();
        Applicability::only_if(
            stated && input.tightening == Tightening::Controlled,
            "no controlled procedure with its preload and scatter is stated",
        )
    }

    fn formula(
        &self,
        input: &BoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t_b = least_pretension(input, trace);
        let f_min = least_preload(input, trace)?;
        step!(trace, Ratio, PRETENSION, "required over provided";
            utilisation(t_b, f_min) = t_b / f_min);
        Checked::new(t_b, f_min, Dimension::Force, utilisation)
    }
}
