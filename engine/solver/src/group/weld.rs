//! Weld runs in space by the line method: rigid parts, elastic bead.
//!
//! The bead's throat resists movement of one part against the other with the same stiffness in
//! every direction, so the stress on it is s(p) = u + ω × p, with u and ω from
//! `∫ a Bᵀ B dl · (u, ω) = (F, M)`: six equations, exact for straight runs (Blodgett, *Design of
//! Welded Structures*, 1966, section 7.4, is the plane case). Compression is carried by the bead
//! too: contact of the faces never relieves it.

use nalgebra::Matrix3;

use super::body::{ElasticBody, GroupError};
use super::line::{LineProperties, Path, properties};
use super::{Vec3, Wrench};

/// One run: a path, a throat, and the two plates its legs lie on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeldRun {
    path: Path,
    throat: f64,
    leg_one: Vec3,
    leg_two: Vec3,
}

/// Runs that act together.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldGroup {
    runs: Vec<WeldRun>,
}

/// The stress on the throat at one point of a run, force of the attached part on the bead.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeldPoint {
    /// Where, m.
    pub at: Vec3,
    /// Distance from the start of the run, m.
    pub distance: f64,
    /// Force per throat area, Pa, in the axes of the input.
    pub stress: Vec3,
    /// Its part along the run, Pa.
    pub parallel: f64,
    /// Its part towards leg one, Pa.
    pub toward_one: f64,
    /// Its part towards leg two, Pa.
    pub toward_two: f64,
    /// Its size, Pa.
    pub resultant: f64,
    /// Force per length of run, N/m, in the axes of the input.
    pub line_force: Vec3,
}

/// The answer of a weld group: for each run its points from start to end.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldAnswer {
    /// Points by run; the first is the start of the run, the last its end.
    pub runs: Vec<Vec<WeldPoint>>,
    /// The point of each run with the greatest resultant, wherever it lies: between the points
    /// of `runs` too.
    pub greatest: Vec<WeldPoint>,
}

impl WeldAnswer {
    /// The point with the greatest resultant, with the place of its run.
    #[must_use]
    pub fn worst(&self) -> (usize, WeldPoint) {
        let points = self.greatest.iter().copied().enumerate();
        points
            .reduce(|a, b| if b.1.resultant > a.1.resultant { b } else { a })
            .expect("a weld group has a run")
    }
}

impl WeldRun {
    /// A run with throat `throat` (m). `leg_one` and `leg_two` point from the root along the plates
    /// on which the legs lie, square to the run at its start (what is not square is taken off);
    /// an arc carries them along.
    ///
    /// # Errors
    /// [`GroupError::BadNumber`] for a throat that is not positive, a path without length, or a
    /// leg along the run.
    pub fn new(path: Path, throat: f64, leg_one: Vec3, leg_two: Vec3) -> Result<Self, GroupError> {
        let bad = |what, value| GroupError::BadNumber { what, index: 0, value };
        if !(throat.is_finite() && throat > 0.0) {
            return Err(bad("throat", throat));
        }
        let length = path.length();
        if !(length.is_finite() && length > 0.0) {
            return Err(bad("length of the run", length));
        }
        let along = path.point(0.0).along;
        let square = |leg: Vec3| (leg - along * along.dot(&leg)).try_normalize(1e-9 * leg.norm());
        let leg_one = square(leg_one).ok_or_else(|| bad("leg one across the run", 0.0))?;
        let leg_two = square(leg_two).ok_or_else(|| bad("leg two across the run", 0.0))?;
        Ok(Self { path, throat, leg_one, leg_two })
    }

    /// The path.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The throat, m.
    #[must_use]
    pub fn throat(&self) -> f64 {
        self.throat
    }

