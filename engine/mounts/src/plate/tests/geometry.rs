//! Sheets have the steel of the walls, and meshes that of the sheets.

use fishplate_strength::catalog::FuEdition;

use super::support::{rear, stiff_front};
use crate::describe::Project;
use crate::design::{Design, Form, resolve};
use crate::plate::group::groups;
use crate::plate::sheet::sheets;

fn resolved(project: &Project) -> Design {
    resolve(project, FuEdition::ProductStandard).expect("a design that can be resolved")
}

#[test]
fn mounts_that_share_steel_are_one_group() {
    let design = resolved(&rear(stiff_front()));
    let groups = groups(&design);
    let names: Vec<Vec<&str>> = groups
        .iter()
        .map(|g| g.mounts.iter().map(|m| design.mounts[*m].id.as_str()).collect())
        .collect();
    assert_eq!(names, [vec!["FL"], vec!["FR"], vec!["RL", "RR"]]);
    let of = |g: usize| -> Vec<&str> {
        groups[g].all().iter().map(|b| design.body(*b).name.as_str()).collect()
    };
    assert_eq!(
        of(0),
        [
            "rail.frame left",
            "part.front-doubler left",
            "part.front-bracket left",
            "part.front-gusset left",
            "part.front-box left",
            "part.front-sleeve left"
        ]
    );
    assert_eq!(groups[2].pieces.len(), 2);
    // 1.5 rail heights beside the first and last joint, x 230 to 430 mm.
    let piece = &groups[0].pieces[0];
    assert!((piece.from - 0.08).abs() < 1e-9 && (piece.to - 0.58).abs() < 1e-9);
}

// Steel: the area of mid-surfaces that meet at folds times the thickness is the volume of the walls
// (mechanics: of a fold at right angles both count half of the corner). A rail's walls as drawn
// overlap in its corners, so it is compared with its section: h + 2 b - 2 t of a channel of walls t.
#[test]
fn sheets_have_the_volume_of_the_walls() {
    let design = resolved(&rear(stiff_front()));
    for (i, body) in design.bodies.iter().enumerate() {
        if matches!(body.form, Form::Sleeve { .. }) {
            continue;
        }
        let made = sheets(&design, crate::design::BodyId(i), None).unwrap();
        let steel: f64 = made.iter().map(|s| s.area() * s.thickness).sum();
        let expected = match body.form {
            Form::Rail { .. } => (0.1 + 2.0 * 0.045 - 2.0 * 0.003) * 0.003 * 1.6,
            _ => body.volume(),
        };
        assert!((steel / expected - 1.0).abs() < 1e-9, "{}: {steel} {expected}", body.name);
    }
}
