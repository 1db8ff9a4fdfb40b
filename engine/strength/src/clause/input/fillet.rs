//! Input of the clauses about fillet welds of any angle and legs.

use super::{choice, input};

input! {
    /// One point of a fillet weld between faces at any angle, with legs that may differ, and how
    /// well it is made.
    ///
    /// Both legs start at the root. Direction 1 points along face 1 away from the root, direction 2
    /// square to face 1 on the side of the bead, `l` along the bead; the forces per length are those
    /// one part puts on the bead. A fillet on one side only bends about its root: `m_root` is the
    /// pull per length times its distance from the middle of the throat. Give 0 where a second
    /// fillet or a stiffener keeps the joint from turning.
    part "fillet" in Weld;
    pub struct FilletInput {
        numbers {
            // Across the throat the two may help each other, along it they may not.
            q_1: LineForce, Free, Any, "force per length along face 1";
            q_2: LineForce, Free, Any, "force per length square to face 1";
            q_l: LineForce, Demand, Any, "force per length along the bead";
            m_root: Force, Demand, FromZero, "moment per length that opens the root";
            // The throat lies askew between unequal legs: a longer one may turn it into the force.
            z_1: Length, Free, Positive, "leg on face 1";
            z_2: Length, Free, Positive, "leg on face 2";
            gap: Length, Free, FromZero, "fit-up gap at the root";
            psi: Angle, Free, Positive, "angle between the faces, 60 to 120 degrees";
            f_u: Stress, Resistance, Positive, "tensile strength of the weaker part";
            beta_w: Ratio, Demand, Positive, "correlation factor of the weaker part";
            k_quality: Ratio, Resistance, Positive, "share of the full strength that is relied on, at most 1";
        }
        maybe {
            f_exx: Stress, Resistance, Positive, "tensile strength of the weld metal (American rules)";
            t_thin: Length, Free, Positive, "thickness of the thinner part";
        }
        choices {
            /// How well the bead is known to be made.
            made: WeldMade;
        }
    }
}

choice! {
    /// How well a bead is known to be made: the reason for the share of its strength that is
    /// relied on.
    pub enum WeldMade {
        /// Tested or inspected by somebody who can judge it.
        Inspected = "inspected",
        /// Made in a good position, looked at by nobody else.
        NotInspected = "not-inspected",
        /// Made overhead or by somebody without practice.
        Overhead = "overhead",
    }
}

input! {
    /// A plate that ends on another in a T, with a groove or fillet weld on both sides.
    ///
    /// The throats count with what is proven of their penetration. Between them a slit may stay.
    part "t_butt" in Weld;
    pub struct TButtInput {
        numbers {
            f_ed: Force, Demand, FromZero, "pull of the plate";
            l: Length, Resistance, Positive, "length of the welds";
            t: Length, Free, Positive, "thickness of the plate that ends";
            a_1: Length, Resistance, Positive, "throat on one side";
            a_2: Length, Resistance, Positive, "throat on the other side";
            c_slit: Length, Demand, FromZero, "slit between the welds that is not fused";
            f_y: Stress, Resistance, Positive, "yield strength of the plate";
            f_u: Stress, Resistance, Positive, "tensile strength of the weaker part";
            beta_w: Ratio, Demand, Positive, "correlation factor of the weaker part";
        }
        maybe {}
        choices {}
    }
}
