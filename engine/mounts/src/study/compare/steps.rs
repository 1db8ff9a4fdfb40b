//! What would make a design hold: one step at a time over what a shop has, then two.

use fishplate_quantity::Length;
use fishplate_quantity::written::Written;
use fishplate_strength::catalog;

use super::Measure;
use crate::answer::{Answer, Row};
use crate::describe::{Bead, FacePreparation, Form, Project, WrittenLength};
use crate::pipeline;
use crate::study::bill::Bill;
use crate::study::screen::{Prepared, Quick, Reached, Scope, Until};
use crate::{Caller, CheckError, Progress, unknown};

/// What a design that comes behind would have to change.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Way {
    /// Rows that exceed, worst first.
    pub limits: Vec<Limit>,
    /// Whether steps were tried: only where hand statics exceeds, which is what judges them.
    pub tried: bool,
    /// Number of single steps tried.
    pub singles: usize,
    /// Number of pairs of steps tried; only where no single step makes it hold.
    pub pairs: usize,
    /// The smallest steps after which nothing exceeds, the best by what was asked for first.
    pub found: Vec<Tried>,
    /// The single step that brings the highest utilisation down most, where none makes it hold.
    pub nearest: Option<Tried>,
}

/// A row that exceeds.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Its number: `FL-3`.
    pub row: String,
    /// Demand over resistance.
    pub utilisation: f64,
    /// The same by hand statics, which steps are weighed by; none where only plates judge it, or
    /// where nothing was tried.
    pub by_hand: Option<f64>,
    /// The first single step, the smallest of its quantity, that brings this row under its limit, and
    /// how far; else the one that brings it down most. None where no step moves it by more than
    /// [`Limit::MOVED`].
    pub best: Option<(Step, f64)>,
}

impl Limit {
    /// A change of utilisation that is worth telling (own choice: a hundredth is printed).
    pub const MOVED: f64 = 0.01;
}

/// One or two steps and what comes of them.
#[derive(Debug, Clone, PartialEq)]
pub struct Tried {
    /// The steps.
    pub steps: Vec<Step>,
    /// The highest utilisation then, by hand statics.
    pub worst: Option<Reached>,
    /// Mass of new steel then, kg.
    pub mass: f64,
    /// Length of weld then, m.
    pub weld_length: f64,
    /// Volume of weld metal then, m³.
    pub weld_volume: f64,
    /// What is ranked by, then.
    pub measure: f64,
    /// Whether that is less than that of the design that comes first.
    pub ahead: bool,
}

/// A quantity of a design, one size on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// Path of the field in the project.
    pub path: String,
    /// What it is: `part.front-bracket, thickness`.
    pub what: String,
    /// What it is now.
    pub from: String,
    /// What it would be.
    pub to: String,
}

/// What a changed design is measured by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Target {
    pub(super) by: Measure,
    /// The measure of the design that comes first.
    pub(super) goal: Option<f64>,
}

/// Usual thicknesses of sheet and plate, mm (common practice, no source).
const SHEETS: [f64; 15] =
    [1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0];
/// Usual coarse threads (common practice, no source).
const BOLTS: [&str; 6] = ["M8", "M10", "M12", "M14", "M16", "M20"];
/// Usual property classes; 12.9 is left out, because it is prone to brittle breaking where it is
/// plated (common practice, no source).
const CLASSES: [&str; 2] = ["8.8", "10.9"];
/// Sizes that a quantity is taken on at most: a design that needs more is another design.
const SIZES: usize = 3;
/// Half millimetres that a leg is taken on at most.
const HALVES: u32 = 6;
/// Ways that are told at most.
const TOLD: usize = 5;

/// A quantity with the sizes it can be taken on to, the next first.
struct Quantity {
    path: String,
    what: String,
    from: String,
    sizes: Vec<(String, Change)>,
}

/// What a step does to a project.
enum Change {
    Thickness(usize, WrittenLength),
    Leg(usize, WrittenLength),
    Size { bolt: usize, thread: String, hole: WrittenLength, washer: Option<(f64, f64)> },
    Class(usize, String),
    Bare(usize, f64),
}

