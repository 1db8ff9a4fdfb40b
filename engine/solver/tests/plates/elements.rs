//! How the shell elements behave in a structure: exact where they should be, free of locking,
//! converging at their rate, with triangles and quadrilaterals in one plate, over folds.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::answer::{Face, PlateCaseAnswer};
use fishplate_solver::plates::model::*;
use fishplate_solver::{RunToEnd, plates};
use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, PI};

/// Cuts the quadrilaterals of a plate that meet a condition into two triangles each.
fn cut(draft: &mut PlateDraft, plate: usize, which: impl Fn(usize) -> bool) {
    let elements = std::mem::take(&mut draft.plates[plate].elements);
    for (place, element) in elements.into_iter().enumerate() {
        match element {
            Element::Quad([a, b, c, d]) if which(place) => draft.plates[plate]
                .elements
                .extend([Element::Triangle([a, b, c]), Element::Triangle([a, c, d])]),
            kept => draft.plates[plate].elements.push(kept),
        }
    }
}

/// What to cut: nothing, everything, and a half that leaves no two rows alike.
const CUTS: [fn(usize) -> bool; 3] = [|_| false, |_| true, |place| place % 5 < 2];

/// A force of one along an edge, spread evenly over the nodes of it in their order.
fn edge_force(nodes: &[NodeId], direction: [f64; 3]) -> LoadCase {
    let last = nodes.len() - 1;
    let loads: Vec<_> = nodes
        .iter()
        .enumerate()
        .map(|(i, &node)| {
            let share = if i == 0 || i == last { 0.5 } else { 1.0 } / last as f64;
            (node, direction.map(|c| c * share))
        })
        .collect();
    nodal("edge", &loads)
}

/// Work of the loads of a case over its movements: the movement of the edge where one force acts.
fn movement(draft: &PlateDraft, case: &PlateCaseAnswer) -> f64 {
    let loads = &draft.frame.load_cases[0].nodal;
    loads
        .iter()
        .map(|l| (0..3).map(|k| l.force[k] * case.displacements[l.node.0][k]).sum::<f64>())
        .sum()
}

fn solved_movement(draft: PlateDraft) -> f64 {
    let answer = solve(draft.clone());
    movement(&draft, &answer.cases[0])
}

/// The patch of MacNeal and Harder, Finite Elem. Anal. Des. 1 (1985) 3-20, from memory: 0.24 by
/// 0.12, t = 0.001, E = 1e6, nu = 0.25; here in metres and obliquely in space.
fn patch(cut_where: fn(usize) -> bool, exact: &dyn Fn(f64, f64) -> [f64; 6]) -> PlateDraft {
    let plane = [
        [0.04, 0.02],
        [0.18, 0.03],
        [0.16, 0.08],
        [0.08, 0.08],
        [0.0, 0.0],
        [0.24, 0.0],
        [0.24, 0.12],
        [0.0, 0.12],
    ];
    let quads = [[0, 1, 2, 3], [4, 5, 1, 0], [5, 6, 2, 1], [6, 7, 3, 2], [7, 4, 0, 3]];
    let mut draft = empty(isotropic(1e6, 0.25));
    draft.frame.nodes =
        plane.iter().map(|p| Node { position: turned([p[0], p[1], 0.0]) }).collect();
    draft.plates.push(Plate {
        name: "patch".to_owned(),
        material: MaterialId(0),
        thickness: 0.001,
        elements: quads.iter().map(|q| Element::Quad(q.map(NodeId))).collect(),
    });
    cut(&mut draft, 0, cut_where);
    let outer: Vec<NodeId> = (4..8).map(NodeId).collect();
    clamp(&mut draft, &outer);
    let mut case = LoadCase { name: "given".to_owned(), ..LoadCase::default() };
    for node in outer {
        let [x, y] = plane[node.0];
        let six = exact(x, y);
        let moved = turned([six[0], six[1], six[2]]);
        let rotated = turned([six[3], six[4], six[5]]);
        for dof in Dof::ALL {
            let i = dof.index();
            let value = if i < 3 { moved[i] } else { rotated[i - 3] };
            case.prescribed.push(Prescribed { node, dof, value });
        }
    }
    draft.frame.load_cases.push(case);
    draft
}

/// A vector turned from the axes of the patch to global ones.
fn turned(v: [f64; 3]) -> [f64; 3] {
    let rows = [[0.6, -0.64, 0.48], [0.8, 0.48, -0.36], [0.0, 0.6, 0.8]];
    rows.map(|row| row[0] * v[0] + row[1] * v[1] + row[2] * v[2])
}

