//! Seams, spots and spreads.

use super::{Bench, RIGID, close, resultant};
use crate::model::{Node, NodeId};
use crate::plates::answer::SeamAnswer;
use crate::plates::model::{Element, PlateId, Seam, Spot, Spread, SpreadKind};
use crate::vector::{Vec3, add, cross, norm, scale, sub};

fn seam(edge: PlateId, onto: PlateId, path: Vec<Vec3>, leg_on: Vec3, leg_up: Vec3) -> Seam {
    Seam { name: "run".to_owned(), edge, onto, path, leg_on, leg_up }
}

/// A plate 80 x 100 x 6 mm standing on a plate 160 x 120 x 8 mm that is held all round; nodes of
/// both lie on the seam line, sizes along it as given.
fn tee(along: usize, below: [usize; 2], paths: &[Vec<Vec3>]) -> (Bench, PlateId, PlateId) {
    let mut bench = Bench::new();
    let onto = bench.plate(
        "floor",
        [-0.08, -0.06, 0.0],
        [[0.16, 0.0, 0.0], [0.0, 0.12, 0.0]],
        below,
        8e-3,
    );
    let edge = bench.plate(
        "web",
        [-0.04, 0.0, 4e-3],
        [[0.08, 0.0, 0.0], [0.0, 0.0, 0.1]],
        [along, 10],
        6e-3,
    );
    for path in paths {
        let on = [0.0, -1.0, 0.0];
        bench.draft.seams.push(seam(edge, onto, path.clone(), on, [0.0, 0.0, 1.0]));
    }
    let rim = bench.nodes(onto, |p| p[0].abs() > 0.0799 || p[1].abs() > 0.0599);
    bench.hold(&rim, &[0, 1, 2, 3, 4, 5]);
    (bench, edge, onto)
}

fn whole() -> Vec<Vec3> {
    vec![[-0.04, 0.0, 4e-3], [0.04, 0.0, 4e-3]]
}

/// The force through seams about a point, from their resultants.
fn through(seams: &[SeamAnswer], about: Vec3) -> [f64; 6] {
    let mut sum = [0.0; 6];
    for seam in seams {
        let [x, y, z, mx, my, mz] = seam.force;
        let lever = cross(sub(seam.about, about), [x, y, z]);
        for (i, f) in [x, y, z, mx + lever[0], my + lever[1], mz + lever[2]].iter().enumerate() {
            sum[i] += f;
        }
    }
    sum
}

#[test]
fn the_force_through_a_seam_is_the_load() {
    for along in [4usize, 8, 13] {
        let (mut bench, edge, _) = tee(along, [15, 12], &[whole()]);
        let top = bench.nodes(edge, |p| p[2] > 0.1039);
        for force in [[1000.0, 0.0, 0.0], [0.0, 1000.0, 0.0], [0.0, 0.0, 1000.0]] {
            bench.force(&top, force);
        }
        let solved = bench.solve().unwrap();
        for case in 0..3 {
            let answer = solved.answer(case);
            let about = answer.seams[0].about;
            close(norm(sub(about, [0.0, 0.0, 4e-3])), 0.0, 1e-12);
            let load = resultant(&bench, case, about);
            for (got, expected) in answer.seams[0].force.iter().zip(load) {
                close(*got, expected, 1e-9 * 1000.0);
            }
            // Stations carry the same force; they divide the run.
            let length: f64 = answer.seams[0].stations.iter().map(|s| s.length).sum();
            close(length, 0.08, 1e-12);
            let [on, up, run] = [0, 1, 2].map(|i| -> f64 {
                answer.seams[0].stations.iter().map(|s| s.length * s.force[i]).sum()
            });
            close(-on, load[1], 1e-6);
            close(up, load[2], 1e-6);
            close(run, load[0], 1e-6);
        }
    }
}

/// Segments are those of the welded edge, halved where the plate below is finer.
#[test]
fn pieces_follow_the_finer_mesh() {
    for (along, below, expected) in [(8, 16, 8), (4, 16, 8), (16, 16, 16), (5, 8, 5)] {
        let (bench, ..) = tee(along, [below, 12], &[whole()]);
        // Four rows at two points of each piece.
        assert_eq!(bench.joints().rows().count(), 8 * expected, "{along} on {below}");
    }
}

