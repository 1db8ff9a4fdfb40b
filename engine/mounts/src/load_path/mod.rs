//! By which steel and which joints the load of a mount gets home.
//!
//! Bodies are the nodes of a graph, joints its edges. From the body a bush lands on, the walk goes
//! to the rail by the fewest joints; rails are where it ends. An *interface* is a cut of that
//! graph between two neighbours on the walk: every joint the cut crosses carries the load
//! together. Bodies off the walk (gussets, sleeves, closing plates) stay with the neighbour they
//! stiffen. Where a bar across the car joins both sides, the walk branches at the bar and
//! stiffness has to share the load between its two ends.

mod forces;
mod graph;

pub(crate) use forces::Carried;

use std::collections::BTreeSet;

use self::graph::Graph;
use crate::design::{BeadAt, BodyId, BoltId, Design, Form, Vec3, WeldId};

/// The walks of all mounts and the interfaces they cross.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadPath {
    /// One walk a mount, in the order of the mounts.
    pub walks: Vec<Walk>,
    /// Every interface once.
    pub interfaces: Vec<Interface>,
    /// Bars that join both sides.
    pub bars: Vec<BarLoop>,
}

/// The walk of one mount's load.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// Names of what it passes, in order.
    pub stations: Vec<String>,
    /// Whether it goes through a bar that joins both sides.
    pub looped: bool,
    /// Why it does not reach a rail in a way that can be followed; empty where it does.
    pub lost: String,
}

/// A cut between two neighbours on a walk.
#[derive(Debug, Clone, PartialEq)]
pub struct Interface {
    /// Its name: `front-bracket | rail.frame left`.
    pub name: String,
    /// The mount it is told under, by place: the first whose load crosses it, at an end of a bar
    /// the first on that side.
    pub mount: usize,
    /// The body on the mount's side that touches it.
    pub near: BodyId,
    /// The body on the rail's side that touches it.
    pub far: BodyId,
    /// Everything on the mount's side.
    pub side: BTreeSet<BodyId>,
    /// Welds it crosses.
    pub welds: Vec<WeldId>,
    /// Bolts it crosses.
    pub bolts: Vec<BoltId>,
    /// Where its moments are taken: the centroid of the welds, else of the bolts, m.
    pub about: Vec3,
    /// Where its load comes from.
    pub load: LoadFrom,
}

/// Where the load of an interface comes from.
#[derive(Debug, Clone, PartialEq)]
pub enum LoadFrom {
    /// From these mounts, by equilibrium alone.
    Mounts(Vec<usize>),
    /// From an end of a bar that joins both sides.
    BarEnd {
        /// The bar, by place in [`LoadPath::bars`].
        bar: usize,
        /// 0 right, 1 left.
        end: usize,
    },
}

/// A bar that joins both sides.
#[derive(Debug, Clone, PartialEq)]
pub struct BarLoop {
    /// The bar.
    pub body: BodyId,
    /// Mounts whose load it carries.
    pub mounts: Vec<usize>,
    /// Where its right and left end are held along y, m: at the first bolted face, else at its end.
    pub held_at: [f64; 2],
}

/// Walks the loads of all mounts home.
#[must_use]
pub fn walk(design: &Design) -> LoadPath {
    let graph = Graph::of(design);
    let mut path = LoadPath { walks: Vec::new(), interfaces: Vec::new(), bars: Vec::new() };
    for mount in 0..design.mounts.len() {
        let walk = walk_one(design, &graph, mount, &mut path);
        path.walks.push(walk);
    }
    own_ends(design, &mut path);
    path
}

