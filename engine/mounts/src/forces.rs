//! From the car to the force at every mount, case by case.

use fishplate_quantity::algebra::larger;
use fishplate_quantity::written::Written;
use fishplate_quantity::{Dimension, Fault, Faults, Provenance, Trace, TurningStiffness};
use fishplate_solver::group::{FreeMotion, Wrench};
use nalgebra::Matrix3;

use crate::CheckError;
use crate::answer::MountLoad;
use crate::cases::{self, Case};
use crate::cradle::{Bush, Cradle, CradleMount, Stop};
use crate::describe::{self, Loss, Place, Project, SpringSeat};
use crate::design::{Design, MountAt, Vec3};
use crate::known;
use crate::loads::weigh::{self, CgHeight, Geometry, Weighing};
use crate::loads::{self, CaseLoads, LoadInput, Seat, Vehicle};

/// The loads of all cases.
#[derive(Debug)]
pub(crate) struct Forces {
    /// The car as weighed.
    pub(crate) car: Weighing,
    /// Axle loads at rest: front and rear, N.
    pub(crate) axles: [f64; 2],
    /// Cases, in order.
    pub(crate) cases: Vec<CaseForces>,
    /// Largest imbalance of mount forces over all cases.
    pub(crate) imbalance: f64,
}

/// The loads of one case.
#[derive(Debug)]
pub(crate) struct CaseForces {
    /// The case.
    pub(crate) case: Case,
    /// Forces on the cradle system, unfactored.
    pub(crate) loads: CaseLoads,
    /// Force at each mount, unfactored.
    pub(crate) service: Vec<MountLoad>,
    /// The same for strength. Where stops or gaps make the cradle non-linear there are two sets,
    /// the factor put on the loads and on the mount forces: competent engineers differ, neither is
    /// always the safe one, so every check takes the worse.
    pub(crate) design: Vec<Vec<MountLoad>>,
}

/// Whether two projects have the same loads on the same mounts: steel, welds and bolts have no part in
/// them.
pub(crate) fn same(a: &Project, b: &Project) -> bool {
    let Project {
        title: _,
        rules,
        symmetric,
        car,
        drive,
        brakes,
        springs,
        cradle,
        cargo,
        bushes,
        mounts,
        steels: _,
        rails: _,
        parts: _,
        welds: _,
        bolts: _,
        cases,
        case_set,
        factors,
        duty: _,
        workmanship: _,
        weld_metal: _,
        opinions: _,
    } = a;
    *rules == b.rules
        && *symmetric == b.symmetric
        && *car == b.car
        && *drive == b.drive
        && *brakes == b.brakes
        && *springs == b.springs
        && *cradle == b.cradle
        && *cargo == b.cargo
        && *bushes == b.bushes
        && *mounts == b.mounts
        && *cases == b.cases
        && *case_set == b.case_set
        && *factors == b.factors
}

/// Derives the loads of all cases and puts cradle and cargo on their mounts, which are rigid where
/// they are not bushes.
pub(crate) fn derive(
    project: &Project,
    design: &Design,
    factored: bool,
    traced: bool,
) -> Result<Forces, CheckError> {
    derive_on(project, design, (factored, traced), &[])
}

