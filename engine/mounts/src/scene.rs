//! What there is to draw, in car axes.

use crate::design::{BeadAt, Design, Vec3};

/// What there is to draw.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Everything made of steel.
    pub solids: Vec<Solid>,
    /// Weld runs.
    pub welds: Vec<WeldLine>,
    /// Bolts.
    pub bolts: Vec<BoltLine>,
    /// Wheels: centre and radius, m.
    pub wheels: Vec<(Vec3, f64)>,
}

/// A body bounded by flat faces.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: &'static str,
    /// The mount it serves, by place; none where several.
    pub mount: Option<usize>,
    /// Its faces, corners in order.
    pub faces: Vec<Vec<Vec3>>,
}

/// A weld run.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldLine {
    /// Its name.
    pub name: String,
    /// The mount it serves, by place; none where several.
    pub mount: Option<usize>,
    /// From here, m.
    pub start: Vec3,
    /// To here, m.
    pub end: Vec3,
    /// Leg, m.
    pub leg: f64,
    /// Resultant stress on the throat at start and end in the governing case, Pa.
    pub stress: [f64; 2],
}

/// A bolt.
#[derive(Debug, Clone, PartialEq)]
pub struct BoltLine {
    /// Its name.
    pub name: String,
    /// The mount it serves, by place; none where several.
    pub mount: Option<usize>,
    /// Lower end, m.
    pub low: Vec3,
    /// Upper end, m.
    pub high: Vec3,
    /// Diameter, m.
    pub diameter: f64,
    /// Outside diameter of the washers, m; 0 where there are none.
    pub washer: f64,
}

/// Collects the geometry. `serves` tells which mount a body, weld or bolt belongs to by its name;
/// `stress` the throat stress at both ends of each run of a weld.
pub(crate) fn scene(
    design: &Design,
    wheels: Vec<(Vec3, f64)>,
    serves: impl Fn(&str) -> Option<usize>,
    stress: impl Fn(usize, usize) -> [f64; 2],
) -> Scene {
    let solids = design
        .bodies
        .iter()
        .map(|body| Solid {
            name: body.name.clone(),
            kind: body.kind(),
            mount: serves(&body.name),
            faces: body.walls.iter().filter(|w| w.solid).flat_map(|w| w.prism.faces()).collect(),
        })
        .collect();
    let mut welds = Vec::new();
    for (i, weld) in design.welds.iter().enumerate() {
        let BeadAt::Fillet { leg, .. } = weld.bead else { continue };
        for (k, run) in weld.runs.iter().enumerate() {
            welds.push(WeldLine {
                name: weld.name.clone(),
                mount: serves(&weld.name),
                start: run.start,
                end: run.end,
                leg,
                stress: stress(i, k),
            });
        }
    }
    let mut bolts = Vec::new();
    for group in &design.bolts {
        let (low, high) = group.grip();
        for at in &group.at {
            let end = |level: f64| {
                let mut p = *at;
                p[group.axis] = level;
                p
            };
            bolts.push(BoltLine {
                name: group.name.clone(),
                mount: serves(&group.name),
                low: end(low),
                high: end(high),
                diameter: group.diameter,
                washer: group.washer.map_or(0.0, |(outside, _)| outside),
            });
        }
    }
    Scene { solids, welds, bolts, wheels }
}
