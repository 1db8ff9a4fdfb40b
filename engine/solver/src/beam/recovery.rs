//! Section forces, stresses and movements at a station of a member, exact for the loads within.

use super::element::{BeamElement, Ends, Natural};
use super::loads::{Within, integrate};
use crate::answer::{SectionForces, Side, Station, StationAnswer};
use crate::model::BeamSection;
use crate::vector::{head, six, tail};
use nalgebra::Vector2;

/// A solved member.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Solved<'a> {
    pub(crate) element: &'a BeamElement,
    pub(crate) section: &'a BeamSection,
    pub(crate) within: &'a Within,
    /// Natural forces.
    pub(crate) forces: Natural,
    /// Movements of the member ends, local axes, centroid.
    pub(crate) ends: Ends,
}

impl Solved<'_> {
    /// Everything at one station.
    pub(crate) fn station(&self, station: Station) -> StationAnswer {
        let x = station.fraction * self.element.line.length;
        let forces = self.section_forces(x, station.side);
        let moved = self.movement(x);
        let line = self.element.line;
        StationAnswer {
            station,
            forces,
            displacement: six(line.to_global(head(&moved)), line.to_global(tail(&moved))),
            normal_stress: self
                .section
                .stress_points
                .iter()
                .map(|p| normal_stress(self.section, &forces, p.y, p.z))
                .collect(),
            torsion_stress: self.section.torsion_modulus.map(|w| forces.t / w),
        }
    }

    /// Forces on the cut at `x` from the start, m.
    pub(crate) fn section_forces(&self, x: f64, side: Side) -> SectionForces {
        let length = self.element.line.length;
        let f = self.within.simple_forces(length, x, side);
        let s = &self.forces;
        let growth = 2.0 * x / length - 1.0;
        SectionForces {
            n: s[0] + f[0],
            v_y: -2.0 / length * s[5] + f[1],
            v_z: 2.0 / length * s[4] + f[2],
            t: s[1] + f[3],
            m_y: s[2] + growth * s[4] + f[4],
            m_z: s[3] + growth * s[5] + f[5],
        }
    }

    /// Movement of the centroid and rotation of the section in local axes, by integrating the
    /// strains from the start.
    pub(crate) fn movement(&self, x: f64) -> [f64; 6] {
        let r = &self.element.rigidity;
        let [y_s, z_s] = self.element.shear_centre;
        let start = &self.ends;
        let (stretch, curvature) = self.within.thermal();
        let mut u = start[0] + stretch * x;
        let mut v = start[1] - z_s * start[3] + start[5] * x + 0.5 * curvature[1] * x * x;
        let mut w = start[2] + y_s * start[3] - start[4] * x - 0.5 * curvature[0] * x * x;
        let mut r_x = start[3];
        let mut r_y = start[4] + curvature[0] * x;
        let mut r_z = start[5] + curvature[1] * x;
        for (a, b) in self.within.pieces(x) {
            integrate(a, b, |at, weight| {
                let f = self.section_forces(at, Side::After);
                let bend = r.flexing * Vector2::new(f.m_y, f.m_z);
                let arm = x - at;
                u += weight * f.n / r.axial;
                r_x += weight * f.t / r.torsion;
                r_y += weight * bend[0];
                r_z += weight * bend[1];
                // Slopes: v' = rz + shear strain, w' = -ry + shear strain.
                v += weight * (arm * bend[1] + r.shearing_y * f.v_y);
                w += weight * (r.shearing_z * f.v_z - arm * bend[0]);
            });
        }
        [u, v + z_s * r_x, w - y_s * r_x, r_x, r_y, r_z]
    }

    /// Forces that the ends receive from the nodes, local axes at the centroid.
    pub(crate) fn end_forces(&self, simple: &Ends) -> [[f64; 6]; 2] {
        let all = self.element.modes.transpose() * self.forces + simple;
        [0, 6].map(|end| [0, 1, 2, 3, 4, 5].map(|i| all[end + i]))
    }
}

/// Normal stress at y, z: the strain plane that has N, My, Mz as its resultants. With
/// `sigma = N / A + a y + b z`, `My = a Iyz + b Iy` and `Mz = -(a Iz + b Iyz)`
/// (general bending; S. Timoshenko, Strength of Materials I, art. on unsymmetrical bending).
fn normal_stress(section: &BeamSection, f: &SectionForces, y: f64, z: f64) -> f64 {
    let (i_y, i_z, i_yz) = (section.i_y, section.i_z, section.i_yz);
    let determinant = i_y * i_z - i_yz * i_yz;
    let a = -(f.m_z * i_y + f.m_y * i_yz) / determinant;
    let b = (f.m_y * i_z + f.m_z * i_yz) / determinant;
    f.n / section.area + a * y + b * z
}
