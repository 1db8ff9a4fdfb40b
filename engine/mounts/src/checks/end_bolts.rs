//! Bolts of an interface that has no weld: a bolted end plate on a wall.

use std::cell::OnceCell;
use std::rc::Rc;

use fishplate_quantity::algebra::{larger, positive, smaller};
use fishplate_quantity::{Provenance, Trace};
use fishplate_solver::group::{Bed, Bolt, BoltGroup, Edges, JointAxes, Wrench};
use fishplate_strength::clause::input::{
    BoltInput, Lap, Prying, TStubInput, Tightening, WallInput,
};
use fishplate_strength::clause::{Applicability, Aspect, Clause, NotChecked};

use super::bush_bolt::{Kit, bolt_input, is_other_slip, no_preload, tightening};
use super::fatigue::{BoltStates, Bolted, Loads, range};
use super::per_case::PerCase;
use super::wall::Foot;
use super::{Draft, InCase, Second, Setting, ThicknessFrom, ends, plates, preload_loss, thickness};
use crate::answer::{RowKind, Tale};
use crate::design::{Body, BodyId, BoltAt, BoltId, Design, Form, Passed, Vec3, across};
use crate::load_path::Interface;
use crate::plate::result::{BoltForces, BoltOf, CaseForces};

/// Stiffness of the whole bed over that of one bolt (own choice; the result moves little with it).
const BED_OVER_BOLT: f64 = 40.0;

/// The face of a bolted joint.
struct Joint<'a> {
    bolts: &'a BoltAt,
    axes: JointAxes,
    group: BoltGroup,
    edges: Edges,
    bed: Bed,
    kit: Kit,
    /// The wall next to the cut, then the attached plate.
    plies: [Ply<'a>; 2],
    /// Distances of each bolt to the nearest one along both axes of the face, m.
    pitches: Vec<[Option<f64>; 2]>,
    lap: Lap,
    /// Of every bound of a case: factored, in service.
    shares: PerCase<Vec<[Shares; 2]>>,
    /// Least preload after all losses, N.
    left: OnceCell<Result<f64, NotChecked>>,
}

/// A ply next to the cut.
struct Ply<'a> {
    body: &'a Body,
    /// What bears the bolts, m.
    t: (f64, ThicknessFrom<'a>),
    /// Distance of each bolt to the nearest edge, m.
    edges: Vec<f64>,
}

/// Shear and tension of each bolt, unfactored or factored: joint axes x, y and tension.
struct Shares {
    shear: Vec<[f64; 2]>,
    tension: Vec<f64>,
    /// Sum of tensions by the pivot rule, N: what pulls the wall.
    pull: f64,
}

