//! Rectangles whose imprints fit a grid: rows and columns instead of a triangulation.

use super::arrangement::Arrangement;
use super::divide::TooMany;
use super::outline::{Course, Outline, Sizing};
use super::plane::{Point, add, apart, dot, scale, sub};
use super::product::{Element, Mark, MarkKind};
use super::ruler::Ruler;
use super::size::SizeField;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeMap;

/// Points, elements and marks.
pub(super) type Made = (Vec<Point>, Vec<Element>, Vec<Mark>);

/// Worse cells than this are left to the triangulation.
const ASPECT: f64 = 4.0;

/// The grid; `None` where the plate does not fit one.
pub(super) fn grid(
    outline: &Outline,
    sizing: &Sizing,
    plan: &Arrangement,
    field: &SizeField,
) -> Result<Option<Made>, TooMany> {
    let Some(frame) = Frame::of(outline, plan.near) else { return Ok(None) };
    let Some([u, v]) = frame.stops(outline) else { return Ok(None) };
    let size = |along: usize, s: f64, others: &Stops| {
        others.places.iter().fold(f64::INFINITY, |least, &other| {
            let p = if along == 0 { [s, other] } else { [other, s] };
            smaller(least, field.at(frame.out(p)))
        })
    };
    let mut left = 16 * sizing.most_elements;
    let columns = u.divided(|s| size(0, s, &v), &mut left)?;
    let rows = v.divided(|s| size(1, s, &u), &mut left)?;
    if (columns.len() - 1) * (rows.len() - 1) > sizing.most_elements {
        return Err(TooMany);
    }
    let ([least_u, most_u], [least_v, most_v]) = (steps(&columns), steps(&rows));
    if larger(most_u / least_v, most_v / least_u) > ASPECT {
        return Ok(None);
    }
    Ok(Grid { outline, frame, columns, rows }.made())
}

/// Least and largest step.
fn steps(places: &[f64]) -> [f64; 2] {
    places.windows(2).fold([f64::INFINITY, 0.0], |[least, most], pair| {
        let step = pair[1] - pair[0];
        [smaller(least, step), larger(most, step)]
    })
}

/// Axes along the sides of a rectangle.
#[derive(Clone, Copy)]
struct Frame {
    origin: Point,
    u: Point,
    near: f64,
}

impl Frame {
    /// The axes of an outline that is a rectangle without holes and circles.
    fn of(outline: &Outline, near: f64) -> Option<Self> {
        if !(outline.holes.is_empty() && outline.circles.is_empty()) {
            return None;
        }
        let origin = outline.edges[0].start;
        let along = sub(outline.edges[1].start, origin);
        let frame = Self { origin, u: scale(1.0 / apart(along, [0.0; 2]), along), near };
        let ring = ring(outline)?;
        let [low, high] = frame.bounds(&ring);
        let flush = |a: Point, b: Point| {
            (0..2).any(|k| {
                [low[k], high[k]]
                    .iter()
                    .any(|side| (a[k] - side).abs() <= near && (b[k] - side).abs() <= near)
            })
        };
        let on_sides = (0..ring.len())
            .all(|i| flush(frame.within(ring[i]), frame.within(ring[(i + 1) % ring.len()])));
        let corners = [low, [high[0], low[1]], high, [low[0], high[1]]];
        let has_corners = corners
            .iter()
            .all(|&c| outline.edges.iter().any(|e| apart(frame.within(e.start), c) <= near));
        (on_sides && has_corners).then_some(frame)
    }

    fn within(&self, p: Point) -> Point {
        let d = sub(p, self.origin);
        [dot(d, self.u), dot(d, [-self.u[1], self.u[0]])]
    }

    fn out(&self, [u, v]: Point) -> Point {
        add(self.origin, add(scale(u, self.u), scale(v, [-self.u[1], self.u[0]])))
    }

    fn bounds(&self, points: &[Point]) -> [Point; 2] {
        let mut bounds = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
        for &p in points {
            let p = self.within(p);
            for k in 0..2 {
                bounds[0][k] = smaller(bounds[0][k], p[k]);
                bounds[1][k] = larger(bounds[1][k], p[k]);
            }
        }
        bounds
    }

    /// Columns and rows that have to be there; `None` where lines run askew or nodes given
    /// beforehand leave no room for them.
    fn stops(&self, outline: &Outline) -> Option<[Stops; 2]> {
        let mut stops = [Stops::new(self.near), Stops::new(self.near)];
        let mut enter = |p: Point| {
            let p = self.within(p);
            stops[0].places.push(p[0]);
            stops[1].places.push(p[1]);
        };
        for line in &outline.lines {
            line.points.iter().for_each(|&p| enter(p));
        }
        outline.points.iter().for_each(|spot| enter(spot.at));
        let count = outline.edges.len();
        for (i, edge) in outline.edges.iter().enumerate() {
            let [a, b] = [edge.start, outline.edges[(i + 1) % count].start].map(|p| self.within(p));
            let along = self.axis(a, b)?;
            stops[along].places.extend([a[along], b[along]]);
            if let Course::Nodes(via) = &edge.course {
                let mut row = vec![a[along]];
                row.extend(via.iter().map(|&p| self.within(p)[along]));
                row.push(b[along]);
                stops[along]
                    .given
                    .extend(row.windows(2).map(|w| [smaller(w[0], w[1]), larger(w[0], w[1])]));
                stops[along].places.extend(row);
            }
        }
        for line in &outline.lines {
            for pair in line.points.windows(2) {
                self.axis(self.within(pair[0]), self.within(pair[1]))?;
            }
        }
        stops.iter_mut().all(Stops::settle).then_some(stops)
    }

