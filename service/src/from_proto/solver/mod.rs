//! `solver.proto`: a structure to the drafts of a frame and of plates, and to joint groups.

mod designs;
mod group;
mod load;
mod plates;
mod section;
mod wire_path;

use std::collections::BTreeMap;

use fishplate_proto::v1;
use fishplate_solver::FrameDraft;
use fishplate_solver::model::{
    Beam, GLOBAL_AXES, Material, MaterialId, Node, NodeId, Orientation, PointMass, Release,
    Restraint, RigidLink, SectionId, Spring, SpringAction, Support,
};

use super::{Names, Reader, direction, position};
use crate::path::Path;
use crate::units::{KG_MM2, MM, MPA, N_PER_MM, NMM};

pub(crate) use designs::{Designs, designs};
pub(crate) use group::{BedContact, BoltGroup, RunPath, WeldGroup};
pub(crate) use plates::Plates;
pub(crate) use section::{
    EN_HOLLOW, Given, SAINT_VENANT, Section, THIN_WALL, on_the_wire, shape, torsion_by,
};
pub(crate) use wire_path::{follows_from_no_number, in_names, in_wire_terms, lengths_in_mm};

/// Everything that a request asks for, in the engine's terms.
#[derive(Debug)]
pub(crate) struct Structure {
    /// The frame; no nodes where none is asked for.
    pub(crate) frame: FrameDraft,
    /// Plates, whose nodes, materials and load cases are those of the frame.
    pub(crate) plates: Plates,
    /// Names, in the order of the lists.
    pub(crate) names: StructureNames,
    /// The sections as given.
    pub(crate) sections: Vec<Section>,
    /// Fractions along members at which results are asked for, ascending.
    pub(crate) stations: Stations,
    /// Buckling, where asked for.
    pub(crate) buckling: Option<Buckling>,
    /// Natural frequencies, where asked for.
    pub(crate) frequencies: Option<Frequencies>,
    /// Bolt groups.
    pub(crate) bolt_groups: Vec<BoltGroup>,
    /// Weld groups.
    pub(crate) weld_groups: Vec<WeldGroup>,
    /// Blocks on beds.
    pub(crate) bed_contacts: Vec<BedContact>,
    /// For each load case, the field that each prescribed movement of the draft came from.
    pub(crate) prescribed: Vec<Vec<(usize, &'static str)>>,
}

/// Names of the things of a frame, each list in the order of the request.
#[derive(Debug)]
pub(crate) struct StructureNames {
    pub(crate) nodes: Vec<String>,
    pub(crate) materials: Vec<String>,
    pub(crate) beams: Vec<String>,
    pub(crate) springs: Vec<String>,
    pub(crate) links: Vec<String>,
    pub(crate) cases: Vec<String>,
    pub(crate) plates: Vec<String>,
    pub(crate) seams: Vec<String>,
    pub(crate) spots: Vec<String>,
    pub(crate) plate_bolts: Vec<String>,
    pub(crate) plate_contacts: Vec<String>,
    pub(crate) spreads: Vec<String>,
}

/// Fractions along members, ascending.
#[derive(Debug, Default)]
pub(crate) struct Stations {
    /// On every member.
    pub(crate) every: Vec<f64>,
    /// On single members, those of `every` included.
    pub(crate) single: BTreeMap<usize, Vec<f64>>,
}

/// What is asked about buckling.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Buckling {
    pub(crate) case: usize,
    pub(crate) modes: usize,
    pub(crate) elements: usize,
}

/// What is asked about natural frequencies.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frequencies {
    pub(crate) modes: usize,
    pub(crate) elements: usize,
    pub(crate) rotary_inertia: bool,
}

