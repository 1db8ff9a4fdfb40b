//! The car: mass, centre of gravity, lengths; axle loads at rest.

use fishplate_quantity::trace::quantity_text;
use fishplate_quantity::{Dimension, Faults, Source, step};
use fishplate_solver::group::Vec3;

use super::GRAVITY;
use super::derivation::Derivation;

/// The car as it stands on its wheels, laden.
#[derive(Debug, Clone, PartialEq)]
pub struct Vehicle {
    /// Mass, kg.
    pub mass: f64,
    /// Distance of the axles, m.
    pub wheelbase: f64,
    /// Centre of gravity ahead of the rear axle, m.
    pub cg_ahead: f64,
    /// Centre of gravity above the ground, m.
    pub cg_height: f64,
    /// Centre of gravity left of the centre plane, m.
    pub cg_left: f64,
    /// How far left of the car's centre of gravity the rear axle carries its load at rest, m: 0
    /// unless four scales told that the car stands twisted.
    pub rear_offset: f64,
    /// Distance of the rear wheels' planes, m.
    pub track_rear: f64,
    /// Distance of the front wheels' planes, m; taken as the rear's where not given.
    pub track_front: Option<f64>,
    /// Wheel centre above the ground under load, m.
    pub wheel_radius: f64,
    /// Masses added after the weighing.
    pub added_masses: Vec<AddedMass>,
}

/// A mass added after the weighing.
#[derive(Debug, Clone, PartialEq)]
pub struct AddedMass {
    /// Its name.
    pub name: String,
    /// Mass, kg.
    pub mass: f64,
    /// Its centre, m, car axes.
    pub at: Vec3,
}

/// Axle loads at rest, with the numbers they came from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Statics {
    pub(super) m: f64,
    pub(super) g: f64,
    pub(super) wheelbase: f64,
    pub(super) x_cg: f64,
    pub(super) h: f64,
    pub(super) t: f64,
    pub(super) t_front: f64,
    pub(super) r: f64,
    pub(super) w_f: f64,
    pub(super) w_r: f64,
    pub(super) w_left: f64,
    pub(super) w_right: f64,
}

pub(super) const STATICS: Source = Source::mechanics("equilibrium of the car at rest");

pub(super) fn statics(d: &mut Derivation, v: &Vehicle) -> Statics {
    use Dimension::{Length, Mass};
    let mut m = d.given("m", "mass of the car", Mass, v.mass, "car.mass");
    let wheelbase = d.given("wheelbase", "wheelbase", Length, v.wheelbase, "car.wheelbase");
    let mut x_cg = d.given(
        "x_cg",
        "centre of gravity ahead of the rear axle",
        Length,
        v.cg_ahead,
        "car.cg_ahead",
    );
    let mut h =
        d.given("h", "centre of gravity above the ground", Length, v.cg_height, "car.cg_height");
    let mut y_cg =
        d.given("y_cg", "centre of gravity to the left", Length, v.cg_left, "car.cg_left");
    let t = d.given("t", "rear track", Length, v.track_rear, "car.rear_track");
    let front = v.track_front.unwrap_or(v.track_rear);
    let t_front = d.given("t_front", "front track", Length, front, "car.front_track");
    if v.track_front.is_none() {
        d.assume("front track taken as the rear's");
    }
    let r = d.given("r", "loaded wheel radius", Length, v.wheel_radius, "car.wheel_radius");
    let g = d.factor("g", "gravity", Dimension::Acceleration, GRAVITY);
    for added in &v.added_masses {
        let path = format!("car.added_masses.{}", added.name);
        let dm = d.given("dm", "added mass", Mass, added.mass, &path);
        let x_b = d.given("x_b", "its place forward", Length, added.at.x, &path);
        let y_b = d.given("y_b", "its place to the left", Length, added.at.y, &path);
        let z_b = d.given("z_b", "its height", Length, added.at.z, &path);
        let trace = &mut d.trace;
        step!(trace, Length, STATICS, "centre of gravity ahead of the rear axle, with it";
            x_new(m, x_cg, dm, x_b) = (m * x_cg + dm * x_b) / (m + dm));
        step!(trace, Length, STATICS, "centre of gravity to the left, with it";
            y_new(m, y_cg, dm, y_b) = (m * y_cg + dm * y_b) / (m + dm));
        step!(trace, Length, STATICS, "centre of gravity above the ground, with it";
            h_new(m, h, dm, z_b) = (m * h + dm * z_b) / (m + dm));
        step!(trace, Mass, STATICS, "mass of the car, with it"; m_new(m, dm) = m + dm);
        let of = || format!("with {}", added.name);
        m = d.again("m", "mass of the car", Mass, m_new, of);
        x_cg = d.again("x_cg", "centre of gravity ahead of the rear axle", Length, x_new, of);
        y_cg = d.again("y_cg", "centre of gravity to the left", Length, y_new, of);
        h = d.again("h", "centre of gravity above the ground", Length, h_new, of);
    }
    let y_rear = d.again(
        "y_rear",
        "load of the rear axle left of the centre of gravity",
        Length,
        v.rear_offset,
        || "the scales under the four wheels, 0 without them".to_owned(),
    );
    let trace = &mut d.trace;
    step!(trace, Force, STATICS, "load of the front axle at rest";
        w_f(m, g, x_cg, wheelbase) = m * g * x_cg / wheelbase);
    step!(trace, Force, STATICS, "load of the rear axle at rest";
        w_r(m, g, x_cg, wheelbase) = m * g * (wheelbase - x_cg) / wheelbase);
    step!(trace, Force, STATICS, "load of the left rear wheel at rest";
        w_left(w_r, y_cg, y_rear, t) = w_r * (0.5 + (y_cg + y_rear) / t));
    step!(trace, Force, STATICS, "load of the right rear wheel at rest";
        w_right(w_r, y_cg, y_rear, t) = w_r * (0.5 - (y_cg + y_rear) / t));
    Statics { m, g, wheelbase, x_cg, h, t, t_front, r, w_f, w_r, w_left, w_right }
}

