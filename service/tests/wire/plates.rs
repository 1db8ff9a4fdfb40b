//! Plates over the wire: units, signs, names and faults of both conversions, against equilibrium
//! and closed forms.

use fishplate_proto::v1;
use tonic::Code;
use tonic_types::StatusExt;

use crate::{node, pushed, solver};

async fn solved(request: v1::SolveStructureRequest) -> v1::SolveStructureResponse {
    solver().await.solve_structure(request).await.unwrap().into_inner()
}

async fn refused(request: v1::SolveStructureRequest) -> (Code, Vec<(String, String)>) {
    let status = solver().await.solve_structure(request).await.unwrap_err();
    let details = status.get_error_details();
    let bad = details.bad_request().map(|bad| bad.field_violations.clone()).unwrap_or_default();
    (status.code(), bad.into_iter().map(|v| (v.field, v.description)).collect())
}

fn close(got: f64, expected: f64, relative: f64) {
    assert!((got - expected).abs() <= relative * expected.abs(), "{got} against {expected}");
}

/// Steel of Poisson's ratio 0: a strip bends as a beam.
fn without_contraction() -> v1::Material {
    v1::Material { shear_modulus_mpa: 105_000.0, ..crate::steel("m") }
}

type Vec3 = [f64; 3];

fn at([x_mm, y_mm, z_mm]: Vec3) -> v1::Position {
    v1::Position { x_mm, y_mm, z_mm }
}

fn along([x, y, z]: Vec3) -> v1::Vector {
    v1::Vector { x, y, z }
}

/// Adds a rectangular plate: from `origin`, `count` elements along the two sides.
fn add_plate(
    request: &mut v1::SolveStructureRequest,
    id: &str,
    thickness_mm: f64,
    origin: Vec3,
    sides: [Vec3; 2],
    count: [u32; 2],
) {
    let name = |i: u32, j: u32| format!("{id}-{i}-{j}");
    for j in 0..=count[1] {
        for i in 0..=count[0] {
            let [a, b] = [f64::from(i) / f64::from(count[0]), f64::from(j) / f64::from(count[1])];
            let [x, y, z] = [0, 1, 2].map(|k| origin[k] + a * sides[0][k] + b * sides[1][k]);
            request.nodes.push(node(&name(i, j), x, y, z));
        }
    }
    let mut elements = Vec::new();
    for j in 0..count[1] {
        for i in 0..count[0] {
            let node_ids = vec![name(i, j), name(i + 1, j), name(i + 1, j + 1), name(i, j + 1)];
            elements.push(v1::PlateElement { node_ids });
        }
    }
    request.plates.push(v1::StructurePlate {
        id: id.to_owned(),
        material_id: "m".to_owned(),
        thickness_mm,
        elements,
    });
}

/// A strip of 100 x 20 x 2 mm along x, clamped at x = 0, without contraction.
fn strip() -> v1::SolveStructureRequest {
    let mut request = v1::SolveStructureRequest {
        materials: vec![without_contraction()],
        plate_results: Some(v1::PlateResultsAsked {
            stress_plate_ids: vec!["strip".to_owned()],
            ..Default::default()
        }),
        ..Default::default()
    };
    let sides = [[100.0, 0.0, 0.0], [0.0, 20.0, 0.0]];
    add_plate(&mut request, "strip", 2.0, [0.0; 3], sides, [10, 2]);
    request.supports = (0..=2).map(|j| crate::clamped(&format!("strip-0-{j}"))).collect();
    request
}

/// A load along the free end of the strip, N/mm.
fn end_load(id: &str, per_length: Vec3) -> v1::StructureLoadCase {
    let edge = |j: u32| v1::EdgeLoad {
        from_node_id: format!("strip-10-{j}"),
        to_node_id: format!("strip-10-{}", j + 1),
        from_n_per_mm: Some(along(per_length)),
        to_n_per_mm: Some(along(per_length)),
    };
    v1::StructureLoadCase {
        id: id.to_owned(),
        edge_loads: (0..2).map(edge).collect(),
        ..Default::default()
    }
}