    /// The point with the greatest resultant. On a straight run it is an end, because the stress is
    /// linear along it. On an arc the square of the stress is a trigonometric polynomial of second
    /// degree in the angle, with at most two maxima in a turn: the looks part them, and the golden
    /// section closes in on each.
    fn greatest(&self, stress_at: impl Fn(Vec3) -> Vec3) -> WeldPoint {
        let at = |share: f64| self.point(share, &stress_at);
        let worse = |a: WeldPoint, b: WeldPoint| if b.resultant > a.resultant { b } else { a };
        let mut best = worse(at(0.0), at(1.0));
        let Path::Arc { sweep, .. } = self.path else { return best };
        // At most a few thousand even for a spiral of many turns.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let looks = ((sweep.abs() / std::f64::consts::TAU * LOOKS).ceil() as u32).clamp(4, 100_000);
        let look = |i: u32| f64::from(i) / f64::from(looks);
        let sizes: Vec<f64> = (0..=looks).map(|i| at(look(i)).resultant).collect();
        let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
        for i in 0..=looks {
            let place = i as usize;
            let (before, after) =
                (if i > 0 { i - 1 } else { 0 }, if i < looks { i + 1 } else { i });
            let (left, right) = (sizes[before as usize], sizes[after as usize]);
            if sizes[place] < left || sizes[place] < right {
                continue;
            }
            let (mut low, mut high) = (look(before), look(after));
            for _ in 0..NARROWINGS {
                let (a, b) = (high - golden * (high - low), low + golden * (high - low));
                if at(a).resultant < at(b).resultant { low = a } else { high = b }
            }
            best = worse(best, worse(at(look(i)), at(f64::midpoint(low, high))));
        }
        best
    }

    fn point(&self, share: f64, stress_at: impl Fn(Vec3) -> Vec3) -> WeldPoint {
        let place = self.path.point(share);
        let stress = stress_at(place.at);
        WeldPoint {
            at: place.at,
            distance: place.distance,
            stress,
            parallel: stress.dot(&place.along),
            toward_one: stress.dot(&self.path.carried(self.leg_one, share)),
            toward_two: stress.dot(&self.path.carried(self.leg_two, share)),
            resultant: stress.norm(),
            line_force: stress * self.throat,
        }
    }
}

impl WeldGroup {
    /// A group of at least one run.
    ///
    /// # Errors
    /// [`GroupError::Empty`].
    pub fn new(runs: Vec<WeldRun>) -> Result<Self, GroupError> {
        if runs.is_empty() { Err(GroupError::Empty) } else { Ok(Self { runs }) }
    }

    /// The runs, in the order given.
    #[must_use]
    pub fn runs(&self) -> &[WeldRun] {
        &self.runs
    }

    /// Length, centroid and second moments of the runs as lines of unit throat.
    #[must_use]
    pub fn line_properties(&self) -> LineProperties {
        properties(self.runs.iter().map(WeldRun::path))
            .expect("a weld group has a run, and every run has length")
    }

    /// Throat area, m².
    #[must_use]
    pub fn throat_area(&self) -> f64 {
        self.runs.iter().map(|r| r.throat * r.path.length()).sum()
    }

    /// Stress along every run under `wrench` (force of the attached part on the bead), at the two
    /// ends and at `between` points evenly spaced between them.
    ///
    /// # Errors
    /// [`GroupError::Singular`], naming the movement that the runs leave free, where the load
    /// drives it: one straight run turns about itself.
    pub fn solve(&self, wrench: &Wrench, between: usize) -> Result<WeldAnswer, GroupError> {
        let mut bead = ElasticBody::new();
        for run in &self.runs {
            for (at, length) in run.path.quadrature() {
                // Unit stiffness per throat area: movement and stress then have the same number.
                bead.add(at, Matrix3::identity() * (run.throat * length), Matrix3::zeros());
            }
        }
        let motion = bead.solve(wrench)?;
        let last = between + 1;
        let share = |i: usize| {
            // A run is never cut into more than a few thousand pieces.
            #[allow(clippy::cast_precision_loss)]
            let share = i as f64 / last as f64;
            share
        };
        let points = |run: &WeldRun| {
            (0..=last).map(|i| run.point(share(i), |p| motion.at(p))).collect::<Vec<_>>()
        };
        let greatest = |run: &WeldRun| run.greatest(|p| motion.at(p));
        Ok(WeldAnswer {
            runs: self.runs.iter().map(points).collect(),
            greatest: self.runs.iter().map(greatest).collect(),
        })
    }
}

/// Places at which a full turn of an arc is looked at before its greatest stress is closed in on.
const LOOKS: f64 = 72.0;
/// Steps of the golden section: they narrow two looks to the roundoff of f64.
const NARROWINGS: usize = 60;

#[cfg(test)]
mod tests;