fn joint<'a>(
    setting: &Setting<'a>,
    interface: &Interface,
    bolts: &'a BoltAt,
) -> Result<Joint<'a>, NotChecked> {
    let lost =
        |e: fishplate_solver::group::GroupError| NotChecked::NoRule { reason: e.to_string() };
    let kit = Kit::of(setting, bolts)?;
    let (near, far) = (passed(bolts, interface, true)?, passed(bolts, interface, false)?);
    let design = setting.design;
    let near_up = near.low + near.high > far.low + far.high;
    let level = if near_up { far.high } else { far.low };
    // x and y in the face, z from the held wall into the attached plate.
    let [u, v] = across(bolts.axis);
    let unit = |axis: usize, sign: f64| {
        let mut e = Vec3::zeros();
        e[axis] = sign;
        e
    };
    let z = unit(bolts.axis, if near_up { 1.0 } else { -1.0 });
    let x = unit(u, 1.0);
    let mut origin = bolts.at.iter().sum::<Vec3>() / count(bolts.at.len());
    origin[bolts.axis] = level;
    let axes = JointAxes::new(origin, x, z)
        .ok_or_else(|| NotChecked::NoRule { reason: "the joint has no plane".to_owned() })?;
    let local = |p: Vec3| axes.point_in(p);
    let area = kit.thread.a_s;
    let group = BoltGroup::new(
        bolts
            .at
            .iter()
            .map(|at| {
                let p = local(*at);
                Bolt { x: p.x, y: p.y, area }
            })
            .collect(),
    )
    .map_err(lost)?;
    let plate = &design.body(near.body).walls[near.wall].prism;
    let wall = &design.body(far.body).walls[far.wall].prism;
    let overlap = |axis: usize| {
        let (a, b) = (plate.range(axis), wall.range(axis));
        (larger(a.0, b.0), smaller(a.1, b.1))
    };
    let (ru, rv) = (overlap(u), overlap(v));
    let corner = |a: f64, b: f64| {
        let mut p = origin;
        p[u] = a;
        p[v] = b;
        local(p)
    };
    let (c1, c2) = (corner(ru.0, rv.0), corner(ru.1, rv.1));
    let edges = Edges {
        x_min: smaller(c1.x, c2.x),
        x_max: larger(c1.x, c2.x),
        y_min: smaller(c1.y, c2.y),
        y_max: larger(c1.y, c2.y),
    };
    let (width, height) = (edges.x_max - edges.x_min, edges.y_max - edges.y_min);
    let centre = [(edges.x_min + edges.x_max) / 2.0, (edges.y_min + edges.y_max) / 2.0];
    let bed = Bed::rectangle(centre, [width, height], BED_OVER_BOLT * area / (width * height))
        .map_err(lost)?;
    let ply = |passed: Passed, t: (f64, ThicknessFrom<'a>)| {
        let body = design.body(passed.body);
        let prism = &body.walls[passed.wall].prism;
        let edges = bolts.at.iter().map(|at| prism.edge_distance([at[u], at[v]])).collect();
        Ply { body, t, edges }
    };
    let first = bolts.at[0].x;
    let plies = [
        ply(far, far_ply(setting, interface, bolts, far)),
        ply(near, thickness(design.body(near.body), near.wall, (first, first))),
    ];
    let nearest = |at: &Vec3, axis: usize| {
        bolts
            .at
            .iter()
            .map(|p| (p[axis] - at[axis]).abs())
            .filter(|d| *d > 1e-6)
            .fold(None, |least: Option<f64>, d| Some(least.map_or(d, |l| smaller(l, d))))
    };
    let pitches = bolts.at.iter().map(|at| [nearest(at, u), nearest(at, v)]).collect();
    let one_row = |axis: usize| bolts.at.iter().all(|p| (p[axis] - bolts.at[0][axis]).abs() < 1e-6);
    let lap = if one_row(u) || one_row(v) { Lap::SingleOneRow } else { Lap::Other };
    let shares = PerCase::of(setting.forces.cases.len());
    let left = OnceCell::new();
    Ok(Joint { bolts, axes, group, edges, bed, kit, plies, pitches, lap, shares, left })
}

impl Joint<'_> {
    /// Shares of every bolt under every bound of a case: factored, in service.
    fn in_case(
        &self,
        setting: &Setting<'_>,
        interface: &Interface,
        case: usize,
    ) -> Result<&[[Shares; 2]], NotChecked> {
        let found = self.shares.get(case, || {
            let across = |factored| {
                setting.carried.across(setting.design, setting.forces, interface, case, factored)
            };
            // Where stops close there are more factored sets than service ones.
            across(true)
                .iter()
                .zip(across(false).iter().cycle())
                .map(|((_, ed), (_, ser))| Ok([shares(self, ed)?, shares(self, ser)?]))
                .collect()
        });
        found.map(Vec::as_slice)
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}

