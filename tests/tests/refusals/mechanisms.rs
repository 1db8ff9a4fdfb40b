//! Structures that can move without being strained: each is refused with the node that moves most
//! freely and its direction.

use fishplate_proto::v1;
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;
use fishplate_tests::structure::{Structure, at_node, load_case, nodal, values};
use tonic::Code;

const O: [f64; 3] = [0.0; 3];

fn beam() -> Structure {
    Structure::default()
        .steel_section(values(600.0, 2.0e5, 1.1e5, 2.2e5))
        .node("1", O)
        .node("2", [1000.0, 0.0, 0.0])
        .beam("b", "1", "2")
        .case(at_node("LC", "2", [10.0, 20.0, -1000.0], O))
}

fn turning(letter: char) -> v1::Release {
    let mut release = v1::Release::default();
    match letter {
        'X' => release.turn_x = true,
        'Y' => release.turn_y = true,
        'Z' => release.turn_z = true,
        'x' => release.move_x = true,
        other => panic!("`{other}` is no release here"),
    }
    release
}

/// Its name, the structure, the nodes that may be told, words of the direction.
type Mechanism = (&'static str, Structure, &'static [&'static str], &'static [&'static str]);

fn spring_body(stiffness: [[f64; 3]; 2]) -> Structure {
    let [one, other] = stiffness;
    Structure::default()
        .node("body", O)
        .node("p", [400.0, 0.0, 0.0])
        .node("q", [-400.0, 0.0, 0.0])
        .link("p", "body", "p")
        .link("q", "body", "q")
        .grounded("kp", "p", one)
        .grounded("kq", "q", other)
        .case(at_node("LC", "body", [0.0, 0.0, -1000.0], O))
}

/// Three hinges in one line: the middle one can leave it, unless it is held.
fn three_hinges(middle: &str) -> Structure {
    let hinge = Some(turning('Y'));
    Structure::default()
        .steel_section(values(600.0, 2.0e5, 1.1e5, 2.2e5))
        .node("1", O)
        .node("2", [500.0, 0.0, 0.0])
        .node("3", [1000.0, 0.0, 0.0])
        .beam("a", "1", "2")
        .with(|beam| (beam.start_release, beam.end_release) = (hinge, hinge))
        .beam("b", "2", "3")
        .with(|beam| (beam.start_release, beam.end_release) = (hinge, hinge))
        .fix("1")
        .hold("2", middle)
        .fix("3")
        .case(at_node("LC", "2", [0.0, 0.0, -10.0], O))
}

fn sway_frame() -> Structure {
    let hinge = Some(turning('Y'));
    Structure::default()
        .steel_section(values(600.0, 2.0e5, 1.1e5, 2.2e5))
        .node("A", O)
        .node("B", [0.0, 0.0, 1000.0])
        .node("C", [1500.0, 0.0, 1000.0])
        .node("D", [1500.0, 0.0, 0.0])
        .beam("left", "A", "B")
        .with(|beam| beam.end_release = hinge)
        .beam("top", "B", "C")
        .beam("right", "D", "C")
        .with(|beam| beam.end_release = hinge)
        .hold("A", "xyzXZ")
        .hold("D", "xyzXZ")
        .case(at_node("LC", "B", [100.0, 0.0, 0.0], O))
}

fn corpus() -> Vec<Mechanism> {
    let along = Some(turning('x'));
    let twist = Some(turning('X'));
    vec![
        ("nothing holds it", beam(), &["1", "2"], &["translation", "rotation"]),
        ("free to slide along x", beam().hold("1", "yzXYZ"), &["1", "2"], &["translation x"]),
        ("free to rise along z", beam().hold("1", "xyXYZ"), &["1", "2"], &["translation z"]),
        (
            "free to spin about its own line",
            beam().hold("1", "xyzYZ").hold("2", "yz"),
            &["1", "2"],
            &["rotation about x"],
        ),
        (
            "a cantilever on a hinge",
            beam().hold("1", "xyzXZ"),
            &["1", "2"],
            &["rotation about y", "translation z"],
        ),
        (
            "a bar on two balls spins",
            beam().hold("1", "xyz").hold("2", "yz"),
            &["1", "2"],
            &["rotation about x"],
        ),
        (
            "a node of its own",
            beam().fix("1").node("alone", [0.0, 500.0, 0.0]),
            &["alone"],
            &["translation", "rotation"],
        ),
        (
            "a member that pulls out of its root",
            beam().with(|beam| beam.start_release = along).fix("1"),
            &["2", "1"],
            &["translation x"],
        ),
        (
            "a member free to twist at both ends",
            beam()
                .with(|beam| (beam.start_release, beam.end_release) = (twist, twist))
                .fix("1")
                .fix("2"),
            &["1", "2"],
            &["rotation about x"],
        ),
        ("three hinges in a line", three_hinges("Y"), &["2"], &["translation z"]),
        (
            "a frame on four hinges sways",
            sway_frame(),
            &["A", "B", "C", "D"],
            &["translation x", "rotation about y"],
        ),
        (
            "a body on two springs in a line turns about them",
            spring_body([[100.0, 100.0, 100.0]; 2]),
            &["body", "p", "q"],
            &["rotation about x"],
        ),
        (
            "a body whose springs do not hold it along x",
            spring_body([[0.0, 100.0, 100.0]; 2]).hold("body", "XYZ"),
            &["body", "p", "q"],
            &["translation x"],
        ),
        (
            "a body on nothing but one corner",
            spring_body([[100.0, 100.0, 100.0], O]),
            &["body", "p", "q"],
            &["translation", "rotation"],
        ),
        ("supports that only press, pulled off", lifted(), &["1", "2"], &["translation z"]),
        (
            "a mass on a rod that nothing holds across",
            beam().hold("1", "xXYZ").hold("2", "y"),
            &["1", "2"],
            &["translation", "rotation"],
        ),
    ]
}

fn lifted() -> Structure {
    let mut structure = beam().hold("1", "xyXYZ").hold("2", "y");
    for support in &mut structure.0.supports {
        support.set_move_z(v1::SupportAction::PressesPositive);
    }
    structure.0.load_cases = vec![v1::StructureLoadCase {
        nodal_loads: vec![nodal("2", [0.0, 0.0, 500.0], O), nodal("1", [0.0, 0.0, 500.0], O)],
        ..load_case("LC")
    }];
    structure
}

#[test]
fn every_mechanism_names_a_free_node_and_its_direction() {
    let corpus = corpus();
    assert!(corpus.len() >= 10);
    let mut wrong = Vec::new();
    for (name, structure, nodes, directions) in &corpus {
        let status = match service::solve(&structure.0) {
            Err(status) => status,
            Ok(_) => {
                wrong.push(format!("{name}: was solved"));
                continue;
            }
        };
        let refusal = Refusal::of(&status);
        let (node, direction) = (refusal.fact("node"), refusal.fact("direction"));
        let told = nodes.contains(&node) && directions.iter().any(|word| direction.contains(word));
        let sound = refusal.code == Code::FailedPrecondition
            && refusal.reason == "MECHANISM"
            && refusal.message.contains("can move freely");
        if !(told && sound) {
            wrong.push(format!(
                "{name}: {:?} {} node `{node}` direction `{direction}`: {}",
                refusal.code, refusal.reason, refusal.message
            ));
        }
    }
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), corpus.len(), wrong.join("\n"));
}

#[test]
fn a_sound_neighbour_of_each_mechanism_is_solved() {
    // A check that refuses everything would pass the test above.
    let sound = [
        beam().fix("1"),
        beam().hold("1", "xyzX").hold("2", "yz"),
        three_hinges("Yz"),
        spring_body([[100.0, 100.0, 100.0]; 2]).hold("body", "X"),
        sway_frame().grounded("k", "B", [10.0, 0.0, 0.0]),
    ];
    for (place, structure) in sound.iter().enumerate() {
        service::solve(&structure.0).unwrap_or_else(|s| panic!("{place}: {}", s.message()));
    }
}
