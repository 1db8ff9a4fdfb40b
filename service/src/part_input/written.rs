//! `part_input.proto`, written from the inputs of the clauses.
//!
//! With `FISHPLATE_WRITE_PROTO=1` the test writes the file, else it fails where the file is out of
//! date. Numbers of fields and values that the file has are kept; new ones are added behind them.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::Path;

use fishplate_proto::FILE_DESCRIPTOR_SET;
use fishplate_quantity::Dimension;
use fishplate_strength::clause::input::{ChoiceKind, Family, Field, Range};
use fishplate_strength::part::{PARTS, PartKind};
use prost_reflect::DescriptorPool;

use super::{field_name, unit, value_name};

const FILE: &str = "fishplate/v1/part_input.proto";

/// Width of a line of the contract.
const WIDTH: usize = 100;

const HEAD: &str = "\
// Written from the inputs of the clauses:
// FISHPLATE_WRITE_PROTO=1 cargo test -p fishplate-service part_input

syntax = \"proto3\";

package fishplate.v1;

import \"fishplate/v1/named.proto\";
import \"fishplate/v1/rules.proto\";
";

/// The requests: family, message, what it asks.
const REQUESTS: [(Family, &str, &str); 5] = [
    (Family::Bolt, "CheckBoltRequest", "A bolt, or what bolts hold, to check."),
    (Family::Weld, "CheckWeldRequest", "A weld to check."),
    (Family::Member, "CheckMemberRequest", "A member, or a part of its section, to check."),
    (Family::Plate, "CheckPlateRequest", "A plate, or a wall of a rail, to check."),
    (Family::Fatigue, "CheckFatigueRequest", "Something under repeated load to check."),
];

/// The message of a part: `BoltGroupInput` for `bolt_group`.
fn message_name(part: &str) -> String {
    let capital = |word: &str| {
        let (first, rest) = word.split_at(1);
        first.to_uppercase() + rest
    };
    part.split('_').map(capital).collect::<String>() + "Input"
}

/// The numbers of the fields or values of one message or enum.
struct Numbers {
    known: BTreeMap<String, i32>,
    next: i32,
}

impl Numbers {
    fn of(pool: &DescriptorPool, name: &str, first: i32) -> Self {
        let full = format!("fishplate.v1.{name}");
        let signed = |number: u32| i32::try_from(number).unwrap();
        let mut known = BTreeMap::new();
        if let Some(message) = pool.get_message_by_name(&full) {
            known.extend(message.fields().map(|f| (f.name().to_owned(), signed(f.number()))));
        }
        if let Some(values) = pool.get_enum_by_name(&full) {
            known.extend(values.values().map(|v| (v.name().to_owned(), v.number())));
        }
        let next = known.values().map(|number| number + 1).chain([first]).max().unwrap();
        Self { known, next }
    }

    fn take(&mut self, name: &str) -> i32 {
        if let Some(number) = self.known.get(name) {
            return *number;
        }
        self.next += 1;
        self.next - 1
    }
}

struct File {
    pool: DescriptorPool,
    text: String,
    names: BTreeSet<String>,
}

