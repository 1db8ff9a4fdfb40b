//! One check of an outline and a sizing, at the door.

use super::arrangement::{NEAR, named};
use super::curve::{Curve, Role, doubled_area};
use super::outline::{Course, HoleShape, Outline, Sizing};
use super::plane::{Piece, Point, apart};
use super::product::Quality;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_quantity::{Fault, Faults};
use std::collections::BTreeMap;

/// Farthest that anything may be from the origin, m; smallest size of anything, m.
const LARGEST: f64 = 1e4;
const SMALLEST: f64 = 1e-7;
/// Most points that an outline may have.
const POINTS: usize = 2000;

/// Extent of all curves, m.
pub(super) fn extent(curves: &[Curve]) -> f64 {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for piece in curves.iter().flat_map(|c| &c.pieces) {
        let [least, most] = piece.bounds();
        for k in 0..2 {
            low[k] = smaller(low[k], least[k]);
            high[k] = larger(high[k], most[k]);
        }
    }
    apart(low, high)
}

pub(super) fn too_many(sizing: &Sizing) -> Fault {
    Fault::new(
        "sizing.most_elements",
        sizing.most_elements.to_string(),
        "as many elements as the sizes ask for",
        "ask for larger sizes, or allow more elements",
    )
}

/// Curves so small next to the plate that their points would be taken for one.
pub(super) fn too_small(curves: &[Curve], near: f64) -> Result<(), Vec<Fault>> {
    let mut faults = Faults::new();
    for curve in curves {
        if let Some(piece) = curve.pieces.iter().find(|piece| piece.length() < 10.0 * near) {
            faults.add(
                named(curve),
                format!("a piece of {:e} m in a plate {:e} m across", piece.length(), near / NEAR),
                format!("pieces of at least {:e} m there", 10.0 * near),
                "check the unit of both",
            );
        }
    }
    faults.or(())
}

/// Whether elements of the target size alone would be too many, by the area of the plate.
pub(super) fn hopeless(curves: &[Curve], sizing: &Sizing) -> bool {
    let area = |pieces: &mut dyn Iterator<Item = &Piece>| 0.5 * doubled_area(pieces).abs();
    let of = |role: Role| curves.iter().filter(move |c| c.role == role);
    let holes: f64 = of(Role::Hole).map(|c| area(&mut c.pieces.iter())).sum();
    let plate = area(&mut of(Role::Edge).flat_map(|c| &c.pieces)) - holes;
    // No element has more than about twice the area of a square of the target, but for nodes
    // given beforehand; those are few.
    let prescribed = curves.iter().any(|c| c.prescribed);
    let largest = if prescribed { 16.0 } else { 2.0 };
    plate / (largest * sizing.target * sizing.target) > sizing.most_elements as f64
}

/// Whether a number is a length.
pub(super) fn is_size(size: f64) -> bool {
    (SMALLEST..=LARGEST).contains(&size)
}

/// Whether two numbers are a place.
pub(super) fn is_place(p: Point) -> bool {
    p.iter().all(|x| x.abs() <= LARGEST)
}

/// All faults of a sizing alone.
pub(super) fn sizing(sizing: &Sizing) -> Result<(), Vec<Fault>> {
    let mut found = Findings { faults: Faults::new() };
    found.sizing(sizing);
    found.faults.or(())
}

pub(super) fn no_shape(outline: &Outline, quality: &Quality) -> Fault {
    let [x, y] = quality.worst_at;
    Fault::new(
        format!("outline `{}`", outline.name),
        format!("an element next to `{}` at ({x}, {y}) m has no proper shape", quality.worst_near),
        "room for elements whose corners are all less than half a turn",
        "allow smaller elements there, or move what lies close together",
    )
}

