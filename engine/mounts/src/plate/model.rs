//! A group as a structure of plates for the solver.

use fishplate_quantity::algebra::{larger, smaller};
use fishplate_solver::model::{FrameDraft, LoadCase, MaterialId, Node, NodeId};
use fishplate_solver::plates::model::{
    Bearing, Bolt, Contact, Element, Onto, Plate, PlateDraft, PlateId, Ring, Seam, Spot, Spread,
    SpreadKind,
};

use super::group::Members;
use super::imprint::imprints;
use super::joint::{FacingAt, Joints, RunAt, joints};
use super::loads::{Key, Loads};
use super::net::{Fineness, Net, net};
use super::rail::{Rest, Stretch, holds_inside, stretches};
use super::result::{BoltOf, Contents, FacingOf, RunOf, SpotOf, ToeOf, WallOf};
use super::sheet::{Sheet, sheets};
use crate::checks::Setting;
use crate::design::{Design, Run, TOUCH, Vec3};
use crate::frames::STEEL;

/// What is said where bolts clamp faces.
const SLIDING: &str = "faces that bolts clamp press on each other and slide freely: the shanks \
    take the shear, where welds hold the same parts only after the play in their holes; bolts have \
    their least preload in service and none under factored loads, where only pull and prying count; a \
    sleeve takes pressure only";

/// Fewest nodes that stand for the ring under a bush.
const FEWEST: usize = 6;

/// Distance of places of contact over both thicknesses together: pressure spreads through them, and
/// what is nearer cannot be told apart (own choice, no source).
const APART: f64 = 1.5;

/// A group in one mesh, ready for the solver.
pub(super) struct Model {
    pub(super) draft: PlateDraft,
    pub(super) contents: Contents,
    pub(super) sheets: Vec<Sheet>,
    pub(super) net: Net,
    pub(super) joints: Joints,
    /// Sheet of each plate.
    pub(super) sheet_of: Vec<usize>,
    /// Seams of each run, each with its start along the run, m.
    pub(super) seams: Vec<Vec<(usize, f64)>>,
    /// Contacts of each facing.
    pub(super) contacts: Vec<Vec<usize>>,
    /// Node of each mount of the group.
    pub(super) hardpoints: Vec<NodeId>,
    /// What each load case is.
    pub(super) cases: Vec<Key>,
    /// What was taken for granted.
    pub(super) told: Vec<String>,
}

/// A model with the cases that are solved together.
pub(super) struct Variant {
    pub(super) draft: PlateDraft,
    /// What its load cases are.
    pub(super) keys: Vec<Key>,
}

impl Model {
    /// One variant where nothing is tightened; else one without preload for the cases with load
    /// factors, and one with it for all others.
    pub(super) fn variants(&self) -> Vec<Variant> {
        let tight = |draft: &PlateDraft| {
            draft.bolts.iter().any(|b| b.preload > 0.0)
                || draft.contacts.iter().any(|c| c.gap < 0.0)
        };
        let whole = Variant { draft: self.draft.clone(), keys: self.cases.clone() };
        if !tight(&whole.draft) {
            return vec![whole];
        }
        let part = |factored: bool| {
            let mut draft = self.draft.clone();
            let all = std::mem::take(&mut draft.frame.load_cases);
            let mut keys = Vec::new();
            for (key, case) in self.cases.iter().zip(all) {
                if matches!(key, Key::Factored(..)) == factored {
                    keys.push(*key);
                    draft.frame.load_cases.push(case);
                }
            }
            if factored {
                draft.bolts.iter_mut().for_each(|b| b.preload = 0.0);
                draft.contacts.iter_mut().filter(|c| c.gap < 0.0).for_each(|c| c.gap = 0.0);
            }
            Variant { draft, keys }
        };
        vec![part(true), part(false)]
    }
}

/// What both meshes of a group share.
pub(super) struct Plan<'a, 's> {
    setting: &'a Setting<'s>,
    members: &'a Members,
    sheets: Vec<Sheet>,
    joints: Joints,
    /// Stretches of each sheet; one without measured thickness is one stretch.
    stretches: Vec<Vec<Stretch>>,
}

