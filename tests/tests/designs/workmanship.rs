//! Who made a weld, and plug welds that are the only joint. A share of the strength that is relied on
//! divides the resistance of the bead and leaves the sheet beside it alone; plugs share a force in
//! their plane by the elastic vector of machine design, and a plug carries f_u/(√3 β_w γ_M2) of its
//! area (EN 1993-1-8:2005, 4.5.3.3 and 4.3.5).

use fishplate_proto::v1;
use fishplate_proto::v1::State;
use fishplate_tests::project::{mm, number};

use crate::bench::{
    FORWARD, GAMMA, UP, assert_near, assert_told, car_on, check, part, plate, point, refused, row,
    single_bracket, used,
};

const SIMPLIFIED: &str = "fillet weld, simplified method";

fn made(quality: f64) -> Option<v1::Workmanship> {
    Some(v1::Workmanship {
        quality: number(quality),
        welded_by: "a friend, overhead".to_owned(),
        inspected: "by eye".to_owned(),
    })
}

#[test]
fn a_share_of_the_strength_counts_for_the_bead_and_not_for_the_sheet() {
    let full = check(&single_bracket(5.0));
    let mut p = single_bracket(5.0);
    p.welds[0].workmanship = made(0.8);
    let shared = check(&p);
    let of =
        |a: &v1::CheckProjectResponse, what: &str| used(a, row(a, "weld.foot left", what), "tow");
    assert_near("bead", of(&shared, SIMPLIFIED), of(&full, SIMPLIFIED) / 0.8);
    let sheet = "sheet beside the bead";
    assert_near("sheet", of(&shared, sheet), of(&full, sheet));
    let notes = &row(&shared, "weld.foot left", SIMPLIFIED).notes;
    assert!(notes.iter().any(|n| n.contains("0.8") && n.contains("a friend")), "{notes:?}");
}

#[test]
fn the_project_speaks_for_welds_that_do_not_speak_themselves() {
    let mut p = single_bracket(5.0);
    p.workmanship = made(0.7);
    let of = |p: &v1::Project| {
        let a = check(p);
        used(&a, row(&a, "weld.foot left", SIMPLIFIED), "tow")
    };
    let full = of(&single_bracket(5.0));
    assert_near("by the project", of(&p), full / 0.7);
    p.welds[0].workmanship = made(1.0);
    assert_near("by the weld", of(&p), full);
}

#[test]
fn a_share_without_a_reason_or_beyond_the_whole_is_refused() {
    let mut p = single_bracket(5.0);
    p.workmanship = made(1.2);
    p.welds[0].workmanship = Some(v1::Workmanship { quality: number(0.8), ..Default::default() });
    let refusal = refused(&p);
    assert_told(&refusal, "project.workmanship.quality", &["0.3 to 1"]);
    for field in ["welded_by", "inspected"] {
        let path = format!("project.welds[0].workmanship.{field}");
        assert_told(&refusal, &path, &["in words"]);
    }
    p.workmanship = None;
    p.welds[0].workmanship = made(0.8);
    p.welds[0].fused = mm(8.0);
    assert_told(&refused(&p), "project.welds[0].fused", &["only on plugs"]);
}

/// A plate on the web with the mount in the plane of its inner face, held by four plugs of 12 mm at
/// x 250 and 350, z 450 and 490. The mount lies at x 300, z 540: nothing pulls the plugs.
fn plugged(t: f64) -> v1::Project {
    let mut p = car_on([300.0, 425.0, 540.0], [-300.0, 425.0, 540.0]);
    let web = "rail.frame.web.outboard";
    p.parts.push(part("pad", &["mount.front"], plate(web, t, [0.0, -70.0], [160.0, 90.0])));
    p.mounts[0].lands = "part.pad".to_owned();
    let at = [(-50.0, -90.0), (50.0, -90.0), (-50.0, -50.0), (50.0, -50.0)];
    let mut plugs = v1::Weld {
        name: "plugs".to_owned(),
        datums: vec!["mount.front".to_owned()],
        joins: vec!["part.pad".to_owned(), "rail.frame.web".to_owned()],
        plug_diameter: mm(12.0),
        points: at.map(|(x, z)| point([Some(x), None, Some(z)])).to_vec(),
        ..Default::default()
    };
    plugs.set_bead(v1::BeadKind::Plug);
    p.welds.push(plugs);
    p
}

/// Resistance of a plug of this diameter, N.
fn plug(d: f64) -> f64 {
    360.0 / (3.0_f64.sqrt() * 0.8 * 1.25) * std::f64::consts::FRAC_PI_4 * d * d
}

#[test]
fn plugs_alone_share_a_force_in_their_plane() {
    let a = check(&plugged(6.0));
    let shear = row(&a, "weld.plugs left", "slot weld in shear");
    // Standing: straight up through the middle, a quarter each.
    assert_near("standing", used(&a, shear, "stand"), GAMMA * UP / 4.0 / plug(12.0));
    // Towed: forward 70 above the middle as well; J = 4 (50² + 20²).
    let (fx, fz) = (GAMMA * FORWARD, GAMMA * UP);
    let turn = 70.0 * fx / 11_600.0;
    let most = (fx / 4.0 + 20.0 * turn).hypot(fz / 4.0 + 50.0 * turn);
    assert_near("towed", used(&a, shear, "tow"), most / plug(12.0));
    let hole = row(&a, "weld.plugs left", "least hole of a plug weld");
    assert_near("8 mm more than the plate", hole.utilisation.unwrap_or(f64::NAN), 14.0 / 12.0);
}

#[test]
fn what_is_fused_counts_and_not_the_hole() {
    let standing = |p: &v1::Project| {
        let a = check(p);
        used(&a, row(&a, "weld.plugs left", "slot weld in shear"), "stand")
    };
    let quarter = GAMMA * UP / 4.0;
    let mut p = plugged(6.0);
    p.welds[0].fused = mm(10.0);
    assert_near("sample", standing(&p), quarter / plug(10.0));
    // EN 1993-1-3:2006, 8.5.3: in 1.5 mm 0.7 x 12 - 1.5 x 1.5 = 6.15, but not below 0.55 x 12.
    assert_near("thin sheet", standing(&plugged(1.5)), quarter / plug(6.6));
    assert_near("thinner sheet", standing(&plugged(0.8)), quarter / plug(0.7 * 12.0 - 1.5 * 0.8));
    p.welds[0].workmanship = made(0.5);
    assert_near("half of it", standing(&p), 2.0 * quarter / plug(10.0));
    p.welds[0].fused = mm(13.0);
    assert_told(&refused(&p), "project.welds[0].fused", &["at most the hole, 12.0 mm"]);
}

#[test]
fn plugs_on_a_worn_wall_are_refused() {
    let mut p = plugged(6.0);
    p.rails[0].readings = vec![crate::bench::reading(300.0, 1.1)];
    let a = check(&p);
    let shear = row(&a, "weld.plugs left", "slot weld in shear");
    assert_eq!(shear.state(), State::NotChecked);
    assert!(shear.not_checked_reason.contains("burns through"), "{}", shear.not_checked_reason);
}
