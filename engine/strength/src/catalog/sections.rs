//! Standard angles and tubes.

use super::error::{CatalogError, plain, unknown};
use super::table::{Row, Table};
use crate::section::{Angle, RectangularTube, RoundTube, SectionShape};
use fishplate_quantity::algebra::{larger, smaller};

pub(super) const ANGLES: &str = include_str!("../../tables/angles.csv");
pub(super) const TUBES: &str = include_str!("../../tables/tubes.csv");
pub(super) const ROUND_TUBES: &str = include_str!("../../tables/round_tubes.csv");
pub(super) const INCH_SECTIONS: &str = include_str!("../../tables/inch_sections.csv");
const MM: f64 = 1e-3;
const INCH: f64 = 0.0254;
/// The invariant behind building a shape from a row.
const BUILDS: &str = "the tables are compiled in, and a test builds every section of each";

/// A section that can be bought.
#[derive(Debug, Clone, PartialEq)]
pub struct StandardSection {
    /// Its name: `L 50x50x5`, `tube 60x40x3`, `round 48.3x3.2`, `tube 2x1x0.083 in`.
    pub name: String,
    /// The family: "angle", "rectangular tube", "round tube".
    pub family: &'static str,
    /// Its shape; angles with the long leg upright, tubes with the long side upright.
    pub shape: SectionShape,
    /// Where its dimensions stand, and how they were entered.
    pub source: String,
}

