//! A cargo thrown against its feet.

use fishplate_quantity::{Dimension, Source, step};
use fishplate_solver::group::{Vec3, Wrench};

use super::derivation::Derivation;
use super::free_body::{Applied, CaseLoads, Pair};
use super::vehicle::Statics;
use super::{CaseKind, LoadInput};

const RESTRAINT: Source =
    Source::new("ISO 12991", "4.2.2: acceleration of what is fastened to a vehicle");

/// The forces of one cargo thrown in a direction at a rate: inertia m a, and its weight.
pub(super) fn restraint(
    mut d: Derivation,
    input: &LoadInput,
    s: &Statics,
    kind: CaseKind,
    (direction, rate): (Vec3, f64),
    thrown: usize,
    about: Vec3,
) -> CaseLoads {
    use Dimension::{Mass, Ratio};
    let mut cargo = Vec::new();
    for (i, body) in input.cargo.iter().enumerate() {
        let what = format!("own mass, {}", body.name);
        let mut force = Vec3::zeros();
        if i == thrown {
            let g = s.g;
            let path = format!("cargo[{i}].mass");
            let m_c = d.given("m_c", "mass of the cargo", Mass, body.mass, &path);
            let n = d.factor("n", "restraint, in multiples of gravity", Ratio, rate);
            let trace = &mut d.trace;
            step!(trace, Force, RESTRAINT, "inertia of the cargo, the way it is thrown";
                f_thrown(n, m_c, g) = n * m_c * g);
            step!(trace, Force, RESTRAINT, "weight of the cargo"; f_weight(m_c, g) = m_c * g);
            force = direction * f_thrown - Vec3::z() * f_weight;
        }
        cargo.push(Applied { what, at: body.centre, force });
    }
    d.assume(
        "restraint: one cargo in one direction at a time, with its weight; the mounts of the cradle \
         carry nothing from it",
    );
    CaseLoads {
        kind,
        tyre: Pair { left: Vec3::zeros(), right: Vec3::zeros() },
        body_spring: Pair { left: 0.0, right: 0.0 },
        forces: Vec::new(),
        resultant: Wrench { force: Vec3::zeros(), moment: Vec3::zeros(), about },
        cargo,
        assumptions: d.assumptions,
        trace: d.trace,
    }
}
