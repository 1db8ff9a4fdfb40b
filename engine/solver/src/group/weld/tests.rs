use super::*;

fn straight(from: [f64; 3], to: [f64; 3], throat: f64) -> WeldRun {
    let path = Path::Straight { from: Vec3::from(from), to: Vec3::from(to) };
    WeldRun::new(path, throat, Vec3::new(3.0, -2.0, 1.0), Vec3::new(1.0, 2.0, -3.0)).unwrap()
}

/// A web from y = 0 to `d` at x = 0, and two flanges to x = `b`.
fn channel(b: f64, d: f64, throat: f64) -> WeldGroup {
    let run = |x0, y0, x1, y1| straight([x0, y0, 0.0], [x1, y1, 0.0], throat);
    let runs = vec![run(0.0, 0.0, 0.0, d), run(0.0, 0.0, b, 0.0), run(0.0, d, b, d)];
    WeldGroup::new(runs).unwrap()
}

fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance * expected.abs(), "{got} against {expected}");
}

fn integral(group: &WeldGroup, answer: &WeldAnswer) -> Wrench {
    // Simpson over each piece: exact for the quadratic r × q of a straight run.
    let zero = Wrench::of_force(Vec3::zeros(), Vec3::zeros());
    group.runs().iter().zip(&answer.runs).fold(zero, |sum, (run, points)| {
        assert_eq!(points.len(), 3);
        let sixth = run.path().length() / 6.0;
        points.iter().zip([1.0, 4.0, 1.0]).fold(sum, |sum, (p, weight)| {
            sum.plus(&Wrench::of_force(p.line_force * (sixth * weight), p.at))
        })
    })
}

// Elastic line method (Blodgett 1966; Shigley, chapter on welding; from memory, derived): C weld
// 70 × 110 mm, throat 4 mm, 12 kN down in its plane at x = 190 mm.
#[test]
fn channel_shaped_weld_under_an_eccentric_force() {
    let group = channel(0.070, 0.110, 0.004);
    let load = Wrench::of_force(Vec3::new(0.0, -12e3, 0.0), Vec3::new(0.19, 0.055, 0.0));
    let answer = group.solve(&load, 0).unwrap();
    let [web, low, high] = &answer.runs[..] else { panic!("three runs went in") };
    for (point, x, y) in [
        (high[1], 168.600_74e3, -202.499_59e3),
        (low[1], -168.600_74e3, -202.499_59e3),
        (web[1], 168.600_74e3, 12.083_173e3),
        (web[0], -168.600_74e3, 12.083_173e3),
    ] {
        near(point.line_force.x, x, 1e-7);
        near(point.line_force.y, y, 1e-7);
        assert!(point.line_force.z.abs() < 1e-6);
    }
    near(answer.worst().1.resultant, 65.875_02e6, 1e-7);
}

// Shigley's Mechanical Engineering Design, 9th ed. in SI (2011), Example 9-1 (inputs and
// answers 44 and 37 MPa from memory): legs 6 mm, 56-190-56, 25 kN at 100 mm from the web.
#[test]
fn published_fitting_on_a_channel() {
    let group = channel(0.056, 0.190, 0.707 * 0.006);
    let load = Wrench::of_force(Vec3::new(0.0, -25e3, 0.0), Vec3::new(-0.1, 0.095, 0.0));
    let answer = group.solve(&load, 0).unwrap();
    near(answer.runs[0][0].resultant, 44e6, 0.01);
    near(answer.runs[1][1].resultant, 37e6, 0.01);
    near(group.line_properties().centroid.x, 0.056 * 0.056 / (2.0 * 0.056 + 0.19), 1e-12);
}

