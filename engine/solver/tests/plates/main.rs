//! Structures of plates against things outside of the solver: closed forms, handbook cases, laws of
//! statics. One binary, so that the library is linked once.

mod bending;
mod build;
mod elements;
mod joints_bolts;
mod joints_contact;
mod joints_seams;
mod laws;
mod loads;
mod patches;
mod refusals;
mod second_order;
mod stability;
mod tubes;
