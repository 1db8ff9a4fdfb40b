//! Bolt groups, weld groups, beds: E01 to E03 and E05 to E07.

use fishplate_proto::v1;
use fishplate_tests::sheet::{Line, Sheet, assert_close};
use fishplate_tests::structure::{Structure, load_case, nodal, position, values, wrench};

use crate::frames::down;

pub(crate) const DATA: &str = include_str!("../../data/joints.json");
const O: [f64; 3] = [0.0; 3];

fn bolts(places: &[[f64; 2]], area_mm2: f64) -> Vec<v1::GroupBolt> {
    let bolt = |(place, [x, y]): (usize, &[f64; 2])| v1::GroupBolt {
        id: (place + 1).to_string(),
        position: Some(position([*x, *y, 0.0])),
        area_mm2,
    };
    places.iter().enumerate().map(bolt).collect()
}

fn bolt_group(group: v1::BoltGroup) -> v1::BoltGroupAnswer {
    let mut structure = Structure::default();
    structure.0.bolt_groups.push(group);
    structure.solved().0.bolt_groups.remove(0)
}

fn e01() -> Vec<Line> {
    let group = |load: v1::Wrench, at: Option<[f64; 3]>| {
        bolt_group(v1::BoltGroup {
            id: "g".to_owned(),
            bolts: bolts(&[[75.0, 60.0], [75.0, -60.0], [-75.0, 60.0], [-75.0, -60.0]], 157.0),
            load: Some(load),
            load_at: at.map(position),
            ..Default::default()
        })
    };
    let force = [0.0, -16_000.0, 0.0];
    let eccentric = group(wrench(force, O), Some([425.0, 0.0, 0.0]));
    let direct = group(wrench(force, O), None);
    let turned = group(wrench(O, [0.0, 0.0, -6.8e6]), None);
    let mut sheet = Sheet::of(DATA, "E01");
    sheet.got("sum r^2", eccentric.sum_r2_mm2);
    sheet.got("direct shear per bolt", direct.bolts[0].shear_n);
    sheet.got("moment shear per bolt", turned.bolts[0].shear_n);
    let near = "bolt (+75,+60) resultant = bolt (+75,-60)";
    sheet.got(near, eccentric.bolts[0].shear_n);
    sheet.got("bolt (-75,+-60) resultant", eccentric.bolts[3].shear_n);
    sheet.got("bolt (75,60) Fx (on bolt)", eccentric.bolts[0].shear_x_n);
    sheet.got("bolt (75,60) Fy (on bolt)", eccentric.bolts[0].shear_y_n);
    sheet.lines()
}

fn e02() -> Vec<Line> {
    let places = [[-45.0, -40.0], [45.0, -40.0], [45.0, 40.0], [-45.0, 40.0], [0.0, 60.0]];
    let group = bolt_group(v1::BoltGroup {
        id: "g".to_owned(),
        bolts: bolts(&places, 84.3),
        load: Some(wrench([3000.0, -9000.0, 6000.0], O)),
        load_at: Some(position([120.0, 30.0, 80.0])),
        ..Default::default()
    });
    let mut sheet = Sheet::of(DATA, "E02");
    sheet.got("centroid y", group.centroid.expect("a group has a centroid").y_mm);
    for (place, bolt) in group.bolts.iter().enumerate() {
        let name = place + 1;
        sheet.got(&format!("bolt {name} N (tension +)"), bolt.tension_linear_n);
        sheet.got(&format!("bolt {name} shear resultant"), bolt.shear_n);
    }
    sheet.got("bolt 3 shear x", group.bolts[2].shear_x_n);
    sheet.got("bolt 3 shear y", group.bolts[2].shear_y_n);
    sheet.lines()
}

fn e03() -> Vec<Line> {
    let rows = [40.0, 110.0, 170.0];
    let places: Vec<[f64; 2]> = rows.iter().flat_map(|y| [[-20.0, *y], [20.0, *y]]).collect();
    let corners = [[-40.0, 0.0], [40.0, 0.0], [40.0, 200.0], [-40.0, 200.0]];
    let group = bolt_group(v1::BoltGroup {
        id: "g".to_owned(),
        bolts: bolts(&places, 84.3),
        load: Some(wrench(O, [4e6, 0.0, 0.0])),
        foot_corners: corners.iter().map(|[x, y]| position([*x, *y, 0.0])).collect(),
        bed_stiffness_ratio: 1.0,
        ..Default::default()
    });
    let known = |value: Option<f64>| value.unwrap_or(f64::NAN);
    let mut sheet = Sheet::of(DATA, "E03");
    for row in 0..3 {
        let bolt = &group.bolts[2 * row];
        let name = row + 1;
        sheet.got(&format!("(a) tension per bolt, row {name}"), known(bolt.tension_pivot_n));
        sheet.got(&format!("(b) tension per bolt, row {name}"), known(bolt.tension_bed_n));
    }
    sheet.got("(b) neutral axis c", known(group.pressed_depth_mm));
    sheet.got("(b) I of the cracked section", known(group.cracked_inertia_mm4));
    sheet.got("(b) edge pressure", known(group.highest_pressure_mpa));
    sheet.got("(b) compression resultant", known(group.pressing_force_n));
    sheet.lines()
}

