//! From the numbers of the plate level to what a reader gets of each mount.

use fishplate_quantity::algebra::larger;

use super::answer::{
    BoltAnswer, BucklingAnswer, FacingAnswer, HardpointAnswer, MeshedPart, ModelSize, PartStress,
    PlateMount, RunAnswer, RunStation, View,
};
use super::read::{self, Peak};
use super::result::{Feedback, Group, PointForces, RunForces, RunOf, Solved};
use crate::answer::Row;
use crate::checks::{self, Setting};
use crate::design::{BoltId, Vec3};

/// Cases of a group that are shown: those in which its most used rows govern.
const SHOWN: usize = 3;

/// The mounts as plates. A model that several mounts share is told under the first of them; the
/// others have their stiffness only. `drawn` is whether the geometry is wanted.
pub(crate) fn mounts(setting: &Setting<'_>, rows: &[Row], drawn: bool) -> Vec<PlateMount> {
    let Some(plates) = setting.plates else { return Vec::new() };
    (0..setting.design.mounts.len())
        .filter_map(|mount| {
            let group = plates.of_mount(mount)?;
            Some(match &group.outcome {
                Err(why) => PlateMount { not_solved: Some(why.clone()), ..empty(mount) },
                Ok(solved) if group.mounts.first() == Some(&mount) => PlateMount {
                    hardpoint: hardpoint(solved, mount, &plates.feedback),
                    ..told(setting, group, solved, rows, mount, drawn)
                },
                Ok(solved) => PlateMount {
                    hardpoint: hardpoint(solved, mount, &plates.feedback),
                    ..empty(mount)
                },
            })
        })
        .collect()
}

fn empty(mount: usize) -> PlateMount {
    PlateMount {
        mount,
        not_solved: None,
        size: None,
        parts: Vec::new(),
        nodes: Vec::new(),
        views: Vec::new(),
        runs: Vec::new(),
        bolts: Vec::new(),
        facings: Vec::new(),
        buckling: None,
        hardpoint: None,
        assumptions: Vec::new(),
    }
}

fn told(
    setting: &Setting<'_>,
    group: &Group,
    solved: &Solved,
    rows: &[Row],
    mount: usize,
    drawn: bool,
) -> PlateMount {
    let own: Vec<&Row> = rows
        .iter()
        .filter(|r| {
            r.second_opinion.is_some() && r.mount.is_some_and(|m| group.mounts.contains(&m))
        })
        .collect();
    let changes = own.iter().filter_map(|r| r.second_opinion.as_ref()?.mesh_change);
    let size = &solved.size;
    let mut answer = PlateMount {
        size: Some(ModelSize {
            elements: size.elements,
            unknowns: size.unknowns[0],
            coarse_unknowns: size.unknowns[1],
            largest_imbalance: size.largest_imbalance,
            least_angle: size.least_angle,
            largest_angle: size.largest_angle,
            largest_mesh_change: changes.map(f64::abs).fold(0.0, larger),
        }),
        runs: runs(setting, solved, &own),
        bolts: bolts(setting, solved),
        facings: facings(solved),
        buckling: buckling(setting, solved, drawn),
        assumptions: solved
            .assumptions
            .iter()
            .cloned()
            .chain([size.rule.clone(), size.singular.clone()])
            .collect(),
        ..empty(mount)
    };
    if drawn {
        answer.nodes.clone_from(&solved.drawn.nodes);
        answer.parts = solved
            .contents
            .walls
            .iter()
            .zip(&solved.drawn.walls)
            .map(|(of, wall)| {
                let body = setting.design.body(of.body);
                MeshedPart {
                    name: body.name.clone(),
                    wall: body.walls[of.wall].name.clone(),
                    thickness: of.thickness,
                    fy: of.fy,
                    cells: wall.cells.clone(),
                }
            })
            .collect();
        answer.views = views(solved, &own);
    }
    answer
}

