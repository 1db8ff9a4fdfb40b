//! Which guess matters.

use fishplate_proto::v1::{
    Chance, GuessRanking, GuessSample, OpenInput, RowTurns, SpreadLaw, StudiedRow, TurnOutcome,
    TurningPoint,
};
use fishplate_report::Units;

use super::number::{significant, utilisation};
use super::page::{Look, Page, right};
use super::standing::verdict;

/// What was asked beside.
pub(crate) struct Ranked<'a> {
    /// Whether everything is shown.
    pub(crate) all: bool,
    /// Where a field is written: `line 12`.
    pub(crate) place_of: &'a dyn Fn(&str) -> Option<String>,
}

/// Inputs that are shown in full where not all are.
const INPUTS: usize = 5;
/// Rows that are shown of any kind where not all are.
const ROWS: usize = 6;

/// The answer as text with colours.
pub(crate) fn guesses(answer: &GuessRanking, asked: &Ranked<'_>, look: Look) -> String {
    let mut page = Page::new(look);
    verdict(&mut page, answer.verdict(), &answer.title);
    page.wrapped("", 0, &answer.sentence);
    page.blank();
    page.wrapped("", 2, &heading(answer));
    page.blank();
    inputs(&mut page, answer, asked);
    if let Some(sample) = &answer.sample {
        sampled(&mut page, answer, sample, asked.all);
    }
    if !answer.stops.is_empty() {
        page.line("Nothing may be said to hold as long as these are open:");
        let most = if asked.all { answer.stops.len() } else { ROWS };
        for stop in answer.stops.iter().take(most) {
            page.wrapped("  ", 4, stop);
        }
        more(&mut page, answer.stops.len(), most);
        page.blank();
    }
    for caution in &answer.cautions {
        page.wrapped("", 0, caution);
    }
    page.finish()
}

fn heading(answer: &GuessRanking) -> String {
    let what = match &answer.row {
        None => "the highest use".to_owned(),
        Some(row) if answer.case_name.is_empty() => format!("{} {}", row.id, row.what),
        Some(row) => format!("{} {}, in {}", row.id, row.what, answer.case_name),
    };
    let stands = match answer.utilisation {
        Some(u) => format!("is {} as entered", utilisation(u, u > 1.0)),
        None => "has no number as entered".to_owned(),
    };
    format!("Which guess matters: {what} {stands}; {} designs were tried", answer.design_count)
}

fn more(page: &mut Page, of: usize, shown: usize) {
    if of > shown {
        page.line(&format!("  and {} more; --all shows them", of - shown));
    }
}

/// A value in its unit.
fn valued(value: f64, unit: &str, units: Units) -> String {
    let (value, unit) = units.of(value, unit);
    let number = significant(value, 4);
    let number = match number.contains('.') && !number.contains('e') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => &number,
    };
    format!("{number} {unit}").trim_end().to_owned()
}

fn inputs(page: &mut Page, answer: &GuessRanking, asked: &Ranked<'_>) {
    let (moving, still): (Vec<&OpenInput>, Vec<&OpenInput>) =
        answer.inputs.iter().partition(|i| ends(i, answer.utilisation).is_some());
    if answer.inputs.is_empty() {
        page.line("  No input is guessed, and none has a spread.");
    } else if moving.is_empty() {
        page.line("  None of those that were tried moves it.");
    }
    let shown = if asked.all { moving.len() } else { INPUTS };
    for input in moving.iter().take(shown) {
        one(page, input, answer, asked);
    }
    let names =
        |list: &[&OpenInput]| list.iter().map(|i| i.what.clone()).collect::<Vec<_>>().join("; ");
    if moving.len() > shown {
        let rest = &moving[shown..];
        page.wrapped("  ", 4, &format!("moves it less (--all tells more): {}", names(rest)));
    }
    let (tried, untried): (Vec<&OpenInput>, Vec<&OpenInput>) =
        still.into_iter().partition(|i| i.at_low.is_some() && i.at_high.is_some());
    if !tried.is_empty() {
        page.wrapped("  ", 4, &format!("does not move it: {}", names(&tried)));
    }
    if !untried.is_empty() {
        let text = format!("not tried, without a spread that has an answer: {}", names(&untried));
        page.wrapped("  ", 4, &text);
    }
    page.blank();
}

