//! Every check of every component, in the order in which the load travels.
//!
//! A [`Draft`] is a check that waits to be run: it knows what to ask of the rule pack in each
//! case. [`run`] asks it in all cases without tracing, keeps the worst, and runs that one again
//! with tracing: the numbers are the same bits.

mod bar;
mod bracket;
mod bush_bolt;
mod condition;
mod end_bolts;
mod ends;
mod fatigue;
mod gusset;
mod hot_spot;
mod making;
mod per_case;
mod plates;
mod plug;
mod preload_loss;
mod rail;
mod run;
mod scope;
mod second;
mod sleeve;
mod wall;
mod weld;

pub(crate) use bush_bolt::{Kit, snug};
pub(crate) use end_bolts::tension as end_bolt_tension;
pub(crate) use run::{Quick, explain, quick, run};
pub use scope::Scope;
pub(crate) use second::Second;
pub(crate) use weld::throat_stress;

use std::fmt::Display;

use fishplate_quantity::{Provenance, Source, Trace};
use fishplate_strength::clause::{Checked, Clause, Factors, Input, Kind, NotChecked, Origins};
use fishplate_strength::packs::Pack;

use crate::answer::{RowKind, Tale};
use crate::describe::{CaseClass, Project};
use crate::design::{Body, Design, Station};
use crate::forces::Forces;
use crate::load_path::{Carried, Interface, LoadPath};
use crate::plate::result::Plates;

/// What all checks look at.
#[derive(Clone, Copy)]
pub(crate) struct Setting<'a> {
    pub(crate) project: &'a Project,
    pub(crate) design: &'a Design,
    pub(crate) path: &'a LoadPath,
    pub(crate) forces: &'a Forces,
    pub(crate) carried: &'a Carried,
    pub(crate) pack: &'static Pack,
    pub(crate) factors: &'a Factors,
    /// The plate level, where it was solved.
    pub(crate) plates: Option<&'a Plates>,
}

/// The case that a check is asked about.
#[derive(Debug, Clone, Copy)]
pub(crate) struct InCase {
    /// Its place; 0 for a check without loads.
    pub(crate) place: usize,
    /// Whether it will be told where the numbers come from.
    pub(crate) told: bool,
}

impl InCase {
    fn of(place: usize, trace: &Trace) -> Self {
        Self { place, told: trace.is_on() }
    }

    /// Asked for numbers alone.
    pub(crate) fn untold(place: usize) -> Self {
        Self { place, told: false }
    }
}

/// Asks a check for its result in one case.
pub(crate) type Ask<'a> = Box<dyn Fn(usize, &mut Trace) -> Result<Checked, NotChecked> + 'a>;

/// A check that waits to be run.
pub(crate) struct Draft<'a> {
    /// The mount it is told under, by place; none for the whole.
    pub(crate) mount: Option<usize>,
    /// The part or joint.
    pub(crate) component: String,
    /// What is checked.
    pub(crate) what: String,
    /// The same, short.
    pub(crate) short: String,
    /// Kind of check.
    pub(crate) kind: RowKind,
    /// The clause.
    pub(crate) clause: Source,
    /// The interface it belongs to.
    pub(crate) interface: Option<String>,
    /// Whether it depends on the load case.
    pub(crate) by_case: bool,
    /// How to ask it.
    pub(crate) ask: Ask<'a>,
    /// The same question answered another way: what, why it does not govern, how to ask.
    pub(crate) others: Vec<(String, String, Ask<'a>)>,
    /// What the reader must know.
    pub(crate) notes: Vec<String>,
    /// Why its formula is outside its scope here, where it is.
    pub(crate) outside: Option<String>,
    /// Why it must not be checked at all, where something forbids it.
    pub(crate) blocked: Option<String>,
    /// What to tell a builder when it exceeds.
    pub(crate) tale: Tale,
    /// Whether its derivation holds how far the part lasts.
    pub(crate) lasting: bool,
    /// The same asked of the plate level, where that was solved.
    pub(crate) second: Option<Second<'a>>,
}

