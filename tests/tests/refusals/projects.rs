//! Projects that cannot be used. The good one is the demo `clients/cli/demo/van-a.toml`.

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::part::Form;
use fishplate_proto::v1::{CheckProjectRequest, Project};
use fishplate_tests::project::{g, kg, mm, n_per_mm, number, thrown, with_battery};
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;
use tonic::{Code, Status};

use crate::input::{Bad, assert_refused};

fn good() -> Project {
    from_json("Project", include_str!("../../data/van_a.json")).expect("the fixture is a project")
}

fn call(project: &Project) -> Result<(), Status> {
    let request = CheckProjectRequest { project: Some(project.clone()), ..Default::default() };
    service::check(&request).map(|_| ())
}

fn bad(
    what: &'static str,
    field: &'static str,
    words: &'static [&'static str],
    spoil: fn(&mut Project),
) -> Bad<Project> {
    Bad { what, spoil, field, words }
}

fn some<T>(given: &mut Option<T>) -> &mut T {
    given.as_mut().expect("the demo has everything that is spoilt here")
}

fn car(p: &mut Project) -> &mut v1::Car {
    some(&mut p.car)
}

fn plate(p: &mut Project, part: usize) -> &mut v1::Plate {
    match &mut p.parts[part].form {
        Some(Form::Plate(plate)) => plate,
        other => panic!("parts[{part}] is a plate, not {other:?}"),
    }
}

fn folded(p: &mut Project) -> &mut v1::FoldedU {
    match &mut p.parts[0].form {
        Some(Form::Folded(folded)) => folded,
        other => panic!("the first part is folded, not {other:?}"),
    }
}

fn bar(p: &mut Project) -> &mut v1::Bar {
    match &mut p.parts[1].form {
        Some(Form::Bar(bar)) => bar,
        other => panic!("the second part is a bar, not {other:?}"),
    }
}

/// Gives the bush bolt an end of a kind.
fn ends(p: &mut Project, kind: v1::BoltEndKind) -> &mut v1::BoltEnd {
    p.bolts[0].ends.insert(v1::BoltEnd { kind: kind as i32, ..v1::BoltEnd::default() })
}

fn stress(value_mpa: f64) -> Option<v1::Stress> {
    Some(v1::Stress { value_mpa, ..Default::default() })
}

fn rules(project: &mut Project) -> &mut v1::Rules {
    project.rules.get_or_insert_default()
}

fn factor(symbol: &str, value: f64) -> v1::FactorChoice {
    v1::FactorChoice { symbol: symbol.to_owned(), value, reason: String::new() }
}

