//! Local crushing of the webs of cold-formed sections.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{RailPlace, WebCount, WebFlanges, WebInput, WebKind, WebLoad};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, MPA, e_of_steel, sheet};

/// One web without stiffeners.
///
/// At a bearing length of 60 thicknesses the two pairs of coefficients meet with a step of 0.7 %.
pub(super) struct OneWeb;

const ONE: Source = sheet("6.1.7.2");

impl Clause<WebInput> for OneWeb {
    fn reference(&self) -> Source {
        ONE
    }

    fn title(&self) -> &'static str {
        "crushing of one web under a local force"
    }

    fn short(&self) -> &'static str {
        "crushing, one web"
    }

    fn irregular(&self) -> &'static [&'static str] {
        &["s_s"]
    }

    fn applies(&self, input: &WebInput) -> Applicability {
        if input.webs != WebCount::One {
            return Applicability::DoesNotApply("the section has more webs".to_owned());
        }
        let inside = in_range(input) && input.h_w <= 200.0 * input.t && input.r <= 6.0 * input.t;
        Applicability::within(inside, || {
            "the web is outside 45° to 90°, h/t up to 200 or r/t up to 6".to_owned()
        })
    }

    fn formula(
        &self,
        input: &WebInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let h_w = input.h_w(trace);
        let t = input.t(trace);
        let s_s = input.s_s(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let factor = shape_factor(input, trace);
        let row = Row::of(input);
        let slope = table(trace, "slope", "divisor of the slenderness of the web", row.slope);
        let base = table(trace, "base", "coefficient of the web", row.base);
        let (fixed, gain) = if s_s / t <= row.until { row.short } else { row.long };
        let fixed = table(trace, "fixed", "part without bearing length", fixed);
        let gain = table(trace, "gain", "gain by bearing length", gain);
        step!(trace, Force, ONE, "resistance of the web";
            r_w_rd(factor, base, h_w, t, slope, fixed, gain, s_s, f_y, gamma_m1) =
            factor * positive(base - h_w / t / slope) * (fixed + gain * s_s / t)
                * sq(t) * f_y / gamma_m1);
        step!(trace, Ratio, ONE, "utilisation"; utilisation(f_ed, r_w_rd) = f_ed / r_w_rd);
        Checked::new(f_ed, r_w_rd, Dimension::Force, utilisation)
    }
}

fn in_range(input: &WebInput) -> bool {
    (44.999..=90.001).contains(&input.phi.to_degrees())
}

fn table(trace: &mut Trace, symbol: &'static str, what: &'static str, value: f64) -> f64 {
    trace.input(symbol, what, Dimension::Ratio, value, || {
        Provenance::Table("EN 1993-1-3:2006, 6.1.7.2, equations (6.15)".to_owned())
    })
}

/// Coefficients of (6.15): `base` - (h/t) / `slope`, times 1 + gain s/t, another pair from a bearing
/// length of `until` thicknesses on.
struct Row {
    base: f64,
    slope: f64,
    until: f64,
    short: (f64, f64),
    long: (f64, f64),
}

impl Row {
    fn of(input: &WebInput) -> Self {
        let one = |base, slope, gain| Self {
            base,
            slope,
            until: f64::INFINITY,
            short: (1.0, gain),
            long: (1.0, gain),
        };
        match (input.load, input.at, input.flanges) {
            (WebLoad::OneFlange, RailPlace::NearEnd, WebFlanges::Stiffened) => {
                one(9.04, 60.0, 0.01)
            }
            (WebLoad::OneFlange, RailPlace::NearEnd, WebFlanges::Unstiffened) => {
                Self { until: 60.0, long: (0.71, 0.015), ..one(5.92, 132.0, 0.01) }
            }
            (WebLoad::OneFlange, RailPlace::Inside, _) => {
                Self { until: 60.0, long: (0.75, 0.011), ..one(14.7, 49.5, 0.007) }
            }
            (WebLoad::BothFlanges, RailPlace::NearEnd, _) => one(6.66, 64.0, 0.01),
            (WebLoad::BothFlanges, RailPlace::Inside, _) => one(21.0, 16.3, 0.0013),
        }
    }
}

