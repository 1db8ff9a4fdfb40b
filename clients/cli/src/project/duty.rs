//! `[duty]`: what the design has to last.

use fishplate_proto::v1;

use super::document::Section;
use super::phrase;

/// Families with the keys of their blocks, record and swing back.
const FAMILIES: [(v1::LoadFamily, &str, &str, Option<&str>); 4] = [
    (v1::LoadFamily::Vertical, "vertical", "vertical_record", None),
    (v1::LoadFamily::Drive, "drive", "drive_record", Some("drive_reverse")),
    (v1::LoadFamily::Brake, "brake", "brake_record", Some("brake_reverse")),
    (v1::LoadFamily::Corner, "corner", "corner_record", None),
];

pub(super) fn duty(section: Section<'_>) -> v1::Duty {
    let way = section.need("distance", "distance_km", "\"200000 km\"");
    let distance_km = way.and_then(|way| way.read(kilometres)).unwrap_or_default();
    let assumed = section
        .get("set", "assumed")
        .and_then(|entry| entry.choice(&[("assumed", true)]))
        .unwrap_or_default();
    let mut families = Vec::new();
    for (family, blocks_key, record_key, reverse_key) in FAMILIES {
        let at = |field: &str| format!("families[{}].{field}", families.len());
        let blocks = section.get(blocks_key, &at("blocks")).and_then(|e| e.read(blocks));
        let record = section.get(record_key, &at("history")).and_then(|e| e.read(record));
        let reverse = reverse_key.and_then(|key| section.number(key, &at("reverse")));
        if blocks.is_none() && record.is_none() && reverse.is_none() {
            continue;
        }
        let (history, history_km) = record.unwrap_or_default();
        families.push(v1::FamilyDuty {
            family: family.into(),
            blocks: blocks.unwrap_or_default(),
            history,
            history_km,
            reverse: reverse.map_or(0.0, |reverse| reverse.value),
        });
    }
    section.finish();
    v1::Duty { distance_km, assumed, families }
}

fn kilometres(text: &str) -> Result<f64, String> {
    // The mile is 1.609 344 km (NIST SP 811, Appendix B.8).
    phrase::measure(text, &[("km", 1.0), ("mi", 1.609_344), ("miles", 1.609_344)])
}

/// `"1.0 x 0.2, 0.5 x 20"`: shares of the full swing, each with its cycles on 100 km.
fn blocks(text: &str) -> Result<Vec<v1::DutyBlock>, String> {
    let form = "; write share x cycles on 100 km: \"1.0 x 0.2, 0.5 x 20\"";
    text.split(',')
        .map(|pair| {
            let (share, cycles) = pair
                .split_once('x')
                .ok_or_else(|| format!("has no \"x\" in \"{}\"{form}", pair.trim()))?;
            Ok(v1::DutyBlock {
                share: phrase::measure(share, &[("", 1.0)])?,
                per_100_km: phrase::measure(cycles, &[("", 1.0)])?,
            })
        })
        .collect()
}

/// `"0, 0.4, 0.1, 0.9 in 12 km"`: a record in shares of the full swing, and the way it took.
fn record(text: &str) -> Result<(Vec<f64>, f64), String> {
    let (points, way) = text.rsplit_once(" in ").ok_or_else(|| {
        "does not say over which way; write \"0, 0.4, 0.1, 0.9 in 12 km\"".to_owned()
    })?;
    let points: Result<Vec<f64>, String> =
        points.split(',').map(|point| phrase::measure(point, &[("", 1.0)])).collect();
    Ok((points?, kilometres(way)?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blocks_and_records_are_read() {
        let read = blocks("1.0 x 0.2, 0.5 x 20").unwrap();
        assert_eq!(read.len(), 2);
        assert!((read[1].share - 0.5).abs() < 1e-12 && (read[1].per_100_km - 20.0).abs() < 1e-12);
        let (points, way) = record("0, -0.4, 0.9 in 10 mi").unwrap();
        assert_eq!(points.len(), 3);
        assert!((way - 16.093_44).abs() < 1e-9);
        for wrong in ["1.0", "1.0 x", "a x 2", "1 x 2;3"] {
            assert!(blocks(wrong).is_err(), "{wrong}");
        }
        assert!(record("0, 1").unwrap_err().contains("12 km"));
    }
}
