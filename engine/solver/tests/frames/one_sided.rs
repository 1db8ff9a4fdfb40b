//! Contacts that press and don't pull.

use crate::build::*;
use fishplate_solver::answer::{Asked, Station};
use fishplate_solver::model::*;
use fishplate_solver::{ContactId, SolveError};

const TIGHT: f64 = 1e-9;

/// Statics: with the middle bearing lifted the beam is determinate (derived).
#[test]
fn beam_lifts_off_its_middle_bearing() {
    let mut f = Frame::of(section_mm(700.0, 2e5, 2e5, 4e5), steel());
    let a = f.node(0.0, 0.0, 0.0);
    let b = f.node(1000.0, 0.0, 0.0);
    let c = f.node(2000.0, 0.0, 0.0);
    let end = f.node(2400.0, 0.0, 0.0);
    let first = f.beam(a, b);
    f.beam(b, c);
    f.beam(c, end);
    for (node, others) in [(a, vec![0, 1, 3]), (b, vec![]), (c, vec![1])] {
        let mut dofs = fixed(&others);
        dofs[2] = Restraint::StopsNegative;
        f.support(node, dofs);
    }
    let case = f.case();
    case.within(first, 0.5, [0.0, 0.0, -1000.0], [0.0; 3]);
    case.force(end, [0.0, 0.0, -3000.0]);
    let answer = f.solve();
    let case = &answer.cases[0];
    close(case.reactions[0].force[2], 150.0, TIGHT, "R_A");
    near(case.reactions[1].force[2], 0.0, 1e-9, "R_B");
    close(case.reactions[2].force[2], 3850.0, TIGHT, "R_C");
    close(case.displacements[1][2], 4.41468253968252 * MM, TIGHT, "gap at B");
    close(case.displacements[3][2], -7.654761904761885 * MM, TIGHT, "uz at the end");
    assert_eq!(case.contact.open, [ContactId::Support(SupportId(1), Dof::Uz)]);
    assert_eq!(case.contact.closed.len(), 2);
}

/// A rigid block on a no-tension bed of 200 strips: contact length 3 (B/2 - e) = 165 mm and
/// q_max = 2 N / (3 W (B/2 - e)) (footing outside the kern; any foundation textbook; derived).
/// 200 strips resolve the edge of contact to half a strip, hence 0.5 % and 1 %.
#[test]
fn block_outside_the_kern_on_a_bed_of_strips() {
    let (length, width, force, eccentricity) = (300.0, 120.0, 50_000.0, 95.0);
    let strips = 200;
    let mut f = Frame::default();
    let centre = f.node(0.0, 0.0, 0.0);
    let pitch = length / f64::from(strips);
    for i in 0..strips {
        let node = f.node(-0.5 * length + (f64::from(i) + 0.5) * pitch, 0.0, 0.0);
        f.link(centre, node);
        let spring = f.ground_spring(node, [0.0, 0.0, 1e6, 0.0, 0.0, 0.0]);
        f.draft.springs[spring.0].behaviour[2] = SpringAction::CompressionOnly { gap: 0.0 };
    }
    f.support(centre, fixed(&[0, 1, 3, 5]));
    let case = f.case();
    case.force(centre, [0.0, 0.0, -force]);
    case.moment(centre, [0.0, force * eccentricity * NMM, 0.0]);
    let answer = f.solve();
    let case = &answer.cases[0];
    let pressing = case.contact.closed.len() as f64 * pitch;
    close(pressing, 165.0, 0.005, "contact length, mm");
    let q_max = case.springs.iter().fold(0.0, |top: f64, s| {
        let q = -s.force[2] / (pitch * width);
        if q > top { q } else { top }
    });
    close(q_max, 5.05050505050505, 0.01, "q_max, MPa");
    let sum: f64 = case.springs.iter().map(|s| s.force[2]).sum();
    close(sum, -force, TIGHT, "all of the force arrives");
}

/// A cantilever whose tip meets a stop after a gap: the stop takes k_s (d - gap), the beam the
/// rest; d from equilibrium of two springs (derived).
#[test]
fn stop_engages_after_its_gap() {
    let (e_i, length, k_stop, gap) = (210e9 * 3e5 * MM4, 0.6, 5e5, 0.002);
    let k_beam = 3.0 * e_i / (length * length * length);
    let mut f = Frame::of(section_mm(700.0, 3e5, 3e5, 6e5), steel());
    let (root, tip) = (f.node(0.0, 0.0, 0.0), f.node(600.0, 0.0, 0.0));
    f.beam(root, tip);
    f.support(root, CLAMPED);
    let stop = f.ground_spring(tip, [0.0; 6]);
    f.draft.springs[stop.0].behaviour[2] =
        SpringAction::Stops { gap_negative: gap, gap_positive: 2.0 * gap, stiffness: k_stop };
    for force in [500.0, -500.0, 4000.0, -4000.0] {
        f.case().force(tip, [0.0, 0.0, force]);
    }
    let answer = f.solve();
    for (case, force) in answer.cases.iter().zip([500.0, -500.0, 4000.0, -4000.0_f64]) {
        let border = if force > 0.0 { 2.0 * gap } else { -gap };
        let free = force / k_beam;
        let reached = free.abs() > border.abs();
        let expected = if reached { (force + k_stop * border) / (k_beam + k_stop) } else { free };
        close(case.displacements[1][2], expected, TIGHT, "tip");
        assert_eq!(case.contact.closed.len(), usize::from(reached), "force {force}");
        let carried = if reached { k_stop * (expected - border) } else { 0.0 };
        near(case.springs[0].force[2], carried, 1e-6, "force of the stop");
    }
}

