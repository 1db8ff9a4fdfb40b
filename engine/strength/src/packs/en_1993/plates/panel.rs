//! Rectangular plates held at all edges, loaded in the middle.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{PanelEdges, PanelInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::e_of_steel;
use crate::packs::en_1993::factors::PartialFactors;

/// First yield of an elastic plate, and how far it gives.
pub(super) struct FirstYield;

const ELASTIC: Source = Source::new(
    "Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed., from memory",
    "Table 11.4, cases 1b and 8b",
);

/// Sides over each other, then deflection factor and stress constants of a supported and of a clamped
/// plate. Under the load: `beta` and `beta_1`; in the middle of the long edge `beta_2`.
struct Row {
    ratio: f64,
    alpha: f64,
    beta: f64,
    alpha_clamped: f64,
    beta_1: f64,
    beta_2: f64,
}

const fn row(ratio: f64, supported: (f64, f64), clamped: (f64, f64, f64)) -> Row {
    let (alpha, beta) = supported;
    let (alpha_clamped, beta_1, beta_2) = clamped;
    Row { ratio, alpha, beta, alpha_clamped, beta_1, beta_2 }
}

const ROWS: [Row; 7] = [
    row(1.0, (0.1267, 0.435), (0.0611, -0.238, 0.7542)),
    row(1.2, (0.1478, 0.650), (0.0706, -0.078, 0.8940)),
    row(1.4, (0.1621, 0.789), (0.0754, 0.011, 0.9624)),
    row(1.6, (0.1715, 0.875), (0.0777, 0.053, 0.9906)),
    row(1.8, (0.1770, 0.927), (0.0786, 0.068, 1.0)),
    row(2.0, (0.1805, 0.958), (0.0788, 0.067, 1.004)),
    // The row of an infinite strip, taken from twice the side on.
    row(2.0, (0.1851, 1.067), (0.0791, 0.067, 1.008)),
];

/// A column of the table at `ratio`: straight between rows, the strip above 2.
fn column(ratio: f64, of: fn(&Row) -> f64) -> f64 {
    let between = ROWS.windows(2).find(|pair| ratio <= pair[1].ratio);
    between.map_or(of(&ROWS[6]), |pair| {
        let share = (ratio - pair[0].ratio) / (pair[1].ratio - pair[0].ratio);
        of(&pair[0]) + share * (of(&pair[1]) - of(&pair[0]))
    })
}

impl Clause<PanelInput> for FirstYield {
    fn reference(&self) -> Source {
        ELASTIC
    }

