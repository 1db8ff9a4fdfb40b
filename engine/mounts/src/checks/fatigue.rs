//! Welds, brackets and bolts under the loads that come back over the life of the design.
//!
//! Each family of loads swings between two states, both made of the cases of the project, without
//! load factor. Stresses are linear in the loads, so a share of the full swing has that share of
//! the stress range; the pull on a bolt is not, and is found for every share. Families do not rise
//! and fall together: each has blocks of its own in one spectrum, and the damage of all is added.

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{hypot, smaller};
use fishplate_solver::group::{WeldAnswer, Wrench};
use fishplate_strength::catalog::{self, FatigueDetail};
use fishplate_strength::clause::input::{
    BeadBlock, BoltBlock, DetailListing, FatigueBoltInput, FatigueDetailInput, FatigueRootInput,
    ResidualStress, ShearPlane, ShearReversal, StressBlock, StressCategory, StressCategoryInput,
    StressPhase,
};
use fishplate_strength::clause::{NotChecked, Origins};

use super::weld::Beads;
use super::{Draft, InCase, Setting};
use crate::answer::Tale;
use crate::describe::{Duty, LoadFamily, Side};
use crate::design::Vec3;
use crate::load_path::Interface;
use crate::loads::{CaseKind, DriveDirection};

/// Points between the ends of a run that are looked at.
const BETWEEN: usize = 3;

/// A state of loads: cases with the share of each.
pub(super) type State = Vec<(usize, f64)>;

/// A family of loads between its two states.
pub(super) struct Swing {
    /// The upper and the lower state.
    pub(super) states: [State; 2],
    /// What it swings about.
    middle: State,
    /// Share of the full swing and cycles over the whole way.
    pub(super) blocks: Vec<(f64, f64)>,
}

/// The swings of the duty of a project.
pub(super) fn swings(setting: &Setting<'_>, duty: &Duty) -> Result<Vec<Swing>, NotChecked> {
    let mut swings = Vec::new();
    for family in LoadFamily::ALL {
        let own = duty.families.iter().find(|own| own.family == family);
        let blocks = match own.and_then(|own| own.blocks.clone()) {
            Some(blocks) => blocks,
            None if duty.assumed || own.is_some() => {
                let assumed = catalog::find_duty(family.word());
                assumed.map_err(|e| NotChecked::NoRule { reason: e.to_string() })?.duty
            }
            None => continue,
        };
        let (states, middle) = states(setting, family, own.map_or(0.0, |own| own.reverse))?;
        let blocks = blocks.over(1.0, duty.distance).collect();
        swings.push(Swing { states, middle, blocks });
    }
    Ok(swings)
}

/// Whether the stresses of all families rise and fall together: those of one do, by one load.
fn phase(swings: &[Swing]) -> StressPhase {
    if swings.len() > 1 { StressPhase::Apart } else { StressPhase::Together }
}

/// The two states of a family and what it swings about, from the cases of the project.
fn states(
    setting: &Setting<'_>,
    family: LoadFamily,
    reverse: f64,
) -> Result<([State; 2], State), NotChecked> {
    let find = |what: &str, wanted: &dyn Fn(&CaseKind) -> bool| {
        setting.forces.cases.iter().position(|c| wanted(&c.case.kind)).ok_or_else(|| {
            let family = family.word();
            let reason = format!("the {family} duty needs {what} among the load cases");
            NotChecked::NoRule { reason }
        })
    };
    let rest = || find("the car at rest", &|kind| matches!(kind, CaseKind::Standing));
    let turn = |to: Side| {
        find(
            "a turn to either side",
            &|kind| matches!(kind, CaseKind::Corner { side, .. } if *side == to),
        )
    };
    // From one side of rest to the other: 2 rest - case is as far below rest as the case above it.
    let between = |case: usize, rest: usize, beyond: f64| {
        ([vec![(case, 1.0)], vec![(rest, 1.0 + beyond), (case, -beyond)]], vec![(rest, 1.0)])
    };
    Ok(match family {
        LoadFamily::Vertical => {
            let bump = find("a bump", &|kind| matches!(kind, CaseKind::Bump { .. }))?;
            between(bump, rest()?, 1.0)
        }
        LoadFamily::Drive => {
            let drive = find("full drive", &|kind| {
                matches!(kind, CaseKind::Drive { direction: DriveDirection::Forward, .. })
            })?;
            between(drive, rest()?, reverse)
        }
        LoadFamily::Brake => {
            let brake = find("braking", &|kind| matches!(kind, CaseKind::Brake { .. }))?;
            between(brake, rest()?, reverse)
        }
        LoadFamily::Corner => {
            let (left, right) = (turn(Side::Left)?, turn(Side::Right)?);
            ([vec![(left, 1.0)], vec![(right, 1.0)]], vec![(left, 0.5), (right, 0.5)])
        }
    })
}

