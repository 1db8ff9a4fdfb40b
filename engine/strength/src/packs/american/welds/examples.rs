//! Worked examples.

use crate::clause::input::*;
use crate::packs::american::examples::Example;

pub(in crate::packs::american) fn welds() -> Vec<Example<WeldInput>> {
    vec![]
}

pub(in crate::packs::american) fn weld_runs() -> Vec<Example<WeldRunInput>> {
    vec![]
}

pub(in crate::packs::american) fn weld_detailing() -> Vec<Example<WeldRunInput>> {
    vec![]
}

pub(in crate::packs::american) fn weld_lines() -> Vec<Example<WeldLinesInput>> {
    vec![]
}

pub(in crate::packs::american) fn groove_welds() -> Vec<Example<GrooveWeldInput>> {
    vec![]
}

pub(in crate::packs::american) fn plugs() -> Vec<Example<PlugInput>> {
    vec![]
}

pub(in crate::packs::american) fn plug_detailing() -> Vec<Example<PlugInput>> {
    vec![]
}
