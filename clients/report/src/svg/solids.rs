//! The steel of the scene as faces to paint: cut to the part that is looked at, cut faces closed,
//! bolts made solid, what exceeds marked.

use std::collections::BTreeMap;

use fishplate_proto::v1;

use super::geometry::{Bounds, Space, along, cross, dot, edges, length, minus, normal, unit};
use super::shell::{key, pieces, turn_outward};

/// How an edge of a face is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Edge {
    /// A line.
    Hard,
    /// The surface goes on smoothly into a face with this normal: a line only on the outline.
    Soft(Space),
    /// The drawing ends here, not the part.
    Cut,
}

/// Faces that meet within 34° go over into each other: sides of a round bar.
const SMOOTH: f64 = 0.83;

/// One flat face with its class in the style sheet.
#[derive(Debug, Clone)]
pub(crate) struct Face {
    pub(crate) corners: Vec<Space>,
    /// The edge from each corner to the next.
    pub(crate) edges: Vec<Edge>,
    pub(crate) class: &'static str,
    /// The class where the face looks upward: the light comes from there.
    pub(crate) top_class: &'static str,
    /// Whether the corners turn left seen from outside, so that its back can be left out.
    pub(crate) outward: bool,
    /// Whether it belongs to a bolt.
    pub(crate) of_bolt: bool,
    /// Which of the things that are drawn together it belongs to.
    pub(crate) part: usize,
}

/// What a solid is drawn like.
fn classes(kind: &str) -> (&'static str, &'static str) {
    match kind {
        "rail" => ("p-rail", "p-rail2"),
        "bush" => ("p-bush", "p-bush2"),
        "sleeve" | "block" => ("p-washer", "p-rail2"),
        _ => ("p-brk", "p-brk2"),
    }
}

pub(crate) fn position(p: &v1::Position) -> Space {
    [p.x_mm, p.y_mm, p.z_mm]
}

/// The corners of every face of a solid that can be drawn.
pub(crate) fn corners(solid: &v1::Solid) -> impl Iterator<Item = Vec<Space>> + '_ {
    solid
        .faces
        .iter()
        .map(|face| face.corners.iter().map(position).collect::<Vec<_>>())
        .filter(|c| c.len() >= 3 && c.iter().flatten().all(|v| v.is_finite()))
}

/// The box around a solid.
pub(crate) fn bounds(solid: &v1::Solid) -> Bounds<3> {
    Bounds::of(corners(solid).flatten())
}

/// The faces of a solid inside `crop`, its cut faces closed. `exceeds` colours the whole of it.
pub(crate) fn faces(solid: &v1::Solid, part: usize, crop: &Bounds<3>, exceeds: bool) -> Vec<Face> {
    let (class, top_class) = if exceeds { ("zone-x", "zone-x") } else { classes(&solid.kind) };
    let mut all = Vec::new();
    for piece in pieces(corners(solid).collect()) {
        let mut out = closed(piece, part, class, top_class);
        for axis in 0..3 {
            for (limit, sign) in [(crop.low[axis], 1.0), (crop.high[axis], -1.0)] {
                out = cut(out, axis, limit, sign);
            }
        }
        all.extend(out);
    }
    all
}

/// Faces with their edges; smooth ones are known where the faces close a solid.
fn closed(
    mut polygons: Vec<Vec<Space>>,
    part: usize,
    class: &'static str,
    top_class: &'static str,
) -> Vec<Face> {
    let outward = turn_outward(&mut polygons);
    let mut across = BTreeMap::new();
    if outward {
        for polygon in &polygons {
            let normal = unit(normal(polygon)).unwrap_or_default();
            across.extend(edges(polygon).map(|(a, b)| ((key(b), key(a)), normal)));
        }
    }
    let edge = |own: Space, a: Space, b: Space| match across.get(&(key(a), key(b))) {
        Some(other) if dot(own, *other) > SMOOTH => Edge::Soft(*other),
        _ => Edge::Hard,
    };
    polygons
        .into_iter()
        .map(|corners| {
            let own = unit(normal(&corners)).unwrap_or_default();
            let edges = edges(&corners).map(|(a, b)| edge(own, a, b)).collect();
            Face { corners, edges, class, top_class, outward, of_bolt: false, part }
        })
        .collect()
}

/// The part of flat faces that lies inside `zone`, as faces of their own on top of them.
pub(crate) fn zone(faces: &[Face], zone: &Bounds<3>) -> Vec<Face> {
    let mut inside: Vec<Face> = faces.iter().filter(|f| f.class != "cut").cloned().collect();
    for axis in 0..3 {
        for (limit, sign) in [(zone.low[axis], 1.0), (zone.high[axis], -1.0)] {
            inside = cut(inside, axis, limit, sign);
            inside.retain(|f| f.class != "cut");
        }
    }
    inside
        .into_iter()
        .filter(|f| length(normal(&f.corners)) > 2.0)
        .map(|f| Face {
            edges: vec![Edge::Hard; f.corners.len()],
            class: "zone-x",
            top_class: "zone-x",
            ..f
        })
        .collect()
}

