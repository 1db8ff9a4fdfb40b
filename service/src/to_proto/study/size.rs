//! `size.proto`: designs that hold, and what proves that no better one does.

use fishplate_mounts::study::size::{
    Bound, Confirmed, Found, Measures, Miss, RowName, Sizing, Tally,
};
use fishplate_proto::v1;

use crate::to_proto::check::{count, verdict_of};
use crate::units::MM;

/// The whole answer.
pub(crate) fn sizing(sizing: Sizing) -> v1::Sizing {
    let sentence = sentence(&sizing);
    let Sizing { designs, tally, better, found, front, bounds, constant_rows, miss, confirmed } =
        sizing;
    v1::Sizing {
        designs,
        tally: Some(tallied(tally)),
        better: better.map(tallied),
        found: found.into_iter().map(design).collect(),
        front: front.into_iter().map(design).collect(),
        bounds: bounds.into_iter().map(bound).collect(),
        constant_rows: count(constant_rows),
        miss: miss.map(missed),
        confirmed: confirmed.into_iter().map(checked).collect(),
        sentence,
    }
}

fn sentence(sizing: &Sizing) -> String {
    let Tally { holding, open, .. } = sizing.tally;
    let all = sizing.designs;
    match (holding, open, &sizing.miss) {
        (0, 0, Some(miss)) => format!(
            "None of {all} designs holds; the nearest is used to {:.0} %.",
            100.0 * miss.worst
        ),
        (0, 0, None) => format!("None of {all} designs can be built as described."),
        (0, open, _) => {
            format!(
                "{open} of {all} designs hold as far as they could be checked; none holds outright."
            )
        }
        (holding, 0, _) => format!("{holding} of {all} designs hold."),
        (holding, open, _) => format!(
            "{holding} of {all} designs hold; {open} more hold as far as they could be checked."
        ),
    }
}

fn tallied(tally: Tally) -> v1::SizeTally {
    let Tally { cut, known, run, not_buildable, holding, open } = tally;
    v1::SizeTally { cut, known, run, not_buildable, holding, open }
}

fn choice(choice: Vec<usize>) -> Vec<u32> {
    choice.into_iter().map(|option| u32::try_from(option).unwrap_or(u32::MAX)).collect()
}

fn design(found: Found) -> v1::SizedDesign {
    let Found { choice: options, measures, worst, open } = found;
    v1::SizedDesign { choice: choice(options), utilisation: worst, open, ..measured(measures) }
}

fn measured(measures: Measures) -> v1::SizedDesign {
    let Measures { mass, weld_length, weld_volume, cut, pieces, bolts, cost } = measures;
    // Counts are whole numbers far below what an i32 holds.
    #[allow(clippy::cast_possible_truncation)]
    let whole = |number: f64| number.round() as i32;
    v1::SizedDesign {
        mass_kg: mass,
        weld_length_mm: weld_length / MM,
        weld_volume_mm3: weld_volume / (MM * MM * MM),
        cut_mm: cut / MM,
        pieces: whole(pieces),
        bolts: whole(bolts),
        cost,
        ..v1::SizedDesign::default()
    }
}

fn row(name: RowName) -> v1::DesignRow {
    let RowName { mount, component, short } = name;
    v1::DesignRow { mount_id: mount, component, what: short }
}

fn bound(bound: Bound) -> v1::SizeBound {
    let Bound { row: name, by, cells, filled, least, cut } = bound;
    v1::SizeBound {
        row: Some(row(name)),
        quantities: choice(by),
        cells,
        filled,
        least_utilisation: least,
        cut,
    }
}

fn missed(miss: Miss) -> v1::NearestMiss {
    let Miss { choice, measures, worst, rows, always } = miss;
    let used = |(name, utilisation)| v1::ExceedingRow { row: Some(row(name)), utilisation };
    v1::NearestMiss {
        design: Some(design(Found { choice, measures, worst, open: false })),
        rows: rows.into_iter().map(used).collect(),
        always: always.into_iter().map(used).collect(),
    }
}

fn checked(confirmed: Confirmed) -> v1::ConfirmedDesign {
    let Confirmed { choice: options, verdict, sentence, governing, reasons } = confirmed;
    let (utilisation, governing) = governing.unwrap_or_default();
    v1::ConfirmedDesign {
        choice: choice(options),
        verdict: verdict_of(verdict).into(),
        sentence,
        utilisation,
        governing,
        provisional_reasons: reasons,
    }
}
