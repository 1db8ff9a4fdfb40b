//! Constraints by elimination: rigid links and supports.
//!
//! Every movement of every node, in the axes of the node, is written as `u = R q + S p`: q are the free unknowns, p the
//! prescribed movements of the supports. Nothing is stiffened to imitate a constraint. The forces
//! of the constraints follow from virtual work: the reactions are `S^T (K u - f)`.
//!
//! Movements of a node may be counted in axes of its own; those of a slave are in global axes.

use crate::error::SolveError;
use crate::frame::FrameModel;
use crate::linear::Double;
use crate::model::{Dof, GLOBAL_AXES, NodeId, Restraint, SupportId};
use crate::vector::{Vec3, dot, sub};
use std::collections::BTreeMap;

/// A sum of terms (index, coefficient), ascending by index.
pub(crate) type Terms = Vec<(usize, f64)>;

/// One held movement of a support.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Held {
    pub(crate) support: SupportId,
    pub(crate) node: NodeId,
    /// Component in the axes of the support.
    pub(crate) dof: Dof,
    /// Unit direction in global axes.
    pub(crate) direction: Vec3,
}

/// The axes in which the movements of a node are counted, as rows; `None` = global axes.
pub(crate) type AxesOf<'a> = &'a dyn Fn(NodeId) -> Option<[[f64; 3]; 3]>;

/// How the movements of all nodes follow from the free unknowns and the prescribed movements.
/// Movement `6 n + i` is component i of node n in its axes.
#[derive(Clone, Debug)]
pub(crate) struct Reduction {
    pub(crate) unknowns: usize,
    /// The movement that each unknown is.
    pub(crate) movement_of: Vec<usize>,
    /// Terms in q of every movement.
    pub(crate) free: Vec<Terms>,
    /// Terms in p of every movement.
    pub(crate) prescribed: Vec<Terms>,
    pub(crate) held: Vec<Held>,
}

/// Terms smaller than this against the largest of their row are what cancelling left over.
const CANCELLED: f64 = 1e-10;

/// An eliminated movement: what replaces it.
#[derive(Clone, Debug, Default)]
struct Replacement {
    moves: BTreeMap<usize, f64>,
    prescribed: BTreeMap<usize, f64>,
}

impl Reduction {
    /// `axes` are those of the nodes; `presses` says of a one-sided support component whether it
    /// is closed.
    pub(crate) fn new(
        model: &FrameModel,
        axes: AxesOf<'_>,
        presses: &dyn Fn(SupportId, Dof) -> bool,
    ) -> Result<Self, SolveError> {
        let leading = leading_movements(model, axes);
        let held = held_movements(model, presses);
        let size = model.size();
        let mut replaced: BTreeMap<usize, Replacement> = BTreeMap::new();
        // The replaced movements that name a movement, so that a new replacement finds them.
        let mut namers: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (index, h) in held.iter().enumerate() {
            let (pivot, replacement) = solve_for_one((&leading, axes), &replaced, h, index, size)
                .ok_or(SolveError::RedundantSupport {
                support: h.support,
                node: h.node,
                direction: h.dof,
            })?;
            for &movement in replacement.moves.keys() {
                namers.entry(movement).or_default().push(pivot);
            }
            for namer in namers.remove(&pivot).unwrap_or_default() {
                if let Some(other) = replaced.get_mut(&namer) {
                    substitute(other, pivot, &replacement);
                    for &movement in replacement.moves.keys() {
                        namers.entry(movement).or_default().push(namer);
                    }
                }
            }
            replaced.insert(pivot, replacement);
        }
        Ok(number(leading, &replaced, held))
    }

    /// Movements of all nodes.
    pub(crate) fn expand(&self, q: &[Double], p: &[f64]) -> Vec<Double> {
        self.free
            .iter()
            .zip(&self.prescribed)
            .map(|(free, prescribed)| {
                let mut sum = Double::ZERO;
                for &(i, c) in free {
                    sum = sum.plus_product(q[i], c);
                }
                for &(i, c) in prescribed {
                    sum = sum.plus_product(Double::from_f64(p[i]), c);
                }
                sum
            })
            .collect()
    }

    /// The same in f64 and without prescribed movements.
    pub(crate) fn expand_free(&self, q: &[f64]) -> Vec<[f64; 6]> {
        self.free
            .chunks_exact(6)
            .map(|node| [0, 1, 2, 3, 4, 5].map(|i| node[i].iter().map(|&(j, c)| c * q[j]).sum()))
            .collect()
    }

