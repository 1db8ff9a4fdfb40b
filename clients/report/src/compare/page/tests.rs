use fishplate_proto::v1;

use super::*;
use crate::test_support::van::{request, response};
use crate::test_support::wellformed::assert_closed;

/// Writes the page for a look at it where `FISHPLATE_PAGE_DIR` says so.
fn shown(name: &str, page: &str) {
    if let Some(folder) = std::env::var_os("FISHPLATE_PAGE_DIR") {
        std::fs::write(std::path::Path::new(&folder).join(name), page).unwrap();
    }
}

fn line(mm: f64) -> v1::ComparedWeld {
    let line = v1::BillWeld { weld_length_mm: mm, ..v1::BillWeld::default() };
    v1::ComparedWeld { line: Some(line) }
}

fn design(title: &str, weld: f64) -> v1::ComparedDesign {
    let mut answer = response();
    title.clone_into(&mut answer.title);
    let movements = answer.mounts.iter().map(|mount| v1::MountMovement {
        mount_id: mount.id.clone(),
        travel_mm: vec![0.5, 2.25],
        most_case_name: "V3".to_owned(),
        structure: None,
    });
    v1::ComparedDesign {
        movements: movements.collect(),
        bill: Some(v1::Bill { weld_length_mm: weld, ..v1::Bill::default() }),
        measure: weld,
        worst: Some(v1::UsedRow {
            row_id: "FL-2".to_owned(),
            utilisation: 3.48,
            case_name: "P1".to_owned(),
        }),
        answer: Some(answer),
        ..v1::ComparedDesign::default()
    }
}

/// The invented van beside itself, once with a doubler's weld.
fn comparison() -> v1::Comparison {
    let mut first = design("Van, bare", 640.0);
    first.way = Some(v1::WayAhead {
        limits: vec![v1::ExceededLimit {
            row_id: "FL-2".to_owned(),
            utilisation: 3.48,
            ..v1::ExceededLimit::default()
        }],
        tried: true,
        singles_tried: 12,
        ..v1::WayAhead::default()
    });
    v1::Comparison {
        designs: vec![first, design("Van, doubled", 1578.0)],
        joints: vec![
            v1::ComparedJoint {
                name: "weld.front-foot".to_owned(),
                welds: vec![line(640.0), line(640.0)],
            },
            v1::ComparedJoint {
                name: "weld.front-doubler".to_owned(),
                welds: vec![v1::ComparedWeld::default(), line(938.0)],
            },
        ],
        ranking: vec![1, 0],
        sentence: "Van, doubled comes first.".to_owned(),
        ..v1::Comparison::default()
    }
}

fn asked() -> v1::CompareProjectsRequest {
    let project = request().project.unwrap();
    v1::CompareProjectsRequest { projects: vec![project.clone(), project], ..Default::default() }
}

fn page() -> String {
    comparison_page(&asked(), &comparison(), Units::Si)
}

#[test]
fn every_element_closes_and_the_same_input_gives_the_same_bytes() {
    let page = page();
    shown("compare.html", &page);
    assert_closed(&page);
    assert_eq!(page, self::page());
    let body = &page[page.find("<body>").unwrap()..];
    assert!(!body.contains("style=") && !body.contains("fill=\"#"));
    assert!(page.contains("An invented caution"));
}

#[test]
fn nothing_is_fetched() {
    let page = page();
    for way in ["http:", "https:", "//", "@import", "src=", "<link", "fetch(", "<script"] {
        assert!(!page.contains(way), "{way}");
    }
}

/// Width of the frame of a figure, drawing units.
fn width(svg: &str) -> f64 {
    let frame = svg.split("viewBox=\"").nth(1).unwrap().split('"').next().unwrap();
    frame.split(' ').nth(2).unwrap().parse().unwrap()
}

#[test]
fn designs_of_different_size_are_drawn_at_one_scale() {
    let small = response();
    let mut large = response();
    // The same mount with a bracket that reaches twice as far up.
    let scene = large.scene.as_mut().unwrap();
    let bracket = scene.solids.iter_mut().find(|s| s.mount_id == "FL" && s.kind != "rail").unwrap();
    let corners = || bracket.faces.iter().flat_map(|f| &f.corners).map(|c| c.z_mm);
    let low = corners().fold(f64::INFINITY, |a, b| if b < a { b } else { a });
    for corner in bracket.faces.iter_mut().flat_map(|face| &mut face.corners) {
        corner.z_mm = low + 2.0 * (corner.z_mm - low);
    }
    let own = |response: &v1::CheckProjectResponse| {
        let mount = response.mounts[0].clone();
        let alone = crate::views::mount::side_by_side(&[(given(response), &mount)]);
        bar(alone[0].2[0].as_ref().unwrap())
    };
    let both = crate::views::mount::side_by_side(&[
        (given(&small), &small.mounts[0]),
        (given(&large), &large.mounts[0]),
    ]);
    for (name, _, drawn) in &both {
        let [a, b] = [0, 1].map(|at| drawn[at].as_ref().unwrap());
        // One length on the sheet for one length of steel, in frames of one width.
        assert_eq!(bar(a), bar(b), "{name}");
        assert!((width(a) - width(b)).abs() < 1e-9, "{name}");
    }
    // Each alone would have been drawn at another scale.
    assert_ne!(own(&small), own(&large));
}

