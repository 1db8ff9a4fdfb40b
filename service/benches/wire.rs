//! What the wire costs: an empty call, a call of a kilobyte, one design of a frame, and many designs
//! against the same in process. Client and server share one process and two threads, over loopback.
//!
//! `cargo bench -p fishplate-service --bench wire`; times in microseconds. CPU times are those of the
//! whole process, client included; wall times mean something only on an idle machine.

#![allow(missing_docs, clippy::unwrap_used, clippy::print_stdout)]

use std::time::Instant;

use fishplate_proto::v1;
use fishplate_proto::v1::VariedProperty as Property;
use fishplate_service::accept::{bind, connections};
use fishplate_service::limits::{ANSWER_BYTES, Limits};
use fishplate_service::server::Server;
use fishplate_solver::RunToEnd;
use fishplate_solver::batch::{
    BatchAsked, Effort, FrameBatch, Moduli, SectionProperty, Varied, Width,
};
use fishplate_solver::model;
use rustix::time::{ClockId, clock_gettime};
use tonic::transport::{Channel, Endpoint};

/// Designs of one request.
const DESIGNS: usize = 20_000;
/// Kinds of member, each with an area, two inertias and a torsion constant that differ.
const KINDS: usize = 3;
const STEPS: [f64; 3] = [250.0, 300.0, 120.0];

fn main() {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    runtime.block_on(run());
}

async fn run() {
    let limits = Limits { threads: 2, ..Limits::in_process() };
    let listener = bind("127.0.0.1:0".parse().unwrap()).await.unwrap();
    let address = listener.local_addr().unwrap();
    let incoming = connections(listener, &limits);
    let drain = std::time::Duration::ZERO;
    tokio::spawn(Server::new(limits).serve(incoming, std::future::pending(), drain));
    let channel = Endpoint::from_shared(format!("http://{address}"))
        .unwrap()
        .tcp_nodelay(true)
        .connect()
        .await
        .unwrap();

    let mut health = tonic_health::pb::health_client::HealthClient::new(channel.clone());
    let mut empty = Times::default();
    let mut kilobyte = Times::default();
    let mut single = Times::default();
    let mut solver = solver(channel);
    let (small, one) = (cantilever(), request(1));
    let base = model();
    let inside = batch(&base);
    let (mut streamed, mut in_process) = (Times::default(), Times::default());
    let many = request(DESIGNS);
    let values = in_si(&many.values);
    for round in 0..7 {
        for _ in 0..300 {
            let call = health.check(tonic_health::pb::HealthCheckRequest::default());
            empty.add(call).await.unwrap();
            kilobyte.add(solver.solve_structure(small.clone())).await.unwrap();
        }
        for _ in 0..50 {
            single.add(all(&mut solver, one.clone())).await;
        }
        let asked = many.clone();
        let told = streamed.add(all(&mut solver, asked)).await;
        let effort = Effort { threads: 2, width: Width::Widest };
        let answer = in_process
            .add(async { tokio::task::block_in_place(|| inside.solve(&values, effort, &RunToEnd)) })
            .await
            .unwrap();
        let equal = answer
            .worst_stress
            .chunks_exact(12)
            .map(|cases| cases.iter().fold(0.0, |top: f64, c| if *c > top { *c } else { top }))
            .zip(&told)
            .all(|(inside, told)| (inside / 1e6 - told).abs() <= 1e-10 * told);
        assert!(equal && told.len() == DESIGNS, "round {round}: the wire tells other numbers");
    }
    empty.tell("empty call (health)", 1);
    kilobyte.tell("small structure, about 1 kB", 1);
    single.tell("one design of the frame", 1);
    streamed.tell("20 000 designs over the wire", DESIGNS);
    in_process.tell("20 000 designs in process", DESIGNS);
    println!("request {} bytes, load average {}", prost::Message::encoded_len(&many), load());
}

fn load() -> String {
    std::fs::read_to_string("/proc/loadavg").unwrap_or_default().split(' ').take(1).collect()
}

fn solver(channel: Channel) -> v1::solver_service_client::SolverServiceClient<Channel> {
    v1::solver_service_client::SolverServiceClient::new(channel)
        .max_decoding_message_size(ANSWER_BYTES)
}

/// Stresses of all designs, in order.
async fn all(
    solver: &mut v1::solver_service_client::SolverServiceClient<Channel>,
    request: v1::SolveFrameDesignsRequest,
) -> Vec<f64> {
    let mut stream = solver.solve_frame_designs(request).await.unwrap().into_inner();
    let mut stresses = Vec::new();
    while let Some(block) = stream.message().await.unwrap() {
        stresses.extend(block.worst_stress_mpa);
    }
    stresses
}

