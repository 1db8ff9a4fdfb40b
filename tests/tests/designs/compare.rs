//! Designs side by side: lengths, masses and counts by adding up the drawings (plain arithmetic beside
//! each), steps against checks one by one, and laws of comparing.

use std::sync::OnceLock;

use fishplate_proto::json::from_json;
use fishplate_proto::v1;
use fishplate_proto::v1::{Measure, State, Verdict};
use fishplate_tests::refusal::Refusal;
use fishplate_tests::service;

use crate::bench::{FORWARD, GAMMA, UP, assert_near, assert_told, check, single_bracket};
use crate::welds::two_lines;

/// kg/mm³: EN 1991-1-1:2002, Table A.4.
const STEEL: f64 = 7.85e-6;

fn project(text: &str) -> v1::Project {
    from_json("Project", text).expect("the fixture is a project")
}

fn compared(projects: &[v1::Project], measure: Measure) -> v1::Comparison {
    let request = v1::CompareProjectsRequest {
        projects: projects.to_vec(),
        measure: measure.into(),
        ..Default::default()
    };
    let answer = service::compare(&request);
    answer.unwrap_or_else(|status| panic!("refused: {}", status.message()))
}

fn refused(request: &v1::CompareProjectsRequest) -> Refusal {
    Refusal::of(&service::compare(request).expect_err("a comparison of what cannot be compared"))
}

/// The two demo designs of the van.
fn vans() -> &'static v1::Comparison {
    static ANSWER: OnceLock<v1::Comparison> = OnceLock::new();
    ANSWER.get_or_init(|| {
        let a = project(include_str!("../../data/van_a.json"));
        let b = project(include_str!("../../data/van_b.json"));
        compared(&[a, b], Measure::WeldLength)
    })
}

fn bill(comparison: &v1::Comparison, place: usize) -> &v1::Bill {
    comparison.designs[place].bill.as_ref().expect("a bill")
}

/// What a joint has of weld in a design, mm and mm³; nothing where the design lacks it.
fn joint(comparison: &v1::Comparison, name: &str, place: usize) -> Option<(f64, f64)> {
    let full = format!("weld.{name}");
    let joint = comparison.joints.iter().find(|j| j.name == full).expect("the joint");
    let line = joint.welds[place].line.as_ref()?;
    Some((line.weld_length_mm, line.weld_volume_mm3))
}

