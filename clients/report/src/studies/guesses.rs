//! The page of a study of guesses.

use askama::Template;
use fishplate_proto::v1;
use fishplate_proto::v1::{SpreadLaw, TurnOutcome};

use super::{cautions, used, valued, verdict};
use crate::names::{capital, css_text, in_the_file};
use crate::numbers;
use crate::page::STYLE;
use crate::svg::geometry::{larger, smaller};
use crate::units::Units;
use crate::views::ranges::{self, Range};

/// A range narrower than this is counted and not drawn.
const LEAST_SPAN: f64 = 0.10;

/// One self-contained HTML page that shows `answer`, the answer to `request`, in `units`.
///
/// ```
/// use fishplate_proto::v1;
/// use fishplate_report::{Units, guesses_page};
///
/// let answer = v1::GuessRanking { title: "Van".into(), ..Default::default() };
/// let page = guesses_page(&v1::RankGuessesRequest::default(), &answer, Units::Si);
/// assert!(page.contains("Van: no verdict"));
/// ```
#[must_use]
pub fn guesses_page(
    request: &v1::RankGuessesRequest,
    answer: &v1::GuessRanking,
    units: Units,
) -> String {
    let page = Page::new(request, answer, units);
    // Writing to a text cannot fail, and the template calls nothing that can.
    page.render().unwrap_or_else(|error| {
        crate::fault_page("No page", &[("page".to_owned(), error.to_string())])
    })
}

#[derive(Template)]
#[template(path = "studies/guesses.html")]
struct Page {
    title: String,
    css_title: String,
    style: &'static str,
    mark: String,
    word: &'static str,
    sentence: String,
    followed: String,
    chart: Option<String>,
    narrow: usize,
    inputs: Vec<Input>,
    sample: Option<Sample>,
    stops: Vec<String>,
    cautions: Vec<String>,
}

struct Input {
    what: String,
    value: String,
    spread: String,
    runs: String,
    measure: String,
    turns: Vec<String>,
    path: String,
    first: bool,
}

struct Sample {
    lead: String,
    spread: String,
    rows: Vec<[String; 3]>,
    never: String,
    effects: Vec<[String; 3]>,
}

impl Page {
    fn new(request: &v1::RankGuessesRequest, answer: &v1::GuessRanking, units: Units) -> Self {
        let ranges: Vec<Range> = answer.inputs.iter().filter_map(|i| range(i, units)).collect();
        let wide: Vec<Range> = ranges.iter().filter(|r| r.span() >= LEAST_SPAN).cloned().collect();
        let entered = answer.utilisation.filter(|u| u.is_finite());
        let (mark, word) = verdict(answer.verdict());
        Self {
            css_title: css_text(&answer.title),
            title: answer.title.clone(),
            style: STYLE,
            mark,
            word,
            sentence: answer.sentence.clone(),
            followed: followed(answer),
            chart: (!wide.is_empty()).then(|| ranges::draw(&wide, entered)),
            narrow: ranges.len() - wide.len(),
            inputs: answer
                .inputs
                .iter()
                .map(|i| input(i, request.project.as_ref(), entered, units))
                .collect(),
            sample: answer.sample.as_ref().map(|s| sample(s, answer)),
            stops: answer.stops.iter().map(|s| capital(s)).collect(),
            cautions: cautions(&answer.cautions),
        }
    }
}

fn followed(answer: &v1::GuessRanking) -> String {
    let what = match &answer.row {
        None => "The highest utilisation".to_owned(),
        Some(row) if answer.case_name.is_empty() => format!("{} {}", row.id, row.what),
        Some(row) => format!("{} {}, in {},", row.id, row.what, answer.case_name),
    };
    format!(
        "{what} is {} as entered; {} designs were tried.",
        used(answer.utilisation),
        answer.design_count
    )
}

fn range(input: &v1::OpenInput, units: Units) -> Option<Range> {
    let low = input.at_low.as_ref()?.utilisation;
    let high = input.at_high.as_ref()?.utilisation;
    (low.is_finite() && high.is_finite()).then(|| Range {
        name: capital(&input.what),
        value: valued(input.value, &input.unit, units),
        low,
        high,
    })
}

