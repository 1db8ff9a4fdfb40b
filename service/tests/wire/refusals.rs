//! Requests that cannot be used: every fault at once, by its path on the wire.

use fishplate_proto::v1;
use tonic::{Code, Status};
use tonic_types::StatusExt;

use crate::{beam, cantilever, clamped, node, pushed, solver};

/// The refusal of `request`, and the paths of its faults.
async fn refused(request: v1::SolveStructureRequest) -> (Status, Vec<String>) {
    let status = solver().await.solve_structure(request).await.unwrap_err();
    let details = status.get_error_details();
    let paths = details
        .bad_request()
        .map(|bad| bad.field_violations.iter().map(|v| v.field.clone()).collect())
        .unwrap_or_default();
    (status, paths)
}

type Change = fn(&mut v1::SolveStructureRequest);

/// One change to a sound request, and the one field that it spoils.
const FAULTS: &[(&str, Change)] = &[
    ("nodes[1].position.x_mm", |r| r.nodes[1] = node("b", f64::NAN, 0.0, 0.0)),
    ("nodes[1].position.x_mm", |r| r.nodes[1] = node("b", f64::INFINITY, 0.0, 0.0)),
    ("nodes[0].position", |r| r.nodes[0].position = None),
    ("nodes[2].id", |r| r.nodes.push(node("a", 5.0, 5.0, 5.0))),
    ("nodes[2].id", |r| r.nodes.push(node("", 5.0, 5.0, 5.0))),
    ("nodes[2].id", |r| r.nodes.push(node("a\nb", 5.0, 5.0, 5.0))),
    ("nodes[2].id", |r| r.nodes.push(node(&"x".repeat(65), 5.0, 5.0, 5.0))),
    ("beams[0].end_node_id", |r| r.beams[0].end_node_id = "nowhere".to_owned()),
    ("beams[0].end_node_id", |r| r.beams[0].end_node_id = "a".to_owned()),
    ("beams[0].end_node_id", |r| r.nodes[1] = node("b", 0.0, 0.0, 0.0)),
    ("beams[0].section_id", |r| r.beams[0].section_id = String::new()),
    ("beams[0].material_id", |r| r.beams[0].material_id = "gold".to_owned()),
    ("beams[0].up", |r| r.beams[0].up = Some(v1::Vector::default())),
    ("beams[0].up", |r| r.beams[0].up = Some(v1::Vector { x: 1.0, y: 0.0, z: 0.0 })),
    ("sections[0]", |r| r.sections[0].definition = None),
    ("sections[0].torsion", |r| r.sections[0].torsion = v1::TorsionTheory::EnHollow.into()),
    ("sections[0].torsion", |r| r.sections[0].torsion = 77),
    ("sections[0].shape.rectangle.height_mm", |r| rectangle(r, -40.0)),
    ("sections[0].shape.rectangle.height_mm", |r| rectangle(r, 0.0)),
    ("sections[0].shape.angle.thickness_mm", |r| {
        shape(
            r,
            v1::section_shape::Shape::Angle(v1::AngleShape {
                vertical_leg_mm: 50.0,
                horizontal_leg_mm: 50.0,
                thickness_mm: 60.0,
                ..Default::default()
            }),
        );
    }),
    ("sections[0].shape.thin_walled.walls[0].end", |r| {
        let walls = vec![v1::ThinWall { start: 0, end: 9, thickness_mm: 2.0 }];
        let points = vec![v1::StressPoint::default(); 2];
        let thin = v1::ThinWalledShape { points, walls };
        shape(r, v1::section_shape::Shape::ThinWalled(thin));
    }),
    ("sections[0].shape.built_up.pieces[0].shape", |r| {
        let pieces = vec![v1::PlacedShape::default()];
        shape(r, v1::section_shape::Shape::BuiltUp(v1::BuiltUpShape { pieces }));
    }),
    ("sections[0].values.area_mm2", |r| values(r, -1.0, 1e4)),
    ("sections[0].values.i_z_mm4", |r| values(r, 100.0, 0.0)),
    ("materials[0].youngs_modulus_mpa", |r| r.materials[0].youngs_modulus_mpa = 0.0),
    ("materials[0].density_kg_per_m3", |r| r.materials[0].density_kg_per_m3 = -7850.0),
    ("springs[0].node_a_id", |r| r.springs.push(spring("s", "nowhere"))),
    ("springs[0].move_z_n_per_mm", |r| {
        r.springs.push(v1::Spring { move_z_n_per_mm: -1.0, ..spring("s", "b") });
    }),
    ("springs[0].y_direction", |r| {
        let x_axis = Some(v1::Vector { x: 0.0, y: 2.0, z: 0.0 });
        r.springs.push(v1::Spring { x_axis, ..spring("s", "b") });
    }),
    ("springs[0].gap_mm", |r| {
        let action_x = v1::SpringAction::CompressionOnly.into();
        r.springs.push(v1::Spring { action_x, gap_mm: -2.0, ..spring("s", "b") });
    }),
    ("springs[0].stop_n_per_mm", |r| {
        let action_x = v1::SpringAction::Stops.into();
        r.springs.push(v1::Spring { action_x, gap_mm: 2.0, ..spring("s", "b") });
    }),
    ("rigid_links[0].follower_node_id", |r| r.rigid_links.push(link("l", "b", "b"))),
    ("rigid_links[0]", |r| {
        r.nodes.push(node("c", 0.0, 500.0, 0.0));
        r.rigid_links.extend([link("l", "b", "c"), link("k", "c", "b")]);
    }),
    ("masses[0].mass_kg", |r| {
        r.masses.push(v1::PointMass {
            node_id: "b".to_owned(),
            mass_kg: -1.0,
            ..Default::default()
        });
    }),
    ("supports[1].node_id", |r| r.supports.push(clamped("a"))),
    ("supports[1]", |r| {
        r.supports.push(v1::Support { node_id: "b".to_owned(), ..Default::default() });
    }),
    ("load_cases[1]", |r| {
        r.load_cases.push(v1::StructureLoadCase { id: "none".to_owned(), ..Default::default() });
    }),
    ("load_cases[1].id", |r| r.load_cases.push(pushed("push", "b", 1.0))),
    ("load_cases[0].nodal_loads[0].load", |r| r.load_cases[0].nodal_loads[0].load = None),
    ("load_cases[0].nodal_loads[0].node_id", |r| {
        r.load_cases[0].nodal_loads[0].node_id = "x".to_owned();
    }),
    ("load_cases[0].point_loads[0].at_mm", |r| {
        r.load_cases[0].point_loads.push(v1::MemberPointLoad {
            beam_id: "m".to_owned(),
            at_mm: 1001.0,
            load: Some(v1::Wrench::default()),
            ..Default::default()
        });
    }),
    ("load_cases[0].line_loads[0].to_mm", |r| line(r, Some(500.0), Some(400.0))),
    ("load_cases[0].line_loads[0].from_mm", |r| line(r, Some(-1.0), None)),
    ("load_cases[0].prescribed[0].move_x_mm", |r| {
        r.load_cases[0].prescribed.push(v1::PrescribedMovement {
            node_id: "b".to_owned(),
            move_x_mm: Some(1.0),
            ..Default::default()
        });
    }),
    ("stations[0].fractions[1]", |r| stations(r, "m")),
    ("stations[0].beam_id", |r| {
        stations(r, "other");
        r.stations[0].fractions.pop();
    }),
    ("buckling.load_case_id", |r| {
        r.buckling = Some(v1::BucklingRequest { mode_count: 1, ..Default::default() });
    }),
    ("buckling.mode_count", |r| {
        let load_case_id = "push".to_owned();
        r.buckling = Some(v1::BucklingRequest { load_case_id, ..Default::default() });
    }),
    ("frequencies.elements_per_member", |r| {
        r.frequencies = Some(v1::FrequencyRequest {
            mode_count: 1,
            elements_per_member: 65,
            rotary_inertia: false,
        });
    }),
    ("bolt_groups[0].bolts", |r| {
        let load = Some(v1::Wrench::default());
        r.bolt_groups.push(v1::BoltGroup { id: "g".to_owned(), load, ..Default::default() });
    }),
    ("bolt_groups[0].bolts[1].position", |r| {
        let bolt = |id: &str, z_mm| v1::GroupBolt {
            id: id.to_owned(),
            position: Some(v1::Position { x_mm: 0.0, y_mm: 0.0, z_mm }),
            area_mm2: 84.3,
        };
        r.bolt_groups.push(v1::BoltGroup {
            id: "g".to_owned(),
            bolts: vec![bolt("1", 0.0), bolt("2", 5.0)],
            load: Some(v1::Wrench::default()),
            ..Default::default()
        });
    }),
    ("weld_groups[0].runs[0].throat_mm", |r| {
        let run = v1::GroupRun {
            id: "r".to_owned(),
            start: Some(v1::Position::default()),
            end: Some(v1::Position { x_mm: 10.0, y_mm: 0.0, z_mm: 0.0 }),
            ..Default::default()
        };
        r.weld_groups.push(v1::WeldGroup {
            id: "w".to_owned(),
            runs: vec![run],
            load: Some(v1::Wrench::default()),
            load_at: None,
        });
    }),
    ("bed_contacts[0].eccentricity_x_mm", |r| {
        r.bed_contacts.push(v1::BedContact {
            id: "c".to_owned(),
            size_x_mm: 40.0,
            size_y_mm: 40.0,
            force_n: 100.0,
            eccentricity_x_mm: 25.0,
            eccentricity_y_mm: 0.0,
        });
    }),
];

