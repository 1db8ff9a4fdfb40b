//! Names of the project file as words: `bolt.front-bush left` is the "front bush bolt, left".

use fishplate_proto::v1;

/// A component in words.
pub(crate) fn component(name: &str) -> String {
    let (path, side) = match name.split_once(" + ") {
        Some((one, others)) => return format!("{} and {}", component(one), component(others)),
        None => side(name),
    };
    let path = path.as_str();
    let mut pieces = path.splitn(2, '.');
    let first = pieces.next().unwrap_or_default();
    let words = match (first, pieces.next()) {
        ("bolt" | "weld", Some(rest)) => format!("{} {first}", spaced(rest)),
        ("part", Some(rest)) => spaced(rest),
        (_, Some(rest)) => format!("{first} {}", spaced(rest)),
        (_, None) => spaced(first),
    };
    match side {
        Some(side) => format!("{words}, {side}"),
        None => words,
    }
}

/// A component in words without its side: for drawings of one side.
pub(crate) fn without_side(name: &str) -> String {
    let pieces = name.split(" + ").map(|one| component(&side(one).0));
    pieces.collect::<Vec<_>>().join(" and ")
}

/// Whether a component of a row is the thing of that name, or one of its walls: the row of
/// `rail.frame left.web` is about `rail.frame left`.
#[must_use]
pub fn is_of(component: &str, thing: &str) -> bool {
    // A row may be about several things together.
    component.split(" + ").any(|one| {
        one.strip_prefix(thing).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    })
}

/// `what` without a beginning that only repeats the component: `bush bolt, M14: shear` of
/// `bolt.front-bush left` is "M14: shear".
pub(crate) fn without_echo<'a>(component: &str, what: &'a str) -> &'a str {
    let words = |text: &str| -> Vec<String> {
        let pieces = text.split([' ', '.', '-']).filter(|w| !matches!(*w, "" | "of" | "the"));
        pieces.map(|w| w.trim_end_matches('s').to_lowercase()).collect()
    };
    let known = words(component);
    let Some((head, rest)) = what.split_once(": ") else {
        return what;
    };
    let named = head.split(", ").next().unwrap_or(head);
    if words(named).iter().any(|word| !known.contains(word)) {
        return what;
    }
    match head.len() == named.len() {
        true => rest,
        false => &what[named.len() + 2..],
    }
}

/// `text` with the marks of code that a terminal wants as quotation marks.
pub(crate) fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut open = false;
    for c in text.chars() {
        match c {
            '`' => {
                out.push(if open { '\u{201D}' } else { '\u{201C}' });
                open = !open;
            }
            c => out.push(c),
        }
    }
    out
}

/// A path of the wire as the file says it: `bolts[2].at` is `bolt.rear-bush.at`.
#[must_use]
pub fn in_the_file(project: Option<&v1::Project>, path: &str) -> String {
    let named = || {
        let (list, rest) = path.split_once('[')?;
        let (index, field) = rest.split_once(']')?;
        let index: usize = index.parse().ok()?;
        let project = project?;
        let (table, name) = match list {
            "bushes" => ("bush", &project.bushes.get(index)?.name),
            "mounts" => ("mount", &project.mounts.get(index)?.name),
            "steels" => ("steel", &project.steels.get(index)?.name),
            "rails" => ("rail", &project.rails.get(index)?.name),
            "parts" => ("part", &project.parts.get(index)?.name),
            "welds" => ("weld", &project.welds.get(index)?.name),
            "bolts" => ("bolt", &project.bolts.get(index)?.name),
            "cases" => ("case", &project.cases.get(index)?.name),
            _ => return None,
        };
        Some(format!("{table}.{name}{field}"))
    };
    // A factor is named by its symbol: "rules, gamma_m2: as agreed".
    let own = || path.strip_prefix("rules, ").map(|f| format!("own factor of the project, {f}"));
    named().or_else(own).unwrap_or_else(|| path.to_owned())
}

/// `text` with left and right changed about.
pub(crate) fn other_side(text: &str) -> String {
    let pieces = text.split_inclusive(|c: char| !c.is_alphanumeric()).map(|piece| {
        let word = piece.trim_end_matches(|c: char| !c.is_alphanumeric());
        let rest = &piece[word.len()..];
        match word {
            "left" => format!("right{rest}"),
            "right" => format!("left{rest}"),
            _ => piece.to_owned(),
        }
    });
    pieces.collect()
}

/// `text` with a capital at its start, unless it starts with a name of the file.
pub(crate) fn capital(text: &str) -> String {
    let first_word = text.split([' ', ',']).next().unwrap_or_default();
    if first_word.trim_end_matches('.').contains('.') {
        return text.to_owned();
    }
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

/// `text` as an identifier of the page: letters, digits and `-`, anything else by its number.
pub(crate) fn identifier(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if c.is_ascii_alphanumeric() || c == '-' {
            out.push(c);
        } else {
            out.push_str(&format!("_{:x}", u32::from(c)));
        }
    }
    out
}

