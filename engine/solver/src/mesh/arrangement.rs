//! All curves of a plate cut where they meet, as one graph of vertices and pieces between them.

use super::curve::{Curve, Role, encloses};
use super::plane::{Piece, Point, add, apart, scale};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::smaller;
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};

/// A piece between two vertices with nothing on it in between.
#[derive(Debug, Clone)]
pub(super) struct Part {
    pub(super) piece: Piece,
    pub(super) vertices: [usize; 2],
    /// The curves that run along it, in rising order.
    pub(super) curves: Vec<usize>,
}

/// Parts in a row that are divided into element edges together.
#[derive(Debug, Clone)]
pub(super) struct Chain {
    /// Parts, and whether each is run through backwards.
    pub(super) parts: Vec<(usize, bool)>,
    /// Whether the parts are element edges as they stand.
    pub(super) prescribed: bool,
}

#[derive(Debug)]
pub(super) struct Arrangement {
    pub(super) curves: Vec<Curve>,
    pub(super) vertices: Vec<Point>,
    pub(super) parts: Vec<Part>,
    pub(super) chains: Vec<Chain>,
    /// Chain of each part.
    pub(super) chain_of: Vec<usize>,
    /// The parts of each curve in order, and whether each is run through backwards.
    pub(super) runs: Vec<Vec<(usize, bool)>>,
    /// Vertex of each imprinted point.
    pub(super) spots: Vec<usize>,
    /// Length below which two places are one, m.
    pub(super) near: f64,
}

impl Arrangement {
    /// Cuts the curves; places nearer than `near` are one. Faults where they meet in ways that leave no plate.
    pub(super) fn new(
        curves: Vec<Curve>,
        spots: &[(String, Point)],
        near: f64,
    ) -> Result<Self, Vec<Fault>> {
        let mut cut = Cut::new(&curves, near);
        cut.meet();
        let on_spots = cut.spots(spots);
        if !cut.faults.is_empty() {
            return Err(cut.faults);
        }
        let Cut { vertices, pinned, stops, faults: _, pieces: _, curves: _, near: _ } = cut;
        let (parts, runs) = parts(&curves, stops, &vertices, near);
        let forced = forced(&curves, &parts, &runs, pinned);
        let (chains, chain_of) = chains(&curves, &parts, &runs, &forced);
        let this = Self { curves, vertices, parts, chains, chain_of, runs, spots: on_spots, near };
        let faults = this.outside(spots);
        if faults.is_empty() { Ok(this) } else { Err(faults) }
    }

    /// Pieces of the curves of a role.
    fn of(&self, role: Role) -> impl Iterator<Item = &Piece> {
        self.curves.iter().filter(move |c| c.role == role).flat_map(|c| &c.pieces)
    }

    /// Whether a point off all curves is in the plate; if not, why.
    fn whether_inside(&self, p: Point) -> Result<(), String> {
        if !encloses(self.of(Role::Edge), p) {
            return Err("outside the boundary".to_owned());
        }
        for hole in self.curves.iter().filter(|c| c.role == Role::Hole) {
            if encloses(hole.pieces.iter(), p) {
                return Err(format!("in the hole `{}`", hole.name));
            }
        }
        Ok(())
    }

