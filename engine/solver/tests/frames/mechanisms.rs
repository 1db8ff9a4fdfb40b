//! Frames that can move freely: each must be refused, with the number of free motions and the
//! right node and direction. The expected motions follow from kinematics, by hand.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{FreeMotion, SolveError};

use Dof::{Rx, Ry, Rz, Ux, Uy, Uz};

/// A frame, how many ways it moves, and for each named motion whether it is one of them.
struct Loose {
    name: &'static str,
    frame: Frame,
    count: usize,
    /// Every motion must be one of these (node, direction).
    names: Vec<(usize, Dof)>,
    within: bool,
}

fn tube() -> BeamSection {
    section_mm(424.0, 1.078e5, 1.078e5, 2.157e5)
}

fn frame() -> Frame {
    Frame::of(tube(), steel())
}

fn loose(name: &'static str, frame: Frame, count: usize, names: &[(usize, Dof)]) -> Loose {
    Loose { name, frame, count, names: names.to_vec(), within: false }
}

fn all(nodes: &[usize], directions: &[Dof]) -> Vec<(usize, Dof)> {
    nodes.iter().flat_map(|&n| directions.iter().map(move |&d| (n, d))).collect()
}

fn release(f: &mut Frame, beam: BeamId, start: &[Dof], end: &[Dof]) {
    for d in start {
        f.draft.beams[beam.0].releases_start[d.index()] = Release::Free;
    }
    for d in end {
        f.draft.beams[beam.0].releases_end[d.index()] = Release::Free;
    }
}

/// A member along x from 0 to 1 m.
fn one_beam(start: &[usize], end: &[usize]) -> Frame {
    let mut f = frame();
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    f.beam(a, b);
    for (node, dofs) in [(a, start), (b, end)] {
        if !dofs.is_empty() {
            f.support(node, fixed(dofs));
        }
    }
    f
}

/// Two members in line, 0 to 1 to 2 m, clamped at the start, with releases of each.
fn two_beams(first_end: &[Dof], second_start: &[Dof], far: &[usize]) -> Frame {
    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [2000.0, 0.0, 0.0], 2);
    f.support(nodes[0], CLAMPED);
    if !far.is_empty() {
        f.support(nodes[2], fixed(far));
    }
    release(&mut f, BeamId(0), &[], first_end);
    release(&mut f, BeamId(1), second_start, &[]);
    f
}

/// A rigid body with springs to the ground at the given points (mm), each with three stiffnesses.
fn body(points: &[([f64; 3], [f64; 3])]) -> Frame {
    let mut f = Frame::default();
    let centre = f.node(0.0, 0.0, 0.0);
    for (p, k) in points {
        let node = f.node(p[0], p[1], p[2]);
        f.link(centre, node);
        f.ground_spring(node, [k[0], k[1], k[2], 0.0, 0.0, 0.0]);
    }
    f
}

/// Square panel in the plane x-z of bars pinned about y, all else held in plane.
fn panel(diagonal: bool) -> Frame {
    let mut f = frame();
    let corners = [
        f.node(0.0, 0.0, 0.0),
        f.node(1000.0, 0.0, 0.0),
        f.node(1000.0, 0.0, 1000.0),
        f.node(0.0, 0.0, 1000.0),
    ];
    let mut bars = vec![(0, 1), (1, 2), (3, 2), (0, 3)];
    if diagonal {
        bars.push((0, 2));
    }
    for (a, b) in bars {
        let beam = f.beam(corners[a], corners[b]);
        release(&mut f, beam, &[Ry], &[Ry]);
    }
    for (i, &corner) in corners.iter().enumerate() {
        let in_plane: &[usize] = match i {
            0 => &[0, 2],
            1 => &[2],
            _ => &[],
        };
        let dofs: Vec<usize> = [1, 3, 4, 5].iter().chain(in_plane).copied().collect();
        f.support(corner, fixed(&dofs));
    }
    f
}

