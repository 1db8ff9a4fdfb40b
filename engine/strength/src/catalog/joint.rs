//! Scatter of tightening, friction of clamped faces, nut factors.

use super::error::{CatalogError, plain, unknown};
use super::table::Table;

pub(super) const TIGHTENING: &str = include_str!("../../tables/tightening.csv");
pub(super) const FRICTION: &str = include_str!("../../tables/face_friction.csv");
pub(super) const NUT_FACTORS: &str = include_str!("../../tables/k_factors.csv");

/// A way to tighten, with the range of its factor `alpha_a` = largest over least preload.
#[derive(Debug, Clone, PartialEq)]
pub struct TighteningMethod {
    /// Its name.
    pub name: &'static str,
    /// Smallest factor of the range.
    pub alpha_a_least: f64,
    /// Largest factor of the range: the safe one.
    pub alpha_a_most: f64,
    /// What a reader must know about it; may be empty.
    pub note: &'static str,
}

/// A state of clamped faces with its slip factor.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceFriction {
    /// The state.
    pub face: &'static str,
    /// Class of friction surface in EN 1993-1-8 Table 3.7, `A` to `D`; empty outside that table.
    pub class: &'static str,
    /// Slip factor.
    pub mu: f64,
    /// What a reader must know about it; may be empty.
    pub note: &'static str,
}

/// A nut factor K of `torque = K d preload`.
#[derive(Debug, Clone, PartialEq)]
pub struct NutFactor {
    /// State of the thread.
    pub condition: &'static str,
    /// The factor.
    pub k: f64,
}

/// All ways to tighten.
#[must_use]
pub fn tightening_methods() -> Vec<TighteningMethod> {
    let method = |row: super::table::Row<'_>| TighteningMethod {
        name: row.text("method"),
        alpha_a_least: row.number("alpha_a_least"),
        alpha_a_most: row.number("alpha_a_most"),
        note: row.text("note"),
    };
    Table::known(TIGHTENING).rows().map(method).collect()
}

/// All states of clamped faces.
#[must_use]
pub fn face_frictions() -> Vec<FaceFriction> {
    let friction = |row: super::table::Row<'_>| FaceFriction {
        face: row.text("face"),
        class: row.text("class"),
        mu: row.number("mu"),
        note: row.text("note"),
    };
    Table::known(FRICTION).rows().map(friction).collect()
}

/// All nut factors.
#[must_use]
pub fn nut_factors() -> Vec<NutFactor> {
    let factor = |row: super::table::Row<'_>| NutFactor {
        condition: row.text("condition"),
        k: row.number("k"),
    };
    Table::known(NUT_FACTORS).rows().map(factor).collect()
}

/// The way to tighten of a name.
///
/// # Errors
/// No such way.
pub fn find_tightening(name: &str) -> Result<TighteningMethod, CatalogError> {
    let all = tightening_methods();
    let found = all.iter().find(|m| plain(m.name) == plain(name));
    found.cloned().ok_or_else(|| {
        let hint = "; or give alpha_a of your own";
        unknown("tightening method", name, all.iter().map(|m| m.name), hint)
    })
}

/// The state of clamped faces of a name (`wire brushed`) or class (`C`).
///
/// # Errors
/// No such state.
pub fn find_face_friction(name: &str) -> Result<FaceFriction, CatalogError> {
    let all = face_frictions();
    let wanted = plain(name);
    let called = |f: &&FaceFriction| {
        plain(f.face) == wanted || (!f.class.is_empty() && plain(f.class) == wanted)
    };
    all.iter().find(called).cloned().ok_or_else(|| {
        let hint = "; or give a slip factor from a test";
        unknown("face", name, all.iter().map(|f| f.face), hint)
    })
}

/// The nut factor for a state of the thread.
///
/// # Errors
/// No such state.
pub fn find_nut_factor(condition: &str) -> Result<NutFactor, CatalogError> {
    let all = nut_factors();
    let found = all.iter().find(|k| plain(k.condition) == plain(condition));
    found
        .cloned()
        .ok_or_else(|| unknown("thread condition", condition, all.iter().map(|k| k.condition), ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// VDI 2230 Table A8 (from memory); scatter of the preload is (alpha_a - 1) / (alpha_a + 1): 23 to 33 per cent for a torque wrench with
    /// estimated friction.
    #[test]
    fn scatter_of_the_torque_wrench() {
        let m = find_tightening("torque wrench friction estimated").unwrap();
        let scatter = |a: f64| ((a - 1.0) / (a + 1.0) * 100.0).round();
        assert_eq!((scatter(m.alpha_a_least), scatter(m.alpha_a_most)), (23.0, 33.0));
        assert!(
            tightening_methods()
                .iter()
                .all(|m| 1.0 < m.alpha_a_least && m.alpha_a_least < m.alpha_a_most)
        );
    }

    /// EN 1993-1-8 Table 3.7: A 0.5, B 0.4, C 0.3, D 0.2.
    #[test]
    fn slip_factors() {
        for (class, mu) in [("A", 0.5), ("B", 0.4), ("C", 0.3), ("D", 0.2)] {
            assert!((find_face_friction(class).unwrap().mu - mu).abs() < 1e-12);
        }
        assert!((find_face_friction("Wire-brushed").unwrap().mu - 0.3).abs() < 1e-12);
        assert!(find_face_friction("painted").unwrap().mu < 0.2);
        assert!(find_face_friction("").is_err(), "an empty name is not the face without a class");
        assert!(find_face_friction("polished").unwrap_err().to_string().contains("slip factor"));
    }

    /// Shigley, 9th ed. SI, Table 8-15.
    #[test]
    fn nut_factors_of_the_book() {
        for (condition, k) in [
            ("black", 0.30),
            ("zinc plated", 0.20),
            ("lubricated", 0.18),
            ("cadmium plated", 0.16),
            ("anti-seize", 0.12),
        ] {
            assert!((find_nut_factor(condition).unwrap().k - k).abs() < 1e-12);
        }
        assert!(find_nut_factor("wet").is_err());
    }
}
