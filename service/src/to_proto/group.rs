//! Answers about joint groups.

use fishplate_proto::v1;
use fishplate_solver::group::{BedAnswer, Vec3, WeldPoint};

use super::position;
use crate::from_proto::solver::{BedContact, BoltGroup, WeldGroup};
use crate::joints::{BoltsAnswer, Cracked, FootAnswer, WeldsAnswer};
use crate::units::{MM, MM2, MM3, MM4, MPA, N_PER_MM};

/// A bolt group.
pub(crate) fn bolt_group(given: &BoltGroup, answer: &BoltsAnswer) -> v1::BoltGroupAnswer {
    let BoltsAnswer { centroid, sum_r2, shear, linear, foot } = answer;
    let bolts = given.bolts.iter().zip(shear.iter().zip(linear)).enumerate();
    let bolts = bolts.map(|(place, ((id, _, _), (shear, linear)))| v1::BoltForces {
        bolt_id: id.clone(),
        shear_x_n: shear.x,
        shear_y_n: shear.y,
        shear_z_n: shear.z,
        shear_n: shear.norm(),
        tension_linear_n: *linear,
        tension_pivot_n: foot.as_ref().map(|foot| foot.pivot[place]),
        tension_bed_n: foot.as_ref().map(|foot| foot.bed.tension[place]),
    });
    let cracked = foot.as_ref().and_then(|foot| foot.cracked);
    let bed = foot.as_ref().map(|FootAnswer { pivot: _, bed, cracked: _ }| bed);
    v1::BoltGroupAnswer {
        group_id: given.name.clone(),
        centroid: Some(place(*centroid)),
        sum_r2_mm2: sum_r2 / MM2,
        bolts: bolts.collect(),
        pressed_depth_mm: cracked.map(|Cracked { depth, inertia: _ }| depth / MM),
        highest_pressure_mpa: bed.map(|bed| bed.peak_pressure / MPA),
        pressing_force_n: bed.map(|bed| bed.compression),
        cracked_inertia_mm4: cracked.map(|Cracked { depth: _, inertia }| inertia / MM4),
    }
}

/// A weld group.
pub(crate) fn weld_group(given: &WeldGroup, answer: &WeldsAnswer) -> v1::WeldGroupAnswer {
    let WeldsAnswer { length, centroid, second, runs, greatest } = answer;
    let [xx, yy, zz, xy, xz, yz] = second.map(|moment| moment / MM3);
    let most = |size: fn(&WeldPoint) -> f64| {
        greatest.iter().map(size).fold(0.0, fishplate_quantity::algebra::larger)
    };
    v1::WeldGroupAnswer {
        group_id: given.name.clone(),
        length_mm: length / MM,
        centroid: Some(place(*centroid)),
        j_x_mm3: yy + zz,
        j_y_mm3: xx + zz,
        j_z_mm3: xx + yy,
        sum_xx_mm3: xx,
        sum_yy_mm3: yy,
        sum_zz_mm3: zz,
        sum_xy_mm3: xy,
        sum_xz_mm3: xz,
        sum_yz_mm3: yz,
        runs: given
            .runs
            .iter()
            .zip(runs)
            .map(|(run, points)| v1::RunForces {
                run_id: run.name.clone(),
                places: points.iter().map(line_force).collect(),
            })
            .collect(),
        highest_n_per_mm: most(|point| point.line_force.norm()) / N_PER_MM,
        highest_stress_mpa: most(|point| point.resultant) / MPA,
    }
}

/// A block on a bed with the area `bed_area` (m²).
pub(crate) fn bed_contact(
    given: &BedContact,
    answer: &BedAnswer,
    bed_area: f64,
) -> v1::BedContactAnswer {
    let BedAnswer { peak_pressure, pressed_area, pressed, .. } = answer;
    let [off_x, off_y] = given.eccentricity.map(|off| off.abs() > 0.0);
    let extent = |k: usize| {
        let along = || pressed.iter().map(|corner| corner[k]);
        let high = along().fold(f64::NEG_INFINITY, fishplate_quantity::algebra::larger);
        high - along().fold(f64::INFINITY, fishplate_quantity::algebra::smaller)
    };
    v1::BedContactAnswer {
        contact_id: given.name.clone(),
        highest_pressure_mpa: peak_pressure / MPA,
        pressed_length_x_mm: (off_x && !off_y).then(|| extent(0) / MM),
        pressed_length_y_mm: (off_y && !off_x).then(|| extent(1) / MM),
        pressed_part: pressed_area / bed_area,
    }
}

fn line_force(point: &WeldPoint) -> v1::LineForce {
    let force = point.line_force / N_PER_MM;
    v1::LineForce {
        at: Some(place(point.at)),
        force_x_n_per_mm: force.x,
        force_y_n_per_mm: force.y,
        force_z_n_per_mm: force.z,
        resultant_n_per_mm: force.norm(),
    }
}

fn place(at: Vec3) -> v1::Position {
    position([at.x, at.y, at.z])
}
