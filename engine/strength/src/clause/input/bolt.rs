//! Inputs of bolt clauses.

use crate::catalog::{BoltClass, Thread};

use super::{choice, input};

input! {
    /// One bolt in one ply of a joint.
    ///
    /// Axis 1 lies in the ply along the main force, axis 2 across it. `e_1`, `p_1` are the end
    /// distance and spacing along axis 1, `e_2`, `p_2` across; leave one out where there is no
    /// edge or neighbour near enough to matter. `f_m`, `alpha_a`, `mu` are needed by slip and
    /// opening of the joint only. `_ser` forces carry no load factor.
    ///
    /// The shear is what this ply puts on the bolt. In a double lap the middle ply brings all of
    /// it over two planes; each outer ply is an input of its own with its share and one plane.
    part "bolt" in Bolt;
    pub struct BoltInput {
        numbers {
            d: Length, Free, Positive, "nominal diameter of the bolt";
            d_0: Length, Free, Positive, "diameter of the hole in the ply";
            a_s: Area, Resistance, Positive, "tensile stress area of the thread";
            d_m: Length, Resistance, Positive, "mean of the widths across flats and across points of head or nut";
            f_ub: Stress, Resistance, Positive, "tensile strength of the bolt";
            alpha_v: Ratio, Resistance, Positive, "factor of the shear strength of the thread";
            t: Length, Resistance, Positive, "thickness of the ply";
            f_u: Stress, Resistance, Positive, "tensile strength of the ply";
            n_planes: Ratio, Resistance, Positive, "shear planes through the bolt";
            f_1_ed: Force, Demand, Any, "shear on the bolt along axis 1, all planes together";
            f_2_ed: Force, Demand, Any, "shear on the bolt along axis 2, all planes together";
            f_t_ed: Force, Demand, FromZero, "tension on the bolt, prying included";
            f_1_ser: Force, Demand, Any, "shear along axis 1 without load factor";
            f_2_ser: Force, Demand, Any, "shear along axis 2 without load factor";
            f_t_ser: Force, Demand, FromZero, "tension without load factor";
        }
        maybe {
            e_1: Length, Free, Positive, "end distance along axis 1, from the hole centre";
            e_2: Length, Free, Positive, "edge distance along axis 2, from the hole centre";
            p_1: Length, Free, Positive, "spacing along axis 1";
            p_2: Length, Free, Positive, "spacing along axis 2";
            sink: Length, Demand, Positive, "depth of the countersink in the ply";
            t_packing: Length, Demand, Positive, "total thickness of packing";
            l_joint: Length, Demand, Positive, "length of the joint between the end bolts";
            mu: Ratio, Resistance, Positive, "friction of the clamped faces";
            n_friction: Ratio, Resistance, Positive, "friction planes";
            f_m: Force, Free, Positive, "preload aimed at by the tightening, the largest";
            alpha_a: Ratio, Free, Positive, "tightening factor, largest over least preload";
            n_fillers: Ratio, Demand, FromZero, "fillers between the plies; not given, several where there is packing";
            m_f: Ratio, Resistance, Positive, "AISI factor of the kind of bearing: 1.00 single lap with washers under head and nut, 0.75 with one or none, 1.33 inner sheet of a double lap; not given, 0.75";
        }
        choices {
            /// Whether the standard knows the property class.
            class: ClassListing;
            /// What the shear plane cuts.
            plane: ShearPlane;
            /// The shape of the hole.
            hole: Hole;
            /// Whether the lap is a single one with one row of bolts.
            lap: Lap;
            /// How the bolt is tightened.
            tightening: Tightening;
            /// Whether a hole that stretches in service matters (American rules).
            stretch: HoleStretch;
            /// The class of the clamped faces (American rules).
            faying: FayingFaces;
        }
    }
}

choice! {
    /// Whether EN 1993-1-8 Table 3.1 lists the property class.
    pub enum ClassListing {
        /// It does: 4.6 to 10.9 without 9.8.
        Listed = "listed",
        /// It does not: 9.8, 12.9, inch grades.
        NotListed = "not-listed",
    }
}

