//! The painter's order: far faces first, near ones over them, in any view.

use super::geometry::{
    Bounds, Point, Space, centre, crossing, dot, edges, from_edge, inside, normal, smaller,
};
use super::project::{Sheet, View};
use super::solids::{Edge, Face};
use super::writer::Figure;

/// Above this number of faces they are painted by the depth of their centres alone.
const EXACT_UP_TO: usize = 2500;

/// A face as it lies on the sheet, mm.
#[derive(Debug)]
pub(crate) struct Laid<'a> {
    face: &'a Face,
    flat: Vec<Point>,
    bounds: Bounds<2>,
    normal: Space,
    level: f64,
    facing: f64,
    middle_depth: f64,
}

impl Laid<'_> {
    /// How near the eye the face is at a place on the sheet.
    fn depth_at(&self, view: &View, p: Point) -> f64 {
        let base = view.back(p, 0.0);
        (self.level - dot(self.normal, base)) / self.facing
    }
}

/// Lays the faces on the sheet in the order in which they must be painted. Faces seen from their
/// edge, and the backs of closed solids, are left out.
pub(crate) fn lay<'a>(view: &View, faces: &'a [Face]) -> Vec<Laid<'a>> {
    let mut laid: Vec<Laid<'a>> = faces.iter().filter_map(|face| lay_one(view, face)).collect();
    if laid.len() > EXACT_UP_TO {
        laid.sort_by(|a, b| a.middle_depth.total_cmp(&b.middle_depth));
        return laid;
    }
    let order = order(view, &laid);
    let mut slots: Vec<Option<Laid<'a>>> = laid.into_iter().map(Some).collect();
    order.into_iter().filter_map(|i| slots.get_mut(i).and_then(Option::take)).collect()
}

