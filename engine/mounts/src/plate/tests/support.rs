//! Designs to make plates of.

use fishplate_quantity::written::{Quantity, Written, parse};
use fishplate_strength::packs;

use crate::describe::{
    Axis, Bar, BarShape, Bead, Bolt, BoltEnd, Brakes, Bush, Car, CaseClass, CaseKind, Cradle,
    Direction, Drive, DrivenAxle, FacePreparation, Factors, FoldOpening, FoldedU, Form, Gusset,
    LoadCase, Mount, Opening, Outline, Part, Place, Plate, Project, Rail, RailSection, Reading,
    RuleChoice, Sleeve, SpringSeat, Springs, Steel, Tightening, Weld, WeldPath,
};

fn w<Q: Quantity>(text: &str) -> Written<Q> {
    parse(text).expect("a quantity of a test")
}

fn n(value: f64) -> Written<f64> {
    Written::exact(value)
}

/// A place in mm.
fn at(x: Option<f64>, y: Option<f64>, z: Option<f64>) -> Place {
    let m = |v: Option<f64>| v.map(|v| v * 1e-3);
    Place { x: m(x), y: m(y), z: m(z), spread: None, guessed: false }
}

fn xz(x: f64, z: f64) -> Place {
    at(Some(x), None, Some(z))
}

pub(crate) fn part(name: &str, steel: &str, datum: &str, form: Form) -> Part {
    let datums = if datum.is_empty() { Vec::new() } else { vec![datum.to_owned()] };
    Part { name: name.to_owned(), datums, only: None, steel: steel.to_owned(), form }
}

pub(crate) fn plate(t: &str, on: &str, centre: Place, outline: Outline) -> Form {
    let (thickness, on) = (w(t), on.to_owned());
    Form::Plate(Plate { thickness, on, centre: Some(centre), outline, fishplate: None })
}

pub(crate) fn folded(t: &str, on: &str, centre: Place, foot: (f64, f64), reach: &str) -> Form {
    Form::Folded(FoldedU {
        thickness: w(t),
        on: on.to_owned(),
        centre,
        foot: xz(foot.0, foot.1),
        reach: w(reach),
        open: FoldOpening::Up,
    })
}

pub(crate) fn fillet(
    name: &str,
    joins: [&str; 2],
    leg: &str,
    along: WeldPath,
    both_sides: bool,
) -> Weld {
    Weld {
        name: name.to_owned(),
        datums: Vec::new(),
        only: None,
        joins: joins.map(str::to_owned).to_vec(),
        bead: Bead::Fillet { leg: w(leg), both_sides },
        along,
        points: Vec::new(),
        stitches: None,
        sealed: false,
        gap: None,
        workmanship: None,
    }
}

pub(crate) fn bolt(name: &str, size: (&str, &str), through: &[&str], hole: &str) -> Bolt {
    Bolt {
        name: name.to_owned(),
        datums: Vec::new(),
        only: None,
        thread: size.0.to_owned(),
        class: size.1.to_owned(),
        through: through.iter().map(|t| (*t).to_owned()).collect(),
        at: Vec::new(),
        hole: w(hole),
        washer: Some((28e-3, 4e-3)),
        faces: FacePreparation::Bare,
        friction: n(0.2),
        tightening: Tightening {
            method: "torque wrench".to_owned(),
            scatter: n(1.6),
            thread_friction: n(0.14),
        },
        ends: BoltEnd::Nut,
    }
}

fn case(name: &str, kind: CaseKind, class: CaseClass) -> LoadCase {
    LoadCase {
        name: name.to_owned(),
        kind,
        class,
        side: None,
        field: None,
        rate: None,
        brake_rate: None,
        factor: None,
        shock: None,
        grip: None,
        rear_share: None,
        roll: None,
        at: None,
        pure_couple: false,
        rotor_shock: None,
        strap_slope: None,
        strap_pretension: None,
        of: String::new(),
    }
}

fn mount(name: &str, at: Place, lands: &str) -> Mount {
    Mount {
        name: name.to_owned(),
        at,
        bush: "rubber".to_owned(),
        lands: lands.to_owned(),
        seat: None,
        fit_up_gap: None,
        only: None,
        carries: String::new(),
        lost: None,
    }
}

