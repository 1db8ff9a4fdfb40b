//! Designs of one frame over the wire: units against closed forms, blocks, refusals of a request and
//! of a design, a caller who hangs up.

use fishplate_proto::v1;
use fishplate_proto::v1::{FrameDesignsDetail as Detail, VariedProperty as Property};
use fishplate_service::in_process::connect_to;
use fishplate_service::limits::Limits;
use fishplate_service::server::Server;
use tokio_stream::StreamExt;
use tonic::{Code, Status};
use tonic_types::StatusExt;

use crate::{cantilever, solver, solver_on};

fn varied(id: &str, property: Property) -> v1::VariedNumber {
    v1::VariedNumber { id: id.to_owned(), property: property.into() }
}

/// The cantilever with other inertia, modulus, steel and area about y, so many designs.
fn request(designs: u32) -> v1::SolveFrameDesignsRequest {
    let mut structure = cantilever();
    structure.sections[0].rigid_in_shear = true;
    v1::SolveFrameDesignsRequest {
        structure: Some(structure),
        varied: vec![
            varied("bar", Property::IYMm4),
            varied("bar", Property::WElYMm3),
            varied("steel", Property::YoungsModulusMpa),
        ],
        values: (1..=designs)
            .flat_map(|i| {
                let s = f64::from(i);
                [1e4 * s, 500.0 * s, 70_000.0 + s]
            })
            .collect(),
        detail: Detail::Worst.into(),
        movement_node_ids: Vec::new(),
    }
}

async fn blocks(
    request: v1::SolveFrameDesignsRequest,
) -> Result<Vec<v1::SolveFrameDesignsResponse>, Status> {
    let mut stream = solver().await.solve_frame_designs(request).await?.into_inner();
    let mut blocks = Vec::new();
    while let Some(block) = stream.next().await {
        blocks.push(block?);
    }
    Ok(blocks)
}

fn close(got: f64, expected: f64) {
    assert!((got - expected).abs() <= 1e-9 * expected.abs(), "{got} against {expected}");
}

// Closed forms of the cantilever, any textbook of strength of materials: M = P L, sigma = M / W,
// P L^3 / 3 E I, P L^2 / 2 E I.
#[tokio::test]
async fn stress_movements_and_forces_in_the_units_of_the_wire() {
    let mut asked = request(9);
    asked.detail = Detail::EndForces.into();
    asked.movement_node_ids = vec!["b".to_owned()];
    let values = asked.values.clone();
    let blocks = blocks(asked).await.unwrap();
    assert_eq!(blocks.len(), 1);
    let block = &blocks[0];
    assert_eq!((block.first_design, block.design_count), (0, 9));
    assert!(block.refused.is_empty() && block.worst_cases.is_empty());
    assert!(block.largest_residual < 1e-13);
    for (design, numbers) in values.chunks_exact(3).enumerate() {
        let [inertia, modulus, e] = [numbers[0], numbers[1], numbers[2]];
        close(block.worst_stress_mpa[design], 300.0 * 1000.0 / modulus);
        // The first member's start.
        assert_eq!(block.worst_member_ends[design], 0);
        let moved = &block.movements_mm_rad[6 * design..6 * (design + 1)];
        close(moved[2], 300.0 * 1e9 / (3.0 * e * inertia));
        // Right-handed about y, up at the tip turns x toward z: negative.
        close(moved[4], -300.0 * 1e6 / (2.0 * e * inertia));
        let forces = &block.end_forces_n_nmm[12 * design..12 * (design + 1)];
        close(forces[2], -300.0);
        close(forces[4], 300_000.0);
        close(forces[8], 300.0);
        assert!(forces[10].abs() < 1e-6, "no moment at the free end");
    }
}

#[tokio::test]
async fn many_designs_come_in_blocks_in_their_order_and_only_the_worst_case_is_told() {
    let mut asked = request(5000);
    let structure = asked.structure.as_mut().unwrap();
    structure.load_cases.push(crate::pushed("harder", "b", -450.0));
    let values = asked.values.clone();
    let blocks = blocks(asked).await.unwrap();
    assert!(blocks.len() > 1);
    let mut next = 0;
    for block in &blocks {
        assert_eq!(block.first_design, next);
        next += block.design_count;
        let count = usize::try_from(block.design_count).unwrap();
        assert_eq!(block.worst_stress_mpa.len(), count);
        assert_eq!(block.worst_cases, vec![1; count]);
    }
    assert_eq!(next, 5000);
    let stresses = blocks.iter().flat_map(|block| &block.worst_stress_mpa);
    for (stress, numbers) in stresses.zip(values.chunks_exact(3)) {
        close(*stress, 450.0 * 1000.0 / numbers[1]);
    }
}

