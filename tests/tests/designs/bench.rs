//! The car that all designs stand on, short words for its parts, and ways to read the answer.
//!
//! Car of 2000 kg with its centre of gravity half way between the axles: 9810 N on the rear axle
//! (g = 9.81 m/s²). Cradle and wheels weigh 120 + 2 × 40 = 200 kg, 1962 N; springs sit on the
//! cradle, so the body gets 9810 - 1962 = 7848 N. Mounts stand alike before, behind, left and right
//! of the wheel centres: each pushes the body up with 7848/4 = 1962 N (statics).

use fishplate_proto::v1;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{CaseKind, Opening, State, WeldPath};
use fishplate_tests::project::{Given, at, case, mm, number, project};
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;

/// Upward force of each mount on the body, standing, N.
pub(crate) const UP: f64 = 1962.0;
/// Forward force of each mount on the body in case `tow`, N: half the weight of the car, 9810 N, at
/// an eye in the plane and middle of the mounts, so no moment comes with it (statics).
pub(crate) const FORWARD: f64 = 2452.5;
/// Pull of each mount on the body on a lift, N: a quarter of the weight of cradle and wheels.
pub(crate) const HANGING: f64 = 490.5;
/// Factor on loads of everyday cases.
pub(crate) const GAMMA: f64 = 1.5;
/// Where the mounts stand on the left: front, rear, mm.
pub(crate) const FRONT: [f64; 3] = [300.0, 480.0, 420.0];
pub(crate) const REAR: [f64; 3] = [-300.0, 480.0, 420.0];

/// The car with a channel rail 100 x 45 x 3 mm of mild steel, web at y 425, bottom at z 420, and no
/// design; cases `stand` and `tow`.
pub(crate) fn car() -> v1::Project {
    car_on(FRONT, REAR)
}

/// The same with the mounts elsewhere; both at one height, as far before as behind the wheels.
pub(crate) fn car_on(front: [f64; 3], rear: [f64; 3]) -> v1::Project {
    let mut p = project(
        "bench",
        &Given {
            mass: 2000.0,
            wheelbase: 2500.0,
            cg_ahead: 1250.0,
            cg_height: 600.0,
            track: 1400.0,
            wheel_radius: 300.0,
            torque: 200.0,
            ratio: 8.0,
            efficiency: 0.95,
            grip: 0.9,
            rear_share: 0.4,
            brake_grip: 1.0,
            cradle: 120.0,
            centre: [0.0, 0.0, front[2]],
            wheel: 40.0,
            front,
            rear,
            stiffness: [3000.0, 3000.0],
        },
    );
    let mpa = |value_mpa| Some(v1::Stress { value_mpa, ..Default::default() });
    p.steels = vec![v1::Steel {
        name: "mild".to_owned(),
        fy: mpa(235.0),
        fu: mpa(360.0),
        beta_w: number(0.8),
    }];
    p.rails = vec![channel(Opening::Inward)];
    let mut tow = case("tow", CaseKind::TowForward);
    tow.at = at([0.0, 0.0, front[2]]);
    tow.factor = number(0.5);
    p.cases = vec![case("stand", CaseKind::Standing), tow];
    p
}

/// A case on a lift: cradle and wheels hang.
pub(crate) fn lift() -> v1::LoadCase {
    let mut lift = case("lift", CaseKind::Lift);
    lift.factor = number(1.0);
    lift
}

/// Cornering to the left at 0.8 g, half of the roll moment on the rear axle.
pub(crate) fn corner() -> v1::LoadCase {
    let mut corner = fishplate_tests::project::left(case("corner", CaseKind::Corner));
    corner.rate = fishplate_tests::project::g(0.8);
    corner.rear_share = number(0.5);
    corner
}

pub(crate) fn channel(opens: Opening) -> v1::Rail {
    let mut section = v1::ChannelSection {
        height_mm: 100.0,
        flange_mm: 45.0,
        wall_mm: 3.0,
        ..Default::default()
    };
    section.set_opens(opens);
    rail(v1::rail::Section::Channel(section))
}

pub(crate) fn box_rail() -> v1::Rail {
    rail(v1::rail::Section::Box(v1::BoxSection { height_mm: 100.0, width_mm: 60.0, wall_mm: 3.0 }))
}

