//! Quick verdicts of many designs that differ in a few things.
//!
//! [`Prepared`] keeps what such designs share. What it is asked about may differ from it in anything:
//! loads are derived anew where something differs that they follow from.

use std::borrow::Cow;
use std::fmt::Display;
use std::sync::Arc;

use fishplate_quantity::Fault;
use fishplate_strength::clause::Factors;
use fishplate_strength::packs::Pack;

use crate::answer::{Governing, Row, RowKind};
pub use crate::checks::Scope;
use crate::describe::Project;
use crate::design::{self, Design};
use crate::forces::{self, Forces};
use crate::pipeline::{self, Found};
use crate::{Cancel, CheckError, unknown};

/// What designs of one car share: its rules, and the loads at its mounts in all cases.
#[derive(Debug, Clone)]
pub struct Prepared {
    base: Project,
    rules: (&'static Pack, Factors),
    forces: Arc<Forces>,
}

/// When a quick verdict is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Until {
    /// When every row of the scope has been run.
    TheEnd,
    /// When a row exceeds: the design does not hold, whatever the others say.
    ARowExceeds,
}

/// A verdict without words: what the rows of a scope amount to. Of rows that were not run there is
/// nothing in it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Quick {
    /// The row with the highest utilisation of strength or in service.
    pub governing: Option<Reached>,
    /// Rows of strength or service that exceed.
    pub exceeding: usize,
    /// Rows that hold, detailing rules that are met among them.
    pub holding: usize,
    /// Rows that could not be checked: the design is at best provisional.
    pub not_checked: usize,
    /// Rows with a number outside the scope of its formula: likewise.
    pub outside: usize,
    /// Detailing rules that are not met: likewise.
    pub rules_broken: usize,
    /// Parts that cannot be built as described, anywhere in the design: likewise.
    pub clashes: usize,
}

/// A row and how far it is used.
#[derive(Debug, Clone, PartialEq)]
pub struct Reached {
    /// Its number: `FL-3`.
    pub row: String,
    /// Demand over resistance.
    pub utilisation: f64,
    /// Its governing case, by place; none for a check without loads.
    pub case: Option<usize>,
}

impl Quick {
    /// Whether nothing that was run exceeds.
    #[must_use]
    pub fn holds(&self) -> bool {
        self.exceeding == 0
    }

    /// Whether nothing that was run exceeds and nothing of it is open. What makes every design of a
    /// project provisional, such as a guess, is not looked at.
    #[must_use]
    pub fn proven(&self) -> bool {
        let open = self.not_checked + self.outside + self.rules_broken + self.clashes;
        self.holds() && open == 0
    }

    /// The highest utilisation of strength or in service; 0 where no row has one.
    #[must_use]
    pub fn worst(&self) -> f64 {
        self.governing.as_ref().map_or(0.0, |g| g.utilisation)
    }

    /// What rows that were all run amount to.
    pub(crate) fn of(rows: &[Row], clashes: usize) -> Self {
        let mut quick = Self { clashes, ..Self::default() };
        for row in rows {
            quick.count(&row.id, row.kind, (row.governing(), row.outside.is_some()));
        }
        quick
    }

    fn count(
        &mut self,
        number: &dyn Display,
        kind: RowKind,
        (governing, outside): (Option<&Governing>, bool),
    ) {
        let Some(governing) = governing else {
            self.not_checked += 1;
            return;
        };
        self.outside += usize::from(outside);
        let tally = match (governing.exceeds(), kind) {
            (false, _) => &mut self.holding,
            (true, RowKind::Detailing) => &mut self.rules_broken,
            (true, _) => &mut self.exceeding,
        };
        *tally += 1;
        let most = self.governing.as_ref().map_or(f64::NEG_INFINITY, |g| g.utilisation);
        if kind != RowKind::Detailing && governing.utilisation > most {
            self.governing = Some(Reached {
                row: number.to_string(),
                utilisation: governing.utilisation,
                case: governing.case,
            });
        }
    }
}

impl Prepared {
    /// What the designs of `base`'s car share.
    ///
    /// # Errors
    /// Faults of `base`; [`CheckError::Unsolved`] where the cradle can move on its mounts.
    pub fn of(base: &Project) -> Result<Self, CheckError> {
        let base = unknown::named(base);
        let (design, rules) = pipeline::settled(&base).map_err(CheckError::Faults)?;
        let forces = pipeline::forces(&base, &design, &rules.1, false)?;
        Ok(Self { base: base.into_owned(), rules, forces })
    }

    /// The rows of a design within a scope: those that [`check`](crate::check) gives without
    /// derivations, to the bit.
    ///
    /// # Errors
    /// As [`check`](crate::check).
    pub fn rows(
        &self,
        project: &Project,
        scope: &Scope,
        cancel: &dyn Cancel,
    ) -> Result<Vec<Row>, CheckError> {
        let (project, found) = self.find(project, cancel)?;
        pipeline::run(&project, &found, scope, false, cancel)
    }

    /// What the rows of a design within a scope amount to.
    ///
    /// # Errors
    /// As [`check`](crate::check).
    pub fn verdict(
        &self,
        project: &Project,
        scope: &Scope,
        until: Until,
        cancel: &dyn Cancel,
    ) -> Result<Quick, CheckError> {
        let (project, found) = self.find(project, cancel)?;
        let mut quick = Quick { clashes: found.design.clashes.len(), ..Quick::default() };
        pipeline::judge_each((&project, &found, scope), cancel, |number, kind, row| {
            quick.count(&number, kind, (row.governing.as_ref(), row.outside));
            quick.holds() || until == Until::TheEnd
        })?;
        Ok(quick)
    }

    /// A design in its place.
    ///
    /// # Errors
    /// Its faults.
    pub(super) fn place<'p>(
        &self,
        project: &'p Project,
    ) -> Result<(Cow<'p, Project>, Design), Vec<Fault>> {
        let project = unknown::named(project);
        let design = design::resolve(&project, self.rules.1.strengths())?;
        Ok((project, design))
    }

    /// A design under its loads.
    pub(super) fn find<'p>(
        &self,
        project: &'p Project,
        cancel: &dyn Cancel,
    ) -> Result<(Cow<'p, Project>, Found), CheckError> {
        let project = unknown::named(project);
        pipeline::stop(cancel)?;
        let found = if forces::same(&self.base, &project) {
            let design: Design =
                design::resolve(&project, self.rules.1.strengths()).map_err(CheckError::Faults)?;
            pipeline::carry(design, self.rules.clone(), self.forces.clone())?
        } else {
            pipeline::find(&project, false, pipeline::Depth::Frame, cancel)?
        };
        Ok((project, found))
    }
}
