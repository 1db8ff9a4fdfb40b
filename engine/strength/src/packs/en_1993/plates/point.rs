//! Points of plates, and buckling of plates under all their stresses together.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{PlateBucklingInput, PlateMade, PlatePointInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{general, plated};
use crate::packs::plane::{PLATEAU, at_faces, plastic, sizes, slender};

const THROUGH: Source = general("6.2.9.1(3), a solid rectangle, with 6.2.1(5)");
const FACES: Source = general("6.2.1(5) (6.1)");
const REDUCED: Source = plated("10(3) to (5) (10.1), (10.2)");
const CURVE: Source = plated("Annex B.1 (B.1), Table B.1");

/// Yielding through the whole thickness.
///
/// Along one direction it is the standard's rule for a solid rectangle, moment against the square
/// of the axial force. In a plane state the sizes by distortion energy stand for both: exact where
/// membrane forces and moments are alike in direction, and never less than that rule elsewhere.
pub(super) struct ThroughThickness;

impl Clause<PlatePointInput> for ThroughThickness {
    fn reference(&self) -> Source {
        THROUGH
    }

    fn title(&self) -> &'static str {
        "plate yields through its thickness"
    }

    fn short(&self) -> &'static str {
        "plate, plastic"
    }

    fn applies(&self, _: &PlatePointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PlatePointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (n_ed, m_ed) = sizes(input, trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, LineForce, THROUGH, "membrane resistance";
            n_rd(t, f_y, gamma_m0) = t * f_y / gamma_m0);
        step!(trace, Force, THROUGH, "plastic moment resistance per length";
            m_rd(t, f_y, gamma_m0) = sq(t) * f_y / (4.0 * gamma_m0));
        step!(trace, Ratio, THROUGH, "use by membrane forces"; r_n(n_ed, n_rd) = n_ed / n_rd);
        step!(trace, Ratio, THROUGH, "use by moments"; r_m(m_ed, m_rd) = m_ed / m_rd);
        let utilisation = plastic(r_n, r_m, THROUGH, trace);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// First yield at a face.
pub(super) struct AtFaces;

impl Clause<PlatePointInput> for AtFaces {
    fn reference(&self) -> Source {
        FACES
    }

    fn title(&self) -> &'static str {
        "first yield at a face of the plate"
    }

    fn short(&self) -> &'static str {
        "plate, first yield"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, _: &PlatePointInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &PlatePointInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma = at_faces(input, trace);
        let f_y = input.f_y(trace);
        let gamma_m0 = factors.gamma_m0(trace);
        step!(trace, Stress, FACES, "limit"; f_yd(f_y, gamma_m0) = f_y / gamma_m0);
        step!(trace, Ratio, FACES, "utilisation"; utilisation(sigma, f_yd) = sigma / f_yd);
        Checked::new(sigma, f_yd, Dimension::Stress, utilisation)
    }
}

/// The reduced stress method with the general curve of Annex B.
pub(super) struct Reduced;

impl Clause<PlateBucklingInput> for Reduced {
    fn reference(&self) -> Source {
        REDUCED
    }

    fn title(&self) -> &'static str {
        "buckling of the plate under all its stresses together"
    }

    fn short(&self) -> &'static str {
        "plate buckling"
    }

    fn applies(&self, input: &PlateBucklingInput) -> Applicability {
        slender(input)
    }

    fn formula(
        &self,
        input: &PlateBucklingInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let alpha_cr = input.alpha_cr(trace);
        let alpha_ult = input.alpha_ult(trace);
        let gamma_m1 = factors.gamma_m1(trace);
        let table = |symbol, what, value, trace: &mut Trace| {
            trace.input(symbol, what, Dimension::Ratio, value, || {
                Provenance::Table(format!("{}, {}", CURVE.document, CURVE.place))
            })
        };
        let imperfection = match input.made {
            PlateMade::Rolled => 0.13,
            PlateMade::Welded => 0.34,
        };
        let alpha_p = table("alpha_p", "imperfection", imperfection, trace);
        let lambda_p0 = table("lambda_p0", "length of the plateau", PLATEAU, trace);
        step!(trace, Ratio, REDUCED, "slenderness of the plate";
            lambda_p(alpha_ult, alpha_cr) = sqrt(alpha_ult / alpha_cr));
        step!(trace, Ratio, CURVE, "auxiliary number";
            phi_p(alpha_p, lambda_p, lambda_p0) =
            0.5 * (1.0 + alpha_p * (lambda_p - lambda_p0) + lambda_p));
        step!(trace, Ratio, CURVE, "share that buckling leaves";
            rho(phi_p, lambda_p, lambda_p0) =
            if lambda_p <= lambda_p0 { 1.0 }
            else { smaller(1.0, 1.0 / (phi_p + sqrt(sq(phi_p) - lambda_p))) });
        step!(trace, Ratio, REDUCED, "times the loads that the plate carries";
            alpha_rd(rho, alpha_ult, gamma_m1) = rho * alpha_ult / gamma_m1);
        step!(trace, Ratio, REDUCED, "utilisation"; utilisation(alpha_rd) = 1.0 / alpha_rd);
        Checked::new(1.0, alpha_rd, Dimension::Ratio, utilisation)
    }
}