fn input(
    input: &v1::OpenInput,
    project: Option<&v1::Project>,
    entered: Option<f64>,
    units: Units,
) -> Input {
    let value = |v: f64| valued(v, &input.unit, units);
    let known = if input.guessed { "guessed" } else { "measured" };
    let law = match input.law() {
        SpreadLaw::LogUniform => ", every ratio as likely",
        SpreadLaw::TwoPiece => ", as likely below as above",
        SpreadLaw::Uniform | SpreadLaw::Unspecified => "",
    };
    let assumed = match input.assumed_source.as_str() {
        "" => String::new(),
        source => format!("; assumed: {source}"),
    };
    let ends = match (&input.at_low, &input.at_high) {
        (Some(a), Some(b)) => {
            let (a, b) = (a.utilisation, b.utilisation);
            let here = entered.unwrap_or(a);
            Some([smaller(here, smaller(a, b)), larger(here, larger(a, b))])
        }
        _ => None,
    };
    Input {
        what: capital(&input.what),
        value: format!("{} ({known})", value(input.value)),
        spread: match (input.low, input.high) {
            (Some(low), Some(high)) => format!("{} to {}{law}{assumed}", value(low), value(high)),
            _ => "no spread was given".to_owned(),
        },
        runs: ends.map_or_else(
            || "not tried".to_owned(),
            |[low, high]| match (used(Some(low)), used(Some(high))) {
                (low, high) if low == high => format!("stays at {low}"),
                (low, high) => format!("{low} to {high}"),
            },
        ),
        measure: capital(&input.measure),
        turns: turns(input, &value),
        path: in_the_file(project, &input.field_path),
        first: input.dominates,
    }
}

