//! How much thread has to be engaged: nuts that spread, bolts that break first, blind holes.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{BlindHoleInput, ThreadInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;

use super::threads::{bolt_thread_area, nut_thread_area};

/// Stripping of the bolt thread in a nut that spreads, threads that bend.
pub(super) struct BoltThreadStripsInNut;

const ALEXANDER: &str = "Alexander, Analysis and Design of Threaded Assemblies, SAE 770420";
const BOLT_IN_NUT: Source = Source::new(ALEXANDER, "bolt thread, C1 and C2 (from memory)");
const NUT_ON_BOLT: Source = Source::new(ALEXANDER, "nut thread, C1 and C3 (from memory)");

impl Clause<ThreadInput> for BoltThreadStripsInNut {
    fn reference(&self) -> Source {
        BOLT_IN_NUT
    }

    fn title(&self) -> &'static str {
        "the thread of the bolt strips, with spreading of the nut and bending of the threads"
    }

    fn short(&self) -> &'static str {
        "bolt strips in nut"
    }

    fn applies(&self, _: &ThreadInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThreadInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let Pair { a_s_s, r_m_bolt, r_s, .. } = Pair::read(input, trace);
        let c_1 = spreading(input, trace)?;
        // The polynomial goes on to 1.19 at r_s = 2.2; more than the plain area is not relied on.
        step!(trace, Ratio, BOLT_IN_NUT, "bending of the threads, bolt";
        c_2(r_s) = if r_s <= 1.0 {
            0.897
        } else if r_s < 2.2 {
            5.594 - 13.682 * r_s + 14.107 * sq(r_s) - 6.057 * cube(r_s) + 0.9353 * sq(sq(r_s))
        } else {
            1.0
        });
        step!(trace, Ratio, BOLT_IN_NUT, "not above the plain area"; c_2(c_2) = smaller(c_2, 1.0));
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, BOLT_IN_NUT, "stripping resistance of the bolt thread";
            f_strip_rd(r_m_bolt, a_s_s, c_1, c_2, gamma_m2) =
            0.6 * r_m_bolt * a_s_s * c_1 * c_2 / gamma_m2);
        step!(trace, Ratio, BOLT_IN_NUT, "utilisation";
            utilisation(f_t_ed, f_strip_rd) = f_t_ed / f_strip_rd);
        Checked::new(f_t_ed, f_strip_rd, Dimension::Force, utilisation)
    }
}

/// Stripping of the nut thread in a nut that spreads, threads that bend.
pub(super) struct NutThreadStripsSpread;

impl Clause<ThreadInput> for NutThreadStripsSpread {
    fn reference(&self) -> Source {
        NUT_ON_BOLT
    }

    fn title(&self) -> &'static str {
        "the thread of the nut or tapped plate strips, with spreading and bending of the threads"
    }

    fn short(&self) -> &'static str {
        "nut strips, spread"
    }

    fn applies(&self, _: &ThreadInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &ThreadInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let Pair { a_s_n, r_m_nut, r_s, .. } = Pair::read(input, trace);
        let c_1 = spreading(input, trace)?;
        step!(trace, Ratio, NUT_ON_BOLT, "bending of the threads, nut";
        c_3(r_s) = if r_s >= 1.0 {
            0.897
        } else if r_s > 0.4 {
            0.728 + 1.769 * r_s - 2.896 * sq(r_s) + 1.296 * cube(r_s)
        } else {
            1.0
        });
        step!(trace, Ratio, NUT_ON_BOLT, "not above the plain area"; c_3(c_3) = smaller(c_3, 1.0));
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NUT_ON_BOLT, "stripping resistance of the nut thread";
            f_strip_rd(r_m_nut, a_s_n, c_1, c_3, gamma_m2) =
            0.6 * r_m_nut * a_s_n * c_1 * c_3 / gamma_m2);
        step!(trace, Ratio, NUT_ON_BOLT, "utilisation";
            utilisation(f_t_ed, f_strip_rd) = f_t_ed / f_strip_rd);
        Checked::new(f_t_ed, f_strip_rd, Dimension::Force, utilisation)
    }
}

