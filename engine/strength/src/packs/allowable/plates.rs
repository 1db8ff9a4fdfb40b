//! Tabs, gussets, faces and sleeves: first yield.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{GussetForce, GussetInput, SeatInput, SleeveInput, TabInput};
use crate::clause::{Applicability, Aspect, Checked, NotChecked};
use crate::packs::pack::Clauses;

use super::members::{modulus, strut_stress};
use super::rule::{Rule, always, below};
use super::{N_U, N_Y};

pub(super) const TABS: Clauses<TabInput> = &[&ROOT, &AT_HOLE];
pub(super) const GUSSETS: Clauses<GussetInput> = &[&GUSSET, &GUSSET_STRIP];
pub(super) const SEATS: Clauses<SeatInput> = &[&PRESSURE, &OVERHANG];
pub(super) const SLEEVES: Clauses<SleeveInput> = &[&SLEEVE];

const ROOT_SOURCE: Source = Source::practice("first yield of a tab at its root");
const HOLE_SOURCE: Source = Source::practice("first yield of a tab across its hole");
const GUSSET_SOURCE: Source = Source::practice("first yield of a gusset at its free edge");
const STRIP_SOURCE: Source = Source::practice("strip of a gusset along its free edge as a strut");
const SEAT_SOURCE: Source = Source::practice("pressure on a face");
const OVERHANG_SOURCE: Source = Source::practice("first yield of a spreading plate");
const SLEEVE_SOURCE: Source = Source::practice("yielding of a sleeve");