fn the_car() -> Vec<Bad<Project>> {
    vec![
        bad("no rules", "project.rules", &["required"], |p| p.rules = None),
        bad("rules without a name", "project.rules.pack", &["nothing", "EN 1993"], |p| {
            p.rules = Some(v1::Rules::default());
        }),
        bad("rules that are not there", "project.rules.pack", &["EN 1894", "EN 1993"], |p| {
            rules(p).pack = "EN 1894".to_owned();
        }),
        bad("an edition that is not there", "project.rules.edition", &["1905", "2005"], |p| {
            rules(p).edition = "1905".to_owned();
        }),
        bad("a format of other rules", "project.rules.format", &["partial factors"], |p| {
            rules(p).format = "LRFD".to_owned();
        }),
        bad("a nation without choices", "project.rules.national", &["DE"], |p| {
            rules(p).national = "XX".to_owned();
        }),
        bad("a factor of other rules", "project.rules.factors[4].symbol", &["gamma_m2"], |p| {
            rules(p).factors.push(factor("phi_rupture", 0.75));
        }),
        bad("a factor that cannot be meant", "project.rules.factors[4].value", &["125"], |p| {
            rules(p).factors.push(factor("gamma_m2", 125.0));
        }),
        bad("no car", "project.car", &["required"], |p| p.car = None),
        bad("no wheelbase", "project.car.wheelbase", &["required"], |p| car(p).wheelbase = None),
        bad("a negative wheelbase", "project.car.wheelbase", &["-2350"], |p| {
            car(p).wheelbase = mm(-2350.0);
        }),
        bad("a mass that is no number", "project.car.mass.value_kg", &["NaN", "finite"], |p| {
            car(p).mass = kg(f64::NAN);
        }),
        bad("no mass at all", "project.car.mass", &[], |p| car(p).mass = None),
        bad("a car of 2 kg", "project.car.mass", &["2"], |p| car(p).mass = kg(2.0)),
        bad("a centre of gravity ahead of both axles", "project.car.cg_ahead", &[], |p| {
            car(p).cg_ahead = mm(2400.0);
        }),
        bad("a centre of gravity in the ground", "project.car.cg_height", &["-760"], |p| {
            car(p).cg_height = mm(-760.0);
        }),
        bad("no track", "project.car.rear_track", &["required"], |p| car(p).rear_track = None),
        bad("no wheels", "project.car.wheel_radius", &["required"], |p| car(p).wheel_radius = None),
        bad(
            "a spread the wrong way round",
            "project.car.wheelbase.low_mm",
            &["2400", "2350"],
            |p| {
                car(p).wheelbase = Some(v1::Length {
                    value_mm: 2350.0,
                    low_mm: Some(2400.0),
                    high_mm: Some(2300.0),
                    ..Default::default()
                });
            },
        ),
        bad("one scale of four", "project.car.corner_scales.front_right", &["required"], |p| {
            car(p).corner_scales =
                Some(v1::CornerScales { front_left: kg(300.0), ..Default::default() });
        }),
        bad("no driven axle", "project.drive.axle", &["DRIVEN_AXLE_REAR"], |p| {
            some(&mut p.drive).axle = 0;
        }),
        bad("gears that give more than they take", "project.drive.efficiency", &["1.2"], |p| {
            some(&mut p.drive).efficiency = number(1.2);
        }),
        bad("a negative grip", "project.drive.grip", &["-0.9"], |p| {
            some(&mut p.drive).grip = number(-0.9);
        }),
        bad("no drive where a case drives", "project.drive", &[], |p| p.drive = None),
        bad("no brakes where a case brakes", "project.brakes", &[], |p| p.brakes = None),
        bad("more than all of the braking", "project.brakes.rear_share", &["1.4"], |p| {
            some(&mut p.brakes).rear_share = number(1.4);
        }),
        bad("springs on neither body", "project.springs.seat_on", &["SPRING_SEAT_BODY"], |p| {
            some(&mut p.springs).seat_on = 0;
        }),
        bad("no springs", "project.springs", &["required"], |p| p.springs = None),
        bad("springs on the body without a seat", "project.springs.seat", &[], |p| {
            some(&mut p.springs).seat = None;
        }),
        bad("springs on the body without a ratio", "project.springs.motion_ratio", &[], |p| {
            some(&mut p.springs).motion_ratio = None;
        }),
        bad("no cradle", "project.cradle", &["required"], |p| p.cradle = None),
        bad("a cradle of nothing", "project.cradle.mass", &[], |p| {
            some(&mut p.cradle).mass = kg(0.0);
        }),
        bad("no factors", "project.factors", &["required"], |p| p.factors = None),
        bad("a load factor below nothing", "project.factors.normal", &["-1.5"], |p| {
            some(&mut p.factors).normal = number(-1.5);
        }),
    ]
}

