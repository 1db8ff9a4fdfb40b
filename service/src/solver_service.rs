//! Structures: mechanics alone.

use std::sync::Arc;

use fishplate_proto::v1::solver_service_server::SolverService;
use fishplate_proto::v1::{
    MeshPlateRequest, MeshPlateResponse, SolveFrameDesignsRequest, SolveFrameDesignsResponse,
    SolveStructureRequest, SolveStructureResponse,
};
use fishplate_quantity::Fault;
use fishplate_solver::batch::{BatchError, Effort, Width};
use fishplate_solver::mesh::mesh;
use fishplate_solver::model::CaseId;
use fishplate_solver::plates::answer::{PlateAsked, PlateCaseAnswer};
use fishplate_solver::plates::{self, PlateModel};
use fishplate_solver::{
    Asked, BucklingAsked, FrameModel, FrequenciesAsked, RotaryInertia, SolveError, Station,
    buckling, frequencies, statics,
};
use tonic::{Request, Response, Status};
use tracing::Span;

use crate::errors::{Refusal, Unsolvable};
use crate::from_proto::solver::{
    self as read, Structure, StructureNames, follows_from_no_number, in_wire_terms,
};
use crate::from_proto::{Reader, mesh as read_mesh};
use crate::joints;
use crate::limits::{ANSWER_BYTES, BLOCK_BYTES, BLOCK_DESIGNS, FACTOR_BYTES, FRAME_MOVEMENTS};
use crate::to_proto::{
    designs as told_designs, group, mesh as told_mesh, plates as told_plates, section,
    solver as told,
};
use crate::work::{Desk, Job, Teller, Updates, internal};

/// The service.
#[derive(Debug)]
pub(crate) struct Solver {
    desk: Arc<Desk>,
}

impl Solver {
    pub(crate) fn new(desk: Arc<Desk>) -> Self {
        Self { desk }
    }
}

#[tonic::async_trait]
impl SolverService for Solver {
    async fn solve_structure(
        &self,
        request: Request<SolveStructureRequest>,
    ) -> Result<Response<SolveStructureResponse>, Status> {
        self.desk.answer("SolveStructureRequest", request, solve).await
    }

    async fn mesh_plate(
        &self,
        request: Request<MeshPlateRequest>,
    ) -> Result<Response<MeshPlateResponse>, Status> {
        self.desk.answer("MeshPlateRequest", request, mesh_plate).await
    }

    type SolveFrameDesignsStream = Updates<SolveFrameDesignsResponse>;

    async fn solve_frame_designs(
        &self,
        request: Request<SolveFrameDesignsRequest>,
    ) -> Result<Response<Self::SolveFrameDesignsStream>, Status> {
        Ok(self.desk.tell("SolveFrameDesignsRequest", request, designs))
    }
}

/// Solves designs block by block; the last block is the answer, those before it are told on the
/// way.
fn designs(
    request: SolveFrameDesignsRequest,
    job: &mut Job,
    teller: &Teller<SolveFrameDesignsResponse>,
) -> Result<SolveFrameDesignsResponse, Refusal> {
    let asked = job.sound(|reader| read::designs(reader, request))?;
    let read::Designs { structure, batch, values, detail, bytes_each } = asked;
    let job = &*job;
    // Eight designs at once on each thread, at most.
    let _memory = job.slot.memory(8 * 8 * batch.entries() * job.threads)?;
    let cases = structure.frame.load_cases.len();
    let effort = Effort { threads: job.threads, width: Width::Widest };
    let each = (BLOCK_BYTES / Ord::max(bytes_each, 1)).clamp(1, BLOCK_DESIGNS);
    let refused = |error| refusal(&structure.names, job, error);
    let mut blocks = values.chunks(each * batch.numbers_per_design()).enumerate().peekable();
    while let Some((index, numbers)) = blocks.next() {
        let answer = batch.solve(numbers, effort, job).map_err(|error| match error {
            BatchError::Unusable(faults) => Refusal::invalid(faults),
            BatchError::Cancelled => job.stopped(),
        })?;
        let told = told_designs::block(index * each, cases, detail, answer, refused);
        if blocks.peek().is_none() {
            return Ok(told);
        }
        if !teller.send(told) {
            return Err(job.stopped());
        }
    }
    Err(internal("a request for designs without a design was let through"))
}

