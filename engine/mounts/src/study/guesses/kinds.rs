//! What kinds of input there are: how each is measured in a workshop, how far such a number is off
//! where nobody says, and how far to look for the value at which a verdict turns.

/// A kind of input.
#[derive(Debug)]
pub(crate) struct Kind {
    /// How to measure it, in one line.
    pub(crate) measure: &'static str,
    /// How far it is off where the project does not say.
    pub(crate) usual: Usual,
    /// Where that comes from; empty where there is none.
    pub(crate) source: &'static str,
    /// How far to look for the value at which a verdict turns.
    pub(crate) search: Search,
}

/// How far an input is off where the project does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Usual {
    /// Nobody can say.
    Unknown,
    /// By so much to either side, SI.
    Off(f64),
    /// Between these shares of the value.
    Shares(f64, f64),
}

/// How far to look for the value at which a verdict turns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Search {
    /// Nowhere: it is no number.
    Nowhere,
    /// From the value over this to the value times this.
    Ratio(f64),
    /// By so much to either side, SI.
    Off(f64),
}

const PRACTICE: &str = "common practice, no source";

const fn kind(measure: &'static str, usual: Usual, search: Search) -> Kind {
    let source = if matches!(usual, Usual::Unknown) { "" } else { PRACTICE };
    Kind { measure, usual, source, search }
}

