//! Loads: the case that is shown, the case table, forces and moments in numbers, ways of load.

use fishplate_proto::v1;

use crate::given::{Given, in_words, tyre_force};
use crate::names::{capital, component, other_side, quoted};
use crate::numbers::{self, force_in_table, moment_in_table};
use crate::state::{State, finite};
use crate::svg::geometry::{Space, largest, length};
use crate::svg::marks::badge;
use crate::svg::solids::position;
use crate::units::Units;
use crate::views::matrix::{mini, reference};

/// A load case.
#[derive(Debug)]
pub(crate) struct Case {
    pub(crate) name: String,
    pub(crate) title: String,
    pub(crate) chosen: bool,
    pub(crate) remark: String,
    /// The mount that is pushed hardest, and how.
    pub(crate) hardest: Option<(String, String, String)>,
    pub(crate) cells: Vec<Cell>,
    pub(crate) forces: Vec<Force>,
    pub(crate) sum: Vec<String>,
    pub(crate) incoming: Vec<(String, Vec<String>)>,
    pub(crate) assumptions: Vec<String>,
}

/// A mount in a case.
#[derive(Debug)]
pub(crate) struct Cell {
    pub(crate) arrows: String,
    pub(crate) number: String,
    pub(crate) badge: String,
    pub(crate) word: &'static str,
    pub(crate) class: &'static str,
}

/// Forces of a mount as text: x, y, z, in all.
#[derive(Debug)]
pub(crate) struct Force {
    pub(crate) mount: String,
    pub(crate) numbers: Vec<String>,
    pub(crate) stop: bool,
}

/// Wrench table of one interface.
#[derive(Debug)]
pub(crate) struct Interface {
    pub(crate) name: String,
    pub(crate) mount: String,
    pub(crate) joints: String,
    pub(crate) about: String,
    pub(crate) assumption: String,
    /// Case, then three forces and three moments.
    pub(crate) rows: Vec<(String, bool, Vec<String>)>,
}

/// By which steel the load of a mount gets home.
#[derive(Debug)]
pub(crate) struct Walk {
    pub(crate) mount: String,
    pub(crate) stations: Vec<String>,
    pub(crate) closed: bool,
}

/// The cases in their order.
pub(crate) fn cases(given: Given<'_>) -> Vec<Case> {
    let response = given.response;
    let components = response
        .cases
        .iter()
        .flat_map(|c| &c.mount_forces)
        .flat_map(|f| [f.force_x_n.hypot(f.force_y_n), f.force_z_n.abs()]);
    let reference = reference(largest(components));
    response
        .cases
        .iter()
        .enumerate()
        .map(|(index, case)| one(given, index, case, reference))
        .collect()
}

/// The force that the longest small arrow stands for.
pub(crate) fn arrow_reference(given: Given<'_>) -> String {
    let forces = given.response.cases.iter().flat_map(|c| &c.mount_forces);
    let components = forces.flat_map(|f| [f.force_x_n.hypot(f.force_y_n), f.force_z_n.abs()]);
    let force = reference(largest(components));
    match given.units {
        Units::Si => format!("{}\u{A0}kN", numbers::fixed(force / 1e3, 1)),
        Units::Us => format!("{}\u{A0}lbf", numbers::force(force, Units::Us)),
    }
}

fn one(given: Given<'_>, index: usize, case: &v1::CaseAnswer, reference: f64) -> Case {
    let mounts = &given.response.mounts;
    let force_of = |m: &v1::MountAnswer| Given::force(case, &m.id);
    let hardest = mounts
        .iter()
        .filter_map(|m| Some((m, force_of(m)?)))
        .max_by(|a, b| length(a.1).total_cmp(&length(b.1)))
        .map(|(mount, force)| {
            let left = mount.at.as_ref().is_none_or(|at| at.y_mm >= 0.0);
            let what: &str = if mount.carries.is_empty() { "cradle" } else { &mount.carries };
            (mount.name.clone(), what.to_owned(), in_words(force, left, given.units))
        });
    let sum = case
        .mount_forces
        .iter()
        .fold([0.0; 3], |s, f| [s[0] + f.force_x_n, s[1] + f.force_y_n, s[2] + f.force_z_n]);
    let kind = match case.class() {
        v1::CaseClass::Normal => "everyday",
        v1::CaseClass::Abuse => "rare",
        v1::CaseClass::Restraint => "restraint",
        v1::CaseClass::Unspecified => "",
    };
    let mut remarks: Vec<String> = Vec::new();
    if !kind.is_empty() {
        remarks.push(kind.to_owned());
    }
    if case.load_factor > 0.0 {
        let factor = numbers::short(case.load_factor);
        remarks.push(format!("strength is checked with {factor} times these loads"));
    }
    if case.mirrored {
        remarks.push("mirror image of a case in the project".to_owned());
    }
    Case {
        name: case.name.clone(),
        title: case.title.clone(),
        chosen: given.is_chosen(case),
        remark: capital(&remarks.join("; ")),
        hardest,
        cells: mounts.iter().map(|m| cell(given, index, case, m, reference)).collect(),
        forces: case
            .mount_forces
            .iter()
            .map(|f| Force {
                mount: f.mount_id.clone(),
                numbers: force_text([f.force_x_n, f.force_y_n, f.force_z_n], given.units),
                stop: f.stop_closed,
            })
            .collect(),
        sum: sum.map(|n| force_in_table(n, given.units)).to_vec(),
        incoming: incoming(given, case),
        assumptions: case.assumptions.iter().map(|a| quoted(a)).collect(),
    }
}

