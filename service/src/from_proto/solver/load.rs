//! Load cases.

use fishplate_proto::v1;
use fishplate_quantity::units::STANDARD_GRAVITY;
use fishplate_solver::model::{
    BeamId, BeamPointLoad, Dof, LineLoad, LoadAxes, LoadCase, LoadPoint, NodalLoad, NodeId,
    Prescribed, Span, ThermalLoad,
};

use super::{Known, plates};
use crate::from_proto::{Reader, vector, wrench};
use crate::path::Path;
use crate::units::{K_PER_MM, MM, N_PER_MM};

/// The field of each prescribed movement: its entry in the list and its name.
pub(super) type Fields = Vec<(usize, &'static str)>;

/// Load cases.
#[derive(Debug, Default)]
pub(super) struct Loads {
    /// As the frame takes them.
    pub(super) cases: Vec<LoadCase>,
    /// For each case, the fields of its prescribed movements.
    pub(super) prescribed: Vec<Fields>,
    /// For each case, what acts on plates.
    pub(super) on_plates: Vec<plates::CaseLoads>,
}

/// Reads the load cases. `lengths` are those of the members, m.
pub(super) fn load_cases(
    reader: &mut Reader,
    known: &Known,
    lengths: &[f64],
    given: Vec<v1::StructureLoadCase>,
) -> Loads {
    let mut read = Loads::default();
    for (index, case) in given.into_iter().enumerate() {
        load_case(reader, known, lengths, index, case, &mut read);
    }
    read
}

fn load_case(
    reader: &mut Reader,
    known: &Known,
    lengths: &[f64],
    index: usize,
    given: v1::StructureLoadCase,
    read: &mut Loads,
) {
    let v1::StructureLoadCase {
        id,
        nodal_loads,
        point_loads,
        line_loads,
        thermal_loads,
        prescribed,
        field_g,
        face_loads,
        edge_loads,
    } = given;
    let path = Path::ROOT.place("load_cases", index);
    let mut case = LoadCase { name: id, ..LoadCase::default() };
    for (place, given) in nodal_loads.into_iter().enumerate() {
        let v1::NodalLoad { node_id, load } = given;
        let path = path.place("nodal_loads", place);
        let node = NodeId(known.nodes.find(reader, &path.field("node_id"), &node_id));
        let (force, moment) = wrench(reader.required(&path.field("load"), load));
        case.nodal.push(NodalLoad { node, force, moment });
    }
    for (place, given) in point_loads.into_iter().enumerate() {
        let path = path.place("point_loads", place);
        case.point.push(point_load(reader, known, lengths, &path, given));
    }
    for (place, given) in line_loads.into_iter().enumerate() {
        let path = path.place("line_loads", place);
        case.line.push(line_load(reader, known, lengths, &path, given));
    }
    for (place, given) in thermal_loads.into_iter().enumerate() {
        let v1::ThermalLoad { beam_id, change_k, gradient_y_k_per_mm, gradient_z_k_per_mm } = given;
        let path = path.place("thermal_loads", place);
        case.thermal.push(ThermalLoad {
            beam: BeamId(known.beams.find(reader, &path.field("beam_id"), &beam_id)),
            uniform: change_k,
            gradient_y: gradient_y_k_per_mm * K_PER_MM,
            gradient_z: gradient_z_k_per_mm * K_PER_MM,
        });
    }
    let mut fields = Fields::new();
    for (place, given) in prescribed.into_iter().enumerate() {
        let v1::PrescribedMovement {
            node_id,
            move_x_mm,
            move_y_mm,
            move_z_mm,
            turn_x_rad,
            turn_y_rad,
            turn_z_rad,
        } = given;
        let path = path.place("prescribed", place);
        let node = NodeId(known.nodes.find(reader, &path.field("node_id"), &node_id));
        let movements = [
            (Dof::Ux, "move_x_mm", move_x_mm.map(|v| v * MM)),
            (Dof::Uy, "move_y_mm", move_y_mm.map(|v| v * MM)),
            (Dof::Uz, "move_z_mm", move_z_mm.map(|v| v * MM)),
            (Dof::Rx, "turn_x_rad", turn_x_rad),
            (Dof::Ry, "turn_y_rad", turn_y_rad),
            (Dof::Rz, "turn_z_rad", turn_z_rad),
        ];
        for (dof, field, value) in movements {
            if let Some(value) = value {
                case.prescribed.push(Prescribed { node, dof, value });
                fields.push((place, field));
            }
        }
    }
    case.acceleration = vector(field_g.unwrap_or_default()).map(|g| g * STANDARD_GRAVITY);
    read.cases.push(case);
    read.prescribed.push(fields);
    read.on_plates.push(plates::loads(reader, known, &path, face_loads, edge_loads));
}

fn point_load(
    reader: &mut Reader,
    known: &Known,
    lengths: &[f64],
    path: &Path<'_>,
    given: v1::MemberPointLoad,
) -> BeamPointLoad {
    let axes = load_axes(given.axes());
    let v1::MemberPointLoad { beam_id, at_mm, load, axes: _ } = given;
    let beam = BeamId(known.beams.find(reader, &path.field("beam_id"), &beam_id));
    let (force, moment) = wrench(reader.required(&path.field("load"), load));
    within(reader, &path.field("at_mm"), at_mm, (0.0, lengths.get(beam.0).copied()));
    let acts_at = LoadPoint::Centroid;
    BeamPointLoad { beam, at: at_mm * MM, axes, acts_at, force, moment }
}

fn line_load(
    reader: &mut Reader,
    known: &Known,
    lengths: &[f64],
    path: &Path<'_>,
    given: v1::MemberLineLoad,
) -> LineLoad {
    let axes = load_axes(given.axes());
    let v1::MemberLineLoad { beam_id, from_mm, to_mm, from_n_per_mm, to_n_per_mm, axes: _ } = given;
    let beam = BeamId(known.beams.find(reader, &path.field("beam_id"), &beam_id));
    let from = reader.required(&path.field("from_n_per_mm"), from_n_per_mm);
    let to = reader.required(&path.field("to_n_per_mm"), to_n_per_mm);
    let per_length =
        |given: Option<v1::Vector>| vector(given.unwrap_or_default()).map(|force| force * N_PER_MM);
    let length = lengths.get(beam.0).copied();
    if let Some(from) = from_mm {
        within(reader, &path.field("from_mm"), from, (0.0, length));
    }
    if let Some(to) = to_mm {
        within(reader, &path.field("to_mm"), to, (from_mm.unwrap_or_default(), length));
    }
    let span = match (from_mm, to_mm) {
        (None, None) => Span::Whole,
        (Some(from), Some(to)) => Span::Between(from * MM, to * MM),
        (Some(from), None) => Span::Between(from * MM, length.unwrap_or_default()),
        (None, Some(to)) => Span::Between(0.0, to * MM),
    };
    LineLoad {
        beam,
        span,
        axes,
        acts_at: LoadPoint::Centroid,
        force_from: per_length(from),
        force_to: per_length(to),
        moment_from: [0.0; 3],
        moment_to: [0.0; 3],
    }
}

/// Notes a distance along a member outside these limits: the first in mm, the second, the length
/// of the member, in m and not known where there is no such member.
fn within(reader: &mut Reader, path: &Path<'_>, given: f64, (least, length): (f64, Option<f64>)) {
    let Some(most) = length.map(|length| length / MM) else { return };
    // A millionth of a millimetre is rounding of whoever computed the distance.
    if given < least || given > most + 1e-6 {
        let allowed = format!("{least} to {most} mm, from the start of the member");
        reader.refuse(path, format!("{given} mm"), allowed, "");
    }
}

fn load_axes(given: v1::LoadAxes) -> LoadAxes {
    match given {
        v1::LoadAxes::Unspecified | v1::LoadAxes::Global => LoadAxes::Global,
        v1::LoadAxes::Local => LoadAxes::Local,
    }
}
