//! What a row can depend on.
//!
//! A row reads the parts and joints it is about, what those stand on, and the loads at its mount.
//! The rules stand here and nowhere else; they may name too much, never too little, which the tests
//! beside try on every piece of several designs.

use std::collections::BTreeSet;

use crate::answer::{Row, RowKind};
use crate::design::{BeadAt, Body, BodyId, BoltAt, Design, Form, WeldAt};
use crate::load_path::{Interface, LoadFrom, LoadPath};
use crate::study::space::Slot;

/// Pieces of a project; none stands for all of it.
pub(crate) type Pieces = Option<BTreeSet<Slot>>;

/// What things of a design can depend on. Loads are not in it: what they follow from is in the reach
/// of every row.
#[derive(Clone, Copy)]
pub(crate) struct Reach<'a> {
    pub(crate) design: &'a Design,
    pub(crate) path: &'a LoadPath,
}

/// A thing with a name.
enum Thing<'a> {
    Body(BodyId),
    Weld(&'a WeldAt),
    Bolts(&'a BoltAt),
    /// A mount or its bush: nothing but loads.
    Mount,
}

impl<'a> Reach<'a> {
    /// A row of the design.
    pub(crate) fn row(&self, row: &Row) -> Pieces {
        self.check(row.mount, row.interface.as_deref(), &row.component, row.kind)
    }

    /// A check of the design that may still wait to be run.
    pub(crate) fn check(
        &self,
        mount: Option<usize>,
        interface: Option<&str>,
        component: &str,
        kind: RowKind,
    ) -> Pieces {
        let interface = match interface {
            None => None,
            Some(name) => {
                let own = |f: &&Interface| f.name == name && mount.is_none_or(|m| f.mount == m);
                Some(self.path.interfaces.iter().find(own)?)
            }
        };
        self.told(interface, component, kind == RowKind::Detailing, mount.is_none())
    }

    /// Everything that rows and clashes of the design, and of any that differs from it in sizes only,
    /// may depend on, each once and in a fixed order: rows first.
    pub(crate) fn all(&self) -> (Vec<Pieces>, Vec<Pieces>) {
        let design = self.design;
        let bodies = || design.bodies.iter().map(|b| b.name.clone());
        let welds = || design.welds.iter().map(|w| w.name.clone());
        let bolts = || design.bolts.iter().map(|b| b.name.clone());
        let mut rows = Vec::new();
        let names: Vec<String> = bodies().chain(welds()).chain(bolts()).collect();
        for name in &names {
            for (detail, whole) in [(false, false), (true, false), (false, true), (true, true)] {
                rows.push(self.told(None, name, detail, whole));
            }
        }
        for interface in &self.path.interfaces {
            rows.push(self.told(Some(interface), "", false, false));
            // A row of a cut is about something that the cut is made of.
            let bodies = interface.side.iter().chain([&interface.near, &interface.far]);
            let bodies = bodies.map(|id| design.body(*id).name.as_str());
            let welds = interface.welds.iter().map(|id| design.welds[id.0].name.as_str());
            let bolts = interface.bolts.iter().map(|id| design.bolts[id.0].name.as_str());
            for name in bodies.chain(welds).chain(bolts) {
                for detail in [false, true] {
                    rows.push(self.told(Some(interface), name, detail, false));
                }
            }
        }
        let mut clashes = Vec::new();
        let solid: Vec<String> = bodies().chain(bolts()).collect();
        for (i, a) in solid.iter().enumerate() {
            for b in &solid[..=i] {
                clashes.push(self.clash([a, b]));
            }
        }
        for list in [&mut rows, &mut clashes] {
            list.sort();
            list.dedup();
        }
        (rows, clashes)
    }

    /// A clash between two things.
    pub(crate) fn clash(&self, between: [&str; 2]) -> Pieces {
        let mut pieces = BTreeSet::new();
        for name in between {
            match self.thing(name)? {
                Thing::Body(id) => pieces.extend(self.body(id)),
                Thing::Bolts(bolts) => pieces.extend(self.bolts(bolts)),
                Thing::Weld(weld) => pieces.extend(self.weld(weld)),
                Thing::Mount => {}
            }
        }
        Some(pieces)
    }

    /// A fault at a path of the project.
    pub(crate) fn fault(&self, path: &str) -> Pieces {
        let slot = Slot::of(path);
        let mut pieces = BTreeSet::from([slot]);
        let here = |of: &str| Slot::of(of) == slot;
        for (i, _) in self.design.bodies.iter().enumerate().filter(|(_, b)| here(&b.path)) {
            pieces.extend(self.body(BodyId(i)));
        }
        for weld in self.design.welds.iter().filter(|w| here(&w.path)) {
            pieces.extend(self.weld(weld));
        }
        for bolts in self.design.bolts.iter().filter(|b| here(&b.path)) {
            pieces.extend(self.bolts(bolts));
        }
        (slot != Slot::Rest).then_some(pieces)
    }

    /// A line of a bill, by its name without side.
    pub(crate) fn line(&self, name: &str) -> BTreeSet<Slot> {
        let mut pieces = BTreeSet::new();
        let own = |full: &str| {
            full.strip_prefix(name).is_some_and(|r| r.is_empty() || r.starts_with(' '))
        };
        for (i, _) in self.design.bodies.iter().enumerate().filter(|(_, b)| own(&b.name)) {
            pieces.extend(self.body(BodyId(i)));
            // Holes are cut.
            let through = |b: &&BoltAt| b.through.iter().any(|p| p.body == BodyId(i));
            let plugs = |w: &&WeldAt| {
                matches!(w.bead, BeadAt::Plug { .. }) && [w.of, w.to].contains(&BodyId(i))
            };
            pieces.extend(self.design.bolts.iter().filter(through).flat_map(|b| self.bolts(b)));
            pieces.extend(self.design.welds.iter().filter(plugs).flat_map(|w| self.weld(w)));
        }
        for weld in self.design.welds.iter().filter(|w| own(&w.name)) {
            pieces.extend(self.weld(weld));
        }
        for bolts in self.design.bolts.iter().filter(|b| own(&b.name)) {
            pieces.extend(self.bolts(bolts));
        }
        pieces
    }

    fn told(&self, at: Option<&Interface>, component: &str, detail: bool, whole: bool) -> Pieces {
        let mut pieces = BTreeSet::new();
        let gusset = matches!(
            self.thing(component),
            Some(Thing::Body(id)) if matches!(self.design.body(id).form, Form::Gusset { .. })
        );
        match at {
            // A gusset is a bound of its own: all the force through it.
            Some(interface) if gusset && matches!(interface.load, LoadFrom::Mounts(_)) => {}
            Some(interface) => pieces.extend(self.interface(interface)?),
            None if component.is_empty() => return None,
            None => {}
        }
        if component.is_empty() {
            return Some(pieces);
        }
        for name in component.split(" + ") {
            match self.thing(name)? {
                Thing::Mount => {}
                Thing::Weld(weld) => {
                    pieces.extend(self.weld(weld));
                    if detail {
                        // Room for the torch: any wall beside it may stand in the way.
                        pieces.extend(self.joined(weld.of).iter().flat_map(|b| self.body(*b)));
                        pieces.extend(self.joined(weld.to).iter().flat_map(|b| self.body(*b)));
                    }
                }
                Thing::Bolts(bolts) => {
                    pieces.extend(self.bolts(bolts));
                    for passed in &bolts.through {
                        pieces.extend(self.standing(passed.body));
                    }
                }
                // What else a cut reads stands in its own reach.
                Thing::Body(id) if at.is_some() => pieces.extend(self.body(id)),
                Thing::Body(id) => pieces.extend(self.about_body(id, whole)),
            }
        }
        Some(pieces)
    }

    /// A row about a body.
    fn about_body(&self, id: BodyId, whole: bool) -> BTreeSet<Slot> {
        let body = self.design.body(id);
        let mut pieces = self.body(id);
        match &body.form {
            Form::Bar { .. } => pieces.extend(self.group(id)),
            Form::Rail { .. } => {
                pieces.extend(self.on_rail(id));
                let ends = self.path.interfaces.iter().filter(|f| f.far == id);
                if whole {
                    pieces.extend(ends.flat_map(|f| self.interface(f)).flatten());
                    for weld in self.design.welds.iter().filter(|w| w.to == id || w.of == id) {
                        pieces.extend(self.weld(weld));
                    }
                }
            }
            Form::Plate { on, .. } if self.design.body(on.body).is_rail() => {
                pieces.extend(self.on_rail(on.body));
                pieces.extend(self.standing(id));
            }
            _ => pieces.extend(self.standing(id)),
        }
        for bolts in &self.design.bolts {
            if bolts.through.iter().any(|p| p.body == id) && !body.is_rail() {
                pieces.extend(self.bolts(bolts));
            }
        }
        pieces
    }

    /// Everything a cut reads.
    fn interface(&self, f: &Interface) -> Pieces {
        let mut pieces = BTreeSet::new();
        if let LoadFrom::BarEnd { .. } = f.load {
            // The bar shares the load by its stiffness.
            pieces.extend(self.group(f.near));
            pieces.extend(self.group(f.far));
        }
        for id in [f.near, f.far] {
            pieces.extend(self.body(id));
            if self.design.body(id).is_rail() {
                pieces.extend(self.on_rail(id));
            }
        }
        // The stiff foot is what stands on a plate.
        for id in &f.side {
            let stands = self.on(*id).contains(&f.near);
            if stands
                && matches!(self.design.body(*id).form, Form::Folded { .. } | Form::Block { .. })
            {
                pieces.extend(self.body(*id));
            }
        }
        pieces.extend(f.welds.iter().flat_map(|w| self.weld(&self.design.welds[w.0])));
        pieces.extend(f.bolts.iter().flat_map(|b| self.bolts(&self.design.bolts[b.0])));
        Some(pieces)
    }

    /// Plates that lie on a rail, those that close it among them.
    fn on_rail(&self, rail: BodyId) -> BTreeSet<Slot> {
        let plates = self.bodies().filter(|(id, body)| {
            matches!(body.form, Form::Plate { .. }) && self.on(*id).contains(&rail)
        });
        plates.flat_map(|(id, _)| self.body(id)).collect()
    }

    /// What stands on a body.
    fn standing(&self, on: BodyId) -> BTreeSet<Slot> {
        let own = self.bodies().filter(|(id, _)| self.on(*id).contains(&on));
        own.flat_map(|(id, _)| self.body(id)).collect()
    }

    /// A body and all it stands on.
    fn body(&self, id: BodyId) -> BTreeSet<Slot> {
        let mut pieces = BTreeSet::new();
        let mut open = vec![id];
        while let Some(id) = open.pop() {
            if pieces.insert(Slot::of(&self.design.body(id).path)) {
                open.extend(self.on(id));
            }
        }
        pieces
    }

    fn weld(&self, weld: &WeldAt) -> BTreeSet<Slot> {
        let mut pieces = self.body(weld.of);
        pieces.extend(self.body(weld.to));
        pieces.insert(Slot::of(&weld.path));
        pieces
    }

    fn bolts(&self, bolts: &BoltAt) -> BTreeSet<Slot> {
        let mut pieces: BTreeSet<Slot> =
            bolts.through.iter().flat_map(|p| self.body(p.body)).collect();
        pieces.insert(Slot::of(&bolts.path));
        pieces
    }

    /// The bodies that a body is joined with by welds and bolts, rails apart, itself among them.
    fn joined(&self, id: BodyId) -> BTreeSet<BodyId> {
        let mut found = BTreeSet::new();
        let mut open = vec![id];
        while let Some(id) = open.pop() {
            if self.design.body(id).is_rail() || !found.insert(id) {
                continue;
            }
            for weld in &self.design.welds {
                if [weld.of, weld.to].contains(&id) {
                    open.extend([weld.of, weld.to]);
                }
            }
            for bolts in &self.design.bolts {
                if bolts.through.iter().any(|p| p.body == id) {
                    open.extend(bolts.through.iter().map(|p| p.body));
                }
            }
        }
        found
    }

    /// Everything that a body is joined with, and the joints.
    fn group(&self, id: BodyId) -> BTreeSet<Slot> {
        let joined = self.joined(id);
        let mut pieces: BTreeSet<Slot> = joined.iter().flat_map(|b| self.body(*b)).collect();
        for weld in self.design.welds.iter().filter(|w| joined.contains(&w.of)) {
            pieces.extend(self.weld(weld));
        }
        for bolts in &self.design.bolts {
            if bolts.through.iter().any(|p| joined.contains(&p.body)) {
                pieces.extend(self.bolts(bolts));
            }
        }
        pieces
    }

    fn bodies(&self) -> impl Iterator<Item = (BodyId, &'a Body)> {
        self.design.bodies.iter().enumerate().map(|(i, body)| (BodyId(i), body))
    }

    /// What a body stands on.
    fn on(&self, id: BodyId) -> Vec<BodyId> {
        match &self.design.body(id).form {
            Form::Rail { .. } => Vec::new(),
            Form::Plate { on, .. } | Form::Folded { on, .. } | Form::Block { on, .. } => {
                vec![on.body]
            }
            Form::Bar { on, .. } | Form::Gusset { on, .. } | Form::Sleeve { on, .. } => {
                on.iter().map(|on| on.body).collect()
            }
        }
    }

    /// The thing of a name; a wall of a body stands for the body.
    fn thing(&self, name: &str) -> Option<Thing<'a>> {
        if name.starts_with("mount ") || name.starts_with("bush ") {
            return Some(Thing::Mount);
        }
        let own =
            |of: &str| name.strip_prefix(of).is_some_and(|r| r.is_empty() || r.starts_with('.'));
        if let Some(weld) = self.design.welds.iter().find(|w| own(&w.name)) {
            return Some(Thing::Weld(weld));
        }
        if let Some(bolts) = self.design.bolts.iter().find(|b| own(&b.name)) {
            return Some(Thing::Bolts(bolts));
        }
        self.bodies().find(|(_, body)| own(&body.name)).map(|(id, _)| Thing::Body(id))
    }
}
