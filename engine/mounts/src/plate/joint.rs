//! Welds, bolts and faces of the design on the sheets of a model.

use fishplate_quantity::algebra::{larger, smaller};

use super::group::Members;
use super::sheet::Sheet;
use crate::checks::{Kit, Setting, snug};
use crate::design::{BeadAt, BodyId, BoltAt, BoltId, Design, Form, Passed, TOUCH, Vec3, WeldId};

/// Young's modulus of sleeves, Pa (EN 1993-1-1:2005, 3.2.6).
const STEEL: f64 = 210e9;

/// A weld run between two sheets.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct RunAt {
    pub(super) weld: WeldId,
    pub(super) run: usize,
    /// The sheet whose edge is welded.
    pub(super) edge: usize,
    /// The sheet it is welded to.
    pub(super) onto: usize,
    /// From here to here along the drawn run, m: what both sheets reach.
    pub(super) along: (f64, f64),
}

/// A plug weld between two sheets.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct SpotAt {
    pub(super) weld: WeldId,
    pub(super) number: usize,
    pub(super) sheets: [usize; 2],
    pub(super) centre: Vec3,
    pub(super) diameter: f64,
}

/// A bolt through sheets.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct BoltIn {
    pub(super) bolt: BoltId,
    pub(super) number: usize,
    /// Sheets from head to nut.
    pub(super) sheets: Vec<usize>,
    /// Their places in the list of what the bolt passes.
    pub(super) passes: Vec<usize>,
    /// Middle of the bearing face of the head and of the nut, m.
    pub(super) ends: [Vec3; 2],
    /// Preload, N.
    pub(super) preload: f64,
    /// Movement before the shank bears, m.
    pub(super) play: f64,
    /// Diameter of the ring that head and nut press on, m.
    pub(super) bearing: f64,
    /// Area that stretches, m2.
    pub(super) area: f64,
    /// The faces between one sheet and the next, by place in the list of facings.
    pub(super) clamps: Vec<Option<usize>>,
}

/// Faces that press on each other.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FacingAt {
    pub(super) name: String,
    /// The sheet whose nodes are the places, and the other.
    pub(super) sheets: [usize; 2],
    /// What stands between: body, bore, outside, middle of it, length of it, how much it is proud.
    pub(super) bridge: Option<Bridge>,
}

/// A sleeve between two sheets.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Bridge {
    pub(super) body: BodyId,
    pub(super) axis: usize,
    pub(super) bore: f64,
    pub(super) outside: f64,
    pub(super) centre: Vec3,
    pub(super) length: f64,
    pub(super) proud: f64,
}

impl Bridge {
    /// Pressure for each metre of closing, Pa/m.
    pub(super) fn stiffness(&self) -> f64 {
        STEEL / self.length
    }
}

/// Where the load of a mount enters.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Landing {
    pub(super) mount: usize,
    pub(super) sheet: usize,
    /// Middle of the ring, m.
    pub(super) centre: Vec3,
    /// Diameters of the ring, m.
    pub(super) ring: (f64, f64),
}

/// All joints of a model.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Joints {
    pub(super) runs: Vec<RunAt>,
    pub(super) spots: Vec<SpotAt>,
    pub(super) bolts: Vec<BoltIn>,
    pub(super) facings: Vec<FacingAt>,
    pub(super) landings: Vec<Landing>,
    /// What was simplified, in words.
    pub(super) told: Vec<String>,
}

/// Finds all joints of a group on its sheets.
///
/// # Errors
/// The joint or mount that finds no sheet.
pub(super) fn joints(
    setting: &Setting<'_>,
    members: &Members,
    sheets: &[Sheet],
) -> Result<Joints, String> {
    let finder = Finder { setting, design: setting.design, members, sheets };
    let mut joints = Joints::default();
    finder.welds(&mut joints)?;
    finder.facings(&mut joints);
    finder.bolts(&mut joints)?;
    for mount in &members.mounts {
        joints.landings.push(finder.landing(*mount)?);
    }
    Ok(joints)
}

struct Finder<'a, 's> {
    setting: &'a Setting<'s>,
    design: &'s Design,
    members: &'a Members,
    sheets: &'a [Sheet],
}

/// Shares of a run at which its walls are looked for, from the middle outwards.
const SAMPLES: [f64; 19] = [
    0.5, 0.45, 0.55, 0.4, 0.6, 0.35, 0.65, 0.3, 0.7, 0.25, 0.75, 0.2, 0.8, 0.15, 0.85, 0.1, 0.9,
    0.05, 0.95,
];