/// Reads a request; faults go to `reader`.
pub(crate) fn structure(reader: &mut Reader, request: v1::SolveStructureRequest) -> Structure {
    let v1::SolveStructureRequest {
        nodes,
        sections,
        materials,
        beams,
        springs,
        rigid_links,
        masses,
        supports,
        load_cases,
        stations,
        buckling,
        frequencies,
        bolt_groups,
        weld_groups,
        bed_contacts,
        plates,
        seams,
        spots,
        plate_bolts,
        plate_contacts,
        spreads,
        plate_results,
    } = request;
    let known = Known {
        nodes: Names::read(reader, "nodes", "node", nodes.iter().map(|n| n.id.as_str())),
        sections: Names::read(
            reader,
            "sections",
            "section",
            sections.iter().map(|s| s.id.as_str()),
        ),
        materials: Names::read(
            reader,
            "materials",
            "material",
            materials.iter().map(|m| m.id.as_str()),
        ),
        beams: Names::read(reader, "beams", "beam", beams.iter().map(|b| b.id.as_str())),
        cases: Names::read(
            reader,
            "load_cases",
            "load case",
            load_cases.iter().map(|c| c.id.as_str()),
        ),
        plates: Names::read(reader, "plates", "plate", plates.iter().map(|p| p.id.as_str())),
    };
    Names::read(reader, "springs", "spring", springs.iter().map(|s| s.id.as_str()));
    Names::read(reader, "rigid_links", "rigid link", rigid_links.iter().map(|l| l.id.as_str()));
    Names::read(reader, "bolt_groups", "bolt group", bolt_groups.iter().map(|g| g.id.as_str()));
    Names::read(reader, "weld_groups", "weld group", weld_groups.iter().map(|g| g.id.as_str()));
    Names::read(reader, "bed_contacts", "bed contact", bed_contacts.iter().map(|c| c.id.as_str()));
    let names = StructureNames {
        nodes: nodes.iter().map(|n| n.id.clone()).collect(),
        materials: materials.iter().map(|m| m.id.clone()).collect(),
        beams: beams.iter().map(|b| b.id.clone()).collect(),
        springs: springs.iter().map(|s| s.id.clone()).collect(),
        links: rigid_links.iter().map(|l| l.id.clone()).collect(),
        cases: load_cases.iter().map(|c| c.id.clone()).collect(),
        plates: plates.iter().map(|p| p.id.clone()).collect(),
        seams: seams.iter().map(|s| s.id.clone()).collect(),
        spots: spots.iter().map(|s| s.id.clone()).collect(),
        plate_bolts: plate_bolts.iter().map(|b| b.id.clone()).collect(),
        plate_contacts: plate_contacts.iter().map(|c| c.id.clone()).collect(),
        spreads: spreads.iter().map(|s| s.id.clone()).collect(),
    };
    let nodes: Vec<Node> = nodes
        .into_iter()
        .enumerate()
        .map(|(index, given)| {
            let v1::Node { id: _, position: at } = given;
            let path = Path::ROOT.place("nodes", index);
            let at = reader.required(&path.field("position"), at);
            // Nowhere, so that nothing is said about members that end there.
            Node { position: at.map_or([f64::NAN; 3], |at| position(Some(at))) }
        })
        .collect();
    let sections: Vec<Section> = sections
        .into_iter()
        .enumerate()
        .map(|(index, given)| section::section(reader, index, given))
        .collect();
    let beams: Vec<Beam> = beams
        .into_iter()
        .enumerate()
        .map(|(index, given)| beam(reader, &known, &nodes, index, given))
        .collect();
    let springs = springs
        .into_iter()
        .enumerate()
        .map(|(index, given)| spring(reader, &known, index, given))
        .collect();
    let rigid_links = rigid_links
        .into_iter()
        .enumerate()
        .map(|(index, given)| rigid_link(reader, &known, index, given))
        .collect();
    let masses = masses
        .into_iter()
        .enumerate()
        .map(|(index, given)| point_mass(reader, &known, index, given))
        .collect();
    let supports = supports
        .into_iter()
        .enumerate()
        .map(|(index, given)| support(reader, &known, index, given))
        .collect();
    let load::Loads { cases: load_cases, prescribed, on_plates } =
        load::load_cases(reader, &known, &lengths(&nodes, &beams), load_cases);
    let plates = plates::Lists {
        plates,
        seams,
        spots,
        bolts: plate_bolts,
        contacts: plate_contacts,
        spreads,
        asked: plate_results,
    };
    let plates = plates::plates(reader, &known, plates, on_plates);
    let stations = read_stations(reader, &known, stations);
    let buckling = buckling.map(|given| read_buckling(reader, &known, given));
    let frequencies = frequencies.map(|given| read_frequencies(reader, given));
    let bolt_groups = group::bolt_groups(reader, bolt_groups);
    let weld_groups = group::weld_groups(reader, weld_groups);
    let bed_contacts = group::bed_contacts(reader, bed_contacts);
    let frame = FrameDraft {
        nodes,
        sections: sections.iter().map(Section::for_the_frame).collect(),
        materials: materials.into_iter().map(material).collect(),
        beams,
        springs,
        rigid_links,
        masses,
        supports,
        load_cases,
    };
    let structure = Structure {
        frame,
        plates,
        names,
        sections,
        stations,
        buckling,
        frequencies,
        bolt_groups,
        weld_groups,
        bed_contacts,
        prescribed,
    };
    structure.ask_for_something(reader);
    structure
}