/// The highest utilisation of a mount in a case; its word comes from the row where it governs.
fn cell(
    given: Given<'_>,
    index: usize,
    case: &v1::CaseAnswer,
    mount: &v1::MountAnswer,
    reference: f64,
) -> Cell {
    let checked = given.rows_of(&mount.id).any(|r| State::of(r) != State::NotChecked);
    let utilisation = finite(mount.utilisation_by_case.get(index).copied()).filter(|_| checked);
    let state = utilisation.map_or(State::NotChecked, |u| {
        let governs = given.rows_of(&mount.id).find(|row| {
            let own = row.utilisation_by_case.get(index);
            row.case_name == case.name && own.is_some_and(|o| o.to_bits() == u.to_bits())
        });
        governs.map_or_else(|| State::of_number(u), State::of)
    });
    Cell {
        arrows: mini(Given::force(case, &mount.id), reference, given.units),
        number: utilisation.map_or_else(
            || numbers::NOT_FOUND.to_owned(),
            |u| numbers::utilisation(u, state == State::Exceeds),
        ),
        badge: badge(state),
        word: state.word(),
        class: state.class(),
    }
}

fn force_text(force: Space, units: Units) -> Vec<String> {
    let mut out = force.map(|n| force_in_table(n, units)).to_vec();
    out.push(force_in_table(length(force), units));
    out
}

/// What pushes on the cradle, and on each cargo.
fn incoming(given: Given<'_>, case: &v1::CaseAnswer) -> Vec<(String, Vec<String>)> {
    let mut out = Vec::new();
    for (name, tyre) in
        [("road on left tyre", &case.tyre_left), ("road on right tyre", &case.tyre_right)]
    {
        if let Some(tyre) = tyre {
            out.push((name.to_owned(), force_text(tyre_force(tyre), given.units)));
        }
    }
    if given.spring_seats().is_some() {
        for (name, force) in
            [("left spring", case.spring_left_n), ("right spring", case.spring_right_n)]
        {
            out.push((name.to_owned(), force_text([0.0, 0.0, -force], given.units)));
        }
    }
    if let Some(force) = given.body_force(case) {
        out.push((
            "weight, inertia, and jack, eye or straps where the case has them".to_owned(),
            force_text(force, given.units),
        ));
    }
    for own in &case.cargo_forces {
        let force = [own.force_x_n, own.force_y_n, own.force_z_n];
        out.push((format!("weight and inertia of {}", own.cargo), force_text(force, given.units)));
    }
    out
}

/// The wrench on the rail side of every interface.
pub(crate) fn interfaces(given: Given<'_>) -> Vec<Interface> {
    let response = given.response;
    response
        .interfaces
        .iter()
        .map(|interface| Interface {
            name: interface.name.clone(),
            mount: mount_of(given, interface),
            joints: interface.joints.iter().map(|j| component(j)).collect::<Vec<_>>().join("; "),
            about: interface.about.as_ref().map_or_else(
                || numbers::NOT_FOUND.to_owned(),
                |p| numbers::position(position(p), given.units),
            ),
            assumption: interface.assumption.clone(),
            rows: response
                .cases
                .iter()
                .zip(&interface.wrenches)
                .map(|(case, w)| {
                    let force = |n| force_in_table(n, given.units);
                    let moment = |n| moment_in_table(n, given.units);
                    let mut row = [w.force_x_n, w.force_y_n, w.force_z_n].map(force).to_vec();
                    row.extend([w.moment_x_nmm, w.moment_y_nmm, w.moment_z_nmm].map(moment));
                    (case.name.clone(), given.is_chosen(case), row)
                })
                .collect(),
        })
        .collect()
}

