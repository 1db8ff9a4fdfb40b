//! The constrained Delaunay triangulation from which elements are made.

use super::arrangement::{Arrangement, named};
use super::divide::{Divided, Side, sorted};
use super::plane::Point;
use super::quads::{corner, towards};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::smaller;
use spade::handles::{DirectedEdgeHandle, FixedFaceHandle, FixedVertexHandle, PossiblyOuterTag};
use spade::{CdtEdge, ConstrainedDelaunayTriangulation, Point2, Triangulation};
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::f64::consts::PI;

/// Counter-clockwise triangles of the material over `points`, of which the sides of `divided`
/// are edges.
pub(super) fn triangles(
    plan: &Arrangement,
    divided: &Divided,
    points: &[Point],
    used: &[usize],
) -> Result<Vec<[usize; 3]>, Vec<Fault>> {
    // One by one: the library's bulk loading takes what it had to put off in random order.
    let mut built = ConstrainedDelaunayTriangulation::<Point2<f64>>::new();
    let mut handles: BTreeMap<usize, FixedVertexHandle> = BTreeMap::new();
    for &n in used {
        let made = built.insert(Point2::new(points[n][0], points[n][1]));
        match made {
            Ok(handle) if built.num_vertices() == handles.len() + 1 => handles.insert(n, handle),
            _ => return Err(vec![too_narrow(plan, divided, &divided.sides[0])]),
        };
    }
    for side in &divided.sides {
        let [from, to] = side.ends.map(|n| handles[&n]);
        if built.try_add_constraint(from, to).len() != 1 {
            return Err(vec![too_narrow(plan, divided, side)]);
        }
    }
    let rims: BTreeSet<[usize; 2]> = divided
        .sides
        .iter()
        .filter(|side| plan.is_rim(side.chain))
        .map(|side| sorted(side.ends))
        .collect();
    let mut triangles = material(&built, &rims, used);
    cut_ears(divided, points, &mut triangles);
    Ok(triangles)
}

/// Triangles that are an odd number of rims away from the outside: by the rims crossed on the
/// way, since slivers along a straight rim are too thin to judge by their place.
fn material(
    built: &ConstrainedDelaunayTriangulation<Point2<f64>>,
    rims: &BTreeSet<[usize; 2]>,
    used: &[usize],
) -> Vec<[usize; 3]> {
    let mut inside: Vec<Option<bool>> = vec![None; built.num_all_faces()];
    let outer = built.outer_face();
    inside[outer.index()] = Some(false);
    let mut front: VecDeque<(FixedFaceHandle<PossiblyOuterTag>, bool)> = VecDeque::new();
    let beyond = |edge: DirectedEdgeHandle<'_, Point2<f64>, (), CdtEdge<()>, ()>, is: bool| {
        let ends = [edge.from(), edge.to()].map(|v| used[v.index()]);
        (edge.rev().face().fix(), is != rims.contains(&sorted(ends)))
    };
    for edge in built.convex_hull() {
        // The hull runs along the outer face.
        front.push_back(beyond(edge, false));
    }
    while let Some((face, is)) = front.pop_front() {
        if inside[face.index()].is_some() {
            continue;
        }
        inside[face.index()] = Some(is);
        if let Some(triangle) = built.face(face).as_inner() {
            front.extend(triangle.adjacent_edges().map(|edge| beyond(edge, is)));
        }
    }
    built
        .inner_faces()
        .filter(|face| inside[face.index()] == Some(true))
        .map(|face| face.vertices().map(|v| used[v.index()]))
        .collect()
}

/// Triangles that fill a blunt corner alone leave an element with nearly half a turn there: the
/// corner gets a side of its own by turning the one across it.
fn cut_ears(divided: &Divided, points: &[Point], triangles: &mut [[usize; 3]]) {
    let sides = divided.middles();
    let mut beside: BTreeMap<[usize; 2], [usize; 2]> = BTreeMap::new();
    for (t, triangle) in triangles.iter().enumerate() {
        for k in 0..3 {
            let edge = sorted([triangle[k], triangle[(k + 1) % 3]]);
            beside.entry(edge).and_modify(|pair| pair[1] = t).or_insert([t, usize::MAX]);
        }
    }
    let mut done = vec![false; triangles.len()];
    for t in 0..triangles.len() {
        for k in 0..3 {
            let [a, b, c] = [0, 1, 2].map(|i| triangles[t][(k + i) % 3]);
            let ear = sides.contains_key(&sorted([a, b])) && sides.contains_key(&sorted([b, c]));
            if done[t] || !ear || sides.contains_key(&sorted([c, a])) {
                continue;
            }
            let other = beside[&sorted([c, a])].into_iter().find(|&o| o != t);
            let Some(other) = other.filter(|&o| o != usize::MAX && !done[o]) else { continue };
            let far = triangles[other].into_iter().find(|n| ![a, c].contains(n));
            let Some(far) = far else { continue };
            let [p, q, r, s] = [a, b, c, far].map(|n| points[n]);
            let halves = [corner(p, q, s), corner(s, q, r), corner(q, r, s), corner(s, p, q)];
            let sharpest = halves.into_iter().fold(f64::INFINITY, smaller);
            let blunt =
                corner(towards(&sides, points, b, a), q, towards(&sides, points, b, c)) > BLUNT;
            if blunt && halves.iter().all(|&h| h < PI) && sharpest > SHARP {
                triangles[t] = [a, b, far];
                triangles[other] = [b, c, far];
                (done[t], done[other]) = (true, true);
            }
        }
    }
}

/// A corner is blunt above 120 degrees; turned sides leave at least 20, rad.
const BLUNT: f64 = 2.0 * PI / 3.0;
const SHARP: f64 = PI / 9.0;

/// The fault of a side that crosses another although their curves do not.
fn too_narrow(plan: &Arrangement, divided: &Divided, side: &Side) -> Fault {
    let curve = plan.parts[plan.chains[side.chain].parts[0].0].curves[0];
    let at = divided.nodes[side.ends[0]];
    Fault::new(
        named(&plan.curves[curve]),
        format!("no element fits between it and its neighbour at ({}, {}) m", at[0], at[1]),
        "room for elements of the least size",
        "widen the place or allow smaller elements there",
    )
}
