//! Studies: many designs that differ in a few things, judged by hand statics.

pub mod screen;
