//! Linear buckling: the factor by which a load case must grow until the frame has a neighbouring
//! position of equilibrium.

use crate::answer::Side;
use crate::assembly::Structure;
use crate::beam::inertia::geometric;
use crate::contact::Systems;
use crate::error::{Cancel, SolveError, poll};
use crate::frame::FrameModel;
use crate::model::{BeamId, CaseId};
use crate::modes::{ModeShape, check_counts, check_linear, divided, linear_system, search, shape};
use crate::statics::{Member, solve_case};
use fishplate_quantity::algebra::larger;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BucklingAsked {
    /// The load case that grows.
    pub case: CaseId,
    /// How many modes, lowest first; fewer come back when the frame has no more.
    pub modes: usize,
    /// Into how many pieces each member is cut. One cubic piece per member overestimates: a
    /// member clamped at both ends needs 8 for a tenth of a percent.
    pub subdivide: usize,
}

/// Critical load factors.
#[derive(Clone, Debug, PartialEq)]
pub struct BucklingAnswer {
    /// Lowest first.
    pub modes: Vec<BucklingMode>,
    /// Members that carry bending moment or shear in the case: their sideways buckling is in no
    /// factor.
    pub bent: Vec<BeamId>,
}

/// One way to buckle.
#[derive(Clone, Debug, PartialEq)]
pub struct BucklingMode {
    /// Load at buckling over load of the case, positive.
    pub load_factor: f64,
    /// How the frame moves.
    pub shape: ModeShape,
}

/// Solves the case, then `K x = -factor K_g x` with the geometric stiffness `K_g` of its axial
/// forces (R. D. Cook et al., Concepts and Applications of Finite Element Analysis, 4th ed.
/// 2002, ch. 18).
///
/// Axial forces only: moments, shears and the turning of load directions are left out, so
/// lateral-torsional buckling is not found; [`BucklingAnswer::bent`] names the members that it
/// could strike.
///
/// # Errors
/// Those of the static solve; [`SolveError::NothingCompressed`] when no positive factor exists;
/// [`SolveError::OneSided`] when the frame has contacts.
pub fn buckling(
    model: &FrameModel,
    asked: BucklingAsked,
    cancel: &dyn Cancel,
) -> Result<BucklingAnswer, SolveError> {
    check_counts(asked.modes, asked.subdivide)?;
    let available = model.draft.load_cases.len();
    if asked.case.0 >= available {
        return Err(SolveError::NoSuchCase { case: asked.case, available });
    }
    let structure = Structure::new(model)?;
    check_linear(&structure)?;
    let case = solve_case(&structure, &mut Systems::default(), asked.case, cancel)?;
    let members = case.members(&structure);

    let fine = divided(model, asked.subdivide);
    let fine_structure = Structure::new(&fine)?;
    let system = linear_system(&fine_structure, cancel)?;
    poll(cancel)?;
    let mut minus_geometric = vec![0.0; system.skeleton.pattern.entries()];
    for (piece, element) in fine_structure.elements.iter().enumerate() {
        let member = &members[piece / asked.subdivide];
        let length = element.line.length;
        let from = length * (piece % asked.subdivide) as f64;
        // Loads within the member make its axial force change course within the piece.
        let whole = member.solved.element.line.length;
        let pieces: Vec<(f64, f64)> = member
            .solved
            .within
            .pieces(whole)
            .into_iter()
            .map(|(a, b)| (clamp(a - from, length), clamp(b - from, length)))
            .filter(|(a, b)| b > a)
            .collect();
        let matrix =
            geometric(element, member.solved.section, &pieces, |x| -member.axial(from + x));
        system.skeleton.add_beam(&fine_structure, piece, &matrix, &mut minus_geometric);
    }
    if crate::vector::largest(&minus_geometric) <= 0.0 {
        return Err(SolveError::NothingCompressed { case: asked.case });
    }
    let found = search(system.factored(), minus_geometric, asked.modes, cancel)?;
    if found.modes.is_empty() {
        return Err(SolveError::NothingCompressed { case: asked.case });
    }
    let modes = found
        .modes
        .iter()
        .map(|mode| BucklingMode {
            load_factor: 1.0 / mode.mu,
            shape: shape(model, asked.subdivide, &system, &mode.vector),
        })
        .collect();
    Ok(BucklingAnswer { modes, bent: bent(&members) })
}

/// Bending this small against the largest axial force (moments: times the longest member) is
/// rounding.
const BENT: f64 = 1e-9;

/// Members with a bending moment or a shear that is more than rounding. Loads within a member are
/// polynomials between the places where they begin or end, so both ends and the middle of each
/// stretch tell zero from not zero.
pub(crate) fn bent(members: &[Member<'_>]) -> Vec<BeamId> {
    // Largest axial force, then of each member its length, largest moment and largest shear.
    let (mut axial, mut longest) = (0.0, 0.0);
    let mut each = Vec::with_capacity(members.len());
    for member in members {
        let length = member.solved.element.line.length;
        let (mut moment, mut shear) = (0.0, 0.0);
        for (a, b) in member.solved.within.pieces(length) {
            for (x, side) in [(a, Side::After), (0.5 * (a + b), Side::After), (b, Side::Before)] {
                let f = member.solved.section_forces(x, side);
                axial = larger(axial, f.n.abs());
                moment = larger(moment, f.m_y.hypot(f.m_z));
                shear = larger(shear, f.v_y.hypot(f.v_z));
            }
        }
        longest = larger(longest, length);
        each.push((moment, shear));
    }
    each.iter()
        .enumerate()
        .filter(|(_, (moment, shear))| *moment > BENT * axial * longest || *shear > BENT * axial)
        .map(|(index, _)| BeamId(index))
        .collect()
}

fn clamp(x: f64, length: f64) -> f64 {
    if x < 0.0 {
        0.0
    } else if x > length {
        length
    } else {
        x
    }
}
