//! Both systems of units through the whole program, and every sum put in again.
#![cfg(feature = "embedded")]

use std::process::{Command, Output};

use fishplate_cli::project;
use fishplate_proto::v1::check_service_client::CheckServiceClient;
use fishplate_proto::v1::{
    CheckProjectRequest, CheckProjectResponse, Depth, DerivationStep, ExplainRowRequest,
};
use fishplate_report::calculation::can_be_recomputed;

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/demo");

fn fishplate(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_fishplate"))
        .args(arguments)
        .env("LC_ALL", "C.UTF-8")
        .env_remove("FISHPLATE_SERVER")
        .output()
        .expect("the program was built for this test")
}

fn out(output: &Output) -> String {
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}

/// What is left of the metric units in a text: the unit with what stands before it.
fn metric(text: &str) -> Vec<String> {
    let words: Vec<&str> =
        text.split([' ', '\n', '\u{A0}', '>', '<', '(', ')', ';', ',']).collect();
    let number = |word: &str| word.starts_with(|c: char| c.is_ascii_digit());
    let left = words.windows(2).filter(|pair| {
        let unit = pair[1].trim_end_matches(['.', ':']);
        matches!(unit, "mm" | "mm²" | "mm³" | "mm⁴" | "MPa" | "kN" | "N/mm" | "kg")
            || (unit == "N" && number(pair[0]))
    });
    left.map(|pair| pair.join(" ")).collect()
}

/// The page without its style, its script and its tags.
fn read(page: &str) -> String {
    let body = page.split("</head>").nth(1).expect("the page has a head");
    let mut text = String::new();
    let mut inside = false;
    for c in body.chars() {
        match c {
            '<' => inside = true,
            '>' => inside = false,
            c if !inside => text.push(c),
            _ => {}
        }
    }
    text
}

#[test]
fn what_is_looked_for_is_found() {
    assert_eq!(metric("a 3 mm web takes 12\u{A0}N, N = 4 lbf"), ["3 mm", "12 N"]);
}

#[test]
fn in_inches_and_pounds_nothing_metric_is_left() {
    let file = format!("{DEMO}/van-a.toml");
    let page = std::env::temp_dir().join(format!("fishplate-{}-us.html", std::process::id()));
    let name = page.to_string_lossy().into_owned();
    for asked in [
        ["check", &file, "--width", "80", "--ascii"].as_slice(),
        &["check", &file, "--width", "160", "--all", "--html", &name],
        &["explain", &file, "rail.frame left", "--html", &name],
    ] {
        let text = out(&fishplate(&[asked, &["--units", "us"]].concat()));
        assert_eq!(metric(&text), Vec::<String>::new(), "{asked:?}");
        assert!(text.contains(" in"), "{text}");
        // The hints ask on in the same units.
        assert_eq!(text.matches("--units us").count(), if asked[0] == "check" { 2 } else { 0 });
        if asked.contains(&"--html") {
            let page = std::fs::read_to_string(&page).expect("the page was written");
            assert_eq!(metric(&read(&page)), Vec::<String>::new(), "{asked:?}");
            assert!(page.contains("lbf"));
        }
    }
    std::fs::remove_file(&page).expect("the page was written");
}

/// The demo in inches and pounds: each number of the file over the size of its unit, to sixteen
/// digits; sizes as in NIST SP 811 (2008), appendix B.8, exact ones.
#[test]
fn a_file_in_inches_gives_the_answer_of_the_file_in_millimetres() {
    let text = std::fs::read_to_string(format!("{DEMO}/van-a.toml")).expect("the demo is there");
    let inches = text
        .lines()
        .map(|line| {
            let (start, rest) = line.split_once('"').unwrap_or((line, ""));
            let Some((value, end)) = rest.split_once('"') else { return line.to_owned() };
            format!("{start}\"{}\"{end}", in_us_units(value))
        })
        .collect::<Vec<_>>()
        .join("\n");
    for unit in [" in\"", " lb\"", "lbf ft\"", "lbf/in", " ksi"] {
        assert!(inches.contains(unit), "{inches}");
    }
    let file = std::env::temp_dir().join(format!("fishplate-{}-us.toml", std::process::id()));
    std::fs::write(&file, &inches).expect("the system has a folder for temporary files");
    let answer = |file: &str| out(&fishplate(&["check", file, "--width", "160"]));
    let name = file.to_string_lossy().into_owned();
    let (one, other) = (answer(&format!("{DEMO}/van-a.toml")), answer(&name));
    std::fs::remove_file(&file).expect("the file was written");
    let checks = |text: &str| -> Vec<String> {
        let rows = text.lines().filter(|l| l.contains('│')).map(str::to_owned);
        rows.collect()
    };
    assert!(checks(&one).len() > 40);
    assert_eq!(checks(&one), checks(&other));
}