impl Swing {
    /// The swing that is this share of the full one.
    fn partly(&self, share: f64) -> Self {
        let part = |state: &State, share: f64| -> State {
            state.iter().map(|(case, of)| (*case, of * share)).collect()
        };
        let state = |full: &State| [part(full, share), part(&self.middle, 1.0 - share)].concat();
        let [upper, lower] = &self.states;
        Self {
            states: [state(upper), state(lower)],
            middle: self.middle.clone(),
            blocks: self.blocks.clone(),
        }
    }

    /// The wrench across an interface in the upper and the lower state, once a bound.
    fn across(&self, setting: &Setting<'_>, interface: &Interface) -> Vec<[Wrench; 2]> {
        let state = |shares: &[(usize, f64)]| -> Vec<Wrench> {
            let mut sums: Vec<Wrench> = Vec::new();
            for (case, share) in shares {
                let parts =
                    setting.carried.across(setting.design, setting.forces, interface, *case, false);
                for (place, (_, wrench)) in parts.into_iter().enumerate() {
                    let part = scaled(&wrench, *share);
                    match sums.get_mut(place) {
                        Some(sum) => *sum = sum.plus(&part),
                        None => sums.push(part),
                    }
                }
            }
            sums
        };
        let [upper, lower] = [&self.states[0], &self.states[1]].map(|shares| state(shares));
        upper.into_iter().zip(lower).map(|(upper, lower)| [upper, lower]).collect()
    }

    /// The force at a mount in the upper and the lower state, N.
    fn at_mount(&self, setting: &Setting<'_>, mount: usize) -> [Vec3; 2] {
        [0, 1].map(|state: usize| {
            self.states[state].iter().fold(Vec3::zeros(), |sum, (case, share)| {
                sum + setting.forces.cases[*case].service[mount].force * *share
            })
        })
    }
}

fn scaled(wrench: &Wrench, share: f64) -> Wrench {
    Wrench { force: wrench.force * share, moment: wrench.moment * share, about: wrench.about }
}

/// Upper less lower state.
pub(super) fn range(upper: &Wrench, lower: &Wrench) -> Wrench {
    upper.plus(&scaled(lower, -1.0))
}

/// What every row of this page says.
pub(super) fn told<'a>(mut draft: Draft<'a>, duty: &Duty, what: &str) -> Draft<'a> {
    draft.lasting = true;
    let kilometres = duty.distance / 1e3;
    draft
        .told(Tale::new(
            format!("{what} cracks before {kilometres:.0} km"),
            "a crack grows with every bump until the part tears",
            "less stress range there: longer runs, smoother ends, thicker plate, a duty that was \
             counted instead of assumed",
        ))
        .without_loads()
        .note(format!("duty over {kilometres:.0} km, loads without load factor"))
}

/// Where the stresses of a spectrum come from.
pub(super) fn origins(case: InCase, name: &str) -> Origins {
    let solved = || format!("{name}, between the two states of each load family");
    Origins::when(case.told, || Provenance::Solved(solved()))
        .with("distance", || Provenance::Given("duty.distance".to_owned()))
        .with("z", || Provenance::Given("leg of the fillet".to_owned()))
        .with("gap", || Provenance::Given("gap of the fillet".to_owned()))
        .with("delta_sigma_c", || Provenance::Table("fatigue details, EN 1993-1-9:2005".to_owned()))
        .with("delta_tau_c", || Provenance::Table("fatigue details, EN 1993-1-9:2005".to_owned()))
        .with("fat_sigma", || Provenance::Table("fatigue details, IIW-1823-07".to_owned()))
        .with("fat_tau", || Provenance::Table("fatigue details, IIW-1823-07".to_owned()))
        .with("n_t", || Provenance::Table("fatigue details, IIW-1823-07".to_owned()))
}

/// A clause of a pack that has none about fatigue is not checked, and says so.
pub(super) fn silent(setting: &Setting<'_>, mount: usize, what: &str, out: &mut Vec<Draft<'_>>) {
    let reason = format!("{} has no rule here for repeated load on it", setting.pack.id);
    out.push(Draft::not_checked(
        Some(mount),
        what.to_owned(),
        ("repeated load", "repeated load"),
        reason,
    ));
}

