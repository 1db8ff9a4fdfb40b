//! The wire contract `fishplate.v1`: messages, clients, servers, descriptors and canonical JSON.
//!
//! The `.proto` files beside this crate are the only public interface that is promised.

pub mod changes;
pub mod describe;
pub mod json;

/// Messages, clients and servers, generated from the `.proto` files; their comments are the docs.
#[allow(missing_docs, unreachable_pub, clippy::all, missing_debug_implementations)]
pub mod v1 {
    tonic::include_proto!("fishplate.v1");
}

/// The encoded descriptors of every file and what it imports, for reflection.
pub const FILE_DESCRIPTOR_SET: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/fishplate.binpb"));
