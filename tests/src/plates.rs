//! Short words for meshes, and for structures made of one.

use std::collections::BTreeMap;

use fishplate_proto::v1;

use crate::structure::{Answer, CaseAnswer, Structure, Vec3, load_case, position, vector, wrench};

/// Nodes and elements; an element names its corners, anticlockwise seen from its top.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Mesh {
    /// Where the nodes are.
    pub nodes: Vec<Vec3>,
    /// Three or four corners each.
    pub elements: Vec<Vec<usize>>,
}

/// What elements a mesh has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Four corners.
    Quads,
    /// Each of those cut in two along the diagonal from its first corner.
    Triangles,
}

impl Shape {
    /// Both.
    pub const BOTH: [Self; 2] = [Self::Quads, Self::Triangles];

    /// As a reader calls it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Quads => "quadrilaterals",
            Self::Triangles => "triangles",
        }
    }
}

fn between(a: Vec3, b: Vec3, part: f64) -> Vec3 {
    [0, 1, 2].map(|i| a[i] + part * (b[i] - a[i]))
}

fn apart(a: Vec3, b: Vec3) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1]).hypot(a[2] - b[2])
}

impl Mesh {
    /// `n` by `m` quadrilaterals over the unit square, put in their places by `place`; node (i, j)
    /// is `i + j (n + 1)`.
    #[must_use]
    pub fn grid(n: usize, m: usize, place: impl Fn(f64, f64) -> Vec3) -> Self {
        let part = |i: usize, of: usize| i as f64 / of as f64;
        let nodes = (0..=m).flat_map(|j| (0..=n).map(move |i| (part(i, n), part(j, m))));
        let at = |i: usize, j: usize| i + j * (n + 1);
        let quad = |i, j| vec![at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
        let elements = (0..m).flat_map(|j| (0..n).map(move |i| quad(i, j)));
        Self { nodes: nodes.map(|(u, v)| place(u, v)).collect(), elements: elements.collect() }
    }

    /// Triangles that fill a disc: `rings` round its centre, node 0, the ring k of 6 k nodes.
    #[must_use]
    pub fn disc(rings: usize, radius: f64) -> Self {
        let first = |ring: usize| if ring == 0 { 0 } else { 1 + 3 * ring * (ring - 1) };
        let at = |ring: usize, place: usize| {
            first(ring) + if ring == 0 { 0 } else { place % (6 * ring) }
        };
        let mut mesh = Self { nodes: vec![[0.0; 3]], elements: Vec::new() };
        for ring in 1..=rings {
            let r = radius * ring as f64 / rings as f64;
            for place in 0..6 * ring {
                let (sin, cos) =
                    (std::f64::consts::PI * place as f64 / (3 * ring) as f64).sin_cos();
                mesh.nodes.push([r * cos, r * sin, 0.0]);
            }
            for sector in 0..6 {
                for k in 0..ring {
                    let (inner, outer) = (sector * (ring - 1) + k, sector * ring + k);
                    let tip = at(ring - 1, inner);
                    mesh.elements.push(vec![tip, at(ring, outer), at(ring, outer + 1)]);
                    if k + 1 < ring {
                        let next = at(ring - 1, inner + 1);
                        mesh.elements.push(vec![tip, at(ring, outer + 1), next]);
                    }
                }
            }
        }
        mesh
    }

    /// Cuts quadrilaterals in two where triangles are wanted.
    #[must_use]
    pub fn of(mut self, shape: Shape) -> Self {
        if shape == Shape::Triangles {
            let cut = |corners: Vec<usize>| match corners.as_slice() {
                [a, b, c, d] => vec![vec![*a, *b, *c], vec![*a, *c, *d]],
                _ => vec![corners],
            };
            self.elements = self.elements.into_iter().flat_map(cut).collect();
        }
        self
    }

    /// Cuts each triangle in three quadrilaterals, at its centre and the middles of its edges;
    /// `snap` puts the new nodes where they belong.
    #[must_use]
    pub fn in_three(mut self, snap: impl Fn(Vec3) -> Vec3) -> Self {
        let mut middles: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        let mut elements = Vec::new();
        for corners in std::mem::take(&mut self.elements) {
            let [a, b, c] = [corners[0], corners[1], corners[2]];
            let [ab, bc, ca] = [(a, b), (b, c), (c, a)].map(|(from, to)| {
                let key = if from < to { (from, to) } else { (to, from) };
                *middles.entry(key).or_insert_with(|| {
                    self.nodes.push(snap(between(self.nodes[from], self.nodes[to], 0.5)));
                    self.nodes.len() - 1
                })
            });
            let centre = self.nodes.len();
            let edge = between(self.nodes[a], self.nodes[b], 0.5);
            self.nodes.push(between(edge, self.nodes[c], 1.0 / 3.0));
            elements.push(vec![a, ab, centre, ca]);
            elements.push(vec![b, bc, centre, ab]);
            elements.push(vec![c, ca, centre, bc]);
        }
        self.elements = elements;
        self
    }

    /// With the elements of another mesh; nodes in the same place become one.
    #[must_use]
    pub fn joined(mut self, other: &Self) -> Self {
        let place = |node: &Vec3, nodes: &mut Vec<Vec3>| {
            nodes.iter().position(|known| apart(*known, *node) < 1e-6).unwrap_or_else(|| {
                nodes.push(*node);
                nodes.len() - 1
            })
        };
        let new: Vec<usize> = other.nodes.iter().map(|n| place(n, &mut self.nodes)).collect();
        let renamed = |corners: &Vec<usize>| corners.iter().map(|n| new[*n]).collect();
        self.elements.extend(other.elements.iter().map(renamed));
        self
    }

    /// Nodes that meet a condition.
    #[must_use]
    pub fn those(&self, test: impl Fn(Vec3) -> bool) -> Vec<usize> {
        (0..self.nodes.len()).filter(|n| test(self.nodes[*n])).collect()
    }

    /// The node at a place.
    ///
    /// # Panics
    /// When none is within a millionth of the mean distance of the others.
    #[must_use]
    pub fn at(&self, place: Vec3) -> usize {
        let far = |n: usize| apart(self.nodes[n], place);
        let nearest = (0..self.nodes.len()).reduce(|a, b| if far(b) < far(a) { b } else { a });
        let found = nearest.expect("a mesh has nodes");
        let size: f64 = self.nodes.iter().map(|n| apart(*n, place)).sum();
        assert!(far(found) <= 1e-6 * size / self.nodes.len() as f64, "no node at {place:?}");
        found
    }

    /// Sides of a single element whose both ends meet a condition, in the direction of its corners.
    #[must_use]
    pub fn sides(&self, test: impl Fn(Vec3) -> bool) -> Vec<(usize, usize)> {
        let sides = |corners: &Vec<usize>| {
            let next = |k: usize| corners[(k + 1) % corners.len()];
            (0..corners.len()).map(|k| (corners[k], next(k))).collect::<Vec<_>>()
        };
        let all: Vec<(usize, usize)> = self.elements.iter().flat_map(sides).collect();
        let free = |(a, b): &(usize, usize)| !all.contains(&(*b, *a));
        let wanted = |(a, b): &(usize, usize)| test(self.nodes[*a]) && test(self.nodes[*b]);
        all.iter().filter(|side| wanted(side) && free(side)).copied().collect()
    }

    /// Length of a side.
    #[must_use]
    pub fn length(&self, (a, b): (usize, usize)) -> f64 {
        apart(self.nodes[a], self.nodes[b])
    }
}

/// The name of a node of a mesh.
#[must_use]
pub fn name(node: usize) -> String {
    format!("n{node}")
}

/// A material by its modulus and Poisson's ratio, of the density of steel.
#[must_use]
pub fn isotropic(youngs_modulus_mpa: f64, poisson: f64) -> v1::Material {
    v1::Material {
        id: "m".to_owned(),
        youngs_modulus_mpa,
        shear_modulus_mpa: youngs_modulus_mpa / (2.0 * (1.0 + poisson)),
        density_kg_per_m3: 7850.0,
        expansion_per_k: 0.0,
    }
}

/// A plate `plate` of one mesh, under construction.
#[derive(Debug, Clone)]
pub struct Plated {
    /// The mesh.
    pub mesh: Mesh,
    /// The structure without its supports.
    pub structure: Structure,
    held: BTreeMap<usize, String>,
}

impl Plated {
    /// A plate of this mesh; stresses are asked for.
    #[must_use]
    pub fn new(mesh: Mesh, material: v1::Material, thickness_mm: f64) -> Self {
        let mut structure = Structure::default().material(material);
        structure.0.nodes = nodes(&mesh, name);
        structure.0.plates = vec![plate("plate", &mesh, name, thickness_mm)];
        structure.0.plate_results = Some(v1::PlateResultsAsked {
            stress_plate_ids: vec!["plate".to_owned()],
            ..Default::default()
        });
        Self { mesh, structure, held: BTreeMap::new() }
    }

