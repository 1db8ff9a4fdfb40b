//! Inputs of weld clauses.

use super::{choice, input};

input! {
    /// One point of an equal-leg fillet weld between two faces at 90°.
    ///
    /// Both legs start at the root; direction 1 points from the root along leg 1, direction 2 along
    /// leg 2, `l` along the bead. The forces per length are those part 1 puts on the bead. Strength
    /// and correlation factor are given for both parts; the weaker counts.
    part "weld" in Weld;
    pub struct WeldInput {
        numbers {
            // Across the throat the two may help each other, along it they may not.
            q_1: LineForce, Free, Any, "force per length along leg 1";
            q_2: LineForce, Free, Any, "force per length along leg 2";
            q_l: LineForce, Demand, Any, "force per length along the bead";
            z: Length, Resistance, Positive, "leg of the fillet";
            gap: Length, Demand, FromZero, "fit-up gap at the root";
            f_u_1: Stress, Resistance, Positive, "tensile strength of part 1";
            f_u_2: Stress, Resistance, Positive, "tensile strength of part 2";
            beta_w_1: Ratio, Demand, Positive, "correlation factor of part 1";
            beta_w_2: Ratio, Demand, Positive, "correlation factor of part 2";
            t_sheet: Length, Resistance, Positive, "thickness of the thinner sheet beside the bead";
            f_y_sheet: Stress, Resistance, Positive, "yield strength of that sheet";
        }
        maybe {}
        choices {
            /// Where the thinner sheet goes on.
            beside: SheetBeside;
        }
    }
}

choice! {
    /// On how many sides of a bead the sheet takes its force away.
    pub enum SheetBeside {
        /// One: a lap, or a bead along a free edge.
        OneSide = "one-side",
        /// Both: a bead inside a wall that goes on past it.
        BothSides = "both-sides",
    }
}

input! {
    /// One run of fillet weld: its length, its place and its pattern.
    ///
    /// `t_edge` is given where the bead runs along the edge of a sheet, `l_gap` and the fields
    /// beside it where the run is one of a row of stitches.
    part "weld_run" in Weld;
    pub struct WeldRunInput {
        numbers {
            f_ed: Force, Demand, FromZero, "resultant force on the run";
            l: Length, Resistance, Positive, "length of the run";
            z: Length, Free, Positive, "leg of the fillet";
            gap: Length, Free, FromZero, "fit-up gap at the root";
            f_u: Stress, Resistance, Positive, "tensile strength of the weaker part";
            beta_w: Ratio, Demand, Positive, "correlation factor of the weaker part";
        }
        maybe {
            t_edge: Length, Free, Positive, "thickness of the sheet along whose edge the bead runs";
            l_lap: Length, Demand, Positive, "length of the lap along the force";
            l_gap: Length, Demand, Positive, "clear distance to the next stitch";
            l_end: Length, Free, Positive, "length of the stitch at the end of the row";
            t_thin: Length, Free, Positive, "thickness of the thinner part joined by stitches";
            b_part: Length, Free, Positive, "width of the part joined by stitches";
        }
        choices {
            /// How the run ends.
            ends: BeadEnds;
            /// What the stitched part carries.
            stitched: Stitched;
        }
    }
}

choice! {
    /// How a weld run ends.
    pub enum BeadEnds {
        /// Start and stop inside the run: a throat is deducted at each end.
        Open = "open",
        /// Carried round corners at full size, or a closed ring.
        Wrapped = "wrapped",
    }
}

choice! {
    /// What a part joined by stitches carries.
    pub enum Stitched {
        /// Tension only.
        Tension = "tension",
        /// Compression or shear.
        Compression = "compression",
    }
}

input! {
    /// A plug weld: a hole in one plate filled with weld metal.
    part "plug" in Weld;
    pub struct PlugInput {
        numbers {
            f_v_ed: Force, Demand, FromZero, "shear on the plug";
            f_t_ed: Force, Demand, FromZero, "pull on the plug";
            d_hole: Length, Resistance, Positive, "diameter of the hole";
            t: Length, Free, Positive, "thickness of the plate with the hole";
            f_u: Stress, Resistance, Positive, "tensile strength of the weaker part";
            beta_w: Ratio, Demand, Positive, "correlation factor of the weaker part";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A fillet weld in a lap of thin sheet.
    part "sheet_lap" in Weld;
    pub struct SheetLapInput {
        numbers {
            f_w_ed: Force, Demand, FromZero, "force on this weld";
            t: Length, Resistance, Positive, "thickness of the thinner sheet";
            l_w: Length, Free, Positive, "effective length of the weld";
            b: Length, Free, Positive, "width of the connected sheet";
            f_u: Stress, Resistance, Positive, "tensile strength of the thinner sheet";
        }
        maybe {}
        choices {
            /// How the weld lies to the force.
            lies: SheetWeldLies;
        }
    }
}

choice! {
    /// How a weld in a sheet lap lies to the force.
    pub enum SheetWeldLies {
        /// Along it, one of a pair.
        Side = "side",
        /// Across it.
        End = "end",
    }
}
