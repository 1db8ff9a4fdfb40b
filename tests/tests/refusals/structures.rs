//! Structures that cannot be used.

use fishplate_proto::v1;
use fishplate_proto::v1::section_shape::Shape;
use fishplate_proto::v1::{SolveStructureRequest, section};
use fishplate_tests::service;
use fishplate_tests::structure::{
    Structure, at_node, line, position, steel, values, vector, wrench,
};

use crate::input::{Bad, assert_refused};

const O: [f64; 3] = [0.0; 3];

fn good() -> SolveStructureRequest {
    let mut request = Structure::default()
        .steel_section(values(600.0, 2.0e5, 1.1e5, 2.2e5))
        .node("1", O)
        .node("2", [1000.0, 0.0, 0.0])
        .node("3", [1000.0, 300.0, 0.0])
        .beam("b", "1", "2")
        .link("l", "2", "3")
        .grounded("k", "2", [10.0, 10.0, 10.0])
        .fix("1")
        .case(at_node("LC", "2", [0.0, 0.0, -1000.0], O))
        .stations(&[0.5])
        .0;
    request.load_cases[0].line_loads.push(line("b", O, [0.0, 0.0, -1.0]));
    request.load_cases[0].thermal_loads.push(v1::ThermalLoad {
        beam_id: "b".to_owned(),
        change_k: 10.0,
        ..Default::default()
    });
    request.masses.push(v1::PointMass {
        node_id: "2".to_owned(),
        mass_kg: 1.0,
        ..Default::default()
    });
    let bolt = |id: &str, x: f64| v1::GroupBolt {
        id: id.to_owned(),
        position: Some(position([x, 0.0, 0.0])),
        area_mm2: 84.3,
    };
    request.bolt_groups.push(v1::BoltGroup {
        id: "g".to_owned(),
        bolts: vec![bolt("left", -50.0), bolt("right", 50.0), bolt("far", 90.0)],
        load: Some(wrench([0.0, 1000.0, 0.0], O)),
        ..Default::default()
    });
    let run = |id: &str, y: f64| v1::GroupRun {
        id: id.to_owned(),
        start: Some(position([0.0, y, 0.0])),
        end: Some(position([60.0, y, 0.0])),
        throat_mm: 3.0,
        ..Default::default()
    };
    request.weld_groups.push(v1::WeldGroup {
        id: "w".to_owned(),
        runs: vec![run("a", 0.0), run("b", 80.0)],
        load: Some(wrench([0.0, 1000.0, 0.0], O)),
        load_at: None,
    });
    request.bed_contacts.push(v1::BedContact {
        id: "bed".to_owned(),
        size_x_mm: 100.0,
        size_y_mm: 50.0,
        force_n: 1000.0,
        ..Default::default()
    });
    request.sections.push(shape(Shape::RoundTube(v1::RoundTubeShape {
        diameter_mm: 48.0,
        thickness_mm: 3.0,
        ..Default::default()
    })));
    request
}

fn shape(shape: Shape) -> v1::Section {
    v1::Section {
        id: "drawn".to_owned(),
        definition: Some(section::Definition::Shape(v1::SectionShape { shape: Some(shape) })),
        ..Default::default()
    }
}

fn values_of(request: &mut SolveStructureRequest) -> &mut v1::SectionValues {
    match &mut request.sections[0].definition {
        Some(section::Definition::Values(values)) => values,
        other => panic!("the first section is given by values, not {other:?}"),
    }
}

fn draw(request: &mut SolveStructureRequest, given: Shape) {
    request.sections[1] = shape(given);
}

fn bad(
    what: &'static str,
    field: &'static str,
    words: &'static [&'static str],
    spoil: fn(&mut SolveStructureRequest),
) -> Bad<SolveStructureRequest> {
    Bad { what, spoil, field, words }
}

