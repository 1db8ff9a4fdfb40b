//! Inputs of clauses about thin old walls: what is left of them, and what they are made of.

use crate::remaining::{Corrosivity, FaceState};

use super::{choice, input, record};

input! {
    /// A wall of an old rail by single readings of its thickness.
    ///
    /// A gauge set for steel reads a coat two and a half times as thick as it is. The value taken is
    /// the lesser of the least reading and, from three on, what one place in twenty is below. Pits
    /// go deeper than the mean loss: `p` is the deepest pit over it, 1 where the wall is worn evenly.
    part "old_wall" in Plate;
    pub struct OldWallInput {
        numbers {
            t_req: Length, Demand, Positive, "thickness the wall must have";
            t_new: Length, Free, Positive, "thickness of the wall as new";
            coat: Length, Demand, FromZero, "thickness of the coat left under the probe";
            p: Ratio, Demand, Positive, "deepest pit over the mean loss, 1 where worn evenly";
            years: Ratio, Demand, FromZero, "years the wall has to last, up to 50";
        }
        maybe {
            r: Length, Demand, Positive, "loss of a bare face in the first year, where it is known";
        }
        choices {
            /// The readings.
            readings: Vec<ThicknessReading>;
            /// How corrosive the place is.
            class: Corrosivity;
            /// How the outer face is kept.
            outside: FaceState;
            /// How the inner face is kept.
            inside: FaceState;
        }
    }
}

record! {
    /// One reading of a thickness.
    listed as "readings";
    pub struct ThicknessReading {
        t: Length, Resistance, Positive, "thickness that was read";
    }
}

input! {
    /// A wall of an old rail by mean and scatter of its readings; else as by single readings.
    part "old_wall_mean" in Plate;
    pub struct OldWallMeanInput {
        numbers {
            t_req: Length, Demand, Positive, "thickness the wall must have";
            t_new: Length, Free, Positive, "thickness of the wall as new";
            t_mean: Length, Resistance, Positive, "mean of the readings";
            s_t: Length, Demand, FromZero, "scatter of the readings: their standard deviation";
            n_readings: Ratio, Resistance, Positive, "number of readings";
            coat: Length, Demand, FromZero, "thickness of the coat left under the probe";
            p: Ratio, Demand, Positive, "deepest pit over the mean loss, 1 where worn evenly";
            years: Ratio, Demand, FromZero, "years the wall has to last, up to 50";
        }
        maybe {
            t_least: Length, Resistance, Positive, "least reading";
            r: Length, Demand, Positive, "loss of a bare face in the first year, where it is known";
        }
        choices {
            /// How corrosive the place is.
            class: Corrosivity;
            /// How the outer face is kept.
            outside: FaceState;
            /// How the inner face is kept.
            inside: FaceState;
        }
    }
}

input! {
    /// The strength one assumes for a steel, and how one knows it.
    part "steel_grade" in Plate;
    pub struct SteelGradeInput {
        numbers {
            f_y: Stress, Free, Positive, "yield strength that is assumed";
            f_u: Stress, Free, Positive, "tensile strength that is assumed";
        }
        maybe {}
        choices {
            /// How the grade is known.
            grade: GradeKnown;
        }
    }
}

choice! {
    /// How the grade of a steel is known.
    pub enum GradeKnown {
        /// By a certificate, a mark or a test.
        Known = "known",
        /// Not at all: old sheet.
        Unknown = "unknown",
    }
}