/// All standard sections.
#[must_use]
pub fn standard_sections() -> Vec<StandardSection> {
    let mut all = Vec::new();
    for (text, read) in [
        (ANGLES, angle as fn(Row<'_>) -> (String, SectionShape)),
        (TUBES, tube),
        (ROUND_TUBES, round_tube),
        (INCH_SECTIONS, inch_section),
    ] {
        let table = Table::known(text);
        let source = table.citation();
        all.extend(table.rows().map(|row| {
            let (name, shape) = read(row);
            StandardSection { name, family: shape.name(), shape, source: source.clone() }
        }));
    }
    all
}

/// The standard section of a name; case, blanks and the multiplication sign don't matter.
///
/// # Errors
/// No such name.
pub fn find_section(name: &str) -> Result<StandardSection, CatalogError> {
    let all = standard_sections();
    let found = all.iter().find(|s| plain(&s.name) == plain(name));
    found.cloned().ok_or_else(|| {
        let hint = "; any other size can be computed from its dimensions";
        unknown("section", name, all.iter().map(|s| s.name.as_str()), hint)
    })
}

/// The rolled angle of EN 10056-1 with these legs and thickness, m; the vertical leg is the one given first.
///
/// # Errors
/// Not listed. Its properties can still be computed by [`Angle::new`] with its root radius, or by [`Angle::sharp`] without.
pub fn find_angle(vertical: f64, horizontal: f64, t: f64) -> Result<Angle, CatalogError> {
    let table = Table::known(ANGLES);
    let row = table.rows().find(|r| {
        let legs = (larger(vertical, horizontal), smaller(vertical, horizontal));
        same(r.number("long_leg"), legs.0)
            && same(r.number("short_leg"), legs.1)
            && same(r.number("t"), t)
    });
    let Some(row) = row else {
        let hint = "; any other angle can be computed from its dimensions, with its root radius or with sharp corners";
        return Err(not_listed("angle", &[vertical, horizontal, t], "L", hint));
    };
    let radius = row.number("root_radius") * MM;
    Ok(Angle::new(vertical, horizontal, t, radius, radius / 2.0).expect(BUILDS))
}

/// The cold-formed tube of EN 10219-2 with this height, width and wall, m.
///
/// # Errors
/// Not listed. Its properties can still be computed by [`RectangularTube::uniform`] with its corner radii.
pub fn find_tube(height: f64, width: f64, t: f64) -> Result<RectangularTube, CatalogError> {
    let table = Table::known(TUBES);
    let listed = table.rows().any(|r| {
        same(r.number("height"), larger(height, width))
            && same(r.number("width"), smaller(height, width))
            && same(r.number("t"), t)
    });
    if !listed {
        let hint = "; any other tube can be computed from its dimensions and corner radii";
        return Err(not_listed("rectangular tube", &[height, width, t], "tube", hint));
    }
    Ok(RectangularTube::uniform(height, width, t, 2.0 * t, t).expect(BUILDS))
}

/// The cold-formed round tube of EN 10219-2 with this diameter and wall, m.
///
/// # Errors
/// Not listed. Its properties can still be computed by [`RoundTube::new`].
pub fn find_round_tube(d: f64, t: f64) -> Result<RoundTube, CatalogError> {
    let table = Table::known(ROUND_TUBES);
    if !table.rows().any(|r| same(r.number("d"), d) && same(r.number("t"), t)) {
        let hint = "; any other tube can be computed from its diameter and wall";
        return Err(not_listed("round tube", &[d, t], "round", hint));
    }
    Ok(RoundTube::new(d, t).expect(BUILDS))
}

/// Whether a listed size in mm is the length asked for in m.
fn same(listed_mm: f64, asked: f64) -> bool {
    (listed_mm * MM - asked).abs() < 1e-7
}

fn not_listed(kind: &'static str, sizes: &[f64], prefix: &str, hint: &'static str) -> CatalogError {
    let text: Vec<String> =
        sizes.iter().map(|s| format!("{}", (s / MM * 1e3).round() / 1e3)).collect();
    let all = standard_sections();
    let names = all.iter().filter(|s| s.family == kind && !s.name.ends_with(" in"));
    unknown(kind, &format!("{prefix} {}", text.join("x")), names.map(|s| s.name.as_str()), hint)
}

fn angle(row: Row<'_>) -> (String, SectionShape) {
    let mm = |column: &str| row.number(column) * MM;
    let name = format!("L {}x{}x{}", row.text("long_leg"), row.text("short_leg"), row.text("t"));
    let radius = mm("root_radius");
    let shape = Angle::new(mm("long_leg"), mm("short_leg"), mm("t"), radius, radius / 2.0);
    (name, shape.expect(BUILDS).into())
}

fn tube(row: Row<'_>) -> (String, SectionShape) {
    let mm = |column: &str| row.number(column) * MM;
    let name = format!("tube {}x{}x{}", row.text("height"), row.text("width"), row.text("t"));
    let t = mm("t");
    let shape = RectangularTube::uniform(mm("height"), mm("width"), t, 2.0 * t, t);
    (name, shape.expect(BUILDS).into())
}

fn round_tube(row: Row<'_>) -> (String, SectionShape) {
    let name = format!("round {}x{}", row.text("d"), row.text("t"));
    let shape = RoundTube::new(row.number("d") * MM, row.number("t") * MM);
    (name, shape.expect(BUILDS).into())
}

fn inch_section(row: Row<'_>) -> (String, SectionShape) {
    let (a, b, t) = (row.number("a") * INCH, row.number("b") * INCH, row.number("t") * INCH);
    let (written_a, written_b, written_t) = (row.text("a"), row.text("b"), row.text("t"));
    match row.text("shape") {
        "round" => {
            let shape = RoundTube::new(a, t).expect(BUILDS);
            (format!("round {written_a}x{written_t} in"), shape.into())
        }
        "angle" => {
            let shape = Angle::sharp(a, b, t).expect(BUILDS);
            (format!("L {written_a}x{written_b}x{written_t} in"), shape.into())
        }
        _ => {
            let shape = RectangularTube::uniform(a, b, t, 2.0 * t, t).expect(BUILDS);
            (format!("tube {written_a}x{written_b}x{written_t} in"), shape.into())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EN 10219-2 Table B.1 (from memory), three figures: half a unit of the last is at most 0.5 per cent.
    #[test]
    fn round_tubes_agree_with_the_listed_values() {
        let table = Table::known(ROUND_TUBES);
        for row in table.rows() {
            let shape = find_round_tube(row.number("d") * MM, row.number("t") * MM).unwrap();
            let p = SectionShape::from(shape).properties();
            let name = row.text("d");
            assert!(
                (p.area * 1e4 / row.number("a_listed") - 1.0).abs() < 5e-3,
                "{name}: {}",
                p.area
            );
            assert!((p.i_y * 1e8 / row.number("i_listed") - 1.0).abs() < 5e-3, "{name}: {}", p.i_y);
        }
    }

    #[test]
    fn every_section_is_found_by_its_name() {
        let all = standard_sections();
        for s in &all {
            assert_eq!(&find_section(&s.name).unwrap(), s);
        }
        let mut names: Vec<String> = all.iter().map(|s| plain(&s.name)).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), all.len(), "no name stands twice");
    }

    /// EN 10056-1 (from memory): 60x40x5 has a root radius of 6 mm, whichever leg stands.
    #[test]
    fn an_angle_may_stand_on_either_leg() {
        let standing = find_angle(0.060, 0.040, 0.005).unwrap();
        let lying = find_angle(0.040, 0.060, 0.005).unwrap();
        for a in [&standing, &lying] {
            assert!(
                (a.root_radius() - 0.006).abs() < 1e-12 && (a.toe_radius() - 0.003).abs() < 1e-12
            );
        }
        assert!((standing.vertical_leg() - lying.horizontal_leg()).abs() < 1e-15);
        assert!((find_tube(0.040, 0.060, 0.003).unwrap().width() - 0.060).abs() < 1e-15);
    }

    #[test]
    fn what_is_not_listed_is_refused_with_a_way_on() {
        let error = find_angle(0.050, 0.050, 0.004).unwrap_err().to_string();
        assert!(error.contains("\"L 50x50x4\"") && error.contains("L 50x50x5"), "{error}");
        assert!(error.contains("root radius or with sharp corners"), "{error}");
        assert!(find_tube(0.060, 0.040, 0.0031).is_err());
        assert!(find_round_tube(f64::NAN, 0.003).is_err());
        assert!(find_section("L 55x55x5").unwrap_err().to_string().contains("nearest"));
    }
}
