//! A writer of one SVG figure: it escapes, keeps to classes, and knows how far it has drawn.

use std::fmt::Write as _;

use super::geometry::{Bounds, Point, crossing, larger, smaller};

/// Text for markup, with everything that could end it replaced.
pub(crate) fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // Control characters have no place in markup.
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

/// A coordinate: one decimal, no needless zero; what is not finite is 0.
pub(crate) fn coordinate(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// The side of a text that its point is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

impl Anchor {
    fn name(self) -> &'static str {
        match self {
            Self::Start => "start",
            Self::Middle => "middle",
            Self::End => "end",
        }
    }
}

/// A figure that is being drawn.
#[derive(Debug)]
pub(crate) struct Figure {
    body: String,
    drawn: Bounds<2>,
    /// Where texts stand that are always shown.
    texts: Vec<Bounds<2>>,
    /// Thin lines that a text should not stand on.
    lines: Vec<[Point; 2]>,
    /// Where texts of the case stand that is being drawn: only one case is shown at a time.
    of_case: Option<Vec<Bounds<2>>>,
}

/// The space that a text takes.
fn room(at: Point, anchor: Anchor, text: &str) -> Bounds<2> {
    // Wide system fonts take about 0.62 of their size per letter.
    #[allow(clippy::cast_precision_loss)]
    let width = 8.1 * text.chars().count() as f64;
    let left = match anchor {
        Anchor::Start => at[0],
        Anchor::Middle => at[0] - width / 2.0,
        Anchor::End => at[0] - width,
    };
    Bounds { low: [left, at[1] - 11.0], high: [left + width, at[1] + 4.0] }
}

impl Figure {
    pub(crate) fn new() -> Self {
        Self {
            body: String::new(),
            drawn: Bounds::empty(),
            texts: Vec::new(),
            lines: Vec::new(),
            of_case: None,
        }
    }

    /// How far has been drawn.
    pub(crate) fn drawn(&self) -> Bounds<2> {
        self.drawn
    }

