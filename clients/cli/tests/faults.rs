//! Files that cannot be used: each is refused with its line, what was given, what is allowed.
//! What is expected was written by hand, from what a builder would have to know to mend the file.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

const VAN: &str = include_str!("../demo/van-a.toml");
const BOXED: &str = include_str!("../demo/van-b.toml");

/// A folder of its own for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("fishplate-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).expect("the system has a folder for temporary files");
        Self(folder)
    }

    fn write(&self, name: &str, bytes: &[u8]) -> String {
        let file = self.0.join(name);
        fs::write(&file, bytes).expect("the folder was made just before");
        file.to_string_lossy().into_owned()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

fn fishplate(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(arguments)
        .env("LC_ALL", "C.UTF-8")
        .env_remove("FISHPLATE_SERVER")
        .output()
        .expect("the program was built for this test")
}

fn refused(output: &Output, about: &str) -> String {
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{about}: {text}");
    assert!(output.stdout.is_empty(), "{about}");
    assert!(!text.contains("panicked"), "{about}: {text}");
    // A message that is wrapped is still the same message.
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What stands in the file, what it is replaced by, the text whose line is named, and parts of the
/// message.
type Broken = (&'static str, &'static str, &'static str, &'static [&'static str]);

const IN_VAN: [Broken; 70] = [
    // Quantities.
    ("\"2050 kg\"", "\"2050 kgs\"", "2050 kgs", &["unit \"kgs\"", "kg, t, g, lb"]),
    ("\"2050 kg\"", "\"2050\"", "\"2050\"", &["no unit", "12 kg"]),
    ("\"2050 kg\"", "\"2050 mm\"", "2050 mm", &["a mass is written in kg"]),
    ("\"2050 kg\"", "2050", "mass       = 2050", &["bare number", "in quotes"]),
    ("\"2050 kg\"", "\"heavy\"", "heavy", &["where a number belongs"]),
    ("\"2050 kg\"", "\"\"", "mass       = \"\"", &["is empty"]),
    ("\"2050 kg\"", "\"NaN kg\"", "NaN", &["where a number belongs"]),
    ("\"2050 kg\"", "true", "mass       = true", &["true or false, where text belongs"]),
    ("\"2050 kg\"", "[\"2050 kg\"]", "[\"2050 kg\"]", &["is a list, where text belongs"]),
    ("\"2050 kg\"", "\"2050 kg about\"", "about", &["kg about"]),
    ("± 50\"", "± x\"", "± x", &["spread", "± 0.3"]),
    ("~3500 N/mm ×÷ 2", "~3500 N/mm ×÷ 0.5", "×÷ 0.5", &["at least 1"]),
    ("\"250 N m\"", "\"250 N\"", "\"250 N\"", &["N m, N mm, kN m"]),
    ("\"9.1\"", "\"9.1 to 1\"", "9.1 to 1", &["to 1", "only a spread may follow"]),
    ("\"85 mm\"", "\"14 ga\"", "14 ga", &["whose gauge", "14 ga US", "14 SWG"]),
    // Keys.
    ("wheelbase  =", "wheelbas  =", "wheelbas ", &["no `wheelbas`", "`wheelbase`"]),
    ("wheelbase  = \"2350 mm\"\n", "", "[car]", &["[car] does not say `wheelbase`", "2350 mm"]),
    ("motion_ratio", "motion", "motion =", &["[springs] has no `motion`", "motion_ratio"]),
    ("cg_ahead   = \"987 mm\"", "", "[car]", &["centre of gravity", "axle_scales"]),
    ("symmetric = true", "symmetric = \"yes\"", "\"yes\"", &["true or false belongs"]),
    (
        "wheel_mass = \"~46 kg\"",
        "mass = \"1 kg\"",
        "mass = \"1 kg\"",
        &["no TOML", "duplicate key"],
    ),
    // Words.
    ("gamma_M5 =", "gamma_M6 =", "gamma_M6", &["gamma_m6", "gamma_m5"]),
    ("gamma_M2 = \"1.25\"", "gamma_M2 = \"125\"", "125", &["125", "0.1 to 10"]),
    ("\"EN 1993\"", "\"EN 1994\"", "EN 1994", &["given `EN 1994`", "allowed: ", "EN 1993"]),
    (
        "seat_on      = \"body\"",
        "seat_on = \"bodi\"",
        "bodi",
        &["did you mean \"body\"", "\"cradle\""],
    ),
    ("axis      = \"z\"", "axis = \"w\"", "\"w\"", &["\"x\", \"y\", \"z\""]),
    ("opens   = \"inward\"", "opens = \"left\"", "opens = \"left\"", &["\"inward\", \"outward\""]),
    ("faces   = \"painted\"", "faces = \"paintd\"", "\"paintd\"", &["did you mean \"painted\""]),
    ("along = \"walls\"", "along = \"wall\"", "\"wall\"", &["did you mean \"walls\"", "all round"]),
    ("is = \"kerb left\"", "is = \"curb left\"", "curb left", &["did you mean \"kerb left\""]),
    (
        "shock = \"1.5\", grip = \"1.2\", kind = \"abuse\"",
        "kind = \"rare\"",
        "\"rare\"",
        &["\"normal\", \"abuse\""],
    ),
    // Duties.
    (
        "[factors]\n",
        "[duty]\ndistance = \"200000\"\nset = \"assumed\"\n[factors]\n",
        "\"200000\"",
        &["no unit", "km"],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"200000 kg\"\nset = \"assumed\"\n[factors]\n",
        "\"200000 kg\"",
        &["km, mi"],
    ),
    (
        "[factors]\n",
        "[duty]\nset = \"assumed\"\n[factors]\n",
        "[duty]",
        &["[duty] does not say `distance`", "200000 km"],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"9 km\"\nset = \"asumed\"\n[factors]\n",
        "\"asumed\"",
        &["did you mean \"assumed\""],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"9 km\"\nvertikal = \"1 x 2\"\n[factors]\n",
        "vertikal",
        &["[duty] has no `vertikal`", "`vertical`"],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"9 km\"\nvertical = \"1.0\"\n[factors]\n",
        "\"1.0\"\n[factors]",
        &["has no \"x\"", "1.0 x 0.2, 0.5 x 20"],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"9 km\"\nvertical = \"1 mm x 2\"\n[factors]\n",
        "\"1 mm x 2\"",
        &["the unit \"mm\"", "without a unit"],
    ),
    (
        "[factors]\n",
        "[duty]\ndistance = \"9 km\"\nbrake_record = \"0, 1\"\n[factors]\n",
        "\"0, 1\"",
        &["over which way", "in 12 km"],
    ),
    // Cargo: its section, the mounts that carry it, the cases that throw it.
    (
        "[factors]\n",
        "[cargo.battery]\nmass = \"120 kg\"\ncentre = \"2500, 10, 470 mm\"\n[factors]\n",
        "[cargo.battery]",
        &["[cargo.battery] does not say `weighed`", "weighed without it"],
    ),
    (
        "[factors]\n",
        "[cargo.battery]\nmass = \"120 kg\"\ncentre = \"2500, 10, 470 mm\"\nweighed = \"no\"\n[factors]\n",
        "\"no\"",
        &["true or false belongs"],
    ),
    (
        "[factors]\n",
        "[cargo.battery]\nmass = \"120 kg\"\ncentre = \"2500, 470 mm\"\nweighed = true\n[factors]\n",
        "2500, 470 mm",
        &["2 numbers", "3 coordinates"],
    ),
    (
        "[factors]\n",
        "[cargo]\nmass = \"120 kg\"\n[factors]\n",
        "mass = \"120 kg\"",
        &["`mass`, where a name belongs", "[cargo.battery]"],
    ),
    (
        "[factors]\n",
        "[cargo.battery]\nmass = \"120 kg\"\ncentre = \"2500, 10, 470 mm\"\nweighed = true\n[factors]\n",
        "[cargo.battery]",
        &["battery, which no mount carries", "carries = \"cargo.battery\""],
    ),
    (
        "lands = \"bolt.front-bush\"",
        "lands = \"bolt.front-bush\"\ncarries = \"cargo.batery\"",
        "\"cargo.batery\"",
        &["cargo.batery", "the project has no cargo"],
    ),
    (
        "[factors]\n",
        "R1 = { is = \"restraint forwards\", rate = \"20 g\", of = \"cargo.battery\", kind = \"restraint\" }\n[factors]\n",
        "restraint forwards",
        &["did you mean \"restraint forward\""],
    ),
    (
        "[factors]\n",
        "R1 = { is = \"bump\", field = \"3 g\", of = \"cargo.battery\", kind = \"normal\" }\n[factors]\n",
        "\"cargo.battery\"",
        &["only restraint cases are about a cargo"],
    ),
    // Points and columns.
    (
        "\"330, 480, 420 mm ± 1.5\"",
        "\"330, 480 mm\"",
        "330, 480 mm",
        &["2 numbers", "3 coordinates"],
    ),
    ("\"330, 480, 420 mm ± 1.5\"", "\"330, 480, 420\"", "330, 480, 420", &["no unit"]),
    ("centre = \"x 0, z 40 mm\"", "centre = \"0, 40 mm\"", "0, 40 mm", &["name its axes"]),
    ("\"x -310, z 470 mm\"", "\"x -310, x 470 mm\"", "x 470", &["axis \"x\" twice"]),
    ("web     = \"y 425 mm\"", "web = \"x 425 mm\"", "x 425", &["one place along y"]),
    ("2.9, 2.7, 2.2,", "2.9, 2.7,", "2.9, 2.7,", &["6 readings", "7 places"]),
    ("2.9, 2.7, 2.2,", "2.9; 2.7, 2.2,", "2.9; 2.7", &["2.7"]),
    // Phrases.
    ("channel 100 x 45 x 3 mm", "channel 100 x 45 mm", "100 x 45 mm", &["2 sizes", "3 belong"]),
    ("channel 100 x 45 x 3 mm", "hat 100 x 45 x 3 mm", "hat 100", &["channel 100 x 45 x 3 mm"]),
    ("folded = \"U 5 mm S275\"", "folded = \"U 5 mm\"", "U 5 mm", &["does not name its steel"]),
    ("angle 80 x 80 x 8 mm S275", "angle 80 x 80 S275", "80 x 80 S275", &["2 sizes"]),
    ("legs    = \"+x, +z\"", "legs = \"+x, up\"", "+x, up", &["\"up\"", "+z"]),
    ("fillet leg 4 mm", "fillet 4 mm", "fillet 4 mm", &["fillet leg 4 mm", "plug"]),
    ("scatter 1.8, thread", "scatter tight, thread", "scatter tight", &["tight"]),
    (
        "scatter 1.8, thread",
        "scatter 1.8, scatter 1.2, thread",
        "scatter 1.2",
        &["\"scatter 1.2\" where it has been given before"],
    ),
    (
        "\"330, 480, 420 mm ± 1.5\"",
        "\"330 480 420 mm\"",
        "330 480",
        &["\"330\" and \"480 420 mm\"", "divide numbers by commas"],
    ),
    // One fault, though `opens` stands below a shape that is not known.
    ("channel 100 x 45 x 3 mm", "channel 100 x 45 x 3", "x 3\"", &["no unit", "1 fault."]),
    // Structure.
    (
        "[part.cross]",
        "[freight.battery]",
        "[freight.battery]",
        &["no section [freight]", "sections are: project, rules, car"],
    ),
    (
        "folded = \"U 5 mm S275\"\n",
        "",
        "[part.front-bracket]",
        &["does not say what it is", "gusset"],
    ),
    (
        "[weld.front-foot]",
        "[[weld]]",
        "[[weld]]",
        &["not written as a section", "[weld.front-foot]"],
    ),
    (
        "[part.cross]",
        "[[part.cross]]",
        "[[part.cross]]",
        &["is a list, where one section belongs", "write [part.cross]"],
    ),
    ("[bush.rubber]", "[bush]", "axis      =", &["`axis`, where a name belongs", "[bush.rubber]"]),
    ("[weld.front-foot]", "[weld.front-foot", "[weld.front-foot\n", &["no TOML"]),
];

const IN_BOXED: [Broken; 8] = [
    ("bead  = \"plug 10 mm\"", "bead = \"plug 10\"", "plug 10\"", &["no unit"]),
    ("40 on, 40 off mm", "40, 40 mm", "40, 40 mm", &["how long it is on"]),
    ("spear x 200, z 84 mm", "oval x 200, z 84 mm", "oval", &["spear x 200, z 84 mm"]),
    ("sealed  = true", "sealed = \"yes\"", "sealed = \"yes\"", &["true or false"]),
    ("28 x 15 mm S235", "28 mm S235", "28 mm S235", &["1 sizes", "bore"]),
    (
        "plate   = \"3 mm S275\"",
        "plate = \"3 mm S275\"\nbar = \"flat 60 x 8 mm S275\"",
        "[part.front-doubler]",
        &["plate and bar"],
    ),
    (
        "corner = [\"part.front-doubler.outboard\", \"part.front-bracket.floor\"]",
        "corner = [\"part.front-doubler.outboard\"]",
        "corner = [",
        &["1 entries; 2 belong"],
    ),
    ("legs   = \"z 60, y 55 mm\"", "legs = \"z 60 mm\"", "legs = \"z 60 mm\"", &["2 coordinates"]),
];

#[test]
fn every_broken_file_is_refused_at_its_line() {
    let folder = Folder::new("broken");
    let mut missed = Vec::new();
    let cases = IN_VAN.iter().map(|c| (VAN, c)).chain(IN_BOXED.iter().map(|c| (BOXED, c)));
    for (base, (old, new, marker, parts)) in cases {
        assert!(base.contains(old), "the file has no {old}");
        let text = base.replacen(old, new, 1);
        let at = text.find(marker).unwrap_or_else(|| panic!("no {marker}"));
        let line = text[..at].matches('\n').count() + 1;
        let file = folder.write("car.toml", text.as_bytes());
        let said = refused(&fishplate(&["check", &file]), new);
        let place = format!("line {line}, column ");
        for part in [place.as_str(), "Nothing was computed."].iter().chain(*parts) {
            if !said.contains(part) {
                missed.push(format!("{new}: no {part:?} in {said}"));
            }
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

/// Without a line: what is missing stands nowhere.
#[test]
fn what_is_no_project_file_is_refused() {
    let folder = Folder::new("no-project");
    let without = |section: &str, next: &str| {
        let from = VAN.find(section).unwrap();
        let to = VAN.find(next).unwrap();
        format!("{}{}", &VAN[..from], &VAN[to..])
    };
    let large = "# too long\n".repeat(100_000);
    for (name, bytes, parts) in [
        ("empty", Vec::new(), vec!["NOTHING TO CHECK", "The file is empty", "[project]"]),
        ("blank", b"\n\n  \n".to_vec(), vec!["NOTHING TO CHECK"]),
        ("comment", b"# nothing yet\n".to_vec(), vec!["no section [car]", "no section [cases]"]),
        ("no car", without("[car]", "[drive]").into_bytes(), vec!["no section [car]", "2050 kg"]),
        ("no rails", without("[rail.frame]", "# ---- front").into_bytes(), vec!["[rail]"]),
        ("binary", vec![0x7f, b'E', b'L', b'F', 0, 1, 2], vec!["is no text", "byte 5 is 0"]),
        ("latin", b"[project]\ntitle = \"f\xfcr\"\n".to_vec(), vec!["byte 21 is not UTF-8"]),
        ("large", large.into_bytes(), vec!["more than 1048576 bytes"]),
        ("cut", VAN.as_bytes()[..1500].to_vec(), vec!["CANNOT READ"]),
        ("deep", "a = [".repeat(100_000).into_bytes(), vec!["no TOML"]),
        ("many", "[car]\n".repeat(3_000).into_bytes(), vec!["2999 faults, the first 50"]),
        ("prose", b"The car weighs two tons.\n".to_vec(), vec!["no TOML", "line 1"]),
    ] {
        let file = folder.write("car.toml", &bytes);
        let said = refused(&fishplate(&["check", &file]), name);
        for part in parts {
            assert!(said.contains(part), "{name}: no {part:?} in {said}");
        }
    }
}

/// Whether they must be there, the load cases decide.
#[test]
fn a_section_that_a_case_needs_is_told_in_the_words_of_the_file() {
    let folder = Folder::new("needed");
    for (section, next, example) in
        [("[drive]", "[brakes]", "axle = \"rear\""), ("[brakes]", "[springs]", "rear_share = ")]
    {
        let (from, to) = (VAN.find(section).unwrap(), VAN.find(next).unwrap());
        let file = folder.write("car.toml", [&VAN[..from], &VAN[to..]].concat().as_bytes());
        let said = refused(&fishplate(&["check", &file]), section);
        for part in [format!("no section {section}"), format!("{section} {example}")] {
            assert!(said.contains(&part), "no {part:?} in {said}");
        }
        assert!(!said.contains("project."), "{said}");
    }
}

/// What can be read and is no duty: the service tells it, at its line.
#[test]
fn a_duty_that_cannot_be_is_told_at_its_line() {
    let folder = Folder::new("duty");
    for (duty, line, parts) in [
        ("distance = \"0 km\"\nset = \"assumed\"", "distance", ["0 km", "1 to"]),
        ("distance = \"9 km\"", "[duty]", ["no duty of any family", "assumed"]),
        ("distance = \"9 km\"\ncorner = \"0 x 2\"", "corner = \"0", ["block 1", "above zero"]),
        ("distance = \"9 km\"\ndrive = \"1 x -2\"", "drive = \"1 x", ["block 1", "-2"]),
        ("distance = \"9 km\"\ndrive_reverse = \"1.5\"", "drive_reverse", ["1.5", "0 to 1"]),
        (
            "distance = \"9 km\"\nbrake_record = \"1, 1 in 2 km\"",
            "brake_record",
            ["history", "two different points"],
        ),
        (
            "distance = \"9 km\"\ncorner = \"1 x 2\"\ncorner_record = \"0, 1 in 2 km\"",
            "corner_record",
            ["blocks and a history", "one of them"],
        ),
    ] {
        let text = VAN.replacen("[factors]\n", &format!("[duty]\n{duty}\n[factors]\n"), 1);
        let start = text.find("[duty]").unwrap();
        let at = start + text[start..].find(line).unwrap();
        let line = text[..at].matches('\n').count() + 1;
        let file = folder.write("car.toml", text.as_bytes());
        let said = refused(&fishplate(&["check", &file]), duty);
        for part in [format!("line {line}, column ").as_str()].iter().chain(&parts) {
            assert!(said.contains(part), "{duty}: no {part:?} in {said}");
        }
    }
}

#[test]
fn what_is_no_file_is_refused() {
    let folder = Folder::new("no-file");
    let missing = folder.0.join("missing.toml").to_string_lossy().into_owned();
    let said = refused(&fishplate(&["check", &missing]), "missing");
    assert!(said.contains("There is no file") && said.contains("missing.toml"), "{said}");
    let said = refused(&fishplate(&["check", &folder.0.to_string_lossy()]), "directory");
    assert!(said.contains("is a directory"), "{said}");
}

#[test]
fn all_faults_are_told_at_once_in_the_order_of_the_file() {
    let folder = Folder::new("many");
    let text = VAN
        .replace("\"2050 kg\"", "\"2050 kgs\"")
        .replace("\"250 N m\"", "\"250\"")
        .replace("gamma_M5 = \"1.0\"", "gamma_M5 = \"one\"");
    let file = folder.write("car.toml", text.as_bytes());
    let said = refused(&fishplate(&["check", &file]), "many");
    let places: Vec<usize> = ["kgs", "no unit", "gamma_M5"]
        .iter()
        .map(|part| said.find(part).unwrap_or_else(|| panic!("no {part}: {said}")))
        .collect();
    assert!(places.is_sorted(), "{said}");
    assert!(said.contains("3 faults. Nothing was computed."), "{said}");
}

#[test]
fn the_line_is_shown_with_a_mark_under_the_value() {
    let folder = Folder::new("mark");
    let text = VAN.replace("\"2050 kg\"", "\"2050 kgs\"");
    let file = folder.write("car.toml", text.as_bytes());
    let output = fishplate(&["check", &file]);
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let lines: Vec<&str> = said.lines().collect();
    let at = lines.iter().position(|l| l.contains("2050 kgs") && l.contains("laden")).unwrap();
    let value = lines[at].find("\"2050").unwrap();
    assert_eq!(lines[at + 1].find('^'), Some(value), "{said}");
    assert_eq!(lines[at + 1].trim(), "^".repeat("\"2050 kgs\"".len()));
}

#[test]
fn with_json_faults_are_json_on_standard_error() {
    let folder = Folder::new("json");
    let text = VAN.replace("\"2050 kg\"", "\"2050 kgs\"");
    let file = folder.write("car.toml", text.as_bytes());
    let output = fishplate(&["check", &file, "--json"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty());
    let error: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    assert_eq!(error["error"]["exit"], 2);
    assert_eq!(error["error"]["reason"], "INVALID_FILE");
    assert_eq!(error["error"]["faults"][0]["line"], 12);
}

#[test]
fn a_fault_leaves_no_page_behind() {
    let folder = Folder::new("page");
    let file = folder.write("car.toml", b"[car]\n");
    let page = folder.0.join("car.html");
    refused(&fishplate(&["check", &file, "--html", &page.to_string_lossy()]), "page");
    assert!(!page.exists());
    assert_eq!(fs::read_dir(&folder.0).unwrap().count(), 1);
}

#[test]
fn json_of_a_structure_is_refused_at_its_place() {
    let folder = Folder::new("structure");
    for (text, parts) in [
        ("", vec!["CANNOT READ", "EOF"]),
        ("{\n  \"nodez\": []\n}", vec!["line 2", "nodez"]),
        ("{\n  \"nodes\": 3\n}", vec!["line 2"]),
        ("{\"nodes\": [{\"id\": 7}]}", vec!["line 1"]),
        ("[1, 2", vec!["CANNOT READ"]),
        ("{\"nodes\": [}", vec!["line 1"]),
    ] {
        let file = folder.write("frame.json", text.as_bytes());
        let said = refused(&fishplate(&["solve", &file]), text);
        for part in parts {
            assert!(said.contains(part), "{text}: no {part:?} in {said}");
        }
    }
}

#[test]
fn a_command_line_that_is_wrong_is_refused() {
    for arguments in [
        vec!["chek", "car.toml"],
        vec!["check"],
        vec!["check", "car.toml", "--timeout", "0"],
        vec!["check", "car.toml", "--color", "pink"],
        vec!["tables", "screws"],
        vec![],
    ] {
        let output = fishplate(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty(), "{arguments:?}");
    }
    let said = String::from_utf8_lossy(&fishplate(&["chek", "x"]).stderr).into_owned();
    assert!(said.contains("check"), "{said}");
}

#[test]
fn help_tells_the_exit_codes() {
    for arguments in [vec!["--help"], vec!["check", "--help"]] {
        let output = fishplate(&arguments);
        assert_eq!(output.status.code(), Some(0));
        let text = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(text.contains("Exit codes:") && text.contains("provisional"), "{text}");
    }
    let short = fishplate(&["-h"]).stdout;
    assert!(short.len() < fishplate(&["--help"]).stdout.len());
}
