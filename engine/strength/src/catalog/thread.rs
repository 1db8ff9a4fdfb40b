//! Screw threads.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};
use super::thread_limits::{Nominal, ThreadLimits};
use fishplate_quantity::algebra::sq;
use std::f64::consts::PI;
use std::sync::LazyLock;

pub(super) const METRIC: &str = include_str!("../../tables/metric_threads.csv");
pub(super) const UNIFIED: &str = include_str!("../../tables/unified_threads.csv");
const MM: f64 = 1e-3;
const INCH: f64 = 0.0254;

/// The thread system.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThreadSystem {
    /// ISO metric, 60 degrees.
    Metric,
    /// Unified inch, 60 degrees.
    Unified,
}

/// A thread of nominal form. Lengths in m, area in m2.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// Its name: `M12`, `M12x1.25`, `1/2-13`.
    pub name: String,
    /// Size without pitch, the key of heads and washers: `M12`, `1/2`.
    pub size: String,
    /// The system.
    pub system: ThreadSystem,
    /// Whether it is the coarse thread of its size.
    pub coarse: bool,
    /// Nominal diameter.
    pub d: f64,
    /// Pitch.
    pub pitch: f64,
    /// Pitch diameter, `d - 0.649519 P`.
    pub d_2: f64,
    /// Core diameter of the bolt: metric `d - 1.226869 P`, unified `d - 1.299038 P`.
    pub d_3: f64,
    /// Minor diameter of the nut, `d - 1.082532 P`.
    pub d_1: f64,
    /// Tensile stress area `pi/4 ((d_2 + d_3) / 2)^2` (ISO 898-1; ASME B1.1).
    pub a_s: f64,
    /// Area of the plain shank `pi/4 d^2`.
    pub a_shank: f64,
    /// The stress area as its standard lists it, rounded.
    pub a_s_listed: f64,
    /// The least bolt and the largest nut that tolerances allow: what strips first.
    pub limits: ThreadLimits,
}

/// What a row of either table says.
struct Listed {
    name: String,
    size: String,
    coarse: bool,
    d: f64,
    pitch: f64,
    a_s: f64,
}

impl Thread {
    fn new(
        system: ThreadSystem,
        listed: Listed,
        limits: impl Fn(&Nominal) -> ThreadLimits,
    ) -> Self {
        let Listed { name, size, coarse, d, pitch, a_s: a_s_listed } = listed;
        let d_2 = d - 0.649_519 * pitch;
        let d_3 = match system {
            ThreadSystem::Metric => d - 1.226_869 * pitch,
            ThreadSystem::Unified => d - 1.299_038 * pitch,
        };
        let d_1 = d - 1.082_532 * pitch;
        Self {
            name,
            size,
            system,
            coarse,
            d,
            pitch,
            d_2,
            d_3,
            d_1,
            a_s: PI / 4.0 * sq(f64::midpoint(d_2, d_3)),
            a_shank: PI / 4.0 * sq(d),
            a_s_listed,
            limits: limits(&Nominal { d, d_2, d_1, pitch }),
        }
    }

    /// Diameter of the circle with the stress area, m.
    #[must_use]
    pub fn d_s(&self) -> f64 {
        f64::midpoint(self.d_2, self.d_3)
    }

    fn metric(row: Row<'_>) -> Self {
        let (d, pitch) = (row.text("d"), row.text("pitch"));
        let coarse = row.text("series") == "coarse";
        let size = format!("M{d}");
        let listed = Listed {
            name: if coarse { size.clone() } else { format!("M{d}x{pitch}") },
            size,
            coarse,
            d: row.number("d") * MM,
            pitch: row.number("pitch") * MM,
            a_s: row.number("a_s_listed") * sq(MM),
        };
        Self::new(ThreadSystem::Metric, listed, |nominal| ThreadLimits::metric(nominal, &row))
    }

    fn unified(row: Row<'_>) -> Self {
        let size = row.text("size").to_owned();
        let listed = Listed {
            name: format!("{size}-{}", row.text("per_inch")),
            size,
            coarse: row.text("series") == "UNC",
            d: row.number("d") * INCH,
            pitch: INCH / row.number("per_inch"),
            a_s: row.number("a_t_listed") * sq(INCH),
        };
        Self::new(ThreadSystem::Unified, listed, ThreadLimits::unified)
    }

    /// The ways it is written.
    fn spellings(&self) -> Vec<String> {
        match self.system {
            ThreadSystem::Metric => {
                let pitch = format!("{}x{}", self.size, trimmed(self.pitch / MM));
                vec![self.name.clone(), pitch]
            }
            ThreadSystem::Unified => {
                let series = if self.coarse { "UNC" } else { "UNF" };
                let with_series = format!("{} {series}", self.name);
                vec![self.name.clone(), with_series, format!("{} {series}", self.size)]
            }
        }
    }
}