fn shape(request: &mut v1::SolveStructureRequest, shape: v1::section_shape::Shape) {
    let shape = v1::SectionShape { shape: Some(shape) };
    request.sections[0].definition = Some(v1::section::Definition::Shape(shape));
}

fn rectangle(request: &mut v1::SolveStructureRequest, height_mm: f64) {
    let rectangle = v1::RectangleShape { height_mm, width_mm: 30.0 };
    shape(request, v1::section_shape::Shape::Rectangle(rectangle));
}

fn values(request: &mut v1::SolveStructureRequest, area_mm2: f64, i_z_mm4: f64) {
    let values = v1::SectionValues {
        area_mm2,
        i_y_mm4: 1e4,
        i_z_mm4,
        torsion_constant_mm4: 1e4,
        ..Default::default()
    };
    request.sections[0].definition = Some(v1::section::Definition::Values(values));
}

fn spring(id: &str, node: &str) -> v1::Spring {
    v1::Spring {
        id: id.to_owned(),
        node_a_id: node.to_owned(),
        move_x_n_per_mm: 100.0,
        ..Default::default()
    }
}

fn link(id: &str, leader: &str, follower: &str) -> v1::RigidLink {
    v1::RigidLink {
        id: id.to_owned(),
        leader_node_id: leader.to_owned(),
        follower_node_id: follower.to_owned(),
    }
}