// "A Beginner's Guide to the Steel Construction Manual", Example 5.4 (read): 4-11-4 in, leg
// 1/2 in, 52 kip at 10 degrees from the vertical, 416 kip in. In kip and in throughout.
#[test]
fn published_weld_under_an_inclined_force() {
    let group = channel(4.0, 11.0, 0.3535);
    let centroid = group.line_properties().centroid;
    near(centroid.x, 0.842, 1e-3);
    near(0.3535 * group.line_properties().j_z(), 135.15, 2e-3);
    near(group.throat_area(), 6.72, 2e-3);
    let (sin, cos) = 10.0_f64.to_radians().sin_cos();
    let turn =
        Wrench { force: Vec3::zeros(), moment: Vec3::new(0.0, 0.0, -416.0), about: centroid };
    let alone = group.solve(&turn, 0).unwrap().runs[2][1].stress;
    near(alone.x, 16.93, 2e-3);
    near(-alone.y, 9.72, 2e-3);
    let load = Wrench { force: Vec3::new(52.0 * sin, -52.0 * cos, 0.0), ..turn };
    near(group.solve(&load, 0).unwrap().worst().1.resultant, 25.2, 2e-3);
}

// Line method by hand: 40 × 60 mm all round, throat 3 mm; S_w = b d + d²/3 = 3600 mm²,
// J_w = (b + d)³/6; M = 0.9 kN m, T = 0.15 kN m, and 4 kN carried by the upright runs alone.
#[test]
fn stub_on_a_plate_in_bending_shear_and_torsion() {
    let corner = |y: f64, z: f64| Vec3::new(0.0, y, z);
    let run = |a: Vec3, b: Vec3, outward: Vec3| {
        WeldRun::new(Path::Straight { from: a, to: b }, 0.003, Vec3::x(), outward).unwrap()
    };
    let left = run(corner(0.02, -0.03), corner(0.02, 0.03), Vec3::y());
    let right = run(corner(-0.02, -0.03), corner(-0.02, 0.03), -Vec3::y());
    let top = run(corner(-0.02, 0.03), corner(0.02, 0.03), Vec3::z());
    let low = run(corner(-0.02, -0.03), corner(0.02, -0.03), -Vec3::z());
    let all = WeldGroup::new(vec![left, right, top, low]).unwrap();
    let uprights = WeldGroup::new(vec![left, right]).unwrap();
    let about = Vec3::zeros();
    // At the upper left corner: pull from the bending, and a turn that adds to the shear.
    let moments = Wrench { force: Vec3::zeros(), moment: Vec3::new(150.0, 900.0, 0.0), about };
    let shear = Wrench::of_force(Vec3::new(0.0, 0.0, 4e3), about);
    let a = all.solve(&moments, 0).unwrap().runs[0][1];
    let b = uprights.solve(&shear, 0).unwrap().runs[0][1];
    near(a.line_force.x, 250e3, 1e-9);
    near(a.line_force.y, -27e3, 1e-9);
    near(a.line_force.z, 18e3, 1e-9);
    near(b.line_force.z, 33.333_333e3, 1e-7);
    let one = a.toward_one + b.toward_one;
    let two = a.toward_two + b.toward_two;
    let root_two = std::f64::consts::SQRT_2;
    near((one - two) / root_two, 65.29e6, 1e-4);
    near((one + two) / root_two, 52.56e6, 1e-4);
    near(a.parallel + b.parallel, 17.11e6, 1e-3);
}

/// Two upright runs 80 mm long, 60 mm apart, throat of a 4 mm fillet, in the x, z plane.
fn foot() -> (WeldGroup, Wrench) {
    let throat = 0.004 * std::f64::consts::FRAC_1_SQRT_2;
    let run = |x| straight([x, 0.0, -0.04], [x, 0.0, 0.04], throat);
    let load = Wrench {
        force: Vec3::new(-7136.99, 2402.87, -5297.75),
        moment: Vec3::new(-195.3, 285.5, 392.5),
        about: Vec3::zeros(),
    };
    (WeldGroup::new(vec![run(-0.03), run(0.03)]).unwrap(), load)
}

