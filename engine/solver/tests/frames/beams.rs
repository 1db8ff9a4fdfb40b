//! Single members and plane frames against beam tables and closed forms.

use crate::build::*;
use fishplate_solver::answer::{CaseAnswer, StationAnswer};
use fishplate_solver::model::*;
use fishplate_solver::{Asked, Station};

const TIGHT: f64 = 1e-9;

fn at(case: &CaseAnswer, beam: BeamId, fraction: f64) -> &StationAnswer {
    case.beams[beam.0]
        .stations
        .iter()
        .find(|s| (s.station.fraction - fraction).abs() < 1e-12)
        .expect("the station was asked for")
}

/// Elementary beam theory: tip F L^3/3EI, q L^4/8EI, M L^2/2EI; a trapezoid is a uniform load plus
/// a triangle (q L^4/30EI). Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed.,
/// table 8.1, from memory.
#[test]
fn cantilever_under_tip_force_uniform_load_moment_and_trapezoid() {
    let mut f = Frame::of(section_mm(600.0, 2.0e5, 1.1e5, 2.2e5), steel());
    let root = f.node(0.0, 0.0, 0.0);
    let tip = f.node(1000.0, 0.0, 0.0);
    let beam = f.beam(root, tip);
    f.support(root, CLAMPED);
    f.case().force(tip, [0.0, 0.0, -1000.0]);
    f.case().uniform(beam, [0.0, 0.0, -1.5 * N_PER_MM]);
    f.case().moment(tip, [0.0, 4e5 * NMM, 0.0]);
    f.case().trapezoid(beam, Span::Whole, [0.0, 0.0, -2.0 * N_PER_MM], [0.0, 0.0, -0.5 * N_PER_MM]);
    let a = f.solve();
    let uz = |case: usize| a.cases[case].displacements[1][2];
    let ry = |case: usize| a.cases[case].displacements[1][4];
    let root_moment = |case: usize| a.cases[case].reactions[0].force[4].abs();
    close(uz(0), -7.936507936507936 * MM, TIGHT, "tip force: uz");
    close(ry(0), 0.011904761904761904, TIGHT, "tip force: ry");
    close(root_moment(0), 1e6 * NMM, TIGHT, "tip force: root moment");
    close(uz(1), -4.464285714285714 * MM, TIGHT, "uniform load: uz");
    close(ry(1), 0.005952380952380952, TIGHT, "uniform load: ry");
    close(root_moment(1), 7.5e5 * NMM, TIGHT, "uniform load: root moment");
    close(uz(2), -4.761904761904762 * MM, TIGHT, "tip moment: uz");
    close(uz(3), -2.6785714285714284 * MM, TIGHT, "trapezoid: uz");
    close(root_moment(3), 5e5 * NMM, TIGHT, "trapezoid: root moment");
    close(a.cases[3].reactions[0].force[2], 1250.0, TIGHT, "trapezoid: reaction");
}

