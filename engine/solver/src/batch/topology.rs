//! What all designs of a batch share: analysed once.

use super::block::SIDE;
use super::request::{BatchAsked, MaterialProperty, Moduli, SectionProperty, Varied};
use super::schedule::Schedule;
use crate::frame::FrameModel;
use crate::model::{GLOBAL_AXES, LoadCase, Release, Restraint, SpringAction};
use crate::part::Part;
use crate::validate::Findings;
use crate::vector::{exceeds, largest};
use fishplate_quantity::Fault;
use std::collections::BTreeSet;

/// A frame whose connections, places, supports and loads are settled, ready for any number of
/// designs.
#[derive(Clone, Debug)]
pub struct FrameBatch {
    pub(super) model: FrameModel,
    pub(super) asked: BatchAsked,
    pub(super) schedule: Schedule,
    /// Step that eliminates each node of the frame; `None` where all six movements are held.
    pub(super) step_of: Vec<Option<usize>>,
    pub(super) members: Vec<Member>,
    pub(super) springs: Vec<Bedding>,
    /// Per step, which movements are held.
    pub(super) held: Vec<[bool; SIDE]>,
    /// Entries of blocks (block, column, row) that held movements leave empty.
    pub(super) emptied: Vec<[usize; 3]>,
    /// Loads at the free movements, in blocks like those of the right-hand sides.
    pub(super) loads: Vec<[[f64; SIDE]; SIDE]>,
    /// Numbers of the base frame; a design changes some of them.
    pub(super) numbers: Vec<f64>,
    /// Which of [`Self::numbers`] each varied number is.
    pub(super) slots: Vec<usize>,
    /// Number of load cases.
    pub(super) cases: usize,
}

/// A beam in its place.
#[derive(Clone, Debug)]
pub(super) struct Member {
    /// First number of its section.
    pub(super) section: usize,
    /// First number of its material.
    pub(super) material: usize,
    /// Whether it gives way in shear by forces along y, along z.
    pub(super) sheared: [bool; 2],
    pub(super) length: f64,
    /// Rows: local x, y, z in global components.
    pub(super) axes: [[f64; 3]; 3],
    /// Shear centre from the centroid.
    pub(super) shear_centre: Option<[f64; 2]>,
    /// Rigid arms from the nodes to the ends.
    pub(super) arms: Option<[[f64; 3]; 2]>,
    pub(super) at: Between,
}

/// A spring in its place.
#[derive(Clone, Debug)]
pub(super) struct Bedding {
    /// First number of its six stiffnesses.
    pub(super) stiffness: usize,
    /// Deformations from the movements of both nodes.
    pub(super) modes: [[f64; 12]; 6],
    pub(super) at: Between,
}

/// Where two nodes stand among the blocks.
#[derive(Clone, Copy, Debug)]
pub(super) struct Between {
    /// Their steps.
    pub(super) steps: [Option<usize>; 2],
    /// Block of each with itself.
    pub(super) own: [Option<usize>; 2],
    /// Block of both, and whether its rows are those of the second.
    pub(super) both: Option<(usize, bool)>,
}

/// Numbers kept of a section.
const OF_SECTION: usize = SectionProperty::ALL.len();
/// Numbers kept of a material.
const OF_MATERIAL: usize = 2;

impl FrameBatch {
    /// Analyses the frame once for designs that differ in the numbers listed.
    ///
    /// # Errors
    /// All faults: what a batch can't carry (releases, rigid links, one-sided or preset springs and
    /// supports, supports in axes of their own, loads other than at nodes, sections out of their
    /// principal axes), and what is asked of things that don't exist.
    pub fn new(model: &FrameModel, asked: BatchAsked) -> Result<Self, Vec<Fault>> {
        let mut found = Findings::default();
        carried(&mut found, model);
        answerable(&mut found, model, &asked);
        if !found.faults.is_empty() {
            return Err(found.faults);
        }
        let draft = &model.draft;
        let holds = held_movements(model);
        let mut graph_of = vec![None; draft.nodes.len()];
        let mut free = Vec::new();
        for (node, held) in holds.iter().enumerate() {
            if held.contains(&false) {
                graph_of[node] = Some(free.len());
                free.push(node);
            }
        }
        let beams = draft.beams.iter().map(|b| [Some(b.start.0), Some(b.end.0)]);
        let springs = draft.springs.iter().map(|s| [Some(s.a.0), s.b.map(|b| b.0)]);
        let joined: Vec<Vec<usize>> = beams
            .chain(springs)
            .map(|ends| ends.into_iter().flatten().filter_map(|n| graph_of[n]).collect())
            .collect();
        let cases = draft.load_cases.len();
        let schedule = Schedule::new(free.len(), &joined, cases);
        let mut step_of = vec![None; draft.nodes.len()];
        for (step, &place) in schedule.order.iter().enumerate() {
            step_of[free[place]] = Some(step);
        }
        let held: Vec<[bool; SIDE]> =
            schedule.order.iter().map(|&place| holds[free[place]]).collect();
        let members = members(model, &schedule, &step_of);
        let springs = beddings(model, &schedule, &step_of);
        let emptied = emptied(&schedule, &held);
        let loads = loads(&draft.load_cases, &schedule, &step_of, &held);
        let numbers = numbers(model, &asked.moduli);
        let slots = asked.varied.iter().map(|&varied| slot(model, varied)).collect();
        let model = model.clone();
        Ok(FrameBatch {
            model,
            asked,
            schedule,
            step_of,
            members,
            springs,
            held,
            emptied,
            loads,
            numbers,
            slots,
            cases,
        })
    }

