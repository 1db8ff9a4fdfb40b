//! What the design has to last.

use fishplate_mounts::describe::{Duty, FamilyDuty, LoadFamily};
use fishplate_proto::v1;
use fishplate_strength::fatigue;

use super::super::Reader;
use super::list;
use crate::path::Path;

const KM: f64 = 1e3;

/// Ways beyond these are slips of the pen, km: common practice, no source.
const WAY: std::ops::RangeInclusive<f64> = 1.0..=1e7;

pub(super) fn duty(reader: &mut Reader, path: &Path<'_>, given: v1::Duty) -> Option<Duty> {
    let v1::Duty { distance_km, assumed, families } = given;
    if !WAY.contains(&distance_km) {
        let allowed = format!("{} to {} km", WAY.start(), WAY.end());
        reader.refuse(&path.field("distance_km"), format!("{distance_km} km"), allowed, "");
    }
    if families.is_empty() && !assumed {
        let advice = "take the assumed duty, or give blocks for a family";
        reader.refuse(path, "no duty of any family", "`assumed` or `families`", advice);
    }
    let families = list(reader, path, "families", families, family)?;
    for (place, one) in families.iter().enumerate() {
        if families[..place].iter().any(|other| other.family == one.family) {
            let at = path.place("families", place);
            let given = format!("{} again", one.family.word());
            reader.refuse(&at.field("family"), given, "each family once", "");
        }
    }
    Some(Duty { distance: distance_km * KM, assumed, families })
}

fn family(reader: &mut Reader, path: &Path<'_>, given: v1::FamilyDuty) -> Option<FamilyDuty> {
    let family = match given.family() {
        v1::LoadFamily::Unspecified => reader.unset(&path.field("family"), "LoadFamily"),
        v1::LoadFamily::Vertical => Some(LoadFamily::Vertical),
        v1::LoadFamily::Drive => Some(LoadFamily::Drive),
        v1::LoadFamily::Brake => Some(LoadFamily::Brake),
        v1::LoadFamily::Corner => Some(LoadFamily::Corner),
    };
    let v1::FamilyDuty { family: _, blocks, history, history_km, reverse } = given;
    if !(0.0..=1.0).contains(&reverse) {
        reader.refuse(&path.field("reverse"), reverse.to_string(), "0 to 1", "");
    }
    let swings = matches!(family, Some(LoadFamily::Drive | LoadFamily::Brake));
    if reverse > 0.0 && family.is_some() && !swings {
        let advice = "a bump and a turn swing both ways as they are";
        reader.refuse(
            &path.field("reverse"),
            reverse.to_string(),
            "only of drive and brake",
            advice,
        );
    }
    if !blocks.is_empty() && !history.is_empty() {
        let advice = "leave one of them out";
        reader.refuse(&path.field("history"), "blocks and a history", "one of them", advice);
    }
    let counted = if history.is_empty() {
        let pair = |block: v1::DutyBlock| {
            let v1::DutyBlock { share, per_100_km } = block;
            (share, per_100_km)
        };
        let pairs: Vec<(f64, f64)> = blocks.into_iter().map(pair).collect();
        if pairs.is_empty() { None } else { Some(fatigue::Duty::new(&pairs)) }
    } else {
        Some(of_history(&history, history_km))
    };
    let blocks = match counted.transpose() {
        Ok(blocks) => blocks,
        Err(error) => {
            let field = if history.is_empty() { "blocks" } else { "history" };
            reader.refuse(&path.field(field), "what cannot be counted", error.to_string(), "");
            None
        }
    };
    Some(FamilyDuty { family: family?, blocks, reverse })
}

/// The blocks of a record, in shares of the full swing like the record itself.
fn of_history(history: &[f64], way_km: f64) -> Result<fatigue::Duty, fatigue::DutyError> {
    let (duty, full) = fatigue::Duty::of_history(history, way_km * KM)?;
    let pairs: Vec<(f64, f64)> = duty.over(full, 100.0 * KM).collect();
    fatigue::Duty::new(&pairs)
}