/// In every element sigma_x = sigma_y = 1333.3 and tau_xy = 400 in its plane, or 0.667 and 0.2 at
/// the faces in bending (both published): principal stresses, which do not hang on axes, are their
/// sum and difference.
#[test]
fn constant_states_are_exact_in_every_mix_of_shapes() {
    for which in CUTS {
        let stretched =
            patch(which, &|x, y| [1e-3 * (x + y / 2.0), 1e-3 * (y + x / 2.0), 0.0, 0.0, 0.0, 0.0]);
        let bent = patch(which, &|x, y| {
            let w = 1e-3 * (x * x + x * y + y * y) / 2.0;
            [0.0, 0.0, w, 1e-3 * (y + x / 2.0), -1e-3 * (x + y / 2.0), 0.0]
        });
        for (draft, face, published) in [
            (stretched, Face::Middle, [5200.0 / 3.0, 2800.0 / 3.0]),
            (bent, Face::Bottom, [13.0 / 15.0, 7.0 / 15.0]),
        ] {
            let answer = solve(draft);
            let stress = &answer.cases[0].stresses[0];
            for element in &stress.elements {
                for at in element.corners.iter().chain([&element.centre]) {
                    let ([first, second], _) = at.stress(face, 0.001).principal();
                    close(first, published[0], 1e-9);
                    close(second, published[1], 1e-9);
                }
            }
        }
    }
}

/// A clamped square plate of side 1 pressed by `q = D`: the same deflection from a / t = 100 to
/// 100 000. Transverse shear adds about `17 t^2 / a^2` of it: 0.0737 q a^2 / (5/6 G t), the
/// deflection of a stretched skin, over 0.00126 q a^4 / D.
#[test]
fn thin_plates_do_not_lock() {
    for which in CUTS {
        let coefficients = [1e-2, 1e-3, 1e-4, 1e-5].map(|thickness| {
            let mut draft = empty(steel());
            add_grid(&mut draft, "plate", (8, 8), thickness, |x, y| [x, y, 0.0]);
            cut(&mut draft, 0, which);
            let edge =
                nodes_where(&draft, |p| [p[0], p[1]].iter().any(|c| *c < 1e-9 || *c > 1.0 - 1e-9));
            clamp(&mut draft, &edge);
            let flexural = 210e9 * thickness * thickness * thickness / (12.0 * 0.91);
            press(&mut draft, 0, flexural);
            solve(draft).cases[0].displacements[4 + 4 * 9][2]
        });
        close(coefficients[0], coefficients[3], 3e-3);
        close(coefficients[1], coefficients[3], 1e-4);
        close(coefficients[2], coefficients[3], 1e-5);
        // S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, table
        // 35: 0.00126 (from memory); what is left is the mesh.
        close(coefficients[3], 0.00126, 0.05);
    }
}

/// Twice as fine a mesh has a quarter of the error: three meshes of a clamped plate need no
/// reference for that.
#[test]
fn bending_converges_with_the_square_of_the_mesh() {
    for which in [CUTS[0], CUTS[1]] {
        let [coarse, middle, fine] = [8, 16, 32].map(|n| {
            let mut draft = empty(steel());
            add_grid(&mut draft, "plate", (n, n), 0.005, |x, y| [x, y, 0.0]);
            cut(&mut draft, 0, which);
            let edge =
                nodes_where(&draft, |p| [p[0], p[1]].iter().any(|c| *c < 1e-9 || *c > 1.0 - 1e-9));
            clamp(&mut draft, &edge);
            press(&mut draft, 0, 1000.0);
            solve(draft).cases[0].displacements[(n / 2) * (n + 2)][2]
        });
        let order = ((coarse - middle) / (middle - fine)).log2();
        assert!(order > 1.8, "{order}");
        // Richardson's extrapolation against 0.00126 (table 35, from memory, three digits).
        let limit = fine + (fine - middle) / 3.0;
        let flexural = 210e9 * 0.005_f64.powi(3) / (12.0 * 0.91);
        close(limit * flexural / 1000.0, 0.00126, 0.005);
    }
}

