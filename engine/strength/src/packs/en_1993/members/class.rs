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
    /// Walls held at both edges: compressed throughout.
    internal_compression: f64,
    /// The same in part compressed.
    internal_bent: Bent,
    outstand: f64,
    round: f64,
    /// Longer leg over thickness, and half the sum of the legs over thickness: class 3 only.
    angle: Option<(f64, f64)>,
}

/// Limits of walls that are compressed in part.
#[derive(Clone, Copy)]
enum Bent {
    /// By the share alpha of the wall that is compressed when all of it yields: `over` / (13 alpha - 1)
    /// above one half, `below` / alpha up to it.
    Plastic { over: f64, below: f64 },
    /// By the ratio psi of the edge stresses at first yield.
    Elastic,
}

const CLASS_1: Limits = Limits {
    internal_compression: 33.0,
    internal_bent: Bent::Plastic { over: 396.0, below: 36.0 },
    outstand: 9.0,
    round: 50.0,
    angle: None,
};
const CLASS_2: Limits = Limits {
    internal_compression: 38.0,
    internal_bent: Bent::Plastic { over: 456.0, below: 41.5 },
    outstand: 10.0,
    round: 70.0,
    angle: None,
};
const CLASS_3: Limits = Limits {
    internal_compression: 42.0,
    internal_bent: Bent::Elastic,
    outstand: 14.0,
    round: 90.0,
    angle: Some((15.0, 11.5)),
};

/// What presses a section. The axial force sets how much of a bent wall is compressed when the section
/// yields; the size of the moment does not matter for that.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pressed {
    n_ed: f64,
    about_y: bool,
    about_z: bool,
}

impl Pressed {
    /// By all forces of the member.
    pub(super) fn by_all(input: &MemberInput) -> Self {
        Self {
            n_ed: input.n_ed,
            about_y: input.m_y_ed.abs() > 0.0,
            about_z: input.m_z_ed.abs() > 0.0,
        }
    }

    /// Over all its walls: what the buckling of members is based on, where the moment grows as it
    /// bends.
    pub(super) fn throughout(input: &MemberInput) -> Self {
        Self { n_ed: -(input.a * input.f_y), about_y: false, about_z: false }
    }

    /// By bending about y alone.
    pub(super) fn by_m_y() -> Self {
        Self { n_ed: 0.0, about_y: true, about_z: false }
    }

    fn at_all(self) -> bool {
        self.n_ed < 0.0 || self.about_y || self.about_z
    }
}

/// The class of the section under its forces.
pub(super) fn class_of(input: &MemberInput, pressed: Pressed) -> Class {
    let fits = |limits: &Limits| slenderness(input, pressed, limits, &mut Trace::off()) <= 1.0;
    if !pressed.at_all() || fits(&CLASS_1) {
        Class::One
    } else if fits(&CLASS_2) {
        Class::Two
    } else if fits(&CLASS_3) {
        Class::Three
    } else {
        Class::Four
    }
}

/// Whether a flange pressed by bending about y is of class 4.
pub(super) fn flange_is_thin(input: &MemberInput) -> bool {
    let &MemberInput { b, t, f_y, .. } = input;
    let eps = f64::sqrt(235.0 * MPA / f_y);
    match input.shape {
        Shape::RectangularTube => (b - 3.0 * t) / t > CLASS_3.internal_compression * eps,
        Shape::Channel => (b - t) / t > CLASS_3.outstand * eps,
        Shape::WeldedI => (b - t) / 2.0 / t > CLASS_3.outstand * eps,
        Shape::Angle | Shape::RoundTube | Shape::Rectangle | Shape::RoundBar => false,
    }
}

/// Walls thick enough to yield before they buckle: class 3 or better.
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
        if matches!(input.shape, Shape::Rectangle | Shape::RoundBar) {
            return Applicability::DoesNotApply("the section is solid".to_owned());
        }
        let pressed = Pressed::by_all(input);
        if !pressed.at_all() {
            return Applicability::DoesNotApply("nothing is compressed".to_owned());
        }
        // A round tube beyond its limit is a shell, and nothing else here speaks about shells.
        let flat = input.shape != Shape::RoundTube;
        Applicability::only_if(
            !(flat && class_of(input, pressed) == Class::Four),
            "the section is of class 4: the other rows reckon with effective widths",
        )
    }

    fn formula(
        &self,
        input: &MemberInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let pressed = Pressed::by_all(input);
        let slenderness = slenderness(input, pressed, &CLASS_3, trace);
        trace.note(|| {
            match class_of(input, pressed) {
                Class::One => "the section is of class 1",
                Class::Two => "the section is of class 2",
                Class::Three => "the section is of class 3",
                Class::Four => "the section is of class 4",
            }
            .to_owned()
        });
        step!(trace, Ratio, TABLE, "utilisation of the limits of class 3";
            utilisation(slenderness) = slenderness);
        Checked::new(slenderness, 1.0, Dimension::Ratio, utilisation)
    }
}