    /// Numbers that a design consists of.
    #[must_use]
    pub fn numbers_per_design(&self) -> usize {
        self.slots.len()
    }

    /// What is asked of every design.
    #[must_use]
    pub fn asked(&self) -> &BatchAsked {
        &self.asked
    }

    /// Entries of all blocks, right-hand sides included: the measure of the memory (8 bytes each
    /// and lane) and of the time that a design takes.
    #[must_use]
    pub fn entries(&self) -> usize {
        SIDE * SIDE * (self.schedule.blocks + self.loads.len())
    }

    /// Products of blocks that a design takes.
    #[must_use]
    pub fn products(&self) -> usize {
        self.schedule.pairs.len()
    }
}

/// Place of a varied number.
fn slot(model: &FrameModel, varied: Varied) -> usize {
    let draft = &model.draft;
    let materials = OF_SECTION * draft.sections.len();
    let springs = materials + OF_MATERIAL * draft.materials.len();
    match varied {
        Varied::Section(section, property) => OF_SECTION * section.0 + property as usize,
        Varied::Material(material, property) => {
            materials
                + OF_MATERIAL * material.0
                + match property {
                    MaterialProperty::YoungsModulus => 0,
                    MaterialProperty::ShearModulus => 1,
                }
        }
        Varied::Spring(spring, dof) => springs + 6 * spring.0 + dof.index(),
    }
}

/// The numbers of the base frame, in the order of [`slot`].
fn numbers(model: &FrameModel, moduli: &[Moduli]) -> Vec<f64> {
    let draft = &model.draft;
    let mut all = Vec::new();
    for (section, moduli) in draft.sections.iter().zip(moduli) {
        // What is rigid in shear has no use for the area.
        let shear = |area: Option<f64>| area.unwrap_or(section.area);
        all.extend([
            section.area,
            section.i_y,
            section.i_z,
            section.torsion_constant,
            shear(section.shear_area_y),
            shear(section.shear_area_z),
            moduli.bending_y,
            moduli.bending_z,
            moduli.torsion,
        ]);
    }
    for material in &draft.materials {
        all.extend([material.youngs_modulus, material.shear_modulus]);
    }
    for spring in &draft.springs {
        all.extend(spring.stiffness);
    }
    all
}

fn held_movements(model: &FrameModel) -> Vec<[bool; SIDE]> {
    let mut holds = vec![[false; SIDE]; model.draft.nodes.len()];
    for support in &model.draft.supports {
        for (held, dof) in holds[support.node.0].iter_mut().zip(support.dofs) {
            *held |= dof == Restraint::Fixed;
        }
    }
    holds
}

fn between(schedule: &Schedule, steps: [Option<usize>; 2]) -> Between {
    let own = steps.map(|step| schedule.block(step?, step?));
    let both = match steps {
        [Some(a), Some(b)] if a > b => schedule.block(a, b).map(|block| (block, false)),
        [Some(a), Some(b)] => schedule.block(b, a).map(|block| (block, true)),
        _ => None,
    };
    Between { steps, own, both }
}

