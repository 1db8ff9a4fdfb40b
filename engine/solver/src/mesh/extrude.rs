//! Prismatic pieces: the midline of a section drawn along a length.

use super::mesh;
use super::outline::{Circle, Course, Edge, Hole, Line, Outline, Sizing, Spot};
use super::plane::{Piece, Point, apart};
use super::product::{Element, Mark, MarkKind, Mesh, Quality};
use super::ruler::Ruler;
use super::size::SizeField;
use super::{check, divide::TooMany};
use fishplate_quantity::Fault;
use fishplate_quantity::Faults;
use std::collections::{BTreeMap, BTreeSet};

/// The midline of a section: an angle, a channel, a tube, a flat, or any other set of walls.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Name of the piece, told in faults.
    pub name: String,
    /// Corners, free ends and other points at which walls meet: y, z in m.
    pub points: Vec<Point>,
    /// The walls between them.
    pub walls: Vec<Wall>,
}

/// One wall of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Wall {
    /// Its name.
    pub name: String,
    /// Where it starts, by place in the points of the section.
    pub from: usize,
    /// Where it ends.
    pub to: usize,
    /// A point over which it runs as a circular arc, m; `None` for a straight wall.
    pub over: Option<Point>,
    /// Number of elements across it; even where it has features.
    pub across: usize,
    /// What is in it. Only straight walls may have any.
    pub features: Features,
}

/// Holes and imprints of one wall, in its own coordinates: x along the piece from its start,
/// y across the wall from its `from`, m. The names `from`, `to`, `start` and `end` are taken
/// by its edges.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Features {
    /// Openings.
    pub holes: Vec<Hole>,
    /// Lines that become rows of element edges. Those that end on a fold end at a station.
    pub lines: Vec<Line>,
    /// Circles that become rings of element edges.
    pub circles: Vec<Circle>,
    /// Points that become nodes.
    pub points: Vec<Spot>,
}

impl Features {
    fn is_empty(&self) -> bool {
        let Self { holes, lines, circles, points } = self;
        holes.is_empty() && lines.is_empty() && circles.is_empty() && points.is_empty()
    }
}

/// A meshed prismatic piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Extrusion {
    /// Places of the nodes, m: x along the piece, y and z of the section.
    pub points: Vec<[f64; 3]>,
    /// Its walls, which share the nodes where they meet.
    pub walls: Vec<WallMesh>,
}

/// The mesh of one wall.
#[derive(Debug, Clone, PartialEq)]
pub struct WallMesh {
    /// Its name in the section.
    pub name: String,
    /// Elements by places in the points of the piece. Their normals are x times the direction in
    /// which the wall runs.
    pub elements: Vec<Element>,
    /// Nodes on `from` and `to` along the piece, on `start` and `end` across the wall, and on
    /// every feature.
    pub marks: Vec<Mark>,
    /// How good its elements are, in the flattened wall.
    pub quality: Quality,
}

impl WallMesh {
    /// The mark of a name.
    #[must_use]
    pub fn mark(&self, name: &str) -> Option<&Mark> {
        self.marks.iter().find(|mark| mark.name == name)
    }
}

