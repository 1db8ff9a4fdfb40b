//! Answers about sections.

use std::collections::BTreeMap;

use fishplate_proto::v1;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::model::BeamSection;
use fishplate_strength::section::{
    Midline, SectionProperties, SectionShape, ShearCentre, TorsionMethod, TorsionValue,
};

use crate::from_proto::solver::{EN_HOLLOW, Given, SAINT_VENANT, Section, THIN_WALL, torsion_by};
use crate::units::{DEG, MM, MM2, MM3, MM4, MM6};

/// A section's properties.
pub(crate) fn section(given: &Section) -> v1::SectionAnswer {
    match &given.given {
        Given::Values(values) => by_values(&given.name, values),
        Given::Shape { shape, properties, torsion } => {
            by_shape(&given.name, shape, properties, torsion)
        }
        Given::Nothing => {
            v1::SectionAnswer { section_id: given.name.clone(), ..Default::default() }
        }
    }
}

/// What the reader of a section's answer should know.
pub(crate) fn warnings(given: &Section) -> Vec<String> {
    let name = &given.name;
    match &given.given {
        Given::Values(values) if values.stress_points.is_empty() => vec![format!(
            "section `{name}` is given by properties without points: its elastic and plastic moduli \
             are not known and stand as 0"
        )],
        Given::Values(_) => vec![format!(
            "section `{name}` is given by properties: elastic moduli are those of its named points, \
             plastic moduli are not known and stand as 0"
        )],
        Given::Shape { torsion, .. } if torsion.method == TorsionMethod::SumOfParts => {
            vec![format!(
                "section `{name}`: torsion is the sum of its pieces; a cell that they close together is \
             not counted"
            )]
        }
        Given::Shape { .. } | Given::Nothing => Vec::new(),
    }
}

fn by_shape(
    name: &str,
    shape: &SectionShape,
    properties: &SectionProperties,
    torsion: &TorsionValue,
) -> v1::SectionAnswer {
    let SectionProperties {
        area,
        centroid_y,
        centroid_z,
        i_y,
        i_z,
        i_yz,
        i_max,
        i_min,
        principal_angle,
        radius_y: _,
        radius_z: _,
        radius_min: _,
        w_el_y_top,
        w_el_y_bottom,
        w_el_z_left,
        w_el_z_right,
        w_el_max: _,
        w_el_min: _,
        w_pl_y,
        w_pl_z,
        torsion: _,
        shear_centre: ShearCentre { y: shear_y, z: shear_z, basis: _ },
        warping_constant,
        shear_area_y,
        shear_area_z,
        enclosed_area,
        points,
        walls: _,
    } = properties;
    let by = |methods: &[TorsionMethod]| torsion_by(shape, methods).map(|t| t.constant / MM4);
    let extreme = |p: &fishplate_strength::section::SectionPoint| v1::StressPoint {
        name: p.name.clone(),
        y_mm: p.y / MM,
        z_mm: p.z / MM,
    };
    v1::SectionAnswer {
        section_id: name.to_owned(),
        area_mm2: area / MM2,
        centroid_y_mm: centroid_y / MM,
        centroid_z_mm: centroid_z / MM,
        i_y_mm4: i_y / MM4,
        i_z_mm4: i_z / MM4,
        i_yz_mm4: i_yz / MM4,
        i_max_mm4: i_max / MM4,
        i_min_mm4: i_min / MM4,
        i_max_axis_deg: principal_angle / DEG,
        w_el_y_top_mm3: w_el_y_top / MM3,
        w_el_y_bottom_mm3: w_el_y_bottom / MM3,
        // The wire's left is +y, as on a car; the engine draws y to the right.
        w_el_z_left_mm3: w_el_z_right / MM3,
        w_el_z_right_mm3: w_el_z_left / MM3,
        w_pl_y_mm3: w_pl_y / MM3,
        w_pl_z_mm3: w_pl_z / MM3,
        torsion_constant_mm4: torsion.constant / MM4,
        torsion_theory: theory(torsion.method).into(),
        torsion_thin_wall_mm4: by(&THIN_WALL),
        torsion_saint_venant_mm4: by(&SAINT_VENANT),
        torsion_en_hollow_mm4: by(&EN_HOLLOW),
        torsion_modulus_mm3: Some(torsion.modulus / MM3),
        // Places are in the drawing axes of the shape.
        shear_centre_y_mm: Some((centroid_y + shear_y) / MM),
        shear_centre_z_mm: Some((centroid_z + shear_z) / MM),
        warping_constant_mm6: Some(warping_constant / MM6),
        shear_area_y_mm2: Some(shear_area_y / MM2),
        shear_area_z_mm2: Some(shear_area_z / MM2),
        extreme_points: points.iter().map(extreme).collect(),
        enclosed_area_mm2: enclosed_area.map(|area| area / MM2),
        // A flow in N/m for 1 N m is 1e-6 times as many N/mm for 1 N mm.
        cell_flow_n_per_mm: cell_flows(shape, *enclosed_area).iter().map(|q| q * MM2).collect(),
        piece_first_moment_mm3: piece_moments(shape).iter().map(|s| s / MM3).collect(),
    }
}

