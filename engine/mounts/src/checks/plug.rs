//! Plug welds that are the only joint of an interface: shear alone, shared like that of bolts.

use std::rc::Rc;

use fishplate_quantity::Provenance;
use fishplate_quantity::algebra::{hypot, larger, smaller};
use fishplate_solver::group::{Bolt, BoltGroup, Edges, GroupError, JointAxes, Wrench};
use fishplate_strength::clause::input::PlugInput;
use fishplate_strength::clause::{NotChecked, Origins};

use super::weld::{edge_thickness, made};
use super::{Draft, InCase, Setting, condition};
use crate::answer::Tale;
use crate::design::{BeadAt, Form, Vec3, WeldAt, across};
use crate::load_path::Interface;

/// Pull on a plug below this share of all the force is rounding.
const NO_PULL: f64 = 1e-6;

/// The thickest sheet whose plugs are fused less wide than their hole, m (EN 1993-1-3:2006, 8.5.3).
const SHEET: f64 = 4e-3;

/// The plugs of an interface in their plane.
struct Plugs<'a> {
    welds: Vec<&'a WeldAt>,
    /// The weld of each plug.
    of: Vec<&'a WeldAt>,
    axes: JointAxes,
    group: BoltGroup,
    edges: Edges,
}

fn lost(e: GroupError) -> NotChecked {
    NotChecked::NoRule { reason: e.to_string() }
}

fn plugs<'a>(setting: &Setting<'a>, interface: &Interface) -> Result<Plugs<'a>, NotChecked> {
    let welds: Vec<&WeldAt> = interface.welds.iter().map(|w| &setting.design.welds[w.0]).collect();
    let mut centres: Vec<(Vec3, f64, &WeldAt)> = Vec::new();
    for weld in welds.iter().copied() {
        if let BeadAt::Plug { diameter, centres: at, .. } = &weld.bead {
            let area = std::f64::consts::FRAC_PI_4 * diameter * diameter;
            centres.extend(at.iter().map(|c| (*c, area, weld)));
        }
    }
    let plate = setting.design.body(welds[0].of);
    let no_plane = || NotChecked::NoRule { reason: "the plugs have no plane".to_owned() };
    let Form::Plate { normal, .. } = &plate.form else { return Err(no_plane()) };
    let [u, v] = across(normal.axis);
    let (mut x, mut z) = (Vec3::zeros(), Vec3::zeros());
    x[u] = 1.0;
    z[normal.axis] = normal.sign();
    let axes = JointAxes::new(interface.about, x, z).ok_or_else(no_plane)?;
    let local = |p: Vec3| axes.point_in(p);
    let bolts = centres.iter().map(|(c, area, _)| {
        let p = local(*c);
        Bolt { x: p.x, y: p.y, area: *area }
    });
    let group = BoltGroup::new(bolts.collect()).map_err(lost)?;
    let prism = &plate.walls[0].prism;
    let (ru, rv) = (prism.range(u), prism.range(v));
    let corner = |a: f64, b: f64| {
        let mut p = interface.about;
        p[u] = a;
        p[v] = b;
        local(p)
    };
    let (c1, c2) = (corner(ru.0, rv.0), corner(ru.1, rv.1));
    let edges = Edges {
        x_min: smaller(c1.x, c2.x),
        x_max: larger(c1.x, c2.x),
        y_min: smaller(c1.y, c2.y),
        y_max: larger(c1.y, c2.y),
    };
    Ok(Plugs { of: centres.iter().map(|(_, _, w)| *w).collect(), welds, axes, group, edges })
}

/// Diameter that counts: as measured on a sample; else in sheet up to [`SHEET`] what
/// EN 1993-1-3:2006, 8.5.3 leaves of an arc spot as wide as the hole (from memory), 0.7 of it less one
/// and a half times the thickness, and no less than 0.55 of it; else the hole.
fn counts(weld: &WeldAt, t: f64) -> f64 {
    let BeadAt::Plug { diameter, fused, .. } = &weld.bead else { return 0.0 };
    match fused {
        Some(fused) => *fused,
        None if t <= SHEET => larger(0.7 * diameter - 1.5 * t, 0.55 * diameter),
        None => *diameter,
    }
}

/// Where that comes from.
fn counts_from(weld: &WeldAt, t: f64) -> Provenance {
    let BeadAt::Plug { diameter, fused, .. } = &weld.bead else {
        return Provenance::Geometry(weld.name.clone());
    };
    match fused {
        Some(_) => Provenance::Given(format!("{}.fused", weld.path)),
        None if t <= SHEET => Provenance::Geometry(format!(
            "fused part of a hole of {:.1} mm in {:.1} mm (EN 1993-1-3:2006, 8.5.3, from memory)",
            diameter * 1e3,
            t * 1e3
        )),
        None => Provenance::Given(format!("{}.plug_diameter", weld.path)),
    }
}

