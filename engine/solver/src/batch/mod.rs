//! Many designs of one frame: the same connections, places, supports and loads, other sections,
//! materials and springs.
//!
//! What the designs share is analysed once: the order in which nodes are eliminated, and with it
//! a list of operations on blocks of 6 x 6 (`schedule`, `topology`). Then as many designs as the
//! widest register holds go through that list together, one a lane: stiffness of the members
//! (`element`), Cholesky factor by blocks with the load cases as further rows (`block`), forces and
//! stress (`recovery`), judgement (`lanes`). What a worker needs for that it takes once; its size
//! hangs on the frame, not on the number of designs (`run`).
//!
//! The lanes run in plain f64 without refinement. A design keeps its answer from there only when
//! what is left over at its nodes is rounding and no pivot has lost more digits than allowed
//! ([`Judged`]). Any other is solved again on its own by [`crate::statics()`] (`alone`), which
//! refines, or refuses it and names the node and the direction that move freely.
//!
//! No product is fused and no operation looks beyond its lane, so a design has the same bits
//! alone, in registers of any width, with any neighbours and on any number of threads.

// Rows and columns of blocks are told apart by their indices, as in the textbooks.
#![allow(clippy::needless_range_loop)]

mod alone;
mod block;
mod element;
mod lanes;
mod num;
mod recovery;
mod request;
mod run;
mod schedule;
mod topology;

pub use request::{
    BatchAnswer, BatchAsked, BatchError, Effort, Judged, MaterialProperty, MemberEnd, Moduli,
    Refused, SectionProperty, Varied, Width,
};
pub use topology::FrameBatch;
