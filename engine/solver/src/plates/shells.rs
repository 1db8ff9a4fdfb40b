//! The validated structure of plates: what the solver accepts.

use super::assembly::Assembly;
use super::element::{Facet, PlateLaw};
use super::joints::Joints;
use super::model::{Plate, PlateId, PlateLoads, Spread};
use crate::frame::FrameModel;
use crate::model::{GLOBAL_AXES, NodeId};
use crate::vector::{Vec3, cross, dot, norm, scale, sub};

/// Plates and what joins them, every reference and number of which is usable. Only
/// [`super::model::PlateDraft::validate`] makes one.
#[derive(Clone, Debug)]
pub struct PlateModel {
    /// Its nodes after the first `given_nodes` belong to joints, its links after the first
    /// `given_links` hold the rigid spreads.
    pub(crate) frame: FrameModel,
    pub(crate) given_nodes: usize,
    pub(crate) given_links: usize,
    pub(crate) plates: Vec<Plate>,
    pub(crate) laws: Vec<PlateLaw>,
    /// Elements, plate by plate.
    pub(crate) shells: Vec<Shell>,
    /// First element of each plate, and the number of elements at the end.
    pub(crate) first_shell: Vec<usize>,
    /// Axes of every node; `None` = global.
    pub(crate) axes: Vec<Option<[Vec3; 3]>>,
    pub(crate) spreads: Vec<Spread>,
    pub(crate) joints: Joints,
    /// Of each contact, whether it presses on the ground.
    pub(crate) grounded: Vec<bool>,
    /// One entry a load case.
    pub(crate) loads: Vec<PlateLoads>,
}

/// An element in its place.
#[derive(Clone, Debug)]
pub(crate) struct Shell {
    pub(crate) plate: usize,
    /// Corners; a triangle repeats its last.
    pub(crate) nodes: [usize; 4],
    /// Flat ones lie along the axes of their plane.
    pub(crate) facet: Facet,
}

impl Shell {
    /// Its corners.
    pub(crate) fn corners(&self) -> &[usize] {
        &self.nodes[..self.facet.corners]
    }
}

impl PlateModel {
    /// The frame part: nodes (those that joints bring along at the end), materials, supports, load
    /// cases.
    #[must_use]
    pub fn frame(&self) -> &FrameModel {
        &self.frame
    }

    /// The plates.
    #[must_use]
    pub fn plates(&self) -> &[Plate] {
        &self.plates
    }

    /// Unit normal of an element out of its top face, global; that of the mean plane where the
    /// element is warped.
    ///
    /// # Panics
    /// When the model has no such element.
    #[must_use]
    pub fn normal(&self, plate: PlateId, element: usize) -> [f64; 3] {
        self.shells_of(plate.0)[element].facet.axes[2]
    }

    /// Entries of the factor of the stiffness matrix, known before any number is computed: the
    /// measure of the memory (8 bytes each) and of the time that a solve will take. 0 where the
    /// solve will report that supports hold a movement twice.
    #[must_use]
    pub fn predicted_factor_entries(&self) -> usize {
        Assembly::new(self, self.joints.rows()).map_or(0, |a| a.pattern.factor_entries())
    }

    pub(crate) fn shells_of(&self, plate: usize) -> &[Shell] {
        &self.shells[self.first_shell[plate]..self.first_shell[plate + 1]]
    }

    /// Axes of a node as rows.
    pub(crate) fn rows(&self, node: usize) -> [Vec3; 3] {
        self.axes[node].unwrap_or(GLOBAL_AXES)
    }

    /// Names of the plates that meet at a node, in their order.
    pub(crate) fn plates_at(&self, node: NodeId) -> Vec<String> {
        let mut names: Vec<String> = Vec::new();
        for (index, plate) in self.plates.iter().enumerate() {
            if self.shells_of(index).iter().any(|s| s.nodes.contains(&node.0)) {
                names.push(plate.name.clone());
            }
        }
        names
    }

