//! Laws of linear frames, through `SolveStructure`.

use fishplate_proto::v1;
use fishplate_tests::service;
use fishplate_tests::structure::{
    Answer, Structure, at_node, line, load_case, nodal, values, vector,
};
use prost::Message;

const O: [f64; 3] = [0.0; 3];
const TIP: &str = "4";

/// A bent frame with an unsymmetric, shear-flexible section, a spring, a rigid link and two loads;
/// every place and direction goes through `turn`, every name through `name`.
fn frame(turn: impl Fn([f64; 3]) -> [f64; 3], loads: &[(&str, [f64; 3], [f64; 3])]) -> Structure {
    let angle = v1::SectionValues {
        i_yz_mm4: -1.2e5,
        shear_area_y_mm2: Some(300.0),
        shear_area_z_mm2: Some(400.0),
        shear_centre_y_mm: -8.0,
        shear_centre_z_mm: -12.0,
        ..values(744.0, 4.9e5, 1.9e5, 9.0e3)
    };
    let mut structure = Structure::default().steel_section(angle);
    let places = [
        ("1", [0.0, 0.0, 0.0]),
        ("2", [400.0, 30.0, 10.0]),
        ("3", [700.0, 320.0, 80.0]),
        ("4", [900.0, 350.0, -120.0]),
        ("5", [700.0, 0.0, 250.0]),
    ];
    for (id, at) in places {
        structure = structure.node(id, turn(at));
    }
    for (id, start, end, up) in [
        ("a", "1", "2", [0.0, 0.0, 1.0]),
        ("b", "2", "3", [0.0, 0.3, 1.0]),
        ("c", "3", "5", [1.0, 0.0, 0.2]),
    ] {
        structure = structure.beam(id, start, end).with(|beam| beam.up = Some(vector(turn(up))));
    }
    structure = structure.link("rigid", "3", TIP).fix("1");
    structure.0.springs.push(v1::Spring {
        id: "k".to_owned(),
        node_a_id: "5".to_owned(),
        x_axis: Some(vector(turn([1.0, 0.0, 0.0]))),
        y_direction: Some(vector(turn([0.0, 1.0, 0.0]))),
        move_x_n_per_mm: 900.0,
        move_y_n_per_mm: 400.0,
        move_z_n_per_mm: 1500.0,
        turn_x_nmm_per_rad: 2e6,
        turn_y_nmm_per_rad: 1e6,
        turn_z_nmm_per_rad: 3e6,
        ..Default::default()
    });
    for (id, force, moment) in loads {
        structure = structure.case(at_node(id, TIP, turn(*force), turn(*moment)));
    }
    structure
}

fn same([x, y, z]: [f64; 3]) -> [f64; 3] {
    [x, y, z]
}

/// A turn by no round angle about a slanting axis (Rodrigues' formula).
fn slanted([x, y, z]: [f64; 3]) -> [f64; 3] {
    let axis = [2.0 / 7.0, 3.0 / 7.0, 6.0 / 7.0];
    let (sin, cos) = 1.234_f64.sin_cos();
    let along = (axis[0] * x + axis[1] * y + axis[2] * z) * (1.0 - cos);
    let across = [axis[1] * z - axis[2] * y, axis[2] * x - axis[0] * z, axis[0] * y - axis[1] * x];
    [0, 1, 2].map(|i| [x, y, z][i] * cos + across[i] * sin + axis[i] * along)
}

const TWO: [(&str, [f64; 3], [f64; 3]); 2] = [
    ("P", [1200.0, -300.0, -2500.0], [0.0, 0.0, 0.0]),
    ("Q", [-200.0, 900.0, 400.0], [3e4, -5e4, 2e4]),
];

fn moved(answer: &Answer, case: &str, node: &str) -> [f64; 6] {
    let m = answer.case(case).moved(node);
    [m.move_x_mm, m.move_y_mm, m.move_z_mm, m.turn_x_rad, m.turn_y_rad, m.turn_z_rad]
}

/// Whether two movements agree to `part` of the larger of their movements, and of their turns.
fn assert_alike(a: [f64; 6], b: [f64; 6], part: f64, what: &str) {
    for range in [0..3, 3..6] {
        let size =
            range.clone().map(|i| a[i].abs()).fold(0.0, |m: f64, v| if v > m { v } else { m });
        for i in range {
            assert!((a[i] - b[i]).abs() <= part * size, "{what}: {a:?} against {b:?}");
        }
    }
}

#[test]
fn a_turned_structure_answers_as_before_but_turned() {
    let straight = frame(same, &TWO).solved();
    let turned = frame(slanted, &TWO).solved();
    for (case, _, _) in TWO {
        for node in ["2", "3", "4", "5"] {
            let before = moved(&straight, case, node);
            let [x, y, z, rx, ry, rz] = before;
            let [x, y, z] = slanted([x, y, z]);
            let [rx, ry, rz] = slanted([rx, ry, rz]);
            assert_alike([x, y, z, rx, ry, rz], moved(&turned, case, node), 1e-9, node);
        }
        // Forces in members are local: they do not turn.
        let (a, b) = (straight.case(case).station("b", 0.0), turned.case(case).station("b", 0.0));
        let forces = |s: &v1::StationForces| {
            [s.normal_n, s.shear_y_n, s.shear_z_n, s.torque_nmm, s.moment_y_nmm, s.moment_z_nmm]
        };
        assert_alike(forces(a), forces(b), 1e-9, "member b");
    }
}