fn names() -> Vec<Bad<SolveStructureRequest>> {
    vec![
        bad("an empty request", "nodes", &["nodes"], |r| *r = SolveStructureRequest::default()),
        bad("a node without a name", "nodes[1].id", &["a name"], |r| r.nodes[1].id.clear()),
        bad("two nodes of one name", "nodes[1].id", &["`1`", "no other"], |r| {
            r.nodes[1].id = "1".to_owned();
        }),
        bad("a name over two lines", "nodes[2].id", &["one line"], |r| {
            r.nodes[2].id = "3\nx".to_owned();
        }),
        bad("a name of 65 bytes", "nodes[2].id", &["65", "64"], |r| r.nodes[2].id = "x".repeat(65)),
        bad("a member from nowhere", "beams[0].start_node_id", &["`9`", "1, 2"], |r| {
            r.beams[0].start_node_id = "9".to_owned();
        }),
        bad("a member to nothing", "beams[0].end_node_id", &["nothing"], |r| {
            r.beams[0].end_node_id.clear();
        }),
        bad("an unknown section", "beams[0].section_id", &["`IPE 80`", "s"], |r| {
            r.beams[0].section_id = "IPE 80".to_owned();
        }),
        bad("an unknown material", "beams[0].material_id", &["`cheese`"], |r| {
            r.beams[0].material_id = "cheese".to_owned();
        }),
        bad("two members of one name", "beams[1].id", &["`b`"], |r| {
            r.beams.push(r.beams[0].clone())
        }),
        bad("a spring on nothing", "springs[0].node_a_id", &["nothing"], |r| {
            r.springs[0].node_a_id.clear();
        }),
        bad("a spring to nowhere", "springs[0].node_b_id", &["`7`"], |r| {
            r.springs[0].node_b_id = "7".to_owned();
        }),
        bad("a support of nothing", "supports[0].node_id", &["`x`"], |r| {
            r.supports[0].node_id = "x".to_owned();
        }),
        bad("two supports of one node", "supports[1].node_id", &["one support"], |r| {
            r.supports.push(r.supports[0].clone());
        }),
        bad("a mass of nothing", "masses[0].node_id", &["`x`"], |r| {
            r.masses[0].node_id = "x".to_owned();
        }),
        bad("a load at nothing", "load_cases[0].nodal_loads[0].node_id", &["`x`"], |r| {
            r.load_cases[0].nodal_loads[0].node_id = "x".to_owned();
        }),
        bad("a load along nothing", "load_cases[0].line_loads[0].beam_id", &["`x`"], |r| {
            r.load_cases[0].line_loads[0].beam_id = "x".to_owned();
        }),
        bad("heat in nothing", "load_cases[0].thermal_loads[0].beam_id", &["`x`"], |r| {
            r.load_cases[0].thermal_loads[0].beam_id = "x".to_owned();
        }),
        bad("two cases of one name", "load_cases[1].id", &["`LC`"], |r| {
            r.load_cases.push(r.load_cases[0].clone());
        }),
        bad("stations of nothing", "stations[0].beam_id", &["`x`"], |r| {
            r.stations[0].beam_id = "x".to_owned();
        }),
        bad("buckling of no case", "buckling.load_case_id", &["`x`", "LC"], |r| {
            r.buckling = Some(v1::BucklingRequest {
                load_case_id: "x".to_owned(),
                mode_count: 1,
                elements_per_member: 0,
            });
        }),
    ]
}

