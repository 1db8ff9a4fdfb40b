//! Closed shells: which faces close a body together, and which side of them is outside.
//!
//! The wire promises flat faces, corners in order, and nothing about their sense.

use std::collections::{BTreeMap, BTreeSet};

use super::geometry::{Space, centre, dot, edges, minus, normal};

/// A corner that can be looked up.
pub(crate) type Key = [i64; 3];

/// Corners that belong together are written alike; a hundredth of a mm tells others apart.
pub(crate) fn key(p: Space) -> Key {
    // Lengths of cars fit.
    #[allow(clippy::cast_possible_truncation)]
    p.map(|c| (c * 100.0).round() as i64)
}

/// Cuts a list of faces into closed bodies that follow each other; what does not close at the end
/// of the list stays together.
pub(crate) fn pieces(faces: Vec<Vec<Space>>) -> Vec<Vec<Vec<Space>>> {
    let mut out = Vec::new();
    let mut piece = Vec::new();
    let mut open: BTreeSet<(Key, Key)> = BTreeSet::new();
    for face in faces {
        for (a, b) in edges(&face) {
            let edge = undirected(key(a), key(b));
            if !open.remove(&edge) {
                open.insert(edge);
            }
        }
        piece.push(face);
        if open.is_empty() {
            out.push(std::mem::take(&mut piece));
        }
    }
    if !piece.is_empty() {
        out.push(piece);
    }
    out
}

/// Turns the faces of a closed body so that their corners go round to the left seen from
/// outside. False where every edge is not shared by just two faces; then nothing is known.
pub(crate) fn turn_outward(faces: &mut [Vec<Space>]) -> bool {
    let mut sharing: BTreeMap<(Key, Key), Vec<(usize, bool)>> = BTreeMap::new();
    for (index, face) in faces.iter().enumerate() {
        for (a, b) in edges(face) {
            let (a, b) = (key(a), key(b));
            sharing.entry(undirected(a, b)).or_default().push((index, a < b));
        }
    }
    if faces.is_empty() || sharing.values().any(|s| s.len() != 2) {
        return false;
    }
    let mut beside: Vec<Vec<(usize, bool)>> = vec![Vec::new(); faces.len()];
    for pair in sharing.values() {
        // Two faces with one sense run along their common edge in opposite directions.
        let alike = pair[0].1 != pair[1].1;
        beside[pair[0].0].push((pair[1].0, alike));
        beside[pair[1].0].push((pair[0].0, alike));
    }
    let mut turned: Vec<Option<bool>> = vec![None; faces.len()];
    turned[0] = Some(false);
    let mut waiting = vec![0];
    while let Some(index) = waiting.pop() {
        let own = turned[index] == Some(true);
        for (other, alike) in &beside[index] {
            let wanted = if *alike { own } else { !own };
            match turned[*other] {
                None => {
                    turned[*other] = Some(wanted);
                    waiting.push(*other);
                }
                // A surface with one side only.
                Some(known) if known != wanted => return false,
                Some(_) => {}
            }
        }
    }
    if turned.iter().any(Option::is_none) {
        return false;
    }
    for (face, _) in faces.iter_mut().zip(&turned).filter(|(_, t)| **t == Some(true)) {
        face.reverse();
    }
    // Volume by cones to one of the corners; its sign tells which way the normals look.
    let inner = faces[0][0];
    let volume: f64 = faces.iter().map(|f| dot(normal(f), minus(centre(f), inner))).sum();
    if volume < 0.0 {
        faces.iter_mut().for_each(|f| f.reverse());
    }
    true
}

fn undirected(a: Key, b: Key) -> (Key, Key) {
    if a < b { (a, b) } else { (b, a) }
}

// Counts by hand: a block has six faces.
#[cfg(test)]
mod tests {
    use super::*;
    use crate::svg::solids::position;
    use crate::test_support::shapes::block;

    fn faces(low: [f64; 3], high: [f64; 3]) -> Vec<Vec<Space>> {
        let read = |f: &fishplate_proto::v1::Polygon| f.corners.iter().map(position).collect();
        block(low, high).iter().map(read).collect()
    }

    #[test]
    fn whatever_the_sense_of_its_faces_a_block_is_turned_outward() {
        for reversed in 0..6 {
            let mut all = faces([0.0; 3], [4.0, 5.0, 6.0]);
            all[reversed].reverse();
            assert!(turn_outward(&mut all));
            for face in &all {
                let out = minus(centre(face), [2.0, 2.5, 3.0]);
                assert!(dot(normal(face), out) > 0.0);
            }
        }
    }

    #[test]
    fn blocks_that_touch_are_two_bodies() {
        let mut all = faces([0.0; 3], [4.0, 5.0, 6.0]);
        all.extend(faces([0.0, 0.0, 6.0], [4.0, 5.0, 9.0]));
        let counts: Vec<usize> = pieces(all).iter().map(Vec::len).collect();
        assert_eq!(counts, [6, 6]);
    }

    #[test]
    fn what_does_not_close_is_not_turned() {
        let mut all = faces([0.0; 3], [4.0, 5.0, 6.0]);
        all.pop();
        assert!(!turn_outward(&mut all));
        assert_eq!(pieces(all).len(), 1);
        assert!(!turn_outward(&mut []));
    }
}
