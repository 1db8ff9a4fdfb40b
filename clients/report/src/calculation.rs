//! Derivations as one follows them with pen and paper: symbols as in the standard, the formula,
//! its numbers with units, the result, the clause, and where each input came from.
//!
//! A step is laid out once, for the terminal as for the page. Numbers are set from the steps before
//! it in full precision and in the units asked for; where a name is not among them, the text of
//! the service stands.

use fishplate_proto::v1;

use crate::names::{capital, quoted};
use crate::numbers::{self, NOT_FOUND};
use crate::state::finite;
use crate::symbols::{
    Hand, Known, Setting, Tree, agrees, cases, chosen, formula, raw, read, symbol,
};
use crate::units::Units;

/// How derivations are written.
#[derive(Clone, Copy)]
pub struct Manner<'a> {
    /// In which units.
    pub units: Units,
    /// With which letters.
    pub hand: Hand,
    /// A path of the request as the reader knows it: name in the file, line.
    pub place: &'a dyn Fn(&str) -> String,
}

impl std::fmt::Debug for Manner<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Manner")
            .field("units", &self.units)
            .field("hand", &self.hand)
            .finish_non_exhaustive()
    }
}

/// One line of a derivation, laid out. In the hand of a page its texts are markup, else letters.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// What it is, in words. Never markup.
    pub what: String,
    /// Its symbol.
    pub symbol: String,
    /// The formula, each line with the condition it holds under (empty: always). Empty for a number
    /// that came in from outside.
    pub formula: Vec<(String, String)>,
    /// The formula with its numbers; empty where that would say nothing new.
    pub numbers: String,
    /// Which case applies, and why; empty where there is one.
    pub because: String,
    /// Result with its unit.
    pub result: String,
    /// Clause with edition, or where the number came from. Never markup.
    pub source: String,
    /// Whether it was marked as not measured.
    pub guessed: bool,
    /// Whether it is the last of its derivation.
    pub last: bool,
}

impl Step {
    /// Whether its formula is the very result: a factor that is 1 here.
    #[must_use]
    pub fn is_plain(&self) -> bool {
        self.numbers.is_empty()
            && self.because.is_empty()
            && matches!(self.formula.as_slice(), [(line, _)] if *line == self.result)
    }

    /// Whether it came in from outside.
    #[must_use]
    pub fn is_given(&self) -> bool {
        self.formula.is_empty()
    }
}

/// A part of a derivation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Item {
    /// One step.
    Step(Step),
    /// The same steps again and again, such as the sum over many forces.
    Table(Table),
}

/// Steps that repeat, one repetition a row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Table {
    /// The steps: for a formula without numbers and result, for an input without source.
    pub columns: Vec<Column>,
    /// What a row is about, and its numbers in the order of the columns.
    pub rows: Vec<(String, Vec<String>)>,
}

/// A step that is a column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Column {
    /// The step; what changes from row to row is left empty.
    pub step: Step,
    /// The unit of the numbers.
    pub unit: String,
}

/// The fewest repetitions that are a table.
const FEWEST: usize = 3;
/// The longest repetition that is looked for, steps.
const LONGEST: usize = 16;

/// The steps of a derivation, those that repeat as tables.
#[must_use]
pub fn items(all: &[v1::DerivationStep], manner: Manner<'_>) -> Vec<Item> {
    let mut out = Vec::new();
    let mut at = 0;
    while at < all.len() {
        match repeats(&all[at..]) {
            Some((length, times)) => {
                out.push(Item::Table(table(all, at, (length, times), manner)));
                at += length * times;
            }
            None => {
                out.extend(step(all, at, manner).map(Item::Step));
                at += 1;
            }
        }
    }
    out
}

/// The length of what repeats at the start of `steps` and how often, where that makes a table: the
/// one that takes in the most steps.
fn repeats(steps: &[v1::DerivationStep]) -> Option<(usize, usize)> {
    let times = |length: usize| {
        let (first, blocks) = (steps.get(..length)?, steps.chunks_exact(length));
        let count = blocks.take_while(|block| is_like(first, block)).count();
        (count >= FEWEST).then_some((length, count))
    };
    // Of equals the shorter, which is found first.
    (2..=LONGEST).filter_map(times).rev().max_by_key(|(length, count)| length * count)
}