impl Structure {
    /// Whether the request describes a frame or plates.
    pub(crate) fn has_frame(&self) -> bool {
        let frame = &self.frame;
        !(frame.nodes.is_empty()
            && !self.plates.any()
            && frame.beams.is_empty()
            && frame.springs.is_empty()
            && frame.rigid_links.is_empty()
            && frame.masses.is_empty()
            && frame.supports.is_empty()
            && frame.load_cases.is_empty()
            && self.buckling.is_none()
            && self.frequencies.is_none())
    }

    fn ask_for_something(&self, reader: &mut Reader) {
        let nothing = !self.has_frame()
            && self.sections.is_empty()
            && self.bolt_groups.is_empty()
            && self.weld_groups.is_empty()
            && self.bed_contacts.is_empty();
        if nothing {
            reader.refuse(
                &Path::ROOT.field("nodes"),
                "an empty request",
                "nodes with what joins them, or sections, bolt groups, weld groups or bed contacts",
                "",
            );
        }
    }
}

/// The names that others refer to.
struct Known {
    nodes: Names,
    sections: Names,
    materials: Names,
    beams: Names,
    cases: Names,
    plates: Names,
}

fn material(given: v1::Material) -> Material {
    let v1::Material {
        id: _,
        youngs_modulus_mpa,
        shear_modulus_mpa,
        density_kg_per_m3,
        expansion_per_k,
    } = given;
    Material {
        youngs_modulus: youngs_modulus_mpa * MPA,
        shear_modulus: shear_modulus_mpa * MPA,
        density: density_kg_per_m3,
        thermal_expansion: expansion_per_k,
    }
}

fn beam(reader: &mut Reader, known: &Known, nodes: &[Node], index: usize, given: v1::Beam) -> Beam {
    let v1::Beam {
        id: _,
        start_node_id,
        end_node_id,
        section_id,
        material_id,
        up,
        start_offset,
        end_offset,
        start_release,
        end_release,
    } = given;
    let path = Path::ROOT.place("beams", index);
    let start = known.nodes.find(reader, &path.field("start_node_id"), &start_node_id);
    let end = known.nodes.find(reader, &path.field("end_node_id"), &end_node_id);
    let section = known.sections.find(reader, &path.field("section_id"), &section_id);
    let material = known.materials.find(reader, &path.field("material_id"), &material_id);
    let offset_start = position(start_offset);
    let offset_end = position(end_offset);
    let up = match up {
        Some(_) => direction(reader, &path.field("up"), up).unwrap_or(ABOVE),
        None => usual_up(line(nodes, (start, offset_start), (end, offset_end))),
    };
    Beam {
        start: NodeId(start),
        end: NodeId(end),
        section: SectionId(section),
        material: MaterialId(material),
        orientation: Orientation::ZTowards(up),
        offset_start,
        offset_end,
        releases_start: release(start_release),
        releases_end: release(end_release),
    }
}

const ABOVE: [f64; 3] = [0.0, 0.0, 1.0];

/// From tip to tip of a member's rigid offsets, m.
fn line(nodes: &[Node], start: (usize, [f64; 3]), end: (usize, [f64; 3])) -> [f64; 3] {
    let tip = |(place, offset): (usize, [f64; 3])| {
        let at = nodes.get(place).map_or([0.0; 3], |node| node.position);
        [0, 1, 2].map(|i| at[i] + offset[i])
    };
    let (start, end) = (tip(start), tip(end));
    [0, 1, 2].map(|i| end[i] - start[i])
}

/// Lengths of the elastic parts of the members, m.
fn lengths(nodes: &[Node], beams: &[Beam]) -> Vec<f64> {
    beams
        .iter()
        .map(|beam| {
            let start = (beam.start.0, beam.offset_start);
            let [x, y, z] = line(nodes, start, (beam.end.0, beam.offset_end));
            (x * x + y * y + z * z).sqrt()
        })
        .collect()
}

/// Global z, or global x on a member that runs along z (within a millionth of its length).
fn usual_up([x, y, z]: [f64; 3]) -> [f64; 3] {
    if x.hypot(y) <= 1e-6 * z.abs() { [1.0, 0.0, 0.0] } else { ABOVE }
}

fn release(given: Option<v1::Release>) -> [Release; 6] {
    let v1::Release { move_x, move_y, move_z, turn_x, turn_y, turn_z } = given.unwrap_or_default();
    [move_x, move_y, move_z, turn_x, turn_y, turn_z]
        .map(|free| if free { Release::Free } else { Release::Fixed })
}