/// Paints laid faces.
pub(crate) fn paint(figure: &mut Figure, sheet: &Sheet, laid: &[Laid<'_>]) {
    for one in laid {
        let corners: Vec<Point> = one.face.corners.iter().map(|p| sheet.at(*p)).collect();
        let upward =
            one.normal[2] * one.facing.signum() > 0.7 * super::geometry::length(one.normal);
        let class = if upward { one.face.top_class } else { one.face.class };
        if one.face.edges.iter().all(|e| *e == Edge::Hard) {
            figure.polygon(&corners, class);
            continue;
        }
        figure.polygon(&corners, &format!("{class} bare"));
        for line in lines(&sheet.view, one.face, &corners) {
            figure.polyline(&line, &format!("{class} line"));
        }
    }
}

/// The edges of a face that are lines, those that follow each other in one stroke.
fn lines(view: &View, face: &Face, corners: &[Point]) -> Vec<Vec<Point>> {
    let drawn = |edge: &Edge| match edge {
        Edge::Hard => true,
        Edge::Soft(beyond) => dot(*beyond, view.toward) <= 1e-9,
        Edge::Cut => false,
    };
    let mut out: Vec<Vec<Point>> = Vec::new();
    for ((a, b), edge) in edges(corners).zip(&face.edges) {
        if !drawn(edge) {
            continue;
        }
        match out.last_mut() {
            Some(line) if line.last() == Some(&a) => line.push(b),
            _ => out.push(vec![a, b]),
        }
    }
    out
}

/// Whether something is painted over a point of space by more than `tolerance` mm; what belongs to
/// a bolt covers whatever lies under it.
pub(crate) fn hidden(view: &View, laid: &[Laid<'_>], p: Space, tolerance: f64) -> bool {
    let (flat, depth) = (view.flat(p), view.depth(p));
    laid.iter().any(|one| {
        one.bounds.holds(flat, 0.0)
            && inside(&one.flat, flat)
            && one.depth_at(view, flat)
                > depth + if one.face.of_bolt { smaller(tolerance, 0.2) } else { tolerance }
    })
}

/// A point of part `part` that nothing covers, as near the middle of its largest face as can be.
pub(crate) fn seen(view: &View, laid: &[Laid<'_>], part: usize) -> Option<Space> {
    let mut own: Vec<&Laid<'_>> = laid.iter().filter(|l| l.face.part == part).collect();
    // What is marked as exceeding, then what is large.
    own.sort_by(|a, b| {
        let marked = |l: &Laid<'_>| l.face.class == "zone-x";
        marked(b).cmp(&marked(a)).then(b.facing.abs().total_cmp(&a.facing.abs()))
    });
    for one in own {
        let middle = centre(&one.face.corners);
        let toward_corner = one.face.corners.iter().flat_map(|c| {
            [0.35, 0.7].map(|t| std::array::from_fn(|i| middle[i] + t * (c[i] - middle[i])))
        });
        let free = std::iter::once(middle)
            .chain(toward_corner)
            .find(|p| inside(&one.flat, view.flat(*p)) && !hidden(view, laid, *p, 1e-3));
        if free.is_some() {
            return free;
        }
    }
    None
}

fn lay_one<'a>(view: &View, face: &'a Face) -> Option<Laid<'a>> {
    let normal = normal(&face.corners);
    let facing = dot(normal, view.toward);
    let size = super::geometry::length(normal);
    let on_edge = facing.abs() < 1e-6 * size || size < 1e-9;
    if on_edge || (face.outward && facing < 0.0) {
        return None;
    }
    let flat: Vec<Point> = face.corners.iter().map(|p| view.flat(*p)).collect();
    let bounds = Bounds::of(flat.iter().copied());
    let middle = centre(&face.corners);
    let (level, middle_depth) = (dot(normal, middle), view.depth(middle));
    Some(Laid { face, flat, bounds, normal, level, facing, middle_depth })
}

/// Sorts so that what lies behind comes first; where faces are in each other's way in a ring, the
/// one with the farthest centre goes first.
fn order(view: &View, laid: &[Laid<'_>]) -> Vec<usize> {
    let count = laid.len();
    let mut over: Vec<Vec<usize>> = vec![Vec::new(); count];
    let mut waiting: Vec<usize> = vec![0; count];
    for i in 0..count {
        for j in i + 1..count {
            let Some(i_first) = first(view, &laid[i], &laid[j]) else {
                continue;
            };
            let (under, above) = if i_first { (i, j) } else { (j, i) };
            over[under].push(above);
            waiting[above] += 1;
        }
    }
    let mut open: Vec<usize> = (0..count).collect();
    open.sort_by(|a, b| laid[*a].middle_depth.total_cmp(&laid[*b].middle_depth).then(a.cmp(b)));
    let mut out = Vec::with_capacity(count);
    while !open.is_empty() {
        let next = open.iter().position(|i| waiting[*i] == 0).unwrap_or(0);
        let chosen = open.remove(next);
        for above in &over[chosen] {
            waiting[*above] = waiting[*above].saturating_sub(1);
        }
        out.push(chosen);
    }
    out
}

/// Whether `a` must be painted before `b`; `None` where they do not cover each other. Of two
/// faces in one plane the later one lies on top.
fn first(view: &View, a: &Laid<'_>, b: &Laid<'_>) -> Option<bool> {
    if !a.bounds.meets(&b.bounds, -1e-6) {
        return None;
    }
    let p = common_point(&a.flat, &b.flat)?;
    let gap = a.depth_at(view, p) - b.depth_at(view, p);
    Some(gap < 1e-3)
}

/// A point well inside both polygons, if they cover each other.
fn common_point(a: &[Point], b: &[Point]) -> Option<Point> {
    let mut touched: Vec<Point> = Vec::new();
    touched.extend(a.iter().filter(|p| inside(b, **p)));
    touched.extend(b.iter().filter(|p| inside(a, **p)));
    for (p, q) in edges(a) {
        touched.extend(edges(b).filter_map(|(r, s)| crossing(p, q, r, s)));
    }
    if touched.len() < 3 {
        return None;
    }
    let well_inside = |p: &Point| {
        inside(a, *p) && inside(b, *p) && from_edge(a, *p) > 1e-4 && from_edge(b, *p) > 1e-4
    };
    let mean = |points: &[Point]| {
        // A handful of points.
        #[allow(clippy::cast_precision_loss)]
        let count = points.len() as f64;
        [0, 1].map(|i| points.iter().map(|p| p[i]).sum::<f64>() / count)
    };
    let all = mean(&touched);
    if well_inside(&all) {
        return Some(all);
    }
    // Hollow outlines: the mean may fall into the hollow, a mean of three seldom does.
    (0..touched.len())
        .flat_map(|i| (i + 1..touched.len()).map(move |j| (i, j)))
        .take(60)
        .flat_map(|(i, j)| {
            let last = mean(&[touched[i], touched[j], all]);
            [mean(&[touched[i], touched[j]]), last]
        })
        .find(well_inside)
}

// Orders by hand: two plates one over the other, seen from above and from below.
#[cfg(test)]
mod tests {
    use super::*;

    fn plate(z: f64, class: &'static str) -> Face {
        let corners = vec![[0.0, 0.0, z], [10.0, 0.0, z], [10.0, 10.0, z], [0.0, 10.0, z]];
        face(corners, class)
    }

    fn face(corners: Vec<Space>, class: &'static str) -> Face {
        let edges = vec![Edge::Hard; corners.len()];
        Face { corners, edges, class, top_class: class, outward: false, of_bolt: false, part: 0 }
    }

    fn painted(view: View, faces: &[Face]) -> Vec<&'static str> {
        lay(&view, faces).iter().map(|l| l.face.class).collect()
    }

    #[test]
    fn the_near_plate_is_painted_last() {
        let faces = [plate(5.0, "near"), plate(0.0, "far")];
        assert_eq!(painted(View::PLAN, &faces), ["far", "near"]);
        let below = View { up: [0.0, 1.0, 0.0], toward: [0.0, 0.0, -1.0], ..View::PLAN };
        assert_eq!(painted(below, &faces), ["near", "far"]);
    }

    #[test]
    fn a_long_slope_is_ordered_by_what_covers_what_and_not_by_its_centre() {
        // The slope rises from z 0 to 100 over x 0…100; the small plate lies on it at x 5, z 8,
        // its centre far below the slope's.
        let slope =
            vec![[0.0, 0.0, 0.0], [100.0, 0.0, 100.0], [100.0, 9.0, 100.0], [0.0, 9.0, 0.0]];
        let small = vec![[4.0, 2.0, 8.0], [6.0, 2.0, 8.0], [6.0, 4.0, 8.0], [4.0, 4.0, 8.0]];
        let faces = [face(small, "small"), face(slope, "slope")];
        assert_eq!(painted(View::PLAN, &faces), ["slope", "small"]);
    }

    #[test]
    fn of_two_faces_in_one_plane_the_later_lies_on_top() {
        assert_eq!(painted(View::PLAN, &[plate(0.0, "web"), plate(0.0, "zone")]), ["web", "zone"]);
    }

    #[test]
    fn a_face_seen_from_its_edge_is_not_painted() {
        assert!(painted(View::FRONT, &[plate(0.0, "web")]).is_empty());
    }

    #[test]
    fn a_point_under_a_plate_is_hidden() {
        let faces = [plate(5.0, "web")];
        let laid = lay(&View::PLAN, &faces);
        assert!(hidden(&View::PLAN, &laid, [5.0, 5.0, 0.0], 0.5));
        assert!(!hidden(&View::PLAN, &laid, [5.0, 5.0, 5.0], 0.5));
        assert!(!hidden(&View::PLAN, &laid, [15.0, 5.0, 0.0], 0.5));
    }
}
