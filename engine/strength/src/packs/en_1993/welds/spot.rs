//! Spot welds between sheets.

use std::f64::consts::PI;

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::{SpotKind, SpotWeldInput};
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, sheet};

/// Spots are for shear: a pull peels them off.
fn no_pull(input: &SpotWeldInput, trace: &mut Trace) -> Result<(), NotChecked> {
    if input.f_t_ed(trace) > 0.0 {
        let reason = "a spot weld must not carry pull, which peels it off: use a bolt or a bead";
        return Err(NotChecked::NoRule { reason: reason.to_owned() });
    }
    Ok(())
}

/// Records and returns the diameter at the interface.
fn diameter(input: &SpotWeldInput, t: f64, trace: &mut Trace) -> Result<f64, NotChecked> {
    const SPOT: Source = sheet("8.4(3), interface diameter (from memory)");
    if input.d_s.is_some() {
        return input.d_s(trace);
    }
    match input.spot {
        SpotKind::Resistance => {
            step!(trace, Length, SPOT, "diameter of a resistance spot";
                d_s(t) = 5.0 * MM * sqrt(t / MM));
            Ok(d_s)
        }
        SpotKind::Fusion => {
            step!(trace, Length, SPOT, "diameter of a fusion spot"; d_s(t) = 0.5 * t + 5.0 * MM);
            Ok(d_s)
        }
    }
}

/// Tearing and bearing of the sheet around the spot.
pub(super) struct SpotTear;

const TEAR: Source = sheet("8.4, tearing and bearing of a spot weld (from memory)");

impl Clause<SpotWeldInput> for SpotTear {
    fn reference(&self) -> Source {
        TEAR
    }

    fn title(&self) -> &'static str {
        "sheet tearing around a spot weld"
    }

    fn short(&self) -> &'static str {
        "spot tears"
    }

    fn applies(&self, _: &SpotWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let t = input.t(trace);
        let d_s = diameter(input, t, trace)?;
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let f_tb_rd = tear(input, &Spot { t, d_s, f_u, gamma_m2 }, trace)?;
        step!(trace, Ratio, TEAR, "utilisation"; utilisation(f_v_ed, f_tb_rd) = f_v_ed / f_tb_rd);
        Checked::new(f_v_ed, f_tb_rd, Dimension::Force, utilisation)
    }
}

/// What tearing and shear of a spot share.
struct Spot {
    t: f64,
    d_s: f64,
    f_u: f64,
    gamma_m2: f64,
}

fn tear(input: &SpotWeldInput, spot: &Spot, trace: &mut Trace) -> Result<f64, NotChecked> {
    let &Spot { t, d_s, f_u, gamma_m2 } = spot;
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
    step!(trace, Force, TEAR, "resistance against tearing";
        f_tb_rd(t, d_s, f_u, gamma_m2) = 2.7 * MM * sqrt(t / MM) * d_s * f_u / gamma_m2);
    if t_1 <= 2.5 * t {
        return Ok(f_tb_rd);
    }
    step!(trace, Force, TEAR, "not above its limits on a thick sheet";
        f_tb_rd(f_tb_rd, d_s, t, f_u, gamma_m2) =
        smaller(f_tb_rd, smaller(0.7 * sq(d_s), 3.1 * t * d_s) * f_u / gamma_m2));
    Ok(f_tb_rd)
}

/// Tearing out towards the end of the sheet.
pub(super) struct SpotEnd;

const END: Source = sheet("8.4, end failure of a spot weld (from memory)");

impl Clause<SpotWeldInput> for SpotEnd {
    fn reference(&self) -> Source {
        END
    }

    fn title(&self) -> &'static str {
        "spot weld tearing out towards the end of the sheet"
    }

    fn short(&self) -> &'static str {
        "spot tears out"
    }

    fn applies(&self, input: &SpotWeldInput) -> Applicability {
        Applicability::only_if(input.e_1.is_some(), "there is no end near the spot")
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let t = input.t(trace);
        let e_1 = input.e_1(trace)?;
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, END, "resistance towards the end";
            f_e_rd(t, e_1, f_u, gamma_m2) = 1.4 * t * e_1 * f_u / gamma_m2);
        step!(trace, Ratio, END, "utilisation"; utilisation(f_v_ed, f_e_rd) = f_v_ed / f_e_rd);
        Checked::new(f_v_ed, f_e_rd, Dimension::Force, utilisation)
    }
}

/// Fracture of the sheet beside the spots.
pub(super) struct SpotNet;

const NET: Source = sheet("8.4, net section at spot welds (from memory)");

impl Clause<SpotWeldInput> for SpotNet {
    fn reference(&self) -> Source {
        NET
    }

    fn title(&self) -> &'static str {
        "fracture of the sheet at spot welds"
    }

    fn short(&self) -> &'static str {
        "net section"
    }

    fn applies(&self, input: &SpotWeldInput) -> Applicability {
        Applicability::only_if(input.a_net.is_some(), "no net area is given")
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
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

/// Shear of the spot itself.
pub(super) struct SpotShear;

const SHEAR: Source = sheet("8.4, shear of a spot weld (from memory)");

impl Clause<SpotWeldInput> for SpotShear {
    fn reference(&self) -> Source {
        SHEAR
    }

    fn title(&self) -> &'static str {
        "spot weld shearing off"
    }

    fn short(&self) -> &'static str {
        "spot shears"
    }

    fn applies(&self, _: &SpotWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        no_pull(input, trace)?;
        let f_v_ed = input.f_v_ed(trace);
        let t = input.t(trace);
        let d_s = diameter(input, t, trace)?;
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, SHEAR, "shear resistance of the spot";
            f_v_rd(d_s, f_u, gamma_m2) = PI / 4.0 * sq(d_s) * f_u / gamma_m2);
        step!(trace, Ratio, SHEAR, "utilisation"; utilisation(f_v_ed, f_v_rd) = f_v_ed / f_v_rd);
        Checked::new(f_v_ed, f_v_rd, Dimension::Force, utilisation)
    }
}