fn mesh_plate(request: MeshPlateRequest, job: &mut Job) -> Result<MeshPlateResponse, Refusal> {
    let asked = job.sound(|reader| read_mesh::asked(reader, request))?;
    let read_mesh::Asked { outline, sizing, plane, prefix } = asked;
    let made = mesh(&outline, &sizing).map_err(|faults| {
        let told = faults.into_iter().map(|fault| read_mesh::in_wire_terms(&outline, fault));
        Refusal::invalid(told.collect())
    })?;
    Ok(told_mesh::mesh(made, &plane, &prefix))
}

fn solve(request: SolveStructureRequest, job: &mut Job) -> Result<SolveStructureResponse, Refusal> {
    let span = Span::current();
    span.record("nodes", request.nodes.len());
    span.record("beams", request.beams.len());
    span.record("cases", request.load_cases.len());
    let (structure, model) = job.sound(|reader| Some(checked(reader, request)))?;
    let mut answer = SolveStructureResponse {
        sections: structure.sections.iter().map(section::section).collect(),
        warnings: structure.sections.iter().flat_map(section::warnings).collect(),
        ..Default::default()
    };
    for (index, given) in structure.bolt_groups.iter().enumerate() {
        answer.bolt_groups.push(group::bolt_group(given, &joints::bolts(index, given)?));
    }
    for (index, given) in structure.weld_groups.iter().enumerate() {
        answer.weld_groups.push(group::weld_group(given, &joints::welds(index, given)?));
    }
    for (index, given) in structure.bed_contacts.iter().enumerate() {
        let (bed, area) = joints::bed(index, given)?;
        answer.bed_contacts.push(group::bed_contact(given, &bed, area));
    }
    match model {
        Some(Model::Frame(model)) => frame(&structure, &model, job, &mut answer)?,
        Some(Model::Plates(model)) => with_plates(&structure, &model, job, &mut answer)?,
        None => {}
    }
    Ok(answer)
}

/// What is solved.
enum Model {
    Frame(Box<FrameModel>),
    Plates(Box<PlateModel>),
}

/// Reads the request and lets the engine check the structure in it, whatever was found before: all
/// faults are told at once.
fn checked(reader: &mut Reader, request: SolveStructureRequest) -> (Structure, Option<Model>) {
    let structure = read::structure(reader, request);
    if !structure.has_frame() {
        return (structure, None);
    }
    let frame = structure.frame.clone();
    let model = if structure.plates.any() {
        let draft = structure.plates.draft(frame);
        draft.validate().map(|model| Model::Plates(Box::new(model)))
    } else {
        frame.validate().map(|model| Model::Frame(Box::new(model)))
    };
    match model {
        Ok(model) => (structure, Some(model)),
        Err(faults) => {
            let own = faults.into_iter().filter(|fault| !follows_from_no_number(fault));
            let own = own.map(|fault| in_wire_terms(&structure, fault)).collect();
            reader.add_deeper(own);
            (structure, None)
        }
    }
}

