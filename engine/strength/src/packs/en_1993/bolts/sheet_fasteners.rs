//! Blind rivets and self-tapping screws in sheet.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SheetFastener, SheetFastenerInput, SheetPull};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, MPA, sheet};

/// Limits of Tables 8.1 and 8.2: diameters of the fastener and strength of the sheet.
fn in_tables(input: &SheetFastenerInput) -> Applicability {
    let (least, most) = match input.fastener {
        SheetFastener::BlindRivet => (2.6 * MM, 6.4 * MM),
        SheetFastener::Screw => (3.0 * MM, 8.0 * MM),
    };
    let mut outside = Vec::new();
    if !(least..=most).contains(&input.d) {
        outside.push(format!(
            "the tables hold for diameters of {} to {} mm",
            least / MM,
            most / MM
        ));
    }
    if input.f_u > 550.0 * MPA {
        outside.push("the tables end at a tensile strength of 550 MPa".to_owned());
    }
    Applicability::within(outside.is_empty(), || outside.join("; "))
}

/// Bearing and tearing of the thinner sheet.
pub(super) struct FastenerBearing;

const BEARING: Source = sheet("Tables 8.1 and 8.2, bearing (from memory)");

impl Clause<SheetFastenerInput> for FastenerBearing {
    fn reference(&self) -> Source {
        BEARING
    }

    fn title(&self) -> &'static str {
        "bearing of sheet on a blind rivet or screw"
    }

    fn short(&self) -> &'static str {
        "bearing"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        in_tables(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let sheet = Sheet::read(input, factors, trace);
        let f_b_rd = bearing(input, sheet, trace)?;
        step!(trace, Ratio, BEARING, "utilisation"; utilisation(f_v_ed, f_b_rd) = f_v_ed / f_b_rd);
        Checked::new(f_v_ed, f_b_rd, Dimension::Force, utilisation)
    }
}

/// What the resistances of fastener and sheet share.
#[derive(Clone, Copy)]
struct Sheet {
    d: f64,
    t: f64,
    f_u: f64,
    gamma_m2: f64,
}

impl Sheet {
    fn read(input: &SheetFastenerInput, factors: &Factors, trace: &mut Trace) -> Self {
        Self {
            d: input.d(trace),
            t: input.t(trace),
            f_u: input.f_u(trace),
            gamma_m2: factors.gamma_m2(trace),
        }
    }
}

/// Records and returns the bearing resistance. The fastener leans over in a joint of two thin
/// sheets and stands upright in a thick one; between, the factor goes linearly.
fn bearing(input: &SheetFastenerInput, sheet: Sheet, trace: &mut Trace) -> Result<f64, NotChecked> {
    let Sheet { d, t, f_u, gamma_m2 } = sheet;
    let t_1 = input.t_1(trace);
    if t_1 < t {
        return Err(NotChecked::OutOfRange {
            symbol: "t_1",
            what: "thickness of the thicker sheet",
            value: t_1,
            dimension: Dimension::Length,
            allowed: "at least that of the thinner sheet",
        });
    }
    let alpha_equal = match input.fastener {
        SheetFastener::BlindRivet => {
            step!(trace, Ratio, BEARING, "factor of two equal sheets, rivet";
                alpha_equal(t, d) = smaller(3.6 * sqrt(t / d), 2.1));
            alpha_equal
        }
        SheetFastener::Screw => {
            step!(trace, Ratio, BEARING, "factor of two equal sheets, screw";
                alpha_equal(t, d) = smaller(3.2 * sqrt(t / d), 2.1));
            alpha_equal
        }
    };
    let alpha_thick = if input.fastener == SheetFastener::Screw && input.t < MM {
        step!(trace, Ratio, BEARING, "factor on a thick sheet, screw in sheet under 1 mm";
            alpha_thick(alpha_equal) = alpha_equal);
        alpha_thick
    } else {
        step!(trace, Ratio, BEARING, "factor on a sheet 2.5 times as thick"; alpha_thick() = 2.1);
        alpha_thick
    };
    step!(trace, Ratio, BEARING, "factor between both";
        alpha(alpha_equal, alpha_thick, t, t_1) =
        alpha_equal + (alpha_thick - alpha_equal) * smaller(1.0, (t_1 / t - 1.0) / 1.5));
    step!(trace, Force, BEARING, "bearing resistance";
        f_b_rd(alpha, f_u, d, t, gamma_m2) = alpha * f_u * d * t / gamma_m2);
    if input.fastener == SheetFastener::BlindRivet && input.e_1.is_some() {
        let e_1 = input.e_1(trace)?;
        step!(trace, Force, BEARING, "bearing resistance, limited by the end of the sheet";
            f_b_rd(f_b_rd, f_u, e_1, t, gamma_m2) =
            smaller(f_b_rd, f_u * e_1 * t / (1.2 * gamma_m2)));
        return Ok(f_b_rd);
    }
    Ok(f_b_rd)
}

