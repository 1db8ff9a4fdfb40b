//! The form of a table of bad requests, and what each refusal has to say.

use fishplate_tests::refusal::Refusal;
use tonic::{Code, Status};

/// One bad request: what is done to a good one, the field at fault, words of what is told.
pub(crate) struct Bad<R> {
    /// What is wrong, in words.
    pub(crate) what: &'static str,
    /// Spoils a good request.
    pub(crate) spoil: fn(&mut R),
    /// Exact path of the field.
    pub(crate) field: &'static str,
    /// Words that must be in what is told about it.
    pub(crate) words: &'static [&'static str],
}

/// Spoils a good request in every way of the table and reads each refusal.
pub(crate) fn assert_refused<R: Clone>(
    good: &R,
    table: &[Bad<R>],
    call: impl Fn(&R) -> Result<(), Status>,
) {
    let mut wrong = Vec::new();
    for bad in table {
        let mut request = good.clone();
        (bad.spoil)(&mut request);
        if let Err(why) = judged(bad, call(&request)) {
            wrong.push(format!("{}: {why}", bad.what));
        }
    }
    let count = wrong.len();
    assert!(wrong.is_empty(), "{count} of {} refusals:\n{}", table.len(), wrong.join("\n"));
}

fn judged<R>(bad: &Bad<R>, answer: Result<(), Status>) -> Result<(), String> {
    let Err(status) = answer else { return Err("was taken".to_owned()) };
    let refusal = Refusal::of(&status);
    if refusal.code != Code::InvalidArgument {
        return Err(format!("{:?}: {}", refusal.code, refusal.message));
    }
    let told = refusal.fields.iter().find(|(field, _)| field == bad.field);
    let Some((_, told)) = told else {
        return Err(format!("not told at `{}` but at {:?}", bad.field, refusal.fields));
    };
    if !told.starts_with("given ") || !told.contains("; allowed: ") {
        return Err(format!("does not say what was given and what is allowed: {told}"));
    }
    for word in bad.words {
        if !told.contains(word) {
            return Err(format!("does not say `{word}`: {told}"));
        }
    }
    if !["INVALID_INPUT", "LIMIT_EXCEEDED"].contains(&refusal.reason.as_str()) {
        return Err(format!("reason `{}`", refusal.reason));
    }
    let place = ["/", ".rs", "panicked", "unwrap"];
    if place.iter().any(|inner| status.message().contains(inner) && !told.contains(inner)) {
        return Err(format!("tells of the inside: {}", status.message()));
    }
    Ok(())
}