/// Places of nodes along a piece from 0 to `length`, m, with nodes at all `imposed` places and
/// an even number of elements between each two of them. Sizes are taken from the sizing, with
/// `finer` places on the x axis.
///
/// # Errors
/// A sizing or a length that is none, imposed places beyond the piece, and those nearer to each
/// other than half the least size.
pub fn stations(length: f64, imposed: &[f64], sizing: &Sizing) -> Result<Vec<f64>, Vec<Fault>> {
    check::sizing(sizing)?;
    let mut faults = Faults::new();
    if !check::is_size(length) {
        faults.add(
            "length",
            format!("{length} m"),
            "a length above 0",
            "check the number and its unit",
        );
        return faults.or(Vec::new());
    }
    for (i, x) in imposed.iter().enumerate() {
        if !(0.0..=length).contains(x) {
            faults.add(
                format!("imposed[{i}]"),
                format!("{x} m"),
                format!("0 to {length} m"),
                "leave out what is not on the piece",
            );
        }
    }
    if !faults.is_empty() {
        return faults.or(Vec::new());
    }
    let mut stops = vec![0.0, length];
    stops.extend(imposed);
    stops.sort_by(f64::total_cmp);
    stops.dedup_by(|next, kept| *next - *kept <= 1e-9 * length);
    if let Some(last) = stops.last_mut() {
        *last = length;
    }
    let field = SizeField::plain(sizing, length);
    let mut all = vec![0.0];
    let mut left = 16 * sizing.most_elements;
    for pair in stops.windows(2) {
        let [a, b] = [pair[0], pair[1]];
        if b - a < 0.5 * sizing.least {
            faults.add(
                "imposed",
                format!("{:.3} mm between {a} m and {b} m", 1e3 * (b - a)),
                format!("at least {:.3} mm, half the least size", 5e2 * sizing.least),
                "let the two coincide, move them apart, or allow a smaller least size",
            );
            continue;
        }
        let ruler = Ruler::new(b - a, |s| field.at([a + s, 0.0]), &mut left)
            .map_err(|TooMany| vec![check::too_many(sizing)])?;
        all.extend(ruler.between(2 * ruler.pairs()).map(|s| a + s));
        all.push(b);
    }
    faults.or(all)
}

/// Draws a section along stations, m, from the first to the last. Walls without features become
/// grids; those with features are meshed as plates whose edges have the nodes of the grid.
///
/// # Errors
/// All faults of the section and the stations, and those of its walls ([`mesh()`]), with paths
/// from `walls["name"]` on.
///
/// ```
/// use fishplate_solver::mesh::{Features, Section, Sizing, Wall, extrude, stations};
///
/// let wall = |name: &str, from, to| Wall {
///     name: name.into(),
///     from,
///     to,
///     over: None,
///     across: 4,
///     features: Features::default(),
/// };
/// let angle = Section {
///     name: "angle".into(),
///     points: vec![[0.04, 0.0], [0.0, 0.0], [0.0, 0.04]],
///     walls: vec![wall("flat", 0, 1), wall("upright", 1, 2)],
/// };
/// let sizing = Sizing::uniform(0.01);
/// let along = stations(0.2, &[0.05], &sizing).expect("places on the piece");
/// let piece = extrude(&angle, &along, &sizing).expect("a sound section");
/// assert_eq!(piece.points.len(), along.len() * 9);
/// ```
pub fn extrude(
    section: &Section,
    stations: &[f64],
    sizing: &Sizing,
) -> Result<Extrusion, Vec<Fault>> {
    check::sizing(sizing)?;
    sound(section, stations, sizing)?;
    let mut made = Extrusion { points: Vec::new(), walls: Vec::new() };
    let mut folds: Vec<Vec<usize>> = Vec::new();
    for &p in &section.points {
        folds.push(stations.iter().map(|&x| made.node(x, p)).collect());
    }
    let mut faults = Vec::new();
    for wall in &section.walls {
        let piece = midline(section, wall);
        if wall.features.is_empty() {
            let mesh = made.grid(wall, &piece, stations, [&folds[wall.from], &folds[wall.to]]);
            made.walls.push(mesh);
            continue;
        }
        match mesh(&plate(wall, piece.length(), stations), sizing) {
            Ok(flat) => {
                let mesh =
                    made.plate(wall, &piece, stations, [&folds[wall.from], &folds[wall.to]], flat);
                made.walls.push(mesh);
            }
            Err(found) => faults.extend(found.into_iter().map(|mut fault| {
                fault.path = format!("walls[`{}`].{}", wall.name, fault.path);
                fault
            })),
        }
    }
    let count: usize = made.walls.iter().map(|wall| wall.elements.len()).sum();
    if count > sizing.most_elements {
        faults.push(check::too_many(sizing));
    }
    if faults.is_empty() { Ok(made) } else { Err(faults) }
}