    /// Holds nodes, `xyz` movements, `XYZ` turns, beside what is held there already.
    #[must_use]
    pub fn hold(mut self, nodes: &[usize], what: &str) -> Self {
        for node in nodes {
            let held = self.held.entry(*node).or_default();
            for letter in what.chars() {
                if !held.contains(letter) {
                    held.push(letter);
                }
            }
        }
        self
    }

    /// Holds the nodes that meet a condition.
    #[must_use]
    pub fn hold_where(self, what: &str, test: impl Fn(Vec3) -> bool) -> Self {
        let nodes = self.mesh.those(test);
        assert!(!nodes.is_empty(), "no node is held by `{what}`");
        self.hold(&nodes, what)
    }

    /// The load case of this name, made where there is none.
    ///
    /// # Panics
    /// Never.
    pub fn case(&mut self, id: &str) -> &mut v1::StructureLoadCase {
        let cases = &mut self.structure.0.load_cases;
        let place = cases.iter().position(|case| case.id == id).unwrap_or_else(|| {
            cases.push(load_case(id));
            cases.len() - 1
        });
        &mut cases[place]
    }

    /// A force at a node.
    #[must_use]
    pub fn force(self, case: &str, node: usize, force: Vec3) -> Self {
        self.twist(case, node, force, [0.0; 3])
    }

