//! Groups solved.

use super::support::{bare_front, rear, stiff_front, van};
use crate::RunToEnd;
use crate::describe::Project;
use crate::pipeline::{self, Found};
use crate::plate::result::Plates;
use crate::plate::solve;

fn solved(project: &Project) -> (Found, Plates) {
    let found = pipeline::find(project, false, &RunToEnd).expect("a design with forces");
    let plates = solve(found.setting(project), 1, &RunToEnd).expect("nobody stops it");
    (found, plates)
}

#[test]
fn dev_bare() {
    tell(&bare_front());
}
#[test]
fn dev_stiff() {
    tell(&stiff_front());
}
#[test]
fn dev_rear() {
    tell(&rear(van()));
}

fn top(p: crate::plate::result::PointForces, t: f64) -> f64 {
    fishplate_solver::plates::answer::Resultants { membrane: p.n, bending: p.m }.worst(t).0 / 1e6
}

fn tell(project: &Project) {
    let start = std::time::Instant::now();
    let (found, plates) = solved(project);
    println!("took {:?}", start.elapsed());
    for group in &plates.groups {
        println!("mounts {:?}", group.mounts);
        let s = match &group.outcome {
            Err(why) => {
                println!("  NOT: {why}");
                continue;
            }
            Ok(s) => s,
        };
        println!(
            "  {} elements {:?} unknowns, angles {:.2} {:.2}, imbalance {:.1e}",
            s.size.elements,
            s.size.unknowns,
            s.size.least_angle,
            s.size.largest_angle,
            s.size.largest_imbalance
        );
        for a in &s.assumptions {
            println!("  assumes {a}");
        }
        for h in &s.hardpoints {
            println!(
                "  k {:.1} {:.1} {:.1} N/mm",
                1e-3 / h.flexibility[0][0],
                1e-3 / h.flexibility[1][1],
                1e-3 / h.flexibility[2][2]
            );
        }
        for (c, sets) in s.fine.factored.iter().enumerate() {
            let (case, rough) = (&sets[0], &s.coarse.factored[c][0]);
            println!("  case {}", found.forces.cases[c].case.name);
            for (w, wall) in s.contents.walls.iter().enumerate() {
                let (a, b) = (&case.walls[w], &rough.walls[w]);
                println!(
                    "    {} t {:.1}: {:.0} MPa (coarse {:.0}) membrane {:.0} at {:.0?}",
                    wall.name,
                    wall.thickness * 1e3,
                    top(a.face, wall.thickness),
                    top(b.face, wall.thickness),
                    a.membrane / 1e6,
                    a.face.at * 1e3
                );
            }
            for (r, run) in s.contents.runs.iter().enumerate() {
                let w = &found.design.welds[run.weld.0];
                let f = |c: &crate::plate::result::CaseForces| c.runs[r].whole.force;
                println!(
                    "    {} {} L {:.0}: {:.0?} N coarse {:.0?}; {} stations; toes {} {}",
                    w.name,
                    run.run + 1,
                    run.length * 1e3,
                    f(case).as_slice(),
                    f(rough).as_slice(),
                    case.runs[r].stations.len(),
                    case.toes[2 * r].stations.len(),
                    case.toes[2 * r + 1].stations.len()
                );
                if let Some(t) = case.toes[2 * r].stations.first() {
                    println!(
                        "       hot spot {:.0} MPa at {:.0}",
                        t.hot_spot(run.thickness[1]) / 1e6,
                        t.at * 1e3
                    );
                }
            }
            for (b, bolt) in s.contents.bolts.iter().enumerate() {
                println!(
                    "    {} {}: tension {:.0} of preload {:.0} (coarse {:.0}), shear {:.0?} bending {:.1}",
                    found.design.bolts[bolt.bolt.0].name,
                    bolt.number + 1,
                    case.bolts[b].tension,
                    bolt.preload,
                    rough.bolts[b].tension,
                    case.bolts[b].shear.iter().map(|v| v.norm()).collect::<Vec<_>>(),
                    case.bolts[b].bending
                );
            }
            for (f, facing) in s.contents.facings.iter().enumerate() {
                let x = &case.facings[f];
                println!(
                    "    {}: pressed {:.2} opening {:.4} mm pressing {:.0} N ",
                    facing.name,
                    x.pressed,
                    x.opening * 1e3,
                    x.pressing
                );
            }
            for (i, cut) in s.contents.cuts.iter().enumerate() {
                let x = &case.cuts[i];
                println!(
                    "    cut {}: applied {:.0?} carried {:.0?} off {:.1e} (coarse {:.1e})",
                    found.path.interfaces[*cut].name,
                    x.applied.force.as_slice(),
                    x.carried.force.as_slice(),
                    x.imbalance,
                    rough.cuts[i].imbalance
                );
            }
        }
    }
}
