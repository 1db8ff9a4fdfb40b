//! The shape of a rule pack.

use crate::clause::Clause;
use crate::clause::input::{
    AngleLegInput, AngleStrutInput, AssemblyInput, BoltGroupInput, BoltInput, BoltedPlyInput,
    ClampedRailInput, ElementInput, FloorInput, GussetInput, MemberInput, PlugInput, SeatInput,
    SheetLapInput, SleeveInput, StressPointInput, TStubInput, TabInput, ThinBoxInput, ThreadInput,
    WallInput, WeldInput, WeldRunInput,
};

/// A list of clauses about one kind of input. An empty one means the standard is silent: the
/// subject is then not checked.
pub type Clauses<I> = &'static [&'static dyn Clause<I>];

/// The rules of one standard, by subject.
#[allow(missing_debug_implementations)]
pub struct Pack {
    /// The name a project calls it by.
    pub id: &'static str,
    /// What it is.
    pub title: &'static str,
    /// What it covers and what not, in own words.
    pub scope: &'static str,
    /// The documents behind it, with editions.
    pub documents: &'static [&'static str],
    /// Strength and slip of one bolt in one ply.
    pub bolts: Clauses<BoltInput>,
    /// Edge distances and spacings of one bolt.
    pub bolt_detailing: Clauses<BoltInput>,
    /// The bolts of a joint together.
    pub bolt_groups: Clauses<BoltGroupInput>,
    /// Plies weakened by holes.
    pub bolted_plies: Clauses<BoltedPlyInput>,
    /// Angles bolted by one leg.
    pub angle_legs: Clauses<AngleLegInput>,
    /// Plates pulled by bolts beside a web.
    pub t_stubs: Clauses<TStubInput>,
    /// Threads in nuts and plates.
    pub threads: Clauses<ThreadInput>,
    /// Bolts while tightened.
    pub assembly: Clauses<AssemblyInput>,
    /// Points of fillet welds.
    pub welds: Clauses<WeldInput>,
    /// Strength of whole runs of fillet weld.
    pub weld_runs: Clauses<WeldRunInput>,
    /// Size, length and pattern of weld runs.
    pub weld_detailing: Clauses<WeldRunInput>,
    /// Plug welds.
    pub plugs: Clauses<PlugInput>,
    /// Size of plug welds.
    pub plug_detailing: Clauses<PlugInput>,
    /// Welds in laps of thin sheet.
    pub sheet_laps: Clauses<SheetLapInput>,
    /// Straight members.
    pub members: Clauses<MemberInput>,
    /// Angles as struts.
    pub angle_struts: Clauses<AngleStrutInput>,
    /// Points of sections of any shape.
    pub stress_points: Clauses<StressPointInput>,
    /// Boxes whose walls buckle before they yield.
    pub thin_boxes: Clauses<ThinBoxInput>,
    /// Flat elements in compression.
    pub elements: Clauses<ElementInput>,
    /// Tabs bent about their thickness.
    pub tabs: Clauses<TabInput>,
    /// Plates between walls, at a bolt.
    pub floors: Clauses<FloorInput>,
    /// Triangular gussets.
    pub gussets: Clauses<GussetInput>,
    /// Faces under heads, washers and end plates.
    pub seats: Clauses<SeatInput>,
    /// Walls under a welded foot.
    pub walls: Clauses<WallInput>,
    /// Walls pulled by bolts.
    pub wall_pulls: Clauses<WallInput>,
    /// Hollow rails clamped without a sleeve.
    pub clamped_rails: Clauses<ClampedRailInput>,
    /// Sleeves.
    pub sleeves: Clauses<SleeveInput>,
}