/// Keeps the side of the plane where `sign · (coordinate − limit)` is not negative, and closes
/// the cut with faces of class `cut`.
fn cut(faces: Vec<Face>, axis: usize, limit: f64, sign: f64) -> Vec<Face> {
    let side = |p: Space| sign * (p[axis] - limit);
    let part = faces.first().map_or(0, |f| f.part);
    let mut kept = Vec::with_capacity(faces.len());
    let mut seams: Vec<(Space, Space)> = Vec::new();
    for face in faces {
        if face.corners.iter().all(|p| side(*p) >= 0.0) {
            kept.push(face);
            continue;
        }
        let mut corners = Vec::with_capacity(face.corners.len() + 1);
        let mut lines = Vec::with_capacity(face.corners.len() + 1);
        let mut crossings = Vec::new();
        for ((a, b), edge) in edges(&face.corners).zip(&face.edges) {
            let (from, to) = (side(a), side(b));
            if from >= 0.0 {
                corners.push(a);
                lines.push(*edge);
            }
            if (from >= 0.0) != (to >= 0.0) {
                let mut p = along(a, from / (from - to), minus(b, a));
                p[axis] = limit;
                corners.push(p);
                lines.push(if from >= 0.0 { Edge::Cut } else { *edge });
                crossings.push(p);
            }
        }
        // A face in several arms is cut several times: its seams lie between pairs of crossings.
        let run = along([0.0; 3], 1.0, cross(normal(&face.corners), axis_unit(axis)));
        crossings.sort_by(|a, b| dot(run, *a).total_cmp(&dot(run, *b)));
        seams.extend(crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])));
        if corners.len() >= 3 {
            kept.push(Face { corners, edges: lines, ..face });
        }
    }
    kept.extend(loops(seams).into_iter().map(|corners| Face {
        edges: vec![Edge::Hard; corners.len()],
        corners,
        class: "cut",
        top_class: "cut",
        outward: false,
        of_bolt: false,
        part,
    }));
    kept
}

fn axis_unit(axis: usize) -> Space {
    let mut unit = [0.0; 3];
    unit[axis] = 1.0;
    unit
}

/// Joins seams end to end to closed outlines; what does not close is left out.
fn loops(mut seams: Vec<(Space, Space)>) -> Vec<Vec<Space>> {
    let mut out = Vec::new();
    while let Some((start, mut end)) = seams.pop() {
        let mut chain = vec![start, end];
        while let Some(next) = seams.iter().position(|s| near(s.0, end) || near(s.1, end)) {
            let (a, b) = seams.swap_remove(next);
            end = if near(a, end) { b } else { a };
            chain.push(end);
        }
        if near(start, end) && chain.len() > 3 {
            chain.pop();
            out.push(chain);
        }
    }
    out
}

fn near(a: Space, b: Space) -> bool {
    length(minus(a, b)) < 1e-3
}

/// A bolt as faces: shank, head and nut, washers where it has some.
pub(crate) fn bolt_faces(bolt: &v1::BoltLine, part: usize, exceeds: bool) -> Vec<Face> {
    let (Some(head), Some(nut)) = (bolt.head.as_ref(), bolt.nut.as_ref()) else {
        return Vec::new();
    };
    let (head, nut) = (position(head), position(nut));
    let (Some(axis), d) = (unit(minus(head, nut)), bolt.diameter_mm) else {
        return Vec::new();
    };
    if !(d.is_finite() && d > 0.0) {
        return Vec::new();
    }
    let (side, top) = if exceeds { ("zone-x", "zone-x") } else { ("p-bolt", "p-bolt2") };
    let mut out = prism([nut, head], d / 2.0, 12, side, top);
    let washer = if bolt.washer_mm > d { 0.2 * d } else { 0.0 };
    for (at, outward) in [(head, 1.0), (nut, -1.0)] {
        // Common practice, no source: a head is about 0.65 d high, 1.6 d over its flats' mean.
        let seat = along(at, outward * washer, axis);
        if washer > 0.0 {
            out.extend(prism([at, seat], bolt.washer_mm / 2.0, 16, "p-washer", "p-rail2"));
        }
        out.extend(prism([seat, along(seat, outward * 0.65 * d, axis)], 0.85 * d, 6, side, top));
    }
    out.iter_mut().for_each(|f| (f.part, f.of_bolt) = (part, true));
    out
}

