//! Plates in bending, their buckling and frequencies: B01 to B10.

use std::f64::consts::PI;

use fishplate_proto::v1;
use fishplate_tests::plates::{Mesh, Plated, Shape, isotropic, name};
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::Vec3;

pub(crate) const DATA: &str = include_str!("../../data/plates.json");
const E: f64 = 210_000.0;
const NU: f64 = 0.3;

/// How the edges of a rectangle are held.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Edges {
    Supported,
    Clamped,
}

fn flexural(e: f64, nu: f64, t: f64) -> f64 {
    e * t.powi(3) / (12.0 * (1.0 - nu * nu))
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-6 * (1.0 + b.abs())
}

/// A rectangle [0, a] x [0, b], held along its edges; supports are hard.
#[derive(Debug, Clone, Copy)]
struct Rectangle {
    sides: [f64; 2],
    thickness: f64,
    material: [f64; 2],
    mesh: [usize; 2],
    shape: Shape,
}

impl Rectangle {
    fn square(a: f64, thickness: f64, n: usize, shape: Shape) -> Self {
        Self { sides: [a, a], thickness, material: [E, NU], mesh: [n, n], shape }
    }

    /// Held against movement in its plane, and no more.
    fn loose(self) -> Plated {
        let Self { sides: [a, b], thickness, material: [e, nu], mesh: [n, m], shape } = self;
        let mesh = Mesh::grid(n, m, |u, v| [a * u, b * v, 0.0]).of(shape);
        let (first, last) = (mesh.at([0.0; 3]), mesh.at([a, 0.0, 0.0]));
        Plated::new(mesh, isotropic(e, nu), thickness).hold(&[first], "xy").hold(&[last], "y")
    }

    fn held(self, edges: Edges) -> Plated {
        let [a, b] = self.sides;
        let across = move |p: Vec3| near(p[0], 0.0) || near(p[0], a);
        let along = move |p: Vec3| near(p[1], 0.0) || near(p[1], b);
        match edges {
            Edges::Supported => self.loose().hold_where("zX", across).hold_where("zY", along),
            Edges::Clamped => self.loose().hold_where("zXY", |p| across(p) || along(p)),
        }
    }

    fn centre(self) -> Vec3 {
        [0.5 * self.sides[0], 0.5 * self.sides[1], 0.0]
    }

    /// The deflection at the centre under a pressure.
    fn pressed(self, edges: Edges, q: f64) -> f64 {
        let plate = self.held(edges).press("q", q);
        plate.solved().moved("q", plate.mesh.at(self.centre()))[2]
    }

    /// The deflection at the centre under a force there.
    fn poked(self, edges: Edges, p: f64) -> f64 {
        let plate = self.held(edges);
        let centre = plate.mesh.at(self.centre());
        plate.force("P", centre, [0.0, 0.0, p]).solved().moved("P", centre)[2]
    }
}

fn of(quantity: &str, shape: Shape) -> String {
    format!("{quantity}, {}", shape.name())
}

fn b01() -> Vec<Line> {
    let (a, t, q, p) = (500.0, 5.0, 0.02, 2000.0);
    let d = flexural(E, NU, t);
    let mut sheet = Sheet::of(DATA, "B01");
    for shape in Shape::BOTH {
        let square = Rectangle::square(a, t, 16, shape);
        let plate = square.held(Edges::Supported).press("q", q);
        let answer = plate.solved();
        let centre = plate.mesh.at(square.centre());
        let w = answer.moved("q", centre)[2];
        let moment = answer.along("q", centre, [1.0, 0.0, 0.0]).moment;
        sheet.got(&of("w_c/(q a^4/D), 16x16", shape), w * d / (q * a.powi(4)));
        sheet.got(&of("LC1 w_c, 16x16", shape), w);
        sheet.got(&of("M_c/(q a^2), 16x16", shape), moment / (q * a * a));
        let top = answer.at("q", centre).forces.and_then(|f| f.top).map(|s| s.principal_1_mpa);
        sheet.got(&of("LC1 stress at the centre, 16x16", shape), top.unwrap_or(f64::NAN));
        let lifted: f64 =
            answer.case("q").0.reactions.iter().filter_map(|r| r.force).map(|f| f.force_z_n).sum();
        sheet.got(&of("LC1 sum of reactions", shape), -lifted);
        let fine = Rectangle::square(a, t, 32, shape);
        sheet.got(&of("LC2 w_c, 32x32", shape), fine.poked(Edges::Supported, p));
    }
    sheet.lines()
}

