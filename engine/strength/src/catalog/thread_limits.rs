//! Limits of size of threads, for stripping.

use super::table::Row;
use fishplate_quantity::algebra::sq;

/// The smallest bolt thread and the largest nut thread of the ordinary tolerance classes, m:
/// ISO 965-1 6g and 6H, ASME B1.1 2A and 2B.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ThreadLimits {
    /// Least outside diameter of the bolt.
    pub d_min: f64,
    /// Least pitch diameter of the bolt.
    pub d_2_min: f64,
    /// Largest minor diameter of the nut.
    pub d_1_nut_max: f64,
    /// Largest pitch diameter of the nut.
    pub d_2_nut_max: f64,
}

/// Nominal diameters from which the limits are measured, m.
pub(super) struct Nominal {
    pub(super) d: f64,
    pub(super) d_2: f64,
    pub(super) d_1: f64,
    pub(super) pitch: f64,
}

impl ThreadLimits {
    /// 6g and 6H by the tolerances of the table.
    pub(super) fn metric(n: &Nominal, row: &Row<'_>) -> Self {
        let um = |column: &str| row.number(column) * 1e-6;
        Self {
            d_min: n.d - um("es") - um("t_d"),
            d_2_min: n.d_2 - um("es") - um("t_d2"),
            d_1_nut_max: n.d_1 + um("t_nut_d1"),
            d_2_nut_max: n.d_2 + um("t_nut_d2"),
        }
    }

    /// 2A and 2B by the formulas of ASME B1.1 (from memory), in inches, for UNC and UNF threads engaged over one diameter: tolerance of the pitch diameter
    /// `0.0015 D^(1/3) + 0.0015 L^(1/2) + 0.015 P^(2/3)`, allowance 0.3 of it, nut 1.3 of it; outside diameter `0.060 P^(2/3)`; minor diameter
    /// of the nut `0.25 P - 0.40 P^2`.
    pub(super) fn unified(n: &Nominal) -> Self {
        const INCH: f64 = 0.0254;
        let (d, p) = (n.d / INCH, n.pitch / INCH);
        let p_two_thirds = p.cbrt() * p.cbrt();
        let t_d2 = 0.0015 * d.cbrt() + 0.0015 * d.sqrt() + 0.015 * p_two_thirds;
        let allowance = 0.3 * t_d2;
        Self {
            d_min: n.d - (allowance + 0.060 * p_two_thirds) * INCH,
            d_2_min: n.d_2 - (allowance + t_d2) * INCH,
            d_1_nut_max: n.d_1 + (0.25 * p - 0.40 * sq(p)) * INCH,
            d_2_nut_max: n.d_2 + 1.3 * t_d2 * INCH,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{find_thread, threads};

    /// Limits of size of ISO 965-2 for 6g and 6H (from memory), mm: bolt outside, bolt pitch, nut minor, nut pitch.
    #[test]
    fn metric_limits() {
        for (name, expected) in [
            ("M6", [5.794, 5.212, 5.153, 5.500]),
            ("M8", [7.760, 7.042, 6.912, 7.348]),
            ("M10", [9.732, 8.862, 8.676, 9.206]),
            ("M12", [11.701, 10.679, 10.441, 11.063]),
            ("M16", [15.682, 14.503, 14.210, 14.913]),
            ("M20", [19.623, 18.164, 17.744, 18.600]),
        ] {
            let l = find_thread(name).unwrap().limits;
            for (got, expected) in
                [l.d_min, l.d_2_min, l.d_1_nut_max, l.d_2_nut_max].iter().zip(expected)
            {
                assert!((got * 1e3 - expected).abs() < 0.001_1, "{name}: {got} and {expected}");
            }
        }
    }

    /// ASME B1.1 Table for 1/2-13 UNC (from memory), in: 2A outside 0.4876, pitch 0.4435; 2B minor 0.434, pitch 0.4565. The standard rounds
    /// basic size, allowance and tolerance to 0.0001 in each before it adds them: three halves of that.
    #[test]
    fn unified_limits() {
        let l = find_thread("1/2-13").unwrap().limits;
        let inch = |m: f64| m / 0.0254;
        for (got, expected, half) in [
            (l.d_min, 0.4876, 0.000_15),
            (l.d_2_min, 0.4435, 0.000_15),
            (l.d_1_nut_max, 0.434, 0.000_6),
            (l.d_2_nut_max, 0.4565, 0.000_15),
        ] {
            assert!((inch(got) - expected).abs() < half, "{} and {expected}", inch(got));
        }
    }

    #[test]
    fn the_worst_pair_still_engages() {
        for t in threads() {
            let l = t.limits;
            assert!(l.d_min < t.d && l.d_2_min < t.d_2, "{}", t.name);
            assert!(l.d_1_nut_max > t.d_1 && l.d_2_nut_max > t.d_2, "{}", t.name);
            assert!(l.d_min > l.d_2_nut_max && l.d_2_min > l.d_1_nut_max, "{}", t.name);
        }
    }
}
