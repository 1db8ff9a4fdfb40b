//! A flat plate to be meshed: `mesh.proto`.

use fishplate_proto::v1;
use fishplate_quantity::Fault;
use fishplate_solver::mesh::{
    Circle, Course, Edge, Finer, Hole, HoleShape, Line, Outline, Point, Sizing, Spot,
};

use super::solver::lengths_in_mm;
use super::{Names, Reader, direction, position, unit};
use crate::limits::MESH_ELEMENTS;
use crate::path::Path;
use crate::units::MM;

/// A plate to mesh.
#[derive(Debug)]
pub(crate) struct Asked {
    pub(crate) outline: Outline,
    pub(crate) sizing: Sizing,
    pub(crate) plane: Plane,
    /// What the names of the nodes begin with.
    pub(crate) prefix: String,
}

/// A plane in space.
#[derive(Debug)]
pub(crate) struct Plane {
    origin: [f64; 3],
    x: [f64; 3],
    y: [f64; 3],
}

impl Plane {
    /// A point of the plane in space, m.
    pub(crate) fn place(&self, [x, y]: Point) -> [f64; 3] {
        [0, 1, 2].map(|i| self.origin[i] + x * self.x[i] + y * self.y[i])
    }
}

/// Reads a request.
pub(crate) fn asked(reader: &mut Reader, request: v1::MeshPlateRequest) -> Option<Asked> {
    let v1::MeshPlateRequest { outline, sizing, plane, node_prefix } = request;
    let path = Path::ROOT.field("outline");
    let outline = reader.required(&path, outline).map(|given| read_outline(reader, &path, given));
    let path = Path::ROOT.field("sizing");
    let sizing = reader.required(&path, sizing).map(|given| read_sizing(reader, &path, given));
    let plane = read_plane(reader, plane);
    Some(Asked { outline: outline?, sizing: sizing?, plane, prefix: node_prefix })
}

fn read_outline(reader: &mut Reader, path: &Path<'_>, given: v1::PlateOutline) -> Outline {
    let v1::PlateOutline { name, edges, holes, lines, circles, points } = given;
    for (list, what, names) in [
        ("outline.edges", "edge", edges.iter().map(|e| e.name.as_str()).collect::<Vec<_>>()),
        ("outline.holes", "hole", holes.iter().map(|h| h.name.as_str()).collect()),
        ("outline.lines", "line", lines.iter().map(|l| l.name.as_str()).collect()),
        ("outline.circles", "circle", circles.iter().map(|c| c.name.as_str()).collect()),
        ("outline.points", "point", points.iter().map(|p| p.name.as_str()).collect()),
    ] {
        Names::read_by(reader, list, "name", what, names.into_iter());
    }
    let edges = edges
        .into_iter()
        .enumerate()
        .map(|(index, given)| edge(reader, &path.place("edges", index), given));
    let edges = edges.collect();
    let holes = holes
        .into_iter()
        .enumerate()
        .map(|(index, given)| hole(reader, &path.place("holes", index), given));
    let holes = holes.collect();
    let lines = lines.into_iter().map(|given| {
        let v1::OutlineLine { name, points } = given;
        Line { name, points: points.into_iter().map(point).collect() }
    });
    let circles = circles.into_iter().enumerate().map(|(index, given)| {
        let v1::OutlineCircle { name, centre, diameter_mm } = given;
        let path = path.place("circles", index);
        let centre = needed(reader, &path.field("centre"), centre);
        Circle { name, centre, diameter: diameter_mm * MM }
    });
    let circles = circles.collect();
    let points = points.into_iter().enumerate().map(|(index, given)| {
        let v1::OutlinePoint { name, at } = given;
        let path = path.place("points", index);
        Spot { name, at: needed(reader, &path.field("at"), at) }
    });
    let points = points.collect();
    Outline { name, edges, holes, lines: lines.collect(), circles, points }
}

fn edge(reader: &mut Reader, path: &Path<'_>, given: v1::OutlineEdge) -> Edge {
    use v1::outline_edge::Course as Given;
    let v1::OutlineEdge { name, start, course } = given;
    let start = needed(reader, &path.field("start"), start);
    let course = match course {
        None => Course::Straight,
        Some(Given::Over(over)) => Course::Over(point(over)),
        Some(Given::Through(over)) => Course::Through(over.points.into_iter().map(point).collect()),
        Some(Given::Nodes(over)) => Course::Nodes(over.points.into_iter().map(point).collect()),
    };
    Edge { name, start, course }
}

fn hole(reader: &mut Reader, path: &Path<'_>, given: v1::OutlineHole) -> Hole {
    use v1::outline_hole::Shape as Given;
    let v1::OutlineHole { name, shape } = given;
    let shape = match shape {
        Some(Given::Round(v1::RoundHole { centre, diameter_mm })) => {
            let path = path.field("round");
            let centre = needed(reader, &path.field("centre"), centre);
            HoleShape::Circle { centre, diameter: diameter_mm * MM }
        }
        Some(Given::Slot(v1::SlotHole { from, to, width_mm })) => {
            let path = path.field("slot");
            let from = needed(reader, &path.field("from"), from);
            let to = needed(reader, &path.field("to"), to);
            HoleShape::Slot { from, to, width: width_mm * MM }
        }
        Some(Given::Polygon(corners)) => {
            HoleShape::Polygon(corners.points.into_iter().map(point).collect())
        }
        None => {
            reader.refuse(path, "nothing", "`round`, `slot` or `polygon`", "");
            HoleShape::Polygon(Vec::new())
        }
    };
    Hole { name, shape }
}

