//! The first line of every answer: the verdict in capitals, and what it is about.

use fishplate_proto::v1::Verdict;

use super::page::{EXCEEDS, HOLDS, NOT_CHECKED, Page, paint};

/// The verdict and the title.
pub(super) fn verdict(page: &mut Page, verdict: Verdict, title: &str) {
    let (word, style) = match verdict {
        Verdict::Holds => ("HOLDS", HOLDS),
        Verdict::DoesNotHold => ("DOES NOT HOLD", EXCEEDS),
        Verdict::Provisional => ("PROVISIONAL", NOT_CHECKED.bold()),
        Verdict::Unspecified => ("NO VERDICT", NOT_CHECKED.bold()),
    };
    page.blank();
    let title = page.look().text(title);
    page.line(&format!("{}   {title}", paint(style, word)));
}