fn b02() -> Vec<Line> {
    let (a, t, q, p) = (500.0, 5.0, 0.02, 2000.0);
    let d = flexural(E, NU, t);
    let mut sheet = Sheet::of(DATA, "B02");
    for shape in Shape::BOTH {
        let mut errors = Vec::new();
        for n in [8, 16, 32] {
            let square = Rectangle::square(a, t, n, shape);
            let plate = square.held(Edges::Clamped).press("q", q);
            let answer = plate.solved();
            let centre = plate.mesh.at(square.centre());
            let w = answer.moved("q", centre)[2] * d / (q * a.powi(4));
            sheet.got(&of(&format!("w_c/(q a^4/D), {n}x{n}"), shape), w);
            errors.push(w / 0.001_265_319_1 - 1.0);
            if n > 8 {
                let moment = answer.along("q", centre, [1.0, 0.0, 0.0]).moment;
                sheet.got(&of(&format!("M_c/(q a^2), {n}x{n}"), shape), moment / (q * a * a));
            }
            if n == 32 {
                // What the supports give, not what the element shows: over the length they hold.
                let edge = plate.mesh.at([0.0, 0.5 * a, 0.0]);
                let held = answer.case("q").reaction(&name(edge));
                let moment = -held.moment_y_nmm / (a / n as f64);
                sheet.got(
                    &of("M at the middle of an edge/(q a^2), 32x32", shape),
                    moment / (q * a * a),
                );
                sheet.got(&of("LC2 w_c, 32x32", shape), square.poked(Edges::Clamped, p));
            }
        }
        sheet.got(&of("order of convergence of w_c, 8-16", shape), order(errors[0], errors[1]));
    }
    sheet.lines()
}

/// The power of the size of the elements with which an error falls when they are halved.
pub(crate) fn order(coarse: f64, fine: f64) -> f64 {
    (coarse.abs() / fine.abs()).log2()
}

fn b03() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "B03");
    let (q, p) = (1e-4, 4e-4);
    for (b, n) in [(4.0, 16), (10.0, 16), (10.0, 32)] {
        let of = |shape| Rectangle {
            sides: [2.0, b],
            thickness: 1e-4,
            material: [1.7472e7, NU],
            mesh: [n, n],
            shape,
        };
        for shape in Shape::BOTH {
            for (edges, name) in [(Edges::Supported, "SS"), (Edges::Clamped, "clamped")] {
                let told =
                    |load| format!("{name} {load} b/a={}, {n}x{n}, {}", b / 2.0, shape.name());
                sheet.got(&told("uniform"), of(shape).pressed(edges, q));
                sheet.got(&told("point"), of(shape).poked(edges, p));
            }
        }
    }
    sheet.lines()
}

fn b04() -> Vec<Line> {
    let (a, t, q) = (500.0, 5.0, 0.001);
    let d = flexural(E, NU, t);
    let mut sheet = Sheet::of(DATA, "B04");
    for shape in Shape::BOTH {
        let plate = Rectangle::square(a, t, 16, shape).loose();
        let plate = plate.hold_where("xyzXYZ", |p| near(p[0], 0.0)).press("q", q);
        let answer = plate.solved();
        let w = |y: f64| answer.moved("q", plate.mesh.at([a, y, 0.0]))[2] * d / (q * a.powi(4));
        sheet.got(&of("w at the middle of the free edge/(q a^4/D)", shape), w(0.5 * a));
        sheet.got(&of("w at a free corner/(q a^4/D)", shape), w(a));
        let root = name(plate.mesh.at([0.0, 0.5 * a, 0.0]));
        let moment = -answer.case("q").reaction(&root).moment_y_nmm / (a / 16.0);
        sheet.got(&of("M_x at the middle of the root/(q a^2)", shape), moment / (q * a * a));
        let frequencies = plate.frequencies(4);
        for (place, f) in frequencies.iter().enumerate() {
            let name = format!("omega_{} a^2 sqrt(rho t/D)", place + 1);
            sheet.got(&of(&name, shape), circular(*f, a, t));
        }
    }
    sheet.lines()
}

