//! Stiffness of a beam and the joint of its ends to the nodes.

use crate::error::FreeMotion;
use crate::frame::{FrameModel, MemberLine};
use crate::model::{BeamId, BeamSection, Dof, Material, Release};
use crate::vector::Vec3;
use nalgebra::{DMatrix, DVector, Matrix2, SMatrix, SVector};

/// Deformations or forces of the six natural modes.
pub(crate) type Natural = SVector<f64, 6>;
/// Movements or forces of both ends: six of the start, six of the end.
pub(crate) type Ends = SVector<f64, 12>;

/// Stiffness properties of a member per unit of length.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rigidity {
    /// E A, N.
    pub(crate) axial: f64,
    /// G J, N m2.
    pub(crate) torsion: f64,
    /// Moments (My, Mz) from curvatures (ry', rz'), N m2: with the strain `z ry' - y rz'` the
    /// product of inertia enters with a minus sign.
    pub(crate) bending: Matrix2<f64>,
    /// Curvatures from moments: the inverse.
    pub(crate) flexing: Matrix2<f64>,
    /// Shear strain along y per force along y, 1/N; 0 when rigid in shear.
    pub(crate) shearing_y: f64,
    /// Shear strain along z per force along z, 1/N; 0 when rigid in shear.
    pub(crate) shearing_z: f64,
}

impl Rigidity {
    pub(crate) fn new(section: &BeamSection, material: &Material) -> Self {
        let (e, g) = (material.youngs_modulus, material.shear_modulus);
        let (i_y, i_z, i_yz) = (section.i_y, section.i_z, section.i_yz);
        let determinant = e * (i_y * i_z - i_yz * i_yz);
        let compliance = |area: Option<f64>| area.map_or(0.0, |a| 1.0 / (g * a));
        Rigidity {
            axial: e * section.area,
            torsion: g * section.torsion_constant,
            bending: Matrix2::new(i_y, -i_yz, -i_yz, i_z) * e,
            flexing: Matrix2::new(i_z, i_yz, i_yz, i_y) / determinant,
            shearing_y: compliance(section.shear_area_y),
            shearing_z: compliance(section.shear_area_z),
        }
    }
}

/// A member ready for assembly.
#[derive(Clone, Debug)]
pub(crate) struct BeamElement {
    pub(crate) line: MemberLine,
    pub(crate) rigidity: Rigidity,
    /// Shear centre from the centroid, local y, z.
    pub(crate) shear_centre: [f64; 2],
    /// Movements of the ends (local axes, centroid) from movements of the nodes (global axes).
    pub(crate) to_ends: SMatrix<f64, 12, 12>,
    /// Natural deformations from movements of the ends.
    pub(crate) modes: SMatrix<f64, 6, 12>,
    /// Natural forces from natural deformations of the member between its releases.
    pub(crate) stiffness: SMatrix<f64, 6, 6>,
    pub(crate) joint: Option<Joint>,
}

/// The released ends of a member: some natural forces can't pass.
#[derive(Clone, Debug)]
pub(crate) struct Joint {
    /// Positions (0..12) of the freely released end components.
    free: Vec<usize>,
    /// Positions and stiffnesses of the components that follow through a spring.
    sprung: Vec<(usize, f64)>,
    /// Natural deformation per unit of free release, 6 x free.
    free_modes: DMatrix<f64>,
    /// Natural deformation per unit of sprung release, 6 x sprung.
    sprung_modes: DMatrix<f64>,
    /// Orthonormal basis of the natural forces that pass the free releases, 6 x passing.
    pub(crate) passing: DMatrix<f64>,
    /// Stiffness in that basis, the springs in series.
    pub(crate) stiffness: DMatrix<f64>,
    /// Natural deformation per natural force with the springs in series, 6 x 6.
    flexibility: DMatrix<f64>,
}

/// State of natural forces in a member under given deformations and loads within.
#[derive(Clone, Copy, Debug)]
pub(crate) struct MemberLoad {
    /// Natural deformation that the loads and temperatures cause in the member with no natural
    /// force.
    pub(crate) deformation: Natural,
    /// Forces that the ends receive when no natural force acts (local axes, at the centroid).
    pub(crate) end_forces: Ends,
}

