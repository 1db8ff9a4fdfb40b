//! What is to be meshed, and how finely.

use super::plane::Point;

/// A flat plate in its own plane: a closed boundary, holes, and what has to show in the mesh.
///
/// The boundary may run either way round. Names of edges, holes, lines, circles and points are
/// distinct; faults and marks go by them.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Name of the plate, told in faults.
    pub name: String,
    /// Edges of the boundary in order; each ends where the next one starts.
    pub edges: Vec<Edge>,
    /// Openings. They may touch neither each other nor the boundary.
    pub holes: Vec<Hole>,
    /// Lines that become rows of element edges: weld runs, edges of plates that lie on this one.
    /// They may cross, lie on each other, end on or lie along the boundary and holes.
    pub lines: Vec<Line>,
    /// Circles that become rings of element edges: rims of washers and of bearing areas. One of
    /// the size of its hole is the hole's rim.
    pub circles: Vec<Circle>,
    /// Points that become nodes.
    pub points: Vec<Spot>,
}

/// One edge of the boundary.
#[derive(Debug, Clone, PartialEq)]
pub struct Edge {
    /// Its name, such as `fold` or `free`.
    pub name: String,
    /// Where it starts, m.
    pub start: Point,
    /// How it runs to the start of the next edge.
    pub course: Course,
}

/// How an edge runs from its start to the start of the next one.
#[derive(Debug, Clone, PartialEq)]
pub enum Course {
    /// Straight on.
    Straight,
    /// Along the circular arc over this point, m.
    Over(Point),
    /// Along the straight pieces over these points, m: a curve given by many points. Nodes are
    /// spaced along it by size; a point is itself a node where the course turns by more than 20
    /// degrees.
    Through(Vec<Point>),
    /// Through exactly these nodes, m: none is moved, none added. For a fold whose nodes another
    /// wall has already, the two end nodes being the corners. An odd number of steps between
    /// corners costs a triangle.
    Nodes(Vec<Point>),
}

/// An opening.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// Its name.
    pub name: String,
    /// Its shape.
    pub shape: HoleShape,
}

/// Shape of an opening.
#[derive(Debug, Clone, PartialEq)]
pub enum HoleShape {
    /// A round hole.
    Circle {
        /// Its centre, m.
        centre: Point,
        /// Its diameter, m.
        diameter: f64,
    },
    /// A slot with round ends.
    Slot {
        /// Centre of its one end, m.
        from: Point,
        /// Centre of its other end, m.
        to: Point,
        /// Width across, m.
        width: f64,
    },
    /// Any closed polygon, its corners in order, m.
    Polygon(Vec<Point>),
}

/// A line in the plate, straight from point to point.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Its name.
    pub name: String,
    /// Two points or more, m. All become nodes where the line turns by more than 20 degrees or
    /// ends.
    pub points: Vec<Point>,
}

/// A circle in the plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Circle {
    /// Its name.
    pub name: String,
    /// Its centre, m.
    pub centre: Point,
    /// Its diameter, m.
    pub diameter: f64,
}

/// A point in the plate.
#[derive(Debug, Clone, PartialEq)]
pub struct Spot {
    /// Its name.
    pub name: String,
    /// Where it is, m.
    pub at: Point,
}

/// How fine a mesh is to be. Sizes are lengths of element edges, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Sizing {
    /// Size away from everything.
    pub target: f64,
    /// Smallest size that is asked for anywhere. Narrow places get up to four times smaller
    /// elements; still narrower ones are a fault.
    pub least: f64,
    /// Ratio of sizes from one row of elements to the next, above 1 to 2. Common practice: up to
    /// 1.5, no source.
    pub growth: f64,
    /// Least number of element edges round a hole or a circle, in multiples of 8.
    pub around_holes: usize,
    /// Size at re-entrant corners of the boundary; `None` leaves them to the rest.
    pub at_reentrant_corners: Option<f64>,
    /// Size at the ends of lines, such as the ends of welds; `None` leaves them to the rest.
    pub at_line_ends: Option<f64>,
    /// Places that need smaller elements.
    pub finer: Vec<Finer>,
    /// Most elements; a mesh that would need more is a fault. Up to 1 000 000.
    pub most_elements: usize,
}

impl Sizing {
    /// One size everywhere, a quarter of it the least, graded by 1.3 a row, with 16 edges round a
    /// hole (common practice, no source) and at most 100 000 elements.
    #[must_use]
    pub fn uniform(target: f64) -> Self {
        Self {
            target,
            least: target / 4.0,
            growth: 1.3,
            around_holes: 16,
            at_reentrant_corners: None,
            at_line_ends: None,
            finer: Vec::new(),
            most_elements: 100_000,
        }
    }
}

/// A place that needs smaller elements: along a straight piece, or at a point where both ends
/// are the same.
#[derive(Debug, Clone, PartialEq)]
pub struct Finer {
    /// One end, m.
    pub from: Point,
    /// Other end, m.
    pub to: Point,
    /// Size there, m.
    pub size: f64,
}
