//! `strength.proto`: components that are checked on their own.

use fishplate_proto::v1;
use fishplate_quantity::{Fault, Provenance, trace::quantity_text};
use fishplate_strength::clause::input::{Prying, TStubInput};
use fishplate_strength::clause::{Factors, NotChecked, Origins};
use fishplate_strength::packs::{OwnFactor, Pack, Rules, en_1993};

use super::Reader;
use crate::path::Path;
use crate::units::{MM, MPA};

/// A T-stub to check.
#[allow(missing_debug_implementations)]
pub(crate) struct TStub {
    pub(crate) pack: &'static Pack,
    pub(crate) factors: Factors,
    pub(crate) input: TStubInput,
}

/// The symbols of a T-stub with the fields they are given in.
const T_STUB: [(&str, &str); 10] = [
    ("gamma_m0", "gamma_m0"),
    ("f_t_ed", "force_n"),
    ("f_t_rd_sum", "bolt_resistance_sum_n"),
    ("m", "m_mm"),
    ("e", "e_mm"),
    ("e_min", "e_min_mm"),
    ("t", "thickness_mm"),
    ("f_y", "fy_mpa"),
    ("l_eff_1", "effective_length_1_mm"),
    ("l_eff_2", "effective_length_2_mm"),
];

/// Beyond these no joint has a number in mm, N or MPa, and within them none of the products
/// overflows: common practice, no source.
const SMALLEST: f64 = 1e-9;
/// See [`SMALLEST`].
const LARGEST: f64 = 1e9;

/// Reads a T-stub.
pub(crate) fn t_stub(reader: &mut Reader, request: v1::CheckTStubRequest) -> Option<TStub> {
    let (rules, prying) = (request.rules(), request.prying());
    let v1::CheckTStubRequest {
        rules: _,
        gamma_m0,
        force_n,
        bolt_resistance_sum_n,
        m_mm,
        e_mm,
        e_min_mm,
        thickness_mm,
        fy_mpa,
        effective_length_1_mm,
        effective_length_2_mm,
        prying: _,
    } = request;
    let pack = match rules {
        v1::RulePack::Unspecified => reader.unset(&Path::ROOT.field("rules"), "RulePack"),
        v1::RulePack::En1993 => Some(&en_1993::PACK),
    };
    let prying = match prying {
        v1::Prying::Unspecified => reader.unset(&Path::ROOT.field("prying"), "Prying"),
        v1::Prying::Bears => Some(Prying::Bears),
        v1::Prying::Free => Some(Prying::Free),
    };
    if !(0.0..=LARGEST).contains(&force_n) {
        let advice = "a row that is pressed is no T-stub";
        let allowed = format!("0 to {LARGEST:e}");
        reader.refuse(&Path::ROOT.field("force_n"), force_n.to_string(), allowed, advice);
    }
    for (name, value) in [
        ("gamma_m0", Some(gamma_m0)),
        ("bolt_resistance_sum_n", Some(bolt_resistance_sum_n)),
        ("m_mm", Some(m_mm)),
        ("e_mm", Some(e_mm)),
        ("e_min_mm", Some(e_min_mm)),
        ("thickness_mm", Some(thickness_mm)),
        ("fy_mpa", Some(fy_mpa)),
        ("effective_length_1_mm", effective_length_1_mm),
        ("effective_length_2_mm", effective_length_2_mm),
    ] {
        if let Some(value) = value.filter(|value| !(SMALLEST..=LARGEST).contains(value)) {
            let allowed = format!("a number above 0 ({SMALLEST:e} to {LARGEST:e})");
            let advice = "check the number and its unit";
            reader.refuse(&Path::ROOT.field(name), value.to_string(), allowed, advice);
        }
    }
    if e_mm > 0.0 && e_min_mm > e_mm {
        let allowed = format!("at most e_mm, {e_mm}");
        reader.refuse(&Path::ROOT.field("e_min_mm"), e_min_mm.to_string(), allowed, "");
    }
    let given = |field: &str| Provenance::Given(field.to_owned());
    let origins = T_STUB
        .iter()
        .fold(Origins::default(), |origins, (symbol, field)| origins.with(symbol, given(field)));
    let input = TStubInput {
        f_t_ed: force_n,
        f_t_rd_sum: bolt_resistance_sum_n,
        m: m_mm * MM,
        e: e_mm * MM,
        e_min: e_min_mm * MM,
        t: thickness_mm * MM,
        f_y: fy_mpa * MPA,
        l_eff_1: effective_length_1_mm.map(|length| length * MM),
        l_eff_2: effective_length_2_mm.map(|length| length * MM),
        n_bolts: None,
        d: None,
        d_0: None,
        p: None,
        b: None,
        f_u: None,
        prying: prying?,
        origins,
    };
    let provenance = given("gamma_m0");
    let own = OwnFactor { symbol: "gamma_m0".to_owned(), value: gamma_m0, provenance };
    let rules = Rules { own: vec![own], ..Rules::RECOMMENDED };
    let pack = pack?;
    let factors = match pack.factors(&rules) {
        Ok(factors) => factors,
        Err(faults) => {
            for Fault { path: _, given, allowed, advice } in faults {
                reader.refuse(&Path::ROOT.field("gamma_m0"), given, allowed, &advice);
            }
            return None;
        }
    };
    Some(TStub { pack, factors, input })
}

/// The fault of a T-stub in the words of the wire, where `why` is about one of its numbers.
pub(crate) fn fault_of_t_stub(why: &NotChecked) -> Option<Fault> {
    let NotChecked::OutOfRange { symbol, what: _, value, dimension, allowed } = why else {
        return None;
    };
    let (_, field) = T_STUB.iter().find(|(known, _)| known == symbol)?;
    Some(Fault::new(*field, quantity_text(*value, *dimension), *allowed, ""))
}
