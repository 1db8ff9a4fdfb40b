//! Choices between hand statics and the plate level: each names a joint that is there, once.

use fishplate_quantity::Faults;

use super::{Design, nearest};
use crate::describe::Project;

/// Looks over the choices of a project.
pub(super) fn look_over(project: &Project, design: &Design, faults: &mut Faults) {
    let welds = design.welds.iter().map(|weld| &weld.name);
    let bolts = design.bolts.iter().map(|bolt| &bolt.name);
    let parts = design.bodies.iter().map(|body| &body.name).filter(|n| n.starts_with("part."));
    // Without the side: `weld.front-foot left`.
    let known: Vec<&str> =
        welds.chain(bolts).chain(parts).filter_map(|name| name.split(' ').next()).collect();
    for (i, choice) in project.opinions.iter().enumerate() {
        let joint = choice.joint.as_str();
        let path = format!("opinions[{i}].joint");
        if !known.contains(&joint) {
            let near = nearest(joint, known.iter().copied());
            faults.add(
                path,
                format!("{joint}, which is not in the project"),
                "the name of a weld, bolt or part of the project, without its side",
                near.map_or(String::new(), |near| format!("did you mean {near}?")),
            );
        } else if project.opinions[..i].iter().any(|other| other.joint == joint) {
            let allowed = "one choice for each joint";
            faults.add(path, format!("{joint} for the second time"), allowed, "leave one out");
        }
    }
}
