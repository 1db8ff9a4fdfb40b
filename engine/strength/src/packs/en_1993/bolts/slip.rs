//! Slip and opening of clamped joints.
//!
//! Slip and bearing never add up. A joint that slips moves by the clearance of its holes and
//! then bears: the rows of shear and bearing say whether it holds.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, ClassListing, Hole, Tightening};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, joints, preload};

use super::shear::shear_demand;

/// Slip under factored forces.
pub(super) struct SlipUltimate;

const CATEGORY_C: Source = joints("3.9.1 and 3.9.2, category C");

impl Clause<BoltInput> for SlipUltimate {
    fn reference(&self) -> Source {
        CATEGORY_C
    }

    fn title(&self) -> &'static str {
        "slip of a joint tightened by a controlled procedure, factored forces"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ControlledSlip
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        controlled_preload(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let f_t_ed = input.f_t_ed(trace);
        let f_p_c = code_preload(input, trace);
        let k_s = hole_factor(input, trace);
        let n_friction = input.n_friction(trace)?;
        let mu = input.mu(trace)?;
        let gamma_m3 = factors.gamma_m3(trace);
        step!(trace, Force, CATEGORY_C, "slip resistance";
            f_s_rd(k_s, n_friction, mu, f_p_c, f_t_ed, gamma_m3) =
            k_s * n_friction * mu * positive(f_p_c - 0.8 * f_t_ed) / gamma_m3);
        step!(trace, Ratio, CATEGORY_C, "utilisation";
            utilisation(f_v_ed, f_s_rd) = f_v_ed / f_s_rd);
        Checked::new(f_v_ed, f_s_rd, Dimension::Force, utilisation)
    }
}

/// Slip under forces without load factor.
pub(super) struct SlipServiceability;

const CATEGORY_B: Source = joints("3.9.1 and 3.9.2, category B");

impl Clause<BoltInput> for SlipServiceability {
    fn reference(&self) -> Source {
        CATEGORY_B
    }

    fn title(&self) -> &'static str {
        "slip of a joint tightened by a controlled procedure, forces without load factor"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ControlledSlip
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        controlled_preload(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ser = shear_without_factor(input, trace);
        let f_t_ser = input.f_t_ser(trace);
        let f_p_c = code_preload(input, trace);
        let k_s = hole_factor(input, trace);
        let n_friction = input.n_friction(trace)?;
        let mu = input.mu(trace)?;
        let gamma_m3_ser = factors.gamma_m3_ser(trace);
        step!(trace, Force, CATEGORY_B, "slip resistance";
            f_s_rd(k_s, n_friction, mu, f_p_c, f_t_ser, gamma_m3_ser) =
            k_s * n_friction * mu * positive(f_p_c - 0.8 * f_t_ser) / gamma_m3_ser);
        step!(trace, Ratio, CATEGORY_B, "utilisation";
            utilisation(f_v_ser, f_s_rd) = f_v_ser / f_s_rd);
        Checked::new(f_v_ser, f_s_rd, Dimension::Force, utilisation)
    }
}

/// Slip under the least preload a torque wrench leaves, forces without load factor. The whole
/// tension is taken off the clamping, as if the bolt were rigid: the safe side.
pub(super) struct SlipTorque;

const TORQUE: Source = preload("R12: slipping");

impl Clause<BoltInput> for SlipTorque {
    fn reference(&self) -> Source {
        TORQUE
    }

    fn title(&self) -> &'static str {
        "slip of a joint tightened by torque wrench, forces without load factor"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Slip
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        match input.tightening {
            Tightening::Torque => Applicability::Applies,
            Tightening::Controlled => Applicability::DoesNotApply(
                "tightened by a controlled procedure: EN 1993-1-8 3.9 speaks".to_owned(),
            ),
            Tightening::Snug => not_tightened(),
        }
    }

    fn formula(
        &self,
        input: &BoltInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ser = shear_without_factor(input, trace);
        let f_t_ser = input.f_t_ser(trace);
        let f_min = least_preload(input, trace)?;
        let k_s = hole_factor(input, trace);
        let n_friction = input.n_friction(trace)?;
        let mu = input.mu(trace)?;
        step!(trace, Force, TORQUE, "slip resistance under the clamping that is left";
            f_s(k_s, n_friction, mu, f_min, f_t_ser) =
            k_s * n_friction * mu * positive(f_min - f_t_ser));
        step!(trace, Ratio, TORQUE, "utilisation"; utilisation(f_v_ser, f_s) = f_v_ser / f_s);
        trace.note(|| {
            "slip is a matter of serviceability: the joint then bears, and shear and bearing must \
             hold"
                .to_owned()
        });
        Checked::new(f_v_ser, f_s, Dimension::Force, utilisation)
    }
}