/// The cases in which the most used rows of the plate level govern.
fn views(solved: &Solved, own: &[&Row]) -> Vec<View> {
    let mut governing: Vec<(f64, usize, &str)> = own
        .iter()
        .filter_map(|row| {
            let judged = row.second_opinion.as_ref()?.plate.as_ref().ok()?;
            Some((judged.utilisation, judged.case?, row.id.as_str()))
        })
        .collect();
    governing.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut views: Vec<View> = Vec::new();
    for (_, case, row) in governing {
        if let Some(view) = views.iter_mut().find(|v| v.case == case) {
            view.rows.push(row.to_owned());
        } else if views.len() < SHOWN {
            let stresses = solved.fine.factored[case].first().map_or_else(Vec::new, |set| {
                let walls = set.walls.iter().zip(&solved.contents.walls);
                walls
                    .map(|(wall, of)| PartStress {
                        von_mises: wall.von_mises.clone(),
                        largest: face_stress(&wall.face, of.thickness),
                        largest_at: wall.face.at,
                    })
                    .collect()
            });
            views.push(View {
                case,
                rows: vec![row.to_owned()],
                movements: solved.drawn.moved[case].clone(),
                stresses,
            });
        }
    }
    views
}

/// Larger von Mises stress of both faces at a point, Pa.
fn face_stress(point: &PointForces, thickness: f64) -> f64 {
    fishplate_solver::plates::answer::Resultants { membrane: point.n, bending: point.m }
        .worst(thickness)
        .0
}

/// Every run in the set of the case in which its averaged peak is largest.
fn runs(setting: &Setting<'_>, solved: &Solved, own: &[&Row]) -> Vec<RunAnswer> {
    let hand = checks::throat_stress(setting);
    let worst: Vec<Option<(usize, &RunForces, Peak)>> =
        (0..solved.contents.runs.len()).map(|place| worst_of_run(solved, place)).collect();
    let name = |of: &RunOf| setting.design.welds[of.weld.0].name.as_str();
    let peaks = || solved.contents.runs.iter().zip(&worst);
    let mut list = Vec::new();
    for (of, found) in peaks() {
        let Some((case, forces, peak)) = found else { continue };
        let in_row = |row: &Row, of: &RunOf| row.component.split(" + ").any(|w| w == name(of));
        let row = own.iter().find(|r| in_row(r, of) && r.short.contains("throat"));
        let used = row
            .and_then(|r| r.second_opinion.as_ref()?.plate.as_ref().ok())
            .map_or(0.0, |judged| judged.utilisation);
        // The row's utilisation is that of its worst run.
        let strongest = peaks()
            .filter(|(other, _)| row.is_some_and(|r| in_row(r, other)))
            .filter_map(|(other, found)| Some(found.as_ref()?.2.largest() / other.throat))
            .fold(0.0, larger);
        let by_hand = hand.get(&(of.weld.0, of.run)).map_or(0.0, |[a, b]| larger(*a, *b));
        list.push(RunAnswer {
            weld: name(of).to_owned(),
            run: of.run + 1,
            case: *case,
            stations: forces
                .stations
                .iter()
                .map(|s| RunStation {
                    at: s.at,
                    point: s.point,
                    stress: read::size(s.force) / of.throat,
                    force: read::size(s.force),
                })
                .collect(),
            throat: of.throat,
            averaged_over: read::averaged_over(of),
            peak: peak.largest() / of.throat,
            peak_at: peak.peak_at(),
            hand: by_hand,
            limit: if used > 0.0 { strongest / used } else { 0.0 },
        });
    }
    list
}

/// The case and set in which the averaged peak of a run is largest.
fn worst_of_run(solved: &Solved, place: usize) -> Option<(usize, &RunForces, Peak)> {
    let of = solved.contents.runs[place];
    let sets = solved.fine.factored.iter().enumerate();
    sets.flat_map(|(case, sets)| sets.iter().map(move |set| (case, &set.runs[place])))
        .map(|(case, forces)| (case, forces, Peak::of(of, forces)))
        .reduce(|a, b| if b.2.largest() > a.2.largest() { b } else { a })
}

