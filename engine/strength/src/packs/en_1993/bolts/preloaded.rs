//! A preloaded bolt under a load that opens its joint: how much of the preload there is, what of
//! it is lost, what the load adds to the bolt and takes off the clamping.
//!
//! The share of the load that the bolt feels is that of two springs, bolt and clamped parts. Slip
//! does not rest on it: [`super::slip`] takes the whole load off the clamping.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltUse, ClampedParts, PreloadFrom, PreloadedJointInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::preload;

const SHIGLEY: &str = "Shigley's Mechanical Engineering Design, 9th ed. SI";

/// Largest preload and the share of the load against the proof load.
pub(super) struct BoltToProof;

const PROOF: Source = Source::new(SHIGLEY, "8-9, bolt load against the proof load");

impl Clause<PreloadedJointInput> for BoltToProof {
    fn reference(&self) -> Source {
        PROOF
    }

    fn title(&self) -> &'static str {
        "preloaded bolt with its share of the load against its proof load"
    }

    fn short(&self) -> &'static str {
        "bolt to proof"
    }

    fn applies(&self, _: &PreloadedJointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PreloadedJointInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_a = input.f_a(trace);
        let sizes = Sizes::read(input, trace);
        let Tightened { f_max, .. } = Tightened::read(input, &sizes, trace)?;
        let Springs { c, .. } = Springs::read(input, &sizes, trace)?;
        let s_p = input.s_p(trace);
        let a_s = sizes.a_s;
        step!(trace, Force, PROOF, "force in the bolt; all of the load once the joint is open";
            f_b(f_max, c, f_a) = larger(f_max + c * f_a, f_a));
        step!(trace, Force, PROOF, "proof load"; f_proof(s_p, a_s) = s_p * a_s);
        step!(trace, Ratio, PROOF, "utilisation"; utilisation(f_b, f_proof) = f_b / f_proof);
        Checked::new(f_b, f_proof, Dimension::Force, utilisation)
    }
}

/// The load that lifts the faces off each other.
pub(super) struct Separation;

const SEPARATION: Source = Source::new(SHIGLEY, "8-9, load that separates the joint");

impl Clause<PreloadedJointInput> for Separation {
    fn reference(&self) -> Source {
        SEPARATION
    }

    fn title(&self) -> &'static str {
        "separation of a preloaded joint, by the stiffness of bolt and parts"
    }

    fn short(&self) -> &'static str {
        "separation"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &PreloadedJointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PreloadedJointInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_a = input.f_a(trace);
        let (f_left, c) = left_of_preload(input, trace)?;
        step!(trace, Force, SEPARATION, "load that separates the joint";
            f_sep(f_left, c) = f_left / (1.0 - c));
        step!(trace, Ratio, SEPARATION, "utilisation"; utilisation(f_a, f_sep) = f_a / f_sep);
        Checked::new(f_a, f_sep, Dimension::Force, utilisation)
    }
}

/// Clamping that is left under the load.
pub(super) struct ResidualClamp;

const RESIDUAL: Source = preload("R2 and R3: clamp load that is left");

impl Clause<PreloadedJointInput> for ResidualClamp {
    fn reference(&self) -> Source {
        RESIDUAL
    }

    fn title(&self) -> &'static str {
        "clamping that is left under the load"
    }

    fn short(&self) -> &'static str {
        "clamp left"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &PreloadedJointInput) -> Applicability {
        Applicability::only_if(input.f_k_req.is_some(), "the joint needs no clamping of its own")
    }

    fn formula(
        &self,
        input: &PreloadedJointInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_a = input.f_a(trace);
        let f_k_req = input.f_k_req(trace)?;
        let (f_left, c) = left_of_preload(input, trace)?;
        step!(trace, Force, RESIDUAL, "clamping under the load";
            f_k(f_left, c, f_a) = positive(f_left - (1.0 - c) * f_a));
        step!(trace, Ratio, RESIDUAL, "utilisation"; utilisation(f_k_req, f_k) = f_k_req / f_k);
        Checked::new(f_k_req, f_k, Dimension::Force, utilisation)
    }
}

/// The preload one aims at, as a part of the proof load.
pub(super) struct PreloadTarget;

const TARGET: Source = Source::new(SHIGLEY, "8-9, recommended preload (from memory)");

impl Clause<PreloadedJointInput> for PreloadTarget {
    fn reference(&self) -> Source {
        TARGET
    }