/// `text` as the inside of a quoted text of a style sheet.
pub(crate) fn css_text(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        if c.is_alphanumeric() || c == ' ' || c == ',' {
            out.push(c);
        } else {
            out.push_str(&format!("\\{:x} ", u32::from(c)));
        }
    }
    out
}

/// `text` broken into lines of about `width` characters, between words.
pub(crate) fn lines(text: &str, width: usize) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match out.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => out.push(word.to_owned()),
        }
    }
    out
}

/// The name and its side, where it has one; a wall stands after the side.
fn side(name: &str) -> (String, Option<&'static str>) {
    for side in ["left", "right"] {
        let Some((path, wall)) = name.rsplit_once(&format!(" {side}")) else {
            continue;
        };
        if wall.is_empty() || wall.starts_with('.') {
            return (format!("{path}{wall}"), Some(side));
        }
    }
    (name.to_owned(), None)
}

fn spaced(text: &str) -> String {
    text.replace(['-', '.'], " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_of_the_file_reads_as_words() {
        assert_eq!(component("bolt.front-bush left"), "front bush bolt, left");
        assert_eq!(component("part.front-bracket right"), "front bracket, right");
        assert_eq!(component("rail.frame left"), "rail frame, left");
        assert_eq!(component("part.cross"), "cross");
        assert_eq!(without_side("weld.front-foot left"), "front foot weld");
        assert_eq!(component(""), "");
    }

    #[test]
    fn a_wall_belongs_to_its_part_and_not_to_one_with_a_longer_name() {
        assert_eq!(component("rail.frame left.web"), "rail frame web, left");
        assert_eq!(component("part.front-bracket right.floor"), "front bracket floor, right");
        assert!(is_of("rail.frame left.web", "rail.frame left"));
        assert!(is_of("part.cross.leg", "part.cross"));
        assert!(is_of("weld.a left + weld.b left", "weld.b left"));
        assert_eq!(component("weld.a left + weld.b left"), "a weld, left and b weld, left");
        assert!(!is_of("part.cross-end left", "part.cross"));
        assert!(!is_of("rail.frame right.web", "rail.frame left"));
    }

    #[test]
    fn a_name_is_not_said_twice() {
        let bolt = "bolt.front-bush left";
        assert_eq!(without_echo(bolt, "bush bolt: opening"), "opening");
        assert_eq!(without_echo(bolt, "bush bolt, M14 10.9: shear"), "M14 10.9: shear");
        assert_eq!(without_echo("bolt.cross-end left", "end bolts: shear"), "shear");
        assert_eq!(
            without_echo("rail.frame left.web", "web of rail.frame, 2.20 mm: bending"),
            "2.20 mm: bending"
        );
        let rail = "rail as a beam: bending";
        assert_eq!(without_echo("rail.frame left", rail), rail);
        assert_eq!(without_echo("weld.a", "throat stress"), "throat stress");
    }

    #[test]
    fn a_path_is_told_by_the_name_of_the_thing() {
        let bolt = |name: &str| v1::Bolt { name: name.to_owned(), ..v1::Bolt::default() };
        let bolts = vec![bolt("a"), bolt("rear-bush")];
        let project = v1::Project { bolts, ..v1::Project::default() };
        assert_eq!(in_the_file(Some(&project), "bolts[1].at"), "bolt.rear-bush.at");
        assert_eq!(in_the_file(Some(&project), "bolts[7].at"), "bolts[7].at");
        assert_eq!(in_the_file(None, "car.mass"), "car.mass");
        let own = "own factor of the project, gamma_m2: as agreed";
        assert_eq!(in_the_file(None, "rules, gamma_m2: as agreed"), own);
    }

    #[test]
    fn marks_of_code_become_quotation_marks() {
        assert_eq!(quoted("as `held` only"), "as \u{201C}held\u{201D} only");
        assert_eq!(other_side("bolt left in right, web"), "bolt right in left, web");
        assert_eq!(capital("the rail"), "The rail");
        assert_eq!(capital("bolt.rear-bush left slips"), "bolt.rear-bush left slips");
    }

    #[test]
    fn nothing_leaves_an_identifier_or_a_style_text() {
        assert_eq!(identifier("FL-2"), "FL-2");
        assert_eq!(identifier("a\"b"), "a_22b");
        assert_eq!(css_text("A\"; }</style>"), "A\\22 \\3b  \\7d \\3c \\2f style\\3e ");
    }

    #[test]
    fn lines_break_between_words() {
        assert_eq!(lines("front bush bolt", 11), ["front bush", "bolt"]);
        assert!(lines("", 5).is_empty());
    }
}
