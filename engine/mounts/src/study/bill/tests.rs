use super::*;
use crate::describe::{self, BarShape, Project, WeldNutClass};
use crate::design::{self, Prism, Vec3};
use crate::plate::tests::support::{bare_front, rear, stiff_front};

const MM: f64 = 1e-3;
/// kg/mm³: EN 1991-1-1:2002, Table A.4.
const STEEL_MM: f64 = 7.85e-6;

fn placed(project: &Project) -> Design {
    design::resolve(project, catalog::FuEdition::ProductStandard).expect("a design")
}

fn bill(project: &Project) -> Bill {
    Bill::of(project, &placed(project))
}

fn close(what: &str, got: f64, want: f64) {
    assert!((got - want).abs() <= 1e-9 * want.abs() + 1e-15, "{what}: {got} against {want}");
}

fn part<'b>(bill: &'b Bill, name: &str) -> &'b PartLine {
    bill.parts.iter().find(|l| l.name == name).expect(name)
}

fn weld<'b>(bill: &'b Bill, name: &str) -> &'b WeldLine {
    bill.welds.iter().find(|l| l.name == name).expect(name)
}

/// Plain arithmetic over the drawing: U of 5 mm, 60 wide, 80 high, 85 deep; two upright edges of
/// 80 mm with leg 4; on both sides.
#[test]
fn a_bracket_on_the_bare_web() {
    let bill = bill(&bare_front());
    let bracket = part(&bill, "part.front-bracket");
    let volume = 60.0 * 85.0 * 5.0 + 2.0 * 75.0 * 85.0 * 5.0;
    assert_eq!((bracket.pieces, bracket.kind), (2, "folded"));
    close("thickness", bracket.thickness, 5.0 * MM);
    close("volume", bracket.volume, 2.0 * volume * MM.powi(3));
    close("mass", bracket.mass, 2.0 * volume * STEEL_MM);
    // Blank (60 + 2 x 75) by 85, and the bush bolt's hole of 15.
    let cut = 2.0 * (60.0 + 150.0 + 85.0) + 15.0 * PI;
    close("cut", bracket.cut, 2.0 * cut * MM);
    let foot = weld(&bill, "weld.front-foot");
    assert_eq!(foot.copies, 2);
    close("joint", foot.joint, 2.0 * 2.0 * 80.0 * MM);
    close("length", foot.length, 2.0 * 2.0 * 80.0 * MM);
    close("weld metal", foot.volume, 2.0 * 2.0 * 80.0 * (4.0 * 4.0 / 2.0) * MM.powi(3));
    assert_eq!(bill.bolts.len(), 1);
    let bolt = &bill.bolts[0];
    assert_eq!((bolt.count, bolt.size.as_str(), bolt.class.as_str()), (2, "M14", "10.9"));
    // How long the bush is nobody said.
    assert_eq!(bolt.mass, None);
    assert_eq!(bill.totals().bolts, 2);
}

