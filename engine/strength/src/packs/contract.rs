//! What every clause of every pack keeps, tested over all of them under all formats and editions.

use std::collections::BTreeSet;

use fishplate_quantity::trace::Origin;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{Choice, ChoiceKind, Field, Input, Role};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked, Origins};

pub(crate) use super::pack::examples::Examples;
use super::{Clauses, OwnFactor, PACKS, Pack, Rules};

/// A worked example: demand and resistance of a clause with where they come from.
pub(crate) struct Example<I: 'static> {
    pub(crate) clause: &'static dyn Clause<I>,
    pub(crate) input: I,
    pub(crate) demand: f64,
    pub(crate) resistance: f64,
    /// Allowed relative difference of both.
    pub(crate) tolerance: f64,
    pub(crate) source: &'static str,
    /// The edition, format and factors it was worked with.
    pub(crate) rules: Rules,
}

/// Tries a promise out on the lists of a pack, whatever they are about.
pub(crate) trait TryOut {
    fn list<I: Input>(&mut self, pack: &Pack, clauses: Clauses<I>, examples: Vec<Example<I>>);
}

fn everywhere(mut promise: impl TryOut) {
    for pack in PACKS {
        pack.try_out(&mut promise);
    }
}

fn factors<I>(pack: &Pack, example: &Example<I>) -> Factors {
    pack.factors(&example.rules).unwrap()
}

fn run<I: Input>(
    clause: &dyn Clause<I>,
    input: &I,
    factors: &Factors,
) -> Result<Checked, NotChecked> {
    clause.evaluate(input, factors, &mut Trace::off())
}

/// The numbers of the records an input has lists of; they enter a derivation once a record.
fn columns<I: Input>() -> Vec<Field> {
    let columns = |choice: Choice| match choice.kind {
        ChoiceKind::Records { columns, .. } => columns.to_vec(),
        _ => Vec::new(),
    };
    I::choices().into_iter().flat_map(columns).collect()
}

/// All numbers of an input.
fn numbers<I: Input>() -> Vec<Field> {
    let mut all = I::FIELDS.to_vec();
    all.extend(columns::<I>());
    all
}

fn name<I: Input>(clause: &dyn Clause<I>) -> String {
    let reference = clause.reference();
    format!("{}, {}: {}", reference.document, reference.place, clause.title())
}

struct WorkedExamples;
impl TryOut for WorkedExamples {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let place = format!("{} ({})", name(example.clause), example.source);
            let got = run(example.clause, &example.input, &factors(pack, &example))
                .unwrap_or_else(|e| panic!("{place}: {e}"));
            let close = |got: f64, expected: f64| {
                (got - expected).abs() <= example.tolerance * expected.abs() + 1e-12
            };
            assert!(close(got.demand, example.demand), "{place}: demand {}", got.demand);
            let resistance = got.resistance;
            assert!(close(resistance, example.resistance), "{place}: resistance {resistance}");
        }
    }
}

#[test]
fn worked_examples_come_out() {
    everywhere(WorkedExamples);
}

struct Coverage;
impl TryOut for Coverage {
    fn list<I: Input>(&mut self, pack: &Pack, clauses: Clauses<I>, examples: Vec<Example<I>>) {
        for clause in clauses {
            let place = format!("{}: {}", pack.id, name(*clause));
            let own: Vec<_> =
                examples.iter().filter(|e| e.clause.reference() == clause.reference()).collect();
            assert!(!own.is_empty(), "{place} has no example");
            assert!(own.iter().all(|e| !e.source.is_empty()), "{place} has no source");
        }
    }
}

#[test]
fn every_clause_has_an_example_with_a_source() {
    everywhere(Coverage);
}

#[derive(Default)]
struct Names(BTreeSet<String>);
impl TryOut for Names {
    fn list<I: Input>(&mut self, pack: &Pack, clauses: Clauses<I>, _: Vec<Example<I>>) {
        for clause in clauses {
            let reference = clause.reference();
            let place = format!("{}, {}", reference.document, reference.place);
            for name in [place, clause.title().to_owned()] {
                assert!(self.0.insert(format!("{}: {name}", pack.id)), "{} twice: {name}", pack.id);
            }
        }
    }
}

#[test]
fn no_two_clauses_of_a_pack_share_a_reference_or_a_title() {
    everywhere(Names::default());
}

/// What an expression names beside its operands: words, functions of `fishplate_quantity::algebra`,
/// numbers of mathematics, and units.
const KNOWN: &[&[&str]] = &[
    &["if", "else"],
    &["abs", "cos", "cube", "degrees", "hypot", "larger", "ln", "positive", "power", "share"],
    &["sin", "smaller", "sq", "sqrt", "tan"],
    &["PI", "SQRT_3"],
    &["MM", "MPA", "DEGREE", "IN", "KSI", "KIP"],
];

/// The names in an expression; a method comes with its dot.
fn names_in(expression: &str) -> impl Iterator<Item = &str> {
    let apart = |c: char| !c.is_alphanumeric() && c != '_' && c != '.';
    expression.split(apart).filter(|name| !name.is_empty() && !name.starts_with(char::is_numeric))
}

