//! One check of a draft of plates, at the door.

use super::element::{BadShape, Beyond, Facet, PlateLaw};
use super::joints::Joints;
use super::model::{Acts, EdgeLoad, Element, FaceLoad, Onto, PlateDraft, PlateLoads, SpreadKind};
use super::shells::{PlateModel, Shell, along_plane, node_axes};
use super::validate_joints;
use crate::model::{Dof, Node, NodeId, Restraint, RigidLink, SpringAction};
use crate::validate::{Findings, validate_part};
use crate::vector::Vec3;
use fishplate_quantity::Fault;
use std::collections::{BTreeMap, BTreeSet};

impl PlateDraft {
    /// Checks everything once and builds the model.
    ///
    /// # Errors
    /// All faults found, each with the path of the field (`plates[1].elements[7]`; fields of
    /// [`PlateDraft::frame`] stand without a prefix), what was given, what is allowed and how to
    /// put it right.
    pub fn validate(self) -> Result<PlateModel, Vec<Fault>> {
        let mut found = Findings::default();
        if self.plates.is_empty() {
            found.add(
                "plates".to_owned(),
                "none",
                "at least one plate",
                "add a plate, or solve the structure as a frame",
            );
        }
        one_sided(&mut found, &self);
        let shells = shells(&mut found, &self);
        loads(&mut found, &self);
        validate_joints::check(&mut found, &self);
        let laws = laws(&mut found, &self);
        let finite = self.frame.nodes.iter().all(|n| n.position.iter().all(|x| x.is_finite()));
        let joints = match found.faults.is_empty() && finite {
            false => None,
            true => Joints::find(&self).map_err(|faults| found.faults.extend(faults)).ok(),
        };
        // Joints that are tightened or forced apart load every case.
        let strained = self.bolts.iter().any(|bolt| bolt.preload > 0.0)
            || self.contacts.iter().any(|contact| contact.gap < 0.0);
        let grounded =
            self.contacts.iter().map(|c| matches!(c.onto, Onto::Ground { .. })).collect();
        let PlateDraft { mut frame, plates, spreads, mut loads, .. } = self;
        let given_nodes = frame.nodes.len();
        let of_joints = joints.as_ref().map_or(&[][..], Joints::nodes);
        frame.nodes.extend(of_joints.iter().map(|&position| Node { position }));
        let given_links = frame.rigid_links.len();
        let sources = spread_links(&mut found, &mut frame.rigid_links, &spreads);
        let loaded: Vec<bool> = (0..frame.load_cases.len())
            .map(|i| {
                let on_plates =
                    loads.get(i).is_some_and(|l| !(l.faces.is_empty() && l.edges.is_empty()));
                strained || on_plates
            })
            .collect();
        let frame = match validate_part(frame, &loaded) {
            Ok(frame) => frame,
            Err(faults) => {
                found
                    .faults
                    .extend(faults.into_iter().map(|f| of_spread(f, given_links, &sources)));
                return Err(found.faults);
            }
        };
        let joints = match joints {
            Some(joints) if found.faults.is_empty() => joints,
            _ => return Err(found.faults),
        };
        loads.resize(frame.draft.load_cases.len(), PlateLoads::default());
        let mut first_shell = vec![0];
        for plate in &plates {
            first_shell.push(first_shell[first_shell.len() - 1] + plate.elements.len());
        }
        let slaves = frame.draft.rigid_links.iter().map(|link| link.slave.0);
        let axes = node_axes(frame.draft.nodes.len(), &shells, slaves);
        Ok(PlateModel {
            frame,
            given_nodes,
            given_links,
            plates,
            laws,
            shells,
            first_shell,
            axes,
            spreads,
            joints,
            grounded,
            loads,
        })
    }
}

/// One-sided supports and springs of the frame part.
fn one_sided(found: &mut Findings, draft: &PlateDraft) {
    let advice = "let the faces of plates press by a contact, or hold the movement both ways";
    for (i, support) in draft.frame.supports.iter().enumerate() {
        for dof in Dof::ALL {
            if matches!(
                support.dofs[dof.index()],
                Restraint::StopsNegative | Restraint::StopsPositive
            ) {
                let path = format!("supports[{i}].dofs[{}]", dof.index());
                found.add(path, "one-sided", "free or fixed, beside plates", advice);
            }
        }
    }
    for (i, spring) in draft.frame.springs.iter().enumerate() {
        for dof in Dof::ALL {
            if spring.behaviour[dof.index()] != SpringAction::Linear {
                let path = format!("springs[{i}].behaviour[{}]", dof.index());
                found.add(path, "one-sided", "linear, beside plates", advice);
            }
        }
    }
}

