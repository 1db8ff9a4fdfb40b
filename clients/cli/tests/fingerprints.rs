//! Results that are kept may be used again exactly as long as nothing that they follow from changes:
//! every number, choice and word of the demo projects is changed, one at a time, and what the service
//! computes is held against what it calls the same. No expected value: a law.
#![cfg(feature = "embedded")]

use std::collections::{BTreeMap, BTreeSet};

use fishplate_cli::project;
use fishplate_proto::json::{from_json, to_json};
use fishplate_proto::v1;
use fishplate_proto::v1::check_batch_response::Update;
use fishplate_proto::v1::study_service_client::StudyServiceClient;
use prost::Message;
use serde_json::Value;

const VAN: &str = include_str!("../demo/van-a.toml");
const DEMOS: [(&str, &str); 3] = [
    ("van-c", include_str!("../demo/van-c.toml")),
    ("estate", include_str!("../demo/estate.toml")),
    ("old-rail", include_str!("../demo/old-rail.toml")),
];

/// Of so many changes one is checked alone as well, beside what is known.
const ALONE: usize = 5;

/// Where the choices of a project stand.
const CONTRACT: [&str; 3] = [
    include_str!("../../../proto/fishplate/v1/project.proto"),
    include_str!("../../../proto/fishplate/v1/part.proto"),
    include_str!("../../../proto/fishplate/v1/quantity.proto"),
];

/// What came of a project: by mount its fingerprint and its rows to the bit; none where it has faults.
type Came = Option<BTreeMap<String, (String, Option<Vec<Vec<u8>>>)>>;

fn batch(items: Vec<v1::BatchItem>) -> Vec<Came> {
    let runtime = tokio::runtime::Runtime::new().expect("a test can start threads");
    runtime.block_on(async {
        let channel =
            fishplate_service::in_process::connect().await.expect("a pipe in this process");
        let mut client = StudyServiceClient::new(channel).max_decoding_message_size(64 << 20);
        let asked = v1::CheckBatchRequest { items, depth: v1::Depth::Frame.into() };
        let mut answers = client.check_batch(asked).await.expect("it is served").into_inner();
        let mut came = Vec::new();
        while let Some(message) = answers.message().await.expect("it answers") {
            if let Some(Update::Project(project)) = message.update {
                let mounts = project.mounts.into_iter().map(|mount| {
                    let open = mount.open_reasons.join("\n").into_bytes();
                    let rows = mount.rows.iter().map(Message::encode_to_vec).chain([open]);
                    let rows = (!mount.known).then(|| rows.collect());
                    (mount.mount_id, (mount.fingerprint, rows))
                });
                came.push(project.faults.is_empty().then(|| mounts.collect()));
            }
        }
        came
    })
}

fn item(name: &str, project: v1::Project) -> v1::BatchItem {
    let known_fingerprints = Vec::new();
    v1::BatchItem { name: name.to_owned(), project: Some(project), known_fingerprints }
}

fn read(text: &str) -> v1::Project {
    project::read(text).expect("a demo can be read").project
}

/// The other values of the enum that a value belongs to.
fn choices(value: &str) -> Vec<String> {
    for text in CONTRACT {
        for block in text.split("enum ").skip(1) {
            let body = block.split('}').next().unwrap_or_default();
            let names: Vec<&str> = body
                .lines()
                .filter_map(|line| line.split_once(" = "))
                .map(|(name, _)| name.trim())
                .filter(|name| {
                    name.chars().all(|c| c.is_ascii_uppercase() || "_0123456789".contains(c))
                })
                .collect();
            if names.contains(&value) {
                let others = names.into_iter().filter(|name| *name != value);
                return others
                    .filter(|n| !n.ends_with("_UNSPECIFIED"))
                    .map(str::to_owned)
                    .collect();
            }
        }
    }
    Vec::new()
}

/// A word for another that a project may have in its place.
const WORDS: [(&str, &str); 7] = [
    ("S275", "S355"),
    ("S235", "S275"),
    ("M12", "M14"),
    ("M14", "M12"),
    ("8.8", "10.9"),
    ("10.9", "8.8"),
    ("EN 1993", "allowable stress"),
];

/// Shows every leaf with the values to try in its place.
fn leaves(value: &Value, path: &str, each: &mut dyn FnMut(String, Vec<Value>)) {
    match value {
        Value::Object(fields) => {
            fields.iter().for_each(|(k, v)| leaves(v, &format!("{path}/{k}"), each));
        }
        Value::Array(items) => {
            for (at, item) in items.iter().enumerate() {
                leaves(item, &format!("{path}/{at}"), each);
            }
        }
        Value::Number(number) => {
            let number = number.as_f64().unwrap_or_default();
            each(path.to_owned(), vec![Value::from(number * 1.003 + 1e-3)]);
        }
        Value::Bool(yes) => each(path.to_owned(), vec![Value::from(!yes)]),
        Value::String(text) => {
            let word = WORDS.iter().find(|(word, _)| word == text).map(|(_, other)| *other);
            // A few of many kinds of loads are enough; which ones differs from place to place.
            let others = choices(text);
            let from = path.len() % others.len().max(1);
            let some = others.iter().cycle().skip(from).take(others.len().min(2)).cloned();
            let all = some.chain(word.map(str::to_owned));
            each(path.to_owned(), all.map(Value::from).collect());
        }
        Value::Null => {}
    }
}

