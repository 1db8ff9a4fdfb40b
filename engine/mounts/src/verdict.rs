//! From rows to the verdict.

use std::fmt::Write as _;

use fishplate_quantity::algebra::smaller;
use fishplate_quantity::trace::significant;

use crate::answer::{
    Answer, Finding, InterfaceAnswer, MountAnswer, Row, RowKind, State, Verdict, WalkAnswer,
};
use crate::describe::Project;
use crate::design::{Design, Vec3};
use crate::frames::EndHold;
use crate::load_path::{Interface, LoadFrom};
use crate::pipeline::{self, Found, Options};
use crate::study::bill::Bill;
use crate::study::guesses::GUESSED;
use crate::{cases, known, scene, stops, telling};

/// Puts the answer together; [`settle`] then decides the verdict.
pub(crate) fn judge(project: &Project, found: &Found, rows: Vec<Row>, options: Options) -> Answer {
    let design = &found.design;
    let cases = found.cases(options.derivations);
    let mut findings: Vec<_> =
        rows.iter().filter_map(|row| telling::finding(row, &cases)).collect();
    findings.sort_by(|a, b| b.utilisation.total_cmp(&a.utilisation));
    let findings = once_for_both_sides(findings);
    let mounts = (0..design.mounts.len()).map(|m| mount(design, m, &rows, cases.len())).collect();
    let mut project_copy = project.clone();
    let mut guesses = Vec::new();
    known::each(&mut project_copy, &mut |k| {
        if k.guessed {
            guesses.push(crate::answer::Guess {
                path: k.path,
                what: k.what,
                value: k.text,
                at_low: None,
                at_high: None,
                row: String::new(),
                dominates: false,
            });
        }
    });
    let scene = options.scene.then(|| draw(project, found));
    let plate_mounts = crate::plate::tell::mounts(&found.setting(project), &rows, options.scene);
    Answer {
        title: project.title.clone(),
        verdict: Verdict::Holds,
        sentence: String::new(),
        findings,
        provisional: unmeasured(found)
            .into_iter()
            .chain(cases::gaps(project))
            .chain(stops::mixed_mounts(project))
            .chain(stops::softened_by_welds(design))
            .collect(),
        mounts,
        cases,
        clashes: design.clashes.clone(),
        walks: found
            .path
            .walks
            .iter()
            .enumerate()
            .map(|(mount, w)| WalkAnswer { mount, stations: w.stations.clone(), looped: w.looped })
            .collect(),
        interfaces: interfaces(found),
        assumptions: telling::assumptions(project, found, &rows),
        guesses,
        not_covered: telling::not_covered(project, found.plates.is_some()),
        cautions: telling::cautions(),
        totals: Bill::of(project, design).totals(),
        scene,
        pack: found.pack,
        factors: found.factors.clone(),
        largest_imbalance: found.forces.imbalance,
        car: crate::answer::CarAnswer {
            vehicle: found.forces.car.vehicle.clone(),
            cross_weight: found.forces.car.cross_weight,
            axles: found.forces.axles,
        },
        plate_mounts,
        rows,
    }
}

/// Rails whose thickness nobody read near the place where a load goes in.
fn unmeasured(found: &Found) -> Vec<String> {
    /// A reading farther away says little about a rusty wall, m (common practice, no source).
    const NEAR: f64 = 0.1;
    let mut list = Vec::new();
    for interface in &found.path.interfaces {
        let rail = found.design.body(interface.far);
        let crate::design::Form::Rail { stations, .. } = &rail.form else { continue };
        let x = interface.about.x;
        let nearest = stations.iter().map(|s| (s.x - x).abs()).fold(f64::INFINITY, smaller);
        if nearest > NEAR {
            list.push(format!(
                "{}: the nearest thickness reading is {:.0} mm from {}, at x {:.0} mm; measure there",
                rail.name,
                nearest * 1e3,
                interface.name,
                x * 1e3
            ));
        }
    }
    list
}

/// Utilisations of the two sides that are told as one, relative: both are computed on their own, as
/// plates on meshes that need not be mirror images.
const ALIKE: f64 = 5e-3;