/// Tension of every bolt of an interface in a factored case, N; the worse of two bounds.
pub(crate) fn tension(
    setting: &Setting<'_>,
    interface: &Interface,
    id: BoltId,
    case: usize,
) -> Option<Vec<f64>> {
    let bolts = &setting.design.bolts[id.0];
    let joint = joint(setting, interface, bolts).ok()?;
    let mut most = vec![0.0; bolts.at.len()];
    for (_, w) in setting.carried.across(setting.design, setting.forces, interface, case, true) {
        for (most, own) in most.iter_mut().zip(shares(&joint, &w).ok()?.tension) {
            *most = larger(*most, own);
        }
    }
    Some(most)
}

/// The wall that the bolts pass next to the cut, on the near or far side.
fn passed(bolts: &BoltAt, interface: &Interface, near: bool) -> Result<Passed, NotChecked> {
    bolts
        .through
        .windows(2)
        .find_map(|w| {
            let sides = [interface.side.contains(&w[0].body), interface.side.contains(&w[1].body)];
            match (sides, near) {
                ([true, false], true) | ([false, true], false) => Some(w[0]),
                ([true, false], false) | ([false, true], true) => Some(w[1]),
                _ => None,
            }
        })
        .ok_or_else(|| NotChecked::NoRule { reason: "the bolts do not cross this cut".to_owned() })
}

fn shares(joint: &Joint<'_>, wrench: &Wrench) -> Result<Shares, NotChecked> {
    let lost =
        |e: fishplate_solver::group::GroupError| NotChecked::NoRule { reason: e.to_string() };
    let w = wrench.in_axes(&joint.axes);
    let shear = joint.group.shear(&w).map_err(lost)?;
    let pivot = joint.group.tension_about_edge(&w, &joint.edges).map_err(lost)?;
    let bed = joint.bed.with_bolts(&joint.group, 1.0, &w);
    let tension = pivot
        .iter()
        .enumerate()
        .map(|(i, p)| match &bed {
            Ok(answer) => larger(p.total, positive(answer.tension[i])),
            Err(_) => p.total,
        })
        .collect();
    Ok(Shares { shear, tension, pull: pivot.iter().map(|p| p.total).sum() })
}

/// The ply next to the cut on the rail's side, with all that is welded to it and passed as well:
/// thickness and where that of a rail comes from.
fn far_ply<'a>(
    setting: &Setting<'a>,
    interface: &Interface,
    bolts: &'a BoltAt,
    first: Passed,
) -> (f64, ThicknessFrom<'a>) {
    let mut total = 0.0;
    let mut from = ThicknessFrom::Joint(&bolts.name);
    for p in bolts.through.iter().filter(|p| !interface.side.contains(&p.body)) {
        let body = setting.design.body(p.body);
        if matches!(body.form, Form::Sleeve { .. }) || !welded(setting, p, &first) {
            break;
        }
        let (t, source) = thickness(body, p.wall, along(bolts));
        total += t;
        if body.is_rail() {
            from = source;
        }
    }
    (total, from)
}

/// The rail's wall that the bolts pull: the farthest they pass; with the thickness of plates
/// welded to it that they pass as well. Nothing where they pass no rail.
fn pulled<'a>(
    setting: &Setting<'a>,
    interface: &Interface,
    bolts: &BoltAt,
) -> Option<(Passed, f64, ThicknessFrom<'a>, f64)> {
    let far = || bolts.through.iter().filter(|p| !interface.side.contains(&p.body));
    let wall = far().filter(|p| setting.design.body(p.body).is_rail()).reduce(|a, b| {
        let distance = |p: &Passed| ((p.low + p.high) / 2.0 - interface.about[bolts.axis]).abs();
        if distance(b) > distance(a) { b } else { a }
    })?;
    let (t, from) = thickness(setting.design.body(wall.body), wall.wall, along(bolts));
    let plates = far()
        .filter(|p| p.body != wall.body && welded(setting, p, wall) && touch(p, wall))
        .map(|p| p.high - p.low)
        .sum();
    Some((*wall, t, from, plates))
}

pub(super) fn touch(a: &Passed, b: &Passed) -> bool {
    (a.high - b.low).abs() < 1e-6 || (b.high - a.low).abs() < 1e-6
}

