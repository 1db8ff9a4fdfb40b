//! Rails as beams between the places where the body holds them.

use std::ops::Range;
use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::group::Wrench;
use fishplate_strength::clause::input::{
    ElementHeld, ElementInput, SheetBeside, StressPointInput, WeldInput,
};
use fishplate_strength::clause::{Aspect, Clause, NotChecked};

use super::{Draft, InCase, Setting, condition};
use crate::answer::Tale;
use crate::describe::RailSection;
use crate::design::{BeadAt, BodyId, Form, WeldId};
use crate::frames::{EndHold, RailCut, RailFrame, Segment};

/// The rows of every rail.
pub(super) fn drafts<'a>(setting: Setting<'a>, out: &mut Vec<Draft<'a>>) {
    for (i, body) in setting.design.bodies.iter().enumerate() {
        let Form::Rail { held, .. } = &body.form else { continue };
        let rail = BodyId(i);
        let loaded = setting.path.interfaces.iter().any(|f| f.far == rail);
        if !loaded {
            continue;
        }
        let words = ("rail as a beam: bending and twist between its supports", "rail as a beam");
        if held.len() < 2 {
            out.push(Draft::not_checked(
                None,
                body.name.clone(),
                words,
                "it is not said where the body holds the rail: give at least two places as `held`",
            ));
            for weld in closing_welds(&setting, rail) {
                out.push(Draft::not_checked(
                    None,
                    setting.design.welds[weld.0].name.clone(),
                    ("boxing weld: shear flow of the box", "boxing weld: shear flow"),
                    "the shear flow follows from the rail as a beam, which is not checked",
                ));
            }
            continue;
        }
        let (sets, of_case) = wrenches(&setting, rail);
        match RailFrame::solve(setting.design, rail, &sets) {
            Ok(frame) => {
                let solved = Rc::new(Solved { frame, of_case });
                rows(setting, rail, solved.clone(), out);
                seams(setting, rail, &solved, out);
            }
            Err(why) => {
                out.push(Draft::not_checked(None, body.name.clone(), words, why.to_string()));
            }
        }
    }
}

/// Welds that close a rail with a plate: not in the way of any mount's load, but the box is only
/// one as long as they carry its shear flow.
fn closing_welds(setting: &Setting<'_>, rail: BodyId) -> Vec<WeldId> {
    let design = setting.design;
    let mouth = |id: BodyId| matches!(&design.body(id).form, Form::Plate { mouth: true, on, .. } if on.body == rail);
    (0..design.welds.len())
        .filter(|i| mouth(design.welds[*i].of) && design.welds[*i].to == rail)
        .map(WeldId)
        .collect()
}

/// Shear flow in the seam of a closing plate, N/m: torque over twice the area inside, and all of
/// the shear over the height or width of the box, which is never less than V S / I.
fn seam_flow(cut: &RailCut, segment: &Segment, section: RailSection) -> f64 {
    let f = cut.forces;
    let inside = segment.properties.enclosed_area.unwrap_or(f64::INFINITY);
    f.t.abs() / (2.0 * inside) + f.v_z.abs() / section.height() + f.v_y.abs() / section.width()
}