    fn title(&self) -> &'static str {
        "preload aimed at, against what is usual for its proof load"
    }

    fn short(&self) -> &'static str {
        "preload target"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &PreloadedJointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PreloadedJointInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sizes = Sizes::read(input, trace);
        let Tightened { f_mean, .. } = Tightened::read(input, &sizes, trace)?;
        let s_p = input.s_p(trace);
        let a_s = sizes.a_s;
        let value = match input.bolt_use {
            BoltUse::Reused => 0.75,
            BoltUse::Permanent => 0.90,
        };
        let what = "usual part of the proof load, more for a bolt that stays";
        let k_target = trace.input("k_target", what, Dimension::Ratio, value, || {
            Provenance::Table(format!("{SHIGLEY}, 8-9 (from memory)"))
        });
        step!(trace, Force, TARGET, "usual preload";
            f_usual(k_target, s_p, a_s) = k_target * s_p * a_s);
        step!(trace, Ratio, TARGET, "utilisation"; utilisation(f_mean, f_usual) = f_mean / f_usual);
        Checked::new(f_mean, f_usual, Dimension::Force, utilisation)
    }
}

/// Sizes that several steps share.
struct Sizes {
    d: f64,
    a_s: f64,
}

impl Sizes {
    fn read(input: &PreloadedJointInput, trace: &mut Trace) -> Self {
        Self { d: input.d(trace), a_s: input.a_s(trace) }
    }
}

/// Preload right after tightening.
struct Tightened {
    f_mean: f64,
    f_max: f64,
    f_min: f64,
}

impl Tightened {
    fn read(
        input: &PreloadedJointInput,
        sizes: &Sizes,
        trace: &mut Trace,
    ) -> Result<Self, NotChecked> {
        const SCATTER: Source = preload("R1: tightening factor");
        let alpha_a = input.alpha_a(trace);
        if alpha_a < 1.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "alpha_a",
                what: "tightening factor, largest over least preload",
                value: alpha_a,
                dimension: Dimension::Ratio,
                allowed: "1 or more",
            });
        }
        if input.known_by == PreloadFrom::Stated {
            let f_m = input.f_m(trace)?;
            step!(trace, Force, SCATTER, "largest preload"; f_max(f_m) = f_m);
            step!(trace, Force, SCATTER, "mean preload";
                f_mean(f_max, alpha_a) = f_max * (alpha_a + 1.0) / (2.0 * alpha_a));
            step!(trace, Force, SCATTER, "least preload"; f_min(f_max, alpha_a) = f_max / alpha_a);
            return Ok(Self { f_mean, f_max, f_min });
        }
        let f_mean = mean_from_torque(input, sizes.d, trace)?;
        step!(trace, Force, SCATTER, "largest preload, the mean and its scatter";
            f_max(f_mean, alpha_a) = f_mean * 2.0 * alpha_a / (alpha_a + 1.0));
        step!(trace, Force, SCATTER, "least preload";
            f_min(f_mean, alpha_a) = f_mean * 2.0 / (alpha_a + 1.0));
        Ok(Self { f_mean, f_max, f_min })
    }
}

fn mean_from_torque(
    input: &PreloadedJointInput,
    d: f64,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let torque = input.torque(trace)?;
    if input.known_by == PreloadFrom::NutFactor {
        let k_nut = input.k_nut(trace)?;
        step!(trace, Force, Source::new(SHIGLEY, "8-8, equation 8-27"), "mean preload";
            f_mean(torque, k_nut, d) = torque / (k_nut * d));
        return Ok(f_mean);
    }
    const FRICTION: Source = preload("R13: tightening torque (from memory)");
    let pitch = input.pitch(trace)?;
    let d_2 = input.d_2(trace)?;
    let mu_thread = input.mu_thread(trace)?;
    let mu_head = input.mu_head(trace)?;
    let d_km = input.d_km(trace)?;
    step!(trace, Length, FRICTION, "torque per preload: pitch, friction of the thread, of the head";
        arm(pitch, d_2, mu_thread, d_km, mu_head) =
        pitch / (2.0 * PI) + d_2 * mu_thread / sqrt(3.0) + d_km / 2.0 * mu_head);
    step!(trace, Ratio, FRICTION, "nut factor that is the same"; k_same(arm, d) = arm / d);
    trace.note(|| format!("the frictions make a nut factor of {k_same:.3}"));
    step!(trace, Force, FRICTION, "mean preload"; f_mean(torque, arm) = torque / arm);
    Ok(f_mean)
}

/// Bolt and clamped parts as springs.
struct Springs {
    k_b: f64,
    k_m: f64,
    c: f64,
}

impl Springs {
    fn read(
        input: &PreloadedJointInput,
        sizes: &Sizes,
        trace: &mut Trace,
    ) -> Result<Self, NotChecked> {
        const SHARE: Source = Source::new(SHIGLEY, "8-7, stiffness constant of the joint");
        let l_k =
            if input.k_b.is_some() && input.k_m.is_some() { None } else { Some(input.l_k(trace)) };
        let k_b = bolt_stiffness(input, sizes, l_k, trace)?;
        let k_m = clamp_stiffness(input, l_k, trace)?;
        step!(trace, Ratio, SHARE, "share of the load that the bolt feels";
            c(k_b, k_m) = k_b / (k_b + k_m));
        if c < 1.0 {
            return Ok(Self { k_b, k_m, c });
        }
        Err(NotChecked::NoRule {
            reason: "the clamped parts have no stiffness beside that of the bolt".to_owned(),
        })
    }
}

