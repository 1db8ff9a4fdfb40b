//! Placeholder replaced in this first step.
fn main() {}
