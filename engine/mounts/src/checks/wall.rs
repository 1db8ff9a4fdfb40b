//! The thin old wall under a welded foot.

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::smaller;
use fishplate_strength::clause::input::{RailSection as ClauseRail, WallInput};
use fishplate_strength::clause::{Applicability, NotChecked};

use super::{Draft, InCase, Setting, plates, thickness};
use crate::answer::Tale;
use crate::describe::RailSection;
use crate::describe::WeldPath;
use crate::design::{Body, BodyId, Design, Form, Vec3};
use crate::frames::closing_plates;
use crate::load_path::Interface;

/// A stiff foot on a wall.
pub(super) struct Foot {
    /// The wall's body.
    pub(super) rail: BodyId,
    /// The wall.
    pub(super) wall: usize,
    /// Axis across the wall.
    pub(super) normal: usize,
    /// Axis along the wall and across the rail: 1 or 2.
    pub(super) across: usize,
    /// Level of the wall's face under the foot, m.
    pub(super) level: f64,
    /// Range along the rail, m.
    pub(super) along: (f64, f64),
    /// Range across the rail, m.
    pub(super) over: (f64, f64),
}

impl Foot {
    pub(super) fn centre(&self) -> Vec3 {
        let mut c = Vec3::zeros();
        c[0] = (self.along.0 + self.along.1) / 2.0;
        c[self.normal] = self.level;
        c[self.across] = (self.over.0 + self.over.1) / 2.0;
        c
    }

    /// Width of the wall as new, between the outsides of its corners, m.
    pub(super) fn width(&self, design: &Design) -> f64 {
        let body = design.body(self.rail);
        let Form::Rail { section, .. } = &body.form else { return 0.0 };
        if self.across == 2 { section.height() } else { section.width() }
    }

    /// Whether the rail is a closed section under the foot.
    pub(super) fn rail_kind(&self, design: &Design) -> ClauseRail {
        let body = design.body(self.rail);
        let Form::Rail { section, .. } = &body.form else { return ClauseRail::Open };
        let boxed = matches!(section, RailSection::Box { .. })
            || closing_plates(design, self.rail).any(|(plate, _)| {
                let (from, to) = plate.walls[0].prism.range(0);
                from <= self.along.0 + 1e-9 && to >= self.along.1 - 1e-9
            });
        if boxed { ClauseRail::Closed } else { ClauseRail::Open }
    }
}

/// What stands on a wall through at most one plate that is welded to it.
pub(super) fn foot(design: &Design, interface: &Interface) -> Option<Foot> {
    let rail = design.body(interface.far);
    if !rail.is_rail() {
        return None;
    }
    let near = design.body(interface.near);
    if matches!(near.form, Form::Plate { mouth: true, .. }) {
        // It closes the rail: its edges stand on the flanges, no wall lies under it.
        return None;
    }
    let on = |body: &Body| match &body.form {
        Form::Plate { on, normal, .. }
        | Form::Folded { on, normal, .. }
        | Form::Block { on, normal, .. } => Some((on.clone(), *normal)),
        _ => None,
    };
    let (on_wall, normal) = on(near).filter(|(on, _)| on.body == interface.far)?;
    // A plate spreads nothing by itself: the stiff foot is what stands on it.
    let standing = interface.side.iter().map(|b| design.body(*b)).find(|b| {
        matches!(b.form, Form::Folded { .. } | Form::Block { .. })
            && on(b).is_some_and(|(o, _)| o.body == interface.near)
    });
    let foot =
        if matches!(near.form, Form::Plate { .. }) { standing.unwrap_or(near) } else { near };
    let across = 3 - normal.axis;
    let range = |axis: usize| {
        foot.walls
            .iter()
            .map(|w| w.prism.range(axis))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), (a, b)| {
                (smaller(low, a), fishplate_quantity::algebra::larger(high, b))
            })
    };
    if normal.axis == 0 {
        return None;
    }
    Some(Foot {
        rail: interface.far,
        wall: on_wall.wall,
        normal: normal.axis,
        across,
        level: on_wall.level,
        along: range(0),
        over: range(across),
    })
}

/// Thickness of the plate that adds to the wall: welded to it all round; and whether stitched.
pub(super) fn helping_plate(design: &Design, interface: &Interface) -> (f64, Option<String>) {
    let near = design.body(interface.near);
    let Form::Plate { thickness, .. } = &near.form else { return (0.0, None) };
    let standing = interface.side.len() > 1;
    let round =
        interface.welds.iter().map(|w| &design.welds[w.0]).find(|w| {
            w.of == interface.near && w.along == WeldPath::AllRound && w.throat().is_some()
        });
    match round {
        Some(weld) if standing => (
            *thickness,
            weld.stitched.map(|_| {
                "the plate is stitched to the wall: counted as if welded through".to_owned()
            }),
        ),
        _ => (0.0, None),
    }
}

