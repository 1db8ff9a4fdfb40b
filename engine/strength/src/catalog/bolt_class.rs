//! Property classes and grades of bolts.

use super::error::{CatalogError, in_band, plain, unknown};
use super::table::{Row, Table};

pub(super) const CLASSES: &str = include_str!("../../tables/bolt_classes.csv");
const MPA: f64 = 1e6;
const MM: f64 = 1e-3;

/// A property class (ISO 898-1) or grade (SAE J429) in one band of diameters. Strengths in Pa.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltClass {
    /// `8.8`, `SAE 5`.
    pub name: &'static str,
    /// Other names it goes by.
    pub aliases: Vec<&'static str>,
    /// The values hold for diameters above this, m.
    pub d_over: f64,
    /// ... up to and including this, m.
    pub d_to: f64,
    /// Yield strength EN 1993-1-8 computes with (nominal).
    pub f_yb: f64,
    /// Tensile strength EN 1993-1-8 computes with (nominal).
    pub f_ub: f64,
    /// Least yield strength of the product standard: preloads are computed with it.
    pub r_p_min: f64,
    /// Least tensile strength of the product standard.
    pub r_m_min: f64,
    /// Proof stress.
    pub proof: f64,
    /// Elongation after fracture, part of one, where the standard gives it.
    pub elongation: Option<f64>,
    /// Shear factor of EN 1993-1-8 Table 3.4 for a plane through the thread; on the shank it is 0.6 for all.
    pub alpha_v: f64,
    /// Whether EN 1993-1-8 Table 3.1 lists the class. Others are outside its scope and take the smaller `alpha_v`.
    pub in_en_1993: bool,
    /// What a reader must know about it; may be empty.
    pub note: &'static str,
}

impl BoltClass {
    fn from_row(row: Row<'_>) -> Self {
        Self {
            name: row.text("name"),
            aliases: row.list("aliases"),
            d_over: row.number("d_over") * MM,
            d_to: row.number("d_to") * MM,
            f_yb: row.number("f_yb") * MPA,
            f_ub: row.number("f_ub") * MPA,
            r_p_min: row.number("r_p_min") * MPA,
            r_m_min: row.number("r_m_min") * MPA,
            proof: row.number("proof") * MPA,
            elongation: row.maybe("elongation").map(|v| v / 100.0),
            alpha_v: row.number("alpha_v"),
            in_en_1993: row.text("in_en_1993") == "yes",
            note: row.text("note"),
        }
    }
}

/// All classes and grades, one entry per band of diameters.
#[must_use]
pub fn bolt_classes() -> Vec<BoltClass> {
    Table::known(CLASSES).rows().map(BoltClass::from_row).collect()
}

/// The class of a name for a bolt of nominal diameter `d`, m: some strengths change above 16 mm or 3/4 in.
///
/// # Errors
/// No such class, or it isn't listed for that diameter.
pub fn find_bolt_class(name: &str, d: f64) -> Result<BoltClass, CatalogError> {
    let all = bolt_classes();
    let wanted = plain(name);
    let called = |c: &&BoltClass| {
        plain(c.name) == wanted || c.aliases.iter().any(|alias| plain(alias) == wanted)
    };
    let bands: Vec<&BoltClass> = all.iter().filter(called).collect();
    if bands.is_empty() {
        let hint = "; unmarked hardware counts as 4.6, in inch sizes as SAE 2";
        return Err(unknown("bolt class", name, all.iter().map(|c| c.name), hint));
    }
    let band = bands.iter().find(|c| in_band(d, c.d_over, c.d_to));
    band.map(|c| (*c).clone()).ok_or_else(|| CatalogError::OutsideBand {
        kind: "bolt class",
        name: bands[0].name.to_owned(),
        given_mm: d / MM,
        ranges: bands
            .iter()
            .map(|c| format!("over {} to {} mm", c.d_over / MM, c.d_to / MM))
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The two figures of an ISO 898-1 class are a hundredth of the nominal tensile strength in MPa and a tenth of the ratio of
    /// yield to it.
    #[test]
    fn nominal_strengths_follow_from_the_name() {
        for c in bolt_classes().iter().filter(|c| !c.name.starts_with("SAE")) {
            let (hundreds, tenths) = c.name.split_once('.').unwrap();
            let f_ub = hundreds.parse::<f64>().unwrap() * 100.0 * MPA;
            let f_yb = f_ub * tenths.parse::<f64>().unwrap() / 10.0;
            assert!((c.f_ub - f_ub).abs() < 1.0 && (c.f_yb - f_yb).abs() < 1.0, "{}", c.name);
        }
    }

    /// SAE J429 (from memory), ksi: proof, yield, tensile.
    #[test]
    fn grades_are_the_ksi_values() {
        for (name, d_inch, ksi) in [
            ("SAE 2", 0.5, [55.0, 57.0, 74.0]),
            ("grade 2", 0.875, [33.0, 36.0, 60.0]),
            ("SAE 5", 1.0, [85.0, 92.0, 120.0]),
            ("SAE 5", 1.25, [74.0, 81.0, 105.0]),
            ("Grade 8", 0.5, [120.0, 130.0, 150.0]),
        ] {
            let c = find_bolt_class(name, d_inch * 0.0254).unwrap();
            for (got, expected) in [c.proof, c.r_p_min, c.r_m_min].iter().zip(ksi) {
                assert!((got / 6.894_757e6 - expected).abs() < 0.1, "{name}: {got}");
            }
        }
    }

    /// ISO 898-1 proof loads (from memory): M12-8.8 48.9 kN, M16-10.9 130 kN, M20-8.8 147 kN, M10-12.9 56.3 kN.
    #[test]
    fn proof_loads() {
        for (thread, class, kn) in [
            ("M12", "8.8", 48.9),
            ("M16", "10.9", 130.0),
            ("M20", "8.8", 147.0),
            ("M10", "12.9", 56.3),
        ] {
            let t = super::super::find_thread(thread).unwrap();
            let c = find_bolt_class(class, t.d).unwrap();
            assert!((c.proof * t.a_s / 1e3 / kn - 1.0).abs() < 3e-3, "{thread}-{class}");
        }
    }

    /// EN 1993-1-8 Table 3.4: 0.6 for 4.6, 5.6 and 8.8; 0.5 for 4.8, 5.8, 6.8 and 10.9. Table 3.1 ends at 10.9.
    #[test]
    fn shear_factors() {
        for c in bolt_classes() {
            let expected = if ["4.6", "5.6", "8.8"].contains(&c.name) { 0.6 } else { 0.5 };
            assert!((c.alpha_v - expected).abs() < 1e-12, "{}", c.name);
            let listed = ["4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "10.9"].contains(&c.name);
            assert_eq!(c.in_en_1993, listed, "{}", c.name);
            assert!(c.proof < c.r_p_min && c.r_p_min < c.r_m_min && c.r_m_min >= c.f_ub);
        }
    }

    #[test]
    fn bands_and_unknown_names() {
        assert!((find_bolt_class("8.8", 0.016).unwrap().proof / MPA - 580.0).abs() < 1e-9);
        assert!((find_bolt_class("8.8", 0.018).unwrap().proof / MPA - 600.0).abs() < 1e-9);
        let error = find_bolt_class("9.8", 0.020).unwrap_err().to_string();
        assert_eq!(error, "bolt class 9.8 is listed for over 0 to 16 mm, not for 20 mm");
        let error = find_bolt_class("8.9", 0.012).unwrap_err().to_string();
        assert!(error.contains("8.8") && error.contains("unmarked"), "{error}");
        assert!(find_bolt_class("8.8", f64::NAN).is_err());
    }
}