fn e05() -> Vec<Line> {
    let mut structure = Structure::default().steel_section(values(800.0, 2e5, 2e5, 4e5));
    let places = [("A", 0.0), ("P", 500.0), ("B", 1000.0), ("C", 2000.0), ("Q", 2400.0)];
    for (id, x) in places {
        structure = structure.node(id, [x, 0.0, 0.0]);
    }
    for pair in places.windows(2) {
        structure = structure.beam(pair[0].0, pair[0].0, pair[1].0);
    }
    structure =
        structure.hold("A", "xyXZ").hold("B", "").hold("C", "").case(v1::StructureLoadCase {
            nodal_loads: vec![nodal("P", down(1000.0), O), nodal("Q", down(3000.0), O)],
            ..load_case("LC")
        });
    for support in &mut structure.0.supports {
        support.set_move_z(v1::SupportAction::PressesPositive);
    }
    structure.0.bed_contacts.push(v1::BedContact {
        id: "block".to_owned(),
        size_x_mm: 300.0,
        size_y_mm: 120.0,
        force_n: 50_000.0,
        eccentricity_x_mm: 95.0,
        eccentricity_y_mm: 0.0,
    });
    let answer = structure.solved();
    let case = answer.case("LC");
    let up = |node: &str| case.reaction(node).force_z_n;
    let bed = &answer.0.bed_contacts[0];
    let mut sheet = Sheet::of(DATA, "E05");
    sheet.got("(a) R_A", up("A"));
    sheet.got("(a) R_B (lifted)", up("B"));
    sheet.got("(a) R_C", up("C"));
    sheet.got("(a) gap at B (uz, up)", case.moved("B").move_z_mm);
    sheet.got("(a) uz at x=2400", case.moved("Q").move_z_mm);
    sheet.got("(b) contact length 3(B/2-e)", bed.pressed_length_x_mm.unwrap_or(f64::NAN));
    sheet.got("(b) q_max = 2N/(3W(B/2-e))", bed.highest_pressure_mpa);
    sheet.lines()
}

fn run(id: &str, start: [f64; 2], end: [f64; 2], throat_mm: f64) -> v1::GroupRun {
    let at = |[x, y]: [f64; 2]| Some(position([x, y, 0.0]));
    v1::GroupRun {
        id: id.to_owned(),
        start: at(start),
        end: at(end),
        throat_mm,
        ..Default::default()
    }
}

fn weld_group(runs: Vec<v1::GroupRun>, force: [f64; 3], at: [f64; 3]) -> v1::WeldGroupAnswer {
    let mut structure = Structure::default();
    structure.0.weld_groups.push(v1::WeldGroup {
        id: "g".to_owned(),
        runs,
        load: Some(wrench(force, O)),
        load_at: Some(position(at)),
    });
    structure.solved().0.weld_groups.remove(0)
}

type Segment = ([f64; 2], [f64; 2]);

