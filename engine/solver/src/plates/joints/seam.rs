//! Welded lines: springs along the run between the edge of one plate and the surface of another.
//!
//! The two plates need not share nodes. At two Gauss points of every piece of the run the gap of
//! the three translations and of the rotation about the run is held by springs; the two other
//! rotations are not, so that nothing turns a plate about its own normal. Per length they are
//! `a E t / h` and `a E t^3 / (12 h)`: t is the thinner plate, h the size of the elements of the
//! welded edge, a = 30. With a from 10 to 50 movements change by less than a percent; a much
//! stiffer tie than its neighbours over-constrains meshes that don't match (compared with dual
//! mortar ties on a T joint). It does not stand for the flexibility of the weld itself.

use super::row::{Row, Terms};
use super::site::{Site, fault, length_words, point_words};
use super::surface::{Foot, Patch};
use crate::plates::answer::{SeamAnswer, SeamStation};
use crate::plates::model::{PlateId, Seam, SeamId};
use crate::vector::{Vec3, add, cross, dot, norm, scale, sub};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};

/// Stiffness of a tie against that of the plates beside it.
pub(crate) const TIE: f64 = 30.0;
/// Abscissa of the two Gauss points.
const GAUSS: f64 = 0.577_350_269_189_625_8;
/// Most pieces of a run.
const MOST_PIECES: usize = 20_000;

/// A weld run on the meshes of its plates.
#[derive(Clone, Debug)]
pub(crate) struct SeamTie {
    pieces: Vec<Piece>,
    /// Middle of the run by length.
    about: Vec3,
    /// Rows of a force in the directions of the seam.
    legs: [Vec3; 2],
}

#[derive(Clone, Debug)]
struct Piece {
    /// Distance of its middle from the start of the run.
    at: f64,
    length: f64,
    middle: Vec3,
    along: Vec3,
    points: [TiePoint; 2],
}

/// A Gauss point: three rows for the translations x, y, z and one for the rotation.
#[derive(Clone, Copy, Debug)]
struct TiePoint {
    point: Vec3,
    first_row: usize,
}

impl SeamTie {
    /// Ties a seam; its rows are appended to `rows`.
    ///
    /// # Errors
    /// All faults of the seam.
    pub(crate) fn new(
        site: &Site<'_>,
        id: SeamId,
        rows: &mut Vec<Row>,
    ) -> Result<Self, Vec<Fault>> {
        let seam = &site.draft.seams[id.0];
        let faults = odd(seam, id);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut maker = Maker { site, seam, rows, farthest: [None, None] };
        let mut pieces = Vec::new();
        let mut start = 0.0;
        for leg in seam.path.windows(2) {
            let length = norm(sub(leg[1], leg[0]));
            let along = scale(1.0 / length, sub(leg[1], leg[0]));
            let marks = maker.marks(leg[0], along, length);
            if pieces.len() + marks.len() > MOST_PIECES {
                return Err(vec![fault(
                    format!("seams[{}].path", id.0),
                    format!("seam `{}` in more than {MOST_PIECES} pieces", seam.name),
                    "elements along the run that are not that small against its length",
                    "mesh the plates coarser along the run",
                )]);
            }
            for ends in marks.windows(2) {
                pieces.push(maker.piece(leg[0], along, start, [ends[0], ends[1]]));
            }
            start += length;
        }
        let faults = maker.apart(id);
        if !faults.is_empty() {
            return Err(faults);
        }
        let mut about = [0.0; 3];
        for piece in &pieces {
            about = add(about, scale(piece.length / start, piece.middle));
        }
        Ok(SeamTie { pieces, about, legs: [seam.leg_on, seam.leg_up] })
    }

