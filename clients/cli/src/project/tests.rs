// What the demo files say, read by eye.

use super::*;

const VAN_A: &str = include_str!("../../demo/van-a.toml");
const VAN_B: &str = include_str!("../../demo/van-b.toml");
const ESTATE: &str = include_str!("../../demo/estate.toml");
const VAN_MIN: &str = include_str!("../../demo/van-min.toml");

fn load(text: &str) -> Loaded {
    read(text).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn mm(length: &Option<v1::Length>) -> f64 {
    length.as_ref().unwrap().value_mm
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9
}

#[test]
fn design_a_is_read_whole() {
    let loaded = load(VAN_A);
    let p = &loaded.project;
    assert!(p.symmetric && p.rules.as_ref().is_some_and(|r| r.pack == "EN 1993"));
    let car = p.car.as_ref().unwrap();
    assert!(close(car.mass.as_ref().unwrap().value_kg, 2050.0));
    let height = car.cg_height.as_ref().unwrap();
    assert!(height.guessed && close(height.low_mm.unwrap(), 710.0));
    let torque = p.drive.as_ref().unwrap().torque.as_ref().unwrap();
    assert!(close(torque.value_nmm, 250e3));
    assert_eq!(p.mounts[0].name, "front");
    assert!(close(p.mounts[1].at.unwrap().y_mm.unwrap(), 405.0));
    let radial = p.bushes[0].radial.as_ref().unwrap();
    assert!(close(radial.high_n_per_mm.unwrap(), 7000.0));
    let rail = &p.rails[0];
    assert_eq!(rail.readings.len(), 7);
    assert!(close(rail.readings[2].x_mm, 330.0) && close(mm(&rail.readings[2].thickness), 2.2));
    assert!(close(mm(&rail.web), 425.0) && close(mm(&rail.from), -700.0));
    let names: Vec<&str> = p.parts.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(names, ["front-bracket", "cross", "cross-end"]);
    assert_eq!(p.parts[0].steel, "S275");
    let Some(v1::part::Form::Bar(bar)) = &p.parts[1].form else { panic!("a bar") };
    assert_eq!(bar.between[1], "part.cross-end.right.inboard");
    assert_eq!(bar.legs, [v1::Direction::XPlus as i32, v1::Direction::ZPlus as i32]);
    assert_eq!(p.welds.len(), 2);
    assert_eq!(p.bolts.len(), 3);
    assert_eq!(p.bolts[1].at.len(), 2);
    assert_eq!(p.bolts[0].thread, "M12");
    assert_eq!(p.cases.len(), 10);
    let pothole = p.cases.iter().find(|c| c.name == "P1").unwrap();
    assert_eq!(pothole.kind, v1::CaseKind::PotholeBraked as i32);
    assert_eq!(pothole.side, v1::Side::Left as i32);
    assert_eq!(pothole.class, v1::CaseClass::Abuse as i32);
    assert!(close(pothole.field.as_ref().unwrap().value_g, 2.0));
    let own = &p.rules.as_ref().unwrap().factors;
    assert!(own.iter().any(|f| f.symbol == "gamma_m2" && close(f.value, 1.25)));
}

#[test]
fn design_b_is_read_whole() {
    let p = load(VAN_B).project;
    assert_eq!(p.parts.len(), 9);
    let form =
        |name: &str| p.parts.iter().find(|p| p.name == name).and_then(|p| p.form.clone()).unwrap();
    let v1::part::Form::Plate(doubler) = form("front-doubler") else { panic!("a plate") };
    assert_eq!(doubler.outline, v1::Outline::Spear as i32);
    assert!(close(doubler.size.unwrap().x_mm.unwrap(), 200.0));
    let v1::part::Form::Plate(boxing) = form("front-box") else { panic!("a plate") };
    assert!(close(mm(&boxing.to), 580.0) && boxing.centre.is_none());
    let v1::part::Form::Gusset(gusset) = form("front-gusset") else { panic!("a gusset") };
    assert_eq!(gusset.at.len(), 2);
    let v1::part::Form::Sleeve(sleeve) = form("front-sleeve") else { panic!("a sleeve") };
    assert!(close(sleeve.outside_mm, 28.0) && close(sleeve.bore_mm, 15.0));
    let weld = |name: &str| p.welds.iter().find(|w| w.name == name).unwrap();
    assert_eq!(weld("front-plugs").points.len(), 4);
    assert!(close(weld("front-box").stitch_off_mm.unwrap(), 40.0) && weld("front-box").sealed);
    assert!(weld("front-gusset-foot").both_sides);
    assert_eq!(weld("front-gusset-foot").along, v1::WeldPath::LegZ as i32);
    assert_eq!(p.bolts.iter().find(|b| b.name == "cross-end").unwrap().at.len(), 4);
}

#[test]
fn a_cargo_its_feet_and_what_throws_it_are_read() {
    let loaded = load(ESTATE);
    let p = &loaded.project;
    let battery = &p.cargo[0];
    assert_eq!((battery.name.as_str(), battery.weighed), ("battery", Some(true)));
    assert!(close(battery.mass.as_ref().unwrap().value_kg, 120.0));
    assert!(close(battery.centre.unwrap().x_mm.unwrap(), 2500.0));
    let carries: Vec<&str> = p.mounts.iter().map(|m| m.carries.as_str()).collect();
    assert_eq!(carries, ["", "", "cargo.battery", "cargo.battery"]);
    let thrown: Vec<_> = p.cases.iter().filter(|c| c.of == "cargo.battery").collect();
    let kinds: Vec<v1::CaseKind> = thrown.iter().map(|c| c.kind()).collect();
    use v1::CaseKind::{RestraintDown, RestraintForward, RestraintRearward, RestraintSideways};
    let up = v1::CaseKind::RestraintUp;
    assert_eq!(kinds, [RestraintForward, RestraintRearward, RestraintSideways, up, RestraintDown]);
    assert!(thrown.iter().all(|c| c.class() == v1::CaseClass::Restraint));
    assert!(close(thrown[0].rate.as_ref().unwrap().value_g, 20.0));
    assert_eq!(thrown[2].side(), v1::Side::Left);
    let factor = p.factors.as_ref().unwrap().restraint.as_ref().unwrap();
    assert!(close(factor.value, 1.0));
    for (path, text) in [
        ("cargo[0].mass", "\"120 kg\""),
        ("cargo[0].weighed", "true"),
        ("mounts[2].carries", "\"cargo.battery\""),
        ("cases[11].of", "\"cargo.battery\""),
        ("cases[11].class", "\"restraint\""),
        ("factors.restraint", "\"1.0\""),
        ("cargo[0]", "[cargo.battery]"),
    ] {
        let span = loaded.places.find(path).unwrap_or_else(|| panic!("{path}"));
        let found = ESTATE.get(span).unwrap();
        assert!(found.starts_with(text), "{path}: {found}");
    }
}

#[test]
fn the_shortest_file_is_read_whole() {
    let p = load(VAN_MIN).project;
    assert_eq!(p.parts[0].datums, ["mount.front", "mount.rear"]);
    assert_eq!(p.bolts[0].through, ["mount", "part.bracket.floor"]);
    assert_eq!(p.case_set, v1::CaseSet::Road as i32);
    assert!(p.cases.is_empty());
    assert_eq!(p.rules.unwrap().factors, []);
}

/// The rarer words, put into the shortest file.
#[test]
fn what_the_demo_files_leave_out_is_read_too() {
    let text = VAN_MIN
        .replace(
            "mass       = \"2050 kg\"\n",
            "corner_scales = { front_left = \"372 kg\", front_right = \"370 kg\", rear_left = \
             \"650 kg\", rear_right = \"658 kg\" }\nlifted = { by = \"600 mm\", front_gains = \
             \"31.5 kg\" }\n",
        )
        .replace("cg_ahead   = \"987 mm\"\n", "")
        .replace("cg_height  = \"~760 mm ± 50\"\n", "")
        .replace("[mount.rear]", "[added.battery]\nmass = \"120 kg\"\nat = \"2500, 10, 470 mm\"\n\n[mount.rear]")
        .replace("lands = \"bolt.bush\"\n\n[steel", "lands = \"part.spacer\"\nseat = \"30 mm\"\nfit_up_gap = \"1/8 in\"\nonly = \"left\"\n\n[steel")
        .replace("web_is  =", "held = \"x -600, x 800 mm\"\nweb_is_right = \"2.3, 2.5 mm\"\nweb_is  =")
        .replace("[weld.foot]", "[part.spacer]\nblock = \"round 60, height 45 mm rail-steel\"\non = \"part.plate.under\"\ncentre = \"x 360, y 485 mm\"\n\n[part.plate]\nplate = \"3 mm S275\"\non = \"rail.frame.bottom.under\"\ncentre = \"x 0, y 0 mm\"\noutline = [\"x 0, y 0 mm\", \"x 50, y 0 mm\", \"x 0, y 50 mm\"]\n\n[part.tie]\nbar = \"box 50 x 50 x 3 mm S235\"\naxis = \"x -300, z 380 mm\"\nbetween = [\"rail.frame.left.web.inboard\", \"rail.frame.right.web.inboard\"]\n\n[weld.foot]\ngap = \"1 mm\"")
        .replace("along = \"walls\"", "along = [\"x 0, z 0 mm\", \"x 0, z 40 mm\"]")
        .replace("axial  = \"~1800 N/mm ×÷ 2\"", "axial  = \"~1800 N/mm ×÷ 2\"\ntorsional = \"12 N m/rad\"\nconical = \"40 N m/rad\"");
    let p = load(&text).project;
    let car = p.car.as_ref().unwrap();
    assert!(close(
        car.corner_scales.as_ref().unwrap().front_left.as_ref().unwrap().value_kg,
        372.0
    ));
    assert!(close(mm(&car.lifted.as_ref().unwrap().lift), 600.0));
    assert_eq!(car.added_masses[0].name, "battery");
    let rear = &p.mounts[1];
    assert!(close(mm(&rear.seat), 30.0) && close(mm(&rear.fit_up_gap), 3.175));
    assert_eq!(rear.only, v1::Side::Left as i32);
    assert_eq!(p.rails[0].held_x_mm, [-600.0, 800.0]);
    assert!(close(mm(&p.rails[0].readings_right[1].thickness), 2.5));
    assert!(close(p.bushes[0].torsional.as_ref().unwrap().value_nmm_per_rad, 12e3));
    assert_eq!(p.welds[0].along, v1::WeldPath::Points as i32);
    assert!(close(mm(&p.welds[0].gap), 1.0));
    assert_eq!(p.parts.iter().find(|p| p.name == "spacer").unwrap().steel, "rail-steel");
}

#[test]
fn a_second_opinion_may_be_put_aside_with_a_reason() {
    let text = format!(
        "{VAN_A}\n[second_opinion]\n\"weld.front-foot\" = \"hand statics: boxed behind\"\n\
         bolt.front-bush = \"hand statics:  measured\"\n"
    );
    let loaded = load(&text);
    let read: Vec<(&str, &str)> =
        loaded.project.opinions.iter().map(|o| (o.joint.as_str(), o.why.as_str())).collect();
    let mut sorted = read.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, [("bolt.front-bush", "measured"), ("weld.front-foot", "boxed behind")]);
    let at = read.iter().position(|(joint, _)| *joint == "weld.front-foot").unwrap();
    let span = loaded.places.find(&format!("project.opinions[{at}].joint")).unwrap();
    assert!(text[span].contains("boxed behind"));
    for (line, parts) in [
        ("\"weld.front-foot\" = \"plates\"", ["does not begin with \"hand statics:\"", "reason"]),
        ("\"weld.front-foot\" = \"hand statics: \"", ["gives no reason", "stands in the answer"]),
        ("\"front-foot\" = \"hand statics: x\"", ["`front-foot` is no joint", "weld.front-foot"]),
        ("\"welds.front-foot\" = \"hand statics: x\"", ["no weld, bolt or part", "`weld`"]),
        ("\"weld.front-foot\" = 2", ["a bare number", ""]),
    ] {
        let faults = read_faults(&format!("{VAN_A}\n[second_opinion]\n{line}\n"));
        let told = format!("{} {}", faults[0].what, faults[0].advice);
        assert_eq!(faults.len(), 1, "{faults:#?}");
        assert!(parts.iter().all(|part| told.contains(part)), "{told}");
    }
}

