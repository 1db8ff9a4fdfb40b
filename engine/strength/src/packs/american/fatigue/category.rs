//! Design stress range of a category.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{StressBlock, StressCategory, StressCategoryInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::{IN, KSI, aisc};

/// Effective range of the spectrum against the range allowed for all of its cycles, or its largest
/// range against the threshold below which no crack grows, whichever is kinder: the standard allows
/// the larger of both ranges.
pub(super) struct Range;

const RANGE: Source = aisc("Appendix 3, A3.3, Table A-3.1");
const SPECTRUM: Source = aisc("Commentary to Appendix 3, effective stress range");

/// Constant and threshold in ksi; no threshold for roots (Table, from memory).
fn constants(category: StressCategory) -> (f64, Option<f64>) {
    match category {
        StressCategory::A => (25.0, Some(24.0)),
        StressCategory::B => (12.0, Some(16.0)),
        StressCategory::BPrime => (6.1, Some(12.0)),
        StressCategory::C | StressCategory::CToe => (4.4, Some(10.0)),
        StressCategory::CPartial | StressCategory::CFillet => (4.4, None),
        StressCategory::D => (2.2, Some(7.0)),
        StressCategory::E => (1.1, Some(4.5)),
        StressCategory::EPrime => (0.39, Some(2.6)),
        StressCategory::F => (1.5, Some(8.0)),
        StressCategory::G => (3.9, Some(7.0)),
    }
}

fn range_of(input: &StressCategoryInput, block: &StressBlock) -> f64 {
    if input.category == StressCategory::F { block.delta_tau } else { block.delta_sigma }
}

/// Effective range, cycles, and the range allowed for that many.
struct Finite {
    f_re: f64,
    f_sr: f64,
}

impl Clause<StressCategoryInput> for Range {
    fn reference(&self) -> Source {
        RANGE
    }

    fn title(&self) -> &'static str {
        "stress range by stress category"
    }

    fn short(&self) -> &'static str {
        "stress range"
    }

    fn applies(&self, input: &StressCategoryInput) -> Applicability {
        let counts = |block: &StressBlock| range_of(input, block) > 0.0 && block.n_e > 0.0;
        Applicability::only_if(input.blocks.iter().any(counts), "no stress repeats")
    }

    fn formula(
        &self,
        input: &StressCategoryInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let table = || Provenance::Table("AISC 360, Table A-3.1".to_owned());
        let (c_f, f_th) = constants(input.category);
        let c_f = trace.input("c_f", "constant of the category", Dimension::Ratio, c_f, table);
        let Finite { f_re, f_sr } = if input.category == StressCategory::F {
            shear(input, c_f, trace)
        } else {
            normal(input, c_f, trace)?
        };
        step!(trace, Ratio, RANGE, "effective range over the range allowed";
            r_n(f_re, f_sr) = f_re / f_sr);
        let Some(f_th) = f_th else {
            life(input, r_n, trace)?;
            step!(trace, Ratio, RANGE, "utilisation, a root has no threshold";
                utilisation(f_re, f_sr) = f_re / f_sr);
            return Checked::new(f_re, f_sr, Dimension::Stress, utilisation);
        };
        let f_th = trace.input("f_th", "threshold", Dimension::Stress, f_th * KSI, table);
        let ranges = input.blocks.iter().map(|block| range_of(input, block));
        let largest = ranges.fold(0.0, larger);
        let what = "largest range of the spectrum";
        let f_max =
            trace.input("f_max", what, Dimension::Stress, largest, || input.origins.of("blocks"));
        step!(trace, Ratio, RANGE, "largest range over the threshold";
            r_th(f_max, f_th) = f_max / f_th);
        if r_th <= 1.0 {
            trace.note(|| "no range is above the threshold: no crack grows".to_owned());
        } else {
            life(input, r_n, trace)?;
        }
        step!(trace, Ratio, RANGE, "utilisation, the kinder of both";
            utilisation(r_n, r_th) = smaller(r_n, r_th));
        if r_th < r_n {
            trace.note(|| "the threshold governs".to_owned());
            Checked::new(f_max, f_th, Dimension::Stress, utilisation)
        } else {
            Checked::new(f_re, f_sr, Dimension::Stress, utilisation)
        }
    }
}

