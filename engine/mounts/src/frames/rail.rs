//! A rail as a beam between the places where the body holds it, with its thickness as measured
//! and every plate that closes it.

use fishplate_solver::answer::SectionForces;
use fishplate_solver::group::Wrench;
use fishplate_solver::model::{
    Beam, BeamId, BeamSection, FrameDraft, GLOBAL_AXES, LoadCase, MaterialId, NodalLoad, Node,
    NodeId, Orientation, Restraint, SectionId, Support,
};
use fishplate_solver::{Asked, RunToEnd, Station, statics};
use fishplate_strength::section::{Channel, Midline, MidlineWall, MultiCell};
use fishplate_strength::section::{SectionProperties, SectionShape};

use super::STEEL;
use crate::CheckError;
use crate::describe::RailSection;
use crate::design::{Body, BodyId, Design, Form, Vec3};

/// A piece of rail of one section.
#[derive(Debug, Clone)]
pub(crate) struct Segment {
    /// From here along x, m.
    pub(crate) from: f64,
    /// To here along x, m.
    pub(crate) to: f64,
    /// Thickness of its walls, m.
    pub(crate) thickness: f64,
    /// Thickness of the plate that closes it, m.
    pub(crate) closed_by: Option<f64>,
    /// Whether it is a closed section.
    pub(crate) closed: bool,
    /// Its properties, drawn with the web's outer face at y = 0 and the rest along +y.
    pub(crate) properties: SectionProperties,
    /// Sign that turns drawn +y into the car's left.
    pub(crate) left: f64,
    /// Centroid in the car: y and z, m.
    pub(crate) centroid: [f64; 2],
}

/// The section forces at a cut of a rail.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RailCut {
    /// Where along x, m.
    pub(crate) x: f64,
    /// The segment, by place.
    pub(crate) segment: usize,
    /// Forces: x forward, y left, z up.
    pub(crate) forces: SectionForces,
}

/// The forces in a rail.
#[derive(Debug)]
pub(crate) struct RailFrame {
    /// Its pieces.
    pub(crate) segments: Vec<Segment>,
    /// Cuts by load set.
    pub(crate) cuts: Vec<Vec<RailCut>>,
}

