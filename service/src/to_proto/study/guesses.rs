//! `guesses.proto`: which guess matters.

use fishplate_mounts::study::RowName;
use fishplate_mounts::study::guesses::{
    Chance, GuessesAnswer, InputAnswer, Law, Reached, RowChance, RowTurns, Sample, Shares,
    TurnOutcome, TurningPoint, Turns,
};
use fishplate_proto::v1;

use crate::to_proto::check::verdict_of;

/// The whole answer.
pub(crate) fn ranking(answer: GuessesAnswer) -> v1::GuessRanking {
    let GuessesAnswer {
        title,
        verdict,
        sentence,
        row,
        case,
        as_it_stands,
        inputs,
        sample,
        stops,
        designs,
        cautions,
    } = answer;
    v1::GuessRanking {
        title,
        verdict: verdict_of(verdict).into(),
        sentence,
        row: row.map(studied_row),
        case_name: case,
        utilisation: as_it_stands,
        inputs: inputs.into_iter().map(input).collect(),
        sample: sample.map(sampled),
        stops,
        design_count: count(designs),
        cautions,
    }
}

/// A row of the project as it stands.
pub(super) fn studied_row(row: RowName) -> v1::StudiedRow {
    let RowName { id, component, what, utilisation } = row;
    v1::StudiedRow { id, component, what, utilisation }
}

fn input(input: InputAnswer) -> v1::OpenInput {
    let InputAnswer {
        path,
        what,
        unit,
        value,
        guessed,
        spread,
        measure,
        at_low,
        at_high,
        dominates,
        turns,
    } = input;
    let law = spread.as_ref().map_or(v1::SpreadLaw::Unspecified, |s| match s.law {
        Law::Uniform => v1::SpreadLaw::Uniform,
        Law::LogUniform => v1::SpreadLaw::LogUniform,
        Law::TwoPiece => v1::SpreadLaw::TwoPiece,
    });
    v1::OpenInput {
        field_path: path,
        what,
        unit: unit.to_owned(),
        value,
        guessed,
        low: spread.as_ref().map(|s| s.low),
        high: spread.as_ref().map(|s| s.high),
        law: law.into(),
        assumed_source: spread.and_then(|s| s.assumed).unwrap_or_default().to_owned(),
        measure: measure.to_owned(),
        at_low: at_low.map(reached),
        at_high: at_high.map(reached),
        dominates,
        turns: Some(turning(turns)),
    }
}

fn reached(reached: Reached) -> v1::ReachedUse {
    let Reached { utilisation, row } = reached;
    v1::ReachedUse { utilisation, row_id: row }
}

fn turning(turns: Turns) -> v1::VerdictTurns {
    let Turns { from, to, outcome, points: turning_points, rows, designs: _ } = turns;
    let outcome = match outcome {
        TurnOutcome::HoldsWhateverItIs => v1::TurnOutcome::Holds,
        TurnOutcome::FailsWhateverItIs => v1::TurnOutcome::Exceeds,
        TurnOutcome::Turns => v1::TurnOutcome::Turns,
        TurnOutcome::NoAnswer => v1::TurnOutcome::NoAnswer,
    };
    v1::VerdictTurns {
        from,
        to,
        outcome: outcome.into(),
        points: points(turning_points),
        rows: rows
            .into_iter()
            .map(|RowTurns { rows, points: own }| v1::RowTurns {
                rows: rows.into_iter().map(studied_row).collect(),
                points: points(own),
            })
            .collect(),
    }
}

fn points(points: Vec<TurningPoint>) -> Vec<v1::TurningPoint> {
    let one =
        |TurningPoint { value, holds_above }: TurningPoint| v1::TurningPoint { value, holds_above };
    points.into_iter().map(one).collect()
}

fn sampled(sample: Sample) -> v1::GuessSample {
    let Sample {
        inputs,
        assumed,
        points,
        replicates,
        designs,
        unanswered,
        any,
        quantiles: [p05, p50, p95],
        rows,
        shares,
    } = sample;
    v1::GuessSample {
        input_count: count(inputs),
        assumed_count: count(assumed),
        point_count: count(points),
        replicate_count: count(replicates),
        design_count: count(designs),
        unanswered_count: count(unanswered),
        any: Some(chance(any)),
        utilisation_p05: p05,
        utilisation_p50: p50,
        utilisation_p95: p95,
        rows: rows
            .into_iter()
            .map(|RowChance { row, chance: own }| v1::RowChance {
                row: Some(studied_row(row)),
                chance: Some(chance(own)),
            })
            .collect(),
        effects: shares.into_iter().map(effects).collect(),
    }
}

fn chance(chance: Chance) -> v1::Chance {
    let Chance { hits, of, share, error, at_least, at_most } = chance;
    v1::Chance { hit_count: hits, point_count: of, share, standard_error: error, at_least, at_most }
}

fn effects(shares: Shares) -> v1::InputEffects {
    let Shares { path, first, total } = shares;
    v1::InputEffects {
        field_path: path,
        first_order: first.map(|e| e.value),
        first_order_error: first.map_or(0.0, |e| e.error),
        total: total.map(|e| e.value),
        total_error: total.map_or(0.0, |e| e.error),
    }
}

/// A number of things; as many as the contract can say where there are more.
fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}
