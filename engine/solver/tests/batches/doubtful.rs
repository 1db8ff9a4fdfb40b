//! Designs that the lanes can't vouch for: solved on their own or refused by name, without harm to
//! their neighbours.

use crate::build::*;
use fishplate_solver::batch::{BatchAsked, FrameBatch, Varied};
use fishplate_solver::model::*;
use fishplate_solver::{FrameModel, SolveError};

/// A bar that hangs on a spring at its end: held along x and about everything by nothing else.
fn hung() -> FrameModel {
    let spring = Spring {
        a: NodeId(0),
        b: None,
        axes: GLOBAL_AXES,
        stiffness: [1e6; 6],
        preset: [0.0; 6],
        behaviour: [SpringAction::Linear; 6],
    };
    FrameDraft {
        nodes: vec![Node { position: [0.0; 3] }, Node { position: [0.5, 0.0, 0.0] }],
        sections: vec![section(1e-4, 1e-9, 1e-9, 1e-9)],
        materials: vec![steel()],
        beams: vec![Beam::between(
            NodeId(0),
            NodeId(1),
            SectionId(0),
            MaterialId(0),
            Orientation::Roll(0.0),
        )],
        springs: vec![spring],
        load_cases: vec![LoadCase {
            nodal: vec![force(1, [10.0, 5.0, -3.0], [0.5, 0.0, 0.0])],
            ..LoadCase::default()
        }],
        ..FrameDraft::default()
    }
    .validate()
    .expect("a sound frame")
}

fn batch() -> FrameBatch {
    let asked = BatchAsked {
        varied: vec![Varied::Spring(SpringId(0), Dof::Uy), Varied::Spring(SpringId(0), Dof::Rx)],
        moduli: vec![MODULI],
        displacements: vec![NodeId(1)],
        end_forces: true,
    };
    FrameBatch::new(&hung(), asked).expect("carried")
}

#[test]
fn a_design_that_moves_freely_is_refused_by_node_and_direction() {
    // Nothing along y in the third, nothing about x in the sixth.
    let mut values: Vec<f64> = (1..=9).flat_map(|i| [1e6 + f64::from(i), 1e4]).collect();
    values[4] = 0.0;
    values[11] = 0.0;
    for effort in [ONE, SINGLE] {
        let answer = solve(&batch(), &values, effort);
        let refused: Vec<usize> = answer.refused.iter().map(|r| r.design).collect();
        assert_eq!(refused, [2, 5]);
        for (refused, direction) in answer.refused.iter().zip([Dof::Uy, Dof::Rx]) {
            let SolveError::Mechanism { modes, .. } = &refused.reason else {
                panic!("{:?}", refused.reason)
            };
            assert_eq!(modes.len(), 1);
            assert_eq!(modes[0].direction, direction);
            assert!(answer.worst_stress[refused.design].is_nan(), "never a stress that passes");
            let place = 6 * refused.design..6 * (refused.design + 1);
            assert!(answer.displacements[place].iter().all(|moved| moved.is_nan()));
        }
    }
}

#[test]
fn neighbours_of_a_broken_design_keep_every_bit() {
    let sound: Vec<f64> = (1..=9).flat_map(|i| [1e6 + f64::from(i), 1e4]).collect();
    let mut broken = sound.clone();
    broken[6] = 0.0;
    let [with, without] = [broken, sound].map(|values| solve(&batch(), &values, ONE));
    assert_eq!(with.refused.len(), 1);
    for design in (0..9).filter(|&d| d != 3) {
        assert_eq!(with.worst_stress[design].to_bits(), without.worst_stress[design].to_bits());
        let forces = 12 * design..12 * (design + 1);
        assert_eq!(with.end_forces[forces.clone()], without.end_forces[forces]);
        assert_eq!(with.judged[design], without.judged[design]);
    }
}

/// A spring so soft that factoring in plain f64 leaves few digits: the movement along y is
/// `F / k` all the same, to the last few digits, because the design is solved on its own.
#[test]
fn a_design_that_loses_digits_is_solved_on_its_own() {
    let soft = 2e-3;
    let answer = solve(&batch(), &[soft, 1e4, 1e6, 1e4], ONE);
    assert!(answer.refused.is_empty());
    assert!(answer.judged[0].alone && !answer.judged[1].alone);
    // The moment of the load turns the spring about z; the bar bends as a cantilever.
    let bar = 5.0 * 0.5_f64.powi(3) / (3.0 * 210e9 * 1e-9) + 5.0 * 0.5 * 0.5 / 1e6;
    let expected = 5.0 / soft + bar;
    assert!((answer.displacements[1] - expected).abs() < 1e-10 * expected);
    let forces = &answer.end_forces[..12];
    assert!((forces[6] - 10.0).abs() < 1e-9 && (forces[9] - 0.5).abs() < 1e-9);
    // N / A + (My / Wy + Mz / Wz) at the root, with the torque.
    let normal = 10.0 / 1e-4 + 3.0 * 0.5 / MODULI.bending_y + 5.0 * 0.5 / MODULI.bending_z;
    let stress = (normal.powi(2) + 3.0 * (0.5 / MODULI.torsion).powi(2)).sqrt();
    assert!((answer.worst_stress[0] - stress).abs() < 1e-9 * stress);
    assert!((answer.worst_stress[1] - stress).abs() < 1e-9 * stress);
}