fn midline(section: &Section, wall: &Wall) -> Piece {
    let [a, b] = [section.points[wall.from], section.points[wall.to]];
    wall.over.and_then(|via| Piece::arc_through(a, via, b)).unwrap_or(Piece::Segment { a, b })
}

/// A wall with features laid flat, with the nodes of the grid on all four edges.
fn plate(wall: &Wall, width: f64, stations: &[f64]) -> Outline {
    let [x0, x1] = [stations[0], stations[stations.len() - 1]];
    let inner = &stations[1..stations.len() - 1];
    let across: Vec<f64> =
        (1..wall.across).map(|k| width * (k as f64 / wall.across as f64)).collect();
    let edge = |name: &str, start: Point, nodes: Vec<Point>| Edge {
        name: name.to_owned(),
        start,
        course: if nodes.is_empty() { Course::Straight } else { Course::Nodes(nodes) },
    };
    let Features { holes, lines, circles, points } = wall.features.clone();
    Outline {
        name: wall.name.clone(),
        edges: vec![
            edge("from", [x0, 0.0], inner.iter().map(|&x| [x, 0.0]).collect()),
            edge("end", [x1, 0.0], across.iter().map(|&y| [x1, y]).collect()),
            edge("to", [x1, width], inner.iter().rev().map(|&x| [x, width]).collect()),
            edge("start", [x0, width], across.iter().rev().map(|&y| [x0, y]).collect()),
        ],
        holes,
        lines,
        circles,
        points,
    }
}

impl Extrusion {
    fn node(&mut self, x: f64, [y, z]: Point) -> usize {
        self.points.push([x, y, z]);
        self.points.len() - 1
    }

    fn grid(
        &mut self,
        wall: &Wall,
        piece: &Piece,
        stations: &[f64],
        [from, to]: [&Vec<usize>; 2],
    ) -> WallMesh {
        let (m, n) = (stations.len(), wall.across + 1);
        let mut nodes = Vec::with_capacity(m * n);
        // The same nodes in the flattened wall.
        let mut flat = Vec::with_capacity(m * n);
        for (i, &x) in stations.iter().enumerate() {
            for k in 0..n {
                let t = k as f64 / wall.across as f64;
                flat.push([x, t * piece.length()]);
                nodes.push(match k {
                    0 => from[i],
                    _ if k + 1 == n => to[i],
                    _ => self.node(x, piece.at(t)),
                });
            }
        }
        let cells: Vec<[usize; 4]> = (0..m - 1)
            .flat_map(|i| (0..n - 1).map(move |k| i * n + k))
            .map(|k| [k, k + n, k + n + 1, k + 1])
            .collect();
        let row = |name: &str, places: Vec<usize>| Mark {
            name: name.to_owned(),
            kind: MarkKind::Edge,
            nodes: places,
            closed: false,
        };
        let mut marks = vec![
            row("from", (0..m).map(|i| i * n).collect()),
            row("end", (0..n).map(|k| (m - 1) * n + k).collect()),
            row("to", (0..m).rev().map(|i| i * n + n - 1).collect()),
            row("start", (0..n).rev().collect()),
        ];
        let local: Vec<Element> = cells.iter().map(|&cell| Element::Quad(cell)).collect();
        let quality = Quality::of(&flat, &local, &marks);
        for mark in &mut marks {
            mark.nodes.iter_mut().for_each(|k| *k = nodes[*k]);
        }
        WallMesh {
            name: wall.name.clone(),
            elements: cells.iter().map(|cell| Element::Quad(cell.map(|k| nodes[k]))).collect(),
            marks,
            quality,
        }
    }

