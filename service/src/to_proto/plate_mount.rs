//! `plate_mount.proto`: mounts as plates, and second opinions.

use fishplate_mounts::answer::{Judged, Opinion, SecondOpinion};
use fishplate_mounts::plate::answer::{
    BoltAnswer, BucklingAnswer, FacingAnswer, HardpointAnswer, MeshedPart, ModelSize, PartStress,
    PlateMount, RunAnswer, RunStation, View,
};
use fishplate_proto::v1;

use super::check::{Names, count, place};
use crate::units::{DEG, MM, MPA};

/// A stiffness of 1 N/mm, N/m; a force per length alike.
const N_PER_MM: f64 = 1e3;

/// A mount as plates.
pub(super) fn plate_mount(names: &Names, told: PlateMount) -> v1::PlateMount {
    let PlateMount {
        mount,
        not_solved,
        size,
        parts,
        nodes,
        views,
        runs,
        bolts,
        facings,
        buckling,
        hardpoint,
        assumptions,
    } = told;
    v1::PlateMount {
        mount_id: names.mount(Some(mount)),
        not_solved_reason: not_solved.unwrap_or_default(),
        size: size.map(model_size),
        parts: parts.into_iter().map(part).collect(),
        nodes: nodes.into_iter().map(place).collect(),
        views: views.into_iter().map(|one| view(names, one)).collect(),
        runs: runs.into_iter().map(|one| run(names, one)).collect(),
        bolts: bolts.into_iter().map(|one| bolt(names, one)).collect(),
        facings: facings.into_iter().map(|one| facing(names, one)).collect(),
        buckling: buckling.map(|one| buckles(names, one)),
        hardpoint: hardpoint.map(stiffness),
        assumptions,
    }
}

fn model_size(size: ModelSize) -> v1::PlateModelSize {
    let ModelSize {
        elements,
        unknowns,
        coarse_unknowns,
        largest_imbalance,
        least_angle,
        largest_angle,
        largest_mesh_change,
    } = size;
    v1::PlateModelSize {
        elements: count(elements),
        unknowns: count(unknowns),
        coarse_unknowns: count(coarse_unknowns),
        largest_imbalance,
        least_angle_deg: least_angle / DEG,
        largest_angle_deg: largest_angle / DEG,
        largest_mesh_change,
    }
}

fn part(part: MeshedPart) -> v1::PlatePart {
    let MeshedPart { name, wall, thickness, fy, cells } = part;
    let cell = |nodes: Vec<usize>| v1::PlateCell { nodes: nodes.into_iter().map(count).collect() };
    v1::PlatePart {
        name,
        wall,
        thickness_mm: thickness / MM,
        yield_mpa: fy / MPA,
        cells: cells.into_iter().map(cell).collect(),
    }
}

fn view(names: &Names, view: View) -> v1::PlateView {
    let View { case, rows, movements, stresses } = view;
    let stress = |one: PartStress| {
        let PartStress { von_mises, largest, largest_at } = one;
        v1::PlatePartStress {
            von_mises_mpa: von_mises.into_iter().map(|s| s / MPA).collect(),
            largest_mpa: largest / MPA,
            largest_at: Some(place(largest_at)),
        }
    };
    v1::PlateView {
        case_name: names.case(Some(case)),
        row_ids: rows,
        movements: movements.into_iter().map(place).collect(),
        stresses: stresses.into_iter().map(stress).collect(),
    }
}

fn run(names: &Names, run: RunAnswer) -> v1::PlateRun {
    let RunAnswer { weld, run, case, stations, throat, averaged_over, peak, peak_at, hand, limit } =
        run;
    let station = |one: RunStation| {
        let RunStation { at, point, stress, force } = one;
        v1::PlateRunStation {
            at_mm: at / MM,
            point: Some(place(point)),
            stress_mpa: stress / MPA,
            force_n_per_mm: force / N_PER_MM,
        }
    };
    v1::PlateRun {
        weld,
        run: count(run),
        case_name: names.case(Some(case)),
        stations: stations.into_iter().map(station).collect(),
        throat_mm: throat / MM,
        averaged_over_mm: averaged_over / MM,
        peak_mpa: peak / MPA,
        peak_at_mm: peak_at / MM,
        hand_mpa: hand / MPA,
        limit_mpa: limit / MPA,
    }
}

fn bolt(names: &Names, bolt: BoltAnswer) -> v1::PlateBolt {
    let BoltAnswer { bolt, number, case, at, tension, hand_tension, preload, prying, shear } = bolt;
    v1::PlateBolt {
        bolt,
        number: count(number),
        case_name: names.case(Some(case)),
        at: Some(place(at)),
        tension_n: tension,
        hand_tension_n: hand_tension,
        preload_n: preload,
        prying_n: prying,
        shear_n: shear,
    }
}

fn facing(names: &Names, facing: FacingAnswer) -> v1::PlateFacing {
    let FacingAnswer { name, case, pressed_share, opening, pressing } = facing;
    v1::PlateFacing {
        name,
        case_name: names.case(Some(case)),
        pressed_share,
        opening_mm: opening / MM,
        pressing_n: pressing,
    }
}

fn buckles(names: &Names, way: BucklingAnswer) -> v1::PlateBuckling {
    let BucklingAnswer { load_factor, case, part, shape } = way;
    v1::PlateBuckling {
        load_factor,
        case_name: names.case(Some(case)),
        part,
        // A shape has no length: its largest movement is 1.
        shape: shape.into_iter().map(|v| super::position((v * MM).into())).collect(),
    }
}

fn stiffness(found: HardpointAnswer) -> v1::HardpointStiffness {
    let HardpointAnswer { stiffness: [x, y, z], rounds, last_change, share_change } = found;
    v1::HardpointStiffness {
        move_x_n_per_mm: x / N_PER_MM,
        move_y_n_per_mm: y / N_PER_MM,
        move_z_n_per_mm: z / N_PER_MM,
        rounds: count(rounds),
        last_change,
        share_change,
    }
}

/// Hand statics and plate level side by side.
pub(super) fn second_opinion(names: &Names, opinion: SecondOpinion) -> v1::SecondOpinion {
    let ratio = opinion.ratio();
    let SecondOpinion { hand, plate, reason, taken, why_taken, mesh_change, how } = opinion;
    let case = |judged: Option<Judged>| names.case(judged.and_then(|j| j.case));
    let (plate, not_judged_reason) = match plate {
        Ok(judged) => (Some(judged), String::new()),
        Err(why) => (None, why),
    };
    v1::SecondOpinion {
        hand_utilisation: hand.map(|j| j.utilisation),
        hand_case_name: case(hand),
        plate_utilisation: plate.map(|j| j.utilisation),
        plate_case_name: case(plate),
        ratio,
        reason,
        taken: match taken {
            Opinion::Hand => v1::Opinion::Hand,
            Opinion::Plate => v1::Opinion::Plate,
        }
        .into(),
        why_taken,
        mesh_change,
        not_judged_reason,
        how,
    }
}