/// The plugs under wrenches: one input a plug.
fn inputs(
    setting: &Setting<'_>,
    interface: &Interface,
    plugs: &Plugs<'_>,
    wrenches: &[Wrench],
    case: InCase,
) -> Result<Vec<PlugInput>, NotChecked> {
    let mut list = Vec::new();
    for wrench in wrenches {
        let w = wrench.in_axes(&plugs.axes);
        let shear = plugs.group.shear(&w).map_err(lost)?;
        let pull = plugs.group.tension_about_edge(&w, &plugs.edges).map_err(lost)?;
        for ((weld, [x, y]), pull) in plugs.of.iter().zip(shear).zip(pull) {
            let (of, to) = (setting.design.body(weld.of), setting.design.body(weld.to));
            let x_at = interface.about.x;
            condition::weldable(to, (x_at, x_at))?;
            let t = edge_thickness(of);
            let BeadAt::Plug { diameter, .. } = weld.bead else { continue };
            let d_fused = counts(weld, t);
            let (Some(beta_1), Some(beta_2)) = (of.steel.beta_w, to.steel.beta_w) else {
                return Err(NotChecked::NoRule {
                    reason: format!(
                        "no weld factor beta_w for the steel of {} or {}",
                        of.name, to.name
                    ),
                });
            };
            let share = weld.quality.share;
            let pulled = pull.total > NO_PULL * wrench.force.norm();
            let weaker = if of.steel.fu < to.steel.fu { of } else { to };
            let mut origins = setting
                .solved(case, || format!("{}, elastic vector", interface.name))
                .with("d_hole", || Provenance::Given(format!("{}.plug_diameter", weld.path)))
                .with("d_fused", || counts_from(weld, t))
                .with("t", || Provenance::Given(format!("thickness of {}", of.path)))
                .with("f_u", || setting.steel(weaker, "fu"))
                .with("beta_w", || setting.steel(weaker, "beta_w"));
            if share < 1.0 {
                origins = origins.with("f_v_ed", || {
                    let name = &interface.name;
                    Provenance::Solved(format!("{name}, over the share {share} of its strength"))
                });
            }
            list.push(PlugInput {
                f_v_ed: hypot(x, y) / share,
                f_t_ed: if pulled { pull.total } else { 0.0 },
                d_hole: diameter,
                d_fused: Some(d_fused),
                t,
                f_u: weaker.steel.fu,
                beta_w: larger(beta_1, beta_2),
                f_exx: setting.weld_metal(),
                l_slot: None,
                s: None,
                s_l: None,
                origins,
            });
        }
    }
    Ok(list)
}

/// The rows of plugs without a fillet beside them.
pub(super) fn drafts<'a>(
    setting: Setting<'a>,
    mount: usize,
    interface: &'a Interface,
    out: &mut Vec<Draft<'a>>,
) {
    if interface.welds.is_empty() {
        return;
    }
    let found = match plugs(&setting, interface) {
        Ok(found) => Rc::new(found),
        Err(why) => {
            let words = ("plug welds as the only joint", "plug welds alone");
            out.push(Draft::not_checked(
                Some(mount),
                interface.name.clone(),
                words,
                why.to_string(),
            ));
            return;
        }
    };
    let names = found.welds.iter().map(|w| w.name.as_str()).collect::<Vec<_>>().join(" + ");
    for clause in setting.pack.plugs {
        let plugs = found.clone();
        out.push(
            Draft::by(&setting, *clause, move |case| {
                let across = setting.carried.across(
                    setting.design,
                    setting.forces,
                    interface,
                    case.place,
                    true,
                );
                let wrenches: Vec<Wrench> = across.into_iter().map(|(_, w)| w).collect();
                inputs(&setting, interface, &plugs, &wrenches, case)
            })
            .of(Some(mount), names.clone())
            .called(format!("{names}, the only joint: {}", clause.title()), "plug welds alone")
            .at(interface)
            .told(Tale::new(
                format!("{names} shear off"),
                "the plate comes loose at once",
                "a fillet round the plate; more plugs, set further apart",
            ))
            .note("shear shared by the elastic vector; pull on a plug is refused")
            .noted(found.welds.iter().filter_map(|w| made(w))),
        );
    }
    for weld in found.welds.iter().copied() {
        let BeadAt::Plug { diameter, .. } = weld.bead else { continue };
        let of = setting.design.body(weld.of);
        for clause in setting.pack.plug_detailing {
            out.push(
                Draft::by(&setting, *clause, move |case| {
                    Ok(vec![PlugInput {
                        f_v_ed: 0.0,
                        f_t_ed: 0.0,
                        d_hole: diameter,
                        d_fused: None,
                        t: edge_thickness(of),
                        f_u: of.steel.fu,
                        beta_w: of.steel.beta_w.unwrap_or(1.0),
                        f_exx: setting.weld_metal(),
                        l_slot: None,
                        s: None,
                        s_l: None,
                        origins: Origins::when(case.told, || Provenance::Given(weld.path.clone())),
                    }])
                })
                .of(Some(mount), weld.name.clone())
                .called(
                    format!("{}: {}", weld.name, clause.title()),
                    format!("weld: {}", clause.short()),
                )
                .at(interface)
                .without_loads(),
            );
        }
    }
}