impl<'a> Draft<'a> {
    /// A check by a clause; `inputs` gives every point or bolt of a case that it is asked about.
    pub(crate) fn by<I: Input + 'a>(
        setting: &Setting<'a>,
        clause: &'static dyn Clause<I>,
        inputs: impl Fn(InCase) -> Result<Vec<I>, NotChecked> + 'a,
    ) -> Self {
        let factors = setting.factors;
        Self {
            mount: None,
            component: String::new(),
            what: clause.title().to_owned(),
            short: clause.title().to_owned(),
            kind: kind(clause.kind()),
            clause: clause.reference(),
            interface: None,
            by_case: true,
            ask: Box::new(move |case, trace| {
                worst(clause, &inputs(InCase::of(case, trace))?, factors, trace)
            }),
            others: Vec::new(),
            notes: Vec::new(),
            outside: None,
            blocked: None,
            tale: Tale::default(),
            lasting: false,
            second: None,
        }
    }

    pub(crate) fn of(mut self, mount: Option<usize>, component: impl Into<String>) -> Self {
        self.mount = mount;
        self.component = component.into();
        self
    }

    pub(crate) fn called(mut self, what: impl Into<String>, short: impl Into<String>) -> Self {
        self.what = what.into();
        self.short = short.into();
        self
    }

    pub(crate) fn at(mut self, interface: &Interface) -> Self {
        self.interface = Some(interface.name.clone());
        self
    }

    pub(crate) fn told(mut self, tale: Tale) -> Self {
        self.tale = tale;
        self
    }

    pub(crate) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    pub(crate) fn noted(mut self, notes: impl IntoIterator<Item = String>) -> Self {
        self.notes.extend(notes);
        self
    }

    pub(crate) fn seconded(mut self, second: Option<Second<'a>>) -> Self {
        self.second = second;
        self
    }

    pub(crate) fn without_loads(mut self) -> Self {
        self.by_case = false;
        self
    }

    pub(crate) fn or_by<I: Input + 'a>(
        mut self,
        setting: &Setting<'a>,
        clause: &'static dyn Clause<I>,
        (what, why): (&str, &str),
        inputs: impl Fn(InCase) -> Result<Vec<I>, NotChecked> + 'a,
    ) -> Self {
        let factors = setting.factors;
        let ask: Ask<'a> = Box::new(move |case, trace| {
            worst(clause, &inputs(InCase::of(case, trace))?, factors, trace)
        });
        self.others.push((what.to_owned(), why.to_owned(), ask));
        self
    }

    /// A check that only the plate level can make.
    pub(crate) fn by_plates<I: Input>(second: Second<'a>, clause: &'static dyn Clause<I>) -> Self {
        Self {
            kind: kind(clause.kind()),
            clause: clause.reference(),
            by_case: true,
            ask: Box::new(|_, _| {
                let reason = "hand statics has no word on it".to_owned();
                Err(NotChecked::DoesNotApply { reason })
            }),
            blocked: None,
            second: Some(second),
            ..Self::not_checked(None, String::new(), ("", ""), String::new())
        }
    }

    /// A check that cannot be made, with the reason.
    pub(crate) fn not_checked(
        mount: Option<usize>,
        component: impl Into<String>,
        (what, short): (&str, &str),
        reason: impl Into<String>,
    ) -> Self {
        Self {
            mount,
            component: component.into(),
            what: what.to_owned(),
            short: short.to_owned(),
            kind: RowKind::Strength,
            clause: Source::mechanics(""),
            interface: None,
            by_case: false,
            ask: Box::new(|_, _| {
                Err(NotChecked::NoRule { reason: "stated beside the row".to_owned() })
            }),
            others: Vec::new(),
            notes: Vec::new(),
            outside: None,
            blocked: Some(reason.into()),
            tale: Tale::default(),
            lasting: false,
            second: None,
        }
    }
}

/// Everything there is to check within a scope, in the order in which the load travels.
pub(crate) fn drafts<'a>(setting: Setting<'a>, scope: &Scope) -> Vec<Draft<'a>> {
    let mut drafts = Vec::new();
    for mount in (0..setting.design.mounts.len()).filter(|m| scope.holds_mount(*m)) {
        bush_bolt::drafts(setting, mount, &mut drafts);
        let walk = &setting.path.walks[mount];
        if !walk.lost.is_empty() {
            let component = format!("mount {}", setting.design.mounts[mount].name);
            drafts.push(Draft::not_checked(
                Some(mount),
                component,
                ("everything between the bush and the rail", "way to the rail"),
                walk.lost.clone(),
            ));
        }
        for interface in setting.path.interfaces.iter().filter(|f| f.mount == mount) {
            let first = drafts.len();
            bracket::drafts(setting, mount, interface, &mut drafts);
            gusset::drafts(setting, mount, interface, &mut drafts);
            weld::drafts(setting, mount, interface, &mut drafts);
            fatigue::welds(setting, mount, interface, &mut drafts);
            fatigue::bracket(setting, mount, interface, &mut drafts);
            end_bolts::drafts(setting, mount, interface, &mut drafts);
            wall::drafts(setting, mount, interface, &mut drafts);
            let mut passed = interface.side.iter().chain([&interface.far]);
            if let Some(why) = passed.find_map(|body| setting.design.misplaced(*body)) {
                for draft in &mut drafts[first..] {
                    draft.blocked.get_or_insert_with(|| why.clone());
                }
            }
        }
        sleeve::drafts(setting, mount, &mut drafts);
        condition::drafts(setting, mount, &mut drafts);
    }
    if scope.holds_whole() {
        bar::drafts(setting, &mut drafts);
        rail::drafts(setting, &mut drafts);
        making::fishplates(setting, &mut drafts);
    }
    // Plates are solved for groups of mounts and leave out what rows of any of them judge.
    if scope.is_everything() {
        plates::drafts(setting, &mut drafts);
        hot_spot::drafts(setting, &mut drafts);
    }
    drafts
}

