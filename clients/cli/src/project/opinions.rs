//! `[second_opinion]`: joints on which hand statics is taken although the plate level is worse.

use fishplate_proto::v1;

use super::document::{Entry, Section};
use super::spelling::nearest;

/// What the reason stands behind.
const LEAD: &str = "hand statics:";
/// What has joints.
const KINDS: [&str; 3] = ["weld", "bolt", "part"];

pub(super) fn opinions(section: &Section<'_>) -> Vec<v1::OpinionChoice> {
    let mut read = Vec::new();
    for (key, entry) in section.others() {
        let key: &str = key.get_ref();
        // Without quotes round it, TOML makes a table of each part of a dotted name.
        if entry.is_table() && KINDS.contains(&key) {
            let Some(inner) = entry.section(format!("[second_opinion.{key}]")) else { continue };
            for (name, entry) in inner.others() {
                let name: &str = name.get_ref();
                one(&mut read, &format!("{key}.{name}"), &entry);
            }
        } else {
            one(&mut read, key, &entry);
        }
    }
    read
}

fn one(read: &mut Vec<v1::OpinionChoice>, joint: &str, entry: &Entry<'_>) {
    let kind = joint.split_once('.').map(|(kind, _)| kind);
    let Some(kind) = kind else {
        let advice =
            "name the joint as its section does: \"weld.front-foot\" = \"hand statics: ...\"";
        entry.fault(format!("`{joint}` is no joint"), advice);
        return;
    };
    if !KINDS.contains(&kind) {
        let near = match nearest(kind, KINDS.into_iter()) {
            Some(near) => format!("did you mean `{near}`? "),
            None => String::new(),
        };
        let advice =
            format!("{near}joints begin with: {}", KINDS.map(|k| format!("{k}.")).join(", "));
        entry.fault(format!("`{joint}` is no weld, bolt or part"), advice);
        return;
    }
    let Some(why) = entry.read(reason) else { return };
    let at = format!("opinions[{}]", read.len());
    for path in [at.clone(), format!("{at}.joint"), format!("{at}.why")] {
        entry.also(&path);
    }
    read.push(v1::OpinionChoice { joint: joint.to_owned(), why });
}

/// The reason in `hand statics: the rail is boxed on its far side`.
fn reason(text: &str) -> Result<String, String> {
    let form = "write \"hand statics: \" and the reason; it stands in the answer";
    let why = text
        .trim()
        .strip_prefix(LEAD)
        .ok_or_else(|| format!("does not begin with \"{LEAD}\"; {form}"))?
        .trim();
    if why.is_empty() {
        return Err(format!("gives no reason; {form}"));
    }
    Ok(why.to_owned())
}