    /// A force and a moment at a node.
    #[must_use]
    pub fn twist(mut self, case: &str, node: usize, force: Vec3, moment: Vec3) -> Self {
        let load = Some(wrench(force, moment));
        self.case(case).nodal_loads.push(v1::NodalLoad { node_id: name(node), load });
        self
    }

    /// A pressure on the whole plate, out of its top, MPa.
    #[must_use]
    pub fn press(mut self, case: &str, normal_mpa: f64) -> Self {
        let load = v1::FaceLoad { plate_id: "plate".to_owned(), normal_mpa, ..Default::default() };
        self.case(case).face_loads.push(load);
        self
    }

    /// A force per true area in global directions, N/mm².
    #[must_use]
    pub fn weigh(mut self, case: &str, force: Vec3) -> Self {
        let global_n_per_mm2 = Some(vector(force));
        let plate_id = "plate".to_owned();
        let load = v1::FaceLoad { plate_id, global_n_per_mm2, ..Default::default() };
        self.case(case).face_loads.push(load);
        self
    }

    /// A force per length on free sides whose ends meet a condition, by place, N/mm.
    #[must_use]
    pub fn pull(
        mut self,
        case: &str,
        test: impl Fn(Vec3) -> bool,
        force: impl Fn(Vec3) -> Vec3,
    ) -> Self {
        let sides = self.mesh.sides(test);
        assert!(!sides.is_empty(), "no side is pulled");
        for (from, to) in sides {
            let [first, last] = [from, to].map(|n| Some(vector(force(self.mesh.nodes[n]))));
            self.case(case).edge_loads.push(v1::EdgeLoad {
                from_node_id: name(from),
                to_node_id: name(to),
                from_n_per_mm: first,
                to_n_per_mm: last,
            });
        }
        self
    }

    /// A total force spread evenly over such sides.
    #[must_use]
    pub fn pull_total(self, case: &str, test: impl Fn(Vec3) -> bool, total: Vec3) -> Self {
        let sides = self.mesh.sides(&test);
        let length: f64 = sides.iter().map(|side| self.mesh.length(*side)).sum();
        self.pull(case, test, |_| total.map(|part| part / length))
    }

    /// The structure, its supports in place.
    #[must_use]
    pub fn supported(&self) -> Structure {
        let mut structure = self.structure.clone();
        for (node, what) in &self.held {
            structure = structure.hold(&name(*node), what);
        }
        structure
    }

    /// Solves it.
    ///
    /// # Panics
    /// When the service refuses it.
    #[must_use]
    pub fn solved(&self) -> PlatedAnswer {
        PlatedAnswer(self.supported().solved())
    }