fn rail(section: v1::rail::Section) -> v1::Rail {
    v1::Rail {
        name: "frame".to_owned(),
        section: Some(section),
        steel: "mild".to_owned(),
        web: mm(425.0),
        bottom: mm(420.0),
        from: mm(-700.0),
        to: mm(700.0),
        readings: vec![reading(-300.0, 3.0), reading(300.0, 3.0)],
        readings_right: vec![reading(-300.0, 3.0), reading(300.0, 3.0)],
        held_x_mm: vec![-600.0, 0.0, 600.0],
        ..Default::default()
    }
}

pub(crate) fn reading(x_mm: f64, thickness: f64) -> v1::Reading {
    v1::Reading { x_mm, thickness: mm(thickness) }
}

/// A point in two coordinates of the plane x, z.
pub(crate) fn xz(x: f64, z: f64) -> Option<v1::Point> {
    Some(point([Some(x), None, Some(z)]))
}

pub(crate) fn point([x_mm, y_mm, z_mm]: [Option<f64>; 3]) -> v1::Point {
    v1::Point { x_mm, y_mm, z_mm, ..Default::default() }
}

pub(crate) fn part(name: &str, datums: &[&str], form: Form) -> v1::Part {
    v1::Part {
        name: name.to_owned(),
        datums: datums.iter().map(|d| (*d).to_owned()).collect(),
        steel: "mild".to_owned(),
        form: Some(form),
        ..Default::default()
    }
}

/// A rectangular plate on an upright face: thickness; centre x, z; size x, z.
pub(crate) fn plate(on: &str, t: f64, [x, z]: [f64; 2], [wide, high]: [f64; 2]) -> Form {
    let mut plate = v1::Plate {
        thickness: mm(t),
        on: on.to_owned(),
        centre: xz(x, z),
        size: xz(wide, high),
        ..Default::default()
    };
    plate.set_outline(v1::Outline::Rectangle);
    Form::Plate(plate)
}

/// A plate that closes the mouth of the channel.
pub(crate) fn lid(t: f64, from: f64, to: f64) -> Form {
    Form::Plate(v1::Plate {
        thickness: mm(t),
        on: "rail.frame.mouth".to_owned(),
        from: mm(from),
        to: mm(to),
        ..Default::default()
    })
}

/// A folded U of 5 mm, foot 60 x 80, reach 85, open upward; centre x, z.
pub(crate) fn bracket(on: &str, centre: [f64; 2]) -> Form {
    Form::Folded(folded(on, centre))
}

pub(crate) fn folded(on: &str, [x, z]: [f64; 2]) -> v1::FoldedU {
    let mut folded = v1::FoldedU {
        thickness: mm(5.0),
        on: on.to_owned(),
        centre: xz(x, z),
        foot: xz(60.0, 80.0),
        reach: mm(85.0),
        ..Default::default()
    };
    folded.set_open(v1::FoldOpening::Up);
    folded
}

/// A continuous fillet.
pub(crate) fn fillet(name: &str, joins: [&str; 2], leg: f64, along: WeldPath) -> v1::Weld {
    let mut weld = v1::Weld {
        name: name.to_owned(),
        joins: joins.map(str::to_owned).to_vec(),
        leg: mm(leg),
        ..Default::default()
    };
    weld.set_bead(v1::BeadKind::Fillet);
    weld.set_along(along);
    weld
}

/// A bolt of class 8.8 tightened by torque wrench, scatter 1.8, thread friction 0.14, clamped faces
/// painted with friction 0.12, washers 24 x 2.5.
pub(crate) fn bolt(name: &str, thread: &str, hole: f64, through: &[&str]) -> v1::Bolt {
    let mut bolt = v1::Bolt {
        name: name.to_owned(),
        thread: thread.to_owned(),
        class: "8.8".to_owned(),
        through: through.iter().map(|t| (*t).to_owned()).collect(),
        hole: mm(hole),
        washer_outside_mm: Some(24.0),
        washer_thickness_mm: Some(2.5),
        friction: number(0.12),
        tightening: Some(v1::Tightening {
            method: "torque wrench".to_owned(),
            scatter: number(1.8),
            thread_friction: number(0.14),
        }),
        ..Default::default()
    };
    bolt.set_faces(v1::FacePreparation::Painted);
    bolt
}

