//! Bolts: the shank as a beam between head and nut.
//!
//! Head and nut move with the mean motion of their bearing rings, exactly, so that their forces
//! are spread evenly over them. Where the shank touches the walls of its holes it has a node of
//! its own in the middle of each plate; a wall moves with the mean motion of the rim of the hole.
//! The stretch of the shank next to the head is the one that is tightened: it pulls and never
//! pushes.
//!
//! Head and nut bend the shank as their rings turn, but no shear goes through them: what friction
//! under a head could take is not counted on, so that shear passes by the faces and, once they
//! slide, by the walls of the holes. Beside walls a ten-thousandth of the shank's stiffness in
//! shear keeps it in the middle of its holes.
//!
//! A stretch of length L is a beam with shear deformation, written as the springs of its natural
//! modes: twist `G J / L`, even bending `E I / L`, bending with shear
//! `12 E I / (L^3 (1 + p))`, `p = 12 E I / (0.9 G A L^2)` (shear factor 0.9 of a round bar, common
//! practice), elongation `E A_s / L` with the tensile area.
//!
//! Wall and shank yield in bearing as `1 / k = 1 / (t E_plate) + 1 / (t E_bolt)` (Tate and
//! Rosenfeld, NACA TN 1051, 1946, from memory); what the shank gives way in bending and shear is
//! in the beam.

use super::area::{Found, rim, ring};
use super::law::{Block, Law, Owner};
use super::motion::Motion;
use super::row::Row;
use super::site::{Site, fault, length_words, point_words};
use super::surface::across;
use crate::plates::answer::{BoltAnswer, BoltCut};
use crate::plates::model::{Bearing, Bolt, BoltId, PlateId, Ring};
use crate::vector::{Vec3, add, dot, norm, scale, sub};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::larger;
use std::f64::consts::PI;

/// Share of the stiffness in shear of the stretches at head and nut that centres the shank (common
/// practice, no source).
const CENTRED: f64 = 1e-4;
/// Shear factor of a round bar.
const SHEAR: f64 = 0.9;
/// Least share of a bearing ring or a rim that has to lie on the plate (common practice, no
/// source).
const ON_PLATE: f64 = 0.75;

/// A bolt on the meshes of its plates.
#[derive(Clone, Debug)]
pub(crate) struct BoltTie {
    /// From head to nut.
    axis: Vec3,
    /// Square to the shank.
    across: [Vec3; 2],
    stretches: Vec<Stretch>,
    walls: Vec<Wall>,
    /// The block of the stretch next to the head.
    pub(crate) shank: usize,
}

/// A piece of the shank: rows of elongation (of all but the first) and twist, then of even bending
/// about the two directions across; where the shank touches walls, then of shear along them.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    length: f64,
    middle: Vec3,
    first_row: usize,
}

#[derive(Clone, Copy, Debug)]
enum Wall {
    /// The shank never touches it.
    Free,
    /// Two rows.
    Fitted(usize),
    /// A block of two rows.
    Play(usize),
}

/// What the joints of a structure are collected in.
#[derive(Debug)]
pub(crate) struct Gathered<'r> {
    /// Springs that always act.
    pub(crate) rows: &'r mut Vec<Row>,
    /// Springs with a law.
    pub(crate) blocks: &'r mut Vec<Block>,
    /// Places of the nodes that joints bring along.
    pub(crate) nodes: &'r mut Vec<Vec3>,
    /// Number of the first of them.
    pub(crate) first_node: usize,
}

