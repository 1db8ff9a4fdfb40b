//! Why a solve could not be made. A model that holds badly is an answer, not an error.

use crate::model::{BeamId, CaseId, Dof, NodeId, SpringId, SupportId};

/// The request could not be computed.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum SolveError {
    /// Part of the frame can move without resistance.
    #[error("the frame can move freely in {} way(s): {}", modes.len(), list(modes))]
    Mechanism {
        /// Node and direction of the largest movement of each free motion, at most six.
        modes: Vec<FreeMotion>,
        /// The load case in which it happened, when one-sided contacts had opened.
        case: Option<CaseId>,
    },
    /// Stiffnesses differ so much that the digits of f64 do not carry the answer.
    #[error(
        "stiffness differs too much across the frame (condition {condition:.1e}, error bound \
         {error_bound:.1e}): softest at node {softest}, {}, stiffest at node {stiffest}",
        softest_direction.words(),
        softest = softest.0,
        stiffest = stiffest.0
    )]
    IllConditioned {
        /// 1-norm condition of the diagonally scaled stiffness.
        condition: f64,
        /// Bound on the relative error of the displacements.
        error_bound: f64,
        /// Node that the ill-determined motion moves most.
        softest: NodeId,
        /// Its direction.
        softest_direction: Dof,
        /// Node with the stiffest neighbourhood.
        stiffest: NodeId,
    },
    /// The supports of rigidly linked nodes hold the same movement twice: their shares of the
    /// reaction can't be told.
    #[error(
        "support {} holds {} of node {}, which other supports of the same rigid body hold \
         already: the shares of the reaction can't be told",
        support.0, direction.words(), node.0
    )]
    RedundantSupport {
        /// The support.
        support: SupportId,
        /// Its node.
        node: NodeId,
        /// The movement in the axes of the support.
        direction: Dof,
    },
    /// The search for the contacts that press came back to where it had been.
    #[error(
        "load case {}: the contacts did not settle in {steps} steps; still changing: {}",
        case.0, contacts(unsettled)
    )]
    ContactUnsettled {
        /// The load case.
        case: CaseId,
        /// Steps made.
        steps: usize,
        /// Contacts whose state kept changing.
        unsettled: Vec<ContactId>,
    },
    /// The equation system is larger than the solver takes on.
    #[error(
        "the structure has {unknowns} unknowns and {factor_entries} entries of their factor; \
         allowed are {most_unknowns} and {most_entries}: mesh it coarser, or solve parts of it"
    )]
    TooLarge {
        /// Unknowns.
        unknowns: usize,
        /// Entries of the factor.
        factor_entries: usize,
        /// Most unknowns.
        most_unknowns: usize,
        /// Most entries of the factor.
        most_entries: usize,
    },
    /// Nothing holds part of a structure of plates once joints have opened or slide.
    #[error(
        "{}: nothing holds the parts any more once these have opened or slide: {}",
        stage(*case), joints.join(", ")
    )]
    JointsOpen {
        /// The load case; `None` while bolts are tightened.
        case: Option<CaseId>,
        /// The bolts and contacts, by name.
        joints: Vec<String>,
    },
    /// The search for the faces that press did not end.
    #[error(
        "{}: the joints did not settle in {steps} steps; still changing: {}",
        stage(*case), joints.join(", ")
    )]
    JointsUnsettled {
        /// The load case; `None` while bolts are tightened.
        case: Option<CaseId>,
        /// Steps made.
        steps: usize,
        /// Bolts and contacts whose state kept changing, by name.
        joints: Vec<String>,
    },
    /// A load case that the model doesn't have.
    #[error("there is no load case {}: the model has {available}", case.0)]
    NoSuchCase {
        /// The case asked for.
        case: CaseId,
        /// How many there are.
        available: usize,
    },
    /// The request itself can't be met.
    #[error("{field}: given {given}, allowed {allowed}")]
    Request {
        /// Field of the request.
        field: &'static str,
        /// What was given.
        given: String,
        /// What is allowed.
        allowed: &'static str,
    },
    /// No member is compressed in this case, and only axial forces are looked at.
    #[error(
        "no axial compression in load case {} makes the frame buckle; sideways buckling of bent \
         beams is not looked at",
        case.0
    )]
    NothingCompressed {
        /// The load case.
        case: CaseId,
    },
    /// The load of a case is above the critical one, or so near to it that equilibrium on the
    /// deformed structure was not found.
    #[error(
        "load case {}: no equilibrium on the deformed structure; it buckles at {critical:.3} times \
         the load",
        case.0
    )]
    Buckles {
        /// The load case.
        case: CaseId,
        /// Critical load over load of the case.
        critical: f64,
    },
    /// Modes are asked for, but nothing has mass.
    #[error("the frame has no mass: give densities or point masses")]
    NoMass,
    /// Buckling and frequencies are linear; one-sided supports and springs are not.
    #[error("{} is one-sided; buckling and frequencies need a linear frame", contact)]
    OneSided {
        /// The first one-sided contact.
        contact: ContactId,
    },
    /// The eigenvalue search did not converge to the modes asked for.
    #[error("{found} modes were found below the last one; a count of the spectrum says {counted}")]
    ModesMissing {
        /// Modes found below the last one.
        found: usize,
        /// Modes that there are below it, by the count of negative pivots.
        counted: usize,
    },
    /// The caller asked to stop.
    #[error("cancelled")]
    Cancelled,
}

