//! Screws that form their thread in sheet.
//!
//! Sheet 1 of the standard lies under the head, sheet 2 takes the thread: it is `t_sup` with
//! `f_u_sup`. Of sheet 1 nothing more is known than that it is no thinner than `t` and no weaker than
//! `f_u`, which are taken for it.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetFastener, SheetFastenerInput};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{SCREW_PULL_OUT, SCREW_PULL_OVER, SCREWS};
use crate::packs::american::{IN, KSI, aisi, since};

/// The rules for screws, inside their range of diameters.
pub(super) fn is_screw(input: &SheetFastenerInput) -> Applicability {
    if input.fastener != SheetFastener::Screw {
        return Applicability::DoesNotApply("AISI S100 has no rule for blind rivets".to_owned());
    }
    let known = input.d >= 0.08 * IN - 1e-9 && input.d <= 0.25 * IN + 1e-9;
    Applicability::within(known, || "AISI S100 J4 speaks of screws of 0.08 to 0.25 in".to_owned())
}

/// The thickness and strength of the sheet that takes the thread.
fn threaded_sheet(input: &SheetFastenerInput, trace: &mut Trace) -> Result<(f64, f64), NotChecked> {
    let t_sup = input.t_sup(trace)?;
    let f_u_sup = input.f_u_sup(trace)?;
    if t_sup < input.t * (1.0 - 1e-9) {
        return Err(NotChecked::OutOfRange {
            symbol: "t_sup",
            what: "thickness of the sheet the screw bites in",
            value: t_sup,
            dimension: Dimension::Length,
            allowed: "at least that of the thinner sheet",
        });
    }
    Ok((t_sup, f_u_sup))
}

/// Records and returns the bearing strength of the sheet under the head.
fn bearing_1(input: &SheetFastenerInput, d: f64, trace: &mut Trace) -> f64 {
    let t = input.t(trace);
    let f_u = input.f_u(trace);
    step!(trace, Force, SHEAR, "bearing of the sheet under the head";
        p_1(t, d, f_u) = 2.7 * t * d * f_u);
    p_1
}

/// Records and returns the strength at which the screw leans over and tears out of sheet 2.
fn tilting(t_sup: f64, f_u_sup: f64, d: f64, trace: &mut Trace) -> f64 {
    step!(trace, Force, SHEAR, "leaning of the screw";
        p_lean(t_sup, d, f_u_sup) = 4.2 * sqrt(cube(t_sup) * d) * f_u_sup);
    p_lean
}

/// Records and returns the strength against the head pulling through; a washer counts up to 3/4 in,
/// in the editions before 2016 up to 1/2 in.
fn pull_over(
    input: &SheetFastenerInput,
    t: f64,
    f_u: f64,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let d_w = input.d_w(trace)?;
    let d_w_eff = if since(2016, factors, trace) {
        step!(trace, Length, OVER, "diameter of head or washer that counts";
            d_w_eff(d_w) = smaller(d_w, 0.75 * IN));
        d_w_eff
    } else {
        step!(trace, Length, OVER, "diameter of head or washer that counts";
            d_w_eff(d_w) = smaller(d_w, 0.5 * IN));
        d_w_eff
    };
    step!(trace, Force, OVER, "nominal strength against pull-over";
        p_nov(t, d_w_eff, f_u) = 1.5 * t * d_w_eff * f_u);
    Ok(p_nov)
}

/// Shear limited by leaning of the screw and bearing of the sheets.
pub(in crate::packs::american) struct ScrewSheet;

const SHEAR: Source = aisi("J4.3.1");

impl Clause<SheetFastenerInput> for ScrewSheet {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "leaning of a screw and bearing of its sheets"
    }

    fn short(&self) -> &'static str {
        "screw, sheet"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let d = input.d(trace);
        let p_1 = bearing_1(input, d, trace);
        let (t_sup, f_u_sup) = threaded_sheet(input, trace)?;
        let t = input.t;
        step!(trace, Force, SHEAR, "bearing of the sheet that takes the thread";
            p_2(t_sup, d, f_u_sup) = 2.7 * t_sup * d * f_u_sup);
        let p_lean = tilting(t_sup, f_u_sup, d, trace);
        step!(trace, Ratio, SHEAR, "thickness of the sheets, that with the thread over the other";
            r_t(t_sup, t) = t_sup / t);
        step!(trace, Force, SHEAR, "nominal strength, sheets from equal to 2.5 times as thick";
        p_ns(p_1, p_2, p_lean, r_t) =
        smaller(p_1, p_2)
            - positive(smaller(p_1, p_2) - p_lean)
                * smaller(1.0, positive(2.5 - r_t) / 1.5));
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, SHEAR, "available strength"; p_a(p_ns));
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// Shear of the screw itself.
pub(in crate::packs::american) struct ScrewSheared;

