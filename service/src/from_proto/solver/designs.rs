//! Designs of one frame.

use fishplate_proto::v1;
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::larger;
use fishplate_solver::FrameModel;
use fishplate_solver::batch::{
    BatchAsked, FrameBatch, MaterialProperty, Moduli, SectionProperty, Varied,
};
use fishplate_solver::model::{BeamSection, Dof, MaterialId, NodeId, SectionId, SpringId};

use super::{Structure, follows_from_no_number, in_wire_terms, structure};
use crate::from_proto::Reader;
use crate::limits::{ANSWER_BYTES, DESIGN_ENTRIES};
use crate::path::Path;
use crate::units::{MM2, MM3, MM4, MPA, N_PER_MM, NMM};

/// Designs of one frame, ready to be solved.
#[derive(Debug)]
pub(crate) struct Designs {
    /// The base.
    pub(crate) structure: Structure,
    pub(crate) batch: FrameBatch,
    /// Numbers of all designs, SI.
    pub(crate) values: Vec<f64>,
    pub(crate) detail: v1::FrameDesignsDetail,
    /// Bytes that are told of each design, about.
    pub(crate) bytes_each: usize,
}

/// Reads a request to solve designs of one frame.
pub(crate) fn designs(
    reader: &mut Reader,
    request: v1::SolveFrameDesignsRequest,
) -> Option<Designs> {
    let detail = request.detail();
    let v1::SolveFrameDesignsRequest {
        structure: base,
        varied,
        values,
        detail: _,
        movement_node_ids,
    } = request;
    let at = Path::ROOT.field("structure");
    let base = reader.required(&at, base)?;
    let mut within = Reader::default();
    let base = structure(&mut within, base);
    base.only_a_frame(&mut within);
    let model = match base.frame.clone().validate() {
        Ok(model) => Some(model),
        Err(faults) => {
            let own = faults.into_iter().filter(|fault| !follows_from_no_number(fault));
            within.add_deeper(own.map(|fault| in_wire_terms(&base, fault)).collect());
            None
        }
    };
    let numbers: Vec<Option<Number>> = varied
        .into_iter()
        .enumerate()
        .map(|(index, given)| number(reader, &base, index, given))
        .collect();
    let nodes: Vec<Option<NodeId>> = movement_node_ids
        .iter()
        .enumerate()
        .map(|(index, id)| {
            let place = base.names.nodes.iter().position(|name| name == id);
            let path = Path::ROOT.place("movement_node_ids", index);
            let allowed = "the name of a node of the structure";
            found(reader, &path, id, place, allowed).map(NodeId)
        })
        .collect();
    let numbers: Option<Vec<Number>> = numbers.into_iter().collect();
    let nodes: Option<Vec<NodeId>> = nodes.into_iter().collect();
    let asked = numbers.as_ref().map(|numbers| {
        let sections = &base.frame.sections;
        let names = base.sections.iter().map(|section| section.name.as_str());
        let moduli = moduli(&mut within, sections, names, numbers);
        (moduli, numbers)
    });
    let batch = model.zip(asked).zip(nodes).and_then(|((model, (moduli, numbers)), nodes)| {
        if !fits(&mut within, &model) {
            return None;
        }
        let every = || (0..model.draft().nodes.len()).map(NodeId).collect();
        let moved = detail as i32 >= v1::FrameDesignsDetail::Movements as i32;
        let asked = BatchAsked {
            varied: numbers.iter().map(|number| number.varied).collect(),
            moduli,
            displacements: match (moved, nodes.is_empty()) {
                (false, _) => Vec::new(),
                (true, true) => every(),
                (true, false) => nodes,
            },
            end_forces: detail == v1::FrameDesignsDetail::EndForces,
        };
        let faults = match FrameBatch::new(&model, asked) {
            Ok(batch) => return Some(batch),
            Err(faults) => faults,
        };
        let (own, of_structure): (Vec<Fault>, Vec<Fault>) =
            faults.into_iter().partition(|fault| fault.path.starts_with("varied"));
        reader.add_deeper(own);
        within.add_deeper(of_structure.into_iter().map(|f| in_wire_terms(&base, f)).collect());
        None
    });
    reader.add_within(&at, within);
    let (batch, numbers) = batch.zip(numbers)?;
    let bytes_each = bytes_each(&batch, &base, detail);
    if bytes_each > ANSWER_BYTES {
        let allowed = format!("at most {ANSWER_BYTES} bytes");
        let given = format!("designs whose answer has about {bytes_each} bytes each");
        reader.refuse(&Path::ROOT.field("detail"), given, allowed, "ask for less of each");
    }
    let values = in_si(reader, &batch, &numbers, values)?;
    Some(Designs { structure: base, batch, values, detail, bytes_each })
}