fn turns(input: &v1::OpenInput, value: &dyn Fn(f64) -> String) -> Vec<String> {
    let Some(turns) = &input.turns else { return Vec::new() };
    let range = format!("from {} to {}", value(turns.from), value(turns.to));
    let points = |list: &[v1::TurningPoint]| {
        let one = |p: &v1::TurningPoint| {
            format!("holds {} {}", if p.holds_above { "from" } else { "up to" }, value(p.value))
        };
        list.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    let mut lines = match turns.outcome() {
        TurnOutcome::Holds => vec![format!("Holds whatever this is, {range}")],
        TurnOutcome::Exceeds => vec![format!("Exceeds whatever this is, {range}")],
        TurnOutcome::Turns => vec![capital(&points(&turns.points))],
        TurnOutcome::NoAnswer | TurnOutcome::Unspecified => Vec::new(),
    };
    lines.extend(turns.rows.iter().map(|own| {
        let ids: Vec<&str> = own.rows.iter().map(|r| r.id.as_str()).collect();
        let what = own.rows.first().map_or("", |r| r.what.as_str());
        format!("{} {what}: {}", ids.join(", "), points(&own.points))
    }));
    lines
}

/// A share in per cent.
fn percent(share: f64) -> String {
    numbers::with_unit(&numbers::plain(100.0 * share, 3), "%")
}

fn chance(chance: &v1::Chance) -> String {
    match chance.share {
        None => numbers::NOT_FOUND.to_owned(),
        Some(_) if chance.hit_count == 0 => format!("at most {}", percent(chance.at_most)),
        Some(_) if chance.hit_count == chance.point_count => {
            format!("at least {}", percent(chance.at_least))
        }
        Some(share) => format!("{} ± {}", percent(share), percent(2.0 * chance.standard_error)),
    }
}

fn sample(sample: &v1::GuessSample, answer: &v1::GuessRanking) -> Sample {
    let own = |r: &v1::RowChance| r.row.clone().zip(r.chance);
    let known = |(_, c): &(v1::StudiedRow, v1::Chance)| c.share.is_some();
    let rows: Vec<_> = sample.rows.iter().filter_map(own).filter(known).collect();
    let (never, mut likely): (Vec<_>, Vec<_>) =
        rows.into_iter().partition(|(_, c)| c.hit_count == 0);
    likely.sort_by(|a, b| b.1.share.unwrap_or(0.0).total_cmp(&a.1.share.unwrap_or(0.0)));
    let bound = never.iter().map(|(_, c)| c.at_most).fold(0.0, larger);
    let any = sample.any.as_ref().map_or_else(|| numbers::NOT_FOUND.to_owned(), chance);
    let assumed = match sample.assumed_count {
        0 => String::new(),
        n => format!(", {n} of them assumed"),
    };
    let quantiles = [sample.utilisation_p05, sample.utilisation_p50, sample.utilisation_p95];
    let [low, middle, high] = quantiles.map(used);
    let shares = |e: &v1::InputEffects| {
        let (first, total) = (e.first_order?, e.total?);
        let text =
            |share: f64, error: f64| format!("{} ± {}", percent(share), percent(2.0 * error));
        let named = answer.inputs.iter().find(|i| i.field_path == e.field_path);
        let what = named.map_or_else(|| e.field_path.clone(), |i| capital(&i.what));
        Some([what, text(first, e.first_order_error), text(total, e.total_error)])
    };
    Sample {
        lead: format!(
            "{} spreads run at once{assumed}: {} points of a scrambled Sobol\u{2019} sequence in {} \
             scrambles. Something exceeds in {any} of them.",
            sample.input_count, sample.point_count, sample.replicate_count
        ),
        spread: format!("5, 50 and 95 % of the points lie below {low}, {middle} and {high}."),
        rows: likely.iter().map(|(r, c)| [r.id.clone(), capital(&r.what), chance(c)]).collect(),
        never: match never.len() {
            0 => String::new(),
            n => format!(
                "{n} checks exceed in none of the points: each in at most {} (rule of three, 95 %).",
                percent(bound)
            ),
        },
        effects: sample.effects.iter().filter_map(shares).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::wellformed::assert_closed;

    fn answer() -> v1::GuessRanking {
        let reached = |utilisation| Some(v1::ReachedUse { utilisation, row_id: "FL-4".to_owned() });
        let row = v1::StudiedRow {
            id: "FL-4".to_owned(),
            what: "rail web: wall bending".to_owned(),
            utilisation: Some(1.65),
            ..Default::default()
        };
        let mut turns = v1::VerdictTurns { from: 0.73, to: 6.6, ..Default::default() };
        turns.set_outcome(TurnOutcome::Turns);
        turns.points = vec![v1::TurningPoint { value: 2.824, holds_above: true }];
        let input = v1::OpenInput {
            field_path: "rails[0].readings[2].thickness".to_owned(),
            what: "rail frame, wall at x 330 mm".to_owned(),
            unit: "mm".to_owned(),
            value: 2.2,
            low: Some(1.9),
            high: Some(2.5),
            measure: "ultrasonic gauge".to_owned(),
            at_low: reached(2.21),
            at_high: reached(1.28),
            dominates: true,
            turns: Some(turns),
            ..Default::default()
        };
        let chance = |hit_count, share, at_least, at_most| v1::Chance {
            hit_count,
            point_count: 1000,
            share: Some(share),
            standard_error: 0.01,
            at_least,
            at_most,
        };
        let other = v1::StudiedRow { id: "FL-9".to_owned(), ..row.clone() };
        v1::GuessRanking {
            title: "Van <A>".to_owned(),
            verdict: v1::Verdict::DoesNotHold.into(),
            row: Some(row.clone()),
            case_name: "P1".to_owned(),
            utilisation: Some(1.65),
            inputs: vec![input],
            sample: Some(v1::GuessSample {
                input_count: 1,
                point_count: 1000,
                replicate_count: 8,
                any: Some(chance(1000, 1.0, 0.997, 1.0)),
                rows: vec![
                    v1::RowChance { row: Some(row), chance: Some(chance(400, 0.4, 0.38, 0.42)) },
                    v1::RowChance { row: Some(other), chance: Some(chance(0, 0.0, 0.0, 0.003)) },
                ],
                effects: vec![v1::InputEffects {
                    field_path: "rails[0].readings[2].thickness".to_owned(),
                    first_order: Some(0.9),
                    total: Some(0.95),
                    ..Default::default()
                }],
                ..Default::default()
            }),
            stops: vec!["no twist among the load cases".to_owned()],
            ..Default::default()
        }
    }

    #[test]
    fn every_number_of_the_answer_is_told() {
        let page = guesses_page(&v1::RankGuessesRequest::default(), &answer(), Units::Si);
        if let Some(folder) = std::env::var_os("FISHPLATE_PAGE_DIR") {
            std::fs::write(std::path::Path::new(&folder).join("guesses.html"), &page).unwrap();
        }
        assert_closed(&page);
        for text in [
            "Van &#60;A&#62;: does not hold",
            "1.28 to 2.21",
            "Holds from 2.824\u{A0}mm",
            "Ultrasonic gauge",
            "40\u{A0}% ± 2\u{A0}%",
            "at least 99.7\u{A0}%",
            "at most 0.3\u{A0}% (rule of three",
            "No twist among the load cases",
            "does not approve a vehicle",
        ] {
            assert!(page.contains(text), "no {text} in\n{page}");
        }
    }

    #[test]
    fn in_inches_it_says_the_same() {
        let page = guesses_page(&v1::RankGuessesRequest::default(), &answer(), Units::Us);
        // By hand: 2.824 mm over 25.4 is 0.1112 in.
        assert!(page.contains("Holds from 0.1112\u{A0}in"), "{page}");
    }

    #[test]
    fn an_empty_answer_is_a_page_that_passes_nothing() {
        let empty = v1::GuessRanking::default();
        let page = guesses_page(&v1::RankGuessesRequest::default(), &empty, Units::Si);
        assert_closed(&page);
        assert!(page.contains("No input is guessed") && !page.contains("NaN"));
    }
}
