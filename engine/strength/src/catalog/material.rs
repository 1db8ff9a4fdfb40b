//! Steels and aluminium.

use std::sync::LazyLock;

use super::error::{CatalogError, in_band, plain, unknown};
use super::table::{Row, Table};

pub(super) const MATERIALS: &str = include_str!("../../tables/materials.csv");
const MPA: f64 = 1e6;
const MM: f64 = 1e-3;

/// A material in one band of thickness. Strengths are guaranteed minima of its standard unless `note` says otherwise.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// Its name, `S275`.
    pub name: &'static str,
    /// Other names it goes by.
    pub aliases: Vec<&'static str>,
    /// The family: "structural steel", "tube".
    pub family: &'static str,
    /// The values hold for thicknesses above this, m.
    pub t_over: f64,
    /// ... up to and including this, m.
    pub t_to: f64,
    /// Yield strength, Pa.
    pub f_y: f64,
    /// Tensile strength by the product standard, Pa.
    pub f_u: f64,
    /// Tensile strength by EN 1993-1-1:2005 Table 3.1, Pa, where that table lists the steel.
    pub f_u_en_1993_2005: Option<f64>,
    /// Tensile strength by the amendment A1:2014 of that table, Pa, where it lists the steel.
    pub f_u_en_1993_2014: Option<f64>,
    /// Correlation factor of EN 1993-1-8 Table 4.1; 1.0 for steels outside it; `None` where the rule for steel doesn't apply.
    pub beta_w: Option<f64>,
    /// Yield and tensile strength beside a fusion weld, Pa, where softening is known.
    pub beside_weld: Option<(f64, f64)>,
    /// Young's modulus, Pa.
    pub e: f64,
    /// Poisson's ratio.
    pub nu: f64,
    /// Density, kg/m3.
    pub density: f64,
    /// Thermal expansion, 1/K.
    pub expansion: f64,
    /// What a reader must know about it; may be empty.
    pub note: &'static str,
}

/// Which tensile strength of structural steel to use: it changes fillet welds by up to 8 per cent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FuEdition {
    /// Minimum of the product standard: never larger.
    ProductStandard,
    /// EN 1993-1-1:2005 Table 3.1.
    En1993Of2005,
    /// EN 1993-1-1:2005 Table 3.1 as amended by A1:2014.
    En1993Of2014,
}

impl FuEdition {
    /// All of them.
    pub const ALL: &'static [Self] =
        &[Self::ProductStandard, Self::En1993Of2005, Self::En1993Of2014];

    /// What a project calls it by.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::ProductStandard => "product standard",
            Self::En1993Of2005 => "EN 1993-1-1:2005",
            Self::En1993Of2014 => "EN 1993-1-1:2005/A1:2014",
        }
    }

    /// What it is, for a reader.
    #[must_use]
    pub fn told(self) -> &'static str {
        match self {
            Self::ProductStandard => "the least of the product standards",
            Self::En1993Of2005 => "EN 1993-1-1:2005, Table 3.1",
            Self::En1993Of2014 => "EN 1993-1-1:2005/A1:2014, Table 3.1",
        }
    }
}

impl Material {
    /// Shear modulus, Pa.
    #[must_use]
    pub fn g(&self) -> f64 {
        self.e / (2.0 * (1.0 + self.nu))
    }

    /// Tensile strength by edition, Pa; that of the product standard where the edition doesn't list the steel.
    #[must_use]
    pub fn f_u_by(&self, edition: FuEdition) -> f64 {
        match edition {
            FuEdition::ProductStandard => self.f_u,
            FuEdition::En1993Of2005 => self.f_u_en_1993_2005.unwrap_or(self.f_u),
            FuEdition::En1993Of2014 => self.f_u_en_1993_2014.unwrap_or(self.f_u),
        }
    }

