//! Plates, what joins them, and loads on them.

use fishplate_proto::v1;
use fishplate_solver::model::{FrameDraft, MaterialId, NodeId};
use fishplate_solver::plates::answer::PlateLine;
use fishplate_solver::plates::model::{
    Acts, Bearing, Bolt, Contact, EdgeLoad, Element, FaceLoad, Onto, Plate, PlateDraft, PlateId,
    PlateLoads, Ring, Seam, Spot, Spread, SpreadKind,
};

use super::Known;
use crate::from_proto::{NOWHERE, Names, Reader, direction, position, vector};
use crate::path::Path;
use crate::units::{MM, MM2, MPA, N_PER_MM};

/// Pressure for each mm of closing, Pa/m.
const MPA_PER_MM: f64 = MPA / MM;

/// The lists of a request that are about plates.
#[derive(Debug)]
pub(super) struct Lists {
    pub(super) plates: Vec<v1::StructurePlate>,
    pub(super) seams: Vec<v1::Seam>,
    pub(super) spots: Vec<v1::Spot>,
    pub(super) bolts: Vec<v1::StructureBolt>,
    pub(super) contacts: Vec<v1::PlateContact>,
    pub(super) spreads: Vec<v1::Spread>,
    pub(super) asked: Option<v1::PlateResultsAsked>,
}

/// Plates and what joins them, in the engine's terms.
#[derive(Debug)]
pub(crate) struct Plates {
    plates: Vec<Plate>,
    seams: Vec<Seam>,
    spots: Vec<Spot>,
    bolts: Vec<Bolt>,
    contacts: Vec<Contact>,
    spreads: Vec<Spread>,
    /// Loads, in the order of the load cases.
    loads: Vec<CaseLoads>,
    /// Plates whose stresses are wanted.
    pub(crate) stresses: Vec<PlateId>,
    /// Lines whose forces are wanted.
    pub(crate) lines: Vec<PlateLine>,
    /// Whether the deformed structure is wanted.
    pub(crate) second_order: bool,
}

/// Loads on plates in one load case.
#[derive(Debug, Default)]
pub(super) struct CaseLoads {
    loads: PlateLoads,
    /// The entry of the request that each load on a face came from: one entry may hold two.
    faces: Vec<usize>,
}

impl Plates {
    /// Whether the structure has any.
    pub(crate) fn any(&self) -> bool {
        !(self.plates.is_empty()
            && self.seams.is_empty()
            && self.spots.is_empty()
            && self.bolts.is_empty()
            && self.contacts.is_empty()
            && self.spreads.is_empty()
            && self.loads.iter().all(|case| case.loads == PlateLoads::default()))
    }

    /// The entry of `face_loads` that a load on a face came from.
    pub(super) fn face_entry(&self, case: usize, place: usize) -> usize {
        self.loads.get(case).and_then(|case| case.faces.get(place)).copied().unwrap_or(place)
    }

    /// The draft of the engine, with the frame that the plates are part of.
    pub(crate) fn draft(&self, frame: FrameDraft) -> PlateDraft {
        PlateDraft {
            frame,
            plates: self.plates.clone(),
            seams: self.seams.clone(),
            spots: self.spots.clone(),
            bolts: self.bolts.clone(),
            contacts: self.contacts.clone(),
            spreads: self.spreads.clone(),
            loads: self.loads.iter().map(|case| case.loads.clone()).collect(),
        }
    }

    /// Bytes that an answer takes for them in each load case, about: those of the encoding, rounded
    /// up, without names.
    pub(crate) fn answer_bytes(&self) -> usize {
        const FORCES: usize = 280;
        const PLACE: usize = 80;
        let elements = |plate: &PlateId| self.plates.get(plate.0).map_or(0, |p| p.elements.len());
        // A centre and four corners an element, and a node beside each.
        let stresses: usize = self.stresses.iter().map(elements).sum();
        let places: usize = self.contacts.iter().map(|contact| elements(&contact.of)).sum();
        let on_lines: usize = self.lines.iter().map(|line| line.nodes.len()).sum();
        stresses * 6 * FORCES + (places + on_lines) * PLACE
    }
}

