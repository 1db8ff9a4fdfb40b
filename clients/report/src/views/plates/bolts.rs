//! What the bolts of a mount carry: tension with preload, hand statics and prying; shear.

use fishplate_proto::v1;

use super::{Picture, WIDTH, case_words, known};
use crate::given::Given;
use crate::names::{capital, component};
use crate::numbers::{force, force_unit};
use crate::svg::geometry::{larger, largest};
use crate::svg::writer::{Anchor, Figure};

/// The most bolts that are drawn; further ones are counted.
pub(crate) const MOST: usize = 12;
/// Where bars begin, and how long the longest is, drawing units.
const LEFT: f64 = 70.0;
const LONGEST: f64 = 350.0;

/// The bars of all bolts, the most pulled first, and how many are not drawn; nothing where none
/// has a force.
pub(crate) fn draw(given: Given<'_>, mount: &v1::PlateMount) -> Option<(Picture, usize)> {
    let mut bolts: Vec<&v1::PlateBolt> =
        mount.bolts.iter().filter(|b| b.tension_n.is_finite() && b.shear_n.is_finite()).collect();
    let all = bolts.len();
    bolts.sort_by(|a, b| {
        let size = |b: &v1::PlateBolt| larger(b.tension_n, b.shear_n);
        size(b).total_cmp(&size(a))
    });
    bolts.truncate(MOST);
    let left_out = all - bolts.len();
    let reach =
        largest(bolts.iter().flat_map(|b| [b.tension_n, b.shear_n, b.preload_n, b.hand_tension_n]));
    if reach <= 0.0 {
        return None;
    }
    let scale = LONGEST / reach;
    let mut figure = Figure::new();
    let mut y = 0.0;
    for bolt in bolts {
        y = bars(&mut figure, bolt, y, scale, given);
    }
    let key = [
        "scribe line: preload; dashes: hand statics",
        "hollow end: prying, above what equilibrium asks for",
    ];
    for (k, text) in key.into_iter().zip([8.0, 24.0]) {
        figure.text([14.0, y + text], Anchor::Start, "t sm", k);
    }
    let picture = Picture {
        title: "Forces in the bolts".to_owned(),
        remark: format!("factored, each bolt in its governing case, {}.", force_unit(given.units)),
        svg: figure.finish(WIDTH, "rib pl", "Forces in the bolts"),
    };
    Some((picture, left_out))
}

fn bars(figure: &mut Figure, bolt: &v1::PlateBolt, y: f64, scale: f64, given: Given<'_>) -> f64 {
    let units = given.units;
    let case = case_words(given.response, &bolt.case_name);
    let case = case.split(',').next().unwrap_or_default();
    let name = format!("{}, no. {}", capital(&component(&bolt.bolt)), bolt.number);
    let head = if case.is_empty() { name } else { format!("{name}, {case}") };
    figure.text([14.0, y + 10.0], Anchor::Start, "t b", &head);
    let (tension, shear) = (y + 20.0, y + 36.0);
    let pulled = larger(bolt.tension_n, 0.0);
    let prying = known(bolt.prying_n).filter(|p| *p > 0.0 && *p <= pulled).unwrap_or(0.0);
    let bar = |figure: &mut Figure, [from, to]: [f64; 2], top: f64, class: &str| {
        let [a, b] = [from, to].map(|n| LEFT + n * scale);
        if b - a > 0.05 {
            figure.polygon(&[[a, top], [b, top], [b, top + 11.0], [a, top + 11.0]], class);
        }
    };
    figure.text([LEFT - 8.0, tension + 10.0], Anchor::End, "t sm", "tension");
    bar(figure, [0.0, pulled - prying], tension, "bt");
    bar(figure, [pulled - prying, pulled], tension, "bt2");
    figure.text([LEFT - 8.0, shear + 10.0], Anchor::End, "t sm", "shear");
    bar(figure, [0.0, larger(bolt.shear_n, 0.0)], shear, "bt");
    let preload = known(bolt.preload_n).filter(|p| *p > 0.0);
    if let Some(preload) = preload {
        let x = LEFT + preload * scale;
        figure.line([x, tension - 5.0], [x, tension + 14.0], "scribe");
        figure.circle([x, tension - 5.0], 2.2, "dot");
    }
    let hand = known(bolt.hand_tension_n).filter(|h| *h > 0.0);
    if let Some(hand) = hand {
        let x = LEFT + hand * scale;
        figure.line([x, tension - 4.0], [x, tension + 14.0], "basel");
    }
    let mut told = vec![format!("tension {}", force(bolt.tension_n, units))];
    if prying > 0.0 {
        told.push(format!("of it prying {}", force(prying, units)));
    }
    if let Some(hand) = hand {
        told.push(format!("hand {}", force(hand, units)));
    }
    if let Some(preload) = preload {
        told.push(format!("preload {}", force(preload, units)));
    }
    told.push(format!("shear {}", force(bolt.shear_n, units)));
    let mut line = shear + 26.0;
    for text in crate::names::lines(&told.join(", "), 50) {
        figure.text([14.0, line], Anchor::Start, "t sm", &text);
        line += 16.0;
    }
    line + 4.0
}
