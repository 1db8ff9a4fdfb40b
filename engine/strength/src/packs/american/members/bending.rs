//! Bending: one row for each kind of section, and the strengths about both axes for members that
//! are pressed or twisted as well.

use fishplate_quantity::algebra::share;
use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::aisc;
use crate::packs::american::available::{available, once};
use crate::packs::american::factors::BENDING;

use super::{angle, bar, open, tube};

const F1: Source = aisc("F1");

/// The nominal moments about y and z.
pub(super) fn nominal(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    match input.shape {
        Shape::RectangularTube => tube::rectangular(input, factors, trace),
        Shape::RoundTube => tube::round(input, trace),
        Shape::Rectangle => bar::rectangle(input, factors, trace),
        Shape::RoundBar => bar::round(input, trace),
        Shape::Channel | Shape::WeldedI => open::open(input, trace),
        Shape::Angle => angle::angle(input, factors, trace),
    }
}

/// Records and returns the available moments about y and z.
pub(super) fn available_moments(
    input: &MemberInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<(f64, f64), NotChecked> {
    let (m_n_y, m_n_z) = nominal(input, factors, trace)?;
    available!(trace, factors, phi_b or omega_b of BENDING;
        Moment, F1, "available moment about y"; m_c_y(m_n_y));
    available!(trace, factors, phi_b or omega_b of BENDING;
        Moment, F1, "available moment about z"; m_c_z(m_n_z));
    Ok((m_c_y, m_c_z))
}

/// A row of bending about the axis that is used more.
macro_rules! bending {
    ($(#[$doc:meta])* $name:ident, $place:literal, $title:literal, $short:literal, $shape:pat) => {
        $(#[$doc])*
        pub(super) struct $name;

        impl Clause<MemberInput> for $name {
            fn reference(&self) -> Source {
                aisc($place)
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn applies(&self, input: &MemberInput) -> Applicability {
                Applicability::only_if(matches!(input.shape, $shape), "the section is another one")
            }

            fn formula(
                &self,
                input: &MemberInput,
                factors: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                row(input, factors, trace)
            }
        }
    };
}

bending!(
    /// Square and rectangular tubes.
    RectangularTube, "F7", "bending of a rectangular tube, about the axis used more",
    "bending of a tube", Shape::RectangularTube
);
bending!(
    /// Round tubes.
    RoundTube, "F8", "bending of a round tube, about the axis used more", "bending of a round tube",
    Shape::RoundTube
);
bending!(
    /// Bars.
    Bar, "F11", "bending of a bar, about the axis used more", "bending of a bar",
    Shape::Rectangle | Shape::RoundBar
);
bending!(
    /// Channels and I sections.
    Open, "F2, F3, F6 and F12", "bending of a channel or I section, about the axis used more",
    "bending, open section", Shape::Channel | Shape::WeldedI
);
bending!(
    /// Single angles about their principal axes.
    Angle, "F10", "bending of an angle, about the principal axis used more", "bending of an angle",
    Shape::Angle
);

fn row(input: &MemberInput, factors: &Factors, trace: &mut Trace) -> Result<Checked, NotChecked> {
    let (m_c_y, m_c_z) = available_moments(input, factors, trace)?;
    let m_y_ed = once!(trace, input.m_y_ed);
    let m_z_ed = once!(trace, input.m_z_ed);
    step!(trace, Ratio, F1, "utilisation, the larger of both axes; together they count in H1 or H2";
        utilisation(m_y_ed, m_c_y, m_z_ed, m_c_z) =
        larger(share(abs(m_y_ed), m_c_y), share(abs(m_z_ed), m_c_z)));
    if share(m_z_ed.abs(), m_c_z) > share(m_y_ed.abs(), m_c_y) {
        Checked::new(m_z_ed.abs(), m_c_z, Dimension::Moment, utilisation)
    } else {
        Checked::new(m_y_ed.abs(), m_c_y, Dimension::Moment, utilisation)
    }
}
