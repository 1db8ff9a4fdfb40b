//! Fatigue classes of details.

use super::error::{CatalogError, in_band, plain, unknown};
use super::table::{Row, Table};

pub(super) const DETAILS: &str = include_str!("../../tables/fatigue_details.csv");
const MPA: f64 = 1e6;
const MM: f64 = 1e-3;

/// The classes of a detail in one band of length. Stress ranges at 2 million cycles, Pa.
#[derive(Debug, Clone, PartialEq)]
pub struct FatigueDetail {
    /// Its name.
    pub name: &'static str,
    /// Other names it goes by.
    pub aliases: Vec<&'static str>,
    /// Above which and up to which length it holds, m, where the class depends on one: `note` says which.
    pub l_band: Option<(f64, f64)>,
    /// Up to which thickness of the stressed part it holds, m.
    pub t_to: Option<f64>,
    /// Category of EN 1993-1-9 for normal stress.
    pub delta_sigma_c: Option<f64>,
    /// Category of EN 1993-1-9 for shear stress.
    pub delta_tau_c: Option<f64>,
    /// Where EN 1993-1-9 has it; may be empty.
    pub place: &'static str,
    /// FAT class of IIW for normal stress.
    pub fat_sigma: Option<f64>,
    /// FAT class of IIW for shear stress.
    pub fat_tau: Option<f64>,
    /// Exponent of the thickness correction of IIW.
    pub n: Option<f64>,
    /// Number in the table of IIW; may be empty.
    pub number: &'static str,
    /// Whether a document lists it; else the numbers are common practice without a source.
    pub listed: bool,
    /// Conditions under which the class holds.
    pub note: &'static str,
}

impl FatigueDetail {
    fn from_row(row: Row<'_>) -> Self {
        let pa = |column: &str| row.maybe(column).map(|v| v * MPA);
        let mm = |column: &str| row.maybe(column).map(|v| v * MM);
        Self {
            name: row.text("name"),
            aliases: row.list("aliases"),
            l_band: mm("l_over").zip(mm("l_to")),
            t_to: mm("t_to"),
            delta_sigma_c: pa("delta_sigma_c"),
            delta_tau_c: pa("delta_tau_c"),
            place: row.text("place"),
            fat_sigma: pa("fat_sigma"),
            fat_tau: pa("fat_tau"),
            n: row.maybe("n"),
            number: row.text("number"),
            listed: row.text("listed") == "yes",
            note: row.text("note"),
        }
    }

    fn called(&self, wanted: &str) -> bool {
        plain(self.name) == wanted || self.aliases.iter().any(|alias| plain(alias) == wanted)
    }

    fn bands(&self) -> String {
        let length =
            self.l_band.map(|(over, to)| format!("l over {} to {} mm", over / MM, to / MM));
        let thickness = self.t_to.map(|to| format!("t up to {} mm", to / MM));
        length.into_iter().chain(thickness).collect::<Vec<_>>().join(" with ")
    }
}

/// All details, one entry per band of length.
#[must_use]
pub fn fatigue_details() -> Vec<FatigueDetail> {
    Table::known(DETAILS).rows().map(FatigueDetail::from_row).collect()
}