    /// The forces along the run.
    pub(crate) fn answer(&self, id: SeamId, rows: &[Row], movements: &[f64]) -> SeamAnswer {
        let mut whole = [0.0; 6];
        let mut stations = Vec::with_capacity(self.pieces.len());
        for piece in &self.pieces {
            let mut force = [0.0; 3];
            let mut moment = 0.0;
            for at in &piece.points {
                let pull = [0, 1, 2].map(|i| rows[at.first_row + i].force(movements));
                let turn = rows[at.first_row + 3].force(movements);
                let lever = cross(sub(at.point, self.about), pull);
                for i in 0..3 {
                    whole[i] += pull[i];
                    whole[3 + i] += lever[i] + turn * piece.along[i];
                    force[i] += pull[i];
                }
                moment += turn;
            }
            stations.push(SeamStation {
                at: piece.at,
                length: piece.length,
                point: piece.middle,
                force: in_legs(scale(1.0 / piece.length, force), self.legs, piece.along),
                moment: moment / piece.length,
            });
        }
        SeamAnswer { seam: id, stations, force: whole, about: self.about }
    }
}

/// The three numbers whose multiples of the legs and of the run add up to a force.
fn in_legs(force: Vec3, [on, up]: [Vec3; 2], along: Vec3) -> [f64; 3] {
    let run = dot(force, along);
    let (f_on, f_up, skew) = (dot(force, on), dot(force, up), dot(on, up));
    let square = 1.0 - skew * skew;
    [(f_on - skew * f_up) / square, (f_up - skew * f_on) / square, run]
}

/// What only makes sense of the numbers of a seam together.
fn odd(seam: &Seam, id: SeamId) -> Vec<Fault> {
    let mut faults = Vec::new();
    let path = format!("seams[{}]", id.0);
    let name = &seam.name;
    if seam.edge == seam.onto {
        faults.push(fault(
            format!("{path}.onto"),
            format!("seam `{name}` welds a plate to itself"),
            "two plates",
            "name the other plate, or share nodes where a plate is folded",
        ));
    }
    if dot(seam.leg_on, seam.leg_up).abs() > 0.99 {
        faults.push(fault(
            format!("{path}.leg_up"),
            format!("the direction of `leg_on` for seam `{name}`"),
            "two legs that are not parallel",
            "give the directions of the two legs of the weld",
        ));
    }
    faults
}

struct Maker<'a, 's, 'r> {
    site: &'s Site<'a>,
    seam: &'a Seam,
    rows: &'r mut Vec<Row>,
    /// The point of the run that lies farthest off each plate, by how much it is too far.
    farthest: [Option<(f64, Vec3, f64)>; 2],
}

