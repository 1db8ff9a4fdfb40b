//! Points, bounds and polygons of drawings, in user units or mm.

/// A point of a drawing; y grows downward.
pub(crate) type Point = [f64; 2];

/// A point or vector in car axes, mm.
pub(crate) type Space = [f64; 3];

/// The larger of two numbers.
pub(crate) fn larger(a: f64, b: f64) -> f64 {
    if a > b { a } else { b }
}

/// The smaller of two numbers.
pub(crate) fn smaller(a: f64, b: f64) -> f64 {
    if a < b { a } else { b }
}

/// The largest of some numbers, 0 where there are none.
pub(crate) fn largest(values: impl IntoIterator<Item = f64>) -> f64 {
    values.into_iter().filter(|v| v.is_finite()).fold(0.0, larger)
}

pub(crate) fn dot(a: Space, b: Space) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: Space, b: Space) -> Space {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(crate) fn minus(a: Space, b: Space) -> Space {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

/// `a + t b`.
pub(crate) fn along(a: Space, t: f64, b: Space) -> Space {
    [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]]
}

pub(crate) fn length(a: Space) -> f64 {
    dot(a, a).sqrt()
}

/// `a` with length 1, or `None` where it has no direction.
pub(crate) fn unit(a: Space) -> Option<Space> {
    let size = length(a);
    (size > 1e-9 && size.is_finite()).then(|| a.map(|c| c / size))
}

/// The mean of some points, the origin where there are none.
pub(crate) fn centre(points: &[Space]) -> Space {
    let mut sum = [0.0; 3];
    for p in points {
        sum = along(sum, 1.0, *p);
    }
    // Corner counts are small.
    #[allow(clippy::cast_precision_loss)]
    let count = larger(points.len() as f64, 1.0);
    sum.map(|c| c / count)
}

/// The normal of a flat polygon by the sum of its edges (Newell), not normed: twice its area.
pub(crate) fn normal(corners: &[Space]) -> Space {
    let mut sum = [0.0; 3];
    for (a, b) in edges(corners) {
        sum = along(sum, 1.0, cross(a, b));
    }
    sum
}

/// The edges of a closed polygon.
pub(crate) fn edges<T: Copy>(corners: &[T]) -> impl Iterator<Item = (T, T)> + '_ {
    corners.iter().copied().zip(corners.iter().copied().cycle().skip(1))
}

/// A box along the axes, of 2 or 3 dimensions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Bounds<const N: usize> {
    pub(crate) low: [f64; N],
    pub(crate) high: [f64; N],
}

impl<const N: usize> Bounds<N> {
    /// A box around nothing.
    pub(crate) fn empty() -> Self {
        Self { low: [f64::INFINITY; N], high: [f64::NEG_INFINITY; N] }
    }

    pub(crate) fn of(points: impl IntoIterator<Item = [f64; N]>) -> Self {
        let mut bounds = Self::empty();
        points.into_iter().for_each(|p| bounds.add(p));
        bounds
    }

    /// Grows until `point` is inside; a point that is not finite is passed over.
    pub(crate) fn add(&mut self, point: [f64; N]) {
        if point.iter().all(|c| c.is_finite()) {
            for (i, c) in point.into_iter().enumerate() {
                self.low[i] = smaller(self.low[i], c);
                self.high[i] = larger(self.high[i], c);
            }
        }
    }

    pub(crate) fn is_empty(&self) -> bool {
        (0..N).any(|i| self.low[i] > self.high[i])
    }

    pub(crate) fn grown(mut self, by: f64) -> Self {
        for i in 0..N {
            self.low[i] -= by;
            self.high[i] += by;
        }
        self
    }

    pub(crate) fn size(&self, axis: usize) -> f64 {
        larger(self.high[axis] - self.low[axis], 0.0)
    }

    pub(crate) fn middle(&self) -> [f64; N] {
        std::array::from_fn(|i| (self.low[i] + self.high[i]) / 2.0)
    }

    pub(crate) fn meets(&self, other: &Self, tolerance: f64) -> bool {
        (0..N).all(|i| {
            self.low[i] <= other.high[i] + tolerance && other.low[i] <= self.high[i] + tolerance
        })
    }