/// Wall and CPU times.
#[derive(Default)]
struct Times {
    wall: Vec<f64>,
    cpu: Vec<f64>,
}

impl Times {
    async fn add<T>(&mut self, work: impl Future<Output = T>) -> T {
        let (clock, cpu) = (Instant::now(), cpu());
        let made = work.await;
        self.wall.push(clock.elapsed().as_secs_f64() * 1e6);
        self.cpu.push(self::cpu() - cpu);
        made
    }

    fn tell(&self, name: &str, each: usize) {
        let part = |times: &[f64], part: usize| {
            let mut sorted = times.to_vec();
            sorted.sort_by(f64::total_cmp);
            sorted[(sorted.len() - 1) * part / 100] / each as f64
        };
        println!(
            "{name}: wall median {:.2}, 99th of 100 {:.2}; CPU median {:.2}",
            part(&self.wall, 50),
            part(&self.wall, 99),
            part(&self.cpu, 50)
        );
    }
}

fn cpu() -> f64 {
    let now = clock_gettime(ClockId::ProcessCPUTime);
    now.tv_sec as f64 * 1e6 + now.tv_nsec as f64 * 1e-3
}

/// A lattice of 24 nodes, four clamped, 60 members of three kinds, 12 load cases.
fn structure() -> v1::SolveStructureRequest {
    let mut made = v1::SolveStructureRequest { materials: vec![steel()], ..Default::default() };
    let name = |x: usize, y: usize, z: usize| format!("{x}{y}{z}");
    let mut join = |a: String, b: String| {
        let count = made.beams.len();
        if count < 60 {
            made.beams.push(v1::Beam {
                id: format!("{count}"),
                start_node_id: a,
                end_node_id: b,
                section_id: format!("{}", count % KINDS),
                material_id: "steel".to_owned(),
                ..Default::default()
            });
        }
    };
    for x in 0..4 {
        for y in 0..3 {
            for z in 0..2 {
                let next = [(x + 1, y, z), (x, y + 1, z), (x, y, z + 1)];
                for (i, j, k) in next.into_iter().filter(|&(x, y, z)| x < 4 && y < 3 && z < 2) {
                    join(name(x, y, z), name(i, j, k));
                }
            }
        }
    }
    for x in 0..3 {
        for y in 0..3 {
            join(name(x, y, 0), name(x + 1, y, 1));
        }
        for y in 0..2 {
            join(name(x, y, 0), name(x + 1, y + 1, 0));
        }
    }
    for x in 0..4 {
        for y in 0..3 {
            for z in 0..2 {
                let [x_mm, y_mm, z_mm] =
                    [(x, STEPS[0]), (y, STEPS[1]), (z, STEPS[2])].map(|(i, step)| i as f64 * step);
                let position = Some(v1::Position { x_mm, y_mm, z_mm });
                made.nodes.push(v1::Node { id: name(x, y, z), position });
            }
        }
    }
    for place in ["001", "021", "301", "321"] {
        made.supports.push(clamped(place));
    }
    for kind in 0..KINDS {
        let [side, wall] = [[40.0, 2.0], [50.0, 3.0], [60.0, 3.0]][kind];
        let shape = v1::section_shape::Shape::RoundTube(v1::RoundTubeShape {
            diameter_mm: side,
            thickness_mm: wall,
            ..Default::default()
        });
        let shape = v1::SectionShape { shape: Some(shape) };
        made.sections.push(v1::Section {
            id: format!("{kind}"),
            definition: Some(v1::section::Definition::Shape(shape)),
            rigid_in_shear: true,
            ..Default::default()
        });
    }
    for case in 0..12 {
        let node_id = name(case % 4, 1, case % 2);
        let [force_x_n, force_y_n, force_z_n] = [0, 1, 2].map(|i| 500.0 * ((case + i) % 5) as f64);
        let load = Some(v1::Wrench { force_x_n, force_y_n, force_z_n, ..Default::default() });
        made.load_cases.push(v1::StructureLoadCase {
            id: format!("{case}"),
            nodal_loads: vec![v1::NodalLoad { node_id, load }],
            ..Default::default()
        });
    }
    made
}

fn steel() -> v1::Material {
    v1::Material {
        id: "steel".to_owned(),
        youngs_modulus_mpa: 210_000.0,
        shear_modulus_mpa: 81_000.0,
        density_kg_per_m3: 7850.0,
        expansion_per_k: 12e-6,
    }
}

fn clamped(node: &str) -> v1::Support {
    let held = v1::SupportAction::Held.into();
    v1::Support {
        node_id: node.to_owned(),
        move_x: held,
        move_y: held,
        move_z: held,
        turn_x: true,
        turn_y: true,
        turn_z: true,
    }
}

