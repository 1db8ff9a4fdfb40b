//! Weld toes by the structural stress: extrapolation from the surface, then the curves of IIW.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::HotSpotInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, endurance, iiw};

use super::curve::{Lowered, MINER, MINER_IIW, Normal, NormalIiw, Partial};
use super::iiw_detail::thickness;
use super::life::{life, life_to};

/// How the stress at the toe follows from stresses before it.
pub(super) enum HotSpot {
    /// Fine mesh or strain gauges, from 0.4 t and 1.0 t.
    Linear,
    /// Steep stresses, from 0.4 t, 0.9 t and 1.4 t.
    Quadratic,
    /// Coarse mesh with mid-side nodes, from 0.5 t and 1.5 t.
    Coarse,
    /// On the edge of a plate, from 4, 8 and 12 mm.
    Edge,
}

impl HotSpot {
    const fn source(&self) -> Source {
        match self {
            Self::Linear => iiw("2.2.3.4, type a, fine mesh, linear"),
            Self::Quadratic => iiw("2.2.3.4, type a, fine mesh, quadratic"),
            Self::Coarse => iiw("2.2.3.4, type a, coarse mesh"),
            Self::Edge => iiw("2.2.3.4, type b, fine mesh"),
        }
    }

    fn points(&self, input: &HotSpotInput) -> [Option<f64>; 3] {
        match self {
            Self::Linear => [input.sigma_04, input.sigma_10, input.sigma_10],
            Self::Quadratic => [input.sigma_04, input.sigma_09, input.sigma_14],
            Self::Coarse => [input.sigma_05, input.sigma_15, input.sigma_15],
            Self::Edge => [input.sigma_4mm, input.sigma_8mm, input.sigma_12mm],
        }
    }

    /// Whether all of its points are given.
    fn known(&self, input: &HotSpotInput) -> bool {
        self.points(input).iter().all(Option::is_some)
    }

    /// Records and returns the range of the structural stress at the toe.
    fn at_toe(&self, input: &HotSpotInput, trace: &mut Trace) -> Result<f64, NotChecked> {
        let source = self.source();
        let what = "range of the structural stress at the toe";
        match self {
            Self::Linear => {
                let sigma_04 = input.sigma_04(trace)?;
                let sigma_10 = input.sigma_10(trace)?;
                step!(trace, Stress, source, what;
                    sigma_hs(sigma_04, sigma_10) = abs(1.67 * sigma_04 - 0.67 * sigma_10));
                Ok(sigma_hs)
            }
            Self::Quadratic => {
                let sigma_04 = input.sigma_04(trace)?;
                let sigma_09 = input.sigma_09(trace)?;
                let sigma_14 = input.sigma_14(trace)?;
                step!(trace, Stress, source, what;
                    sigma_hs(sigma_04, sigma_09, sigma_14) =
                    abs(2.52 * sigma_04 - 2.24 * sigma_09 + 0.72 * sigma_14));
                Ok(sigma_hs)
            }
            Self::Coarse => {
                let sigma_05 = input.sigma_05(trace)?;
                let sigma_15 = input.sigma_15(trace)?;
                step!(trace, Stress, source, what;
                    sigma_hs(sigma_05, sigma_15) = abs(1.5 * sigma_05 - 0.5 * sigma_15));
                Ok(sigma_hs)
            }
            Self::Edge => {
                let sigma_4mm = input.sigma_4mm(trace)?;
                let sigma_8mm = input.sigma_8mm(trace)?;
                let sigma_12mm = input.sigma_12mm(trace)?;
                step!(trace, Stress, source, what;
                    sigma_hs(sigma_4mm, sigma_8mm, sigma_12mm) =
                    abs(3.0 * sigma_4mm - 3.0 * sigma_8mm + sigma_12mm));
                Ok(sigma_hs)
            }
        }
    }
}

/// Category of EN 1993-1-9 with the largest structural stress that the points give.
pub(super) struct Geometric;

const GEOMETRIC: Source = endurance("Annex B");
const RULES: [HotSpot; 4] = [HotSpot::Linear, HotSpot::Quadratic, HotSpot::Coarse, HotSpot::Edge];

impl Clause<HotSpotInput> for Geometric {
    fn reference(&self) -> Source {
        GEOMETRIC
    }