/// A thick plate with hard supports bends as Reissner's and Mindlin's theory says: the deflection of
/// Navier's series with the shear angle added term by term.
#[test]
fn thick_plates_have_their_shear_deflection() {
    let (nu, shear_factor) = (0.3, 5.0 / 6.0);
    for ratio in [5.0_f64, 10.0, 20.0] {
        let thickness = 1.0 / ratio;
        let (flexural, shear) = (
            210e9 * thickness.powi(3) / (12.0 * (1.0 - nu * nu)),
            shear_factor * 210e9 / (2.0 * (1.0 + nu)) * thickness,
        );
        let mut exact = 0.0;
        for m in (1..200).step_by(2) {
            for n in (1..200).step_by(2) {
                let (m, n) = (f64::from(m), f64::from(n));
                let squares = PI * PI * (m * m + n * n);
                let load = 16.0 / (PI * PI * m * n);
                let sign = ((m * FRAC_PI_2).sin() * (n * FRAC_PI_2).sin()).round();
                exact +=
                    sign * load * (1.0 / (flexural * squares * squares) + 1.0 / (shear * squares));
            }
        }
        let mut draft = empty(steel());
        add_grid(&mut draft, "plate", (16, 16), thickness, |x, y| [x, y, 0.0]);
        let on = |c: f64| !(1e-9..=1.0 - 1e-9).contains(&c);
        let across_x = nodes_where(&draft, |p| on(p[0]));
        hold(&mut draft, &across_x, &[Dof::Uz, Dof::Rx, Dof::Ux, Dof::Uy]);
        let across_y = nodes_where(&draft, |p| on(p[1]));
        hold(&mut draft, &across_y, &[Dof::Uz, Dof::Ry, Dof::Ux, Dof::Uy]);
        press(&mut draft, 0, 1.0);
        close(solve(draft).cases[0].displacements[8 + 8 * 17][2], exact, 0.005);
    }
}

/// The slender cantilever of MacNeal and Harder (1985, from memory): 6 by 0.2 by 0.1, E = 1e7, nu =
/// 0.3, six elements; tip forces of one move it by 0.1081 in its plane and 0.4321 across it
/// (published). Sides of elements slanted by 45 degrees, as trapezoids and as parallelograms.
#[test]
fn slender_elements_bend_in_and_across_their_plane() {
    let even = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
    let (wide, narrow) = ([0.0, 1.1, 1.9, 3.1, 3.9, 5.1, 6.0], [0.0, 0.9, 2.1, 2.9, 4.1, 4.9, 6.0]);
    let (back, ahead) = ([0.0, 0.9, 1.9, 2.9, 3.9, 4.9, 6.0], [0.0, 1.1, 2.1, 3.1, 4.1, 5.1, 6.0]);
    for (bottom, top) in [(even, even), (wide, narrow), (back, ahead)] {
        for (direction, published) in [([0.0, 1.0, 0.0], 0.1081), ([0.0, 0.0, 1.0], 0.4321)] {
            let errors = [1, 2, 4].map(|fineness: usize| {
                let mut draft = empty(isotropic(1e7, 0.3));
                let station = |x: &[f64; 7], s: f64| {
                    let place = (6.0 * s).floor();
                    let i = if place < 6.0 { place as usize } else { 5 };
                    x[i] + (6.0 * s - i as f64) * (x[i + 1] - x[i])
                };
                add_grid(&mut draft, "beam", (6 * fineness, fineness), 0.1, |s, t| {
                    let (a, b) = (station(&bottom, s), station(&top, s));
                    [a + t * (b - a), 0.2 * t, 0.0]
                });
                let root = nodes_where(&draft, |p| p[0] < 1e-9);
                clamp(&mut draft, &root);
                let tip = nodes_where(&draft, |p| p[0] > 6.0 - 1e-9);
                draft.frame.load_cases.push(edge_force(&tip, direction));
                (solved_movement(draft) / published - 1.0).abs()
            });
            assert!(errors[0] < 0.026 && errors[1] < 0.013 && errors[2] < 0.006, "{errors:?}");
        }
    }
}

