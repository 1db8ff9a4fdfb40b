//! Shear: G2 to G6.

use fishplate_quantity::algebra::share;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::SHEAR;
use crate::packs::american::{aisc, e_of_steel};

use super::slender::{Parts, flats, parts};

const G: Source = aisc("G2 to G6");

/// Shear along both axes, each on the walls that lie along it.
pub(super) struct Shear;

impl Clause<MemberInput> for Shear {
    fn reference(&self) -> Source {
        G
    }

    fn title(&self) -> &'static str {
        "shear on the section, along the axis used more"
    }

    fn short(&self) -> &'static str {
        "shear"
    }

    fn applies(&self, _: &MemberInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (v_c_y, v_c_z) = available_shears(input, factors, trace)?;
        let v_y_ed = once!(trace, input.v_y_ed);
        let v_z_ed = once!(trace, input.v_z_ed);
        if matches!(input.shape, Shape::RoundTube | Shape::RoundBar | Shape::Angle) {
            step!(trace, Force, G, "shear in both directions together";
                v_r(v_y_ed, v_z_ed) = hypot(v_y_ed, v_z_ed));
            step!(trace, Ratio, G, "utilisation"; utilisation(v_r, v_c_z) = share(v_r, v_c_z));
            return Checked::new(v_r, v_c_z, Dimension::Force, utilisation);
        }
        step!(trace, Ratio, G, "utilisation, the larger of both directions";
            utilisation(v_y_ed, v_c_y, v_z_ed, v_c_z) =
            larger(share(abs(v_y_ed), v_c_y), share(abs(v_z_ed), v_c_z)));
        if share(v_y_ed.abs(), v_c_y) > share(v_z_ed.abs(), v_c_z) {
            Checked::new(v_y_ed.abs(), v_c_y, Dimension::Force, utilisation)
        } else {
            Checked::new(v_z_ed.abs(), v_c_z, Dimension::Force, utilisation)
        }
    }
}

/// The share of its yield strength that a wall keeps in shear: Cv2 of G2.2 (Cv before 2016).
macro_rules! buckled_share {
    ($trace:ident, $source:expr, $wall:literal;
     $c_v:ident($h:ident, $t:ident, $k_v:ident, $f_y:ident)) => {
        let e_steel = $crate::packs::american::e_of_steel($trace);
        step!($trace, Ratio, $source, concat!("share that buckling in shear leaves, ", $wall);
            $c_v($h, $t, $k_v, $f_y, e_steel) =
            if $h / $t <= 1.10 * sqrt($k_v * e_steel / $f_y) {
                1.0
            } else if $h / $t <= 1.37 * sqrt($k_v * e_steel / $f_y) {
                1.10 * sqrt($k_v * e_steel / $f_y) * $t / $h
            } else {
                1.51 * $k_v * e_steel * sq($t / $h) / $f_y
            });
    };
}

/// Records and returns the available shears along y and z. Round tubes and angles give the same
/// one twice, for the resultant.
pub(super) fn available_shears(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let (v_n_y, v_n_z) = nominal(input, factors, trace)?;
    available!(trace, factors, phi_v or omega_v of SHEAR;
        Force, aisc("G1"), "available shear along y"; v_c_y(v_n_y));
    available!(trace, factors, phi_v or omega_v of SHEAR;
        Force, aisc("G1"), "available shear along z"; v_c_z(v_n_z));
    Ok((v_c_y, v_c_z))
}

