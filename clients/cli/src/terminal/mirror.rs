//! Which mounts are the mirror image of another, so that they need not be shown twice.

use std::collections::BTreeMap;

use fishplate_proto::v1::{CheckProjectResponse, MountAnswer, Row};

/// Right-hand mounts whose rows repeat those of a left-hand mount, by name, with that mount.
///
/// A twin stands at the same x and z and the opposite y, is named alike, and has the same checks
/// with the same states and utilisations. The governing cases may differ: the mirror image of a
/// case hits the other side.
pub(crate) fn twins(answer: &CheckProjectResponse) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for right in answer.mounts.iter().filter(|m| y(m) < 0.0) {
        let left = answer.mounts.iter().find(|left| {
            y(left) > 0.0 && other_side(&left.name) == right.name && mirrored(left, right)
        });
        if let Some(left) = left
            && same_rows(&rows(answer, left), &rows(answer, right))
        {
            found.insert(right.id.clone(), left.id.clone());
        }
    }
    found
}

fn y(mount: &MountAnswer) -> f64 {
    mount.at.map_or(0.0, |at| at.y_mm)
}

fn other_side(name: &str) -> String {
    name.replace("left", "right")
}

fn mirrored(left: &MountAnswer, right: &MountAnswer) -> bool {
    let (Some(l), Some(r)) = (left.at, right.at) else { return false };
    near(l.x_mm, r.x_mm) && near(l.y_mm, -r.y_mm) && near(l.z_mm, r.z_mm)
}

fn rows<'a>(answer: &'a CheckProjectResponse, mount: &MountAnswer) -> Vec<&'a Row> {
    answer.rows.iter().filter(|row| row.mount_id == mount.id).collect()
}

fn same_rows(left: &[&Row], right: &[&Row]) -> bool {
    left.len() == right.len()
        && left.iter().zip(right).all(|(l, r)| {
            let same_use = match (l.utilisation, r.utilisation) {
                (Some(l), Some(r)) => near(l, r),
                (None, None) => true,
                _ => false,
            };
            same_use
                && l.state == r.state
                && other_side(&l.what) == other_side(&r.what)
                && other_side(&l.component) == other_side(&r.component)
                && l.not_checked_reason == r.not_checked_reason
        })
}

/// Equal but for the last digits: the two sides are computed on their own.
fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-6 * (1.0 + a.abs())
}

#[cfg(test)]
mod tests {
    use fishplate_proto::v1::{Position, State};

    use super::*;

    fn answer(right_use: f64) -> CheckProjectResponse {
        let mount = |id: &str, name: &str, y_mm| MountAnswer {
            id: id.to_owned(),
            name: name.to_owned(),
            at: Some(Position { x_mm: 330.0, y_mm, z_mm: 420.0 }),
            ..MountAnswer::default()
        };
        let row = |mount: &str, component: &str, utilisation| Row {
            mount_id: mount.to_owned(),
            component: component.to_owned(),
            what: "faces slip".to_owned(),
            state: State::Holds as i32,
            utilisation: Some(utilisation),
            ..Row::default()
        };
        CheckProjectResponse {
            mounts: vec![mount("FL", "front left", 480.0), mount("FR", "front right", -480.0)],
            rows: vec![row("FL", "bolt.front left", 0.5), row("FR", "bolt.front right", right_use)],
            ..CheckProjectResponse::default()
        }
    }

    #[test]
    fn like_rows_are_twins_and_others_are_not() {
        assert_eq!(twins(&answer(0.5 + 1e-9)).get("FR").map(String::as_str), Some("FL"));
        assert!(twins(&answer(0.51)).is_empty());
    }
}