fn apart(design: &Design, weld: WeldId, run: usize) -> String {
    let at = &design.welds[weld.0];
    let name = |body: BodyId| design.body(body).name.as_str();
    format!(
        "{}, run {}: {} and {} do not meet along it",
        at.name,
        run + 1,
        name(at.of),
        name(at.to)
    )
}

fn short(name: &str) -> &str {
    name.strip_prefix("part.").unwrap_or(name)
}

impl Finder<'_, '_> {
    fn of(&self, body: BodyId) -> impl Iterator<Item = (usize, &Sheet)> {
        self.sheets.iter().enumerate().filter(move |(_, s)| s.body == body)
    }

    /// The sheet of a body that a weld leg lies on: the nearest; where two are as near, the one
    /// whose face the other leg stands on.
    fn nearest(&self, body: BodyId, point: &Vec3, up: Option<&Vec3>) -> Option<(usize, &Sheet)> {
        let score = |sheet: &Sheet| {
            let flat = up.is_none_or(|up| sheet.plane.normal.dot(up).abs() > 0.7);
            sheet.distance(point) + if flat { 0.0 } else { sheet.thickness }
        };
        self.of(body).min_by(|(_, a), (_, b)| score(a).total_cmp(&score(b)))
    }

    fn welds(&self, joints: &mut Joints) -> Result<(), String> {
        let mut round_ends = Vec::new();
        for (w, weld) in self.design.welds.iter().enumerate() {
            if !(self.members.holds(weld.of) && self.members.holds(weld.to)) {
                continue;
            }
            let solid = |b: BodyId| matches!(self.design.body(b).form, Form::Sleeve { .. });
            if solid(weld.of) || solid(weld.to) {
                joints.told.push(format!(
                    "{} is left out: the sleeve it holds is modelled by what it presses on",
                    weld.name
                ));
                continue;
            }
            if let BeadAt::Plug { diameter, fused, centres } = &weld.bead {
                for (number, centre) in centres.iter().enumerate() {
                    let diameter = fused.unwrap_or(*diameter);
                    if let Some(spot) = self.spot((WeldId(w), number), *centre, diameter)? {
                        joints.spots.push(spot);
                    }
                }
                continue;
            }
            for (number, run) in weld.runs.iter().enumerate() {
                let (length, along) = (run.length(), (run.end - run.start).normalize());
                let reach = |s: &Sheet| weld.throat().unwrap_or(0.0) * 1.5 + s.thickness;
                let near = |body: BodyId, p: &Vec3, up: Option<&Vec3>| {
                    self.nearest(body, p, up)
                        .filter(|(_, s)| s.distance(p) <= reach(s))
                        .map(|(i, _)| i)
                };
                // A run on a rail may lie outside the piece in part: of what lies inside, the
                // place nearest to its middle tells which walls it joins.
                let sheets = SAMPLES.iter().find_map(|share| {
                    let p = run.start + along * (length * share);
                    Some((near(weld.of, &p, None)?, near(weld.to, &p, Some(&run.leg_up))?))
                });
                // A run that goes on outside the piece may have no more than its tip in it.
                let tip_only = self.outside_pieces(run.start) || self.outside_pieces(run.end);
                let Some((edge, onto)) = sheets else {
                    if tip_only {
                        continue;
                    }
                    return Err(apart(self.design, WeldId(w), number));
                };
                let thickness = self.sheets[edge].thickness;
                let crosses = self.sheets[edge].plane.normal.dot(&along).abs() > 0.7;
                if crosses && length <= 1.5 * thickness {
                    round_ends.push(weld.name.clone());
                    continue;
                }
                let [a, b] =
                    [edge, onto].map(|s| shared(&self.sheets[s], run.start, along, length));
                let (from, to) = (larger(a.0, b.0), smaller(a.1, b.1));
                if to - from < larger(0.05 * length, 1e-4) {
                    if tip_only {
                        continue;
                    }
                    return Err(apart(self.design, WeldId(w), number));
                }
                let (weld, run) = (WeldId(w), number);
                joints.runs.push(RunAt { weld, run, edge, onto, along: (from, to) });
            }
        }
        round_ends.dedup();
        if !round_ends.is_empty() {
            joints.told.push(format!(
                "beads across the end of a wall, no longer than it is thick, carry nothing: {}",
                round_ends.join(", ")
            ));
        }
        Ok(())
    }

    /// Whether a place lies beside every piece of rail.
    fn outside_pieces(&self, at: Vec3) -> bool {
        self.members.pieces.iter().all(|p| at.x < p.from + 1e-3 || at.x > p.to - 1e-3)
    }

