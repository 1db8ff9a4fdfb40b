//! One check of a draft, at the door. All faults are collected; behind the door nothing is
//! checked again.

mod loads;

use crate::frame::{FrameModel, MemberLine};
use crate::model::{
    Beam, BeamSection, FrameDraft, LinkId, Material, NodeId, Orientation, Release, Restraint,
    SpringAction,
};
use crate::vector::{Vec3, add, dot, exceeds, norm, sub};
use fishplate_quantity::Fault;
use std::collections::BTreeMap;

/// Faults with the few sentences they are made of.
#[derive(Debug, Default)]
pub(crate) struct Findings {
    pub(crate) faults: Vec<Fault>,
}

impl Findings {
    pub(crate) fn add(&mut self, path: String, given: impl ToString, allowed: &str, advice: &str) {
        self.faults.push(Fault::new(path, given.to_string(), allowed, advice));
    }

    pub(crate) fn finite(&mut self, path: String, value: f64) -> bool {
        let usable = value.abs() <= LARGEST;
        if !usable {
            self.add(path, value, "a finite number up to 1e24", "check the number and its unit");
        }
        usable
    }

    pub(crate) fn finite_all(&mut self, path: &str, values: &[f64]) -> bool {
        let mut usable = true;
        for (i, &value) in values.iter().enumerate() {
            usable &= self.finite(format!("{path}[{i}]"), value);
        }
        usable
    }

    pub(crate) fn positive(&mut self, path: String, value: f64) -> bool {
        let usable = is_positive(value);
        if !usable {
            self.add(path, value, POSITIVE, "check the number and its unit");
        }
        usable
    }

    pub(crate) fn not_negative(&mut self, path: String, value: f64) -> bool {
        let usable = is_not_negative(value);
        if !usable {
            self.add(path, value, NOT_NEGATIVE, "check the number and its unit");
        }
        usable
    }

    /// Whether the list has an entry of this number.
    pub(crate) fn exists(&mut self, path: String, index: usize, count: usize, what: &str) -> bool {
        if index >= count {
            let allowed = if count == 0 {
                format!("there is no {what}")
            } else {
                format!("0 to {} ({count} {what}s)", count - 1)
            };
            self.add(path, index, &allowed, "refer to an entry that exists");
        }
        index < count
    }

    /// Rows of unit length, square to each other, right-handed.
    fn axes(&mut self, path: String, axes: &[[f64; 3]; 3]) {
        let [x, y, z] = *axes;
        let units = [x, y, z].iter().all(|&v| (norm(v) - 1.0).abs() <= AXES);
        let square = [dot(x, y), dot(y, z), dot(z, x)].iter().all(|d| d.abs() <= AXES);
        let right_handed = dot(crate::vector::cross(x, y), z) > 0.0;
        if !(units && square && right_handed) {
            self.add(
                path,
                format!("{axes:?}"),
                "three unit vectors square to each other, right-handed",
                "give the rows of a rotation matrix, to nine digits or better",
            );
        }
    }
}

/// Beyond this, products of several numbers overflow; no real structure comes near.
const LARGEST: f64 = 1e24;
/// Range of [`is_positive`] in words.
pub(crate) const POSITIVE: &str = "a number above 0 (1e-24 to 1e24)";
/// Range of [`is_not_negative`] in words.
pub(crate) const NOT_NEGATIVE: &str = "0 or a number above 0 (up to 1e24)";

/// Whether a size that can't be 0 may be this.
pub(crate) fn is_positive(value: f64) -> bool {
    (1.0 / LARGEST..=LARGEST).contains(&value)
}

/// Whether a size may be this.
pub(crate) fn is_not_negative(value: f64) -> bool {
    (0.0..=LARGEST).contains(&value)
}

/// How far axes may be from a rotation.
const AXES: f64 = 1e-9;

pub(crate) fn validate(draft: FrameDraft) -> Result<FrameModel, Vec<Fault>> {
    validate_part(draft, &[])
}

