//! Membranes and shells: C01 to C15.

use std::f64::consts::{FRAC_PI_2, PI};

use fishplate_proto::v1;
use fishplate_tests::plates::{Mesh, Plated, PlatedAnswer, Shape, isotropic, name};
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::Vec3;

use crate::plates::{order, patch};

pub(crate) const DATA: &str = include_str!("../../data/shells.json");
const X: Vec3 = [1.0, 0.0, 0.0];
const Y: Vec3 = [0.0, 1.0, 0.0];

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6 * (1.0 + b.abs())
}

fn of(quantity: &str, shape: Shape) -> String {
    format!("{quantity}, {}", shape.name())
}

/// A sheet in its plane: what bends it out of it is held.
fn membrane(mesh: Mesh, material: v1::Material, thickness: f64) -> Plated {
    Plated::new(mesh, material, thickness).hold_where("zXY", |_| true)
}

/// The mean movement of some nodes.
fn mean(answer: &PlatedAnswer, nodes: &[usize], axis: usize) -> f64 {
    let sum: f64 = nodes.iter().map(|node| answer.moved("LC", *node)[axis]).sum();
    sum / nodes.len() as f64
}

fn c01() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C01");
    for shape in Shape::BOTH {
        let mesh = patch(shape);
        let mut plate = membrane(mesh.clone(), isotropic(1e6, 0.25), 0.001);
        plate = plate.hold(&[4, 5, 6, 7], "xyZ");
        for node in 4..8 {
            let [x, y, _] = mesh.nodes[node];
            plate.case("LC").prescribed.push(v1::PrescribedMovement {
                node_id: name(node),
                move_x_mm: Some(1e-3 * (x + 0.5 * y)),
                move_y_mm: Some(1e-3 * (y + 0.5 * x)),
                ..Default::default()
            });
        }
        let answer = plate.solved();
        for node in 0..4 {
            let [u, v, _] = answer.moved("LC", node);
            sheet.got(&of(&format!("u at node {}", node + 1), shape), u);
            sheet.got(&of(&format!("v at node {}", node + 1), shape), v);
        }
        let stress = |axis| answer.along("LC", 2, axis).middle;
        sheet.got(&of("sigma_x at node 3", shape), stress(X));
        sheet.got(&of("sigma_y at node 3", shape), stress(Y));
        sheet.got(&of("tau_xy at node 3", shape), stress([1.0, 1.0, 0.0]) - stress(X));
    }
    sheet.lines()
}

/// The lines across the straight beam, at its lower and upper edge.
fn cuts(form: &str) -> ([f64; 7], [f64; 7]) {
    let even = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0];
    let wide = [0.0, 1.1, 1.9, 3.1, 3.9, 5.1, 6.0];
    match form {
        "trapezoids" => (wide, [0.0, 0.9, 2.1, 2.9, 4.1, 4.9, 6.0]),
        "parallelograms" => {
            ([0.0, 0.9, 1.9, 2.9, 3.9, 4.9, 6.0], [0.0, 1.1, 2.1, 3.1, 4.1, 5.1, 6.0])
        }
        _ => (even, even),
    }
}