/// Two parallel cantilevers carrying a flap by hinges in line along y.
fn flap() -> Frame {
    let mut f = frame();
    let mut at = |x: f64, y: f64| f.node(x, y, 0.0);
    let nodes = [
        at(0.0, 0.0),
        at(0.0, 1000.0),
        at(1000.0, 0.0),
        at(1000.0, 1000.0),
        at(2000.0, 0.0),
        at(2000.0, 1000.0),
    ];
    f.support(nodes[0], CLAMPED);
    f.support(nodes[1], CLAMPED);
    f.beam(nodes[0], nodes[2]);
    f.beam(nodes[1], nodes[3]);
    for (a, b) in [(2, 4), (3, 5)] {
        let beam = f.beam(nodes[a], nodes[b]);
        release(&mut f, beam, &[Ry], &[]);
    }
    f.beam(nodes[4], nodes[5]);
    f
}

/// Turns a whole draft by a rotation that has no simple numbers.
pub(crate) fn turned(f: &Frame) -> Frame {
    let (s1, c1) = 0.7_f64.sin_cos();
    let (s2, c2) = (-1.1_f64).sin_cos();
    // About z by 0.7, then about x by -1.1.
    let r = [[c1, -s1, 0.0], [c2 * s1, c2 * c1, -s2], [s2 * s1, s2 * c1, c2]];
    let turn = |v: [f64; 3]| [0, 1, 2].map(|i| r[i][0] * v[0] + r[i][1] * v[1] + r[i][2] * v[2]);
    let mut g = f.clone();
    let model = f.model();
    for node in &mut g.draft.nodes {
        node.position = turn(node.position);
    }
    for (i, beam) in g.draft.beams.iter_mut().enumerate() {
        beam.orientation = Orientation::ZTowards(turn(model.beam_axes(BeamId(i))[2]));
        beam.offset_start = turn(beam.offset_start);
        beam.offset_end = turn(beam.offset_end);
    }
    for support in &mut g.draft.supports {
        support.axes = support.axes.map(turn);
    }
    for spring in &mut g.draft.springs {
        spring.axes = spring.axes.map(turn);
    }
    for case in &mut g.draft.load_cases {
        for load in &mut case.nodal {
            load.force = turn(load.force);
            load.moment = turn(load.moment);
        }
        for load in &mut case.line {
            if load.axes == LoadAxes::Global {
                for v in [
                    &mut load.force_from,
                    &mut load.force_to,
                    &mut load.moment_from,
                    &mut load.moment_to,
                ] {
                    *v = turn(*v);
                }
            }
        }
        for load in &mut case.point {
            if load.axes == LoadAxes::Global {
                load.force = turn(load.force);
                load.moment = turn(load.moment);
            }
        }
        case.acceleration = turn(case.acceleration);
    }
    g
}