/// Checks the frame within a larger structure; `loaded[i]` says whether case i has loads outside
/// of the frame.
pub(crate) fn validate_part(
    mut draft: FrameDraft,
    loaded: &[bool],
) -> Result<FrameModel, Vec<Fault>> {
    let mut found = Findings::default();
    nodes(&mut found, &draft);
    for (i, section) in draft.sections.iter().enumerate() {
        check_section(&mut found, &format!("sections[{i}]"), section);
    }
    for (i, material) in draft.materials.iter().enumerate() {
        check_material(&mut found, &format!("materials[{i}]"), material);
    }
    let extent = largest_coordinate(&draft);
    let lines: Vec<Option<MemberLine>> = draft
        .beams
        .iter()
        .enumerate()
        .map(|(i, beam)| check_beam(&mut found, &format!("beams[{i}]"), &draft, extent, beam))
        .collect();
    springs(&mut found, &draft);
    masses(&mut found, &draft);
    supports(&mut found, &draft);
    let link_order = links(&mut found, &draft);
    loads::check(&mut found, &draft, &lines, loaded);
    if !found.faults.is_empty() {
        return Err(found.faults);
    }
    // Axes within the tolerance are made exact, so that turning forces changes none of them.
    for spring in &mut draft.springs {
        spring.axes = squared(spring.axes);
    }
    for support in &mut draft.supports {
        support.axes = squared(support.axes);
    }
    Ok(FrameModel { draft, lines: lines.into_iter().flatten().collect(), link_order })
}

/// The rotation nearest to rows that are nearly one (Gram and Schmidt).
fn squared([x, y, _]: [[f64; 3]; 3]) -> [[f64; 3]; 3] {
    let unit = |v: Vec3| crate::vector::scale(1.0 / norm(v), v);
    let x = unit(x);
    let y = unit(sub(y, crate::vector::scale(dot(x, y), x)));
    [x, y, crate::vector::cross(x, y)]
}

fn nodes(found: &mut Findings, draft: &FrameDraft) {
    if draft.nodes.is_empty() {
        found.add("nodes".to_owned(), "none", "at least one node", "describe the frame");
    }
    for (i, node) in draft.nodes.iter().enumerate() {
        found.finite_all(&format!("nodes[{i}].position"), &node.position);
    }
}

fn check_section(found: &mut Findings, path: &str, section: &BeamSection) {
    let BeamSection {
        area,
        i_y,
        i_z,
        i_yz,
        torsion_constant,
        shear_area_y,
        shear_area_z,
        shear_centre_y,
        shear_centre_z,
        stress_points,
        torsion_modulus,
    } = section;
    found.positive(format!("{path}.area"), *area);
    let both = found.positive(format!("{path}.i_y"), *i_y)
        & found.positive(format!("{path}.i_z"), *i_z)
        & found.finite(format!("{path}.i_yz"), *i_yz);
    if both && exceeds(i_yz * i_yz, i_y * i_z * (1.0 - 1e-12)) {
        found.add(
            format!("{path}.i_yz"),
            i_yz,
            "less in size than the square root of i_y i_z",
            "check the product of inertia: integral of y z over the area",
        );
    }
    found.positive(format!("{path}.torsion_constant"), *torsion_constant);
    for (name, area) in [("shear_area_y", shear_area_y), ("shear_area_z", shear_area_z)] {
        if let Some(area) = area {
            found.positive(format!("{path}.{name}"), *area);
        }
    }
    found.finite(format!("{path}.shear_centre_y"), *shear_centre_y);
    found.finite(format!("{path}.shear_centre_z"), *shear_centre_z);
    for (i, point) in stress_points.iter().enumerate() {
        found.finite(format!("{path}.stress_points[{i}].y"), point.y);
        found.finite(format!("{path}.stress_points[{i}].z"), point.z);
    }
    if let Some(modulus) = torsion_modulus {
        found.positive(format!("{path}.torsion_modulus"), *modulus);
    }
}

fn check_material(found: &mut Findings, path: &str, material: &Material) {
    let Material { youngs_modulus, shear_modulus, density, thermal_expansion } = material;
    found.positive(format!("{path}.youngs_modulus"), *youngs_modulus);
    found.positive(format!("{path}.shear_modulus"), *shear_modulus);
    found.not_negative(format!("{path}.density"), *density);
    found.finite(format!("{path}.thermal_expansion"), *thermal_expansion);
}

