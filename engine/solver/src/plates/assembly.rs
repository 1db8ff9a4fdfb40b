//! From elements, beams, springs and joints to the stiffness matrix of the free unknowns.
//!
//! Movements are counted in the axes of their node ([`super::shells::node_axes`]). In a flat plate
//! the membrane movements of an element then meet its bending movements in no entry of the matrix,
//! and only those entries exist that some part fills.

use super::element::{self, Facet, Full};
use super::joints::Row;
use super::shells::{PlateModel, SAME_DIRECTION, Shell};
use crate::assembly::Structure;
use crate::error::SolveError;
use crate::linear::{Pattern, share};
use crate::model::GLOBAL_AXES;
use crate::part::Part;
use crate::reduction::{Reduction, Terms};
use crate::vector::{Vec3, dot, norm};
use nalgebra::DMatrix;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Membrane movements of an element.
const MEMBRANE: u8 = 1;
/// Bending movements of an element.
const BENDING: u8 = 2;
/// Movements of a part that couples them all.
const BOTH: u8 = 3;

/// Few deformations and what resists them: a beam, a spring or a row of a joint.
#[derive(Clone, Debug)]
pub(crate) struct Link {
    /// In the axes of the nodes.
    pub(crate) movements: Vec<usize>,
    /// Deformations from movements.
    pub(crate) modes: DMatrix<f64>,
    pub(crate) stiffness: DMatrix<f64>,
}

/// Matrix of an element by number and shape, in its axes; `None` = zero.
pub(crate) type ShellMatrix<'m> = &'m (dyn Fn(usize, &Facet) -> Option<Full> + Sync);

/// So many elements a thread finds before they are summed.
const AT_A_TIME: usize = 256;

/// The parts of a structure, its unknowns and the pattern of its matrix.
#[derive(Debug)]
pub(crate) struct Assembly<'a> {
    pub(crate) model: &'a PlateModel,
    pub(crate) structure: Structure<'a>,
    /// Beams, springs, rows.
    pub(crate) links: Vec<Link>,
    pub(crate) reduction: Reduction,
    pub(crate) pattern: Arc<Pattern>,
    /// Elements with a corner that is not free in all its movements.
    bound: Vec<usize>,
}

/// A matrix over the movements of some nodes.
struct Block<'b> {
    movements: &'b [usize],
    /// Movements without a class in common share no entry.
    classes: &'b [u8],
}

/// An element turned into the axes of its nodes.
struct Placed {
    /// Rows: element axes in the axes of each corner.
    turn: [[Vec3; 3]; 4],
    movements: [usize; 24],
    classes: [u8; 24],
    count: usize,
}

impl Placed {
    fn new(model: &PlateModel, shell: &Shell) -> Self {
        let facet = &shell.facet;
        let mut placed =
            Placed { turn: [[[0.0; 3]; 3]; 4], movements: [0; 24], classes: [BOTH; 24], count: 0 };
        for (corner, &node) in shell.corners().iter().enumerate() {
            let axes = model.rows(node);
            let turn = facet.axes.map(|e| axes.map(|a| plain(dot(e, a))));
            for i in 0..6 {
                placed.movements[placed.count] = 6 * node + i;
                if facet.is_flat() {
                    placed.classes[placed.count] = class(&turn, i);
                }
                placed.count += 1;
            }
            placed.turn[corner] = turn;
        }
        placed
    }

    fn block(&self) -> Block<'_> {
        Block { movements: &self.movements[..self.count], classes: &self.classes[..self.count] }
    }

    /// A matrix of the element, given in its own axes, in those of its nodes.
    fn turned(&self, full: Full, corners: usize) -> Full {
        let own = self.turn[..corners].iter().all(|turn| *turn == GLOBAL_AXES);
        if own { full } else { element::turned(&full, &self.turn, corners) }
    }
}

/// A component of a unit vector without what rounding left of 0 and 1.
fn plain(c: f64) -> f64 {
    if c.abs() < SAME_DIRECTION {
        0.0
    } else if c.abs() > 1.0 - SAME_DIRECTION {
        1.0_f64.copysign(c)
    } else {
        c
    }
}

