//! Parameters of load cases that cannot be, or cannot be meant.

use fishplate_quantity::{Dimension, Faults};
use fishplate_solver::group::Vec3;

use super::vehicle::within;
use super::{CaseKind, LoadInput, PotholeForce, RearTransfer, Shock};

impl CaseKind {
    /// Adds what cannot be, or cannot be meant, to `faults`. Paths start at `case`.
    pub(super) fn check(&self, input: &LoadInput, faults: &mut Faults) {
        let rates = "in multiples of gravity";
        let mut ratio = |name: &str, value: f64, low: f64, high: f64, advice: &str| {
            within(faults, &format!("case.{name}"), value, Dimension::Ratio, (low, high), advice);
        };
        match *self {
            Self::Standing => {}
            Self::Bump { field } => ratio("field", field, 0.0, 10.0, rates),
            Self::Rebound { field } => ratio("field", field, -5.0, 0.0, "negative, as -1"),
            Self::Twist { factor, .. } | Self::Lift { factor } => {
                ratio("factor", factor, 0.1, 5.0, "");
            }
            Self::Brake { rate, field } | Self::BrakeBackwards { rate, field } => {
                ratio("rate", rate, 0.0, 3.0, rates);
                ratio("field", field, 0.0, 5.0, rates);
            }
            Self::Drive { shock, grip, .. } => {
                if let Some(grip) = grip {
                    ratio("grip", grip, 0.05, 2.0, "");
                }
                match shock {
                    Shock::None => {}
                    Shock::Factor(factor) => ratio("shock", factor, 1.0, 5.0, ""),
                    Shock::Rotor { wheel_speed_change, duration } => {
                        ratio("wheel_speed_change", wheel_speed_change, 0.01, 500.0, "in rad/s");
                        ratio("duration", duration, 1e-3, 10.0, "in s");
                    }
                }
            }
            Self::Corner { rate, .. } => ratio("rate", rate, 0.0, 3.0, rates),
            Self::CornerAndBrake { corner_rate, brake_rate, .. } => {
                ratio("rate", corner_rate, 0.0, 3.0, rates);
                ratio("brake_rate", brake_rate, 0.0, 3.0, rates);
            }
            Self::Kerb { factor, .. } => ratio("factor", factor, 0.0, 10.0, ""),
            Self::Pothole { field, force, .. } => {
                ratio("field", field, 0.0, 10.0, rates);
                if let PotholeForce::Edge { factor } = force {
                    ratio("factor", factor, 0.0, 10.0, "on the wheel's load at rest");
                }
            }
            Self::Jack { at, factor, .. } | Self::Tow { at, factor, .. } => {
                ratio("factor", factor, 0.1, 5.0, "");
                check_point(faults, input, "case.at", at);
            }
            Self::TieDown(tie) => {
                ratio("rate", tie.rate, 0.0, 3.0, rates);
                let steepest = (0.0, 85.0_f64.to_radians());
                within(faults, "case.slope", tie.slope, Dimension::Angle, steepest, "below level");
                let most = (0.0, 50e3);
                within(faults, "case.pretension", tie.pretension, Dimension::Force, most, "");
                check_point(faults, input, "case.eye", tie.eye);
            }
            Self::Restraint { rate, .. } => ratio("rate", rate, 0.5, 100.0, rates),
        }
        self.check_needs(input, faults);
    }

    /// What a case needs beyond car, springs and cradle.
    fn check_needs(&self, input: &LoadInput, faults: &mut Faults) {
        let brakes = matches!(
            self,
            Self::Brake { .. }
                | Self::BrakeBackwards { .. }
                | Self::CornerAndBrake { .. }
                | Self::Pothole { force: PotholeForce::LockedBrake, .. }
        );
        if brakes && input.brakes.is_none() {
            let advice = "describe the brakes, or leave out the cases that brake";
            faults.add("brakes", "nothing", "the brakes, for a case that brakes", advice);
        }
        if let Self::Drive { shock, .. } = self {
            match &input.drive {
                None => {
                    let advice = "describe the drive unit, or leave out the cases that drive";
                    faults.add("drive", "nothing", "the drive, for a case that drives", advice);
                }
                Some(drive) if drive.rotor_inertia.is_none() => {
                    if let Shock::Rotor { .. } = shock {
                        let advice = "or give the shock as a factor";
                        faults.add(
                            "drive.rotor_inertia",
                            "nothing",
                            "its moment of inertia",
                            advice,
                        );
                    }
                }
                Some(_) => {}
            }
        }
        if let Self::Corner { transfer, .. } | Self::CornerAndBrake { transfer, .. } = self {
            transfer.check(input, faults);
        }
    }
}

impl RearTransfer {
    fn check(&self, input: &LoadInput, faults: &mut Faults) {
        let roll = match self {
            Self::Share(share) => {
                let path = "case.rear_share";
                within(faults, path, *share, Dimension::Ratio, (0.0, 1.0), "of the roll moment");
                return;
            }
            Self::RollStiffness(roll) => roll,
        };
        for (path, value, dimension, range) in [
            ("case.roll.unsprung_front", roll.unsprung_front, Dimension::Mass, (10.0, 500.0)),
            ("case.roll.unsprung_rear", roll.unsprung_rear, Dimension::Mass, (10.0, 500.0)),
            ("case.roll.unsprung_height", roll.unsprung_height, Dimension::Length, (0.05, 1.0)),
            ("case.roll.roll_centre_front", roll.roll_centre_front, Dimension::Length, (-0.5, 1.0)),
            ("case.roll.roll_centre_rear", roll.roll_centre_rear, Dimension::Length, (-0.5, 1.0)),
            ("case.roll.front", roll.front, Dimension::Moment, (1e3, 1e7)),
            ("case.roll.rear", roll.rear, Dimension::Moment, (1e3, 1e7)),
        ] {
            within(faults, path, value, dimension, range, "");
        }
        // An upper bound of m_s g h_ra: stiffer than that, the car stands up in any geometry.
        let vehicle = &input.vehicle;
        let tips = vehicle.mass * super::GRAVITY * vehicle.cg_height * 1.5;
        if roll.front + roll.rear <= tips {
            let given = format!("{} N m/rad on both axles", roll.front + roll.rear);
            let allowed = format!("more than {tips:.0} N m/rad");
            faults.add("case.roll", given, allowed, "a softer car falls over by itself");
        }
    }
}

fn check_point(faults: &mut Faults, input: &LoadInput, path: &str, at: Vec3) {
    let reach = input.vehicle.wheelbase;
    within(faults, &format!("{path}.x"), at.x, Dimension::Length, (-reach, reach), "");
    within(faults, &format!("{path}.y"), at.y, Dimension::Length, (-1.3, 1.3), "");
    within(faults, &format!("{path}.z"), at.z, Dimension::Length, (0.0, 2.0), "above the ground");
}
