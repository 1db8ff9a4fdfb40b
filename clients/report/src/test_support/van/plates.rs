//! Mounts of the invented van as plates: meshes to scale, fields made up to look like such fields.

use fishplate_proto::v1;

use crate::test_support::shapes::at;

type Space = [f64; 3];

/// Stress at a place, MPa.
type Field = Box<dyn Fn(Space) -> f64>;

/// The four mounts: two with pictures, one without, one that was not solved. Cells are `cell` mm.
pub(crate) fn mounts(cell: f64) -> Vec<v1::PlateMount> {
    let solved = |id: &str, sign: f64| front(id, sign, cell);
    let bare = v1::PlateMount { parts: Vec::new(), nodes: Vec::new(), ..solved("RL", 1.0) };
    let bare = v1::PlateMount { views: Vec::new(), buckling: None, facings: Vec::new(), ..bare };
    let not_solved = v1::PlateMount {
        mount_id: "RR".to_owned(),
        not_solved_reason: "the weld `weld.cross-end right` is 9 mm away from `part.cross`"
            .to_owned(),
        ..v1::PlateMount::default()
    };
    vec![solved("FL", 1.0), solved("FR", -1.0), bare, not_solved]
}

/// A mesh that grows wall by wall.
#[derive(Default)]
struct Mesh {
    nodes: Vec<Space>,
    parts: Vec<v1::PlatePart>,
    stresses: Vec<v1::PlatePartStress>,
}

impl Mesh {
    /// A wall of `counts` cells; `place` puts the unit square in space, `hole` leaves cells out.
    fn wall(
        &mut self,
        (name, wall, thickness_mm, yield_mpa): (&str, &str, f64, f64),
        counts: [u16; 2],
        place: impl Fn(f64, f64) -> Space,
        hole: impl Fn(Space) -> bool,
        field: &Field,
    ) {
        let first = self.nodes.len();
        let [columns, rows] = counts;
        for j in 0..=rows {
            for i in 0..=columns {
                self.nodes
                    .push(place(f64::from(i) / f64::from(columns), f64::from(j) / f64::from(rows)));
            }
        }
        let mut cells = Vec::new();
        let mut values = Vec::new();
        let (mut largest, mut largest_at) = (0.0, [0.0; 3]);
        for j in 0..rows {
            for i in 0..columns {
                let node = |i: u16, j: u16| {
                    first + usize::from(j) * usize::from(columns + 1) + usize::from(i)
                };
                let corners = [node(i, j), node(i + 1, j), node(i + 1, j + 1), node(i, j + 1)];
                let points = corners.map(|n| self.nodes[n]);
                let middle = [0, 1, 2].map(|k| points.iter().map(|p| p[k]).sum::<f64>() / 4.0);
                if hole(middle) {
                    continue;
                }
                for p in points {
                    values.push(field(p));
                    if field(p) > largest {
                        (largest, largest_at) = (field(p), p);
                    }
                }
                let nodes = corners.map(|n| i32::try_from(n).unwrap()).to_vec();
                cells.push(v1::PlateCell { nodes });
            }
        }
        self.parts.push(v1::PlatePart {
            name: name.to_owned(),
            wall: wall.to_owned(),
            thickness_mm,
            yield_mpa,
            cells,
        });
        self.stresses.push(v1::PlatePartStress {
            von_mises_mpa: values,
            largest_mpa: 0.93 * largest,
            largest_at: Some(at(largest_at)),
        });
    }
}

/// A peak that dies out within `reach` mm of a place, on a floor.
fn peak(floor: f64, height: f64, place: Space, reach: f64) -> Field {
    Box::new(move |p: Space| {
        let away: f64 = (0..3).map(|k| (p[k] - place[k]).powi(2)).sum();
        floor + height * (-away.sqrt() / reach).exp()
    })
}