fn table(trace: &mut Trace, symbol: &'static str, what: &'static str, value: f64) -> f64 {
    trace.input(symbol, what, Dimension::Ratio, value, || {
        Provenance::Table("EN 1993-1-1:2005, Table 5.2".to_owned())
    })
}

/// Records and returns the most slender wall over its limit.
///
/// Under bending about one axis, walls that cross that axis are judged by how far they are
/// compressed, the others as compressed throughout. Under bending about both axes, and where the
/// tips of flanges may be the pressed side, all count as compressed throughout: the safe side.
fn slenderness(input: &MemberInput, pressed: Pressed, limits: &Limits, trace: &mut Trace) -> f64 {
    let t = input.t(trace);
    let f_y = input.f_y(trace);
    step!(trace, Ratio, TABLE, "factor for the yield strength"; eps(f_y) = sqrt(235.0 * MPA / f_y));
    let one_axis = pressed.about_y != pressed.about_z;
    let web_bent = one_axis && pressed.about_y;
    match input.shape {
        Shape::RectangularTube => {
            let h = input.h(trace);
            let b = input.b(trace);
            let flats = Flats { one_axis, web_bent, t, eps };
            let (bent, rest) = tube(input, pressed, (h, b, flats), limits, trace);
            step!(trace, Ratio, TABLE, "the larger of both";
                slenderness(bent, rest) = larger(bent, rest));
            slenderness
        }
        Shape::Channel | Shape::WeldedI => {
            let h = input.h(trace);
            let b = input.b(trace);
            let bent = if web_bent {
                step!(trace, Length, TABLE, "depth of the bent web"; c_bent(h, t) = positive(h - 2.0 * t));
                step!(trace, Length, TABLE, "thickness of the bent web"; t_bent(t) = t);
                part_compressed(input, pressed, (c_bent, t_bent, t, eps), limits, trace)
            } else {
                let limit_c = limits.internal_compression;
                let limit_c = table(trace, "limit_c", "limit of compressed walls", limit_c);
                step!(trace, Ratio, TABLE, "slenderness of the web over its limit";
                    bent(h, t, limit_c, eps) = positive(h - 2.0 * t) / t / (limit_c * eps));
                bent
            };
            let limit_o = table(trace, "limit_o", "limit of the flanges", limits.outstand);
            let rest = if input.shape == Shape::Channel {
                step!(trace, Ratio, TABLE, "slenderness of the flanges over their limit";
                    rest(b, t, limit_o, eps) = positive(b - t) / t / (limit_o * eps));
                rest
            } else {
                step!(trace, Ratio, TABLE, "slenderness of half a flange over its limit";
                    rest(b, t, limit_o, eps) = positive(b - t) / 2.0 / t / (limit_o * eps));
                rest
            };
            step!(trace, Ratio, TABLE, "the larger of both";
                slenderness(bent, rest) = larger(bent, rest));
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
                larger(larger(h, b) / t / (limit_leg * eps),
                       (b + h) / (2.0 * t) / (limit_both * eps)));
            slenderness
        }
        Shape::Rectangle | Shape::RoundBar => 0.0,
    }
}

#[derive(Clone, Copy)]
struct Flats {
    one_axis: bool,
    web_bent: bool,
    t: f64,
    eps: f64,
}

/// The walls of a tube across the axis of bending, and those along it.
fn tube(
    input: &MemberInput,
    pressed: Pressed,
    (h, b, flats): (f64, f64, Flats),
    limits: &Limits,
    trace: &mut Trace,
) -> (f64, f64) {
    let Flats { one_axis, web_bent, t, eps } = flats;
    let limit_c = limits.internal_compression;
    let limit_c = table(trace, "limit_c", "limit of compressed walls", limit_c);
    if !one_axis {
        step!(trace, Ratio, TABLE, "slenderness of the walls along the depth over their limit";
            bent(h, t, limit_c, eps) = positive(h - 3.0 * t) / t / (limit_c * eps));
        step!(trace, Ratio, TABLE, "slenderness of the walls along the width over their limit";
            rest(b, t, limit_c, eps) = positive(b - 3.0 * t) / t / (limit_c * eps));
        return (bent, rest);
    }
    step!(trace, Length, TABLE, "thickness of both bent walls"; t_bent(t) = 2.0 * t);
    if web_bent {
        step!(trace, Length, TABLE, "flat of the bent walls"; c_bent(h, t) = positive(h - 3.0 * t));
        step!(trace, Ratio, TABLE, "slenderness of the compressed wall over its limit";
            rest(b, t, limit_c, eps) = positive(b - 3.0 * t) / t / (limit_c * eps));
        (part_compressed(input, pressed, (c_bent, t_bent, t, eps), limits, trace), rest)
    } else {
        step!(trace, Length, TABLE, "flat of the bent walls"; c_bent(b, t) = positive(b - 3.0 * t));
        step!(trace, Ratio, TABLE, "slenderness of the compressed wall over its limit";
            rest(h, t, limit_c, eps) = positive(h - 3.0 * t) / t / (limit_c * eps));
        (part_compressed(input, pressed, (c_bent, t_bent, t, eps), limits, trace), rest)
    }
}