fn nominal(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let f_y = once!(trace, input.f_y);
    match input.shape {
        Shape::RectangularTube => {
            const G4: Source = aisc("G4 (G5 before 2016)");
            let (flat_b, flat_h, t) = flats(input, trace);
            step!(trace, Ratio, G4, "buckling factor in shear"; k_v() = 5.0);
            buckled_share!(trace, G4, "walls along the width"; c_v_y(flat_b, t, k_v, f_y));
            buckled_share!(trace, G4, "walls along the depth"; c_v_z(flat_h, t, k_v, f_y));
            step!(trace, Force, G4, "nominal shear along y";
                v_n_y(f_y, flat_b, t, c_v_y) = 0.6 * f_y * 2.0 * flat_b * t * c_v_y);
            step!(trace, Force, G4, "nominal shear along z";
                v_n_z(f_y, flat_h, t, c_v_z) = 0.6 * f_y * 2.0 * flat_h * t * c_v_z);
            Ok((v_n_y, v_n_z))
        }
        Shape::RoundTube => {
            const G5: Source = aisc("G5 (G6 before 2016)");
            let h = once!(trace, input.h);
            let t = once!(trace, input.t);
            let a = once!(trace, input.a);
            // The form with the distance to zero shear gives more; it is left out.
            let e_steel = e_of_steel(trace);
            step!(trace, Stress, G5, "shear stress it stands, whatever its length";
                f_v(h, t, f_y, e_steel) = smaller(0.6 * f_y, 0.78 * e_steel / power(h / t, 1.5)));
            step!(trace, Force, G5, "nominal shear in any direction"; v_n(f_v, a) = f_v * a / 2.0);
            step!(trace, Force, G, "nominal shear along y"; v_n_y(v_n) = v_n);
            step!(trace, Force, G, "nominal shear along z"; v_n_z(v_n) = v_n);
            Ok((v_n_y, v_n_z))
        }
        Shape::Channel | Shape::WeldedI => {
            const G2: Source = aisc("G2");
            const G6: Source = aisc("G6 (G7 before 2016)");
            let Parts { flange, web, t } = parts(input, trace);
            let h = once!(trace, input.h);
            let b = once!(trace, input.b);
            let c_v_z = if factors.edition().year >= 2016 {
                let e_steel = e_of_steel(trace);
                step!(trace, Ratio, aisc("G2.1, from 2016"), "share that buckling in shear leaves, web";
                    c_v_z(web, t, f_y, e_steel) =
                    smaller(1.0, 1.10 * sqrt(5.34 * e_steel / f_y) * t / web));
                c_v_z
            } else {
                step!(trace, Ratio, aisc("G2.1, before 2016"), "buckling factor in shear, web";
                    k_v() = 5.0);
                buckled_share!(trace, aisc("G2.1, before 2016"), "web"; c_v_z(web, t, k_v, f_y));
                c_v_z
            };
            step!(trace, Force, G2, "nominal shear along the web";
                v_n_z(f_y, h, t, c_v_z) = 0.6 * f_y * h * t * c_v_z);
            step!(trace, Ratio, G6, "buckling factor in shear, flanges"; k_f() = 1.2);
            buckled_share!(trace, G6, "flanges"; c_v_y(flange, t, k_f, f_y));
            step!(trace, Force, G6, "nominal shear along the flanges";
                v_n_y(f_y, b, t, c_v_y) = 0.6 * f_y * 2.0 * b * t * c_v_y);
            Ok((v_n_y, v_n_z))
        }
        Shape::Angle => {
            const G3: Source = aisc("G3 (G4 before 2016)");
            let h = once!(trace, input.h);
            let b = once!(trace, input.b);
            let t = once!(trace, input.t);
            step!(trace, Ratio, G3, "buckling factor in shear"; k_v() = 1.2);
            buckled_share!(trace, G3, "longer leg"; c_v_h(h, t, k_v, f_y));
            buckled_share!(trace, G3, "shorter leg"; c_v_b(b, t, k_v, f_y));
            step!(trace, Force, G3, "nominal shear of the leg that stands less, for any direction";
                v_n(f_y, h, b, t, c_v_h, c_v_b) =
                0.6 * f_y * t * smaller(h * c_v_h, b * c_v_b));
            step!(trace, Force, G, "nominal shear along y"; v_n_y(v_n) = v_n);
            step!(trace, Force, G, "nominal shear along z"; v_n_z(v_n) = v_n);
            Ok((v_n_y, v_n_z))
        }
        Shape::Rectangle | Shape::RoundBar => {
            const BAR: Source = aisc("G4, solid bar (J4.2 as a connecting element)");
            let a = once!(trace, input.a);
            step!(trace, Force, BAR, "nominal shear in either direction"; v_n(f_y, a) = 0.6 * f_y * a);
            step!(trace, Force, G, "nominal shear along y"; v_n_y(v_n) = v_n);
            step!(trace, Force, G, "nominal shear along z"; v_n_z(v_n) = v_n);
            Ok((v_n_y, v_n_z))
        }
    }
}
