//! The stress on the throat along every weld run, station by station, with what hand statics says.

pub(crate) mod standing;

use fishplate_proto::v1;

use super::stress::stress;
use super::{Picture, WIDTH, case_words, known, ramp};
use crate::given::Given;
use crate::names::{capital, component, lines};
use crate::numbers::{fixed, quantity, size, with_unit};
use crate::svg::geometry::{Point, Space, larger, largest, smaller};
use crate::svg::scale::{CLASSES, OVER, Steps};
use crate::svg::solids::position;
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

/// The most runs that are drawn; further ones are counted.
pub(crate) const MOST: usize = 10;
/// Where runs begin, and how long the longest is, drawing units.
const LEFT: f64 = 48.0;
const LONGEST: f64 = 330.0;
/// Height of the highest stress, drawing units.
const HEIGHT: f64 = 74.0;
/// A limit farther above all stress than this many times is told and not drawn.
const FAR: f64 = 1.9;

/// Single points higher than this many times what a picture must show are cut off and told.
const ABOVE: f64 = 1.3;

/// A run with finite numbers.
struct Run<'a> {
    told: &'a v1::PlateRun,
    /// Along the run in mm, and stress in the unit that is printed.
    line: Vec<Point>,
    /// Where the stations are, in the same order; none where one of them is not known.
    places: Vec<Space>,
    length: f64,
    /// Whether the stations tell the length.
    exact: bool,
    hand: Option<f64>,
    limit: Option<f64>,
    peak: Option<f64>,
    units: Units,
}

impl<'a> Run<'a> {
    fn of(run: &'a v1::PlateRun, units: Units) -> Option<Self> {
        let mpa = |v: f64| known(v).map(|v| units.value(v, "MPa"));
        let mut stations: Vec<&v1::PlateRunStation> = run.stations.iter().collect();
        stations.sort_by(|a, b| a.at_mm.total_cmp(&b.at_mm));
        let value = |s: &&v1::PlateRunStation| Some([known(s.at_mm)?, mpa(s.stress_mpa)?]);
        let line: Option<Vec<Point>> = stations.iter().map(value).collect();
        let line = line.filter(|l| l.len() >= 2)?;
        let place = |s: &&v1::PlateRunStation| {
            s.point.as_ref().map(position).filter(|p| p.iter().all(|c| c.is_finite()))
        };
        let places: Option<Vec<Space>> = stations.iter().map(place).collect();
        let places = places.unwrap_or_default();
        let (length, exact) = length(&line);
        let positive = |v: f64| mpa(v).filter(|v| *v > 0.0);
        Some(Self {
            told: run,
            line,
            places,
            length,
            exact,
            hand: positive(run.hand_mpa),
            limit: positive(run.limit_mpa),
            peak: positive(run.peak_mpa),
            units,
        })
    }

    fn highest(&self) -> f64 {
        let line = largest(self.line.iter().map(|p| p[1]));
        larger(line, larger(self.hand.unwrap_or(0.0), self.peak.unwrap_or(0.0)))
    }

    /// What a picture must show: the averaged peak, or the highest where there is none, and hand
    /// statics. Single points at the end of a run have no bound: a finer mesh only makes them higher.
    fn reach(&self) -> f64 {
        larger(self.peak.unwrap_or_else(|| self.highest()), self.hand.unwrap_or(0.0))
    }

    /// Peak over limit: what the runs are sorted by.
    fn used(&self) -> f64 {
        self.peak.unwrap_or_else(|| self.highest()) / self.limit.unwrap_or(f64::INFINITY)
    }
}

/// The strips of all runs, those nearest to their limit first, and how many are not drawn; nothing
/// where no run has stations.
pub(crate) fn draw(given: Given<'_>, mount: &v1::PlateMount) -> Option<(Picture, usize)> {
    let units = given.units;
    let mut runs: Vec<Run<'_>> = mount.runs.iter().filter_map(|r| Run::of(r, units)).collect();
    let all = runs.len();
    runs.sort_by(|a, b| b.used().total_cmp(&a.used()));
    runs.truncate(MOST);
    let left_out = all - runs.len();
    let highest = largest(runs.iter().map(Run::reach));
    let longest = largest(runs.iter().map(|r| r.length));
    if highest <= 0.0 || longest <= 0.0 {
        return None;
    }
    let near = runs.iter().filter_map(|r| r.limit).filter(|l| *l <= FAR * highest);
    let whole = largest(runs.iter().map(Run::highest));
    let top = smaller(larger(whole, largest(near.clone())), ABOVE * larger(highest, largest(near)));
    let steps = Steps::up_to(smaller(whole, top));
    let frame = Frame { across: LONGEST / longest, up: HEIGHT / top, top, steps, units };
    let mut figure = Figure::new();
    let mut y = 0.0;
    for run in &runs {
        y = frame.strip(&mut figure, run, y, given);
    }
    ramp(&mut figure, [14.0, y + 14.0], steps, 1, units.unit("MPa"));
    let end = figure.drawn().high[1] + 17.0;
    let key = "scribe line: limit; dashes: hand statics; beam: mean of the peak over its length";
    for (line, text) in lines(key, 50).iter().zip([0.0, 16.0, 32.0]).map(|(t, d)| (end + d, t)) {
        figure.text([14.0, line], Anchor::Start, "t sm", text);
    }
    let picture = Picture {
        title: "Stress on the throat along each run".to_owned(),
        remark: "factored, the force over the throat, each run in its governing case.".to_owned(),
        svg: figure.finish(WIDTH, "rib pl", "Stress on the throat along each weld run"),
    };
    Some((picture, left_out))
}