fn reactions(case: &v1::StaticCaseAnswer) -> [f64; 3] {
    case.reactions.iter().fold([0.0; 3], |sum, r| {
        let f = r.force.unwrap();
        [sum[0] + f.force_x_n, sum[1] + f.force_y_n, sum[2] + f.force_z_n]
    })
}

// Closed forms, any textbook of strength of materials: F/A and F L/(E A); M = F (L - x),
// 6 M/(b t²).
#[tokio::test]
async fn a_strip_is_pulled_and_bent_in_the_units_of_the_wire() {
    let mut request = strip();
    // 5 N/mm on 20 mm: 100 N.
    request.load_cases = vec![end_load("pull", [5.0, 0.0, 0.0]), end_load("lift", [0.0, 0.0, 5.0])];
    let answer = solved(request).await;
    let [pull, lift] = &answer.static_cases[..] else { panic!("two cases") };
    // Forces at nodes are an even pull only away from the end that they act on.
    let middle = pull.movements.iter().find(|m| m.node_id == "strip-5-1").unwrap();
    close(middle.move_x_mm, 100.0 * 50.0 / (210_000.0 * 40.0), 1e-3);
    close(reactions(pull)[0], -100.0, 1e-9);
    let element = &pull.plate_stresses[0].elements[3];
    let centre = element.centre.as_ref().unwrap();
    let x = element.x_axis.unwrap();
    // Without contraction the strip is pulled along itself alone, wherever the axes lie.
    assert!(x.z.abs() < 1e-12);
    close(centre.middle.unwrap().principal_1_mpa, 2.5, 1e-3);
    close(centre.top.unwrap().von_mises_mpa, 2.5, 1e-3);
    let angle = centre.middle.unwrap().principal_angle_deg.to_radians();
    let (y, pulled) = (element.y_axis.unwrap(), [1.0, 0.0, 0.0]);
    let along = [x.x * angle.cos() + y.x * angle.sin(), x.y * angle.cos() + y.y * angle.sin()];
    close(along[0].abs(), pulled[0], 1e-3);
    assert_eq!(element.corners.len(), 4);

    close(reactions(lift)[2], -100.0, 1e-9);
    // Element 7 of the lower row: its centre stands at x = 75.
    let element = &lift.plate_stresses[0].elements[7];
    let centre = element.centre.as_ref().unwrap();
    let moment = -5.0 * (100.0 - 75.0);
    // Whichever of x and y lies along the strip.
    let [m, top] = if element.x_axis.unwrap().x.abs() > 0.5 {
        [centre.bending_x_nmm_per_mm, centre.top.unwrap().x_mpa]
    } else {
        [centre.bending_y_nmm_per_mm, centre.top.unwrap().y_mpa]
    };
    close(m, moment, 1e-3);
    // Lifted at its end, the top is pressed.
    close(top, 6.0 * moment / 4.0, 1e-3);
    close(centre.bottom.unwrap().principal_1_mpa, -6.0 * moment / 4.0, 1e-3);
    let node = lift.plate_stresses[0].nodes.iter().find(|n| n.node_id == "strip-5-1").unwrap();
    let forces = node.forces.as_ref().unwrap();
    close(forces.bottom.unwrap().principal_1_mpa, 6.0 * 250.0 / 4.0, 1e-2);
    let quality = lift.quality.unwrap();
    assert!(quality.backward_error < 1e-10 && quality.imbalance < 1e-8, "{quality:?}");
    assert!(lift.contact_search.is_some() && !lift.second_order);
}

// Equilibrium: at the clamped edge the strip carries F L, and the force through the line is F.
#[tokio::test]
async fn forces_along_a_line_are_in_balance() {
    let mut request = strip();
    request.load_cases = vec![end_load("lift", [0.0, 0.0, 5.0])];
    // From y = 20 to 0 the strip lies to the left, seen from its top.
    let node_ids = vec!["strip-0-2".to_owned(), "strip-0-1".to_owned(), "strip-0-0".to_owned()];
    let line = v1::PlateLine { plate_id: "strip".to_owned(), node_ids };
    request.plate_results.as_mut().unwrap().lines.push(line.clone());
    let answer = solved(request.clone()).await;
    let told = &answer.static_cases[0].plate_lines[0];
    assert_eq!((told.plate_id.as_str(), told.stations.len()), ("strip", 3));
    let force = told.force.unwrap();
    close(force.force_z_n, -100.0, 1e-9);
    close(force.moment_y_nmm.abs(), 100.0 * 100.0, 1e-9);
    let moment: f64 = told.stations.iter().map(|s| s.length_mm * s.moment_nmm_per_mm).sum();
    close(moment, -100.0 * 100.0, 1e-6);
    request.plate_results.as_mut().unwrap().lines[0].node_ids.swap(0, 2);
    let (code, faults) = refused(request).await;
    assert_eq!((code, faults[0].0.as_str()), (Code::InvalidArgument, "plate_results.lines"));
    assert!(faults[0].1.contains("`strip-0-0`") && faults[0].1.contains("other order"));
}