/// A body that hangs between two gapped pads isn't held until it has moved; the search must
/// close the pad it falls on (statics: the pad takes the whole load).
#[test]
fn a_loose_body_falls_onto_its_pad() {
    let mut f = Frame::default();
    let body = f.node(0.0, 0.0, 0.0);
    f.support(body, fixed(&[0, 1, 3, 4, 5]));
    for action in
        [SpringAction::CompressionOnly { gap: 0.001 }, SpringAction::TensionOnly { gap: 0.003 }]
    {
        let spring = f.ground_spring(body, [0.0, 0.0, 2e6, 0.0, 0.0, 0.0]);
        f.draft.springs[spring.0].behaviour[2] = action;
    }
    f.case().force(body, [0.0, 0.0, -4000.0]);
    f.case().force(body, [0.0, 0.0, 4000.0]);
    let answer = f.solve();
    close(answer.cases[0].displacements[0][2], -0.001 - 0.002, TIGHT, "down on the lower pad");
    close(answer.cases[1].displacements[0][2], 0.003 + 0.002, TIGHT, "up to the upper pad");
}

/// A tie can't push: loaded the wrong way, nothing holds the body, and that is said with the case.
#[test]
fn nothing_holds_against_lifting() {
    let mut f = Frame::default();
    let body = f.node(0.0, 0.0, 0.0);
    let mut dofs = fixed(&[0, 1, 3, 4, 5]);
    dofs[2] = Restraint::StopsNegative;
    f.support(body, dofs);
    f.case().force(body, [0.0, 0.0, -10.0]);
    assert!(f.try_solve().is_ok());
    f.case().force(body, [0.0, 0.0, 10.0]);
    match f.try_solve().unwrap_err() {
        SolveError::Mechanism { modes, case } => {
            assert_eq!(case, Some(CaseId(1)));
            assert_eq!((modes[0].node, modes[0].direction), (NodeId(0), Dof::Uz));
        }
        other => panic!("{other}"),
    }
}

/// Beam on five bearings under loads that lift several of them: whatever state is found must
/// satisfy the conditions of contact (push or gap, never both; the solution is then unique, since
/// the energy is strictly convex).
#[test]
fn every_settled_state_satisfies_the_conditions_of_contact() {
    let mut pattern = 0;
    for seed in 0..40_u32 {
        let mut f = Frame::of(section_mm(700.0, 2e5, 2e5, 4e5), steel());
        let nodes = f.line([0.0, 0.0, 0.0], [4000.0, 0.0, 0.0], 8);
        for (i, &node) in nodes.iter().enumerate().step_by(2) {
            let mut dofs = fixed(if i == 0 { &[0, 1, 3] } else { &[1] });
            dofs[2] = Restraint::StopsNegative;
            f.support(node, dofs);
        }
        let case = f.case();
        for (i, &node) in nodes.iter().enumerate() {
            let wave = f64::from((seed * 7 + i as u32 * 13) % 11) - 6.5;
            case.force(node, [0.0, 0.0, 300.0 * wave - 200.0]);
        }
        let Ok(answer) = f.try_solve() else { continue };
        pattern += 1;
        let case = &answer.cases[0];
        trustworthy(case);
        for reaction in &case.reactions {
            let (push, gap) = (reaction.force[2], case.displacements[reaction.node.0][2]);
            assert!(push >= -1e-6, "seed {seed}: a bearing pulls by {push}");
            assert!(gap >= -1e-12, "seed {seed}: a bearing is entered by {gap}");
            near(push * gap, 0.0, 1e-9, "push or gap");
        }
    }
    assert!(pattern >= 25, "only {pattern} of 40 stood");
}

/// One station more, so that one-sided answers carry section forces too.
#[test]
fn section_forces_follow_the_settled_state() {
    let mut f = Frame::of(section_mm(700.0, 2e5, 2e5, 4e5), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 1);
    for (i, &node) in nodes.iter().enumerate() {
        let mut dofs = fixed(if i == 0 { &[0, 1, 3] } else { &[1] });
        dofs[2] = Restraint::StopsNegative;
        f.support(node, dofs);
    }
    f.case().uniform(BeamId(0), [0.0, 0.0, -8.0 * N_PER_MM]);
    let answer = f.solve_at(&Asked { every_beam: vec![Station::at(0.5)], ..Asked::default() });
    // q L^2 / 8, the lower side pulled: negative about y.
    close(answer.cases[0].beams[0].stations[0].forces.m_y, -1000.0, TIGHT, "q L^2 / 8");
}

/// A stop that has sunk is met after that travel (elementary: tip of a cantilever on a settled
/// bearing, R = 3 EI (d_free - s) / L^3, derived).
#[test]
fn a_settled_bearing_is_met_after_its_settlement() {
    let stiffness = 3.0 * 210e9 * 2e5 * MM4;
    for settlement in [0.0, 0.002, 0.02] {
        let mut f = Frame::of(section_mm(700.0, 2e5, 2e5, 4e5), steel());
        let nodes = f.line([0.0, 0.0, 0.0], [1000.0, 0.0, 0.0], 1);
        let mut dofs = FREE;
        dofs[2] = Restraint::StopsNegative;
        f.support(nodes[0], CLAMPED);
        f.support(nodes[1], dofs);
        let case = f.case();
        case.force(nodes[1], [0.0, 0.0, -0.010 * stiffness]);
        case.prescribe(nodes[1], Dof::Uz, -settlement);
        let answer = f.solve();
        let met = settlement < 0.010;
        let push = if met { stiffness * (0.010 - settlement) } else { 0.0 };
        near(answer.cases[0].reactions[1].force[2], push, 1e-6, "push");
        let tip = if met { -settlement } else { -0.010 };
        near(answer.cases[0].displacements[1][2], tip, 1e-12, "tip");
    }
}
