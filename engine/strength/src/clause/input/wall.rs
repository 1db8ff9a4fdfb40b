//! Inputs of clauses about thin walls of rails.

use super::{choice, input};

input! {
    /// A flat wall between two corners, with a stiff foot or a group of bolts on it.
    ///
    /// `b_0` is measured over the outside, as the tables for tubes count it; the clear width would
    /// give up to a fifth more. `h_1` is the size of the foot along the rail, `b_1` across it. The plate thickness counts
    /// only for a plate welded to the wall all round, on the side that takes the force.
    part "wall" in Plate;
    pub struct WallInput {
        numbers {
            n_ed: Force, Demand, FromZero, "force across the wall";
            m_ip_ed: Moment, Demand, FromZero, "moment that tilts the foot along the rail";
            m_op_ed: Moment, Demand, FromZero, "moment that tilts the foot across the rail";
            b_0: Length, Free, Positive, "width of the wall between the corners";
            b_1: Length, Free, Positive, "size of the foot across the rail";
            h_1: Length, Free, Positive, "size of the foot along the rail";
            t_wall: Length, Resistance, Positive, "thickness of the wall as measured";
            t_plate: Length, Resistance, FromZero, "thickness of the plate welded to the wall all round, or 0";
            f_y: Stress, Resistance, Positive, "yield strength, the lower of wall and plate";
        }
        maybe {
            n_chord: Ratio, Demand, FromZero, "compression in the rail beside the foot over its yield strength";
        }
        choices {
            /// What the wall belongs to.
            rail: RailSection;
        }
    }
}

choice! {
    /// Whether a rail is closed where the wall is loaded.
    pub enum RailSection {
        /// A tube, or a channel that is boxed.
        Closed = "closed",
        /// An open channel.
        Open = "open",
    }
}

input! {
    /// A hollow rail clamped by a bolt through both walls, without a sleeve.
    part "clamped_rail" in Plate;
    pub struct ClampedRailInput {
        numbers {
            f_m: Force, Demand, FromZero, "largest preload of the bolt";
            d_w: Length, Resistance, Positive, "outer diameter of head or washer";
            b_0: Length, Demand, Positive, "width of the wall under the washer";
            t: Length, Resistance, Positive, "thickness of the wall";
            r: Length, Demand, FromZero, "inner bend radius at the webs";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {
            /// Where along the rail.
            at: RailPlace;
            /// Which row of the crippling coefficients.
            webs: WebKind;
        }
    }
}

choice! {
    /// Where along a rail it is pressed.
    pub enum RailPlace {
        /// Within 1.5 web depths of an end.
        NearEnd = "near-end",
        /// Farther in.
        Inside = "inside",
    }
}

choice! {
    /// Which row of the coefficients for local crushing of webs.
    pub enum WebKind {
        /// Hats and liner trays: the lower row, for boxes and channels.
        Hat = "hat",
        /// Sheeting profiles.
        Sheeting = "sheeting",
    }
}

input! {
    /// A sleeve that carries the preload of a bolt through a hollow.
    part "sleeve" in Bolt;
    pub struct SleeveInput {
        numbers {
            f_m: Force, Demand, FromZero, "largest preload of the bolt";
            d_out: Length, Resistance, Positive, "outer diameter of the sleeve";
            d_in: Length, Demand, FromZero, "inner diameter of the sleeve";
            f_y: Stress, Resistance, Positive, "yield strength of the sleeve";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A sleeve in a hollow rail that is not exactly as long as the hollow is deep.
    ///
    /// A sleeve that is short lets the bolt bend both walls inward until they touch it; what that
    /// takes of the preload does not clamp. `b_0` as for a clamped rail.
    part "sleeve_fit" in Bolt;
    pub struct SleeveFitInput {
        numbers {
            proud: Length, Free, Any, "length of the sleeve beyond the depth of the hollow; below zero where it is short";
            f_min: Force, Resistance, Positive, "least preload of the bolt";
            b_0: Length, Free, Positive, "width of the wall under the washer";
            d_w: Length, Free, Positive, "outer diameter of head or washer";
            t: Length, Free, Positive, "thickness of the wall";
            f_y: Stress, Free, Positive, "yield strength of the wall";
        }
        maybe {
            f_k_req: Force, Demand, Positive, "clamping the joint needs through the sleeve";
        }
        choices {}
    }
}
