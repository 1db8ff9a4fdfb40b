//! Members under several forces at once: H1, H2 and H3.2.
//!
//! Forces are those of a first-order analysis; compression magnifies the moments by Appendix 8.
//! With ends that can move sideways the member is taken as its own storey, as one post of a frame.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{EndsSway, MemberInput, MomentDiagram, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, Format, NotChecked};
use crate::packs::american::available::once;
use crate::packs::american::{aisc, e_of_steel};

use super::bending::available_moments;
use super::compression::available_compression;
use super::shear::available_shears;
use super::tension::available_tension;
use super::torsion::{available_torque, closed};

const H1: Source = aisc("H1");
const H2: Source = aisc("H2");
const H3_2: Source = aisc("H3.2");
const APPENDIX_8: Source = aisc("Appendix 8 (C2 in 2005)");

/// Axial force and bending of sections with an axis of symmetry.
pub(super) struct AxialAndBending;

impl Clause<MemberInput> for AxialAndBending {
    fn reference(&self) -> Source {
        H1
    }

    fn title(&self) -> &'static str {
        "axial force and bending about both axes together"
    }

    fn short(&self) -> &'static str {
        "axial force and bending"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.shape != Shape::Angle, "angles are for H2")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (p, m) = ratios(input, factors, trace)?;
        // Where both forms are exceeded the larger counts, so that more area never means a higher
        // row; up to 1 that changes nothing.
        step!(trace, Ratio, aisc("H1.1 and H1.2, (H1-1a) and (H1-1b)"), "utilisation";
            utilisation(p, m) =
            if p >= 0.2 { larger(p + 8.0 / 9.0 * m, p / 2.0 + m) } else { p / 2.0 + m });
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Axial force and bending of single angles about their principal axes, all stresses taken to meet
/// at one point.
pub(super) struct Unsymmetric;

impl Clause<MemberInput> for Unsymmetric {
    fn reference(&self) -> Source {
        H2
    }

    fn title(&self) -> &'static str {
        "axial force and bending of an angle about both principal axes together"
    }

    fn short(&self) -> &'static str {
        "axial force and bending"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(input.shape == Shape::Angle, "sections with symmetry are for H1")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let (p, m) = ratios(input, factors, trace)?;
        step!(trace, Ratio, H2, "utilisation, (H2-1) with all signs alike"; utilisation(p, m) = p + m);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// A tube under torque with other forces.
pub(super) struct WithTorsion;

impl Clause<MemberInput> for WithTorsion {
    fn reference(&self) -> Source {
        H3_2
    }

