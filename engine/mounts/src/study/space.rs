//! Designs that share a base: which quantities are open, and what may be chosen for each.

use crate::describe::{Bolt, Bush, Mount, Part, Project, Rail, Weld};

/// A quantity that is left open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Quantity {
    /// How it is told.
    pub name: String,
    /// What may be chosen, how each is told. At least one.
    pub options: Vec<String>,
}

/// A piece of a project that changes as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slot {
    /// Everything that is none of the lists below: car, drive, cradle, cases, rules ...
    Rest,
    /// A bush, by its place in the project.
    Bush(usize),
    /// A mount.
    Mount(usize),
    /// A rail.
    Rail(usize),
    /// A part.
    Part(usize),
    /// A weld.
    Weld(usize),
    /// A bolt.
    Bolt(usize),
}

impl Slot {
    /// The piece that a path of a project leads into: `parts[2]` or deeper.
    #[must_use]
    pub fn of(path: &str) -> Self {
        let (list, rest) = path.split_once('[').unwrap_or_default();
        let at = rest.split_once(']').and_then(|(at, _)| at.parse().ok());
        match (list, at) {
            ("bushes", Some(at)) => Self::Bush(at),
            ("mounts", Some(at)) => Self::Mount(at),
            ("rails", Some(at)) => Self::Rail(at),
            ("parts", Some(at)) => Self::Part(at),
            ("welds", Some(at)) => Self::Weld(at),
            ("bolts", Some(at)) => Self::Bolt(at),
            _ => Self::Rest,
        }
    }
}

/// What may stand in a slot.
#[derive(Debug, Clone, PartialEq)]
pub enum Version {
    /// A project; of it everything that is not in one of the lists.
    Rest(Box<Project>),
    /// A bush.
    Bush(Bush),
    /// A mount.
    Mount(Mount),
    /// A rail.
    Rail(Box<Rail>),
    /// A part.
    Part(Box<Part>),
    /// A weld.
    Weld(Box<Weld>),
    /// A bolt.
    Bolt(Box<Bolt>),
}

/// A slot that open quantities change.
#[derive(Debug, Clone, PartialEq)]
pub struct Element {
    /// Where it stands.
    pub slot: Slot,
    /// The quantities that change it, by place, ascending.
    pub by: Vec<usize>,
    /// One version for each combination of their options, the last of them changing fastest.
    pub versions: Vec<Version>,
}

/// Designs that share a base. A design is one option of each quantity.
#[derive(Debug, Clone, PartialEq)]
pub struct Space {
    base: Project,
    quantities: Vec<Quantity>,
    elements: Vec<Element>,
}

impl Space {
    /// A space; `elements` hold what the options make of the base.
    ///
    /// # Panics
    /// Where an element does not have one version of its slot for each combination of its quantities.
    #[must_use]
    pub fn new(base: Project, quantities: Vec<Quantity>, elements: Vec<Element>) -> Self {
        for element in &elements {
            let count: usize = element.by.iter().map(|q| quantities[*q].options.len()).product();
            assert_eq!(count, element.versions.len(), "one version for each combination");
        }
        Self { base, quantities, elements }
    }

    /// What all designs have in common.
    #[must_use]
    pub fn base(&self) -> &Project {
        &self.base
    }

    /// What is open.
    #[must_use]
    pub fn quantities(&self) -> &[Quantity] {
        &self.quantities
    }

    /// The slots that are changed, each once.
    #[must_use]
    pub fn elements(&self) -> &[Element] {
        &self.elements
    }

    /// How many designs there are.
    #[must_use]
    pub fn designs(&self) -> u128 {
        self.quantities.iter().map(|q| q.options.len() as u128).product()
    }

    /// The options of design `number`, of which the last quantity changes fastest.
    #[must_use]
    pub fn choice(&self, number: u128) -> Vec<usize> {
        let mut rest = number;
        let mut choice = vec![0; self.quantities.len()];
        for (option, quantity) in choice.iter_mut().zip(&self.quantities).rev() {
            let of = quantity.options.len() as u128;
            *option = usize::try_from(rest % of).unwrap_or(0);
            rest /= of;
        }
        choice
    }

    /// The project of a design; `choice` has the place of an option for every quantity.
    #[must_use]
    pub fn design(&self, choice: &[usize]) -> Project {
        let mut project = self.base.clone();
        for element in &self.elements {
            self.place(element, choice, &mut project);
        }
        project
    }

    /// The version of an element in a design.
    #[must_use]
    pub fn version<'s>(&self, element: &'s Element, choice: &[usize]) -> &'s Version {
        let at = element.by.iter().fold(0, |at, quantity| {
            at * self.quantities[*quantity].options.len() + choice[*quantity]
        });
        &element.versions[at]
    }

    fn place(&self, element: &Element, choice: &[usize], project: &mut Project) {
        match (element.slot, self.version(element, choice)) {
            (Slot::Bush(at), Version::Bush(one)) => project.bushes[at].clone_from(one),
            (Slot::Mount(at), Version::Mount(one)) => project.mounts[at].clone_from(one),
            (Slot::Rail(at), Version::Rail(one)) => project.rails[at].clone_from(one),
            (Slot::Part(at), Version::Part(one)) => project.parts[at].clone_from(one),
            (Slot::Weld(at), Version::Weld(one)) => project.welds[at].clone_from(one),
            (Slot::Bolt(at), Version::Bolt(one)) => project.bolts[at].clone_from(one),
            (Slot::Rest, Version::Rest(rest)) => {
                // Lists are slots of their own, or those of the base.
                let lists = std::mem::replace(project, (**rest).clone());
                let Project { bushes, mounts, rails, parts, welds, bolts, .. } = lists;
                *project =
                    Project { bushes, mounts, rails, parts, welds, bolts, ..project.clone() };
            }
            (slot, version) => unreachable!("{slot:?} holds {version:?}"),
        }
    }
}
