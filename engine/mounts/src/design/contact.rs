//! What is said to lie on a face, stand in a corner or span a gap must do so; a bolt must meet the
//! sleeves it is said to pass.

use super::body::{Body, BodyId, Form, On};
use super::clash::{Clash, DEPTH, mm, spot};
use super::prism::across;
use super::{BoltAt, Design};

/// Looks for bodies that are not where the load path takes them to be.
pub(super) fn look_for(design: &Design, found: &mut Vec<Clash>) {
    for (i, body) in design.bodies.iter().enumerate() {
        let id = BodyId(i);
        for foot in feet(body) {
            hangs_over(design, (id, body), &foot, found);
        }
        loose(design, (id, body), found);
        if let Form::Sleeve { outside, bore, axis, .. } = &body.form {
            sleeve(design, (id, body), (*outside, *bore, *axis), found);
        }
    }
    for bolts in &design.bolts {
        beside_sleeve(design, bolts, found);
        one_hole(bolts, found);
    }
}

/// Where a body touches what it is placed on.
struct Foot<'a> {
    /// The face.
    on: &'a On,
    /// The axis the face looks along.
    axis: usize,
    /// Extent in the two axes across that, m.
    ranges: [(f64, f64); 2],
}

/// Where a body touches what it is placed on, everywhere.
fn feet(body: &Body) -> Vec<Foot<'_>> {
    let prism = |wall: usize, axis: usize| {
        let [u, v] = across(axis);
        [body.walls[wall].prism.range(u), body.walls[wall].prism.range(v)]
    };
    match &body.form {
        Form::Rail { .. } => Vec::new(),
        Form::Plate { normal, on, .. } | Form::Block { normal, on, .. } => {
            vec![Foot { on, axis: normal.axis, ranges: prism(0, normal.axis) }]
        }
        Form::Folded { normal, foot_along, foot_up, on, .. } => {
            vec![Foot { on, axis: normal.axis, ranges: [*foot_along, *foot_up] }]
        }
        Form::Bar { on, .. } => {
            let [x, z] = [0, 2].map(|axis| {
                body.walls.iter().map(|w| w.prism.range(axis)).fold(
                    (f64::INFINITY, f64::NEG_INFINITY),
                    |(low, high), (a, b)| {
                        (if a < low { a } else { low }, if b > high { b } else { high })
                    },
                )
            });
            on.iter().map(|on| Foot { on, axis: 1, ranges: [x, z] }).collect()
        }
        Form::Gusset { thickness, across: plane, at, corner, legs, on } => {
            let mut list = Vec::new();
            for (k, on) in on.iter().enumerate() {
                // The leg on this face runs along the other face's normal.
                let (along, length) = legs[k];
                let axis = legs[1 - k].0.axis;
                let from = corner[usize::from(across(*plane)[1] == along.axis)];
                let tip = from + along.sign() * length;
                let leg = if tip < from { (tip, from) } else { (from, tip) };
                for middle in at {
                    let width = (middle - thickness / 2.0, middle + thickness / 2.0);
                    let ranges = across(axis).map(|a| if a == *plane { width } else { leg });
                    list.push(Foot { on, axis, ranges });
                }
            }
            list
        }
        Form::Sleeve { axis, on, .. } => (0..body.walls.len())
            .flat_map(|wall| {
                on.iter().map(move |on| Foot { on, axis: *axis, ranges: prism(wall, *axis) })
            })
            .collect(),
    }
}

/// Share of a foot beyond which what hangs over changes what the foot carries: less is a matter of
/// the drawing and only told (common practice, no source).
const MUCH: f64 = 0.1;

/// A foot that reaches beyond the face it stands on, or misses it.
fn hangs_over(
    design: &Design,
    (id, body): (BodyId, &Body),
    foot: &Foot<'_>,
    found: &mut Vec<Clash>,
) {
    let face = design.body(foot.on.body);
    let wall = &face.walls[foot.on.wall];
    let name = ["x", "y", "z"];
    for (a, (low, high)) in across(foot.axis).into_iter().zip(foot.ranges) {
        let (from, to) = wall.prism.range(a);
        let over = if from - low > high - to { from - low } else { high - to };
        if over <= DEPTH {
            continue;
        }
        let misses = low >= to || high <= from;
        let much = misses || over > MUCH * (high - low);
        let wall_name =
            if wall.name.is_empty() { String::new() } else { format!(", {}", wall.name) };
        found.push(Clash {
            what: if misses {
                format!("{} does not touch {}{wall_name}", body.name, face.name)
            } else {
                format!("{} hangs over the edge of {}{wall_name}", body.name, face.name)
            },
            place: format!(
                "it reaches from {axis} {} to {}, the face from {axis} {} to {} mm",
                mm(low),
                mm(high),
                mm(from),
                mm(to),
                axis = name[a],
            ),
            advice: "correct its place or size; look whether its points are counted from a mount \
                     (`datum`) or from the zero of the car"
                .to_owned(),
            path: body.path.clone(),
            between: [body.name.clone(), face.name.clone()],
            misplaced: much.then_some(id),
        });
        return;
    }
}