fn numbers() -> Vec<Bad<SolveStructureRequest>> {
    vec![
        bad("a place that is no number", "nodes[1].position.x_mm", &["NaN", "finite"], |r| {
            r.nodes[1].position = Some(position([f64::NAN, 0.0, 0.0]));
        }),
        bad("an endless force", "load_cases[0].nodal_loads[0].load.force_z_n", &["inf"], |r| {
            r.load_cases[0].nodal_loads[0].load = Some(wrench([0.0, 0.0, f64::INFINITY], O));
        }),
        bad("no place", "nodes[1].position", &["required"], |r| r.nodes[1].position = None),
        bad("no load", "load_cases[0].nodal_loads[0].load", &["required"], |r| {
            r.load_cases[0].nodal_loads[0].load = None;
        }),
        bad("no area", "sections[0].values.area_mm2", &["above 0"], |r| {
            values_of(r).area_mm2 = 0.0;
        }),
        bad("a negative inertia", "sections[0].values.i_y_mm4", &["above 0"], |r| {
            values_of(r).i_y_mm4 = -2e5;
        }),
        bad("no torsion", "sections[0].values.torsion_constant_mm4", &["above 0"], |r| {
            values_of(r).torsion_constant_mm4 = 0.0;
        }),
        bad("a product of inertia too large", "sections[0].values.i_yz_mm4", &[], |r| {
            values_of(r).i_yz_mm4 = 9e5;
        }),
        bad("a negative shear area", "sections[0].values.shear_area_z_mm2", &["above 0"], |r| {
            values_of(r).shear_area_z_mm2 = Some(-1.0);
        }),
        bad("no stiffness of the material", "materials[0].youngs_modulus_mpa", &["above 0"], |r| {
            r.materials[0].youngs_modulus_mpa = 0.0;
        }),
        bad("a negative shear modulus", "materials[0].shear_modulus_mpa", &["above 0"], |r| {
            r.materials[0].shear_modulus_mpa = -8e4;
        }),
        bad("a negative density", "materials[0].density_kg_per_m3", &[], |r| {
            r.materials[0].density_kg_per_m3 = -1.0;
        }),
        bad("a negative spring", "springs[0].move_y_n_per_mm", &[], |r| {
            r.springs[0].move_y_n_per_mm = -5.0;
        }),
        bad("a negative mass", "masses[0].mass_kg", &[], |r| r.masses[0].mass_kg = -1.0),
        bad("a member without length", "beams[0].end_node_id", &["length above 0"], |r| {
            r.nodes[1].position = Some(position(O));
        }),
        bad("offsets that meet", "beams[0].end_node_id", &["offsets"], |r| {
            r.beams[0].start_offset = Some(position([1000.0, 0.0, 0.0]));
        }),
        bad("up along the member", "beams[0].up", &[], |r| {
            r.beams[0].up = Some(vector([1.0, 0.0, 0.0]));
        }),
        bad("up without a direction", "beams[0].up", &["direction"], |r| {
            r.beams[0].up = Some(vector(O));
        }),
        bad(
            "axes of a spring that lie on each other",
            "springs[0].y_direction",
            &["across"],
            |r| {
                r.springs[0].x_axis = Some(vector([0.0, 2.0, 0.0]));
            },
        ),
        bad("a place beyond the member", "stations[0].fractions[0]", &["0 to 1"], |r| {
            r.stations[0].fractions[0] = 1.2;
        }),
        bad("a load beyond the member", "load_cases[0].point_loads[0].at_mm", &["1000"], |r| {
            r.load_cases[0].point_loads.push(v1::MemberPointLoad {
                beam_id: "b".to_owned(),
                at_mm: 1001.0,
                load: Some(wrench([1.0, 0.0, 0.0], O)),
                ..Default::default()
            });
        }),
        bad("a load that ends before it begins", "load_cases[0].line_loads[0].to_mm", &[], |r| {
            r.load_cases[0].line_loads[0].from_mm = Some(500.0);
            r.load_cases[0].line_loads[0].to_mm = Some(200.0);
        }),
        bad("no modes", "frequencies.mode_count", &["1 to 100"], |r| {
            r.frequencies = Some(v1::FrequencyRequest::default());
        }),
        bad("a thousand modes", "frequencies.mode_count", &["1 to 100"], |r| {
            r.frequencies = Some(v1::FrequencyRequest { mode_count: 1000, ..Default::default() });
        }),
        bad("elements counted below zero", "frequencies.elements_per_member", &["1 to 64"], |r| {
            r.frequencies = Some(v1::FrequencyRequest {
                mode_count: 1,
                elements_per_member: -1,
                rotary_inertia: false,
            });
        }),
        bad(
            "a spring action that is not there",
            "springs[0].action_z",
            &["COMPRESSION_ONLY"],
            |r| {
                r.springs[0].action_z = 17;
            },
        ),
        bad("a support action that is not there", "supports[0].move_x", &["HELD"], |r| {
            r.supports[0].move_x = -3;
        }),
        bad("a movement of what is free", "load_cases[0].prescribed[0].move_x_mm", &[], |r| {
            r.load_cases[0].prescribed.push(v1::PrescribedMovement {
                node_id: "2".to_owned(),
                move_x_mm: Some(1.0),
                ..Default::default()
            });
        }),
    ]
}

