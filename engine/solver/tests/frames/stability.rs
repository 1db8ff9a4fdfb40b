//! Buckling loads against the roots of the classical equations.

use crate::build::*;
use fishplate_solver::model::*;
use fishplate_solver::{BucklingAsked, RunToEnd, SolveError, buckling};

fn factor(f: &Frame, subdivide: usize) -> f64 {
    let asked = BucklingAsked { case: CaseId(0), modes: 1, subdivide };
    buckling(&f.model(), asked, &RunToEnd).expect("it buckles").modes[0].load_factor
}

/// Timoshenko & Gere, Theory of Elastic Stability, 2nd ed. ch. 2, from memory. With 8 cubic pieces
/// the error is below 0.1 % (the same source of numbers: 0.75 % with 4 for the clamped column).
#[test]
fn euler_columns() {
    let ends: [(&[usize], &[usize], f64); 4] = [
        (&[0, 1, 2, 5], &[0, 1, 5], 41452.3384845753),
        (&[0, 1, 2, 3, 4, 5], &[], 10363.084621143826),
        (&[0, 1, 2, 3, 4, 5], &[0, 1, 3, 4, 5], 165809.3539383012),
        (&[0, 1, 2, 3, 4, 5], &[0, 1, 5], 84801.05993699185),
    ];
    for (foot, head, expected) in ends {
        let mut f = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
        let nodes = f.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 8);
        f.support(nodes[0], fixed(foot));
        if !head.is_empty() {
            f.support(nodes[8], fixed(head));
        }
        f.case().force(nodes[8], [0.0, 0.0, -1.0]);
        close(factor(&f, 1), expected, 1e-3, "eight members");

        // The same column as one member that is cut into eight pieces.
        let mut g = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
        let nodes = g.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 1);
        g.support(nodes[0], fixed(foot));
        if !head.is_empty() {
            g.support(nodes[1], fixed(head));
        }
        g.case().force(nodes[1], [0.0, 0.0, -1.0]);
        close(factor(&g, 8), factor(&f, 1), 1e-9, "one member in eight pieces");
    }
}

/// Timoshenko & Gere, ch. 2, buckling of frames: k h tan k h = 6 r with pinned feet,
/// k h cot k h = -6 r with fixed feet, r = Ib h / (Ic l) = 1; from memory.
#[test]
fn sway_of_a_portal() {
    for (feet, expected) in
        [(&[0, 1, 2, 3, 5][..], 917931.583296749), (&[0, 1, 2, 3, 4, 5][..], 3719093.39464373)]
    {
        let mut f = Frame::of(section_mm(1e7, 1.5e7, 1e9, 1e9), steel());
        f.draft.sections.push(section_mm(1e7, 2.4e7, 1e9, 1e9));
        let a = f.node(0.0, 0.0, 0.0);
        let b = f.node(0.0, 0.0, 2500.0);
        let c = f.node(4000.0, 0.0, 2500.0);
        let d = f.node(4000.0, 0.0, 0.0);
        f.beam(a, b);
        f.beam(d, c);
        let beam = f.beam(b, c);
        f.draft.beams[beam.0].section = SectionId(1);
        f.support(a, fixed(feet));
        f.support(d, fixed(feet));
        f.support(b, fixed(&[1]));
        f.support(c, fixed(&[1]));
        let case = f.case();
        case.force(b, [0.0, 0.0, -1.0]);
        case.force(c, [0.0, 0.0, -1.0]);
        close(factor(&f, 8), expected, 2e-3, "sway");
    }
}

/// Shear flexibility lowers the load of a pinned column to P_E / (1 + P_E / (G A_s))
/// (Timoshenko & Gere, art. 2.17, from memory; Engesser's formula).
#[test]
fn shear_flexible_column() {
    let mut section = section_mm(400.0, 8e4, 8e4, 1e5);
    let shear_area = 2.0 * MM2;
    section.shear_area_y = Some(shear_area);
    section.shear_area_z = Some(shear_area);
    let mut f = Frame::of(section, steel());
    let nodes = f.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 1);
    f.support(nodes[0], fixed(&[0, 1, 2, 5]));
    f.support(nodes[1], fixed(&[0, 1, 5]));
    f.case().force(nodes[1], [0.0, 0.0, -1.0]);
    let euler = 41452.3384845753;
    let g_a = steel().shear_modulus * shear_area;
    // Engesser takes the shear from the slope of the whole line, as the geometric stiffness does.
    close(factor(&f, 16), euler / (1.0 + euler / g_a), 1e-3, "Engesser");
}

