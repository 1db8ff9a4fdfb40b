//! Requests to what the engine takes. With [`to_proto`](crate::to_proto) the only place that
//! touches wire types; messages are taken apart field by field, so a new field breaks the build.
//!
//! A conversion never stops at the first fault: it notes it, puts something in the place, and
//! goes on.

pub(crate) mod catalog;
pub(crate) mod check;
pub(crate) mod mesh;
pub(crate) mod named;
mod project;
mod quantity;
pub(crate) mod rules;
pub(crate) mod solver;
pub(crate) mod strength;
pub(crate) mod study;

use std::collections::BTreeMap;

use fishplate_proto::v1;
use fishplate_quantity::Fault;

use crate::door;
use crate::path::Path;
use crate::units::MM;

/// The place of a thing that is not there; the fault has been noted.
pub(crate) const NOWHERE: usize = usize::MAX;

/// Collects faults on the way through a request.
#[derive(Debug, Default)]
pub(crate) struct Reader {
    faults: Vec<Fault>,
    more: usize,
}

/// Faults that are kept to be compared with each other; of the rest only the number is kept, so
/// that a request of nothing but faults is answered as quickly as any.
const KEPT: usize = 1000;

impl Reader {
    /// Notes a fault.
    pub(crate) fn refuse(
        &mut self,
        path: &Path<'_>,
        given: impl Into<String>,
        allowed: impl Into<String>,
        advice: impl Into<String>,
    ) {
        if self.faults.len() < KEPT {
            self.faults.push(Fault::new(path.to_string(), given, allowed, advice));
        } else {
            self.more += 1;
        }
    }

    /// `value`, noted where it is left out.
    pub(crate) fn required<T>(&mut self, path: &Path<'_>, value: Option<T>) -> Option<T> {
        if value.is_none() {
            self.refuse(path, "nothing", "this field is required", "");
        }
        value
    }

    /// Notes that a choice is not made; `name` is its enum in the contract.
    pub(crate) fn unset<T>(&mut self, path: &Path<'_>, name: &str) -> Option<T> {
        self.refuse(path, "nothing", door::choices(name), "");
        None
    }

    /// Adds what the engine found behind this reader, where it is not noted already.
    pub(crate) fn add_deeper(&mut self, deeper: Vec<Fault>) {
        let noted = std::mem::take(&mut self.faults);
        self.more += deeper.len().saturating_sub(KEPT);
        self.faults = merged(noted, deeper.into_iter().take(KEPT));
    }

    /// Adds what was found in the message at `path`, whose paths begin there.
    pub(crate) fn add_within(&mut self, path: &Path<'_>, within: Reader) {
        let (faults, more) = within.into_faults();
        self.more += more;
        for Fault { path: rest, given, allowed, advice } in faults {
            let step = if rest.is_empty() { path.to_string() } else { format!("{path}.{rest}") };
            if self.faults.len() < KEPT {
                self.faults.push(Fault::new(step, given, allowed, advice));
            } else {
                self.more += 1;
            }
        }
    }

    /// The faults, in the order of the request, and how many there are beyond those.
    pub(crate) fn into_faults(self) -> (Vec<Fault>, usize) {
        (self.faults, self.more)
    }
}

/// The places of named things in their list.
#[derive(Debug)]
pub(crate) struct Names {
    what: &'static str,
    places: BTreeMap<String, usize>,
}

impl Names {
    /// Reads the names of the list `list`, whose entries are each a `what`; each must have a name
    /// of its own.
    pub(crate) fn read<'n>(
        reader: &mut Reader,
        list: &str,
        what: &'static str,
        names: impl Iterator<Item = &'n str>,
    ) -> Self {
        Self::read_by(reader, list, "id", what, names)
    }

    /// The same, where the name stands in another field than `id`.
    pub(crate) fn read_by<'n>(
        reader: &mut Reader,
        list: &str,
        field: &str,
        what: &'static str,
        names: impl Iterator<Item = &'n str>,
    ) -> Self {
        let mut places = BTreeMap::new();
        for (index, name) in names.enumerate() {
            let entry = Path::ROOT.place(list, index);
            let path = entry.field(field);
            if name.is_empty() {
                reader.refuse(&path, "nothing", "a name", format!("name every {what}"));
            } else if let Some(first) = places.get(name) {
                let allowed = format!("a name that no other {what} has");
                let advice = format!("{list}[{first}] is called so already");
                reader.refuse(&path, format!("`{name}`"), allowed, advice);
            } else {
                places.insert(name.to_owned(), index);
            }
        }
        Self { what, places }
    }

    /// The place of `name`, or [`NOWHERE`] with a fault.
    pub(crate) fn find(&self, reader: &mut Reader, path: &Path<'_>, name: &str) -> usize {
        if let Some(place) = self.places.get(name) {
            return *place;
        }
        let given = if name.is_empty() { "nothing".to_owned() } else { format!("`{name}`") };
        reader.refuse(path, given, self.known(), "");
        NOWHERE
    }

    fn known(&self) -> String {
        const TOLD: usize = 5;
        let what = self.what;
        if self.places.is_empty() {
            return format!("the name of a {what}; there is none");
        }
        let first: Vec<&str> = self.places.keys().take(TOLD).map(String::as_str).collect();
        let more = match self.places.len().saturating_sub(TOLD) {
            0 => String::new(),
            n => format!(" and {n} more"),
        };
        format!("the name of a {what}: {}{more}", first.join(", "))
    }
}