fn read_faults(text: &str) -> Vec<Fault> {
    super::read(text).expect_err("the file has a fault")
}

#[test]
fn every_field_knows_its_line() {
    let loaded = load(VAN_A);
    for (path, text) in [
        ("title", "\"Van, design A\""),
        ("car.cg_height", "\"~760 mm ± 50\""),
        ("rails[0].readings[2].thickness", "\"2.9, 2.7, 2.2, 2.6, 2.5, 2.4, 2.8 mm ± 0.1\""),
        ("rails[0].channel.wall_mm", "\"channel 100 x 45 x 3 mm\""),
        ("parts[0].folded.thickness", "\"U 5 mm S275\""),
        ("parts[0].steel", "\"U 5 mm S275\""),
        ("project.mounts[1].at.y_mm", "\"-290, 405, 440 mm ± 1.5\""),
        ("welds[1].joins[1]", "\"part.cross-end\""),
        ("bolts[1].at[1]", "\"x -250, z 470 mm\""),
        ("bolts[0].tightening.scatter", "\"torque wrench, scatter 1.8, thread friction 0.14\""),
        ("cases[7].field", "\"2 g\""),
        ("parts[2]", "[part.cross-end]"),
        ("bolts[2].washer_thickness_mm", "\"24 x 2.5 mm\""),
    ] {
        let span = loaded.places.find(path).unwrap_or_else(|| panic!("{path}"));
        let found = VAN_A.get(span).unwrap();
        assert!(found.starts_with(text), "{path}: {found}");
    }
}

