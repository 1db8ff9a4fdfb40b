//! Runs of bead and the stress in their throats: lengths by adding up the drawing, line forces of a
//! group by elastic statics of thin lines (Blodgett, Design of Welded Structures, 7.4), strength by
//! EN 1993-1-8:2005, 4.5.3: with fu 360 MPa, beta_w 0.8 and gamma_M2 1.25 the simplified method
//! allows 360/(√3 x 0.8 x 1.25) MPa.

use fishplate_proto::v1;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{State, WeldPath};
use fishplate_tests::project::mm;

use crate::bench::{
    FORWARD, GAMMA, UP, assert_all_near, assert_near, bracket, car, check, fillet, land, length,
    part, plate, point, row, runs, single_bracket, used,
};

const WEB: &str = "rail.frame.web.outboard";
const ALLOWED: f64 = 360.0 / (1.732_050_807_568_877 * 0.8 * 1.25);
const SIMPLIFIED: &str = "fillet weld, simplified method";

/// Largest force per length, N/mm, on two upright lines of 80 mm at x ±30 under a force (fx, 0, fz)
/// 55 mm off their plane and 40 mm below their middle.
pub(crate) fn two_lines(fx: f64, fz: f64) -> f64 {
    let sum = 160.0;
    // Second moments of the lines: about x 2 x 80³/12, about z 160 x 30², about y both.
    let (ix, iz) = (2.0 * 80.0_f64.powi(3) / 12.0, 160.0 * 900.0);
    let [mx, my, mz] = [55.0 * fz, -40.0 * fx, -55.0 * fx];
    let mut most: f64 = 0.0;
    for (x, z) in [(-30.0, -40.0), (-30.0, 40.0), (30.0, -40.0), (30.0, 40.0)] {
        // In the plane: the force, and the twist about y.
        let qx = fx / sum + my * z / (ix + iz);
        let qz = fz / sum - my * x / (ix + iz);
        // Across it: bending about x and z.
        let qy = -mx * z / ix + mz * x / iz;
        let q = (qx * qx + qy * qy + qz * qz).sqrt();
        most = if q > most { q } else { most };
    }
    most
}

#[test]
fn two_upright_lines_under_an_upward_force() {
    let a = check(&single_bracket(5.0));
    let throat = 5.0 / 2.0_f64.sqrt();
    // Along the bead 2943/160, across it 55 x 2943 x 40/85333.3, at both ends alike.
    let by_hand = ((2943.0_f64 / 160.0).powi(2)
        + (55.0_f64 * 2943.0 * 40.0 / (256_000.0 / 3.0)).powi(2))
    .sqrt();
    assert_near("two ways to the same", two_lines(0.0, GAMMA * UP), by_hand);
    let weld = row(&a, "weld.foot left", SIMPLIFIED);
    assert_near("standing", used(&a, weld, "stand"), by_hand / throat / ALLOWED);
    assert!(weld.clause.contains("EN 1993-1-8"), "{}", weld.clause);
}

#[test]
fn two_upright_lines_under_force_twist_and_bending_about_two_axes() {
    let a = check(&single_bracket(5.0));
    let throat = 5.0 / 2.0_f64.sqrt();
    let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
    let weld = row(&a, "weld.foot left", SIMPLIFIED);
    assert_near("towed", used(&a, weld, "tow"), q / throat / ALLOWED);
    assert_eq!(weld.case_name, "tow");
    assert_near("demand", weld.demand, q / throat);
    assert_near("resistance", weld.resistance, ALLOWED);
    let twin = row(&a, "weld.foot right", SIMPLIFIED);
    assert_near("right", used(&a, twin, "tow"), q / throat / ALLOWED);
    // The drawing carries the stress of the governing case at the ends of the runs.
    let scene = a.scene.as_ref().unwrap();
    let ends = scene.welds.iter().filter(|w| w.name == "weld.foot left");
    let most = ends
        .flat_map(|w| [w.start_stress_mpa, w.end_stress_mpa])
        .fold(0.0, |m: f64, s| if s > m { s } else { m });
    assert_near("drawn", most, q / throat);
}

#[test]
fn the_directional_method_stands_beside_the_simplified_one() {
    // EN 1993-1-8:2005, 4.5.3.2, standing: q across the wall t, along the bead l. The throat lies at
    // 45°, so sigma_perp = tau_perp = t/√2.
    let mut p = single_bracket(5.0);
    p.cases.truncate(1);
    let a = check(&p);
    let throat = 5.0 / 2.0_f64.sqrt();
    let t = 55.0 * 2943.0 * 40.0 / (256_000.0 / 3.0) / throat;
    let l = 2943.0 / 160.0 / throat;
    let perp = t / 2.0_f64.sqrt();
    let equivalent = (perp * perp + 3.0 * (perp * perp + l * l)).sqrt();
    let weld = row(&a, "weld.foot left", SIMPLIFIED);
    let other = weld.alternatives.iter().find(|o| o.what.contains("directional")).unwrap();
    assert_near("directional", other.utilisation.unwrap(), equivalent / (360.0 / (0.8 * 1.25)));
}

