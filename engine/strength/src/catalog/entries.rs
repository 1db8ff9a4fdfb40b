//! Everything in the catalogue as one list, for browsing.

use super::table::Table;
use super::{bolt_class, duty, fatigue_detail, hex, joint, material, sections, thread, weld_metal};
use fishplate_quantity::gauge;

/// One thing known by name.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its name, as a project file writes it.
    pub name: String,
    /// The family it belongs to.
    pub family: String,
    /// Its numbers.
    pub values: Vec<EntryValue>,
    /// Where the numbers come from and how they were entered.
    pub source: String,
}

/// One number of an entry, in the unit the trade uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EntryValue {
    /// What it is: "stress area".
    pub name: &'static str,
    /// Its value in `unit`.
    pub value: f64,
    /// Its unit; empty for pure numbers.
    pub unit: &'static str,
}

/// A part of the catalogue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryKind {
    /// Standard sections and sheet gauges.
    Section,
    /// Materials, weld metal of aluminium.
    Material,
    /// Threads, classes, heads, washers, tightening methods, faces, nut factors.
    Fastener,
    /// Classes of details under repeated stress, assumed duties.
    Fatigue,
}

/// All entries of a kind, in the order of the tables.
#[must_use]
pub fn entries(kind: EntryKind) -> Vec<Entry> {
    match kind {
        EntryKind::Section => section_entries().chain(gauge_entries()).collect(),
        EntryKind::Material => {
            let mut all = material_entries();
            all.extend(weld_metal_entries());
            all
        }
        EntryKind::Fastener => {
            let mut all = thread_entries();
            all.extend(class_entries());
            all.extend(hex_entries());
            all.extend(washer_entries());
            all.extend(joint_entries());
            all
        }
        EntryKind::Fatigue => {
            let mut all = detail_entries();
            all.extend(duty_entries());
            all
        }
    }
}

fn value(name: &'static str, value: f64, unit: &'static str) -> EntryValue {
    EntryValue { name, value, unit }
}

fn cited(text: &'static str) -> String {
    let table = Table::known(text);
    format!("{}: {}", table.title, table.citation())
}

fn section_entries() -> impl Iterator<Item = Entry> {
    sections::standard_sections().into_iter().map(|s| {
        let p = s.shape.properties();
        Entry {
            name: s.name,
            family: s.family.to_owned(),
            values: vec![
                value("area", p.area * 1e6, "mm2"),
                value("second moment about y", p.i_y * 1e12, "mm4"),
                value("second moment about z", p.i_z * 1e12, "mm4"),
                value("largest second moment", p.i_max * 1e12, "mm4"),
                value("smallest second moment", p.i_min * 1e12, "mm4"),
                value("angle of the strong axis", p.principal_angle.to_degrees(), "deg"),
                value("elastic modulus about y", p.w_el_y() * 1e9, "mm3"),
                value("elastic modulus about z", p.w_el_z() * 1e9, "mm3"),
                value("plastic modulus about y", p.w_pl_y * 1e9, "mm3"),
                value("plastic modulus about z", p.w_pl_z * 1e9, "mm3"),
                value("torsion constant", p.torsion.constant * 1e12, "mm4"),
                value("torsion modulus", p.torsion.modulus * 1e9, "mm3"),
            ],
            source: s.source,
        }
    })
}

fn gauge_entries() -> impl Iterator<Item = Entry> {
    gauge::tables().into_iter().map(|g| {
        let name = match g.table {
            gauge::GaugeTable::Us => format!("{} ga US", g.number),
            gauge::GaugeTable::Swg => format!("{} SWG", g.number),
        };
        Entry {
            name,
            family: "sheet gauge".to_owned(),
            values: vec![value("thickness", g.thickness.as_mm(), "mm")],
            source: g.table.title().to_owned(),
        }
    })
}

fn material_entries() -> Vec<Entry> {
    let source = cited(material::MATERIALS);
    let entry = |m: material::Material| {
        let mut values = vec![
            value("thickness over", m.t_over * 1e3, "mm"),
            value("thickness to", m.t_to * 1e3, "mm"),
            value("yield strength", m.f_y / 1e6, "MPa"),
            value("tensile strength", m.f_u / 1e6, "MPa"),
        ];
        let optional = [
            ("tensile strength, EN 1993-1-1:2005", m.f_u_en_1993_2005.map(|f| f / 1e6), "MPa"),
            ("tensile strength, amendment of 2014", m.f_u_en_1993_2014.map(|f| f / 1e6), "MPa"),
            ("yield strength beside a weld", m.beside_weld.map(|w| w.0 / 1e6), "MPa"),
            ("tensile strength beside a weld", m.beside_weld.map(|w| w.1 / 1e6), "MPa"),
            ("correlation factor beta_w", m.beta_w, ""),
        ];
        for (name, number, unit) in optional {
            values.extend(number.map(|v| value(name, v, unit)));
        }
        values.extend([
            value("modulus of elasticity", m.e / 1e9, "GPa"),
            value("Poisson's ratio", m.nu, ""),
            value("density", m.density, "kg/m3"),
            value("thermal expansion", m.expansion * 1e6, "1e-6/K"),
        ]);
        Entry {
            name: m.name.to_owned(),
            family: m.family.to_owned(),
            values,
            source: with_note(&source, m.note),
        }
    };
    material::materials().into_iter().map(entry).collect()
}