/// What would make a design hold, where something of it exceeds; steps are judged by hand statics.
pub(super) fn way(
    project: &Project,
    answer: &Answer,
    target: Target,
    caller: &dyn Caller,
) -> Result<Way, CheckError> {
    let mut over: Vec<&Row> = answer.rows.iter().filter(|row| row.exceeds()).collect();
    let used = |row: &&Row| row.governing().map_or(0.0, |g| g.utilisation);
    over.sort_by(|a, b| used(b).total_cmp(&used(a)));
    let limit = |row: &&Row| Limit {
        row: row.id.clone(),
        utilisation: used(row),
        by_hand: None,
        best: None,
    };
    let limits = over.iter().map(limit).collect();
    let mut way = Way { limits, ..Way::default() };
    if over.is_empty() {
        return Ok(way);
    }
    let project = &*unknown::named(project);
    let prepared = Prepared::of(project)?;
    let all = Scope::everything();
    let Some((rows, now)) = seen(&prepared, project, &all, caller)? else { return Ok(way) };
    if now.holds() {
        return Ok(way);
    }
    way.tried = true;
    let keys = over.iter().map(|row| Key::of(row)).collect::<Vec<_>>();
    for (limit, key) in way.limits.iter_mut().zip(&keys) {
        limit.by_hand = key.used(&rows);
    }
    let scope = &all;
    let trials = Trials { project, prepared: &prepared, scope, now: &now, keys, target, caller };
    let quantities = quantities(project);
    trials.singly(&quantities, &mut way)?;
    if way.found.is_empty() {
        trials.in_pairs(&quantities, &mut way)?;
    }
    way.found.sort_by(|a, b| a.measure.total_cmp(&b.measure));
    way.found.truncate(TOLD);
    if !way.found.is_empty() {
        way.nearest = None;
    }
    Ok(way)
}

/// A design and steps from it.
struct Trials<'a> {
    project: &'a Project,
    prepared: &'a Prepared,
    scope: &'a Scope,
    now: &'a Quick,
    /// What the limits are about, in their order.
    keys: Vec<Key>,
    target: Target,
    caller: &'a dyn Caller,
}

impl Trials<'_> {
    /// Every size of every quantity alone, the smallest first, until one makes the design hold.
    fn singly(&self, quantities: &[Quantity], way: &mut Way) -> Result<(), CheckError> {
        for (at, quantity) in quantities.iter().enumerate() {
            let doing = format!("trying {}", quantity.what);
            self.caller.told(Progress { doing, done: at, of: quantities.len() });
            for size in 0..quantity.sizes.len() {
                way.singles += 1;
                let (project, steps) = self.changed(&[(quantity, size)]);
                let Some((rows, quick)) = seen(self.prepared, &project, self.scope, self.caller)?
                else {
                    continue;
                };
                self.weigh(&rows, &steps, &mut way.limits);
                let holds = self.holds(&quick);
                let least = way.nearest.as_ref().map_or(self.now.worst(), highest);
                if !holds && quick.worst() >= least {
                    continue;
                }
                let Some(tried) = self.tried(&project, steps, &quick) else { continue };
                if holds {
                    way.found.push(tried);
                    break;
                }
                way.nearest = Some(tried);
            }
        }
        Ok(())
    }

    /// Keeps the step for every limit that it brings down more than those before, unless one of them
    /// does already what is needed.
    fn weigh(&self, rows: &[Row], steps: &[Step], limits: &mut [Limit]) {
        let [step] = steps else { return };
        for (limit, key) in limits.iter_mut().zip(&self.keys) {
            let (Some(now), Some(then)) = (limit.by_hand, key.used(rows)) else { continue };
            let least = limit.best.as_ref().map_or(now - Limit::MOVED, |(_, least)| *least);
            let mended = limit.best.as_ref().is_some_and(|(_, least)| *least <= 1.0);
            if then < least && !mended {
                limit.best = Some((step.clone(), then));
            }
        }
    }

    /// Every two quantities together at their largest; where that holds, the smallest sizes that do.
    fn in_pairs(&self, quantities: &[Quantity], way: &mut Way) -> Result<(), CheckError> {
        let many = quantities.len();
        for first in 0..many {
            let doing = "trying steps in pairs".to_owned();
            self.caller.told(Progress { doing, done: first, of: many });
            for second in first + 1..many {
                let pair = [&quantities[first], &quantities[second]];
                let [Some(a), Some(b)] = pair.map(|q| q.sizes.len().checked_sub(1)) else {
                    continue;
                };
                way.pairs += 1;
                let largest = [(pair[0], a), (pair[1], b)];
                if self.holding(&largest)?.is_none() {
                    continue;
                }
                let mut sizes: Vec<(usize, usize)> =
                    (0..=a).flat_map(|i| (0..=b).map(move |j| (i, j))).collect();
                sizes.sort_by_key(|(i, j)| i + j);
                for (i, j) in sizes {
                    way.pairs += usize::from((i, j) != (a, b));
                    if let Some(tried) = self.holding(&[(pair[0], i), (pair[1], j)])? {
                        way.found.push(tried);
                        break;
                    }
                }
            }
        }
        Ok(())
    }

    fn holding(&self, chosen: &[(&Quantity, usize)]) -> Result<Option<Tried>, CheckError> {
        let (project, steps) = self.changed(chosen);
        let until = Until::ARowExceeds;
        let quick = match self.prepared.verdict(&project, self.scope, until, self.caller) {
            Ok(quick) => quick,
            Err(CheckError::Cancelled) => return Err(CheckError::Cancelled),
            Err(_) => return Ok(None),
        };
        Ok(if self.holds(&quick) { self.tried(&project, steps, &quick) } else { None })
    }

    /// Whether nothing exceeds and no more is open than before.
    fn holds(&self, then: &Quick) -> bool {
        then.holds()
            && then.not_checked <= self.now.not_checked
            && then.outside <= self.now.outside
            && then.rules_broken <= self.now.rules_broken
            && then.clashes <= self.now.clashes
    }

    /// The design with these steps.
    fn changed(&self, chosen: &[(&Quantity, usize)]) -> (Project, Vec<Step>) {
        let mut project = self.project.clone();
        let mut steps = Vec::new();
        for (quantity, size) in chosen {
            let (to, change) = &quantity.sizes[*size];
            change.make(&mut project);
            steps.push(Step {
                path: quantity.path.clone(),
                what: quantity.what.clone(),
                from: quantity.from.clone(),
                to: to.clone(),
            });
        }
        (project, steps)
    }

    /// What steps come to; nothing where the design cannot be built.
    fn tried(&self, project: &Project, steps: Vec<Step>, quick: &Quick) -> Option<Tried> {
        let (design, _) = pipeline::settled(project).ok()?;
        let bill = Bill::of(project, &design);
        let measure = self.target.by.of(&bill, quick.worst());
        Some(Tried {
            steps,
            worst: quick.governing.clone(),
            mass: bill.mass(),
            weld_length: bill.weld_length(),
            weld_volume: bill.weld_volume(),
            measure,
            ahead: self.target.goal.is_some_and(|goal| measure < goal),
        })
    }
}