    /// Factors on the first load case at which it buckles.
    ///
    /// # Panics
    /// When the service refuses it.
    #[must_use]
    pub fn buckling(&self) -> f64 {
        let mut structure = self.supported();
        structure.0.buckling = Some(v1::BucklingRequest {
            load_case_id: structure.0.load_cases[0].id.clone(),
            mode_count: 1,
            elements_per_member: 0,
        });
        structure.solved().0.buckling_modes[0].load_factor
    }

    /// Natural frequencies, Hz, lowest first.
    ///
    /// # Panics
    /// When the service refuses it.
    #[must_use]
    pub fn frequencies(&self, count: i32) -> Vec<f64> {
        let mut structure = self.supported();
        structure.0.frequencies =
            Some(v1::FrequencyRequest { mode_count: count, ..Default::default() });
        let modes = structure.solved().0.vibration_modes;
        modes.iter().map(|mode| mode.frequency_hz).collect()
    }
}

/// Nodes of the wire, named by their place in the mesh.
#[must_use]
pub fn nodes(mesh: &Mesh, name: impl Fn(usize) -> String) -> Vec<v1::Node> {
    let places = mesh.nodes.iter().enumerate();
    places.map(|(n, at)| v1::Node { id: name(n), position: Some(position(*at)) }).collect()
}

/// A plate of the wire, of the material `m`.
#[must_use]
pub fn plate(
    id: &str,
    mesh: &Mesh,
    name: impl Fn(usize) -> String,
    thickness_mm: f64,
) -> v1::StructurePlate {
    let element = |corners: &Vec<usize>| v1::PlateElement {
        node_ids: corners.iter().map(|n| name(*n)).collect(),
    };
    v1::StructurePlate {
        id: id.to_owned(),
        material_id: "m".to_owned(),
        thickness_mm,
        elements: mesh.elements.iter().map(element).collect(),
    }
}

/// What came out for a [`Plated`].
#[derive(Debug, Clone, PartialEq)]
pub struct PlatedAnswer(pub Answer);

/// Membrane forces, bending moments and stresses along a direction at a node.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Along {
    /// Membrane stress along it, MPa.
    pub middle: f64,
    /// Moment per length that pulls at the top along it, N.
    pub moment: f64,
}

impl PlatedAnswer {
    /// The results of a load case.
    #[must_use]
    pub fn case(&self, id: &str) -> CaseAnswer<'_> {
        self.0.case(id)
    }

    /// Movement of a node along x, y, z, mm.
    #[must_use]
    pub fn moved(&self, case: &str, node: usize) -> Vec3 {
        let moved = self.case(case).moved(&name(node));
        [moved.move_x_mm, moved.move_y_mm, moved.move_z_mm]
    }

    /// The stresses at a node.
    ///
    /// # Panics
    /// When none were answered there.
    #[must_use]
    pub fn at<'a>(&'a self, case: &str, node: usize) -> &'a v1::PlateNodeStress {
        let wanted = name(node);
        let plates = &self.case(case).0.plate_stresses;
        let found = plates.iter().flat_map(|p| &p.nodes).find(|n| n.node_id == wanted);
        found.unwrap_or_else(|| panic!("no stresses at {wanted}"))
    }

    /// Stress and moment at a node along a global direction.
    ///
    /// # Panics
    /// When none were answered there.
    #[must_use]
    pub fn along(&self, case: &str, node: usize, direction: Vec3) -> Along {
        let here = self.at(case, node);
        let on = |axis: &Option<v1::Vector>| {
            let axis = axis.expect("axes are answered");
            axis.x * direction[0] + axis.y * direction[1] + axis.z * direction[2]
        };
        let (x, y) = (on(&here.x_axis), on(&here.y_axis));
        let size = x.hypot(y);
        let (x, y) = (x / size, y / size);
        let forces = here.forces.expect("forces are answered");
        let middle = forces.middle.expect("stresses are answered");
        let turned = |xx: f64, yy: f64, xy: f64| xx * x * x + yy * y * y + 2.0 * xy * x * y;
        Along {
            middle: turned(middle.x_mpa, middle.y_mpa, middle.xy_mpa),
            moment: turned(
                forces.bending_x_nmm_per_mm,
                forces.bending_y_nmm_per_mm,
                forces.bending_xy_nmm_per_mm,
            ),
        }
    }
}
