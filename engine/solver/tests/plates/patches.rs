//! Constant stress and constant curvature pass through irregular elements: the patch tests of R. H.
//! MacNeal and R. L. Harder, A proposed standard set of problems to test finite element accuracy,
//! Finite Elem. Anal. Des. 1 (1985), from memory; the values follow from the prescribed fields.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::answer::PlateAnswer;
use fishplate_solver::plates::model::*;

const OUTER: [[f64; 2]; 4] = [[0.0, 0.0], [0.24, 0.0], [0.24, 0.12], [0.0, 0.12]];
const INNER: [[f64; 2]; 4] = [[0.04, 0.02], [0.18, 0.03], [0.16, 0.08], [0.08, 0.08]];

/// Moves the outer nodes by a field (x, y to six movements).
fn patch(triangles: bool, field: impl Fn(f64, f64) -> [f64; 6]) -> PlateAnswer {
    let mut draft = empty(isotropic(1e6, 0.25));
    for [x, y] in INNER.into_iter().chain(OUTER) {
        draft.frame.nodes.push(Node { position: [x, y, 0.0] });
    }
    let quads = [[0, 1, 2, 3], [4, 5, 1, 0], [5, 6, 2, 1], [6, 7, 3, 2], [7, 4, 0, 3]];
    let quads = quads.map(|q: [usize; 4]| q.map(NodeId));
    let elements = quads
        .into_iter()
        .enumerate()
        .flat_map(|(i, [a, b, c, d])| {
            // Every other one in two triangles, where asked for.
            if triangles && i % 2 == 0 {
                vec![Element::Triangle([a, b, c]), Element::Triangle([a, c, d])]
            } else {
                vec![Element::Quad([a, b, c, d])]
            }
        })
        .collect();
    draft.plates.push(Plate {
        name: "patch".to_owned(),
        material: MaterialId(0),
        thickness: 0.001,
        elements,
    });
    let mut case = LoadCase::default();
    for node in (4..8).map(NodeId) {
        clamp(&mut draft, &[node]);
        let [x, y, _] = draft.frame.nodes[node.0].position;
        for (dof, value) in Dof::ALL.into_iter().zip(field(x, y)) {
            case.prescribed.push(Prescribed { node, dof, value });
        }
    }
    draft.frame.load_cases.push(case);
    solve(draft)
}

#[test]
fn constant_stress_passes() {
    for triangles in [false, true] {
        let answer = patch(triangles, |x, y| {
            [1e-3 * (x + 0.5 * y), 1e-3 * (y + 0.5 * x), 0.0, 0.0, 0.0, 0.0]
        });
        let case = &answer.cases[0];
        for (node, [x, y]) in INNER.into_iter().enumerate() {
            close(case.displacements[node][0], 1e-3 * (x + 0.5 * y), 1e-9);
            close(case.displacements[node][1], 1e-3 * (y + 0.5 * x), 1e-9);
        }
        for element in &case.stresses[0].elements {
            for at in element.corners.iter().chain([&element.centre]) {
                // Stress 1333.3, 1333.3, 400 Pa over 1 mm.
                let [xx, yy, xy] = in_global(at.membrane, element.axes[0]);
                close(xx, 1.333_333_333, 1e-9 * 1e3);
                close(yy, 1.333_333_333, 1e-9 * 1e3);
                close(xy, 0.4, 1e-9 * 1e3);
            }
        }
        assert!(case.quality.energy < 1e-12, "{:?}", case.quality);
    }
}

#[test]
fn constant_curvature_passes() {
    for triangles in [false, true] {
        let answer = patch(triangles, |x, y| {
            let w = 0.5e-3 * (x * x + x * y + y * y);
            [0.0, 0.0, w, 1e-3 * (y + 0.5 * x), -1e-3 * (x + 0.5 * y), 0.0]
        });
        let case = &answer.cases[0];
        for (node, w) in [1.4e-6, 1.935e-5, 2.24e-5, 9.6e-6].into_iter().enumerate() {
            close(case.displacements[node][2], w, 1e-9);
        }
        for element in &case.stresses[0].elements {
            let [xx, yy, xy] = in_global(element.centre.bending, element.axes[0]);
            // The surface z = w curves upwards: the top is pressed.
            close(xx, -1.111_111_111e-7, 1e-6);
            close(yy, -1.111_111_111e-7, 1e-6);
            close(xy, -3.333_333_333e-8, 1e-6);
        }
    }
}

/// Components of a plane tensor in axes turned back to the global ones: `along` is its x.
fn in_global([x, y, xy]: [f64; 3], along: [f64; 3]) -> [f64; 3] {
    let (c, s) = (along[0], along[1]);
    [
        c * c * x + s * s * y - 2.0 * c * s * xy,
        s * s * x + c * c * y + 2.0 * c * s * xy,
        c * s * (x - y) + (c * c - s * s) * xy,
    ]
}
