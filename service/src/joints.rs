//! Joint groups of the solver service: from what was read to the engine's groups and their
//! answers, global axes, SI.

use fishplate_quantity::Fault;
use fishplate_solver::group::{
    Bed, BedAnswer, Bolt, BoltGroup, Edges, GroupError, JointAxes, Path, Vec3, WeldAnswer,
    WeldGroup, WeldPoint, WeldRun, Wrench,
};

use crate::errors::{Refusal, Unsolvable};
use crate::from_proto::solver::{self as read, lengths_in_mm};
use crate::limits::CIRCLE_PLACES;
use crate::path::Path as FieldPath;

/// A bolt group's answer.
#[derive(Debug)]
pub(crate) struct BoltsAnswer {
    /// Centroid of the areas, m.
    pub(crate) centroid: Vec3,
    /// Sum of r² about it in the plane of the face, m².
    pub(crate) sum_r2: f64,
    /// Shear on each bolt, N.
    pub(crate) shear: Vec<Vec3>,
    /// Tension of each bolt, linear about the centroid, N.
    pub(crate) linear: Vec<f64>,
    /// With a foot: what it does.
    pub(crate) foot: Option<FootAnswer>,
}

/// What a foot that can press does.
#[derive(Debug)]
pub(crate) struct FootAnswer {
    /// Tension of each bolt about the pressed edge, N.
    pub(crate) pivot: Vec<f64>,
    /// The balance on the bed.
    pub(crate) bed: BedAnswer,
    /// Where bending is about one axis.
    pub(crate) cracked: Option<Cracked>,
}

/// The section of a joint of which only a part presses.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Cracked {
    /// Depth of the pressed zone from the far edge, m.
    pub(crate) depth: f64,
    /// Second moment about the neutral axis, in bolt areas, m⁴.
    pub(crate) inertia: f64,
}

/// A weld group's answer.
#[derive(Debug)]
pub(crate) struct WeldsAnswer {
    /// Length of all runs, m.
    pub(crate) length: f64,
    /// Centroid, weighted by length and throat, m.
    pub(crate) centroid: Vec3,
    /// ∫ (p − c)(p − c)ᵀ dl about it for unit throat, m³: xx, yy, zz, xy, xz, yz.
    pub(crate) second: [f64; 6],
    /// Points of each run.
    pub(crate) runs: Vec<Vec<WeldPoint>>,
    /// The point of each run with the greatest stress.
    pub(crate) greatest: Vec<WeldPoint>,
}

/// Solves a bolt group, entry `index` of the request.
pub(crate) fn bolts(index: usize, given: &read::BoltGroup) -> Result<BoltsAnswer, Refusal> {
    let told = |error| refused(&FieldPath::ROOT.place("bolt_groups", index), "bolts", error);
    let axes = face_axes(given);
    let in_face = |at: [f64; 3]| axes.point_in(Vec3::from(at));
    let bolts: Vec<Bolt> = given
        .bolts
        .iter()
        .map(|(_, at, area)| {
            let place = in_face(*at);
            Bolt { x: place.x, y: place.y, area: *area }
        })
        .collect();
    let group = BoltGroup::new(bolts).map_err(told)?;
    let centroid = group.centroid();
    let wrench = Wrench {
        force: axes.direction_in(Vec3::from(given.force)),
        moment: axes.direction_in(Vec3::from(given.moment)),
        about: given.load_at.map_or(centroid, in_face),
    };
    let shear = group.shear(&wrench).map_err(told)?;
    let linear = group.tension_about_centroid(&wrench).map_err(told)?;
    let foot = if given.foot.is_empty() {
        None
    } else {
        let corners = given.foot.iter().map(|at| in_face(*at)).map(|at| [at.x, at.y]).collect();
        Some(foot(&group, &wrench, corners, given.bed_stiffness_ratio).map_err(told)?)
    };
    let r2 = |bolt: &Bolt| (bolt.x - centroid.x).powi(2) + (bolt.y - centroid.y).powi(2);
    Ok(BoltsAnswer {
        centroid: axes.point_out(centroid),
        sum_r2: group.bolts().iter().map(r2).sum(),
        shear: shear.into_iter().map(|[x, y]| axes.direction_out(Vec3::new(x, y, 0.0))).collect(),
        linear,
        foot,
    })
}

/// Axes in the face of the bolts, x as near to global x as it can lie.
fn face_axes(given: &read::BoltGroup) -> JointAxes {
    let normal = Vec3::from(given.normal);
    let origin = given.bolts.first().map_or_else(Vec3::zeros, |(_, at, _)| Vec3::from(*at));
    JointAxes::new(origin, Vec3::x(), normal)
        .or_else(|| JointAxes::new(origin, Vec3::y(), normal))
        .expect("the normal has a length and cannot lie along both x and y")
}

