//! Joints on their own, on structures small enough for a full matrix.

mod bolts;
mod faults;
mod laws;
mod motions;
mod seams;

use super::{Base, JointAnswers, Joints, Row, Settled};
use crate::error::SolveError;
use crate::linear::DenseFactor;
use crate::model::{FrameDraft, Material, MaterialId, Node, NodeId};
use crate::plates::element::{Facet, PlateLaw, stiffness, turned};
use crate::plates::model::{Element, Plate, PlateDraft, PlateId};
use crate::vector::{Vec3, add, cross, norm, scale, sub};
use std::collections::BTreeSet;

/// Steel.
pub(super) const E: f64 = 210e9;
pub(super) const POISSON: f64 = 0.3;
/// Material of plates, and one so stiff that plates of it count as rigid.
pub(super) const STEEL: MaterialId = MaterialId(0);
pub(super) const RIGID: MaterialId = MaterialId(1);

/// Takes row, column and value of an entry of a matrix.
pub(super) type Entry<'a> = &'a mut dyn FnMut(usize, usize, f64);

/// A structure with a full stiffness matrix.
#[derive(Debug)]
pub(super) struct Full {
    unknown: Vec<Option<usize>>,
    count: usize,
    matrix: Vec<f64>,
    factor: DenseFactor,
    loads: Vec<Vec<(usize, f64)>>,
}

impl Full {
    /// From the stiffness over all movements, those held, and the loads of each case.
    pub(super) fn new(
        size: usize,
        stiffness: &dyn Fn(Entry<'_>),
        held: &BTreeSet<usize>,
        loads: Vec<Vec<(usize, f64)>>,
    ) -> Self {
        let mut unknown = vec![None; size];
        let mut count = 0;
        for (movement, place) in unknown.iter_mut().enumerate() {
            if !held.contains(&movement) {
                *place = Some(count);
                count += 1;
            }
        }
        let mut matrix = vec![0.0; count * count];
        stiffness(&mut |i, j, k| {
            if let (Some(i), Some(j)) = (unknown[i], unknown[j]) {
                matrix[i * count + j] += k;
            }
        });
        let factor = DenseFactor::new(matrix.clone(), count).unwrap();
        Full { unknown, count, matrix, factor, loads }
    }

    fn under(&self, forces: &[(usize, f64)]) -> Vec<f64> {
        let mut right = vec![0.0; self.count];
        for &(movement, force) in forces {
            if let Some(i) = self.unknown[movement] {
                right[i] += force;
            }
        }
        let mut moved = right.clone();
        self.factor.solve(&mut moved);
        // One step of refinement: plates that count as rigid cost digits.
        for (row, right) in self.matrix.chunks_exact(self.count).zip(&mut right) {
            *right -= row.iter().zip(&moved).map(|(k, u)| k * u).sum::<f64>();
        }
        self.factor.solve(&mut right);
        self.unknown.iter().map(|u| u.map_or(0.0, |i| moved[i] + right[i])).collect()
    }
}

/// Adds a row to a matrix.
pub(super) fn add_row(row: &Row, to: Entry<'_>) {
    for &(i, a) in &row.terms {
        for &(j, b) in &row.terms {
            to(i, j, row.stiffness * a * b);
        }
    }
}

impl Base for Full {
    fn respond(&self, forces: &[Vec<(usize, f64)>]) -> Vec<Vec<f64>> {
        forces.iter().map(|f| self.under(f)).collect()
    }

    fn solve(&self, case: usize, forces: &[(usize, f64)]) -> Vec<f64> {
        let mut all = self.loads[case].clone();
        all.extend(forces);
        self.under(&all)
    }

    fn largest_load(&self, case: usize) -> f64 {
        self.loads[case].iter().fold(0.0, |top, (_, f)| if f.abs() > top { f.abs() } else { top })
    }
}

/// Plates, supports and loads on their way to be solved.
#[derive(Debug, Default)]
pub(super) struct Bench {
    pub(super) draft: PlateDraft,
    pub(super) held: BTreeSet<usize>,
    pub(super) loads: Vec<Vec<(usize, f64)>>,
}

/// What was found.
#[derive(Debug)]
pub(super) struct Solved {
    pub(super) joints: Joints,
    pub(super) cases: Vec<Settled>,
}

impl Solved {
    pub(super) fn answer(&self, case: usize) -> JointAnswers {
        self.joints.answers(&self.cases[case])
    }

    pub(super) fn movement(&self, case: usize, node: usize) -> Vec3 {
        [0, 1, 2].map(|i| self.cases[case].movements[6 * node + i])
    }
}

impl Bench {
    pub(super) fn new() -> Self {
        let material = |e: f64| Material {
            youngs_modulus: e,
            shear_modulus: e / (2.0 * (1.0 + POISSON)),
            density: 0.0,
            thermal_expansion: 0.0,
        };
        let frame =
            FrameDraft { materials: vec![material(E), material(1e6 * E)], ..Default::default() };
        Bench { draft: PlateDraft { frame, ..Default::default() }, ..Default::default() }
    }