fn links_and_lists() -> Vec<Bad<SolveStructureRequest>> {
    vec![
        bad("a link to itself", "rigid_links[0].follower_node_id", &[], |r| {
            r.rigid_links[0].follower_node_id = "2".to_owned();
        }),
        bad("links in a ring", "rigid_links[0]", &["ring", "`3`, `2`"], |r| {
            r.rigid_links.push(v1::RigidLink {
                id: "back".to_owned(),
                leader_node_id: "3".to_owned(),
                follower_node_id: "2".to_owned(),
            });
        }),
        bad("a follower of two leaders", "rigid_links[1].follower_node_id", &[], |r| {
            r.rigid_links.push(v1::RigidLink {
                id: "other".to_owned(),
                leader_node_id: "1".to_owned(),
                follower_node_id: "3".to_owned(),
            });
        }),
        bad("a link to nowhere", "rigid_links[0].leader_node_id", &["`x`"], |r| {
            r.rigid_links[0].leader_node_id = "x".to_owned();
        }),
        bad("more nodes than fit", "nodes", &["50001", "50000"], |r| {
            r.nodes = vec![v1::Node::default(); 50_001];
        }),
        bad("more cases than fit", "load_cases", &["201", "200"], |r| {
            r.load_cases = vec![v1::StructureLoadCase::default(); 201];
        }),
        bad("a section of nothing", "sections[0]", &["values", "shape"], |r| {
            r.sections[0].definition = None;
        }),
        bad("a shape of nothing", "sections[1].shape", &["shape"], |r| {
            r.sections[1].definition =
                Some(section::Definition::Shape(v1::SectionShape { shape: None }));
        }),
        bad("a torsion theory beside values", "sections[0].torsion", &["values"], |r| {
            r.sections[0].set_torsion(v1::TorsionTheory::ThinWall);
        }),
        bad(
            "a wall thicker than its tube",
            "sections[1].shape.round_tube.thickness_mm",
            &[],
            |r| {
                draw(
                    r,
                    Shape::RoundTube(v1::RoundTubeShape {
                        diameter_mm: 48.0,
                        thickness_mm: 30.0,
                        ..Default::default()
                    }),
                );
            },
        ),
        bad("a negative wall", "sections[1].shape.rectangular_tube.thickness_mm", &[], |r| {
            draw(
                r,
                Shape::RectangularTube(v1::RectangularTubeShape {
                    height_mm: 60.0,
                    width_mm: 40.0,
                    thickness_mm: -2.0,
                    ..Default::default()
                }),
            );
        }),
        bad("a tube rusted through", "sections[1].shape.round_tube.thickness_mm", &[], |r| {
            draw(
                r,
                Shape::RoundTube(v1::RoundTubeShape {
                    diameter_mm: 48.0,
                    thickness_mm: 3.0,
                    outside_loss_mm: 2.0,
                    inside_loss_mm: 1.5,
                }),
            );
        }),
        bad("an angle thicker than its leg", "sections[1].shape.angle.thickness_mm", &[], |r| {
            draw(
                r,
                Shape::Angle(v1::AngleShape {
                    vertical_leg_mm: 50.0,
                    horizontal_leg_mm: 50.0,
                    thickness_mm: 60.0,
                    ..Default::default()
                }),
            );
        }),
        bad(
            "a wall from a point that is not there",
            "sections[1].shape.thin_walled.walls[0].end",
            &["0 to 1"],
            |r| {
                draw(
                    r,
                    Shape::ThinWalled(v1::ThinWalledShape {
                        points: vec![v1::StressPoint::default(); 2],
                        walls: vec![v1::ThinWall { start: 0, end: 5, thickness_mm: 1.0 }],
                    }),
                );
            },
        ),
    ]
}