pub(crate) fn counted_from(mut bolt: v1::Bolt, mount: &str) -> v1::Bolt {
    bolt.datums = vec![mount.to_owned()];
    bolt
}

/// A bracket on the web at the front mount, welded along its two walls, and the bolt of the bush:
/// two upright lines of 80 mm at x 270 and 330, z 420 to 500, in the plane y 425.
pub(crate) fn single_bracket(leg: f64) -> v1::Project {
    let mut p = car();
    p.parts.push(part(
        "bracket",
        &["mount.front"],
        bracket("rail.frame.web.outboard", [0.0, 40.0]),
    ));
    p.welds.push(fillet("foot", ["part.bracket", "rail.frame.web"], leg, WeldPath::Walls));
    land(&mut p, "part.bracket.floor");
    p
}

/// Lets the front mount land on a wall with an M12.
pub(crate) fn land(p: &mut v1::Project, wall: &str) {
    p.bolts.push(counted_from(bolt("bush", "M12", 13.0, &["mount.front", wall]), "mount.front"));
    p.mounts[0].lands = "bolt.bush".to_owned();
}

/// The answer with scene and derivations.
pub(crate) fn check(p: &v1::Project) -> v1::CheckProjectResponse {
    let request = v1::CheckProjectRequest {
        project: Some(p.clone()),
        with_derivations: true,
        with_scene: true,
        depth: v1::Depth::Frame.into(),
    };
    service::check(&request).unwrap_or_else(|status| panic!("refused: {:?}", Refusal::of(&status)))
}

/// What a project is refused for.
pub(crate) fn refused(p: &v1::Project) -> Refusal {
    let request = v1::CheckProjectRequest { project: Some(p.clone()), ..Default::default() };
    match service::check(&request) {
        Ok(answer) => panic!("was taken: {}, clashes {:?}", answer.sentence, answer.clashes),
        Err(status) => Refusal::of(&status),
    }
}

#[track_caller]
pub(crate) fn assert_told(refusal: &Refusal, field: &str, words: &[&str]) {
    let told = refusal.fields.iter().find(|(at, _)| at == field);
    let Some((_, told)) = told else { panic!("not told at `{field}`: {:?}", refusal.fields) };
    for word in words {
        assert!(told.contains(word), "`{word}` is not in: {told}");
    }
}

/// Agreement to one in a million, or to a billionth of a unit near zero.
#[track_caller]
pub(crate) fn assert_near(what: &str, got: f64, want: f64) {
    let off = (got - want).abs();
    assert!(off <= 1e-6 * want.abs() + 1e-6, "{what}: got {got}, by hand {want}, off by {off}");
}

#[track_caller]
pub(crate) fn assert_all_near<const N: usize>(what: &str, got: [f64; N], want: [f64; N]) {
    for (i, (g, w)) in got.into_iter().zip(want).enumerate() {
        let off = (g - w).abs();
        let size =
            want.iter().fold(0.0, |most: f64, x| if x.abs() > most { x.abs() } else { most });
        assert!(off <= 1e-6 * size + 1e-6, "{what}[{i}]: got {got:?}, by hand {want:?}");
    }
}

fn extent(corners: &[v1::Position]) -> [f64; 6] {
    let mut e = [f64::INFINITY, f64::NEG_INFINITY].repeat(3);
    for c in corners {
        for (axis, value) in [c.x_mm, c.y_mm, c.z_mm].into_iter().enumerate() {
            e[2 * axis] = if value < e[2 * axis] { value } else { e[2 * axis] };
            e[2 * axis + 1] = if value > e[2 * axis + 1] { value } else { e[2 * axis + 1] };
        }
    }
    [e[0], e[1], e[2], e[3], e[4], e[5]]
}

fn solids<'a>(answer: &'a v1::CheckProjectResponse, name: &str) -> Vec<&'a v1::Solid> {
    let scene = answer.scene.as_ref().expect("the scene was asked for");
    scene.solids.iter().filter(|s| s.name == name).collect()
}

/// Extent of a body: x from, to, y from, to, z from, to, mm.
#[track_caller]
pub(crate) fn extent_of(answer: &v1::CheckProjectResponse, name: &str) -> [f64; 6] {
    let found = solids(answer, name);
    assert!(!found.is_empty(), "no {name} in the scene");
    let corners: Vec<_> =
        found.iter().flat_map(|s| &s.faces).flat_map(|f| f.corners.iter().copied()).collect();
    extent(&corners)
}