    /// Corners so sharp that no element fits into them.
    pub(super) fn wedges(&self) -> Vec<Fault> {
        // At every vertex: directions of the parts that leave it, by angle.
        let mut leaving: Vec<Vec<(f64, usize)>> = vec![Vec::new(); self.vertices.len()];
        for (i, part) in self.parts.iter().enumerate() {
            let (out, back) = (part.piece.direction(0.0), part.piece.direction(1.0));
            leaving[part.vertices[0]].push((out[1].atan2(out[0]), i));
            leaving[part.vertices[1]].push(((-back[1]).atan2(-back[0]), i));
        }
        let mut faults = Vec::new();
        for (v, mut fan) in leaving.into_iter().enumerate() {
            fan.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
            for k in 0..fan.len() {
                let ((from, one), (to, two)) = (fan[k], fan[(k + 1) % fan.len()]);
                let angle = (to - from).rem_euclid(TAU);
                let middle = from + 0.5 * angle;
                let short = smaller(self.parts[one].piece.length(), self.parts[two].piece.length());
                let inside =
                    add(self.vertices[v], scale(0.1 * short, [middle.cos(), middle.sin()]));
                if one != two && angle < SHARPEST && self.material_at(inside) {
                    let at = self.vertices[v];
                    faults.push(Fault::new(
                        named(&self.curves[self.parts[one].curves[0]]),
                        format!(
                            "{:.2} degrees to {} at ({}, {}) m",
                            angle.to_degrees(),
                            named(&self.curves[self.parts[two].curves[0]]),
                            at[0],
                            at[1]
                        ),
                        format!("corners of at least {:.0} degrees", SHARPEST.to_degrees()),
                        "blunt the corner, or let the two run along each other",
                    ));
                }
            }
        }
        faults
    }

    /// Whether `p` is in the plate.
    pub(super) fn material_at(&self, p: Point) -> bool {
        self.whether_inside(p).is_ok()
    }

    /// Whether a chain bounds the material.
    pub(super) fn is_rim(&self, chain: usize) -> bool {
        self.parts[self.chains[chain].parts[0].0]
            .curves
            .iter()
            .any(|&c| matches!(self.curves[c].role, Role::Edge | Role::Hole))
    }

    /// The place that two chains share, if any.
    pub(super) fn shared_corner(&self, one: usize, two: usize) -> Option<Point> {
        let of = |chain: usize| {
            self.chains[chain].parts.iter().flat_map(|&(p, _)| self.parts[p].vertices)
        };
        of(one).find(|&v| of(two).any(|w| w == v)).map(|v| self.vertices[v])
    }

    /// Holes beyond the boundary or in each other, and imprints that leave the plate.
    fn outside(&self, spots: &[(String, Point)]) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (i, curve) in self.curves.iter().enumerate() {
            if curve.role == Role::Edge {
                continue;
            }
            // Parts that are also boundary or rim are on the plate.
            let free = self.runs[i].iter().map(|&(part, _)| &self.parts[part]).filter(|part| {
                part.curves
                    .iter()
                    .all(|&c| c == i || matches!(self.curves[c].role, Role::Line | Role::Circle))
            });
            for part in free {
                let p = part.piece.at(0.5);
                let Err(place) = self.whether_inside_without(p, i) else { continue };
                faults.push(Fault::new(
                    named(curve),
                    format!("at ({}, {}) m it runs {place}", p[0], p[1]),
                    "on the plate all along",
                    "move it, cut it off at the edge, or correct the outline",
                ));
                break;
            }
        }
        for (&vertex, (name, at)) in self.spots.iter().zip(spots) {
            let on_a_curve = self.parts.iter().any(|part| part.vertices.contains(&vertex));
            if on_a_curve {
                continue;
            }
            if let Err(place) = self.whether_inside(*at) {
                faults.push(Fault::new(
                    format!("points[`{name}`]"),
                    format!("({}, {}) m, {place}", at[0], at[1]),
                    "on the plate",
                    "move it or correct the outline",
                ));
            }
        }
        faults
    }

    /// As `whether_inside`, for a point on curve `own`.
    fn whether_inside_without(&self, p: Point, own: usize) -> Result<(), String> {
        if !encloses(self.of(Role::Edge), p) {
            return Err("outside the boundary".to_owned());
        }
        for (i, hole) in self.curves.iter().enumerate() {
            if i != own && hole.role == Role::Hole && encloses(hole.pieces.iter(), p) {
                return Err(format!("in the hole `{}`", hole.name));
            }
        }
        Ok(())
    }
}

/// Length below which two places are one, as a share of the extent of the plate.
pub(super) const NEAR: f64 = 1e-8;

/// Sharpest corner, rad: 5 degrees (common practice, no source).
const SHARPEST: f64 = 5.0 / 180.0 * PI;

