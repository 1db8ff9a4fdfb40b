//! Seams, spots, bolts and contact: springs between movements of plates that need not share nodes.

mod row;

pub(crate) use row::Row;

/// The structure with every joint closed, factored: what the search for pressing faces asks.
pub(crate) trait Base: Sync {
    /// Movements (`6 n + i`, global) under each set of forces (movement, force) alone, without
    /// loads and with supports at rest.
    fn respond(&self, forces: &[Vec<(usize, f64)>]) -> Vec<Vec<f64>>;

    /// Movements under the loads and prescribed movements of a load case and further forces.
    fn solve(&self, case: usize, forces: &[(usize, f64)]) -> Vec<f64>;
}