/// `extent`: largest coordinate of all nodes, m.
fn check_beam(
    found: &mut Findings,
    path: &str,
    draft: &FrameDraft,
    extent: f64,
    beam: &Beam,
) -> Option<MemberLine> {
    let Beam {
        start,
        end,
        section,
        material,
        orientation,
        offset_start,
        offset_end,
        releases_start,
        releases_end,
    } = beam;
    let count = draft.nodes.len();
    let exist = found.exists(format!("{path}.start"), start.0, count, "node")
        & found.exists(format!("{path}.end"), end.0, count, "node");
    found.exists(format!("{path}.section"), section.0, draft.sections.len(), "section");
    found.exists(format!("{path}.material"), material.0, draft.materials.len(), "material");
    let arms = found.finite_all(&format!("{path}.offset_start"), offset_start)
        & found.finite_all(&format!("{path}.offset_end"), offset_end);
    for (name, releases) in [("releases_start", releases_start), ("releases_end", releases_end)] {
        for (i, release) in releases.iter().enumerate() {
            if let Release::Spring(stiffness) = release {
                found.positive(format!("{path}.{name}[{i}]"), *stiffness);
            }
        }
    }
    let turned = match orientation {
        Orientation::ZTowards(v) => found.finite_all(&format!("{path}.orientation"), v),
        Orientation::Roll(angle) => found.finite(format!("{path}.orientation"), *angle),
    };
    if !(exist && arms && turned) {
        return None;
    }
    if start == end {
        found.add(
            format!("{path}.end"),
            end.0,
            "another node than the start",
            "a member joins two nodes",
        );
        return None;
    }
    let from = add(draft.nodes[start.0].position, *offset_start);
    let to = add(draft.nodes[end.0].position, *offset_end);
    let length = norm(sub(to, from));
    // Shorter than this, rounding of the coordinates is a visible part of the length.
    if !(length > 1e-9 * extent && length > 1e-9) {
        found.add(
            format!("{path}.end"),
            format!("a flexible length of {length} m"),
            "a flexible length above 0 (and above 1e-9 of the model)",
            "move the nodes apart, shorten the offsets, or use a rigid link",
        );
        return None;
    }
    let (far, apart) = (
        along_nodes(draft, beam, sub(to, from)),
        along_nodes(draft, beam, sub(draft.nodes[end.0].position, draft.nodes[start.0].position)),
    );
    if far < -1e-9 * apart {
        let [by_start, by_end] =
            [along_nodes(draft, beam, *offset_start), -along_nodes(draft, beam, *offset_end)];
        let (name, by) =
            if by_start >= by_end { ("offset_start", by_start) } else { ("offset_end", by_end) };
        found.add(
            format!("{path}.{name}"),
            format!("{by} m along the member"),
            &format!("offsets that together stay below the {apart} m between its nodes"),
            "longer ones turn the member round: exchange its nodes, or shorten the offsets",
        );
        return None;
    }
    let line = MemberLine::new(from, to, *orientation);
    if line.is_none() {
        found.add(
            format!("{path}.orientation"),
            match orientation {
                Orientation::ZTowards([x, y, z]) => format!("({x}, {y}, {z})"),
                Orientation::Roll(angle) => format!("a roll of {angle} rad"),
            },
            "a direction that doesn't run along the member",
            "give a direction that stands across the member",
        );
    }
    line
}

/// Part of `v` along the line from the start node to the end node, m; 0 where they coincide.
fn along_nodes(draft: &FrameDraft, beam: &Beam, v: Vec3) -> f64 {
    let apart = sub(draft.nodes[beam.end.0].position, draft.nodes[beam.start.0].position);
    let length = norm(apart);
    if length > 0.0 { dot(v, apart) / length } else { 0.0 }
}

fn largest_coordinate(draft: &FrameDraft) -> f64 {
    let all: Vec<f64> = draft.nodes.iter().flat_map(|n| n.position).collect();
    crate::vector::largest(&all)
}

fn springs(found: &mut Findings, draft: &FrameDraft) {
    for (i, spring) in draft.springs.iter().enumerate() {
        let path = format!("springs[{i}]");
        found.exists(format!("{path}.a"), spring.a.0, draft.nodes.len(), "node");
        if let Some(b) = spring.b {
            found.exists(format!("{path}.b"), b.0, draft.nodes.len(), "node");
            if b == spring.a {
                found.add(
                    format!("{path}.b"),
                    b.0,
                    "another node than `a`, or none for the ground",
                    "a spring joins two nodes or a node and the ground",
                );
            }
        }
        found.axes(format!("{path}.axes"), &spring.axes);
        found.finite_all(&format!("{path}.preset"), &spring.preset);
        for (k, &stiffness) in spring.stiffness.iter().enumerate() {
            found.not_negative(format!("{path}.stiffness[{k}]"), stiffness);
        }
        for (k, action) in spring.behaviour.iter().enumerate() {
            let at = format!("{path}.behaviour[{k}]");
            match *action {
                SpringAction::Linear => {}
                SpringAction::CompressionOnly { gap } | SpringAction::TensionOnly { gap } => {
                    found.not_negative(format!("{at}.gap"), gap);
                }
                SpringAction::Stops { gap_negative, gap_positive, stiffness } => {
                    found.not_negative(format!("{at}.gap_negative"), gap_negative);
                    found.not_negative(format!("{at}.gap_positive"), gap_positive);
                    found.positive(format!("{at}.stiffness"), stiffness);
                }
            }
        }
    }
}