    /// The axis along which two points follow each other.
    fn axis(&self, a: Point, b: Point) -> Option<usize> {
        if (a[1] - b[1]).abs() <= self.near {
            Some(0)
        } else if (a[0] - b[0]).abs() <= self.near {
            Some(1)
        } else {
            None
        }
    }
}

/// Points of a boundary without arcs.
fn ring(outline: &Outline) -> Option<Vec<Point>> {
    let mut ring = Vec::new();
    for edge in &outline.edges {
        ring.push(edge.start);
        match &edge.course {
            Course::Straight => {}
            Course::Over(_) => return None,
            Course::Through(via) | Course::Nodes(via) => ring.extend(via),
        }
    }
    Some(ring)
}

/// Places along one axis at which nodes have to stand.
struct Stops {
    places: Vec<f64>,
    /// Steps between nodes given beforehand.
    given: Vec<[f64; 2]>,
    near: f64,
}

impl Stops {
    fn new(near: f64) -> Self {
        Self { places: Vec::new(), given: Vec::new(), near }
    }

    /// Sorts the places; whether none falls between nodes given beforehand.
    fn settle(&mut self) -> bool {
        self.places.sort_by(f64::total_cmp);
        let near = self.near;
        self.places.dedup_by(|next, kept| *next - *kept <= near);
        self.given
            .iter()
            .all(|&[a, b]| self.places.iter().all(|&s| s <= a + 2.0 * near || s >= b - 2.0 * near))
    }

    fn divided(&self, size: impl Fn(f64) -> f64, left: &mut usize) -> Result<Vec<f64>, TooMany> {
        let mut all = vec![self.places[0]];
        for pair in self.places.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let mid = 0.5 * (a + b);
            if !self.given.iter().any(|step| step[0] < mid && mid < step[1]) {
                let ruler = Ruler::new(b - a, |s| size(a + s), left)?;
                all.extend(ruler.between(2 * ruler.pairs()).map(|s| a + s));
            }
            all.push(b);
        }
        Ok(all)
    }
}

struct Grid<'a> {
    outline: &'a Outline,
    frame: Frame,
    columns: Vec<f64>,
    rows: Vec<f64>,
}

impl Grid<'_> {
    /// Points, elements and marks; `None` if a given point has no node of its own.
    fn made(&self) -> Option<Made> {
        let (m, n) = (self.columns.len(), self.rows.len());
        let mut points: Vec<Point> =
            (0..m * n).map(|k| self.frame.out([self.columns[k / n], self.rows[k % n]])).collect();
        // Given points keep their bits; those of the boundary come first.
        let mut given: BTreeMap<usize, Point> = BTreeMap::new();
        for p in ring(self.outline)?
            .into_iter()
            .chain(self.outline.points.iter().map(|spot| spot.at))
            .chain(self.outline.lines.iter().flat_map(|line| line.points.iter().copied()))
        {
            given.entry(self.node(p)?).or_insert(p);
        }
        for (node, p) in given {
            points[node] = p;
        }
        let elements = (0..m - 1)
            .flat_map(|i| (0..n - 1).map(move |j| [i, j]))
            .map(|[i, j]| {
                let k = i * n + j;
                Element::Quad([k, k + n, k + n + 1, k + 1])
            })
            .collect();
        let count = self.outline.edges.len();
        let mut marks = Vec::new();
        for (i, edge) in self.outline.edges.iter().enumerate() {
            let end = self.outline.edges[(i + 1) % count].start;
            marks.push(self.mark(&edge.name, MarkKind::Edge, &[edge.start, end])?);
        }
        for line in &self.outline.lines {
            marks.push(self.mark(&line.name, MarkKind::Line, &line.points)?);
        }
        for spot in &self.outline.points {
            marks.push(self.mark(&spot.name, MarkKind::Point, &[spot.at])?);
        }
        Some((points, elements, marks))
    }

    fn place(&self, p: Point) -> Option<[usize; 2]> {
        let p = self.frame.within(p);
        let near = 4.0 * self.frame.near;
        let find = |all: &[f64], x: f64| all.iter().position(|&s| (s - x).abs() <= near);
        Some([find(&self.columns, p[0])?, find(&self.rows, p[1])?])
    }

    fn node(&self, p: Point) -> Option<usize> {
        self.place(p).map(|[i, j]| i * self.rows.len() + j)
    }

    fn mark(&self, name: &str, kind: MarkKind, course: &[Point]) -> Option<Mark> {
        let mut at = self.place(course[0])?;
        let mut nodes = vec![at[0] * self.rows.len() + at[1]];
        for &p in &course[1..] {
            let to = self.place(p)?;
            while at != to {
                for k in 0..2 {
                    at[k] =
                        if at[k] < to[k] { at[k] + 1 } else { at[k] - usize::from(at[k] > to[k]) };
                }
                nodes.push(at[0] * self.rows.len() + at[1]);
            }
        }
        Some(Mark { name: name.to_owned(), kind, nodes, closed: false })
    }
}
