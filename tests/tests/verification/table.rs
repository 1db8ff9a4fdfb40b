//! The written table of all cases.

use std::collections::BTreeSet;
use std::path::Path;

use fishplate_tests::sheet::{Line, fixed, table};

use crate::{
    cargo, demo, estate, frames, frames_mixed, joints, loads, modes, plates, prying, sections,
    shells, strength,
};

fn all() -> Vec<(&'static str, Vec<Line>)> {
    vec![
        ("Frames", frames::lines()),
        ("Buckling and natural frequencies", modes::lines()),
        ("Heat, forced movements, offsets, a curve", frames_mixed::lines()),
        ("Plates in bending", plates::lines()),
        ("Membranes and shells", shells::lines()),
        ("Sections", sections::lines()),
        ("Joints", joints::lines()),
        ("Prying", prying::lines()),
        ("Single parts", strength::lines()),
        ("Load cases", loads::lines()),
        ("Cargo on its feet", cargo::lines()),
        ("Demo, design A", demo::lines_a()),
        ("Demo, design B", demo::lines_b()),
        ("Demo, estate", estate::lines()),
    ]
}

#[test]
fn the_written_table_is_true() {
    let families = all();
    let text = table(&families);
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("VERIFICATION.md");
    if std::env::var_os("FISHPLATE_WRITE_TABLE").is_some() {
        std::fs::write(&path, &text).unwrap();
    }
    let lines = families.iter().flat_map(|(_, lines)| lines);
    let off: Vec<&Line> = lines.filter(|line| !line.holds()).collect();
    assert!(off.is_empty(), "out of tolerance: {off:#?}");
    let written = std::fs::read_to_string(&path).unwrap();
    let differs = fixed(&written).into_iter().zip(fixed(&text)).find(|(a, b)| a != b);
    assert!(
        differs.is_none() && written.lines().count() == text.lines().count(),
        "tests/VERIFICATION.md is out of date: run with FISHPLATE_WRITE_TABLE=1 and read the \
         change, of which this is the first: {differs:?}"
    );
}

#[test]
fn every_case_of_the_data_is_computed() {
    let computed: BTreeSet<String> =
        all().into_iter().flat_map(|(_, lines)| lines).map(|line| line.case.id).collect();
    let files = [
        frames::DATA,
        plates::DATA,
        shells::DATA,
        sections::DATA,
        joints::DATA,
        strength::DATA,
        loads::VAN,
        loads::ESTATE,
        loads::HAND,
        cargo::DATA,
        demo::VAN_A,
        demo::VAN_B,
        estate::DATA,
    ];
    for data in files {
        let file: serde_json::Value = serde_json::from_str(data).unwrap();
        for case in file["cases"].as_array().unwrap() {
            let id = case["id"].as_str().unwrap();
            assert!(computed.contains(id), "{id} is in the data, but no test computes it");
        }
    }
}
