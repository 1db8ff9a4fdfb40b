//! Checks a second and core, without and with derivation, by kind of part.
//!
//! `cargo bench -p fishplate-strength`

#![allow(missing_docs, clippy::unwrap_used)]

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use fishplate_quantity::{Provenance, Trace};
use fishplate_strength::clause::input::{Field, Given, Input};
use fishplate_strength::clause::{Applicability, Clause};
use fishplate_strength::packs::{Clauses, Pack, Rules, pack};

/// A part written down: numbers in SI and words, by symbol.
struct Sheet(&'static [(&'static str, f64)], &'static [(&'static str, &'static str)]);

impl Given for Sheet {
    fn number(&mut self, field: &Field) -> Option<(f64, Provenance)> {
        let (_, value) = self.0.iter().find(|(symbol, _)| *symbol == field.symbol)?;
        Some((*value, Provenance::Given("bench".to_owned())))
    }

    fn word(&mut self, symbol: &'static str) -> Option<String> {
        let (_, word) = self.1.iter().find(|(known, _)| *known == symbol)?;
        Some((*word).to_owned())
    }

    fn records(&mut self, _: &'static str, _: &[Field]) -> Vec<Vec<Option<f64>>> {
        Vec::new()
    }
}

/// An M12-10.9 in 6 mm S355, sheared and pulled.
const BOLT: Sheet = Sheet(
    &[
        ("d", 0.012),
        ("d_0", 0.013),
        ("a_s", 84.27e-6),
        ("d_m", 0.0186),
        ("f_ub", 1e9),
        ("alpha_v", 0.5),
        ("t", 0.006),
        ("f_u", 510e6),
        ("n_planes", 1.0),
        ("f_1_ed", 9e3),
        ("f_2_ed", 2e3),
        ("f_t_ed", 12e3),
        ("f_1_ser", 6e3),
        ("f_2_ser", 1e3),
        ("f_t_ser", 8e3),
        ("e_1", 0.024),
        ("e_2", 0.02),
        ("mu", 0.3),
        ("n_friction", 1.0),
        ("f_m", 42e3),
        ("alpha_a", 1.6),
    ],
    &[
        ("class", "listed"),
        ("plane", "threads"),
        ("hole", "normal"),
        ("lap", "other"),
        ("tightening", "torque"),
    ],
);
/// A point of a fillet of leg 4.
const WELD: Sheet = Sheet(
    &[
        ("q_1", 120e3),
        ("q_2", -80e3),
        ("q_l", 90e3),
        ("z", 0.004),
        ("f_u_1", 360e6),
        ("f_u_2", 410e6),
        ("beta_w_1", 0.8),
        ("beta_w_2", 0.85),
        ("t_sheet", 0.003),
        ("f_y_sheet", 235e6),
        ("f_exx", 490e6),
    ],
    &[("beside", "both-sides")],
);
/// A square tube 60 x 4 of S355 in compression and bending.
const MEMBER: Sheet = Sheet(
    &[
        ("n_ed", -80e3),
        ("m_y_ed", 3e3),
        ("v_z_ed", 5e3),
        ("h", 0.06),
        ("b", 0.06),
        ("t", 0.004),
        ("a", 854.8e-6),
        ("a_v_y", 427.4e-6),
        ("a_v_z", 427.4e-6),
        ("i_y", 43.551e-8),
        ("i_z", 43.551e-8),
        ("i_t", 72.644e-8),
        ("w_el_y", 14.517e-6),
        ("w_el_z", 14.517e-6),
        ("f_y", 355e6),
        ("w_pl_y", 17.643e-6),
        ("w_pl_z", 17.643e-6),
        ("c_t", 21.973e-6),
        ("l_cr_y", 1.5),
        ("l_cr_z", 1.5),
        ("psi_y", 1.0),
        ("psi_z", 1.0),
    ],
    &[
        ("shape", "rectangular-tube"),
        ("curve", "c"),
        ("ends", "held"),
        ("diagram_y", "end-moments"),
        ("diagram_z", "end-moments"),
    ],
);
/// A gusset of 4 mm.
const GUSSET: Sheet = Sheet(
    &[("f_ed", 12e3), ("b", 0.12), ("a", 0.15), ("s", 0.072), ("t", 0.004), ("f_y", 235e6)],
    &[("force", "presses")],
);
/// Two M12-8.8 in a plate of 8 mm.
const T_STUB: Sheet = Sheet(
    &[
        ("f_t_ed", 40e3),
        ("f_t_rd_sum", 97.08e3),
        ("m", 0.03),
        ("e", 0.025),
        ("e_min", 0.025),
        ("t", 0.008),
        ("f_y", 235e6),
        ("n_bolts", 2.0),
        ("d", 0.012),
        ("d_0", 0.013),
        ("p", 0.06),
        ("b", 0.03),
        ("f_u", 360e6),
    ],
    &[("prying", "bears")],
);

/// Every clause of some lists that speaks about the part.
fn bench<I: Input>(
    c: &mut Criterion,
    name: &str,
    pack: &Pack,
    mut sheet: Sheet,
    lists: &[Clauses<I>],
) {
    let input = I::read(&mut sheet).unwrap();
    let factors = pack.factors(&Rules::RECOMMENDED).unwrap();
    let asked: Vec<&dyn Clause<I>> = lists
        .iter()
        .flat_map(|list| list.iter().copied())
        .filter(|clause| clause.applies(&input) == Applicability::Applies)
        .filter(|clause| clause.evaluate(&input, &factors, &mut Trace::off()).is_ok())
        .collect();
    let mut group = c.benchmark_group(format!("{}, {name}, {} clauses", pack.id, asked.len()));
    group.throughput(Throughput::Elements(asked.len() as u64));
    for (what, on) in [("verdict", false), ("verdict and derivation", true)] {
        group.bench_function(what, |b| {
            b.iter(|| {
                for clause in &asked {
                    let mut trace = if on { Trace::on() } else { Trace::off() };
                    let checked = clause.evaluate(black_box(&input), &factors, &mut trace);
                    black_box((checked.unwrap(), trace));
                }
            });
        });
    }
}

fn checks(c: &mut Criterion) {
    for id in ["EN 1993", "AISC 360"] {
        let pack = pack(id).unwrap();
        bench(c, "bolt", pack, BOLT, &[pack.bolts, pack.bolt_detailing]);
        bench(c, "weld point", pack, WELD, &[pack.welds]);
        bench(c, "member", pack, MEMBER, &[pack.members]);
        bench(c, "gusset", pack, GUSSET, &[pack.gussets]);
        bench(c, "T-stub", pack, T_STUB, &[pack.t_stubs]);
    }
}

criterion_group!(benches, checks);
criterion_main!(benches);