impl BoltTie {
    /// Ties a bolt.
    ///
    /// # Errors
    /// All faults of the bolt.
    pub(crate) fn new(
        site: &Site<'_>,
        id: BoltId,
        to: &mut Gathered<'_>,
    ) -> Result<Self, Vec<Fault>> {
        let bolt = &site.draft.bolts[id.0];
        let place = Place::new(site, id, bolt)?;
        let axis = place.axis;
        let sides = across(axis);
        let (Some(head), Some(nut)) = (place.motion(0, bolt.head), place.motion(1, bolt.nut))
        else {
            return Err(vec![place.no_ring(0, &place.rings[0])]);
        };
        let mut stops = vec![(0.0, head)];
        let mut walls = Vec::new();
        if bolt.bearing == Bearing::Never {
            walls.resize(bolt.through.len(), Wall::Free);
        } else {
            for (i, (at, wall)) in place.walls()?.into_iter().enumerate() {
                let point = add(bolt.head, scale(at, axis));
                let shank = Motion::of_node(to.first_node + to.nodes.len(), point);
                to.nodes.push(point);
                walls.push(place.wall(bolt.through[i], (point, sides), &shank, &wall, to));
                stops.push((at, shank));
            }
        }
        stops.push((place.length, nut));
        let material = &site.draft.frame.materials[bolt.material.0];
        let beam = Beam {
            e: material.youngs_modulus,
            g: material.shear_modulus,
            diameter: bolt.diameter,
            area: bolt.tensile_area,
        };
        let mut stretches = Vec::new();
        let shank = to.blocks.len();
        let last = stops.len() - 2;
        for (i, ends) in stops.windows(2).enumerate() {
            let length = ends[1].0 - ends[0].0;
            let middle = add(bolt.head, scale(0.5 * (ends[0].0 + ends[1].0), axis));
            let motions = [&ends[0].1, &ends[1].1];
            let apart = beam.elongation(motions, middle, axis, length);
            if i == 0 {
                // The law counts the shortening.
                let terms = apart.terms.iter().map(|&(m, c)| (m, -c)).collect();
                to.blocks.push(Block {
                    rows: vec![Row { terms, ..apart }],
                    law: Law::Shank { preload: bolt.preload },
                    owner: Owner::Bolt(id),
                });
            } else {
                to.rows.push(apart);
            }
            to.rows.push(beam.twist(motions, axis, length));
            stretches.push(Stretch { length, middle, first_row: to.rows.len() });
            to.rows.extend(beam.even_bending(motions, sides, length));
            let share = if i == 0 || i == last { CENTRED } else { 1.0 };
            if bolt.bearing != Bearing::Never {
                to.rows.extend(beam.shear(motions, middle, sides, length, share));
            }
        }
        Ok(BoltTie { axis, across: sides, stretches, walls, shank })
    }

    /// The forces of the bolt; `force` gives those of a block.
    pub(crate) fn answer(
        &self,
        id: BoltId,
        rows: &[Row],
        movements: &[f64],
        force: &dyn Fn(usize) -> [f64; 2],
    ) -> BoltAnswer {
        let [y, z] = self.across;
        let vector = |v: [f64; 2]| add(scale(v[0], y), scale(v[1], z));
        let mut bending = 0.0;
        let mut shears = Vec::new();
        for stretch in &self.stretches {
            let row = |i: usize| rows[stretch.first_row + i].force(movements);
            let middle = [row(0), row(1)];
            let shear = if self.stretches.len() > 1 { [row(2), row(3)] } else { [0.0; 2] };
            let lever = 0.5 * stretch.length;
            for end in [-lever, lever] {
                let m = [middle[0] + end * shear[1], middle[1] - end * shear[0]];
                bending = larger(bending, (m[0] * m[0] + m[1] * m[1]).sqrt());
            }
            shears.push(vector(shear));
        }
        let cuts = self.walls.len() - 1;
        let shear = (0..cuts)
            .map(|cut| if shears.len() > 1 { shears[cut + 1] } else { shears[0] })
            .collect();
        let pull = larger(0.0, force(self.shank)[0]);
        let through = (0..cuts)
            .map(|cut| {
                let place = if self.stretches.len() > 1 { cut + 1 } else { 0 };
                let stretch = self.stretches[place];
                let row = |i: usize| rows[stretch.first_row + i].force(movements);
                let twist = rows[stretch.first_row - 1].force(movements);
                let along =
                    if place == 0 { pull } else { rows[stretch.first_row - 2].force(movements) };
                // A spring pulls its far end back towards the side of the head.
                let shear = if self.stretches.len() > 1 { [row(2), row(3)] } else { [0.0; 2] };
                let force = add(vector(shear), scale(along, self.axis));
                let moment = add(vector([row(0), row(1)]), scale(twist, self.axis));
                let ([x, y, z], [mx, my, mz]) = (force, moment);
                BoltCut { force: [-x, -y, -z, -mx, -my, -mz], about: stretch.middle }
            })
            .collect();
        let bearing = self
            .walls
            .iter()
            .map(|wall| match *wall {
                Wall::Free => [0.0; 3],
                Wall::Fitted(first) => vector([0, 1].map(|i| rows[first + i].force(movements))),
                Wall::Play(block) => vector(force(block).map(|f| -f)),
            })
            .collect();
        BoltAnswer { bolt: id, tension: pull, shear, bending, bearing, through }
    }
}