choice! {
    /// What the shear plane cuts. When not known, the thread: short bolts are threaded near the head.
    pub enum ShearPlane {
        /// The thread.
        Threads = "threads",
        /// The plain shank.
        Shank = "shank",
    }
}

choice! {
    /// The shape of a bolt hole, and how a slot lies to the force.
    pub enum Hole {
        /// Round, normal clearance.
        Normal = "normal",
        /// Round, larger than normal.
        Oversized = "oversized",
        /// Short slot, force across its length.
        ShortSlotAcross = "short-slot-across",
        /// Long slot, force across its length.
        LongSlotAcross = "long-slot-across",
        /// Short slot, force along its length.
        ShortSlotAlong = "short-slot-along",
        /// Long slot, force along its length.
        LongSlotAlong = "long-slot-along",
    }
}

choice! {
    /// The kind of lap the bolt sits in.
    pub enum Lap {
        /// A single lap with only one row of bolts across the force: it can tilt.
        SingleOneRow = "single-one-row",
        /// Any other.
        Other = "other",
    }
}

choice! {
    /// How a bolt is tightened.
    pub enum Tightening {
        /// By a procedure of EN 1090-2 or RCSC that reaches 0.7 fub As.
        Controlled = "controlled",
        /// By torque wrench, with the scatter of its tightening factor.
        Torque = "torque",
        /// Not to a known preload.
        Snug = "snug",
    }
}

choice! {
    /// Whether it matters that a bolt hole stretches under service loads; AISC 360 has a bearing
    /// strength for both. When not known, it does.
    pub enum HoleStretch usual Matters {
        /// It does: about 6 mm of stretch are kept out of service.
        Matters = "matters",
        /// It does not.
        Allowed = "allowed",
    }
}

choice! {
    /// The class of the clamped faces of a joint that must not slip, as AISC 360 J3.8 names them.
    pub enum FayingFaces usual AsGiven {
        /// No class of the standard: the friction given is the one that was tested.
        AsGiven = "as-given",
        /// Class A: clean mill scale, or blasted and coated with a class A coating.
        ClassA = "class-a",
        /// Class B: blasted, or blasted and coated with a class B coating.
        ClassB = "class-b",
    }
}

input! {
    /// The bolts of one shear joint together.
    part "bolt_group" in Bolt;
    pub struct BoltGroupInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force on the group through its centre";
            n_end: Ratio, Resistance, FromZero, "end bolts";
            n_inner: Ratio, Resistance, FromZero, "inner bolts";
            f_v_rd: Force, Resistance, Positive, "shear resistance of one bolt";
            // Beyond the shear of the bolt more bearing strength costs the plastic sum.
            f_b_rd_end: Force, Free, Positive, "bearing resistance at an end bolt";
            f_b_rd_inner: Force, Free, Positive, "bearing resistance at an inner bolt";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A ply weakened by bolt holes, pulled along the bolt line or sheared along it.
    ///
    /// The thin-sheet rule needs `r_bolts`, `d_0` and `u`. Areas less holes count the holes as drilled,
    /// of diameter `d_0`. Rules that take more off for the damage of drilling or punching (AISC 360
    /// B4.3b) need the thickness `t` and how many holes each section passes; half holes count 0.5.
    part "bolted_ply" in Bolt;
    pub struct BoltedPlyInput {
        numbers {
            n_ed: Force, Demand, FromZero, "pull on the ply";
            v_ed: Force, Demand, FromZero, "shear on the ply along the bolt line";
            a: Area, Resistance, Positive, "gross area across the pull";
            a_net: Area, Resistance, Positive, "area across the pull less holes";
            a_v: Area, Resistance, Positive, "gross area along the shear";
            a_v_net: Area, Resistance, Positive, "area along the shear less holes";
            a_nt: Area, Resistance, Positive, "net area in tension of the block that may tear out";
            a_nv: Area, Resistance, Positive, "net area in shear of the block that may tear out";
            f_y: Stress, Resistance, Positive, "yield strength of the ply";
            f_u: Stress, Resistance, Positive, "tensile strength of the ply";
        }
        maybe {
            r_bolts: Ratio, Free, Positive, "bolts at the section over all bolts of the joint";
            d_0: Length, Free, Positive, "diameter of the holes";
            u: Length, Free, Positive, "twice the edge distance across the pull, at most the spacing";
            t: Length, Free, Positive, "thickness of the ply";
            n_h: Ratio, Demand, FromZero, "holes in the section across the pull";
            n_h_s: Ratio, Demand, FromZero, "holes in the section along the shear";
            n_h_t: Ratio, Demand, FromZero, "holes in the tension face of the block";
            n_h_v: Ratio, Free, FromZero, "holes in the shear faces of the block";
            u_lag: Ratio, Resistance, Positive, "shear lag factor (AISC 360 Table D3.1); not given, 1: every part of the section is connected";
        }
        choices {
            /// How the force passes the block.
            block: Block;
        }
    }
}

