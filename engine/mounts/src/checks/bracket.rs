//! A folded bracket where it meets the face it stands on.

use fishplate_quantity::Provenance;
use fishplate_solver::group::Wrench;
use fishplate_strength::clause::input::StressPointInput;
use fishplate_strength::clause::{Applicability, NotChecked};
use fishplate_strength::section::{Channel, SectionForces, SectionProperties, SectionShape};

use super::fatigue::PointRange;
use super::{Draft, InCase, Setting, plates};
use crate::answer::Tale;
use crate::describe::FoldOpening;
use crate::design::{Body, Form, Vec3};
use crate::load_path::Interface;

/// The root section of a folded U: the floor is the web of a channel, the walls its flanges.
struct Root {
    properties: SectionProperties,
    /// Car axis across the walls (the section's z) and its unit, car axis up (the section's y).
    along: usize,
    /// Sign that turns the section's +y into up.
    up: f64,
    /// Axis and sign away from the face.
    normal: (usize, f64),
    /// Centroid at the face, m.
    centroid: Vec3,
    /// Area of the two walls and of the floor, m².
    walls: f64,
    floor: f64,
}

fn root(body: &Body) -> Result<Root, String> {
    let Form::Folded { normal, thickness: t, along, foot_along, foot_up, open, on, .. } =
        &body.form
    else {
        return Err(format!("{} is no folded U", body.name));
    };
    let (width, height) = (foot_along.1 - foot_along.0, foot_up.1 - foot_up.0);
    let channel = Channel::new(width, height, *t, *t, 0.0, 0.0).map_err(|e| e.to_string())?;
    let properties = SectionShape::from(channel).properties();
    let (up, back) = match open {
        FoldOpening::Up => (1.0, foot_up.0),
        FoldOpening::Down => (-1.0, foot_up.1),
    };
    let mut centroid = Vec3::zeros();
    centroid[normal.axis] = on.level;
    centroid[*along] = (foot_along.0 + foot_along.1) / 2.0;
    centroid[2] = back + up * properties.centroid_y;
    Ok(Root {
        along: *along,
        up,
        normal: (normal.axis, normal.sign()),
        centroid,
        walls: 2.0 * (height - t) * t,
        floor: width * t,
        properties,
    })
}

/// The rows of a folded bracket at its root.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    let body = setting.design.body(interface.near);
    if !matches!(body.form, Form::Folded { .. }) {
        return;
    }
    let root = match root(body) {
        Ok(root) => std::rc::Rc::new(root),
        Err(why) => {
            out.push(Draft::not_checked(
                Some(mount),
                body.name.clone(),
                ("bracket where it meets the rail", "bracket: bending at the rail"),
                why,
            ));
            return;
        }
    };
    let reach = lever(&setting, interface, &root);
    let inputs = {
        let root = root.clone();
        move |warping: bool, case: InCase| -> Result<Vec<StressPointInput>, NotChecked> {
            let wrenches =
                setting.carried.across(setting.design, setting.forces, interface, case.place, true);
            Ok(wrenches
                .into_iter()
                .flat_map(|(_, w)| {
                    let w = w.moved_to(root.centroid);
                    points(&setting, body, &root, (w.force, w.moment), reach, warping, case)
                })
                .collect())
        }
    };
    for clause in setting.pack.stress_points {
        let main = inputs.clone();
        let other = inputs.clone();
        let mut draft = Draft::by(&setting, *clause, move |case| main(true, case))
            .of(Some(mount), body.name.clone())
            .called(
                format!("{} where it meets the rail: {}", body.base, clause.title()),
                "bracket: bending at the rail",
            )
            .at(interface)
            .told(Tale::new(
                format!("{} yields where it meets the rail", body.base),
                "the bracket folds and the mount drops",
                "a wider foot, thicker plate, gussets from floor to rail",
            ))
            .or_by(
                &setting,
                *clause,
                (
                    "all torsion free to warp (Saint-Venant)",
                    "a short bracket welded at both walls is held against warping; a thin wall \
                     holds it less, so a wide gap between the two is for the plate level",
                ),
                move |case| other(false, case),
            )
            .note("whole U just off the weld; gussets beside it are not counted")
            .seconded(plates::second(
                &setting,
                interface,
                vec![(interface.near, None)],
                "load path through another part: gussets beside the bracket carry, and its plates \
                 yield through their thickness later than at a face",
            ));
        if let Ok(list) = inputs(true, InCase::untold(0))
            && let Some(Applicability::OutsideScope(reason)) =
                list.first().map(|input| clause.applies(input))
        {
            draft.outside = Some(reason);
        }
        out.push(draft);
    }
}