/// Both threads and how strong they are beside each other.
struct Pair {
    l_e: f64,
    a_s_s: f64,
    a_s_n: f64,
    r_m_bolt: f64,
    r_m_nut: f64,
    r_s: f64,
}

impl Pair {
    fn read(input: &ThreadInput, trace: &mut Trace) -> Self {
        let l_e = input.l_e(trace);
        let pitch = input.pitch(trace);
        let a_s_s = bolt_thread_area(input, l_e, pitch, trace);
        let a_s_n = nut_thread_area(input, l_e, pitch, trace);
        let r_m_bolt = input.r_m_bolt(trace);
        let r_m_nut = input.r_m_nut(trace);
        step!(trace, Ratio, Source::new(ALEXANDER, "strength ratio of the threads"),
            "strength of the nut thread over that of the bolt thread";
            r_s(r_m_nut, a_s_n, r_m_bolt, a_s_s) = (r_m_nut * a_s_n) / (r_m_bolt * a_s_s));
        Self { l_e, a_s_s, a_s_n, r_m_bolt, r_m_nut, r_s }
    }
}

/// Records and returns C1: a nut is spread by the flanks, a plate is not.
fn spreading(input: &ThreadInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    const SPREADING: Source = Source::new(ALEXANDER, "spreading of the nut, C1");
    if input.s_nut.is_none() {
        step!(trace, Ratio, SPREADING, "a tapped plate does not spread"; c_1() = 1.0);
        return Ok(c_1);
    }
    let s_nut = input.s_nut(trace)?;
    let d = input.d(trace)?;
    if s_nut < 1.4 * d {
        return Err(NotChecked::OutOfRange {
            symbol: "s_nut",
            what: "width of the nut across flats",
            value: s_nut,
            dimension: Dimension::Length,
            allowed: "at least 1.4 diameters of the thread",
        });
    }
    step!(trace, Ratio, SPREADING, "spreading of the nut";
    c_1(s_nut, d) = if s_nut < 1.9 * d {
        3.8 * s_nut / d - sq(s_nut / d) - 2.61
    } else {
        1.0
    });
    Ok(c_1)
}

/// Engagement at which the bolt breaks before either thread strips: a broken bolt is seen, a thread
/// that is half stripped is not.
pub(super) struct BreaksBeforeStripping;

const BREAKS_FIRST: Source = Source::mechanics("stress area against the weaker thread");

impl Clause<ThreadInput> for BreaksBeforeStripping {
    fn reference(&self) -> Source {
        BREAKS_FIRST
    }

    fn title(&self) -> &'static str {
        "engagement that breaks the bolt before a thread strips"
    }

    fn short(&self) -> &'static str {
        "engagement"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &ThreadInput) -> Applicability {
        with_stress_area(input)
    }

    fn formula(
        &self,
        input: &ThreadInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let a_s = input.a_s(trace)?;
        let Pair { l_e, a_s_s, a_s_n, r_m_bolt, r_m_nut, .. } = Pair::read(input, trace);
        step!(trace, LineForce, BREAKS_FIRST, "stripping force per length, the weaker thread";
            q_strip(r_m_bolt, a_s_s, r_m_nut, a_s_n, l_e) =
            0.6 * smaller(r_m_bolt * a_s_s, r_m_nut * a_s_n) / l_e);
        step!(trace, Length, BREAKS_FIRST, "engagement needed";
            l_needed(r_m_bolt, a_s, q_strip) = r_m_bolt * a_s / q_strip);
        step!(trace, Ratio, BREAKS_FIRST, "required over provided";
            utilisation(l_needed, l_e) = l_needed / l_e);
        Checked::new(l_needed, l_e, Dimension::Length, utilisation)
    }
}

/// The same by the handbook rule, which takes half of the tensile strength in shear.
pub(super) struct BreaksBeforeStrippingHandbook;

