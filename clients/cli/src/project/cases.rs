//! `[cases]`, `[factors]`.

use fishplate_proto::v1;
use fishplate_proto::v1::{CaseKind, Side};
use fishplate_quantity::{Force, written};
use toml::de::DeValue;

use super::document::{Entry, Section, tidy};
use super::phrase;

/// What a case is, in plain words; the wheel or the way that a phrase names is its side.
const PHRASES: [(&str, (CaseKind, Side)); 36] = [
    ("standing", (CaseKind::Standing, Side::Unspecified)),
    ("bump", (CaseKind::Bump, Side::Unspecified)),
    ("rebound", (CaseKind::Rebound, Side::Unspecified)),
    ("twist, left wheel up", (CaseKind::Twist, Side::Left)),
    ("twist, right wheel up", (CaseKind::Twist, Side::Right)),
    ("brake", (CaseKind::Brake, Side::Unspecified)),
    ("brake backwards", (CaseKind::BrakeBackwards, Side::Unspecified)),
    ("drive", (CaseKind::Drive, Side::Unspecified)),
    ("drive backwards", (CaseKind::DriveBackwards, Side::Unspecified)),
    ("corner left", (CaseKind::Corner, Side::Left)),
    ("corner right", (CaseKind::Corner, Side::Right)),
    ("kerb left", (CaseKind::Kerb, Side::Left)),
    ("kerb right", (CaseKind::Kerb, Side::Right)),
    ("pothole left, brake locked", (CaseKind::PotholeBraked, Side::Left)),
    ("pothole right, brake locked", (CaseKind::PotholeBraked, Side::Right)),
    ("pothole left, edge", (CaseKind::PotholeEdge, Side::Left)),
    ("pothole right, edge", (CaseKind::PotholeEdge, Side::Right)),
    ("corner left and brake", (CaseKind::CornerAndBrake, Side::Left)),
    ("corner right and brake", (CaseKind::CornerAndBrake, Side::Right)),
    ("jack, centre", (CaseKind::JackCentre, Side::Unspecified)),
    ("jack, left", (CaseKind::JackSide, Side::Left)),
    ("jack, right", (CaseKind::JackSide, Side::Right)),
    ("lift", (CaseKind::Lift, Side::Unspecified)),
    ("tow forward", (CaseKind::TowForward, Side::Unspecified)),
    ("tow rearward", (CaseKind::TowRearward, Side::Unspecified)),
    ("tie-down forward", (CaseKind::TieDownForward, Side::Unspecified)),
    ("tie-down rearward", (CaseKind::TieDownRearward, Side::Unspecified)),
    ("tie-down sideways", (CaseKind::TieDownSideways, Side::Unspecified)),
    ("tie-down sideways, left", (CaseKind::TieDownSideways, Side::Left)),
    ("tie-down sideways, right", (CaseKind::TieDownSideways, Side::Right)),
    ("restraint forward", (CaseKind::RestraintForward, Side::Unspecified)),
    ("restraint rearward", (CaseKind::RestraintRearward, Side::Unspecified)),
    ("restraint left", (CaseKind::RestraintSideways, Side::Left)),
    ("restraint right", (CaseKind::RestraintSideways, Side::Right)),
    ("restraint up", (CaseKind::RestraintUp, Side::Unspecified)),
    ("restraint down", (CaseKind::RestraintDown, Side::Unspecified)),
];

/// The set that was named, and the cases, in the order of the file.
pub(super) fn cases(section: Section<'_>) -> (i32, Vec<v1::LoadCase>) {
    let set = section.get("set", "set").map_or(v1::CaseSet::Unspecified, |entry| {
        entry.also("case_set");
        entry.choice(&[("road", v1::CaseSet::Road)]).unwrap_or(v1::CaseSet::Unspecified)
    });
    let mut lines: Vec<_> = section.entries().filter(|(key, _)| *key.get_ref() != "set").collect();
    lines.sort_by_key(|(key, _)| key.span().start);
    if lines.is_empty() && !section.has("set") {
        section.fault(
            "[cases] has no case",
            "add set = \"road\", or a line such as P1 = { is = \"pothole left, brake locked\", \
             field = \"2 g\", kind = \"abuse\" }",
        );
    }
    let mut found = Vec::new();
    for (at, (key, value)) in lines.into_iter().enumerate() {
        let name = key.get_ref().to_string();
        let DeValue::Table(table) = value.get_ref() else {
            section.context.fault(
                Some(value.span()),
                format!("the case `{name}` is no table in braces"),
                format!("write {name} = {{ is = \"bump\", field = \"3 g\", kind = \"normal\" }}"),
            );
            continue;
        };
        let path = format!("cases[{at}]");
        let label = format!("the case {name}");
        found.push(case(name, Section::new(section.context, label, path, value.span(), table)));
    }
    (set as i32, found)
}

