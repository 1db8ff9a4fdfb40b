//! From movements back to forces and stress, and to what is left over at the nodes.

use super::block::{Block, SIDE};
use super::element::Stiffness;
use super::num::{Num, Three, along, turned};
use super::topology::{Bedding, Member};
use pulp::Simd;

/// Natural forces of a member under one load case.
#[derive(Clone, Copy, Debug)]
pub(super) struct Natural<S: Simd>(pub(super) [Num<S>; SIDE]);

impl<S: Simd> Natural<S> {
    /// From the movements of both nodes.
    #[inline(always)]
    pub(super) fn of(
        member: &Member,
        stiffness: &Stiffness<S>,
        start: [Num<S>; SIDE],
        end: [Num<S>; SIDE],
    ) -> Self {
        let [x, y, z] = &member.axes;
        let h = 2.0 / member.length;
        let (mut from, turn_from) = halves(start);
        let (mut to, turn_to) = halves(end);
        if let Some([arm_from, arm_to]) = &member.arms {
            from = plus(from, turned(turn_from, arm_from));
            to = plus(to, turned(turn_to, arm_to));
        }
        let u = less(to, from);
        let d = less(turn_to, turn_from);
        let s = plus(turn_to, turn_from);
        let twist = along(d, x);
        let mut grow_y = along(s, y) + along(u, z) * h;
        let mut grow_z = along(s, z) - along(u, y) * h;
        if let Some([y_s, z_s]) = member.shear_centre {
            grow_y = grow_y + twist * (h * y_s);
            grow_z = grow_z + twist * (h * z_s);
        }
        let k = &stiffness.natural;
        Natural([
            k[0] * along(u, x),
            k[1] * twist,
            k[2] * along(d, y),
            k[3] * along(d, z),
            k[4] * grow_y,
            k[5] * grow_z,
        ])
    }

    /// Squares of the von Mises stress at the start and at the end: the fibres that N, My and Mz
    /// strain most are taken as one, with the largest torsional stress in it; shear by transverse
    /// forces isn't in it (R. von Mises, 1913; `sigma^2 + 3 tau^2`).
    #[inline(always)]
    pub(super) fn stress(&self, stiffness: &Stiffness<S>) -> [Num<S>; 2] {
        let [n, t, mean_y, mean_z, grow_y, grow_z] = self.0;
        von_mises(
            &stiffness.stress,
            [n, t],
            [[mean_y - grow_y, mean_z - grow_z], [mean_y + grow_y, mean_z + grow_z]],
        )
    }

    /// Forces that the end receives from its node, global axes; then the moments of the start and
    /// of the end. The start receives the opposite force.
    #[inline(always)]
    pub(super) fn at_nodes(&self, member: &Member) -> (Three<S>, Three<S>, Three<S>) {
        let [x, y, z] = &member.axes;
        let [n, v_y, v_z, torque] = self.through(member);
        let [_, _, mean_y, mean_z, grow_y, grow_z] = self.0;
        let zero = n.like(0.0);
        let (mut force, mut from, mut to) = ([zero; 3], [zero; 3], [zero; 3]);
        for i in 0..3 {
            force[i] = n * x[i] + v_y * y[i] + v_z * z[i];
            let mean = torque * x[i] + mean_y * y[i] + mean_z * z[i];
            let growth = grow_y * y[i] + grow_z * z[i];
            from[i] = growth - mean;
            to[i] = growth + mean;
        }
        if let Some([arm_from, arm_to]) = &member.arms {
            // arm x force = - force x arm; the start has the opposite force.
            from = plus(from, turned(force, arm_from));
            to = less(to, turned(force, arm_to));
        }
        (force, from, to)
    }

    /// What the start and the end receive, local axes at the centroid.
    #[inline(always)]
    pub(super) fn end_forces(&self, member: &Member) -> [Num<S>; 2 * SIDE] {
        let [n, v_y, v_z, torque] = self.through(member);
        let [_, _, mean_y, mean_z, grow_y, grow_z] = self.0;
        [
            -n,
            -v_y,
            -v_z,
            -torque,
            grow_y - mean_y,
            grow_z - mean_z,
            n,
            v_y,
            v_z,
            torque,
            grow_y + mean_y,
            grow_z + mean_z,
        ]
    }

    /// N, Vy, Vz and the torque about the centroid, the same all along.
    #[inline(always)]
    fn through(&self, member: &Member) -> [Num<S>; 4] {
        let [n, t, _, _, grow_y, grow_z] = self.0;
        let h = 2.0 / member.length;
        let (v_y, v_z) = (-(grow_z * h), grow_y * h);
        let torque = match member.shear_centre {
            None => t,
            Some([y_s, z_s]) => t + v_z * y_s - v_y * z_s,
        };
        [n, v_y, v_z, torque]
    }
}

/// Squares of the stress at cuts with these moments about y and z, under N and T.
#[inline(always)]
pub(super) fn von_mises<S: Simd>(
    per_unit: &[Num<S>; 4],
    [n, t]: [Num<S>; 2],
    cuts: [[Num<S>; 2]; 2],
) -> [Num<S>; 2] {
    let axial = n.size() * per_unit[0];
    let shear = t.size() * per_unit[3];
    let mut squares = [shear * shear * 3.0; 2];
    for (square, [m_y, m_z]) in squares.iter_mut().zip(cuts) {
        let normal = axial + m_y.size() * per_unit[1] + m_z.size() * per_unit[2];
        *square = normal * normal + *square;
    }
    squares
}

/// Forces that a spring needs at its nodes under these movements.
#[inline(always)]
pub(super) fn spring_forces<S: Simd>(
    spring: &Bedding,
    numbers: &[Num<S>],
    first: [Num<S>; SIDE],
    second: [Num<S>; SIDE],
) -> [[Num<S>; SIDE]; 2] {
    let zero = first[0].like(0.0);
    let mut forces = [[zero; SIDE]; 2];
    for (i, row) in spring.modes.iter().enumerate() {
        let mut moved = zero;
        for c in 0..SIDE {
            moved = moved + first[c] * row[c] + second[c] * row[SIDE + c];
        }
        let force = numbers[spring.stiffness + i] * moved;
        for c in 0..SIDE {
            forces[0][c] = forces[0][c] + force * row[c];
            forces[1][c] = forces[1][c] + force * row[SIDE + c];
        }
    }
    forces
}

/// Movements of a node in one case of a group; none where the node is held.
#[inline(always)]
pub(super) fn movement<S: Simd>(
    block: Option<&Block<S>>,
    case: usize,
    zero: Num<S>,
) -> [Num<S>; SIDE] {
    let mut moved = [zero; SIDE];
    if let Some(block) = block {
        for i in 0..SIDE {
            moved[i] = block[i][case];
        }
    }
    moved
}

#[inline(always)]
fn halves<S: Simd>(six: [Num<S>; SIDE]) -> (Three<S>, Three<S>) {
    ([six[0], six[1], six[2]], [six[3], six[4], six[5]])
}

#[inline(always)]
fn plus<S: Simd>(a: Three<S>, b: Three<S>) -> Three<S> {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

#[inline(always)]
fn less<S: Simd>(a: Three<S>, b: Three<S>) -> Three<S> {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}