choice! {
    /// How the force passes a block that may tear out.
    pub enum Block {
        /// Through its centre.
        Concentric = "concentric",
        /// Beside its centre.
        Eccentric = "eccentric",
    }
}

input! {
    /// An angle pulled through bolts in one leg, one row along the pull.
    part "angle_leg" in Bolt;
    pub struct AngleLegInput {
        numbers {
            n_ed: Force, Demand, FromZero, "pull on the angle";
            n_bolts: Ratio, Free, Positive, "bolts in the row";
            e_2: Length, Resistance, Positive, "edge distance across the pull";
            d_0: Length, Free, Positive, "diameter of the holes";
            // Beside a given net area a thicker leg loses more to what the holes spoil.
            t: Length, Free, Positive, "thickness of the leg";
            a_net: Area, Resistance, Positive, "net area of the angle";
            f_u: Stress, Resistance, Positive, "tensile strength of the angle";
        }
        maybe {
            p_1: Length, Free, Positive, "spacing along the pull";
            x_bar: Length, Demand, Positive, "distance of the centroid of the angle from the face of the bolted leg (American rules)";
        }
        choices {}
    }
}

input! {
    /// One bolt row in the flange of a T: a plate pulled by bolts beside a web or a weld.
    ///
    /// `m` runs from the bolt to 0.8 of the weld or root, `e` to the edge of the flange. Effective
    /// lengths that are not given are those of an isolated row.
    part "t_stub" in Bolt;
    pub struct TStubInput {
        numbers {
            f_t_ed: Force, Demand, FromZero, "pull on the row";
            f_t_rd_sum: Force, Resistance, Positive, "tension resistance of the bolts of the row together";
            m: Length, Free, Positive, "distance from bolt to the line where the plate is held";
            e: Length, Free, Positive, "distance from bolt to the edge of the plate";
            e_min: Length, Free, Positive, "the smaller edge distance of the two plates";
            t: Length, Resistance, Positive, "thickness of the plate";
            f_y: Stress, Resistance, Positive, "yield strength of the plate";
        }
        maybe {
            l_eff_1: Length, Free, Positive, "effective length for mode 1";
            l_eff_2: Length, Free, Positive, "effective length for mode 2, circles left out";
            n_bolts: Ratio, Free, Positive, "bolts of the row (American rules)";
            d: Length, Free, Positive, "nominal diameter of the bolts (American rules)";
            d_0: Length, Demand, Positive, "diameter of the holes (American rules)";
            p: Length, Resistance, Positive, "length of plate along the web that goes with one bolt, at most 2 b (American rules)";
            b: Length, Free, Positive, "distance from bolt to the face of the web (American rules)";
            f_u: Stress, Resistance, Positive, "tensile strength of the plate (American rules)";
        }
        choices {
            /// Whether lever forces at the edge can build up.
            prying: Prying;
        }
    }
}

choice! {
    /// Whether lever forces at the edge of a bolted plate can build up.
    pub enum Prying {
        /// The edge bears on something stiff.
        Bears = "bears",
        /// Nothing under the edge, or the bolts stretch too far for it to bear.
        Free = "free",
    }
}

