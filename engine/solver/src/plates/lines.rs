//! Forces along lines of nodes.

use super::answer::{LineForces, LineStation, PlateLine};
use super::assembly::{Assembly, element_forces};
use super::element;
use super::loads::visit_shell_forces;
use super::shells::PlateModel;
use crate::error::SolveError;
use crate::model::{LoadCase, NodeId};
use crate::vector::{Vec3, add, cross, dot, norm, scale, six, sub};
use std::collections::{BTreeMap, BTreeSet};

/// A line with the elements to its left.
#[derive(Debug)]
pub(crate) struct Line {
    left: BTreeSet<usize>,
    /// Node, length, and axes as rows: away from the elements, along the line, out of the top.
    stations: Vec<(usize, f64, [Vec3; 3])>,
    about: Vec3,
}

/// An edge of an element, from node to node.
type Edge = (usize, usize);

impl Line {
    /// # Errors
    /// A plate, a node or an edge that the model doesn't have; no element to the left.
    pub(crate) fn new(model: &PlateModel, asked: &PlateLine) -> Result<Self, SolveError> {
        let refuse = |given: String, allowed: &'static str| SolveError::Request {
            field: "lines",
            given,
            allowed,
        };
        let plate = asked.plate.0;
        if plate >= model.plates.len() {
            return Err(refuse(format!("plate {plate}"), "plates that the model has"));
        }
        let name = &model.plates[plate].name;
        let pairs: Vec<Edge> = asked.nodes.windows(2).map(|w| (w[0].0, w[1].0)).collect();
        let edges = edges(model, plate);
        if pairs.is_empty() {
            return Err(refuse("fewer than two nodes".to_owned(), "two nodes or more"));
        }
        let mut passed = BTreeSet::new();
        for &(a, b) in &pairs {
            if !edges.contains_key(&(a, b)) {
                let allowed = if edges.contains_key(&(b, a)) {
                    "lines with elements all along their left, walking on the top face: name the \
                     nodes in the other order"
                } else {
                    "neighbouring corners of an element of the plate"
                };
                return Err(refuse(format!("nodes {a} and {b} on plate `{name}`"), allowed));
            }
            if !passed.insert(a) {
                return Err(refuse(
                    format!("node {a} twice on plate `{name}`"),
                    "lines that pass each node once",
                ));
            }
        }
        let left = left_of(model, &pairs, &edges);
        let stations = stations(model, &pairs, &left);
        let mut about = [0.0; 3];
        for &(node, ..) in &stations {
            let share = 1.0 / stations.len() as f64;
            about = add(about, scale(share, model.frame.position(NodeId(node))));
        }
        Ok(Line { left, stations, about })
    }

    /// The forces under the movements and loads of a case.
    pub(crate) fn answer(
        &self,
        assembly: &Assembly<'_>,
        movements: &[f64],
        (case, number): (&LoadCase, usize),
    ) -> LineForces {
        let model = assembly.model;
        let mut through: BTreeMap<usize, [Vec3; 2]> =
            self.stations.iter().map(|&(node, ..)| (node, [[0.0; 3]; 2])).collect();
        for &index in &self.left {
            let shell = &model.shells[index];
            let full = element::stiffness(&shell.facet, &model.laws[shell.plate]);
            let own = assembly.corner_movements(index, movements);
            let forces = element_forces(&shell.facet, &full, &own);
            for (corner, node) in shell.corners().iter().enumerate() {
                if let Some(sum) = through.get_mut(node) {
                    for (half, sum) in sum.iter_mut().enumerate() {
                        for (i, axis) in shell.facet.axes.iter().enumerate() {
                            *sum = add(*sum, scale(forces[6 * corner + 3 * half + i], *axis));
                        }
                    }
                }
            }
        }
        visit_shell_forces(model, case, &model.loads[number], &mut |shell, corner, force| {
            if self.left.contains(&shell)
                && let Some(sum) = through.get_mut(&model.shells[shell].nodes[corner])
            {
                sum[0] = sub(sum[0], force);
            }
        });
        let mut total = [[0.0; 3]; 2];
        let mut stations = Vec::with_capacity(self.stations.len());
        for &(node, length, [x, y, z]) in &self.stations {
            let [force, moment] = through[&node];
            let arm = sub(model.frame.position(NodeId(node)), self.about);
            total[0] = add(total[0], force);
            total[1] = add(total[1], add(moment, cross(arm, force)));
            stations.push(LineStation {
                node: NodeId(node),
                length,
                normal: dot(force, x) / length,
                shear: dot(force, y) / length,
                transverse: dot(force, z) / length,
                moment: dot(moment, y) / length,
                twist: -dot(moment, x) / length,
            });
        }
        LineForces { stations, force: six(total[0], total[1]), about: self.about }
    }
}

