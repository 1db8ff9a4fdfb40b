//! What designs take to make, line by line, each line resolved once for every choice it depends on.

use super::tables::{Table, Tables};
use crate::describe::Project;
use crate::design::Design;
use crate::study::bill::{Bill, Rates, bare};
use crate::study::screen::Prepared;
use crate::study::space::Space;

/// What the builder wants little of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Objective {
    /// Mass of new steel.
    SteelMass,
    /// Length of weld deposited.
    WeldLength,
    /// Volume of weld metal.
    WeldVolume,
    /// Pieces of steel.
    Pieces,
    /// Number of bolts.
    Bolts,
    /// Length of cuts.
    Cut,
    /// Cost at given rates.
    Cost,
    /// The highest utilisation.
    Utilisation,
}

/// What a design takes to make, SI.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measures {
    /// Mass of new steel, kg.
    pub mass: f64,
    /// Length of weld deposited, m.
    pub weld_length: f64,
    /// Volume of weld metal, m³.
    pub weld_volume: f64,
    /// Length of cuts, m.
    pub cut: f64,
    /// Pieces of steel.
    pub pieces: f64,
    /// Bolts.
    pub bolts: f64,
    /// Cost at the given rates.
    pub cost: f64,
}

impl Measures {
    /// The value of an objective in a design of this highest utilisation.
    #[must_use]
    pub fn value(&self, objective: Objective, worst: f64) -> f64 {
        match objective {
            Objective::SteelMass => self.mass,
            Objective::WeldLength => self.weld_length,
            Objective::WeldVolume => self.weld_volume,
            Objective::Pieces => self.pieces,
            Objective::Bolts => self.bolts,
            Objective::Cut => self.cut,
            Objective::Cost => self.cost,
            Objective::Utilisation => worst,
        }
    }

    fn add(&mut self, other: &Self) {
        self.mass += other.mass;
        self.weld_length += other.weld_length;
        self.weld_volume += other.weld_volume;
        self.cut += other.cut;
        self.pieces += other.pieces;
        self.bolts += other.bolts;
    }
}

/// Lines of the bills of all designs.
pub(super) struct Measured<'s> {
    space: &'s Space,
    prepared: &'s Prepared,
    rates: Rates,
    lines: Vec<(String, Table<Measures>)>,
    /// Designs that were placed to fill the lines.
    pub(super) placed: u64,
}

impl<'s> Measured<'s> {
    pub(super) fn new(
        tables: &Tables<'s>,
        prepared: &'s Prepared,
        design: &Design,
        rates: Rates,
    ) -> Self {
        let bodies = design.bodies.iter().filter(|b| !b.is_rail()).map(|b| bare(&b.name));
        let welds = design.welds.iter().map(|w| bare(&w.name));
        let bolts = design.bolts.iter().map(|b| bare(&b.name));
        let mut lines: Vec<(String, Table<Measures>)> = Vec::new();
        for name in bodies.chain(welds).chain(bolts) {
            let name = name.to_owned();
            if !lines.iter().any(|(known, _)| *known == name) {
                let table = Table::new(tables.line(&name));
                lines.push((name, table));
            }
        }
        Self { space: tables.space, prepared, rates, lines, placed: 0 }
    }

    /// What a design takes; nothing where it cannot be placed.
    pub(super) fn of(&mut self, choice: &[usize]) -> Option<Measures> {
        if let Some(known) = self.known(choice) {
            return Some(known);
        }
        self.placed += 1;
        let described = self.space.design(choice);
        let (project, design) = self.prepared.place(&described).ok()?;
        self.fill(choice, &project, &design);
        self.known(choice)
    }

    fn known(&self, choice: &[usize]) -> Option<Measures> {
        let mut sum = Measures::default();
        for (_, table) in &self.lines {
            sum.add(table.get(table.place(self.space, choice))?);
        }
        sum.cost = self.rates.cost(
            sum.mass,
            [sum.weld_length, sum.weld_volume, sum.cut],
            [sum.bolts, sum.pieces],
        );
        Some(sum)
    }

    fn fill(&mut self, choice: &[usize], project: &Project, design: &Design) {
        let number = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
        let bill = Bill::of(project, design);
        for (name, table) in &mut self.lines {
            let mut line = Measures::default();
            for part in bill.parts.iter().filter(|l| l.name == *name) {
                line.mass += part.mass;
                line.cut += part.cut;
                line.pieces += number(part.pieces);
            }
            for weld in bill.welds.iter().filter(|l| l.name == *name) {
                line.weld_length += weld.length;
                line.weld_volume += weld.volume;
            }
            for bolts in bill.bolts.iter().filter(|l| l.name == *name) {
                line.bolts += number(bolts.count);
            }
            let place = table.place(self.space, choice);
            table.set(place, line);
        }
    }
}
