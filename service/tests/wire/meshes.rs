//! Meshes of plates over the wire: in their place, by their names, or refused by them.

use fishplate_proto::v1;
use tonic::Code;
use tonic_types::StatusExt;

use crate::solver;

fn at(x_mm: f64, y_mm: f64) -> v1::PlanePoint {
    v1::PlanePoint { x_mm, y_mm }
}

fn edge(name: &str, x_mm: f64, y_mm: f64) -> v1::OutlineEdge {
    v1::OutlineEdge { name: name.to_owned(), start: Some(at(x_mm, y_mm)), course: None }
}

fn bolt_hole(x_mm: f64, diameter_mm: f64) -> v1::OutlineHole {
    let round = v1::RoundHole { centre: Some(at(x_mm, 40.0)), diameter_mm };
    v1::OutlineHole { name: "bolt".to_owned(), shape: Some(v1::outline_hole::Shape::Round(round)) }
}

/// 100 x 80 mm.
fn tab(holes: Vec<v1::OutlineHole>) -> v1::MeshPlateRequest {
    let edges = vec![
        edge("bottom", 0.0, 0.0),
        edge("right", 100.0, 0.0),
        edge("top", 100.0, 80.0),
        edge("left", 0.0, 80.0),
    ];
    v1::MeshPlateRequest {
        outline: Some(v1::PlateOutline {
            name: "tab".to_owned(),
            edges,
            holes,
            ..Default::default()
        }),
        sizing: Some(v1::MeshSizing { target_mm: 8.0, ..Default::default() }),
        node_prefix: "tab-".to_owned(),
        ..Default::default()
    }
}

fn place(mesh: &v1::MeshPlateResponse, name: &str) -> [f64; 3] {
    let node = mesh.nodes.iter().find(|node| node.id == name).unwrap();
    let at = node.position.unwrap();
    [at.x_mm, at.y_mm, at.z_mm]
}

/// Area of an element, mm², as a vector out of its top.
fn area(mesh: &v1::MeshPlateResponse, element: &v1::PlateElement) -> [f64; 3] {
    let corners: Vec<[f64; 3]> = element.node_ids.iter().map(|id| place(mesh, id)).collect();
    let mut sum = [0.0; 3];
    for k in 0..corners.len() {
        let (a, b) = (corners[k], corners[(k + 1) % corners.len()]);
        let cross = [0, 1, 2].map(|i| {
            let (j, l) = ((i + 1) % 3, (i + 2) % 3);
            a[j] * b[l] - a[l] * b[j]
        });
        sum = [0, 1, 2].map(|i| sum[i] + 0.5 * cross[i]);
    }
    sum
}

// Area of a rectangle less that of the polygon in its round hole: n/2 r² sin(2 pi/n).
#[tokio::test]
async fn a_plate_lies_in_its_plane_with_its_top_up() {
    let mut request = tab(vec![bolt_hole(50.0, 20.0)]);
    request.plane = Some(v1::PlatePlane {
        origin: Some(v1::Position { x_mm: 5.0, y_mm: 6.0, z_mm: 7.0 }),
        x_axis: Some(v1::Vector { x: 0.0, y: 2.0, z: 0.0 }),
        y_direction: Some(v1::Vector { x: 0.0, y: 1.0, z: 1.0 }),
    });
    let mesh = solver().await.mesh_plate(request).await.unwrap().into_inner();
    let rim = mesh.marks.iter().find(|mark| mark.name == "bolt").unwrap();
    assert!(rim.closed && rim.node_ids.len() >= 16);
    for id in &rim.node_ids {
        // The hole's centre stands at x 50, y 40: 50 along global y, 40 along global z.
        let [x, y, z] = place(&mesh, id);
        let radius = (y - 56.0).hypot(z - 47.0);
        assert!((x - 5.0).abs() < 1e-9 && (radius - 10.0).abs() < 1e-9, "{id} at {x}, {y}, {z}");
    }
    let total = mesh.elements.iter().fold([0.0; 3], |sum, element| {
        let own = area(&mesh, element);
        [0, 1, 2].map(|i| sum[i] + own[i])
    });
    // x, y of the outline along global y, z: its top looks along global x.
    #[allow(clippy::cast_precision_loss)]
    let n = rim.node_ids.len() as f64;
    let hole = 0.5 * n * 100.0 * (2.0 * std::f64::consts::PI / n).sin();
    assert!((total[0] - (8000.0 - hole)).abs() < 1e-6, "{total:?}");
    assert!(total[1].abs() < 1e-9 && total[2].abs() < 1e-9);
    let quality = mesh.quality.unwrap();
    assert!(quality.least_angle_deg > 30.0 && quality.largest_angle_deg < 150.0, "{quality:?}");
}

async fn refused(request: v1::MeshPlateRequest) -> (String, String) {
    let status = solver().await.mesh_plate(request).await.unwrap_err();
    assert_eq!(status.code(), Code::InvalidArgument, "{status:?}");
    let details = status.get_error_details();
    let told = &details.bad_request().unwrap().field_violations[0];
    (told.field.clone(), told.description.clone())
}

#[tokio::test]
async fn what_cannot_be_meshed_is_told_by_its_field_and_its_name() {
    let (field, told) = refused(v1::MeshPlateRequest::default()).await;
    assert_eq!((field.as_str(), told.contains("required")), ("outline", true));
    let (field, told) = refused(tab(vec![bolt_hole(95.0, 20.0)])).await;
    assert_eq!(field, "outline.holes[0]");
    assert!(told.contains("hole `bolt`") && told.contains("edge `right`"), "{told}");
    assert!(told.contains("mm"), "{told}");
    let mut crossed = tab(vec![]);
    crossed.outline.as_mut().unwrap().edges.swap(2, 3);
    let (field, told) = refused(crossed).await;
    assert!(field.starts_with("outline.edges["), "{field}");
    assert!(told.contains("edge `") && told.contains("cross"), "{told}");
    let mut fine = tab(vec![]);
    fine.sizing.as_mut().unwrap().target_mm = 0.1;
    let (field, told) = refused(fine).await;
    assert_eq!(field, "sizing.target_mm");
    assert!(told.contains("50000") && told.contains("larger sizes"), "{told}");
    let mut twice = tab(vec![]);
    twice.outline.as_mut().unwrap().edges[2].name = "bottom".to_owned();
    let (field, told) = refused(twice).await;
    assert_eq!(field, "outline.edges[2].name");
    assert!(told.contains("`bottom`"), "{told}");
    let mut negative = tab(vec![]);
    negative.sizing.as_mut().unwrap().target_mm = -8.0;
    let (field, told) = refused(negative).await;
    assert_eq!(field, "sizing.target_mm");
    assert!(told.contains("-8 mm"), "{told}");
}