fn foot(
    group: &BoltGroup,
    wrench: &Wrench,
    corners: Vec<[f64; 2]>,
    ratio: f64,
) -> Result<FootAnswer, GroupError> {
    let edges = edges(&corners);
    let pivot = group.tension_about_edge(wrench, &edges)?;
    // Only the ratio of the two decides who carries what.
    let bolt_modulus = 1e12;
    let whole = Bed::new(corners, bolt_modulus * ratio)?;
    let bed = whole.with_bolts(group, bolt_modulus, wrench)?;
    let pressed = bed.pressed_area / whole.area();
    let cracked = if pressed <= ALL_BUT {
        Some(Cracked { depth: 0.0, inertia: 0.0 })
    } else if pressed >= 1.0 - ALL_BUT {
        uncracked(&bed, &whole, &edges, ratio)
    } else {
        cracked(&bed, wrench, &edges, bolt_modulus)
    };
    Ok(FootAnswer { pivot: pivot.iter().map(|t| t.total).collect(), bed, cracked })
}

/// Part of the foot that is rounding: less than this is nothing, all but this is all.
const ALL_BUT: f64 = 1e-9;

/// A foot that presses all over: its whole depth along the axis that bends, and its own second
/// moment in bolt areas (no bolt within it pulls). Without bending, of its longer side.
fn uncracked(bed: &BedAnswer, whole: &Bed, edges: &Edges, ratio: f64) -> Option<Cracked> {
    let [rise, along_x, along_y] = bed.plane;
    let [wide, deep] = [edges.x_max - edges.x_min, edges.y_max - edges.y_min];
    let [by_x, by_y] = [along_x.abs() * wide, along_y.abs() * deep];
    let flat = |by: f64| by <= 1e-9 * rise.abs();
    let about_x = match (flat(by_x), flat(by_y)) {
        (true, true) => deep >= wide,
        (true, false) => true,
        (false, true) => false,
        (false, false) if by_x <= 1e-9 * by_y => true,
        (false, false) if by_y <= 1e-9 * by_x => false,
        (false, false) => return None,
    };
    let [inertia_x, inertia_y] = whole.second_moments();
    let (depth, inertia) = if about_x { (deep, inertia_x) } else { (wide, inertia_y) };
    Some(Cracked { depth, inertia: ratio * inertia })
}

fn edges(corners: &[[f64; 2]]) -> Edges {
    use fishplate_quantity::algebra::{larger, smaller};
    let [x, y] = [0, 1].map(|k| {
        corners.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), corner| {
            (smaller(low, corner[k]), larger(high, corner[k]))
        })
    });
    Edges { x_min: x.0, x_max: x.1, y_min: y.0, y_max: y.1 }
}

/// Where the joint opens about one axis of the face alone: its pressed depth, and `I` from
/// `M = E κ I` about the neutral axis, with the bolts' modulus for `E` and the slope of the
/// opening for `κ`.
fn cracked(bed: &BedAnswer, wrench: &Wrench, edges: &Edges, modulus: f64) -> Option<Cracked> {
    let [rise, along_x, along_y] = bed.plane;
    let straight = |slope: f64, other: f64| slope.abs() > 0.0 && other.abs() <= 1e-9 * slope.abs();
    let moved = |x: f64, y: f64| wrench.moved_to(Vec3::new(x, y, 0.0)).moment;
    let (axis, far, slope, moment) = if straight(along_y, along_x) {
        let axis = -rise / along_y;
        let far = if along_y > 0.0 { edges.y_min } else { edges.y_max };
        (axis, far, along_y, moved(0.0, axis).x)
    } else if straight(along_x, along_y) {
        let axis = -rise / along_x;
        let far = if along_x > 0.0 { edges.x_min } else { edges.x_max };
        (axis, far, along_x, -moved(axis, 0.0).y)
    } else {
        return None;
    };
    Some(Cracked { depth: (axis - far).abs(), inertia: moment / (modulus * slope) })
}

