//! The factors of a rule pack as a project uses them: recommended by the pack, chosen by a nation,
//! or stated by the project. Every one is shown with the level it comes from.

use fishplate_quantity::{Dimension, Provenance, Source, Trace};

use crate::catalog::FuEdition;

/// A factor that a pack knows, with the value it recommends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FactorSpec {
    /// Its symbol: `gamma_m2`.
    pub symbol: &'static str,
    /// What it is for.
    pub what: &'static str,
    /// The recommended value.
    pub value: f64,
    /// Where that is recommended.
    pub source: Source,
}

/// The place of a factor in the list of its pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FactorId(pub usize);

/// One edition of the documents of a pack.
#[derive(Debug, PartialEq, Eq)]
pub struct Edition {
    /// What a project calls it by: `2016`.
    pub id: &'static str,
    /// Its year, for clauses that changed.
    pub year: u16,
    /// The documents, with editions.
    pub documents: &'static [&'static str],
    /// Which tensile strengths of structural steel belong to it.
    pub strengths: FuEdition,
}

/// What a nation, or an assessment that a pack offers, changes.
#[derive(Debug, PartialEq)]
pub struct National {
    /// What a project calls it by: `DE`.
    pub id: &'static str,
    /// What it is.
    pub title: &'static str,
    /// The factors it changes, with their values.
    pub changes: &'static [(&'static str, f64)],
}

/// How safety enters: on which side of the comparison the factors stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// Factored loads against strength over partial factors.
    PartialFactors,
    /// Factored loads against strength times resistance factors (LRFD).
    LoadAndResistance,
    /// Loads as they are against strength over one safety factor (ASD).
    AllowableStrength,
}

impl Format {
    /// What a project calls it by.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::PartialFactors => "partial factors",
            Self::LoadAndResistance => "LRFD",
            Self::AllowableStrength => "ASD",
        }
    }
}

/// The factors of a pack, settled: only a pack makes them, and it refuses what is no factor.
#[derive(Debug, Clone, PartialEq)]
pub struct Factors {
    specs: &'static [FactorSpec],
    values: Vec<f64>,
    origins: Vec<Provenance>,
    edition: &'static Edition,
    format: Format,
    strengths: FuEdition,
}

impl Factors {
    pub(crate) fn settled(
        specs: &'static [FactorSpec],
        settled: Vec<(f64, Provenance)>,
        edition: &'static Edition,
        format: Format,
        strengths: FuEdition,
    ) -> Self {
        let (values, origins) = settled.into_iter().unzip();
        Self { specs, values, origins, edition, format, strengths }
    }

    /// Lets a factor into a derivation.
    pub(crate) fn value(&self, id: FactorId, trace: &mut Trace) -> f64 {
        let FactorId(place) = id;
        let spec = &self.specs[place];
        trace.input(spec.symbol, spec.what, Dimension::Ratio, self.values[place], || {
            self.origins[place].clone()
        })
    }

    /// The edition of the documents.
    #[must_use]
    pub fn edition(&self) -> &'static Edition {
        self.edition
    }

    /// How safety enters.
    #[must_use]
    pub fn format(&self) -> Format {
        self.format
    }

    /// Which tensile strengths of structural steel the inputs are to be built with.
    #[must_use]
    pub fn strengths(&self) -> FuEdition {
        self.strengths
    }

    /// Every factor with its value and where it comes from, in the order of the pack.
    pub fn all(&self) -> impl Iterator<Item = (&'static FactorSpec, f64, &Provenance)> {
        self.specs
            .iter()
            .zip(&self.values)
            .zip(&self.origins)
            .map(|((spec, value), origin)| (spec, *value, origin))
    }

    /// Puts beside a derivation which tensile strengths it rests on.
    pub(crate) fn note_strengths(&self, trace: &mut Trace) {
        trace.note(|| format!("tensile strengths: {}", self.strengths.told()));
    }
}
