//! Numbers over the wire, against closed forms: units, signs and axes of both conversions.

use fishplate_proto::v1;
use tonic_types::StatusExt;

use crate::{cantilever, clamped, node, solver};

async fn solved(request: v1::SolveStructureRequest) -> v1::SolveStructureResponse {
    solver().await.solve_structure(request).await.unwrap().into_inner()
}

fn close(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "{got} against {expected}");
}

// Closed forms of the cantilever, any textbook of strength of materials: P L³/3EI, P L²/2EI,
// M = P L, sigma = M z / I.
#[tokio::test]
async fn a_cantilever_in_the_units_of_the_wire() {
    let mut request = cantilever();
    request.sections[0].rigid_in_shear = true;
    request
        .stations
        .push(v1::StationRequest { beam_id: "m".to_owned(), fractions: vec![0.75, 0.5] });
    let answer = solved(request).await;
    let inertia = 30.0 * 40.0_f64.powi(3) / 12.0;
    let case = &answer.static_cases[0];
    assert_eq!(case.load_case_id, "push");
    let tip = &case.movements[1];
    assert_eq!(tip.node_id, "b");
    close(tip.move_z_mm, 300.0 * 1e9 / (3.0 * 210_000.0 * inertia), 1e-9);
    // Right-handed about y, up at the tip turns x toward z: negative.
    close(tip.turn_y_rad, -300.0 * 1e6 / (2.0 * 210_000.0 * inertia), 1e-9);
    let reaction = case.reactions[0].force.unwrap();
    close(reaction.force_z_n, -300.0, 1e-9);
    close(reaction.moment_y_nmm, 300.0 * 1000.0, 1e-9);
    let stations = &case.members[0].stations;
    let places: Vec<f64> = stations.iter().map(|s| s.at_mm).collect();
    for (got, expected) in places.iter().zip([0.0, 1000.0, 500.0, 750.0]) {
        assert!((got - expected).abs() < 1e-9, "{places:?}");
    }
    // Pushed up at its tip the bar is pulled along its lower side.
    close(stations[0].moment_y_nmm, -300_000.0, 1e-9);
    let lowest = stations[0].stresses.iter().map(|s| s.normal_mpa).fold(0.0, larger);
    close(lowest, 300_000.0 * 20.0 / inertia, 1e-9);
    let quality = case.quality.unwrap();
    assert!(quality.backward_error < 1e-13 && quality.imbalance < 1e-9, "{quality:?}");
    assert_eq!(quality.contact_rounds, 1);
}

fn larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}

// Euler (1744) for a column clamped at its foot: pi² E I/(4 L²), about the weak axis.
#[tokio::test]
async fn a_column_buckles_at_its_euler_load() {
    let mut request = cantilever();
    request.sections[0].rigid_in_shear = true;
    request.load_cases[0].nodal_loads[0].load =
        Some(v1::Wrench { force_x_n: -1000.0, ..Default::default() });
    request.buckling = Some(v1::BucklingRequest {
        load_case_id: "push".to_owned(),
        mode_count: 1,
        elements_per_member: 16,
    });
    let answer = solved(request).await;
    let weak = 40.0 * 30.0_f64.powi(3) / 12.0;
    let euler = std::f64::consts::PI.powi(2) * 210_000.0 * weak / (4.0 * 1e6);
    close(answer.buckling_modes[0].load_factor, euler / 1000.0, 1e-5);
    let most = answer.buckling_modes[0].shape.iter().map(|n| n.move_y_mm.abs()).fold(0.0, larger);
    close(most, 1.0, 1e-9);
}

// First bending frequency of a cantilever: (1.8751)² /(2 pi) sqrt(E I/(rho A L⁴)); the root of
// cos x cosh x = -1 is 1.875104069 (any textbook of vibrations).
#[tokio::test]
async fn a_cantilever_vibrates_at_its_frequency() {
    let mut request = cantilever();
    request.sections[0].rigid_in_shear = true;
    request.load_cases.clear();
    request.frequencies = Some(v1::FrequencyRequest {
        mode_count: 2,
        elements_per_member: 16,
        rotary_inertia: false,
    });
    let answer = solved(request).await;
    assert!(answer.static_cases.is_empty());
    let [area, weak] = [30e-3 * 40e-3, 40e-3 * 30e-3_f64.powi(3) / 12.0];
    let speed = (210e9 * weak / (7850.0 * area)).sqrt();
    let expected = 1.875_104_069_f64.powi(2) / (2.0 * std::f64::consts::PI) * speed;
    close(answer.vibration_modes[0].frequency_hz, expected, 1e-5);
}