fn seams<'a>(setting: Setting<'a>, rail: BodyId, solved: &Rc<Solved>, out: &mut Vec<Draft<'a>>) {
    let design = setting.design;
    let body = design.body(rail);
    let Form::Rail { section, .. } = &body.form else { return };
    for id in closing_welds(&setting, rail) {
        let weld = &design.welds[id.0];
        let BeadAt::Fillet { leg, gap, .. } = weld.bead else { continue };
        let plate = design.body(weld.of);
        let (from, to) = plate.walls[0].prism.range(0);
        let share = weld.stitched.map_or(1.0, |(on, off)| on / (on + off));
        for clause in setting.pack.welds.iter().filter(|c| c.aspect() != Aspect::ByDirection) {
            let solved = solved.clone();
            let quality =
                if clause.aspect() == Aspect::SheetBeside { 1.0 } else { weld.quality.share };
            let draft = Draft::by(&setting, *clause, move |case| {
                condition::weldable(body, (from, to))?;
                let (Some(beta_1), Some(beta_2)) = (plate.steel.beta_w, body.steel.beta_w) else {
                    return Err(NotChecked::NoRule {
                        reason: "no weld factor beta_w for one of the steels".to_owned(),
                    });
                };
                Ok(solved
                    .cuts(case)
                    .filter(|cut| cut.x >= from - 1e-9 && cut.x <= to + 1e-9)
                    .map(|cut| {
                        let segment = &solved.frame.segments[cut.segment];
                        let what =
                            || format!("shear flow of {} at x {:.0} mm", body.name, cut.x * 1e3);
                        WeldInput {
                            q_1: 0.0,
                            q_2: 0.0,
                            q_l: seam_flow(cut, segment, *section) / share / quality,
                            z: leg,
                            gap,
                            f_u_1: plate.steel.fu,
                            f_u_2: body.steel.fu,
                            beta_w_1: beta_1,
                            beta_w_2: beta_2,
                            t_sheet: smaller(segment.thickness, plate.walls[0].prism.thickness()),
                            f_y_sheet: smaller(plate.steel.fy, body.steel.fy),
                            beside: SheetBeside::OneSide,
                            f_exx: setting.weld_metal(),
                            origins: setting
                                .solved(case, what)
                                .with("z", || setting.given(format!("{}.leg", weld.path), false))
                                .with("f_u_1", || setting.steel(plate, "fu"))
                                .with("f_u_2", || setting.steel(body, "fu")),
                        }
                    })
                    .collect())
            });
            out.push(
                draft
                    .of(None, weld.name.clone())
                    .called(
                        format!("{}, shear flow of the box: {}", weld.name, clause.title()),
                        "boxing weld: shear flow",
                    )
                    .told(Tale::new(
                        format!("{} is overstressed by the shear flow of the box", weld.name),
                        "the box opens and twists like the open rail it was",
                        "longer stitches or a continuous seam",
                    ))
                    .noted(super::weld::made(weld)),
            );
        }
        super::weld::detailing(setting, None, None, &[weld], out);
    }
}

/// Sets of factored wrenches on a rail: for every case those with bar ends pinned and clamped,
/// for every set of loads it has. Also the places of each case's sets.
fn wrenches(setting: &Setting<'_>, rail: BodyId) -> (Vec<Vec<Wrench>>, Vec<Range<usize>>) {
    let mut sets = Vec::new();
    let mut of_case = Vec::new();
    for case in 0..setting.forces.cases.len() {
        let first = sets.len();
        let loads = setting.forces.cases[case].design.len();
        for hold in EndHold::BOTH {
            for load in 0..loads {
                let set = setting
                    .path
                    .interfaces
                    .iter()
                    .filter(|f| f.far == rail)
                    .filter_map(|f| {
                        setting
                            .carried
                            .across(setting.design, setting.forces, f, case, true)
                            .into_iter()
                            .filter(|(h, _)| h.is_none_or(|h| h == hold))
                            .nth(load)
                            .map(|(_, w)| w)
                    })
                    .collect();
                sets.push(set);
            }
        }
        of_case.push(first..sets.len());
    }
    (sets, of_case)
}

/// A solved rail with the places of each case's sets.
struct Solved {
    frame: RailFrame,
    of_case: Vec<Range<usize>>,
}

impl Solved {
    fn cuts(&self, case: InCase) -> impl Iterator<Item = &RailCut> {
        self.of_case[case.place].clone().flat_map(|set| &self.frame.cuts[set])
    }
}

fn rows<'a>(setting: Setting<'a>, rail: BodyId, frame: Rc<Solved>, out: &mut Vec<Draft<'a>>) {
    let body = setting.design.body(rail);
    let tale = Tale::new(
        format!("{} yields as a beam", body.base),
        "the frame bends between its supports",
        "boxing the rail over the loaded length, plating it, a support nearer to the mount",
    );
    for clause in setting.pack.stress_points {
        let owned = frame.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| points(&setting, rail, &owned, case, *clause))
                .of(None, body.name.clone())
                .called(format!("{} as a beam: {}", body.base, clause.title()), "rail as a beam")
                .told(tale.clone())
                .note("all walls as thick as the least reading near by; doublers are not counted")
                .note("supports hold against moving and twisting, not against bending"),
        );
    }
    for clause in setting.pack.elements {
        if clause.aspect() != Aspect::AfterBuckling {
            continue;
        }
        let owned = frame.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| Ok(flanges(&setting, rail, &owned, case)))
                .of(None, body.name.clone())
                .called(
                    format!("flange of {}: {}", body.base, clause.title()),
                    "rail flange: buckling",
                )
                .told(Tale::new(
                    format!("a flange of {} buckles", body.base),
                    "the rail folds",
                    "boxing the rail, or plating the flange",
                )),
        );
    }
}