#[test]
fn a_gap_is_taken_off_the_leg() {
    // AWS D1.1, fillet across a root opening: the leg is to be increased by the gap; what is not
    // increased loses it. Leg 5 with a gap of 1: throat 4/√2, utilisation 5/4 as large.
    let sound = check(&single_bracket(5.0));
    let mut p = single_bracket(5.0);
    p.welds[0].gap = mm(1.0);
    let gaping = check(&p);
    let of = |a: &v1::CheckProjectResponse| used(a, row(a, "weld.foot left", SIMPLIFIED), "tow");
    assert_near("with the gap", of(&gaping), 1.25 * of(&sound));
}

#[test]
fn a_foot_has_two_walls_and_a_floor() {
    let mut p = single_bracket(5.0);
    p.welds[0].set_along(WeldPath::Foot);
    let a = check(&p);
    let mut lengths: Vec<f64> = runs(&a, "weld.foot left").into_iter().map(length).collect();
    lengths.sort_by(f64::total_cmp);
    assert_eq!(lengths.len(), 3);
    assert_all_near("runs", [lengths[0], lengths[1], lengths[2]], [60.0, 80.0, 80.0]);
    // U of two lines 80 and one 60 at its lower end: middle (160 x 460 + 60 x 420)/220.
    let (about, _) = crate::bench::crossing(&a, "bracket left | rail.frame left", "", "stand");
    assert_all_near("about", about, [300.0, 425.0, 98_800.0 / 220.0]);
}

/// A bracket on a pad of 160 x 90 that is welded to the web.
fn on_a_pad(weld: v1::Weld) -> v1::Project {
    let mut p = car();
    p.parts.push(part("pad", &["mount.front"], plate(WEB, 6.0, [0.0, 45.0], [160.0, 90.0])));
    p.parts.push(part("bracket", &["mount.front"], bracket("part.pad.outboard", [0.0, 40.0])));
    p.welds.push(fillet("foot", ["part.bracket", "part.pad"], 5.0, WeldPath::Walls));
    p.welds.push(weld);
    land(&mut p, "part.bracket.floor");
    p
}

const PAD: [&str; 2] = ["part.pad", "rail.frame.web"];

#[test]
fn a_bead_all_round_a_rectangle() {
    let a = check(&on_a_pad(fillet("pad", PAD, 5.0, WeldPath::AllRound)));
    let beads = runs(&a, "weld.pad left");
    assert_near("length", beads.iter().copied().map(length).sum(), 2.0 * (160.0 + 90.0));
    // Rectangle b 160, d 90 (Blodgett, Table 5): S = b d + d²/3; from y 425 the arm is 55.
    let section = 160.0 * 90.0 + 90.0 * 90.0 / 3.0;
    let q = ((2943.0_f64 / 500.0).powi(2) + (55.0_f64 * 2943.0 / section).powi(2)).sqrt();
    let weld = row(&a, "weld.pad left", SIMPLIFIED);
    assert_near("standing", used(&a, weld, "stand"), q / (5.0 / 2.0_f64.sqrt()) / ALLOWED);
}

#[test]
fn stitches_start_at_the_end_of_the_edge_and_leave_their_gaps() {
    let mut weld = fillet("pad", PAD, 5.0, WeldPath::LongEdges);
    weld.stitch_on_mm = Some(40.0);
    weld.stitch_off_mm = Some(20.0);
    let a = check(&on_a_pad(weld));
    // Edges of 160: 0 to 40, 60 to 100, 120 to 160. Three stitches on each of two edges.
    let stitches = runs(&a, "weld.pad left");
    assert_eq!(stitches.len(), 6);
    for stitch in &stitches {
        assert_near("stitch", length(*stitch), 40.0);
    }
    for z in [420.0, 510.0] {
        let mut ends: Vec<f64> = stitches
            .iter()
            .filter(|r| (r[0][2] - z).abs() < 1e-6)
            .flat_map(|r| [r[0][0], r[1][0]])
            .collect();
        ends.sort_by(f64::total_cmp);
        let ends: [f64; 6] = ends.try_into().unwrap();
        assert_all_near("ends", ends, [220.0, 260.0, 280.0, 320.0, 340.0, 380.0]);
    }
    // Lines at z ±45 of 3 x 40 each: fz = 2943/240; S of the two lines = 240 x 45.
    let q = ((2943.0_f64 / 240.0).powi(2) + (55.0_f64 * 2943.0 / (240.0 * 45.0)).powi(2)).sqrt();
    let row = row(&a, "weld.pad left", SIMPLIFIED);
    assert_near("standing", used(&a, row, "stand"), q / (5.0 / 2.0_f64.sqrt()) / ALLOWED);
}