/// Which movements of a flat element the movement i of a corner is part of.
fn class(turn: &[Vec3; 3], i: usize) -> u8 {
    let in_plane = turn[0][i % 3].abs() + turn[1][i % 3].abs() > 0.0;
    let out_of_plane = turn[2][i % 3].abs() > 0.0;
    let (membrane, bending) =
        if i < 3 { (in_plane, out_of_plane) } else { (out_of_plane, in_plane) };
    (if membrane { MEMBRANE } else { 0 }) | (if bending { BENDING } else { 0 })
}

impl<'a> Assembly<'a> {
    /// Numbers the unknowns and lays out the matrix; `rows` are those of the joints that act.
    ///
    /// # Errors
    /// Supports that hold a movement twice; a member that moves by itself.
    pub(crate) fn new<'r>(
        model: &'a PlateModel,
        rows: impl Iterator<Item = &'r Row>,
    ) -> Result<Self, SolveError> {
        Self::laid_out(model, rows, false)
    }

    /// The same with every entry that an element could fill, zero or not.
    ///
    /// # Errors
    /// As [`Assembly::new`].
    pub(crate) fn whole(model: &'a PlateModel) -> Result<Self, SolveError> {
        Self::laid_out(model, model.joints.rows(), true)
    }

    fn laid_out<'r>(
        model: &'a PlateModel,
        rows: impl Iterator<Item = &'r Row>,
        whole: bool,
    ) -> Result<Self, SolveError> {
        let structure = Structure::new(&model.frame)?;
        let reduction = Reduction::new(&model.frame, &|node| model.axes[node.0], &|_, _| true)?;
        let mut links: Vec<Link> =
            structure.parts(&[]).iter().map(|part| Link::of_part(model, part)).collect();
        links.extend(rows.map(|row| Link::of_row(model, row)));
        let groups = groups(model, &links, &reduction, whole);
        let pattern = Arc::new(Pattern::from_groups(reduction.unknowns, &groups));
        let free = |node: usize| (0..6).all(|i| single(&reduction.free[6 * node + i]));
        let bound = (0..model.shells.len())
            .filter(|&s| !model.shells[s].corners().iter().all(|&node| free(node)))
            .collect();
        Ok(Assembly { model, structure, links, reduction, pattern, bound })
    }

    /// The unknowns that each part couples: what the pattern is made of; of
    /// [`Assembly::whole`] where `whole`.
    pub(crate) fn groups(&self, whole: bool) -> Vec<Vec<usize>> {
        groups(self.model, &self.links, &self.reduction, whole)
    }

    /// Stiffness in the unknowns, lower triangle.
    pub(crate) fn stiffness(&self, threads: usize) -> Vec<f64> {
        let mut values = self.of_shells(threads, &|index, facet| {
            Some(element::stiffness(facet, &self.model.laws[self.model.shells[index].plate]))
        });
        for link in &self.links {
            let matrix = link.modes.transpose() * &link.stiffness * &link.modes;
            self.add(&link.movements, |i, j| matrix[(i, j)], &mut values);
        }
        values
    }

    /// Sum of matrices of the elements, each given in the axes of its element; they are found on up
    /// to so many threads, and summed in their order.
    pub(crate) fn of_shells(&self, threads: usize, matrix: ShellMatrix<'_>) -> Vec<f64> {
        let mut values = vec![0.0; self.pattern.entries()];
        let turned = |index: usize| {
            let shell = &self.model.shells[index];
            let placed = Placed::new(self.model, shell);
            let full = matrix(index, &shell.facet)?;
            Some((placed.turned(full, shell.facet.corners), placed))
        };
        let mut take = |found: &Option<(Full, Placed)>| {
            if let Some((full, placed)) = found {
                self.scatter(&placed.block(), |i, j| full[i][j], &mut values);
            }
        };
        let count = self.model.shells.len();
        if threads < 2 {
            (0..count).for_each(|index| take(&turned(index)));
            return values;
        }
        for start in (0..count).step_by(threads * AT_A_TIME) {
            let end = Ord::min(start + threads * AT_A_TIME, count);
            let mut found: Vec<Option<(Full, Placed)>> = Vec::new();
            found.resize_with(end - start, || None);
            let parts: Vec<_> = found.chunks_mut(AT_A_TIME).enumerate().collect();
            share(parts, threads, |(part, found)| {
                for (offset, found) in found.iter_mut().enumerate() {
                    *found = turned(start + part * AT_A_TIME + offset);
                }
            });
            found.iter().for_each(&mut take);
        }
        values
    }

    /// Adds a matrix over movements that it couples all.
    pub(crate) fn add(
        &self,
        movements: &[usize],
        entry: impl Fn(usize, usize) -> f64,
        values: &mut [f64],
    ) {
        let classes = vec![BOTH; movements.len()];
        self.scatter(&Block { movements, classes: &classes }, entry, values);
    }

    /// Adds a matrix over all movements of some nodes, given in global axes.
    pub(crate) fn add_global(
        &self,
        nodes: &[usize],
        entry: impl Fn(usize, usize) -> f64,
        values: &mut [f64],
    ) {
        let rows: Vec<[Vec3; 3]> = nodes.iter().map(|&node| self.model.rows(node)).collect();
        let movements: Vec<usize> =
            nodes.iter().flat_map(|&node| (0..6).map(move |i| 6 * node + i)).collect();
        let turned = |i: usize, j: usize| {
            let (left, right) = (rows[i / 6][i % 3], rows[j / 6][j % 3]);
            let mut sum = 0.0;
            for (a, l) in left.iter().enumerate() {
                for (b, r) in right.iter().enumerate() {
                    sum += l * r * entry(3 * (i / 3) + a, 3 * (j / 3) + b);
                }
            }
            sum
        };
        self.add(&movements, turned, values);
    }

    fn scatter(&self, block: &Block<'_>, entry: impl Fn(usize, usize) -> f64, values: &mut [f64]) {
        let free = &self.reduction.free;
        for (j, &of_column) in block.movements.iter().enumerate() {
            for &(column, c) in &free[of_column] {
                let mut entries = self.pattern.column(column);
                for (i, &of_row) in block.movements.iter().enumerate() {
                    if block.classes[i] & block.classes[j] == 0 {
                        continue;
                    }
                    for &(row, r) in &free[of_row] {
                        if row >= column {
                            values[entries.slot(row)] += r * c * entry(i, j);
                        }
                    }
                }
            }
        }
    }

    /// Forces that hold each of some sets of movements, both in the axes of the nodes.
    pub(crate) fn forces(&self, sets: &[Vec<f64>]) -> Vec<Vec<f64>> {
        self.forces_of(&mut (0..self.model.shells.len()), sets)
    }

    /// The same, complete only at movements that are not free.
    pub(crate) fn bound_forces(&self, sets: &[Vec<f64>]) -> Vec<Vec<f64>> {
        self.forces_of(&mut self.bound.iter().copied(), sets)
    }

    fn forces_of(
        &self,
        shells: &mut dyn Iterator<Item = usize>,
        sets: &[Vec<f64>],
    ) -> Vec<Vec<f64>> {
        let mut forces = vec![vec![0.0; 6 * self.model.axes.len()]; sets.len()];
        for index in shells {
            let shell = &self.model.shells[index];
            let placed = Placed::new(self.model, shell);
            let full = element::stiffness(&shell.facet, &self.model.laws[shell.plate]);
            for (movements, forces) in sets.iter().zip(&mut forces) {
                let held = element_forces(&shell.facet, &full, &placed.corner_movements(movements));
                placed.add_corner_forces(&held, forces);
            }
        }
        for link in &self.links {
            for (movements, forces) in sets.iter().zip(&mut forces) {
                link.add_forces(movements, forces);
            }
        }
        forces
    }

    /// Forces that the geometric stiffness of membrane forces (at the corners of each element) adds
    /// to those that hold some movements; in the axes of the nodes.
    pub(crate) fn geometric_forces(
        &self,
        membrane: &[[[f64; 3]; 4]],
        movements: &[f64],
    ) -> Vec<f64> {
        let mut forces = vec![0.0; 6 * self.model.axes.len()];
        for (shell, membrane) in self.model.shells.iter().zip(membrane) {
            let placed = Placed::new(self.model, shell);
            let thickness = self.model.laws[shell.plate].thickness;
            let full = element::geometric_stiffness(&shell.facet, thickness, membrane);
            let own = placed.corner_movements(movements);
            let held = full.map(|row| row.iter().zip(&own).map(|(k, u)| k * u).sum());
            placed.add_corner_forces(&held, &mut forces);
        }
        forces
    }

    /// Movements of the corners of an element in its own axes.
    pub(crate) fn corner_movements(&self, shell: usize, movements: &[f64]) -> [f64; 24] {
        Placed::new(self.model, &self.model.shells[shell]).corner_movements(movements)
    }
}

