//! Rails as beams between the places where the body holds them.

use std::ops::Range;
use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::group::Wrench;
use fishplate_strength::clause::input::{ElementHeld, ElementInput, StressPointInput};
use fishplate_strength::clause::{Clause, NotChecked};

use super::{Draft, Setting};
use crate::answer::Tale;
use crate::design::{BodyId, Form};
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
            continue;
        }
        let (sets, of_case) = wrenches(&setting, rail);
        match RailFrame::solve(setting.design, rail, &sets) {
            Ok(frame) => rows(setting, rail, Rc::new(Solved { frame, of_case }), out),
            Err(why) => {
                out.push(Draft::not_checked(None, body.name.clone(), words, why.to_string()));
            }
        }
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
    fn cuts(&self, case: usize) -> impl Iterator<Item = &RailCut> {
        self.of_case[case].clone().flat_map(|set| &self.frame.cuts[set])
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
        if !clause.title().contains("after buckling") {
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
    case: usize,
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
        for point in &p.points {
            let what = format!("{} at x {:.0} mm", body.name, cut.x * 1e3);
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
            let origins = setting
                .solved(case, &what)
                .with("a", geometry())
                .with("i_x", geometry())
                .with("i_y", geometry())
                .with("i_xy", geometry())
                .with("x", Provenance::Geometry(point.name.clone()))
                .with("y", Provenance::Geometry(point.name.clone()))
                .with("f_y", setting.steel(body, "fy"));
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
fn flanges(setting: &Setting<'_>, rail: BodyId, solved: &Solved, case: usize) -> Vec<ElementInput> {
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
            .solved(case, &format!("{} at x {:.0} mm", body.name, cut.x * 1e3))
            .with("t", Provenance::Geometry(body.name.clone()))
            .with("b", Provenance::Given(format!("{}.section", body.path)))
            .with("f_y", setting.steel(body, "fy"));
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
