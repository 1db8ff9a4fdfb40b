//! Rigid bodies, rigid arms and springs.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{Asked, Station};

const TIGHT: f64 = 1e-9;

/// Rigid-body statics with linear springs (pile-group formula, common textbook result):
/// R_i = F (1/n + e_x x_i / sum x^2 + e_y y_i / sum y^2).
#[test]
fn rigid_plate_on_four_springs() {
    let mut f = Frame::default();
    let centre = f.node(0.0, 0.0, 0.0);
    let mounts = [(-350.0, -230.0), (350.0, -230.0), (350.0, 230.0), (-350.0, 230.0)];
    for (x, y) in mounts {
        let node = f.node(x, y, 0.0);
        f.link(centre, node);
        f.ground_spring(node, [0.0, 0.0, 1200.0 * N_PER_MM, 0.0, 0.0, 0.0]);
    }
    let load = f.node(110.0, -65.0, 0.0);
    f.link(centre, load);
    f.support(centre, fixed(&[0, 1, 5]));
    f.case().force(load, [0.0, 0.0, -9000.0]);
    let a = f.solve();
    let c = &a.cases[0];
    let expected = [2178.726708074534, 3593.012422360248, 2321.273291925466, 906.9875776397516];
    for (spring, expected) in c.springs.iter().zip(expected) {
        // The plate presses the springs: what it exerts on the ground points down.
        close(-spring.force[2], expected, TIGHT, "reaction");
    }
    close(c.displacements[0][2], -1.875 * MM, TIGHT, "uz");
    close(c.displacements[0][3], 0.002303875236294896, TIGHT, "rx");
    close(c.displacements[0][4], 0.0016836734693877551, TIGHT, "ry");
    // Each link carries what its spring or load puts on the slave, reversed.
    close(c.links[0].force_on_slave[2], -expected[0], TIGHT, "link to a spring");
    close(c.links[4].force_on_slave[2], 9000.0, TIGHT, "link to the load");
}

/// Rigid body on linear springs, u = K^-1 w, derived; two independent assemblies agree.
#[test]
fn rigid_cradle_on_four_anisotropic_springs() {
    let mounts = [
        ([-340.0, -360.0, 0.0], [4000.0, 2500.0, 1800.0]),
        ([310.0, -330.0, 25.0], [9000.0, 6000.0, 5200.0]),
        ([310.0, 330.0, 25.0], [9000.0, 6000.0, 3100.0]),
        ([-340.0, 360.0, 0.0], [4000.0, 2500.0, 1800.0]),
    ];
    let expected = [
        [-1794.4466913766387, 293.07460541081696, -2452.3300259275466],
        [-4505.737922296962, 456.92539458918327, 205.7010162503792],
        [-4101.407626328436, 456.92539458918327, -136.7450758128938],
        [-1598.4077599979594, 293.07460541081696, -2616.6259145099375],
    ];
    let mut f = Frame::default();
    let origin = f.node(0.0, 0.0, 0.0);
    for (p, k) in mounts {
        let node = f.node(p[0], p[1], p[2]);
        f.link(origin, node);
        let k = k.map(|k| k * N_PER_MM);
        f.ground_spring(node, [k[0], k[1], k[2], 0.0, 0.0, 0.0]);
    }
    let load = f.node(40.0, -15.0, 180.0);
    f.link(origin, load);
    f.case().force(load, [-12_000.0, 1500.0, -5000.0]);
    let a = f.solve();
    let c = &a.cases[0];
    for (spring, expected) in c.springs.iter().zip(expected) {
        for (force, expected) in spring.force.iter().zip(expected) {
            close(*force, expected, TIGHT, "mount force");
        }
    }
    let moved = c.displacements[0];
    for (i, (expected, unit)) in [
        (-0.42410680642182474, MM),
        (0.09408635720989936, MM),
        (-0.6727192473858171, MM),
        (-0.0001267715189678944, 1.0),
        (-0.00216271785118345, 1.0),
        (-6.806907339537474e-05, 1.0),
    ]
    .into_iter()
    .enumerate()
    {
        close(moved[i], expected * unit, TIGHT, "movement of the origin");
    }
}

/// Statics and beam formulas, derived.
#[test]
fn eccentric_load_through_a_rigid_link() {
    let mut f = Frame::of(section_mm(700.0, 3e5, 3e5, 6e5), steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(600.0, 0.0, 0.0));
    let c = f.node(600.0, 0.0, 75.0);
    f.beam(root, tip);
    f.link(tip, c);
    f.support(root, CLAMPED);
    f.case().force(c, [20_000.0, 0.0, 0.0]);
    let a = f.solve_at(&Asked { every_beam: vec![Station::at(0.5)], ..Asked::default() });
    let d = &a.cases[0].displacements;
    close(d[1][0], 0.0816326530612245 * MM, TIGHT, "tip ux");
    close(d[1][2], -4.285714285714286 * MM, TIGHT, "tip uz");
    close(d[1][4], 0.014285714285714285, TIGHT, "ry");
    close(d[2][0], 1.153061224489796 * MM, TIGHT, "ux of the eccentric node");
    close(a.cases[0].beams[0].stations[0].forces.m_y.abs(), 1_500_000.0 * NMM, TIGHT, "M");
}