impl Structure {
    /// Refuses what is no part of a frame.
    fn only_a_frame(&self, reader: &mut Reader) {
        let others = [
            ("plates", self.plates.any()),
            ("bolt_groups", !self.bolt_groups.is_empty()),
            ("weld_groups", !self.weld_groups.is_empty()),
            ("bed_contacts", !self.bed_contacts.is_empty()),
            ("stations", !self.stations.every.is_empty() || !self.stations.single.is_empty()),
            ("buckling", self.buckling.is_some()),
            ("frequencies", self.frequencies.is_some()),
        ];
        for (field, given) in others {
            if given {
                let allowed = "a frame of beams and springs under loads at nodes";
                let advice = "leave it out, or solve these designs one by one";
                reader.refuse(&Path::ROOT.field(field), "something", allowed, advice);
            }
        }
    }
}

/// A number that differs, and its unit.
#[derive(Debug, Clone, Copy)]
struct Number {
    varied: Varied,
    unit: f64,
}

/// What a property is of.
enum Of {
    Section(SectionProperty, f64),
    Material(MaterialProperty, f64),
    Spring(Dof, f64),
}

fn number(
    reader: &mut Reader,
    base: &Structure,
    index: usize,
    given: v1::VariedNumber,
) -> Option<Number> {
    use v1::VariedProperty as Wire;
    let property = given.property();
    let v1::VariedNumber { id, property: _ } = given;
    let path = Path::ROOT.place("varied", index);
    let of = match property {
        Wire::Unspecified => return reader.unset(&path.field("property"), "VariedProperty"),
        Wire::AreaMm2 => Of::Section(SectionProperty::Area, MM2),
        Wire::IYMm4 => Of::Section(SectionProperty::InertiaY, MM4),
        Wire::IZMm4 => Of::Section(SectionProperty::InertiaZ, MM4),
        Wire::TorsionConstantMm4 => Of::Section(SectionProperty::TorsionConstant, MM4),
        Wire::ShearAreaYMm2 => Of::Section(SectionProperty::ShearAreaY, MM2),
        Wire::ShearAreaZMm2 => Of::Section(SectionProperty::ShearAreaZ, MM2),
        Wire::WElYMm3 => Of::Section(SectionProperty::ModulusY, MM3),
        Wire::WElZMm3 => Of::Section(SectionProperty::ModulusZ, MM3),
        Wire::TorsionModulusMm3 => Of::Section(SectionProperty::TorsionModulus, MM3),
        Wire::YoungsModulusMpa => Of::Material(MaterialProperty::YoungsModulus, MPA),
        Wire::ShearModulusMpa => Of::Material(MaterialProperty::ShearModulus, MPA),
        Wire::MoveXNPerMm => Of::Spring(Dof::Ux, N_PER_MM),
        Wire::MoveYNPerMm => Of::Spring(Dof::Uy, N_PER_MM),
        Wire::MoveZNPerMm => Of::Spring(Dof::Uz, N_PER_MM),
        Wire::TurnXNmmPerRad => Of::Spring(Dof::Rx, NMM),
        Wire::TurnYNmmPerRad => Of::Spring(Dof::Ry, NMM),
        Wire::TurnZNmmPerRad => Of::Spring(Dof::Rz, NMM),
    };
    let path = path.field("id");
    let names = &base.names;
    match of {
        Of::Section(property, unit) => {
            let place = base.sections.iter().position(|section| section.name == id);
            let place = found(reader, &path, &id, place, "the name of a section")?;
            Some(Number { varied: Varied::Section(SectionId(place), property), unit })
        }
        Of::Material(property, unit) => {
            let place = names.materials.iter().position(|name| *name == id);
            let place = found(reader, &path, &id, place, "the name of a material")?;
            Some(Number { varied: Varied::Material(MaterialId(place), property), unit })
        }
        Of::Spring(dof, unit) => {
            let place = names.springs.iter().position(|name| *name == id);
            let place = found(reader, &path, &id, place, "the name of a spring")?;
            Some(Number { varied: Varied::Spring(SpringId(place), dof), unit })
        }
    }
}

