//! Bolts through hollow rails: sleeves that carry the preload, and walls that would have to
//! without one.

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::smaller;
use fishplate_strength::clause::input::{
    ClampedRailInput, RailPlace, SleeveFitInput, SleeveInput, WebKind,
};

use super::bush_bolt::Kit;
use super::{Draft, Setting, thickness};
use crate::answer::{RowKind, Tale};
use crate::describe::RailSection;
use crate::design::{Body, BoltAt, Form, TOUCH, across};

/// The rows of sleeves and empty hollows at the bolts that belong to a mount.
pub(super) fn drafts<'a>(setting: Setting<'a>, mount: usize, out: &mut Vec<Draft<'a>>) {
    let design = setting.design;
    let place = &design.mounts[mount];
    for bolts in &design.bolts {
        // A group is told under the mount it is counted from, else under the nearest on its side.
        let nearest = design
            .mounts
            .iter()
            .enumerate()
            .min_by(|(_, a), (_, b)| {
                let d = |m: &crate::design::MountAt| (m.at - bolts.at[0]).norm();
                d(a).total_cmp(&d(b))
            })
            .map(|(i, _)| i);
        if nearest != Some(mount) || place.id.is_empty() {
            continue;
        }
        sleeves(setting, mount, bolts, out);
        hollows(setting, mount, bolts, out);
    }
}

fn sleeves<'a>(setting: Setting<'a>, mount: usize, bolts: &'a BoltAt, out: &mut Vec<Draft<'a>>) {
    for passed in &bolts.through {
        let body = setting.design.body(passed.body);
        let Form::Sleeve { outside, bore, proud, .. } = &body.form else { continue };
        let Ok(kit) = Kit::of(&setting, bolts) else { continue };
        let (d_out, d_in, f_m) = (*outside, *bore, kit.f_m);
        let misplaced = setting.design.misplaced(passed.body);
        for clause in setting.pack.sleeves {
            let mut draft = Draft::by(&setting, *clause, move |case| {
                Ok(vec![SleeveInput {
                    f_m,
                    d_out,
                    d_in,
                    f_y: body.steel.fy,
                    origins: setting
                        .solved(case, || &bolts.name)
                        .with("f_m", || {
                            Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned())
                        })
                        .with("d_out", || {
                            Provenance::Given(format!("{}.sleeve.outside_mm", body.path))
                        })
                        .with("d_in", || Provenance::Given(format!("{}.sleeve.bore_mm", body.path)))
                        .with("f_y", || setting.steel(body, "fy")),
                }])
            })
            .of(Some(mount), body.name.clone())
            .called(format!("{}: {}", body.base, clause.title()), "sleeve: full preload")
            .without_loads()
            .told(Tale::new(
                format!("{} yields under the preload of {}", body.base, bolts.name),
                "the preload is lost while tightening, and the walls fold in",
                "a thicker sleeve or a stronger steel",
            ));
            draft.blocked.clone_from(&misplaced);
            out.push(draft);
        }
        fit(setting, mount, (bolts, &kit), (body, *proud), out);
    }
}

