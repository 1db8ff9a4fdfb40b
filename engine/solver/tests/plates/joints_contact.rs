//! Faces that press on each other.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::plates::model::*;

fn ground(of: usize, stiffness: f64) -> Contact {
    Contact {
        name: "bed".to_owned(),
        of: PlateId(of),
        onto: Onto::Ground { point: [0.0; 3], normal: [0.0, 0.0, 1.0] },
        within: None,
        gap: 0.0,
        stiffness: Some(stiffness),
        bridged: 0.0,
        friction: None,
        spacing: 0.0,
    }
}

/// Steel a thousand times as stiff.
fn stiff() -> Material {
    isotropic(210e12, 0.3)
}

/// Beam of I = 2e5 mm4 on three pads 2 mm wide at 0, 1 and 2 m, 1 kN at 0.5 m, 3 kN at 2.4 m: it
/// lifts off the middle one. Reactions by statics, movements by integration of the bending line.
#[test]
fn a_strip_lifts_off_its_middle_pad() {
    let mut draft = empty(isotropic(210e9, 0.0));
    let (width, height) = (0.05, (12.0 * 2e-7 / 0.05f64).cbrt());
    let strip = |x: f64, y: f64| [2.4 * x, width * (y - 0.5), 0.0];
    add_grid(&mut draft, "strip", (48, 2), height, strip);
    let node = |x: f64| nodes_where(&draft, |p| (p[0] - x).abs() < 1e-6 && p[1].abs() < 1e-6)[0];
    let (start, load, middle, tip) = (node(0.0), node(0.5), node(1.0), node(2.4));
    for (i, at) in [0.0, 1.0, 2.0].into_iter().enumerate() {
        let x0 = if i == 0 { at } else { at - 1e-3 };
        let low = -0.5 * height - 5e-3;
        let pad = add_grid(&mut draft, &format!("pad {i}"), (1, 2), 0.01, |x, y| {
            [x0 + 2e-3 * x, width * (y - 0.5), low]
        });
        clamp(&mut draft, &pad);
        draft.contacts.push(Contact {
            name: format!("pad {i}"),
            of: PlateId(i + 1),
            onto: Onto::Plate(PlateId(0)),
            within: None,
            gap: 0.0,
            stiffness: None,
            bridged: 0.0,
            friction: None,
            spacing: 0.0,
        });
    }
    hold(&mut draft, &[start], &[Dof::Ux, Dof::Uy]);
    hold(&mut draft, &[tip], &[Dof::Uy]);
    draft
        .frame
        .load_cases
        .push(nodal("two forces", &[(load, [0.0, 0.0, -1000.0]), (tip, [0.0, 0.0, -3000.0])]));
    let answer = solve(draft);
    let case = &answer.cases[0];
    // Force of the pad on the strip.
    let lift: Vec<f64> = case.contacts.iter().map(|c| c.force[2]).collect();
    assert!((lift[0] - 150.0).abs() < 0.02 * 3850.0, "{lift:?}");
    assert!(lift[1].abs() < 1e-6, "{lift:?}");
    close(lift[2], 3850.0, 0.02);
    close(lift.iter().sum(), 4000.0, 1e-8);
    close(case.displacements[middle.0][2], 4.4146825e-3, 0.02);
    close(case.displacements[tip.0][2], -7.6547619e-3, 0.02);
    assert_eq!(case.search.friction_rounds, 0);
}

/// Block 300 x 120 mm on a bed, 50 kN at 95 mm from its middle: contact length `3 (b / 2 - e)`,
/// edge pressure `2 N / (3 w (b / 2 - e))` (any textbook of foundations).
#[test]
fn a_block_outside_its_kern_opens() {
    let mut draft = empty(stiff());
    let (length, width, bed) = (0.3, 0.12, 1e10);
    let block = |x: f64, y: f64| [length * (x - 0.5), width * (y - 0.5), 0.02];
    add_grid(&mut draft, "block", (60, 6), 0.04, block);
    draft.contacts.push(ground(0, bed));
    let corner = nodes_where(&draft, |p| p[0] < -0.1499 && p[1] < -0.0599);
    hold(&mut draft, &corner, &[Dof::Ux, Dof::Uy]);
    let other = nodes_where(&draft, |p| p[0] > 0.1499 && p[1] < -0.0599);
    hold(&mut draft, &other, &[Dof::Uy]);
    let at = nodes_where(&draft, |p| (p[0] - 0.095).abs() < 1e-6 && p[1].abs() < 1e-6)[0];
    draft.frame.load_cases.push(nodal("eccentric", &[(at, [0.0, 0.0, -50e3])]));
    let positions: Vec<[f64; 3]> = draft.frame.nodes.iter().map(|n| n.position).collect();
    let answer = solve(draft);
    let contact = &answer.cases[0].contacts[0];
    close(contact.force[2], -50e3, 1e-9);
    close(contact.area, length * width, 1e-9);
    // Pressure along the middle line.
    let line: Vec<(f64, f64)> = contact
        .places
        .iter()
        .filter(|p| positions[p.node.0][1].abs() < 1e-9 && p.pressing > 0.0)
        .map(|p| (positions[p.node.0][0], p.pressing / p.area))
        .collect();
    let (first, edge) = (line[1], line[line.len() - 1]);
    let slope = (edge.1 - first.1) / (edge.0 - first.0);
    let pressed = 0.15 - (first.0 - first.1 / slope);
    close(pressed, 0.165, 0.02);
    close(edge.1, 5.0505051e6, 0.02);
}