    fn title(&self) -> &'static str {
        "structural stress at the toe, category of EN 1993-1-9"
    }

    fn short(&self) -> &'static str {
        "toe, EN 1993-1-9"
    }

    fn applies(&self, input: &HotSpotInput) -> Applicability {
        if !RULES.iter().any(|rule| rule.known(input)) {
            return Applicability::DoesNotApply("no rule has all of its points".to_owned());
        }
        Applicability::within(input.t <= 25.0 * MM, || {
            "the categories hold up to 25 mm as they are".to_owned()
        })
    }

    fn formula(
        &self,
        input: &HotSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let points = self.largest(input)?;
        trace.note(|| format!("governing extrapolation: {}", points.title()));
        let sigma_hs = points.at_toe(input, trace)?;
        let fat_hs = input.fat_hs(trace);
        let partial = Partial::of(factors, trace);
        step!(trace, Stress, GEOMETRIC, "category, the same as the FAT class";
            delta_sigma_c(fat_hs) = fat_hs);
        let mut curve = Normal::of(delta_sigma_c, partial, trace);
        for block in &input.blocks {
            let share = block.share(&input.origins, trace);
            let n_e = block.n_e(&input.origins, trace);
            step!(trace, Stress, MINER, "range in this block";
                delta_sigma(share, sigma_hs) = share * sigma_hs);
            curve.add(delta_sigma, n_e, trace);
        }
        let d_sigma = curve.damage();
        step!(trace, Ratio, MINER, "damage of the spectrum"; d_e(d_sigma) = d_sigma);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life(distance, d_e, MINER, trace);
        step!(trace, Ratio, MINER, "utilisation, the sum over 1"; utilisation(d_e) = d_e / 1.0);
        Checked::new(d_e, 1.0, Dimension::Ratio, utilisation)
    }
}

impl Geometric {
    /// The rule with the largest stress at the toe among those that have their points.
    fn largest(&self, input: &HotSpotInput) -> Result<&'static HotSpot, NotChecked> {
        let mut found: Option<(&'static HotSpot, f64)> = None;
        for rule in RULES.iter().filter(|rule| rule.known(input)) {
            let sigma = rule.at_toe(input, &mut Trace::off())?;
            if found.is_none_or(|(_, most)| sigma > most) {
                found = Some((rule, sigma));
            }
        }
        let (rule, _) = found.ok_or(NotChecked::Missing { symbol: "sigma_04", what: "points" })?;
        Ok(rule)
    }
}

impl Clause<HotSpotInput> for HotSpot {
    fn reference(&self) -> Source {
        self.source()
    }

    fn title(&self) -> &'static str {
        match self {
            Self::Linear => "structural stress at the toe, from 0.4 t and 1.0 t",
            Self::Quadratic => "structural stress at the toe, from 0.4 t, 0.9 t and 1.4 t",
            Self::Coarse => "structural stress at the toe, from 0.5 t and 1.5 t",
            Self::Edge => "structural stress at a toe on an edge",
        }
    }

    fn short(&self) -> &'static str {
        match self {
            Self::Linear => "toe, linear",
            Self::Quadratic => "toe, quadratic",
            Self::Coarse => "toe, coarse mesh",
            Self::Edge => "toe on an edge",
        }
    }

    fn applies(&self, input: &HotSpotInput) -> Applicability {
        Applicability::only_if(self.known(input), "the stresses at its points are not given")
    }

    fn formula(
        &self,
        input: &HotSpotInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sigma_hs = self.at_toe(input, trace)?;
        let t = input.t(trace);
        let f_t = thickness(t, |trace| input.n_t(trace), trace)?;
        let fat_hs = input.fat_hs(trace);
        let lowered = Lowered::of(f_t, factors, trace);
        let mut curve = NormalIiw::of_structural(fat_hs, lowered, trace);
        for block in &input.blocks {
            let share = block.share(&input.origins, trace);
            let n_e = block.n_e(&input.origins, trace);
            step!(trace, Stress, MINER_IIW, "range in this block";
                delta_sigma(share, sigma_hs) = share * sigma_hs);
            curve.add(delta_sigma, n_e, trace);
        }
        let d_sigma = curve.damage();
        let d_iiw = factors.d_iiw(trace);
        step!(trace, Ratio, MINER_IIW, "damage of the spectrum"; d_e(d_sigma) = d_sigma);
        let distance = input.distance.map(|_| input.distance(trace)).transpose()?;
        life_to(d_iiw, distance, d_e, MINER_IIW, trace);
        step!(trace, Ratio, MINER_IIW, "utilisation"; utilisation(d_e, d_iiw) = d_e / d_iiw);
        Checked::new(d_e, d_iiw, Dimension::Ratio, utilisation)
    }
}
