//! Sheets meshed, with the nodes of folds shared.

use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::mesh::{
    Circle, Course, Edge, Finer, Hole, HoleShape, Line, Mesh, Outline, Sizing, Spot, mesh,
};

use super::imprint::Imprint;
use super::sheet::Sheet;
use crate::design::Vec3;

/// How fine a model is: 1 the finer mesh, 2 the coarser.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fineness(f64);

/// Size next to holes and weld ends where the plate is thinner, m.
const NEAR: f64 = 3e-3;
/// Size away from everything, m.
const FAR: f64 = 10e-3;
/// Size along a weld over that at its ends.
const ALONG: f64 = 2.0;
/// Size at a round area over its diameter, at most.
const ACROSS: f64 = 0.4;
/// Growth of the size from one row of elements to the next.
const GROWTH: f64 = 1.4;
/// Most elements of a wall.
const MOST: usize = 20_000;

/// How the mesh is chosen, in words.
pub(super) const RULE: &str = "elements as large as the wall is thick, at least 3 mm, at ends of \
    welds and at holes, twice that along welds, growing by 1.4 a row to 10 mm; the coarser \
    mesh has all sizes twice as large";

/// Size of the elements of a sheet at ends of welds and at holes, m.
pub(super) fn near_size(sheet: &Sheet, fineness: Fineness) -> f64 {
    larger(sheet.thickness, NEAR) * fineness.0
}

impl Fineness {
    /// The finer mesh.
    pub(super) const FINE: Self = Self(1.0);
    /// The coarser mesh.
    pub(super) const COARSE: Self = Self(2.0);

    fn sizing(self, sheet: &Sheet, imprint: &Imprint) -> Sizing {
        let near = near_size(sheet, self);
        let far = FAR * self.0;
        let mut finer = Vec::new();
        for [a, b] in &imprint.welds {
            finer.push(Finer { from: *a, to: *b, size: smaller(ALONG * near, far) });
            for end in [a, b] {
                finer.push(Finer { from: *end, to: *end, size: smaller(near, far) });
            }
        }
        for (centre, diameter) in &imprint.rounds {
            // A place on the rim stands for it: sizes grow from the hole outwards.
            let rim = [[0.5, 0.0], [-0.5, 0.0], [0.0, 0.5], [0.0, -0.5]];
            for [u, v] in rim {
                let at = [centre[0] + u * diameter, centre[1] + v * diameter];
                let size = smaller(smaller(near, far), ACROSS * diameter);
                finer.push(Finer { from: at, to: at, size });
            }
        }
        Sizing {
            target: far,
            least: smaller(near, smaller(far, NEAR)) / 2.0,
            growth: GROWTH,
            around_holes: if self.0 > 1.5 { 8 } else { 16 },
            at_reentrant_corners: Some(smaller(near, far)),
            at_line_ends: None,
            finer,
            most_elements: MOST,
        }
    }
}

/// Sheets meshed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Net {
    /// Nodes, m.
    pub(super) nodes: Vec<Vec3>,
    /// Sheets, in their order.
    pub(super) sheets: Vec<Meshed>,
    /// Smallest and largest angle, rad.
    pub(super) angles: [f64; 2],
}

/// A sheet meshed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Meshed {
    /// Corners of the elements by node, going round as seen against the plane's normal.
    pub(super) cells: Vec<Vec<usize>>,
    /// Nodes of the sheet.
    pub(super) nodes: Vec<usize>,
    /// Nodes on its named curves.
    pub(super) marks: Vec<(String, Vec<usize>)>,
}

/// A side that two sheets share.
struct Fold {
    /// Sheet and side of the one that is meshed first, and of the other.
    sides: [(usize, usize); 2],
}

/// Meshes all sheets.
///
/// # Errors
/// Why a sheet cannot be meshed, naming it.
pub(super) fn net(
    sheets: &[Sheet],
    imprints: &[Imprint],
    fineness: Fineness,
) -> Result<Net, String> {
    let folds = folds(sheets);
    let mut net = Net { nodes: Vec::new(), sheets: Vec::new(), angles: [f64::INFINITY, 0.0] };
    for (s, sheet) in sheets.iter().enumerate() {
        // Sides whose nodes are there already.
        let given: Vec<(usize, Vec<usize>)> = folds
            .iter()
            .filter(|f| f.sides[1].0 == s)
            .map(|f| {
                let (first, side) = f.sides[0];
                (f.sides[1].1, net.sheets[first].marked(&side_name(side)).to_vec())
            })
            .collect();
        let outline = outline(sheets, imprints, s, &folds, &given, &net.nodes);
        let sizing = fineness.sizing(sheet, &imprints[s]);
        let made = mesh(&outline, &sizing).map_err(|faults| told(sheet, &faults))?;
        let quality = &made.quality;
        net.angles = [
            smaller(net.angles[0], quality.least_angle),
            larger(net.angles[1], quality.largest_angle),
        ];
        let known: Vec<usize> = given.into_iter().flat_map(|(_, nodes)| nodes).collect();
        net.add(sheet, &made, &known);
    }
    Ok(net)
}

/// In place of a node that no element has.
const UNUSED: usize = usize::MAX;

fn told(sheet: &Sheet, faults: &[Fault]) -> String {
    let first = faults.first().map_or(String::new(), ToString::to_string);
    format!("{} cannot be meshed: {first}", sheet.name)
}

fn side_name(side: usize) -> String {
    format!("side {}", side + 1)
}

