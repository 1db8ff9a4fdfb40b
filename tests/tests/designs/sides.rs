//! Left and right: a symmetric design loaded from the left answers as its mirror image loaded from
//! the right, and a car described side by side answers as one that is mirrored. Source: reflection
//! in the centre plane.

use fishplate_proto::v1;
use fishplate_proto::v1::{Side, State};
use fishplate_tests::project::at;

use crate::bench::{
    FRONT, assert_all_near, assert_near, bracket, check, corner, crossing, extent_of, reading, row,
    single_bracket,
};

#[test]
fn a_case_from_the_left_does_to_the_left_what_its_mirror_does_to_the_right() {
    let mut p = single_bracket(5.0);
    p.cases.push(corner());
    let a = check(&p);
    let own = a.cases.iter().position(|c| c.name == "corner" && !c.mirrored).unwrap();
    let twin = a.cases.iter().position(|c| c.mirrored && c.title.contains("corner"));
    let twin = twin.unwrap_or_else(|| {
        panic!("no mirror image: {:?}", a.cases.iter().map(|c| &c.title).collect::<Vec<_>>())
    });
    let mut compared = 0;
    for left in a.rows.iter().filter(|r| r.component.contains(" left") && r.mount_id == "FL") {
        if left.utilisation_by_case.is_empty() {
            continue;
        }
        let what = left.what.replace(" left", " right");
        let component = left.component.replace(" left", " right");
        let right = a.rows.iter().find(|r| r.component == component && r.what == what);
        let right = right.unwrap_or_else(|| panic!("{component} has no row {what}"));
        for (here, there) in [(own, twin), (twin, own)] {
            let (l, r) = (left.utilisation_by_case[here], right.utilisation_by_case[there]);
            assert_near(&what, l, r);
        }
        let differs = left.utilisation_by_case[own] - left.utilisation_by_case[twin];
        compared += usize::from(differs.abs() > 1e-3);
    }
    assert!(compared >= 4, "the corner must load the two sides differently, {compared} rows do");
}

/// The same car with every thing drawn on the side that it is on.
fn side_by_side() -> v1::Project {
    let mut p = single_bracket(5.0);
    p.symmetric = false;
    let one = p.clone();
    let sided = |y: f64, letter: &str, to: &mut v1::Project| {
        let mut rail = one.rails[0].clone();
        rail.name = format!("frame-{letter}");
        rail.web = fishplate_tests::project::mm(425.0 * y);
        rail.readings_right.clear();
        to.rails.push(rail);
        for (mount, x) in one.mounts.iter().zip([300.0, -300.0]) {
            let mut mount = mount.clone();
            mount.name = format!("{}-{letter}", mount.name);
            mount.at = at([x, 480.0 * y, 420.0]);
            mount.lands = if x > 0.0 { format!("bolt.bush-{letter}") } else { String::new() };
            to.mounts.push(mount);
        }
        let datum = vec![format!("mount.front-{letter}")];
        let mut part = one.parts[0].clone();
        part.name = format!("bracket-{letter}");
        part.datums = datum.clone();
        part.form = Some(bracket(&format!("rail.frame-{letter}.web.outboard"), [0.0, 40.0]));
        to.parts.push(part);
        let mut weld = one.welds[0].clone();
        weld.name = format!("foot-{letter}");
        weld.joins = vec![format!("part.bracket-{letter}"), format!("rail.frame-{letter}.web")];
        to.welds.push(weld);
        let mut bolt = one.bolts[0].clone();
        bolt.name = format!("bush-{letter}");
        bolt.datums = datum;
        bolt.through =
            vec![format!("mount.front-{letter}"), format!("part.bracket-{letter}.floor")];
        to.bolts.push(bolt);
    };
    p.rails.clear();
    p.mounts.clear();
    p.parts.clear();
    p.welds.clear();
    p.bolts.clear();
    sided(1.0, "l", &mut p);
    sided(-1.0, "r", &mut p);
    p
}

#[test]
fn a_car_drawn_side_by_side_answers_as_the_mirrored_one() {
    let mirrored = check(&single_bracket(5.0));
    let drawn = check(&side_by_side());
    for (letter, side, y) in [("l", "left", 1.0), ("r", "right", -1.0)] {
        let bracket = extent_of(&drawn, &format!("part.bracket-{letter}"));
        assert_all_near("place", bracket, extent_of(&mirrored, &format!("part.bracket {side}")));
        let name = format!("bracket-{letter} | rail.frame-{letter}");
        let (about, got) = crossing(&drawn, &name, "", "tow");
        assert_all_near("about", about, [FRONT[0], 425.0 * y, 460.0]);
        let name = format!("bracket {side} | rail.frame {side}");
        assert_all_near("wrench", got, crossing(&mirrored, &name, "", "tow").1);
        for words in ["fillet weld, simplified", "sheet beside"] {
            let a = row(&drawn, &format!("weld.foot-{letter}"), words);
            let b = row(&mirrored, &format!("weld.foot {side}"), words);
            assert_near(words, a.utilisation.unwrap(), b.utilisation.unwrap());
        }
        let words = "bending of the wall under the foot";
        let a = row(&drawn, &format!("rail.frame-{letter}.web"), words);
        let b = row(&mirrored, &format!("rail.frame {side}.web"), words);
        assert_near(words, a.utilisation.unwrap(), b.utilisation.unwrap());
    }
}

#[test]
fn a_bracket_only_on_the_left_leaves_the_right_mount_without_a_way() {
    let mut p = single_bracket(5.0);
    p.parts[0].set_only(Side::Left);
    p.welds[0].set_only(Side::Left);
    p.bolts[0].set_only(Side::Left);
    // The right front mount has no bolt to land on: that is a fault of `lands`, not a silence.
    let refusal = crate::bench::refused(&p);
    crate::bench::assert_told(&refusal, "project.mounts[0].lands", &["bolt.bush", "right"]);
    assert_eq!(refusal.fields.len(), 1, "told once: {:?}", refusal.fields);
    // Split into a left and a right mount, the left one lands and the right one is open.
    let mut right = p.mounts[0].clone();
    right.lands = String::new();
    right.name = "other".to_owned();
    right.set_only(Side::Right);
    p.mounts[0].set_only(Side::Left);
    p.mounts.insert(1, right);
    let a = check(&p);
    let lost = row(&a, "mount other right", "between the bush and the rail");
    assert_eq!(lost.state(), State::NotChecked);
    let weld = row(&a, "weld.foot left", "fillet weld, simplified");
    assert_eq!(weld.state(), State::Holds);
    assert!(a.rows.iter().all(|r| r.component != "weld.foot right"));
}

#[test]
fn each_side_is_checked_with_its_own_rust() {
    // Both thin, the right thinner: resistance goes with t² (EN 1993-1-8:2005, Table 7.14), so the
    // mirrored load gives (2.4/1.8)² on the right.
    let mut p = single_bracket(5.0);
    p.rails[0].readings = vec![reading(300.0, 2.4)];
    p.rails[0].readings_right = vec![reading(300.0, 1.8)];
    let a = check(&p);
    let words = "bending of the wall under the foot";
    let left = row(&a, "rail.frame left.web", words).utilisation.unwrap();
    let right = row(&a, "rail.frame right.web", words).utilisation.unwrap();
    assert_near("ratio", right / left, (2.4_f64 / 1.8).powi(2));
}
