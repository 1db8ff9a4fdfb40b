//! The shape of a run: quadrature along it, and length, centroid and second moments of runs
//! treated as lines of unit throat.

use nalgebra::Matrix3;

use super::Vec3;

/// The path of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Path {
    /// A straight stretch, m.
    Straight {
        /// Its start.
        from: Vec3,
        /// Its end.
        to: Vec3,
    },
    /// A stretch of a circle, m.
    Arc {
        /// Centre of the circle.
        centre: Vec3,
        /// Direction of its axis; any length but zero.
        axis: Vec3,
        /// Start of the stretch. Its part along the axis moves the circle along the axis.
        start: Vec3,
        /// Angle swept right-handed about the axis, rad.
        sweep: f64,
    },
}

/// A point of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PathPoint {
    /// Where, m.
    pub at: Vec3,
    /// Unit direction of the path there.
    pub along: Vec3,
    /// Distance from the start, m.
    pub distance: f64,
}

/// Second moments and the like of runs as lines of unit throat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineProperties {
    /// Length, m.
    pub length: f64,
    /// Centroid, m.
    pub centroid: Vec3,
    /// ∫ (p − c)(p − c)ᵀ dl, m³.
    pub second: Matrix3<f64>,
}

impl LineProperties {
    /// ∫ y² dl about the centroid, m³.
    #[must_use]
    pub fn i_x(&self) -> f64 {
        self.second[(1, 1)]
    }

    /// ∫ x² dl about the centroid, m³.
    #[must_use]
    pub fn i_y(&self) -> f64 {
        self.second[(0, 0)]
    }

    /// ∫ x y dl about the centroid, m³.
    #[must_use]
    pub fn i_xy(&self) -> f64 {
        self.second[(0, 1)]
    }

    /// ∫ (x² + y²) dl about the centroid, m³: the polar second moment in the x, y plane.
    #[must_use]
    pub fn j_z(&self) -> f64 {
        self.second[(0, 0)] + self.second[(1, 1)]
    }
}

/// Abscissas and weights of the three-point Gauss rule on 0…1, exact to the fifth degree.
const GAUSS: [(f64, f64); 3] = [
    (0.112_701_665_379_258_31, 5.0 / 18.0),
    (0.5, 8.0 / 18.0),
    (0.887_298_334_620_741_7, 5.0 / 18.0),
];

/// Greatest angle of an arc under one Gauss rule, rad: its error is then below 1e-12.
const ARC_STEP: f64 = std::f64::consts::PI / 24.0;

impl Path {
    /// Length, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        match *self {
            Self::Straight { from, to } => (to - from).norm(),
            Self::Arc { sweep, .. } => self.radius() * sweep.abs(),
        }
    }

    /// Radius of an arc (m); zero for a straight stretch.
    #[must_use]
    pub fn radius(&self) -> f64 {
        match *self {
            Self::Straight { .. } => 0.0,
            Self::Arc { centre, axis, start, .. } => {
                let axis = axis.normalize();
                let arm = start - centre;
                (arm - axis * arm.dot(&axis)).norm()
            }
        }
    }

    /// The point at `share` (0…1) of the length.
    #[must_use]
    pub fn point(&self, share: f64) -> PathPoint {
        let distance = share * self.length();
        match *self {
            Self::Straight { from, to } => PathPoint {
                at: from + (to - from) * share,
                along: (to - from).normalize(),
                distance,
            },
            Self::Arc { centre, axis, start, sweep } => {
                let axis = axis.normalize();
                let arm = turned(start - centre, axis, sweep * share);
                let along = axis.cross(&arm).normalize() * sweep.signum();
                PathPoint { at: centre + arm, along, distance }
            }
        }
    }

    /// `direction`, fixed to the path at its start, carried along to `share` of the length: an arc
    /// turns it with itself.
    #[must_use]
    pub fn carried(&self, direction: Vec3, share: f64) -> Vec3 {
        match *self {
            Self::Straight { .. } => direction,
            Self::Arc { axis, sweep, .. } => turned(direction, axis.normalize(), sweep * share),
        }
    }

    /// Points and lengths (m) that integrate along the path: exact for a straight stretch.
    #[must_use]
    pub fn quadrature(&self) -> Vec<(Vec3, f64)> {
        let pieces = match *self {
            Self::Straight { .. } => 1,
            // At most a few hundred even for a spiral of many turns.
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            Self::Arc { sweep, .. } => ((sweep.abs() / ARC_STEP).ceil() as u32).clamp(1, 10_000),
        };
        let length = self.length() / f64::from(pieces);
        (0..pieces)
            .flat_map(|piece| GAUSS.map(|(at, weight)| (f64::from(piece) + at, weight)))
            .map(|(at, weight)| (self.point(at / f64::from(pieces)).at, weight * length))
            .collect()
    }
}

