//! Rails of the old car as bodies. Geometry is as new; strength is as measured.

use fishplate_quantity::Faults;

use super::body::{Body, Form, Station, SteelAt, Wall};
use super::condition;
use super::prism::Prism;
use crate::describe::{Direction, Opening, Rail, RailSection, Reading, Side};

/// Puts a rail in its place; `mirror` makes the twin across the centre plane.
pub(super) fn place(
    rail: &Rail,
    path: &str,
    steel: SteelAt,
    (side, mirror, named): (Side, bool, bool),
    faults: &mut Faults,
) -> Body {
    let sign = if mirror { -1.0 } else { 1.0 };
    let web = rail.web.value.si() * sign;
    let (x0, x1) = (rail.from.value.si(), rail.to.value.si());
    if x1 <= x0 {
        faults.add(
            format!("{path}.to"),
            format!("{:.1} mm", x1 * 1e3),
            format!("more than `from`, {:.1} mm", x0 * 1e3),
            "a rail runs from its rear end to its front end",
        );
    }
    let (z0, z1) = (rail.bottom.value.si(), rail.bottom.value.si() + rail.section.height());
    let (t, width) = (rail.section.wall(), rail.section.width());
    // The web's outer face looks away from the rest of the section.
    let outward = match rail.section {
        RailSection::Channel { opens: Opening::Outward, .. } => {
            Direction { axis: 1, positive: side == Side::Right }
        }
        _ => Direction { axis: 1, positive: side == Side::Left },
    };
    let inner = web - outward.sign() * width;
    let (y0, y1) = if web < inner { (web, inner) } else { (inner, web) };
    let wall = |name: &str, low: [f64; 3], high: [f64; 3], axis: usize, solid: bool| Wall {
        name: name.to_owned(),
        prism: Prism::block(axis, low, high),
        solid,
    };
    let slab = |face: f64, inward: f64| {
        let other = face + inward * t;
        if face < other { (face, other) } else { (other, face) }
    };
    let web_slab = slab(web, -outward.sign());
    let mut walls = vec![
        wall("web", [x0, web_slab.0, z0], [x1, web_slab.1, z1], 1, true),
        wall("top", [x0, y0, z1 - t], [x1, y1, z1], 2, true),
        wall("bottom", [x0, y0, z0], [x1, y1, z0 + t], 2, true),
    ];
    match rail.section {
        RailSection::Channel { .. } => {
            walls.push(wall("mouth", [x0, inner, z0], [x1, inner, z1], 1, false));
        }
        RailSection::Box { .. } => {
            let far = slab(inner, outward.sign());
            walls.push(wall("inner-wall", [x0, far.0, z0], [x1, far.1, z1], 1, true));
        }
    }
    let stations = stations(rail, path, mirror, faults);
    Body {
        name: if named {
            format!("rail.{} {}", rail.name, side.word())
        } else {
            format!("rail.{}", rail.name)
        },
        base: format!("rail.{}", rail.name),
        described: format!("rail.{}", rail.name),
        datum: None,
        side: Some(side),
        twin: mirror,
        path: path.to_owned(),
        steel,
        form: Form::Rail {
            section: rail.section,
            outward,
            stations,
            held: rail.held.clone(),
            damage: condition::damage(rail, side),
        },
        walls,
    }
}

/// The readings of one side in ascending x.
fn stations(rail: &Rail, path: &str, mirror: bool, faults: &mut Faults) -> Vec<Station> {
    let own = mirror && !rail.readings_right.is_empty();
    let (field, list): (&str, &[Reading]) =
        if own { ("readings_right", &rail.readings_right) } else { ("readings", &rail.readings) };
    let mut stations = condition::stations(rail, (path, field), list, mirror && !own, faults);
    if stations.is_empty() {
        faults.add(
            format!("{path}.{field}"),
            "no reading",
            "at least one thickness with its station",
            "measure the wall near every mount; strength goes with the thickness that is left",
        );
    }
    for (i, r) in list.iter().enumerate() {
        let new = rail.section.wall();
        let t = r.thickness.value.si();
        if !mirror && t > 1.25 * new {
            faults.add(
                format!("{path}.{field}[{i}].thickness"),
                format!("{:.2} mm", t * 1e3),
                format!("at most a quarter above the wall as new, {:.2} mm", new * 1e3),
                "a gauge that reads filler or a lapped seam reads too much; correct the reading \
                 or the section",
            );
        }
    }
    stations.sort_by(|a, b| a.x.total_cmp(&b.x));
    stations
}
