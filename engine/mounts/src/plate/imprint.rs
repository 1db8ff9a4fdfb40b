//! What has to show in the mesh of a sheet: holes, weld roots, edges of what lies on it, rims of
//! washers, and where it has to be fine.

use fishplate_quantity::algebra::{larger, smaller};

use super::joint::Joints;
use super::sheet::Sheet;
use crate::design::{BeadAt, Design, Vec3};

type Point = [f64; 2];

/// Nearer than this two lines would only squeeze slivers between them, m.
const CLOSE: f64 = 0.6e-3;

/// Ends of lines nearer to an edge than this end on it, m.
const SNAP: f64 = 0.4e-3;

/// What has to show in a sheet, in its plane.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Imprint {
    /// Holes: name, centre, diameter.
    pub(super) holes: Vec<(String, Point, f64)>,
    /// Holes that break out of the edge and are left out.
    pub(super) broken_out: Vec<String>,
    /// Lines: name and ends.
    pub(super) lines: Vec<(String, [Point; 2])>,
    /// Circles: name, centre, diameter.
    pub(super) circles: Vec<(String, Point, f64)>,
    /// Points on the edge that become nodes.
    pub(super) points: Vec<Point>,
    /// Stretches of weld, where it has to be fine: along the run and at its ends.
    pub(super) welds: Vec<[Point; 2]>,
    /// Round areas where it has to be fine: centre, diameter.
    pub(super) rounds: Vec<(Point, f64)>,
}

/// A line to enter, and whether it may be left out where it comes too close to another.
struct Wish {
    name: String,
    ends: [Point; 2],
    needed: bool,
}

/// Imprints of all sheets; `marks` are levels along x at which rails get a line.
pub(super) fn imprints(
    design: &Design,
    sheets: &[Sheet],
    joints: &Joints,
    marks: &[(usize, Vec<f64>)],
) -> Vec<Imprint> {
    let mut made: Vec<Imprint> = vec![Imprint::default(); sheets.len()];
    let mut wishes: Vec<Vec<Wish>> = sheets.iter().map(|_| Vec::new()).collect();
    bolts(design, sheets, joints, &mut made);
    for (sheet, levels) in marks {
        for (i, x) in levels.iter().enumerate() {
            let outline = &sheets[*sheet];
            let ys: Vec<f64> = outline.outline.iter().map(|c| c[1]).collect();
            let low = ys.iter().copied().fold(f64::INFINITY, smaller);
            let high = ys.iter().copied().fold(f64::NEG_INFINITY, larger);
            let ends = [[*x, low], [*x, high]];
            wishes[*sheet].push(Wish { name: format!("section {}", i + 1), ends, needed: true });
        }
    }
    welds(design, sheets, joints, &mut made, &mut wishes);
    for facing in joints.facings.iter().filter(|f| f.bridge.is_none()) {
        let [of, onto] = facing.sheets;
        for (i, side) in sheets[of].sides().enumerate() {
            let ends = side.map(|c| sheets[onto].plane.local(&sheets[of].plane.point(c)));
            let name = format!("edge {} of {}", i + 1, sheets[of].name);
            wishes[onto].push(Wish { name, ends, needed: false });
        }
    }
    for ((sheet, imprint), wishes) in sheets.iter().zip(&mut made).zip(wishes) {
        enter(sheet, imprint, wishes);
    }
    made
}

fn bolts(design: &Design, sheets: &[Sheet], joints: &Joints, made: &mut [Imprint]) {
    for bolt in &joints.bolts {
        let at = &design.bolts[bolt.bolt.0];
        let name = format!("{} {}", at.name, bolt.number + 1);
        for (k, sheet) in bolt.sheets.iter().enumerate() {
            let centre = sheets[*sheet].plane.local(&at.at[bolt.number]);
            made[*sheet].holes.push((name.clone(), centre, at.hole));
            made[*sheet].rounds.push((centre, at.hole));
            if k == 0 || k + 1 == bolt.sheets.len() {
                made[*sheet].circles.push((format!("washer of {name}"), centre, bolt.bearing));
            }
        }
    }
    for landing in &joints.landings {
        let (sheet, made) = (&sheets[landing.sheet], &mut made[landing.sheet]);
        let centre = sheet.plane.local(&landing.centre);
        let taken =
            made.holes.iter().any(|(_, c, _)| (c[0] - centre[0]).hypot(c[1] - centre[1]) < 1e-6);
        if !taken {
            let name = format!("bush bolt of mount {}", design.mounts[landing.mount].name);
            made.holes.push((name, centre, landing.ring.0));
            made.rounds.push((centre, landing.ring.0));
        }
        let name = format!("bush of mount {}", design.mounts[landing.mount].name);
        made.circles.push((name, centre, landing.ring.1));
    }
    for spot in &joints.spots {
        for sheet in spot.sheets {
            let centre = sheets[sheet].plane.local(&spot.centre);
            made[sheet].rounds.push((centre, spot.diameter));
        }
    }
    for bridge in joints.facings.iter().filter_map(|f| Some((f.sheets, f.bridge.as_ref()?))) {
        for sheet in bridge.0 {
            let centre = sheets[sheet].plane.local(&bridge.1.centre);
            let name =
                format!("rim of {} {}", design.body(bridge.1.body).name, made[sheet].circles.len());
            made[sheet].circles.push((name, centre, bridge.1.outside));
        }
    }
}

