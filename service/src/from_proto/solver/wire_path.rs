//! Faults that the solver finds in a draft, told in the terms of the request: its field names, its
//! units, its names of nodes.

mod plates;

use fishplate_quantity::Fault;
use fishplate_quantity::units::STANDARD_GRAVITY;

use super::{Structure, StructureNames};
use crate::units::{K_PER_MM, KG_MM2, MM, MM2, MM4, MPA, N_PER_MM, NMM};

/// `fault`, whose path and numbers are those of the draft made from `structure`.
pub(crate) fn in_wire_terms(structure: &Structure, fault: Fault) -> Fault {
    let Fault { path, given, allowed, advice } = fault;
    let names = &structure.names;
    let (head, rest) = path.split_once('.').unwrap_or((&path, ""));
    let (list, place) = indexed(head);
    let wire_head = match list {
        "bolts" => format!("plate_bolts[{place}]"),
        "contacts" => format!("plate_contacts[{place}]"),
        "loads" => format!("load_cases[{place}]"),
        _ => head.to_owned(),
    };
    let field = match list {
        "nodes" => node(rest),
        "sections" => section(rest),
        "materials" => material(rest),
        "beams" => beam(rest),
        "springs" => spring(rest),
        "rigid_links" => link(rest),
        "masses" => mass(rest),
        "supports" => support(rest),
        "load_cases" => load(structure, place, rest),
        "plates" => plates::plate(rest),
        "seams" => plates::seam(rest),
        "spots" => plates::spot(rest),
        "bolts" => plates::bolt(rest),
        "contacts" => plates::contact(rest),
        "spreads" => plates::spread(rest),
        "loads" => plates::load(structure, place, rest),
        _ => Field::same(rest),
    };
    let path =
        if field.name.is_empty() { wire_head } else { format!("{wire_head}.{}", field.name) };
    Fault {
        path,
        given: lengths_in_mm(&in_unit(&given, field.unit, names)),
        allowed: lengths_in_mm(&in_names(&allowed, names)),
        advice: lengths_in_mm(&in_names(&advice, names)),
    }
}

/// Whether a fault only follows from a number that is none, which the door has noted already: a
/// length from a place that is nowhere.
pub(crate) fn follows_from_no_number(fault: &Fault) -> bool {
    fault.given.split(|c: char| !c.is_alphabetic()).any(|word| word == "NaN" || word == "inf")
}

/// A field of the request, and what a number of it counts.
struct Field {
    name: String,
    unit: Unit,
}

#[derive(Clone, Copy)]
enum Unit {
    /// A number in this many SI units.
    Of(f64),
    /// A node by its place.
    Node,
    /// Told in words.
    Words,
}

impl Field {
    fn new(name: impl Into<String>, unit: Unit) -> Self {
        Self { name: name.into(), unit }
    }

    fn same(name: &str) -> Self {
        Self::new(name, Unit::Words)
    }

    /// The entry as a whole.
    fn whole() -> Self {
        Self::same("")
    }
}

const XYZ: [&str; 3] = ["x", "y", "z"];
const MOVED: [&str; 6] = ["move_x", "move_y", "move_z", "turn_x", "turn_y", "turn_z"];

/// `name[2]` to `name` and 2.
fn indexed(text: &str) -> (&str, usize) {
    text.strip_suffix(']')
        .and_then(|text| text.split_once('['))
        .and_then(|(name, place)| Some((name, place.parse().ok()?)))
        .unwrap_or((text, 0))
}

fn node(rest: &str) -> Field {
    let (_, k) = indexed(rest);
    Field::new(format!("position.{}_mm", XYZ[k % 3]), Unit::Of(MM))
}

fn section(rest: &str) -> Field {
    let (name, unit) = match rest {
        "area" => ("area_mm2", MM2),
        "i_y" => ("i_y_mm4", MM4),
        "i_z" => ("i_z_mm4", MM4),
        "i_yz" => ("i_yz_mm4", MM4),
        "torsion_constant" => ("torsion_constant_mm4", MM4),
        "shear_area_y" => ("shear_area_y_mm2", MM2),
        "shear_area_z" => ("shear_area_z_mm2", MM2),
        "shear_centre_y" => ("shear_centre_y_mm", MM),
        "shear_centre_z" => ("shear_centre_z_mm", MM),
        // Points of a section: `stress_points[1].y`.
        point => return Field::new(format!("values.{point}_mm"), Unit::Of(MM)),
    };
    Field::new(format!("values.{name}"), Unit::Of(unit))
}

fn material(rest: &str) -> Field {
    match rest {
        "youngs_modulus" => Field::new("youngs_modulus_mpa", Unit::Of(MPA)),
        "shear_modulus" => Field::new("shear_modulus_mpa", Unit::Of(MPA)),
        "density" => Field::new("density_kg_per_m3", Unit::Of(1.0)),
        "thermal_expansion" => Field::new("expansion_per_k", Unit::Of(1.0)),
        other => Field::same(other),
    }
}

