//! Corners of the large elements inside the plate: rows set off from the curves by the size
//! that is asked for, until the plate is full.
//!
//! Rows from a front and the square neighbourhood follow J.-F. Remacle et al., "A frontal Delaunay
//! quad mesh generator using the L-infinity norm", Int. J. Numer. Meth. Eng. 94 (2013) (from memory).

use super::arrangement::Arrangement;
use super::divide::{Divided, Side, TooMany};
use super::plane::{Point, add, apart, between, cross, dot, norm, off_segment, scale, sub, turn};
use super::size::SizeField;
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Nearest that two points may come to each other, as a share of the size.
const ROOM: f64 = 0.7;
/// Nearest that a point may come to a curve, as a share of the size.
const OFF: f64 = 0.5;

/// Straight sides as rings round the material, for questions of inside and outside.
struct Rings {
    /// The sides that each strip of one height meets.
    strips: BTreeMap<i64, Vec<[Point; 2]>>,
    height: f64,
}

impl Rings {
    fn new(sides: impl Iterator<Item = [Point; 2]>, height: f64) -> Self {
        let mut rings = Self { strips: BTreeMap::new(), height };
        for side in sides {
            let [a, b] = side.map(|p| rings.strip(p));
            for strip in a.min(b)..=a.max(b) {
                rings.strips.entry(strip).or_default().push(side);
            }
        }
        rings
    }

    fn strip(&self, p: Point) -> i64 {
        (p[1] / self.height).floor() as i64
    }

    /// Whether a ray from `p` crosses the sides an odd number of times.
    fn enclose(&self, p: Point) -> bool {
        let mut inside = false;
        for &[a, b] in self.strips.get(&self.strip(p)).map_or(&[][..], Vec::as_slice) {
            if (a[1] > p[1]) == (b[1] > p[1]) {
                continue;
            }
            // Which side of a rising line the point is on.
            let [low, high] = if a[1] < b[1] { [a, b] } else { [b, a] };
            if turn(low, high, p) > 0.0 {
                inside = !inside;
            }
        }
        inside
    }
}

/// Points inside.
pub(super) fn pack(
    plan: &Arrangement,
    divided: &Divided,
    field: &SizeField,
    most: usize,
) -> Result<Vec<Point>, TooMany> {
    let mut packed = Packed { all: Vec::new(), cells: BTreeMap::new(), cell: 0.0 };
    let ends = divided.corners();
    packed.cell = 2.0 * field.largest();
    for &node in &ends {
        packed.insert(divided.nodes[node]);
    }
    let on_curves = packed.all.len();
    let place = |side: &Side| side.ends.map(|n| divided.nodes[n]);
    let rims = divided.sides.iter().filter(|side| plan.is_rim(side.chain)).map(place);
    let rings = Rings::new(rims, packed.cell);
    let fence = Fence::new(divided.sides.iter().map(place), packed.cell);
    // Each entry: a point and the direction of its row.
    let mut front: VecDeque<(Point, Point)> = VecDeque::new();
    for (node, directions) in directions(divided) {
        front.extend(directions.into_iter().map(|along| (divided.nodes[node], along)));
    }
    for &node in &divided.spots {
        front.push_back((divided.nodes[node], [1.0, 0.0]));
    }
    while let Some((p, along)) = front.pop_front() {
        for direction in [[-along[1], along[0]], [along[1], -along[0]], along, scale(-1.0, along)] {
            let size = 2.0 * field.at(p);
            let there = 2.0 * field.at(add(p, scale(size, direction)));
            let q = add(p, scale(0.5 * (size + there), direction));
            let size = 2.0 * field.at(q);
            let free = !packed.crowded(q, along, ROOM * size)
                && rings.enclose(q)
                && fence.clear(q, OFF * size);
            if free {
                packed.insert(q);
                front.push_back((q, along));
                if packed.all.len() > most {
                    return Err(TooMany);
                }
            }
        }
    }
    Ok(packed.all.split_off(on_curves))
}

/// Sides in square cells.
struct Fence {
    cells: BTreeMap<[i64; 2], Vec<[Point; 2]>>,
    cell: f64,
}

impl Fence {
    /// `cell`: at least the largest size of anything, so that what is near is in the cell or
    /// beside it.
    fn new(sides: impl Iterator<Item = [Point; 2]>, cell: f64) -> Self {
        let mut cells: BTreeMap<[i64; 2], Vec<[Point; 2]>> = BTreeMap::new();
        for side in sides {
            // Along a side in steps of half a cell, each with what is around it.
            let steps = (2.0 * apart(side[0], side[1]) / cell).ceil() as usize;
            let mut on: BTreeSet<[i64; 2]> = BTreeSet::new();
            for k in 0..=steps {
                let p = between(side[0], side[1], k as f64 / steps as f64);
                let [x, y] = p.map(|x| (x / cell).floor() as i64);
                on.extend((x - 1..=x + 1).flat_map(|x| (y - 1..=y + 1).map(move |y| [x, y])));
            }
            for key in on {
                cells.entry(key).or_default().push(side);
            }
        }
        Self { cells, cell }
    }

    /// Whether no side is nearer to `q` than `room`, which is at most half a cell.
    fn clear(&self, q: Point, room: f64) -> bool {
        let key = q.map(|x| (x / self.cell).floor() as i64);
        let near = self.cells.get(&key).map_or(&[][..], Vec::as_slice);
        near.iter().all(|&[a, b]| off_segment(q, a, b) >= room)
    }
}

/// For every corner on curves the directions of the rows that it starts: those of its sides,
/// or the mean of two that run on smoothly, so that rows about a hole point to its centre.
fn directions(divided: &Divided) -> BTreeMap<usize, Vec<Point>> {
    let mut directions: BTreeMap<usize, Vec<Point>> = BTreeMap::new();
    for side in &divided.sides {
        let [a, b] = side.ends.map(|n| divided.nodes[n]);
        let along = scale(1.0 / apart(a, b), sub(b, a));
        for node in side.ends {
            directions.entry(node).or_default().push(along);
        }
    }
    for both in directions.values_mut() {
        if let [one, two] = both[..] {
            let two = if dot(one, two) < 0.0 { scale(-1.0, two) } else { two };
            if dot(one, two) > 0.5 {
                let mean = add(one, two);
                *both = vec![scale(1.0 / norm(mean), mean)];
            }
        }
    }
    directions
}

/// Points in square cells.
struct Packed {
    all: Vec<Point>,
    cells: BTreeMap<[i64; 2], Vec<usize>>,
    cell: f64,
}

impl Packed {
    fn key(&self, p: Point) -> [i64; 2] {
        p.map(|x| (x / self.cell).floor() as i64)
    }

    fn insert(&mut self, p: Point) {
        self.cells.entry(self.key(p)).or_default().push(self.all.len());
        self.all.push(p);
    }

    /// Whether another point is in the square about `q` with sides along and across `along`.
    fn crowded(&self, q: Point, along: Point, half: f64) -> bool {
        let reach = half * std::f64::consts::SQRT_2;
        let [low, high] = [self.key(sub(q, [reach; 2])), self.key(add(q, [reach; 2]))];
        for i in low[0]..=high[0] {
            for j in low[1]..=high[1] {
                let Some(cell) = self.cells.get(&[i, j]) else { continue };
                for &k in cell {
                    let d = sub(self.all[k], q);
                    if dot(d, along).abs() < half && cross(along, d).abs() < half {
                        return true;
                    }
                }
            }
        }
        false
    }
}
