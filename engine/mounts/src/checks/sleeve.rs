//! Bolts through hollow rails: sleeves that carry the preload, and walls that would have to
//! without one.

use fishplate_quantity::Provenance;
use fishplate_strength::clause::input::{ClampedRailInput, RailPlace, SleeveInput, WebKind};

use super::bush_bolt::Kit;
use super::{Draft, Setting, thickness};
use crate::answer::{RowKind, Tale};
use crate::describe::RailSection;
use crate::design::{BoltAt, Form, TOUCH};

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
            let mut draft = Draft::by(&setting, *clause, move |_| {
                Ok(vec![SleeveInput {
                    f_m,
                    d_out,
                    d_in,
                    f_y: body.steel.fy,
                    origins: setting
                        .solved(0, &bolts.name)
                        .with("f_m", Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned()))
                        .with(
                            "d_out",
                            Provenance::Given(format!("{}.sleeve.outside_mm", body.path)),
                        )
                        .with("d_in", Provenance::Given(format!("{}.sleeve.bore_mm", body.path)))
                        .with("f_y", setting.steel(body, "fy")),
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
        if *proud < -1e-9 {
            let mut draft = Draft::not_checked(
                Some(mount),
                body.name.clone(),
                ("length of the sleeve", "sleeve: length"),
                format!(
                    "{:.1} mm short: the walls bend in before the sleeve takes the preload; make it \
                     0 to 0.2 mm proud",
                    -proud * 1e3
                ),
            );
            draft.kind = RowKind::Detailing;
            out.push(draft);
        }
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
        let (t, from) = thickness(&setting, body, passed.wall, (at, at));
        let b_0 = if bolts.axis == 1 { section.height() } else { section.width() };
        let hat = matches!(section, RailSection::Box { .. } | RailSection::Channel { .. });
        let (f_m, d_w) = (kit.f_m, kit.d_w);
        for clause in setting.pack.clamped_rails {
            let from = from.clone();
            out.push(
                Draft::by(&setting, *clause, move |_| {
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
                            .solved(0, &bolts.name)
                            .with("t", from.clone())
                            .with("b_0", Provenance::Given(format!("{}.section", body.path)))
                            .with(
                                "f_m",
                                Provenance::Table("VDI 2230 Part 1, 90 % of yield".to_owned()),
                            )
                            .with("f_y", setting.steel(body, "fy")),
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