/// Each kind with the pieces that the path of its field holds; the first that fits counts. Spreads
/// are common practice without a source, unless something else stands beside them.
const KINDS: &[(&[&str], Kind)] = &[
    (
        &["nut_class"],
        kind(
            "read the mark on the nut; without one, pull a spare to its proof load",
            Usual::Unknown,
            Search::Nowhere,
        ),
    ),
    (
        &["_scales."],
        kind(
            "weigh again on level ground, tyres at pressure, brakes off; three readings",
            Usual::Shares(0.98, 1.02),
            Search::Ratio(2.0),
        ),
    ),
    (
        &["car.lifted."],
        kind(
            "lift the rear by a quarter of the wheelbase at least, suspension locked; three readings",
            Usual::Shares(0.9, 1.1),
            Search::Ratio(2.0),
        ),
    ),
    (
        &["car.mass"],
        kind(
            "weigh the laden car on four scales, or both axles on a public weighbridge",
            Usual::Shares(0.95, 1.05),
            Search::Ratio(2.0),
        ),
    ),
    (
        &["car.cg_ahead"],
        kind("weigh each axle with everything on board", Usual::Off(50e-3), Search::Off(500e-3)),
    ),
    (
        &["car.cg_height"],
        kind(
            "lift the rear axle on scales, suspension locked, and read what the front gains",
            Usual::Off(50e-3),
            Search::Off(300e-3),
        ),
    ),
    (&["cargo", ".mass"], kind("put it on a scale", Usual::Shares(0.9, 1.1), Search::Ratio(4.0))),
    (
        &["cargo", ".centre"],
        kind(
            "balance it on a round bar, lying and standing",
            Usual::Off(20e-3),
            Search::Off(200e-3),
        ),
    ),
    (
        &["car.added_masses", ".mass"],
        kind("put it on a scale", Usual::Shares(0.9, 1.1), Search::Ratio(4.0)),
    ),
    (
        &["car."],
        kind(
            "tape and plumb line from the hubs, car on its wheels and laden",
            Usual::Off(5e-3),
            Search::Off(100e-3),
        ),
    ),
    (
        &["drive.torque"],
        kind(
            "the data sheet of the motor with its inverter at full battery; else a test bench",
            Usual::Shares(0.9, 1.2),
            Search::Ratio(4.0),
        ),
    ),
    (
        &["drive.ratio"],
        kind("turn the wheel once and count the motor's turns", Usual::Unknown, Search::Ratio(2.0)),
    ),
    (
        &["drive.efficiency"],
        kind("no workshop can; 1.0 is on the safe side", Usual::Off(0.02), Search::Ratio(1.2)),
    ),
    (
        &["rear_share"],
        kind(
            "a roller brake tester, front and rear axle; for a corner the roll stiffness of both axles",
            Usual::Off(0.1),
            Search::Ratio(4.0),
        ),
    ),
    (
        &["grip"],
        kind(
            "no workshop can: take the best tyre on a dry road",
            Usual::Off(0.15),
            Search::Ratio(2.0),
        ),
    ),
    (
        &["springs.motion_ratio"],
        kind(
            "lift the wheel by 50 mm and measure how much shorter the spring gets",
            Usual::Off(0.05),
            Search::Ratio(1.4),
        ),
    ),
    (
        &["cradle.mass"],
        kind("hang it from a crane scale", Usual::Shares(0.9, 1.1), Search::Ratio(4.0)),
    ),
    (
        &["cradle.wheel_mass"],
        kind(
            "wheel with hub, brake and half the links on a bathroom scale",
            Usual::Shares(0.8, 1.2),
            Search::Ratio(4.0),
        ),
    ),
    (
        &["cradle.centre"],
        kind(
            "hang the cradle from two points in turn and mark the plumb lines",
            Usual::Off(20e-3),
            Search::Off(200e-3),
        ),
    ),
    (
        &["bushes", ".stop_rate"],
        kind(
            "press the bush beyond its stop: dial gauge and load cell",
            Usual::Shares(0.5, 2.0),
            Search::Ratio(10.0),
        ),
    ),
    (
        &["bushes", ".stop"],
        kind(
            "feeler gauges between bush and stop, loaded by the car",
            Usual::Shares(0.7, 1.3),
            Search::Ratio(4.0),
        ),
    ),
    (
        &["bushes"],
        kind(
            "press the bush in a vice: dial gauge and load cell, three loads",
            Usual::Shares(0.5, 2.0),
            Search::Ratio(10.0),
        ),
    ),
    (
        &["fit_up_gap"],
        kind("feeler gauges before the bolt is drawn up", Usual::Off(0.5e-3), Search::Ratio(4.0)),
    ),
    (
        &["readings"],
        kind(
            "ultrasonic gauge on the bare metal, calibrated on a known sheet; three readings, the \
             least counts",
            Usual::Off(0.1e-3),
            Search::Ratio(3.0),
        ),
    ),
    (
        &["pitting"],
        kind(
            "depth gauge in the deepest pit, beside the mean of the readings",
            Usual::Shares(0.7, 1.5),
            Search::Ratio(3.0),
        ),
    ),
    (
        &["coat"],
        kind(
            "a coat gauge, or scrape a spot and read twice",
            Usual::Shares(0.5, 2.0),
            Search::Ratio(4.0),
        ),
    ),
    (
        &[".steel"],
        kind(
            "tension test of a piece cut off; hardness (ultimate about 3.4 MPa a Brinell point, from \
             memory)",
            Usual::Shares(0.77, 1.19),
            Search::Ratio(3.0),
        ),
    ),
    (
        &["steels", ".beta_w"],
        kind("goes with the steel: find that out", Usual::Unknown, Search::Ratio(1.5)),
    ),
    (
        &["steels"],
        kind(
            "tension test of a piece cut off; hardness (ultimate about 3.4 MPa a Brinell point, from \
             memory)",
            Usual::Shares(0.77, 1.19),
            Search::Ratio(3.0),
        ),
    ),
    (
        &["weld_metal"],
        kind("the sheet of the wire or rod", Usual::Shares(0.9, 1.1), Search::Ratio(2.0)),
    ),
    (
        &["workmanship"],
        kind(
            "have a test piece cut, ground and etched",
            Usual::Shares(0.85, 1.15),
            Search::Ratio(2.0),
        ),
    ),
    (
        &["welds", ".leg"],
        kind("fillet gauge at three places of the run", Usual::Off(0.5e-3), Search::Ratio(3.0)),
    ),
    (
        &["welds", ".gap"],
        kind("feeler gauges before welding", Usual::Off(0.5e-3), Search::Ratio(4.0)),
    ),
    (&["welds"], kind("caliper; a plug cut open and etched", Usual::Off(1e-3), Search::Ratio(2.0))),
    (
        &["bolts", "thread_friction"],
        kind("a torque wrench over a load-indicating washer", Usual::Off(0.02), Search::Ratio(2.0)),
    ),
    (
        &["bolts", ".friction"],
        kind(
            "clamp two faces made the same way over a load cell and pull until they slip, five times",
            Usual::Shares(0.8, 1.25),
            Search::Ratio(6.0),
        ),
    ),
    (
        &["bolts", ".scatter"],
        kind(
            "tighten ten bolts over a load cell: greatest preload over least",
            Usual::Shares(0.85, 1.2),
            Search::Ratio(2.0),
        ),
    ),
    (&["bolts", ".hole"], kind("caliper", Usual::Off(0.2e-3), Search::Ratio(1.5))),
    (&["bolts", ".ends."], kind("caliper", Usual::Off(0.5e-3), Search::Ratio(2.0))),
    (
        &["parts", "thickness"],
        // EN 10131 and EN 10051, from memory: sheets of 1.5 to 3 mm are off by 0.10 to 0.20 mm.
        Kind {
            measure: "micrometer at three places of the bare sheet",
            usual: Usual::Off(0.15e-3),
            source: "tolerances of sheet, EN 10131 and EN 10051, from memory",
            search: Search::Ratio(3.0),
        },
    ),
    (
        &["factors."],
        kind(
            "no measurement: agree it with whoever accepts the car",
            Usual::Unknown,
            Search::Ratio(2.0),
        ),
    ),
    (
        &["cases"],
        kind(
            "no measurement: a load assumption; agree it with whoever accepts the car",
            Usual::Shares(0.9, 1.1),
            Search::Ratio(3.0),
        ),
    ),
    (
        &["_mm"],
        kind(
            "jig or plumb line to the floor, tape from centre plane and axle line; both diagonals",
            Usual::Off(2e-3),
            Search::Off(50e-3),
        ),
    ),
    (&[], kind("tape, caliper or square", Usual::Off(1e-3), Search::Ratio(2.0))),
];

