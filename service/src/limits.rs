//! The numbers a request has to stay within. Written once; refusals and docs read them from here.

use std::num::NonZeroUsize;
use std::thread;
use std::time::Duration;

/// What a server lets through. All figures are common practice, no source: they bound memory and
/// time of one request on a small machine, far above what a subframe needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Calls that compute at the same time.
    pub slots: usize,
    /// Threads of one call; more than one only where calls do not compete.
    pub threads: usize,
    /// Calls that may wait for a slot.
    pub queue: usize,
    /// How long a call waits for a slot before it is turned away.
    pub queue_wait: Duration,
    /// Longest time of one call, whatever deadline its caller allows.
    pub call_time: Duration,
    /// Memory that the factors of all running calls may take together, bytes.
    pub memory: usize,
    /// Connections at the same time.
    pub connections: usize,
    /// How long a new connection may stay silent.
    pub first_bytes: Duration,
    /// Bytes of error details that go back. A caller's transport may refuse trailers of more than
    /// 8 KiB, and base64 adds a third.
    pub detail_bytes: usize,
}

impl Limits {
    /// For a server that others share: one slot a core, one thread a call.
    #[must_use]
    pub fn shared() -> Self {
        let cores = thread::available_parallelism().map_or(1, NonZeroUsize::get);
        Self {
            slots: cores,
            threads: 1,
            queue: 4 * cores,
            queue_wait: Duration::from_millis(200),
            // The plate level of a car takes some twenty seconds on one core.
            call_time: Duration::from_secs(120),
            memory: 4 << 30,
            connections: 256,
            first_bytes: Duration::from_secs(8),
            detail_bytes: 4 << 10,
        }
    }

    /// For a server inside its only caller's process: the caller's patience is the deadline, and
    /// its own transport takes the details of all faults.
    #[must_use]
    pub fn in_process() -> Self {
        Self {
            threads: thread::available_parallelism().map_or(1, NonZeroUsize::get),
            queue_wait: Duration::from_secs(60),
            call_time: Duration::from_secs(600),
            detail_bytes: 64 << 10,
            ..Self::shared()
        }
    }
}

/// Largest request on the wire, bytes.
pub const REQUEST_BYTES: usize = 4 << 20;
/// Largest answer on the wire, bytes. A client has to be told, its own default is 4 MiB.
pub const ANSWER_BYTES: usize = 64 << 20;
/// Header block of a request, bytes.
pub const HEADER_BYTES: u32 = 16 << 10;
/// Calls open at the same time on one connection.
pub const STREAMS: u32 = 64;
/// Faults told in one refusal; of the rest only the number is told.
pub const FAULTS: usize = 100;
/// Bytes of a name that others refer to.
pub const ID_BYTES: usize = 64;
/// Bytes of any other text.
pub const TEXT_BYTES: usize = 256;
/// Movements of all nodes of one frame, after members are cut for buckling or frequencies.
pub const FRAME_MOVEMENTS: usize = 300_000;
/// Memory of the factor of one frame, bytes.
pub const FACTOR_BYTES: usize = 1 << 30;
/// Elements of a mesh.
pub const MESH_ELEMENTS: usize = 50_000;
/// Entries of factor and load cases of a frame of which many designs are solved: with eight designs
/// at once, 128 MB a thread.
pub const DESIGN_ENTRIES: usize = 2_000_000;
/// Designs of one frame that are told in one message, at most.
pub const BLOCK_DESIGNS: usize = 1_024;
/// Bytes of one message of designs, about, at most; one design may need more.
pub const BLOCK_BYTES: usize = 1 << 20;
/// Modes asked for.
pub const MODES: i32 = 100;
/// Elements a member is cut into for buckling or frequencies.
pub const ELEMENTS_PER_MEMBER: i32 = 64;
/// Places that a weld group answers for round one circle.
pub const CIRCLE_PLACES: usize = 72;
/// Designs of one request whose combinations are all checked.
pub const DESIGNS: usize = 1_000_000;
/// Points of one sample over all spreads.
pub const POINTS: usize = 65_536;
/// Versions of one part, weld or bolt among all options that change it.
pub const VERSIONS: usize = 10_000;
/// Entries of a list that is not named in [`list_length`].
pub const LIST: usize = 1_000;

/// Entries that a list of the contract may have, by message and field.
#[must_use]
pub fn list_length(message: &str, field: &str) -> usize {
    match (message, field) {
        ("SolveStructureRequest", "nodes" | "masses" | "supports") => 50_000,
        ("SolveStructureRequest", "beams" | "springs" | "rigid_links" | "stations") => 20_000,
        ("SolveStructureRequest", "sections") | ("SolveFrameDesignsRequest", "varied") => 5_000,
        ("SolveFrameDesignsRequest", "values") => REQUEST_BYTES / 8,
        ("SolveFrameDesignsRequest", "movement_node_ids") => 50_000,
        ("SolveStructureRequest", "load_cases") | ("Project", "cases") => 200,
        ("StructureLoadCase" | "FaceLoad", _) | ("StructurePlate", "elements") => 50_000,
        ("Spread", "area_node_ids") => 20_000,
        ("BoltGroup", "bolts") | ("WeldGroup", "runs") => 5_000,
        ("BuiltUpShape", "pieces") => 32,
        ("Project", "bolts" | "welds" | "parts") => 2_000,
        ("Project", "mounts" | "rails") | ("DesignSpace", "quantities") => 64,
        ("CheckDesignsRequest", "choices") => REQUEST_BYTES,
        _ => LIST,
    }
}