/// Length, centroid and second moments of paths together; `None` when they have no length.
#[must_use]
pub fn properties<'a>(paths: impl IntoIterator<Item = &'a Path>) -> Option<LineProperties> {
    let points: Vec<(Vec3, f64)> = paths.into_iter().flat_map(Path::quadrature).collect();
    let length: f64 = points.iter().map(|(_, dl)| dl).sum();
    if length <= 0.0 {
        return None;
    }
    let centroid = points.iter().fold(Vec3::zeros(), |c, (p, dl)| c + p * (dl / length));
    let second = points.iter().fold(Matrix3::zeros(), |sum, (p, dl)| {
        let arm = p - centroid;
        sum + arm * arm.transpose() * *dl
    });
    Some(LineProperties { length, centroid, second })
}

/// `v` turned right-handed about the unit `axis` by `angle` (Rodrigues).
fn turned(v: Vec3, axis: Vec3, angle: f64) -> Vec3 {
    let (sin, cos) = angle.sin_cos();
    v * cos + axis.cross(&v) * sin + axis * (axis.dot(&v) * (1.0 - cos))
}

#[cfg(test)]
mod tests {
    use super::*;

    const B: f64 = 70.0;
    const D: f64 = 110.0;

    fn run(x0: f64, y0: f64, x1: f64, y1: f64) -> Path {
        Path::Straight { from: Vec3::new(x0, y0, 0.0), to: Vec3::new(x1, y1, 0.0) }
    }

    fn near(got: f64, expected: f64, what: &str) {
        assert!(
            (got - expected).abs() <= 1e-7 * expected.abs(),
            "{what}: {got} against {expected}"
        );
    }

    // Blodgett, Design of Welded Structures (1966), sec. 7.4 Table 5, "properties of weld treated
    // as line" (from memory; re-derived by integration): b = 70, d = 110, unit throat.
    #[test]
    fn handbook_properties_of_weld_lines() {
        let web = run(0.0, 0.0, 0.0, D);
        let far = run(B, 0.0, B, D);
        let low = run(0.0, 0.0, B, 0.0);
        let high = run(0.0, D, B, D);
        let middle = run(B / 2.0, 0.0, B / 2.0, D);
        let cases: [(&str, Vec<Path>, f64, f64, f64); 7] = [
            ("line", vec![web], 110.0, 110_916.67, 110_916.67),
            ("two vertical", vec![web, far], 220.0, 221_833.33, 491_333.33),
            ("two horizontal", vec![low, high], 140.0, 423_500.0, 480_666.67),
            ("L", vec![web, low], 180.0, 240_319.44, 321_305.56),
            ("C", vec![web, low, high], 250.0, 534_416.67, 667_043.33),
            ("rectangle", vec![web, far, low, high], 360.0, 645_333.33, 972_000.0),
            ("T or I", vec![low, high, middle], 250.0, 534_416.67, 591_583.33),
        ];
        for (name, paths, length, i_x, j) in cases {
            let p = properties(&paths).unwrap();
            near(p.length, length, name);
            near(p.i_x(), i_x, name);
            near(p.j_z(), j, name);
        }
        let l = properties(&[web, low]).unwrap();
        near(l.centroid.x, 13.611_111_1, "L centroid x");
        near(l.centroid.y, 33.611_111_1, "L centroid y");
        near(l.i_xy(), -82_347.222, "L product");
        near(properties(&[web, low, high]).unwrap().centroid.x, 19.6, "C centroid x");
    }

    // The same table: circle S_w = π D²/4 and J_w = π D³/4, D = 60.3.
    #[test]
    fn handbook_properties_of_a_circle() {
        let circle = Path::Arc {
            centre: Vec3::new(5.0, -3.0, 2.0),
            axis: Vec3::z(),
            start: Vec3::new(5.0 + 30.15, -3.0, 2.0),
            sweep: std::f64::consts::TAU,
        };
        let p = properties(&[circle]).unwrap();
        near(p.length, std::f64::consts::PI * 60.3, "length");
        near(p.i_x() / 30.15, 2_855.778_4, "S_w");
        near(p.j_z(), 172_203.44, "J_w");
        assert!((p.centroid - Vec3::new(5.0, -3.0, 2.0)).norm() < 1e-12);
    }

    // Mechanics: the centroid of a quarter circle lies 2 r/π from each end radius.
    #[test]
    fn quarter_circle() {
        let arc = Path::Arc {
            centre: Vec3::zeros(),
            axis: Vec3::z() * 3.0,
            start: Vec3::new(40.0, 0.0, 0.0),
            sweep: std::f64::consts::FRAC_PI_2,
        };
        let p = properties(&[arc]).unwrap();
        near(p.centroid.x, 80.0 / std::f64::consts::PI, "x");
        near(p.centroid.y, 80.0 / std::f64::consts::PI, "y");
        assert!((arc.point(1.0).along + Vec3::x()).norm() < 1e-15);
        assert!((arc.carried(Vec3::x(), 1.0) - Vec3::y()).norm() < 1e-15);
    }

    #[test]
    fn nothing_has_no_properties() {
        assert!(properties(&[]).is_none());
    }
}