// A spring against the ground: Hooke, u = F/k; the spring pulls its node back.
#[tokio::test]
async fn a_spring_pulls_its_node_back() {
    let spring = v1::Spring {
        id: "s".to_owned(),
        node_a_id: "a".to_owned(),
        move_x_n_per_mm: 100.0,
        move_y_n_per_mm: 100.0,
        move_z_n_per_mm: 50.0,
        turn_x_nmm_per_rad: 1e6,
        turn_y_nmm_per_rad: 1e6,
        turn_z_nmm_per_rad: 1e6,
        ..Default::default()
    };
    let request = v1::SolveStructureRequest {
        nodes: vec![node("a", 0.0, 0.0, 0.0)],
        springs: vec![spring],
        load_cases: vec![crate::pushed("push", "a", 300.0)],
        ..Default::default()
    };
    let answer = solved(request).await;
    let case = &answer.static_cases[0];
    close(case.movements[0].move_z_mm, 6.0, 1e-12);
    let force = case.springs[0].force_on_a.unwrap();
    close(force.force_z_n, -300.0, 1e-12);
    assert!(case.springs[0].active_z);
}

// Two springs of unequal length bolted together, Hooke: the one that is 2 mm too long pushes the
// node along its axis, the other holds it back; u = k1 d/(k1 + k2), force k1 k2 d/(k1 + k2).
#[tokio::test]
async fn a_spring_that_is_too_long_pushes_its_node_along_its_axis() {
    let spring = |id: &str, move_x_n_per_mm: f64| v1::Spring {
        id: id.to_owned(),
        node_a_id: "a".to_owned(),
        move_x_n_per_mm,
        move_y_n_per_mm: 100.0,
        move_z_n_per_mm: 100.0,
        turn_x_nmm_per_rad: 1e6,
        turn_y_nmm_per_rad: 1e6,
        turn_z_nmm_per_rad: 1e6,
        ..Default::default()
    };
    let lack_of_fit = Some(v1::Position { x_mm: 2.0, y_mm: 0.0, z_mm: 0.0 });
    let request = v1::SolveStructureRequest {
        nodes: vec![node("a", 0.0, 0.0, 0.0)],
        springs: vec![v1::Spring { lack_of_fit, ..spring("long", 100.0) }, spring("right", 300.0)],
        load_cases: vec![v1::StructureLoadCase { id: "fit".to_owned(), ..Default::default() }],
        ..Default::default()
    };
    let answer = solved(request).await;
    let case = &answer.static_cases[0];
    close(case.movements[0].move_x_mm, 0.5, 1e-12);
    close(case.springs[0].force_on_a.unwrap().force_x_n, 150.0, 1e-12);
    close(case.springs[1].force_on_a.unwrap().force_x_n, -150.0, 1e-12);
}

// A stop that only presses: pushed against it, it takes what the spring beside it does not.
#[tokio::test]
async fn a_one_way_support_presses_and_never_pulls() {
    let mut request = cantilever();
    request.supports.push(v1::Support {
        node_id: "b".to_owned(),
        move_z: v1::SupportAction::PressesPositive.into(),
        ..Default::default()
    });
    let up = solved(request.clone()).await;
    let lifted = up.static_cases[0].reactions.iter().find(|r| r.node_id == "b").unwrap();
    assert!(lifted.force.unwrap().force_z_n.abs() < 1e-9);
    request.load_cases[0] = crate::pushed("push", "b", -300.0);
    let down = solved(request).await;
    let pressed = down.static_cases[0].reactions.iter().find(|r| r.node_id == "b").unwrap();
    close(pressed.force.unwrap().force_z_n, 300.0, 1e-9);
}

