//! Short ways to write a frame down, and a comparison that prints what it compared.

use fishplate_solver::answer::{CaseAnswer, StaticAnswer};
use fishplate_solver::model::*;
use fishplate_solver::{Asked, FrameModel, RunToEnd, SolveError, statics};

/// Millimetres in metres.
pub(crate) const MM: f64 = 1e-3;
/// Square millimetres in square metres.
pub(crate) const MM2: f64 = 1e-6;
/// Millimetres to the fourth in metres to the fourth.
pub(crate) const MM4: f64 = 1e-12;
/// Newton millimetres in newton metres.
pub(crate) const NMM: f64 = 1e-3;
/// Megapascals in pascals.
pub(crate) const MPA: f64 = 1e6;
/// Newtons per millimetre in newtons per metre.
pub(crate) const N_PER_MM: f64 = 1e3;

pub(crate) const FREE: [Restraint; 6] = [Restraint::Free; 6];
pub(crate) const CLAMPED: [Restraint; 6] = [Restraint::Fixed; 6];

/// Steel with E = 210000 MPa and nu = 0.3.
pub(crate) fn steel() -> Material {
    Material {
        youngs_modulus: 210_000.0 * MPA,
        shear_modulus: 210_000.0 / 2.6 * MPA,
        density: 7850.0,
        thermal_expansion: 1.2e-5,
    }
}

/// A doubly symmetric section rigid in shear; mm2 and mm4.
pub(crate) fn section_mm(area: f64, i_y: f64, i_z: f64, torsion: f64) -> BeamSection {
    BeamSection {
        area: area * MM2,
        i_y: i_y * MM4,
        i_z: i_z * MM4,
        i_yz: 0.0,
        torsion_constant: torsion * MM4,
        shear_area_y: None,
        shear_area_z: None,
        shear_centre_y: 0.0,
        shear_centre_z: 0.0,
        stress_points: Vec::new(),
        torsion_modulus: None,
    }
}

/// Restrains the movements of the given numbers.
pub(crate) fn fixed(dofs: &[usize]) -> [Restraint; 6] {
    let mut all = FREE;
    for &d in dofs {
        all[d] = Restraint::Fixed;
    }
    all
}

/// A draft that grows node by node.
#[derive(Clone, Default)]
pub(crate) struct Frame {
    pub(crate) draft: FrameDraft,
}

impl Frame {
    /// One section, one material.
    pub(crate) fn of(section: BeamSection, material: Material) -> Self {
        let mut draft = FrameDraft::default();
        draft.sections.push(section);
        draft.materials.push(material);
        Frame { draft }
    }

    /// Adds a node, millimetres.
    pub(crate) fn node(&mut self, x: f64, y: f64, z: f64) -> NodeId {
        self.draft.nodes.push(Node { position: [x * MM, y * MM, z * MM] });
        NodeId(self.draft.nodes.len() - 1)
    }

    /// Joins two nodes by a member of the first section and material, local z upwards.
    pub(crate) fn beam(&mut self, start: NodeId, end: NodeId) -> BeamId {
        self.draft.beams.push(Beam::between(
            start,
            end,
            SectionId(0),
            MaterialId(0),
            Orientation::Roll(0.0),
        ));
        BeamId(self.draft.beams.len() - 1)
    }

    /// Nodes along a line from one point to another, and members between them.
    pub(crate) fn line(&mut self, from: [f64; 3], to: [f64; 3], pieces: usize) -> Vec<NodeId> {
        let nodes: Vec<NodeId> = (0..=pieces)
            .map(|i| {
                let t = i as f64 / pieces as f64;
                let at = |k: usize| from[k] + t * (to[k] - from[k]);
                self.node(at(0), at(1), at(2))
            })
            .collect();
        for pair in nodes.windows(2) {
            self.beam(pair[0], pair[1]);
        }
        nodes
    }

    pub(crate) fn support(&mut self, node: NodeId, dofs: [Restraint; 6]) -> SupportId {
        self.draft.supports.push(Support { node, axes: GLOBAL_AXES, dofs });
        SupportId(self.draft.supports.len() - 1)
    }

    /// A linear spring to the ground in global axes, N/m and N m/rad.
    pub(crate) fn ground_spring(&mut self, node: NodeId, stiffness: [f64; 6]) -> SpringId {
        self.draft.springs.push(Spring {
            a: node,
            b: None,
            axes: GLOBAL_AXES,
            stiffness,
            preset: [0.0; 6],
            behaviour: [SpringAction::Linear; 6],
        });
        SpringId(self.draft.springs.len() - 1)
    }

