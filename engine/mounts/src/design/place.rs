//! Parts in their places: one function a form.

use super::body::{Body, Face, Form, SteelAt, Wall};
use super::context::Context;
use super::prism::{Prism, TOUCH, across};
use super::reference::{Kind, Reference};
use crate::describe::{
    self, BarShape, BlockPlan, Direction, FoldOpening, Outline, Part, Place, Side,
};
use fishplate_quantity::Fault;

/// Why a part cannot be placed yet or at all.
pub(super) enum Hindrance {
    /// It refers to a part that is not placed yet.
    Waits,
    /// It is wrong.
    Wrong(Fault),
}

impl From<Fault> for Hindrance {
    fn from(fault: Fault) -> Self {
        Self::Wrong(fault)
    }
}

type Placed<T> = Result<T, Hindrance>;

/// Puts one instance of a part in its place.
pub(super) fn place(part: &Part, path: &str, steel: SteelAt, at: &Context<'_>) -> Placed<Body> {
    let (form, walls) = match &part.form {
        describe::Form::Plate(p) => plate(p, &format!("{path}.plate"), at)?,
        describe::Form::Folded(p) => folded(p, &format!("{path}.folded"), at)?,
        describe::Form::Bar(p) => bar(p, &format!("{path}.bar"), at)?,
        describe::Form::Gusset(p) => gusset(p, &format!("{path}.gusset"), at)?,
        describe::Form::Sleeve(p) => sleeve(p, &format!("{path}.sleeve"), at)?,
        describe::Form::Block(p) => block(p, &format!("{path}.block"), at)?,
    };
    let base = format!("part.{}", at.own_name(&part.name));
    let side = if matches!(form, Form::Bar { .. }) { None } else { at.side };
    Ok(Body {
        name: match side {
            Some(side) if at.named => format!("{base} {}", side.word()),
            _ => base.clone(),
        },
        base,
        described: format!("part.{}", part.name),
        datum: at.datum.filter(|_| part.datums.len() > 1),
        side,
        twin: at.mirror,
        path: path.to_owned(),
        steel,
        form,
        walls,
    })
}

fn single(prism: Prism) -> Vec<Wall> {
    vec![Wall { name: String::new(), prism, solid: true }]
}

/// The slab of thickness `t` that lies on a face.
fn slab(face: &Face, t: f64) -> (f64, f64) {
    let other = face.level + face.looks.sign() * t;
    if other < face.level { (other, face.level) } else { (face.level, other) }
}

fn plate(p: &describe::Plate, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    let face = at.face(&p.on, &format!("{path}.on"))?;
    let t = p.thickness.value.si();
    let (low, high) = slab(&face, t);
    let [u, v] = across(face.looks.axis);
    let mut mouth = false;
    let outline = match &p.outline {
        Outline::Mouth { from, to } => {
            mouth = true;
            let rail = at.body(face.body);
            if rail.walls[face.wall].name != "mouth" {
                return Err(Fault::new(
                    format!("{path}.on"),
                    p.on.clone(),
                    "the mouth of a channel rail, such as rail.frame.mouth",
                    "`from` and `to` are for closing plates; other plates have a centre and size",
                )
                .into());
            }
            let (from, to) = (from.value.si(), to.value.si());
            if to <= from {
                return Err(Fault::new(
                    format!("{path}.to"),
                    format!("{:.1} mm", to * 1e3),
                    format!("more than `from`, {:.1} mm", from * 1e3),
                    "",
                )
                .into());
            }
            let (z0, z1) = rail.walls[face.wall].prism.range(2);
            vec![[from, z0], [to, z0], [to, z1], [from, z1]]
        }
        other => {
            let centre = p.centre.as_ref().ok_or_else(|| {
                Fault::new(
                    format!("{path}.centre"),
                    "nothing",
                    "two coordinates in the plane of the face",
                    "",
                )
            })?;
            let centre = at.on_face(centre, &face, &format!("{path}.centre"))?;
            around(centre, other, [u, v], path, at)?
        }
    };
    let normal = face.looks;
    let prism = Prism { axis: normal.axis, low, high, outline };
    Ok((Form::Plate { normal, thickness: t, mouth, on: face.on() }, single(prism)))
}

