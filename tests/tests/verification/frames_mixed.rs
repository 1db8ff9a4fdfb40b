//! Frames with temperature, forced movements, offsets and a curve: A14 to A16.

use fishplate_proto::v1;
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::{Structure, at_node, load_case, position, steel, values};

use crate::frames::{DATA, down, tube};

const O: [f64; 3] = [0.0; 3];

fn warmed(id: &str, loads: &[(&str, f64, f64)]) -> v1::StructureLoadCase {
    let load = |(beam, change, gradient): &(&str, f64, f64)| v1::ThermalLoad {
        beam_id: (*beam).to_owned(),
        change_k: *change,
        gradient_z_k_per_mm: *gradient,
        ..Default::default()
    };
    v1::StructureLoadCase { thermal_loads: loads.iter().map(load).collect(), ..load_case(id) }
}

fn forced(id: &str, movement: v1::PrescribedMovement) -> v1::StructureLoadCase {
    let movement = v1::PrescribedMovement { node_id: "2".to_owned(), ..movement };
    v1::StructureLoadCase { prescribed: vec![movement], ..load_case(id) }
}

fn a14() -> Vec<Line> {
    let corner = v1::StressPoint { name: "centre".to_owned(), ..Default::default() };
    let bar = v1::SectionValues { stress_points: vec![corner], ..values(500.0, 4e5, 4e5, 8e5) };
    let clamped = Structure::default()
        .steel_section(bar)
        .node("1", O)
        .node("2", [1500.0, 0.0, 0.0])
        .beam("b", "1", "2")
        .fix("1")
        .fix("2")
        .case(warmed("LC1", &[("b", 40.0, 0.0)]))
        // 30 K over a depth of 60 mm, top hotter.
        .case(warmed("LC3", &[("b", 0.0, 0.5)]))
        .case(forced("LC4", v1::PrescribedMovement { move_z_mm: Some(-2.0), ..Default::default() }))
        .case(forced(
            "LC5",
            v1::PrescribedMovement { turn_y_rad: Some(0.003), ..Default::default() },
        ))
        .stations(&[0.5])
        .solved();
    let light = v1::Material {
        youngs_modulus_mpa: 70_000.0,
        shear_modulus_mpa: 27_000.0,
        expansion_per_k: 2.3e-5,
        ..steel("light")
    };
    let two_bars = Structure::default()
        .steel_section(values(500.0, 4e5, 4e5, 8e5))
        .section("thick", values(900.0, 4e5, 4e5, 8e5))
        .material(light)
        .node("1", O)
        .node("2", [800.0, 0.0, 0.0])
        .node("3", [1500.0, 0.0, 0.0])
        .beam("a", "1", "2")
        .member("b", "2", "3", "thick", "light")
        .fix("1")
        .fix("3")
        .case(warmed("LC2", &[("a", 40.0, 0.0), ("b", 40.0, 0.0)]))
        .solved();
    let mut sheet = Sheet::of(DATA, "A14");
    let one = clamped.case("LC1").station("b", 0.5);
    sheet.got("LC1 axial force N", one.normal_n);
    sheet.got("LC1 stress", one.stresses[0].normal_mpa);
    let two = two_bars.case("LC2");
    sheet.got("LC2 N", two.station("b", 0.0).normal_n);
    sheet.got("LC2 ux of joint", two.moved("2").move_x_mm);
    sheet.got("LC3 |M| constant", clamped.case("LC3").station("b", 0.5).moment_y_nmm.abs());
    let four = clamped.case("LC4");
    sheet.got("LC4 |M| both ends", four.reaction("1").moment_y_nmm.abs());
    sheet.got("LC4 |V|", four.reaction("1").force_z_n.abs());
    let five = clamped.case("LC5");
    sheet.got("LC5 |M_B| (near)", five.reaction("2").moment_y_nmm.abs());
    sheet.got("LC5 |M_A| (far)", five.reaction("1").moment_y_nmm.abs());
    sheet.got("LC5 |V|", five.reaction("1").force_z_n.abs());
    sheet.lines()
}

fn a15() -> Vec<Line> {
    let plain = || {
        Structure::default()
            .steel_section(values(700.0, 3e5, 3e5, 6e5))
            .node("1", O)
            .node("2", [600.0, 0.0, 0.0])
            .beam("b", "1", "2")
            .fix("1")
    };
    let linked = plain()
        .node("C", [600.0, 0.0, 75.0])
        .link("l", "2", "C")
        .case(at_node("LC1", "C", [20_000.0, 0.0, 0.0], O))
        .solved();
    let zones = plain()
        .with(|beam| {
            beam.start_offset = Some(position([90.0, 0.0, 0.0]));
            beam.end_offset = Some(position([-60.0, 0.0, 0.0]));
        })
        .case(at_node("LC2", "2", down(3000.0), O))
        .solved();
    let mut sheet = Sheet::of(DATA, "A15");
    let one = linked.case("LC1");
    sheet.got("LC1 tip ux (beam node)", one.moved("2").move_x_mm);
    sheet.got("LC1 tip uz (beam node)", one.moved("2").move_z_mm);
    sheet.got("LC1 rot y", one.moved("2").turn_y_rad);
    sheet.got("LC1 ux at C", one.moved("C").move_x_mm);
    sheet.got("LC1 bending moment |My| in beam", one.station("b", 0.0).moment_y_nmm.abs());
    let two = zones.case("LC2");
    sheet.got("LC2 uz at load", two.moved("2").move_z_mm);
    sheet.got("LC2 |M| at flexible root", two.station("b", 0.0).moment_y_nmm.abs());
    sheet.got("LC2 |M| at support node", two.reaction("1").moment_y_nmm.abs());
    sheet.lines()
}

fn a16() -> Vec<Line> {
    const SEGMENTS: u32 = 32;
    let radius = 500.0;
    let mut structure = Structure::default().steel_section(tube()).node("0", O).fix("0");
    for place in 1..=SEGMENTS {
        let t = std::f64::consts::FRAC_PI_2 * f64::from(place) / f64::from(SEGMENTS);
        let id = place.to_string();
        structure = structure.node(&id, [radius * t.sin(), radius * (1.0 - t.cos()), 0.0]).beam(
            &id,
            &(place - 1).to_string(),
            &id,
        );
    }
    let tip = SEGMENTS.to_string();
    let answer = structure
        .case(at_node("LC1", &tip, [600.0, 0.0, 0.0], O))
        .case(at_node("LC2", &tip, down(600.0), O))
        .solved();
    let mut sheet = Sheet::of(DATA, "A16");
    sheet.got("LC1 tip ux", answer.case("LC1").moved(&tip).move_x_mm);
    sheet.got("LC1 tip uy", answer.case("LC1").moved(&tip).move_y_mm);
    sheet.got("LC2 tip uz", answer.case("LC2").moved(&tip).move_z_mm);
    // At its root the curve runs along x.
    let root = answer.case("LC2").reaction("0");
    sheet.got("LC2 root torque", root.moment_x_nmm.abs());
    sheet.got("LC2 root bending", root.moment_y_nmm.abs());
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    [a14, a15, a16].iter().flat_map(|case| case()).collect()
}

#[test]
fn heat_forced_movements_offsets_and_a_curve_as_published() {
    assert_close(&lines());
}
