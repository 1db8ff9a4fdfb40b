//! What if: mass that is added, a mount that is lost. The car of the bench stands on four springs; what
//! three of them carry follows from statics.

use fishplate_proto::v1;
use fishplate_proto::v1::mass_to_add::Place;
use fishplate_tests::project::{kg, mm};
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;

use crate::bench::{UP, assert_near, car, check, single_bracket};

fn asked(request: &v1::AskWhatIfRequest) -> v1::WhatIf {
    service::ask_what_if(request).unwrap_or_else(|s| panic!("refused: {:?}", Refusal::of(&s)))
}

fn standing_alone(mut p: v1::Project) -> v1::Project {
    p.cases.retain(|c| c.name == "stand");
    p
}

fn loss(mount: &str, side: v1::Side, kind: v1::LossKind) -> Option<v1::MountLoss> {
    let mut loss = v1::MountLoss { mount: mount.to_owned(), ..Default::default() };
    loss.set_side(side);
    loss.set_kind(kind);
    Some(loss)
}

fn up(mount: &v1::WhatIfMount, after: bool) -> f64 {
    let used = if after { &mount.after } else { &mount.before };
    used.as_ref().expect("it carries something").force_z_n
}

/// Moments about both middle lines: with front left gone its neighbours take twice as much each and
/// the mount across nothing. All four stand on 3000 N/mm, so the corner sinks by what its neighbours
/// sink together.
#[test]
fn three_mounts_carry_what_statics_says() {
    let answer = asked(&v1::AskWhatIfRequest {
        project: Some(standing_alone(car())),
        lost: loss("front", v1::Side::Left, v1::LossKind::Mount),
        ..Default::default()
    });
    let ids: Vec<_> = answer.mounts.iter().map(|m| m.mount_id.as_str()).collect();
    assert_eq!(ids, ["FL", "FR", "RL", "RR"]);
    for mount in &answer.mounts {
        assert_near("before", up(mount, false), UP);
    }
    // What is lost keeps 0.1 N/mm so that the solve stands: 0.3 N at 2.6 mm.
    for (mount, want) in answer.mounts.iter().zip([0.0, 2.0 * UP, 2.0 * UP, 0.0]) {
        assert!((up(mount, true) - want).abs() < 0.5, "{mount:?} {want}");
    }
    let lifted = answer.mounts[0].after.as_ref().unwrap().movement.as_ref().unwrap().z_mm;
    assert!((lifted - 4.0 * UP / 3000.0).abs() < 1e-3, "{lifted}");
    assert!(answer.moves.is_empty());
    assert!(answer.assumptions.iter().any(|a| a.contains("mount front left carries nothing")));
}

/// A bush without stiffness rests on its stop: 2.616 mm of movement would close one of 1 mm, which is
/// then a spring of 1000 N/mm behind a gap.
#[test]
fn a_dead_bush_still_has_its_stop() {
    let mut p = standing_alone(car());
    p.bushes[0].stop = mm(1.0);
    p.bushes[0].stop_rate = fishplate_tests::project::n_per_mm(1000.0);
    let ask = |kind| {
        let lost = loss("front", v1::Side::Left, kind);
        asked(&v1::AskWhatIfRequest { project: Some(p.clone()), lost, ..Default::default() })
    };
    let carried = |answer: &v1::WhatIf| up(&answer.mounts[0], true);
    assert!(carried(&ask(v1::LossKind::Mount)) < 1.0);
    assert!(carried(&ask(v1::LossKind::Bush)) > 100.0);
}

#[test]
fn a_cradle_that_is_not_held_says_which_way_it_goes() {
    let mut p = car();
    p.mounts[1].set_only(v1::Side::Left);
    let answer = asked(&v1::AskWhatIfRequest {
        project: Some(p),
        lost: loss("rear", v1::Side::Left, v1::LossKind::Mount),
        ..Default::default()
    });
    // Two mounts at x 300, z 420 are left: it turns about the line through them.
    assert!(answer.after.is_none());
    let [told] = &answer.moves[..] else { panic!("one movement: {:?}", answer.moves) };
    assert!(told.contains("the cradle from turning about a line across the car"), "{told}");
    assert!(told.contains("x 300") && told.contains("z 420 mm"), "{told}");
}

