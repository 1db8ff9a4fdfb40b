//! Rule packs: one folder per standard, each a static set of clause lists.

mod pack;

pub mod en_1993;

pub use pack::{Clauses, Pack};

/// Every pack, in the order in which they are shown.
pub const PACKS: &[&Pack] = &[&en_1993::PACK];

/// The pack a project names in `rules`: `EN 1993`.
#[must_use]
pub fn pack(id: &str) -> Option<&'static Pack> {
    PACKS.iter().find(|pack| pack.id == id).copied()
}
