//! Walls as flat sheets at their mid-surfaces.
//!
//! Walls of one body that meet are extended to the line where their mid-surfaces meet; there they
//! share nodes. So the steel of sheets is that of the walls, to the last corner. A right side is
//! drawn as the mirror image of the left one, so that both get the same mesh.

use fishplate_quantity::algebra::{larger, smaller};

use super::group::Piece;
use crate::describe::{BarShape, RailSection, Side};
use crate::design::{Body, BodyId, Design, Form, Prism, TOUCH, Vec3, across};

/// Flats that a round tube is made of.
const FLATS: u32 = 16;

/// A plane with axes of its own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Plane {
    origin: Vec3,
    axes: [Vec3; 2],
    /// Unit vector out of it: the first axis cross the second.
    pub(super) normal: Vec3,
}

impl Plane {
    fn new(origin: Vec3, axes: [Vec3; 2]) -> Self {
        Self { origin, axes, normal: axes[0].cross(&axes[1]) }
    }

    /// Square to an axis of the car.
    fn square(axis: usize, level: f64, mirrored: bool) -> Self {
        let unit = |axis: usize| {
            let mut e = Vec3::zeros();
            e[axis] = if mirrored && axis == 1 { -1.0 } else { 1.0 };
            e
        };
        let [u, v] = across(axis);
        let mut origin = Vec3::zeros();
        origin[axis] = level;
        Self::new(origin, [unit(u), unit(v)])
    }

    /// The foot of a point, in the plane's own axes.
    pub(super) fn local(&self, point: &Vec3) -> [f64; 2] {
        let arm = point - self.origin;
        self.axes.map(|e| arm.dot(&e))
    }

    /// Height of a point over the plane, m.
    pub(super) fn height(&self, point: &Vec3) -> f64 {
        (point - self.origin).dot(&self.normal)
    }

    /// The point at a place of the plane.
    pub(super) fn point(&self, at: [f64; 2]) -> Vec3 {
        self.origin + self.axes[0] * at[0] + self.axes[1] * at[1]
    }
}

/// A wall as a flat sheet.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sheet {
    /// The body.
    pub(super) body: BodyId,
    /// Its wall, by place.
    pub(super) wall: usize,
    /// Name for a reader: `part.front-bracket left, floor`.
    pub(super) name: String,
    /// Its mid-surface.
    pub(super) plane: Plane,
    /// Corners in order, in the plane's axes, m.
    pub(super) outline: Vec<[f64; 2]>,
    /// Thickness as described, m.
    pub(super) thickness: f64,
}

impl Sheet {
    /// Whether a place of its plane lies on it.
    pub(super) fn covers(&self, at: [f64; 2]) -> bool {
        self.inside(at) >= -TOUCH
    }

    /// Distance of a place of its plane from its edge, m; negative outside.
    pub(super) fn inside(&self, at: [f64; 2]) -> f64 {
        self.as_prism().edge_distance(at)
    }

    /// Distance of a point from the mid-surface, m.
    pub(super) fn distance(&self, point: &Vec3) -> f64 {
        let beside = larger(0.0, -self.inside(self.plane.local(point)));
        beside.hypot(self.plane.height(point))
    }

    /// Area, m2.
    pub(super) fn area(&self) -> f64 {
        self.as_prism().area()
    }

    /// Sides as pairs of corners.
    pub(super) fn sides(&self) -> impl Iterator<Item = [[f64; 2]; 2]> + '_ {
        let n = self.outline.len();
        (0..n).map(move |i| [self.outline[i], self.outline[(i + 1) % n]])
    }

    fn as_prism(&self) -> Prism {
        Prism { axis: 2, low: 0.0, high: self.thickness, outline: self.outline.clone() }
    }
}

/// The sheets of a body; none of a sleeve. A piece clips what is longer than it.
///
/// # Errors
/// What cannot be a sheet, naming it.
pub(super) fn sheets(
    design: &Design,
    id: BodyId,
    piece: Option<&Piece>,
) -> Result<Vec<Sheet>, String> {
    let body = design.body(id);
    let maker = Maker { id, body, mirrored: body.side == Some(Side::Right) };
    let mut list = match &body.form {
        Form::Rail { section, .. } => maker.rail(*section),
        Form::Plate { thickness, .. } => vec![maker.flat(0, *thickness)],
        Form::Gusset { thickness, .. } => {
            (0..body.walls.len()).map(|wall| maker.flat(wall, *thickness)).collect()
        }
        Form::Folded { thickness, along, .. } => maker.folded(*thickness, *along),
        Form::Bar { shape, line, ends, .. } => maker.bar(*shape, *line, *ends),
        Form::Sleeve { .. } => Vec::new(),
        Form::Block { .. } => {
            return Err(format!(
                "{} is a block: solid steel, of which no shells can be made",
                body.name
            ));
        }
    };
    if let Some(piece) = piece {
        for sheet in &mut list {
            clip(sheet, piece);
        }
        list.retain(|s| s.outline.len() > 2 && s.area() > TOUCH);
    }
    Ok(list)
}

