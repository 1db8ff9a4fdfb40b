//! Words for a reader: cases, findings, cautions, what was taken for granted.

use fishplate_quantity::Trace;
use fishplate_quantity::trace::significant;
use fishplate_strength::clause::Format;

use crate::answer::{CaseAnswer, Finding, Row};
use crate::checks;
use crate::describe::{Cargo, CaseClass, FacePreparation, Project};
use crate::design::{Design, Form};
use crate::pipeline::Found;
use crate::unknown;

/// A case as told to the reader.
pub(crate) fn case(found: &Found, at: usize, traced: bool) -> CaseAnswer {
    let c = &found.forces.cases[at];
    CaseAnswer {
        name: c.case.name.clone(),
        title: c.case.title.clone(),
        class: c.case.class,
        factor: c.case.factor,
        mirrored: c.case.mirrored,
        tyres: [c.loads.tyre.left, c.loads.tyre.right],
        springs: [c.loads.body_spring.left, c.loads.body_spring.right],
        force: c.loads.resultant.force,
        moment: c.loads.resultant.moment,
        about: c.loads.resultant.about,
        mounts: c.service.clone(),
        cargo: found.cargo_forces(at),
        assumptions: c.loads.assumptions.clone(),
        derivation: traced.then(|| c.loads.trace.clone()).filter(Trace::is_on),
    }
}

/// What exceeds, in words.
pub(crate) fn finding(row: &Row, cases: &[CaseAnswer]) -> Option<Finding> {
    let g = row.governing().filter(|_| row.exceeds())?;
    let in_case = g.case.and_then(|c| cases.get(c)).map_or_else(
        || "while tightening, without any load".to_owned(),
        |c| {
            let factor = if row.kind == crate::answer::RowKind::Serviceability {
                "without load factor".to_owned()
            } else {
                format!("times {}", significant(c.factor, 3))
            };
            format!("{}, {}, {factor}", c.name, c.title)
        },
    );
    let others: Vec<String> = row
        .by_case
        .iter()
        .enumerate()
        .filter(|(i, u)| **u > 1.0 && Some(*i) != g.case)
        .filter_map(|(i, u)| cases.get(i).map(|c| format!("{} {:.2}", c.name, u)))
        .collect();
    let unit = g.dimension.unit();
    let number = |si: f64| significant(g.dimension.printed(si), 4);
    let by = if unit.is_empty() {
        format!("{} of what it can take", number(g.utilisation))
    } else {
        format!("{} {unit} against {} {unit}", number(g.demand), number(g.resistance))
    };
    let also =
        if others.is_empty() { String::new() } else { format!("; also {}", others.join(", ")) };
    Some(Finding {
        row: row.id.clone(),
        utilisation: g.utilisation,
        what: row.tale.what.clone(),
        in_case: format!("{in_case}{also}"),
        by_how_much: by,
        what_then: row.tale.then.clone(),
        what_helps: row.tale.helps.clone(),
    })
}