/// Normal stress, a third of the exponent.
fn normal(input: &StressCategoryInput, c_f: f64, trace: &mut Trace) -> Result<Finite, NotChecked> {
    step!(trace, Ratio, SPECTRUM, "cycles, so far"; n_sr() = 0.0);
    step!(trace, Ratio, SPECTRUM, "cycles with the weight of their range, so far"; n_w() = 0.0);
    let mut sums = (n_sr, n_w);
    for block in &input.blocks {
        let (n_sr, n_w) = sums;
        let delta_sigma = block.delta_sigma(&input.origins, trace);
        let n_e = block.n_e(&input.origins, trace);
        step!(trace, Ratio, SPECTRUM, "cycles, so far"; n_sr(n_sr, n_e) = n_sr + n_e);
        step!(trace, Ratio, SPECTRUM, "cycles with the weight of their range, so far";
            n_w(n_w, n_e, delta_sigma) = n_w + n_e * power(delta_sigma / KSI, 1.0 / 0.333));
        sums = (n_sr, n_w);
    }
    let (n_sr, n_w) = sums;
    step!(trace, Stress, SPECTRUM, "effective range";
        f_re(n_w, n_sr) = KSI * power(n_w / n_sr, 0.333));
    let r_w = root_factor(input, trace)?;
    step!(trace, Stress, RANGE, "range allowed for these cycles";
        f_sr(r_w, c_f, n_sr) = r_w * 1000.0 * KSI * power(c_f / n_sr, 0.333));
    Ok(Finite { f_re, f_sr })
}

/// Records and returns by how much a root is weaker than its toe, 1 where no root is meant.
fn root_factor(input: &StressCategoryInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    match input.category {
        StressCategory::CPartial => {
            let t_p = input.t_p(trace)?;
            let w_leg = input.w_leg(trace)?;
            let a_2 = input.a_2(trace)?;
            step!(trace, Ratio, RANGE, "reduction for partial groove welds, R_PJP";
                r_w(t_p, a_2, w_leg) = smaller(1.0, positive(
                    0.65 - 0.59 * a_2 / t_p + 0.72 * w_leg / t_p) / power(t_p / IN, 0.167)));
            Ok(r_w)
        }
        StressCategory::CFillet => {
            let t_p = input.t_p(trace)?;
            let w_leg = input.w_leg(trace)?;
            step!(trace, Ratio, RANGE, "reduction for fillets, R_FIL";
                r_w(t_p, w_leg) =
                smaller(1.0, (0.06 + 0.72 * w_leg / t_p) / power(t_p / IN, 0.167)));
            Ok(r_w)
        }
        _ => {
            step!(trace, Ratio, RANGE, "no reduction, no root is meant"; r_w() = 1.0);
            Ok(r_w)
        }
    }
}

/// Shear on weld metal, a sixth of the exponent.
fn shear(input: &StressCategoryInput, c_f: f64, trace: &mut Trace) -> Finite {
    step!(trace, Ratio, SPECTRUM, "cycles, so far"; n_sr() = 0.0);
    step!(trace, Ratio, SPECTRUM, "cycles with the weight of their range, so far"; n_w() = 0.0);
    let mut sums = (n_sr, n_w);
    for block in &input.blocks {
        let (n_sr, n_w) = sums;
        let delta_tau = block.delta_tau(&input.origins, trace);
        let n_e = block.n_e(&input.origins, trace);
        step!(trace, Ratio, SPECTRUM, "cycles, so far"; n_sr(n_sr, n_e) = n_sr + n_e);
        step!(trace, Ratio, SPECTRUM, "cycles with the weight of their range, so far";
            n_w(n_w, n_e, delta_tau) = n_w + n_e * power(delta_tau / KSI, 1.0 / 0.167));
        sums = (n_sr, n_w);
    }
    let (n_sr, n_w) = sums;
    step!(trace, Stress, SPECTRUM, "effective range";
        f_re(n_w, n_sr) = KSI * power(n_w / n_sr, 0.167));
    step!(trace, Stress, RANGE, "range allowed for these cycles";
        f_sr(c_f, n_sr) = 100.0 * KSI * power(c_f / n_sr, 0.167));
    Finite { f_re, f_sr }
}

/// Records how far the part lasts; nothing where no way is given.
fn life(input: &StressCategoryInput, r_n: f64, trace: &mut Trace) -> Result<(), NotChecked> {
    if input.distance.is_none() {
        return Ok(());
    }
    let distance = input.distance(trace)?;
    if input.category == StressCategory::F {
        step!(trace, Distance, SPECTRUM, "way to failure in this duty";
            life(distance, r_n) = distance / power(r_n, 1.0 / 0.167));
    } else {
        step!(trace, Distance, SPECTRUM, "way to failure in this duty";
            life(distance, r_n) = distance / power(r_n, 1.0 / 0.333));
    }
    Ok(())
}