// The default of `up` on a member along z is global x, so its local y is global y.
#[tokio::test]
async fn local_axes_of_a_standing_member() {
    let mut request = cantilever();
    request.nodes[1] = node("b", 0.0, 0.0, 1000.0);
    request.supports = vec![clamped("a")];
    let push = v1::Wrench { force_x_n: 100.0, ..Default::default() };
    request.load_cases[0].nodal_loads[0].load = Some(push);
    let answer = solved(request).await;
    let start = &answer.static_cases[0].members[0].stations[0];
    close(start.shear_z_n, 100.0, 1e-9);
    assert!(start.shear_y_n.abs() < 1e-9);
}

// A rectangle's second moments, b h³/12, and its elastic and plastic moduli, b h²/6 and b h²/4.
#[tokio::test]
async fn sections_alone_are_answered() {
    let request =
        v1::SolveStructureRequest { sections: vec![crate::bar("bar")], ..Default::default() };
    let answer = solved(request).await;
    let section = &answer.sections[0];
    close(section.area_mm2, 1200.0, 1e-12);
    close(section.i_y_mm4, 30.0 * 40.0_f64.powi(3) / 12.0, 1e-12);
    close(section.w_el_y_top_mm3, 30.0 * 40.0_f64.powi(2) / 6.0, 1e-12);
    close(section.w_pl_z_mm3, 40.0 * 30.0_f64.powi(2) / 4.0, 1e-12);
    assert_eq!(section.torsion_theory(), v1::TorsionTheory::SaintVenant);
}

// On the wire left is +y, as on a car: the thick wall draws the centroid toward it.
#[tokio::test]
async fn the_left_wall_of_a_tube_is_at_positive_y() {
    let tube = v1::RectangularTubeShape {
        height_mm: 60.0,
        width_mm: 40.0,
        thickness_mm: 2.0,
        left_thickness_mm: Some(4.0),
        ..Default::default()
    };
    let shape = v1::SectionShape { shape: Some(v1::section_shape::Shape::RectangularTube(tube)) };
    let section = v1::Section {
        id: "tube".to_owned(),
        definition: Some(v1::section::Definition::Shape(shape)),
        ..Default::default()
    };
    let request = v1::SolveStructureRequest { sections: vec![section], ..Default::default() };
    let answer = solved(request).await;
    // First moments of four rectangles: left 4 x 60 at 18, right 2 x 60 at -19, two of 34 x 2
    // from -18 to 16.
    let area = 240.0 + 120.0 + 136.0;
    let centroid = (240.0 * 18.0 - 120.0 * 19.0 - 136.0) / area;
    close(answer.sections[0].area_mm2, area, 1e-12);
    close(answer.sections[0].centroid_y_mm, centroid, 1e-9);
    let (left, right) = (answer.sections[0].w_el_z_left_mm3, answer.sections[0].w_el_z_right_mm3);
    close(left / right, (20.0 + centroid) / (20.0 - centroid), 1e-9);
}

// The elastic vector of machine design: F/n and M r/J; and tension M y/(sum y²).
#[tokio::test]
async fn a_bolt_group_by_the_elastic_vector() {
    let bolts = [(-75.0, -60.0), (75.0, -60.0), (75.0, 60.0), (-75.0, 60.0)];
    let bolts = bolts.iter().enumerate().map(|(i, (x_mm, y_mm))| v1::GroupBolt {
        id: i.to_string(),
        position: Some(v1::Position { x_mm: *x_mm, y_mm: *y_mm, z_mm: 0.0 }),
        area_mm2: 84.3,
    });
    let group = v1::BoltGroup {
        id: "g".to_owned(),
        bolts: bolts.collect(),
        load: Some(v1::Wrench { force_y_n: -16_000.0, ..Default::default() }),
        load_at: Some(v1::Position { x_mm: 425.0, y_mm: 0.0, z_mm: 0.0 }),
        ..Default::default()
    };
    let request = v1::SolveStructureRequest { bolt_groups: vec![group], ..Default::default() };
    let answer = solved(request).await;
    let group = &answer.bolt_groups[0];
    let j = 4.0 * (75.0_f64.powi(2) + 60.0_f64.powi(2));
    close(group.sum_r2_mm2, j, 1e-12);
    let moment = -16_000.0 * 425.0;
    let bolt = &group.bolts[1];
    close(bolt.shear_x_n, moment * 60.0 / j, 1e-9);
    close(bolt.shear_y_n, -4000.0 + moment * 75.0 / j, 1e-9);
    assert!(bolt.tension_linear_n.abs() < 1e-9 && bolt.tension_bed_n.is_none());
}