fn c02() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C02");
    for form in ["rectangles", "trapezoids", "parallelograms"] {
        let (low, high) = cuts(form);
        for n in [1, 2, 4] {
            let at = |lines: &[f64; 7], u: f64| {
                let past = (1..6).filter(|k| 6.0 * u >= f64::from(*k) - 1e-9).count();
                lines[past] + (6.0 * u - past as f64) * (lines[past + 1] - lines[past])
            };
            let mesh = Mesh::grid(6 * n, n, |u, v| {
                [(1.0 - v) * at(&low, u) + v * at(&high, u), 0.2 * v, 0.0]
            });
            let tip = |p: Vec3| near(p[0], 6.0);
            let end = mesh.those(tip);
            let beam = Plated::new(mesh, isotropic(1e7, 0.3), 0.1)
                .hold_where("xyzXYZ", |p| near(p[0], 0.0));
            for (axis, told) in
                ["extension", "in-plane shear", "out-of-plane shear"].iter().enumerate()
            {
                let mut total = [0.0; 3];
                total[axis] = 1.0;
                let answer = beam.clone().pull_total("LC", tip, total).solved();
                let name = format!("{told}, {}x{n}, {form}", 6 * n);
                sheet.got(&name, mean(&answer, &end, axis));
            }
            if form == "rectangles" {
                let mut twisted = beam;
                for node in &end {
                    let ends = near(
                        twisted.mesh.nodes[*node][1] * (twisted.mesh.nodes[*node][1] - 0.2),
                        0.0,
                    );
                    let share = if ends { 0.5 } else { 1.0 } / n as f64;
                    twisted = twisted.twist("LC", *node, [0.0; 3], [share, 0.0, 0.0]);
                }
                let answer = twisted.solved();
                let turns = end.iter().map(|node| answer.case("LC").moved(&name(*node)).turn_x_rad);
                let turn = turns.sum::<f64>() / end.len() as f64;
                sheet.got(&format!("twist, {}x{n}, {form}", 6 * n), turn);
            }
        }
    }
    sheet.lines()
}

fn c03() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C03");
    for n in [1, 2, 4] {
        let mesh = Mesh::grid(6 * n, n, |u, v| {
            let (sin, cos) = (FRAC_PI_2 * u).sin_cos();
            let r = 4.12 + 0.2 * v;
            [r * cos, r * sin, 0.0]
        });
        let tip = |p: Vec3| near(p[0], 0.0);
        let end = mesh.those(tip);
        let beam =
            Plated::new(mesh, isotropic(1e7, 0.25), 0.1).hold_where("xyzXYZ", |p| near(p[1], 0.0));
        for (axis, told) in [(1, "in-plane"), (2, "out-of-plane")] {
            let mut total = [0.0; 3];
            total[axis] = 1.0;
            let answer = beam.clone().pull_total("LC", tip, total).solved();
            sheet.got(&format!("{told}, {}x{n}", 6 * n), mean(&answer, &end, axis));
        }
    }
    sheet.lines()
}

fn c04() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C04");
    for (thickness, size, told) in [(0.32, 1.0, "t=0.32"), (0.0032, 1e-6, "t=0.0032")] {
        for n in [1, 2] {
            let mesh = Mesh::grid(12 * n, 2 * n, |u, v| {
                let (sin, cos) = (FRAC_PI_2 * u).sin_cos();
                let s = 1.1 * (v - 0.5);
                [12.0 * u, s * cos, s * sin]
            });
            let tip = |p: Vec3| near(p[0], 12.0);
            let centre = mesh.at([12.0, 0.0, 0.0]);
            let beam = Plated::new(mesh, isotropic(29e6, 0.22), thickness)
                .hold_where("xyzXYZ", |p| near(p[0], 0.0));
            for (axis, way) in [(2, "in-plane"), (1, "out-of-plane")] {
                let mut total = [0.0; 3];
                total[axis] = size;
                let answer = beam.clone().pull_total("LC", tip, total).solved();
                let name = format!("{told} {way}, {}x{}", 12 * n, 2 * n);
                sheet.got(&name, answer.moved("LC", centre)[axis]);
            }
        }
    }
    sheet.lines()
}

fn c05() -> Vec<Line> {
    let (r, half, angle) = (25.0, 25.0, 40.0 * PI / 180.0);
    let mut sheet = Sheet::of(DATA, "C05");
    for shape in Shape::BOTH {
        let mut errors = Vec::new();
        for n in [4, 8, 16] {
            let mesh = Mesh::grid(n, n, |u, v| {
                let (sin, cos) = (angle * u).sin_cos();
                [r * sin, half * v, r * cos]
            });
            let edge = mesh.at([r * angle.sin(), 0.0, r * angle.cos()]);
            let roof = Plated::new(mesh.of(shape), isotropic(4.32e8, 0.0), 0.25)
                .hold_where("yXZ", |p| near(p[1], 0.0))
                .hold_where("xYZ", |p| near(p[0], 0.0))
                .hold_where("xz", |p| near(p[1], half))
                .weigh("LC", [0.0, 0.0, -90.0]);
            let moved = roof.solved().moved("LC", edge)[2];
            sheet.got(&of(&format!("uz at the free edge, {n}x{n}"), shape), moved);
            errors.push(moved / -0.3017 - 1.0);
        }
        // Triangles cross the limit on their way.
        if shape == Shape::Quads {
            sheet.got(&of("order of convergence, 4-8", shape), order(errors[0], errors[1]));
        }
    }
    sheet.lines()
}

