//! Loads within a member: what they do when the ends are held.
//!
//! Section forces are split into the part of the natural modes and the rest, which is that of a
//! beam on two simple supports, held against axial force and torque at its start. The rest is a
//! polynomial between the places where loads begin or end, so Gauss points integrate it exactly,
//! shear flexibility and coupled axes included.

use super::element::{BeamElement, Ends, MemberLoad, Natural};
use crate::answer::Side;
use crate::frame::{FrameModel, MemberLine};
use crate::model::{
    BeamId, BeamPointLoad, LineLoad, LoadAxes, LoadCase, LoadPoint, NodeId, Span, ThermalLoad,
};
use crate::vector::{Vec3, add, cross, scale};

/// All that acts within one member in one load case, in local axes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Within {
    spread: Vec<Spread>,
    single: Vec<Single>,
    /// Axial strain by temperature.
    stretch: f64,
    /// Curvatures (ry', rz') by temperature.
    curvature: [f64; 2],
}

/// Six components per length: axial at the centroid, transverse and torque at the shear centre,
/// moments about y and z at the centroid.
#[derive(Clone, Copy, Debug)]
struct Spread {
    from: f64,
    to: f64,
    begin: [f64; 6],
    finish: [f64; 6],
}

#[derive(Clone, Copy, Debug)]
struct Single {
    at: f64,
    force: [f64; 6],
}

/// Points and weights on -1..1, exact for polynomials up to degree 5
/// (Abramowitz & Stegun, Handbook of Mathematical Functions, table 25.4): square root of 3/5.
const GAUSS_POINT: f64 = 0.774_596_669_241_483_4;
const GAUSS: [(f64, f64); 3] =
    [(-GAUSS_POINT, 5.0 / 9.0), (0.0, 8.0 / 9.0), (GAUSS_POINT, 5.0 / 9.0)];

/// Two distances from the start that differ by less than this part are one place.
const SAME_PLACE: f64 = 1e-11;

/// What acts within each member in a case, in the order of the members.
pub(crate) fn within_members(
    model: &FrameModel,
    elements: &[BeamElement],
    case: &LoadCase,
) -> Vec<Within> {
    let mut all = vec![Within::default(); elements.len()];
    for load in &case.line {
        let element = &elements[load.beam.0];
        all[load.beam.0].spread.push(spread(element, load));
    }
    for load in &case.point {
        let element = &elements[load.beam.0];
        all[load.beam.0].single.push(single(element, load));
    }
    for load in &case.thermal {
        let beam = &model.draft.beams[load.beam.0];
        let alpha = model.draft.materials[beam.material.0].thermal_expansion;
        all[load.beam.0].warm(alpha, load);
    }
    if crate::vector::largest(&case.acceleration) > 0.0 {
        for (index, element) in elements.iter().enumerate() {
            let weight = scale(mass_per_length(model, BeamId(index)), case.acceleration);
            let force = element.line.to_local(weight);
            let six = at_section(element.shear_centre, [0.0, 0.0], force, [0.0; 3]);
            all[index].spread.push(Spread {
                from: 0.0,
                to: element.line.length,
                begin: six,
                finish: six,
            });
        }
    }
    all
}

/// Mass per length of a member, kg/m.
pub(crate) fn mass_per_length(model: &FrameModel, beam: BeamId) -> f64 {
    let beam = &model.draft.beams[beam.0];
    model.draft.materials[beam.material.0].density * model.draft.sections[beam.section.0].area
}

fn spread(element: &BeamElement, load: &LineLoad) -> Spread {
    let (from, to) = match load.span {
        Span::Whole => (0.0, element.line.length),
        Span::Between(from, to) => (from, within(to, element.line.length)),
    };
    let at = point_of(load.acts_at, element.shear_centre);
    let line = element.line;
    let put = |force, moment| {
        at_section(
            element.shear_centre,
            at,
            local(line, load.axes, force),
            local(line, load.axes, moment),
        )
    };
    Spread {
        from,
        to,
        begin: put(load.force_from, load.moment_from),
        finish: put(load.force_to, load.moment_to),
    }
}

