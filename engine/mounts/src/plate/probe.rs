//! Where in a mesh a place lies, and the forces of a wall there.

use fishplate_solver::plates::answer::{NodeForces, PlateStress};

use super::model::Model;
use super::result::{ToeForces, ToeStation};
use crate::design::{BeadAt, Design, Vec3};

/// Share of a corner below which a place counts as outside its element.
const OUTSIDE: f64 = -1e-6;

/// A place in an element: the plate, its nodes and their shares.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Probe {
    plate: usize,
    nodes: Vec<usize>,
    shares: Vec<f64>,
}

/// Lines beside a toe where the wall's forces are read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ToeLine {
    /// Out of the toe, in the wall.
    away: Vec3,
    /// 1 where the weld is on the top face, -1 where it is on the other.
    face: f64,
    stations: Vec<Station>,
}

#[derive(Debug, Clone, PartialEq)]
struct Station {
    at: f64,
    point: Vec3,
    /// At the toe, 0.4 t and 1.0 t away.
    probes: [Probe; 3],
}

/// Elements of the sheets, to find places in.
pub(super) struct Finder<'a> {
    model: &'a Model,
    /// Elements of each sheet.
    cells: Vec<Vec<Cell>>,
}

struct Cell {
    plate: usize,
    nodes: Vec<usize>,
    /// In the plane of the sheet.
    corners: Vec<[f64; 2]>,
}

impl<'a> Finder<'a> {
    pub(super) fn new(model: &'a Model) -> Self {
        let mut cells: Vec<Vec<Cell>> = model.sheets.iter().map(|_| Vec::new()).collect();
        for (p, plate) in model.draft.plates.iter().enumerate() {
            let s = model.sheet_of[p];
            let plane = &model.sheets[s].plane;
            for element in &plate.elements {
                let nodes: Vec<usize> = element.nodes().iter().map(|n| n.0).collect();
                let corners = nodes.iter().map(|n| plane.local(&model.net.nodes[*n])).collect();
                cells[s].push(Cell { plate: p, nodes, corners });
            }
        }
        Self { model, cells }
    }

    fn probe(&self, sheet: usize, at: [f64; 2]) -> Option<Probe> {
        self.cells[sheet].iter().find_map(|Cell { plate, nodes, corners }| {
            let beyond = |k: usize| {
                let all = || corners.iter().map(|c| c[k]);
                all().all(|c| c < at[k] - 1e-9) || all().all(|c| c > at[k] + 1e-9)
            };
            if beyond(0) || beyond(1) {
                return None;
            }
            let shares = shares(corners, at)?;
            Some(Probe { plate: *plate, nodes: nodes.clone(), shares })
        })
    }

    /// The lines of all toes of the model, in the order of its contents.
    pub(super) fn toes(&self, design: &Design) -> Vec<ToeLine> {
        let contents = &self.model.contents;
        contents
            .toes
            .iter()
            .map(|toe| {
                let at = &self.model.joints.runs[toe.run];
                let weld = &design.welds[at.weld.0];
                let run = &weld.runs[at.run];
                let leg = match weld.bead {
                    BeadAt::Fillet { leg, .. } => leg,
                    BeadAt::Plug { .. } => 0.0,
                };
                let sheet = if toe.onto { at.onto } else { at.edge };
                let plane = &self.model.sheets[sheet].plane;
                let away = toe.away - plane.normal * toe.away.dot(&plane.normal);
                let away = if away.norm() > 1e-9 { away.normalize() } else { away };
                let side = if toe.onto { run.leg_up } else { run.leg_on };
                let face = if side.dot(&plane.normal) < 0.0 { -1.0 } else { 1.0 };
                let t = contents.walls[toe.wall].thickness;
                let length = at.along.1 - at.along.0;
                let count = ((length / t).ceil() as usize).clamp(4, 40);
                let along = (run.end - run.start).normalize();
                let stations = (0..count)
                    .filter_map(|i| {
                        let s = at.along.0 + length * (i as f64 + 0.5) / count as f64;
                        let point = run.start + along * s + away * leg;
                        let probe = |d: f64| self.probe(sheet, plane.local(&(point + away * d)));
                        let probes = [probe(0.0)?, probe(0.4 * t)?, probe(t)?];
                        Some(Station { at: s, point, probes })
                    })
                    .collect();
                ToeLine { away, face, stations }
            })
            .collect()
    }
}

