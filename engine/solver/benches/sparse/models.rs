//! Structures to measure on: an L bracket with two ribs and bolt patches, and a closed box tube.
//!
//! Both stand askew in global axes, as a bracket in a car may, so that no entry of the matrix in
//! global axes vanishes by accident.

use fishplate_solver::model::{
    FrameDraft, GLOBAL_AXES, LoadCase, Material, MaterialId, NodalLoad, Node, NodeId, Restraint,
    Support,
};
use fishplate_solver::plates::PlateModel;
use fishplate_solver::plates::model::{Element, Plate, PlateDraft};
use std::collections::BTreeMap;

/// A case of the benchmark.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Case {
    /// Its name on the command line.
    pub(crate) name: &'static str,
    shape: Shape,
    /// Elements along the width.
    across: usize,
}

#[derive(Clone, Copy, Debug)]
enum Shape {
    Bracket,
    Tube,
}

/// All cases, by shape from small to large; names tell the rough number of unknowns.
pub(crate) const CASES: [Case; 8] = [
    Case { name: "bracket2k", shape: Shape::Bracket, across: 11 },
    Case { name: "bracket20k", shape: Shape::Bracket, across: 34 },
    Case { name: "bracket100k", shape: Shape::Bracket, across: 75 },
    Case { name: "bracket300k", shape: Shape::Bracket, across: 130 },
    Case { name: "tube2k", shape: Shape::Tube, across: 6 },
    Case { name: "tube20k", shape: Shape::Tube, across: 17 },
    Case { name: "tube100k", shape: Shape::Tube, across: 37 },
    Case { name: "tube300k", shape: Shape::Tube, across: 64 },
];

/// Load cases, each a right-hand side.
pub(crate) const LOAD_CASES: usize = 12;
/// Width of bracket and tube, m.
const WIDTH: f64 = 0.15;

/// A rectangle of square elements on the lattice: corner, and the lattice axes that it runs along
/// with the number of elements.
type Panel = (&'static str, [usize; 3], [(usize, usize); 2]);

impl Case {
    fn panels(&self) -> Vec<Panel> {
        let n = self.across;
        match self.shape {
            Shape::Bracket => vec![
                ("base", [0, 0, 0], [(0, n + n / 2), (1, n)]),
                ("upright", [0, 0, 0], [(1, n), (2, n)]),
                ("rib 1", [0, n / 3, 0], [(0, n / 2), (2, n / 2)]),
                ("rib 2", [0, 2 * n / 3, 0], [(0, n / 2), (2, n / 2)]),
            ],
            Shape::Tube => vec![
                ("floor", [0, 0, 0], [(0, 4 * n), (1, n)]),
                ("roof", [0, 0, n / 2], [(0, 4 * n), (1, n)]),
                ("wall 1", [0, 0, 0], [(0, 4 * n), (2, n / 2)]),
                ("wall 2", [0, n, 0], [(0, 4 * n), (2, n / 2)]),
            ],
        }
    }

    /// Whether the node at a place of the lattice is held: the bolt patches of the upright, the
    /// end of the tube.
    fn held(&self, [x, y, z]: [usize; 3]) -> bool {
        let n = self.across as f64;
        match self.shape {
            Shape::Tube => x == 0,
            Shape::Bracket => {
                let reach = if 0.06 * n > 0.8 { 0.06 * n } else { 0.8 };
                let near = |at: f64, to: usize| (to as f64 - at * n).powi(2);
                let patch = |v: f64, w: f64| near(v, y) + near(w, z) <= reach * reach;
                x == 0 && [0.15, 0.85].iter().any(|&v| [0.15, 0.85].iter().any(|&w| patch(v, w)))
            }
        }
    }

    /// The structure, clamped, with its load cases.
    ///
    /// # Panics
    /// When the solver refuses it.
    #[must_use]
    pub(crate) fn model(&self) -> PlateModel {
        let mut number: BTreeMap<[usize; 3], usize> = BTreeMap::new();
        let mut plates = Vec::new();
        for (name, corner, [(u, along), (v, beside)]) in self.panels() {
            let mut node = |i: usize, j: usize| {
                let mut at = corner;
                at[u] += i;
                at[v] += j;
                let next = number.len();
                NodeId(*number.entry(at).or_insert(next))
            };
            let mut elements = Vec::with_capacity(along * beside);
            for i in 0..along {
                for j in 0..beside {
                    let ring = [node(i, j), node(i + 1, j), node(i + 1, j + 1), node(i, j + 1)];
                    elements.push(Element::Quad(ring));
                }
            }
            plates.push(Plate {
                name: name.to_owned(),
                material: MaterialId(0),
                thickness: 0.006,
                elements,
            });
        }
        let mut lattice = vec![[0; 3]; number.len()];
        for (&at, &node) in &number {
            lattice[node] = at;
        }
        let side = WIDTH / self.across as f64;
        let nodes = lattice.iter().map(|at| Node { position: askew(at.map(|k| side * k as f64)) });
        let supports = (0..lattice.len()).filter(|&n| self.held(lattice[n])).map(|n| Support {
            node: NodeId(n),
            axes: GLOBAL_AXES,
            dofs: [Restraint::Fixed; 6],
        });
        let frame = FrameDraft {
            nodes: nodes.collect(),
            materials: vec![Material {
                youngs_modulus: 210e9,
                shear_modulus: 81e9,
                density: 7850.0,
                thermal_expansion: 12e-6,
            }],
            supports: supports.collect(),
            load_cases: (0..LOAD_CASES).map(|case| load_case(case, &lattice)).collect(),
            ..FrameDraft::default()
        };
        let draft = PlateDraft { frame, plates, ..PlateDraft::default() };
        draft.validate().expect("the structures of this benchmark are sound")
    }
}

/// Rotated about z, x and y by the angles of the triangles 3-4-5, 7-24-25 and 5-12-13.
fn askew([x, y, z]: [f64; 3]) -> [f64; 3] {
    let (x, y) = (0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y);
    let (y, z) = (0.28 * y - 0.96 * z, 0.96 * y + 0.28 * z);
    [(12.0 * x + 5.0 * z) / 13.0, y, (12.0 * z - 5.0 * x) / 13.0]
}

/// Forces on every seventh node, other ones in every case.
fn load_case(case: usize, lattice: &[[usize; 3]]) -> LoadCase {
    let nodal = (case % 7..lattice.len()).step_by(7).map(|node| {
        let spread = |k: usize| ((node * (case + 3) * k) % 101) as f64 - 50.0;
        NodalLoad {
            node: NodeId(node),
            force: [spread(7), spread(11), spread(13)],
            moment: [0.01 * spread(17), 0.01 * spread(19), 0.01 * spread(23)],
        }
    });
    LoadCase { name: format!("case {case}"), nodal: nodal.collect(), ..LoadCase::default() }
}
