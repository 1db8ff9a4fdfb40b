//! Files of single parts, from reading to the exit code, with the service inside the program.

#![cfg(feature = "embedded")]

use std::io::Write;
use std::process::{Command, Output, Stdio};

fn program(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(["check-part", "--color", "never", "--width", "100"])
        .args(arguments)
        .env_remove("FISHPLATE_SERVER")
        .output()
        .expect("the program runs")
}

fn demo(name: &str) -> String {
    format!("{}/demo/parts/{name}.toml", env!("CARGO_MANIFEST_DIR"))
}

/// The program with a file from standard input.
fn given(text: &str, arguments: &[&str]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(["check-part", "--color", "never", "--width", "100", "-"])
        .args(arguments)
        .env_remove("FISHPLATE_SERVER")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    child
        .stdin
        .take()
        .expect("its input is a pipe")
        .write_all(text.as_bytes())
        .expect("the program reads");
    child.wait_with_output().expect("the program ends")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("text is UTF-8")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("text is UTF-8")
}

// The rail: one bolt in a single lap bears 1.5 290 12 2.2 / 1.25 = 9.19 kN by EN 1993-1-8,
// 3.6.1(10), and 9.5 kN are asked of it. The bracket of 6 mm S235 bears 31.1 kN.
#[test]
fn the_thin_rail_is_what_gives() {
    let output = program(&[&demo("bolt")]);
    let text = out(&output);
    assert_eq!(output.status.code(), Some(1), "{text}{}", err(&output));
    let (bracket, rail) = text.split_once("[bolt.rail]").unwrap();
    assert!(bracket.contains("[bolt.bracket]"), "{text}");
    assert!(rail.contains("EN 1993-1-8:2005, 3.6.1(10)"), "{text}");
    assert!(rail.contains("9.50 kN of 9.19 kN"), "{text}");
    assert!(text.lines().all(|line| line.chars().count() <= 100), "{text}");
}

// AISC 360-16, J2.4: 0.85 8 in + 1.5 3 in of 0.6 70 ksi 0.707 3/16 in and 0.75 give 47.2 kip, and
// 22 kip are asked.
#[test]
fn inches_are_read_and_the_derivation_is_shown_line_by_line() {
    let output = program(&[&demo("weld-inch"), "--steps"]);
    let text = out(&output);
    assert_eq!(output.status.code(), Some(0), "{text}{}", err(&output));
    assert!(text.contains("HOLDS"), "{text}");
    assert!(text.contains("AISC 360, edition 2016, LRFD"), "{text}");
    assert!(text.contains("0.47"), "{text}");
    assert!(text.contains("f_exx = 482.6 MPa"), "{text}");
}

#[test]
fn every_example_is_answered() {
    for name in ["bolt", "weld-inch", "plug", "angle", "fatigue"] {
        let output = program(&[&demo(name), "--all"]);
        let code = output.status.code();
        assert!(matches!(code, Some(0 | 1 | 4)), "{name}: {code:?} {}", err(&output));
        assert!(out(&output).contains(" holds"), "{name}: {}", out(&output));
    }
}

#[test]
fn json_is_a_list_of_answers() {
    let output = program(&[&demo("plug"), "--json"]);
    let answers: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
    let parts: Vec<_> = answers.as_array().unwrap().iter().map(|a| a["part"].clone()).collect();
    assert_eq!(parts, ["plug", "plug"]);
    assert!(answers[0]["rows"][0]["derivation"].is_array());
}

#[test]
fn what_the_service_refuses_is_told_in_the_words_of_the_file() {
    let text = "rules = \"EN 1993\"\n\n[t_stub]\nf_t_rd_sum = \"97 kN\"\nm = \"30 mm\"\n\
                e = \"-25 mm\"\ne_min = \"25 mm\"\nf_y = \"235 MPa\"\n";
    let output = given(text, &[]);
    let told = err(&output);
    assert_eq!(output.status.code(), Some(2), "{told}");
    assert!(told.contains("line 6") && told.contains("`e`: given -25 mm"), "{told}");
    assert!(told.contains("`t`: given nothing"), "{told}");
    assert!(told.contains("\"bears\"") && told.contains("`prying`"), "{told}");
    assert!(!told.contains("PRYING_CHOICE"), "{told}");
    let output = given("rules = \"EN 1066\"\n[sleeve]\nf_m = \"40 kN\"\n", &["--json"]);
    assert_eq!(output.status.code(), Some(2));
    let error: serde_json::Value = serde_json::from_str(&err(&output)).unwrap();
    let fields: Vec<_> = error["error"]["faults"].as_array().unwrap().iter().collect();
    assert!(fields.iter().any(|fault| fault["field"] == "rules.pack"), "{error:#}");
    assert!(fields.iter().any(|fault| fault["field"] == "sleeve.d_out_mm"), "{error:#}");
}

#[test]
fn rules_of_the_command_line_go_before_those_of_the_file() {
    let text = "rules = \"nowhere\"\n[sleeve]\nf_m = \"40 kN\"\nd_out = \"28 mm\"\n\
                d_in = \"15 mm\"\nf_y = \"235 MPa\"\n";
    let output = given(text, &["--rules", "EN 1993"]);
    // 235 pi (28² - 15²) / 4 = 103 kN.
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(out(&output).contains("40.00 kN of 103."), "{}", out(&output));
}

#[test]
fn parts_are_listed_and_described() {
    let list = out(&program(&["--list"]));
    assert!(list.contains("bolt_group") && list.contains("plug"), "{list}");
    let bolt = out(&program(&["--describe", "bolt"]));
    for word in ["e_1", "mm, m, cm, in, ft", "\"short-slot-along\"", "thread", "Required."] {
        assert!(bolt.contains(word), "{word}: {bolt}");
    }
    let output = program(&["--describe", "bolz"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(err(&output).contains("did you mean bolt?"), "{}", err(&output));
    assert_eq!(program(&[]).status.code(), Some(2));
}

#[test]
fn a_sheet_of_parts_has_every_check_and_its_sums() {
    let page = std::env::temp_dir().join(format!("fishplate-{}-parts.html", std::process::id()));
    let name = page.to_string_lossy().into_owned();
    let said = out(&program(&[&demo("weld-inch"), "--units", "us", "--html", &name]));
    let text = std::fs::read_to_string(&page).unwrap();
    std::fs::remove_file(&page).unwrap();
    assert!(text.contains("Calculation sheet") && text.contains("<ol class=\"calc\">"), "{text}");
    assert!(text.contains("lbf") && said.contains("lbf"), "{said}");
    assert!(!text.contains("\u{A0}MPa") && !said.contains("MPa"), "{said}");
    // A page over the file of parts would destroy it.
    let own = program(&[&demo("weld-inch"), "--html", &demo("weld-inch")]);
    assert_eq!(own.status.code(), Some(2), "{}", err(&own));
}