#[test]
fn every_kind_of_case_has_its_words() {
    let phrases = [
        "standing",
        "bump",
        "rebound",
        "twist, left wheel up",
        "brake",
        "brake backwards",
        "drive",
        "drive backwards",
        "corner left",
        "kerb left",
        "pothole left, brake locked",
        "pothole left, edge",
        "corner left and brake",
        "jack, centre",
        "jack, left",
        "lift",
        "tow forward",
        "tow rearward",
        "tie-down forward",
        "tie-down rearward",
        "tie-down sideways",
        "restraint forward",
        "restraint rearward",
        "restraint left",
        "restraint up",
        "restraint down",
    ];
    let lines: Vec<String> = phrases
        .iter()
        .enumerate()
        .map(|(at, is)| format!("c{at} = {{ is = \"{is}\", kind = \"normal\" }}"))
        .collect();
    let text = VAN_MIN.replace("set = \"road\"", &lines.join("\n"));
    let kinds: Vec<i32> = load(&text).project.cases.iter().map(|c| c.kind).collect();
    // The contract numbers them 1 to 26 in this order.
    assert_eq!(kinds, (1..=26).collect::<Vec<i32>>());
}

#[test]
fn the_rarer_words_of_cases_are_read() {
    let text = VAN_MIN
        .replace("grip       = \"0.9\"", "grip = 0.9\nrotor_inertia = \"0.05 kg m²\"")
        .replace("grip       = \"~1.1\"", "grip = \"~1.1\"\ninboard = true")
        .replace(
            "set = \"road\"",
            "C1 = { is = \"corner left\", kind = \"normal\", rate = \"0.8 g\", roll = { \
             unsprung_front = \"90 kg\", unsprung_rear = \"110 kg\", unsprung_height = \"300 mm\", \
             centre_front = \"60 mm\", centre_rear = \"140 mm\", front = \"30 kN m/rad\", rear = \
             \"20 kN m/rad\" } }\nJ1 = { is = \"jack, centre\", kind = \"abuse\", at = \"-20, 0, 200 \
             mm\" }\nT1 = { is = \"twist, right wheel up\", kind = \"normal\", pure_couple = true }\n\
             D3 = { is = \"drive\", kind = \"abuse\", wheel_speed_change = \"20 rad/s\", within = \
             \"0.05 s\" }\nL1 = { is = \"tie-down sideways, left\", kind = \"abuse\", strap_slope = \
             \"45 deg\", strap_pretension = \"5 kN\" }",
        );
    let p = load(&text).project;
    assert!(close(p.drive.as_ref().unwrap().rotor_inertia_kg_m2.unwrap(), 0.05));
    assert!(p.brakes.as_ref().unwrap().inboard);
    let roll = p.cases[0].roll.as_ref().unwrap();
    assert!(close(roll.front_nmm_per_rad, 30e6) && close(roll.unsprung_rear_kg, 110.0));
    assert!(close(p.cases[1].at.unwrap().z_mm.unwrap(), 200.0));
    assert!(p.cases[2].pure_couple && p.cases[2].side == v1::Side::Right as i32);
    assert!(close(p.cases[3].change_duration_s.unwrap(), 0.05));
    assert!(close(p.cases[4].strap_pretension_n.unwrap(), 5000.0));
    assert!(close(p.cases[4].strap_slope_deg.unwrap(), 45.0));
}

