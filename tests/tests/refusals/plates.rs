//! Structures of plates, and outlines of plates, that cannot be used: each refusal names the part.

use fishplate_proto::v1;
use fishplate_proto::v1::{MeshPlateRequest, SolveStructureRequest};
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;
use fishplate_tests::structure::{at_node, position, steel, vector};
use tonic::Code;

use crate::input::{Bad, assert_refused};

const O: [f64; 3] = [0.0; 3];

/// A rectangular plate of `count` elements along its sides; nodes `base-3-2`.
fn add_plate(
    request: &mut SolveStructureRequest,
    id: &str,
    thickness_mm: f64,
    origin: [f64; 3],
    sides: [[f64; 3]; 2],
    count: [u32; 2],
) {
    let name = |i: u32, j: u32| format!("{id}-{i}-{j}");
    for j in 0..=count[1] {
        for i in 0..=count[0] {
            let [a, b] = [f64::from(i) / f64::from(count[0]), f64::from(j) / f64::from(count[1])];
            let at = [0, 1, 2].map(|k| origin[k] + a * sides[0][k] + b * sides[1][k]);
            request.nodes.push(v1::Node { id: name(i, j), position: Some(position(at)) });
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

/// A held base of 4 mm with an upright of 3 mm welded on it and a lid of 3 mm bolted and plugged
/// to it.
fn good() -> SolveStructureRequest {
    let mut request = SolveStructureRequest { materials: vec![steel("m")], ..Default::default() };
    let base = [[120.0, 0.0, 0.0], [0.0, 40.0, 0.0]];
    add_plate(&mut request, "base", 4.0, [-10.0, -20.0, 0.0], base, [12, 4]);
    let upright = [[40.0, 0.0, 0.0], [0.0, 0.0, 30.0]];
    add_plate(&mut request, "upright", 3.0, [0.0, 0.0, 2.0], upright, [4, 3]);
    let lid = [[40.0, 0.0, 0.0], [0.0, 40.0, 0.0]];
    add_plate(&mut request, "lid", 3.0, [60.0, -20.0, 3.5], lid, [8, 8]);
    request
        .nodes
        .push(v1::Node { id: "hand".to_owned(), position: Some(position([20.0, 0.0, 50.0])) });
    for j in 0..=4 {
        for i in [0, 12] {
            request.supports.push(v1::Support {
                node_id: format!("base-{i}-{j}"),
                move_x: v1::SupportAction::Held.into(),
                move_y: v1::SupportAction::Held.into(),
                move_z: v1::SupportAction::Held.into(),
                ..Default::default()
            });
        }
    }
    request.seams.push(v1::Seam {
        id: "foot".to_owned(),
        edge_plate_id: "upright".to_owned(),
        onto_plate_id: "base".to_owned(),
        path: vec![position([0.0, 1.5, 2.0]), position([40.0, 1.5, 2.0])],
        leg_on: Some(vector([0.0, 1.0, 0.0])),
        leg_up: Some(vector([0.0, 0.0, 1.0])),
    });
    request.plate_bolts.push(v1::StructureBolt {
        id: "bolt".to_owned(),
        head: Some(position([80.0, 0.0, 5.0])),
        nut: Some(position([80.0, 0.0, -2.0])),
        plate_ids: vec!["lid".to_owned(), "base".to_owned()],
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
        of_plate_id: "lid".to_owned(),
        onto: Some(v1::plate_contact::Onto::OntoPlateId("base".to_owned())),
        ..Default::default()
    });
    request.spots.push(v1::Spot {
        id: "plug".to_owned(),
        plate_ids: vec!["lid".to_owned(), "base".to_owned()],
        centre: Some(position([68.0, -12.0, 2.0])),
        diameter_mm: 8.0,
    });
    request.spreads.push(v1::Spread {
        id: "grip".to_owned(),
        node_id: "hand".to_owned(),
        area_node_ids: (0..=4).map(|i| format!("upright-{i}-3")).collect(),
        rigid: false,
    });
    request.load_cases = vec![at_node("LC", "hand", [0.0, 0.0, 100.0], O)];
    request
}

fn node<'r>(request: &'r mut SolveStructureRequest, id: &str) -> &'r mut v1::Position {
    let found = request.nodes.iter_mut().find(|node| node.id == id).expect("the node is there");
    found.position.as_mut().expect("it has a place")
}

const BAD: &[Bad<SolveStructureRequest>] = &[
    Bad {
        what: "a thickness below 0",
        spoil: |r| r.plates[0].thickness_mm = -4.0,
        field: "plates[0].thickness_mm",
        words: &["-4", "above 0"],
    },
    Bad {
        what: "a thickness that is no number",
        spoil: |r| r.plates[1].thickness_mm = f64::NAN,
        field: "plates[1].thickness_mm",
        words: &["NaN", "finite"],
    },
    Bad {
        what: "a material that gives way without changing its volume",
        spoil: |r| r.materials[0].shear_modulus_mpa = 70_000.0,
        field: "plates[2].material_id",
        words: &["`lid`", "Poisson", "0.5"],
    },
    Bad {
        what: "an element whose sides cross",
        spoil: |r| r.plates[0].elements[5].node_ids.swap(1, 2),
        field: "plates[0].elements[5]",
        words: &["`base`", "`base-6-1`"],
    },
    Bad {
        what: "an element inside out",
        spoil: |r| r.plates[0].elements[5].node_ids.reverse(),
        field: "plates[0].elements[5]",
        words: &["`base`", "same side"],
    },
    Bad {
        what: "an element warped far out of its plane",
        spoil: |r| {
            node(r, "base-5-0").z_mm = 15.0;
            node(r, "base-4-1").z_mm = 15.0;
        },
        field: "plates[0].elements[4]",
        words: &["`base`", "`base-5-0`", "mean plane"],
    },
    Bad {
        what: "a sliver",
        spoil: |r| node(r, "base-3-2").x_mm += 10.0,
        field: "plates[0].elements[15]",
        words: &["`base`", "`base-3-2`"],
    },
    Bad {
        what: "a corner twice",
        spoil: |r| r.plates[1].elements[2].node_ids[1] = "upright-2-0".to_owned(),
        field: "plates[1].elements[2]",
        words: &["`upright`", "`upright-2-0`"],
    },
    Bad {
        what: "an element of two corners",
        spoil: |r| r.plates[1].elements[2].node_ids.truncate(2),
        field: "plates[1].elements[2].node_ids",
        words: &["2 corners", "3 or 4"],
    },
    Bad {
        what: "a corner that is not there",
        spoil: |r| r.plates[0].elements[5].node_ids[2] = "nowhere".to_owned(),
        field: "plates[0].elements[5].node_ids[2]",
        words: &["`nowhere`", "the name of a node"],
    },
    Bad {
        what: "no elements",
        spoil: |r| r.plates[1].elements.clear(),
        field: "plates[1].elements",
        words: &["`upright`", "at least one"],
    },
    Bad {
        what: "two plates of one name",
        spoil: |r| r.plates[2].id = "base".to_owned(),
        field: "plates[2].id",
        words: &["`base`", "plates[0]"],
    },
    Bad {
        what: "two seams of one name",
        spoil: |r| r.seams.push(r.seams[0].clone()),
        field: "seams[1].id",
        words: &["`foot`", "no other seam"],
    },
    Bad {
        what: "a seam to a plate that is not there",
        spoil: |r| r.seams[0].onto_plate_id = "floor".to_owned(),
        field: "seams[0].onto_plate_id",
        words: &["`floor`", "the name of a plate"],
    },
    Bad {
        what: "plates that do not touch along a seam",
        spoil: |r| r.seams[0].path.iter_mut().for_each(|at| at.z_mm += 20.0),
        field: "seams[0].onto_plate_id",
        words: &["`base`", "`foot`", "mm"],
    },
    Bad {
        what: "a seam that runs on beyond its plate",
        spoil: |r| r.seams[0].path[1].x_mm = 70.0,
        field: "seams[0].edge_plate_id",
        words: &["`upright`", "`foot`"],
    },
    Bad {
        what: "a seam of no length",
        spoil: |r| r.seams[0].path[1] = r.seams[0].path[0],
        field: "seams[0].path[1]",
        words: &["`foot`"],
    },
    Bad {
        what: "a seam of one point",
        spoil: |r| r.seams[0].path.truncate(1),
        field: "seams[0].path",
        words: &["1 point", "`foot`"],
    },
    Bad {
        what: "a seam of a plate with itself",
        spoil: |r| r.seams[0].onto_plate_id = "upright".to_owned(),
        field: "seams[0].onto_plate_id",
        words: &["`foot`"],
    },
    Bad {
        what: "a leg along its run",
        spoil: |r| r.seams[0].leg_on = Some(vector([1.0, 0.0, 0.0])),
        field: "seams[0].leg_on",
        words: &["`foot`", "square to the run"],
    },
    Bad {
        what: "a leg without direction",
        spoil: |r| r.seams[0].leg_up = Some(vector(O)),
        field: "seams[0].leg_up",
        words: &["0, 0, 0", "direction"],
    },
    Bad {
        what: "a bolt through no plate",
        spoil: |r| r.plate_bolts[0].plate_ids.clear(),
        field: "plate_bolts[0].plate_ids",
        words: &["`bolt`", "at least one plate"],
    },
    Bad {
        what: "a bolt that passes a plate beside it",
        spoil: |r| r.plate_bolts[0].plate_ids.insert(1, "upright".to_owned()),
        field: "plate_bolts[0].plate_ids[1]",
        words: &["`bolt`", "`upright`"],
    },
    Bad {
        what: "a hole larger than the head",
        spoil: |r| r.plate_bolts[0].hole_mm = 18.0,
        field: "plate_bolts[0].head_bearing_mm",
        words: &["`bolt`", "16.000 mm", "18.000 mm"],
    },
    Bad {
        what: "a shank thicker than its hole",
        spoil: |r| r.plate_bolts[0].diameter_mm = 12.0,
        field: "plate_bolts[0].hole_mm",
        words: &["`bolt`", "9.000 mm", "12.000 mm"],
    },
    Bad {
        what: "a bolt of no length",
        spoil: |r| r.plate_bolts[0].nut = r.plate_bolts[0].head,
        field: "plate_bolts[0].nut",
        words: &["`bolt`", "no length"],
    },
    Bad {
        what: "a preload that presses",
        spoil: |r| r.plate_bolts[0].preload_n = -5.0,
        field: "plate_bolts[0].preload_n",
        words: &["-5"],
    },
    Bad {
        what: "play without holes that give it",
        spoil: |r| r.plate_bolts[0].clearance_mm = 0.5,
        field: "plate_bolts[0].clearance_mm",
        words: &["0.5", "SHANK_BEARING_CLEARANCE"],
    },
    Bad {
        what: "a spot beside its plate",
        spoil: |r| r.spots[0].centre = Some(position([20.0, -12.0, 2.0])),
        field: "spots[0].plate_ids[0]",
        words: &["`plug`", "`lid`"],
    },
    Bad {
        what: "a spot of one plate",
        spoil: |r| r.spots[0].plate_ids[1] = "lid".to_owned(),
        field: "spots[0].plate_ids",
        words: &["`plug`", "`lid`", "two plates"],
    },
    Bad {
        what: "faces that never face each other",
        spoil: |r| r.plate_contacts[0].of_plate_id = "upright".to_owned(),
        field: "plate_contacts[0]",
        words: &["`faces`", "`upright`", "never faces"],
    },
    Bad {
        what: "a face that presses on itself",
        spoil: |r| r.plate_contacts[0].of_plate_id = "base".to_owned(),
        field: "plate_contacts[0].onto_plate_id",
        words: &["`faces`"],
    },
    Bad {
        what: "a ring wider inside than outside",
        spoil: |r| {
            r.plate_contacts[0].within = Some(v1::RingArea {
                centre: Some(position([80.0, 0.0, 2.0])),
                axis: Some(vector([0.0, 0.0, 1.0])),
                inside_mm: 30.0,
                outside_mm: 20.0,
            });
        },
        field: "plate_contacts[0].within.inside_mm",
        words: &["30", "outer diameter"],
    },
    Bad {
        what: "a spread led by a corner of an element",
        spoil: |r| r.spreads[0].node_id = "upright-2-3".to_owned(),
        field: "spreads[0].node_id",
        words: &["`upright-2-3`", "`grip`", "no corner"],
    },
    Bad {
        what: "an area that is on no plate",
        spoil: |r| r.spreads[0].area_node_ids[1] = "hand".to_owned(),
        field: "spreads[0].area_node_ids[1]",
        words: &["`hand`", "`grip`", "a corner of an element"],
    },
    Bad {
        what: "a load along no edge",
        spoil: |r| {
            r.load_cases[0].edge_loads.push(v1::EdgeLoad {
                from_node_id: "base-0-0".to_owned(),
                to_node_id: "base-2-0".to_owned(),
                from_n_per_mm: Some(vector([0.0, 0.0, 1.0])),
                to_n_per_mm: Some(vector([0.0, 0.0, 1.0])),
            });
        },
        field: "load_cases[0].edge_loads[0].from_node_id",
        words: &["neighbouring corners"],
    },
    Bad {
        what: "a load on an element that is not there",
        spoil: |r| {
            r.load_cases[0].face_loads.push(v1::FaceLoad {
                plate_id: "base".to_owned(),
                elements: vec![3, 4000],
                normal_mpa: 0.1,
                ..Default::default()
            });
        },
        field: "load_cases[0].face_loads[0].elements[1]",
        words: &["4000"],
    },
    Bad {
        what: "a one-way support beside plates",
        spoil: |r| r.supports[1].set_move_z(v1::SupportAction::PressesPositive),
        field: "supports[1]",
        words: &["one-sided", "contact"],
    },
    Bad {
        what: "stresses of a plate that is not there",
        spoil: |r| {
            r.plate_results = Some(v1::PlateResultsAsked {
                stress_plate_ids: vec!["roof".to_owned()],
                ..Default::default()
            });
        },
        field: "plate_results.stress_plate_ids[0]",
        words: &["`roof`", "the name of a plate"],
    },
    Bad {
        what: "more elements than anybody needs",
        spoil: |r| {
            let one = r.plates[1].elements[0].clone();
            r.plates[1].elements = vec![one; 50_001];
        },
        field: "plates[1].elements",
        words: &["50001", "50000"],
    },
];

#[test]
fn plates_that_cannot_be_used_are_named() {
    let good = good();
    if let Err(status) = service::solve(&good) {
        panic!("the good one is refused: {:?}", Refusal::of(&status));
    }
    assert_refused(&good, BAD, |request| service::solve(request).map(drop));
}

#[test]
fn a_plate_that_nothing_holds_is_named() {
    let mut loose = good();
    loose.seams.clear();
    let refusal = Refusal::of(&service::solve(&loose).expect_err("the upright is loose"));
    assert_eq!(refusal.code, Code::FailedPrecondition, "{refusal:?}");
    assert_eq!(refusal.reason, "MECHANISM");
    assert!(refusal.message.contains("plate `upright`"), "{}", refusal.message);
    assert_eq!(refusal.fact("plates"), "upright");
}

fn at(x_mm: f64, y_mm: f64) -> v1::PlanePoint {
    v1::PlanePoint { x_mm, y_mm }
}

fn edge(name: &str, x_mm: f64, y_mm: f64) -> v1::OutlineEdge {
    v1::OutlineEdge { name: name.to_owned(), start: Some(at(x_mm, y_mm)), course: None }
}

fn round(name: &str, x_mm: f64, y_mm: f64, diameter_mm: f64) -> v1::OutlineHole {
    let hole = v1::RoundHole { centre: Some(at(x_mm, y_mm)), diameter_mm };
    v1::OutlineHole { name: name.to_owned(), shape: Some(v1::outline_hole::Shape::Round(hole)) }
}

/// A tab of 100 x 80 mm with a hole, and a line where a gusset is welded on.
fn good_tab() -> MeshPlateRequest {
    MeshPlateRequest {
        outline: Some(v1::PlateOutline {
            name: "tab".to_owned(),
            edges: vec![
                edge("bottom", 0.0, 0.0),
                edge("right", 100.0, 0.0),
                edge("top", 100.0, 80.0),
                edge("left", 0.0, 80.0),
            ],
            holes: vec![round("bolt", 50.0, 40.0, 14.0)],
            lines: vec![v1::OutlineLine {
                name: "gusset".to_owned(),
                points: vec![at(20.0, 10.0), at(20.0, 70.0)],
            }],
            ..Default::default()
        }),
        sizing: Some(v1::MeshSizing { target_mm: 8.0, ..Default::default() }),
        ..Default::default()
    }
}

fn outline(request: &mut MeshPlateRequest) -> &mut v1::PlateOutline {
    request.outline.as_mut().expect("it has one")
}

const BAD_TABS: &[Bad<MeshPlateRequest>] = &[
    Bad {
        what: "an outline that crosses itself",
        spoil: |r| {
            let edges = &mut outline(r).edges;
            (edges[2].start, edges[3].start) = (edges[3].start, edges[2].start);
        },
        field: "outline.edges[1]",
        words: &["edge `right`", "edge `left`", "mm", "cross"],
    },
    Bad {
        what: "a hole over an edge",
        spoil: |r| outline(r).holes[0] = round("bolt", 97.0, 40.0, 14.0),
        field: "outline.holes[0]",
        words: &["hole `bolt`", "edge `right`"],
    },
    Bad {
        what: "a hole beside the plate",
        spoil: |r| outline(r).holes[0] = round("bolt", 130.0, 40.0, 14.0),
        field: "outline.holes[0]",
        words: &["hole `bolt`"],
    },
    Bad {
        what: "two holes that meet",
        spoil: |r| outline(r).holes.push(round("second", 60.0, 40.0, 14.0)),
        field: "outline.holes[1]",
        words: &["hole `second`", "hole `bolt`"],
    },
    Bad {
        what: "a strip of no width beside a hole",
        spoil: |r| outline(r).holes[0] = round("bolt", 92.95, 40.0, 14.0),
        field: "outline.edges[1]",
        words: &["edge `right`", "hole `bolt`", "0.050 mm"],
    },
    Bad {
        what: "a line off the plate",
        spoil: |r| outline(r).lines[0].points[1] = at(20.0, 95.0),
        field: "outline.lines[0]",
        words: &["line `gusset`", "mm"],
    },
    Bad {
        what: "two edges of one name",
        spoil: |r| outline(r).edges[2].name = "bottom".to_owned(),
        field: "outline.edges[2].name",
        words: &["`bottom`"],
    },
    Bad {
        what: "a hole without a shape",
        spoil: |r| outline(r).holes[0].shape = None,
        field: "outline.holes[0]",
        words: &["round", "slot", "polygon"],
    },
    Bad {
        what: "a diameter below 0",
        spoil: |r| outline(r).holes[0] = round("bolt", 50.0, 40.0, -14.0),
        field: "outline.holes[0]",
        words: &["hole `bolt`", "-14 mm"],
    },
    Bad {
        what: "two corners",
        spoil: |r| outline(r).edges.truncate(2),
        field: "outline",
        words: &["`tab`", "three corners"],
    },
    Bad {
        what: "sizes that no machine has room for",
        spoil: |r| r.sizing = Some(v1::MeshSizing { target_mm: 0.05, ..Default::default() }),
        field: "sizing.target_mm",
        words: &["50000", "larger sizes"],
    },
    Bad {
        what: "a size that is no number",
        spoil: |r| r.sizing = Some(v1::MeshSizing { target_mm: f64::NAN, ..Default::default() }),
        field: "sizing.target_mm",
        words: &["NaN"],
    },
    Bad {
        what: "a plane without a direction",
        spoil: |r| {
            r.plane = Some(v1::PlatePlane {
                x_axis: Some(vector([0.0, 1.0, 0.0])),
                ..Default::default()
            });
        },
        field: "plane.y_direction",
        words: &["global y"],
    },
];

#[test]
fn outlines_that_cannot_be_meshed_are_named() {
    let good = good_tab();
    if let Err(status) = service::mesh(&good) {
        panic!("the good one is refused: {:?}", Refusal::of(&status));
    }
    assert_refused(&good, BAD_TABS, |request| service::mesh(request).map(drop));
}
