//! What embedding and creep of paint leave of the least preload.

use std::f64::consts::PI;

use fishplate_quantity::Trace;
use fishplate_quantity::algebra::sq;
use fishplate_strength::clause::input::{BoltUse, ClampedParts, PreloadFrom, PreloadedJointInput};
use fishplate_strength::clause::{NotChecked, Origins};

use super::Setting;
use super::bush_bolt::Kit;
use crate::describe::FacePreparation;
use crate::design::{BoltAt, Form};

/// Embedding of a joint of two parts and of each part more, m: the upper ends of 5 to 9 and 1.5 to
/// 3 µm (VDI 2230, from memory).
const EMBEDDING: (f64, f64) = (9e-6, 3e-6);

/// Share of the preload that paint loses: the upper end of 10 to 40 % (common practice, no source).
const PAINT: f64 = 0.4;

/// Modulus of elasticity of steel, Pa (EN 1993-1-1:2005, 3.2.6).
const STEEL: f64 = 210e9;

/// What is said beside a slip or an opening that does not count the losses.
pub(super) const NOT_COUNTED: &str = "embedding and creep of paint are not taken off the least preload: tighten again after some days";

/// Least preload of bolts through parts that lie on each other, or on a sleeve, after all losses, N.
pub(super) fn least(setting: &Setting<'_>, bolts: &BoltAt, kit: &Kit) -> Result<f64, NotChecked> {
    let no_rule = |reason: &str| NotChecked::NoRule { reason: reason.to_owned() };
    let sleeve = bolts.through.iter().find_map(|p| match &setting.design.body(p.body).form {
        Form::Sleeve { outside, bore, .. } => Some(PI / 4.0 * (sq(*outside) - sq(*bore))),
        _ => None,
    });
    let (low, high) = bolts.grip();
    let solid: f64 = bolts.through.iter().map(|p| p.high - p.low).sum();
    if sleeve.is_none() && (high - low - solid).abs() > 1e-6 {
        return Err(no_rule("the bolt clamps a hollow: how stiff it is, no rule tells"));
    }
    let painted = bolts.faces == FacePreparation::Painted;
    let more = bolts.through.iter().skip(2).map(|_| EMBEDDING.1).sum::<f64>();
    let input = PreloadedJointInput {
        f_a: 0.0,
        d: kit.thread.d,
        a_s: kit.thread.a_s,
        s_p: kit.proof,
        e_bolt: STEEL,
        l_k: high - low,
        d_w: kit.d_w,
        d_h: bolts.hole,
        e_parts: STEEL,
        alpha_a: setting.project.bolts[bolts.index].tightening.scatter.value,
        f_embed: EMBEDDING.0 + more,
        creep: if painted { PAINT } else { 0.0 },
        f_m: Some(kit.f_m),
        torque: None,
        k_nut: None,
        pitch: None,
        d_2: None,
        mu_thread: None,
        mu_head: None,
        d_km: None,
        l_shank: None,
        a_sleeve: sleeve,
        k_b: None,
        k_m: None,
        f_k_req: None,
        known_by: PreloadFrom::Stated,
        clamped: if sleeve.is_some() { ClampedParts::Sleeve } else { ClampedParts::Plates },
        bolt_use: BoltUse::Permanent,
        origins: Origins::default(),
    };
    for clause in setting.pack.preloaded_joints {
        let mut trace = Trace::on();
        let asked = clause.evaluate(&input, setting.factors, &mut trace);
        if let Some(left) = trace.entries().iter().find(|e| e.symbol == "f_left") {
            return if left.value > 0.0 {
                Ok(left.value)
            } else {
                Err(no_rule("embedding and creep leave nothing of the least preload"))
            };
        }
        asked?;
    }
    Err(no_rule("these rules have no clause for the loss of preload"))
}
