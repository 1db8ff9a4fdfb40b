//! Stiffness of members and springs, added to the blocks.
//!
//! The natural modes of `beam` in terms of three differences between the ends: `u` (translation of
//! the end less that of the start), `d` (the same of rotations) and `s` (sum of both rotations),
//! with `h = 2 / L` and local axes x, y, z:
//!
//! | mode | deformation |
//! |---|---|
//! | 0 | `x u` |
//! | 1, 2, 3 | `x d`, `y d`, `z d` |
//! | 4 | `y s + h (z u + y_s x d)` |
//! | 5 | `z s - h (y u - z_s x d)` |
//!
//! So a member is a form of nine differences, from which the blocks of its nodes follow by adding
//! and subtracting.

use super::block::{Block, SIDE};
use super::num::Num;
use super::request::SectionProperty as Property;
use super::topology::{Bedding, FrameBatch, Member};
use pulp::Simd;

/// What a member is to recovery.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stiffness<S: Simd> {
    /// Natural force over natural deformation, mode by mode.
    pub(super) natural: [Num<S>; SIDE],
    /// 1 / area, 1 / bending moduli about y and z, 1 / torsion modulus.
    pub(super) stress: [Num<S>; 4],
}

/// Stiffness of the modes: `E A / L`, `G J / L`, `E I / L`, and `3 E I / L / (1 + Phi)` with
/// `Phi = 12 E I / (G A_s L^2)` (source as in `beam::element`).
#[inline(always)]
pub(super) fn stiffness<S: Simd>(member: &Member, numbers: &[Num<S>]) -> Stiffness<S> {
    let section = &numbers[member.section..member.section + Property::ALL.len()];
    let (e, g) = (numbers[member.material], numbers[member.material + 1]);
    let inverse = 1.0 / member.length;
    let e_over = e * inverse;
    let bend_y = e_over * section[Property::InertiaY as usize];
    let bend_z = e_over * section[Property::InertiaZ as usize];
    let mut grow_y = bend_y * 3.0;
    let mut grow_z = bend_z * 3.0;
    let one = e.like(1.0);
    if member.sheared[1] {
        let phi = bend_y * (12.0 * inverse) / (g * section[Property::ShearAreaZ as usize]);
        grow_y = grow_y / (one + phi);
    }
    if member.sheared[0] {
        let phi = bend_z * (12.0 * inverse) / (g * section[Property::ShearAreaY as usize]);
        grow_z = grow_z / (one + phi);
    }
    Stiffness {
        natural: [
            e_over * section[Property::Area as usize],
            g * inverse * section[Property::TorsionConstant as usize],
            bend_y,
            bend_z,
            grow_y,
            grow_z,
        ],
        stress: [
            one / section[Property::Area as usize],
            one / section[Property::ModulusY as usize],
            one / section[Property::ModulusZ as usize],
            one / section[Property::TorsionModulus as usize],
        ],
    }
}

/// Adds a member to the blocks.
#[inline(always)]
pub(super) fn add_member<S: Simd>(
    member: &Member,
    stiffness: &Stiffness<S>,
    blocks: &mut [Block<S>],
) {
    let [k0, k1, k2, k3, k4, k5] = stiffness.natural;
    let [x, y, z] = &member.axes;
    let h = 2.0 / member.length;
    let zero = k0.like(0.0);
    // The four parts of the form, and two more where the shear centre lies aside.
    let mut uu = [[zero; 3]; 3];
    let mut us = [[zero; 3]; 3];
    let mut ss = [[zero; 3]; 3];
    let mut dd = [[zero; 3]; 3];
    let (h4, h5) = (k4 * h, k5 * h);
    let (hh4, hh5) = (h4 * h, h5 * h);
    for j in 0..3 {
        let (k0x, k1x) = (k0 * x[j], k1 * x[j]);
        let (k2y, k3z) = (k2 * y[j], k3 * z[j]);
        let (k4y, k5z) = (k4 * y[j], k5 * z[j]);
        let (h4y, h5z) = (h4 * y[j], h5 * z[j]);
        let (hh4z, hh5y) = (hh4 * z[j], hh5 * y[j]);
        for i in 0..3 {
            if i >= j {
                uu[j][i] = k0x * x[i] + hh4z * z[i] + hh5y * y[i];
                dd[j][i] = k1x * x[i] + k2y * y[i] + k3z * z[i];
                ss[j][i] = k4y * y[i] + k5z * z[i];
                uu[i][j] = uu[j][i];
                dd[i][j] = dd[j][i];
                ss[i][j] = ss[j][i];
            }
            us[j][i] = h4y * z[i] - h5z * y[i];
        }
    }
    let mut ud = [[zero; 3]; 3];
    let mut sd = [[zero; 3]; 3];
    if let Some([y_s, z_s]) = member.shear_centre {
        let twist = hh4 * (y_s * y_s) + hh5 * (z_s * z_s);
        for j in 0..3 {
            for i in 0..3 {
                ud[j][i] = (hh4 * (y_s * z[i]) - hh5 * (z_s * y[i])) * x[j];
                sd[j][i] = (h4 * (y_s * y[i]) + h5 * (z_s * z[i])) * x[j];
                dd[j][i] = dd[j][i] + twist * (x[i] * x[j]);
            }
        }
    }
    let mut first = [[zero; SIDE]; SIDE];
    let mut second = [[zero; SIDE]; SIDE];
    let mut both = [[zero; SIDE]; SIDE];
    for j in 0..3 {
        for i in 0..3 {
            first[j][i] = uu[j][i];
            second[j][i] = uu[j][i];
            both[j][i] = -uu[j][i];
            let (minus, plus) = (ud[j][i] - us[j][i], ud[j][i] + us[j][i]);
            first[3 + j][i] = minus;
            first[i][3 + j] = minus;
            second[3 + j][i] = plus;
            second[i][3 + j] = plus;
            both[3 + j][i] = -plus;
            // Row j of the start's rotation, column i of the end's translation.
            both[i][3 + j] = us[j][i] - ud[j][i];
            let (sum, cross) = (dd[j][i] + ss[j][i], sd[j][i] + sd[i][j]);
            first[3 + j][3 + i] = sum - cross;
            second[3 + j][3 + i] = sum + cross;
            both[3 + j][3 + i] = ss[j][i] - dd[j][i] + sd[j][i] - sd[i][j];
        }
    }
    if let Some([start, end]) = &member.arms {
        shift_columns(&mut first, start);
        shift_rows(&mut first, start);
        shift_columns(&mut second, end);
        shift_rows(&mut second, end);
        shift_columns(&mut both, end);
        shift_rows(&mut both, start);
    }
    let [own_first, own_second] = member.at.own;
    if let Some(block) = own_first {
        add(&mut blocks[block], &first);
    }
    if let Some(block) = own_second {
        add(&mut blocks[block], &second);
    }
    if let Some((block, swapped)) = member.at.both {
        add_turned(&mut blocks[block], &both, swapped);
    }
}