#[test]
fn the_rest_of_a_stitch_pattern_too_short_to_count_carries_nothing() {
    // EN 1993-1-8:2005, 4.5.1(2): below 30 mm or six throats a fillet is not designed to carry. On
    // an edge of 160 stitched 40 and 30 the pattern leaves 0 to 40, 70 to 110 and the rest 140 to
    // 160: only 2 x 2 x 40 mm may carry.
    let mut weld = fillet("pad", PAD, 5.0, WeldPath::LongEdges);
    weld.stitch_on_mm = Some(40.0);
    weld.stitch_off_mm = Some(30.0);
    let a = check(&on_a_pad(weld));
    let bead = row(&a, "weld.pad left", SIMPLIFIED);
    if bead.state() != State::NotChecked {
        let shear = 2943.0_f64 / 160.0;
        let bending = 55.0_f64 * 2943.0 / (160.0 * 45.0);
        let q = (shear.powi(2) + bending.powi(2)).sqrt();
        let got = used(&a, bead, "stand");
        let least = q / (5.0 / 2.0_f64.sqrt()) / ALLOWED;
        assert!(got >= least * (1.0 - 1e-6), "got {got}, the full stitches alone give {least}");
    }
}

#[test]
fn gusset_seams_count_both_sides_and_both_legs() {
    let mut p = single_bracket(5.0);
    let gusset = v1::Gusset {
        thickness: mm(4.0),
        corner: vec![WEB.to_owned(), "part.bracket.floor".to_owned()],
        legs: Some(point([None, Some(50.0), Some(60.0)])),
        at: vec![point([Some(-20.0), None, None]), point([Some(20.0), None, None])],
    };
    p.parts.push(part("gusset", &["mount.front"], Form::Gusset(gusset)));
    let mut up = fillet("up", ["part.gusset", "rail.frame.web"], 3.0, WeldPath::LegZ);
    up.both_sides = true;
    let out = fillet("out", ["part.gusset", "part.bracket.floor"], 3.0, WeldPath::LegY);
    p.welds.extend([up, out]);
    let a = check(&p);
    let sum = |name: &str| runs(&a, name).into_iter().map(length).sum::<f64>();
    assert_near("on the web", sum("weld.up left"), 2.0 * 2.0 * 60.0);
    assert_near("on the floor, one side", sum("weld.out left"), 2.0 * 50.0);
}

#[test]
fn plugs_alone_carry_no_pull_and_beside_a_fillet_nothing() {
    let mut plugs = v1::Weld {
        name: "plugs".to_owned(),
        datums: vec!["mount.front".to_owned()],
        joins: PAD.map(str::to_owned).to_vec(),
        plug_diameter: mm(12.0),
        points: vec![point([Some(-60.0), None, Some(20.0)]), point([Some(60.0), None, Some(20.0)])],
        ..Default::default()
    };
    plugs.set_bead(v1::BeadKind::Plug);
    let a = check(&on_a_pad(plugs.clone()));
    // EN 1993-1-8:2005, 4.3.5(1): no pull; here the bracket's arm of 55 mm pulls them off.
    let alone = row(&a, "weld.plugs left", "slot weld in shear");
    assert_eq!(alone.state(), State::NotChecked);
    assert!(alone.not_checked_reason.contains("must not carry pull"), "{alone:?}");
    let mut p = on_a_pad(fillet("pad", PAD, 5.0, WeldPath::AllRound));
    let without = check(&p);
    p.welds.push(plugs);
    let with = check(&p);
    let of = |a: &v1::CheckProjectResponse| used(a, row(a, "weld.pad left", SIMPLIFIED), "tow");
    assert_near("no help", of(&with), of(&without));
}

#[test]
fn a_thin_throat_is_told_and_not_passed() {
    // EN 1993-1-8:2005, 4.5.2(2), plates of 4 mm and more (4.1(1)): at least 3 mm; leg 4 has 2.83.
    let mut p = on_a_pad(fillet("pad", PAD, 5.0, WeldPath::AllRound));
    let least = |p: &v1::Project| row(&check(p), "weld.foot left", "least throat").clone();
    let ample = least(&p);
    assert_near("leg 5", ample.utilisation.unwrap(), 3.0 * 2.0_f64.sqrt() / 5.0);
    p.welds[0].leg = mm(4.0);
    let thin = least(&p);
    assert_eq!(thin.state(), State::RuleNotMet);
    assert_near("required", thin.demand, 3.0);
    assert_near("provided", thin.resistance, 4.0 / 2.0_f64.sqrt());
}

#[test]
fn the_sheet_beside_the_bead_yields_in_shear() {
    // EN 1993-1-1:2005, 6.2.6: t fy/√3 on each side where the sheet runs on; here the web, 3 mm,
    // thinner than the bracket's 5, runs on both sides of each line.
    let a = check(&single_bracket(5.0));
    let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
    let sheet = row(&a, "weld.foot left", "sheet beside the bead");
    let shear = 2.0 * 3.0 * 235.0 / 3.0_f64.sqrt();
    assert_near("towed", used(&a, sheet, "tow"), q / shear);
}
