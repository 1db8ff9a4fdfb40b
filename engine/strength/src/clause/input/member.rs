//! Inputs of member clauses.

use super::{choice, input, record};

input! {
    /// One station of a straight member with its section and buckling lengths.
    ///
    /// Local axes: x along the member, y the strong, z the weak principal axis. Tension positive.
    /// Of moments and shears only the size counts. `h` is the depth along z, `b` the width along
    /// y, both outside; a round tube has both equal to its diameter. `w_pl_y`, `w_pl_z` may
    /// be left out for sections that are only checked elastically. Angles have y and z as principal
    /// axes too; their `h` and `b` are the legs.
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
            c_t: SectionModulus, Resistance, Positive, "torsion modulus of a closed or round section";
            l_cr_y: Length, Demand, Positive, "buckling length for bending about y";
            l_cr_z: Length, Demand, Positive, "buckling length for bending about z";
            l_lt: Length, Demand, Positive, "length between points held against turning";
            c_1: Ratio, Resistance, Positive, "moment diagram factor for lateral torsional buckling";
            psi_y: Ratio, Free, Any, "smaller over larger end moment about y";
            psi_z: Ratio, Free, Any, "smaller over larger end moment about z";
            l_cr_t: Length, Demand, Positive, "length between points held against twisting, for torsional buckling";
            i_w: Warping, Resistance, Positive, "warping constant about the shear centre; left out, the section has no warping stiffness";
            y_0: Length, Free, Any, "from the centroid to the shear centre along y; left out, none";
            z_0: Length, Free, Any, "from the centroid to the shear centre along z; left out, none";
            c_2: Ratio, Free, FromZero, "factor of the load height for lateral torsional buckling";
            z_g: Length, Free, Any, "height of the load above the shear centre, positive where it tips the section over; left out, at the shear centre";
            omega: Area, Demand, FromZero, "largest sectorial coordinate of the section";
            b_ed: Bimoment, Demand, Any, "bimoment of restrained torsion";
            tau_w: Stress, Demand, FromZero, "shear stress of restrained torsion; left out, none";
            r_0: Length, Free, Positive, "polar radius of gyration about the shear centre; left out, it follows from the other numbers";
            r_z: Length, Resistance, Positive, "radius of gyration about z; left out, it follows from area and second moment";
            beta_w: Length, Free, Any, "how far an angle with unequal legs is from symmetry about its strong principal axis (beta_w of AISC 360, F10), positive where the shorter leg is pressed";
            f_u: Stress, Resistance, Positive, "tensile strength";
            a_net: Area, Resistance, Positive, "area less the holes, where holes or the joint at the end weaken the member";
            u_lag: Ratio, Resistance, Positive, "share of the net area that counts where not all parts of the section are joined (shear lag), 1 where all are";
            a_fg: Area, Demand, Positive, "area of the flange that bending about y pulls, where it has holes";
            a_fn: Area, Resistance, Positive, "the same less the holes";
        }
        choices {
            /// The kind of section.
            shape: Shape;
            /// The buckling curve.
            curve: BucklingCurve;
            /// Whether the ends can move sideways.
            ends: EndsSway;
            /// What makes the moment about y.
            diagram_y: MomentDiagram;
            /// What makes the moment about z.
            diagram_z: MomentDiagram;
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
        /// I or H welded from plates of one thickness, `h` along the web.
        WeldedI = "welded-i",
        /// Solid round bar; `h`, `b` and `t` equal its diameter.
        RoundBar = "round-bar",
    }
}

