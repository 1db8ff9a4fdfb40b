//! The mounts as plates: pictures, and what stands beside them in words and tables.

use fishplate_proto::v1;

use crate::given::Given;
use crate::names::{capital, component, quoted};
use crate::numbers::{self, fixed, power_of_ten, short, with_unit};
use crate::state::{State, worst};
use crate::svg::geometry::{Bounds, larger, largest};
use crate::svg::solids::position;
use crate::svg::surface::Mesh;
use crate::units::Units;
use crate::views::plates::{Picture, bolts, buckling, deflected, stress, throat};

/// A mesh that is longer than this is too small to read as a whole, mm.
const LARGE: f64 = 620.0;
/// How far from the hardpoint is near, mm.
const NEAR: f64 = 240.0;
/// How far beside its plates a hardpoint may lie, mm.
const BESIDE: f64 = 80.0;

/// A mount as plates.
#[derive(Debug)]
pub(crate) struct PlateMount {
    pub(crate) name: String,
    pub(crate) id: String,
    pub(crate) open: bool,
    /// Why there is no result; empty where there is one.
    pub(crate) not_solved: String,
    pub(crate) pictures: Vec<Told>,
    /// Pictures of further cases in which something governs.
    pub(crate) further: Vec<Told>,
    pub(crate) buckling: Option<String>,
    pub(crate) stresses: Vec<PartStress>,
    pub(crate) facings: Vec<Facing>,
    pub(crate) hardpoint: Option<Hardpoint>,
    pub(crate) size: Option<String>,
    pub(crate) assumptions: Vec<String>,
    /// Whether another mount of the same mesh tells all but the hardpoint.
    pub(crate) told_elsewhere: bool,
}

/// A picture with how many things are not in it.
#[derive(Debug)]
pub(crate) struct Told {
    pub(crate) picture: Picture,
    pub(crate) left_out: usize,
    /// What is left out and why: "runs lie hidden".
    pub(crate) of: &'static str,
}

/// The largest stress of a wall that counts.
#[derive(Debug)]
pub(crate) struct PartStress {
    pub(crate) name: String,
    pub(crate) thickness: String,
    pub(crate) strength: String,
    pub(crate) largest: String,
    pub(crate) case: String,
}

/// Faces that may open.
#[derive(Debug)]
pub(crate) struct Facing {
    pub(crate) name: String,
    pub(crate) case: String,
    pub(crate) pressed: String,
    pub(crate) opening: String,
    pub(crate) force: String,
}