fn welds(
    design: &Design,
    sheets: &[Sheet],
    joints: &Joints,
    made: &mut [Imprint],
    wishes: &mut [Vec<Wish>],
) {
    for at in &joints.runs {
        let weld = &design.welds[at.weld.0];
        if !matches!(weld.bead, BeadAt::Fillet { .. }) {
            continue;
        }
        let run = &weld.runs[at.run];
        let along = (run.end - run.start).normalize();
        let ends: [Vec3; 2] = [at.along.0, at.along.1].map(|s| run.start + along * s);
        let name = format!("{}, run {}", weld.name, at.run + 1);
        for sheet in [at.edge, at.onto] {
            let local = ends.map(|p| sheets[sheet].plane.local(&p));
            made[sheet].welds.push(local);
            if sheet == at.edge {
                made[sheet].points.extend(local);
            } else {
                wishes[sheet].push(Wish { name: name.clone(), ends: local, needed: true });
            }
        }
    }
}

/// Enters lines, points and circles that leave no slivers.
fn enter(sheet: &Sheet, imprint: &mut Imprint, wishes: Vec<Wish>) {
    let holes = std::mem::take(&mut imprint.holes);
    for (name, centre, diameter) in holes {
        if sheet.inside(centre) > diameter / 2.0 + CLOSE {
            imprint.holes.push((name, centre, diameter));
        } else {
            imprint.broken_out.push(name);
        }
    }
    let mut points = std::mem::take(&mut imprint.points);
    let (needed, others): (Vec<Wish>, Vec<Wish>) = wishes.into_iter().partition(|w| w.needed);
    for wish in needed.into_iter().chain(others) {
        for (i, part) in within(sheet, wish.ends).into_iter().enumerate() {
            let ends = part.map(|p| snapped(sheet, imprint, p));
            if apart(ends[0], ends[1]) < 2.0 * CLOSE {
                continue;
            }
            if sheet.sides().any(|side| runs_beside(ends, side)) {
                points.extend(ends);
                continue;
            }
            let beside = imprint.lines.iter().any(|(_, line)| runs_beside(ends, *line));
            if !wish.needed && (beside || grazes(imprint, ends)) {
                continue;
            }
            if imprint.lines.iter().any(|(_, line)| same(ends, *line)) {
                continue;
            }
            let name =
                if i == 0 { wish.name.clone() } else { format!("{}, part {}", wish.name, i + 1) };
            imprint.lines.push((name, ends));
        }
    }
    for point in points {
        let at = on_edge(sheet, point);
        // A corner is a node anyway, and so is where a line ends.
        let taken = sheet.outline.iter().copied().chain(imprint.points.iter().copied());
        let ends = imprint.lines.iter().flat_map(|(_, ends)| *ends);
        if apart(at, point) < 1.5 * sheet.thickness + SNAP
            && taken.chain(ends).all(|p| apart(at, p) > 2.0 * CLOSE)
        {
            imprint.points.push(at);
        }
    }
    let circles = std::mem::take(&mut imprint.circles);
    for (name, centre, diameter) in circles {
        let radius = diameter / 2.0;
        let clear = |distance: f64| (distance - radius).abs() > 2.0 * CLOSE;
        let edge = sheet.inside(centre);
        let lines = imprint.lines.iter().all(|(_, l)| {
            clear(to_segment(centre, *l)) && l.iter().all(|p| clear(apart(centre, *p)))
        });
        let holes = imprint.holes.iter().all(|(_, c, d)| {
            let away = apart(centre, *c);
            away < CLOSE && diameter - d > 4.0 * CLOSE || away - d / 2.0 - radius > 2.0 * CLOSE
        });
        let others = imprint.circles.iter().all(|(_, c, d): &(String, Point, f64)| {
            let away = apart(centre, *c);
            away < CLOSE && (diameter - d).abs() > 4.0 * CLOSE
                || away - d / 2.0 - radius > 2.0 * CLOSE
        });
        if edge - radius > 2.0 * CLOSE && lines && holes && others {
            imprint.circles.push((name, centre, diameter));
        }
    }
}

fn apart(a: Point, b: Point) -> f64 {
    (a[0] - b[0]).hypot(a[1] - b[1])
}

