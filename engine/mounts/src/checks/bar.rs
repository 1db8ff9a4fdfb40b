//! A bar across the car, cut at its ends, at its loads and in the middle.

use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_strength::clause::NotChecked;
use fishplate_strength::clause::input::{
    AngleStrutInput, BucklingCurve, EndsSway, MemberInput, MomentDiagram, Shape, StressPointInput,
};

use super::{Draft, InCase, Setting};
use crate::answer::Tale;
use crate::describe::BarShape;
use crate::design::{Body, Form};
use crate::frames::{BarCut, EndHold};

/// The rows of every bar that joins both sides.
pub(super) fn drafts<'a>(setting: Setting<'a>, out: &mut Vec<Draft<'a>>) {
    for (number, bar) in setting.path.bars.iter().enumerate() {
        let body = setting.design.body(bar.body);
        yielding(setting, number, body, out);
        buckling(setting, number, body, out);
    }
}

/// Every cut of the bar under both bounds of its ends.
fn cuts(setting: &Setting<'_>, number: usize, case: InCase) -> Vec<BarCut> {
    let frame = &setting.carried.bars[number];
    let sets = setting.carried.sets(case.place, true);
    sets.flat_map(|set| EndHold::BOTH.map(|hold| frame.cuts(hold, set)))
        .flat_map(|cuts| cuts.iter().copied())
        .collect()
}

fn yielding<'a>(setting: Setting<'a>, number: usize, body: &'a Body, out: &mut Vec<Draft<'a>>) {
    let frame = &setting.carried.bars[number];
    let section = &frame.section;
    let inputs = move |torsion: bool, case: InCase| -> Result<Vec<StressPointInput>, NotChecked> {
        let p = &section.properties;
        let mut list = Vec::new();
        for cut in cuts(&setting, number, case) {
            let f = cut.forces;
            let area = p.area / 2.0;
            let tau_shear = (f.v_y.abs() + f.v_z.abs()) / area;
            let tau = if torsion { tau_shear + f.t.abs() / p.torsion.modulus } else { tau_shear };
            for point in &p.points {
                let geometry = || Provenance::Geometry(body.name.clone());
                let what = || format!("{}, cut at y {:.0} mm", body.name, cut.y * 1e3);
                let origins = setting
                    .solved(case, what)
                    .with("a", geometry)
                    .with("i_x", geometry)
                    .with("i_y", geometry)
                    .with("i_xy", geometry)
                    .with("x", || Provenance::Geometry(point.name.clone()))
                    .with("y", || Provenance::Geometry(point.name.clone()))
                    .with("f_y", || setting.steel(body, "fy"));
                list.push(StressPointInput {
                    n_ed: f.n,
                    // Frame signs: M_y pulls at +z, M_z pulls at -y.
                    m_x: f.m_y,
                    m_y: -f.m_z,
                    a: p.area,
                    i_x: p.i_y,
                    i_y: p.i_z,
                    i_xy: section.i_yz(),
                    x: point.y * section.forward,
                    y: point.z * section.up,
                    tau_ed: tau,
                    f_y: body.steel.fy,
                    t_ed: None,
                    l_t: None,
                    i_t: None,
                    i_w: None,
                    omega: None,
                    f_n_a: None,
                    f_n_x: None,
                    f_n_y: None,
                    origins,
                });
            }
        }
        Ok(list)
    };
    for clause in setting.pack.stress_points {
        out.push(
            Draft::by(&setting, *clause, move |case| inputs(true, case))
                .of(None, body.name.clone())
                .called(
                    format!(
                        "{}: bending about principal axes with torsion, {}",
                        body.base,
                        clause.title()
                    ),
                    "crossmember: bending, twist",
                )
                .told(Tale::new(
                    format!("{} yields", body.base),
                    "the crossmember sags or twists and both rear mounts move",
                    "a heavier angle, or a closed tube, which is far stiffer against twist",
                ))
                .note(format!("section: {}", section.basis))
                .note(
                    "torsion free to warp (Saint-Venant); ends pinned and clamped, the worse taken",
                )
                .or_by(
                    &setting,
                    *clause,
                    ("bending alone", "an open bar twists when the load misses its shear centre"),
                    move |case| inputs(false, case),
                ),
        );
    }
}