fn line(request: &mut v1::SolveStructureRequest, from_mm: Option<f64>, to_mm: Option<f64>) {
    request.load_cases[0].line_loads.push(v1::MemberLineLoad {
        beam_id: "m".to_owned(),
        from_mm,
        to_mm,
        from_n_per_mm: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        to_n_per_mm: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        axes: 0,
    });
}

fn stations(request: &mut v1::SolveStructureRequest, beam: &str) {
    let fractions = vec![0.5, 1.5];
    request.stations.push(v1::StationRequest { beam_id: beam.to_owned(), fractions });
}

#[tokio::test]
async fn every_fault_is_told_by_the_path_of_its_field() {
    for (path, spoil) in FAULTS {
        let mut request = cantilever();
        spoil(&mut request);
        let (status, paths) = refused(request).await;
        assert_eq!(status.code(), Code::InvalidArgument, "{path}: {status:?}");
        assert_eq!(paths, [*path], "{}", status.message());
        assert!(status.message().starts_with(path), "{path}: {}", status.message());
        let details = status.get_error_details();
        let info = details.error_info().unwrap();
        assert_eq!((info.reason.as_str(), info.domain.as_str()), ("INVALID_INPUT", "fishplate"));
    }
}

#[tokio::test]
async fn all_faults_come_at_once_from_the_door_the_reading_and_the_engine() {
    let mut request = cantilever();
    request.nodes[1] = node("b", f64::NAN, 0.0, 0.0);
    request.beams[0].material_id = "gold".to_owned();
    request.materials[0].shear_modulus_mpa = -1.0;
    request.springs.push(v1::Spring { action_x: 9, ..spring("s", "b") });
    let (status, mut paths) = refused(request).await;
    paths.sort();
    let expected = [
        "beams[0].material_id",
        "materials[0].shear_modulus_mpa",
        "nodes[1].position.x_mm",
        "springs[0].action_x",
    ];
    assert_eq!(paths, expected, "{status:?}");
    assert!(status.message().contains("and 3 more faults"), "{}", status.message());
}

