//! Parts under repeated stress, by stress category.

mod category;
#[cfg(test)]
pub(super) mod examples;

use crate::clause::input::StressCategoryInput;
use crate::packs::pack::Clauses;

pub(super) const STRESS_CATEGORIES: Clauses<StressCategoryInput> = &[&category::Range];
