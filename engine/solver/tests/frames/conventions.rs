//! The signs and axes that the crate's page promises, from statics.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{Asked, Station};

const TIGHT: f64 = 1e-9;

/// Force F at the tip of a cantilever along +x: the cut at x carries what acts beyond it,
/// V = F and M = (L - x) ex cross F (statics).
#[test]
fn section_forces_are_those_of_the_part_beyond() {
    let mut section = section_mm(600.0, 2e5, 1e5, 2e5);
    for (name, y, z) in [("top", 0.0, 20.0), ("left", 15.0, 0.0)] {
        section.stress_points.push(StressPoint { name: name.to_owned(), y: y * MM, z: z * MM });
    }
    section.torsion_modulus = Some(1e4 * 1e-9);
    let mut f = Frame::of(section, steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    f.beam(root, tip);
    f.support(root, CLAMPED);
    let case = f.case();
    case.force(tip, [700.0, 300.0, -500.0]);
    case.moment(tip, [40.0, 0.0, 0.0]);
    let a = f.solve_at(&Asked { every_beam: vec![Station::at(0.25)], ..Asked::default() });
    let beam = &a.cases[0].beams[0];
    let s = &beam.stations[0];
    close(s.forces.n, 700.0, TIGHT, "tension is positive");
    close(s.forces.v_y, 300.0, TIGHT, "Vy");
    close(s.forces.v_z, -500.0, TIGHT, "Vz");
    close(s.forces.t, 40.0, TIGHT, "T");
    close(s.forces.m_y, 0.75 * 500.0, TIGHT, "My");
    close(s.forces.m_z, 0.75 * 300.0, TIGHT, "Mz");
    let axial = 700.0 / (600.0 * MM2);
    // Bent down, the top is pulled; bent to the left (+y), the left is pressed.
    close(s.normal_stress[0], axial + 375.0 * 0.020 / (2e5 * MM4), TIGHT, "top");
    close(s.normal_stress[1], axial - 225.0 * 0.015 / (1e5 * MM4), TIGHT, "left");
    close(s.torsion_stress.unwrap(), 40.0 / 1e-5, TIGHT, "torsion");
    let expected = [-700.0, -300.0, 500.0, -40.0, -500.0, -300.0];
    for (got, expected) in beam.end_forces[0].iter().zip(expected) {
        close(*got, expected, TIGHT, "start: what the node gives");
    }
    close(beam.end_forces[1][0], 700.0, TIGHT, "end: the section force");
    close(a.cases[0].reactions[0].force[4], -500.0, TIGHT, "reaction moment");
}

/// Transverse force at the centroid of a section whose shear centre lies aside twists it by
/// F e L / GJ; at the shear centre it doesn't (shear centre: S. Timoshenko, Strength of Materials
/// II, from memory; the rest derived).
#[test]
fn shear_centre_decides_about_twist() {
    let (y_s, length, force) = (-25.0 * MM, 0.8, -900.0);
    let mut section = section_mm(500.0, 3e5, 1e5, 4e3);
    section.shear_centre_y = y_s;
    let mut f = Frame::of(section, steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(800.0, 0.0, 0.0));
    let beam = f.beam(root, tip);
    f.support(root, CLAMPED);
    f.case().force(tip, [0.0, 0.0, force]);
    for acts_at in [LoadPoint::Centroid, LoadPoint::ShearCentre, LoadPoint::At(y_s, 0.010)] {
        f.case().point.push(BeamPointLoad {
            beam,
            at: length,
            axes: LoadAxes::Local,
            acts_at,
            force: [0.0, 0.0, force],
            moment: [0.0; 3],
        });
    }
    let a = f.solve_at(&Asked::even(5));
    let (e_i, g_j) = (210e9 * 3e5 * MM4, steel().shear_modulus * 4e3 * MM4);
    let bent = force * length.powi(3) / (3.0 * e_i);
    let torque = -y_s * force;
    for case in &a.cases[..2] {
        close(case.displacements[1][3], torque * length / g_j, TIGHT, "twist");
        let at_centroid = bent - y_s * torque * length / g_j;
        close(case.displacements[1][2], at_centroid, TIGHT, "centroid");
        close(case.beams[0].stations[2].forces.t, torque, TIGHT, "T about the shear centre");
    }
    for case in &a.cases[2..] {
        near(case.displacements[1][3], 0.0, 1e-15, "no twist");
        close(case.displacements[1][2], bent, TIGHT, "bent only");
    }
    // Interior recovery ends where the node is.
    for case in &a.cases {
        let last = case.beams[0].stations[4].displacement;
        for (recovered, node) in last.iter().zip(case.displacements[1]) {
            near(*recovered, node, 1e-13, "end of the member");
        }
    }
}

/// Local axes: roll turns z from "up" right-handed about x; a vertical member has y along +y.
#[test]
fn local_axes_lie_as_documented() {
    let mut f = Frame::of(section_mm(600.0, 2e5, 1e5, 2e5), steel());
    let o = f.node(0.0, 0.0, 0.0);
    let x = f.node(1000.0, 0.0, 0.0);
    let up = f.node(0.0, 0.0, 1000.0);
    let flat = f.beam(o, x);
    let turned = f.beam(o, x);
    f.draft.beams[turned.0].orientation = Orientation::Roll(0.3);
    let column = f.beam(o, up);
    let given = f.beam(o, x);
    f.draft.beams[given.0].orientation = Orientation::ZTowards([5.0, 1.0, 0.0]);
    let model = f.model();
    let axes = |b: BeamId| model.beam_axes(b);
    let expect = |got: [f64; 3], expected: [f64; 3]| {
        for i in 0..3 {
            near(got[i], expected[i], 1e-15, "axis");
        }
    };
    expect(axes(flat)[1], [0.0, 1.0, 0.0]);
    expect(axes(flat)[2], [0.0, 0.0, 1.0]);
    let (s, c) = 0.3_f64.sin_cos();
    expect(axes(turned)[1], [0.0, c, s]);
    expect(axes(turned)[2], [0.0, -s, c]);
    expect(axes(column)[1], [0.0, 1.0, 0.0]);
    expect(axes(column)[2], [-1.0, 0.0, 0.0]);
    expect(axes(given)[2], [0.0, 1.0, 0.0]);
    near(model.beam_length(column), 1.0, 1e-15, "length");
}

/// Weight of a member and of a point mass: m g (statics), with the moment of q L^2 / 2.
#[test]
fn acceleration_acts_on_members_and_masses() {
    let g = 9.80665;
    let mut f = Frame::of(section_mm(600.0, 2e5, 1e5, 2e5), steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    f.beam(root, tip);
    f.support(root, CLAMPED);
    f.draft.masses.push(PointMass { node: tip, mass: 3.0, inertia: [0.0; 6] });
    f.case().acceleration = [0.0, 0.0, -g];
    let a = f.solve();
    let member = 7850.0 * 600.0 * MM2;
    let r = a.cases[0].reactions[0].force;
    close(r[2], (member + 3.0) * g, TIGHT, "weight");
    close(r[4], -(member / 2.0 + 3.0) * g, TIGHT, "moment");
}

/// Station on either side of a point load (statics of a simple beam).
#[test]
fn a_point_load_has_two_sides() {
    let mut f = Frame::of(section_mm(600.0, 2e5, 1e5, 2e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    f.support(a, fixed(&[0, 1, 2, 3]));
    f.support(b, fixed(&[1, 2]));
    f.case().within(beam, 0.25, [0.0, 0.0, -400.0], [0.0; 3]);
    let asked =
        Asked { every_beam: vec![Station::at(0.25), Station::after(0.25)], ..Asked::default() };
    let answer = f.solve_at(&asked);
    let s = &answer.cases[0].beams[0].stations;
    // Left bearing 300 up, right 100 up. The cut carries what lies beyond it.
    close(s[0].forces.v_z, -300.0, TIGHT, "before");
    close(s[1].forces.v_z, 100.0, TIGHT, "after");
    close(s[0].forces.m_y, -75.0, TIGHT, "the lower side is pulled");
    close(s[1].forces.m_y, -75.0, TIGHT, "no jump in the moment");
}

/// The divided load: a partial trapezoid with moments per length on a simple beam, by statics.
#[test]
fn partial_trapezoid_with_moments() {
    let mut f = Frame::of(section_mm(600.0, 2e5, 1e5, 2e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(2000.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    f.support(a, fixed(&[0, 1, 2, 3]));
    f.support(b, fixed(&[1, 2]));
    f.case().line.push(LineLoad {
        beam,
        span: Span::Between(0.5, 1.1),
        axes: LoadAxes::Local,
        acts_at: LoadPoint::At(0.0, 0.03),
        force_from: [200.0, 0.0, -1000.0],
        force_to: [800.0, 0.0, -4000.0],
        moment_from: [5.0, 70.0, 0.0],
        moment_to: [5.0, 10.0, 0.0],
    });
    let answer = f.solve();
    let r = &answer.cases[0].reactions;
    // Trapezoid 1000 to 4000 over 0.6 m: 1500 N, centroid 0.6 (1000 + 2 * 4000) / (3 * 5000) =
    // 0.36 m from its start. Axial 300 N at z = 0.03 and 24 N m of couples about +y.
    let (load, arm) = (1500.0, 0.5 + 0.36);
    let couple = 300.0 * 0.03 + 24.0;
    // About A: R_B * 2 along z turns by -2 R_B about y; the load turns by +load * arm.
    let r_b = (load * arm + couple) / 2.0;
    close(r[1].force[2], r_b, TIGHT, "R_B");
    close(r[0].force[2], load - r_b, TIGHT, "R_A");
    close(r[0].force[0], -300.0, TIGHT, "axial");
    close(r[0].force[3], -3.0, TIGHT, "torque");
}

/// A point load at the very end of a cantilever: the cut at its end lies before the load, V = F
/// and M = 0; one in the middle, seen from before, V = F (statics). Lengths that rounding makes a
/// bit longer or shorter than the place of the load are the same place.
#[test]
fn a_cut_at_the_place_of_a_load_lies_before_it() {
    for (from, to) in [(0.0, 1000.0), (100.0, 400.0), (100.0, 700.0), (-0.1, 0.2), (1e5, 1e5 + 0.7)]
    {
        let mut f = Frame::of(section_mm(600.0, 2e5, 1e5, 2e5), steel());
        let (root, tip) = (f.node(from, 0.0, 0.0), f.node(to, 0.0, 0.0));
        let beam = f.beam(root, tip);
        f.support(root, CLAMPED);
        let length = to - from;
        f.case().within(beam, length * MM, [0.0, 0.0, -1000.0], [0.0; 3]);
        f.case().within(beam, length * 0.3 * MM, [0.0, 0.0, -1000.0], [0.0; 3]);
        let stations = vec![Station::at(0.3), Station::at(1.0), Station::after(1.0)];
        let a = f.solve_at(&Asked { every_beam: stations, ..Asked::default() });
        let shear = |case: usize, s: usize| a.cases[case].beams[0].stations[s].forces.v_z;
        close(shear(0, 0), -1000.0, TIGHT, "load at the end, cut within");
        close(shear(0, 1), -1000.0, TIGHT, "load at the end, cut before it");
        near(shear(0, 2), 0.0, 1e-9, "load at the end, cut after it");
        close(shear(1, 0), -1000.0, TIGHT, "load within, cut before it");
        near(shear(1, 1), 0.0, 1e-9, "load within, cut beyond it");
        near(a.cases[0].beams[0].stations[1].forces.m_y, 0.0, 1e-9 * length, "end moment");
    }
}