/// The sheet is to tear before the spot shears off.
pub(super) struct SpotDuctile;

const DUCTILE: Source = sheet("8.4, conditions of spot welds (from memory)");

impl Clause<SpotWeldInput> for SpotDuctile {
    fn reference(&self) -> Source {
        DUCTILE
    }

    fn title(&self) -> &'static str {
        "the sheet tears before the spot weld shears off"
    }

    fn short(&self) -> &'static str {
        "sheet gives first"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, _: &SpotWeldInput) -> Applicability {
        Applicability::Applies
    }

    fn formula(
        &self,
        input: &SpotWeldInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let t = input.t(trace);
        let d_s = diameter(input, t, trace)?;
        let f_u = input.f_u(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        let f_tb_rd = tear(input, &Spot { t, d_s, f_u, gamma_m2 }, trace)?;
        step!(trace, Force, SHEAR, "shear resistance of the spot";
            f_v_rd(d_s, f_u, gamma_m2) = PI / 4.0 * sq(d_s) * f_u / gamma_m2);
        step!(trace, Force, DUCTILE, "tearing resistance with its margin";
            f_needed(f_tb_rd) = 1.25 * f_tb_rd);
        step!(trace, Ratio, DUCTILE, "required over provided";
            utilisation(f_needed, f_v_rd) = f_needed / f_v_rd);
        Checked::new(f_needed, f_v_rd, Dimension::Force, utilisation)
    }
}

/// A distance of spots, at least or at most a multiple of their diameter.
macro_rules! spot_distance {
    ($(#[$doc:meta])* $name:ident, $source:ident = $place:literal, $title:literal / $short:literal,
     $distance:ident, $least:ident $factor:literal) => {
        $(#[$doc])*
        pub(super) struct $name;

        const $source: Source = sheet($place);

        impl Clause<SpotWeldInput> for $name {
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

            fn applies(&self, input: &SpotWeldInput) -> Applicability {
                let given = input.$distance.is_some();
                Applicability::only_if(given, "there is no edge or neighbour on this side")
            }

            fn formula(
                &self,
                input: &SpotWeldInput,
                _: &Factors,
                trace: &mut Trace,
            ) -> Result<Checked, NotChecked> {
                let t = input.t(trace);
                let d_s = diameter(input, t, trace)?;
                let $distance = input.$distance(trace)?;
                spot_distance!(@$least $source, trace, d_s, $distance, $factor)
            }
        }
    };
    (@least $source:ident, $trace:ident, $d_s:ident, $distance:ident, $factor:literal) => {{
        step!($trace, Length, $source, "least distance"; required($d_s) = $factor * $d_s);
        step!($trace, Ratio, $source, "required over provided";
            utilisation(required, $distance) = required / $distance);
        Checked::new(required, $distance, Dimension::Length, utilisation)
    }};
    (@most $source:ident, $trace:ident, $d_s:ident, $distance:ident, $factor:literal) => {{
        step!($trace, Length, $source, "largest distance"; allowed($d_s) = $factor * $d_s);
        step!($trace, Ratio, $source, "provided over allowed";
            utilisation($distance, allowed) = $distance / allowed);
        Checked::new($distance, allowed, Dimension::Length, utilisation)
    }};
}

spot_distance!(
    /// Least end distance.
    SpotLeastEnd, LEAST_END = "8.4, least e1 of spot welds (from memory)",
    "least end distance of a spot weld" / "end distance", e_1, least 2.0
);
spot_distance!(
    /// Largest end distance the formulas rest on.
    SpotMostEnd, MOST_END = "8.4, largest e1 of spot welds (from memory)",
    "largest end distance of a spot weld" / "end distance, most", e_1, most 6.0
);
spot_distance!(
    /// Largest edge distance the formulas rest on.
    SpotMostEdge, MOST_EDGE = "8.4, largest e2 of spot welds (from memory)",
    "largest edge distance of a spot weld" / "edge distance, most", e_2, most 4.0
);
spot_distance!(
    /// Least spacing along the force.
    SpotLeastAlong, LEAST_ALONG = "8.4, least p1 of spot welds (from memory)",
    "least spacing of spot welds along the force" / "spacing along", p_1, least 3.0
);
spot_distance!(
    /// Largest spacing along the force the formulas rest on.
    SpotMostAlong, MOST_ALONG = "8.4, largest p1 of spot welds (from memory)",
    "largest spacing of spot welds along the force" / "spacing along, most", p_1, most 8.0
);
spot_distance!(
    /// Least spacing across the force.
    SpotLeastAcross, LEAST_ACROSS = "8.4, least p2 of spot welds (from memory)",
    "least spacing of spot welds across the force" / "spacing across", p_2, least 3.0
);
spot_distance!(
    /// Largest spacing across the force the formulas rest on.
    SpotMostAcross, MOST_ACROSS = "8.4, largest p2 of spot welds (from memory)",
    "largest spacing of spot welds across the force" / "spacing across, most", p_2, most 6.0
);
