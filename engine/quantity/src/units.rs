//! Newtypes for the edge of the engine: built and read by unit name, SI inside.
//!
//! They catch a wrong unit, not a wrong meaning (throat for leg): names of fields do that.

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident in $si:literal { $($from:ident / $read:ident = $factor:expr, $unit:literal;)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a value in ", $si, ".")]
            #[must_use]
            pub const fn from_si(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The value in ", $si, ".")]
            #[must_use]
            pub const fn si(self) -> f64 {
                self.0
            }

            $(
                #[doc = concat!("From a value in ", $unit, ".")]
                #[must_use]
                pub fn $from(value: f64) -> Self {
                    Self(value * $factor)
                }

                #[doc = concat!("The value in ", $unit, ".")]
                #[must_use]
                pub fn $read(self) -> f64 {
                    self.0 / $factor
                }
            )+
        }
    };
}

quantity! {
    /// A length.
    Length in "m" {
        from_mm / as_mm = 1e-3, "mm";
        from_inch / as_inch = INCH, "in";
    }
}
quantity! {
    /// An area.
    Area in "m²" {
        from_mm2 / as_mm2 = 1e-6, "mm²";
    }
}
quantity! {
    /// A section modulus.
    SectionModulus in "m³" {
        from_mm3 / as_mm3 = 1e-9, "mm³";
    }
}
quantity! {
    /// A second moment of area.
    SecondMoment in "m⁴" {
        from_mm4 / as_mm4 = 1e-12, "mm⁴";
    }
}
quantity! {
    /// A warping constant.
    Warping in "m⁶" {
        from_mm6 / as_mm6 = 1e-18, "mm⁶";
    }
}
quantity! {
    /// A way driven.
    Distance in "m" {
        from_km / as_km = 1e3, "km";
    }
}
quantity! {
    /// A force.
    Force in "N" {
        from_kn / as_kn = 1e3, "kN";
        from_n / as_n = 1.0, "N";
    }
}
quantity! {
    /// A force per length.
    LineForce in "N/m" {
        from_n_per_mm / as_n_per_mm = 1e3, "N/mm";
    }
}
quantity! {
    /// A moment or torque.
    Moment in "N m" {
        from_nm / as_nm = 1.0, "N m";
        from_nmm / as_nmm = 1e-3, "N mm";
    }
}
quantity! {
    /// A bimoment of restrained torsion.
    Bimoment in "N m²" {
        from_nmm2 / as_nmm2 = 1e-6, "N mm²";
    }
}
quantity! {
    /// A stress or modulus.
    Stress in "Pa" {
        from_mpa / as_mpa = 1e6, "MPa";
    }
}
quantity! {
    /// A mass.
    Mass in "kg" {
        from_kg / as_kg = 1.0, "kg";
    }
}
quantity! {
    /// A stiffness against a movement.
    Stiffness in "N/m" {
        from_n_per_mm / as_n_per_mm = 1e3, "N/mm";
    }
}
quantity! {
    /// A stiffness against a turn.
    TurningStiffness in "N m/rad" {
        from_nm_per_rad / as_nm_per_rad = 1.0, "N m/rad";
    }
}
quantity! {
    /// An angle.
    Angle in "rad" {
        from_deg / as_deg = std::f64::consts::PI / 180.0, "degrees";
    }
}
quantity! {
    /// An acceleration.
    Acceleration in "m/s²" {
        from_g / as_g = STANDARD_GRAVITY, "g";
    }
}

/// The inch in m: exact (international yard and pound agreement, 1959; NIST SP 811 (2008), B.8).
pub const INCH: f64 = 0.0254;

/// The avoirdupois pound in kg: exact (same agreement; NIST SP 811 (2008), B.8).
pub const POUND: f64 = 0.453_592_37;

/// The pound-force in N: the pound times the conventional 9.806 65 m/s² (ISO 80000-3), exact.
pub const POUND_FORCE: f64 = 4.448_221_615_260_5;

/// The kip in N: 1000 pounds-force.
pub const KIP: f64 = 1e3 * POUND_FORCE;

/// The `g` of every load in m/s², and the unit `g` of accelerations. Two decimals, as handbooks
/// of vehicle loads use it; the conventional 9.80665 (ISO 80000-3) is 0.03 % lower.
pub const STANDARD_GRAVITY: f64 = 9.81;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_goes_in_and_out_by_unit_name() {
        assert!((Length::from_mm(4.0).si() - 0.004).abs() < 1e-18);
        assert!((Length::from_inch(1.0).as_mm() - 25.4).abs() < 1e-12);
        assert!((Stress::from_mpa(235.0).si() - 235e6).abs() < 1e-6);
        assert!((Stiffness::from_n_per_mm(3500.0).si() - 3.5e6).abs() < 1e-6);
    }
}