/// The outline round a centre, in the two axes of the face.
fn around(
    centre: [f64; 2],
    outline: &Outline,
    axes: [usize; 2],
    path: &str,
    at: &Context<'_>,
) -> Placed<Vec<[f64; 2]>> {
    let corners = |list: &[[f64; 2]]| -> Vec<[f64; 2]> {
        list.iter().map(|c| [centre[0] + c[0], centre[1] + c[1]]).collect()
    };
    Ok(match outline {
        Outline::Rectangle(size) => {
            let [a, b] = extents(size, axes, &format!("{path}.size"))?;
            corners(&[[-a, -b], [a, -b], [a, b], [-a, b]])
        }
        Outline::Spear { size, end_angle } => {
            let [a, b] = extents(size, axes, &format!("{path}.size"))?;
            // The long axis runs to the points; the cut takes half the width over tan(angle).
            let (long, short, swap) = if a >= b { (a, b, false) } else { (b, a, true) };
            let cut = short / end_angle.tan();
            if cut > long {
                return Err(Fault::new(
                    format!("{path}.end_angle_deg"),
                    format!("{:.1}", end_angle.to_degrees()),
                    format!("at least {:.1} for this size", (short / long).atan().to_degrees()),
                    "the pointed ends would overlap",
                )
                .into());
            }
            let straight = long - cut;
            let six = [
                [-straight, -short],
                [straight, -short],
                [long, 0.0],
                [straight, short],
                [-straight, short],
                [-long, 0.0],
            ];
            let six: Vec<[f64; 2]> =
                six.iter().map(|c| if swap { [c[1], c[0]] } else { *c }).collect();
            corners(&six)
        }
        Outline::Points(points) => {
            let mut list = Vec::new();
            for (i, p) in points.iter().enumerate() {
                let pair = (p.along(axes[0]), p.along(axes[1]));
                let (Some(a), Some(b)) = pair else {
                    return Err(in_plane(&format!("{path}.corners[{i}]"), axes).into());
                };
                let flip = |axis: usize, value: f64| {
                    if axis == 1 && at.mirror { -value } else { value }
                };
                list.push([flip(axes[0], a), flip(axes[1], b)]);
            }
            if list.len() < 3 {
                return Err(Fault::new(
                    format!("{path}.corners"),
                    format!("{} points", list.len()),
                    "at least three",
                    "",
                )
                .into());
            }
            corners(&list)
        }
        Outline::Mouth { .. } => Vec::new(),
    })
}

fn in_plane(path: &str, axes: [usize; 2]) -> Fault {
    let name = ["x", "y", "z"];
    Fault::new(
        path,
        "other coordinates",
        format!("{} and {}: the axes of the face", name[axes[0]], name[axes[1]]),
        "",
    )
}

/// Half extents along the two axes of a face.
fn extents(size: &Place, axes: [usize; 2], path: &str) -> Placed<[f64; 2]> {
    match (size.along(axes[0]), size.along(axes[1])) {
        (Some(a), Some(b)) if a > 0.0 && b > 0.0 => Ok([a / 2.0, b / 2.0]),
        (Some(_), Some(_)) => {
            Err(Fault::new(path, "a size of zero or less", "sizes above zero", "").into())
        }
        _ => Err(in_plane(path, axes).into()),
    }
}

