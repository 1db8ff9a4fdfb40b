//! `compare.proto`: designs to put side by side.

use fishplate_mounts::describe::Project;
use fishplate_mounts::study::bill::Rates;
use fishplate_mounts::study::compare::Measure;
use fishplate_proto::v1;

use crate::from_proto::Reader;
use crate::from_proto::project::project;
use crate::path::Path;

/// Fewest and most designs that are put side by side.
const DESIGNS: (usize, usize) = (2, 8);

/// Designs to put side by side.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) projects: Vec<Project>,
    /// Whether the plate level is asked for.
    pub(crate) plates: bool,
    pub(crate) with_scene: bool,
    pub(crate) by: Measure,
    /// The measure as it was asked for.
    pub(crate) measure: v1::Measure,
}

/// Reads a request to compare.
pub(crate) fn compare(reader: &mut Reader, request: v1::CompareProjectsRequest) -> Option<Asked> {
    let plates = request.depth() == v1::Depth::Plate;
    let measure = request.measure();
    let v1::CompareProjectsRequest { projects: given, depth: _, with_scene, measure: _, rates } =
        request;
    let (least, most) = DESIGNS;
    let count = given.len();
    let counted = (least..=most).contains(&count);
    if !counted {
        let path = Path::ROOT.field("projects");
        let allowed = format!("{least} to {most} designs");
        reader.refuse(&path, format!("{count} designs"), allowed, "");
    }
    let mut projects = Vec::new();
    for (place, one) in given.into_iter().take(most).enumerate() {
        projects.extend(project(reader, &Path::ROOT.place("projects", place), one));
    }
    let rates = self::rates(reader, measure, rates);
    let by = self::measure(measure, rates?);
    (counted && projects.len() == count).then_some(Asked {
        projects,
        plates,
        with_scene,
        by,
        measure: if measure == v1::Measure::Unspecified {
            v1::Measure::WeldLength
        } else {
            measure
        },
    })
}

/// What things cost; only ranking by cost asks for it.
pub(super) fn rates(
    reader: &mut Reader,
    measure: v1::Measure,
    given: Option<v1::Rates>,
) -> Option<Rates> {
    if measure != v1::Measure::Cost && given.is_none() {
        return Some(Rates::default());
    }
    let path = Path::ROOT.field("rates");
    let given = reader.required(&path, given)?;
    let v1::Rates { per_kg, per_weld_m, per_weld_cm3, per_cut_m, per_bolt, per_piece } = given;
    let all = [
        ("per_kg", per_kg),
        ("per_weld_m", per_weld_m),
        ("per_weld_cm3", per_weld_cm3),
        ("per_cut_m", per_cut_m),
        ("per_bolt", per_bolt),
        ("per_piece", per_piece),
    ];
    for (name, rate) in all {
        if rate < 0.0 {
            reader.refuse(&path.field(name), rate.to_string(), "zero or more", "");
        }
    }
    if measure == v1::Measure::Cost && all.iter().all(|(_, rate)| *rate <= 0.0) {
        reader.refuse(&path, "no rate above zero", "at least one", "name what things cost");
    }
    /// Cubic centimetres in a cubic metre.
    const CM3: f64 = 1e6;
    Some(Rates {
        steel: per_kg,
        weld_length: per_weld_m,
        weld_volume: per_weld_cm3 * CM3,
        cut: per_cut_m,
        bolt: per_bolt,
        piece: per_piece,
    })
}

fn measure(measure: v1::Measure, rates: Rates) -> Measure {
    match measure {
        v1::Measure::Unspecified | v1::Measure::WeldLength => Measure::WeldLength,
        v1::Measure::WeldVolume => Measure::WeldVolume,
        v1::Measure::Mass => Measure::Mass,
        v1::Measure::Cut => Measure::Cut,
        v1::Measure::Bolts => Measure::Bolts,
        v1::Measure::Pieces => Measure::Pieces,
        v1::Measure::Utilisation => Measure::Utilisation,
        v1::Measure::Cost => Measure::Cost(rates),
    }
}