fn found(
    reader: &mut Reader,
    path: &Path<'_>,
    id: &str,
    place: Option<usize>,
    allowed: &str,
) -> Option<usize> {
    if place.is_none() {
        reader.refuse(path, format!("`{id}`"), allowed, "");
    }
    place
}

/// Moduli of the base sections by their outermost points; what every design brings itself need not
/// be known.
fn moduli<'n>(
    reader: &mut Reader,
    sections: &[BeamSection],
    names: impl Iterator<Item = &'n str>,
    numbers: &[Number],
) -> Vec<Moduli> {
    let mut all = Vec::with_capacity(sections.len());
    for (index, (section, name)) in sections.iter().zip(names).enumerate() {
        let reach = |of: fn(&fishplate_solver::model::StressPoint) -> f64| {
            section.stress_points.iter().fold(0.0, |top, point| larger(top, of(point).abs()))
        };
        let over = |inertia: f64, reach: f64| (reach > 0.0).then(|| inertia / reach);
        let mut take = |known: Option<f64>, property: SectionProperty, what: &str| {
            let varied = Varied::Section(SectionId(index), property);
            let given = numbers.iter().any(|number| number.varied == varied);
            if known.is_none() && !given {
                reader.refuse(
                    &Path::ROOT.place("sections", index),
                    format!("section `{name}` without {what}"),
                    "sections whose stress can be told",
                    "give a shape, stress points, or the modulus of every design in `varied`",
                );
            }
            known.unwrap_or(1.0)
        };
        all.push(Moduli {
            bending_y: take(
                over(section.i_y, reach(|point| point.z)),
                SectionProperty::ModulusY,
                "a modulus about y",
            ),
            bending_z: take(
                over(section.i_z, reach(|point| point.y)),
                SectionProperty::ModulusZ,
                "a modulus about z",
            ),
            torsion: take(
                section.torsion_modulus,
                SectionProperty::TorsionModulus,
                "a torsion modulus",
            ),
        });
    }
    all
}

/// Whether the frame is small enough that a register full of designs stays small.
fn fits(reader: &mut Reader, model: &FrameModel) -> bool {
    let draft = model.draft();
    let loads = 6 * draft.nodes.len() * draft.load_cases.len();
    let entries = model.predicted_factor_entries() + 2 * loads;
    let small = entries <= DESIGN_ENTRIES;
    if !small {
        let given = format!("a frame whose factor and load cases have {entries} entries");
        let allowed = format!("at most {DESIGN_ENTRIES} in a batch");
        let advice = "solve these designs one by one";
        reader.refuse(&Path::ROOT.field("nodes"), given, allowed, advice);
    }
    small
}

fn bytes_each(batch: &FrameBatch, base: &Structure, detail: v1::FrameDesignsDetail) -> usize {
    let (cases, beams) = (base.frame.load_cases.len(), base.frame.beams.len());
    let moved = 8 * 6 * batch.asked().displacements.len();
    let forces = if batch.asked().end_forces { 8 * 12 * beams } else { 0 };
    match detail {
        v1::FrameDesignsDetail::Unspecified | v1::FrameDesignsDetail::Worst => 16,
        _ => cases * (12 + moved + forces),
    }
}

/// The numbers in SI, checked.
fn in_si(
    reader: &mut Reader,
    batch: &FrameBatch,
    numbers: &[Number],
    mut values: Vec<f64>,
) -> Option<Vec<f64>> {
    if values.is_empty() {
        reader.refuse(&Path::ROOT.field("values"), "nothing", "the numbers of a design", "");
        return None;
    }
    for (place, value) in values.iter_mut().enumerate() {
        *value *= numbers.get(place % Ord::max(numbers.len(), 1)).map_or(1.0, |n| n.unit);
    }
    match batch.check(&values) {
        Ok(_) => Some(values),
        Err(faults) => {
            let unit = |path: &str| {
                let place =
                    path.strip_prefix("values[")?.strip_suffix(']')?.parse::<usize>().ok()?;
                Some((*values.get(place)?, numbers.get(place % numbers.len())?.unit))
            };
            let told = faults.into_iter().map(|fault| match unit(&fault.path) {
                Some((value, unit)) => Fault { given: format!("{}", value / unit), ..fault },
                None => fault,
            });
            reader.add_deeper(told.collect());
            None
        }
    }
}