    /// Takes over the mesh of a wall that was meshed flat.
    fn plate(
        &mut self,
        wall: &Wall,
        piece: &Piece,
        stations: &[f64],
        [from, to]: [&Vec<usize>; 2],
        flat: Mesh,
    ) -> WallMesh {
        let Mesh { points, elements, mut marks, quality } = flat;
        let mut shared: BTreeMap<usize, usize> = BTreeMap::new();
        for (name, fold) in [("from", from), ("to", to)] {
            let along = marks.iter().find(|mark| mark.name == name);
            for &n in along.map_or(&[][..], |mark| &mark.nodes) {
                // These nodes have the places of the stations in the same bits.
                if let Ok(i) = stations.binary_search_by(|x| x.total_cmp(&points[n][0])) {
                    shared.insert(n, fold[i]);
                }
            }
        }
        let width = piece.length();
        let nodes: Vec<usize> = points
            .iter()
            .enumerate()
            .map(|(n, p)| {
                let known = shared.get(&n).copied();
                known.unwrap_or_else(|| self.node(p[0], piece.at(p[1] / width)))
            })
            .collect();
        for mark in &mut marks {
            mark.nodes.iter_mut().for_each(|n| *n = nodes[*n]);
        }
        let elements = elements
            .iter()
            .map(|element| match element {
                Element::Triangle(corners) => Element::Triangle(corners.map(|n| nodes[n])),
                Element::Quad(corners) => Element::Quad(corners.map(|n| nodes[n])),
            })
            .collect();
        WallMesh { name: wall.name.clone(), elements, marks, quality }
    }
}

/// All faults of a section and its stations.
fn sound(section: &Section, stations: &[f64], sizing: &Sizing) -> Result<(), Vec<Fault>> {
    let mut faults = Faults::new();
    if stations.len() < 2
        || !stations.iter().all(|&x| check::is_place([x, 0.0]))
        || stations.windows(2).any(|w| !check::is_size(w[1] - w[0]))
    {
        faults.add(
            "stations",
            format!("{} places", stations.len()),
            "two places or more, each farther along than the one before, m",
            "sort them and leave out those that are there twice",
        );
    }
    for (i, &p) in section.points.iter().enumerate() {
        let path = format!("points[{i}]");
        if !check::is_place(p) {
            faults.add(
                path,
                format!("({}, {}) m", p[0], p[1]),
                "finite numbers up to 1e4 m",
                "check the numbers and their unit",
            );
        } else if !section.walls.iter().any(|w| w.from == i || w.to == i) {
            faults.add(path, "no wall ends there", "ends of walls", "leave it out");
        }
    }
    if section.walls.is_empty() {
        faults.add("walls", "none", "one wall or more", "give the walls of the section");
    }
    let mut names: BTreeSet<&str> = BTreeSet::new();
    for wall in &section.walls {
        let path = format!("walls[`{}`]", wall.name);
        if !names.insert(&wall.name) {
            faults.add(&path, "the name is there twice", "names that differ", "rename one of them");
        }
        let most = sizing.most_elements;
        if wall.across == 0 || wall.across.saturating_mul(stations.len()) > 2 * most {
            faults.add(
                format!("{path}.across"),
                wall.across.to_string(),
                format!("at least 1, and at most {most} elements in all"),
                "4 to 8 are common",
            );
        }
        let (Some(&a), Some(&b)) = (section.points.get(wall.from), section.points.get(wall.to))
        else {
            faults.add(
                path,
                format!("it runs from point {} to point {}", wall.from, wall.to),
                format!("0 to {}", section.points.len().saturating_sub(1)),
                "refer to points that exist",
            );
            continue;
        };
        if !check::is_size(apart(a, b)) {
            faults.add(
                path,
                "no length between its ends",
                "ends apart from each other",
                "leave it out; give a tube by two walls or more",
            );
            continue;
        }
        if let Some(via) = wall.over {
            if !check::is_place(via) || Piece::arc_through(a, via, b).is_none() {
                faults.add(
                    format!("{path}.over"),
                    format!("({}, {}) m", via[0], via[1]),
                    "a point off the line between its ends",
                    "leave it out for a straight wall",
                );
            }
            if !wall.features.is_empty() {
                faults.add(
                    format!("{path}.features"),
                    "features in a curved wall",
                    "features in straight walls",
                    "give the curve as straight walls, with the features in one of them",
                );
            }
        }
    }
    faults.or(())
}