fn single(element: &BeamElement, load: &BeamPointLoad) -> Single {
    let at = point_of(load.acts_at, element.shear_centre);
    Single {
        at: within(load.at, element.line.length),
        force: at_section(
            element.shear_centre,
            at,
            local(element.line, load.axes, load.force),
            local(element.line, load.axes, load.moment),
        ),
    }
}

/// A distance that rounding put beyond the end belongs to the end.
fn within(distance: f64, length: f64) -> f64 {
    if distance > length { length } else { distance }
}

fn local(line: MemberLine, axes: LoadAxes, v: Vec3) -> Vec3 {
    match axes {
        LoadAxes::Global => line.to_local(v),
        LoadAxes::Local => v,
    }
}

fn point_of(point: LoadPoint, shear_centre: [f64; 2]) -> [f64; 2] {
    match point {
        LoadPoint::Centroid => [0.0, 0.0],
        LoadPoint::ShearCentre => shear_centre,
        LoadPoint::At(y, z) => [y, z],
    }
}

/// A force at a point of the section as axial force at the centroid, transverse force and torque
/// at the shear centre and moments at the centroid.
fn at_section([y_s, z_s]: [f64; 2], [y, z]: [f64; 2], f: Vec3, m: Vec3) -> [f64; 6] {
    let torque = m[0] + (y - y_s) * f[2] - (z - z_s) * f[1];
    [f[0], f[1], f[2], torque, m[1] + z * f[0], m[2] - y * f[0]]
}

/// Sums from the start to a station: the six resultants and the first moments of the transverse
/// forces about the station.
#[derive(Clone, Copy, Debug, Default)]
struct UpTo {
    sum: [f64; 6],
    moment_y: f64,
    moment_z: f64,
}

impl Within {
    fn warm(&mut self, alpha: f64, load: &ThermalLoad) {
        self.stretch += alpha * load.uniform;
        // The strain is stretch + z ry' - y rz'.
        self.curvature[0] += alpha * load.gradient_z;
        self.curvature[1] -= alpha * load.gradient_y;
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.spread.is_empty()
            && self.single.is_empty()
            && crate::vector::largest(&[self.stretch, self.curvature[0], self.curvature[1]]) <= 0.0
    }

    fn up_to(&self, x: f64, side: Side) -> UpTo {
        let mut total = UpTo::default();
        for load in &self.spread {
            let end = if x < load.to { x } else { load.to };
            let reach = end - load.from;
            if reach <= 0.0 {
                continue;
            }
            let span = load.to - load.from;
            for i in 0..6 {
                let slope = (load.finish[i] - load.begin[i]) / span;
                let sum = reach * (load.begin[i] + 0.5 * slope * reach);
                total.sum[i] += sum;
                // First moment about x: arm of the loaded part's end, then the part's own.
                let own = reach * reach * (load.begin[i] / 2.0 + slope * reach / 6.0);
                let first = sum * (x - end) + own;
                match i {
                    1 => total.moment_y += first,
                    2 => total.moment_z += first,
                    _ => {}
                }
            }
        }
        for load in &self.single {
            // Both places are computed: a difference of rounding is none.
            let near = SAME_PLACE * x;
            let passed = match side {
                Side::Before => load.at < x - near,
                Side::After => load.at <= x + near,
            };
            if passed {
                for i in 0..6 {
                    total.sum[i] += load.force[i];
                }
                total.moment_y += load.force[1] * (x - load.at);
                total.moment_z += load.force[2] * (x - load.at);
            }
        }
        total
    }

    /// Section forces (N, Vy, Vz, T, My, Mz) without natural forces: simply supported against
    /// bending, N and T zero at the end.
    pub(crate) fn simple_forces(&self, length: f64, x: f64, side: Side) -> [f64; 6] {
        let whole = self.up_to(length, Side::After);
        let start = start_forces(&whole, length);
        let here = self.up_to(x, side);
        [
            -start[0] - here.sum[0],
            -start[1] - here.sum[1],
            -start[2] - here.sum[2],
            -start[3] - here.sum[3],
            -x * start[2] - here.moment_z - here.sum[4],
            x * start[1] + here.moment_y - here.sum[5],
        ]
    }

