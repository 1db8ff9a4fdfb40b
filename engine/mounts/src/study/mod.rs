//! Studies: questions about designs that take more than one verdict, as pure functions on top of
//! [`pipeline`](crate::pipeline).

pub mod batch;
pub mod bill;
pub mod compare;
pub mod designs;
pub mod fingerprint;
pub mod guesses;
pub mod screen;
mod side_by_side;
pub mod size;
pub mod space;
mod trial;
pub mod weld_need;
pub mod what_if;
mod work;

pub use trial::RowName;