fn c06() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C06");
    let quarter = |mesh: Mesh, r: f64, e: f64, t: f64, p: f64| {
        let (out, side) = (mesh.at([r, 0.0, 0.0]), mesh.at([0.0, r, 0.0]));
        let shell = Plated::new(mesh, isotropic(e, 0.3), t)
            .hold_where("yXZ", |p| near(p[1], 0.0))
            .hold_where("xYZ", |p| near(p[0], 0.0))
            .hold(&[out], "z")
            .force("LC", out, [p, 0.0, 0.0])
            .force("LC", side, [0.0, -p, 0.0]);
        shell.solved().moved("LC", out)[0]
    };
    for n in [8, 12, 16] {
        let mesh = Mesh::grid(n, n, |u, v| {
            let ((east, north), (up, out)) =
                ((FRAC_PI_2 * u).sin_cos(), (72.0 * PI / 180.0 * v).sin_cos());
            [10.0 * out * north, 10.0 * out * east, 10.0 * up]
        });
        let moved = quarter(mesh, 10.0, 6.825e7, 0.04, 1.0);
        sheet.got(&format!("(a) hole, {n}x{n}"), moved);
    }
    // The closed one of three patches, each round a corner of the octant.
    for n in [6, 8] {
        let ball = |at: Vec3, r: f64| {
            let size = at[0].hypot(at[1]).hypot(at[2]);
            at.map(|x| if x.abs() < 1e-12 { 0.0 } else { r * x / size })
        };
        let octant = |r: f64| {
            let mut mesh = Mesh::default();
            for turn in 0..3 {
                let part = Mesh::grid(n, n, |u, v| {
                    // Corner, middle of a side, middle of the octant, middle of the other side.
                    let (a, b) = ((0.25 * PI * u).tan(), (0.25 * PI * v).tan());
                    let mut at = [1.0, a, b];
                    at.rotate_right(turn);
                    ball(at, r)
                });
                mesh = mesh.joined(&part);
            }
            mesh
        };
        let moved = quarter(octant(10.0), 10.0, 6.825e7, 0.04, 1.0);
        sheet.got(&format!("(b) closed, three patches {n}x{n}"), moved);
        let moved = quarter(octant(10_000.0), 10_000.0, 68_250.0, 40.0, 2000.0);
        sheet.got(&format!("LE3 ux, three patches {n}x{n}"), moved);
    }
    sheet.lines()
}

fn c07() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C07");
    let (inner, outer) = (3.0, 9.0);
    for shape in Shape::BOTH {
        let mesh = Mesh::grid(16, 24, |u, v| {
            let (sin, cos) = (FRAC_PI_2 * v).sin_cos();
            let r = inner + (outer - inner) * u;
            [r * cos, r * sin, 0.0]
        });
        let radius = |p: Vec3| p[0].hypot(p[1]);
        let (near_hole, far) = (mesh.at([inner, 0.0, 0.0]), mesh.at([outer, 0.0, 0.0]));
        let answer = membrane(mesh.of(shape), isotropic(1000.0, 0.3), 1.0)
            .hold_where("yZ", |p| near(p[1], 0.0))
            .hold_where("xZ", |p| near(p[0], 0.0))
            .pull("LC", move |p| near(radius(p), inner), |p| p.map(|x| x / inner))
            .solved();
        sheet.got(&of("(b) u_r at r=3", shape), answer.moved("LC", near_hole)[0]);
        sheet.got(&of("(b) u_r at r=9", shape), answer.moved("LC", far)[0]);
        sheet.got(&of("(b) hoop stress at r=3", shape), answer.along("LC", near_hole, Y).middle);
        sheet.got(&of("(b) hoop stress at r=9", shape), answer.along("LC", far, Y).middle);
    }
    sheet.lines()
}