    pub(crate) fn holds(&self, point: [f64; N], tolerance: f64) -> bool {
        (0..N).all(|i| self.low[i] - tolerance <= point[i] && point[i] <= self.high[i] + tolerance)
    }
}

/// Whether `p` is inside the polygon; points on its edge may fall on either side.
pub(crate) fn inside(polygon: &[Point], p: Point) -> bool {
    let mut within = false;
    for (a, b) in edges(polygon) {
        let crosses = (a[1] > p[1]) != (b[1] > p[1]);
        if crosses && p[0] < (b[0] - a[0]) * (p[1] - a[1]) / (b[1] - a[1]) + a[0] {
            within = !within;
        }
    }
    within
}

/// The distance of `p` from the nearest edge of the polygon.
pub(crate) fn from_edge(polygon: &[Point], p: Point) -> f64 {
    let mut nearest = f64::INFINITY;
    for (a, b) in edges(polygon) {
        let (ab, ap) = ([b[0] - a[0], b[1] - a[1]], [p[0] - a[0], p[1] - a[1]]);
        let square = ab[0] * ab[0] + ab[1] * ab[1];
        let t = if square > 0.0 { (ab[0] * ap[0] + ab[1] * ap[1]) / square } else { 0.0 };
        let t = t.clamp(0.0, 1.0);
        let away = [ap[0] - t * ab[0], ap[1] - t * ab[1]];
        nearest = smaller(nearest, (away[0] * away[0] + away[1] * away[1]).sqrt());
    }
    nearest
}

/// Where two segments cross, if they do.
pub(crate) fn crossing(a: Point, b: Point, c: Point, d: Point) -> Option<Point> {
    let (r, s) = ([b[0] - a[0], b[1] - a[1]], [d[0] - c[0], d[1] - c[1]]);
    let denominator = r[0] * s[1] - r[1] * s[0];
    if denominator.abs() < 1e-12 {
        return None;
    }
    let between = [c[0] - a[0], c[1] - a[1]];
    let t = (between[0] * s[1] - between[1] * s[0]) / denominator;
    let u = (between[0] * r[1] - between[1] * r[0]) / denominator;
    let on = |v: f64| (0.0..=1.0).contains(&v);
    (on(t) && on(u)).then(|| [a[0] + t * r[0], a[1] + t * r[1]])
}

/// The largest of 1, 2, 5 times a power of ten that is not above `limit`.
pub(crate) fn round_below(limit: f64) -> f64 {
    if !(limit.is_finite() && limit > 0.0) {
        return 1.0;
    }
    let power = 10f64.powf(limit.log10().floor());
    let step = [5.0, 2.0, 1.0].into_iter().find(|s| s * power <= limit * (1.0 + 1e-9));
    step.unwrap_or(1.0) * power
}

// Plane geometry by hand.
#[cfg(test)]
mod tests {
    use super::*;

    const SQUARE: [Point; 4] = [[0.0, 0.0], [4.0, 0.0], [4.0, 4.0], [0.0, 4.0]];

    #[test]
    fn a_point_is_inside_or_not() {
        assert!(inside(&SQUARE, [1.0, 3.0]));
        assert!(!inside(&SQUARE, [5.0, 3.0]));
        assert!((from_edge(&SQUARE, [1.0, 3.0]) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn diagonals_cross_in_the_middle() {
        let cross = crossing(SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]);
        assert_eq!(cross, Some([2.0, 2.0]));
        assert_eq!(crossing(SQUARE[0], SQUARE[1], SQUARE[3], SQUARE[2]), None);
    }

    #[test]
    fn the_normal_of_a_square_is_twice_its_area() {
        let square: Vec<Space> = SQUARE.iter().map(|p| [p[0], p[1], 7.0]).collect();
        assert!(length(minus(normal(&square), [0.0, 0.0, 32.0])) < 1e-12);
    }

    #[test]
    fn bars_have_round_lengths() {
        assert!((round_below(260.0) - 200.0).abs() < 1e-9);
        assert!((round_below(59.0) - 50.0).abs() < 1e-9);
        assert!((round_below(10.0) - 10.0).abs() < 1e-9);
        assert!((round_below(f64::NAN) - 1.0).abs() < 1e-9);
    }
}
