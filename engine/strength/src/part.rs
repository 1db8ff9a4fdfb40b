//! One part on its own against every clause of a pack that speaks about it, for callers that know
//! a part by its name only.
//!
//! [`PARTS`] lists what can be asked; [`PartKind::check`] reads the part from a [`Given`] and asks.
//!
//! ```
//! use fishplate_quantity::Provenance;
//! use fishplate_strength::clause::input::{Field, Given};
//! use fishplate_strength::packs::{Rules, pack};
//! use fishplate_strength::part;
//!
//! struct Sheet;
//! impl Given for Sheet {
//!     fn number(&mut self, field: &Field) -> Option<(f64, Provenance)> {
//!         let value = match field.symbol {
//!             "f_m" => 84_607.0,
//!             "d_out" => 0.028,
//!             "d_in" => 0.015,
//!             "f_y" => 235e6,
//!             _ => return None,
//!         };
//!         Some((value, Provenance::Given(field.symbol.to_owned())))
//!     }
//!     fn word(&mut self, _: &'static str) -> Option<String> {
//!         None
//!     }
//!     fn records(&mut self, _: &'static str, _: &[Field]) -> Vec<Vec<Option<f64>>> {
//!         Vec::new()
//!     }
//! }
//!
//! let pack = pack("EN 1993").ok_or("no such pack")?;
//! let factors = pack.factors(&Rules::RECOMMENDED).map_err(|faults| faults[0].to_string())?;
//! let sleeve = part::find("sleeve").ok_or("no such part")?;
//! let rows = (sleeve.check)(pack, &factors, &mut Sheet).map_err(|faults| faults[0].to_string())?;
//! let checked = rows[0].outcome.as_ref().map_err(ToString::to_string)?;
//! assert!((checked.utilisation.value() - 0.820).abs() < 1e-3);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod named;

pub use named::{Name, WithNames, with_names};

use std::any::Any;

use fishplate_quantity::{Fault, Source, Trace};

use crate::clause::input::*;
use crate::clause::{Applicability, Checked, Factors, Kind, NotChecked};
use crate::packs::{Clauses, Pack, Visitor};

/// A part that can be checked on its own.
#[derive(Debug, Clone, Copy)]
pub struct PartKind {
    /// Its name: `bolt_group`.
    pub name: &'static str,
    /// The family it belongs to.
    pub family: Family,
    /// What it is.
    pub what: &'static str,
    /// Its numbers.
    pub fields: &'static [Field],
    /// What is chosen beside them.
    pub choices: fn() -> Vec<Choice>,
    /// Reads it and asks every clause of a pack that speaks about it, with derivations.
    pub check: Check,
}

/// Reads a part and asks the clauses of a pack; all faults of the reading, or a row a clause.
pub type Check = fn(&Pack, &Factors, &mut dyn Given) -> Result<Vec<PartRow>, Vec<Fault>>;

/// What one clause says about a part.
#[derive(Debug)]
pub struct PartRow {
    /// The list of the pack it stands in.
    pub list: &'static str,
    /// Document and place.
    pub reference: Source,
    /// What is checked.
    pub title: &'static str,
    /// The same in two or three words.
    pub short: &'static str,
    /// What an excess means.
    pub kind: Kind,
    /// Demand and resistance, or why there are none.
    pub outcome: Result<Checked, NotChecked>,
    /// Why the document does not vouch for the number, where it does not.
    pub outside_scope: Option<String>,
    /// The derivation, as far as it went.
    pub trace: Trace,
}

impl PartRow {
    /// Whether the clause has nothing to say about the part.
    #[must_use]
    pub fn silent(&self) -> bool {
        matches!(self.outcome, Err(NotChecked::DoesNotApply { .. }))
    }
}

/// The part called `name`.
#[must_use]
pub fn find(name: &str) -> Option<&'static PartKind> {
    PARTS.iter().find(|part| part.name == name)
}