impl File {
    fn comment(&mut self, indent: &str, text: &str) {
        let mut line = String::new();
        for word in text.split_whitespace() {
            let full = indent.chars().count() + 3 + line.chars().count() + 1 + word.chars().count();
            if !line.is_empty() && full > WIDTH {
                writeln!(self.text, "{indent}// {line}").unwrap();
                line.clear();
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        if !line.is_empty() {
            writeln!(self.text, "{indent}// {line}").unwrap();
        }
    }

    /// Opens a message or enum; whether it is not in the file yet.
    fn opens(&mut self, kind: &str, name: &str, what: &str) -> bool {
        if !self.names.insert(name.to_owned()) {
            return false;
        }
        let by_hand = self.pool.files().filter(|file| file.name() != FILE).any(|file| {
            let messages = file.messages().any(|message| message.name() == name);
            messages || file.enums().any(|one| one.name() == name)
        });
        assert!(!by_hand, "{name} is in the contract already: find another name");
        self.text.push('\n');
        for (at, paragraph) in what.trim().split("\n\n").enumerate() {
            if at > 0 {
                self.text.push_str("//\n");
            }
            self.comment("", paragraph);
        }
        writeln!(self.text, "{kind} {name} {{").unwrap();
        true
    }

    fn number(&mut self, numbers: &mut Numbers, field: &Field) {
        let unit = unit(field.dimension).name;
        let range = match field.range {
            Range::Positive => "above 0",
            Range::FromZero => "0 or more",
            Range::Any => "",
        };
        let said: Vec<_> = [unit, range].into_iter().filter(|text| !text.is_empty()).collect();
        let said = if said.is_empty() { String::new() } else { format!("; {}", said.join(", ")) };
        let left_out = if field.optional {
            "May be left out."
        } else if field.zero_if_left_out() {
            "0 where left out."
        } else {
            "Required."
        };
        self.comment("  ", &format!("{}{said}. {left_out}", sentence(field.what)));
        let name = field_name(field);
        writeln!(self.text, "  optional double {name} = {};", numbers.take(&name)).unwrap();
    }

    fn request(&mut self, family: Family, name: &str, what: &str) {
        let parts: Vec<_> = PARTS.iter().filter(|part| part.family == family).collect();
        if parts.is_empty() || !self.opens("message", name, what) {
            return;
        }
        let mut numbers = Numbers::of(&self.pool, name, 3);
        self.text.push_str(
            "  // The rules to check by. Required.\n  Rules rules = 1;\n  \
             // Names that give several numbers at once.\n  Named named = 2;\n  \
             // What is checked. Required.\n  oneof part {\n",
        );
        for part in parts {
            let first = part.what.trim().split("\n\n").next().unwrap_or_default();
            self.comment("    ", first);
            let number = numbers.take(part.name);
            writeln!(self.text, "    {} {} = {number};", message_name(part.name), part.name)
                .unwrap();
        }
        self.text.push_str("  }\n}\n");
    }

    fn part(&mut self, part: &PartKind) {
        let name = message_name(part.name);
        assert!(self.opens("message", &name, part.what), "{name} twice");
        let mut numbers = Numbers::of(&self.pool, &name, 1);
        for field in part.fields {
            self.number(&mut numbers, field);
        }
        for choice in (part.choices)() {
            let text = match &choice.kind {
                ChoiceKind::Row(of) => format!("{} {}. Required.", choice.what.trim(), of),
                ChoiceKind::OneOf { optional: true, .. } => {
                    format!("{} May be left out.", choice.what.trim())
                }
                _ => format!("{} Required.", choice.what.trim()),
            };
            self.comment("  ", &text);
            let number = numbers.take(choice.symbol);
            let kind = match &choice.kind {
                ChoiceKind::OneOf { name, .. } => format!("{name}Choice"),
                ChoiceKind::Row(_) => "string".to_owned(),
                ChoiceKind::Records { name, .. } => format!("repeated {name}Record"),
            };
            writeln!(self.text, "  {kind} {} = {number};", choice.symbol).unwrap();
        }
        self.text.push_str("}\n");
    }

    fn choices(&mut self, part: &PartKind) {
        for choice in (part.choices)() {
            match &choice.kind {
                ChoiceKind::OneOf { name, what, words, .. } => {
                    let name = format!("{name}Choice");
                    if !self.opens("enum", &name, what) {
                        continue;
                    }
                    let mut numbers = Numbers::of(&self.pool, &name, 1);
                    let unsaid = value_name(&name, "unspecified");
                    writeln!(self.text, "  // Not said.\n  {unsaid} = 0;").unwrap();
                    for (word, what) in *words {
                        let plain = word.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
                        assert!(plain, "{word} is no word for the wire");
                        self.comment("  ", what);
                        let value = value_name(&name, word);
                        writeln!(self.text, "  {value} = {};", numbers.take(&value)).unwrap();
                    }
                    self.text.push_str("}\n");
                }
                ChoiceKind::Records { name, what, columns } => {
                    let name = format!("{name}Record");
                    if !self.opens("message", &name, what) {
                        continue;
                    }
                    let mut numbers = Numbers::of(&self.pool, &name, 1);
                    for column in *columns {
                        self.number(&mut numbers, column);
                    }
                    self.text.push_str("}\n");
                }
                ChoiceKind::Row(_) => {}
            }
        }
    }
}

fn sentence(what: &str) -> String {
    let mut letters = what.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

fn wanted() -> String {
    let pool = DescriptorPool::decode(FILE_DESCRIPTOR_SET).unwrap();
    let mut file = File { pool, text: HEAD.to_owned(), names: BTreeSet::new() };
    for (family, name, what) in REQUESTS {
        file.request(family, name, what);
    }
    for part in PARTS {
        file.part(part);
    }
    for part in PARTS {
        file.choices(part);
    }
    file.text
}

#[test]
fn the_contract_has_every_input() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../proto").join(FILE);
    let found = fs::read_to_string(&path).unwrap();
    let wanted = wanted();
    if std::env::var_os("FISHPLATE_WRITE_PROTO").is_some() {
        fs::write(&path, wanted).unwrap();
    } else {
        assert!(found == wanted, "{FILE} is out of date; renew it with FISHPLATE_WRITE_PROTO=1");
    }
}

/// A client tells the unit of a number by the end of its name alone.
#[test]
fn no_symbol_ends_like_a_unit() {
    let endings = ["_mm", "_mm2", "_mm3", "_mm4", "_mm6", "_n", "_nmm", "_nmm2", "_mpa", "_deg"];
    let endings = endings.into_iter().chain(["_per_mm", "_km", "_kg", "_per_s2"]);
    for part in PARTS {
        // The unit of any other number stands behind its symbol.
        for field in part.fields.iter().filter(|field| field.dimension == Dimension::Ratio) {
            let found = endings.clone().find(|ending| field.symbol.ends_with(ending));
            assert_eq!(found, None, "{}: {}", part.name, field.symbol);
        }
    }
}
