//! Frames under static loads: A01 to A10.

use fishplate_proto::v1;
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::{
    Structure, at_node, line, load_case, nodal, values, vector, wrench,
};

pub(crate) const DATA: &str = include_str!("../../data/frames.json");
const O: [f64; 3] = [0.0; 3];

pub(crate) fn down(size: f64) -> [f64; 3] {
    [0.0, 0.0, -size]
}

pub(crate) fn about_y(size: f64) -> [f64; 3] {
    [0.0, size, 0.0]
}

fn with_lines(id: &str, lines: Vec<v1::MemberLineLoad>) -> v1::StructureLoadCase {
    v1::StructureLoadCase { line_loads: lines, ..load_case(id) }
}

fn at_point(
    id: &str,
    beam: &str,
    at: f64,
    force: [f64; 3],
    moment: [f64; 3],
) -> v1::StructureLoadCase {
    let point = v1::MemberPointLoad {
        beam_id: beam.to_owned(),
        at_mm: at,
        load: Some(wrench(force, moment)),
        ..Default::default()
    };
    v1::StructureLoadCase { point_loads: vec![point], ..load_case(id) }
}

fn a01() -> Vec<Line> {
    let answer = Structure::default()
        .steel_section(values(600.0, 2.0e5, 1.1e5, 2.2e5))
        .node("1", O)
        .node("2", [1000.0, 0.0, 0.0])
        .beam("b", "1", "2")
        .fix("1")
        .case(at_node("LC1", "2", down(1000.0), O))
        .case(with_lines("LC2", vec![line("b", down(1.5), down(1.5))]))
        .case(at_node("LC3", "2", O, about_y(4e5)))
        .case(with_lines("LC4", vec![line("b", down(2.0), down(0.5))]))
        .solved();
    let mut sheet = Sheet::of(DATA, "A01");
    for case in ["LC1", "LC2", "LC3", "LC4"] {
        sheet.got(&format!("{case} tip uz"), answer.case(case).moved("2").move_z_mm);
    }
    for case in ["LC1", "LC2"] {
        sheet.got(&format!("{case} tip rot y"), answer.case(case).moved("2").turn_y_rad);
    }
    for case in ["LC1", "LC2", "LC4"] {
        let root = answer.case(case).station("b", 0.0).moment_y_nmm;
        sheet.got(&format!("{case} root |My|"), root.abs());
    }
    sheet.got("LC4 root Rz", answer.case("LC4").reaction("1").force_z_n);
    sheet.lines()
}

fn a02() -> Vec<Line> {
    let answer = Structure::default()
        .steel_section(values(800.0, 3.5e5, 3.5e5, 7e5))
        .node("A", O)
        .node("B", [1200.0, 0.0, 0.0])
        .beam("b", "A", "B")
        .fix("A")
        .fix("B")
        .case(at_point("LC1", "b", 360.0, down(5000.0), O))
        .case(with_lines("LC2", vec![line("b", down(4.0), down(4.0))]))
        .case(with_lines("LC3", vec![line("b", down(1.0), down(5.0))]))
        .case(at_point("LC4", "b", 360.0, O, about_y(6e5)))
        .stations(&[0.3, 0.5])
        .solved();
    let end = |case: &str, node: &str| answer.case(case).reaction(node).moment_y_nmm.abs();
    let up = |case: &str| answer.case(case).reaction("A").force_z_n;
    let place = |case: &str, at: f64| {
        answer.case(case).station("b", at).movement.expect("stations tell their movement").z_mm
    };
    let mut sheet = Sheet::of(DATA, "A02");
    sheet.got("LC1 |M_A|", end("LC1", "A"));
    sheet.got("LC1 |M_B|", end("LC1", "B"));
    sheet.got("LC1 R_A (up)", up("LC1"));
    sheet.got("LC1 uz under load", place("LC1", 0.3));
    sheet.got("LC2 |M_end|", end("LC2", "B"));
    sheet.got("LC2 mid uz", place("LC2", 0.5));
    sheet.got("LC3 |M_A|", end("LC3", "A"));
    sheet.got("LC3 |M_B|", end("LC3", "B"));
    sheet.got("LC3 R_A (up)", up("LC3"));
    sheet.got("LC3 mid uz", place("LC3", 0.5));
    sheet.got("LC4 |M_A|", end("LC4", "A"));
    sheet.got("LC4 |M_B|", end("LC4", "B"));
    sheet.got("LC4 |R_A|=|R_B|", up("LC4").abs());
    let turn = answer.case("LC4").station("b", 0.3).turn_rad.expect("stations tell their turn");
    sheet.got("LC4 rot y at load", turn.y);
    sheet.lines()
}