/// Where a bolt sits.
struct Place<'a, 's> {
    site: &'s Site<'a>,
    id: BoltId,
    bolt: &'a Bolt,
    axis: Vec3,
    length: f64,
    /// Bearing rings of head and nut.
    rings: [Found; 2],
}

impl<'a, 's> Place<'a, 's> {
    fn new(site: &'s Site<'a>, id: BoltId, bolt: &'a Bolt) -> Result<Self, Vec<Fault>> {
        let path = format!("bolts[{}]", id.0);
        let name = &bolt.name;
        let mut faults = Vec::new();
        let length = norm(sub(bolt.nut, bolt.head));
        if length < 1e-6 {
            faults.push(fault(
                format!("{path}.nut"),
                format!("bolt `{name}` has no length between head and nut"),
                "two points at least 0.001 mm apart",
                "give the middle of the bearing face of the head and that of the nut",
            ));
        }
        let (Some(&first), Some(&last)) = (bolt.through.first(), bolt.through.last()) else {
            faults.push(fault(
                format!("{path}.through"),
                format!("bolt `{name}` passes no plate"),
                "at least one plate",
                "name the plates from head to nut",
            ));
            return Err(faults);
        };
        for (field, bearing) in
            [("head_bearing", bolt.head_bearing), ("nut_bearing", bolt.nut_bearing)]
        {
            if bearing <= bolt.hole {
                faults.push(fault(
                    format!("{path}.{field}"),
                    format!(
                        "{} for bolt `{name}` over a hole of {}",
                        length_words(bearing),
                        length_words(bolt.hole)
                    ),
                    "a bearing ring larger than the hole",
                    "put a washer under it, or check the hole",
                ));
            }
        }
        if bolt.diameter > bolt.hole {
            faults.push(fault(
                format!("{path}.hole"),
                format!(
                    "{} for bolt `{name}` with a shank of {}",
                    length_words(bolt.hole),
                    length_words(bolt.diameter)
                ),
                "a hole at least as large as the shank",
                "check diameter and hole",
            ));
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        let axis = scale(1.0 / length, sub(bolt.nut, bolt.head));
        let rings = [(first, bolt.head, bolt.head_bearing), (last, bolt.nut, bolt.nut_bearing)]
            .map(|(plate, centre, outside)| {
                ring(site, plate, &Ring { centre, axis, inside: bolt.hole, outside })
            });
        let place = Place { site, id, bolt, axis, length, rings };
        for (side, found) in place.rings.iter().enumerate() {
            if found.share < ON_PLATE {
                faults.push(place.no_ring(side, found));
            }
        }
        if faults.is_empty() { Ok(place) } else { Err(faults) }
    }

    fn no_ring(&self, side: usize, found: &Found) -> Fault {
        let (field, part, at) =
            [("head", "head", self.bolt.head), ("nut", "nut", self.bolt.nut)][side];
        let last = self.bolt.through.len() - 1;
        let plate = self.bolt.through[side * last];
        fault(
            format!("bolts[{}].{field}", self.id.0),
            format!(
                "bolt `{}` has {:.0} % of the ring under its {part} at {} on plate `{}`",
                self.bolt.name,
                100.0 * found.share,
                point_words(at),
                self.site.plate(plate).name
            ),
            "a face of the plate under at least 75 % of the ring",
            "move the bolt onto the plate, or name the plates from head to nut",
        )
    }

    fn motion(&self, side: usize, about: Vec3) -> Option<Motion> {
        Motion::mean(&self.rings[side].samples, about)
    }

    /// The middle of each plate along the axis and the mean motion of the rim of its hole.
    fn walls(&self) -> Result<Vec<(f64, Motion)>, Vec<Fault>> {
        let mut faults = Vec::new();
        let mut walls = Vec::new();
        let mut before = 0.0;
        for (i, &plate) in self.bolt.through.iter().enumerate() {
            let path = format!("bolts[{}].through[{i}]", self.id.0);
            let name = &self.site.plate(plate).name;
            let place = self.middle(plate);
            let on_plate = |centre: Vec3| {
                let ring = Ring { centre, axis: self.axis, inside: self.bolt.hole, outside: 0.0 };
                let found = rim(self.site, plate, &ring);
                let motion = Motion::mean(&found.samples, centre);
                motion.filter(|_| found.share >= ON_PLATE)
            };
            let motion = place.and_then(|at| on_plate(add(self.bolt.head, scale(at, self.axis))));
            match (place, motion) {
                (Some(at), Some(motion)) if at > before && at < self.length => {
                    before = at;
                    walls.push((at, motion));
                }
                (Some(_), Some(_)) => faults.push(fault(
                    path,
                    format!("plate `{name}` for bolt `{}`", self.bolt.name),
                    "plates between head and nut, in the order in which the bolt passes them",
                    "put the plates into that order, or check head and nut",
                )),
                _ => faults.push(fault(
                    path,
                    format!("bolt `{}` does not pass plate `{name}`", self.bolt.name),
                    "plates that the bolt passes, with the rim of its hole on them",
                    "move the bolt, or drop the plate from the list",
                )),
            }
        }
        if faults.is_empty() { Ok(walls) } else { Err(faults) }
    }

    /// Where the axis meets the middle surface of a plate, m from the head.
    fn middle(&self, plate: PlateId) -> Option<f64> {
        let mut at = 0.5 * self.length;
        // The surface next to a hole may be warped: a few steps settle it.
        for _ in 0..4 {
            let point = add(self.bolt.head, scale(at, self.axis));
            let foot = self.site.foot(plate, point)?;
            let slant = dot(foot.normal, self.axis);
            if slant.abs() < 0.5 {
                return None;
            }
            at -= foot.height(point) / slant;
        }
        Some(at)
    }

    fn wall(
        &self,
        plate: PlateId,
        (at, sides): (Vec3, [Vec3; 2]),
        shank: &Motion,
        wall: &Motion,
        to: &mut Gathered<'_>,
    ) -> Wall {
        let material = &self.site.draft.frame.materials[self.bolt.material.0];
        let (plate_e, bolt_e) = (self.site.youngs(plate), material.youngs_modulus);
        let stiffness = self.site.plate(plate).thickness * plate_e * bolt_e / (plate_e + bolt_e);
        let rows =
            sides.map(|side| (&shank.moves(at, side) - &wall.moves(at, side)).row(stiffness));
        match self.bolt.bearing {
            Bearing::Never => Wall::Free,
            Bearing::Fitted => {
                let first = to.rows.len();
                to.rows.extend(rows);
                Wall::Fitted(first)
            }
            Bearing::Clearance(radius) => {
                let block = to.blocks.len();
                to.blocks.push(Block {
                    rows: rows.to_vec(),
                    law: Law::Play { radius },
                    owner: Owner::Bolt(self.id),
                });
                Wall::Play(block)
            }
        }
    }
}

/// The shank.
struct Beam {
    e: f64,
    g: f64,
    diameter: f64,
    area: f64,
}

impl Beam {
    fn elongation(&self, [a, b]: [&Motion; 2], at: Vec3, axis: Vec3, length: f64) -> Row {
        (&b.moves(at, axis) - &a.moves(at, axis)).row(self.e * self.area / length)
    }

    fn twist(&self, [a, b]: [&Motion; 2], axis: Vec3, length: f64) -> Row {
        let polar = PI * self.diameter.powi(4) / 32.0;
        (&b.turns(axis) - &a.turns(axis)).row(self.g * polar / length)
    }

    fn even_bending(&self, [a, b]: [&Motion; 2], sides: [Vec3; 2], length: f64) -> [Row; 2] {
        sides.map(|side| (&b.turns(side) - &a.turns(side)).row(self.bent(length)))
    }

    /// Both ends carried rigidly to the middle are moved apart by the shear alone.
    fn shear(
        &self,
        [a, b]: [&Motion; 2],
        middle: Vec3,
        sides: [Vec3; 2],
        length: f64,
        share: f64,
    ) -> [Row; 2] {
        let section = PI * self.diameter * self.diameter / 4.0;
        let bent = 12.0 * self.bent(length) / (length * length);
        let yielding = bent * length / (SHEAR * self.g * section);
        let stiffness = share * bent / (1.0 + yielding);
        sides.map(|side| (&b.moves(middle, side) - &a.moves(middle, side)).row(stiffness))
    }

    fn bent(&self, length: f64) -> f64 {
        self.e * PI * self.diameter.powi(4) / 64.0 / length
    }
}