    /// Forces at the movements of all nodes as forces at the unknowns: `R^T f`.
    pub(crate) fn gather(&self, forces: &[Double]) -> Vec<Double> {
        let mut sum = vec![Double::ZERO; self.unknowns];
        for (terms, &force) in self.free.iter().zip(forces) {
            for &(i, c) in terms {
                sum[i] = sum[i].plus_product(force, c);
            }
        }
        sum
    }

    /// Movements of all nodes in f64.
    pub(crate) fn expand_plain(&self, q: &[f64], p: &[f64]) -> Vec<f64> {
        let sum = |terms: &Terms, of: &[f64]| -> f64 {
            let mut sum = 0.0;
            for &(i, c) in terms {
                sum += c * of[i];
            }
            sum
        };
        self.free
            .iter()
            .zip(&self.prescribed)
            .map(|(free, prescribed)| sum(free, q) + sum(prescribed, p))
            .collect()
    }

    /// `R^T f` in f64.
    pub(crate) fn gather_plain(&self, forces: &[f64]) -> Vec<f64> {
        transposed(&self.free, forces, self.unknowns)
    }

    /// `S^T f` in f64.
    pub(crate) fn reactions_plain(&self, forces: &[f64]) -> Vec<f64> {
        transposed(&self.prescribed, forces, self.held.len())
    }

    /// Forces of the held movements: `S^T f`.
    pub(crate) fn reactions(&self, forces: &[Double]) -> Vec<f64> {
        let mut sum = vec![Double::ZERO; self.held.len()];
        for (terms, &force) in self.prescribed.iter().zip(forces) {
            for &(i, c) in terms {
                sum[i] = sum[i].plus_product(force, c);
            }
        }
        sum.into_iter().map(Double::to_f64).collect()
    }
}

fn transposed(rows: &[Terms], forces: &[f64], size: usize) -> Vec<f64> {
    let mut sum = vec![0.0; size];
    for (terms, force) in rows.iter().zip(forces) {
        for &(i, c) in terms {
            sum[i] += c * force;
        }
    }
    sum
}