fn c08() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C08");
    for shape in Shape::BOTH {
        let mut errors = Vec::new();
        for n in [4, 8, 16, 32] {
            let mesh = Mesh::grid(n, n, |u, v| [48.0 * u, 44.0 * u + v * (44.0 - 28.0 * u), 0.0]);
            let tip = mesh.at([48.0, 52.0, 0.0]);
            let answer = membrane(mesh.of(shape), isotropic(1.0, 1.0 / 3.0), 1.0)
                .hold_where("xyZ", |p| near(p[0], 0.0))
                .pull_total("LC", |p| near(p[0], 48.0), Y)
                .solved();
            let moved = answer.moved("LC", tip)[1];
            sheet.got(&of(&format!("uy at (48,52), {n}x{n}"), shape), moved);
            errors.push(moved / 23.967 - 1.0);
        }
        sheet.got(&of("order of convergence, 8-16", shape), order(errors[1], errors[2]));
    }
    sheet.lines()
}

fn c09() -> Vec<Line> {
    let (r, half) = (300.0, 300.0);
    let mut sheet = Sheet::of(DATA, "C09");
    for n in [8, 16, 32] {
        let mesh = Mesh::grid(n, n, |u, v| {
            let (sin, cos) = (FRAC_PI_2 * u).sin_cos();
            [r * sin, half * v, r * cos]
        });
        let top = mesh.at([0.0, 0.0, r]);
        let answer = Plated::new(mesh, isotropic(3e6, 0.3), 3.0)
            .hold_where("yXZ", |p| near(p[1], 0.0))
            .hold_where("xYZ", |p| near(p[0], 0.0))
            .hold_where("zXY", |p| near(p[2], 0.0))
            .hold_where("xz", |p| near(p[1], half))
            .force("LC", top, [0.0, 0.0, -0.25])
            .solved();
        sheet.got(&format!("movement under the load, {n}x{n}"), -answer.moved("LC", top)[2]);
    }
    sheet.lines()
}

fn c10() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C10");
    for shape in Shape::BOTH {
        for n in [6, 12, 24, 48] {
            let m = 2 * n / 3;
            let mesh = Mesh::grid(m, n, |u, v| {
                let (sin, cos) = (FRAC_PI_2 * v).sin_cos();
                let between = |a: f64, b: f64| 1000.0 * (a + u * (b - a));
                [between(2.0, 3.25) * cos, between(1.0, 2.75) * sin, 0.0]
            });
            let (a, b) = (3250.0, 2750.0);
            let rim = move |p: Vec3| near((p[0] / a).powi(2) + (p[1] / b).powi(2), 1.0);
            let outward = |p: Vec3| {
                let normal = [p[0] / (a * a), p[1] / (b * b)];
                let size = normal[0].hypot(normal[1]);
                [1000.0 * normal[0] / size, 1000.0 * normal[1] / size, 0.0]
            };
            let place = mesh.at([2000.0, 0.0, 0.0]);
            let answer = membrane(mesh.of(shape), isotropic(210_000.0, 0.3), 100.0)
                .hold_where("yZ", |p| near(p[1], 0.0))
                .hold_where("xZ", |p| near(p[0], 0.0))
                .pull("LC", rim, outward)
                .solved();
            let name = of(&format!("sigma_yy at D, {n}x{m}"), shape);
            sheet.got(&name, answer.along("LC", place, Y).middle);
        }
    }
    sheet.lines()
}

fn c11() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C11");
    for n in [1, 2, 4] {
        let web = Mesh::grid(8 * n, 2 * n, |u, v| [10_000.0 * u, 0.0, 2000.0 * (v - 0.5)]);
        let top = Mesh::grid(8 * n, n, |u, v| [10_000.0 * u, 1000.0 * v, 1000.0]);
        let low = Mesh::grid(8 * n, n, |u, v| [10_000.0 * u, 1000.0 * (v - 1.0), -1000.0]);
        let mesh = web.joined(&top).joined(&low);
        let tip = mesh.at([2500.0, 1000.0, 1000.0]);
        let end = |z: f64| move |p: Vec3| near(p[0], 10_000.0) && near(p[2], z);
        let answer = Plated::new(mesh, isotropic(210_000.0, 0.3), 100.0)
            .hold_where("xyz", |p| near(p[0], 0.0))
            .pull_total("LC", end(1000.0), [0.0, 6e5, 0.0])
            .pull_total("LC", end(-1000.0), [0.0, -6e5, 0.0])
            .solved();
        let name = format!("sigma_xx at A, {}x{n}x{}", 8 * n, 2 * n);
        sheet.got(&name, answer.along("LC", tip, X).middle);
    }
    sheet.lines()
}