fn masses(found: &mut Findings, draft: &FrameDraft) {
    for (i, mass) in draft.masses.iter().enumerate() {
        let path = format!("masses[{i}]");
        found.exists(format!("{path}.node"), mass.node.0, draft.nodes.len(), "node");
        found.not_negative(format!("{path}.mass"), mass.mass);
        let mut usable = true;
        for (k, &inertia) in mass.inertia.iter().enumerate() {
            let at = format!("{path}.inertia[{k}]");
            usable &=
                if k < 3 { found.not_negative(at, inertia) } else { found.finite(at, inertia) };
        }
        let [a, b, c, ab, bc, ac] = mass.inertia;
        // Principal minors of a matrix that no rotation makes negative.
        let slack = 1e-12 * (a + b + c) * (a + b + c);
        let sound =
            a * b - ab * ab >= -slack && b * c - bc * bc >= -slack && a * c - ac * ac >= -slack;
        if usable && !sound {
            found.add(
                format!("{path}.inertia"),
                format!("{:?}", mass.inertia),
                "products whose square is at most the product of their two moments",
                "check the order: xx, yy, zz, xy, yz, xz",
            );
        }
    }
}

fn supports(found: &mut Findings, draft: &FrameDraft) {
    let mut first: BTreeMap<NodeId, usize> = BTreeMap::new();
    for (i, support) in draft.supports.iter().enumerate() {
        let path = format!("supports[{i}]");
        found.exists(format!("{path}.node"), support.node.0, draft.nodes.len(), "node");
        found.axes(format!("{path}.axes"), &support.axes);
        if let Some(other) = first.insert(support.node, i) {
            found.add(
                format!("{path}.node"),
                support.node.0,
                "one support a node",
                &format!("join it with supports[{other}]"),
            );
        }
        if support.dofs.iter().all(|d| *d == Restraint::Free) {
            found.add(
                format!("{path}.dofs"),
                "all free",
                "at least one restrained movement",
                "restrain one or leave the support out",
            );
        }
    }
}

/// Checks the links and puts masters before their slaves.
fn links(found: &mut Findings, draft: &FrameDraft) -> Vec<LinkId> {
    let before = found.faults.len();
    let mut link_of: BTreeMap<NodeId, usize> = BTreeMap::new();
    for (i, link) in draft.rigid_links.iter().enumerate() {
        let path = format!("rigid_links[{i}]");
        found.exists(format!("{path}.master"), link.master.0, draft.nodes.len(), "node");
        found.exists(format!("{path}.slave"), link.slave.0, draft.nodes.len(), "node");
        if link.master == link.slave {
            found.add(
                format!("{path}.slave"),
                link.slave.0,
                "another node than the master",
                "a link joins two nodes",
            );
        }
        if !link.dofs.contains(&true) {
            found.add(
                format!("{path}.dofs"),
                "none",
                "at least one linked movement",
                "link one or leave the link out",
            );
        }
        if let Some(other) = link_of.insert(link.slave, i) {
            found.add(
                format!("{path}.slave"),
                link.slave.0,
                "a node that follows no other master",
                &format!(
                    "node {} follows node {} already by rigid_links[{other}]",
                    link.slave.0, draft.rigid_links[other].master.0
                ),
            );
        }
    }
    if found.faults.len() > before {
        return Vec::new();
    }
    let mut order = Vec::with_capacity(draft.rigid_links.len());
    let mut placed = vec![false; draft.rigid_links.len()];
    // Links of the chain that is climbed: those left from earlier chains are placed.
    let mut climbed = vec![false; draft.rigid_links.len()];
    for i in 0..draft.rigid_links.len() {
        // Climbs to the top of the chain, then places it downwards.
        let mut chain = Vec::new();
        let mut at = Some(i);
        while let Some(link) = at {
            if placed[link] {
                break;
            }
            if climbed[link] {
                let names: Vec<String> = chain
                    .iter()
                    .map(|&l: &usize| draft.rigid_links[l].slave.0.to_string())
                    .collect();
                found.add(
                    format!("rigid_links[{i}]"),
                    format!("a ring through the nodes {}", names.join(", ")),
                    "chains that end at a node that follows no other",
                    "take one link out of the ring",
                );
                return Vec::new();
            }
            climbed[link] = true;
            chain.push(link);
            at = link_of.get(&draft.rigid_links[link].master).copied();
        }
        for link in chain.into_iter().rev() {
            placed[link] = true;
            order.push(LinkId(link));
        }
    }
    order
}
