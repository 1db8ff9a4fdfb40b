//! Normal stress at a point of an unsymmetric section.

use super::properties::{SectionPoint, SectionProperties};
use fishplate_quantity::algebra::sq;

/// What a cut of the member transmits, at the centroid, in the section's own y and z axes.
///
/// Tension is positive. `m_y` is the integral of stress times z (positive: tension at the top); `m_z` is minus the
/// integral of stress times y (right-handed about z: positive means tension on the -y side). The bimoment is the
/// integral of stress times sectorial coordinate.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct SectionForces {
    /// Axial force, N.
    pub n: f64,
    /// Moment about y, N m.
    pub m_y: f64,
    /// Moment about z, N m.
    pub m_z: f64,
    /// Bimoment, N m2; zero unless warping is restrained.
    pub bimoment: f64,
}

impl SectionProperties {
    /// Elastic normal stress, Pa, tension positive, at (y, z) from the centroid, from axial force and moments.
    ///
    /// General bending formula for any axes (Timoshenko, Strength of Materials, Part I; Megson, Aircraft
    /// Structures): no principal axes are needed, and the movement sideways is in it.
    #[must_use]
    pub fn bending_stress(&self, forces: &SectionForces, y: f64, z: f64) -> f64 {
        let determinant = self.i_y * self.i_z - sq(self.i_yz);
        let slope_z = (forces.m_y * self.i_z + forces.m_z * self.i_yz) / determinant;
        let slope_y = -(forces.m_z * self.i_y + forces.m_y * self.i_yz) / determinant;
        forces.n / self.area + slope_y * y + slope_z * z
    }

    /// Elastic normal stress, Pa, at a named point, warping included: adds `bimoment omega / warping constant`.
    #[must_use]
    pub fn normal_stress(&self, forces: &SectionForces, point: &SectionPoint) -> f64 {
        let plain = self.bending_stress(forces, point.y, point.z);
        if self.warping_constant > 0.0 {
            plain + forces.bimoment * point.omega / self.warping_constant
        } else {
            plain
        }
    }

    /// The named point with the largest stress magnitude, and that stress, Pa.
    ///
    /// `None` only for a section without named points.
    #[must_use]
    pub fn worst_point(&self, forces: &SectionForces) -> Option<(&SectionPoint, f64)> {
        let stresses = self.points.iter().map(|p| (p, self.normal_stress(forces, p)));
        stresses.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
    }

    /// Inclination of the neutral axis to the y axis, rad, in (-pi/2, pi/2], for moments without axial force.
    #[must_use]
    pub fn neutral_axis(&self, m_y: f64, m_z: f64) -> f64 {
        let slope_z = m_y * self.i_z + m_z * self.i_yz;
        let slope_y = -(m_z * self.i_y + m_y * self.i_yz);
        let angle = (-slope_y).atan2(slope_z);
        if angle > std::f64::consts::FRAC_PI_2 {
            angle - std::f64::consts::PI
        } else if angle <= -std::f64::consts::FRAC_PI_2 {
            angle + std::f64::consts::PI
        } else {
            angle
        }
    }
}