/// Lists the inputs that can be asked for by name.
macro_rules! parts {
    ($($input:ident)*) => {
        /// Every part that can be checked on its own.
        pub const PARTS: &[PartKind] = &[$(PartKind {
            name: $input::NAME,
            family: $input::FAMILY,
            what: $input::WHAT,
            fields: $input::FIELDS,
            choices: $input::choices,
            check: check::<$input>,
        },)*];
    };
}

parts! {
    BoltInput BoltGroupInput BoltedPlyInput AngleLegInput SheetFastenerInput TStubInput
    TStubGroupInput ThreadInput BlindHoleInput AssemblyInput PreloadedJointInput SleeveInput
    SleeveFitInput WeldInput WeldRunInput FilletInput TButtInput WeldMakingInput PlugInput
    SpotWeldInput WeldNutInput SheetLapInput WeldLinesInput GrooveWeldInput ArcSpotInput
    MemberInput AngleStrutInput StressPointInput ThinBoxInput ElementInput TabInput FloorInput
    GussetInput SeatInput WallInput ClampedRailInput AluminiumPlateInput AluminiumPlyInput
    AluminiumWeldInput AluminiumElementInput FishplateInput OldWallInput OldWallMeanInput
    SteelGradeInput FatigueDetailInput FatigueRootInput FatigueBoltInput HotSpotInput
    StressCategoryInput ThinSectionInput FlatWallsInput GussetPlateInput PanelInput
    ShearPanelInput WebInput FlatCantileverInput LippedChannelInput PlatePointInput
    PlateBucklingInput
}

fn check<I: Input>(
    pack: &Pack,
    factors: &Factors,
    given: &mut dyn Given,
) -> Result<Vec<PartRow>, Vec<Fault>> {
    let mut ask = Ask { input: I::read(given)?, factors, rows: Vec::new() };
    pack.visit(&mut ask);
    Ok(ask.rows)
}

/// Asks the lists of a pack that are about one input.
struct Ask<'a, I> {
    input: I,
    factors: &'a Factors,
    rows: Vec<PartRow>,
}

impl<I: Input> Visitor for Ask<'_, I> {
    fn list<J: Input>(&mut self, name: &'static str, clauses: Clauses<J>) {
        let clauses: &dyn Any = &clauses;
        let Some(clauses) = clauses.downcast_ref::<Clauses<I>>() else { return };
        for clause in *clauses {
            let outside_scope = match clause.applies(&self.input) {
                Applicability::OutsideScope(reason) => Some(reason),
                Applicability::Applies | Applicability::DoesNotApply(_) => None,
            };
            let mut trace = Trace::on();
            self.rows.push(PartRow {
                list: name,
                reference: clause.reference(),
                title: clause.title(),
                short: clause.short(),
                kind: clause.kind(),
                outcome: clause.evaluate(&self.input, self.factors, &mut trace),
                outside_scope,
                trace,
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;

    struct Inputs(BTreeSet<&'static str>);

    impl Visitor for Inputs {
        fn list<I: Input>(&mut self, _: &'static str, _: Clauses<I>) {
            self.0.insert(I::NAME);
        }
    }

    #[test]
    fn every_input_of_a_pack_can_be_asked_for_once() {
        let mut inputs = Inputs(BTreeSet::new());
        Pack::SILENT.visit(&mut inputs);
        let named: Vec<_> = PARTS.iter().map(|part| part.name).collect();
        let once: BTreeSet<_> = named.iter().copied().collect();
        assert_eq!(once.len(), named.len(), "a name twice");
        assert_eq!(inputs.0, once);
    }

    #[test]
    fn every_field_is_explained_and_has_its_own_symbol() {
        for part in PARTS {
            assert!(!part.what.trim().is_empty(), "{}", part.name);
            let choices = (part.choices)();
            let symbols = part
                .fields
                .iter()
                .map(|field| (field.symbol, field.what))
                .chain(choices.iter().map(|choice| (choice.symbol, choice.what)));
            let mut seen = BTreeSet::new();
            for (symbol, what) in symbols {
                assert!(!what.trim().is_empty(), "{}: {symbol}", part.name);
                assert!(seen.insert(symbol), "{}: {symbol} twice", part.name);
            }
        }
    }
}
