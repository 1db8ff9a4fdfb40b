//! How a weld is made, and fishplates: fit-up, room for the torch, slits for rust, shape of ends.

use std::f64::consts::FRAC_1_SQRT_2;
use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{larger, smaller};
use fishplate_strength::clause::input::{
    FishplateInput, JointPlace, QualityLevel, WeldMakingInput,
};
use fishplate_strength::clause::{Applicability, Origins};

use super::weld::{edge_thickness, wall_under};
use super::{Draft, InCase, Setting, thickness};
use crate::answer::RowKind;
use crate::describe;
use crate::design::{BeadAt, BodyId, Design, Form, Prism, Run, Vec3, WeldAt};

/// Outer diameter of the nozzle of a light wire set, m (common practice, no source).
const NOZZLE: f64 = 15e-3;
/// How high over the face beside the bead the nozzle passes, m (common practice, no source).
const PASSES: f64 = 10e-3;
/// Farther away no wall stands in the way, m.
const FAR: f64 = 60e-3;

/// The rows of how one weld is made.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    (mount, interface): (Option<usize>, Option<&str>),
    weld: &'a WeldAt,
    out: &mut Vec<Draft<'a>>,
) {
    let clear: Rc<[Option<f64>]> =
        weld.runs.iter().map(|run| clear_beside(setting.design, weld, run)).collect();
    let made = inputs(&setting, weld, &clear, InCase::untold(0));
    for clause in setting.pack.weld_making {
        let clear = clear.clone();
        let mut draft =
            Draft::by(&setting, *clause, move |case| Ok(inputs(&setting, weld, &clear, case)))
                .of(mount, weld.name.clone())
                .called(
                    format!("{}: {}", weld.name, clause.title()),
                    format!("weld: {}", clause.short()),
                )
                .without_loads();
        draft.interface = interface.map(str::to_owned);
        draft.outside = made.iter().find_map(|input| match clause.applies(input) {
            Applicability::OutsideScope(reason) => Some(reason),
            _ => None,
        });
        out.push(draft);
    }
}

/// One input a run; `clear` as [`clear_beside`] has it.
fn inputs(
    setting: &Setting<'_>,
    weld: &WeldAt,
    clear: &[Option<f64>],
    case: InCase,
) -> Vec<WeldMakingInput> {
    let BeadAt::Fillet { leg, gap, .. } = weld.bead else { return Vec::new() };
    let design = setting.design;
    let (of, to) = (design.body(weld.of), design.body(weld.to));
    let stitch = weld.stitched.map(|(on, off)| (on + off, on));
    weld.runs
        .iter()
        .enumerate()
        .map(|(k, run)| {
            let x = (run.start.x, run.end.x);
            let reach = if x.0 < x.1 { x } else { (x.1, x.0) };
            let (base, _) = thickness(to, wall_under(to, weld, k), reach);
            let clear = clear[k];
            WeldMakingInput {
                a: leg * FRAC_1_SQRT_2,
                t: smaller(base, edge_thickness(of)),
                gap: (gap > 0.0).then_some(gap),
                undercut: None,
                misalign: None,
                nozzle: clear.map(|_| NOZZLE),
                clear,
                clear_angle: None,
                l_joint: stitch.map(|s| s.0),
                l_welded: stitch.map(|s| s.1),
                level: QualityLevel::C,
                place: if weld.sealed { JointPlace::Dry } else { JointPlace::Wet },
                origins: Origins::when(case.told, || Provenance::Given(weld.path.clone()))
                    .with("clear", || Provenance::Geometry(weld.name.clone()))
                    .with("nozzle", || Provenance::Assumed("a light wire set, 15 mm".to_owned())),
            }
        })
        .collect()
}