fn laws(found: &mut Findings, draft: &PlateDraft) -> Vec<PlateLaw> {
    let materials = &draft.frame.materials;
    let mut laws = Vec::with_capacity(draft.plates.len());
    for (i, plate) in draft.plates.iter().enumerate() {
        let path = format!("plates[{i}]");
        found.positive(format!("{path}.thickness"), plate.thickness);
        let material = format!("{path}.material");
        if !found.exists(material.clone(), plate.material.0, materials.len(), "material") {
            continue;
        }
        let m = &materials[plate.material.0];
        let poisson = m.youngs_modulus / (2.0 * m.shear_modulus) - 1.0;
        // A hair below 0 is rounding of E / (2 G).
        if !(-1e-9..0.5).contains(&poisson) {
            found.add(
                material,
                format!("E / (2 G) - 1 = {poisson} for plate `{}`", plate.name),
                "Poisson's ratio from 0 to below 0.5",
                "check Young's and shear modulus of the material",
            );
        }
        laws.push(PlateLaw {
            youngs: m.youngs_modulus,
            poisson: if poisson > 0.0 { poisson } else { 0.0 },
            thickness: plate.thickness,
        });
    }
    laws
}

/// The elements in their places; those at fault are left out.
fn shells(found: &mut Findings, draft: &PlateDraft) -> Vec<Shell> {
    let mut shells = Vec::new();
    let count = draft.frame.nodes.len();
    for (i, plate) in draft.plates.iter().enumerate() {
        let path = format!("plates[{i}]");
        if plate.elements.is_empty() {
            found.add(
                format!("{path}.elements"),
                format!("none in plate `{}`", plate.name),
                "at least one element",
                "mesh the plate",
            );
        }
        let first = shells.len();
        let mut ways: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        for (k, element) in plate.elements.iter().enumerate() {
            let at = format!("{path}.elements[{k}]");
            let nodes = element.nodes();
            let exist = nodes
                .iter()
                .enumerate()
                .all(|(c, node)| found.exists(format!("{at}.nodes[{c}]"), node.0, count, "node"));
            if !exist {
                continue;
            }
            let usable = nodes
                .iter()
                .all(|node| draft.frame.nodes[node.0].position.iter().all(|x| x.is_finite()));
            if usable {
                match facet(element, &|node| draft.frame.nodes[node.0].position) {
                    Ok((nodes, facet)) => shells.push(Shell { plate: i, nodes, facet }),
                    Err(bad) => bad_shape(found, &at, &plate.name, nodes, bad),
                }
            }
            for (c, node) in nodes.iter().enumerate() {
                let next = nodes[(c + 1) % nodes.len()];
                if let Some(other) = ways.insert((node.0, next.0), k) {
                    found.add(
                        at.clone(),
                        format!(
                            "runs from node {} to node {} as element {other} of plate `{}` does",
                            node.0, next.0, plate.name
                        ),
                        "neighbours that run along their common edge in opposite ways, at most \
                         two an edge",
                        "turn the corners of one of them round so that both have their top on the \
                         same side; a third leaf along an edge is another plate",
                    );
                }
            }
        }
        tell_neighbours(&mut shells[first..], &plate.elements, &ways);
    }
    shells
}

/// Tells the elements of a plate which of their sides meet an element of the other shape: `ways`
/// finds an element by the nodes from and to which a side of it runs.
fn tell_neighbours(
    shells: &mut [Shell],
    elements: &[Element],
    ways: &BTreeMap<(usize, usize), usize>,
) {
    for shell in shells {
        let corners = shell.corners();
        let count = corners.len();
        let mut beyond = [Beyond::Alike; 4];
        for (side, beyond) in beyond.iter_mut().enumerate().take(count) {
            let back = (corners[(side + 1) % count], corners[side]);
            if ways.get(&back).is_some_and(|&other| elements[other].nodes().len() != count) {
                *beyond = Beyond::Other;
            }
        }
        shell.facet = shell.facet.beside(beyond);
    }
}

fn facet(
    element: &Element,
    position: &dyn Fn(NodeId) -> Vec3,
) -> Result<([usize; 4], Facet), BadShape> {
    let (nodes, facet) = match element {
        Element::Quad(n) => (n.map(|n| n.0), Facet::quad(&n.map(position))?),
        Element::Triangle(n) => {
            ([n[0].0, n[1].0, n[2].0, n[2].0], Facet::triangle(&n.map(position))?)
        }
    };
    if !facet.is_flat() {
        return Ok((nodes, facet));
    }
    Ok((nodes, facet.turned_to(along_plane(facet.axes[2]))))
}

