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

/// The text with left and right exchanged.
fn other_side(text: &str) -> String {
    let words = text.split("left").map(|piece| piece.replace("right", "left"));
    words.collect::<Vec<_>>().join("right")
}

fn mirrored(left: &MountAnswer, right: &MountAnswer) -> bool {
    let (Some(l), Some(r)) = (left.at, right.at) else { return false };
    near(l.x_mm, r.x_mm) && near(l.y_mm, -r.y_mm) && near(l.z_mm, r.z_mm)
}

fn rows<'a>(answer: &'a CheckProjectResponse, mount: &MountAnswer) -> Vec<&'a Row> {
    answer.rows.iter().filter(|row| row.mount_id == mount.id).collect()
}

/// Whether every row on the right has its own mirror image on the left. The left may have more:
/// what both sides share is told there once.
fn same_rows(left: &[&Row], right: &[&Row]) -> bool {
    let mut open: Vec<&Row> = left.to_vec();
    right.iter().all(|row| {
        let twin = open.iter().position(|other| same_row(other, row));
        twin.map(|at| open.remove(at)).is_some()
    })
}

fn same_row(left: &Row, right: &Row) -> bool {
    let same_use = match (left.utilisation, right.utilisation) {
        (Some(l), Some(r)) => alike(l, r),
        (None, None) => true,
        _ => false,
    };
    same_use
        && left.state == right.state
        && other_side(&left.component) == right.component
        && other_side(&left.what) == right.what
        && other_side(&left.not_checked_reason) == right.not_checked_reason
}

/// Equal but for the last digits: the two sides are computed on their own.
fn near(a: f64, b: f64) -> bool {
    (a.is_infinite() && b.is_infinite()) || (a - b).abs() <= 1e-6 * (1.0 + a.abs())
}

/// Equal to the reader: as plates the two sides have meshes that need not be mirror images.
fn alike(a: f64, b: f64) -> bool {
    near(a, b) || (a - b).abs() <= 5e-3 * a.abs()
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
    fn sides_are_exchanged() {
        assert_eq!(other_side("bolt.a left, C1 right"), "bolt.a right, C1 left");
        assert_eq!(other_side("rail web"), "rail web");
    }

    /// A crossmember between the sides is told on the left alone, its ends on both, in any order.
    #[test]
    fn what_the_sides_share_does_not_make_them_differ() {
        let mut shared = answer(0.5);
        let row = |mount: &str, component: &str| Row {
            mount_id: mount.to_owned(),
            component: component.to_owned(),
            state: State::Holds as i32,
            utilisation: Some(0.25),
            ..Row::default()
        };
        shared.rows.insert(0, row("FL", "part.cross"));
        shared.rows.insert(0, row("FL", "bolt.end right"));
        shared.rows.insert(0, row("FL", "bolt.end left"));
        shared.rows.push(row("FR", "bolt.end left"));
        shared.rows.push(row("FR", "bolt.end right"));
        assert_eq!(twins(&shared).len(), 1);
        shared.rows.push(row("FR", "bolt.end right"));
        assert!(twins(&shared).is_empty());
    }

    #[test]
    fn like_rows_are_twins_and_others_are_not() {
        assert_eq!(twins(&answer(0.5 + 1e-9)).get("FR").map(String::as_str), Some("FL"));
        assert!(twins(&answer(0.51)).is_empty());
    }
}