/// A value of the file in inches and pounds; one without a metric unit stays.
fn in_us_units(value: &str) -> String {
    let sizes = [
        (" N/mm", 0.175_126_835_246_476, " lbf/in"),
        (" N m", 1.355_817_948_331_400_4, " lbf ft"),
        (" MPa", 6.894_757_293_168_361, " ksi"),
        (" mm", 25.4, " in"),
        (" kg", 0.453_592_37, " lb"),
    ];
    let Some((wire, size, unit)) = sizes.into_iter().find(|(wire, ..)| value.contains(wire)) else {
        return value.to_owned();
    };
    // Names of steels and factors of a spread bear no unit.
    let mut out = String::new();
    for (index, piece) in value.split_inclusive(' ').enumerate() {
        let bare = piece.trim_end_matches([' ', ',']);
        let digits = bare.trim_start_matches(['~', '-', '+']);
        let factor = index > 0 && out.trim_end().ends_with("×÷");
        match digits.parse::<f64>() {
            Ok(number) if !factor => {
                let lead = &bare[..bare.len() - digits.len()];
                out.push_str(&format!("{lead}{:.16}{}", number / size, &piece[bare.len()..]));
            }
            _ => out.push_str(piece),
        }
    }
    out.replace(wire.trim_start(), unit.trim_start())
}

/// Every step of every row and of every load of the demos, put together again from the numbers of
/// the steps before it: what is printed leads to what is printed.
#[test]
fn every_sum_comes_out_when_its_numbers_are_put_in() {
    let runtime = tokio::runtime::Runtime::new().expect("the system gives threads");
    let channel = runtime.block_on(fishplate_service::in_process::connect());
    let channel = channel.expect("the service needs nothing");
    let mut client = CheckServiceClient::new(channel).max_decoding_message_size(64 << 20);
    let mut put_in = 0;
    for van in ["van-a", "van-b", "van-c"] {
        let text =
            std::fs::read_to_string(format!("{DEMO}/{van}.toml")).expect("the demo is there");
        let project = project::read(&text).expect("the demo can be read").project;
        let asked = CheckProjectRequest {
            project: Some(project.clone()),
            with_derivations: true,
            depth: Depth::Frame.into(),
            with_scene: false,
        };
        let answer: CheckProjectResponse =
            runtime.block_on(client.check_project(asked)).expect("it is checked").into_inner();
        for row in &answer.rows {
            put_in += sums(&row.derivation, &row.id);
        }
        for case in &answer.cases {
            let row = answer.rows.iter().find(|r| r.case_name == case.name);
            let Some(row) = row.filter(|r| !r.case_name.is_empty()) else { continue };
            let asked = ExplainRowRequest {
                project: Some(project.clone()),
                row_id: row.id.clone(),
                case_name: case.name.clone(),
                ..Default::default()
            };
            let answer = runtime.block_on(client.explain_row(asked)).expect("it is explained");
            put_in += sums(&answer.into_inner().loads, &case.name);
        }
    }
    assert!(put_in > 2000, "{put_in}");
}

/// How many steps were put in again.
fn sums(steps: &[DerivationStep], of: &str) -> usize {
    let mut count = 0;
    for (at, step) in steps.iter().enumerate() {
        if step.expression.is_empty() {
            continue;
        }
        let comes_out = can_be_recomputed(steps, at);
        assert_eq!(comes_out, Some(true), "{of}: {step:?}");
        count += 1;
    }
    count
}
