//! A plate pulled by bolts beside the web of a tee: strength of the bolts with prying.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Prying as Edge, TStubInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Format, NotChecked};
use crate::packs::american::factors::BENDING;
use crate::packs::american::manual;

/// One bolt row of a tee, every bolt with the length of plate that goes with it.
pub(super) struct Prying;

const PRYING: Source = manual("Part 9, prying action");

impl Clause<TStubInput> for Prying {
    fn reference(&self) -> Source {
        PRYING
    }

    fn title(&self) -> &'static str {
        "plate bent by bolts beside the web, prying included"
    }

    fn short(&self) -> &'static str {
        "prying"
    }

    fn applies(&self, _: &TStubInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &TStubInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_t_rd_sum = input.f_t_rd_sum(trace);
        let n_bolts = input.n_bolts(trace)?;
        let d = input.d(trace)?;
        let b = input.b(trace)?;
        let p = input.p(trace)?;
        let t = input.t(trace);
        let f_u = input.f_u(trace)?;
        if 2.0 * b < p {
            return Err(NotChecked::OutOfRange {
                symbol: "p",
                what: "length of plate that goes with one bolt",
                value: p,
                dimension: Dimension::Length,
                allowed: "at most twice the distance from bolt to web",
            });
        }
        if 0.5 * d >= b {
            return Err(NotChecked::OutOfRange {
                symbol: "b",
                what: "distance from bolt to the face of the web",
                value: b,
                dimension: Dimension::Length,
                allowed: "more than half the bolt diameter",
            });
        }
        step!(trace, Force, PRYING, "available strength of one bolt";
            b_bolt(f_t_rd_sum, n_bolts) = f_t_rd_sum / n_bolts);
        step!(trace, Length, PRYING, "lever arm to the web, from the edge of the bolt";
            b_1(b, d) = b - 0.5 * d);
        let f_d = if factors.format() == Format::AllowableStrength {
            let omega_b = factors.value(BENDING.omega, trace);
            step!(trace, Stress, PRYING, "stress the plate may bend at"; f_d(f_u, omega_b) = f_u / omega_b);
            f_d
        } else {
            let phi_b = factors.value(BENDING.phi, trace);
            step!(trace, Stress, PRYING, "stress the plate may bend at"; f_d(f_u, phi_b) = phi_b * f_u);
            f_d
        };
        let t_bolt = match input.prying {
            Edge::Free => {
                step!(trace, Force, PRYING, "available pull on one bolt without prying";
                    t_bolt(b_bolt, f_d, p, t, b_1) =
                    smaller(b_bolt, f_d * p * sq(t) / (4.0 * b_1)));
                t_bolt
            }
            Edge::Bears => {
                let e_min = input.e_min(trace);
                let d_0 = input.d_0(trace)?;
                if d_0 >= p {
                    return Err(NotChecked::OutOfRange {
                        symbol: "d_0",
                        what: "diameter of the holes",
                        value: d_0,
                        dimension: Dimension::Length,
                        allowed: "less than the length of plate that goes with one bolt",
                    });
                }
                step!(trace, Length, PRYING, "lever arm to the edge, from the edge of the bolt";
                    a_1(e_min, d, b) = smaller(e_min + 0.5 * d, 1.25 * b + 0.5 * d));
                step!(trace, Ratio, PRYING, "ratio of the arms"; rho(b_1, a_1) = b_1 / a_1);
                step!(trace, Ratio, PRYING, "net over gross length at the bolt";
                    delta(d_0, p) = 1.0 - d_0 / p);
                step!(trace, Length, PRYING, "thickness at which nothing pries";
                    t_c(b_bolt, b_1, p, f_d) = sqrt(4.0 * b_bolt * b_1 / (p * f_d)));
                step!(trace, Ratio, PRYING, "hinge at the bolt over hinge at the web";
                    alpha_1(delta, rho, t_c, t) = (sq(t_c / t) - 1.0) / (delta * (1.0 + rho)));
                step!(trace, Ratio, PRYING, "share of the bolt that is left for the pull";
                q(t, t_c, delta, alpha_1) =
                if alpha_1 < 0.0 {
                    1.0
                } else {
                    sq(t / t_c) * (1.0 + delta * smaller(alpha_1, 1.0))
                });
                step!(trace, Force, PRYING, "available pull on one bolt beside prying";
                    t_bolt(b_bolt, q) = b_bolt * q);
                t_bolt
            }
        };
        step!(trace, Force, PRYING, "available strength of the row";
            t_row(n_bolts, t_bolt) = n_bolts * t_bolt);
        step!(trace, Ratio, PRYING, "utilisation"; utilisation(f_t_ed, t_row) = f_t_ed / t_row);
        Checked::new(f_t_ed, t_row, Dimension::Force, utilisation)
    }
}