/// Whether a body has a flat rectangle as a face: x from, to, y from, to, z from, to, mm.
#[track_caller]
pub(crate) fn assert_face(answer: &v1::CheckProjectResponse, name: &str, want: [f64; 6]) {
    let faces: Vec<[f64; 6]> =
        solids(answer, name).iter().flat_map(|s| &s.faces).map(|f| extent(&f.corners)).collect();
    let same = |f: &&[f64; 6]| f.iter().zip(want).all(|(a, b)| (a - b).abs() < 1e-6);
    assert!(faces.iter().find(same).is_some(), "{name} has no face {want:?}, but {faces:?}");
}

/// Runs of a weld as start and end, mm.
pub(crate) fn runs(answer: &v1::CheckProjectResponse, name: &str) -> Vec<[[f64; 3]; 2]> {
    let scene = answer.scene.as_ref().expect("the scene was asked for");
    let place = |p: Option<v1::Position>| {
        let p = p.expect("a run has two ends");
        [p.x_mm, p.y_mm, p.z_mm]
    };
    let own = scene.welds.iter().filter(|w| w.name == name);
    own.map(|w| [place(w.start), place(w.end)]).collect()
}

pub(crate) fn length([a, b]: [[f64; 3]; 2]) -> f64 {
    (0..3).map(|i| (b[i] - a[i]).powi(2)).sum::<f64>().sqrt()
}

/// The row of a component whose words are all there.
#[track_caller]
pub(crate) fn row<'a>(
    answer: &'a v1::CheckProjectResponse,
    component: &str,
    words: &str,
) -> &'a v1::Row {
    let found: Vec<_> = answer
        .rows
        .iter()
        .filter(|r| r.component.contains(component) && r.what.contains(words))
        .collect();
    let rows = answer.rows.iter();
    let list: Vec<_> = rows.map(|r| format!("{} / {}", r.component, r.what)).collect();
    assert!(!found.is_empty(), "no row of {component} says {words}: {:#?}", list);
    assert_eq!(found.len(), 1, "rows of {component} that say {words}: {found:#?}");
    found[0]
}

/// Its utilisation in a case.
#[track_caller]
pub(crate) fn used(answer: &v1::CheckProjectResponse, row: &v1::Row, case: &str) -> f64 {
    assert_ne!(row.state(), State::NotChecked, "{}: {}", row.what, row.not_checked_reason);
    row.utilisation_by_case[place(answer, case)]
}

fn place(answer: &v1::CheckProjectResponse, case: &str) -> usize {
    let found = answer.cases.iter().position(|c| c.name == case && !c.mirrored);
    found.unwrap_or_else(|| panic!("no case {case}"))
}

/// The interface of a name, by how its ends are held where that is said.
#[track_caller]
pub(crate) fn interface<'a>(
    answer: &'a v1::CheckProjectResponse,
    name: &str,
    held: &str,
) -> &'a v1::InterfaceAnswer {
    let names: Vec<_> = answer.interfaces.iter().map(|i| (&i.name, &i.assumption)).collect();
    let found = answer.interfaces.iter().find(|i| i.name == name && i.assumption.contains(held));
    found.unwrap_or_else(|| panic!("no interface {name} {held}: {names:?}"))
}

/// Where its moments are taken, and force and moment across it in a case, N and N mm.
#[track_caller]
pub(crate) fn crossing(
    answer: &v1::CheckProjectResponse,
    name: &str,
    held: &str,
    case: &str,
) -> ([f64; 3], [f64; 6]) {
    let interface = interface(answer, name, held);
    let w = &interface.wrenches[place(answer, case)];
    let about = interface.about.expect("an interface says where its moments are taken");
    (
        [about.x_mm, about.y_mm, about.z_mm],
        [w.force_x_n, w.force_y_n, w.force_z_n, w.moment_x_nmm, w.moment_y_nmm, w.moment_z_nmm],
    )
}

/// A force at a place, moved to another: force and moment (statics).
pub(crate) fn moved(force: [f64; 3], from: [f64; 3], to: [f64; 3]) -> [f64; 6] {
    let [x, y, z] = [from[0] - to[0], from[1] - to[1], from[2] - to[2]];
    let [fx, fy, fz] = force;
    [fx, fy, fz, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx]
}