static ROOT: Rule<TabInput> = Rule {
    source: ROOT_SOURCE,
    title: "first yield at the root of the tab",
    short: "tab, root",
    aspect: Aspect::FirstYieldAtRoot,
    applies: always,
    formula: |input, factors, trace| {
        let f_ed = input.f_ed(trace);
        let l = input.l(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, ROOT_SOURCE, "bending stress at the root";
            sigma(f_ed, l, b, t) = 6.0 * f_ed * l / (b * sq(t)));
        step!(trace, Stress, ROOT_SOURCE, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, ROOT_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

static AT_HOLE: Rule<TabInput> = Rule {
    source: HOLE_SOURCE,
    title: "first yield of the tab across its hole",
    short: "tab, hole",
    aspect: Aspect::Whole,
    applies: |input| {
        let hole = input.d_0.is_some() && input.l_hole.is_some();
        Applicability::only_if(hole, "the tab has no hole between load and root")
    },
    formula: |input, factors, trace| {
        let f_ed = input.f_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let d_0 = input.d_0(trace)?;
        let l_hole = input.l_hole(trace)?;
        let n_y = factors.value(N_Y, trace);
        below(b, d_0, "d_0", "diameter of a hole in the tab", "less than the width of the tab")?;
        step!(trace, Stress, HOLE_SOURCE, "bending stress across the hole";
            sigma(f_ed, l_hole, b, d_0, t) = 6.0 * f_ed * l_hole / ((b - d_0) * sq(t)));
        step!(trace, Stress, HOLE_SOURCE, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, HOLE_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

/// Records and returns the stress at the free edge: the section is cut from the corner square to
/// it, w = b sin φ, and carries F / sin φ at an eccentricity.
fn edge_stress(input: &GussetInput, trace: &mut Trace) -> f64 {
    let f_ed = input.f_ed(trace);
    let a = input.a(trace);
    let b = input.b(trace);
    let s = input.s(trace);
    let t = input.t(trace);
    step!(trace, Ratio, GUSSET_SOURCE, "sine of the angle of the free edge";
        sin_phi(a, b) = a / hypot(a, b));
    step!(trace, Length, GUSSET_SOURCE, "distance of the force from the middle of the leg, outward";
        e(s, b) = positive(s - b / 2.0));
    step!(trace, Stress, GUSSET_SOURCE, "stress at the free edge";
        sigma(f_ed, sin_phi, b, t, e) =
        f_ed / (sq(sin_phi) * b * t) * (1.0 + 6.0 * e / b));
    sigma
}

static GUSSET: Rule<GussetInput> = Rule {
    source: GUSSET_SOURCE,
    title: "first yield of the gusset",
    short: "gusset, yield",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        let sigma = edge_stress(input, trace);
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, GUSSET_SOURCE, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, GUSSET_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

static GUSSET_STRIP: Rule<GussetInput> = Rule {
    source: STRIP_SOURCE,
    title: "free edge of the gusset as a strut",
    short: "gusset, strut",
    aspect: Aspect::AfterBuckling,
    applies: |input| {
        Applicability::only_if(input.force == GussetForce::Presses, "the free edge is pulled")
    },
    formula: |input, factors, trace| {
        let sigma = edge_stress(input, trace);
        let f_y = input.f_y(trace);
        let n_u = factors.value(N_U, trace);
        let (a, b, t) = (input.a, input.b, input.t);
        step!(trace, Ratio, STRIP_SOURCE, "slenderness of the edge, both ends clamped";
            lambda(a, b, t) = 0.65 * hypot(a, b) * sqrt(12.0) / t);
        let e_steel = modulus(trace);
        let sigma_cr = strut_stress(lambda, f_y, e_steel, trace);
        step!(trace, Stress, STRIP_SOURCE, "allowable stress"; sigma_allow(sigma_cr, n_u) = sigma_cr / n_u);
        step!(trace, Ratio, STRIP_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

/// Records and returns the pressure under a seat.
fn pressure(input: &SeatInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let f_ed = input.f_ed(trace);
    let d_w = input.d_w(trace);
    let d_h = input.d_h(trace);
    below(d_w, d_h, "d_h", "diameter of the hole under it", "less than the seat")?;
    step!(trace, Stress, SEAT_SOURCE, "pressure on the ring";
        p(f_ed, d_w, d_h) = f_ed / (PI / 4.0 * (sq(d_w) - sq(d_h))));
    Ok(p)
}

static PRESSURE: Rule<SeatInput> = Rule {
    source: SEAT_SOURCE,
    title: "pressure under the head or washer",
    short: "pressure",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, _, trace| {
        let p = pressure(input, trace)?;
        let p_limit = input.p_limit(trace);
        step!(trace, Ratio, SEAT_SOURCE, "utilisation, the limit is an allowable one already";
            utilisation(p, p_limit) = p / p_limit);
        Checked::new(p, p_limit, Dimension::Stress, utilisation)
    },
};

static OVERHANG: Rule<SeatInput> = Rule {
    source: OVERHANG_SOURCE,
    title: "first yield of the spreading plate",
    short: "spreading plate",
    aspect: Aspect::Whole,
    applies: |input| Applicability::only_if(input.overhang.is_some(), "no plate spreads the force"),
    formula: |input, factors, trace| {
        let p = pressure(input, trace)?;
        let overhang = input.overhang(trace)?;
        let t_plate = input.t_plate(trace)?;
        let f_y_plate = input.f_y_plate(trace)?;
        let n_y = factors.value(N_Y, trace);
        step!(trace, Stress, OVERHANG_SOURCE, "bending stress of the plate that stands out";
            sigma(p, overhang, t_plate) = 3.0 * p * sq(overhang) / sq(t_plate));
        step!(trace, Stress, OVERHANG_SOURCE, "allowable stress";
            sigma_allow(f_y_plate, n_y) = f_y_plate / n_y);
        step!(trace, Ratio, OVERHANG_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};

static SLEEVE: Rule<SleeveInput> = Rule {
    source: SLEEVE_SOURCE,
    title: "sleeve under the preload",
    short: "sleeve",
    aspect: Aspect::Whole,
    applies: always,
    formula: |input, factors, trace| {
        let f_m = input.f_m(trace);
        let d_out = input.d_out(trace);
        let d_in = input.d_in(trace);
        let f_y = input.f_y(trace);
        let n_y = factors.value(N_Y, trace);
        below(d_out, d_in, "d_in", "inner diameter of the sleeve", "less than the outer one")?;
        step!(trace, Stress, SLEEVE_SOURCE, "stress in the ring";
            sigma(f_m, d_out, d_in) = f_m / (PI / 4.0 * (sq(d_out) - sq(d_in))));
        step!(trace, Stress, SLEEVE_SOURCE, "allowable stress"; sigma_allow(f_y, n_y) = f_y / n_y);
        step!(trace, Ratio, SLEEVE_SOURCE, "utilisation";
            utilisation(sigma, sigma_allow) = sigma / sigma_allow);
        Checked::new(sigma, sigma_allow, Dimension::Stress, utilisation)
    },
};
