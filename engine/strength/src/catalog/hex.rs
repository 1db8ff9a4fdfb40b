//! Heads, nuts, clearance holes and washers.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};
use super::thread::Thread;

pub(super) const HEX: &str = include_str!("../../tables/hex_heads.csv");
pub(super) const WASHERS: &str = include_str!("../../tables/washers.csv");
const MM: f64 = 1e-3;

/// Hexagon head and nut of one size, m.
#[derive(Debug, Clone, PartialEq)]
pub struct HexSize {
    /// `M12`, `1/2`.
    pub size: &'static str,
    /// Width across flats.
    pub s: f64,
    /// Width across points, the least allowed.
    pub e: f64,
    /// Diameter of the bearing face, the least allowed.
    pub d_w: f64,
    /// Height of the head.
    pub k: f64,
    /// Height of the nut.
    pub m: f64,
    /// Clearance holes: fine, medium, coarse.
    pub holes: [f64; 3],
}

impl HexSize {
    /// Mean of the widths across flats and across points, m: `d_m` of EN 1993-1-8 Table 3.4 for punching.
    #[must_use]
    pub fn d_m(&self) -> f64 {
        f64::midpoint(self.s, self.e)
    }

    /// The medium clearance hole, m: that of EN 1090-2 for M12 and M14 is 0.5 mm smaller.
    #[must_use]
    pub fn hole_medium(&self) -> f64 {
        self.holes[1]
    }

    fn from_row(row: Row<'_>) -> Self {
        let mm = |column: &str| row.number(column) * MM;
        Self {
            size: row.text("size"),
            s: mm("s"),
            e: mm("e"),
            d_w: mm("d_w"),
            k: mm("k"),
            m: mm("m"),
            holes: [mm("hole_fine"), mm("hole_medium"), mm("hole_coarse")],
        }
    }
}

/// A plain washer, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Washer {
    /// Its standard: `ISO 7089` normal, `ISO 7093` large.
    pub standard: &'static str,
    /// `M12`.
    pub size: &'static str,
    /// Hole.
    pub d_1: f64,
    /// Outside diameter.
    pub d_2: f64,
    /// Thickness.
    pub h: f64,
}

impl Washer {
    fn from_row(row: Row<'_>) -> Self {
        Self {
            standard: row.text("standard"),
            size: row.text("size"),
            d_1: row.number("d_1") * MM,
            d_2: row.number("d_2") * MM,
            h: row.number("h") * MM,
        }
    }
}

/// All heads and nuts.
#[must_use]
pub fn hex_sizes() -> Vec<HexSize> {
    Table::known(HEX).rows().map(HexSize::from_row).collect()
}

/// All washers.
#[must_use]
pub fn washers() -> Vec<Washer> {
    Table::known(WASHERS).rows().map(Washer::from_row).collect()
}

/// Head and nut for a thread.
///
/// # Errors
/// None is listed for its size.
pub fn find_hex(thread: &Thread) -> Result<HexSize, CatalogError> {
    let all = hex_sizes();
    let found = all.iter().find(|h| h.size == thread.size);
    found
        .cloned()
        .ok_or_else(|| unknown("hexagon size", &thread.size, all.iter().map(|h| h.size), ""))
}

/// The washer of a standard (`ISO 7089`, `ISO 7093`) for a thread.
///
/// # Errors
/// None is listed for that size and standard.
pub fn find_washer(standard: &str, thread: &Thread) -> Result<Washer, CatalogError> {
    let all = washers();
    let wanted = plain(standard);
    let fits = |w: &&Washer| plain(w.standard) == wanted && w.size == thread.size;
    all.iter().find(fits).cloned().ok_or_else(|| {
        let names: Vec<String> = all.iter().map(|w| format!("{} {}", w.standard, w.size)).collect();
        let asked = format!("{standard} {}", thread.size);
        unknown(
            "washer",
            &asked,
            names.iter().map(String::as_str),
            "; or give hole, outside diameter and thickness",
        )
    })
}

#[cfg(test)]
mod tests {
    use super::super::{find_thread, threads};
    use super::*;

    /// ISO 4014 widths across flats (from memory): M8 13, M10 16, M12 18, M14 21, M16 24, M18 27, M20 30. Points of a regular hexagon lie at 1.1547 s; the
    /// least allowed is a little less.
    #[test]
    fn hexagons_are_hexagons() {
        for h in hex_sizes() {
            let ratio = h.e / h.s;
            assert!(ratio > 1.09 && ratio < 2.0 / 3.0_f64.sqrt(), "{}: {ratio}", h.size);
            assert!(h.d_w < h.s && h.d_m() > h.s && h.d_m() < h.e);
            let thread = threads().into_iter().find(|t| t.size == h.size).unwrap();
            assert!(h.holes[0] > thread.d && h.holes[0] < h.holes[1] && h.holes[1] < h.holes[2]);
            assert!(h.d_w > h.holes[2], "the head covers its hole: {}", h.size);
        }
        let s = |name: &str| {
            let hex = find_hex(&find_thread(name).unwrap()).unwrap();
            (hex.s / MM).round() as i64
        };
        assert_eq!(["M8", "M10", "M12", "M14", "M16", "M20"].map(s), [13, 16, 18, 21, 24, 30]);
    }

    #[test]
    fn every_thread_has_a_head_and_metric_ones_have_washers() {
        for t in threads() {
            let hex = find_hex(&t).unwrap();
            if t.name.starts_with('M') {
                let (small, large) =
                    (find_washer("ISO 7089", &t).unwrap(), find_washer("iso7093", &t).unwrap());
                assert!(
                    small.d_1 > t.d && small.d_2 > hex.d_w && large.d_2 > small.d_2,
                    "{}",
                    t.name
                );
            } else {
                assert!(find_washer("ISO 7089", &t).is_err());
            }
        }
    }
}