/// No number without provenance: what a step reckons with is an operand, which entered before, or
/// stands in the expression as a figure.
fn assert_nothing_is_hidden(trace: &Trace, place: &str) {
    for entry in trace.entries() {
        let Origin::Step { expression, operands, .. } = &entry.origin else { continue };
        for name in names_in(expression) {
            let known = operands.iter().any(|(symbol, _)| *symbol == name)
                || KNOWN.iter().any(|names| names.contains(&name));
            assert!(known, "{place}: {} hides {name} in {expression}", entry.symbol);
        }
    }
}

#[test]
fn a_hidden_number_is_found() {
    const E: f64 = 210e9;
    let mut trace = Trace::on();
    let strain = trace.input("strain", "strain", Dimension::Ratio, 1e-3, || {
        Provenance::Solved("test".to_owned())
    });
    step!(trace, Stress, Source::mechanics("Hooke"), "stress"; sigma(strain) = E * 1e-3 * strain);
    assert!(sigma > 0.0);
    let Origin::Step { expression, .. } = &trace.entries()[1].origin else { unreachable!() };
    assert_eq!(names_in(expression).collect::<Vec<_>>(), ["E", "strain"]);
    assert!(std::panic::catch_unwind(|| assert_nothing_is_hidden(&trace, "Hooke")).is_err());
}

struct Derivations;
impl TryOut for Derivations {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let factors = factors(pack, &example);
            let mut trace = Trace::on();
            let traced = example.clause.evaluate(&example.input, &factors, &mut trace).unwrap();
            let untraced = run(example.clause, &example.input, &factors).unwrap();
            let place = name(example.clause);
            let bits =
                |c: Checked| [c.demand, c.resistance, c.utilisation.value()].map(f64::to_bits);
            assert_eq!(bits(traced), bits(untraced), "{place}");
            let last = trace.entries().last().unwrap();
            assert_eq!(last.symbol, "utilisation", "{place}");
            assert_eq!(last.value.to_bits(), traced.utilisation.value().to_bits(), "{place}");
            assert_eq!(trace.orphans(), Vec::<&str>::new(), "{place}");
            let ratio = traced.demand / traced.resistance;
            assert!((ratio - traced.utilisation.value()).abs() <= 1e-12 * ratio, "{place}");
            assert_nothing_is_hidden(&trace, &place);
            let mut entered = BTreeSet::new();
            for entry in trace.entries() {
                let unsaid = Origin::Leaf(Origins::default().of(entry.symbol));
                assert!(entry.origin != unsaid, "{place}: {} from nowhere", entry.symbol);
                assert!(!entry.what.is_empty(), "{place}: {} unexplained", entry.symbol);
                let of_a_list = columns::<I>().iter().any(|c| c.symbol == entry.symbol);
                if matches!(entry.origin, Origin::Leaf(_)) && !of_a_list {
                    assert!(entered.insert(entry.symbol), "{place}: {} twice", entry.symbol);
                }
            }
        }
    }
}

#[test]
fn a_derivation_is_whole_ends_in_the_utilisation_and_changes_no_bit() {
    everywhere(Derivations);
}

/// Without a derivation a check asks the heap for nothing: batches run these in their inner loop.
///
/// Two kinds of work are left out: lists that come with the input, such as spectra, readings and
/// walls of a section; and sections whose walls buckle, which these clauses take apart.
const TAKEN_APART: [&str; 7] = [
    "axial force on the section",
    "first yield of the section",
    "buckling of the member under axial force",
    "buckling of the member with twist",
    "buckling of the member under compression and bending",
    "thin section of flat walls",
    "walls within the widths the rules",
];

#[derive(Default)]
struct Allocations(Vec<String>);
impl TryOut for &mut Allocations {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        if I::choices().iter().any(|c| matches!(c.kind, ChoiceKind::Records { .. })) {
            return;
        }
        for example in examples {
            // A reason why a document does not vouch for a number is a text.
            if example.clause.applies(&example.input) != Applicability::Applies {
                continue;
            }
            let factors = factors(pack, &example);
            let used = allocation_counter::measure(|| {
                run(example.clause, &example.input, &factors).unwrap();
            });
            let apart = TAKEN_APART.iter().any(|title| example.clause.title().starts_with(title));
            if used.count_total > 0 && !apart {
                self.0.push(format!("{}: {}", pack.id, name(example.clause)));
            }
        }
    }
}

#[test]
fn a_check_without_derivation_allocates_nothing() {
    let mut allocations = Allocations::default();
    everywhere(&mut allocations);
    assert_eq!(allocations.0, Vec::<String>::new());
}

struct Hostile;
impl TryOut for Hostile {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let factors = factors(pack, &example);
            let place = name(example.clause);
            for field in numbers::<I>() {
                let symbol = field.symbol;
                for value in [0.0, -0.0, -1.0, 1e300, -1e300, 1e-300, 5e-324] {
                    let hostile = example.input.changed(symbol, &|_| value);
                    let _ = example.clause.applies(&hostile);
                    let _ = run(example.clause, &hostile, &factors);
                }
                for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                    let hostile = example.input.changed(symbol, &|_| value);
                    let _ = example.clause.applies(&hostile);
                    if example.input != example.input.changed(symbol, &|v| v + 1.0) {
                        let got = run(example.clause, &hostile, &factors);
                        assert!(got.is_err(), "{place}: {symbol}");
                    }
                }
            }
        }
    }
}