fn a03() -> Vec<Line> {
    let mut fractions: Vec<f64> = (1..200).map(|i| f64::from(i) / 200.0).collect();
    fractions.push(500.0 / 900.0);
    let answer = Structure::default()
        .steel_section(values(800.0, 1.2e5, 1.2e5, 2.4e5))
        .node("A", O)
        .node("B", [900.0, 0.0, 0.0])
        .beam("b", "A", "B")
        .fix("A")
        .hold("B", "z")
        .case(with_lines("LC1", vec![line("b", down(3.0), down(3.0))]))
        .case(at_point("LC2", "b", 500.0, down(2500.0), O))
        .case(at_node("LC3", "B", O, about_y(3e5)))
        .stations(&fractions)
        .solved();
    let place = |s: &v1::StationForces| s.movement.expect("stations tell their movement").z_mm;
    let deepest = answer
        .case("LC1")
        .stations("b")
        .iter()
        .map(place)
        .fold(0.0, |most: f64, z| if z.abs() > most { z.abs() } else { most });
    let [one, two, three] = ["LC1", "LC2", "LC3"].map(|id| answer.case(id));
    let mut sheet = Sheet::of(DATA, "A03");
    sheet.got("LC1 |M_A|", one.reaction("A").moment_y_nmm.abs());
    sheet.got("LC1 R_B", one.reaction("B").force_z_n);
    sheet.got("LC1 uz at mid-span", place(one.station("b", 0.5)));
    sheet.got("LC1 largest |uz|", deepest);
    sheet.got("LC2 R_B", two.reaction("B").force_z_n);
    sheet.got("LC2 uz under load", place(two.station("b", 500.0 / 900.0)));
    sheet.got("LC3 |M_A|", three.reaction("A").moment_y_nmm.abs());
    sheet.got("LC3 rot y at B", three.moved("B").turn_y_rad);
    sheet.got("LC3 |R_B|", three.reaction("B").force_z_n.abs());
    sheet.lines()
}

fn portal(area: f64) -> Structure {
    Structure::default()
        .steel_section(values(area, 2.0e7, 2.0e7, 4.0e7))
        .section("beam", values(area, 4.0e7, 4.0e7, 8.0e7))
        .node("A", O)
        .node("B", [0.0, 0.0, 3000.0])
        .node("C", [5000.0, 0.0, 3000.0])
        .node("D", [5000.0, 0.0, 0.0])
        .beam("left", "A", "B")
        .member("top", "B", "C", "beam", "m")
        .beam("right", "C", "D")
        .fix("A")
        .fix("D")
        .case(at_node("LC1", "B", [10_000.0, 0.0, 0.0], O))
        .case(with_lines("LC2", vec![line("top", down(12.0), down(12.0))]))
}

