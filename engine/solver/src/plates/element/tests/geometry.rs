//! Shapes that are refused, natural coordinates.

use super::super::{BadShape, Facet};
use super::shapes;
use crate::vector::{Vec3, add, scale};

fn flat(points: [[f64; 2]; 4]) -> [Vec3; 4] {
    points.map(|p| [p[0], p[1], 0.0])
}

#[test]
fn shapes_that_cannot_be_name_their_corner() {
    let arrow = flat([[0.0, 0.0], [1.0, 0.0], [0.2, 0.2], [0.0, 1.0]]);
    assert!(matches!(Facet::quad(&arrow), Err(BadShape::NotConvex { corner: 2, .. })));
    let straight = flat([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [0.0, 1.0]]);
    assert!(matches!(Facet::quad(&straight), Err(BadShape::NotConvex { corner: 1, .. })));
    let crossed = flat([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 0.4]]);
    assert!(matches!(Facet::quad(&crossed), Err(BadShape::NotConvex { .. })));
    let folded = flat([[0.0, 0.0], [1.0, 1.0], [1.0, 0.0], [0.0, 1.0]]);
    assert_eq!(Facet::quad(&folded), Err(BadShape::NoArea));
    let line = flat([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [3.0, 0.0]]);
    assert_eq!(Facet::quad(&line), Err(BadShape::NoArea));
    let repeated = flat([[0.0, 0.0], [1.0, 0.0], [1.0, 0.0], [0.0, 1.0]]);
    assert!(matches!(Facet::quad(&repeated), Err(BadShape::NotConvex { .. })));
    let mut lifted = flat([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]);
    for (corner, height) in [0.3, -0.3, 0.3, -0.3].into_iter().enumerate() {
        lifted[corner][2] = height;
    }
    assert!(matches!(Facet::quad(&lifted), Err(BadShape::Warped { warp, .. }) if warp > 0.29));
    lifted[0][0] = f64::NAN;
    assert_eq!(Facet::quad(&lifted), Err(BadShape::NoArea));
    let triangle = [[0.0, 0.0, 0.0], [1.0, 1.0, 1.0], [2.0, 2.0, 2.0]];
    assert_eq!(Facet::triangle(&triangle), Err(BadShape::NoArea));
}

/// Clockwise corners in space are an element seen from behind, and fine.
#[test]
fn the_normal_follows_the_corners() {
    let points = flat([[0.0, 0.0], [0.0, 1.0], [1.0, 1.0], [1.0, 0.0]]);
    assert!((Facet::quad(&points).unwrap().axes[2][2] + 1.0).abs() < 1e-15);
}

#[test]
fn natural_coordinates_are_found_again() {
    for (name, facet) in shapes() {
        let places: &[[f64; 2]] = if facet.corners == 4 {
            &[[0.0, 0.0], [-1.0, -1.0], [0.3, -0.7], [1.0, 0.2], [1.2, -1.1]]
        } else {
            &[[0.0, 0.0], [1.0, 0.0], [0.25, 0.5], [0.6, 0.6], [-0.1, 0.3]]
        };
        for &[xi, eta] in places {
            let mut point = facet.origin;
            for (n, p) in facet.shape(xi, eta).iter().zip(&facet.plane) {
                point = add(point, scale(n * p[0], facet.axes[0]));
                point = add(point, scale(n * p[1], facet.axes[1]));
            }
            // The height over the plane plays no part.
            point = add(point, scale(0.004, facet.axes[2]));
            let [a, b] = facet.locate(point).unwrap();
            assert!((a - xi).abs() < 1e-12 && (b - eta).abs() < 1e-12, "{name}: {a} {b}");
        }
    }
}

/// The sides of this trapezium meet at (0.5, 5): no bilinear coordinates reach far beyond.
#[test]
fn a_point_that_no_coordinates_reach_has_none() {
    let facet = Facet::quad(&flat([[0.0, 0.0], [1.0, 0.0], [0.9, 1.0], [0.1, 1.0]])).unwrap();
    assert_eq!(facet.locate([5.0, 5.0, 0.0]), None);
    assert!(facet.locate([0.5, 0.5, 0.0]).is_some());
}
