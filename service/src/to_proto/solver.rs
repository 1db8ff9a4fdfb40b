//! Answers about frames.

use fishplate_proto::v1;
use fishplate_solver::answer::{
    BeamAnswer, CaseAnswer, LinkAnswer, Quality, Reaction, SectionForces, SpringAnswer,
    StationAnswer, Warning,
};
use fishplate_solver::model::{BeamId, Dof, SpringAction};
use fishplate_solver::{BucklingMode, ContactId, FrameModel, ModeShape, VibrationMode};

use super::{position, vector, wrench};
use crate::from_proto::solver::StructureNames;
use crate::units::{MM, MPA, NMM};

/// One load case.
pub(crate) fn static_case(
    names: &StructureNames,
    model: &FrameModel,
    case: &CaseAnswer,
) -> v1::StaticCaseAnswer {
    let CaseAnswer { name, displacements, reactions, beams, springs, links, contact, quality } =
        case;
    v1::StaticCaseAnswer {
        load_case_id: name.clone(),
        movements: movements(names, displacements),
        reactions: reactions.iter().map(|r| reaction(names, r)).collect(),
        members: beams.iter().map(|beam| member(names, model, beam)).collect(),
        springs: springs.iter().map(|s| spring(names, model, &contact.closed, s)).collect(),
        links: links.iter().map(|l| link(names, l)).collect(),
        quality: Some(solve_quality(quality, contact.steps)),
        plate_stresses: Vec::new(),
        seams: Vec::new(),
        spots: Vec::new(),
        plate_bolts: Vec::new(),
        plate_contacts: Vec::new(),
        spreads: Vec::new(),
        contact_search: None,
        critical_load_factor: None,
        second_order: false,
        plate_lines: Vec::new(),
    }
}

/// One buckling mode.
pub(crate) fn buckling_mode(names: &StructureNames, mode: &BucklingMode) -> v1::BucklingMode {
    let BucklingMode { load_factor, shape } = mode;
    v1::BucklingMode { load_factor: *load_factor, shape: mode_shape(names, shape) }
}

/// One vibration mode.
pub(crate) fn vibration_mode(names: &StructureNames, mode: &VibrationMode) -> v1::VibrationMode {
    let VibrationMode { frequency, shape } = mode;
    v1::VibrationMode { frequency_hz: *frequency, shape: mode_shape(names, shape) }
}

/// What the caller should know about the trust in a case.
pub(crate) fn warnings(names: &StructureNames, case: &CaseAnswer) -> Vec<String> {
    warnings_of(names, &case.name, &case.quality.warnings)
}

pub(super) fn warnings_of(names: &StructureNames, case: &str, given: &[Warning]) -> Vec<String> {
    let node = |place: usize| names.nodes.get(place).map_or("", String::as_str);
    let told = |warning: &Warning| match warning {
        Warning::Sensitive { bound, softest } => format!(
            "small changes of the input change the answer much: relative error up to {bound:.1e}, \
             softest at node `{}`",
            node(softest.0)
        ),
        Warning::Unbalanced { worst } => {
            format!("loads and reactions balance only to {worst:.1e} of the load")
        }
        Warning::LargeRotation { node: place, rotation } => format!(
            "node `{}` turns by {rotation:.3} rad: too much for a theory of small movements",
            node(place.0)
        ),
        other => format!("{other:?}"),
    };
    given.iter().map(|w| format!("load case `{case}`: {}", told(w))).collect()
}

/// What the factors of a buckling answer leave out, where members are bent in its load case.
pub(crate) fn bent_members(names: &StructureNames, case: usize, bent: &[BeamId]) -> Option<String> {
    let (first, others) = bent.split_first()?;
    let case = names.cases.get(case).map_or("", String::as_str);
    let first = names.beams.get(first.0).map_or("", String::as_str);
    let more =
        if others.is_empty() { String::new() } else { format!(" and {} more", others.len()) };
    Some(format!(
        "buckling in load case `{case}`: only axial forces destabilise; sideways buckling of bent \
         beams is not in this factor: check it by the member rules (member `{first}`{more})"
    ))
}

pub(super) fn movements(names: &StructureNames, all: &[[f64; 6]]) -> Vec<v1::NodeMovement> {
    movements_in(names, all, MM)
}

fn movements_in(names: &StructureNames, all: &[[f64; 6]], length: f64) -> Vec<v1::NodeMovement> {
    let one = |(name, [x, y, z, rx, ry, rz]): (&String, &[f64; 6])| v1::NodeMovement {
        node_id: name.clone(),
        move_x_mm: x / length,
        move_y_mm: y / length,
        move_z_mm: z / length,
        turn_x_rad: *rx,
        turn_y_rad: *ry,
        turn_z_rad: *rz,
    };
    names.nodes.iter().zip(all).map(one).collect()
}

