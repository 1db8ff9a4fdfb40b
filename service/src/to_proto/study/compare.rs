//! `compare.proto`: designs side by side.

use fishplate_mounts::study::bill::{BeadLine, Bill, BoltLine, PartLine, WeldLine};
use fishplate_mounts::study::compare::{
    CheckAcross, Compared, Comparison, JointAcross, Limit, Measure, Movement, Step, Tried, Used,
    Way,
};
use fishplate_mounts::study::screen::Reached;
use fishplate_proto::v1;

use crate::to_proto::check::{Names, answer, count};
use crate::units::{KM, MM, MM3, N_PER_MM};

/// The whole comparison; `hashes` are those of the projects.
pub(crate) fn comparison(
    comparison: Comparison,
    hashes: Vec<String>,
    by: Measure,
    measure: v1::Measure,
) -> v1::Comparison {
    let Comparison { designs, joints, checks, order, sentence } = comparison;
    let names: Vec<Names> =
        designs.iter().map(|one| Names::of(&one.answer.mounts, &one.answer.cases)).collect();
    v1::Comparison {
        designs: designs
            .into_iter()
            .zip(&names)
            .zip(hashes)
            .map(|((one, names), hash)| design(one, names, hash, by))
            .collect(),
        joints: joints.into_iter().map(joint).collect(),
        checks: checks.into_iter().map(|one| check(one, &names)).collect(),
        ranking: order.into_iter().map(count).collect(),
        sentence,
        measure: measure.into(),
    }
}

/// A measure in the unit of the wire.
fn measured(by: Measure, si: f64) -> f64 {
    match by {
        Measure::WeldLength | Measure::Cut => si / MM,
        Measure::WeldVolume => si / MM3,
        Measure::Mass
        | Measure::Bolts
        | Measure::Pieces
        | Measure::Utilisation
        | Measure::Cost(_) => si,
    }
}

fn design(compared: Compared, names: &Names, hash: String, by: Measure) -> v1::ComparedDesign {
    let Compared { answer: own, bill: made, measure, worst, movements, shortest_life, way } =
        compared;
    let (row, life) = shortest_life.map_or((String::new(), None), |(row, life)| (row, Some(life)));
    v1::ComparedDesign {
        answer: Some(answer(own, hash)),
        bill: Some(bill(made)),
        measure: measured(by, measure),
        worst: worst.map(|one| used(one, names)),
        movements: movements
            .into_iter()
            .enumerate()
            .map(|(mount, one)| movement(one, mount, names))
            .collect(),
        shortest_life_row_id: row,
        shortest_life_km: life.map(|life| life / KM),
        way: way.map(|one| ahead(one, names, by)),
    }
}

fn used(used: Used, names: &Names) -> v1::UsedRow {
    let Used { row, utilisation, case } = used;
    v1::UsedRow { row_id: row, utilisation, case_name: names.case(case) }
}

fn movement(movement: Movement, mount: usize, names: &Names) -> v1::MountMovement {
    let Movement { by_case, most, structure } = movement;
    v1::MountMovement {
        mount_id: names.mount(Some(mount)),
        travel_mm: by_case.into_iter().map(|travel| travel / MM).collect(),
        most_case_name: names.case(most),
        structure: structure.map(|[x, y, z]| v1::StructureStiffness {
            move_x_n_per_mm: x / N_PER_MM,
            move_y_n_per_mm: y / N_PER_MM,
            move_z_n_per_mm: z / N_PER_MM,
        }),
    }
}

fn joint(joint: JointAcross) -> v1::ComparedJoint {
    let JointAcross { name, lines } = joint;
    let one = |line: Option<WeldLine>| v1::ComparedWeld { line: line.map(weld) };
    v1::ComparedJoint { name, welds: lines.into_iter().map(one).collect() }
}

fn check(check: CheckAcross, names: &[Names]) -> v1::ComparedCheck {
    let CheckAcross { mount, kind, what, used: worst } = check;
    let uses = worst.into_iter().zip(names);
    v1::ComparedCheck {
        mount_id: mount,
        kind,
        short_what: what,
        uses: uses
            .map(|(one, names)| v1::ComparedUse { worst: one.map(|one| used(one, names)) })
            .collect(),
    }
}

