use fishplate_report::Units;

use super::*;

/// The form alone; the numbers are made up, but agree with each other: 15 · 235 · 2.2² = 17 061.
fn answer() -> ExplainRowResponse {
    let derivation = vec![
        DerivationStep {
            symbol: "f_y".to_owned(),
            what: "yield strength of the rail".to_owned(),
            value: 235.0,
            unit: "MPa".to_owned(),
            source: "project, a guess: steels[0].fy".to_owned(),
            guessed: true,
            ..DerivationStep::default()
        },
        DerivationStep {
            symbol: "t".to_owned(),
            what: "wall".to_owned(),
            value: 2.2,
            unit: "mm".to_owned(),
            source: "project: rails[0].readings[2]".to_owned(),
            ..DerivationStep::default()
        },
        DerivationStep {
            symbol: "f_n_rd".to_owned(),
            what: "force across the wall".to_owned(),
            expression: "if t > 4.0 * MM { 12.0 * f_y * sq(t) } else { 15.0 * f_y * sq(t) }"
                .to_owned(),
            value: 17_061.0,
            unit: "N".to_owned(),
            source: "EN 1993-1-8:2005, Table 7.11".to_owned(),
            ..DerivationStep::default()
        },
    ];
    let row = Row {
        id: "FL-7".to_owned(),
        what: "rail web under the foot: wall bending".to_owned(),
        state: State::Exceeds as i32,
        utilisation: Some(1.647),
        derivation,
        ..Row::default()
    };
    ExplainRowResponse { row: Some(row), ..ExplainRowResponse::default() }
}

fn shown(look: Look) -> String {
    let told = Told { look, place: &|path| format!("<{path}>") };
    anstream::adapter::strip_str(&explain(&[answer()], &told)).to_string()
}

#[test]
fn each_step_shows_formula_numbers_and_result() {
    let text = shown(Look::new(80, false));
    for part in [
        "f_y = 235 MPa (guessed)",
        "yield strength of the rail; a guess,",
        "<steels[0].fy>",
        "    F_n,Rd = 12 · f_y · t² for t > 4 mm\n",
        "          or 15 · f_y · t² otherwise\n",
        "             here 2.2 mm ≤ 4 mm\n",
        "           = 15 · 235 MPa · (2.2 mm)²\n",
        "           = 17061 N",
        "EN 1993-1-8:2005, Table 7.11",
        "Utilisation 1.647  exceeds",
        "Units: 1 MPa = 1 N/mm²",
    ] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    assert!(text.lines().all(|l| l.chars().count() <= 80), "{text}");
}

/// By hand: 235 MPa over 6.894 757 is 34.08 ksi, 2.2 mm over 25.4 is 0.08661 in, 4 mm is 0.1575 in,
/// 17 061 N over 4.448 222 is 3835 lbf.
#[test]
fn in_inches_no_number_is_left_behind() {
    let text = shown(Look::new(80, false).in_units(Units::Us));
    for part in
        ["f_y = 34.08 ksi", "t > 0.1575 in", "= 15 · 34.08 ksi · (0.08661 in)²", "= 3835 lbf"]
    {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    for unit in ["mm", "MPa", " N "] {
        assert!(!text.contains(unit), "{unit} in\n{text}");
    }
}

#[test]
fn ascii_is_enough() {
    let text = shown(Look::new(80, true));
    assert!(text.is_ascii(), "{text}");
    assert!(text.contains("15 * 235 MPa * (2.2 mm)^2"), "{text}");
}
