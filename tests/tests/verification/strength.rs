//! Single joints, welds, members and plates: S01 to S61. What is asked stands in the data beside
//! what has to come out; groups of bolts and beads are solved, and their forces handed on.

use fishplate_tests::asks;
use fishplate_tests::sheet::{Line, assert_close};

pub(crate) const DATA: &str = include_str!("../../data/strength.json");

pub(crate) fn lines() -> Vec<Line> {
    let (mut lines, mut missing) = (Vec::new(), Vec::new());
    for id in asks::ids(DATA) {
        match asks::lines(DATA, &id) {
            Ok(more) => lines.extend(more),
            Err(why) => missing.extend(why),
        }
    }
    assert!(missing.is_empty(), "not answered:\n{}", missing.join("\n"));
    lines
}

#[test]
fn parts_on_their_own_come_out_as_worked() {
    assert_close(&lines());
}