/// Weld of one joint in both designs: leg, and length by hand on both sides, mm.
type Weld = (&'static str, f64, Option<f64>, Option<f64>);

#[test]
fn weld_of_the_two_vans_joint_by_joint() {
    // Round the doubler: 200 x 84 with ends at 45°, so two edges of 200 - 2 x 42 and four of 42 √2.
    let spear = 2.0 * (200.0 - 84.0) + 4.0 * 42.0 * 2.0_f64.sqrt();
    // Round the end of an angle 80 x 80 x 8.
    let angle = 80.0 + 80.0 + 8.0 + 8.0 + 72.0 + 72.0;
    let welds: [Weld; 8] = [
        // Two upright edges of 80 a bracket.
        ("front-foot", 4.0, Some(2.0 * 2.0 * 80.0), Some(2.0 * 2.0 * 80.0)),
        ("cross-end", 5.0, Some(2.0 * angle), Some(2.0 * angle)),
        // Two gussets a side, both faces, along 60 and along 55.
        ("front-gusset-foot", 3.0, None, Some(2.0 * 2.0 * 2.0 * 60.0)),
        ("front-gusset-floor", 3.0, None, Some(2.0 * 2.0 * 2.0 * 55.0)),
        ("front-doubler", 2.5, None, Some(2.0 * spear)),
        // Two edges of 500, six stitches of 40 with gaps of 40; the 20 left at the end is no bead.
        ("front-box", 3.0, None, Some(2.0 * 2.0 * 6.0 * 40.0)),
        ("rear-backing", 2.5, None, Some(2.0 * 2.0 * (120.0 + 84.0))),
        // One in the middle of the car: both faces, both legs.
        ("drive-gusset", 4.0, None, Some(2.0 * (60.0 + 60.0))),
    ];
    let plugs = 2.0 * 4.0 * std::f64::consts::FRAC_PI_4 * 10.0 * 10.0 * 3.0;
    for place in [0, 1] {
        let (mut length, mut metal) = (0.0, if place == 1 { plugs } else { 0.0 });
        for (name, leg, a, b) in welds {
            let hand = if place == 0 { a } else { b };
            let got = joint(vans(), name, place);
            assert_eq!(got.is_some(), hand.is_some(), "{name}");
            let (Some(hand), Some(got)) = (hand, got) else { continue };
            assert_near(name, got.0, hand);
            assert_near(name, got.1, hand * leg * leg / 2.0);
            length += hand;
            metal += hand * leg * leg / 2.0;
        }
        assert_near("in all", bill(vans(), place).weld_length_mm, length);
        assert_near("weld metal", bill(vans(), place).weld_volume_mm3, metal);
    }
    assert_eq!(joint(vans(), "front-plugs", 0), None);
    let (length, metal) = joint(vans(), "front-plugs", 1).expect("the plugs of B");
    assert_near("plugs have no length", length, 0.0);
    assert_near("plugs", metal, plugs);
}

#[test]
fn steel_and_bolts_of_the_two_vans() {
    // A: two brackets 60 x 80 x 85 of 5, an angle between end plates 8 thick, the end plates.
    let angle = (80.0 + 72.0) * 8.0;
    let ends = 2.0 * 120.0 * 84.0 * 8.0;
    let a = 2.0 * 5.0 * 85.0 * (60.0 + 2.0 * 75.0) + angle * 2.0 * (425.0 - 3.0 - 8.0) + ends;
    assert_near("A", bill(vans(), 0).part_mass_kg, a * STEEL);
    // B: doublers, brackets, four gussets, boxing, four sleeves between web and boxing, backing,
    // a shorter angle, end plates, one gusset.
    let sleeve = std::f64::consts::FRAC_PI_4 * (28.0 * 28.0 - 15.0 * 15.0) * 42.0;
    let b = 2.0 * 3.0 * (116.0 * 84.0 + 84.0 * 42.0)
        + 2.0 * 5.0 * 85.0 * (110.0 + 2.0 * 75.0)
        + 4.0 * 4.0 * 60.0 * 55.0 / 2.0
        + 2.0 * 3.0 * 500.0 * 100.0
        + 4.0 * sleeve
        + 2.0 * 3.0 * 120.0 * 84.0
        + angle * 2.0 * (425.0 - 3.0 - 3.0 - 8.0)
        + ends
        + 5.0 * 60.0 * 60.0 / 2.0;
    assert_near("B", bill(vans(), 1).part_mass_kg, b * STEEL);
    // A: a bush bolt a mount, two in each end; B: four in each end, two more through each box.
    let counts = |place| (bill(vans(), place).bolt_count, bill(vans(), place).piece_count);
    assert_eq!(counts(0), (4 + 2 * 2, 2 + 2 + 1));
    assert_eq!(counts(1), (4 + 2 * 4 + 2 * 2, 2 + 2 + 4 + 2 + 4 + 2 + 1 + 2 + 1));
}

#[test]
fn the_van_that_holds_comes_first_and_the_other_is_told_its_limits() {
    let vans = vans();
    assert_eq!(vans.ranking, [1, 0]);
    assert!(vans.sentence.starts_with("Van, design B comes first"), "{}", vans.sentence);
    assert!(vans.designs[1].way.is_none());
    let a = vans.designs[0].answer.as_ref().expect("an answer");
    assert_eq!(a.verdict(), Verdict::DoesNotHold);
    let way = vans.designs[0].way.as_ref().expect("a way");
    let mut exceeding: Vec<&str> =
        a.rows.iter().filter(|r| r.state() == State::Exceeds).map(|r| r.id.as_str()).collect();
    let mut told: Vec<&str> = way.limits.iter().map(|l| l.row_id.as_str()).collect();
    assert_eq!(told.first().copied(), vans.designs[0].worst.as_ref().map(|w| w.row_id.as_str()));
    exceeding.sort_unstable();
    told.sort_unstable();
    assert_eq!(told, exceeding);
    assert!(way.tried && way.singles_tried > 0);
    // Either it was mended by steps, or everything was tried and the nearest is shown.
    assert!(!way.found.is_empty() || (way.pairs_tried > 0 && way.nearest.is_some()));
}

#[test]
fn the_worst_of_every_check_is_the_worst_of_its_rows() {
    for (place, design) in vans().designs.iter().enumerate() {
        let answer = design.answer.as_ref().expect("an answer");
        let counted = answer.rows.iter().filter(|r| r.kind() != v1::CheckKind::Detailing);
        let most = |mount: &str| {
            let own = counted.clone().filter(|r| r.mount_id == mount);
            own.filter_map(|r| r.utilisation).fold(0.0, |a: f64, b| if b > a { b } else { a })
        };
        for mount in ["FL", "FR", "RL", "RR", ""] {
            let of_mount = vans().checks.iter().filter(|c| c.mount_id == mount);
            let worst = of_mount.filter_map(|c| c.uses[place].worst.as_ref());
            let worst = worst.map(|w| w.utilisation).fold(0.0, |a, b| if b > a { b } else { a });
            assert_eq!(worst.to_bits(), most(mount).to_bits(), "{mount}");
        }
    }
}

/// The foot weld of a bracket on two lines of 80 mm: by elastic statics a leg z carries its line force
/// q where q √2/z is at most 360/(√3 x 0.8 x 1.25) MPa (EN 1993-1-8:2005, 4.5.3.3).
#[test]
fn the_smallest_leg_that_holds_is_found() {
    let q = two_lines(GAMMA * FORWARD, GAMMA * UP);
    let needed = q * 2.0_f64.sqrt() / (360.0 / (3.0_f64.sqrt() * 0.8 * 1.25));
    let start = 0.8;
    assert!(start < needed, "too good a weld to need a step: {needed}");
    let legs = (1..=6).map(|n| start + 0.5 * f64::from(n));
    let by_hand = legs.clone().find(|leg| *leg >= needed).expect("half millimetres are enough");
    let exceeds =
        |leg: f64| check(&single_bracket(leg)).rows.iter().any(|r| r.state() == State::Exceeds);
    let one_by_one = legs.clone().find(|leg| !exceeds(*leg));
    assert_eq!(one_by_one, Some(by_hand));
    let both = compared(&[single_bracket(start), single_bracket(4.0)], Measure::WeldVolume);
    assert_eq!(both.ranking, [1, 0]);
    let way = both.designs[0].way.as_ref().expect("a way");
    let found = way.found.iter().find(|t| t.steps[0].field_path == "welds[0].leg");
    let found = found.expect("a larger leg");
    assert_eq!(found.steps[0].to, format!("{by_hand} mm"));
    // Less weld metal than with a leg of 4, on four lines of 80 mm.
    assert_near("metal", found.weld_volume_mm3, 4.0 * 80.0 * by_hand * by_hand / 2.0);
    assert!(found.ahead);
}

#[test]
fn a_design_beside_itself_has_no_differences() {
    let both = compared(&[single_bracket(4.0), single_bracket(4.0)], Measure::Mass);
    assert_eq!(both.designs[0].answer, both.designs[1].answer);
    assert_eq!(both.designs[0].bill, both.designs[1].bill);
    assert!(both.checks.iter().all(|c| c.uses[0] == c.uses[1]));
    assert!(both.joints.iter().all(|j| j.welds[0] == j.welds[1] && j.welds[0].line.is_some()));
    assert_eq!(both.ranking, [0, 1]);
}

#[test]
fn the_order_of_designs_changes_no_number() {
    let (thin, thick) = (single_bracket(3.0), single_bracket(5.0));
    let one = compared(&[thin.clone(), thick.clone()], Measure::WeldVolume);
    let other = compared(&[thick, thin], Measure::WeldVolume);
    assert_eq!(one.designs[0], other.designs[1]);
    assert_eq!(one.designs[1], other.designs[0]);
    assert_eq!((one.ranking, other.ranking), (vec![0, 1], vec![1, 0]));
    assert_eq!(one.sentence, other.sentence);
}

/// Costs by hand: two brackets of 89 250 mm³, four lines of 80 mm with leg 4, blanks of 210 x 85.
#[test]
fn designs_are_ranked_by_cost_where_rates_are_given() {
    let rates = v1::Rates {
        per_kg: 2.0,
        per_weld_m: 10.0,
        per_weld_cm3: 1.0,
        per_cut_m: 3.0,
        per_bolt: 1.0,
        per_piece: 4.0,
    };
    let request = v1::CompareProjectsRequest {
        projects: vec![single_bracket(5.0), single_bracket(4.0)],
        measure: Measure::Cost.into(),
        rates: Some(rates),
        ..Default::default()
    };
    let told = service::compare(&request).expect("a comparison");
    let (steel, pieces) = (2.0 * 89_250.0 * STEEL * 2.0, 2.0 * 4.0);
    let cuts = bill(&told, 0).cut_length_mm / 1e3 * 3.0;
    let bolts = f64::from(bill(&told, 0).bolt_count);
    // 2 x 2 x (210 + 85) round the blanks; the rest is holes.
    assert!(bill(&told, 0).cut_length_mm >= 2.0 * 2.0 * 295.0);
    for (place, leg) in [(0, 5.0), (1, 4.0)] {
        let weld = 0.32 * 10.0 + 320.0 * leg * leg / 2.0 / 1e3;
        assert_near("cost", told.designs[place].measure, steel + pieces + cuts + bolts + weld);
    }
    assert_eq!(told.ranking, [1, 0]);
}

#[test]
fn faults_say_which_design_they_are_in() {
    let mut wrong = single_bracket(4.0);
    wrong.parts[0].steel = "butter".to_owned();
    let mut other = single_bracket(4.0);
    other.welds[0].joins[1] = "part.nowhere".to_owned();
    let request = v1::CompareProjectsRequest {
        projects: vec![wrong, single_bracket(4.0), other],
        ..Default::default()
    };
    let refusal = refused(&request);
    assert_told(&refusal, "projects[0].parts[0].steel", &["butter"]);
    assert_told(&refusal, "projects[2].welds[0].joins[1]", &["nowhere"]);
}

#[test]
fn too_few_or_too_many_designs_and_missing_rates_are_refused() {
    let of = |many: usize, measure: Measure| v1::CompareProjectsRequest {
        projects: vec![single_bracket(4.0); many],
        measure: measure.into(),
        ..Default::default()
    };
    for many in [0, 1, 9] {
        let refusal = refused(&of(many, Measure::Mass));
        assert_told(&refusal, "projects", &[&format!("{many} designs"), "2 to 8 designs"]);
    }
    assert_told(&refused(&of(2, Measure::Cost)), "rates", &["required"]);
    let mut negative = of(2, Measure::Cost);
    negative.rates = Some(v1::Rates { per_kg: -1.0, per_bolt: 1.0, ..Default::default() });
    assert_told(&refused(&negative), "rates.per_kg", &["-1", "zero or more"]);
}