fn detail(name: &str, l: f64, t: f64) -> Result<FatigueDetail, NotChecked> {
    catalog::find_fatigue_detail(name, l, t)
        .map_err(|e| NotChecked::NoRule { reason: e.to_string() })
}

/// A point of a fillet with the ranges of the force per length on it.
struct BeadPoint {
    leg: f64,
    gap: f64,
    throat: f64,
    phase: StressPhase,
    blocks: Vec<BeadBlock>,
}

/// Every point of the fillets of an interface, once a bound.
fn bead_points(
    setting: &Setting<'_>,
    duty: &Duty,
    interface: &Interface,
    beads: &Beads,
) -> Result<Vec<BeadPoint>, NotChecked> {
    let swings = swings(setting, duty)?;
    // Answers of the group: by swing, then by bound.
    let answers = swings
        .iter()
        .map(|swing| {
            let bounds = swing.across(setting, interface);
            bounds
                .iter()
                .map(|[upper, lower]| beads.ranges(&range(upper, lower), BETWEEN))
                .collect()
        })
        .collect::<Result<Vec<Vec<WeldAnswer>>, _>>()?;
    let mut list = Vec::new();
    for bound in 0..answers.first().map_or(0, Vec::len) {
        for (run, made) in beads.made(setting).into_iter().enumerate() {
            let Some((leg, gap, throat)) = made else { continue };
            for point in 0..BETWEEN + 2 {
                let mut blocks = Vec::new();
                for (swing, answer) in swings.iter().zip(&answers) {
                    let stress = &answer[bound].runs[run][point];
                    blocks.extend(swing.blocks.iter().map(|(share, n_e)| BeadBlock {
                        delta_q_1: stress.toward_one * throat * share,
                        delta_q_2: stress.toward_two * throat * share,
                        delta_q_l: stress.parallel * throat * share,
                        n_e: *n_e,
                    }));
                }
                list.push(BeadPoint { leg, gap, throat, phase: phase(&swings), blocks });
            }
        }
    }
    Ok(list)
}