#[tokio::test]
async fn a_design_that_moves_freely_is_refused_by_itself() {
    let mut asked = request(2);
    let structure = asked.structure.as_mut().unwrap();
    structure.supports.clear();
    structure.springs.push(v1::Spring {
        id: "bush".to_owned(),
        node_a_id: "a".to_owned(),
        move_x_n_per_mm: 1e3,
        move_y_n_per_mm: 1e3,
        move_z_n_per_mm: 1e3,
        turn_x_nmm_per_rad: 1e8,
        turn_y_nmm_per_rad: 1e8,
        turn_z_nmm_per_rad: 1e8,
        ..Default::default()
    });
    asked.varied.push(varied("bush", Property::MoveYNPerMm));
    let mut values: Vec<f64> = Vec::new();
    for (index, numbers) in asked.values.chunks_exact(3).enumerate() {
        values.extend(numbers);
        values.push([1e3, 0.0][index]);
    }
    asked.values = values;
    let blocks = blocks(asked).await.unwrap();
    let [block] = blocks.as_slice() else { panic!("{blocks:?}") };
    let [refused] = block.refused.as_slice() else { panic!("{block:?}") };
    assert_eq!((refused.design, refused.reason.as_str()), (1, "MECHANISM"));
    assert_eq!(refused.direction, "translation y");
    assert!(["a", "b"].contains(&refused.node_id.as_str()), "{refused:?}");
    assert!(block.worst_stress_mpa[1].is_nan());
    close(block.worst_stress_mpa[0], 300.0 * 1000.0 / 500.0);
}

#[tokio::test]
async fn all_that_cannot_be_used_is_told_by_its_path() {
    let mut asked = request(3);
    let structure = asked.structure.as_mut().unwrap();
    structure.beams[0].end_release = Some(v1::Release { turn_y: true, ..Default::default() });
    structure.load_cases[0].field_g = Some(v1::Vector { x: 0.0, y: 0.0, z: -1.0 });
    structure.frequencies = Some(v1::FrequencyRequest { mode_count: 2, ..Default::default() });
    let paths = |status: &Status| -> Vec<String> {
        let details = status.get_error_details();
        let told = &details.bad_request().unwrap().field_violations;
        told.iter().map(|violation| violation.field.clone()).collect()
    };
    let status = blocks(asked).await.unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument);
    let mut told = paths(&status);
    told.sort();
    assert_eq!(
        told,
        [
            "structure.beams[0].end_release.turn_y",
            "structure.frequencies",
            "structure.load_cases[0].field_g",
        ]
    );
    let mut asked = request(3);
    asked.varied[1] = varied("bare", Property::WElYMm3);
    asked.varied[2].property = Property::Unspecified.into();
    asked.movement_node_ids = vec!["nowhere".to_owned()];
    let mut told = paths(&blocks(asked).await.unwrap_err());
    told.sort();
    assert_eq!(told, ["movement_node_ids[0]", "varied[1].id", "varied[2].property"]);
    let mut asked = request(3);
    asked.values[4] = -500.0;
    asked.values[7] = 0.0;
    let status = blocks(asked.clone()).await.unwrap_err();
    assert_eq!(paths(&status), ["values[4]", "values[7]"]);
    assert!(status.message().contains("given -500"), "{}", status.message());
    asked.values.truncate(5);
    assert_eq!(paths(&blocks(asked.clone()).await.unwrap_err()), ["values"]);
    asked.values.clear();
    assert_eq!(paths(&blocks(asked.clone()).await.unwrap_err()), ["values"]);
    asked.values = vec![1e4, f64::NAN, 7e4];
    assert_eq!(paths(&blocks(asked.clone()).await.unwrap_err()), ["values[1]"]);
    asked.structure = None;
    assert!(paths(&blocks(asked).await.unwrap_err()).contains(&"structure".to_owned()));
}

#[tokio::test]
async fn a_section_without_moduli_needs_them_from_every_design() {
    let values = v1::SectionValues {
        area_mm2: 1200.0,
        i_y_mm4: 160_000.0,
        i_z_mm4: 90_000.0,
        torsion_constant_mm4: 190_000.0,
        ..Default::default()
    };
    let mut asked = request(2);
    let structure = asked.structure.as_mut().unwrap();
    structure.sections[0].definition = Some(v1::section::Definition::Values(values));
    let status = blocks(asked.clone()).await.unwrap_err();
    assert!(status.message().contains("structure.sections[0]"), "{}", status.message());
    asked.varied.push(varied("bar", Property::WElZMm3));
    asked.varied.push(varied("bar", Property::TorsionModulusMm3));
    asked.values =
        asked.values.chunks_exact(3).flat_map(|n| [n[0], n[1], n[2], 6e3, 7e3]).collect();
    let blocks = blocks(asked).await.unwrap();
    close(blocks[0].worst_stress_mpa[1], 300.0 * 1000.0 / 1000.0);
}

#[tokio::test]
async fn a_caller_who_hangs_up_frees_the_slot() {
    let limits = Limits { slots: 1, queue: 0, ..Limits::in_process() };
    let mut solver = solver_on(connect_to(Server::new(limits)).await.unwrap());
    let mut stream = solver.solve_frame_designs(request(100_000)).await.unwrap().into_inner();
    assert!(stream.next().await.unwrap().is_ok());
    drop(stream);
    // Turned away only while the first call still computes.
    loop {
        match solver.solve_structure(cantilever()).await {
            Ok(_) => break,
            Err(status) => assert_eq!(status.code(), Code::ResourceExhausted),
        }
        tokio::task::yield_now().await;
    }
}