    /// Places between which all is smooth, from 0 to `end`.
    pub(crate) fn pieces(&self, end: f64) -> Vec<(f64, f64)> {
        let mut places = vec![0.0, end];
        places.extend(self.spread.iter().flat_map(|s| [s.from, s.to]));
        places.extend(self.single.iter().map(|s| s.at));
        places.retain(|&x| x >= 0.0 && x <= end);
        places.sort_by(f64::total_cmp);
        places.windows(2).map(|w| (w[0], w[1])).filter(|(a, b)| b > a).collect()
    }

    /// Thermal part of the strains: stretch and curvatures.
    pub(crate) fn thermal(&self) -> (f64, [f64; 2]) {
        (self.stretch, self.curvature)
    }

    /// What the loads do to the member with the ends held.
    pub(crate) fn member_load(&self, element: &BeamElement) -> MemberLoad {
        let length = element.line.length;
        let r = &element.rigidity;
        let mut deformation = Natural::zeros();
        deformation[0] = self.stretch * length;
        deformation[2] = self.curvature[0] * length;
        deformation[3] = self.curvature[1] * length;
        if self.spread.is_empty() && self.single.is_empty() {
            return MemberLoad { deformation, end_forces: Ends::zeros() };
        }
        for (a, b) in self.pieces(length) {
            integrate(a, b, |x, weight| {
                let f = self.simple_forces(length, x, Side::After);
                let growth = 2.0 * x / length - 1.0;
                let bend = r.flexing * nalgebra::Vector2::new(f[4], f[5]);
                deformation[0] += weight * f[0] / r.axial;
                deformation[1] += weight * f[3] / r.torsion;
                deformation[2] += weight * bend[0];
                deformation[3] += weight * bend[1];
                deformation[4] += weight * (growth * bend[0] + 2.0 / length * r.shearing_z * f[2]);
                deformation[5] += weight * (growth * bend[1] - 2.0 / length * r.shearing_y * f[1]);
            });
        }
        let whole = self.up_to(length, Side::After);
        let start = start_forces(&whole, length);
        let mut end_forces = Ends::zeros();
        for i in 0..4 {
            end_forces[i] = start[i];
            end_forces[6 + i] = -whole.sum[i] - start[i];
        }
        // Transverse forces at the shear centre carry a torque about the centroid.
        let [y_s, z_s] = element.shear_centre;
        for end in [0, 6] {
            end_forces[end + 3] += y_s * end_forces[end + 2] - z_s * end_forces[end + 1];
        }
        MemberLoad { deformation, end_forces }
    }

    /// Resultant force and its moment about a point, global axes: what the member brings into the
    /// sum of all loads.
    pub(crate) fn resultant(
        &self,
        element: &BeamElement,
        start: Vec3,
        about: Vec3,
    ) -> (Vec3, Vec3) {
        let whole = self.up_to(element.line.length, Side::After);
        let length = element.line.length;
        let [y_s, z_s] = element.shear_centre;
        let f = [whole.sum[0], whole.sum[1], whole.sum[2]];
        // First moments were taken about the far end; about the start they are `length` more.
        let torque = whole.sum[3] + y_s * f[2] - z_s * f[1];
        let local_moment = [
            torque,
            whole.sum[4] - (f[2] * length - whole.moment_z),
            whole.sum[5] + (f[1] * length - whole.moment_y),
        ];
        let force = element.line.to_global(f);
        let arm = [0, 1, 2].map(|i| start[i] - about[i]);
        (force, add(element.line.to_global(local_moment), cross(arm, force)))
    }
}

/// Forces that the start receives when no natural force acts: simple support for bending, all of
/// the axial force and the torque.
fn start_forces(whole: &UpTo, length: f64) -> [f64; 4] {
    [
        -whole.sum[0],
        -(whole.moment_y - whole.sum[5]) / length,
        -(whole.moment_z + whole.sum[4]) / length,
        -whole.sum[3],
    ]
}

/// Visits the Gauss points of an interval with their weights.
pub(crate) fn integrate(a: f64, b: f64, mut f: impl FnMut(f64, f64)) {
    let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
    for (point, weight) in GAUSS {
        f(middle + half * point, half * weight);
    }
}

/// Position of the start of the flexible length, global.
pub(crate) fn start_of(model: &FrameModel, beam: BeamId) -> Vec3 {
    let b = &model.draft.beams[beam.0];
    add(model.position(NodeId(b.start.0)), b.offset_start)
}
