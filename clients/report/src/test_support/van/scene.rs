//! Shapes of the invented van, built as the engine builds them: bodies of prisms that touch.

use fishplate_proto::v1;

use crate::test_support::shapes::{at, block, pushed, round, solid};

pub(super) fn scene() -> v1::Scene {
    let mut solids = Vec::new();
    let (mut welds, mut bolts) = (Vec::new(), Vec::new());
    for (side, sign) in [("left", 1.0), ("right", -1.0)] {
        let named = |what: &str| format!("{what} {side}");
        let (front, rear) = if sign > 0.0 { ("FL", "RL") } else { ("FR", "RR") };
        // Channel 100 × 45 × 3, open inward, in three walls: web outside at y 425, z 420 to 520.
        let mut rail = Vec::new();
        for (y, z) in [
            ([422.0, 425.0], [423.0, 517.0]),
            ([380.0, 425.0], [420.0, 423.0]),
            ([380.0, 425.0], [517.0, 520.0]),
        ] {
            let wall = [[y[0], z[0]], [y[1], z[0]], [y[1], z[1]], [y[0], z[1]]];
            rail.extend(pushed(&wall, [-700.0, 900.0], |u, v, along| [along, sign * u, v]));
        }
        solids.push(solid(&named("rail.frame"), "rail", "", rail));
        // Folded U 5 mm: foot 60 × 80 at x 300 to 360, walls upright and sloped at their free end.
        let wall = [[425.0, 420.0], [425.0, 500.0], [447.0, 500.0], [510.0, 445.0], [510.0, 420.0]];
        let mut faces = Vec::new();
        for x in [[300.0, 305.0], [355.0, 360.0]] {
            faces.extend(pushed(&wall, x, |u, v, along| [along, sign * u, v]));
        }
        let low = [305.0, if sign > 0.0 { 425.0 } else { -510.0 }, 420.0];
        faces.extend(block(low, [355.0, low[1] + 85.0, 425.0]));
        solids.push(solid(&named("part.front-bracket"), "folded", front, faces));
        bolts.push(bolt(
            &named("bolt.front-bush"),
            front,
            [330.0, sign * 480.0, 420.0],
            [330.0, sign * 480.0, 425.0],
        ));
        for x in [300.0, 360.0] {
            let ends = [[x, sign * 425.0, 420.0], [x, sign * 425.0, 500.0]];
            welds.push(weld(&named("weld.front-foot"), front, ends, [102.0, 135.0]));
        }
        // Rear: an end plate inside the web, two bolts, the angle across.
        let plate = block(
            [-350.0, if sign > 0.0 { 414.0 } else { -422.0 }, 428.0],
            [-230.0, if sign > 0.0 { 422.0 } else { -414.0 }, 512.0],
        );
        solids.push(solid(&named("part.cross-end"), "plate", rear, plate));
        for x in [-310.0, -250.0] {
            bolts.push(bolt(
                &named("bolt.cross-end"),
                rear,
                [x, sign * 425.0, 470.0],
                [x, sign * 414.0, 470.0],
            ));
        }
        let bush = round([-290.0, sign * 375.0], 26.0, [390.0, 436.0]);
        solids.push(solid(&named("bush.rubber"), "bush", rear, bush));
        bolts.push(bolt(
            &named("bolt.rear-bush"),
            rear,
            [-290.0, sign * 375.0, 444.0],
            [-290.0, sign * 375.0, 390.0],
        ));
        let ends = [[-335.0, sign * 414.0, 436.0], [-255.0, sign * 414.0, 436.0]];
        welds.push(weld(&named("weld.cross-end"), rear, ends, [31.0, 12.0]));
    }
    let angle = [
        [-335.0, 436.0],
        [-255.0, 436.0],
        [-255.0, 444.0],
        [-327.0, 444.0],
        [-327.0, 516.0],
        [-335.0, 516.0],
    ];
    let cross = pushed(&angle, [-414.0, 414.0], |u, v, along| [u, along, v]);
    solids.push(solid("part.cross", "bar", "", cross));
    let wheel = |y| v1::Wheel { centre: Some(at([0.0, y, 310.0])), radius_mm: 310.0 };
    v1::Scene { solids, welds, bolts, wheels: vec![wheel(710.0), wheel(-710.0)] }
}

fn bolt(name: &str, mount: &str, head: [f64; 3], nut: [f64; 3]) -> v1::BoltLine {
    v1::BoltLine {
        name: name.to_owned(),
        mount_id: mount.to_owned(),
        head: Some(at(head)),
        nut: Some(at(nut)),
        diameter_mm: 12.0,
        washer_mm: 24.0,
    }
}

fn weld(name: &str, mount: &str, [start, end]: [[f64; 3]; 2], stress: [f64; 2]) -> v1::WeldLine {
    v1::WeldLine {
        name: name.to_owned(),
        mount_id: mount.to_owned(),
        start: Some(at(start)),
        end: Some(at(end)),
        leg_mm: 4.0,
        start_stress_mpa: stress[0],
        end_stress_mpa: stress[1],
    }
}