/// The rows of a design and what they amount to; nothing where it cannot be built.
fn seen(
    prepared: &Prepared,
    project: &Project,
    scope: &Scope,
    caller: &dyn Caller,
) -> Result<Option<(Vec<Row>, Quick)>, CheckError> {
    let Ok((design, _)) = pipeline::settled(project) else { return Ok(None) };
    match prepared.rows(project, scope, caller) {
        Ok(rows) => {
            let quick = Quick::of(&rows, design.clashes.len());
            Ok(Some((rows, quick)))
        }
        Err(CheckError::Cancelled) => Err(CheckError::Cancelled),
        Err(_) => Ok(None),
    }
}

/// What a row is about: numbers of rows move where one comes or goes.
#[derive(PartialEq)]
struct Key {
    mount: Option<usize>,
    component: String,
    short: String,
}

impl Key {
    fn of(row: &Row) -> Self {
        Self { mount: row.mount, component: row.component.clone(), short: row.short.clone() }
    }

    /// How far the worst row about it is used.
    fn used(&self, rows: &[Row]) -> Option<f64> {
        super::across::worst(rows.iter().filter(|row| Self::of(row) == *self))
            .map(|used| used.utilisation)
    }
}

fn highest(tried: &Tried) -> f64 {
    tried.worst.as_ref().map_or(0.0, |reached| reached.utilisation)
}

impl Change {
    fn make(&self, project: &mut Project) {
        match self {
            Self::Thickness(part, t) => {
                if let Some(thickness) = thickness(&mut project.parts[*part].form) {
                    *thickness = *t;
                }
            }
            Self::Leg(weld, to) => {
                if let Bead::Fillet { leg, .. } = &mut project.welds[*weld].bead {
                    *leg = *to;
                }
            }
            Self::Size { bolt, thread, hole, washer } => {
                let bolt = &mut project.bolts[*bolt];
                bolt.thread.clone_from(thread);
                bolt.hole = *hole;
                bolt.washer = *washer;
            }
            Self::Class(bolt, class) => project.bolts[*bolt].class.clone_from(class),
            Self::Bare(bolt, friction) => {
                let bolt = &mut project.bolts[*bolt];
                bolt.faces = FacePreparation::Bare;
                bolt.friction = Written::exact(*friction);
            }
        }
    }
}

fn thickness(form: &mut Form) -> Option<&mut WrittenLength> {
    match form {
        Form::Plate(p) => Some(&mut p.thickness),
        Form::Folded(p) => Some(&mut p.thickness),
        Form::Gusset(p) => Some(&mut p.thickness),
        Form::Bar(_) | Form::Sleeve(_) | Form::Block(_) => None,
    }
}

