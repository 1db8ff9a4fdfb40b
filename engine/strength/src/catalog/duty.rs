//! Assumed duties.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};
use crate::fatigue::Duty;

pub(super) const DUTIES: &str = include_str!("../../tables/duty.csv");

/// An assumed duty of a family of loads.
#[derive(Debug, Clone, PartialEq)]
pub struct AssumedDuty {
    /// The family: `vertical`, `drive`, `brake`, `corner`.
    pub family: &'static str,
    /// How often which share of the full range of the family comes.
    pub duty: Duty,
    /// Where it comes from.
    pub source: String,
}

/// All assumed duties.
#[must_use]
pub fn assumed_duties() -> Vec<AssumedDuty> {
    let table = Table::known(DUTIES);
    let mut families: Vec<(&'static str, Vec<(f64, f64)>)> = Vec::new();
    for row in table.rows() {
        let pair = |row: Row<'_>| (row.number("share"), row.number("per_100_km"));
        match families.iter_mut().find(|known| known.0 == row.text("family")) {
            Some(known) => known.1.push(pair(row)),
            None => families.push((row.text("family"), vec![pair(row)])),
        }
    }
    let assumed = |(family, pairs): (&'static str, Vec<(f64, f64)>)| AssumedDuty {
        family,
        duty: Duty::new(&pairs).expect("the table is compiled in, and a test reads every row"),
        source: format!("{}: {}", table.title, table.citation()),
    };
    families.into_iter().map(assumed).collect()
}

/// The assumed duty of a family of loads.
///
/// # Errors
/// No such family.
pub fn find_duty(family: &str) -> Result<AssumedDuty, CatalogError> {
    let all = assumed_duties();
    let found = all.iter().find(|d| plain(d.family) == plain(family));
    found.cloned().ok_or_else(|| {
        let hint = "; or give shares and cycles of your own";
        unknown("duty", family, all.iter().map(|d| d.family), hint)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Over 200 000 km: cycles, and the range that does as much damage in 2 million cycles, with
    /// the cube of the range throughout. Own recomputation outside this code.
    #[test]
    fn equivalent_ranges_of_a_design_life() {
        for (family, cycles, equivalent) in [
            ("vertical", 16_844_400.0, 0.345_783),
            ("drive", 630_000.0, 0.306_093),
            ("brake", 330_600.0, 0.171_522),
            ("corner", 661_000.0, 0.206_472),
        ] {
            let blocks: Vec<_> = find_duty(family).unwrap().duty.over(1.0, 200_000e3).collect();
            let sum: f64 = blocks.iter().map(|b| b.1).sum();
            assert!((sum / cycles - 1.0).abs() < 1e-12, "{family}: {sum}");
            let cubes: f64 = blocks.iter().map(|b| b.1 * b.0.powi(3)).sum();
            assert!(((cubes / 2e6).cbrt() / equivalent - 1.0).abs() < 1e-5, "{family}");
        }
    }

    #[test]
    fn an_assumption_is_told_as_one() {
        for duty in assumed_duties() {
            assert!(duty.source.contains("common practice, no source"), "{}", duty.source);
        }
        let error = find_duty("parking").unwrap_err().to_string();
        assert!(error.contains("vertical") && error.contains("of your own"), "{error}");
    }
}
