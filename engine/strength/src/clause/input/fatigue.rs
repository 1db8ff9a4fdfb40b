//! Inputs of fatigue clauses. Ranges carry no factor; cycles are those of the whole spectrum.

use super::{ShearPlane, choice, input, record};

record! {
    /// One block of a spectrum of stresses. Normal and shear stress that do not come together are
    /// blocks of their own, each with the other range zero.
    listed as "blocks";
    pub struct StressBlock {
        delta_sigma: Stress, Demand, FromZero, "range of the nominal normal stress";
        compressed: Stress, Free, FromZero, "part of that range below zero stress, zero where not known";
        delta_tau: Stress, Demand, FromZero, "range of the nominal shear stress";
        n_e: Ratio, Demand, FromZero, "cycles";
    }
}

input! {
    /// A detail of a part under repeated stress: the edge of a plate, a hole, the toe of a weld.
    ///
    /// The classes are stress ranges at 2 million cycles, as the table of fatigue details lists
    /// them: categories `delta_sigma_c`, `delta_tau_c` of EN 1993-1-9, FAT classes `fat_sigma`,
    /// `fat_tau` of IIW. Leave out the classes of a document that is not to be asked, and those of
    /// a stress that does not act. Stresses are the nominal ones the class is defined for.
    part "fatigue_detail" in Fatigue;
    pub struct FatigueDetailInput {
        numbers {
            t: Length, Demand, Positive, "thickness of the stressed part";
        }
        maybe {
            delta_sigma_c: Stress, Resistance, Positive, "category of EN 1993-1-9 for normal stress";
            delta_tau_c: Stress, Resistance, Positive, "category of EN 1993-1-9 for shear stress";
            fat_sigma: Stress, Resistance, Positive, "FAT class of IIW for normal stress";
            fat_tau: Stress, Resistance, Positive, "FAT class of IIW for shear stress";
            n_t: Ratio, Demand, FromZero, "exponent of the thickness correction of IIW, needed above 25 mm";
            f_y: Stress, Resistance, Positive, "yield strength of the part";
            distance: Distance, Free, Positive, "way driven in the spectrum";
        }
        choices {
            /// Stresses that are locked in.
            residual: ResidualStress;
            /// Whether normal and shear stress rise and fall together.
            phase: StressPhase;
            /// Whether a document lists the detail.
            listing: DetailListing;
            /// The spectrum.
            blocks: Vec<StressBlock>;
        }
    }
}

choice! {
    /// How much stress is locked in at a detail: it decides whether pressing does harm.
    pub enum ResidualStress {
        /// As welded, or not known: the full range counts.
        High = "high",
        /// A simple thin-walled part with short welds, as welded.
        Medium = "medium",
        /// Not welded, or relieved of stress.
        Low = "low",
    }
}

choice! {
    /// Whether normal and shear stress rise and fall together.
    pub enum StressPhase {
        /// They do: one load makes both.
        Together = "together",
        /// They do not, or not always.
        Apart = "apart",
    }
}

choice! {
    /// Whether a document lists a detail.
    pub enum DetailListing {
        /// It does.
        Listed = "listed",
        /// None does: its class is an estimate.
        NotListed = "not-listed",
    }
}

record! {
    /// One block of a spectrum of forces on a bead, ranges that come together.
    listed as "blocks";
    pub struct BeadBlock {
        delta_q_1: LineForce, Demand, Any, "range of the force per length along leg 1";
        delta_q_2: LineForce, Demand, Any, "range of the force per length along leg 2";
        delta_q_l: LineForce, Demand, Any, "range of the force per length along the bead";
        n_e: Ratio, Demand, FromZero, "cycles";
    }
}

input! {
    /// The root of an equal-leg fillet weld under repeated force: a crack through the throat.
    ///
    /// Directions are those of a point of a weld. The classes hold for the stress on the throat:
    /// 36 MPa and 80 MPa by both EN 1993-1-9 and IIW, 40 MPa and 80 MPa by IIW where the throat is
    /// at most a third of the plate.
    part "fatigue_root" in Fatigue;
    pub struct FatigueRootInput {
        numbers {
            z: Length, Resistance, Positive, "leg of the fillet";
            gap: Length, Demand, FromZero, "fit-up gap at the root";
        }
        maybe {
            delta_sigma_c: Stress, Resistance, Positive, "category of EN 1993-1-9 for normal stress";
            delta_tau_c: Stress, Resistance, Positive, "category of EN 1993-1-9 for shear stress";
            fat_sigma: Stress, Resistance, Positive, "FAT class of IIW for normal stress";
            fat_tau: Stress, Resistance, Positive, "FAT class of IIW for shear stress";
            distance: Distance, Free, Positive, "way driven in the spectrum";
        }
        choices {
            /// Whether the forces across and along the bead rise and fall together.
            phase: StressPhase;
            /// The spectrum.
            blocks: Vec<BeadBlock>;
        }
    }
}

record! {
    /// One block of a spectrum of forces on a bolt.
    listed as "blocks";
    pub struct BoltBlock {
        delta_f_t: Force, Demand, FromZero, "range of the outside pull on the joint at the bolt, prying included";
        f_t_min: Force, Free, Any, "least pull in the block, negative where the joint is pressed";
        delta_f_v: Force, Demand, FromZero, "range of the shear on the bolt in one plane";
        n_e: Ratio, Demand, FromZero, "cycles";
    }
}