fn folded(p: &describe::FoldedU, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    let face = at.face(&p.on, &format!("{path}.on"))?;
    if face.looks.axis == 2 {
        return Err(Fault::new(
            format!("{path}.on"),
            p.on.clone(),
            "an upright face (outboard, inboard, front, rear)",
            "a folded U stands off a wall; use a plate or block on a level face",
        )
        .into());
    }
    let t = p.thickness.value.si();
    let reach = p.reach.value.si();
    let axes = across(face.looks.axis);
    let along = axes[0];
    let centre = at.on_face(&p.centre, &face, &format!("{path}.centre"))?;
    let [half_along, half_up] = extents(&p.foot, axes, &format!("{path}.foot"))?;
    if half_along * 2.0 <= 2.0 * t || half_up * 2.0 <= t || reach <= t {
        return Err(Fault::new(
            format!("{path}.foot"),
            format!("{:.1} x {:.1} mm", half_along * 2e3, half_up * 2e3),
            format!("more than twice the thickness of {:.1} mm", t * 1e3),
            "foot and reach are outside sizes",
        )
        .into());
    }
    let foot_along = (centre[0] - half_along, centre[0] + half_along);
    let foot_up = (centre[1] - half_up, centre[1] + half_up);
    let (out_low, out_high) = slab(&face, reach);
    let piece = |name: &str, a: (f64, f64), z: (f64, f64), axis: usize| {
        let mut low = [0.0; 3];
        let mut high = [0.0; 3];
        (low[face.looks.axis], high[face.looks.axis]) = (out_low, out_high);
        (low[along], high[along]) = a;
        (low[2], high[2]) = z;
        Wall { name: name.to_owned(), prism: Prism::block(axis, low, high), solid: true }
    };
    let base = match p.open {
        FoldOpening::Up => (foot_up.0, foot_up.0 + t),
        FoldOpening::Down => (foot_up.1 - t, foot_up.1),
    };
    let rest = match p.open {
        FoldOpening::Up => (foot_up.0 + t, foot_up.1),
        FoldOpening::Down => (foot_up.0, foot_up.1 - t),
    };
    let walls = vec![
        piece("floor", foot_along, base, 2),
        piece("wall-front", (foot_along.1 - t, foot_along.1), rest, along),
        piece("wall-rear", (foot_along.0, foot_along.0 + t), rest, along),
    ];
    let form = Form::Folded {
        normal: face.looks,
        thickness: t,
        along,
        foot_along,
        foot_up,
        reach,
        open: p.open,
        on: face.on(),
    };
    Ok((form, walls))
}

fn bar(p: &describe::Bar, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    if p.between.len() != 2 {
        return Err(Fault::new(
            format!("{path}.between"),
            format!("{} faces", p.between.len()),
            "two faces that look at each other",
            "",
        )
        .into());
    }
    let first = at.face(&p.between[0], &format!("{path}.between[0]"))?;
    let second = at.face(&p.between[1], &format!("{path}.between[1]"))?;
    let (right, left) = if first.level < second.level { (first, second) } else { (second, first) };
    if right.looks.axis != 1 || left.looks.axis != 1 || left.level - right.level < TOUCH {
        return Err(Fault::new(
            format!("{path}.between"),
            format!("{}, {}", p.between[0], p.between[1]),
            "two faces across the car, such as part.end.left.inboard and part.end.right.inboard",
            "bars run along y",
        )
        .into());
    }
    let (Some(x), Some(z)) = (p.line.x, p.line.z) else {
        return Err(in_plane(&format!("{path}.line"), [0, 2]).into());
    };
    let ends = [right.level, left.level];
    let block = |name: &str, x: (f64, f64), z: (f64, f64), axis: usize| Wall {
        name: name.to_owned(),
        prism: Prism::block(axis, [x.0, ends[0], z.0], [x.1, ends[1], z.1]),
        solid: true,
    };
    let ordered = |a: f64, b: f64| if a < b { (a, b) } else { (b, a) };
    let mut legs = None;
    let walls = match p.shape {
        BarShape::Angle { leg_a, leg_b, thickness: t } => {
            let [first, second] = p.legs[..] else {
                return Err(legs_fault(path).into());
            };
            if !matches!((first.axis, second.axis), (0, 2) | (2, 0)) {
                return Err(legs_fault(path).into());
            }
            legs = Some([first, second]);
            let length = |d: Direction| if d == first { leg_a } else { leg_b };
            let (dx, dz) = if first.axis == 0 { (first, second) } else { (second, first) };
            vec![
                block(
                    "leg-x",
                    ordered(x, x + dx.sign() * length(dx)),
                    ordered(z, z + dz.sign() * t),
                    2,
                ),
                block(
                    "leg-z",
                    ordered(x, x + dx.sign() * t),
                    ordered(z + dz.sign() * t, z + dz.sign() * length(dz)),
                    0,
                ),
            ]
        }
        BarShape::Box { height, width, wall } => {
            let (x0, x1) = (x - width / 2.0, x + width / 2.0);
            let (z0, z1) = (z - height / 2.0, z + height / 2.0);
            vec![
                block("bottom", (x0, x1), (z0, z0 + wall), 2),
                block("top", (x0, x1), (z1 - wall, z1), 2),
                block("front", (x1 - wall, x1), (z0 + wall, z1 - wall), 0),
                block("rear", (x0, x0 + wall), (z0 + wall, z1 - wall), 0),
            ]
        }
        BarShape::Tube { diameter, .. } => vec![Wall {
            name: String::new(),
            prism: Prism::round(1, ends[0], ends[1], [x, z], diameter),
            solid: true,
        }],
        BarShape::Flat { height, width } => {
            let axis = if width < height { 0 } else { 2 };
            let mut wall = block(
                "",
                (x - width / 2.0, x + width / 2.0),
                (z - height / 2.0, z + height / 2.0),
                axis,
            );
            wall.name = String::new();
            vec![wall]
        }
    };
    let on = [right.on(), left.on()];
    Ok((Form::Bar { shape: p.shape, legs, line: [x, z], ends, on }, walls))
}