impl Placed {
    fn corner_movements(&self, movements: &[f64]) -> [f64; 24] {
        let mut own = [0.0; 24];
        for half in 0..self.count / 3 {
            let turn = &self.turn[half / 2];
            let at = self.movements[3 * half];
            let v = [movements[at], movements[at + 1], movements[at + 2]];
            for (to, row) in own[3 * half..].iter_mut().zip(turn) {
                *to = dot(*row, v);
            }
        }
        own
    }

    fn add_corner_forces(&self, own: &[f64; 24], forces: &mut [f64]) {
        for half in 0..self.count / 3 {
            let turn = &self.turn[half / 2];
            let at = self.movements[3 * half];
            for i in 0..3 {
                for (row, axis) in turn.iter().enumerate() {
                    forces[at + i] += axis[i] * own[3 * half + row];
                }
            }
        }
    }
}

/// Forces of the corners that hold their movements. The rigid part of the movements is taken off
/// before and that of the forces after: both are zero but for rounding, which a large rigid
/// movement makes large.
pub(crate) fn element_forces(facet: &Facet, stiffness: &Full, movements: &[f64; 24]) -> [f64; 24] {
    let bent = without_rigid(facet, movements);
    let mut forces = [0.0; 24];
    let size = 6 * facet.corners;
    for (force, row) in forces[..size].iter_mut().zip(stiffness) {
        for (k, u) in row[..size].iter().zip(&bent) {
            *force += k * u;
        }
    }
    without_rigid(facet, &forces)
}