/// The same on brackets that give way: movement by force at each mount of the design, m/N.
pub(crate) fn derive_on(
    project: &Project,
    design: &Design,
    (factored, traced): (bool, bool),
    flexibility: &[Matrix3<f64>],
) -> Result<Forces, CheckError> {
    let mut faults = Faults::new();
    let cases = cases::all(project, factored, &mut faults);
    let car = weighed(project, &mut faults);
    let (Some(car), true) = (car, faults.is_empty()) else {
        return Err(CheckError::Faults(faults.into_vec()));
    };
    let bodies = bodies(project, design, flexibility).map_err(CheckError::Faults)?;
    let centre = bodies[0].held.centre();
    let input = LoadInput {
        vehicle: car.vehicle.clone(),
        drive: project.drive.map(drive),
        brakes: project.brakes.map(brakes),
        springs: springs(project),
        cradle: loads::CradleSystem {
            mass: project.cradle.mass.value.si(),
            centre: point(&project.cradle.centre),
            wheel_mass: project.cradle.wheel_mass.value.si(),
        },
        cargo: project.cargo.iter().map(cargo).collect(),
        guessed: known::guessed(project),
    };
    let mut made = Vec::new();
    let mut imbalance: f64 = 0.0;
    for case in cases {
        let trace = if traced { Trace::on() } else { Trace::off() };
        let mut loads = match loads::derive(&input, &case.kind, centre, trace) {
            Ok(loads) => loads,
            Err(found) => {
                for fault in found {
                    // A fault of the car shows up in every case: once is enough.
                    let path = fault.path.replacen("case.", &format!("{}.", case.path), 1);
                    let fault = Fault { path, ..fault };
                    if !faults.iter().any(|f| *f == fault) {
                        faults.push(fault);
                    }
                }
                continue;
            }
        };
        let restrained = matches!(case.kind, loads::CaseKind::Restraint { .. });
        if !restrained && loads.tyre.left.z + loads.tyre.right.z <= 0.0 {
            loads.assumptions.push(format!(
                "case {}: the rear wheels leave the ground; what is asked is more than the car can do",
                case.name
            ));
        }
        let at = |factor: f64| on_mounts(&bodies, design, &loads, factor);
        let (service, r1) = at(1.0)?;
        let (design_loads, r2) = at(case.factor)?;
        imbalance = [r1, r2].into_iter().fold(imbalance, larger);
        share_out(design, &service, &mut loads.trace);
        let scaled = scaled(&service, case.factor);
        let design =
            if alike(&scaled, &design_loads) { vec![scaled] } else { vec![scaled, design_loads] };
        made.push(CaseForces { case, loads, service, design });
    }
    let axles = axle_loads(&car.vehicle);
    faults.or(Forces { car, axles, cases: made, imbalance }).map_err(CheckError::Faults)
}

/// A rigid body and the mounts that carry it.
struct RigidBody {
    /// What it is: `the cradle`, `cargo battery`.
    name: String,
    /// Its mounts, by place in the design.
    mounts: Vec<usize>,
    /// The body on them.
    held: Cradle,
}

/// The load of every mount of the design under the loads of a case times `factor`, and the largest
/// imbalance: every body stands on its own mounts.
fn on_mounts(
    bodies: &[RigidBody],
    design: &Design,
    loads: &CaseLoads,
    factor: f64,
) -> Result<(Vec<MountLoad>, f64), CheckError> {
    let none = MountLoad {
        force: Vec3::zeros(),
        moment: Vec3::zeros(),
        travel: Vec3::zeros(),
        stop_closed: false,
        stop_use: None,
    };
    let mut list = vec![none; design.mounts.len()];
    let mut imbalance: f64 = 0.0;
    let cargo = loads.cargo.iter().map(|own| Wrench::of_force(own.force, own.at));
    for (body, wrench) in bodies.iter().zip(std::iter::once(loads.resultant).chain(cargo)) {
        let wrench = Wrench {
            force: wrench.force * factor,
            moment: wrench.moment * factor,
            about: wrench.about,
        };
        let unsolved = |e| CheckError::Unsolved(format!("{} on its mounts: {e}", body.name));
        let answer = body.held.solve(&wrench).map_err(unsolved)?;
        let residual = larger(answer.force_residual, answer.moment_residual);
        imbalance = larger(imbalance, residual);
        for (m, place) in answer.mounts.iter().zip(&body.mounts) {
            let uses = [m.radial_stop_use, m.axial_stop_use];
            let most = uses.into_iter().flatten().reduce(larger);
            list[*place] = MountLoad {
                force: m.force_on_body,
                moment: m.moment_on_body,
                travel: answer.motion.at(design.mounts[*place].at),
                stop_closed: most.is_some_and(|u| u > 1.0),
                stop_use: most,
            };
        }
    }
    Ok((list, imbalance))
}