fn frame(
    structure: &Structure,
    model: &FrameModel,
    job: &Job,
    answer: &mut SolveStructureResponse,
) -> Result<(), Refusal> {
    let names = &structure.names;
    let refused = |error| refusal(names, job, error);
    answer_fits(structure)?;
    let _memory = job.slot.memory(factor_bytes(structure, model)?)?;
    if !names.cases.is_empty() {
        let solved = statics(model, &asked(structure), job).map_err(refused)?;
        for case in &solved.cases {
            answer.static_cases.push(told::static_case(names, model, case));
            answer.warnings.extend(told::warnings(names, case));
        }
    }
    if let Some(read::Buckling { case, modes, elements }) = structure.buckling {
        let asked = BucklingAsked { case: CaseId(case), modes, subdivide: elements };
        let solved = buckling(model, asked, job).map_err(refused)?;
        answer.buckling_modes =
            solved.modes.iter().map(|mode| told::buckling_mode(names, mode)).collect();
        fewer(answer, "buckling", modes, solved.modes.len());
        answer.warnings.extend(told::bent_members(names, case, &solved.bent));
    }
    if let Some(read::Frequencies { modes, elements, rotary_inertia }) = structure.frequencies {
        let rotary_inertia =
            if rotary_inertia { RotaryInertia::Included } else { RotaryInertia::Neglected };
        let asked = FrequenciesAsked { modes, subdivide: elements, rotary_inertia };
        let solved = frequencies(model, asked, job).map_err(refused)?;
        answer.vibration_modes =
            solved.modes.iter().map(|mode| told::vibration_mode(names, mode)).collect();
        fewer(answer, "vibration", modes, solved.modes.len());
    }
    Ok(())
}

fn with_plates(
    structure: &Structure,
    model: &PlateModel,
    job: &Job,
    answer: &mut SolveStructureResponse,
) -> Result<(), Refusal> {
    let names = &structure.names;
    let refused = |error| refusal(names, job, error);
    answer_fits(structure)?;
    let _memory = job.slot.memory(guessed_factor_bytes(structure))?;
    if !names.cases.is_empty() {
        let Asked { every_beam, stations: single } = asked(structure);
        let mut stations = every_beam;
        for of_one in single.values() {
            for station in of_one {
                if !stations.contains(station) {
                    stations.push(*station);
                }
            }
        }
        let asked = PlateAsked {
            stresses: structure.plates.stresses.clone(),
            stations,
            lines: structure.plates.lines.clone(),
            second_order: structure.plates.second_order,
            threads: job.threads,
        };
        let solved = plates::statics(model, &asked, job).map_err(refused)?;
        for mut case in solved.cases {
            only_asked(structure, &mut case);
            answer.warnings.extend(told_plates::warnings(names, &case));
            let lines = &asked.lines;
            answer.static_cases.push(told_plates::static_case(names, model, lines, case));
        }
    }
    if let Some(read::Buckling { case, modes, elements: _ }) = structure.buckling {
        let solved = plates::buckling(model, CaseId(case), modes, job).map_err(refused)?;
        answer.buckling_modes =
            solved.modes.iter().map(|mode| told::buckling_mode(names, mode)).collect();
        fewer(answer, "buckling", modes, solved.modes.len());
        answer.warnings.extend(told::bent_members(names, case, &solved.bent));
    }
    if let Some(read::Frequencies { modes, elements: _, rotary_inertia: _ }) = structure.frequencies
    {
        let solved = plates::frequencies(model, modes, job).map_err(refused)?;
        answer.vibration_modes =
            solved.modes.iter().map(|mode| told::vibration_mode(names, mode)).collect();
        fewer(answer, "vibration", modes, solved.modes.len());
    }
    Ok(())
}

/// Beside plates all members are asked at the same stations: takes out what was not asked of each.
fn only_asked(structure: &Structure, case: &mut PlateCaseAnswer) {
    let read::Stations { every, single } = &structure.stations;
    if single.is_empty() {
        return;
    }
    for (place, beam) in case.beams.iter_mut().enumerate() {
        let own = single.get(&place).unwrap_or(every);
        let wanted = |fraction: f64| {
            [0.0, 1.0].iter().chain(own).any(|known| known.to_bits() == fraction.to_bits())
        };
        beam.stations.retain(|answer| wanted(answer.station.fraction));
    }
}

fn fewer(answer: &mut SolveStructureResponse, kind: &str, asked: usize, found: usize) {
    if found < asked {
        let told =
            format!("{asked} {kind} modes were asked for; the structure has no more than {found}");
        answer.warnings.push(told);
    }
}

