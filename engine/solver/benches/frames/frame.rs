//! The frame that is measured: 24 nodes on a crooked lattice, four of them clamped, 60 members,
//! 12 load cases; 120 unknowns. Every member has a section of its own, so that designs differ in
//! every member.

use fishplate_solver::FrameModel;
use fishplate_solver::batch::{BatchAsked, FrameBatch, Moduli, SectionProperty, Varied};
use fishplate_solver::model::*;

/// Load cases.
pub(crate) const CASES: usize = 12;
/// Members.
pub(crate) const MEMBERS: usize = 60;
const STEPS: [f64; 3] = [0.25, 0.3, 0.12];
/// m2, m4 about y, m4 about z, m4 of torsion, m3 of all moduli.
const AREA: f64 = 300e-6;
const INERTIA: f64 = 4e4 * 1e-12;
const TORSION: f64 = 8e4 * 1e-12;
const MODULUS: f64 = 2e3 * 1e-9;

/// Numbers that look drawn by lot, -1 to 1, always the same.
pub(crate) struct Lots(u64);

impl Lots {
    pub(crate) fn new(seed: u64) -> Self {
        Lots(seed)
    }

    /// The next number: a linear congruential generator (D. E. Knuth, The Art of Computer
    /// Programming 2, 3rd ed., 3.3.4, line 26).
    pub(crate) fn next(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

/// The base frame.
pub(crate) fn draft() -> FrameDraft {
    let mut lots = Lots::new(7);
    let mut draft = FrameDraft::default();
    let at = |x: usize, y: usize, z: usize| NodeId((x * 3 + y) * 2 + z);
    let mut pairs = Vec::new();
    for x in 0..4 {
        for y in 0..3 {
            for z in 0..2 {
                let place = [x, y, z].map(|i| i as f64);
                let position = [0, 1, 2].map(|i| STEPS[i] * place[i] + 0.01 * lots.next());
                draft.nodes.push(Node { position });
                let next = [(x + 1, y, z), (x, y + 1, z), (x, y, z + 1)];
                let within = next.into_iter().filter(|&(x, y, z)| x < 4 && y < 3 && z < 2);
                pairs.extend(within.map(|(i, j, k)| (at(x, y, z), at(i, j, k))));
            }
        }
    }
    for x in 0..3 {
        pairs.extend((0..3).map(|y| (at(x, y, 0), at(x + 1, y, 1))));
        pairs.extend((0..2).map(|y| (at(x, y, 0), at(x + 1, y + 1, 0))));
    }
    pairs.truncate(MEMBERS);
    draft.materials.push(Material {
        youngs_modulus: 205e9,
        shear_modulus: 205e9 / 2.6,
        density: 7850.0,
        thermal_expansion: 1.2e-5,
    });
    for (index, &(start, end)) in pairs.iter().enumerate() {
        draft.sections.push(BeamSection {
            area: AREA,
            i_y: INERTIA,
            i_z: 1.5 * INERTIA,
            i_yz: 0.0,
            torsion_constant: TORSION,
            shear_area_y: None,
            shear_area_z: None,
            shear_centre_y: 0.0,
            shear_centre_z: 0.0,
            stress_points: Vec::new(),
            torsion_modulus: None,
        });
        let roll = Orientation::Roll(0.0);
        draft.beams.push(Beam::between(start, end, SectionId(index), MaterialId(0), roll));
    }
    for node in [at(0, 0, 1), at(0, 2, 1), at(3, 0, 1), at(3, 2, 1)] {
        draft.supports.push(Support { node, axes: GLOBAL_AXES, dofs: [Restraint::Fixed; 6] });
    }
    let clamped: Vec<NodeId> = draft.supports.iter().map(|support| support.node).collect();
    for case in 0..CASES {
        let nodal = (0..draft.nodes.len())
            .map(NodeId)
            .filter(|node| !clamped.contains(node))
            .map(|node| NodalLoad {
                node,
                force: [0; 3].map(|_| 1e3 * lots.next()),
                moment: [0; 3].map(|_| lots.next()),
            })
            .collect();
        draft.load_cases.push(LoadCase { name: case.to_string(), nodal, ..LoadCase::default() });
    }
    draft
}

/// The frame, checked.
pub(crate) fn model() -> FrameModel {
    draft().validate().unwrap()
}

/// What differs: area, both inertias and torsion constant of every member.
pub(crate) fn batch(model: &FrameModel) -> FrameBatch {
    let properties = [
        SectionProperty::Area,
        SectionProperty::InertiaY,
        SectionProperty::InertiaZ,
        SectionProperty::TorsionConstant,
    ];
    let moduli = Moduli { bending_y: MODULUS, bending_z: MODULUS, torsion: 2.0 * MODULUS };
    let asked = BatchAsked {
        varied: (0..MEMBERS)
            .flat_map(|s| properties.map(|property| Varied::Section(SectionId(s), property)))
            .collect(),
        moduli: vec![moduli; MEMBERS],
        displacements: Vec::new(),
        end_forces: false,
    };
    FrameBatch::new(model, asked).unwrap()
}

/// Numbers of so many designs, up to a tenth above and below the base.
pub(crate) fn designs(count: usize) -> Vec<f64> {
    let mut lots = Lots::new(3);
    (0..count * MEMBERS)
        .flat_map(|_| {
            let mut some = |base: f64| base * (1.0 + 0.1 * lots.next());
            [some(AREA), some(INERTIA), some(1.5 * INERTIA), some(TORSION)]
        })
        .collect()
}
