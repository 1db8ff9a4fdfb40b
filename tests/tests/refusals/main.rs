//! What must be turned away: structures that can move, and requests that cannot be used. Each
//! refusal names what is wrong, where it stands and what is allowed.

mod catalogue;
mod input;
mod mechanisms;
mod plates;
mod projects;
mod structures;
mod t_stubs;