/// Area, inertias, torsion constant and moduli of each kind of tube of so many designs.
fn request(designs: usize) -> v1::SolveFrameDesignsRequest {
    let properties =
        [Property::AreaMm2, Property::IYMm4, Property::IZMm4, Property::TorsionConstantMm4];
    let varied = (0..KINDS).flat_map(|kind| {
        properties
            .map(|property| v1::VariedNumber { id: kind.to_string(), property: property.into() })
    });
    let values = (0..designs * KINDS).flat_map(|i| {
        let s = 1.0 + 0.3 * ((i * 7919) % 1000) as f64 / 1000.0;
        [300.0 * s, 4e4 * s, 4e4 * s, 8e4 * s]
    });
    v1::SolveFrameDesignsRequest {
        structure: Some(structure()),
        varied: varied.collect(),
        values: values.collect(),
        ..Default::default()
    }
}

fn in_si(values: &[f64]) -> Vec<f64> {
    values
        .chunks_exact(4)
        .flat_map(|v| [v[0] * 1e-6, v[1] * 1e-12, v[2] * 1e-12, v[3] * 1e-12])
        .collect()
}

/// The same frame for the engine.
fn model() -> fishplate_solver::FrameModel {
    let given = structure();
    let place =
        |id: &str| model::NodeId(given.nodes.iter().position(|node| node.id == id).unwrap());
    let mut draft = model::FrameDraft::default();
    for node in &given.nodes {
        let at = node.position.unwrap();
        draft.nodes.push(model::Node { position: [at.x_mm, at.y_mm, at.z_mm].map(|v| v * 1e-3) });
    }
    for _ in 0..KINDS {
        draft.sections.push(model::BeamSection {
            area: 3e-4,
            i_y: 4e-8,
            i_z: 4e-8,
            i_yz: 0.0,
            torsion_constant: 8e-8,
            shear_area_y: None,
            shear_area_z: None,
            shear_centre_y: 0.0,
            shear_centre_z: 0.0,
            stress_points: Vec::new(),
            torsion_modulus: None,
        });
    }
    draft.materials.push(model::Material {
        youngs_modulus: 210e9,
        shear_modulus: 81e9,
        density: 7850.0,
        thermal_expansion: 12e-6,
    });
    for beam in &given.beams {
        draft.beams.push(model::Beam::between(
            place(&beam.start_node_id),
            place(&beam.end_node_id),
            model::SectionId(beam.section_id.parse().unwrap()),
            model::MaterialId(0),
            model::Orientation::Roll(0.0),
        ));
    }
    for support in &given.supports {
        draft.supports.push(model::Support {
            node: place(&support.node_id),
            axes: model::GLOBAL_AXES,
            dofs: [model::Restraint::Fixed; 6],
        });
    }
    for case in &given.load_cases {
        let load = &case.nodal_loads[0];
        let w = load.load.unwrap();
        let force = [w.force_x_n, w.force_y_n, w.force_z_n];
        draft.load_cases.push(model::LoadCase {
            nodal: vec![model::NodalLoad { node: place(&load.node_id), force, moment: [0.0; 3] }],
            ..model::LoadCase::default()
        });
    }
    draft.validate().unwrap()
}

fn batch(model: &fishplate_solver::FrameModel) -> FrameBatch {
    let properties = [
        SectionProperty::Area,
        SectionProperty::InertiaY,
        SectionProperty::InertiaZ,
        SectionProperty::TorsionConstant,
    ];
    let moduli = [[40.0_f64, 2.0], [50.0, 3.0], [60.0, 3.0]].map(|[outer, wall]| {
        // Round tube: pi / 64 (D^4 - d^4) over D / 2.
        let inner = outer - 2.0 * wall;
        let bending = std::f64::consts::PI / 32.0 * (outer.powi(4) - inner.powi(4)) / outer * 1e-9;
        Moduli { bending_y: bending, bending_z: bending, torsion: 2.0 * bending }
    });
    let varied = (0..KINDS).flat_map(|kind| {
        properties
            .map(|property| Varied::Section(fishplate_solver::model::SectionId(kind), property))
    });
    let asked = BatchAsked {
        varied: varied.collect(),
        moduli: moduli.to_vec(),
        displacements: Vec::new(),
        end_forces: false,
    };
    FrameBatch::new(model, asked).unwrap()
}

/// A bar, clamped and pushed.
fn cantilever() -> v1::SolveStructureRequest {
    let mut made = structure();
    made.nodes.truncate(8);
    made.beams.retain(|beam| {
        let known = |id: &str| made.nodes.iter().any(|node| node.id == id);
        known(&beam.start_node_id) && known(&beam.end_node_id)
    });
    made.supports.truncate(2);
    made.load_cases.truncate(1);
    made
}
