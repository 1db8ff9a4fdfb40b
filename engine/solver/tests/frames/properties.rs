//! Laws that every linear frame obeys, on frames drawn at random.

use crate::build::*;
use crate::mechanisms::turned;
use fishplate_solver::answer::CaseAnswer;
use fishplate_solver::model::*;
use fishplate_solver::{Asked, FrameModel, RunToEnd, statics};
use proptest::prelude::*;

/// A space frame of six nodes with everything in it: unsymmetric sections, shear, shear centre,
/// arms, releases, semi-rigid joints, springs, a link, an inclined support, loads of all kinds.
#[derive(Clone, Debug)]
struct Draw {
    numbers: Vec<f64>,
}

impl Draw {
    fn strategy() -> impl Strategy<Value = Draw> {
        proptest::collection::vec(-1.0..1.0_f64, 80).prop_map(|numbers| Draw { numbers })
    }

    fn frame(&self) -> Frame {
        let mut at = 0;
        let mut next = || {
            at += 1;
            self.numbers[at - 1]
        };
        let mut section = section_mm(
            500.0 + 200.0 * next(),
            3e5 + 1e5 * next(),
            2e5 + 8e4 * next(),
            1e5 + 5e4 * next(),
        );
        section.i_yz = 8e4 * next() * MM4;
        section.shear_area_y = Some((200.0 + 50.0 * next()) * MM2);
        section.shear_area_z = Some((150.0 + 50.0 * next()) * MM2);
        section.shear_centre_y = 12.0 * next() * MM;
        section.shear_centre_z = 9.0 * next() * MM;
        let mut f = Frame::of(section, steel());
        let plan = [
            (0.0, 0.0, 0.0),
            (900.0, 0.0, 100.0),
            (900.0, 700.0, 0.0),
            (0.0, 800.0, 200.0),
            (400.0, 300.0, 900.0),
            (500.0, 1200.0, 600.0),
        ];
        let nodes: Vec<NodeId> = plan
            .iter()
            .map(|&(x, y, z)| f.node(x + 90.0 * next(), y + 90.0 * next(), z + 90.0 * next()))
            .collect();
        for (a, b) in [(0, 1), (1, 2), (2, 3), (3, 0), (0, 4), (2, 4), (4, 5), (3, 5)] {
            let beam = f.beam(nodes[a], nodes[b]);
            f.draft.beams[beam.0].orientation = Orientation::Roll(2.0 * next());
        }
        f.draft.beams[1].offset_start = [20.0 * MM, 30.0 * next() * MM, -10.0 * MM];
        f.draft.beams[1].offset_end = [-15.0 * MM, 0.0, 25.0 * next() * MM];
        f.draft.beams[4].releases_start[4] = Release::Free;
        f.draft.beams[4].releases_start[5] = Release::Free;
        f.draft.beams[5].releases_end[4] = Release::Spring(5e3);
        f.draft.beams[6].releases_end[1] = Release::Spring(4e6);
        let hung = f.node(480.0, 310.0, 700.0);
        f.link(nodes[4], hung);
        f.support(nodes[0], CLAMPED);
        f.draft.supports.push(Support {
            node: nodes[2],
            axes: [[0.6, 0.8, 0.0], [-0.8, 0.6, 0.0], [0.0, 0.0, 1.0]],
            dofs: fixed(&[1, 2]),
        });
        f.draft.springs.push(Spring {
            a: nodes[3],
            b: None,
            axes: GLOBAL_AXES,
            stiffness: [2e6, 3e6, 1e6, 0.0, 2e3, 0.0],
            preset: [0.0; 6],
            behaviour: [SpringAction::Linear; 6],
        });
        f.draft.springs.push(Spring {
            a: nodes[5],
            b: Some(hung),
            axes: [[0.0, 1.0, 0.0], [0.0, 0.0, 1.0], [1.0, 0.0, 0.0]],
            stiffness: [1e5, 2e5, 3e5, 1e3, 2e3, 3e3],
            preset: [0.0; 6],
            behaviour: [SpringAction::Linear; 6],
        });
        let case = f.case();
        case.force(nodes[5], [300.0 * next(), 400.0 * next(), -900.0]);
        case.moment(hung, [50.0 * next(), 40.0, 30.0 * next()]);
        let case = f.case();
        for beam in [0, 4, 6] {
            case.line.push(LineLoad {
                beam: BeamId(beam),
                span: Span::Between(0.1, 0.5 + 0.1 * next()),
                axes: if beam == 4 { LoadAxes::Local } else { LoadAxes::Global },
                acts_at: LoadPoint::At(5.0 * next() * MM, 8.0 * MM),
                force_from: [200.0 * next(), 500.0 * next(), -900.0],
                force_to: [100.0, 300.0 * next(), -200.0],
                moment_from: [3.0 * next(), 8.0, 2.0],
                moment_to: [5.0, 1.0 * next(), 9.0],
            });
        }
        case.point.push(BeamPointLoad {
            beam: BeamId(1),
            at: 0.33,
            axes: LoadAxes::Local,
            acts_at: LoadPoint::ShearCentre,
            force: [100.0, 900.0 * next(), -800.0],
            moment: [20.0, 10.0 * next(), -5.0],
        });
        case.thermal.push(ThermalLoad {
            beam: BeamId(2),
            uniform: 20.0 * next(),
            gradient_y: 300.0 * next(),
            gradient_z: 200.0,
        });
        case.acceleration = [3.0, 2.0 * next(), -9.81];
        f
    }
}