/// Axial pressure between both ends, with bending where the pack has a rule for the shape.
fn buckling<'a>(setting: Setting<'a>, number: usize, body: &'a Body, out: &mut Vec<Draft<'a>>) {
    let Form::Bar { shape, .. } = &body.form else { return };
    let frame = &setting.carried.bars[number];
    let press = move |case: InCase| {
        cuts(&setting, number, case)
            .iter()
            .map(|c| -c.forces.n)
            .fold(0.0, fishplate_quantity::algebra::larger)
    };
    if let BarShape::Angle { leg_a, leg_b, thickness: t } = *shape {
        let ask = move |case: InCase| -> Result<Vec<AngleStrutInput>, NotChecked> {
            let p = &frame.section.properties;
            let geometry = || Provenance::Geometry(body.name.clone());
            let origins = ["l", "a", "i_u", "i_v", "i_y", "h", "b", "t"]
                .into_iter()
                .fold(setting.solved(case, || &body.name), |o, symbol| o.with(symbol, geometry))
                .with("f_y", || setting.steel(body, "fy"));
            Ok(vec![AngleStrutInput {
                n_ed: press(case),
                l: frame.length,
                a: p.area,
                i_u: p.i_max,
                i_v: p.i_min,
                i_y: fishplate_quantity::algebra::smaller(p.i_y, p.i_z),
                h: fishplate_quantity::algebra::larger(leg_a, leg_b),
                b: fishplate_quantity::algebra::smaller(leg_a, leg_b),
                t,
                f_y: body.steel.fy,
                b_joined: None,
                origins,
            }])
        };
        for clause in setting.pack.angle_struts {
            out.push(
                Draft::by(&setting, *clause, ask)
                    .of(None, body.name.clone())
                    .called(format!("{}: {}", body.base, clause.title()), "crossmember: strut")
                    .told(Tale::new(
                        format!("{} buckles", body.base),
                        "it bows out",
                        "a heavier angle",
                    ))
                    .note("bending beside the pressure is in the row before"),
            );
        }
        return;
    }
    let kind = match shape {
        BarShape::Box { .. } => Shape::RectangularTube,
        BarShape::Tube { .. } => Shape::RoundTube,
        BarShape::Flat { .. } => Shape::Rectangle,
        BarShape::Angle { .. } => Shape::Angle,
    };
    let (h, b, t) = match *shape {
        BarShape::Box { height, width, wall } => (height, width, wall),
        BarShape::Tube { diameter, wall } => (diameter, diameter, wall),
        BarShape::Flat { height, width } => {
            (height, width, fishplate_quantity::algebra::smaller(height, width))
        }
        BarShape::Angle { leg_a, leg_b, thickness } => (leg_a, leg_b, thickness),
    };
    let ask = Rc::new(move |case: InCase| -> Result<Vec<MemberInput>, NotChecked> {
        let p = &frame.section.properties;
        let (a_v_y, a_v_z) = frame.section.shape.plastic_shear_areas();
        let list = cuts(&setting, number, case);
        let most = |of: &dyn Fn(&BarCut) -> f64| {
            list.iter().map(|c| of(c).abs()).fold(0.0, fishplate_quantity::algebra::larger)
        };
        let (m_y, m_z) = (most(&|c| c.forces.m_y), most(&|c| c.forces.m_z));
        Ok(list
            .iter()
            .map(|cut| {
                let f = cut.forces;
                let what = || format!("{}, cut at y {:.0} mm", body.name, cut.y * 1e3);
                MemberInput {
                    n_ed: f.n,
                    v_y_ed: f.v_y,
                    v_z_ed: f.v_z,
                    // Buckling asks for the largest along the member.
                    m_y_ed: m_y,
                    m_z_ed: m_z,
                    t_ed: f.t,
                    h,
                    b,
                    t,
                    a: p.area,
                    a_v_y,
                    a_v_z,
                    i_y: p.i_y,
                    i_z: p.i_z,
                    i_t: p.torsion.constant,
                    w_el_y: p.w_el_y(),
                    w_el_z: p.w_el_z(),
                    f_y: body.steel.fy,
                    w_pl_y: Some(p.w_pl_y),
                    w_pl_z: Some(p.w_pl_z),
                    c_t: Some(p.torsion.modulus),
                    l_cr_y: Some(frame.length),
                    l_cr_z: Some(frame.length),
                    l_lt: Some(frame.length),
                    c_1: Some(1.0),
                    psi_y: Some(1.0),
                    psi_z: Some(1.0),
                    l_cr_t: Some(frame.length),
                    i_w: None,
                    y_0: None,
                    z_0: None,
                    c_2: None,
                    z_g: None,
                    omega: None,
                    b_ed: None,
                    tau_w: None,
                    r_0: None,
                    r_z: None,
                    beta_w: None,
                    f_u: None,
                    a_net: None,
                    u_lag: None,
                    a_fg: None,
                    a_fn: None,
                    shape: kind,
                    // Cold-formed hollow sections and solid bars: EN 1993-1-1, Table 6.2.
                    curve: BucklingCurve::C,
                    ends: EndsSway::Held,
                    diagram_y: MomentDiagram::EndMoments,
                    diagram_z: MomentDiagram::EndMoments,
                    origins: setting.solved(case, what).with("f_y", || setting.steel(body, "fy")),
                }
            })
            .collect())
    });
    for clause in setting.pack.members {
        let ask = ask.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| ask(case))
                .of(None, body.name.clone())
                .called(
                    format!("{}: {}", body.base, clause.title()),
                    format!("crossmember: {}", clause.title()),
                )
                .told(Tale::new(
                    format!("{} gives way", body.base),
                    "the crossmember bends",
                    "a heavier section",
                )),
        );
    }
}
