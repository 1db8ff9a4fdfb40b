//! A point of a fillet weld between faces at any angle, with unequal legs and a stated quality.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{FilletInput, WeldMade};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, SQRT_3, THIN, joints};

/// Beads between faces sharper than 60° or blunter than 120° are no fillets: the first are butt
/// welds of partial penetration, the second need a test.
fn is_fillet(input: &FilletInput) -> Applicability {
    let degrees = input.psi.to_degrees();
    // Angles given in degrees come back with a rounding error.
    if !(60.0 - 1e-9..=120.0 + 1e-9).contains(&degrees) {
        return Applicability::DoesNotApply(format!(
            "faces at {degrees:.0} degrees: below 60 it is a butt weld of partial penetration, \
             above 120 only a test tells"
        ));
    }
    Applicability::within(input.t_thin.is_none_or(|t| t >= THIN), || {
        "EN 1993-1-8 4.1(1) speaks of parts from 4 mm on: the sheet beside the bead must be \
         checked as well"
            .to_owned()
    })
}

/// The triangle of the bead: the throat is its height over the face, `h_1`, `h_2` the direction of
/// the face, across which the throat is cut.
struct Bead {
    a: f64,
    h_1: f64,
    h_2: f64,
}

impl Bead {
    fn read(input: &FilletInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        const THROAT: Source = joints("4.5.2(1)");
        let z_1 = input.z_1(trace);
        let z_2 = input.z_2(trace);
        let gap = input.gap(trace);
        let psi = input.psi(trace);
        if gap > 5.0 * MM || gap >= z_1 || gap >= z_2 {
            return Err(NotChecked::OutOfRange {
                symbol: "gap",
                what: "fit-up gap at the root",
                value: gap,
                dimension: Dimension::Length,
                allowed: "at most 5 mm and less than the legs: close the gap or weld it otherwise",
            });
        }
        step!(trace, Length, THROAT, "leg 1 less the gap"; l_1(z_1, gap) = z_1 - gap);
        step!(trace, Length, THROAT, "leg 2 less the gap"; l_2(z_2, gap) = z_2 - gap);
        step!(trace, Length, Source::mechanics("law of cosines"), "width of the face of the bead";
            c(l_1, l_2, psi) = sqrt(sq(l_1) + sq(l_2) - 2.0 * l_1 * l_2 * cos(psi)));
        step!(trace, Length, THROAT, "throat, the height of the triangle over its face";
            a(l_1, l_2, psi, c) = l_1 * l_2 * sin(psi) / c);
        step!(trace, Ratio, Source::mechanics("direction of the face"), "along face 1";
            h_1(l_1, l_2, psi, c) = (l_1 - l_2 * cos(psi)) / c);
        step!(trace, Ratio, Source::mechanics("direction of the face"), "square to face 1";
            h_2(l_2, psi, c) = -l_2 * sin(psi) / c);
        Ok(Self { a, h_1, h_2 })
    }
}

/// Records and returns the share of the strength that is relied on.
fn quality(input: &FilletInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let k_quality = input.k_quality(trace);
    if k_quality > 1.0 {
        return Err(NotChecked::OutOfRange {
            symbol: "k_quality",
            what: "share of the full strength that is relied on",
            value: k_quality,
            dimension: Dimension::Ratio,
            allowed: "at most 1",
        });
    }
    Ok(k_quality)
}

/// Resultant and bending about the root against the shear strength, whatever the direction.
pub(super) struct AnySimplified;

const SIMPLIFIED: Source = joints("4.5.3.3 with 4.3.2.1, faces at an angle");
const ROOT: Source = joints("4.12");

impl Clause<FilletInput> for AnySimplified {
    fn reference(&self) -> Source {
        SIMPLIFIED
    }

