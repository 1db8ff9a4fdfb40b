//! Channels with lips: the lips stiffen the flanges as far as they do not give way themselves.

use fishplate_quantity::algebra::abs;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::LippedChannelInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MPA, e_of_steel, sheet};

/// Slenderness at yield and effective share of a wall held at both edges under even compression.
macro_rules! even_wall {
    ($trace:ident, $wall:literal; $lambda:ident, $rho:ident($b:ident, $t:ident, $eps:ident)) => {
        step!($trace, Ratio, WIDTH, concat!("slenderness at yield, ", $wall);
            $lambda($b, $t, $eps) = $b / $t / (28.4 * $eps * 2.0));
        even_share!($trace, concat!("effective share at yield, ", $wall); $rho($lambda));
    };
}

/// Effective share of a wall held at both edges under even compression.
macro_rules! even_share {
    ($trace:ident, $what:expr; $rho:ident($lambda:ident)) => {
        step!($trace, Ratio, WIDTH, $what;
            $rho($lambda) =
            if $lambda <= 0.5 + sqrt(0.085 - 0.055) { 1.0 }
            else { smaller(1.0, ($lambda - 0.055 * 4.0) / sq($lambda)) });
    };
}

/// A lipped channel in even compression, its lips with the flange beside them as struts on the spring
/// that flange and web make.
pub(super) struct LippedChannel;

const CHANNEL: Source = sheet("5.5.3.2 and 6.1.3, lipped channel");
const WIDTH: Source = sheet("5.5.2");
const STIFFENER: Source = sheet("5.5.3.1 and 5.5.3.2");

impl Clause<LippedChannelInput> for LippedChannel {
    fn reference(&self) -> Source {
        CHANNEL
    }