fn members(model: &FrameModel, schedule: &Schedule, step_of: &[Option<usize>]) -> Vec<Member> {
    let draft = &model.draft;
    let some = |values: &[f64]| exceeds(largest(values), 0.0);
    draft
        .beams
        .iter()
        .zip(&model.lines)
        .map(|(beam, line)| {
            let section = &draft.sections[beam.section.0];
            let centre = [section.shear_centre_y, section.shear_centre_z];
            let arms = [beam.offset_start, beam.offset_end];
            Member {
                section: OF_SECTION * beam.section.0,
                material: OF_SECTION * draft.sections.len() + OF_MATERIAL * beam.material.0,
                sheared: [section.shear_area_y.is_some(), section.shear_area_z.is_some()],
                length: line.length,
                axes: line.axes,
                shear_centre: some(&centre).then_some(centre),
                arms: some(&arms.concat()).then_some(arms),
                at: between(schedule, [step_of[beam.start.0], step_of[beam.end.0]]),
            }
        })
        .collect()
}

fn beddings(model: &FrameModel, schedule: &Schedule, step_of: &[Option<usize>]) -> Vec<Bedding> {
    let draft = &model.draft;
    let first = OF_SECTION * draft.sections.len() + OF_MATERIAL * draft.materials.len();
    draft
        .springs
        .iter()
        .enumerate()
        .map(|(index, spring)| {
            let part = Part::of_spring(model, spring, spring.stiffness);
            let mut modes = [[0.0; 12]; 6];
            for (i, row) in modes.iter_mut().enumerate() {
                for (j, c) in row.iter_mut().enumerate().take(part.modes.ncols()) {
                    *c = part.modes[(i, j)];
                }
            }
            let far = spring.b.and_then(|b| step_of[b.0]);
            Bedding {
                stiffness: first + 6 * index,
                modes,
                at: between(schedule, [step_of[spring.a.0], far]),
            }
        })
        .collect()
}

/// Entries of the matrix in rows and columns of held movements.
fn emptied(schedule: &Schedule, held: &[[bool; SIDE]]) -> Vec<[usize; 3]> {
    let mut all = Vec::new();
    for ([row, column], block) in schedule.all() {
        for c in 0..SIDE {
            for r in 0..SIDE {
                if held[column][c] || held[row][r] {
                    all.push([block, c, r]);
                }
            }
        }
    }
    all
}

fn loads(
    cases: &[LoadCase],
    schedule: &Schedule,
    step_of: &[Option<usize>],
    held: &[[bool; SIDE]],
) -> Vec<[[f64; SIDE]; SIDE]> {
    let mut blocks = vec![[[0.0; SIDE]; SIDE]; schedule.blocks - schedule.first_load];
    for (index, case) in cases.iter().enumerate() {
        for load in &case.nodal {
            let Some(step) = step_of[load.node.0] else { continue };
            let block = schedule.load(step, index / SIDE) - schedule.first_load;
            for (i, f) in load.force.into_iter().chain(load.moment).enumerate() {
                if !held[step][i] {
                    blocks[block][i][index % SIDE] += f;
                }
            }
        }
    }
    blocks
}

