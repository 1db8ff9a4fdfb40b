//! The frame solver against things outside of it: closed forms, handbook cases, laws of statics.
//! One binary, so that the library is linked once.

mod beams;
mod build;
mod conventions;
mod healthy;
mod links_and_springs;
mod mechanisms;
mod one_sided;
mod properties;
mod refusals;
mod stability;
mod vibration;