/// A van on two channels, a cradle on four bushes; nothing between bushes and rails yet.
pub(crate) fn van() -> Project {
    let stations = [600.0, 450.0, 330.0, 150.0, -100.0, -290.0, -500.0];
    let left = ["2.9 mm", "2.7 mm", "2.2 mm", "2.6 mm", "2.5 mm", "2.4 mm", "2.8 mm"];
    let bump = case("V3", CaseKind::Bump, CaseClass::Normal);
    let brake = case("B1", CaseKind::Brake, CaseClass::Normal);
    Project {
        title: "Van".to_owned(),
        rules: RuleChoice {
            pack: packs::pack("EN 1993").expect("the Eurocode pack"),
            rules: packs::Rules {
                edition: None,
                format: None,
                national: None,
                strengths: None,
                own: Vec::new(),
            },
        },
        symmetric: true,
        car: Car {
            mass: Some(w("2050 kg")),
            wheelbase: w("2350 mm"),
            cg_ahead: Some(w("987 mm")),
            cg_height: Some(w("760 mm")),
            front_track: None,
            rear_track: w("1420 mm"),
            wheel_radius: w("310 mm"),
            corner_scales: None,
            axle_scales: None,
            lifted: None,
            added_masses: Vec::new(),
        },
        drive: Some(Drive {
            axle: DrivenAxle::Rear,
            torque: w("250 N m"),
            ratio: n(9.1),
            efficiency: n(0.96),
            grip: n(0.9),
            rotor_inertia: None,
        }),
        brakes: Some(Brakes {
            rear_share: n(0.4),
            rear_share_backwards: None,
            grip: n(1.1),
            inboard: false,
        }),
        springs: Springs {
            seat_on: SpringSeat::Body,
            seat: Some(at(Some(-60.0), Some(530.0), Some(560.0))),
            motion_ratio: Some(n(0.72)),
        },
        cradle: Cradle {
            mass: w("145 kg"),
            centre: at(Some(-20.0), Some(0.0), Some(330.0)),
            wheel_mass: w("46 kg"),
        },
        cargo: Vec::new(),
        bushes: vec![Bush {
            name: "rubber".to_owned(),
            axis: Axis::Z,
            radial: w("3500 N/mm"),
            axial: w("1800 N/mm"),
            torsional: None,
            conical: None,
            stop: None,
            stop_rate: None,
        }],
        mounts: vec![
            mount("front", at(Some(330.0), Some(480.0), Some(420.0)), ""),
            mount("rear", at(Some(-290.0), Some(310.0), Some(436.0)), ""),
        ],
        steels: vec![Steel {
            name: "rail-steel".to_owned(),
            fy: w("235 MPa"),
            fu: w("360 MPa"),
            beta_w: Some(n(0.8)),
        }],
        rails: vec![Rail {
            name: "frame".to_owned(),
            section: RailSection::Channel {
                height: 0.1,
                flange: 0.045,
                wall: 0.003,
                opens: Opening::Inward,
            },
            steel: "rail-steel".to_owned(),
            web: w("425 mm"),
            bottom: w("420 mm"),
            from: w("-700 mm"),
            to: w("900 mm"),
            readings: stations
                .iter()
                .zip(left)
                .map(|(x, t)| Reading { x: x * 1e-3, thickness: w(t) })
                .collect(),
            readings_right: Vec::new(),
            held: Vec::new(),
            only: None,
            pitting: None,
            coat: None,
            corrosion: None,
            damage: Vec::new(),
        }],
        parts: Vec::new(),
        welds: Vec::new(),
        bolts: Vec::new(),
        cases: vec![
            LoadCase { field: Some(w("3 g")), ..bump },
            LoadCase { rate: Some(w("1.1 g")), ..brake },
        ],
        case_set: None,
        factors: Factors { normal: n(1.5), abuse: n(1.5), restraint: None },
        duty: None,
        workmanship: None,
        weld_metal: None,
        opinions: Vec::new(),
    }
}