fn with_note(source: &str, note: &str) -> String {
    if note.is_empty() { source.to_owned() } else { format!("{source}. Note: {note}") }
}

fn thread_entries() -> Vec<Entry> {
    let sources = (cited(thread::METRIC), cited(thread::UNIFIED));
    let entry = |t: thread::Thread| {
        let (family, source) = match t.system {
            thread::ThreadSystem::Metric => ("metric thread", &sources.0),
            thread::ThreadSystem::Unified => ("inch thread", &sources.1),
        };
        Entry {
            values: vec![
                value("diameter", t.d * 1e3, "mm"),
                value("pitch", t.pitch * 1e3, "mm"),
                value("stress area", t.a_s * 1e6, "mm2"),
                value("shank area", t.a_shank * 1e6, "mm2"),
                value("pitch diameter", t.d_2 * 1e3, "mm"),
                value("core diameter", t.d_3 * 1e3, "mm"),
                value("minor diameter of the nut", t.d_1 * 1e3, "mm"),
            ],
            name: t.name,
            family: family.to_owned(),
            source: source.clone(),
        }
    };
    thread::threads().into_iter().map(entry).collect()
}

fn class_entries() -> Vec<Entry> {
    let source = cited(bolt_class::CLASSES);
    let entry = |c: bolt_class::BoltClass| Entry {
        name: c.name.to_owned(),
        family: "bolt class".to_owned(),
        values: vec![
            value("diameter over", c.d_over * 1e3, "mm"),
            value("diameter to", c.d_to * 1e3, "mm"),
            value("nominal yield strength", c.f_yb / 1e6, "MPa"),
            value("nominal tensile strength", c.f_ub / 1e6, "MPa"),
            value("least yield strength", c.r_p_min / 1e6, "MPa"),
            value("least tensile strength", c.r_m_min / 1e6, "MPa"),
            value("proof stress", c.proof / 1e6, "MPa"),
            value("shear factor alpha_v through the thread", c.alpha_v, ""),
        ],
        source: with_note(&source, c.note),
    };
    bolt_class::bolt_classes().into_iter().map(entry).collect()
}

fn hex_entries() -> Vec<Entry> {
    let source = cited(hex::HEX);
    let entry = |h: hex::HexSize| Entry {
        name: format!("hexagon {}", h.size),
        family: "head and nut".to_owned(),
        values: vec![
            value("across flats", h.s * 1e3, "mm"),
            value("across points", h.e * 1e3, "mm"),
            value("mean of both, d_m", h.d_m() * 1e3, "mm"),
            value("bearing face", h.d_w * 1e3, "mm"),
            value("head height", h.k * 1e3, "mm"),
            value("nut height", h.m * 1e3, "mm"),
            value("fine clearance hole", h.holes[0] * 1e3, "mm"),
            value("medium clearance hole", h.holes[1] * 1e3, "mm"),
            value("coarse clearance hole", h.holes[2] * 1e3, "mm"),
        ],
        source: source.clone(),
    };
    hex::hex_sizes().into_iter().map(entry).collect()
}

fn washer_entries() -> Vec<Entry> {
    let source = cited(hex::WASHERS);
    let entry = |w: hex::Washer| Entry {
        name: format!("{} {}", w.standard, w.size),
        family: "washer".to_owned(),
        values: vec![
            value("hole", w.d_1 * 1e3, "mm"),
            value("outside", w.d_2 * 1e3, "mm"),
            value("thickness", w.h * 1e3, "mm"),
        ],
        source: source.clone(),
    };
    hex::washers().into_iter().map(entry).collect()
}

fn joint_entries() -> Vec<Entry> {
    let (tightening, friction) = (cited(joint::TIGHTENING), cited(joint::FRICTION));
    let nut = cited(joint::NUT_FACTORS);
    let methods = joint::tightening_methods().into_iter().map(|m| Entry {
        name: m.name.to_owned(),
        family: "tightening".to_owned(),
        values: vec![
            value("alpha_a, least", m.alpha_a_least, ""),
            value("alpha_a, most", m.alpha_a_most, ""),
        ],
        source: with_note(&tightening, m.note),
    });
    let faces = joint::face_frictions().into_iter().map(|f| Entry {
        name: f.face.to_owned(),
        family: "clamped face".to_owned(),
        values: vec![value("slip factor", f.mu, "")],
        source: with_note(&friction, f.note),
    });
    let factors = joint::nut_factors().into_iter().map(|k| Entry {
        name: k.condition.to_owned(),
        family: "nut factor".to_owned(),
        values: vec![value("K", k.k, "")],
        source: nut.clone(),
    });
    methods.chain(faces).chain(factors).collect()
}