    fn spot(
        &self,
        (weld, number): (WeldId, usize),
        centre: Vec3,
        diameter: f64,
    ) -> Result<Option<SpotAt>, String> {
        let at = &self.design.welds[weld.0];
        let mut sheets = [0; 2];
        for (place, body) in [at.of, at.to].into_iter().enumerate() {
            match self
                .nearest(body, &centre, None)
                .filter(|(_, s)| s.distance(&centre) < s.thickness)
            {
                Some((found, _)) => sheets[place] = found,
                None if self.outside_pieces(centre) => return Ok(None),
                None => {
                    return Err(format!(
                        "{}, plug {}: {} is not there",
                        at.name,
                        number + 1,
                        self.design.body(body).name
                    ));
                }
            }
        }
        Ok(Some(SpotAt { weld, number, sheets, centre, diameter }))
    }

    /// Plates that lie on a face.
    fn facings(&self, joints: &mut Joints) {
        for body in self.members.all() {
            let Form::Plate { on, mouth: false, .. } = &self.design.body(body).form else {
                continue;
            };
            let plates: Vec<usize> = self.of(body).map(|(i, _)| i).collect();
            let under: Vec<usize> =
                self.of(on.body).filter(|(_, s)| s.wall == on.wall).map(|(i, _)| i).collect();
            for &plate in &plates {
                for &wall in &under {
                    joints.facings.push(self.facing([plate, wall], None));
                }
            }
        }
    }

    fn facing(&self, sheets: [usize; 2], bridge: Option<Bridge>) -> FacingAt {
        let name = |s: usize| short(&self.sheets[s].name).to_owned();
        let between = bridge
            .as_ref()
            .map_or(String::new(), |b| format!("{} | ", short(&self.design.body(b.body).name)));
        let name = format!("{} | {between}{}", name(sheets[0]), name(sheets[1]));
        FacingAt { name, sheets, bridge }
    }

    /// Whether a weld joins two bodies.
    fn welded(&self, a: BodyId, b: BodyId) -> bool {
        let welds = &self.design.welds;
        welds.iter().any(|w| [w.of, w.to] == [a, b] || [w.of, w.to] == [b, a])
    }

    fn bolts(&self, joints: &mut Joints) -> Result<(), String> {
        for (b, bolts) in self.design.bolts.iter().enumerate() {
            let passes: Vec<(usize, &Passed)> = bolts
                .through
                .iter()
                .enumerate()
                .filter(|(_, p)| self.members.holds(p.body) && self.of(p.body).next().is_some())
                .collect();
            if passes.is_empty() {
                continue;
            }
            if passes.len() < 2 {
                if bolts.mount.is_none() {
                    joints.told.push(format!("{} passes one wall only: left out", bolts.name));
                }
                continue;
            }
            for (number, at) in bolts.at.iter().enumerate() {
                if self.outside_pieces(*at) {
                    continue;
                }
                let bolt = self.bolt((BoltId(b), number), &passes, joints)?;
                joints.bolts.push(bolt);
            }
        }
        Ok(())
    }

    fn bolt(
        &self,
        (id, number): (BoltId, usize),
        passes: &[(usize, &Passed)],
        joints: &mut Joints,
    ) -> Result<BoltIn, String> {
        let bolts = &self.design.bolts[id.0];
        let kit = Kit::of(self.setting, bolts).map_err(|e| format!("{}: {e}", bolts.name))?;
        let at = bolts.at[number];
        let on_axis = |level: f64| {
            let mut p = at;
            p[bolts.axis] = level;
            p
        };
        let mut sheets = Vec::new();
        for (_, passed) in passes {
            let found = self
                .of(passed.body)
                .filter(|(_, s)| s.wall == passed.wall)
                .find(|(_, s)| s.covers(s.plane.local(&at)))
                .ok_or_else(|| {
                    format!(
                        "{}, number {}: there is no plate of {} at its place",
                        bolts.name,
                        number + 1,
                        self.design.body(passed.body).name
                    )
                })?;
            sheets.push(found.0);
        }
        let (first, last) = (passes[0].1, passes[passes.len() - 1].1);
        let forward = last.low + last.high > first.low + first.high;
        let ends = if forward { [first.low, last.high] } else { [first.high, last.low] };
        let mut clamps = Vec::new();
        for (pair, of) in passes.windows(2).zip(sheets.windows(2)) {
            clamps.push(self.clamped(bolts, (pair[0].0, pair[1].0), [of[0], of[1]], at, joints));
        }
        // Beside a weld a shank bears only after its play; where nothing else takes the shear it
        // has slid there already.
        let bodies = |pair: &[(usize, &Passed)]| [pair[0].1.body, pair[1].1.body];
        let held = passes.windows(2).map(bodies).all(|[a, b]| self.welded(a, b));
        let play = if held { (bolts.hole - bolts.diameter) / 2.0 } else { 0.0 };
        let scatter = self.setting.project.bolts[bolts.index].tightening.scatter.value;
        let preload = if snug(self.setting, bolts) { 0.0 } else { kit.f_m / scatter };
        Ok(BoltIn {
            bolt: id,
            number,
            sheets,
            passes: passes.iter().map(|(place, _)| *place).collect(),
            ends: ends.map(on_axis),
            preload,
            play,
            bearing: kit.d_w,
            area: kit.thread.a_s,
            clamps,
        })
    }

