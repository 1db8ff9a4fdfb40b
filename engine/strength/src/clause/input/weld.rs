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
        maybe {
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal (American rules)";
        }
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
    /// beside it where the run is one of a row of stitches, `l_lap` where the run is loaded at
    /// its end and lies along the force.
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
            t_thin: Length, Free, Positive, "thickness of the thinner part joined";
            b_part: Length, Free, Positive, "width of the part joined by stitches";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal (American rules)";
            f_y: Stress, Resistance, Positive, "yield strength of the part joined by stitches";
            overlap: Length, Resistance, Positive, "how far the parts of a lap overlap";
            undercut: Length, Demand, FromZero, "depth of undercut beside the bead";
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
        maybe {
            d_fused: Length, Resistance, Positive, "diameter fused to the part below, of a slot its width, where it was measured; counts as far as the hole goes";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal (American rules)";
            l_slot: Length, Resistance, Positive, "length over all of a slot with round ends, whose width is then d_hole";
            s: Length, Free, Positive, "distance between centres across the force or the slot";
            s_l: Length, Free, Positive, "distance between centres of slots along their length";
        }
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
        maybe {
            f_y: Stress, Free, Positive, "yield strength of the thinner sheet";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal (American rules)";
            z: Length, Resistance, Positive, "smaller leg of the fillet";
        }
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

input! {
    /// Fillet runs of one joint, some along the force and some across it, pulled through the centre
    /// of the runs: a lap of flat bar welded along both sides and at its end.
    part "weld_lines" in Weld;
    pub struct WeldLinesInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force on the joint, through the centre of the runs";
            l_along: Length, Free, FromZero, "length of all runs along the force together";
            l_across: Length, Free, FromZero, "length of all runs across the force together";
            z: Length, Resistance, Positive, "leg of the fillets";
            gap: Length, Demand, FromZero, "fit-up gap at the root";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal";
            t: Length, Resistance, Positive, "thickness of the thinner part";
            f_y: Stress, Resistance, Positive, "yield strength of the thinner part";
            f_u: Stress, Resistance, Positive, "tensile strength of the thinner part";
        }
        maybe {
            l_run: Length, Demand, Positive, "length of the longest run along the force, where it is loaded at its end";
            w_bar: Length, Free, Positive, "width of the flat bar that the runs hold, which is the thinner part";
        }
        choices {}
    }
}

input! {
    /// A groove weld: a butt joint, or a bevel filled where one part meets another.
    part "groove_weld" in Weld;
    pub struct GrooveWeldInput {
        numbers {
            f_t_ed: Force, Demand, FromZero, "pull across the weld";
            f_v_ed: Force, Demand, FromZero, "shear along the weld";
            l: Length, Resistance, Positive, "length of the weld";
            a_eff: Length, Resistance, Positive, "effective throat; of a complete penetration, the thickness of the thinner part";
            t: Length, Resistance, Positive, "thickness of the thinner part";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal";
            f_y: Stress, Resistance, Positive, "yield strength of the weaker part";
            f_u: Stress, Resistance, Positive, "tensile strength of the weaker part";
        }
        maybe {
            beta_w: Ratio, Demand, Positive, "correlation factor of the weaker part (EN 1993)";
            s_prep: Length, Resistance, Positive, "depth of the preparation, where penetration is not proven: 2 mm less counts (EN 1993)";
        }
        choices {
            /// How deep the weld goes.
            penetration: Penetration;
        }
    }
}

choice! {
    /// How deep a groove weld goes.
    pub enum Penetration {
        /// Through the whole thickness, proven.
        Complete = "complete",
        /// Part of it.
        Partial = "partial",
    }
}

input! {
    /// An arc spot weld (puddle weld): melted through one or two sheets into what lies below,
    /// without a hole made before.
    part "arc_spot" in Weld;
    pub struct ArcSpotInput {
        numbers {
            f_v_ed: Force, Demand, FromZero, "shear on the spot";
            // Where the ratio to the thickness passes a bound of the rule, its factor drops.
            d: Length, Free, Positive, "visible diameter of the spot at the face";
            t: Length, Free, Positive, "thickness of the sheets melted through, together";
            n_sheets: Ratio, Free, Positive, "sheets melted through, 1 or 2";
            f_u: Stress, Free, Positive, "tensile strength of the sheet";
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal";
        }
        maybe {
            f_t_ed: Force, Demand, FromZero, "pull on the spot: not covered, so never passed";
            d_fused: Length, Free, Positive, "diameter fused at the plane of shear, measured on a section; goes before the formula";
            f_y: Stress, Free, Positive, "yield strength of the sheet";
            e: Length, Free, Positive, "distance from the centre of the spot to the edge toward which it is pushed";
        }
        choices {}
    }
}
