//! Dense elimination of the columns of one panel.
//!
//! Large panels are worked on in tiles of fixed size, so that several threads can take a tile each
//! and still every number is computed by the same operations.

use super::threads::share;
use faer::dyn_stack::{MemBuffer, MemStack};
use faer::linalg::cholesky::{ldlt, llt};
use faer::linalg::matmul::matmul;
use faer::linalg::matmul::triangular::{BlockStructure, matmul as triangular_matmul};
use faer::linalg::triangular_solve::{
    solve_lower_triangular_in_place, solve_unit_lower_triangular_in_place,
};
use faer::{Accum, MatMut, MatRef, Par};

/// Which factor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// `L L^T` of a positive definite matrix.
    Positive,
    /// `L D L^T` of an indefinite one, without pivoting; D takes the place of the diagonal.
    Signed,
}

/// Columns that are eliminated at a time, and sides of a tile.
const TILE: usize = 256;
/// Below so many operations a step isn't worth a second thread.
const WORTH_SHARING: usize = 2_000_000;

/// Eliminates the first `pivots` columns of a front. `panel` holds them by columns and becomes the
/// factor; `square` receives the update, lower triangle by columns: minus the product of what lies
/// below.
///
/// # Errors
/// The column whose pivot can't be used.
pub(super) fn eliminate(
    kind: Kind,
    panel: &mut [f64],
    pivots: usize,
    square: &mut [f64],
    threads: usize,
) -> Result<(), usize> {
    let rows = panel.len() / pivots;
    let below = rows - pivots;
    let mut panel = MatMut::from_column_major_slice_mut(panel, rows, pivots);
    let mut first = 0;
    while first < pivots {
        let width = Ord::min(TILE, pivots - first);
        let (_, mut columns) = panel.as_mut().split_at_col_mut(first);
        let (_, columns) = columns.as_mut().split_at_row_mut(first);
        let (mut block, later) = columns.split_at_col_mut(width);
        let (mut top, mut bottom) = block.as_mut().split_at_row_mut(width);
        factor_block(kind, top.as_mut()).map_err(|pivot| first + pivot)?;
        solve_below(kind, top.as_ref(), bottom.as_mut(), threads);
        let (_, later) = later.split_at_row_mut(width);
        let scaled = scaled_by_pivots(kind, top.as_ref(), bottom.as_ref());
        let left = scaled.as_ref().map_or(bottom.as_ref(), |s| s.as_ref());
        subtract_product(later, left, bottom.as_ref(), Accum::Add, threads);
        first += width;
    }
    if below > 0 {
        let update = MatMut::from_column_major_slice_mut(square, below, below);
        let (top, bottom) = panel.as_ref().split_at_row(pivots);
        let scaled = scaled_by_pivots(kind, top, bottom);
        let left = scaled.as_ref().map_or(bottom, |s| s.as_ref());
        subtract_product(update, left, bottom, Accum::Replace, threads);
    }
    Ok(())
}

fn factor_block(kind: Kind, block: MatMut<'_, f64>) -> Result<(), usize> {
    let size = block.nrows();
    match kind {
        Kind::Positive => {
            let scratch =
                llt::factor::cholesky_in_place_scratch::<f64>(size, Par::Seq, Default::default());
            let mut memory = MemBuffer::new(scratch);
            let memory = MemStack::new(&mut memory);
            let plain = Default::default();
            llt::factor::cholesky_in_place(block, plain, Par::Seq, memory, Default::default())
                .map(|_| ())
                .map_err(|llt::factor::LltError::NonPositivePivot { index }| index)
        }
        Kind::Signed => {
            let scratch =
                ldlt::factor::cholesky_in_place_scratch::<f64>(size, Par::Seq, Default::default());
            let mut memory = MemBuffer::new(scratch);
            let memory = MemStack::new(&mut memory);
            let plain = Default::default();
            ldlt::factor::cholesky_in_place(block, plain, Par::Seq, memory, Default::default())
                .map(|_| ())
                .map_err(|ldlt::factor::LdltError::ZeroPivot { index }| index)
        }
    }
}

/// `bottom <- bottom L^-T`, by tiles of rows.
fn solve_below(kind: Kind, top: MatRef<'_, f64>, bottom: MatMut<'_, f64>, threads: usize) {
    let threads = if bottom.nrows() * top.nrows().pow(2) < WORTH_SHARING { 1 } else { threads };
    let mut tiles = Vec::with_capacity(bottom.nrows().div_ceil(TILE));
    let mut rest = bottom;
    while rest.nrows() > TILE {
        let (tile, after) = rest.split_at_row_mut(TILE);
        tiles.push(tile);
        rest = after;
    }
    tiles.push(rest);
    share(tiles, threads, |tile| match kind {
        Kind::Positive => solve_lower_triangular_in_place(top, tile.transpose_mut(), Par::Seq),
        Kind::Signed => solve_unit_lower_triangular_in_place(top, tile.transpose_mut(), Par::Seq),
    });
}

/// For the indefinite kind, rows of `L D` divided by the pivots.
fn scaled_by_pivots(
    kind: Kind,
    top: MatRef<'_, f64>,
    bottom: MatRef<'_, f64>,
) -> Option<faer::Mat<f64>> {
    (kind == Kind::Signed).then(|| {
        faer::Mat::from_fn(bottom.nrows(), bottom.ncols(), |i, j| bottom[(i, j)] / top[(j, j)])
    })
}

/// Takes `left right^T` off a matrix of no more columns than rows (or replaces it by that), lower
/// triangle only, by tiles of columns.
fn subtract_product(
    target: MatMut<'_, f64>,
    left: MatRef<'_, f64>,
    right: MatRef<'_, f64>,
    onto: Accum,
    threads: usize,
) {
    let operations = target.nrows() * target.ncols() * left.ncols();
    let threads = if operations < WORTH_SHARING { 1 } else { threads };
    let mut tiles = Vec::with_capacity(target.ncols().div_ceil(TILE));
    let mut rest = target;
    let mut first = 0;
    while rest.ncols() > 0 {
        let width = Ord::min(TILE, rest.ncols());
        let (tile, after) = rest.split_at_col_mut(width);
        tiles.push((first, tile));
        rest = after;
        first += width;
    }
    share(tiles, threads, |(first, tile)| {
        let width = tile.ncols();
        let (_, tile) = tile.split_at_row_mut(first);
        let (square, below) = tile.split_at_row_mut(width);
        let (_, left) = left.split_at_row(first);
        let (left_square, left_below) = left.split_at_row(width);
        let right = right.subrows(first, width).transpose();
        triangular_matmul(
            square,
            BlockStructure::TriangularLower,
            onto,
            left_square,
            BlockStructure::Rectangular,
            right,
            BlockStructure::Rectangular,
            -1.0,
            Par::Seq,
        );
        if below.nrows() > 0 {
            matmul(below, onto, left_below, right, -1.0, Par::Seq);
        }
    });
}
