use super::*;

fn group(places: &[(f64, f64)], area: f64) -> BoltGroup {
    let bolt = |&(x, y): &(f64, f64)| Bolt { x: x * 1e-3, y: y * 1e-3, area };
    BoltGroup::new(places.iter().map(bolt).collect()).unwrap()
}

fn force(f: [f64; 3], at: [f64; 3]) -> Wrench {
    Wrench::of_force(Vec3::from(f), Vec3::from(at) * 1e-3)
}

fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance * expected.abs(), "{got} against {expected}");
}

// Shigley's Mechanical Engineering Design, 9th ed. in SI (2011), Example 8-7 p. 457 (inputs and
// r = 96.0 mm read; 21.0 kN and 14.8 kN from memory): four M16 at (±75, ±60) mm, 16 kN at
// 425 mm. Exact values by the vector formula on paper.
#[test]
fn published_eccentric_bracket_in_shear() {
    let g = group(&[(75.0, 60.0), (75.0, -60.0), (-75.0, 60.0), (-75.0, -60.0)], 157e-6);
    let shear = g.shear(&force([0.0, -16e3, 0.0], [425.0, 0.0, 0.0])).unwrap();
    let resultant: Vec<f64> = shear.iter().map(|[x, y]| x.hypot(*y)).collect();
    near(resultant[0], 21.0e3, 0.01);
    near(resultant[2], 14.8e3, 0.01);
    near(resultant[0], 20_972.559, 1e-7);
    near(resultant[1], 20_972.559, 1e-7);
    near(resultant[2], 14_788.848, 1e-7);
    near(resultant[3], 14_788.848, 1e-7);
    near(shear[0][0], 11_056.911, 1e-7);
    near(shear[0][1], -17_821.138, 1e-7);
    let spread = g.spread();
    near((spread.xx + spread.yy) / 157e-6, 36_900e-6, 1e-9);
    near(((spread.xx + spread.yy) / g.area()).sqrt(), 0.096, 1e-3);
}

// Rigid-flange elastic distribution (common textbook practice; derived): five equal bolts,
// force (3000, -9000, 6000) N at (120, 30, 80) mm.
#[test]
fn five_bolt_flange_under_a_general_load() {
    let places = [(-45.0, -40.0), (45.0, -40.0), (45.0, 40.0), (-45.0, 40.0), (0.0, 60.0)];
    let g = group(&places, 1e-4);
    let load = force([3000.0, -9000.0, 6000.0], [120.0, 30.0, 80.0]);
    near(g.centroid().y, 0.012, 1e-12);
    let normal = g.tension_about_centroid(&load).unwrap();
    let shear = g.shear(&load).unwrap();
    let tension = [-6106.3218, -772.98851, 6364.9425, 1031.6092, 5482.7586];
    let resultant = [3015.1113, 5498.2777, 5321.742, 2679.6971, 4143.2954];
    for i in 0..5 {
        near(normal[i], tension[i], 1e-7);
        near(shear[i][0].hypot(shear[i][1]), resultant[i], 1e-7);
    }
    near(shear[2][0], 2426.9275, 1e-7);
    near(shear[2][1], -4736.1335, 1e-7);
}

// The same flange as a rigid body on springs in space: a second method, other equations.
#[test]
fn five_bolt_flange_as_a_body_on_springs() {
    use crate::group::ElasticBody;
    use nalgebra::Matrix3;
    let places = [(-45.0, -40.0), (45.0, -40.0), (45.0, 40.0), (-45.0, 40.0), (0.0, 60.0)];
    let g = group(&places, 1e-4);
    let load = force([3000.0, -9000.0, 6000.0], [120.0, 30.0, 80.0]);
    let mut body = ElasticBody::new();
    for b in g.bolts() {
        body.add(Vec3::new(b.x, b.y, 0.0), Matrix3::identity() * 1e8, Matrix3::zeros());
    }
    let motion = body.solve(&load).unwrap();
    let normal = g.tension_about_centroid(&load).unwrap();
    for (b, n) in g.bolts().iter().zip(normal) {
        near(1e8 * motion.at(Vec3::new(b.x, b.y, 0.0)).z, n, 1e-10);
    }
}

