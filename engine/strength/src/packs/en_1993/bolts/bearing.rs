//! Bearing of the ply on the bolt.

use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};

use crate::clause::input::{BoltInput, Hole, Lap};
use crate::clause::{Applicability, Aspect, Checked, Clause, Factors, NotChecked};
use crate::packs::en_1993::factors::PartialFactors;
use crate::packs::en_1993::{MM, THIN, joints, sheet};

use super::shear::shear_demand;

/// Bearing of the ply.
pub(super) struct Bearing;

const BEARING: Source = joints("Table 3.4, bearing");
const INCLINED: Source =
    Source::new("Steel Buildings in Europe, Multi-Storey Steel Buildings Part 5", "3.4, sheet 4");

impl Clause<BoltInput> for Bearing {
    fn reference(&self) -> Source {
        BEARING
    }

    fn title(&self) -> &'static str {
        "bearing of the ply on the bolt"
    }

    fn short(&self) -> &'static str {
        "bearing"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        match input.hole {
            Hole::ShortSlotAlong | Hole::LongSlotAlong => Applicability::OutsideScope(
                "the bolt reaches the end of the slot only after it has slid".to_owned(),
            ),
            _ => Applicability::Applies,
        }
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let ply = Ply::read(input, factors, trace)?;
        let f_b_1 = along_1(trace, &ply)?;
        let f_b_2 = along_2(trace, &ply)?;
        inclined(input, trace, f_v_ed, f_b_1, f_b_2)
    }
}

type Reader = fn(&BoltInput, &mut Trace) -> Result<f64, NotChecked>;

/// What both directions of bearing share.
struct Ply {
    d: f64,
    d_0: f64,
    t_b: f64,
    f_u: f64,
    f_ub: f64,
    k_hole: f64,
    gamma_m2: f64,
    e_1: Option<f64>,
    e_2: Option<f64>,
    p_1: Option<f64>,
    p_2: Option<f64>,
}

impl Ply {
    fn read(input: &BoltInput, factors: &Factors, trace: &mut Trace) -> Result<Self, NotChecked> {
        factors.note_strengths(trace);
        let k_hole = match input.hole {
            Hole::Normal | Hole::ShortSlotAlong | Hole::LongSlotAlong => 1.0,
            Hole::Oversized => 0.8,
            Hole::ShortSlotAcross | Hole::LongSlotAcross => 0.6,
        };
        let what = "factor for the shape of the hole";
        let k_hole = trace.input("k_hole", what, Dimension::Ratio, k_hole, || {
            Provenance::Table("EN 1993-1-8:2005, Table 3.4, notes".to_owned())
        });
        let mut read = |given: Option<f64>, reader: Reader| {
            given.is_some().then(|| reader(input, trace)).transpose()
        };
        let e_1 = read(input.e_1, BoltInput::e_1)?;
        let e_2 = read(input.e_2, BoltInput::e_2)?;
        let p_1 = read(input.p_1, BoltInput::p_1)?;
        let p_2 = read(input.p_2, BoltInput::p_2)?;
        Ok(Self {
            e_1,
            e_2,
            p_1,
            p_2,
            d: input.d(trace),
            d_0: input.d_0(trace),
            t_b: bearing_thickness(input, trace)?,
            f_u: input.f_u(trace),
            f_ub: input.f_ub(trace),
            k_hole,
            gamma_m2: factors.gamma_m2(trace),
        })
    }
}

/// Half the depth of a countersink does not bear.
fn bearing_thickness(input: &BoltInput, trace: &mut Trace) -> Result<f64, NotChecked> {
    let t = input.t(trace);
    if input.sink.is_none() {
        step!(trace, Length, BEARING, "thickness that bears"; t_b(t) = t);
        return Ok(t_b);
    }
    let sink = input.sink(trace)?;
    step!(trace, Length, BEARING, "thickness that bears, less half the countersink";
        t_b(t, sink) = t - 0.5 * sink);
    if t_b > 0.0 {
        return Ok(t_b);
    }
    Err(NotChecked::OutOfRange {
        symbol: "sink",
        what: "depth of the countersink in the ply",
        value: sink,
        dimension: Dimension::Length,
        allowed: "less than twice the thickness of the ply",
    })
}