pub(super) fn welded(setting: &Setting<'_>, a: &Passed, b: &Passed) -> bool {
    a.body == b.body
        || setting.design.welds.iter().any(|w| {
            w.throat().is_some()
                && ((w.of == a.body && w.to == b.body) || (w.to == a.body && w.of == b.body))
        })
}

/// Extent of a bolt pattern along the rail, m.
pub(super) fn along(bolts: &BoltAt) -> (f64, f64) {
    let at = bolts.at[0].x;
    bolts.at.iter().fold((at, at), |(a, b), p| (smaller(a, p.x), larger(b, p.x)))
}

/// The rows of an interface's bolts.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    if !interface.welds.is_empty() {
        return;
    }
    for id in &interface.bolts {
        let bolts = &setting.design.bolts[id.0];
        match joint(&setting, interface, bolts) {
            Ok(found) => {
                let found = Rc::new(found);
                rows(setting, mount, (interface, *id), found.clone(), out);
                repeated(setting, mount, interface, found, out);
            }
            Err(why) => out.push(Draft::not_checked(
                Some(mount),
                bolts.name.clone(),
                ("bolted joint", "bolted joint"),
                why.to_string(),
            )),
        }
    }
}

/// The bolts under the loads that come back.
fn repeated<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    joint: Rc<Joint<'a>>,
    out: &mut Vec<Draft<'a>>,
) {
    let bolts = joint.bolts;
    let described = &setting.project.bolts[bolts.index];
    let (d, a_s) = (joint.kit.thread.d, joint.kit.thread.a_s);
    let states = Box::new(move |setting: &Setting<'a>, loads: &Loads<'_>| {
        let mut list = Vec::new();
        for ends in loads.across(setting, interface) {
            let [upper, lower] = &ends;
            let (forth, back) = (range(upper, lower), range(lower, upper));
            let (upper, lower) = (shares(&joint, upper)?, shares(&joint, lower)?);
            let (forth, back) = (shares(&joint, &forth)?, shares(&joint, &back)?);
            list.extend((0..bolts.at.len()).map(|i| {
                // A moment that turns round pulls the bolt at both ends of the swing and not in
                // between. Tension never grows by more than what the added load alone would pull.
                let most = larger(upper.tension[i], lower.tension[i]);
                let swing = smaller(most, larger(forth.tension[i], back.tension[i]));
                BoltStates { pull: [most, most - swing], shear: [upper.shear[i], lower.shear[i]] }
            }));
        }
        Ok(list)
    });
    let bolted = Bolted {
        name: bolts.name.clone(),
        label: format!("end bolts, {} {}", described.thread, described.class),
        d,
        a_s,
        preloaded: no_preload(tightening(&setting, bolts)).is_none(),
        states,
    };
    super::fatigue::bolts(setting, mount, bolted, out);
}

/// One input a bolt and bound, for the near plate or the far wall.
fn inputs<'a>(
    setting: &Setting<'a>,
    interface: &Interface,
    joint: &Joint<'a>,
    (near_plate, tightening, case): (bool, Tightening, InCase),
) -> Result<Vec<BoltInput>, NotChecked> {
    let bolts = joint.bolts;
    let ply = &joint.plies[usize::from(near_plate)];
    let slips = setting.may_slip(case.place);
    let in_service = |force: f64| if slips { 0.0 } else { force };
    let mut list = Vec::new();
    for [ed, ser] in joint.in_case(setting, interface, case.place)? {
        for i in 0..bolts.at.len() {
            // The nearest edge stands for both directions: the force turns with the case.
            let edge = Some(ply.edges[i]);
            let [p_1, p_2] = joint.pitches[i];
            list.push(BoltInput {
                f_1_ed: ed.shear[i][0],
                f_2_ed: ed.shear[i][1],
                f_t_ed: ed.tension[i],
                f_1_ser: in_service(ser.shear[i][0]),
                f_2_ser: in_service(ser.shear[i][1]),
                f_t_ser: in_service(ser.tension[i]),
                e_1: edge,
                e_2: edge,
                p_1,
                p_2,
                lap: joint.lap,
                tightening,
                ..bolt_input(setting, bolts, &joint.kit, (ply.body, ply.t), case)
            });
        }
    }
    Ok(list)
}

