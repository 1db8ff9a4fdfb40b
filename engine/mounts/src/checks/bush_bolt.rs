//! The bush and the bolt that carries it, and the steel right at that bolt.

use fishplate_quantity::algebra::{larger, positive, smaller};
use fishplate_quantity::{Dimension, Provenance, Source, Trace, step};
use fishplate_strength::catalog::{self, Thread};
use fishplate_strength::clause::input::{
    BoltInput, ClassListing, FayingFaces, FloorInput, Hole, HoleStretch, Lap, SeatInput,
    ShearPlane, TabInput, Tightening,
};
use fishplate_strength::clause::{Aspect, Checked, NotChecked};

use super::fatigue::{BoltStates, Bolted, Loads};
use super::{Draft, InCase, Setting, ThicknessFrom, ends, plates, preload_loss, thickness};
use crate::answer::{RowKind, Tale};
use crate::describe::FacePreparation;
use crate::design::{Body, BoltAt, Form, Passed, Vec3, across};

/// Nominal pressure a steel face stands, Pa: S235 490 MPa, S355 and above 710 MPa (VDI 2230
/// Part 1:2003, table of limiting surface pressure, from memory); told apart by tensile strength.
fn face_limit(f_u: f64) -> f64 {
    if f_u < 470e6 { 490e6 } else { 710e6 }
}

/// What the catalogue knows of a bolt.
pub(crate) struct Kit {
    pub(crate) thread: Thread,
    pub(crate) d_m: f64,
    pub(crate) f_ub: f64,
    pub(crate) alpha_v: f64,
    pub(crate) class: ClassListing,
    /// Proof stress.
    pub(crate) proof: f64,
    /// Largest preload that the tightening aims at, N.
    pub(crate) f_m: f64,
    /// Outer diameter of what presses on the face, m.
    pub(crate) d_w: f64,
}

impl Kit {
    pub(crate) fn of(setting: &Setting<'_>, bolts: &BoltAt) -> Result<Self, NotChecked> {
        let described = &setting.project.bolts[bolts.index];
        let lost = |what: String| NotChecked::NoRule { reason: what };
        let thread = catalog::find_thread(&described.thread).map_err(|e| lost(e.to_string()))?;
        let class = catalog::find_bolt_class(&described.class, thread.d)
            .map_err(|e| lost(e.to_string()))?;
        let hex = catalog::find_hex(&thread).map_err(|e| lost(e.to_string()))?;
        let mu = described.tightening.thread_friction.value;
        // 90 % of yield under torsion and tension together: VDI 2230 Part 1.
        let f_m = catalog::assembly_preload(&thread, &class, mu, 0.9, &mut Trace::off())
            .map_err(|e| lost(e.to_string()))?;
        Ok(Self {
            d_m: hex.d_m(),
            f_ub: class.f_ub,
            alpha_v: class.alpha_v,
            proof: class.proof,
            class: if class.in_en_1993 { ClassListing::Listed } else { ClassListing::NotListed },
            f_m,
            d_w: bolts.washer.map_or(hex.d_w, |(outside, _)| outside),
            thread,
        })
    }
}

