//! Published and recomputed values, over gRPC. Each family of cases fills its sheets; the written
//! table holds them all.

mod cargo;
mod demo;
mod estate;
mod frames;
mod frames_mixed;
mod joints;
mod loads;
mod modes;
mod plates;
mod prying;
mod sections;
mod shells;
mod strength;
mod studies;
mod table;