#[test]
fn an_old_rail_and_who_welds_on_it_are_read() {
    let text = VAN_MIN
        .replace(
            "web_is  = \"2.2, 2.4 mm\"",
            "web_is  = [\"2.2, 2.3, 2.1 mm\", \"~2.4 mm\"]\npitting = \"2\"\ncoat = \"0.1 mm\"\ncorrosion = \
             \"C4, 20 years, outside sealed, inside unsealed\"\ndamage = [\"hole at x 250 mm\", \"crack at \
             x -290 mm, right\"]",
        )
        .replace(
            "[weld.foot]",
            "[welding]\nquality = \"0.8\"\nwelded_by = \"a friend\"\ninspected = \"by eye\"\n\n[weld.foot]\n\
             quality = 1\nwelded_by = \"a coded welder\"\ninspected = \"dye\"",
        );
    let loaded = load(&text);
    let rail = &loaded.project.rails[0];
    let readings: Vec<(f64, f64)> =
        rail.readings.iter().map(|r| (r.x_mm, mm(&r.thickness))).collect();
    assert_eq!(readings, [(330.0, 2.2), (330.0, 2.3), (330.0, 2.1), (-290.0, 2.4)]);
    assert!(rail.readings[3].thickness.as_ref().unwrap().guessed);
    assert!(close(rail.pitting_factor.as_ref().unwrap().value, 2.0) && close(mm(&rail.coat), 0.1));
    assert_eq!(rail.corrosion.as_ref().unwrap().inside(), v1::FaceState::Unsealed);
    assert_eq!(rail.damage.len(), 2);
    let span = loaded.places.find("rails[0].readings[3].thickness").unwrap();
    assert_eq!(text.get(span), Some("\"~2.4 mm\""));
    let made = loaded.project.workmanship.as_ref().unwrap();
    assert_eq!((made.welded_by.as_str(), made.inspected.as_str()), ("a friend", "by eye"));
    let own = loaded.project.welds[0].workmanship.as_ref().unwrap();
    assert!(close(own.quality.as_ref().unwrap().value, 1.0) && own.inspected == "dye");
    let span = loaded.places.find("workmanship.quality").unwrap();
    assert_eq!(text.get(span), Some("\"0.8\""));
}