    /// A rectangular plate from a corner along two sides, in quadrilaterals.
    pub(super) fn plate(
        &mut self,
        name: &str,
        corner: Vec3,
        sides: [Vec3; 2],
        [nu, nv]: [usize; 2],
        thickness: f64,
    ) -> PlateId {
        let first = self.draft.frame.nodes.len();
        for j in 0..=nv {
            for i in 0..=nu {
                let (a, b) = (i as f64 / nu as f64, j as f64 / nv as f64);
                let position = add(corner, add(scale(a, sides[0]), scale(b, sides[1])));
                self.draft.frame.nodes.push(Node { position });
            }
        }
        let node = |i: usize, j: usize| NodeId(first + j * (nu + 1) + i);
        let mut elements = Vec::new();
        for j in 0..nv {
            for i in 0..nu {
                elements.push(Element::Quad([
                    node(i, j),
                    node(i + 1, j),
                    node(i + 1, j + 1),
                    node(i, j + 1),
                ]));
            }
        }
        let name = name.to_owned();
        self.draft.plates.push(Plate { name, material: STEEL, thickness, elements });
        PlateId(self.draft.plates.len() - 1)
    }

    /// Nodes of a plate of which something holds.
    pub(super) fn nodes(&self, plate: PlateId, holds: impl Fn(Vec3) -> bool) -> Vec<usize> {
        let all: BTreeSet<usize> = self.draft.plates[plate.0]
            .elements
            .iter()
            .flat_map(|e| e.nodes().iter().map(|n| n.0))
            .collect();
        all.into_iter().filter(|&n| holds(self.position(n))).collect()
    }

    pub(super) fn position(&self, node: usize) -> Vec3 {
        self.draft.frame.nodes[node].position
    }

    /// The node of a plate nearest to a point.
    pub(super) fn nearest(&self, plate: PlateId, point: Vec3) -> usize {
        let away = |n: &usize| norm(sub(self.position(*n), point));
        let all = self.nodes(plate, |_| true);
        all.into_iter().min_by(|a, b| away(a).total_cmp(&away(b))).unwrap()
    }

    pub(super) fn hold(&mut self, nodes: &[usize], movements: &[usize]) {
        for &node in nodes {
            self.held.extend(movements.iter().map(|i| 6 * node + i));
        }
    }

    /// A load case of one force, shared evenly by nodes.
    pub(super) fn force(&mut self, nodes: &[usize], force: Vec3) {
        let share = 1.0 / nodes.len() as f64;
        let case =
            nodes.iter().flat_map(|n| (0..3).map(move |i| (6 * n + i, share * force[i]))).collect();
        self.loads.push(case);
    }

    pub(super) fn joints(&self) -> Joints {
        Joints::find(&self.draft).unwrap_or_else(|faults| panic!("{faults:?}"))
    }

    pub(super) fn solve(&self) -> Result<Solved, SolveError> {
        self.solve_in(1)
    }

    pub(super) fn solve_in(&self, threads: usize) -> Result<Solved, SolveError> {
        let joints = self.joints();
        let size = 6 * (self.draft.frame.nodes.len() + joints.nodes().len());
        let base = Full::new(
            size,
            &|to| {
                self.plates(to);
                joints.rows().for_each(|row| add_row(row, to));
            },
            &self.held,
            self.loads.clone(),
        );
        let cases: Vec<usize> = (0..self.loads.len()).collect();
        let cases = joints.settle(&base, &cases, threads)?;
        Ok(Solved { joints, cases })
    }

    fn plates(&self, to: Entry<'_>) {
        for plate in &self.draft.plates {
            let material = &self.draft.frame.materials[plate.material.0];
            let law = PlateLaw {
                youngs: material.youngs_modulus,
                poisson: POISSON,
                thickness: plate.thickness,
            };
            for element in &plate.elements {
                let Element::Quad(nodes) = element else { panic!("quadrilaterals only") };
                let facet = Facet::quad(&nodes.map(|n| self.position(n.0))).unwrap();
                let matrix = turned(&stiffness(&facet, &law), &[facet.axes; 4], 4);
                for (i, row) in matrix.iter().enumerate() {
                    for (j, &k) in row.iter().enumerate() {
                        to(6 * nodes[i / 6].0 + i % 6, 6 * nodes[j / 6].0 + j % 6, k);
                    }
                }
            }
        }
    }
}

/// Force and moment about a point of the loads of a case.
pub(super) fn resultant(bench: &Bench, case: usize, about: Vec3) -> [f64; 6] {
    let mut sum = [0.0; 6];
    for &(movement, force) in &bench.loads[case] {
        sum[movement % 6] += force;
        if movement % 6 < 3 {
            let mut f = [0.0; 3];
            f[movement % 6] = force;
            let lever = cross(sub(bench.position(movement / 6), about), f);
            for i in 0..3 {
                sum[3 + i] += lever[i];
            }
        }
    }
    sum
}

/// Asserts that two numbers agree within a share of a scale.
#[track_caller]
pub(super) fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} ± {tolerance}");
}
