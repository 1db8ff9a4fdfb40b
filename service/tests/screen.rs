//! Studies judge many designs by a part of their rows, under loads found once: neither may change a
//! row by a bit.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail like tests")]

use fishplate_mounts::answer::{Row, State};
use fishplate_mounts::describe::{Form, Project};
use fishplate_mounts::study::screen::{Prepared, Quick, Scope, Until};
use fishplate_mounts::{Depth, Options, RunToEnd, check};
use fishplate_proto::json::from_json;
use fishplate_quantity::written::Written;
use fishplate_quantity::{Length, Mass};
use fishplate_service::described;

const DESIGNS: [&str; 3] = [
    include_str!("../../tests/data/van_a.json"),
    include_str!("../../tests/data/van_b.json"),
    include_str!("../../tests/data/van_c.json"),
];

fn designs() -> impl Iterator<Item = Project> {
    DESIGNS.into_iter().map(|text| described(from_json("Project", text).unwrap()).unwrap())
}

/// All rows, by a check of its own.
fn whole(project: &Project) -> Vec<Row> {
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    check(project, options, &RunToEnd).unwrap().rows
}

/// Every number of a row, bit by bit, which `==` does not compare.
fn bits(row: &Row) -> Vec<u64> {
    let State::Checked(g) = &row.state else { return Vec::new() };
    let own = [g.utilisation, g.demand, g.resistance];
    let others = row.alternatives.iter().filter_map(|a| a.utilisation);
    own.into_iter()
        .chain(row.by_case.iter().copied())
        .chain(others)
        .chain(row.life)
        .map(f64::to_bits)
        .collect()
}

fn alike<'r>(scoped: &[Row], whole: impl Iterator<Item = &'r Row>) {
    let whole: Vec<&Row> = whole.collect();
    assert!(!whole.is_empty());
    assert_eq!(scoped.iter().collect::<Vec<_>>(), whole);
    for (a, b) in scoped.iter().zip(whole) {
        assert_eq!(bits(a), bits(b), "{} {}", a.id, a.what);
    }
}

/// The project with the sheet of every folded bracket, or else of every plate, half a millimetre
/// thicker.
fn thicker(project: &Project) -> Project {
    let mut other = project.clone();
    let more = |w: &mut Written<Length>| w.value = Length::from_mm(w.value.as_mm() + 0.5);
    for part in &mut other.parts {
        match &mut part.form {
            Form::Folded(folded) => more(&mut folded.thickness),
            Form::Plate(plate) => more(&mut plate.thickness),
            _ => {}
        }
    }
    other
}

#[test]
fn the_rows_of_a_scope_are_those_of_the_whole_check() {
    for project in designs() {
        let all = whole(&project);
        let prepared = Prepared::of(&project).unwrap();
        let mounts = all.iter().filter_map(|row| row.mount).max().unwrap() + 1;
        for mount in 0..mounts {
            let rows = prepared.rows(&project, &Scope::mounts([mount]), &RunToEnd).unwrap();
            alike(&rows, all.iter().filter(|row| row.mount == Some(mount)));
        }
        let none = Scope::mounts([]).and_whole();
        let rows = prepared.rows(&project, &none, &RunToEnd).unwrap();
        alike(&rows, all.iter().filter(|row| row.mount.is_none()));
        let rows = prepared.rows(&project, &Scope::everything(), &RunToEnd).unwrap();
        alike(&rows, all.iter());
    }
}

#[test]
fn loads_found_for_one_design_serve_another_of_the_same_car() {
    for project in designs() {
        let other = thicker(&project);
        assert_ne!(whole(&other), whole(&project));
        let prepared = Prepared::of(&project).unwrap();
        let rows = prepared.rows(&other, &Scope::everything(), &RunToEnd).unwrap();
        alike(&rows, whole(&other).iter());
    }
}

#[test]
fn another_car_gets_loads_of_its_own() {
    for project in designs() {
        let mut heavier = project.clone();
        let mass = heavier.cradle.mass.value.as_kg() + 40.0;
        heavier.cradle.mass = Written::exact(Mass::from_kg(mass));
        let prepared = Prepared::of(&project).unwrap();
        let rows = prepared.rows(&heavier, &Scope::everything(), &RunToEnd).unwrap();
        alike(&rows, whole(&heavier).iter());
    }
}

#[test]
fn a_quick_verdict_counts_the_rows_and_stops_where_one_exceeds() {
    let mut exceeding = 0;
    for project in designs() {
        let all = whole(&project);
        let prepared = Prepared::of(&project).unwrap();
        let ask =
            |until| prepared.verdict(&project, &Scope::everything(), until, &RunToEnd).unwrap();
        let Quick {
            governing, exceeding: over, holding, not_checked, outside, rules_broken, ..
        } = ask(Until::TheEnd);
        let count = |is: &dyn Fn(&Row) -> bool| all.iter().filter(|row| is(row)).count();
        assert_eq!(over, count(&Row::exceeds));
        assert_eq!(rules_broken, count(&Row::breaks_rule));
        assert_eq!(not_checked, count(&|row| row.governing().is_none()));
        assert_eq!(outside, count(&|row| row.governing().is_some() && row.outside.is_some()));
        assert_eq!(over + holding + not_checked + rules_broken, all.len());
        let governing = governing.unwrap();
        let row = all.iter().find(|row| row.id == governing.row).unwrap();
        assert_eq!(row.governing().unwrap().utilisation.to_bits(), governing.utilisation.to_bits());
        assert_eq!(row.governing().unwrap().case, governing.case);
        let counts = all
            .iter()
            .filter(|row| row.kind != fishplate_mounts::answer::RowKind::Detailing)
            .filter_map(|row| row.governing());
        assert!(counts.into_iter().all(|g| g.utilisation <= governing.utilisation));
        let early = ask(Until::ARowExceeds);
        assert_eq!(early.holds(), over == 0);
        assert_eq!(early.exceeding, over.min(1));
        exceeding += over;
    }
    assert!(exceeding > 1, "one of the designs does not hold");
}
