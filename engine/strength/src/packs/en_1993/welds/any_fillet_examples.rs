//! Worked examples of fillet welds of any angle.

use crate::clause::Clause;
use crate::clause::input::{FilletInput, WeldMade};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::any_fillet::{AnyDirectional, AnySimplified, AnyThickest, AnyThroat, StatedQuality};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const N_PER_MM: f64 = 1e3;
const SQRT_2: f64 = std::f64::consts::SQRT_2;

/// Faces at `degrees`, legs of equal length, S235.
fn bead(degrees: f64, z: f64) -> FilletInput {
    FilletInput {
        q_1: 0.0,
        q_2: 0.0,
        q_l: 0.0,
        m_root: 0.0,
        z_1: z * MM,
        z_2: z * MM,
        gap: 0.0,
        psi: degrees.to_radians(),
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        k_quality: 1.0,
        f_exx: None,
        t_thin: Some(5.0 * MM),
        made: WeldMade::Inspected,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn fillets() -> Vec<Example<FilletInput>> {
    let clause = |c: &'static dyn Clause<FilletInput>| c;
    let simple = clause(&AnySimplified);
    let directional = clause(&AnyDirectional);
    let throat = clause(&AnyThroat);
    let usual = clause(&StatedQuality);
    // A double fillet a = 4, 80 long, of S235 carries 162.917 kN across and 133.022 kN along.
    let transverse = FilletInput { q_1: 162.917e3 / 160.0 * N_PER_MM, ..bead(90.0, 4.0 * SQRT_2) };
    let along = FilletInput { q_l: 133.022e3 / 160.0 * N_PER_MM, ..bead(90.0, 4.0 * SQRT_2) };
    // The corner of an all-round fillet a = 3: 250, 27 and 51.333 N/mm.
    let corner = |q_2: f64| FilletInput {
        q_1: 250.0 * N_PER_MM,
        q_2: q_2 * N_PER_MM,
        q_l: 51.333 * N_PER_MM,
        ..bead(90.0, 3.0 * SQRT_2)
    };
    // One plate on another at 120 degrees, legs 8: throat 4, pulled square to face 1 by 400 N/mm.
    // The face of the bead lies at -30 degrees: sigma = 400 0.5 / 4, tau = 400 0.866 / 4.
    let blunt = FilletInput { q_2: 400.0 * N_PER_MM, ..bead(120.0, 8.0) };
    let sharp = FilletInput { q_2: 400.0 * N_PER_MM, ..bead(60.0, 8.0) };
    // Legs 4 and 8: throat 32 / √80 = 3.577 71. The face is (4, -8) / √80.
    let unequal =
        FilletInput { q_1: 400.0 * N_PER_MM, z_1: 4.0 * MM, z_2: 8.0 * MM, ..bead(90.0, 4.0) };
    // One side only: 100 N/mm, 3 mm beside the middle of a throat of 4: 6 300 / 16 = 112.5.
    let one_sided =
        FilletInput { q_1: 100.0 * N_PER_MM, m_root: 300.0, ..bead(90.0, 4.0 * SQRT_2) };
    // A gap of 1 mm off legs of 5: 4 / √2 = 2.828.
    let open = FilletInput { q_l: 100.0 * N_PER_MM, gap: MM, ..bead(90.0, 5.0) };
    let unseen = FilletInput { k_quality: 0.7, made: WeldMade::NotInspected, ..along.clone() };
    let hopeful = FilletInput { k_quality: 0.8, made: WeldMade::Overhead, ..along.clone() };
    let mpa = |demand: f64, resistance: f64| (demand * MPA, resistance * MPA);
    [
        (directional, transverse, mpa(360.0, 360.0)),
        (directional, along.clone(), mpa(360.0, 360.0)),
        (simple, along, mpa(207.846, 207.846)),
        (directional, corner(-27.0), mpa(115.88, 360.0)),
        (directional, corner(27.0), mpa(128.18, 360.0)),
        // √(50² + 3 86.603²) = 158.114.
        (directional, blunt.clone(), mpa(158.114, 360.0)),
        (simple, blunt, mpa(100.0, 207.846)),
        // Throat 6.928, face at -60 degrees: sigma 50, tau 28.868: √(2500 + 2500) = 70.711.
        (directional, sharp.clone(), mpa(70.711, 360.0)),
        (simple, sharp, mpa(57.735, 207.846)),
        // sigma = 400 4 / √80 / 3.577 71 = 50, tau = 100: √(2500 + 30 000) = 180.278.
        (directional, unequal, mpa(180.278, 360.0)),
        // sigma = 17.678 + 112.5, tau = 17.678: √(130.178² + 3 17.678²) = 133.730.
        (directional, one_sided.clone(), mpa(130.178, 259.2)),
        (simple, one_sided, mpa(25.0 + 112.5, 207.846)),
        (simple, open.clone(), mpa(35.355, 207.846)),
        (simple, unseen.clone(), mpa(207.846, 0.7 * 207.846)),
        (clause(&AnyThickest), open.clone(), (2.828_43 * MM, 3.5 * MM)),
        (throat, open, (3.0 * MM, 2.828_43 * MM)),
        (usual, unseen, (0.7, 0.85)),
        (usual, hopeful, (0.8, 0.6)),
    ]
    .into_iter()
    .map(|(clause, input, (demand, resistance))| Example {
        clause,
        input,
        demand,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::{Applicability, NotChecked};
    use crate::packs::en_1993::examples::factors;

    /// Faces and forces are the same seen from either face.
    #[test]
    fn face_1_and_face_2_may_change_places() {
        let seen = FilletInput {
            q_1: 120.0 * N_PER_MM,
            q_2: -70.0 * N_PER_MM,
            q_l: 40.0 * N_PER_MM,
            z_2: 7.0 * MM,
            ..bead(75.0, 5.0)
        };
        // Along face 2, and square to it on the side of the bead.
        let (sin, cos) = seen.psi.sin_cos();
        let other = FilletInput {
            q_1: seen.q_1 * cos + seen.q_2 * sin,
            q_2: seen.q_1 * sin - seen.q_2 * cos,
            z_1: seen.z_2,
            z_2: seen.z_1,
            ..seen.clone()
        };
        let run = |input: &FilletInput| {
            AnyDirectional.evaluate(input, &factors(), &mut Trace::off()).unwrap()
        };
        let ratio = run(&seen).utilisation.value() / run(&other).utilisation.value();
        assert!((ratio - 1.0).abs() < 1e-12, "{ratio}");
    }

    #[test]
    fn sharp_and_blunt_joints_wide_gaps_and_more_than_full_strength_are_refused() {
        for degrees in [59.0, 121.0] {
            let input = bead(degrees, 5.0);
            assert!(matches!(AnySimplified.applies(&input), Applicability::DoesNotApply(_)));
        }
        for degrees in [60.0, 120.0] {
            assert_eq!(AnySimplified.applies(&bead(degrees, 5.0)), Applicability::Applies);
        }
        let refused = |input: FilletInput, symbol: &str| {
            let refused = AnySimplified.evaluate(&input, &factors(), &mut Trace::off());
            matches!(refused, Err(NotChecked::OutOfRange { symbol: s, .. }) if s == symbol)
        };
        assert!(refused(FilletInput { gap: 5.1 * MM, ..bead(90.0, 8.0) }, "gap"));
        assert!(refused(FilletInput { k_quality: 1.01, ..bead(90.0, 8.0) }, "k_quality"));
    }
}