/// Keeps the worse of two findings that are each other's mirror image.
fn once_for_both_sides(findings: Vec<Finding>) -> Vec<Finding> {
    let bare = |text: &str| text.replace(" left", "").replace(" right", "");
    let mut kept: Vec<Finding> = Vec::new();
    for finding in findings {
        let twin = kept.iter_mut().find(|k| {
            (k.utilisation - finding.utilisation).abs() <= ALIKE * k.utilisation
                && bare(&k.what) == bare(&finding.what)
        });
        match twin {
            Some(twin) if twin.what != finding.what => {
                twin.what = format!("{}, on both sides", bare(&twin.what));
            }
            Some(twin) if !twin.what.contains("both sides") => {
                twin.what = format!("{}, on both sides", twin.what);
            }
            Some(_) => {}
            None => kept.push(finding),
        }
    }
    kept
}

/// Decides the verdict over everything that stands in the answer.
pub(crate) fn settle(answer: &mut Answer) {
    let exceeding = answer.rows.iter().filter(|r| r.exceeds()).count();
    let broken = answer.rows.iter().filter(|r| r.breaks_rule()).count();
    let holding =
        answer.rows.iter().filter(|r| r.governing().is_some_and(|g| !g.exceeds())).count();
    let open = answer.rows.len() - exceeding - broken - holding;
    let mut reasons = reasons(answer);
    reasons.append(&mut answer.provisional);
    answer.provisional = reasons;
    answer.verdict = if exceeding > 0 {
        Verdict::DoesNotHold
    } else if answer.provisional.is_empty() {
        Verdict::Holds
    } else {
        Verdict::Provisional
    };
    let mut counts = format!("{exceeding} checks exceed, {holding} hold, {open} not checked");
    if broken > 0 {
        let _ = write!(counts, ", {broken} detailing rules not met");
    }
    answer.sentence = match answer.verdict {
        Verdict::DoesNotHold => {
            let first = answer
                .findings
                .first()
                .map_or(String::new(), |f| format!("; first of all {}", f.what));
            format!("Does not hold: {counts}{first}.")
        }
        Verdict::Holds => format!("Holds: {counts}."),
        Verdict::Provisional => format!(
            "Provisional: what was checked holds ({counts}), but {} points are open.",
            answer.provisional.len()
        ),
    };
}

/// Why an answer that would hold is only provisional.
fn reasons(answer: &Answer) -> Vec<String> {
    let mut list = Vec::new();
    for row in &answer.rows {
        match &row.state {
            State::NotChecked(reason) => {
                list.push(format!("{} not checked, {}: {reason}", row.id, row.what));
            }
            // A broken detailing rule takes the ground from under the strength formulas: it is no
            // excess of strength, but nothing that can be stood behind either.
            State::Checked(g) if row.breaks_rule() => {
                let number = |si: f64| significant(g.dimension.printed(si), 4);
                list.push(format!(
                    "{} {}: detailing rule not met, {} against {}; the strength formulas rest on it",
                    row.id,
                    row.what,
                    number(g.demand),
                    format!("{} {}", number(g.resistance), g.dimension.unit()).trim_end(),
                ));
            }
            State::Checked(_) => {
                let second = row.second_opinion.as_ref().filter(|o| o.may_exceed());
                if let Some(change) = second.and_then(|o| o.mesh_change) {
                    list.push(format!(
                        "{}, {}: by plates it holds, but the figure still changes by {:.0} % between \
                         two meshes, which would carry it over the limit",
                        row.id,
                        row.what,
                        100.0 * change.abs()
                    ));
                }
                if let Some(outside) = &row.outside {
                    list.push(format!(
                        "{}, {}: outside the scope of its formula: {outside}",
                        row.id, row.what
                    ));
                }
            }
        }
    }
    for clash in &answer.clashes {
        list.push(format!("clash: {} ({})", clash.what, clash.place));
    }
    for guess in &answer.guesses {
        let first = if guess.dominates {
            ", among the three that move the answer most: measure it first"
        } else {
            ""
        };
        list.push(format!("{GUESSED}{}, {}{first}", guess.what, guess.value));
    }
    let taken = answer
        .assumptions
        .iter()
        .filter(|a| a.contains("taken over from the other side") || a.contains("not given"));
    list.extend(taken.cloned());
    list
}