fn front(id: &str, sign: f64, cell: f64) -> v1::PlateMount {
    let side = if sign > 0.0 { "left" } else { "right" };
    // A handful of cells a wall.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let count = |mm: f64| (mm / cell).ceil() as u16;
    let (rail, bracket, doubler) = (
        format!("rail.frame {side}"),
        format!("part.front-bracket {side}"),
        format!("part.front-doubler {side}"),
    );
    let y = |outward: f64| sign * outward;
    let mut mesh = Mesh::default();
    let solid = |_: Space| false;
    let in_rail = peak(35.0, 220.0, [318.0, y(423.5), 508.0], 16.0);
    let along = |u: f64| 170.0 + 320.0 * u;
    for (wall, size, place) in [
        (
            "web",
            97.0,
            Box::new(move |u: f64, v: f64| [along(u), y(423.5), 421.5 + 97.0 * v])
                as Box<dyn Fn(f64, f64) -> Space>,
        ),
        ("bottom", 43.5, Box::new(move |u, v| [along(u), y(380.0 + 43.5 * v), 421.5])),
        ("top", 43.5, Box::new(move |u, v| [along(u), y(380.0 + 43.5 * v), 518.5])),
    ] {
        let counts = [count(320.0), count(size)];
        mesh.wall((&rail, wall, 2.2, 210.0), counts, place, solid, &in_rail);
    }
    mesh.wall(
        (&doubler, "", 3.0, 235.0),
        [count(104.0), count(80.0)],
        |u, v| [278.0 + 104.0 * u, y(426.1), 430.0 + 80.0 * v],
        solid,
        &peak(22.0, 118.0, [302.5, y(426.0), 500.0], 22.0),
    );
    for (wall, x, height) in [("rear side", 302.5, 190.0), ("front side", 357.5, 150.0)] {
        let top = |out: f64| 500.0 - 55.0 * ((out - 22.0) / 63.0).clamp(0.0, 1.0);
        mesh.wall(
            (&bracket, wall, 5.0, 235.0),
            [count(85.0), count(72.0)],
            |u, v| [x, y(425.0 + 85.0 * u), 422.5 + (top(85.0 * u) - 422.5) * v],
            solid,
            &peak(24.0, height, [x, y(438.0), 500.0], 17.0),
        );
    }
    mesh.wall(
        (&bracket, "floor", 5.0, 235.0),
        [count(55.0), count(85.0)],
        |u, v| [302.5 + 55.0 * u, y(425.0 + 85.0 * v), 422.5],
        |p| (p[0] - 330.0).hypot(p[1] - y(480.0)) < 8.0,
        &peak(18.0, 96.0, [330.0, y(480.0), 422.5], 13.0),
    );
    let views = [("P1", 1.0, &["FL-6", "FL-7"][..]), ("K1", 0.62, &["FL-3"][..])]
        .map(|(case, share, rows)| view(&mesh, sign, case, share, rows))
        .to_vec();
    let shape = mesh.nodes.iter().map(|p| {
        let wave = |v: f64, from: f64, long: f64| {
            ((v - from) / long).clamp(0.0, 1.0) * std::f64::consts::PI
        };
        let out = sign * p[1];
        let grip = wave(out, 425.0, 140.0).sin() * ((p[2] - 422.5) / 60.0).clamp(0.0, 1.0);
        let x = if (p[0] - 302.5).abs() < 1.0 && out > 425.0 { grip } else { 0.0 };
        at([x, 0.0, 0.0])
    });
    v1::PlateMount {
        mount_id: id.to_owned(),
        not_solved_reason: String::new(),
        size: Some(v1::PlateModelSize {
            elements: i32::try_from(mesh.parts.iter().map(|p| p.cells.len()).sum::<usize>())
                .unwrap(),
            unknowns: 14_232,
            coarse_unknowns: 4_310,
            largest_imbalance: 3.1e-12,
            least_angle_deg: 38.0,
            largest_angle_deg: 127.0,
            largest_mesh_change: 0.034,
        }),
        buckling: Some(v1::PlateBuckling {
            load_factor: 6.4,
            case_name: "P1".to_owned(),
            part: bracket,
            shape: shape.collect(),
        }),
        nodes: mesh.nodes.iter().map(|p| at(*p)).collect(),
        parts: mesh.parts,
        views,
        runs: runs(side, sign),
        bolts: bolts(side, sign),
        facings: vec![v1::PlateFacing {
            name: "front-bracket | front-doubler".to_owned(),
            case_name: "P1".to_owned(),
            pressed_share: 0.64,
            opening_mm: 0.11,
            pressing_n: 18_300.0,
        }],
        hardpoint: Some(v1::HardpointStiffness {
            move_x_n_per_mm: 9_200.0,
            move_y_n_per_mm: 31_500.0,
            move_z_n_per_mm: 14_800.0,
            rounds: 3,
            last_change: 0.0004,
            share_change: 0.072,
        }),
        assumptions: vec![
            "The rail piece is held by the frame at 120 mm from the foot.".to_owned(),
        ],
    }
}

