//! Groove welds, through the whole thickness or part of it.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{GrooveWeldInput, Penetration};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::{
    GROOVE_PULL, SHEAR_YIELD, TENSION_RUPTURE, TENSION_YIELD, WELDS,
};
use crate::packs::american::{IN, aisc};

/// Pull across a groove weld.
pub(super) struct GroovePulled;

const PULLED: Source = aisc("Table J2.5, groove weld pulled across");

/// A complete penetration has the strength of the base metal only with weld metal that matches it.
fn matching(input: &GrooveWeldInput) -> Applicability {
    let matches = input.penetration == Penetration::Partial || input.f_exx >= input.f_u;
    Applicability::within(matches, || {
        "the weld metal of a complete penetration must be at least as strong as the parts"
            .to_owned()
    })
}

fn not_deeper(input: &GrooveWeldInput) -> Result<(), NotChecked> {
    if input.a_eff <= input.t * (1.0 + 1e-9) {
        return Ok(());
    }
    Err(NotChecked::OutOfRange {
        symbol: "a_eff",
        what: "effective throat",
        value: input.a_eff,
        dimension: Dimension::Length,
        allowed: "at most the thickness of the thinner part",
    })
}

impl Clause<GrooveWeldInput> for GroovePulled {
    fn reference(&self) -> Source {
        PULLED
    }

    fn title(&self) -> &'static str {
        "groove weld pulled across"
    }

    fn short(&self) -> &'static str {
        "groove, pull"
    }

    fn applies(&self, input: &GrooveWeldInput) -> Applicability {
        matching(input)
    }

    fn formula(
        &self,
        input: &GrooveWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        not_deeper(input)?;
        let f_t_ed = input.f_t_ed(trace);
        let l = input.l(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, Source::mechanics("rectangle"), "area of the base metal";
            a_bm(l, t) = l * t);
        step!(trace, Force, PULLED, "nominal strength of the base metal in yielding";
            r_ny(f_y, a_bm) = f_y * a_bm);
        available!(trace, factors, phi_t or omega_t of TENSION_YIELD;
            Force, PULLED, "available strength in yielding"; r_y(r_ny));
        step!(trace, Force, PULLED, "nominal strength of the base metal in rupture";
            r_nr(f_u, a_bm) = f_u * a_bm);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, PULLED, "available strength in rupture"; r_r(r_nr));
        step!(trace, Force, PULLED, "available strength of the base metal";
            r_a(r_y, r_r) = smaller(r_y, r_r));
        let r_a = match input.penetration {
            Penetration::Complete => {
                trace.note(|| {
                    "weld metal that matches the base metal is taken for granted".to_owned()
                });
                r_a
            }
            Penetration::Partial => {
                let a_eff = input.a_eff(trace);
                let f_exx = input.f_exx(trace);
                step!(trace, Force, PULLED, "nominal strength of the weld metal";
                    r_nw(f_exx, a_eff, l) = 0.60 * f_exx * a_eff * l);
                available!(trace, factors, phi_groove or omega_groove of GROOVE_PULL;
                    Force, PULLED, "available strength of the weld metal"; r_w(r_nw));
                step!(trace, Force, PULLED, "available strength, the lower of weld and base metal";
                    r_a(r_a, r_w) = smaller(r_a, r_w));
                r_a
            }
        };
        step!(trace, Ratio, PULLED, "utilisation"; utilisation(f_t_ed, r_a) = f_t_ed / r_a);
        Checked::new(f_t_ed, r_a, Dimension::Force, utilisation)
    }
}

/// Shear along a groove weld.
pub(super) struct GrooveSheared;

const SHEARED: Source = aisc("Table J2.5, groove weld in shear");

impl Clause<GrooveWeldInput> for GrooveSheared {
    fn reference(&self) -> Source {
        SHEARED
    }

