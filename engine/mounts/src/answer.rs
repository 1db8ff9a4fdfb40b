//! What comes out: rows, findings, forces, and everything a reader needs to judge them.

use fishplate_quantity::{Dimension, Source, Trace};
use fishplate_strength::clause::{Factors, Utilisation};
use fishplate_strength::packs::Pack;

use crate::describe::CaseClass;
use crate::design::{Clash, Vec3};
use crate::loads::Vehicle;
use crate::plate::answer::PlateMount;
use crate::scene::Scene;

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer {
    /// Title of the project.
    pub title: String,
    /// The verdict over all rows.
    pub verdict: Verdict,
    /// The verdict in one sentence.
    pub sentence: String,
    /// What exceeds, worst first.
    pub findings: Vec<Finding>,
    /// Why a verdict that would hold is only provisional.
    pub provisional: Vec<String>,
    /// Mounts.
    pub mounts: Vec<MountAnswer>,
    /// Load cases.
    pub cases: Vec<CaseAnswer>,
    /// Every check, in the order in which the load travels.
    pub rows: Vec<Row>,
    /// What cannot be built as described.
    pub clashes: Vec<Clash>,
    /// The way of each mount's load.
    pub walks: Vec<WalkAnswer>,
    /// Forces across interfaces.
    pub interfaces: Vec<InterfaceAnswer>,
    /// What was taken for granted.
    pub assumptions: Vec<String>,
    /// Inputs that are marked as not measured.
    pub guesses: Vec<Guess>,
    /// What was not looked at.
    pub not_covered: Vec<String>,
    /// Cautions that belong to every answer.
    pub cautions: Vec<String>,
    /// Steel, weld and bolts.
    pub totals: Totals,
    /// Geometry to draw.
    pub scene: Option<Scene>,
    /// The rule pack.
    pub pack: &'static Pack,
    /// Its factors as used, with edition and format.
    pub factors: Factors,
    /// Largest imbalance of forces over all cases, relative to the load.
    pub largest_imbalance: f64,
    /// The car as weighed and loaded.
    pub car: CarAnswer,
    /// The mounts as plates, where asked for.
    pub plate_mounts: Vec<PlateMount>,
}

/// The car as weighed and loaded.
#[derive(Debug, Clone, PartialEq)]
pub struct CarAnswer {
    /// The car, without what was added after the weighing.
    pub vehicle: Vehicle,
    /// Front right and rear left over the whole, where four scales told it.
    pub cross_weight: Option<f64>,
    /// Load of the front and rear axle at rest, N, with what was added.
    pub axles: [f64; 2],
}

/// The verdict over all rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Everything was checked and holds.
    Holds,
    /// Something exceeds its limit.
    DoesNotHold,
    /// What was checked holds, but something is not checked or a leading input is a guess.
    Provisional,
}

/// One check of one component.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its number: `FL-2`.
    pub id: String,
    /// The mount it is told under, by place; none for the whole.
    pub mount: Option<usize>,
    /// The part or joint.
    pub component: String,
    /// What is checked, in words.
    pub what: String,
    /// The same, short.
    pub short: String,
    /// Kind of check.
    pub kind: RowKind,
    /// The result.
    pub state: State,
    /// The clause.
    pub clause: Source,
    /// Utilisation in each case, in the order of the cases; empty for a check without loads.
    pub by_case: Vec<f64>,
    /// The same question answered another way.
    pub alternatives: Vec<Alternative>,
    /// What the reader must know beside the number.
    pub notes: Vec<String>,
    /// Why its formula does not reach as far as this, where it does not.
    pub outside: Option<String>,
    /// Derivation of the governing case, where asked for.
    pub derivation: Option<Trace>,
    /// The interface it belongs to, by name.
    pub interface: Option<String>,
    /// What to tell a builder when it exceeds.
    pub tale: Tale,
    /// How far the part lasts in the duty of the project, m; only of checks under repeated load
    /// whose damage has an end.
    pub life: Option<f64>,
    /// The same joint judged by the plate level, where asked for.
    pub second_opinion: Option<SecondOpinion>,
}

/// Hand statics and plate level side by side.
#[derive(Debug, Clone, PartialEq)]
pub struct SecondOpinion {
    /// By hand statics, where it can judge.
    pub hand: Option<Judged>,
    /// By the plate level, with the finer mesh; else why not.
    pub plate: Result<Judged, String>,
    /// Likely reason of a ratio outside [`SecondOpinion::BAND`]; empty inside it.
    pub reason: String,
    /// Which of the two the row takes.
    pub taken: Opinion,
    /// Why the project takes the milder one; empty where it does not.
    pub why_taken: String,
    /// Change of the plate level's utilisation from the coarser to the finer mesh, over the finer.
    pub mesh_change: Option<f64>,
    /// How the plate level's number was formed.
    pub how: String,
}