/// A movement of the frame without resistance.
#[derive(Clone, Debug, PartialEq)]
pub struct FreeMotion {
    /// The node that moves most.
    pub node: NodeId,
    /// Its largest movement; translations are compared with rotations by the size of the model.
    pub direction: Dof,
    /// The member, when the motion is within it: its releases let it turn or slide by itself.
    /// `direction` is then in the member's local axes and `node` its start.
    pub within_beam: Option<BeamId>,
    /// Names of the plates that meet at the node.
    pub plates: Vec<String>,
    /// Movement of every node in this motion, largest component 1; empty when within a member.
    pub shape: Vec<[f64; 6]>,
}

/// A one-sided contact: a support component or a spring component.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ContactId {
    /// A one-sided component of a support.
    Support(SupportId, Dof),
    /// A non-linear component of a spring.
    Spring(SpringId, Dof),
}

impl std::fmt::Display for ContactId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            ContactId::Support(id, dof) => write!(f, "support {} ({})", id.0, dof.words()),
            ContactId::Spring(id, dof) => write!(f, "spring {} ({})", id.0, dof.words()),
        }
    }
}

/// The caller's wish to stop, polled between the steps of a solve.
pub trait Cancel {
    /// True once the answer is no longer wanted.
    fn cancelled(&self) -> bool;
}

/// Never stops.
#[derive(Clone, Copy, Debug)]
pub struct RunToEnd;

impl Cancel for RunToEnd {
    fn cancelled(&self) -> bool {
        false
    }
}

/// Stops with [`SolveError::Cancelled`] when the caller wishes so.
pub(crate) fn poll(cancel: &dyn Cancel) -> Result<(), SolveError> {
    if cancel.cancelled() { Err(SolveError::Cancelled) } else { Ok(()) }
}

fn list(modes: &[FreeMotion]) -> String {
    let words: Vec<String> = modes
        .iter()
        .map(|m| match m.within_beam {
            Some(beam) => {
                format!("member {} by its own releases, local {}", beam.0, m.direction.words())
            }
            None if m.plates.is_empty() => format!("node {}, {}", m.node.0, m.direction.words()),
            None => format!(
                "node {} of plate `{}`, {}",
                m.node.0,
                m.plates.join("`, `"),
                m.direction.words()
            ),
        })
        .collect();
    words.join("; ")
}

/// When something happened, for a message.
fn stage(case: Option<CaseId>) -> String {
    case.map_or_else(|| "while bolts are tightened".to_owned(), |c| format!("load case {}", c.0))
}

fn contacts(ids: &[ContactId]) -> String {
    let words: Vec<String> = ids.iter().map(ToString::to_string).collect();
    words.join(", ")
}
