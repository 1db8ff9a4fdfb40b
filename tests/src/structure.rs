//! Short words for structures, and for finding things in their answers.

use fishplate_proto::v1;
use fishplate_proto::v1::{SupportAction, section};

use crate::service;

/// A structure under construction; the request is `0`.
#[derive(Debug, Clone, Default)]
pub struct Structure(pub v1::SolveStructureRequest);

/// A direction or a place.
pub type Vec3 = [f64; 3];

/// A vector of the wire.
#[must_use]
pub fn vector([x, y, z]: Vec3) -> v1::Vector {
    v1::Vector { x, y, z }
}

/// A position of the wire, mm.
#[must_use]
pub fn position([x_mm, y_mm, z_mm]: Vec3) -> v1::Position {
    v1::Position { x_mm, y_mm, z_mm }
}

/// A force in N and a moment in N mm.
#[must_use]
pub fn wrench([force_x_n, force_y_n, force_z_n]: Vec3, moment: Vec3) -> v1::Wrench {
    let [moment_x_nmm, moment_y_nmm, moment_z_nmm] = moment;
    v1::Wrench { force_x_n, force_y_n, force_z_n, moment_x_nmm, moment_y_nmm, moment_z_nmm }
}

/// Section properties that bend: area, I_y, I_z, torsion constant; rigid in shear.
#[must_use]
pub fn values(area_mm2: f64, i_y_mm4: f64, i_z_mm4: f64, torsion: f64) -> v1::SectionValues {
    v1::SectionValues {
        area_mm2,
        i_y_mm4,
        i_z_mm4,
        torsion_constant_mm4: torsion,
        ..Default::default()
    }
}

/// Steel of E 210 GPa and Poisson's ratio 0.3.
#[must_use]
pub fn steel(id: &str) -> v1::Material {
    v1::Material {
        id: id.to_owned(),
        youngs_modulus_mpa: 210_000.0,
        shear_modulus_mpa: 210_000.0 / 2.6,
        density_kg_per_m3: 7850.0,
        expansion_per_k: 1.2e-5,
    }
}

/// A load case without loads.
#[must_use]
pub fn load_case(id: &str) -> v1::StructureLoadCase {
    v1::StructureLoadCase { id: id.to_owned(), ..Default::default() }
}

/// A load case with one force or moment at a node.
#[must_use]
pub fn at_node(id: &str, node: &str, force: Vec3, moment: Vec3) -> v1::StructureLoadCase {
    let nodal_loads = vec![nodal(node, force, moment)];
    v1::StructureLoadCase { nodal_loads, ..load_case(id) }
}

/// A load at a node.
#[must_use]
pub fn nodal(node: &str, force: Vec3, moment: Vec3) -> v1::NodalLoad {
    v1::NodalLoad { node_id: node.to_owned(), load: Some(wrench(force, moment)) }
}

/// A line load over the whole of a member, from its value at the start to that at the end.
#[must_use]
pub fn line(beam: &str, from: Vec3, to: Vec3) -> v1::MemberLineLoad {
    v1::MemberLineLoad {
        beam_id: beam.to_owned(),
        from_n_per_mm: Some(vector(from)),
        to_n_per_mm: Some(vector(to)),
        ..Default::default()
    }
}

impl Structure {
    /// Adds a node.
    #[must_use]
    pub fn node(mut self, id: &str, at: Vec3) -> Self {
        self.0.nodes.push(v1::Node { id: id.to_owned(), position: Some(position(at)) });
        self
    }

    /// Adds a section by its properties.
    #[must_use]
    pub fn section(mut self, id: &str, given: v1::SectionValues) -> Self {
        let definition = Some(section::Definition::Values(given));
        self.0.sections.push(v1::Section { id: id.to_owned(), definition, ..Default::default() });
        self
    }

    /// Adds a material.
    #[must_use]
    pub fn material(mut self, given: v1::Material) -> Self {
        self.0.materials.push(given);
        self
    }

    /// Adds the section `s` of these properties and the material `m`, steel.
    #[must_use]
    pub fn steel_section(self, given: v1::SectionValues) -> Self {
        self.section("s", given).material(steel("m"))
    }

    /// Adds a member of section `s` and material `m`.
    #[must_use]
    pub fn beam(self, id: &str, start: &str, end: &str) -> Self {
        self.member(id, start, end, "s", "m")
    }

    /// Adds a member.
    #[must_use]
    pub fn member(mut self, id: &str, start: &str, end: &str, section: &str, of: &str) -> Self {
        self.0.beams.push(v1::Beam {
            id: id.to_owned(),
            start_node_id: start.to_owned(),
            end_node_id: end.to_owned(),
            section_id: section.to_owned(),
            material_id: of.to_owned(),
            ..Default::default()
        });
        self
    }

    /// Changes the member that was added last.
    #[must_use]
    pub fn with(mut self, change: impl FnOnce(&mut v1::Beam)) -> Self {
        change(self.0.beams.last_mut().expect("a member was added before"));
        self
    }

