//! What only the plate level can judge: walls under forces and moments at once, buckling of plates,
//! and the plates' view of what hand statics judges by a formula.

use std::collections::BTreeSet;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_strength::clause::input::{PlateBucklingInput, PlateMade, PlatePointInput};
use fishplate_strength::clause::{Clause, Kind, NotChecked, Origins};

use super::{Draft, InCase, Second, Setting};
use crate::answer::Tale;
use crate::describe::CaseClass;
use crate::design::{Body, BodyId};
use crate::load_path::Interface;
use crate::plate::read;
use crate::plate::result::{Group, Recovered, Solved};

/// Walls that a row is about: all of a body, or one of them.
pub(super) type Walls = Vec<(BodyId, Option<usize>)>;

/// A membrane that carries nothing yields at no load: so many times the loads are told instead.
const FAR: f64 = 1e3;

/// The walls that a formula judges, as plates under the load of an interface. `milder` is why the
/// formula asks for more, where it does.
pub(super) fn second<'a>(
    setting: &Setting<'a>,
    interface: &Interface,
    walls: Walls,
    milder: &'static str,
) -> Option<Second<'a>> {
    judged(setting, setting.plates?.of_joints(interface)?, walls, milder)
}

/// The same for walls that a mount lands on.
pub(super) fn second_at<'a>(
    setting: &Setting<'a>,
    mount: usize,
    walls: Walls,
    milder: &'static str,
) -> Option<Second<'a>> {
    judged(setting, setting.plates?.at_mount(mount)?, walls, milder)
}

fn judged<'a>(
    setting: &Setting<'a>,
    outcome: Result<&'a Solved, &str>,
    walls: Walls,
    milder: &'static str,
) -> Option<Second<'a>> {
    let solved = match outcome {
        Ok(solved) => solved,
        Err(why) => return Some(Second::not_judged(why)),
    };
    let clause = strength(setting)?;
    Some(of_walls(setting, clause, solved, walls, milder))
}

/// The rule about the strength of points of plates.
fn strength(setting: &Setting<'_>) -> Option<&'static dyn Clause<PlatePointInput>> {
    setting.pack.plate_points.iter().copied().find(|c| c.kind() == Kind::Strength)
}

/// A wall that a mount lands on and that no rule of hand statics knows.
pub(super) fn only<'a>(
    setting: &Setting<'a>,
    mount: usize,
    wall: (BodyId, Option<usize>),
) -> Option<Draft<'a>> {
    let clause = strength(setting)?;
    let second = second_at(setting, mount, vec![wall], "")?;
    Some(Draft::by_plates(second, clause))
}

/// Walls judged by a clause about points of plates.
fn of_walls<'a>(
    setting: &Setting<'a>,
    clause: &'static dyn Clause<PlatePointInput>,
    solved: &'a Solved,
    walls: Walls,
    milder: &'static str,
) -> Second<'a> {
    let setting = *setting;
    let covered = walls.clone();
    let asked = walls.clone();
    let service = clause.kind() == Kind::Serviceability;
    let how = format!("{}; {}", clause.title(), solved.size.singular);
    Second::by(
        &setting,
        how,
        clause,
        solved,
        move |solved, mesh, case| points(&setting, solved, mesh, &asked, (case, service)),
        move |worse, case| reason(&setting, solved, &walls, worse, case, milder),
    )
    .covering(covered.iter().filter(|(_, wall)| wall.is_none()).map(|(body, _)| *body))
}

/// What the forces of a factored case are multiplied by: 1, or, for what stays elastic in service, one
/// over the load factor of a normal case. What tightening does to walls that it clamps is then left
/// out: rows of sleeves and seats judge that.
fn share(setting: &Setting<'_>, case: usize, service: bool) -> Result<f64, NotChecked> {
    if !service {
        return Ok(1.0);
    }
    let case = &setting.forces.cases[case].case;
    if case.class == CaseClass::Normal {
        return Ok(1.0 / case.factor);
    }
    Err(NotChecked::DoesNotApply { reason: "an abuse may leave a mark".to_owned() })
}

/// The worst points of walls: one input each.
fn points(
    setting: &Setting<'_>,
    solved: &Solved,
    mesh: &Recovered,
    walls: &Walls,
    (case, service): (InCase, bool),
) -> Result<Vec<PlatePointInput>, NotChecked> {
    let mut list = Vec::new();
    let share = share(setting, case.place, service)?;
    for set in &mesh.factored[case.place] {
        for (place, wall) in read::walls(solved, set, walls) {
            let of = &solved.contents.walls[place];
            let body = setting.design.body(of.body);
            for forces in [&wall.forces.through, &wall.forces.face] {
                let [n_xx, n_yy, n_xy] = forces.n.map(|n| n * share);
                let [m_xx, m_yy, m_xy] = forces.m.map(|m| m * share);
                list.push(PlatePointInput {
                    n_xx,
                    n_yy,
                    n_xy,
                    m_xx,
                    m_yy,
                    m_xy,
                    t: wall.thickness,
                    f_y: of.fy,
                    origins: setting
                        .solved(case, || format!("plate level, {}, {}", of.name, at(forces.at)))
                        .with("t", || Provenance::Given(format!("thickness of {}", body.path)))
                        .with("f_y", || setting.steel(body, "fy")),
                });
            }
        }
    }
    Ok(list)
}

/// A place in words.
fn at(p: crate::design::Vec3) -> String {
    format!("at x {:.0}, y {:.0}, z {:.0} mm", p.x * 1e3, p.y * 1e3, p.z * 1e3)
}