// Reinforced-concrete style neutral axis of a foot that only presses: b c²/2 = sum A (d - c),
// I = b c³/3 + sum A (d - c)², T = M A (d - c)/I; edge pivot: T = M d/(sum d²).
#[tokio::test]
async fn a_foot_presses_on_one_side_and_pulls_on_the_other() {
    let (area, moment) = (84.3, 4e6);
    let rows = [40.0, 110.0, 170.0];
    let bolt = |x_mm: f64, y_mm: f64| v1::GroupBolt {
        id: format!("{x_mm} {y_mm}"),
        position: Some(v1::Position { x_mm, y_mm, z_mm: 0.0 }),
        area_mm2: area,
    };
    let corner = |x_mm, y_mm| v1::Position { x_mm, y_mm, z_mm: 0.0 };
    let group = v1::BoltGroup {
        id: "foot".to_owned(),
        bolts: rows.iter().flat_map(|y| [bolt(-20.0, *y), bolt(20.0, *y)]).collect(),
        // Right-handed about x: it pulls where y is high.
        load: Some(v1::Wrench { moment_x_nmm: moment, ..Default::default() }),
        foot_corners: vec![
            corner(-40.0, 0.0),
            corner(40.0, 0.0),
            corner(40.0, 200.0),
            corner(-40.0, 200.0),
        ],
        ..Default::default()
    };
    let request = v1::SolveStructureRequest { bolt_groups: vec![group], ..Default::default() };
    let answer = solved(request).await;
    let group = &answer.bolt_groups[0];
    // The neutral axis by bisection of its own equation.
    let (mut low, mut high) = (0.0, 200.0);
    for _ in 0..200 {
        let c = 0.5 * (low + high);
        let pull: f64 = rows.iter().filter(|d| **d > c).map(|d| 2.0 * area * (d - c)).sum();
        if 80.0 * c * c / 2.0 < pull { low = c } else { high = c }
    }
    let c = low;
    let pulling = || rows.iter().filter(|d| **d > c);
    let inertia =
        80.0 * c.powi(3) / 3.0 + pulling().map(|d| 2.0 * area * (d - c).powi(2)).sum::<f64>();
    close(group.pressed_depth_mm.unwrap(), c, 1e-9);
    close(group.cracked_inertia_mm4.unwrap(), inertia, 1e-9);
    close(group.highest_pressure_mpa.unwrap(), moment * c / inertia, 1e-9);
    close(group.bolts[5].tension_bed_n.unwrap(), moment * area * (170.0 - c) / inertia, 1e-9);
    let squares: f64 = rows.iter().map(|d| 2.0 * d * d).sum();
    close(group.bolts[5].tension_pivot_n.unwrap(), moment * 170.0 / squares, 1e-9);
}

// The line method (Blodgett, Design of Welded Structures, 1966, section 7.4) for two parallel
// runs: J = 2 (L³/12 + L d²/4); force per length F/(2 L) and T r/J.
#[tokio::test]
async fn two_parallel_welds_by_the_line_method() {
    let (l, d, force, arm) = (100.0, 80.0, -5000.0, 150.0);
    let at = |x_mm: f64, y_mm: f64| Some(v1::Position { x_mm, y_mm, z_mm: 0.0 });
    let run = |id: &str, y: f64| v1::GroupRun {
        id: id.to_owned(),
        start: at(-l / 2.0, y),
        end: at(l / 2.0, y),
        throat_mm: 3.0,
        ..Default::default()
    };
    let group = v1::WeldGroup {
        id: "w".to_owned(),
        runs: vec![run("low", -d / 2.0), run("high", d / 2.0)],
        load: Some(v1::Wrench { force_y_n: force, ..Default::default() }),
        load_at: at(arm, 0.0),
    };
    let request = v1::SolveStructureRequest { weld_groups: vec![group], ..Default::default() };
    let answer = solved(request).await;
    let group = &answer.weld_groups[0];
    let j = 2.0 * (l.powi(3) / 12.0 + l * d * d / 4.0);
    close(group.length_mm, 2.0 * l, 1e-12);
    close(group.j_z_mm3, j, 1e-9);
    let torque = force * arm;
    let end = group.runs[1].places[1];
    close(end.force_x_n_per_mm, -torque * d / 2.0 / j, 1e-9);
    close(end.force_y_n_per_mm, force / (2.0 * l) + torque * l / 2.0 / j, 1e-9);
    close(group.highest_n_per_mm, end.resultant_n_per_mm, 1e-9);
    close(group.highest_stress_mpa, end.resultant_n_per_mm / 3.0, 1e-9);
}