fn kind(kind: Kind) -> RowKind {
    match kind {
        Kind::Strength => RowKind::Strength,
        Kind::Serviceability => RowKind::Serviceability,
        Kind::Detailing => RowKind::Detailing,
    }
}

/// The worst of several inputs of a clause; one that cannot be checked spoils them all.
fn worst<I: Input>(
    clause: &dyn Clause<I>,
    inputs: &[I],
    factors: &Factors,
    trace: &mut Trace,
) -> Result<Checked, NotChecked> {
    let mut found: Option<(usize, Checked)> = None;
    let mut silent = None;
    for (i, input) in inputs.iter().enumerate() {
        match clause.evaluate(input, factors, &mut Trace::off()) {
            Ok(checked) => {
                if found.as_ref().is_none_or(|(_, best)| checked.utilisation > best.utilisation) {
                    found = Some((i, checked));
                }
            }
            Err(NotChecked::DoesNotApply { reason }) => silent = Some(reason),
            Err(other) => return Err(other),
        }
    }
    match found {
        Some((i, checked)) if !trace.is_on() => {
            debug_assert!(i < inputs.len());
            Ok(checked)
        }
        Some((i, _)) => clause.evaluate(&inputs[i], factors, trace),
        None => Err(NotChecked::DoesNotApply {
            reason: silent.unwrap_or_else(|| "there is nothing to check".to_owned()),
        }),
    }
}

/// Where a number of the project comes from.
fn given(path: impl Into<String>, guessed: bool) -> Provenance {
    if guessed { Provenance::Guessed(path.into()) } else { Provenance::Given(path.into()) }
}

impl Setting<'_> {
    /// Where a number of the project comes from.
    pub(crate) fn given(&self, path: impl Into<String>, guessed: bool) -> Provenance {
        given(path, guessed)
    }

    /// Whether clamped faces may slip or part once in a case: in a crash, where bolts then bear and
    /// pull, which is checked.
    pub(crate) fn may_slip(&self, case: usize) -> bool {
        self.forces.cases[case].case.class == CaseClass::Restraint
    }

    /// Tensile strength of the weld metal, Pa.
    pub(crate) fn weld_metal(&self) -> Option<f64> {
        self.project.weld_metal.map(|strength| strength.value.si())
    }

    /// Whether that is a guess.
    pub(crate) fn weld_metal_guessed(&self) -> bool {
        self.project.weld_metal.is_some_and(|strength| strength.guessed)
    }

    /// Where a force of a case comes from; silent where nobody asks.
    pub(crate) fn solved<What: Display>(
        &self,
        case: InCase,
        what: impl FnOnce() -> What,
    ) -> Origins {
        Origins::when(case.told, || {
            let name = self.forces.cases.get(case.place).map_or("", |c| c.case.name.as_str());
            Provenance::Solved(format!("{}, case {name}", what()))
        })
    }

    /// Where the strength of a body comes from.
    pub(crate) fn steel(&self, body: &Body, symbol: &str) -> Provenance {
        let s = &body.steel;
        if s.source.starts_with("steels[") {
            self.given(format!("{}.{symbol}", s.source), s.guessed)
        } else if s.guessed {
            Provenance::Guessed(s.source.clone())
        } else {
            Provenance::Table(s.source.clone())
        }
    }
}

/// Where a thickness comes from.
#[derive(Clone, Copy)]
pub(crate) enum ThicknessFrom<'a> {
    /// A reading on a rail.
    Reading(&'a Body, &'a Station),
    /// The form of a body.
    Form(&'a Body),
    /// What lies in a joint.
    Joint(&'a str),
}

impl ThicknessFrom<'_> {
    pub(crate) fn tell(self) -> Provenance {
        match self {
            Self::Reading(body, station) => {
                let side =
                    if body.twin && !station.taken_over { "readings_right" } else { "readings" };
                let mut path = format!("{}.{side}[{}].thickness", body.path, station.reading);
                if !station.way.is_empty() {
                    path = format!("{path}: {}", station.way);
                }
                given(path, station.guessed)
            }
            Self::Form(body) => Provenance::Given(format!("thickness of {}", body.path)),
            Self::Joint(name) => Provenance::Geometry(name.to_owned()),
        }
    }
}

/// Thickness of a wall for strength, m: on a rail as measured between two stations along x.
/// Also where it comes from.
pub(crate) fn thickness(
    body: &Body,
    wall: usize,
    (from, to): (f64, f64),
) -> (f64, ThicknessFrom<'_>) {
    match body.measured_under(from, to) {
        Some(station) => (station.thickness, ThicknessFrom::Reading(body, station)),
        None => (body.walls[wall].prism.thickness(), ThicknessFrom::Form(body)),
    }
}

/// A reading taken over from the other side must be said once.
pub(crate) fn taken_over(design: &Design) -> Vec<String> {
    design
        .bodies
        .iter()
        .filter(|b| {
            b.measured_under(f64::NEG_INFINITY, f64::INFINITY).is_some_and(|s| s.taken_over)
        })
        .map(|b| format!("{}: thickness taken over from the other side, not measured", b.name))
        .collect()
}