// Pivot-edge method of the machine-design textbooks: rows at 40, 110, 170 mm above the edge,
// two bolts each, M = 4e6 N mm; T_i = M d_i/Σd².
#[test]
fn foot_pivoting_on_its_lower_edge() {
    let places: Vec<(f64, f64)> =
        [40.0, 110.0, 170.0].iter().flat_map(|&y| [(-20.0, y), (20.0, y)]).collect();
    let g = group(&places, 84.3e-6);
    let edges = Edges { x_min: -0.04, x_max: 0.04, y_min: 0.0, y_max: 0.2 };
    let moment =
        Wrench { force: Vec3::zeros(), moment: Vec3::new(4000.0, 0.0, 0.0), about: Vec3::zeros() };
    let t = g.tension_about_edge(&moment, &edges).unwrap();
    near(t[0].total, 1877.9343, 1e-7);
    near(t[2].total, 5164.3192, 1e-7);
    near(t[4].total, 7981.2207, 1e-7);
}

// Linear distribution about the lower edge and about the centroid, by hand: rows at 30, 90,
// 150 mm, M = 1.26 kN m: 0.6, 1.8, 3.0 kN; closed joint: 1260·0.06/(4·0.06²) = 5.25 kN.
#[test]
fn bracket_on_a_wall_both_ways() {
    let places: Vec<(f64, f64)> =
        [30.0, 90.0, 150.0].iter().flat_map(|&y| [(-30.0, y), (30.0, y)]).collect();
    let g = group(&places, 58e-6);
    let edges = Edges { x_min: -0.05, x_max: 0.05, y_min: 0.0, y_max: 0.18 };
    // 9 kN down at 140 mm from the wall pulls the upper bolts.
    let load = force([0.0, -9000.0, 0.0], [0.0, 90.0, 140.0]);
    let t = g.tension_about_edge(&load, &edges).unwrap();
    near(t[0].total, 600.0, 1e-9);
    near(t[2].total, 1800.0, 1e-9);
    near(t[4].total, 3000.0, 1e-9);
    near(g.tension_about_centroid(&load).unwrap()[5], 5250.0, 1e-9);
    near(g.shear(&load).unwrap()[0][1], -1500.0, 1e-9);
}

// Statics: two bolts 60 mm apart in a row along x. M_y about the row's middle gives M/60 mm;
// M_x turns about the row and nothing holds it.
#[test]
fn two_bolts_in_a_row_hold_one_moment_only() {
    let g = group(&[(-30.0, 0.0), (30.0, 0.0)], 84.3e-6);
    let about_y =
        Wrench { force: Vec3::zeros(), moment: Vec3::new(0.0, 60.0, 0.0), about: Vec3::zeros() };
    let t = g.tension_about_centroid(&about_y).unwrap();
    near(t[0], 1000.0, 1e-12);
    near(t[1], -1000.0, 1e-12);
    let about_x = Wrench { moment: Vec3::new(60.0, 0.0, 0.0), ..about_y };
    assert!(matches!(g.tension_about_centroid(&about_x), Err(GroupError::Singular { .. })));
}

#[test]
fn one_bolt_holds_no_turn() {
    let g = group(&[(10.0, 20.0)], 84.3e-6);
    let through = force([100.0, 50.0, 30.0], [10.0, 20.0, 0.0]);
    assert_eq!(g.shear(&through).unwrap(), vec![[100.0, 50.0]]);
    let beside = force([100.0, 50.0, 30.0], [10.0, 80.0, 0.0]);
    assert!(matches!(g.shear(&beside), Err(GroupError::Singular { .. })));
}

#[test]
fn a_push_never_relieves_the_pivot_bolts() {
    let g = group(&[(-30.0, 0.0), (30.0, 0.0)], 84.3e-6);
    let edges = Edges { x_min: -0.05, x_max: 0.05, y_min: -0.04, y_max: 0.04 };
    let push = force([0.0, 0.0, -5000.0], [0.0; 3]);
    let t = g.tension_about_edge(&push, &edges).unwrap();
    assert!(t.iter().all(|t| t.total.abs() < 1e-12));
    let narrow = Edges { x_max: 0.02, ..edges };
    let outside = g.tension_about_edge(&push, &narrow);
    assert_eq!(outside, Err(GroupError::OutsideFace { index: 1 }));
}