const SELF_SHEAR: Source = aisi("J4.3.2");

impl Clause<SheetFastenerInput> for ScrewSheared {
    fn reference(&self) -> Source {
        SELF_SHEAR
    }

    fn title(&self) -> &'static str {
        "screw itself in shear"
    }

    fn short(&self) -> &'static str {
        "screw, shear"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let f_v_rk = input.f_v_rk(trace)?;
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, SELF_SHEAR, "available strength"; p_a(f_v_rk));
        step!(trace, Ratio, SELF_SHEAR, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The screw tearing out of the sheet toward its end.
pub(in crate::packs::american) struct ScrewEnd;

const END: Source = aisi("J6.1, screws");

impl Clause<SheetFastenerInput> for ScrewEnd {
    fn reference(&self) -> Source {
        END
    }

    fn title(&self) -> &'static str {
        "screw tearing out of the end of sheet"
    }

    fn short(&self) -> &'static str {
        "screw, end"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if input.e_1.is_none() {
            return Applicability::DoesNotApply("there is no end near the screw".to_owned());
        }
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let e_1 = input.e_1(trace)?;
        let d = input.d(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        step!(trace, Length, END, "clear distance to the end"; e_net(e_1, d) = e_1 - 0.5 * d);
        if e_net <= 0.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "e_1",
                what: "end distance along the force",
                value: e_1,
                dimension: Dimension::Length,
                allowed: "more than half the screw",
            });
        }
        step!(trace, Force, END, "nominal strength of both faces in shear";
            p_n(f_u, t, e_net) = 0.6 * f_u * 2.0 * t * e_net);
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, END, "available strength"; p_a(p_n));
        step!(trace, Ratio, END, "utilisation"; utilisation(f_v_ed, p_a) = f_v_ed / p_a);
        Checked::new(f_v_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The screw pulled out of the sheet that takes its thread.
pub(in crate::packs::american) struct PullOut;

const OUT: Source = aisi("J4.4.1");

impl Clause<SheetFastenerInput> for PullOut {
    fn reference(&self) -> Source {
        OUT
    }

    fn title(&self) -> &'static str {
        "screw pulled out of its thread"
    }

    fn short(&self) -> &'static str {
        "screw, pull-out"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let d = input.d(trace);
        let (t_sup, f_u_sup) = threaded_sheet(input, trace)?;
        step!(trace, Force, OUT, "nominal strength"; p_not(t_sup, d, f_u_sup) = 0.85 * t_sup * d * f_u_sup);
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, OUT, "available strength"; p_a(p_not));
        step!(trace, Ratio, OUT, "utilisation"; utilisation(f_t_ed, p_a) = f_t_ed / p_a);
        Checked::new(f_t_ed, p_a, Dimension::Force, utilisation)
    }
}

/// The head pulled through the sheet under it.
pub(in crate::packs::american) struct PullOver;

const OVER: Source = aisi("J4.4.2");

impl Clause<SheetFastenerInput> for PullOver {
    fn reference(&self) -> Source {
        OVER
    }

    fn title(&self) -> &'static str {
        "screw head pulled through the sheet"
    }

    fn short(&self) -> &'static str {
        "screw, pull-over"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        let p_nov = pull_over(input, t, f_u, factors, trace)?;
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, OVER, "available strength"; p_a(p_nov));
        step!(trace, Ratio, OVER, "utilisation"; utilisation(f_t_ed, p_a) = f_t_ed / p_a);
        Checked::new(f_t_ed, p_a, Dimension::Force, utilisation)
    }
}

/// Tension of the screw itself.
pub(in crate::packs::american) struct ScrewPulled;

const SELF_PULL: Source = aisi("J4.4.3");

impl Clause<SheetFastenerInput> for ScrewPulled {
    fn reference(&self) -> Source {
        SELF_PULL
    }

    fn title(&self) -> &'static str {
        "screw itself in tension"
    }

    fn short(&self) -> &'static str {
        "screw, tension"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        is_screw(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_t_rk = input.f_t_rk(trace)?;
        available!(trace, factors, phi_screw or omega_screw of SCREWS;
            Force, SELF_PULL, "available strength"; p_a(f_t_rk));
        step!(trace, Ratio, SELF_PULL, "utilisation"; utilisation(f_t_ed, p_a) = f_t_ed / p_a);
        Checked::new(f_t_ed, p_a, Dimension::Force, utilisation)
    }
}