/// The least and the greatest number that an input reaches, where it moves it.
fn ends(input: &OpenInput, stands: Option<f64>) -> Option<(String, String)> {
    let (low, high) = (input.at_low.as_ref()?, input.at_high.as_ref()?);
    let all = [Some(low.utilisation), Some(high.utilisation), stands].into_iter().flatten();
    let (mut least, mut most) = (f64::INFINITY, f64::NEG_INFINITY);
    for u in all {
        least = if u < least { u } else { least };
        most = if u > most { u } else { most };
    }
    let texts = [least, most].map(|u| utilisation(u, u > 1.0));
    (texts[0] != texts[1]).then(|| {
        let [least, most] = texts;
        (least, most)
    })
}

fn one(page: &mut Page, input: &OpenInput, answer: &GuessRanking, asked: &Ranked<'_>) {
    let Some((least, most)) = ends(input, answer.utilisation) else { return };
    let units = page.look().units();
    let lead = format!("  {} to {most}  ", right(&least, 4));
    let hang = lead.chars().count();
    let known = if input.guessed { "guessed" } else { "measured" };
    let mut text = format!("{}, {} ({known})", input.what, valued(input.value, &input.unit, units));
    if let (Some(low), Some(high)) = (input.low, input.high) {
        let law = match input.law() {
            SpreadLaw::LogUniform => ", every ratio as likely",
            SpreadLaw::TwoPiece => ", as likely below as above",
            SpreadLaw::Uniform | SpreadLaw::Unspecified => "",
        };
        text.push_str(&format!(
            "; from {} to {}{law}",
            valued(low, &input.unit, units),
            valued(high, &input.unit, units)
        ));
    }
    if !input.assumed_source.is_empty() {
        text.push_str(&format!("; spread assumed ({})", input.assumed_source));
    }
    let rows: Vec<&str> = [&input.at_low, &input.at_high]
        .into_iter()
        .flatten()
        .map(|reached| reached.row_id.as_str())
        .collect();
    match rows[..] {
        [a, b] if a == b => text.push_str(&format!("; {a}")),
        [a, b] => text.push_str(&format!("; {a} and {b}")),
        _ => {}
    }
    if let Some(place) = asked.all.then(|| (asked.place_of)(&input.field_path)).flatten() {
        text.push_str(&format!(" ({place})"));
    }
    page.wrapped(&lead, hang, &text);
    let below = " ".repeat(hang);
    if !input.measure.is_empty() {
        page.wrapped(&format!("{below}measure  "), hang + 9, &input.measure);
    }
    for line in turns(input, asked.all, units) {
        page.wrapped(&format!("{below}turns    "), hang + 9, &line);
    }
}

/// Where an input turns the followed number, and single rows.
fn turns(input: &OpenInput, all: bool, units: Units) -> Vec<String> {
    let Some(turns) = &input.turns else { return Vec::new() };
    let value = |v: f64| valued(v, &input.unit, units);
    let range = format!("from {} to {}", value(turns.from), value(turns.to));
    let mut lines = Vec::new();
    match turns.outcome() {
        TurnOutcome::Holds => lines.push(format!("it holds whatever this is, {range}")),
        TurnOutcome::Exceeds => lines.push(format!("it exceeds whatever this is, {range}")),
        // Its own row says so below.
        TurnOutcome::Turns if turns.rows.iter().any(|own| own.points == turns.points) => {}
        TurnOutcome::Turns => lines.push(format!("it {}", points(&turns.points, &value))),
        TurnOutcome::NoAnswer | TurnOutcome::Unspecified => {}
    }
    let shown = if all { turns.rows.len() } else { 3 };
    for RowTurns { rows, points: own } in turns.rows.iter().take(shown) {
        lines.push(format!("{} {}", ids(rows), points(own, &value)));
    }
    if turns.rows.len() > shown {
        lines.push(format!("and {} more rows", turns.rows.len() - shown));
    }
    lines
}

fn ids(rows: &[StudiedRow]) -> String {
    let ids: Vec<&str> = rows.iter().map(|r| r.id.as_str()).collect();
    let what = rows.first().map_or("", |r| r.what.as_str());
    format!("{} {what}", ids.join(", "))
}