#[tokio::test]
async fn numbers_are_told_in_the_units_of_the_wire_and_nodes_by_name() {
    let mut request = cantilever();
    request.materials[0].youngs_modulus_mpa = -210_000.0;
    let (status, _) = refused(request).await;
    assert!(status.message().contains("given -210000;"), "{}", status.message());
    let mut ring = cantilever();
    ring.nodes.push(node("c", 0.0, 500.0, 0.0));
    ring.rigid_links.extend([link("l", "b", "c"), link("k", "c", "b")]);
    let (status, _) = refused(ring).await;
    assert!(status.message().contains("`b`") && status.message().contains("`c`"), "{status:?}");
}

#[tokio::test]
async fn an_empty_request_asks_for_nothing() {
    let (status, paths) = refused(v1::SolveStructureRequest::default()).await;
    assert_eq!(paths, ["nodes"], "{status:?}");
}

#[tokio::test]
async fn too_many_of_anything_is_a_limit_that_no_retry_mends() {
    let mut request = cantilever();
    request.nodes = vec![v1::Node::default(); 50_001];
    let (status, paths) = refused(request).await;
    assert_eq!(status.code(), Code::InvalidArgument);
    assert_eq!(status.get_error_details().error_info().unwrap().reason, "LIMIT_EXCEEDED");
    assert!(paths.contains(&"nodes".to_owned()), "{paths:?}");
    assert!(status.message().contains("50001") && status.message().contains("50000"));
}

#[tokio::test]
async fn a_frame_that_would_be_cut_too_finely_is_refused_before_it_is_solved() {
    let mut request = crate::large(60, 1);
    request.frequencies = Some(v1::FrequencyRequest {
        mode_count: 1,
        elements_per_member: 64,
        rotary_inertia: false,
    });
    let (status, paths) = refused(request).await;
    assert_eq!(paths, ["frequencies.elements_per_member"], "{status:?}");
}

#[tokio::test]
async fn an_answer_that_no_client_takes_is_refused_before_it_is_computed() {
    let mut request = crate::large(80, 200);
    request
        .stations
        .push(v1::StationRequest { beam_id: String::new(), fractions: vec![0.25, 0.5, 0.75] });
    let (status, paths) = refused(request).await;
    assert_eq!(paths, ["load_cases"], "{status:?}");
}

