//! A project file to the `Project` of the wire.
//!
//! The file speaks of the things on the bench; each section of it has one file here. Nothing is
//! computed: a phrase becomes fields, and every field remembers where it was written, so that a
//! fault that the service finds is shown at its line too.

mod car;
mod cases;
mod condition;
mod cradle;
pub(crate) mod document;
mod duty;
mod joints;
mod open;
mod opinions;
mod parts;
mod phrase;
mod places;
mod rail;
mod settle;
pub(crate) mod spelling;
mod texts;

use fishplate_proto::v1;
use toml::de::{DeTable, DeValue};

pub(crate) use car::added_mass;
pub use document::Fault;
pub(crate) use open::Opened;
pub use places::Places;
pub(crate) use settle::settled;
pub(crate) use texts::Texts;

use document::{Context, Section};
use spelling::nearest;

/// A project file that was read.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// What it says.
    pub project: v1::Project,
    /// Where it says it.
    pub places: Places,
}

/// Sections, whether one must be there, and how one begins.
const SECTIONS: [(&str, Option<&str>); 21] = [
    ("project", Some("[project]\ntitle = \"Light van\"\nrules = \"EN 1993\"")),
    ("rules", None),
    ("car", Some("[car]\nmass = \"2050 kg\"")),
    ("added", None),
    ("drive", None),
    ("brakes", None),
    ("springs", Some("[springs]\nseat_on = \"body\"")),
    ("cradle", Some("[cradle]\nmass = \"145 kg\"")),
    ("cargo", None),
    ("bush", Some("[bush.rubber]\naxis = \"z\"")),
    ("mount", Some("[mount.front]\nat = \"330, 480, 420 mm\"")),
    ("steel", None),
    ("rail", Some("[rail.frame]\nsection = \"channel 100 x 45 x 3 mm\"")),
    ("part", None),
    ("welding", None),
    ("weld", None),
    ("bolt", None),
    ("cases", Some("[cases]\nset = \"road\"")),
    ("duty", None),
    ("second_opinion", None),
    ("factors", Some("[factors]\nnormal = \"1.5\"")),
];

/// Reads a project from a text by itself: it can include nothing.
///
/// # Errors
/// Every fault of the file, in its order. A file that is no TOML yields the faults of its grammar
/// alone: behind them, nothing is certain.
pub fn read(text: &str) -> Result<Loaded, Vec<Fault>> {
    Texts::alone(text).read()
}

/// Reads what all texts together say.
fn read_table(root: &DeTable<'_>, mut faults: Vec<Fault>) -> Result<Loaded, Vec<Fault>> {
    let context = Context::default();
    let project = project(&context, root);
    let (more, places) = context.finish();
    faults.extend(more);
    document::in_order(&mut faults);
    if faults.is_empty() { Ok(Loaded { project, places }) } else { Err(faults) }
}

/// Text that is no TOML.
pub(crate) fn grammar_fault(error: &toml::de::Error) -> Fault {
    Fault {
        span: error.span(),
        what: format!("this is no TOML: {}", error.message()),
        advice: "a line is key = \"value\", a section starts with [name]".to_owned(),
    }
}

fn project(context: &Context, root: &DeTable<'_>) -> v1::Project {
    refuse_unknown(context, root);
    let one = |name: &str| {
        let path = if name == "welding" { "workmanship" } else { name };
        single(context, root, name, path)
    };
    let mut project = v1::Project::default();
    if let Some(section) = single(context, root, "project", "") {
        if let Some(title) = section.need("title", "title", "\"Light van\"") {
            project.title = title.text().unwrap_or_default().to_owned();
        }
        if let Some(rules) = section.need("rules", "rules", "\"EN 1993\"") {
            let pack = rules.text().unwrap_or_default().to_owned();
            project.rules = Some(v1::Rules { pack, ..v1::Rules::default() });
        }
        if let Some(symmetric) = section.need("symmetric", "symmetric", "true") {
            project.symmetric = symmetric.yes().unwrap_or_default();
        }
        project.weld_metal = section.quantity("weld_metal", "weld_metal");
        section.finish();
    }
    project.car = one("car").map(car::car);
    let added = named(context, root, "added", "car.added_masses").map(car::added);
    if let Some(car) = &mut project.car {
        car.added_masses = added.collect();
    }
    project.drive = one("drive").map(car::drive);
    project.brakes = one("brakes").map(car::brakes);
    project.springs = one("springs").map(car::springs);
    project.cradle = one("cradle").map(cradle::cradle);
    project.cargo = named(context, root, "cargo", "cargo").map(cradle::cargo).collect();
    project.bushes = named(context, root, "bush", "bushes").map(cradle::bush).collect();
    project.mounts = named(context, root, "mount", "mounts").map(cradle::mount).collect();
    project.steels = named(context, root, "steel", "steels").map(rail::steel).collect();
    project.rails = named(context, root, "rail", "rails").map(rail::rail).collect();
    project.parts = named(context, root, "part", "parts").map(parts::part).collect();
    project.workmanship = one("welding").and_then(joints::welding);
    project.welds = named(context, root, "weld", "welds").map(joints::weld).collect();
    project.bolts = named(context, root, "bolt", "bolts").map(joints::bolt).collect();
    if let Some(section) = one("cases") {
        (project.case_set, project.cases) = cases::cases(section);
    }
    let rules = project.rules.get_or_insert_default();
    if let Some(section) = one("rules") {
        cases::rules(&section, rules);
        section.finish();
    }
    project.factors = one("factors").map(|section| cases::factors(section, rules));
    project.duty = one("duty").map(duty::duty);
    if let Some(section) = single(context, root, "second_opinion", "opinions") {
        project.opinions = opinions::opinions(&section);
    }
    project
}

