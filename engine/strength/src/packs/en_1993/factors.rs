//! Partial factors of the EN 1993 parts.

use fishplate_quantity::{Source, Trace};

use crate::catalog::FuEdition;
use crate::clause::{Edition, FactorId, FactorSpec, Factors, Format, National};

use super::{endurance, general, iiw, joints, light};

/// The first generation of the parts. Which tensile strengths of structural steel go with it is a
/// national choice by EN 1993-1-1:2005, 3.2.1(1); the product standards are never above the tables.
pub(super) const EDITIONS: &[Edition] = &[Edition {
    id: "2005",
    year: 2005,
    documents: DOCUMENTS,
    strengths: FuEdition::ProductStandard,
}];

const DOCUMENTS: &[&str] = &[
    "EN 1993-1-1:2005",
    "EN 1993-1-3:2006",
    "EN 1993-1-5:2006",
    "EN 1993-1-8:2005",
    "EN 1993-1-9:2005",
    "EN 1999-1-1:2007",
    "EN 1990:2002",
    "ISO 898-2:2012",
    "ISO 5817:2014",
    "ISO 9223:2012 and ISO 9224:2012",
    "IIW Recommendations for fatigue, 2008 (IIW-1823-07) and 2016",
    "VDI 2230 Part 1:2003",
    "FED-STD-H28/2B",
    "Alexander, Analysis and Design of Threaded Assemblies, SAE 770420",
    "Shigley's Mechanical Engineering Design, 9th ed. SI",
];

pub(super) const FORMATS: &[Format] = &[Format::PartialFactors];

/// National choices, from memory of the annexes.
pub(super) const NATIONALS: &[National] = &[
    National { id: "DE", title: "DIN EN 1993-1-1/NA", changes: &[("gamma_m1", 1.1)] },
    National { id: "FR", title: "NF EN 1993-1-1/NA", changes: &[] },
    National { id: "GB", title: "NA to BS EN 1993-1-1 and BS EN 1993-1-8", changes: &[] },
    // Assessment against fatigue: EN 1993-1-9:2005 Table 3.1 and IIW-1823-07 section 6. The
    // recommended factors are those of the last.
    National {
        id: "damage tolerant, low consequence",
        title: "damage tolerant, low consequence of failure",
        changes: &[("gamma_mf", 1.0), ("gamma_m_iiw", 1.0)],
    },
    National {
        id: "damage tolerant, high consequence",
        title: "damage tolerant, high consequence of failure",
        changes: &[("gamma_mf", 1.15), ("gamma_m_iiw", 1.3)],
    },
    National {
        id: "safe life, low consequence",
        title: "safe life, low consequence of failure",
        changes: &[("gamma_mf", 1.15), ("gamma_m_iiw", 1.15)],
    },
    National {
        id: "safe life, high consequence",
        title: "safe life, high consequence of failure",
        changes: &[("gamma_mf", 1.35), ("gamma_m_iiw", 1.4)],
    },
];

const GAMMA_M0: FactorId = FactorId(0);
const GAMMA_M1: FactorId = FactorId(1);
const GAMMA_M2: FactorId = FactorId(2);
const GAMMA_M3: FactorId = FactorId(3);
const GAMMA_M3_SER: FactorId = FactorId(4);
const GAMMA_M5: FactorId = FactorId(5);
const GAMMA_M7: FactorId = FactorId(6);
const GAMMA_FF: FactorId = FactorId(7);
const GAMMA_MF: FactorId = FactorId(8);
const GAMMA_M_IIW: FactorId = FactorId(9);
const D_IIW: FactorId = FactorId(10);
const GAMMA_M1_AL: FactorId = FactorId(11);
const GAMMA_M2_AL: FactorId = FactorId(12);
const GAMMA_MW: FactorId = FactorId(13);

