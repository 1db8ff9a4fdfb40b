//! The second opinion on a joint: the same clause asked with what the plate level found.

use fishplate_quantity::algebra::larger;
use fishplate_strength::clause::{Clause, Input, NotChecked};

use super::run::{Over, over};
use super::{Ask, Draft, InCase, Setting, worst};
use crate::answer::{Judged, Opinion, SecondOpinion};
use crate::design::BodyId;
use crate::plate::result::{Recovered, Solved};

/// A check asked of the plate level.
pub(crate) struct Second<'a> {
    /// How its number is formed.
    how: String,
    /// How to ask it: with the finer mesh, with the coarser; else why it is not judged.
    asks: Result<[Ask<'a>; 2], String>,
    /// Bodies whose walls it judges as a whole.
    covers: Vec<BodyId>,
    /// Likely reason of a wide gap, by whether the plate level is the worse one and by its case.
    reason: Box<dyn Fn(bool, usize) -> String + 'a>,
}

impl<'a> Second<'a> {
    /// By a clause; `inputs` gives every point of a case as a mesh has them.
    pub(crate) fn by<I: Input + 'a>(
        setting: &Setting<'a>,
        how: impl Into<String>,
        clause: &'static dyn Clause<I>,
        solved: &'a Solved,
        inputs: impl Fn(&'a Solved, &'a Recovered, InCase) -> Result<Vec<I>, NotChecked> + Clone + 'a,
        reason: impl Fn(bool, usize) -> String + 'a,
    ) -> Self {
        let factors = setting.factors;
        let asks = [&solved.fine, &solved.coarse].map(|mesh| {
            let inputs = inputs.clone();
            let ask: Ask<'a> = Box::new(move |case, trace| {
                let inputs = inputs(solved, mesh, InCase::of(case, trace))?;
                worst(clause, &inputs, factors, trace)
            });
            ask
        });
        Self { how: how.into(), asks: Ok(asks), covers: Vec::new(), reason: Box::new(reason) }
    }

    /// A joint that the plate level could not judge, and why.
    pub(crate) fn not_judged(why: impl Into<String>) -> Self {
        let reason = Box::new(|_, _| String::new());
        Self { how: String::new(), asks: Err(why.into()), covers: Vec::new(), reason }
    }

    /// Says that it judges the walls of these bodies as a whole.
    pub(super) fn covering(mut self, bodies: impl IntoIterator<Item = BodyId>) -> Self {
        self.covers.extend(bodies);
        self
    }

    /// Bodies whose walls it judges as a whole.
    pub(super) fn covers(&self) -> impl Iterator<Item = BodyId> + '_ {
        self.covers.iter().copied()
    }
}

impl<'a> Draft<'a> {
    /// How to ask one of the two opinions; hand statics where the plate level did not judge.
    pub(super) fn taken(&self, opinion: Opinion) -> &Ask<'a> {
        match (&self.second, opinion) {
            (Some(Second { asks: Ok([fine, _]), .. }), Opinion::Plate) => fine,
            _ => &self.ask,
        }
    }
}

/// Both opinions over all cases, and which one counts.
pub(super) struct Both<'d, 'a> {
    /// What the row tells.
    pub(super) opinion: SecondOpinion,
    /// The worst of the plate level, where it judged.
    pub(super) plate: Option<Over>,
    /// How to ask the opinion that counts again.
    pub(super) ask: &'d Ask<'a>,
}

/// Asks the plate level and weighs it against what hand statics found. `chosen` is why the project
/// takes hand statics on this joint all the same.
pub(super) fn weigh<'d, 'a>(
    draft: &'d Draft<'a>,
    second: &'d Second<'a>,
    hand: &Over,
    cases: usize,
    chosen: Option<&str>,
) -> Both<'d, 'a> {
    let judged = |over: &Over| match over {
        Over::Worst { case, checked, .. } => {
            Some(Judged { utilisation: super::run::told(checked), case: *case })
        }
        Over::NotChecked(_) | Over::Silent => None,
    };
    let by_hand = judged(hand);
    let mut opinion = SecondOpinion {
        hand: by_hand,
        plate: Err(String::new()),
        reason: String::new(),
        taken: Opinion::Hand,
        why_taken: String::new(),
        mesh_change: None,
        how: second.how.clone(),
    };
    let asks = match &second.asks {
        Ok(asks) => asks,
        Err(why) => {
            opinion.plate = Err(why.clone());
            return Both { opinion, plate: None, ask: &draft.ask };
        }
    };
    let fine = over(&asks[0], draft.by_case, cases);
    let Some(plate) = judged(&fine) else {
        opinion.plate = Err(match fine {
            Over::NotChecked(reason) => reason,
            Over::Silent | Over::Worst { .. } => "it carries nothing there".to_owned(),
        });
        return Both { opinion, plate: None, ask: &draft.ask };
    };
    opinion.plate = Ok(plate);
    if let Some(coarse) = judged(&over(&asks[1], draft.by_case, cases)) {
        let base = larger(plate.utilisation, f64::MIN_POSITIVE);
        opinion.mesh_change = Some((plate.utilisation - coarse.utilisation) / base);
    }
    let worse = by_hand.is_none_or(|hand| plate.utilisation > hand.utilisation);
    if opinion.apart() {
        opinion.reason = (second.reason)(worse, plate.case.unwrap_or(0));
    }
    if worse {
        match chosen {
            Some(why) if by_hand.is_some() => opinion.why_taken = why.to_owned(),
            _ => opinion.taken = Opinion::Plate,
        }
    }
    let ask = draft.taken(opinion.taken);
    Both { opinion, plate: Some(fine), ask }
}