/// Fixed-end moments: F a b^2/L^2, q L^2/12, (q_A/20 + q_B/30) L^2, couple M b (2a - b)/L^2.
/// Roark, 7th ed., table 8.1 cases 1d, 2d, 3d, from memory.
#[test]
fn clamped_beam_under_off_centre_loads() {
    let mut f = Frame::of(section_mm(800.0, 3.5e5, 3.5e5, 7e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1200.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    f.support(a, CLAMPED);
    f.support(b, CLAMPED);
    let third = 360.0 * MM;
    f.case().within(beam, third, [0.0, 0.0, -5000.0], [0.0; 3]);
    f.case().uniform(beam, [0.0, 0.0, -4.0 * N_PER_MM]);
    f.case().trapezoid(beam, Span::Whole, [0.0, 0.0, -N_PER_MM], [0.0, 0.0, -5.0 * N_PER_MM]);
    f.case().within(beam, third, [0.0; 3], [0.0, 6e5 * NMM, 0.0]);
    let asked = Asked { every_beam: vec![Station::at(0.3), Station::at(0.5)], ..Asked::default() };
    let answer = f.solve_at(&asked);
    let moment = |case: usize, end: usize| answer.cases[case].reactions[end].force[4].abs();
    let up = |case: usize, end: usize| answer.cases[case].reactions[end].force[2];
    let moved = |case: usize, place: f64| at(&answer.cases[case], beam, place).displacement;
    close(moment(0, 0), 882_000.0 * NMM, TIGHT, "force: M_A");
    close(moment(0, 1), 378_000.0 * NMM, TIGHT, "force: M_B");
    close(up(0, 0), 3920.0, TIGHT, "force: R_A");
    close(moved(0, 0.3)[2], -0.36288 * MM, TIGHT, "force: uz under it");
    close(moment(1, 0), 480_000.0 * NMM, TIGHT, "uniform: M");
    close(moved(1, 0.5)[2], -0.29387755102040813 * MM, TIGHT, "uniform: uz in the middle");
    close(moment(2, 0), 312_000.0 * NMM, TIGHT, "trapezoid: M_A");
    close(moment(2, 1), 408_000.0 * NMM, TIGHT, "trapezoid: M_B");
    close(up(2, 0), 1320.0, TIGHT, "trapezoid: R_A");
    close(moved(2, 0.5)[2], -0.22040816326530613 * MM, TIGHT, "trapezoid: uz in the middle");
    close(moment(3, 0), 42_000.0 * NMM, TIGHT, "couple: M_A");
    close(moment(3, 1), 198_000.0 * NMM, TIGHT, "couple: M_B");
    close(up(3, 0).abs(), 630.0, TIGHT, "couple: R_A");
    close(up(3, 1).abs(), 630.0, TIGHT, "couple: R_B");
    close(moved(3, 0.3)[4], 7.611428571428576e-4, TIGHT, "couple: ry at it");
}

/// Roark, 7th ed., table 8.1 cases 1c, 2c, 3c, from memory; largest deflection of the uniform
/// load at 0.42153 L from the roller.
#[test]
fn propped_cantilever() {
    let mut f = Frame::of(section_mm(500.0, 1.2e5, 1.2e5, 2e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(900.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    f.support(a, CLAMPED);
    f.support(b, fixed(&[2]));
    f.case().uniform(beam, [0.0, 0.0, -3.0 * N_PER_MM]);
    f.case().within(beam, 500.0 * MM, [0.0, 0.0, -2500.0], [0.0; 3]);
    f.case().moment(b, [0.0, 3e5 * NMM, 0.0]);
    let mut asked = Asked::even(2001);
    asked.every_beam.push(Station::at(500.0 / 900.0));
    let answer = f.solve_at(&asked);
    let c = &answer.cases;
    close(c[0].reactions[0].force[4].abs(), 303_750.0 * NMM, TIGHT, "uniform: M_A");
    close(c[0].reactions[1].force[2], 1012.5, TIGHT, "uniform: R_B");
    close(at(&c[0], beam, 0.5).displacement[2], -0.4068080357142857 * MM, TIGHT, "uniform: middle");
    let deepest = c[0].beams[0]
        .stations
        .iter()
        .fold(0.0, |top: f64, s| if -s.displacement[2] > top { -s.displacement[2] } else { top });
    close(deepest, 0.4230377839980486 * MM, 1e-6, "uniform: largest deflection");
    close(c[1].reactions[1].force[2], 943.0727023319616, TIGHT, "force: R_B");
    close(
        at(&c[1], beam, 500.0 / 900.0).displacement[2],
        -0.7031085563321512 * MM,
        TIGHT,
        "force: uz under it",
    );
    close(c[2].reactions[0].force[4].abs(), 150_000.0 * NMM, TIGHT, "moment: M_A");
    close(c[2].displacements[1][4], 0.0026785714285714286, TIGHT, "moment: ry at B");
    close(c[2].reactions[1].force[2].abs(), 500.0, TIGHT, "moment: R_B");
}

fn portal(area: f64) -> (Frame, [NodeId; 4]) {
    let mut f = Frame::of(section_mm(area, 2.0e7, 2.0e7, 4e7), steel());
    f.draft.sections.push(section_mm(area, 4.0e7, 4.0e7, 8e7));
    let nodes = [
        f.node(0.0, 0.0, 0.0),
        f.node(0.0, 0.0, 3000.0),
        f.node(5000.0, 0.0, 3000.0),
        f.node(5000.0, 0.0, 0.0),
    ];
    let [a, b, c, d] = nodes;
    for (from, to, section) in [(a, b, 0), (d, c, 0), (b, c, 1)] {
        f.draft.beams.push(Beam::between(
            from,
            to,
            SectionId(section),
            MaterialId(0),
            // Local y along global +y, so that bending in the plane of the frame is about y.
            Orientation::Roll(0.0),
        ));
    }
    f.support(a, CLAMPED);
    f.support(d, CLAMPED);
    f.case().force(b, [10_000.0, 0.0, 0.0]);
    f.case().uniform(BeamId(2), [0.0, 0.0, -12.0 * N_PER_MM]);
    (f, nodes)
}

/// A. Kleinlogel, Rigid Frame Formulas, frame with fixed feet, from memory; k = Ib h / (Ic l) = 1.2.
/// With A = 6000 mm2: an independent 12-dof direct stiffness program.
#[test]
fn portal_with_fixed_feet() {
    // Axially so stiff that 1e-7 of the answer is left; the formulas neglect axial strain.
    let (f, _) = portal(1e9);
    let a = f.solve();
    let foot = |case: usize, support: usize| a.cases[case].reactions[support].force;
    let corner = |case: usize| a.cases[case].beams[0].end_forces[1][4].abs();
    close(foot(0, 0)[4].abs(), 8414634.146341464 * NMM, 1e-5, "sway: M_A");
    close(foot(0, 1)[4].abs(), 8414634.146341464 * NMM, 1e-5, "sway: M_D");
    close(corner(0), 6585365.853658537 * NMM, 1e-5, "sway: M_B");
    close(foot(0, 0)[2].abs(), 2634.146341463415, 1e-5, "sway: vertical");
    close(a.cases[0].displacements[1][0], 3.658536585365854 * MM, 1e-5, "sway: ux");
    close(foot(1, 0)[4].abs(), 7812500.0 * NMM, 1e-5, "gravity: M_A");
    close(corner(1), 15625000.0 * NMM, 1e-5, "gravity: M_B");
    close(foot(1, 0)[0].abs(), 7812.5, 1e-5, "gravity: thrust");

    let (f, _) = portal(6000.0);
    let a = f.solve();
    let foot = |case: usize, support: usize| a.cases[case].reactions[support].force;
    close(a.cases[0].displacements[1][0], 3.6717403479521917 * MM, TIGHT, "ux(B)");
    close(a.cases[0].displacements[2][0], 3.65193804098343 * MM, TIGHT, "ux(C)");
    close(foot(0, 0)[4].abs(), 8436776.301960712 * NMM, TIGHT, "M_A");
    close(foot(0, 1)[4].abs(), 8398656.861045847 * NMM, TIGHT, "M_D");
    close(a.cases[1].displacements[1][2], -0.07142857142856902 * MM, TIGHT, "uz(B)");
    close(foot(1, 0)[4].abs(), 7782719.186785796 * NMM, TIGHT, "gravity: M_A");
}

fn tube_48_3() -> BeamSection {
    let (outer, inner): (f64, f64) = (48.0, 42.0);
    let area = std::f64::consts::PI / 4.0 * (outer.powi(2) - inner.powi(2));
    let inertia = std::f64::consts::PI / 64.0 * (outer.powi(4) - inner.powi(4));
    section_mm(area, inertia, inertia, 2.0 * inertia)
}

/// Castigliano: uz = P (a^3 + b^3) / 3EI + P a b^2 / GJ. S. Timoshenko, Strength of Materials I,
/// from memory.
#[test]
fn right_angle_bent_cantilever() {
    let mut f = Frame::of(tube_48_3(), steel());
    let root = f.node(0.0, 0.0, 0.0);
    let corner = f.node(400.0, 0.0, 0.0);
    let tip = f.node(400.0, 300.0, 0.0);
    f.beam(root, corner);
    f.beam(corner, tip);
    f.support(root, CLAMPED);
    f.case().force(tip, [0.0, 0.0, -800.0]);
    let a = f.solve();
    let moved = a.cases[0].displacements[2];
    close(moved[2], -2.7250105585571256 * MM, TIGHT, "uz");
    close(moved[3], -0.007101043071780236, TIGHT, "rx");
    close(moved[4], 0.0028262857997135267, TIGHT, "ry");
    let r = a.cases[0].reactions[0].force;
    close(r[4].abs(), 320_000.0 * NMM, TIGHT, "root bending");
    close(r[3].abs(), 240_000.0 * NMM, TIGHT, "root torque");
}

/// General bending of an unequal angle: v'' = -Iyz M / E(Iy Iz - Iyz^2) and so on; Timoshenko,
/// Strength of Materials I; T. H. G. Megson, Aircraft Structures; both from memory.
#[test]
fn unequal_angle_bends_askew() {
    let (y_c, z_c) = (11.870967741935484, 26.870967741935484);
    let mut section = section_mm(744.0, 489_963.612903225_8, 150_483.612903225_8, 9_000.0);
    section.i_yz = -157_548.387_096_774_2 * MM4;
    for (name, y, z) in [("a", 0.0, 80.0), ("b", 6.0, 80.0), ("c", 0.0, 0.0), ("d", 50.0, 0.0)] {
        section.stress_points.push(StressPoint {
            name: name.to_owned(),
            y: (y - y_c) * MM,
            z: (z - z_c) * MM,
        });
    }
    let mut f = Frame::of(section, steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(800.0, 0.0, 0.0));
    let beam = f.beam(root, tip);
    f.support(root, CLAMPED);
    f.case().force(tip, [0.0, 0.0, -600.0]);
    let a = f.solve_at(&Asked { every_beam: vec![Station::at(0.0)], ..Asked::default() });
    let moved = a.cases[0].displacements[1];
    close(moved[2], -1.5002796039672261 * MM, TIGHT, "uz");
    close(moved[1], -1.570713430114335 * MM, TIGHT, "uy");
    let stress = &at(&a.cases[0], beam, 0.0).normal_stress;
    for (got, expected) in stress.iter().zip([
        60.1084132174761,
        69.38543941408889,
        -58.03860559494295,
        19.269946043496983,
    ]) {
        close(*got, expected * MPA, TIGHT, "root stress");
    }
}

/// Timoshenko beam; J. S. Przemieniecki, Theory of Matrix Structural Analysis (1968) ch. 5.
#[test]
fn deep_beam_with_shear_flexibility() {
    let (width, depth, length): (f64, f64, f64) = (20.0, 120.0, 240.0);
    let area = width * depth;
    let i_y = width * depth.powi(3) / 12.0;
    let i_z = depth * width.powi(3) / 12.0;
    let mut soft = section_mm(area, i_y, i_z, 4.0 * i_z);
    soft.shear_area_y = Some(5.0 / 6.0 * area * MM2);
    soft.shear_area_z = Some(5.0 / 6.0 * area * MM2);

    let mut f = Frame::of(soft.clone(), steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(length, 0.0, 0.0));
    let beam = f.beam(root, tip);
    f.support(root, CLAMPED);
    f.case().force(tip, [0.0, 0.0, -20_000.0]);
    f.case().uniform(beam, [0.0, 0.0, -100.0 * N_PER_MM]);
    let a = f.solve();
    close(a.cases[0].displacements[1][2], -0.1820952380952381 * MM, TIGHT, "force: uz");
    close(a.cases[1].displacements[1][2], -0.0864 * MM, TIGHT, "uniform: uz");

    f.draft.sections[0].shear_area_z = None;
    let rigid = f.solve();
    close(rigid.cases[0].displacements[1][2], -0.15238095238095237 * MM, TIGHT, "shear off");

    let mut f = Frame::of(soft, steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(length, 0.0, 0.0));
    f.beam(root, tip);
    f.support(root, CLAMPED);
    f.support(tip, CLAMPED);
    f.case().prescribe(tip, Dof::Uz, -MM);
    let a = f.solve();
    close(a.cases[0].reactions[0].force[2].abs(), 294943.8202247191, TIGHT, "settlement: R");
    close(a.cases[0].reactions[0].force[4].abs(), 35393258.426966295 * NMM, TIGHT, "settlement: M");
}

/// Statics and beam tables, derived: the right part hangs on the hinge like a simple beam.
#[test]
fn hinge_within_a_beam() {
    let mut f = Frame::of(section_mm(1000.0, 5e6, 5e6, 1e7), steel());
    let a = f.node(0.0, 0.0, 0.0);
    let hinge = f.node(1500.0, 0.0, 0.0);
    let b = f.node(3500.0, 0.0, 0.0);
    let left = f.beam(a, hinge);
    let right = f.beam(hinge, b);
    f.draft.beams[right.0].releases_start[4] = Release::Free;
    f.support(a, CLAMPED);
    // A roller: the end may turn about y but not spin or leave the plane.
    f.support(b, fixed(&[1, 2]));
    let case = f.case();
    case.uniform(left, [0.0, 0.0, -10.0 * N_PER_MM]);
    case.uniform(right, [0.0, 0.0, -10.0 * N_PER_MM]);
    let answer = f.solve_at(&Asked { every_beam: vec![Station::at(0.0)], ..Asked::default() });
    let c = &answer.cases[0];
    close(c.reactions[1].force[2], 10_000.0, TIGHT, "R_B");
    close(c.reactions[0].force[2], 25_000.0, TIGHT, "R_A");
    close(c.reactions[0].force[4].abs(), 2.625e7 * NMM, TIGHT, "M_A");
    close(c.displacements[1][2], -16.74107142857143 * MM, TIGHT, "uz at the hinge");
    close(c.displacements[1][4], 0.01607142857142857, TIGHT, "ry left of the hinge");
    let end = at(c, right, 0.0);
    close(end.displacement[4], -0.00519593253968254, TIGHT, "ry right of the hinge");
    near(end.forces.m_y, 0.0, 1e-6 * 2.625e7 * NMM, "moment at the hinge");
}

/// Elementary strength of materials, from memory: E A alpha dT, E I alpha (dT/h), 6 E I d / L^2,
/// 4 E I phi / L.
#[test]
fn temperatures_and_prescribed_movements() {
    // One bar between walls.
    let mut section = section_mm(500.0, 4e5, 4e5, 8e5);
    section.stress_points.push(StressPoint { name: "middle".to_owned(), y: 0.0, z: 0.0 });
    let mut f = Frame::of(section, steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1500.0, 0.0, 0.0));
    let beam = f.beam(a, b);
    f.support(a, CLAMPED);
    f.support(b, CLAMPED);
    let warm = |uniform, gradient_z| ThermalLoad { beam, uniform, gradient_y: 0.0, gradient_z };
    f.case().thermal.push(warm(40.0, 0.0));
    f.case().thermal.push(warm(0.0, 30.0 / (60.0 * MM)));
    f.case().prescribe(b, Dof::Uz, -2.0 * MM);
    f.case().prescribe(b, Dof::Ry, 0.003);
    let answer = f.solve_at(&Asked::even(3));
    let c = &answer.cases;
    for station in &c[0].beams[0].stations {
        close(station.forces.n, -50_400.0, TIGHT, "uniform: N");
        close(station.normal_stress[0], -100.8 * MPA, TIGHT, "uniform: stress");
    }
    for station in &c[1].beams[0].stations {
        close(station.forces.m_y.abs(), 504_000.0 * NMM, TIGHT, "gradient: M");
        // Warm at the top, held straight: the top is pressed, so the moment is negative.
        assert!(station.forces.m_y < 0.0);
        near(station.displacement[2], 0.0, 1e-12, "gradient: stays straight");
    }
    close(c[2].reactions[0].force[4].abs(), 448_000.0 * NMM, TIGHT, "settlement: M");
    close(c[2].reactions[0].force[2].abs(), 597.3333333333334, TIGHT, "settlement: V");
    close(c[3].reactions[1].force[4].abs(), 672_000.0 * NMM, TIGHT, "rotation: near");
    close(c[3].reactions[0].force[4].abs(), 336_000.0 * NMM, TIGHT, "rotation: far");
    close(c[3].reactions[0].force[2].abs(), 672.0, TIGHT, "rotation: V");

    // Two bars of different material in series.
    let mut f = Frame::of(section_mm(500.0, 4e5, 4e5, 8e5), steel());
    f.draft.sections.push(section_mm(900.0, 4e5, 4e5, 8e5));
    f.draft.materials.push(Material {
        youngs_modulus: 70_000.0 * MPA,
        shear_modulus: 27_000.0 * MPA,
        density: 2700.0,
        thermal_expansion: 2.3e-5,
    });
    let nodes = [f.node(0.0, 0.0, 0.0), f.node(800.0, 0.0, 0.0), f.node(1500.0, 0.0, 0.0)];
    f.beam(nodes[0], nodes[1]);
    let second = f.beam(nodes[1], nodes[2]);
    f.draft.beams[second.0].section = SectionId(1);
    f.draft.beams[second.0].material = MaterialId(1);
    f.support(nodes[0], CLAMPED);
    f.support(nodes[2], CLAMPED);
    let case = f.case();
    for beam in [BeamId(0), second] {
        case.thermal.push(ThermalLoad { beam, uniform: 40.0, gradient_y: 0.0, gradient_z: 0.0 });
    }
    let answer = f.solve_at(&Asked::even(2));
    let c = &answer.cases[0];
    for beam in &c.beams {
        close(beam.stations[0].forces.n, -54884.74576271187, TIGHT, "series: N");
    }
    close(c.displacements[1][0], -0.03416949152542381 * MM, TIGHT, "series: ux");
}

/// Castigliano; thin-ring formulas in Timoshenko, Strength of Materials II, from memory; out of
/// plane P R^3 (pi / 4EI + (3 pi / 4 - 2) / GJ). A polygon of 32 pieces is off by 4e-4 to 5e-4
/// (the same source of numbers gives its convergence), hence 1e-3.
#[test]
fn quarter_circle_cantilever() {
    let mut f = Frame::of(tube_48_3(), steel());
    let pieces = 32;
    let nodes: Vec<NodeId> = (0..=pieces)
        .map(|i| {
            let t = std::f64::consts::FRAC_PI_2 * f64::from(i) / f64::from(pieces);
            f.node(500.0 * t.sin(), 500.0 * (1.0 - t.cos()), 0.0)
        })
        .collect();
    for pair in nodes.windows(2) {
        f.beam(pair[0], pair[1]);
    }
    f.support(nodes[0], CLAMPED);
    let tip = nodes[32];
    f.case().force(tip, [600.0, 0.0, 0.0]);
    f.case().force(tip, [0.0, 0.0, -600.0]);
    let a = f.solve();
    close(a.cases[0].displacements[32][0], 2.603926373346236 * MM, 1e-3, "in plane: ux");
    close(a.cases[0].displacements[32][1], -1.6543426564776669 * MM, 1e-3, "in plane: uy");
    close(a.cases[1].displacements[32][2], -4.1349367204314404 * MM, 1e-3, "out of plane: uz");
    let root = a.cases[1].reactions[0].force;
    close(root[3].abs(), 300_000.0 * NMM, TIGHT, "root torque");
    close(root[4].abs(), 300_000.0 * NMM, TIGHT, "root bending");
}
