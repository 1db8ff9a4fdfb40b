//! Answers about sections.

use fishplate_proto::v1;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::model::BeamSection;
use fishplate_strength::section::{
    SectionProperties, SectionShape, ShearCentre, TorsionMethod, TorsionValue,
};

use crate::from_proto::solver::{
    EN_HOLLOW, Given, SAINT_VENANT, Section, THIN_WALL, on_the_wire, torsion_by,
};
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

/// The properties of a shape, by name.
pub(super) fn by_shape(
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
        name: on_the_wire(&p.name),
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
        SectionShape::MultiCell(cells) => cells.midline().cell_flows(),
        SectionShape::Hat(hat) if hat.is_closed() => hat.midline().cell_flows(),
        // One cell: Bredt, q = T / (2 A).
        _ => enclosed_area.map(|area| 1.0 / (2.0 * area)).into_iter().collect(),
    }
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
