//! Size, length and pattern of fillet runs, their fit-up and undercut.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{Stitched, WeldRunInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::{IN, aisc, d1_1, e_of_steel};

use super::FIT_UP;

/// Least leg: a smaller bead cools too fast on a thick part.
pub(super) struct LeastLeg;

const LEAST_LEG: Source = aisc("Table J2.4");

impl Clause<WeldRunInput> for LeastLeg {
    fn reference(&self) -> Source {
        LEAST_LEG
    }

    fn title(&self) -> &'static str {
        "least leg of a fillet weld"
    }

    fn short(&self) -> &'static str {
        "least leg"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        Applicability::only_if(input.t_thin.is_some(), "the thinner part is not stated")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let t_thin = input.t_thin(trace)?;
        let what = "least leg by the thinner part";
        let z_tab = trace.input("z_tab", what, Dimension::Length, table_j2_4(t_thin), || {
            Provenance::Table("AISC 360, Table J2.4".to_owned())
        });
        step!(trace, Length, d1_1("least fillet size"), "least leg, no larger than the thinner part";
            z_min(z_tab, t_thin) = smaller(z_tab, t_thin));
        step!(trace, Ratio, LEAST_LEG, "required over provided"; utilisation(z_min, z) = z_min / z);
        Checked::new(z_min, z, Dimension::Length, utilisation)
    }
}

/// Least leg by the thinner part, from memory.
fn table_j2_4(t: f64) -> f64 {
    let up_to = |limit: f64| t <= (limit + 1e-6) * IN;
    let leg = match () {
        () if up_to(0.25) => 1.0 / 8.0,
        () if up_to(0.5) => 3.0 / 16.0,
        () if up_to(0.75) => 1.0 / 4.0,
        () => 5.0 / 16.0,
    };
    leg * IN
}

/// Largest leg along the edge of a part: a larger one melts the edge away.
pub(super) struct LegAtEdge;

const LEG_AT_EDGE: Source = aisc("J2.2b, largest leg");

impl Clause<WeldRunInput> for LegAtEdge {
    fn reference(&self) -> Source {
        LEG_AT_EDGE
    }

    fn title(&self) -> &'static str {
        "largest leg along an edge"
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
        step!(trace, Length, LEG_AT_EDGE, "largest leg, from 1/4 in on 1/16 in below the thickness";
            z_max(t_edge) = if t_edge < 0.25 * IN { t_edge } else { t_edge - IN / 16.0 });
        step!(trace, Ratio, LEG_AT_EDGE, "provided over allowed"; utilisation(z, z_max) = z / z_max);
        Checked::new(z, z_max, Dimension::Length, utilisation)
    }
}

/// Least length; of a shorter run only a quarter of the length would count as leg.
pub(super) struct LeastLength;

const LEAST_LENGTH: Source = aisc("J2.2b, least length");

impl Clause<WeldRunInput> for LeastLength {
    fn reference(&self) -> Source {
        LEAST_LENGTH
    }

    fn title(&self) -> &'static str {
        "least length of a fillet weld"
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
        let l = input.l(trace);
        step!(trace, Length, LEAST_LENGTH, "least length, four legs"; l_min(z) = 4.0 * z);
        step!(trace, Ratio, LEAST_LENGTH, "required over provided"; utilisation(l_min, l) = l_min / l);
        Checked::new(l_min, l, Dimension::Length, utilisation)
    }
}

/// Least length of a stitch.
pub(super) struct StitchLength;

const STITCH: Source = aisc("J2.2b, intermittent fillets");

impl Clause<WeldRunInput> for StitchLength {
    fn reference(&self) -> Source {
        STITCH
    }

    fn title(&self) -> &'static str {
        "least length of a stitch"
    }

    fn short(&self) -> &'static str {
        "stitch length"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        Applicability::only_if(input.l_gap.is_some(), "the run is not one of a row of stitches")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let z = input.z(trace);
        let l = input.l(trace);
        step!(trace, Length, STITCH, "least length, four legs and 1 1/2 in";
            l_min(z) = larger(4.0 * z, 1.5 * IN));
        step!(trace, Ratio, STITCH, "required over provided"; utilisation(l_min, l) = l_min / l);
        Checked::new(l_min, l, Dimension::Length, utilisation)
    }
}

/// Largest gap between stitches of a part in tension, for parts that are painted or do not rust.
pub(super) struct StitchGapTension;

const GAP_TENSION: Source = aisc("D4 and J3.5");

