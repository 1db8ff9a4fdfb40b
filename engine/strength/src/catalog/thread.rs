//! Screw threads.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};
use fishplate_quantity::algebra::sq;
use std::f64::consts::PI;

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
}

impl Thread {
    fn new(
        system: ThreadSystem,
        name: String,
        size: String,
        coarse: bool,
        d: f64,
        pitch: f64,
        a_s_listed: f64,
    ) -> Self {
        let d_2 = d - 0.649_519 * pitch;
        let d_3 = match system {
            ThreadSystem::Metric => d - 1.226_869 * pitch,
            ThreadSystem::Unified => d - 1.299_038 * pitch,
        };
        let stress_diameter = f64::midpoint(d_2, d_3);
        Self {
            name,
            size,
            system,
            coarse,
            d,
            pitch,
            d_2,
            d_3,
            d_1: d - 1.082_532 * pitch,
            a_s: PI / 4.0 * sq(stress_diameter),
            a_shank: PI / 4.0 * sq(d),
            a_s_listed,
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
        let name = if coarse { size.clone() } else { format!("M{d}x{pitch}") };
        let (d, pitch) = (row.number("d") * MM, row.number("pitch") * MM);
        Self::new(
            ThreadSystem::Metric,
            name,
            size,
            coarse,
            d,
            pitch,
            row.number("a_s_listed") * sq(MM),
        )
    }

    fn unified(row: Row<'_>) -> Self {
        let size = row.text("size").to_owned();
        let name = format!("{size}-{}", row.text("per_inch"));
        let coarse = row.text("series") == "UNC";
        let (d, pitch) = (row.number("d") * INCH, INCH / row.number("per_inch"));
        Self::new(
            ThreadSystem::Unified,
            name,
            size,
            coarse,
            d,
            pitch,
            row.number("a_t_listed") * sq(INCH),
        )
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

/// All threads, metric first.
#[must_use]
pub fn threads() -> Vec<Thread> {
    let metric = Table::known(METRIC);
    let unified = Table::known(UNIFIED);
    metric.rows().map(Thread::metric).chain(unified.rows().map(Thread::unified)).collect()
}

/// The thread of a name: `M12` is coarse, `M12x1.25` fine; `1/2-13`, `1/2-13 UNC` and `1/2 UNC` are one.
///
/// # Errors
/// No such thread.
pub fn find_thread(name: &str) -> Result<Thread, CatalogError> {
    let all = threads();
    // In "1/2-13" the dash separates; only blanks and case are habits.
    let key = |text: &str| plain(&text.replace('-', "/per/"));
    let wanted = key(name);
    let found = all.iter().find(|t| t.spellings().iter().any(|s| key(s) == wanted));
    found.cloned().ok_or_else(|| {
        let hint = "; a fine metric thread names its pitch, as M12x1.25, an inch thread its threads per inch, as 1/2-13";
        unknown("thread", name, all.iter().map(|t| t.name.as_str()), hint)
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
}
