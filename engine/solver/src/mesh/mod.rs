//! Meshes of flat plates: quadrilaterals, and few triangles, to a size asked for.
//!
//! Describe a plate in its own plane as an [`Outline`], say how fine in a [`Sizing`], and
//! [`mesh()`] gives a [`Mesh`], or faults that name the edge or hole. Corners, ends of lines,
//! crossings and points become nodes; the nodes on every named edge, hole, line and circle are
//! listed in order ([`Mark`]). Folded parts are several outlines, in which a fold has the nodes
//! that its first wall got ([`Course::Nodes`]).
//!
//! Prismatic pieces are drawn from the midline of their section ([`extrude()`]).
//!
//! How: a rectangle whose imprints fit becomes a grid. Else curves are cut where they meet and divided by size; points are packed in rows off the
//! curves; a constrained Delaunay triangulation of twice the size asked for is paired to
//! quadrilaterals, and each cell is divided by the middles of its sides, so that all elements
//! are quadrilaterals; nodes inside are smoothed. The same input gives the same bits.

mod arrangement;
mod check;
mod curve;
mod divide;
mod extrude;
mod grid;
mod outline;
mod pack;
mod plane;
mod product;
mod quads;
mod ruler;
mod size;
mod smooth;
mod triangles;

pub use extrude::{Extrusion, Features, Section, Wall, WallMesh, extrude, stations};
pub use outline::{Circle, Course, Edge, Finer, Hole, HoleShape, Line, Outline, Sizing, Spot};
pub use plane::Point;
pub use product::{Element, Mark, MarkKind, Mesh, Quality};

use arrangement::Arrangement;
use curve::{Curve, Role};
use divide::{Divided, TooMany};
use fishplate_quantity::Fault;
use size::SizeField;

/// Meshes a plate.
///
/// # Errors
/// All faults of the outline and the sizing, by the names given, and places that cannot be
/// meshed; or that more elements would be needed than are allowed. Paths start at the outline:
/// `holes["name"]`.
///
/// ```
/// use fishplate_solver::mesh::{Course, Edge, Hole, HoleShape, Outline, Sizing, mesh};
///
/// let corner = |name: &str, x, y| Edge { name: name.into(), start: [x, y], course: Course::Straight };
/// let plate = Outline {
///     name: "web".into(),
///     edges: vec![
///         corner("bottom", 0.0, 0.0),
///         corner("right", 0.1, 0.0),
///         corner("top", 0.1, 0.08),
///         corner("left", 0.0, 0.08),
///     ],
///     holes: vec![Hole {
///         name: "bolt".into(),
///         shape: HoleShape::Circle { centre: [0.05, 0.04], diameter: 0.015 },
///     }],
///     lines: vec![],
///     circles: vec![],
///     points: vec![],
/// };
/// let mesh = mesh(&plate, &Sizing::uniform(0.008)).expect("a sound plate");
/// assert_eq!(mesh.quality.triangles, 0);
/// assert!(mesh.mark("bolt").is_some_and(|rim| rim.closed && rim.nodes.len() >= 16));
/// ```
pub fn mesh(outline: &Outline, sizing: &Sizing) -> Result<Mesh, Vec<Fault>> {
    check::numbers(outline, sizing)?;
    let curves = curve::curves(outline);
    let spots: Vec<_> = outline.points.iter().map(|s| (s.name.clone(), s.at)).collect();
    let extent = check::extent(&curves);
    let hopeless = check::hopeless(&curves, sizing);
    let near = arrangement::NEAR * extent;
    check::too_small(&curves, near)?;
    let plan = Arrangement::new(curves, &spots, near)?;
    if hopeless {
        return Err(vec![check::too_many(sizing)]);
    }
    let field = SizeField::new(outline, sizing, &plan, extent)?;
    let too_many = |TooMany| vec![check::too_many(sizing)];
    if let Some((points, elements, marks)) =
        grid::grid(outline, sizing, &plan, &field).map_err(too_many)?
    {
        let quality = Quality::of(&points, &elements, &marks);
        return Ok(Mesh { points, elements, marks, quality });
    }
    let divided = divide::divide(&plan, sizing, &field).map_err(too_many)?;
    let mut points = divided.nodes.clone();
    let mut used = divided.corners();
    for p in pack::pack(&plan, &divided, &field, sizing.most_elements).map_err(too_many)? {
        used.push(points.len());
        points.push(p);
    }
    let triangles = triangles::triangles(&plan, &divided, &points, &used)?;
    let mut elements = quads::elements(&divided, &mut points, &triangles);
    let fixed: Vec<bool> = (0..points.len()).map(|n| n < divided.nodes.len()).collect();
    smooth::smooth(&mut points, &elements, &fixed);
    smooth::cut_bad(&points, &mut elements);
    if elements.len() > sizing.most_elements {
        return Err(vec![check::too_many(sizing)]);
    }
    let marks = marks(outline, &plan, &divided);
    let quality = Quality::of(&points, &elements, &marks);
    // No mesh with an element turned inside out leaves this function.
    if elements.iter().any(|element| smooth::shape(element, &points) <= 0.0) {
        return Err(vec![check::no_shape(outline, &quality)]);
    }
    Ok(Mesh { points, elements, marks, quality })
}

/// Nodes along every curve and at every point.
fn marks(outline: &Outline, plan: &Arrangement, divided: &Divided) -> Vec<Mark> {
    let mut marks: Vec<Mark> =
        plan.curves.iter().enumerate().map(|(c, curve)| mark(c, curve, plan, divided)).collect();
    for (spot, &node) in outline.points.iter().zip(&divided.spots) {
        marks.push(Mark {
            name: spot.name.clone(),
            kind: MarkKind::Point,
            nodes: vec![node],
            closed: false,
        });
    }
    marks
}

fn mark(c: usize, curve: &Curve, plan: &Arrangement, divided: &Divided) -> Mark {
    let mut nodes: Vec<usize> = Vec::new();
    let run = &plan.runs[c];
    let starts_at = |step: &(usize, bool)| plan.parts[step.0].vertices[usize::from(step.1)];
    // A ring may reach its first node only some way round.
    let start = run.iter().position(|step| divided.node_at[starts_at(step)].is_some()).unwrap_or(0);
    let mut last = None;
    for k in 0..run.len() {
        let (part, back) = run[(start + k) % run.len()];
        let chain = plan.chain_of[part];
        // The chain runs as its own parts do.
        let own = plan.chains[chain].parts.iter().find(|step| step.0 == part);
        let forwards = own.is_some_and(|step| step.1 == back);
        if last == Some((chain, forwards)) {
            continue;
        }
        last = Some((chain, forwards));
        let along = &divided.along[chain];
        let ordered: Vec<usize> =
            if forwards { along.clone() } else { along.iter().rev().copied().collect() };
        let skip = usize::from(nodes.last() == ordered.first());
        nodes.extend(&ordered[skip..]);
    }
    if curve.closed && nodes.len() > 1 && nodes.first() == nodes.last() {
        nodes.pop();
    }
    let kind = match curve.role {
        Role::Edge => MarkKind::Edge,
        Role::Hole => MarkKind::Hole,
        Role::Line => MarkKind::Line,
        Role::Circle => MarkKind::Circle,
    };
    Mark { name: curve.name.clone(), kind, nodes, closed: curve.closed }
}
