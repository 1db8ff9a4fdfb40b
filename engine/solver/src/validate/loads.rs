//! Checks of the load cases.

use super::Findings;
use crate::frame::MemberLine;
use crate::model::{
    BeamId, BeamPointLoad, Dof, FrameDraft, LineLoad, LoadCase, LoadPoint, NodalLoad, NodeId,
    Prescribed, Restraint, Span, ThermalLoad,
};
use std::collections::BTreeSet;

pub(super) fn check(
    found: &mut Findings,
    draft: &FrameDraft,
    lines: &[Option<MemberLine>],
    loaded: &[bool],
) {
    let preset = draft.springs.iter().any(|spring| spring.preset.iter().any(|p| p.abs() > 0.0));
    let restrained = restrained(draft);
    for (i, case) in draft.load_cases.iter().enumerate() {
        let path = format!("load_cases[{i}]");
        if is_empty(case) && !preset && !loaded.get(i).is_some_and(|&l| l) {
            found.add(
                path.clone(),
                "no load",
                "at least one load, prescribed movement or acceleration",
                "add a load or leave the case out",
            );
        }
        for (k, load) in case.nodal.iter().enumerate() {
            nodal(found, &format!("{path}.nodal[{k}]"), draft, load);
        }
        for (k, load) in case.line.iter().enumerate() {
            line(found, &format!("{path}.line[{k}]"), lines, load);
        }
        for (k, load) in case.point.iter().enumerate() {
            point(found, &format!("{path}.point[{k}]"), lines, load);
        }
        for (k, load) in case.thermal.iter().enumerate() {
            let at = format!("{path}.thermal[{k}]");
            let ThermalLoad { beam, uniform, gradient_y, gradient_z } = load;
            found.exists(format!("{at}.beam"), beam.0, lines.len(), "beam");
            found.finite(format!("{at}.uniform"), *uniform);
            found.finite(format!("{at}.gradient_y"), *gradient_y);
            found.finite(format!("{at}.gradient_z"), *gradient_z);
        }
        let mut given = BTreeSet::new();
        for (k, movement) in case.prescribed.iter().enumerate() {
            let at = format!("{path}.prescribed[{k}]");
            prescribed(found, &at, draft, &restrained, movement);
            if !given.insert((movement.node, movement.dof)) {
                found.add(
                    format!("{at}.dof"),
                    movement.dof.words(),
                    "each movement of a node once",
                    "keep one of the two",
                );
            }
        }
        found.finite_all(&format!("{path}.acceleration"), &case.acceleration);
    }
}

fn is_empty(case: &LoadCase) -> bool {
    let LoadCase { name: _, nodal, line, point, thermal, prescribed, acceleration } = case;
    nodal.is_empty()
        && line.is_empty()
        && point.is_empty()
        && thermal.is_empty()
        && prescribed.is_empty()
        && acceleration.iter().all(|a| a.abs() <= 0.0)
}

fn nodal(found: &mut Findings, path: &str, draft: &FrameDraft, load: &NodalLoad) {
    let NodalLoad { node, force, moment } = load;
    found.exists(format!("{path}.node"), node.0, draft.nodes.len(), "node");
    found.finite_all(&format!("{path}.force"), force);
    found.finite_all(&format!("{path}.moment"), moment);
}

fn line(found: &mut Findings, path: &str, lines: &[Option<MemberLine>], load: &LineLoad) {
    let LineLoad { beam, span, axes: _, acts_at, force_from, force_to, moment_from, moment_to } =
        load;
    let length = length_of(found, path, lines, *beam);
    point_of_section(found, path, *acts_at);
    found.finite_all(&format!("{path}.force_from"), force_from);
    found.finite_all(&format!("{path}.force_to"), force_to);
    found.finite_all(&format!("{path}.moment_from"), moment_from);
    found.finite_all(&format!("{path}.moment_to"), moment_to);
    if let (Span::Between(from, to), Some(length)) = (*span, length) {
        // Negated so that NaN is refused too.
        if !(from >= 0.0 && from < to && to <= length * (1.0 + ROUNDING)) {
            found.add(
                format!("{path}.span"),
                format!("{from} to {to} m"),
                &format!("a beginning from 0, an end after it and up to {length} m"),
                "distances run from the start of the flexible length",
            );
        }
    }
}

fn point(found: &mut Findings, path: &str, lines: &[Option<MemberLine>], load: &BeamPointLoad) {
    let BeamPointLoad { beam, at, axes: _, acts_at, force, moment } = load;
    let length = length_of(found, path, lines, *beam);
    point_of_section(found, path, *acts_at);
    found.finite_all(&format!("{path}.force"), force);
    found.finite_all(&format!("{path}.moment"), moment);
    if let Some(length) = length
        && !(*at >= 0.0 && *at <= length * (1.0 + ROUNDING))
    {
        found.add(
            format!("{path}.at"),
            format!("{at} m"),
            &format!("0 to {length} m"),
            "distances run from the start of the flexible length",
        );
    }
}

/// A distance may exceed the length by this part of it: it was computed, and rounded.
const ROUNDING: f64 = 1e-9;

fn length_of(
    found: &mut Findings,
    path: &str,
    lines: &[Option<MemberLine>],
    beam: BeamId,
) -> Option<f64> {
    let exists = found.exists(format!("{path}.beam"), beam.0, lines.len(), "beam");
    if exists { lines[beam.0].map(|line| line.length) } else { None }
}

fn point_of_section(found: &mut Findings, path: &str, point: LoadPoint) {
    if let LoadPoint::At(y, z) = point {
        found.finite_all(&format!("{path}.acts_at"), &[y, z]);
    }
}

/// The movements that a support restrains.
fn restrained(draft: &FrameDraft) -> BTreeSet<(NodeId, Dof)> {
    let all = draft.supports.iter().flat_map(|s| Dof::ALL.map(|dof| (s, dof)));
    all.filter(|(s, dof)| s.dofs[dof.index()] != Restraint::Free)
        .map(|(s, dof)| (s.node, dof))
        .collect()
}

fn prescribed(
    found: &mut Findings,
    path: &str,
    draft: &FrameDraft,
    restrained: &BTreeSet<(NodeId, Dof)>,
    movement: &Prescribed,
) {
    let Prescribed { node, dof, value } = movement;
    found.finite(format!("{path}.value"), *value);
    if !found.exists(format!("{path}.node"), node.0, draft.nodes.len(), "node") {
        return;
    }
    if !restrained.contains(&(*node, *dof)) {
        found.add(
            format!("{path}.dof"),
            dof.words(),
            "a movement that a support of the node restrains",
            "add the restraint to the support of the node, or load it with a force",
        );
    }
}