/// Plate thickness of a folded bracket, and the stress ranges at the points of its root under the
/// range of a wrench; nothing where the mount's side of the interface is no folded bracket.
///
/// Torsion is taken by warping where it bends the walls, and freely where it shears them.
pub(super) fn root_ranges<'a>(
    setting: &Setting<'a>,
    interface: &'a Interface,
) -> Option<(f64, impl Fn(&Wrench) -> Vec<PointRange> + 'a)> {
    let body = setting.design.body(interface.near);
    let Form::Folded { thickness, .. } = &body.form else { return None };
    let root = root(body).ok()?;
    let reach = lever(setting, interface, &root);
    let setting = *setting;
    let ranges = move |range: &Wrench| {
        let at_root = range.moved_to(root.centroid);
        let load = (at_root.force, at_root.moment);
        let twisted = points(&setting, body, &root, load, reach, false, InCase::untold(0));
        let warped = points(&setting, body, &root, load, reach, true, InCase::untold(0));
        let p = &root.properties;
        p.points
            .iter()
            .zip(twisted.iter().zip(&warped))
            .map(|(point, (twisted, warped))| {
                let forces = SectionForces {
                    n: warped.n_ed,
                    m_y: warped.m_x,
                    m_z: -warped.m_y,
                    bimoment: 0.0,
                };
                let bimoment = warped.t_ed.unwrap_or(0.0) * reach;
                let warping = (bimoment * point.omega / p.warping_constant).abs();
                let plain = p.bending_stress(&forces, point.y, point.z).abs();
                PointRange { normal: plain + warping, shear: twisted.tau_ed }
            })
            .collect()
    };
    Some((*thickness, ranges))
}

/// Distance of the load from the face, m.
fn lever(setting: &Setting<'_>, interface: &Interface, root: &Root) -> f64 {
    let mount = &setting.design.mounts[interface.mount];
    ((mount.at[root.normal.0] - root.centroid[root.normal.0]) * root.normal.1).abs()
}

/// Stress points of the root under a wrench at its centroid.
fn points(
    setting: &Setting<'_>,
    body: &Body,
    root: &Root,
    (force, moment): (Vec3, Vec3),
    reach: f64,
    warping: bool,
    case: InCase,
) -> Vec<StressPointInput> {
    let p = &root.properties;
    let (n_axis, n_sign) = root.normal;
    // Section axes in the car: sy up or down, sz along the rail; the normal points off the face.
    let mut n = Vec3::zeros();
    n[n_axis] = n_sign;
    let mut sy = Vec3::zeros();
    sy[2] = root.up;
    let mut sz = Vec3::zeros();
    sz[root.along] = 1.0;
    // The load on the bracket side acts on the cut whose outward normal looks at the face.
    let pull = force.dot(&n);
    // Normal stress σ = N/A + a·y + b·z with ∫σ y dA and ∫σ z dA the moments of the load.
    let arm = |r: &Vec3| -moment.dot(&n.cross(r));
    let (m_pull_y, m_pull_z) = (arm(&sy), arm(&sz));
    let shear_y = force.dot(&sy);
    let shear_z = force.dot(&sz);
    // Torque about the shear centre.
    let centre = sy * p.shear_centre.y + sz * p.shear_centre.z;
    let torque = (moment - centre.cross(&force)).dot(&n);
    let tau_shear = shear_y.abs() / root.walls + shear_z.abs() / root.floor;
    let tau = if warping { tau_shear } else { tau_shear + torque.abs() / p.torsion.modulus };
    p.points
        .iter()
        .map(|point| {
            let origins = setting
                .solved(case, || format!("{}, at its root", body.name))
                .with("a", || Provenance::Geometry(body.name.clone()))
                .with("i_x", || Provenance::Geometry(body.name.clone()))
                .with("i_y", || Provenance::Geometry(body.name.clone()))
                .with("i_xy", || Provenance::Geometry(body.name.clone()))
                .with("i_t", || Provenance::Geometry(body.name.clone()))
                .with("i_w", || Provenance::Geometry(body.name.clone()))
                .with("omega", || Provenance::Geometry(point.name.clone()))
                .with("x", || Provenance::Geometry(point.name.clone()))
                .with("y", || Provenance::Geometry(point.name.clone()))
                .with("l_t", || Provenance::Geometry("load to root".to_owned()))
                .with("f_y", || setting.steel(body, "fy"));
            StressPointInput {
                n_ed: pull,
                // x of the clause is the section's y, its y the section's z.
                m_x: m_pull_z,
                m_y: m_pull_y,
                a: p.area,
                i_x: p.i_y,
                i_y: p.i_z,
                i_xy: p.i_yz,
                x: point.y,
                y: point.z,
                tau_ed: tau,
                f_y: body.steel.fy,
                t_ed: warping.then_some(torque),
                l_t: warping.then_some(reach),
                i_t: warping.then_some(p.torsion.constant),
                i_w: warping.then_some(p.warping_constant),
                omega: warping.then_some(point.omega),
                f_n_a: None,
                f_n_x: None,
                f_n_y: None,
                origins,
            }
        })
        .collect()
}
