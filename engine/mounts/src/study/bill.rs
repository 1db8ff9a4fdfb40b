//! What a design takes to make: steel, cutting, weld metal, bolts; and what they cost.

use std::f64::consts::{FRAC_PI_4, PI};

use fishplate_quantity::algebra::larger;
use fishplate_strength::catalog;

use crate::answer::Totals;
use crate::describe::{BlockPlan, BoltEnd, Project};
use crate::design::{BeadAt, Body, BodyId, BoltAt, Design, Form, WeldAt};
use crate::frames::STEEL;

/// What a design takes to make. A line stands for all copies of what has one name: both sides, and
/// every mount of a list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Bill {
    /// New steel, in the order of the design.
    pub parts: Vec<PartLine>,
    /// Welds, in the order of the design; then the rings of weld nuts and bosses.
    pub welds: Vec<WeldLine>,
    /// Bolts, in the order of the design.
    pub bolts: Vec<BoltLine>,
    /// What is left out, and why.
    pub not_counted: Vec<String>,
}

/// A part; numbers are those of all its pieces together.
#[derive(Debug, Clone, PartialEq)]
pub struct PartLine {
    /// Its name without side: `part.front-bracket`.
    pub name: String,
    /// What it is: `plate`, `folded`, `bar`, `gusset`, `sleeve`, `block`.
    pub kind: &'static str,
    /// Name of its steel.
    pub steel: String,
    /// Number of pieces.
    pub pieces: usize,
    /// Thickness of plate or wall, m; height of a block.
    pub thickness: f64,
    /// Volume of steel, m³, corners sharp and holes not taken off.
    pub volume: f64,
    /// Its mass, kg.
    pub mass: f64,
    /// Length of cuts, m: round plates, gussets, blocks and the flat blank of a folded U, its
    /// development being that of its outside floor and its walls above the floor; across both ends
    /// of bars and sleeves, along the middle of their walls; round every hole for bolts and plugs.
    pub cut: f64,
}

/// How a weld of a bill is made, m.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum BeadLine {
    /// A fillet.
    Fillet {
        /// Its leg.
        leg: f64,
        /// Its throat, fit-up gap taken off.
        throat: f64,
    },
    /// Plugs.
    Plug {
        /// Diameter of the holes.
        diameter: f64,
        /// Number of holes.
        count: usize,
    },
    /// A fillet round a weld nut or boss.
    Ring {
        /// Its leg.
        leg: f64,
    },
}

/// A weld; lengths and volume are those of all its copies together.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldLine {
    /// Its name without side: `weld.front-foot`, or the bolt that a ring belongs to.
    pub name: String,
    /// How it is made.
    pub bead: BeadLine,
    /// Number of copies: both sides, every mount of a list.
    pub copies: usize,
    /// Length of the joint, m: of the edges it runs along, gaps of its pattern counted in; twice
    /// where welded on both sides.
    pub joint: f64,
    /// Length deposited, m: stitches as laid; both sides where welded on both; none of plugs.
    pub length: f64,
    /// Volume of weld metal, m³: leg²/2 by length, area of a plug hole by its depth.
    pub volume: f64,
}

/// Bolts of one description.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltLine {
    /// Their name without side: `bolt.front-bush`.
    pub name: String,
    /// Thread: `M12`.
    pub size: String,
    /// Property class or grade.
    pub class: String,
    /// Their number.
    pub count: usize,
    /// Mass with head, nut and washers, kg. None where it cannot be known: a bush is clamped whose
    /// length is not given, or the end is no plain nut.
    pub mass: Option<f64>,
}

/// What things cost, in any one currency.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Rates {
    /// Per kg of steel.
    pub steel: f64,
    /// Per m of weld deposited.
    pub weld_length: f64,
    /// Per m³ of weld metal.
    pub weld_volume: f64,
    /// Per m of cut.
    pub cut: f64,
    /// Per bolt.
    pub bolt: f64,
    /// Per piece of steel.
    pub piece: f64,
}

impl Bill {
    /// The bill of a design in its place.
    #[must_use]
    pub fn of(project: &Project, design: &Design) -> Self {
        let mut bill = Self::default();
        for (i, body) in design.bodies.iter().enumerate() {
            if !body.is_rail() {
                bill.add_part(part(design, BodyId(i), body));
            }
        }
        for weld in &design.welds {
            bill.add_weld(bead(design, weld));
        }
        for bolts in &design.bolts {
            bill.add_bolts(bolt(project, bolts));
            match ring(project, bolts) {
                Ok(Some(line)) => bill.add_weld(line),
                Ok(None) => {}
                Err(why) if bill.not_counted.contains(&why) => {}
                Err(why) => bill.not_counted.push(why),
            }
        }
        bill
    }