/// One bolt in one ply without forces; the caller puts those in.
pub(super) fn bolt_input(
    setting: &Setting<'_>,
    bolts: &BoltAt,
    kit: &Kit,
    (body, ply): (&Body, (f64, ThicknessFrom<'_>)),
    case: InCase,
) -> BoltInput {
    let described = &setting.project.bolts[bolts.index];
    let path = &bolts.path;
    let table = |what: &str| Provenance::Table(what.to_owned());
    let origins = setting
        .solved(case, || &bolts.name)
        .with("d", || setting.given(format!("{path}.thread"), false))
        .with("d_0", || setting.given(format!("{path}.hole"), described.hole.guessed))
        .with("a_s", || table("ISO 898-1, stress area of the thread"))
        .with("d_m", || table("ISO 4014 and ISO 4032"))
        .with("f_ub", || table("ISO 898-1, nominal"))
        .with("alpha_v", || table("EN 1993-1-8:2005, Table 3.4"))
        .with("t", || ply.1.tell())
        .with("f_u", || setting.steel(body, "fu"))
        .with("n_planes", || Provenance::Geometry(bolts.name.clone()))
        .with("n_friction", || Provenance::Geometry(bolts.name.clone()))
        .with("e_1", || Provenance::Geometry(bolts.name.clone()))
        .with("e_2", || Provenance::Geometry(bolts.name.clone()))
        .with("p_1", || Provenance::Geometry(bolts.name.clone()))
        .with("p_2", || Provenance::Geometry(bolts.name.clone()))
        .with("mu", || setting.given(format!("{path}.friction"), described.friction.guessed))
        .with("f_m", || Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned()))
        .with("alpha_a", || {
            setting
                .given(format!("{path}.tightening.scatter"), described.tightening.scatter.guessed)
        });
    BoltInput {
        d: kit.thread.d,
        d_0: bolts.hole,
        a_s: kit.thread.a_s,
        d_m: kit.d_m,
        f_ub: kit.f_ub,
        t: ply.0,
        f_u: body.steel.fu,
        n_planes: 1.0,
        f_1_ed: 0.0,
        f_2_ed: 0.0,
        f_t_ed: 0.0,
        f_1_ser: 0.0,
        f_2_ser: 0.0,
        f_t_ser: 0.0,
        e_1: None,
        e_2: None,
        p_1: None,
        p_2: None,
        sink: None,
        t_packing: None,
        l_joint: None,
        mu: Some(described.friction.value),
        n_friction: Some(1.0),
        f_m: Some(kit.f_m),
        alpha_a: Some(described.tightening.scatter.value),
        alpha_v: kit.alpha_v,
        class: kit.class,
        plane: ShearPlane::Threads,
        hole: Hole::Normal,
        lap: Lap::Other,
        tightening: Tightening::Torque,
        n_fillers: None,
        m_f: None,
        stretch: HoleStretch::Matters,
        faying: FayingFaces::AsGiven,
        origins,
    }
}

/// The rows of a mount's bush and its bolt.
pub(super) fn drafts<'a>(setting: Setting<'a>, mount: usize, out: &mut Vec<Draft<'a>>) {
    travel(setting, mount, out);
    let design = setting.design;
    let Some((landed, bolt)) = design.landing(&design.mounts[mount]) else { return };
    let Some(id) = bolt else {
        let body = design.body(landed);
        out.push(Draft::not_checked(
            Some(mount),
            body.name.clone(),
            ("what fastens the bush", "bush: its fastening"),
            format!("no bolt through the mount and {} is described", body.name),
        ));
        return;
    };
    let bolts = &design.bolts[id.0];
    let passed = bolts.through[0];
    let body = design.body(passed.body);
    let kit = match Kit::of(&setting, bolts) {
        Ok(kit) => std::rc::Rc::new(kit),
        Err(why) => {
            out.push(Draft::not_checked(
                Some(mount),
                bolts.name.clone(),
                ("the bolt that carries the bush", "bush bolt"),
                why.to_string(),
            ));
            return;
        }
    };
    let described = &setting.project.bolts[bolts.index];
    let label = format!("bush bolt, {} {}", described.thread, described.class);
    // The bush sits on one side of the plate: a force toward that side pulls the bolt.
    let toward_bush = bush_side(&setting, mount, bolts, passed);
    let inputs = {
        let kit = kit.clone();
        move |tightening: Tightening, case: InCase| -> Result<Vec<BoltInput>, NotChecked> {
            let at = bolts.at[0];
            let ply = thickness(body, passed.wall, (at.x, at.x));
            let [u, v] = across(bolts.axis);
            let edge = free_edge(body, passed.wall, bolts.axis, &at);
            let loads = &setting.forces.cases[case.place];
            let slips = setting.may_slip(case.place);
            let ser = if slips { Vec3::zeros() } else { loads.service[mount].force };
            let input = |ed: Vec3| BoltInput {
                f_1_ed: ed[u],
                f_2_ed: ed[v],
                f_1_ser: ser[u],
                f_2_ser: ser[v],
                f_t_ed: toward_bush.pull(ed[bolts.axis]),
                f_t_ser: toward_bush.pull(ser[bolts.axis]),
                e_1: Some(edge),
                e_2: Some(edge),
                tightening,
                ..bolt_input(&setting, bolts, &kit, (body, ply), case)
            };
            Ok(loads.design.iter().map(|set| input(set[mount].force)).collect())
        }
    };
    let way = tightening(&setting, bolts);
    for clause in setting.pack.bolts {
        if is_other_slip(clause.aspect(), way) {
            continue;
        }
        let ask = inputs.clone();
        let mut draft = Draft::by(&setting, *clause, move |case| ask(way, case))
            .of(Some(mount), bolts.name.clone());
        draft = draft.called(
            format!("{label}: {}", clause.title()),
            format!("bush bolt: {}", clause.short()),
        );
        if matches!(clause.aspect(), Aspect::Slip | Aspect::ControlledSlip) {
            draft = slip(setting, draft, bolts, inputs.clone());
            draft.blocked = no_preload(way);
            draft = draft.note(preload_loss::NOT_COUNTED);
        }
        out.push(draft);
    }
    let place = ends::Place { mount, bolts, interface: None, who: "bush bolt" };
    let ask = inputs.clone();
    ends::drafts(setting, place, &kit, move |case| ask(way, case), out);
    detailing(setting, mount, bolts, inputs, out);
    let [u, v] = across(bolts.axis);
    let states = Box::new(move |setting: &Setting<'a>, loads: &Loads<'_>| {
        let ends = loads.at_mount(setting, mount);
        Ok(vec![BoltStates {
            pull: toward_bush.swing(ends.map(|force| force[bolts.axis])),
            shear: ends.map(|force| [force[u], force[v]]),
        }])
    });
    let bolted = Bolted {
        name: bolts.name.clone(),
        label: label.clone(),
        d: kit.thread.d,
        a_s: kit.thread.a_s,
        preloaded: no_preload(way).is_none(),
        states,
    };
    super::fatigue::bolts(setting, mount, bolted, out);
    seat(setting, mount, bolts, body, &kit, out);
    lever(setting, mount, bolts, passed, &kit, out);
    plate_at_bolt(setting, (mount, bolts, passed), &kit, out);
}

