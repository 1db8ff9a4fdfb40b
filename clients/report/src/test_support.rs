//! An invented van for tests: numbers are made up, shapes are to scale, nothing is checked here.

pub(crate) mod shapes;
pub(crate) mod van;
pub(crate) mod wellformed;
