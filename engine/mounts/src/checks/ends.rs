//! What holds the end of a bolt where it is no normal nut: a thin nut, a nut or boss welded to the
//! last thing passed, a thread cut into it.

use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_strength::catalog::{self, Thread};
use fishplate_strength::clause::input::{BoltInput, NutClass, ThreadInput, WeldNutInput};
use fishplate_strength::clause::{Aspect, Clause, Input, NotChecked};

use super::bush_bolt::{Kit, no_preload, tightening};
use super::{Draft, InCase, Setting, condition, end_bolts, thickness};
use crate::answer::{RowKind, Tale};
use crate::describe::{BoltEnd, WeldNutClass};
use crate::design::{BoltAt, Form};
use crate::load_path::Interface;

/// Least height of thin nuts, mm (ISO 4035:2012, from memory).
const THIN_NUTS: [(&str, f64); 9] = [
    ("M5", 2.45),
    ("M6", 2.9),
    ("M8", 3.7),
    ("M10", 4.7),
    ("M12", 5.7),
    ("M14", 6.42),
    ("M16", 7.42),
    ("M18", 8.42),
    ("M20", 9.1),
];

/// Tensile strength of a thin nut of class 04, Pa: 188 HV (ISO 898-2:2012, from memory), 3.2 MPa a
/// point of hardness.
const THIN_NUT: f64 = 602e6;

/// Width across flats and height of hexagon weld nuts, mm (DIN 929:2013, from memory).
const WELD_NUTS: [(&str, f64, f64); 8] = [
    ("M5", 10.0, 4.0),
    ("M6", 11.0, 5.0),
    ("M8", 14.0, 6.5),
    ("M10", 17.0, 8.0),
    ("M12", 19.0, 10.0),
    ("M14", 22.0, 11.0),
    ("M16", 24.0, 13.0),
    ("M20", 30.0, 16.0),
];

/// Where the bolts are told.
#[derive(Clone, Copy)]
pub(super) struct Place<'a> {
    pub(super) mount: usize,
    pub(super) bolts: &'a BoltAt,
    pub(super) interface: Option<&'a Interface>,
    /// `bush bolt` or `end bolts`.
    pub(super) who: &'static str,
}

impl<'a> Place<'a> {
    /// A row of these bolts by a clause.
    fn row<I: Input + 'a>(
        self,
        setting: &Setting<'a>,
        clause: &'static dyn Clause<I>,
        inputs: impl Fn(InCase) -> Result<Vec<I>, NotChecked> + 'a,
    ) -> Draft<'a> {
        let name = &self.bolts.name;
        let mut draft = Draft::by(setting, clause, inputs)
            .of(Some(self.mount), name.clone())
            .called(
                format!("{}: {}", self.who, clause.title()),
                format!("{}: {}", self.who, clause.short()),
            )
            .told(Tale::new(
                format!("what holds the end of {name} gives"),
                "the bolt pulls out and the joint comes loose",
                "more thread, a stronger nut, a through bolt with a nut behind a welded plate",
            ));
        if let Some(interface) = self.interface {
            draft = draft.at(interface);
        }
        if draft.kind == RowKind::Detailing { draft.without_loads() } else { draft }
    }

    fn not_checked(self, what: &str, why: impl Into<String>) -> Draft<'a> {
        let what = format!("{}: {what}", self.who);
        Draft::not_checked(Some(self.mount), self.bolts.name.clone(), (&what, &what), why)
    }
}

/// A thread that is engaged.
struct Engaged {
    l_e: f64,
    l_e_from: Provenance,
    r_m: f64,
    r_m_from: Provenance,
    /// Width across flats of a nut that the thread spreads.
    s_nut: Option<f64>,
}