/// How a bolt is tightened, in the words of the clauses: only a procedure of EN 1090-2 counts as
/// controlled, and a joint that is only snug has no preload to count on.
pub(super) fn tightening(setting: &Setting<'_>, bolts: &BoltAt) -> Tightening {
    let method = setting.project.bolts[bolts.index].tightening.method.to_lowercase();
    if method.contains("controlled") || method.contains("1090") {
        Tightening::Controlled
    } else if method.contains("snug") || method.contains("hand") {
        Tightening::Snug
    } else {
        Tightening::Torque
    }
}

/// Whether a bolt is tightened by hand only.
pub(crate) fn snug(setting: &Setting<'_>, bolts: &BoltAt) -> bool {
    tightening(setting, bolts) == Tightening::Snug
}

/// Why the slip of a joint cannot be judged, where nothing clamps it.
pub(super) fn no_preload(way: Tightening) -> Option<String> {
    (way == Tightening::Snug).then(|| {
        "a bolt that is only snug has no preload to count on; tighten it by torque wrench"
            .to_owned()
    })
}

/// Whether a clause speaks of slip under another way of tightening.
pub(super) fn is_other_slip(aspect: Aspect, way: Tightening) -> bool {
    aspect == Aspect::ControlledSlip && way != Tightening::Controlled
}

/// Tells what a slipping joint means, and adds the other way to look at it.
fn slip<'a>(
    setting: Setting<'a>,
    mut draft: Draft<'a>,
    bolts: &'a BoltAt,
    inputs: impl Fn(Tightening, InCase) -> Result<Vec<BoltInput>, NotChecked> + Clone + 'a,
) -> Draft<'a> {
    let painted = bolts.faces == FacePreparation::Painted;
    draft.short = "bush bolt: faces slip".to_owned();
    draft.tale = Tale::new(
        format!("the clamped faces of {} slip", bolts.name),
        "the joint slides until the bolt bears; shear and bearing must then hold, and it works \
         loose under reversing load",
        if painted {
            "bare faces instead of painted ones, a larger or stronger bolt, tightening with less \
             scatter"
        } else {
            "a larger or stronger bolt, tightening with less scatter"
        },
    );
    for clause in setting.pack.bolts {
        if clause.aspect() == Aspect::ControlledSlip {
            let ask = inputs.clone();
            draft = draft.or_by(
                &setting,
                *clause,
                (
                    clause.title(),
                    "a torque wrench does not give the preload of this rule; shown beside it",
                ),
                move |case| ask(Tightening::Controlled, case),
            );
        }
    }
    draft
}

