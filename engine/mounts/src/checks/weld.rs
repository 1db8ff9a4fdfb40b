//! Fillet welds of an interface: all its runs together, as lines, under the full wrench.

use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::group::{Path, WeldAnswer, WeldGroup, WeldRun, Wrench};
use fishplate_strength::clause::input::{BeadEnds, SheetBeside, Stitched, WeldInput, WeldRunInput};
use fishplate_strength::clause::{Aspect, Clause, NotChecked, Origins};

use super::per_case::PerCase;
use super::{Draft, InCase, Second, Setting, ThicknessFrom, condition, making, thickness};
use crate::answer::Tale;
use crate::describe::WeldPath;
use crate::design::{BeadAt, Body, Form, Quality, WeldAt, WeldId};
use crate::load_path::Interface;
use crate::plate::read;
use crate::plate::result::Solved;

/// How hand statics finds the force on a run.
const LINE_METHOD: &str = "line method";
/// How the plate level does.
const BY_PLATES: &str = "plate level, peak of the run";

/// Places between the ends of a run that are looked at beside the ends.
const BETWEEN: usize = 3;

/// The runs of an interface as one group, with where each run comes from.
pub(super) struct Beads {
    group: WeldGroup,
    /// Weld and run of each run of the group.
    of: Vec<(WeldId, usize)>,
}

fn beads(setting: &Setting<'_>, welds: &[WeldId]) -> Result<Beads, NotChecked> {
    let lost =
        |e: fishplate_solver::group::GroupError| NotChecked::NoRule { reason: e.to_string() };
    let mut runs = Vec::new();
    let mut of = Vec::new();
    for id in welds {
        let weld = &setting.design.welds[id.0];
        let Some(throat) = weld.throat() else { continue };
        for (k, run) in weld.runs.iter().enumerate() {
            let path = Path::Straight { from: run.start, to: run.end };
            runs.push(WeldRun::new(path, throat, run.leg_on, run.leg_up).map_err(lost)?);
            of.push((*id, k));
        }
    }
    Ok(Beads { group: WeldGroup::new(runs).map_err(lost)?, of })
}

impl Beads {
    /// Stress ranges along every run under the range of a wrench.
    pub(super) fn ranges(&self, range: &Wrench, between: usize) -> Result<WeldAnswer, NotChecked> {
        self.group.solve(range, between).map_err(|e| NotChecked::NoRule { reason: e.to_string() })
    }

    /// Leg, gap and throat of every run of the group; nothing for what is no fillet.
    pub(super) fn made(&self, setting: &Setting<'_>) -> Vec<Option<(f64, f64, f64)>> {
        let of = |(id, _): &(WeldId, usize)| match setting.design.welds[id.0].bead {
            BeadAt::Fillet { leg, gap, throat } => Some((leg, gap, throat)),
            BeadAt::Plug { .. } => None,
        };
        self.of.iter().map(of).collect()
    }
}

/// The fillets of an interface as one group, with their names; nothing where there are none, or
/// where they make no group, which their strength rows say.
pub(super) fn fillets(setting: &Setting<'_>, interface: &Interface) -> Option<(String, Beads)> {
    let fillets = interface.welds.iter().map(|w| &setting.design.welds[w.0]);
    let names: Vec<&str> =
        fillets.filter(|w| w.throat().is_some()).map(|w| w.name.as_str()).collect();
    let beads = beads(setting, &interface.welds).ok()?;
    (!names.is_empty()).then(|| (names.join(" + "), beads))
}

/// Answers of the group in every case, with both bounds where there are two.
fn solved(
    setting: &Setting<'_>,
    interface: &Interface,
    beads: &Beads,
    case: usize,
) -> Result<Vec<WeldAnswer>, NotChecked> {
    setting
        .carried
        .across(setting.design, setting.forces, interface, case, true)
        .into_iter()
        .map(|(_, wrench)| {
            beads
                .group
                .solve(&wrench, BETWEEN)
                .map_err(|e| NotChecked::NoRule { reason: e.to_string() })
        })
        .collect()
}

/// Extent of a run along the rail, m.
fn along_rail(weld: &WeldAt, run: usize) -> (f64, f64) {
    let (a, b) = (weld.runs[run].start.x, weld.runs[run].end.x);
    if a < b { (a, b) } else { (b, a) }
}

/// The wall of a body that a bead lies on: the one that is thin across its leg.
pub(super) fn wall_under(body: &Body, weld: &WeldAt, run: usize) -> usize {
    let up = weld.runs[run].leg_up;
    body.walls.iter().position(|w| w.solid && up[w.prism.axis].abs() > 0.5).unwrap_or(0)
}