    pub(crate) fn link(&mut self, master: NodeId, slave: NodeId) -> LinkId {
        self.draft.rigid_links.push(RigidLink { master, slave, dofs: [true; 6] });
        LinkId(self.draft.rigid_links.len() - 1)
    }

    /// Opens a new load case.
    pub(crate) fn case(&mut self) -> &mut LoadCase {
        let name = format!("LC{}", self.draft.load_cases.len() + 1);
        self.draft.load_cases.push(LoadCase { name, ..LoadCase::default() });
        self.draft.load_cases.last_mut().expect("one was pushed just now")
    }

    pub(crate) fn model(&self) -> FrameModel {
        match self.draft.clone().validate() {
            Ok(model) => model,
            Err(faults) => panic!("{faults:#?}"),
        }
    }

    pub(crate) fn try_solve(&self) -> Result<StaticAnswer, SolveError> {
        statics(&self.model(), &Asked::ends(), &RunToEnd)
    }

    pub(crate) fn solve(&self) -> StaticAnswer {
        self.solve_at(&Asked::ends())
    }

    /// Solves and holds every case to the trust that the crate promises.
    pub(crate) fn solve_at(&self, asked: &Asked) -> StaticAnswer {
        let answer = match statics(&self.model(), asked, &RunToEnd) {
            Ok(answer) => answer,
            Err(error) => panic!("{error}"),
        };
        for case in &answer.cases {
            trustworthy(case);
        }
        answer
    }
}

/// Balance, backward error and energy within 1e-9 (1e-13 for the backward error).
pub(crate) fn trustworthy(case: &CaseAnswer) {
    let q = &case.quality;
    assert!(q.backward_error <= 1e-13, "{}: {q:?}", case.name);
    assert!(q.residual <= 1e-9, "{}: {q:?}", case.name);
    assert!(q.equilibrium.iter().all(|e| *e <= 1e-9), "{}: {q:?}", case.name);
    assert!(q.energy <= 1e-9, "{}: {q:?}", case.name);
}

pub(crate) trait Load {
    fn force(&mut self, node: NodeId, force: [f64; 3]) -> &mut Self;
    fn moment(&mut self, node: NodeId, moment: [f64; 3]) -> &mut Self;
    fn uniform(&mut self, beam: BeamId, force: [f64; 3]) -> &mut Self;
    fn trapezoid(&mut self, beam: BeamId, span: Span, from: [f64; 3], to: [f64; 3]) -> &mut Self;
    fn within(&mut self, beam: BeamId, at: f64, force: [f64; 3], moment: [f64; 3]) -> &mut Self;
    fn prescribe(&mut self, node: NodeId, dof: Dof, value: f64) -> &mut Self;
}

impl Load for LoadCase {
    fn force(&mut self, node: NodeId, force: [f64; 3]) -> &mut Self {
        self.nodal.push(NodalLoad { node, force, moment: [0.0; 3] });
        self
    }

    fn moment(&mut self, node: NodeId, moment: [f64; 3]) -> &mut Self {
        self.nodal.push(NodalLoad { node, force: [0.0; 3], moment });
        self
    }

    fn uniform(&mut self, beam: BeamId, force: [f64; 3]) -> &mut Self {
        self.trapezoid(beam, Span::Whole, force, force)
    }

    fn trapezoid(&mut self, beam: BeamId, span: Span, from: [f64; 3], to: [f64; 3]) -> &mut Self {
        self.line.push(LineLoad {
            beam,
            span,
            axes: LoadAxes::Global,
            acts_at: LoadPoint::Centroid,
            force_from: from,
            force_to: to,
            moment_from: [0.0; 3],
            moment_to: [0.0; 3],
        });
        self
    }

    fn within(&mut self, beam: BeamId, at: f64, force: [f64; 3], moment: [f64; 3]) -> &mut Self {
        self.point.push(BeamPointLoad {
            beam,
            at,
            axes: LoadAxes::Global,
            acts_at: LoadPoint::Centroid,
            force,
            moment,
        });
        self
    }

    fn prescribe(&mut self, node: NodeId, dof: Dof, value: f64) -> &mut Self {
        self.prescribed.push(Prescribed { node, dof, value });
        self
    }
}

/// Relative comparison.
#[track_caller]
pub(crate) fn close(got: f64, expected: f64, tolerance: f64, what: &str) {
    let error = (got - expected).abs() / expected.abs();
    assert!(error <= tolerance, "{what}: got {got:e}, expected {expected:e}, off by {error:e}");
}

/// Absolute comparison.
#[track_caller]
pub(crate) fn near(got: f64, expected: f64, tolerance: f64, what: &str) {
    let error = (got - expected).abs();
    assert!(error <= tolerance, "{what}: got {got:e}, expected {expected:e}, off by {error:e}");
}