// One straight run (Blodgett, as above, table 5, line of depth d): length d, I_x = J_w = d³/12. A
// force across it through its middle is F/d everywhere: the turn about the run itself, which
// nothing holds, is not driven.
#[tokio::test]
async fn one_straight_weld_under_a_force_through_its_line() {
    let d = 110.0;
    let run = v1::GroupRun {
        id: "r".to_owned(),
        start: Some(v1::Position::default()),
        end: Some(v1::Position { x_mm: 0.0, y_mm: d, z_mm: 0.0 }),
        throat_mm: 1.0,
        ..Default::default()
    };
    let group = v1::WeldGroup {
        id: "line".to_owned(),
        runs: vec![run],
        load: Some(v1::Wrench { force_z_n: 1.0, ..Default::default() }),
        load_at: Some(v1::Position { x_mm: 0.0, y_mm: d / 2.0, z_mm: 0.0 }),
    };
    let mut request = v1::SolveStructureRequest { weld_groups: vec![group], ..Default::default() };
    let answer = solved(request.clone()).await;
    let group = &answer.weld_groups[0];
    close(group.length_mm, 110.0, 1e-12);
    close(group.sum_yy_mm3, 110_916.67, 1e-7);
    close(group.j_z_mm3, 110_916.67, 1e-7);
    for place in &group.runs[0].places {
        close(place.force_z_n_per_mm, 1.0 / d, 1e-12);
    }
    close(group.highest_n_per_mm, 1.0 / d, 1e-12);
    // A moment about the line of the run turns it.
    request.weld_groups[0].load = Some(v1::Wrench { moment_y_nmm: 1.0, ..Default::default() });
    let status = solver().await.solve_structure(request).await.unwrap_err();
    assert_eq!(status.code(), tonic::Code::FailedPrecondition);
    let details = status.get_error_details();
    assert_eq!(details.error_info().unwrap().reason, "MECHANISM");
    assert!(status.message().contains("turning about the line along"), "{status:?}");
}

// A circular weld under torque: T/(2 pi r²) everywhere (Blodgett, as above, table of lines).
#[tokio::test]
async fn a_round_weld_under_torque() {
    let run = v1::GroupRun {
        id: "r".to_owned(),
        start: Some(v1::Position { x_mm: 25.0, y_mm: 0.0, z_mm: 0.0 }),
        throat_mm: 4.0,
        circle_centre: Some(v1::Position::default()),
        circle_normal: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        ..Default::default()
    };
    let group = v1::WeldGroup {
        id: "w".to_owned(),
        runs: vec![run],
        load: Some(v1::Wrench { moment_z_nmm: 1e6, ..Default::default() }),
        load_at: None,
    };
    let request = v1::SolveStructureRequest { weld_groups: vec![group], ..Default::default() };
    let answer = solved(request).await;
    let places = &answer.weld_groups[0].runs[0].places;
    assert_eq!(places.len(), 72);
    for place in places {
        let flow = 1e6 / (2.0 * std::f64::consts::PI * 25.0 * 25.0);
        close(place.resultant_n_per_mm, flow, 1e-9);
    }
}