/// Edge distances at the bush bolt.
fn detailing<'a>(
    setting: Setting<'a>,
    mount: usize,
    bolts: &'a BoltAt,
    inputs: impl Fn(Tightening, InCase) -> Result<Vec<BoltInput>, NotChecked> + Clone + 'a,
    out: &mut Vec<Draft<'a>>,
) {
    for clause in setting.pack.bolt_detailing {
        if clause.aspect() == Aspect::Largest {
            continue;
        }
        let ask = inputs.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| ask(Tightening::Torque, case))
                .of(Some(mount), bolts.name.clone())
                .called(
                    format!("bush bolt: {}", clause.title()),
                    format!("bush bolt: {}", clause.short()),
                )
                .without_loads(),
        );
    }
}

/// Pressure under the head or washer.
fn seat<'a>(
    setting: Setting<'a>,
    mount: usize,
    bolts: &'a BoltAt,
    body: &'a Body,
    kit: &std::rc::Rc<Kit>,
    out: &mut Vec<Draft<'a>>,
) {
    for clause in setting.pack.seats {
        let kit = kit.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| {
                let origins = setting
                    .solved(case, || &bolts.name)
                    .with("f_ed", || {
                        Provenance::Table("VDI 2230 Part 1, largest preload".to_owned())
                    })
                    .with("d_w", || setting.given(format!("{}.washer", bolts.path), false))
                    .with("d_h", || setting.given(format!("{}.hole", bolts.path), false))
                    .with("p_limit", || Provenance::Table("VDI 2230 Part 1".to_owned()));
                Ok(vec![SeatInput {
                    f_ed: kit.f_m,
                    d_w: kit.d_w,
                    d_h: bolts.hole,
                    p_limit: face_limit(body.steel.fu),
                    overhang: None,
                    t_plate: None,
                    f_y_plate: None,
                    f_y_seat: None,
                    origins,
                }])
            })
            .of(Some(mount), bolts.name.clone())
            .called(format!("bush bolt: {}", clause.title()), "bush bolt: washer pressure")
            .without_loads(),
        );
    }
}

/// Where the bush sits beside the plate, along the bolt.
#[derive(Clone, Copy)]
enum BushSide {
    /// Toward this sign of the axis.
    Beside(f64),
    /// Its centre lies within the plate: either way may pull the bolt.
    Within,
}

impl BushSide {
    /// The pull on the bolt of a force along it, N.
    fn pull(self, force: f64) -> f64 {
        match self {
            Self::Beside(sign) => positive(force * sign),
            Self::Within => force.abs(),
        }
    }
}

impl BushSide {
    /// The pull on the bolt at both ends of a swing of the force along it, N. Where either way may
    /// pull, the range is that of the force.
    fn swing(self, forces: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Beside(_) => forces.map(|force| self.pull(force)),
            Self::Within => {
                let least = smaller(forces[0], forces[1]);
                forces.map(|force| force - least)
            }
        }
    }
}

fn bush_side(setting: &Setting<'_>, mount: usize, bolts: &BoltAt, passed: Passed) -> BushSide {
    let at = &setting.design.mounts[mount];
    let level = at.at[bolts.axis];
    match at.seat {
        Some(seat) if seat.abs() > 1e-6 => BushSide::Beside(seat.signum()),
        _ if level <= passed.low + 1e-6 => BushSide::Beside(-1.0),
        _ if level >= passed.high - 1e-6 => BushSide::Beside(1.0),
        _ => BushSide::Within,
    }
}

/// Distance of a bolt from the nearest free edge of its plate, m. An edge that runs on into
/// another wall, or is welded, is no free edge.
fn free_edge(body: &Body, wall: usize, axis: usize, at: &Vec3) -> f64 {
    let prism = &body.walls[wall].prism;
    let [u, v] = across(axis);
    match &body.form {
        Form::Folded { normal, on, reach, .. } => {
            reach - (at[normal.axis] - on.level) * normal.sign()
        }
        Form::Bar { legs: Some(_), line, .. } => {
            let leg = if prism.axis == 2 { 0 } else { 2 };
            let (low, high) = prism.range(leg);
            let heel = line[usize::from(leg == 2)];
            if (low - heel).abs() < (high - heel).abs() { high - at[leg] } else { at[leg] - low }
        }
        _ => prism.edge_distance([at[u], at[v]]),
    }
}