    fn title(&self) -> &'static str {
        "fillet weld of any angle, simplified method"
    }

    fn short(&self) -> &'static str {
        "fillet, simplified"
    }

    fn aspect(&self) -> Aspect {
        Aspect::AnyDirection
    }

    fn applies(&self, input: &FilletInput) -> Applicability {
        is_fillet(input)
    }

    fn formula(
        &self,
        input: &FilletInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let Bead { a, .. } = Bead::read(input, trace)?;
        let m_root = input.m_root(trace);
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let k_quality = quality(input, trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, LineForce, Source::mechanics("resultant of three components"),
            "resultant force per length"; q_ed(q_1, q_2, q_l) = sqrt(sq(q_1) + sq(q_2) + sq(q_l)));
        step!(trace, Stress, ROOT, "bending of the throat about the root";
            sigma_root(m_root, a) = 6.0 * m_root / sq(a));
        step!(trace, Stress, SIMPLIFIED, "resultant stress on the throat";
            f_w_ed(q_ed, a, sigma_root) = q_ed / a + sigma_root);
        step!(trace, Stress, SIMPLIFIED, "shear strength of the weld, the share relied on";
            f_vw_d(k_quality, f_u, beta_w, gamma_m2) =
            k_quality * f_u / (SQRT_3 * beta_w * gamma_m2));
        step!(trace, Ratio, SIMPLIFIED, "utilisation";
            utilisation(f_w_ed, f_vw_d) = f_w_ed / f_vw_d);
        Checked::new(f_w_ed, f_vw_d, Dimension::Stress, utilisation)
    }
}

/// Stress components on the throat, bending about the root as normal stress.
pub(super) struct AnyDirectional;

const DIRECTIONAL: Source = joints("4.5.3.2 with 4.3.2.1, faces at an angle");

impl Clause<FilletInput> for AnyDirectional {
    fn reference(&self) -> Source {
        DIRECTIONAL
    }

    fn title(&self) -> &'static str {
        "fillet weld of any angle, directional method"
    }

    fn short(&self) -> &'static str {
        "fillet, directional"
    }

    fn aspect(&self) -> Aspect {
        Aspect::ByDirection
    }

    fn applies(&self, input: &FilletInput) -> Applicability {
        is_fillet(input)
    }

    fn formula(
        &self,
        input: &FilletInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let q_1 = input.q_1(trace);
        let q_2 = input.q_2(trace);
        let q_l = input.q_l(trace);
        let Bead { a, h_1, h_2 } = Bead::read(input, trace)?;
        let m_root = input.m_root(trace);
        let f_u = input.f_u(trace);
        let beta_w = input.beta_w(trace);
        let k_quality = quality(input, trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        factors.note_strengths(trace);
        step!(trace, Stress, ROOT, "bending of the throat about the root";
            sigma_root(m_root, a) = 6.0 * m_root / sq(a));
        step!(trace, Stress, DIRECTIONAL, "normal stress on the throat";
            sigma_perp(q_1, h_1, q_2, h_2, a, sigma_root) =
            abs(q_1 * h_1 + q_2 * h_2) / a + sigma_root);
        step!(trace, Stress, DIRECTIONAL, "shear stress on the throat across the bead";
            tau_perp(q_2, h_1, q_1, h_2, a) = abs(q_2 * h_1 - q_1 * h_2) / a);
        step!(trace, Stress, DIRECTIONAL, "shear stress on the throat along the bead";
            tau_par(q_l, a) = abs(q_l) / a);
        step!(trace, Stress, DIRECTIONAL, "comparison stress";
            sigma_eq(sigma_perp, tau_perp, tau_par) =
            sqrt(sq(sigma_perp) + 3.0 * (sq(tau_perp) + sq(tau_par))));
        step!(trace, Stress, DIRECTIONAL, "strength against the comparison stress, the share relied on";
            f_w_d(k_quality, f_u, beta_w, gamma_m2) = k_quality * f_u / (beta_w * gamma_m2));
        step!(trace, Stress, DIRECTIONAL, "strength against the normal stress, the share relied on";
            f_perp_d(k_quality, f_u, gamma_m2) = k_quality * 0.9 * f_u / gamma_m2);
        step!(trace, Ratio, DIRECTIONAL, "utilisation, the larger of both criteria";
            utilisation(sigma_eq, f_w_d, sigma_perp, f_perp_d) =
            larger(sigma_eq / f_w_d, sigma_perp / f_perp_d));
        if sigma_perp / f_perp_d > sigma_eq / f_w_d {
            Checked::new(sigma_perp, f_perp_d, Dimension::Stress, utilisation)
        } else {
            Checked::new(sigma_eq, f_w_d, Dimension::Stress, utilisation)
        }
    }
}