/// A part that nothing fastens to what it stands on: its load takes another way than its foot.
fn loose(design: &Design, (id, body): (BodyId, &Body), found: &mut Vec<Clash>) {
    let feet: &[On] = match &body.form {
        Form::Plate { on, .. } | Form::Folded { on, .. } | Form::Block { on, .. } => {
            std::slice::from_ref(on)
        }
        Form::Bar { on, .. } => on,
        // They are held by what they stiffen, and told as idle where nothing does.
        Form::Rail { .. } | Form::Gusset { .. } | Form::Sleeve { .. } => &[],
    };
    for on in feet {
        let pair = |a: BodyId, b: BodyId| (a, b) == (id, on.body) || (b, a) == (id, on.body);
        let welded = design.welds.iter().any(|w| pair(w.of, w.to));
        let bolted = design.bolts.iter().any(|bolts| {
            let passes = |body: BodyId| bolts.through.iter().any(|p| p.body == body);
            passes(id) && passes(on.body)
        });
        if !welded && !bolted {
            let under = &design.body(on.body).name;
            found.push(Clash {
                what: format!("nothing fastens {} to {under}", body.name),
                place: "it stands there without weld or bolt".to_owned(),
                advice: "describe the weld or the bolts between them, or leave the part out"
                    .to_owned(),
                path: body.path.clone(),
                between: [body.name.clone(), under.clone()],
                misplaced: Some(id),
            });
        }
    }
}

/// How far a bolt may be off the middle of a sleeve it passes, m.
fn play(bore: f64, bolts: &BoltAt) -> f64 {
    let clearance = (bore - bolts.diameter) / 2.0;
    if clearance > DEPTH { clearance } else { DEPTH }
}

/// Distances in the plane across `axis` between the middle of a wall and a point.
fn off(body: &Body, wall: usize, axis: usize, at: &super::Vec3) -> f64 {
    let middle = body.wall_centre(wall);
    let [u, v] = across(axis);
    (middle[u] - at[u]).hypot(middle[v] - at[v])
}

/// A sleeve that no bolt passes, or that stands in another.
fn sleeve(
    design: &Design,
    (id, body): (BodyId, &Body),
    (outside, bore, axis): (f64, f64, usize),
    found: &mut Vec<Clash>,
) {
    let passed = |wall: usize| {
        design.bolts.iter().any(|bolts| {
            bolts.through.iter().any(|p| p.body == id)
                && bolts.at.iter().any(|at| off(body, wall, axis, at) <= play(bore, bolts))
        })
    };
    for wall in 0..body.walls.len() {
        let middle = body.wall_centre(wall);
        let mut told = |what: String, advice: &str| {
            found.push(Clash {
                what,
                place: spot(axis, &middle),
                advice: advice.to_owned(),
                path: body.path.clone(),
                between: [body.name.clone(), body.name.clone()],
                misplaced: Some(id),
            });
        };
        if wall == 0
            && let Some(bolts) = design
                .bolts
                .iter()
                .find(|bolts| bolts.through.iter().any(|p| p.body == id) && bolts.diameter > bore)
        {
            told(
                format!("{} does not go through the bore of {}", bolts.name, body.name),
                "a sleeve with a bore wider than the bolt",
            );
            return;
        }
        if !passed(wall) {
            told(
                format!("no bolt passes {} there", body.name),
                "put sleeve and bolt on one axis, and the sleeve on the bolt's list",
            );
        }
        if (0..wall).any(|other| off(body, other, axis, &middle) < outside - DEPTH) {
            told(format!("{} stands in itself", body.name), "one sleeve a place");
        }
    }
}

/// A bolt that passes beside the sleeve on its list.
fn beside_sleeve(design: &Design, bolts: &BoltAt, found: &mut Vec<Clash>) {
    for passed in &bolts.through {
        let body = design.body(passed.body);
        let Form::Sleeve { bore, axis, .. } = &body.form else { continue };
        for at in &bolts.at {
            let nearest = (0..body.walls.len())
                .map(|wall| off(body, wall, *axis, at))
                .fold(f64::INFINITY, |least, d| if d < least { d } else { least });
            if nearest > play(*bore, bolts) {
                found.push(Clash {
                    what: format!("{} passes beside {}", bolts.name, body.name),
                    place: format!(
                        "{}: {:.1} mm beside the middle of the nearest",
                        spot(*axis, at),
                        nearest * 1e3
                    ),
                    advice: "put sleeve and bolt on one axis".to_owned(),
                    path: format!("{}.at", bolts.path),
                    between: [bolts.name.clone(), body.name.clone()],
                    misplaced: Some(passed.body),
                });
            }
        }
    }
}

/// Two bolts of a group in one hole.
fn one_hole(bolts: &BoltAt, found: &mut Vec<Clash>) {
    for (i, a) in bolts.at.iter().enumerate() {
        if bolts.at[..i].iter().any(|b| (a - b).norm() < bolts.hole) {
            found.push(Clash {
                what: format!("two of {} share one hole", bolts.name),
                place: spot(bolts.axis, a),
                advice: "a place of its own for every bolt".to_owned(),
                path: format!("{}.at", bolts.path),
                between: [bolts.name.clone(), bolts.name.clone()],
                misplaced: bolts.through.first().map(|p| p.body),
            });
        }
    }
}