/// The mount of an interface on its own side of the car: what both sides carry together may be
/// told under the mount of one of them.
fn mount_of(given: Given<'_>, interface: &v1::InterfaceAnswer) -> String {
    let mounts = &given.response.mounts;
    let own = mounts.iter().find(|m| m.id == interface.mount_id);
    let side = ["left", "right"].into_iter().find(|s| interface.name.ends_with(s));
    let other = own.zip(side).filter(|(m, side)| !m.name.ends_with(side)).and_then(|(m, _)| {
        let name = other_side(&m.name);
        mounts.iter().find(|other| other.name == name)
    });
    other.or(own).map_or_else(|| interface.mount_id.clone(), |m| m.id.clone())
}

/// The car as weighed and loaded, in one line.
pub(crate) fn car(car: &v1::CarAnswer, units: Units) -> String {
    let decimals = if units == Units::Si { 0 } else { 1 };
    let place =
        |mm| numbers::with_unit(&numbers::fixed(units.value(mm, "mm"), decimals), units.unit("mm"));
    let mass = numbers::fixed(units.value(car.mass_kg, "kg"), 0);
    let force = |n| numbers::with_unit(&force_in_table(n, units), units.unit("N"));
    let side = if car.cg_left_mm < 0.0 { "right" } else { "left" };
    let cross = finite(car.cross_weight)
        .map_or_else(String::new, |c| format!("; cross weight {}", numbers::fixed(c, 3)));
    format!(
        "{}; centre of gravity {} ahead of the rear axle, {} {side} of the middle, {} up; front \
         axle {}, rear axle {}{cross}.",
        numbers::with_unit(&mass, units.unit("kg")),
        place(car.cg_ahead_mm),
        place(car.cg_left_mm.abs()),
        place(car.cg_height_mm),
        force(car.front_axle_n),
        force(car.rear_axle_n)
    )
}

/// The ways of load.
pub(crate) fn walks(given: Given<'_>) -> Vec<Walk> {
    given
        .response
        .walks
        .iter()
        .map(|walk| Walk {
            mount: walk.mount_id.clone(),
            stations: walk
                .stations
                .iter()
                .map(|station| {
                    let pieces: Vec<String> =
                        station.split('|').map(|s| component(s.trim())).collect();
                    pieces.join(" on ")
                })
                .collect(),
            closed: walk.r#loop,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn given_cell(row_state: v1::State, utilisation: f64) -> Cell {
        let row = v1::Row {
            mount_id: "FL".to_owned(),
            case_name: "P1".to_owned(),
            state: row_state.into(),
            utilisation: Some(utilisation),
            utilisation_by_case: vec![utilisation],
            ..v1::Row::default()
        };
        let mount = v1::MountAnswer {
            id: "FL".to_owned(),
            utilisation_by_case: vec![utilisation],
            ..v1::MountAnswer::default()
        };
        let case = v1::CaseAnswer { name: "P1".to_owned(), ..v1::CaseAnswer::default() };
        let response = v1::CheckProjectResponse {
            rows: vec![row],
            mounts: vec![mount.clone()],
            cases: vec![case.clone()],
            ..v1::CheckProjectResponse::default()
        };
        let request = v1::CheckProjectRequest::default();
        cell(Given::new(&request, &response), 0, &case, &mount, 7500.0)
    }

    #[test]
    fn the_word_of_a_cell_is_that_of_its_governing_row() {
        assert_eq!(given_cell(v1::State::Holds, 1.0 + 1e-12).word, "holds");
        assert_eq!(given_cell(v1::State::Exceeds, 1.2).word, "exceeds");
    }

    #[test]
    fn an_interface_is_told_at_the_mount_of_its_side() {
        let mount = |id: &str, name: &str| v1::MountAnswer {
            id: id.to_owned(),
            name: name.to_owned(),
            ..v1::MountAnswer::default()
        };
        let interface = |name: &str| v1::InterfaceAnswer {
            name: name.to_owned(),
            mount_id: "RL".to_owned(),
            ..v1::InterfaceAnswer::default()
        };
        let response = v1::CheckProjectResponse {
            mounts: vec![mount("RL", "rear left"), mount("RR", "rear right")],
            interfaces: ["cross | end left", "cross | end right", "cross"].map(interface).to_vec(),
            ..v1::CheckProjectResponse::default()
        };
        let request = v1::CheckProjectRequest::default();
        let shown = interfaces(Given::new(&request, &response));
        let at: Vec<&str> = shown.iter().map(|i| i.mount.as_str()).collect();
        assert_eq!(at, ["RL", "RR", "RL"]);
    }

    #[test]
    fn a_mount_without_a_checked_row_is_not_checked() {
        let cell = given_cell(v1::State::NotChecked, 0.0);
        assert_eq!((cell.word, cell.number.as_str()), ("not checked", "–"));
    }
}