/// Refuses what a batch doesn't carry.
fn carried(found: &mut Findings, model: &FrameModel) {
    const ALONE: &str = "solve these designs one by one";
    let draft = &model.draft;
    let mut refuse = |path: String, given: &str, allowed: &str, advice: &str| {
        found.add(path, given, allowed, advice);
    };
    if draft.load_cases.is_empty() {
        refuse("load_cases".into(), "none", "at least one load case", "");
    }
    for index in 0..draft.rigid_links.len() {
        let advice = "give members rigid offsets instead, or solve these designs one by one";
        refuse(
            format!("rigid_links[{index}]"),
            "a rigid link",
            "no rigid links in a batch",
            advice,
        );
    }
    for (index, section) in draft.sections.iter().enumerate() {
        if exceeds(section.i_yz.abs(), PRINCIPAL * (section.i_y + section.i_z)) {
            let given = format!("{} m4", section.i_yz);
            let advice = "turn the section, and the member with it";
            let path = format!("sections[{index}].i_yz");
            refuse(path, &given, "0 in a batch: local y and z are principal axes", advice);
        }
    }
    for (index, beam) in draft.beams.iter().enumerate() {
        for (name, releases) in
            [("releases_start", &beam.releases_start), ("releases_end", &beam.releases_end)]
        {
            for (dof, release) in releases.iter().enumerate() {
                if *release != Release::Fixed {
                    let path = format!("beams[{index}].{name}[{dof}]");
                    refuse(path, "a release", "fixed ends in a batch", ALONE);
                }
            }
        }
    }
    for (index, spring) in draft.springs.iter().enumerate() {
        for (dof, behaviour) in spring.behaviour.iter().enumerate() {
            if *behaviour != SpringAction::Linear {
                let path = format!("springs[{index}].behaviour[{dof}]");
                refuse(path, "a one-sided law or stops", "linear springs in a batch", ALONE);
            }
            if exceeds(spring.preset[dof].abs(), 0.0) {
                let path = format!("springs[{index}].preset[{dof}]");
                refuse(path, "a lack of fit", "springs without lack of fit in a batch", ALONE);
            }
        }
    }
    for (index, support) in draft.supports.iter().enumerate() {
        let all_or_none = support.dofs.windows(2).all(|pair| pair[0] == pair[1]);
        if support.axes != GLOBAL_AXES && !all_or_none {
            let path = format!("supports[{index}].axes");
            refuse(path, "axes of its own", "supports along the global axes in a batch", ALONE);
        }
        for (dof, restraint) in support.dofs.iter().enumerate() {
            if matches!(restraint, Restraint::StopsNegative | Restraint::StopsPositive) {
                let path = format!("supports[{index}].dofs[{dof}]");
                refuse(path, "a one-sided support", "free or held both ways in a batch", ALONE);
            }
        }
    }
    for (index, case) in draft.load_cases.iter().enumerate() {
        let lists = [
            ("line", case.line.len()),
            ("point", case.point.len()),
            ("thermal", case.thermal.len()),
            ("prescribed", case.prescribed.len()),
        ];
        for (name, count) in lists {
            if count > 0 {
                let path = format!("load_cases[{index}].{name}[0]");
                let advice = "put nodes where loads act, or solve these designs one by one";
                refuse(path, &format!("{count}"), "loads at nodes only in a batch", advice);
            }
        }
        if exceeds(largest(&case.acceleration), 0.0) {
            let path = format!("load_cases[{index}].acceleration");
            let advice = "put the weights at the nodes as loads";
            refuse(path, "an acceleration", "loads at nodes only in a batch", advice);
        }
    }
}

/// Refuses what is asked of things that don't exist, or twice.
fn answerable(found: &mut Findings, model: &FrameModel, asked: &BatchAsked) {
    let draft = &model.draft;
    let BatchAsked { varied, moduli, displacements, end_forces: _ } = asked;
    if moduli.len() != draft.sections.len() {
        let allowed = format!("{}, one a section", draft.sections.len());
        found.add("moduli".into(), moduli.len(), &allowed, "");
    }
    for (index, moduli) in moduli.iter().enumerate() {
        let Moduli { bending_y, bending_z, torsion } = *moduli;
        found.positive(format!("moduli[{index}].bending_y"), bending_y);
        found.positive(format!("moduli[{index}].bending_z"), bending_z);
        found.positive(format!("moduli[{index}].torsion"), torsion);
    }
    for (index, node) in displacements.iter().enumerate() {
        found.exists(format!("displacements[{index}]"), node.0, draft.nodes.len(), "node");
    }
    let mut seen = BTreeSet::new();
    for (index, &varied) in varied.iter().enumerate() {
        let path = format!("varied[{index}]");
        let (number, count, what) = match varied {
            Varied::Section(section, _) => (section.0, draft.sections.len(), "section"),
            Varied::Material(material, _) => (material.0, draft.materials.len(), "material"),
            Varied::Spring(spring, _) => (spring.0, draft.springs.len(), "spring"),
        };
        if !found.exists(path.clone(), number, count, what) {
            continue;
        }
        if !seen.insert(varied) {
            found.add(path.clone(), "listed twice", "each number once", "leave one out");
        }
        if let Varied::Section(section, property) = varied {
            let section = &draft.sections[section.0];
            let rigid = match property {
                SectionProperty::ShearAreaY => section.shear_area_y.is_none(),
                SectionProperty::ShearAreaZ => section.shear_area_z.is_none(),
                _ => false,
            };
            if rigid {
                found.add(
                    path,
                    "a shear area of a section that is rigid in shear",
                    "a section whose base has that shear area",
                    "give the base section a shear area",
                );
            }
        }
    }
}

/// A product of inertia below this part of the inertias is rounding of principal axes.
const PRINCIPAL: f64 = 1e-12;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn properties_stand_in_the_order_of_their_numbers() {
        for (place, property) in SectionProperty::ALL.into_iter().enumerate() {
            assert_eq!(property as usize, place);
        }
    }
}
