//! Fishplates on rails: two published rules for their thickness disagree, both are shown.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::FishplateInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::DEGREE;

const fn bulletin(place: &'static str) -> Source {
    Source::new("Vehicle Standards Bulletin 6, section H (heavy vehicles, from memory)", place)
}

/// A rule of shape: `$demand` over `$resistance` as the steps of `$body` name them.
macro_rules! shape {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:expr, $title:literal / $short:literal,
     $applies:expr, |$input:ident, $trace:ident| $body:block) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = $place;

        impl Clause<FishplateInput> for $name {
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

            fn applies(&self, input: &FishplateInput) -> Applicability {
                let applies: fn(&FishplateInput) -> Applicability = $applies;
                applies(input)
            }

            fn formula(
                &self,
                $input: &FishplateInput,
                _: &Factors,
                $trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                $body
            }
        }
    };
}

shape!(
    /// A plate much stiffer than the rail makes it crack at its ends.
    NotTooThickLight, LIGHT = Source::practice("fishplate of a light vehicle, at most 1.5 rails thick"),
    "thickness of the fishplate, at most one and a half times the rail" / "plate to 1.5 rails",
    |_| Applicability::Applies,
    |input, trace| {
        let t_plate = input.t_plate(trace);
        let t_rail = input.t_rail(trace);
        step!(trace, Length, LIGHT, "largest thickness"; t_max(t_rail) = 1.5 * t_rail);
        step!(trace, Ratio, LIGHT, "provided over allowed";
            utilisation(t_plate, t_max) = t_plate / t_max);
        trace.note(|| "the rule for heavy vehicles is stricter and has a row of its own".to_owned());
        Checked::new(t_plate, t_max, Dimension::Length, utilisation)
    }
);

shape!(
    /// The stricter rule of heavy vehicles.
    NotTooThickHeavy, HEAVY = bulletin("clause 5, thickness of reinforcement"),
    "thickness of the fishplate, at most that of the rail" / "plate to 1 rail",
    |_| Applicability::Applies,
    |input, trace| {
        let t_plate = input.t_plate(trace);
        let t_rail = input.t_rail(trace);
        step!(trace, Ratio, HEAVY, "provided over allowed";
            utilisation(t_plate, t_rail) = t_plate / t_rail);
        trace.note(|| "the rule for light vehicles is wider and has a row of its own".to_owned());
        Checked::new(t_plate, t_rail, Dimension::Length, utilisation)
    }
);

shape!(
    /// A short plate does not take the bending of the rail over.
    LongEnough, LENGTH = Source::practice("fishplate at least three rail depths long"),
    "length of the fishplate, at least three rail depths" / "plate length",
    |_| Applicability::Applies,
    |input, trace| {
        let h_rail = input.h_rail(trace);
        let l_plate = input.l_plate(trace);
        step!(trace, Length, LENGTH, "least length"; l_min(h_rail) = 3.0 * h_rail);
        step!(trace, Ratio, LENGTH, "required over provided";
            utilisation(l_min, l_plate) = l_min / l_plate);
        Checked::new(l_min, l_plate, Dimension::Length, utilisation)
    }
);

shape!(
    /// Reach beyond the joint it covers.
    ReachesPast, PAST = bulletin("clause 5, reach of reinforcement past a joint"),
    "reach of the fishplate past the joint, at least two rail depths" / "plate reach",
    |input| Applicability::only_if(input.l_past.is_some(), "the plate covers no joint"),
    |input, trace| {
        let h_rail = input.h_rail(trace);
        let l_past = input.l_past(trace)?;
        step!(trace, Length, PAST, "least reach"; l_min(h_rail) = 2.0 * h_rail);
        step!(trace, Ratio, PAST, "required over provided";
            utilisation(l_min, l_past) = l_min / l_past);
        Checked::new(l_min, l_past, Dimension::Length, utilisation)
    }
);

shape!(
    /// A square end puts a weld straight across the rail, where it cracks.
    EndTapered, TAPERED = Source::practice("fishplate ends cut at 45 degrees or less, or to a spear"),
    "ends of the fishplate cut at 45 degrees or less" / "tapered ends",
    |_| Applicability::Applies,
    |input, trace| {
        let end_angle = input.end_angle(trace);
        step!(trace, Angle, TAPERED, "largest angle"; angle_max() = 45.0 * DEGREE);
        step!(trace, Ratio, TAPERED, "provided over allowed";
            utilisation(end_angle, angle_max) = end_angle / angle_max);
        Checked::new(end_angle, angle_max, Dimension::Angle, utilisation)
    }
);

shape!(
    /// A point sharper than this burns away when it is welded.
    EndBlunt, BLUNT = Source::practice("fishplate ends cut at 30 degrees or more"),
    "ends of the fishplate cut at 30 degrees or more" / "blunt enough ends",
    |_| Applicability::Applies,
    |input, trace| {
        let end_angle = input.end_angle(trace);
        step!(trace, Angle, BLUNT, "least angle"; angle_min() = 30.0 * DEGREE);
        step!(trace, Ratio, BLUNT, "required over provided";
            utilisation(angle_min, end_angle) = angle_min / end_angle);
        Checked::new(angle_min, end_angle, Dimension::Angle, utilisation)
    }
);
