//! A car from scales: four corners or two axles, and the height of its centre of gravity.

use fishplate_quantity::{Dimension, Fault, Faults, Source, Trace, step};

use super::derivation::Derivation;
use super::vehicle::{Vehicle, within};
use std::collections::BTreeSet;

/// Lengths that scales do not tell, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Geometry {
    /// Distance of the axles.
    pub wheelbase: f64,
    /// Distance of the front wheels' planes, where known.
    pub track_front: Option<f64>,
    /// Distance of the rear wheels' planes.
    pub track_rear: f64,
    /// Wheel centre above the ground under load.
    pub wheel_radius: f64,
}

/// Readings of four scales under the level car, kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CornerScales {
    /// Front left.
    pub front_left: f64,
    /// Front right.
    pub front_right: f64,
    /// Rear left.
    pub rear_left: f64,
    /// Rear right.
    pub rear_right: f64,
}

/// Where the height of the centre of gravity comes from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CgHeight {
    /// Told, m.
    Given(f64),
    /// Rear wheels lifted by `lift` (m) with locked suspension and free wheels; the front scales
    /// gained `front_gain` (kg).
    RearLifted {
        /// How far, m.
        lift: f64,
        /// Gain of the front scales together, kg.
        front_gain: f64,
    },
}

/// A weighed car.
#[derive(Debug, Clone, PartialEq)]
pub struct Weighing {
    /// The car.
    pub vehicle: Vehicle,
    /// Share of the mass on the front right and rear left wheels, where four scales told it.
    pub cross_weight: Option<f64>,
    /// How it was computed.
    pub trace: Trace,
}

const WEIGHING: Source = Source::mechanics("equilibrium of the car on its scales");
const LIFTED: Source = Source::mechanics("equilibrium of the car with its rear lifted");

/// The car on four scales. `guessed` as in [`LoadInput`](super::LoadInput).
///
/// # Errors
/// All faults of the readings and of the car that follows.
pub fn from_corner_scales(
    scales: &CornerScales,
    geometry: &Geometry,
    height: CgHeight,
    guessed: &BTreeSet<String>,
    trace: Trace,
) -> Result<Weighing, Vec<Fault>> {
    let readings = [
        ("car.corner_scales.front_left", scales.front_left),
        ("car.corner_scales.front_right", scales.front_right),
        ("car.corner_scales.rear_left", scales.rear_left),
        ("car.corner_scales.rear_right", scales.rear_right),
    ];
    check(&readings, geometry, height)?;
    let mut d = Derivation::new(trace, guessed);
    let mut reading = |symbol, what, i: usize| {
        d.given(symbol, what, Dimension::Mass, readings[i].1, readings[i].0)
    };
    let m_fl = reading("m_fl", "front left reading", 0);
    let m_fr = reading("m_fr", "front right reading", 1);
    let m_rl = reading("m_rl", "rear left reading", 2);
    let m_rr = reading("m_rr", "rear right reading", 3);
    let (wheelbase, t) = lengths(&mut d, geometry);
    let front = geometry.track_front.unwrap_or(geometry.track_rear);
    let t_front = d.given("t_front", "front track", Dimension::Length, front, "car.front_track");
    let trace = &mut d.trace;
    step!(trace, Mass, WEIGHING, "mass of the car";
        m(m_fl, m_fr, m_rl, m_rr) = m_fl + m_fr + m_rl + m_rr);
    step!(trace, Length, WEIGHING, "centre of gravity ahead of the rear axle";
        x_cg(wheelbase, m_fl, m_fr, m) = wheelbase * (m_fl + m_fr) / m);
    step!(trace, Length, WEIGHING, "centre of gravity to the left";
        y_cg(m_fl, m_fr, t_front, m_rl, m_rr, t, m) =
        ((m_fl - m_fr) * t_front / 2.0 + (m_rl - m_rr) * t / 2.0) / m);
    step!(trace, Ratio, WEIGHING, "cross weight: front right and rear left";
        cross(m_fr, m_rl, m) = (m_fr + m_rl) / m);
    step!(trace, Length, WEIGHING, "load of the rear axle left of the centre of gravity";
        y_rear(m_rl, m_rr, t, y_cg) = (m_rl - m_rr) / (m_rl + m_rr) * t / 2.0 - y_cg);
    let h = cg_height(&mut d, height, geometry, m, wheelbase);
    finish(d, geometry, [m, x_cg, y_cg, h], (Some(cross), y_rear))
}