/// Slenderness of the walls across the axis of bending over their limit.
fn part_compressed(
    input: &MemberInput,
    pressed: Pressed,
    (c_bent, t_bent, t, eps): (f64, f64, f64, f64),
    limits: &Limits,
    trace: &mut Trace,
) -> f64 {
    let what = "axial force, tension positive";
    let n_ed =
        trace.input("n_ed", what, Dimension::Force, pressed.n_ed, || input.origins.of("n_ed"));
    let f_y = input.f_y;
    match limits.internal_bent {
        Bent::Plastic { over, below } => {
            let over = table(trace, "over", "limit factor, more than half compressed", over);
            let below = table(trace, "below", "limit factor, up to half compressed", below);
            step!(trace, Ratio, TABLE, "compressed share of the wall when all of it yields";
                alpha(n_ed, c_bent, t_bent, f_y) =
                positive(smaller(1.0, 0.5 - 0.5 * n_ed / (c_bent * t_bent * f_y))));
            step!(trace, Ratio, TABLE, "slenderness of the bent walls over their limit";
                bent(c_bent, t, eps, alpha, over, below) =
                c_bent / t / eps
                    * if alpha > 0.5 { (13.0 * alpha - 1.0) / over } else { alpha / below });
            bent
        }
        Bent::Elastic => {
            let a = input.a(trace);
            step!(trace, Ratio, TABLE, "ratio of the edge stresses at first yield";
                psi(n_ed, a, f_y) = smaller(1.0, -2.0 * n_ed / (a * f_y) - 1.0));
            step!(trace, Ratio, TABLE, "slenderness of the bent walls over their limit";
                bent(c_bent, t, eps, psi) =
                c_bent / t / eps
                    / if psi > -1.0 { 42.0 / (0.67 + 0.33 * psi) }
                      else { 62.0 * (1.0 - psi) * sqrt(-psi) });
            bent
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::packs::en_1993::members::examples::{square_50x3, square_60x4};

    fn class(input: &MemberInput) -> Class {
        class_of(input, Pressed::by_all(input))
    }

    #[test]
    fn cold_formed_square_tubes_are_classed_as_in_table_5_2() {
        // EN 1993-1-1:2005 Table 5.2, own recomputation: 50 x 3 S355 has c/t = 13.67 against
        // 33 eps = 26.85; 60 x 4 has 12.00.
        assert_eq!(class(&square_50x3()), Class::One);
        assert_eq!(class(&square_60x4()), Class::One);
    }

    #[test]
    fn a_thin_wall_is_class_4() {
        let thin = MemberInput { t: 0.8e-3, ..square_50x3() };
        assert_eq!(class(&thin), Class::Four);
    }

    /// A tube 100 x 50 x 2, S355, own recomputation of Table 5.2: c/t = 47 of the depth over
    /// eps = 0.81362 is 57.77; flanges 22 / eps = 27.04, class 1.
    #[test]
    fn axial_force_moves_a_bent_web_from_class_to_class() {
        let (a, f_y) = (574e-6, 355e6);
        let bent = |n_ed: f64| MemberInput {
            h: 0.1,
            b: 0.05,
            t: 2e-3,
            a,
            f_y,
            n_ed,
            m_y_ed: 100.0,
            m_z_ed: 0.0,
            ..square_60x4()
        };
        // Class 1 up to 396 / (13 alpha - 1) = 57.77: alpha = 0.60424, N = 0.20848 of
        // 94 4 355 = 133 480 N: 27 829 N. Class 2: 456: alpha = 0.68414, 0.36828: 49 158 N.
        // Class 3: 42 / (0.67 + 0.33 psi) = 57.77: psi = 0.17291, N = 0.58646 a f_y = 119 502 N.
        for (n_ed, below, above) in [
            (-27_828.6, Class::One, Class::Two),
            (-49_157.8, Class::Two, Class::Three),
            (-119_502.3, Class::Three, Class::Four),
        ] {
            assert_eq!(class(&bent(n_ed * 0.999)), below, "{n_ed}");
            assert_eq!(class(&bent(n_ed * 1.001)), above, "{n_ed}");
        }
        assert_eq!(class_of(&bent(0.0), Pressed::throughout(&bent(0.0))), Class::Four);
    }
}