fn walk_one(design: &Design, graph: &Graph, mount: usize, path: &mut LoadPath) -> Walk {
    let mut walk = Walk {
        stations: vec![format!("mount {}", design.mounts[mount].name)],
        looped: false,
        lost: String::new(),
    };
    let Some((start, bolts)) = design.landing(&design.mounts[mount]) else {
        walk.lost = "the project does not say what its bush lands on".to_owned();
        return walk;
    };
    if let Some(bolts) = bolts {
        walk.stations.push(design.bolts[bolts.0].name.clone());
    }
    let Some(way) = graph.way_to_rail(start, &BTreeSet::new()) else {
        walk.stations.push(design.body(start).name.clone());
        walk.lost = format!("no weld or bolt leads from {} to a rail", design.body(start).name);
        return walk;
    };
    let bar = way.iter().position(|b| matches!(design.body(*b).form, Form::Bar { .. }));
    let Some(at) = bar else {
        let rails = graph.rails_reached(start);
        if rails.len() > 1 {
            walk.lost = format!(
                "the load closes a loop between {}: only stiffness can share it",
                rails
                    .iter()
                    .map(|r| design.body(*r).name.clone())
                    .collect::<Vec<_>>()
                    .join(" and ")
            );
            return walk;
        }
        follow(design, graph, &way, LoadFrom::Mounts(vec![mount]), mount, path, &mut walk);
        return walk;
    };
    walk.looped = true;
    let body = way[at];
    // Up to the bar the way is a chain like any other.
    follow(design, graph, &way[..=at], LoadFrom::Mounts(vec![mount]), mount, path, &mut walk);
    let number = match path.bars.iter().position(|b| b.body == body) {
        Some(number) => number,
        None => {
            let ends = bar_ends(design, graph, body);
            let held_at = [held(design, &ends[0]), held(design, &ends[1])];
            path.bars.push(BarLoop { body, mounts: Vec::new(), held_at });
            path.bars.len() - 1
        }
    };
    path.bars[number].mounts.push(mount);
    let ends = bar_ends(design, graph, body);
    if ends.iter().any(Vec::is_empty) {
        walk.lost = format!("an end of {} does not reach a rail", design.body(body).name);
        return walk;
    }
    // The nearer end first: that is the one on the mount's own side.
    let own = usize::from(design.mounts[mount].at[1] > 0.0);
    for end in [own, 1 - own] {
        let load = LoadFrom::BarEnd { bar: number, end };
        let mut branch = Walk { stations: Vec::new(), ..walk.clone() };
        follow(design, graph, &ends[end], load, mount, path, &mut branch);
        if end == own {
            walk.stations.extend(branch.stations.into_iter().skip(1));
        }
    }
    walk
}

/// Tells each end of a bar under the mount that loads it from its own side, where there is one.
fn own_ends(design: &Design, path: &mut LoadPath) {
    for interface in &mut path.interfaces {
        let LoadFrom::BarEnd { bar, end } = interface.load else { continue };
        let on_end = |m: &usize| usize::from(design.mounts[*m].at[1] > 0.0) == end;
        if let Some(own) = path.bars[bar].mounts.iter().copied().find(on_end) {
            interface.mount = own;
        }
    }
}

/// The ways from both ends of a bar to a rail, each beginning with the bar; empty where none leads.
fn bar_ends(design: &Design, graph: &Graph, bar: BodyId) -> [Vec<BodyId>; 2] {
    let Form::Bar { on, .. } = &design.body(bar).form else { return [Vec::new(), Vec::new()] };
    let without = BTreeSet::from([bar]);
    [0, 1].map(|end| {
        let first = on[end].body;
        if !graph.joined(bar, first) {
            return Vec::new();
        }
        graph
            .way_to_rail(first, &without)
            .map_or_else(Vec::new, |way| std::iter::once(bar).chain(way).collect())
    })
}

/// Where along y the way from a bar's end is held: the first bolted face, else the bar's own end.
fn held(design: &Design, way: &[BodyId]) -> f64 {
    for pair in way.windows(2) {
        for bolts in &design.bolts {
            if let Some(level) = crossing_level(bolts, pair)
                && bolts.axis == 1
            {
                return level;
            }
        }
    }
    match (way.first(), way.get(1)) {
        (Some(bar), Some(end)) => match &design.body(*bar).form {
            Form::Bar { on, .. } => on.iter().find(|o| o.body == *end).map_or(0.0, |o| o.level),
            _ => 0.0,
        },
        _ => 0.0,
    }
}

/// The level of the face between two bodies that a bolt passes one after the other.
fn crossing_level(bolts: &crate::design::BoltAt, pair: &[BodyId]) -> Option<f64> {
    bolts.through.windows(2).find_map(|w| {
        let forward = w[0].body == pair[0] && w[1].body == pair[1];
        let backward = w[0].body == pair[1] && w[1].body == pair[0];
        (forward || backward).then(
            || {
                if w[0].high <= w[1].low + 1e-9 { w[1].low } else { w[0].low }
            },
        )
    })
}