/// Reads the plates and what joins them; `loads` are theirs.
pub(super) fn plates(
    reader: &mut Reader,
    known: &Known,
    given: Lists,
    loads: Vec<CaseLoads>,
) -> Plates {
    let Lists { plates, seams, spots, bolts, contacts, spreads, asked } = given;
    Names::read(reader, "seams", "seam", seams.iter().map(|s| s.id.as_str()));
    Names::read(reader, "spots", "spot", spots.iter().map(|s| s.id.as_str()));
    Names::read(reader, "plate_bolts", "bolt", bolts.iter().map(|b| b.id.as_str()));
    Names::read(reader, "plate_contacts", "contact", contacts.iter().map(|c| c.id.as_str()));
    Names::read(reader, "spreads", "spread", spreads.iter().map(|s| s.id.as_str()));
    let mut read = Plates {
        plates: each("plates", plates, |path, given| plate(reader, known, path, given)),
        seams: each("seams", seams, |path, given| seam(reader, known, path, given)),
        spots: each("spots", spots, |path, given| spot(reader, known, path, given)),
        bolts: each("plate_bolts", bolts, |path, given| bolt(reader, known, path, given)),
        contacts: each("plate_contacts", contacts, |path, given| {
            contact(reader, known, path, given)
        }),
        spreads: each("spreads", spreads, |path, given| spread(reader, known, path, given)),
        loads,
        stresses: Vec::new(),
        lines: Vec::new(),
        second_order: false,
    };
    if let Some(asked) = asked {
        let v1::PlateResultsAsked { stress_plate_ids, second_order, lines } = asked;
        let path = Path::ROOT.field("plate_results");
        for (place, name) in stress_plate_ids.iter().enumerate() {
            let found = known.plates.find(reader, &path.place("stress_plate_ids", place), name);
            if !read.stresses.contains(&PlateId(found)) {
                read.stresses.push(PlateId(found));
            }
        }
        if second_order && !read.any() {
            let allowed = "nothing, where there are no plates";
            reader.refuse(&path.field("second_order"), "true", allowed, "");
        }
        read.second_order = second_order;
        for (place, given) in lines.into_iter().enumerate() {
            let v1::PlateLine { plate_id, node_ids } = given;
            let path = path.place("lines", place);
            let plate = plate_named(reader, known, &path.field("plate_id"), &plate_id);
            let nodes = node_ids.iter().enumerate();
            let nodes = nodes
                .map(|(at, name)| {
                    NodeId(known.nodes.find(reader, &path.place("node_ids", at), name))
                })
                .collect();
            read.lines.push(PlateLine { plate, nodes });
        }
    }
    read
}

