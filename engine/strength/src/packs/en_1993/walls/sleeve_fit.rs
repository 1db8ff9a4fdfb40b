//! Sleeves that are too long or too short for their hollow.

use fishplate_quantity::{Dimension, Source, Trace, step};

use crate::clause::input::SleeveFitInput;
use crate::clause::{Applicability, Checked, Clause, Factors, Kind, NotChecked};
use crate::packs::en_1993::{MM, e_of_steel};

use super::clamped::closed_half;

/// A sleeve that stands proud keeps the plates off the walls.
pub(super) struct SleeveProud;

const PROUD: Source = Source::practice("a sleeve stands hardly proud and is never short");

impl Clause<SleeveFitInput> for SleeveProud {
    fn reference(&self) -> Source {
        PROUD
    }

    fn title(&self) -> &'static str {
        "sleeve longer than its hollow is deep"
    }

    fn short(&self) -> &'static str {
        "sleeve proud"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &SleeveFitInput) -> Applicability {
        Applicability::only_if(input.proud >= 0.0, "the sleeve is short")
    }

    fn formula(
        &self,
        input: &SleeveFitInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let proud = input.proud(trace);
        step!(trace, Length, PROUD, "largest length it may stand proud"; proud_max() = 0.2 * MM);
        step!(trace, Ratio, PROUD, "provided over allowed";
            utilisation(proud, proud_max) = proud / proud_max);
        Checked::new(proud, proud_max, Dimension::Length, utilisation)
    }
}

/// Walls that have to bend for good before they touch the sleeve.
pub(super) struct ShortSleeveBends;

const BENDS: Source = Source::mechanics("gap over a short sleeve against the give of two walls");

impl Clause<SleeveFitInput> for ShortSleeveBends {
    fn reference(&self) -> Source {
        BENDS
    }

    fn title(&self) -> &'static str {
        "walls bent for good until they touch a short sleeve"
    }

    fn short(&self) -> &'static str {
        "short sleeve, walls"
    }

    fn kind(&self) -> Kind {
        Kind::Detailing
    }

    fn applies(&self, input: &SleeveFitInput) -> Applicability {
        is_short(input)
    }

    fn formula(
        &self,
        input: &SleeveFitInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let Walls { gap, f_pl, k_walls } = Walls::read(input, trace)?;
        step!(trace, Length, BENDS, "gap that both walls close before they yield";
            gap_give(f_pl, k_walls) = f_pl / k_walls);
        step!(trace, Ratio, BENDS, "provided over allowed";
            utilisation(gap, gap_give) = gap / gap_give);
        Checked::new(gap, gap_give, Dimension::Length, utilisation)
    }
}

/// Clamping through a short sleeve: what the walls hold back does not reach it.
pub(super) struct ShortSleeveClamps;

const CLAMPS: Source = Source::mechanics("preload less the force that closes the walls");

impl Clause<SleeveFitInput> for ShortSleeveClamps {
    fn reference(&self) -> Source {
        CLAMPS
    }

    fn title(&self) -> &'static str {
        "clamping through a short sleeve"
    }

    fn short(&self) -> &'static str {
        "short sleeve, clamp"
    }

    fn kind(&self) -> Kind {
        Kind::Serviceability
    }

    fn applies(&self, input: &SleeveFitInput) -> Applicability {
        if input.f_k_req.is_none() {
            return Applicability::DoesNotApply("no clamping is asked for".to_owned());
        }
        is_short(input)
    }

    fn formula(
        &self,
        input: &SleeveFitInput,
        _: &Factors,
        trace: &mut Trace,
    ) -> Result<Checked, NotChecked> {
        let f_k_req = input.f_k_req(trace)?;
        let f_min = input.f_min(trace);
        let Walls { gap, f_pl, k_walls } = Walls::read(input, trace)?;
        step!(trace, Force, CLAMPS, "force that closes the gap, at most that at which the walls yield";
            f_close(gap, k_walls, f_pl) = smaller(k_walls * gap, f_pl));
        step!(trace, Force, CLAMPS, "clamping that reaches the sleeve";
            f_left(f_min, f_close) = positive(f_min - f_close));
        step!(trace, Ratio, CLAMPS, "utilisation"; utilisation(f_k_req, f_left) = f_k_req / f_left);
        trace.note(|| {
            "the walls go on creeping and settling under what they hold: retighten, or shim the \
             sleeve"
                .to_owned()
        });
        Checked::new(f_k_req, f_left, Dimension::Force, utilisation)
    }
}

fn is_short(input: &SleeveFitInput) -> Applicability {
    Applicability::only_if(input.proud < 0.0, "the sleeve is not short")
}

/// Two walls over a short sleeve: the gap they have to close, what they carry, how stiff they are.
struct Walls {
    gap: f64,
    f_pl: f64,
    k_walls: f64,
}

impl Walls {
    fn read(input: &SleeveFitInput, trace: &mut Trace) -> Result<Self, NotChecked> {
        const STRIP: Source = Source::new(
            "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed.",
            "long strip with clamped edges under a force midway (from memory)",
        );
        let proud = input.proud(trace);
        let b_0 = input.b_0(trace);
        let d_w = input.d_w(trace);
        let t = input.t(trace);
        let f_y = input.f_y(trace);
        if d_w >= b_0 {
            return Err(NotChecked::NoRule {
                reason: "the washer covers the whole wall: the webs take the clamping".to_owned(),
            });
        }
        step!(trace, Length, STRIP, "gap over the sleeve"; gap(proud) = -proud);
        step!(trace, Force, Source::mechanics("plastic moment of a wall"),
            "plastic moment per length"; m_p(f_y, t) = f_y * sq(t) / 4.0);
        let half = closed_half(b_0, d_w, trace);
        step!(trace, Force, BENDS, "force at which a wall yields"; f_pl(m_p, half) = 2.0 * m_p * half);
        // Both walls bend under the same force, each closes half of the gap: w = 0.00725 F b²/D,
        // D = E t³ / (12 (1 - 0.3²)). Edges that turn would be softer and hold back less.
        let e_steel = e_of_steel(trace);
        step!(trace, Stiffness, STRIP, "stiffness of both walls in line, held at their corners";
            k_walls(t, b_0, e_steel) = e_steel * cube(t) / (12.0 * (1.0 - 0.3 * 0.3)) / (2.0 * 0.00725 * sq(b_0)));
        Ok(Self { gap, f_pl, k_walls })
    }
}
