//! The `fishplate` program: a project file to requests, answers to the terminal.

pub mod project;