    pub(crate) fn line(&mut self, a: Point, b: Point, class: &str) {
        self.reach(a);
        self.reach(b);
        let [x1, y1, x2, y2] = [a[0], a[1], b[0], b[1]].map(coordinate);
        let _ =
            write!(self.body, r#"<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}" class="{class}"/>"#);
    }

    pub(crate) fn circle(&mut self, centre: Point, radius: f64, class: &str) {
        self.reach([centre[0] - radius, centre[1] - radius]);
        self.reach([centre[0] + radius, centre[1] + radius]);
        let [x, y, r] = [centre[0], centre[1], radius].map(coordinate);
        let _ = write!(self.body, r#"<circle cx="{x}" cy="{y}" r="{r}" class="{class}"/>"#);
    }

    pub(crate) fn polygon(&mut self, corners: &[Point], class: &str) {
        self.chain(corners, "Z", class);
    }

    pub(crate) fn polyline(&mut self, corners: &[Point], class: &str) {
        self.chain(corners, "", class);
    }

    /// A path that the caller has written; `a` and `b` are opposite corners of what it covers.
    pub(crate) fn path(&mut self, d: &str, a: Point, b: Point, class: &str) {
        self.reach(a);
        self.reach(b);
        let _ = write!(self.body, r#"<path d="{d}" class="{class}"/>"#);
    }

    pub(crate) fn text(&mut self, at: Point, anchor: Anchor, class: &str, text: &str) {
        let room = room(at, anchor, text);
        self.reach(room.low);
        self.reach(room.high);
        self.of_case.as_mut().unwrap_or(&mut self.texts).push(room);
        let [x, y] = at.map(coordinate);
        let (anchor, text) = (anchor.name(), escape(text));
        let _ = write!(
            self.body,
            r#"<text x="{x}" y="{y}" class="{class}" text-anchor="{anchor}">{text}</text>"#
        );
    }

    /// Keeps later texts off a line, where there is another place for them.
    pub(crate) fn keep_off(&mut self, a: Point, b: Point) {
        self.lines.push([a, b]);
    }

    /// The first of some places where a text stands on no other text and on the fewest lines.
    pub(crate) fn freest(&self, places: &[(Point, Anchor)], text: &str) -> Option<(Point, Anchor)> {
        let cost = |place: &(Point, Anchor)| {
            let room = room(place.0, place.1, text);
            let taken = self.texts.iter().chain(self.of_case.iter().flatten());
            let over = taken.filter(|other| room.meets(other, -1.0)).count();
            let crossed = self.lines.iter().filter(|[a, b]| passes(&room, *a, *b)).count();
            100 * over + crossed
        };
        places.iter().copied().min_by_key(cost)
    }

    /// How many texts and lines are in the way of a text in a box with a line from `a` to `b` to it.
    pub(crate) fn in_the_way(&self, room: &Bounds<2>, [a, b]: [Point; 2]) -> usize {
        let texts = self.texts.iter().chain(self.of_case.iter().flatten());
        let taken = texts.filter(|t| room.meets(t, 0.0) || passes(t, a, b)).count();
        let lines = self.lines.iter();
        taken + lines.filter(|[c, d]| passes(room, *c, *d) || crosses(a, b, *c, *d)).count()
    }

    /// Begins what belongs to one load case; only the chosen case is shown.
    pub(crate) fn open_case(&mut self, name: &str, chosen: bool) {
        self.of_case = Some(Vec::new());
        let on = if chosen { " on" } else { "" };
        let _ = write!(self.body, r#"<g class="lc{on}" data-c="{}">"#, escape(name));
    }

    pub(crate) fn close_case(&mut self) {
        self.of_case = None;
        self.body.push_str("</g>");
    }

    /// The figure in a frame of its own: `width` wide at least, and as high as what is drawn.
    pub(crate) fn finish(self, width: f64, class: &str, title: &str) -> String {
        let sides = self.sides(width);
        self.finish_between(sides, class, title)
    }

    /// Left and right of a frame that is `width` wide at least and holds what is drawn.
    pub(crate) fn sides(&self, width: f64) -> [f64; 2] {
        if self.drawn.is_empty() {
            return [0.0, width];
        }
        [smaller(0.0, self.drawn.low[0]), larger(width, self.drawn.high[0])]
    }

    /// The figure in a frame between two sides, as high as what is drawn.
    pub(crate) fn finish_between(
        self,
        [left, right]: [f64; 2],
        class: &str,
        title: &str,
    ) -> String {
        let drawn = if self.drawn.is_empty() {
            Bounds::of([[left, 0.0], [right, 1.0]])
        } else {
            self.drawn
        };
        let (top, bottom) = (drawn.low[1] - 6.0, drawn.high[1] + 6.0);
        self.framed([left, top], [right - left, bottom - top], class, title)
    }

    /// The figure in a given frame.
    pub(crate) fn framed(self, corner: Point, size: Point, class: &str, title: &str) -> String {
        let [x, y, w, h] = [corner[0], corner[1], size[0], size[1]].map(coordinate);
        let title = escape(title);
        format!(
            r#"<svg viewBox="{x} {y} {w} {h}" class="pic {class}" role="img" aria-label="{title}"><title>{title}</title>{}</svg>"#,
            self.body
        )
    }

    fn chain(&mut self, corners: &[Point], end: &str, class: &str) {
        let mut d = String::new();
        for (index, corner) in corners.iter().enumerate() {
            self.reach(*corner);
            let [x, y] = corner.map(coordinate);
            let _ = write!(d, "{}{x} {y}", if index == 0 { 'M' } else { 'L' });
        }
        let _ = write!(self.body, r#"<path d="{d}{end}" class="{class}"/>"#);
    }

    fn reach(&mut self, point: Point) {
        self.drawn.add(point);
    }
}

/// Whether two lines cross, other than at their ends.
fn crosses(a: Point, b: Point, c: Point, d: Point) -> bool {
    let near = |p: Point, q: Point| (p[0] - q[0]).hypot(p[1] - q[1]) < 1.0;
    crossing(a, b, c, d).is_some_and(|p| ![a, b, c, d].into_iter().any(|end| near(p, end)))
}

/// Whether a line passes through a box.
fn passes(room: &Bounds<2>, a: Point, b: Point) -> bool {
    let [left, top, right, low] = [room.low[0], room.low[1], room.high[0], room.high[1]];
    let corners = [[left, top], [right, top], [right, low], [left, low]];
    room.holds(a, 0.0)
        || room.holds(b, 0.0)
        || super::geometry::edges(&corners).any(|(c, d)| crossing(a, b, c, d).is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_cannot_leave_its_element() {
        let mut figure = Figure::new();
        figure.text([0.0, 0.0], Anchor::Start, "t", "<script>\"&'\u{0}");
        let svg = figure.finish(10.0, "x", "a</title>");
        assert!(svg.contains("&lt;script&gt;&quot;&amp;&#39; </text>"));
        assert!(svg.contains("<title>a&lt;/title&gt;</title>"));
    }

    #[test]
    fn coordinates_are_short_and_always_numbers() {
        assert_eq!(coordinate(3.0), "3");
        assert_eq!(coordinate(-0.01), "0");
        assert_eq!(coordinate(2.26), "2.3");
        assert_eq!(coordinate(f64::NAN), "0");
    }

    #[test]
    fn a_text_stands_where_nothing_is_in_its_way() {
        let mut figure = Figure::new();
        figure.text([0.0, 0.0], Anchor::Start, "t", "55");
        figure.keep_off([0.0, 50.0], [30.0, 50.0]);
        let places = [[4.0, 2.0], [4.0, 54.0], [4.0, 100.0]].map(|at| (at, Anchor::Start));
        assert_eq!(figure.freest(&places, "80"), Some(places[2]));
        assert_eq!(figure.freest(&places[..2], "80"), Some(places[1]));
        // Texts of two cases are never seen together.
        figure.open_case("P1", true);
        figure.text([4.0, 100.0], Anchor::Start, "t", "9.21");
        assert_eq!(figure.freest(&places, "80"), Some(places[1]));
        figure.close_case();
        assert_eq!(figure.freest(&places, "80"), Some(places[2]));
    }

    #[test]
    fn a_name_is_in_the_way_of_texts_and_of_leaders() {
        let mut figure = Figure::new();
        figure.text([0.0, 0.0], Anchor::Start, "t", "55");
        figure.keep_off([0.0, 50.0], [30.0, 50.0]);
        let room = |x: f64, y: f64| Bounds { low: [x, y], high: [x + 20.0, y + 10.0] };
        // On the text; its leader through the text; on the line; across the line; nowhere.
        let far = [90.0, 90.0];
        assert_eq!(figure.in_the_way(&room(4.0, -6.0), [far, far]), 1);
        assert_eq!(figure.in_the_way(&room(80.0, 0.0), [[80.0, 5.0], [-20.0, -8.0]]), 1);
        assert_eq!(figure.in_the_way(&room(10.0, 45.0), [far, far]), 1);
        assert_eq!(figure.in_the_way(&room(0.0, 80.0), [[10.0, 80.0], [10.0, 20.0]]), 1);
        assert_eq!(figure.in_the_way(&room(80.0, 80.0), [far, far]), 0);
    }

    #[test]
    fn the_frame_covers_what_is_drawn() {
        let mut figure = Figure::new();
        figure.line([-5.0, 0.0], [40.0, 90.0], "web");
        assert!(figure.finish(20.0, "x", "t").contains(r#"viewBox="-5 -6 45 102""#));
    }
}