fn both(input: &SheetFastenerInput) -> bool {
    input.f_v_ed > 0.0 && input.f_t_ed > 0.0
}

/// Shear beside pull-over. The tests behind it had sheet of 0.0285 to 0.0445 in under the head on
/// sheet 2.5 times as thick.
pub(in crate::packs::american) struct ShearAndPullOver;

const SHEAR_OVER: Source = aisi("J4.5.1");

impl Clause<SheetFastenerInput> for ShearAndPullOver {
    fn reference(&self) -> Source {
        SHEAR_OVER
    }

    fn title(&self) -> &'static str {
        "screw in shear beside pull-over"
    }

    fn short(&self) -> &'static str {
        "shear, pull-over"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if !both(input) {
            return Applicability::DoesNotApply("shear and pull do not act together".to_owned());
        }
        let tested = input.t >= 0.0285 * IN
            && input.t <= 0.0445 * IN
            && input.f_u <= 70.0 * KSI
            && input.t_sup.is_some_and(|t_sup| t_sup >= 2.5 * input.t);
        match is_screw(input) {
            Applicability::Applies => Applicability::within(tested, || {
                "thickness or strength of the sheets is outside the tests behind AISI S100 J4.5.1"
                    .to_owned()
            }),
            other => other,
        }
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let f_t_ed = input.f_t_ed(trace);
        let d = input.d(trace);
        let p_1 = bearing_1(input, d, trace);
        let (t, f_u) = (input.t, input.f_u);
        let p_nov = pull_over(input, t, f_u, factors, trace)?;
        step!(trace, Ratio, SHEAR_OVER, "shear and pull over nominal strengths";
            k_ed(f_v_ed, p_1, f_t_ed, p_nov) = f_v_ed / p_1 + 0.71 * f_t_ed / p_nov);
        step!(trace, Ratio, SHEAR_OVER, "nominal limit"; k_n() = 1.10);
        available!(trace, factors, phi_over or omega_over of SCREW_PULL_OVER;
            Ratio, SHEAR_OVER, "available limit"; k_a(k_n));
        step!(trace, Ratio, SHEAR_OVER, "utilisation"; utilisation(k_ed, k_a) = k_ed / k_a);
        Checked::new(k_ed, k_a, Dimension::Ratio, utilisation)
    }
}

/// Shear beside pull-out. The tests behind it had sheet of 0.0297 to 0.0724 in for the thread, up
/// to twice as thick as that under the head.
pub(in crate::packs::american) struct ShearAndPullOut;

const SHEAR_OUT: Source = aisi("J4.5.2");

impl Clause<SheetFastenerInput> for ShearAndPullOut {
    fn reference(&self) -> Source {
        SHEAR_OUT
    }

    fn title(&self) -> &'static str {
        "screw in shear beside pull-out"
    }

    fn short(&self) -> &'static str {
        "shear, pull-out"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if !both(input) {
            return Applicability::DoesNotApply("shear and pull do not act together".to_owned());
        }
        let tested = input.t_sup.is_some_and(|t_sup| {
            (0.0297 * IN..=0.0724 * IN).contains(&t_sup) && t_sup <= 2.0 * input.t
        }) && input.f_u_sup.is_some_and(|f_u_sup| f_u_sup <= 121.0 * KSI);
        match is_screw(input) {
            Applicability::Applies => Applicability::within(tested, || {
                "thickness or strength of the sheets is outside the tests behind AISI S100 J4.5.2"
                    .to_owned()
            }),
            other => other,
        }
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let f_t_ed = input.f_t_ed(trace);
        let d = input.d(trace);
        let (t_sup, f_u_sup) = threaded_sheet(input, trace)?;
        let p_lean = tilting(t_sup, f_u_sup, d, trace);
        step!(trace, Force, OUT, "nominal strength against pull-out";
            p_not(t_sup, d, f_u_sup) = 0.85 * t_sup * d * f_u_sup);
        step!(trace, Ratio, SHEAR_OUT, "shear and pull over nominal strengths";
            k_ed(f_v_ed, p_lean, f_t_ed, p_not) = f_v_ed / p_lean + f_t_ed / p_not);
        step!(trace, Ratio, SHEAR_OUT, "nominal limit"; k_n() = 1.15);
        available!(trace, factors, phi_out or omega_out of SCREW_PULL_OUT;
            Ratio, SHEAR_OUT, "available limit"; k_a(k_n));
        step!(trace, Ratio, SHEAR_OUT, "utilisation"; utilisation(k_ed, k_a) = k_ed / k_a);
        Checked::new(k_ed, k_a, Dimension::Ratio, utilisation)
    }
}
