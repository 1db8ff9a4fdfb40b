//! What rows come to, by the options they can depend on, filled as designs are run.

use std::collections::{BTreeMap, BTreeSet};

use fishplate_quantity::algebra::{larger, smaller};

use super::reach::{Pieces, Reach};
use crate::answer::{Row, RowKind, State};
use crate::checks::Draft;
use crate::design::Clash;
use crate::study::space::{Slot, Space, Version};

/// Which open quantities change what.
pub(super) struct Masks<'s> {
    space: &'s Space,
    /// Those that everything can depend on: they change the loads, or what refers to what.
    always: BTreeSet<usize>,
}

impl<'s> Masks<'s> {
    pub(super) fn of(space: &'s Space) -> Self {
        let mut always = BTreeSet::new();
        for element in space.elements() {
            let loads = matches!(element.slot, Slot::Rest | Slot::Mount(_) | Slot::Bush(_));
            let first = element.versions.first().map(references);
            let same = element.versions.iter().all(|one| Some(references(one)) == first);
            if loads || !same {
                always.extend(&element.by);
            }
        }
        Self { space, always }
    }

    /// The quantities that change any of these pieces, ascending.
    pub(super) fn quantities(&self, pieces: &Pieces) -> Vec<usize> {
        let Some(pieces) = pieces else { return (0..self.space.quantities().len()).collect() };
        let mut by = self.always.clone();
        for element in self.space.elements().iter().filter(|e| pieces.contains(&e.slot)) {
            by.extend(&element.by);
        }
        by.into_iter().collect()
    }
}

/// What a version refers to, and what it is: where it changes, anything may.
fn references(version: &Version) -> Vec<String> {
    use crate::describe::{Form, Outline};
    let mut list = Vec::new();
    match version {
        Version::Part(part) => {
            list.push(format!("{} {:?}", part.name, part.only));
            list.extend(part.datums.iter().cloned());
            let (kind, on): (&str, Vec<String>) = match &part.form {
                Form::Plate(plate) => match &plate.outline {
                    Outline::Mouth { .. } => ("mouth", vec![plate.on.clone()]),
                    _ => ("plate", vec![plate.on.clone()]),
                },
                Form::Folded(u) => ("folded", vec![u.on.clone()]),
                Form::Bar(bar) => ("bar", bar.between.clone()),
                Form::Gusset(gusset) => ("gusset", gusset.corner.clone()),
                Form::Sleeve(sleeve) => ("sleeve", sleeve.spans.clone()),
                Form::Block(block) => ("block", vec![block.on.clone()]),
            };
            list.push(kind.to_owned());
            list.extend(on);
        }
        Version::Weld(weld) => {
            list.push(format!("{} {:?}", weld.name, weld.only));
            list.extend(weld.datums.iter().chain(&weld.joins).cloned());
        }
        Version::Bolt(bolt) => {
            list.push(format!("{} {:?}", bolt.name, bolt.only));
            list.extend(bolt.datums.iter().chain(&bolt.through).cloned());
        }
        Version::Rail(rail) => list.push(format!("{} {:?}", rail.name, rail.only)),
        Version::Mount(_) | Version::Bush(_) | Version::Rest(_) => {}
    }
    list
}

/// A table over the options of some quantities.
#[derive(Debug)]
pub(super) struct Table<C> {
    /// The quantities, ascending.
    pub(super) by: Vec<usize>,
    cells: BTreeMap<u64, C>,
}

impl<C> Table<C> {
    pub(super) fn new(by: Vec<usize>) -> Self {
        Self { by, cells: BTreeMap::new() }
    }

    /// The place of a design's cell.
    pub(super) fn place(&self, space: &Space, choice: &[usize]) -> u64 {
        self.by
            .iter()
            .fold(0, |at, q| at * space.quantities()[*q].options.len() as u64 + choice[*q] as u64)
    }

