use fishplate_proto::v1;

use super::*;
use crate::test_support::wellformed::assert_closed;

fn design(choice: u32, mass_kg: f64, utilisation: f64, open: bool) -> SizedDesign {
    SizedDesign {
        choice: vec![choice],
        mass_kg,
        weld_length_mm: 1284.0,
        utilisation,
        open,
        ..SizedDesign::default()
    }
}

fn asked() -> SizeProjectRequest {
    let option = |label: &str| v1::OpenOption { label: label.to_owned(), changes: Vec::new() };
    let open = v1::OpenQuantity {
        name: "part.<b>.plate".to_owned(),
        options: vec![option("4 mm"), option("5 mm")],
    };
    let base = v1::Project { title: "Van & cradle".to_owned(), ..v1::Project::default() };
    let space = v1::DesignSpace { base: Some(base), quantities: vec![open] };
    SizeProjectRequest { space: Some(space), ..SizeProjectRequest::default() }
}

fn sizing() -> v1::Sizing {
    let front = vec![design(0, 11.2, 0.98, false), design(1, 12.6, 0.71, true)];
    v1::Sizing {
        designs: 2,
        tally: Some(v1::SizeTally { run: 2, holding: 1, open: 1, ..v1::SizeTally::default() }),
        better: Some(v1::SizeTally::default()),
        found: front.clone(),
        front,
        bounds: vec![v1::SizeBound {
            row: Some(v1::DesignRow {
                mount_id: "FL".to_owned(),
                component: "weld.foot left".to_owned(),
                what: "weld: throat".to_owned(),
            }),
            quantities: vec![0],
            cells: 2,
            filled: 2,
            least_utilisation: 0.7,
            cut: 0,
        }],
        sentence: "1 of 2 designs hold; 1 more hold as far as they could be checked.".to_owned(),
        ..v1::Sizing::default()
    }
}

#[test]
fn a_page_says_what_was_found_and_is_sound() {
    let page = sizing_page(&asked(), &sizing(), Units::Si);
    assert_closed(&page);
    for part in [
        "1 of 2 designs hold",
        "Mass of steel 11.200 kg: no combination has less.",
        "weld.foot left",
        "as far as checked",
    ] {
        assert!(page.contains(part), "no {part} in\n{page}");
    }
    assert!(!page.contains("part.<b>"), "{page}");
}

// By hand: 0.453 592 37 kg a pound; 25.4 mm an inch.
#[test]
fn values_are_printed_in_the_units_asked_for() {
    let one = design(0, 11.2, 0.98, false);
    assert_eq!(value(&one, Measure::Mass, Units::Si), "11.200 kg");
    assert_eq!(value(&one, Measure::Mass, Units::Us), "24.692 lb");
    assert_eq!(value(&one, Measure::WeldLength, Units::Us), "51 in");
    assert_eq!(value(&one, Measure::Utilisation, Units::Us), "0.98");
}

#[test]
fn each_design_of_the_front_is_a_point() {
    let by = [Measure::Mass, Measure::Utilisation];
    let svg = draw::front(&sizing().front, by, Units::Si);
    assert_closed(&svg);
    assert_eq!(svg.matches("<circle").count(), 2, "{svg}");
    assert_eq!(svg.matches("class=\"highend\"").count(), 1, "{svg}");
}