const HANDBOOK: Source = Source::new(
    "FED-STD-H28/2B",
    "length of engagement, with J for unlike materials (from memory)",
);

impl Clause<ThreadInput> for BreaksBeforeStrippingHandbook {
    fn reference(&self) -> Source {
        HANDBOOK
    }

    fn title(&self) -> &'static str {
        "engagement that breaks the bolt first, handbook rule with J"
    }

    fn short(&self) -> &'static str {
        "engagement, handbook"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &ThreadInput) -> Applicability {
        with_stress_area(input)
    }

    fn formula(
        &self,
        input: &ThreadInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let a_s = input.a_s(trace)?;
        let Pair { l_e, a_s_s, a_s_n, r_m_bolt, r_m_nut, .. } = Pair::read(input, trace);
        step!(trace, Length, HANDBOOK, "engagement for equal materials";
            l_equal(a_s, a_s_s, l_e) = 2.0 * a_s / (a_s_s / l_e));
        step!(trace, Ratio, HANDBOOK, "strength of the bolt thread over that of the nut thread";
            j(a_s_s, r_m_bolt, a_s_n, r_m_nut) = (a_s_s * r_m_bolt) / (a_s_n * r_m_nut));
        step!(trace, Length, HANDBOOK, "engagement needed, longer in a weaker nut";
            l_needed(l_equal, j) = l_equal * larger(1.0, j));
        step!(trace, Ratio, HANDBOOK, "required over provided";
            utilisation(l_needed, l_e) = l_needed / l_e);
        Checked::new(l_needed, l_e, Dimension::Length, utilisation)
    }
}

fn with_stress_area(input: &ThreadInput) -> Applicability {
    Applicability::only_if(input.a_s.is_some(), "the stress area of the bolt is not given")
}

/// A screw that reaches the end of the thread clamps nothing, whatever its torque.
pub(super) struct BlindBottom;

const BOTTOM: Source = Source::practice("a screw ends two pitches before the full thread does");

impl Clause<BlindHoleInput> for BlindBottom {
    fn reference(&self) -> Source {
        BOTTOM
    }

    fn title(&self) -> &'static str {
        "screw that runs on the bottom of its thread"
    }

    fn short(&self) -> &'static str {
        "screw bottoms"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &BlindHoleInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BlindHoleInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_screw = input.l_screw(trace);
        let l_thread = input.l_thread(trace);
        let pitch = input.pitch(trace);
        step!(trace, Length, BOTTOM, "reach that still clamps";
            l_max(l_thread, pitch) = positive(l_thread - 2.0 * pitch));
        step!(trace, Ratio, BOTTOM, "provided over allowed";
            utilisation(l_screw, l_max) = l_screw / l_max);
        Checked::new(l_screw, l_max, Dimension::Length, utilisation)
    }
}

/// Engagement that is left of the reach of a screw.
pub(super) struct BlindEngagement;

const ENGAGED: Source = Source::practice("engagement in a blind hole");

impl Clause<BlindHoleInput> for BlindEngagement {
    fn reference(&self) -> Source {
        ENGAGED
    }

    fn title(&self) -> &'static str {
        "engagement of a screw in a blind hole"
    }

    fn short(&self) -> &'static str {
        "blind engagement"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &BlindHoleInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BlindHoleInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let d = input.d(trace);
        let k_engaged = input.k_engaged(trace);
        let l_screw = input.l_screw(trace);
        let l_thread = input.l_thread(trace);
        let l_chamfer = input.l_chamfer(trace);
        let pitch = input.pitch(trace);
        step!(trace, Length, ENGAGED, "full engagement; chamfer and one pitch of the tip do not count";
            l_e(l_screw, pitch, l_thread, l_chamfer) =
            positive(smaller(l_screw - pitch, l_thread) - l_chamfer));
        step!(trace, Length, ENGAGED, "engagement wanted"; l_wanted(k_engaged, d) = k_engaged * d);
        step!(trace, Ratio, ENGAGED, "required over provided";
            utilisation(l_wanted, l_e) = l_wanted / l_e);
        trace.note(|| {
            "common practice: 1 diameter for class 8.8 in S235, 1.25 to 1.4 for 10.9, 2 in \
             aluminium; the engagement that breaks the bolt is a row of its own"
                .to_owned()
        });
        Checked::new(l_wanted, l_e, Dimension::Length, utilisation)
    }
}

