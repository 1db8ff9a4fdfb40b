//! Which bodies are modelled together, and which piece of rail they sit on.

use std::collections::{BTreeMap, BTreeSet};

use fishplate_quantity::algebra::{larger, smaller};

use crate::design::{BeadAt, BodyId, Design, Form};

/// Rail before the first joint and behind the last, over the height of the rail.
const BESIDE: f64 = 1.5;

/// A hold of the body at least this many rail heights beside the joints ends the piece: shells
/// beyond it would carry nothing.
const HOLD_BESIDE: f64 = 0.75;

/// What one model is made of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Members {
    /// Mounts, by place in the design.
    pub(super) mounts: Vec<usize>,
    /// Bodies that are joined to what the mounts land on, rails left out.
    pub(super) bodies: BTreeSet<BodyId>,
    /// Bodies that only sit on the piece of rail: a plate that closes it, with its sleeves.
    pub(super) guests: BTreeSet<BodyId>,
    /// Pieces of rail.
    pub(super) pieces: Vec<Piece>,
    /// Bars that are left out though they join the piece.
    pub(super) left_out: Vec<BodyId>,
}

/// A piece of rail.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Piece {
    /// The rail.
    pub(super) rail: BodyId,
    /// Rear end, m.
    pub(super) from: f64,
    /// Front end, m.
    pub(super) to: f64,
    /// Whether the rail goes on behind the rear and the front end.
    pub(super) goes_on: [bool; 2],
}

impl Members {
    /// Whether a body is modelled.
    pub(super) fn holds(&self, body: BodyId) -> bool {
        self.bodies.contains(&body) || self.guests.contains(&body) || self.piece(body).is_some()
    }

    /// The piece of a rail.
    pub(super) fn piece(&self, rail: BodyId) -> Option<&Piece> {
        self.pieces.iter().find(|p| p.rail == rail)
    }

    /// All bodies, rails first, each kind by place.
    pub(super) fn all(&self) -> Vec<BodyId> {
        let rails = self.pieces.iter().map(|p| p.rail);
        rails.chain(self.bodies.iter().chain(&self.guests).copied()).collect()
    }
}

/// The groups of a design, by their first mount.
pub(super) fn groups(design: &Design) -> Vec<Members> {
    let part_of = components(design);
    let mut groups: Vec<(usize, Members)> = Vec::new();
    for (mount, at) in design.mounts.iter().enumerate() {
        let Some((landed, _)) = design.landing(at) else { continue };
        // A bush that lands on a rail itself is a group of that rail alone.
        let key = part_of.get(&landed).copied().unwrap_or(landed.0);
        if let Some((_, group)) = groups.iter_mut().find(|(k, _)| *k == key) {
            group.mounts.push(mount);
            continue;
        }
        let bodies =
            part_of.iter().filter(|(_, part)| **part == key).map(|(body, _)| *body).collect();
        let pieces = Vec::new();
        let (guests, left_out) = (BTreeSet::new(), Vec::new());
        groups.push((key, Members { mounts: vec![mount], bodies, guests, pieces, left_out }));
    }
    let mounted: BTreeSet<usize> = groups.iter().map(|(key, _)| *key).collect();
    groups
        .into_iter()
        .map(|(_, mut group)| {
            group.pieces = pieces(design, &group);
            guests(design, &part_of, &mounted, &mut group);
            group
        })
        .collect()
}

/// The component of every body that is no rail: the place of its first body.
fn components(design: &Design) -> BTreeMap<BodyId, usize> {
    let mut part: Vec<usize> = (0..design.bodies.len()).collect();
    let mut join = |a: BodyId, b: BodyId| {
        if design.body(a).is_rail() || design.body(b).is_rail() {
            return;
        }
        let (a, b) = (part[a.0], part[b.0]);
        let (low, high) = if a < b { (a, b) } else { (b, a) };
        for p in &mut part {
            if *p == high {
                *p = low;
            }
        }
    };
    for weld in &design.welds {
        join(weld.of, weld.to);
    }
    for bolts in &design.bolts {
        for pair in bolts.through.windows(2) {
            join(pair[0].body, pair[1].body);
        }
    }
    (0..design.bodies.len())
        .filter(|i| !design.bodies[*i].is_rail())
        .map(|i| (BodyId(i), part[i]))
        .collect()
}