/// The reinforced mount and the angle between the rails: every line by plain arithmetic.
#[test]
fn a_reinforced_design_line_by_line() {
    let bill = bill(&rear(stiff_front()));
    // Name, pieces, thickness, volume and cut of all pieces.
    let slanted = 42.0 * 2.0_f64.sqrt();
    let tube = PI / 4.0 * (28.0_f64 * 28.0 - 15.0 * 15.0);
    let parts: [(&str, usize, f64, f64, f64); 8] = [
        (
            "front-doubler",
            2,
            3.0,
            2.0 * 3.0 * (116.0 * 84.0 + 84.0 * 42.0),
            2.0 * (2.0 * 116.0 + 4.0 * slanted + PI * (2.0 * 15.0 + 4.0 * 10.0)),
        ),
        (
            "front-bracket",
            2,
            5.0,
            2.0 * (110.0 * 85.0 * 5.0 + 2.0 * 75.0 * 85.0 * 5.0),
            2.0 * (2.0 * (110.0 + 150.0 + 85.0) + PI * 15.0),
        ),
        (
            "front-gusset",
            4,
            4.0,
            4.0 * 60.0 * 55.0 / 2.0 * 4.0,
            4.0 * (60.0 + 55.0 + (60.0_f64 * 60.0 + 55.0 * 55.0).sqrt()),
        ),
        (
            "front-box",
            2,
            3.0,
            2.0 * 500.0 * 100.0 * 3.0,
            2.0 * (2.0 * (500.0 + 100.0) + PI * 2.0 * 15.0),
        ),
        // Between web, 45 - 3 mm, and box.
        ("front-sleeve", 4, 6.5, 4.0 * tube * 42.0, 4.0 * 2.0 * PI * 21.5),
        (
            "rear-backing",
            2,
            3.0,
            2.0 * 120.0 * 84.0 * 3.0,
            2.0 * (2.0 * (120.0 + 84.0) + PI * 4.0 * 13.0),
        ),
        (
            "cross-end",
            2,
            8.0,
            2.0 * 120.0 * 84.0 * 8.0,
            2.0 * (2.0 * (120.0 + 84.0) + PI * 4.0 * 13.0),
        ),
        // Between the end plates: 2 x (425 - 3 - 3 - 8); two saw cuts, two holes.
        ("cross", 1, 8.0, 822.0 * (80.0 + 72.0) * 8.0, 2.0 * (80.0 + 72.0) + 2.0 * PI * 15.0),
    ];
    assert_eq!(bill.parts.len(), parts.len());
    let (mut mass, mut cut) = (0.0, 0.0);
    for (name, pieces, t, volume, edges) in parts {
        let line = part(&bill, &format!("part.{name}"));
        assert_eq!(line.pieces, pieces, "{name}");
        close(name, line.thickness, t * MM);
        close(name, line.volume, volume * MM.powi(3));
        close(name, line.mass, volume * STEEL_MM);
        close(name, line.cut, edges * MM);
        mass += volume * STEEL_MM;
        cut += edges * MM;
    }
    close("mass", bill.mass(), mass);
    close("cut", bill.cut(), cut);
    // Name, leg, length of joint and of bead, both sides together.
    let round = 2.0 * 116.0 + 4.0 * slanted;
    let welds = [
        ("front-foot", 4.0, 2.0 * 2.0 * 80.0, 2.0 * 2.0 * 80.0),
        ("front-gusset-foot", 3.0, 2.0 * 2.0 * 2.0 * 60.0, 2.0 * 2.0 * 2.0 * 60.0),
        ("front-gusset-floor", 3.0, 2.0 * 2.0 * 2.0 * 55.0, 2.0 * 2.0 * 2.0 * 55.0),
        ("front-doubler", 2.5, 2.0 * round, 2.0 * round),
        // 40 on, 40 off over 500 mm: six stitches; the 20 mm left is no bead.
        ("front-box", 3.0, 2.0 * 2.0 * 500.0, 2.0 * 2.0 * 6.0 * 40.0),
        ("rear-backing", 2.5, 2.0 * 408.0, 2.0 * 408.0),
        ("cross-end", 5.0, 2.0 * (2.0 * 160.0), 2.0 * (2.0 * 160.0)),
    ];
    let (mut length, mut metal) = (0.0, 2.0 * 4.0 * PI / 4.0 * 10.0 * 10.0 * 3.0);
    for (name, leg, joint, bead) in welds {
        let line = weld(&bill, &format!("weld.{name}"));
        close(name, line.joint, joint * MM);
        close(name, line.length, bead * MM);
        close(name, line.volume, leg * leg / 2.0 * bead * MM.powi(3));
        length += bead;
        metal += leg * leg / 2.0 * bead;
    }
    let plugs = weld(&bill, "weld.front-plugs");
    assert_eq!(plugs.bead, BeadLine::Plug { diameter: 10.0 * MM, count: 8 });
    close("plugs", plugs.length, 0.0);
    close("weld length", bill.weld_length(), length * MM);
    close("weld metal", bill.weld_volume(), metal * MM.powi(3));
    // Front bush 2, through the box 4, rear ends 8, rear bush 2.
    assert_eq!(bill.bolt_count(), 16);
    assert_eq!(bill.pieces(), 19);
}

/// Rates of one line at a time pick out their line; together they add.
#[test]
fn cost_adds_what_each_rate_asks_for() {
    let bill = bill(&bare_front());
    let rates =
        Rates { steel: 2.0, weld_length: 10.0, weld_volume: 1e6, cut: 3.0, bolt: 1.5, piece: 4.0 };
    // Two brackets of 89250 mm³, 320 mm of leg 4, two bolts.
    let steel = 2.0 * 89_250.0 * STEEL_MM * 2.0;
    let weld = 0.32 * 10.0 + 0.32 * 8e-6 * 1e6;
    let cut = 2.0 * (590.0 + 15.0 * PI) * MM * 3.0;
    close("cost", bill.cost(&rates), steel + weld + cut + 2.0 * 1.5 + 2.0 * 4.0);
}

