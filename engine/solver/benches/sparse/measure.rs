//! One measurement, and what it is measured with.

use fishplate_solver::linear::{Factor, Pattern};
use fishplate_solver::plates::{ExportAxes, PlateModel, export};
use rustix::time::{ClockId, clock_gettime};
use std::sync::Arc;
use std::time::Instant;

/// What is solved.
#[derive(Debug)]
pub(crate) struct Equations {
    pub(crate) groups: Vec<Vec<usize>>,
    pub(crate) pattern: Arc<Pattern>,
    pub(crate) values: Vec<f64>,
    /// Right-hand sides, one after the other.
    pub(crate) loads: Vec<f64>,
}

impl Equations {
    pub(crate) fn new(model: &PlateModel, axes: ExportAxes) -> Self {
        let export = export(model, axes).unwrap();
        let size = export.column_starts.len() - 1;
        Equations {
            pattern: Arc::new(Pattern::from_groups(size, &export.groups)),
            groups: export.groups,
            values: export.values,
            loads: export.right_hand_sides.concat(),
        }
    }
}

/// Times in ms, CPU unless said.
#[derive(Clone, Debug)]
pub(crate) struct Measured {
    /// Pattern, order and structure of the factor; 0 in a repeat.
    pub(crate) order: f64,
    pub(crate) factor: f64,
    /// All right-hand sides.
    pub(crate) solve: f64,
    /// CPU time of the calling thread for all: it takes its share of all that is shared and does
    /// the rest alone, so with two threads it tells what an idle machine would take.
    pub(crate) path: f64,
    /// Wall time of all.
    pub(crate) wall: f64,
    /// Largest `|b - A x|` by the largest entry of the matrix times that of the solution.
    pub(crate) residual: f64,
    pub(crate) factor_entries: usize,
}

impl Measured {
    /// CPU time of all.
    pub(crate) fn cpu(&self) -> f64 {
        self.order + self.factor + self.solve
    }
}

/// CPU time of the process so far, ms.
pub(crate) fn cpu() -> f64 {
    milliseconds(ClockId::ProcessCPUTime)
}

fn milliseconds(clock: ClockId) -> f64 {
    let now = clock_gettime(clock);
    now.tv_sec as f64 * 1e3 + now.tv_nsec as f64 * 1e-6
}

/// Solves the equations once; a repeat takes their pattern as it is.
pub(crate) fn measure(equations: &Equations, threads: usize, repeat: bool) -> Measured {
    let size = equations.pattern.size();
    let columns = equations.loads.len() / size;
    let mut x = equations.loads.clone();
    let (clock, own) = (Instant::now(), milliseconds(ClockId::ThreadCPUTime));
    let start = cpu();
    let pattern = if repeat {
        Arc::clone(&equations.pattern)
    } else {
        Arc::new(Pattern::from_groups(size, &equations.groups))
    };
    let ordered = cpu();
    let factor = Factor::with_threads(&pattern, &equations.values, threads).unwrap();
    let factored = cpu();
    factor.solve_many(&mut x, columns, threads);
    let (solved, wall) = (cpu(), clock.elapsed().as_secs_f64() * 1e3);
    let path = milliseconds(ClockId::ThreadCPUTime) - own;
    drop(factor);
    Measured {
        order: ordered - start,
        factor: factored - ordered,
        solve: solved - factored,
        path,
        wall,
        residual: residual(equations, &x),
        factor_entries: pattern.factor_entries(),
    }
}

fn residual(equations: &Equations, x: &[f64]) -> f64 {
    let largest = |v: &[f64]| v.iter().fold(0.0_f64, |t, v| if v.abs() > t { v.abs() } else { t });
    let size = equations.pattern.size();
    let mut worst = 0.0;
    for (x, b) in x.chunks_exact(size).zip(equations.loads.chunks_exact(size)) {
        let product = equations.pattern.product(&equations.values, x);
        let rest: Vec<f64> = b.iter().zip(product).map(|(b, p)| b - p).collect();
        let found = largest(&rest) / (largest(&equations.values) * largest(x));
        worst = if found > worst { found } else { worst };
    }
    worst
}

/// Memory of the process by its name in `/proc/self/status`, kB; 0 where there is none.
pub(crate) fn resident(name: &str) -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with(name));
    line.and_then(|l| l.split_whitespace().nth(1)?.parse().ok()).unwrap_or(0)
}

/// Forgets the peak so far, where the system can.
pub(crate) fn reset_peak() {
    let _ = std::fs::write("/proc/self/clear_refs", "5");
}
