//! Thin-walled sections by the midline of their walls: warping, shear centre, torsion, shear stiffness.
//!
//! One method serves open, closed and mixed sections. Warping per unit twist is linear along each straight wall,
//! so its values at the nodes are the unknowns; that the shear flow in the walls meeting at a node balances gives one
//! equation per node: a graph Laplacian with the stiffness `t / length` per wall. In open walls the flow comes out
//! as zero (sectorial coordinates of Vlasov); in cells it is the flow of Bredt and Batho.
//! Sources: Vlasov, Thin-Walled Elastic Beams; Megson, Aircraft Structures, chapters on shear and torsion of
//! open and closed thin-walled beams.

use super::error::{SectionError, positive};
use super::geometry::Point;
use super::properties::{TorsionMethod, TorsionValue};
use super::region::{Basics, Region, Strip};
use fishplate_quantity::algebra::{cube, larger, smaller, sq};

const SHAPE: &str = "midline";
const MOST_NODES: usize = 200;
const MOST_WALLS: usize = 400;

/// A thin-walled section given by the midlines of its walls.
///
/// Drawing origin: that of the node coordinates. A wall's own bending stiffness across its thickness is neglected.
#[derive(Debug, Clone, PartialEq)]
pub struct Midline {
    nodes: Vec<Point>,
    walls: Vec<MidlineWall>,
}

/// A straight wall between two nodes of a [`Midline`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MidlineWall {
    /// Index of the node where it starts.
    pub from: usize,
    /// Index of the node where it ends.
    pub to: usize,
    /// Thickness, m.
    pub t: f64,
}

/// What thin-walled theory says about a midline.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct ThinWalled {
    /// Shear centre from the midline's own centroid.
    pub(super) shear_centre: Point,
    /// Sectorial coordinate about the shear centre at each node, of mean zero, m2.
    pub(super) omega: Vec<f64>,
    /// Warping constant, m6.
    pub(super) warping_constant: f64,
    /// Shear area against a force along y and along z, m2.
    pub(super) shear_areas: (f64, f64),
    /// Shear flow per wall, from node to node, over G times the twist rate, m2.
    pub(super) flows: Vec<f64>,
    /// Torsion constant of the cells, m4.
    pub(super) cells: f64,
    /// `sum(b t^3 / 3)` of the walls that belong to no cell, m4.
    pub(super) open_walls: f64,
}

impl Midline {
    /// A midline of `nodes` (y, z) in m, joined by `walls`.
    ///
    /// # Errors
    /// A thickness or length is not positive, a wall names a missing node, the walls don't hang together, or all
    /// lie on one straight line.
    pub fn new(nodes: Vec<(f64, f64)>, walls: Vec<MidlineWall>) -> Result<Self, SectionError> {
        let count = |what, given, least, most| {
            if given < least || given > most {
                return Err(SectionError::Count { shape: SHAPE, what, given, least, most });
            }
            Ok(())
        };
        count("nodes", nodes.len(), 3, MOST_NODES)?;
        count("walls", walls.len(), 2, MOST_WALLS)?;
        for &(y, z) in &nodes {
            super::error::within(SHAPE, "node y", y, -10.0, 10.0)?;
            super::error::within(SHAPE, "node z", z, -10.0, 10.0)?;
        }
        for (i, wall) in walls.iter().enumerate() {
            positive(SHAPE, "wall t", wall.t)?;
            for node in [wall.from, wall.to] {
                if node >= nodes.len() {
                    let nodes = nodes.len();
                    return Err(SectionError::NoSuchNode { wall: i, node, nodes });
                }
            }
        }
        let midline = Self { nodes, walls };
        for i in 0..midline.walls.len() {
            positive(SHAPE, "wall length", midline.strip(i).length())?;
        }
        if let Some(node) = midline.first_unreached() {
            return Err(SectionError::Disconnected { node });
        }
        let b = midline.region().basics();
        if b.i_y * b.i_z - sq(b.i_yz) <= 1e-9 * sq(b.i_y + b.i_z) {
            return Err(SectionError::Straight);
        }
        Ok(midline)
    }