fn bolt_stiffness(
    input: &PreloadedJointInput,
    sizes: &Sizes,
    l_k: Option<f64>,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    const BOLT: Source = Source::new(SHIGLEY, "8-4, stiffness of the fastener");
    let Some(l_k) = l_k.filter(|_| input.k_b.is_none()) else {
        return input.k_b(trace);
    };
    let &Sizes { d, a_s } = sizes;
    let e_bolt = input.e_bolt(trace);
    if input.l_shank.is_none() {
        step!(trace, Stiffness, BOLT, "stiffness of the bolt, threaded all along";
            k_b(e_bolt, a_s, l_k) = e_bolt * a_s / l_k);
        return Ok(k_b);
    }
    let l_shank = input.l_shank(trace)?;
    if l_shank > l_k {
        return Err(NotChecked::OutOfRange {
            symbol: "l_shank",
            what: "plain shank within the clamped length",
            value: l_shank,
            dimension: Dimension::Length,
            allowed: "at most the clamped length",
        });
    }
    step!(trace, Area, Source::mechanics("circle"), "area of the shank";
        a_shank(d) = PI / 4.0 * sq(d));
    step!(trace, Stiffness, BOLT, "stiffness of the bolt, shank and thread in line";
        k_b(e_bolt, l_shank, a_shank, l_k, a_s) =
        e_bolt / (l_shank / a_shank + (l_k - l_shank) / a_s));
    Ok(k_b)
}

fn clamp_stiffness(
    input: &PreloadedJointInput,
    l_k: Option<f64>,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    const CONE: Source = Source::new(SHIGLEY, "8-5, frusta of 30 degrees");
    const SLEEVE: Source = Source::mechanics("a sleeve as a spring");
    let Some(l_k) = l_k.filter(|_| input.k_m.is_none()) else {
        return input.k_m(trace);
    };
    let e_parts = input.e_parts(trace);
    if input.clamped == ClampedParts::Sleeve {
        let a_sleeve = input.a_sleeve(trace)?;
        step!(trace, Stiffness, SLEEVE, "stiffness of the sleeve";
            k_m(e_parts, a_sleeve, l_k) = e_parts * a_sleeve / l_k);
        return Ok(k_m);
    }
    let d_w = input.d_w(trace);
    let d_h = input.d_h(trace);
    if d_h >= d_w {
        return Err(NotChecked::OutOfRange {
            symbol: "d_h",
            what: "diameter of the hole",
            value: d_h,
            dimension: Dimension::Length,
            allowed: "less than the face under the head",
        });
    }
    // tan 30° = 1 / √3; the two frusta meet at mid-depth, each half of the clamped length.
    step!(trace, Length, CONE, "widening of the cone down to mid-depth"; w(l_k) = l_k / sqrt(3.0));
    step!(trace, Stiffness, CONE, "stiffness of the clamped plates, two frusta in line";
        k_m(e_parts, d_h, w, d_w) =
        PI * e_parts * d_h / (2.0 * sqrt(3.0)
            * ln((w + d_w - d_h) * (d_w + d_h) / ((w + d_w + d_h) * (d_w - d_h)))));
    Ok(k_m)
}

/// Records and returns the least preload after all losses, and the share of the bolt in the load.
fn left_of_preload(
    input: &PreloadedJointInput,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    const EMBEDDING: Source = preload("R4: loss of preload by embedding");
    const CREEP: Source = Source::practice("creep of paint under a clamped face");
    let sizes = Sizes::read(input, trace);
    let Tightened { f_min, .. } = Tightened::read(input, &sizes, trace)?;
    let Springs { k_b, k_m, c } = Springs::read(input, &sizes, trace)?;
    let f_embed = input.f_embed(trace);
    step!(trace, Force, EMBEDDING, "preload lost by embedding";
        f_z(f_embed, k_b, k_m) = f_embed * k_b * k_m / (k_b + k_m));
    let creep = input.creep(trace);
    step!(trace, Force, CREEP, "least preload after creep and embedding";
        f_left(f_min, creep, f_z) = positive(f_min * positive(1.0 - creep) - f_z));
    trace.note(|| {
        "usual losses: 5 to 9 um of embedding for two faces and 1.5 to 3 um for each more \
         (VDI 2230, from memory); paint loses 10 to 40 % (common practice, no source)"
            .to_owned()
    });
    Ok((f_left, c))
}