    fn title(&self) -> &'static str {
        "first yield of a plate loaded in the middle"
    }

    fn short(&self) -> &'static str {
        "first yield"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &PanelInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PanelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        in_shape(input)?;
        let f_ed = input.f_ed(trace);
        let a = input.a(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let d_w = input.d_w(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        let table = |symbol, what, of, trace: &mut Trace| {
            trace.input(symbol, what, Dimension::Ratio, column(b / a, of), || {
                Provenance::Table(format!("{}, {}", ELASTIC.document, ELASTIC.place))
            })
        };
        step!(trace, Length, ELASTIC, "radius of the loaded spot, for a thick plate corrected";
            r_0(d_w, t) =
            if d_w < t { smaller(0.5 * t, sqrt(1.6 * sq(d_w / 2.0) + sq(t)) - 0.675 * t) }
            else { d_w / 2.0 });
        let sigma = match input.edges {
            PanelEdges::Supported => {
                let beta = table("beta", "constant under the load", |r: &Row| r.beta, trace);
                let alpha = table("alpha", "factor of the deflection", |r: &Row| r.alpha, trace);
                let e_steel = e_of_steel(trace);
                step!(trace, Length, ELASTIC, "deflection under the load";
                    w(alpha, f_ed, a, t, e_steel) = alpha * f_ed * sq(a) / (e_steel * cube(t)));
                step!(trace, Stress, ELASTIC, "bending stress under the load";
                    sigma(f_ed, t, a, r_0, beta) =
                    3.0 * f_ed / (2.0 * PI * sq(t)) * (1.3 * ln(2.0 * a / (PI * r_0)) + beta));
                sigma
            }
            PanelEdges::Clamped => {
                let beta_1 = table("beta_1", "constant under the load", |r: &Row| r.beta_1, trace);
                let beta_2 = table("beta_2", "factor at the edge", |r: &Row| r.beta_2, trace);
                let alpha =
                    table("alpha", "factor of the deflection", |r: &Row| r.alpha_clamped, trace);
                let e_steel = e_of_steel(trace);
                step!(trace, Length, ELASTIC, "deflection under the load";
                    w(alpha, f_ed, a, t, e_steel) = alpha * f_ed * sq(a) / (e_steel * cube(t)));
                step!(trace, Stress, ELASTIC, "bending stress under the load";
                    sigma_mid(f_ed, t, a, r_0, beta_1) =
                    3.0 * f_ed / (2.0 * PI * sq(t)) * (1.3 * ln(2.0 * a / (PI * r_0)) + beta_1));
                step!(trace, Stress, ELASTIC, "bending stress at the middle of the long edge";
                    sigma_edge(beta_2, f_ed, t) = beta_2 * f_ed / sq(t));
                step!(trace, Stress, ELASTIC, "the larger of both";
                    sigma(sigma_mid, sigma_edge) = larger(sigma_mid, sigma_edge));
                sigma
            }
        };
        step!(trace, Stress, ELASTIC, "yield strength over its factor";
            f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, ELASTIC, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
        Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
    }
}

/// Collapse by yield lines: straight ones to the corners, or a fan around the load that no edge
/// hinders; the smaller. The size of the loaded spot is not counted, which is the safe side.
pub(super) struct YieldLines;

const LINES: Source =
    Source::mechanics("yield lines in a rectangular plate under a force in the middle");

impl Clause<PanelInput> for YieldLines {
    fn reference(&self) -> Source {
        LINES
    }

    fn title(&self) -> &'static str {
        "plate loaded in the middle, yield lines"
    }

    fn short(&self) -> &'static str {
        "yield lines"
    }

    fn applies(&self, _: &PanelInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PanelInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        in_shape(input)?;
        let f_ed = input.f_ed(trace);
        let a = input.a(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Force, LINES, "plastic moment per length";
            m_p(f_y, t, gamma_m0) = f_y * sq(t) / (4.0 * gamma_m0));
        let corners = match input.edges {
            PanelEdges::Supported => {
                step!(trace, Ratio, LINES, "work of lines to the corners, edges free to turn";
                    corners(a, b) = 4.0 * (a / b + b / a));
                corners
            }
            PanelEdges::Clamped => {
                step!(trace, Ratio, LINES, "work of lines to the corners and along clamped edges";
                    corners(a, b) = 8.0 * (a / b + b / a));
                corners
            }
        };
        step!(trace, Ratio, LINES, "work of a fan around the load"; fan() = 4.0 * PI);
        step!(trace, Force, LINES, "force that bends the plate through";
            f_rd(m_p, corners, fan) = m_p * smaller(corners, fan));
        step!(trace, Ratio, LINES, "utilisation"; utilisation(f_ed, f_rd) = f_ed / f_rd);
        Checked::new(f_ed, f_rd, Dimension::Force, utilisation)
    }
}

fn in_shape(input: &PanelInput) -> Result<(), NotChecked> {
    let refused = |symbol, what, value, allowed| {
        Err(NotChecked::OutOfRange { symbol, what, value, dimension: Dimension::Length, allowed })
    };
    if input.a > input.b {
        return refused("a", "shorter side", input.a, "at most the longer side");
    }
    if input.d_w > 0.5 * input.a {
        let what = "diameter of the loaded spot";
        return refused("d_w", what, input.d_w, "at most half the shorter side");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Navier's double series of a supported plate with unit flexural stiffness: deflection per force and
    /// moment in the middle under a force on a square spot of side `u`, nu = 0.3.
    fn navier(a: f64, b: f64, u: f64) -> (f64, f64) {
        let (mut w, mut moment) = (0.0, 0.0);
        for m in (1..600).step_by(2) {
            for n in (1..600).step_by(2) {
                let (p, q) = (f64::from(m) * PI / a, f64::from(n) * PI / b);
                let spread = |k: f64| (k * u / 2.0).sin() / (k * u / 2.0);
                let term = 4.0 / (a * b) * spread(p) * spread(q) / (p * p + q * q).powi(2);
                w += term;
                moment += term * (p * p + 0.3 * q * q);
            }
        }
        (w, moment)
    }

    #[test]
    fn the_supported_plate_of_the_table_is_that_of_the_double_series() {
        for (ratio, place) in [(1.0, 0), (1.4, 2), (2.0, 5)] {
            let row = &ROWS[place];
            let (w, _) = navier(1.0, ratio, 0.01);
            let u = 0.05;
            let (_, moment) = navier(1.0, ratio, u);
            // w = alpha P a² / (E t³), with D = E t³ / (12 0.91).
            assert!((row.alpha / 12.0 / 0.91 / w - 1.0).abs() < 5e-3, "{ratio}: {w}");
            // A square acts as a circle of radius 0.57 of its side (Timoshenko, Theory of Plates).
            let table = (1.3 * (2.0 / (PI * 0.57 * u)).ln() + row.beta) / (4.0 * PI);
            assert!((table / moment - 1.0).abs() < 1e-2, "{ratio}: {table} against {moment}");
        }
    }
}
