//! What both methods for compression with bending share.

use fishplate_quantity::{Source, Trace, step};

use crate::clause::input::{EndsSway, MemberInput, MomentDiagram, Shape};
use crate::clause::{Applicability, Factors, NotChecked};
use crate::packs::en_1993::general;

use super::buckling::{AboutAxis, Strut, about_y, about_z};
use super::lateral::{end_ratio, general_case, modulus_y, modulus_z};

const COLUMN: Source = general("6.3.3(4)");

/// Buckling about both axes, and both moments over their resistances.
pub(super) struct Compressed {
    pub(super) strut: Strut,
    pub(super) y: AboutAxis,
    pub(super) z: AboutAxis,
    /// Size of the compression.
    pub(super) n_c_ed: f64,
    /// Reduction for sideways buckling, 1 where nothing turns.
    pub(super) chi_lt: f64,
    pub(super) w_y: f64,
    pub(super) w_z: f64,
    /// Moments with that of the shift of the centroid of a thin section.
    pub(super) m_y: f64,
    pub(super) m_z: f64,
    /// Moments over moment resistances.
    pub(super) r_y: f64,
    pub(super) r_z: f64,
}

/// Whether bending about y can turn the member sideways.
pub(super) fn turns(input: &MemberInput) -> bool {
    !closed(input) && input.l_lt.is_some()
}

pub(super) fn closed(input: &MemberInput) -> bool {
    matches!(input.shape, Shape::RectangularTube | Shape::RoundTube | Shape::RoundBar)
}

/// Compressed members other than angles; channels and, where `rectangles` says so, flats are
/// outside what the annex was made for.
pub(super) fn in_scope(input: &MemberInput, rectangles: bool) -> Applicability {
    if input.n_ed >= 0.0 {
        return Applicability::DoesNotApply("the member is not compressed".to_owned());
    }
    let made_for = match input.shape {
        Shape::RectangularTube
        | Shape::RoundTube
        | Shape::RoundBar
        | Shape::WeldedI
        | Shape::Angle => true,
        Shape::Rectangle => rectangles,
        Shape::Channel => false,
    };
    Applicability::within(made_for, || {
        "the annex was made for sections with two axes of symmetry; it is used as for an I"
            .to_owned()
    })
}

impl Compressed {
    pub(super) fn read(
        input: &MemberInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Self, NotChecked> {
        if input.shape == Shape::Angle {
            let reason = "compression with bending of angles: see the rows of angle struts";
            return Err(NotChecked::NoRule { reason: reason.to_owned() });
        }
        let strut = Strut::read(input, factors, trace)?;
        let y = about_y(input, trace, &strut)?;
        let z = about_z(input, trace, &strut)?;
        let Strut { class, f_y, gamma_m1, .. } = strut;
        let n_ed = input.n_ed(trace);
        let m_y_ed = input.m_y_ed(trace);
        let m_z_ed = input.m_z_ed(trace);
        step!(trace, Force, COLUMN, "compression"; n_c_ed(n_ed) = abs(n_ed));
        let w_y = modulus_y(input, class, trace)?;
        let w_z = modulus_z(input, class, trace)?;
        let chi_lt = if turns(input) {
            input.i_t(trace);
            general_case(input, (w_y, f_y), trace)?.1
        } else {
            step!(trace, Ratio, COLUMN, "nothing turns sideways"; chi_lt() = 1.0);
            chi_lt
        };
        let (m_y, m_z) = if let Some((e_n_y, e_n_z)) = strut.shift {
            step!(trace, Moment, COLUMN, "moment about y with that of the shift of the centroid";
                m_y(m_y_ed, n_c_ed, e_n_z) = abs(m_y_ed) + n_c_ed * abs(e_n_z));
            step!(trace, Moment, COLUMN, "moment about z with that of the shift of the centroid";
                m_z(m_z_ed, n_c_ed, e_n_y) = abs(m_z_ed) + n_c_ed * abs(e_n_y));
            (m_y, m_z)
        } else {
            step!(trace, Moment, COLUMN, "size of the moment about y"; m_y(m_y_ed) = abs(m_y_ed));
            step!(trace, Moment, COLUMN, "size of the moment about z"; m_z(m_z_ed) = abs(m_z_ed));
            (m_y, m_z)
        };
        step!(trace, Ratio, COLUMN, "moment over moment resistance, y";
            r_y(m_y, chi_lt, w_y, f_y, gamma_m1) = m_y / (chi_lt * w_y * f_y / gamma_m1));
        step!(trace, Ratio, COLUMN, "moment over moment resistance, z";
            r_z(m_z, w_z, f_y, gamma_m1) = m_z / (w_z * f_y / gamma_m1));
        Ok(Self { strut, y, z, n_c_ed, chi_lt, w_y, w_z, m_y, m_z, r_y, r_z })
    }
}

/// The ratio of the end moments about y, read and tried.
pub(super) fn psi_y(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    end_ratio("psi_y", input.psi_y(trace)?)
}

/// The ratio of the end moments about z, read and tried.
pub(super) fn psi_z(input: &MemberInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    end_ratio("psi_z", input.psi_z(trace)?)
}

/// What gives the factor of a moment diagram.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Diagram {
    /// No moment, or ends that move sideways.
    NoneOrSway,
    /// Moments at the ends.
    Ends,
    /// Even load between hinges.
    Even,
    /// Load in the middle between hinges.
    Middle,
}

impl Diagram {
    pub(super) fn of(input: &MemberInput, moment: f64, diagram: MomentDiagram) -> Self {
        if input.ends == EndsSway::Sway || moment.abs() <= 0.0 {
            return Self::NoneOrSway;
        }
        match diagram {
            MomentDiagram::EndMoments => Self::Ends,
            MomentDiagram::EvenLoad => Self::Even,
            MomentDiagram::MiddleLoad => Self::Middle,
        }
    }
}
