//! A small reader of markup: every element closes, in order, and attributes are quoted.

/// Elements of HTML that have no end.
const VOID: [&str; 4] = ["meta", "br", "!doctype", "link"];

/// Panics at the first element that does not close or is closed twice.
pub(crate) fn assert_closed(page: &str) {
    let mut open: Vec<String> = Vec::new();
    let mut rest = page;
    while let Some(start) = rest.find('<') {
        let tag_and_more = &rest[start + 1..];
        let end = tag_end(tag_and_more);
        let tag = &tag_and_more[..end];
        rest = &tag_and_more[end + 1..];
        let name: String = tag
            .trim_start_matches('/')
            .chars()
            .take_while(|c| !c.is_whitespace() && *c != '/')
            .collect::<String>()
            .to_lowercase();
        if tag.starts_with('/') {
            let last = open.pop();
            assert_eq!(last.as_deref(), Some(name.as_str()), "closed in the wrong order: <{tag}>");
        } else if !tag.ends_with('/') && !VOID.contains(&name.as_str()) {
            // Script and style are text up to their own end.
            if name == "script" || name == "style" {
                let close = format!("</{name}>");
                let at = rest.find(&close).unwrap_or_else(|| panic!("<{name}> does not close"));
                rest = &rest[at + close.len()..];
            } else {
                open.push(name);
            }
        }
    }
    assert!(open.is_empty(), "left open: {open:?}");
}

/// Where the tag ends: at the first `>` that is not inside a quoted value.
fn tag_end(text: &str) -> usize {
    let mut quote = None;
    for (at, c) in text.char_indices() {
        match (quote, c) {
            (None, '>') => return at,
            (None, '<') => panic!("a tag inside a tag: {}", &text[..at]),
            (None, '"' | '\'') => quote = Some(c),
            (Some(q), c) if q == c => quote = None,
            _ => {}
        }
    }
    panic!("a tag does not end");
}

#[cfg(test)]
mod tests {
    use super::assert_closed;

    #[test]
    fn sound_markup_passes() {
        assert_closed("<!doctype html><p title=\"a>b\">x<br><svg><path d=\"\"/></svg></p>");
    }

    #[test]
    #[should_panic(expected = "left open")]
    fn an_open_element_is_found() {
        assert_closed("<div><p></p>");
    }

    #[test]
    #[should_panic(expected = "wrong order")]
    fn crossed_elements_are_found() {
        assert_closed("<b><i></b></i>");
    }
}
