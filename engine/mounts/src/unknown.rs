//! Steel that nobody knows: `unknown` becomes a guess with numbers, so that it is tried like any other.

use std::borrow::Cow;

use fishplate_quantity::Stress;
use fishplate_quantity::written::Written;

use crate::describe::{BarShape, Form, Project, Steel};

/// How it is written.
const WORD: &str = "unknown";

/// Yield and ultimate strength that an unknown steel is taken to have, MPa, and the spread of the
/// yield strength (all common practice, no source).
struct Taken {
    fy: f64,
    fu: f64,
    spread: (f64, f64),
}

/// Rails of old frames: mild steel.
const RAIL: Taken = Taken { fy: 235.0, fu: 360.0, spread: (180.0, 280.0) };
/// Sheet and plate.
const SHEET: Taken = Taken { fy: 200.0, fu: 330.0, spread: (170.0, 260.0) };
/// Deep-drawn sheet, thinner than [`THIN`].
const PANEL: Taken = Taken { fy: 170.0, fu: 290.0, spread: (140.0, 220.0) };
/// Thinner sheet is taken for deep-drawn, m.
const THIN: f64 = 1.5e-3;

/// Field of the project that says an unknown steel, where `name` is one that [`named`] made.
pub(crate) fn owner(name: &str) -> Option<&str> {
    name.strip_prefix("unknown steel of ")
}

/// What to tell about an unknown steel.
pub(crate) fn advice(steel: &Steel) -> String {
    format!(
        "steel unknown at {}: taken as {:.0} MPa yield and {:.0} MPa ultimate (common practice, no \
         source); find out by a tension test of a cut-off, by hardness (ultimate about 3.4 MPa a \
         Brinell point, from memory), by sparks beside a known piece",
        owner(&steel.name).unwrap_or_default(),
        steel.fy.value.as_mpa(),
        steel.fu.value.as_mpa()
    )
}

/// The project with a steel of its own for everything whose steel is unknown; unchanged where the
/// project itself calls a steel so.
pub(crate) fn named(project: &Project) -> Cow<'_, Project> {
    let asked = |steel: &str| steel.trim().eq_ignore_ascii_case(WORD);
    let own = project.steels.iter().any(|s| asked(&s.name));
    let any = project.rails.iter().any(|r| asked(&r.steel))
        || project.parts.iter().any(|p| asked(&p.steel));
    if own || !any {
        return Cow::Borrowed(project);
    }
    let mut project = project.clone();
    for (i, rail) in project.rails.iter_mut().enumerate() {
        if asked(&rail.steel) {
            rail.steel = format!("unknown steel of rails[{i}]");
            project.steels.push(steel(&rail.steel, &RAIL));
        }
    }
    for (i, part) in project.parts.iter_mut().enumerate() {
        if asked(&part.steel) {
            let taken = if thickness(&part.form) < THIN { &PANEL } else { &SHEET };
            part.steel = format!("unknown steel of parts[{i}]");
            project.steels.push(steel(&part.steel, taken));
        }
    }
    Cow::Owned(project)
}

fn steel(name: &str, taken: &Taken) -> Steel {
    let guess = |value: f64, spread: Option<(f64, f64)>| Written { value, spread, guessed: true };
    Steel {
        name: name.to_owned(),
        fy: guess(taken.fy, Some(taken.spread)).map(Stress::from_mpa),
        fu: guess(taken.fu, None).map(Stress::from_mpa),
        beta_w: Some(guess(0.8, None)),
    }
}

fn thickness(form: &Form) -> f64 {
    match form {
        Form::Plate(p) => p.thickness.value.si(),
        Form::Folded(p) => p.thickness.value.si(),
        Form::Gusset(p) => p.thickness.value.si(),
        Form::Sleeve(p) => (p.outside - p.bore) / 2.0,
        Form::Block(p) => p.height.value.si(),
        Form::Bar(p) => match p.shape {
            BarShape::Angle { thickness, .. } => thickness,
            BarShape::Box { wall, .. } | BarShape::Tube { wall, .. } => wall,
            BarShape::Flat { height, .. } => height,
        },
    }
}
