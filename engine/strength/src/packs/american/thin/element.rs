//! One flat element in compression.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{ElementHeld, ElementInput};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::THIN_COMPRESSION;
use crate::packs::american::{aisi, e_of_sheet};

use super::winter;

const WIDTH: Source = aisi("Appendix 1, 1.1 and 1.2 (B2, B3 up to 2012)");
const CRITICAL: Source = Source::mechanics("buckling of plates, E of AISI S100");

/// One flat element after buckling, by its effective share.
pub(super) struct EffectiveWidth;

impl Clause<ElementInput> for EffectiveWidth {
    fn reference(&self) -> Source {
        WIDTH
    }

    fn title(&self) -> &'static str {
        "flat element in compression, after buckling"
    }

    fn short(&self) -> &'static str {
        "element after buckling"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AfterBuckling
    }

    fn applies(&self, input: &ElementInput) -> Applicability {
        let (turns, limit) = match input.held {
            ElementHeld::BothEdges => (true, 500.0),
            ElementHeld::OneEdge => (true, 60.0),
            ElementHeld::BothEdgesClamped | ElementHeld::OneEdgeClamped => (false, 0.0),
        };
        if !turns {
            return Applicability::DoesNotApply("the rules are for edges that can turn".to_owned());
        }
        let ratio = input.b / input.t;
        Applicability::within(ratio <= limit, || {
            format!("the element is {ratio:.0} times as wide as thick, the rules end at {limit:.0}")
        })
    }

    fn formula(
        &self,
        input: &ElementInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_ed = input.sigma_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let k = buckling_factor(input, trace)?;
        winter!(trace, WIDTH, "element"; f_cr, lambda, rho(b, t, f_y, k));
        step!(trace, Stress, WIDTH, "nominal stress on the full element"; f_n(rho, f_y) = rho * f_y);
        available!(trace, factors, phi_tc or omega_tc of THIN_COMPRESSION;
            Stress, WIDTH, "available stress on the full element"; f_c(f_n));
        step!(trace, Ratio, WIDTH, "utilisation"; utilisation(sigma_ed, f_c) = sigma_ed / f_c);
        Checked::new(sigma_ed, f_c, Dimension::Stress, utilisation)
    }
}

/// One flat element before any buckle.
pub(super) struct CriticalStress;

impl Clause<ElementInput> for CriticalStress {
    fn reference(&self) -> Source {
        CRITICAL
    }

    fn title(&self) -> &'static str {
        "flat element in compression, before any buckle"
    }

    fn short(&self) -> &'static str {
        "element before buckling"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &ElementInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ElementInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_ed = input.sigma_ed(trace);
        let b = input.b(trace);
        let t = input.t(trace);
        let k = buckling_factor(input, trace)?;
        let e_sheet = e_of_sheet(trace);
        step!(trace, Stress, CRITICAL, "plate buckling stress";
            f_cr(k, t, b, e_sheet) =
            k * PI * PI * e_sheet / (12.0 * (1.0 - 0.3 * 0.3))
                * sq(t / b));
        available!(trace, factors, phi_tc or omega_tc of THIN_COMPRESSION;
            Stress, CRITICAL, "available stress"; f_c(f_cr));
        step!(trace, Ratio, CRITICAL, "utilisation"; utilisation(sigma_ed, f_c) = sigma_ed / f_c);
        Checked::new(sigma_ed, f_c, Dimension::Stress, utilisation)
    }
}

/// Records and returns the buckling factor. Elements on one edge, and clamped ones, get that of
/// even compression whatever the stress: the safe side.
fn buckling_factor(input: &ElementInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let fixed = match input.held {
        ElementHeld::BothEdges => {
            let psi = input.psi(trace);
            if !(-1.0..=1.0).contains(&psi) {
                return Err(NotChecked::OutOfRange {
                    symbol: "psi",
                    what: "smaller over larger edge stress, compression positive",
                    value: psi,
                    dimension: Dimension::Ratio,
                    allowed: "-1 to 1",
                });
            }
            step!(trace, Ratio, WIDTH, "buckling factor under stress that varies across";
                k(psi) = 4.0 + 2.0 * cube(1.0 - psi) + 2.0 * (1.0 - psi));
            return Ok(k);
        }
        ElementHeld::OneEdge => 0.43,
        ElementHeld::BothEdgesClamped => 6.97,
        ElementHeld::OneEdgeClamped => 1.28,
    };
    Ok(trace.input("k", "buckling factor, even compression", Dimension::Ratio, fixed, || {
        Provenance::Table("AISI S100, Appendix 1, 1.2; clamped edges: plate theory".to_owned())
    }))
}