fn a04() -> Vec<Line> {
    let mut sheet = Sheet::of(DATA, "A04");
    let rigid = portal(1e9).solved();
    let one = rigid.case("LC1");
    sheet.got("LC1 |M_A|=|M_D|", one.reaction("A").moment_y_nmm.abs());
    sheet.got("LC1 |M_B|=|M_C|", one.station("top", 0.0).moment_y_nmm.abs());
    sheet.got("LC1 |vertical reaction|", one.reaction("A").force_z_n.abs());
    sheet.got("LC1 sway ux(B)", one.moved("B").move_x_mm);
    let two = rigid.case("LC2");
    sheet.got("LC2 |M_A|", two.reaction("A").moment_y_nmm.abs());
    sheet.got("LC2 |M_B|", two.station("top", 0.0).moment_y_nmm.abs());
    sheet.got("LC2 horizontal thrust", two.reaction("A").force_x_n);
    let flexible = portal(6000.0).solved();
    let one = flexible.case("LC1");
    sheet.got("A=6000: LC1 ux(B)", one.moved("B").move_x_mm);
    sheet.got("A=6000: LC1 ux(C)", one.moved("C").move_x_mm);
    sheet.got("A=6000: LC1 |M_A|", one.reaction("A").moment_y_nmm.abs());
    sheet.got("A=6000: LC1 |M_D|", one.reaction("D").moment_y_nmm.abs());
    let two = flexible.case("LC2");
    sheet.got("A=6000: LC2 uz(B)", two.moved("B").move_z_mm);
    sheet.got("A=6000: LC2 |M_A|", two.reaction("A").moment_y_nmm.abs());
    sheet.lines()
}

/// Round tube 48 x 3.
pub(crate) fn tube() -> v1::SectionValues {
    let (outer, inner) = (48.0_f64, 42.0_f64);
    let area = std::f64::consts::PI / 4.0 * (outer.powi(2) - inner.powi(2));
    let inertia = std::f64::consts::PI / 64.0 * (outer.powi(4) - inner.powi(4));
    values(area, inertia, inertia, 2.0 * inertia)
}

fn a05() -> Vec<Line> {
    let answer = Structure::default()
        .steel_section(tube())
        .node("1", O)
        .node("2", [400.0, 0.0, 0.0])
        .node("3", [400.0, 300.0, 0.0])
        .beam("a", "1", "2")
        .beam("b", "2", "3")
        .fix("1")
        .case(at_node("LC1", "3", down(800.0), O))
        .solved();
    let case = answer.case("LC1");
    let mut sheet = Sheet::of(DATA, "A05");
    sheet.got("uz(node3)", case.moved("3").move_z_mm);
    sheet.got("rot x(node3)", case.moved("3").turn_x_rad);
    sheet.got("rot y(node3)", case.moved("3").turn_y_rad);
    sheet.got("root bending |My|", case.station("a", 0.0).moment_y_nmm.abs());
    sheet.got("root torque |Mx|", case.station("a", 0.0).torque_nmm.abs());
    sheet.lines()
}

fn a06() -> Vec<Line> {
    let (centre_y, centre_z) = (11.870_967_741_935_484, 26.870_967_741_935_484);
    let corner = |name: &str, y: f64, z: f64| v1::StressPoint {
        name: name.to_owned(),
        y_mm: y - centre_y,
        z_mm: z - centre_z,
    };
    let angle = v1::SectionValues {
        i_yz_mm4: -157_548.387_096_774_2,
        stress_points: vec![
            corner("(0,80)", 0.0, 80.0),
            corner("(6,80)", 6.0, 80.0),
            corner("(0,0)", 0.0, 0.0),
            corner("(50,0)", 50.0, 0.0),
        ],
        ..values(744.0, 489_963.612_903_225_8, 150_483.612_903_225_8, 9000.0)
    };
    let answer = Structure::default()
        .steel_section(angle)
        .node("1", O)
        .node("2", [800.0, 0.0, 0.0])
        .beam("b", "1", "2")
        .fix("1")
        .case(at_node("LC1", "2", down(600.0), O))
        .solved();
    let case = answer.case("LC1");
    let mut sheet = Sheet::of(DATA, "A06");
    sheet.got("tip uz", case.moved("2").move_z_mm);
    sheet.got("tip uy", case.moved("2").move_y_mm);
    let section = answer.section(0);
    sheet.got("principal Imax", section.i_max_mm4);
    sheet.got("principal Imin", section.i_min_mm4);
    let axis = "angle from +y to the Imax axis (right-handed about x, 0.5*atan2(-2Iyz, Iy-Iz))";
    sheet.got(axis, section.i_max_axis_deg);
    let stresses = &case.station("b", 0.0).stresses;
    let at = |name: &str| {
        stresses.iter().find(|s| s.name == name).expect("the points were named").normal_mpa
    };
    for name in ["(0,80)", "(6,80)", "(0,0)", "(50,0)"] {
        sheet.got(&format!("root sigma_x at {name}"), at(name));
    }
    // The stress is a plane over the section; it vanishes along the neutral axis.
    let along_y = (at("(50,0)") - at("(0,0)")) / 50.0;
    let along_z = (at("(0,80)") - at("(0,0)")) / 80.0;
    let inclination = (-along_y / along_z).atan().to_degrees();
    sheet.got("neutral-axis inclination to y axis", inclination);
    sheet.lines()
}