fn mount(design: &Design, at: usize, rows: &[Row], cases: usize) -> MountAnswer {
    let own = || rows.iter().filter(|r| r.mount == Some(at) && r.kind != RowKind::Detailing);
    let governing = own()
        .filter_map(|r| r.governing().map(|g| (r, g.utilisation)))
        .reduce(|a, b| if b.1 > a.1 { b } else { a })
        .map(|(r, _)| r.id.clone());
    let by_case = (0..cases)
        .map(|c| {
            own()
                .filter_map(|r| r.by_case.get(c).copied())
                .fold(0.0, fishplate_quantity::algebra::larger)
        })
        .collect();
    let m = &design.mounts[at];
    MountAnswer {
        id: m.id.clone(),
        name: m.name.clone(),
        at: m.at,
        carries: m.carries.map(|c| design.cargo[c].clone()),
        governing_row: governing,
        by_case,
    }
}

/// Forces across interfaces; both bounds of a bar's ends where there are two.
fn interfaces(found: &Found) -> Vec<InterfaceAnswer> {
    let mut list = Vec::new();
    for interface in &found.path.interfaces {
        let bounds: &[Option<EndHold>] = match interface.load {
            LoadFrom::Mounts(_) => &[None],
            LoadFrom::BarEnd { .. } => &[Some(EndHold::Pinned), Some(EndHold::Clamped)],
        };
        for bound in bounds {
            list.push(interface_answer(found, interface, *bound));
        }
    }
    list
}

fn interface_answer(found: &Found, f: &Interface, bound: Option<EndHold>) -> InterfaceAnswer {
    let design = &found.design;
    let wrenches = (0..found.forces.cases.len())
        .map(|case| {
            let all = found.carried.across(design, &found.forces, f, case, false);
            all.into_iter()
                .find(|(hold, _)| *hold == bound)
                .map_or((Vec3::zeros(), Vec3::zeros()), |(_, w)| (w.force, w.moment))
        })
        .collect();
    InterfaceAnswer {
        name: f.name.clone(),
        mount: f.mount,
        joints: f
            .welds
            .iter()
            .map(|w| design.welds[w.0].name.clone())
            .chain(f.bolts.iter().map(|b| design.bolts[b.0].name.clone()))
            .collect(),
        about: f.about,
        wrenches,
        assumption: bound.map_or(String::new(), |b| b.words().to_owned()),
    }
}

/// The scene, with throat stresses on the weld runs.
fn draw(project: &Project, found: &Found) -> scene::Scene {
    let radius = project.car.wheel_radius.value.si();
    let half = project.car.rear_track.value.si() / 2.0;
    let wheels = [half, -half].map(|y| (Vec3::new(0.0, y, radius), radius)).to_vec();
    let stress = pipeline::throat_stress(project, found);
    let design = &found.design;
    let serves = |name: &str| {
        let side = if name.ends_with("right") {
            Some(crate::describe::Side::Right)
        } else if name.ends_with("left") {
            Some(crate::describe::Side::Left)
        } else {
            None
        };
        let bare = name.split(' ').next().unwrap_or(name);
        let mut owners: Vec<usize> = Vec::new();
        for f in &found.path.interfaces {
            let joints = f
                .welds
                .iter()
                .map(|w| &design.welds[w.0].name)
                .chain(f.bolts.iter().map(|b| &design.bolts[b.0].name));
            let bodies = f.side.iter().map(|b| &design.body(*b).name);
            if joints.chain(bodies).any(|n| n == name) && !owners.contains(&f.mount) {
                owners.push(f.mount);
            }
        }
        match owners.as_slice() {
            [one] => Some(*one),
            // The longest name: a part of `battery-front` is none of `front`.
            [] => (0..design.mounts.len())
                .filter(|m| side == Some(design.mounts[*m].side))
                .map(|m| (m, project.mounts[design.mounts[m].index].name.as_str()))
                .filter(|(_, own)| bare.contains(own))
                .reduce(|a, b| if b.1.len() > a.1.len() { b } else { a })
                .map(|(m, _)| m),
            _ => None,
        }
    };
    scene::scene(design, wheels, serves, |weld, run| {
        stress.get(&(weld, run)).copied().unwrap_or([0.0, 0.0])
    })
}