fn c12() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C12");
    for shape in Shape::BOTH {
        for n in [8, 16, 32] {
            let (sin, cos) = (PI / 6.0).sin_cos();
            let (l, high) = (1000.0, 1000.0 * sin);
            let mesh = Mesh::grid(n, n, |u, v| [l * (u + v * cos), high * v, 0.0]);
            let centre = mesh.at([0.5 * l * (1.0 + cos), 0.5 * high, 0.0]);
            let rim = |p: Vec3| {
                let along = p[0] - p[1] * cos / sin;
                near(p[1], 0.0) || near(p[1], high) || near(along, 0.0) || near(along, l)
            };
            let answer = Plated::new(mesh.of(shape), isotropic(210_000.0, 0.3), 10.0)
                .hold_where("z", rim)
                .hold(&[0], "xy")
                .hold(&[n], "y")
                .press("LC", -0.0007)
                .solved();
            let bottom = answer.at("LC", centre).forces.and_then(|f| f.bottom);
            let stress = bottom.map_or(f64::NAN, |s| s.principal_1_mpa);
            sheet.got(&of(&format!("sigma_1 at the centre, {n}x{n}"), shape), stress);
            let moved = -answer.moved("LC", centre)[2];
            sheet.got(&of(&format!("w at the centre, {n}x{n}"), shape), moved);
        }
    }
    sheet.lines()
}

fn c13() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C13");
    for n in [1, 2, 4] {
        // A quarter of the elements over the first, smaller arc.
        let mesh = Mesh::grid(20 * n, 3 * n, |u, v| {
            let z = 20.0 * v;
            if u <= 0.25 {
                let (sin, cos) = (4.0 * u * PI / 3.0).sin_cos();
                return [14.0 * (1.0 - cos), 14.0 * sin, z];
            }
            let (sin, cos) = ((u - 0.25) / 0.75 * 5.0 * PI / 6.0 - PI / 3.0).sin_cos();
            let (x, y) = (7.0 - 46.0 * 0.5, (14.0 + 46.0) * 0.75_f64.sqrt());
            [x + 46.0 * cos, y + 46.0 * sin, z]
        });
        let end: Vec<usize> = (0..=3 * n).map(|row| 20 * n + row * (20 * n + 1)).collect();
        let places: Vec<Vec3> = end.iter().map(|node| mesh.nodes[*node]).collect();
        let tip = move |p: Vec3| places.iter().any(|q| near(q[0], p[0]) && near(q[1], p[1]));
        let answer = Plated::new(mesh, isotropic(3300.0, 0.35), 2.0)
            .hold_where("xyzXYZ", |p| near(p[0], 0.0) && near(p[1], 0.0))
            .pull_total("LC", tip, [0.0, 0.0, 1.0])
            .solved();
        sheet.got(&format!("uz at the tip, {}x{}", 20 * n, 3 * n), mean(&answer, &end, 2));
    }
    sheet.lines()
}

