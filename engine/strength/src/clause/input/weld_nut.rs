//! Input of the clauses about weld nuts and welded bosses.

use super::{choice, input};

input! {
    /// A nut or a threaded boss welded to a wall by a ring of fillet weld, pulled off it by a bolt.
    ///
    /// `t_plate` counts only for a plate welded to the wall all round, on the side that takes the
    /// force. `z` is needed for the ring weld, `b_0` for bending of the wall, `r_m` where the thread is
    /// cut in plain steel.
    part "weld_nut" in Weld;
    pub struct WeldNutInput {
        numbers {
            f_t_ed: Force, Demand, FromZero, "pull of the bolt";
            f_v_ed: Force, Demand, FromZero, "shear of the bolt on the wall";
            d_out: Length, Resistance, Positive, "outer diameter of nut or boss at the weld";
            gap: Length, Demand, FromZero, "fit-up gap under nut or boss";
            t_wall: Length, Resistance, Positive, "thickness of the wall as measured";
            t_plate: Length, Resistance, FromZero, "thickness of the plate welded to the wall all round, or 0";
            f_y: Stress, Resistance, Positive, "yield strength of the wall";
            f_u: Stress, Resistance, Positive, "tensile strength of the wall";
            beta_w: Ratio, Demand, Positive, "correlation factor of the wall";
            a_s: Area, Resistance, Positive, "tensile stress area of the bolt";
            f_ub: Stress, Free, Positive, "tensile strength of the bolt that is relied on";
            l_e: Length, Resistance, Positive, "length of full engagement";
            pitch: Length, Free, Positive, "pitch of the thread";
            d_min: Length, Free, Positive, "least outer diameter of the bolt thread";
            d_2_nut_max: Length, Free, Positive, "largest pitch diameter of the nut thread";
        }
        maybe {
            z: Length, Resistance, Positive, "leg of the ring weld";
            b_0: Length, Free, Positive, "width of the wall between the corners";
            r_m: Stress, Resistance, Positive, "tensile strength of a boss of plain steel";
        }
        choices {
            /// The class of the nut.
            nut: NutClass;
        }
    }
}

choice! {
    /// The property class of a nut.
    pub enum NutClass {
        /// Nobody knows: counts as class 5.
        Unknown = "unknown",
        /// Class 5.
        Class5 = "5",
        /// Class 8.
        Class8 = "8",
        /// Class 10.
        Class10 = "10",
        /// No nut: a thread cut in plain steel.
        Plain = "plain",
    }
}
