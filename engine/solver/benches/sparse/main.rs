//! Equations of plate models: setting up, ordering, factor, right-hand sides, on one thread and
//! two.
//!
//! * `cargo bench -p fishplate-solver --bench sparse`: a table of all cases.
//! * `... -- write CASE AXES FILE`: the equations as a file for other solvers.
//! * `... -- serve CASE AXES`: one measurement for each line on standard input (`THREADS REPEAT`),
//!   as `engine/solver/benches/peers/compare.py` asks for them in turn with those of its peers.
//!
//! AXES is `plates` or `global`. Times are CPU times of the process, ms; two threads are told by the
//! time of the calling one, which does all that isn't shared.

#![allow(missing_docs, clippy::unwrap_used)]

mod measure;
mod models;

use fishplate_solver::plates::ExportAxes;
use measure::{Equations, Measured, cpu, measure, reset_peak, resident};
use models::{CASES, Case};
use std::io::{BufRead, Write};

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|a| a != "--bench").collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        [] => table(),
        ["write", case, axes, file] => write(&equations(case, axes), file),
        ["serve", case, axes] => serve(&equations(case, axes)),
        _ => panic!("no such measurement: {words:?}"),
    }
}

fn named(name: &str) -> Case {
    *CASES.iter().find(|c| c.name == name).expect("CASE is a name of the list")
}

fn equations(case: &str, axes: &str) -> Equations {
    let axes = if axes == "global" { ExportAxes::Global } else { ExportAxes::OfPlates };
    Equations::new(&named(case).model(), axes)
}

/// Medians of a few runs of every case, with the growth of the total from the case before.
fn table() {
    let mut out = std::io::stdout().lock();
    writeln!(
        out,
        "case        axes   unknowns  entries    factor     set-up  pattern+order  factor  12 rhs \
         total  exponent  repeat  2 threads/1  residual"
    )
    .unwrap();
    for axes in ["plates", "global"] {
        let mut before: Option<(f64, f64)> = None;
        for case in CASES {
            let model = case.model();
            let start = cpu();
            let kind = if axes == "global" { ExportAxes::Global } else { ExportAxes::OfPlates };
            let equations = Equations::new(&model, kind);
            let set_up = cpu() - start;
            drop(model);
            let runs = if equations.pattern.size() > 150_000 { 3 } else { 5 };
            let one = median(runs, || measure(&equations, 1, false));
            let again = median(runs, || measure(&equations, 1, true));
            let two = median(runs, || measure(&equations, 2, false));
            let (size, total) = (equations.pattern.size() as f64, one.cpu());
            let grown = before.filter(|(smaller, _)| size > *smaller);
            let exponent = grown.map_or(f64::NAN, |(s, t)| (total / t).ln() / (size / s).ln());
            before = Some((size, total));
            writeln!(
                out,
                "{:<11} {axes} {:>8} {:>9} {:>10} {set_up:>9.1} {:>9.1} {:>9.1} {:>8.1} \
                 {total:>8.1} {exponent:>6.2} {:>9.1} {:>6.2} {:>10.1e}",
                case.name,
                equations.pattern.size(),
                equations.pattern.entries(),
                one.factor_entries,
                one.order,
                one.factor,
                one.solve,
                again.cpu(),
                two.path / one.path,
                one.residual,
            )
            .unwrap();
        }
    }
}

fn median(runs: usize, run: impl Fn() -> Measured) -> Measured {
    let mut all: Vec<Measured> = (0..runs).map(|_| run()).collect();
    all.sort_by(|a, b| a.cpu().total_cmp(&b.cpu()));
    all.swap_remove(runs / 2)
}

/// Little-endian: a mark, size, entries, right-hand sides as i64; starts of columns and rows as
/// i64; entries of the lower triangle and right-hand sides as f64.
fn write(equations: &Equations, file: &str) {
    let pattern = &equations.pattern;
    let cases = equations.loads.len() / pattern.size();
    let mut rows = Vec::with_capacity(pattern.entries());
    pattern.visit(|_, row, _| rows.push(row));
    let starts = (0..pattern.size()).map(|c| pattern.diagonal(c)).chain([pattern.entries()]);
    let counts = [0x5350_4431, pattern.size(), pattern.entries(), cases];
    let mut out = std::io::BufWriter::new(std::fs::File::create(file).unwrap());
    for whole in counts.into_iter().chain(starts).chain(rows) {
        out.write_all(&(whole as u64).to_le_bytes()).unwrap();
    }
    for real in equations.values.iter().chain(&equations.loads) {
        out.write_all(&real.to_le_bytes()).unwrap();
    }
    out.flush().unwrap();
}

fn serve(equations: &Equations) {
    reset_peak();
    let before = resident("VmRSS");
    for line in std::io::stdin().lock().lines() {
        let line = line.unwrap();
        let (threads, repeat) = line.split_once(' ').expect("THREADS REPEAT");
        let measured = measure(equations, threads.parse().unwrap(), repeat == "repeat");
        let mut out = std::io::stdout().lock();
        writeln!(
            out,
            "order {} factor {} solve {} cpu {} path {} wall {} residual {} entries {} peak {} before {before}",
            measured.order,
            measured.factor,
            measured.solve,
            measured.cpu(),
            measured.path,
            measured.wall,
            measured.residual,
            measured.factor_entries,
            resident("VmHWM"),
        )
        .unwrap();
        out.flush().unwrap();
    }
}