fn corpus() -> Vec<Loose> {
    let translations = [Ux, Uy, Uz];
    let any = [Ux, Uy, Uz, Rx, Ry, Rz];
    let mut list = vec![
        loose("a member without supports", one_beam(&[], &[]), 6, &all(&[0, 1], &any)),
        loose(
            "held at a point only",
            one_beam(&[0, 1, 2], &[]),
            3,
            &[(1, Uy), (1, Uz), (0, Rx), (1, Rx)],
        ),
        loose(
            "nothing against sliding along itself",
            one_beam(&[1, 2, 3], &[1, 2]),
            1,
            &[(0, Ux), (1, Ux)],
        ),
        loose("nothing against spinning", one_beam(&[0, 1, 2], &[1, 2]), 1, &[(0, Rx), (1, Rx)]),
        loose("nothing against swinging", one_beam(&[0, 1, 2, 3, 5], &[]), 1, &[(1, Uz)]),
        loose("only turning is held", one_beam(&[3, 4, 5], &[]), 3, &all(&[0, 1], &translations)),
        loose("parallel rollers", one_beam(&[2, 3], &[2]), 3, &all(&[0, 1], &[Ux, Uy, Rz])),
    ];

    let mut f = one_beam(&[0, 1, 2, 3, 4, 5], &[]);
    f.node(500.0, 300.0, 0.0);
    list.push(loose("a node that nothing joins", f, 6, &all(&[2], &any)));

    let mut f = one_beam(&[0, 1, 2, 3, 4, 5], &[]);
    let extra = f.node(1000.0, 0.0, 0.0);
    f.draft.springs.push(Spring {
        a: extra,
        b: Some(NodeId(1)),
        axes: GLOBAL_AXES,
        stiffness: [1e6, 1e6, 1e6, 0.0, 0.0, 0.0],
        preset: [0.0; 6],
        behaviour: [SpringAction::Linear; 6],
    });
    list.push(loose("a node on a ball", f.clone(), 3, &all(&[2], &[Rx, Ry, Rz])));
    f.draft.springs[0].stiffness = [0.0, 1e6, 1e6, 1e3, 1e3, 1e3];
    list.push(loose("a spring that leaves one direction", f, 1, &[(2, Ux)]));

    // Pin chain: three bars in line, the inner nodes loose across and in turning.
    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [3000.0, 0.0, 0.0], 3);
    for beam in 0..3 {
        release(&mut f, BeamId(beam), &[Ry, Rz], &[Ry, Rz]);
    }
    f.support(nodes[0], CLAMPED);
    f.support(nodes[3], CLAMPED);
    list.push(loose("pin chain", f, 8, &all(&[1, 2], &[Uy, Uz, Ry, Rz])));

    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [2000.0, 0.0, 0.0], 2);
    for beam in 0..2 {
        release(&mut f, BeamId(beam), &[Ry], &[Ry]);
    }
    f.support(nodes[0], CLAMPED);
    f.support(nodes[1], fixed(&[4]));
    f.support(nodes[2], CLAMPED);
    list.push(loose("two bars in line, pinned in one plane", f, 1, &[(1, Uz)]));

    list.push(loose(
        "both members let the node turn",
        two_beams(&[Ry], &[Ry], &[2]),
        1,
        &[(1, Ry)],
    ));
    list.push(loose("a hinge and nothing beyond", two_beams(&[], &[Ry], &[]), 1, &[(2, Uz)]));
    list.push(loose(
        "hinges across two axes",
        two_beams(&[], &[Ry, Rz], &[]),
        2,
        &[(2, Uz), (2, Uy)],
    ));
    list.push(loose("an end that spins", two_beams(&[], &[Rx], &[]), 1, &[(2, Rx), (1, Rx)]));
    list.push(loose("a telescope", two_beams(&[], &[Ux], &[]), 1, &[(2, Ux)]));
    list.push(loose("a shear slide", two_beams(&[], &[Uz], &[]), 1, &[(2, Uz)]));
    list.push(loose("a cut", two_beams(&[], &any, &[]), 6, &all(&[2], &any)));

    // A span with two hinges between a clamp and a roller.
    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [4000.0, 0.0, 0.0], 4);
    f.support(nodes[0], CLAMPED);
    f.support(nodes[4], fixed(&[1, 2]));
    release(&mut f, BeamId(1), &[Ry], &[]);
    release(&mut f, BeamId(3), &[Ry], &[]);
    list.push(loose("one hinge too many in a span", f, 1, &[(3, Uz)]));

    // Portal pinned at feet and corners sways.
    let mut f = frame();
    let a = f.node(0.0, 0.0, 0.0);
    let b = f.node(0.0, 0.0, 1000.0);
    let c = f.node(1000.0, 0.0, 1000.0);
    let d = f.node(1000.0, 0.0, 0.0);
    f.beam(a, b);
    f.beam(d, c);
    let top = f.beam(b, c);
    release(&mut f, top, &[Ry], &[Ry]);
    f.support(a, fixed(&[0, 1, 2, 3, 5]));
    f.support(d, fixed(&[0, 1, 2, 3, 5]));
    list.push(loose("portal with four hinges", f, 1, &[(1, Ux), (2, Ux)]));

    list.push(loose("panel without a diagonal", panel(false), 1, &[(2, Ux), (3, Ux)]));
    list.push(loose("the same, askew", turned(&panel(false)), 1, &all(&[2, 3], &translations)));

    list.push(loose("flap on a hinge line", flap(), 1, &[(4, Uz), (5, Uz)]));
    list.push(loose("flap, askew", turned(&flap()), 1, &all(&[4, 5], &translations)));

    // Tripod of bars whose apex lies in the plane of the feet.
    let mut f = frame();
    let apex = f.node(0.0, 0.0, 0.0);
    for (x, y) in [(1000.0, 0.0), (-500.0, 800.0), (-500.0, -800.0)] {
        let foot = f.node(x, y, 0.0);
        let bar = f.beam(foot, apex);
        release(&mut f, bar, &[Ry, Rz], &[Ry, Rz]);
        f.support(foot, CLAMPED);
    }
    f.support(apex, fixed(&[3, 4, 5]));
    list.push(loose("flat tripod", f, 1, &[(0, Uz)]));

    // Two separate cantilevers, one without its clamp.
    let mut f = one_beam(&[0, 1, 2, 3, 4, 5], &[]);
    let (p, q) = (f.node(0.0, 500.0, 0.0), f.node(1000.0, 500.0, 0.0));
    f.beam(p, q);
    list.push(loose("a part that nothing joins", f, 6, &all(&[2, 3], &any)));

    // Rigid bodies on springs.
    let up = [0.0, 0.0, 1e6];
    let square =
        [[-300.0, -200.0, 0.0], [300.0, -200.0, 0.0], [300.0, 200.0, 0.0], [-300.0, 200.0, 0.0]];
    let nodes: Vec<usize> = (0..5).collect();
    list.push(loose(
        "body on upright springs",
        body(&square.map(|p| (p, up))),
        3,
        &all(&nodes, &[Ux, Uy, Rz]),
    ));
    let full = [1e6, 1e6, 1e6];
    list.push(loose(
        "body on two balls in line with it",
        body(&[([-300.0, 0.0, 0.0], full), ([300.0, 0.0, 0.0], full)]),
        1,
        &all(&[0, 1, 2], &[Rx]),
    ));
    list.push(loose("body on one ball", body(&[(square[0], full)]), 3, &all(&[0, 1], &any)));

    // A link that passes one movement only.
    let mut f = one_beam(&[0, 1, 2, 3, 4, 5], &[]);
    let follower = f.node(1000.0, 0.0, 100.0);
    let link = f.link(NodeId(1), follower);
    f.draft.rigid_links[link.0].dofs = [false, false, true, false, false, false];
    list.push(loose("a link that passes uz only", f, 5, &all(&[2], &[Ux, Uy, Rx, Ry, Rz])));

    // Inclined rollers in parallel: slides along the incline.
    let mut f = one_beam(&[], &[]);
    let (c, s) = (0.8, 0.6);
    let incline = [[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]];
    for (node, dofs) in [(0, &[1, 2, 3][..]), (1, &[1, 2][..])] {
        f.draft.supports.push(Support { node: NodeId(node), axes: incline, dofs: fixed(dofs) });
    }
    // Held against rotation about the inclined x at one end only; the other five are held but
    // the slide.
    list.push(loose("parallel inclines", f, 1, &[(0, Ux), (1, Ux)]));

    // Three reaction lines through one point: turns about it.
    let mut f = one_beam(&[], &[]);
    let r = 0.5_f64.sqrt();
    let left = [[r, 0.0, -r], [0.0, 1.0, 0.0], [r, 0.0, r]];
    let right = [[r, 0.0, r], [0.0, 1.0, 0.0], [-r, 0.0, r]];
    f.draft.supports.push(Support { node: NodeId(0), axes: left, dofs: fixed(&[1, 2, 3]) });
    f.draft.supports.push(Support { node: NodeId(1), axes: right, dofs: fixed(&[1, 2]) });
    list.push(loose("reaction lines through one point", f, 1, &all(&[0, 1], &[Ux, Uz, Ry])));

    // Slender and loose: the hinge hides behind small pivots.
    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [20_000.0, 0.0, 0.0], 200);
    f.support(nodes[0], CLAMPED);
    release(&mut f, BeamId(100), &[Ry], &[]);
    list.push(loose("hinge in 200 slender pieces", f, 1, &[(200, Uz)]));

    let mut f = frame();
    let nodes = f.line([0.0, 0.0, 0.0], [20_000.0, 0.0, 0.0], 200);
    f.support(nodes[0], CLAMPED);
    release(&mut f, BeamId(100), &[Rx], &[]);
    let beyond: Vec<usize> = (101..=200).collect();
    list.push(loose("spin in 200 slender pieces", turned(&f), 1, &all(&beyond, &[Rx, Ry, Rz])));

    // Members that move by themselves.
    for (name, start, end, direction) in [
        ("spins between its ends", &[Rx][..], &[Rx][..], (1, Rx)),
        ("ball at both ends", &[Rx, Ry, Rz][..], &[Rx, Ry, Rz][..], (1, Rx)),
        ("slides between its ends", &[Ux][..], &[Ux][..], (1, Ux)),
        ("slides across", &[Uz][..], &[Uz, Ry][..], (1, Uz)),
    ] {
        let mut f = one_beam(&[0, 1, 2, 3, 4, 5], &[0, 1, 2, 3, 4, 5]);
        release(&mut f, BeamId(0), start, end);
        let mut entry = loose(name, f, 1, &[direction, (1, Ry)]);
        entry.within = true;
        list.push(entry);
    }
    list
}