/// Stiffness at the hardpoint.
#[derive(Debug)]
pub(crate) struct Hardpoint {
    /// Direction and stiffness.
    pub(crate) stiffness: Vec<(&'static str, String)>,
    pub(crate) share: String,
}

/// The mounts as plates, in their order; none where the answer has none.
pub(crate) fn mounts(given: Given<'_>) -> Vec<PlateMount> {
    given.response.plate_mounts.iter().map(|m| one(given, m)).collect()
}

fn one(given: Given<'_>, mount: &v1::PlateMount) -> PlateMount {
    let answer = given.response.mounts.iter().find(|m| m.id == mount.mount_id);
    let exceeds = worst(given.rows_of(&mount.mount_id)).map(State::of) == Some(State::Exceeds);
    let solved = mount.not_solved_reason.is_empty();
    let (pictures, further) = if solved { pictures(given, mount) } else { Default::default() };
    let of_buckling = mount.buckling.as_ref().filter(|_| solved);
    PlateMount {
        name: answer
            .map_or_else(|| mount.mount_id.clone(), |m| format!("{} mount", capital(&m.name))),
        id: mount.mount_id.clone(),
        open: exceeds || !solved,
        not_solved: capital(&quoted(&mount.not_solved_reason)),
        buckling: of_buckling.and_then(|b| buckling::sentence(given, b)),
        stresses: if solved { stresses(mount, given.units) } else { Vec::new() },
        facings: mount.facings.iter().map(|f| facing(f, given.units)).collect(),
        hardpoint: mount
            .hardpoint
            .as_ref()
            .filter(|_| solved)
            .map(|h| hardpoint_of(h, given.units)),
        size: mount.size.as_ref().filter(|_| solved).map(size),
        assumptions: mount.assumptions.iter().map(|a| capital(&quoted(a))).collect(),
        told_elsewhere: solved && mount.size.is_none() && pictures.is_empty(),
        pictures,
        further,
    }
}

/// The pictures of the case that uses most and of what has no one case; those of further cases.
fn pictures(given: Given<'_>, mount: &v1::PlateMount) -> (Vec<Told>, Vec<Told>) {
    let all = |picture: Picture| Told { picture, left_out: 0, of: "" };
    let counted = |of| move |(picture, left_out)| Told { picture, left_out, of };
    let (mut out, mut further) = (Vec::new(), Vec::new());
    if let Some(mesh) = Mesh::of(mount) {
        let steps = stress::steps(mount, &mesh, given.units);
        let mut views: Vec<&v1::PlateView> = mount.views.iter().collect();
        views.sort_by(|a, b| used(mount, b).total_cmp(&used(mount, a)));
        let near = close_ups(given, mount, &mesh);
        let mut from = None;
        for (k, view) in views.into_iter().enumerate() {
            let list = if k == 0 { &mut out } else { &mut further };
            list.extend(deflected::draw(given, mount, &mesh, view, &mut from).map(all));
            for (place, mesh) in &near {
                let once = k > 0 || near.len() > 1;
                let drawn = stress::draw(given, mesh, view, steps, (place, once));
                list.extend(drawn.into_iter().map(all));
            }
        }
        for (place, mesh) in &near {
            let drawn = throat::standing::draw(given, mount, mesh, place);
            out.extend(drawn.map(counted("runs lie hidden")));
        }
        let way = mount.buckling.as_ref().and_then(|b| buckling::draw(given, &mesh, b));
        out.extend(way.map(all));
    }
    out.extend(throat::draw(given, mount).map(counted("runs that carry less are not drawn")));
    out.extend(bolts::draw(given, mount).map(counted("bolts that carry less are not drawn")));
    (out, further)
}

/// What of a mesh is shown large, with where it is: all of it, or what lies near each mount that it
/// has, where the whole would be too small to read. A bar across the car makes one mesh of two mounts.
fn close_ups(given: Given<'_>, mount: &v1::PlateMount, mesh: &Mesh) -> Vec<(String, Mesh)> {
    let bounds = mesh.bounds(&mesh.nodes);
    let whole = || vec![(String::new(), mesh.clone())];
    if (0..3).map(|k| bounds.size(k)).fold(0.0, larger) <= LARGE {
        return whole();
    }
    let elsewhere = |m: &v1::MountAnswer| {
        let mut own = given.response.plate_mounts.iter();
        own.any(|p| p.mount_id == m.id && p.mount_id != mount.mount_id && !p.parts.is_empty())
    };
    let mounts = given.response.mounts.iter().filter(|m| !elsewhere(m));
    let near = mounts.filter_map(|m| {
        let at = m.at.as_ref().map(position)?;
        let inside = bounds.grown(BESIDE).holds(at, 0.0);
        let near = inside.then(|| mesh.inside(&Bounds::of([at]).grown(NEAR)))??;
        Some((format!(" Near the {} mount.", m.name), near))
    });
    let near: Vec<(String, Mesh)> = near.collect();
    if near.is_empty() { whole() } else { near }
}

/// The largest stress over yield of a case.
fn used(mount: &v1::PlateMount, view: &v1::PlateView) -> f64 {
    let pairs = mount.parts.iter().zip(&view.stresses);
    let shares = pairs.filter(|(p, _)| p.yield_mpa > 0.0).map(|(p, s)| s.largest_mpa / p.yield_mpa);
    largest(shares)
}

/// Every wall in the case that stresses it most, that nearest to its yield strength first.
fn stresses(mount: &v1::PlateMount, units: Units) -> Vec<PartStress> {
    let mut out: Vec<(f64, PartStress)> = Vec::new();
    for (index, part) in mount.parts.iter().enumerate() {
        let of = |v: &v1::PlateView| {
            v.stresses.get(index).map(|s| s.largest_mpa).filter(|s| s.is_finite())
        };
        let told = mount.views.iter().filter_map(|v| Some((of(v)?, v.case_name.as_str())));
        let Some((largest, case)) = told.max_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
        let name = match part.wall.as_str() {
            "" => component(&part.name),
            wall => format!("{}, {wall}", component(&part.name)),
        };
        out.push((
            largest / part.yield_mpa,
            PartStress {
                name: capital(&name),
                thickness: with_unit(&numbers::size(part.thickness_mm, units), units.unit("mm")),
                strength: numbers::quantity(part.yield_mpa, "MPa", units),
                largest: numbers::quantity(largest, "MPa", units),
                case: case.to_owned(),
            },
        ));
    }
    out.sort_by(|a, b| b.0.total_cmp(&a.0));
    out.into_iter().map(|(_, told)| told).collect()
}

fn facing(facing: &v1::PlateFacing, units: Units) -> Facing {
    let sides: Vec<String> = facing.name.split(" | ").map(component).collect();
    let opening = match units {
        Units::Si => fixed(facing.opening_mm, 3),
        Units::Us => fixed(units.value(facing.opening_mm, "mm"), 4),
    };
    Facing {
        name: capital(&sides.join(" on ")),
        case: facing.case_name.clone(),
        pressed: percent(facing.pressed_share),
        opening: with_unit(&opening, units.unit("mm")),
        force: with_unit(&numbers::force(facing.pressing_n, units), numbers::force_unit(units)),
    }
}

fn hardpoint_of(told: &v1::HardpointStiffness, units: Units) -> Hardpoint {
    let stiffness = |n_per_mm: f64| match units {
        Units::Si => with_unit(&fixed(n_per_mm / 1e3, 2), "kN/mm"),
        Units::Us => with_unit(&fixed(units.value(n_per_mm, "N/mm"), 0), units.unit("N/mm")),
    };
    let share = match told.rounds {
        ..=0 => "The frame level takes the hardpoint as rigid.".to_owned(),
        n => format!(
            "Against a rigid hardpoint the forces of this mount change by {} at most. Frame and \
             plates agreed after {n} {}; the last changed them by {}.",
            percent(told.share_change),
            if n == 1 { "round" } else { "rounds" },
            percent(told.last_change)
        ),
    };
    Hardpoint {
        stiffness: vec![
            ("forward (x)", stiffness(told.move_x_n_per_mm)),
            ("sideways (y)", stiffness(told.move_y_n_per_mm)),
            ("upright (z)", stiffness(told.move_z_n_per_mm)),
        ],
        share,
    }
}

fn size(size: &v1::PlateModelSize) -> String {
    let count = |n: i32| numbers::grouped(&n.to_string());
    let angle = |deg: f64| with_unit(&fixed(deg, 0), "°");
    format!(
        "{} elements with {} unknowns, angles {} to {}. From the coarser mesh with {} unknowns to \
         this one a governing figure changes by {} at most. Largest imbalance of a cut: {} of the \
         load.",
        count(size.elements),
        count(size.unknowns),
        angle(size.least_angle_deg),
        angle(size.largest_angle_deg),
        count(size.coarse_unknowns),
        percent(size.largest_mesh_change),
        power_of_ten(size.largest_imbalance, 1)
    )
}

/// A share in hundredths, one decimal where it is small.
pub(crate) fn percent(share: f64) -> String {
    let hundredths = 100.0 * share;
    let number = match hundredths.abs() {
        s if s >= 10.0 => fixed(hundredths, 0),
        s if s >= 0.1 => fixed(hundredths, 1),
        _ => short(hundredths),
    };
    with_unit(&number, "%")
}

/// Hand statics and plates side by side, as a row tells them.
#[derive(Debug)]
pub(crate) struct Opinions {
    pub(crate) hand: String,
    pub(crate) plates: String,
    pub(crate) ratio: String,
    /// Which of them is taken: "hand" or "plates"; empty where not said.
    pub(crate) taken: &'static str,
    /// Sentences beside the numbers.
    pub(crate) told: Vec<String>,
    /// How the plate level's number was formed; in a table its first words are enough.
    pub(crate) how: String,
    pub(crate) how_in_short: String,
}

/// The two opinions of a row, where it has them.
pub(crate) fn opinions(row: &v1::Row) -> Option<Opinions> {
    let two = row.second_opinion.as_ref()?;
    let number = |value: Option<f64>, case: &str| {
        let value = crate::state::finite(value);
        let text = value
            .map_or_else(|| numbers::NOT_FOUND.to_owned(), |u| numbers::utilisation(u, u > 1.0));
        if case.is_empty() || value.is_none() { text } else { format!("{text}, {case}") }
    };
    let mut told = Vec::new();
    let mut tell = |head: &str, text: &str| {
        if !text.trim().is_empty() {
            told.push(format!("{head}{}", quoted(text.trim())));
        }
    };
    tell("Likely reason: ", &two.reason);
    tell("Not judged by plates: ", &two.not_judged_reason);
    tell("The milder one is taken: ", &two.why_taken);
    if let Some(change) = crate::state::finite(two.mesh_change) {
        told.push(format!("From the coarser to the finer mesh: {} change", percent(change)));
    }
    Some(Opinions {
        hand: number(two.hand_utilisation, &two.hand_case_name),
        plates: number(two.plate_utilisation, &two.plate_case_name),
        ratio: crate::state::finite(two.ratio).map_or_else(String::new, |r| fixed(r, 2)),
        taken: match two.taken() {
            v1::Opinion::Hand => "hand",
            v1::Opinion::Plate => "plates",
            v1::Opinion::Unspecified => "",
        },
        told,
        how_in_short: quoted(two.how.split(';').next().unwrap_or_default().trim()),
        how: quoted(two.how.trim()),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::van::{request, response};

    #[test]
    fn a_share_keeps_a_digit_that_tells() {
        let shown = [0.64, 0.034, 0.0004, 0.0, 1.26].map(percent);
        assert_eq!(shown, ["64\u{A0}%", "3.4\u{A0}%", "0.04\u{A0}%", "0\u{A0}%", "126\u{A0}%"]);
    }

    #[test]
    fn two_opinions_stand_side_by_side_and_what_is_missing_is_a_dash() {
        let row = |two| v1::Row { second_opinion: Some(two), ..v1::Row::default() };
        let both = v1::SecondOpinion {
            hand_utilisation: Some(0.52),
            hand_case_name: "K1".to_owned(),
            plate_utilisation: Some(1.04),
            plate_case_name: "P1".to_owned(),
            ratio: Some(2.0),
            reason: "the wall gives".to_owned(),
            taken: v1::Opinion::Plate.into(),
            mesh_change: Some(0.061),
            how: "yields; one thickness away".to_owned(),
            ..v1::SecondOpinion::default()
        };
        let shown = opinions(&row(both)).unwrap();
        assert_eq!([&*shown.hand, &*shown.plates, &*shown.ratio], ["0.52, K1", "1.04, P1", "2.00"]);
        assert_eq!(shown.taken, "plates");
        let how = ["yields", "yields; one thickness away"];
        assert_eq!([&*shown.how_in_short, &*shown.how], how);
        assert!(shown.told.iter().any(|t| t == "Likely reason: the wall gives"));
        assert!(shown.told.iter().any(|t| t.contains("6.1\u{A0}%")));
        let one = v1::SecondOpinion {
            hand_utilisation: Some(0.52),
            plate_utilisation: Some(f64::NAN),
            plate_case_name: "P1".to_owned(),
            not_judged_reason: "no plate there".to_owned(),
            ..v1::SecondOpinion::default()
        };
        let shown = opinions(&row(one)).unwrap();
        assert_eq!([&*shown.hand, &*shown.plates, &*shown.ratio], ["0.52", "–", ""]);
        assert_eq!(shown.taken, "");
        assert_eq!(shown.told, ["Not judged by plates: no plate there"]);
        assert!(opinions(&v1::Row::default()).is_none());
    }

    #[test]
    fn a_hardpoint_that_was_not_fed_back_says_so() {
        let told = |rounds| {
            let hardpoint = v1::HardpointStiffness {
                move_x_n_per_mm: 9_200.0,
                rounds,
                share_change: 0.072,
                ..v1::HardpointStiffness::default()
            };
            hardpoint_of(&hardpoint, Units::Si)
        };
        assert_eq!(told(0).share, "The frame level takes the hardpoint as rigid.");
        assert!(told(1).share.contains("7.2\u{A0}% at most") && told(1).share.contains("1 round;"));
        assert_eq!(told(1).stiffness[0].1, "9.20\u{A0}kN/mm");
    }

    #[test]
    fn what_was_not_solved_gives_its_reason_and_nothing_else() {
        let (request, mut response) = (request(), response());
        let reason = "the bracket floats";
        response.plate_mounts[0].not_solved_reason = reason.to_owned();
        let shown = mounts(Given::new(&request, &response));
        assert_eq!(shown[0].not_solved, "The bracket floats");
        assert!(shown[0].open && shown[0].pictures.is_empty() && shown[0].further.is_empty());
        assert!(shown[0].hardpoint.is_none() && shown[0].size.is_none());
        assert!(shown[0].stresses.is_empty());
    }

    #[test]
    fn every_wall_is_told_in_its_worst_case_the_most_used_first() {
        let (request, mut response) = (request(), response());
        let mount = &mut response.plate_mounts[0];
        mount.views[0].stresses.iter_mut().for_each(|s| s.largest_mpa = 100.0);
        mount.views[1].stresses.iter_mut().for_each(|s| s.largest_mpa = 50.0);
        // By hand: 188 of 235 MPa are 0.8; the others use 100 of 210, 0.48, or of 235, 0.43.
        mount.views[1].stresses[5].largest_mpa = 188.0;
        let walls = mount.parts.len();
        let shown = mounts(Given::new(&request, &response));
        let told = &shown[0].stresses;
        assert_eq!(told.len(), walls);
        assert_eq!((&*told[0].name, &*told[0].case), ("Front bracket, left, front side", "K1"));
        assert_eq!([&*told[0].largest, &*told[0].strength], ["188\u{A0}MPa", "235\u{A0}MPa"]);
        assert_eq!((&*told[1].name, &*told[1].case), ("Rail frame, left, web", "P1"));
    }

    #[test]
    fn of_a_long_mesh_only_what_is_near_the_mount_is_shown_large() {
        let (request, mut response) = (request(), response());
        let given = Given::new(&request, &response);
        let mesh = |mount: &v1::PlateMount| Mesh::of(mount).unwrap();
        let mount = &response.plate_mounts[0];
        let near = close_ups(given, mount, &mesh(mount));
        assert!(near.len() == 1 && near[0].0.is_empty());
        // Twice as long, the rail alone goes on beyond what is near.
        for node in &mut response.plate_mounts[0].nodes {
            node.x_mm = 330.0 + 2.0 * (node.x_mm - 330.0);
        }
        let mount = &response.plate_mounts[0];
        let given = Given::new(&request, &response);
        let near = close_ups(given, mount, &mesh(mount));
        assert_eq!(near.len(), 1);
        let (place, near) = &near[0];
        assert_eq!(place, " Near the front left mount.");
        let bounds = near.bounds(&near.nodes);
        assert!(bounds.low[0] >= 330.0 - NEAR && bounds.high[0] <= 330.0 + NEAR);
        assert!(mounts(given)[0].pictures.len() > 5);
    }

    #[test]
    fn the_case_that_uses_most_comes_first_and_the_others_unfold() {
        let (request, mut response) = (request(), response());
        response.plate_mounts[0].views.reverse();
        let shown = mounts(Given::new(&request, &response));
        assert!(shown[0].pictures[0].picture.remark.starts_with("P1, "));
        assert!(shown[0].further.iter().all(|t| t.picture.remark.starts_with("K1, ")));
        assert_eq!(shown[0].further.len(), 2);
    }
}
