//! Blocks of designs of one frame.

use fishplate_proto::v1;
use fishplate_quantity::algebra::larger;
use fishplate_solver::batch::{BatchAnswer, MemberEnd};

use crate::errors::{Refusal, Unsolvable};
use crate::units::{MM, MPA, NMM};

/// The answers of a block that begins with design `first`; `refusal` tells an error of the solver
/// with the names of the request.
pub(crate) fn block(
    first: usize,
    cases: usize,
    detail: v1::FrameDesignsDetail,
    answer: BatchAnswer,
    refusal: impl Fn(fishplate_solver::SolveError) -> Refusal,
) -> v1::SolveFrameDesignsResponse {
    let BatchAnswer { worst_stress, worst_at, displacements, end_forces, judged, refused } = answer;
    let mut told = v1::SolveFrameDesignsResponse {
        first_design: place(first),
        design_count: place(judged.len()),
        largest_residual: judged
            .iter()
            .filter(|judged| !judged.residual.is_nan())
            .fold(0.0, |top, judged| larger(top, judged.residual)),
        solved_alone: judged
            .iter()
            .enumerate()
            .filter(|(_, judged)| judged.alone)
            .map(|(design, _)| place(first + design))
            .collect(),
        ..Default::default()
    };
    match detail {
        v1::FrameDesignsDetail::Unspecified | v1::FrameDesignsDetail::Worst => {
            for (stress, at) in worst_stress.chunks_exact(cases).zip(worst_at.chunks_exact(cases)) {
                let mut case = 0;
                for (other, value) in stress.iter().enumerate() {
                    if *value > stress[case] {
                        case = other;
                    }
                }
                told.worst_stress_mpa.push(stress[case] / MPA);
                told.worst_member_ends.push(end(at[case]));
                told.worst_cases.push(counted(case));
            }
        }
        v1::FrameDesignsDetail::Cases
        | v1::FrameDesignsDetail::Movements
        | v1::FrameDesignsDetail::EndForces => {
            told.worst_stress_mpa = worst_stress.into_iter().map(|stress| stress / MPA).collect();
            told.worst_member_ends = worst_at.into_iter().map(end).collect();
        }
    }
    told.movements_mm_rad = in_halves(displacements, MM, 1.0);
    told.end_forces_n_nmm = in_halves(end_forces, 1.0, NMM);
    told.refused = refused
        .into_iter()
        .map(|refused| refused_design(first + refused.design, refusal(refused.reason)))
        .collect();
    told
}

fn refused_design(design: usize, refusal: Refusal) -> v1::RefusedDesign {
    let message = refusal.to_string();
    let (reason, mut metadata) = match refusal {
        Refusal::Unsolvable(Unsolvable { reason, message: _, subject: _, metadata }) => {
            (reason, metadata)
        }
        _ => ("UNUSABLE", Default::default()),
    };
    v1::RefusedDesign {
        design: place(design),
        reason: reason.to_owned(),
        message,
        node_id: metadata.remove("node").unwrap_or_default(),
        direction: metadata.remove("direction").unwrap_or_default(),
    }
}

/// Sixes, each of three in one unit and three in another.
fn in_halves(mut values: Vec<f64>, first: f64, second: f64) -> Vec<f64> {
    for six in values.chunks_exact_mut(6) {
        let (head, tail) = six.split_at_mut(3);
        head.iter_mut().for_each(|value| *value /= first);
        tail.iter_mut().for_each(|value| *value /= second);
    }
    values
}

fn end(at: MemberEnd) -> u32 {
    counted(2 * at.beam.0 + usize::from(at.at_end))
}

fn place(index: usize) -> i32 {
    i32::try_from(index).expect("the bytes of a request limit what it lists")
}

fn counted(index: usize) -> u32 {
    u32::try_from(index).expect("the bytes of a request limit what it lists")
}