/// Ranges along x of all joints of a rail with bodies that `counts` accepts.
fn joints_on(design: &Design, rail: BodyId, counts: impl Fn(BodyId) -> bool) -> Vec<(f64, f64)> {
    let mut list = Vec::new();
    let mut reach = |low: f64, high: f64| list.push((smaller(low, high), larger(low, high)));
    for weld in &design.welds {
        let other = match (weld.of == rail, weld.to == rail) {
            (true, false) => weld.to,
            (false, true) => weld.of,
            _ => continue,
        };
        if !counts(other) {
            continue;
        }
        for run in &weld.runs {
            reach(run.start.x, run.end.x);
        }
        if let BeadAt::Plug { centres, .. } = &weld.bead {
            centres.iter().for_each(|c| reach(c.x, c.x));
        }
    }
    for bolts in &design.bolts {
        let passes = |b: BodyId| bolts.through.iter().any(|p| p.body == b);
        if passes(rail) && bolts.through.iter().any(|p| p.body != rail && counts(p.body)) {
            let half = bolts.washer.map_or(bolts.diameter, |(outside, _)| outside / 2.0);
            bolts.at.iter().for_each(|at| reach(at.x - half, at.x + half));
        }
    }
    list
}

fn pieces(design: &Design, group: &Members) -> Vec<Piece> {
    let lands = |rail: BodyId| {
        let landed = |m: &usize| design.landing(&design.mounts[*m]).map(|(body, _)| body);
        let on = group.mounts.iter().filter(move |m| landed(m) == Some(rail));
        on.map(|m| design.mounts[*m].at.x)
    };
    let mut pieces = Vec::new();
    for rail in (0..design.bodies.len()).map(BodyId) {
        let Form::Rail { section, held, .. } = &design.body(rail).form else { continue };
        let mut ranges = joints_on(design, rail, |b| group.bodies.contains(&b));
        ranges.extend(lands(rail).map(|x| (x, x)));
        let Some((first, last)) =
            ranges.into_iter().reduce(|a, b| (smaller(a.0, b.0), larger(a.1, b.1)))
        else {
            continue;
        };
        let height = section.height();
        let (begin, end) = design.body(rail).walls[0].prism.range(0);
        let near = HOLD_BESIDE * height;
        // The nearest hold beyond the joints, where there is one inside the piece.
        let behind = held.iter().copied().filter(|x| *x <= first - near).fold(begin, larger);
        let ahead = held.iter().copied().filter(|x| *x >= last + near).fold(end, smaller);
        let from = larger(behind, first - BESIDE * height);
        let to = smaller(ahead, last + BESIDE * height);
        let goes_on = [from > begin + 1e-6, to < end - 1e-6];
        pieces.push(Piece { rail, from, to, goes_on });
    }
    pieces
}

fn guests(
    design: &Design,
    part_of: &BTreeMap<BodyId, usize>,
    mounted: &BTreeSet<usize>,
    group: &mut Members,
) {
    let mut parts: BTreeMap<usize, Vec<BodyId>> = BTreeMap::new();
    for (body, part) in part_of {
        if !mounted.contains(part) {
            parts.entry(*part).or_default().push(*body);
        }
    }
    for bodies in parts.values() {
        let touches = group.pieces.iter().any(|piece| {
            joints_on(design, piece.rail, |b| bodies.contains(&b))
                .iter()
                .any(|(low, high)| *low < piece.to && *high > piece.from)
        });
        if !touches {
            continue;
        }
        let is_bar = |b: &&BodyId| matches!(design.body(**b).form, Form::Bar { .. });
        if bodies.iter().any(|b| is_bar(&b)) {
            group.left_out.extend(bodies.iter().filter(is_bar));
        } else {
            group.guests.extend(bodies);
        }
    }
}
