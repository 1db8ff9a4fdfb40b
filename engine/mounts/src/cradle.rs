//! The rigid cradle on its mounts: which mount takes how much.
//!
//! Each mount is a bush between cradle and body: three stiffnesses in its own axes, stiffness
//! against turning where it matters, stops that close after a gap, and a fit-up gap that bolting
//! up has pulled shut and locked in. The cradle moves as a rigid body (six unknowns) until bushes
//! and stops balance the wrench on it. A very stiff bush stands for a rigid mount: its stiffness
//! is then that of bracket and rail.
//!
//! Closed stops are found by [`balance`]: the energy of bushes and stops is convex and falls in
//! every pass, so no set of closed stops returns, and the search ends.

use fishplate_quantity::algebra::{larger, positive, sq};
use fishplate_quantity::{Dimension, Fault, Faults};
use fishplate_solver::group::convex::balance;
use fishplate_solver::group::{ElasticBody, FreeMotion, GroupError, Motion, Vec3, Wrench};
use nalgebra::{Matrix3, Matrix3x6, Matrix6, Vector6};

use crate::loads::vehicle::within;

/// A stop: a gap, then stiffness added to the bush's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stop {
    /// Movement before it closes, m, either way.
    pub gap: f64,
    /// Stiffness it adds, N/m.
    pub added_stiffness: f64,
}

/// A bush in its own axes: two across (*radial*), one along (*axial*).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bush {
    // Columns: first radial, second radial, axial direction, in car axes.
    axes: Matrix3<f64>,
    stiffness: Vec3,
    turning: Vec3,
    radial_stop: Option<Stop>,
    axial_stop: Option<Stop>,
}

/// A mount: a bush at a point of the cradle.
#[derive(Debug, Clone, PartialEq)]
pub struct CradleMount {
    /// Its name: `front left`.
    pub name: String,
    /// Centre of the bush, m, car axes.
    pub at: Vec3,
    /// The bush.
    pub bush: Bush,
    /// Movement of the cradle side against the body side that bolting up has forced on the bush,
    /// m, car axes: zero where the two met.
    pub preset: Vec3,
}

/// A rigid cradle on at least one mount.
#[derive(Debug, Clone, PartialEq)]
pub struct Cradle {
    mounts: Vec<CradleMount>,
}

/// What one mount takes.
#[derive(Debug, Clone, PartialEq)]
pub struct MountAnswer {
    /// Its name.
    pub name: String,
    /// Force of the cradle on the body, N, car axes; z < 0 pulls the body down.
    pub force_on_body: Vec3,
    /// Moment of the cradle on the body at the bush centre, N m.
    pub moment_on_body: Vec3,
    /// Movement of the cradle side against the body side in bush axes (radial, radial, axial), m.
    pub movement: Vec3,
    /// Radial movement over the gap of the radial stop; above 1 it is closed.
    pub radial_stop_use: Option<f64>,
    /// Axial movement over the gap of the axial stop; above 1 it is closed.
    pub axial_stop_use: Option<f64>,
}

/// The balance of a cradle on its mounts.
#[derive(Debug, Clone, PartialEq)]
pub struct CradleAnswer {
    /// Mounts in the order given.
    pub mounts: Vec<MountAnswer>,
    /// Movement of the cradle.
    pub motion: Motion,
    /// Passes of the search for closed stops.
    pub passes: usize,
    /// Sum of mount forces less the load, over the greatest of both.
    pub force_residual: f64,
    /// The same of moments about the centre of stiffness, over force times radius of the mounts.
    pub moment_residual: f64,
}

/// Why a cradle has no balance.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum CradleError {
    /// The mounts leave a movement free, or the search did not close.
    #[error("{0}")]
    Group(#[from] GroupError),
    /// The mount forces do not add up to the load.
    #[error("mount forces miss the load by {residual:.1e} of it; at most 1e-9 is an answer")]
    OutOfBalance {
        /// Larger of force and moment residual.
        residual: f64,
    },
}

impl Bush {
    /// A round bush along `axis` (any length but zero), N/m. `None` for an axis without direction.
    #[must_use]
    pub fn round(axis: Vec3, radial: f64, axial: f64) -> Option<Self> {
        let axial_direction = axis.try_normalize(1e-12)?;
        // The first radial is x of the car, or y for a bush along x.
        let near = if axial_direction.x.abs() < 0.9 { Vec3::x() } else { Vec3::y() };
        let first = (near - axial_direction * near.dot(&axial_direction)).normalize();
        let axes = Matrix3::from_columns(&[first, axial_direction.cross(&first), axial_direction]);
        Some(Self::along(axes, Vec3::new(radial, radial, axial)))
    }

