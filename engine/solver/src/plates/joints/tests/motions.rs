//! Nearest points, mean motions, and that no joint resists a rigid motion of everything.

use super::super::motion::{Motion, Sample};
use super::super::surface::Surface;
use super::{Bench, close};
use crate::model::Node;
use crate::model::NodeId;
use crate::plates::model::{Bearing, Bolt, Contact, Onto, Ring, Seam, Spot, Spread, SpreadKind};
use crate::vector::{Vec3, add, cross, dot, norm, scale, sub};
use proptest::prelude::*;

/// Two plates one over the other, a third standing on the lower one.
pub(super) fn stack() -> Bench {
    let mut bench = Bench::new();
    let lower = bench.plate("lower", [0.0; 3], [[0.2, 0.0, 0.0], [0.0, 0.1, 0.0]], [10, 6], 8e-3);
    let upper =
        bench.plate("upper", [0.1, 0.0, 7e-3], [[0.2, 0.0, 0.0], [0.0, 0.1, 0.0]], [9, 5], 6e-3);
    let standing = bench.plate(
        "standing",
        [0.02, 0.05, 4e-3],
        [[0.06, 0.0, 0.0], [0.0, 0.0, 0.05]],
        [4, 3],
        5e-3,
    );
    let draft = &mut bench.draft;
    draft.seams.push(Seam {
        name: "fillet".to_owned(),
        edge: standing,
        onto: lower,
        path: vec![[0.02, 0.0475, 4e-3], [0.08, 0.0475, 4e-3]],
        leg_on: [0.0, -1.0, 0.0],
        leg_up: [0.0, 0.0, 1.0],
    });
    draft.spots.push(Spot {
        name: "plug".to_owned(),
        plates: [upper, lower],
        centre: [0.17, 0.07, 4e-3],
        diameter: 12e-3,
    });
    draft.bolts.push(bolt([0.14, 0.04], Bearing::Clearance(5e-4)));
    draft.bolts[0].through = vec![upper, lower];
    draft.contacts.push(Contact {
        name: "faces".to_owned(),
        of: upper,
        onto: Onto::Plate(lower),
        within: None,
        gap: 0.0,
        stiffness: None,
        bridged: 0.0,
        friction: Some(0.2),
        spacing: 0.0,
    });
    draft.frame.nodes.push(Node { position: [0.05, 0.05, 0.1] });
    let node = NodeId(draft.frame.nodes.len() - 1);
    let area = bench.nodes(standing, |p| p[2] > 0.05);
    bench.draft.spreads.push(Spread {
        name: "top".to_owned(),
        node,
        area: area.into_iter().map(NodeId).collect(),
        kind: SpreadKind::Even,
    });
    bench
}

/// A bolt M10 through a plate of 6 mm over one of 8 mm, the head on top at z = 10 mm.
pub(super) fn bolt([x, y]: [f64; 2], bearing: Bearing) -> Bolt {
    Bolt {
        name: "M10".to_owned(),
        head: [x, y, 10e-3],
        nut: [x, y, -4e-3],
        through: Vec::new(),
        material: super::STEEL,
        diameter: 10e-3,
        tensile_area: 58e-6,
        head_bearing: 20e-3,
        nut_bearing: 20e-3,
        hole: 11e-3,
        preload: 0.0,
        bearing,
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 20, ..ProptestConfig::default() })]

    #[test]
    fn no_joint_resists_a_rigid_motion(
        t in prop::array::uniform3(-1.0f64..1.0),
        w in prop::array::uniform3(-1.0f64..1.0),
    ) {
        let bench = stack();
        let joints = bench.joints();
        let places: Vec<Vec3> = bench
            .draft
            .frame
            .nodes
            .iter()
            .map(|n| n.position)
            .chain(joints.nodes().iter().copied())
            .collect();
        let movements: Vec<f64> = places
            .iter()
            .flat_map(|&p| {
                let u = add(t, cross(w, p));
                [u[0], u[1], u[2], w[0], w[1], w[2]]
            })
            .collect();
        prop_assert!(joints.rows().count() > 100);
        for row in joints.rows() {
            prop_assert!(row.sum(&movements).abs() < 1e-11, "{row:?}");
        }
    }

    /// The nearest point against a look at every element on a fine grid.
    #[test]
    fn the_foot_is_the_nearest_point(p in prop::array::uniform3(-0.05f64..0.25)) {
        let bench = stack();
        let plate = &bench.draft.plates[1];
        let positions: Vec<Vec3> = bench.draft.frame.nodes.iter().map(|n| n.position).collect();
        let surface = Surface::new(plate, &positions).unwrap();
        let foot = surface.foot(p).unwrap();
        // The plate is the rectangle 0.1..0.3, 0..0.1 at the height 7 mm.
        let nearest = [p[0].clamp(0.1, 0.3), p[1].clamp(0.0, 0.1), 7e-3];
        prop_assert!(norm(sub(foot.point, nearest)) < 1e-12);
        let mut sum = [0.0; 3];
        for (node, share) in foot.shares {
            sum = add(sum, scale(share, positions[node]));
        }
        prop_assert!(norm(sub(sum, nearest)) < 1e-12);
        prop_assert!((foot.distance - norm(sub(p, nearest))).abs() < 1e-12);
    }
}