fn rows<'a>(
    setting: Setting<'a>,
    mount: usize,
    (interface, id): (&'a Interface, BoltId),
    joint: Rc<Joint<'a>>,
    out: &mut Vec<Draft<'a>>,
) {
    let bolts = joint.bolts;
    let described = &setting.project.bolts[bolts.index];
    let label = format!("{} × {} {}", bolts.at.len(), described.thread, described.class);
    let torque = tightening(&setting, bolts);
    for clause in setting.pack.bolts {
        let title = clause.title();
        if is_other_slip(clause.aspect(), torque) {
            continue;
        }
        let plies: &[bool] = match clause.aspect() {
            Aspect::Bearing | Aspect::Punching => &[true, false],
            _ => &[false],
        };
        for near_plate in plies.iter().copied() {
            let owned = joint.clone();
            let slip = matches!(clause.aspect(), Aspect::Slip | Aspect::ControlledSlip);
            let (where_to, in_short) = match (plies.len(), near_plate) {
                (2, true) => (", end plate", ", plate"),
                (2, false) => (", wall", ", wall"),
                _ => ("", ""),
            };
            // A head pulls through the wall it sits on, not through what lies beyond.
            let seat = (!near_plate && clause.aspect() == Aspect::Punching)
                .then(|| pulled(&setting, interface, bolts))
                .flatten();
            let mut draft = Draft::by(&setting, *clause, move |case| {
                let mut list = inputs(&setting, interface, &owned, (near_plate, torque, case))?;
                if let Some((_, t, ..)) = seat {
                    for input in &mut list {
                        input.t = t;
                    }
                }
                Ok(list)
            })
            .of(Some(mount), bolts.name.clone())
            .called(
                format!("end bolts, {label}{where_to}: {title}"),
                if slip {
                    "end bolts: faces slip".to_owned()
                } else {
                    format!("end bolts{in_short}: {}", clause.short())
                },
            )
            .at(interface);
            if matches!(clause.aspect(), Aspect::Tension | Aspect::ShearAndTension) {
                let owned = joint.clone();
                draft = draft.seconded(pried(setting, interface, id, *clause, owned, torque));
            }
            if slip {
                draft.blocked = no_preload(torque);
                draft = draft.note(preload_loss::NOT_COUNTED);
            }
            if clause.aspect() == Aspect::Slip {
                let owned = joint.clone();
                draft = draft.or_by(
                    &setting,
                    *clause,
                    (
                        "slip by what embedding and creep of paint leave of the preload",
                        "upper ends of usual losses, as if the bolts were never tightened again",
                    ),
                    move |case| {
                        let left = owned
                            .left
                            .get_or_init(|| preload_loss::least(&setting, bolts, &owned.kit))
                            .clone()?;
                        let mut list =
                            inputs(&setting, interface, &owned, (near_plate, torque, case))?;
                        for input in &mut list {
                            input.alpha_a = Some(owned.kit.f_m / left);
                        }
                        Ok(list)
                    },
                );
            }
            if slip && draft.kind == RowKind::Serviceability {
                draft.tale = Tale::new(
                    format!("the clamped faces of {} slip", bolts.name),
                    "the joint slides until the bolts bear; shear and bearing must then hold",
                    "bare faces, more or larger bolts, tightening with less scatter",
                );
            } else {
                draft.tale = Tale::new(
                    format!("{} are overloaded", bolts.name),
                    "the end of the bar comes loose",
                    "more bolts further apart, a stronger class, a backing plate welded to the wall",
                );
            }
            out.push(draft);
        }
    }
    for clause in setting.pack.bolt_detailing {
        if clause.aspect() == Aspect::Largest {
            continue;
        }
        let owned = joint.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| {
                let mut list = inputs(&setting, interface, &owned, (true, torque, case))?;
                list.extend(inputs(&setting, interface, &owned, (false, torque, case))?);
                Ok(list)
            })
            .of(Some(mount), bolts.name.clone())
            .called(
                format!("end bolts: {}", clause.title()),
                format!("end bolts: {}", clause.short()),
            )
            .at(interface)
            .without_loads(),
        );
    }
    let loads = {
        let joint = joint.clone();
        move |case: InCase| inputs(&setting, interface, &joint, (true, torque, case))
    };
    let place = ends::Place { mount, bolts, interface: Some(interface), who: "end bolts" };
    ends::drafts(setting, place, &joint.kit, loads, out);
    end_plate(setting, mount, interface, &joint, out);
    pulled_wall(setting, mount, interface, joint, out);
}