/// What all strips share.
struct Frame {
    /// Drawing units per mm along.
    across: f64,
    /// Drawing units per unit of stress.
    up: f64,
    /// The highest that is drawn.
    top: f64,
    steps: Steps,
    units: Units,
}

impl Frame {
    /// One strip below `y`; returns where it ends.
    fn strip(&self, figure: &mut Figure, run: &Run<'_>, y: f64, given: Given<'_>) -> f64 {
        let units = self.units;
        let top = larger(run.highest(), run.limit.filter(|l| *l <= self.top).unwrap_or(0.0));
        let top = smaller(top, self.top);
        let base = y + 20.0 + top * self.up + 14.0;
        let at = |p: Point| [LEFT + p[0] * self.across, base - p[1] * self.up];
        let end = LEFT + run.length * self.across;
        let ends = [run.line[0], run.line[run.line.len() - 1]].map(|p| at([p[0], 0.0]));
        let mut edge = vec![ends[0]];
        for (class, line) in pieces(run, self.steps, self.top) {
            let above: Vec<Point> = line.iter().map(|p| at(*p)).collect();
            let below = [line[line.len() - 1], line[0]].map(|p| at([p[0], 0.0]));
            figure.polygon(&[&above[..], &below[..]].concat(), class);
            edge.extend(above);
        }
        edge.push(ends[1]);
        figure.polyline(&edge, "redge");
        figure.line([LEFT, base + 2.7], [end, base + 2.7], "wbase");
        figure.line([LEFT, base + 2.7], [end, base + 2.7], "wst");
        for (p, anchor, x) in [
            (run.line[0], Anchor::End, LEFT - 6.0),
            (run.line[run.line.len() - 1], Anchor::Start, end + 6.0),
        ] {
            let text = number(p[1], units);
            figure.text([x, base - 1.0], anchor, "t num halo", &text);
        }
        if let Some(hand) = run.hand {
            let level = base - hand * self.up;
            figure.line([LEFT - 4.0, level], [end + 4.0, level], "basel");
            figure.keep_off([LEFT - 4.0, level], [end + 4.0, level]);
        }
        let limit = run.limit.filter(|l| *l <= self.top * (1.0 + 1e-9));
        if let Some(limit) = limit {
            let level = base - limit * self.up;
            figure.line([LEFT - 8.0, level], [end + 8.0, level], "scribe");
            figure.circle([LEFT - 8.0, level], 2.2, "dot");
            figure.keep_off([LEFT - 8.0, level], [end + 8.0, level]);
        }
        if let (Some(peak), Some(middle)) = (run.peak, known(run.told.peak_at_mm)) {
            let half = known(run.told.averaged_over_mm).unwrap_or(0.0) / 2.0;
            let level = base - peak * self.up;
            let ends = [middle - half, middle + half]
                .map(|x| [LEFT + x.clamp(0.0, run.length) * self.across, level]);
            figure.line(ends[0], ends[1], "beam");
            for e in ends {
                figure.line([e[0], level - 3.5], [e[0], level + 3.5], "dim");
            }
            figure.keep_off(ends[0], ends[1]);
            let (text, [x, top]) = (number(peak, units), [(ends[0][0] + ends[1][0]) / 2.0, level]);
            let places = [
                ([x, top - 7.0], Anchor::Middle),
                ([smaller(ends[0][0], x - 4.0) - 6.0, top + 4.5], Anchor::End),
                ([larger(ends[1][0], x + 4.0) + 6.0, top + 4.5], Anchor::Start),
                ([x, top - 20.0], Anchor::Middle),
            ];
            if let Some((place, anchor)) = figure.freest(&places, &text) {
                figure.text(place, anchor, "t num halo", &text);
            }
        }
        let told = words(run, given, self.top);
        let mut line = base + 19.0;
        for (text, class) in told {
            figure.text([14.0, line], Anchor::Start, class, &text);
            line += 16.0;
        }
        line
    }
}

