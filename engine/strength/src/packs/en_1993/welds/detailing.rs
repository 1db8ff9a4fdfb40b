//! Size, length and pattern of weld runs.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{Stitched, WeldRunInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MM, THIN, joints};

use super::run::effective_length;
use super::throat;

/// Least throat.
pub(super) struct LeastThroat;

const LEAST_THROAT: Source = joints("4.5.2(2)");

impl Clause<WeldRunInput> for LeastThroat {
    fn reference(&self) -> Source {
        LEAST_THROAT
    }

    fn title(&self) -> &'static str {
        "least throat of a fillet weld"
    }

    fn short(&self) -> &'static str {
        "least throat"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        // EN 1993-1-8, 4.1(1): its rules for welds begin at 4 mm; below, EN 1993-1-3 asks for none.
        let thick = input.t_thin.is_none_or(|t| t >= THIN);
        Applicability::only_if(
            thick,
            "the thinner part is under 4 mm: EN 1993-1-3 has no least throat",
        )
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        step!(trace, Length, LEAST_THROAT, "least throat"; a_min() = 3.0 * MM);
        step!(trace, Ratio, LEAST_THROAT, "required over provided"; utilisation(a_min, a) = a_min / a);
        Checked::new(a_min, a, Dimension::Length, utilisation)
    }
}

/// Least length.
pub(super) struct LeastLength;

const LEAST_LENGTH: Source = joints("4.5.1(2)");

impl Clause<WeldRunInput> for LeastLength {
    fn reference(&self) -> Source {
        LEAST_LENGTH
    }

    fn title(&self) -> &'static str {
        "least effective length of a fillet weld"
    }

    fn short(&self) -> &'static str {
        "least length"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &WeldRunInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let gap = input.gap(trace);
        let a = throat(z, gap, trace)?;
        let l_eff = effective_length(input, a, trace)?;
        step!(trace, Length, LEAST_LENGTH, "least effective length"; l_min(a) = larger(30.0 * MM, 6.0 * a));
        step!(trace, Ratio, LEAST_LENGTH, "required over provided";
            utilisation(l_min, l_eff) = l_min / l_eff);
        Checked::new(l_min, l_eff, Dimension::Length, utilisation)
    }
}

/// Largest leg along the edge of a sheet: a larger one melts the edge away.
pub(super) struct LegAtEdge;

const LEG_AT_EDGE: Source = Source::practice("leg of a bead along the edge of a sheet");

impl Clause<WeldRunInput> for LegAtEdge {
    fn reference(&self) -> Source {
        LEG_AT_EDGE
    }

    fn title(&self) -> &'static str {
        "largest leg along the edge of a sheet"
    }

    fn short(&self) -> &'static str {
        "largest leg"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        Applicability::only_if(input.t_edge.is_some(), "the bead runs along no edge")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let t_edge = input.t_edge(trace)?;
        step!(trace, Ratio, LEG_AT_EDGE, "provided over allowed";
            utilisation(z, t_edge) = z / t_edge);
        Checked::new(z, t_edge, Dimension::Length, utilisation)
    }
}

/// Largest gap between stitches in tension.
pub(super) struct StitchGapTension;

const STITCH_TENSION: Source = joints("Figure 4.1, L1");

impl Clause<WeldRunInput> for StitchGapTension {
    fn reference(&self) -> Source {
        STITCH_TENSION
    }

    fn title(&self) -> &'static str {
        "gap between stitches of a part in tension"
    }

    fn short(&self) -> &'static str {
        "stitch gap, tension"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        let stitches = input.l_gap.is_some() && input.stitched == Stitched::Tension;
        Applicability::only_if(stitches, "the run is not one of a row of stitches in tension")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_gap = input.l_gap(trace)?;
        let t_thin = input.t_thin(trace)?;
        step!(trace, Length, STITCH_TENSION, "largest gap";
            l_1_max(t_thin) = smaller(16.0 * t_thin, 200.0 * MM));
        step!(trace, Ratio, STITCH_TENSION, "provided over allowed";
            utilisation(l_gap, l_1_max) = l_gap / l_1_max);
        warn_of_rust(trace);
        Checked::new(l_gap, l_1_max, Dimension::Length, utilisation)
    }
}

/// Largest gap between stitches in compression or shear.
pub(super) struct StitchGapCompression;

const STITCH_COMPRESSION: Source = joints("Figure 4.1, L2");

impl Clause<WeldRunInput> for StitchGapCompression {
    fn reference(&self) -> Source {
        STITCH_COMPRESSION
    }

    fn title(&self) -> &'static str {
        "gap between stitches of a part in compression or shear"
    }

    fn short(&self) -> &'static str {
        "stitch gap, pressed"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        let stitches = input.l_gap.is_some() && input.stitched == Stitched::Compression;
        Applicability::only_if(stitches, "the run is not one of a row of stitches in compression")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_gap = input.l_gap(trace)?;
        let t_thin = input.t_thin(trace)?;
        let b_part = input.b_part(trace)?;
        step!(trace, Length, STITCH_COMPRESSION, "largest gap";
            l_2_max(t_thin, b_part) = smaller(smaller(12.0 * t_thin, 0.25 * b_part), 200.0 * MM));
        step!(trace, Ratio, STITCH_COMPRESSION, "provided over allowed";
            utilisation(l_gap, l_2_max) = l_gap / l_2_max);
        warn_of_rust(trace);
        Checked::new(l_gap, l_2_max, Dimension::Length, utilisation)
    }
}

/// 4.3.2(3): stitches are for dry places.
fn warn_of_rust(trace: &mut Trace) {
    trace.note(|| "stitches let water in: not in corrosive places unless sealed".to_owned());
}

/// Least length of the stitch at the end of a row.
pub(super) struct StitchAtEnd;

const STITCH_END: Source = joints("Figure 4.1, Lwe");

impl Clause<WeldRunInput> for StitchAtEnd {
    fn reference(&self) -> Source {
        STITCH_END
    }

    fn title(&self) -> &'static str {
        "stitch at the end of the row"
    }

    fn short(&self) -> &'static str {
        "end stitch"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        Applicability::only_if(input.l_end.is_some(), "the run is not at the end of a row")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_end = input.l_end(trace)?;
        let b_part = input.b_part(trace)?;
        step!(trace, Length, STITCH_END, "least length of the end stitch";
            l_we_min(b_part) = 0.75 * b_part);
        step!(trace, Ratio, STITCH_END, "required over provided";
            utilisation(l_we_min, l_end) = l_we_min / l_end);
        Checked::new(l_we_min, l_end, Dimension::Length, utilisation)
    }
}