/// A member in tension doesn't buckle, and a frame under tension and compression has positive
/// factors only for the compressed part.
#[test]
fn only_compression_buckles() {
    let mut f = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 1);
    f.support(nodes[0], CLAMPED);
    f.case().force(nodes[1], [0.0, 0.0, 1.0]);
    let asked = BucklingAsked { case: CaseId(0), modes: 3, subdivide: 8 };
    assert_eq!(
        buckling(&f.model(), asked, &RunToEnd),
        Err(SolveError::NothingCompressed { case: CaseId(0) })
    );
    let missing = BucklingAsked { case: CaseId(1), ..asked };
    assert_eq!(
        buckling(&f.model(), missing, &RunToEnd),
        Err(SolveError::NoSuchCase { case: CaseId(1), available: 1 })
    );
}

/// Column under its own weight: (q L)_cr = 7.837 E I / L^2 for a free head (Timoshenko & Gere,
/// art. 2.12, from memory: 7.837).
#[test]
fn column_under_its_own_weight() {
    let mut f = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
    let nodes = f.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 1);
    f.support(nodes[0], CLAMPED);
    f.case().uniform(BeamId(0), [0.0, 0.0, -0.5]);
    let expected = 7.837 * 210e9 * 8e4 * MM4 / 4.0;
    close(factor(&f, 16) * 0.5 * 2.0, expected, 5e-4, "q L");
}

/// Large enough for Lanczos: 40 equal columns side by side buckle at 40 equal loads twice over;
/// the count of the spectrum must find the multiplicity.
#[test]
fn many_equal_columns() {
    let mut f = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
    let mut heads = Vec::new();
    for i in 0..20 {
        let x = 500.0 * f64::from(i);
        let nodes = f.line([x, 0.0, 0.0], [x, 0.0, 2000.0], 1);
        f.support(nodes[0], CLAMPED);
        heads.push(nodes[1]);
    }
    let case = f.case();
    for head in heads {
        case.force(head, [0.0, 0.0, -1.0]);
    }
    let asked = BucklingAsked { case: CaseId(0), modes: 6, subdivide: 8 };
    let answer = buckling(&f.model(), asked, &RunToEnd).expect("it buckles");
    assert_eq!(answer.modes.len(), 6);
    for mode in &answer.modes {
        close(mode.load_factor, 10363.084621143826, 1e-3, "every column alike");
    }
}

/// Members whose sideways buckling is in no factor are named: those with shear or bending moment,
/// by statics. A column pressed along its axis has neither; a force across its head gives it
/// shear, a moment at its head bending alone; the free length beyond a load carries nothing.
#[test]
fn bent_members_are_named() {
    let pressed = [0.0, 0.0, -100.0];
    let cases: [([f64; 3], [f64; 3], bool); 4] = [
        (pressed, [0.0; 3], false),
        ([1.0, 0.0, -100.0], [0.0; 3], true),
        (pressed, [0.0, 1.0, 0.0], true),
        // Torque alone is neither.
        (pressed, [0.0, 0.0, 1.0], false),
    ];
    for (force, moment, bent) in cases {
        let mut f = Frame::of(section_mm(400.0, 8e4, 8e4, 1e5), steel());
        let nodes = f.line([0.0, 0.0, 0.0], [0.0, 0.0, 2000.0], 2);
        f.support(nodes[0], CLAMPED);
        f.case().force(nodes[1], force).moment(nodes[1], moment);
        let asked = BucklingAsked { case: CaseId(0), modes: 1, subdivide: 8 };
        let answer = buckling(&f.model(), asked, &RunToEnd).expect("it buckles");
        let expected = if bent { vec![BeamId(0)] } else { Vec::new() };
        assert_eq!(answer.bent, expected, "{force:?} {moment:?}");
    }
}