const KERN: Source = Source::mechanics("kern of a round contact face, d/8: no part of it opens");

/// A bush that stands off the clamped face levers at it.
fn lever<'a>(
    setting: Setting<'a>,
    mount: usize,
    bolts: &'a BoltAt,
    passed: Passed,
    kit: &std::rc::Rc<Kit>,
    out: &mut Vec<Draft<'a>>,
) {
    let side = bush_side(&setting, mount, bolts, passed);
    let BushSide::Beside(sign) = side else { return };
    let face = if sign > 0.0 { passed.high } else { passed.low };
    let drawn = (setting.design.mounts[mount].at[bolts.axis] - face).abs();
    let height = setting.design.mounts[mount].seat.map_or(drawn, f64::abs);
    if height < 1e-3 {
        return;
    }
    let kit = kit.clone();
    let ask = move |case: usize, trace: &mut Trace| {
        let loads = &setting.forces.cases[case];
        let [u, v] = across(bolts.axis);
        let solved = || Provenance::Solved(format!("{}, case {}", bolts.name, loads.case.name));
        // Of several sets of loads the one with the largest force across the bolt.
        let ed = loads
            .design
            .iter()
            .map(|set| set[mount].force)
            .reduce(|a, b| if b[u].hypot(b[v]) > a[u].hypot(a[v]) { b } else { a })
            .unwrap_or_else(Vec3::zeros);
        let pull = side.pull(ed[bolts.axis]);
        let h_ed = trace.input(
            "h_ed",
            "force across the bolt",
            Dimension::Force,
            ed[u].hypot(ed[v]),
            solved,
        );
        let f_t_ed = trace.input("f_t_ed", "pull on the bolt", Dimension::Force, pull, solved);
        let lever = trace.input(
            "lever",
            "bush centre off the clamped face",
            Dimension::Length,
            height,
            || Provenance::Geometry(bolts.name.clone()),
        );
        let f_m = trace.input("f_m", "preload aimed at", Dimension::Force, kit.f_m, || {
            Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned())
        });
        let scatter = setting.project.bolts[bolts.index].tightening.scatter;
        let alpha_a = trace.input(
            "alpha_a",
            "highest preload over lowest",
            Dimension::Ratio,
            scatter.value,
            || setting.given(format!("{}.tightening.scatter", bolts.path), scatter.guessed),
        );
        let d_w =
            trace.input("d_w", "diameter of the clamped face", Dimension::Length, kit.d_w, || {
                setting.given(format!("{}.washer", bolts.path), false)
            });
        step!(trace, Moment, KERN, "moment on the clamped face"; m_ed(h_ed, lever) = h_ed * lever);
        step!(trace, Moment, KERN, "moment at which the face begins to open";
            m_open(f_m, alpha_a, f_t_ed, d_w) = positive(f_m / alpha_a - f_t_ed) * d_w / 8.0);
        step!(trace, Ratio, KERN, "utilisation"; utilisation(m_ed, m_open) = m_ed / m_open);
        Checked::new(m_ed, m_open, Dimension::Moment, utilisation)
    };
    out.push(Draft {
        lasting: false,
        second: None,
        mount: Some(mount),
        component: bolts.name.clone(),
        what: "bush stands off the clamped face: the face opens".to_owned(),
        short: "bush bolt: face opens".to_owned(),
        kind: RowKind::Serviceability,
        clause: KERN,
        interface: None,
        by_case: true,
        ask: Box::new(ask),
        others: Vec::new(),
        notes: vec![
            "bending of the bolt after opening is not followed".to_owned(),
            preload_loss::NOT_COUNTED.to_owned(),
        ],
        outside: None,
        blocked: None,
        tale: Tale::new(
            format!("the clamped face of {} opens", bolts.name),
            "the bolt is bent at every load change and tires",
            "a lower bush, a wider collar under it, more preload",
        ),
    });
}