/// A sleeve that is longer or shorter than its gap.
fn fit<'a>(
    setting: Setting<'a>,
    mount: usize,
    (bolts, kit): (&'a BoltAt, &Kit),
    (sleeve, proud): (&'a Body, f64),
    out: &mut Vec<Draft<'a>>,
) {
    /// Below this a sleeve is taken to be as long as its gap, m.
    const EVEN: f64 = 1e-9;
    if proud.abs() < EVEN {
        return;
    }
    if proud < 0.0 {
        let why = format!(
            "{:.1} mm short: the walls bend in before the sleeve takes the preload, and what that \
             costs is not taken off where slip and opening are checked; make it 0 to 0.2 mm proud",
            -proud * 1e3
        );
        let words = ("length of the sleeve", "sleeve: length");
        let mut draft = Draft::not_checked(Some(mount), sleeve.name.clone(), words, why);
        draft.kind = RowKind::Detailing;
        out.push(draft);
    }
    // The walls it stands between; the thinner bends first.
    let Form::Sleeve { on, axis, .. } = &sleeve.form else { return };
    let at = bolts.at[0].x;
    let walls = on.iter().map(|on| {
        let body = setting.design.body(on.body);
        let (t, from) = thickness(body, on.wall, (at, at));
        (body, on.wall, t, from)
    });
    let Some((wall, place, t, from)) = walls.reduce(|a, b| if b.2 < a.2 { b } else { a }) else {
        return;
    };
    let b_0 = match &wall.form {
        Form::Rail { section, .. } if *axis == 1 => section.height(),
        Form::Rail { section, .. } => section.width(),
        _ => {
            let prism = &wall.walls[place].prism;
            let [u, v] = across(prism.axis);
            let extent = |axis: usize| prism.range(axis).1 - prism.range(axis).0;
            smaller(extent(u), extent(v))
        }
    };
    let f_min = kit.f_m / setting.project.bolts[bolts.index].tightening.scatter.value;
    let d_w = kit.d_w;
    for clause in setting.pack.sleeve_fits {
        out.push(
            Draft::by(&setting, *clause, move |case| {
                Ok(vec![SleeveFitInput {
                    proud,
                    f_min,
                    b_0,
                    d_w,
                    t,
                    f_y: wall.steel.fy,
                    f_k_req: None,
                    origins: setting
                        .solved(case, || &bolts.name)
                        .with("proud", || Provenance::Given(format!("{}.sleeve", sleeve.path)))
                        .with("b_0", || Provenance::Geometry(wall.name.clone()))
                        .with("d_w", || setting.given(format!("{}.washer", bolts.path), false))
                        .with("t", || from.tell())
                        .with("f_y", || setting.steel(wall, "fy")),
                }])
            })
            .of(Some(mount), sleeve.name.clone())
            .called(
                format!("{}: {}", sleeve.base, clause.title()),
                format!("sleeve: {}", clause.short()),
            )
            .without_loads()
            .told(Tale::new(
                format!("{} does not fit between its walls", sleeve.base),
                "the walls hold back what should clamp the sleeve",
                "a sleeve 0 to 0.2 mm longer than the gap, or a shim",
            )),
        );
    }
}

/// A gap between two walls that a bolt clamps with nothing in it to carry the preload.
fn hollows<'a>(setting: Setting<'a>, mount: usize, bolts: &'a BoltAt, out: &mut Vec<Draft<'a>>) {
    let design = setting.design;
    let open = bolts.through.windows(2).find(|w| {
        let gap = if w[1].low >= w[0].high { w[1].low - w[0].high } else { w[0].low - w[1].high };
        gap > TOUCH
    });
    let Some(pair) = open else { return };
    let Ok(kit) = Kit::of(&setting, bolts) else { return };
    for passed in pair {
        let body = design.body(passed.body);
        let Form::Rail { section, .. } = &body.form else { continue };
        let at = bolts.at[0].x;
        let (t, from) = thickness(body, passed.wall, (at, at));
        let b_0 = if bolts.axis == 1 { section.height() } else { section.width() };
        let hat = matches!(section, RailSection::Box { .. } | RailSection::Channel { .. });
        let (f_m, d_w) = (kit.f_m, kit.d_w);
        for clause in setting.pack.clamped_rails {
            out.push(
                Draft::by(&setting, *clause, move |case| {
                    Ok(vec![ClampedRailInput {
                        f_m,
                        d_w,
                        b_0,
                        t,
                        r: 0.0,
                        f_y: body.steel.fy,
                        at: RailPlace::Inside,
                        webs: if hat { WebKind::Hat } else { WebKind::Sheeting },
                        origins: setting
                            .solved(case, || &bolts.name)
                            .with("t", || from.tell())
                            .with("b_0", || Provenance::Given(format!("{}.section", body.path)))
                            .with("f_m", || {
                                Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned())
                            })
                            .with("f_y", || setting.steel(body, "fy")),
                    }])
                })
                .of(Some(mount), format!("{}.{}", body.name, body.walls[passed.wall].name))
                .called(
                    format!(
                        "{} clamped by {} without a sleeve: {}",
                        body.base,
                        bolts.base,
                        clause.title()
                    ),
                    "hollow rail under preload",
                )
                .without_loads()
                .told(Tale::new(
                    format!("{} folds in under the preload of {}", body.base, bolts.name),
                    "the joint never gets its preload and works loose",
                    "a sleeve between the walls, welded in at one end",
                )),
            );
        }
    }
}
