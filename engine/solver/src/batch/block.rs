//! Blocks of 6 x 6 numbers and what a block Cholesky factor does with them.
//!
//! A block is stored by columns. Those of the matrix have a row and a column for each movement of
//! a node; those of the right-hand sides have a row a load case and a column a movement, so that
//! they stand below the matrix as further rows and take part in its factorisation: what the factor
//! makes of them is the forward substitution (G. H. Golub, C. F. Van Loan, Matrix Computations, 4th
//! ed. 2013, 4.2, block form).

use super::num::Num;
use pulp::Simd;

/// Rows and columns of a block.
pub(super) const SIDE: usize = 6;

/// A block, by columns.
pub(super) type Block<S> = [[Num<S>; SIDE]; SIDE];

/// Blocks that are read, the first of them numbered `first`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Read<'b, S: Simd> {
    pub(super) blocks: &'b [Block<S>],
    pub(super) first: usize,
}

/// `block -= a b^T` for each pair of blocks in turn.
#[inline(always)]
pub(super) fn subtract_products<S: Simd>(
    block: &mut Block<S>,
    pairs: &[[u32; 2]],
    from: Read<'_, S>,
) {
    // As many sums as the registers hold beside one column of `a`.
    if S::REGISTER_COUNT >= 32 {
        columns::<S, 3, 0, false>(block, pairs, from, from);
        columns::<S, 3, 3, false>(block, pairs, from, from);
    } else {
        columns::<S, 2, 0, false>(block, pairs, from, from);
        columns::<S, 2, 2, false>(block, pairs, from, from);
        columns::<S, 2, 4, false>(block, pairs, from, from);
    }
}

/// `block -= a b` for each pair of blocks in turn; each has its own source.
#[inline(always)]
pub(super) fn subtract_plain_products<S: Simd>(
    block: &mut Block<S>,
    pairs: &[[u32; 2]],
    a: Read<'_, S>,
    b: Read<'_, S>,
) {
    if S::REGISTER_COUNT >= 32 {
        columns::<S, 3, 0, true>(block, pairs, a, b);
        columns::<S, 3, 3, true>(block, pairs, a, b);
    } else {
        columns::<S, 2, 0, true>(block, pairs, a, b);
        columns::<S, 2, 2, true>(block, pairs, a, b);
        columns::<S, 2, 4, true>(block, pairs, a, b);
    }
}

/// `COUNT` columns of the block from `FIRST` on. Each entry is the same sum in the same order
/// whatever the number of columns taken at once.
#[inline(always)]
fn columns<S: Simd, const COUNT: usize, const FIRST: usize, const PLAIN: bool>(
    block: &mut Block<S>,
    pairs: &[[u32; 2]],
    of_a: Read<'_, S>,
    of_b: Read<'_, S>,
) {
    let mut sums = [block[FIRST]; COUNT];
    sums.copy_from_slice(&block[FIRST..FIRST + COUNT]);
    for &[a, b] in pairs {
        let a = &of_a.blocks[a as usize - of_a.first];
        let b = &of_b.blocks[b as usize - of_b.first];
        for k in 0..SIDE {
            for j in 0..COUNT {
                let factor = if PLAIN { b[FIRST + j][k] } else { b[k][FIRST + j] };
                for i in 0..SIDE {
                    sums[j][i] = sums[j][i] - a[k][i] * factor;
                }
            }
        }
    }
    block[FIRST..FIRST + COUNT].copy_from_slice(&sums);
}

/// Factors a diagonal block; its diagonal then holds the inverses of that of the factor. `scale`
/// brings a pivot into proportion to the diagonal before elimination; the smallest of these
/// proportions so far is kept.
#[inline(always)]
pub(super) fn factor<S: Simd>(block: &mut Block<S>, scale: &[Num<S>; SIDE], smallest: &mut Num<S>) {
    for j in 0..SIDE {
        for k in 0..j {
            let factor = block[k][j];
            for i in j..SIDE {
                block[j][i] = block[j][i] - block[k][i] * factor;
            }
        }
        let pivot = block[j][j];
        let left = pivot * scale[j] * scale[j];
        *smallest = smallest.where_above(left, left, *smallest);
        let inverse = pivot.like(1.0) / pivot.root();
        block[j][j] = inverse;
        for i in j + 1..SIDE {
            block[j][i] = block[j][i] * inverse;
        }
    }
}

/// `block = block L^-T` with a factored diagonal block L.
#[inline(always)]
pub(super) fn divide_transposed<S: Simd>(block: &mut Block<S>, factor: &Block<S>) {
    for j in 0..SIDE {
        for k in 0..j {
            for i in 0..SIDE {
                block[j][i] = block[j][i] - block[k][i] * factor[k][j];
            }
        }
        for i in 0..SIDE {
            block[j][i] = block[j][i] * factor[j][j];
        }
    }
}

/// `block = block L^-1` with a factored diagonal block L.
#[inline(always)]
pub(super) fn divide<S: Simd>(block: &mut Block<S>, factor: &Block<S>) {
    for j in (0..SIDE).rev() {
        for i in 0..SIDE {
            block[j][i] = block[j][i] * factor[j][j];
        }
        for k in 0..j {
            for i in 0..SIDE {
                block[k][i] = block[k][i] - block[j][i] * factor[k][j];
            }
        }
    }
}
