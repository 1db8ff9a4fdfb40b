//! Points of plates, and buckling of plates under all their stresses together.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{PlateBucklingInput, PlatePointInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::available;
use crate::packs::american::factors::{BENDING, COMPRESSION, TENSION_YIELD};
use crate::packs::american::members::column_curve;
use crate::packs::plane::{at_faces, plastic, sizes, slender};

const THROUGH: Source =
    Source::new("AISC Steel Construction Manual, 15th ed., from memory", "Part 9, combined plates");
const BENT: Source = aisc("F11.1, a rectangle");
const PULLED: Source = aisc("J4.1(a)");
const FACES: Source = Source::practice("first yield in service by distortion energy");
const COLUMN: Source = aisc("E3, with the elastic stress of an analysis");

/// Yielding through the whole thickness: moment against the square of the force.
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
        step!(trace, LineForce, PULLED, "nominal membrane strength"; n_n(t, f_y) = t * f_y);
        step!(trace, Force, BENT, "nominal moment per length"; m_n(t, f_y) = sq(t) * f_y / 4.0);
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            LineForce, PULLED, "available membrane strength"; n_c(n_n));
        available!(trace, factors, phi_b or omega_b of BENDING;
            Force, BENT, "available moment per length"; m_c(m_n));
        step!(trace, Ratio, THROUGH, "use by membrane forces"; r_n(n_ed, n_c) = n_ed / n_c);
        step!(trace, Ratio, THROUGH, "use by moments"; r_m(m_ed, m_c) = m_ed / m_c);
        let utilisation = plastic(r_n, r_m, THROUGH, trace);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// First yield at a face, in service.
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
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma = at_faces(input, trace);
        let f_y = input.f_y(trace);
        step!(trace, Ratio, FACES, "utilisation"; utilisation(sigma, f_y) = sigma / f_y);
        Checked::new(sigma, f_y, Dimension::Stress, utilisation)
    }
}

/// Buckling by the column curve, which lies below every curve for plates.
pub(super) struct ColumnCurve;

impl Clause<PlateBucklingInput> for ColumnCurve {
    fn reference(&self) -> Source {
        COLUMN
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
        column_curve!(trace, Ratio, alpha_n(alpha_ult, alpha_cr));
        available!(trace, factors, phi_c or omega_c of COMPRESSION;
            Ratio, COLUMN, "times the loads that the plate carries"; alpha_c(alpha_n));
        step!(trace, Ratio, COLUMN, "utilisation"; utilisation(alpha_c) = 1.0 / alpha_c);
        Checked::new(1.0, alpha_c, Dimension::Ratio, utilisation)
    }
}