/// Length of a run whose stations lie at its ends, or in the middle of the stretches they stand for:
/// then the first tells how long the first stretch is, and each the next.
fn length(line: &[Point]) -> (f64, bool) {
    let (first, last) = (line[0][0], line[line.len() - 1][0]);
    if first < 1e-6 {
        return (last, true);
    }
    let mut stretch = 2.0 * first;
    for pair in line.windows(2) {
        stretch = 2.0 * (pair[1][0] - pair[0][0]) - stretch;
        if stretch <= 0.0 {
            // Neither: as much is left at the end as at the start.
            return (last + first, false);
        }
    }
    (last + stretch / 2.0, true)
}

/// A stress that is in the unit to print already.
fn number(value: f64, units: Units) -> String {
    fixed(value, if units == Units::Si { 0 } else { 1 })
}

/// Stretches of a run that lie in one step, or above the limit: class and line, which is cut off at
/// `top`.
fn pieces(run: &Run<'_>, steps: Steps, top: f64) -> Vec<(&'static str, Vec<Point>)> {
    let mut out: Vec<(&'static str, Vec<Point>)> = Vec::new();
    for pair in run.line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let mut cuts = vec![0.0, 1.0];
        let rise = b[1] - a[1];
        if rise.abs() > 1e-9 {
            let levels = (1..CLASSES.len()).map(|k| steps.from(k)).chain(run.limit).chain([top]);
            let levels = levels.map(|l| (l - a[1]) / rise);
            cuts.extend(levels.filter(|t| *t > 0.0 && *t < 1.0));
            cuts.sort_by(f64::total_cmp);
        }
        for cut in cuts.windows(2) {
            let on = |t: f64| [a[0] + t * (b[0] - a[0]), smaller(a[1] + t * rise, top)];
            let (from, to) = (on(cut[0]), on(cut[1]));
            let middle = a[1] + (cut[0] + cut[1]) / 2.0 * rise;
            let class = match run.limit {
                Some(limit) if middle > limit => OVER,
                _ => CLASSES[steps.of(middle)],
            };
            match out.last_mut() {
                Some((last, line)) if *last == class => line.push(to),
                _ => out.push((class, vec![from, to])),
            }
        }
    }
    out
}

/// What the numbers of a strip are, in two lines to four.
fn words(run: &Run<'_>, given: Given<'_>, top: f64) -> Vec<(String, &'static str)> {
    let (told, units) = (run.told, given.units);
    let mm = |v: f64| with_unit(&size(v, units), units.unit("mm"));
    let case = case_words(given.response, &told.case_name);
    let case = case.split(',').next().unwrap_or_default().to_owned();
    let name = format!("{}, run {}", capital(&component(&told.weld)), told.run);
    let mut first = vec![name];
    if !case.is_empty() {
        first.push(case);
    }
    let mut second = Vec::new();
    if let Some(throat) = known(told.throat_mm).filter(|t| *t > 0.0) {
        let long = match run.exact {
            true => mm(run.length),
            false => format!("about {}", mm(run.length.round())),
        };
        second.push(format!("throat {}, {long} long", mm(throat)));
    }
    let force = largest(told.stations.iter().map(|s| s.force_n_per_mm));
    if force > 0.0 {
        second.push(format!("up to {}", quantity(force, "N/mm", units)));
    }
    let mut third = Vec::new();
    let mpa = |v: f64| with_unit(&stress(v, units), units.unit("MPa"));
    if run.peak.is_some() {
        let over = known(told.averaged_over_mm).filter(|o| *o > 0.0);
        let over = over.map_or(String::new(), |o| format!(" over {}", mm(o)));
        third.push(format!("peak {}{over}", mpa(told.peak_mpa)));
    }
    if run.hand.is_some() {
        third.push(format!("hand {}", mpa(told.hand_mpa)));
    }
    if run.limit.is_some() {
        third.push(format!("limit {}", mpa(told.limit_mpa)));
    }
    let mut fourth = Vec::new();
    if run.highest() > top * (1.0 + 1e-9) {
        let highest = with_unit(&number(run.highest(), units), units.unit("MPa"));
        fourth.push(format!("cut off: single points reach {highest}"));
    }
    let lines = [(first, "t b"), (second, "t sm"), (third, "t sm"), (fourth, "t sm")];
    let joined = lines.into_iter().map(|(words, class)| (words.join(", "), class));
    joined.filter(|(text, _)| !text.is_empty()).collect()
}