/// Movements of the top against one mesh whose nodes are shared. Web and seam start at the middle
/// surface of the floor here, so that both are the same structure.
#[test]
fn a_seam_moves_like_shared_nodes() {
    let lowered = |path: &[Vec<Vec3>]| {
        let (mut bench, edge, onto) = tee(8, [16, 12], path);
        for node in bench.nodes(edge, |_| true) {
            bench.draft.frame.nodes[node].position[2] -= 4e-3;
        }
        (bench, edge, onto)
    };
    let tip = |bench: &mut Bench, edge: PlateId| {
        let top = bench.nodes(edge, |p| p[2] > 0.0999);
        let middle = bench.nearest(edge, [0.0, 0.0, 0.1]);
        for force in [[1000.0, 0.0, 0.0], [0.0, 1000.0, 0.0], [0.0, 0.0, 1000.0]] {
            bench.force(&top, force);
        }
        let solved = bench.solve().unwrap();
        [0, 1, 2].map(|case| solved.movement(case, middle)[case])
    };
    let (mut welded, edge, _) = lowered(&[vec![[-0.04, 0.0, 0.0], [0.04, 0.0, 0.0]]]);
    let got = tip(&mut welded, edge);
    let (mut shared, edge, onto) = lowered(&[]);
    for old in shared.nodes(edge, |p| p[2] < 1e-6) {
        let new = NodeId(shared.nearest(onto, shared.position(old)));
        for element in &mut shared.draft.plates[edge.0].elements {
            if let Element::Quad(nodes) = element {
                for node in nodes.iter_mut().filter(|n| n.0 == old) {
                    *node = new;
                }
            }
        }
        // Nothing is left on the old node.
        shared.hold(&[old], &[0, 1, 2, 3, 4, 5]);
    }
    let expected = tip(&mut shared, edge);
    for i in 0..3 {
        // What a tie may add or take (its stiffness is chosen for that).
        close(got[i] / expected[i], 1.0, 0.02);
    }
}

#[test]
fn stitches_end_where_they_end() {
    let stitches = [
        vec![[-0.04, 0.0, 4e-3], [-0.023, 0.0, 4e-3]],
        vec![[0.023, 0.0, 4e-3], [0.04, 0.0, 4e-3]],
    ];
    let (mut bench, edge, _) = tee(8, [16, 12], &stitches);
    let top = bench.nodes(edge, |p| p[2] > 0.1039);
    bench.force(&top, [1000.0, 0.0, 0.0]);
    let solved = bench.solve().unwrap();
    let answer = solved.answer(0);
    let load = resultant(&bench, 0, [0.0; 3]);
    let sum = through(&answer.seams, [0.0; 3]);
    for i in 0..6 {
        close(sum[i], load[i], 1e-6);
    }
    for seam in &answer.seams {
        let length: f64 = seam.stations.iter().map(|s| s.length).sum();
        close(length, 0.017, 1e-12);
    }
    // The two stitches are a couple: 1000 N at 100 mm over the seam.
    let up: Vec<f64> = answer.seams.iter().map(|s| s.force[2]).collect();
    close(up[0] + up[1], 0.0, 1e-6);
    assert!(up[0] > 1000.0 && up[0] < 100e3 / 46.0, "{up:?}");
}

/// Two overlapping plates pulled apart along the lap: the force runs through both end seams, and
/// the offset of their middle surfaces makes the moment.
#[test]
fn a_lap_is_eccentric_by_the_mean_thickness() {
    let mut bench = Bench::new();
    let lower = bench.plate("lower", [0.0; 3], [[0.1, 0.0, 0.0], [0.0, 0.04, 0.0]], [10, 4], 4e-3);
    let upper =
        bench.plate("upper", [0.06, 0.0, 5e-3], [[0.1, 0.0, 0.0], [0.0, 0.04, 0.0]], [10, 4], 6e-3);
    let z = 2e-3;
    bench.draft.seams.push(seam(
        upper,
        lower,
        vec![[0.06, 0.0, z], [0.06, 0.04, z]],
        [-1.0, 0.0, 0.0],
        [0.0, 0.0, 1.0],
    ));
    bench.draft.seams.push(seam(
        lower,
        upper,
        vec![[0.1, 0.0, z], [0.1, 0.04, z]],
        [1.0, 0.0, 0.0],
        [0.0, 0.0, -1.0],
    ));
    bench.hold(&bench.nodes(lower, |p| p[0] < 1e-9), &[0, 1, 2, 3, 4, 5]);
    let end = bench.nodes(upper, |p| p[0] > 0.1599);
    bench.force(&end, [5000.0, 0.0, 0.0]);
    let solved = bench.solve().unwrap();
    let mut seams = solved.answer(0).seams;
    // The second is told from the other plate: lower on upper.
    seams[1].force = seams[1].force.map(|f| -f);
    let sum = through(&seams, [0.0; 3]);
    let load = resultant(&bench, 0, [0.0; 3]);
    for i in 0..6 {
        close(sum[i], load[i], 1e-6);
    }
    close(load[4], 5000.0 * 5e-3, 1e-9);
}

