//! Designs of one frame a second, against the same one by one.
//!
//! `frames` alone measures and tells. `frames describe` writes the frame down, one thing a line,
//! and `frames serve` measures once for each line it is sent, so that peers can take turns with it
//! (`engine/solver/benches/peers/frames.py`).

#![allow(clippy::unwrap_used, clippy::needless_range_loop)]

mod frame;
mod peers;

use fishplate_solver::FrameModel;
use fishplate_solver::RunToEnd;
use fishplate_solver::batch::{BatchAnswer, Effort, FrameBatch, Width};
use rustix::time::{ClockId, clock_gettime};
use std::io::{BufRead, Write};
use std::time::Instant;

/// Designs of one measurement.
const DESIGNS: usize = 4096;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).filter(|w| *w != "--bench").collect();
    let mut out = std::io::stdout();
    match words.as_slice() {
        ["describe"] => describe(&mut out),
        ["serve"] => {
            let bench = Bench::new();
            for line in std::io::stdin().lock().lines().map_while(Result::ok) {
                let told = bench.measure(&line);
                writeln!(out, "{told}").unwrap();
                out.flush().unwrap();
            }
        }
        _ => {
            let bench = Bench::new();
            for line in ["widest 1", "single 1", "widest 2", "statics", "dense", "sparse"] {
                writeln!(out, "{line}: {}", bench.measure(line)).unwrap();
            }
        }
    }
}

struct Bench {
    model: FrameModel,
    batch: FrameBatch,
    designs: Vec<f64>,
    peers: peers::Peers,
}

impl Bench {
    fn new() -> Self {
        let model = frame::model();
        let batch = frame::batch(&model);
        Bench { batch, designs: frame::designs(DESIGNS), peers: peers::Peers::new(&model), model }
    }

    /// One measurement: times in microseconds a design.
    fn measure(&self, line: &str) -> String {
        let words: Vec<&str> = line.split(' ').collect();
        match words.as_slice() {
            ["widest", threads] => self.batch(Width::Widest, threads.parse().unwrap()),
            ["single", threads] => self.batch(Width::Single, threads.parse().unwrap()),
            ["statics"] => timed(4, || peers::statics(&self.model)),
            ["dense"] => timed(64, || self.peers.dense()),
            ["sparse"] => timed(64, || self.peers.sparse()),
            other => panic!("no such measurement: {other:?}"),
        }
    }

    fn batch(&self, width: Width, threads: usize) -> String {
        let mut answer = BatchAnswer::default();
        let told = timed(DESIGNS, || {
            let effort = Effort { threads, width };
            answer = self.batch.solve(&self.designs, effort, &RunToEnd).unwrap();
        });
        let top = |values: &mut dyn Iterator<Item = f64>| {
            values.fold(0.0, |top: f64, v| if v > top { v } else { top })
        };
        let residual = top(&mut answer.judged.iter().map(|j| j.residual));
        let alone = answer.judged.iter().filter(|j| j.alone).count();
        let lost = top(&mut answer.judged.iter().map(|j| 1.0 / j.smallest_pivot));
        let stress = top(&mut answer.worst_stress[..frame::CASES].iter().copied());
        format!("{told} residual {residual:e} pivot {:e} alone {alone} stress {stress}", 1.0 / lost)
    }
}

/// CPU time of the process, that of the calling thread and wall time, microseconds for each of
/// `count` things.
fn timed(count: usize, run: impl FnOnce()) -> String {
    let micro = |id: ClockId| {
        let now = clock_gettime(id);
        now.tv_sec as f64 * 1e6 + now.tv_nsec as f64 * 1e-3
    };
    let (clock, all) = (Instant::now(), micro(ClockId::ProcessCPUTime));
    let own = micro(ClockId::ThreadCPUTime);
    run();
    let each = |time: f64| time / count as f64;
    format!(
        "cpu {:.3} path {:.3} wall {:.3}",
        each(micro(ClockId::ProcessCPUTime) - all),
        each(micro(ClockId::ThreadCPUTime) - own),
        each(clock.elapsed().as_secs_f64() * 1e6)
    )
}

/// The frame and its first design, a thing a line, in m, N, Pa.
fn describe(out: &mut impl Write) {
    let draft = frame::draft();
    let mut line = |words: &[f64], name: &str| {
        let words: Vec<String> = words.iter().map(|w| format!("{w:e}")).collect();
        writeln!(out, "{name} {}", words.join(" ")).unwrap();
    };
    for node in &draft.nodes {
        line(&node.position, "node");
    }
    for (beam, numbers) in draft.beams.iter().zip(frame::designs(1).chunks_exact(4)) {
        let ends = [beam.start.0 as f64, beam.end.0 as f64];
        line(&[ends.as_slice(), numbers].concat(), "beam");
    }
    for support in &draft.supports {
        line(&[support.node.0 as f64], "clamped");
    }
    for (index, case) in draft.load_cases.iter().enumerate() {
        for load in &case.nodal {
            let place = [index as f64, load.node.0 as f64];
            line(&[place.as_slice(), &load.force, &load.moment].concat(), "load");
        }
    }
}
