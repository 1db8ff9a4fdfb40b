//! Answers about components that are checked on their own.

use fishplate_proto::v1;
use fishplate_quantity::{Source, Trace};
use fishplate_strength::clause::{Checked, NotChecked};

use super::check::{derivation, source};
use crate::units::NMM;

/// What a T-stub says nothing about.
const T_STUB_CAUTIONS: [&str; 3] = [
    "one row of bolts: rows that give way together have effective lengths of their own",
    "not covered: punching under head or nut, shear on the bolts, the weld or root that holds the \
     plate, and what the plate bears on",
    "formulas from memory of the standard",
];

/// A T-stub as checked, its derivation in `trace`.
pub(crate) fn t_stub(
    clause: Option<Source>,
    checked: Result<Checked, NotChecked>,
    trace: &Trace,
) -> v1::CheckTStubResponse {
    let told = v1::CheckTStubResponse {
        clause: clause.map(source).unwrap_or_default(),
        cautions: T_STUB_CAUTIONS.map(str::to_owned).into(),
        ..Default::default()
    };
    let Checked { demand: _, resistance, dimension: _, utilisation } = match checked {
        Ok(checked) => checked,
        Err(why) => {
            return v1::CheckTStubResponse {
                state: v1::State::NotChecked.into(),
                not_checked_reason: why.to_string(),
                ..told
            };
        }
    };
    let state = if utilisation.exceeds() { v1::State::Exceeds } else { v1::State::Holds };
    let entries = trace.entries();
    let of = |symbol: &str| entries.iter().find(|e| e.symbol == symbol).map(|e| e.value);
    let modes = [
        (v1::TStubMode::Plate, of("f_t_1")),
        (v1::TStubMode::PlateAndBolts, of("f_t_2")),
        (v1::TStubMode::PlateFree, of("f_t_12")),
        (v1::TStubMode::Bolts, of("f_t_rd_sum")),
    ];
    let governing = modes
        .into_iter()
        .filter_map(|(mode, force)| Some((mode, force?)))
        .reduce(|a, b| if b.1 < a.1 { b } else { a })
        .map_or(v1::TStubMode::Unspecified, |(mode, _)| mode);
    let [mode_1_n, mode_2_n, mode_1_and_2_n, mode_3_n] = modes.map(|(_, force)| force);
    v1::CheckTStubResponse {
        state: state.into(),
        utilisation: Some(utilisation.value()),
        resistance_n: Some(resistance),
        governing_mode: governing.into(),
        mode_1_n,
        mode_2_n,
        mode_1_and_2_n,
        mode_3_n,
        plastic_moment_1_nmm: of("m_pl_1").map(|moment| moment / NMM),
        plastic_moment_2_nmm: of("m_pl_2").map(|moment| moment / NMM),
        steps: derivation(trace, "request"),
        ..told
    }
}