// Own recomputation by the plane formulas: normal F_y/A + M_x z/I_x - M_z x/I_z, in the plane
// F/A and M_y r/J; greatest resultant 71.1 MPa.
#[test]
fn bracket_foot_under_six_components() {
    let (group, load) = foot();
    let answer = group.solve(&load, 1).unwrap();
    near(answer.worst().1.resultant, 71.1e6, 1e-3);
    let a = group.throat_area();
    let t = group.runs()[0].throat();
    let i_x = 2.0 * t * 0.08_f64.powi(3) / 12.0;
    let i_z = a * 0.03 * 0.03;
    let (f, m) = (load.force, load.moment);
    let by_hand = |x: f64, z: f64| {
        let turn = m.y / (i_x + i_z);
        let normal = f.y / a - m.x * z / i_x + m.z * x / i_z;
        Vec3::new(f.x / a + turn * z, normal, f.z / a - turn * x).norm()
    };
    let corners = [(-0.03, -0.04), (-0.03, 0.04), (0.03, -0.04), (0.03, 0.04)];
    let largest =
        corners.iter().map(|&(x, z)| by_hand(x, z)).fold(0.0, |a, b| if b > a { b } else { a });
    near(answer.worst().1.resultant, largest, 1e-12);
}

// Statics: the stresses integrate back to the load they answer.
#[test]
fn stresses_give_back_the_load() {
    let (group, load) = foot();
    let back = integral(&group, &group.solve(&load, 1).unwrap()).moved_to(load.about);
    assert!((back.force - load.force).norm() < 1e-9 * load.force.norm());
    assert!((back.moment - load.moment).norm() < 1e-9 * load.moment.norm());
}

// Mechanics: turning and moving the whole joint with its load turns the stresses with it.
#[test]
fn a_turned_joint_has_the_same_stresses() {
    let (group, load) = foot();
    let turn = nalgebra::Rotation3::from_euler_angles(0.7, -1.1, 2.3);
    let shift = Vec3::new(0.33, 0.425, 0.46);
    let turned = |run: &WeldRun| {
        let Path::Straight { from, to } = run.path else { panic!("straight runs went in") };
        let path = Path::Straight { from: turn * from + shift, to: turn * to + shift };
        WeldRun { path, leg_one: turn * run.leg_one, leg_two: turn * run.leg_two, ..*run }
    };
    let other = WeldGroup::new(group.runs().iter().map(turned).collect()).unwrap();
    let moved = Wrench {
        force: turn * load.force,
        moment: turn * load.moment,
        about: turn * load.about + shift,
    };
    let (a, b) = (group.solve(&load, 1).unwrap(), other.solve(&moved, 1).unwrap());
    for (p, q) in a.runs.iter().flatten().zip(b.runs.iter().flatten()) {
        let size = p.resultant;
        assert!((turn * p.stress - q.stress).norm() < 1e-9 * size);
        assert!((p.parallel - q.parallel).abs() < 1e-9 * size);
        assert!((p.toward_one - q.toward_one).abs() < 1e-9 * size);
        assert!((p.toward_two - q.toward_two).abs() < 1e-9 * size);
    }
}

// Blodgett 1966, Table 5: J_w = π D³/4 for a ring, so the torsion stress is 2 T/(π D² a).
#[test]
fn a_ring_in_torsion() {
    let path = Path::Arc {
        centre: Vec3::zeros(),
        axis: Vec3::z(),
        start: Vec3::new(0.01, 0.0, 0.0),
        sweep: std::f64::consts::TAU,
    };
    let ring = WeldRun::new(path, 0.003, Vec3::x(), Vec3::z()).unwrap();
    let group = WeldGroup::new(vec![ring]).unwrap();
    let torsion =
        Wrench { force: Vec3::zeros(), moment: Vec3::new(0.0, 0.0, 50.0), about: Vec3::zeros() };
    let answer = group.solve(&torsion, 7).unwrap();
    for p in &answer.runs[0] {
        near(p.parallel, 2.0 * 50.0 / (std::f64::consts::PI * 4e-4 * 0.003), 1e-9);
        assert!(p.toward_one.abs() < 1e-6 * p.parallel);
    }
}

