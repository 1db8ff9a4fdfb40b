//! Batches against closed forms.

use crate::build::*;
use fishplate_solver::batch::{BatchAsked, FrameBatch, MaterialProperty, SectionProperty, Varied};
use fishplate_solver::model::*;

fn close(got: f64, expected: f64) {
    assert!((got - expected).abs() < 1e-9 * expected.abs(), "{got}, expected {expected}");
}

fn fixed(node: usize) -> Support {
    support(node, [Restraint::Fixed; 6])
}

/// Tip load, axial pull and torque on a cantilever whose section and steel differ from design to
/// design: `F L^3 / (3 E I) + F L / (G A_s)`, `N / A + F L / W` with `T / W_t`, by engineering beam
/// theory (S. Timoshenko, Strength of Materials I, 3rd ed. 1955).
#[test]
fn a_cantilever() {
    let (length, shear, pull, torque) = (0.8, 1500.0, 4000.0, 60.0);
    let draft = FrameDraft {
        nodes: vec![Node { position: [0.0; 3] }, Node { position: [0.0, length, 0.0] }],
        sections: vec![BeamSection { shear_area_z: Some(1e-4), ..section(1e-3, 1e-7, 1e-7, 1e-7) }],
        materials: vec![steel()],
        beams: vec![Beam::between(
            NodeId(0),
            NodeId(1),
            SectionId(0),
            MaterialId(0),
            Orientation::Roll(0.0),
        )],
        supports: vec![fixed(0)],
        load_cases: vec![LoadCase {
            nodal: vec![force(1, [0.0, pull, -shear], [0.0, torque, 0.0])],
            ..LoadCase::default()
        }],
        ..FrameDraft::default()
    };
    let of_section = |property| Varied::Section(SectionId(0), property);
    let asked = BatchAsked {
        varied: vec![
            of_section(SectionProperty::Area),
            of_section(SectionProperty::InertiaY),
            of_section(SectionProperty::ShearAreaZ),
            of_section(SectionProperty::ModulusY),
            of_section(SectionProperty::TorsionModulus),
            Varied::Material(MaterialId(0), MaterialProperty::YoungsModulus),
        ],
        moduli: vec![MODULI],
        displacements: vec![NodeId(1)],
        end_forces: false,
    };
    let batch = FrameBatch::new(&draft.validate().expect("a sound frame"), asked).expect("carried");
    let designs: Vec<[f64; 6]> = (1..=11)
        .map(|i| {
            let s = f64::from(i);
            [4e-4 * s, 2e-8 * s * s, 1e-4 * s, 1e-6 * s, 2e-6 * s, 70e9 + 14e9 * s]
        })
        .collect();
    let answer = solve(&batch, designs.as_flattened(), ONE);
    for (index, [area, inertia, shear_area, modulus, twist, e]) in designs.into_iter().enumerate() {
        let sag = shear * length.powi(3) / (3.0 * e * inertia)
            + shear * length / (steel().shear_modulus * shear_area);
        close(answer.displacements[6 * index + 2], -sag);
        let normal = pull / area + shear * length / modulus;
        let expected = (normal.powi(2) + 3.0 * (torque / twist).powi(2)).sqrt();
        close(answer.worst_stress[index], expected);
        assert!(!answer.worst_at[index].at_end, "the root is the start");
    }
}

/// A clamped portal of height h and span l under a side force P at its eaves: moments
/// `P h / 2 (3 k + 1) / (6 k + 1)` at the feet and `P h / 2 * 3 k / (6 k + 1)` at the corners with
/// `k = I_beam h / (I_post l)` (A. Kleinlogel, Rigid Frame Formulas, fixed portal frame, from
/// memory; members rigid in tension are imitated by a large area).
#[test]
fn a_portal() {
    let (height, span, side) = (1.2, 2.0, 900.0);
    let roll = Orientation::Roll(0.0);
    let member = |a: usize, b: usize, s: usize| {
        Beam::between(NodeId(a), NodeId(b), SectionId(s), MaterialId(0), roll)
    };
    let places = [[0.0, 0.0, 0.0], [0.0, 0.0, height], [span, 0.0, height], [span, 0.0, 0.0]];
    let draft = FrameDraft {
        nodes: places.map(|position| Node { position }).to_vec(),
        sections: vec![section(1e3, 1e-7, 1e-7, 1e-7), section(1e3, 1e-7, 1e-7, 1e-7)],
        materials: vec![steel()],
        beams: vec![member(0, 1, 0), member(1, 2, 1), member(3, 2, 0)],
        supports: vec![fixed(0), fixed(3)],
        load_cases: vec![LoadCase {
            nodal: vec![force(1, [side, 0.0, 0.0], [0.0; 3])],
            ..LoadCase::default()
        }],
        ..FrameDraft::default()
    };
    let asked = BatchAsked {
        varied: [SectionId(0), SectionId(1)]
            .map(|id| {
                [SectionProperty::InertiaY, SectionProperty::InertiaZ]
                    .map(|property| Varied::Section(id, property))
            })
            .concat(),
        moduli: vec![MODULI; 2],
        displacements: Vec::new(),
        end_forces: true,
    };
    let batch = FrameBatch::new(&draft.validate().expect("a sound frame"), asked).expect("carried");
    let designs: Vec<[f64; 4]> = (1..=9)
        .map(|i| {
            let beam = 1e-7 * f64::from(i);
            [2e-7, 2e-7, beam, beam]
        })
        .collect();
    let answer = solve(&batch, designs.as_flattened(), ONE);
    for (index, [post, _, beam, _]) in designs.into_iter().enumerate() {
        let k = beam * height / (post * span);
        let forces = &answer.end_forces[36 * index..36 * (index + 1)];
        // Moments about global y; those of a vertical post are in one of its two planes.
        let size = |end: usize| forces[end + 4].hypot(forces[end + 5]);
        let foot = 0.5 * side * height * (3.0 * k + 1.0) / (6.0 * k + 1.0);
        let corner = 0.5 * side * height * 3.0 * k / (6.0 * k + 1.0);
        for (end, expected) in [(0, foot), (6, corner), (12, corner), (24, foot), (30, corner)] {
            assert!((size(end) - expected).abs() < 1e-6 * expected, "{} {expected}", size(end));
        }
    }
}