/// All faults in the numbers, names and counts.
pub(super) fn numbers(outline: &Outline, sizing: &Sizing) -> Result<(), Vec<Fault>> {
    let mut found = Findings { faults: Faults::new() };
    found.names(outline);
    found.sizing(sizing);
    found.boundary(outline);
    for hole in &outline.holes {
        let path = format!("holes[`{}`]", hole.name);
        match &hole.shape {
            HoleShape::Circle { centre, diameter } => {
                found.place(&format!("{path}.centre"), *centre);
                found.size(format!("{path}.diameter"), *diameter);
            }
            HoleShape::Slot { from, to, width } => {
                let both = found.place(&format!("{path}.from"), *from)
                    & found.place(&format!("{path}.to"), *to);
                found.size(format!("{path}.width"), *width);
                if both {
                    found.apart(&format!("{path}.to"), &[*from, *to]);
                }
            }
            HoleShape::Polygon(corners) => {
                found.at_least(&path, corners.len(), 3, "corners");
                if found.places(&path, corners) {
                    let mut ring = corners.clone();
                    ring.extend(corners.first());
                    found.apart(&path, &ring);
                }
            }
        }
    }
    for line in &outline.lines {
        let path = format!("lines[`{}`]", line.name);
        found.at_least(&path, line.points.len(), 2, "points");
        if found.places(&path, &line.points) {
            found.apart(&path, &line.points);
        }
    }
    for circle in &outline.circles {
        let path = format!("circles[`{}`]", circle.name);
        found.place(&format!("{path}.centre"), circle.centre);
        found.size(format!("{path}.diameter"), circle.diameter);
    }
    for spot in &outline.points {
        found.place(&format!("points[`{}`]", spot.name), spot.at);
    }
    found.count(outline);
    found.faults.or(())
}

struct Findings {
    faults: Faults,
}

impl Findings {
    fn names(&mut self, outline: &Outline) {
        let all = (outline.edges.iter().map(|e| ("edges", &e.name)))
            .chain(outline.holes.iter().map(|h| ("holes", &h.name)))
            .chain(outline.lines.iter().map(|l| ("lines", &l.name)))
            .chain(outline.circles.iter().map(|c| ("circles", &c.name)))
            .chain(outline.points.iter().map(|p| ("points", &p.name)));
        let mut first: BTreeMap<&str, &str> = BTreeMap::new();
        for (list, name) in all {
            if let Some(other) = first.insert(name, list) {
                self.faults.add(
                    format!("{list}[`{name}`]"),
                    format!("the name is also one of the {other}"),
                    "names that differ within an outline",
                    "rename one of them",
                );
            }
        }
    }

    fn sizing(&mut self, sizing: &Sizing) {
        let Sizing {
            target,
            least,
            growth,
            around_holes,
            at_reentrant_corners,
            at_line_ends,
            finer,
            most_elements,
        } = sizing;
        let sizes = self.size("sizing.target".to_owned(), *target)
            & self.size("sizing.least".to_owned(), *least);
        if sizes && least > target {
            self.faults.add(
                "sizing.least",
                format!("{least} m"),
                format!("at most the target of {target} m"),
                "exchange the two, or leave them equal",
            );
        }
        if !(*growth > 1.0 && *growth <= 2.0) {
            self.faults.add(
                "sizing.growth",
                growth.to_string(),
                "a ratio above 1, up to 2",
                "1.2 to 1.5 is common",
            );
        }
        if !(8..=4096).contains(around_holes) || around_holes % 8 != 0 {
            self.faults.add(
                "sizing.around_holes",
                around_holes.to_string(),
                "a multiple of 8, from 8 to 4096",
                "16 is common; more for stresses at the rim",
            );
        }
        for (name, size) in
            [("at_reentrant_corners", at_reentrant_corners), ("at_line_ends", at_line_ends)]
        {
            if let Some(size) = size {
                self.size(format!("sizing.{name}"), *size);
            }
        }
        for (i, finer) in finer.iter().enumerate() {
            self.place(&format!("sizing.finer[{i}].from"), finer.from);
            self.place(&format!("sizing.finer[{i}].to"), finer.to);
            self.size(format!("sizing.finer[{i}].size"), finer.size);
        }
        if !(1..=1_000_000).contains(most_elements) {
            self.faults.add(
                "sizing.most_elements",
                most_elements.to_string(),
                "1 to 1000000",
                "allow as many as the solver should take",
            );
        }
    }

