//! Buckling of a compressed member with twist: open sections.

use std::f64::consts::PI;

use fishplate_quantity::algebra::smaller;
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::{e_of_steel, g_of_steel, general};

use super::buckling::{Strut, about_y, about_z, reduction};
use super::class::Class;
use super::lateral::warping;

/// Torsional and flexural-torsional buckling under axial force.
///
/// A larger second moment alone, with the same torsion constant, lowers the critical force of
/// torsion: the section's area then lies farther out.
pub(super) struct Torsional;

const TORSIONAL: Source = general("6.3.1.4");
const CRITICAL: Source =
    Source::mechanics("elastic buckling of a thin-walled column by bending and twist");

impl Clause<MemberInput> for Torsional {
    fn reference(&self) -> Source {
        TORSIONAL
    }

    fn title(&self) -> &'static str {
        "buckling of the member with twist"
    }

    fn short(&self) -> &'static str {
        "buckling, twist"
    }

    fn irregular(&self) -> &'static [&'static str] {
        &["i_y", "i_z"]
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.n_ed >= 0.0 {
            return Applicability::DoesNotApply("the member is not compressed".to_owned());
        }
        let closed = matches!(input.shape, Shape::RectangularTube | Shape::RoundTube);
        if closed {
            return Applicability::DoesNotApply("a closed section does not twist first".to_owned());
        }
        Applicability::only_if(input.l_cr_t.is_some(), "the member is held against twisting")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let strut = Strut::read(input, factors, trace)?;
        let n_cr_y = about_y(input, trace, &strut)?.n_cr;
        let n_cr_z = about_z(input, trace, &strut)?.n_cr;
        if strut.class == Class::Four {
            input.a(trace);
        }
        input.i_t(trace);
        let i_w = warping(input, trace);
        let (n_cr_t, i_0_sq, (y_0, z_0)) = twist(input, i_w, trace)?;
        let n_cr = critical_force((n_cr_y, n_cr_z, n_cr_t), (i_0_sq, y_0, z_0), trace);
        let Strut { a_n, f_y, alpha, gamma_m1, .. } = strut;
        step!(trace, Ratio, TORSIONAL, "slenderness"; lambda_t(a_n, f_y, n_cr) = sqrt(a_n * f_y / n_cr));
        reduction!(trace, TORSIONAL, phi_t, chi_t(lambda_t, alpha));
        step!(trace, Force, TORSIONAL, "buckling resistance";
            n_b_rd(chi_t, a_n, f_y, gamma_m1) = chi_t * a_n * f_y / gamma_m1);
        let n_ed = input.n_ed(trace);
        step!(trace, Force, TORSIONAL, "compression"; n_c_ed(n_ed) = abs(n_ed));
        step!(trace, Ratio, TORSIONAL, "utilisation"; utilisation(n_c_ed, n_b_rd) = n_c_ed / n_b_rd);
        Checked::new(n_c_ed, n_b_rd, Dimension::Force, utilisation)
    }
}

/// Critical force of twist alone, the square of the polar radius, and the shear centre.
///
/// What else it needs has been read before. A rectangle and an I have their shear centre at the centroid; the other shapes must state it.
pub(super) fn twist(
    input: &MemberInput,
    i_w: f64,
    trace: &mut Trace,
) -> Result<(f64, f64, (f64, f64)), NotChecked> {
    let &MemberInput { a, i_y, i_z, i_t, .. } = input;
    let l_cr_t = input.l_cr_t(trace)?;
    let symmetric = matches!(input.shape, Shape::Rectangle | Shape::RoundBar | Shape::WeldedI);
    let y_0 = if symmetric && input.y_0.is_none() {
        step!(trace, Length, CRITICAL, "shear centre at the centroid"; y_0() = 0.0);
        y_0
    } else {
        input.y_0(trace)?
    };
    let z_0 = if input.z_0.is_some() {
        input.z_0(trace)?
    } else {
        step!(trace, Length, CRITICAL, "shear centre on the axis y"; z_0() = 0.0);
        z_0
    };
    step!(trace, Area, CRITICAL, "square of the polar radius about the shear centre";
        i_0_sq(i_y, i_z, a, y_0, z_0) = (i_y + i_z) / a + sq(y_0) + sq(z_0));
    let (e_steel, g_steel) = (e_of_steel(trace), g_of_steel(trace));
    step!(trace, Force, CRITICAL, "critical force of twist alone";
        n_cr_t(g_steel, i_t, e_steel, i_w, l_cr_t, i_0_sq) =
        (g_steel * i_t + PI * PI * e_steel * i_w / sq(l_cr_t)) / i_0_sq);
    Ok((n_cr_t, i_0_sq, (y_0, z_0)))
}

/// The least root of
/// i0² (N - Ny) (N - Nz) (N - NT) - N² y0² (N - Nz) - N² z0² (N - Ny) = 0.
fn critical_force(
    (n_cr_y, n_cr_z, n_cr_t): (f64, f64, f64),
    (i_0_sq, y_0, z_0): (f64, f64, f64),
    trace: &mut Trace,
) -> f64 {
    if z_0.abs() <= 0.0 {
        step!(trace, Ratio, CRITICAL, "what the distance of the shear centre leaves";
            beta(y_0, i_0_sq) = 1.0 - sq(y_0) / i_0_sq);
        step!(trace, Force, CRITICAL, "critical force of bending about y with twist";
            n_cr_tf(n_cr_y, n_cr_t, beta) =
            2.0 * n_cr_y * n_cr_t
                / (n_cr_y + n_cr_t + sqrt(positive(sq(n_cr_y + n_cr_t)
                    - 4.0 * beta * n_cr_y * n_cr_t))));
        step!(trace, Force, CRITICAL, "least critical force";
            n_cr(n_cr_tf, n_cr_z) = smaller(n_cr_tf, n_cr_z));
        return n_cr;
    }
    let remainder = |n: f64| {
        i_0_sq * (n - n_cr_y) * (n - n_cr_z) * (n - n_cr_t)
            - n * n * y_0 * y_0 * (n - n_cr_z)
            - n * n * z_0 * z_0 * (n - n_cr_y)
    };
    // Negative at zero, not so at the least of the three: the least root lies between.
    let (mut low, mut high) = (0.0, smaller(smaller(n_cr_y, n_cr_z), n_cr_t));
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if remainder(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    trace.input(
        "n_cr",
        "least critical force, bending and twist together",
        Dimension::Force,
        low,
        || {
            Provenance::Solved(
                "the cubic equation of bending about both axes with twist".to_owned(),
            )
        },
    )
}
