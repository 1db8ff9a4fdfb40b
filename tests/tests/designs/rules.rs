//! The same small design by other rules: a row of the weld and one of the bolt by hand.
//!
//! AISC 360-16: J2.4, 0.60 FEXX on the throat, and J3.6 with Table J3.2, 0.45 of the tensile
//! strength on the nominal area with threads in the plane; phi 0.75 (LRFD, loads with their factor),
//! omega 2.00 (ASD, loads without). Plain allowable stress: fu/(√3 n), n 2 for bolts, 3 and a share
//! of 0.85 for welds (common practice, no source).

use std::f64::consts::PI;

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::State;

use crate::bench::{FORWARD, GAMMA, UP, assert_near, check, row, single_bracket, used};
use crate::welds::two_lines;

const FEXX: f64 = 482.0;
const AMERICAN_WELD: &str = "fillet weld, same strength in any direction";

fn by(pack: &str, format: &str) -> v1::Project {
    let mut p = single_bracket(5.0);
    p.rules =
        Some(v1::Rules { pack: pack.to_owned(), format: format.to_owned(), ..Default::default() });
    p.weld_metal = Some(v1::Stress { value_mpa: FEXX, ..Default::default() });
    p
}

fn throat() -> f64 {
    5.0 / 2.0_f64.sqrt()
}

/// Use of the left bush bolt in plain shear, towed.
#[track_caller]
fn bolt_in_shear(a: &v1::CheckProjectResponse) -> f64 {
    let mut found = a
        .rows
        .iter()
        .filter(|r| r.component == "bolt.bush left" && r.what.ends_with(": bolt in shear"));
    let row = found.next().expect("a bolt is checked in shear");
    assert!(found.next().is_none(), "two rows");
    used(a, row, "tow")
}

#[test]
fn american_rules_with_load_and_resistance_factors() {
    for format in ["", "LRFD"] {
        let a = check(&by("AISC 360", format));
        let weld = row(&a, "weld.foot left", AMERICAN_WELD);
        let available = 0.75 * 0.60 * FEXX * throat();
        let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
        assert_near("weld", used(&a, weld, "tow"), q / available);
        assert!(weld.clause.contains("AISC 360"), "{}", weld.clause);
        let area = PI / 4.0 * 144.0;
        assert_near("bolt", bolt_in_shear(&a), GAMMA * FORWARD / (0.75 * 0.45 * 800.0 * area));
        assert_eq!(a.rules.as_ref().unwrap().pack, "AISC 360");
    }
}

#[test]
fn american_rules_by_allowable_strength_take_loads_without_factor() {
    let a = check(&by("AISC 360", "ASD"));
    assert!(
        a.assumptions.iter().any(|told| told.contains("no load factor")),
        "{:?}",
        a.assumptions
    );
    let weld = row(&a, "weld.foot left", AMERICAN_WELD);
    let available = 0.60 * FEXX * throat() / 2.00;
    assert_near("weld", used(&a, weld, "tow"), two_lines(FORWARD, UP) / available);
    let area = PI / 4.0 * 144.0;
    assert_near("bolt", bolt_in_shear(&a), FORWARD / (0.45 * 800.0 * area / 2.00));
    // What the project says about loads changes nothing here.
    let mut p = by("AISC 360", "ASD");
    p.factors.as_mut().unwrap().normal = fishplate_tests::project::number(1.2);
    let other = check(&p);
    let same = used(&other, row(&other, "weld.foot left", AMERICAN_WELD), "tow");
    assert_near("no load factor", same, used(&a, weld, "tow"));
}

#[test]
fn plain_allowable_stress_takes_loads_without_factor() {
    let a = check(&by("plain allowable", ""));
    let weld = row(&a, "weld.foot left", "throat of the fillet weld");
    let allowed = 0.85 * 360.0 / (3.0_f64.sqrt() * 3.0);
    assert_near("weld", used(&a, weld, "tow"), two_lines(FORWARD, UP) / throat() / allowed);
    // Stress area of M12, ISO 898-1, tabled to a tenth: 84.3 mm².
    let bolt = FORWARD / 84.3 / (800.0 / (3.0_f64.sqrt() * 2.0));
    let got = bolt_in_shear(&a);
    assert!((got / bolt - 1.0).abs() < 1e-3, "got {got}, by hand {bolt}");
    // By a qualified welder: safety 2 and all of the strength.
    let mut p = by("plain allowable", "");
    p.rules.as_mut().unwrap().national = "qualified welder".to_owned();
    let better = check(&p);
    let got = used(&better, row(&better, "weld.foot left", "throat of the fillet weld"), "tow");
    let allowed = 360.0 / (3.0_f64.sqrt() * 2.0);
    assert_near("qualified", got, two_lines(FORWARD, UP) / throat() / allowed);
}