/// Solves a weld group, entry `index` of the request.
pub(crate) fn welds(index: usize, given: &read::WeldGroup) -> Result<WeldsAnswer, Refusal> {
    let told = |error| refused(&FieldPath::ROOT.place("weld_groups", index), "runs", error);
    let mut runs = Vec::with_capacity(given.runs.len());
    for (place, run) in given.runs.iter().enumerate() {
        let made = weld_run(run.throat, run.path).map_err(|error| match error {
            GroupError::BadNumber { what, value, .. } => {
                GroupError::BadNumber { what, index: place, value }
            }
            other => other,
        });
        runs.push(made.map_err(told)?);
    }
    let group = WeldGroup::new(runs).map_err(told)?;
    let throat_area = group.throat_area();
    let weighted = |sum: Vec3, run: &WeldRun| {
        let points = run.path().quadrature();
        points.iter().fold(sum, |sum, (at, length)| sum + at * (run.throat() * length))
    };
    let centroid = group.runs().iter().fold(Vec3::zeros(), weighted) / throat_area;
    let wrench = Wrench {
        force: Vec3::from(given.force),
        moment: Vec3::from(given.moment),
        about: given.load_at.map_or(centroid, Vec3::from),
    };
    let is_circle = |run: &read::RunPath| matches!(run, read::RunPath::Circle { .. });
    let circles = given.runs.iter().any(|run| is_circle(&run.path));
    let between = if circles { CIRCLE_PLACES - 1 } else { 0 };
    let WeldAnswer { mut runs, greatest } = group.solve(&wrench, between).map_err(told)?;
    for (points, run) in runs.iter_mut().zip(&given.runs) {
        if is_circle(&run.path) {
            // The last point is the first again.
            points.truncate(CIRCLE_PLACES);
        } else if let [first, .., last] = points[..] {
            *points = vec![first, last];
        }
    }
    let line = group.line_properties();
    // The theorem of parallel axes, from the centroid of the lines to that of the throats.
    let away = centroid - line.centroid;
    let second = line.second + away * away.transpose() * line.length;
    Ok(WeldsAnswer {
        length: line.length,
        centroid,
        second: [(0, 0), (1, 1), (2, 2), (0, 1), (0, 2), (1, 2)].map(|at| second[at]),
        runs,
        greatest,
    })
}

fn weld_run(throat: f64, path: read::RunPath) -> Result<WeldRun, GroupError> {
    match path {
        read::RunPath::Straight(from, to) => {
            let (from, to) = (Vec3::from(from), Vec3::from(to));
            // The contract asks for forces, not for their parts on the legs: any legs do.
            let along = to - from;
            let least = if along.x.abs() <= along.y.abs() { Vec3::x() } else { Vec3::y() };
            let leg = along.cross(&least);
            WeldRun::new(Path::Straight { from, to }, throat, leg, along.cross(&leg))
        }
        read::RunPath::Circle { centre, normal, start } => {
            let (centre, axis, start) = (Vec3::from(centre), Vec3::from(normal), Vec3::from(start));
            let sweep = std::f64::consts::TAU;
            let arc = Path::Arc { centre, axis, start, sweep };
            let arm = start - centre;
            WeldRun::new(arc, throat, axis, arm - axis * axis.dot(&arm))
        }
    }
}

/// Presses a block on its bed, entry `index` of the request.
pub(crate) fn bed(index: usize, given: &read::BedContact) -> Result<(BedAnswer, f64), Refusal> {
    let told = |error| refused(&FieldPath::ROOT.place("bed_contacts", index), "", error);
    // Alone on its bed a block presses the same whatever the bed's stiffness.
    let bed = Bed::rectangle([0.0, 0.0], given.size, 1e12).map_err(told)?;
    let [x, y] = given.eccentricity;
    let force = Vec3::new(0.0, 0.0, -given.force);
    let answer = bed.press(&Wrench::of_force(force, Vec3::new(x, y, 0.0))).map_err(told)?;
    Ok((answer, bed.area()))
}

fn refused(path: &FieldPath<'_>, list: &str, error: GroupError) -> Refusal {
    let message = lengths_in_mm(&error.to_string());
    let invalid = |path: FieldPath<'_>, given: String, allowed: &str| {
        Refusal::invalid(vec![Fault::new(path.to_string(), given, allowed, "")])
    };
    match error {
        GroupError::Empty => invalid(path.field(list), message, "at least one"),
        GroupError::BadNumber { what, index, value } => {
            let given = format!("{what} of {value} (SI)");
            invalid(path.place(list, index), given, "a finite number, above 0 for sizes")
        }
        GroupError::OutsideFace { index } => {
            let place = path.place(list, index);
            invalid(place.field("position"), message, "within the corners of the foot")
        }
        GroupError::Singular { .. } => unsolvable("MECHANISM", path, message),
        GroupError::NoEquilibrium { .. } => unsolvable("NO_EQUILIBRIUM", path, message),
    }
}

fn unsolvable(reason: &'static str, path: &FieldPath<'_>, message: String) -> Refusal {
    let subject = path.to_string();
    let message = format!("{subject}: {message}");
    Refusal::Unsolvable(Unsolvable { reason, message, subject, metadata: Default::default() })
}