fn mounts_and_cases() -> Vec<Bad<Project>> {
    vec![
        bad("no mounts", "project.mounts", &[], |p| p.mounts.clear()),
        bad(
            "a mount below the ground",
            "project.mounts[0].at.z_mm",
            &["-420", "above the ground"],
            |p| {
                some(&mut p.mounts[0].at).z_mm = Some(-420.0);
            },
        ),
        bad("a mount without a height", "project.mounts[0].at", &["z"], |p| {
            some(&mut p.mounts[0].at).z_mm = None;
        }),
        bad("a mount of an unknown bush", "project.mounts[0].bush", &["ruber", "rubber"], |p| {
            p.mounts[0].bush = "ruber".to_owned();
        }),
        bad("a mount that lands on nothing", "project.mounts[1].lands", &["bolt.nothing"], |p| {
            p.mounts[1].lands = "bolt.nothing".to_owned();
        }),
        bad("two mounts of one name", "project.mounts[1].name", &["front"], |p| {
            p.mounts[1].name = "front".to_owned();
        }),
        bad("a mount without a name", "project.mounts[0].name", &[], |p| p.mounts[0].name.clear()),
        bad("a bush without an axis", "project.bushes[0].axis", &["AXIS_Z"], |p| {
            p.bushes[0].axis = 0;
        }),
        bad("a bush without stiffness", "project.bushes[0].radial", &[], |p| {
            p.bushes[0].radial = n_per_mm(0.0);
        }),
        bad("a stop that pushes back", "project.bushes[0].stop_rate", &["-8000"], |p| {
            p.bushes[0].stop_rate = n_per_mm(-8000.0);
        }),
        bad("no cases", "project.cases", &[], |p| p.cases.clear()),
        bad("two cases of one name", "project.cases[1].name", &["S0"], |p| {
            p.cases[1].name = "S0".to_owned();
        }),
        bad("a case of no kind", "project.cases[0].kind", &["CASE_KIND_STANDING"], |p| {
            p.cases[0].kind = 0;
        }),
        bad("a case of a kind that is not there", "project.cases[0].kind", &["CASE_KIND_"], |p| {
            p.cases[0].kind = 77;
        }),
        bad("a case of no class", "project.cases[0].class", &["CASE_CLASS_ABUSE"], |p| {
            p.cases[0].class = 0;
        }),
        bad("a bump of no height", "project.cases[1].field", &[], |p| p.cases[1].field = None),
        bad("braking at no rate", "project.cases[4].rate", &[], |p| p.cases[4].rate = None),
        bad("braking at 40 g", "project.cases[4].rate", &["40"], |p| p.cases[4].rate = g(40.0)),
        bad("a corner to no side", "project.cases[6].side", &["left or right"], |p| {
            p.cases[6].side = 0
        }),
        bad("a kerb of no factor", "project.cases[8].factor", &[], |p| p.cases[8].factor = None),
    ]
}