/// A bolt in tension as the plate level has it: pulled and pried.
fn pried<'a>(
    setting: Setting<'a>,
    interface: &'a Interface,
    id: BoltId,
    clause: &'static dyn Clause<BoltInput>,
    joint: Rc<Joint<'a>>,
    torque: Tightening,
) -> Option<Second<'a>> {
    let solved = match setting.plates?.of_joints(interface)? {
        Ok(solved) => solved,
        Err(why) => return Some(Second::not_judged(why)),
    };
    let tension = move |set: &CaseForces, number: usize| {
        let own = |(of, _): &(&BoltOf, &BoltForces)| of.bolt == id && of.number == number;
        solved.contents.bolts.iter().zip(&set.bolts).find(own).map(|(_, forces)| forces.tension)
    };
    let count = joint.bolts.at.len();
    Some(Second::by(
        &setting,
        "tension of every bolt with prying, shear by hand statics",
        clause,
        solved,
        move |_, mesh, case| {
            let mut list = Vec::new();
            let by_hand = inputs(&setting, interface, &joint, (false, torque, case))?;
            for set in &mesh.factored[case.place] {
                // Hand statics has one input a bolt and bound; the plates have one answer.
                for (place, input) in by_hand.iter().enumerate() {
                    let Some(tension) = tension(set, place % count) else {
                        let reason = "the bolt is not in the plate model".to_owned();
                        return Err(NotChecked::NoRule { reason });
                    };
                    list.push(BoltInput { f_t_ed: tension, ..input.clone() });
                }
            }
            Ok(list)
        },
        |worse, _| {
            if worse {
                "prying: the plate bends and levers its bolts".to_owned()
            } else {
                "load path through another part: the faces press, and only what opens them pulls"
                    .to_owned()
            }
        },
    ))
}