/// The strip of MacNeal and Harder (1985, from memory), twisted by 90 degrees: 12 by 1.1, E = 29e6,
/// nu = 0.22, 12 by 2 elements, every one of them warped. Published: 0.005424 along the width of
/// the end and 0.001754 across it at t = 0.32; 0.005256 and 0.001294 under 1e-6 at t = 0.0032
/// (Belytschko, Wong and Stolarski, Int. J. Numer. Methods Eng. 28, 1989, from memory).
#[test]
fn a_twisted_strip_of_warped_elements_is_right_thick_and_thin() {
    for (thickness, force, published) in
        [(0.32, 1.0, [0.005424, 0.001754]), (0.0032, 1e-6, [0.005256, 0.001294])]
    {
        for (axis, expected) in [(2, published[0]), (1, published[1])] {
            let mut draft = empty(isotropic(29e6, 0.22));
            add_grid(&mut draft, "strip", (12, 2), thickness, |s, t| {
                let (angle, arm) = (s * FRAC_PI_2, 1.1 * (t - 0.5));
                [12.0 * s, arm * angle.cos(), arm * angle.sin()]
            });
            let root = nodes_where(&draft, |p| p[0] < 1e-9);
            clamp(&mut draft, &root);
            let mut direction = [0.0; 3];
            direction[axis] = force;
            let end = nodes_where(&draft, |p| p[0] > 12.0 - 1e-9);
            draft.frame.load_cases.push(nodal("end", &[(end[1], direction)]));
            let answer = solve(draft);
            close(answer.cases[0].displacements[end[1].0][axis], expected, 0.01);
        }
    }
}

/// The hook of Knight, AIAA J. 35 (1997) 375-381 (from memory): two arcs of opposite curvature, a
/// strip 20 wide, t = 2, E = 3300, nu = 0.35, a force of one along the width. Published 4.9352, and
/// about 5.02 for solids in later papers (from memory). Bending of one facet twists the next, so
/// that a weak stiffness about the normal would show as growth without end.
#[test]
fn the_hook_settles_as_its_facets_shrink() {
    let tip = [1, 2, 4].map(|fineness| {
        let (first, all) = (4 * fineness, 18 * fineness);
        let mut draft = empty(isotropic(3300.0, 0.35));
        add_grid(&mut draft, "hook", (all, 3 * fineness), 2.0, |s, t| {
            let place = s * all as f64 - first as f64;
            if place <= 0.0 {
                let angle = FRAC_PI_3 * (1.0 + place / first as f64);
                return [14.0 * angle.sin(), 14.0 * (1.0 - angle.cos()), 20.0 * t];
            }
            let angle = FRAC_PI_3 - 5.0 / 6.0 * PI * place / (all - first) as f64;
            let (sine, cosine) = FRAC_PI_3.sin_cos();
            let x = 14.0 * sine + 46.0 * (sine - angle.sin());
            let y = 14.0 * (1.0 - cosine) + 46.0 * (angle.cos() - cosine);
            [x, y, 20.0 * t]
        });
        let root = nodes_where(&draft, |p| p[0].abs() < 1e-9 && p[1].abs() < 1e-9);
        clamp(&mut draft, &root);
        let end: Vec<NodeId> = (0..=3 * fineness).map(|j| NodeId(all + j * (all + 1))).collect();
        draft.frame.load_cases.push(edge_force(&end, [0.0, 0.0, 1.0]));
        solved_movement(draft)
    });
    assert!(tip.iter().all(|u| *u > 0.97 * 4.9352 && *u < 1.01 * 5.02), "{tip:?}");
    assert!(tip[0] < tip[1] && tip[1] < tip[2] && tip[2] < 1.02 * tip[1], "{tip:?}");
}

/// Cook's tapered panel, clamped on the left and sheared on the right, E = 1, nu = 1/3 (J. Struct.
/// Div. ASCE 100, 1974, 1851-1863; 23.96 is the middle of the right edge in converged solutions,
/// from memory). All quadrilaterals, all triangles, both.
#[test]
fn every_mix_of_shapes_converges_in_a_tapered_panel() {
    let (quads, triangles, both) = (0.006, 0.03, 0.015);
    for (which, limit) in CUTS.into_iter().zip([quads, triangles, both]) {
        let errors = [8, 16, 32].map(|n: usize| {
            let mut draft = empty(isotropic(1.0, 1.0 / 3.0));
            add_grid(&mut draft, "panel", (n, n), 1.0, |s, t| {
                [48.0 * s, 44.0 * s + t * (44.0 - 28.0 * s), 0.0]
            });
            cut(&mut draft, 0, which);
            let root = nodes_where(&draft, |p| p[0] < 1e-9);
            clamp(&mut draft, &root);
            let tip = nodes_where(&draft, |p| p[0] > 48.0 - 1e-9);
            draft.frame.load_cases.push(edge_force(&tip, [0.0, 1.0, 0.0]));
            let middle = tip[n / 2];
            1.0 - solve(draft).cases[0].displacements[middle.0][1] / 23.96
        });
        assert!(errors[1] < limit && errors[2] < 0.5 * limit, "{errors:?}");
        assert!(errors[0] > 1.5 * errors[1] && errors[1] > 1.5 * errors[2], "{errors:?}");
    }
}

