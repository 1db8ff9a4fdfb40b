//! Places where the stress of a flat model grows without end as the mesh gets finer, and how far
//! around them it does not count.

use fishplate_quantity::algebra::larger;

use super::group::Members;
use super::model::Model;
use super::net::{Fineness, near_size};
use crate::design::{Design, Form, Vec3};

/// How singular places are treated, in words.
pub(super) const TREATMENT: &str = "next to ends of welds, re-entrant corners, washers, \
    sleeves and plugs stresses are taken two plate thicknesses away, at least 6 mm, in both meshes; \
    under a bush and within a quarter of the rail's height of a section that is held plane they do not \
    count";

/// Share of a rail's height beside a section held plane.
const BESIDE_CUT: f64 = 0.25;

/// Whether the stress counts at each node of each sheet: by sheet and place among its nodes.
pub(super) fn counting(design: &Design, members: &Members, model: &Model) -> Vec<Vec<bool>> {
    // The same places in both meshes, or they could not be compared.
    let fineness = Fineness::COARSE;
    let mut rounds: Vec<Vec<([f64; 2], f64)>> = vec![Vec::new(); model.sheets.len()];
    for (s, sheet) in model.sheets.iter().enumerate() {
        let radius = near_size(sheet, fineness);
        let n = sheet.outline.len();
        for i in 0..n {
            let (a, b, c) =
                (sheet.outline[i], sheet.outline[(i + 1) % n], sheet.outline[(i + 2) % n]);
            let turn = (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]);
            if turn < 0.0 {
                rounds[s].push((b, radius));
            }
        }
    }
    for at in &model.joints.runs {
        let run = &design.welds[at.weld.0].runs[at.run];
        let along = (run.end - run.start).normalize();
        for end in [at.along.0, at.along.1] {
            for s in [at.edge, at.onto] {
                let sheet = &model.sheets[s];
                let place = sheet.plane.local(&(run.start + along * end));
                rounds[s].push((place, near_size(sheet, fineness)));
            }
        }
    }
    let mut round = |s: usize, at: &Vec3, diameter: f64| {
        let beyond = near_size(&model.sheets[s], fineness);
        rounds[s].push((model.sheets[s].plane.local(at), diameter / 2.0 + beyond));
    };
    for bolt in &model.joints.bolts {
        for s in &bolt.sheets {
            round(*s, &bolt.ends[0], bolt.bearing);
        }
    }
    for spot in &model.joints.spots {
        spot.sheets.iter().for_each(|s| round(*s, &spot.centre, spot.diameter));
    }
    for facing in &model.joints.facings {
        if let Some(bridge) = &facing.bridge {
            facing.sheets.iter().for_each(|s| round(*s, &bridge.centre, bridge.outside));
        }
    }
    for landing in &model.joints.landings {
        let place = model.sheets[landing.sheet].plane.local(&landing.centre);
        rounds[landing.sheet].push((place, 0.505 * landing.ring.1));
    }
    let mut planes: Vec<(f64, f64)> = Vec::new();
    for piece in &members.pieces {
        let Form::Rail { section, .. } = &design.body(piece.rail).form else { continue };
        let reach = BESIDE_CUT * section.height();
        for (end, goes_on) in [piece.from, piece.to].into_iter().zip(piece.goes_on) {
            if goes_on {
                planes.push((end, reach));
            }
        }
        planes.extend(super::rail::holds_inside(design, piece).iter().map(|x| (*x, reach)));
    }
    model
        .sheets
        .iter()
        .enumerate()
        .map(|(s, sheet)| {
            let cut = members.piece(sheet.body).is_some() || members.guests.contains(&sheet.body);
            let counts = |node: &usize| {
                let at = model.net.nodes[*node];
                let place = sheet.plane.local(&at);
                let away = |c: &[f64; 2]| (place[0] - c[0]).hypot(place[1] - c[1]);
                let near_cut = cut && planes.iter().any(|(x, reach)| (at.x - x).abs() < *reach);
                !near_cut && rounds[s].iter().all(|(c, r)| away(c) >= larger(*r, 0.0) * 0.999)
            };
            model.net.sheets[s].nodes.iter().map(counts).collect()
        })
        .collect()
}