/// Clear width from the middle of a run to the nearest wall that faces it, m; nothing where none
/// stands in the way.
fn clear_beside(design: &Design, weld: &WeldAt, run: &Run) -> Option<f64> {
    /// Step of the search, m: thinner than any wall.
    const STEP: f64 = 0.25e-3;
    let from = (run.start + run.end) / 2.0 + run.leg_up * PASSES;
    // Bolts and sleeves come in when the welding is done. What the way does not come near is left
    // out at once.
    let to = from + run.leg_on * FAR;
    let near = |prism: &Prism| {
        (0..3).all(|axis| {
            let (low, high) = prism.range(axis);
            smaller(from[axis], to[axis]) <= high && larger(from[axis], to[axis]) >= low
        })
    };
    let walls: Vec<&Prism> = design
        .bodies
        .iter()
        .enumerate()
        .filter(|(i, body)| BodyId(*i) != weld.to && !matches!(body.form, Form::Sleeve { .. }))
        .flat_map(|(_, body)| body.walls.iter().filter(|w| w.solid).map(|w| &w.prism))
        .filter(|prism| near(prism))
        .collect();
    if walls.is_empty() {
        return None;
    }
    let nearest = |d: f64| {
        let point: Vec3 = from + run.leg_on * d;
        walls.iter().map(|prism| prism.distance(&point)).fold(f64::INFINITY, smaller)
    };
    let blocked = |d: f64| nearest(d) <= 0.0;
    // Steps that end nearer than the nearest wall are free, and need no look.
    let mut free = 0.0;
    let mut steps = (1..).map(|i| f64::from(i) * STEP).take_while(|d| *d < FAR);
    let beyond = steps.find(|d| {
        if *d < free {
            return false;
        }
        let gap = nearest(*d);
        free = d + gap - STEP / 2.0;
        gap <= 0.0
    })?;
    // Between the last free step and the blocked one the face is found by halving.
    let (mut free, mut beyond) = (beyond - STEP, beyond);
    for _ in 0..30 {
        let middle = f64::midpoint(free, beyond);
        if blocked(middle) {
            beyond = middle;
        } else {
            free = middle;
        }
    }
    Some(free)
}

/// The rows of the fishplates on rails.
pub(super) fn fishplates<'a>(setting: Setting<'a>, out: &mut Vec<Draft<'a>>) {
    let design = setting.design;
    for body in &design.bodies {
        let Form::Plate { mouth: false, on, thickness: t_plate, .. } = &body.form else { continue };
        let described = setting
            .project
            .parts
            .iter()
            .enumerate()
            .find(|(i, _)| body.path == format!("parts[{i}]"))
            .map(|(_, part)| &part.form);
        let Some(describe::Form::Plate(describe::Plate { fishplate: Some(ends), .. })) = described
        else {
            continue;
        };
        let rail = design.body(on.body);
        let (from, to) = body.walls[0].prism.range(0);
        let Form::Rail { section, .. } = &rail.form else {
            let mut draft = Draft::not_checked(
                None,
                body.name.clone(),
                ("shape of the fishplate", "fishplate"),
                format!("it lies on {}, which is no rail", rail.name),
            );
            draft.kind = RowKind::Detailing;
            out.push(draft);
            continue;
        };
        let (t_rail, t_from) = thickness(rail, on.wall, (from, to));
        let upright = rail.walls[on.wall].prism.axis == 1;
        let h_rail = if upright { section.height() } else { section.width() };
        let (t_plate, end_angle) = (*t_plate, *ends);
        for clause in setting.pack.fishplates {
            out.push(
                Draft::by(&setting, *clause, move |case| {
                    Ok(vec![FishplateInput {
                        t_rail,
                        t_plate,
                        h_rail,
                        l_plate: to - from,
                        end_angle,
                        l_past: None,
                        origins: Origins::when(case.told, || Provenance::Given(body.path.clone()))
                            .with("t_rail", || t_from.tell())
                            .with("h_rail", || Provenance::Given(format!("{}.section", rail.path))),
                    }])
                })
                .of(None, body.name.clone())
                .called(
                    format!("{}: {}", body.base, clause.title()),
                    format!("fishplate: {}", clause.short()),
                )
                .without_loads(),
            );
        }
    }
}