/// A thin hemisphere with a hole of 18 degrees, pulled and pushed at its edge: radius 10, t = 0.04,
/// E = 6.825e7, nu = 0.3, a quarter of it; 0.094 under the load (MacNeal and Harder 1985, from
/// memory), 0.0935 in Simo, Fox and Rifai 1989 (from memory). It bends without stretching, which
/// a membrane that resists it would not let it do.
#[test]
fn a_hemisphere_bends_without_stretching() {
    let moved = [8, 16].map(|n: usize| {
        let mut draft = empty(isotropic(6.825e7, 0.3));
        add_grid(&mut draft, "shell", (n, n), 0.04, |s, t| {
            let (round, up) = (s * FRAC_PI_2, t * 0.4 * PI);
            [10.0 * up.cos() * round.cos(), 10.0 * up.cos() * round.sin(), 10.0 * up.sin()]
        });
        let across_y = nodes_where(&draft, |p| p[1].abs() < 1e-9);
        hold(&mut draft, &across_y, &[Dof::Uy, Dof::Rx, Dof::Rz]);
        let across_x = nodes_where(&draft, |p| p[0].abs() < 1e-9);
        hold(&mut draft, &across_x, &[Dof::Ux, Dof::Ry, Dof::Rz]);
        let (pulled, pushed) = (NodeId(0), NodeId(n));
        hold(&mut draft, &[pulled], &[Dof::Uz]);
        let loads = [(pulled, [1.0, 0.0, 0.0]), (pushed, [0.0, -1.0, 0.0])];
        draft.frame.load_cases.push(nodal("pinch", &loads));
        solve(draft).cases[0].displacements[0][0]
    });
    close(moved[0], 0.094, 0.06);
    close(moved[1], 0.0935, 0.01);
}

/// A simply supported square, pushed together between two edges: `k = 4` and the lowest two natural
/// frequencies `2 pi^2` and `5 pi^2` of `sqrt(D / (rho t)) / a^2` (closed forms of thin plates;
/// S. Timoshenko and J. M. Gere, Theory of Elastic Stability, 2nd ed., ch. 9), in every mix of
/// shapes.
#[test]
fn every_mix_of_shapes_buckles_and_vibrates_as_plates_do() {
    let (thickness, density, push) = (0.01, 7850.0, 1e-6);
    for which in CUTS {
        let mut draft = empty(Material { density, ..steel() });
        add_grid(&mut draft, "plate", (16, 16), thickness, |x, y| [x, y, 0.0]);
        cut(&mut draft, 0, which);
        let on = |c: f64| !(1e-9..=1.0 - 1e-9).contains(&c);
        let pushed = nodes_where(&draft, |p| on(p[0]));
        hold(&mut draft, &pushed, &[Dof::Ux, Dof::Uz, Dof::Rx]);
        let along = nodes_where(&draft, |p| on(p[1]));
        hold(&mut draft, &along, &[Dof::Uz, Dof::Ry]);
        hold(&mut draft, &[NodeId(0)], &[Dof::Uy]);
        let mut case = LoadCase { name: "push".to_owned(), ..LoadCase::default() };
        for node in pushed {
            if draft.frame.nodes[node.0].position[0] > 0.5 {
                case.prescribed.push(Prescribed { node, dof: Dof::Ux, value: -push });
            }
        }
        draft.frame.load_cases.push(case);
        let flexural = 210e9 * thickness * thickness * thickness / (12.0 * 0.91);
        let model = valid(draft);
        let found = plates::buckling(&model, CaseId(0), 1, &RunToEnd).unwrap();
        let critical = found.modes[0].load_factor * 210e9 * thickness * push;
        close(critical / (PI * PI * flexural), 4.0, 0.015);
        let found = plates::frequencies(&model, 2, &RunToEnd).unwrap();
        let unit = (flexural / (density * thickness)).sqrt() / (2.0 * PI);
        close(found.modes[0].frequency / unit, 2.0 * PI * PI, 0.005);
        close(found.modes[1].frequency / unit, 5.0 * PI * PI, 0.015);
    }
}

