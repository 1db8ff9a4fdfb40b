//! The same frame one design at a time.

use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::solvers::SolveCore;
use faer::sparse::linalg::cholesky::{
    CholeskySymbolicParams, SymbolicCholesky, SymmetricOrdering, factorize_symbolic_cholesky,
};
use faer::sparse::{SparseColMatRef, SymbolicSparseColMatRef};
use faer::{Conj, Mat, Par, Side};
use fishplate_solver::model::NodeId;
use fishplate_solver::{Asked, FrameModel, RunToEnd};
use std::hint::black_box;

/// The whole chain of the solver that refines, all load cases.
pub(crate) fn statics(model: &FrameModel) {
    for _ in 0..4 {
        black_box(fishplate_solver::statics(model, &Asked::ends(), &RunToEnd).unwrap());
    }
}

/// Equations of the base frame for a general library of linear algebra, which gets them assembled.
pub(crate) struct Peers {
    full: Mat<f64>,
    loads: Mat<f64>,
    starts: Vec<usize>,
    rows: Vec<usize>,
    values: Vec<f64>,
    symbolic: SymbolicCholesky<usize>,
}

impl Peers {
    pub(crate) fn new(model: &FrameModel) -> Self {
        let draft = model.draft();
        let free: Vec<usize> = (0..draft.nodes.len())
            .filter(|&n| draft.supports.iter().all(|s| s.node != NodeId(n)))
            .collect();
        let place = |node: NodeId| free.iter().position(|&f| f == node.0);
        let size = 6 * free.len();
        let mut full = Mat::<f64>::zeros(size, size);
        for (index, beam) in draft.beams.iter().enumerate() {
            let stiffness = stiffness(model, index);
            let ends = [place(beam.start), place(beam.end)];
            for (a, b) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                let (Some(p), Some(q)) = (ends[a], ends[b]) else { continue };
                for i in 0..6 {
                    for j in 0..6 {
                        full[(6 * p + i, 6 * q + j)] += stiffness[6 * a + i][6 * b + j];
                    }
                }
            }
        }
        let mut loads = Mat::<f64>::zeros(size, draft.load_cases.len());
        for (case, given) in draft.load_cases.iter().enumerate() {
            for load in &given.nodal {
                let Some(p) = place(load.node) else { continue };
                for (i, f) in load.force.iter().chain(&load.moment).enumerate() {
                    loads[(6 * p + i, case)] += f;
                }
            }
        }
        let (mut starts, mut rows, mut values) = (vec![0], Vec::new(), Vec::new());
        for column in 0..size {
            for row in column..size {
                if full[(row, column)].abs() > 0.0 {
                    rows.push(row);
                    values.push(full[(row, column)]);
                }
            }
            starts.push(rows.len());
        }
        let pattern = SymbolicSparseColMatRef::new_checked(size, size, &starts, None, &rows);
        let symbolic = factorize_symbolic_cholesky(
            pattern,
            Side::Lower,
            SymmetricOrdering::Amd,
            CholeskySymbolicParams::default(),
        )
        .unwrap();
        Peers { full, loads, starts, rows, values, symbolic }
    }

    /// Dense Cholesky factor and all load cases.
    pub(crate) fn dense(&self) {
        faer::set_global_parallelism(Par::Seq);
        for _ in 0..64 {
            let factor = self.full.llt(Side::Lower).unwrap();
            let mut x = self.loads.clone();
            factor.solve_in_place_with_conj(Conj::No, x.as_mut());
            black_box(&x);
        }
    }

    /// Sparse Cholesky factor with the analysis made once, and all load cases.
    pub(crate) fn sparse(&self) {
        let (size, cases) = (self.loads.nrows(), self.loads.ncols());
        let pattern =
            SymbolicSparseColMatRef::new_checked(size, size, &self.starts, None, &self.rows);
        let matrix = SparseColMatRef::new(pattern, &self.values[..]);
        let symbolic = &self.symbolic;
        let mut values = vec![0.0; symbolic.len_val()];
        let factor_scratch =
            symbolic.factorize_numeric_llt_scratch::<f64>(Par::Seq, Default::default());
        let mut factor_memory = MemBuffer::new(factor_scratch);
        let mut solve_memory =
            MemBuffer::new(symbolic.solve_in_place_scratch::<f64>(cases, Par::Seq));
        let mut x = self.loads.clone();
        for _ in 0..64 {
            x.copy_from(&self.loads);
            let factor = symbolic
                .factorize_numeric_llt::<f64>(
                    &mut values,
                    matrix,
                    Side::Lower,
                    Default::default(),
                    Par::Seq,
                    MemStack::new(&mut factor_memory),
                    Default::default(),
                )
                .unwrap();
            let stack = MemStack::new(&mut solve_memory);
            factor.solve_in_place_with_conj(Conj::No, x.as_mut(), Par::Seq, stack);
            black_box(&x);
        }
    }
}

/// Stiffness of a beam rigid in shear, global axes (J. S. Przemieniecki, Theory of Matrix
/// Structural Analysis, 1968, ch. 5).
fn stiffness(model: &FrameModel, index: usize) -> [[f64; 12]; 12] {
    let draft = model.draft();
    let beam = &draft.beams[index];
    let (section, material) = (&draft.sections[beam.section.0], &draft.materials[beam.material.0]);
    let length = model.beam_length(fishplate_solver::model::BeamId(index));
    let axes = model.beam_axes(fishplate_solver::model::BeamId(index));
    let mut local = [[0.0; 12]; 12];
    let mut put = |i: usize, j: usize, value: f64| {
        local[i][j] = value;
        local[j][i] = value;
    };
    let (axial, twist) = (
        material.youngs_modulus * section.area / length,
        material.shear_modulus * section.torsion_constant / length,
    );
    for (at, k) in [(0, axial), (3, twist)] {
        put(at, at, k);
        put(at + 6, at + 6, k);
        put(at, at + 6, -k);
    }
    // Deflection, rotation, and the sign by which a rotation raises the far end.
    for (v, r, inertia, sign) in [(1, 5, section.i_z, 1.0), (2, 4, section.i_y, -1.0)] {
        let bend = material.youngs_modulus * inertia / length;
        let shear = 12.0 * bend / (length * length);
        let slope = sign * 6.0 * bend / length;
        put(v, v, shear);
        put(v + 6, v + 6, shear);
        put(v, v + 6, -shear);
        put(v, r, slope);
        put(v, r + 6, slope);
        put(v + 6, r, -slope);
        put(v + 6, r + 6, -slope);
        put(r, r, 4.0 * bend);
        put(r + 6, r + 6, 4.0 * bend);
        put(r, r + 6, 2.0 * bend);
    }
    let turn = |i: usize, j: usize| if i / 3 == j / 3 { axes[i % 3][j % 3] } else { 0.0 };
    let mut global = [[0.0; 12]; 12];
    for (i, row) in global.iter_mut().enumerate() {
        for (j, entry) in row.iter_mut().enumerate() {
            for a in 3 * (i / 3)..3 * (i / 3) + 3 {
                for b in 3 * (j / 3)..3 * (j / 3) + 3 {
                    *entry += turn(a, i) * local[a][b] * turn(b, j);
                }
            }
        }
    }
    global
}
