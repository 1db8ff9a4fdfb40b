//! The clause framework: one clause of a standard is one unit struct.
//!
//! A [`Clause`] says where it stands ([`Clause::reference`]), whether it speaks about an input
//! ([`Clause::applies`]), and compares a demand with a resistance ([`Clause::evaluate`]). Clauses
//! of one subject share one input struct ([`input`]), so a rule pack is a set of lists of clauses.
//!
//! A failed check is a value; [`NotChecked`] is neither a pass nor a failure.

mod checked;
mod factors;
pub mod input;
mod origins;

pub use checked::{Checked, NotChecked, Utilisation};
pub use factors::{Edition, FactorId, FactorSpec, Factors, Format, National};
pub use input::Input;
pub use origins::Origins;

use fishplate_quantity::{Source, Trace};

/// One rule of a standard or of elementary mechanics, about inputs of kind `I`.
pub trait Clause<I: Input>: Sync {
    /// Document with edition, and place in it. No two clauses of a pack share one.
    fn reference(&self) -> Source;

    /// What is checked, in own words.
    fn title(&self) -> &'static str;

    /// The same in two or three words, for a column of a table.
    fn short(&self) -> &'static str {
        self.title()
    }

    /// What an excess means.
    fn kind(&self) -> Kind {
        Kind::Strength
    }

    /// What of its subject it looks at, for those who choose its inputs.
    fn aspect(&self) -> Aspect {
        Aspect::Whole
    }

    /// Symbols that its published formula lets go against their role; its documentation says why.
    fn irregular(&self) -> &'static [&'static str] {
        &[]
    }

    /// Whether the clause speaks about `input`.
    fn applies(&self, input: &I) -> Applicability;

    /// Demand and resistance of a sound input the clause speaks about; the derivation goes into
    /// `trace` and ends in the returned utilisation. Callers use [`Clause::evaluate`].
    ///
    /// # Errors
    /// What hinders the check: a missing number, or one out of the range of the clause.
    fn formula(
        &self,
        input: &I,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked>;

    /// Checks `input`: refuses numbers that make no sense and cases the clause does not speak
    /// about, then runs [`Clause::formula`].
    ///
    /// # Errors
    /// [`NotChecked`] with the reason; it never counts as a pass.
    fn evaluate(
        &self,
        input: &I,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        input.sound()?;
        if let Applicability::DoesNotApply(reason) = self.applies(input) {
            return Err(NotChecked::DoesNotApply { reason });
        }
        self.formula(input, factors, trace)
    }
}

/// What of its subject a clause looks at, where its inputs or its place among others hang on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aspect {
    /// All of it.
    Whole,
    /// Bolts: the ply in bearing; asked for each ply.
    Bearing,
    /// Bolts: the shank in tension.
    Tension,
    /// Bolts: the shank in shear and tension together.
    ShearAndTension,
    /// Bolts: head or nut pulled through the ply it sits on.
    Punching,
    /// Bolts: slip under the preload of the way of tightening.
    Slip,
    /// Bolts: slip under the preload that only a controlled procedure gives.
    ControlledSlip,
    /// Bolts: an upper limit of a distance, against weather and buckling of the plies.
    Largest,
    /// Weld nuts: the thread, which the preload loads as well.
    Thread,
    /// Welds: resistance that is the same in any direction of the force.
    AnyDirection,
    /// Welds: resistance by the direction of the force on the throat.
    ByDirection,
    /// Welds: the sheet beside the bead.
    SheetBeside,
    /// Elements: what remains after buckling.
    AfterBuckling,
    /// Tabs: a plastic hinge over the width that the bolt reaches.
    HingeAtBolt,
    /// Tabs: first yield at the root.
    FirstYieldAtRoot,
}

/// What an excess of a clause means to the reader.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Something yields, breaks or buckles.
    Strength,
    /// A clamped joint moves or opens; it may still hold.
    Serviceability,
    /// A rule of detailing is broken: utilisation is required over provided, or the reverse for
    /// an upper limit. The strength formulas rest on these rules.
    Detailing,
}

/// Whether a clause speaks about an input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Applicability {
    /// Within the scope of the clause.
    Applies,
    /// The formula can be evaluated, but the document does not vouch for it here: the row is shown
    /// with this reason and cannot count as proven.
    OutsideScope(String),
    /// Nothing to evaluate: the reason says why.
    DoesNotApply(String),
}

impl Applicability {
    /// [`Applicability::Applies`] if `inside`, else outside the scope for `reason`.
    #[must_use]
    pub fn within(inside: bool, reason: impl FnOnce() -> String) -> Self {
        if inside { Self::Applies } else { Self::OutsideScope(reason()) }
    }

    /// [`Applicability::Applies`] if `about`, else does not apply for `reason`.
    #[must_use]
    pub fn only_if(about: bool, reason: &str) -> Self {
        if about { Self::Applies } else { Self::DoesNotApply(reason.to_owned()) }
    }
}
