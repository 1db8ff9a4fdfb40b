//! A folder of projects beside the state that was accepted last.
//!
//! [`folder`] reads the projects, [`store`] keeps results by what they follow from, [`compare`] says
//! what became of each mount, [`junit`] tells it to a build server. What to compute and what is the
//! same is known by the service alone.

pub(crate) mod compare;
pub(crate) mod folder;
pub(crate) mod junit;
pub(crate) mod store;
