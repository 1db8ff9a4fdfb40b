//! The validated model: what the solver accepts.

use crate::model::Orientation;
use crate::model::{BeamId, FrameDraft, LinkId, NodeId};
use crate::vector::{Vec3, cross, dot, norm, scale, sub};

/// A frame in which every reference exists, every number is usable and every member has a
/// length. Only [`FrameDraft::validate`] makes one.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameModel {
    pub(crate) draft: FrameDraft,
    pub(crate) lines: Vec<MemberLine>,
    /// Links in an order in which every master is placed before its slaves.
    pub(crate) link_order: Vec<LinkId>,
}

impl FrameModel {
    /// The description that the model was made from.
    #[must_use]
    pub fn draft(&self) -> &FrameDraft {
        &self.draft
    }

    /// Flexible length of a member, m: the distance between the tips of its rigid arms.
    ///
    /// # Panics
    /// When the model has no such member.
    #[must_use]
    pub fn beam_length(&self, beam: BeamId) -> f64 {
        self.lines[beam.0].length
    }

    /// Local axes of a member: rows are unit vectors x, y, z in global components.
    ///
    /// # Panics
    /// When the model has no such member.
    #[must_use]
    pub fn beam_axes(&self, beam: BeamId) -> [[f64; 3]; 3] {
        self.lines[beam.0].axes
    }

    /// Entries of the factor of the stiffness matrix, known before any number is computed: the
    /// measure of the memory (8 bytes each) and of the time that a solve will take.
    #[must_use]
    pub fn predicted_factor_entries(&self) -> usize {
        crate::assembly::predicted_factor_entries(self)
    }

    pub(crate) fn position(&self, node: NodeId) -> Vec3 {
        self.draft.nodes[node.0].position
    }

    /// Diagonal of the box around all nodes, m: the length by which a rotation is compared with a
    /// translation.
    pub(crate) fn size(&self) -> f64 {
        let (low, high) = self.bounds();
        let diagonal = norm(sub(high, low));
        if diagonal > 0.0 { diagonal } else { 1.0 }
    }

    /// Middle of the box around all nodes.
    pub(crate) fn middle(&self) -> Vec3 {
        let (low, high) = self.bounds();
        [0, 1, 2].map(|i| 0.5 * (low[i] + high[i]))
    }

    fn bounds(&self) -> (Vec3, Vec3) {
        let mut low = self.position(NodeId(0));
        let mut high = low;
        for node in &self.draft.nodes {
            for i in 0..3 {
                if node.position[i] < low[i] {
                    low[i] = node.position[i];
                }
                if node.position[i] > high[i] {
                    high[i] = node.position[i];
                }
            }
        }
        (low, high)
    }
}

/// Where a member lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct MemberLine {
    /// Flexible length, m.
    pub(crate) length: f64,
    /// Rows: local x, y, z in global components.
    pub(crate) axes: [[f64; 3]; 3],
}

/// Below this angle (rad) between the member and the reference direction the local axes would
/// hang on rounding.
const SMALLEST_ANGLE: f64 = 1e-6;

impl MemberLine {
    /// Lays the local axes; `None` when the reference direction runs along the member.
    pub(crate) fn new(start: Vec3, end: Vec3, orientation: Orientation) -> Option<Self> {
        let along = sub(end, start);
        let length = norm(along);
        let x = scale(1.0 / length, along);
        let z = match orientation {
            Orientation::ZTowards(reference) => square_to(x, reference)?,
            Orientation::Roll(angle) => {
                let z = square_to(x, [0.0, 0.0, 1.0])
                    .or_else(|| square_to(x, cross(x, [0.0, 1.0, 0.0])))?;
                let y = cross(z, x);
                let (sine, cosine) = angle.sin_cos();
                // Turning right-handed about x takes y towards z and z towards -y.
                [0, 1, 2].map(|i| cosine * z[i] - sine * y[i])
            }
        };
        Some(MemberLine { length, axes: [x, cross(z, x), z] })
    }

    /// Global to local components.
    pub(crate) fn to_local(self, v: Vec3) -> Vec3 {
        [dot(self.axes[0], v), dot(self.axes[1], v), dot(self.axes[2], v)]
    }

    /// Local to global components.
    pub(crate) fn to_global(self, v: Vec3) -> Vec3 {
        let [x, y, z] = self.axes;
        [0, 1, 2].map(|i| v[0] * x[i] + v[1] * y[i] + v[2] * z[i])
    }
}

/// Unit vector along the part of `v` that stands square to the unit vector `x`.
fn square_to(x: Vec3, v: Vec3) -> Option<Vec3> {
    let size = norm(v);
    if size <= 0.0 {
        return None;
    }
    let v = scale(1.0 / size, v);
    let rest = sub(v, scale(dot(x, v), x));
    let length = norm(rest);
    if length < SMALLEST_ANGLE {
        return None;
    }
    let once = scale(1.0 / length, rest);
    // A second pass removes what rounding left along x when the angle is small.
    let twice = sub(once, scale(dot(x, once), x));
    Some(scale(1.0 / norm(twice), twice))
}
