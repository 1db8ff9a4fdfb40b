//! Sheet gauges. "14 gauge" is 1.90 mm in one country's table and 2.03 mm in another's, so a gauge
//! is refused unless it says whose it is.

use crate::units::Length;

const TABLE: &str = include_str!("../tables/sheet_gauges.csv");

/// Whose gauge a number belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum GaugeTable {
    /// Manufacturers' Standard Gauge for sheet steel, written `ga US`.
    Us,
    /// British Standard Wire Gauge, written `SWG`.
    Swg,
}

impl GaugeTable {
    fn key(self) -> &'static str {
        match self {
            Self::Us => "US",
            Self::Swg => "SWG",
        }
    }

    /// The title of the table.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Us => "Manufacturers' Standard Gauge for sheet steel",
            Self::Swg => "British Standard Wire Gauge",
        }
    }
}

/// One line of a gauge table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauge {
    /// Whose gauge.
    pub table: GaugeTable,
    /// The gauge number.
    pub number: u32,
    /// The thickness it stands for.
    pub thickness: Length,
}

/// All gauges of both tables, in the order of the tables.
#[must_use]
pub fn tables() -> Vec<Gauge> {
    TABLE
        .lines()
        .filter(|line| !line.starts_with('#') && !line.trim().is_empty())
        .map(|line| {
            let mut cells = line.split(',').map(str::trim);
            let table = match cells.next() {
                Some("US") => GaugeTable::Us,
                _ => GaugeTable::Swg,
            };
            let number = cells.next().and_then(|c| c.parse().ok());
            let inches: Option<f64> = cells.next().and_then(|c| c.parse().ok());
            Gauge {
                table,
                number: number.expect("every line of the gauge table has a number"),
                thickness: Length::from_inch(
                    inches.expect("every line of the gauge table has a thickness"),
                ),
            }
        })
        .collect()
}

/// The thickness of gauge `number` in `table`, or nothing where the table has no such number.
#[must_use]
pub fn thickness(table: GaugeTable, number: u32) -> Option<Length> {
    tables().into_iter().find(|g| g.table == table && g.number == number).map(|g| g.thickness)
}

/// The numbers a table holds, as `first to last`.
#[must_use]
pub fn range(table: GaugeTable) -> String {
    let numbers: Vec<u32> =
        tables().into_iter().filter(|g| g.table == table).map(|g| g.number).collect();
    match (numbers.iter().min(), numbers.iter().max()) {
        (Some(first), Some(last)) => format!("{} {first} to {last}", table.key()),
        _ => table.key().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Manufacturers' Standard Gauge, weight in oz/ft² over 16 over 41.82 lb/ft² per inch
    /// (41.82 read on public tables; weights from memory).
    #[test]
    fn us_gauges_follow_from_their_weights() {
        let ounces = [
            (10, 90.0),
            (11, 80.0),
            (12, 70.0),
            (13, 60.0),
            (14, 50.0),
            (15, 45.0),
            (16, 40.0),
            (17, 36.0),
            (18, 32.0),
            (19, 28.0),
            (20, 24.0),
            (21, 22.0),
            (22, 20.0),
        ];
        for (number, ounce) in ounces {
            let expected = ounce / 16.0 / 41.82;
            let got = thickness(GaugeTable::Us, number).expect("in the table").as_inch();
            assert!((got - expected).abs() < 0.000_06, "gauge {number}: {got} in, {expected} in");
        }
    }

    /// Source: common shop tables of millimetre equivalents, from memory.
    #[test]
    fn fourteen_gauge_differs_by_seven_per_cent() {
        let us = thickness(GaugeTable::Us, 14).expect("in the table").as_mm();
        let swg = thickness(GaugeTable::Swg, 14).expect("in the table").as_mm();
        assert!((us - 1.90).abs() < 0.005 && (swg - 2.03).abs() < 0.005);
    }

    #[test]
    fn thickness_falls_as_the_number_rises() {
        let all = tables();
        for pair in all.windows(2).filter(|p| p[0].table == p[1].table) {
            assert!(pair[0].number < pair[1].number && pair[0].thickness > pair[1].thickness);
        }
    }
}