/// A force on the mean motion is shared out as by a group of equal bolts:
/// `f = F / n + (M x r) / sum r^2` in the plane (elastic method of handbooks).
#[test]
fn a_mean_motion_shares_its_force_like_a_bolt_group() {
    let mut bench = Bench::new();
    // Four corners at (+-75, +-60) mm, so thin that fibres don't count.
    let plate = bench.plate(
        "group",
        [-0.075, -0.06, 0.0],
        [[0.15, 0.0, 0.0], [0.0, 0.12, 0.0]],
        [1, 1],
        1e-6,
    );
    let positions: Vec<Vec3> = bench.draft.frame.nodes.iter().map(|n| n.position).collect();
    let surface = Surface::new(&bench.draft.plates[plate.0], &positions).unwrap();
    let samples: Vec<Sample> = positions
        .iter()
        .map(|&p| Sample { foot: surface.foot(p).unwrap(), weight: 1.0, thickness: 1e-6 })
        .collect();
    let motion = Motion::mean(&samples, [0.425, 0.0, 0.0]).unwrap();
    let row = motion.moves([0.425, 0.0, 0.0], [0.0, 1.0, 0.0]).row(1.0);
    let node = bench.nearest(plate, [0.075, 0.06, 0.0]);
    let force = |i: usize| {
        let term = row.terms.iter().find(|(m, _)| *m == 6 * node + i);
        -16000.0 * term.map_or(0.0, |t| t.1)
    };
    // Four bolts in shear, 16 kN at 425 mm (Shigley, from memory): 11056.911 N, -17821.138 N.
    close(force(0), 11056.911, 1e-2);
    close(force(1), -17821.138, 1e-2);
}

#[test]
fn areas_of_contact_add_up() {
    let mut bench = stack();
    let ring =
        Ring { centre: [0.15, 0.05, 4e-3], axis: [0.0, 0.0, 1.0], inside: 0.02, outside: 0.06 };
    let mut second = bench.draft.contacts[0].clone();
    second.within = Some(ring);
    bench.draft.contacts.push(second);
    bench.hold(&bench.nodes(crate::plates::model::PlateId(0), |_| true), &[0, 1, 2, 3, 4, 5]);
    bench.force(&[0], [0.0; 3]);
    let solved = bench.solve().unwrap();
    let answer = solved.answer(0);
    // The plates overlap by 100 mm x 100 mm; the ring has pi (30^2 - 10^2) mm2. Cells of a sixth of
    // an element of 22 mm x 20 mm draw the ring.
    close(answer.contacts[0].area, 0.01, 1e-4);
    close(answer.contacts[1].area, std::f64::consts::PI * 8e-4, 0.03 * 25e-4);
    close(dot(sub(answer.contacts[1].about, ring.centre), [1.0, 0.0, 0.0]), 0.0, 1.5e-3);
}
