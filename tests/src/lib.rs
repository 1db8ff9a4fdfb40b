//! Placeholder replaced in this first step.
