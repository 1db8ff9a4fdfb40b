//! The written table of all cases.

use std::collections::BTreeSet;
use std::path::Path;

use fishplate_tests::sheet::{Line, fixed_cells, table};

use crate::{frames, frames_mixed, joints, loads, modes, prying, sections};

fn all() -> Vec<Line> {
    let mut lines = [
        frames::lines(),
        modes::lines(),
        frames_mixed::lines(),
        sections::lines(),
        joints::lines(),
        prying::lines(),
        loads::lines(),
    ]
    .concat();
    lines.sort_by(|a, b| a.case.id.cmp(&b.case.id));
    lines
}

#[test]
fn the_written_table_is_true() {
    let lines = all();
    let text = table(&lines);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("VERIFICATION.md");
    if std::env::var_os("FISHPLATE_WRITE_TABLE").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    let off: Vec<&Line> = lines.iter().filter(|line| !line.holds()).collect();
    assert!(off.is_empty(), "out of tolerance: {off:#?}");
    let written = std::fs::read_to_string(&path).unwrap();
    let rows = |text: &str| text.lines().filter_map(fixed_cells).collect::<Vec<_>>();
    assert_eq!(
        rows(&written),
        rows(&text),
        "tests/VERIFICATION.md is out of date: run with FISHPLATE_WRITE_TABLE=1 and read the change"
    );
}

#[test]
fn every_case_of_the_data_is_computed() {
    let computed: BTreeSet<String> = all().into_iter().map(|line| line.case.id).collect();
    for data in [frames::DATA, sections::DATA, joints::DATA, loads::VAN, loads::ESTATE, loads::HAND]
    {
        let file: serde_json::Value = serde_json::from_str(data).unwrap();
        for case in file["cases"].as_array().unwrap() {
            let id = case["id"].as_str().unwrap();
            assert!(computed.contains(id), "{id} is in the data, but no test computes it");
        }
    }
}
