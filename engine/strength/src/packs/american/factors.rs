//! Resistance factors (LRFD) and safety factors (ASD) of AISC 360 and AISI S100, from memory.
//!
//! Every limit state has a pair; a project may state any of them anew by its symbol.

use crate::catalog::FuEdition;
use crate::clause::{Edition, FactorId, FactorSpec, Format};

use super::{aisc, aisi};

pub(super) const EDITIONS: &[Edition] = &[
    edition("2016", 2016, &["AISC 360-16", "AISI S100-16", "AWS D1.1:2015", "AWS D1.3:2018"]),
    edition("2022", 2022, &["AISC 360-22", "AISI S100-16", "AWS D1.1:2020", "AWS D1.3:2018"]),
    edition("2010", 2010, &["AISC 360-10", "AISI S100-12", "AWS D1.1:2010", "AWS D1.3:2008"]),
    edition("2005", 2005, &["AISC 360-05", "AISI S100-07", "AWS D1.1:2004", "AWS D1.3:1998"]),
];

const fn edition(id: &'static str, year: u16, documents: &'static [&'static str]) -> Edition {
    Edition { id, year, documents, strengths: FuEdition::ProductStandard }
}

pub(super) const FORMATS: &[Format] = &[Format::LoadAndResistance, Format::AllowableStrength];

/// A limit state: its resistance factor and its safety factor.
#[derive(Clone, Copy)]
pub(super) struct LimitState {
    pub(super) phi: FactorId,
    pub(super) omega: FactorId,
}

/// Declares the limit states and from them the list of factors.
macro_rules! limit_states {
    ($($name:ident: $phi:literal $phi_value:literal, $omega:literal $omega_value:literal,
       $what:literal, $source:expr;)*) => {
        #[allow(non_camel_case_types, clippy::upper_case_acronyms)] // named like the constants
        enum Place {
            $($name,)*
        }

        $(
            #[doc = $what]
            pub(super) const $name: LimitState = LimitState {
                phi: FactorId(2 * Place::$name as usize),
                omega: FactorId(2 * Place::$name as usize + 1),
            };
        )*

        pub(super) const FACTORS: &[FactorSpec] = &[$(
            FactorSpec {
                symbol: $phi,
                what: concat!("resistance factor, ", $what),
                value: $phi_value,
                source: $source,
            },
            FactorSpec {
                symbol: $omega,
                what: concat!("safety factor, ", $what),
                value: $omega_value,
                source: $source,
            },
        )*];
    };
}

limit_states! {
    TENSION_YIELD: "phi_t" 0.90, "omega_t" 1.67,
        "yielding of the gross section in tension", aisc("D2(a), J4.1(a)");
    TENSION_RUPTURE: "phi_r" 0.75, "omega_r" 2.00,
        "rupture of the net section, in tension, shear or as a block",
        aisc("D2(b), J4.1(b), J4.2(b), J4.3");
    COMPRESSION: "phi_c" 0.90, "omega_c" 1.67, "compression", aisc("E1");
    BENDING: "phi_b" 0.90, "omega_b" 1.67, "bending", aisc("F1");
    SHEAR: "phi_v" 0.90, "omega_v" 1.67, "shear of members", aisc("G1");
    TORSION: "phi_tor" 0.90, "omega_tor" 1.67, "torsion", aisc("H3");
    BEARING: "phi_brg" 0.75, "omega_brg" 2.00, "bearing of finished faces", aisc("J7");
    WALL_BENDING: "phi_wall" 1.00, "omega_wall" 1.50,
        "bending of the wall of a tube under a branch", aisc("K2, K3");
    WALL_PUNCHING: "phi_punch" 0.95, "omega_punch" 1.58,
        "shear yielding of the wall of a tube around a branch", aisc("K2");
    THIN_COMPRESSION: "phi_tc" 0.85, "omega_tc" 1.80, "thin sections in compression",
        aisi("E1 (C4 up to 2012)");
    THIN_BENDING: "phi_tb" 0.90, "omega_tb" 1.67, "thin sections in bending",
        aisi("F1 (C3.1 up to 2012)");
    SHEAR_YIELD: "phi_y" 1.00, "omega_y" 1.50, "yielding of connected parts in shear",
        aisc("J4.2(a)");
    BOLTS: "phi_bolt" 0.75, "omega_bolt" 2.00, "bolts in tension and shear, bearing",
        aisc("J3.6, J3.7, J3.10");
    SLIP: "phi_slip" 1.00, "omega_slip" 1.50,
        "slip, standard holes and short slots across the force", aisc("J3.8(a)");
    SLIP_LARGE: "phi_slip_large" 0.85, "omega_slip_large" 1.76,
        "slip, oversized holes and short slots along the force", aisc("J3.8(b)");
    SLIP_LONG: "phi_slip_long" 0.70, "omega_slip_long" 2.14, "slip, long slots", aisc("J3.8(c)");
    WELDS: "phi_w" 0.75, "omega_w" 2.00, "weld metal of fillets, plugs and in shear",
        aisc("J2.4, Table J2.5");
    GROOVE_PULL: "phi_groove" 0.80, "omega_groove" 1.88,
        "weld metal of a partial groove weld pulled across", aisc("Table J2.5");
    SHEET_ALONG_SHORT: "phi_along_short" 0.60, "omega_along_short" 2.55,
        "sheet beside a short fillet along the force", aisi("J2.5(a)");
    SHEET_ALONG_LONG: "phi_along_long" 0.50, "omega_along_long" 3.05,
        "sheet beside a long fillet along the force", aisi("J2.5(a)");
    SHEET_ACROSS: "phi_across" 0.65, "omega_across" 2.35,
        "sheet beside a fillet across the force", aisi("J2.5(b)");
    SHEET_THROAT: "phi_throat" 0.60, "omega_throat" 2.55,
        "throat of a fillet or arc spot in sheet", aisi("J2.2, J2.5");
    RESISTANCE_SPOT: "phi_spot" 0.65, "omega_spot" 2.35, "resistance spot welds", aisi("J2.6");
    SPOT_THICK: "phi_spot_thick" 0.70, "omega_spot_thick" 2.20,
        "sheet around an arc spot small for its thickness", aisi("J2.2.2.1");
    SPOT_MIDDLE: "phi_spot_middle" 0.55, "omega_spot_middle" 2.80,
        "sheet around an arc spot of middle size", aisi("J2.2.2.1");
    SPOT_THIN: "phi_spot_thin" 0.50, "omega_spot_thin" 3.05,
        "sheet around an arc spot large for its thickness", aisi("J2.2.2.1");
    SHEET_BEARING: "phi_bear" 0.60, "omega_bear" 2.50, "bearing of sheet on bolts",
        aisi("J3.3.1");
    SHEET_STRETCH: "phi_stretch" 0.65, "omega_stretch" 2.22,
        "bearing of sheet on bolts with little stretch", aisi("J3.3.2");
    SHEET_EDGE: "phi_edge" 0.60, "omega_edge" 2.22,
        "sheet torn out in front of a bolt, edition of 2007, any ductility", aisi("E3.1 of 2007");
    SHEET_RUPTURE: "phi_tear" 0.65, "omega_tear" 2.22, "sheet torn out in front of a bolt",
        aisi("J6.1");
    SCREWS: "phi_screw" 0.50, "omega_screw" 3.00, "screws in sheet", aisi("J4");
    SCREW_PULL_OVER: "phi_over" 0.65, "omega_over" 2.35, "shear of a screw beside pull-over",
        aisi("J4.5.1");
    SCREW_PULL_OUT: "phi_out" 0.60, "omega_out" 2.55, "shear of a screw beside pull-out",
        aisi("J4.5.2");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_limit_state_finds_its_pair() {
        for (LimitState { phi, omega }, symbols) in [
            (TENSION_YIELD, ["phi_t", "omega_t"]),
            (BOLTS, ["phi_bolt", "omega_bolt"]),
            (SHEET_RUPTURE, ["phi_tear", "omega_tear"]),
        ] {
            assert_eq!([FACTORS[phi.0].symbol, FACTORS[omega.0].symbol], symbols);
        }
    }

    /// AISC 360, commentary to B3.2: with live loads three times the dead ones both formats agree at
    /// omega = 1.5 / phi; the standard rounds to two digits.
    #[test]
    fn both_formats_agree_at_three_parts_of_live_load() {
        for pair in FACTORS.chunks(2).filter(|p| p[0].source.document == "AISC 360") {
            let product = pair[0].value * pair[1].value;
            assert!((product - 1.5).abs() < 0.01, "{}: {product}", pair[0].symbol);
        }
    }
}
