//! Buckling and natural frequencies: A11 to A13.

use fishplate_proto::v1;
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::{Structure, at_node, load_case, nodal, values};

use crate::frames::{DATA, down};

const O: [f64; 3] = [0.0; 3];

fn lowest(structure: Structure) -> f64 {
    let mut structure = structure;
    structure.0.buckling = Some(v1::BucklingRequest {
        load_case_id: "LC".to_owned(),
        mode_count: 1,
        elements_per_member: 8,
    });
    structure.solved().0.buckling_modes[0].load_factor
}

fn a11() -> Vec<Line> {
    let column = |foot: &str, head: &str| {
        let structure = Structure::default()
            .steel_section(values(400.0, 8e4, 8e4, 1.6e5))
            .node("1", O)
            .node("2", [2000.0, 0.0, 0.0])
            .beam("b", "1", "2")
            .hold("1", foot)
            .case(at_node("LC", "2", [-1.0, 0.0, 0.0], O));
        lowest(if head.is_empty() { structure } else { structure.hold("2", head) })
    };
    let mut sheet = Sheet::of(DATA, "A11");
    sheet.got("P_cr pinned-pinned (root 3.141592654)", column("xyzX", "yz"));
    sheet.got("P_cr fixed-free (root 1.570796327)", column("xyzXYZ", ""));
    sheet.got("P_cr fixed-fixed (root 6.283185307)", column("xyzXYZ", "yzXYZ"));
    sheet.got("P_cr fixed-pinned (root 4.493409458)", column("xyzXYZ", "yz"));
    sheet.lines()
}

fn a12() -> Vec<Line> {
    // Axially rigid, and so stiff across the plane that only the sway in it is left.
    let portal = |feet: &str| {
        lowest(
            Structure::default()
                .steel_section(values(1e6, 1.5e7, 1.5e10, 1e10))
                .section("beam", values(1e6, 2.4e7, 2.4e10, 1e10))
                .node("A", O)
                .node("B", [0.0, 0.0, 2500.0])
                .node("C", [4000.0, 0.0, 2500.0])
                .node("D", [4000.0, 0.0, 0.0])
                .beam("left", "A", "B")
                .member("top", "B", "C", "beam", "m")
                .beam("right", "D", "C")
                .hold("A", feet)
                .hold("D", feet)
                .hold("B", "yXZ")
                .hold("C", "yXZ")
                .case(v1::StructureLoadCase {
                    nodal_loads: vec![nodal("B", down(1.0), O), nodal("C", down(1.0), O)],
                    ..load_case("LC")
                }),
        )
    };
    let mut sheet = Sheet::of(DATA, "A12");
    sheet.got("P_cr per column, pinned feet (kh tan kh = 6r)", portal("xyzXZ"));
    sheet.got("P_cr per column, fixed feet (kh cot kh = -6r)", portal("xyzXYZ"));
    sheet.lines()
}

/// Frequencies of a bar 20 x 30, L 1000, in ten members: those that move along z, and along y.
fn frequencies(first: &str, last: &str) -> (Vec<f64>, Vec<f64>) {
    let rectangle = values(600.0, 20.0 * 27_000.0 / 12.0, 30.0 * 8000.0 / 12.0, 5e4);
    let mut structure = Structure::default().steel_section(rectangle).node("0", O);
    for place in 1..=10_u32 {
        let id = place.to_string();
        structure = structure.node(&id, [100.0 * f64::from(place), 0.0, 0.0]).beam(
            &id,
            &(place - 1).to_string(),
            &id,
        );
    }
    structure = structure.hold("0", first);
    if !last.is_empty() {
        structure = structure.hold("10", last);
    }
    structure.0.frequencies =
        Some(v1::FrequencyRequest { mode_count: 7, elements_per_member: 1, rotary_inertia: false });
    let (mut up, mut across) = (Vec::new(), Vec::new());
    for mode in structure.solved().0.vibration_modes {
        let sum = |along: fn(&v1::NodeMovement) -> f64| {
            mode.shape.iter().map(|m| along(m).abs()).sum::<f64>()
        };
        let [x, y, z] = [sum(|m| m.move_x_mm), sum(|m| m.move_y_mm), sum(|m| m.move_z_mm)];
        if z > x && z > y {
            up.push(mode.frequency_hz);
        } else if y > x {
            across.push(mode.frequency_hz);
        }
    }
    (up, across)
}

fn a13() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "A13");
    let (up, across) = frequencies("xyzXYZ", "");
    for (place, frequency) in up.iter().take(3).enumerate() {
        let quantity = format!("cantilever f{} (bending about y, 30 mm deep)", place + 1);
        sheet.got(&quantity, *frequency);
    }
    sheet.got("cantilever f1 about z (20 mm deep)", across[0]);
    let (up, _) = frequencies("xyzX", "yz");
    for (place, frequency) in up.iter().take(3).enumerate() {
        sheet.got(&format!("simply supported f{} (about y)", place + 1), *frequency);
    }
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    [a11, a12, a13].iter().flat_map(|case| case()).collect()
}

#[test]
fn columns_portals_and_bars_buckle_and_ring_as_published() {
    assert_close(&lines());
}
