//! Verdicts a second: whole checks of a design by hand statics, and the rows of one mount under loads
//! that were found before, by number of threads that work on designs of their own.
//!
//! `cargo bench -p fishplate-service`

#![allow(missing_docs, clippy::unwrap_used)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use fishplate_mounts::describe::{Form, Project};
use fishplate_mounts::study::screen::{Prepared, Scope, Until};
use fishplate_mounts::{Depth, Options, RunToEnd, check};
use fishplate_proto::json::from_json;
use fishplate_quantity::Length;
use fishplate_service::described;

const DESIGNS: [(&str, &str); 2] = [
    ("van-b", include_str!("../../tests/data/van_b.json")),
    ("van-c", include_str!("../../tests/data/van_c.json")),
];

/// Designs that differ in the sheet of their brackets, as those of a study do.
fn variants(project: &Project) -> Vec<Project> {
    (0..16)
        .map(|i| {
            let mut other = project.clone();
            for part in &mut other.parts {
                if let Form::Folded(folded) = &mut part.form {
                    let t = folded.thickness.value.as_mm();
                    folded.thickness.value = Length::from_mm(t + 0.02 * f64::from(i));
                }
            }
            other
        })
        .collect()
}

/// Time that `threads` need for `verdicts` verdicts each, of all designs in turn.
fn timed(
    threads: usize,
    verdicts: u64,
    designs: &[Project],
    judge: impl Fn(&Project) + Sync,
) -> Duration {
    let start = Instant::now();
    std::thread::scope(|scope| {
        for thread in 0..threads {
            let judge = &judge;
            scope.spawn(move || {
                let mine = designs.iter().cycle().skip(thread * 5);
                for (_, design) in (0..verdicts).zip(mine) {
                    judge(design);
                }
            });
        }
    });
    start.elapsed()
}

fn verdicts(criterion: &mut Criterion) {
    let options =
        Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };
    for (name, text) in DESIGNS {
        let project = described(from_json("Project", text).unwrap()).unwrap();
        let prepared = Prepared::of(&project).unwrap();
        let designs = variants(&project);
        let everything = Scope::everything();
        let one = Scope::mounts([0]);
        let quick = |scope: &Scope, design: &Project| {
            black_box(prepared.verdict(design, scope, Until::TheEnd, &RunToEnd).unwrap());
        };
        let mut group = criterion.benchmark_group(name);
        group.sample_size(20).measurement_time(Duration::from_secs(3));
        for threads in [1, 2] {
            group.throughput(Throughput::Elements(threads));
            let threads = usize::try_from(threads).unwrap();
            let mut run = |what: &str, judge: &(dyn Fn(&Project) + Sync)| {
                let id = BenchmarkId::new(what, format!("{threads} threads"));
                group.bench_function(id, |b| {
                    b.iter_custom(|verdicts| timed(threads, verdicts, &designs, judge));
                });
            };
            run("check", &|design| {
                black_box(check(design, options, &RunToEnd).unwrap());
            });
            run("verdict", &|design| quick(&everything, design));
            run("verdict of a mount", &|design| quick(&one, design));
        }
        group.finish();
    }
}

criterion_group!(benches, verdicts);
criterion_main!(benches);