fn run(f: &Frame) -> Vec<CaseAnswer> {
    let model: FrameModel = f.model();
    let answer = statics(&model, &Asked::even(3), &RunToEnd).expect("the drawn frame stands");
    answer.cases
}

fn largest(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(0.0, |top, v| if v.abs() > top { v.abs() } else { top })
}

/// All movements, forces and reactions of a case in one list.
fn numbers(case: &CaseAnswer) -> Vec<Vec<f64>> {
    let flat = |sixes: &mut dyn Iterator<Item = [f64; 6]>| sixes.flatten().collect::<Vec<f64>>();
    vec![
        flat(&mut case.displacements.iter().copied()),
        flat(&mut case.reactions.iter().map(|r| r.local)),
        flat(&mut case.springs.iter().map(|s| s.force)),
        flat(&mut case.beams.iter().flat_map(|b| b.end_forces)),
        flat(&mut case.beams.iter().flat_map(|b| {
            b.stations.iter().map(|s| {
                let f = s.forces;
                [f.n, f.v_y, f.v_z, f.t, f.m_y, f.m_z]
            })
        })),
    ]
}

#[track_caller]
fn same(a: &CaseAnswer, b: &CaseAnswer, skip_global: bool) {
    for (i, (x, y)) in numbers(a).iter().zip(&numbers(b)).enumerate() {
        if skip_global && i == 0 {
            continue;
        }
        let scale = largest(x.iter().copied());
        for (p, q) in x.iter().zip(y) {
            assert!((p - q).abs() <= 1e-9 * scale, "list {i}: {p} against {q} of {scale}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    /// Forces, moments and energy balance, whatever is drawn.
    #[test]
    fn everything_balances(draw in Draw::strategy()) {
        for case in &run(&draw.frame()) {
            trustworthy(case);
        }
    }

    /// Interior recovery from the start must arrive where the other end of the member is.
    #[test]
    fn members_close(draw in Draw::strategy()) {
        let f = draw.frame();
        let model = f.model();
        for case in &run(&f) {
            let scale = largest(case.displacements.iter().flatten().copied());
            for (id, beam) in case.beams.iter().enumerate() {
                let described = &f.draft.beams[id];
                let node = case.displacements[described.end.0];
                let arm = described.offset_end;
                let [x, y, z] = model.beam_axes(BeamId(id));
                // Node, carried over the arm, less what the releases gave.
                let mut end = [
                    node[0] + node[4] * arm[2] - node[5] * arm[1],
                    node[1] + node[5] * arm[0] - node[3] * arm[2],
                    node[2] + node[3] * arm[1] - node[4] * arm[0],
                    node[3],
                    node[4],
                    node[5],
                ];
                let r = beam.release_movement[1];
                for i in 0..3 {
                    end[i] -= r[0] * x[i] + r[1] * y[i] + r[2] * z[i];
                    end[3 + i] -= r[3] * x[i] + r[4] * y[i] + r[5] * z[i];
                }
                let recovered = beam.stations[2].displacement;
                for i in 0..6 {
                    prop_assert!((recovered[i] - end[i]).abs() <= 1e-9 * scale);
                }
            }
        }
    }

    /// The answer to a sum of loads is the sum of the answers.
    #[test]
    fn superposition(draw in Draw::strategy(), a in -2.0..2.0_f64) {
        let mut f = draw.frame();
        let first = f.draft.load_cases[0].clone();
        let mut sum = f.draft.load_cases[1].clone();
        for load in &first.nodal {
            sum.nodal.push(NodalLoad {
                node: load.node,
                force: load.force.map(|v| a * v),
                moment: load.moment.map(|v| a * v),
            });
        }
        f.draft.load_cases.push(sum);
        let cases = run(&f);
        let [first, second, third] = [0, 1, 2].map(|i| numbers(&cases[i]));
        for ((first, second), third) in first.iter().zip(&second).zip(&third) {
            let scale = largest(second.iter().chain(third).copied());
            for ((x, y), sum) in first.iter().zip(second).zip(third) {
                prop_assert!((sum - (a * x + y)).abs() <= 1e-9 * scale);
            }
        }
    }

    /// Maxwell and Betti: what a force at i moves at j, a force at j moves at i.
    #[test]
    fn reciprocity(draw in Draw::strategy(), i in 0..6_usize, j in 0..6_usize) {
        let mut f = draw.frame();
        f.draft.load_cases.clear();
        let unit = |d: usize, offset: usize| {
            let mut v = [0.0; 3];
            if d >= offset && d < offset + 3 {
                v[d - offset] = 1.0;
            }
            v
        };
        for (node, d) in [(NodeId(5), i), (NodeId(6), j)] {
            f.case().nodal.push(NodalLoad { node, force: unit(d, 0), moment: unit(d, 3) });
        }
        let cases = run(&f);
        let (there, back) = (cases[0].displacements[6][j], cases[1].displacements[5][i]);
        let own = (cases[0].displacements[5][i] * cases[1].displacements[6][j]).sqrt();
        prop_assert!((there - back).abs() <= 1e-9 * own, "{there} {back}");
    }

    /// A frame turned in space answers the same in its own axes.
    #[test]
    fn rotation(draw in Draw::strategy()) {
        let mut f = draw.frame();
        // Loads at a section point are in local axes and turn with the member.
        let g = turned(&f);
        f.draft.load_cases.truncate(2);
        for (a, b) in run(&f).iter().zip(&run(&g)) {
            same(a, b, true);
        }
    }

    /// Nodes in another order, members from the other side of the list: the same answer.
    #[test]
    fn renumbering(draw in Draw::strategy(), shift in 1..7_usize) {
        let f = draw.frame();
        let count = f.draft.nodes.len();
        let to = |n: NodeId| NodeId((n.0 * 3 + shift) % count);
        let mut g = f.clone();
        for (i, node) in f.draft.nodes.iter().enumerate() {
            g.draft.nodes[to(NodeId(i)).0] = *node;
        }
        for beam in &mut g.draft.beams {
            (beam.start, beam.end) = (to(beam.start), to(beam.end));
        }
        for spring in &mut g.draft.springs {
            (spring.a, spring.b) = (to(spring.a), spring.b.map(to));
        }
        for link in &mut g.draft.rigid_links {
            (link.master, link.slave) = (to(link.master), to(link.slave));
        }
        for support in &mut g.draft.supports {
            support.node = to(support.node);
        }
        for case in &mut g.draft.load_cases {
            case.nodal.iter_mut().for_each(|load| load.node = to(load.node));
        }
        for (mut a, b) in run(&f).into_iter().zip(run(&g)) {
            let moved = a.displacements.clone();
            for (i, m) in moved.into_iter().enumerate() {
                a.displacements[to(NodeId(i)).0] = m;
            }
            same(&a, &b, false);
        }
    }

    /// A rigid movement of all supports strains nothing.
    #[test]
    fn rigid_movement_strains_nothing(
        draw in Draw::strategy(),
        shift in prop::array::uniform3(-1.0..1.0_f64),
        turn in prop::array::uniform3(-0.1..0.1_f64),
    ) {
        let mut f = draw.frame();
        // The clamp alone holds the frame, so that nothing hinders it.
        f.draft.supports.truncate(1);
        f.draft.springs.remove(0);
        f.draft.load_cases.clear();
        let case = f.case();
        for (dof, value) in Dof::ALL.into_iter().zip(shift.into_iter().chain(turn)) {
            case.prescribe(NodeId(0), dof, value);
        }
        let cases = run(&f);
        // Energy of stretching a member by a hundredth of the movement, to compare with.
        let stretch = 210e9 * 300.0 * MM2 / 1.0;
        for force in cases[0].beams.iter().flat_map(|b| b.end_forces).flatten() {
            prop_assert!(force.abs() <= 1e-12 * stretch, "{force}");
        }
    }

    /// The same request gives the same bits.
    #[test]
    fn same_bits(draw in Draw::strategy()) {
        let f = draw.frame();
        let bits = |cases: &[CaseAnswer]| {
            cases
                .iter()
                .flat_map(numbers)
                .flatten()
                .map(f64::to_bits)
                .collect::<Vec<u64>>()
        };
        prop_assert_eq!(bits(&run(&f)), bits(&run(&f)));
    }

    /// Cutting a member where nothing happens changes nothing.
    #[test]
    fn cutting_a_member(draw in Draw::strategy(), place in 0.2..0.8_f64) {
        let f = draw.frame();
        let mut g = f.clone();
        g.draft.load_cases.truncate(1);
        let id = 2;
        let beam = f.draft.beams[id].clone();
        let (a, b) = (f.draft.nodes[beam.start.0].position, f.draft.nodes[beam.end.0].position);
        let at = [0, 1, 2].map(|i| a[i] + place * (b[i] - a[i]));
        g.draft.nodes.push(Node { position: at });
        let middle = NodeId(g.draft.nodes.len() - 1);
        // The local axes of both parts are those of the whole.
        let z = f.model().beam_axes(BeamId(id))[2];
        g.draft.beams[id].end = middle;
        g.draft.beams[id].orientation = Orientation::ZTowards(z);
        let orientation = Orientation::ZTowards(z);
        g.draft.beams.push(Beam { start: middle, orientation, ..beam });
        let (whole, cut) = (&run(&f)[0], &run(&g)[0]);
        let scale = largest(whole.displacements.iter().flatten().copied());
        for (x, y) in whole.displacements.iter().flatten().zip(cut.displacements.iter().flatten()) {
            prop_assert!((x - y).abs() <= 1e-9 * scale);
        }
    }
}