    fn from_row(row: Row<'_>) -> Self {
        let pa = |column: &str| row.maybe(column).map(|v| v * MPA);
        Self {
            name: row.text("name"),
            aliases: row.list("aliases"),
            family: row.text("family"),
            t_over: row.number("t_over") * MM,
            t_to: row.number("t_to") * MM,
            f_y: row.number("f_y") * MPA,
            f_u: row.number("f_u") * MPA,
            f_u_en_1993_2005: pa("f_u_en_1993_2005"),
            f_u_en_1993_2014: pa("f_u_en_1993_2014"),
            beta_w: row.maybe("beta_w"),
            beside_weld: pa("haz_f_y").zip(pa("haz_f_u")),
            e: row.number("modulus") * 1e9,
            nu: row.number("poisson"),
            density: row.number("density"),
            expansion: row.number("expansion") * 1e-6,
            note: row.text("note"),
        }
    }
}

/// Every material with what it is found by. The table is compiled in and read once.
static READ: LazyLock<Vec<(Material, Vec<String>)>> = LazyLock::new(|| {
    let found_by = |m: &Material| m.aliases.iter().chain([&m.name]).map(|n| plain(n)).collect();
    let all = Table::known(MATERIALS).rows().map(Material::from_row).collect::<Vec<_>>();
    all.into_iter()
        .map(|m| {
            let keys = found_by(&m);
            (m, keys)
        })
        .collect()
});

/// All materials, one entry per band of thickness.
#[must_use]
pub fn materials() -> Vec<Material> {
    READ.iter().map(|(material, _)| material.clone()).collect()
}