fn view(mesh: &Mesh, sign: f64, case: &str, share: f64, rows: &[&str]) -> v1::PlateView {
    let movement = |p: &Space| {
        let out = ((sign * p[1] - 380.0) / 130.0).clamp(0.0, 1.0).powi(2);
        let near = (-((p[0] - 330.0) / 90.0).powi(2)).exp();
        at([-0.62 * out * near, sign * 0.12 * near, -0.48 * out * near].map(|c| c * share))
    };
    let stresses = mesh.stresses.iter().map(|s| v1::PlatePartStress {
        von_mises_mpa: s.von_mises_mpa.iter().map(|v| v * share).collect(),
        largest_mpa: s.largest_mpa * share,
        largest_at: s.largest_at,
    });
    v1::PlateView {
        case_name: case.to_owned(),
        row_ids: rows.iter().map(|r| (*r).to_owned()).collect(),
        movements: mesh.nodes.iter().map(movement).collect(),
        stresses: stresses.collect(),
    }
}

fn runs(side: &str, sign: f64) -> Vec<v1::PlateRun> {
    let run = |number: i32, x: f64, top: f64| {
        let stations = (0..=20u8).map(|k| {
            let at_mm = 4.0 * f64::from(k);
            let stress_mpa =
                28.0 + 11.0 * (-at_mm / 6.0).exp() + top * (-(80.0 - at_mm) / 9.0).exp();
            v1::PlateRunStation {
                at_mm,
                point: Some(at([x, sign * 425.0, 420.0 + at_mm])),
                stress_mpa,
                force_n_per_mm: 2.8 * stress_mpa,
            }
        });
        v1::PlateRun {
            weld: format!("weld.front-foot {side}"),
            run: number,
            case_name: "P1".to_owned(),
            stations: stations.collect(),
            throat_mm: 2.8,
            averaged_over_mm: 6.0,
            peak_mpa: 28.0 + 0.73 * top,
            peak_at_mm: 77.0,
            hand_mpa: 0.42 * top + 20.0,
            limit_mpa: 208.0,
        }
    };
    vec![run(1, 302.5, 138.0), run(2, 357.5, 104.0)]
}

fn bolts(side: &str, sign: f64) -> Vec<v1::PlateBolt> {
    let bolt = |name: &str, number: i32, x: f64, tension_n: f64, prying_n: f64| v1::PlateBolt {
        bolt: format!("bolt.{name} {side}"),
        number,
        case_name: "P1".to_owned(),
        at: Some(at([x, sign * 480.0, 422.5])),
        tension_n,
        hand_tension_n: 0.86 * (tension_n - prying_n),
        preload_n: 31_000.0,
        prying_n,
        shear_n: 7_530.0,
    };
    vec![
        bolt("front-bush", 1, 330.0, 36_200.0, 2_900.0),
        bolt("front-doubler", 1, 290.0, 33_100.0, 0.0),
        bolt("front-doubler", 2, 370.0, 39_800.0, 5_100.0),
    ]
}
