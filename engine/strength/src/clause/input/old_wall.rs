//! Inputs of clauses about thin old walls: what is left of them, and what they are made of.

use super::{choice, input, record};

input! {
    /// A wall of an old rail by single readings of its thickness.
    ///
    /// Readings may hold paint: `paint` is what of each is not metal, both faces together. Pits go
    /// deeper than the mean: `k_pit` is the deepest pit over the mean loss, which needs `t_nominal`.
    /// Future rust eats from `faces` faces for `years`, by the class of the place or the rate `r_corr`.
    part "old_wall" in Plate;
    pub struct OldWallInput {
        numbers {
            t_req: Length, Demand, Positive, "thickness the wall must have";
            paint: Length, Demand, FromZero, "coating within each reading, both faces together";
            years: Ratio, Demand, FromZero, "years the wall has to last, at most 20";
            faces: Ratio, Demand, FromZero, "faces that rust: 0, 1 or 2";
        }
        maybe {
            t_nominal: Length, Free, Positive, "thickness the wall had when new";
            k_pit: Ratio, Demand, Positive, "deepest pit over the mean loss";
            r_corr: Length, Demand, Positive, "loss of one face in the first year, where it is known";
        }
        choices {
            /// The readings.
            readings: Vec<ThicknessReading>;
            /// How one number is made of the readings.
            rule: ReadingRule;
            /// How corrosive the place is.
            place: Corrosivity;
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
    /// A wall of an old rail by mean and deviation of its readings; else as by single readings.
    part "old_wall_mean" in Plate;
    pub struct OldWallMeanInput {
        numbers {
            t_req: Length, Demand, Positive, "thickness the wall must have";
            t_mean: Length, Resistance, Positive, "mean of the readings";
            s_t: Length, Demand, FromZero, "standard deviation of the readings";
            n_readings: Ratio, Resistance, Positive, "number of readings";
            paint: Length, Demand, FromZero, "coating within each reading, both faces together";
            years: Ratio, Demand, FromZero, "years the wall has to last, at most 20";
            faces: Ratio, Demand, FromZero, "faces that rust: 0, 1 or 2";
        }
        maybe {
            t_nominal: Length, Free, Positive, "thickness the wall had when new";
            k_pit: Ratio, Demand, Positive, "deepest pit over the mean loss";
            r_corr: Length, Demand, Positive, "loss of one face in the first year, where it is known";
        }
        choices {
            /// How corrosive the place is.
            place: Corrosivity;
        }
    }
}

choice! {
    /// How one thickness is made of several readings.
    pub enum ReadingRule {
        /// The least of them: for few readings, taken where it looks worst.
        Least = "least",
        /// The value that one in twenty places is below, by a normal distribution.
        OneInTwenty = "one-in-twenty",
    }
}

choice! {
    /// How corrosive a place is to bare carbon steel (ISO 9223).
    pub enum Corrosivity {
        /// Heated rooms.
        C1 = "c1",
        /// Dry country air, unheated rooms.
        C2 = "c2",
        /// Town air.
        C3 = "c3",
        /// Industry, mild sea air.
        C4 = "c4",
        /// Sea air, salted roads.
        C5 = "c5",
        /// Salt water spray.
        Cx = "cx",
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