/// Whether two blocks are the same but for their numbers, each about one thing.
fn is_like(first: &[v1::DerivationStep], block: &[v1::DerivationStep]) -> bool {
    let alike = |(a, b): (&v1::DerivationStep, &v1::DerivationStep)| {
        a.symbol == b.symbol && a.expression == b.expression && a.unit == b.unit && a.what == b.what
    };
    first.iter().zip(block).all(alike) && about(block).is_some()
}

/// What the inputs of a block have in common as their source; nothing where they differ.
fn about(block: &[v1::DerivationStep]) -> Option<&str> {
    let mut given = block.iter().filter(|s| s.expression.trim().is_empty());
    let first = given.next()?.source.as_str();
    given.all(|s| s.source == first).then_some(first)
}

fn table(
    all: &[v1::DerivationStep],
    at: usize,
    (length, times): (usize, usize),
    manner: Manner<'_>,
) -> Table {
    let column = |offset: usize| {
        let wire = all.get(at + offset)?;
        let step = step(all, at + offset, manner)?;
        let empty = String::new;
        let source = if step.is_given() { empty() } else { step.source };
        let step = Step { numbers: empty(), because: empty(), result: empty(), source, ..step };
        Some(Column { step, unit: manner.units.unit(&wire.unit).to_owned() })
    };
    let row = |block: &[v1::DerivationStep]| {
        let number = |step: &v1::DerivationStep| {
            let value = manner.units.value(step.value, &step.unit);
            let digits = match manner.hand {
                Hand::Page => numbers::significant(value),
                Hand::Text | Hand::Ascii => numbers::plain(value, 4),
            };
            // The mark of a guess in the file.
            if step.guessed { format!("~{digits}") } else { digits }
        };
        let source = about(block).unwrap_or_default();
        (origin(source, manner.place), block.iter().map(number).collect())
    };
    let blocks = all.get(at..at + length * times).unwrap_or_default();
    Table {
        columns: (0..length).filter_map(column).collect(),
        rows: blocks.chunks_exact(length).map(row).collect(),
    }
}

/// The steps of a derivation, one by one.
#[must_use]
pub fn steps(all: &[v1::DerivationStep], manner: Manner<'_>) -> Vec<Step> {
    (0..all.len()).filter_map(|at| step(all, at, manner)).collect()
}

fn step(all: &[v1::DerivationStep], at: usize, manner: Manner<'_>) -> Option<Step> {
    let step = all.get(at)?;
    let last = at + 1 == all.len();
    let known = Known::before(all, at);
    let setting = Setting { hand: manner.hand, units: manner.units, known, numbers: false };
    let filled = Setting { numbers: true, ..setting };
    let result = result(step, last, setting);
    let expression = step.expression.trim();
    let (mut formula_lines, mut numbers, mut because) = (Vec::new(), String::new(), String::new());
    if let Some(tree) = read(expression) {
        formula_lines = cases(&tree, setting);
        match chosen(&tree, known, step) {
            Some((branch, reasons)) => {
                numbers = telling(&branch, &result, filled);
                let reasons: Vec<String> = reasons.iter().map(|r| r.print(filled)).collect();
                because = reasons.join(" and ");
            }
            // A name that is no step, or a sum whose terms cancel: the numbers as they are told.
            None if is_known(&tree, known) => numbers = formula(&tree, filled),
            None => numbers = told(step, filled),
        }
    } else if !expression.is_empty() {
        formula_lines = vec![(raw(expression, setting), String::new())];
        numbers = told(step, filled);
    }
    Some(Step {
        what: step.what.clone(),
        symbol: symbol(&step.symbol, Some(&step.unit), manner.hand),
        formula: formula_lines,
        numbers,
        because,
        result,
        source: origin(&step.source, manner.place),
        guessed: step.guessed,
        last,
    })
}

/// The branch with its numbers, where that is more than the result.
fn telling(branch: &Tree, result: &str, filled: Setting<'_>) -> String {
    let shown = formula(branch, filled);
    if shown == result || matches!(branch, Tree::Number(..) | Tree::Name(_)) {
        return String::new();
    }
    shown
}