    /// A bush whose radial directions differ (voids): `axes` are its square directions as columns,
    /// radial, radial, axial; stiffness in that order, N/m.
    #[must_use]
    pub fn along(axes: Matrix3<f64>, stiffness: Vec3) -> Self {
        Self { axes, stiffness, turning: Vec3::zeros(), radial_stop: None, axial_stop: None }
    }

    /// With stiffness against turning about its axis and against tilting, N m/rad.
    #[must_use]
    pub fn with_turning(self, torsional: f64, conical: f64) -> Self {
        Self { turning: Vec3::new(conical, conical, torsional), ..self }
    }

    /// With stops across (round, whichever way the bush moves) and along.
    #[must_use]
    pub fn with_stops(self, radial: Option<Stop>, axial: Option<Stop>) -> Self {
        Self { radial_stop: radial, axial_stop: axial, ..self }
    }

    /// The bush on a bracket that gives way by `flexibility` (m/N, car axes): in each of its
    /// directions both are springs one behind the other, and a stop closes when the bush alone has
    /// used up its gap. What a force in one direction moves in another is left out.
    #[must_use]
    pub fn on_flexible(self, flexibility: &Matrix3<f64>) -> Self {
        let own = self.axes.transpose() * flexibility * self.axes;
        let own = Vec3::new(own[(0, 0)], own[(1, 1)], own[(2, 2)]);
        let behind = |k: f64, c: f64| k / (1.0 + k * c);
        let stop = |stop: Option<Stop>, k: f64, c: f64| {
            stop.map(|s| Stop {
                gap: s.gap * (1.0 + k * c),
                added_stiffness: behind(k + s.added_stiffness, c) - behind(k, c),
            })
        };
        let k = self.stiffness;
        let across = (own.x + own.y) / 2.0;
        Self {
            stiffness: Vec3::new(behind(k.x, own.x), behind(k.y, own.y), behind(k.z, own.z)),
            radial_stop: stop(self.radial_stop, (k.x + k.y) / 2.0, across),
            axial_stop: stop(self.axial_stop, k.z, own.z),
            ..self
        }
    }

    /// Force (N) and tangent stiffness (N/m) at a movement (m), all in bush axes.
    fn force(&self, v: Vec3) -> (Vec3, Matrix3<f64>) {
        let mut force = self.stiffness.component_mul(&v);
        let mut tangent = Matrix3::from_diagonal(&self.stiffness);
        if let Some(stop) = self.axial_stop {
            let beyond = positive(v.z.abs() - stop.gap);
            if beyond > 0.0 {
                force.z += stop.added_stiffness * beyond * v.z.signum();
                tangent[(2, 2)] += stop.added_stiffness;
            }
        }
        if let Some(stop) = self.radial_stop {
            let travel = v.x.hypot(v.y);
            let beyond = positive(travel - stop.gap);
            if beyond > 0.0 {
                let outward = Vec3::new(v.x, v.y, 0.0) / travel;
                let round = Vec3::z().cross(&outward);
                force += outward * (stop.added_stiffness * beyond);
                tangent += outward * outward.transpose() * stop.added_stiffness;
                tangent += round * round.transpose() * (stop.added_stiffness * beyond / travel);
            }
        }
        (force, tangent)
    }

    /// Stiffness (N/m) with every stop closed, in bush axes.
    fn stiffest(&self) -> Matrix3<f64> {
        let added = |stop: Option<Stop>| stop.map_or(0.0, |s| s.added_stiffness);
        let (radial, axial) = (added(self.radial_stop), added(self.axial_stop));
        Matrix3::from_diagonal(&(self.stiffness + Vec3::new(radial, radial, axial)))
    }

    fn in_car(&self, inner: &Matrix3<f64>) -> Matrix3<f64> {
        self.axes * inner * self.axes.transpose()
    }