/// The product of the three factors for strength, bend radius and slope of the web.
fn shape_factor(input: &WebInput, trace: &mut Trace) -> f64 {
    let f_y = input.f_y;
    let t = input.t;
    let r = input.r(trace);
    let phi = input.phi(trace);
    step!(trace, Ratio, ONE, "yield strength over 228 MPa"; k(f_y) = f_y / (228.0 * MPA));
    step!(trace, Ratio, ONE, "factor of the slope of the web";
        k_3(phi) = 0.7 + 0.3 * sq(degrees(phi) / 90.0));
    match input.at {
        RailPlace::NearEnd => {
            step!(trace, Ratio, ONE, "factor of the strength"; k_1(k) = positive(1.33 - 0.33 * k));
            step!(trace, Ratio, ONE, "factor of the bend radius, 0.5 to 1";
                k_2(r, t) = larger(0.5, smaller(1.0, 1.15 - 0.15 * r / t)));
            step!(trace, Ratio, ONE, "the three together"; factor(k_1, k_2, k_3) = k_1 * k_2 * k_3);
            factor
        }
        RailPlace::Inside => {
            step!(trace, Ratio, ONE, "factor of the strength"; k_4(k) = positive(1.22 - 0.22 * k));
            step!(trace, Ratio, ONE, "factor of the bend radius, at most 1";
                k_5(r, t) = positive(smaller(1.0, 1.06 - 0.06 * r / t)));
            step!(trace, Ratio, ONE, "the three together"; factor(k_3, k_4, k_5) = k_3 * k_4 * k_5);
            factor
        }
    }
}

/// One of two or more webs.
pub(super) struct MoreWebs;

const MORE: Source = sheet("6.1.7.3, per web");

impl Clause<WebInput> for MoreWebs {
    fn reference(&self) -> Source {
        MORE
    }

    fn title(&self) -> &'static str {
        "crushing of each of two or more webs under a local force"
    }

    fn short(&self) -> &'static str {
        "crushing, per web"
    }

    fn applies(&self, input: &WebInput) -> Applicability {
        if input.webs != WebCount::TwoOrMore {
            return Applicability::DoesNotApply("the section has one web".to_owned());
        }
        let inside = in_range(input)
            && input.h_w <= 200.0 * input.t * input.phi.sin()
            && input.r <= 10.0 * input.t;
        Applicability::within(inside, || {
            "the web is outside 45° to 90°, h/t up to 200 or r/t up to 10".to_owned()
        })
    }

    fn formula(
        &self,
        input: &WebInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_ed = input.f_ed(trace);
        let t = input.t(trace);
        let r = input.r(trace);
        let phi = input.phi(trace);
        let f_y = input.f_y(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let second = input.at == RailPlace::Inside && input.load == WebLoad::OneFlange;
        let value = match (second, input.kind) {
            (false, WebKind::Hat) => 0.057,
            (false, WebKind::Sheeting) => 0.075,
            (true, WebKind::Hat) => 0.115,
            (true, WebKind::Sheeting) => 0.15,
        };
        let what = "coefficient of the web";
        let alpha = trace.input("alpha", what, Dimension::Ratio, value, || {
            Provenance::Table("EN 1993-1-3:2006, 6.1.7.3(5)".to_owned())
        });
        let l_a = bearing(input, second, trace)?;
        let e_steel = e_of_steel(trace);
        step!(trace, Force, MORE, "resistance of one web";
            r_w_rd(alpha, t, f_y, r, l_a, phi, gamma_m1, e_steel) =
            alpha * sq(t) * sqrt(f_y * e_steel) * positive(1.0 - 0.1 * sqrt(r / t))
                * (0.5 + sqrt(0.02 * l_a / t)) * (2.4 + sq(degrees(phi) / 90.0)) / gamma_m1);
        step!(trace, Ratio, MORE, "utilisation"; utilisation(f_ed, r_w_rd) = f_ed / r_w_rd);
        Checked::new(f_ed, r_w_rd, Dimension::Force, utilisation)
    }
}

/// The bearing length that counts: 10 mm in the first category and where the shear forces differ, the
/// stiff bearing up to 200 mm where they are near to equal, straight between.
fn bearing(input: &WebInput, second: bool, trace: &mut Trace) -> Result<f64, NotChecked> {
    const LENGTH: Source = sheet("6.1.7.3(4)");
    if !second || input.beta_v.is_none() {
        step!(trace, Length, LENGTH, "bearing length, not counted"; l_a() = 10.0 * MM);
        return Ok(l_a);
    }
    let s_s = input.s_s(trace);
    let beta_v = input.beta_v(trace)?;
    step!(trace, Length, LENGTH, "bearing length, between 10 and 200 mm";
        l_full(s_s) = larger(10.0 * MM, smaller(200.0 * MM, s_s)));
    step!(trace, Length, LENGTH, "bearing length by the share of the shear forces";
        l_a(l_full, beta_v) =
        10.0 * MM + (l_full - 10.0 * MM) * smaller(1.0, positive((0.3 - beta_v) / 0.1)));
    Ok(l_a)
}