/// Whether every name of a tree is a step before.
fn is_known(tree: &Tree, known: Known<'_>) -> bool {
    let unknown = std::cell::Cell::new(false);
    let _ = tree.replaced(&|t: &Tree| {
        if let Tree::Name(name) = t {
            unknown.set(unknown.get() || known.step(name).is_none());
        }
        None
    });
    !unknown.get()
}

/// The numbers as the service has put them in.
fn told(step: &v1::DerivationStep, setting: Setting<'_>) -> String {
    let numbers = step.numbers.trim();
    if numbers == step.expression.trim() {
        return String::new();
    }
    let numbers = setting.units.text(numbers);
    raw(&numbers, setting)
}

/// A result with its unit: four digits; the last of a derivation, a pure number, three decimals.
fn result(step: &v1::DerivationStep, last: bool, setting: Setting<'_>) -> String {
    let Some(value) = finite(Some(step.value)) else {
        return if setting.hand == Hand::Ascii { "-" } else { NOT_FOUND }.to_owned();
    };
    let (value, unit) = setting.units.of(value, &step.unit);
    let pure_end = last && step.unit.is_empty() && !step.expression.is_empty();
    match setting.hand {
        Hand::Page => {
            let digits =
                if pure_end { numbers::fixed(value, 3) } else { numbers::significant(value) };
            numbers::with_unit(&digits, unit)
        }
        hand => {
            let digits = if pure_end { format!("{value:.3}") } else { numbers::plain(value, 4) };
            match unit {
                "" => digits,
                "°" if hand == Hand::Ascii => format!("{digits} deg"),
                "°" => format!("{digits}°"),
                unit => format!("{digits} {unit}"),
            }
        }
    }
}

/// Where a number came from, in words: a field of the project by its name in the file.
fn origin(source: &str, place: &dyn Fn(&str) -> String) -> String {
    for (lead, words) in [("project: ", ""), ("project, a guess: ", "a guess, ")] {
        if let Some(path) = source.strip_prefix(lead) {
            return format!("{words}{}", place(path));
        }
    }
    quoted(source)
}

/// A remark as a sentence of the page.
pub(crate) fn remark(text: &str) -> String {
    capital(&quoted(text))
}