    /// A midline whose shape has already checked its dimensions.
    pub(super) fn known(nodes: Vec<Point>, walls: Vec<MidlineWall>) -> Self {
        Self { nodes, walls }
    }

    /// The nodes, (y, z) in drawing axes, m.
    #[must_use]
    pub fn nodes(&self) -> &[(f64, f64)] {
        &self.nodes
    }

    /// The walls.
    #[must_use]
    pub fn walls(&self) -> &[MidlineWall] {
        &self.walls
    }

    /// Shear flow in each wall (from its first to its second node) under a unit torque about +x, N/m per N m.
    ///
    /// Zero in walls that belong to no cell, and everywhere in an open section.
    #[must_use]
    pub fn torsion_flows(&self) -> Vec<f64> {
        let thin = self.thin_walled();
        let constant = larger(thin.cells, f64::MIN_POSITIVE);
        thin.flows.iter().map(|flow| flow / constant).collect()
    }

    /// Torsion by the given method, or nothing where the method doesn't fit a midline.
    ///
    /// Bredt needs a closed cell. The modulus is the smallest over the walls of torque over shear stress; an open
    /// wall beside a cell sees `G theta t`, a cell wall `q / t`.
    #[must_use]
    pub fn torsion(&self, method: TorsionMethod) -> Option<TorsionValue> {
        self.thin_walled().torsion(self, method)
    }

    pub(super) fn region(&self) -> Region {
        let strips = (0..self.walls.len()).map(|i| self.strip(i)).collect();
        Region { outlines: Vec::new(), strips }
    }

    pub(super) fn placed(&self, shift: Point, angle: f64) -> Self {
        let nodes = self.nodes.iter().map(|&p| super::geometry::place(p, shift, angle)).collect();
        Self { nodes, walls: self.walls.clone() }
    }

    pub(super) fn strip(&self, wall: usize) -> Strip {
        let w = self.walls[wall];
        Strip { from: self.nodes[w.from], to: self.nodes[w.to], t: w.t }
    }

    fn first_unreached(&self) -> Option<usize> {
        let mut reached = vec![false; self.nodes.len()];
        reached[0] = true;
        for _ in 0..self.nodes.len() {
            for wall in &self.walls {
                let any = reached[wall.from] || reached[wall.to];
                reached[wall.from] = any;
                reached[wall.to] = any;
            }
        }
        reached.iter().position(|r| !r)
    }

    /// Everything thin-walled theory gives, about the midline's own centroid.
    pub(super) fn thin_walled(&self) -> ThinWalled {
        let basics = self.region().basics();
        let local = self.placed((-basics.centroid.0, -basics.centroid.1), 0.0);
        let (omega_c, flows) = local.warping();
        let (shear_centre, omega) = local.shear_centre(&basics, &omega_c);
        let warping_constant = local.integral(&omega, &omega);
        let mut cells = 0.0;
        let mut open_walls = 0.0;
        for (i, &flow) in flows.iter().enumerate() {
            cells += flow * local.swept(i);
            if local.is_open(i, flow) {
                open_walls += local.strip(i).length() * cube(local.walls[i].t) / 3.0;
            }
        }
        let shear_areas =
            (local.shear_area(&basics, (1.0, 0.0)), local.shear_area(&basics, (0.0, 1.0)));
        ThinWalled { shear_centre, omega, warping_constant, shear_areas, flows, cells, open_walls }
    }

    /// Twice the area swept by the radius from the origin along a wall.
    fn swept(&self, wall: usize) -> f64 {
        let s = self.strip(wall);
        s.from.0 * s.to.1 - s.to.0 * s.from.1
    }