fn given(response: &v1::CheckProjectResponse) -> Given<'_> {
    Given { project: None, response, units: Units::Si, showing: None }
}

/// Drawing units a mm, from the bar of the scale: its name is its length in mm.
fn bar(svg: &str) -> i64 {
    let lines: Vec<&str> = svg.split("<line ").skip(1).collect();
    let value = |line: &str, name: &str| -> f64 {
        let text = line.split(&format!("{name}=\"")).nth(1).unwrap();
        text.split('"').next().unwrap().parse().unwrap()
    };
    let name = svg.split("\u{20}mm</text>").next().unwrap();
    let length: f64 = name.rsplit('>').next().unwrap().parse().unwrap();
    // The bar begins at the left of the frame, 14 units in.
    let bar = lines.iter().find(|l| {
        l.contains("class=\"dim\"")
            && (value(l, "x1") - 14.0).abs() < 1e-9
            && (value(l, "y1") - value(l, "y2")).abs() < 1e-9
    });
    let bar = bar.unwrap();
    // To a thousandth of a unit a mm: the sheet carries two decimals.
    #[allow(clippy::cast_possible_truncation)]
    let thousandths = ((value(bar, "x2") - value(bar, "x1")) / length * 1e3).round() as i64;
    thousandths
}

#[test]
fn a_joint_that_a_design_lacks_is_told() {
    let page = page();
    let welds = page.split("id=\"welds\"").nth(1).unwrap().split("</section>").next().unwrap();
    assert!(welds.contains(">none<") && welds.contains(">938<"), "{welds}");
    assert!(welds.contains("in all A 640 mm, B 1578 mm"));
    // The longest plate is 938 long on 440 - 76 - 20 units; one of 640 is 640/938 of it: by hand
    // from x 20 to 364, and to 20 + 234.71.
    assert!(welds.contains("364") && welds.contains("254.7"), "{welds}");
}

#[test]
fn what_only_plates_judge_is_not_said_to_resist_every_step() {
    let told = |by_hand| {
        let mut comparison = comparison();
        comparison.designs[0].way.as_mut().unwrap().limits[0].hand_utilisation = by_hand;
        comparison_page(&asked(), &comparison, Units::Si)
    };
    assert!(told(None).contains("only plates judge it; no step was weighed"));
    assert!(told(Some(3.48)).contains("no single step moves it"));
}

#[test]
fn text_from_outside_stays_text() {
    let hostile = "</title></style><script>alert('\"&')</script>";
    let mut comparison = comparison();
    comparison.sentence = hostile.to_owned();
    for joint in &mut comparison.joints {
        joint.name = hostile.to_owned();
    }
    let used = |row: &str| v1::ComparedUse {
        worst: Some(v1::UsedRow {
            row_id: row.to_owned(),
            utilisation: 0.4,
            case_name: hostile.to_owned(),
        }),
    };
    comparison.checks = vec![v1::ComparedCheck {
        mount_id: hostile.to_owned(),
        kind: hostile.to_owned(),
        short_what: hostile.to_owned(),
        uses: vec![used(hostile), used(hostile)],
    }];
    for design in &mut comparison.designs {
        design.answer.iter_mut().for_each(|answer| answer.title = hostile.to_owned());
        design.movements.iter_mut().for_each(|m| m.most_case_name = hostile.to_owned());
    }
    let page = comparison_page(&asked(), &comparison, Units::Si);
    assert_closed(&page);
    assert!(!page.contains("<script"));
    assert_eq!(page.matches("</style>").count(), 1);
}

#[test]
fn an_empty_comparison_and_broken_numbers_are_a_page() {
    let empty = comparison_page(&Default::default(), &v1::Comparison::default(), Units::Si);
    assert_closed(&empty);
    assert!(empty.contains("does not approve a vehicle"));
    let mut broken = comparison();
    for design in &mut broken.designs {
        design.measure = f64::NAN;
        design.worst.iter_mut().for_each(|w| w.utilisation = f64::NAN);
        design.movements.iter_mut().for_each(|m| m.travel_mm = vec![f64::NAN]);
        for mount in design.answer.iter_mut().flat_map(|a| &mut a.mounts) {
            mount.utilisation_by_case = vec![f64::INFINITY; 3];
        }
    }
    let page = comparison_page(&asked(), &broken, Units::Us);
    assert_closed(&page);
    assert!(!page.contains("NaN") && !page.contains("inf<"));
}