/// What is left of six numbers a corner when the nearest rigid movement of the element is taken
/// off, metres and radians weighed alike: an orthogonal projection, which serves forces as well.
fn without_rigid(facet: &Facet, six: &[f64; 24]) -> [f64; 24] {
    let corners = facet.corners;
    let arms: Vec<Vec3> =
        (0..corners).map(|c| [facet.plane[c][0], facet.plane[c][1], facet.heights[c]]).collect();
    let mut moved = [0.0; 3];
    let mut turned = [0.0; 3];
    // Sum of the squares of the rigid rotations: of the arms and of the corners themselves.
    let mut square = [[0.0; 3]; 3];
    for (c, arm) in arms.iter().enumerate() {
        let u = [six[6 * c], six[6 * c + 1], six[6 * c + 2]];
        let swung = crate::vector::cross(*arm, u);
        for i in 0..3 {
            moved[i] += u[i] / corners as f64;
            turned[i] += swung[i] + six[6 * c + 3 + i];
            square[i][i] += 1.0 + dot(*arm, *arm);
            for j in 0..3 {
                square[i][j] -= arm[i] * arm[j];
            }
        }
    }
    let angle = nalgebra::Matrix3::from_fn(|i, j| square[i][j])
        .cholesky()
        .map_or([0.0; 3], |factor| factor.solve(&nalgebra::Vector3::from(turned)).into());
    let mut rest = *six;
    for (c, arm) in arms.iter().enumerate() {
        let swing = crate::vector::cross(angle, *arm);
        for i in 0..3 {
            rest[6 * c + i] -= moved[i] + swing[i];
            rest[6 * c + 3 + i] -= angle[i];
        }
    }
    rest
}