/// The plate right at the bolt: the floor of a bracket, or the leg of an angle.
fn plate_at_bolt<'a>(
    setting: Setting<'a>,
    (mount, bolts, passed): (usize, &'a BoltAt, Passed),
    kit: &std::rc::Rc<Kit>,
    out: &mut Vec<Draft<'a>>,
) {
    let body = setting.design.body(passed.body);
    let clash = setting
        .design
        .clashes
        .iter()
        .find(|c| c.between.contains(&bolts.name))
        .map(|c| format!("geometry clashes: {}", c.what));
    let force = move |case: InCase| {
        let sets = &setting.forces.cases[case.place].design;
        sets.iter().map(|set| set[mount].force[bolts.axis].abs()).fold(0.0, larger)
    };
    let at = bolts.at[0];
    match &body.form {
        Form::Folded { thickness: t, along, foot_along, reach, normal, on, .. }
            if bolts.axis == 2 =>
        {
            let from_face = (at[normal.axis] - on.level) * normal.sign();
            let (t, along, foot_along, reach) = (*t, *along, *foot_along, *reach);
            let kit = kit.clone();
            let inputs = move |case: InCase| -> Result<Vec<FloorInput>, NotChecked> {
                let geometry = || Provenance::Geometry(body.name.clone());
                let origins = setting
                    .solved(case, || &bolts.name)
                    .with("l", geometry)
                    .with("c_1", geometry)
                    .with("c_2", geometry)
                    .with("d_w", || setting.given(format!("{}.washer", bolts.path), false))
                    .with("d_0", || setting.given(format!("{}.hole", bolts.path), false))
                    .with("t", || setting.given(format!("{}.folded.thickness", body.path), false))
                    .with("f_y", || setting.steel(body, "fy"));
                // The washer may stand nearer to one wall: the nearer one counts twice.
                let nearer = smaller(at[along] - foot_along.0 - t, foot_along.1 - t - at[along]);
                let edge = |distance: f64| Some(positive(distance - kit.d_w / 2.0));
                Ok(vec![FloorInput {
                    f_ed: force(case),
                    l: 2.0 * nearer,
                    d_w: kit.d_w,
                    d_0: bolts.hole,
                    t,
                    f_y: body.steel.fy,
                    c_1: edge(reach - from_face),
                    c_2: edge(from_face),
                    origins,
                }])
            };
            // The yield line decides strength; first yield of a strip is shown beside it, for the
            // claim that nothing yields.
            let mut row: Option<Draft<'a>> = None;
            for clause in setting.pack.floors {
                row = Some(match row {
                    None => Draft::by(&setting, *clause, inputs.clone())
                        .of(Some(mount), format!("{}.floor", body.name))
                        .called(
                            format!("floor of {}: {}", body.base, clause.title()),
                            "bracket floor at the bolt",
                        )
                        .told(Tale::new(
                            format!("the floor of {} bends at the bush bolt", body.name),
                            "the bush loses its place",
                            "a thicker bracket or a load plate under the washer",
                        )),
                    Some(row) => row.or_by(
                        &setting,
                        *clause,
                        (clause.title(), "for the claim that nothing yields; gussets not counted"),
                        inputs.clone(),
                    ),
                });
            }
            if let Some(row) = row {
                let walls = vec![(passed.body, Some(passed.wall))];
                let mut row = row.seconded(plates::second_at(&setting, mount, walls, HELD));
                row.blocked = clash.clone();
                out.push(row);
            }
        }
        Form::Bar {
            shape: crate::describe::BarShape::Angle { thickness: t, .. }, line, ..
        } => {
            let wall = &body.walls[passed.wall].prism;
            let leg_axis = if wall.axis == 2 { 0 } else { 2 };
            let root_line = line[usize::from(leg_axis == 2)];
            let (t, root) = (*t, (at[leg_axis] - root_line).abs() - *t);
            let (low, high) = wall.range(1);
            let kit = kit.clone();
            let inputs = move |case: InCase| -> Result<Vec<TabInput>, NotChecked> {
                let geometry = || Provenance::Geometry(body.name.clone());
                let origins = setting
                    .solved(case, || &bolts.name)
                    .with("l", geometry)
                    .with("b", geometry)
                    .with("d_w", || setting.given(format!("{}.washer", bolts.path), false))
                    .with("t", geometry)
                    .with("f_y", || setting.steel(body, "fy"));
                // The width that can work ends at the nearer end of the bar.
                let nearer = smaller(at.y - low, high - at.y);
                Ok(vec![TabInput {
                    f_ed: force(case),
                    l: root,
                    b: 2.0 * nearer,
                    t,
                    f_y: body.steel.fy,
                    d_0: None,
                    l_hole: None,
                    d_w: Some(kit.d_w),
                    origins,
                }])
            };
            for clause in setting.pack.tabs {
                if clause.aspect() != Aspect::HingeAtBolt {
                    continue;
                }
                let mut draft = Draft::by(&setting, *clause, inputs.clone())
                    .of(Some(mount), body.name.clone())
                    .called(
                        format!("leg of {} at the bush bolt, bent about its heel", body.base),
                        "angle leg at the bolt",
                    )
                    .told(Tale::new(
                        format!("the leg of {} bends at the bush bolt", body.name),
                        "the bush tilts and the bolt is bent",
                        "a thicker angle, or the bolt nearer to its heel",
                    ));
                for other in setting.pack.tabs {
                    if other.aspect() == Aspect::FirstYieldAtRoot {
                        draft = draft.or_by(
                            &setting,
                            *other,
                            (other.title(), "first yield, for the claim that nothing yields"),
                            {
                                let inputs = inputs.clone();
                                move |case| {
                                    // Elastic: the same width that the bolt reaches.
                                    let mut list = inputs(case)?;
                                    for input in &mut list {
                                        let reach = input.d_w.unwrap_or(0.0) + 2.0 * input.l;
                                        input.b = smaller(input.b, reach);
                                    }
                                    Ok(list)
                                }
                            },
                        );
                    }
                }
                let walls = vec![(passed.body, Some(passed.wall))];
                draft = draft.seconded(plates::second_at(&setting, mount, walls, HELD));
                draft.blocked = clash.clone();
                out.push(draft);
            }
        }
        _ => {
            let on_a_wall = matches!(body.form, Form::Block { .. } | Form::Plate { .. });
            if !on_a_wall {
                let words = ("the wall at the bush bolt", "wall at the bush bolt");
                let wall = (passed.body, Some(passed.wall));
                out.push(match plates::only(&setting, mount, wall) {
                    Some(draft) => {
                        draft.of(Some(mount), body.name.clone()).called(words.0, words.1)
                    }
                    None => Draft::not_checked(
                        Some(mount),
                        body.name.clone(),
                        words,
                        "no rule of hand statics for this part at a bolt: the plate level must \
                         decide",
                    ),
                });
            }
        }
    }
}