/// A utilisation and its governing case.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Judged {
    /// Demand over resistance.
    pub utilisation: f64,
    /// The case, by place; none for a check without loads.
    pub case: Option<usize>,
}

/// One of two opinions.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Opinion {
    /// Hand statics.
    Hand,
    /// Plate level.
    Plate,
}

impl SecondOpinion {
    /// Ratios of plate level to hand statics that need no reason (own choice: two sound ways of
    /// judging one joint seldom agree better than by a third).
    pub const BAND: (f64, f64) = (0.75, 4.0 / 3.0);

    /// Change between two meshes above which a figure is not settled.
    pub const UNSETTLED: f64 = 0.05;

    /// Plate level over hand statics, where both judged and hand statics found a load at all.
    #[must_use]
    pub fn ratio(&self) -> Option<f64> {
        let (hand, plate) = (self.hand?, self.plate.as_ref().ok()?);
        (hand.utilisation > 0.0).then(|| plate.utilisation / hand.utilisation)
    }

    /// Whether the two are so far apart that it is a finding.
    #[must_use]
    pub fn apart(&self) -> bool {
        let (low, high) = Self::BAND;
        self.ratio().is_some_and(|ratio| !(low..=high).contains(&ratio))
    }

    /// Whether the plate level's figure still moves with the mesh.
    #[must_use]
    pub fn unsettled(&self) -> bool {
        self.mesh_change.is_some_and(|change| change.abs() > Self::UNSETTLED)
    }

    /// Whether another such change would carry the plate level's figure over the limit that it now
    /// keeps: then nobody can stand behind it.
    #[must_use]
    pub fn may_exceed(&self) -> bool {
        let (Ok(plate), Some(change)) = (&self.plate, self.mesh_change) else { return false };
        self.unsettled()
            && plate.utilisation <= 1.0
            && plate.utilisation * (1.0 + change.abs()) > 1.0
    }
}

/// What to tell a builder when a check exceeds.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tale {
    /// What gives way.
    pub what: String,
    /// What happens then.
    pub then: String,
    /// What would help.
    pub helps: String,
}

impl Tale {
    pub(crate) fn new(what: impl Into<String>, then: &str, helps: impl Into<String>) -> Self {
        Self { what: what.into(), then: then.to_owned(), helps: helps.into() }
    }
}

/// Kind of check.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowKind {
    /// Strength.
    Strength,
    /// Slip or movement in service.
    Serviceability,
    /// A detailing rule.
    Detailing,
}

/// The result of a check.
#[derive(Debug, Clone, PartialEq)]
pub enum State {
    /// It was checked.
    Checked(Governing),
    /// It was not, for this reason.
    NotChecked(String),
}

/// The governing case of a check.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Governing {
    /// Demand over resistance.
    pub utilisation: f64,
    /// The case, by place; none for a check without loads.
    pub case: Option<usize>,
    /// Demand, SI.
    pub demand: f64,
    /// Resistance, SI.
    pub resistance: f64,
    /// What the two measure.
    pub dimension: Dimension,
}

impl Governing {
    /// Whether the limit is exceeded: decided on the full number.
    #[must_use]
    pub fn exceeds(&self) -> bool {
        Utilisation::new(self.utilisation).is_none_or(Utilisation::exceeds)
    }
}

impl Row {
    /// The governing case, where it was checked.
    #[must_use]
    pub fn governing(&self) -> Option<&Governing> {
        match &self.state {
            State::Checked(governing) => Some(governing),
            State::NotChecked(_) => None,
        }
    }

    /// Whether it was checked and something exceeds its strength or slips.
    #[must_use]
    pub fn exceeds(&self) -> bool {
        self.kind != RowKind::Detailing && self.governing().is_some_and(Governing::exceeds)
    }

    /// Whether it is a detailing rule that is not met: passed or failed apart from strength.
    #[must_use]
    pub fn breaks_rule(&self) -> bool {
        self.kind == RowKind::Detailing && self.governing().is_some_and(Governing::exceeds)
    }
}

/// The same question answered another way.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// What is done differently.
    pub what: String,
    /// The utilisation that results, where it can be had.
    pub utilisation: Option<f64>,
    /// Its governing case, by place.
    pub case: Option<usize>,
    /// Where it comes from and why it does not govern.
    pub note: String,
}