input! {
    /// A bolt under repeated force.
    ///
    /// `f_v_min` and `phi` are given for a bolt that is tightened to a known preload: while the
    /// joint stays closed the bolt feels only the share `phi` of the pull. Without them it feels
    /// all of it.
    part "fatigue_bolt" in Fatigue;
    pub struct FatigueBoltInput {
        numbers {
            d: Length, Free, Positive, "nominal diameter of the bolt";
            a_s: Area, Resistance, Positive, "tensile stress area of the thread";
        }
        maybe {
            a_shank: Area, Resistance, Positive, "area of the shank in the shear plane";
            f_v_min: Force, Resistance, Positive, "least preload, after embedding and relaxation";
            phi: Ratio, Free, Positive, "load factor of the joint, bolt over bolt with plates";
            distance: Distance, Free, Positive, "way driven in the spectrum";
        }
        choices {
            /// What the shear plane cuts.
            plane: ShearPlane;
            /// Whether the shear changes its sign.
            reversal: ShearReversal;
            /// The spectrum.
            blocks: Vec<BoltBlock>;
        }
    }
}

choice! {
    /// Whether the shear on a bolt changes its sign.
    pub enum ShearReversal {
        /// It does not.
        None = "none",
        /// It does.
        Reverses = "reverses",
    }
}

record! {
    /// One block of a spectrum as shares of one load range.
    listed as "blocks";
    pub struct ShareBlock {
        share: Ratio, Demand, FromZero, "share of the load range the stresses belong to";
        n_e: Ratio, Demand, FromZero, "cycles";
    }
}

input! {
    /// The structural stress at a weld toe, extrapolated from stresses on the surface before it.
    ///
    /// The stresses are ranges under the full load range, across the toe; their points lie on a
    /// line straight before it, at shares of the thickness `t` (toe on a face, type a) or at fixed
    /// distances (toe on the edge of a plate, type b). Give the points of one rule or of more.
    /// `fat_hs` is 100 MPa for toes of welds that carry no load and 90 MPa for those that do.
    part "hot_spot" in Fatigue;
    pub struct HotSpotInput {
        numbers {
            t: Length, Demand, Positive, "thickness of the plate with the toe";
            fat_hs: Stress, Resistance, Positive, "class for the structural stress, FAT of IIW and category of EN 1993-1-9";
        }
        maybe {
            sigma_04: Stress, Free, Any, "stress range at 0.4 t from the toe";
            sigma_05: Stress, Free, Any, "stress range at 0.5 t from the toe";
            sigma_09: Stress, Free, Any, "stress range at 0.9 t from the toe";
            sigma_10: Stress, Free, Any, "stress range at 1.0 t from the toe";
            sigma_14: Stress, Free, Any, "stress range at 1.4 t from the toe";
            sigma_15: Stress, Free, Any, "stress range at 1.5 t from the toe";
            sigma_4mm: Stress, Free, Any, "stress range at 4 mm from the toe on the edge";
            sigma_8mm: Stress, Free, Any, "stress range at 8 mm from the toe on the edge";
            sigma_12mm: Stress, Free, Any, "stress range at 12 mm from the toe on the edge";
            n_t: Ratio, Demand, FromZero, "exponent of the thickness correction of IIW, needed above 25 mm";
            distance: Distance, Free, Positive, "way driven in the spectrum";
        }
        choices {
            /// The spectrum.
            blocks: Vec<ShareBlock>;
        }
    }
}

input! {
    /// A detail of a steel part under repeated stress by the stress categories of AISC 360,
    /// Appendix 3.
    ///
    /// `t_p`, `w_leg` and `a_2` are needed for the root of a plate joined across its stress by
    /// fillets (`c-fillet`) or by partial groove welds (`c-partial`).
    part "stress_category" in Fatigue;
    pub struct StressCategoryInput {
        numbers {}
        maybe {
            t_p: Length, Free, Positive, "thickness of the plate pulled across its welds";
            w_leg: Length, Resistance, Positive, "leg of the fillet, also of one on top of a groove weld";
            a_2: Length, Free, FromZero, "length of the face left unwelded in the thickness of the plate";
            distance: Distance, Free, Positive, "way driven in the spectrum";
        }
        choices {
            /// The stress category.
            category: StressCategory;
            /// The spectrum: of each block the normal stress counts, for category f the shear.
            blocks: Vec<StressBlock>;
        }
    }
}

choice! {
    /// Stress categories of AISC 360, Table.
    pub enum StressCategory {
        /// Plain metal with rolled or clean surfaces.
        A = "a",
        /// Long welds, joints with bolts in slip, ground groove welds.
        B = "b",
        /// B', long groove welds on backing left in place.
        BPrime = "b-prime",
        /// Short attachments, stiffeners, holes in built-up parts.
        C = "c",
        /// Toe of a plate pulled across its welds.
        CToe = "c-toe",
        /// Root of a plate pulled across partial groove welds.
        CPartial = "c-partial",
        /// Root of a plate pulled across fillets.
        CFillet = "c-fillet",
        /// Attachments from 50 mm up, net sections at bolts not in slip.
        D = "d",
        /// Ends of cover plates, ends of fillets along the stress in thin parts, stitches.
        E = "e",
        /// E', the same in parts thicker than 20 mm.
        EPrime = "e-prime",
        /// Weld metal in shear.
        F = "f",
        /// Bolts and threaded rods in tension, on the net tensile area.
        G = "g",
    }
}