/// The element that each edge of a plate belongs to, by the way it runs round it.
fn edges(model: &PlateModel, plate: usize) -> BTreeMap<Edge, usize> {
    let mut edges = BTreeMap::new();
    for index in model.first_shell[plate]..model.first_shell[plate + 1] {
        for edge in around(model.shells[index].corners()) {
            edges.insert(edge, index);
        }
    }
    edges
}

fn around(corners: &[usize]) -> impl Iterator<Item = Edge> {
    (0..corners.len()).map(move |c| (corners[c], corners[(c + 1) % corners.len()]))
}

/// Elements that touch the line from its left. From the elements along both sides of it the sides
/// grow over those that touch it with a corner; round the ends of a line the nearer side wins.
fn left_of(model: &PlateModel, pairs: &[Edge], edges: &BTreeMap<Edge, usize>) -> BTreeSet<usize> {
    let on_line: BTreeSet<usize> = pairs.iter().flat_map(|&(a, b)| [a, b]).collect();
    let cut: BTreeSet<Edge> = pairs.iter().flat_map(|&(a, b)| [(a, b), (b, a)]).collect();
    let mut sides: BTreeMap<usize, bool> = BTreeMap::new();
    let mut front: Vec<usize> = Vec::new();
    for (left, turn) in [(true, false), (false, true)] {
        for &(a, b) in pairs {
            if let Some(&index) = edges.get(&if turn { (b, a) } else { (a, b) })
                && !sides.contains_key(&index)
            {
                sides.insert(index, left);
                front.push(index);
            }
        }
    }
    while !front.is_empty() {
        let mut next = Vec::new();
        for &index in &front {
            let left = sides[&index];
            for (a, b) in around(model.shells[index].corners()) {
                let touches = on_line.contains(&a) || on_line.contains(&b);
                if touches
                    && !cut.contains(&(a, b))
                    && let Some(&beyond) = edges.get(&(b, a))
                    && !sides.contains_key(&beyond)
                {
                    sides.insert(beyond, left);
                    next.push(beyond);
                }
            }
        }
        front = next;
    }
    sides.into_iter().filter(|&(_, left)| left).map(|(index, _)| index).collect()
}

fn stations(
    model: &PlateModel,
    pairs: &[Edge],
    left: &BTreeSet<usize>,
) -> Vec<(usize, f64, [Vec3; 3])> {
    // Length and direction of the line at each node, and the normals of the elements there.
    let mut order: Vec<usize> = Vec::new();
    let mut along: BTreeMap<usize, (f64, Vec3)> = BTreeMap::new();
    for &(a, b) in pairs {
        let step = sub(model.frame.position(NodeId(b)), model.frame.position(NodeId(a)));
        let length = norm(step);
        for node in [a, b] {
            let (sum, direction) = along.entry(node).or_insert_with(|| {
                order.push(node);
                (0.0, [0.0; 3])
            });
            *sum += 0.5 * length;
            *direction = add(*direction, scale(1.0 / length, step));
        }
    }
    let mut tops: BTreeMap<usize, Vec3> = BTreeMap::new();
    for &index in left {
        let shell = &model.shells[index];
        for &node in shell.corners() {
            let top = tops.entry(node).or_insert([0.0; 3]);
            *top = add(*top, shell.facet.axes[2]);
        }
    }
    let unit = |v: Vec3| scale(1.0 / norm(v), v);
    order
        .into_iter()
        .map(|node| {
            let (length, direction) = along[&node];
            let y = unit(direction);
            let x = unit(cross(y, tops[&node]));
            (node, length, [x, y, cross(x, y)])
        })
        .collect()
}