/// Path of a curve in the outline.
pub(super) fn named(curve: &Curve) -> String {
    let list = match curve.role {
        Role::Edge => "edges",
        Role::Hole => "holes",
        Role::Line => "lines",
        Role::Circle => "circles",
    };
    format!("{list}[`{}`]", curve.name)
}

/// The cutting under way.
struct Cut<'a> {
    curves: &'a [Curve],
    /// Curve and place in it of every piece, with its box.
    pieces: Vec<(usize, usize, [Point; 2])>,
    vertices: Vec<Point>,
    /// Vertices at which a node has to stand.
    pinned: Vec<bool>,
    /// Per piece: places on it, with their vertices.
    stops: Vec<Vec<(f64, usize)>>,
    near: f64,
    faults: Vec<Fault>,
}

impl<'a> Cut<'a> {
    fn new(curves: &'a [Curve], near: f64) -> Self {
        let mut cut = Cut {
            curves,
            pieces: Vec::new(),
            vertices: Vec::new(),
            pinned: Vec::new(),
            stops: Vec::new(),
            near,
            faults: Vec::new(),
        };
        for (c, curve) in curves.iter().enumerate() {
            for (k, piece) in curve.pieces.iter().enumerate() {
                cut.pieces.push((c, k, piece.bounds()));
                let [a, b] = piece.ends();
                let (from, to) = (cut.vertex(a), cut.vertex(b));
                cut.stops.push(vec![(0.0, from), (1.0, to)]);
                cut.pinned[from] |= curve.corners[k];
                cut.pinned[to] |= !curve.closed && k + 1 == curve.pieces.len();
            }
        }
        cut
    }

    /// The vertex at `p`, made if there is none.
    fn vertex(&mut self, p: Point) -> usize {
        if let Some(known) = self.vertices.iter().position(|&q| apart(p, q) <= self.near) {
            return known;
        }
        self.vertices.push(p);
        self.pinned.push(false);
        self.vertices.len() - 1
    }