#[test]
fn who_welds_is_said_whole_or_not_at_all() {
    let told = |lines: &str| {
        let text = VAN_MIN.replace("[weld.foot]", &format!("[welding]\n{lines}\n\n[weld.foot]"));
        read(&text).unwrap_err().into_iter().map(|f| f.what + &f.advice).collect::<String>()
    };
    assert!(told("quality = \"0.8\"").contains("does not say `welded_by`"));
    assert!(told("welded_by = \"me\"\ninspected = \"me\"").contains("does not say `quality`"));
    assert!(told("inspected = \"me\"").contains("stands without `quality`"));
}

#[test]
fn the_old_rail_is_read_whole() {
    let p = load(include_str!("../../demo/old-rail.toml")).project;
    let rail = &p.rails[0];
    assert_eq!(rail.steel, "unknown");
    // Four stations with one, four, one and three readings.
    assert_eq!(rail.readings.len(), 9);
    assert_eq!(rail.readings.iter().filter(|r| close(r.x_mm, 330.0)).count(), 4);
    assert_eq!(rail.damage[0].side(), v1::Side::Left);
    let Some(v1::part::Form::Plate(plate)) = &p.parts[0].form else { panic!("a plate") };
    assert!(close(plate.fishplate_ends_deg.unwrap(), 40.0));
    assert!(close(mm(&p.welds[1].fused), 8.0));
    assert!(close(p.workmanship.as_ref().unwrap().quality.as_ref().unwrap().value, 0.8));
}