/// The classes of a detail for the length along the stress and the thickness of the stressed part,
/// m. The length matters only where the class depends on one.
///
/// # Errors
/// No such detail, or no class for that length or thickness.
pub fn find_fatigue_detail(name: &str, l: f64, t: f64) -> Result<FatigueDetail, CatalogError> {
    let all = fatigue_details();
    let wanted = plain(name);
    let known: Vec<&FatigueDetail> = all.iter().filter(|d| d.called(&wanted)).collect();
    if known.is_empty() {
        let hint = "; or give the classes yourself";
        return Err(unknown("fatigue detail", name, all.iter().map(|d| d.name), hint));
    }
    let long = |d: &FatigueDetail| d.l_band.is_none_or(|(over, to)| in_band(l, over, to));
    let thin = |d: &FatigueDetail| d.t_to.is_none_or(|to| in_band(t, 0.0, to));
    if let Some(found) = known.iter().find(|d| long(d) && thin(d)) {
        return Ok((*found).clone());
    }
    let given = if known.iter().any(|d| long(d)) { t } else { l };
    Err(CatalogError::OutsideBand {
        kind: "fatigue detail",
        name: known[0].name.to_owned(),
        given_mm: given / MM,
        ranges: known.iter().map(|d| d.bands()).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn class(name: &str, l: f64, t: f64) -> (Option<i64>, Option<i64>) {
        let detail = find_fatigue_detail(name, l * MM, t * MM).unwrap();
        let mpa = |class: Option<f64>| class.map(|pa| (pa / MPA).round() as i64);
        (mpa(detail.delta_sigma_c), mpa(detail.fat_sigma))
    }

    /// EN 1993-1-9:2005 Tables 8.4 and 8.5, IIW-1823-07 Table 3.2; from memory.
    #[test]
    fn classes_fall_with_length() {
        for (l, en, iiw) in [
            (50.0, 80, 80),
            (50.1, 71, 71),
            (100.0, 63, 71),
            (120.0, 56, 71),
            (200.0, 56, 63),
            (400.0, 56, 50),
        ] {
            assert_eq!(class("longitudinal attachment", l, 6.0), (Some(en), Some(iiw)), "{l}");
        }
        assert_eq!(class("Transverse stiffener", 20.0, 6.0), (Some(80), Some(80)));
        assert_eq!(class("cruciform or tee toe", 150.0, 6.0), (Some(56), Some(63)));
        assert_eq!(class("weld root", 0.0, 6.0), (Some(36), Some(36)));
        assert_eq!(class("hole in plate", 0.0, 6.0), (Some(90), None));
    }

    #[test]
    fn what_no_document_lists_is_told() {
        let plug = find_fatigue_detail("plug weld", 0.0, 1.5e-3).unwrap();
        assert!(!plug.listed && plug.place.is_empty() && plug.number.is_empty());
        for detail in fatigue_details().iter().filter(|d| d.listed) {
            assert!(!detail.place.is_empty() || !detail.number.is_empty(), "{}", detail.name);
        }
    }

    #[test]
    fn what_is_not_listed_is_not_guessed() {
        let error = find_fatigue_detail("transverse attachment", 0.1, 6e-3).unwrap_err();
        assert!(error.to_string().contains("l over 50 to 80 mm"), "{error}");
        let error = find_fatigue_detail("cruciform or tee toe", 0.15, 0.03).unwrap_err();
        assert!(error.to_string().contains("not for 30 mm"), "{error}");
        let error = find_fatigue_detail("longitudinal atachment", 0.1, 6e-3).unwrap_err();
        assert!(error.to_string().contains("longitudinal attachment"), "{error}");
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(find_fatigue_detail("gusset on edge", bad, 6e-3).is_err());
        }
    }

    #[test]
    fn every_detail_makes_sense() {
        let all = fatigue_details();
        for d in &all {
            let classes = [d.delta_sigma_c, d.delta_tau_c, d.fat_sigma, d.fat_tau];
            assert!(classes.iter().flatten().count() > 0, "{}", d.name);
            let sane = |class: &f64| (36e6..=160e6).contains(class);
            assert!(classes.iter().flatten().all(sane), "{}", d.name);
            let iiw = d.fat_sigma.is_some();
            assert!(!iiw || (d.n.is_some() && !d.number.is_empty()), "{}", d.name);
            let names = d.aliases.iter().chain([&d.name]);
            for name in names {
                let homes = all.iter().filter(|o| o.called(&plain(name)));
                assert!(homes.into_iter().all(|o| o.name == d.name), "{name} is two details");
            }
        }
    }
}