fn a07() -> Vec<Line> {
    let deep = |shear: Option<f64>| v1::SectionValues {
        shear_area_y_mm2: shear,
        shear_area_z_mm2: shear,
        ..values(2400.0, 2_880_000.0, 80_000.0, 280_000.0)
    };
    let cantilever = |shear| {
        Structure::default()
            .steel_section(deep(shear))
            .node("1", O)
            .node("2", [240.0, 0.0, 0.0])
            .beam("b", "1", "2")
            .fix("1")
    };
    let shear = Some(2400.0 * 5.0 / 6.0);
    let soft = cantilever(shear)
        .case(at_node("LC1", "2", down(20_000.0), O))
        .case(with_lines("LC2", vec![line("b", down(100.0), down(100.0))]))
        .solved();
    let stiff = cantilever(None).case(at_node("LC1", "2", down(20_000.0), O)).solved();
    let settles = v1::PrescribedMovement {
        node_id: "2".to_owned(),
        move_z_mm: Some(-1.0),
        ..Default::default()
    };
    let case = v1::StructureLoadCase { prescribed: vec![settles], ..load_case("LC3") };
    let clamped = cantilever(shear).fix("2").case(case).solved();
    let mut sheet = Sheet::of(DATA, "A07");
    let total = soft.case("LC1").moved("2").move_z_mm;
    let bending = stiff.case("LC1").moved("2").move_z_mm;
    sheet.got("LC1 tip uz total", total);
    sheet.got("LC2 tip uz total", soft.case("LC2").moved("2").move_z_mm);
    // The tip of a cantilever moves by its bending times 1 + Phi/4.
    sheet.got("LC3 Phi=12EI/(kGA L^2)", 4.0 * (total / bending - 1.0));
    let end = clamped.case("LC3").reaction("2");
    sheet.got("LC3 |R|", end.force_z_n.abs());
    sheet.got("LC3 |M_end|", end.moment_y_nmm.abs());
    sheet.got("LC1 with shear off", bending);
    sheet.lines()
}

fn a08() -> Vec<Line> {
    let mounts = [[-350.0, -230.0], [350.0, -230.0], [350.0, 230.0], [-350.0, 230.0]];
    let mut structure = Structure::default()
        .node("body", O)
        .node("load", [110.0, -65.0, 0.0])
        .hold("body", "xyZ")
        .link("load", "body", "load")
        .case(at_node("LC1", "load", down(9000.0), O));
    for (place, [x, y]) in mounts.into_iter().enumerate() {
        let id = (place + 1).to_string();
        structure = structure
            .node(&id, [x, y, 0.0])
            .link(&format!("to {id}"), "body", &id)
            .grounded(&id, &id, [0.0, 0.0, 1200.0]);
    }
    let answer = structure.solved();
    let case = answer.case("LC1");
    let mut sheet = Sheet::of(DATA, "A08");
    for id in ["1", "2", "3", "4"] {
        sheet.got(&format!("reaction mount {id}"), case.spring(id).force_z_n);
    }
    sheet.got("uz at origin", case.moved("body").move_z_mm);
    sheet.got("rot x", case.moved("body").turn_x_rad);
    sheet.got("rot y", case.moved("body").turn_y_rad);
    sheet.lines()
}

