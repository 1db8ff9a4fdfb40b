//! Changes of a project by the paths of its fields, and the designs that they span.
//!
//! What the options make of a project is read once for every piece of it and every combination of
//! the quantities that change that piece, not for every design.

use std::collections::{BTreeMap, BTreeSet};

use fishplate_mounts::study::space::{Element, Quantity, Slot, Space, Version};
use fishplate_proto::changes::{Unfit, open, set};
use fishplate_proto::v1;
use prost_reflect::DynamicMessage;

use crate::from_proto::{Reader, covers, project};
use crate::limits::VERSIONS;
use crate::path::Path;

/// A change of the request: where it stands there, and what it is.
struct Asked<'g> {
    quantity: usize,
    option: usize,
    place: usize,
    change: &'g v1::FieldChange,
}

/// Reads a space that stands at `path`.
pub(crate) fn space(reader: &mut Reader, path: &Path<'_>, given: v1::DesignSpace) -> Option<Space> {
    let v1::DesignSpace { base: given, quantities } = given;
    let base_path = path.field("base");
    let message = reader.required(&base_path, given)?;
    let base = project::project(reader, &base_path, message.clone());
    let read = named(reader, path, &quantities);
    let asked = asked(reader, path, &quantities);
    let (base, read) = (base?, read?);
    let asked = asked?;
    apart(reader, path, &quantities, &asked)?;
    let whole = opened(reader, &base_path, &message)?;
    let mut by_slot: BTreeMap<Slot, Vec<&Asked<'_>>> = BTreeMap::new();
    for one in &asked {
        by_slot.entry(Slot::of(&one.change.field_path)).or_default().push(one);
    }
    let mut elements = Vec::new();
    let mut sound = Some(());
    for (slot, changes) in by_slot {
        let by: BTreeSet<usize> = changes.iter().map(|one| one.quantity).collect();
        let by: Vec<usize> = by.into_iter().collect();
        let piece = Piece { slot, changes, by, read: &read };
        match piece.versions(reader, path, &whole) {
            Some(versions) => elements.push(Element { slot, by: piece.by, versions }),
            None => sound = None,
        }
    }
    sound?;
    Some(Space::new(base, read, elements))
}

/// The contract's message of a project, whose fields can be set.
fn opened(reader: &mut Reader, path: &Path<'_>, project: &v1::Project) -> Option<DynamicMessage> {
    match open("Project", project) {
        Ok(whole) => Some(whole),
        Err(error) => {
            reader.refuse(path, "a project", format!("one that can be taken apart: {error}"), "");
            None
        }
    }
}

/// The quantities with the names of their options.
fn named(
    reader: &mut Reader,
    path: &Path<'_>,
    quantities: &[v1::OpenQuantity],
) -> Option<Vec<Quantity>> {
    let mut known: BTreeMap<&str, usize> = BTreeMap::new();
    let mut sound = Some(());
    for (at, quantity) in quantities.iter().enumerate() {
        let here = path.place("quantities", at);
        let name = here.field("name");
        if quantity.name.is_empty() {
            reader.refuse(&name, "nothing", "how the quantity is told", "");
            sound = None;
        } else if let Some(first) = known.insert(&quantity.name, at) {
            let advice = format!("quantities[{first}] is called so already");
            reader.refuse(&name, format!("`{}`", quantity.name), "a name of its own", advice);
            sound = None;
        }
        if quantity.options.is_empty() {
            reader.refuse(&here.field("options"), "nothing", "at least one option", "");
            sound = None;
        }
        for (place, option) in quantity.options.iter().enumerate() {
            if option.label.is_empty() {
                let entry = here.place("options", place);
                reader.refuse(&entry.field("label"), "nothing", "how the option is told", "");
                sound = None;
            }
        }
    }
    sound?;
    let read = |quantity: &v1::OpenQuantity| Quantity {
        name: quantity.name.clone(),
        options: quantity.options.iter().map(|option| option.label.clone()).collect(),
    };
    Some(quantities.iter().map(read).collect())
}

/// All changes of all options.
fn asked<'g>(
    reader: &mut Reader,
    path: &Path<'_>,
    quantities: &'g [v1::OpenQuantity],
) -> Option<Vec<Asked<'g>>> {
    let mut all = Vec::new();
    let mut sound = Some(());
    for (quantity, open) in quantities.iter().enumerate() {
        let here = path.place("quantities", quantity);
        for (option, offered) in open.options.iter().enumerate() {
            let entry = here.place("options", option);
            for (place, change) in offered.changes.iter().enumerate() {
                let at = entry.place("changes", place);
                if change.field_path.is_empty() {
                    reader.refuse(&at.field("field_path"), "nothing", "the path of a field", "");
                    sound = None;
                }
                if change.value.is_none() {
                    let advice = "null leaves the field out";
                    reader.refuse(&at.field("value"), "nothing", "the value of the field", advice);
                    sound = None;
                }
                all.push(Asked { quantity, option, place, change });
            }
        }
    }
    sound?;
    Some(all)
}

