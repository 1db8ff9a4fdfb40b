//! The page where there is no answer.

use askama::Template;

use crate::page::{LEAST_CAUTION, STYLE};
use crate::state::State;
use crate::svg::marks::badge;

/// One self-contained HTML page that says why there is no answer.
///
/// `title` heads it ("Cannot read van-a.toml", "No answer", "Nothing to check"). Each fault is
/// where it is (a field path, a line; may be empty) and what is wrong, which may have lines.
///
/// ```
/// let fault = ("line 41, column 13".to_owned(), "A length needs its unit.".to_owned());
/// let page = fishplate_report::fault_page("Cannot read van.toml", &[fault]);
/// assert!(page.contains("1 fault. Nothing was checked."));
/// ```
#[must_use]
pub fn fault_page(title: &str, faults: &[(String, String)]) -> String {
    let count = match faults.len() {
        1 => "1 fault. Nothing was checked.".to_owned(),
        0 => "Nothing was checked.".to_owned(),
        n => format!("{n} faults. Nothing was checked."),
    };
    let page = FaultPage {
        title,
        style: STYLE,
        mark: badge(State::NotChecked),
        count,
        faults,
        caution: LEAST_CAUTION,
    };
    // Writing to a text cannot fail; should it ever, the reader still learns that nothing was checked.
    page.render().unwrap_or_else(|_| {
        "<!doctype html><title>No answer</title>Nothing was checked.".to_owned()
    })
}

#[derive(Template)]
#[template(path = "fault.html")]
struct FaultPage<'a> {
    title: &'a str,
    style: &'static str,
    mark: String,
    count: String,
    faults: &'a [(String, String)],
    caution: &'static str,
}