/// Shares of the corners at a place inside them.
fn shares(corners: &[[f64; 2]], at: [f64; 2]) -> Option<Vec<f64>> {
    let shares = if let [a, b, c] = corners {
        let cross = |p: &[f64; 2], q: &[f64; 2], r: [f64; 2]| {
            (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
        };
        let whole = cross(a, b, *c);
        vec![cross(b, c, at) / whole, cross(c, a, at) / whole, cross(a, b, at) / whole]
    } else {
        let [a, b, c, d] = corners else { return None };
        // Newton's method for the bilinear map.
        let (mut u, mut v) = (0.5, 0.5);
        let point = |u: f64, v: f64| {
            [0, 1].map(|k| {
                a[k] * (1.0 - u) * (1.0 - v)
                    + b[k] * u * (1.0 - v)
                    + c[k] * u * v
                    + d[k] * (1.0 - u) * v
            })
        };
        for _ in 0..20 {
            let p = point(u, v);
            let (rx, ry) = (at[0] - p[0], at[1] - p[1]);
            let du = [0, 1].map(|k| (b[k] - a[k]) * (1.0 - v) + (c[k] - d[k]) * v);
            let dv = [0, 1].map(|k| (d[k] - a[k]) * (1.0 - u) + (c[k] - b[k]) * u);
            let det = du[0] * dv[1] - du[1] * dv[0];
            if det.abs() < 1e-300 {
                return None;
            }
            u += (rx * dv[1] - ry * dv[0]) / det;
            v += (ry * du[0] - rx * du[1]) / det;
        }
        vec![(1.0 - u) * (1.0 - v), u * (1.0 - v), u * v, (1.0 - u) * v]
    };
    shares.iter().all(|s| *s >= OUTSIDE && *s <= 1.0 - OUTSIDE).then_some(shares)
}

/// Forces at the nodes of every plate, by plate and node.
pub(super) struct AtNodes<'a> {
    by_plate: Vec<Vec<Option<&'a NodeForces>>>,
}

impl<'a> AtNodes<'a> {
    pub(super) fn new(stresses: &'a [PlateStress], nodes: usize) -> Self {
        let mut by_plate = Vec::with_capacity(stresses.len());
        for stress in stresses {
            let mut list = vec![None; nodes];
            for at in &stress.nodes {
                list[at.node.0] = Some(at);
            }
            by_plate.push(list);
        }
        Self { by_plate }
    }

    pub(super) fn get(&self, plate: usize, node: usize) -> Option<&'a NodeForces> {
        self.by_plate[plate][node]
    }

    /// Membrane force and moment across a direction, and shear along, at a place.
    fn across(&self, probe: &Probe, away: &Vec3) -> ([f64; 2], f64) {
        let (mut pair, mut shear) = ([0.0; 2], 0.0);
        for (node, share) in probe.nodes.iter().zip(&probe.shares) {
            let Some(at) = self.get(probe.plate, *node) else { continue };
            let [x, y] = [0, 1].map(|k| Vec3::from(at.axes[k]).dot(away));
            let normal = |[a, b, ab]: [f64; 3]| a * x * x + b * y * y + 2.0 * ab * x * y;
            let [nx, ny, nxy] = at.forces.membrane;
            pair[0] += share * normal(at.forces.membrane);
            pair[1] += share * normal(at.forces.bending);
            shear += share * ((ny - nx) * x * y + nxy * (x * x - y * y));
        }
        (pair, shear)
    }
}

impl ToeLine {
    /// What is read along the line.
    pub(super) fn read(&self, at: &AtNodes<'_>) -> ToeForces {
        let stations = self
            .stations
            .iter()
            .map(|station| {
                let [toe, near, far] = [0, 1, 2].map(|k| {
                    let ([n, m], shear) = at.across(&station.probes[k], &self.away);
                    ([n, m * self.face], shear)
                });
                ToeStation {
                    at: station.at,
                    point: station.point,
                    near: near.0,
                    far: far.0,
                    toe: toe.0,
                    along: [near.1, far.1],
                }
            })
            .collect();
        ToeForces { stations }
    }
}