/// A quarter of a ring under pressure at its inner edge, radii 3 and 9, E = 1000, nu = 0.3, p = 1:
/// Lamé's closed form gives the movement of the inner edge, 0.00465, and the hoop stress at both
/// edges, 1.25 and 0.25. Stresses at nodes come from the elements around them: linear within a
/// quadrilateral they are near the closed form on one mesh, triangles need a finer one.
#[test]
fn stresses_at_the_edges_of_a_ring_converge_in_every_mix_of_shapes() {
    for (which, limit) in CUTS.into_iter().zip([0.01, 0.1, 0.1]) {
        let errors = [24, 48].map(|n: usize| {
            let case = pressed_ring(n, which);
            close(case.displacements[0][1], 0.00465, 0.005);
            let mut worst = 0.0;
            for at in &case.stresses[0].nodes {
                let exact = match at.node.0 / (n + 1) {
                    0 => 1.25,
                    row if row == n => 0.25,
                    _ => continue,
                };
                let ([hoop, _], _) = at.forces.stress(Face::Middle, 1.0).principal();
                let error = (hoop / exact - 1.0).abs();
                if error > worst || error.is_nan() {
                    worst = error;
                }
            }
            worst
        });
        assert!(errors[0] < limit && errors[1] < 0.6 * errors[0], "{errors:?}");
    }
}

fn pressed_ring(n: usize, which: fn(usize) -> bool) -> PlateCaseAnswer {
    let mut draft = empty(isotropic(1000.0, 0.3));
    add_grid(&mut draft, "ring", (n, n), 1.0, |s, t| {
        let (sine, cosine) = (s * FRAC_PI_2).sin_cos();
        let radius = 3.0 * 3.0_f64.powf(t);
        [radius * sine, radius * cosine, 0.0]
    });
    // From the y axis to the x axis the corners go round clockwise.
    for element in &mut draft.plates[0].elements {
        if let Element::Quad(nodes) = element {
            nodes.reverse();
        }
    }
    cut(&mut draft, 0, which);
    let on_y = nodes_where(&draft, |p| p[0].abs() < 1e-9);
    hold(&mut draft, &on_y, &[Dof::Ux, Dof::Uz, Dof::Rx, Dof::Ry, Dof::Rz]);
    let on_x = nodes_where(&draft, |p| p[1].abs() < 1e-9);
    hold(&mut draft, &on_x, &[Dof::Uy, Dof::Uz, Dof::Rx, Dof::Ry, Dof::Rz]);
    let edges = (0..n)
        .map(|i| {
            let nodes = [NodeId(i), NodeId(i + 1)];
            let [a, b] = nodes.map(|node| draft.frame.nodes[node.0].position);
            let run = [b[0] - a[0], b[1] - a[1]];
            let length = run[0].hypot(run[1]);
            let outwards = [-run[1] / length, run[0] / length, 0.0];
            EdgeLoad { nodes, from: outwards, to: outwards }
        })
        .collect();
    draft.frame.load_cases.push(LoadCase { name: "p".to_owned(), ..LoadCase::default() });
    draft.loads.push(PlateLoads { faces: vec![], edges });
    solve(draft).cases.remove(0)
}

/// A plate of uneven elements in every mix of shapes, pulled at one edge and led at the other: the
/// same stress everywhere (equilibrium), whatever the sizes of its elements.
#[test]
fn a_uniform_pull_makes_a_uniform_stress() {
    for which in CUTS {
        let mut draft = empty(isotropic(1000.0, 0.3));
        add_grid(&mut draft, "plate", (6, 6), 1.0, |s, t| {
            let skewed = 0.05 * (PI * s).sin() * (3.0 * t).sin();
            [s * (0.7 + 0.3 * s) + skewed, t * (1.0 + 0.6 * t) / 1.6, 0.0]
        });
        cut(&mut draft, 0, which);
        let left = nodes_where(&draft, |p| p[0].abs() < 1e-9);
        hold(&mut draft, &left, &[Dof::Ux, Dof::Uz, Dof::Rx, Dof::Ry, Dof::Rz]);
        hold(&mut draft, &[NodeId(0)], &[Dof::Uy]);
        let right = nodes_where(&draft, |p| p[0] > 1.0 - 1e-9);
        let edges = right
            .windows(2)
            .map(|pair| EdgeLoad {
                nodes: [pair[1], pair[0]],
                from: [2.0, 0.0, 0.0],
                to: [2.0, 0.0, 0.0],
            })
            .collect();
        draft.frame.load_cases.push(LoadCase { name: "pull".to_owned(), ..LoadCase::default() });
        draft.loads.push(PlateLoads { faces: vec![], edges });
        let case = &solve(draft).cases[0];
        for at in &case.stresses[0].nodes {
            let ([first, second], _) = at.forces.stress(Face::Middle, 1.0).principal();
            close(first, 2.0, 1e-9);
            assert!(second.abs() < 1e-9, "{second}");
        }
    }
}