/// Cautions that belong to every answer, about a whole car or one part of it.
#[must_use]
pub fn cautions() -> Vec<String> {
    [
        "This is a calculation aid on the data you entered. It does not approve a vehicle.",
        "A rear suspension mount that fails can cause loss of control. Before road use the design, \
         the welds and the finished car must be examined and accepted by the person or body your \
         country's rules require (authorised vehicle engineer, certifier, inspection body).",
        "Inputs marked as guessed must be measured first.",
        "Isolate and remove high-voltage packs before welding; stand the car on rated stands, never \
         under the cradle being fitted; keep a fire watch.",
        "Do not drive to see whether it holds.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// What this level of the engine does not look at.
pub(crate) fn not_covered(project: &Project, plates: bool) -> Vec<String> {
    let fatigue = match (project.duty.is_some(), plates) {
        (false, _) => "repeated load: the project gives no duty",
        (true, true) => "repeated load on gussets and rails away from weld toes",
        (true, false) => {
            "repeated load on walls that bend under a foot, on weld toes in them, on gussets and \
             rails"
        }
    };
    let bending = if plates {
        "what parts do once they yield: plates are elastic, and each point is judged on its own"
    } else {
        "bending of brackets and walls beyond hand statics: prying, load peaks at weld ends"
    };
    [
        fatigue,
        bending,
        "the cradle itself, its links and the drive unit's own mounts",
        "crash behaviour, handling, braking balance, high voltage, steering, seat-belt anchorages",
    ]
    .into_iter()
    .chain((!project.cargo.is_empty()).then_some(
        "the cargo itself: its frame, its own lugs, what comes loose inside, crush, fire; whether \
         restraint is as the law of a country asks",
    ))
    .map(str::to_owned)
    .collect()
}

/// What was taken for granted.
pub(crate) fn assumptions(project: &Project, found: &Found, rows: &[Row]) -> Vec<String> {
    let design = &found.design;
    let mut list = vec![
        if project.cargo.is_empty() {
            "the cradle is rigid; the body under its mounts does not give".to_owned()
        } else {
            "cradle and cargo are rigid; the body under their mounts does not give".to_owned()
        },
        "loads are static; their factors already hold the dynamic magnification".to_owned(),
        "weld groups: rigid parts, elastic bead, equal stiffness in all directions".to_owned(),
        "bolt groups: tension by the larger of pivot at the pressed edge and a bed that only \
         presses"
            .to_owned(),
        "threads in the shear plane of every bolt".to_owned(),
        "geometry as new, strength as measured".to_owned(),
    ];
    if found.plates.is_some() {
        list.push(
            "the forces of the mounts are those that frame and plates agree on; what guesses move is \
             tried by hand statics alone"
                .to_owned(),
        );
    }
    if found.factors.format() == Format::AllowableStrength {
        list.push(
            "loads carry no load factor: the safety of these rules stands on the strength alone"
                .to_owned(),
        );
    }
    list.extend(project.cargo.iter().map(weighed));
    if found.forces.cases.iter().any(|c| c.case.class == CaseClass::Restraint) {
        list.push(RESTRAINT.to_owned());
    }
    if !found.path.bars.is_empty() {
        list.push("ends of bars across the car: pinned and clamped, the worse taken".to_owned());
    }
    list.extend(
        project.steels.iter().filter(|s| unknown::owner(&s.name).is_some()).map(unknown::advice),
    );
    list.extend(checks::taken_over(design));
    for mount in &design.mounts {
        if mount.seat.is_none() && mount.lands.is_some() {
            list.push(format!(
                "mount {}: height of the bush over the clamped face taken from the drawing, not given",
                mount.name
            ));
        }
    }
    for weld in &design.welds {
        if weld.stitched.is_some() && !weld.sealed {
            list.push(format!("{}: gaps between stitches are not sealed and will rust", weld.name));
        }
    }
    for bolts in &design.bolts {
        if bolts.faces == FacePreparation::Painted {
            list.push(format!(
                "{}: paint under clamped faces creeps; preload falls by 10 to 40 % (common practice, \
                 no source), which is not counted",
                bolts.name
            ));
        }
    }
    list.extend(idle(design, rows));
    for case in &found.forces.cases {
        for assumption in &case.loads.assumptions {
            if !list.contains(assumption) {
                list.push(assumption.clone());
            }
        }
    }
    if project.case_set.is_some() {
        list.push("load cases: the road set, ten cases, factors as shown with each".to_owned());
    }
    list
}

/// How restraint cases are judged.
const RESTRAINT: &str = "restraint is judged with the strengths of the rules, which let walls and \
    plates reach yield: harder than the ultimate strength that ISO 12991 asks for; that \
    clamped faces slip or part once is no fault there";

/// Whether the mass of a cargo is in that of the car.
fn weighed(cargo: &Cargo) -> String {
    let Cargo { name, mass, centre: _, weighed } = cargo;
    let mass = significant(mass.value.as_kg(), 4);
    if *weighed {
        format!("cargo {name}: its {mass} kg are in the mass of the car, as the project says")
    } else {
        format!("cargo {name}: its {mass} kg are added to the car at its centre")
    }
}

/// Parts, welds and bolts that no row speaks of: they carry nothing by equilibrium.
fn idle(design: &Design, rows: &[Row]) -> Vec<String> {
    let spoken = |name: &str| {
        rows.iter().any(|row| {
            row.component.contains(name)
                || row.what.contains(name)
                || row.notes.iter().any(|n| n.contains(name))
        })
    };
    let names = design
        .bodies
        .iter()
        .filter(|b| matches!(b.form, Form::Gusset { .. } | Form::Sleeve { .. }))
        .map(|b| &b.name)
        .chain(design.welds.iter().map(|w| &w.name))
        .chain(design.bolts.iter().map(|b| &b.name));
    names
        .filter(|name| !spoken(name))
        .map(|name| format!("{name} carries no load in this model"))
        .collect()
}