fn motions(f: &Frame) -> Result<Vec<FreeMotion>, String> {
    let mut f = f.clone();
    let mut acceleration = LoadCase { name: "weight".to_owned(), ..LoadCase::default() };
    acceleration.acceleration = [0.0, 0.0, -9.81];
    f.draft.load_cases = vec![acceleration];
    match f.try_solve() {
        Err(SolveError::Mechanism { modes, .. }) => Ok(modes),
        Err(other) => Err(other.to_string()),
        Ok(_) => Err("solved".to_owned()),
    }
}

#[test]
fn every_mechanism_is_named() {
    let corpus = corpus();
    assert!(corpus.len() >= 30, "{} mechanisms", corpus.len());
    let mut wrong = Vec::new();
    for entry in &corpus {
        let modes = match motions(&entry.frame) {
            Ok(modes) => modes,
            Err(text) => {
                wrong.push(format!("{}: {text}", entry.name));
                continue;
            }
        };
        let expected = if entry.count > 6 { 6 } else { entry.count };
        if modes.len() != expected {
            wrong.push(format!("{}: {} motions instead of {expected}", entry.name, modes.len()));
        }
        let mut named: Vec<(usize, Dof)> = modes.iter().map(|m| (m.node.0, m.direction)).collect();
        for name in &named {
            if !entry.names.contains(name) {
                wrong.push(format!("{}: named {name:?}", entry.name));
            }
        }
        named.sort_unstable();
        named.dedup();
        if named.len() != modes.len() {
            wrong.push(format!("{}: the same motion twice", entry.name));
        }
        if modes.iter().any(|m| m.within_beam.is_some() != entry.within) {
            wrong.push(format!("{}: within a member or not", entry.name));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), corpus.len(), wrong.join("\n"));
}