// A pressure of p on 100 x 20 mm, and the same as a global load: p A in all.
#[tokio::test]
async fn loads_on_faces_push_out_of_the_top() {
    let face = |normal_mpa, global, elements| v1::FaceLoad {
        plate_id: "strip".to_owned(),
        elements,
        normal_mpa,
        global_n_per_mm2: global,
    };
    let case = |id: &str, load| v1::StructureLoadCase {
        id: id.to_owned(),
        face_loads: vec![load],
        ..Default::default()
    };
    let mut request = strip();
    request.load_cases = vec![
        case("pressure", face(0.01, None, vec![])),
        case("global", face(0.0, Some(along([0.02, 0.0, 0.0])), vec![])),
        case("both", face(0.01, Some(along([0.02, 0.0, 0.0])), vec![3, 4])),
    ];
    let answer = solved(request).await;
    close(reactions(&answer.static_cases[0])[2], -20.0, 1e-9);
    close(reactions(&answer.static_cases[1])[0], -40.0, 1e-9);
    let both = reactions(&answer.static_cases[2]);
    close(both[2], -0.01 * 200.0, 1e-9);
    close(both[0], -0.02 * 200.0, 1e-9);
}

/// An upright plate of 40 x 30 x 3 mm, welded on a held base of 4 mm by one run on its side of +y.
fn welded() -> v1::SolveStructureRequest {
    let mut request =
        v1::SolveStructureRequest { materials: vec![crate::steel("m")], ..Default::default() };
    let base = [[60.0, 0.0, 0.0], [0.0, 40.0, 0.0]];
    add_plate(&mut request, "base", 4.0, [-10.0, -20.0, 0.0], base, [6, 4]);
    let upright = [[40.0, 0.0, 0.0], [0.0, 0.0, 30.0]];
    add_plate(&mut request, "upright", 3.0, [0.0, 0.0, 2.0], upright, [4, 3]);
    for j in 0..=4 {
        request.supports.push(crate::clamped(&format!("base-0-{j}")));
        request.supports.push(crate::clamped(&format!("base-6-{j}")));
    }
    request.seams.push(v1::Seam {
        id: "foot".to_owned(),
        edge_plate_id: "upright".to_owned(),
        onto_plate_id: "base".to_owned(),
        path: vec![at([0.0, 1.5, 2.0]), at([40.0, 1.5, 2.0])],
        leg_on: Some(along([0.0, 2.0, 0.0])),
        leg_up: Some(along([0.0, 0.0, 1.0])),
    });
    request.load_cases = vec![pushed("lift", "upright-2-3", 300.0)];
    request
}

// Equilibrium: what pulls at the upright passes the seam.
#[tokio::test]
async fn a_seam_carries_what_pulls_at_its_plate() {
    let answer = solved(welded()).await;
    let case = &answer.static_cases[0];
    let seam = &case.seams[0];
    assert_eq!(seam.seam_id, "foot");
    let force = seam.force.unwrap();
    close(force.force_z_n, 300.0, 1e-8);
    let about = seam.about.unwrap();
    assert!((about.x_mm - 20.0).abs() < 1e-6 && (about.z_mm - 2.0).abs() < 1e-6, "{about:?}");
    // The load stands 1.5 mm beside the run: its moment about the run's middle is y F.
    close(force.moment_x_nmm, -1.5 * 300.0, 1e-6);
    let length: f64 = seam.stations.iter().map(|s| s.length_mm).sum();
    close(length, 40.0, 1e-9);
    let up: f64 = seam.stations.iter().map(|s| s.length_mm * s.leg_up_n_per_mm).sum();
    close(up, 300.0, 1e-6);
    let turning: f64 = seam.stations.iter().map(|s| s.length_mm * s.moment_nmm_per_mm).sum();
    close(turning, -1.5 * 300.0, 1e-6);
}