/// The row of the wall under a welded foot.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    if interface.welds.is_empty() {
        return;
    }
    let design = setting.design;
    let Some(foot) = foot(design, interface) else { return };
    let rail = design.body(foot.rail);
    let near = design.body(interface.near);
    let (t_plate, stitched) = helping_plate(design, interface);
    // The window: the foot and two plate thicknesses each side (common practice, no source).
    let margin = 2.0 * plate_of(near);
    let window = (foot.along.0 - margin, foot.along.1 + margin);
    let (t_wall, t_from) = thickness(rail, foot.wall, window);
    let foot = std::rc::Rc::new(foot);
    let (b_0, kind) = (foot.width(design), foot.rail_kind(design));
    let f_y = if t_plate > 0.0 { smaller(rail.steel.fy, near.steel.fy) } else { rail.steel.fy };
    let ask = {
        let foot = foot.clone();
        move |t_plate: f64, case: InCase| -> Result<Vec<WallInput>, NotChecked> {
            let wrenches =
                setting.carried.across(design, setting.forces, interface, case.place, true);
            Ok(wrenches
                .into_iter()
                .map(|(_, wrench)| {
                    let w = wrench.moved_to(foot.centre());
                    let geometry = || Provenance::Geometry(near.name.clone());
                    let origins = setting
                        .solved(case, || &interface.name)
                        .with("b_0", || Provenance::Given(format!("{}.section", rail.path)))
                        .with("b_1", geometry)
                        .with("h_1", geometry)
                        .with("t_wall", || t_from.tell())
                        .with("t_plate", geometry)
                        .with("f_y", || setting.steel(rail, "fy"));
                    WallInput {
                        n_ed: w.force[foot.normal].abs(),
                        // Tilting along the rail turns about the axis across it, in the wall.
                        m_ip_ed: w.moment[foot.across].abs(),
                        m_op_ed: w.moment[0].abs(),
                        b_0,
                        b_1: foot.over.1 - foot.over.0,
                        h_1: foot.along.1 - foot.along.0,
                        t_wall,
                        t_plate,
                        f_y,
                        n_chord: None,
                        rail: kind,
                        origins,
                    }
                })
                .collect())
        }
    };
    for clause in setting.pack.walls {
        let main = ask.clone();
        let mut draft = Draft::by(&setting, *clause, move |case| main(t_plate, case))
            .of(Some(mount), format!("{}.{}", rail.name, rail.walls[foot.wall].name))
            .called(
                format!(
                    "{} of {}, {:.2} mm: {}",
                    rail.walls[foot.wall].name,
                    rail.base,
                    t_wall * 1e3,
                    clause.title()
                ),
                format!("rail {} {:.1} mm: wall bending", rail.walls[foot.wall].name, t_wall * 1e3),
            )
            .at(interface)
            .told(Tale::new(
                format!(
                    "the {:.1} mm {} of {} bends under the foot of {}",
                    t_wall * 1e3,
                    rail.walls[foot.wall].name,
                    rail.base,
                    near.base
                ),
                "the wall yields beside the weld; the mount can tear out",
                "a doubler welded all round, a larger foot, boxing the rail",
            ));
        if let Ok(sample) = ask(t_plate, InCase::untold(0))
            && let Some(input) = sample.first()
            && let Applicability::OutsideScope(reason) = clause.applies(input)
        {
            draft.outside = Some(reason);
        }
        if t_plate > 0.0 {
            let alone = ask.clone();
            draft = draft.or_by(
                &setting,
                *clause,
                ("the old wall alone", "if the plate were loose or on the wrong side"),
                move |case| alone(0.0, case),
            );
        }
        if let Some(note) = &stitched {
            draft = draft.note(note.clone());
        }
        draft = draft
            .note("width of the wall between the outsides of its corners, as the tables have it")
            .seconded(plates::second(
                &setting,
                interface,
                vec![(foot.rail, Some(foot.wall))],
                "the wall is held by the flanges and plates round it and pulls as a sheet as well",
            ));
        out.push(draft);
    }
}

fn plate_of(body: &Body) -> f64 {
    match &body.form {
        Form::Plate { thickness, .. } | Form::Folded { thickness, .. } => *thickness,
        _ => 0.0,
    }
}