impl<'a, 's> Plan<'a, 's> {
    /// Lays out the sheets and joints of a group.
    ///
    /// # Errors
    /// What cannot be modelled, naming it.
    pub(super) fn new(setting: &'a Setting<'s>, members: &'a Members) -> Result<Self, String> {
        let design = setting.design;
        if members.pieces.is_empty() {
            let name = &design.mounts[members.mounts[0]].name;
            return Err(format!("mount {name}: nothing leads to a rail"));
        }
        let mut list = Vec::new();
        for body in members.all() {
            if let Some(why) = design.misplaced(body) {
                return Err(format!("{}: {why}", design.body(body).name));
            }
            let piece = members.piece(body).or_else(|| {
                members.guests.contains(&body).then(|| near_piece(design, members, body)).flatten()
            });
            list.extend(sheets(design, body, piece)?);
        }
        let joints = joints(setting, members, &list)?;
        let mut all = Vec::new();
        for sheet in &list {
            all.push(match members.piece(sheet.body) {
                Some(piece) => stretches(design, piece, &joints)?,
                None => vec![Stretch {
                    from: f64::NEG_INFINITY,
                    to: f64::INFINITY,
                    thickness: sheet.thickness,
                }],
            });
        }
        Ok(Self { setting, members, sheets: list, joints, stretches: all })
    }

    /// The model in one mesh.
    ///
    /// # Errors
    /// What cannot be meshed, naming it.
    pub(super) fn model(&self, fineness: Fineness, loads: &Loads<'_>) -> Result<Model, String> {
        let design = self.setting.design;
        let mut marks = Vec::new();
        for (s, sheet) in self.sheets.iter().enumerate() {
            let Some(piece) = self.members.piece(sheet.body) else { continue };
            let mut levels: Vec<f64> =
                self.stretches[s].iter().skip(1).map(|stretch| stretch.from).collect();
            levels.extend(holds_inside(design, piece));
            levels.sort_by(f64::total_cmp);
            levels.dedup_by(|a, b| (*a - *b).abs() < 1e-3);
            marks.push((s, levels));
        }
        let imprints = imprints(design, &self.sheets, &self.joints, &marks);
        let net = net(&self.sheets, &imprints, fineness)?;
        let mut maker = Maker {
            plan: self,
            design,
            net: &net,
            draft: PlateDraft::default(),
            contents: Contents::default(),
            sheet_of: Vec::new(),
            told: self.joints.told.clone(),
        };
        for (sheet, imprint) in self.sheets.iter().zip(&imprints) {
            for hole in &imprint.broken_out {
                maker.told.push(format!(
                    "the hole of {hole} comes within the edge of {}: it is left out of the plates, \
                     and cannot be drilled as drawn",
                    sheet.name
                ));
            }
        }
        maker.draft.frame = FrameDraft {
            nodes: net.nodes.iter().map(|p| Node { position: (*p).into() }).collect(),
            materials: vec![STEEL],
            ..FrameDraft::default()
        };
        maker.plates();
        let seams = maker.seams()?;
        maker.spots();
        maker.bolts();
        let contacts = maker.contacts();
        if !maker.draft.bolts.is_empty() {
            maker.told.push(SLIDING.to_owned());
        }
        let hardpoints = maker.hardpoints()?;
        let loaded = loads.elsewhere();
        let rest = Rest {
            design,
            members: self.members,
            sheets: &self.sheets,
            net: &net,
            loaded: &loaded,
        };
        let (frame, spreads) = (&mut maker.draft.frame, &mut maker.draft.spreads);
        let (rail_nodes, told) = rest.add(frame, spreads)?;
        maker.told.extend(told);
        for bar in &self.members.left_out {
            maker.told.push(format!(
                "{} joins the piece of rail but is left out: it would only hold it",
                design.body(*bar).name
            ));
        }
        let preloaded = maker.draft.bolts.iter().any(|b| b.preload > 0.0)
            || maker.draft.contacts.iter().any(|c| c.gap < 0.0);
        let positions: Vec<Vec3> =
            maker.draft.frame.nodes.iter().map(|n| Vec3::from(n.position)).collect();
        let (cases, made): (Vec<Key>, Vec<LoadCase>) =
            loads.cases(&hardpoints, &rail_nodes, &positions, preloaded).into_iter().unzip();
        maker.draft.frame.load_cases = made;
        maker.contents.cuts = loads.cuts();
        let Maker { draft, contents, sheet_of, told, .. } = maker;
        Ok(Model {
            draft,
            contents,
            sheets: self.sheets.clone(),
            net,
            joints: self.joints.clone(),
            sheet_of,
            seams,
            contacts,
            hardpoints,
            cases,
            told,
        })
    }
}