/// A length in mm, without zeros at its end.
fn in_mm(value: f64) -> String {
    let text = format!("{value:.2}");
    format!("{} mm", text.trim_end_matches('0').trim_end_matches('.'))
}

fn mm(value: f64) -> WrittenLength {
    Written::exact(Length::from_mm(value))
}

/// The quantities of a design that a step can take on.
fn quantities(project: &Project) -> Vec<Quantity> {
    let parts = (0..project.parts.len()).filter_map(|part| sheet(project, part));
    let welds = (0..project.welds.len()).filter_map(|weld| leg(project, weld));
    let bolts = (0..project.bolts.len()).flat_map(|bolt| {
        [size(project, bolt), class(project, bolt), faces(project, bolt)].into_iter().flatten()
    });
    parts.chain(welds).chain(bolts).filter(|quantity| !quantity.sizes.is_empty()).collect()
}

fn sheet(project: &Project, at: usize) -> Option<Quantity> {
    let part = &project.parts[at];
    let form = match &part.form {
        Form::Plate(_) => "plate",
        Form::Folded(_) => "folded",
        Form::Gusset(_) => "gusset",
        Form::Bar(_) | Form::Sleeve(_) | Form::Block(_) => return None,
    };
    let now = thickness(&mut part.form.clone())?.value.as_mm();
    let next = SHEETS.into_iter().filter(|t| *t > now * 1.001).take(SIZES);
    Some(Quantity {
        path: format!("parts[{at}].{form}.thickness"),
        what: format!("part.{}, thickness", part.name),
        from: in_mm(now),
        sizes: next.map(|t| (in_mm(t), Change::Thickness(at, mm(t)))).collect(),
    })
}

fn leg(project: &Project, at: usize) -> Option<Quantity> {
    let weld = &project.welds[at];
    let Bead::Fillet { leg, .. } = weld.bead else { return None };
    let now = leg.value.as_mm();
    let next = (1..=HALVES).map(|n| now + 0.5 * f64::from(n));
    Some(Quantity {
        path: format!("welds[{at}].leg"),
        what: format!("weld.{}, leg", weld.name),
        from: in_mm(now),
        sizes: next.map(|z| (in_mm(z), Change::Leg(at, mm(z)))).collect(),
    })
}

/// Larger bolts in holes with the clearance of now, with washers that grow with them.
fn size(project: &Project, at: usize) -> Option<Quantity> {
    let bolt = &project.bolts[at];
    let now = catalog::find_thread(&bolt.thread).ok()?;
    let next = BOLTS.into_iter().filter_map(|name| catalog::find_thread(name).ok());
    let sizes = next.filter(|thread| thread.d > now.d * 1.001).take(SIZES).map(|thread| {
        let grown = thread.d / now.d;
        let hole = bolt.hole.value.si() + thread.d - now.d;
        let change = Change::Size {
            bolt: at,
            thread: thread.name.clone(),
            hole: Written::exact(Length::from_si(hole)),
            washer: bolt.washer.map(|(outside, thick)| (outside * grown, thick)),
        };
        (thread.name, change)
    });
    Some(Quantity {
        path: format!("bolts[{at}].thread"),
        what: format!("bolt.{}, size", bolt.name),
        from: bolt.thread.clone(),
        sizes: sizes.collect(),
    })
}

fn class(project: &Project, at: usize) -> Option<Quantity> {
    let bolt = &project.bolts[at];
    let d = catalog::find_thread(&bolt.thread).ok()?.d;
    let now = catalog::find_bolt_class(&bolt.class, d).ok()?.f_ub;
    let next = CLASSES.into_iter().filter(|name| {
        catalog::find_bolt_class(name, d).is_ok_and(|class| class.f_ub > now * 1.001)
    });
    Some(Quantity {
        path: format!("bolts[{at}].class"),
        what: format!("bolt.{}, class", bolt.name),
        from: bolt.class.clone(),
        sizes: next.map(|name| (name.to_owned(), Change::Class(at, name.to_owned()))).collect(),
    })
}

/// Faces cleaned to bare metal, with the slip factor of faces as rolled.
fn faces(project: &Project, at: usize) -> Option<Quantity> {
    let bolt = &project.bolts[at];
    if bolt.faces != FacePreparation::Painted {
        return None;
    }
    let mu = catalog::find_face_friction("as rolled").ok()?.mu;
    Some(Quantity {
        path: format!("bolts[{at}].faces"),
        what: format!("bolt.{}, clamped faces", bolt.name),
        from: format!("painted, friction {}", bolt.friction.value),
        sizes: vec![(format!("bare, friction {mu}"), Change::Bare(at, mu))],
    })
}