/// In the order of the ids above.
pub(super) const FACTORS: &[FactorSpec] = &[
    spec("gamma_m0", "partial factor for yielding of cross-sections", 1.0, general("6.1(1)")),
    spec("gamma_m1", "partial factor for buckling", 1.0, general("6.1(1)")),
    spec("gamma_m2", "partial factor for fracture, bolts and welds", 1.25, joints("2.2(2)")),
    spec("gamma_m3", "partial factor for slip, ultimate limit state", 1.25, joints("2.2(2)")),
    spec("gamma_m3_ser", "partial factor for slip, serviceability", 1.1, joints("2.2(2)")),
    spec("gamma_m5", "partial factor for joints of hollow sections", 1.0, joints("2.2(2)")),
    spec("gamma_m7", "partial factor for preload", 1.1, joints("2.2(2)")),
    spec("gamma_ff", "partial factor for stress ranges", 1.0, endurance("3(7)")),
    spec("gamma_mf", "partial factor for fatigue strength", 1.35, endurance("Table 3.1")),
    spec(
        "gamma_m_iiw",
        "partial factor for fatigue strength by IIW",
        1.4,
        iiw("6, table of safety factors"),
    ),
    spec("d_iiw", "damage sum that IIW allows", 0.5, iiw("4.3.1")),
    spec(
        "gamma_m1_al",
        "partial factor of aluminium for yielding and buckling",
        1.1,
        light("6.1.3"),
    ),
    spec("gamma_m2_al", "partial factor of aluminium for fracture and bolts", 1.25, light("6.1.3")),
    spec("gamma_mw", "partial factor of welds of aluminium", 1.25, light("8.1.1")),
];

const fn spec(symbol: &'static str, what: &'static str, value: f64, source: Source) -> FactorSpec {
    FactorSpec { symbol, what, value, source }
}

/// The factors by their names in the standard.
pub(super) trait PartialFactors {
    fn gamma_m0(&self, trace: &mut Trace) -> f64;
    fn gamma_m1(&self, trace: &mut Trace) -> f64;
    fn gamma_m2(&self, trace: &mut Trace) -> f64;
    fn gamma_m3(&self, trace: &mut Trace) -> f64;
    fn gamma_m3_ser(&self, trace: &mut Trace) -> f64;
    fn gamma_m5(&self, trace: &mut Trace) -> f64;
    fn gamma_m7(&self, trace: &mut Trace) -> f64;
    fn gamma_ff(&self, trace: &mut Trace) -> f64;
    fn gamma_mf(&self, trace: &mut Trace) -> f64;
    fn gamma_m_iiw(&self, trace: &mut Trace) -> f64;
    fn d_iiw(&self, trace: &mut Trace) -> f64;
    fn gamma_m1_al(&self, trace: &mut Trace) -> f64;
    fn gamma_m2_al(&self, trace: &mut Trace) -> f64;
    fn gamma_mw(&self, trace: &mut Trace) -> f64;
}

impl PartialFactors for Factors {
    fn gamma_m0(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M0, trace)
    }

    fn gamma_m1(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M1, trace)
    }

    fn gamma_m2(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M2, trace)
    }

    fn gamma_m3(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M3, trace)
    }

    fn gamma_m3_ser(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M3_SER, trace)
    }

    fn gamma_m5(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M5, trace)
    }

    fn gamma_m7(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M7, trace)
    }

    fn gamma_ff(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_FF, trace)
    }

    fn gamma_mf(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_MF, trace)
    }

    fn gamma_m_iiw(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M_IIW, trace)
    }

    fn d_iiw(&self, trace: &mut Trace) -> f64 {
        self.value(D_IIW, trace)
    }

    fn gamma_m1_al(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M1_AL, trace)
    }

    fn gamma_m2_al(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_M2_AL, trace)
    }

    fn gamma_mw(&self, trace: &mut Trace) -> f64 {
        self.value(GAMMA_MW, trace)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_id_is_at_its_place() {
        let ids = [
            (GAMMA_M0, "gamma_m0"),
            (GAMMA_M1, "gamma_m1"),
            (GAMMA_M2, "gamma_m2"),
            (GAMMA_M3, "gamma_m3"),
            (GAMMA_M3_SER, "gamma_m3_ser"),
            (GAMMA_M5, "gamma_m5"),
            (GAMMA_M7, "gamma_m7"),
            (GAMMA_FF, "gamma_ff"),
            (GAMMA_MF, "gamma_mf"),
            (GAMMA_M_IIW, "gamma_m_iiw"),
            (D_IIW, "d_iiw"),
            (GAMMA_M1_AL, "gamma_m1_al"),
            (GAMMA_M2_AL, "gamma_m2_al"),
            (GAMMA_MW, "gamma_mw"),
        ];
        assert_eq!(ids.len(), FACTORS.len());
        for (FactorId(place), symbol) in ids {
            assert_eq!(FACTORS[place].symbol, symbol);
        }
    }
}
