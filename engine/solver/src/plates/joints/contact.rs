//! Faces that may press on each other: places at the nodes of one plate against the surface of
//! another or rigid ground.
//!
//! A place stands for the part of its elements that faces the other side. Its spring is what the
//! two plates give way through their thickness, `E / (t1 + t2)` for each area (common practice, no
//! source), or what the caller says lies between. The gap before anything moves is the caller's;
//! where the faces are drawn only tells which parts face each other.

use super::bolt::Gathered;
use super::law::{Block, Law, Owner};
use super::row::Terms;
use super::site::{Site, fault, length_words};
use super::surface::{Foot, Patch, across};
use crate::model::NodeId;
use crate::plates::answer::{ContactAnswer, ContactPlace};
use crate::plates::model::{Contact, ContactId, Onto, PlateId, Ring};
use crate::vector::{Vec3, add, cross, dot, norm, scale, sub};
use fishplate_quantity::Fault;
use fishplate_quantity::algebra::{larger, smaller};
use std::collections::BTreeMap;

/// Steps along each side of an element in which its area is looked at.
const STEPS: usize = 6;
/// Cosine of the angle by which faces may be inclined to each other: 30 degrees.
const FACING: f64 = 0.866;
/// Places with less than this share of the largest are left out.
const FAINT: f64 = 1e-3;
/// Most springs of all contacts together, one a place, three with friction: each costs a solve and
/// a row of a full matrix that is factored in every round.
pub(crate) const MOST_SPRINGS: usize = 3000;

/// The same in words.
pub(crate) const MOST_WORDS: &str = "at most 3000 springs in all contacts together: one a node that faces the other side, three \
     with friction";
/// What helps.
pub(crate) const MOST_ADVICE: &str =
    "restrict contacts to rings (`within`), or mesh the plates coarser there";

/// Faces of a contact on their meshes.
#[derive(Clone, Debug)]
pub(crate) struct FacePair {
    places: Vec<Place>,
    about: Vec3,
}

/// A place of contact.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    node: usize,
    area: f64,
    /// Where the faces meet.
    point: Vec3,
    /// From the other side towards the plate of the place.
    normal: Vec3,
    sides: [Vec3; 2],
    /// Block of the pressing force.
    pressing: usize,
    /// Block of the friction.
    friction: Option<usize>,
}

impl FacePair {
    /// Finds the places of a contact.
    ///
    /// # Errors
    /// All faults of the contact.
    pub(crate) fn new(
        site: &Site<'_>,
        id: ContactId,
        to: &mut Gathered<'_>,
    ) -> Result<Self, Vec<Fault>> {
        let contact = &site.draft.contacts[id.0];
        let path = format!("contacts[{}]", id.0);
        if contact.onto == Onto::Plate(contact.of) {
            return Err(vec![fault(
                format!("{path}.onto"),
                format!("contact `{}` presses a plate on itself", contact.name),
                "two plates, or a plate and the ground",
                "name the other plate",
            )]);
        }
        let facing = Facing::new(site, contact);
        let areas = facing.areas();
        let largest = areas.values().fold(0.0, |top, &a| if a > top { a } else { top });
        let areas: Vec<(usize, f64)> =
            areas.into_iter().filter(|&(_, a)| a > FAINT * largest).collect();
        if areas.is_empty() {
            return Err(vec![facing.never(&path)]);
        }
        let areas = facing.spaced(areas);
        let springs = areas.len() * if rubs(contact) { 3 } else { 1 };
        if springs > MOST_SPRINGS {
            return Err(vec![fault(
                path,
                format!("{springs} springs of contact `{}`", contact.name),
                MOST_WORDS,
                MOST_ADVICE,
            )]);
        }
        let mut places = Vec::with_capacity(areas.len());
        for (node, area) in areas {
            if let Some(place) = facing.place(id, node, area, to) {
                places.push(place);
            }
        }
        let whole: f64 = places.iter().map(|p| p.area).sum();
        let mut about = [0.0; 3];
        for place in &places {
            about = add(about, scale(place.area / whole, place.point));
        }
        Ok(FacePair { places, about })
    }

    /// The forces of the contact; `force` and `movement` are those of a block.
    pub(crate) fn answer(
        &self,
        id: ContactId,
        force: &dyn Fn(usize) -> [f64; 2],
        movement: &dyn Fn(usize) -> [f64; 2],
    ) -> ContactAnswer {
        let mut answer = ContactAnswer {
            contact: id,
            places: Vec::with_capacity(self.places.len()),
            force: [0.0; 6],
            about: self.about,
            pressed: 0.0,
            area: 0.0,
        };
        for place in &self.places {
            let pressing = force(place.pressing)[0];
            let friction = place.friction.map_or([0.0; 3], |block| {
                let [a, b] = force(block);
                scale(-1.0, add(scale(a, place.sides[0]), scale(b, place.sides[1])))
            });
            let all = add(friction, scale(-pressing, place.normal));
            let lever = cross(sub(place.point, self.about), all);
            for i in 0..3 {
                answer.force[i] += all[i];
                answer.force[3 + i] += lever[i];
            }
            let presses = pressing > 0.0;
            let opening = movement(place.pressing)[0];
            answer.area += place.area;
            answer.pressed += if presses { place.area } else { 0.0 };
            answer.places.push(ContactPlace {
                node: NodeId(place.node),
                area: place.area,
                pressing,
                opening: if presses || opening < 0.0 { 0.0 } else { opening },
                friction,
            });
        }
        answer
    }
}

