//! The rail of a model: how thick its walls are along the piece, and the rest of it as beams.

use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::model::{
    Beam, FrameDraft, GLOBAL_AXES, MaterialId, Node, NodeId, Orientation, Restraint, SectionId,
    Support,
};
use fishplate_solver::plates::model::{Spread, SpreadKind};

use super::group::{Members, Piece};
use super::joint::Joints;
use super::net::Net;
use super::sheet::Sheet;
use crate::design::{BodyId, Design, Form, Vec3};
use crate::frames;

/// Shorter stretches go with their thinner neighbour, m.
const SHORT: f64 = 10e-3;

/// A stretch of a rail with one thickness.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    /// From here along x, m.
    pub(super) from: f64,
    /// To here, m.
    pub(super) to: f64,
    /// Thickness of its walls, m.
    pub(super) thickness: f64,
}

/// The stretches of a piece: between two readings the thinner counts, as in the rail as a beam.
///
/// # Errors
/// A rail without a reading.
pub(super) fn stretches(
    design: &Design,
    piece: &Piece,
    joints: &Joints,
) -> Result<Vec<Stretch>, String> {
    let body = design.body(piece.rail);
    let Form::Rail { stations, .. } = &body.form else {
        return Err(format!("{} is no rail", body.name));
    };
    let inside = stations.iter().map(|s| s.x).filter(|x| *x > piece.from && *x < piece.to);
    let mut marks: Vec<f64> = [piece.from].into_iter().chain(inside).chain([piece.to]).collect();
    marks.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    let mut list: Vec<Stretch> = Vec::new();
    for pair in marks.windows(2) {
        let thickness = body
            .measured_under(pair[0], pair[1])
            .map(|s| s.thickness)
            .ok_or_else(|| format!("{} has no reading of its thickness", body.name))?;
        match list.last_mut() {
            Some(last) if (last.thickness - thickness).abs() < 1e-9 => last.to = pair[1],
            _ => list.push(Stretch { from: pair[0], to: pair[1], thickness }),
        }
    }
    // A hole lies in one stretch: the thinner one covers it whole.
    let rounds: Vec<(f64, f64)> = joints
        .bolts
        .iter()
        .map(|b| (b.ends[0].x, b.bearing))
        .chain(joints.spots.iter().map(|s| (s.centre.x, s.diameter)))
        .map(|(x, d)| (x - 0.6 * d - 2e-3, x + 0.6 * d + 2e-3))
        .collect();
    for i in 1..list.len() {
        let front_thinner = list[i].thickness < list[i - 1].thickness;
        let mut at = list[i].from;
        for _ in 0..rounds.len() {
            let Some(hit) = rounds.iter().find(|r| at > r.0 && at < r.1) else { break };
            at = if front_thinner { hit.0 } else { hit.1 };
        }
        list[i - 1].to = at;
        list[i].from = at;
    }
    while let Some(i) = list.iter().position(|s| s.to - s.from < SHORT) {
        if list.len() == 1 {
            break;
        }
        let gone = list.remove(i);
        let beside = if i == 0 { 0 } else { i - 1 };
        let next = &mut list[beside];
        next.from = smaller(next.from, gone.from);
        next.to = larger(next.to, gone.to);
        next.thickness = smaller(next.thickness, gone.thickness);
    }
    Ok(list)
}

/// Where a rail is held inside its piece, m.
pub(super) fn holds_inside(design: &Design, piece: &Piece) -> Vec<f64> {
    match &design.body(piece.rail).form {
        Form::Rail { held, .. } => held
            .iter()
            .copied()
            .filter(|x| *x > piece.from + SHORT && *x < piece.to - SHORT)
            .collect(),
        _ => Vec::new(),
    }
}

/// Where other mounts load a rail beyond the piece: places along x, with the node made there.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RailNode {
    pub(super) rail: BodyId,
    pub(super) x: f64,
    pub(super) node: NodeId,
}