fn c14() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C14");
    for shape in Shape::BOTH {
        for ratio in [0.2, 0.3, 0.5] {
            for n in [8, 16] {
                let square = |u: f64| {
                    let (sin, cos) = (FRAC_PI_2 * u).sin_cos();
                    if u <= 0.5 { [1.0, sin / cos] } else { [cos / sin, 1.0] }
                };
                let hole = Mesh::grid(n, n, |u, v| {
                    let (sin, cos) = (FRAC_PI_2 * u).sin_cos();
                    let part = ((2.5 * v).exp() - 1.0) / (2.5_f64.exp() - 1.0);
                    let [x, y] = square(u);
                    [
                        ratio * cos * (1.0 - part) + x * part,
                        ratio * sin * (1.0 - part) + y * part,
                        0.0,
                    ]
                });
                let rest =
                    Mesh::grid(n / 2, n / 2, |u, v| [1.0 + 3.0 * v, square(0.5 * u)[1], 0.0]);
                let mesh = hole.joined(&rest).of(shape);
                let crown = mesh.at([0.0, ratio, 0.0]);
                let answer = membrane(mesh, isotropic(210_000.0, 0.3), 1.0)
                    .hold_where("xZ", |p| near(p[0], 0.0))
                    .hold_where("yZ", |p| near(p[1], 0.0))
                    .pull("LC", |p| near(p[0], 4.0), |_| X)
                    .solved();
                let name = format!("d/W={ratio}: peak / gross stress, {n} round a quarter");
                sheet.got(&of(&name, shape), answer.along("LC", crown, X).middle);
            }
        }
    }
    sheet.lines()
}

fn c15() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "C15");
    for shape in Shape::BOTH {
        let corners = [[25.0, -40.0], [25.0, 40.0], [-25.0, 40.0], [-25.0, -40.0]];
        let mut mesh = Mesh::default();
        for side in 0..4 {
            let ([y, z], [to_y, to_z]) = (corners[side], corners[(side + 1) % 4]);
            let n = if side % 2 == 0 { 8 } else { 5 };
            let wall =
                Mesh::grid(n, 50, |u, v| [500.0 * v, y + u * (to_y - y), z + u * (to_z - z)]);
            mesh = mesh.joined(&wall);
        }
        let mesh = mesh.of(shape);
        let [right, left] = [25.0, -25.0].map(|y| mesh.at([500.0, y, 0.0]));
        let at_end = |p: Vec3| near(p[0], 500.0);
        let flow = 100.0;
        let wall = |axis: usize, at: f64| move |p: Vec3| at_end(p) && near(p[axis], at);
        let over = mesh.those(|p| near(p[0], 250.0) && near(p[2], 40.0) && p[1].abs() < 24.0);
        let ends = [40.0, -40.0]
            .map(|z| mesh.those(move |p| near(p[0], 500.0) && near(p[2], z) && p[1].abs() < 24.0));
        // Over the ends of two webs.
        let bend = -4000.0 / 160.0;
        let answer = Plated::new(mesh, isotropic(210_000.0, 0.3), 3.0)
            .hold_where("xyzXYZ", |p| near(p[0], 0.0))
            .pull("LC", wall(1, 25.0), |_| [0.0, 0.0, bend])
            .pull("LC", wall(1, -25.0), |_| [0.0, 0.0, bend])
            .pull("torque", wall(1, 25.0), |_| [0.0, 0.0, flow])
            .pull("torque", wall(2, 40.0), |_| [0.0, -flow, 0.0])
            .pull("torque", wall(1, -25.0), |_| [0.0, 0.0, -flow])
            .pull("torque", wall(2, -40.0), |_| [0.0, flow, 0.0])
            .solved();
        sheet.got(&of("LC1 uz at web mid-height, x=500", shape), answer.moved("LC", right)[2]);
        let turn = (mean(&answer, &ends[0], 0) - mean(&answer, &ends[1], 0)) / 80.0;
        sheet.got(&of("LC1 rot y of the end section", shape), turn);
        let [up, down] = [right, left].map(|node| answer.moved("torque", node)[2]);
        sheet.got(&of("LC2 twist of the end section", shape), (up - down) / 50.0);
        let stress: f64 = over.iter().map(|n| answer.along("LC", *n, X).middle).sum();
        let name = of("LC1 bending stress at x=250, mean over the flange", shape);
        sheet.got(&name, stress / over.len() as f64);
    }
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    let all = [c01, c02, c03, c04, c05, c06, c07, c08, c09, c10, c11, c12, c13, c14, c15];
    all.iter().flat_map(|case| case()).collect()
}

#[test]
fn membranes_and_shells_move_as_published() {
    assert_close(&lines());
}
