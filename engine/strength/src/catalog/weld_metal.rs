//! Weld metal of aluminium.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};

pub(super) const WELD_METAL: &str = include_str!("../../tables/weld_metal.csv");
const MPA: f64 = 1e6;

/// The strength of aluminium weld metal in a joint of an alloy.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldMetal {
    /// The alloy that is joined: `6082`.
    pub alloy: &'static str,
    /// The filler: `5356`, `4043A`.
    pub filler: &'static str,
    /// Characteristic strength, Pa.
    pub f_w: f64,
    /// What a reader must know about it; may be empty.
    pub note: &'static str,
}

const FILLERS: [(&str, &str); 2] = [("5356", "filler_5356"), ("4043A", "filler_4043a")];

/// All combinations of alloy and filler.
#[must_use]
pub fn weld_metals() -> Vec<WeldMetal> {
    let table = Table::known(WELD_METAL);
    let of_alloy = |row: Row<'_>| {
        FILLERS.map(|(filler, column)| {
            let f_w = row.maybe(column)? * MPA;
            Some(WeldMetal { alloy: row.text("alloy"), filler, f_w, note: row.text("note") })
        })
    };
    table.rows().flat_map(of_alloy).flatten().collect()
}

/// The weld metal of an alloy, with or without its temper (`6082-T6`), and a filler.
///
/// # Errors
/// No such alloy, or no such filler for it.
pub fn find_weld_metal(alloy: &str, filler: &str) -> Result<WeldMetal, CatalogError> {
    let all = weld_metals();
    let bare = alloy.split('-').next().unwrap_or(alloy);
    let own: Vec<&WeldMetal> = all.iter().filter(|m| plain(m.alloy) == plain(bare)).collect();
    if own.is_empty() {
        let hint = "; or give f_w of your own";
        return Err(unknown("aluminium alloy", alloy, all.iter().map(|m| m.alloy), hint));
    }
    let found = own.iter().find(|m| plain(m.filler) == plain(filler));
    found
        .map(|m| (*m).clone())
        .ok_or_else(|| unknown("filler for this alloy", filler, own.iter().map(|m| m.filler), ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EN 1999-1-1:2007 Table 8.8, from memory.
    #[test]
    fn weld_metal_by_alloy_and_filler() {
        for (alloy, filler, f_w) in [
            ("6061", "5356", 190.0),
            ("6061-T6", "4043a", 170.0),
            ("6082-T6", "5356", 210.0),
            ("5083", "5356", 240.0),
            ("7020", "4043A", 210.0),
        ] {
            let metal = find_weld_metal(alloy, filler).unwrap();
            assert!((metal.f_w / MPA - f_w).abs() < 1e-9, "{alloy} {filler}");
        }
    }

    #[test]
    fn what_the_table_does_not_have_is_not_guessed() {
        let error = find_weld_metal("5083", "4043A").unwrap_err().to_string();
        assert!(error.contains("5356"), "{error}");
        let error = find_weld_metal("2024", "5356").unwrap_err().to_string();
        assert!(error.contains("f_w of your own"), "{error}");
    }
}