/// The same panel with its diagonal stands.
#[test]
fn a_diagonal_makes_the_panel_stand() {
    for f in [panel(true), turned(&panel(true))] {
        let mut f = f;
        f.case().force(NodeId(3), [100.0, 0.0, 0.0]);
        f.solve();
    }
}

#[test]
fn the_message_names_node_and_direction() {
    let mut f = flap();
    f.case().acceleration = [0.0, 0.0, -9.81];
    let text = f.try_solve().unwrap_err().to_string();
    assert!(text.contains("node 4, translation z"), "{text}");
}

/// A joint of rigid bodies held twice in the same movement has no unique reactions.
#[test]
fn a_redundant_support_of_a_rigid_body_is_named() {
    let mut f = Frame::default();
    let centre = f.node(0.0, 0.0, 0.0);
    for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)] {
        let node = f.node(x, y, 0.0);
        f.link(centre, node);
        f.support(node, fixed(&[2]));
    }
    f.support(centre, fixed(&[0, 1, 5]));
    f.case().force(centre, [0.0, 0.0, -1.0]);
    match f.try_solve().unwrap_err() {
        SolveError::RedundantSupport { support, node, direction } => {
            assert_eq!((support, node, direction), (SupportId(3), NodeId(4), Uz));
        }
        other => panic!("{other}"),
    }
}