/// Opening of the joint: tension against the least preload.
pub(super) struct Opening;

const OPENING: Source = preload("R2: clamping against opening");

impl Clause<BoltInput> for Opening {
    fn reference(&self) -> Source {
        OPENING
    }

    fn title(&self) -> &'static str {
        "opening of the clamped joint"
    }

    fn short(&self) -> &'static str {
        "joint opens"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        match input.tightening {
            Tightening::Torque | Tightening::Controlled => Applicability::Applies,
            Tightening::Snug => not_tightened(),
        }
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ser = input.f_t_ser(trace);
        let f_min = match input.tightening {
            Tightening::Controlled => {
                let f_p_c = code_preload(input, trace);
                let gamma_m7 = factors.gamma_m7(trace);
                step!(trace, Force, joints("3.6.1(2)"), "design preload";
                    f_min(f_p_c, gamma_m7) = f_p_c / gamma_m7);
                f_min
            }
            Tightening::Torque | Tightening::Snug => least_preload(input, trace)?,
        };
        step!(trace, Ratio, OPENING, "utilisation"; utilisation(f_t_ser, f_min) = f_t_ser / f_min);
        Checked::new(f_t_ser, f_min, Dimension::Force, utilisation)
    }
}

fn not_tightened() -> Applicability {
    Applicability::DoesNotApply("the bolt is not tightened to a known preload".to_owned())
}

fn controlled_preload(input: &BoltInput) -> Applicability {
    if input.tightening == Tightening::Snug {
        return not_tightened();
    }
    // Of the listed classes these are 8.8 and 10.9.
    let strong = input.class == ClassListing::Listed && input.f_ub > 799.0 * MPA;
    if !strong {
        return Applicability::OutsideScope(
            "EN 1993-1-8 3.1.2 lets only classes 8.8 and 10.9 be preloaded".to_owned(),
        );
    }
    Applicability::within(input.tightening == Tightening::Controlled, || {
        "a torque wrench alone does not prove the preload 0.7 fub As of EN 1090-2".to_owned()
    })
}

fn shear_without_factor(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_1_ser = input.f_1_ser(trace);
    let f_2_ser = input.f_2_ser(trace);
    step!(trace, Force, Source::mechanics("resultant of two components"),
        "shear on the bolt without load factor"; f_v_ser(f_1_ser, f_2_ser) = hypot(f_1_ser, f_2_ser));
    f_v_ser
}

fn code_preload(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_ub = input.f_ub(trace);
    let a_s = input.a_s(trace);
    step!(trace, Force, joints("3.9.1(2)"), "preload of the controlled procedure";
        f_p_c(f_ub, a_s) = 0.7 * f_ub * a_s);
    f_p_c
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
    step!(trace, Force, preload("R1: tightening factor"), "least preload after tightening";
        f_min(f_m, alpha_a) = f_m / alpha_a);
    Ok(f_min)
}

fn hole_factor(input: &BoltInput, trace: &mut Trace) -> f64 {
    let value = match input.hole {
        Hole::Normal => 1.0,
        Hole::Oversized | Hole::ShortSlotAcross => 0.85,
        Hole::LongSlotAcross => 0.7,
        Hole::ShortSlotAlong => 0.76,
        Hole::LongSlotAlong => 0.63,
    };
    trace.input("k_s", "factor for the shape of the hole", Dimension::Ratio, value, || {
        Provenance::Table("EN 1993-1-8:2005, Table 3.6".to_owned())
    })
}
