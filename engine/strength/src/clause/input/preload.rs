//! Input of the clauses about a preloaded bolt under a load that opens its joint.

use super::{choice, input};

input! {
    /// One preloaded bolt whose joint a load wants to open.
    ///
    /// The preload is stated or follows from the torque, by a nut factor or by friction. A stated
    /// one is the largest; one from a torque is the mean of what the scatter `alpha_a` allows.
    /// `k_b` and `k_m`, where given, go before the stiffness computed from the sizes. The load is
    /// taken as if it came in under head and nut. `d_w` is the face under the head; plates must be
    /// wide enough for the cone of pressure, `d_w` and 0.58 of the clamped length at mid-depth.
    part "preloaded_joint" in Bolt;
    pub struct PreloadedJointInput {
        numbers {
            f_a: Force, Demand, FromZero, "load that opens the joint, for one bolt";
            d: Length, Free, Positive, "nominal diameter of the bolt";
            a_s: Area, Free, Positive, "tensile stress area of the thread";
            s_p: Stress, Resistance, Positive, "proof stress of the bolt";
            e_bolt: Stress, Free, Positive, "modulus of elasticity of the bolt";
            l_k: Length, Free, Positive, "clamped length between head and nut";
            d_w: Length, Free, Positive, "diameter of the face under the head";
            d_h: Length, Free, Positive, "diameter of the hole";
            e_parts: Stress, Free, Positive, "modulus of elasticity of the clamped parts";
            alpha_a: Ratio, Demand, Positive, "tightening factor, largest over least preload";
            f_embed: Length, Demand, FromZero, "embedding of all faces together after tightening";
            creep: Ratio, Demand, FromZero, "share of the preload lost to creep of paint and sealant";
        }
        maybe {
            f_m: Force, Free, Positive, "largest preload, where it is stated";
            torque: Moment, Free, Positive, "tightening torque";
            k_nut: Ratio, Free, Positive, "nut factor";
            pitch: Length, Free, Positive, "pitch of the thread";
            d_2: Length, Free, Positive, "pitch diameter of the thread";
            mu_thread: Ratio, Free, Positive, "friction in the thread";
            mu_head: Ratio, Free, Positive, "friction under the head that is turned";
            d_km: Length, Free, Positive, "mean diameter of friction under that head";
            l_shank: Length, Free, Positive, "plain shank within the clamped length";
            a_sleeve: Area, Free, Positive, "area of the sleeve that is clamped";
            k_b: Stiffness, Free, Positive, "stiffness of the bolt";
            k_m: Stiffness, Free, Positive, "stiffness of the clamped parts";
            f_k_req: Force, Demand, Positive, "clamping the joint needs to keep";
        }
        choices {
            /// How the preload is known.
            known_by: PreloadFrom;
            /// What is clamped.
            clamped: ClampedParts;
            /// Whether the bolt comes out again.
            bolt_use: BoltUse;
        }
    }
}

choice! {
    /// How a preload is known.
    pub enum PreloadFrom {
        /// It is stated: the largest the tightening gives.
        Stated = "stated",
        /// From the torque by a nut factor.
        NutFactor = "nut-factor",
        /// From the torque by the friction of thread and head.
        Friction = "friction",
    }
}

choice! {
    /// What a bolt clamps.
    pub enum ClampedParts {
        /// Solid plates of one material.
        Plates = "plates",
        /// A sleeve through a hollow.
        Sleeve = "sleeve",
    }
}

choice! {
    /// Whether a bolt comes out again.
    pub enum BoltUse {
        /// It is loosened and tightened again.
        Reused = "reused",
        /// It stays.
        Permanent = "permanent",
    }
}
