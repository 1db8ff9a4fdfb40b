//! Thin-walled sections given directly by their midline, with any number of cells.

use super::midline::Midline;
use super::properties::{TorsionMethod, Wall, WallSupport};
use super::shape::{Anatomy, NamedPoint, Theory};

/// A thin-walled section by its midline. Drawing origin: that of the nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct MultiCell {
    midline: Midline,
}

impl MultiCell {
    /// A section of the given midline.
    #[must_use]
    pub fn new(midline: Midline) -> Self {
        Self { midline }
    }

    /// The midline.
    #[must_use]
    pub fn midline(&self) -> &Midline {
        &self.midline
    }

    /// Wall flats are midline lengths; a wall with an end where no other wall meets it is an outstand.
    pub(super) fn anatomy(&self) -> Anatomy {
        let thin = self.midline.thin_walled();
        let by = |method| thin.torsion(&self.midline, method);
        let torsion = by(TorsionMethod::BredtWithOpenWalls)
            .or_else(|| by(TorsionMethod::ThinWallSum))
            .expect("a midline is either open or has a cell");
        let (nodes, walls) = (self.midline.nodes(), self.midline.walls());
        let ends = |node: usize| walls.iter().filter(|w| w.from == node || w.to == node).count();
        let flat = |(i, wall): (usize, &super::MidlineWall)| {
            let (from_free, to_free) = (ends(wall.from) == 1, ends(wall.to) == 1);
            let (start, end) = if from_free && !to_free {
                (nodes[wall.to], nodes[wall.from])
            } else {
                (nodes[wall.from], nodes[wall.to])
            };
            let free = from_free || to_free;
            let support = if free { WallSupport::Outstand } else { WallSupport::Internal };
            let c = self.midline.strip(i).length();
            let name = format!("wall {}", i + 1);
            Wall { name, c, t: wall.t, overall: c, support, start, end }
        };
        let named =
            |(i, p): (usize, &(f64, f64))| NamedPoint::new(&format!("node {}", i + 1), *p, Some(i));
        Anatomy {
            region: self.midline.region(),
            enclosed_area: enclosed(&torsion, &thin.flows, &self.midline),
            torsion,
            points: nodes.iter().enumerate().map(named).collect(),
            walls: walls.iter().enumerate().map(flat).collect(),
            theory: Theory::Thin { midline: self.midline.clone(), symmetric: false },
        }
    }
}

/// Area within the outer boundary of the cells: that of the walls with a cell on one side only. It is known
/// here without a search where the section has one cell, in which all flows are equal.
fn enclosed(torsion: &super::TorsionValue, flows: &[f64], midline: &Midline) -> Option<f64> {
    if torsion.method != TorsionMethod::BredtWithOpenWalls {
        return None;
    }
    let largest = flows.iter().map(|f| f.abs()).fold(0.0, fishplate_quantity::algebra::larger);
    let running = |f: f64| f.abs() > 1e-9 * largest;
    let even = flows.iter().all(|f| !running(*f) || (f.abs() - largest).abs() < 1e-9 * largest);
    let bredt = midline.torsion(TorsionMethod::Bredt)?;
    // In a single cell the flow over G theta is J / (2 A).
    even.then(|| bredt.constant / (2.0 * largest))
}