    fn title(&self) -> &'static str {
        "groove weld in shear"
    }

    fn short(&self) -> &'static str {
        "groove, shear"
    }

    fn applies(&self, input: &GrooveWeldInput) -> Applicability {
        matching(input)
    }

    fn formula(
        &self,
        input: &GrooveWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        not_deeper(input)?;
        let f_v_ed = input.f_v_ed(trace);
        let l = input.l(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, Source::mechanics("rectangle"), "area of the base metal";
            a_bm(l, t) = l * t);
        step!(trace, Force, SHEARED, "nominal strength of the base metal in yielding";
            r_ny(f_y, a_bm) = 0.60 * f_y * a_bm);
        available!(trace, factors, phi_y or omega_y of SHEAR_YIELD;
            Force, SHEARED, "available strength in yielding"; r_y(r_ny));
        step!(trace, Force, SHEARED, "nominal strength of the base metal in rupture";
            r_nr(f_u, a_bm) = 0.60 * f_u * a_bm);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, SHEARED, "available strength in rupture"; r_r(r_nr));
        step!(trace, Force, SHEARED, "available strength of the base metal";
            r_a(r_y, r_r) = smaller(r_y, r_r));
        let r_a = match input.penetration {
            Penetration::Complete => r_a,
            Penetration::Partial => {
                let a_eff = input.a_eff(trace);
                let f_exx = input.f_exx(trace);
                step!(trace, Force, SHEARED, "nominal strength of the weld metal";
                    r_nw(f_exx, a_eff, l) = 0.60 * f_exx * a_eff * l);
                available!(trace, factors, phi_w or omega_w of WELDS;
                    Force, SHEARED, "available strength of the weld metal"; r_w(r_nw));
                step!(trace, Force, SHEARED, "available strength, the lower of weld and base metal";
                    r_a(r_a, r_w) = smaller(r_a, r_w));
                r_a
            }
        };
        step!(trace, Ratio, SHEARED, "utilisation"; utilisation(f_v_ed, r_a) = f_v_ed / r_a);
        Checked::new(f_v_ed, r_a, Dimension::Force, utilisation)
    }
}

/// Least throat of a partial penetration: a smaller one cools too fast.
pub(super) struct LeastGroove;

const LEAST: Source = aisc("J2.1b and Table J2.3");

impl Clause<GrooveWeldInput> for LeastGroove {
    fn reference(&self) -> Source {
        LEAST
    }

    fn title(&self) -> &'static str {
        "least throat of a partial groove weld"
    }

    fn short(&self) -> &'static str {
        "groove, least"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &GrooveWeldInput) -> Applicability {
        if input.penetration == Penetration::Complete {
            return Applicability::DoesNotApply("the weld goes through".to_owned());
        }
        let listed = input.t >= IN / 8.0 - 1e-9 && input.t <= 1.5 * IN + 1e-9;
        Applicability::within(listed, || {
            "the list of least throats is held here for 1/8 to 1 1/2 in".to_owned()
        })
    }

    fn formula(
        &self,
        input: &GrooveWeldInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let a_eff = input.a_eff(trace);
        let what = "least effective throat by the thinner part";
        let a_min = trace.input("a_min", what, Dimension::Length, table_j2_3(input.t), || {
            Provenance::Table("AISC 360, Table J2.3".to_owned())
        });
        step!(trace, Ratio, LEAST, "required over provided"; utilisation(a_min, a_eff) = a_min / a_eff);
        Checked::new(a_min, a_eff, Dimension::Length, utilisation)
    }
}

/// Least effective throat by the thinner part, from memory.
fn table_j2_3(t: f64) -> f64 {
    let up_to = |limit: f64| t <= (limit + 1e-6) * IN;
    let throat = match () {
        () if up_to(0.25) => 1.0 / 8.0,
        () if up_to(0.5) => 3.0 / 16.0,
        () if up_to(0.75) => 1.0 / 4.0,
        () => 5.0 / 16.0,
    };
    throat * IN
}
