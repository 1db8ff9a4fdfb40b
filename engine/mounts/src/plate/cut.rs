//! Equilibrium of the cuts of the load path: what is applied on the mount's side against what
//! welds, bolts and pressing faces carry across.

use std::collections::BTreeSet;

use fishplate_quantity::algebra::larger;
use fishplate_solver::group::Wrench;
use fishplate_solver::plates::answer::PlateCaseAnswer;

use super::model::Model;
use super::result::CutForces;
use crate::answer::MountLoad;
use crate::design::{BodyId, Design, Vec3};
use crate::load_path::Interface;

/// A wrench of six components about a point.
pub(super) fn wrench(six: &[f64; 6], about: Vec3) -> Wrench {
    let [x, y, z, mx, my, mz] = *six;
    Wrench { force: Vec3::new(x, y, z), moment: Vec3::new(mx, my, mz), about }
}

/// A joint that crosses a cut: its bodies, and what the first exerts on the second.
struct Crossing {
    bodies: [BodyId; 2],
    carries: Wrench,
    /// Whether it belongs to a weld or bolt of this interface.
    named: bool,
}

/// The balance of a cut under the loads of a set.
pub(super) fn balance(
    design: &Design,
    model: &Model,
    interface: &Interface,
    answer: &PlateCaseAnswer,
    loads: &[MountLoad],
) -> CutForces {
    let side = &interface.side;
    let zero = Wrench::of_force(Vec3::zeros(), interface.about);
    let mut applied = zero;
    let mut reach: f64 = 1e-3;
    for landing in &model.joints.landings {
        if side.contains(&model.sheets[landing.sheet].body) {
            let (load, at) = (&loads[landing.mount], design.mounts[landing.mount].at);
            applied = applied.plus(&Wrench { force: load.force, moment: load.moment, about: at });
            reach = larger(reach, (at - interface.about).norm());
        }
    }
    let (mut whole, mut carried, mut size) = (zero, zero, applied.force.norm());
    for crossing in crossings(design, model, interface, answer) {
        let signed = match signs(side, &crossing.bodies) {
            0 => continue,
            1 => crossing.carries,
            _ => Wrench {
                force: -crossing.carries.force,
                moment: -crossing.carries.moment,
                about: crossing.carries.about,
            },
        };
        whole = whole.plus(&signed);
        size = larger(size, signed.force.norm());
        if crossing.named {
            carried = carried.plus(&signed);
        }
    }
    let off = larger(
        (whole.force - applied.force).norm(),
        (whole.moment - applied.moment).norm() / reach,
    );
    CutForces { applied, carried, imbalance: if size > 0.0 { off / size } else { off } }
}

/// 1 where the first body is on the mount's side and the second is not, -1 the other way round.
fn signs(side: &BTreeSet<BodyId>, [a, b]: &[BodyId; 2]) -> i8 {
    i8::from(side.contains(a)) - i8::from(side.contains(b))
}

fn crossings(
    design: &Design,
    model: &Model,
    interface: &Interface,
    answer: &PlateCaseAnswer,
) -> Vec<Crossing> {
    let mut list = Vec::new();
    for (at, parts) in model.joints.runs.iter().zip(&model.seams) {
        let weld = &design.welds[at.weld.0];
        for (seam, _) in parts {
            let found = &answer.seams[*seam];
            list.push(Crossing {
                bodies: [weld.of, weld.to],
                carries: wrench(&found.force, Vec3::from(found.about)),
                named: interface.welds.contains(&at.weld),
            });
        }
    }
    for (at, found) in model.joints.spots.iter().zip(&answer.spots) {
        let weld = &design.welds[at.weld.0];
        list.push(Crossing {
            bodies: [weld.of, weld.to],
            carries: wrench(&found.force, at.centre),
            named: interface.welds.contains(&at.weld),
        });
    }
    for (at, found) in model.joints.bolts.iter().zip(&answer.bolts) {
        for (k, pair) in at.sheets.windows(2).enumerate() {
            let through = &found.through[k];
            list.push(Crossing {
                bodies: [pair[0], pair[1]].map(|s| model.sheets[s].body),
                carries: wrench(&through.force, Vec3::from(through.about)),
                named: interface.bolts.contains(&at.bolt),
            });
        }
    }
    for (at, contacts) in model.joints.facings.iter().zip(&model.contacts) {
        let bodies = at.sheets.map(|s| model.sheets[s].body);
        for contact in contacts {
            let found = &answer.contacts[*contact];
            let about = Vec3::from(found.about);
            list.push(Crossing {
                bodies,
                carries: wrench(&found.force, about),
                named: about.y * interface.about.y >= 0.0,
            });
        }
    }
    list
}