    /// A wall carries no circulating flow if its flow vanishes against thickness times section size.
    fn is_open(&self, wall: usize, flow: f64) -> bool {
        let size: f64 = (0..self.walls.len()).map(|i| self.strip(i).length()).sum();
        flow.abs() <= 1e-9 * self.walls[wall].t * size
    }

    /// Warping at the nodes per unit twist about the origin, and the flow in each wall over G theta.
    fn warping(&self) -> (Vec<f64>, Vec<f64>) {
        let mut load = vec![0.0; self.nodes.len()];
        for (i, wall) in self.walls.iter().enumerate() {
            let flow = wall.t * self.swept(i) / self.strip(i).length();
            load[wall.from] += flow;
            load[wall.to] -= flow;
        }
        // The flow is t (r + d psi / ds); the warping psi is minus the sectorial coordinate omega.
        let psi = self.solve(&load);
        let flows = self.walls.iter().enumerate().map(|(i, wall)| {
            let length = self.strip(i).length();
            wall.t / length * (self.swept(i) + psi[wall.to] - psi[wall.from])
        });
        let flows = flows.collect();
        (psi.iter().map(|p| -p).collect(), flows)
    }

    /// Solves the Laplacian of the walls with stiffness t / length, node 0 held at zero, for balanced loads:
    /// `sum over walls of t/length (u_other - u_node) + load_node = 0`.
    fn solve(&self, load: &[f64]) -> Vec<f64> {
        let n = self.nodes.len() - 1;
        let mut matrix = vec![vec![0.0; n + 1]; n];
        for (i, wall) in self.walls.iter().enumerate() {
            let k = wall.t / self.strip(i).length();
            for (a, b) in [(wall.from, wall.to), (wall.to, wall.from)] {
                if a > 0 {
                    matrix[a - 1][a - 1] += k;
                    if b > 0 {
                        matrix[a - 1][b - 1] -= k;
                    }
                }
            }
        }
        for (row, value) in matrix.iter_mut().zip(&load[1..]) {
            row[n] = *value;
        }
        // The matrix is symmetric and positive definite, because the walls hang together: no pivoting needed.
        for p in 0..n {
            let pivot = matrix[p].clone();
            for row in matrix.iter_mut().skip(p + 1) {
                let factor = row[p] / pivot[p];
                if factor != 0.0 {
                    for (x, y) in row.iter_mut().zip(&pivot).skip(p) {
                        *x -= factor * y;
                    }
                }
            }
        }
        let mut u = vec![0.0; n + 1];
        for p in (0..n).rev() {
            let known: f64 = (p + 1..n).map(|j| matrix[p][j] * u[j + 1]).sum();
            u[p + 1] = (matrix[p][n] - known) / matrix[p][p];
        }
        u
    }

    /// Integral over the area of the product of two functions that are linear along each wall.
    fn integral(&self, f: &[f64], g: &[f64]) -> f64 {
        let part = |(i, w): (usize, &MidlineWall)| {
            let area = self.strip(i).length() * w.t;
            let (f0, f1, g0, g1) = (f[w.from], f[w.to], g[w.from], g[w.to]);
            area * (2.0 * f0 * g0 + f0 * g1 + f1 * g0 + 2.0 * f1 * g1) / 6.0
        };
        self.walls.iter().enumerate().map(part).sum()
    }

    /// Moves the pole of the sectorial coordinate from the centroid to the point about which bending and
    /// warping are uncoupled: `integral(omega y) = integral(omega z) = 0`.
    fn shear_centre(&self, b: &Basics, omega: &[f64]) -> (Point, Vec<f64>) {
        let y: Vec<f64> = self.nodes.iter().map(|p| p.0).collect();
        let z: Vec<f64> = self.nodes.iter().map(|p| p.1).collect();
        let ones = vec![1.0; y.len()];
        let (wy, wz) = (self.integral(omega, &y), self.integral(omega, &z));
        let determinant = b.i_y * b.i_z - sq(b.i_yz);
        let y_s = (b.i_z * wz - b.i_yz * wy) / determinant;
        let z_s = (b.i_yz * wz - b.i_y * wy) / determinant;
        let moved: Vec<f64> =
            omega.iter().zip(&self.nodes).map(|(w, p)| w - y_s * p.1 + z_s * p.0).collect();
        let mean = self.integral(&moved, &ones) / b.area;
        ((y_s, z_s), moved.iter().map(|w| w - mean).collect())
    }

