//! What must hold whatever the numbers: turning and renumbering a whole structure, adding and
//! doubling loads, reciprocity, left and right, and the same bytes for the same request.

mod checks;
mod duty;
mod structures;
