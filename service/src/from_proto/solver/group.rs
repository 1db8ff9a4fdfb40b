//! Bolt groups, weld groups and blocks on beds.

use fishplate_proto::v1;

use crate::from_proto::{Reader, direction, position, wrench};
use crate::path::Path;
use crate::units::{MM, MM2};

/// A bolt group in SI, global axes.
#[derive(Debug)]
pub(crate) struct BoltGroup {
    pub(crate) name: String,
    /// Name, place (m) and stress area (m²) of each bolt.
    pub(crate) bolts: Vec<(String, [f64; 3], f64)>,
    /// Normal of the face, unit.
    pub(crate) normal: [f64; 3],
    /// Force, N.
    pub(crate) force: [f64; 3],
    /// Moment, N m.
    pub(crate) moment: [f64; 3],
    /// Where the load acts, m; the centroid where left out.
    pub(crate) load_at: Option<[f64; 3]>,
    /// Corners of the foot, m; empty where there is none.
    pub(crate) foot: Vec<[f64; 3]>,
    /// Stiffness of the bed over that of the bolts, per area.
    pub(crate) bed_stiffness_ratio: f64,
}

/// A weld group in SI, global axes.
#[derive(Debug)]
pub(crate) struct WeldGroup {
    pub(crate) name: String,
    pub(crate) runs: Vec<Run>,
    /// Force, N.
    pub(crate) force: [f64; 3],
    /// Moment, N m.
    pub(crate) moment: [f64; 3],
    /// Where the load acts, m; the centroid where left out.
    pub(crate) load_at: Option<[f64; 3]>,
}

/// A run of a weld group.
#[derive(Debug)]
pub(crate) struct Run {
    pub(crate) name: String,
    /// Throat, m.
    pub(crate) throat: f64,
    pub(crate) path: RunPath,
}

/// Where a run goes, m.
#[derive(Debug, Clone, Copy)]
pub(crate) enum RunPath {
    /// From here to there.
    Straight([f64; 3], [f64; 3]),
    /// Round a full circle.
    Circle {
        /// Its centre.
        centre: [f64; 3],
        /// Normal of its plane, unit.
        normal: [f64; 3],
        /// A point on it.
        start: [f64; 3],
    },
}

/// A block on a bed, SI.
#[derive(Debug)]
pub(crate) struct BedContact {
    pub(crate) name: String,
    /// Size along x and y, m.
    pub(crate) size: [f64; 2],
    /// Pressing force, N.
    pub(crate) force: f64,
    /// Its place from the middle, m.
    pub(crate) eccentricity: [f64; 2],
}

pub(super) fn bolt_groups(reader: &mut Reader, given: Vec<v1::BoltGroup>) -> Vec<BoltGroup> {
    given.into_iter().enumerate().map(|(index, group)| bolt_group(reader, index, group)).collect()
}

fn bolt_group(reader: &mut Reader, index: usize, given: v1::BoltGroup) -> BoltGroup {
    let v1::BoltGroup { id, bolts, normal, load, load_at, foot_corners, bed_stiffness_ratio } =
        given;
    let path = Path::ROOT.place("bolt_groups", index);
    if bolts.is_empty() {
        reader.refuse(&path.field("bolts"), "no bolt", "at least one", "");
    }
    if bed_stiffness_ratio < 0.0 {
        let given = bed_stiffness_ratio.to_string();
        reader.refuse(&path.field("bed_stiffness_ratio"), given, "above 0, or 0 for 1", "");
    }
    if !foot_corners.is_empty() && foot_corners.len() < 3 {
        let given = format!("{} corners", foot_corners.len());
        reader.refuse(&path.field("foot_corners"), given, "at least 3, or none", "");
    }
    let normal = direction(reader, &path.field("normal"), normal).unwrap_or([0.0, 0.0, 1.0]);
    let (force, moment) = wrench(reader.required(&path.field("load"), load));
    let bolts: Vec<(String, [f64; 3], f64)> = bolts
        .into_iter()
        .enumerate()
        .map(|(place, bolt)| {
            let v1::GroupBolt { id, position: at, area_mm2 } = bolt;
            let path = path.place("bolts", place);
            let at = position(reader.required(&path.field("position"), at));
            positive(reader, &path.field("area_mm2"), area_mm2);
            (id, at, area_mm2 * MM2)
        })
        .collect();
    in_one_plane(reader, &path, &bolts, normal);
    BoltGroup {
        name: id,
        bolts,
        normal,
        force,
        moment,
        load_at: load_at.map(|at| position(Some(at))),
        foot: foot_corners.into_iter().map(|corner| position(Some(corner))).collect(),
        bed_stiffness_ratio: if bed_stiffness_ratio > 0.0 { bed_stiffness_ratio } else { 1.0 },
    }
}

/// Bolts pass one face: farther than a micrometre off it they are not a group in a plane.
fn in_one_plane(
    reader: &mut Reader,
    path: &Path<'_>,
    bolts: &[(String, [f64; 3], f64)],
    normal: [f64; 3],
) {
    let height = |at: &[f64; 3]| (0..3).map(|i| at[i] * normal[i]).sum::<f64>();
    let Some((_, first, _)) = bolts.first() else { return };
    for (place, (_, at, _)) in bolts.iter().enumerate() {
        let off = height(at) - height(first);
        if off.abs() > 1e-6 {
            let given = format!("{} mm off the face of bolts[0]", off / MM);
            let path = path.place("bolts", place);
            let advice = "give the point where the bolt passes the face";
            reader.refuse(&path.field("position"), given, "on the face through bolts[0]", advice);
        }
    }
}

