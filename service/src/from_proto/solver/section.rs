//! Sections, by properties or by shape.

use fishplate_proto::v1;
use fishplate_solver::model::{BeamSection, StressPoint};
use fishplate_strength::section::{
    Angle, BuiltUp, BuiltUpTorsion, Channel, Flat, Hat, Midline, MidlineWall, MultiCell, Placed,
    RectangularTube, RoundBar, RoundTube, SectionError, SectionProperties, SectionShape,
    TorsionMethod, TorsionValue, TubeWall,
};

use crate::from_proto::Reader;
use crate::path::Path;
use crate::units::{DEG, MM, MM2, MM4};

/// A section as it was given, in SI.
#[derive(Debug)]
pub(crate) struct Section {
    /// Its name.
    pub(crate) name: String,
    /// What was given.
    pub(crate) given: Given,
    rigid_in_shear: bool,
}

/// How a section was given.
#[derive(Debug)]
pub(crate) enum Given {
    /// By its properties.
    Values(BeamSection),
    /// By its shape, with the torsion that is used.
    Shape {
        /// The shape.
        shape: Box<SectionShape>,
        /// Its properties.
        properties: Box<SectionProperties>,
        /// The torsion constant that was asked for, or the shape's own.
        torsion: TorsionValue,
    },
    /// Not at all; the fault has been noted.
    Nothing,
}

impl Section {
    /// What the frame is solved with.
    pub(crate) fn for_the_frame(&self) -> BeamSection {
        let mut section = match &self.given {
            Given::Values(section) => section.clone(),
            Given::Shape { properties, torsion, .. } => of_shape(properties, torsion),
            Given::Nothing => placeholder(),
        };
        if self.rigid_in_shear {
            section.shear_area_y = None;
            section.shear_area_z = None;
        }
        section
    }
}

/// The name of a point of a shape on the wire, whose left is +y, as on a car; the engine draws y
/// to the right.
pub(crate) fn on_the_wire(name: &str) -> String {
    let word = |word: &str| match word {
        "left" => "right".to_owned(),
        "right" => "left".to_owned(),
        other => other.to_owned(),
    };
    name.split(' ').map(word).collect::<Vec<_>>().join(" ")
}

fn of_shape(p: &SectionProperties, torsion: &TorsionValue) -> BeamSection {
    let point = |p: &fishplate_strength::section::SectionPoint| StressPoint {
        name: on_the_wire(&p.name),
        y: p.y,
        z: p.z,
    };
    BeamSection {
        area: p.area,
        i_y: p.i_y,
        i_z: p.i_z,
        i_yz: p.i_yz,
        torsion_constant: torsion.constant,
        shear_area_y: Some(p.shear_area_y),
        shear_area_z: Some(p.shear_area_z),
        shear_centre_y: p.shear_centre.y,
        shear_centre_z: p.shear_centre.z,
        stress_points: p.points.iter().map(point).collect(),
        torsion_modulus: Some(torsion.modulus),
    }
}

/// Stands for a section that cannot be used, so that the rest of the request is still looked at.
fn placeholder() -> BeamSection {
    BeamSection {
        area: 1.0,
        i_y: 1.0,
        i_z: 1.0,
        i_yz: 0.0,
        torsion_constant: 1.0,
        shear_area_y: None,
        shear_area_z: None,
        shear_centre_y: 0.0,
        shear_centre_z: 0.0,
        stress_points: Vec::new(),
        torsion_modulus: None,
    }
}

pub(super) fn section(reader: &mut Reader, index: usize, given: v1::Section) -> Section {
    use v1::section::Definition;
    let asked = given.torsion();
    let v1::Section { id, definition, rigid_in_shear, torsion: _ } = given;
    let path = Path::ROOT.place("sections", index);
    let given = match definition {
        Some(Definition::Values(given)) => {
            if asked != v1::TorsionTheory::Unspecified {
                reader.refuse(
                    &path.field("torsion"),
                    asked.as_str_name(),
                    "nothing beside `values`",
                    "give values.torsion_constant_mm4",
                );
            }
            Given::Values(values(given))
        }
        Some(Definition::Shape(given)) => {
            let at = path.field("shape");
            match shape(reader, &at, given) {
                Some(shape) => with_torsion(reader, &path.field("torsion"), shape, asked),
                None => Given::Nothing,
            }
        }
        None => {
            reader.refuse(&path, "a section without a definition", "`values` or `shape`", "");
            Given::Nothing
        }
    };
    Section { name: id, given, rigid_in_shear }
}