/// The section `[name]`; a fault where it must be there and is not.
fn single<'d>(
    context: &'d Context,
    root: &'d DeTable<'d>,
    name: &str,
    path: &str,
) -> Option<Section<'d>> {
    let value = root.get(name)?;
    match value.get_ref() {
        DeValue::Table(table) => {
            Some(Section::new(context, format!("[{name}]"), path.to_owned(), value.span(), table))
        }
        _ => {
            let header = match example_name(name) {
                Some(example) => format!("[{name}.{example}]"),
                None => format!("[{name}]"),
            };
            context.fault(
                Some(value.span()),
                format!("`{name}` is not written as a section"),
                format!("start it with {header}"),
            );
            None
        }
    }
}

/// The sections `[kind.name]`, in the order of the file, each with its name.
fn named<'d>(
    context: &'d Context,
    root: &'d DeTable<'d>,
    kind: &'static str,
    path: &'static str,
) -> impl Iterator<Item = (String, Section<'d>)> {
    let mut found = Vec::new();
    let tables = single(context, root, kind, path);
    for (key, value) in tables.iter().flat_map(|s| s.entries()) {
        match value.get_ref() {
            DeValue::Table(table) => {
                found.push((key.span().start, key.get_ref().to_string(), value.span(), table));
            }
            DeValue::Array(_) => context.fault(
                Some(value.span()),
                format!("[{kind}.{}] is a list, where one section belongs", key.get_ref()),
                format!("write [{kind}.{}], with single brackets and once", key.get_ref()),
            ),
            _ => context.fault(
                Some(key.span()),
                format!("[{kind}] has the value `{}`, where a name belongs", key.get_ref()),
                format!("name the thing: [{kind}.{}]", example_name(kind).unwrap_or("name")),
            ),
        }
    }
    // A section that was replaced keeps its place.
    found.sort_by_key(|(start, ..)| *start);
    found.into_iter().enumerate().map(move |(at, (_, name, span, table))| {
        let label = format!("[{kind}.{name}]");
        (name, Section::new(context, label, format!("{path}[{at}]"), span, table))
    })
}

/// How a thing of a kind might be called, where its kind has names.
fn example_name(kind: &str) -> Option<&'static str> {
    Some(match kind {
        "added" | "cargo" => "battery",
        "bush" => "rubber",
        "mount" => "front",
        "steel" => "rail-steel",
        "rail" => "frame",
        "part" => "front-bracket",
        "weld" => "front-foot",
        "bolt" => "front-bush",
        _ => return None,
    })
}

/// Refuses sections that are not known, and names those that must be there and are not.
fn refuse_unknown(context: &Context, root: &DeTable<'_>) {
    let names = || SECTIONS.iter().map(|s| s.0);
    for (key, value) in root.iter() {
        let name: &str = key.get_ref();
        if names().any(|n| n == name) {
            continue;
        }
        let near = match nearest(name, names()) {
            Some(near) => format!("did you mean [{near}]? "),
            None => String::new(),
        };
        let (span, what) = match value.get_ref() {
            DeValue::Table(_) | DeValue::Array(_) => {
                (value.span(), format!("there is no section [{name}]"))
            }
            _ => (key.span(), format!("`{name}` stands in no section")),
        };
        let all = names().collect::<Vec<_>>().join(", ");
        context.fault(Some(span), what, format!("{near}sections are: {all}"));
    }
    for (name, example) in SECTIONS {
        if let Some(example) = example
            && !root.contains_key(name)
        {
            context.fault(
                None,
                format!("the file has no section [{name}]"),
                format!("add for example:\n{example}"),
            );
        }
    }
}

#[cfg(test)]
#[path = "tests.rs"]
mod tests;
