//! Classes of cross-sections.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{MemberInput, Shape};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MPA, general};

const TABLE: Source = general("5.5 and Table 5.2");

/// Class of a section: what it can do before its walls buckle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Class {
    /// Full plastic hinge.
    One,
    /// Full plastic moment.
    Two,
    /// Yield at the edge.
    Three,
    /// Less: effective widths.
    Four,
}

/// Largest width over thickness of one class, over eps (eps² for round tubes).
struct Limits {
    internal_compression: f64,
    internal_bending: f64,
    outstand: f64,
    round: f64,
    /// Longer leg over thickness, and half the sum of the legs over thickness: class 3 only.
    angle: Option<(f64, f64)>,
}

const CLASS_1: Limits = Limits {
    internal_compression: 33.0,
    internal_bending: 72.0,
    outstand: 9.0,
    round: 50.0,
    angle: None,
};
const CLASS_2: Limits = Limits {
    internal_compression: 38.0,
    internal_bending: 83.0,
    outstand: 10.0,
    round: 70.0,
    angle: None,
};
const CLASS_3: Limits = Limits {
    internal_compression: 42.0,
    internal_bending: 124.0,
    outstand: 14.0,
    round: 90.0,
    angle: Some((15.0, 11.5)),
};

/// The class of the section under its forces.
pub(super) fn class_of(input: &MemberInput) -> Class {
    let fits = |limits: &Limits| slenderness(input, limits, &mut Trace::off()) <= 1.0;
    if !compressed(input) || fits(&CLASS_1) {
        Class::One
    } else if fits(&CLASS_2) {
        Class::Two
    } else if fits(&CLASS_3) {
        Class::Three
    } else {
        Class::Four
    }
}

/// What clauses answer when walls buckle before they yield.
pub(super) fn class_4() -> NotChecked {
    NotChecked::NoRule {
        reason: "the section is of class 4: its walls buckle first; only boxes can be checked, by \
                 effective widths"
            .to_owned(),
    }
}

fn compressed(input: &MemberInput) -> bool {
    input.n_ed < 0.0 || bent_about_y(input) || bent_about_z(input)
}

fn bent_about_y(input: &MemberInput) -> bool {
    input.m_y_ed.abs() > 0.0
}

fn bent_about_z(input: &MemberInput) -> bool {
    input.m_z_ed.abs() > 0.0
}

/// Walls thick enough to yield before they buckle: class 3 or better. An excess means that the
/// other rows of the member cannot be checked.
pub(super) struct WallsThickEnough;

impl Clause<MemberInput> for WallsThickEnough {
    fn reference(&self) -> Source {
        TABLE
    }

    fn title(&self) -> &'static str {
        "walls of the section thick enough to yield before they buckle"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &MemberInput) -> Applicability {
        if input.shape == Shape::Rectangle {
            return Applicability::DoesNotApply("the section is solid".to_owned());
        }
        Applicability::only_if(compressed(input), "nothing is compressed")
    }

    fn formula(
        &self,
        input: &MemberInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let slenderness = slenderness(input, &CLASS_3, trace);
        step!(trace, Ratio, TABLE, "utilisation of the limits of class 3";
            utilisation(slenderness) = slenderness);
        Checked::new(slenderness, 1.0, Dimension::Ratio, utilisation)
    }
}

/// Records and returns the most slender wall over its limit.
///
/// Webs count as bent only under pure bending about y, else as compressed over their whole
/// width: the safe side of the limits for mixed stress.
fn slenderness(input: &MemberInput, limits: &Limits, trace: &mut Trace) -> f64 {
    let t = input.t(trace);
    let f_y = input.f_y(trace);
    step!(trace, Ratio, TABLE, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
    let table = |trace: &mut Trace, symbol, what, value| {
        trace.input(symbol, what, Dimension::Ratio, value, || {
            Provenance::Table("EN 1993-1-1:2005, Table 5.2".to_owned())
        })
    };
    let web_bent = input.n_ed >= 0.0 && !bent_about_z(input);
    let limit = if web_bent { limits.internal_bending } else { limits.internal_compression };
    match input.shape {
        Shape::RectangularTube => {
            let h = input.h(trace);
            let b = input.b(trace);
            let limit_web = table(trace, "limit_web", "limit of the walls along the depth", limit);
            let limit_c = limits.internal_compression;
            let limit_c = table(trace, "limit_c", "limit of compressed walls", limit_c);
            step!(trace, Ratio, TABLE, "slenderness of the walls along the depth over their limit";
                web(h, t, limit_web, eps) = (h - 3.0 * t) / t / (limit_web * eps));
            step!(trace, Ratio, TABLE, "slenderness of the walls along the width over their limit";
                flange(b, t, limit_c, eps) = (b - 3.0 * t) / t / (limit_c * eps));
            step!(trace, Ratio, TABLE, "the larger of both";
                slenderness(web, flange) = positive(larger(web, flange)));
            slenderness
        }
        Shape::Channel => {
            let h = input.h(trace);
            let b = input.b(trace);
            let limit_web = table(trace, "limit_web", "limit of the web", limit);
            let limit_o = table(trace, "limit_o", "limit of the flanges", limits.outstand);
            step!(trace, Ratio, TABLE, "slenderness of the web over its limit";
                web(h, t, limit_web, eps) = (h - 2.0 * t) / t / (limit_web * eps));
            step!(trace, Ratio, TABLE, "slenderness of the flanges over their limit";
                flange(b, t, limit_o, eps) = (b - t) / t / (limit_o * eps));
            step!(trace, Ratio, TABLE, "the larger of both";
                slenderness(web, flange) = positive(larger(web, flange)));
            slenderness
        }
        Shape::RoundTube => {
            let h = input.h(trace);
            let limit_r = table(trace, "limit_r", "limit of a round tube", limits.round);
            step!(trace, Ratio, TABLE, "diameter over thickness over its limit";
                slenderness(h, t, limit_r, eps) = h / t / (limit_r * sq(eps)));
            slenderness
        }
        Shape::Angle => {
            let Some((leg, both)) = limits.angle else { return f64::INFINITY };
            let h = input.h(trace);
            let b = input.b(trace);
            let limit_leg = table(trace, "limit_leg", "limit of the longer leg", leg);
            let limit_both = table(trace, "limit_both", "limit of the mean of the legs", both);
            step!(trace, Ratio, TABLE, "slenderness of the legs over their limits";
                slenderness(h, b, t, limit_leg, limit_both, eps) =
                larger(h / t / (limit_leg * eps), (b + h) / (2.0 * t) / (limit_both * eps)));
            slenderness
        }
        Shape::Rectangle => 0.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::en_1993::members::examples::{square_50x3, square_60x4};

    #[test]
    fn cold_formed_square_tubes_are_classed_as_in_table_5_2() {
        // EN 1993-1-1:2005 Table 5.2, own recomputation: 50 x 3 S355 has c/t = 13.67 against
        // 33 eps = 26.85; 60 x 4 has 12.00.
        assert_eq!(class_of(&square_50x3()), Class::One);
        assert_eq!(class_of(&square_60x4()), Class::One);
    }

    #[test]
    fn a_thin_wall_is_class_4() {
        let thin = MemberInput { t: 0.8e-3, ..square_50x3() };
        assert_eq!(class_of(&thin), Class::Four);
    }
}
