//! Small designs of our own, each worked out by hand beside its test: where every part comes to
//! lie, what cannot be built, what crosses each joint, and what the joint then uses of its strength.
//!
//! All stand on one car (`bench`), whose mounts carry round forces. Sources: `statics` where only
//! equilibrium is used, else the clause of the standard; nothing was copied from an answer.

mod bench;
mod bolts;
mod clashes;
mod compare;
mod duty;
mod ends;
mod guesses;
mod making;
mod many;
mod paths;
mod placing;
mod plates;
mod rails;
mod ranking;
mod rules;
mod rust;
mod sides;
mod sizing;
mod stops;
mod thickness;
mod weld_need;
mod welds;
mod what_if;
mod workmanship;