/// The plate whose edge is welded: thickness and where it comes from.
pub(super) fn edge_thickness(body: &Body) -> f64 {
    match &body.form {
        Form::Plate { thickness, .. }
        | Form::Folded { thickness, .. }
        | Form::Gusset { thickness, .. } => *thickness,
        Form::Bar { shape, .. } => match shape {
            crate::describe::BarShape::Angle { thickness, .. } => *thickness,
            crate::describe::BarShape::Box { wall, .. }
            | crate::describe::BarShape::Tube { wall, .. } => *wall,
            crate::describe::BarShape::Flat { height, width } => smaller(*height, *width),
        },
        Form::Sleeve { outside, bore, .. } => (outside - bore) / 2.0,
        Form::Block { .. } | Form::Rail { .. } => body.walls[0].prism.thickness(),
    }
}

/// A run under force, by hand statics or by the plate level.
pub(super) struct Line {
    /// The weld.
    pub(super) weld: WeldId,
    /// Its run, by place.
    pub(super) run: usize,
    /// Force per length at its points, N/m: along the leg on the body it is welded to, along the leg
    /// on the welded edge, along the run.
    pub(super) points: Vec<[f64; 3]>,
}

/// What the line method finds of every run.
fn by_hand(setting: &Setting<'_>, beads: &Beads, answers: &[WeldAnswer]) -> Vec<Line> {
    let mut lines = Vec::new();
    for answer in answers {
        for (points, (id, run)) in answer.runs.iter().zip(&beads.of) {
            let Some(throat) = setting.design.welds[id.0].throat() else { continue };
            let points = points
                .iter()
                .map(|p| [p.toward_one * throat, p.toward_two * throat, p.parallel * throat]);
            lines.push(Line { weld: *id, run: *run, points: points.collect() });
        }
    }
    lines
}

/// One input a point. `of_bead` where the bead itself is asked about: then the force is over the
/// share of its strength that is relied on. The sheet beside it does not care who welded.
fn inputs(
    setting: &Setting<'_>,
    (name, method): (&str, &str),
    lines: &[Line],
    (case, of_bead): (InCase, bool),
) -> Result<Vec<WeldInput>, NotChecked> {
    let mut list = Vec::new();
    for Line { weld: id, run: k, points } in lines {
        let weld = &setting.design.welds[id.0];
        let BeadAt::Fillet { leg, gap, .. } = weld.bead else { continue };
        let (of, to) = (setting.design.body(weld.of), setting.design.body(weld.to));
        let reach = along_rail(weld, *k);
        let base_wall = wall_under(to, weld, *k);
        let (base, base_from) = thickness(to, base_wall, reach);
        let edge = edge_thickness(of);
        let base_thinner = base <= edge;
        let (t_sheet, sheet, sheet_from) =
            if base_thinner { (base, to, base_from) } else { (edge, of, ThicknessFrom::Form(of)) };
        let (Some(beta_1), Some(beta_2)) = (of.steel.beta_w, to.steel.beta_w) else {
            return Err(NotChecked::NoRule {
                reason: format!(
                    "no weld factor beta_w for the steel of {} or {}",
                    of.name, to.name
                ),
            });
        };
        condition::weldable(to, reach)?;
        condition::weldable(of, reach)?;
        let lines_inside = base_thinner && !weld.runs[*k].at_edge;
        let share = if of_bead { weld.quality.share } else { 1.0 };
        let how = || {
            if share < 1.0 {
                format!("{name}, {method}, over the share {share} of its strength")
            } else {
                format!("{name}, {method}")
            }
        };
        for point in points {
            let origins = setting
                .solved(case, how)
                .with("z", || setting.given(format!("{}.leg", weld.path), false))
                .with("gap", || setting.given(format!("{}.gap", weld.path), false))
                .with("f_u_1", || setting.steel(of, "fu"))
                .with("f_u_2", || setting.steel(to, "fu"))
                .with("beta_w_1", || setting.steel(of, "beta_w"))
                .with("beta_w_2", || setting.steel(to, "beta_w"))
                .with("t_sheet", || sheet_from.tell())
                .with("f_exx", || setting.given("weld_metal", setting.weld_metal_guessed()))
                .with("f_y_sheet", || setting.steel(sheet, "fy"));
            list.push(WeldInput {
                q_1: point[0] / share,
                q_2: point[1] / share,
                q_l: point[2] / share,
                z: leg,
                gap,
                f_u_1: of.steel.fu,
                f_u_2: to.steel.fu,
                beta_w_1: beta_1,
                beta_w_2: beta_2,
                t_sheet,
                f_y_sheet: sheet.steel.fy,
                beside: if lines_inside { SheetBeside::BothSides } else { SheetBeside::OneSide },
                f_exx: setting.weld_metal(),
                origins,
            });
        }
    }
    Ok(list)
}