    fn add_part(&mut self, line: PartLine) {
        match self.parts.iter_mut().find(|l| l.name == line.name) {
            None => self.parts.push(line),
            Some(all) => {
                all.pieces += line.pieces;
                all.volume += line.volume;
                all.mass += line.mass;
                all.cut += line.cut;
            }
        }
    }

    fn add_weld(&mut self, line: WeldLine) {
        let Some(all) = self.welds.iter_mut().find(|l| l.name == line.name) else {
            self.welds.push(line);
            return;
        };
        all.copies += line.copies;
        all.joint += line.joint;
        all.length += line.length;
        all.volume += line.volume;
        if let (BeadLine::Plug { count, .. }, BeadLine::Plug { count: more, .. }) =
            (&mut all.bead, line.bead)
        {
            *count += more;
        }
    }

    fn add_bolts(&mut self, line: BoltLine) {
        match self.bolts.iter_mut().find(|l| l.name == line.name) {
            None => self.bolts.push(line),
            Some(all) => {
                all.count += line.count;
                all.mass = all.mass.zip(line.mass).map(|(a, b)| a + b);
            }
        }
    }

    /// Mass of all parts, kg; without bolts and weld metal.
    #[must_use]
    pub fn mass(&self) -> f64 {
        self.parts.iter().map(|l| l.mass).sum()
    }

    /// Pieces of steel.
    #[must_use]
    pub fn pieces(&self) -> usize {
        self.parts.iter().map(|l| l.pieces).sum()
    }

    /// Length of all cuts, m.
    #[must_use]
    pub fn cut(&self) -> f64 {
        self.parts.iter().map(|l| l.cut).sum()
    }

    /// Length of weld deposited, m.
    #[must_use]
    pub fn weld_length(&self) -> f64 {
        self.welds.iter().map(|l| l.length).sum()
    }

    /// Volume of weld metal, m³.
    #[must_use]
    pub fn weld_volume(&self) -> f64 {
        self.welds.iter().map(|l| l.volume).sum()
    }

    /// Number of bolts.
    #[must_use]
    pub fn bolt_count(&self) -> usize {
        self.bolts.iter().map(|l| l.count).sum()
    }

    /// Steel, weld and bolts in all.
    #[must_use]
    pub fn totals(&self) -> Totals {
        Totals { mass: self.mass(), weld_length: self.weld_length(), bolts: self.bolt_count() }
    }

    /// What it costs at these rates.
    #[must_use]
    pub fn cost(&self, rates: &Rates) -> f64 {
        let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        rates.cost(
            self.mass(),
            [self.weld_length(), self.weld_volume(), self.cut()],
            [number(self.bolt_count()), number(self.pieces())],
        )
    }
}

impl Rates {
    /// The cost of so much steel, kg; weld length, m, weld metal, m³, and cut, m; bolts and pieces.
    #[must_use]
    pub fn cost(
        &self,
        steel: f64,
        [weld_length, weld_volume, cut]: [f64; 3],
        [bolts, pieces]: [f64; 2],
    ) -> f64 {
        self.steel * steel
            + self.weld_length * weld_length
            + self.weld_volume * weld_volume
            + self.cut * cut
            + self.bolt * bolts
            + self.piece * pieces
    }
}

/// A name without the side it ends on.
pub(super) fn bare(name: &str) -> &str {
    name.strip_suffix(" left").or_else(|| name.strip_suffix(" right")).unwrap_or(name)
}

fn part(design: &Design, id: BodyId, body: &Body) -> PartLine {
    let volume = body.volume();
    let walls = || body.walls.iter().filter(|w| w.solid);
    let round = || walls().map(|w| w.prism.perimeter()).sum::<f64>();
    let (pieces, thickness, edges) = match &body.form {
        // A rail is no new steel; it is not asked about.
        Form::Rail { section, .. } => (1, section.wall(), 0.0),
        Form::Plate { thickness, .. } => (1, *thickness, round()),
        Form::Folded { thickness, foot_along, foot_up, reach, .. } => {
            let floor = foot_along.1 - foot_along.0;
            let wall = foot_up.1 - foot_up.0 - thickness;
            (1, *thickness, 2.0 * (floor + 2.0 * wall + reach))
        }
        Form::Bar { shape, ends, .. } => {
            let wall = shape.wall();
            // Area of the section over its wall: the length of the wall's middle.
            (1, wall, 2.0 * volume / (ends[1] - ends[0]).abs() / wall)
        }
        Form::Gusset { thickness, at, .. } => (at.len(), *thickness, round()),
        Form::Sleeve { outside, bore, .. } => {
            let middle = PI * f64::midpoint(*outside, *bore);
            (
                walls().count(),
                (outside - bore) / 2.0,
                2.0 * middle * walls().map(|_| 1.0).sum::<f64>(),
            )
        }
        Form::Block { plan, height, bore, .. } => {
            let outline = match plan {
                BlockPlan::Round(d) => PI * d,
                BlockPlan::Square(s) => 4.0 * s,
            };
            (1, *height, outline + PI * bore)
        }
    };
    PartLine {
        name: body.base.clone(),
        kind: body.kind(),
        steel: body.steel.name.clone(),
        pieces,
        thickness,
        volume,
        mass: volume * STEEL.density,
        cut: edges + holes(design, id, body),
    }
}

