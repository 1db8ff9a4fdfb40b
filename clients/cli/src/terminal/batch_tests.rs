// Layouts pinned, and what must hold of every layout.

use fishplate_proto::v1::{BatchFault, Depth};

use super::*;

fn mount(id: &str, change: Change, used: (Option<f64>, Option<f64>), what: &str) -> MountChange {
    let fails = used.0.is_some_and(|u| u > 1.0);
    let verdict = if fails { Verdict::DoesNotHold } else { Verdict::Holds };
    MountChange {
        mount_id: id.to_owned(),
        mount_name: if id == "FL" { "front left" } else { "rear left" }.to_owned(),
        change: change.into(),
        verdict: verdict.into(),
        utilisation: used.0,
        accepted_utilisation: used.1,
        component: "bolt.front-bush left".to_owned(),
        what: what.to_owned(),
        case_name: "P1".to_owned(),
        ..MountChange::default()
    }
}

fn sample(compared: bool) -> BatchReport {
    let was = |u: f64| compared.then_some(u);
    let change = |change: Change| if compared { change } else { Change::New };
    let mut worse =
        mount("RL", change(Change::Worse), (Some(1.31), was(1.12)), "rail web: wall bending");
    if compared {
        worse.newly_exceeding =
            vec!["weld.rear-foot left: throat stress by the simplified method".to_owned()];
    }
    let mut rest = mount("", change(Change::Unchanged), (None, None), "");
    rest.set_verdict(Verdict::Provisional);
    let vans = BatchProjectReport {
        name: "van-with-a-long-name-1.toml".to_owned(),
        mounts: vec![
            mount(
                "FL",
                change(Change::NewlyFails),
                (Some(1.002), was(0.97)),
                "bush bolt: faces slip",
            ),
            worse,
            rest,
        ],
        verdict: Verdict::DoesNotHold.into(),
        faults: Vec::new(),
    };
    let estate = BatchProjectReport {
        name: "estate.toml".to_owned(),
        mounts: vec![
            mount("FL", change(Change::Better), (Some(0.61), was(0.74)), "bracket floor"),
            mount("RL", change(Change::Unchanged), (Some(0.4), was(0.4)), "bracket floor"),
        ],
        verdict: Verdict::Holds.into(),
        faults: Vec::new(),
    };
    let broken = BatchProjectReport {
        name: "broken.toml".to_owned(),
        faults: vec![BatchFault {
            field_path: "car.mass".to_owned(),
            what: "`mass` = \"2050 kgs\" has the unit \"kgs\"".to_owned(),
            place: "shared/van.toml, line 4".to_owned(),
        }],
        ..BatchProjectReport::default()
    };
    BatchReport {
        projects: vec![broken, estate, vans],
        computed: 3,
        known: 1,
        compared,
        depth: Depth::Frame.into(),
    }
}

fn plain(report: &BatchReport, width: usize, ascii: bool, all: bool) -> String {
    let told = Told { given: "vans", all, accepted: false };
    let text = batch(report, &told, Look::new(width, ascii));
    anstream::adapter::strip_str(&text).to_string()
}

/// Lines written by hand.
#[test]
fn changes_come_worst_first() {
    let text = plain(&sample(true), 80, false, false);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "DOES NOT HOLD   3 projects, 4 mounts");
    assert_eq!(
        lines[1],
        "1 newly fails, 1 got worse, 1 got better, 1 unchanged, in all 2 do not hold, 1"
    );
    for line in [
        "Cannot be checked: broken.toml",
        "  shared/van.toml, line 4: `mass` = \"2050 kgs\" has the unit \"kgs\"",
        "newly fails          mount    use    was  part and check                  case",
        "van-with-a-long-nam… FL     1.002   0.97  bush bolt: faces slip           P1",
        "van-with-a-long-nam… RL      1.31   1.12  rail web: wall bending          P1",
        "estate.toml          FL      0.61   0.74  bracket floor                   P1",
        "Mounts computed 3, known from before 1.",
        "Accept this state: fishplate batch vans --accept",
    ] {
        assert!(lines.contains(&line), "no line\n{line}\nin\n{text}");
    }
    assert!(text.contains("now exceeds: weld.rear-foot left: throat stress"), "{text}");
}

#[test]
fn without_an_accepted_state_that_is_said() {
    let text = plain(&sample(false), 80, false, false);
    assert!(text.contains("No state was accepted yet"), "{text}");
    assert!(!text.contains("was  part"), "{text}");
    let given = BatchReport { projects: Vec::new(), ..sample(true) };
    assert!(plain(&given, 80, false, false).starts_with("HOLDS   0 projects, 0 mounts"));
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    for width in [60, 80, 120, 160] {
        for ascii in [false, true] {
            for compared in [false, true] {
                let text = plain(&sample(compared), width, ascii, true);
                for line in text.lines() {
                    assert!(line.chars().count() <= width, "{width}: {line}");
                }
                assert!(!ascii || text.is_ascii(), "{text}");
            }
        }
    }
}

mod golden {
    use super::*;

    #[test]
    fn narrow() {
        assert_eq!(plain(&sample(true), 80, false, true), include_str!("golden/batch-80.txt"));
    }

    #[test]
    fn wide() {
        assert_eq!(plain(&sample(true), 160, false, true), include_str!("golden/batch-160.txt"));
    }
}
