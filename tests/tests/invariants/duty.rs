//! Laws of loads that come back.

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::{LoadFamily, State};
use fishplate_tests::project::checked;

/// The demo with a duty of every family.
fn van(distance_km: f64, duties: &[(LoadFamily, f64, f64)]) -> v1::Project {
    let text = include_str!("../../data/van_a.json");
    let mut p: v1::Project = from_json("Project", text).expect("the fixture is a project");
    let family = |&(family, share, per_100_km): &(LoadFamily, f64, f64)| {
        let blocks = vec![v1::DutyBlock { share, per_100_km }];
        v1::FamilyDuty { family: family.into(), blocks, ..Default::default() }
    };
    let families = duties.iter().map(family).collect();
    p.duty = Some(v1::Duty { distance_km, assumed: false, families });
    p
}

const ALL: [(LoadFamily, f64, f64); 4] = [
    (LoadFamily::Vertical, 0.5, 20.0),
    (LoadFamily::Drive, 0.5, 50.0),
    (LoadFamily::Brake, 0.5, 10.0),
    (LoadFamily::Corner, 0.5, 20.0),
];

/// Component, title and use of every row under repeated load.
fn lasting(p: &v1::Project) -> Vec<(String, String, f64)> {
    let rows = checked(p).rows.into_iter();
    let own = rows.filter(|r| r.notes.iter().any(|n| n.contains("duty over")));
    let told = |r: v1::Row| r.utilisation.map(|u| (r.component, r.what, u));
    let list: Vec<_> = own.filter_map(told).collect();
    assert!(list.len() > 8, "{list:?}");
    list
}

/// Every row of the first is in the second, and uses no less there.
#[track_caller]
fn assert_no_less(less: &[(String, String, f64)], more: &[(String, String, f64)]) {
    for (component, what, before) in less {
        let found = more.iter().find(|(c, w, _)| c == component && w == what);
        let Some((_, _, after)) = found else { panic!("{component}, {what} is lost") };
        assert!(*after >= before * (1.0 - 1e-12), "{component}, {what}: {before}, then {after}");
    }
}

#[test]
fn a_longer_way_and_larger_swings_never_do_less_harm() {
    let base = lasting(&van(100_000.0, &ALL));
    assert_no_less(&base, &lasting(&van(250_000.0, &ALL)));
    let larger = ALL.map(|(family, share, often)| (family, 1.3 * share, often));
    assert_no_less(&base, &lasting(&van(100_000.0, &larger)));
    let oftener = ALL.map(|(family, share, often)| (family, share, 3.0 * often));
    assert_no_less(&base, &lasting(&van(100_000.0, &oftener)));
    // One family more than before.
    assert_no_less(&lasting(&van(100_000.0, &ALL[..3])), &base);
}

#[test]
fn damage_grows_with_the_way_and_the_life_stays() {
    let rows = |km: f64| checked(&van(km, &ALL)).rows;
    let (one, two) = (rows(100_000.0), rows(200_000.0));
    let mut seen = 0;
    for (a, b) in one.iter().zip(&two) {
        assert_eq!(a.what, b.what);
        let (Some(life), Some(again)) = (a.life_km, b.life_km) else { continue };
        assert!((again / life - 1.0).abs() < 1e-9, "{}: {life} km, {again} km", a.what);
        if a.clause.contains("EN 1993-1-9") {
            let [u, v] = [a, b].map(|row| row.utilisation.unwrap());
            assert!((v - 2.0 * u).abs() <= 1e-9 * v, "{}: {u}, {v}", a.what);
            seen += 1;
        }
    }
    assert!(seen > 0);
}

#[test]
fn left_and_right_last_alike() {
    let rows = lasting(&van(100_000.0, &ALL));
    let mirrored = |text: &str| text.replace(" left", " right");
    let mut pairs = 0;
    for (component, what, left) in rows.iter().filter(|(c, _, _)| c.ends_with(" left")) {
        let twin = rows
            .iter()
            .find(|(c, w, _)| *c == mirrored(component) && *w == mirrored(what))
            .unwrap_or_else(|| panic!("no twin of {component}, {what}"));
        assert!(
            (left - twin.2).abs() <= 1e-6 * left + 1e-12,
            "{component}, {what}: {left}, {twin:?}"
        );
        pairs += 1;
    }
    assert!(pairs > 3, "{rows:?}");
}

#[test]
fn a_duty_changes_no_other_row() {
    let with = van(100_000.0, &ALL);
    let without = v1::Project { duty: None, ..with.clone() };
    let strip = |p: &v1::Project| -> Vec<(String, Option<f64>, State)> {
        let rows = checked(p).rows.into_iter();
        let other = rows.filter(|r| r.notes.iter().all(|n| !n.contains("duty over")));
        other.map(|r| (r.what.clone(), r.utilisation, r.state())).collect()
    };
    assert_eq!(strip(&with), strip(&without));
}