pub(super) fn weld_groups(reader: &mut Reader, given: Vec<v1::WeldGroup>) -> Vec<WeldGroup> {
    given.into_iter().enumerate().map(|(index, group)| weld_group(reader, index, group)).collect()
}

fn weld_group(reader: &mut Reader, index: usize, given: v1::WeldGroup) -> WeldGroup {
    let v1::WeldGroup { id, runs, load, load_at } = given;
    let path = Path::ROOT.place("weld_groups", index);
    if runs.is_empty() {
        reader.refuse(&path.field("runs"), "no run", "at least one", "");
    }
    let (force, moment) = wrench(reader.required(&path.field("load"), load));
    let runs = runs
        .into_iter()
        .enumerate()
        .map(|(place, given)| run(reader, &path.place("runs", place), given))
        .collect();
    let load_at = load_at.map(|at| position(Some(at)));
    WeldGroup { name: id, runs, force, moment, load_at }
}

fn run(reader: &mut Reader, path: &Path<'_>, given: v1::GroupRun) -> Run {
    let v1::GroupRun { id, start, end, throat_mm, circle_centre, circle_normal } = given;
    positive(reader, &path.field("throat_mm"), throat_mm);
    let start = position(reader.required(&path.field("start"), start));
    let path = match circle_centre {
        Some(centre) => {
            let centre = position(Some(centre));
            let normal = reader.required(&path.field("circle_normal"), circle_normal);
            let normal = direction(reader, &path.field("circle_normal"), normal);
            if let Some(normal) = normal {
                on_circle(reader, path, start, centre, normal);
                whole_circle(reader, path, start, end);
            }
            let normal = normal.unwrap_or([0.0, 0.0, 1.0]);
            RunPath::Circle { centre, normal, start }
        }
        None => {
            let end = position(reader.required(&path.field("end"), end));
            let apart = (0..3).any(|i| (end[i] - start[i]).abs() > 0.0);
            if !apart && start.iter().chain(&end).all(|c| c.is_finite()) {
                reader.refuse(&path.field("end"), "the start again", "another point", "");
            }
            RunPath::Straight(start, end)
        }
    };
    Run { name: id, throat: throat_mm * MM, path }
}

/// Refuses a start that is the centre, or off the plane of the circle by more than rounding.
fn on_circle(
    reader: &mut Reader,
    path: &Path<'_>,
    start: [f64; 3],
    centre: [f64; 3],
    normal: [f64; 3],
) {
    let radius = distance_from_axis(start, centre, normal);
    let off: f64 = (0..3).map(|i| (start[i] - centre[i]) * normal[i]).sum();
    if off.abs() > 1e-3 * radius && off.abs() > 0.0 {
        let given = format!("a point {} mm off the plane of circle_normal", off.abs() / MM);
        let allowed = "a point on the circle: in the plane through circle_centre";
        reader.refuse(&path.field("start"), given, allowed, "");
    } else if radius <= 0.0 {
        reader.refuse(&path.field("start"), "the centre", "a point on the circle", "");
    }
}

/// Refuses an end of a circle elsewhere than at its start.
fn whole_circle(reader: &mut Reader, path: &Path<'_>, start: [f64; 3], end: Option<v1::Position>) {
    let Some(end) = end.map(|end| position(Some(end))) else { return };
    if (0..3).any(|i| (end[i] - start[i]).abs() > 0.0) {
        let [x, y, z] = end.map(|c| c / MM);
        let given = format!("({x}, {y}, {z}) mm");
        let advice = "a run with circle_centre goes all the way round";
        reader.refuse(&path.field("end"), given, "nothing, or the start again", advice);
    }
}

fn distance_from_axis(at: [f64; 3], centre: [f64; 3], normal: [f64; 3]) -> f64 {
    let arm = [0, 1, 2].map(|i| at[i] - centre[i]);
    let along: f64 = (0..3).map(|i| arm[i] * normal[i]).sum();
    (0..3).map(|i| arm[i] - along * normal[i]).map(|c| c * c).sum::<f64>().sqrt()
}

pub(super) fn bed_contacts(reader: &mut Reader, given: Vec<v1::BedContact>) -> Vec<BedContact> {
    given
        .into_iter()
        .enumerate()
        .map(|(index, contact)| {
            let v1::BedContact {
                id,
                size_x_mm,
                size_y_mm,
                force_n,
                eccentricity_x_mm,
                eccentricity_y_mm,
            } = contact;
            let path = Path::ROOT.place("bed_contacts", index);
            positive(reader, &path.field("size_x_mm"), size_x_mm);
            positive(reader, &path.field("size_y_mm"), size_y_mm);
            positive(reader, &path.field("force_n"), force_n);
            for (field, off, size) in [
                ("eccentricity_x_mm", eccentricity_x_mm, size_x_mm),
                ("eccentricity_y_mm", eccentricity_y_mm, size_y_mm),
            ] {
                if off.abs() >= 0.5 * size && size > 0.0 {
                    let allowed = format!("less than half the size, {} mm", 0.5 * size);
                    let advice = "a force outside the block tips it over";
                    reader.refuse(&path.field(field), format!("{off} mm"), allowed, advice);
                }
            }
            BedContact {
                name: id,
                size: [size_x_mm * MM, size_y_mm * MM],
                force: force_n,
                eccentricity: [eccentricity_x_mm * MM, eccentricity_y_mm * MM],
            }
        })
        .collect()
}

/// Notes a number that is not above 0; what is no number is noted at the door.
fn positive(reader: &mut Reader, path: &Path<'_>, given: f64) {
    if given <= 0.0 {
        reader.refuse(path, given.to_string(), "above 0", "");
    }
}
