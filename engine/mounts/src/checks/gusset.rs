//! Gussets between a bracket and the face it stands on. Their share is not determinate by
//! equilibrium: bounded from above, they take all of the force along their supported leg.

use fishplate_quantity::Provenance;
use fishplate_solver::group::Wrench;
use fishplate_strength::clause::Applicability;
use fishplate_strength::clause::NotChecked;
use fishplate_strength::clause::input::{GussetForce, GussetInput};

use super::{Draft, InCase, Setting, plates};
use crate::answer::Tale;
use crate::design::{Form, Vec3, WeldId};
use crate::load_path::Interface;

/// The rows of the gussets on the mount's side of an interface.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    let design = setting.design;
    for id in &interface.side {
        let body = design.body(*id);
        let Form::Gusset { thickness: t, at, legs, on, corner, across, .. } = &body.form else {
            continue;
        };
        let faces = [on[0].body, on[1].body];
        // One foot on each side of this cut, or it is told elsewhere.
        let near = faces.iter().position(|f| interface.side.contains(f));
        let far = faces.iter().position(|f| !interface.side.contains(f));
        let (Some(near), Some(far)) = (near, far) else { continue };
        // Leg i lies on face i: the loaded leg on the near face, the supported one on the far.
        let (loaded, support) = (legs[near], legs[far]);
        let n = f64::from(u32::try_from(at.len()).unwrap_or(1));
        let place = &design.mounts[mount].at;
        let axes = crate::design::across(*across);
        let corner_on_loaded = corner[usize::from(axes[1] == loaded.0.axis)];
        let from_corner = (place[loaded.0.axis] - corner_on_loaded).abs();
        let t = *t;
        let ask = move |case: InCase| -> Result<Vec<GussetInput>, NotChecked> {
            let wrenches =
                setting.carried.across(design, setting.forces, interface, case.place, true);
            Ok(wrenches
                .into_iter()
                .map(|(_, w)| {
                    let along = w.force[support.0.axis] * support.0.sign();
                    let origins = setting
                        .solved(case, || format!("{}: all of it on the gussets", interface.name))
                        .with("a", || Provenance::Given(format!("{}.gusset.legs", body.path)))
                        .with("b", || Provenance::Given(format!("{}.gusset.legs", body.path)))
                        .with("s", || Provenance::Geometry(body.name.clone()))
                        .with("t", || Provenance::Given(format!("{}.gusset.thickness", body.path)))
                        .with("f_y", || setting.steel(body, "fy"));
                    GussetInput {
                        f_ed: along.abs() / n,
                        b: loaded.1,
                        a: support.1,
                        s: fishplate_quantity::algebra::smaller(from_corner, loaded.1),
                        t,
                        f_y: body.steel.fy,
                        force: if along > 0.0 { GussetForce::Presses } else { GussetForce::Pulls },
                        origins,
                    }
                })
                .collect())
        };
        for clause in setting.pack.gussets {
            let main = ask;
            let mut draft = Draft::by(&setting, *clause, main)
                .of(Some(mount), body.name.clone())
                .called(
                    format!("{}: {}, taking all the force (bound)", body.base, clause.title()),
                    "gusset: strut or tie",
                )
                .at(interface)
                .told(Tale::new(
                    format!("{} gives way", body.base),
                    "the bracket loses its support",
                    "a thicker gusset or a flanged free edge",
                ))
                .note("a bound: the share of the gusset is for the plate level");
            draft = draft.seconded(plates::second(
                &setting,
                interface,
                vec![(*id, None)],
                "load path through another part: the formula sends all the force through the gusset, \
                 the bracket beside it carries its share",
            ));
            if let Ok(list) = ask(InCase::untold(0))
                && let Some(Applicability::OutsideScope(reason)) =
                    list.first().map(|input| clause.applies(input))
            {
                draft.outside = Some(reason);
            }
            out.push(draft);
        }
        for clause in setting.pack.gusset_edges {
            let main = ask;
            out.push(
                Draft::by(&setting, *clause, main)
                    .of(Some(mount), body.name.clone())
                    .called(
                        format!("{}: {}", body.base, clause.title()),
                        format!("gusset: {}", clause.short()),
                    )
                    .at(interface)
                    .without_loads(),
            );
        }
        // The weld on the loaded leg is inside the mount's side: no cut crosses it.
        let inner = design.welds.iter().enumerate().find(|(_, w)| {
            let ends = [w.of, w.to];
            ends.contains(id) && ends.contains(&faces[near]) && w.throat().is_some()
        });
        if let Some((weld, _)) = inner {
            let axis = support.0.axis;
            let wrenches = move |case: usize| {
                let loads = setting.carried.across(design, setting.forces, interface, case, true);
                loads
                    .into_iter()
                    .map(|(_, w)| {
                        let mut force = Vec3::zeros();
                        force[axis] = w.force[axis];
                        Wrench::of_force(force, *place)
                    })
                    .collect()
            };
            let words = ("taking all the force (bound)", "gusset weld: throat");
            super::weld::alone(setting, mount, WeldId(weld), words, wrenches, out);
        }
    }
}