fn the_design() -> Vec<Bad<Project>> {
    vec![
        bad("a rail without readings", "project.rails[0].readings", &[], |p| {
            p.rails[0].readings.clear();
        }),
        bad("a rail of no steel", "project.rails[0].steel", &["cheese", "of the project"], |p| {
            p.rails[0].steel = "cheese".to_owned();
        }),
        bad("a rail that ends before it begins", "project.rails[0].to", &[], |p| {
            p.rails[0].to = mm(-900.0);
        }),
        bad("a rail of no section", "project.rails[0]", &["channel", "box"], |p| {
            p.rails[0].section = None
        }),
        bad("a reading thicker than new", "project.rails[0].readings[0].thickness", &[], |p| {
            p.rails[0].readings[0].thickness = mm(60.0);
        }),
        bad("a reading below nothing", "project.rails[0].readings[2].thickness", &["-2.2"], |p| {
            p.rails[0].readings[2].thickness = mm(-2.2);
        }),
        bad("steel that breaks before it yields", "project.steels[0].fu", &["100"], |p| {
            p.steels[0].fu = stress(100.0);
        }),
        bad("steel of no strength", "project.steels[0].fy", &[], |p| p.steels[0].fy = stress(0.0)),
        bad("a plate of negative thickness", "project.parts[2].plate.thickness", &["-8"], |p| {
            plate(p, 2).thickness = mm(-8.0);
        }),
        bad(
            "a plate on no face",
            "project.parts[2].plate.on",
            &["\"lid\"", "web, top, bottom, mouth"],
            |p| {
                plate(p, 2).on = "rail.frame.lid".to_owned();
            },
        ),
        bad("a plate of no outline", "project.parts[2].plate.outline", &["OUTLINE_"], |p| {
            plate(p, 2).outline = 0;
        }),
        bad("a bracket of no reach", "project.parts[0].folded.reach", &["required"], |p| {
            folded(p).reach = None;
        }),
        bad("a bracket thicker than its foot", "project.parts[0].folded.thickness", &["90"], |p| {
            folded(p).thickness = mm(90.0);
        }),
        bad(
            "a bracket open to nowhere",
            "project.parts[0].folded.open",
            &["FOLD_OPENING_UP"],
            |p| {
                folded(p).open = 0;
            },
        ),
        bad("a bar between one face", "project.parts[1].bar.between", &[], |p| {
            bar(p).between.truncate(1);
        }),
        bad(
            "a bar on a part that is not there",
            "project.parts[1].bar.between[0]",
            &["nothing"],
            |p| {
                bar(p).between[0] = "part.nothing.inboard".to_owned();
            },
        ),
        bad("an angle with one leg", "project.parts[1].bar.legs", &[], |p| bar(p).legs.truncate(1)),
        bad("a part of no form", "project.parts[0]", &["plate", "sleeve"], |p| {
            p.parts[0].form = None
        }),
        bad("a part of unknown steel", "project.parts[0].steel", &["S999"], |p| {
            p.parts[0].steel = "S999".to_owned();
        }),
        bad("two parts of one name", "project.parts[2].name", &["cross"], |p| {
            p.parts[2].name = "cross".to_owned();
        }),
        bad("a datum that is not there", "project.parts[0].datums[0]", &["mount.middle"], |p| {
            p.parts[0].datums[0] = "mount.middle".to_owned();
        }),
        bad(
            "a weld on a part that is not there",
            "project.welds[0].joins[0]",
            &["part.bracket"],
            |p| {
                p.welds[0].joins[0] = "part.bracket".to_owned();
            },
        ),
        bad("a weld of one thing", "project.welds[0].joins", &["two"], |p| {
            p.welds[0].joins.truncate(1);
        }),
        bad("a fillet of no leg", "project.welds[0].leg", &[], |p| p.welds[0].leg = None),
        bad("a bead of no kind", "project.welds[0].bead", &["BEAD_KIND_FILLET"], |p| {
            p.welds[0].bead = 0;
        }),
        bad("a bolt outside its plate", "project.bolts[1].at[0]", &["part.cross-end"], |p| {
            p.bolts[1].at[0].x_mm = Some(-400.0);
        }),
        bad("a thread that is not there", "project.bolts[0].thread", &["M11"], |p| {
            p.bolts[0].thread = "M11".to_owned();
        }),
        bad("a class that is not there", "project.bolts[0].class", &["7.7"], |p| {
            p.bolts[0].class = "7.7".to_owned();
        }),
        bad("a hole smaller than its bolt", "project.bolts[0].hole", &["11"], |p| {
            p.bolts[0].hole = mm(11.0);
        }),
        bad("a bolt through nothing", "project.bolts[0].through", &[], |p| {
            p.bolts[0].through.clear();
        }),
        bad("a bolt through what is not there", "project.bolts[0].through[1]", &["lid"], |p| {
            p.bolts[0].through[1] = "part.front-bracket.lid".to_owned();
        }),
        bad("faces of no preparation", "project.bolts[0].faces", &["FACE_PREPARATION_"], |p| {
            p.bolts[0].faces = 0;
        }),
        bad("a negative friction", "project.bolts[0].friction", &["-0.1"], |p| {
            p.bolts[0].friction = number(-0.1);
        }),
        bad("a bolt that nobody tightens", "project.bolts[0].tightening", &["required"], |p| {
            p.bolts[0].tightening = None;
        }),
        bad("a scatter below one", "project.bolts[0].tightening.scatter", &["0.5"], |p| {
            some(&mut p.bolts[0].tightening).scatter = number(0.5);
        }),
        bad("an end of no kind", "project.bolts[0].ends.kind", &["BOLT_END_KIND_"], |p| {
            ends(p, v1::BoltEndKind::Unspecified);
        }),
        bad("a class no nut has", "project.bolts[0].ends.nut_class", &["7", "10"], |p| {
            ends(p, v1::BoltEndKind::WeldNut).nut_class = "7".to_owned();
        }),
        bad("half a size of a weld nut", "project.bolts[0].ends.length", &["required"], |p| {
            ends(p, v1::BoltEndKind::WeldNut).outside = mm(19.0);
        }),
        bad("a boss without a weld", "project.bolts[0].ends.leg", &["required"], |p| {
            let boss = ends(p, v1::BoltEndKind::WeldedBoss);
            (boss.outside, boss.length) = (mm(20.0), mm(15.0));
        }),
        bad("a boss inside its bolt", "project.bolts[0].ends.outside", &["12.0"], |p| {
            let boss = ends(p, v1::BoltEndKind::WeldedBoss);
            (boss.outside, boss.length, boss.leg) = (mm(12.0), mm(15.0), mm(4.0));
        }),
        bad("a weld on a thread", "project.bolts[0].ends.leg", &["weld nuts"], |p| {
            let thread = ends(p, v1::BoltEndKind::Tapped);
            (thread.length, thread.leg) = (mm(4.0), mm(4.0));
        }),
        bad("more thread than steel", "project.bolts[0].ends.length", &["12.0", "floor"], |p| {
            ends(p, v1::BoltEndKind::Tapped).length = mm(12.0);
        }),
        bad("a weld nut in a bush", "project.bolts[0].ends", &["mount.front"], |p| {
            p.bolts[0].through.reverse();
            ends(p, v1::BoltEndKind::WeldNut);
        }),
    ]
}

