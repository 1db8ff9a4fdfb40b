//! Units, written quantities, faults and the derivation trace: the vocabulary every other crate
//! speaks, and the only engine crate that a client may see.
//!
//! * [`units`]: newtypes that are built and read by unit name. Inside the engine numbers are `f64`
//!   in m, N, Pa, kg, s, rad; a newtype is opened once, where a formula begins.
//! * [`written`]: what people write (`"3/16 in"`, `"~760 mm ± 50"`) to numbers, with errors that say
//!   what was found and what is allowed.
//! * [`gauge`]: sheet gauges, which mean nothing until it is said whose gauge.
//! * [`trace`]: the derivation; [`step!`] runs an expression and records that very expression.
//! * [`fault`]: one refused input, with its field, what was given, what is allowed, how to mend it.
//! * [`algebra`]: the few functions formulas are written with.

pub mod algebra;
pub mod fault;
pub mod gauge;
pub mod trace;
pub mod units;
pub mod written;

pub use fault::{Fault, Faults};
pub use trace::{Dimension, Provenance, Source, Trace};
pub use units::{
    Acceleration, Angle, Area, Bimoment, Distance, Force, Length, LineForce, Mass, Moment,
    SecondMoment, SectionModulus, Stiffness, Stress, TurningStiffness, Warping,
};
