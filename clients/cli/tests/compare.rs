//! `fishplate compare` as a person meets it: exit codes, and faults told with the design they are in.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

const BARE: &str = include_str!("../demo/van-a.toml");
const BOXED: &str = include_str!("../demo/van-b.toml");

/// A folder of its own for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let name = format!("fishplate-compare-{}-{name}", std::process::id());
        let folder = std::env::temp_dir().join(name);
        fs::create_dir_all(&folder).expect("the system has a folder for temporary files");
        Self(folder)
    }

    fn write(&self, name: &str, text: &str) -> String {
        let file = self.0.join(name);
        fs::write(&file, text).expect("the folder was made just before");
        file.to_string_lossy().into_owned()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn compare(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .arg("compare")
        .args(arguments)
        .env("LC_ALL", "C.UTF-8")
        .env_remove("FISHPLATE_SERVER")
        .output()
        .expect("the program was built for this test")
}

/// What is said on standard error, on one line: a message that is wrapped is still the same.
fn refused(output: &Output) -> String {
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{text}");
    assert!(output.stdout.is_empty() && !text.contains("panicked"), "{text}");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn line_of(text: &str, marker: &str) -> usize {
    let at = text.find(marker).expect("the marker is in the file");
    text[..at].matches('\n').count() + 1
}

/// The verdict of the design that comes first decides: B is provisional, A exceeds.
#[test]
fn the_exit_code_is_that_of_the_design_that_comes_first() {
    let folder = Folder::new("codes");
    let (a, b) = (folder.write("a.toml", BARE), folder.write("b.toml", BOXED));
    let page = folder.0.join("page.html");
    let shown = compare(&[&a, &b, "--json", "--html", &page.to_string_lossy()]);
    assert_eq!(shown.status.code(), Some(4));
    let json: serde_json::Value = serde_json::from_slice(&shown.stdout).expect("JSON alone");
    assert_eq!(json["ranking"], serde_json::json!([1, 0]));
    assert_eq!(json["designs"].as_array().map(Vec::len), Some(2));
    let page = fs::read_to_string(page).expect("a page");
    assert!(page.contains("Van, design B comes first") && page.contains("at one scale"));
    let none = compare(&[&a, &a]);
    assert_eq!(none.status.code(), Some(1));
    let text = String::from_utf8_lossy(&none.stdout).into_owned();
    assert!(text.contains("no design is better than another"), "{text}");
}

#[test]
fn a_fault_is_shown_in_the_design_that_has_it() {
    let folder = Folder::new("faults");
    let marker = "U 5 mm S2755";
    let broken = BOXED.replacen("U 5 mm S275", marker, 1);
    let (a, b) = (folder.write("a.toml", BARE), folder.write("b.toml", &broken));
    let told = refused(&compare(&[&a, &b]));
    assert!(told.contains(&format!("b.toml, line {}", line_of(&broken, marker))), "{told}");
    assert!(told.contains("S2755") && !told.contains("a.toml"), "{told}");
    // Faults of two designs: each with its file.
    let other = BARE.replacen("U 5 mm S275", marker, 1);
    let a = folder.write("a.toml", &other);
    let told = refused(&compare(&[&a, &b]));
    for part in [
        format!("a.toml, line {}", line_of(&other, marker)),
        format!("b.toml, line {}", line_of(&broken, marker)),
        "2 faults".to_owned(),
    ] {
        assert!(told.contains(&part), "no {part} in {told}");
    }
}

#[test]
fn what_cannot_be_compared_is_refused() {
    let folder = Folder::new("refused");
    let a = folder.write("a.toml", BARE);
    for (arguments, part) in [
        (vec![a.as_str()], "2 values required"),
        (vec![&a, &a, "--by", "cost"], "--rates"),
        (vec![&a, &a, "--by", "cost", "--rates", "kg=dear"], "no price"),
        (vec![&a, &a, "--by", "cost", "--rates", "hour=3"], "nothing is sold by"),
        (vec![&a, &a, "--by", "cost", "--rates", "kg"], "no rate"),
        (vec!["-", "-"], "Standard input holds one design only"),
        (vec![&a, &a, "--html", &a], "would replace it"),
    ] {
        let told = refused(&compare(&arguments));
        assert!(told.contains(part), "{arguments:?}: no {part} in {told}");
    }
}
