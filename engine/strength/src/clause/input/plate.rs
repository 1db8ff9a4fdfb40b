//! Inputs of plate clauses.

use super::{RailPlace, WebKind, choice, input};

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
            f_y_seat: Stress, Resistance, Positive, "yield strength of the softer face";
        }
        choices {}
    }
}

input! {
    /// A rectangular plate held at all four edges, loaded across itself in the middle.
    part "panel" in Plate;
    pub struct PanelInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force across the plate";
            a: Length, Free, Positive, "shorter side";
            b: Length, Free, Positive, "longer side";
            t: Length, Resistance, Positive, "thickness";
            d_w: Length, Resistance, Positive, "diameter of the loaded spot: head, washer or foot";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {
            /// How the edges are held.
            edges: PanelEdges;
        }
    }
}

choice! {
    /// How the edges of a plate are held.
    pub enum PanelEdges {
        /// Supported, free to turn; the corners are held down.
        Supported = "supported",
        /// Clamped.
        Clamped = "clamped",
    }
}

input! {
    /// A flat rectangular plate in shear, held along all edges: a web, a wall of a box.
    part "shear_panel" in Plate;
    pub struct ShearPanelInput {
        numbers {
            tau_ed: Stress, Demand, FromZero, "shear stress";
            a: Length, Demand, Positive, "length between stiffeners or ends";
            b: Length, Demand, Positive, "width between the held edges";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A gusset or tension plate that takes the axial force of a member joined to it by bolts or
    /// welds.
    part "gusset_plate" in Plate;
    pub struct GussetPlateInput {
        numbers {
            n_ed: Force, Free, Any, "axial force of the member, tension positive";
            w_0: Length, Resistance, FromZero, "distance across the force between the outer lines of bolts or welds";
            l_con: Length, Resistance, FromZero, "length of the connection along the force, first to last bolt";
            b_plate: Length, Resistance, Positive, "width of the plate across the force at the last bolt or weld end";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            l_1: Length, Demand, FromZero, "length of plate from the working width to its support, one edge";
            l_2: Length, Demand, FromZero, "the same in the middle";
            l_3: Length, Demand, FromZero, "the same at the other edge";
            k_g: Ratio, Demand, Positive, "buckling length over length: 0.65 in a corner held along two edges, 1.2 where it can sway";
        }
        choices {}
    }
}

input! {
    /// The web of a cold-formed section pressed locally: a foot, a washer, a support.
    part "web" in Plate;
    pub struct WebInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force on the web; on each web where there are two or more";
            h_w: Length, Demand, Positive, "depth of the web between the midlines of the flanges";
            t: Length, Free, Positive, "thickness of the steel without coating";
            r: Length, Demand, FromZero, "inner bend radius at the loaded flange";
            s_s: Length, Resistance, FromZero, "length of stiff bearing along the member";
            phi: Angle, Free, Positive, "angle of the web to the flange, 90 degrees upright";
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            beta_v: Ratio, Demand, FromZero, "difference over sum of the shear forces on both sides of the force; left out, the bearing length is not counted";
        }
        choices {
            /// How many webs the section has.
            webs: WebCount;
            /// Where along the member.
            at: RailPlace;
            /// Which flanges are loaded.
            load: WebLoad;
            /// Whether the flanges are stiffened.
            flanges: WebFlanges;
            /// Which row of the coefficients, for two or more webs.
            kind: WebKind;
        }
    }
}

choice! {
    /// How many webs a section has.
    pub enum WebCount {
        /// One: a channel, an angle.
        One = "one",
        /// Two or more: a box, a hat, sheeting.
        TwoOrMore = "two-or-more",
    }
}

choice! {
    /// Which flanges press on a web.
    pub enum WebLoad {
        /// One, or both farther apart than 1.5 web depths.
        OneFlange = "one-flange",
        /// Both, closer together than 1.5 web depths.
        BothFlanges = "both-flanges",
    }
}

choice! {
    /// Whether the flanges beside a web are stiffened by lips or other webs.
    pub enum WebFlanges {
        /// They are.
        Stiffened = "stiffened",
        /// They end freely.
        Unstiffened = "unstiffened",
    }
}

input! {
    /// A point of a plate under forces and moments per length, as plates in space have them.
    ///
    /// A positive moment pulls at the top face in its direction.
    part "plate_point" in Plate;
    pub struct PlatePointInput {
        numbers {
            n_xx: LineForce, Free, Any, "membrane force along x, pull positive";
            n_yy: LineForce, Free, Any, "membrane force along y, pull positive";
            n_xy: LineForce, Free, Any, "membrane shear";
            m_xx: Force, Free, Any, "moment per length that pulls at the top along x";
            m_yy: Force, Free, Any, "moment per length that pulls at the top along y";
            m_xy: Force, Free, Any, "twisting moment per length";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A plate that can buckle under all its stresses together, by two load factors on them.
    part "plate_buckling" in Plate;
    pub struct PlateBucklingInput {
        numbers {
            alpha_cr: Ratio, Resistance, Positive, "times the loads at which the plate buckles elastically";
            alpha_ult: Ratio, Resistance, Positive, "times the loads at which its most stressed point yields, buckling left out";
        }
        maybe {}
        choices {
            /// How the plate was made.
            made: PlateMade;
        }
    }
}

choice! {
    /// How a plate was made.
    pub enum PlateMade {
        /// Hot rolled, without welds.
        Rolled = "rolled",
        /// Welded or cold formed.
        Welded = "welded",
    }
}