/// The rows of what holds the end; `loads` gives every bolt of a case.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    place: Place<'a>,
    kit: &Kit,
    loads: impl Fn(InCase) -> Result<Vec<BoltInput>, NotChecked> + Clone + 'a,
    out: &mut Vec<Draft<'a>>,
) {
    let bolts = place.bolts;
    let path = format!("{}.ends", bolts.path);
    let thread = &kit.thread;
    match setting.project.bolts[bolts.index].ends {
        BoltEnd::Nut => {}
        BoltEnd::ThinNut => {
            let height = THIN_NUTS.iter().find(|(name, _)| *name == thread.size);
            let (Some((_, height)), Ok(hex)) = (height, catalog::find_hex(thread)) else {
                let why = format!("no height of a thin nut {} is known", thread.name);
                out.push(place.not_checked("thread of the thin nut", why));
                return;
            };
            let engaged = Engaged {
                l_e: chamfered(height * 1e-3, thread),
                l_e_from: Provenance::Table(
                    "ISO 4035:2012, least height (from memory), less a pitch for its chamfers"
                        .to_owned(),
                ),
                r_m: THIN_NUT,
                r_m_from: Provenance::Table(
                    "ISO 898-2:2012, least hardness of class 04 (from memory)".to_owned(),
                ),
                s_nut: Some(hex.s),
            };
            threads(setting, place, kit, engaged, loads, out);
        }
        BoltEnd::WeldNut { .. } => welded(setting, place, kit, loads, out),
        BoltEnd::Boss { length, fu, .. } => {
            if let Some(fu) = fu {
                let engaged = Engaged {
                    l_e: chamfered(length.value.si(), thread),
                    l_e_from: setting.given(
                        format!("{path}.length, less a pitch for its chamfers"),
                        length.guessed,
                    ),
                    r_m: fu.value.si(),
                    r_m_from: setting.given(format!("{path}.fu"), fu.guessed),
                    s_nut: None,
                };
                threads(setting, place, kit, engaged, loads.clone(), out);
            }
            welded(setting, place, kit, loads, out);
        }
        BoltEnd::Tapped { engaged } => {
            let Some(last) = bolts.through.last() else { return };
            let body = setting.design.body(last.body);
            let engaged = Engaged {
                l_e: engaged.value.si(),
                l_e_from: setting.given(format!("{path}.length"), engaged.guessed),
                r_m: body.steel.fu,
                r_m_from: setting.steel(body, "fu"),
                s_nut: None,
            };
            threads(setting, place, kit, engaged, loads, out);
        }
    }
}

/// Full thread in a nut or boss: its two chamfers take about a pitch (common practice, no source).
fn chamfered(height: f64, thread: &Thread) -> f64 {
    height - thread.pitch
}

/// The largest preload, or nothing where nothing is tightened.
fn preload(setting: &Setting<'_>, bolts: &BoltAt, kit: &Kit) -> f64 {
    if no_preload(tightening(setting, bolts)).is_none() { kit.f_m } else { 0.0 }
}

/// What is said where preload and pull are added: a pull takes clamping off before it adds to the
/// bolt, so that no more than their sum is ever in it.
const SUM: &str = "the largest preload and the pull are added: more is never in the bolt";

/// A number of a table.
fn table(what: &str) -> Provenance {
    Provenance::Table(what.to_owned())
}

/// Stripping of a thread.
fn threads<'a>(
    setting: Setting<'a>,
    place: Place<'a>,
    kit: &Kit,
    engaged: Engaged,
    loads: impl Fn(InCase) -> Result<Vec<BoltInput>, NotChecked> + Clone + 'a,
    out: &mut Vec<Draft<'a>>,
) {
    if setting.pack.threads.is_empty() {
        out.push(place.not_checked("thread of its end", "these rules have no clause for threads"));
        return;
    }
    let engaged = Rc::new(engaged);
    let own = preload(&setting, place.bolts, kit);
    let (thread, f_ub) = (kit.thread.clone(), kit.f_ub);
    for clause in setting.pack.threads {
        let (engaged, loads, thread) = (engaged.clone(), loads.clone(), thread.clone());
        let row = place.row(&setting, *clause, move |case| {
            let limits = thread.limits;
            let input = |f_t_ed: f64| ThreadInput {
                f_t_ed,
                l_e: engaged.l_e,
                pitch: thread.pitch,
                d_min: limits.d_min,
                d_2_min: limits.d_2_min,
                d_1_nut_max: limits.d_1_nut_max,
                d_2_nut_max: limits.d_2_nut_max,
                r_m_bolt: f_ub,
                r_m_nut: engaged.r_m,
                // Only a nut breaks no bolt by intention: a thin one is never long enough for that.
                a_s: engaged.s_nut.is_none().then_some(thread.a_s),
                d: engaged.s_nut.map(|_| thread.d),
                s_nut: engaged.s_nut,
                origins: setting
                    .solved(case, || format!("{}, preload and pull", place.bolts.name))
                    .with("l_e", || engaged.l_e_from.clone())
                    .with("r_m_nut", || engaged.r_m_from.clone())
                    .with("r_m_bolt", || table("ISO 898-1, nominal"))
                    .with("a_s", || table("ISO 898-1, stress area of the thread"))
                    .with("pitch", || table("pitch of the thread"))
                    .with("d", || setting.given(format!("{}.thread", place.bolts.path), false))
                    .with("s_nut", || table("ISO 4032 and ISO 4035"))
                    .with("d_min", || table("least bolt of its tolerance"))
                    .with("d_2_min", || table("least bolt of its tolerance"))
                    .with("d_1_nut_max", || table("largest nut of its tolerance"))
                    .with("d_2_nut_max", || table("largest nut of its tolerance")),
            };
            Ok(loads(case)?.iter().map(|bolt| input(own + bolt.f_t_ed)).collect())
        });
        let strips = row.kind == RowKind::Strength;
        out.push(if strips { row.note(SUM) } else { row });
    }
}

