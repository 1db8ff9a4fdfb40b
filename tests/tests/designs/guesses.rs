//! What is not measured: `~` and `±`. A guess never lets an answer hold; where it has a spread both
//! ends are tried. The slip of the bush bolt goes with 1/friction (VDI 2230 Part 1), so the two
//! ends follow from the middle by hand.

use fishplate_proto::v1;
use fishplate_proto::v1::{State, Verdict};
use fishplate_tests::project::{case, number};

use crate::bench::{assert_near, check, row, single_bracket, used};

const SLIP: &str = "slip of a joint tightened by torque wrench";

fn friction(value: f64, guessed: bool, spread: Option<(f64, f64)>) -> v1::Project {
    let mut p = single_bracket(6.0);
    // A box keeps the rail itself well below the slip of the bolt.
    p.rails = vec![crate::bench::box_rail()];
    p.bolts[0].friction =
        Some(v1::Number { value, guessed, low: spread.map(|s| s.0), high: spread.map(|s| s.1) });
    p
}

fn slip(a: &v1::CheckProjectResponse) -> f64 {
    used(a, row(a, "bolt.bush left", SLIP), "tow")
}

#[test]
fn both_ends_of_a_guess_are_tried() {
    let a = check(&friction(0.12, true, Some((0.10, 0.14))));
    let middle = slip(&a);
    let guess = a.guesses.iter().find(|g| g.field_path.contains("bolts[0].friction")).unwrap();
    // Slip governs all rows at both ends here.
    let most = a
        .rows
        .iter()
        .filter_map(|r| r.utilisation)
        .fold(0.0, |m: f64, u| if u > m { u } else { m });
    assert_near("slip governs", most, middle);
    assert_near("low end", guess.utilisation_low.unwrap(), middle * 0.12 / 0.10);
    assert_near("high end", guess.utilisation_high.unwrap(), middle * 0.12 / 0.14);
    let worse = a.rows.iter().find(|r| r.id == guess.row_id).unwrap();
    assert!(worse.what.contains(SLIP), "{}", worse.what);
}

#[test]
fn a_guess_without_a_spread_is_named_and_not_tried() {
    let a = check(&friction(0.12, true, None));
    let guess = a.guesses.iter().find(|g| g.field_path.contains("bolts[0].friction")).unwrap();
    assert_eq!((guess.utilisation_low, guess.utilisation_high), (None, None));
    assert!(guess.value.contains("0.12"), "{}", guess.value);
    let named = |r: &String| r.starts_with("guessed") && r.contains("0.12");
    assert!(a.provisional_reasons.iter().any(named), "{:?}", a.provisional_reasons);
}

#[test]
fn a_guess_changes_no_number_but_the_verdict() {
    let guessed = check(&friction(0.12, true, None));
    let measured = check(&friction(0.12, false, None));
    assert!((slip(&guessed) - slip(&measured)).abs() < 1e-12);
    assert!(measured.guesses.is_empty(), "{:?}", measured.guesses);
    let step = |a: &v1::CheckProjectResponse| {
        let row = row(a, "bolt.bush left", SLIP);
        row.derivation.iter().find(|s| s.symbol == "mu").unwrap().guessed
    };
    assert!(step(&guessed) && !step(&measured));
}

#[test]
fn a_guess_alone_makes_a_sound_design_provisional() {
    // Everything checked and holding: front and rear land, all cases the rule asks for are there.
    let sound = sound();
    let a = check(&sound);
    assert!(a.rows.iter().all(|r| r.state() == State::Holds), "{:#?}", open(&a));
    assert_eq!(a.verdict(), Verdict::Holds, "{:#?}", a.provisional_reasons);
    let mut p = sound;
    p.bolts[0].friction.as_mut().unwrap().guessed = true;
    let a = check(&p);
    assert_eq!(a.verdict(), Verdict::Provisional);
    assert_eq!(a.provisional_reasons.len(), 1, "{:#?}", a.provisional_reasons);
}

fn open(a: &v1::CheckProjectResponse) -> Vec<String> {
    let open = a.rows.iter().filter(|r| r.state() != State::Holds);
    open.map(|r| format!("{} {} {:?} {}", r.component, r.what, r.utilisation, r.not_checked_reason))
        .collect()
}