/// Both ends of every member, then what was asked for.
fn asked(structure: &Structure) -> Asked {
    let with_ends = |fractions: &Vec<f64>| {
        [0.0, 1.0].iter().chain(fractions).map(|fraction| Station::at(*fraction)).collect()
    };
    Asked {
        every_beam: with_ends(&structure.stations.every),
        stations: structure
            .stations
            .single
            .iter()
            .map(|(beam, fractions)| (fishplate_solver::model::BeamId(*beam), with_ends(fractions)))
            .collect(),
    }
}

/// Refuses a request whose answer no client could take, before it is computed. The sizes are
/// those of the encoding, rounded up, without names.
fn answer_fits(structure: &Structure) -> Result<(), Refusal> {
    const NODE: usize = 80;
    const STATION: usize = 190;
    const STRESS: usize = 40;
    let frame = &structure.frame;
    let stations: usize = frame
        .beams
        .iter()
        .enumerate()
        .map(|(place, beam)| {
            let own = structure.stations.single.get(&place).unwrap_or(&structure.stations.every);
            let points = frame.sections[beam.section.0].stress_points.len();
            (2 + own.len()) * (STATION + STRESS * points)
        })
        .sum();
    let others = frame.supports.len() + frame.springs.len() + frame.rigid_links.len();
    let on_plates = structure.plates.answer_bytes();
    let modes =
        structure.buckling.map_or(0, |b| b.modes) + structure.frequencies.map_or(0, |f| f.modes);
    let cases = frame.load_cases.len();
    let size = cases * (frame.nodes.len() * NODE + stations + others * NODE + on_plates)
        + modes * frame.nodes.len() * NODE;
    if size <= ANSWER_BYTES {
        return Ok(());
    }
    Err(Refusal::too_large(
        "load_cases",
        format!("{cases} cases and {modes} modes, whose answer has about {size} bytes"),
        format!("an answer of at most {ANSWER_BYTES} bytes"),
        "ask for fewer cases, modes, stations or stresses of plates at once",
    ))
}

/// Memory to set aside for the factor of plates, whose size only the solver knows. It refuses what
/// is larger than it takes on; about 200 entries an unknown is common for surfaces (common practice,
/// no source).
fn guessed_factor_bytes(structure: &Structure) -> usize {
    (8 * 200 * 6 * structure.frame.nodes.len()).min(FACTOR_BYTES)
}

/// Memory of the factor, or a refusal before any of it is taken.
fn factor_bytes(structure: &Structure, model: &FrameModel) -> Result<usize, Refusal> {
    let frame = &structure.frame;
    let cut = [
        structure.buckling.map(|b| ("buckling.elements_per_member", b.elements)),
        structure.frequencies.map(|f| ("frequencies.elements_per_member", f.elements)),
    ];
    let finest = cut.into_iter().flatten().max_by_key(|(_, elements)| *elements);
    let (path, elements) = finest.unwrap_or(("nodes", 1));
    let movements = 6 * (frame.nodes.len() + frame.beams.len() * (elements - 1));
    if movements > FRAME_MOVEMENTS {
        return Err(Refusal::too_large(
            path,
            format!("{movements} movements of nodes"),
            format!("at most {FRAME_MOVEMENTS}"),
            "use fewer nodes, or cut members into fewer elements",
        ));
    }
    // Cutting members adds nodes in a row: each brings one band of 6 x 12 to the factor.
    let bytes = 8 * (model.predicted_factor_entries() + 72 * frame.beams.len() * (elements - 1));
    if bytes > FACTOR_BYTES {
        return Err(Refusal::too_large(
            "nodes",
            format!("a frame whose factor has {bytes} bytes"),
            format!("at most {FACTOR_BYTES}"),
            "use fewer nodes, or connect them less densely",
        ));
    }
    Ok(bytes)
}