/// T-stub: half a flange guided at the web, a bolt, and the ground beyond it:
/// `Q / V = (3 m^2 n - 6 E I / k) / (2 n^2 (3 m + n) + 6 E I / k)` by the force method for a
/// slender flange. It holds where the contact is at the edge alone, that is, for bolts not much
/// stiffer than `2 E I / (m^2 n)`, at which contact begins. A narrow strip stands for the beam.
#[test]
fn a_slender_flange_pries_its_bolt() {
    let (m, n, width, t, v) = (0.064f64, 0.072f64, 0.02, 8e-3, 2e3);
    let ei = 210e9 * width * t * t * t / 12.0;
    for share in [2.0, 2.7] {
        let k = share * 2.0 * ei / (m * m * n);
        let mut draft = empty(isotropic(210e9, 0.0));
        draft.frame.materials.push(stiff());
        let strip = |x: f64, y: f64| [(m + n) * x, width * (y - 0.5), 0.5 * t + 4e-3];
        add_grid(&mut draft, "flange", (34, 4), t, strip);
        let web = nodes_where(&draft, |p| p[0] < 1e-9);
        hold(&mut draft, &web, &[Dof::Ux, Dof::Ry]);
        let middle = nodes_where(&draft, |p| p[0] < 1e-9 && p[1].abs() < 1e-9);
        hold(&mut draft, &middle, &[Dof::Uy]);
        let base = add_grid(&mut draft, "base", (34, 4), 8e-3, |x, y| {
            [(m + n) * x, width * (y - 0.5), 0.0]
        });
        draft.plates[1].material = MaterialId(1);
        clamp(&mut draft, &base);
        let length = t + 8e-3;
        draft.bolts.push(Bolt {
            name: "bolt".to_owned(),
            head: [m, 0.0, t + 4e-3],
            nut: [m, 0.0, -4e-3],
            through: vec![PlateId(0), PlateId(1)],
            material: MaterialId(0),
            diameter: 2e-3,
            tensile_area: k * length / 210e9,
            head_bearing: 8e-3,
            nut_bearing: 8e-3,
            hole: 3e-3,
            preload: 0.0,
            bearing: Bearing::Never,
        });
        draft.contacts.push(Contact {
            name: "prying".to_owned(),
            of: PlateId(0),
            onto: Onto::Plate(PlateId(1)),
            within: None,
            gap: 0.0,
            stiffness: Some(1e15),
            bridged: 0.0,
            friction: None,
            spacing: 0.0,
        });
        let each = v / web.len() as f64;
        let loads: Vec<_> = web.iter().map(|&node| (node, [0.0, 0.0, each])).collect();
        draft.frame.load_cases.push(nodal("pull", &loads));
        let ratio = (3.0 * m * m * n - 6.0 * ei / k) / (2.0 * n * n * (3.0 * m + n) + 6.0 * ei / k);
        assert!(ratio > 0.0);
        let answer = solve(draft);
        let case = &answer.cases[0];
        let prying = -case.contacts[0].force[2];
        close(case.bolts[0].tension, v * (1.0 + ratio), 0.05);
        close(prying, ratio * v, 0.05);
        close(case.bolts[0].tension - prying, v, 1e-6);
    }
}

/// A stiff block pressed on its bed: places farther apart carry the same load over the same area, and
/// are fewer.
#[test]
fn places_that_stand_apart_take_the_area_of_those_between() {
    let pressed = |spacing: f64| {
        let mut draft = empty(stiff());
        let (thickness, side) = (0.02, 0.1);
        let nodes = add_grid(&mut draft, "block", (20, 20), thickness, |x, y| {
            [side * x, side * y, 0.5 * thickness]
        });
        let corner = nodes_where(&draft, |p| p[0] < 1e-9 && p[1] < 1e-9);
        let beside = nodes_where(&draft, |p| p[0] > side - 1e-9 && p[1] < 1e-9);
        hold(&mut draft, &corner, &[Dof::Ux, Dof::Uy]);
        hold(&mut draft, &beside, &[Dof::Uy]);
        draft.contacts.push(Contact { spacing, ..ground(0, 1e11) });
        let each = -5000.0 / nodes.len() as f64;
        let loads: Vec<_> = nodes.iter().map(|&node| (node, [0.0, 0.0, each])).collect();
        draft.frame.load_cases.push(nodal("press", &loads));
        let answer = solve(draft);
        answer.cases[0].contacts[0].clone()
    };
    let (every, apart) = (pressed(0.0), pressed(0.02));
    assert!(apart.places.len() * 8 < every.places.len(), "{}", apart.places.len());
    close(every.area, 0.01, 1e-9);
    close(apart.area, 0.01, 1e-9);
    close(apart.force[2], -5000.0, 1e-9);
    close(apart.pressed, 0.01, 1e-9);
}