/// A shape has no size of its own: its largest movement is 1 on the wire too, so a translation of
/// 1 goes with rotations per mm.
fn mode_shape(names: &StructureNames, shape: &ModeShape) -> Vec<v1::NodeMovement> {
    let translates = shape.nodes.iter().flat_map(|n| &n[..3]).any(|m| m.abs() > 0.0);
    let mut all = movements_in(names, &shape.nodes, 1.0);
    if translates {
        for movement in &mut all {
            movement.turn_x_rad *= MM;
            movement.turn_y_rad *= MM;
            movement.turn_z_rad *= MM;
        }
    }
    all
}

pub(super) fn reaction(names: &StructureNames, given: &Reaction) -> v1::Reaction {
    let Reaction { support: _, node, force, local: _ } = given;
    v1::Reaction { node_id: names.nodes[node.0].clone(), force: Some(wrench(*force)) }
}

pub(super) fn member(
    names: &StructureNames,
    model: &FrameModel,
    answer: &BeamAnswer,
) -> v1::MemberForces {
    let BeamAnswer { beam, end_forces: _, release_movement: _, stations } = answer;
    let draft = model.draft();
    let section = &draft.sections[draft.beams[beam.0].section.0];
    let length = model.beam_length(*beam);
    let station = |given: &StationAnswer| {
        let StationAnswer { station, forces, displacement, normal_stress, torsion_stress: _ } =
            given;
        let SectionForces { n, v_y, v_z, t, m_y, m_z } = *forces;
        let [x, y, z, rx, ry, rz] = *displacement;
        let stress = |(point, stress): (&fishplate_solver::model::StressPoint, &f64)| {
            v1::PointStress { name: point.name.clone(), normal_mpa: stress / MPA }
        };
        v1::StationForces {
            at_mm: station.fraction * length / MM,
            normal_n: n,
            shear_y_n: v_y,
            shear_z_n: v_z,
            torque_nmm: t / NMM,
            moment_y_nmm: m_y / NMM,
            moment_z_nmm: m_z / NMM,
            movement: Some(position([x, y, z])),
            stresses: section.stress_points.iter().zip(normal_stress).map(stress).collect(),
            turn_rad: Some(vector([rx, ry, rz])),
        }
    };
    v1::MemberForces {
        beam_id: names.beams[beam.0].clone(),
        stations: stations.iter().map(station).collect(),
    }
}

pub(super) fn spring(
    names: &StructureNames,
    model: &FrameModel,
    closed: &[ContactId],
    answer: &SpringAnswer,
) -> v1::SpringForce {
    let SpringAnswer { spring, deformation: _, force } = answer;
    let given = &model.draft().springs[spring.0];
    // A stop adds to a spring that acts anyway.
    let acts = |dof: Dof| match given.behaviour[dof.index()] {
        SpringAction::Linear | SpringAction::Stops { .. } => given.stiffness[dof.index()] > 0.0,
        SpringAction::CompressionOnly { .. } | SpringAction::TensionOnly { .. } => {
            closed.contains(&ContactId::Spring(*spring, dof))
        }
    };
    v1::SpringForce {
        spring_id: names.springs[spring.0].clone(),
        // The engine tells what a exerts on b; the wire what a feels.
        force_on_a: Some(wrench(force.map(|f| 0.0 - f))),
        active_x: acts(Dof::Ux),
        active_y: acts(Dof::Uy),
        active_z: acts(Dof::Uz),
    }
}

pub(super) fn link(names: &StructureNames, answer: &LinkAnswer) -> v1::LinkForce {
    let LinkAnswer { link, force_on_slave } = answer;
    v1::LinkForce { link_id: names.links[link.0].clone(), force: Some(wrench(*force_on_slave)) }
}

pub(super) fn solve_quality(quality: &Quality, steps: usize) -> v1::SolveQuality {
    let Quality {
        backward_error,
        residual: _,
        equilibrium,
        energy,
        condition,
        smallest_pivot: _,
        last_correction: _,
        refinements: _,
        warnings: _,
    } = quality;
    let imbalance = equilibrium
        .iter()
        .fold(0.0, |worst, part| fishplate_quantity::algebra::larger(worst, part.abs()));
    v1::SolveQuality {
        backward_error: *backward_error,
        imbalance,
        condition: *condition,
        energy_mismatch: energy.abs(),
        contact_rounds: i32::try_from(steps.clamp(1, 1_000_000)).unwrap_or(i32::MAX),
    }
}