fn theory(method: TorsionMethod) -> v1::TorsionTheory {
    match method {
        TorsionMethod::Bredt | TorsionMethod::BredtWithOpenWalls | TorsionMethod::ThinWallSum => {
            v1::TorsionTheory::ThinWall
        }
        TorsionMethod::SaintVenantSeries
        | TorsionMethod::Round
        | TorsionMethod::JunctionCorrected => v1::TorsionTheory::SaintVenant,
        TorsionMethod::En10219 => v1::TorsionTheory::EnHollow,
        TorsionMethod::SumOfParts => v1::TorsionTheory::Unspecified,
    }
}

fn piece_moments(shape: &SectionShape) -> Vec<f64> {
    let SectionShape::BuiltUp(built) = shape else { return Vec::new() };
    (0..built.parts().len()).filter_map(|i| built.part_first_moments(i)).map(|(z, _)| z).collect()
}

/// Shear flow in each cell under a unit torque, N/m per N m.
fn cell_flows(shape: &SectionShape, enclosed_area: Option<f64>) -> Vec<f64> {
    match shape {
        SectionShape::MultiCell(cells) => midline_cells(cells.midline()),
        SectionShape::Hat(hat) if hat.is_closed() => midline_cells(hat.midline()),
        // One cell: Bredt, q = T / (2 A).
        _ => enclosed_area.map(|area| 1.0 / (2.0 * area)).into_iter().collect(),
    }
}

/// Cells are the bounded faces of the midline's drawing. What flows in a wall is the flow of the
/// cell on its left less that of the cell on its right, and outside nothing flows; so the flows of
/// the walls, one step from the outside to the inside after the other, give those of the cells.
fn midline_cells(midline: &Midline) -> Vec<f64> {
    let walls = midline.walls();
    let flows = midline.torsion_flows();
    let nodes = midline.nodes();
    // Side 2 i of wall i looks from its first node to its second, side 2 i + 1 back.
    let ends = |side: usize| {
        let wall = walls[side / 2];
        if side.is_multiple_of(2) { (wall.from, wall.to) } else { (wall.to, wall.from) }
    };
    let heading = |side: usize| {
        let (from, to) = ends(side);
        (nodes[to].1 - nodes[from].1).atan2(nodes[to].0 - nodes[from].0)
    };
    let mut around: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for side in 0..2 * walls.len() {
        around.entry(ends(side).0).or_default().push(side);
    }
    for sides in around.values_mut() {
        sides.sort_by(|a, b| heading(*a).total_cmp(&heading(*b)));
    }
    // Keeping a face on the left: arrive, and leave by the next wall clockwise from the way back.
    let next = |side: usize| {
        let back = side ^ 1;
        let sides = &around[&ends(side).1];
        let at = sides.iter().position(|s| *s == back).unwrap_or_default();
        sides[(at + sides.len() - 1) % sides.len()]
    };
    let mut face_of = vec![usize::MAX; 2 * walls.len()];
    let mut areas = Vec::new();
    for first in 0..face_of.len() {
        let mut side = first;
        let mut area = 0.0;
        while face_of[side] == usize::MAX {
            face_of[side] = areas.len();
            let (from, to) = ends(side);
            area += nodes[from].0 * nodes[to].1 - nodes[to].0 * nodes[from].1;
            side = next(side);
        }
        if face_of[first] == areas.len() {
            areas.push(area);
        }
    }
    // The face outside is gone round clockwise: its area is the one that is not positive.
    let mut flow: Vec<Option<f64>> =
        areas.iter().map(|area| (*area <= 0.0).then_some(0.0)).collect();
    for _ in 0..areas.len() {
        for (wall, q) in flows.iter().enumerate() {
            let (left, right) = (face_of[2 * wall], face_of[2 * wall + 1]);
            match (flow[left], flow[right]) {
                (None, Some(known)) => flow[left] = Some(known + q),
                (Some(known), None) => flow[right] = Some(known - q),
                _ => {}
            }
        }
    }
    areas.iter().zip(flow).filter(|(area, _)| **area > 0.0).filter_map(|(_, q)| q).collect()
}

