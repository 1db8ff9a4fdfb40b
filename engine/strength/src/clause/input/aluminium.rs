//! Inputs of clauses about aluminium.

use super::{choice, input};

input! {
    /// A flat plate, strip or block of aluminium, a solid rectangle in section.
    ///
    /// Strengths are those of the alloy in its temper; `_haz` ones hold in the zone that welding
    /// heats. They may be left out only where nothing is welded, or where the metal is annealed and
    /// loses nothing. A weld inside the plate softens it on two sides, one along its edge on one.
    part "aluminium_plate" in Plate;
    pub struct AluminiumPlateInput {
        numbers {
            n_t_ed: Force, Demand, FromZero, "tension along the plate";
            n_c_ed: Force, Demand, FromZero, "compression along the plate";
            m_ed: Moment, Demand, FromZero, "bending moment about its thickness";
            b: Length, Resistance, Positive, "width of the section";
            t: Length, Free, Positive, "thickness of the section";
            f_o: Stress, Resistance, Positive, "0.2 % proof strength";
            f_u: Stress, Resistance, Positive, "tensile strength";
        }
        maybe {
            f_o_haz: Stress, Resistance, Positive, "proof strength beside a weld";
            f_u_haz: Stress, Resistance, Positive, "tensile strength beside a weld";
            sum_d_0: Length, Demand, Positive, "holes across the section, all diameters together";
            n_sides: Ratio, Demand, Positive, "softened sides of welds along the plate, all together";
            l_cr: Length, Demand, Positive, "buckling length for compression, twice the reach of a free block";
        }
        choices {
            /// How welds lie to the length of the plate.
            weld: PlateWeld;
            /// How they are made.
            process: WeldProcess;
            /// What the alloy owes its strength to.
            temper: Temper;
        }
    }
}

choice! {
    /// How welds lie to the length of a plate.
    pub enum PlateWeld {
        /// There is none.
        None = "none",
        /// Across all of its width.
        Across = "across",
        /// Along it.
        Along = "along",
    }
}

choice! {
    /// How aluminium is welded: it decides how far softening reaches.
    pub enum WeldProcess {
        /// Metal inert gas, cooled to 60 °C between passes.
        Mig = "mig",
        /// Tungsten inert gas, up to 6 mm thick, cooled to 60 °C between passes.
        Tig = "tig",
    }
}

choice! {
    /// What an alloy owes its strength to.
    pub enum Temper {
        /// Heat treatment, T4 to T7; buckling class A.
        HeatTreated = "heat-treated",
        /// Cold work, H1x to H3x; buckling class B.
        WorkHardened = "work-hardened",
        /// Nothing, O or H111; buckling class B.
        Annealed = "annealed",
    }
}

input! {
    /// A steel bolt that bears on an aluminium ply or pulls on it.
    ///
    /// The bolt itself is asked about as `bolt`. `e_1`, `p_1` lie along the force, `e_2`, `p_2`
    /// across; leave one out where there is no edge or neighbour near enough to matter. For a hole
    /// in the zone that welding heats `f_u` and `f_o` are those of that zone.
    part "aluminium_ply" in Bolt;
    pub struct AluminiumPlyInput {
        numbers {
            f_v_ed: Force, Demand, FromZero, "force of the bolt on the hole";
            f_t_ed: Force, Demand, FromZero, "pull of head or nut on the ply";
            d: Length, Free, Positive, "nominal diameter of the bolt";
            d_0: Length, Free, Positive, "diameter of the hole";
            d_m: Length, Resistance, Positive, "mean of the widths across flats and across points of head or nut";
            t: Length, Resistance, Positive, "thickness of the ply";
            f_o: Stress, Resistance, Positive, "0.2 % proof strength of the ply";
            f_u: Stress, Resistance, Positive, "tensile strength of the ply";
            f_ub: Stress, Resistance, Positive, "tensile strength of the bolt";
        }
        maybe {
            e_1: Length, Resistance, Positive, "end distance along the force, from the hole centre";
            e_2: Length, Resistance, Positive, "edge distance across the force, from the hole centre";
            p_1: Length, Resistance, Positive, "spacing along the force";
            p_2: Length, Resistance, Positive, "spacing across the force";
            f_m: Force, Demand, Positive, "largest preload of the bolt";
            d_w: Length, Resistance, Positive, "outer diameter of head or washer on the ply";
        }
        choices {}
    }
}

input! {
    /// One point of an equal-leg fillet weld between aluminium faces at 90°.
    ///
    /// Directions are those of a point of a weld. `f_w` is the strength of the weld metal by alloy
    /// and filler, the lower one of two alloys; `_haz` strengths are those of the weaker part.
    part "aluminium_weld" in Weld;
    pub struct AluminiumWeldInput {
        numbers {
            // Across the throat the two may help each other, along it they may not.
            q_1: LineForce, Free, Any, "force per length along leg 1";
            q_2: LineForce, Free, Any, "force per length along leg 2";
            q_l: LineForce, Demand, Any, "force per length along the bead";
            z: Length, Resistance, Positive, "leg of the fillet";
            gap: Length, Demand, FromZero, "fit-up gap at the root";
            f_w: Stress, Resistance, Positive, "characteristic strength of the weld metal";
            t_sheet: Length, Resistance, Positive, "thickness of the thinner part beside the bead";
        }
        maybe {
            f_u_haz: Stress, Resistance, Positive, "tensile strength beside the weld";
        }
        choices {}
    }
}

input! {
    /// A flat element of an aluminium section in uniform compression.
    part "aluminium_element" in Member;
    pub struct AluminiumElementInput {
        numbers {
            sigma_ed: Stress, Demand, FromZero, "compression in the element";
            b: Length, Demand, Positive, "flat width";
            t: Length, Resistance, Positive, "thickness";
            f_o: Stress, Resistance, Positive, "0.2 % proof strength, beside a weld the softened one";
        }
        maybe {}
        choices {
            /// How the long edges are held.
            held: AluminiumHeld;
            /// Whether a weld lies in the element or at its edge.
            welded: ElementWelded;
            /// What the alloy owes its strength to.
            temper: Temper;
        }
    }
}

choice! {
    /// How the long edges of an aluminium element are held.
    pub enum AluminiumHeld {
        /// Both.
        BothEdges = "both-edges",
        /// One; the other is free.
        OneEdge = "one-edge",
    }
}

choice! {
    /// Whether a weld lies in an element or at its edge.
    pub enum ElementWelded {
        /// None does.
        No = "no",
        /// One does.
        Yes = "yes",
    }
}