/// Why plates differ from the formula.
fn reason(
    setting: &Setting<'_>,
    solved: &Solved,
    walls: &Walls,
    worse: bool,
    case: usize,
    milder: &str,
) -> String {
    if !worse {
        return milder.to_owned();
    }
    let worst = solved.fine.factored[case]
        .iter()
        .flat_map(|set| read::walls(solved, set, walls))
        .map(|(place, wall)| {
            let of = &solved.contents.walls[place];
            let [r_n, r_m] = wall.forces.through.shares(wall.thickness, of.fy);
            (of, wall, r_n, r_m)
        })
        .reduce(|a, b| if larger(b.2, b.3) > larger(a.2, a.3) { b } else { a });
    let Some((of, wall, r_n, r_m)) = worst else { return String::new() };
    let place = at(wall.forces.through.at);
    if r_m > r_n {
        format!(
            "flexible wall: {}, {:.1} mm, bends {place}, {:.0} % of it by moment",
            of.name,
            wall.thickness * 1e3,
            100.0 * r_m / (r_m + r_n)
        )
    } else {
        let body = setting.design.body(of.body);
        format!(
            "{} is used as a sheet {place}, by forces beside the joint that the formula leaves out",
            body.name
        )
    }
}

/// The rows of every group: its walls, and how its plates buckle.
pub(super) fn drafts<'a>(setting: Setting<'a>, out: &mut Vec<Draft<'a>>) {
    let Some(plates) = setting.plates else { return };
    // What rows of hand statics have a second opinion on is not told twice.
    let told: BTreeSet<BodyId> =
        out.iter().filter_map(|d| d.second.as_ref()).flat_map(Second::covers).collect();
    for group in &plates.groups {
        let mount = group.mounts.first().copied();
        match &group.outcome {
            Ok(solved) => {
                walls(&setting, group, solved, &told, out);
                buckling(setting, mount, solved, out);
            }
            Err(why) => {
                let names: Vec<&str> =
                    group.mounts.iter().map(|m| setting.design.mounts[*m].name.as_str()).collect();
                out.push(Draft::not_checked(
                    mount,
                    format!("mount {}", names.join(" and ")),
                    ("its parts and joints as plates", "plate level"),
                    why.clone(),
                ));
            }
        }
    }
}

/// The mount of a group that is on a body's side, else its first.
fn told_under(setting: &Setting<'_>, group: &Group, body: &Body) -> Option<usize> {
    let own = |m: &&usize| Some(setting.design.mounts[**m].side) == body.side;
    group.mounts.iter().find(own).or(group.mounts.first()).copied()
}

fn walls<'a>(
    setting: &Setting<'a>,
    group: &Group,
    solved: &'a Solved,
    told: &BTreeSet<BodyId>,
    out: &mut Vec<Draft<'a>>,
) {
    let mut bodies: Vec<BodyId> = Vec::new();
    for wall in &solved.contents.walls {
        if !bodies.contains(&wall.body) {
            bodies.push(wall.body);
        }
    }
    for id in bodies {
        let body = setting.design.body(id);
        for clause in setting.pack.plate_points {
            let service = clause.kind() == Kind::Serviceability;
            if !service && told.contains(&id) {
                continue;
            }
            let draft =
                Draft::by_plates(of_walls(setting, *clause, solved, vec![(id, None)], ""), *clause)
                    .of(told_under(setting, group, body), body.name.clone())
                    .called(
                        format!("{}: {}", body.base, clause.title()),
                        if service { "plates: yield in service" } else { "plates: yield" },
                    );
            out.push(if service {
                draft
                    .told(Tale::new(
                        format!("{} yields at a face in everyday driving", body.base),
                        "it stays bent a little, and more at each such load",
                        "thicker plate there, a longer or rounder end of what is welded on",
                    ))
                    .note(
                        "normal cases without their load factor; what tightening does is left out",
                    )
            } else {
                draft.told(Tale::new(
                    format!("{} yields through its thickness", body.base),
                    "the part folds where it yields",
                    "thicker plate, a doubler, a gusset that takes the bending",
                ))
            });
        }
    }
}

fn buckling<'a>(
    setting: Setting<'a>,
    mount: Option<usize>,
    solved: &'a Solved,
    out: &mut Vec<Draft<'a>>,
) {
    let Some(first) = solved.buckling.first() else { return };
    let part = setting.design.body(solved.contents.walls[first.wall].body);
    for clause in setting.pack.plate_buckling {
        let ask = move |case: InCase| -> Result<Vec<PlateBucklingInput>, NotChecked> {
            let ways = solved.buckling.iter().filter(|way| way.case == case.place);
            let list: Vec<PlateBucklingInput> = ways
                .map(|way| {
                    let of = &solved.contents.walls[way.wall];
                    let membrane = solved.fine.factored[case.place]
                        .iter()
                        .map(|set| set.walls[way.wall].membrane)
                        .fold(0.0, larger);
                    let yields = if membrane > 0.0 { smaller(of.fy / membrane, FAR) } else { FAR };
                    PlateBucklingInput {
                        alpha_cr: way.factor,
                        alpha_ult: yields,
                        made: PlateMade::Welded,
                        origins: Origins::when(case.told, || {
                            Provenance::Solved(format!(
                                "plate level, lowest way of buckling, {} moves most",
                                of.name
                            ))
                        }),
                    }
                })
                .collect();
            if list.is_empty() {
                let reason = "other cases press the plates more".to_owned();
                return Err(NotChecked::DoesNotApply { reason });
            }
            Ok(list)
        };
        out.push(
            Draft::by(&setting, *clause, ask)
                .of(mount, part.name.clone())
                .called(format!("{}: {}", part.base, clause.title()), "plates: buckling")
                .told(Tale::new(
                    format!("{} buckles", part.base),
                    "its free edge folds aside and what it supports follows",
                    "a thicker plate, a flange along the free edge, a shorter free edge",
                )),
        );
    }
}
