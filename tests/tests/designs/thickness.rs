//! Which gauge reading a wall is checked with: the least under the foot and two thicknesses of its
//! plate each side; outside every reading the lesser neighbour. The wall's resistance against a
//! foot that tilts across the rail is EN 1993-1-8:2005, Table 7.14, chord face failure:
//! m = fy t² (h1 (1 + β)/(2 (1 - β)) + √(2 b0 b1 (1 + β)/(1 - β))), β = b1/b0.

use fishplate_proto::v1;
use fishplate_proto::v1::Verdict;

use crate::bench::{
    GAMMA, UP, assert_all_near, assert_near, check, extent_of, reading, row, single_bracket, used,
};

const BENDING: &str = "bending of the wall under the foot";

/// By hand: foot 60 along the rail and 80 of its height of 100, fy 235, moment 55 x 1.5 x 1962.
fn bent(t: f64) -> f64 {
    let (b0, b1, h1) = (100.0_f64, 80.0, 60.0);
    let beta = b1 / b0;
    let lines = h1 * (1.0 + beta) / (2.0 * (1.0 - beta))
        + (2.0 * b0 * b1 * (1.0 + beta) / (1.0 - beta)).sqrt();
    55.0 * GAMMA * UP / (235.0 * t * t * lines)
}

fn with(readings: &[(f64, f64)], right: &[(f64, f64)]) -> v1::CheckProjectResponse {
    let mut p = single_bracket(5.0);
    let list = |l: &[(f64, f64)]| l.iter().map(|(x, t)| reading(*x, *t)).collect();
    p.rails[0].readings = list(readings);
    p.rails[0].readings_right = list(right);
    check(&p)
}

fn standing(a: &v1::CheckProjectResponse, side: &str) -> f64 {
    used(a, row(a, &format!("rail.frame {side}.web"), BENDING), "stand")
}

#[test]
fn the_least_reading_under_the_foot_decides() {
    // Foot 270 to 330 and 10 each side: 260 to 340. Readings beyond do not count.
    let list = [(250.0, 1.2), (262.0, 2.6), (300.0, 2.2), (335.0, 2.4), (345.0, 1.4)];
    let a = with(&list, &[(300.0, 2.8)]);
    assert_near("left", standing(&a, "left"), bent(2.2));
    assert_near("right, its own reading", standing(&a, "right"), bent(2.8));
    // A thin spot just inside the window does.
    let a = with(&[(262.0, 2.0), (300.0, 2.2)], &[(338.0, 1.9), (300.0, 2.2)]);
    assert_near("rear edge", standing(&a, "left"), bent(2.0));
    assert_near("front edge", standing(&a, "right"), bent(1.9));
}

#[test]
fn between_readings_the_lesser_neighbour_decides_whatever_their_order() {
    let a = with(&[(500.0, 2.1), (0.0, 2.7), (-400.0, 1.0)], &[(0.0, 2.0), (500.0, 2.7)]);
    assert_near("lesser ahead", standing(&a, "left"), bent(2.1));
    assert_near("lesser behind", standing(&a, "right"), bent(2.0));
    let a = with(&[(-400.0, 2.3)], &[(600.0, 2.4)]);
    assert_near("only one behind", standing(&a, "left"), bent(2.3));
    assert_near("only one ahead", standing(&a, "right"), bent(2.4));
}

#[test]
fn strength_goes_with_what_is_left_and_geometry_with_what_was_new() {
    let a = with(&[(300.0, 2.0)], &[(300.0, 2.0)]);
    assert_near("strength", standing(&a, "left"), bent(2.0));
    // The face stays where it was drawn: the bracket still stands on y 425.
    let rail = extent_of(&a, "rail.frame left");
    assert_all_near("geometry", rail, [-700.0, 700.0, 380.0, 425.0, 420.0, 520.0]);
    let row = row(&a, "rail.frame left.web", BENDING);
    assert!(row.derivation.iter().any(|s| s.symbol == "t_wall" && (s.value - 2.0).abs() < 1e-9));
}

#[test]
fn a_side_that_was_not_measured_is_a_guess() {
    let a = with(&[(300.0, 2.2)], &[]);
    assert_near("taken over", standing(&a, "right"), bent(2.2));
    let told =
        |list: &[String]| list.iter().any(|t| t.contains("rail.frame right: thickness taken over"));
    assert!(told(&a.assumptions), "{:?}", a.assumptions);
    assert!(told(&a.provisional_reasons), "{:?}", a.provisional_reasons);
    assert_ne!(a.verdict(), Verdict::Holds);
    let wall = row(&a, "rail.frame right.web", BENDING);
    let thickness = wall.derivation.iter().find(|s| s.symbol == "t_wall").unwrap();
    assert!(thickness.guessed, "{thickness:?}");
    let wall = row(&a, "rail.frame left.web", BENDING);
    let thickness = wall.derivation.iter().find(|s| s.symbol == "t_wall").unwrap();
    assert!(!thickness.guessed, "{thickness:?}");
}

#[test]
fn a_plate_all_round_helps_by_its_own_bending_and_not_by_its_sum() {
    // Side by side two plates resist with fy (t1² + t2²), not (t1 + t2)²; both of mild steel here.
    use crate::bench::{bracket, car, fillet, land, part, plate};
    use fishplate_proto::v1::WeldPath;
    let mut p = car();
    p.rails[0].readings = vec![reading(300.0, 2.0)];
    let web = "rail.frame.web.outboard";
    p.parts.push(part("pad", &["mount.front"], plate(web, 4.0, [0.0, 45.0], [160.0, 90.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(fillet("pad", ["part.pad", "rail.frame.web"], 5.0, WeldPath::AllRound));
    land(&mut p, "part.bracket.floor");
    let a = check(&p);
    let wall = row(&a, "rail.frame left.web", BENDING);
    assert_near(
        "with the plate",
        used(&a, wall, "stand"),
        bent((2.0_f64.powi(2) + 4.0_f64.powi(2)).sqrt()),
    );
    let alone = wall.alternatives.iter().find(|o| o.what.contains("old wall alone")).unwrap();
    let worst = alone.utilisation.unwrap();
    assert!(worst >= bent(2.0) - 1e-9, "alone {worst}");
}