/// Every bolt in the set in which it is pulled most.
fn bolts(setting: &Setting<'_>, solved: &Solved) -> Vec<BoltAnswer> {
    let mut list = Vec::new();
    for (place, of) in solved.contents.bolts.iter().enumerate() {
        let sets = solved.fine.factored.iter().enumerate();
        let every = sets.flat_map(|(case, sets)| sets.iter().map(move |set| (case, set)));
        let worst = every
            .reduce(|a, b| if b.1.bolts[place].tension > a.1.bolts[place].tension { b } else { a });
        let Some((case, set)) = worst else { continue };
        let forces = &set.bolts[place];
        // Without preload, what the faces press is what the bolts are pulled beyond equilibrium.
        let prying = of
            .clamps
            .iter()
            .flatten()
            .map(|facing| {
                let sharing = solved
                    .contents
                    .bolts
                    .iter()
                    .filter(|other| other.clamps.contains(&Some(*facing)))
                    .count();
                set.facings[*facing].pressing / f64::from(u32::try_from(sharing).unwrap_or(1))
            })
            .fold(0.0, larger);
        let bolts = &setting.design.bolts[of.bolt.0];
        list.push(BoltAnswer {
            bolt: bolts.name.clone(),
            number: of.number + 1,
            case,
            at: of.at,
            tension: forces.tension,
            hand_tension: by_hand(setting, of.bolt, of.number, case),
            preload: of.preload,
            prying,
            shear: forces.shear.iter().map(Vec3::norm).fold(0.0, larger),
        });
    }
    list
}

/// Tension of a bolt by hand statics in a case, N; 0 where no interface rests on it.
fn by_hand(setting: &Setting<'_>, bolt: BoltId, number: usize, case: usize) -> f64 {
    setting
        .path
        .interfaces
        .iter()
        .filter(|f| f.welds.is_empty() && f.bolts.contains(&bolt))
        .filter_map(|f| checks::end_bolt_tension(setting, f, bolt, case))
        .filter_map(|tensions| tensions.get(number).copied())
        .fold(0.0, larger)
}

/// Faces in the case in service in which they open widest, else press over the least area.
fn facings(solved: &Solved) -> Vec<FacingAnswer> {
    let mut list = Vec::new();
    for (place, of) in solved.contents.facings.iter().enumerate() {
        let worst = solved.fine.service.iter().enumerate().reduce(|a, b| {
            let (x, y) = (&a.1.facings[place], &b.1.facings[place]);
            let opens = y.opening > x.opening;
            if opens || (y.opening >= x.opening && y.pressed < x.pressed) { b } else { a }
        });
        let Some((case, set)) = worst else { continue };
        let forces = &set.facings[place];
        list.push(FacingAnswer {
            name: of.name.clone(),
            case,
            pressed_share: forces.pressed,
            opening: forces.opening,
            pressing: forces.pressing,
        });
    }
    list
}

fn buckling(setting: &Setting<'_>, solved: &Solved, drawn: bool) -> Option<BucklingAnswer> {
    let lowest = solved.buckling.iter().reduce(|a, b| if b.factor < a.factor { b } else { a })?;
    let body = setting.design.body(solved.contents.walls[lowest.wall].body);
    Some(BucklingAnswer {
        load_factor: lowest.factor,
        case: lowest.case,
        part: body.name.clone(),
        shape: if drawn { lowest.shape.clone() } else { Vec::new() },
    })
}

fn hardpoint(solved: &Solved, mount: usize, feedback: &Feedback) -> Option<HardpointAnswer> {
    let found = solved.hardpoints.iter().find(|h| h.mount == mount)?;
    Some(HardpointAnswer {
        stiffness: [0, 1, 2].map(|i| 1.0 / found.flexibility[i][i]),
        rounds: feedback.rounds,
        last_change: feedback.last_change,
        share_change: feedback.share_change.get(mount).copied().unwrap_or(0.0),
    })
}