fn weld_metal_entries() -> Vec<Entry> {
    let source = cited(weld_metal::WELD_METAL);
    let entry = |m: weld_metal::WeldMetal| Entry {
        name: format!("{} with filler {}", m.alloy, m.filler),
        family: "weld metal of aluminium".to_owned(),
        values: vec![value("characteristic strength", m.f_w / 1e6, "MPa")],
        source: with_note(&source, m.note),
    };
    weld_metal::weld_metals().into_iter().map(entry).collect()
}

fn detail_entries() -> Vec<Entry> {
    let source = cited(fatigue_detail::DETAILS);
    let entry = |d: fatigue_detail::FatigueDetail| {
        let (over, to) = d.l_band.unzip();
        let numbers = [
            ("category of EN 1993-1-9, normal stress", d.delta_sigma_c.map(|c| c / 1e6), "MPa"),
            ("category of EN 1993-1-9, shear stress", d.delta_tau_c.map(|c| c / 1e6), "MPa"),
            ("FAT class of IIW, normal stress", d.fat_sigma.map(|c| c / 1e6), "MPa"),
            ("FAT class of IIW, shear stress", d.fat_tau.map(|c| c / 1e6), "MPa"),
            ("length over", over.map(|l| l * 1e3), "mm"),
            ("length to", to.map(|l| l * 1e3), "mm"),
            ("thickness to", d.t_to.map(|t| t * 1e3), "mm"),
            ("exponent of the thickness, IIW", d.n, ""),
        ];
        let given = |(name, number, unit): (&'static str, Option<f64>, &'static str)| {
            number.map(|number| value(name, number, unit))
        };
        Entry {
            name: d.name.to_owned(),
            family: if d.listed { "fatigue detail" } else { "fatigue detail, estimated" }
                .to_owned(),
            values: numbers.into_iter().filter_map(given).collect(),
            source: with_note(&source, d.note),
        }
    };
    fatigue_detail::fatigue_details().into_iter().map(entry).collect()
}

fn duty_entries() -> Vec<Entry> {
    let entry = |assumed: duty::AssumedDuty| {
        let duty::AssumedDuty { family, duty, source } = assumed;
        let blocks: Vec<_> = duty.over(1.0, 100e3).collect();
        blocks.into_iter().map(move |(share, cycles)| Entry {
            name: format!("{family} duty, share {share}"),
            family: "assumed duty".to_owned(),
            values: vec![
                value("share of the full range", share, ""),
                value("cycles per 100 km", cycles, ""),
            ],
            source: source.clone(),
        })
    };
    duty::assumed_duties().into_iter().flat_map(entry).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const KINDS: [EntryKind; 4] =
        [EntryKind::Section, EntryKind::Material, EntryKind::Fastener, EntryKind::Fatigue];

    #[test]
    fn every_entry_is_complete() {
        for kind in KINDS {
            let all = entries(kind);
            assert!(all.len() > 20, "{kind:?}");
            for e in &all {
                assert!(!e.name.is_empty() && !e.family.is_empty(), "{e:?}");
                assert!(e.source.len() > 10 && !e.values.is_empty(), "{}", e.name);
                assert!(e.values.iter().all(|v| v.value.is_finite() && !v.name.is_empty()));
            }
        }
    }

    /// EN 1999-1-1:2007 Table 8.8 has 17 combinations for the alloys of the table (from memory).
    #[test]
    fn weld_metal_stands_with_the_materials() {
        let all = entries(EntryKind::Material);
        let metal = all.iter().filter(|e| e.family == "weld metal of aluminium");
        assert_eq!(metal.count(), 17);
    }

    /// EN 10056-1 table (from memory): L 50x50x5 has 4.80 cm2, 11.0 cm4.
    #[test]
    fn values_come_in_the_unit_they_name() {
        let all = entries(EntryKind::Section);
        let angle = all.iter().find(|e| e.name == "L 50x50x5").unwrap();
        let number = |name: &str| angle.values.iter().find(|v| v.name == name).unwrap();
        assert!((number("area").value - 480.0).abs() < 1.0 && number("area").unit == "mm2");
        assert!((number("second moment about y").value - 110e3).abs() < 500.0);
        assert!(all.iter().any(|e| e.name == "14 ga US") && all.iter().any(|e| e.name == "14 SWG"));
    }

    #[test]
    fn every_table_is_listed_somewhere() {
        let all: Vec<Entry> = KINDS.into_iter().flat_map(entries).collect();
        for text in [
            material::MATERIALS,
            thread::METRIC,
            thread::UNIFIED,
            bolt_class::CLASSES,
            hex::HEX,
            hex::WASHERS,
            joint::TIGHTENING,
            joint::FRICTION,
            joint::NUT_FACTORS,
            sections::ANGLES,
            sections::TUBES,
            sections::ROUND_TUBES,
            sections::INCH_SECTIONS,
            fatigue_detail::DETAILS,
            duty::DUTIES,
        ] {
            let table = Table::parse(text).unwrap();
            let rows = all.iter().filter(|e| e.source.contains(table.source)).count();
            assert_eq!(rows, table.rows().count(), "{}", table.title);
        }
    }
}