impl BeamElement {
    /// Builds the element.
    ///
    /// # Errors
    /// When the releases let the member move by itself.
    pub(crate) fn new(model: &FrameModel, id: BeamId) -> Result<Self, FreeMotion> {
        let beam = &model.draft.beams[id.0];
        let section = &model.draft.sections[beam.section.0];
        let line = model.lines[id.0];
        let rigidity = Rigidity::new(section, &model.draft.materials[beam.material.0]);
        let shear_centre = [section.shear_centre_y, section.shear_centre_z];
        let modes = natural_modes(line.length, shear_centre);
        let stiffness = natural_stiffness(line.length, &rigidity);
        let releases: Vec<Release> =
            beam.releases_start.iter().chain(&beam.releases_end).copied().collect();
        let joint = Joint::new(&releases, &modes, line.length, &rigidity).map_err(|position| {
            FreeMotion {
                node: if position < 6 { beam.start } else { beam.end },
                direction: Dof::ALL[position % 6],
                within_beam: Some(id),
                plates: Vec::new(),
                shape: Vec::new(),
            }
        })?;
        let to_ends = ends_from_nodes(line, beam.offset_start, beam.offset_end);
        Ok(BeamElement { line, rigidity, shear_centre, to_ends, modes, stiffness, joint })
    }

    /// The natural modes that carry force: rows over the movements of both nodes (global axes),
    /// and the stiffness in them.
    pub(crate) fn carrying(&self) -> (DMatrix<f64>, DMatrix<f64>) {
        let modes = self.modes * self.to_ends;
        let modes = DMatrix::from_fn(6, 12, |i, j| modes[(i, j)]);
        match &self.joint {
            None => (modes, DMatrix::from_fn(6, 6, |i, j| self.stiffness[(i, j)])),
            Some(joint) => (joint.passing.transpose() * modes, joint.stiffness.clone()),
        }
    }

    /// The same as if nothing were released: the measure of what a node could feel.
    pub(crate) fn unreleased(&self) -> (DMatrix<f64>, DMatrix<f64>) {
        let modes = self.modes * self.to_ends;
        (
            DMatrix::from_fn(6, 12, |i, j| modes[(i, j)]),
            DMatrix::from_fn(6, 6, |i, j| self.stiffness[(i, j)]),
        )
    }

    /// Natural forces with the nodes held still.
    pub(crate) fn held_forces(&self, load: &MemberLoad) -> Natural {
        self.natural_forces(&Natural::zeros(), load)
    }

    /// Natural forces from the natural deformation of the nodes and the loads within.
    pub(crate) fn natural_forces(&self, deformation: &Natural, load: &MemberLoad) -> Natural {
        match &self.joint {
            None => self.stiffness * (deformation - load.deformation),
            Some(joint) => joint.natural_forces(deformation, load),
        }
    }

    /// Movement of the node less movement of the member end at every released component.
    pub(crate) fn release_movement(&self, deformation: &Natural, load: &MemberLoad) -> Ends {
        match &self.joint {
            None => Ends::zeros(),
            Some(joint) => joint.movement(deformation, load),
        }
    }

    /// Movements of the member ends (local axes) from those of the nodes (global axes) when
    /// nothing acts within: the releases follow the elastic line.
    pub(crate) fn ends_without_load(&self) -> SMatrix<f64, 12, 12> {
        if self.joint.is_none() {
            return self.to_ends;
        }
        let nothing = MemberLoad { deformation: Natural::zeros(), end_forces: Ends::zeros() };
        let modes = self.modes * self.to_ends;
        let mut map = self.to_ends;
        for column in 0..12 {
            let movement = self.release_movement(&modes.column(column).into_owned(), &nothing);
            for row in 0..12 {
                map[(row, column)] -= movement[row];
            }
        }
        map
    }
}

impl Joint {
    /// `Err` carries the end component by which the member moves without resistance.
    fn new(
        releases: &[Release],
        modes: &SMatrix<f64, 6, 12>,
        length: f64,
        rigidity: &Rigidity,
    ) -> Result<Option<Self>, usize> {
        let mut free = Vec::new();
        let mut sprung = Vec::new();
        for (position, release) in releases.iter().enumerate() {
            match *release {
                Release::Fixed => {}
                Release::Free => free.push(position),
                Release::Spring(stiffness) => sprung.push((position, stiffness)),
            }
        }
        if free.is_empty() && sprung.is_empty() {
            return Ok(None);
        }
        let free_modes = DMatrix::from_fn(6, free.len(), |i, j| modes[(i, free[j])]);
        let sprung_modes = DMatrix::from_fn(6, sprung.len(), |i, j| modes[(i, sprung[j].0)]);
        let passing = passing_basis(&free_modes, &sprung_modes).map_err(|column| free[column])?;
        let mut flexibility = natural_flexibility(length, rigidity);
        for (column, &(_, stiffness)) in sprung.iter().enumerate() {
            let mode = sprung_modes.column(column);
            flexibility += mode * mode.transpose() / stiffness;
        }
        let seen = passing.transpose() * &flexibility * &passing;
        let stiffness = symmetric(
            seen.cholesky()
                .expect("the flexibility of a member is positive definite in any basis")
                .inverse(),
        );
        Ok(Some(Joint { free, sprung, free_modes, sprung_modes, passing, stiffness, flexibility }))
    }