/// Half of the car, 9810 N, stands on the rear axle, and each mount pushes up a quarter of that less
/// 1962 N of cradle and wheels: with m more over the axle every linear row is used by
/// 1 + 9.81 m / 7848 times as much.
#[test]
fn the_mass_at_which_the_first_row_gives_follows_from_its_use() {
    let mut p = single_bracket(6.0);
    p.rails[0].readings.iter_mut().for_each(|r| r.thickness = mm(1.4));
    let p = standing_alone(p);
    let before = check(&p);
    let added = v1::MassToAdd { mass: kg(80.0), place: Some(Place::Axle(v1::Axle::Rear.into())) };
    let answer =
        asked(&v1::AskWhatIfRequest { project: Some(p), added: Some(added), ..Default::default() });
    let (was, is) = (answer.before.as_ref().unwrap(), answer.after.as_ref().unwrap());
    assert_near("rear axle before", was.rear_axle_n, 9810.0);
    assert_near("rear axle after", is.rear_axle_n, 9810.0 + 80.0 * 9.81);
    assert_near("front axle after", is.front_axle_n, 9810.0);
    let more = 1.0 + 80.0 * 9.81 / 7848.0;
    let wall = before.rows.iter().find(|r| r.what.contains("bending of the wall")).unwrap();
    let own = answer.rows.iter().find(|r| r.row.as_ref().unwrap().id == wall.id).unwrap();
    let after = own.after.as_ref().unwrap().utilisation;
    assert_near("wall after", after, wall.utilisation.unwrap() * more);

    let limit = answer.limit.as_ref().unwrap();
    assert!(limit.exceeding.is_empty(), "{:?}", limit.exceeding);
    let first = &limit.rows[0];
    assert_eq!(first.id, wall.id, "the thin wall gives first");
    let by_hand = 7848.0 / 9.81 * (1.0 / wall.utilisation.unwrap() - 1.0);
    let mass = limit.mass_kg.unwrap();
    // Known to 0.01 kg.
    assert!((mass - by_hand).abs() < 0.011, "{mass} {by_hand}");
}

#[test]
fn fields_are_set_and_what_does_not_fit_is_told() {
    let p = single_bracket(6.0);
    let mut after = p.clone();
    after.welds[0].leg = mm(3.0);
    let changes = fishplate_proto::changes::between("Project", &p, &after).unwrap();
    let answer =
        asked(&v1::AskWhatIfRequest { project: Some(p.clone()), changes, ..Default::default() });
    let weld = |r: &&v1::WhatIfRow| {
        r.row.as_ref().is_some_and(|r| r.component == "weld.foot left") && r.after.is_some()
    };
    let weld = answer.rows.iter().find(weld).unwrap();
    // Half the leg, twice the stress in the throat (statics).
    let [was, is] = [&weld.before, &weld.after].map(|u| u.as_ref().unwrap().utilisation);
    assert_near("weld", is, 2.0 * was);

    let refused = |request: v1::AskWhatIfRequest| {
        let request = v1::AskWhatIfRequest { project: Some(p.clone()), ..request };
        let status = service::ask_what_if(&request).expect_err("it cannot be asked");
        Refusal::of(&status).fields.into_iter().map(|(field, _)| field).collect::<Vec<_>>()
    };
    assert_eq!(refused(v1::AskWhatIfRequest::default()), [""]);
    let nowhere = v1::MassToAdd { mass: kg(80.0), place: None };
    assert_eq!(
        refused(v1::AskWhatIfRequest { added: Some(nowhere), ..Default::default() }),
        ["added"]
    );
    let nothing = v1::MassToAdd { mass: kg(0.0), place: Some(Place::Axle(1)) };
    assert_eq!(
        refused(v1::AskWhatIfRequest { added: Some(nothing), ..Default::default() }),
        ["added.mass.value_kg"]
    );
    let lost = Some(v1::MountLoss { mount: "moon".to_owned(), ..Default::default() });
    assert_eq!(
        refused(v1::AskWhatIfRequest { lost, ..Default::default() }),
        ["lost.mount", "lost.side", "lost.kind"]
    );
}