impl Maker<'_, '_, '_> {
    fn plates(&self) -> [PlateId; 2] {
        [self.seam.edge, self.seam.onto]
    }

    fn thinner(&self) -> f64 {
        let [a, b] = self.plates().map(|p| self.site.plate(p).thickness);
        smaller(a, b)
    }

    /// How far a point of the run may lie off the middle surface of a plate: half its thickness
    /// and a gap of half the thinner one (common practice, no source).
    fn reach(&self, plate: PlateId) -> f64 {
        0.5 * (self.site.plate(plate).thickness + self.thinner())
    }

    /// Where the run is cut into pieces: at the corners of the welded edge where they lie on the
    /// run, and so that no piece is longer than the elements of either plate.
    fn marks(&self, from: Vec3, along: Vec3, length: f64) -> Vec<f64> {
        let reach = self.reach(self.seam.edge);
        let on_run = |point: Vec3| {
            let arm = sub(point, from);
            let at = dot(arm, along);
            (norm(sub(arm, scale(at, along))) <= reach).then_some(at)
        };
        let mut stops = vec![0.0, length];
        for [a, b] in self.site.surface(self.seam.edge).rim() {
            if let (Some(a), Some(b)) = (on_run(*a), on_run(*b))
                && (b - a).abs() > reach * 1e-3
            {
                stops.extend([a, b].into_iter().filter(|&at| at > 0.0 && at < length));
            }
        }
        stops.sort_by(f64::total_cmp);
        stops.dedup_by(|next, kept| *next - *kept < 1e-6 * length);
        if let Some(last) = stops.last_mut() {
            *last = length;
        }
        let mut marks = vec![0.0];
        for ends in stops.windows(2) {
            let (start, end) = (ends[0], ends[1]);
            let middle = add(from, scale(0.5 * (start + end), along));
            let size = self
                .plates()
                .iter()
                .filter_map(|&plate| self.patch(plate, middle))
                .fold(end - start, |size, patch| smaller(size, patch.extent(along)));
            // An element hardly longer than the piece doesn't ask for two.
            let count = larger(1.0, ((end - start) / size - 0.1).ceil());
            // Bounded by the caller.
            let count = smaller(count, MOST_PIECES as f64 + 1.0) as usize;
            marks.extend((1..=count).map(|i| start + (end - start) * i as f64 / count as f64));
        }
        marks
    }

    fn patch(&self, plate: PlateId, point: Vec3) -> Option<&Patch> {
        let foot = self.site.foot(plate, point)?;
        Some(&self.site.surface(plate).patches()[foot.element])
    }

    fn piece(&mut self, from: Vec3, along: Vec3, start: f64, [a, b]: [f64; 2]) -> Piece {
        let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
        let points = [-GAUSS, GAUSS].map(|xi| {
            let point = add(from, scale(middle + xi * half, along));
            let first_row = self.rows.len();
            self.tie(point, along, half);
            TiePoint { point, first_row }
        });
        Piece {
            at: start + middle,
            length: b - a,
            middle: add(from, scale(middle, along)),
            along,
            points,
        }
    }

    fn tie(&mut self, point: Vec3, along: Vec3, weight: f64) {
        let [edge, onto] = self.plates().map(|plate| self.site.foot(plate, point));
        let (Some(edge), Some(onto)) = (edge, onto) else { return };
        for (side, foot) in [edge, onto].iter().enumerate() {
            let beyond = foot.distance - self.reach(self.plates()[side]);
            if beyond > 0.0 && self.farthest[side].is_none_or(|(b, _, _)| beyond > b) {
                self.farthest[side] = Some((beyond, point, foot.distance));
            }
        }
        let size = self.site.surface(self.seam.edge).patches()[edge.element].facet.area.sqrt();
        let thickness = self.thinner();
        let youngs = self.plates().map(|plate| self.site.youngs(plate));
        let stiffness = weight * TIE * smaller(youngs[0], youngs[1]) * thickness / size;
        let gap = |add: &dyn Fn(&mut Terms, &Foot)| {
            let (mut of_edge, mut of_onto) = (Terms::default(), Terms::default());
            add(&mut of_edge, &edge);
            add(&mut of_onto, &onto);
            &of_edge - &of_onto
        };
        for i in 0..3 {
            let mut direction = [0.0; 3];
            direction[i] = 1.0;
            let terms = gap(&|terms, foot| terms.add_moves(foot, point, direction));
            self.rows.push(terms.row(stiffness));
        }
        let terms = gap(&|terms, foot| terms.add_turns(foot, along));
        self.rows.push(terms.row(stiffness * thickness * thickness / 12.0));
    }

    /// Faults of plates that the run does not touch.
    fn apart(&self, id: SeamId) -> Vec<Fault> {
        let mut faults = Vec::new();
        for (side, field) in ["edge", "onto"].iter().enumerate() {
            let Some((_, point, distance)) = self.farthest[side] else { continue };
            let plate = self.site.plate(self.plates()[side]);
            faults.push(fault(
                format!("seams[{}].{field}", id.0),
                format!(
                    "plate `{}` does not touch seam `{}`: at {} the run lies {} off its middle \
                     surface",
                    plate.name,
                    self.seam.name,
                    point_words(point),
                    length_words(distance)
                ),
                &format!(
                    "a run that lies within {} of it all along (half its thickness and half that \
                     of the thinner plate)",
                    length_words(self.reach(self.plates()[side]))
                ),
                "move the run to where the two plates meet, shorten it, or name the other plate",
            ));
        }
        faults
    }
}
