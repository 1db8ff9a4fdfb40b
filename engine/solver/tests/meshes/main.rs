//! Meshes of plates against plane geometry: areas by hand, every side shared by two elements,
//! every corner less than half a turn, and what was asked for standing in the mesh.

mod extrusions;
mod faults;
mod laws;
mod plates;
mod quality;
mod random;
mod sound;