    /// Six numbers a node from the axes of the nodes to global axes.
    pub(crate) fn to_global(&self, mut all: Vec<f64>) -> Vec<f64> {
        for (three, axes) in all.chunks_exact_mut(3).zip(self.triples()) {
            if let Some([x, y, z]) = axes {
                let v = [three[0], three[1], three[2]];
                for i in 0..3 {
                    three[i] = v[0] * x[i] + v[1] * y[i] + v[2] * z[i];
                }
            }
        }
        all
    }

    /// Six numbers a node from global axes to the axes of the nodes.
    pub(crate) fn to_local(&self, mut all: Vec<f64>) -> Vec<f64> {
        for (three, axes) in all.chunks_exact_mut(3).zip(self.triples()) {
            if let Some(axes) = axes {
                let v = [three[0], three[1], three[2]];
                for (to, axis) in three.iter_mut().zip(axes) {
                    *to = dot(*axis, v);
                }
            }
        }
        all
    }

    /// The axes of translations and rotations, node by node.
    fn triples(&self) -> impl Iterator<Item = Option<&[Vec3; 3]>> {
        self.axes.iter().flat_map(|axes| [axes.as_ref(), axes.as_ref()])
    }
}

/// Directions that differ by less than this are one, and components smaller than this are zero:
/// what coordinates with ten digits leave of a plane.
pub(crate) const SAME_DIRECTION: f64 = 4e-9;
/// Planes that meet at less than this angle have no usable line in common, rad.
const SMALLEST_FOLD: f64 = 1e-5;

/// The planes of the elements that meet at a node.
#[derive(Clone, Copy, Debug)]
enum Meeting {
    Nothing,
    One(Vec3),
    Two(Vec3, Vec3),
    Many,
}

impl Meeting {
    fn with(self, facet: &Facet) -> Self {
        let normal = facet.axes[2];
        let same = |other: Vec3| norm(cross(other, normal)) <= SAME_DIRECTION;
        match self {
            _ if !facet.is_flat() => Meeting::Many,
            Meeting::Nothing => Meeting::One(normal),
            Meeting::One(first) if !same(first) => Meeting::Two(first, normal),
            Meeting::Two(first, second) if !same(first) && !same(second) => Meeting::Many,
            unchanged => unchanged,
        }
    }

    /// Axes that keep membrane and bending of as many of the elements apart as they can.
    fn axes(self) -> Option<[Vec3; 3]> {
        let rows = match self {
            Meeting::Nothing | Meeting::Many => return None,
            Meeting::One(normal) => {
                let x = along_plane(normal);
                [x, cross(normal, x), normal]
            }
            Meeting::Two(first, second) => {
                let line = cross(first, second);
                let length = norm(line);
                if length < SMALLEST_FOLD {
                    return None;
                }
                let x = scale(1.0 / length, line);
                [x, cross(first, x), first]
            }
        };
        let global = rows.iter().all(|row| row.iter().any(|c| c.abs() > 1.0 - SAME_DIRECTION));
        if global { None } else { Some(rows) }
    }
}

/// Direction in a plane that does not hang on rounding: the global axis that lies flattest on it,
/// the first of equals.
pub(crate) fn along_plane(normal: Vec3) -> Vec3 {
    let mut flattest = 0;
    for i in 1..3 {
        if normal[i].abs() < normal[flattest].abs() - 1e-6 {
            flattest = i;
        }
    }
    let axis = GLOBAL_AXES[flattest];
    let rest = sub(axis, scale(dot(axis, normal), normal));
    scale(1.0 / norm(rest), rest)
}

/// Axes of every node: those of a plane or of a fold where only such elements meet, else global;
/// global for `slaves`.
pub(crate) fn node_axes(
    count: usize,
    shells: &[Shell],
    slaves: impl Iterator<Item = usize>,
) -> Vec<Option<[Vec3; 3]>> {
    let mut meetings = vec![Meeting::Nothing; count];
    for shell in shells {
        for &node in shell.corners() {
            meetings[node] = meetings[node].with(&shell.facet);
        }
    }
    let mut axes: Vec<_> = meetings.into_iter().map(Meeting::axes).collect();
    for slave in slaves {
        axes[slave] = None;
    }
    axes
}