fn beam(rest: &str) -> Field {
    let (name, k) = indexed(rest);
    match name {
        "start" => Field::new("start_node_id", Unit::Node),
        "end" => Field::new("end_node_id", Unit::Node),
        "section" => Field::same("section_id"),
        "material" => Field::same("material_id"),
        "orientation" => Field::same("up"),
        // Both as wholes: their reach along the member.
        "offset_start" if rest == name => Field::same("start_offset"),
        "offset_end" if rest == name => Field::same("end_offset"),
        "offset_start" => Field::new(format!("start_offset.{}_mm", XYZ[k % 3]), Unit::Of(MM)),
        "offset_end" => Field::new(format!("end_offset.{}_mm", XYZ[k % 3]), Unit::Of(MM)),
        "releases_start" => Field::new(format!("start_release.{}", MOVED[k % 6]), Unit::Words),
        "releases_end" => Field::new(format!("end_release.{}", MOVED[k % 6]), Unit::Words),
        other => Field::same(other),
    }
}

fn spring(rest: &str) -> Field {
    let (first, last) = rest.split_once('.').unwrap_or((rest, ""));
    let (name, k) = indexed(first);
    let axis = XYZ[k % 3];
    match (name, last) {
        ("a", _) => Field::new("node_a_id", Unit::Node),
        ("b", _) => Field::new("node_b_id", Unit::Node),
        ("axes", _) => Field::same("x_axis"),
        ("preset", _) => Field::new(format!("lack_of_fit.{axis}_mm"), Unit::Of(MM)),
        ("stiffness", _) if k < 3 => {
            Field::new(format!("move_{axis}_n_per_mm"), Unit::Of(N_PER_MM))
        }
        ("stiffness", _) => Field::new(format!("turn_{axis}_nmm_per_rad"), Unit::Of(NMM)),
        ("behaviour", "stiffness") => Field::new("stop_n_per_mm", Unit::Of(N_PER_MM)),
        ("behaviour", "") if k < 3 => Field::same(&format!("action_{axis}")),
        ("behaviour", _) => Field::new("gap_mm", Unit::Of(MM)),
        _ => Field::same(rest),
    }
}

fn link(rest: &str) -> Field {
    match rest {
        "master" => Field::new("leader_node_id", Unit::Node),
        "slave" => Field::new("follower_node_id", Unit::Node),
        _ => Field::whole(),
    }
}

fn mass(rest: &str) -> Field {
    let (name, k) = indexed(rest);
    match name {
        "node" => Field::new("node_id", Unit::Node),
        "mass" => Field::new("mass_kg", Unit::Of(1.0)),
        _ => Field::new(format!("inertia_{}_kg_mm2", XYZ[k % 3]), Unit::Of(KG_MM2)),
    }
}

fn support(rest: &str) -> Field {
    if rest == "node" { Field::new("node_id", Unit::Node) } else { Field::whole() }
}

fn load(structure: &Structure, case: usize, rest: &str) -> Field {
    let (entry, field) = rest.split_once('.').unwrap_or((rest, ""));
    let (list, place) = indexed(entry);
    let (name, k) = indexed(field);
    let axis = XYZ[k % 3];
    let at = |list: &str, field: &str, unit| Field::new(format!("{list}[{place}].{field}"), unit);
    match (list, name) {
        ("nodal", "node") => at("nodal_loads", "node_id", Unit::Node),
        ("nodal", "force") => at("nodal_loads", &format!("load.force_{axis}_n"), Unit::Of(1.0)),
        ("nodal", "moment") => at("nodal_loads", &format!("load.moment_{axis}_nmm"), Unit::Of(NMM)),
        ("point", "beam") => at("point_loads", "beam_id", Unit::Words),
        ("point", "at") => at("point_loads", "at_mm", Unit::Words),
        ("point", "force") => at("point_loads", &format!("load.force_{axis}_n"), Unit::Of(1.0)),
        ("point", "moment") => at("point_loads", &format!("load.moment_{axis}_nmm"), Unit::Of(NMM)),
        ("line", "beam") => at("line_loads", "beam_id", Unit::Words),
        ("line", "force_from") => {
            at("line_loads", &format!("from_n_per_mm.{axis}"), Unit::Of(N_PER_MM))
        }
        ("line", "force_to") => {
            at("line_loads", &format!("to_n_per_mm.{axis}"), Unit::Of(N_PER_MM))
        }
        ("line", _) => Field::same(&format!("line_loads[{place}]")),
        ("point", "") => Field::same(&format!("point_loads[{place}]")),
        ("thermal", "") => Field::same(&format!("thermal_loads[{place}]")),
        ("thermal", "beam") => at("thermal_loads", "beam_id", Unit::Words),
        ("thermal", "uniform") => at("thermal_loads", "change_k", Unit::Of(1.0)),
        ("thermal", other) => at("thermal_loads", &format!("{other}_k_per_mm"), Unit::Of(K_PER_MM)),
        ("prescribed", what) => {
            let fields = structure.prescribed.get(case).and_then(|fields| fields.get(place));
            let (entry, field) = fields.copied().unwrap_or((place, "node_id"));
            let unit = if field.ends_with("_mm") { Unit::Of(MM) } else { Unit::Of(1.0) };
            match what {
                "node" => Field::new(format!("prescribed[{entry}].node_id"), Unit::Node),
                "" => Field::same(&format!("prescribed[{entry}]")),
                _ => Field::new(format!("prescribed[{entry}].{field}"), unit),
            }
        }
        // As a whole, or one of its components.
        ("acceleration", _) if entry == "acceleration" => Field::same("field_g"),
        ("acceleration", _) => {
            let (_, k) = indexed(entry);
            Field::new(format!("field_g.{}", XYZ[k % 3]), Unit::Of(STANDARD_GRAVITY))
        }
        _ => Field::whole(),
    }
}