fn duty(project: &mut Project) -> &mut v1::Duty {
    project.duty.get_or_insert_with(|| v1::Duty {
        distance_km: 200_000.0,
        assumed: false,
        families: vec![family(v1::LoadFamily::Vertical), family(v1::LoadFamily::Drive)],
    })
}

/// A family with one block.
fn family(of: v1::LoadFamily) -> v1::FamilyDuty {
    let blocks = vec![v1::DutyBlock { share: 1.0, per_100_km: 2.0 }];
    v1::FamilyDuty { family: of.into(), blocks, ..Default::default() }
}

/// The first family with a record in place of its block.
fn record(project: &mut Project, history: &[f64], way_km: f64) {
    let family = &mut duty(project).families[0];
    family.blocks.clear();
    family.history = history.to_vec();
    family.history_km = way_km;
}

fn choose(project: &mut Project, joint: &str, why: &str) {
    let (joint, why) = (joint.to_owned(), why.to_owned());
    project.opinions.push(v1::OpinionChoice { joint, why });
}

fn the_opinions() -> Vec<Bad<Project>> {
    const JOINT: &str = "project.opinions[0].joint";
    vec![
        bad(
            "a joint that is not there",
            JOINT,
            &["weld.front-fot", "mean weld.front-foot?"],
            |p| {
                choose(p, "weld.front-fot", "boxed behind");
            },
        ),
        bad("a rail, which is no joint", JOINT, &["rail.frame", "weld, bolt or part"], |p| {
            choose(p, "rail.frame", "boxed behind");
        }),
        bad("no joint", JOINT, &["nothing", "weld.front-foot"], |p| choose(p, "", "boxed behind")),
        bad("no reason", "project.opinions[0].why", &["stands in the answer"], |p| {
            choose(p, "weld.front-foot", " ");
        }),
        bad("a joint twice", "project.opinions[1].joint", &["weld.front-foot", "second"], |p| {
            choose(p, "weld.front-foot", "boxed behind");
            choose(p, "weld.front-foot", "measured");
        }),
    ]
}