    fn boundary(&mut self, outline: &Outline) {
        let mut corners = 0;
        let mut arcs = 0;
        for (i, edge) in outline.edges.iter().enumerate() {
            let path = format!("edges[`{}`]", edge.name);
            let end = outline.edges[(i + 1) % outline.edges.len()].start;
            let mut course = vec![edge.start];
            match &edge.course {
                Course::Straight => {}
                Course::Over(via) => {
                    course.push(*via);
                    arcs += 1;
                }
                Course::Through(via) | Course::Nodes(via) => course.extend(via),
            }
            corners += course.len();
            course.push(end);
            let usable = self.places(&path, &course) && self.apart(&path, &course);
            if let (true, Course::Over(via)) = (usable, &edge.course)
                && Piece::arc_through(edge.start, *via, end).is_none()
            {
                self.faults.add(
                    path,
                    format!("an arc over ({}, {}) m, on the line between its ends", via[0], via[1]),
                    "a point off that line",
                    "make the edge straight, or move the point",
                );
            }
        }
        if outline.edges.len() < 2 || corners < 3 - usize::from(arcs > 1) {
            self.faults.add(
                "edges",
                format!(
                    "{} edges with {corners} points in `{}`",
                    outline.edges.len(),
                    outline.name
                ),
                "a closed boundary of three corners or more",
                "give every edge its start; the last one ends where the first starts",
            );
        }
    }

    fn count(&mut self, outline: &Outline) {
        let on_edges: usize = outline
            .edges
            .iter()
            .map(|e| match &e.course {
                Course::Straight | Course::Over(_) => 1,
                Course::Through(via) | Course::Nodes(via) => 1 + via.len(),
            })
            .sum();
        let on_holes: usize = outline
            .holes
            .iter()
            .map(|h| match &h.shape {
                HoleShape::Circle { .. } | HoleShape::Slot { .. } => 4,
                HoleShape::Polygon(corners) => corners.len(),
            })
            .sum();
        let on_lines: usize = outline.lines.iter().map(|l| l.points.len()).sum();
        let all = on_edges + on_holes + on_lines + 4 * outline.circles.len() + outline.points.len();
        if all > POINTS {
            self.faults.add(
                format!("outline `{}`", outline.name),
                format!("{all} points (4 for every circle)"),
                format!("at most {POINTS}"),
                "give curves by fewer points, or split the plate",
            );
        }
    }

    fn at_least(&mut self, path: &str, count: usize, least: usize, what: &str) {
        if count < least {
            self.faults.add(
                path,
                format!("{count} {what}"),
                format!("at least {least} {what}"),
                "add the missing ones or leave it out",
            );
        }
    }

    fn places(&mut self, path: &str, points: &[Point]) -> bool {
        let mut usable = true;
        for (i, &p) in points.iter().enumerate() {
            usable &= self.place(&format!("{path}[{i}]"), p);
        }
        usable
    }

    fn place(&mut self, path: &str, p: Point) -> bool {
        let usable = is_place(p);
        if !usable {
            self.faults.add(
                path,
                format!("({}, {}) m", p[0], p[1]),
                format!("finite numbers up to {LARGEST} m"),
                "check the numbers and their unit",
            );
        }
        usable
    }

    fn size(&mut self, path: String, size: f64) -> bool {
        let usable = is_size(size);
        if !usable {
            self.faults.add(
                path,
                format!("{size} m"),
                format!("a length from {SMALLEST} to {LARGEST} m"),
                "check the number and its unit",
            );
        }
        usable
    }

    /// Points that follow each other are apart.
    fn apart(&mut self, path: &str, points: &[Point]) -> bool {
        let mut usable = true;
        for (i, pair) in points.windows(2).enumerate() {
            if apart(pair[0], pair[1]) < SMALLEST {
                usable = false;
                self.faults.add(
                    path,
                    format!("no length between its points {i} and {}", i + 1),
                    format!("points at least {SMALLEST} m apart"),
                    "leave one of them out",
                );
            }
        }
        usable
    }
}
