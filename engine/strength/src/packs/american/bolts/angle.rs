//! Angles pulled through bolts in one leg: the rest of the section lags behind.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::AngleLegInput;
use crate::clause::{Applicability, Checked, Clause, Factors, NotChecked};
use crate::packs::american::available::available;
use crate::packs::american::factors::TENSION_RUPTURE;
use crate::packs::american::{IN, aisc, since};

/// Rupture of the effective net section.
pub(super) struct AngleByOneLeg;

const ONE_LEG: Source = aisc("D3 and Table D3.1");

impl Clause<AngleLegInput> for AngleByOneLeg {
    fn reference(&self) -> Source {
        ONE_LEG
    }

    fn title(&self) -> &'static str {
        "angle pulled through bolts in one leg"
    }

    fn short(&self) -> &'static str {
        "angle, one leg"
    }

    fn applies(&self, input: &AngleLegInput) -> Applicability {
        Applicability::only_if(
            input.n_bolts > 1.5,
            "AISC 360 has no shear lag factor for a single bolt",
        )
    }

    fn formula(
        &self,
        input: &AngleLegInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let n_ed = input.n_ed(trace);
        let a_net = input.a_net(trace);
        let t = input.t(trace);
        let f_u = input.f_u(trace);
        step!(trace, Area, aisc("B4.3b"), "net area, the hole 1/16 in wider";
            a_n(a_net, t) = a_net - t * IN / 16.0);
        if a_n <= 0.0 {
            return Err(NotChecked::OutOfRange {
                symbol: "a_net",
                what: "net area of the angle",
                value: a_net,
                dimension: Dimension::Area,
                allowed: "more than the hole takes when it counts 1/16 in wider",
            });
        }
        let u_lag = shear_lag(input, factors, trace)?;
        step!(trace, Area, ONE_LEG, "effective net area"; a_e(a_n, u_lag) = a_n * u_lag);
        step!(trace, Force, ONE_LEG, "nominal strength"; p_nr(f_u, a_e) = f_u * a_e);
        available!(trace, factors, phi_r or omega_r of TENSION_RUPTURE;
            Force, ONE_LEG, "available strength in rupture"; p_r(p_nr));
        step!(trace, Ratio, ONE_LEG, "utilisation"; utilisation(n_ed, p_r) = share(n_ed, p_r));
        Checked::new(n_ed, p_r, Dimension::Force, utilisation)
    }
}

/// The larger of what the centroid gives (case 2) and what the number of bolts gives (case 8);
/// either may be used alone.
fn shear_lag(
    input: &AngleLegInput,
    factors: &Factors,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let tabulated = tabulated(input.n_bolts, since(2010, factors, trace));
    let by_number = tabulated.map(|value| {
        trace.input(
            "u_8",
            "shear lag factor by the bolts in a row",
            Dimension::Ratio,
            value,
            || Provenance::Table("AISC 360, Table D3.1, case 8".to_owned()),
        )
    });
    if input.x_bar.is_none()
        && let Some(u_8) = by_number
    {
        step!(trace, Ratio, ONE_LEG, "shear lag factor"; u_lag(u_8) = u_8);
        return Ok(u_lag);
    }
    let x_bar = input.x_bar(trace)?;
    let n_bolts = input.n_bolts(trace);
    let p_1 = input.p_1(trace)?;
    step!(trace, Length, ONE_LEG, "length of the joint"; l(n_bolts, p_1) = (n_bolts - 1.0) * p_1);
    step!(trace, Ratio, aisc("Table D3.1, case 2"), "shear lag factor by the centroid";
        u_lag(x_bar, l) = positive(1.0 - x_bar / l));
    let Some(u_8) = by_number else { return Ok(u_lag) };
    step!(trace, Ratio, ONE_LEG, "shear lag factor, the larger of both";
        u_lag(u_lag, u_8) = larger(u_lag, u_8));
    Ok(u_lag)
}

/// The factor by the number of bolts in a row; the edition of 2005 has one for two bolts as well.
fn tabulated(n_bolts: f64, of_2010: bool) -> Option<f64> {
    match n_bolts {
        n if n > 3.5 => Some(0.80),
        n if n > 2.5 || !of_2010 => Some(0.60),
        _ => None,
    }
}