/// Adds the terms of a movement in a global direction: `base` is the first translation or the
/// first rotation of the node.
fn add_along(
    sum: &mut BTreeMap<usize, f64>,
    (rows, axes): (&[Terms], AxesOf<'_>),
    base: usize,
    direction: Vec3,
) {
    let components = match axes(NodeId(base / 6)) {
        None => direction,
        Some(axes) => axes.map(|axis| dot(axis, direction)),
    };
    for (i, &c) in components.iter().enumerate() {
        add_terms(sum, &rows[base + i], c);
    }
}

/// Every movement in terms of the movements of nodes that follow no other.
fn leading_movements(model: &FrameModel, axes: AxesOf<'_>) -> Vec<Terms> {
    let mut rows: Vec<Terms> = (0..6 * model.draft.nodes.len()).map(|i| vec![(i, 1.0)]).collect();
    for id in &model.link_order {
        let link = &model.draft.rigid_links[id.0];
        let arm = sub(model.position(link.slave), model.position(link.master));
        // Row i of `rotation cross arm`, as coefficients of the rotations.
        let turned = [[0.0, arm[2], -arm[1]], [-arm[2], 0.0, arm[0]], [arm[1], -arm[0], 0.0]];
        let master = 6 * link.master.0;
        for (i, linked) in link.dofs.iter().enumerate() {
            if !linked {
                continue;
            }
            let base = if i < 3 { master } else { master + 3 };
            let mut sum = BTreeMap::new();
            add_along(&mut sum, (&rows, axes), base, GLOBAL_AXES[i % 3]);
            if i < 3 {
                add_along(&mut sum, (&rows, axes), master + 3, turned[i]);
            }
            rows[6 * link.slave.0 + i] = terms(sum);
        }
    }
    rows
}

fn held_movements(model: &FrameModel, presses: &dyn Fn(SupportId, Dof) -> bool) -> Vec<Held> {
    let mut held = Vec::new();
    for (index, support) in model.draft.supports.iter().enumerate() {
        for dof in Dof::ALL {
            let holds = match support.dofs[dof.index()] {
                Restraint::Free => false,
                Restraint::Fixed => true,
                Restraint::StopsNegative | Restraint::StopsPositive => {
                    presses(SupportId(index), dof)
                }
            };
            if holds {
                held.push(Held {
                    support: SupportId(index),
                    node: support.node,
                    dof,
                    direction: support.axes[dof.index() % 3],
                });
            }
        }
    }
    held
}

/// Solves the condition of one held movement for the movement with the largest coefficient.
fn solve_for_one(
    leading: (&[Terms], AxesOf<'_>),
    replaced: &BTreeMap<usize, Replacement>,
    held: &Held,
    index: usize,
    size: f64,
) -> Option<(usize, Replacement)> {
    let base = 6 * held.node.0 + if held.dof.index() < 3 { 0 } else { 3 };
    let mut row = Replacement::default();
    add_along(&mut row.moves, leading, base, held.direction);
    // In a translation's row a rotation's coefficient is an arm: compared by the model's size.
    let weight = |movement: usize, c: f64| {
        if held.dof.index() < 3 && movement % 6 >= 3 { c.abs() / size } else { c.abs() }
    };
    let before = row.moves.iter().fold(
        0.0,
        |top, (&m, &c)| {
            if weight(m, c) > top { weight(m, c) } else { top }
        },
    );
    // Replacements never name a replaced movement, so one pass is enough.
    let named: Vec<usize> = row.moves.keys().copied().collect();
    for movement in named {
        if let Some(replacement) = replaced.get(&movement) {
            substitute(&mut row, movement, replacement);
        }
    }
    row.moves.retain(|&m, c| weight(m, *c) > CANCELLED * before);
    let pivot = row.moves.iter().fold(None, |best: Option<(usize, f64)>, (&m, &c)| match best {
        Some((_, w)) if weight(m, c) <= w => best,
        _ => Some((m, weight(m, c))),
    });
    let (pivot, _) = pivot?;
    let coefficient = row.moves.remove(&pivot)?;
    // row.moves + coefficient * pivot + row.prescribed = p[index]
    for c in row.moves.values_mut().chain(row.prescribed.values_mut()) {
        *c = -*c / coefficient;
    }
    *row.prescribed.entry(index).or_insert(0.0) += 1.0 / coefficient;
    Some((pivot, row))
}

fn substitute(row: &mut Replacement, pivot: usize, replacement: &Replacement) {
    if let Some(c) = row.moves.remove(&pivot) {
        for (&m, &r) in &replacement.moves {
            *row.moves.entry(m).or_insert(0.0) += c * r;
        }
        for (&p, &r) in &replacement.prescribed {
            *row.prescribed.entry(p).or_insert(0.0) += c * r;
        }
    }
}

/// Numbers the movements that are left, node by node, and writes all others in them.
fn number(
    leading: Vec<Terms>,
    replaced: &BTreeMap<usize, Replacement>,
    held: Vec<Held>,
) -> Reduction {
    let leads =
        |movement: usize, row: &Terms| matches!(row.as_slice(), [(only, _)] if *only == movement);
    let mut place = vec![usize::MAX; leading.len()];
    let mut movement_of = Vec::with_capacity(leading.len());
    for (movement, row) in leading.iter().enumerate() {
        if leads(movement, row) && !replaced.contains_key(&movement) {
            place[movement] = movement_of.len();
            movement_of.push(movement);
        }
    }
    let mut free = Vec::with_capacity(leading.len());
    let mut prescribed = Vec::with_capacity(leading.len());
    for (movement, row) in leading.into_iter().enumerate() {
        if place[movement] != usize::MAX {
            free.push(vec![(place[movement], 1.0)]);
            prescribed.push(Vec::new());
            continue;
        }
        let mut all = Replacement::default();
        for (m, c) in row {
            match replaced.get(&m) {
                None => *all.moves.entry(m).or_insert(0.0) += c,
                Some(r) => {
                    for (&m, &k) in &r.moves {
                        *all.moves.entry(m).or_insert(0.0) += c * k;
                    }
                    for (&p, &k) in &r.prescribed {
                        *all.prescribed.entry(p).or_insert(0.0) += c * k;
                    }
                }
            }
        }
        free.push(terms(all.moves).into_iter().map(|(m, c)| (place[m], c)).collect());
        prescribed.push(terms(all.prescribed));
    }
    Reduction { unknowns: movement_of.len(), movement_of, free, prescribed, held }
}

fn add_terms(sum: &mut BTreeMap<usize, f64>, more: &Terms, factor: f64) {
    if factor.abs() > 0.0 {
        for &(i, c) in more {
            *sum.entry(i).or_insert(0.0) += factor * c;
        }
    }
}

fn terms(sum: BTreeMap<usize, f64>) -> Terms {
    sum.into_iter().filter(|(_, c)| c.abs() > 0.0).collect()
}
