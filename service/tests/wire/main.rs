//! The server over its wire. One binary, so that the transport is linked once.

#![allow(clippy::unwrap_used, reason = "helpers of tests fail like tests")]

mod behaviour;
mod designs;
mod meshes;
mod plates;
mod projects;
mod refusals;
mod strength;
mod structures;

use fishplate_proto::v1;
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::{ANSWER_BYTES, Limits};
use fishplate_service::server::Server;
use tonic::transport::Channel;

/// A solver client on a server of its own.
async fn solver() -> v1::solver_service_client::SolverServiceClient<Channel> {
    solver_on(connect_to(Server::new(Limits::in_process())).await.unwrap())
}

fn solver_on(channel: Channel) -> v1::solver_service_client::SolverServiceClient<Channel> {
    v1::solver_service_client::SolverServiceClient::new(channel)
        .max_decoding_message_size(ANSWER_BYTES)
}

fn node(id: &str, x_mm: f64, y_mm: f64, z_mm: f64) -> v1::Node {
    v1::Node { id: id.to_owned(), position: Some(v1::Position { x_mm, y_mm, z_mm }) }
}

/// A 40 x 30 mm bar.
fn bar(id: &str) -> v1::Section {
    let rectangle = v1::RectangleShape { height_mm: 40.0, width_mm: 30.0 };
    let shape = v1::SectionShape { shape: Some(v1::section_shape::Shape::Rectangle(rectangle)) };
    v1::Section {
        id: id.to_owned(),
        definition: Some(v1::section::Definition::Shape(shape)),
        ..Default::default()
    }
}

fn steel(id: &str) -> v1::Material {
    v1::Material {
        id: id.to_owned(),
        youngs_modulus_mpa: 210_000.0,
        shear_modulus_mpa: 81_000.0,
        density_kg_per_m3: 7850.0,
        expansion_per_k: 12e-6,
    }
}

fn beam(id: &str, start: &str, end: &str) -> v1::Beam {
    v1::Beam {
        id: id.to_owned(),
        start_node_id: start.to_owned(),
        end_node_id: end.to_owned(),
        section_id: "bar".to_owned(),
        material_id: "steel".to_owned(),
        ..Default::default()
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

fn pushed(id: &str, node: &str, force_z_n: f64) -> v1::StructureLoadCase {
    let load = Some(v1::Wrench { force_z_n, ..Default::default() });
    v1::StructureLoadCase {
        id: id.to_owned(),
        nodal_loads: vec![v1::NodalLoad { node_id: node.to_owned(), load }],
        ..Default::default()
    }
}

/// A bar of 1 m along x, clamped at `a`, pushed up at `b` with 300 N.
fn cantilever() -> v1::SolveStructureRequest {
    v1::SolveStructureRequest {
        nodes: vec![node("a", 0.0, 0.0, 0.0), node("b", 1000.0, 0.0, 0.0)],
        sections: vec![bar("bar")],
        materials: vec![steel("steel")],
        beams: vec![beam("m", "a", "b")],
        supports: vec![clamped("a")],
        load_cases: vec![pushed("push", "b", 300.0)],
        ..Default::default()
    }
}

/// A grid of `side` x `side` nodes at 100 mm, clamped in one corner, with many load cases: long
/// enough to be stopped on the way.
fn large(side: usize, cases: usize) -> v1::SolveStructureRequest {
    let name = |i: usize, j: usize| format!("{i}-{j}");
    let mut request = v1::SolveStructureRequest {
        sections: vec![bar("bar")],
        materials: vec![steel("steel")],
        supports: vec![clamped("0-0")],
        ..Default::default()
    };
    for i in 0..side {
        for j in 0..side {
            // Coordinates of a test grid are far below what an f64 counts exactly.
            #[allow(clippy::cast_precision_loss)]
            let (x, y) = (100.0 * i as f64, 100.0 * j as f64);
            request.nodes.push(node(&name(i, j), x, y, 0.0));
            if i > 0 {
                let id = format!("x{i}-{j}");
                request.beams.push(beam(&id, &name(i - 1, j), &name(i, j)));
            }
            if j > 0 {
                let id = format!("y{i}-{j}");
                request.beams.push(beam(&id, &name(i, j - 1), &name(i, j)));
            }
        }
    }
    let far = name(side - 1, side - 1);
    request.load_cases = (0..cases).map(|k| pushed(&format!("case {k}"), &far, 1.0)).collect();
    request
}