/// The attached plate bent between its bolts and what is welded to it: each bolt with its mirror
/// image as an isolated row of a T-stub.
fn end_plate<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    joint: &Rc<Joint<'a>>,
    out: &mut Vec<Draft<'a>>,
) {
    let design = setting.design;
    let bolts = joint.bolts;
    let Ok(near) = passed(bolts, interface, true) else { return };
    let plate = design.body(near.body);
    if !matches!(plate.form, Form::Plate { .. }) {
        return;
    }
    let t = near.high - near.low;
    let legs: Vec<f64> =
        bolts.at.iter().map(|at| held_at(design, near.body, bolts.axis, at)).collect();
    if legs.iter().any(|m| !m.is_finite()) {
        out.push(Draft::not_checked(
            Some(mount),
            plate.name.clone(),
            ("end plate bent by its bolts", "end plate: bending at the bolts"),
            format!("nothing is welded to {}, so there is no line where it is held", plate.name),
        ));
        return;
    }
    let tension = setting.pack.bolts.iter().find(|c| c.aspect() == Aspect::Tension);
    for clause in setting.pack.t_stubs {
        let (owned, legs) = (joint.clone(), legs.clone());
        let draft = Draft::by(&setting, *clause, move |case| {
            let list =
                inputs(&setting, interface, &owned, (true, tightening(&setting, bolts), case))?;
            let mut rows = Vec::new();
            for (i, bolt) in list.iter().enumerate() {
                let tension = tension.ok_or_else(|| NotChecked::NoRule {
                    reason: "the rules have no bolt in tension".to_owned(),
                })?;
                let one = tension.evaluate(bolt, setting.factors, &mut Trace::off())?;
                let edge = bolt.e_1.unwrap_or(0.0);
                let leg = legs[i % legs.len()];
                rows.push(TStubInput {
                    f_t_ed: 2.0 * bolt.f_t_ed,
                    f_t_rd_sum: 2.0 * one.resistance,
                    m: leg,
                    e: edge,
                    e_min: edge,
                    t,
                    f_y: plate.steel.fy,
                    l_eff_1: None,
                    l_eff_2: None,
                    n_bolts: Some(2.0),
                    d: Some(bolt.d),
                    d_0: Some(bolt.d_0),
                    // At most 2 b, and what the neighbours leave.
                    p: Some(bolt.p_1.map_or(2.0 * leg, |p_1| smaller(p_1, 2.0 * leg))),
                    b: Some(leg),
                    f_u: Some(plate.steel.fu),
                    prying: Prying::Bears,
                    origins: setting
                        .solved(case, || &interface.name)
                        .with("m", || {
                            Provenance::Geometry("bolt to what the plate is welded to".to_owned())
                        })
                        .with("e", || Provenance::Geometry(bolts.name.clone()))
                        .with("e_min", || Provenance::Geometry(bolts.name.clone()))
                        .with("t", || Provenance::Given(format!("{}.plate.thickness", plate.path)))
                        .with("f_y", || setting.steel(plate, "fy")),
                });
            }
            Ok(rows)
        });
        out.push(
            draft
                .of(Some(mount), plate.name.clone())
                .called(format!("end plate: {}", clause.title()), "end plate: bending at the bolts")
                .at(interface)
                .told(Tale::new(
                    format!("{} bends at its bolts", plate.base),
                    "the bolts are pried and the end gives",
                    "a thicker end plate, bolts nearer to the bar",
                ))
                .note("each bolt with its mirror image as an isolated row")
                .seconded(plates::second(
                    &setting,
                    interface,
                    vec![(near.body, None)],
                    "the plate is held all along what is welded to it and bends both ways",
                )),
        );
    }
}

/// Distance from a bolt to the nearest wall that is welded to a plate, in its plane, m.
fn held_at(design: &Design, plate: BodyId, axis: usize, at: &Vec3) -> f64 {
    let [u, v] = across(axis);
    design
        .welds
        .iter()
        .filter(|w| w.to == plate && w.throat().is_some())
        .flat_map(|w| &design.body(w.of).walls)
        .map(|wall| {
            if wall.prism.axis == axis {
                // A tube that ends on the plate: outside its outline.
                return positive(-wall.prism.edge_distance([at[u], at[v]]));
            }
            let gap = |a: usize| {
                let (low, high) = wall.prism.range(a);
                larger(positive(low - at[a]), positive(at[a] - high))
            };
            gap(u).hypot(gap(v))
        })
        .fold(f64::INFINITY, smaller)
}