/// The rows of an interface's welds.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    let fillets: Vec<&WeldAt> = interface
        .welds
        .iter()
        .map(|w| &setting.design.welds[w.0])
        .filter(|w| w.throat().is_some())
        .collect();
    if fillets.is_empty() {
        super::plug::drafts(setting, mount, interface, out);
        return;
    }
    let names = fillets.iter().map(|w| w.name.as_str()).collect::<Vec<_>>().join(" + ");
    let group = match beads(&setting, &interface.welds) {
        Ok(group) => Rc::new(group),
        Err(why) => {
            out.push(Draft::not_checked(
                Some(mount),
                names,
                ("fillet weld", "weld"),
                why.to_string(),
            ));
            return;
        }
    };
    let ask = {
        let lines = Rc::new(PerCase::of(setting.forces.cases.len()));
        move |case: InCase, of_bead: bool| {
            let lines = lines.get(case.place, || {
                let answers = solved(&setting, interface, &group, case.place)?;
                Ok(by_hand(&setting, &group, &answers))
            })?;
            inputs(&setting, (&interface.name, LINE_METHOD), lines, (case, of_bead))
        }
    };
    let helps = "longer runs first, then runs further apart; a larger bead only where the sheet \
                 beside it has strength to spare";
    for clause in setting.pack.welds {
        if clause.aspect() == Aspect::ByDirection {
            continue;
        }
        let sheet = clause.aspect() == Aspect::SheetBeside;
        let short = if sheet { "sheet beside the weld" } else { "weld: throat" };
        let main = ask.clone();
        let mut draft = Draft::by(&setting, *clause, move |case| main(case, !sheet))
            .of(Some(mount), names.clone())
            .called(format!("{names}: {}", clause.title()), short)
            .at(interface)
            .told(if sheet {
                Tale::new(
                    format!("the sheet beside {names} yields in shear"),
                    "the sheet tears beside the bead",
                    "longer runs or a plate that spreads the load; not a larger bead",
                )
            } else {
                Tale::new(format!("the throat of {names} is overstressed"), "the weld tears", helps)
            });
        if clause.aspect() == Aspect::AnyDirection {
            if let Some(directional) =
                setting.pack.welds.iter().find(|c| c.aspect() == Aspect::ByDirection)
            {
                draft = draft.or_by(
                    &setting,
                    *directional,
                    (
                        directional.title(),
                        "never above the simplified method, which governs here; the transverse \
                         part lies either way to the throat, the worse taken",
                    ),
                    {
                        let ask = ask.clone();
                        move |case| Ok(either_way(ask(case, true)?))
                    },
                );
            }
            for note in joint_notes(&setting, interface) {
                draft = draft.note(note);
            }
        }
        out.push(draft.seconded(second(&setting, interface, *clause)));
    }
    detailing(setting, Some(mount), Some(interface), &fillets, out);
}

/// The same asked of the plate level: the directional method where the pack has it, since there the
/// direction of the force on the throat is known.
fn second<'a>(
    setting: &Setting<'a>,
    interface: &'a Interface,
    clause: &'static dyn Clause<WeldInput>,
) -> Option<Second<'a>> {
    let solved = match setting.plates?.of_joints(interface)? {
        Ok(solved) => solved,
        Err(why) => return Some(Second::not_judged(why)),
    };
    let sheet = clause.aspect() == Aspect::SheetBeside;
    let directional = setting.pack.welds.iter().find(|c| c.aspect() == Aspect::ByDirection);
    let (clause, by) = match directional {
        Some(directional) if !sheet => (*directional, "directional method"),
        _ => (clause, "same rule"),
    };
    let over = solved
        .contents
        .runs
        .iter()
        .filter(|r| interface.welds.contains(&r.weld))
        .map(|r| read::averaged_over(r) * 1e3)
        .fold((f64::INFINITY, 0.0), |(low, high), l| (smaller(low, l), larger(high, l)));
    let how = format!(
        "{by}; peak along each run, mean over {} of it (6 throats, twice the thinner plate)",
        if over.1 - over.0 < 0.05 {
            format!("{:.1} mm", over.1)
        } else {
            format!("{:.1} to {:.1} mm", over.0, over.1)
        }
    );
    let setting = *setting;
    Some(Second::by(
        &setting,
        how,
        clause,
        solved,
        move |solved, mesh, case| {
            let lines: Vec<Line> = read::peaks(solved, mesh, case.place)
                .filter(|peak| interface.welds.contains(&peak.of.weld))
                .map(|peak| Line { weld: peak.of.weld, run: peak.of.run, points: peak.windows })
                .collect();
            inputs(&setting, (&interface.name, BY_PLATES), &lines, (case, !sheet))
        },
        move |worse, case| reason(&setting, interface, solved, worse, case),
    ))
}

