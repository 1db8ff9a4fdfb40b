//! Ties over an area: spots (plug welds) and nodes that follow the mean movement of an area.
//!
//! A tie is stiff against the plates and not endlessly so: per movement `pi a E t`, which is what
//! a seam round the area with elements of the size of its diameter would have
//! ([`super::seam`]); rotations at half the radius of the area.

use super::area::{hold, ring};
use super::motion::{Motion, Sample};
use super::row::Row;
use super::seam::TIE;
use super::site::{Site, fault, length_words, point_words};
use crate::plates::answer::{SpotAnswer, SpreadAnswer};
use crate::plates::model::{PlateId, Ring, Spot, SpotId, Spread, SpreadId, SpreadKind};
use crate::vector::{Vec3, norm, sub};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeSet;
use std::f64::consts::PI;

/// Two areas or an area and a node, held together by six rows.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tie {
    first_row: usize,
}

impl Tie {
    fn new(rows: &mut Vec<Row>, six: [Row; 6]) -> Self {
        let first_row = rows.len();
        rows.extend(six);
        Tie { first_row }
    }

    /// Ties a spot.
    ///
    /// # Errors
    /// All faults of the spot.
    pub(crate) fn of_spot(
        site: &Site<'_>,
        id: SpotId,
        rows: &mut Vec<Row>,
    ) -> Result<Self, Vec<Fault>> {
        let spot = &site.draft.spots[id.0];
        let [a, b] = [0, 1].map(|side| spot_motion(site, id, spot, side));
        let (a, b) = match (a, b) {
            (Ok(a), Ok(b)) => (a, b),
            (a, b) => return Err(a.err().into_iter().chain(b.err()).collect()),
        };
        let wall = |plate: PlateId| site.youngs(plate) * site.plate(plate).thickness;
        let weaker = smaller(wall(spot.plates[0]), wall(spot.plates[1]));
        let six = hold(&a, &b, spot.centre, PI * TIE * weaker, 0.25 * spot.diameter);
        Ok(Self::new(rows, six))
    }

    /// Ties a node to the mean movement of its area; `None` for a rigid area, which is not held
    /// by springs.
    ///
    /// # Errors
    /// All faults of the spread.
    pub(crate) fn of_spread(
        site: &Site<'_>,
        id: SpreadId,
        rows: &mut Vec<Row>,
    ) -> Result<Option<Self>, Vec<Fault>> {
        let spread = &site.draft.spreads[id.0];
        if spread.kind == SpreadKind::Rigid {
            return Ok(None);
        }
        let position = |node: usize| site.draft.frame.nodes[node].position;
        let node = Motion::of_node(spread.node.0, position(spread.node.0));
        let (samples, wall) = corner_samples(site, spread);
        let centre = position(spread.node.0);
        let Some(area) = Motion::mean(&samples, centre) else {
            return Err(vec![fault(
                format!("spreads[{}].area", id.0),
                format!("the nodes of spread `{}` lie at one point", spread.name),
                "nodes that are spread over an area",
                "name more nodes of the area",
            )]);
        };
        let radius = samples
            .iter()
            .fold(0.0, |top, s| larger(top, norm(sub(s.foot.point, samples[0].foot.point))));
        let six = hold(&node, &area, centre, PI * TIE * wall, 0.25 * radius);
        Ok(Some(Self::new(rows, six)))
    }

    /// Force and moment of the first on the second about the point at which they are held.
    fn force(&self, rows: &[Row], movements: &[f64]) -> [f64; 6] {
        [0, 1, 2, 3, 4, 5].map(|i| rows[self.first_row + i].force(movements))
    }

    pub(crate) fn spot_answer(&self, spot: SpotId, rows: &[Row], u: &[f64]) -> SpotAnswer {
        SpotAnswer { spot, force: self.force(rows, u) }
    }

    pub(crate) fn spread_answer(&self, spread: SpreadId, rows: &[Row], u: &[f64]) -> SpreadAnswer {
        SpreadAnswer { spread, force: self.force(rows, u) }
    }
}

fn spot_motion(site: &Site<'_>, id: SpotId, spot: &Spot, side: usize) -> Result<Motion, Fault> {
    let plate = spot.plates[side];
    let path = format!("spots[{}].plates[{side}]", id.0);
    let off = |given: String, allowed: &str| {
        fault(
            path.clone(),
            given,
            allowed,
            "move the spot onto both plates or name the other plate",
        )
    };
    let name = &site.plate(plate).name;
    let at = point_words(spot.centre);
    let Some(foot) = site.foot(plate, spot.centre) else {
        return Err(off(format!("plate `{name}` has no elements"), "a plate with elements"));
    };
    let thickness = site.plate(plate).thickness;
    if foot.height(spot.centre).abs() > thickness {
        return Err(off(
            format!(
                "spot `{}` at {at} lies {} off the middle surface of plate `{name}`",
                spot.name,
                length_words(foot.height(spot.centre).abs())
            ),
            "a spot on the face at which the two plates meet (half a thickness off, and no more \
             than a whole one)",
        ));
    }
    let disc = Ring { centre: spot.centre, axis: foot.normal, inside: 0.0, outside: spot.diameter };
    let found = ring(site, plate, &disc);
    let motion = Motion::mean(&found.samples, spot.centre);
    match motion {
        Some(motion) if found.share > 0.9 => Ok(motion),
        _ => Err(off(
            format!(
                "{:.0} % of spot `{}` at {at} lies on plate `{name}`",
                100.0 * found.share,
                spot.name
            ),
            "a spot that lies within both plates",
        )),
    }
}

/// The corners of an area with equal weights, and the stiffest of their plates, N/m.
fn corner_samples(site: &Site<'_>, spread: &Spread) -> (Vec<Sample>, f64) {
    let wanted: BTreeSet<usize> = spread.area.iter().map(|n| n.0).collect();
    let mut seen = BTreeSet::new();
    let mut samples = Vec::new();
    let mut wall = 0.0;
    for (plate, p) in site.draft.plates.iter().enumerate() {
        let plate = PlateId(plate);
        for patch in site.surface(plate).patches() {
            for &node in patch.corners() {
                if wanted.contains(&node) && seen.insert(node) {
                    let point: Vec3 = site.draft.frame.nodes[node].position;
                    if let Some(mut foot) = site.foot(plate, point) {
                        foot.shares = [(node, 1.0), (node, 0.0), (node, 0.0), (node, 0.0)];
                        foot.point = point;
                        samples.push(Sample { foot, weight: 1.0, thickness: p.thickness });
                        wall = larger(wall, site.youngs(plate) * p.thickness);
                    }
                }
            }
        }
    }
    (samples, wall)
}