fn points(
    setting: &Setting<'_>,
    rail: BodyId,
    solved: &Solved,
    case: InCase,
    clause: &dyn Clause<StressPointInput>,
) -> Result<Vec<StressPointInput>, NotChecked> {
    let body = setting.design.body(rail);
    let mut list = Vec::new();
    for cut in solved.cuts(case) {
        let segment = &solved.frame.segments[cut.segment];
        let p = &segment.properties;
        let f = cut.forces;
        // Half the area resists shear each way: the walls that lie along it.
        let tau_shear = (f.v_y.abs() + f.v_z.abs()) / (p.area / 2.0);
        let tau = tau_shear + f.t.abs() / p.torsion.modulus;
        let geometry = || {
            Provenance::Geometry(format!(
                "{} from x {:.0} to {:.0} mm, {:.2} mm{}",
                body.name,
                segment.from * 1e3,
                segment.to * 1e3,
                segment.thickness * 1e3,
                segment
                    .closed_by
                    .map_or(String::new(), |t| format!(", closed by {:.1} mm", t * 1e3)),
            ))
        };
        let of_section = setting
            .solved(case, || format!("{} at x {:.0} mm", body.name, cut.x * 1e3))
            .with("a", geometry)
            .with("i_x", geometry)
            .with("i_y", geometry)
            .with("i_xy", geometry)
            .with("f_y", || setting.steel(body, "fy"));
        for point in &p.points {
            let origins = of_section
                .clone()
                .with("x", || Provenance::Geometry(point.name.clone()))
                .with("y", || Provenance::Geometry(point.name.clone()));
            list.push(StressPointInput {
                n_ed: f.n,
                m_x: f.m_y,
                m_y: -f.m_z,
                a: p.area,
                i_x: p.i_y,
                i_y: p.i_z,
                i_xy: p.i_yz * segment.left,
                x: point.y * segment.left,
                y: point.z,
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
        open_and_twisted(
            setting,
            segment,
            &list[list.len() - p.points.len()..],
            clause,
            f.t,
            cut.x,
        )?;
    }
    Ok(list)
}

/// An open rail that would yield by free torsion alone may still hold by warping: no rule of hand
/// statics can be stood behind there.
fn open_and_twisted(
    setting: &Setting<'_>,
    segment: &Segment,
    inputs: &[StressPointInput],
    clause: &dyn Clause<StressPointInput>,
    torque: f64,
    x: f64,
) -> Result<(), NotChecked> {
    if segment.closed {
        return Ok(());
    }
    for input in inputs {
        let mut trace = fishplate_quantity::Trace::off();
        if clause.evaluate(input, setting.factors, &mut trace)?.utilisation.exceeds() {
            return Err(NotChecked::NoRule {
                reason: format!(
                    "the open rail is twisted by {:.0} N m at x {:.0} mm: how much warping helps is \
                     for the plate level; box it there or support it nearer",
                    torque.abs(),
                    x * 1e3
                ),
            });
        }
    }
    Ok(())
}

/// The flanges in compression.
fn flanges(
    setting: &Setting<'_>,
    rail: BodyId,
    solved: &Solved,
    case: InCase,
) -> Vec<ElementInput> {
    let body = setting.design.body(rail);
    let Form::Rail { section, .. } = &body.form else { return Vec::new() };
    let mut list = Vec::new();
    for cut in solved.cuts(case) {
        let segment = &solved.frame.segments[cut.segment];
        let p = &segment.properties;
        let f = cut.forces;
        let t = segment.thickness;
        let i_yz = p.i_yz * segment.left;
        let det = p.i_y * p.i_z - i_yz * i_yz;
        let (m_x, m_y) = (f.m_y, -f.m_z);
        let press = p
            .points
            .iter()
            .map(|point| {
                let (x, y) = (point.y * segment.left, point.z);
                let sigma = f.n / p.area
                    + ((m_x * p.i_z - m_y * i_yz) * y + (m_y * p.i_y - m_x * i_yz) * x) / det;
                -sigma
            })
            .fold(0.0, larger);
        let origins = setting
            .solved(case, || format!("{} at x {:.0} mm", body.name, cut.x * 1e3))
            .with("t", || Provenance::Geometry(body.name.clone()))
            .with("b", || Provenance::Given(format!("{}.section", body.path)))
            .with("f_y", || setting.steel(body, "fy"));
        list.push(ElementInput {
            sigma_ed: press,
            b: larger(section.width() - smaller(t, section.width() / 2.0), t),
            t,
            psi: 1.0,
            f_y: body.steel.fy,
            held: if segment.closed { ElementHeld::BothEdges } else { ElementHeld::OneEdge },
            origins,
        });
    }
    list
}