/// The roots of the fillets of an interface.
pub(super) fn welds<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    let Some(duty) = &setting.project.duty else { return };
    let Some((names, beads)) = super::weld::fillets(&setting, interface) else { return };
    if setting.pack.fatigue_roots.is_empty() && setting.pack.stress_categories.is_empty() {
        silent(&setting, mount, &names, out);
        return;
    }
    let beads = std::rc::Rc::new(beads);
    let mut push = |draft: Draft<'a>, title: &str, short: &str| {
        let draft = draft
            .of(Some(mount), names.clone())
            .called(format!("{names}: {title}"), format!("repeated load, {short}"))
            .at(interface);
        out.push(told(draft, duty, &format!("the root of {names}")).note(
            "the toe in a thin wall also bends with the wall: that stress is not in hand statics",
        ));
    };
    for clause in setting.pack.fatigue_roots {
        let beads = beads.clone();
        let ask = move |case: InCase| -> Result<Vec<FatigueRootInput>, NotChecked> {
            let root = detail("weld root", 0.0, 0.0)?;
            let made = |point: BeadPoint| FatigueRootInput {
                z: point.leg,
                gap: point.gap,
                delta_sigma_c: root.delta_sigma_c,
                delta_tau_c: root.delta_tau_c,
                fat_sigma: root.fat_sigma,
                fat_tau: root.fat_tau,
                distance: Some(duty.distance),
                phase: point.phase,
                blocks: point.blocks,
                origins: origins(case, &interface.name),
            };
            let points = bead_points(&setting, duty, interface, &beads)?;
            Ok(points.into_iter().map(made).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
    for clause in setting.pack.stress_categories {
        let beads = beads.clone();
        let ask = move |case: InCase| -> Result<Vec<StressCategoryInput>, NotChecked> {
            // Category F: shear on the throat; all of the force counts as shear.
            let block = |throat: f64, block: &BeadBlock| StressBlock {
                delta_sigma: 0.0,
                compressed: 0.0,
                delta_tau: Vec3::new(block.delta_q_1, block.delta_q_2, block.delta_q_l).norm()
                    / throat,
                n_e: block.n_e,
            };
            let made = |point: BeadPoint| {
                let blocks = point.blocks.iter().map(|b| block(point.throat, b)).collect();
                category(StressCategory::F, blocks, duty, (case, &interface.name))
            };
            let points = bead_points(&setting, duty, interface, &beads)?;
            Ok(points.into_iter().map(made).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
}

fn category(
    category: StressCategory,
    blocks: Vec<StressBlock>,
    duty: &Duty,
    (case, name): (InCase, &str),
) -> StressCategoryInput {
    StressCategoryInput {
        t_p: None,
        w_leg: None,
        a_2: None,
        distance: Some(duty.distance),
        category,
        blocks,
        origins: origins(case, name),
    }
}

/// Nominal stress of a swing at one point of a section: normal and shear range, Pa.
pub(super) struct PointRange {
    pub(super) normal: f64,
    pub(super) shear: f64,
}

/// A folded bracket beside the weld at its root: the toe in its own plate.
pub(super) fn bracket<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    let Some(duty) = &setting.project.duty else { return };
    let body = setting.design.body(interface.near);
    let Some((t, ranges)) = super::bracket::root_ranges(&setting, interface) else { return };
    if setting.pack.fatigue_details.is_empty() && setting.pack.stress_categories.is_empty() {
        silent(&setting, mount, &body.name, out);
        return;
    }
    let points = std::rc::Rc::new(move || -> Result<_, NotChecked> {
        let mut points: Vec<Vec<StressBlock>> = Vec::new();
        let swings = swings(&setting, duty)?;
        for swing in &swings {
            let bounds = swing.across(&setting, interface);
            let found: Vec<PointRange> =
                bounds.iter().flat_map(|[upper, lower]| ranges(&range(upper, lower))).collect();
            points.resize_with(found.len(), Vec::new);
            for (point, of) in points.iter_mut().zip(&found) {
                point.extend(swing.blocks.iter().map(|(share, n_e)| StressBlock {
                    delta_sigma: of.normal * share,
                    compressed: 0.0,
                    delta_tau: of.shear * share,
                    n_e: *n_e,
                }));
            }
        }
        Ok((points, phase(&swings)))
    });
    let mut push = |draft: Draft<'a>, title: &str, short: &str| {
        let draft = draft
            .of(Some(mount), body.name.clone())
            .called(
                format!("{} beside its weld: {title}", body.base),
                format!("bracket: toe, {short}"),
            )
            .at(interface);
        out.push(told(draft, duty, &format!("{} beside its weld", body.base)));
    };
    for clause in setting.pack.fatigue_details {
        let points = points.clone();
        let ask = move |case: InCase| -> Result<Vec<FatigueDetailInput>, NotChecked> {
            // The plate ends at the weld: a T joint, its toe in the loaded plate.
            let toe = detail("cruciform or tee toe", t, t)?;
            let (points, phase) = points()?;
            let made = |blocks| FatigueDetailInput {
                t,
                delta_sigma_c: toe.delta_sigma_c,
                // Shear along the bead: EN 1993-1-9:2005, Table 8.5 (8), and IIW alike 80 MPa.
                delta_tau_c: Some(80e6),
                fat_sigma: toe.fat_sigma,
                fat_tau: Some(80e6),
                n_t: toe.n,
                f_y: Some(body.steel.fy),
                distance: Some(duty.distance),
                residual: ResidualStress::High,
                phase,
                listing: DetailListing::Listed,
                blocks,
                origins: origins(case, &body.name)
                    .with("f_y", || setting.steel(body, "fy"))
                    .with("t", || Provenance::Given(format!("thickness of {}", body.path))),
            };
            Ok(points.into_iter().map(made).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
    for clause in setting.pack.stress_categories {
        let points = points.clone();
        let ask = move |case: InCase| -> Result<Vec<StressCategoryInput>, NotChecked> {
            // Category C: toe of a fillet across the stress.
            let made = |blocks| category(StressCategory::C, blocks, duty, (case, &body.name));
            Ok(points()?.0.into_iter().map(made).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
}

/// One bolt in a swing, N.
pub(super) struct BoltStates {
    /// Largest and least pull, in any order.
    pub(super) pull: [f64; 2],
    /// Shear in the upper and the lower state.
    pub(super) shear: [[f64; 2]; 2],
}

/// Every bolt of a joint at both ends of a swing.
pub(super) type Swings<'a> =
    Box<dyn Fn(&Setting<'a>, &Loads<'_>) -> Result<Vec<BoltStates>, NotChecked> + 'a>;

/// The bolts of a joint under repeated load.
pub(super) struct Bolted<'a> {
    pub(super) name: String,
    pub(super) label: String,
    pub(super) d: f64,
    pub(super) a_s: f64,
    /// Whether a known preload clamps the joint.
    pub(super) preloaded: bool,
    pub(super) states: Swings<'a>,
}

/// The loads of a swing as a joint asks for them.
pub(super) struct Loads<'s>(&'s Swing);

impl Loads<'_> {
    pub(super) fn across(&self, setting: &Setting<'_>, interface: &Interface) -> Vec<[Wrench; 2]> {
        self.0.across(setting, interface)
    }

    pub(super) fn at_mount(&self, setting: &Setting<'_>, mount: usize) -> [Vec3; 2] {
        self.0.at_mount(setting, mount)
    }
}

/// The bolts of a joint.
pub(super) fn bolts<'a>(
    setting: Setting<'a>,
    mount: usize,
    joint: Bolted<'a>,
    out: &mut Vec<Draft<'a>>,
) {
    let Some(duty) = &setting.project.duty else { return };
    if setting.pack.fatigue_bolts.is_empty() && setting.pack.stress_categories.is_empty() {
        silent(&setting, mount, &joint.name, out);
        return;
    }
    let joint = std::rc::Rc::new(joint);
    let mut push = |draft: Draft<'a>, title: &str, short: &str| {
        let kind = joint.label.split(',').next().unwrap_or("bolt");
        let draft = draft
            .of(Some(mount), joint.name.clone())
            .called(format!("{}: {title}", joint.label), format!("{kind}: {short}"));
        let shear = if joint.preloaded {
            "friction carries the shear as long as the faces do not slip: see that row"
        } else {
            "a snug bolt feels all of the shear"
        };
        out.push(
            told(draft, duty, &joint.name)
                .note("the bolt is taken to feel all of the pull: its preload is not counted on")
                .note(shear),
        );
    };
    for clause in setting.pack.fatigue_bolts {
        let made = joint.clone();
        let ask = move |case: InCase| -> Result<Vec<FatigueBoltInput>, NotChecked> {
            let (bolts, reversal) = bolt_blocks(&setting, duty, &made)?;
            let input = |blocks| FatigueBoltInput {
                d: made.d,
                a_s: made.a_s,
                a_shank: None,
                f_v_min: None,
                phi: None,
                distance: Some(duty.distance),
                plane: ShearPlane::Threads,
                reversal,
                blocks,
                origins: origins(case, &made.name)
                    .with("d", || Provenance::Table("thread".to_owned()))
                    .with("a_s", || Provenance::Table("stress area of the thread".to_owned())),
            };
            Ok(bolts.into_iter().map(input).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
    for clause in setting.pack.stress_categories {
        let made = joint.clone();
        let ask = move |case: InCase| -> Result<Vec<StressCategoryInput>, NotChecked> {
            // Category G: pull on the tensile stress area.
            let block = |block: &BoltBlock| StressBlock {
                delta_sigma: block.delta_f_t / made.a_s,
                compressed: 0.0,
                delta_tau: 0.0,
                n_e: block.n_e,
            };
            let input = |blocks: Vec<BoltBlock>| {
                let blocks = blocks.iter().map(block).collect();
                category(StressCategory::G, blocks, duty, (case, &made.name))
            };
            let (bolts, _) = bolt_blocks(&setting, duty, &made)?;
            Ok(bolts.into_iter().map(input).collect())
        };
        push(Draft::by(&setting, *clause, ask), clause.title(), clause.short());
    }
}

/// The spectrum of every bolt of a joint, and whether the shear of any changes its sign.
fn bolt_blocks<'a>(
    setting: &Setting<'a>,
    duty: &Duty,
    joint: &Bolted<'a>,
) -> Result<(Vec<Vec<BoltBlock>>, ShearReversal), NotChecked> {
    let mut bolts: Vec<Vec<BoltBlock>> = Vec::new();
    let mut reversal = ShearReversal::None;
    // A bolt is pulled and never pressed: a share of the swing is not that share of the range.
    for swing in swings(setting, duty)? {
        for (share, n_e) in &swing.blocks {
            let found = (joint.states)(setting, &Loads(&swing.partly(*share)))?;
            bolts.resize_with(found.len(), Vec::new);
            for (blocks, BoltStates { pull, shear }) in bolts.iter_mut().zip(found) {
                // While clamped faces do not slip, which is a row of its own, the bolt feels no
                // shear.
                let [upper, lower] = if joint.preloaded { [[0.0; 2]; 2] } else { shear };
                let across = [upper[0] - lower[0], upper[1] - lower[1]];
                if upper[0] * lower[0] + upper[1] * lower[1] < 0.0 {
                    reversal = ShearReversal::Reverses;
                }
                blocks.push(BoltBlock {
                    delta_f_t: (pull[0] - pull[1]).abs(),
                    f_t_min: smaller(pull[0], pull[1]),
                    delta_f_v: hypot(across[0], across[1]),
                    n_e: *n_e,
                });
            }
        }
    }
    Ok((bolts, reversal))
}