    fn check(&self, path: &str, faults: &mut Faults) {
        let (least, most) = (1e2, 1e12);
        for (name, value) in [
            ("radial", self.stiffness.x),
            ("radial", self.stiffness.y),
            ("axial", self.stiffness.z),
        ] {
            let path = format!("{path}.{name}");
            let advice = "a dead bush keeps a little stiffness; a rigid one that of its bracket";
            within(faults, &path, value, Dimension::Stiffness, (least, most), advice);
        }
        for (name, value) in [("conical", self.turning.x), ("torsional", self.turning.z)] {
            let path = format!("{path}.{name}");
            within(faults, &path, value, Dimension::Moment, (0.0, most), "per rad");
        }
        for stop in [self.radial_stop, self.axial_stop].into_iter().flatten() {
            let gap = (1e-5, 0.1);
            let none = "without a gap it is stiffness, not a stop";
            within(faults, &format!("{path}.stop"), stop.gap, Dimension::Length, gap, none);
            let rate = format!("{path}.stop_rate");
            let range = (0.0, most);
            within(faults, &rate, stop.added_stiffness, Dimension::Stiffness, range, "");
        }
    }
}

impl Cradle {
    /// A cradle on these mounts.
    ///
    /// # Errors
    /// No mount; a mount on or below the ground or far from the car; a stiffness or gap that
    /// cannot be. Paths start at `mount`.
    pub fn new(mounts: Vec<CradleMount>) -> Result<Self, Vec<Fault>> {
        let mut faults = Faults::new();
        if mounts.is_empty() {
            faults.add("mount", "none", "at least one mount", "");
        }
        for mount in &mounts {
            let path = format!("mount.{}", mount.name);
            let length = Dimension::Length;
            within(&mut faults, &format!("{path}.at.x"), mount.at.x, length, (-5.0, 10.0), "");
            within(&mut faults, &format!("{path}.at.y"), mount.at.y, length, (-1.5, 1.5), "");
            let ground = "above the ground: z counts up from it";
            within(&mut faults, &format!("{path}.at.z"), mount.at.z, length, (0.01, 2.0), ground);
            let shut = format!("{path}.fit_up_gap");
            within(&mut faults, &shut, mount.preset.norm(), length, (0.0, 0.02), "");
            mount.bush.check(&format!("{path}.bush"), &mut faults);
        }
        faults.or(Self { mounts })
    }

    /// The mounts, in the order given.
    #[must_use]
    pub fn mounts(&self) -> &[CradleMount] {
        &self.mounts
    }

    /// Mean of the mount points, m.
    #[must_use]
    pub fn centre(&self) -> Vec3 {
        let mut count = 0.0;
        let sum = self.mounts.iter().fold(Vec3::zeros(), |sum, mount| {
            count += 1.0;
            sum + mount.at
        });
        sum / count
    }

    /// Movements that its bushes leave free.
    #[must_use]
    pub fn free_motions(&self) -> Vec<FreeMotion> {
        self.springs().free_motions()
    }

    fn springs(&self) -> ElasticBody {
        let mut springs = ElasticBody::new();
        for mount in &self.mounts {
            let bush = &mount.bush;
            let stiffness = bush.in_car(&Matrix3::from_diagonal(&bush.stiffness));
            let turning = bush.in_car(&Matrix3::from_diagonal(&bush.turning));
            springs.add(mount.at, stiffness, turning);
        }
        springs
    }

    /// What each mount takes when `wrench` acts on the cradle system.
    ///
    /// # Errors
    /// [`CradleError`].
    pub fn solve(&self, wrench: &Wrench) -> Result<CradleAnswer, CradleError> {
        let springs = self.springs();
        // A cradle that can move freely is refused whatever the load: the next one may drive it.
        let free = springs.free_motions();
        if !free.is_empty() {
            return Err(GroupError::Singular { free }.into());
        }
        // Without stops: where the search begins.
        let open = springs.solve(wrench)?;
        let (centre, radius) = springs.centre_and_radius();
        let six = SixEquations { mounts: &self.mounts, centre, radius };
        let load = six.load(wrench);
        let size = load.norm() + six.preset_force();
        let start = six.unknowns(&open);
        let (q, passes) = balance(start, &six.whole(), size, |q| {
            let (force, tangent) = six.forces(q);
            (force - load, tangent)
        })?;
        let motion = six.motion(&q);
        self.answer(wrench, motion, passes, radius)
    }

    fn answer(
        &self,
        wrench: &Wrench,
        motion: Motion,
        passes: usize,
        radius: f64,
    ) -> Result<CradleAnswer, CradleError> {
        let mounts: Vec<MountAnswer> = self.mounts.iter().map(|m| m.answer(&motion)).collect();
        let load = wrench.moved_to(motion.about);
        let (mut force, mut moment, mut size) = (-load.force, -load.moment, load.force.norm());
        for (mount, answer) in self.mounts.iter().zip(&mounts) {
            force += answer.force_on_body;
            moment += (mount.at - motion.about).cross(&answer.force_on_body);
            moment += answer.moment_on_body;
            size = larger(size, answer.force_on_body.norm());
        }
        size = larger(size, larger(load.moment.norm() / radius, f64::MIN_POSITIVE));
        let force_residual = force.norm() / size;
        let moment_residual = moment.norm() / (size * radius);
        let residual = larger(force_residual, moment_residual);
        if residual.is_nan() || residual > 1e-9 {
            return Err(CradleError::OutOfBalance { residual });
        }
        Ok(CradleAnswer { mounts, motion, passes, force_residual, moment_residual })
    }
}