/// The question which parts of a plate face the other side.
struct Facing<'a, 's> {
    site: &'s Site<'a>,
    contact: &'a Contact,
    /// Distance of the middle surface of the plate from the other side's, as drawn.
    apart: f64,
    /// How far the drawing may be off that.
    slack: f64,
    /// Pressure for each metre of closing, Pa/m.
    stiffness: f64,
}

/// The other side as seen from a point.
struct Opposite {
    /// Towards the point.
    normal: Vec3,
    /// Distance from its middle surface, or from the ground.
    height: f64,
    /// How far the point lies beyond its edge.
    overhang: f64,
    /// Where; none on the ground.
    foot: Option<Foot>,
}

impl<'a, 's> Facing<'a, 's> {
    fn new(site: &'s Site<'a>, contact: &'a Contact) -> Self {
        let softness = |plate: PlateId| site.plate(plate).thickness / site.youngs(plate);
        let own = site.plate(contact.of).thickness;
        let (other, soft) = match contact.onto {
            Onto::Plate(plate) => (site.plate(plate).thickness, softness(plate)),
            Onto::Ground { .. } => (0.0, 0.0),
        };
        let thinner = if other > 0.0 { smaller(own, other) } else { own };
        Facing {
            site,
            contact,
            apart: 0.5 * (own + other) + contact.bridged + contact.gap,
            slack: 0.5 * thinner,
            stiffness: contact.stiffness.unwrap_or(1.0 / (softness(contact.of) + soft)),
        }
    }

    fn opposite(&self, point: Vec3) -> Option<Opposite> {
        Some(match self.contact.onto {
            Onto::Plate(plate) => {
                let foot = self.site.foot(plate, point)?;
                let height = foot.height(point);
                let side = if height < 0.0 { -1.0 } else { 1.0 };
                Opposite {
                    normal: scale(side, foot.normal),
                    height: height.abs(),
                    overhang: foot.overhang(point),
                    foot: Some(foot),
                }
            }
            Onto::Ground { point: of, normal } => {
                Opposite { normal, height: dot(sub(point, of), normal), overhang: 0.0, foot: None }
            }
        })
    }

    fn faces(&self, opposite: &Opposite, own_normal: Vec3) -> bool {
        (opposite.height - self.apart).abs() <= self.slack
            && dot(opposite.normal, own_normal).abs() >= FACING
            && opposite.overhang <= 1e-3 * self.slack
    }

    /// Area of every node that faces the other side.
    fn areas(&self) -> BTreeMap<usize, f64> {
        let mut areas = BTreeMap::new();
        for patch in self.site.surface(self.contact.of).patches() {
            // An element whose middle is farther away than it is large has no part that faces.
            let middle = self.opposite(patch.facet.origin);
            let reach = self.apart.abs() + self.slack + patch.size();
            if middle.is_none_or(|o| larger(o.height.abs(), o.overhang) > reach) {
                continue;
            }
            for (shares, area) in cells(patch) {
                let point = patch.at(shares);
                let normal = patch.facet.axes[2];
                if self.contact.within.as_ref().is_some_and(|ring| !inside(ring, point, self.apart))
                {
                    continue;
                }
                let faces = self.opposite(point).is_some_and(|o| self.faces(&o, normal));
                if faces {
                    for (node, share) in patch.nodes.iter().zip(shares) {
                        if share > 0.0 {
                            *areas.entry(*node).or_insert(0.0) += share * area;
                        }
                    }
                }
            }
        }
        areas
    }

    /// Keeps nodes at least `spacing` apart, the first of them first; the others lend their area to
    /// the nearest that is kept.
    fn spaced(&self, areas: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
        if self.contact.spacing <= 0.0 {
            return areas;
        }
        let position = |node: usize| self.site.draft.frame.nodes[node].position;
        let mut kept: Vec<(usize, f64)> = Vec::new();
        let mut lent: Vec<(usize, f64)> = Vec::new();
        for (node, area) in areas {
            let near =
                |k: &(usize, f64)| norm(sub(position(k.0), position(node))) < self.contact.spacing;
            if kept.iter().any(near) {
                lent.push((node, area));
            } else {
                kept.push((node, area));
            }
        }
        for (node, area) in lent {
            let away = |k: &(usize, f64)| norm(sub(position(k.0), position(node)));
            let nearest = kept.iter_mut().min_by(|a, b| away(a).total_cmp(&away(b)));
            if let Some((_, own)) = nearest {
                *own += area;
            }
        }
        kept
    }