impl Vehicle {
    /// Adds what cannot be, or cannot be meant, to `faults`. Paths start at `car`.
    pub fn check(&self, faults: &mut Faults) {
        use Dimension::{Length, Mass};
        within(faults, "car.mass", self.mass, Mass, (300.0, 5000.0), "laden mass from the scales");
        within(faults, "car.wheelbase", self.wheelbase, Length, (1.2, 6.0), "");
        within(faults, "car.rear_track", self.track_rear, Length, (0.8, 2.6), "");
        if let Some(track) = self.track_front {
            within(faults, "car.front_track", track, Length, (0.8, 2.6), "");
        }
        within(faults, "car.wheel_radius", self.wheel_radius, Length, (0.15, 0.7), "under load");
        within(faults, "car.cg_height", self.cg_height, Length, (0.2, 2.0), "above the ground");
        let ahead = (0.02 * self.wheelbase, 0.98 * self.wheelbase);
        let advice = "the centre of gravity lies between the axles, counted from the rear axle";
        within(faults, "car.cg_ahead", self.cg_ahead, Length, ahead, advice);
        let side = 0.2 * self.track_rear;
        within(faults, "car.cg_left", self.cg_left, Length, (-side, side), "left is positive");
        for added in &self.added_masses {
            let path = format!("car.added_masses.{}", added.name);
            within(faults, &path, added.mass, Mass, (-1000.0, 1000.0), "taken off: negative");
            let reach = 2.0 * self.wheelbase;
            within(faults, &format!("{path}.x"), added.at.x, Length, (-reach, reach), "");
            within(faults, &format!("{path}.y"), added.at.y, Length, (-1.5, 1.5), "");
            within(
                faults,
                &format!("{path}.z"),
                added.at.z,
                Length,
                (0.0, 3.0),
                "above the ground",
            );
        }
    }
}

/// Adds a fault unless `value` lies in `range`; what is not a number never does.
pub(crate) fn within(
    faults: &mut Faults,
    path: &str,
    value: f64,
    dimension: Dimension,
    (low, high): (f64, f64),
    advice: &str,
) {
    if !(value >= low && value <= high) {
        let text = |si| quantity_text(si, dimension);
        faults.add(path, text(value), format!("{} to {}", text(low), text(high)), advice);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fishplate_quantity::Trace;
    use std::collections::BTreeSet;

    fn van() -> Vehicle {
        Vehicle {
            mass: 2050.0,
            wheelbase: 2.35,
            cg_ahead: 0.987,
            cg_height: 0.76,
            cg_left: 0.0,
            rear_offset: 0.0,
            track_rear: 1.42,
            track_front: None,
            wheel_radius: 0.31,
            added_masses: Vec::new(),
        }
    }

    // Statics on paper: 8446 N and 11 664 N; with 80 kg at x 50 mm, z 620 mm: 12 432 N.
    #[test]
    fn axle_loads_with_and_without_a_battery() {
        let none = BTreeSet::new();
        let mut d = Derivation::new(Trace::on(), &none);
        let s = statics(&mut d, &van());
        assert!((s.w_f - 8446.0).abs() < 1.0);
        assert!((s.w_r - 11_664.0).abs() < 1.0);
        let battery =
            AddedMass { name: "battery".to_owned(), mass: 80.0, at: Vec3::new(0.05, 0.0, 0.62) };
        let heavy = Vehicle { added_masses: vec![battery], ..van() };
        let s = statics(&mut d, &heavy);
        assert!((s.w_r - 12_432.0).abs() < 1.0);
        assert!(d.trace.orphans().is_empty());
    }

    #[test]
    fn a_car_that_cannot_be_is_refused_in_every_field() {
        let broken =
            Vehicle { mass: f64::NAN, cg_ahead: 2.5, cg_height: 0.0, wheel_radius: 310.0, ..van() };
        let mut faults = Faults::new();
        broken.check(&mut faults);
        let paths: Vec<String> = faults.into_vec().into_iter().map(|f| f.path).collect();
        assert_eq!(paths, ["car.mass", "car.wheel_radius", "car.cg_height", "car.cg_ahead"]);
        let mut none = Faults::new();
        van().check(&mut none);
        assert!(none.is_empty());
    }
}
