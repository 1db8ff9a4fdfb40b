//! References and numbers of what joins plates.

use super::model::{Bearing, Bolt, Contact, Onto, PlateDraft, Ring, Seam, Spot, Spread};
use crate::validate::Findings;
use crate::vector::{Vec3, dot, norm, sub};
use std::collections::BTreeSet;

/// How far a unit vector may be from unit length, and square directions from square.
const DIRECTION: f64 = 1e-6;

pub(super) fn check(found: &mut Findings, draft: &PlateDraft) {
    for (i, seam) in draft.seams.iter().enumerate() {
        check_seam(found, &format!("seams[{i}]"), draft, seam);
    }
    for (i, spot) in draft.spots.iter().enumerate() {
        check_spot(found, &format!("spots[{i}]"), draft, spot);
    }
    for (i, bolt) in draft.bolts.iter().enumerate() {
        check_bolt(found, &format!("bolts[{i}]"), draft, bolt);
    }
    for (i, contact) in draft.contacts.iter().enumerate() {
        check_contact(found, &format!("contacts[{i}]"), draft, contact);
    }
    let corners: BTreeSet<usize> = match draft.spreads.as_slice() {
        [] => BTreeSet::new(),
        _ => {
            let elements = draft.plates.iter().flat_map(|p| &p.elements);
            elements.flat_map(|e| e.nodes()).map(|n| n.0).collect()
        }
    };
    for (i, spread) in draft.spreads.iter().enumerate() {
        check_spread(found, &format!("spreads[{i}]"), draft, &corners, spread);
    }
}

fn plate(found: &mut Findings, path: String, draft: &PlateDraft, id: super::model::PlateId) {
    found.exists(path, id.0, draft.plates.len(), "plate");
}

fn unit(found: &mut Findings, path: String, direction: Vec3) -> bool {
    let usable = (norm(direction) - 1.0).abs() <= DIRECTION;
    if !usable {
        let [x, y, z] = direction;
        found.add(
            path,
            format!("({x}, {y}, {z})"),
            "a vector of length 1",
            "divide the direction by its length",
        );
    }
    usable
}

fn check_seam(found: &mut Findings, path: &str, draft: &PlateDraft, seam: &Seam) {
    let Seam { name, edge, onto, path: corners, leg_on, leg_up } = seam;
    plate(found, format!("{path}.edge"), draft, *edge);
    plate(found, format!("{path}.onto"), draft, *onto);
    let mut usable = true;
    for (k, corner) in corners.iter().enumerate() {
        usable &= found.finite_all(&format!("{path}.path[{k}]"), corner);
    }
    if corners.len() < 2 {
        found.add(
            format!("{path}.path"),
            format!("{} point(s) for seam `{name}`", corners.len()),
            "two points or more",
            "give the corners of the run from its start to its end",
        );
        usable = false;
    }
    let legs = unit(found, format!("{path}.leg_on"), *leg_on)
        & unit(found, format!("{path}.leg_up"), *leg_up);
    if !(usable && legs) {
        return;
    }
    for (k, pair) in corners.windows(2).enumerate() {
        let along = sub(pair[1], pair[0]);
        let length = norm(along);
        if length < 1e-9 {
            found.add(
                format!("{path}.path[{}]", k + 1),
                format!("a run of {length} m in seam `{name}`"),
                "corners at least 1e-9 m apart",
                "leave out the point that is there twice",
            );
            continue;
        }
        for (field, leg) in [("leg_on", leg_on), ("leg_up", leg_up)] {
            if dot(*leg, along).abs() > DIRECTION * length {
                found.add(
                    format!("{path}.{field}"),
                    format!("a direction that is not square to piece {k} of seam `{name}`"),
                    "a direction square to the run",
                    "split the seam where the run bends out of the plane square to its legs",
                );
            }
        }
    }
}