/// Writes down how cradle and cargo share a case between their mounts: six equations of equilibrium
/// each, with the stiffness of the bushes.
fn share_out(design: &Design, loads: &[MountLoad], trace: &mut Trace) {
    for (mount, load) in design.mounts.iter().zip(loads) {
        for (axis, (symbol, what)) in [
            ("f_x", "push of cradle or cargo on the car, forward"),
            ("f_y", "push of cradle or cargo on the car, to the left"),
            ("f_z", "push of cradle or cargo on the car, up"),
        ]
        .into_iter()
        .enumerate()
        {
            trace.input(symbol, what, Dimension::Force, load.force[axis], || {
                Provenance::Solved(format!("mount {}: rigid body on its bushes", mount.name))
            });
        }
    }
}

/// Mount loads times a factor.
fn scaled(loads: &[MountLoad], factor: f64) -> Vec<MountLoad> {
    loads
        .iter()
        .map(|l| MountLoad { force: l.force * factor, moment: l.moment * factor, ..*l })
        .collect()
}

/// Whether two sets differ by rounding only.
fn alike(a: &[MountLoad], b: &[MountLoad]) -> bool {
    let size = a.iter().map(|l| l.force.norm()).fold(1.0, larger);
    a.iter().zip(b).all(|(a, b)| (a.force - b.force).norm() < 1e-9 * size)
}

fn axle_loads(vehicle: &Vehicle) -> [f64; 2] {
    let whole = vehicle.added_masses.iter().fold(vehicle.mass, |sum, m| sum + m.mass);
    let moment = vehicle
        .added_masses
        .iter()
        .fold(vehicle.mass * vehicle.cg_ahead, |sum, m| sum + m.mass * m.at.x);
    let front = moment / vehicle.wheelbase * loads::GRAVITY;
    [front, whole * loads::GRAVITY - front]
}

fn point(place: &Place) -> Vec3 {
    Vec3::new(place.x.unwrap_or(0.0), place.y.unwrap_or(0.0), place.z.unwrap_or(0.0))
}

fn drive(d: describe::Drive) -> loads::Drive {
    loads::Drive {
        axle: d.axle,
        torque: d.torque.value.si(),
        ratio: d.ratio.value,
        efficiency: d.efficiency.value,
        grip: d.grip.value,
        rotor_inertia: d.rotor_inertia,
    }
}

fn brakes(b: describe::Brakes) -> loads::Brakes {
    loads::Brakes {
        rear_share: b.rear_share.value,
        rear_share_backwards: b.rear_share_backwards.map(|w| w.value),
        grip: b.grip.value,
        inboard: b.inboard,
    }
}

fn springs(project: &Project) -> loads::Springs {
    let s = &project.springs;
    loads::Springs {
        seat: match (s.seat_on, &s.seat) {
            (SpringSeat::Body, Some(seat)) => Seat::Body(point(seat)),
            _ => Seat::Cradle,
        },
        motion_ratio: s.motion_ratio.map_or(1.0, |w| w.value),
        link_share: 0.0,
    }
}