/// A frequency in Hz as omega a² sqrt(rho t / D), steel.
fn circular(f: f64, a: f64, t: f64) -> f64 {
    2.0 * PI * f * a * a * (7.85e-9 * t / flexural(E, NU, t)).sqrt()
}

fn b05() -> Vec<Line> {
    let (r, t, q, p) = (150.0, 4.0, 0.05, 3000.0);
    let rim = |at: Vec3| near(at[0].hypot(at[1]), r);
    let quads = |rings: usize| {
        let near_rim = r * (1.0 - 0.25 / rings as f64);
        Mesh::disc(rings, r).in_three(|at| {
            let out = at[0].hypot(at[1]);
            if out > near_rim { at.map(|x| x * r / out) } else { at }
        })
    };
    let mut sheet = Sheet::of(DATA, "B05");
    let meshes = [
        (quads(4), Shape::Quads, 48),
        (quads(8), Shape::Quads, 96),
        (Mesh::disc(8, r), Shape::Triangles, 48),
        (Mesh::disc(16, r), Shape::Triangles, 96),
    ];
    for (mesh, shape, round) in meshes {
        let told = |name: &str| format!("{name}, {round} sides, {}", shape.name());
        let loaded = |plate: Plated| plate.press("q", q).force("P", 0, [0.0, 0.0, p]);
        let plate = Plated::new(mesh.clone(), isotropic(E, NU), t);
        let clamped = loaded(plate.clone().hold_where("xyzXYZ", rim)).solved();
        // The supports let the rim turn as it likes: held, a polygon is not a circle.
        let pins = [mesh.at([r, 0.0, 0.0]), mesh.at([-r, 0.0, 0.0])];
        let held = plate.hold_where("z", rim).hold(&pins[..1], "xy").hold(&pins[1..], "y");
        let supported = loaded(held).solved();
        sheet.got(&told("clamped, q: w_c"), clamped.moved("q", 0)[2]);
        sheet.got(&told("clamped, P: w_c"), clamped.moved("P", 0)[2]);
        sheet.got(&told("SS, q: w_c"), supported.moved("q", 0)[2]);
        sheet.got(&told("SS, P: w_c"), supported.moved("P", 0)[2]);
        sheet.got(&told("clamped, q: M_c"), clamped.along("q", 0, [1.0, 0.0, 0.0]).moment);
        sheet.got(&told("SS, q: M_c"), supported.along("q", 0, [1.0, 0.0, 0.0]).moment);
        let edge = name(pins[0]);
        let moment = clamped.case("q").reaction(&edge).moment_y_nmm;
        sheet.got(&told("clamped, q: M_edge"), moment / (2.0 * PI * r / f64::from(round)));
    }
    sheet.lines()
}

