//! Bolts in shear, alone and as a group.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltGroupInput, BoltInput, ShearPlane};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::BOLTS;
use crate::packs::american::{IN, aisc, since};

use super::tension::nominal_area;

/// Shear of the bolt, on its nominal area in every plane.
pub(super) struct Shear;

const SHEAR: Source = aisc("J3.6, shear");
const TABLE: Source = aisc("Table J3.2");
const FILLERS: Source = aisc("J5.2");

impl Clause<BoltInput> for Shear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "bolt in shear"
    }

    fn short(&self) -> &'static str {
        "shear"
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        super::in_table_j3_2(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let f_nv = shear_stress(input, factors, trace)?;
        let a_b = nominal_area(input, trace);
        let n_planes = input.n_planes(trace);
        step!(trace, Force, SHEAR, "nominal strength in shear, all planes";
            r_nv(f_nv, a_b, n_planes) = f_nv * a_b * n_planes);
        available!(trace, factors, phi_bolt or omega_bolt of BOLTS;
            Force, SHEAR, "available strength in shear"; r_v(r_nv));
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_v_ed, r_v) = f_v_ed / r_v);
        Checked::new(f_v_ed, r_v, Dimension::Force, utilisation)
    }
}

/// Records and returns the resultant shear on the bolt.
pub(in crate::packs::american) fn shear_demand(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_1_ed = input.f_1_ed(trace);
    let f_2_ed = input.f_2_ed(trace);
    step!(trace, Force, Source::mechanics("resultant of two components"), "shear on the bolt";
        f_v_ed(f_1_ed, f_2_ed) = hypot(f_1_ed, f_2_ed));
    f_v_ed
}

/// Records and returns the nominal shear stress, reduced for fillers and long joints.
pub(super) fn shear_stress(
    input: &BoltInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let f_ub = once!(trace, input.f_ub);
    let of_2010 = since(2010, factors, trace);
    // The editions from 2010 on start from joints 38 in long without a reduction, that of 2005 has
    // one of a fifth within its numbers.
    let value = match (input.plane, of_2010) {
        (ShearPlane::Threads, true) => 0.450,
        (ShearPlane::Shank, true) => 0.563,
        (ShearPlane::Threads, false) => 0.40,
        (ShearPlane::Shank, false) => 0.50,
    };
    let what = "shear strength over tensile strength, by what the plane cuts";
    let k_nv = trace.input("k_nv", what, Dimension::Ratio, value, || {
        Provenance::Table(format!("AISC 360 of {}, Table J3.2", factors.edition().id))
    });
    step!(trace, Stress, TABLE, "nominal shear stress"; f_nv(k_nv, f_ub) = k_nv * f_ub);
    let f_nv = reduced_for_length(input, of_2010, f_nv, trace)?;
    reduced_for_fillers(input, of_2010, f_nv, trace)
}

fn reduced_for_length(
    input: &BoltInput,
    of_2010: bool,
    f_nv: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if input.l_joint.is_none() {
        return Ok(f_nv);
    }
    let l_joint = input.l_joint(trace)?;
    if of_2010 {
        step!(trace, Stress, TABLE, "nominal shear stress, joint over 38 in loaded at its ends";
            f_nv(f_nv, l_joint) = if l_joint > 38.0 * IN { 0.833 * f_nv } else { f_nv });
        return Ok(f_nv);
    }
    step!(trace, Stress, TABLE, "nominal shear stress, joint over 50 in loaded at its ends";
        f_nv(f_nv, l_joint) = if l_joint > 50.0 * IN { 0.80 * f_nv } else { f_nv });
    Ok(f_nv)
}

fn reduced_for_fillers(
    input: &BoltInput,
    of_2010: bool,
    f_nv: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    if input.t_packing.is_none() {
        return Ok(f_nv);
    }
    let t_packing = input.t_packing(trace)?;
    if of_2010 {
        step!(trace, Stress, FILLERS, "nominal shear stress with fillers over 1/4 in";
            f_nv(f_nv, t_packing) =
            f_nv * larger(0.85, smaller(1.0, 1.0 - 0.4 * (t_packing / IN - 0.25))));
        return Ok(f_nv);
    }
    if t_packing > 0.75 * IN {
        return Err(NotChecked::OutOfRange {
            symbol: "t_packing",
            what: "total thickness of packing",
            value: t_packing,
            dimension: Dimension::Length,
            allowed: "at most 3/4 in by AISC 360-05 J5, unless the fillers are developed",
        });
    }
    step!(trace, Stress, FILLERS, "nominal shear stress with fillers over 1/4 in";
        f_nv(f_nv, t_packing) = f_nv * smaller(1.0, 1.0 - 0.4 * (t_packing / IN - 0.25)));
    Ok(f_nv)
}

/// The bolts of a joint together: every bolt gives the least of its shear and bearing.
pub(super) struct Group;

const GROUP: Source = aisc("J3.6, strength of a group");

impl Clause<BoltGroupInput> for Group {
    fn reference(&self) -> Source {
        GROUP
    }

    fn title(&self) -> &'static str {
        "group of bolts, sum of what each bolt gives"
    }

    fn short(&self) -> &'static str {
        "bolt group"
    }

    fn applies(&self, _: &BoltGroupInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BoltGroupInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let n_end = input.n_end(trace);
        let n_inner = input.n_inner(trace);
        let f_v_rd = input.f_v_rd(trace);
        let f_b_rd_end = input.f_b_rd_end(trace);
        let f_b_rd_inner = input.f_b_rd_inner(trace);
        step!(trace, Force, GROUP, "available strength of an end bolt";
            r_end(f_v_rd, f_b_rd_end) = smaller(f_v_rd, f_b_rd_end));
        step!(trace, Force, GROUP, "available strength of an inner bolt";
            r_inner(f_v_rd, f_b_rd_inner) = smaller(f_v_rd, f_b_rd_inner));
        step!(trace, Force, GROUP, "available strength of the group";
            r_group(n_end, r_end, n_inner, r_inner) = n_end * r_end + n_inner * r_inner);
        step!(trace, Ratio, GROUP, "utilisation"; utilisation(f_ed, r_group) = f_ed / r_group);
        trace.note(|| {
            "the strengths of one bolt are available ones, phi or omega included".to_owned()
        });
        Checked::new(f_ed, r_group, Dimension::Force, utilisation)
    }
}