fn spring(reader: &mut Reader, known: &Known, index: usize, given: v1::Spring) -> Spring {
    let path = Path::ROOT.place("springs", index);
    let actions = [given.action_x(), given.action_y(), given.action_z()];
    let v1::Spring {
        id: _,
        node_a_id,
        node_b_id,
        x_axis,
        y_direction,
        move_x_n_per_mm,
        move_y_n_per_mm,
        move_z_n_per_mm,
        turn_x_nmm_per_rad,
        turn_y_nmm_per_rad,
        turn_z_nmm_per_rad,
        action_x: _,
        action_y: _,
        action_z: _,
        gap_mm,
        stop_n_per_mm,
        lack_of_fit,
    } = given;
    let a = known.nodes.find(reader, &path.field("node_a_id"), &node_a_id);
    let b = match node_b_id.as_str() {
        "" => None,
        name => Some(NodeId(known.nodes.find(reader, &path.field("node_b_id"), name))),
    };
    let [px, py, pz] = position(lack_of_fit);
    let law = |action| match action {
        v1::SpringAction::Unspecified | v1::SpringAction::Linear => SpringAction::Linear,
        v1::SpringAction::CompressionOnly => SpringAction::CompressionOnly { gap: gap_mm * MM },
        v1::SpringAction::TensionOnly => SpringAction::TensionOnly { gap: gap_mm * MM },
        v1::SpringAction::Stops => SpringAction::Stops {
            gap_negative: gap_mm * MM,
            gap_positive: gap_mm * MM,
            stiffness: stop_n_per_mm * N_PER_MM,
        },
    };
    let [along, across, up] = actions.map(law);
    let turns = SpringAction::Linear;
    Spring {
        a: NodeId(a),
        b,
        axes: spring_axes(reader, &path, x_axis, y_direction),
        stiffness: [
            move_x_n_per_mm * N_PER_MM,
            move_y_n_per_mm * N_PER_MM,
            move_z_n_per_mm * N_PER_MM,
            turn_x_nmm_per_rad * NMM,
            turn_y_nmm_per_rad * NMM,
            turn_z_nmm_per_rad * NMM,
        ],
        preset: [px, py, pz, 0.0, 0.0, 0.0],
        behaviour: [along, across, up, turns, turns, turns],
    }
}

/// x as given; y as near to the direction given as it can stand square to x; z square to both.
fn spring_axes(
    reader: &mut Reader,
    path: &Path<'_>,
    x_axis: Option<v1::Vector>,
    y_direction: Option<v1::Vector>,
) -> [[f64; 3]; 3] {
    if x_axis.is_none() && y_direction.is_none() {
        return GLOBAL_AXES;
    }
    let [usual_x, usual_y, _] = GLOBAL_AXES;
    let x = direction(reader, &path.field("x_axis"), x_axis).unwrap_or(usual_x);
    let toward = direction(reader, &path.field("y_direction"), y_direction).unwrap_or(usual_y);
    let along: f64 = (0..3).map(|i| x[i] * toward[i]).sum();
    let across = [0, 1, 2].map(|i| toward[i] - along * x[i]);
    // Closer than this (rad) the axes would hang on rounding.
    let apart = across.iter().map(|c| c * c).sum::<f64>().sqrt() > 1e-6;
    let Some(y) = super::unit(across).filter(|_| apart) else {
        let given = if y_direction.is_some() { "a direction along x_axis" } else { "nothing" };
        let advice = "left out it is global y, which lies along this x_axis";
        let advice = if y_direction.is_some() { "" } else { advice };
        reader.refuse(&path.field("y_direction"), given, "a direction across x_axis", advice);
        return GLOBAL_AXES;
    };
    let z = [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]];
    [x, y, z]
}

fn rigid_link(reader: &mut Reader, known: &Known, index: usize, given: v1::RigidLink) -> RigidLink {
    let v1::RigidLink { id: _, leader_node_id, follower_node_id } = given;
    let path = Path::ROOT.place("rigid_links", index);
    let leader = known.nodes.find(reader, &path.field("leader_node_id"), &leader_node_id);
    let follower = known.nodes.find(reader, &path.field("follower_node_id"), &follower_node_id);
    RigidLink { master: NodeId(leader), slave: NodeId(follower), dofs: [true; 6] }
}