    fn place(&self, id: ContactId, node: usize, area: f64, to: &mut Gathered<'_>) -> Option<Place> {
        let position = self.site.draft.frame.nodes[node].position;
        let opposite = self.opposite(position)?;
        let normal = opposite.normal;
        let own = 0.5 * self.site.plate(self.contact.of).thickness;
        let point = sub(position, scale(own, normal));
        let here = Foot {
            element: 0,
            shares: [(node, 1.0), (node, 0.0), (node, 0.0), (node, 0.0)],
            point: position,
            normal,
            distance: own,
        };
        let row = |direction: Vec3| {
            let (mut this, mut other) = (Terms::default(), Terms::default());
            this.add_moves(&here, point, direction);
            if let Some(foot) = &opposite.foot {
                other.add_moves(foot, point, direction);
            }
            (&this - &other).row(self.stiffness * area)
        };
        let pressing = to.blocks.len();
        let owner = Owner::Contact(id);
        to.blocks.push(Block {
            rows: vec![row(normal)],
            law: Law::Pressing { gap: self.contact.gap },
            owner,
        });
        let sides = across(normal);
        let coefficient = self.contact.friction.filter(|_| rubs(self.contact));
        let friction = coefficient.map(|coefficient| {
            to.blocks.push(Block {
                rows: sides.map(row).to_vec(),
                law: Law::Friction { pressed_by: pressing, coefficient },
                owner,
            });
            pressing + 1
        });
        Some(Place { node, area, point, normal, sides, pressing, friction })
    }

    /// The fault that nothing faces the other side.
    fn never(&self, path: &str) -> Fault {
        let mut nearest = f64::INFINITY;
        for patch in self.site.surface(self.contact.of).patches() {
            if let Some(opposite) = self.opposite(patch.facet.origin) {
                let reach =
                    opposite.height * opposite.height + opposite.overhang * opposite.overhang;
                nearest = smaller(nearest, reach.sqrt());
            }
        }
        let name = &self.site.plate(self.contact.of).name;
        let other = match self.contact.onto {
            Onto::Plate(plate) => format!("plate `{}`", self.site.plate(plate).name),
            Onto::Ground { .. } => "the ground".to_owned(),
        };
        fault(
            path.to_owned(),
            format!(
                "contact `{}`: plate `{name}` never faces {other}; its middle surface comes \
                 within {}",
                self.contact.name,
                length_words(nearest)
            ),
            &format!(
                "middle surfaces {} apart within {} (half of both thicknesses, gap and what is \
                 bridged), one over the other{}",
                length_words(self.apart),
                length_words(self.slack),
                if self.contact.within.is_some() { ", inside the ring" } else { "" }
            ),
            "check the places of the two faces, the distance bridged and the ring",
        )
    }
}

/// Whether friction acts.
fn rubs(contact: &Contact) -> bool {
    contact.friction.is_some_and(|coefficient| coefficient > 0.0)
}

/// Whether a point lies over a ring, not farther from its plane than the two plates are thick.
fn inside(ring: &Ring, point: Vec3, apart: f64) -> bool {
    let arm = sub(point, ring.centre);
    let height = dot(arm, ring.axis);
    let radius = norm(sub(arm, scale(height, ring.axis)));
    height.abs() <= 1.5 * apart && radius <= 0.5 * ring.outside && radius >= 0.5 * ring.inside
}

/// Small cells of an element: the shares of the corners in their middles, and their areas.
fn cells(patch: &Patch) -> Vec<([f64; 4], f64)> {
    let facet = &patch.facet;
    let n = STEPS as f64;
    let mut cells = Vec::with_capacity(STEPS * STEPS);
    if facet.corners == 4 {
        let natural = |i: f64| 2.0 * i / n - 1.0;
        for i in 0..STEPS {
            for j in 0..STEPS {
                let (i, j) = (i as f64, j as f64);
                let corner = |a: f64, b: f64| patch.at(facet.shape(natural(i + a), natural(j + b)));
                let [p, q, r, s] =
                    [corner(0.0, 0.0), corner(1.0, 0.0), corner(1.0, 1.0), corner(0.0, 1.0)];
                let area = 0.5 * norm(cross(sub(r, p), sub(s, q)));
                cells.push((facet.shape(natural(i + 0.5), natural(j + 0.5)), area));
            }
        }
    } else {
        let area = facet.area / (n * n);
        for i in 0..STEPS {
            for j in 0..(STEPS - i) {
                let (i, j) = (i as f64, j as f64);
                cells.push((facet.shape((i + 1.0 / 3.0) / n, (j + 1.0 / 3.0) / n), area));
                if i + j + 1.0 < n {
                    cells.push((facet.shape((i + 2.0 / 3.0) / n, (j + 2.0 / 3.0) / n), area));
                }
            }
        }
    }
    cells
}
