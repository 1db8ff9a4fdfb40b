//! `size.proto`: designs of which those that hold are wanted.

use fishplate_mounts::Depth;
use fishplate_mounts::study::size::{Asked as Engine, DESIGNS, Objective};
use fishplate_mounts::study::space::Space;
use fishplate_proto::v1;

use super::{changes, compare};
use crate::from_proto::Reader;
use crate::path::Path;

/// Designs that are listed where nothing is said, and at most.
const TOP: (usize, usize) = (10, 1000);
/// Designs that are confirmed where nothing is said: by hand statics, by plates; and at most.
const CONFIRM: (usize, usize, usize) = (1, 3, 20);

/// Reads a request to size; `threads` is what may work at the same time.
pub(crate) fn size(
    reader: &mut Reader,
    request: v1::SizeProjectRequest,
    threads: usize,
) -> Option<(Space, Engine)> {
    let plates = request.depth() == v1::Depth::Plate;
    let (first, second) = (request.front_first(), request.front_second());
    let by: Vec<v1::Measure> = request.by().collect();
    let v1::SizeProjectRequest {
        space: given,
        by: _,
        front_first: _,
        front_second: _,
        rates,
        top,
        depth: _,
        confirm,
    } = request;
    let costs = by.iter().chain([&first, &second]).any(|one| *one == v1::Measure::Cost);
    let ranked = if costs { v1::Measure::Cost } else { v1::Measure::Mass };
    let rates = compare::rates(reader, ranked, rates);
    let top = number(reader, "top", top, TOP.0, TOP.1);
    let usual = if plates { CONFIRM.1 } else { CONFIRM.0 };
    let confirm = number(reader, "confirm", confirm, usual, CONFIRM.2);
    let path = Path::ROOT.field("space");
    let given = reader.required(&path, given)?;
    let space = changes::space(reader, &path, given)?;
    if space.quantities().is_empty() {
        let advice = "without open quantities there is one design: check it";
        reader.refuse(&path.field("quantities"), "nothing", "at least one open quantity", advice);
        return None;
    }
    if space.designs() > DESIGNS {
        let given = format!("{} combinations", space.designs());
        let advice = "leave fewer options, or go about it mount by mount";
        reader.refuse(&path.field("quantities"), given, format!("at most {DESIGNS}"), advice);
        return None;
    }
    let by: Vec<Objective> =
        by.into_iter().map(|one| objective(one, Objective::SteelMass)).collect();
    let asked = Engine {
        by: if by.is_empty() { vec![Objective::SteelMass] } else { by },
        front: [objective(first, Objective::SteelMass), objective(second, Objective::Utilisation)],
        rates: rates?,
        top: top?,
        depth: if plates { Depth::Plate { threads } } else { Depth::Frame },
        confirm: confirm?,
        threads,
    };
    Some((space, asked))
}

/// A number of designs; `usual` where left out.
fn number(reader: &mut Reader, name: &str, given: i32, usual: usize, most: usize) -> Option<usize> {
    match usize::try_from(given) {
        Ok(0) => Some(usual),
        Ok(number) if number <= most => Some(number),
        _ => {
            let allowed = format!("0 to {most}; {usual} where left out");
            reader.refuse(&Path::ROOT.field(name), given.to_string(), allowed, "");
            None
        }
    }
}

fn objective(given: v1::Measure, usual: Objective) -> Objective {
    match given {
        v1::Measure::Unspecified => usual,
        v1::Measure::WeldLength => Objective::WeldLength,
        v1::Measure::WeldVolume => Objective::WeldVolume,
        v1::Measure::Mass => Objective::SteelMass,
        v1::Measure::Cut => Objective::Cut,
        v1::Measure::Bolts => Objective::Bolts,
        v1::Measure::Pieces => Objective::Pieces,
        v1::Measure::Utilisation => Objective::Utilisation,
        v1::Measure::Cost => Objective::Cost,
    }
}
