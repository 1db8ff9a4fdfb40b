//! Forces per length of fields that are known.

use super::super::{PlateLaw, in_turned_axes};
use super::STEEL;
use super::assembly::Mesh;
use std::collections::BTreeMap;

/// A cantilever strip with Poisson's ratio zero under an end force P: `m = -P x / b` at the
/// distance x from the end (statics). The mean over the strip is exact, because the field
/// `w = x^2 / 2` of constant curvature is one of those that the elements are in equilibrium with;
/// a quadrilateral has the very moment at its centre.
#[test]
fn moments_balance_the_force_at_the_end() {
    let law = PlateLaw { poisson: 0.0, ..STEEL };
    let (force, width, length, count) = (100.0, 0.02, 0.16, 8);
    let quads = Mesh::strip(count, length / count as f64, width, law);
    for mesh in [quads.cut(), quads] {
        let given: BTreeMap<usize, f64> = (0..12).map(|i| (i, 0.0)).collect();
        let mut forces = vec![0.0; 6 * mesh.points.len()];
        let end = forces.len() - 12;
        forces[end + 2] = force / 2.0;
        forces[end + 8] = force / 2.0;
        let movements = mesh.solve(&forces, &given);
        let mut sum = 0.0;
        for element in &mesh.elements {
            let (facet, got) = mesh.recovered(element, &movements);
            let [c, s, _] = facet.axes[0];
            let moment = in_turned_axes(got.centre.bending, -s.atan2(c))[0];
            sum += facet.area * moment;
            if element.len() == 4 {
                // Pushed towards its top at the end, it is pressed at the top.
                let exact = -force / width * (length - facet.origin[0]);
                assert!((moment / exact - 1.0).abs() < 1e-9, "{moment} {exact}");
            }
        }
        let mean = -force / width * length / 2.0;
        let got = sum / (width * length);
        assert!((got / mean - 1.0).abs() < 1e-9, "{got} {mean}");
    }
}

/// A tensor in axes turned by 90 degrees has x and y changed and the shear reversed; its trace and
/// determinant never change.
#[test]
fn tensors_turn_as_tensors() {
    let tensor = [3.0, -1.0, 2.0];
    let quarter = in_turned_axes(tensor, std::f64::consts::FRAC_PI_2);
    for (got, exact) in quarter.iter().zip([-1.0, 3.0, -2.0]) {
        assert!((got - exact).abs() < 1e-15);
    }
    let [x, y, xy] = in_turned_axes(tensor, 0.7);
    assert!((x + y - 2.0).abs() < 1e-14 && (x * y - xy * xy + 7.0).abs() < 1e-14);
}