/// Statics and beam formulas, derived; once with rigid arms, once with rigid links.
#[test]
fn rigid_end_zones() {
    let section = || section_mm(700.0, 3e5, 3e5, 6e5);
    let mut arms = Frame::of(section(), steel());
    let (root, tip) = (arms.node(0.0, 0.0, 0.0), arms.node(600.0, 0.0, 0.0));
    let beam = arms.beam(root, tip);
    arms.draft.beams[beam.0].offset_start = [90.0 * MM, 0.0, 0.0];
    arms.draft.beams[beam.0].offset_end = [-60.0 * MM, 0.0, 0.0];
    arms.support(root, CLAMPED);
    arms.case().force(tip, [0.0, 0.0, -3000.0]);

    let mut links = Frame::of(section(), steel());
    let root = links.node(0.0, 0.0, 0.0);
    let (from, to) = (links.node(90.0, 0.0, 0.0), links.node(540.0, 0.0, 0.0));
    let tip = links.node(600.0, 0.0, 0.0);
    links.link(root, from);
    links.beam(from, to);
    links.link(to, tip);
    links.support(root, CLAMPED);
    links.case().force(tip, [0.0, 0.0, -3000.0]);

    for (frame, tip) in [(arms, 1), (links, 3)] {
        let a = frame.solve();
        let c = &a.cases[0];
        close(c.displacements[tip][2], -2.1021428571428573 * MM, TIGHT, "uz at the load");
        close(c.beams[0].end_forces[0][4].abs(), 1_530_000.0 * NMM, TIGHT, "M at flexible root");
        close(c.reactions[0].force[4].abs(), 1_800_000.0 * NMM, TIGHT, "M at the support");
    }
}

/// Half of a T-stub flange: a guided beam on an elastic bolt and a rigid bearing. Force method:
/// Q/V = (3 m^2 n - 6EI/k) / (2 n^2 (3m + n) + 6EI/k), derived; modes of EN 1993-1-8:2005 table
/// 6.2 in the background.
#[test]
fn elastic_prying_of_a_t_stub() {
    let (m, n, force) = (32.0, 36.0, 20_000.0);
    let inertia = 90.0 * 12.0_f64.powi(3) / 12.0;
    let mut f = Frame::of(section_mm(90.0 * 12.0, inertia, 1e6, 1e5), steel());
    let web = f.node(0.0, 0.0, 0.0);
    let bolt = f.node(m, 0.0, 0.0);
    let edge = f.node(m + n, 0.0, 0.0);
    f.beam(web, bolt);
    f.beam(bolt, edge);
    // The web face is guided: it rises but doesn't turn.
    f.support(web, fixed(&[0, 1, 3, 4, 5]));
    let mut bearing = FREE;
    bearing[2] = Restraint::StopsNegative;
    f.support(edge, bearing);
    f.ground_spring(bolt, [0.0, 0.0, 400_000.0 * N_PER_MM, 0.0, 0.0, 0.0]);
    f.case().force(web, [0.0, 0.0, force]);
    let a = f.solve();
    let c = &a.cases[0];
    // The edge presses on the bearing, the bearing pushes it up: prying adds to the bolt force.
    close(c.reactions[1].force[2], 3643.542019176537, TIGHT, "prying force Q");
    close(c.springs[0].force[2], 23643.542019176537, TIGHT, "bolt force V + Q");
    close(c.reactions[0].force[4].abs(), 508832.4873096447 * NMM, TIGHT, "M at the web face");
    close(c.displacements[0][2], 0.11469952481420802 * MM, TIGHT, "uz of the web face");
    assert_eq!(c.contact.closed.len(), 1);

    // Below k = 2EI/(m^2 n) = 147656.25 N/mm the edge lifts off: just below open, just above
    // closed.
    for (stiffness, closed) in [(147_656.0, 0), (147_657.0, 1)] {
        f.draft.springs[0].stiffness[2] = stiffness * N_PER_MM;
        assert_eq!(f.solve().cases[0].contact.closed.len(), closed, "k = {stiffness} N/mm");
    }
}