fn check_spot(found: &mut Findings, path: &str, draft: &PlateDraft, spot: &Spot) {
    let Spot { name, plates, centre, diameter } = spot;
    for (k, id) in plates.iter().enumerate() {
        plate(found, format!("{path}.plates[{k}]"), draft, *id);
    }
    if plates[0] == plates[1] {
        found.add(
            format!("{path}.plates"),
            format!("plate {} twice for spot `{name}`", plates[0].0),
            "two plates",
            "name the other plate",
        );
    }
    found.finite_all(&format!("{path}.centre"), centre);
    found.positive(format!("{path}.diameter"), *diameter);
}

fn check_bolt(found: &mut Findings, path: &str, draft: &PlateDraft, bolt: &Bolt) {
    let Bolt {
        name: _,
        head,
        nut,
        through,
        material,
        diameter,
        tensile_area,
        head_bearing,
        nut_bearing,
        hole,
        preload,
        bearing,
    } = bolt;
    found.finite_all(&format!("{path}.head"), head);
    found.finite_all(&format!("{path}.nut"), nut);
    for (k, id) in through.iter().enumerate() {
        plate(found, format!("{path}.through[{k}]"), draft, *id);
    }
    let materials = draft.frame.materials.len();
    found.exists(format!("{path}.material"), material.0, materials, "material");
    for (field, value) in [
        ("diameter", diameter),
        ("tensile_area", tensile_area),
        ("head_bearing", head_bearing),
        ("nut_bearing", nut_bearing),
        ("hole", hole),
    ] {
        found.positive(format!("{path}.{field}"), *value);
    }
    found.not_negative(format!("{path}.preload"), *preload);
    if let Bearing::Clearance(clearance) = bearing {
        found.not_negative(format!("{path}.bearing"), *clearance);
    }
}

fn check_contact(found: &mut Findings, path: &str, draft: &PlateDraft, contact: &Contact) {
    let Contact { name: _, of, onto, within, gap, stiffness, bridged, friction, spacing } = contact;
    plate(found, format!("{path}.of"), draft, *of);
    match onto {
        Onto::Plate(id) => plate(found, format!("{path}.onto"), draft, *id),
        Onto::Ground { point, normal } => {
            found.finite_all(&format!("{path}.onto.point"), point);
            unit(found, format!("{path}.onto.normal"), *normal);
        }
    }
    if let Some(Ring { centre, axis, inside, outside }) = within {
        found.finite_all(&format!("{path}.within.centre"), centre);
        unit(found, format!("{path}.within.axis"), *axis);
        let sizes = found.not_negative(format!("{path}.within.inside"), *inside)
            & found.positive(format!("{path}.within.outside"), *outside);
        if sizes && inside >= outside {
            found.add(
                format!("{path}.within.inside"),
                inside,
                "less than the outer diameter",
                "exchange the two diameters",
            );
        }
    }
    found.finite(format!("{path}.gap"), *gap);
    if let Some(stiffness) = stiffness {
        found.positive(format!("{path}.stiffness"), *stiffness);
    }
    found.not_negative(format!("{path}.bridged"), *bridged);
    found.not_negative(format!("{path}.spacing"), *spacing);
    if let Some(friction) = friction {
        found.not_negative(format!("{path}.friction"), *friction);
    }
}

fn check_spread(
    found: &mut Findings,
    path: &str,
    draft: &PlateDraft,
    corners: &BTreeSet<usize>,
    spread: &Spread,
) {
    let Spread { name, node, area, kind: _ } = spread;
    let count = draft.frame.nodes.len();
    let given = found.exists(format!("{path}.node"), node.0, count, "node");
    if given && corners.contains(&node.0) {
        found.add(
            format!("{path}.node"),
            format!("node {} for spread `{name}`", node.0),
            "a node that is no corner of an element",
            "add a node of its own",
        );
    }
    for (k, corner) in area.iter().enumerate() {
        let at = format!("{path}.area[{k}]");
        if found.exists(at.clone(), corner.0, count, "node") && !corners.contains(&corner.0) {
            found.add(
                at,
                format!("node {} for spread `{name}`", corner.0),
                "a corner of an element",
                "name corners of the elements that make up the area",
            );
        }
    }
    if area.is_empty() {
        found.add(
            format!("{path}.area"),
            format!("no nodes for spread `{name}`"),
            "at least one node",
            "name the corners of the elements that make up the area",
        );
    }
}
