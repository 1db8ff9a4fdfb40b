//! Bolts in shear.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltGroupInput, BoltInput, ClassListing, ShearPlane};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, joints};

/// Shear of the bolt.
pub(super) struct Shear;

const SHEAR: Source = joints("Table 3.4, shear");

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
        super::class_in_table_3_1(input)
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ub = input.f_ub(trace);
        let a_s = input.a_s(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let f_v_ed = shear_demand(input, trace);
        let f_v_rd = shear_resistance(input, trace, f_ub, a_s, gamma_m2)?;
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_v_ed, f_v_rd) = f_v_ed / f_v_rd);
        Checked::new(f_v_ed, f_v_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the resultant shear on the bolt.
pub(super) fn shear_demand(input: &BoltInput, trace: &mut Trace) -> f64 {
    let f_1_ed = input.f_1_ed(trace);
    let f_2_ed = input.f_2_ed(trace);
    step!(trace, Force, Source::mechanics("resultant of two components"), "shear on the bolt";
        f_v_ed(f_1_ed, f_2_ed) = hypot(f_1_ed, f_2_ed));
    f_v_ed
}

/// Records and returns the shear resistance of the bolt, all planes together.
pub(super) fn shear_resistance(
    input: &BoltInput,
    trace: &mut Trace,
    f_ub: f64,
    a_s: f64,
    gamma_m2: f64,
) -> Result<f64, NotChecked> {
    let n_planes = input.n_planes(trace);
    let d = input.d(trace);
    let f_v_rd = match input.plane {
        ShearPlane::Threads => {
            let alpha_v = input.alpha_v(trace);
            step!(trace, Force, SHEAR, "shear resistance, the planes cut the thread";
                f_v_rd(n_planes, alpha_v, f_ub, a_s, gamma_m2) =
                n_planes * alpha_v * f_ub * a_s / gamma_m2);
            f_v_rd
        }
        ShearPlane::Shank => {
            let alpha_v = shank_factor(input, trace);
            step!(trace, Area, Source::mechanics("circle"), "area of the shank";
                a_shank(d) = PI / 4.0 * sq(d));
            step!(trace, Force, SHEAR, "shear resistance, the planes cut the shank";
                f_v_rd(n_planes, alpha_v, f_ub, a_shank, gamma_m2) =
                n_planes * alpha_v * f_ub * a_shank / gamma_m2);
            f_v_rd
        }
    };
    let f_v_rd = reduced_for_packing(input, trace, f_v_rd, d)?;
    let f_v_rd = reduced_for_length(input, trace, f_v_rd, d)?;
    Ok(reduced_for_clearance(input, trace, f_v_rd, d))
}

/// On the shank all listed classes have 0.6; others keep the value of their thread.
fn shank_factor(input: &BoltInput, trace: &mut Trace) -> f64 {
    if input.class == ClassListing::NotListed {
        return input.alpha_v(trace);
    }
    let what = "factor of the shear strength of the shank";
    trace.input("alpha_v", what, Dimension::Ratio, 0.6, || {
        Provenance::Table("EN 1993-1-8:2005, Table 3.4".to_owned())
    })
}

fn reduced_for_packing(
    input: &BoltInput,
    trace: &mut Trace,
    f_v_rd: f64,
    d: f64,
) -> Result<f64, NotChecked> {
    const PACKING: Source = joints("3.6.1(12)");
    if input.t_packing.is_none() {
        return Ok(f_v_rd);
    }
    let t_packing = input.t_packing(trace)?;
    step!(trace, Ratio, PACKING, "reduction for packing thicker than a third of the bolt";
        beta_p(d, t_packing) =
        if t_packing > d / 3.0 { smaller(9.0 * d / (8.0 * d + 3.0 * t_packing), 1.0) } else { 1.0 });
    step!(trace, Force, PACKING, "shear resistance with packing";
        f_v_rd(f_v_rd, beta_p) = f_v_rd * beta_p);
    Ok(f_v_rd)
}

fn reduced_for_length(
    input: &BoltInput,
    trace: &mut Trace,
    f_v_rd: f64,
    d: f64,
) -> Result<f64, NotChecked> {
    const LONG: Source = joints("3.8(1)");
    if input.l_joint.is_none() {
        return Ok(f_v_rd);
    }
    let l_joint = input.l_joint(trace)?;
    step!(trace, Ratio, LONG, "reduction for a joint longer than fifteen bolts";
        beta_lf(d, l_joint) =
        larger(0.75, smaller(1.0, 1.0 - (l_joint - 15.0 * d) / (200.0 * d))));
    step!(trace, Force, LONG, "shear resistance in a long joint";
        f_v_rd(f_v_rd, beta_lf) = f_v_rd * beta_lf);
    Ok(f_v_rd)
}

/// 3.6.1(5) speaks of M12 and M14 with 2 mm clearance instead of 1 mm.
fn reduced_for_clearance(input: &BoltInput, trace: &mut Trace, f_v_rd: f64, d: f64) -> f64 {
    let small = input.d < 15.0 * MM;
    if !small || input.d_0 - input.d < 1.5 * MM {
        return f_v_rd;
    }
    let d_0 = input.d_0(trace);
    step!(trace, Force, joints("3.6.1(5)"), "shear resistance in holes with 2 mm clearance";
        f_v_rd(f_v_rd, d, d_0) = if d_0 - d >= 1.5 * MM { 0.85 * f_v_rd } else { f_v_rd });
    trace.note(|| "2 mm clearance on a small bolt: the bearing of the ply must govern".to_owned());
    f_v_rd
}

/// The bolts of a joint together.
pub(super) struct Group;

const GROUP: Source = joints("3.7(1)");

impl Clause<BoltGroupInput> for Group {
    fn reference(&self) -> Source {
        GROUP
    }

    fn title(&self) -> &'static str {
        "group of bolts in shear and bearing"
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
        step!(trace, Force, GROUP, "largest bearing resistance in the group";
            f_b_most(n_end, n_inner, f_b_rd_end, f_b_rd_inner) =
            larger(if n_end > 0.0 { f_b_rd_end } else { 0.0 },
                   if n_inner > 0.0 { f_b_rd_inner } else { 0.0 }));
        step!(trace, Force, GROUP, "least bearing resistance in the group";
            f_b_least(n_end, n_inner, f_b_rd_end, f_b_rd_inner) =
            smaller(if n_end > 0.0 { f_b_rd_end } else { f_b_rd_inner },
                    if n_inner > 0.0 { f_b_rd_inner } else { f_b_rd_end }));
        step!(trace, Force, GROUP, "resistance of the group";
        f_gr_rd(n_end, n_inner, f_v_rd, f_b_most, f_b_least, f_b_rd_end, f_b_rd_inner) =
        if f_v_rd >= f_b_most {
            n_end * f_b_rd_end + n_inner * f_b_rd_inner
        } else {
            (n_end + n_inner) * smaller(f_v_rd, f_b_least)
        });
        step!(trace, Ratio, GROUP, "utilisation"; utilisation(f_ed, f_gr_rd) = f_ed / f_gr_rd);
        Checked::new(f_ed, f_gr_rd, Dimension::Force, utilisation)
    }
}