impl Link {
    fn of_part(model: &PlateModel, part: &Part) -> Self {
        let count = part.modes.ncols();
        let mut modes = DMatrix::zeros(part.modes.nrows(), count);
        for half in 0..count / 3 {
            let axes = model.rows(part.movement(3 * half) / 6);
            for row in 0..modes.nrows() {
                let three = [0, 1, 2].map(|i| part.modes[(row, 3 * half + i)]);
                for (i, axis) in axes.iter().enumerate() {
                    modes[(row, 3 * half + i)] = dot(*axis, three);
                }
            }
        }
        Link {
            movements: (0..count).map(|c| part.movement(c)).collect(),
            modes,
            stiffness: part.stiffness.clone(),
        }
    }

    /// A row of a joint. What rounding leaves of a direction in the axes of a node is dropped, so
    /// that it couples nothing.
    fn of_row(model: &PlateModel, row: &Row) -> Self {
        let mut triples: BTreeMap<usize, Vec3> = BTreeMap::new();
        for &(movement, c) in &row.terms {
            triples.entry(movement / 3).or_default()[movement % 3] += c;
        }
        let (mut movements, mut weights) = (Vec::new(), Vec::new());
        for (triple, global) in triples {
            let own = model.rows(triple / 2).map(|axis| dot(axis, global));
            for (i, c) in own.into_iter().enumerate() {
                if c.abs() > SAME_DIRECTION * norm(global) {
                    movements.push(3 * triple + i);
                    weights.push(c);
                }
            }
        }
        Link {
            modes: DMatrix::from_row_slice(1, weights.len(), &weights),
            movements,
            stiffness: DMatrix::from_element(1, 1, row.stiffness),
        }
    }

    /// Deformations under these movements.
    pub(crate) fn deformation(&self, movements: &[f64]) -> Vec<f64> {
        (0..self.modes.nrows())
            .map(|row| {
                let mut sum = 0.0;
                for (column, &movement) in self.movements.iter().enumerate() {
                    sum += self.modes[(row, column)] * movements[movement];
                }
                sum
            })
            .collect()
    }

    fn add_forces(&self, movements: &[f64], forces: &mut [f64]) {
        let deformation = self.deformation(movements);
        for row in 0..deformation.len() {
            let mut force = 0.0;
            for (column, d) in deformation.iter().enumerate() {
                force += self.stiffness[(row, column)] * d;
            }
            for (column, &movement) in self.movements.iter().enumerate() {
                forces[movement] += self.modes[(row, column)] * force;
            }
        }
    }
}

/// Whether a movement is an unknown of its own.
fn single(terms: &Terms) -> bool {
    matches!(terms.as_slice(), [(_, c)] if (c - 1.0).abs() <= 0.0)
}

/// The unknowns that each part couples.
fn groups(
    model: &PlateModel,
    links: &[Link],
    reduction: &Reduction,
    whole: bool,
) -> Vec<Vec<usize>> {
    let mut groups = Vec::with_capacity(2 * model.shells.len() + links.len());
    let mut push = |block: &Block<'_>, class: u8| {
        let mut unknowns: Vec<usize> = Vec::with_capacity(block.movements.len());
        for (&movement, of) in block.movements.iter().zip(block.classes) {
            if of & class != 0 {
                unknowns.extend(reduction.free[movement].iter().map(|&(i, _)| i));
            }
        }
        unknowns.sort_unstable();
        unknowns.dedup();
        groups.push(unknowns);
    };
    for shell in &model.shells {
        let placed = Placed::new(model, shell);
        let block = placed.block();
        if shell.facet.is_flat() && !whole {
            push(&block, MEMBRANE);
            push(&block, BENDING);
        } else {
            push(&block, BOTH);
        }
    }
    for link in links {
        let classes = vec![BOTH; link.movements.len()];
        push(&Block { movements: &link.movements, classes: &classes }, BOTH);
    }
    for mass in &model.frame.draft.masses {
        let movements: Vec<usize> = (0..6).map(|i| 6 * mass.node.0 + i).collect();
        push(&Block { movements: &movements, classes: &[BOTH; 6] }, BOTH);
    }
    groups
}