fn the_duty() -> Vec<Bad<Project>> {
    const BLOCKS: &str = "project.duty.families[0].blocks";
    const HISTORY: &str = "project.duty.families[0].history";
    vec![
        bad("no way to go", "project.duty.distance_km", &["0 km", "1 to"], |p| {
            duty(p).distance_km = 0.0;
        }),
        bad("a way back", "project.duty.distance_km", &["-5 km"], |p| duty(p).distance_km = -5.0),
        bad("a way to the stars", "project.duty.distance_km", &["km"], |p| {
            duty(p).distance_km = 1e9;
        }),
        bad("a duty of nothing", "project.duty", &["assumed", "families"], |p| {
            duty(p).families.clear();
        }),
        bad("a family twice", "project.duty.families[1].family", &["vertical again"], |p| {
            duty(p).families[1].set_family(v1::LoadFamily::Vertical);
        }),
        bad("no family", "project.duty.families[0].family", &["LOAD_FAMILY_VERTICAL"], |p| {
            duty(p).families[0].family = 0;
        }),
        bad("a share of nothing", BLOCKS, &["block 1", "above zero"], |p| {
            duty(p).families[0].blocks[0].share = 0.0;
        }),
        bad("a negative share", BLOCKS, &["block 1", "-0.5"], |p| {
            duty(p).families[0].blocks[0].share = -0.5;
        }),
        bad("cycles taken back", BLOCKS, &["block 1", "cycles", "-2"], |p| {
            duty(p).families[0].blocks[0].per_100_km = -2.0;
        }),
        bad("blocks and a record", HISTORY, &["one of them"], |p| {
            duty(p).families[0].history = vec![0.0, 1.0];
            duty(p).families[0].history_km = 10.0;
        }),
        bad("a record that stands still", HISTORY, &["two different points"], |p| {
            record(p, &[0.4, 0.4, 0.4], 10.0);
        }),
        bad("a record over no way", HISTORY, &["above zero"], |p| record(p, &[0.0, 1.0], 0.0)),
        bad("a bump that recuperates", "project.duty.families[0].reverse", &["drive"], |p| {
            duty(p).families[0].reverse = 0.5;
        }),
        bad("more back than forward", "project.duty.families[1].reverse", &["0 to 1"], |p| {
            duty(p).families[1].reverse = 1.5;
        }),
        bad("weld metal of no strength", "project.weld_metal", &["0 MPa", "2000 MPa"], |p| {
            p.weld_metal = stress(0.0);
        }),
        bad("weld metal like glue", "project.weld_metal", &["5.0000 MPa", "20 to"], |p| {
            p.weld_metal = stress(5.0);
        }),
    ]
}