    /// The face between two sheets next to each other on a bolt, made where there is none yet.
    fn clamped(
        &self,
        bolts: &BoltAt,
        (before, behind): (usize, usize),
        sheets: [usize; 2],
        at: Vec3,
        joints: &mut Joints,
    ) -> Option<usize> {
        let same = |f: &FacingAt| f.sheets == sheets || f.sheets == [sheets[1], sheets[0]];
        if let Some(known) = joints.facings.iter().position(|f| f.bridge.is_none() && same(f)) {
            return Some(known);
        }
        let between = bolts.through[before + 1..behind].iter().find_map(|passed| {
            let body = self.design.body(passed.body);
            let Form::Sleeve { outside, bore, axis, proud, .. } = &body.form else { return None };
            let wall = (0..body.walls.len()).min_by(|a, b| {
                let away = |w: usize| {
                    let mut arm = body.wall_centre(w) - at;
                    arm[*axis] = 0.0;
                    arm.norm()
                };
                away(*a).total_cmp(&away(*b))
            })?;
            let prism = &body.walls[wall].prism;
            Some(Bridge {
                body: passed.body,
                axis: *axis,
                bore: *bore,
                outside: *outside,
                centre: body.wall_centre(wall),
                length: prism.high - prism.low,
                proud: *proud,
            })
        });
        let (a, b) = (bolts.through[before], bolts.through[behind]);
        let touch = (a.high - b.low).abs() < TOUCH || (b.high - a.low).abs() < TOUCH;
        if between.is_none() && !touch {
            return None;
        }
        joints.facings.push(self.facing(sheets, between));
        Some(joints.facings.len() - 1)
    }

    fn landing(&self, mount: usize) -> Result<Landing, String> {
        let at = &self.design.mounts[mount];
        let Some((body, Some(bolt))) = self.design.landing(at) else {
            return Err(format!(
                "mount {}: no bolt says where its bush sits, so where its load enters is not known",
                at.name
            ));
        };
        let bolts = &self.design.bolts[bolt.0];
        let kit = Kit::of(self.setting, bolts).map_err(|e| format!("{}: {e}", bolts.name))?;
        let passed = bolts.through[0];
        let number = (0..bolts.at.len())
            .min_by(|a, b| {
                let away = |i: usize| (bolts.at[i] - at.at).norm();
                away(*a).total_cmp(&away(*b))
            })
            .unwrap_or(0);
        let centre = bolts.at[number];
        let (sheet, found) = self
            .of(body)
            .filter(|(_, s)| s.wall == passed.wall)
            .find(|(_, s)| s.covers(s.plane.local(&centre)))
            .ok_or_else(|| {
                format!("{}: {} is no plate at its place", bolts.name, self.design.body(body).name)
            })?;
        let centre = found.plane.point(found.plane.local(&centre));
        Ok(Landing { mount, sheet, centre, ring: (bolts.hole, kit.d_w) })
    }
}

/// The part of a run that projects onto a sheet, or beyond its edge by no more than it is thick:
/// distances from the start of the run.
fn shared(sheet: &Sheet, start: Vec3, along: Vec3, length: f64) -> (f64, f64) {
    // Halving finds where the run leaves the sheet; sheets are convex along a run.
    let on = |at: f64| {
        let place = sheet.plane.local(&(start + along * at));
        -sheet.inside(place)
    };
    let best = (0..=40)
        .map(|i| length * f64::from(i) / 40.0)
        .min_by(|a, b| on(*a).total_cmp(&on(*b)))
        .unwrap_or(0.0);
    let level = larger(on(best), 0.0) + TOUCH;
    let edge = |mut inside: f64, mut outside: f64| {
        if on(outside) <= level {
            return outside;
        }
        for _ in 0..60 {
            let middle = (inside + outside) / 2.0;
            if on(middle) <= level {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        inside
    };
    (edge(best, 0.0), edge(best, length))
}