/// Adds a spring to the blocks.
#[inline(always)]
pub(super) fn add_spring<S: Simd>(spring: &Bedding, numbers: &[Num<S>], blocks: &mut [Block<S>]) {
    for (i, row) in spring.modes.iter().enumerate() {
        let k = numbers[spring.stiffness + i];
        let [first, second] = spring.at.own;
        if let Some(block) = first {
            add(&mut blocks[block], &product(k, row, 0, 0));
        }
        if let Some(block) = second {
            add(&mut blocks[block], &product(k, row, SIDE, SIDE));
        }
        if let Some((block, swapped)) = spring.at.both {
            add_turned(&mut blocks[block], &product(k, row, 0, SIDE), swapped);
        }
    }
}

/// Part of `k row^T row` from this row and this column on.
#[inline(always)]
fn product<S: Simd>(k: Num<S>, row: &[f64; 12], rows: usize, columns: usize) -> Block<S> {
    let mut block = [[k; SIDE]; SIDE];
    for c in 0..SIDE {
        for r in 0..SIDE {
            block[c][r] = k * (row[rows + r] * row[columns + c]);
        }
    }
    block
}

/// Puts ones on the diagonal of held movements and nothing beside them.
#[inline(always)]
pub(super) fn hold<S: Simd>(batch: &FrameBatch, blocks: &mut [Block<S>], one: Num<S>) {
    for &[block, column, row] in &batch.emptied {
        blocks[block][column][row] = one.like(0.0);
    }
    for (step, held) in batch.schedule.steps.iter().zip(&batch.held) {
        for (i, &held) in held.iter().enumerate() {
            if held {
                blocks[step.diagonal.block][i][i] = one;
            }
        }
    }
}

#[inline(always)]
fn add<S: Simd>(block: &mut Block<S>, other: &Block<S>) {
    for c in 0..SIDE {
        for r in 0..SIDE {
            block[c][r] = block[c][r] + other[c][r];
        }
    }
}

#[inline(always)]
fn add_turned<S: Simd>(block: &mut Block<S>, other: &Block<S>, swapped: bool) {
    if !swapped {
        add(block, other);
        return;
    }
    for c in 0..SIDE {
        for r in 0..SIDE {
            block[c][r] = block[c][r] + other[r][c];
        }
    }
}

/// From the movements of the end of a rigid arm to those of its node: the end's translation is
/// that of the node and `rotation x arm`.
#[inline(always)]
fn shift_columns<S: Simd>(block: &mut Block<S>, arm: &[f64; 3]) {
    for r in 0..SIDE {
        let u = [block[0][r], block[1][r], block[2][r]];
        block[3][r] = block[3][r] + (u[2] * arm[1] - u[1] * arm[2]);
        block[4][r] = block[4][r] + (u[0] * arm[2] - u[2] * arm[0]);
        block[5][r] = block[5][r] + (u[1] * arm[0] - u[0] * arm[1]);
    }
}

#[inline(always)]
fn shift_rows<S: Simd>(block: &mut Block<S>, arm: &[f64; 3]) {
    for c in 0..SIDE {
        let u = [block[c][0], block[c][1], block[c][2]];
        block[c][3] = block[c][3] + (u[2] * arm[1] - u[1] * arm[2]);
        block[c][4] = block[c][4] + (u[0] * arm[2] - u[2] * arm[0]);
        block[c][5] = block[c][5] + (u[1] * arm[0] - u[0] * arm[1]);
    }
}
