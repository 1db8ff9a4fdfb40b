//! Springs that resist a weighted sum of movements.

/// A spring that resists `terms . u`: it adds `stiffness * c c^T` to the stiffness matrix.
///
/// Movement `6 n + i` is component i of node n in global axes; nodes that joints bring along
/// ([`super::Joints::nodes`]) are numbered after those of the frame.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Row {
    /// Movements and their weights, ascending by movement.
    pub(crate) terms: Vec<(usize, f64)>,
    /// Force for each unit of the sum, N/m or N m/rad.
    pub(crate) stiffness: f64,
}

impl Row {
    /// The sum that it resists.
    pub(crate) fn sum(&self, movements: &[f64]) -> f64 {
        self.terms.iter().map(|&(i, c)| c * movements[i]).sum()
    }
}