impl Clause<WeldRunInput> for StitchGapTension {
    fn reference(&self) -> Source {
        GAP_TENSION
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
        step!(trace, Length, GAP_TENSION, "largest gap";
            l_gap_max(t_thin) = smaller(24.0 * t_thin, 12.0 * IN));
        step!(trace, Ratio, GAP_TENSION, "provided over allowed";
            utilisation(l_gap, l_gap_max) = l_gap / l_gap_max);
        warn_of_rust(trace);
        Checked::new(l_gap, l_gap_max, Dimension::Length, utilisation)
    }
}

/// Largest gap between stitches of a part in compression.
pub(super) struct StitchGapCompression;

const GAP_COMPRESSION: Source = aisc("E6.2");

impl Clause<WeldRunInput> for StitchGapCompression {
    fn reference(&self) -> Source {
        GAP_COMPRESSION
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
        let f_y = input.f_y(trace)?;
        let e_steel = e_of_steel(trace);
        step!(trace, Length, GAP_COMPRESSION, "largest gap, E is 29 000 ksi";
            l_gap_max(t_thin, f_y, e_steel) = smaller(0.75 * t_thin * sqrt(e_steel / f_y), 12.0 * IN));
        step!(trace, Ratio, GAP_COMPRESSION, "provided over allowed";
            utilisation(l_gap, l_gap_max) = l_gap / l_gap_max);
        warn_of_rust(trace);
        Checked::new(l_gap, l_gap_max, Dimension::Length, utilisation)
    }
}

/// Stitches are for dry places: common practice, no source.
fn warn_of_rust(trace: &mut Trace) {
    trace.note(|| "stitches let water in: not in corrosive places unless sealed".to_owned());
}

/// Least lap.
pub(super) struct LeastLap;

const LAP: Source = aisc("J2.2b, lap");

impl Clause<WeldRunInput> for LeastLap {
    fn reference(&self) -> Source {
        LAP
    }

    fn title(&self) -> &'static str {
        "least lap"
    }

    fn short(&self) -> &'static str {
        "least lap"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        let stated = input.overlap.is_some() && input.t_thin.is_some();
        Applicability::only_if(stated, "overlap or thinner part are not stated")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let overlap = input.overlap(trace)?;
        let t_thin = input.t_thin(trace)?;
        step!(trace, Length, LAP, "least lap, five thicknesses and 1 in";
            overlap_min(t_thin) = larger(5.0 * t_thin, IN));
        step!(trace, Ratio, LAP, "required over provided";
            utilisation(overlap_min, overlap) = overlap_min / overlap);
        Checked::new(overlap_min, overlap, Dimension::Length, utilisation)
    }
}

/// Largest fit-up gap.
pub(super) struct FitUp;

impl Clause<WeldRunInput> for FitUp {
    fn reference(&self) -> Source {
        FIT_UP
    }

    fn title(&self) -> &'static str {
        "largest fit-up gap of a fillet"
    }

    fn short(&self) -> &'static str {
        "fit-up"
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
        let gap = input.gap(trace);
        step!(trace, Length, FIT_UP, "largest gap"; gap_max() = 3.0 / 16.0 * IN);
        step!(trace, Ratio, FIT_UP, "provided over allowed";
            utilisation(gap, gap_max) = gap / gap_max);
        trace.note(|| "over 1/16 in the gap is taken off the leg".to_owned());
        Checked::new(gap, gap_max, Dimension::Length, utilisation)
    }
}

/// Largest undercut, for loads that do not repeat.
pub(super) struct Undercut;

const UNDERCUT: Source = d1_1("visual inspection, undercut");

impl Clause<WeldRunInput> for Undercut {
    fn reference(&self) -> Source {
        UNDERCUT
    }

    fn title(&self) -> &'static str {
        "largest undercut beside a bead"
    }

    fn short(&self) -> &'static str {
        "undercut"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &WeldRunInput) -> Applicability {
        Applicability::only_if(input.undercut.is_some(), "no undercut is stated")
    }

    fn formula(
        &self,
        input: &WeldRunInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let undercut = input.undercut(trace)?;
        step!(trace, Length, UNDERCUT, "largest undercut in parts under 1 in";
            undercut_max() = IN / 32.0);
        step!(trace, Ratio, UNDERCUT, "provided over allowed";
            utilisation(undercut, undercut_max) = undercut / undercut_max);
        trace.note(|| {
            "across the pull of a part whose load repeats only 0.01 in are allowed".to_owned()
        });
        Checked::new(undercut, undercut_max, Dimension::Length, utilisation)
    }
}
