//! Worked examples.

use crate::clause::input::*;
use crate::packs::american::examples::Example;

pub(in crate::packs::american) fn bolts() -> Vec<Example<BoltInput>> {
    vec![]
}

pub(in crate::packs::american) fn bolt_detailing() -> Vec<Example<BoltInput>> {
    vec![]
}

pub(in crate::packs::american) fn bolt_groups() -> Vec<Example<BoltGroupInput>> {
    vec![]
}

pub(in crate::packs::american) fn bolted_plies() -> Vec<Example<BoltedPlyInput>> {
    vec![]
}

pub(in crate::packs::american) fn t_stubs() -> Vec<Example<TStubInput>> {
    vec![]
}
