//! The plates as joints see them.

use super::surface::{Foot, Surface};
use crate::plates::model::{Plate, PlateDraft, PlateId};
use crate::vector::Vec3;
use fishplate_quantity::Fault;

/// The draft, its places and its middle surfaces.
#[derive(Debug)]
pub(crate) struct Site<'a> {
    pub(crate) draft: &'a PlateDraft,
    surfaces: Vec<Surface>,
}

impl<'a> Site<'a> {
    /// `None` when an element has no usable shape.
    pub(crate) fn new(draft: &'a PlateDraft) -> Option<Self> {
        let positions: Vec<Vec3> = draft.frame.nodes.iter().map(|n| n.position).collect();
        let surfaces = draft
            .plates
            .iter()
            .map(|plate| Surface::new(plate, &positions))
            .collect::<Option<Vec<_>>>()?;
        Some(Site { draft, surfaces })
    }

    pub(crate) fn plate(&self, id: PlateId) -> &'a Plate {
        &self.draft.plates[id.0]
    }

    pub(crate) fn surface(&self, id: PlateId) -> &Surface {
        &self.surfaces[id.0]
    }

    /// The nearest point of a plate.
    pub(crate) fn foot(&self, id: PlateId, point: Vec3) -> Option<Foot> {
        self.surface(id).foot(point)
    }

    /// Young's modulus of a plate, Pa.
    pub(crate) fn youngs(&self, id: PlateId) -> f64 {
        self.draft.frame.materials[self.plate(id).material.0].youngs_modulus
    }
}

/// A point in a message: mm suit the eye better than m.
pub(crate) fn point_words(point: Vec3) -> String {
    let [x, y, z] = point.map(|c| 1e3 * c);
    format!("({x:.1}, {y:.1}, {z:.1}) mm")
}

/// A length in a message.
pub(crate) fn length_words(length: f64) -> String {
    format!("{:.3} mm", 1e3 * length)
}

/// The one place where a fault of a joint is put together.
pub(crate) fn fault(path: String, given: String, allowed: &str, advice: &str) -> Fault {
    Fault::new(path, given, allowed, advice)
}