/// What exceeds, told in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The row.
    pub row: String,
    /// Its utilisation.
    pub utilisation: f64,
    /// What gives way.
    pub what: String,
    /// In which case.
    pub in_case: String,
    /// By how much.
    pub by_how_much: String,
    /// What happens then.
    pub what_then: String,
    /// What would help.
    pub what_helps: String,
}

/// A mount.
#[derive(Debug, Clone, PartialEq)]
pub struct MountAnswer {
    /// Short name.
    pub id: String,
    /// Long name.
    pub name: String,
    /// Centre of its bush, m.
    pub at: Vec3,
    /// Name of the cargo that it carries; none for the cradle.
    pub carries: Option<String>,
    /// The row with its highest utilisation.
    pub governing_row: Option<String>,
    /// The highest utilisation in each case.
    pub by_case: Vec<f64>,
}

/// A load case with its forces, unfactored.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseAnswer {
    /// Its name.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// How often it comes.
    pub class: CaseClass,
    /// Factor on its loads.
    pub factor: f64,
    /// Whether it was added as the mirror image of another.
    pub mirrored: bool,
    /// Force of the road on the left and right tyre, N.
    pub tyres: [Vec3; 2],
    /// Force of the left and right spring on the body, N.
    pub springs: [f64; 2],
    /// Resultant on the cradle system, N.
    pub force: Vec3,
    /// Its moment about `about`, N m.
    pub moment: Vec3,
    /// Where that moment is taken, m.
    pub about: Vec3,
    /// Force of the cradle or cargo on the body at each mount.
    pub mounts: Vec<MountLoad>,
    /// Weight and inertia of each cargo, in the order of the project.
    pub cargo: Vec<CargoForce>,
    /// What the case takes for granted.
    pub assumptions: Vec<String>,
    /// Derivation of the loads, where asked for.
    pub derivation: Option<Trace>,
}

/// Weight and inertia of a cargo in one case, unfactored.
#[derive(Debug, Clone, PartialEq)]
pub struct CargoForce {
    /// Its name.
    pub cargo: String,
    /// The centre of its mass, where it acts, m.
    pub at: Vec3,
    /// The force, N.
    pub force: Vec3,
}

/// The load of a mount in one case, unfactored.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MountLoad {
    /// Force of the cradle or cargo on the body, N.
    pub force: Vec3,
    /// Moment of the cradle or cargo on the body about the bush centre, N m.
    pub moment: Vec3,
    /// Movement of the cradle or cargo against the body, m.
    pub travel: Vec3,
    /// Whether a stop is closed.
    pub stop_closed: bool,
    /// Travel over the gap to the stop; none where the bush has no stop.
    pub stop_use: Option<f64>,
}

/// The way of a mount's load.
#[derive(Debug, Clone, PartialEq)]
pub struct WalkAnswer {
    /// The mount, by place.
    pub mount: usize,
    /// What it passes, in order.
    pub stations: Vec<String>,
    /// Whether it closes a loop.
    pub looped: bool,
}

/// Force and moment across an interface, unfactored.
#[derive(Debug, Clone, PartialEq)]
pub struct InterfaceAnswer {
    /// Its name.
    pub name: String,
    /// The mount it is told under, by place.
    pub mount: usize,
    /// Names of its joints.
    pub joints: Vec<String>,
    /// Where its moments are taken, m.
    pub about: Vec3,
    /// Force and moment on the rail's side, by case, N and N m.
    pub wrenches: Vec<(Vec3, Vec3)>,
    /// How the ends were held, where equilibrium alone does not decide.
    pub assumption: String,
}

/// An input that is marked as not measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Guess {
    /// Path of the field.
    pub path: String,
    /// What it is.
    pub what: String,
    /// Its value with unit.
    pub value: String,
    /// Highest utilisation at the low end of its spread.
    pub at_low: Option<f64>,
    /// Highest utilisation at the high end of its spread.
    pub at_high: Option<f64>,
    /// The row that governs at the worse end.
    pub row: String,
    /// Whether it is among the three that move the highest utilisation most.
    pub dominates: bool,
}

/// Steel, weld and bolts of the design.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Totals {
    /// Mass of all parts, kg.
    pub mass: f64,
    /// Length of all fillets, m.
    pub weld_length: f64,
    /// Number of bolts.
    pub bolts: usize,
}

/// The derivation of one row.
#[derive(Debug, Clone, PartialEq)]
pub struct Explanation {
    /// The row, with its derivation.
    pub row: Row,
    /// The case that is explained; none for a check without loads.
    pub case: Option<CaseAnswer>,
    /// Cautions that belong to every answer.
    pub cautions: Vec<String>,
}
