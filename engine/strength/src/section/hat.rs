//! Top-hat rails.

use super::error::{SectionError, positive, within};
use super::midline::{Midline, MidlineWall};
use super::properties::{TorsionMethod, Wall, WallSupport};
use super::shape::{Anatomy, NamedPoint, Theory};
use fishplate_quantity::algebra::{hypot, smaller};

const SHAPE: &str = "top-hat rail";

/// A top-hat rail by its wall midlines, open or closed by a plate under its flanges.
///
/// Drawing origin: half way between the flanges, on their midline; the top is at +z. The thin-wall convention holds: no
/// stiffness of a wall across its own thickness, and the plate's midline taken at the flanges' midline.
#[derive(Debug, Clone, PartialEq)]
pub struct Hat {
    midline: Midline,
    closed: bool,
}

impl Hat {
    /// An open hat: width of the top, height, width of each outward flange (midline dimensions) and thickness, m.
    ///
    /// # Errors
    /// A dimension is not positive or the thickness is not small against it.
    pub fn open(top: f64, height: f64, flange: f64, t: f64) -> Result<Self, SectionError> {
        let (nodes, walls) = hat(top, height, flange, t)?;
        Ok(Self { midline: Midline::new(nodes, walls)?, closed: false })
    }

    /// A hat closed by a plate of its own width and thickness, m, centred under it.
    ///
    /// # Errors
    /// As [`Hat::open`], or the plate is too narrow to reach both webs.
    pub fn closed(
        top: f64,
        height: f64,
        flange: f64,
        t: f64,
        plate_width: f64,
        plate_t: f64,
    ) -> Result<Self, SectionError> {
        let (mut nodes, mut walls) = hat(top, height, flange, t)?;
        within(SHAPE, "plate width", plate_width, top, 10.0)?;
        within(SHAPE, "plate thickness", plate_t, 1e-6, smaller(top, height) / 4.0)?;
        walls.push(MidlineWall { from: 1, to: 4, t: plate_t });
        if plate_width > top + 1e-9 {
            nodes.extend([(-plate_width / 2.0, 0.0), (plate_width / 2.0, 0.0)]);
            walls.push(MidlineWall { from: 6, to: 1, t: plate_t });
            walls.push(MidlineWall { from: 4, to: 7, t: plate_t });
        }
        Ok(Self { midline: Midline::new(nodes, walls)?, closed: true })
    }

    /// Whether a plate closes it.
    #[must_use]
    pub fn is_closed(&self) -> bool {
        self.closed
    }

    /// The midline: nodes left flange tip, left foot, left top, right top, right foot, right flange tip, and the plate's
    /// ends; walls left flange, left web, top, right web, right flange, and the plate's parts.
    #[must_use]
    pub fn midline(&self) -> &Midline {
        &self.midline
    }

    pub(super) fn anatomy(&self) -> Anatomy {
        let method = if self.closed {
            TorsionMethod::BredtWithOpenWalls
        } else {
            TorsionMethod::ThinWallSum
        };
        let torsion = self.midline.torsion(method);
        let n = self.midline.nodes();
        let t = self.midline.walls()[0].t;
        let h = t / 2.0;
        let (tip, half, height) = (n[5].0, n[3].0, n[2].1);
        let mut points = vec![
            NamedPoint::new("left flange tip, lower face", (-tip, -h), Some(0)),
            NamedPoint::new("right flange tip, lower face", (tip, -h), Some(5)),
            NamedPoint::new("left flange tip, upper face", (-tip, h), Some(0)),
            NamedPoint::new("right flange tip, upper face", (tip, h), Some(5)),
            NamedPoint::new("right top corner", (half + h, height + h), Some(3)),
            NamedPoint::new("left top corner", (-half - h, height + h), Some(2)),
        ];
        if let Some(plate) = self.midline.walls().get(5) {
            let (edge, below) = (n.get(7).map_or(half, |p| p.0), -plate.t / 2.0);
            points.push(NamedPoint::new("left plate edge", (-edge, below), n.get(6).map(|_| 6)));
            points.push(NamedPoint::new("right plate edge", (edge, below), n.get(7).map(|_| 7)));
        }
        let enclosed = 2.0 * half * height;
        Anatomy {
            region: self.midline.region(),
            torsion: torsion.expect("the method was chosen by whether the hat is closed"),
            enclosed_area: self.closed.then_some(enclosed),
            points,
            walls: self.flat_walls(),
            theory: Theory::Thin { midline: self.midline.clone(), symmetric: false },
        }
    }

    /// Flat widths are midline widths, a little more than the true flats: the safe side.
    fn flat_walls(&self) -> Vec<Wall> {
        let n = self.midline.nodes();
        let names = [
            "left flange",
            "left web",
            "top",
            "right web",
            "right flange",
            "plate",
            "left plate edge",
            "right plate edge",
        ];
        // An outstand starts at its foot, so the walls that run tip to foot are turned.
        let ends = [(1, 0), (1, 2), (2, 3), (3, 4), (4, 5), (1, 4), (1, 6), (4, 7)];
        let walls = self.midline.walls().iter().zip(names.iter().zip(ends)).enumerate();
        let walls = walls.map(|(i, (wall, (name, (from, to))))| {
            let (start, end) = (n[from], n[to]);
            let c = hypot(end.0 - start.0, end.1 - start.1);
            let free = matches!(i, 0 | 4 | 6 | 7);
            let support = if free { WallSupport::Outstand } else { WallSupport::Internal };
            Wall { name: (*name).to_owned(), c, t: wall.t, overall: c, support, start, end }
        });
        walls.collect()
    }
}

type Graph = (Vec<(f64, f64)>, Vec<MidlineWall>);

fn hat(top: f64, height: f64, flange: f64, t: f64) -> Result<Graph, SectionError> {
    positive(SHAPE, "top width", top)?;
    positive(SHAPE, "height", height)?;
    positive(SHAPE, "flange width", flange)?;
    let smallest = smaller(smaller(top, height), flange);
    within(SHAPE, "thickness", t, 1e-6, smallest / 4.0)?;
    let (half, tip) = (top / 2.0, top / 2.0 + flange);
    let nodes =
        vec![(-tip, 0.0), (-half, 0.0), (-half, height), (half, height), (half, 0.0), (tip, 0.0)];
    let walls = (0..5).map(|i| MidlineWall { from: i, to: i + 1, t }).collect();
    Ok((nodes, walls))
}