fn legs_fault(path: &str) -> Fault {
    Fault::new(
        format!("{path}.legs"),
        "other directions",
        "one along x and one along z, such as \"+x, +z\"",
        "they point from the heel along the legs",
    )
}

fn gusset(p: &describe::Gusset, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    if p.corner.len() != 2 {
        return Err(Fault::new(
            format!("{path}.corner"),
            format!("{} faces", p.corner.len()),
            "the two faces that form the corner",
            "",
        )
        .into());
    }
    let fields = [format!("{path}.corner[0]"), format!("{path}.corner[1]")];
    let first = at.corner_face(&p.corner[0], &p.corner[1], &fields[0])?;
    let second = at.corner_face(&p.corner[1], &p.corner[0], &fields[1])?;
    if first.looks.axis == second.looks.axis {
        return Err(Fault::new(
            format!("{path}.corner"),
            format!("{}, {}", p.corner[0], p.corner[1]),
            "two faces at right angles",
            "",
        )
        .into());
    }
    let plane = 3 - first.looks.axis - second.looks.axis;
    let t = p.thickness.value.si();
    let axes = across(plane);
    let mut corner = [0.0; 2];
    for face in [&first, &second] {
        corner[usize::from(axes[1] == face.looks.axis)] = face.level;
    }
    // The leg along the second face's normal lies on the first face, and the other way round.
    let leg = |looks: Direction| {
        p.legs.along(looks.axis).filter(|l| *l > 0.0).map(|l| (looks, l)).ok_or_else(|| {
            Fault::new(
                format!("{path}.legs"),
                "a missing or unusable length",
                format!(
                    "lengths above zero along {} and {}",
                    ["x", "y", "z"][first.looks.axis],
                    ["x", "y", "z"][second.looks.axis]
                ),
                "",
            )
        })
    };
    let legs = [leg(second.looks)?, leg(first.looks)?];
    let tip = |(direction, length): (Direction, f64)| {
        let mut tip = corner;
        tip[usize::from(axes[1] == direction.axis)] += direction.sign() * length;
        tip
    };
    let outline = vec![corner, tip(legs[0]), tip(legs[1])];
    let mut stations = Vec::new();
    let mut walls = Vec::new();
    for (i, place) in p.at.iter().enumerate() {
        let middle = at.along(place, plane).ok_or_else(|| {
            Fault::new(
                format!("{path}.at[{i}]"),
                "another coordinate",
                format!("{}: the axis across the gusset", ["x", "y", "z"][plane]),
                "",
            )
        })?;
        stations.push(middle);
        walls.push(Wall {
            name: if p.at.len() == 1 { String::new() } else { (i + 1).to_string() },
            prism: Prism {
                axis: plane,
                low: middle - t / 2.0,
                high: middle + t / 2.0,
                outline: outline.clone(),
            },
            solid: true,
        });
    }
    if walls.is_empty() {
        return Err(Fault::new(format!("{path}.at"), "nothing", "at least one place", "").into());
    }
    let form = Form::Gusset {
        thickness: t,
        across: plane,
        at: stations,
        corner,
        legs,
        on: [first.on(), second.on()],
    };
    Ok((form, walls))
}

