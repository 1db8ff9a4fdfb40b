//! What every clause of the pack keeps, tested over all of them.

use std::collections::BTreeSet;

use fishplate_quantity::trace::Origin;
use fishplate_quantity::{Provenance, Trace};

use crate::catalog::FuEdition;
use crate::clause::input::{Probe, Role};
use crate::clause::{Checked, Clause, Factors, Kind, NotChecked, Origins};
use crate::packs::Clauses;

use super::{PACK, bolts, members, plates, walls, welds};

/// A worked example: demand and resistance of a clause with where they come from.
pub(super) struct Example<I: 'static> {
    pub(super) clause: &'static dyn Clause<I>,
    pub(super) input: I,
    pub(super) demand: f64,
    pub(super) resistance: f64,
    /// Allowed relative difference of both.
    pub(super) tolerance: f64,
    pub(super) source: &'static str,
}

/// Own recomputation of the formula outside this code, printed with five digits.
pub(super) const OWN: &str = "own recomputation, formula from memory of the standard";

/// The recommended factors of the EN 1993 parts; 1.10 for slip in service.
pub(super) fn factors() -> Factors {
    Factors {
        gamma_m0: 1.0,
        gamma_m1: 1.0,
        gamma_m2: 1.25,
        gamma_m3: 1.25,
        gamma_m3_ser: 1.1,
        gamma_m5: 1.0,
        gamma_m7: 1.1,
        edition: FuEdition::ProductStandard,
        origins: Origins::all(Provenance::Factor("recommended".to_owned())),
    }
}

pub(super) fn given() -> Origins {
    Origins::all(Provenance::Given("example".to_owned()))
}

fn run<I: Probe>(clause: &dyn Clause<I>, input: &I) -> Result<Checked, NotChecked> {
    clause.evaluate(input, &factors(), &mut Trace::off())
}

/// Runs `check` for every list of the pack with its examples.
macro_rules! over_all {
    ($check:ident) => {
        $check(PACK.bolts, bolts::examples::bolts());
        $check(PACK.bolt_detailing, bolts::examples::bolt_detailing());
        $check(PACK.bolt_groups, bolts::examples::bolt_groups());
        $check(PACK.bolted_plies, bolts::examples::bolted_plies());
        $check(PACK.angle_legs, bolts::examples::angle_legs());
        $check(PACK.t_stubs, bolts::examples::t_stubs());
        $check(PACK.threads, bolts::examples::threads());
        $check(PACK.assembly, bolts::examples::assembly());
        $check(PACK.welds, welds::examples::welds());
        $check(PACK.weld_runs, welds::examples::weld_runs());
        $check(PACK.weld_detailing, welds::examples::weld_detailing());
        $check(PACK.plugs, welds::examples::plugs());
        $check(PACK.plug_detailing, welds::examples::plug_detailing());
        $check(PACK.sheet_laps, welds::examples::sheet_laps());
        $check(PACK.members, members::examples::members());
        $check(PACK.angle_struts, members::examples::angle_struts());
        $check(PACK.stress_points, members::examples::stress_points());
        $check(PACK.thin_boxes, members::examples::thin_boxes());
        $check(PACK.elements, members::examples::elements());
        $check(PACK.tabs, plates::examples::tabs());
        $check(PACK.floors, plates::examples::floors());
        $check(PACK.gussets, plates::examples::gussets());
        $check(PACK.seats, plates::examples::seats());
        $check(PACK.walls, walls::examples::walls());
        $check(PACK.wall_pulls, walls::examples::wall_pulls());
        $check(PACK.clamped_rails, walls::examples::clamped_rails());
        $check(PACK.sleeves, walls::examples::sleeves());
    };
}

fn name<I: Probe>(clause: &dyn Clause<I>) -> String {
    let reference = clause.reference();
    format!("{}, {}: {}", reference.document, reference.place, clause.title())
}

#[test]
fn worked_examples_come_out() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let place = format!("{} ({})", name(example.clause), example.source);
            let got =
                run(example.clause, &example.input).unwrap_or_else(|e| panic!("{place}: {e}"));
            let close = |got: f64, expected: f64| {
                (got - expected).abs() <= example.tolerance * expected.abs() + 1e-12
            };
            assert!(close(got.demand, example.demand), "{place}: demand {}", got.demand);
            let resistance = got.resistance;
            assert!(close(resistance, example.resistance), "{place}: resistance {resistance}");
        }
    }
    over_all!(check);
}

#[test]
fn every_clause_has_an_example_with_a_source() {
    fn check<I: Probe>(clauses: Clauses<I>, examples: Vec<Example<I>>) {
        for clause in clauses {
            let own: Vec<_> =
                examples.iter().filter(|e| e.clause.reference() == clause.reference()).collect();
            assert!(!own.is_empty(), "{} has no example", name(*clause));
            assert!(own.iter().all(|e| !e.source.is_empty()), "{} has no source", name(*clause));
        }
    }
    over_all!(check);
}

