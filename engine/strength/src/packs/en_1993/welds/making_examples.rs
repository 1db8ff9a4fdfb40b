//! Worked examples of how welds are made.

use crate::clause::Clause;
use crate::clause::input::{JointPlace, QualityLevel, WeldMakingInput};
use crate::packs::en_1993::examples::{Example, Rules, given};

use super::making::{Misalignment, RootGap, SealedJoint, TorchAngle, TorchSpace, Undercut};

const MM: f64 = 1e-3;

/// A throat of 4 on 5 mm, level C: gap 1, undercut 0.4, offset 0.6, a nozzle of 20 in 24 mm, 40
/// degrees free, 100 mm of 180 welded.
fn made() -> WeldMakingInput {
    WeldMakingInput {
        a: 4.0 * MM,
        t: 5.0 * MM,
        gap: Some(MM),
        undercut: Some(0.4 * MM),
        misalign: Some(0.6 * MM),
        nozzle: Some(20.0 * MM),
        clear: Some(24.0 * MM),
        clear_angle: Some(40.0_f64.to_radians()),
        l_joint: Some(180.0 * MM),
        l_welded: Some(100.0 * MM),
        level: QualityLevel::C,
        place: JointPlace::Wet,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn weld_making() -> Vec<Example<WeldMakingInput>> {
    let clause = |c: &'static dyn Clause<WeldMakingInput>| c;
    let level = |level: QualityLevel| WeldMakingInput { level, ..made() };
    let thick = |level: QualityLevel| WeldMakingInput {
        a: 20.0 * MM,
        t: 40.0 * MM,
        ..WeldMakingInput { level, ..made() }
    };
    let (b, c, d) = (QualityLevel::B, QualityLevel::C, QualityLevel::D);
    [
        // 0.5 + 0.1 4, 0.5 + 0.2 4, 1 + 0.3 4; at most 2, 3, 4.
        (clause(&RootGap), level(b), 1.0, 0.9),
        (clause(&RootGap), level(c), 1.0, 1.3),
        (clause(&RootGap), level(d), 1.0, 2.2),
        (clause(&RootGap), thick(b), 1.0, 2.0),
        (clause(&RootGap), thick(c), 1.0, 3.0),
        (clause(&RootGap), thick(d), 1.0, 4.0),
        // 0.05, 0.1, 0.2 of 5; at most 0.5, 0.5, 1.
        (clause(&Undercut), level(b), 0.4, 0.25),
        (clause(&Undercut), level(c), 0.4, 0.5),
        (clause(&Undercut), level(d), 0.4, 1.0),
        (clause(&Undercut), thick(b), 0.4, 0.5),
        // 0.1, 0.15, 0.25 of 5; at most 3, 4, 5.
        (clause(&Misalignment), level(b), 0.6, 0.5),
        (clause(&Misalignment), level(c), 0.6, 0.75),
        (clause(&Misalignment), level(d), 0.6, 1.25),
        (clause(&Misalignment), thick(c), 0.6, 4.0),
        (clause(&TorchSpace), made(), 25.0, 24.0),
        (clause(&SealedJoint), made(), 180.0, 100.0),
    ]
    .map(|(clause, input, demand, resistance)| (clause, input, demand * MM, resistance * MM))
    .into_iter()
    .chain([(clause(&TorchAngle), made(), 35.0_f64.to_radians(), 40.0_f64.to_radians())])
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-9,
        source: "limits by hand; ISO 5817 from memory, room for the torch common practice",
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clause::Applicability;

    #[test]
    fn thin_parts_and_dry_joints() {
        let thin = WeldMakingInput { t: 3.0 * MM, ..made() };
        assert!(matches!(RootGap.applies(&thin), Applicability::OutsideScope(_)));
        let dry = WeldMakingInput { place: JointPlace::Dry, ..made() };
        assert!(matches!(SealedJoint.applies(&dry), Applicability::DoesNotApply(_)));
    }
}