impl RailFrame {
    /// Solves a rail under sets of wrenches on it.
    pub(crate) fn solve(
        design: &Design,
        rail: BodyId,
        sets: &[Vec<Wrench>],
    ) -> Result<Self, CheckError> {
        let body = design.body(rail);
        let Form::Rail { held, .. } = &body.form else {
            return Err(CheckError::Unsolved(format!("{} is no rail", body.name)));
        };
        let loaded = sets.iter().flatten().map(|w| w.about.x);
        let mut marks: Vec<f64> = held.iter().copied().chain(loaded).collect();
        marks.sort_by(f64::total_cmp);
        let (Some(first), Some(last)) = (marks.first().copied(), marks.last().copied()) else {
            return Err(CheckError::Unsolved(format!("{} carries nothing", body.name)));
        };
        let (marks, segments) =
            segments(design, rail, marks, (first, last)).map_err(CheckError::Unsolved)?;
        let reference = segments[0].centroid;
        let node = |x: f64| Vec3::new(x, reference[0], reference[1]);
        let at = |x: f64| {
            marks.iter().position(|m| (m - x).abs() < 1e-6).expect("every load has its own mark")
        };
        let fixed = Restraint::Fixed;
        let draft = FrameDraft {
            nodes: marks.iter().map(|x| Node { position: node(*x).into() }).collect(),
            sections: segments.iter().map(Segment::beam).collect(),
            materials: vec![STEEL],
            beams: segments
                .iter()
                .enumerate()
                .map(|(i, s)| {
                    let offset = [0.0, s.centroid[0] - reference[0], s.centroid[1] - reference[1]];
                    Beam {
                        offset_start: offset,
                        offset_end: offset,
                        ..Beam::between(
                            NodeId(i),
                            NodeId(i + 1),
                            SectionId(i),
                            MaterialId(0),
                            Orientation::ZTowards([0.0, 0.0, 1.0]),
                        )
                    }
                })
                .collect(),
            springs: Vec::new(),
            rigid_links: Vec::new(),
            masses: Vec::new(),
            supports: held
                .iter()
                .map(|x| Support {
                    node: NodeId(at(*x)),
                    axes: GLOBAL_AXES,
                    dofs: [fixed, fixed, fixed, fixed, Restraint::Free, Restraint::Free],
                })
                .collect(),
            load_cases: sets
                .iter()
                .map(|wrenches| LoadCase {
                    nodal: wrenches
                        .iter()
                        .map(|w| {
                            let place = at(w.about.x);
                            let moved = w.moved_to(node(marks[place]));
                            NodalLoad {
                                node: NodeId(place),
                                force: moved.force.into(),
                                moment: moved.moment.into(),
                            }
                        })
                        .collect(),
                    ..LoadCase::default()
                })
                .collect(),
        };
        let unsolved =
            |why: String| CheckError::Unsolved(format!("{} as a beam: {why}", body.name));
        let model = draft.validate().map_err(|faults| {
            unsolved(faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
        })?;
        let asked =
            Asked { every_beam: vec![Station::at(0.0), Station::at(1.0)], ..Asked::default() };
        let answer = statics(&model, &asked, &RunToEnd).map_err(|e| unsolved(e.to_string()))?;
        let cuts = answer
            .cases
            .iter()
            .map(|case| {
                let mut cuts = Vec::new();
                for beam in &case.beams {
                    let BeamId(i) = beam.beam;
                    for (station, x) in beam.stations.iter().zip([marks[i], marks[i + 1]]) {
                        cuts.push(RailCut { x, segment: i, forces: station.forces });
                    }
                }
                cuts
            })
            .collect();
        Ok(Self { segments, cuts })
    }
}

impl Segment {
    /// For the frame solver: slender bar, rigid in shear.
    pub(crate) fn beam(&self) -> BeamSection {
        let p = &self.properties;
        BeamSection {
            area: p.area,
            i_y: p.i_y,
            i_z: p.i_z,
            i_yz: p.i_yz * self.left,
            torsion_constant: p.torsion.constant,
            shear_area_y: None,
            shear_area_z: None,
            shear_centre_y: p.shear_centre.y * self.left,
            shear_centre_z: p.shear_centre.z,
            stress_points: Vec::new(),
            torsion_modulus: None,
        }
    }
}

/// Marks along a rail with those where its section changes, and the segments between them.
///
/// # Errors
/// A section that has no properties, or no reading.
pub(crate) fn segments(
    design: &Design,
    rail: BodyId,
    marks: Vec<f64>,
    ends: (f64, f64),
) -> Result<(Vec<f64>, Vec<Segment>), String> {
    let marks = with_changes(design, rail, marks, ends);
    let made =
        marks.windows(2).map(|w| segment(design, rail, w[0], w[1])).collect::<Result<_, _>>()?;
    Ok((marks, made))
}

/// Marks where the section changes: between readings, and at the ends of closing plates.
fn with_changes(
    design: &Design,
    rail: BodyId,
    mut marks: Vec<f64>,
    (first, last): (f64, f64),
) -> Vec<f64> {
    if let Form::Rail { stations, .. } = &design.body(rail).form {
        marks.extend(stations.iter().map(|s| s.x));
    }
    for (plate, _) in closing_plates(design, rail) {
        let (from, to) = plate.walls[0].prism.range(0);
        marks.extend([from, to]);
    }
    marks.retain(|x| *x >= first && *x <= last);
    marks.sort_by(f64::total_cmp);
    marks.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    marks
}

/// Plates that close the mouth of a rail, with their thickness. One that no fillet joins to the
/// rail closes nothing.
pub(crate) fn closing_plates(design: &Design, rail: BodyId) -> impl Iterator<Item = (&Body, f64)> {
    let welded = move |plate: BodyId| {
        design.welds.iter().any(|w| {
            w.throat().is_some() && ((w.of, w.to) == (plate, rail) || (w.of, w.to) == (rail, plate))
        })
    };
    design.bodies.iter().enumerate().filter_map(move |(i, b)| match &b.form {
        Form::Plate { mouth: true, on, thickness, .. } if on.body == rail && welded(BodyId(i)) => {
            Some((b, *thickness))
        }
        _ => None,
    })
}

/// The piece of a rail between two marks.
fn segment(design: &Design, rail: BodyId, from: f64, to: f64) -> Result<Segment, String> {
    let body = design.body(rail);
    let Form::Rail { section, outward, .. } = &body.form else {
        return Err(format!("{} is no rail", body.name));
    };
    let thickness = body
        .measured_under(from, to)
        .map(|s| s.thickness)
        .ok_or_else(|| format!("{} has no reading", body.name))?;
    let middle = (from + to) / 2.0;
    let closed_by = closing_plates(design, rail).find_map(|(plate, t)| {
        let (a, b) = plate.walls[0].prism.range(0);
        (middle > a && middle < b).then_some(t)
    });
    let wrong = |e: fishplate_strength::section::SectionError| format!("{}: {e}", body.name);
    let (height, width) = (section.height(), section.width());
    // Rust eats from both sides: the wall keeps its outer face, as drawn.
    let ring = |far: f64, t_far: f64| -> Result<SectionShape, String> {
        let (h, t) = ((height - thickness) / 2.0, thickness);
        let nodes = vec![(t / 2.0, -h), (far, -h), (far, h), (t / 2.0, h)];
        let wall = |from, to, t| MidlineWall { from, to, t };
        let walls = vec![wall(0, 1, t), wall(1, 2, t_far), wall(2, 3, t), wall(3, 0, t)];
        Ok(MultiCell::new(Midline::new(nodes, walls).map_err(wrong)?).into())
    };
    let (shape, closed) = match (section, closed_by) {
        (RailSection::Channel { .. }, None) => (
            SectionShape::from(
                Channel::new(height, width, thickness, thickness, 0.0, 0.0).map_err(wrong)?,
            ),
            false,
        ),
        (RailSection::Channel { .. }, Some(plate)) => (ring(width + plate / 2.0, plate)?, true),
        (RailSection::Box { .. }, _) => (ring(width - thickness / 2.0, thickness)?, true),
    };
    let mut properties = shape.properties();
    if closed {
        // A ring is drawn along the middle of its walls; it yields first at their outer faces.
        for point in &mut properties.points {
            let t_upright = if point.y > 0.0 { closed_by.unwrap_or(thickness) } else { thickness };
            point.y += point.y.signum() * t_upright / 2.0;
            point.z += point.z.signum() * thickness / 2.0;
        }
    }
    let left = -outward.sign();
    let (web_low, web_high) = body.walls[0].prism.range(1);
    let web_outer = if outward.positive { web_high } else { web_low };
    let bottom = body
        .walls
        .iter()
        .map(|w| w.prism.range(2).0)
        .fold(f64::INFINITY, |a, b| if b < a { b } else { a });
    let centroid =
        [web_outer + left * properties.centroid_y, bottom + height / 2.0 + properties.centroid_z];
    Ok(Segment { from, to, thickness, closed_by, closed, properties, left, centroid })
}