/// The kind of the input at a path.
pub(crate) fn of(path: &str) -> &'static Kind {
    let fits = |pieces: &&[&str]| pieces.iter().all(|piece| path.contains(piece));
    let last = &KINDS[KINDS.len() - 1].1;
    KINDS.iter().find(|(pieces, _)| fits(pieces)).map_or(last, |(_, kind)| kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_kind_goes_by_the_path() {
        for (path, word) in [
            ("rails[0].readings[2].thickness", "ultrasonic"),
            ("rails[0].readings_right[2].thickness", "ultrasonic"),
            ("car.cg_height", "lift the rear axle"),
            ("bushes[0].radial", "vice"),
            ("bushes[0].stop_rate", "beyond its stop"),
            ("bolts[1].friction", "slip"),
            ("bolts[1].tightening.thread_friction", "load-indicating"),
            ("rails[0].steel", "tension test"),
            ("steels[0].fy", "tension test"),
            ("brakes.grip", "best tyre"),
            ("cases[3].rear_share", "roll stiffness"),
            ("mounts[0].at.y_mm", "jig"),
            ("parts[0].folded.thickness", "micrometer"),
            ("car.wheelbase", "tape"),
        ] {
            assert!(of(path).measure.contains(word), "{path}: {}", of(path).measure);
        }
    }

    #[test]
    fn every_usual_spread_has_a_source_and_holds_the_value() {
        for (pieces, kind) in KINDS {
            assert_eq!(kind.usual == Usual::Unknown, kind.source.is_empty(), "{pieces:?}");
            if let Usual::Shares(low, high) = kind.usual {
                assert!(0.0 < low && low < 1.0 && high > 1.0, "{pieces:?}");
            }
        }
    }
}