fn values(given: v1::SectionValues) -> BeamSection {
    let v1::SectionValues {
        area_mm2,
        i_y_mm4,
        i_z_mm4,
        i_yz_mm4,
        torsion_constant_mm4,
        shear_area_y_mm2,
        shear_area_z_mm2,
        shear_centre_y_mm,
        shear_centre_z_mm,
        stress_points,
    } = given;
    BeamSection {
        area: area_mm2 * MM2,
        i_y: i_y_mm4 * MM4,
        i_z: i_z_mm4 * MM4,
        i_yz: i_yz_mm4 * MM4,
        torsion_constant: torsion_constant_mm4 * MM4,
        shear_area_y: shear_area_y_mm2.map(|a| a * MM2),
        shear_area_z: shear_area_z_mm2.map(|a| a * MM2),
        shear_centre_y: shear_centre_y_mm * MM,
        shear_centre_z: shear_centre_z_mm * MM,
        stress_points: stress_points.into_iter().map(stress_point).collect(),
        torsion_modulus: None,
    }
}

fn stress_point(given: v1::StressPoint) -> StressPoint {
    let v1::StressPoint { name, y_mm, z_mm } = given;
    StressPoint { name, y: y_mm * MM, z: z_mm * MM }
}

/// Methods that count as each theory of the wire, the fuller one first.
pub(crate) const THIN_WALL: [TorsionMethod; 3] =
    [TorsionMethod::BredtWithOpenWalls, TorsionMethod::Bredt, TorsionMethod::ThinWallSum];
pub(crate) const SAINT_VENANT: [TorsionMethod; 3] =
    [TorsionMethod::SaintVenantSeries, TorsionMethod::Round, TorsionMethod::JunctionCorrected];
pub(crate) const EN_HOLLOW: [TorsionMethod; 1] = [TorsionMethod::En10219];

/// Torsion by the first of these methods that fits the shape.
pub(crate) fn torsion_by(shape: &SectionShape, methods: &[TorsionMethod]) -> Option<TorsionValue> {
    methods.iter().find_map(|method| shape.torsion(*method))
}

fn with_torsion(
    reader: &mut Reader,
    path: &Path<'_>,
    shape: SectionShape,
    asked: v1::TorsionTheory,
) -> Given {
    let properties = Box::new(shape.properties());
    let methods: &[TorsionMethod] = match asked {
        v1::TorsionTheory::Unspecified => &[],
        v1::TorsionTheory::ThinWall => &THIN_WALL,
        v1::TorsionTheory::SaintVenant => &SAINT_VENANT,
        v1::TorsionTheory::EnHollow => &EN_HOLLOW,
    };
    let torsion = if methods.is_empty() {
        properties.torsion
    } else {
        torsion_by(&shape, methods).unwrap_or_else(|| {
            let given = format!("{} for a {}", asked.as_str_name(), shape.name());
            let advice = "leave it out for the shape's own";
            reader.refuse(path, given, "a theory that fits the shape", advice);
            properties.torsion
        })
    };
    Given::Shape { shape: Box::new(shape), properties, torsion }
}

/// The engine's words for a dimension, and the field that it came from.
type Fields = &'static [(&'static str, &'static str)];