/// The car on a scale under each axle (kg).
///
/// # Errors
/// All faults of the readings and of the car that follows.
pub fn from_axle_scales(
    front: f64,
    rear: f64,
    geometry: &Geometry,
    height: CgHeight,
    guessed: &BTreeSet<String>,
    trace: Trace,
) -> Result<Weighing, Vec<Fault>> {
    let readings = [("car.axle_scales.front", front), ("car.axle_scales.rear", rear)];
    check(&readings, geometry, height)?;
    let mut d = Derivation::new(trace, guessed);
    let m_front = d.given("m_front", "front axle reading", Dimension::Mass, front, readings[0].0);
    let m_rear = d.given("m_rear", "rear axle reading", Dimension::Mass, rear, readings[1].0);
    let (wheelbase, _) = lengths(&mut d, geometry);
    let trace = &mut d.trace;
    step!(trace, Mass, WEIGHING, "mass of the car"; m(m_front, m_rear) = m_front + m_rear);
    step!(trace, Length, WEIGHING, "centre of gravity ahead of the rear axle";
        x_cg(wheelbase, m_front, m) = wheelbase * m_front / m);
    let h = cg_height(&mut d, height, geometry, m, wheelbase);
    finish(d, geometry, [m, x_cg, 0.0, h], (None, 0.0))
}

fn lengths(d: &mut Derivation, geometry: &Geometry) -> (f64, f64) {
    use Dimension::Length;
    let wheelbase = d.given("wheelbase", "wheelbase", Length, geometry.wheelbase, "car.wheelbase");
    let t = d.given("t", "rear track", Length, geometry.track_rear, "car.rear_track");
    (wheelbase, t)
}

fn cg_height(
    d: &mut Derivation,
    height: CgHeight,
    geometry: &Geometry,
    m: f64,
    wheelbase: f64,
) -> f64 {
    use Dimension::{Length, Mass};
    let (lift, gain) = match height {
        CgHeight::Given(h) => return h,
        CgHeight::RearLifted { lift, front_gain } => (lift, front_gain),
    };
    let r = d.given("r", "loaded wheel radius", Length, geometry.wheel_radius, "car.wheel_radius");
    let lift = d.given("lift", "rear wheels lifted by", Length, lift, "car.lifted.lift");
    let dm_f = d.given("dm_f", "gain of the front scales", Mass, gain, "car.lifted.front_gain");
    let trace = &mut d.trace;
    step!(trace, Angle, LIFTED, "slope of the car";
        theta(lift, wheelbase) = (lift / wheelbase).asin());
    step!(trace, Length, LIFTED, "centre of gravity above the ground";
        h(r, wheelbase, dm_f, m, theta) = r + wheelbase * dm_f / (m * theta.tan()));
    h
}