    fn title(&self) -> &'static str {
        "lipped channel in compression, lips that may give way"
    }

    fn short(&self) -> &'static str {
        "lipped channel"
    }

    fn applies(&self, input: &LippedChannelInput) -> Applicability {
        let &LippedChannelInput { h, b_1, b_2, c, t, .. } = input;
        let inside = b_1 <= 60.0 * t && b_2 <= 60.0 * t && c <= 50.0 * t && h <= 500.0 * t;
        Applicability::within(inside, || {
            "a wall is wider than the rules were tried on: flanges 60, lips 50, web 500 times the \
             thickness"
                .to_owned()
        })
    }

    fn formula(
        &self,
        input: &LippedChannelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let h = input.h(trace);
        let b_1 = input.b_1(trace);
        let b_2 = input.b_2(trace);
        let c = input.c(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        for flange in [b_1, b_2] {
            if !(0.2..=0.6).contains(&(c / flange)) {
                return Err(NotChecked::OutOfRange {
                    symbol: "c",
                    what: "width of the lips",
                    value: c,
                    dimension: Dimension::Length,
                    allowed: "0.2 to 0.6 of each flange",
                });
            }
        }
        step!(trace, Ratio, WIDTH, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
        let section = Section { h, b_1, b_2, c, t, f_y, eps };
        let (mut chi, mut passes) = ((1.0, 1.0), 0);
        loop {
            let (next, _) = section.pass(chi, &mut Trace::off());
            passes += 1;
            let still = abs(next.0 - chi.0) + abs(next.1 - chi.1) <= 1e-12;
            chi = next;
            if still {
                break;
            }
            if passes == 500 {
                return Err(super::reduced::restless());
            }
        }
        let found = || Provenance::Solved(format!("at rest after {passes} passes"));
        let what = "strength left of the lip of flange 1";
        let chi_1 = trace.input("chi_1", what, Dimension::Ratio, chi.0, found);
        let what = "strength left of the lip of flange 2";
        let chi_2 = trace.input("chi_2", what, Dimension::Ratio, chi.1, found);
        let (_, (a_s_1, a_s_2)) = section.pass((chi_1, chi_2), trace);
        even_wall!(trace, "flange 1"; lambda_y_1, rho_y_1(b_1, t, eps));
        step!(trace, Length, WIDTH, "effective half of flange 1 at the web, at yield";
            b_e1_1(b_1, rho_y_1) = 0.5 * b_1 * rho_y_1);
        even_wall!(trace, "flange 2"; lambda_y_2, rho_y_2(b_2, t, eps));
        step!(trace, Length, WIDTH, "effective half of flange 2 at the web, at yield";
            b_e1_2(b_2, rho_y_2) = 0.5 * b_2 * rho_y_2);
        even_wall!(trace, "web"; lambda_h, rho_h(h, t, eps));
        step!(trace, Length, WIDTH, "effective width of the web"; h_eff(h, rho_h) = h * rho_h);
        step!(trace, Area, CHANNEL, "effective area";
            a_eff(t, b_e1_1, b_e1_2, h_eff, chi_1, a_s_1, chi_2, a_s_2) =
            t * (b_e1_1 + b_e1_2 + h_eff) + chi_1 * a_s_1 + chi_2 * a_s_2);
        step!(trace, Force, CHANNEL, "resistance in even compression";
            n_c_rd(a_eff, f_y, gamma_m0) = a_eff * f_y / gamma_m0);
        step!(trace, Ratio, CHANNEL, "utilisation"; utilisation(n_ed, n_c_rd) = n_ed / n_c_rd);
        Checked::new(n_ed, n_c_rd, Dimension::Force, utilisation)
    }
}

#[derive(Clone, Copy)]
struct Section {
    h: f64,
    b_1: f64,
    b_2: f64,
    c: f64,
    t: f64,
    f_y: f64,
    eps: f64,
}

/// A lip with the flange beside it: area, second moment about its own axis along the flange, and the
/// distance of its centroid from the web.
type Stiffener = (f64, f64, f64);

/// The stiffener of one flange at the stress that its own strength `$chi` allows.
macro_rules! stiffener {
    ($function:ident, $b:ident, $chi:ident, ($lambda_b:ident, $rho_b:ident), $b_e2:ident, $k_c:ident,
     ($lambda_c:ident, $rho_c:ident), $c_eff:ident, $a_s:ident, $i_s:ident, $b_s:ident) => {
        fn $function(section: Section, $chi: f64, trace: &mut Trace) -> Stiffener {
            let Section { $b, c, t, eps, .. } = section;
            step!(trace, Ratio, WIDTH, "slenderness of the flange at the stress of its lip";
                $lambda_b($b, t, eps, $chi) = $b / t / (28.4 * eps * 2.0) * sqrt($chi));
            even_share!(trace, "effective share of the flange at the lip"; $rho_b($lambda_b));
            step!(trace, Length, WIDTH, "effective half of the flange at the lip";
                $b_e2($b, $rho_b) = 0.5 * $b * $rho_b);
            step!(trace, Ratio, STIFFENER, "buckling factor of the lip";
                $k_c(c, $b) =
                if c / $b <= 0.35 { 0.5 } else { 0.5 + 0.83 * power(c / $b - 0.35, 2.0 / 3.0) });
            step!(trace, Ratio, STIFFENER, "slenderness of the lip at its own stress";
                $lambda_c(c, t, eps, $k_c, $chi) =
                c / t / (28.4 * eps * sqrt($k_c)) * sqrt($chi));
            step!(trace, Ratio, STIFFENER, "effective share of the lip";
                $rho_c($lambda_c) =
                if $lambda_c <= 0.748 { 1.0 }
                else { smaller(1.0, ($lambda_c - 0.188) / sq($lambda_c)) });
            step!(trace, Length, STIFFENER, "effective width of the lip";
                $c_eff(c, $rho_c) = c * $rho_c);
            step!(trace, Area, STIFFENER, "area of the stiffener";
                $a_s(t, $b_e2, $c_eff) = t * ($b_e2 + $c_eff));
            step!(trace, SecondMoment, STIFFENER, "second moment of the stiffener";
                $i_s(t, $b_e2, $c_eff) =
                $b_e2 * cube(t) / 12.0 + t * cube($c_eff) / 12.0
                    + $b_e2 * t * sq(sq($c_eff) / (2.0 * ($b_e2 + $c_eff)))
                    + $c_eff * t
                        * sq($c_eff / 2.0 - sq($c_eff) / (2.0 * ($b_e2 + $c_eff))));
            step!(trace, Length, STIFFENER, "distance of the stiffener from the web";
                $b_s($b, $b_e2, t, $a_s) = $b - sq($b_e2) * t / 2.0 / $a_s);
            ($a_s, $i_s, $b_s)
        }
    };
}

stiffener!(
    stiffener_1,
    b_1,
    chi_1,
    (lambda_b_1, rho_b_1),
    b_e2_1,
    k_c_1,
    (lambda_c_1, rho_c_1),
    c_eff_1,
    a_s_1,
    i_s_1,
    b_s_1
);
stiffener!(
    stiffener_2,
    b_2,
    chi_2,
    (lambda_b_2, rho_b_2),
    b_e2_2,
    k_c_2,
    (lambda_c_2, rho_c_2),
    c_eff_2,
    a_s_2,
    i_s_2,
    b_s_2
);

/// What the spring of flange and web leaves of the strength of a stiffener.
macro_rules! strength {
    ($trace:ident, $section:ident, $chi:ident, $k:ident, $sigma:ident, $lambda:ident,
     ($a_s:ident, $i_s:ident, $b_s:ident), ($a_o:ident, $b_o:ident)) => {
        let Section { h, t, f_y, .. } = $section;
        let e_steel = e_of_steel($trace);
        step!($trace, Stress, STIFFENER, "spring of flange and web, per length";
            $k(t, h, $b_s, $b_o, $a_s, $a_o, e_steel) =
            e_steel * cube(t) / (4.0 * (1.0 - 0.3 * 0.3))
                / (sq($b_s) * h + cube($b_s) + 0.5 * $b_s * $b_o * h * $a_o / $a_s));
        step!($trace, Stress, STIFFENER, "critical stress of the stiffener";
            $sigma($k, $i_s, $a_s, e_steel) = 2.0 * sqrt($k * e_steel * $i_s) / $a_s);
        step!($trace, Ratio, STIFFENER, "slenderness of the stiffener";
            $lambda(f_y, $sigma) = sqrt(f_y / $sigma));
        step!($trace, Ratio, sheet("5.5.3.1(7)"), "strength left of the stiffener";
            $chi($lambda) =
            if $lambda <= 0.65 { 1.0 }
            else if $lambda < 1.38 { 1.47 - 0.723 * $lambda }
            else { 0.66 / $lambda });
    };
}

impl Section {
    /// One pass: what is left of both stiffeners at the stress that `chi` allows, and their areas.
    fn pass(self, (chi_1, chi_2): (f64, f64), trace: &mut Trace) -> ((f64, f64), (f64, f64)) {
        let (a_s_1, i_s_1, b_s_1) = stiffener_1(self, chi_1, trace);
        let (a_s_2, i_s_2, b_s_2) = stiffener_2(self, chi_2, trace);
        strength!(
            trace,
            self,
            next_1,
            k_1,
            sigma_s_1,
            lambda_d_1,
            (a_s_1, i_s_1, b_s_1),
            (a_s_2, b_s_2)
        );
        strength!(
            trace,
            self,
            next_2,
            k_2,
            sigma_s_2,
            lambda_d_2,
            (a_s_2, i_s_2, b_s_2),
            (a_s_1, b_s_1)
        );
        ((next_1, next_2), (a_s_1, a_s_2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Access Steel SX022a (from memory), the compressed flange of a bent channel, core 1.96, 350 MPa:
    /// the other flange is pulled, so it does not soften the spring. Area 103.3 mm², second moment
    /// 3663 mm⁴, 61.73 mm from the web, spring 0.439 N/mm², critical stress 355.78 MPa, slenderness
    /// 0.992, 0.753 left.
    #[test]
    fn the_lip_of_a_published_channel_comes_out() {
        let section = Section {
            h: 0.198,
            b_1: 0.072,
            b_2: 0.064,
            c: 0.0198,
            t: 1.96e-3,
            f_y: 350e6,
            eps: f64::sqrt(235.0 / 350.0),
        };
        let trace = &mut Trace::off();
        let (a_s, i_s, b_s) = stiffener_1(section, 1.0, trace);
        let (none, near) = (0.0, 0.0);
        strength!(trace, section, chi, k, sigma, lambda, (a_s, i_s, b_s), (none, near));
        for (what, got, published, within) in [
            ("A", a_s * 1e6, 103.3, 1e-3),
            ("I", i_s * 1e12, 3663.0, 1e-3),
            ("b", b_s * 1e3, 61.73, 1e-3),
            ("K", k * 1e-6, 0.439, 1e-3),
            ("sigma", sigma * 1e-6, 355.78, 1e-3),
            ("lambda", lambda, 0.992, 1e-3),
            ("chi", chi, 0.753, 1e-3),
        ] {
            assert!((got / published - 1.0).abs() < within, "{what}: {got}");
        }
    }
}