/// `holds from 2.824 mm`.
fn points(points: &[TurningPoint], value: &dyn Fn(f64) -> String) -> String {
    let one = |p: &TurningPoint| {
        format!("holds {} {}", if p.holds_above { "from" } else { "up to" }, value(p.value))
    };
    points.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// A share in per cent.
fn percent(share: f64) -> String {
    format!("{} %", significant(100.0 * share, if share < 0.1 { 2 } else { 3 }))
}

/// A chance with its error; none or all of the points as a bound.
fn chance(chance: &Chance) -> String {
    match chance.share {
        None => "never checked".to_owned(),
        Some(_) if chance.hit_count == 0 => format!("at most {}", percent(chance.at_most)),
        Some(_) if chance.hit_count == chance.point_count => {
            format!("at least {}", percent(chance.at_least))
        }
        Some(share) => format!("{} ± {}", percent(share), percent(2.0 * chance.standard_error)),
    }
}

fn sampled(page: &mut Page, answer: &GuessRanking, sample: &GuessSample, all: bool) {
    let assumed = match sample.assumed_count {
        0 => String::new(),
        n => format!(", {n} of them assumed"),
    };
    let unanswered = match sample.unanswered_count {
        0 => String::new(),
        n => format!("; {n} points have no answer and do not count"),
    };
    page.wrapped(
        "",
        2,
        &format!(
            "All {} spreads at once{assumed}: {} points of a scrambled Sobol' sequence, {} \
             scrambles{unanswered}",
            sample.input_count, sample.point_count, sample.replicate_count
        ),
    );
    if let Some(any) = &sample.any {
        page.line(&format!("  {}  something exceeds", right(&chance(any), 16)));
    }
    let mut never = (0, 0.0_f64);
    let mut likely: Vec<(&StudiedRow, &Chance)> = Vec::new();
    for row in &sample.rows {
        match (&row.row, &row.chance) {
            (Some(_), Some(own)) if own.hit_count == 0 && own.share.is_some() => {
                never = (never.0 + 1, if own.at_most > never.1 { own.at_most } else { never.1 });
            }
            (Some(row), Some(own)) if own.share.is_some() => likely.push((row, own)),
            _ => {}
        }
    }
    likely.sort_by(|a, b| b.1.share.unwrap_or(0.0).total_cmp(&a.1.share.unwrap_or(0.0)));
    let shown = if all { likely.len() } else { ROWS };
    for (row, own) in likely.iter().take(shown) {
        let lead = format!("  {}  ", right(&chance(own), 16));
        let hang = lead.chars().count();
        page.wrapped(&lead, hang, &format!("{} {}", row.id, row.what));
    }
    more(page, likely.len(), shown);
    if never.0 > 0 {
        let rows = if never.0 == 1 { "1 row exceeds" } else { &format!("{} rows exceed", never.0) };
        let bound = percent(never.1);
        let text =
            format!("{rows} in none of the points: each in at most {bound} (rule of three, 95 %)");
        page.wrapped("  ", 4, &text);
    }
    if let (Some(a), Some(b), Some(c)) =
        (sample.utilisation_p05, sample.utilisation_p50, sample.utilisation_p95)
    {
        let [a, b, c] = [a, b, c].map(|u| utilisation(u, u > 1.0));
        let text = format!("5, 50 and 95 % of the points lie below {a}, {b} and {c}");
        page.wrapped("  ", 4, &text);
    }
    page.blank();
    effects(page, answer, sample);
}

fn effects(page: &mut Page, answer: &GuessRanking, sample: &GuessSample) {
    let told: Vec<_> = sample
        .effects
        .iter()
        .filter_map(|e| Some((e, e.first_order?, e.total?)))
        .filter(|(_, _, total)| *total >= 0.005)
        .collect();
    if told.is_empty() {
        return;
    }
    page.line("Share of the scatter");
    page.line("       alone    with others");
    for (effect, first, total) in told {
        let named = answer.inputs.iter().find(|i| i.field_path == effect.field_path);
        let what = named.map_or(effect.field_path.as_str(), |i| i.what.as_str());
        let share = |value: f64, error: f64| {
            format!("{:.0} ± {:.0} %", 100.0 * value, 200.0 * error).replace("-0 ", "0 ")
        };
        let lead = format!(
            "  {}  {}  ",
            right(&share(first, effect.first_order_error), 10),
            right(&share(total, effect.total_error), 13)
        );
        let hang = lead.chars().count();
        page.wrapped(&lead, hang, what);
    }
    page.blank();
}