    /// Holds a node: `xyz` movements, `XYZ` turns.
    #[must_use]
    pub fn hold(mut self, node: &str, what: &str) -> Self {
        let mut support = v1::Support { node_id: node.to_owned(), ..Default::default() };
        let held = SupportAction::Held;
        for letter in what.chars() {
            match letter {
                'x' => support.set_move_x(held),
                'y' => support.set_move_y(held),
                'z' => support.set_move_z(held),
                'X' => support.turn_x = true,
                'Y' => support.turn_y = true,
                'Z' => support.turn_z = true,
                other => panic!("`{other}` is no direction"),
            }
        }
        self.0.supports.push(support);
        self
    }

    /// Holds a node in every way.
    #[must_use]
    pub fn fix(self, node: &str) -> Self {
        self.hold(node, "xyzXYZ")
    }

    /// Adds a spring from a node to the ground, along global axes, N/mm.
    #[must_use]
    pub fn grounded(mut self, id: &str, node: &str, [x, y, z]: Vec3) -> Self {
        self.0.springs.push(v1::Spring {
            id: id.to_owned(),
            node_a_id: node.to_owned(),
            move_x_n_per_mm: x,
            move_y_n_per_mm: y,
            move_z_n_per_mm: z,
            ..Default::default()
        });
        self
    }

    /// Makes a node follow another.
    #[must_use]
    pub fn link(mut self, id: &str, leader: &str, follower: &str) -> Self {
        self.0.rigid_links.push(v1::RigidLink {
            id: id.to_owned(),
            leader_node_id: leader.to_owned(),
            follower_node_id: follower.to_owned(),
        });
        self
    }

    /// Adds a load case.
    #[must_use]
    pub fn case(mut self, case: v1::StructureLoadCase) -> Self {
        self.0.load_cases.push(case);
        self
    }

    /// Asks for results along every member.
    #[must_use]
    pub fn stations(mut self, fractions: &[f64]) -> Self {
        self.0
            .stations
            .push(v1::StationRequest { beam_id: String::new(), fractions: fractions.to_vec() });
        self
    }

    /// Solves it.
    ///
    /// # Panics
    /// When the service refuses it.
    #[must_use]
    pub fn solved(&self) -> Answer {
        Answer(service::solve(&self.0).unwrap_or_else(|status| panic!("refused: {status:?}")))
    }
}

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Answer(pub v1::SolveStructureResponse);

impl Answer {
    /// The results of a load case.
    ///
    /// # Panics
    /// When there is none of that name.
    #[must_use]
    pub fn case(&self, id: &str) -> CaseAnswer<'_> {
        let case = self.0.static_cases.iter().find(|case| case.load_case_id == id);
        CaseAnswer(case.unwrap_or_else(|| panic!("no answer for {id}")))
    }

    /// The properties of the section at this place.
    #[must_use]
    pub fn section(&self, place: usize) -> &v1::SectionAnswer {
        &self.0.sections[place]
    }
}

/// The results of a load case.
#[derive(Debug, Clone, Copy)]
pub struct CaseAnswer<'a>(pub &'a v1::StaticCaseAnswer);

impl<'a> CaseAnswer<'a> {
    /// Movement of a node.
    ///
    /// # Panics
    /// When there is none of that name.
    #[must_use]
    pub fn moved(&self, node: &str) -> &'a v1::NodeMovement {
        let all = &self.0.movements;
        all.iter().find(|m| m.node_id == node).unwrap_or_else(|| panic!("no node {node}"))
    }

    /// Reaction at a node.
    ///
    /// # Panics
    /// When it has none.
    #[must_use]
    pub fn reaction(&self, node: &str) -> v1::Wrench {
        let found = self.0.reactions.iter().find(|r| r.node_id == node);
        found.and_then(|r| r.force).unwrap_or_else(|| panic!("no reaction at {node}"))
    }

    /// Forces in a member at a part of its length; they were asked for, or are at an end.
    ///
    /// # Panics
    /// When there is no such place.
    #[must_use]
    pub fn station(&self, beam: &str, fraction: f64) -> &'a v1::StationForces {
        let member = self.0.members.iter().find(|m| m.beam_id == beam);
        let stations = &member.unwrap_or_else(|| panic!("no member {beam}")).stations;
        let length = stations.iter().map(|s| s.at_mm).fold(0.0, f64_larger);
        let found = stations.iter().find(|s| (s.at_mm / length - fraction).abs() < 1e-9);
        found.unwrap_or_else(|| panic!("no station {fraction} on {beam}"))
    }

    /// All stations of a member.
    ///
    /// # Panics
    /// When there is none of that name.
    #[must_use]
    pub fn stations(&self, beam: &str) -> &'a [v1::StationForces] {
        let member = self.0.members.iter().find(|m| m.beam_id == beam);
        &member.unwrap_or_else(|| panic!("no member {beam}")).stations
    }

    /// Force on the first node of a spring, in the spring's axes.
    ///
    /// # Panics
    /// When there is none of that name.
    #[must_use]
    pub fn spring(&self, id: &str) -> v1::Wrench {
        let found = self.0.springs.iter().find(|s| s.spring_id == id);
        found.and_then(|s| s.force_on_a).unwrap_or_else(|| panic!("no spring {id}"))
    }
}

fn f64_larger(a: f64, b: f64) -> f64 {
    if b > a { b } else { a }
}