// A block beyond its kern: pressed over 3 (L/2 - e), highest pressure 2 F/(3 b (L/2 - e)).
#[tokio::test]
async fn a_block_pressed_beyond_its_kern() {
    let contact = v1::BedContact {
        id: "c".to_owned(),
        size_x_mm: 60.0,
        size_y_mm: 40.0,
        force_n: 12_000.0,
        eccentricity_x_mm: 18.0,
        eccentricity_y_mm: 0.0,
    };
    let request = v1::SolveStructureRequest { bed_contacts: vec![contact], ..Default::default() };
    let answer = solved(request).await;
    let contact = &answer.bed_contacts[0];
    close(contact.pressed_length_x_mm.unwrap(), 3.0 * 12.0, 1e-9);
    close(contact.highest_pressure_mpa, 2.0 * 12_000.0 / (3.0 * 40.0 * 12.0), 1e-9);
    close(contact.pressed_part, 36.0 / 60.0, 1e-9);
    assert!(contact.pressed_length_y_mm.is_none());
}

/// Bolts at (±25, -60) and (±25, 70) on a foot 80 x 200 mm about the origin, under `load`.
async fn footed(load: v1::Wrench, ratio: f64) -> v1::BoltGroupAnswer {
    let at = |x_mm, y_mm| v1::Position { x_mm, y_mm, z_mm: 0.0 };
    let bolt = |x_mm: f64, y_mm: f64| v1::GroupBolt {
        id: format!("{x_mm} {y_mm}"),
        position: Some(at(x_mm, y_mm)),
        area_mm2: 84.3,
    };
    let group = v1::BoltGroup {
        id: "foot".to_owned(),
        bolts: vec![bolt(-25.0, -60.0), bolt(25.0, -60.0), bolt(-25.0, 70.0), bolt(25.0, 70.0)],
        load: Some(load),
        load_at: Some(at(0.0, 0.0)),
        foot_corners: vec![at(-40.0, -100.0), at(40.0, -100.0), at(40.0, 100.0), at(-40.0, 100.0)],
        bed_stiffness_ratio: ratio,
        ..Default::default()
    };
    let request = v1::SolveStructureRequest { bolt_groups: vec![group], ..Default::default() };
    solved(request).await.bolt_groups.remove(0)
}

// Statics: under a pull whose line runs between the bolts nothing presses. A press within the kern
// (200/6 mm off the middle) presses all over: depth 200 mm, I = b h³/12 of the foot (any handbook),
// in bolt areas times the ratio of the moduli.
#[tokio::test]
async fn a_foot_that_presses_nowhere_or_all_over() {
    let pull = v1::Wrench { force_z_n: 50_000.0, moment_x_nmm: 1e5, ..Default::default() };
    let open = footed(pull, 0.0).await;
    assert!(open.pressing_force_n.unwrap().abs() < 1e-6, "{open:?}");
    assert!(open.pressed_depth_mm.unwrap().abs() < 1e-12, "{open:?}");
    assert!(open.cracked_inertia_mm4.unwrap().abs() < 1e-12, "{open:?}");
    let inertia = 80.0 * 200.0_f64.powi(3) / 12.0;
    for moment_x_nmm in [0.0, 1e5, -1e5] {
        for ratio in [1.0, 0.4] {
            let push = v1::Wrench { force_z_n: -50_000.0, moment_x_nmm, ..Default::default() };
            let shut = footed(push, ratio).await;
            close(shut.pressed_depth_mm.unwrap(), 200.0, 1e-9);
            close(shut.cracked_inertia_mm4.unwrap(), ratio * inertia, 1e-9);
        }
    }
    let across = v1::Wrench { force_z_n: -50_000.0, moment_y_nmm: 1e5, ..Default::default() };
    let shut = footed(across, 1.0).await;
    close(shut.pressed_depth_mm.unwrap(), 80.0, 1e-9);
    close(shut.cracked_inertia_mm4.unwrap(), 200.0 * 80.0_f64.powi(3) / 12.0, 1e-9);
}