/// A regular prism between two points.
fn prism(
    [from, to]: [Space; 2],
    radius: f64,
    corners: u32,
    class: &'static str,
    top_class: &'static str,
) -> Vec<Face> {
    let Some(axis) = unit(minus(to, from)) else {
        return Vec::new();
    };
    let helper = if axis[0].abs() < 0.9 { [1.0, 0.0, 0.0] } else { [0.0, 1.0, 0.0] };
    let Some(u) = unit(cross(axis, helper)) else {
        return Vec::new();
    };
    let v = cross(axis, u);
    let ring = |at: Space| -> Vec<Space> {
        (0..corners)
            .map(|k| {
                let turn = std::f64::consts::TAU * f64::from(k) / f64::from(corners);
                along(along(at, radius * turn.cos(), u), radius * turn.sin(), v)
            })
            .collect()
    };
    let (low, high) = (ring(from), ring(to));
    let mut polygons: Vec<Vec<Space>> =
        edges(&low).zip(edges(&high)).map(|((a, b), (c, d))| vec![a, b, d, c]).collect();
    polygons.push(high);
    polygons.push(low.into_iter().rev().collect());
    closed(polygons, 0, class, top_class)
}

// Areas and counts by hand on a cube of 10 mm.
#[cfg(test)]
mod tests {
    use super::*;
    use crate::svg::geometry::centre;

    fn cube() -> v1::Solid {
        let faces =
            [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
        let corner = |i: u8| v1::Position {
            x_mm: f64::from(i >> 2 & 1) * 10.0,
            y_mm: f64::from(i >> 1 & 1) * 10.0,
            z_mm: f64::from(i & 1) * 10.0,
        };
        let faces = faces.map(|f| v1::Polygon { corners: f.map(corner).to_vec() });
        v1::Solid { kind: "block".to_owned(), faces: faces.to_vec(), ..v1::Solid::default() }
    }

    fn area(face: &Face) -> f64 {
        length(normal(&face.corners)) / 2.0
    }

    #[test]
    fn a_closed_solid_is_known_and_turned_outward() {
        let all = faces(&cube(), 0, &Bounds { low: [-1.0; 3], high: [11.0; 3] }, false);
        assert_eq!(all.len(), 6);
        for face in &all {
            assert!(face.outward);
            let out = minus(centre(&face.corners), [5.0; 3]);
            assert!(dot(normal(&face.corners), out) > 0.0);
        }
    }

    #[test]
    fn a_cut_is_closed_with_a_face_of_its_true_size() {
        let half = faces(&cube(), 0, &Bounds { low: [-1.0; 3], high: [4.0, 11.0, 11.0] }, false);
        let caps: Vec<_> = half.iter().filter(|f| f.class == "cut").collect();
        assert_eq!(caps.len(), 1);
        assert!((area(caps[0]) - 100.0).abs() < 1e-9);
        let total: f64 = half.iter().map(area).sum();
        assert!((total - (2.0 * 100.0 + 4.0 * 40.0)).abs() < 1e-9);
    }

    #[test]
    fn a_cut_edge_is_no_line_and_a_round_side_is_smooth() {
        let half = faces(&cube(), 0, &Bounds { low: [-1.0; 3], high: [4.0, 11.0, 11.0] }, false);
        let cut = half.iter().flat_map(|f| &f.edges).filter(|e| **e == Edge::Cut).count();
        assert_eq!(cut, 4);
        // Of a prism with twelve sides every side goes over into two others, its ends do not.
        let round = prism([[0.0; 3], [0.0, 0.0, 9.0]], 5.0, 12, "a", "b");
        let soft = |f: &Face| f.edges.iter().filter(|e| matches!(e, Edge::Soft(_))).count();
        let mut counts: Vec<usize> = round.iter().map(soft).collect();
        counts.sort_unstable();
        assert_eq!(counts, [&[0; 2][..], &[2; 12][..]].concat());
    }

    #[test]
    fn a_solid_outside_leaves_nothing() {
        assert!(faces(&cube(), 0, &Bounds { low: [20.0; 3], high: [30.0; 3] }, false).is_empty());
    }

    #[test]
    fn an_open_or_broken_solid_is_drawn_from_both_sides() {
        let mut open = cube();
        open.faces.pop();
        let all = faces(&open, 0, &Bounds { low: [-1.0; 3], high: [11.0; 3] }, false);
        assert!(all.len() == 5 && all.iter().all(|f| !f.outward));
        let broken = v1::Solid { faces: vec![v1::Polygon::default()], ..v1::Solid::default() };
        assert!(faces(&broken, 0, &Bounds { low: [-1.0; 3], high: [1.0; 3] }, false).is_empty());
    }

    #[test]
    fn a_zone_is_the_part_of_a_face_inside_it() {
        let all = faces(&cube(), 0, &Bounds { low: [-1.0; 3], high: [11.0; 3] }, false);
        let zone = zone(&all, &Bounds { low: [2.0, -1.0, 9.0], high: [5.0, 11.0, 11.0] });
        let top: Vec<_> = zone.iter().filter(|f| f.corners.iter().all(|p| p[2] > 9.9)).collect();
        assert_eq!(top.len(), 1);
        assert!((area(top[0]) - 30.0).abs() < 1e-9);
    }

    #[test]
    fn a_bolt_without_ends_or_size_is_left_out() {
        assert!(bolt_faces(&v1::BoltLine::default(), 0, false).is_empty());
    }
}