#[test]
fn one_straight_run_turns_about_itself() {
    let group = WeldGroup::new(vec![straight([0.0; 3], [0.0, 0.0, 0.08], 0.003)]).unwrap();
    let load = Wrench { force: Vec3::x(), moment: Vec3::z() * 1e-3, about: Vec3::zeros() };
    let Err(GroupError::Singular { free }) = group.solve(&load, 0) else {
        panic!("a straight run cannot hold a turn about itself");
    };
    let [crate::group::FreeMotion::Turn { axis, .. }] = free[..] else {
        panic!("one turn is free");
    };
    assert!(axis.cross(&Vec3::z()).norm() < 1e-6);
}

// Blodgett 1966, Table 5, line of depth d = 110 mm: A_w = d, S_w = d²/6. A force across the line
// at its end is F/d and F (d/2)/S_w: 4 F/d at the near end, -2 F/d at the far one.
#[test]
fn one_straight_run_under_a_force_across_its_line() {
    let (d, throat, force) = (0.11, 0.001, 1.0);
    let group = WeldGroup::new(vec![straight([0.0; 3], [0.0, d, 0.0], throat)]).unwrap();
    let middle = Wrench::of_force(Vec3::z() * force, Vec3::new(0.0, d / 2.0, 0.0));
    for p in &group.solve(&middle, 3).unwrap().runs[0] {
        near(p.line_force.z, force / d, 1e-12);
        assert!(p.line_force.xy().norm() < 1e-12 * force / d);
    }
    let end = Wrench::of_force(Vec3::z() * force, Vec3::new(0.0, d, 0.0));
    let points = &group.solve(&end, 0).unwrap().runs[0];
    near(points[1].line_force.z, 4.0 * force / d, 1e-12);
    near(points[0].line_force.z, -2.0 * force / d, 1e-12);
}

#[test]
fn a_run_without_length_or_throat_is_refused() {
    let path = Path::Straight { from: Vec3::zeros(), to: Vec3::zeros() };
    assert!(WeldRun::new(path, 0.003, Vec3::x(), Vec3::y()).is_err());
    let path = Path::Straight { from: Vec3::zeros(), to: Vec3::z() };
    assert!(WeldRun::new(path, 0.0, Vec3::x(), Vec3::y()).is_err());
    assert!(WeldRun::new(path, 0.003, Vec3::z(), Vec3::y()).is_err());
}

// Statics of a ring of radius r: a force in its plane gives F/(2 π r) everywhere, a torque
// T/(2 π r²) along the tangent. They add where the tangent runs along the force: a quarter turn
// before the direction of the force.
#[test]
fn greatest_stress_on_a_ring_lies_between_the_looks() {
    let (r, throat, force, torque) = (0.03, 0.003, 2e3, 40.0);
    for degrees in [0.0, 1.7, 2.5, 33.3, 91.2, 179.9, 268.4, 359.0_f64] {
        let angle = degrees.to_radians();
        let direction = Vec3::new(angle.cos(), angle.sin(), 0.0);
        for sweep in [std::f64::consts::TAU, -std::f64::consts::TAU] {
            let start = Vec3::new(r, 0.0, 0.0);
            let path = Path::Arc { centre: Vec3::zeros(), axis: Vec3::z(), start, sweep };
            let ring = WeldRun::new(path, throat, Vec3::x(), Vec3::z()).unwrap();
            let group = WeldGroup::new(vec![ring]).unwrap();
            let load = Wrench {
                force: direction * force,
                moment: Vec3::z() * torque,
                about: Vec3::zeros(),
            };
            let answer = group.solve(&load, 0).unwrap();
            let round = 2.0 * std::f64::consts::PI * r;
            let expected = force / round + torque / (round * r);
            near(answer.greatest[0].line_force.norm(), expected, 1e-10);
            near(answer.worst().1.resultant, expected / throat, 1e-10);
            let at = answer.greatest[0].at;
            near(at.dot(&Vec3::z().cross(&-direction)), r, 1e-9);
        }
    }
}
