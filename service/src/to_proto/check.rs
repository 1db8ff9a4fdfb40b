//! `check.proto`: answers about projects.

use fishplate_mounts::Progress;
use fishplate_mounts::answer::{
    Alternative, Answer, CarAnswer, CargoForce, CaseAnswer, Explanation, Finding, Governing, Guess,
    InterfaceAnswer, MountAnswer, MountLoad, Row, RowKind, State, Totals, Verdict, WalkAnswer,
};
use fishplate_mounts::describe::CaseClass;
use fishplate_mounts::design::{Clash, Vec3};
use fishplate_proto::v1;
use fishplate_quantity::trace::{Entry, Origin};
use fishplate_quantity::{Provenance, Source, Trace};

use super::plate_mount::{plate_mount, second_opinion};
use super::rules::{in_a_line, rules};
use super::scene::scene;
use super::{position, wrench};
use crate::units::MM;

/// The whole answer; `project_hash` is that of the request.
pub(crate) fn answer(answer: Answer, project_hash: String) -> v1::CheckProjectResponse {
    let Answer {
        title,
        verdict,
        sentence,
        findings,
        provisional,
        mounts,
        cases,
        rows,
        clashes,
        walks,
        interfaces,
        assumptions,
        guesses,
        not_covered,
        cautions,
        totals,
        scene: drawn,
        pack,
        factors,
        largest_imbalance,
        car: weighed,
        plate_mounts,
    } = answer;
    let names = Names::of(&mounts, &cases);
    v1::CheckProjectResponse {
        verdict: verdict_of(verdict).into(),
        sentence,
        title,
        findings: findings.into_iter().map(finding).collect(),
        provisional_reasons: provisional,
        mounts: mounts.into_iter().map(mount).collect(),
        cases: cases.into_iter().map(|case| load_case(&names, case).0).collect(),
        rows: rows.into_iter().map(|one| row(&names, one)).collect(),
        clashes: clashes.into_iter().map(clash).collect(),
        walks: walks.into_iter().map(|one| walk(&names, one)).collect(),
        interfaces: interfaces.into_iter().map(|one| interface(&names, one)).collect(),
        assumptions,
        guesses: guesses.into_iter().map(guess).collect(),
        not_covered,
        cautions,
        totals: Some(totals_of(totals)),
        scene: drawn.map(|drawn| scene(&names, drawn)),
        stamp: Some(v1::Stamp {
            engine_version: env!("CARGO_PKG_VERSION").to_owned(),
            rules: in_a_line(pack, &factors),
            project_hash,
            largest_imbalance,
        }),
        car: Some(car(&weighed)),
        rules: Some(rules(pack, &factors, "project")),
        plate_mounts: plate_mounts.into_iter().map(|one| plate_mount(&names, one)).collect(),
    }
}

/// How far a check is.
pub(crate) fn progress(progress: Progress) -> v1::Progress {
    let Progress { doing, done, of } = progress;
    v1::Progress { doing, done: count(done), of: count(of) }
}

/// One row with its derivation.
pub(crate) fn explanation(names: &Names, explanation: Explanation) -> v1::ExplainRowResponse {
    let Explanation { row: explained, case, cautions } = explanation;
    let (case_answer, loads) = match case.map(|case| load_case(names, case)) {
        Some((case, loads)) => (Some(case), loads),
        None => (None, Vec::new()),
    };
    v1::ExplainRowResponse { row: Some(row(names, explained)), case_answer, loads, cautions }
}

/// Names of what an answer tells by its place.
#[derive(Debug)]
pub(crate) struct Names {
    mounts: Vec<String>,
    cases: Vec<String>,
}

impl Names {
    /// The names in an answer.
    pub(crate) fn of(mounts: &[MountAnswer], cases: &[CaseAnswer]) -> Self {
        Self {
            mounts: mounts.iter().map(|mount| mount.id.clone()).collect(),
            cases: cases.iter().map(|case| case.name.clone()).collect(),
        }
    }

    pub(super) fn mount(&self, place: Option<usize>) -> String {
        place.and_then(|place| self.mounts.get(place)).cloned().unwrap_or_default()
    }

    pub(super) fn case(&self, place: Option<usize>) -> String {
        place.and_then(|place| self.cases.get(place)).cloned().unwrap_or_default()
    }
}

/// The verdict as the wire has it.
pub(crate) fn verdict_of(verdict: Verdict) -> v1::Verdict {
    match verdict {
        Verdict::Holds => v1::Verdict::Holds,
        Verdict::DoesNotHold => v1::Verdict::DoesNotHold,
        Verdict::Provisional => v1::Verdict::Provisional,
    }
}