    pub(super) fn get(&self, place: u64) -> Option<&C> {
        self.cells.get(&place)
    }

    pub(super) fn set(&mut self, place: u64, cell: C) {
        self.cells.insert(place, cell);
    }

    pub(super) fn cells(&self) -> impl Iterator<Item = &C> {
        self.cells.values()
    }

    pub(super) fn filled(&self) -> usize {
        self.cells.len()
    }

    /// How many cells there are.
    pub(super) fn size(&self, space: &Space) -> u128 {
        self.by.iter().map(|q| space.quantities()[*q].options.len() as u128).product()
    }
}

/// A row as it is told, whatever the sizes.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct RowName {
    /// Mount it is told under; empty for the whole.
    pub mount: String,
    /// The part or joint.
    pub component: String,
    /// What is checked, short.
    pub short: String,
}

/// The rows of one reach in a design.
#[derive(Debug, Clone, Default)]
pub(super) struct Rows {
    /// Utilisation of each, by number of its name; detailing rules apart.
    pub(super) uses: Vec<(usize, f64)>,
    /// The highest.
    pub(super) worst: f64,
    /// The row that exceeds most, where one does.
    pub(super) exceeds: Option<usize>,
    /// What is open, by number.
    pub(super) open: Vec<usize>,
}

/// Everything that is known of designs so far.
pub(super) struct Tables<'s> {
    pub(super) space: &'s Space,
    masks: Masks<'s>,
    reach: Reach<'s>,
    mounts: Vec<String>,
    pub(super) rows: Vec<Table<Rows>>,
    /// Why the options of a cell cannot be built; none where they can.
    pub(super) clashes: Vec<Table<Option<String>>>,
    pub(super) names: Vec<RowName>,
    /// Points that are open, in words.
    pub(super) open: Vec<String>,
}

/// What is known of a design.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Judged {
    /// Its options get in each other's way.
    Broken,
    /// A row exceeds, by number of its name.
    Exceeds(usize),
    /// Every row is known and none exceeds.
    Holds {
        /// The highest utilisation.
        worst: f64,
        /// Whether anything that the options touch is open.
        open: bool,
    },
    /// Cells that are not known: kind, table and place.
    Unknown(Vec<Cell>),
}

/// A cell of a table: whether of clashes, the table, the place.
pub(super) type Cell = (bool, usize, u64);

impl<'s> Tables<'s> {
    pub(super) fn new(space: &'s Space, reach: Reach<'s>) -> Self {
        let masks = Masks::of(space);
        let (rows, clashes) = reach.all();
        let sets = |all: &[Pieces]| -> BTreeSet<Vec<usize>> {
            all.iter().map(|pieces| masks.quantities(pieces)).collect()
        };
        let mounts = reach.design.mounts.iter().map(|m| m.id.clone()).collect();
        Self {
            space,
            reach,
            mounts,
            rows: sets(&rows).into_iter().map(Table::new).collect(),
            clashes: sets(&clashes)
                .into_iter()
                .filter(|by| !by.is_empty())
                .map(Table::new)
                .collect(),
            names: Vec::new(),
            open: Vec::new(),
            masks,
        }
    }

    /// The quantities that a row can depend on.
    pub(super) fn reached(&self, row: &Row) -> Vec<usize> {
        self.masks.quantities(&self.reach.row(row))
    }