fn foot(at: Point, [a, b]: [Point; 2]) -> (f64, Point) {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let share = ((at[0] - a[0]) * dx + (at[1] - a[1]) * dy) / (dx * dx + dy * dy);
    let share = share.clamp(0.0, 1.0);
    (share, [a[0] + share * dx, a[1] + share * dy])
}

fn to_segment(at: Point, line: [Point; 2]) -> f64 {
    apart(at, foot(at, line).1)
}

/// The nearest place on the edge of a sheet.
pub(super) fn on_edge(sheet: &Sheet, at: Point) -> Point {
    let feet = sheet.sides().map(|side| foot(at, side).1);
    feet.reduce(|best, p| if apart(p, at) < apart(best, at) { p } else { best }).unwrap_or(at)
}

/// An end of a line moved onto what it nearly touches.
fn snapped(sheet: &Sheet, imprint: &Imprint, at: Point) -> Point {
    let known = imprint.lines.iter().flat_map(|(_, ends)| *ends).chain(sheet.outline.clone());
    let near = known.filter(|p| apart(*p, at) < SNAP);
    if let Some(found) = near.reduce(|a, b| if apart(b, at) < apart(a, at) { b } else { a }) {
        return found;
    }
    let edge = on_edge(sheet, at);
    if apart(edge, at) < SNAP {
        return edge;
    }
    let mut feet = imprint.lines.iter().map(|(_, line)| foot(at, *line).1);
    feet.find(|p| apart(*p, at) < SNAP).unwrap_or(at)
}

/// The parts of a line that lie on a sheet.
fn within(sheet: &Sheet, [a, b]: [Point; 2]) -> Vec<[Point; 2]> {
    let at = |t: f64| [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    let mut cuts = vec![0.0, 1.0];
    for [p, q] in sheet.sides() {
        let (rx, ry, sx, sy) = (b[0] - a[0], b[1] - a[1], q[0] - p[0], q[1] - p[1]);
        let cross = rx * sy - ry * sx;
        if cross.abs() < 1e-15 {
            continue;
        }
        let t = ((p[0] - a[0]) * sy - (p[1] - a[1]) * sx) / cross;
        if t > 0.0 && t < 1.0 {
            cuts.push(t);
        }
    }
    cuts.sort_by(f64::total_cmp);
    let mut parts: Vec<[f64; 2]> = Vec::new();
    for pair in cuts.windows(2) {
        if sheet.inside(at((pair[0] + pair[1]) / 2.0)) < -SNAP {
            continue;
        }
        match parts.last_mut() {
            Some(last) if (last[1] - pair[0]).abs() < 1e-12 => last[1] = pair[1],
            _ => parts.push([pair[0], pair[1]]),
        }
    }
    parts.into_iter().map(|[s, t]| [at(s), at(t)]).collect()
}

/// Whether a line runs so close beside another that only slivers fit between.
fn runs_beside(line: [Point; 2], other: [Point; 2]) -> bool {
    let middle = [(line[0][0] + line[1][0]) / 2.0, (line[0][1] + line[1][1]) / 2.0];
    [line[0], middle, line[1]].iter().all(|p| to_segment(*p, other) < CLOSE)
}

/// Whether a line that may be left out passes too close to the end of another, or to a hole.
fn grazes(imprint: &Imprint, line: [Point; 2]) -> bool {
    let lines = imprint.lines.iter().any(|(_, other)| {
        let ends = other.iter().any(|p| {
            let d = to_segment(*p, line);
            d > 1e-9 && d < CLOSE
        });
        let own = line.iter().any(|p| {
            let d = to_segment(*p, *other);
            d > 1e-9 && d < CLOSE
        });
        ends || own || overlaps(line, *other)
    });
    let holes = imprint.holes.iter().any(|(_, c, d)| to_segment(*c, line) < d / 2.0 + 2.0 * CLOSE);
    lines || holes
}

/// Whether a line runs close beside a part of another without being it.
fn overlaps(line: [Point; 2], other: [Point; 2]) -> bool {
    let unit = |[a, b]: [Point; 2]| {
        let length = apart(a, b);
        [(b[0] - a[0]) / length, (b[1] - a[1]) / length]
    };
    let (u, v) = (unit(line), unit(other));
    let parallel = (u[0] * v[1] - u[1] * v[0]).abs() < 0.05;
    parallel
        && [0.25, 0.5, 0.75].iter().any(|t| {
            let p = [0, 1].map(|k| line[0][k] + t * (line[1][k] - line[0][k]));
            to_segment(p, other) < CLOSE
        })
}

fn same(a: [Point; 2], b: [Point; 2]) -> bool {
    let near = |p: Point, q: Point| apart(p, q) < CLOSE;
    near(a[0], b[0]) && near(a[1], b[1]) || near(a[0], b[1]) && near(a[1], b[0])
}