impl CradleMount {
    fn answer(&self, motion: &Motion) -> MountAnswer {
        let bush = &self.bush;
        let movement = bush.axes.tr_mul(&(motion.at(self.at) + self.preset));
        let (force, _) = bush.force(movement);
        let turning = bush.in_car(&Matrix3::from_diagonal(&bush.turning));
        let used = |stop: Option<Stop>, travel: f64| stop.map(|s| travel / s.gap);
        MountAnswer {
            name: self.name.clone(),
            force_on_body: bush.axes * force,
            moment_on_body: turning * motion.rotation,
            movement,
            radial_stop_use: used(bush.radial_stop, movement.x.hypot(movement.y)),
            axial_stop_use: used(bush.axial_stop, movement.z.abs()),
        }
    }
}

/// Six unknowns in m: movement of the centre of stiffness, and rotation times the radius of the
/// mounts about it.
struct SixEquations<'a> {
    mounts: &'a [CradleMount],
    centre: Vec3,
    radius: f64,
}

impl SixEquations<'_> {
    fn load(&self, wrench: &Wrench) -> Vector6<f64> {
        let w = wrench.moved_to(self.centre);
        let m = w.moment / self.radius;
        Vector6::new(w.force.x, w.force.y, w.force.z, m.x, m.y, m.z)
    }

    fn unknowns(&self, motion: &Motion) -> Vector6<f64> {
        let t = motion.at(self.centre);
        let r = motion.rotation * self.radius;
        Vector6::new(t.x, t.y, t.z, r.x, r.y, r.z)
    }

    fn motion(&self, q: &Vector6<f64>) -> Motion {
        let translation = q.fixed_rows::<3>(0).into_owned();
        let rotation = q.fixed_rows::<3>(3) / self.radius;
        Motion { translation, rotation, about: self.centre }
    }

    /// Movement of a mount per unknown.
    fn shape(&self, mount: &CradleMount) -> Matrix3x6<f64> {
        let mut b = Matrix3x6::zeros();
        b.fixed_view_mut::<3, 3>(0, 0).copy_from(&Matrix3::identity());
        let arm = (mount.at - self.centre) / self.radius;
        b.fixed_view_mut::<3, 3>(0, 3).copy_from(&-arm.cross_matrix());
        b
    }

    /// Forces of bushes and stops in the unknowns, and their tangent.
    fn forces(&self, q: &Vector6<f64>) -> (Vector6<f64>, Matrix6<f64>) {
        let mut forces = Vector6::zeros();
        let mut tangent = Matrix6::zeros();
        for mount in self.mounts {
            let bush = &mount.bush;
            let b = self.shape(mount);
            let (force, k) = bush.force(bush.axes.tr_mul(&(b * q + mount.preset)));
            forces += b.tr_mul(&(bush.axes * force));
            tangent += b.tr_mul(&(bush.in_car(&k) * b));
            let turning = self.turning(bush);
            tangent += turning;
            forces += turning * q;
        }
        (forces, tangent)
    }

    fn turning(&self, bush: &Bush) -> Matrix6<f64> {
        let mut k = Matrix6::zeros();
        let turning = bush.in_car(&Matrix3::from_diagonal(&bush.turning)) / sq(self.radius);
        k.fixed_view_mut::<3, 3>(3, 3).copy_from(&turning);
        k
    }

    /// Stiffness with every stop closed.
    fn whole(&self) -> Matrix6<f64> {
        self.mounts.iter().fold(Matrix6::zeros(), |sum, mount| {
            let b = self.shape(mount);
            let k = mount.bush.in_car(&mount.bush.stiffest());
            sum + b.tr_mul(&(k * b)) + self.turning(&mount.bush)
        })
    }

    /// Size of the forces that the presets alone call up, N.
    fn preset_force(&self) -> f64 {
        let size = |m: &CradleMount| (m.bush.stiffest() * m.bush.axes.tr_mul(&m.preset)).norm();
        self.mounts.iter().map(size).sum()
    }
}

#[cfg(test)]
mod tests;
