use super::super::sample;
use super::*;

fn plain(answer: &CheckProjectResponse, width: usize, ascii: bool, all: bool) -> String {
    let asked = Asked {
        file: "van-a.toml",
        all,
        set: &[],
        place_of: &|path| path.starts_with("mounts").then(|| "line 53".to_owned()),
    };
    let text = check(answer, &asked, Look::new(width, ascii));
    anstream::adapter::strip_str(&text).to_string()
}

fn in_inches() -> String {
    let asked = Asked { file: "van-a.toml", set: &[], all: false, place_of: &|_| None };
    let look = Look::new(160, false).in_units(Units::Us);
    anstream::adapter::strip_str(&check(&sample::answer(), &asked, look)).to_string()
}

/// By hand: 7530 N over 4.448 222 is 1693 lbf, 3.09 mm over 25.4 is 0.122 in, 218 N m over
/// 1.355 818 is 161 lbf ft.
#[test]
fn in_inches_the_sample_says_the_same() {
    let text = in_inches();
    for part in ["1693 lbf sideways", "161 lbf ft: 0.79", "0.122 in           0.197 in"] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
    for unit in [" mm", "MPa", " kN", " N "] {
        assert!(!text.contains(unit), "{unit} in\n{text}");
    }
}

/// Lines of the form that was agreed on for answers, written by hand.
#[test]
fn the_narrow_table_keeps_its_agreed_form() {
    let text = plain(&sample::answer(), 80, false, false);
    for line in [
        "DOES NOT HOLD   Light van, rear cradle, design A",
        "2 checks exceed, 2 hold, 1 not checked. The right side is the mirror image.",
        "3.48  FL-2  Front-left bush bolt slips",
        "            case   P1, pothole while braking, left wheel",
        "            helps  bare faces, M14-10.9, washer 28 × 4, 218 N m: 0.79",
        "no.   part and check                      use                  state       case",
        "FL-1  bush: travel to its stop           0.62 ━━━━    │        holds       K1",
        "FL-2  bush bolt: faces slip              3.48 ━━━━━━━━│━━╱ ━━╱ exceeds     P1",
        "FL-3  bush bolt: shear with tension      0.31 ━━      │        holds       P1",
        "FL-5  bracket: twist of the open U          - ╌╌╌╌╌╌╌╌│        not checked -",
        "FL-7  rail web 2.2 mm: wall bending      1.65 ━━━━━━━━│━━━━╱   exceeds     P1",
    ] {
        assert!(text.lines().any(|l| l == line), "no line\n{line}\nin\n{text}");
    }
    assert!(!text.contains("FR-2"), "{text}");
}