fn bad_shape(found: &mut Findings, at: &str, plate: &str, nodes: &[NodeId], bad: BadShape) {
    let list: Vec<String> = nodes.iter().map(|n| n.0.to_string()).collect();
    found.add(
        at.to_owned(),
        format!("plate `{plate}`, corners at the nodes {}: {bad}", list.join(", ")),
        "corners that go round a convex area, nearly in one plane",
        "mesh this place finer or with triangles",
    );
}

fn loads(found: &mut Findings, draft: &PlateDraft) {
    if draft.loads.len() > draft.frame.load_cases.len() {
        found.add(
            "loads".to_owned(),
            draft.loads.len(),
            &format!("at most one entry a load case ({})", draft.frame.load_cases.len()),
            "add the load cases or drop the loads",
        );
    }
    let mut edges = BTreeSet::new();
    if draft.loads.iter().any(|loads| !loads.edges.is_empty()) {
        for element in draft.plates.iter().flat_map(|p| &p.elements) {
            let nodes = element.nodes();
            for (c, &node) in nodes.iter().enumerate() {
                let next = nodes[(c + 1) % nodes.len()];
                edges.insert((node, next));
                edges.insert((next, node));
            }
        }
    }
    for (i, loads) in draft.loads.iter().enumerate() {
        for (k, load) in loads.faces.iter().enumerate() {
            face(found, &format!("loads[{i}].faces[{k}]"), draft, load);
        }
        for (k, load) in loads.edges.iter().enumerate() {
            let path = format!("loads[{i}].edges[{k}]");
            let EdgeLoad { nodes, from, to } = load;
            found.finite_all(&format!("{path}.from"), from);
            found.finite_all(&format!("{path}.to"), to);
            if !edges.contains(&(nodes[0], nodes[1])) {
                found.add(
                    format!("{path}.nodes"),
                    format!("{} and {}", nodes[0].0, nodes[1].0),
                    "two neighbouring corners of an element",
                    "give one load for each edge of an element along the line",
                );
            }
        }
    }
}

fn face(found: &mut Findings, path: &str, draft: &PlateDraft, load: &FaceLoad) {
    let FaceLoad { plate, elements, acts } = load;
    match acts {
        Acts::Normal(p) => {
            found.finite(format!("{path}.acts"), *p);
        }
        Acts::Global(p) => {
            found.finite_all(&format!("{path}.acts"), p);
        }
    }
    if found.exists(format!("{path}.plate"), plate.0, draft.plates.len(), "plate") {
        let count = draft.plates[plate.0].elements.len();
        for (e, &element) in elements.iter().enumerate() {
            found.exists(format!("{path}.elements[{e}]"), element, count, "element");
        }
    }
}

/// Appends a rigid link for every node of a rigid area; returns where each came from.
fn spread_links(
    found: &mut Findings,
    links: &mut Vec<RigidLink>,
    spreads: &[super::model::Spread],
) -> Vec<(usize, usize)> {
    let mut sources = Vec::new();
    let mut masters: BTreeMap<NodeId, String> = BTreeMap::new();
    for (i, spread) in spreads.iter().enumerate() {
        if spread.kind != SpreadKind::Rigid {
            continue;
        }
        for (k, &slave) in spread.area.iter().enumerate() {
            let path = format!("spreads[{i}].area[{k}]");
            if let Some(other) = masters.insert(slave, spread.name.clone()) {
                found.add(
                    path,
                    slave.0,
                    "a node that belongs to one rigid area once",
                    &format!("node {} belongs to spread `{other}` already", slave.0),
                );
                continue;
            }
            links.push(RigidLink { master: spread.node, slave, dofs: [true; 6] });
            sources.push((i, k));
        }
    }
    sources
}

/// Tells a fault of an appended link in terms of its spread.
fn of_spread(mut fault: Fault, given_links: usize, sources: &[(usize, usize)]) -> Fault {
    let place = fault.path.strip_prefix("rigid_links[").and_then(|rest| {
        let (number, field) = rest.split_once(']')?;
        let index = number.parse::<usize>().ok()?.checked_sub(given_links)?;
        Some((*sources.get(index)?, field.to_owned()))
    });
    if let Some(((spread, corner), field)) = place {
        fault.path = match field.as_str() {
            ".master" => format!("spreads[{spread}].node"),
            _ => format!("spreads[{spread}].area[{corner}]"),
        };
    }
    fault
}