/// Whether the numbers that are shown lead to the result that is shown; for tests over whole
/// answers. Sums that cancel are left out: their terms do not tell the rest to six digits.
#[must_use]
pub fn can_be_recomputed(all: &[v1::DerivationStep], at: usize) -> Option<bool> {
    let step = all.get(at)?;
    let tree = read(step.expression.trim())?;
    let known = Known::before(all, at);
    is_known(&tree, known).then(|| agrees(&tree, known, step))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn step(symbol: &str, expression: &str, value: f64, unit: &str) -> v1::DerivationStep {
        v1::DerivationStep {
            symbol: symbol.to_owned(),
            expression: expression.to_owned(),
            value,
            unit: unit.to_owned(),
            ..v1::DerivationStep::default()
        }
    }

    fn set(all: &[v1::DerivationStep], units: Units, hand: Hand) -> Vec<Step> {
        steps(all, Manner { units, hand, place: &|path| format!("[{path}]") })
    }

    // By hand: 1200 N on 16 mm² are 75 MPa; 269.8 lbf on 0.0248 in² are 10.88 ksi.
    fn stress() -> Vec<v1::DerivationStep> {
        vec![
            step("n", "", 1200.0, "N"),
            step("a_s", "", 16.0, "mm²"),
            step("sigma_perp", "n / a_s", 75.0, "MPa"),
        ]
    }

    #[test]
    fn a_step_prints_symbol_expression_numbers_and_result() {
        let all = stress();
        let page = &set(&all, Units::Si, Hand::Page)[2];
        assert_eq!(page.symbol, "<i>σ</i><sub>⊥</sub>");
        assert_eq!(page.formula[0].0, "<i>N</i> / <i>A</i><sub>s</sub>");
        assert_eq!(page.result, "75\u{A0}MPa");
        let text = &set(&all, Units::Si, Hand::Text)[2];
        assert_eq!((text.numbers.as_str(), text.result.as_str()), ("1200 N / 16 mm²", "75 MPa"));
        assert!(!text.is_given() && text.last);
    }

    #[test]
    fn in_inches_every_number_has_its_own_unit() {
        let text = &set(&stress(), Units::Us, Hand::Text)[2];
        assert_eq!(text.numbers, "269.8 lbf / 0.0248 in²");
        assert_eq!(text.result, "10.88 ksi");
    }

    #[test]
    fn a_number_from_outside_has_no_formula_and_the_last_one_three_decimals() {
        let last = |all: &[v1::DerivationStep]| set(all, Units::Si, Hand::Page).pop().unwrap();
        assert!(last(&[step("f_y", "", 235.0, "MPa")]).is_given());
        assert_eq!(last(&[step("u", "a / b", 1.647_31, "")]).result, "1.647");
        assert_eq!(last(&[step("u", "a / b", f64::NAN, "")]).result, "–");
    }

    #[test]
    fn the_case_that_applies_is_named() {
        // By hand: 30 mm is at most 1.5 · 20 mm, so the first case with 0.45.
        let all = [
            step("l_w", "", 30.0, "mm"),
            step("b", "", 20.0, "mm"),
            step("l", "if l_w <= 1.5 * b { 0.45 * l_w } else { 0.45 * b }", 13.5, "mm"),
        ];
        let text = &set(&all, Units::Si, Hand::Text)[2];
        assert_eq!(text.formula[0], ("0.45 · l_w".to_owned(), "for l_w ≤ 1.5 · b".to_owned()));
        assert_eq!(text.formula[1], ("0.45 · b".to_owned(), "otherwise".to_owned()));
        assert_eq!(text.because, "30 mm ≤ 1.5 · 20 mm");
        assert_eq!(text.numbers, "0.45 · 30 mm");
    }

    #[test]
    fn what_is_not_among_the_steps_is_told_by_the_service() {
        let mut all = vec![step("u", "n * 2.0", 24.0, "N")];
        all[0].numbers = "12 N * 2.0".to_owned();
        assert_eq!(set(&all, Units::Si, Hand::Text)[0].numbers, "12 N · 2");
        // By hand: 12 N over 4.448 222 is 2.70 lbf.
        assert_eq!(set(&all, Units::Us, Hand::Text)[0].numbers, "2.7 lbf · 2");
    }

    #[test]
    fn what_repeats_is_a_table() {
        let mut all = vec![step("m", "", 2.0, "kg")];
        for (name, force) in [("tyre", 10.0), ("spring", -4.0), ("weight", -3.0)] {
            all.push(step("f", "", force, "N"));
            all.push(step("arm", "", 500.0, "mm"));
            all.iter_mut().rev().take(2).for_each(|s| s.source = name.to_owned());
            all.push(step("m_y", "f * arm", force / 2.0, "N m"));
        }
        all.push(step("end", "m_y", -1.5, "N m"));
        let shown = items(&all, manner_of_text());
        assert_eq!(shown.len(), 3);
        let Item::Table(table) = &shown[1] else { panic!("{shown:?}") };
        let symbols: Vec<&str> = table.columns.iter().map(|c| c.step.symbol.as_str()).collect();
        assert_eq!(symbols, ["F", "arm", "M_y"]);
        assert_eq!(table.columns[2].step.formula[0].0, "F · arm");
        let last = ("weight".to_owned(), ["-3", "500", "-1.5"].map(str::to_owned).to_vec());
        assert_eq!(table.rows[2], last);
        // Two of a kind are told one by one.
        assert_eq!(items(&all[4..], manner_of_text()).len(), 7);
    }

    fn manner_of_text() -> Manner<'static> {
        Manner { units: Units::Si, hand: Hand::Text, place: &|path| path.to_owned() }
    }

    #[test]
    fn an_input_says_where_it_came_from() {
        let mut all = vec![step("d_w", "", 24.0, "mm"), step("h", "", 760.0, "mm")];
        all[0].source = "project: bolts[0].washer".to_owned();
        all[1].source = "project, a guess: car.cg_height".to_owned();
        let told = set(&all, Units::Si, Hand::Text);
        assert_eq!(told[0].source, "[bolts[0].washer]");
        assert_eq!(told[1].source, "a guess, [car.cg_height]");
    }
}