#[test]
fn no_two_clauses_share_a_reference_or_a_title() {
    fn names<I: Probe>(clauses: Clauses<I>) -> Vec<String> {
        let both = |c: &&dyn Clause<I>| {
            let reference = c.reference();
            [format!("{}, {}", reference.document, reference.place), c.title().to_owned()]
        };
        clauses.iter().flat_map(both).collect()
    }
    let mut seen = BTreeSet::new();
    let mut check_names = |names: Vec<String>| {
        for name in names {
            assert!(seen.insert(name.clone()), "twice: {name}");
        }
    };
    macro_rules! each {
        ($($list:ident)*) => { $(check_names(names(PACK.$list));)* };
    }
    each!(
        bolts bolt_detailing bolt_groups bolted_plies angle_legs t_stubs threads assembly welds
        weld_runs weld_detailing plugs plug_detailing sheet_laps members angle_struts
        stress_points thin_boxes elements tabs floors gussets seats walls wall_pulls
        clamped_rails sleeves
    );
}

#[test]
fn the_derivation_ends_in_the_returned_utilisation_and_changes_no_bit() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let mut trace = Trace::on();
            let traced = example.clause.evaluate(&example.input, &factors(), &mut trace).unwrap();
            let untraced = run(example.clause, &example.input).unwrap();
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
        }
    }
    over_all!(check);
}

#[test]
fn every_number_that_enters_says_where_from() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let mut trace = Trace::on();
            example.clause.evaluate(&example.input, &factors(), &mut trace).unwrap();
            for entry in trace.entries() {
                let unsaid = Origin::Leaf(Origins::default().of(entry.symbol));
                assert!(entry.origin != unsaid, "{}: {}", name(example.clause), entry.symbol);
                assert!(!entry.what.is_empty());
            }
        }
    }
    over_all!(check);
}

#[test]
fn senseless_numbers_are_refused_and_never_panic() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let place = name(example.clause);
            for (symbol, _) in I::fields() {
                for value in [0.0, -0.0, -1.0, 1e300, -1e300, 1e-300, 5e-324] {
                    let hostile = example.input.changed(symbol, &|_| value);
                    let _ = example.clause.applies(&hostile);
                    let _ = run(example.clause, &hostile);
                }
                for value in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                    let hostile = example.input.changed(symbol, &|_| value);
                    let _ = example.clause.applies(&hostile);
                    if example.input != example.input.changed(symbol, &|v| v + 1.0) {
                        assert!(run(example.clause, &hostile).is_err(), "{place}: {symbol}");
                    }
                }
            }
        }
    }
    over_all!(check);
}

#[test]
fn more_demand_never_helps_and_more_strength_never_hurts() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            monotone(example.clause, &example.input);
            // Far from the example as well: every number moved by a factor of 1/3 to 3.
            let mut state = 1_u64;
            for _ in 0..100 {
                let mut other = example.input.changed("", &|v| v);
                for (symbol, _) in I::fields() {
                    let factor = 3.0_f64.powf(2.0 * uniform(&mut state) - 1.0);
                    other = other.changed(symbol, &|v| v * factor);
                }
                monotone(example.clause, &other);
            }
        }
    }
    over_all!(check);
}

/// The next of a fixed sequence of numbers in 0..1 (Knuth's MMIX generator).
fn uniform(state: &mut u64) -> f64 {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    f64::from((*state >> 40) as u32) / f64::from(1_u32 << 24)
}

fn monotone<I: Probe>(clause: &dyn Clause<I>, input: &I) {
    let Ok(base) = run(clause, input) else { return };
    for (symbol, role) in I::fields() {
        for factor in [1.003, 1.4] {
            let Ok(raised) = run(clause, &input.changed(symbol, &|v| v * factor)) else { continue };
            let (before, after) = (base.utilisation.value(), raised.utilisation.value());
            let place = name(clause);
            match role {
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

#[test]
fn a_number_enters_a_derivation_once() {
    fn check<I: Probe>(_: Clauses<I>, examples: Vec<Example<I>>) {
        for example in examples {
            let mut trace = Trace::on();
            example.clause.evaluate(&example.input, &factors(), &mut trace).unwrap();
            let mut seen = BTreeSet::new();
            for entry in trace.entries() {
                if matches!(entry.origin, Origin::Leaf(_)) {
                    let place = name(example.clause);
                    assert!(seen.insert(entry.symbol), "{place}: {} twice", entry.symbol);
                }
            }
        }
    }
    over_all!(check);
}

#[test]
fn factors_that_make_no_sense_are_refused() {
    for gamma_m0 in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let factors = Factors { gamma_m0, ..factors() };
        for example in walls::examples::sleeves() {
            let refused = example.clause.evaluate(&example.input, &factors, &mut Trace::off());
            let symbol = "gamma_m0";
            assert!(
                matches!(refused, Err(NotChecked::OutOfRange { symbol: s, .. }) if s == symbol)
            );
        }
    }
}

#[test]
fn the_pack_is_found_by_its_name() {
    assert_eq!(crate::packs::pack("EN 1993").map(|p| p.id), Some("EN 1993"));
    assert!(crate::packs::pack("EN 1994").is_none());
}