choice! {
    /// What makes the moment along a member.
    pub enum MomentDiagram usual EndMoments {
        /// Moments at the ends, straight between: the larger counts, psi is the other over it; without psi no credit is taken for the diagram.
        EndMoments = "end-moments",
        /// A load spread evenly between hinges.
        EvenLoad = "even-load",
        /// A load in the middle between hinges.
        MiddleLoad = "middle-load",
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
            // A stronger steel can fall into a lower class of section.
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            b_joined: Length, Free, Positive, "length of the leg that is joined, where the legs are unequal";
        }
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
            f_n_a: Stress, Free, Positive, "nominal stress of the member under axial force alone, buckling included";
            f_n_x: Stress, Free, Positive, "nominal stress of the member bent about x alone, buckling included";
            f_n_y: Stress, Free, Positive, "nominal stress of the member bent about y alone, buckling included";
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

input! {
    /// A thin section made of flat walls of one thickness, measured along the midline of the sheet.
    ///
    /// y across, z up. A box is `h` deep and `b` wide. A channel has its web `h` upright and its
    /// flanges `b` towards positive y. A hat has its top, `b` wide, above its webs, `h` deep, and brims
    /// of `c` outwards below. An angle has its legs `h` upright and `b` towards positive y. An I has
    /// its web `h` upright between flanges `b` wide. Moments are about axes through the centroid
    /// of the whole section, parallel to y and z.
    part "thin_section" in Member;
    pub struct ThinSectionInput {
        numbers {
            n_ed: Force, Free, Any, "axial force, tension positive";
            m_y_ed: Moment, Free, Any, "moment about y, positive where it presses the upper side";
            m_z_ed: Moment, Free, Any, "moment about z, positive where it presses the side of positive y";
            h: Length, Free, Positive, "depth along z, midline";
            b: Length, Free, Positive, "width along y, midline";
            t: Length, Free, Positive, "wall thickness";
            // A stronger steel loses more of its walls, and the centroid moves farther.
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            c: Length, Free, Positive, "width of the brims of a hat, midline";
        }
        choices {
            /// The shape of the section.
            shape: ThinShape;
        }
    }
}

choice! {
    /// Shapes of sections made of flat walls.
    pub enum ThinShape {
        /// Rectangular box.
        Box = "box",
        /// Channel, flanges without lips.
        Channel = "channel",
        /// Hat, open below.
        Hat = "hat",
        /// Angle.
        Angle = "angle",
        /// I or H.
        ISection = "i-section",
    }
}

record! {
    /// One flat wall of a thin section, along the midline of the sheet.
    listed as "walls";
    pub struct FlatWall {
        y_1: Length, Free, Any, "y where the wall starts";
        z_1: Length, Free, Any, "z where the wall starts";
        y_2: Length, Free, Any, "y where the wall ends";
        z_2: Length, Free, Any, "z where the wall ends";
        t: Length, Free, Positive, "thickness of the wall";
    }
}

input! {
    /// A thin section of any shape, as a list of the flat walls of its midline.
    ///
    /// y across, z up, from any origin. Walls that meet in a point hold each other there; an edge
    /// that meets nothing is free. What runs straight on is one wall. Moments are about axes
    /// through the centroid of the whole section, parallel to y and z.
    part "flat_walls" in Member;
    pub struct FlatWallsInput {
        numbers {
            n_ed: Force, Free, Any, "axial force, tension positive";
            m_y_ed: Moment, Free, Any, "moment about y, positive where it presses the upper side";
            m_z_ed: Moment, Free, Any, "moment about z, positive where it presses the side of positive y";
            // A stronger steel loses more of its walls, and the centroid moves farther.
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {}
        choices {
            /// The walls.
            walls: Vec<FlatWall>;
        }
    }
}

input! {
    /// A flat on edge as a cantilever with a force at its tip, along its depth.
    part "flat_cantilever" in Member;
    pub struct FlatCantileverInput {
        numbers {
            f_ed: Force, Demand, FromZero, "force at the tip";
            l: Length, Demand, Positive, "length from root to tip";
            h: Length, Free, Positive, "depth along the force";
            t: Length, Resistance, Positive, "thickness";
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {
            z_g: Length, Free, Any, "height of the force above the middle of the depth, positive where it tips the flat over; left out, in the middle";
        }
        choices {}
    }
}

input! {
    /// A channel with lips, by the midline of its sheet, under even compression between ends that do
    /// not turn. Between hinges the shift of its centroid adds a moment.
    part "lipped_channel" in Member;
    pub struct LippedChannelInput {
        numbers {
            n_ed: Force, Demand, FromZero, "compression";
            h: Length, Free, Positive, "depth of the web";
            b_1: Length, Free, Positive, "width of one flange";
            b_2: Length, Free, Positive, "width of the other flange";
            c: Length, Free, Positive, "width of the lips";
            t: Length, Free, Positive, "thickness of the steel without coating";
            f_y: Stress, Free, Positive, "yield strength";
        }
        maybe {}
        choices {}
    }
}