/// A folded U on the bare web under the front mount.
pub(crate) fn bare_front() -> Project {
    let mut project = van();
    project.mounts[0].lands = "bolt.front-bush".to_owned();
    let u = folded("5 mm", "rail.frame.web.outboard", xz(0.0, 40.0), (60.0, 80.0), "85 mm");
    project.parts.push(part("front-bracket", "S275", "mount.front", u));
    project.welds.push(fillet(
        "front-foot",
        ["part.front-bracket", "rail.frame.web.outboard"],
        "4 mm",
        WeldPath::Walls,
        false,
    ));
    let through = ["mount.front", "part.front-bracket.floor"];
    project.bolts.push(bolt("front-bush", ("M14", "10.9"), &through, "15 mm"));
    project
}

/// A folded U welded on a thick plate that four bolts hold on the web.
pub(crate) fn bolted_front() -> Project {
    let mut project = bare_front();
    let web = "rail.frame.web.outboard";
    let form = plate("8 mm", web, xz(0.0, 50.0), Outline::Rectangle(xz(100.0, 76.0)));
    project.parts.insert(0, part("front-plate", "S275", "mount.front", form));
    if let Form::Folded(u) = &mut project.parts[1].form {
        u.on = "part.front-plate.outboard".to_owned();
        u.centre = xz(0.0, 50.0);
        u.foot = xz(50.0, 70.0);
    }
    project.welds[0].joins[1] = "part.front-plate".to_owned();
    let at = [(-38.0, 25.0), (38.0, 25.0), (-38.0, 75.0), (38.0, 75.0)];
    project.bolts.push(Bolt {
        datums: vec!["mount.front".to_owned()],
        at: at.iter().map(|(x, z)| xz(*x, *z)).collect(),
        washer: Some((16e-3, 1.6e-3)),
        ..bolt("front-plate", ("M8", "8.8"), &["part.front-plate", "rail.frame.web"], "9 mm")
    });
    project
}

/// The same with places where the body holds the rails, m.
pub(crate) fn held(mut project: Project, at: &[f64]) -> Project {
    project.rails[0].held = at.to_vec();
    project
}

/// The same with the front mount so far out that its hole breaks the edge of the floor.
pub(crate) fn beside(mut project: Project) -> Project {
    project.mounts[0].at.y = Some(0.506);
    project
}