/// A shape, or what is wrong with its dimensions.
pub(crate) fn shape(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::SectionShape,
) -> Option<SectionShape> {
    use v1::section_shape::Shape;
    let v1::SectionShape { shape } = given;
    let Some(shape) = shape else {
        reader.refuse(path, "no shape", "one of the shapes", "");
        return None;
    };
    match shape {
        Shape::Angle(given) => {
            let v1::AngleShape {
                vertical_leg_mm: vertical,
                horizontal_leg_mm: horizontal,
                thickness_mm: thickness,
                root_radius_mm: root,
                toe_radius_mm: toe,
            } = given;
            const FIELDS: Fields = &[
                ("vertical leg", "vertical_leg_mm"),
                ("horizontal leg", "horizontal_leg_mm"),
                ("thickness", "thickness_mm"),
                ("root radius", "root_radius_mm"),
                ("toe radius", "toe_radius_mm"),
            ];
            let [vertical, horizontal] = [vertical * MM, horizontal * MM];
            let angle = Angle::new(vertical, horizontal, thickness * MM, root * MM, toe * MM);
            built(reader, &path.field("angle"), FIELDS, angle)
        }
        Shape::Channel(given) => {
            let v1::ChannelShape {
                height_mm: height,
                flange_mm: flange,
                web_thickness_mm: web,
                flange_thickness_mm: thickness,
            } = given;
            const FIELDS: Fields = &[
                ("height", "height_mm"),
                ("flange width", "flange_mm"),
                ("web thickness", "web_thickness_mm"),
                ("flange thickness", "flange_thickness_mm"),
            ];
            let channel =
                Channel::new(height * MM, flange * MM, web * MM, thickness * MM, 0.0, 0.0);
            built(reader, &path.field("channel"), FIELDS, channel)
        }
        Shape::RectangularTube(given) => {
            rectangular_tube(reader, &path.field("rectangular_tube"), given)
        }
        Shape::RoundTube(given) => {
            let v1::RoundTubeShape { diameter_mm, thickness_mm, outside_loss_mm, inside_loss_mm } =
                given;
            const FIELDS: Fields = &[
                ("diameter", "diameter_mm"),
                ("thickness", "thickness_mm"),
                ("loss outside", "outside_loss_mm"),
                ("loss inside", "inside_loss_mm"),
                ("remaining thickness", "thickness_mm"),
            ];
            let [outside, inside] = [outside_loss_mm * MM, inside_loss_mm * MM];
            let tube = RoundTube::worn(diameter_mm * MM, thickness_mm * MM, outside, inside);
            built(reader, &path.field("round_tube"), FIELDS, tube)
        }
        Shape::Rectangle(given) => {
            let v1::RectangleShape { height_mm, width_mm } = given;
            const FIELDS: Fields = &[("width", "width_mm"), ("height", "height_mm")];
            let flat = Flat::new(width_mm * MM, height_mm * MM);
            built(reader, &path.field("rectangle"), FIELDS, flat)
        }
        Shape::RoundBar(given) => {
            let v1::RoundBarShape { diameter_mm } = given;
            const FIELDS: Fields = &[("diameter", "diameter_mm")];
            built(reader, &path.field("round_bar"), FIELDS, RoundBar::new(diameter_mm * MM))
        }
        Shape::Hat(given) => hat(reader, &path.field("hat"), given),
        Shape::ThinWalled(given) => thin_walled(reader, &path.field("thin_walled"), given),
        Shape::BuiltUp(given) => built_up(reader, &path.field("built_up"), given),
    }
}

fn rectangular_tube(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::RectangularTubeShape,
) -> Option<SectionShape> {
    let v1::RectangularTubeShape {
        height_mm,
        width_mm,
        thickness_mm,
        outer_radius_mm,
        inner_radius_mm,
        top_thickness_mm,
        bottom_thickness_mm,
        left_thickness_mm,
        right_thickness_mm,
    } = given;
    const FIELDS: Fields = &[
        ("height", "height_mm"),
        ("width", "width_mm"),
        ("wall thickness", "thickness_mm"),
        ("remaining wall thickness", "thickness_mm"),
        ("outer radius", "outer_radius_mm"),
        ("inner radius", "inner_radius_mm"),
    ];
    let own = |other: Option<f64>| TubeWall::sound(other.unwrap_or(thickness_mm) * MM);
    // The wire's left is +y, as on a car; the engine draws y to the right.
    let walls = [top_thickness_mm, bottom_thickness_mm, right_thickness_mm, left_thickness_mm];
    let radii = (outer_radius_mm * MM, inner_radius_mm * MM);
    let walls = walls.map(own);
    let tube = RectangularTube::new(height_mm * MM, width_mm * MM, walls, radii.0, radii.1);
    built(reader, path, FIELDS, tube)
}