fn e06() -> Vec<Line> {
    let (b, d) = (70.0, 110.0);
    let bottom: Segment = ([0.0, 0.0], [b, 0.0]);
    let top: Segment = ([0.0, d], [b, d]);
    let left: Segment = ([0.0, 0.0], [0.0, d]);
    let right: Segment = ([b, 0.0], [b, d]);
    let middle: Segment = ([0.5 * b, 0.0], [0.5 * b, d]);
    let groups: [(&str, Vec<Segment>); 7] = [
        ("line (vertical, d)", vec![left]),
        ("two vertical lines (b apart)", vec![left, right]),
        ("two horizontal lines (d apart)", vec![bottom, top]),
        ("L (d vertical, b horizontal bottom)", vec![left, bottom]),
        ("C (web d, two flanges b)", vec![left, bottom, top]),
        ("rectangle all round", vec![left, right, bottom, top]),
        ("T/I: two horizontals b + centre vertical d", vec![bottom, top, middle]),
    ];
    let mut sheet = Sheet::of(DATA, "E06");
    for (name, segments) in groups {
        let runs = segments.iter().enumerate();
        let runs = runs.map(|(place, (from, to))| run(&place.to_string(), *from, *to, 1.0));
        // A pull square to the plane through the middle of the line turns none of these groups.
        let group = weld_group(runs.collect(), [0.0, 0.0, 1.0], [0.0, 0.5 * d, 0.0]);
        let centroid = group.centroid.expect("a group has a centroid");
        sheet.got(&format!("{name}: length"), group.length_mm);
        let quantity = format!("{name}: Ix (about horizontal centroid axis)");
        sheet.got(&quantity, group.sum_yy_mm3);
        sheet.got(&format!("{name}: Jw"), group.j_z_mm3);
        if name.starts_with("L ") {
            sheet.got(&format!("{name}: centroid x"), centroid.x_mm);
            sheet.got(&format!("{name}: centroid y"), centroid.y_mm);
            sheet.got(&format!("{name}: Ixy"), group.sum_xy_mm3);
        } else if name.starts_with("C ") {
            sheet.got(&format!("{name}: centroid x"), centroid.x_mm);
        }
    }
    let radius = 30.15;
    let circle = v1::GroupRun {
        circle_centre: Some(position(O)),
        circle_normal: Some(v1::Vector { x: 0.0, y: 0.0, z: 1.0 }),
        ..run("ring", [radius, 0.0], [radius, 0.0], 1.0)
    };
    let ring = weld_group(vec![circle], [0.0, 0.0, 1.0], O);
    sheet.got("circle D=60.3: Sw=pi D^2/4", ring.sum_yy_mm3 / radius);
    sheet.got("circle D=60.3: Jw=pi D^3/4", ring.j_z_mm3);
    sheet.lines()
}

fn e07() -> Vec<Line> {
    let (b, d) = (70.0, 110.0);
    let runs = vec![
        run("web", [0.0, 0.0], [0.0, d], 4.0),
        run("lower", [0.0, 0.0], [b, 0.0], 4.0),
        run("upper", [0.0, d], [b, d], 4.0),
    ];
    let group = weld_group(runs, [0.0, -12_000.0, 0.0], [190.0, 55.0, 0.0]);
    let centroid = group.centroid.expect("a group has a centroid");
    let mut sheet = Sheet::of(DATA, "E07");
    sheet.got("centroid x", centroid.x_mm);
    sheet.got("moment about centroid", moment_of(&group, centroid));
    for (x, y) in [(b, d), (b, 0.0), (0.0, d), (0.0, 0.0)] {
        let here = |place: &&v1::LineForce| {
            let at = place.at.expect("a place is somewhere");
            (at.x_mm - x).abs() < 1e-9 && (at.y_mm - y).abs() < 1e-9
        };
        let mut places = group.runs.iter().flat_map(|run| &run.places);
        let place = places.find(here).expect("every corner ends a run");
        sheet.got(&format!("line load at ({x},{y}): x"), place.force_x_n_per_mm);
        sheet.got(&format!("line load at ({x},{y}): y"), place.force_y_n_per_mm);
    }
    sheet.got("max resultant line load", group.highest_n_per_mm);
    sheet.got("max throat shear stress (a=4)", group.highest_stress_mpa);
    sheet.lines()
}

/// The moment about z that the answered line forces carry: both arm and force are linear along a
/// run, so Simpson's rule is exact with the mean of both ends in the middle.
fn moment_of(group: &v1::WeldGroupAnswer, about: v1::Position) -> f64 {
    let mut moment = 0.0;
    for run in &group.runs {
        let [first, last] = [0, 1].map(|end| {
            let place = run.places[end];
            let at = place.at.expect("a place is somewhere");
            let arm = [at.x_mm - about.x_mm, at.y_mm - about.y_mm];
            (arm, [place.force_x_n_per_mm, place.force_y_n_per_mm])
        });
        let middle = |a: [f64; 2], b: [f64; 2]| [0, 1].map(|i| f64::midpoint(a[i], b[i]));
        let centre = (middle(first.0, last.0), middle(first.1, last.1));
        let turn = |(arm, force): ([f64; 2], [f64; 2])| arm[0] * force[1] - arm[1] * force[0];
        let length = (last.0[0] - first.0[0]).hypot(last.0[1] - first.0[1]);
        moment += length / 6.0 * (turn(first) + 4.0 * turn(centre) + turn(last));
    }
    moment
}

pub(crate) fn lines() -> Vec<Line> {
    [e01, e02, e03, e05, e06, e07].iter().flat_map(|case| case()).collect()
}

#[test]
fn joints_share_their_load_as_published() {
    assert_close(&lines());
}