/// Why a wall at a bolt holds more as a plate than by its formula.
const HELD: &str = "the wall is held all round and what stands beside the bolt carries as well";

/// Travel of the bush against its stop.
fn travel<'a>(setting: Setting<'a>, mount: usize, out: &mut Vec<Draft<'a>>) {
    const TRAVEL: Source = Source::mechanics("rigid cradle on its bushes");
    let described = &setting.project.mounts[setting.design.mounts[mount].index];
    let Some((bush_at, bush)) =
        setting.project.bushes.iter().enumerate().find(|(_, b)| b.name == described.bush)
    else {
        return;
    };
    let Some(stop) = bush.stop else { return };
    let ask = move |case: usize, trace: &mut Trace| {
        let loads = &setting.forces.cases[case];
        let used = loads.service[mount]
            .stop_use
            .ok_or_else(|| NotChecked::NoRule { reason: "the bush has no stop".to_owned() })?;
        let gap = stop.value.si();
        let travel =
            trace.input("travel", "travel of the bush", Dimension::Length, used * gap, || {
                Provenance::Solved(format!("cradle on its mounts, case {}", loads.case.name))
            });
        let gap = trace.input("gap", "travel to the stop", Dimension::Length, gap, || {
            setting.given(format!("bushes[{bush_at}].stop"), stop.guessed)
        });
        step!(trace, Ratio, TRAVEL, "utilisation"; utilisation(travel, gap) = travel / gap);
        Checked::new(travel, gap, Dimension::Length, utilisation)
    };
    out.push(Draft {
        lasting: false,
        second: None,
        mount: Some(mount),
        component: format!("bush {}", bush.name),
        what: "bush: travel to its stop".to_owned(),
        short: "bush: travel to its stop".to_owned(),
        kind: RowKind::Serviceability,
        clause: TRAVEL,
        interface: None,
        by_case: true,
        ask: Box::new(ask),
        others: Vec::new(),
        notes: Vec::new(),
        outside: None,
        blocked: None,
        tale: Tale::new(
            format!("the bush of mount {} runs into its stop", setting.design.mounts[mount].name),
            "loads rise with the stiffness of the stop; they are counted that way",
            "a stiffer bush or more travel",
        ),
    });
}