/// An error of the solver, told with the names of the request.
fn refusal(names: &StructureNames, job: &Job, error: SolveError) -> Refusal {
    let node = |place: usize| named_node(names, place);
    let case = |place: usize| names.cases.get(place).cloned().unwrap_or_default();
    let plain = |reason, message: String, subject: &str| {
        let subject = subject.to_owned();
        Refusal::Unsolvable(Unsolvable { reason, message, subject, metadata: Default::default() })
    };
    match error {
        SolveError::Mechanism { modes, case: in_case } => {
            mechanism(names, &modes, in_case.map(|place| case(place.0)))
        }
        SolveError::IllConditioned {
            condition,
            error_bound,
            softest,
            softest_direction,
            stiffest,
        } => {
            let (soft, stiff) = (node(softest.0), node(stiffest.0));
            let direction = softest_direction.words();
            Refusal::Unsolvable(Unsolvable {
                reason: "ILL_CONDITIONED",
                message: format!(
                    "stiffness differs too much across the structure for the digits of a number \
                     (condition {condition:.1e}, error up to {error_bound:.1e}): softest at node \
                     `{soft}`, {direction}; stiffest at node `{stiff}`"
                ),
                subject: format!("nodes[{}]", softest.0),
                metadata: [
                    ("node", soft),
                    ("direction", direction.to_owned()),
                    ("stiffestNode", stiff),
                    ("condition", format!("{condition:e}")),
                ]
                .into(),
            })
        }
        SolveError::RedundantSupport { support, node: place, direction } => {
            let (name, direction) = (node(place.0), direction.words());
            let message = format!(
                "the support of node `{name}` holds {direction}, which other supports of the same \
                 rigid body hold already: the shares of the reaction cannot be told"
            );
            plain("REDUNDANT_SUPPORT", message, &format!("supports[{}]", support.0))
        }
        SolveError::ContactUnsettled { case: place, steps, unsettled } => {
            let message = format!(
                "load case `{}`: which one-way springs and supports act did not settle in {steps} \
                 rounds; {} still change",
                case(place.0),
                unsettled.len()
            );
            plain("CONTACT_UNSETTLED", message, &format!("load_cases[{}]", place.0))
        }
        SolveError::TooLarge { unknowns, factor_entries, most_unknowns, most_entries } => {
            Refusal::too_large(
                "plates",
                format!("{unknowns} unknowns, whose factor has {factor_entries} entries"),
                format!("at most {most_unknowns} unknowns and {most_entries} entries"),
                "mesh the plates coarser, or solve parts of the structure",
            )
        }
        SolveError::JointsOpen { case: place, joints } => {
            let message = format!(
                "{}: nothing holds the parts any more once these have opened or slide: {}",
                stage(names, place),
                joints.join(", ")
            );
            plain("JOINTS_OPEN", message, &stage_subject(place))
        }
        SolveError::JointsUnsettled { case: place, steps, joints } => {
            let message = format!(
                "{}: the joints did not settle in {steps} steps; still changing: {}",
                stage(names, place),
                joints.join(", ")
            );
            plain("JOINTS_UNSETTLED", message, &stage_subject(place))
        }
        SolveError::NothingCompressed { case: place } => {
            let message = format!(
                "no axial compression in load case `{}` makes the structure buckle; sideways \
                 buckling of bent beams is not looked at",
                case(place.0)
            );
            plain("NOTHING_COMPRESSED", message, "buckling.load_case_id")
        }
        // Whether nodes are a line only the solver can tell.
        SolveError::Request { field: "lines", given, allowed } => {
            let given = read::in_names(&given, names);
            let advice = "name the corners one after the other along edges of elements";
            Refusal::invalid(vec![Fault::new("plate_results.lines", given, allowed, advice)])
        }
        SolveError::Buckles { case: place, critical } => {
            let message = format!(
                "load case `{}`: no equilibrium on the deformed structure; it buckles at \
                 {critical:.3} times these loads",
                case(place.0)
            );
            plain("BUCKLES", message, &format!("load_cases[{}]", place.0))
        }
        SolveError::NoMass => {
            let message = "the structure has no mass: give densities or masses".to_owned();
            plain("NO_MASS", message, "frequencies")
        }
        SolveError::OneSided { contact } => {
            let message = format!(
                "{}; buckling and frequencies need a linear frame",
                one_sided(names, contact)
            );
            plain("ONE_SIDED", message, "springs")
        }
        SolveError::ModesMissing { found, counted, .. } => {
            let message =
                format!("{found} modes were found where a count of the spectrum says {counted}");
            plain("MODES_MISSING", message, "frequencies")
        }
        SolveError::Cancelled => job.stopped(),
        // What the door should have refused, or what the solver has learned since.
        other => internal(&other.to_string()),
    }
}

