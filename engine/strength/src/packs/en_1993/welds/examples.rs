//! Worked examples of the weld clauses.

use crate::clause::Clause;
use crate::clause::input::{
    BeadEnds, PlugInput, SheetBeside, SheetLapInput, SheetWeldLies, Stitched, WeldInput,
    WeldRunInput,
};
use crate::packs::en_1993::examples::{Example, OWN, Rules, given};

use super::{detailing, fillet, plug, run, sheet_lap};

const MM: f64 = 1e-3;
const MPA: f64 = 1e6;
const N_PER_MM: f64 = 1e3;
const SQRT_2: f64 = std::f64::consts::SQRT_2;

/// S235 on S235, throat 4, sheet 5 mm, no force yet.
fn bead() -> WeldInput {
    WeldInput {
        q_1: 0.0,
        q_2: 0.0,
        q_l: 0.0,
        z: 4.0 * SQRT_2 * MM,
        gap: 0.0,
        f_u_1: 360.0 * MPA,
        f_u_2: 360.0 * MPA,
        beta_w_1: 0.8,
        beta_w_2: 0.8,
        t_sheet: 5.0 * MM,
        f_y_sheet: 235.0 * MPA,
        f_exx: None,
        beside: SheetBeside::OneSide,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn welds() -> Vec<Example<WeldInput>> {
    let mut all = double_fillet();
    all.extend(stub_corner());
    all.extend(full_strength());
    all.extend(bracket_foot());
    all
}

struct Row(&'static dyn Clause<WeldInput>, WeldInput, f64, f64, f64, &'static str);

fn examples(rows: Vec<Row>) -> Vec<Example<WeldInput>> {
    rows.into_iter()
        .map(|Row(clause, input, demand, resistance, tolerance, source)| Example {
            clause,
            input,
            demand,
            resistance,
            tolerance,
            source,
            rules: Rules::RECOMMENDED,
        })
        .collect()
}

/// Two fillets a = 4, 80 long, S235: 162.917 kN transverse, 145.718 at 45°, 133.022 lengthwise by
/// the directional method; 133.022 kN in every direction by the simplified one.
fn double_fillet() -> Vec<Example<WeldInput>> {
    let per_length = |kn: f64| kn * 1e3 / 160.0 * N_PER_MM;
    let transverse = WeldInput { q_1: per_length(162.917), ..bead() };
    let along = WeldInput { q_l: per_length(133.022), ..bead() };
    let slanted = per_length(145.718) / SQRT_2;
    let slanted = WeldInput { q_1: slanted, q_l: slanted, ..bead() };
    let simple = WeldInput { q_2: per_length(133.022), ..bead() };
    examples(vec![
        Row(&fillet::Directional, transverse, 360e6, 360e6, 1e-5, OWN),
        Row(&fillet::Directional, along, 360e6, 360e6, 1e-5, OWN),
        Row(&fillet::Directional, slanted, 360e6, 360e6, 1e-5, OWN),
        Row(&fillet::Simplified, simple, 207.846e6, 207.846e6, 1e-5, OWN),
    ])
}

/// The corner of an all-round fillet a = 3 of a stub 60 x 40: bending 250 N/mm along leg 1, torsion
/// 27 N/mm along leg 2, shear and torsion 51.333 N/mm along the bead.
fn stub_corner() -> Vec<Example<WeldInput>> {
    let corner = |q_2: f64| WeldInput {
        q_1: 250.0 * N_PER_MM,
        q_2: q_2 * N_PER_MM,
        q_l: 51.333 * N_PER_MM,
        z: 3.0 * SQRT_2 * MM,
        ..bead()
    };
    // 250² + 27² + 51.333² = 256.643²; / 3 = 85.548.
    examples(vec![
        Row(&fillet::Directional, corner(-27.0), 115.88e6, 360e6, 1e-4, OWN),
        Row(&fillet::Directional, corner(27.0), 128.18e6, 360e6, 1e-4, OWN),
        Row(&fillet::Simplified, corner(27.0), 85.548e6, 207.846e6, 1e-4, OWN),
    ])
}

/// A transverse double fillet carries the yield force of its plate when a / t is 0.46, 0.48, 0.55,
/// 0.74 for S235, S275, S355, S460.
fn full_strength() -> Vec<Example<WeldInput>> {
    let steels = [
        (235.0, 360.0, 0.80, 0.46),
        (275.0, 430.0, 0.85, 0.48),
        (355.0, 510.0, 0.90, 0.55),
        (460.0, 550.0, 1.00, 0.74),
    ];
    let rows = steels.map(|(f_y, f_u, beta_w, a_over_t)| {
        let t = 10.0 * MM;
        let input = WeldInput {
            q_1: f_y * MPA * t / 2.0,
            z: a_over_t * t * SQRT_2,
            f_u_1: f_u * MPA,
            f_u_2: f_u * MPA,
            beta_w_1: beta_w,
            beta_w_2: beta_w,
            ..bead()
        };
        let strength = f_u / (beta_w * 1.25) * MPA;
        let source = "Steel Buildings in Europe, Multi-Storey Steel Buildings Part 5, 2.2.6";
        Row(&fillet::Directional, input, strength, strength, 1e-2, source)
    });
    examples(rows.into())
}

/// The foot weld of a bracket on a thin web: leg 4, web 2.2 mm S235 that goes on past the bead,
/// bracket S275; resultant 401.7 N/mm.
fn bracket_foot() -> Vec<Example<WeldInput>> {
    let foot = || WeldInput {
        q_l: 401.7 * N_PER_MM,
        z: 4.0 * MM,
        f_u_1: 410.0 * MPA,
        beta_w_1: 0.85,
        t_sheet: 2.2 * MM,
        beside: SheetBeside::BothSides,
        ..bead()
    };
    let one_side = WeldInput { beside: SheetBeside::OneSide, ..foot() };
    // A gap of 1 mm leaves a leg of 3: 401.7 √2 / 3 = 189.36.
    let gap = WeldInput { gap: 1.0 * MM, ..foot() };
    // Pull across both legs at once: the normal stress on the throat governs, 0.9 360 / 1.25.
    let opened = WeldInput { q_1: 400e3, q_2: -400e3, q_l: 0.0, beta_w_2: 0.6, ..bead() };
    examples(vec![
        Row(&fillet::Simplified, foot(), 142.0e6, 207.8e6, 5e-4, OWN),
        Row(&fillet::SheetBesideBead, foot(), 401.7e3, 597.0e3, 1e-4, OWN),
        Row(&fillet::SheetBesideBead, one_side, 401.7e3, 298.5e3, 1e-4, OWN),
        Row(&fillet::Simplified, gap, 189.36e6, 207.8e6, 5e-4, OWN),
        // 800 / (4 √2) = 141.42 against 259.2, and against 360: 0.5456 and 0.3928.
        Row(&fillet::Directional, opened, 141.42e6, 259.2e6, 1e-4, OWN),
    ])
}

/// A run of 100, throat 4, S235.
fn plain_run() -> WeldRunInput {
    WeldRunInput {
        f_ed: 10e3,
        l: 100.0 * MM,
        z: 4.0 * SQRT_2 * MM,
        gap: 0.0,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        t_edge: None,
        l_lap: None,
        l_gap: None,
        l_end: None,
        t_thin: None,
        b_part: None,
        f_exx: None,
        f_y: None,
        overlap: None,
        undercut: None,
        ends: BeadEnds::Open,
        stitched: Stitched::Compression,
        origins: given(),
    }
}

/// One stitch of 25 of a cover plate on a rail 70 x 1.9: throat 1.9 / √2, gap 35.
fn stitch() -> WeldRunInput {
    WeldRunInput {
        f_ed: 2937.7,
        l: 25.0 * MM,
        z: 1.9 * MM,
        f_u: 300.0 * MPA,
        t_edge: Some(1.9 * MM),
        l_gap: Some(35.0 * MM),
        l_end: Some(50.0 * MM),
        t_thin: Some(1.9 * MM),
        b_part: Some(70.0 * MM),
        ends: BeadEnds::Wrapped,
        ..plain_run()
    }
}

pub(in crate::packs::en_1993) fn weld_runs() -> Vec<Example<WeldRunInput>> {
    let example = |input: WeldRunInput, demand: f64, resistance: f64| Example {
        clause: &run::RunStrength as &'static dyn Clause<WeldRunInput>,
        input,
        demand,
        resistance,
        tolerance: 2e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    let long = WeldRunInput { l_lap: Some(900.0 * MM), ..plain_run() };
    let ring = WeldRunInput {
        // 6 kN pull and 4 kN shear.
        f_ed: 7211.1,
        l: 62.832 * MM,
        z: 3.0 * MM,
        f_u: 300.0 * MPA,
        ends: BeadEnds::Wrapped,
        ..plain_run()
    };
    let lap =
        WeldRunInput { f_ed: 10e3, l: 40.0 * MM, z: 1.9 * MM, f_u: 310.0 * MPA, ..ring.clone() };
    let short = WeldRunInput { l_lap: Some(300.0 * MM), ..plain_run() };
    vec![
        // 207.846 4 (100 - 8).
        example(plain_run(), 10e3, 76_487.0),
        // 1.2 - 0.2 900 / 600 = 0.9.
        example(long, 10e3, 68_838.0),
        example(short, 10e3, 76_487.0),
        example(stitch(), 2937.7, 5818.0),
        // The ring of a boss of 20 mm with a leg of 3 on old sheet, and 40 mm of leg 1.9 on a
        // sheet of 310 MPa.
        example(ring, 7211.1, 23_085.0),
        example(lap, 10e3, 9618.0),
    ]
}

pub(in crate::packs::en_1993) fn weld_detailing() -> Vec<Example<WeldRunInput>> {
    let clause = |c: &'static dyn Clause<WeldRunInput>| c;
    let pulled = WeldRunInput { stitched: Stitched::Tension, ..stitch() };
    [
        // The same bead between parts of 4 mm, where EN 1993-1-8 begins: 0.7071 1.9.
        (
            clause(&detailing::LeastThroat),
            WeldRunInput { t_thin: Some(4.0 * MM), ..stitch() },
            3.0,
            1.3435,
        ),
        (clause(&detailing::LeastLength), stitch(), 30.0, 25.0),
        // Six throats of 4 are 24, below 30; the run is 100 - 8 long.
        (clause(&detailing::LeastLength), plain_run(), 30.0, 92.0),
        (clause(&detailing::LegAtEdge), stitch(), 1.9, 1.9),
        // min(12 1.9, 0.25 70, 200) and min(16 1.9, 200).
        (clause(&detailing::StitchGapCompression), stitch(), 35.0, 17.5),
        (clause(&detailing::StitchGapTension), pulled, 35.0, 30.4),
        (clause(&detailing::StitchAtEnd), stitch(), 52.5, 50.0),
    ]
    .into_iter()
    .map(|(clause, input, demand, resistance)| Example {
        clause,
        input,
        demand: demand * MM,
        resistance: resistance * MM,
        tolerance: 1e-4,
        source: "own recomputation, limits from memory of the standard; the leg along an edge is \
                 common practice, no source",
        rules: Rules::RECOMMENDED,
    })
    .collect()
}

/// A plug of 13 through 5 mm S235.
fn plug_13() -> PlugInput {
    PlugInput {
        f_v_ed: 10e3,
        f_t_ed: 0.0,
        d_hole: 13.0 * MM,
        t: 5.0 * MM,
        f_u: 360.0 * MPA,
        beta_w: 0.8,
        d_fused: None,
        f_exx: None,
        l_slot: None,
        s: None,
        s_l: None,
        origins: given(),
    }
}

pub(in crate::packs::en_1993) fn plugs() -> Vec<Example<PlugInput>> {
    let example =
        |clause: &'static dyn Clause<PlugInput>, input: PlugInput, resistance: f64| Example {
            clause,
            input,
            demand: 10e3,
            resistance,
            tolerance: 1e-4,
            source: OWN,
            rules: Rules::RECOMMENDED,
        };
    let fused = |mm: f64| PlugInput { d_fused: Some(mm * MM), ..plug_13() };
    let slot = || PlugInput { l_slot: Some(40.0 * MM), ..plug_13() };
    let shallow = PlugInput { d_fused: Some(10.0 * MM), ..slot() };
    vec![
        example(&plug::PlugShear, plug_13(), 27_588.0),
        // Fused over 10 mm only: 27 588 (10/13)²; more than the hole does not count.
        example(&plug::PlugShear, fused(10.0), 16_324.3),
        example(&plug::PlugShear, fused(15.0), 27_588.0),
        // A slot 13 by 40: 132.73 + 13 27 = 483.73 mm²; 10 by 40: 78.54 + 300 = 378.54 mm².
        example(&plug::PlugShear, slot(), 100_542.0),
        example(&plug::PlugShear, shallow, 78_678.0),
        // Sheet: 33.081 kN with the factor 0.75 in place of 1 / 1.25; slot: 40.84 + 54 mm.
        example(&plug::SheetAroundPlug, plug_13(), 33_081.0 / 0.75 / 1.25),
        example(&plug::SheetAroundPlug, slot(), 0.6 * 360.0 * 94.8407 * 5.0 / 1.25),
    ]
}

pub(in crate::packs::en_1993) fn plug_detailing() -> Vec<Example<PlugInput>> {
    vec![Example {
        clause: &plug::HoleSize,
        input: plug_13(),
        demand: 13.0 * MM,
        resistance: 13.0 * MM,
        tolerance: 1e-9,
        source: OWN,
        rules: Rules::RECOMMENDED,
    }]
}

pub(in crate::packs::en_1993) fn sheet_laps() -> Vec<Example<SheetLapInput>> {
    // 40 mm of weld in a lap of a strip 60 x 1.9, fu 310.
    let lap = |lies: SheetWeldLies, l_w: f64| SheetLapInput {
        f_w_ed: 5e3,
        t: 1.9 * MM,
        l_w,
        b: 60.0 * MM,
        f_u: 310.0 * MPA,
        f_y: None,
        f_exx: None,
        z: None,
        lies,
        origins: given(),
    };
    let example = |clause: &'static dyn Clause<SheetLapInput>, input, resistance: f64| Example {
        clause,
        input,
        demand: 5e3,
        resistance,
        tolerance: 1e-4,
        source: OWN,
        rules: Rules::RECOMMENDED,
    };
    vec![
        example(&sheet_lap::SideWeld, lap(SheetWeldLies::Side, 40.0 * MM), 11_309.0),
        // Longer than wide: 0.45 60 1.9 310 / 1.25.
        example(&sheet_lap::SideWeld, lap(SheetWeldLies::Side, 80.0 * MM), 12_722.4),
        example(&sheet_lap::EndWeld, lap(SheetWeldLies::End, 40.0 * MM), 15_078.0),
    ]
}

#[cfg(test)]
mod tests {
    use fishplate_quantity::Trace;

    use super::*;
    use crate::clause::{Applicability, NotChecked};
    use crate::packs::en_1993::examples::factors;

    /// Transverse over simplified is √(3/2) whatever the steel.
    #[test]
    fn the_simplified_method_is_never_kinder() {
        let off = &mut Trace::off();
        let pulled = WeldInput { q_1: 1e5, ..bead() };
        let simple = fillet::Simplified.evaluate(&pulled, &factors(), off).unwrap();
        let directional = fillet::Directional.evaluate(&pulled, &factors(), off).unwrap();
        let ratio = simple.utilisation.value() / directional.utilisation.value();
        assert!((ratio - 1.5_f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn twice_the_force_is_twice_the_utilisation() {
        let bead = |k: f64| WeldInput { q_1: k * 3e4, q_2: k * -2e4, q_l: k * 5e4, ..bead() };
        for clause in super::super::WELDS {
            let run = |k| clause.evaluate(&bead(k), &factors(), &mut Trace::off()).unwrap();
            let ratio = run(2.0).utilisation.value() / run(1.0).utilisation.value();
            assert!((ratio - 2.0).abs() < 1e-12);
        }
    }

    #[test]
    fn gaps_above_5_mm_and_pulled_plugs_are_not_checked() {
        let gap = WeldInput { gap: 5.1e-3, z: 8e-3, ..bead() };
        let refused = fillet::Simplified.evaluate(&gap, &factors(), &mut Trace::off());
        assert!(matches!(refused, Err(NotChecked::OutOfRange { symbol: "gap", .. })));
        let pulled = PlugInput { f_t_ed: 1.0, ..plug_13() };
        let refused = plug::PlugShear.evaluate(&pulled, &factors(), &mut Trace::off());
        assert!(matches!(refused, Err(NotChecked::NoRule { .. })));
    }

    #[test]
    fn thin_sheet_is_outside_the_scope_of_the_throat_formula() {
        let thin = WeldInput { t_sheet: 1.9e-3, ..bead() };
        assert!(matches!(fillet::Simplified.applies(&thin), Applicability::OutsideScope(_)));
        assert_eq!(fillet::SheetBesideBead.applies(&thin), Applicability::Applies);
    }
}