    /// Area that, with a uniform shear stress, stores the same energy as the true shear flow of a unit force
    /// along `direction` through the shear centre.
    fn shear_area(&self, b: &Basics, (v_y, v_z): Point) -> f64 {
        // dq/ds = -t (c_y y + c_z z): the change of bending stress along the member is balanced by the flow.
        let determinant = b.i_y * b.i_z - sq(b.i_yz);
        let c_y = (v_y * b.i_y - v_z * b.i_yz) / determinant;
        let c_z = (v_z * b.i_z - v_y * b.i_yz) / determinant;
        let g: Vec<f64> = self.nodes.iter().map(|p| c_y * p.0 + c_z * p.1).collect();
        // Along a wall q(s) = q0 - t (g0 s + (g1 - g0) s^2 / 2L), and t du/ds = q.
        let mut load = vec![0.0; self.nodes.len()];
        let lag = |i: usize, w: &MidlineWall| {
            let length = self.strip(i).length();
            w.t * length * (2.0 * g[w.from] + g[w.to]) / 6.0
        };
        for (i, w) in self.walls.iter().enumerate() {
            let grown = w.t * self.strip(i).length() * (g[w.from] + g[w.to]) / 2.0;
            load[w.from] += lag(i, w);
            load[w.to] += grown - lag(i, w);
        }
        // At a node the flows leaving sum to zero; the equation solved is the sum of leaving flows.
        let u = self.solve(&load);
        let mut energy = 0.0;
        for (i, w) in self.walls.iter().enumerate() {
            let length = self.strip(i).length();
            let q0 = w.t / length * (u[w.to] - u[w.from]) + lag(i, w);
            let (a, c) = (w.t * g[w.from], w.t * (g[w.to] - g[w.from]) / (2.0 * length));
            // Three Gauss points integrate the fourth-degree square exactly.
            for (x, weight) in [(-(0.6_f64.sqrt()), 5.0), (0.0, 8.0), (0.6_f64.sqrt(), 5.0)] {
                let s = length * (1.0 + x) / 2.0;
                energy += weight / 18.0 * length * sq(q0 - a * s - c * s * s) / w.t;
            }
        }
        1.0 / energy
    }
}

impl ThinWalled {
    /// Torsion by one method; see [`Midline::torsion`].
    pub(super) fn torsion(&self, midline: &Midline, method: TorsionMethod) -> Option<TorsionValue> {
        let closed =
            midline.walls.iter().enumerate().any(|(i, _)| !midline.is_open(i, self.flows[i]));
        let open_sum = || {
            let lengths = (0..midline.walls.len()).map(|i| midline.strip(i).length());
            lengths.zip(&midline.walls).map(|(l, w)| l * cube(w.t) / 3.0).sum()
        };
        let constant = match method {
            TorsionMethod::Bredt if closed => self.cells,
            TorsionMethod::BredtWithOpenWalls if closed => self.cells + self.open_walls,
            TorsionMethod::ThinWallSum if !closed => open_sum(),
            _ => return None,
        };
        let mut modulus = f64::INFINITY;
        for (wall, &flow) in midline.walls.iter().zip(&self.flows) {
            let rate = if closed { flow.abs() / wall.t } else { wall.t };
            let open_rate = if method == TorsionMethod::BredtWithOpenWalls { wall.t } else { 0.0 };
            modulus = smaller(modulus, constant / larger(rate, open_rate));
        }
        Some(TorsionValue { constant, modulus, method })
    }
}
