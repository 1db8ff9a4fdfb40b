//! Plies of aluminium under steel bolts.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::AluminiumPlyInput;
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::light;

/// Bearing of the bolt on its hole.
pub(super) struct Bearing;

const BEARING: Source = light("Table 8.5, bearing");

impl Clause<AluminiumPlyInput> for Bearing {
    fn reference(&self) -> Source {
        BEARING
    }

    fn title(&self) -> &'static str {
        "bearing on an aluminium ply"
    }

    fn short(&self) -> &'static str {
        "bearing, aluminium"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &AluminiumPlyInput) -> Applicability {
        Applicability::only_if(input.f_v_ed > 0.0, "no force bears on the hole")
    }

    fn formula(
        &self,
        input: &AluminiumPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let d = input.d(trace);
        let d_0 = input.d_0(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        let f_ub = input.f_ub(trace);
        step!(trace, Ratio, BEARING, "alpha_b without edge or neighbour";
            alpha_b(f_ub, f_u) = smaller(1.0, f_ub / f_u));
        let alpha_b = if input.e_1.is_some() {
            let e_1 = input.e_1(trace)?;
            at_least(1.2 * d_0, e_1, "e_1", "end distance", "at least 1.2 holes")?;
            step!(trace, Ratio, BEARING, "alpha_b with the end";
                alpha_b(alpha_b, e_1, d_0) = smaller(alpha_b, e_1 / (3.0 * d_0)));
            alpha_b
        } else {
            alpha_b
        };
        let alpha_b = if input.p_1.is_some() {
            let p_1 = input.p_1(trace)?;
            at_least(2.2 * d_0, p_1, "p_1", "spacing along the force", "at least 2.2 holes")?;
            step!(trace, Ratio, BEARING, "alpha_b with the neighbour";
                alpha_b(alpha_b, p_1, d_0) = smaller(alpha_b, p_1 / (3.0 * d_0) - 0.25));
            alpha_b
        } else {
            alpha_b
        };
        step!(trace, Ratio, BEARING, "k_1 without edge or neighbour"; k_1() = 2.5);
        let k_1 = if input.e_2.is_some() {
            let e_2 = input.e_2(trace)?;
            at_least(1.2 * d_0, e_2, "e_2", "edge distance", "at least 1.2 holes")?;
            step!(trace, Ratio, BEARING, "k_1 with the edge";
                k_1(k_1, e_2, d_0) = smaller(k_1, 2.8 * e_2 / d_0 - 1.7));
            k_1
        } else {
            k_1
        };
        let k_1 = if input.p_2.is_some() {
            let p_2 = input.p_2(trace)?;
            at_least(2.4 * d_0, p_2, "p_2", "spacing across the force", "at least 2.4 holes")?;
            step!(trace, Ratio, BEARING, "k_1 with the neighbour";
                k_1(k_1, p_2, d_0) = smaller(k_1, 1.4 * p_2 / d_0 - 1.7));
            k_1
        } else {
            k_1
        };
        let gamma_m2_al = factors.gamma_m2_al(trace);
        step!(trace, Force, BEARING, "bearing resistance";
            f_b_rd(k_1, alpha_b, f_u, d, t, gamma_m2_al) =
            k_1 * alpha_b * f_u * d * t / gamma_m2_al);
        step!(trace, Ratio, BEARING, "utilisation"; utilisation(f_v_ed, f_b_rd) = f_v_ed / f_b_rd);
        Checked::new(f_v_ed, f_b_rd, Dimension::Force, utilisation)
    }
}

/// The bearing formula rests on least distances (Table 8.2).
fn at_least(
    least: f64,
    value: f64,
    symbol: &'static str,
    what: &'static str,
    allowed: &'static str,
) -> Result<(), NotChecked> {
    // A rounding of the last digit is no breach.
    if value >= least * (1.0 - 1e-9) {
        return Ok(());
    }
    Err(NotChecked::OutOfRange { symbol, what, value, dimension: Dimension::Length, allowed })
}

/// Head or nut pulled through the ply.
pub(super) struct Punching;

const PUNCHING: Source = light("Table 8.5, punching");

impl Clause<AluminiumPlyInput> for Punching {
    fn reference(&self) -> Source {
        PUNCHING
    }

    fn title(&self) -> &'static str {
        "head or nut pulled through an aluminium ply"
    }

    fn short(&self) -> &'static str {
        "punching, aluminium"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Punching
    }

    fn applies(&self, input: &AluminiumPlyInput) -> Applicability {
        Applicability::only_if(input.f_t_ed > 0.0, "no pull on the ply")
    }

    fn formula(
        &self,
        input: &AluminiumPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let d_m = input.d_m(trace);
        let t = input.t(trace);
        let f_o = input.f_o(trace);
        let gamma_m2_al = factors.gamma_m2_al(trace);
        step!(trace, Force, PUNCHING, "punching resistance";
            b_p_rd(d_m, t, f_o, gamma_m2_al) = 0.6 * PI * d_m * t * f_o / gamma_m2_al);
        step!(trace, Ratio, PUNCHING, "utilisation"; utilisation(f_t_ed, b_p_rd) = f_t_ed / b_p_rd);
        Checked::new(f_t_ed, b_p_rd, Dimension::Force, utilisation)
    }
}

/// Face under a head or washer: aluminium gives way before steel does, and preload with it.
pub(super) struct UnderHead;

const UNDER_HEAD: Source = light("6.2.4, face under a head");

impl Clause<AluminiumPlyInput> for UnderHead {
    fn reference(&self) -> Source {
        UNDER_HEAD
    }

    fn title(&self) -> &'static str {
        "aluminium face under the head or washer"
    }

    fn short(&self) -> &'static str {
        "face, aluminium"
    }

    fn applies(&self, input: &AluminiumPlyInput) -> Applicability {
        let pressed = input.f_m.is_some() || input.f_t_ed > 0.0;
        Applicability::only_if(pressed && input.d_w.is_some(), "no head or washer presses on it")
    }

    fn formula(
        &self,
        input: &AluminiumPlyInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let d_0 = input.d_0(trace);
        let d_w = input.d_w(trace)?;
        let f_o = input.f_o(trace);
        let gamma_m1_al = factors.gamma_m1_al(trace);
        if d_w <= d_0 {
            return Err(NotChecked::OutOfRange {
                symbol: "d_w",
                what: "outer diameter of head or washer on the ply",
                value: d_w,
                dimension: Dimension::Length,
                allowed: "more than the hole",
            });
        }
        let f_c = if input.f_m.is_some() {
            let f_m = input.f_m(trace)?;
            step!(trace, Force, UNDER_HEAD, "force under the head, preload and all of the pull";
                f_c(f_m, f_t_ed) = f_m + f_t_ed);
            f_c
        } else {
            step!(trace, Force, UNDER_HEAD, "force under the head"; f_c(f_t_ed) = f_t_ed);
            f_c
        };
        step!(trace, Stress, UNDER_HEAD, "pressure on the ring around the hole";
            p(f_c, d_w, d_0) = f_c / (PI / 4.0 * (sq(d_w) - sq(d_0))));
        step!(trace, Stress, UNDER_HEAD, "proof strength over its factor";
            f_od(f_o, gamma_m1_al) = f_o / gamma_m1_al);
        step!(trace, Ratio, UNDER_HEAD, "utilisation"; utilisation(p, f_od) = p / f_od);
        Checked::new(p, f_od, Dimension::Stress, utilisation)
    }
}
