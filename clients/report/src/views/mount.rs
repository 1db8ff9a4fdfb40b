//! One mount in three views and one oblique view, with its loads in every case.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names;
use crate::numbers;
use crate::state;
use crate::svg::arrows::{Arrow, arrow, number_places};
use crate::svg::geometry::{Bounds, Space, larger, largest, length, smaller};
use crate::svg::labels::{self, Label};
use crate::svg::marks::{broken_off, force_bar, length_bar};
use crate::svg::painter::{self, Laid};
use crate::svg::project::{Sheet, View, flat_bounds};
use crate::svg::welds;
use crate::svg::welds::Run;
use crate::svg::writer::{Anchor, Figure};

mod close_up;
mod dimensions;
mod slip;

use close_up::CloseUp;

/// Width of a figure in drawing units.
const WIDTH: f64 = 440.0;
/// Room for names left and right of the drawing.
const MARGIN: f64 = 112.0;
/// The longest arrow, drawing units.
const LONGEST: f64 = 80.0;
/// The most names beside the oblique view.
const MOST_NAMES: usize = 9;

/// A drawing with what stands above it.
#[derive(Debug, Clone)]
pub(crate) struct Drawing {
    pub(crate) name: &'static str,
    pub(crate) remark: String,
    pub(crate) svg: String,
}

/// The four views; empty where the scene shows nothing near the mount.
pub(crate) fn draw(given: Given<'_>, mount: &v1::MountAnswer) -> Vec<Drawing> {
    let Some(close_up) = CloseUp::new(given, mount) else {
        return Vec::new();
    };
    let picture = Picture { given, mount, close_up: &close_up };
    let side = if close_up.seen_from_left { View::LEFT } else { View::RIGHT };
    let from = if close_up.seen_from_left { "From the left" } else { "From the right" };
    let scale = picture.scale(&[side, View::FRONT, View::PLAN]);
    let front = |view| if view == View::RIGHT { "front on the right" } else { "front on the left" };
    vec![
        picture.view(from, front(side), side, scale),
        picture.view("From the front", "the car's left on the right", View::FRONT, scale),
        picture.view("From above", front(View::PLAN), View::PLAN, scale),
        picture.oblique(),
    ]
}