/// A node by its name; joints of plates bring nodes of their own along.
fn named_node(names: &StructureNames, place: usize) -> String {
    names.nodes.get(place).map_or_else(|| "within a bolt or joint".to_owned(), String::clone)
}

/// When something happened.
fn stage(names: &StructureNames, case: Option<CaseId>) -> String {
    match case.and_then(|place| names.cases.get(place.0)) {
        Some(name) => format!("load case `{name}`"),
        None => "while the bolts are tightened".to_owned(),
    }
}

fn stage_subject(case: Option<CaseId>) -> String {
    case.map_or_else(|| "plate_bolts".to_owned(), |place| format!("load_cases[{}]", place.0))
}

fn one_sided(names: &StructureNames, contact: fishplate_solver::ContactId) -> String {
    use fishplate_solver::ContactId;
    match contact {
        ContactId::Support(place, dof) => {
            format!("supports[{}] is one-way, {}", place.0, dof.words())
        }
        ContactId::Spring(place, dof) => {
            let name = names.springs.get(place.0).map_or("", String::as_str);
            format!("spring `{name}` is one-way or has stops, {}", dof.words())
        }
    }
}

fn mechanism(
    names: &StructureNames,
    modes: &[fishplate_solver::FreeMotion],
    case: Option<String>,
) -> Refusal {
    let told = |mode: &fishplate_solver::FreeMotion| {
        let node = named_node(names, mode.node.0);
        let direction = mode.direction.words();
        match mode.within_beam.and_then(|beam| names.beams.get(beam.0)) {
            Some(beam) => format!("member `{beam}` by its own releases, local {direction}"),
            None if mode.plates.is_empty() => format!("node `{node}`, {direction}"),
            None => {
                format!("node `{node}` of plate `{}`, {direction}", mode.plates.join("`, `"))
            }
        }
    };
    let list: Vec<String> = modes.iter().map(told).collect();
    let when = case.as_ref().map(|case| format!(" in load case `{case}`")).unwrap_or_default();
    let first = modes.first();
    let node = first.map(|mode| named_node(names, mode.node.0)).unwrap_or_default();
    let mut metadata: std::collections::BTreeMap<&'static str, String> = [
        ("node", node),
        ("direction", first.map_or("", |mode| mode.direction.words()).to_owned()),
        ("freeMotions", modes.len().to_string()),
    ]
    .into();
    if let Some(beam) = first.and_then(|mode| mode.within_beam).and_then(|b| names.beams.get(b.0)) {
        metadata.insert("member", beam.clone());
    }
    if let Some(plates) = first.map(|mode| &mode.plates).filter(|plates| !plates.is_empty()) {
        metadata.insert("plates", plates.join(", "));
    }
    if let Some(case) = case {
        metadata.insert("loadCase", case);
    }
    Refusal::Unsolvable(Unsolvable {
        reason: "MECHANISM",
        message: format!(
            "the structure can move freely in {} way(s){when}: {}",
            modes.len(),
            list.join("; ")
        ),
        subject: first.map_or_else(String::new, |mode| format!("nodes[{}]", mode.node.0)),
        metadata,
    })
}