/// The piece of rail beside a guest.
fn near_piece<'m>(
    design: &Design,
    members: &'m Members,
    body: crate::design::BodyId,
) -> Option<&'m super::group::Piece> {
    let y = |b: crate::design::BodyId| design.body(b).wall_centre(0).y;
    members
        .pieces
        .iter()
        .min_by(|a, b| (y(a.rail) - y(body)).abs().total_cmp(&(y(b.rail) - y(body)).abs()))
}

struct Maker<'a, 'p, 's> {
    plan: &'a Plan<'p, 's>,
    design: &'s Design,
    net: &'a Net,
    draft: PlateDraft,
    contents: Contents,
    sheet_of: Vec<usize>,
    told: Vec<String>,
}

impl Maker<'_, '_, '_> {
    /// One plate a sheet and stretch.
    fn plates(&mut self) {
        for (s, sheet) in self.plan.sheets.iter().enumerate() {
            let body = self.design.body(sheet.body);
            let stretches = &self.plan.stretches[s];
            let mut cells: Vec<Vec<Element>> = vec![Vec::new(); stretches.len()];
            for cell in &self.net.sheets[s].cells {
                let middle =
                    cell.iter().map(|n| self.net.nodes[*n]).sum::<Vec3>() / count(cell.len());
                let place = stretches.iter().position(|t| middle.x <= t.to).unwrap_or(0);
                cells[place].push(element(cell));
            }
            for (stretch, elements) in stretches.iter().zip(cells) {
                let name = if stretches.len() > 1 {
                    format!(
                        "{} from x {:.0} to {:.0} mm",
                        sheet.name,
                        stretch.from * 1e3,
                        stretch.to * 1e3
                    )
                } else {
                    sheet.name.clone()
                };
                self.draft.plates.push(Plate {
                    name: name.clone(),
                    material: MaterialId(0),
                    thickness: stretch.thickness,
                    elements,
                });
                self.sheet_of.push(s);
                self.contents.walls.push(WallOf {
                    body: sheet.body,
                    wall: sheet.wall,
                    name,
                    thickness: stretch.thickness,
                    stretch: (stretch.from, stretch.to),
                    fy: body.steel.fy,
                });
            }
        }
    }

    fn plates_of(&self, sheet: usize) -> Vec<PlateId> {
        (0..self.sheet_of.len()).filter(|p| self.sheet_of[*p] == sheet).map(PlateId).collect()
    }

    /// The plate of a sheet at a place along x.
    fn plate_at(&self, sheet: usize, x: f64) -> PlateId {
        let all = self.plates_of(sheet);
        let found = all.iter().find(|p| x <= self.contents.walls[p.0].stretch.1 + TOUCH);
        found.or(all.last()).copied().unwrap_or(PlateId(0))
    }

    fn thickness(&self, plate: PlateId) -> f64 {
        self.draft.plates[plate.0].thickness
    }

    fn seams(&mut self) -> Result<Vec<Vec<(usize, f64)>>, String> {
        let mut seams = Vec::new();
        for at in &self.plan.joints.runs {
            let weld = &self.design.welds[at.weld.0];
            let run = &weld.runs[at.run];
            let name = format!("{}, run {}", weld.name, at.run + 1);
            let along = (run.end - run.start).normalize();
            let mut cuts = vec![at.along.0, at.along.1];
            for sheet in [at.edge, at.onto] {
                for stretch in self.plan.stretches[sheet].iter().skip(1) {
                    if along.x.abs() > 1e-6 {
                        cuts.push((stretch.from - run.start.x) / along.x);
                    }
                }
            }
            cuts.retain(|c| *c >= at.along.0 && *c <= at.along.1);
            cuts.sort_by(f64::total_cmp);
            cuts.dedup_by(|a, b| (*a - *b).abs() < 1e-4);
            let shift = self.shift(at, run);
            let mut parts = Vec::new();
            let mut thickness = [f64::INFINITY; 2];
            let mut first = None;
            for pair in cuts.windows(2) {
                let middle = run.start + along * ((pair[0] + pair[1]) / 2.0);
                let plates = [at.edge, at.onto].map(|s| self.plate_at(s, middle.x));
                for k in 0..2 {
                    thickness[k] = smaller(thickness[k], self.thickness(plates[k]));
                }
                first.get_or_insert(plates);
                self.draft.seams.push(Seam {
                    name: name.clone(),
                    edge: plates[0],
                    onto: plates[1],
                    path: [pair[0], pair[1]]
                        .iter()
                        .map(|s| (run.start + along * *s + shift).into())
                        .collect(),
                    leg_on: run.leg_on.into(),
                    leg_up: run.leg_up.into(),
                });
                parts.push((self.draft.seams.len() - 1, pair[0]));
            }
            let Some(plates) = first else {
                return Err(format!("{name} has no length on its plates"));
            };
            let place = self.contents.runs.len();
            self.contents.runs.push(RunOf {
                weld: at.weld,
                run: at.run,
                throat: weld.throat().unwrap_or(0.0),
                length: at.along.1 - at.along.0,
                thickness,
            });
            for (onto, wall) in [(true, plates[1]), (false, plates[0])] {
                let away = if onto { run.leg_on } else { run.leg_up };
                self.contents.toes.push(ToeOf { run: place, wall: wall.0, onto, away });
            }
            seams.push(parts);
        }
        Ok(seams)
    }

    /// How a run is moved so that it lies over both of its sheets: a bead may sit a little beside
    /// the edge of a wall.
    fn shift(&self, at: &RunAt, run: &Run) -> Vec3 {
        let along = (run.end - run.start).normalize();
        let middle = run.start + along * ((at.along.0 + at.along.1) / 2.0);
        let mut shift = Vec3::zeros();
        for sheet in [at.onto, at.edge].map(|s| &self.plan.sheets[s]) {
            let place = sheet.plane.local(&(middle + shift));
            if sheet.inside(place) < 0.0 {
                let foot = super::imprint::on_edge(sheet, place);
                let moved = sheet.plane.point(foot) - sheet.plane.point(place);
                shift += moved - along * moved.dot(&along);
            }
        }
        shift
    }

    fn spots(&mut self) {
        for at in &self.plan.joints.spots {
            let weld = &self.design.welds[at.weld.0];
            self.contents.spots.push(SpotOf {
                weld: at.weld,
                number: at.number,
                centre: at.centre,
            });
            let plates = at.sheets.map(|s| self.plate_at(s, at.centre.x));
            self.draft.spots.push(Spot {
                name: format!("{}, plug {}", weld.name, at.number + 1),
                plates,
                centre: at.centre.into(),
                diameter: at.diameter,
            });
        }
    }

    fn bolts(&mut self) {
        for at in &self.plan.joints.bolts {
            let bolts = &self.design.bolts[at.bolt.0];
            let place = bolts.at[at.number];
            self.draft.bolts.push(Bolt {
                name: format!("{}, number {}", bolts.name, at.number + 1),
                head: at.ends[0].into(),
                nut: at.ends[1].into(),
                through: at.sheets.iter().map(|s| self.plate_at(*s, place.x)).collect(),
                material: MaterialId(0),
                diameter: bolts.diameter,
                tensile_area: at.area,
                head_bearing: at.bearing,
                nut_bearing: at.bearing,
                hole: bolts.hole,
                preload: at.preload,
                bearing: if at.play > TOUCH {
                    Bearing::Clearance(at.play)
                } else {
                    Bearing::Fitted
                },
            });
            self.contents.bolts.push(BoltOf {
                bolt: at.bolt,
                number: at.number,
                preload: at.preload,
                at: place,
                passes: at.passes.clone(),
                clamps: at.clamps.clone(),
            });
        }
    }

    fn contacts(&mut self) -> Vec<Vec<usize>> {
        let mut contacts = Vec::new();
        for at in &self.plan.joints.facings {
            let mut list = Vec::new();
            for of in self.plates_of(at.sheets[0]) {
                for onto in self.plates_of(at.sheets[1]) {
                    if self.face(at, of, onto) {
                        list.push(self.contact(at, of, onto));
                    }
                }
            }
            self.contents.facings.push(FacingOf {
                name: at.name.clone(),
                between: at.sheets.map(|s| self.plan.sheets[s].body),
                bridge: at.bridge.as_ref().map(|b| b.body),
            });
            contacts.push(list);
        }
        contacts
    }

    /// Whether a part of two plates' stretches face each other.
    fn face(&self, at: &FacingAt, of: PlateId, onto: PlateId) -> bool {
        let range = |plate: PlateId| {
            let xs = self.draft.plates[plate.0]
                .elements
                .iter()
                .flat_map(|e| e.nodes().iter().map(|n| self.net.nodes[n.0].x));
            xs.fold((f64::INFINITY, f64::NEG_INFINITY), |r, x| (smaller(r.0, x), larger(r.1, x)))
        };
        let (a, b) = (range(of), range(onto));
        let (low, high) = (larger(a.0, b.0), smaller(a.1, b.1));
        match &at.bridge {
            Some(bridge) => low < bridge.centre.x && high > bridge.centre.x,
            None => high - low > TOUCH,
        }
    }

    fn contact(&mut self, at: &FacingAt, of: PlateId, onto: PlateId) -> usize {
        let within = at.bridge.as_ref().map(|b| {
            let mut axis = [0.0; 3];
            axis[b.axis] = 1.0;
            Ring { centre: b.centre.into(), axis, inside: b.bore, outside: b.outside }
        });
        self.draft.contacts.push(Contact {
            name: at.name.clone(),
            of,
            onto: Onto::Plate(onto),
            within,
            gap: at.bridge.as_ref().map_or(0.0, |b| -b.proud),
            stiffness: at.bridge.as_ref().map(super::joint::Bridge::stiffness),
            bridged: at.bridge.as_ref().map_or(0.0, |b| b.length),
            friction: None,
            spacing: if at.bridge.is_some() {
                0.0
            } else {
                APART * [of, onto].map(|p| self.draft.plates[p.0].thickness).iter().sum::<f64>()
            },
        });
        self.draft.contacts.len() - 1
    }

    /// The nodes at the bush centres, each moving with the ring that its bush presses on.
    fn hardpoints(&mut self) -> Result<Vec<NodeId>, String> {
        let mut made = Vec::new();
        for landing in &self.plan.joints.landings {
            let mount = &self.design.mounts[landing.mount];
            let sheet = &self.plan.sheets[landing.sheet];
            let centre = sheet.plane.local(&landing.centre);
            let (inner, outer) = (landing.ring.0 / 2.0, landing.ring.1 / 2.0);
            let mut area: Vec<usize> = self.net.sheets[landing.sheet]
                .nodes
                .iter()
                .copied()
                .filter(|n| {
                    let p = sheet.plane.local(&self.net.nodes[*n]);
                    let away = (p[0] - centre[0]).hypot(p[1] - centre[1]);
                    away > 0.95 * inner && away < 1.02 * outer
                })
                .collect();
            if area.len() < FEWEST {
                // The mesh is coarse against the ring: the nodes nearest to it stand for it.
                let mut all: Vec<usize> = self.net.sheets[landing.sheet].nodes.clone();
                let away = |n: &usize| {
                    let p = sheet.plane.local(&self.net.nodes[*n]);
                    ((p[0] - centre[0]).hypot(p[1] - centre[1]) - outer).abs()
                };
                all.sort_by(|a, b| away(a).total_cmp(&away(b)).then(a.cmp(b)));
                all.dedup();
                area = all.into_iter().take(FEWEST).collect();
                self.told.push(format!(
                    "mount {}: the mesh of {} is coarse against the ring under its bush; the {FEWEST} \
                     nearest nodes stand for it",
                    mount.name, sheet.name
                ));
            }
            area.sort_unstable();
            area.dedup();
            if area.len() < 4 {
                return Err(format!(
                    "mount {}: too few nodes of {} under its bush",
                    mount.name, sheet.name
                ));
            }
            self.draft.frame.nodes.push(Node { position: mount.at.into() });
            let node = NodeId(self.draft.frame.nodes.len() - 1);
            self.draft.spreads.push(Spread {
                name: format!("bush of mount {}", mount.name),
                node,
                area: area.into_iter().map(NodeId).collect(),
                kind: SpreadKind::Even,
            });
            made.push(node);
        }
        Ok(made)
    }
}

fn element(cell: &[usize]) -> Element {
    match cell {
        [a, b, c] => Element::Triangle([NodeId(*a), NodeId(*b), NodeId(*c)]),
        [a, b, c, d, ..] => Element::Quad([NodeId(*a), NodeId(*b), NodeId(*c), NodeId(*d)]),
        _ => Element::Triangle([NodeId(0); 3]),
    }
}

fn count(n: usize) -> f64 {
    f64::from(u32::try_from(n).unwrap_or(u32::MAX))
}