/// Fracture of the sheet through the holes.
pub(super) struct FastenerNet;

const NET: Source = sheet("Tables 8.1 and 8.2, net section (from memory)");

impl Clause<SheetFastenerInput> for FastenerNet {
    fn reference(&self) -> Source {
        NET
    }

    fn title(&self) -> &'static str {
        "fracture of sheet through the holes of rivets or screws"
    }

    fn short(&self) -> &'static str {
        "net section"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        Applicability::only_if(input.a_net.is_some(), "no net area is given")
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let a_net = input.a_net(trace)?;
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, NET, "fracture resistance of the net section";
            f_n_rd(a_net, f_u, gamma_m2) = a_net * f_u / gamma_m2);
        step!(trace, Ratio, NET, "utilisation"; utilisation(f_v_ed, f_n_rd) = f_v_ed / f_n_rd);
        Checked::new(f_v_ed, f_n_rd, Dimension::Force, utilisation)
    }
}

/// Shear of the fastener itself.
pub(super) struct FastenerShear;

const SHEAR: Source = sheet("Tables 8.1 and 8.2, shear of the fastener (from memory)");

impl Clause<SheetFastenerInput> for FastenerShear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "shear of the rivet or screw itself"
    }

    fn short(&self) -> &'static str {
        "fastener shear"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        in_tables(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let f_v_rk = input.f_v_rk(trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, SHEAR, "shear resistance of the fastener, from tests";
            f_v_rd(f_v_rk, gamma_m2) = f_v_rk / gamma_m2);
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_v_ed, f_v_rd) = f_v_ed / f_v_rd);
        Checked::new(f_v_ed, f_v_rd, Dimension::Force, utilisation)
    }
}

/// The sheet is to tear before the fastener shears off.
pub(super) struct FastenerDuctile;

const DUCTILE: Source = sheet("Tables 8.1 and 8.2, conditions (from memory)");

impl Clause<SheetFastenerInput> for FastenerDuctile {
    fn reference(&self) -> Source {
        DUCTILE
    }

    fn title(&self) -> &'static str {
        "the sheet gives before the rivet or screw"
    }

    fn short(&self) -> &'static str {
        "sheet gives first"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        in_tables(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let sheet = Sheet::read(input, factors, trace);
        let Sheet { gamma_m2, .. } = sheet;
        let f_b_rd = bearing(input, sheet, trace)?;
        let f_v_rk = input.f_v_rk(trace)?;
        step!(trace, Force, DUCTILE, "shear resistance of the fastener, from tests";
            f_v_rd(f_v_rk, gamma_m2) = f_v_rk / gamma_m2);
        step!(trace, Force, DUCTILE, "bearing resistance with its margin";
            f_needed(f_b_rd) = 1.2 * f_b_rd);
        step!(trace, Ratio, DUCTILE, "required over provided";
            utilisation(f_needed, f_v_rd) = f_needed / f_v_rd);
        Checked::new(f_needed, f_v_rd, Dimension::Force, utilisation)
    }
}

/// The sheet pulled over head or washer.
pub(super) struct FastenerPullThrough;

const PULL_THROUGH: Source = sheet("Tables 8.1 and 8.2, pull-through (from memory)");

impl Clause<SheetFastenerInput> for FastenerPullThrough {
    fn reference(&self) -> Source {
        PULL_THROUGH
    }

    fn title(&self) -> &'static str {
        "head of a rivet or screw pulled through the sheet"
    }

    fn short(&self) -> &'static str {
        "pull-through"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        let tables = in_tables(input);
        let computed = input.f_p_rk.is_none() && input.fastener == SheetFastener::Screw;
        if tables != Applicability::Applies || !computed {
            return tables;
        }
        let thin = (0.5 * MM..=1.5 * MM).contains(&input.t) && input.t_1 >= 0.9 * MM;
        Applicability::within(thin, || {
            "the formula holds for sheet of 0.5 to 1.5 mm on 0.9 mm or more".to_owned()
        })
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let sheet = Sheet::read(input, factors, trace);
        let f_p_rd = pull_through(input, sheet, trace)?;
        step!(trace, Ratio, PULL_THROUGH, "utilisation";
            utilisation(f_t_ed, f_p_rd) = f_t_ed / f_p_rd);
        Checked::new(f_t_ed, f_p_rd, Dimension::Force, utilisation)
    }
}