/// Cuts between all neighbours on a way.
fn follow(
    design: &Design,
    graph: &Graph,
    way: &[BodyId],
    load: LoadFrom,
    mount: usize,
    path: &mut LoadPath,
    walk: &mut Walk,
) {
    walk.stations.push(design.body(way[0]).name.clone());
    for i in 1..way.len() {
        let side = graph.near_side(way, i);
        // A bar that joins both sides has other ends: their joints are not this cut's.
        let rest = graph.far_side(way, i, &side);
        let (welds, bolts) = crossed(design, &side, &rest);
        let near = way[i - 1];
        let far = way[i];
        let joints: Vec<String> = welds
            .iter()
            .map(|w| design.welds[w.0].name.clone())
            .chain(bolts.iter().map(|b| design.bolts[b.0].name.clone()))
            .collect();
        walk.stations.push(format!("[{}]", joints.join(" + ")));
        walk.stations.push(design.body(far).name.clone());
        let known = path.interfaces.iter().position(|f| {
            f.near == near && f.far == far && f.side == side && same_kind(&f.load, &load)
        });
        match known {
            Some(at) => {
                if let (LoadFrom::Mounts(all), LoadFrom::Mounts(more)) =
                    (&mut path.interfaces[at].load, &load)
                {
                    for m in more {
                        if !all.contains(m) {
                            all.push(*m);
                        }
                    }
                }
            }
            None => {
                let about = centre(design, &welds, &bolts, [near, far]);
                path.interfaces.push(Interface {
                    name: format!(
                        "{} | {}",
                        short(&design.body(near).name),
                        short(&design.body(far).name)
                    ),
                    mount,
                    near,
                    far,
                    side,
                    welds,
                    bolts,
                    about,
                    load: load.clone(),
                });
            }
        }
    }
}

fn same_kind(a: &LoadFrom, b: &LoadFrom) -> bool {
    match (a, b) {
        (LoadFrom::Mounts(_), LoadFrom::Mounts(_)) => true,
        (a, b) => a == b,
    }
}

fn short(name: &str) -> &str {
    name.strip_prefix("part.").unwrap_or(name)
}

/// Joints with one foot on each side of a cut.
fn crossed(
    design: &Design,
    side: &BTreeSet<BodyId>,
    rest: &BTreeSet<BodyId>,
) -> (Vec<WeldId>, Vec<BoltId>) {
    let crosses = |a: BodyId, b: BodyId| {
        side.contains(&a) && rest.contains(&b) || side.contains(&b) && rest.contains(&a)
    };
    let welds = (0..design.welds.len())
        .filter(|i| crosses(design.welds[*i].of, design.welds[*i].to))
        .map(WeldId)
        .collect();
    let bolts = (0..design.bolts.len())
        .filter(|i| design.bolts[*i].through.windows(2).any(|w| crosses(w[0].body, w[1].body)))
        .map(BoltId)
        .collect();
    (welds, bolts)
}

/// The centroid of the fillets by length and throat, else of the plugs, else of the bolts in the face
/// they clamp.
fn centre(design: &Design, welds: &[WeldId], bolts: &[BoltId], pair: [BodyId; 2]) -> Vec3 {
    let mut sum = Vec3::zeros();
    let mut weight = 0.0;
    for weld in welds.iter().map(|w| &design.welds[w.0]) {
        let Some(throat) = weld.throat() else { continue };
        for run in &weld.runs {
            let w = run.length() * throat;
            sum += (run.start + run.end) / 2.0 * w;
            weight += w;
        }
    }
    if weight > 0.0 {
        return sum / weight;
    }
    for weld in welds.iter().map(|w| &design.welds[w.0]) {
        if let BeadAt::Plug { centres, .. } = &weld.bead {
            sum += centres.iter().sum::<Vec3>();
            weight += f64::from(u32::try_from(centres.len()).unwrap_or(u32::MAX));
        }
    }
    if weight > 0.0 {
        return sum / weight;
    }
    for bolts in bolts.iter().map(|b| &design.bolts[b.0]) {
        let level = crossing_level(bolts, &pair);
        for at in &bolts.at {
            let mut point = *at;
            if let Some(level) = level {
                point[bolts.axis] = level;
            }
            sum += point;
            weight += 1.0;
        }
    }
    if weight > 0.0 { sum / weight } else { sum }
}