/// Line of weld on stiff plates in their plane, against the line method.
fn line_group(lines: &[[Vec3; 2]], force: Vec3, at: Vec3, per_edge: usize) -> Vec<SeamAnswer> {
    let (width, height) = (0.07, 0.11);
    let mut bench = Bench::new();
    let sides = [[width, 0.0, 0.0], [0.0, height, 0.0]];
    let cells = [2 * per_edge, 3 * per_edge];
    let base = bench.plate("base", [0.0; 3], sides, cells, 4e-3);
    // In the plane of the welds, so that nothing bends.
    let top = bench.plate("top", [0.0; 3], sides, cells, 4e-3);
    bench.draft.plates[top.0].material = RIGID;
    for &[from, to] in lines {
        let along = scale(1.0 / norm(sub(to, from)), sub(to, from));
        let on = cross([0.0, 0.0, 1.0], along);
        bench.draft.seams.push(seam(top, base, vec![from, to], on, [0.0, 0.0, 1.0]));
    }
    bench.hold(&bench.nodes(base, |_| true), &[0, 1, 2, 3, 4, 5]);
    // The load as force and moment on the whole stiff plate: a linear field of nodal forces.
    let nodes = bench.nodes(top, |_| true);
    let centre = [0.5 * width, 0.5 * height, 0.0];
    let polar: f64 = nodes
        .iter()
        .map(|&n| {
            let r = sub(bench.position(n), centre);
            r[0] * r[0] + r[1] * r[1]
        })
        .sum();
    let moment = cross(sub(at, centre), force)[2];
    let share = 1.0 / nodes.len() as f64;
    let mut load = Vec::new();
    for &n in &nodes {
        let r = sub(bench.position(n), centre);
        let f = add(scale(share, force), scale(moment / polar, [-r[1], r[0], 0.0]));
        load.extend((0..2).map(|i| (6 * n + i, f[i])));
    }
    bench.loads.push(load);
    bench.solve().unwrap().answer(0).seams
}

/// Force per length at the end of a run, by the straight line through its last two stations, in
/// global axes.
fn at_end(bench_line: [Vec3; 2], seam: &SeamAnswer, end: usize) -> [f64; 2] {
    let [from, to] = bench_line;
    let along = scale(1.0 / norm(sub(to, from)), sub(to, from));
    let on = cross([0.0, 0.0, 1.0], along);
    let count = seam.stations.len();
    let (last, before) = if end == 0 {
        (seam.stations[0], seam.stations[1])
    } else {
        (seam.stations[count - 1], seam.stations[count - 2])
    };
    let length = norm(sub(to, from));
    let goal = if end == 0 { 0.0 } else { length };
    let t = (goal - before.at) / (last.at - before.at);
    let value = |i: usize| before.force[i] + t * (last.force[i] - before.force[i]);
    let global = add(scale(value(0), on), scale(value(2), along));
    [global[0], global[1]]
}

/// C-shaped fillet, 12 kN at 190 mm, elastic line method (Blodgett 1966, Shigley; from memory).
#[test]
fn a_c_weld_on_stiff_plates_follows_the_line_method() {
    let (b, d) = (0.07, 0.11);
    let lines =
        [[[0.0; 3], [b, 0.0, 0.0]], [[0.0; 3], [0.0, d, 0.0]], [[0.0, d, 0.0], [b, d, 0.0]]];
    let seams = line_group(&lines, [0.0, -12e3, 0.0], [0.19, 0.055, 0.0], 5);
    let largest = 263.50008e3;
    let expected = [
        (2, 1, [168.60074e3, -202.49959e3]),
        (0, 1, [-168.60074e3, -202.49959e3]),
        (2, 0, [168.60074e3, 12.083173e3]),
        (0, 0, [-168.60074e3, 12.083173e3]),
    ];
    for (line, end, force) in expected {
        let got = at_end(lines[line], &seams[line], end);
        close(got[0], force[0], 0.03 * largest);
        close(got[1], force[1], 0.03 * largest);
    }
}