/// The car from whatever scales were used.
fn weighed(project: &Project, faults: &mut Faults) -> Option<Weighing> {
    let car = &project.car;
    let geometry = Geometry {
        wheelbase: car.wheelbase.value.si(),
        track_front: car.front_track.map(|w| w.value.si()),
        track_rear: car.rear_track.value.si(),
        wheel_radius: car.wheel_radius.value.si(),
    };
    let height = match (&car.lifted, car.cg_height) {
        (Some(lifted), None) => CgHeight::RearLifted {
            lift: lifted.lift.value.si(),
            front_gain: lifted.front_gain.value.si(),
        },
        (None, Some(height)) => CgHeight::Given(height.value.si()),
        (found, _) => {
            let both = found.is_some();
            faults.add(
                "car.cg_height",
                if both { "both a height and a lifted rear" } else { "nothing" },
                "the height of the centre of gravity, or `lifted`",
                "one of the two",
            );
            return None;
        }
    };
    let guessed = known::guessed(project);
    let ways = [
        car.corner_scales.is_some(),
        car.axle_scales.is_some(),
        car.mass.is_some() || car.cg_ahead.is_some(),
    ];
    if ways.iter().filter(|w| **w).count() > 1 {
        faults.add(
            "car",
            "weights given in more than one way",
            "one of: mass and cg_ahead, corner_scales, axle_scales",
            "",
        );
        return None;
    }
    let result = if let Some(s) = &car.corner_scales {
        let scales = weigh::CornerScales {
            front_left: s.front_left.value.si(),
            front_right: s.front_right.value.si(),
            rear_left: s.rear_left.value.si(),
            rear_right: s.rear_right.value.si(),
        };
        weigh::from_corner_scales(&scales, &geometry, height, &guessed, Trace::off())
    } else if let Some(s) = &car.axle_scales {
        let (front, rear) = (s.front.value.si(), s.rear.value.si());
        weigh::from_axle_scales(front, rear, &geometry, height, &guessed, Trace::off())
    } else {
        let (Some(mass), Some(ahead)) = (car.mass, car.cg_ahead) else {
            for (field, missing) in
                [("car.mass", car.mass.is_none()), ("car.cg_ahead", car.cg_ahead.is_none())]
            {
                if missing {
                    faults.add(
                        field,
                        "nothing",
                        "mass and cg_ahead, or corner_scales, or axle_scales",
                        "put the car on scales",
                    );
                }
            }
            return None;
        };
        let CgHeight::Given(cg_height) = height else {
            faults.add(
                "car.lifted",
                "a lifted rear without scales",
                "corner_scales or axle_scales beside it",
                "the gain is read from the front scales",
            );
            return None;
        };
        Ok(Weighing {
            vehicle: Vehicle {
                mass: mass.value.si(),
                wheelbase: geometry.wheelbase,
                cg_ahead: ahead.value.si(),
                cg_height,
                cg_left: 0.0,
                rear_offset: 0.0,
                track_rear: geometry.track_rear,
                track_front: geometry.track_front,
                wheel_radius: geometry.wheel_radius,
                added_masses: Vec::new(),
            },
            cross_weight: None,
            trace: Trace::off(),
        })
    };
    match result {
        Ok(mut weighing) => {
            weighing.vehicle.added_masses = car
                .added_masses
                .iter()
                .map(|m| loads::AddedMass {
                    name: m.name.clone(),
                    mass: m.mass.value.si(),
                    at: point(&m.at),
                })
                .chain(project.cargo.iter().filter(|c| !c.weighed).map(|c| loads::AddedMass {
                    name: c.name.clone(),
                    mass: c.mass.value.si(),
                    at: point(&c.centre),
                }))
                .collect();
            Some(weighing)
        }
        Err(found) => {
            faults.extend(found);
            None
        }
    }
}

/// Movements that nothing resists once what is lost does not count, each with the body that moves so.
pub(crate) fn left_free(
    project: &Project,
    design: &Design,
) -> Result<Vec<(String, FreeMotion)>, Vec<Fault>> {
    let mut list = Vec::new();
    for RigidBody { name, mounts, .. } in bodies(project, design, &[])? {
        let whole = |m: &usize| loss_of(project, &design.mounts[*m]).is_none();
        let left: Vec<usize> = mounts.iter().copied().filter(whole).collect();
        if left.len() == mounts.len() {
            continue;
        }
        let free = if left.is_empty() {
            vec![FreeMotion::Slide(Vec3::z())]
        } else {
            on_bushes(project, design, &left, &[])?.free_motions()
        };
        list.extend(free.into_iter().map(|motion| (name.clone(), motion)));
    }
    Ok(list)
}

/// What of a mount is lost, where something is.
fn loss_of(project: &Project, mount: &MountAt) -> Option<Loss> {
    let lost = project.mounts[mount.index].lost;
    lost.filter(|(side, _)| *side == mount.side).map(|(_, what)| what)
}