struct Maker<'a> {
    id: BodyId,
    body: &'a Body,
    mirrored: bool,
}

/// Middle of a range.
fn middle((low, high): (f64, f64)) -> f64 {
    (low + high) / 2.0
}

/// A range whose end next to `at` is moved there.
fn moved((low, high): (f64, f64), at: f64) -> (f64, f64) {
    if (at - low).abs() < (at - high).abs() { (at, high) } else { (low, at) }
}

impl Maker<'_> {
    fn named(&self, wall: usize) -> String {
        match self.body.walls[wall].name.as_str() {
            "" => self.body.name.clone(),
            name => format!("{}, {name}", self.body.name),
        }
    }

    fn sheet(&self, wall: usize, plane: Plane, outline: Vec<[f64; 2]>, thickness: f64) -> Sheet {
        let name = self.named(wall);
        Sheet { body: self.id, wall, name, plane, outline, thickness }
    }

    /// A wall with its own outline.
    fn flat(&self, wall: usize, thickness: f64) -> Sheet {
        let prism = &self.body.walls[wall].prism;
        let plane = Plane::square(prism.axis, middle((prism.low, prism.high)), self.mirrored);
        let mut outline: Vec<[f64; 2]> =
            prism.outline.iter().map(|c| plane.local(&prism.point(prism.low, *c))).collect();
        let turn: f64 = (0..outline.len())
            .map(|i| {
                let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
                a[0] * b[1] - b[0] * a[1]
            })
            .sum();
        if turn < 0.0 {
            outline.reverse();
        }
        // The twin starts at the corner that the drawn side starts at.
        let first = (0..outline.len())
            .min_by(|a, b| {
                let [p, q] = [outline[*a], outline[*b]];
                p[0].total_cmp(&q[0]).then(p[1].total_cmp(&q[1]))
            })
            .unwrap_or(0);
        outline.rotate_left(first);
        self.sheet(wall, plane, outline, thickness)
    }

    /// A rectangle square to an axis between ranges along the two other axes, ascending.
    fn rectangle(
        &self,
        wall: usize,
        (axis, level): (usize, f64),
        ranges: [(f64, f64); 2],
        thickness: f64,
    ) -> Sheet {
        let plane = Plane::square(axis, level, self.mirrored);
        let [u, v] = across(axis);
        let corner = |a: f64, b: f64| {
            let mut p = Vec3::zeros();
            p[axis] = level;
            p[u] = a;
            p[v] = b;
            plane.local(&p)
        };
        let (a, b) = (corner(ranges[0].0, ranges[1].0), corner(ranges[0].1, ranges[1].1));
        let (low, high) =
            ([smaller(a[0], b[0]), smaller(a[1], b[1])], [larger(a[0], b[0]), larger(a[1], b[1])]);
        let outline = vec![low, [high[0], low[1]], high, [low[0], high[1]]];
        self.sheet(wall, plane, outline, thickness)
    }

    fn range(&self, wall: usize, axis: usize) -> (f64, f64) {
        self.body.walls[wall].prism.range(axis)
    }

    /// Web, top and bottom, and the inner wall of a box: at the middle of the walls as new.
    fn rail(&self, section: RailSection) -> Vec<Sheet> {
        let t = section.wall();
        let x = self.range(0, 0);
        let level = |wall: usize, axis: usize| middle(self.range(wall, axis));
        let (web, top, bottom) = (level(0, 1), level(1, 2), level(2, 2));
        let upright = (bottom, top);
        let mut across = moved(self.range(1, 1), web);
        let mut list = vec![self.rectangle(0, (1, web), [x, upright], t)];
        if matches!(section, RailSection::Box { .. }) {
            across = moved(across, level(3, 1));
        }
        list.push(self.rectangle(1, (2, top), [x, across], t));
        list.push(self.rectangle(2, (2, bottom), [x, across], t));
        if matches!(section, RailSection::Box { .. }) {
            list.push(self.rectangle(3, (1, level(3, 1)), [x, upright], t));
        }
        list
    }

    /// Floor and two walls.
    fn folded(&self, t: f64, along: usize) -> Vec<Sheet> {
        let out = 1 - along;
        let floor = middle(self.range(0, 2));
        let walls = [1, 2].map(|wall| middle(self.range(wall, along)));
        let width = (smaller(walls[0], walls[1]), larger(walls[0], walls[1]));
        let reach = self.range(0, out);
        let ordered = |a: (f64, f64), o: (f64, f64)| if along < out { [a, o] } else { [o, a] };
        let mut list = vec![self.rectangle(0, (2, floor), ordered(width, reach), t)];
        for wall in [1, 2] {
            let height = moved(self.range(wall, 2), floor);
            list.push(self.rectangle(wall, (along, walls[wall - 1]), [reach, height], t));
        }
        list
    }

    fn bar(&self, shape: BarShape, line: [f64; 2], ends: [f64; 2]) -> Vec<Sheet> {
        let y = (ends[0], ends[1]);
        match shape {
            BarShape::Angle { thickness: t, .. } => {
                let (level_z, level_x) = (middle(self.range(0, 2)), middle(self.range(1, 0)));
                let x = moved(self.range(0, 0), level_x);
                let z = moved(self.range(1, 2), level_z);
                vec![
                    self.rectangle(0, (2, level_z), [x, y], t),
                    self.rectangle(1, (0, level_x), [y, z], t),
                ]
            }
            BarShape::Box { wall: t, .. } => {
                let z = (middle(self.range(0, 2)), middle(self.range(1, 2)));
                let x = (middle(self.range(3, 0)), middle(self.range(2, 0)));
                vec![
                    self.rectangle(0, (2, z.0), [x, y], t),
                    self.rectangle(1, (2, z.1), [x, y], t),
                    self.rectangle(2, (0, x.1), [y, z], t),
                    self.rectangle(3, (0, x.0), [y, z], t),
                ]
            }
            BarShape::Flat { height, width } => vec![self.flat(0, smaller(height, width))],
            BarShape::Tube { diameter, wall } => self.tube(line, y, diameter, wall),
        }
    }

    /// Flats round the middle of a tube's wall, of the same length in all as the circle.
    fn tube(&self, line: [f64; 2], y: (f64, f64), diameter: f64, wall: f64) -> Vec<Sheet> {
        let turn = std::f64::consts::TAU / f64::from(FLATS);
        let radius = (diameter - wall) / 2.0 * (turn / 2.0) / (turn / 2.0).sin();
        let corner = |i: u32| {
            let angle = turn * (f64::from(i % FLATS) + 0.5);
            Vec3::new(line[0] + radius * angle.cos(), y.0, line[1] + radius * angle.sin())
        };
        (0..FLATS)
            .map(|i| {
                let (a, b) = (corner(i), corner(i + 1));
                let plane = Plane::new(a, [(b - a).normalize(), Vec3::y()]);
                let (width, length) = ((b - a).norm(), y.1 - y.0);
                let outline = vec![[0.0, 0.0], [width, 0.0], [width, length], [0.0, length]];
                self.sheet(0, plane, outline, wall)
            })
            .collect()
    }
}

/// Cuts off what lies outside a piece of rail.
fn clip(sheet: &mut Sheet, piece: &Piece) {
    for (level, keep) in [(piece.from, 1.0), (piece.to, -1.0)] {
        let within = |at: &[f64; 2]| (sheet.plane.point(*at).x - level) * keep;
        let mut cut: Vec<[f64; 2]> = Vec::new();
        let n = sheet.outline.len();
        for i in 0..n {
            let (a, b) = (sheet.outline[i], sheet.outline[(i + 1) % n]);
            let (da, db) = (within(&a), within(&b));
            if da >= -TOUCH {
                cut.push(a);
            }
            if (da > TOUCH && db < -TOUCH) || (da < -TOUCH && db > TOUCH) {
                let share = da / (da - db);
                let mut at = [0, 1].map(|k| a[k] + share * (b[k] - a[k]));
                // The first axis of every sheet that is long along x runs along x.
                if sheet.plane.axes[0].x.abs() > 0.5 {
                    at[0] = level;
                }
                cut.push(at);
            }
        }
        sheet.outline = cut;
    }
}
