//! What buckling and natural frequencies share: finer members, the search, the shapes.

use crate::assembly::{Skeleton, Structure};
use crate::error::{Cancel, SolveError};
use crate::frame::{FrameModel, MemberLine};
use crate::linear::eigen::{Modes, Pencil, largest};
use crate::linear::{Factor, Pattern};
use crate::model::{Beam, Node, NodeId, Orientation, Release};
use crate::system::System;
use crate::vector::{add, scale};
use std::rc::Rc;
use std::sync::Arc;

/// The movements of a mode, scaled so that the largest translation is 1 (the largest rotation,
/// when nothing translates). The sign is that of the largest movement: positive.
#[derive(Clone, Debug, PartialEq)]
pub struct ModeShape {
    /// Every node of the model, global axes.
    pub nodes: Vec<[f64; 6]>,
    /// For every member the points between its parts, from start to end; empty when it wasn't
    /// divided.
    pub within_beams: Vec<Vec<[f64; 6]>>,
}

/// A model whose members are cut into equal pieces. Piece `k` of member `b` is member
/// `b * pieces + k`.
pub(crate) fn divided(model: &FrameModel, pieces: usize) -> FrameModel {
    let mut draft = model.draft.clone();
    draft.beams.clear();
    let mut lines = Vec::new();
    for (beam, line) in model.draft.beams.iter().zip(&model.lines) {
        let start = add(model.position(beam.start), beam.offset_start);
        let length = line.length / pieces as f64;
        let mut from = beam.start;
        for piece in 0..pieces {
            let last = piece + 1 == pieces;
            let to = if last {
                beam.end
            } else {
                let along = scale(length * (piece + 1) as f64, line.axes[0]);
                draft.nodes.push(Node { position: add(start, along) });
                NodeId(draft.nodes.len() - 1)
            };
            let whole = Beam::between(
                from,
                to,
                beam.section,
                beam.material,
                Orientation::ZTowards(line.axes[2]),
            );
            draft.beams.push(Beam {
                offset_start: if piece == 0 { beam.offset_start } else { [0.0; 3] },
                offset_end: if last { beam.offset_end } else { [0.0; 3] },
                releases_start: if piece == 0 { beam.releases_start } else { [Release::Fixed; 6] },
                releases_end: if last { beam.releases_end } else { [Release::Fixed; 6] },
                ..whole
            });
            lines.push(MemberLine { length, axes: line.axes });
            from = to;
        }
    }
    FrameModel { draft, lines, link_order: model.link_order.clone() }
}

/// Refuses counts of nothing.
pub(crate) fn check_counts(modes: usize, subdivide: usize) -> Result<(), SolveError> {
    let refuse =
        |field| Err(SolveError::Request { field, given: "0".to_owned(), allowed: "1 or more" });
    if modes == 0 {
        return refuse("modes");
    }
    if subdivide == 0 {
        return refuse("subdivide");
    }
    Ok(())
}

/// Refuses a frame with one-sided contacts.
pub(crate) fn check_linear(structure: &Structure<'_>) -> Result<(), SolveError> {
    match structure.contacts.first() {
        Some(&contact) => Err(SolveError::OneSided { contact }),
        None => Ok(()),
    }
}

/// The factored stiffness of a frame without contacts.
pub(crate) fn linear_system(
    structure: &Structure<'_>,
    cancel: &dyn Cancel,
) -> Result<System, SolveError> {
    let skeleton = Rc::new(Skeleton::new(structure, &[])?);
    System::new(structure, skeleton, &[], cancel)
}

/// A factored stiffness, scaled.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Factored<'a> {
    pub(crate) pattern: &'a Arc<Pattern>,
    pub(crate) scale: &'a [f64],
    pub(crate) values: &'a [f64],
    pub(crate) factor: &'a Factor,
}

impl System {
    /// What a search for modes needs.
    pub(crate) fn factored(&self) -> Factored<'_> {
        Factored {
            pattern: &self.skeleton.pattern,
            scale: &self.scale,
            values: &self.values,
            factor: &self.factor,
        }
    }
}

/// Modes of `K x = lambda A x`; `a` comes unscaled.
pub(crate) fn search(
    system: Factored<'_>,
    mut a: Vec<f64>,
    wanted: usize,
    cancel: &dyn Cancel,
) -> Result<Modes, SolveError> {
    system.pattern.visit(|place, i, j| a[place] *= system.scale[i] * system.scale[j]);
    let pencil = Pencil { pattern: system.pattern, k: system.values, factor: system.factor, a: &a };
    let found = largest(pencil, wanted, &|| cancel.cancelled()).ok_or(SolveError::Cancelled)?;
    if found.below_last != found.counted_below_last {
        return Err(SolveError::ModesMissing {
            found: found.below_last,
            counted: found.counted_below_last,
        });
    }
    Ok(found)
}

/// The movements of a mode of the divided model, told in terms of the model asked about.
pub(crate) fn shape(
    model: &FrameModel,
    pieces: usize,
    system: &System,
    vector: &[f64],
) -> ModeShape {
    let q: Vec<f64> = vector.iter().zip(&system.scale).map(|(v, s)| v * s).collect();
    let mut moved = system.skeleton.reduction.expand_free(&q);
    normalise(&mut moved);
    let within = moved.split_off(model.draft.nodes.len());
    let within_beams = (0..model.draft.beams.len())
        .map(|b| within[b * (pieces - 1)..(b + 1) * (pieces - 1)].to_vec())
        .collect();
    ModeShape { nodes: moved, within_beams }
}

/// Scales movements so that the largest translation is 1.
pub(crate) fn normalise(moved: &mut [[f64; 6]]) {
    let mut top: f64 = 0.0;
    for range in [0..3, 3..6] {
        for node in moved.iter() {
            for &value in &node[range.clone()] {
                // A later one must be clearly larger, so that rounding doesn't choose the sign.
                if value.abs() > top.abs() * (1.0 + 1e-9) {
                    top = value;
                }
            }
        }
        if top.abs() > 0.0 {
            break;
        }
    }
    for value in moved.iter_mut().flatten() {
        *value /= top;
    }
}