/// The material of a name in a thickness, m. Case, blanks and dashes don't matter; quality suffixes (`S275JR`) are known.
///
/// # Errors
/// No such name, or the material isn't listed for that thickness. Strengths are never extrapolated.
pub fn find_material(name: &str, thickness: f64) -> Result<Material, CatalogError> {
    let wanted = plain(name);
    let called = READ.iter().filter(|(_, keys)| keys.contains(&wanted));
    let bands: Vec<&Material> = called.map(|(material, _)| material).collect();
    if bands.is_empty() {
        let hint = "; or give f_y and f_u of your own";
        return Err(unknown("material", name, READ.iter().map(|(m, _)| m.name), hint));
    }
    let band = bands.iter().find(|m| in_band(thickness, m.t_over, m.t_to));
    band.map(|m| (*m).clone()).ok_or_else(|| CatalogError::OutsideBand {
        kind: "material",
        name: bands[0].name.to_owned(),
        given_mm: thickness / MM,
        ranges: bands
            .iter()
            .map(|m| format!("over {} to {} mm", m.t_over / MM, m.t_to / MM))
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mpa(pascal: f64) -> i64 {
        (pascal / MPA).round() as i64
    }

    /// EN 10025-2 and EN 1993-1-1:2005 Table 3.1, EN 1993-1-8 Table 4.1; from memory.
    #[test]
    fn structural_steels() {
        for (name, thin, thick, f_u, f_u_2005, beta_w) in [
            ("S235", 235, 225, 360, 360, 0.80),
            ("S275", 275, 265, 410, 430, 0.85),
            ("S355", 355, 345, 470, 510, 0.90),
        ] {
            let m = find_material(name, 0.016).unwrap();
            assert_eq!((mpa(m.f_y), mpa(m.f_u)), (thin, f_u), "{name}");
            assert_eq!(mpa(m.f_u_by(FuEdition::En1993Of2005)), f_u_2005);
            assert_eq!(mpa(m.f_u_by(FuEdition::ProductStandard)), f_u);
            assert!((m.beta_w.unwrap() - beta_w).abs() < 1e-12);
            assert_eq!(mpa(find_material(name, 0.0161).unwrap().f_y), thick);
            assert_eq!(mpa(m.g()), 80_769, "81 000 MPa in EN 1993-1-1 3.2.6, rounded");
        }
        assert_eq!(find_material("s 275 jr", 0.005).unwrap().name, "S275");
    }

    /// ASTM A36: 36 and 58 ksi; 1 ksi = 6.894757 MPa.
    #[test]
    fn inch_steels_are_the_ksi_values() {
        let ksi = 6.894_757_293e6;
        let m = find_material("A36", 0.006).unwrap();
        assert!((m.f_y / ksi - 36.0).abs() < 0.01 && (m.f_u / ksi - 58.0).abs() < 0.01);
        for (name, f_y, f_u) in [
            ("A500 B shaped", 46.0, 58.0),
            ("A500 Gr B round", 42.0, 58.0),
            ("A500 C shaped", 50.0, 62.0),
            ("a500 c round", 46.0, 62.0),
        ] {
            let m = find_material(name, 0.005).unwrap();
            assert!((m.f_y / ksi - f_y).abs() < 0.01 && (m.f_u / ksi - f_u).abs() < 0.01, "{name}");
        }
    }

    /// EN 1999-1-1:2007 Tables 3.2a and 3.2b, from memory.
    #[test]
    fn aluminium_by_temper_and_thickness() {
        for (name, t, f_o, f_u, haz) in [
            ("6082-T6", 4.0, 250, 290, (125, 185)),
            ("6082", 10.0, 260, 310, (125, 185)),
            ("6082-T6 sheet", 8.0, 255, 300, (125, 185)),
            ("5083-O", 6.0, 125, 275, (125, 275)),
            ("5083-H34", 6.0, 250, 340, (155, 275)),
            ("5754", 3.0, 80, 190, (80, 190)),
            ("7020-T6", 10.0, 280, 350, (205, 280)),
        ] {
            let m = find_material(name, t * MM).unwrap();
            let beside = m.beside_weld.map(|(f_o, f_u)| (mpa(f_o), mpa(f_u)));
            assert_eq!((mpa(m.f_y), mpa(m.f_u), beside), (f_o, f_u, Some(haz)), "{name}");
            assert_eq!(m.beta_w, None, "{name}");
        }
        assert!(find_material("6060-T66", 0.005).is_err());
    }

    /// EN 1999-1-1 Table 3.2 (from memory): rho_o,haz 0.48 and rho_u,haz 0.67 for 6061-T6.
    #[test]
    fn aluminium_softens_and_has_no_steel_weld_factor() {
        let m = find_material("6061-T6", 0.005).unwrap();
        let (f_y, f_u) = m.beside_weld.unwrap();
        assert!((f_y / m.f_y - 0.48).abs() < 0.005 && (f_u / m.f_u - 0.67).abs() < 0.005);
        assert_eq!(m.beta_w, None);
    }

    #[test]
    fn unknown_names_and_thicknesses_say_what_is_known() {
        let error = find_material("S276", 0.005).unwrap_err().to_string();
        assert!(error.contains("S275") && error.contains("f_y and f_u"), "{error}");
        let error = find_material("SAE 4130 N", 0.006).unwrap_err().to_string();
        assert_eq!(error, "material SAE 4130 N is listed for over 0 to 4.8 mm, not for 6 mm");
        for bad in [0.0, -0.001, f64::NAN, f64::INFINITY] {
            assert!(matches!(find_material("S275", bad), Err(CatalogError::OutsideBand { .. })));
        }
    }

    #[test]
    fn every_material_makes_sense() {
        for m in materials() {
            assert!(m.f_y > 0.0 && m.f_y < m.f_u && m.t_over < m.t_to, "{}", m.name);
            let (f_y, f_u) = m.beside_weld.unwrap_or((m.f_y, m.f_u));
            assert!(f_y <= m.f_y && f_u <= m.f_u, "{}", m.name);
            assert!(m.f_u_en_1993_2005.is_none_or(|f| f >= m.f_u), "{}", m.name);
            assert!(m.beta_w.is_none_or(|b| (0.8..=1.0).contains(&b)), "{}", m.name);
            let again = find_material(m.name, m.t_to).unwrap();
            assert_eq!(again.name, m.name);
            for alias in &m.aliases {
                assert_eq!(find_material(alias, m.t_to).unwrap().name, m.name);
            }
        }
    }
}