// Statics of a ring: a force in its plane gives F/(2 pi r) everywhere, a torque T/(2 pi r²) along
// the tangent; they add where the tangent runs along the force, here between the places told.
#[tokio::test]
async fn the_highest_force_of_a_round_weld_lies_where_it_lies() {
    let (radius, force, torque) = (30.15, 3000.0, 2e5);
    let angle = 92.3_f64.to_radians();
    let run = v1::GroupRun {
        id: "r".to_owned(),
        start: Some(v1::Position { x_mm: radius, y_mm: 0.0, z_mm: 0.0 }),
        throat_mm: 3.0,
        circle_centre: Some(v1::Position::default()),
        circle_normal: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        ..Default::default()
    };
    let load = v1::Wrench {
        force_x_n: force * angle.cos(),
        force_y_n: force * angle.sin(),
        moment_z_nmm: torque,
        ..Default::default()
    };
    let group =
        v1::WeldGroup { id: "w".to_owned(), runs: vec![run], load: Some(load), load_at: None };
    let request = v1::SolveStructureRequest { weld_groups: vec![group], ..Default::default() };
    let answer = solved(request).await;
    let round = 2.0 * std::f64::consts::PI * radius;
    let highest = force / round + torque / (round * radius);
    close(answer.weld_groups[0].highest_n_per_mm, highest, 1e-10);
    close(answer.weld_groups[0].highest_stress_mpa, highest / 3.0, 1e-10);
}

// The contract: left is +y, z is up. The places of the named points say the same.
#[tokio::test]
async fn points_are_named_by_the_side_they_lie_on() {
    use v1::section_shape::Shape;
    let named = |id: &str, shape: Shape| v1::Section {
        id: id.to_owned(),
        definition: Some(v1::section::Definition::Shape(v1::SectionShape { shape: Some(shape) })),
        ..Default::default()
    };
    let tube = v1::RectangularTubeShape {
        height_mm: 80.0,
        width_mm: 60.0,
        thickness_mm: 3.0,
        ..Default::default()
    };
    let round = v1::RoundTubeShape { diameter_mm: 60.0, thickness_mm: 3.0, ..Default::default() };
    let sections = vec![
        named("tube", Shape::RectangularTube(tube)),
        named("round", Shape::RoundTube(round)),
        named("bar", Shape::RoundBar(v1::RoundBarShape { diameter_mm: 60.0 })),
        named("flat", Shape::Rectangle(v1::RectangleShape { height_mm: 80.0, width_mm: 60.0 })),
    ];
    let answer = solved(v1::SolveStructureRequest { sections, ..Default::default() }).await;
    for section in &answer.sections {
        let mut sides = 0;
        for point in &section.extreme_points {
            for (word, positive) in [
                ("left", point.y_mm > 0.0),
                ("right", point.y_mm < 0.0),
                ("lower", point.z_mm < 0.0),
            ] {
                if point.name.split(' ').any(|w| w == word) {
                    sides += 1;
                    assert!(positive, "{}: {point:?}", section.section_id);
                }
            }
        }
        assert!(sides >= 2, "{section:?}");
    }
    // A force along +y at the tip bends the bar to the left: its left is pressed (statics).
    let mut request = cantilever();
    request.load_cases[0].nodal_loads[0].load =
        Some(v1::Wrench { force_y_n: 100.0, ..Default::default() });
    let answer = solved(request).await;
    let root = &answer.static_cases[0].members[0].stations[0];
    for stress in &root.stresses {
        assert_eq!(stress.name.contains("left"), stress.normal_mpa < 0.0, "{stress:?}");
    }
}

// Timoshenko & Gere, Theory of Elastic Stability, ch. 6: a deep beam bent about its strong axis
// buckles sideways far below the Euler load of a small axial force. The answer says that it does
// not look at that; a column without bending has nothing to say.
#[tokio::test]
async fn bent_members_are_told_with_the_buckling_factor() {
    let asked = v1::BucklingRequest {
        load_case_id: "push".to_owned(),
        mode_count: 1,
        elements_per_member: 8,
    };
    let mut request = cantilever();
    request.buckling = Some(asked);
    request.load_cases[0].nodal_loads[0].load =
        Some(v1::Wrench { force_x_n: -1.0, force_z_n: -1000.0, ..Default::default() });
    let bent = solved(request.clone()).await;
    let told = |answer: &v1::SolveStructureResponse| {
        answer.warnings.iter().filter(|w| w.contains("sideways buckling of bent beams")).count()
    };
    assert_eq!(told(&bent), 1, "{:?}", bent.warnings);
    assert!(bent.warnings.iter().any(|w| w.contains("`m`") && w.contains("`push`")));
    request.load_cases[0].nodal_loads[0].load =
        Some(v1::Wrench { force_x_n: -1000.0, ..Default::default() });
    let pressed = solved(request).await;
    assert_eq!(told(&pressed), 0, "{:?}", pressed.warnings);
}