/// Length round the holes of a body, m: those for bolts and plugs. A sleeve or block has its bore.
fn holes(design: &Design, id: BodyId, body: &Body) -> f64 {
    if matches!(body.form, Form::Sleeve { .. } | Form::Block { .. }) {
        return 0.0;
    }
    let bolts = design.bolts.iter().map(|bolts| {
        let walls = bolts.through.iter().filter(|p| p.body == id);
        walls.flat_map(|_| &bolts.at).map(|_| PI * bolts.hole).sum::<f64>()
    });
    let plugs = design.welds.iter().filter(|w| w.of == id).map(|weld| match &weld.bead {
        BeadAt::Plug { diameter, centres, .. } => {
            centres.iter().map(|_| PI * diameter).sum::<f64>()
        }
        BeadAt::Fillet { .. } => 0.0,
    });
    bolts.sum::<f64>() + plugs.sum::<f64>()
}

fn bead(design: &Design, weld: &WeldAt) -> WeldLine {
    let length = weld.length();
    let (bead, volume) = match &weld.bead {
        BeadAt::Fillet { leg, throat, .. } => {
            (BeadLine::Fillet { leg: *leg, throat: *throat }, leg * leg / 2.0 * length)
        }
        BeadAt::Plug { diameter, centres, .. } => {
            // Plugs go through plates, which are one wall.
            let depth = design.body(weld.of).walls[0].prism.thickness();
            let one = FRAC_PI_4 * diameter * diameter * depth;
            (
                BeadLine::Plug { diameter: *diameter, count: centres.len() },
                centres.iter().map(|_| one).sum(),
            )
        }
    };
    WeldLine {
        name: bare(&weld.name).to_owned(),
        bead,
        copies: 1,
        joint: weld.joint,
        length,
        volume,
    }
}

/// The fillet round weld nuts or bosses.
fn ring(project: &Project, bolts: &BoltAt) -> Result<Option<WeldLine>, String> {
    let (leg, outside) = match project.bolts[bolts.index].ends {
        BoltEnd::Nut | BoltEnd::ThinNut | BoltEnd::Tapped { .. } => return Ok(None),
        BoltEnd::Boss { outside, leg, .. } => (leg, outside),
        BoltEnd::WeldNut { size: Some((outside, _)), leg: Some(leg), .. } => (leg, outside),
        BoltEnd::WeldNut { .. } => {
            return Err(format!(
                "{}: the weld of its weld nuts, whose size or leg is not given",
                bolts.base
            ));
        }
    };
    let leg = leg.value.si();
    let length = bolts.at.iter().map(|_| PI * outside.value.si()).sum::<f64>();
    Ok(Some(WeldLine {
        name: bolts.base.clone(),
        bead: BeadLine::Ring { leg },
        copies: 1,
        joint: length,
        length,
        volume: leg * leg / 2.0 * length,
    }))
}

fn bolt(project: &Project, bolts: &BoltAt) -> BoltLine {
    let described = &project.bolts[bolts.index];
    BoltLine {
        name: bolts.base.clone(),
        size: described.thread.clone(),
        class: described.class.clone(),
        count: bolts.at.len(),
        mass: bolt_mass(bolts, described).map(|one| bolts.at.iter().map(|_| one).sum()),
    }
}

/// Mass of a bolt with head, nut and washers, kg: hexagons of the catalogue, shank of full diameter
/// through grip, washers and nut.
fn bolt_mass(bolts: &BoltAt, described: &crate::describe::Bolt) -> Option<f64> {
    /// Pitches of thread that stand out of the nut (common practice, no source).
    const OUT: f64 = 2.0;
    if bolts.mount.is_some() || described.ends != BoltEnd::Nut {
        return None;
    }
    let thread = catalog::find_thread(&described.thread).ok()?;
    let hex = catalog::find_hex(&thread).ok()?;
    let shank = FRAC_PI_4 * bolts.diameter * bolts.diameter;
    let hexagon = 3.0_f64.sqrt() / 2.0 * hex.s * hex.s;
    let (outside, thick) = bolts.washer.unwrap_or((bolts.diameter, 0.0));
    let (low, high) = bolts.grip();
    let length = high - low + 2.0 * thick + hex.m + OUT * thread.pitch;
    let washers = 2.0 * thick * larger(FRAC_PI_4 * outside * outside - shank, 0.0);
    let volume = hexagon * hex.k + shank * length + (hexagon - shank) * hex.m + washers;
    Some(volume * STEEL.density)
}

#[cfg(test)]
mod tests;
