//! The steel of a body: the project's own numbers, else the catalogue's.

use fishplate_quantity::Faults;
use fishplate_strength::catalog::{self, FuEdition};

use super::body::SteelAt;
use crate::describe::Project;
use crate::unknown;

/// Finds a steel by name; `thickness` in m picks the strength band.
pub(super) fn find(
    project: &Project,
    name: &str,
    thickness: f64,
    path: &str,
    strengths: FuEdition,
    faults: &mut Faults,
) -> Option<SteelAt> {
    if let Some((i, steel)) = project.steels.iter().enumerate().find(|(_, s)| s.name == name) {
        return Some(SteelAt {
            name: name.to_owned(),
            fy: steel.fy.value.si(),
            fu: steel.fu.value.si(),
            beta_w: steel.beta_w.map(|b| b.value),
            guessed: steel.fy.guessed || steel.fu.guessed,
            source: unknown::owner(name)
                .map_or(format!("steels[{i}]"), |owner| format!("{owner}.steel, unknown")),
        });
    }
    match catalog::find_material(name, thickness) {
        Ok(material) => Some(SteelAt {
            name: name.to_owned(),
            fy: material.f_y,
            fu: material.f_u_by(strengths),
            beta_w: material.beta_w,
            guessed: false,
            source: format!(
                "catalogue: {}, {}; tensile strength: {}",
                material.name,
                material.family,
                strengths.told()
            ),
        }),
        Err(error) => {
            faults.add(
                path,
                format!("\"{name}\""),
                "a steel of the project or of the catalogue",
                format!("{}{error}", own(project)),
            );
            None
        }
    }
}

/// The project's own steels, for advice.
fn own(project: &Project) -> String {
    let names: Vec<&str> = project.steels.iter().map(|s| s.name.as_str()).collect();
    if names.is_empty() { String::new() } else { format!("the project has {}; ", names.join(", ")) }
}
