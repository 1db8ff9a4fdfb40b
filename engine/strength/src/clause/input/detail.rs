//! Inputs of clauses about how a weld is made and how a fishplate is shaped.

use super::{choice, input};

input! {
    /// How a fillet weld is made: fit-up, surface, room for the torch, and where it lies.
    ///
    /// Quality levels are those of ISO 5817; EN 1090-2 asks for C in execution class 2 and B in
    /// class 3. Leave out what was not measured.
    part "weld_making" in Weld;
    pub struct WeldMakingInput {
        numbers {
            a: Length, Free, Positive, "throat of the bead";
            t: Length, Free, Positive, "thickness of the thinner part";
        }
        maybe {
            gap: Length, Demand, FromZero, "fit-up gap at the root";
            undercut: Length, Demand, FromZero, "depth of undercut beside the bead";
            misalign: Length, Demand, FromZero, "offset of plates in one plane against each other";
            nozzle: Length, Demand, Positive, "outer diameter of the nozzle of the torch";
            clear: Length, Free, Positive, "clear width beside the bead where the torch goes";
            clear_angle: Angle, Free, Positive, "angle free for the torch, from the face of the nearer part";
            l_joint: Length, Demand, Positive, "length of the whole joint line";
            l_welded: Length, Free, Positive, "length of it that is welded";
        }
        choices {
            /// The quality level asked for.
            level: QualityLevel;
            /// Whether water and salt get there.
            place: JointPlace;
        }
    }
}

choice! {
    /// A quality level for imperfections of welds (ISO 5817).
    pub enum QualityLevel {
        /// B, stringent.
        B = "b",
        /// C, intermediate.
        C = "c",
        /// D, moderate.
        D = "d",
    }
}

choice! {
    /// Whether water and salt get to a joint.
    pub enum JointPlace {
        /// Dry, or sealed all round.
        Dry = "dry",
        /// Wet: anything under a car.
        Wet = "wet",
    }
}

input! {
    /// A plate welded on the side of a rail over a joint or a weak place.
    part "fishplate" in Plate;
    pub struct FishplateInput {
        numbers {
            t_rail: Length, Free, Positive, "thickness of the wall of the rail";
            t_plate: Length, Free, Positive, "thickness of the plate";
            h_rail: Length, Free, Positive, "depth of the rail";
            l_plate: Length, Free, Positive, "length of the plate along the rail";
            end_angle: Angle, Free, Positive, "angle of the cut ends to the rail: 90 degrees is square; a spear by half its point";
        }
        maybe {
            l_past: Length, Free, Positive, "shortest reach of the plate beyond the joint it covers";
        }
        choices {}
    }
}
