//! Names of the project file as words: `bolt.front-bush left` is the "front bush bolt, left".

/// A component in words.
pub(crate) fn component(name: &str) -> String {
    let (path, side) = side(name);
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
    component(side(name).0)
}

/// `text` with a capital at its start.
pub(crate) fn capital(text: &str) -> String {
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

/// The name and its side, where it ends with one.
fn side(name: &str) -> (&str, Option<&str>) {
    match name.rsplit_once(' ') {
        Some((path, side @ ("left" | "right"))) => (path, Some(side)),
        _ => (name, None),
    }
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
