//! The gRPC server: wire to engine and back, limits, deadlines.
//!
//! * [`server`]: every service of the contract with health and reflection, over any connection.
//! * [`in_process`]: the same server inside the caller's process.
//! * [`accept`]: TCP connections, only on this machine and only so many.
//! * [`limits`]: the numbers a request has to stay within.
//! * [`described()`]: a project as a message, for programs without a server.
//!
//! A call passes `deadline` (a tower layer), `work` (slot, thread, cancel flag, log), `door` (one
//! walk over the request for what no request may hold), `from_proto` (wire to engine, all faults
//! at once), the engine, `to_proto` and, where there is no answer, `errors`.

pub mod accept;
mod admission;
mod catalog_service;
mod check_service;
mod deadline;
mod described;
mod door;
mod errors;
mod from_proto;
pub mod in_process;
mod joints;
pub mod limits;
mod part_input;
mod path;
pub mod server;
mod solver_service;
mod strength_service;
mod study_service;
mod to_proto;
mod units;
mod work;

pub use described::described;
pub use errors::DOMAIN;