    fn natural_forces(&self, deformation: &Natural, load: &MemberLoad) -> Natural {
        // Forces that the loads alone drive to the free components must be met there.
        let mut forces = DVector::zeros(6);
        if !self.free.is_empty() {
            let driven = DVector::from_fn(self.free.len(), |i, _| load.end_forces[self.free[i]]);
            forces -= &self.free_modes * self.solve_free(driven);
        }
        let mut gap = dynamic(&(deformation - load.deformation));
        for (column, &(position, stiffness)) in self.sprung.iter().enumerate() {
            gap -= self.sprung_modes.column(column) * (load.end_forces[position] / stiffness);
        }
        gap -= &self.flexibility * &forces;
        forces += &self.passing * (&self.stiffness * (self.passing.transpose() * gap));
        Natural::from_iterator(forces.iter().copied())
    }

    fn movement(&self, deformation: &Natural, load: &MemberLoad) -> Ends {
        let forces = dynamic(&self.natural_forces(deformation, load));
        let mut movement = Ends::zeros();
        for (column, &(position, stiffness)) in self.sprung.iter().enumerate() {
            let force = self.sprung_modes.column(column).dot(&forces) + load.end_forces[position];
            movement[position] = force / stiffness;
        }
        if self.free.is_empty() {
            return movement;
        }
        // What the member and its springs don't take up of the deformation, the releases do.
        let mut rest = dynamic(&(deformation - load.deformation)) - &self.flexibility * &forces;
        for (column, &(position, stiffness)) in self.sprung.iter().enumerate() {
            rest -= self.sprung_modes.column(column) * (load.end_forces[position] / stiffness);
        }
        let free = self.solve_free(self.free_modes.transpose() * rest);
        for (column, &position) in self.free.iter().enumerate() {
            movement[position] = free[column];
        }
        movement
    }

    /// Solves with the Gram matrix of the free modes, which are independent.
    fn solve_free(&self, right_hand_side: DVector<f64>) -> DVector<f64> {
        (self.free_modes.transpose() * &self.free_modes)
            .cholesky()
            .expect("the free modes are independent, else the joint would have been refused")
            .solve(&right_hand_side)
    }
}

/// Below this part of its length a release adds nothing to those before it.
const DEPENDENT: f64 = 1e-9;

/// Orthonormal basis of the natural forces that pass the free releases. The directions that pass
/// through springs come last: a soft spring adds a large flexibility there, and a Cholesky factor
/// that meets large numbers last loses none of the small ones. `Err` names the first free release
/// that depends on those before it.
fn passing_basis(free: &DMatrix<f64>, sprung: &DMatrix<f64>) -> Result<DMatrix<f64>, usize> {
    let mut basis: Vec<DVector<f64>> = Vec::new();
    for (index, column) in free.column_iter().enumerate() {
        let rest = orthogonal_to(&basis, column.normalize());
        let length = rest.norm();
        if length <= DEPENDENT || length.is_nan() {
            return Err(index);
        }
        basis.push(rest / length);
    }
    let released = basis.len();
    for column in sprung.column_iter() {
        let rest = orthogonal_to(&basis, column.normalize());
        let length = rest.norm();
        // A spring beside a free release of the same kind passes nothing new.
        if length > DEPENDENT {
            basis.push(rest / length);
        }
    }
    let through_springs = basis.len();
    // The remaining axes, most independent first, so that the basis stays as plain as it can.
    while basis.len() < 6 {
        let candidates = (0..6).map(|axis| {
            let unit = DVector::from_fn(6, |i, _| if i == axis { 1.0 } else { 0.0 });
            orthogonal_to(&basis, unit)
        });
        let best = candidates
            .fold(DVector::zeros(6), |best, c| if c.norm() > best.norm() { c } else { best });
        let length = best.norm();
        basis.push(best / length);
    }
    let passing: Vec<&DVector<f64>> =
        basis[through_springs..].iter().chain(&basis[released..through_springs]).collect();
    Ok(DMatrix::from_fn(6, passing.len(), |i, j| passing[j][i]))
}

fn orthogonal_to(basis: &[DVector<f64>], mut vector: DVector<f64>) -> DVector<f64> {
    for _ in 0..2 {
        for b in basis {
            let part = b.dot(&vector);
            vector -= b * part;
        }
    }
    vector
}