/// Light loads on strong joints: both mounts on brackets, small motor, the road set.
fn sound() -> v1::Project {
    let mut p = single_bracket(6.0);
    let both = vec!["mount.front".to_owned(), "mount.rear".to_owned()];
    p.parts[0].datums = both.clone();
    p.welds[0].datums = both.clone();
    p.bolts[0].datums = both;
    p.bolts[0].through[0] = "mount".to_owned();
    p.bolts[0].thread = "M16".to_owned();
    p.bolts[0].class = "10.9".to_owned();
    p.bolts[0].hole = fishplate_tests::project::mm(17.0);
    p.bolts[0].washer_outside_mm = Some(40.0);
    p.bolts[0].friction = number(0.3);
    for mount in &mut p.mounts {
        mount.lands = "bolt.bush".to_owned();
        mount.seat = fishplate_tests::project::mm(0.0);
    }
    let mut rail = crate::bench::box_rail();
    if let Some(v1::rail::Section::Box(section)) = &mut rail.section {
        section.wall_mm = 5.0;
    }
    rail.readings = [-300.0, 300.0].map(|x| crate::bench::reading(x, 5.0)).to_vec();
    rail.readings_right = rail.readings.clone();
    p.rails = vec![rail];
    p.cases.clear();
    p.set_case_set(v1::CaseSet::Road);
    p.cases.push(case("back", v1::CaseKind::DriveBackwards));
    p
}

#[test]
fn an_unknown_steel_is_a_guess_that_is_tried_and_says_how_to_find_out() {
    use crate::bench::{car, folded, land};
    use fishplate_proto::v1::part::Form;
    // Rails 235/360, plate 200/330 (common practice): the weld takes the weaker.
    let mut p = single_bracket(5.0);
    p.rails[0].steel = "unknown".to_owned();
    let known = check(&single_bracket(5.0));
    let worn = vec![crate::bench::reading(300.0, 1.4)];
    p.rails[0].readings = worn;
    let a = check(&p);
    let weld = |a: &v1::CheckProjectResponse| {
        used(a, row(a, "weld.foot left", "fillet weld, simplified method"), "tow")
    };
    assert_near("as mild steel", weld(&a), weld(&known));
    assert_ne!(a.verdict(), Verdict::Holds);
    let guess = a.guesses.iter().find(|g| g.field_path == "rails[0].steel").unwrap();
    let (low, high) = (guess.utilisation_low.unwrap(), guess.utilisation_high.unwrap());
    // The worn wall governs, and goes with 1/fy: 180 to 280 MPa.
    assert_near("both ends", low / high, 280.0 / 180.0);
    let told = |a: &v1::CheckProjectResponse, field: &str| {
        a.assumptions
            .iter()
            .any(|t| t.contains(&format!("steel unknown at {field}")) && t.contains("hardness"))
    };
    assert!(told(&a, "rails[0]"), "{:?}", a.assumptions);
    let wall = row(&a, "rail.frame left.web", "bending of the wall");
    let f_y = wall.derivation.iter().find(|s| s.symbol == "f_y").unwrap();
    assert!(f_y.guessed && f_y.source.contains("rails[0].steel"), "{f_y:?}");

    let mut p = single_bracket(5.0);
    p.parts[0].steel = "unknown".to_owned();
    let a = check(&p);
    assert_near("plate", weld(&a), weld(&known) * 360.0 / 330.0);
    assert!(told(&a, "parts[0]"), "{:?}", a.assumptions);

    // Thin sheet is taken for deep-drawn: 170/290.
    let mut p = car();
    let mut thin = folded("rail.frame.web.outboard", [0.0, 40.0]);
    thin.thickness = fishplate_tests::project::mm(1.4);
    let mut bracket = crate::bench::part("bracket", &["mount.front"], Form::Folded(thin));
    bracket.steel = "unknown".to_owned();
    p.parts.push(bracket);
    let foot = ["part.bracket", "rail.frame.web"];
    p.welds.push(crate::bench::fillet("foot", foot, 5.0, v1::WeldPath::Walls));
    land(&mut p, "part.bracket.floor");
    let a = check(&p);
    assert_near("sheet", weld(&a), weld(&known) * 360.0 / 290.0);

    // A steel of the project that is called so is one like any other.
    let mut p = single_bracket(5.0);
    p.steels[0].name = "unknown".to_owned();
    p.rails[0].steel = "unknown".to_owned();
    p.parts[0].steel = "unknown".to_owned();
    let a = check(&p);
    assert_near("its own", weld(&a), weld(&known));
    assert!(a.guesses.is_empty(), "{:?}", a.guesses);
}