/// A nut or boss as it is welded on.
struct Ring {
    nut: NutClass,
    d_out: f64,
    d_out_from: Provenance,
    height: f64,
    height_from: Provenance,
    leg: Option<f64>,
    leg_from: Provenance,
    r_m: Option<f64>,
    r_m_from: Provenance,
}

impl Ring {
    fn of(setting: &Setting<'_>, bolts: &BoltAt, thread: &Thread) -> Option<Self> {
        let path = format!("{}.ends", bolts.path);
        let (nut, size, leg, fu) = match setting.project.bolts[bolts.index].ends {
            BoltEnd::WeldNut { class, size, leg } => {
                let nut = match class {
                    WeldNutClass::Unknown => NutClass::Unknown,
                    WeldNutClass::Five => NutClass::Class5,
                    WeldNutClass::Eight => NutClass::Class8,
                    WeldNutClass::Ten => NutClass::Class10,
                };
                (nut, size, leg, None)
            }
            BoltEnd::Boss { outside, length, leg, fu } => {
                (NutClass::Plain, Some((outside, length)), Some(leg), fu)
            }
            BoltEnd::Nut | BoltEnd::ThinNut | BoltEnd::Tapped { .. } => return None,
        };
        let ([d_out, height], [d_out_from, height_from]) = match size {
            Some((outside, length)) => (
                [outside.value.si(), length.value.si()],
                [
                    setting.given(format!("{path}.outside"), outside.guessed),
                    setting.given(
                        format!("{path}.length, less a pitch for its chamfers"),
                        length.guessed,
                    ),
                ],
            ),
            None => {
                let (_, flats, height) =
                    WELD_NUTS.iter().find(|(name, ..)| *name == thread.size)?;
                let from = "DIN 929:2013, a hexagon weld nut (from memory)";
                (
                    [flats * 1e-3, height * 1e-3],
                    [
                        Provenance::Table(from.to_owned()),
                        Provenance::Table(format!("{from}, less a pitch for its chamfers")),
                    ],
                )
            }
        };
        let guessed = |is: Option<bool>| is.unwrap_or(false);
        Some(Self {
            nut,
            d_out,
            d_out_from,
            height,
            height_from,
            leg: leg.map(|leg| leg.value.si()),
            leg_from: setting.given(format!("{path}.leg"), guessed(leg.map(|l| l.guessed))),
            r_m: fu.map(|fu| fu.value.si()),
            r_m_from: setting.given(format!("{path}.fu"), guessed(fu.map(|f| f.guessed))),
        })
    }
}

