//! How a fillet weld is made: fit-up, surface, room for the torch, place.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{JointPlace, QualityLevel, WeldMakingInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{DEGREE, MM, joints};

const fn iso_5817(place: &'static str) -> Source {
    Source::new("ISO 5817:2014", place)
}

/// The limits written here are those for parts over 3 mm; thinner ones have narrower limits.
fn over_3_mm(input: &WeldMakingInput, given: bool, missing: &str) -> Applicability {
    if !given {
        return Applicability::DoesNotApply(missing.to_owned());
    }
    Applicability::within(input.t > 3.0 * MM, || {
        "ISO 5817 has narrower limits for parts of 3 mm and less".to_owned()
    })
}

/// A detailing clause about one number that was measured.
macro_rules! measured {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:expr, $title:literal / $short:literal,
     $applies:expr, |$input:ident, $trace:ident| $body:block) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = $place;

        impl Clause<WeldMakingInput> for $name {
            fn reference(&self) -> Source {
                $source
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, input: &WeldMakingInput) -> Applicability {
                let applies: fn(&WeldMakingInput) -> Applicability = $applies;
                applies(input)
            }

            fn formula(
                &self,
                $input: &WeldMakingInput,
                _: &Factors,
                $trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                $body
            }
        }
    };
}

measured!(
    /// Gap between the parts before welding.
    RootGap, GAP = iso_5817("No. 617, root gap of fillet welds (from memory)"),
    "gap at the root, by the quality level" / "root gap",
    |input| over_3_mm(input, input.gap.is_some(), "no gap was measured"),
    |input, trace| {
        let gap = input.gap(trace)?;
        let a = input.a(trace);
        let gap_max = match input.level {
            QualityLevel::B => {
                step!(trace, Length, GAP, "largest gap, level B";
                    gap_max(a) = smaller(0.5 * MM + 0.1 * a, 2.0 * MM));
                gap_max
            }
            QualityLevel::C => {
                step!(trace, Length, GAP, "largest gap, level C";
                    gap_max(a) = smaller(0.5 * MM + 0.2 * a, 3.0 * MM));
                gap_max
            }
            QualityLevel::D => {
                step!(trace, Length, GAP, "largest gap, level D";
                    gap_max(a) = smaller(1.0 * MM + 0.3 * a, 4.0 * MM));
                gap_max
            }
        };
        step!(trace, Ratio, GAP, "provided over allowed"; utilisation(gap, gap_max) = gap / gap_max);
        Checked::new(gap, gap_max, Dimension::Length, utilisation)
    }
);

measured!(
    /// Undercut beside the bead.
    Undercut, UNDERCUT = iso_5817("No. 5011 and 5012, undercut (from memory)"),
    "undercut beside the bead, by the quality level" / "undercut",
    |input| over_3_mm(input, input.undercut.is_some(), "no undercut was measured"),
    |input, trace| {
        let undercut = input.undercut(trace)?;
        let t = input.t(trace);
        let undercut_max = match input.level {
            QualityLevel::B => {
                step!(trace, Length, UNDERCUT, "largest undercut, level B";
                    undercut_max(t) = smaller(0.05 * t, 0.5 * MM));
                undercut_max
            }
            QualityLevel::C => {
                step!(trace, Length, UNDERCUT, "largest undercut, level C";
                    undercut_max(t) = smaller(0.1 * t, 0.5 * MM));
                undercut_max
            }
            QualityLevel::D => {
                step!(trace, Length, UNDERCUT, "largest undercut, level D";
                    undercut_max(t) = smaller(0.2 * t, 1.0 * MM));
                undercut_max
            }
        };
        step!(trace, Ratio, UNDERCUT, "provided over allowed";
            utilisation(undercut, undercut_max) = undercut / undercut_max);
        Checked::new(undercut, undercut_max, Dimension::Length, utilisation)
    }
);

measured!(
    /// Offset of plates that should lie in one plane.
    Misalignment, OFFSET = iso_5817("No. 5071, linear misalignment of plates (from memory)"),
    "offset of plates against each other, by the quality level" / "misalignment",
    |input| over_3_mm(input, input.misalign.is_some(), "no offset was measured"),
    |input, trace| {
        let misalign = input.misalign(trace)?;
        let t = input.t(trace);
        let misalign_max = match input.level {
            QualityLevel::B => {
                step!(trace, Length, OFFSET, "largest offset, level B";
                    misalign_max(t) = smaller(0.1 * t, 3.0 * MM));
                misalign_max
            }
            QualityLevel::C => {
                step!(trace, Length, OFFSET, "largest offset, level C";
                    misalign_max(t) = smaller(0.15 * t, 4.0 * MM));
                misalign_max
            }
            QualityLevel::D => {
                step!(trace, Length, OFFSET, "largest offset, level D";
                    misalign_max(t) = smaller(0.25 * t, 5.0 * MM));
                misalign_max
            }
        };
        step!(trace, Ratio, OFFSET, "provided over allowed";
            utilisation(misalign, misalign_max) = misalign / misalign_max);
        Checked::new(misalign, misalign_max, Dimension::Length, utilisation)
    }
);

measured!(
    /// The torch must point into the root.
    TorchAngle, ANGLE = Source::practice("angle free for the torch, 35 degrees at least, better 60"),
    "angle free for the torch" / "torch angle",
    |input| Applicability::only_if(input.clear_angle.is_some(), "no free angle is given"),
    |input, trace| {
        let clear_angle = input.clear_angle(trace)?;
        step!(trace, Angle, ANGLE, "least angle"; angle_min() = 35.0 * DEGREE);
        step!(trace, Ratio, ANGLE, "required over provided";
            utilisation(angle_min, clear_angle) = angle_min / clear_angle);
        trace.note(|| "about 60 degrees let the torch point at both parts alike".to_owned());
        Checked::new(angle_min, clear_angle, Dimension::Angle, utilisation)
    }
);

measured!(
    /// The nozzle must fit beside the bead.
    TorchSpace, SPACE = Source::practice("room for the nozzle beside a bead, and a little more"),
    "room for the nozzle beside the bead" / "torch space",
    |input| Applicability::only_if(
        input.nozzle.is_some() && input.clear.is_some(),
        "nozzle and clear width are not given",
    ),
    |input, trace| {
        let nozzle = input.nozzle(trace)?;
        let clear = input.clear(trace)?;
        step!(trace, Length, SPACE, "least width"; clear_min(nozzle) = nozzle + 5.0 * MM);
        step!(trace, Ratio, SPACE, "required over provided";
            utilisation(clear_min, clear) = clear_min / clear);
        Checked::new(clear_min, clear, Dimension::Length, utilisation)
    }
);

measured!(
    /// Stitches leave slits where rust starts: a joint in the wet is welded all along.
    SealedJoint, SEALED = joints("4.3.2.2(1), no stitches in corrosive places"),
    "joint in the wet welded all along" / "sealed joint",
    |input| Applicability::only_if(
        input.place == JointPlace::Wet && input.l_joint.is_some() && input.l_welded.is_some(),
        "the joint is dry, or its lengths are not given",
    ),
    |input, trace| {
        let l_joint = input.l_joint(trace)?;
        let l_welded = input.l_welded(trace)?;
        step!(trace, Ratio, SEALED, "required over provided";
            utilisation(l_joint, l_welded) = l_joint / l_welded);
        Checked::new(l_joint, l_welded, Dimension::Length, utilisation)
    }
);