    fn title(&self) -> &'static str {
        "torque, shear, axial force and bending of a tube together"
    }

    fn short(&self) -> &'static str {
        "all forces on a tube"
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        Applicability::only_if(closed(input.shape), "the section is open or solid")
    }

    fn formula(
        &self,
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t_ed = once!(trace, input.t_ed);
        let t_c = available_torque(input, factors, trace)?;
        step!(trace, Ratio, H3_2, "torque over available torque"; t_r(t_ed, t_c) = share(abs(t_ed), t_c));
        if t_r <= 0.2 {
            let reason = "the torque is below a fifth of what is available: H1 holds without it";
            return Err(NotChecked::DoesNotApply { reason: reason.to_owned() });
        }
        let (p, m) = ratios(input, factors, trace)?;
        let v_y_ed = once!(trace, input.v_y_ed);
        let v_z_ed = once!(trace, input.v_z_ed);
        let (v_c_y, v_c_z) = available_shears(input, factors, trace)?;
        let v = if input.shape == Shape::RoundTube {
            step!(trace, Ratio, H3_2, "shear over available shear";
                v(v_y_ed, v_z_ed, v_c_z) = share(hypot(v_y_ed, v_z_ed), v_c_z));
            v
        } else {
            step!(trace, Ratio, H3_2, "shear over available shear, the larger of both directions";
                v(v_y_ed, v_c_y, v_z_ed, v_c_z) =
                larger(share(abs(v_y_ed), v_c_y), share(abs(v_z_ed), v_c_z)));
            v
        };
        step!(trace, Ratio, H3_2, "utilisation, (H3-6)"; utilisation(p, m, v, t_r) =
            p + m + sq(v + t_r));
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Records and returns axial force over available strength, and the same of both moments added.
fn ratios(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let n_ed = once!(trace, input.n_ed);
    let (m_c_y, m_c_z) = available_moments(input, factors, trace)?;
    if input.n_ed >= 0.0 {
        let p_c = available_tension(input, factors, trace)?;
        let m_y_ed = once!(trace, input.m_y_ed);
        let m_z_ed = once!(trace, input.m_z_ed);
        step!(trace, Ratio, H1, "tension over available strength"; p(n_ed, p_c) = n_ed / p_c);
        step!(trace, Ratio, H1, "moments over available moments";
            m(m_y_ed, m_c_y, m_z_ed, m_c_z) =
            share(abs(m_y_ed), m_c_y) + share(abs(m_z_ed), m_c_z));
        return Ok((p, m));
    }
    let p_c = available_compression(input, factors, trace)?;
    let (m_r_y, m_r_z) = magnified(input, factors, trace)?;
    step!(trace, Ratio, H1, "compression over available strength"; p(n_ed, p_c) = abs(n_ed) / p_c);
    step!(trace, Ratio, H1, "moments over available moments";
        m(m_r_y, m_c_y, m_r_z, m_c_z) = share(m_r_y, m_c_y) + share(m_r_z, m_c_z));
    Ok((p, m))
}

/// The moment about one axis, magnified by the compression.
macro_rules! about_axis {
    ($function:ident, $axis:literal, $m_ed:ident, $i:ident, $l_cr:ident, $psi:ident,
     $diagram:ident;
     $p_e:ident, $c_m:ident, $b:ident, $m_r:ident) => {
        fn $function(
            input: &MemberInput,
            trace: &mut Trace,
            alpha: f64,
        ) -> Result<f64, NotChecked> {
            let n_ed = once!(trace, input.n_ed);
            let $m_ed = once!(trace, input.$m_ed);
            let $i = once!(trace, input.$i);
            let $l_cr = once!(trace, input.$l_cr)?;
            let e_steel = e_of_steel(trace);
            step!(trace, Force, APPENDIX_8, concat!("elastic critical force about ", $axis);
                $p_e($i, $l_cr, e_steel) = PI * PI * e_steel * $i / sq($l_cr));
            if alpha * n_ed.abs() >= 0.85 * $p_e {
                let reason = "the compression is at the elastic critical force: the moments have no \
                              bound; see the row of buckling";
                return Err(NotChecked::NoRule { reason: reason.to_owned() });
            }
            let $b = if input.ends == EndsSway::Sway {
                step!(trace, Ratio, APPENDIX_8,
                    concat!("growth of the moment, ends that move, about ", $axis);
                    $b(alpha, n_ed, $p_e) = 1.0 / (1.0 - alpha * abs(n_ed) / (0.85 * $p_e)));
                $b
            } else {
                let at_ends = input.$diagram == MomentDiagram::EndMoments;
                let $c_m = if at_ends && input.$psi.is_some() {
                    let $psi = once!(trace, input.$psi)?;
                    if !(-1.0..=1.0).contains(&$psi) {
                        return Err(NotChecked::OutOfRange {
                            symbol: stringify!($psi),
                            what: "smaller over larger end moment",
                            value: $psi,
                            dimension: Dimension::Ratio,
                            allowed: "-1 to 1",
                        });
                    }
                    step!(trace, Ratio, APPENDIX_8, concat!("factor of the moment diagram about ", $axis);
                        $c_m($psi) = 0.6 + 0.4 * $psi);
                    $c_m
                } else {
                    step!(trace, Ratio, APPENDIX_8,
                        concat!("factor of the moment diagram, not given or of a load between, about ", $axis);
                        $c_m() = 1.0);
                    $c_m
                };
                step!(trace, Ratio, APPENDIX_8,
                    concat!("growth of the moment between the ends, about ", $axis);
                    $b($c_m, alpha, n_ed, $p_e) =
                    larger(1.0, $c_m / (1.0 - alpha * abs(n_ed) / $p_e)));
                $b
            };
            step!(trace, Moment, APPENDIX_8, concat!("magnified moment about ", $axis);
                $m_r($b, $m_ed) = $b * abs($m_ed));
            Ok($m_r)
        }
    };
}

about_axis!(magnified_y, "y", m_y_ed, i_y, l_cr_y, psi_y, diagram_y; p_e_y, c_m_y, b_y, m_r_y);
about_axis!(magnified_z, "z", m_z_ed, i_z, l_cr_z, psi_z, diagram_z; p_e_z, c_m_z, b_z, m_r_z);

fn magnified(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    // The elastic critical force is one of strength level.
    let value = if factors.format() == Format::AllowableStrength { 1.6 } else { 1.0 };
    let what = "loads of strength level over loads of the analysis";
    let alpha = trace.input("alpha", what, Dimension::Ratio, value, || {
        Provenance::Table("AISC 360, Appendix 8: 1.0 for LRFD, 1.6 for ASD".to_owned())
    });
    Ok((magnified_y(input, trace, alpha)?, magnified_z(input, trace, alpha)?))
}
