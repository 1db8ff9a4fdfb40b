//! Frames for batches.

use fishplate_solver::batch::{
    BatchAnswer, BatchAsked, Effort, FrameBatch, MaterialProperty, Moduli, SectionProperty, Varied,
    Width,
};
use fishplate_solver::model::*;
use fishplate_solver::{FrameModel, RunToEnd};

pub(crate) const ONE: Effort = Effort { threads: 1, width: Width::Widest };
pub(crate) const SINGLE: Effort = Effort { threads: 1, width: Width::Single };

/// Numbers that look drawn by lot, -1 to 1 (D. E. Knuth, The Art of Computer Programming 2, 3rd
/// ed., 3.3.4, line 26).
pub(crate) struct Lots(pub(crate) u64);

impl Lots {
    pub(crate) fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

pub(crate) fn steel() -> Material {
    Material {
        youngs_modulus: 210e9,
        shear_modulus: 81e9,
        density: 7850.0,
        thermal_expansion: 1.2e-5,
    }
}

/// A section in m; rigid in shear, shear centre at the centroid.
pub(crate) fn section(area: f64, i_y: f64, i_z: f64, torsion_constant: f64) -> BeamSection {
    BeamSection {
        area,
        i_y,
        i_z,
        i_yz: 0.0,
        torsion_constant,
        shear_area_y: None,
        shear_area_z: None,
        shear_centre_y: 0.0,
        shear_centre_z: 0.0,
        stress_points: Vec::new(),
        torsion_modulus: None,
    }
}

/// A tube of about 60 x 40 x 3 that gives way in shear, with its shear centre aside.
pub(crate) fn odd_section() -> BeamSection {
    BeamSection {
        shear_area_y: Some(1.9e-4),
        shear_area_z: Some(3.1e-4),
        shear_centre_y: 4e-3,
        shear_centre_z: -7e-3,
        ..section(5.6e-4, 2.6e-7, 1.4e-7, 2.9e-7)
    }
}

pub(crate) const MODULI: Moduli = Moduli { bending_y: 8.7e-6, bending_z: 7e-6, torsion: 1.2e-5 };

pub(crate) fn support(node: usize, dofs: [Restraint; 6]) -> Support {
    Support { node: NodeId(node), axes: GLOBAL_AXES, dofs }
}

pub(crate) fn force(node: usize, force: [f64; 3], moment: [f64; 3]) -> NodalLoad {
    NodalLoad { node: NodeId(node), force, moment }
}

/// A crooked tower of storeys of four nodes, with braces, arms, springs to the ground and between
/// nodes, partly held nodes, and so many load cases.
pub(crate) fn tower(storeys: usize, cases: usize, lots: &mut Lots) -> FrameModel {
    let mut draft = FrameDraft {
        sections: vec![odd_section(), section(3e-4, 4e-8, 6e-8, 8e-8)],
        materials: vec![steel(), Material { youngs_modulus: 70e9, shear_modulus: 26e9, ..steel() }],
        ..FrameDraft::default()
    };
    for storey in 0..=storeys {
        for (x, y) in [(0.0, 0.0), (0.5, 0.0), (0.5, 0.4), (0.0, 0.4)] {
            let mut near = |base: f64| base + 0.03 * lots.next();
            let position = [near(x), near(y), near(0.35 * storey as f64)];
            draft.nodes.push(Node { position });
        }
    }
    let mut join = |start: usize, end: usize, kind: usize| {
        let mut beam = Beam::between(
            NodeId(start),
            NodeId(end),
            SectionId(kind % 2),
            MaterialId(usize::from(kind == 3)),
            Orientation::Roll(0.4 * kind as f64),
        );
        if kind == 2 {
            beam.offset_start = [0.01, -0.02, 0.015];
            beam.offset_end = [-0.02, 0.01, 0.01];
        }
        draft.beams.push(beam);
    };
    for storey in 0..storeys {
        for corner in 0..4 {
            let (low, next) = (4 * storey + corner, 4 * storey + (corner + 1) % 4);
            // Against the order of the nodes too.
            if corner % 2 == 0 {
                join(low, low + 4, 0)
            } else {
                join(low + 4, low, 2)
            }
            join(low + 4, next + 4, 1);
            if corner == storey % 4 {
                join(low, next + 4, 3);
            }
        }
    }
    draft.supports = vec![
        support(0, [Restraint::Fixed; 6]),
        support(1, [1, 1, 1, 0, 0, 0].map(|held| [Restraint::Free, Restraint::Fixed][held])),
        support(2, [0, 1, 1, 0, 1, 0].map(|held| [Restraint::Free, Restraint::Fixed][held])),
    ];
    let spring = |a: usize, b: Option<usize>, stiffness: [f64; 6]| Spring {
        a: NodeId(a),
        b: b.map(NodeId),
        axes: [[0.6, 0.8, 0.0], [-0.8, 0.6, 0.0], [0.0, 0.0, 1.0]],
        stiffness,
        preset: [0.0; 6],
        behaviour: [SpringAction::Linear; 6],
    };
    draft.springs = vec![
        spring(3, None, [3e6, 2e6, 8e6, 1e3, 2e3, 5e2]),
        spring(5, Some(7), [1e6, 5e5, 7e5, 2e3, 0.0, 1e3]),
    ];
    let nodes = draft.nodes.len();
    for case in 0..cases {
        let nodal = (0..nodes)
            .map(|node| {
                force(node, [0; 3].map(|_| 1e3 * lots.next()), [0; 3].map(|_| 20.0 * lots.next()))
            })
            .collect();
        draft.load_cases.push(LoadCase { name: case.to_string(), nodal, ..LoadCase::default() });
    }
    match draft.validate() {
        Ok(model) => model,
        Err(faults) => panic!("{faults:#?}"),
    }
}

/// All that can differ in a tower.
pub(crate) fn everything() -> Vec<Varied> {
    let (first, second) = (SectionId(0), SectionId(1));
    let mut varied: Vec<Varied> =
        SectionProperty::ALL.iter().map(|&p| Varied::Section(first, p)).collect();
    varied.extend([
        Varied::Section(second, SectionProperty::Area),
        Varied::Section(second, SectionProperty::InertiaZ),
        Varied::Material(MaterialId(1), MaterialProperty::ShearModulus),
        Varied::Material(MaterialId(0), MaterialProperty::YoungsModulus),
        Varied::Spring(SpringId(0), Dof::Uz),
        Varied::Spring(SpringId(1), Dof::Rx),
    ]);
    varied
}

/// Numbers around those of the base tower, in the order of [`everything`].
pub(crate) fn numbers(designs: usize, lots: &mut Lots) -> Vec<f64> {
    let odd = odd_section();
    let base = [
        odd.area,
        odd.i_y,
        odd.i_z,
        odd.torsion_constant,
        1.9e-4,
        3.1e-4,
        MODULI.bending_y,
        MODULI.bending_z,
        MODULI.torsion,
        3e-4,
        6e-8,
        26e9,
        210e9,
        8e6,
        2e3,
    ];
    (0..designs).flat_map(|_| base.map(|b| b * (1.0 + 0.4 * lots.next()))).collect()
}

/// The tower with every design's movements and forces asked for.
pub(crate) fn batch_of(model: &FrameModel) -> FrameBatch {
    let asked = BatchAsked {
        varied: everything(),
        moduli: vec![MODULI; 2],
        displacements: (0..model.draft().nodes.len()).map(NodeId).collect(),
        end_forces: true,
    };
    match FrameBatch::new(model, asked) {
        Ok(batch) => batch,
        Err(faults) => panic!("{faults:#?}"),
    }
}

pub(crate) fn solve(batch: &FrameBatch, values: &[f64], effort: Effort) -> BatchAnswer {
    batch.solve(values, effort, &RunToEnd).expect("sound numbers")
}

/// All numbers of an answer as bits, so that not-a-numbers compare too.
pub(crate) fn bits(answer: &BatchAnswer) -> Vec<u64> {
    let judged = answer.judged.iter().flat_map(|j| [j.residual, j.smallest_pivot]);
    let places = answer.worst_at.iter().map(|at| (2 * at.beam.0 + usize::from(at.at_end)) as f64);
    answer
        .worst_stress
        .iter()
        .chain(&answer.displacements)
        .chain(&answer.end_forces)
        .copied()
        .chain(judged)
        .chain(places)
        .map(f64::to_bits)
        .collect()
}