fn hat(reader: &mut Reader, path: &Path<'_>, given: v1::HatShape) -> Option<SectionShape> {
    let v1::HatShape {
        top_mm,
        height_mm,
        flange_mm,
        thickness_mm,
        plate_thickness_mm,
        plate_width_mm,
    } = given;
    const FIELDS: Fields = &[
        ("top width", "top_mm"),
        ("height", "height_mm"),
        ("flange width", "flange_mm"),
        ("thickness", "thickness_mm"),
        ("plate thickness", "plate_thickness_mm"),
        ("plate width", "plate_width_mm"),
    ];
    let [top, height, flange, t] = [top_mm, height_mm, flange_mm, thickness_mm].map(|v| v * MM);
    let [plate_t, plate_width] = [plate_thickness_mm, plate_width_mm].map(|v| v * MM);
    let open = plate_t.abs() <= 0.0;
    let hat = if open {
        Hat::open(top, height, flange, t)
    } else {
        Hat::closed(top, height, flange, t, plate_width, plate_t)
    };
    built(reader, path, FIELDS, hat)
}

fn thin_walled(
    reader: &mut Reader,
    path: &Path<'_>,
    given: v1::ThinWalledShape,
) -> Option<SectionShape> {
    let v1::ThinWalledShape { points, walls } = given;
    let nodes: Vec<(f64, f64)> = points
        .into_iter()
        .map(|point| {
            let v1::StressPoint { name: _, y_mm, z_mm } = point;
            (y_mm * MM, z_mm * MM)
        })
        .collect();
    let count = nodes.len();
    let mut sound = true;
    let walls: Vec<MidlineWall> = walls
        .into_iter()
        .enumerate()
        .map(|(index, wall)| {
            let v1::ThinWall { start, end, thickness_mm } = wall;
            let path = path.place("walls", index);
            let mut place = |field, given: i32| {
                let place = usize::try_from(given).ok().filter(|place| *place < count);
                if place.is_none() {
                    let allowed = format!("0 to {}", count.saturating_sub(1));
                    reader.refuse(&path.field(field), given.to_string(), allowed, "");
                    sound = false;
                }
                place.unwrap_or_default()
            };
            let (from, to) = (place("start", start), place("end", end));
            MidlineWall { from, to, t: thickness_mm * MM }
        })
        .collect();
    if !sound {
        return None;
    }
    built(reader, path, &[], Midline::new(nodes, walls).map(MultiCell::new))
}

fn built_up(reader: &mut Reader, path: &Path<'_>, given: v1::BuiltUpShape) -> Option<SectionShape> {
    let v1::BuiltUpShape { pieces } = given;
    let parts: Vec<Option<Placed>> = pieces
        .into_iter()
        .enumerate()
        .map(|(index, piece)| {
            let v1::PlacedShape { shape: inner, y_mm, z_mm, turned_deg } = piece;
            let path = path.place("pieces", index);
            let at = path.field("shape");
            let inner = reader.required(&at, inner)?;
            let shape = shape(reader, &at, inner)?;
            Some(Placed { shape, dy: y_mm * MM, dz: z_mm * MM, rotation: turned_deg * DEG })
        })
        .collect();
    let parts: Vec<Placed> = parts.into_iter().collect::<Option<_>>()?;
    built(reader, path, &[], BuiltUp::new(parts, BuiltUpTorsion::SumOfParts))
}

/// A shape, or its fault at the field that it came from.
fn built<S: Into<SectionShape>>(
    reader: &mut Reader,
    path: &Path<'_>,
    fields: Fields,
    shape: Result<S, SectionError>,
) -> Option<SectionShape> {
    let error = match shape {
        Ok(shape) => return Some(shape.into()),
        Err(error) => error,
    };
    match &error {
        SectionError::Dimension { field, given, allowed, .. } => {
            let known = fields.iter().find(|(words, _)| words == field);
            let at = known.map_or(*path, |(_, name)| path.field(name));
            let given = format!("{field} of {} mm", given / MM);
            reader.refuse(&at, given, allowed.clone(), "");
        }
        SectionError::Overlap { .. }
        | SectionError::NoSuchNode { .. }
        | SectionError::Disconnected { .. }
        | SectionError::Count { .. }
        | SectionError::Straight => {
            reader.refuse(path, error.to_string(), "a section that can be built", "");
        }
    }
    None
}
