//! Polygons cut by a straight line, and their moments.

use fishplate_quantity::algebra::sq;

/// Area moments of a polygon about the origin.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Moments {
    /// ∫ dA
    pub(super) area: f64,
    /// ∫ x dA
    pub(super) x: f64,
    /// ∫ y dA
    pub(super) y: f64,
    /// ∫ x² dA
    pub(super) xx: f64,
    /// ∫ x y dA
    pub(super) xy: f64,
    /// ∫ y² dA
    pub(super) yy: f64,
}

/// Moments of the polygon with these corners, counted positive when they run anticlockwise.
pub(super) fn moments(corners: &[[f64; 2]]) -> Moments {
    let mut m = Moments::default();
    for (i, &[x0, y0]) in corners.iter().enumerate() {
        let [x1, y1] = corners[(i + 1) % corners.len()];
        // Green's theorem turns each area integral into one along the edges.
        let cross = x0 * y1 - x1 * y0;
        m.area += cross / 2.0;
        m.x += cross * (x0 + x1) / 6.0;
        m.y += cross * (y0 + y1) / 6.0;
        m.xx += cross * (sq(x0) + x0 * x1 + sq(x1)) / 12.0;
        m.yy += cross * (sq(y0) + y0 * y1 + sq(y1)) / 12.0;
        m.xy += cross * (2.0 * x0 * y0 + x0 * y1 + x1 * y0 + 2.0 * x1 * y1) / 24.0;
    }
    m
}

/// The part of the polygon where `a + b x + c y < 0`.
pub(super) fn below(corners: &[[f64; 2]], [a, b, c]: [f64; 3]) -> Vec<[f64; 2]> {
    let height = |[x, y]: [f64; 2]| a + b * x + c * y;
    let mut kept = Vec::with_capacity(corners.len() + 2);
    for (i, &from) in corners.iter().enumerate() {
        let to = corners[(i + 1) % corners.len()];
        let (h0, h1) = (height(from), height(to));
        if h0 < 0.0 {
            kept.push(from);
        }
        if (h0 < 0.0) != (h1 < 0.0) {
            let t = h0 / (h0 - h1);
            kept.push([from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    // Rectangle b × h with a corner at the origin: A = b h, ∫x² = b³h/3, ∫xy = b²h²/4 (any
    // textbook of mechanics).
    #[test]
    fn moments_of_a_rectangle() {
        let m = moments(&[[0.0, 0.0], [3.0, 0.0], [3.0, 2.0], [0.0, 2.0]]);
        for (got, expected) in [
            (m.area, 6.0),
            (m.x, 9.0),
            (m.y, 6.0),
            (m.xx, 27.0 * 2.0 / 3.0),
            (m.yy, 3.0 * 8.0 / 3.0),
            (m.xy, 9.0),
        ] {
            assert!((got - expected).abs() < 1e-14, "{got} against {expected}");
        }
    }

    #[test]
    fn a_cut_square_keeps_half_its_area() {
        let square = [[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]];
        let half = below(&square, [-1.0, 1.0, 1.0]);
        assert!((moments(&half).area - 0.5).abs() < 1e-15);
        assert!(below(&square, [1.0, 0.0, 0.0]).is_empty());
        assert_eq!(below(&square, [-1.0, 0.0, 0.0]).len(), 4);
    }
}