/// A boss of 25 mm with a ring of leg 3 behind the plate of each of the two sides.
#[test]
fn the_ring_of_a_boss_is_weld_as_well() {
    let w = |text: &str| fishplate_quantity::written::parse(text).expect("a length");
    let mut project = bare_front();
    project.bolts[0].through = vec!["part.front-bracket.floor".to_owned()];
    project.bolts[0].at = vec![describe::Place {
        x: Some(0.33),
        y: Some(0.48),
        z: None,
        spread: None,
        guessed: false,
    }];
    project.mounts[0].lands = String::new();
    project.bolts[0].ends =
        BoltEnd::Boss { outside: w("25 mm"), length: w("20 mm"), leg: w("3 mm"), fu: None };
    let with = bill(&project);
    close("ring", weld(&with, "bolt.front-bush").length, 2.0 * PI * 25.0 * MM);
    close("all", with.weld_length(), (320.0 + 2.0 * PI * 25.0) * MM);
    project.bolts[0].ends = BoltEnd::WeldNut { class: WeldNutClass::Eight, size: None, leg: None };
    let without = bill(&project);
    close("all", without.weld_length(), 320.0 * MM);
    assert_eq!(without.not_counted.len(), 1);
}

/// M8 through plate 8 and web 3 with washers 16 x 1.6: hexagon 13 (ISO 4014 and 4032: head 5.3,
/// nut 6.8), pitch 1.25; no shop list gives the same to more than a few per cent.
#[test]
fn the_mass_of_a_bolt_is_that_of_its_solids() {
    let bill = bill(&crate::plate::tests::support::bolted_front());
    let line = bill.bolts.iter().find(|l| l.name == "bolt.front-plate").expect("bolts");
    assert_eq!(line.count, 8);
    let shank = PI / 4.0 * 8.0 * 8.0;
    // By its inscribed circle.
    let hexagon = 2.0 * 3.0_f64.sqrt() * 6.5 * 6.5;
    let washers = 2.0 * 1.6 * (PI / 4.0 * 16.0 * 16.0 - shank);
    let long = 11.0 + 2.0 * 1.6 + 6.8 + 2.0 * 1.25;
    let volume = hexagon * 5.3 + shank * long + (hexagon - shank) * 6.8 + washers;
    let mass = line.mass.expect("a mass");
    assert!((mass / (8.0 * volume * STEEL_MM) - 1.0).abs() < 1e-9, "{mass}");
}

/// Volume of a convex solid by the divergence theorem over its faces: a sixth of the triple
/// products, every triangle turned to look away from the middle.
fn by_faces(prism: &Prism) -> f64 {
    let faces = prism.faces();
    let corners: Vec<Vec3> = faces.iter().flatten().copied().collect();
    let count = corners.iter().map(|_| 1.0).sum::<f64>();
    let middle = corners.iter().sum::<Vec3>() / count;
    let mut six = 0.0;
    for face in &faces {
        for k in 1..face.len() - 1 {
            let [a, b, c] = [face[0], face[k], face[k + 1]].map(|p| p - middle);
            six += a.dot(&b.cross(&c)).abs();
        }
    }
    six / 6.0
}

/// Every part of the design, prisms against their faces as drawn; bores by the circle.
#[test]
fn volumes_agree_with_the_divergence_theorem() {
    let project = rear(stiff_front());
    for body in placed(&project).bodies.iter().filter(|b| !b.is_rail()) {
        let faces: f64 = body.walls.iter().map(|w| by_faces(&w.prism)).sum();
        let bore = match body.form {
            Form::Sleeve { bore, .. } => {
                body.walls.iter().map(|w| PI / 4.0 * bore * bore * w.prism.thickness()).sum()
            }
            _ => 0.0,
        };
        close(&body.name, body.volume(), faces - bore);
    }
}

/// A round tube 50 x 3 as the bar across: π/4 (50² - 44²) by its length.
#[test]
fn a_round_tube_is_hollow() {
    let mut project = rear(stiff_front());
    let cross = project.parts.iter_mut().find(|p| p.name == "cross").expect("the bar");
    let describe::Form::Bar(bar) = &mut cross.form else { panic!("a bar") };
    bar.shape = BarShape::Tube { diameter: 0.05, wall: 0.003 };
    bar.legs.clear();
    bar.line.x = Some(-0.29);
    bar.line.z = Some(0.465);
    // What stood on the angle's leg.
    project.bolts.retain(|b| b.name != "rear-bush");
    project.mounts[1].lands = String::new();
    let bill = bill(&project);
    let cross = part(&bill, "part.cross");
    let area = PI / 4.0 * (50.0_f64 * 50.0 - 44.0 * 44.0);
    close("volume", cross.volume, area * 822.0 * MM.powi(3));
    close("cut", cross.cut, 2.0 * PI * 47.0 * MM);
}