/// Bearing resistance along one axis: `$e`, `$p` lie along it, `$e_side`, `$p_side` across.
/// Distances that are not given do not limit.
macro_rules! bearing_along {
    ($function:ident, $f_b:ident, $alpha_b:ident, $k_1:ident,
     $e:ident, $p:ident, $e_side:ident, $p_side:ident, $what:literal) => {
        fn $function(trace: &mut Trace, ply: &Ply) -> Result<f64, NotChecked> {
            let &Ply { d, d_0, t_b, f_u, f_ub, k_hole, gamma_m2, .. } = ply;
            step!(trace, Ratio, BEARING, "bearing factor of the materials";
                $alpha_b(f_ub, f_u) = smaller(f_ub / f_u, 1.0));
            let $alpha_b = if let Some($e) = ply.$e {
                step!(trace, Ratio, BEARING, "bearing factor limited by the end";
                    $alpha_b($alpha_b, $e, d_0) = smaller($alpha_b, $e / (3.0 * d_0)));
                $alpha_b
            } else {
                $alpha_b
            };
            let $alpha_b = if let Some($p) = ply.$p {
                step!(trace, Ratio, BEARING, "bearing factor limited by the spacing";
                    $alpha_b($alpha_b, $p, d_0) = smaller($alpha_b, $p / (3.0 * d_0) - 0.25));
                $alpha_b
            } else {
                $alpha_b
            };
            step!(trace, Ratio, BEARING, "factor of a wide ply"; $k_1() = 2.5);
            let $k_1 = if let Some($e_side) = ply.$e_side {
                step!(trace, Ratio, BEARING, "factor limited by the edge";
                    $k_1($k_1, $e_side, d_0) = smaller($k_1, 2.8 * $e_side / d_0 - 1.7));
                $k_1
            } else {
                $k_1
            };
            let $k_1 = if let Some($p_side) = ply.$p_side {
                step!(trace, Ratio, BEARING, "factor limited by the neighbour";
                    $k_1($k_1, $p_side, d_0) = smaller($k_1, 1.4 * $p_side / d_0 - 1.7));
                $k_1
            } else {
                $k_1
            };
            step!(trace, Force, BEARING, $what;
                $f_b(k_hole, $k_1, $alpha_b, f_u, d, t_b, gamma_m2) =
                k_hole * $k_1 * $alpha_b * f_u * d * t_b / gamma_m2);
            positive_resistance($f_b)
        }
    };
}

bearing_along!(
    along_1,
    f_b_1,
    alpha_b_1,
    k_1_1,
    e_1,
    p_1,
    e_2,
    p_2,
    "bearing resistance along axis 1"
);
bearing_along!(
    along_2,
    f_b_2,
    alpha_b_2,
    k_1_2,
    e_2,
    p_2,
    e_1,
    p_1,
    "bearing resistance along axis 2"
);

/// Distances far below the least ones make the factors negative: there is no resistance to quote.
fn positive_resistance(f_b: f64) -> Result<f64, NotChecked> {
    if f_b > 0.0 {
        return Ok(f_b);
    }
    Err(NotChecked::NoRule {
        reason: "edge distance or spacing is far below the least allowed: no bearing resistance"
            .to_owned(),
    })
}

/// A force inclined to both axes: its two shares add as the sides of an ellipse.
fn inclined(
    input: &BoltInput,
    trace: &mut Trace,
    f_v_ed: f64,
    f_b_1: f64,
    f_b_2: f64,
) -> Result<Checked, NotChecked> {
    let (f_1_ed, f_2_ed) = (input.f_1_ed, input.f_2_ed);
    step!(trace, Force, INCLINED, "bearing resistance in the direction of the force";
    f_b_rd(f_1_ed, f_2_ed, f_v_ed, f_b_1, f_b_2) =
    if f_v_ed > 0.0 {
        f_v_ed / sqrt(sq(f_1_ed / f_b_1) + sq(f_2_ed / f_b_2))
    } else {
        smaller(f_b_1, f_b_2)
    });
    step!(trace, Ratio, BEARING, "utilisation"; utilisation(f_v_ed, f_b_rd) = f_v_ed / f_b_rd);
    Checked::new(f_v_ed, f_b_rd, Dimension::Force, utilisation)
}