fn point_mass(reader: &mut Reader, known: &Known, index: usize, given: v1::PointMass) -> PointMass {
    let v1::PointMass { node_id, mass_kg, inertia_x_kg_mm2, inertia_y_kg_mm2, inertia_z_kg_mm2 } =
        given;
    let path = Path::ROOT.place("masses", index);
    let node = known.nodes.find(reader, &path.field("node_id"), &node_id);
    let [x, y, z] = [inertia_x_kg_mm2, inertia_y_kg_mm2, inertia_z_kg_mm2].map(|i| i * KG_MM2);
    PointMass { node: NodeId(node), mass: mass_kg, inertia: [x, y, z, 0.0, 0.0, 0.0] }
}

fn support(reader: &mut Reader, known: &Known, index: usize, given: v1::Support) -> Support {
    let moves = [given.move_x(), given.move_y(), given.move_z()];
    let v1::Support { node_id, move_x: _, move_y: _, move_z: _, turn_x, turn_y, turn_z } = given;
    let path = Path::ROOT.place("supports", index);
    let node = known.nodes.find(reader, &path.field("node_id"), &node_id);
    let [x, y, z] = moves.map(|action| match action {
        v1::SupportAction::Unspecified => Restraint::Free,
        v1::SupportAction::Held => Restraint::Fixed,
        v1::SupportAction::PressesPositive => Restraint::StopsNegative,
        v1::SupportAction::PressesNegative => Restraint::StopsPositive,
    });
    let held = |turn| if turn { Restraint::Fixed } else { Restraint::Free };
    Support {
        node: NodeId(node),
        axes: GLOBAL_AXES,
        dofs: [x, y, z, held(turn_x), held(turn_y), held(turn_z)],
    }
}

fn read_stations(reader: &mut Reader, known: &Known, given: Vec<v1::StationRequest>) -> Stations {
    let mut stations = Stations::default();
    for (index, request) in given.into_iter().enumerate() {
        let v1::StationRequest { beam_id, fractions } = request;
        let path = Path::ROOT.place("stations", index);
        for (place, fraction) in fractions.iter().enumerate() {
            // What is no number is noted at the door.
            if *fraction < 0.0 || *fraction > 1.0 {
                let path = path.place("fractions", place);
                reader.refuse(&path, fraction.to_string(), "0 to 1, as parts of the length", "");
            }
        }
        if beam_id.is_empty() {
            stations.every.extend(fractions);
            continue;
        }
        let beam = known.beams.find(reader, &path.field("beam_id"), &beam_id);
        stations.single.entry(beam).or_default().extend(fractions);
    }
    for list in stations.single.values_mut() {
        list.extend(&stations.every);
        ascending(list);
    }
    ascending(&mut stations.every);
    stations
}

fn ascending(fractions: &mut Vec<f64>) {
    fractions.sort_by(f64::total_cmp);
    fractions.dedup_by(|a, b| a.to_bits() == b.to_bits());
}

fn read_buckling(reader: &mut Reader, known: &Known, given: v1::BucklingRequest) -> Buckling {
    let v1::BucklingRequest { load_case_id, mode_count, elements_per_member } = given;
    let path = Path::ROOT.field("buckling");
    let case = known.cases.find(reader, &path.field("load_case_id"), &load_case_id);
    let modes = modes(reader, &path, mode_count);
    Buckling { case, modes, elements: elements(reader, &path, elements_per_member) }
}

fn read_frequencies(reader: &mut Reader, given: v1::FrequencyRequest) -> Frequencies {
    let v1::FrequencyRequest { mode_count, elements_per_member, rotary_inertia } = given;
    let path = Path::ROOT.field("frequencies");
    let modes = modes(reader, &path, mode_count);
    Frequencies { modes, elements: elements(reader, &path, elements_per_member), rotary_inertia }
}

fn modes(reader: &mut Reader, path: &Path<'_>, given: i32) -> usize {
    use crate::limits::MODES;
    if !(1..=MODES).contains(&given) {
        reader.refuse(&path.field("mode_count"), given.to_string(), format!("1 to {MODES}"), "");
    }
    usize::try_from(given).unwrap_or(1)
}

fn elements(reader: &mut Reader, path: &Path<'_>, given: i32) -> usize {
    use crate::limits::ELEMENTS_PER_MEMBER as MOST;
    const USUAL: usize = 8;
    if !(0..=MOST).contains(&given) {
        let allowed = format!("1 to {MOST}, or 0 for {USUAL}");
        reader.refuse(&path.field("elements_per_member"), given.to_string(), allowed, "");
    }
    match usize::try_from(given) {
        Ok(0) | Err(_) => USUAL,
        Ok(count) => count,
    }
}