/// The car with everything that was added after the weighing.
fn car(car: &CarAnswer) -> v1::CarAnswer {
    let CarAnswer { vehicle, cross_weight, axles: [front, rear] } = car;
    let own = Vec3::new(vehicle.cg_ahead, vehicle.cg_left, vehicle.cg_height);
    let added = vehicle.added_masses.iter().map(|added| (added.mass, added.at));
    let all = || std::iter::once((vehicle.mass, own)).chain(added.clone());
    let mass: f64 = all().map(|(mass, _)| mass).sum();
    let centre = all().fold(Vec3::zeros(), |sum, (part, at)| sum + at * (part / mass));
    v1::CarAnswer {
        mass_kg: mass,
        cg_ahead_mm: centre.x / MM,
        cg_left_mm: centre.y / MM,
        cg_height_mm: centre.z / MM,
        front_axle_n: *front,
        rear_axle_n: *rear,
        cross_weight: *cross_weight,
    }
}

fn finding(finding: Finding) -> v1::Finding {
    let Finding { row, utilisation, what, in_case, by_how_much, what_then, what_helps } = finding;
    v1::Finding { row_id: row, utilisation, what, in_case, by_how_much, what_then, what_helps }
}

fn mount(mount: MountAnswer) -> v1::MountAnswer {
    let MountAnswer { id, name, at, carries, governing_row, by_case } = mount;
    v1::MountAnswer {
        id,
        name,
        at: Some(place(at)),
        governing_row_id: governing_row.unwrap_or_default(),
        utilisation_by_case: by_case,
        carries: carries.unwrap_or_default(),
    }
}

/// A load case, and the derivation of its loads.
fn load_case(names: &Names, case: CaseAnswer) -> (v1::CaseAnswer, Vec<v1::DerivationStep>) {
    let CaseAnswer {
        name,
        title,
        class,
        factor,
        mirrored,
        tyres: [left, right],
        springs: [spring_left, spring_right],
        force,
        moment,
        about,
        mounts,
        cargo,
        assumptions,
        derivation: loads,
    } = case;
    let class = match class {
        CaseClass::Normal => v1::CaseClass::Normal,
        CaseClass::Abuse => v1::CaseClass::Abuse,
        CaseClass::Restraint => v1::CaseClass::Restraint,
    };
    let mounts = mounts.into_iter().enumerate();
    let told = v1::CaseAnswer {
        name,
        title,
        class: class.into(),
        load_factor: factor,
        mirrored,
        tyre_left: Some(tyre(left)),
        tyre_right: Some(tyre(right)),
        spring_left_n: spring_left,
        spring_right_n: spring_right,
        resultant: Some(force_and_moment(force, moment)),
        about: Some(place(about)),
        mount_forces: mounts.map(|(index, load)| mount_force(names, index, load)).collect(),
        assumptions,
        cargo_forces: cargo.into_iter().map(cargo_force).collect(),
    };
    (told, loads.as_ref().map(in_project).unwrap_or_default())
}

fn cargo_force(cargo: CargoForce) -> v1::CargoForce {
    let CargoForce { cargo, at, force } = cargo;
    v1::CargoForce {
        cargo,
        at: Some(place(at)),
        force_x_n: force.x,
        force_y_n: force.y,
        force_z_n: force.z,
    }
}

fn tyre(force: Vec3) -> v1::TyreForce {
    v1::TyreForce { force_x_n: force.x, force_y_n: force.y, force_z_n: force.z }
}

fn mount_force(names: &Names, index: usize, load: MountLoad) -> v1::MountForce {
    let MountLoad { force, moment: _, travel, stop_closed, stop_use: _ } = load;
    v1::MountForce {
        mount_id: names.mount(Some(index)),
        force_x_n: force.x,
        force_y_n: force.y,
        force_z_n: force.z,
        travel: Some(place(travel)),
        stop_closed,
    }
}

pub(crate) fn row(names: &Names, row: Row) -> v1::Row {
    let Row {
        id,
        mount,
        component,
        what,
        short,
        kind,
        state,
        clause,
        by_case,
        alternatives,
        mut notes,
        outside,
        derivation: trace,
        interface,
        tale: _,
        life,
        second_opinion: second,
    } = row;
    let steps = trace.as_ref().map(in_project).unwrap_or_default();
    for note in trace.iter().flat_map(Trace::notes) {
        if !notes.contains(note) {
            notes.push(note.clone());
        }
    }
    let breaks_rule =
        matches!((kind, &state), (RowKind::Detailing, State::Checked(g)) if g.exceeds());
    let told = v1::Row {
        id,
        mount_id: names.mount(mount),
        component,
        what,
        short_what: short,
        clause: source(clause),
        utilisation_by_case: by_case,
        alternatives: alternatives.into_iter().map(|one| alternative(names, one)).collect(),
        notes,
        kind: kind_of(kind).into(),
        derivation: steps,
        interface_name: interface.unwrap_or_default(),
        outside_scope: outside.unwrap_or_default(),
        life_km: life.map(|way| way / 1e3),
        second_opinion: second.map(|one| second_opinion(names, one)),
        ..v1::Row::default()
    };
    let mut told = with_state(names, told, state);
    if breaks_rule {
        told.set_state(v1::State::RuleNotMet);
    }
    told
}

