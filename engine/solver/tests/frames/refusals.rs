//! Drafts that must not reach the solver: each fault with the path of its field, all at once.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{Asked, Cancel, Side, SolveError, Station, statics};

fn sound() -> Frame {
    let mut f = Frame::of(section_mm(424.0, 1e5, 1e5, 2e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    let c = f.node(1000.0, 0.0, 100.0);
    f.beam(a, b);
    f.link(b, c);
    f.support(a, CLAMPED);
    f.ground_spring(b, [1e5, 1e5, 1e5, 0.0, 0.0, 0.0]);
    f.draft.masses.push(PointMass { node: b, mass: 2.0, inertia: [0.1, 0.1, 0.1, 0.0, 0.0, 0.0] });
    let case = f.case();
    case.force(b, [0.0, 0.0, -100.0]);
    case.uniform(BeamId(0), [0.0, 0.0, -50.0]);
    case.within(BeamId(0), 0.5, [0.0, 0.0, -50.0], [0.0; 3]);
    case.thermal.push(ThermalLoad {
        beam: BeamId(0),
        uniform: 10.0,
        gradient_y: 0.0,
        gradient_z: 0.0,
    });
    case.prescribe(a, Dof::Uz, 0.001);
    f
}

type Spoil = fn(&mut FrameDraft);

/// What is spoilt and the path that must be named.
fn table() -> Vec<(&'static str, Spoil)> {
    vec![
        ("nodes[1].position[0]", |d| d.nodes[1].position[0] = f64::NAN),
        ("nodes[1].position[2]", |d| d.nodes[1].position[2] = f64::INFINITY),
        ("sections[0].area", |d| d.sections[0].area = 0.0),
        ("sections[0].area", |d| d.sections[0].area = f64::NAN),
        ("sections[0].i_y", |d| d.sections[0].i_y = -1e-9),
        ("sections[0].i_z", |d| d.sections[0].i_z = 1e-320),
        ("sections[0].i_yz", |d| d.sections[0].i_yz = 1e-7),
        ("sections[0].torsion_constant", |d| d.sections[0].torsion_constant = 0.0),
        ("sections[0].shear_area_y", |d| d.sections[0].shear_area_y = Some(0.0)),
        ("sections[0].shear_area_z", |d| d.sections[0].shear_area_z = Some(-1.0)),
        ("sections[0].shear_centre_y", |d| d.sections[0].shear_centre_y = f64::NAN),
        ("sections[0].shear_centre_z", |d| d.sections[0].shear_centre_z = f64::NAN),
        ("sections[0].torsion_modulus", |d| d.sections[0].torsion_modulus = Some(0.0)),
        ("sections[0].stress_points[0].z", |d| {
            d.sections[0].stress_points.push(StressPoint {
                name: "a".to_owned(),
                y: 0.0,
                z: f64::NAN,
            });
        }),
        ("materials[0].youngs_modulus", |d| d.materials[0].youngs_modulus = 0.0),
        ("materials[0].shear_modulus", |d| d.materials[0].shear_modulus = -1.0),
        ("materials[0].density", |d| d.materials[0].density = -7850.0),
        ("materials[0].thermal_expansion", |d| d.materials[0].thermal_expansion = f64::NAN),
        ("beams[0].start", |d| d.beams[0].start = NodeId(9)),
        ("beams[0].end", |d| d.beams[0].end = NodeId(usize::MAX)),
        ("beams[0].end", |d| d.beams[0].end = NodeId(0)),
        ("beams[0].end", |d| d.nodes[1].position = d.nodes[0].position),
        ("beams[0].end", |d| d.beams[0].offset_end = [-1.0, 0.0, 0.0]),
        ("beams[0].offset_start", |d| d.beams[0].offset_start = [1.1, 0.0, 0.0]),
        ("beams[0].offset_end", |d| d.beams[0].offset_end = [-1.1, 0.0, 0.0]),
        ("beams[0].section", |d| d.beams[0].section = SectionId(1)),
        ("beams[0].material", |d| d.beams[0].material = MaterialId(1)),
        ("beams[0].offset_start[1]", |d| d.beams[0].offset_start[1] = f64::NAN),
        ("beams[0].releases_start[4]", |d| d.beams[0].releases_start[4] = Release::Spring(0.0)),
        ("beams[0].releases_end[0]", |d| d.beams[0].releases_end[0] = Release::Spring(f64::NAN)),
        ("beams[0].orientation", |d| {
            d.beams[0].orientation = Orientation::ZTowards([2.0, 0.0, 0.0]);
        }),
        ("beams[0].orientation", |d| d.beams[0].orientation = Orientation::ZTowards([0.0; 3])),
        ("beams[0].orientation", |d| d.beams[0].orientation = Orientation::Roll(f64::NAN)),
        ("springs[0].a", |d| d.springs[0].a = NodeId(3)),
        ("springs[0].b", |d| d.springs[0].b = Some(NodeId(3))),
        ("springs[0].b", |d| d.springs[0].b = Some(NodeId(1))),
        ("springs[0].axes", |d| d.springs[0].axes[0] = [1.0, 1.0, 0.0]),
        ("springs[0].axes", |d| d.springs[0].axes[2] = [0.0, 0.0, -1.0]),
        ("springs[0].stiffness[2]", |d| d.springs[0].stiffness[2] = -1.0),
        ("springs[0].preset[3]", |d| d.springs[0].preset[3] = f64::NAN),
        ("springs[0].behaviour[1].gap", |d| {
            d.springs[0].behaviour[1] = SpringAction::CompressionOnly { gap: -0.1 };
        }),
        ("springs[0].behaviour[2].stiffness", |d| {
            d.springs[0].behaviour[2] =
                SpringAction::Stops { gap_negative: 0.0, gap_positive: 0.0, stiffness: 0.0 };
        }),
        ("rigid_links[0].master", |d| d.rigid_links[0].master = NodeId(7)),
        ("rigid_links[0].slave", |d| d.rigid_links[0].slave = NodeId(7)),
        ("rigid_links[0].slave", |d| d.rigid_links[0].slave = NodeId(1)),
        ("rigid_links[0].dofs", |d| d.rigid_links[0].dofs = [false; 6]),
        ("rigid_links[1].slave", |d| {
            d.rigid_links.push(RigidLink { master: NodeId(0), slave: NodeId(2), dofs: [true; 6] });
        }),
        ("rigid_links[0]", |d| {
            d.rigid_links.push(RigidLink { master: NodeId(2), slave: NodeId(1), dofs: [true; 6] });
        }),
        ("masses[0].node", |d| d.masses[0].node = NodeId(3)),
        ("masses[0].mass", |d| d.masses[0].mass = -1.0),
        ("masses[0].inertia[1]", |d| d.masses[0].inertia[1] = -1.0),
        ("masses[0].inertia", |d| d.masses[0].inertia[3] = 1.0),
        ("supports[0].node", |d| d.supports[0].node = NodeId(3)),
        ("supports[0].dofs", |d| d.supports[0].dofs = FREE),
        ("supports[0].axes", |d| d.supports[0].axes[1] = [0.0, 2.0, 0.0]),
        ("supports[1].node", |d| d.supports.push(d.supports[0])),
        ("load_cases[1]", |d| d.load_cases.push(LoadCase::default())),
        ("load_cases[0].acceleration[2]", |d| d.load_cases[0].acceleration[2] = f64::NAN),
        ("load_cases[0].nodal[0].node", |d| d.load_cases[0].nodal[0].node = NodeId(3)),
        ("load_cases[0].nodal[0].force[2]", |d| d.load_cases[0].nodal[0].force[2] = f64::NAN),
        ("load_cases[0].line[0].beam", |d| d.load_cases[0].line[0].beam = BeamId(1)),
        ("load_cases[0].line[0].span", |d| {
            d.load_cases[0].line[0].span = Span::Between(0.5, 1.1);
        }),
        ("load_cases[0].line[0].span", |d| {
            d.load_cases[0].line[0].span = Span::Between(0.5, 0.5);
        }),
        ("load_cases[0].line[0].span", |d| {
            d.load_cases[0].line[0].span = Span::Between(f64::NAN, 0.5);
        }),
        ("load_cases[0].line[0].moment_to[0]", |d| {
            d.load_cases[0].line[0].moment_to[0] = f64::NAN;
        }),
        ("load_cases[0].line[0].acts_at[1]", |d| {
            d.load_cases[0].line[0].acts_at = LoadPoint::At(0.0, f64::NAN);
        }),
        ("load_cases[0].point[0].at", |d| d.load_cases[0].point[0].at = 1.01),
        ("load_cases[0].point[0].at", |d| d.load_cases[0].point[0].at = -0.01),
        ("load_cases[0].thermal[0].beam", |d| d.load_cases[0].thermal[0].beam = BeamId(1)),
        ("load_cases[0].thermal[0].uniform", |d| {
            d.load_cases[0].thermal[0].uniform = f64::INFINITY;
        }),
        ("load_cases[0].prescribed[0].node", |d| {
            d.load_cases[0].prescribed[0].node = NodeId(3);
        }),
        ("load_cases[0].prescribed[0].dof", |d| d.load_cases[0].prescribed[0].node = NodeId(1)),
        ("load_cases[0].prescribed[1].dof", |d| {
            let again = d.load_cases[0].prescribed[0];
            d.load_cases[0].prescribed.push(again);
        }),
    ]
}

#[test]
fn each_fault_is_named_by_its_path() {
    assert!(sound().draft.validate().is_ok());
    for (path, spoil) in table() {
        let mut draft = sound().draft;
        spoil(&mut draft);
        let faults = draft.validate().expect_err(path);
        assert!(faults.iter().any(|f| f.path == path), "{path}: {faults:#?}");
        for fault in &faults {
            assert!(!fault.given.is_empty() && !fault.allowed.is_empty(), "{fault:?}");
        }
    }
}

#[test]
fn all_faults_come_at_once() {
    let mut draft = sound().draft;
    draft.sections[0].area = -1.0;
    draft.beams[0].material = MaterialId(4);
    draft.load_cases[0].nodal[0].node = NodeId(40);
    let faults = draft.validate().unwrap_err();
    let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
    assert_eq!(paths, ["sections[0].area", "beams[0].material", "load_cases[0].nodal[0].node"]);
    assert!(FrameDraft::default().validate().is_err());
}

#[test]
fn stations_outside_the_member_are_refused() {
    for fraction in [-0.1, 1.1, f64::NAN] {
        let station = Station { fraction, side: Side::Before };
        let asked = Asked { every_beam: vec![station], ..Asked::default() };
        let refused = statics(&sound().model(), &asked, &fishplate_solver::RunToEnd);
        assert!(matches!(refused, Err(SolveError::Request { .. })), "{fraction}");
    }
}

struct Stop;

impl Cancel for Stop {
    fn cancelled(&self) -> bool {
        true
    }
}

#[test]
fn a_cancelled_solve_says_so() {
    let refused = statics(&sound().model(), &Asked::ends(), &Stop);
    assert_eq!(refused, Err(SolveError::Cancelled));
}

/// A spring of 1e-9 N/m under a frame of 1e8 N/m: sixteen digits don't reach that far.
#[test]
fn what_f64_cannot_carry_is_refused() {
    let mut f = Frame::of(section_mm(424.0, 1e5, 1e5, 2e5), steel());
    let (a, b) = (f.node(0.0, 0.0, 0.0), f.node(1000.0, 0.0, 0.0));
    f.beam(a, b);
    for node in [a, b] {
        f.ground_spring(node, [1e-9, 1e-9, 1e-9, 1e-9, 0.0, 0.0]);
    }
    f.case().force(b, [0.0, 0.0, -1.0]);
    match f.try_solve() {
        Err(SolveError::IllConditioned { .. } | SolveError::Mechanism { .. }) => {}
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_factor_is_predicted_before_it_is_made() {
    let mut f = Frame::of(section_mm(424.0, 1e5, 1e5, 2e5), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 10);
    f.support(nodes[0], CLAMPED);
    // A chain of ten nodes: ten full 6 x 6 triangles and nine couplings of 6 x 6, at most filled
    // up by blocks of the factor.
    let entries = f.model().predicted_factor_entries();
    assert!((10 * 21 + 9 * 36..=60 * 60).contains(&entries), "{entries}");
}

/// A chain of members, held at one end, and beside it a chain of links that is climbed from its
/// last follower to its first master.
fn chain(nodes: usize) -> Frame {
    let mut f = Frame::of(section_mm(424.0, 1e5, 1e5, 2e5), steel());
    let members = f.line([0.0; 3], [1e6, 0.0, 0.0], nodes - 1);
    f.support(members[0], CLAMPED);
    f.case().force(members[nodes - 1], [0.0, 0.0, -1.0]);
    let followers: Vec<NodeId> = (0..nodes).map(|_| f.node(0.0, 100.0, 0.0)).collect();
    for pair in followers.windows(2) {
        f.link(pair[1], pair[0]);
    }
    f.link(members[0], followers[nodes - 1]);
    f
}

#[test]
fn a_long_chain_validates_and_closed_to_a_ring_it_does_not() {
    let nodes = 20_000;
    let mut f = chain(nodes);
    assert!(f.draft.clone().validate().is_ok());
    let last = f.draft.rigid_links.len() - 1;
    f.draft.rigid_links[last].master = f.draft.rigid_links[0].slave;
    let faults = f.draft.validate().unwrap_err();
    assert_eq!(faults.len(), 1);
    assert_eq!(faults[0].path, "rigid_links[0]");
}