fn trimmed(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Every thread, metric first, with what it is found by. The tables are compiled in and read once.
static READ: LazyLock<Vec<(Thread, Vec<String>)>> = LazyLock::new(|| {
    let (metric, unified) = (Table::known(METRIC), Table::known(UNIFIED));
    let all = metric.rows().map(Thread::metric).chain(unified.rows().map(Thread::unified));
    let found_by = |t: &Thread| t.spellings().iter().map(|s| key(s)).collect();
    all.map(|t| {
        let keys = found_by(&t);
        (t, keys)
    })
    .collect()
});

/// All threads, metric first.
#[must_use]
pub fn threads() -> Vec<Thread> {
    READ.iter().map(|(thread, _)| thread.clone()).collect()
}

/// In `1/2-13` the dash separates; only blanks and case are habits.
fn key(text: &str) -> String {
    plain(&text.replace('-', "/per/"))
}

/// The thread of a name: `M12` is coarse, `M12x1.25` fine; `1/2-13`, `1/2-13 UNC` and `1/2 UNC` are one.
///
/// # Errors
/// No such thread.
pub fn find_thread(name: &str) -> Result<Thread, CatalogError> {
    let wanted = key(name);
    let found = READ.iter().find(|(_, keys)| keys.contains(&wanted));
    found.map(|(thread, _)| thread.clone()).ok_or_else(|| {
        let hint = "; a fine metric thread names its pitch, as M12x1.25, an inch thread its threads per inch, as 1/2-13";
        unknown("thread", name, READ.iter().map(|(t, _)| t.name.as_str()), hint)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 898-1 and ASME B1.1 tables (from memory); they round to three figures, M14 to 0.4 per cent.
    #[test]
    fn stress_areas_agree_with_the_listed_ones() {
        for t in threads() {
            let off = (t.a_s / t.a_s_listed - 1.0).abs();
            assert!(off < 4.5e-3, "{}: {} and {}", t.name, t.a_s, t.a_s_listed);
        }
    }

    /// ISO 724 (from memory): M6 5.350/4.917, core 4.773; M12 10.863/10.106, core 9.853; M20 18.376/17.294, core 16.933; mm.
    #[test]
    fn diameters_of_metric_threads() {
        for (name, d_2, d_3, d_1) in [
            ("M6", 5.350, 4.773, 4.917),
            ("M10x1.25", 9.188, 8.466, 8.647),
            ("M12", 10.863, 9.853, 10.106),
            ("M16", 14.701, 13.546, 13.835),
            ("M20", 18.376, 16.933, 17.294),
        ] {
            let t = find_thread(name).unwrap();
            for (got, expected) in [(t.d_2, d_2), (t.d_3, d_3), (t.d_1, d_1)] {
                assert!((got / MM - expected).abs() < 0.000_6, "{name}: {got} and {expected}");
            }
        }
    }

    /// `At = pi/4 (D - 0.9743/n)^2`, ASME B1.1; Shigley, 9th ed. SI, example 8-3: 0.373 in2 for 3/4-16.
    #[test]
    fn unified_stress_area_formula() {
        for t in threads().iter().filter(|t| t.system == ThreadSystem::Unified) {
            let formula = PI / 4.0 * sq(t.d - 0.9743 * t.pitch);
            assert!((t.a_s / formula - 1.0).abs() < 1e-4, "{}", t.name);
        }
        let a_t = find_thread("3/4-16").unwrap().a_s / sq(INCH);
        assert!((a_t - 0.373).abs() < 0.000_5);
    }

    #[test]
    fn threads_are_found_as_people_write_them() {
        for (written, name) in [
            ("M12", "M12"),
            ("m 12", "M12"),
            ("M12 x 1.75", "M12"),
            ("M12×1.25", "M12x1.25"),
            ("1/2-13", "1/2-13"),
            ("1/2 - 13 UNC", "1/2-13"),
            ("3/8 unf", "3/8-24"),
        ] {
            assert_eq!(find_thread(written).unwrap().name, name, "{written}");
        }
        assert!((find_thread("M5x0.8").unwrap().pitch - 0.8e-3).abs() < 1e-12);
    }

    #[test]
    fn an_unknown_thread_names_its_neighbours() {
        let error = find_thread("M12x1.2").unwrap_err().to_string();
        assert!(error.contains("M12x1.25"), "{error}");
        assert!(find_thread("1/213").is_err(), "a missing dash is not guessed");
        assert!(find_thread("").is_err());
    }

    /// ISO 724 and ISO 898-1, computed by hand from pitch and diameter: stress area mm2, d2, d3, D1 mm, shank mm2, proof loads of 8.8, 10.9 and 12.9 kN.
    #[rustfmt::skip]
    const METRIC_ROWS: [(&str, [f64; 8]); 17] = [
        ("M6x1", [20.12, 5.350, 4.773, 4.917, 28.27, 11.67, 16.70, 19.52]),
        ("M8x1.25", [36.61, 7.188, 6.466, 6.647, 50.27, 21.23, 30.39, 35.51]),
        ("M8x1", [39.17, 7.350, 6.773, 6.917, 50.27, 22.72, 32.51, 37.99]),
        ("M10x1.5", [57.99, 9.026, 8.160, 8.376, 78.54, 33.63, 48.13, 56.25]),
        ("M10x1.25", [61.20, 9.188, 8.466, 8.647, 78.54, 35.50, 50.79, 59.36]),
        ("M10x1", [64.49, 9.350, 8.773, 8.917, 78.54, 37.41, 53.53, 62.56]),
        ("M12x1.75", [84.27, 10.863, 9.853, 10.106, 113.10, 48.87, 69.94, 81.74]),
        ("M12x1.5", [88.13, 11.026, 10.160, 10.376, 113.10, 51.11, 73.14, 85.48]),
        ("M12x1.25", [92.07, 11.188, 10.466, 10.647, 113.10, 53.40, 76.42, 89.31]),
        ("M14x2", [115.44, 12.701, 11.546, 11.835, 153.94, 66.95, 95.81, 111.98]),
        ("M14x1.5", [124.55, 13.026, 12.160, 12.376, 153.94, 72.24, 103.37, 120.81]),
        ("M16x2", [156.67, 14.701, 13.546, 13.835, 201.06, 90.87, 130.03, 151.97]),
        ("M16x1.5", [167.25, 15.026, 14.160, 14.376, 201.06, 97.00, 138.82, 162.23]),
        ("M18x2.5", [192.47, 16.376, 14.933, 15.294, 254.47, 115.48, 159.75, 186.70]),
        ("M18x1.5", [216.23, 17.026, 16.160, 16.376, 254.47, 129.74, 179.47, 209.75]),
        ("M20x2.5", [244.79, 18.376, 16.933, 17.294, 314.16, 146.88, 203.18, 237.45]),
        ("M20x1.5", [271.50, 19.026, 18.160, 18.376, 314.16, 162.90, 225.35, 263.36]),
    ];

    /// ASME B1.1 formula by hand: stress area in2 and mm2; proof loads of SAE J429 grades 2, 5 and 8, lbf.
    #[rustfmt::skip]
    const UNIFIED_ROWS: [(&str, [f64; 5]); 16] = [
        ("1/4-20", [0.0318, 20.53, 1750.0, 2705.0, 3819.0]),
        ("1/4-28", [0.0364, 23.47, 2001.0, 3092.0, 4365.0]),
        ("5/16-18", [0.0524, 33.83, 2884.0, 4457.0, 6292.0]),
        ("5/16-24", [0.0581, 37.46, 3194.0, 4936.0, 6968.0]),
        ("3/8-16", [0.0775, 49.99, 4262.0, 6587.0, 9299.0]),
        ("3/8-24", [0.0878, 56.66, 4831.0, 7465.0, 10539.0]),
        ("7/16-14", [0.1063, 68.59, 5847.0, 9036.0, 12757.0]),
        ("7/16-20", [0.1187, 76.59, 6529.0, 10091.0, 14246.0]),
        ("1/2-13", [0.1419, 91.55, 7804.0, 12061.0, 17028.0]),
        ("1/2-20", [0.1600, 103.20, 8797.0, 13596.0, 19194.0]),
        ("9/16-12", [0.1819, 117.38, 10007.0, 15465.0, 21833.0]),
        ("9/16-18", [0.2030, 130.95, 11164.0, 17253.0, 24358.0]),
        ("5/8-11", [0.2260, 145.81, 12430.0, 19210.0, 27120.0]),
        ("5/8-18", [0.2560, 165.13, 14078.0, 21756.0, 30715.0]),
        ("3/4-10", [0.3345, 215.78, 18395.0, 28429.0, 40135.0]),
        ("3/4-16", [0.3730, 240.62, 20513.0, 31702.0, 44755.0]),
    ];

    #[test]
    fn rows_of_the_thread_tables() {
        let proof = |name: &str, t: &Thread| {
            super::super::find_bolt_class(name, t.d).unwrap().proof * t.a_s
        };
        for (name, [a_s, d_2, d_3, d_1, shank, p8, p10, p12]) in METRIC_ROWS {
            let t = find_thread(name).unwrap();
            let got = [t.a_s * 1e6, t.d_2 * 1e3, t.d_3 * 1e3, t.d_1 * 1e3, t.a_shank * 1e6];
            for ((got, expected), half) in got
                .iter()
                .zip([a_s, d_2, d_3, d_1, shank])
                .zip([0.0051, 0.000_51, 0.000_51, 0.000_51, 0.0051])
            {
                assert!((got - expected).abs() < half, "{name}: {got} and {expected}");
            }
            for (class, kn) in [("8.8", p8), ("10.9", p10), ("12.9", p12)] {
                assert!((proof(class, &t) / 1e3 / kn - 1.0).abs() < 5e-4, "{name}-{class}");
            }
        }
        for (name, [a_t, a_mm, p2, p5, p8]) in UNIFIED_ROWS {
            let t = find_thread(name).unwrap();
            assert!((t.a_s / sq(INCH) - a_t).abs() < 0.000_051, "{name}");
            assert!((t.a_s * 1e6 - a_mm).abs() < 0.011, "{name}");
            for (grade, lbf) in [("SAE 2", p2), ("SAE 5", p5), ("SAE 8", p8)] {
                let ratio = proof(grade, &t) / 4.448_222 / lbf;
                assert!((ratio - 1.0).abs() < 1.2e-3, "{name} {grade}: {ratio}");
            }
        }
    }
}