#[test]
fn the_wide_table_keeps_its_agreed_form() {
    let text = plain(&sample::answer(), 160, false, false);
    for line in [
        "FL-2  Bush bolt, M12-8.8: clamped faces slip                          3.48 \
         ━━━━━━━━━━━━│━━━━━━╱ ━━╱ exceeds     P1   7.53 kN            2.16 kN",
        "FL-5  Bracket, folded U, 5 mm: twist of the open U                       - \
         ╌╌╌╌╌╌╌╌╌╌╌╌│            not checked -    needs the plate level",
        "highest use      S0      D2      P1      K1",
        "FL               0.07    0.94    3.48    2.25",
    ] {
        assert!(text.lines().any(|l| l == line), "no line\n{line}\nin\n{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    for width in [60, 71, 80, 100, 120, 133, 160, 300] {
        for ascii in [false, true] {
            for all in [false, true] {
                let text = plain(&sample::answer(), width, ascii, all);
                let widest = Look::new(width, ascii).width();
                // A command is copied as a whole and never broken.
                let hint = |l: &str| l.starts_with("Every number:") || l.starts_with("With draw");
                for line in text.lines().filter(|line| !hint(line)) {
                    assert!(line.chars().count() <= widest, "{width}: {line}");
                }
                assert!(!ascii || text.is_ascii(), "{text}");
            }
        }
    }
}

#[test]
fn forces_are_told_in_words() {
    let text = plain(&sample::answer(), 160, false, false);
    let line = "In P1 the cradle pushes the rail at the front left mount rearward 7.14, outward \
                2.40, down 5.30 kN.";
    assert!(text.contains(line), "{text}");
}

#[test]
fn a_cargo_pushes_at_its_own_feet() {
    let mut answer = sample::answer();
    answer.mounts[0].carries = "battery".to_owned();
    let text = plain(&answer, 160, false, false);
    assert!(text.contains("In P1 the battery pushes the rail at the front left mount"), "{text}");
}

#[test]
fn everything_shows_both_sides_and_the_other_ways() {
    let text = plain(&sample::answer(), 80, false, true);
    assert!(text.contains("FR-2") && text.contains("other way: shank instead"), "{text}");
    assert!(text.contains("bush height above the clamped face taken as 0"), "{text}");
}

#[test]
fn a_difference_between_the_sides_is_shown() {
    let mut answer = sample::answer();
    let right = answer.rows.iter_mut().find(|r| r.id == "FR-1").unwrap();
    right.utilisation = Some(0.7);
    let text = plain(&answer, 80, false, false);
    assert!(text.contains("FR-1  ") && !text.contains("mirror image"), "{text}");
}

/// The word follows the state of the row, whatever its number rounds to.
#[test]
fn the_word_is_decided_by_the_state() {
    let mut answer = sample::answer();
    answer.rows[0].utilisation = Some(1.000_000_1);
    answer.rows[0].state = State::Exceeds as i32;
    answer.rows[1].utilisation = Some(0.999_999);
    answer.rows[1].state = State::Holds as i32;
    answer.rows[2].state = State::NotChecked as i32;
    let text = plain(&answer, 80, false, false);
    let line =
        |id: &str| text.lines().find(|l| l.starts_with(id) && l.contains('│')).unwrap().to_owned();
    assert!(line("FL-1").contains("> 1 ") && line("FL-1").contains("exceeds"), "{text}");
    assert!(line("FL-2").contains("1.000 ") && line("FL-2").contains("holds"), "{text}");
    assert!(line("FL-3").contains(" - ") && line("FL-3").contains("not checked"), "{text}");
}

/// The reader looks at the numbers alone: two that are equal as printed tell of no effect.
#[test]
fn a_guess_that_moves_nothing_is_not_said_to_matter() {
    let mut answer = sample::answer();
    answer.guesses[0].utilisation_low = Some(3.4821);
    answer.guesses[0].utilisation_high = Some(3.4819);
    let text = plain(&answer, 80, false, false);
    assert!(!text.contains("3.48 to 3.48"), "{text}");
    assert!(text.contains("none of those that were tried moves it"), "{text}");
    let mut second = answer.guesses[0].clone();
    second.what = "rubber, axial stiffness".to_owned();
    second.utilisation_high = Some(3.9);
    answer.guesses.insert(1, second);
    let text = plain(&answer, 80, false, false);
    assert!(text.contains("3.48 to 3.90  rubber, axial stiffness"), "{text}");
    assert!(text.contains("does not move it: rubber, radial stiffness\n"), "{text}");
}

/// A number of five letters once stood against the name that was cut before it.
#[test]
fn a_name_and_its_number_never_touch() {
    let mut answer = sample::answer();
    answer.rows[0].short_what = "largest leg along the edge of a sheet, and more".to_owned();
    for value in [1.0, 0.5, 12.3, 123_456.0] {
        answer.rows[0].utilisation = Some(value);
        for width in [60, 80, 160] {
            let text = plain(&answer, width, false, false);
            let row = text.lines().find(|l| l.starts_with("FL-1") && l.contains('│')).unwrap();
            let number = super::utilisation(value, false);
            assert!(row.contains(&format!(" {number} ")), "{row}");
        }
    }
}

#[test]
fn a_provisional_verdict_says_why() {
    let mut answer = sample::answer();
    answer.verdict = Verdict::Provisional as i32;
    answer.findings.clear();
    answer.provisional_reasons = vec!["rail as a beam is not checked".to_owned()];
    for row in &mut answer.rows {
        row.utilisation = row.utilisation.map(|u| u / 4.0);
        if row.state() == State::Exceeds {
            row.state = State::Holds as i32;
        }
    }
    let text = plain(&answer, 80, false, false);
    assert!(text.contains("PROVISIONAL   Light van"), "{text}");
    assert!(text.contains("it is not a pass:\n  rail as a beam is not checked"), "{text}");
    assert!(
        text.contains("0.87  FL-2  Bush bolt, M12-8.8: clamped faces slip: the highest"),
        "{text}"
    );
}

#[test]
fn more_than_five_findings_are_counted() {
    let mut answer = sample::answer();
    let one = answer.findings[0].clone();
    answer.findings = vec![one; 8];
    let text = plain(&answer, 80, false, false);
    assert!(text.contains("and 3 more: fishplate check van-a.toml --all"), "{text}");
}

#[test]
fn an_answer_without_rows_says_that_nothing_was_checked() {
    let answer = CheckProjectResponse { title: "x".to_owned(), ..CheckProjectResponse::default() };
    assert!(plain(&answer, 80, false, false).contains("Nothing was checked."));
}

/// Goldens: copies of what was once printed. They prove that nothing changed, not that it is right.
mod golden {
    use super::*;

    #[test]
    fn narrow() {
        assert_eq!(plain(&sample::answer(), 80, false, false), include_str!("golden/narrow.txt"));
    }

    #[test]
    fn wide() {
        assert_eq!(plain(&sample::answer(), 160, false, false), include_str!("golden/wide.txt"));
    }

    #[test]
    fn narrow_ascii() {
        assert_eq!(plain(&sample::answer(), 80, true, false), include_str!("golden/ascii.txt"));
    }

    #[test]
    fn inches() {
        assert_eq!(in_inches(), include_str!("golden/inches.txt"));
    }

    #[test]
    fn everything() {
        assert_eq!(plain(&sample::answer(), 80, false, true), include_str!("golden/all.txt"));
    }
}