fn b06() -> Vec<Line> {
    let (l, t, nu, q) = (100.0, 0.1, 0.31, 1e-6);
    let high = 0.75_f64.sqrt() * l;
    let d = flexural(E, nu, t);
    let mut sheet = Sheet::of(DATA, "B06");
    for shape in Shape::BOTH {
        let mut errors = Vec::new();
        for n in [8, 16, 32] {
            let mesh = Mesh::grid(n, n, |u, v| [l * u + 0.5 * l * v, high * v, 0.0]).of(shape);
            let centre = mesh.at([0.75 * l, 0.5 * high, 0.0]);
            let plate = Plated::new(mesh, isotropic(E, nu), t).press("q", q);
            let plate = plate.hold_where("z", |p| near(p[1], 0.0) || near(p[1], high));
            let answer = plate.hold(&[0], "xy").hold(&[n], "y").solved();
            let w = answer.moved("q", centre)[2] * d / (q * l.powi(4));
            sheet.got(&of(&format!("w_c/(q L^4/D), {n}x{n}"), shape), w);
            errors.push(w / 0.007_933_000_8 - 1.0);
            if n > 8 {
                let mut got = |told: &str, axis| {
                    let moment = answer.along("q", centre, axis).moment / (q * l * l);
                    sheet
                        .got(&of(&format!("{told} at the centre/(q L^2), {n}x{n}"), shape), moment);
                };
                got("M_y", [0.0, 1.0, 0.0]);
                got("M_x", [1.0, 0.0, 0.0]);
            }
        }
        // Beside the obtuse corners triangles are not yet where errors fall with a power.
        if shape == Shape::Quads {
            sheet.got(&of("order of convergence of w_c, 8-16", shape), order(errors[0], errors[1]));
        }
    }
    sheet.lines()
}

fn b08() -> Vec<Line> {
    let (b, t) = (200.0, 3.0);
    let unit = PI * PI * flexural(E, NU, t) / (b * b);
    let mut sheet = Sheet::of(DATA, "B08");
    let squeezed = |plate: Plated, a: f64| {
        plate.pull("LC", |p| near(p[0], 0.0), |_| [1.0, 0.0, 0.0]).pull(
            "LC",
            move |p| near(p[0], a),
            |_| [-1.0, 0.0, 0.0],
        )
    };
    for shape in Shape::BOTH {
        let square = Rectangle::square(b, t, 16, shape);
        let mut got = |name: &str, plate: &Plated| {
            sheet.got(&of(name, shape), plate.buckling() / unit);
        };
        let supported = square.held(Edges::Supported);
        let one_way = squeezed(supported.clone(), b);
        got("k: SS, uniaxial, a/b=1, 16x16", &one_way);
        let long = Rectangle { sides: [1.5 * b, b], mesh: [24, 16], ..square };
        got("k: SS, uniaxial, a/b=1.5, 24x16", &squeezed(long.held(Edges::Supported), 1.5 * b));
        let both_ways = one_way.pull("LC", |p| near(p[1], 0.0), |_| [0.0, 1.0, 0.0]).pull(
            "LC",
            |p| near(p[1], b),
            |_| [0.0, -1.0, 0.0],
        );
        got("k: SS square, equal biaxial, 16x16", &both_ways);
        let sheared = supported
            .pull("LC", |p| near(p[0], 0.0), |_| [0.0, -1.0, 0.0])
            .pull("LC", |p| near(p[0], b), |_| [0.0, 1.0, 0.0])
            .pull("LC", |p| near(p[1], 0.0), |_| [-1.0, 0.0, 0.0])
            .pull("LC", |p| near(p[1], b), |_| [1.0, 0.0, 0.0]);
        got("k: SS square, shear, 16x16", &sheared);
        got("k: clamped square, uniaxial, 16x16", &squeezed(square.held(Edges::Clamped), b));
        let flange = Rectangle { sides: [2.0 * b, b], mesh: [32, 16], ..square };
        let ends = move |p: Vec3| near(p[0], 0.0) || near(p[0], 2.0 * b);
        let flange = flange.loose().hold_where("zX", ends).hold_where("zY", |p| near(p[1], 0.0));
        got("k: one unloaded edge free, a/b=2, 32x16", &squeezed(flange, 2.0 * b));
    }
    sheet.lines()
}

fn b09() -> Vec<Line> {
    let (a, q) = (500.0, 1e-3);
    let mut sheet = Sheet::of(DATA, "B09");
    for shape in Shape::BOTH {
        for slender in [5.0, 10.0, 20.0, 1000.0] {
            let t = a / slender;
            let w = Rectangle::square(a, t, 16, shape).pressed(Edges::Supported, q);
            let name = format!("w_c/(q a^4/D), a/t={slender}, 16x16");
            sheet.got(&of(&name, shape), w * flexural(E, NU, t) / (q * a.powi(4)));
        }
        let t = 1.0;
        for (edges, name) in [(Edges::Supported, "SS"), (Edges::Clamped, "clamped")] {
            let plate = Rectangle::square(a, t, 16, shape).held(edges);
            let frequencies = plate.frequencies(3);
            for (place, f) in frequencies.iter().enumerate() {
                let name = format!("{name} square omega_{} a^2 sqrt(rho t/D)", place + 1);
                sheet.got(&of(&name, shape), circular(*f, a, t));
            }
        }
    }
    sheet.lines()
}