/// What is added to a model for the rest of its rails.
pub(super) struct Rest<'a> {
    pub(super) design: &'a Design,
    pub(super) members: &'a Members,
    pub(super) sheets: &'a [Sheet],
    pub(super) net: &'a Net,
    /// Places where other mounts load the rails.
    pub(super) loaded: &'a [(BodyId, f64)],
}

/// Restraints of a rail where the body holds it: as in the rail as a beam.
const HELD: [Restraint; 6] = [
    Restraint::Fixed,
    Restraint::Fixed,
    Restraint::Fixed,
    Restraint::Fixed,
    Restraint::Free,
    Restraint::Free,
];

impl Rest<'_> {
    /// Adds sections that stay plane, beams, and supports. Gives the nodes along the rails and
    /// what was taken for granted.
    ///
    /// # Errors
    /// A rail whose section has no properties.
    pub(super) fn add(
        &self,
        frame: &mut FrameDraft,
        spreads: &mut Vec<Spread>,
    ) -> Result<(Vec<RailNode>, Vec<String>), String> {
        let (mut nodes, mut told) = (Vec::new(), Vec::new());
        for piece in &self.members.pieces {
            let body = self.design.body(piece.rail);
            let Form::Rail { held, .. } = &body.form else { continue };
            for x in holds_inside(self.design, piece) {
                if let Some(node) = self.section(piece, x, true, frame, spreads)? {
                    frame.supports.push(Support { node, axes: GLOBAL_AXES, dofs: HELD });
                    nodes.push(RailNode { rail: piece.rail, x, node });
                }
            }
            for (front, x) in [(false, piece.from), (true, piece.to)] {
                let goes_on = piece.goes_on[usize::from(front)];
                // A hold beside the rail's own end is none inside the piece.
                let near = if goes_on { 1e-6 } else { SHORT + 1e-9 };
                let held_here = held.iter().any(|h| (h - x).abs() <= near);
                if !goes_on && !held_here {
                    continue;
                }
                let Some(node) = self.section(piece, x, false, frame, spreads)? else { continue };
                nodes.push(RailNode { rail: piece.rail, x, node });
                if held.is_empty() {
                    let dofs = [Restraint::Fixed; 6];
                    frame.supports.push(Support { node, axes: GLOBAL_AXES, dofs });
                    continue;
                }
                if held_here {
                    frame.supports.push(Support { node, axes: GLOBAL_AXES, dofs: HELD });
                }
                if !goes_on {
                    continue;
                }
                self.beams(piece, (front, x, node), held, frame, &mut nodes)?;
            }
            if held.is_empty() && piece.goes_on.contains(&true) {
                told.push(format!(
                    "where the body holds {} is not known: the piece from x {:.0} to {:.0} mm is \
                     held against all movement at its cut ends",
                    body.name,
                    piece.from * 1e3,
                    piece.to * 1e3
                ));
            }
            if held.is_empty() && piece.goes_on == [false, false] {
                return Err(format!(
                    "{} is modelled over its whole length and nothing says where the body holds it",
                    body.name
                ));
            }
        }
        Ok((nodes, told))
    }

    /// A section of the rail that stays plane, with what closes it there at a cut.
    fn section(
        &self,
        piece: &Piece,
        x: f64,
        rail_only: bool,
        frame: &mut FrameDraft,
        spreads: &mut Vec<Spread>,
    ) -> Result<Option<NodeId>, String> {
        let mut area: Vec<usize> = self
            .sheets
            .iter()
            .zip(&self.net.sheets)
            .filter(|(s, _)| {
                s.body == piece.rail || !rail_only && self.members.guests.contains(&s.body)
            })
            .flat_map(|(_, meshed)| meshed.nodes.iter().copied())
            .filter(|n| (self.net.nodes[*n].x - x).abs() < 1e-6)
            .filter(|n| self.beside(piece, *n))
            .collect();
        area.sort_unstable();
        area.dedup();
        if area.is_empty() {
            return Ok(None);
        }
        let [y, z] = self.centroid(piece, x)?;
        frame.nodes.push(Node { position: [x, y, z] });
        let node = NodeId(frame.nodes.len() - 1);
        spreads.push(Spread {
            name: format!("{} at x {:.0} mm", self.design.body(piece.rail).name, x * 1e3),
            node,
            area: area.into_iter().map(NodeId).collect(),
            kind: SpreadKind::Rigid,
        });
        Ok(Some(node))
    }

    /// Whether a node lies on the side of a rail.
    fn beside(&self, piece: &Piece, node: usize) -> bool {
        let y = self.net.nodes[node].y;
        let body = self.design.body(piece.rail);
        let (low, high) = body
            .walls
            .iter()
            .map(|w| w.prism.range(1))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |a, b| (smaller(a.0, b.0), larger(a.1, b.1)));
        let margin = 0.5 * (high - low);
        y > low - margin && y < high + margin
    }

    fn centroid(&self, piece: &Piece, x: f64) -> Result<[f64; 2], String> {
        let (from, to) = (x - SHORT, x + SHORT);
        let (_, made) = frames::segments(self.design, piece.rail, vec![from, to], (from, to))?;
        made.first().map(|s| s.centroid).ok_or_else(|| "a rail without a section".to_owned())
    }

    /// The rest of a rail beyond a cut, to the last place where something holds or loads it.
    fn beams(
        &self,
        piece: &Piece,
        (front, x, node): (bool, f64, NodeId),
        held: &[f64],
        frame: &mut FrameDraft,
        nodes: &mut Vec<RailNode>,
    ) -> Result<(), String> {
        let beyond = |h: f64| if front { h > x + 1e-6 } else { h < x - 1e-6 };
        let loaded = self.loaded.iter().filter(|(rail, _)| *rail == piece.rail).map(|(_, x)| *x);
        let mut marks: Vec<f64> =
            held.iter().copied().chain(loaded).filter(|h| beyond(*h)).collect();
        if !marks.iter().any(|m| held.contains(m)) {
            return Ok(());
        }
        marks.push(x);
        marks.sort_by(f64::total_cmp);
        let ends = (marks[0], marks[marks.len() - 1]);
        let (marks, made) = frames::segments(self.design, piece.rail, marks, ends)?;
        let reference = self.centroid(piece, x)?;
        let mut at = Vec::new();
        for mark in &marks {
            if (mark - x).abs() < 1e-9 {
                at.push(node);
                continue;
            }
            frame.nodes.push(Node { position: [*mark, reference[0], reference[1]] });
            let made = NodeId(frame.nodes.len() - 1);
            at.push(made);
            nodes.push(RailNode { rail: piece.rail, x: *mark, node: made });
            if held.iter().any(|h| (h - mark).abs() < 1e-6) {
                frame.supports.push(Support { node: made, axes: GLOBAL_AXES, dofs: HELD });
            }
        }
        for (segment, ends) in made.iter().zip(at.windows(2)) {
            frame.sections.push(segment.beam());
            let offset =
                [0.0, segment.centroid[0] - reference[0], segment.centroid[1] - reference[1]];
            frame.beams.push(Beam {
                offset_start: offset,
                offset_end: offset,
                ..Beam::between(
                    ends[0],
                    ends[1],
                    SectionId(frame.sections.len() - 1),
                    MaterialId(0),
                    Orientation::ZTowards([0.0, 0.0, 1.0]),
                )
            });
        }
        Ok(())
    }
}

/// The node of a rail nearest to a place along it, and that place.
pub(super) fn nearest(nodes: &[RailNode], rail: BodyId, at: &Vec3) -> Option<NodeId> {
    nodes
        .iter()
        .filter(|n| n.rail == rail)
        .min_by(|a, b| (a.x - at.x).abs().total_cmp(&(b.x - at.x).abs()))
        .map(|n| n.node)
}