    fn piece(&self, i: usize) -> &'a Piece {
        let (curve, k, _) = self.pieces[i];
        &self.curves[curve].pieces[k]
    }

    /// Cuts every two pieces where they meet.
    fn meet(&mut self) {
        for i in 0..self.pieces.len() {
            for j in i + 1..self.pieces.len() {
                let ([low, high], [from, to]) = (self.pieces[i].2, self.pieces[j].2);
                let away =
                    (0..2).any(|k| low[k] > to[k] + self.near || from[k] > high[k] + self.near);
                if away {
                    continue;
                }
                for p in self.piece(i).meet(self.piece(j), self.near) {
                    self.judge(i, j, p);
                    self.stop(i, j, p);
                }
            }
        }
    }

    /// Enters a meeting. It lies on the earlier piece, since the boundary comes first and keeps
    /// its shape.
    fn stop(&mut self, i: usize, j: usize, p: Point) {
        let (first, second) = (*self.piece(i), *self.piece(j));
        let known = first.ends().into_iter().find(|&e| apart(e, p) <= self.near);
        let on_first = first.nearest(p).1;
        let at = known.unwrap_or_else(|| first.at(on_first));
        let vertex = self.vertex(at);
        let on_second = second.nearest(p).1;
        for (piece, t) in [(i, on_first), (j, on_second)] {
            if self.stops[piece].iter().any(|&(_, v)| v == vertex) {
                continue;
            }
            let curve = &self.curves[self.pieces[piece].0];
            if curve.prescribed {
                let other = self.pieces[if piece == i { j } else { i }].0;
                self.faults.push(Fault::new(
                    named(curve),
                    format!(
                        "{} ends on it at ({}, {}) m",
                        named(&self.curves[other]),
                        at[0],
                        at[1]
                    ),
                    "nodes given beforehand, to which none is added",
                    "add a node there to both plates, or end the line on one of the nodes",
                ));
            }
            self.stops[piece].push((t, vertex));
        }
    }

    /// Faults of two pieces that may not meet at `p`.
    fn judge(&mut self, i: usize, j: usize, p: Point) {
        let ((c, k, _), (d, l, _)) = (self.pieces[i], self.pieces[j]);
        let (one, two) = (&self.curves[c], &self.curves[d]);
        let at = format!("at ({}, {}) m", p[0], p[1]);
        match (one.role, two.role) {
            (Role::Edge, Role::Edge) => {
                let edges =
                    self.pieces.iter().filter(|q| self.curves[q.0].role == Role::Edge).count();
                if self.neighbours(i, j, 0, edges, p) {
                    return;
                }
                let given = if c == d {
                    format!("it crosses or touches itself {at}")
                } else {
                    format!("it meets {} {at}", named(two))
                };
                self.faults.push(Fault::new(
                    named(one),
                    given,
                    "a boundary that does not cross or touch itself",
                    "check the order of the corners, or move one",
                ));
            }
            (Role::Hole, Role::Hole) if c == d => {
                if self.neighbours(i, j, i - k, one.pieces.len(), p) {
                    return;
                }
                self.faults.push(Fault::new(
                    named(one),
                    format!(
                        "its rim crosses or touches itself {at} (sides {} and {})",
                        k + 1,
                        l + 1
                    ),
                    "a rim that does not cross itself",
                    "check the order of the corners",
                ));
            }
            (Role::Edge, Role::Hole) => self.faults.push(Fault::new(
                named(two),
                format!("it cuts or touches {} {at}", named(one)),
                "a hole with material all round",
                "move the hole, make it smaller, or make the notch part of the boundary",
            )),
            (Role::Hole, Role::Hole) => self.faults.push(Fault::new(
                named(two),
                format!("it cuts or touches {} {at}", named(one)),
                "holes with material between them",
                "move one, or give both as one slot or polygon",
            )),
            (Role::Edge | Role::Hole, Role::Circle)
                if !same(self.piece(i), self.piece(j), self.near) =>
            {
                self.faults.push(Fault::new(
                    named(two),
                    format!("it cuts or touches {} {at}", named(one)),
                    "a circle on the plate all round",
                    "make it smaller or move it",
                ));
            }
            _ => {}
        }
    }

    /// Whether two pieces of a ring of `count` that starts at piece `first` meet at `p` as
    /// neighbours do.
    fn neighbours(&self, i: usize, j: usize, first: usize, count: usize, p: Point) -> bool {
        let [_, end_of_i] = self.piece(i).ends();
        let [start_of_i, _] = self.piece(i).ends();
        (j == i + 1 && apart(end_of_i, p) <= self.near)
            || (i == first && j + 1 == first + count && apart(start_of_i, p) <= self.near)
    }

    /// Enters points, cutting the pieces on which they lie.
    fn spots(&mut self, spots: &[(String, Point)]) -> Vec<usize> {
        let mut on = Vec::new();
        for (name, at) in spots {
            let vertex = self.vertex(*at);
            self.pinned[vertex] = true;
            for i in 0..self.pieces.len() {
                let (away, t) = self.piece(i).nearest(*at);
                if away > self.near || self.stops[i].iter().any(|&(_, v)| v == vertex) {
                    continue;
                }
                let curve = &self.curves[self.pieces[i].0];
                if curve.prescribed {
                    self.faults.push(Fault::new(
                        format!("points[`{name}`]"),
                        format!("({}, {}) m, on {}", at[0], at[1], named(curve)),
                        "nodes given beforehand, to which none is added",
                        "add a node there to both plates, or move the point to one of the nodes",
                    ));
                }
                self.stops[i].push((t, vertex));
            }
            on.push(vertex);
        }
        on
    }
}

/// Whether two pieces lie on one circle.
fn same(one: &Piece, two: &Piece, near: f64) -> bool {
    match (one, two) {
        (
            Piece::Arc { centre, radius, .. },
            Piece::Arc { centre: other, radius: its_radius, .. },
        ) => apart(*centre, *other) <= near && (radius - its_radius).abs() <= near,
        _ => false,
    }
}