fn dynamic(v: &Natural) -> DVector<f64> {
    DVector::from_iterator(6, v.iter().copied())
}

fn symmetric(m: DMatrix<f64>) -> DMatrix<f64> {
    let transposed = m.transpose();
    (m + transposed) * 0.5
}

/// Natural deformations from the movements of the ends, local axes at the centroid.
fn natural_modes(length: f64, [y_s, z_s]: [f64; 2]) -> SMatrix<f64, 6, 12> {
    let mut m = SMatrix::zeros();
    let slope = 2.0 / length;
    for (end, sign) in [(0, -1.0), (6, 1.0)] {
        m[(0, end)] = sign;
        m[(1, end + 3)] = sign;
        m[(2, end + 4)] = sign;
        m[(3, end + 5)] = sign;
        // The shear centre moves with w + y_s rx along z and v - z_s rx along y.
        m[(4, end + 4)] = 1.0;
        m[(4, end + 2)] = sign * slope;
        m[(4, end + 3)] = sign * slope * y_s;
        m[(5, end + 5)] = 1.0;
        m[(5, end + 1)] = -sign * slope;
        m[(5, end + 3)] = sign * slope * z_s;
    }
    m
}

/// Natural stiffness: E A / L, G J / L, E I / L, and the inverse of `L / (3 E I) + 4 / (L G A_s)`
/// for the growing moment, which is `3 E I / L / (1 + Phi)` with `Phi = 12 E I / (G A_s L^2)`
/// (J. S. Przemieniecki, Theory of Matrix Structural Analysis, 1968, ch. 5), here for coupled axes.
fn natural_stiffness(length: f64, r: &Rigidity) -> SMatrix<f64, 6, 6> {
    let mut k = SMatrix::zeros();
    k[(0, 0)] = r.axial / length;
    k[(1, 1)] = r.torsion / length;
    let growing = if r.shearing_y > 0.0 || r.shearing_z > 0.0 {
        inverse_2(&growing_flexibility(length, r))
    } else {
        r.bending * (3.0 / length)
    };
    for i in 0..2 {
        for j in 0..2 {
            k[(2 + i, 2 + j)] = r.bending[(i, j)] / length;
            k[(4 + i, 4 + j)] = growing[(i, j)];
        }
    }
    k
}

fn natural_flexibility(length: f64, r: &Rigidity) -> DMatrix<f64> {
    let mut f = DMatrix::zeros(6, 6);
    f[(0, 0)] = length / r.axial;
    f[(1, 1)] = length / r.torsion;
    let growing = growing_flexibility(length, r);
    for i in 0..2 {
        for j in 0..2 {
            f[(2 + i, 2 + j)] = r.flexing[(i, j)] * length;
            f[(4 + i, 4 + j)] = growing[(i, j)];
        }
    }
    f
}

fn growing_flexibility(length: f64, r: &Rigidity) -> Matrix2<f64> {
    // A growing moment about y rides on a shear along z and the other way round.
    let shear = Matrix2::new(r.shearing_z, 0.0, 0.0, r.shearing_y);
    r.flexing * (length / 3.0) + shear * (4.0 / length)
}

fn inverse_2(m: &Matrix2<f64>) -> Matrix2<f64> {
    let determinant = m[(0, 0)] * m[(1, 1)] - m[(0, 1)] * m[(1, 0)];
    Matrix2::new(m[(1, 1)], -m[(0, 1)], -m[(1, 0)], m[(0, 0)]) / determinant
}

/// Movements of the ends in local axes from those of the nodes in global axes: the rigid arm adds
/// `rotation cross arm`.
fn ends_from_nodes(line: MemberLine, start: Vec3, end: Vec3) -> SMatrix<f64, 12, 12> {
    let mut map = SMatrix::zeros();
    for (block, arm) in [(0, start), (6, end)] {
        // Columns of `arm_of[j][i]`: translation i from a unit rotation about j.
        let turned = [[0.0, -arm[2], arm[1]], [arm[2], 0.0, -arm[0]], [-arm[1], arm[0], 0.0]];
        for (i, axis) in line.axes.iter().enumerate() {
            for j in 0..3 {
                map[(block + i, block + j)] = axis[j];
                map[(block + 3 + i, block + 3 + j)] = axis[j];
                map[(block + i, block + 3 + j)] =
                    axis[0] * turned[j][0] + axis[1] * turned[j][1] + axis[2] * turned[j][2];
            }
        }
    }
    map
}