#[test]
fn american_welds_need_their_weld_metal() {
    let mut p = by("AISC 360", "");
    p.weld_metal = None;
    let a = check(&p);
    let weld = row(&a, "weld.foot left", AMERICAN_WELD);
    assert_eq!(weld.state(), State::NotChecked);
    assert!(weld.not_checked_reason.contains("f_exx"), "{}", weld.not_checked_reason);
    assert_ne!(a.verdict(), v1::Verdict::Holds, "{}", a.sentence);
    // Twice as strong, half the use.
    p.weld_metal = Some(v1::Stress { value_mpa: 2.0 * FEXX, ..Default::default() });
    let strong = check(&p);
    let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
    let got = used(&strong, row(&strong, "weld.foot left", AMERICAN_WELD), "tow");
    assert_near("twice", got, q / (0.75 * 0.60 * 2.0 * FEXX * throat()));
}

#[test]
fn a_factor_of_ones_own_is_used_and_told() {
    let mut p = by("EN 1993", "");
    p.rules.as_mut().unwrap().factors.push(v1::FactorChoice {
        symbol: "gamma_m2".to_owned(),
        value: 1.5,
        reason: "the client wants it".to_owned(),
    });
    let a = check(&p);
    let weld = row(&a, "weld.foot left", "fillet weld, simplified method");
    let allowed = 360.0 / (3.0_f64.sqrt() * 0.8 * 1.5);
    let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
    assert_near("weld", used(&a, weld, "tow"), q / throat() / allowed);
    let step = weld.derivation.iter().find(|s| s.symbol == "gamma_m2").unwrap();
    assert_near("step", step.value, 1.5);
    assert!(step.source.contains("the client wants it"), "{}", step.source);
    let used = a.rules.unwrap();
    let told = used.factors.iter().find(|f| f.symbol == "gamma_m2").unwrap();
    assert!(told.source.contains("the client wants it"), "{}", told.source);
    let other = used.factors.iter().find(|f| f.symbol == "gamma_m1").unwrap();
    assert!(other.source.contains("EN 1993"), "{}", other.source);
}

#[test]
fn the_german_annex_raises_the_factor_on_buckling_alone() {
    let van = |national: &str| {
        let text = include_str!("../../data/van_a.json");
        let mut p: v1::Project = from_json("Project", text).expect("the fixture is a project");
        p.rules = Some(v1::Rules {
            pack: "EN 1993".to_owned(),
            national: national.to_owned(),
            ..Default::default()
        });
        check(&p)
    };
    let (plain, german) = (van(""), van("DE"));
    assert_eq!(plain.rows.len(), german.rows.len());
    let mut raised = 0;
    for (one, other) in plain.rows.iter().zip(&german.rows) {
        let (Some(u), Some(v)) = (one.utilisation, other.utilisation) else { continue };
        // DIN EN 1993-1-1/NA: gamma_M1 1.1 in place of 1.0 (from memory).
        let Some(step) = other.derivation.iter().find(|s| s.symbol == "gamma_m1") else {
            assert_near(&other.what, v, u);
            continue;
        };
        assert_near(&other.what, step.value, 1.1);
        assert!(step.source.contains("DIN EN 1993-1-1/NA"), "{}", step.source);
        assert!(v >= u * (1.0 - 1e-9) && v <= 1.1 * u * (1.0 + 1e-9), "{}: {u}, {v}", other.what);
        raised += usize::from((v - 1.1 * u).abs() <= 1e-6 * v);
    }
    assert!(raised > 0, "a strut that buckles is used 1.1 times as much");
}

#[test]
fn strengths_of_the_standard_in_place_of_the_product_standard() {
    // S355 up to 16 mm: EN 10025-2 470 MPa, EN 1993-1-1:2005, Table 3.1, 510, with A1:2014 490;
    // beta_w 0.9.
    for (strengths, fu) in
        [("", 470.0), ("EN 1993-1-1:2005", 510.0), ("EN 1993-1-1:2005/A1:2014", 490.0)]
    {
        let mut p = by("EN 1993", "");
        p.rules.as_mut().unwrap().strengths = strengths.to_owned();
        p.parts[0].steel = "S355".to_owned();
        p.rails[0].steel = "S355".to_owned();
        let a = check(&p);
        let weld = row(&a, "weld.foot left", "fillet weld, simplified method");
        let allowed = fu / (3.0_f64.sqrt() * 0.9 * 1.25);
        let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
        assert_near(strengths, used(&a, weld, "tow"), q / throat() / allowed);
    }
}