/// Records and returns the resistance against pull-through: from tests, which rivets always need,
/// else by the formula for screws.
fn pull_through(
    input: &SheetFastenerInput,
    sheet: Sheet,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let Sheet { t, f_u, gamma_m2, .. } = sheet;
    if input.f_p_rk.is_some() || input.fastener == SheetFastener::BlindRivet {
        let f_p_rk = input.f_p_rk(trace)?;
        step!(trace, Force, PULL_THROUGH, "resistance against pull-through, from tests";
            f_p_rd(f_p_rk, gamma_m2) = f_p_rk / gamma_m2);
        return Ok(f_p_rd);
    }
    let d_w = input.d_w(trace)?;
    match input.pull {
        SheetPull::Steady => {
            step!(trace, Force, PULL_THROUGH, "resistance against pull-through";
                f_p_rd(d_w, t, f_u, gamma_m2) = d_w * t * f_u / gamma_m2);
            Ok(f_p_rd)
        }
        SheetPull::Repeated => {
            step!(trace, Force, PULL_THROUGH, "resistance against pull-through, repeated pull";
                f_p_rd(d_w, t, f_u, gamma_m2) = 0.5 * d_w * t * f_u / gamma_m2);
            Ok(f_p_rd)
        }
    }
}

/// The screw pulled out of the sheet it bites in.
pub(super) struct ScrewPullOut;

const PULL_OUT: Source = sheet("Table 8.2, pull-out (from memory)");

impl Clause<SheetFastenerInput> for ScrewPullOut {
    fn reference(&self) -> Source {
        PULL_OUT
    }

    fn title(&self) -> &'static str {
        "self-tapping screw pulled out of the sheet it bites in"
    }

    fn short(&self) -> &'static str {
        "pull-out"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        if input.fastener == SheetFastener::BlindRivet {
            return Applicability::DoesNotApply("a rivet has no thread".to_owned());
        }
        in_tables(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let sheet = Sheet::read(input, factors, trace);
        let f_o_rd = pull_out(input, sheet, trace)?;
        step!(trace, Ratio, PULL_OUT, "utilisation"; utilisation(f_t_ed, f_o_rd) = f_t_ed / f_o_rd);
        Checked::new(f_t_ed, f_o_rd, Dimension::Force, utilisation)
    }
}

fn pull_out(
    input: &SheetFastenerInput,
    sheet: Sheet,
    trace: &mut Trace,
) -> Result<f64, NotChecked> {
    let Sheet { d, gamma_m2, .. } = sheet;
    let s = input.s(trace)?;
    let t_sup = input.t_sup(trace)?;
    let f_u_sup = input.f_u_sup(trace)?;
    step!(trace, Ratio, PULL_OUT, "factor, higher from one pitch of sheet on";
        k_out(t_sup, s) = if t_sup < s { 0.45 } else { 0.65 });
    step!(trace, Force, PULL_OUT, "resistance against pull-out";
        f_o_rd(k_out, d, t_sup, f_u_sup, gamma_m2) = k_out * d * t_sup * f_u_sup / gamma_m2);
    Ok(f_o_rd)
}

/// Tension of the fastener itself, from tests.
pub(super) struct FastenerTension;

const TENSION: Source = sheet("Tables 8.1 and 8.2, tension of the fastener (from memory)");

impl Clause<SheetFastenerInput> for FastenerTension {
    fn reference(&self) -> Source {
        TENSION
    }

    fn title(&self) -> &'static str {
        "tension of the rivet or screw itself"
    }

    fn short(&self) -> &'static str {
        "fastener tension"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        in_tables(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_t_ed = input.f_t_ed(trace);
        let f_t_rk = input.f_t_rk(trace)?;
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, TENSION, "tension resistance of the fastener, from tests";
            f_t_rd(f_t_rk, gamma_m2) = f_t_rk / gamma_m2);
        step!(trace, Ratio, TENSION, "utilisation"; utilisation(f_t_ed, f_t_rd) = f_t_ed / f_t_rd);
        Checked::new(f_t_ed, f_t_rd, Dimension::Force, utilisation)
    }
}

/// Shear and pull together, by the weakest of the sheet in each.
pub(super) struct FastenerCombined;

const COMBINED: Source = sheet("8.3(8), shear and tension together (from memory)");

impl Clause<SheetFastenerInput> for FastenerCombined {
    fn reference(&self) -> Source {
        COMBINED
    }