fn by_values(name: &str, values: &BeamSection) -> v1::SectionAnswer {
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
    } = values;
    let mean = f64::midpoint(*i_y, *i_z);
    let radius = (0.5 * (i_y - i_z)).hypot(*i_yz);
    let angle = 0.5 * (-2.0 * i_yz).atan2(i_y - i_z);
    let reach = |along: fn(&fishplate_solver::model::StressPoint) -> f64| {
        stress_points
            .iter()
            .map(along)
            .fold((0.0, 0.0), |(low, high), at| (smaller(low, at), larger(high, at)))
    };
    let modulus = |inertia: f64, distance: f64| {
        if distance > 0.0 { inertia / distance / MM3 } else { 0.0 }
    };
    let (bottom, top) = reach(|p| p.z);
    let (right, left) = reach(|p| p.y);
    v1::SectionAnswer {
        section_id: name.to_owned(),
        area_mm2: area / MM2,
        i_y_mm4: i_y / MM4,
        i_z_mm4: i_z / MM4,
        i_yz_mm4: i_yz / MM4,
        i_max_mm4: (mean + radius) / MM4,
        i_min_mm4: (mean - radius) / MM4,
        i_max_axis_deg: angle / DEG,
        w_el_y_top_mm3: modulus(*i_y, top),
        w_el_y_bottom_mm3: modulus(*i_y, -bottom),
        w_el_z_left_mm3: modulus(*i_z, left),
        w_el_z_right_mm3: modulus(*i_z, -right),
        torsion_constant_mm4: torsion_constant / MM4,
        torsion_modulus_mm3: torsion_modulus.map(|modulus| modulus / MM3),
        shear_centre_y_mm: Some(shear_centre_y / MM),
        shear_centre_z_mm: Some(shear_centre_z / MM),
        shear_area_y_mm2: shear_area_y.map(|area| area / MM2),
        shear_area_z_mm2: shear_area_z.map(|area| area / MM2),
        extreme_points: stress_points
            .iter()
            .map(|p| v1::StressPoint { name: p.name.clone(), y_mm: p.y / MM, z_mm: p.z / MM })
            .collect(),
        ..Default::default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use fishplate_strength::section::MidlineWall;

    // Bredt and Batho for two cells, closed form: q1 = K (a1/b1 ...) solved by hand as two
    // equations 2 A_i G theta = q_i sum(l/t)_i - q_j l_w/t_w, with T = 2 sum(A q). Megson,
    // Aircraft Structures for Engineering Students, chapter on multicell sections.
    #[test]
    fn two_cells_by_the_two_equations() {
        let [w1, w2, h, t1, t2, tw] = [0.060, 0.040, 0.050, 0.002, 0.003, 0.0015];
        let nodes = vec![(0.0, 0.0), (w1, 0.0), (w1 + w2, 0.0), (w1 + w2, h), (w1, h), (0.0, h)];
        let wall = |from, to, t| MidlineWall { from, to, t };
        let walls = vec![
            wall(0, 1, t1),
            wall(2, 1, t2),
            wall(2, 3, t2),
            wall(3, 4, t2),
            wall(4, 5, t1),
            wall(0, 5, t1),
            wall(1, 4, tw),
        ];
        let flows = midline_cells(&Midline::new(nodes, walls).unwrap());
        let (a1, a2) = (w1 * h, w2 * h);
        let shared = h / tw;
        let d1 = (2.0 * w1 + h) / t1 + shared;
        let d2 = (2.0 * w2 + h) / t2 + shared;
        // Cramer's rule for q1, q2 at unit twist, then scaled to unit torque.
        let det = d1 * d2 - shared * shared;
        let q1 = 2.0 * (a1 * d2 + a2 * shared) / det;
        let q2 = 2.0 * (a2 * d1 + a1 * shared) / det;
        let torque = 2.0 * (a1 * q1 + a2 * q2);
        assert_eq!(flows.len(), 2);
        assert!((flows[0] / (q1 / torque) - 1.0).abs() < 1e-12, "{flows:?}");
        assert!((flows[1] / (q2 / torque) - 1.0).abs() < 1e-12, "{flows:?}");
    }

    #[test]
    fn an_open_drawing_has_no_cell() {
        let nodes = vec![(0.0, 0.0), (0.1, 0.0), (0.1, 0.1)];
        let wall = |from, to| MidlineWall { from, to, t: 0.002 };
        assert!(
            midline_cells(&Midline::new(nodes, vec![wall(0, 1), wall(1, 2)]).unwrap()).is_empty()
        );
    }
}