fn each<G, T>(list: &str, given: Vec<G>, mut read: impl FnMut(&Path<'_>, G) -> T) -> Vec<T> {
    let entries = given.into_iter().enumerate();
    entries.map(|(index, entry)| read(&Path::ROOT.place(list, index), entry)).collect()
}

fn plate(reader: &mut Reader, known: &Known, path: &Path<'_>, given: v1::StructurePlate) -> Plate {
    let v1::StructurePlate { id, material_id, thickness_mm, elements } = given;
    let material = known.materials.find(reader, &path.field("material_id"), &material_id);
    let elements = elements.into_iter().enumerate();
    let elements = elements.map(|(place, given)| {
        let v1::PlateElement { node_ids } = given;
        element(reader, known, &path.place("elements", place), &node_ids)
    });
    Plate {
        name: id,
        elements: elements.collect(),
        material: MaterialId(material),
        thickness: thickness_mm * MM,
    }
}

fn element(reader: &mut Reader, known: &Known, path: &Path<'_>, names: &[String]) -> Element {
    let corner = |place: usize| {
        NodeId(known.nodes.find(reader, &path.place("node_ids", place), &names[place]))
    };
    match names.len() {
        3 => Element::Triangle([0, 1, 2].map(corner)),
        4 => Element::Quad([0, 1, 2, 3].map(corner)),
        other => {
            let given = format!("{other} corners");
            let advice = "larger outlines are made of several elements";
            reader.refuse(&path.field("node_ids"), given, "3 or 4 corners", advice);
            Element::Triangle([NodeId(NOWHERE); 3])
        }
    }
}

fn seam(reader: &mut Reader, known: &Known, path: &Path<'_>, given: v1::Seam) -> Seam {
    let v1::Seam { id, edge_plate_id, onto_plate_id, path: run, leg_on, leg_up } = given;
    Seam {
        name: id,
        edge: plate_named(reader, known, &path.field("edge_plate_id"), &edge_plate_id),
        onto: plate_named(reader, known, &path.field("onto_plate_id"), &onto_plate_id),
        path: run.into_iter().map(|at| position(Some(at))).collect(),
        leg_on: needed_direction(reader, &path.field("leg_on"), leg_on),
        leg_up: needed_direction(reader, &path.field("leg_up"), leg_up),
    }
}

fn spot(reader: &mut Reader, known: &Known, path: &Path<'_>, given: v1::Spot) -> Spot {
    let v1::Spot { id, plate_ids, centre, diameter_mm } = given;
    let mut named = |place: usize| {
        let at = path.place("plate_ids", place);
        plate_named(reader, known, &at, &plate_ids[place])
    };
    let plates = if plate_ids.len() == 2 {
        [0, 1].map(&mut named)
    } else {
        let given = format!("{} plates", plate_ids.len());
        reader.refuse(&path.field("plate_ids"), given, "the two plates that are tied", "");
        [PlateId(NOWHERE); 2]
    };
    let centre = needed_position(reader, &path.field("centre"), centre);
    Spot { name: id, plates, centre, diameter: diameter_mm * MM }
}

fn bolt(reader: &mut Reader, known: &Known, path: &Path<'_>, given: v1::StructureBolt) -> Bolt {
    let bearing = given.bearing();
    let v1::StructureBolt {
        id,
        head,
        nut,
        plate_ids,
        material_id,
        diameter_mm,
        tensile_area_mm2,
        head_bearing_mm,
        nut_bearing_mm,
        hole_mm,
        preload_n,
        bearing: _,
        clearance_mm,
    } = given;
    let through = plate_ids.iter().enumerate();
    let through = through
        .map(|(place, name)| plate_named(reader, known, &path.place("plate_ids", place), name))
        .collect();
    let bearing = match bearing {
        v1::ShankBearing::Unspecified | v1::ShankBearing::Never => Bearing::Never,
        v1::ShankBearing::Fitted => Bearing::Fitted,
        v1::ShankBearing::Clearance => Bearing::Clearance(clearance_mm * MM),
    };
    if clearance_mm.abs() > 0.0 && !matches!(bearing, Bearing::Clearance(_)) {
        let allowed = "0, except with SHANK_BEARING_CLEARANCE";
        reader.refuse(&path.field("clearance_mm"), clearance_mm.to_string(), allowed, "");
    }
    Bolt {
        name: id,
        head: needed_position(reader, &path.field("head"), head),
        nut: needed_position(reader, &path.field("nut"), nut),
        through,
        material: MaterialId(known.materials.find(
            reader,
            &path.field("material_id"),
            &material_id,
        )),
        diameter: diameter_mm * MM,
        tensile_area: tensile_area_mm2 * MM2,
        head_bearing: head_bearing_mm * MM,
        nut_bearing: nut_bearing_mm * MM,
        hole: hole_mm * MM,
        preload: preload_n,
        bearing,
    }
}

fn contact(
    reader: &mut Reader,
    known: &Known,
    path: &Path<'_>,
    given: v1::PlateContact,
) -> Contact {
    use v1::plate_contact::Onto as Given;
    let v1::PlateContact {
        id,
        of_plate_id,
        onto,
        within,
        gap_mm,
        stiffness_mpa_per_mm,
        bridged_mm,
        friction,
        spacing_mm,
    } = given;
    let of = plate_named(reader, known, &path.field("of_plate_id"), &of_plate_id);
    let onto = match onto {
        Some(Given::OntoPlateId(name)) => {
            Onto::Plate(plate_named(reader, known, &path.field("onto_plate_id"), &name))
        }
        Some(Given::Ground(v1::RigidGround { point, normal })) => {
            let path = path.field("ground");
            Onto::Ground {
                point: needed_position(reader, &path.field("point"), point),
                normal: needed_direction(reader, &path.field("normal"), normal),
            }
        }
        None => {
            let allowed = "`onto_plate_id` or `ground`";
            reader.refuse(&path.field("onto_plate_id"), "nothing", allowed, "");
            Onto::Plate(PlateId(NOWHERE))
        }
    };
    let within = within.map(|given| {
        let v1::RingArea { centre, axis, inside_mm, outside_mm } = given;
        let path = path.field("within");
        Ring {
            centre: needed_position(reader, &path.field("centre"), centre),
            axis: needed_direction(reader, &path.field("axis"), axis),
            inside: inside_mm * MM,
            outside: outside_mm * MM,
        }
    });
    Contact {
        name: id,
        of,
        onto,
        within,
        gap: gap_mm * MM,
        stiffness: stiffness_mpa_per_mm.map(|given| given * MPA_PER_MM),
        bridged: bridged_mm * MM,
        friction,
        spacing: spacing_mm * MM,
    }
}

fn spread(reader: &mut Reader, known: &Known, path: &Path<'_>, given: v1::Spread) -> Spread {
    let v1::Spread { id, node_id, area_node_ids, rigid } = given;
    let node = known.nodes.find(reader, &path.field("node_id"), &node_id);
    let area = area_node_ids.iter().enumerate();
    let area = area
        .map(|(place, name)| {
            NodeId(known.nodes.find(reader, &path.place("area_node_ids", place), name))
        })
        .collect();
    let kind = if rigid { SpreadKind::Rigid } else { SpreadKind::Even };
    Spread { name: id, node: NodeId(node), area, kind }
}

/// Loads on plates of the load case at `path`.
pub(super) fn loads(
    reader: &mut Reader,
    known: &Known,
    path: &Path<'_>,
    faces: Vec<v1::FaceLoad>,
    edges: Vec<v1::EdgeLoad>,
) -> CaseLoads {
    let mut read = CaseLoads::default();
    for (entry, given) in faces.into_iter().enumerate() {
        let v1::FaceLoad { plate_id, elements, normal_mpa, global_n_per_mm2 } = given;
        let path = path.place("face_loads", entry);
        let plate = plate_named(reader, known, &path.field("plate_id"), &plate_id);
        let elements: Vec<usize> = elements
            .into_iter()
            .enumerate()
            .filter_map(|(place, element)| {
                let known = usize::try_from(element).ok();
                if known.is_none() {
                    let path = path.place("elements", place);
                    reader.refuse(&path, element.to_string(), "a place, counted from 0", "");
                }
                known
            })
            .collect();
        let global = global_n_per_mm2.map(|given| Acts::Global(vector(given).map(|p| p * MPA)));
        // A pressure of 0 beside a global load is one that was left out.
        let normal =
            (global.is_none() || normal_mpa.abs() > 0.0).then_some(Acts::Normal(normal_mpa * MPA));
        for acts in normal.into_iter().chain(global) {
            read.loads.faces.push(FaceLoad { plate, elements: elements.clone(), acts });
            read.faces.push(entry);
        }
    }
    for (entry, given) in edges.into_iter().enumerate() {
        let v1::EdgeLoad { from_node_id, to_node_id, from_n_per_mm, to_n_per_mm } = given;
        let path = path.place("edge_loads", entry);
        let from = known.nodes.find(reader, &path.field("from_node_id"), &from_node_id);
        let to = known.nodes.find(reader, &path.field("to_node_id"), &to_node_id);
        let mut per_length = |field: &str, given: Option<v1::Vector>| {
            let given = reader.required(&path.field(field), given);
            vector(given.unwrap_or_default()).map(|force| force * N_PER_MM)
        };
        let [start, end] =
            [per_length("from_n_per_mm", from_n_per_mm), per_length("to_n_per_mm", to_n_per_mm)];
        read.loads.edges.push(EdgeLoad { nodes: [NodeId(from), NodeId(to)], from: start, to: end });
    }
    read
}

fn plate_named(reader: &mut Reader, known: &Known, path: &Path<'_>, name: &str) -> PlateId {
    PlateId(known.plates.find(reader, path, name))
}

/// Nowhere where it is left out, so that nothing more is said about it.
fn needed_position(reader: &mut Reader, path: &Path<'_>, at: Option<v1::Position>) -> [f64; 3] {
    reader.required(path, at).map_or([f64::NAN; 3], |at| position(Some(at)))
}

fn needed_direction(reader: &mut Reader, path: &Path<'_>, given: Option<v1::Vector>) -> [f64; 3] {
    let given = reader.required(path, given);
    direction(reader, path, given).unwrap_or([f64::NAN; 3])
}