/// Position in m; the origin where left out.
fn position(given: Option<v1::Position>) -> [f64; 3] {
    let v1::Position { x_mm, y_mm, z_mm } = given.unwrap_or_default();
    [x_mm * MM, y_mm * MM, z_mm * MM]
}

/// Components of a vector, in the unit of its field.
fn vector(given: v1::Vector) -> [f64; 3] {
    let v1::Vector { x, y, z } = given;
    [x, y, z]
}

/// Unit vector, or `None` where all components vanish.
fn unit(v: [f64; 3]) -> Option<[f64; 3]> {
    let length = v.iter().map(|c| c * c).sum::<f64>().sqrt();
    (length > 0.0).then(|| v.map(|c| c / length))
}

/// A direction; noted where it is given without a length.
fn direction(reader: &mut Reader, path: &Path<'_>, given: Option<v1::Vector>) -> Option<[f64; 3]> {
    let given = vector(given?);
    let unit = unit(given);
    // A component that is no number is noted at the door.
    if unit.is_none() && given.iter().all(|c| c.is_finite()) {
        reader.refuse(path, "0, 0, 0", "a direction: not all components 0", "");
    }
    unit
}

/// Force in N and moment in N m.
fn wrench(given: Option<v1::Wrench>) -> ([f64; 3], [f64; 3]) {
    let v1::Wrench { force_x_n, force_y_n, force_z_n, moment_x_nmm, moment_y_nmm, moment_z_nmm } =
        given.unwrap_or_default();
    let moment = [moment_x_nmm, moment_y_nmm, moment_z_nmm].map(|m| m * crate::units::NMM);
    ([force_x_n, force_y_n, force_z_n], moment)
}

/// Puts faults found deeper behind those found before, once each: a fault of a field that is
/// already noted, or that lies within one that is, adds nothing.
pub(crate) fn merged(first: Vec<Fault>, deeper: impl IntoIterator<Item = Fault>) -> Vec<Fault> {
    let mut all = first;
    let noted = all.len();
    for fault in deeper {
        let known = all[..noted].iter().any(|one| covers(&one.path, &fault.path));
        let twice = all[noted..].iter().any(|one| one.path == fault.path);
        if !(known || twice) {
            all.push(fault);
        }
    }
    all
}

/// Whether one path is the other or lies within it.
fn covers(one: &str, other: &str) -> bool {
    let (short, long) = if one.len() < other.len() { (one, other) } else { (other, one) };
    long.strip_prefix(short).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_field_is_told_once() {
        let fault = |path: &str| Fault::new(path, "", "", "");
        let first = vec![fault("nodes[1].position.x_mm")];
        let deeper = vec![fault("nodes[1].position"), fault("nodes[11].position")];
        let paths: Vec<String> = merged(first, deeper).into_iter().map(|f| f.path).collect();
        assert_eq!(paths, ["nodes[1].position.x_mm", "nodes[11].position"]);
    }

    #[test]
    fn beyond_a_number_faults_are_only_counted() {
        let mut reader = Reader::default();
        for index in 0..KEPT + 5 {
            reader.refuse(&Path::ROOT.place("nodes", index), "", "", "");
        }
        let deeper = (0..KEPT + 7).map(|i| Fault::new(format!("beams[{i}]"), "", "", ""));
        reader.add_deeper(deeper.collect());
        let (faults, more) = reader.into_faults();
        assert_eq!((faults.len(), more), (2 * KEPT, 12));
    }

    #[test]
    fn names_are_given_once_and_found() {
        let mut reader = Reader::default();
        let names = Names::read(&mut reader, "nodes", "node", ["a", "b", "a", ""].into_iter());
        assert_eq!(names.find(&mut reader, &Path::ROOT.field("node_id"), "b"), 1);
        assert_eq!(names.find(&mut reader, &Path::ROOT.field("node_id"), "c"), NOWHERE);
        let (faults, more) = reader.into_faults();
        assert_eq!(more, 0);
        let paths: Vec<&str> = faults.iter().map(|f| f.path.as_str()).collect();
        assert_eq!(paths, ["nodes[2].id", "nodes[3].id", "node_id"]);
        assert_eq!(faults[2].allowed, "the name of a node: a, b");
    }
}