input! {
    /// Two or more bolt rows in the flange of a T that yield together, all at the same pull.
    ///
    /// Lengths as for one row; `p` is the spacing of the rows along the web or weld. A row alone is
    /// checked as such beside this. With `l_b` and `a_s` it is told whether lever forces can build up.
    part "t_stub_group" in Bolt;
    pub struct TStubGroupInput {
        numbers {
            f_t_ed: Force, Demand, FromZero, "pull on all rows together";
            f_t_rd_sum: Force, Resistance, Positive, "tension resistance of all bolts together";
            n_rows: Ratio, Free, Positive, "number of bolt rows";
            p: Length, Free, Positive, "spacing of the rows along the line where the plate is held";
            m: Length, Free, Positive, "distance from bolt to the line where the plate is held";
            e: Length, Free, Positive, "distance from bolt to the edge of the plate";
            e_min: Length, Free, Positive, "the smaller edge distance of the two plates";
            t: Length, Resistance, Positive, "thickness of the plate";
            f_y: Stress, Resistance, Positive, "yield strength of the plate";
        }
        maybe {
            e_1: Length, Free, Positive, "distance from the last row to the end of the plate along the weld";
            l_b: Length, Demand, Positive, "length of bolt that stretches: clamped length, washers, half of head and nut";
            a_s: Area, Free, Positive, "tensile stress area of one bolt, two bolts a row";
        }
        choices {
            /// Whether lever forces at the edge can build up.
            prying: Prying;
        }
    }
}

input! {
    /// A screw in a blind threaded hole.
    ///
    /// Depths count from the face of the tapped part.
    part "blind_hole" in Bolt;
    pub struct BlindHoleInput {
        numbers {
            d: Length, Free, Positive, "nominal diameter of the thread";
            pitch: Length, Free, Positive, "pitch of the thread";
            l_screw: Length, Free, Positive, "how far the screw reaches into the hole";
            l_thread: Length, Free, Positive, "depth of the full thread in the hole";
            l_drill: Length, Free, Positive, "depth of the drilled hole, its point not counted";
            l_chamfer: Length, Free, FromZero, "depth of the chamfer or worn thread at the mouth";
            k_engaged: Ratio, Free, Positive, "engagement wanted as a multiple of the nominal diameter";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A thread engaged in a nut or tapped plate.
    ///
    /// `a_s` is needed for the engagement that breaks the bolt before the thread strips, `d` and
    /// `s_nut` for a nut, which the thread spreads; leave both out for a tapped plate.
    part "thread" in Bolt;
    pub struct ThreadInput {
        numbers {
            f_t_ed: Force, Demand, FromZero, "tension on the bolt, preload included where it adds";
            l_e: Length, Resistance, Positive, "length of full engagement";
            pitch: Length, Free, Positive, "pitch of the thread";
            d_min: Length, Free, Positive, "least outer diameter of the bolt thread";
            d_2_min: Length, Free, Positive, "least pitch diameter of the bolt thread";
            d_1_nut_max: Length, Free, Positive, "largest inner diameter of the nut thread";
            d_2_nut_max: Length, Free, Positive, "largest pitch diameter of the nut thread";
            r_m_bolt: Stress, Resistance, Positive, "tensile strength of the bolt";
            r_m_nut: Stress, Resistance, Positive, "tensile strength of the nut or plate";
        }
        maybe {
            a_s: Area, Free, Positive, "tensile stress area of the bolt";
            d: Length, Free, Positive, "nominal diameter of the thread";
            s_nut: Length, Resistance, Positive, "width of the nut across flats";
        }
        choices {}
    }
}

input! {
    /// A bolt while it is tightened.
    part "assembly" in Bolt;
    pub struct AssemblyInput {
        numbers {
            f_m_max: Force, Demand, FromZero, "largest preload the tightening gives";
            mu_thread: Ratio, Demand, FromZero, "friction in the thread";
        }
        maybe {}
        choices {
            /// The thread.
            thread: Thread;
            /// The property class.
            class: BoltClass;
        }
    }
}