/// A nut or boss welded to the last thing passed.
fn welded<'a>(
    setting: Setting<'a>,
    place: Place<'a>,
    kit: &Kit,
    loads: impl Fn(InCase) -> Result<Vec<BoltInput>, NotChecked> + Clone + 'a,
    out: &mut Vec<Draft<'a>>,
) {
    const WHAT: &str = "weld nut or boss";
    let bolts = place.bolts;
    let Some(last) = bolts.through.last().copied() else { return };
    let body = setting.design.body(last.body);
    if setting.pack.weld_nuts.is_empty() {
        out.push(place.not_checked(WHAT, "these rules have no clause for weld nuts and bosses"));
        return;
    }
    let Some(ring) = Ring::of(&setting, bolts, &kit.thread) else {
        let why = format!("no weld nut {} is known; give its size", kit.thread.name);
        out.push(place.not_checked(WHAT, why));
        return;
    };
    let (Some(beta_w), false) = (body.steel.beta_w, matches!(body.form, Form::Sleeve { .. }))
    else {
        let why = format!("{} is a sleeve, or its steel has no weld factor beta_w", body.name);
        out.push(place.not_checked(WHAT, why));
        return;
    };
    let reach = end_bolts::along(bolts);
    let (t_wall, t_wall_from) = thickness(body, last.wall, reach);
    let t_plate = bolts
        .through
        .iter()
        .filter(|p| p.body != last.body && end_bolts::touch(p, &last))
        .filter(|p| matches!(setting.design.body(p.body).form, Form::Plate { .. }))
        .filter(|p| end_bolts::welded(&setting, p, &last))
        .map(|p| p.high - p.low)
        .sum();
    // Corners are known of rails only.
    let b_0 = match &body.form {
        Form::Rail { section, .. } if bolts.axis == 1 => Some(section.height()),
        Form::Rail { section, .. } if bolts.axis == 2 => Some(section.width()),
        _ => None,
    };
    let share = setting.project.workmanship.as_ref().map_or(1.0, |made| made.quality.value);
    let (preload, ring) = (preload(&setting, bolts, kit), Rc::new(ring));
    let (thread, f_ub) = (kit.thread.clone(), kit.f_ub);
    for clause in setting.pack.weld_nuts {
        let aspect = clause.aspect();
        if aspect == Aspect::Thread && ring.nut == NutClass::Plain && ring.r_m.is_some() {
            // Asked by the clauses about threads, both sides of it.
            continue;
        }
        let (of, loads, thread) = (ring.clone(), loads.clone(), thread.clone());
        let mut row = place.row(&setting, *clause, move |case| {
            condition::weldable(body, reach)?;
            let solved = || {
                let how = match aspect {
                    Aspect::Thread => ", preload and pull".to_owned(),
                    Aspect::AnyDirection if share < 1.0 => format!(", over the share {share}"),
                    _ => String::new(),
                };
                let name = setting.forces.cases.get(case.place).map_or("", |c| &c.case.name);
                Provenance::Solved(format!("{}{how}, case {name}", bolts.name))
            };
            let origins = || {
                setting
                    .solved(InCase { place: 0, ..case }, || &bolts.name)
                    .with("d_out", || of.d_out_from.clone())
                    .with("l_e", || of.height_from.clone())
                    .with("z", || of.leg_from.clone())
                    .with("r_m", || of.r_m_from.clone())
                    .with("t_wall", || t_wall_from.tell())
                    .with("t_plate", || {
                        Provenance::Geometry("plates welded to the wall".to_owned())
                    })
                    .with("gap", || {
                        Provenance::Assumed("the nut or boss sits on the wall".to_owned())
                    })
                    .with("b_0", || Provenance::Given(format!("{}.section", body.path)))
                    .with("f_y", || setting.steel(body, "fy"))
                    .with("f_u", || setting.steel(body, "fu"))
                    .with("beta_w", || setting.steel(body, "beta_w"))
                    .with("a_s", || table("ISO 898-1, stress area of the thread"))
                    .with("f_ub", || table("ISO 898-1, nominal"))
                    .with("pitch", || table("pitch of the thread"))
                    .with("d_min", || table("least bolt of its tolerance"))
                    .with("d_2_nut_max", || table("largest nut of its tolerance"))
                    .with("f_t_ed", solved)
                    .with("f_v_ed", solved)
            };
            let input = |bolt: &BoltInput| {
                let (pull, shear) = (bolt.f_t_ed, bolt.f_1_ed.hypot(bolt.f_2_ed));
                let (f_t_ed, f_v_ed) = match aspect {
                    Aspect::Thread => (preload + pull, shear),
                    Aspect::AnyDirection => (pull / share, shear / share),
                    _ => (pull, shear),
                };
                WeldNutInput {
                    f_t_ed,
                    f_v_ed,
                    d_out: of.d_out,
                    gap: 0.0,
                    t_wall,
                    t_plate,
                    f_y: body.steel.fy,
                    f_u: body.steel.fu,
                    beta_w,
                    a_s: thread.a_s,
                    f_ub,
                    l_e: chamfered(of.height, &thread),
                    pitch: thread.pitch,
                    d_min: thread.limits.d_min,
                    d_2_nut_max: thread.limits.d_2_nut_max,
                    z: of.leg,
                    b_0,
                    r_m: of.r_m,
                    nut: of.nut,
                    origins: origins(),
                }
            };
            Ok(loads(case)?.iter().map(input).collect())
        });
        row.notes.extend((aspect == Aspect::Thread).then(|| SUM.to_owned()));
        if ring.nut == NutClass::Unknown {
            row.notes
                .push("nobody knows the class of the weld nut: it counts as class 5".to_owned());
        }
        out.push(row);
    }
    if setting.project.duty.is_some() {
        let why = "no detail of a catalogue is a ring weld pulled off a thin wall by a bolt";
        out.push(place.not_checked("ring weld under repeated load", why));
    }
}