fn sleeve(p: &describe::Sleeve, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    if p.spans.len() != 2 {
        return Err(Fault::new(
            format!("{path}.spans"),
            format!("{} faces", p.spans.len()),
            "the two faces it stands between",
            "",
        )
        .into());
    }
    if p.bore >= p.outside {
        return Err(Fault::new(
            format!("{path}.bore_mm"),
            format!("{:.1} mm", p.bore * 1e3),
            format!("less than the outside diameter, {:.1} mm", p.outside * 1e3),
            "",
        )
        .into());
    }
    let first = at.corner_face(&p.spans[0], &p.spans[1], &format!("{path}.spans[0]"))?;
    let second = at.corner_face(&p.spans[1], &p.spans[0], &format!("{path}.spans[1]"))?;
    let axis = first.looks.axis;
    if second.looks.axis != axis || (first.level - second.level).abs() < TOUCH {
        return Err(Fault::new(
            format!("{path}.spans"),
            format!("{}, {}", p.spans[0], p.spans[1]),
            "two faces that look at each other across a gap",
            "",
        )
        .into());
    }
    let (low, high) = if first.level < second.level {
        (first.level, second.level)
    } else {
        (second.level, first.level)
    };
    let mut walls = Vec::new();
    for (i, place) in p.at.iter().enumerate() {
        let centre = at.on_face(place, &first, &format!("{path}.at[{i}]"))?;
        walls.push(Wall {
            name: if p.at.len() == 1 { String::new() } else { (i + 1).to_string() },
            prism: Prism::round(axis, low, high, centre, p.outside),
            solid: true,
        });
    }
    if walls.is_empty() {
        return Err(Fault::new(format!("{path}.at"), "nothing", "at least one place", "").into());
    }
    let form = Form::Sleeve {
        outside: p.outside,
        bore: p.bore,
        axis,
        proud: match p.length {
            Some(length) => length.value.si() - (high - low),
            None => p.proud.map_or(0.0, |w| w.value.si()),
        },
        on: [first.on(), second.on()],
    };
    Ok((form, walls))
}

fn block(p: &describe::Block, path: &str, at: &Context<'_>) -> Placed<(Form, Vec<Wall>)> {
    let face = at.face(&p.on, &format!("{path}.on"))?;
    let height = p.height.value.si();
    let (low, high) = slab(&face, height);
    let centre = at.on_face(&p.centre, &face, &format!("{path}.centre"))?;
    let prism = match p.plan {
        BlockPlan::Round(d) => Prism::round(face.looks.axis, low, high, centre, d),
        BlockPlan::Square(s) => {
            let h = s / 2.0;
            Prism {
                axis: face.looks.axis,
                low,
                high,
                outline: vec![
                    [centre[0] - h, centre[1] - h],
                    [centre[0] + h, centre[1] - h],
                    [centre[0] + h, centre[1] + h],
                    [centre[0] - h, centre[1] + h],
                ],
            }
        }
    };
    let form = Form::Block {
        plan: p.plan,
        normal: face.looks,
        height,
        bore: p.bore.unwrap_or(0.0),
        on: face.on(),
    };
    Ok((form, single(prism)))
}

/// Every reference by which a part is placed.
pub(super) fn references(part: &Part) -> Vec<&str> {
    match &part.form {
        describe::Form::Plate(p) => vec![&p.on],
        describe::Form::Folded(p) => vec![&p.on],
        describe::Form::Block(p) => vec![&p.on],
        describe::Form::Bar(p) => p.between.iter().map(String::as_str).collect(),
        describe::Form::Gusset(p) => p.corner.iter().map(String::as_str).collect(),
        describe::Form::Sleeve(p) => p.spans.iter().map(String::as_str).collect(),
    }
}

/// The points by which a part is placed.
pub(super) fn places(part: &Part) -> Vec<&Place> {
    match &part.form {
        describe::Form::Plate(p) => p.centre.iter().collect(),
        describe::Form::Folded(p) => vec![&p.centre],
        describe::Form::Block(p) => vec![&p.centre],
        describe::Form::Bar(_) => Vec::new(),
        describe::Form::Gusset(p) => p.at.iter().collect(),
        describe::Form::Sleeve(p) => p.at.iter().collect(),
    }
}

/// Whether a reference names a body that has a left and a right piece.
pub(super) fn sided(reference: &str, bodies: &[Body]) -> Option<bool> {
    let reference = Reference::read(reference).ok()?;
    if !matches!(reference.kind, Kind::Part | Kind::Rail) {
        return None;
    }
    let name = reference.body();
    bodies
        .iter()
        .find(|b| b.base == name || b.described == name)
        .map(|b| b.side.is_some() && reference.side.is_none())
}

/// The drawn side of a thing, by the y of its rail or mount.
pub(super) fn side_of(y: f64) -> Side {
    if y < 0.0 { Side::Right } else { Side::Left }
}
