//! `project.proto`: a car and a design as a builder describes them.
//!
//! Here a message becomes what [`describe`](fishplate_mounts::describe) can hold: what is required
//! is there, what goes together comes together. Whether it can be built is for the engine to say.

mod car;
mod case;
mod condition;
mod duty;
mod joint;
mod part;
mod rail;

use fishplate_mounts::describe::{CaseSet, Project, RuleChoice};
use fishplate_mounts::study::space::{Slot, Version};
use fishplate_proto::v1;

use super::Reader;
use super::quantity::stress;
use crate::path::Path;

/// A whole project; `None` when a fault was noted that leaves a hole in it.
pub(crate) fn project(reader: &mut Reader, path: &Path<'_>, given: v1::Project) -> Option<Project> {
    let case_set = match given.case_set() {
        v1::CaseSet::Unspecified => None,
        v1::CaseSet::Road => Some(CaseSet::Road),
    };
    let v1::Project {
        title,
        rules,
        symmetric,
        car,
        drive,
        brakes,
        springs,
        cradle,
        bushes,
        mounts,
        steels,
        rails,
        parts,
        welds,
        bolts,
        cases,
        case_set: _,
        factors,
        duty,
        workmanship,
        weld_metal,
        opinions,
        cargo,
    } = given;
    let rules = required(reader, &path.field("rules"), rules, super::rules::rules);
    let rules = rules.map(|(pack, rules)| RuleChoice { pack, rules });
    let car = required(reader, &path.field("car"), car, car::car);
    let drive = optional(reader, &path.field("drive"), drive, car::drive);
    let brakes = optional(reader, &path.field("brakes"), brakes, car::brakes);
    let springs = required(reader, &path.field("springs"), springs, car::springs);
    let cradle = required(reader, &path.field("cradle"), cradle, car::cradle);
    let bushes = list(reader, path, "bushes", bushes, car::bush);
    let mounts = list(reader, path, "mounts", mounts, car::mount);
    let cargo = list(reader, path, "cargo", cargo, car::cargo);
    let steels = list(reader, path, "steels", steels, rail::steel);
    let rails = list(reader, path, "rails", rails, rail::rail);
    let parts = list(reader, path, "parts", parts, part::part);
    let welds = list(reader, path, "welds", welds, joint::weld);
    let bolts = list(reader, path, "bolts", bolts, joint::bolt);
    let cases = list(reader, path, "cases", cases, case::load_case);
    let workmanship = optional(reader, &path.field("workmanship"), workmanship, joint::workmanship);
    let weld_metal = stress(reader, &path.field("weld_metal"), weld_metal);
    let opinions = list(reader, path, "opinions", opinions, joint::opinion);
    let factors = required(reader, &path.field("factors"), factors, case::factors);
    let duty = optional(reader, &path.field("duty"), duty, duty::duty);
    Some(Project {
        title,
        rules: rules?,
        symmetric,
        car: car?,
        drive: drive?,
        brakes: brakes?,
        springs: springs?,
        cradle: cradle?,
        cargo: cargo?,
        bushes: bushes?,
        mounts: mounts?,
        steels: steels?,
        rails: rails?,
        parts: parts?,
        welds: welds?,
        bolts: bolts?,
        cases: cases?,
        case_set,
        factors: factors?,
        duty: duty?,
        workmanship: workmanship?,
        weld_metal,
        opinions: opinions?,
    })
}

/// The piece of a project that stands in `slot`; none when a fault was noted. The rest is not looked
/// at.
pub(super) fn piece(
    reader: &mut Reader,
    path: &Path<'_>,
    slot: Slot,
    given: v1::Project,
) -> Option<Version> {
    /// Reads one entry of a list; nothing where the list is not as long.
    fn entry<G, T>(
        reader: &mut Reader,
        path: &Path<'_>,
        (name, at): (&str, usize),
        given: Vec<G>,
        read: impl Fn(&mut Reader, &Path<'_>, G) -> Option<T>,
    ) -> Option<T> {
        read(reader, &path.place(name, at), given.into_iter().nth(at)?)
    }
    match slot {
        Slot::Rest => project(reader, path, given).map(|whole| Version::Rest(Box::new(whole))),
        Slot::Bush(at) => {
            entry(reader, path, ("bushes", at), given.bushes, car::bush).map(Version::Bush)
        }
        Slot::Mount(at) => {
            entry(reader, path, ("mounts", at), given.mounts, car::mount).map(Version::Mount)
        }
        Slot::Rail(at) => entry(reader, path, ("rails", at), given.rails, rail::rail)
            .map(|one| Version::Rail(Box::new(one))),
        Slot::Part(at) => entry(reader, path, ("parts", at), given.parts, part::part)
            .map(|one| Version::Part(Box::new(one))),
        Slot::Weld(at) => entry(reader, path, ("welds", at), given.welds, joint::weld)
            .map(|one| Version::Weld(Box::new(one))),
        Slot::Bolt(at) => entry(reader, path, ("bolts", at), given.bolts, joint::bolt)
            .map(|one| Version::Bolt(Box::new(one))),
    }
}

/// A message that must be there, read by `read`.
fn required<G, T>(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<G>,
    read: impl FnOnce(&mut Reader, &Path<'_>, G) -> Option<T>,
) -> Option<T> {
    let given = reader.required(path, given)?;
    read(reader, path, given)
}

/// A message that may be left out: `Some(None)` when it is.
#[allow(clippy::option_option)]
fn optional<G, T>(
    reader: &mut Reader,
    path: &Path<'_>,
    given: Option<G>,
    read: impl FnOnce(&mut Reader, &Path<'_>, G) -> Option<T>,
) -> Option<Option<T>> {
    match given {
        None => Some(None),
        Some(given) => read(reader, path, given).map(Some),
    }
}

/// Every entry of a list is read, whatever became of those before it.
fn list<G, T>(
    reader: &mut Reader,
    path: &Path<'_>,
    name: &str,
    given: Vec<G>,
    read: impl Fn(&mut Reader, &Path<'_>, G) -> Option<T>,
) -> Option<Vec<T>> {
    let entries = given.into_iter().enumerate();
    let entries: Vec<Option<T>> =
        entries.map(|(index, entry)| read(reader, &path.place(name, index), entry)).collect();
    entries.into_iter().collect()
}

/// Two numbers that come together or not at all: `Some(None)` when neither is given.
#[allow(clippy::option_option)]
fn both(
    reader: &mut Reader,
    path: &Path<'_>,
    (name_a, a): (&str, Option<f64>),
    (name_b, b): (&str, Option<f64>),
) -> Option<Option<(f64, f64)>> {
    let missing = match (a, b) {
        (None, None) => return Some(None),
        (Some(a), Some(b)) => return Some(Some((a, b))),
        (Some(_), None) => name_b,
        (None, Some(_)) => name_a,
    };
    let allowed = format!("{name_a} and {name_b} together, or neither");
    reader.refuse(&path.field(missing), "nothing", allowed, "");
    None
}
