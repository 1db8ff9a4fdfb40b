//! Sheets of expected values with their sources, and what came out beside them.
//!
//! Expected values come from outside this program and stand in `data/`; a test only says what came
//! out. A sheet that is handed in with a value missing is itself a failure.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use serde_json::Value;

/// How far a value may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tolerance {
    /// As a part of the expected value.
    Relative(f64),
    /// In the unit of the value.
    Absolute(f64),
}

/// One expected value.
#[derive(Debug, Clone, PartialEq)]
pub struct Case {
    /// Short name of the case: `A01`.
    pub id: String,
    /// Which of its quantities.
    pub quantity: String,
    /// Unit of the value, `-` for a pure number.
    pub unit: String,
    /// What has to come out.
    pub expected: f64,
    /// How far it may be off.
    pub tolerance: Tolerance,
    /// A tighter tolerance that was wanted, relative, where it is known to be missed.
    pub wanted: Option<f64>,
    /// Where the expected value comes from.
    pub source: String,
}

/// An expected value with what came out.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What had to come out.
    pub case: Case,
    /// What came out.
    pub got: f64,
}

impl Line {
    /// The error relative to the expected value; to 1 where that is 0.
    #[must_use]
    pub fn relative_error(&self) -> f64 {
        let size = self.case.expected.abs();
        (self.got - self.case.expected).abs() / if size > 0.0 { size } else { 1.0 }
    }

    /// Whether the error is within its tolerance. A value that is no number never is.
    #[must_use]
    pub fn holds(&self) -> bool {
        match self.case.tolerance {
            Tolerance::Relative(most) => self.relative_error() <= most,
            Tolerance::Absolute(most) => (self.got - self.case.expected).abs() <= most,
        }
    }

    /// What the table tells of the tolerance: also of one that was wanted, and whether it is met.
    fn allowed(&self) -> String {
        let allowed = tolerance(self.case.tolerance);
        match self.case.wanted {
            None => allowed,
            Some(part) if self.relative_error() <= part => {
                format!("{allowed}; {part:e} wanted, met")
            }
            Some(part) => format!("{allowed}; {part:e} wanted, **missed**"),
        }
    }
}

/// The quantities of one case, each to be given its value once.
#[derive(Debug)]
pub struct Sheet {
    cases: Vec<Case>,
    got: BTreeMap<String, f64>,
}

impl Sheet {
    /// The case `id` of `data`, the text of a file of `data/`.
    ///
    /// # Panics
    /// When the file has no such case or is not of its form.
    #[must_use]
    pub fn of(data: &str, id: &str) -> Self {
        let file: Value = serde_json::from_str(data).expect("the data files are JSON");
        let list = file["cases"].as_array().expect("a data file lists its cases");
        let one = list.iter().find(|case| case["id"] == id);
        let one = one.unwrap_or_else(|| panic!("no case {id} in the data"));
        let text = |value: &Value| value.as_str().expect("names are text").to_owned();
        let number = |value: &Value| value.as_f64().expect("values are numbers");
        let quantities = one["quantities"].as_array().expect("a case lists its quantities");
        let case = |entry: &Value| {
            let tolerance = match entry.get("relative") {
                Some(part) => Tolerance::Relative(number(part)),
                None => Tolerance::Absolute(number(&entry["absolute"])),
            };
            Case {
                id: id.to_owned(),
                quantity: text(&entry["name"]),
                unit: text(&entry["unit"]),
                expected: number(&entry["expected"]),
                tolerance,
                wanted: entry.get("wanted").map(number),
                source: text(&one["source"]),
            }
        };
        Self::new(quantities.iter().map(case).collect())
    }

    /// A sheet of these cases.
    #[must_use]
    pub fn new(cases: Vec<Case>) -> Self {
        Self { cases, got: BTreeMap::new() }
    }

    /// Notes what came out for a quantity.
    ///
    /// # Panics
    /// When the sheet does not ask for it, or it was noted before.
    pub fn got(&mut self, quantity: &str, value: f64) {
        let known = self.cases.iter().any(|case| case.quantity == quantity);
        assert!(known, "{} does not ask for `{quantity}`", self.name());
        let before = self.got.insert(quantity.to_owned(), value);
        assert!(before.is_none(), "{} has `{quantity}` twice", self.name());
    }

    /// The sheet, filled.
    ///
    /// # Panics
    /// When a quantity was left out.
    #[must_use]
    pub fn lines(self) -> Vec<Line> {
        let name = self.name().to_owned();
        let Self { cases, got } = self;
        let line = |case: Case| {
            let value = got.get(&case.quantity);
            let got = *value.unwrap_or_else(|| panic!("{name}: no `{}`", case.quantity));
            Line { case, got }
        };
        cases.into_iter().map(line).collect()
    }

    fn name(&self) -> &str {
        self.cases.first().map_or("an empty sheet", |case| case.id.as_str())
    }
}

/// Prints every line and fails with those that are off.
///
/// # Panics
/// When a line is off by more than its tolerance.
#[allow(clippy::print_stdout, reason = "the lines are what a reader of the tests looks for")]
pub fn assert_close(lines: &[Line]) {
    let mut off = Vec::new();
    for line in lines {
        let Line { case, got } = line;
        let error = line.relative_error();
        let told = format!(
            "{} | {} [{}] | expected {:.9e} | got {got:.9e} | relative error {error:.1e}",
            case.id, case.quantity, case.unit, case.expected
        );
        println!("{told}");
        if !line.holds() {
            off.push(format!("{told} | allowed {}", tolerance(case.tolerance)));
        }
    }
    assert!(!lines.is_empty(), "nothing was compared");
    assert!(off.is_empty(), "{} of {} are off:\n{}", off.len(), lines.len(), off.join("\n"));
}