/// Refuses two quantities, or two changes of one option, that set the same field.
fn apart(
    reader: &mut Reader,
    path: &Path<'_>,
    quantities: &[v1::OpenQuantity],
    asked: &[Asked<'_>],
) -> Option<()> {
    let mut sound = Some(());
    let mut told: BTreeSet<(usize, usize)> = BTreeSet::new();
    for (at, one) in asked.iter().enumerate() {
        for other in &asked[..at] {
            let same = one.quantity == other.quantity;
            let apart = same && one.option != other.option;
            if apart || !covers(&one.change.field_path, &other.change.field_path) {
                continue;
            }
            if !told.insert((other.quantity, one.quantity)) {
                continue;
            }
            let here = path.place("quantities", one.quantity);
            let option = here.place("options", one.option);
            let change = option.place("changes", one.place);
            let name = |one: &Asked<'_>| &quantities[one.quantity].name;
            let given = format!(
                "`{}` by {} and `{}` by {}",
                other.change.field_path,
                name(other),
                one.change.field_path,
                name(one)
            );
            let advice = "open the two as one quantity whose options set both";
            let allowed = "a field that is set once";
            reader.refuse(&change.field("field_path"), given, allowed, advice);
            sound = None;
        }
    }
    sound
}

/// A piece of the project and everything that may change it.
struct Piece<'a, 'g> {
    slot: Slot,
    changes: Vec<&'a Asked<'g>>,
    /// The quantities that change it, ascending.
    by: Vec<usize>,
    read: &'a [Quantity],
}

impl Piece<'_, '_> {
    /// What every combination of the options makes of it.
    fn versions(
        &self,
        reader: &mut Reader,
        path: &Path<'_>,
        whole: &DynamicMessage,
    ) -> Option<Vec<Version>> {
        let sizes: Vec<usize> = self.by.iter().map(|q| self.read[*q].options.len()).collect();
        let count = sizes.iter().try_fold(1_usize, |all, of| all.checked_mul(*of));
        let Some(count) = count.filter(|count| *count <= VERSIONS) else {
            let names: Vec<&str> = self.by.iter().map(|q| self.read[*q].name.as_str()).collect();
            let given =
                format!("{} with {sizes:?} options that change one thing", names.join(", "));
            let allowed = format!("at most {VERSIONS} versions of one thing");
            reader.refuse(&path.field("quantities"), given, allowed, "offer fewer options");
            return None;
        };
        if self.slot == Slot::Rest {
            self.no_whole_lists(reader, path)?;
        }
        let mut versions = Vec::with_capacity(count);
        let mut refused: BTreeSet<(usize, usize)> = BTreeSet::new();
        for number in 0..count {
            let mut rest = number;
            let mut chosen = vec![0; sizes.len()];
            for (option, of) in chosen.iter_mut().zip(&sizes).rev() {
                *option = rest % of;
                rest /= of;
            }
            let mut changed = whole.clone();
            let mut sound = true;
            for one in &self.changes {
                let by = self.by.iter().position(|q| *q == one.quantity);
                if by.map(|by| chosen[by]) != Some(one.option) {
                    continue;
                }
                let value = one.change.value.clone().unwrap_or_default();
                let Err(Unfit { given, allowed }) =
                    set(&mut changed, &one.change.field_path, &value)
                else {
                    continue;
                };
                sound = false;
                if refused.insert((one.quantity, one.option)) {
                    let here = path.place("quantities", one.quantity);
                    let option = here.place("options", one.option);
                    let change = option.place("changes", one.place);
                    reader.refuse(&change, given, allowed, "");
                }
            }
            let made = if sound { self.version(reader, path, &changed) } else { None };
            versions.extend(made);
        }
        (versions.len() == count).then_some(versions)
    }

    /// Refuses changes of whole lists whose entries are pieces of their own.
    fn no_whole_lists(&self, reader: &mut Reader, path: &Path<'_>) -> Option<()> {
        const LISTS: [&str; 6] = ["bushes", "mounts", "rails", "parts", "welds", "bolts"];
        let mut sound = Some(());
        for one in &self.changes {
            if !LISTS.contains(&one.change.field_path.as_str()) {
                continue;
            }
            let here = path.place("quantities", one.quantity);
            let option = here.place("options", one.option);
            let change = option.place("changes", one.place);
            let given = format!("`{}`", one.change.field_path);
            let allowed = format!("an entry of it: `{}[0]`", one.change.field_path);
            let advice = "things may change, but not come and go";
            reader.refuse(&change.field("field_path"), given, allowed, advice);
            sound = None;
        }
        sound
    }

    /// The piece as it stands in a changed project.
    fn version(
        &self,
        reader: &mut Reader,
        path: &Path<'_>,
        changed: &DynamicMessage,
    ) -> Option<Version> {
        let base = path.field("base");
        let Ok(changed) = changed.transcode_to::<v1::Project>() else {
            reader.refuse(&base, "a changed project", "one that fits the contract", "");
            return None;
        };
        project::piece(reader, &base, self.slot, changed)
    }
}
