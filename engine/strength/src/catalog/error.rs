//! Why a look-up fails.

use thiserror::Error;

/// A failed look-up, with what would have been found.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CatalogError {
    /// No entry has this name.
    #[error("no {kind} is called \"{name}\"; nearest: {}{hint}", nearest.join(", "))]
    Unknown {
        /// What was looked for: "material", "thread".
        kind: &'static str,
        /// The name that was given.
        name: String,
        /// Names that are known and look like it.
        nearest: Vec<String>,
        /// What else can be done, or nothing.
        hint: &'static str,
    },
    /// The entry exists, but not for this size.
    #[error("{kind} {name} is listed for {}, not for {given_mm} mm", ranges.join(" and "))]
    OutsideBand {
        /// What was looked for.
        kind: &'static str,
        /// Its name.
        name: String,
        /// The thickness or diameter asked for, mm.
        given_mm: f64,
        /// The bands it is listed for.
        ranges: Vec<String>,
    },
    /// A number lies outside what a formula holds for.
    #[error("{what} is {given}; the formula holds from {least} to {most}")]
    OutsideScope {
        /// The number.
        what: &'static str,
        /// What was given.
        given: f64,
        /// The smallest allowed.
        least: f64,
        /// The largest allowed.
        most: f64,
    },
}

/// A name without blanks, dashes and case, and with `x` for a multiplication sign: `S 275` finds `S275`.
pub(super) fn plain(name: &str) -> String {
    let with_x = name.replace(['×', '*'], "x");
    let kept = with_x.chars().filter(|c| !c.is_whitespace() && !matches!(c, '-' | '_'));
    kept.flat_map(char::to_lowercase).collect()
}

/// The error for an unknown name, with the four nearest of the known ones.
pub(super) fn unknown<'a>(
    kind: &'static str,
    name: &str,
    known: impl Iterator<Item = &'a str>,
    hint: &'static str,
) -> CatalogError {
    let wanted: Vec<char> = plain(name).chars().take(64).collect();
    let mut ranked: Vec<(usize, &str)> =
        known.map(|k| (distance(&wanted, &plain(k).chars().collect::<Vec<_>>()), k)).collect();
    ranked.sort_by_key(|(d, _)| *d);
    let mut nearest: Vec<String> = Vec::new();
    for (_, name) in ranked {
        if nearest.len() < 4 && !nearest.iter().any(|n| n == name) {
            nearest.push(name.to_owned());
        }
    }
    CatalogError::Unknown { kind, name: name.chars().take(64).collect(), nearest, hint }
}

/// Fewest insertions, deletions and changes of letters that turn one text into the other.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let changed = diagonal + usize::from(x != y);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[b.len()]
}

/// Checks that a number lies where a formula holds.
pub(super) fn in_scope(
    what: &'static str,
    given: f64,
    least: f64,
    most: f64,
) -> Result<f64, CatalogError> {
    if given >= least && given <= most {
        return Ok(given);
    }
    Err(CatalogError::OutsideScope { what, given, least, most })
}

/// Whether `value` lies in a band that is open below and closed above; a rounding error of the unit conversion is forgiven.
pub(super) fn in_band(value: f64, over: f64, to: f64) -> bool {
    value > over && value <= to * (1.0 + 1e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn writing_habits_dont_matter() {
        assert_eq!(plain(" S 275-JR "), "s275jr");
        assert_eq!(plain("50 × 50 × 5"), "50x50x5");
    }

    #[test]
    fn nearest_names_come_first_and_once() {
        let known = ["S235", "S275", "S275", "S355", "DC01", "A36"];
        let error = unknown("material", "S257", known.into_iter(), "");
        let CatalogError::Unknown { nearest, .. } = &error else { panic!("{error}") };
        assert_eq!(nearest[..2], ["S235".to_owned(), "S275".to_owned()]);
        assert_eq!(nearest.len(), 4);
        assert!(error.to_string().starts_with("no material is called \"S257\"; nearest: S235"));
    }

    /// Textbook pair.
    #[test]
    fn kitten_is_three_from_sitting() {
        let letters = |s: &str| s.chars().collect::<Vec<_>>();
        assert_eq!(distance(&letters("kitten"), &letters("sitting")), 3);
    }
}