/// Two plates of 40 x 40 mm on each other, 3 and 5 mm thick, the lower one held, a bolt through
/// both tightened to 2 kN.
fn bolted() -> v1::SolveStructureRequest {
    let mut request =
        v1::SolveStructureRequest { materials: vec![crate::steel("m")], ..Default::default() };
    let sides = [[40.0, 0.0, 0.0], [0.0, 40.0, 0.0]];
    add_plate(&mut request, "lower", 5.0, [-20.0, -20.0, 0.0], sides, [8, 8]);
    add_plate(&mut request, "upper", 3.0, [-20.0, -20.0, 4.0], sides, [8, 8]);
    for i in 0..=8 {
        for j in [0, 8] {
            request.supports.push(crate::clamped(&format!("lower-{i}-{j}")));
        }
    }
    request.plate_bolts.push(v1::StructureBolt {
        id: "bolt".to_owned(),
        head: Some(at([0.0, 0.0, 5.5])),
        nut: Some(at([0.0, 0.0, -2.5])),
        plate_ids: vec!["upper".to_owned(), "lower".to_owned()],
        material_id: "m".to_owned(),
        diameter_mm: 8.0,
        tensile_area_mm2: 36.6,
        head_bearing_mm: 16.0,
        nut_bearing_mm: 16.0,
        hole_mm: 9.0,
        preload_n: 2000.0,
        bearing: v1::ShankBearing::Fitted.into(),
        clearance_mm: 0.0,
    });
    request.plate_contacts.push(v1::PlateContact {
        id: "faces".to_owned(),
        of_plate_id: "upper".to_owned(),
        onto: Some(v1::plate_contact::Onto::OntoPlateId("lower".to_owned())),
        ..Default::default()
    });
    request
}

// A bolt that nothing else pulls at has its preload, and the faces press with as much. Across the
// shank equilibrium alone asks for the whole shear.
#[tokio::test]
async fn a_tightened_bolt_presses_the_faces_and_carries_shear() {
    let mut request = bolted();
    let sideways = |id: &str, force_x_n| {
        let load = Some(v1::Wrench { force_x_n, ..Default::default() });
        v1::StructureLoadCase {
            id: id.to_owned(),
            nodal_loads: vec![v1::NodalLoad { node_id: "upper-4-4".to_owned(), load }],
            ..Default::default()
        }
    };
    request.load_cases = vec![
        v1::StructureLoadCase { id: "tight".to_owned(), ..Default::default() },
        sideways("sideways", 100.0),
    ];
    let answer = solved(request).await;
    let [tight, sideways] = &answer.static_cases[..] else { panic!("two cases") };
    let bolt = &tight.plate_bolts[0];
    assert_eq!(bolt.bolt_id, "bolt");
    close(bolt.tension_n, 2000.0, 1e-6);
    let faces = &tight.plate_contacts[0];
    assert_eq!(faces.contact_id, "faces");
    close(faces.force.unwrap().force_z_n, -2000.0, 1e-6);
    let pressing: f64 = faces.places.iter().map(|p| p.pressing_n).sum();
    close(pressing, 2000.0, 1e-6);
    assert!(faces.pressed_mm2 > 0.0 && faces.pressed_mm2 < faces.area_mm2);
    close(faces.area_mm2, 1600.0, 0.2);
    assert!(faces.places.iter().all(|p| p.pressing_n >= 0.0 && p.opening_mm >= 0.0));
    let bolt = &sideways.plate_bolts[0];
    assert_eq!((bolt.shear_n.len(), bolt.bearing_n.len()), (1, 2));
    close(bolt.shear_n[0].x.abs(), 100.0, 1e-6);
    let cut = &bolt.through[0];
    close(cut.force.unwrap().force_z_n.abs(), bolt.tension_n, 1e-6);
}