/// The written table: a heading for each family, below it a table for each source.
#[must_use]
pub fn table(families: &[(&str, Vec<Line>)]) -> String {
    let mut text = String::from(
        "# Verification\n\n\
         Every expected value comes from outside this program; its source stands above it. The \
         values that came out went over gRPC.\nThe test `the_written_table_is_true` compares this \
         file with a run; with `FISHPLATE_WRITE_TABLE=1` it writes it.\n",
    );
    for (title, lines) in families {
        write!(text, "\n## {title}\n").expect("a string can always grow");
        let mut source = "";
        for line in lines {
            if line.case.source != source {
                source = &line.case.source;
                write!(text, "\nSource: {source}.\n\n{HEAD}").expect("a string can always grow");
            }
            let [id, quantity, unit, expected, got, error, tolerance] = cells(line);
            writeln!(
                text,
                "| {id} | {quantity} | {unit} | {expected} | {got} | {error} | {tolerance} |"
            )
            .expect("a string can always grow");
        }
    }
    text
}

const HEAD: &str = "| id | quantity | unit | expected | got | relative error | tolerance |\n\
                    | --- | --- | --- | ---: | ---: | ---: | ---: |\n";

/// The lines of a written table without what came out and its error: these must stay as written.
#[must_use]
pub fn fixed(table: &str) -> Vec<String> {
    let kept = |line: &str| {
        let cells: Vec<&str> = line.split(" | ").collect();
        match cells.as_slice() {
            [id, quantity, unit, expected, _, _, tolerance] => {
                [*id, *quantity, *unit, *expected, *tolerance].join(" | ")
            }
            _ => line.to_owned(),
        }
    };
    table.lines().map(kept).collect()
}

fn cells(line: &Line) -> [String; 7] {
    let Line { case, got } = line;
    let safe = |text: &str| text.replace('|', "\\|");
    [
        safe(&case.id),
        safe(&case.quantity),
        safe(&case.unit),
        digits(case.expected),
        digits(*got),
        format!("{:.1e}", line.relative_error()),
        line.allowed(),
    ]
}

/// Eight digits, without the noise of a value that is 0 but for rounding.
fn digits(value: f64) -> String {
    let size = value.abs();
    if size <= 0.0 {
        "0".to_owned()
    } else if (1e-3..1e7).contains(&size) {
        // Cast: the exponent of a number in this range is between -3 and 7.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let places = (7 - size.log10().floor() as i32).max(0) as usize;
        let text = format!("{value:.places$}");
        if text.contains('.') {
            text.trim_end_matches('0').trim_end_matches('.').to_owned()
        } else {
            text
        }
    } else {
        format!("{value:.7e}")
    }
}

fn tolerance(given: Tolerance) -> String {
    match given {
        Tolerance::Relative(part) => format!("{part:e}"),
        Tolerance::Absolute(most) => format!("± {most}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn case(expected: f64, tolerance: Tolerance) -> Case {
        let [id, quantity, unit, source] = ["X1", "|M|", "N", "none"].map(str::to_owned);
        Case { id, quantity, unit, expected, tolerance, wanted: None, source }
    }

    #[test]
    fn what_is_off_or_no_number_does_not_hold() {
        let relative = case(100.0, Tolerance::Relative(1e-3));
        assert!(Line { case: relative.clone(), got: 100.09 }.holds());
        assert!(!Line { case: relative.clone(), got: 100.11 }.holds());
        assert!(!Line { case: relative, got: f64::NAN }.holds());
        let absolute = case(0.0, Tolerance::Absolute(0.5));
        assert!(Line { case: absolute.clone(), got: -0.4 }.holds());
        assert!(!Line { case: absolute, got: f64::NAN }.holds());
    }

    #[test]
    fn a_tolerance_that_was_wanted_is_told_missed_or_met() {
        let wanted = Case { wanted: Some(0.01), ..case(100.0, Tolerance::Relative(0.05)) };
        let told = |got| Line { case: wanted.clone(), got }.allowed();
        assert_eq!(told(103.0), "5e-2; 1e-2 wanted, **missed**");
        assert_eq!(told(100.5), "5e-2; 1e-2 wanted, met");
        assert_eq!(told(f64::NAN), "5e-2; 1e-2 wanted, **missed**");
    }

    #[test]
    #[should_panic(expected = "1 of 1 are off")]
    fn a_line_that_is_off_fails() {
        assert_close(&[Line { case: case(1.0, Tolerance::Relative(1e-6)), got: 1.1 }]);
    }

    #[test]
    #[should_panic(expected = "no `|M|`")]
    fn a_quantity_left_out_fails() {
        let _ = Sheet::new(vec![case(1.0, Tolerance::Relative(1e-6))]).lines();
    }

    #[test]
    fn only_what_came_out_may_change_in_a_written_table() {
        let line = |got| Line { case: case(12.5, Tolerance::Relative(1e-6)), got };
        let written = |got| fixed(&table(&[("Family", vec![line(got)])]));
        let one = written(12.500_001);
        assert_eq!(one, written(12.499_999));
        let row = one.last().unwrap();
        assert_eq!(row, "| X1 | \\|M\\| | N | 12.5 | 1e-6 |");
        assert!(one.contains(&"Source: none.".to_owned()), "{one:?}");
        assert_eq!(digits(-39_393_258.4), "-3.9393258e7");
        assert_eq!(digits(0.011_904_761_9), "0.011904762");
    }
}