fn a09() -> Vec<Line> {
    let soft = [4000.0, 2500.0, 1800.0];
    let mounts = [
        ([-340.0, -360.0, 0.0], soft),
        ([310.0, -330.0, 25.0], [9000.0, 6000.0, 5200.0]),
        ([310.0, 330.0, 25.0], [9000.0, 6000.0, 3100.0]),
        ([-340.0, 360.0, 0.0], soft),
    ];
    let mut structure = Structure::default()
        .node("body", O)
        .node("load", [40.0, -15.0, 180.0])
        .link("load", "body", "load")
        .case(v1::StructureLoadCase {
            nodal_loads: vec![nodal("load", [-12_000.0, 1500.0, -5000.0], O)],
            ..load_case("LC1")
        });
    for (place, (at, stiffness)) in mounts.into_iter().enumerate() {
        let id = (place + 1).to_string();
        structure = structure
            .node(&id, at)
            .link(&format!("to {id}"), "body", &id)
            .grounded(&id, &id, stiffness);
    }
    let answer = structure.solved();
    let case = answer.case("LC1");
    let mut sheet = Sheet::of(DATA, "A09");
    for id in ["1", "2", "3", "4"] {
        // The sheet counts what the body does to the mount, the wire what the body feels.
        let felt = case.spring(id);
        sheet.got(&format!("mount {id} Fx"), -felt.force_x_n);
        sheet.got(&format!("mount {id} Fy"), -felt.force_y_n);
        sheet.got(&format!("mount {id} Fz"), -felt.force_z_n);
    }
    let moved = case.moved("body");
    sheet.got("body ux at origin", moved.move_x_mm);
    sheet.got("body uy at origin", moved.move_y_mm);
    sheet.got("body uz at origin", moved.move_z_mm);
    sheet.got("body rot x at origin", moved.turn_x_rad);
    sheet.got("body rot y at origin", moved.turn_y_rad);
    sheet.got("body rot z at origin", moved.turn_z_rad);
    sheet.lines()
}

fn a10() -> Vec<Line> {
    let hinge = v1::Release { turn_y: true, ..Default::default() };
    let answer = Structure::default()
        .steel_section(values(3000.0, 5e6, 5e6, 1e7))
        .node("A", O)
        .node("H", [1500.0, 0.0, 0.0])
        .node("B", [3500.0, 0.0, 0.0])
        .beam("left", "A", "H")
        .beam("right", "H", "B")
        .with(|beam| {
            beam.start_release = Some(hinge);
            beam.up = Some(vector([0.0, 0.0, 1.0]));
        })
        .fix("A")
        .hold("B", "z")
        .case(with_lines(
            "LC1",
            vec![line("left", down(10.0), down(10.0)), line("right", down(10.0), down(10.0))],
        ))
        .solved();
    let case = answer.case("LC1");
    let mut sheet = Sheet::of(DATA, "A10");
    sheet.got("R_B", case.reaction("B").force_z_n);
    sheet.got("R_A", case.reaction("A").force_z_n);
    sheet.got("|M_A|", case.reaction("A").moment_y_nmm.abs());
    sheet.got("uz at hinge", case.moved("H").move_z_mm);
    sheet.got("rot y left of hinge", case.moved("H").turn_y_rad);
    let start = case.station("right", 0.0);
    let turn = start.turn_rad.expect("stations tell their turn").y;
    sheet.got("rot y right of hinge (element end)", turn);
    sheet.got("moment at hinge", start.moment_y_nmm);
    sheet.lines()
}

pub(crate) fn lines() -> Vec<Line> {
    [a01, a02, a03, a04, a05, a06, a07, a08, a09, a10].iter().flat_map(|case| case()).collect()
}

#[test]
fn frames_bend_twist_and_share_as_published() {
    assert_close(&lines());
}