fn in_unit(given: &str, unit: Unit, names: &StructureNames) -> String {
    match unit {
        Unit::Of(size) => given
            .parse::<f64>()
            .map_or_else(|_| given.to_owned(), |value| format!("{}", value / size)),
        Unit::Node => given
            .parse::<usize>()
            .ok()
            .and_then(|place| names.nodes.get(place))
            .map_or_else(|| in_names(given, names), |name| format!("`{name}`")),
        Unit::Words => in_names(given, names),
    }
}

/// `text` with the lengths that end in `m` told in mm, to a millionth of them: `0 to 0.4 m`,
/// `(0.1, 0, 0) m`.
pub(crate) fn lengths_in_mm(text: &str) -> String {
    let words: Vec<&str> = text.split(' ').collect();
    let mut out: Vec<String> = words.iter().map(|word| (*word).to_owned()).collect();
    for (place, word) in words.iter().enumerate() {
        if word.trim_end_matches([',', ';', ':', '.']) != "m" {
            continue;
        }
        // Numbers before the unit: a single one, a range or the components of a place.
        let before = words[..place].iter().rposition(|w| scaled(w).is_none() && *w != "to");
        let first = before.map_or(0, |at| at + 1);
        if first == place {
            continue;
        }
        for at in first..place {
            if let Some(number) = scaled(words[at]) {
                out[at] = number;
            }
        }
        out[place] = word.replacen('m', "mm", 1);
    }
    out.join(" ")
}

/// A number in m, with its brackets and commas, in mm.
fn scaled(word: &str) -> Option<String> {
    let around = |c: char| matches!(c, '(' | ')' | ',' | '[' | ']');
    let bare = word.trim_matches(around);
    let value: f64 = bare.parse().ok().filter(|value: &f64| value.is_finite())?;
    let mm = value / MM;
    // What the change of the unit added behind the twelfth digit is not the caller's.
    let mm: f64 = format!("{mm:.11e}").parse().unwrap_or(mm);
    Some(word.replacen(bare, &mm.to_string(), 1))
}

/// `text` with the places of nodes and plates replaced by their names.
pub(crate) fn in_names(text: &str, names: &StructureNames) -> String {
    named(&named(text, ["node", "nodes"], &names.nodes), ["plate", "plates"], &names.plates)
}

/// `text` with the places that follow one of these words replaced by names.
fn named(text: &str, words: [&str; 2], names: &[String]) -> String {
    let mut out: Vec<String> = Vec::new();
    let mut behind = false;
    for word in text.split(' ') {
        let bare = word.trim_end_matches([',', ';', ':', '.']);
        let name = bare.parse::<usize>().ok().filter(|_| behind).and_then(|place| names.get(place));
        match name {
            // A list of places goes on as long as they are parted by commas.
            Some(name) => {
                behind = word.ends_with(',');
                out.push(format!("`{name}`{}", &word[bare.len()..]));
            }
            None => {
                behind = words.contains(&bare);
                out.push(word.to_owned());
            }
        }
    }
    out.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    const NODES: [&str; 2] = ["node", "nodes"];

    // 1 m is 1000 mm.
    #[test]
    fn lengths_are_told_in_mm() {
        for (given, expected) in [
            ("a flexible length of 0 m", "a flexible length of 0 mm"),
            ("0 to 0.3 m", "0 to 300 mm"),
            ("an end after it and up to 0.4 m", "an end after it and up to 400 mm"),
            ("through (0.1000, -0.0250, 0.0000) m", "through (100, -25, 0) mm"),
            ("along (0.000, 1.000, 0.000) through", "along (0.000, 1.000, 0.000) through"),
            ("node `m`", "node `m`"),
        ] {
            assert_eq!(lengths_in_mm(given), expected);
        }
    }

    #[test]
    fn places_of_nodes_become_their_names() {
        let nodes = ["a", "b", "c"].map(str::to_owned);
        assert_eq!(
            named("a ring through the nodes 1, 2", NODES, &nodes),
            "a ring through the nodes `b`, `c`"
        );
        assert_eq!(
            named("node 2 follows node 0 already by rigid_links[1]", NODES, &nodes),
            "node `c` follows node `a` already by rigid_links[1]"
        );
        assert_eq!(named("at least 1 node", NODES, &nodes), "at least 1 node");
    }
}
