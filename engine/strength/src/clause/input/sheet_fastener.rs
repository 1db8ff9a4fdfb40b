//! Input of the clauses about blind rivets and self-tapping screws in sheet.

use super::{choice, input};

input! {
    /// One blind rivet or self-tapping screw that joins two sheets.
    ///
    /// `t` is the sheet in question, the thinner one where it bears; `t_1` the other. Strengths of
    /// the fastener itself come from its maker's tests: without them their rows are not checked.
    part "sheet_fastener" in Bolt;
    pub struct SheetFastenerInput {
        numbers {
            f_v_ed: Force, Demand, FromZero, "shear on the fastener";
            f_t_ed: Force, Demand, FromZero, "tension on the fastener";
            d: Length, Free, Positive, "nominal diameter of the fastener";
            // Between a thin and a thick second sheet a thicker first one may lose more by leaning.
            t: Length, Free, Positive, "thickness of the thinner sheet";
            t_1: Length, Free, Positive, "thickness of the thicker sheet";
            f_u: Stress, Resistance, Positive, "tensile strength of the thinner sheet";
        }
        maybe {
            e_1: Length, Free, Positive, "end distance along the force, from the centre of the fastener";
            e_2: Length, Free, Positive, "edge distance across the force";
            p_1: Length, Free, Positive, "spacing along the force";
            p_2: Length, Free, Positive, "spacing across the force";
            a_net: Area, Resistance, Positive, "net area of the sheet across the force, for this fastener";
            f_v_rk: Force, Resistance, Positive, "shear strength of the fastener itself, from tests";
            f_t_rk: Force, Resistance, Positive, "tension strength of the fastener itself, from tests";
            f_p_rk: Force, Resistance, Positive, "strength against pulling through the sheet, from tests";
            d_w: Length, Resistance, Positive, "diameter of head or washer";
            s: Length, Free, Positive, "pitch of the thread of a screw";
            t_sup: Length, Resistance, Positive, "thickness of the sheet the screw bites in";
            f_u_sup: Stress, Resistance, Positive, "tensile strength of the sheet the screw bites in";
        }
        choices {
            /// Rivet or screw.
            fastener: SheetFastener;
            /// Whether the pull comes and goes.
            pull: SheetPull;
        }
    }
}

choice! {
    /// What joins the sheets.
    pub enum SheetFastener {
        /// A blind rivet.
        BlindRivet = "blind-rivet",
        /// A self-tapping screw.
        Screw = "screw",
    }
}

choice! {
    /// Whether the pull on a sheet fastener comes and goes.
    pub enum SheetPull {
        /// It stays.
        Steady = "steady",
        /// It comes and goes, as wind or the road does.
        Repeated = "repeated",
    }
}