/// The cap for a bolt row that lets the lap tilt.
pub(super) struct BearingSingleLap;

const SINGLE_LAP: Source = joints("3.6.1(10)");

impl Clause<BoltInput> for BearingSingleLap {
    fn reference(&self) -> Source {
        SINGLE_LAP
    }

    fn title(&self) -> &'static str {
        "bearing in a single lap with one row of bolts, washers under head and nut"
    }

    fn short(&self) -> &'static str {
        "lap bearing"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        let tilts = input.lap == Lap::SingleOneRow;
        Applicability::only_if(tilts, "the lap is not a single one with one row of bolts")
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let f_u = input.f_u(trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Force, SINGLE_LAP, "largest bearing resistance of the tilting lap";
            f_b_rd(f_u, d, t, gamma_m2) = 1.5 * f_u * d * t / gamma_m2);
        step!(trace, Ratio, SINGLE_LAP, "utilisation";
            utilisation(f_v_ed, f_b_rd) = f_v_ed / f_b_rd);
        Checked::new(f_v_ed, f_b_rd, Dimension::Force, utilisation)
    }
}

/// Bearing of thin sheet.
pub(super) struct BearingSheet;

const SHEET: Source = sheet("Table 8.4, bearing");

impl Clause<BoltInput> for BearingSheet {
    fn reference(&self) -> Source {
        SHEET
    }

    fn title(&self) -> &'static str {
        "bearing of thin sheet on the bolt"
    }

    fn short(&self) -> &'static str {
        "bearing of sheet"
    }

    fn aspect(&self) -> Aspect {
        Aspect::Bearing
    }

    fn applies(&self, input: &BoltInput) -> Applicability {
        if input.t >= THIN {
            return Applicability::DoesNotApply("the ply is 4 mm or thicker".to_owned());
        }
        Applicability::within(input.t >= 0.75 * MM, || "the sheet is below 0.75 mm".to_owned())
    }

    fn formula(
        &self,
        input: &BoltInput,
        factors: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_v_ed = shear_demand(input, trace);
        let f_u = input.f_u(trace);
        let d = input.d(trace);
        let t = input.t(trace);
        let gamma_m2 = factors.gamma_m2(trace);
        step!(trace, Ratio, SHEET, "factor of very thin sheet";
            k_t(t) = if t <= 1.25 * MM { (0.8 * t / MM + 1.5) / 2.5 } else { 1.0 });
        step!(trace, Force, SHEET, "bearing resistance far from edges";
            f_b_full(k_t, f_u, d, t, gamma_m2) = 2.5 * k_t * f_u * d * t / gamma_m2);
        let f_b_1 = if input.e_1.is_some() {
            let e_1 = input.e_1(trace)?;
            step!(trace, Force, SHEET, "bearing resistance along axis 1";
                f_b_1(f_b_full, e_1, d) = f_b_full * smaller(1.0, e_1 / (3.0 * d)));
            f_b_1
        } else {
            step!(trace, Force, SHEET, "bearing resistance along axis 1"; f_b_1(f_b_full) = f_b_full);
            f_b_1
        };
        let f_b_2 = if input.e_2.is_some() {
            let e_2 = input.e_2(trace)?;
            step!(trace, Force, SHEET, "bearing resistance along axis 2";
                f_b_2(f_b_full, e_2, d) = f_b_full * smaller(1.0, e_2 / (3.0 * d)));
            f_b_2
        } else {
            step!(trace, Force, SHEET, "bearing resistance along axis 2"; f_b_2(f_b_full) = f_b_full);
            f_b_2
        };
        inclined(input, trace, f_v_ed, f_b_1, f_b_2)
    }
}
