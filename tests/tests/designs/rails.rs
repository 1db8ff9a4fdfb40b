//! The rail as a beam between the places where the body holds it: held against moving and twisting
//! at x 0 and 600, loaded half way by the front bracket. Source: statics; Bredt's formula for the
//! twist of a closed section, Saint-Venant's for an open one.

use fishplate_proto::v1;
use fishplate_proto::v1::{Opening, State, WeldPath};

use crate::bench::{
    GAMMA, UP, assert_near, box_rail, channel, check, fillet, lid, part, reading, row,
    single_bracket, used,
};

fn on(mut rail: v1::Rail) -> v1::Project {
    rail.held_x_mm = vec![0.0, 600.0];
    let mut p = single_bracket(5.0);
    p.rails = vec![rail];
    p
}

#[test]
fn a_box_between_two_holds_bends_and_twists() {
    let a = check(&on(box_rail()));
    // Half of 2943 N at each hold, M = F L/4 half way; the bush is 480 - 395 = 85 beside the middle
    // of the box, half of that twist goes each way.
    let force = GAMMA * UP;
    let (shear, moment, twist) = (force / 2.0, force * 600.0 / 4.0, force * 85.0 / 2.0);
    // Hollow rectangle 100 x 60 x 3 with sharp corners; shear on the half of the area that stands
    // upright; Bredt: T/(2 x 97 x 57 x 3).
    let i = (60.0 * 100.0_f64.powi(3) - 54.0 * 94.0_f64.powi(3)) / 12.0;
    let area = 60.0 * 100.0 - 54.0 * 94.0;
    let tau = shear / (area / 2.0) + twist / (2.0 * 97.0 * 57.0 * 3.0);
    let sigma = moment * 50.0 / i;
    let by_hand = (sigma * sigma + 3.0 * tau * tau).sqrt() / 235.0;
    let got = used(&a, row(&a, "rail.frame left", "as a beam: first yield"), "stand");
    // The second moment is that of thin lines, a thousandth less: 1261062 against 1262372 mm⁴.
    assert!((got / by_hand - 1.0).abs() < 0.002, "got {got}, by hand {by_hand}");
    let right = used(&a, row(&a, "rail.frame right", "as a beam: first yield"), "stand");
    assert_near("right", right, got);
}

#[test]
fn the_seam_of_a_boxing_plate_carries_the_shear_flow_of_the_box() {
    // Channel 100 x 45 x 3 closed by 3 mm: walls' middle lines 97 x 45, alike on both sides, so its
    // middle is 24 inside the web's face, at y 401; the bush is 79 beside it.
    let mut p = on(channel(Opening::Inward));
    p.parts.push(part("lid", &[], lid(3.0, -50.0, 650.0)));
    p.welds.push(fillet("lid", ["part.lid", "rail.frame"], 5.0, WeldPath::LongEdges));
    let a = check(&p);
    let force = GAMMA * UP;
    // Twist: T/(2 A); shear: never more than V over the height.
    let q = force * 79.0 / 2.0 / (2.0 * 97.0 * 45.0) + force / 2.0 / 100.0;
    // EN 1993-1-8:2005, 4.5.3.3: 360/(√3 x 0.8 x 1.25) on a throat of 5/√2.
    let allowed = 360.0 / (3.0_f64.sqrt() * 0.8 * 1.25) * 5.0 / 2.0_f64.sqrt();
    let words = "shear flow of the box: fillet weld, simplified";
    let seam = row(&a, "weld.lid left", words);
    assert_near("standing", used(&a, seam, "stand"), q / allowed);
    // Stitched 40 and 40, each stitch carries for its gap too.
    let stitched = p.welds.iter_mut().find(|w| w.name == "lid").unwrap();
    stitched.stitch_on_mm = Some(40.0);
    stitched.stitch_off_mm = Some(40.0);
    let a = check(&p);
    let seam = row(&a, "weld.lid left", words);
    assert_near("stitched", used(&a, seam, "stand"), 2.0 * q / allowed);
}

#[test]
fn a_rail_that_is_not_said_to_be_held_is_not_checked() {
    let mut p = on(box_rail());
    p.rails[0].held_x_mm.truncate(1);
    let a = check(&p);
    let rail = row(&a, "rail.frame left", "rail as a beam");
    assert_eq!(rail.state(), State::NotChecked);
    assert!(rail.not_checked_reason.contains("held"), "{}", rail.not_checked_reason);
}

#[test]
fn an_open_rail_that_yields_by_twist_is_not_passed() {
    // The shear centre of a channel lies 3 b²/(h + 6 b) outside the web's middle line, b 43.5 and
    // h 97: 15.9, so the bush is 480 - 423.5 - 15.9 = 40.6 beside it. Free torsion: T t/J with
    // J = (97 + 2 x 43.5) t³/3. At 3 mm 108 MPa, at 1.5 mm 433, beyond 235/√3 = 136.
    let stress = |t: f64| GAMMA * UP * 40.6 / 2.0 * t / (184.0 * t.powi(3) / 3.0);
    let bound = 235.0 / 3.0_f64.sqrt();
    assert!(stress(3.0) < bound && stress(1.5) > 3.0 * bound);
    let with = |t: f64| {
        let mut rail = channel(Opening::Inward);
        rail.readings = vec![reading(0.0, t)];
        rail.readings_right = rail.readings.clone();
        let mut p = on(rail);
        p.cases.truncate(1);
        row(&check(&p), "rail.frame left", "rail.frame as a beam").clone()
    };
    let sound = with(3.0);
    assert_eq!(sound.state(), State::Holds, "{sound:?}");
    assert!(sound.utilisation.unwrap() > stress(3.0) / bound, "{sound:?}");
    let rusty = with(1.5);
    assert_eq!(rusty.state(), State::NotChecked, "{rusty:?}");
    assert!(rusty.not_checked_reason.contains("warping"), "{}", rusty.not_checked_reason);
}