fn check(
    readings: &[(&'static str, f64)],
    geometry: &Geometry,
    height: CgHeight,
) -> Result<(), Vec<Fault>> {
    let mut faults = Faults::new();
    for &(path, reading) in readings {
        within(&mut faults, path, reading, Dimension::Mass, (20.0, 4000.0), "reading of the scale");
    }
    within(&mut faults, "car.wheelbase", geometry.wheelbase, Dimension::Length, (1.2, 6.0), "");
    if let CgHeight::RearLifted { lift, front_gain } = height {
        let steep = "too little lift drowns in the scatter of the scales; too much is dangerous";
        let range = (0.05 * geometry.wheelbase, 0.5 * geometry.wheelbase);
        within(&mut faults, "car.lifted.lift", lift, Dimension::Length, range, steep);
        let gain = "the front scales gain when the rear is lifted";
        let path = "car.lifted.front_gain";
        within(&mut faults, path, front_gain, Dimension::Mass, (0.5, 1000.0), gain);
    }
    faults.or(())
}

fn finish(
    d: Derivation,
    geometry: &Geometry,
    [mass, cg_ahead, cg_left, cg_height]: [f64; 4],
    (cross_weight, rear_offset): (Option<f64>, f64),
) -> Result<Weighing, Vec<Fault>> {
    let vehicle = Vehicle {
        mass,
        wheelbase: geometry.wheelbase,
        cg_ahead,
        cg_height,
        cg_left,
        rear_offset,
        track_rear: geometry.track_rear,
        track_front: geometry.track_front,
        wheel_radius: geometry.wheel_radius,
        added_masses: Vec::new(),
    };
    let mut faults = Faults::new();
    vehicle.check(&mut faults);
    faults.or(Weighing { vehicle, cross_weight, trace: d.trace })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(got: f64, expected: f64) {
        assert!((got / expected - 1.0).abs() < 1e-6, "{got} against {expected}");
    }

    const GEOMETRY: Geometry = Geometry {
        wheelbase: 2.52,
        track_front: Some(1.46),
        track_rear: 1.44,
        wheel_radius: 0.305,
    };

    // Statics by hand: x = 2520·730/1366, y = (14·730 − 16·720)/1366,
    // h = 305 + 2520·31.5/(1366 tan(asin(600/2520))).
    #[test]
    fn four_scales_and_a_lifted_rear() {
        let scales = CornerScales {
            front_left: 372.0,
            front_right: 358.0,
            rear_left: 310.0,
            rear_right: 326.0,
        };
        let lifted = CgHeight::RearLifted { lift: 0.6, front_gain: 31.5 };
        let none = BTreeSet::new();
        let w = from_corner_scales(&scales, &GEOMETRY, lifted, &none, Trace::on()).unwrap();
        near(w.vehicle.mass, 1366.0);
        near(w.vehicle.cg_ahead, 1.346_705_7);
        assert!((w.vehicle.cg_left + 0.951_68e-3).abs() < 1e-8);
        near(w.vehicle.cg_height, 0.542_048_4);
        near(w.cross_weight.unwrap(), 0.489_019);
        assert!(w.trace.orphans().is_empty());
    }

    // Equilibrium: a car at rest presses on its rear wheels as the scales under them said, though
    // the front of this one leans the other way.
    #[test]
    fn a_twisted_car_stands_on_its_rear_wheels_as_weighed() {
        let scales = CornerScales {
            front_left: 401.0,
            front_right: 377.0,
            rear_left: 333.0,
            rear_right: 351.0,
        };
        let none = BTreeSet::new();
        let height = CgHeight::Given(0.6);
        let w = from_corner_scales(&scales, &GEOMETRY, height, &none, Trace::on()).unwrap();
        assert!(w.vehicle.cg_left > 0.0);
        let mut d = Derivation::new(Trace::on(), &none);
        let s = super::super::vehicle::statics(&mut d, &w.vehicle);
        near(s.w_left, 333.0 * super::super::GRAVITY);
        near(s.w_right, 351.0 * super::super::GRAVITY);
    }

    // Statics by hand: the same car on two axle scales has the same x.
    #[test]
    fn two_axle_scales() {
        let none = BTreeSet::new();
        let height = CgHeight::Given(0.542);
        let w = from_axle_scales(730.0, 636.0, &GEOMETRY, height, &none, Trace::on()).unwrap();
        near(w.vehicle.cg_ahead, 1.346_705_7);
        assert!(w.cross_weight.is_none());
    }

    #[test]
    fn readings_that_cannot_be_are_all_named() {
        let none = BTreeSet::new();
        let lifted = CgHeight::RearLifted { lift: 2.6, front_gain: -3.0 };
        let faults =
            from_axle_scales(-1.0, f64::NAN, &GEOMETRY, lifted, &none, Trace::off()).unwrap_err();
        let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
        let expected = [
            "car.axle_scales.front",
            "car.axle_scales.rear",
            "car.lifted.lift",
            "car.lifted.front_gain",
        ];
        assert_eq!(paths, expected);
    }
}