/// Stiffness of a bush that is lost, N/m: the least that a cradle is solved with. A movement of 10 mm
/// calls up 1 N.
const DEAD: f64 = 1e2;

/// The rigid bodies on the bushes of the design's mounts: the cradle, then every cargo.
fn bodies(
    project: &Project,
    design: &Design,
    flexibility: &[Matrix3<f64>],
) -> Result<Vec<RigidBody>, Vec<Fault>> {
    let mut faults = Faults::new();
    let mut made = Vec::new();
    let all = std::iter::once(None).chain((0..project.cargo.len()).map(Some));
    for carried in all {
        let own = |m: &usize| design.mounts[*m].carries == carried;
        let mounts: Vec<usize> = (0..design.mounts.len()).filter(own).collect();
        let name = match carried {
            None => "the cradle".to_owned(),
            Some(at) => format!("cargo {}", project.cargo[at].name),
        };
        if let (Some(at), true) = (carried, mounts.is_empty()) {
            faults.add(
                format!("cargo[{at}]"),
                format!("{name}, which no mount carries"),
                "at least three feet that are not in a line",
                format!("give its mounts carries = \"cargo.{}\"", project.cargo[at].name),
            );
            continue;
        }
        let held = match on_bushes(project, design, &mounts, flexibility) {
            Ok(held) => held,
            Err(found) => {
                faults.extend(found);
                continue;
            }
        };
        if let (Some(at), [_, ..]) = (carried, held.free_motions().as_slice()) {
            let feet: Vec<_> = mounts.iter().map(|m| design.mounts[*m].name.as_str()).collect();
            faults.add(
                format!("cargo[{at}]"),
                format!("{name} on {}, which leave it free to move", feet.join(", ")),
                "three feet that are not in a line, or bushes that are stiff against turning",
                "add a foot; or give the bush its torsional and conical stiffness",
            );
        }
        made.push(RigidBody { name, mounts, held });
    }
    faults.or(made)
}

/// A cargo as the load derivation takes it.
fn cargo(cargo: &describe::Cargo) -> loads::Cargo {
    loads::Cargo {
        name: cargo.name.clone(),
        mass: cargo.mass.value.si(),
        centre: point(&cargo.centre),
    }
}

/// A rigid body on the bushes of these mounts of the design.
fn on_bushes(
    project: &Project,
    design: &Design,
    mounts: &[usize],
    flexibility: &[Matrix3<f64>],
) -> Result<Cradle, Vec<Fault>> {
    let mounts = mounts
        .iter()
        .filter_map(|place| {
            let place = *place;
            let mount = &design.mounts[place];
            let described = &project.mounts[mount.index];
            let bush = project.bushes.iter().find(|b| b.name == described.bush)?;
            let mut axis = Vec3::zeros();
            axis[bush.axis.index()] = 1.0;
            let stop = match (bush.stop, bush.stop_rate) {
                (Some(gap), Some(rate)) => {
                    Some(Stop { gap: gap.value.si(), added_stiffness: rate.value.si() })
                }
                _ => None,
            };
            let turning = |w: Option<Written<TurningStiffness>>| w.map_or(0.0, |w| w.value.si());
            let whole = || {
                let round = Bush::round(axis, bush.radial.value.si(), bush.axial.value.si())?;
                let (torsional, conical) = (turning(bush.torsional), turning(bush.conical));
                Some(round.with_turning(torsional, conical).with_stops(stop, stop))
            };
            let round = match loss_of(project, mount) {
                None => whole()?,
                Some(Loss::Bush) => Bush::round(axis, DEAD, DEAD)?.with_stops(stop, stop),
                Some(Loss::Mount) => Bush::round(axis, DEAD, DEAD)?,
            };
            let round = flexibility.get(place).map_or(round, |c| round.on_flexible(c));
            let gap = described.fit_up_gap.map_or(0.0, |g| g.value.si());
            Some(CradleMount {
                name: mount.name.clone(),
                at: mount.at,
                bush: round,
                preset: axis * gap,
            })
        })
        .collect();
    Cradle::new(mounts)
}
