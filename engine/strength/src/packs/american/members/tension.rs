//! Members in tension.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::MemberInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::{TENSION_RUPTURE, TENSION_YIELD};

const D2A: Source = aisc("D2(a)");
const D2B: Source = aisc("D2(b)");

/// Yielding of the gross section.
pub(super) struct GrossYield;

impl Clause<MemberInput> for GrossYield {
    fn reference(&self) -> Source {
        D2A
    }

    fn title(&self) -> &'static str {
        "tension, yielding of the gross section"
    }

    fn short(&self) -> &'static str {
        "tension, gross section"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.n_ed >= 0.0, "the member is compressed")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = once!(trace, input.n_ed);
        let p_t = yielding(input, factors, trace);
        step!(trace, Ratio, D2A, "utilisation"; utilisation(n_ed, p_t) = n_ed / p_t);
        Checked::new(n_ed, p_t, Dimension::Force, utilisation)
    }
}

/// Records and returns the available strength of the gross section.
fn yielding(input: &MemberInput, factors: &Factors, trace: &mut Trace) -> f64 {
    let a = once!(trace, input.a);
    let f_y = once!(trace, input.f_y);
    step!(trace, Force, D2A, "yield force of the gross section"; p_y(f_y, a) = f_y * a);
    available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
        Force, D2A, "available strength, gross section"; p_t(p_y));
    p_t
}

/// Rupture of the net section, with the share that shear lag leaves.
pub(super) struct NetRupture;

impl Clause<MemberInput> for NetRupture {
    fn reference(&self) -> Source {
        D2B
    }

    fn title(&self) -> &'static str {
        "tension, rupture of the net section"
    }

    fn short(&self) -> &'static str {
        "tension, net section"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.n_ed < 0.0 {
            return Applicability::DoesNotApply("the member is compressed".to_owned());
        }
        Applicability::only_if(
            input.a_net.is_some(),
            "no net area is given: nothing weakens the section or its ends",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = once!(trace, input.n_ed);
        let p_u = rupture(input, factors, trace)?;
        step!(trace, Ratio, D2B, "utilisation"; utilisation(n_ed, p_u) = n_ed / p_u);
        Checked::new(n_ed, p_u, Dimension::Force, utilisation)
    }
}

/// Records and returns the available strength of the net section.
fn rupture(input: &MemberInput, factors: &Factors, trace: &mut Trace) -> Result<f64, NotChecked> {
    let a_net = once!(trace, input.a_net)?;
    let u_lag = once!(trace, input.u_lag)?;
    let f_u = once!(trace, input.f_u)?;
    if u_lag > 1.0 {
        return Err(NotChecked::OutOfRange {
            symbol: "u_lag",
            what: "share of the net area that shear lag leaves",
            value: u_lag,
            dimension: Dimension::Ratio,
            allowed: "above 0, at most 1",
        });
    }
    step!(trace, Force, D2B, "force that breaks the net section";
        p_r(f_u, a_net, u_lag) = f_u * a_net * u_lag);
    available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
        Force, D2B, "available strength, net section"; p_u(p_r));
    Ok(p_u)
}

/// Records and returns the least available strength in tension: for members that are bent as well.
pub(super) fn available_tension(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let p_t = yielding(input, factors, trace);
    if input.a_net.is_none() {
        step!(trace, Force, aisc("D2"), "available strength in tension"; p_c(p_t) = p_t);
        return Ok(p_c);
    }
    let p_u = rupture(input, factors, trace)?;
    step!(trace, Force, aisc("D2"), "available strength in tension, the smaller";
        p_c(p_t, p_u) = smaller(p_t, p_u));
    Ok(p_c)
}