/// One view of a mount in several designs: its name, a remark, and the picture of each design.
pub(crate) type Abreast = (&'static str, String, Vec<Option<String>>);

/// A mount of several designs in three views, each view at one scale and in frames of one width.
pub(crate) fn side_by_side(all: &[(Given<'_>, &v1::MountAnswer)]) -> Vec<Abreast> {
    let close_ups: Vec<Option<CloseUp<'_>>> =
        all.iter().map(|(given, mount)| CloseUp::new(*given, mount)).collect();
    let pictures: Vec<Option<Picture<'_>>> = all
        .iter()
        .zip(&close_ups)
        .map(|((given, mount), close_up)| {
            close_up.as_ref().map(|close_up| Picture { given: *given, mount, close_up })
        })
        .collect();
    let Some(from_left) = close_ups.iter().flatten().map(|c| c.seen_from_left).next() else {
        return Vec::new();
    };
    let side = if from_left { View::LEFT } else { View::RIGHT };
    let looks = if from_left { "From the left" } else { "From the right" };
    let ahead = if from_left { "front on the left" } else { "front on the right" };
    let views = [
        (looks, ahead, side),
        ("From the front", "the car's left on the right", View::FRONT),
        ("From above", "front on the left", View::PLAN),
    ];
    let scale = pictures
        .iter()
        .flatten()
        .map(|p| p.scale(&views.map(|(.., view)| view)))
        .fold(f64::INFINITY, smaller);
    views
        .into_iter()
        .map(|(name, remark, view)| {
            let figures: Vec<Option<(Figure, String)>> =
                pictures.iter().map(|p| p.as_ref().map(|p| p.figure(name, view, scale))).collect();
            let sides = figures.iter().flatten().map(|(figure, _)| figure.sides(WIDTH));
            let sides = sides
                .fold([0.0, WIDTH], |[left, right], [l, r]| [smaller(left, l), larger(right, r)]);
            let drawn = figures
                .into_iter()
                .map(|one| one.map(|(figure, title)| figure.finish_between(sides, "mv", &title)))
                .collect();
            (name, remark.to_owned(), drawn)
        })
        .collect()
}

struct Picture<'a> {
    given: Given<'a>,
    mount: &'a v1::MountAnswer,
    close_up: &'a CloseUp<'a>,
}

impl<'a> Picture<'a> {
    /// The rows by which a thing exceeds at this mount.
    fn exceeding(&self, thing: &str) -> Vec<&'a v1::Row> {
        self.given.exceeding(thing, Some(&self.mount.id)).collect()
    }

    /// One scale for all given views, so that they can be compared.
    fn scale(&self, views: &[View]) -> f64 {
        let mut scale = f64::INFINITY;
        for view in views {
            let flat = flat_bounds(view, &self.close_up.region);
            scale = smaller(scale, (WIDTH - 2.0 * MARGIN) / larger(flat.size(0), 1.0));
            scale = smaller(scale, 300.0 / larger(flat.size(1), 1.0));
        }
        scale
    }

    fn sheet(&self, view: View, scale: f64) -> (Sheet, Bounds<2>) {
        let flat = flat_bounds(&view, &self.close_up.region);
        let height = flat.size(1) * scale;
        let middle = [WIDTH / 2.0, height / 2.0];
        let half = flat.size(0) * scale / 2.0;
        let frame = Bounds { low: [middle[0] - half, 0.0], high: [middle[0] + half, height] };
        (Sheet::centred(view, scale, &flat, middle), frame)
    }

    fn view(&self, name: &'static str, remark: &str, view: View, scale: f64) -> Drawing {
        let (figure, title) = self.figure(name, view, scale);
        Drawing { name, remark: remark.to_owned(), svg: figure.finish(WIDTH, "mv", &title) }
    }

    fn figure(&self, name: &'static str, view: View, scale: f64) -> (Figure, String) {
        let (sheet, frame) = self.sheet(view, scale);
        let laid = painter::lay(&view, &self.close_up.faces);
        let mut figure = Figure::new();
        self.steel(&mut figure, &sheet, &laid);
        for (axis, [a, b]) in &self.close_up.ends {
            if view.toward[*axis].abs() < 0.5 {
                broken_off(&mut figure, sheet.at(*a), sheet.at(*b));
            }
        }
        self.bush(&mut figure, &sheet);
        slip::draw(&mut figure, &sheet, self.close_up, |bolt| {
            painter::seen(&view, &laid, bolt.part).is_some()
                && self.exceeding(bolt.name).into_iter().any(slip::slips)
        });
        self.centre_lines(&mut figure, &sheet);
        let dimensions = dimensions::of(&sheet, self.close_up, &frame);
        let drawn = figure.drawn();
        let taken = dimensions.iter().flat_map(dimensions::Dimension::ends);
        let taken = Bounds::of(taken.chain([drawn.low, drawn.high]));
        let columns = [
            smaller(MARGIN - 8.0, taken.low[0] - 20.0),
            larger(WIDTH - MARGIN + 8.0, taken.high[0] + 20.0),
        ];
        let labels = self.exceeding_labels(&sheet, &laid);
        labels::draw(&mut figure, labels, columns, [frame.low[1] + 20.0, frame.high[1]]);
        for dimension in &dimensions {
            dimension.draw(&mut figure, self.given.units);
        }
        let per_newton = self.loads(&mut figure, &sheet, true);
        let y = figure.drawn().high[1] + 22.0;
        length_bar(&mut figure, [14.0, y], (120.0, scale), self.given.units);
        force_bar(&mut figure, [262.0, y], per_newton, self.given.units);
        let title = format!("{}, {} mount, to scale", name, self.mount.name);
        (figure, title)
    }

    fn oblique(&self) -> Drawing {
        let view = View::oblique(self.close_up.seen_from_left);
        let scale = self.scale(&[view]);
        let (sheet, frame) = self.sheet(view, scale);
        let laid = painter::lay(&view, &self.close_up.faces);
        let mut figure = Figure::new();
        self.steel(&mut figure, &sheet, &laid);
        self.bush(&mut figure, &sheet);
        let mut labels = self.exceeding_labels(&sheet, &laid);
        let named: Vec<String> =
            labels.iter().filter_map(|l| l.lines.first().map(|l| l.0.clone())).collect();
        for label in self.names(&sheet, &laid) {
            let first = label.lines.first().map(|l| &l.0);
            if labels.len() < MOST_NAMES && !first.is_some_and(|f| named.contains(f)) {
                labels.push(label);
            }
        }
        let limits = [MARGIN - 8.0, WIDTH - MARGIN + 8.0];
        labels::draw(&mut figure, labels, limits, [frame.low[1], frame.high[1] + 20.0]);
        let per_newton = self.loads(&mut figure, &sheet, false);
        let y = figure.drawn().high[1] + 22.0;
        figure.text([14.0, y + 4.0], Anchor::Start, "t sm", "not to scale");
        force_bar(&mut figure, [262.0, y], per_newton, self.given.units);
        let side = if self.close_up.seen_from_left { "left" } else { "right" };
        let title = format!("Obliquely, {} mount, from front, {side} and above", self.mount.name);
        Drawing {
            name: "Obliquely",
            remark: format!("from front, {side} and above; number: the whole force"),
            svg: figure.finish(WIDTH, "mv ob", &title),
        }
    }

    fn steel(&self, figure: &mut Figure, sheet: &Sheet, laid: &[Laid<'_>]) {
        painter::paint(figure, sheet, laid);
        for run in &self.close_up.runs {
            welds::draw(figure, sheet, laid, run);
        }
    }

    /// The centre of the bush, whose shape may not be in the project.
    fn bush(&self, figure: &mut Figure, sheet: &Sheet) {
        let at = sheet.at(self.close_up.centre);
        figure.circle(at, 7.0, "bush");
        figure.circle(at, 2.6, "dot");
    }

    fn centre_lines(&self, figure: &mut Figure, sheet: &Sheet) {
        for bolt in &self.close_up.bolts {
            let ends = [bolt.head, bolt.nut].map(|p| sheet.at(p));
            let (dx, dy) = (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]);
            let size = dx.hypot(dy);
            if size < 2.0 {
                let r = larger(bolt.diameter * sheet.scale, 10.0);
                let [x, y] = ends[0];
                figure.line([x - r, y], [x + r, y], "ctr");
                figure.line([x, y - r], [x, y + r], "ctr");
            } else {
                let (ex, ey) = (dx / size * 14.0, dy / size * 14.0);
                let a = [ends[0][0] - ex, ends[0][1] - ey];
                figure.line(a, [ends[1][0] + ex, ends[1][1] + ey], "ctr");
            }
        }
    }

    /// The names of what exceeds and can be seen, with number.
    fn exceeding_labels(&self, sheet: &Sheet, laid: &[Laid<'_>]) -> Vec<Label> {
        let mut named = std::collections::BTreeSet::new();
        let mut labels = Vec::new();
        for (part, name) in self.close_up.parts.iter().enumerate() {
            let Some(row) = state::worst(self.exceeding(name)) else {
                continue;
            };
            let Some(at) = self.anchor(sheet, laid, part) else {
                continue;
            };
            // Bolts of one group stand for each other.
            if named.insert(&row.component) {
                let mut lines = wrapped(&row.component, "t b warm");
                lines.push((format!("exceeds {}", state::number(row)), "t b warm"));
                labels.push(Label { at: sheet.at(at), lines });
            }
        }
        labels
    }

    /// The names of everything else that can be seen.
    fn names(&self, sheet: &Sheet, laid: &[Laid<'_>]) -> Vec<Label> {
        let mut seen = std::collections::BTreeSet::new();
        let mut labels = Vec::new();
        for (part, name) in self.close_up.parts.iter().enumerate() {
            let lines = wrapped(name, "t");
            if !self.exceeding(name).is_empty() || !seen.insert(name.clone()) {
                continue;
            }
            if let Some(at) = self.anchor(sheet, laid, part) {
                labels.push(Label { at: sheet.at(at), lines });
            }
        }
        labels
    }

    /// Where the leader of a part or weld ends.
    fn anchor(&self, sheet: &Sheet, laid: &[Laid<'_>], part: usize) -> Option<Space> {
        let on_face = painter::seen(&sheet.view, laid, part);
        on_face.or_else(|| {
            let name = self.close_up.parts.get(part)?;
            let run = self.close_up.runs.iter().find(|r: &&Run<'_>| r.name == name)?;
            let middle = run.middle();
            (!painter::hidden(&sheet.view, laid, middle, welds::UNDER)).then_some(middle)
        })
    }

    /// The force of the cradle on the mount in every case, with the number of what lies in the
    /// view, or of all of it. Returns the length per N.
    fn loads(&self, figure: &mut Figure, sheet: &Sheet, in_view: bool) -> f64 {
        let cases = &self.given.response.cases;
        let forces = cases.iter().filter_map(|c| Given::force(c, &self.mount.id));
        let most = largest(forces.map(length));
        if most < 1.0 {
            return 0.0;
        }
        let per_newton = LONGEST / most;
        let at = sheet.at(self.close_up.centre);
        for case in cases {
            let Some(force) = Given::force(case, &self.mount.id) else {
                continue;
            };
            figure.open_case(&case.name, self.given.is_chosen(case));
            let v = sheet.vector(force, per_newton);
            if let Some(tip) = arrow(figure, at, v, Arrow::Out) {
                let shown = if in_view { v[0].hypot(v[1]) / per_newton } else { length(force) };
                let units = self.given.units;
                let text =
                    format!("{} {}", numbers::force(shown, units), numbers::force_unit(units));
                if let Some((place, anchor)) = figure.freest(&number_places(at, tip), &text) {
                    figure.text(place, anchor, "t num halo", &text);
                }
            }
            figure.close_case();
        }
        per_newton
    }
}

fn wrapped(name: &str, class: &'static str) -> Vec<(String, &'static str)> {
    names::lines(&names::without_side(name), 12).into_iter().map(|line| (line, class)).collect()
}
