//! The demo vans at the plate level: laws that hold whatever the numbers are.
//!
//! The designs are invented; what is checked is statics (every cut in equilibrium), that both
//! opinions stand side by side by one rule, and that the worse counts.

use std::sync::OnceLock;

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_tests::service;

/// Share of the load by which the two sides of a cut may differ.
const BALANCED: f64 = 1e-8;

fn van_b() -> &'static v1::CheckProjectResponse {
    static ANSWER: OnceLock<v1::CheckProjectResponse> = OnceLock::new();
    ANSWER.get_or_init(|| by_plates(project()))
}

fn project() -> v1::Project {
    from_json("Project", include_str!("../../data/van_b.json")).expect("the fixture is a project")
}

fn by_plates(project: v1::Project) -> v1::CheckProjectResponse {
    let request = v1::CheckProjectRequest {
        project: Some(project),
        depth: v1::Depth::Plate.into(),
        with_scene: true,
        ..Default::default()
    };
    service::check(&request).unwrap_or_else(|status| panic!("refused: {}", status.message()))
}

fn opinions(answer: &v1::CheckProjectResponse) -> Vec<(&v1::Row, &v1::SecondOpinion)> {
    answer.rows.iter().filter_map(|r| Some((r, r.second_opinion.as_ref()?))).collect()
}

#[test]
fn every_mount_is_solved_and_every_cut_is_in_equilibrium() {
    let answer = van_b();
    let mounts: Vec<&str> = answer.plate_mounts.iter().map(|m| m.mount_id.as_str()).collect();
    assert_eq!(mounts, ["FL", "FR", "RL", "RR"]);
    let mut models = 0;
    for mount in &answer.plate_mounts {
        assert_eq!(mount.not_solved_reason, "", "{}", mount.mount_id);
        let stiffness = mount.hardpoint.as_ref().expect("a solved mount has a stiffness");
        for rate in
            [stiffness.move_x_n_per_mm, stiffness.move_y_n_per_mm, stiffness.move_z_n_per_mm]
        {
            assert!(rate > 0.0 && rate.is_finite(), "{}: {rate}", mount.mount_id);
        }
        let Some(size) = &mount.size else { continue };
        models += 1;
        assert!(size.largest_imbalance < BALANCED, "{}: {size:?}", mount.mount_id);
        assert!(size.unknowns > size.coarse_unknowns && size.coarse_unknowns > 1000, "{size:?}");
        assert!(size.least_angle_deg > 10.0 && size.largest_angle_deg < 170.0, "{size:?}");
    }
    // The bar across the car joins both rear mounts in one model.
    assert_eq!(models, 3);
}

#[test]
fn welds_bolts_and_walls_are_judged_twice_and_the_worse_counts() {
    let answer = van_b();
    for what in ["throat", "wall bending", "end bolts: tension", "bending at the bolts"] {
        let found = opinions(answer).into_iter().any(|(row, opinion)| {
            row.short_what.contains(what)
                && opinion.hand_utilisation.is_some()
                && opinion.plate_utilisation.is_some()
        });
        assert!(found, "no second opinion on {what}");
    }
    for (row, opinion) in opinions(answer) {
        let (Some(plate), Some(used)) = (opinion.plate_utilisation, row.utilisation) else {
            continue;
        };
        let hand = opinion.hand_utilisation.unwrap_or(0.0);
        let worse = if plate > hand { plate } else { hand };
        assert!((used - worse).abs() <= 1e-12 * worse, "{}: {used} is not {worse}", row.id);
        for (case, used) in row.utilisation_by_case.iter().enumerate() {
            assert!(*used <= worse * (1.0 + 1e-12), "{}, case {case}: {used}", row.id);
        }
    }
}

#[test]
fn a_wide_gap_between_the_opinions_has_its_reason() {
    for (row, opinion) in opinions(van_b()) {
        let Some(ratio) = opinion.ratio else { continue };
        let apart = !(0.75..=4.0 / 3.0).contains(&ratio);
        assert_eq!(apart, !opinion.reason.is_empty(), "{} {ratio}: {}", row.id, opinion.reason);
    }
}

#[test]
fn a_figure_that_moves_with_the_mesh_says_so() {
    for (row, opinion) in opinions(van_b()) {
        let Some(change) = opinion.mesh_change else { continue };
        let told = row.notes.iter().any(|note| note.contains("between its two meshes"));
        assert_eq!(change.abs() > 0.05, told, "{}: {change}", row.id);
    }
}

/// A figure that holds, but whose change between the meshes would carry it over the limit, is open.
#[test]
fn what_a_mesh_may_carry_over_the_limit_is_open() {
    let answer = van_b();
    let mut open = 0;
    for (row, opinion) in opinions(answer) {
        let (Some(plate), Some(change)) = (opinion.plate_utilisation, opinion.mesh_change) else {
            continue;
        };
        let may = change.abs() > 0.05 && plate <= 1.0 && plate * (1.0 + change.abs()) > 1.0;
        let told = answer.provisional_reasons.iter().any(|reason| {
            reason.starts_with(&format!("{}, ", row.id)) && reason.contains("between two meshes")
        });
        assert_eq!(may, told, "{} {plate} {change}", row.id);
        open += usize::from(may);
    }
    assert!(open > 0, "the weld round the doubler is such a figure");
}

#[test]
fn a_project_may_take_hand_statics_on_a_joint_but_has_to_say_why() {
    let mut project = project();
    let before = van_b();
    let worse = opinions(before).into_iter().find(|(row, opinion)| {
        opinion.taken() == v1::Opinion::Plate
            && opinion.hand_utilisation.is_some()
            && row.component.starts_with("weld.")
    });
    let (row, opinion) = worse.expect("some weld is worse by plates");
    let joint = row.component.split(' ').next().unwrap_or_default().to_owned();
    let why = "a test coupon of this corner was pulled to twice the load".to_owned();
    project.opinions.push(v1::OpinionChoice { joint, why: why.clone() });
    let after = by_plates(project);
    let same = after.rows.iter().find(|r| r.id == row.id).expect("rows keep their numbers");
    assert_eq!(same.utilisation, opinion.hand_utilisation);
    let told = same.second_opinion.as_ref().expect("it is still judged twice");
    assert_eq!(told.why_taken, why);
    assert_eq!(told.plate_utilisation, opinion.plate_utilisation);
}

#[test]
fn views_have_a_stress_for_every_corner_and_a_movement_for_every_node() {
    for mount in &van_b().plate_mounts {
        for view in &mount.views {
            assert_eq!(view.movements.len(), mount.nodes.len());
            assert_eq!(view.stresses.len(), mount.parts.len());
            for (part, stress) in mount.parts.iter().zip(&view.stresses) {
                let corners: usize = part.cells.iter().map(|cell| cell.nodes.len()).sum();
                assert_eq!(stress.von_mises_mpa.len(), corners, "{}", part.name);
            }
        }
    }
}

/// The forces may differ: at the plate level the mounts share them by the stiffness of their brackets.
#[test]
fn a_check_without_plates_has_the_same_rows_and_one_opinion() {
    let plain = v1::CheckProjectRequest { project: Some(project()), ..Default::default() };
    let plain = service::check(&plain).expect("it is checked");
    assert!(plain.plate_mounts.is_empty());
    for row in &plain.rows {
        assert!(row.second_opinion.is_none());
        let same = van_b().rows.iter().find(|r| r.id == row.id).expect("rows keep their numbers");
        assert_eq!(same.component, row.component);
        assert_eq!(same.short_what, row.short_what);
    }
}