#[tokio::test]
async fn every_name_that_is_not_there_is_told() {
    let mut request = bolted();
    request.seams = welded().seams;
    request.load_cases = vec![pushed("push", "upper-4-4", 100.0)];
    request.plates[0].material_id = "gold".to_owned();
    request.plates[1].elements[5].node_ids[2] = "nowhere".to_owned();
    request.plates[1].elements[6].node_ids.pop();
    request.plates[1].elements[6].node_ids.pop();
    request.plate_bolts[0].plate_ids[1] = "cover".to_owned();
    request.plate_contacts[0].onto = None;
    request.spots.push(v1::Spot {
        id: "plug".to_owned(),
        plate_ids: vec!["lower".to_owned()],
        centre: None,
        diameter_mm: 8.0,
    });
    request.load_cases[0].face_loads.push(v1::FaceLoad {
        plate_id: "lower".to_owned(),
        elements: vec![-1],
        ..Default::default()
    });
    let (code, told) = refused(request).await;
    assert_eq!(code, Code::InvalidArgument);
    for path in [
        "plates[0].material_id",
        "plates[1].elements[5].node_ids[2]",
        "plates[1].elements[6].node_ids",
        "seams[0].edge_plate_id",
        "seams[0].onto_plate_id",
        "plate_bolts[0].plate_ids[1]",
        "plate_contacts[0].onto_plate_id",
        "spots[0].plate_ids",
        "spots[0].centre",
        "load_cases[0].face_loads[0].elements[0]",
    ] {
        assert!(told.iter().any(|(field, _)| field == path), "{path} in {told:?}");
    }
    assert!(told.iter().all(|(field, _)| told.iter().filter(|(f, _)| f == field).count() == 1));
}

#[tokio::test]
async fn numbers_are_told_in_the_units_of_their_fields() {
    let mut request = bolted();
    request.plates[0].thickness_mm = -5.0;
    request.plate_bolts[0].tensile_area_mm2 = -36.6;
    request.plate_contacts[0].friction = Some(-0.2);
    let (code, told) = refused(request).await;
    assert_eq!(code, Code::InvalidArgument);
    for (path, given) in [
        ("plates[0].thickness_mm", "given -5;"),
        ("plate_bolts[0].tensile_area_mm2", "given -36.6"),
        ("plate_contacts[0].friction", "given -0.2"),
    ] {
        let one = told.iter().find(|(field, _)| field == path);
        assert!(one.is_some_and(|(_, told)| told.starts_with(given)), "{path} in {told:?}");
    }
}

#[tokio::test]
async fn a_loose_plate_is_named() {
    let mut request = welded();
    request.seams.clear();
    let status = solver().await.solve_structure(request).await.unwrap_err();
    assert_eq!(status.code(), Code::FailedPrecondition, "{status:?}");
    assert!(status.message().contains("of plate `upright`"), "{}", status.message());
    let details = status.get_error_details();
    let info = details.error_info().unwrap();
    assert_eq!(info.reason, "MECHANISM");
    assert_eq!(info.metadata["plates"], "upright");
}

// First bending frequency of a cantilever: (1.875104069)² /(2 pi) sqrt(E I/(rho A L⁴)) (any textbook
// of vibrations); Euler (1744): pi² E I/(4 L²).
#[tokio::test]
async fn a_strip_vibrates_and_buckles_as_a_bar_without_contraction() {
    let mut request = strip();
    request.load_cases = vec![end_load("press", [-5.0, 0.0, 0.0])];
    request.frequencies = Some(v1::FrequencyRequest { mode_count: 1, ..Default::default() });
    request.buckling = Some(v1::BucklingRequest {
        load_case_id: "press".to_owned(),
        mode_count: 1,
        elements_per_member: 0,
    });
    let answer = solved(request).await;
    let inertia = 20.0 * 8.0 / 12.0;
    let euler = std::f64::consts::PI.powi(2) * 210_000.0 * inertia / (4.0 * 1e4);
    close(answer.buckling_modes[0].load_factor, euler / 100.0, 1e-2);
    let speed = (210e9 * inertia * 1e-12 / (7850.0 * 40e-6 * 1e-4)).sqrt();
    let first = 1.875_104_069_f64.powi(2) / (2.0 * std::f64::consts::PI) * speed;
    close(answer.vibration_modes[0].frequency_hz, first, 1e-2);
}