/// Room for the lead of the tap and its chips below the full thread.
pub(super) struct BlindDrill;

const DRILL: Source = Source::practice("a drilled hole goes three pitches below its full thread");

impl Clause<BlindHoleInput> for BlindDrill {
    fn reference(&self) -> Source {
        DRILL
    }

    fn title(&self) -> &'static str {
        "depth of the drilled hole below its thread"
    }

    fn short(&self) -> &'static str {
        "drilled depth"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &BlindHoleInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &BlindHoleInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let l_thread = input.l_thread(trace);
        let pitch = input.pitch(trace);
        let l_drill = input.l_drill(trace);
        step!(trace, Length, DRILL, "least depth";
            l_min(l_thread, pitch) = l_thread + 3.0 * pitch);
        step!(trace, Ratio, DRILL, "required over provided";
            utilisation(l_min, l_drill) = l_min / l_drill);
        Checked::new(l_min, l_drill, Dimension::Length, utilisation)
    }
}

#[cfg(test)]
mod tests {
    use std::f64::consts::PI;

    use super::*;
    use crate::packs::en_1993::bolts::examples;

    /// C1 is a parabola whose top is 1 at s / d = 1.9: it meets the flat part without a step or a
    /// kink. C2 and C3 both start from 0.897 at equal strength.
    #[test]
    fn the_reductions_meet_their_flat_parts() {
        let thread = |s_over_d: f64| ThreadInput {
            d: Some(10e-3),
            s_nut: Some(s_over_d * 10e-3),
            ..examples::tapped_plate()
        };
        let c_1 = |x: f64| spreading(&thread(x), &mut Trace::off()).unwrap();
        assert!((c_1(1.9 - 1e-9) - 1.0).abs() < 1e-9 && (c_1(2.5) - 1.0).abs() < 1e-12);
        assert!(((c_1(1.9) - c_1(1.9 - 1e-4)) / 1e-4).abs() < 1e-3);
        // From strength ratios 1 - 1e-6 to 1 + 1e-6 the resistances of both threads go on smoothly.
        let at = |ratio: f64, clause: &dyn Clause<ThreadInput>| {
            let mut input = examples::tapped_plate();
            let pair = Pair::read(&input, &mut Trace::off());
            input.r_m_nut = ratio * pair.r_m_bolt * pair.a_s_s / pair.a_s_n;
            let checked = clause.evaluate(
                &input,
                &crate::packs::en_1993::examples::factors(),
                &mut Trace::off(),
            );
            checked.unwrap().resistance
        };
        for clause in [&BoltThreadStripsInNut as &dyn Clause<ThreadInput>, &NutThreadStripsSpread] {
            let (below, above) = (at(1.0 - 1e-6, clause), at(1.0 + 1e-6, clause));
            assert!((above / below - 1.0).abs() < 1e-3, "{below} {above}");
        }
    }

    /// A thread of 60 degrees comes to a point half a triangle height above its pitch line and
    /// fills the whole pitch half a height below: H = P / (2 tan 30 degrees).
    #[test]
    fn the_shear_area_is_that_of_a_triangle() {
        let plate = examples::tapped_plate();
        let height = plate.pitch / (2.0 * (PI / 6.0).tan());
        let area = |d_1: f64| {
            let input = ThreadInput { d_1_nut_max: d_1, ..plate.clone() };
            bolt_thread_area(&input, input.l_e, input.pitch, &mut Trace::off())
        };
        let root = plate.d_2_min - height;
        assert!(area(plate.d_2_min + height).abs() < 1e-5 * area(root));
        assert!((area(root) / (PI * root * plate.l_e) - 1.0).abs() < 1e-5);
    }
}