fn joints() -> Vec<Bad<SolveStructureRequest>> {
    vec![
        bad("a group without bolts", "bolt_groups[0].bolts", &["at least one"], |r| {
            r.bolt_groups[0].bolts.clear();
        }),
        bad("a bolt without area", "bolt_groups[0].bolts[1].area_mm2", &["above 0"], |r| {
            r.bolt_groups[0].bolts[1].area_mm2 = 0.0;
        }),
        bad("a bolt off the face", "bolt_groups[0].bolts[2].position", &["face"], |r| {
            r.bolt_groups[0].bolts[2].position = Some(position([90.0, 0.0, 5.0]));
        }),
        bad("a bolt outside its foot", "bolt_groups[0].bolts[2].position", &["corners"], |r| {
            let corners = [[-60.0, -30.0], [60.0, -30.0], [60.0, 30.0], [-60.0, 30.0]];
            r.bolt_groups[0].foot_corners =
                corners.iter().map(|[x, y]| position([*x, *y, 0.0])).collect();
        }),
        bad("a foot of two corners", "bolt_groups[0].foot_corners", &["at least 3"], |r| {
            r.bolt_groups[0].foot_corners = vec![position(O), position([1.0, 0.0, 0.0])];
        }),
        bad("a group without load", "bolt_groups[0].load", &["required"], |r| {
            r.bolt_groups[0].load = None;
        }),
        bad("a run without a throat", "weld_groups[0].runs[0].throat_mm", &["above 0"], |r| {
            r.weld_groups[0].runs[0].throat_mm = 0.0;
        }),
        bad("a run of no length", "weld_groups[0].runs[1].end", &["another point"], |r| {
            r.weld_groups[0].runs[1].end = r.weld_groups[0].runs[1].start;
        }),
        bad("a group without runs", "weld_groups[0].runs", &["at least one"], |r| {
            r.weld_groups[0].runs.clear();
        }),
        bad(
            "a circle without a plane",
            "weld_groups[0].runs[0].circle_normal",
            &["required"],
            |r| {
                r.weld_groups[0].runs[0].circle_centre = Some(position([30.0, 0.0, 0.0]));
            },
        ),
        bad("a bed of no width", "bed_contacts[0].size_y_mm", &["above 0"], |r| {
            r.bed_contacts[0].size_y_mm = 0.0;
        }),
        bad("a force beside its block", "bed_contacts[0].eccentricity_x_mm", &["50"], |r| {
            r.bed_contacts[0].eccentricity_x_mm = 51.0;
        }),
        bad("a block that is pulled", "bed_contacts[0].force_n", &["above 0"], |r| {
            r.bed_contacts[0].force_n = -5.0;
        }),
    ]
}

#[test]
fn a_structure_that_cannot_be_used_is_refused_at_its_field() {
    let call = |request: &SolveStructureRequest| service::solve(request).map(|_| ());
    let good = good();
    call(&good).unwrap();
    let table = [names(), numbers(), links_and_lists(), joints()];
    let table: Vec<Bad<SolveStructureRequest>> = table.into_iter().flatten().collect();
    assert!(table.len() >= 60, "{}", table.len());
    assert_refused(&good, &table, call);
}

#[test]
fn all_faults_are_told_at_once() {
    let mut request = good();
    request.nodes[1].position = None;
    request.beams[0].section_id = "none".to_owned();
    request.springs[0].action_x = 9;
    request.materials.push(v1::Material { youngs_modulus_mpa: f64::NAN, ..steel("m") });
    let refusal = fishplate_tests::refusal::Refusal::of(&service::solve(&request).unwrap_err());
    for field in [
        "nodes[1].position",
        "beams[0].section_id",
        "springs[0].action_x",
        "materials[1].id",
        "materials[1].youngs_modulus_mpa",
    ] {
        assert!(refusal.fields.iter().any(|(told, _)| told == field), "{field}: {refusal:?}");
    }
    assert_eq!(refusal.fact("faults"), refusal.fields.len().to_string());
}