fn ahead(way: Way, names: &Names, by: Measure) -> v1::WayAhead {
    let Way { limits, tried: asked, singles, pairs, found, nearest } = way;
    v1::WayAhead {
        limits: limits.into_iter().map(limit).collect(),
        tried: asked,
        singles_tried: count(singles),
        pairs_tried: count(pairs),
        found: found.into_iter().map(|one| tried(one, names, by)).collect(),
        nearest: nearest.map(|one| tried(one, names, by)),
    }
}

fn tried(tried: Tried, names: &Names, by: Measure) -> v1::TriedSteps {
    let Tried { steps, worst, mass, weld_length, weld_volume, measure, ahead } = tried;
    let reached = |Reached { row, utilisation, case }: Reached| v1::UsedRow {
        row_id: row,
        utilisation,
        case_name: names.case(case),
    };
    v1::TriedSteps {
        steps: steps.into_iter().map(step).collect(),
        worst: worst.map(reached),
        part_mass_kg: mass,
        weld_length_mm: weld_length / MM,
        weld_volume_mm3: weld_volume / MM3,
        measure: measured(by, measure),
        ahead,
    }
}

fn limit(limit: Limit) -> v1::ExceededLimit {
    let Limit { row, utilisation, by_hand, best } = limit;
    let (best_step, best_utilisation) = best.map(|(one, then)| (step(one), then)).unzip();
    v1::ExceededLimit {
        row_id: row,
        utilisation,
        best_step,
        best_utilisation,
        hand_utilisation: by_hand,
    }
}

fn step(step: Step) -> v1::DesignStep {
    let Step { path, what, from, to } = step;
    v1::DesignStep { field_path: path, what, from, to }
}

/// What a design takes to make.
pub(crate) fn bill(bill: Bill) -> v1::Bill {
    let (part_mass_kg, pieces) = (bill.mass(), bill.pieces());
    let (cut, length, volume) = (bill.cut(), bill.weld_length(), bill.weld_volume());
    let bolt_count = bill.bolt_count();
    let Bill { parts, welds, bolts, not_counted } = bill;
    v1::Bill {
        parts: parts.into_iter().map(part).collect(),
        welds: welds.into_iter().map(weld).collect(),
        bolts: bolts.into_iter().map(bolt).collect(),
        not_counted,
        part_mass_kg,
        piece_count: count(pieces),
        cut_length_mm: cut / MM,
        weld_length_mm: length / MM,
        weld_volume_mm3: volume / MM3,
        bolt_count: count(bolt_count),
    }
}

fn part(line: PartLine) -> v1::BillPart {
    // The volume says nothing that the mass does not.
    let PartLine { name, kind, steel, pieces, thickness, volume: _, mass, cut } = line;
    v1::BillPart {
        name,
        kind: kind.to_owned(),
        steel,
        piece_count: count(pieces),
        thickness_mm: thickness / MM,
        mass_kg: mass,
        cut_length_mm: cut / MM,
    }
}

fn weld(line: WeldLine) -> v1::BillWeld {
    let WeldLine { name, bead, copies, joint, length, volume } = line;
    let (leg, throat, diameter, plugs) = match bead {
        BeadLine::Fillet { leg, throat } => (leg, throat, 0.0, 0),
        BeadLine::Plug { diameter, count } => (0.0, 0.0, diameter, count),
        BeadLine::Ring { leg } => (leg, 0.0, 0.0, 0),
    };
    v1::BillWeld {
        name,
        leg_mm: leg / MM,
        throat_mm: throat / MM,
        plug_diameter_mm: diameter / MM,
        plug_count: count(plugs),
        copies: count(copies),
        joint_length_mm: joint / MM,
        weld_length_mm: length / MM,
        weld_volume_mm3: volume / MM3,
    }
}

fn bolt(line: BoltLine) -> v1::BillBolt {
    let BoltLine { name, size, class, count: number, mass } = line;
    v1::BillBolt { name, thread: size, class, count: count(number), mass_kg: mass }
}