    /// Of a design to be run: whether a check fills a cell that is not filled yet.
    pub(super) fn wants<'t>(&'t self, choice: &'t [usize]) -> impl Fn(&Draft<'_>) -> bool + 't {
        let known: BTreeSet<&[usize]> = self
            .rows
            .iter()
            .filter(|table| table.get(table.place(self.space, choice)).is_some())
            .map(|table| table.by.as_slice())
            .collect();
        move |draft| {
            let (interface, component) = (draft.interface.as_deref(), &draft.component);
            let pieces = self.reach.check(draft.mount, interface, component, draft.kind);
            !known.contains(self.masks.quantities(&pieces).as_slice())
        }
    }

    /// The quantities that a line of a bill can depend on.
    pub(super) fn line(&self, name: &str) -> Vec<usize> {
        self.masks.quantities(&Some(self.reach.line(name)))
    }

    /// What is known of a design.
    pub(super) fn judge(&self, choice: &[usize]) -> Judged {
        let mut unknown = Vec::new();
        for (at, table) in self.clashes.iter().enumerate() {
            let place = table.place(self.space, choice);
            match table.get(place) {
                Some(Some(_)) => return Judged::Broken,
                Some(None) => {}
                None => unknown.push((true, at, place)),
            }
        }
        let (mut worst, mut open, mut exceeds) = (0.0, false, None::<(f64, usize)>);
        for (at, table) in self.rows.iter().enumerate() {
            let place = table.place(self.space, choice);
            let Some(rows) = table.get(place) else {
                unknown.push((false, at, place));
                continue;
            };
            worst = larger(worst, rows.worst);
            open |= !rows.open.is_empty() && !table.by.is_empty();
            if let Some(row) = rows.exceeds
                && exceeds.is_none_or(|(most, _)| rows.worst > most)
            {
                exceeds = Some((rows.worst, row));
            }
        }
        match exceeds {
            Some((_, row)) => Judged::Exceeds(row),
            None if unknown.is_empty() => Judged::Holds { worst, open },
            None => Judged::Unknown(unknown),
        }
    }

    /// A bound from below on the highest utilisation of a design, and whether it is the utilisation
    /// itself; nothing where the options cannot be built.
    pub(super) fn bound(&self, choice: &[usize]) -> Option<(f64, bool)> {
        let broken = |t: &Table<Option<String>>| {
            t.get(t.place(self.space, choice)).is_some_and(Option::is_some)
        };
        if self.clashes.iter().any(broken) {
            return None;
        }
        let (mut worst, mut whole) = (0.0, true);
        for table in &self.rows {
            match table.get(table.place(self.space, choice)) {
                Some(rows) => worst = larger(worst, rows.worst),
                None => whole = false,
            }
        }
        Some((worst, whole))
    }

    /// Takes note of what cannot be read, for all designs that share it where its reach is known.
    pub(super) fn refused(&mut self, choice: &[usize], path: &str, why: String) {
        let by = self.masks.quantities(&self.reach.fault(path));
        if let Some(table) = self.clashes.iter_mut().find(|table| table.by == by) {
            let place = table.place(self.space, choice);
            table.set(place, Some(why));
        }
    }

    /// Takes note of a design that was placed. Whether its options can be built.
    pub(super) fn placed(&mut self, choice: &[usize], clashes: &[Clash]) -> bool {
        let mut sound = true;
        let told: Vec<(Vec<usize>, &Clash)> = clashes
            .iter()
            .map(|clash| {
                let [a, b] = &clash.between;
                (self.masks.quantities(&self.reach.clash([a, b])), clash)
            })
            .collect();
        for table in &mut self.clashes {
            let place = table.place(self.space, choice);
            let own = told.iter().find(|(by, _)| *by == table.by);
            sound &= own.is_none();
            table.set(place, own.map(|(_, clash)| format!("{} ({})", clash.what, clash.place)));
        }
        sound
    }

    /// Takes note of the rows of a design that can be built: all that fill cells not filled yet.
    pub(super) fn ran(&mut self, choice: &[usize], rows: &[Row]) {
        let mut cells: BTreeMap<Vec<usize>, Rows> = BTreeMap::new();
        for row in rows {
            let by = self.reached(row);
            // What no option touches stands in its table already.
            if by.is_empty() {
                continue;
            }
            let mut cell = cells.remove(&by).unwrap_or_default();
            self.note(row, &mut cell);
            cells.insert(by, cell);
        }
        for by in cells.keys() {
            if !self.rows.iter().any(|table| table.by == *by) {
                self.rows.push(Table::new(by.clone()));
            }
        }
        for table in self.rows.iter_mut().filter(|table| !table.by.is_empty()) {
            let place = table.place(self.space, choice);
            if table.get(place).is_none() {
                table.set(place, cells.remove(&table.by).unwrap_or_default());
            }
        }
    }

    /// Adds a row to the cell of its reach.
    fn note(&mut self, row: &Row, cell: &mut Rows) {
        let mount = row.mount.map_or_else(String::new, |m| self.mounts[m].clone());
        let (component, short) = (row.component.clone(), row.short.clone());
        let name = RowName { mount, component, short };
        let open = match &row.state {
            State::NotChecked(why) => Some(format!("not checked: {why}")),
            State::Checked(_) if row.breaks_rule() => {
                Some("detailing rule not met; the strength formulas rest on it".to_owned())
            }
            State::Checked(_) => {
                row.outside.as_ref().map(|why| format!("outside the scope of its formula: {why}"))
            }
        };
        if let Some(open) = open {
            let words = format!("{} {}: {open}", name.component, name.short);
            cell.open.push(number(&mut self.open, words));
        }
        let Some(governing) = row.governing().filter(|_| row.kind != RowKind::Detailing) else {
            return;
        };
        let name = number(&mut self.names, name);
        cell.uses.push((name, governing.utilisation));
        if row.exceeds() && (cell.exceeds.is_none() || governing.utilisation > cell.worst) {
            cell.exceeds = Some(name);
        }
        cell.worst = larger(cell.worst, governing.utilisation);
    }

    /// Takes note of the rows that no option touches.
    pub(super) fn constant(&mut self, rows: &[Row]) {
        let mut cell = Rows::default();
        for row in rows {
            self.note(row, &mut cell);
        }
        match self.rows.iter_mut().find(|table| table.by.is_empty()) {
            Some(table) => table.set(0, cell),
            None => {
                let mut table = Table::new(Vec::new());
                table.set(0, cell);
                self.rows.push(table);
            }
        }
    }

    /// The rows of a design that exceed, worst first.
    pub(super) fn exceeding(&self, choice: &[usize]) -> Vec<(RowName, f64)> {
        let cells = self.rows.iter().filter_map(|t| t.get(t.place(self.space, choice)));
        let uses = cells.flat_map(|rows| &rows.uses).filter(|(_, used)| *used > 1.0);
        let mut list: Vec<_> = uses.map(|(n, used)| (self.names[*n].clone(), *used)).collect();
        list.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        list
    }

    /// Rows that exceed in every cell of a table that is filled, with the least utilisation of each.
    pub(super) fn always_exceeding(&self) -> Vec<(RowName, f64)> {
        let mut list = Vec::new();
        for table in &self.rows {
            if (table.filled() as u128) < table.size(self.space) {
                continue;
            }
            for (number, name) in self.names.iter().enumerate() {
                let of = |rows: &Rows| {
                    rows.uses.iter().filter(|(n, _)| *n == number).map(|(_, u)| *u).reduce(larger)
                };
                let uses: Option<Vec<f64>> = table.cells().map(of).collect();
                let least = uses.and_then(|all| all.into_iter().reduce(smaller));
                if let Some(least) = least.filter(|least| *least > 1.0) {
                    list.push((name.clone(), least));
                }
            }
        }
        list.sort_by(|a, b| b.1.total_cmp(&a.1).then_with(|| a.0.cmp(&b.0)));
        list
    }
}

/// The place of `one` in a list, where it is put if it is new.
fn number<T: PartialEq>(list: &mut Vec<T>, one: T) -> usize {
    match list.iter().position(|known| *known == one) {
        Some(at) => at,
        None => {
            list.push(one);
            list.len() - 1
        }
    }
}
