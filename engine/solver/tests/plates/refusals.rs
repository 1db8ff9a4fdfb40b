//! What must be turned away, in which words.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::answer::PlateLine;
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, SolveError, plates};

fn plain() -> PlateDraft {
    let mut draft = empty(steel());
    add_grid(&mut draft, "web", (2, 2), 0.004, |x, y| [x, y, 0.0]);
    let edge = nodes_where(&draft, |p| p[0] < 1e-9);
    clamp(&mut draft, &edge);
    press(&mut draft, 0, 1.0);
    draft
}

/// Spoils a sound draft in one place; the fault has to name it.
fn refused(spoil: impl Fn(&mut PlateDraft), path: &str, words: &str) {
    let mut draft = plain();
    spoil(&mut draft);
    let faults = draft.validate().expect_err(path);
    let texts: Vec<String> = faults.iter().map(ToString::to_string).collect();
    let found = texts.iter().any(|t| t.starts_with(&format!("{path}:")) && t.contains(words));
    assert!(found, "{path}, {words}: {texts:#?}");
}

#[test]
fn a_sound_draft_passes() {
    valid(plain());
}

#[test]
fn faults_name_their_field_and_plate() {
    refused(|d| d.plates.clear(), "plates", "none");
    refused(|d| d.plates[0].thickness = 0.0, "plates[0].thickness", "0");
    refused(|d| d.plates[0].thickness = f64::NAN, "plates[0].thickness", "NaN");
    refused(|d| d.plates[0].material = MaterialId(3), "plates[0].material", "3");
    refused(|d| d.plates[0].elements.clear(), "plates[0].elements", "`web`");
    refused(
        |d| d.frame.materials[0].shear_modulus = 60e9,
        "plates[0].material",
        "Poisson's ratio from 0 to below 0.5",
    );
    refused(
        |d| d.plates[0].elements[0] = Element::Triangle([NodeId(0), NodeId(1), NodeId(99)]),
        "plates[0].elements[0].nodes[2]",
        "99",
    );
    refused(
        |d| d.plates[0].elements[0] = Element::Triangle([NodeId(0), NodeId(1), NodeId(2)]),
        "plates[0].elements[0]",
        "plate `web`, corners at the nodes 0, 1, 2",
    );
    refused(
        |d| d.frame.nodes[4].position = [0.05, 0.05, 0.0],
        "plates[0].elements[0]",
        "180 degrees",
    );
    refused(
        |d| {
            d.frame.nodes[4].position[2] = 0.4;
            d.frame.nodes[8].position[2] = 0.4;
        },
        "plates[0].elements[3]",
        "mean plane",
    );
    refused(
        |d| {
            let Element::Quad([a, b, c, e]) = d.plates[0].elements[1] else { unreachable!() };
            d.plates[0].elements[1] = Element::Quad([a, e, c, b]);
        },
        "plates[0].elements[1]",
        "opposite ways",
    );
    refused(|d| d.frame.nodes[8].position[1] = f64::INFINITY, "nodes[8].position[1]", "inf");
    refused(|d| d.loads[0].faces[0].plate = PlateId(1), "loads[0].faces[0].plate", "1");
    refused(|d| d.loads[0].faces[0].elements = vec![4], "loads[0].faces[0].elements[0]", "4");
    refused(|d| d.loads[0].faces[0].acts = Acts::Normal(f64::NAN), "loads[0].faces[0].acts", "NaN");
    refused(
        |d| {
            let force = [1.0, 0.0, 0.0];
            let nodes = [NodeId(0), NodeId(4)];
            d.loads[0].edges.push(EdgeLoad { nodes, from: force, to: force });
        },
        "loads[0].edges[0].nodes",
        "0 and 4",
    );
    refused(|d| d.loads.push(PlateLoads::default()), "loads", "2");
    refused(|d| d.loads[0].faces.clear(), "load_cases[0]", "no load");
    refused(
        |d| d.frame.supports[0].dofs[2] = Restraint::StopsNegative,
        "supports[0].dofs[2]",
        "one-sided",
    );
    refused(
        |d| {
            d.frame.nodes.push(Node { position: [0.0, 0.0, 1.0] });
            d.spreads.push(Spread {
                name: "hub".to_owned(),
                node: NodeId(4),
                area: vec![NodeId(1), NodeId(2)],
                kind: SpreadKind::Rigid,
            });
        },
        "spreads[0].node",
        "`hub`",
    );
    refused(
        |d| {
            d.frame.nodes.push(Node { position: [0.0, 0.0, 1.0] });
            d.spreads.push(Spread {
                name: "hub".to_owned(),
                node: NodeId(9),
                area: vec![NodeId(1), NodeId(1)],
                kind: SpreadKind::Rigid,
            });
        },
        "spreads[0].area[1]",
        "`hub`",
    );
}

#[test]
fn what_is_asked_for_has_to_exist() {
    let model = valid(plain());
    let refused = |lines: Vec<PlateLine>, words: &str| {
        let mut what = asked(&model);
        what.lines = lines;
        let error = plates::statics(&model, &what, &RunToEnd).unwrap_err();
        assert!(matches!(error, SolveError::Request { .. }), "{error}");
        assert!(error.to_string().contains(words), "{error}");
    };
    let line = |plate: usize, nodes: &[usize]| {
        vec![PlateLine { plate: PlateId(plate), nodes: nodes.iter().map(|&n| NodeId(n)).collect() }]
    };
    refused(line(1, &[0, 1]), "plate 1");
    refused(line(0, &[0]), "two nodes");
    refused(line(0, &[0, 4]), "neighbouring corners");
    refused(line(0, &[2, 1, 0]), "other order");
    let mut what = asked(&model);
    what.stresses = vec![PlateId(7)];
    assert!(plates::statics(&model, &what, &RunToEnd).is_err());
    let no_case = plates::buckling(&model, CaseId(1), 1, &RunToEnd).unwrap_err();
    assert!(matches!(no_case, SolveError::NoSuchCase { .. }), "{no_case}");
}
