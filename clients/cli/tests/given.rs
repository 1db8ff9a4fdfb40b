//! Keys set on the command line, and projects put together from several files. What is expected is
//! the same project written by hand in one file, or the line of a fault, counted in the text.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};

const VAN: &str = include_str!("../demo/van-a.toml");

/// A folder of its own for each test.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("fishplate-{}-{name}", std::process::id()));
        fs::create_dir_all(&folder).expect("the system has a folder for temporary files");
        Self(folder)
    }

    fn write(&self, name: &str, text: &str) -> String {
        let file = self.0.join(name);
        if let Some(parent) = file.parent() {
            fs::create_dir_all(parent).expect("the folder is this test's own");
        }
        fs::write(&file, text).expect("the folder was made just before");
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

fn answer(arguments: &[&str]) -> String {
    let output = fishplate(&[arguments, &["--json"]].concat());
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(matches!(output.status.code(), Some(0 | 1 | 4)), "{said}");
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn refused(arguments: &[&str]) -> String {
    let output = fishplate(arguments);
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {text}");
    assert!(output.stdout.is_empty() && !text.contains("panicked"), "{text}");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The van in parts: [car] to [cradle] in a file of the car, [cases] and behind in one of the shop.
fn split() -> (String, String, String) {
    let (car, bush) = (
        VAN.find("[car]").expect("the demo has it"),
        VAN.find("[bush.rubber]").expect("the demo has it"),
    );
    let cases = VAN.find("[cases]").expect("the demo has it");
    let own = format!(
        "include = [\"shared/car.toml\", \"shared/shop.toml\"]\n{}{}",
        &VAN[..car],
        &VAN[bush..cases]
    );
    (own, VAN[car..bush].to_owned(), VAN[cases..].to_owned())
}

#[test]
fn a_key_that_is_set_counts_as_if_it_were_written() {
    let folder = Folder::new("set");
    let van = folder.write("van.toml", VAN);
    for (key, value, old, new) in [
        ("cradle.mass", "225 kg", "mass       = \"145 kg ± 5\"", "mass = \"225 kg\""),
        ("part.front-bracket.folded", "U 6 mm S275", "\"U 5 mm S275\"", "\"U 6 mm S275\""),
        ("part.front-bracket.folded", "\"U 6 mm S275\"", "\"U 5 mm S275\"", "\"U 6 mm S275\""),
        ("drive.ratio", "8.5", "\"9.1\"", "\"8.5\""),
        ("cases.P1.field", "2.5 g", "field = \"2 g\"", "field = \"2.5 g\""),
        (" bolt . front-bush . 'hole' ", "14 mm", "hole    = \"13 mm\"", "hole = \"14 mm\""),
        (
            "cases.K1",
            "{ is = \"kerb left\", factor = \"1.5\", kind = \"abuse\" }",
            "factor = \"1.75\"",
            "factor = \"1.5\"",
        ),
        (
            "added.battery",
            "{ mass = \"60 kg\", at = \"0, 0, 500 mm\" }",
            "[drive]",
            "[added.battery]\nmass = \"60 kg\"\nat = \"0, 0, 500 mm\"\n[drive]",
        ),
    ] {
        assert!(VAN.contains(old), "no {old}");
        let by_hand = folder.write("by-hand.toml", &VAN.replacen(old, new, 1));
        let set = format!("{key}={value}");
        assert_eq!(answer(&["check", &van, "--set", &set]), answer(&["check", &by_hand]), "{set}");
    }
    // The last of two counts, and without any nothing changes.
    let plain = answer(&["check", &van]);
    let back = ["check", &van, "--set", "car.mass=1 t", "--set", "car.mass=2050 kg"];
    assert_eq!(answer(&back), plain);
    let heavier = ["explain", &van, "FL-2", "--set", "cradle.mass=225 kg"];
    assert_ne!(answer(&heavier), answer(&heavier[..3]));
}

#[test]
fn a_key_that_cannot_be_set_is_told_at_the_argument() {
    let folder = Folder::new("set-faults");
    let van = folder.write("van.toml", VAN);
    for (set, parts) in [
        ("cradle.mass", ["names no key and value", "--set cradle.mass="]),
        ("=3", ["names no key and value", "--set"]),
        ("cradle.mass=225", ["--set, column 13", "bare number"]),
        ("cradle.mass=225 kgs", ["--set, column 13", "kg, t, g, lb"]),
        ("cradle.mas=225 kg", ["--set, column 8", "did you mean `mass`"]),
        ("cradel.mass=225 kg", ["no section [cradel]", "did you mean [cradle]"]),
        ("part.front-braket.folded=U 6 mm S275", ["--set, column 6", "`front-bracket`"]),
        ("cases.P9.field=2 g", ["there is no `cases.P9`", "P1"]),
        ("car.mass.value=2", ["`car.mass` has no keys", "--set car.mass="]),
        ("cases.P1={ is = }", ["--set, column", "no TOML"]),
        ("include=x.toml", ["`include` is for files", "--set, column 1"]),
        ("bolt.front-bush.size=M12", ["--set, column 22", "M12"]),
    ] {
        let said = refused(&["check", &van, "--set", set]);
        for part in parts {
            assert!(said.contains(part), "{set}: no {part:?} in {said}");
        }
    }
    // What only the service can tell comes back to the argument, too.
    let said = refused(&["check", &van, "--set", "part.front-bracket.on=rail.frme.web.outboard"]);
    assert!(said.contains("--set, column 23"), "{said}");
    let output = fishplate(&["check", &van, "--json", "--set", "car.mass=2 kgs"]);
    let error: serde_json::Value = serde_json::from_slice(&output.stderr).unwrap();
    let fault = &error["error"]["faults"][0];
    assert_eq!((&fault["file"], &fault["column"]), (&"--set".into(), &10.into()), "{error}");
}

#[test]
fn a_project_in_several_files_is_the_one_in_one_file() {
    let folder = Folder::new("include");
    let (own, car, shop) = split();
    let whole = folder.write("whole.toml", VAN);
    let file = folder.write("van.toml", &own);
    folder.write("shared/car.toml", &car);
    folder.write("shared/shop.toml", &shop);
    assert_eq!(answer(&["check", &file]), answer(&["check", &whole]));
    // A key of an included file can be set, and put over in the file that includes it.
    let heavier = VAN.replacen("\"2050 kg\"", "\"2110 kg\"", 1);
    let by_hand = folder.write("by-hand.toml", &heavier);
    assert_eq!(
        answer(&["check", &file, "--set", "car.mass=2110 kg"]),
        answer(&["check", &by_hand])
    );
    let over = folder.write("over.toml", &format!("{own}\n[over.car]\nmass = \"2110 kg\"\n"));
    assert_eq!(answer(&["check", &over]), answer(&["check", &by_hand]));
    // Two files may include the same third.
    let twice = format!("include = \"car.toml\"\n{shop}");
    folder.write("shared/shop.toml", &twice);
    assert_eq!(answer(&["check", &file]), answer(&["check", &whole]));
    // A table may be completed by another file, case by case.
    let last = shop.lines().find(|line| line.starts_with("T1")).unwrap();
    folder.write("shared/shop.toml", &shop.replacen(last, "", 1));
    let completed = folder.write("completed.toml", &format!("{own}\n[cases]\n{last}\n"));
    let names = |text: String| {
        let answer: serde_json::Value = serde_json::from_str(&text).unwrap();
        let cases = answer["cases"].as_array().unwrap().clone();
        let mut names: Vec<String> = cases.iter().map(|case| case["name"].to_string()).collect();
        names.sort();
        names
    };
    assert_eq!(names(answer(&["check", &completed])), names(answer(&["check", &whole])));
}

#[test]
fn faults_name_the_file_they_stand_in() {
    let folder = Folder::new("include-faults");
    let (own, car, shop) = split();
    let shared = |car: &str, shop: &str| {
        folder.write("shared/car.toml", car);
        folder.write("shared/shop.toml", shop);
    };
    let line_of =
        |text: &str, part: &str| text[..text.find(part).unwrap()].matches('\n').count() + 1;
    let file = folder.write("van.toml", &own);
    let told = |file: &str, parts: &[&str]| {
        let said = refused(&["check", file]);
        for part in parts {
            assert!(said.contains(part), "no {part:?} in {said}");
        }
    };

    // A slip in the included file.
    let broken = car.replacen("2050 kg", "2050 kgs", 1);
    shared(&broken, &shop);
    let line = line_of(&broken, "2050 kgs");
    told(&file, &[&format!("shared/car.toml, line {line}, column 14"), "kg, t, g, lb"]);
    // No TOML in one, and all of it told with its line.
    shared(&format!("{car}\nmass ="), &shop);
    told(&file, &["shared/car.toml, line", "no TOML"]);
    // What only the service finds.
    let wide = shop.replacen("gamma_M2 = \"1.25\"", "gamma_M2 = \"125\"", 1);
    shared(&car, &wide);
    let line = line_of(&wide, "\"125\"");
    told(&file, &[&format!("shared/shop.toml, line {line}, column"), "0.1 to 10"]);
    // The same key in two files.
    shared(&car, &shop);
    let doubled = folder.write("double.toml", &format!("{own}\n[car]\nmass = \"2110 kg\"\n"));
    let line = line_of(&car, "mass ");
    told(
        &doubled,
        &["`car.mass` is given in", &format!("shared/car.toml, line {line}"), "[over.car]"],
    );
    // Put over what is not there.
    for (over, parts) in [
        ("[over.car]\nmas = \"2110 kg\"", ["`car.mas` stands in no file", "`mass`"]),
        (
            "[over.weld.front-foot]\nbead = \"fillet leg 5 mm\"",
            ["stands in this file, too", "over"],
        ),
        ("[over]\nroof = 3", ["`roof` stands in no file", "without `over`"]),
    ] {
        let file = folder.write("over.toml", &format!("{own}\n{over}\n"));
        told(&file, &parts);
    }
    // What is included cannot be read.
    fs::remove_file(folder.0.join("shared/shop.toml")).unwrap();
    told(&file, &["line 1, column 31", "there is no file", "shared/shop.toml", "from the folder"]);
    // A circle.
    shared(&format!("include = [\"../van.toml\"]\n{car}"), &shop);
    told(&file, &["shared/car.toml, line 1, column 12", "includes this file"]);
    // Something else than names, and a name in a section.
    let file = folder.write("names.toml", &own.replacen("\"shared/car.toml\"", "3", 1));
    told(&file, &["line 1, column 12", "something else than the name of a file"]);
    let file = folder.write("late.toml", &VAN.replacen("[car]\n", "[car]\ninclude = \"x\"\n", 1));
    told(&file, &["[car] has no `include`", "above all sections"]);
}

#[test]
fn a_page_over_an_included_file_is_refused() {
    let folder = Folder::new("include-page");
    let (own, car, shop) = split();
    let file = folder.write("van.toml", &own);
    let page = folder.write("shared/car.toml", &car);
    folder.write("shared/shop.toml", &shop);
    assert!(refused(&["check", &file, "--html", &page]).contains("would replace it"));
    assert_eq!(fs::read_to_string(&page).unwrap(), car);
}
