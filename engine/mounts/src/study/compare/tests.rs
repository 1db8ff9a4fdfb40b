use fishplate_quantity::Length;
use fishplate_quantity::written::Written;

use super::*;
use crate::RunToEnd;
use crate::describe::{FacePreparation, Form};
use crate::pipeline::Depth;
use crate::plate::tests::support::{bare_front, rear, stiff_front};

const FRAME: Options =
    Options { derivations: false, scene: false, try_guesses: false, depth: Depth::Frame };

fn titled(mut project: Project, title: &str) -> Project {
    title.clone_into(&mut project.title);
    project
}

fn compared(projects: &[Project], by: Measure) -> Comparison {
    compare(projects, FRAME, by, &RunToEnd).expect("a comparison")
}

/// The reinforced design with front brackets of so many mm.
fn folded(thickness: f64) -> Project {
    let mut project = rear(stiff_front());
    let bracket = project.parts.iter_mut().find(|p| p.name == "front-bracket").expect("it");
    let Form::Folded(folded) = &mut bracket.form else { panic!("a folded bracket") };
    folded.thickness = Written::exact(Length::from_mm(thickness));
    project
}

/// The same with end bolts whose faces are slippery paint.
fn slippery(mut project: Project) -> Project {
    let ends = project.bolts.iter_mut().find(|b| b.name == "cross-end").expect("the end bolts");
    ends.faces = FacePreparation::Painted;
    ends.friction = Written::exact(0.02);
    project
}

fn exceeds(project: &Project) -> bool {
    let answer = pipeline::check(project, FRAME, &RunToEnd).expect("an answer");
    answer.rows.iter().any(Row::exceeds)
}

#[test]
fn a_design_against_itself_has_no_differences() {
    let design = rear(stiff_front());
    let both = compared(&[design.clone(), design], Measure::WeldLength);
    assert_eq!(both.designs[0].answer, both.designs[1].answer);
    assert_eq!(both.designs[0].bill, both.designs[1].bill);
    assert!(both.joints.iter().all(|j| j.lines[0].is_some() && j.lines[0] == j.lines[1]));
    assert!(both.checks.iter().all(|c| c.used[0] == c.used[1]));
    assert_eq!(both.order, [0, 1]);
    assert!(both.sentence.contains("no design is better"), "{}", both.sentence);
}

#[test]
fn the_order_of_designs_changes_no_number() {
    let designs = [titled(bare_front(), "bare"), titled(rear(stiff_front()), "stiff")];
    let mut one = compared(&designs, Measure::Mass);
    let turned: Vec<Project> = designs.iter().rev().cloned().collect();
    let other = compared(&turned, Measure::Mass);
    one.designs.reverse();
    assert_eq!(one.designs, other.designs);
    assert_eq!(one.sentence, other.sentence);
    let places: Vec<usize> = one.order.iter().map(|at| 1 - at).collect();
    assert_eq!(places, other.order);
    for joint in &one.joints {
        let same = other.joints.iter().find(|j| j.name == joint.name).expect("the joint");
        let turned: Vec<_> = joint.lines.iter().rev().cloned().collect();
        assert_eq!(turned, same.lines);
    }
    assert_eq!(one.checks.len(), other.checks.len());
}

#[test]
fn joints_of_one_design_alone_are_shown_as_such() {
    let both = compared(&[bare_front(), rear(stiff_front())], Measure::WeldLength);
    let joint = |name: &str| both.joints.iter().find(|j| j.name == name).expect(name);
    // Two upright edges of 80 mm on both sides in either design.
    let foot = joint("weld.front-foot");
    for line in &foot.lines {
        assert!((line.as_ref().expect("a foot").length - 0.32).abs() < 1e-12);
    }
    let doubler = joint("weld.front-doubler");
    assert!(doubler.lines[0].is_none() && doubler.lines[1].is_some());
}

#[test]
fn the_smallest_sheet_that_holds_is_that_of_checks_one_by_one() {
    // Upward through the sheets of a shop, each by a check of its own.
    assert!(exceeds(&folded(2.0)), "too good a bracket to need a step");
    let least = [2.5, 3.0, 4.0].into_iter().find(|t| !exceeds(&folded(*t)));
    let least = least.expect("a sheet that holds");
    let both =
        compared(&[titled(folded(2.0), "thin"), titled(folded(5.0), "thick")], Measure::Mass);
    assert_eq!(both.order, [1, 0]);
    let way = both.designs[0].way.as_ref().expect("a way");
    assert!(way.tried && way.pairs == 0 && !way.limits.is_empty());
    for limit in &way.limits {
        // At this depth there is no other judge.
        assert_eq!(limit.by_hand, Some(limit.utilisation));
        let (step, then) = limit.best.as_ref().expect("a step that helps");
        assert!(*then < limit.utilisation && !step.to.is_empty());
    }
    let step = way
        .found
        .iter()
        .find(|tried| tried.steps[0].what == "part.front-bracket, thickness")
        .expect("a thicker bracket");
    assert_eq!((step.steps[0].from.as_str(), step.steps.len()), ("2 mm", 1));
    assert_eq!(step.steps[0].to, format!("{least} mm"));
    // Floor 110 x 85 and walls 2 x (80 - t) x 85, on both sides, 7.85e-6 kg/mm³.
    let mass = |t: f64| 2.0 * (110.0 + 2.0 * (80.0 - t)) * 85.0 * t * 7.85e-6;
    let now = both.designs[0].bill.mass();
    assert!((step.mass - (now + mass(least) - mass(2.0))).abs() < 1e-9);
    assert!(step.ahead, "lighter than the one that comes first");
    assert!(both.designs[1].way.is_none());
}

#[test]
fn where_no_single_step_does_pairs_are_tried() {
    let both = compared(&[slippery(folded(2.0)), folded(5.0)], Measure::Mass);
    // Two faults that have nothing to do with each other: either alone still exceeds.
    assert!(exceeds(&folded(2.0)) && exceeds(&slippery(folded(5.0))));
    let way = both.designs[0].way.as_ref().expect("a way");
    assert!(way.found.iter().all(|tried| tried.steps.len() == 2), "{way:?}");
    assert!(!way.found.is_empty());
    for pair in &way.found {
        let ends = |step: &Step| step.what.starts_with("bolt.cross-end");
        assert_eq!(pair.steps.iter().filter(|step| ends(step)).count(), 1, "{pair:?}");
    }
    assert!(way.pairs > 0 && way.singles > 0 && way.nearest.is_none());
}

#[test]
fn faults_of_every_design_are_told_with_its_place() {
    let mut wrong = bare_front();
    wrong.parts[0].steel = "butter".to_owned();
    let mut worse = bare_front();
    worse.bolts[0].thread = "M13.7".to_owned();
    let told = compare(&[wrong, bare_front(), worse], FRAME, Measure::Mass, &RunToEnd)
        .expect_err("faults");
    let places: Vec<usize> = told.0.iter().map(|(place, _)| *place).collect();
    assert_eq!(places, [0, 2]);
    assert!(told.0.iter().all(|(_, error)| matches!(error, CheckError::Faults(_))));
}
