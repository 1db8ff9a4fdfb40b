//! Texts of an answer in other units.

use fishplate_proto::v1;

use super::Units;

impl Units {
    /// The texts of an answer in these units; its numbers stay as the wire has them.
    pub fn rewrite_check(self, answer: &mut v1::CheckProjectResponse) {
        if self == Self::Si {
            return;
        }
        self.all([&mut answer.sentence]);
        self.all(&mut answer.provisional_reasons);
        self.all(&mut answer.assumptions);
        self.all(&mut answer.not_covered);
        for f in &mut answer.findings {
            self.all([&mut f.what, &mut f.in_case, &mut f.by_how_much, &mut f.what_then]);
            self.all([&mut f.what_helps]);
        }
        for clash in &mut answer.clashes {
            self.all([&mut clash.what, &mut clash.r#where, &mut clash.advice]);
        }
        for interface in &mut answer.interfaces {
            self.all([&mut interface.assumption]);
        }
        for guess in &mut answer.guesses {
            self.all([&mut guess.what, &mut guess.value]);
        }
        for mount in &mut answer.plate_mounts {
            self.all([&mut mount.not_solved_reason]);
            self.all(&mut mount.assumptions);
        }
        answer.cases.iter_mut().for_each(|case| self.case(case));
        answer.rows.iter_mut().for_each(|row| self.row(row));
    }

    /// The texts of a comparison in these units; its numbers stay as the wire has them.
    pub fn rewrite_comparison(self, comparison: &mut v1::Comparison) {
        if self == Self::Si {
            return;
        }
        self.all([&mut comparison.sentence]);
        for check in &mut comparison.checks {
            self.all([&mut check.short_what]);
        }
        for design in &mut comparison.designs {
            design.answer.iter_mut().for_each(|answer| self.rewrite_check(answer));
            if let Some(way) = &mut design.way {
                let best = way.limits.iter_mut().filter_map(|limit| limit.best_step.as_mut());
                let tried = way.found.iter_mut().chain(&mut way.nearest);
                for step in best.chain(tried.flat_map(|tried| &mut tried.steps)) {
                    self.all([&mut step.from, &mut step.to]);
                }
            }
        }
    }

    /// The texts of an explained row in these units.
    pub fn rewrite_row(self, answer: &mut v1::ExplainRowResponse) {
        if self == Self::Si {
            return;
        }
        answer.row.iter_mut().for_each(|row| self.row(row));
        answer.case_answer.iter_mut().for_each(|case| self.case(case));
        answer.loads.iter_mut().for_each(|step| self.step(step));
    }

    /// The texts about a single part in these units.
    pub fn rewrite_part(self, answer: &mut v1::PartAnswer) {
        if self == Self::Si {
            return;
        }
        for row in &mut answer.rows {
            self.all([&mut row.what, &mut row.short_what, &mut row.not_checked_reason]);
            self.all([&mut row.outside_scope]);
            self.all(&mut row.notes);
            row.derivation.iter_mut().for_each(|step| self.step(step));
        }
        for silent in &mut answer.silent {
            self.all([&mut silent.what, &mut silent.reason]);
        }
    }

    fn row(self, row: &mut v1::Row) {
        self.all([&mut row.what, &mut row.short_what, &mut row.not_checked_reason]);
        self.all([&mut row.outside_scope]);
        self.all(&mut row.notes);
        for other in &mut row.alternatives {
            self.all([&mut other.what, &mut other.note]);
        }
        if let Some(two) = &mut row.second_opinion {
            self.all([&mut two.reason, &mut two.why_taken, &mut two.not_judged_reason]);
            self.all([&mut two.how]);
        }
        row.derivation.iter_mut().for_each(|step| self.step(step));
    }

    /// Its numbers are set from the steps before it, see `calculation`.
    fn step(self, step: &mut v1::DerivationStep) {
        self.all([&mut step.what, &mut step.source]);
    }

    fn case(self, case: &mut v1::CaseAnswer) {
        self.all([&mut case.title]);
        self.all(&mut case.assumptions);
    }

    fn all<'a>(self, texts: impl IntoIterator<Item = &'a mut String>) {
        for text in texts {
            *text = self.text(text);
        }
    }
}