/// Every project that differs from `base` in one place, by that place.
fn variations(base: &v1::Project) -> Vec<(String, v1::Project)> {
    let text = to_json("Project", base).expect("a message can be written");
    let whole: Value = serde_json::from_str(&text).expect("it was just written");
    let mut all = Vec::new();
    leaves(&whole, "", &mut |path, values| {
        for (count, value) in values.into_iter().enumerate() {
            let mut changed = whole.clone();
            *changed.pointer_mut(&path).expect("the path was just walked") = value;
            let project = from_json("Project", &changed.to_string()).expect("only a value changed");
            all.push((format!("{path} {count}"), project));
        }
    });
    all
}

#[test]
fn rows_change_only_with_their_fingerprint() {
    for (name, text) in DEMOS {
        let base = read(text);
        let own = batch(vec![item("base", base.clone())]).remove(0).expect("a demo has no faults");
        let prints: Vec<String> = own.values().map(|(print, _)| print.clone()).collect();
        let all = variations(&base);
        assert!(all.len() > 100, "{name} has only {} places to change", all.len());
        let full = batch(all.iter().map(|(path, p)| item(path, p.clone())).collect());
        let part = batch(
            all.iter()
                .step_by(ALONE)
                .map(|(path, p)| v1::BatchItem {
                    known_fingerprints: prints.clone(),
                    ..item(path, p.clone())
                })
                .collect(),
        );
        // What is computed alone is what is computed with everything else.
        for (((path, _), full), part) in
            all.iter().step_by(ALONE).zip(full.iter().step_by(ALONE)).zip(&part)
        {
            assert_eq!(full.is_some(), part.is_some(), "{name}, {path}");
            let (Some(full), Some(part)) = (full, part) else { continue };
            for (mount, (print, rows)) in full {
                let (again, alone) = &part[mount];
                assert_eq!(again, print, "{name}, {path}");
                assert_eq!(alone.is_none(), prints.contains(print), "{name}, {path}: {mount:?}");
                assert!(alone.is_none() || alone == rows, "{name}, {path}: {mount:?} differs");
            }
        }
        let (mut computed, mut left_alone, mut joints) = (0, 0, 0);
        for ((path, _), full) in all.iter().zip(full) {
            let Some(full) = full else { continue };
            computed += 1;
            let mut same = 0;
            for (mount, (print, rows)) in &full {
                let before = own.get(mount);
                let kept = before.is_some_and(|(known, _)| known == print);
                same += usize::from(kept);
                if let Some((_, before)) = before.filter(|_| kept) {
                    assert!(before == rows, "{name}, {path}: rows of {mount:?} change unseen");
                }
            }
            let joint = ["/parts/", "/welds/", "/bolts/"].iter().any(|list| path.starts_with(list));
            joints += usize::from(joint);
            left_alone += usize::from(joint && same > 0);
        }
        // Many changes are of things that may be so; a good part of those of a joint leave a mount alone.
        assert!(3 * computed > all.len(), "{name}: {computed} of {} can be checked", all.len());
        assert!(3 * left_alone > joints, "{name}: {left_alone} of {joints} leave a mount alone");
    }
}

#[test]
fn a_change_touches_the_mounts_it_belongs_to() {
    let van = read(VAN);
    let own = batch(vec![item("base", van.clone())]).remove(0).expect("a demo has no faults");
    let touched = |change: &dyn Fn(&mut v1::Project)| {
        let mut changed = van.clone();
        change(&mut changed);
        let came = batch(vec![item("changed", changed)]).remove(0).expect("it has no faults");
        let changed = came.iter().filter(|(mount, (print, _))| own[*mount].0 != *print);
        changed.map(|(mount, _)| mount.clone()).collect::<BTreeSet<_>>()
    };
    let set = |mounts: &[&str]| mounts.iter().map(|m| (*m).to_owned()).collect::<BTreeSet<_>>();
    // The front bracket is written once and stands on both sides; the whole of the car has rails in
    // it that may depend on everything.
    let bracket = |p: &mut v1::Project| {
        let Some(v1::part::Form::Folded(folded)) = &mut p.parts[0].form else { return };
        if let Some(thickness) = &mut folded.thickness {
            thickness.value_mm = 6.0;
        }
    };
    assert_eq!(touched(&bracket), set(&["", "FL", "FR"]));
    // A bar joins both sides.
    let cross = |p: &mut v1::Project| p.parts[1].steel = "S355".to_owned();
    assert_eq!(touched(&cross), set(&["", "RL", "RR"]));
    // The car pushes at every mount, whatever it is called.
    let car = |p: &mut v1::Project| {
        if let Some(mass) = p.car.as_mut().and_then(|car| car.mass.as_mut()) {
            mass.value_kg += 60.0;
        }
    };
    assert_eq!(touched(&car), set(&["", "FL", "FR", "RL", "RR"]));
    assert_eq!(touched(&|p| p.title = "Another title".to_owned()), set(&[]));
}

#[test]
fn faults_of_one_project_do_not_stop_the_others() {
    let van = read(VAN);
    let mut broken = van.clone();
    broken.parts[0].steel = "wood".to_owned();
    let mut no_number = van.clone();
    if let Some(mass) = no_number.car.as_mut().and_then(|car| car.mass.as_mut()) {
        mass.value_kg = f64::NAN;
    }
    let items = vec![
        item("first", van.clone()),
        item("broken", broken),
        item("no number", no_number),
        v1::BatchItem { name: "nothing".to_owned(), ..Default::default() },
        item("last", van),
    ];
    let came = batch(items);
    assert_eq!(
        came.iter().map(Option::is_some).collect::<Vec<_>>(),
        [true, false, false, false, true]
    );
    assert_eq!(came[0], came[4]);
}
