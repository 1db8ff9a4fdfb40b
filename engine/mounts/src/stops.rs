//! Rules of the trade that keep an answer from passing, whatever its rows say (common practice, no
//! source).

use fishplate_quantity::algebra::{larger, smaller};
use fishplate_strength::catalog;

use crate::describe::{Bush, Project};
use crate::design::Design;

/// Bushes of which one is so many times as stiff as the other are different kinds: rubber and solid.
const APART: f64 = 3.0;

/// Mounts of different kinds while the stiffness of one is a guess: stiffness shares the load out, and
/// the ratio matters more than the level.
pub(crate) fn mixed_mounts(project: &Project) -> Vec<String> {
    let mut carried: Vec<&str> = project.mounts.iter().map(|m| m.carries.as_str()).collect();
    carried.sort_unstable();
    carried.dedup();
    carried.into_iter().filter_map(|carries| mixed(project, carries)).collect()
}

fn mixed(project: &Project, carries: &str) -> Option<String> {
    let own = project.mounts.iter().filter(|m| m.carries == carries);
    let bushes: Vec<&Bush> =
        own.filter_map(|m| project.bushes.iter().find(|b| b.name == m.bush)).collect();
    let apart = |of: fn(&Bush) -> f64| {
        let all = || bushes.iter().map(|b| of(b));
        all().fold(0.0, larger) > APART * all().fold(f64::INFINITY, smaller)
    };
    let differ = apart(|b| b.radial.value.si()) || apart(|b| b.axial.value.si());
    let guess = bushes.iter().find(|b| b.radial.guessed || b.axial.guessed)?;
    differ.then(|| {
        format!(
            "mounts of different kinds, and the stiffness of bush {} is a guess: who takes how much \
             is not known; measure it",
            guess.name
        )
    })
}

/// Welds on metal of the catalogue that loses strength beside a weld.
pub(crate) fn softened_by_welds(design: &Design) -> Vec<String> {
    let plain = |name: &str| -> String {
        name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    let softens =
        |m: &catalog::Material| m.beside_weld.is_some() || m.note.contains("softens beside welds");
    let soft: Vec<_> = catalog::materials().into_iter().filter(softens).collect();
    let mut list: Vec<String> = Vec::new();
    for weld in &design.welds {
        for id in [weld.of, weld.to] {
            let body = design.body(id);
            let named = plain(&body.steel.name);
            let called = |m: &&catalog::Material| {
                plain(m.name) == named || m.aliases.iter().any(|alias| plain(alias) == named)
            };
            let found = soft.iter().find(called);
            // A steel with numbers of its own is what the project says.
            if let Some(material) = found.filter(|_| body.steel.source.starts_with("catalogue")) {
                list.push(format!(
                    "{} joins {}, whose {} loses strength beside a weld: bolt it, or have the joint \
                     judged by someone who knows that metal",
                    weld.name, body.name, material.name
                ));
            }
        }
    }
    list
}