fn read_sizing(reader: &mut Reader, path: &Path<'_>, given: v1::MeshSizing) -> Sizing {
    let v1::MeshSizing {
        target_mm,
        least_mm,
        growth,
        around_holes,
        at_reentrant_corners_mm,
        at_line_ends_mm,
        finer,
    } = given;
    let usual = Sizing::uniform(target_mm * MM);
    let around_holes = around_holes.map(|given| {
        let count = usize::try_from(given).ok();
        if count.is_none() {
            let allowed = "a multiple of 8, from 8 to 4096";
            reader.refuse(&path.field("around_holes"), given.to_string(), allowed, "");
        }
        count.unwrap_or(usual.around_holes)
    });
    let finer = finer.into_iter().enumerate().map(|(index, given)| {
        let v1::FinerPlace { from, to, size_mm } = given;
        let path = path.place("finer", index);
        let from = needed(reader, &path.field("from"), from);
        Finer { from, to: needed(reader, &path.field("to"), to), size: size_mm * MM }
    });
    Sizing {
        finer: finer.collect(),
        least: least_mm.map_or(usual.least, |given| given * MM),
        growth: growth.unwrap_or(usual.growth),
        around_holes: around_holes.unwrap_or(usual.around_holes),
        at_reentrant_corners: at_reentrant_corners_mm.map(|given| given * MM),
        at_line_ends: at_line_ends_mm.map(|given| given * MM),
        most_elements: MESH_ELEMENTS,
        target: usual.target,
    }
}

fn read_plane(reader: &mut Reader, given: Option<v1::PlatePlane>) -> Plane {
    let v1::PlatePlane { origin, x_axis, y_direction } = given.unwrap_or_default();
    let path = Path::ROOT.field("plane");
    let x = direction(reader, &path.field("x_axis"), x_axis).unwrap_or([1.0, 0.0, 0.0]);
    let toward = direction(reader, &path.field("y_direction"), y_direction);
    let toward = toward.unwrap_or([0.0, 1.0, 0.0]);
    let along: f64 = (0..3).map(|i| x[i] * toward[i]).sum();
    let across = [0, 1, 2].map(|i| toward[i] - along * x[i]);
    // Closer than this (rad) the plane would hang on rounding.
    let apart = across.iter().map(|c| c * c).sum::<f64>().sqrt() > 1e-6;
    let y = unit(across).filter(|_| apart).unwrap_or_else(|| {
        let given = if y_direction.is_some() { "a direction along x_axis" } else { "nothing" };
        let advice = "left out it is global y, which lies along this x_axis";
        let advice = if y_direction.is_some() { "" } else { advice };
        reader.refuse(&path.field("y_direction"), given, "a direction across x_axis", advice);
        [0.0, 1.0, 0.0]
    });
    Plane { origin: position(origin), x, y }
}

fn point(given: v1::PlanePoint) -> Point {
    let v1::PlanePoint { x_mm, y_mm } = given;
    [x_mm * MM, y_mm * MM]
}

fn needed(reader: &mut Reader, path: &Path<'_>, given: Option<v1::PlanePoint>) -> Point {
    reader.required(path, given).map_or([f64::NAN; 2], point)
}

/// A fault of the mesher, whose paths go by names (``holes[`bolt`].centre``), in the terms of the
/// request.
pub(crate) fn in_wire_terms(outline: &Outline, fault: Fault) -> Fault {
    let Fault { path, given, allowed, advice } = fault;
    let in_words = |text: &str| lengths_in_mm(&things(text));
    let (path, thing) = wire_path(outline, &path);
    let given = in_words(&given);
    let given = if thing.is_empty() { given } else { format!("{thing}: {given}") };
    Fault { path, given, allowed: in_words(&allowed), advice: in_words(&advice) }
}

/// Lists of an outline with what one entry is.
const LISTS: [(&str, &str); 5] = [
    ("edges", "edge"),
    ("holes", "hole"),
    ("lines", "line"),
    ("circles", "circle"),
    ("points", "point"),
];

/// The field, and the thing by its name.
fn wire_path(outline: &Outline, path: &str) -> (String, String) {
    if let Some(field) = path.strip_prefix("sizing.") {
        let field = match field.rsplit('.').next().unwrap_or(field) {
            "target" | "least" | "at_reentrant_corners" | "at_line_ends" | "size" => {
                format!("{field}_mm")
            }
            // The limit is the server's own.
            "most_elements" => "target_mm".to_owned(),
            _ => field.to_owned(),
        };
        return (format!("sizing.{field}"), String::new());
    }
    let named = LISTS.iter().find_map(|(list, what)| {
        let name = path.strip_prefix(list)?.strip_prefix("[`")?.split_once("`]")?.0;
        Some((*list, *what, name))
    });
    let Some((list, what, name)) = named else { return ("outline".to_owned(), String::new()) };
    let mut names: Box<dyn Iterator<Item = &String>> = match list {
        "edges" => Box::new(outline.edges.iter().map(|e| &e.name)),
        "holes" => Box::new(outline.holes.iter().map(|h| &h.name)),
        "lines" => Box::new(outline.lines.iter().map(|l| &l.name)),
        "circles" => Box::new(outline.circles.iter().map(|c| &c.name)),
        _ => Box::new(outline.points.iter().map(|p| &p.name)),
    };
    let path = match names.position(|known| known == name) {
        Some(place) => format!("outline.{list}[{place}]"),
        None => format!("outline.{list}"),
    };
    (path, format!("{what} `{name}`"))
}

/// ``edges[`free`]`` becomes ``edge `free` ``.
fn things(text: &str) -> String {
    LISTS.iter().fold(text.to_owned(), |text, (list, what)| {
        let start = format!("{list}[`");
        let mut parts = text.split(&start);
        let mut out = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            out.push_str(&format!("{what} `{}", part.replacen("`]", "`", 1)));
        }
        out
    })
}