/// Why the plate level differs from the line method on the welds of an interface.
fn reason(
    setting: &Setting<'_>,
    interface: &Interface,
    solved: &Solved,
    worse: bool,
    case: usize,
) -> String {
    if !worse {
        let others = read::other_ways(setting.design, solved, interface, case);
        return if others.is_empty() {
            "the load spreads more evenly than the line method has it".to_owned()
        } else {
            format!("load path through another part: {} carry as well", others.join(", "))
        };
    }
    let own = read::peaks(solved, &solved.fine, case)
        .filter(|peak| interface.welds.contains(&peak.of.weld))
        .reduce(|a, b| if b.largest() > a.largest() { b } else { a });
    let Some(peak) = own else { return String::new() };
    let weld = &setting.design.welds[peak.of.weld.0];
    let [edge, onto] = peak.of.thickness;
    let soft = if onto < edge {
        format!(
            "; flexible wall: {}, {:.1} mm, gives way between the ends of the run",
            setting.design.body(weld.to).name,
            onto * 1e3
        )
    } else {
        String::new()
    };
    let (place, times) = (peak.place(), peak.largest() / larger(peak.mean, f64::MIN_POSITIVE));
    format!(
        "end peak: {} of run {} of {} carries {times:.1} times the mean of the run{soft}",
        place,
        peak.of.run + 1,
        weld.name
    )
}

/// The row of one weld under wrenches that the caller finds: a bound, beside the interfaces.
pub(super) fn alone<'a>(
    setting: Setting<'a>,
    mount: usize,
    weld: WeldId,
    (why, short): (&str, &str),
    wrenches: impl Fn(usize) -> Vec<Wrench> + Clone + 'a,
    out: &mut Vec<Draft<'a>>,
) {
    let at = &setting.design.welds[weld.0];
    let group = match beads(&setting, &[weld]) {
        Ok(group) => Rc::new(group),
        Err(_) => return,
    };
    let lines = Rc::new(PerCase::of(setting.forces.cases.len()));
    for clause in setting.pack.welds.iter().filter(|c| c.aspect() != Aspect::ByDirection) {
        let (group, wrenches, lines) = (group.clone(), wrenches.clone(), lines.clone());
        let sheet = clause.aspect() == Aspect::SheetBeside;
        out.push(
            Draft::by(&setting, *clause, move |case| {
                let lines = lines.get(case.place, || {
                    let answers = wrenches(case.place)
                        .iter()
                        .map(|w| group.ranges(w, BETWEEN))
                        .collect::<Result<Vec<_>, _>>()?;
                    Ok(by_hand(&setting, &group, &answers))
                })?;
                inputs(&setting, (&at.name, LINE_METHOD), lines, (case, !sheet))
            })
            .of(Some(mount), at.name.clone())
            .called(format!("{}, {why}: {}", at.name, clause.title()), short)
            .told(Tale::new(
                format!("{} is overstressed", at.name),
                "the weld tears",
                "longer runs",
            ))
            .noted(made(at)),
        );
    }
    detailing(setting, Some(mount), None, &[at], out);
}

/// Every point twice: with the transverse part toward and away from the bead. Which plate gives
/// way first decides that, and hand statics does not know it.
fn either_way(points: Vec<WeldInput>) -> Vec<WeldInput> {
    let turned: Vec<WeldInput> =
        points.iter().map(|p| WeldInput { q_2: -p.q_2, ..p.clone() }).collect();
    points.into_iter().chain(turned).collect()
}

fn joint_notes(setting: &Setting<'_>, interface: &Interface) -> Vec<String> {
    let mut notes = Vec::new();
    for bolts in &interface.bolts {
        notes.push(format!(
            "{} is idle back-up: beside welds, bolts that can slip carry nothing (EN 1993-1-8:2005, \
             2.4 and 3.9.3)",
            setting.design.bolts[bolts.0].name
        ));
    }
    let plugs =
        interface.welds.iter().map(|w| &setting.design.welds[w.0]).filter(|w| w.throat().is_none());
    for plug in plugs {
        notes.push(format!("{} is counted as nothing beside a run of fillet", plug.name));
    }
    notes.extend(interface.welds.iter().filter_map(|w| made(&setting.design.welds[w.0])));
    notes.push("run lengths are taken as full-size lengths".to_owned());
    notes
}

