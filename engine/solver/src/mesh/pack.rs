//! Corners of the large elements inside the plate: rows set off from the curves by the size
//! that is asked for, until the plate is full.
//!
//! The order and the square neighbourhood follow the packing of parallelograms: J.-F. Remacle et
//! al., "A frontal approach to hex-dominant mesh generation", Adv. Model. Simul. Eng. Sci. 1
//! (2014), and the plane case before it (from memory).

use super::divide::{Divided, TooMany};
use super::plane::{Point, add, apart, cross, dot, off_segment, scale, sub};
use super::size::SizeField;
use std::collections::{BTreeMap, VecDeque};

/// Nearest that two points may come to each other, as a share of the size.
const ROOM: f64 = 0.7;
/// Nearest that a point may come to a curve, as a share of the size.
const OFF: f64 = 0.5;

/// Straight sides as rings round the material, for questions of inside and outside.
#[derive(Debug)]
pub(super) struct Rings {
    sides: Vec<[Point; 2]>,
}

impl Rings {
    pub(super) fn new(sides: Vec<[Point; 2]>) -> Self {
        Self { sides }
    }

    /// Whether a ray from `p` crosses the sides an odd number of times.
    pub(super) fn enclose(&self, p: Point) -> bool {
        let mut inside = false;
        for &[a, b] in &self.sides {
            if (a[1] > p[1]) == (b[1] > p[1]) {
                continue;
            }
            // Which side of a rising line the point is on.
            let [low, high] = if a[1] < b[1] { [a, b] } else { [b, a] };
            if cross(sub(high, low), sub(p, low)) > 0.0 {
                inside = !inside;
            }
        }
        inside
    }
}

/// Points inside.
pub(super) fn pack(
    divided: &Divided,
    rings: &Rings,
    field: &SizeField,
    most: usize,
) -> Result<Vec<Point>, TooMany> {
    let mut packed = Packed { all: Vec::new(), cells: BTreeMap::new(), cell: 0.0 };
    let ends = divided.corners();
    packed.cell = ends.iter().fold(0.0, |top, &n| {
        fishplate_quantity::algebra::larger(top, 2.0 * field.at(divided.nodes[n]))
    });
    for &node in &ends {
        packed.insert(divided.nodes[node]);
    }
    let on_curves = packed.all.len();
    // Each entry: a point and the direction of its row.
    let mut front: VecDeque<(Point, Point)> = VecDeque::new();
    for side in &divided.sides {
        let [a, b] = side.ends.map(|n| divided.nodes[n]);
        let along = scale(1.0 / apart(a, b), sub(b, a));
        front.push_back((a, along));
        front.push_back((b, along));
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
                && divided.sides.iter().all(|side| {
                    let [a, b] = side.ends.map(|n| divided.nodes[n]);
                    off_segment(q, a, b) >= OFF * size
                });
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