fn folds(sheets: &[Sheet]) -> Vec<Fold> {
    let corner = |s: usize, i: usize| {
        let outline = &sheets[s].outline;
        sheets[s].plane.point(outline[i % outline.len()])
    };
    let near = |a: Vec3, b: Vec3| (a - b).norm() < 1e-7;
    let mut list = Vec::new();
    for b in 0..sheets.len() {
        for j in 0..sheets[b].outline.len() {
            let (b0, b1) = (corner(b, j), corner(b, j + 1));
            let found = (0..b).filter(|a| sheets[*a].body == sheets[b].body).find_map(|a| {
                let i = (0..sheets[a].outline.len()).find(|i| {
                    let (a0, a1) = (corner(a, *i), corner(a, i + 1));
                    near(a0, b0) && near(a1, b1) || near(a0, b1) && near(a1, b0)
                })?;
                Some((a, i))
            });
            if let Some(first) = found {
                list.push(Fold { sides: [first, (b, j)] });
            }
        }
    }
    list
}

fn outline(
    sheets: &[Sheet],
    imprints: &[Imprint],
    s: usize,
    folds: &[Fold],
    given: &[(usize, Vec<usize>)],
    nodes: &[Vec3],
) -> Outline {
    let (sheet, imprint) = (&sheets[s], &imprints[s]);
    let n = sheet.outline.len();
    let edges = (0..n)
        .map(|i| {
            let course = match given.iter().find(|(side, _)| *side == i) {
                None => Course::Straight,
                Some((_, known)) => {
                    let mut way: Vec<[f64; 2]> =
                        known.iter().map(|k| sheet.plane.local(&nodes[*k])).collect();
                    let away = |p: &[f64; 2]| {
                        (p[0] - sheet.outline[i][0]).hypot(p[1] - sheet.outline[i][1])
                    };
                    if way.len() > 1 && away(&way[0]) > away(&way[way.len() - 1]) {
                        way.reverse();
                    }
                    Course::Nodes(way[1..way.len() - 1].to_vec())
                }
            };
            Edge { name: side_name(i), start: sheet.outline[i], course }
        })
        .collect();
    let mut points = imprint.points.clone();
    // What ends on a fold on its other wall needs a node here too.
    for fold in folds.iter().filter(|f| f.sides[0].0 == s) {
        let ((_, side), (other, _)) = (fold.sides[0], fold.sides[1]);
        let ends = [sheet.outline[side], sheet.outline[(side + 1) % n]];
        let lines = imprints[other].lines.iter().flat_map(|(_, ends)| *ends);
        for p in lines.chain(imprints[other].points.iter().copied()) {
            let at = sheets[other].plane.point(p);
            let here = sheet.plane.local(&at);
            let on_it = sheet.plane.height(&at).abs() < 1e-7 && on_segment(here, ends);
            let known = points.iter().copied().chain(ends);
            let own = imprint.lines.iter().flat_map(|(_, ends)| *ends);
            if on_it && known.chain(own).all(|q| (q[0] - here[0]).hypot(q[1] - here[1]) > 1e-6) {
                points.push(here);
            }
        }
    }
    // A point on a side whose nodes are given is there already.
    let on_given = |p: &[f64; 2]| {
        given
            .iter()
            .any(|(side, _)| on_segment(*p, [sheet.outline[*side], sheet.outline[(side + 1) % n]]))
    };
    points.retain(|p| !on_given(p));
    Outline {
        name: sheet.name.clone(),
        edges,
        holes: imprint
            .holes
            .iter()
            .map(|(name, centre, diameter)| Hole {
                name: name.clone(),
                shape: HoleShape::Circle { centre: *centre, diameter: *diameter },
            })
            .collect(),
        lines: imprint
            .lines
            .iter()
            .map(|(name, ends)| Line { name: name.clone(), points: ends.to_vec() })
            .collect(),
        circles: imprint
            .circles
            .iter()
            .map(|(name, centre, diameter)| Circle {
                name: name.clone(),
                centre: *centre,
                diameter: *diameter,
            })
            .collect(),
        points: points
            .iter()
            .enumerate()
            .map(|(i, at)| Spot { name: format!("place {}", i + 1), at: *at })
            .collect(),
    }
}

fn on_segment(p: [f64; 2], [a, b]: [[f64; 2]; 2]) -> bool {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let length = dx.hypot(dy);
    let off = ((p[0] - a[0]) * dy - (p[1] - a[1]) * dx).abs() / length;
    let along = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length;
    off < 1e-7 && along > -1e-7 && along < length + 1e-7
}

impl Net {
    /// Enters a mesh; nodes that coincide with known ones are theirs.
    fn add(&mut self, sheet: &Sheet, made: &Mesh, known: &[usize]) {
        let mut used = vec![false; made.points.len()];
        made.elements.iter().flat_map(|e| e.nodes()).for_each(|n| used[*n] = true);
        let places: Vec<usize> = made
            .points
            .iter()
            .zip(&used)
            .map(|(p, used)| {
                if !used {
                    return UNUSED;
                }
                let at = sheet.plane.point(*p);
                let found = known.iter().find(|k| (self.nodes[**k] - at).norm() < 1e-7);
                found.copied().unwrap_or_else(|| {
                    self.nodes.push(at);
                    self.nodes.len() - 1
                })
            })
            .collect();
        let all = |list: &[usize]| {
            let nodes = list.iter().map(|n| places[*n]);
            nodes.filter(|n| *n != UNUSED).collect::<Vec<_>>()
        };
        self.sheets.push(Meshed {
            cells: made.elements.iter().map(|e| all(e.nodes())).collect(),
            marks: made.marks.iter().map(|m| (m.name.clone(), all(&m.nodes))).collect(),
            nodes: places.iter().copied().filter(|n| *n != UNUSED).collect(),
        });
    }
}

impl Meshed {
    /// Nodes on a named curve, in order.
    pub(super) fn marked(&self, name: &str) -> &[usize] {
        self.marks.iter().find(|(n, _)| n == name).map_or(&[], |(_, nodes)| nodes)
    }
}