#[tokio::test]
async fn a_mechanism_is_named_by_node_and_direction() {
    let mut request = cantilever();
    request.supports[0].turn_y = false;
    let (status, _) = refused(request).await;
    assert_eq!(status.code(), Code::FailedPrecondition, "{status:?}");
    let details = status.get_error_details();
    let info = details.error_info().unwrap();
    assert_eq!(info.reason, "MECHANISM");
    // Hinged about y at `a`, the bar swings up and down: `b` moves most, along z.
    assert_eq!(info.metadata["node"], "b");
    assert_eq!(info.metadata["direction"], "translation z");
    let failure = &details.precondition_failure().unwrap().violations[0];
    assert_eq!((failure.r#type.as_str(), failure.subject.as_str()), ("MECHANISM", "nodes[1]"));
    assert!(status.message().contains("`b`"), "{}", status.message());
}

#[tokio::test]
async fn a_loose_part_is_a_mechanism_even_without_load() {
    let mut request = cantilever();
    request.nodes.extend([node("c", 0.0, 500.0, 0.0), node("d", 500.0, 500.0, 0.0)]);
    request.beams.push(beam("loose", "c", "d"));
    let (status, _) = refused(request).await;
    assert_eq!(status.code(), Code::FailedPrecondition, "{status:?}");
    let details = status.get_error_details();
    let info = details.error_info().unwrap();
    assert!(["c", "d"].contains(&info.metadata["node"].as_str()), "{info:?}");
    assert_eq!(info.metadata["freeMotions"], "6");
}

#[tokio::test]
async fn a_pull_that_no_compression_can_answer_is_told() {
    let mut request = cantilever();
    request.load_cases[0].nodal_loads[0].load =
        Some(v1::Wrench { force_x_n: 100.0, ..Default::default() });
    request.buckling = Some(v1::BucklingRequest {
        load_case_id: "push".to_owned(),
        mode_count: 1,
        elements_per_member: 0,
    });
    let (status, _) = refused(request).await;
    assert_eq!(status.code(), Code::FailedPrecondition, "{status:?}");
    assert_eq!(status.get_error_details().error_info().unwrap().reason, "NOTHING_COMPRESSED");
    assert!(status.message().contains("no axial compression"), "{status:?}");
    assert!(status.message().contains("bent beams is not looked at"), "{status:?}");
}

/// A ring of radius 10 mm about the origin, changed by `spoil`.
fn ring(spoil: impl Fn(&mut v1::GroupRun)) -> v1::SolveStructureRequest {
    let mut run = v1::GroupRun {
        id: "r".to_owned(),
        start: Some(v1::Position { x_mm: 10.0, y_mm: 0.0, z_mm: 0.0 }),
        throat_mm: 3.0,
        circle_centre: Some(v1::Position::default()),
        circle_normal: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        ..Default::default()
    };
    spoil(&mut run);
    let load = Some(v1::Wrench { moment_z_nmm: 1e5, ..Default::default() });
    let group = v1::WeldGroup { id: "w".to_owned(), runs: vec![run], load, load_at: None };
    v1::SolveStructureRequest { weld_groups: vec![group], ..Default::default() }
}

#[tokio::test]
async fn a_ring_that_does_not_lie_in_its_plane_or_has_an_end_is_refused() {
    let off = ring(|run| run.start = Some(v1::Position { x_mm: 10.0, y_mm: 0.0, z_mm: -5.0 }));
    let (status, paths) = refused(off).await;
    assert_eq!(paths, ["weld_groups[0].runs[0].start"]);
    assert!(status.message().contains("5 mm off the plane"), "{status:?}");
    let ended = ring(|run| run.end = Some(v1::Position { x_mm: 0.0, y_mm: 10.0, z_mm: 0.0 }));
    let (status, paths) = refused(ended).await;
    assert_eq!(paths, ["weld_groups[0].runs[0].end"]);
    assert!(status.message().contains("(0, 10, 0) mm"), "{status:?}");
    let closed = ring(|run| run.end = run.start);
    solver().await.solve_structure(closed).await.unwrap();
}

#[tokio::test]
async fn lengths_are_told_in_mm_and_directions_as_numbers() {
    let mut turned = cantilever();
    turned.beams[0].start_offset = Some(v1::Position { x_mm: 1100.0, y_mm: 0.0, z_mm: 0.0 });
    let (status, paths) = refused(turned).await;
    assert_eq!(paths, ["beams[0].start_offset"]);
    let message = status.message();
    assert!(message.contains("1100 mm") && message.contains("1000 mm"), "{message}");
    let mut along = cantilever();
    along.beams[0].up = Some(v1::Vector { x: 1.0, y: 0.0, z: 0.0 });
    let (status, _) = refused(along).await;
    assert!(status.message().contains("given (1, 0, 0)"), "{status:?}");
    let mut short = cantilever();
    short.nodes[1] = node("b", 0.0, 0.0, 0.0);
    let (status, _) = refused(short).await;
    assert!(status.message().contains("0 mm"), "{status:?}");
}