/// Groups in twist: `f = M r / J` with J of each group of unit throat (Blodgett 1966, Table 5, from
/// memory).
#[test]
fn weld_groups_in_twist_follow_their_polar_moments() {
    let (b, d) = (0.07, 0.11);
    let (left, right) = ([[0.0; 3], [0.0, d, 0.0]], [[b, 0.0, 0.0], [b, d, 0.0]]);
    let (low, high) = ([[0.0; 3], [b, 0.0, 0.0]], [[0.0, d, 0.0], [b, d, 0.0]]);
    let middle = [0.5 * b, 0.5 * d];
    for (lines, polar, centre) in [
        (vec![left, right], 491333.33e-9, middle),
        (vec![low, high], 480666.67e-9, middle),
        (vec![low, high, left, right], 972000e-9, middle),
        (vec![left, low], 321305.56e-9, [13.611111e-3, 33.611111e-3]),
    ] {
        let arm = 1.0;
        let moment = 1000.0;
        let mut lines_and_loads =
            vec![line_group(&lines, [0.0, 1000.0, 0.0], [centre[0] + arm, centre[1], 0.0], 5)];
        lines_and_loads.push(line_group(
            &lines,
            [0.0, -1000.0, 0.0],
            [centre[0], centre[1], 0.0],
            5,
        ));
        for (i, &line) in lines.iter().enumerate() {
            for end in [0, 1] {
                let got: Vec<[f64; 2]> =
                    lines_and_loads.iter().map(|s| at_end(line, &s[i], end)).collect();
                let corner = line[end];
                let r = [corner[0] - centre[0], corner[1] - centre[1]];
                let size = moment / polar * (r[0] * r[0] + r[1] * r[1]).sqrt();
                close(got[0][0] + got[1][0], -moment / polar * r[1], 0.03 * size);
                close(got[0][1] + got[1][1], moment / polar * r[0], 0.03 * size);
            }
        }
    }
}

/// A spot carries what pulls two plates apart in their plane, and its twist.
#[test]
fn a_spot_carries_force_and_moment() {
    let mut bench = Bench::new();
    let sides = [[0.1, 0.0, 0.0], [0.0, 0.1, 0.0]];
    let lower = bench.plate("lower", [0.0; 3], sides, [8, 8], 4e-3);
    let upper = bench.plate("upper", [0.0, 0.0, 4e-3], sides, [7, 7], 4e-3);
    bench.draft.spots.push(Spot {
        name: "plug".to_owned(),
        plates: [upper, lower],
        centre: [0.05, 0.05, 2e-3],
        diameter: 12e-3,
    });
    bench.hold(&bench.nodes(lower, |_| true), &[0, 1, 2, 3, 4, 5]);
    let corner = bench.nodes(upper, |p| p[0] > 0.0999 && p[1] > 0.0999);
    bench.force(&corner, [300.0, -200.0, 100.0]);
    let solved = bench.solve().unwrap();
    let got = solved.answer(0).spots[0].force;
    let load = resultant(&bench, 0, [0.05, 0.05, 2e-3]);
    for i in 0..6 {
        close(got[i], load[i], 1e-6);
    }
}

/// A node on an even area: its force arrives, and the area under it stays flexible.
#[test]
fn an_even_spread_hands_its_force_on() {
    let mut bench = Bench::new();
    let sides = [[0.1, 0.0, 0.0], [0.0, 0.1, 0.0]];
    let plate = bench.plate("plate", [0.0; 3], sides, [8, 8], 4e-3);
    bench.hold(&bench.nodes(plate, |p| p[0] < 1e-9), &[0, 1, 2, 3, 4, 5]);
    let area = bench.nodes(plate, |p| p[0] > 0.0999);
    bench.draft.frame.nodes.push(Node { position: [0.15, 0.05, 0.0] });
    let node = bench.draft.frame.nodes.len() - 1;
    bench.draft.spreads.push(Spread {
        name: "edge".to_owned(),
        node: NodeId(node),
        area: area.iter().copied().map(NodeId).collect(),
        kind: SpreadKind::Even,
    });
    let load: Vec<(usize, f64)> = [10.0, 20.0, 30.0, 4.0, 5.0, 6.0]
        .iter()
        .enumerate()
        .map(|(i, &f)| (6 * node + i, f))
        .collect();
    bench.loads.push(load);
    let solved = bench.solve().unwrap();
    let got = solved.answer(0).spreads[0].unwrap().force;
    for (i, expected) in [10.0, 20.0, 30.0, 4.0, 5.0, 6.0].iter().enumerate() {
        close(got[i], *expected, 1e-7);
    }
}