/// Least throat of such a bead.
pub(super) struct AnyThroat;

const LEAST: Source = joints("4.5.2(2), faces at an angle");

impl Clause<FilletInput> for AnyThroat {
    fn reference(&self) -> Source {
        LEAST
    }

    fn title(&self) -> &'static str {
        "least throat of a fillet weld of any angle"
    }

    fn short(&self) -> &'static str {
        "least throat"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &FilletInput) -> Applicability {
        if input.t_thin.is_some_and(|t| t < THIN) {
            return Applicability::DoesNotApply(
                "the thinner part is under 4 mm: EN 1993-1-3 has no least throat".to_owned(),
            );
        }
        is_fillet(input)
    }

    fn formula(
        &self,
        input: &FilletInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let Bead { a, .. } = Bead::read(input, trace)?;
        step!(trace, Length, LEAST, "least throat"; a_min() = 3.0 * MM);
        step!(trace, Ratio, LEAST, "required over provided"; utilisation(a_min, a) = a_min / a);
        Checked::new(a_min, a, Dimension::Length, utilisation)
    }
}

/// Largest throat beside a thin part: a thicker bead burns through it or draws it out of shape.
pub(super) struct AnyThickest;

const THICKEST: Source = Source::practice("throat at most 0.7 of the thinner part");

impl Clause<FilletInput> for AnyThickest {
    fn reference(&self) -> Source {
        THICKEST
    }

    fn title(&self) -> &'static str {
        "largest throat beside a thin part"
    }

    fn short(&self) -> &'static str {
        "largest throat"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &FilletInput) -> Applicability {
        let given = input.t_thin.is_some();
        Applicability::only_if(given, "the thickness of the thinner part is not given")
    }

    fn formula(
        &self,
        input: &FilletInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let Bead { a, .. } = Bead::read(input, trace)?;
        let t_thin = input.t_thin(trace)?;
        step!(trace, Length, THICKEST, "largest throat"; a_max(t_thin) = 0.7 * t_thin);
        step!(trace, Ratio, THICKEST, "provided over allowed"; utilisation(a, a_max) = a / a_max);
        Checked::new(a, a_max, Dimension::Length, utilisation)
    }
}

/// Whether the share of the strength relied on fits how the bead is made.
pub(super) struct StatedQuality;

const QUALITY: Source = Source::practice("share of the strength of a bead by how it is made");

impl Clause<FilletInput> for StatedQuality {
    fn reference(&self) -> Source {
        QUALITY
    }

    fn title(&self) -> &'static str {
        "share of the strength relied on, against what is usual for such a bead"
    }

    fn short(&self) -> &'static str {
        "weld quality"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &FilletInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &FilletInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let k_quality = quality(input, trace)?;
        let value = match input.made {
            WeldMade::Inspected => 1.0,
            WeldMade::NotInspected => 0.85,
            WeldMade::Overhead => 0.6,
        };
        let what = "share usual for how the bead is made";
        let k_usual = trace.input("k_usual", what, Dimension::Ratio, value, || {
            Provenance::Assumed(
                "common practice, no source: 1 inspected, 0.7 to 0.85 not inspected, 0.6 overhead \
                 or without practice"
                    .to_owned(),
            )
        });
        step!(trace, Ratio, QUALITY, "provided over allowed";
            utilisation(k_quality, k_usual) = k_quality / k_usual);
        Checked::new(k_quality, k_usual, Dimension::Ratio, utilisation)
    }
}
