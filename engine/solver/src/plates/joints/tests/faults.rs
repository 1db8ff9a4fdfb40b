//! Joints that miss their plates are told by name.

use super::Bench;
use super::motions::stack;
use crate::plates::model::{Onto, PlateDraft};
use fishplate_quantity::Fault;

fn faults(change: impl FnOnce(&mut PlateDraft)) -> Vec<Fault> {
    let Bench { mut draft, .. } = stack();
    change(&mut draft);
    draft.validate().err().unwrap_or_default()
}

#[track_caller]
fn told(change: impl FnOnce(&mut PlateDraft), path: &str, words: &[&str]) {
    let faults = faults(change);
    let fault = faults.iter().find(|f| f.path == path);
    let Some(fault) = fault else { panic!("no fault at {path}: {faults:?}") };
    for word in words {
        assert!(fault.given.contains(word), "`{word}` is missing in {fault}");
    }
    assert!(!fault.allowed.is_empty() && !fault.advice.is_empty());
}

#[test]
fn a_sound_structure_has_no_faults() {
    assert_eq!(faults(|_| {}), []);
}

#[test]
fn a_seam_off_its_plate() {
    told(
        |d| d.seams[0].path = vec![[0.02, 0.06, 4e-3], [0.08, 0.06, 4e-3]],
        "seams[0].edge",
        &["fillet", "standing", "10.0"],
    );
    told(
        |d| d.seams[0].path = vec![[0.02, 0.05, 0.03], [0.08, 0.05, 0.03]],
        "seams[0].onto",
        &["fillet", "lower", "30.000 mm"],
    );
}

#[test]
fn a_seam_longer_than_its_plate() {
    told(|d| d.seams[0].path[1] = [0.12, 0.0475, 4e-3], "seams[0].edge", &["fillet", "standing"]);
}

#[test]
fn a_seam_without_length_or_on_itself() {
    told(|d| d.seams[0].path[1] = d.seams[0].path[0], "seams[0].path[1]", &["fillet", "0 m"]);
    told(|d| d.seams[0].path.truncate(1), "seams[0].path", &["fillet"]);
    told(|d| d.seams[0].onto = d.seams[0].edge, "seams[0].onto", &["fillet"]);
    told(|d| d.seams[0].leg_on = [1.0, 0.0, 0.0], "seams[0].leg_on", &["fillet"]);
    told(|d| d.seams[0].leg_on = [0.0, 0.0, 1.0], "seams[0].leg_up", &["fillet"]);
}

#[test]
fn a_spot_outside_its_plate() {
    told(|d| d.spots[0].centre = [0.09, 0.07, 4e-3], "spots[0].plates[0]", &["plug", "upper"]);
    told(|d| d.spots[0].centre = [0.17, 0.07, 0.04], "spots[0].plates[1]", &["plug", "lower"]);
}

#[test]
fn a_bolt_that_misses() {
    let at = |d: &mut PlateDraft, x: f64| {
        d.bolts[0].head[0] = x;
        d.bolts[0].nut[0] = x;
    };
    told(|d| at(d, 0.05), "bolts[0].head", &["M10", "upper"]);
    told(|d| at(d, 0.25), "bolts[0].nut", &["M10", "lower"]);
    told(|d| d.bolts[0].through.clear(), "bolts[0].through", &["M10"]);
    told(|d| d.bolts[0].through.reverse(), "bolts[0].nut", &["M10", "upper"]);
    told(
        |d| {
            let last = d.bolts[0].through[1];
            d.bolts[0].through.push(last);
        },
        "bolts[0].through[2]",
        &["M10", "lower"],
    );
    told(|d| d.bolts[0].nut = d.bolts[0].head, "bolts[0].nut", &["M10", "no length"]);
}

#[test]
fn a_bolt_and_its_hole() {
    told(|d| d.bolts[0].head_bearing = 11e-3, "bolts[0].head_bearing", &["M10", "11.000 mm"]);
    told(|d| d.bolts[0].diameter = 12e-3, "bolts[0].hole", &["M10", "12.000 mm"]);
}

#[test]
fn faces_that_never_face_each_other() {
    told(|d| d.contacts[0].bridged = 0.05, "contacts[0]", &["faces", "upper", "lower"]);
    told(|d| d.contacts[0].onto = Onto::Plate(d.contacts[0].of), "contacts[0].onto", &["faces"]);
    let ground = Onto::Ground { point: [0.0, 0.0, -0.2], normal: [0.0, 0.0, 1.0] };
    told(|d| d.contacts[0].onto = ground, "contacts[0]", &["faces", "the ground"]);
}