#[test]
fn the_order_of_nodes_and_members_does_not_matter() {
    let plain = frame(same, &TWO);
    let mut shuffled = plain.clone();
    shuffled.0.nodes.reverse();
    shuffled.0.nodes.swap(0, 2);
    shuffled.0.beams.rotate_left(1);
    let (plain, shuffled) = (plain.solved(), shuffled.solved());
    for (case, _, _) in TWO {
        for node in ["2", "3", "4", "5"] {
            assert_alike(moved(&plain, case, node), moved(&shuffled, case, node), 1e-10, node);
        }
    }
}

#[test]
fn the_answer_keeps_the_order_of_the_request() {
    let mut shuffled = frame(same, &TWO);
    shuffled.0.nodes.reverse();
    let asked: Vec<String> = shuffled.0.nodes.iter().map(|node| node.id.clone()).collect();
    let answer = shuffled.solved();
    let told: Vec<&String> = answer.case("P").0.movements.iter().map(|m| &m.node_id).collect();
    assert_eq!(told, asked.iter().collect::<Vec<_>>());
}

#[test]
fn loads_add_and_doubling_doubles() {
    let [(_, p, mp), (_, q, mq)] = TWO;
    let add = |a: [f64; 3], b: [f64; 3]| [0, 1, 2].map(|i| a[i] + b[i]);
    let twice = |a: [f64; 3]| a.map(|v| 2.0 * v);
    let loads = [TWO[0], TWO[1], ("both", add(p, q), add(mp, mq)), ("twice", twice(p), twice(mp))];
    let answer = frame(same, &loads).solved();
    for node in ["2", "3", "4", "5"] {
        let [p, q, both, twice] = ["P", "Q", "both", "twice"].map(|c| moved(&answer, c, node));
        let sum = [0, 1, 2, 3, 4, 5].map(|i| p[i] + q[i]);
        assert_alike(sum, both, 1e-10, node);
        assert_alike(p.map(|v| 2.0 * v), twice, 1e-12, node);
    }
}

// Betti and Maxwell: the work of one load on the movement of the other is the same both ways.
#[test]
fn the_work_of_one_load_on_the_other_is_mutual() {
    let (near, far) = ([300.0, -200.0, 700.0], [-150.0, 450.0, 80.0]);
    let structure =
        frame(same, &[]).case(at_node("far", "4", far, O)).case(v1::StructureLoadCase {
            nodal_loads: vec![nodal("2", near, O)],
            ..load_case("near")
        });
    let answer = structure.solved();
    let work = |force: [f64; 3], case: &str, node: &str| {
        let moved = moved(&answer, case, node);
        (0..3).map(|i| force[i] * moved[i]).sum::<f64>()
    };
    let (one, other) = (work(far, "near", "4"), work(near, "far", "2"));
    assert!((one - other).abs() <= 1e-10 * one.abs(), "{one} against {other}");
    assert!(one.abs() > 1.0, "the loads hardly work on each other: {one}");
}

#[test]
fn reactions_and_springs_balance_the_loads() {
    let gravity = v1::StructureLoadCase {
        line_loads: vec![line("a", [0.0, 1.0, -3.0], [0.5, 0.0, -1.0])],
        ..load_case("line")
    };
    let answer = frame(same, &TWO).case(gravity).solved();
    for case in ["P", "Q", "line"] {
        let quality = answer.case(case).0.quality.expect("every case is judged");
        assert!(quality.imbalance <= 1e-9, "{case}: {quality:?}");
        assert!(quality.backward_error <= 1e-12, "{case}: {quality:?}");
    }
    let (root, spring) = (answer.case("P").reaction("1"), answer.case("P").spring("k"));
    let [(_, load, _), _] = TWO;
    let sums = [
        root.force_x_n + spring.force_x_n + load[0],
        root.force_y_n + spring.force_y_n + load[1],
        root.force_z_n + spring.force_z_n + load[2],
    ];
    for sum in sums {
        assert!(sum.abs() < 1e-6, "{sums:?}");
    }
}

#[test]
fn a_frame_that_moves_as_a_whole_is_not_strained() {
    // The foot is moved and turned by hand; nothing else holds the frame.
    let mut structure = frame(same, &[]);
    structure.0.springs.clear();
    let prescribed = v1::PrescribedMovement {
        node_id: "1".to_owned(),
        move_x_mm: Some(3.0),
        move_y_mm: Some(-2.0),
        move_z_mm: Some(1.0),
        turn_x_rad: Some(0.001),
        turn_y_rad: Some(-0.002),
        turn_z_rad: Some(0.003),
    };
    let case = v1::StructureLoadCase { prescribed: vec![prescribed], ..load_case("moved") };
    let answer = structure.case(case).solved();
    // u + theta x r at node 5, (700, 0, 250).
    let [x, y, z, ..] = moved(&answer, "moved", "5");
    let expected = [3.0 - 0.002 * 250.0, -2.0 + 0.003 * 700.0 - 0.001 * 250.0, 1.0 + 0.002 * 700.0];
    for (got, expected) in [x, y, z].iter().zip(expected) {
        assert!((got - expected).abs() < 1e-9, "{got} against {expected}");
    }
    let station = answer.case("moved").station("c", 0.0);
    assert!(station.normal_n.abs() < 1e-3, "{station:?}");
    assert!(station.moment_y_nmm.abs() < 1.0, "{station:?}");
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    let mut structure = frame(same, &TWO).stations(&[0.25, 0.5]);
    structure.0.materials[0].density_kg_per_m3 = 7850.0;
    structure.0.frequencies =
        Some(v1::FrequencyRequest { mode_count: 4, elements_per_member: 4, rotary_inertia: true });
    let bytes = || service::solve(&structure.0).unwrap().encode_to_vec();
    let first = bytes();
    assert!(first.len() > 1000);
    for _ in 0..3 {
        assert_eq!(first, bytes());
    }
}
