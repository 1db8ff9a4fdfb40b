//! What several rows ask about every case, found once.

use std::cell::OnceCell;

use fishplate_strength::clause::NotChecked;

/// One finding a case, made when it is first asked for.
pub(super) struct PerCase<T>(Vec<OnceCell<Result<T, NotChecked>>>);

impl<T> PerCase<T> {
    /// Room for so many cases.
    pub(super) fn of(cases: usize) -> Self {
        Self((0..cases).map(|_| OnceCell::new()).collect())
    }

    /// What `find` finds, or found before, of a case.
    pub(super) fn get(
        &self,
        case: usize,
        find: impl FnOnce() -> Result<T, NotChecked>,
    ) -> Result<&T, NotChecked> {
        self.0[case].get_or_init(find).as_ref().map_err(Clone::clone)
    }
}
