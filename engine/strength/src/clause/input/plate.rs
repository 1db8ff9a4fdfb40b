//! Inputs of plate clauses.

use super::{choice, input};

input! {
    /// A tab or flat that stands off a root and is bent about its thickness.
    part "tab" in Plate;
    pub struct TabInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force across the tab";
            l: Length, Demand, Positive, "distance from the force to the root";
            b: Length, Resistance, Positive, "width of the tab";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {
            d_0: Length, Demand, Positive, "diameter of a hole in the tab";
            l_hole: Length, Demand, Positive, "distance from the force to the hole";
            d_w: Length, Resistance, Positive, "outer diameter of head or washer that brings the force";
        }
        choices {}
    }
}

input! {
    /// A plate between two parallel walls, pulled or pushed by a bolt midway.
    ///
    /// `c_1`, `c_2` are given where the plate ends freely, from the edge of the washer.
    part "floor" in Plate;
    pub struct FloorInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force of the bolt across the plate";
            l: Length, Demand, Positive, "clear distance between the walls";
            d_w: Length, Resistance, Positive, "outer diameter of head or washer";
            d_0: Length, Demand, Positive, "diameter of the hole";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {
            c_1: Length, Resistance, FromZero, "from the washer to the free edge on one side";
            c_2: Length, Resistance, FromZero, "from the washer to the free edge on the other side";
        }
        choices {}
    }
}

input! {
    /// A triangular gusset plate in a corner.
    ///
    /// The force presses on the leg `b`, across it, and puts the free edge in compression.
    part "gusset" in Plate;
    pub struct GussetInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force on the loaded leg";
            b: Length, Free, Positive, "length of the loaded leg";
            a: Length, Free, Positive, "length of the leg on the support";
            s: Length, Free, Positive, "distance of the force from the corner";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {
            /// The direction of the force.
            force: GussetForce;
        }
    }
}

choice! {
    /// The direction of the force on a gusset.
    pub enum GussetForce {
        /// The free edge is pressed.
        Presses = "presses",
        /// The free edge is pulled.
        Pulls = "pulls",
    }
}

input! {
    /// A head, washer or end plate that presses on a face.
    part "seat" in Plate;
    pub struct SeatInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force through the seat";
            d_w: Length, Resistance, Positive, "outer diameter of the seat";
            d_h: Length, Demand, FromZero, "diameter of the hole under it";
            p_limit: Stress, Resistance, Positive, "bearing pressure the softer face stands";
        }
        maybe {
            overhang: Length, Demand, Positive, "reach of the plate beyond what it carries";
            t_plate: Length, Resistance, Positive, "thickness of the spreading plate";
            f_y_plate: Stress, Resistance, Positive, "yield strength of the spreading plate";
        }
        choices {}
    }
}