fn with_state(names: &Names, row: v1::Row, state: State) -> v1::Row {
    match state {
        State::NotChecked(reason) => {
            v1::Row { state: v1::State::NotChecked.into(), not_checked_reason: reason, ..row }
        }
        State::Checked(governing) => {
            let state = if governing.exceeds() { v1::State::Exceeds } else { v1::State::Holds };
            let Governing { utilisation, case, demand, resistance, dimension } = governing;
            v1::Row {
                state: state.into(),
                utilisation: Some(utilisation),
                case_name: names.case(case),
                demand: dimension.printed(demand),
                resistance: dimension.printed(resistance),
                unit: dimension.unit().to_owned(),
                ..row
            }
        }
    }
}

fn kind_of(kind: RowKind) -> v1::CheckKind {
    match kind {
        RowKind::Strength => v1::CheckKind::Strength,
        RowKind::Serviceability => v1::CheckKind::Serviceability,
        RowKind::Detailing => v1::CheckKind::Detailing,
    }
}

fn alternative(names: &Names, alternative: Alternative) -> v1::Alternative {
    let Alternative { what, utilisation, case, note } = alternative;
    v1::Alternative { what, utilisation, case_name: names.case(case), note }
}

fn clash(clash: Clash) -> v1::Clash {
    let Clash { what, place, advice, path, between: _, misplaced: _ } = clash;
    v1::Clash { what, r#where: place, advice, field_path: path }
}

fn walk(names: &Names, walk: WalkAnswer) -> v1::LoadWalk {
    let WalkAnswer { mount, stations, looped } = walk;
    v1::LoadWalk { mount_id: names.mount(Some(mount)), stations, r#loop: looped }
}

fn interface(names: &Names, answer: InterfaceAnswer) -> v1::InterfaceAnswer {
    let InterfaceAnswer { name, mount, joints, about, wrenches, assumption } = answer;
    let wrenches = wrenches.into_iter().map(|(force, moment)| force_and_moment(force, moment));
    v1::InterfaceAnswer {
        name,
        mount_id: names.mount(Some(mount)),
        joints,
        about: Some(place(about)),
        wrenches: wrenches.collect(),
        assumption,
    }
}

fn guess(guess: Guess) -> v1::Guess {
    let Guess { path, what, value, at_low, at_high, row, dominates: _ } = guess;
    v1::Guess {
        field_path: path,
        what,
        value,
        utilisation_low: at_low,
        utilisation_high: at_high,
        row_id: row,
    }
}

fn totals_of(totals: Totals) -> v1::Totals {
    let Totals { mass, weld_length, bolts } = totals;
    v1::Totals { part_mass_kg: mass, weld_length_mm: weld_length / MM, bolt_count: count(bolts) }
}

fn in_project(trace: &Trace) -> Vec<v1::DerivationStep> {
    derivation(trace, "project")
}

/// The lines of a derivation, first to last; its inputs are fields of `given_in`.
pub(super) fn derivation(trace: &Trace, given_in: &str) -> Vec<v1::DerivationStep> {
    let step = |(index, entry): (usize, &Entry)| {
        let Entry { symbol, what, dimension, value, origin } = entry;
        let (expression, text, guessed) = match origin {
            Origin::Leaf(provenance) => {
                let guessed = matches!(provenance, Provenance::Guessed(_));
                (String::new(), came_from(provenance, given_in), guessed)
            }
            Origin::Step { expression, operands: _, source: clause } => {
                let words: Vec<&str> = expression.split_whitespace().collect();
                (words.join(" "), source(*clause), false)
            }
        };
        v1::DerivationStep {
            symbol: (*symbol).to_owned(),
            what: (*what).to_owned(),
            expression,
            numbers: trace.numbers(index),
            value: dimension.printed(*value),
            unit: dimension.unit().to_owned(),
            source: text,
            guessed,
        }
    };
    trace.entries().iter().enumerate().map(step).collect()
}

pub(super) fn came_from(provenance: &Provenance, given_in: &str) -> String {
    match provenance {
        Provenance::Given(path) => format!("{given_in}: {path}"),
        Provenance::Guessed(path) => format!("{given_in}, a guess: {path}"),
        Provenance::Assumed(what) => format!("assumed: {what}"),
        Provenance::Solved(text)
        | Provenance::Table(text)
        | Provenance::Factor(text)
        | Provenance::Geometry(text) => text.clone(),
    }
}

pub(super) fn source(Source { document, place }: Source) -> String {
    if place.is_empty() { document.to_owned() } else { format!("{document}, {place}") }
}

/// A count as the wire has it.
pub(super) fn count(number: usize) -> i32 {
    i32::try_from(number).unwrap_or(i32::MAX)
}

fn force_and_moment(force: Vec3, moment: Vec3) -> v1::Wrench {
    wrench([force.x, force.y, force.z, moment.x, moment.y, moment.z])
}

pub(super) fn place(at: Vec3) -> v1::Position {
    position([at.x, at.y, at.z])
}