type Runs = Vec<Vec<(usize, bool)>>;

/// Pieces cut at their stops; those that coincide become one.
fn parts(
    curves: &[Curve],
    stops: Vec<Vec<(f64, usize)>>,
    vertices: &[Point],
    near: f64,
) -> (Vec<Part>, Runs) {
    let mut parts: Vec<Part> = Vec::new();
    let mut known: BTreeMap<[usize; 2], Vec<usize>> = BTreeMap::new();
    let mut runs: Runs = vec![Vec::new(); curves.len()];
    let mut stops = stops.into_iter();
    for (c, curve) in curves.iter().enumerate() {
        for piece in &curve.pieces {
            let Some(mut on) = stops.next() else { continue };
            on.sort_by(|a, b| a.0.total_cmp(&b.0));
            for pair in on.windows(2) {
                let [(t0, from), (t1, to)] = [pair[0], pair[1]];
                if from == to {
                    continue;
                }
                let part = piece.part([t0, t1], vertices[from], vertices[to]);
                let key = [from.min(to), from.max(to)];
                let alike = known.entry(key).or_default();
                let middle = part.at(0.5);
                let twin = alike
                    .iter()
                    .copied()
                    .find(|&p| apart(parts[p].piece.at(0.5), middle) <= 4.0 * near);
                if let Some(twin) = twin {
                    if !parts[twin].curves.contains(&c) {
                        parts[twin].curves.push(c);
                    }
                    runs[c].push((twin, parts[twin].vertices[0] != from));
                } else {
                    alike.push(parts.len());
                    runs[c].push((parts.len(), false));
                    parts.push(Part { piece: part, vertices: [from, to], curves: vec![c] });
                }
            }
        }
    }
    (parts, runs)
}

/// Vertices at which a node has to stand: corners, ends, and wherever curves part.
fn forced(curves: &[Curve], parts: &[Part], runs: &Runs, pinned: Vec<bool>) -> Vec<bool> {
    let mut forced = pinned;
    let mut at: Vec<Vec<usize>> = vec![Vec::new(); forced.len()];
    for (i, part) in parts.iter().enumerate() {
        for v in part.vertices {
            at[v].push(i);
        }
    }
    for (v, meeting) in at.iter().enumerate() {
        forced[v] |= match meeting[..] {
            [] => false,
            [one, two] => parts[one].curves != parts[two].curves,
            _ => true,
        };
    }
    // A ring needs one place to start from.
    for (curve, run) in curves.iter().zip(runs) {
        if curve.closed && run.iter().all(|&(p, _)| parts[p].vertices.iter().all(|&v| !forced[v])) {
            forced[parts[run[0].0].vertices[usize::from(run[0].1)]] = true;
        }
    }
    forced
}

/// Parts joined from forced vertex to forced vertex.
fn chains(
    curves: &[Curve],
    parts: &[Part],
    runs: &Runs,
    forced: &[bool],
) -> (Vec<Chain>, Vec<usize>) {
    let mut chains: Vec<Chain> = Vec::new();
    let mut chain_of = vec![usize::MAX; parts.len()];
    for run in runs {
        // A ring begins at its first forced vertex, an open curve at its start.
        let start_of = |&(part, back): &(usize, bool)| parts[part].vertices[usize::from(back)];
        let first = run.iter().position(|step| forced[start_of(step)]).unwrap_or(0);
        let mut open: Option<usize> = None;
        for k in 0..run.len() {
            let step = run[(first + k) % run.len()];
            if chain_of[step.0] != usize::MAX {
                open = None;
                continue;
            }
            let chain = match open {
                Some(chain) if !forced[start_of(&step)] => chain,
                _ => {
                    let prescribed = parts[step.0].curves.iter().any(|&c| curves[c].prescribed);
                    chains.push(Chain { parts: Vec::new(), prescribed });
                    chains.len() - 1
                }
            };
            chains[chain].parts.push(step);
            chain_of[step.0] = chain;
            open = Some(chain);
        }
    }
    (chains, chain_of)
}