fn the_cargo() -> Vec<Bad<Project>> {
    fn throw(p: &mut Project) -> &mut v1::LoadCase {
        with_battery(p);
        p.cases.push(thrown("R1", v1::CaseKind::RestraintForward, 20.0));
        p.cases.last_mut().expect("it was put there just now")
    }
    fn of(field: &'static str) -> &'static str {
        match field {
            "of" => "project.cases[10].of",
            "rate" => "project.cases[10].rate",
            _ => "project.cases[10].class",
        }
    }
    vec![
        bad(
            "an unknown cargo",
            "project.mounts[2].carries",
            &["did you mean cargo.battery"],
            |p| {
                with_battery(p);
                p.mounts[2].carries = "cargo.batery".to_owned();
            },
        ),
        bad("no cargo at all", "project.mounts[0].carries", &["no cargo"], |p| {
            p.mounts[0].carries = "cargo.battery".to_owned();
        }),
        bad("a part carried", "project.mounts[2].carries", &["part.cross", "cargo.battery"], |p| {
            with_battery(p);
            p.mounts[2].carries = "part.cross".to_owned();
        }),
        bad("two feet", "project.cargo[0]", &["battery", "free to move", "three feet"], |p| {
            with_battery(p);
            p.mounts.pop();
        }),
        bad("no feet", "project.cargo[0]", &["battery", "no mount carries"], |p| {
            with_battery(p);
            p.mounts.truncate(2);
        }),
        bad("a cradle without mounts", "project.mounts", &["cradle"], |p| {
            with_battery(p);
            for mount in &mut p.mounts {
                mount.carries = "cargo.battery".to_owned();
            }
        }),
        bad("not said whether weighed", "project.cargo[0].weighed", &["required"], |p| {
            with_battery(p);
            p.cargo[0].weighed = None;
        }),
        bad("no mass", "project.cargo[0].mass", &["required"], |p| {
            with_battery(p);
            p.cargo[0].mass = None;
        }),
        bad("a feather", "project.cargo[0].mass", &["0.001", "1 to"], |p| {
            with_battery(p);
            p.cargo[0].mass = kg(0.001);
        }),
        bad("a cargo twice", "project.cargo[1].name", &["battery", "second time"], |p| {
            with_battery(p);
            let again = p.cargo[0].clone();
            p.cargo.push(again);
        }),
        bad("thrown, but what", of("of"), &["nothing", "cargo.battery"], |p| {
            throw(p).of.clear();
        }),
        bad("the cradle thrown", of("of"), &["cradle", "cargo.battery"], |p| {
            throw(p).of = "cradle".to_owned();
        }),
        bad("thrown at no rate", of("rate"), &["nothing", "in g"], |p| throw(p).rate = None),
        bad("thrown at a nudge", of("rate"), &["0.1", "0.5 to 100"], |p| throw(p).rate = g(0.1)),
        bad("thrown every day", of("class"), &["normal", "restraint"], |p| {
            throw(p).set_class(v1::CaseClass::Normal);
        }),
        bad("thrown to which side", "project.cases[10].side", &["left or right"], |p| {
            throw(p).set_kind(v1::CaseKind::RestraintSideways);
        }),
        bad("a bump of a cargo", "project.cases[1].of", &["only restraint cases"], |p| {
            with_battery(p);
            p.cases[1].of = "cargo.battery".to_owned();
        }),
        bad("a bump as a crash", "project.cases[1].class", &["normal or abuse"], |p| {
            p.cases[1].set_class(v1::CaseClass::Restraint);
        }),
        bad("no factor on restraint", "project.factors.restraint", &["1 or more"], |p| {
            throw(p);
            some(&mut p.factors).restraint = None;
        }),
        bad("a factor that helps", "project.factors.restraint", &["0.5", "1 to 10"], |p| {
            throw(p);
            some(&mut p.factors).restraint = number(0.5);
        }),
    ]
}

#[test]
fn a_project_that_cannot_be_used_is_refused_at_its_field() {
    let good = good();
    call(&good).unwrap();
    let table =
        [the_car(), mounts_and_cases(), the_design(), the_duty(), the_opinions(), the_cargo()];
    let table: Vec<Bad<Project>> = table.into_iter().flatten().collect();
    assert!(table.len() >= 60, "{}", table.len());
    assert_refused(&good, &table, call);
}

#[test]
fn an_empty_request_and_an_empty_project_say_what_is_missing() {
    let nothing = CheckProjectRequest::default();
    let refusal = Refusal::of(&service::check(&nothing).unwrap_err());
    assert_eq!(refusal.code, Code::InvalidArgument);
    assert_eq!(refusal.fields[0].0, "project");
    let refusal = Refusal::of(&call(&Project::default()).unwrap_err());
    let told: Vec<&str> = refusal.fields.iter().map(|(field, _)| field.as_str()).collect();
    for field in ["rules", "car", "springs", "cradle", "factors"] {
        assert!(told.contains(&format!("project.{field}").as_str()), "{field}: {told:?}");
    }
}

#[test]
fn a_row_that_is_not_there_is_refused_with_those_that_are() {
    let ask = |row_id: &str, case_name: &str| {
        let request = v1::ExplainRowRequest {
            project: Some(good()),
            row_id: row_id.to_owned(),
            case_name: case_name.to_owned(),
            ..Default::default()
        };
        Refusal::of(&service::explain(&request).unwrap_err())
    };
    let unknown = ask("XX-99", "");
    assert_eq!(unknown.code, Code::InvalidArgument);
    assert_eq!(unknown.fields[0].0, "row_id");
    assert!(unknown.fields[0].1.contains("FL-"), "{unknown:?}");
    assert_eq!(ask("", "").fields[0].0, "row_id");
    let case = ask("FL-2", "Z9");
    assert_eq!(case.fields[0].0, "case_name");
    assert!(case.fields[0].1.contains("P1"), "{case:?}");
}