/// A spring between distant nodes is carried to node `a`: turning both about any point strains
/// nothing (statics of a rigid body, derived).
#[test]
fn a_spring_between_distant_nodes_ignores_rigid_movements() {
    let mut f = Frame::default();
    let a = f.node(300.0, 40.0, -20.0);
    let b = f.node(-100.0, 70.0, 90.0);
    let (c, s) = (0.8, 0.6);
    f.draft.springs.push(Spring {
        a,
        b: Some(b),
        axes: [[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]],
        stiffness: [1e6, 2e6, 3e6, 1e3, 2e3, 3e3],
        preset: [0.0; 6],
        behaviour: [SpringAction::Linear; 6],
    });
    f.support(b, CLAMPED);
    let (turn, shift) = ([0.01, -0.02, 0.015], [0.001, 0.002, -0.003]);
    let case = f.case();
    for (i, dof) in [Dof::Ux, Dof::Uy, Dof::Uz].into_iter().enumerate() {
        case.prescribe(b, dof, shift[i]);
    }
    for (i, dof) in [Dof::Rx, Dof::Ry, Dof::Rz].into_iter().enumerate() {
        case.prescribe(b, dof, turn[i]);
    }
    let answer = f.solve();
    let c = &answer.cases[0];
    let arm: [f64; 3] = [0.4, -0.03, -0.11];
    let carried = [
        shift[0] + turn[1] * arm[2] - turn[2] * arm[1],
        shift[1] + turn[2] * arm[0] - turn[0] * arm[2],
        shift[2] + turn[0] * arm[1] - turn[1] * arm[0],
    ];
    for (moved, carried) in c.displacements[0].iter().zip(carried) {
        near(*moved, carried, 1e-15, "a is carried along");
    }
    for deformation in c.springs[0].deformation {
        near(deformation, 0.0, 1e-15, "no deformation");
    }
}

/// Lack of fit locked in: two springs in series, one too long by g, share k1 k2 / (k1 + k2) g
/// (derived).
#[test]
fn a_preset_is_locked_in_without_any_load() {
    let (k1, k2, gap) = (2e6, 3e6, 0.0015);
    let mut f = Frame::default();
    let middle = f.node(0.0, 0.0, 0.0);
    let one = f.ground_spring(middle, [k1, 1.0, 1.0, 1.0, 1.0, 1.0]);
    f.ground_spring(middle, [k2, 1.0, 1.0, 1.0, 1.0, 1.0]);
    f.draft.springs[one.0].preset[0] = gap;
    f.case();
    let a = f.solve();
    let c = &a.cases[0];
    let force = k1 * k2 / (k1 + k2) * gap;
    close(c.springs[0].force[0], -force, TIGHT, "the long one is pressed");
    close(c.springs[1].force[0], force, TIGHT, "the other one is pulled");
    close(c.displacements[0][0], force / k2, TIGHT, "movement");
}

/// A chain of links and an inclined support on a slave: the same beam told twice must give the
/// same answer (the plain one is A01's cantilever rotated by its support axes; derived).
#[test]
fn supports_hold_slaves_and_inclined_directions() {
    // Simply supported beam whose right roller rolls on a 30 degree incline: the reaction is
    // normal to the incline. F at midspan: vertical share F/2 at each end, so R = F/2 / cos 30,
    // and the left end takes R sin 30 horizontally (statics).
    let mut f = Frame::of(section_mm(800.0, 3e5, 3e5, 6e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    let near_b = f.node(1000.0, 0.0, -40.0);
    let lower = f.node(1000.0, 0.0, 0.0);
    f.link(b, near_b);
    f.link(near_b, lower);
    f.support(a, fixed(&[0, 1, 2, 3]));
    let (s, c) = (0.5, 3.0_f64.sqrt() / 2.0);
    f.draft.supports.push(Support {
        node: lower,
        axes: [[c, 0.0, s], [0.0, 1.0, 0.0], [-s, 0.0, c]],
        dofs: fixed(&[1, 2]),
    });
    f.case().within(beam, 0.5, [0.0, 0.0, -4000.0], [0.0; 3]);
    let answer = f.solve();
    let case = &answer.cases[0];
    let normal = 2000.0 / c;
    close(case.reactions[1].local[2], normal, TIGHT, "normal to the incline");
    close(case.reactions[1].force[2], 2000.0, TIGHT, "vertical share");
    close(case.reactions[0].force[0], normal * s, TIGHT, "horizontal at the left");
    close(case.links[1].force_on_slave[2], -2000.0, TIGHT, "last link of the chain");
    close(case.links[0].force_on_slave[2], -2000.0, TIGHT, "first link of the chain");
}

/// Cantilever whose root is joined through a turning spring c: tip F L^3 / 3EI + F L^2 / c
/// (derived), from nearly a hinge to nearly rigid.
#[test]
fn semi_rigid_root() {
    let (force, length, i_y) = (-100.0, 1.0, 3e5);
    for power in -6..=12 {
        let joint = 10_f64.powi(power);
        let mut f = Frame::of(section_mm(700.0, i_y, 2e5, 6e5), steel());
        let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
        let beam = f.beam(root, tip);
        f.draft.beams[beam.0].releases_start[4] = Release::Spring(joint);
        f.support(root, CLAMPED);
        f.case().force(tip, [0.0, 0.0, force]);
        let answer = f.solve();
        let expected = force * (length / (3.0 * 210e9 * i_y * MM4) + 1.0 / joint);
        close(answer.cases[0].displacements[1][2], expected, TIGHT, &format!("c = {joint:e}"));
        let turned = answer.cases[0].beams[0].release_movement[0][4];
        // The root is held; the member end turns by M / c the way the load bends it.
        close(turned, force * length / joint, TIGHT, "turn of the joint");
    }
}