/// The wall pulled by the bolts.
fn pulled_wall<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    joint: Rc<Joint<'a>>,
    out: &mut Vec<Draft<'a>>,
) {
    let design = setting.design;
    let Some((wall, _, from, plates)) = pulled(&setting, interface, joint.bolts) else { return };
    let rail = design.body(wall.body);
    let axis = joint.bolts.axis;
    let half = joint.kit.d_w / 2.0;
    let reach = |a: usize| {
        let at = joint.bolts.at[0][a];
        let (low, high) =
            joint.bolts.at.iter().fold((at, at), |(l, h), p| (smaller(l, p[a]), larger(h, p[a])));
        (low - half, high + half)
    };
    let level = {
        let (low, high) = rail.walls[wall.wall].prism.range(axis);
        if (interface.about[axis] - low).abs() < (interface.about[axis] - high).abs() {
            low
        } else {
            high
        }
    };
    let foot = Rc::new(Foot {
        rail: wall.body,
        wall: wall.wall,
        normal: axis,
        across: 3 - axis,
        level,
        along: reach(0),
        over: reach(3 - axis),
    });
    let (t_wall, _) = thickness(rail, wall.wall, foot.along);
    let (b_0, kind) = (foot.width(design), foot.rail_kind(design));
    let (b_1, h_1) = (foot.over.1 - foot.over.0, foot.along.1 - foot.along.0);
    let base = {
        move |case: InCase| WallInput {
            n_ed: 0.0,
            m_ip_ed: 0.0,
            m_op_ed: 0.0,
            b_0,
            b_1,
            h_1,
            t_wall,
            t_plate: plates,
            f_y: rail.steel.fy,
            n_chord: None,
            rail: kind,
            origins: setting
                .solved(case, || &interface.name)
                .with("t_wall", || from.tell())
                .with("b_0", || Provenance::Given(format!("{}.section", rail.path)))
                .with("b_1", || Provenance::Geometry("outline of the bolt heads".to_owned()))
                .with("h_1", || Provenance::Geometry("outline of the bolt heads".to_owned()))
                .with("t_plate", || Provenance::Geometry("plates welded to the wall".to_owned()))
                .with("f_y", || setting.steel(rail, "fy")),
        }
    };
    let name = format!("{}.{}", rail.name, rail.walls[wall.wall].name);
    for clause in setting.pack.wall_pulls {
        let (base_a, owned) = (base, joint.clone());
        let mut draft = Draft::by(&setting, *clause, move |case| {
            setting
                .carried
                .across(design, setting.forces, interface, case.place, true)
                .iter()
                .map(|(_, w)| Ok(WallInput { n_ed: shares(&owned, w)?.pull, ..base_a(case) }))
                .collect()
        })
        .of(Some(mount), name.clone())
        .called(
            format!(
                "{} of {}, {:.2} mm: {}",
                rail.walls[wall.wall].name,
                rail.base,
                t_wall * 1e3,
                clause.title()
            ),
            format!("rail {} {:.1} mm: bolts pull", rail.walls[wall.wall].name, t_wall * 1e3),
        )
        .at(interface)
        .told(Tale::new(
            format!(
                "the {:.1} mm {} of {} bends where the end bolts pull",
                t_wall * 1e3,
                rail.walls[wall.wall].name,
                rail.base
            ),
            "the wall dishes and the joint works loose",
            "a backing plate welded to the wall all round, bolts further apart",
        ));
        if let Applicability::OutsideScope(reason) = clause.applies(&base(InCase::untold(0))) {
            draft.outside = Some(reason);
        }
        draft = draft.seconded(plates::second(
            &setting,
            interface,
            vec![(wall.body, Some(wall.wall))],
            "the wall is held by the flanges and plates round it and pulls as a sheet as well",
        ));
        for other in setting.pack.walls {
            let (base_b, foot) = (base, foot.clone());
            draft = draft.or_by(
                &setting,
                *other,
                (
                    "whole wrench on the outline of the bolt heads",
                    "compression acts at the edge of the plate, not inside the bolt pattern; shown beside",
                ),
                move |case| {
                    Ok(setting
                        .carried
                        .across(design, setting.forces, interface, case.place, true)
                        .iter()
                        .map(|(_, w)| {
                            let w = w.moved_to(foot.centre());
                            let mut input = base_b(case);
                            input.n_ed = w.force[foot.normal].abs();
                            input.m_ip_ed = w.moment[foot.across].abs();
                            input.m_op_ed = w.moment[0].abs();
                            input
                        })
                        .collect())
                },
            );
        }
        out.push(draft);
    }
}
