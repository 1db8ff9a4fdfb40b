//! Inputs of member clauses.

use super::{choice, input};

input! {
    /// One station of a straight member with its section and buckling lengths.
    ///
    /// Local axes: x along the member, y the strong, z the weak principal axis. Tension positive.
    /// Of moments and shears only the size counts. `h` is the depth along z, `b` the width along
    /// y, both outside; a round tube has both equal to its diameter. `w_pl_y`, `w_pl_z` may
    /// be left out for sections that are only checked elastically.
    part "member" in Member;
    pub struct MemberInput {
        numbers {
            n_ed: Force, Free, Any, "axial force, tension positive";
            v_y_ed: Force, Demand, Any, "shear along y";
            v_z_ed: Force, Demand, Any, "shear along z";
            m_y_ed: Moment, Demand, Any, "moment about y, the largest along the member for buckling";
            m_z_ed: Moment, Demand, Any, "moment about z, the largest along the member for buckling";
            t_ed: Moment, Demand, Any, "torque about the member";
            h: Length, Free, Positive, "depth of the section";
            b: Length, Free, Positive, "width of the section";
            t: Length, Free, Positive, "wall thickness";
            a: Area, Resistance, Positive, "area";
            a_v_y: Area, Resistance, Positive, "shear area along y";
            a_v_z: Area, Resistance, Positive, "shear area along z";
            i_y: SecondMoment, Resistance, Positive, "second moment about y";
            i_z: SecondMoment, Resistance, Positive, "second moment about z";
            i_t: SecondMoment, Resistance, Positive, "torsion constant";
            w_el_y: SectionModulus, Resistance, Positive, "elastic section modulus about y";
            w_el_z: SectionModulus, Resistance, Positive, "elastic section modulus about z";
            // A stronger steel can fall into a lower class of section.
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            w_pl_y: SectionModulus, Resistance, Positive, "plastic section modulus about y";
            w_pl_z: SectionModulus, Resistance, Positive, "plastic section modulus about z";
            c_t: SectionModulus, Resistance, Positive, "torsion modulus of a closed section";
            l_cr_y: Length, Demand, Positive, "buckling length for bending about y";
            l_cr_z: Length, Demand, Positive, "buckling length for bending about z";
            l_lt: Length, Demand, Positive, "length between points held against turning";
            c_1: Ratio, Resistance, Positive, "moment diagram factor for lateral torsional buckling";
            psi_y: Ratio, Free, Any, "smaller over larger end moment about y";
            psi_z: Ratio, Free, Any, "smaller over larger end moment about z";
        }
        choices {
            /// The kind of section.
            shape: Shape;
            /// The buckling curve.
            curve: BucklingCurve;
            /// Whether the ends can move sideways.
            ends: EndsSway;
        }
    }
}

choice! {
    /// The kind of section of a member.
    pub enum Shape {
        /// Square or rectangular tube, one wall thickness.
        RectangularTube = "rectangular-tube",
        /// Round tube.
        RoundTube = "round-tube",
        /// Angle, `h` the longer leg.
        Angle = "angle",
        /// Channel, `h` the web, `b` the flanges, one wall thickness.
        Channel = "channel",
        /// Flat or solid rectangle; `t` equals the smaller side.
        Rectangle = "rectangle",
    }
}

choice! {
    /// Buckling curves of EN 1993-1-1, 6.3.1.2.
    pub enum BucklingCurve {
        /// Curve a0, imperfection factor 0.13.
        A0 = "a0",
        /// Curve a, 0.21: hot finished hollow sections.
        A = "a",
        /// Curve b, 0.34: angles.
        B = "b",
        /// Curve c, 0.49: cold formed hollow sections, channels, solid sections.
        C = "c",
        /// Curve d, 0.76.
        D = "d",
    }
}

choice! {
    /// Whether the ends of a member can move sideways.
    pub enum EndsSway {
        /// They are held.
        Held = "held",
        /// They can.
        Sway = "sway",
    }
}

input! {
    /// One angle as a strut, held at its ends through one leg.
    part "angle_strut" in Member;
    pub struct AngleStrutInput {
        numbers {
            n_ed: Force, Demand, FromZero, "compression";
            l: Length, Demand, Positive, "system length";
            a: Area, Resistance, Positive, "area";
            i_u: SecondMoment, Resistance, Positive, "second moment about the strong axis";
            i_v: SecondMoment, Resistance, Positive, "second moment about the weak axis";
            i_y: SecondMoment, Resistance, Positive, "second moment about the axis parallel to the joined leg";
            h: Length, Free, Positive, "longer leg";
            b: Length, Free, Positive, "shorter leg";
            t: Length, Free, Positive, "thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// One named point of a section of any shape, by linear elastic stress.
    ///
    /// x and y are any two axes at right angles through the centroid; `m_x` is positive where it
    /// pulls the side of positive y, `m_y` where it pulls the side of positive x. With `t_ed`,
    /// `l_t`, `i_t`, `i_w` and `omega` the normal stress of restrained torsion is added, for a
    /// short cantilever whose root is held against warping.
    part "stress_point" in Member;
    pub struct StressPointInput {
        numbers {
            n_ed: Force, Free, Any, "axial force, tension positive";
            m_x: Moment, Free, Any, "moment that pulls the side of positive y";
            m_y: Moment, Free, Any, "moment that pulls the side of positive x";
            a: Area, Free, Positive, "area";
            i_x: SecondMoment, Free, Positive, "second moment about x";
            i_y: SecondMoment, Free, Positive, "second moment about y";
            i_xy: SecondMoment, Free, Any, "product moment";
            x: Length, Free, Any, "x of the point";
            y: Length, Free, Any, "y of the point";
            tau_ed: Stress, Free, Any, "shear stress at the point from shear and St Venant torsion";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {
            t_ed: Moment, Free, Any, "torque at the tip about the shear centre";
            l_t: Length, Free, Positive, "length from tip to root";
            i_t: SecondMoment, Free, Positive, "torsion constant";
            i_w: Warping, Free, Positive, "warping constant";
            omega: Area, Free, Any, "sectorial coordinate of the point";
        }
        choices {}
    }
}

input! {
    /// A thin rectangular box by its midline, under compression and bending about the axis
    /// parallel to `b`.
    part "thin_box" in Member;
    pub struct ThinBoxInput {
        numbers {
            n_ed: Force, Demand, FromZero, "compression";
            m_ed: Moment, Demand, FromZero, "moment about the axis parallel to the width";
            h: Length, Free, Positive, "depth between the midlines of the flanges";
            b: Length, Free, Positive, "width between the midlines of the webs";
            t: Length, Resistance, Positive, "wall thickness";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {}
    }
}

input! {
    /// A flat element of a section in compression.
    part "element" in Member;
    pub struct ElementInput {
        numbers {
            sigma_ed: Stress, Demand, FromZero, "largest compression in the element";
            b: Length, Demand, Positive, "flat width";
            t: Length, Resistance, Positive, "thickness";
            psi: Ratio, Free, Any, "smaller over larger edge stress, compression positive";
            f_y: Stress, Resistance, Positive, "yield strength";
        }
        maybe {}
        choices {
            /// How the long edges are held.
            held: ElementHeld;
        }
    }
}

choice! {
    /// How the long edges of a flat element are held.
    pub enum ElementHeld {
        /// Both, free to turn.
        BothEdges = "both-edges",
        /// One, free to turn; the other is free.
        OneEdge = "one-edge",
        /// Both, clamped.
        BothEdgesClamped = "both-edges-clamped",
        /// One, clamped; the other is free.
        OneEdgeClamped = "one-edge-clamped",
    }
}