/// Bracket, gussets, doubler outside; rail boxed inside with sleeves.
pub(crate) fn stiff_front() -> Project {
    let mut project = van();
    project.mounts[0].lands = "bolt.front-bush".to_owned();
    let web = "rail.frame.web.outboard";
    let doubler = "part.front-doubler.outboard";
    let spear = Outline::Spear { size: xz(200.0, 84.0), end_angle: std::f64::consts::FRAC_PI_4 };
    let parts = &mut project.parts;
    let form = plate("3 mm", web, xz(0.0, 42.0), spear);
    parts.push(part("front-doubler", "S275", "mount.front", form));
    let form = folded("5 mm", doubler, xz(0.0, 40.0), (110.0, 80.0), "85 mm");
    parts.push(part("front-bracket", "S275", "mount.front", form));
    let gusset = Form::Gusset(Gusset {
        thickness: w("4 mm"),
        corner: vec![doubler.to_owned(), "part.front-bracket.floor".to_owned()],
        legs: at(None, Some(55.0), Some(60.0)),
        at: vec![at(Some(-27.0), None, None), at(Some(27.0), None, None)],
    });
    parts.push(part("front-gusset", "S275", "mount.front", gusset));
    let mouth = Form::Plate(Plate {
        thickness: w("3 mm"),
        on: "rail.frame.mouth".to_owned(),
        centre: None,
        outline: Outline::Mouth { from: w("80 mm"), to: w("580 mm") },
        fishplate: None,
    });
    parts.push(part("front-box", "S235", "", mouth));
    let places = vec![xz(-70.0, 40.0), xz(70.0, 40.0)];
    let sleeve = Form::Sleeve(Sleeve {
        outside: 0.028,
        bore: 0.015,
        spans: vec!["rail.frame.web.inboard".to_owned(), "part.front-box".to_owned()],
        at: places.clone(),
        proud: None,
        length: None,
    });
    parts.push(part("front-sleeve", "S235", "mount.front", sleeve));
    let welds = &mut project.welds;
    let foot = ["part.front-bracket", "part.front-doubler"];
    welds.push(fillet("front-foot", foot, "4 mm", WeldPath::Walls, false));
    let foot = ["part.front-gusset", "part.front-doubler"];
    welds.push(fillet("front-gusset-foot", foot, "3 mm", WeldPath::Leg(2), true));
    let floor = ["part.front-gusset", "part.front-bracket.floor"];
    welds.push(fillet("front-gusset-floor", floor, "3 mm", WeldPath::Leg(1), true));
    let round = ["part.front-doubler", web];
    welds.push(fillet("front-doubler", round, "2.5 mm", WeldPath::AllRound, false));
    let plugs = [(-40.0, 20.0), (40.0, 20.0), (-40.0, 60.0), (40.0, 60.0)];
    welds.push(Weld {
        bead: Bead::Plug { diameter: w("10 mm"), fused: None },
        datums: vec!["mount.front".to_owned()],
        points: plugs.iter().map(|(x, z)| xz(*x, *z)).collect(),
        ..fillet("front-plugs", round, "3 mm", WeldPath::Points, false)
    });
    let edges = ["part.front-box", "rail.frame"];
    welds.push(Weld {
        stitches: Some((0.04, 0.04)),
        ..fillet("front-box", edges, "3 mm", WeldPath::LongEdges, false)
    });
    let through = ["mount.front", "part.front-bracket.floor"];
    project.bolts.push(bolt("front-bush", ("M14", "10.9"), &through, "15 mm"));
    let through = ["part.front-doubler", "rail.frame.web", "part.front-sleeve", "part.front-box"];
    project.bolts.push(Bolt {
        datums: vec!["mount.front".to_owned()],
        at: places,
        ..bolt("front-through", ("M14", "10.9"), &through, "15 mm")
    });
    project
}

/// A heavy angle between the rails under the rear mounts, bolted through backing plates.
pub(crate) fn rear(mut project: Project) -> Project {
    project.mounts[1].lands = "bolt.rear-bush".to_owned();
    let inboard = "rail.frame.web.inboard";
    let rectangle = |x: f64, z: f64| Outline::Rectangle(xz(x, z));
    let parts = &mut project.parts;
    let form = plate("3 mm", inboard, xz(-290.0, 470.0), rectangle(120.0, 84.0));
    parts.push(part("rear-backing", "S275", "", form));
    let form =
        plate("8 mm", "part.rear-backing.inboard", xz(-290.0, 470.0), rectangle(120.0, 84.0));
    parts.push(part("cross-end", "S275", "", form));
    let angle = Form::Bar(Bar {
        shape: BarShape::Angle { leg_a: 0.08, leg_b: 0.08, thickness: 0.008 },
        line: xz(-335.0, 436.0),
        legs: vec![Direction { axis: 0, positive: true }, Direction { axis: 2, positive: true }],
        between: vec![
            "part.cross-end.left.inboard".to_owned(),
            "part.cross-end.right.inboard".to_owned(),
        ],
    });
    parts.push(part("cross", "S275", "", angle));
    let welds = &mut project.welds;
    welds.push(fillet(
        "rear-backing",
        ["part.rear-backing", inboard],
        "2.5 mm",
        WeldPath::AllRound,
        false,
    ));
    welds.push(fillet(
        "cross-end",
        ["part.cross", "part.cross-end"],
        "5 mm",
        WeldPath::AllRound,
        false,
    ));
    let through = ["part.cross-end", "part.rear-backing", "rail.frame.web"];
    project.bolts.push(Bolt {
        at: vec![xz(-310.0, 460.0), xz(-250.0, 460.0), xz(-310.0, 495.0), xz(-250.0, 495.0)],
        washer: Some((24e-3, 2.5e-3)),
        ..bolt("cross-end", ("M12", "10.9"), &through, "13 mm")
    });
    let through = ["mount.rear", "part.cross.leg-x"];
    project.bolts.push(bolt("rear-bush", ("M14", "10.9"), &through, "15 mm"));
    project
}