#[test]
fn senseless_numbers_are_refused_and_never_panic() {
    everywhere(Hostile);
}

struct Monotone;
impl TryOut for Monotone {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let factors = factors(pack, &example);
            monotone(example.clause, &example.input, &factors);
            // Far from the example as well: every number moved by a factor of 1/3 to 3.
            let mut state = 1_u64;
            for _ in 0..100 {
                let mut other = example.input.clone();
                for field in numbers::<I>() {
                    let factor = 3.0_f64.powf(2.0 * uniform(&mut state) - 1.0);
                    other = other.changed(field.symbol, &|v| v * factor);
                }
                monotone(example.clause, &other, &factors);
            }
        }
    }
}

#[test]
fn more_demand_never_helps_and_more_strength_never_hurts() {
    everywhere(Monotone);
}

/// The next of a fixed sequence of numbers in 0..1 (Knuth's MMIX generator).
fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    f64::from((*state >> 40) as u32) / f64::from(1_u32 << 24)
}

fn monotone<I: Input>(clause: &dyn Clause<I>, input: &I, factors: &Factors) {
    let Ok(base) = run(clause, input, factors) else { return };
    let regular = |symbol| !clause.irregular().contains(&symbol);
    for field in numbers::<I>().into_iter().filter(|field| regular(field.symbol)) {
        let symbol = field.symbol;
        for factor in [1.003, 1.4] {
            let raised = run(clause, &input.changed(symbol, &|v| v * factor), factors);
            let Ok(raised) = raised else { continue };
            let (before, after) = (base.utilisation.value(), raised.utilisation.value());
            let place = name(clause);
            match field.role {
                Role::Demand => assert!(
                    after >= before * (1.0 - 1e-12),
                    "{place}: more {symbol} lowers {before} to {after}"
                ),
                Role::Resistance if clause.kind() != Kind::Detailing => assert!(
                    after <= before * (1.0 + 1e-12),
                    "{place}: more {symbol} raises {before} to {after}"
                ),
                Role::Resistance | Role::Free => {}
            }
        }
    }
}

/// Every clause stands under every edition and format of its pack, and larger factors that divide
/// strength never help.
struct Choices;
impl TryOut for Choices {
    fn list<I: Input>(&mut self, pack: &Pack, _: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            for edition in pack.editions {
                for format in pack.formats {
                    let rules = Rules {
                        edition: Some(edition.id.to_owned()),
                        format: Some(format.word().to_owned()),
                        ..Rules::RECOMMENDED
                    };
                    let factors = pack.factors(&rules).unwrap();
                    let mut trace = Trace::on();
                    let got = example.clause.evaluate(&example.input, &factors, &mut trace);
                    let untraced = run(example.clause, &example.input, &factors);
                    let place = name(example.clause);
                    assert_eq!(got, untraced, "{place}");
                    assert_nothing_is_hidden(&trace, &place);
                }
            }
        }
    }
}

#[test]
fn every_edition_and_format_can_be_asked() {
    everywhere(Choices);
}

#[test]
fn factors_that_make_no_sense_are_refused() {
    for pack in PACKS {
        for spec in pack.factors {
            for value in [0.0, -1.0, f64::NAN, f64::INFINITY, 100.0] {
                let provenance = Provenance::Given("factors".to_owned());
                let own = OwnFactor { symbol: spec.symbol.to_owned(), value, provenance };
                let rules = Rules { own: vec![own], ..Rules::RECOMMENDED };
                assert!(pack.factors(&rules).is_err(), "{}: {} {value}", pack.id, spec.symbol);
            }
        }
    }
}

#[test]
fn every_pack_says_what_it_is() {
    let mut ids = BTreeSet::new();
    for pack in PACKS {
        assert!(ids.insert(pack.id), "twice: {}", pack.id);
        assert!(!pack.title.is_empty() && !pack.scope.is_empty(), "{}", pack.id);
        assert!(!pack.formats.is_empty(), "{}", pack.id);
        assert!(pack.editions.iter().all(|e| !e.documents.is_empty()), "{}", pack.id);
        let factors = pack.factors(&Rules::RECOMMENDED).unwrap();
        assert_eq!(factors.all().count(), pack.factors.len());
        let national = pack.nationals.iter().flat_map(|n| n.changes).map(|(_, value)| *value);
        let mut values = pack.factors.iter().map(|spec| spec.value).chain(national);
        assert!(values.all(|value| value > 0.0 && value.is_finite()), "{}", pack.id);
        assert_eq!(super::pack(pack.id).map(|p| p.id), Some(pack.id));
        for national in pack.nationals {
            for (symbol, _) in national.changes {
                assert!(pack.factors.iter().any(|s| s.symbol == *symbol), "{symbol}");
            }
        }
    }
    assert!(super::pack("EN 1994").is_none());
}