    fn title(&self) -> &'static str {
        "rivet or screw in shear and pull together"
    }

    fn short(&self) -> &'static str {
        "shear and pull"
    }

    fn applies(&self, input: &SheetFastenerInput) -> Applicability {
        FastenerPullThrough.applies(input)
    }

    fn formula(
        &self,
        input: &SheetFastenerInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = input.f_v_ed(trace);
        let f_t_ed = input.f_t_ed(trace);
        let sheet = Sheet::read(input, factors, trace);
        let f_b_rd = bearing(input, sheet, trace)?;
        let f_v_sheet_rd = if input.a_net.is_some() {
            let a_net = input.a_net(trace)?;
            let Sheet { f_u, gamma_m2, .. } = sheet;
            step!(trace, Force, COMBINED, "in shear: bearing or net section";
                f_v_sheet_rd(f_b_rd, a_net, f_u, gamma_m2) =
                smaller(f_b_rd, a_net * f_u / gamma_m2));
            f_v_sheet_rd
        } else {
            step!(trace, Force, COMBINED, "in shear: bearing"; f_v_sheet_rd(f_b_rd) = f_b_rd);
            f_v_sheet_rd
        };
        let f_p_rd = pull_through(input, sheet, trace)?;
        let f_pull_rd = if input.fastener == SheetFastener::Screw {
            let f_o_rd = pull_out(input, sheet, trace)?;
            step!(trace, Force, COMBINED, "in tension: pull-through or pull-out";
                f_pull_rd(f_p_rd, f_o_rd) = smaller(f_p_rd, f_o_rd));
            f_pull_rd
        } else {
            step!(trace, Force, COMBINED, "in tension: pull-through"; f_pull_rd(f_p_rd) = f_p_rd);
            f_pull_rd
        };
        step!(trace, Ratio, COMBINED, "utilisation, sum of ratios";
            utilisation(f_t_ed, f_pull_rd, f_v_ed, f_v_sheet_rd) =
            f_t_ed / f_pull_rd + f_v_ed / f_v_sheet_rd);
        Checked::new(utilisation, 1.0, Dimension::Ratio, utilisation)
    }
}

/// A least distance as a multiple of the diameter of the fastener.
macro_rules! fastener_distance {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:literal, $title:literal / $short:literal,
     $distance:ident, $rivet:literal, $screw:literal) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = sheet($place);

        impl Clause<SheetFastenerInput> for $name {
            fn reference(&self) -> Source {
                $source
            }

            fn title(&self) -> &'static str {
                $title
            }

            fn short(&self) -> &'static str {
                $short
            }

            fn kind(&self) -> Kind {
                Kind::Detailing
            }

            fn applies(&self, input: &SheetFastenerInput) -> Applicability {
                let given = input.$distance.is_some();
                Applicability::only_if(given, "there is no edge or neighbour on this side")
            }

            fn formula(
                &self,
                input: &SheetFastenerInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let $distance = input.$distance(trace)?;
                let d = input.d(trace);
                let required = match input.fastener {
                    SheetFastener::BlindRivet => {
                        step!(trace, Length, $source, "least distance, rivet"; required(d) = $rivet * d);
                        required
                    }
                    SheetFastener::Screw => {
                        step!(trace, Length, $source, "least distance, screw"; required(d) = $screw * d);
                        required
                    }
                };
                step!(trace, Ratio, $source, "required over provided";
                    utilisation(required, $distance) = required / $distance);
                Checked::new(required, $distance, Dimension::Length, utilisation)
            }
        }
    };
}

fastener_distance!(
    /// Least end distance along the force.
    FastenerEnd, END = "Tables 8.1 and 8.2, least e1 (from memory)",
    "least end distance of a rivet or screw" / "end distance", e_1, 1.5, 3.0
);
fastener_distance!(
    /// Least edge distance across the force.
    FastenerEdge, EDGE = "Tables 8.1 and 8.2, least e2 (from memory)",
    "least edge distance of a rivet or screw" / "edge distance", e_2, 1.5, 1.5
);
fastener_distance!(
    /// Least spacing along the force.
    FastenerAlong, ALONG = "Tables 8.1 and 8.2, least p1 (from memory)",
    "least spacing of rivets or screws along the force" / "spacing along", p_1, 3.0, 3.0
);
fastener_distance!(
    /// Least spacing across the force.
    FastenerAcross, ACROSS = "Tables 8.1 and 8.2, least p2 (from memory)",
    "least spacing of rivets or screws across the force" / "spacing across", p_2, 3.0, 3.0
);