fn b10() -> Vec<Line> {
    let (a, t, q) = (500.0, 0.5, 1e-5);
    let d = flexural(E, NU, t);
    let mut sheet = Sheet::of(DATA, "B10");
    for shape in Shape::BOTH {
        let square = Rectangle::square(a, t, 16, shape);
        let corner = move |p: Vec3| [p[0], p[1]].iter().all(|x| near(*x, 0.0) || near(*x, a));
        let plate = square.loose().hold_where("z", corner).press("q", q);
        let answer = plate.solved();
        let w = |at| answer.moved("q", plate.mesh.at(at))[2] * d / (q * a.powi(4));
        sheet.got(&of("w_c/(q a^4/D)", shape), w(square.centre()));
        sheet.got(&of("w at the middle of an edge/(q a^4/D)", shape), w([0.5 * a, 0.0, 0.0]));
        let moment = answer.along("q", plate.mesh.at(square.centre()), [1.0, 0.0, 0.0]).moment;
        sheet.got(&of("M_c/(q a^2)", shape), moment / (q * a * a));
        let held = answer.case("q").reaction("n0").force_z_n;
        sheet.got(&of("corner reaction/(q a^2)", shape), -held / (q * a * a));
    }
    sheet.lines()
}

/// The patch of the standard set: inner nodes first, then the corners, all by place.
pub(crate) fn patch(shape: Shape) -> Mesh {
    let places = [
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
    Mesh {
        nodes: places.iter().map(|[x, y]| [*x, *y, 0.0]).collect(),
        elements: quads.iter().map(|quad| quad.to_vec()).collect(),
    }
    .of(shape)
}

fn b07() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "B07");
    for shape in Shape::BOTH {
        let mesh = patch(shape);
        let mut plate = Plated::new(mesh.clone(), isotropic(1e6, 0.25), 0.001);
        plate = plate.hold(&[4, 5, 6, 7], "xyzXYZ");
        for node in 4..8 {
            let [x, y, _] = mesh.nodes[node];
            plate.case("LC").prescribed.push(v1::PrescribedMovement {
                node_id: name(node),
                move_z_mm: Some(1e-3 * (x * x + x * y + y * y) / 2.0),
                turn_x_rad: Some(1e-3 * (y + 0.5 * x)),
                turn_y_rad: Some(-1e-3 * (x + 0.5 * y)),
                ..Default::default()
            });
        }
        let answer = plate.solved();
        for node in 0..4 {
            let w = answer.moved("LC", node)[2];
            sheet.got(&of(&format!("w at node {}", node + 1), shape), w);
        }
        let first = answer.case("LC").moved("n0");
        sheet.got(&of("theta_x at node 1", shape), first.turn_x_rad);
        sheet.got(&of("theta_y at node 1", shape), first.turn_y_rad);
        // Along an axis at 45 degrees both the moments and the twist count.
        let moments = |axis| answer.along("LC", 2, axis).moment;
        sheet.got(&of("M_x at node 3", shape), moments([1.0, 0.0, 0.0]));
        sheet.got(&of("M_y at node 3", shape), moments([0.0, 1.0, 0.0]));
        let twist = moments([1.0, 1.0, 0.0]) - moments([1.0, 0.0, 0.0]);
        sheet.got(&of("M_xy at node 3", shape), twist);
    }
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    let all = [b01, b02, b03, b04, b05, b06, b07, b08, b09, b10];
    all.iter().flat_map(|case| case()).collect()
}

#[test]
fn plates_bend_as_published() {
    assert_close(&lines());
}