/// What is told about who made a weld, where somebody said it.
pub(super) fn made(weld: &WeldAt) -> Option<String> {
    let Quality { share, words } = &weld.quality;
    (!words.is_empty())
        .then(|| format!("{}: {share} of its full strength is relied on: {words}", weld.name))
}

/// Size, length and pattern of the runs.
pub(super) fn detailing<'a>(
    setting: Setting<'a>,
    mount: Option<usize>,
    interface: Option<&Interface>,
    fillets: &[&'a WeldAt],
    out: &mut Vec<Draft<'a>>,
) {
    for weld in fillets.iter().copied() {
        for clause in setting.pack.weld_detailing {
            let mut draft =
                Draft::by(&setting, *clause, move |case| Ok(run_inputs(&setting, weld, case)))
                    .of(mount, weld.name.clone())
                    .called(
                        format!("{}: {}", weld.name, clause.title()),
                        format!("weld: {}", clause.short()),
                    )
                    .without_loads();
            draft.interface = interface.map(|i| i.name.clone());
            out.push(draft);
        }
        making::drafts(setting, (mount, interface.map(|i| i.name.as_str())), weld, out);
    }
}

/// Width of a stitched plate: its narrower extent in its own plane, m.
fn narrow_side(body: &Body) -> Option<f64> {
    let Form::Plate { .. } = &body.form else { return None };
    let prism = &body.walls[0].prism;
    let [u, v] = crate::design::across(prism.axis);
    let extent = |axis: usize| {
        let (low, high) = prism.range(axis);
        high - low
    };
    Some(smaller(extent(u), extent(v)))
}

fn run_inputs(setting: &Setting<'_>, weld: &WeldAt, case: InCase) -> Vec<WeldRunInput> {
    let BeadAt::Fillet { leg, gap, .. } = weld.bead else { return Vec::new() };
    let (of, to) = (setting.design.body(weld.of), setting.design.body(weld.to));
    let lap = matches!(of.form, Form::Plate { .. })
        && matches!(weld.along, WeldPath::AllRound | WeldPath::LongEdges);
    let closed = weld.along == WeldPath::AllRound && weld.stitched.is_none();
    let edge = edge_thickness(of);
    (0..weld.runs.len())
        .map(|k| {
            let wall = wall_under(to, weld, k);
            let (base, _) = thickness(to, wall, along_rail(weld, k));
            let thin = smaller(base, edge);
            let length = if closed { weld.length() } else { weld.runs[k].length() };
            WeldRunInput {
                f_ed: 0.0,
                l: length,
                z: leg,
                gap,
                f_u: smaller(of.steel.fu, to.steel.fu),
                beta_w: of.steel.beta_w.or(to.steel.beta_w).unwrap_or(1.0),
                t_edge: lap.then_some(edge),
                l_lap: None,
                l_gap: weld.stitched.map(|(_, off)| off),
                l_end: None,
                t_thin: Some(thin),
                b_part: narrow_side(of),
                f_exx: setting.weld_metal(),
                f_y: None,
                overlap: None,
                undercut: None,
                ends: BeadEnds::Wrapped,
                stitched: Stitched::Compression,
                origins: Origins::when(case.told, || Provenance::Given(weld.path.clone())),
            }
        })
        .collect()
}

/// Resultant stress on the throat at both ends of each run, Pa, in the case where it is highest.
pub(crate) fn throat_stress(
    setting: &Setting<'_>,
) -> std::collections::BTreeMap<(usize, usize), [f64; 2]> {
    let mut stress = std::collections::BTreeMap::new();
    for interface in &setting.path.interfaces {
        let Ok(group) = beads(setting, &interface.welds) else { continue };
        let mut worst: Option<(f64, WeldAnswer)> = None;
        for case in 0..setting.forces.cases.len() {
            for answer in solved(setting, interface, &group, case).unwrap_or_default() {
                let most = answer.worst().1.resultant;
                if worst.as_ref().is_none_or(|(w, _)| most > *w) {
                    worst = Some((most, answer));
                }
            }
        }
        let Some((_, answer)) = worst else { continue };
        for (points, (id, k)) in answer.runs.iter().zip(&group.of) {
            let ends = [points.first(), points.last()].map(|p| p.map_or(0.0, |p| p.resultant));
            stress.insert((id.0, *k), ends);
        }
    }
    stress
}