fn case(name: String, section: Section<'_>) -> v1::LoadCase {
    let classes = [
        ("normal", v1::CaseClass::Normal),
        ("abuse", v1::CaseClass::Abuse),
        ("restraint", v1::CaseClass::Restraint),
    ];
    let is = section.need("is", "kind", "\"pothole left, brake locked\"").and_then(|entry| {
        entry.also(&format!("{}.side", section.path));
        entry.choice(&PHRASES)
    });
    let (kind, side) = is.unwrap_or((CaseKind::Unspecified, Side::Unspecified));
    let case = v1::LoadCase {
        name,
        kind: kind as i32,
        class: section
            .need("kind", "class", "\"normal\", \"abuse\" or \"restraint\"")
            .and_then(|entry: Entry<'_>| entry.choice(&classes))
            .unwrap_or(v1::CaseClass::Unspecified) as i32,
        side: side as i32,
        field: section.quantity("field", "field"),
        rate: section.quantity("rate", "rate"),
        brake_rate: section.quantity("brake_rate", "brake_rate"),
        factor: section.number("factor", "factor"),
        shock: section.number("shock", "shock"),
        grip: section.number("grip", "grip"),
        rear_share: section.number("rear_share", "rear_share"),
        roll: section.get("roll", "roll").and_then(|entry| roll(&entry)),
        at: section.get("at", "at").and_then(|entry| entry.read(|text| phrase::point(text, 3))),
        pure_couple: section
            .get("pure_couple", "pure_couple")
            .and_then(|entry| entry.yes())
            .unwrap_or_default(),
        wheel_speed_change_rad_per_s: measure(
            &section,
            "wheel_speed_change",
            "wheel_speed_change_rad_per_s",
            "rad/s",
        ),
        change_duration_s: measure(&section, "within", "change_duration_s", "s"),
        strap_slope_deg: measure(&section, "strap_slope", "strap_slope_deg", "deg"),
        strap_pretension_n: section
            .get("strap_pretension", "strap_pretension_n")
            .and_then(|entry| {
                entry.read(|text| written::parse::<Force>(text).map_err(|e| e.to_string()))
            })
            .map(|force| tidy(force.value.as_n())),
        of: section
            .get("of", "of")
            .and_then(|entry| entry.text().map(str::to_owned))
            .unwrap_or_default(),
    };
    section.finish();
    case
}

fn measure(section: &Section<'_>, key: &'static str, field: &str, unit: &str) -> Option<f64> {
    section.get(key, field)?.read(|text| phrase::measure(text, &[(unit, 1.0)]))
}

/// Roll stiffness of both axles: `roll = { unsprung_front = "90 kg", ... }`.
fn roll(entry: &Entry<'_>) -> Option<v1::RollStiffness> {
    let section = entry.section("roll".to_owned())?;
    let mass = |key, field| {
        let mass: Option<v1::Mass> = section.need_quantity(key, field, "\"90 kg\"");
        mass.map_or(0.0, |m| m.value_kg)
    };
    let length = |key, field| {
        let length: Option<v1::Length> = section.need_quantity(key, field, "\"300 mm\"");
        length.map_or(0.0, |l| l.value_mm)
    };
    let stiffness = |key, field| {
        let stiffness: Option<v1::TurningStiffness> =
            section.need_quantity(key, field, "\"30 kN m/rad\"");
        stiffness.map_or(0.0, |s| s.value_nmm_per_rad)
    };
    let roll = v1::RollStiffness {
        unsprung_front_kg: mass("unsprung_front", "unsprung_front_kg"),
        unsprung_rear_kg: mass("unsprung_rear", "unsprung_rear_kg"),
        unsprung_height_mm: length("unsprung_height", "unsprung_height_mm"),
        roll_centre_front_mm: length("centre_front", "roll_centre_front_mm"),
        roll_centre_rear_mm: length("centre_rear", "roll_centre_rear_mm"),
        front_nmm_per_rad: stiffness("front", "front_nmm_per_rad"),
        rear_nmm_per_rad: stiffness("rear", "rear_nmm_per_rad"),
    };
    section.finish();
    Some(roll)
}

/// What is chosen of the rules: edition, format, nation, strengths of steel.
pub(super) fn rules(section: &Section<'_>, rules: &mut v1::Rules) {
    let word = |key, into: &mut String| {
        if let Some(entry) = section.get(key, key) {
            *into = entry.text().unwrap_or_default().to_owned();
        }
    };
    word("edition", &mut rules.edition);
    word("format", &mut rules.format);
    word("national", &mut rules.national);
    word("strengths", &mut rules.strengths);
}

/// Factors on loads; every other key is a factor of the rules, `gamma_M2 = "1.25"`, that is not the
/// one recommended, with a reason behind a comma.
pub(super) fn factors(section: Section<'_>, rules: &mut v1::Rules) -> v1::Factors {
    let factors = v1::Factors {
        normal: section.need_number("normal", "normal", "\"1.5\""),
        abuse: section.need_number("abuse", "abuse", "\"1.5\""),
        restraint: section.number("restraint", "restraint"),
    };
    // `set = "EN 1993"` says in so many words that all others are those recommended.
    if let Some(entry) = section.get("set", "set")
        && let Some(set) = entry.text()
        && set != rules.pack
    {
        let advice = format!("factors on resistances come from the rules, \"{}\"", rules.pack);
        entry.fault(format!("`set` names \"{set}\", which are not the rules"), advice);
    }
    for (key, entry) in section.others() {
        let place = format!("rules.factors[{}]", rules.factors.len());
        section.context.place(&format!("{place}.symbol"), &key.span());
        section.context.place(&format!("{place}.value"), &entry.span);
        let read = entry.read(|text| {
            let (number, reason) = text.split_once(',').unwrap_or((text, ""));
            Ok((phrase::measure(number, &[("", 1.0)])?, reason.trim().to_owned()))
        });
        if let Some((value, reason)) = read {
            let symbol = key.get_ref().to_lowercase();
            rules.factors.push(v1::FactorChoice { symbol, value, reason });
        }
    }
    factors
}
