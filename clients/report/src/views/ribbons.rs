//! The stress along the weld runs of a mount, wider where it is higher.

use crate::numbers::{fixed, short, size, with_unit};
use crate::svg::geometry::{larger, largest, smaller};
use crate::svg::welds::{Run, ribbon, step_width};
use crate::svg::writer::{Anchor, Figure};
use crate::units::Units;

const WIDTH: f64 = 440.0;
/// A run with less than this share of the highest stress is counted and not drawn.
const LEAST: f64 = 0.25;
/// The most runs that are drawn; further ones are counted.
const MOST: usize = 8;
/// Width of a ribbon per MPa, drawing units, where the widest then stays below `WIDEST`.
const PER_MPA: f64 = 0.78;
const WIDEST: f64 = 60.0;

/// The runs with the highest stress, and how many are not drawn; `None` where no stress is known.
pub(crate) fn draw(runs: &[Run<'_>], limit: Option<f64>, units: Units) -> Option<(String, usize)> {
    let mut runs: Vec<&Run<'_>> =
        runs.iter().filter(|r| r.stress.iter().all(|s| s.is_finite())).collect();
    let peak = |r: &Run<'_>| larger(r.stress[0], r.stress[1]);
    let most = largest(runs.iter().map(|r| peak(r)));
    if most < 0.5 {
        return None;
    }
    let all = runs.len();
    runs.retain(|r| peak(r) >= LEAST * most);
    runs.sort_by(|a, b| peak(b).total_cmp(&peak(a)).then(a.name.cmp(b.name)));
    runs.truncate(MOST);
    let left_out = all - runs.len();
    let longest = largest(runs.iter().map(|r| r.length()));
    // From here on stresses are in the unit that is printed.
    let most = units.value(most, "MPa");
    let scale = smaller(PER_MPA / units.value(1.0, "MPa"), WIDEST / most);
    let step = step_width(most);
    let mut figure = Figure::new();
    let mut y = 0.0;
    for run in runs {
        y += units.value(peak(run), "MPa") * scale + 44.0;
        let length = larger(run.length() / larger(longest, 1e-9) * 300.0, 12.0);
        let stress = run.stress.map(|s| units.value(s, "MPa"));
        ribbon(&mut figure, [62.0, y], length, stress, (scale, step), decimals(units));
        let name = crate::names::without_side(run.name);
        let data = format!(
            "{name}, fillet z{}, {} long",
            size(run.leg, units),
            with_unit(&long(run.length(), units), units.unit("mm"))
        );
        figure.text([62.0, y + 18.0], Anchor::Start, "t sm", &data);
    }
    ramp(&mut figure, y + 38.0, step, limit, units);
    Some((figure.finish(WIDTH, "rib", "Stress along each weld run"), left_out))
}

/// Decimals of a stress.
fn decimals(units: Units) -> usize {
    if units == Units::Si { 0 } else { 1 }
}

/// A length along a run, which is known to a millimetre.
fn long(mm: f64, units: Units) -> String {
    match units {
        Units::Si => fixed(mm, 0),
        Units::Us => fixed(units.value(mm, "mm"), 2),
    }
}

/// The steps with their numbers, and the limit, which comes in MPa.
fn ramp(figure: &mut Figure, y: f64, step: f64, limit: Option<f64>, units: Units) {
    for k in 0..6u8 {
        let x = 14.0 + 44.0 * f64::from(k);
        let class = ["r0", "r1", "r2", "r3", "r4", "r5"][usize::from(k)];
        figure.polygon(&[[x, y], [x + 44.0, y], [x + 44.0, y + 12.0], [x, y + 12.0]], class);
    }
    for k in 0..7u8 {
        let (x, value) = (14.0 + 44.0 * f64::from(k), step * f64::from(k));
        figure.text([x, y + 26.0], Anchor::Middle, "t sm", &short(value));
    }
    figure.text([290.0, y + 11.0], Anchor::Start, "t sm", units.unit("MPa"));
    if let Some(limit) = limit {
        let text = format!("limit {}", fixed(units.value(limit, "MPa"), decimals(units)));
        figure.text([WIDTH - 4.0, y + 11.0], Anchor::End, "t b", &text);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_without_stress_are_no_picture_and_many_runs_are_counted() {
        let run = |stress| Run {
            name: "weld.a",
            start: [0.0; 3],
            end: [80.0, 0.0, 0.0],
            leg: 4.0,
            stress,
            exceeds: false,
        };
        assert!(draw(&[run([0.0, 0.0])], None, Units::Si).is_none());
        assert!(draw(&[], None, Units::Si).is_none());
        let many: Vec<Run<'_>> = (0..11).map(|_| run([135.0, 102.0])).collect();
        let (svg, left_out) = draw(&many, Some(360.0), Units::Si).unwrap();
        assert_eq!(left_out, 3);
        assert!(svg.contains(">135<") && svg.contains(">102<") && svg.contains("limit 360"));
    }
}
