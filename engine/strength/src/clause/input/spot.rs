//! Input of the clauses about spot welds.

use super::{choice, input};

input! {
    /// One spot weld between two sheets.
    ///
    /// `t` is the thinner sheet. `d_s` is the diameter at the interface; not given, it follows from
    /// the thickness. A distance is left out where there is no edge or neighbour near.
    part "spot_weld" in Weld;
    pub struct SpotWeldInput {
        numbers {
            f_v_ed: Force, Demand, FromZero, "shear on the spot";
            f_t_ed: Force, Demand, FromZero, "pull on the spot";
            t: Length, Free, Positive, "thickness of the thinner sheet";
            t_1: Length, Free, Positive, "thickness of the thicker sheet";
            f_u: Stress, Resistance, Positive, "tensile strength of the thinner sheet";
        }
        maybe {
            d_s: Length, Resistance, Positive, "diameter of the spot at the interface, measured";
            e_1: Length, Free, Positive, "end distance along the force, from the centre of the spot";
            e_2: Length, Free, Positive, "edge distance across the force";
            p_1: Length, Free, Positive, "spacing along the force";
            p_2: Length, Free, Positive, "spacing across the force";
            a_net: Area, Resistance, Positive, "net area of the sheet across the force, for this spot";
        }
        choices {
            /// How the spot is made.
            spot: SpotKind;
        }
    }
}

choice! {
    /// How a spot weld is made.
    pub enum SpotKind {
        /// By resistance, between electrodes.
        Resistance = "resistance",
        /// By fusion, from one side.
        Fusion = "fusion",
    }
}
