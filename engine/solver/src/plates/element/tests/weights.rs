//! Loads, masses, geometric stiffness against exact integrals.

use super::super::{area_weights, geometric_stiffness, products};
use super::shapes;

/// Forces of a uniform pressure have the resultant of the area at its centroid (area and first
/// moments of a polygon by its sides, Green).
#[test]
fn area_weights_have_the_area_and_its_centroid() {
    for (name, facet) in shapes() {
        let weights = area_weights(&facet);
        let (mut area, mut first) = (0.0, [0.0; 2]);
        for i in 0..facet.corners {
            let (p, q) = (facet.plane[i], facet.plane[(i + 1) % facet.corners]);
            let cross = p[0] * q[1] - q[0] * p[1];
            area += cross / 2.0;
            for k in 0..2 {
                first[k] += cross * (p[k] + q[k]) / 6.0;
            }
        }
        assert!((area / facet.area - 1.0).abs() < 1e-13, "{name}");
        assert!((weights.iter().sum::<f64>() / area - 1.0).abs() < 1e-13, "{name}");
        for k in 0..2 {
            let got: f64 = weights.iter().zip(&facet.plane).map(|(w, p)| w * p[k]).sum();
            assert!((got - first[k]).abs() < 1e-13 * area.sqrt() * area, "{name}");
        }
    }
}

/// Second moments of area of a polygon by its sides (Green): the energy of a rotation in the plane
/// is exact with products of linear fields.
#[test]
fn products_have_the_second_moments_of_area() {
    for (name, facet) in shapes() {
        let products = products(&facet);
        for k in 0..2 {
            let (mut exact, mut got) = (0.0, 0.0);
            for i in 0..facet.corners {
                let (p, q) = (facet.plane[i], facet.plane[(i + 1) % facet.corners]);
                let cross = p[0] * q[1] - q[0] * p[1];
                exact += cross * (p[k] * p[k] + p[k] * q[k] + q[k] * q[k]) / 12.0;
            }
            for (row, p) in products.iter().zip(&facet.plane) {
                for (value, q) in row.iter().zip(&facet.plane) {
                    got += p[k] * value * q[k];
                }
            }
            assert!((got / exact - 1.0).abs() < 1e-13, "{name}: {got} {exact}");
        }
    }
}

/// On a plane tilt a uniform tension does the work `A grad w . n . grad w`, on a translation none;
/// rotations see `t^2 / 12` of it and the one about the normal nothing.
#[test]
fn geometric_stiffness_does_the_work_of_tension_on_a_tilt() {
    let (n, tilt, thickness) = ([300.0, -120.0, 70.0], [0.02, -0.05], 0.006);
    for (name, facet) in shapes().into_iter().filter(|(_, facet)| facet.is_flat()) {
        let matrix = geometric_stiffness(&facet, thickness, &[n; 4]);
        let exact = facet.area
            * (n[0] * tilt[0] * tilt[0]
                + n[1] * tilt[1] * tilt[1]
                + 2.0 * n[2] * tilt[0] * tilt[1]);
        let value = |i: usize| tilt[0] * facet.plane[i][0] + tilt[1] * facet.plane[i][1] + 0.003;
        for movement in 0..6 {
            let mut work = 0.0;
            for i in 0..facet.corners {
                for j in 0..facet.corners {
                    work += value(i) * matrix[6 * i + movement][6 * j + movement] * value(j);
                }
            }
            let share = [1.0, 1.0, 1.0, 3e-6, 3e-6, 0.0][movement];
            assert!((work - share * exact).abs() <= 1e-10 * share * exact.abs(), "{name}: {work}");
        }
    }
}
