use fishplate_proto::v1::{
    ConfirmedDesign, DesignSpace, NearestMiss, OpenOption, Project, SizeBound,
};

use super::*;

fn quantity(name: &str, options: &[&str]) -> OpenQuantity {
    let option = |label: &&str| OpenOption { label: (*label).to_owned(), changes: Vec::new() };
    OpenQuantity { name: name.to_owned(), options: options.iter().map(option).collect() }
}

fn design(choice: [u32; 3], mass_kg: f64, utilisation: f64, open: bool) -> SizedDesign {
    SizedDesign {
        choice: choice.to_vec(),
        mass_kg,
        weld_length_mm: 1284.0,
        weld_volume_mm3: 10_272.0,
        cut_mm: 5210.0,
        pieces: 12,
        bolts: 16,
        cost: 0.0,
        utilisation,
        open,
    }
}

fn row(component: &str, what: &str) -> Option<DesignRow> {
    Some(DesignRow {
        mount_id: "FL".to_owned(),
        component: component.to_owned(),
        what: what.to_owned(),
    })
}

/// A made-up question: three quantities, 24 designs.
fn asked() -> SizeProjectRequest {
    let legs = ["2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm", "4.5 mm", "5 mm", "6 mm"];
    let quantities = vec![
        quantity("part.front-bracket.folded", &["U 4 mm S275", "U 5 mm S275", "U 6 mm S275"]),
        quantity("weld.front-foot.bead", &legs),
        quantity("bush-bolt", &["M12 10.9, 13 mm, 24 x 2.5 mm"]),
    ];
    let base = Project { title: "Light van, rear cradle".to_owned(), ..Project::default() };
    let mut asked = SizeProjectRequest {
        space: Some(DesignSpace { base: Some(base), quantities }),
        ..SizeProjectRequest::default()
    };
    asked.set_front_second(fishplate_proto::v1::Measure::Utilisation);
    asked
}

fn found() -> Sizing {
    let tally = SizeTally { cut: 14, known: 4, run: 5, not_buildable: 1, holding: 5, open: 1 };
    let better = SizeTally { cut: 7, known: 0, run: 1, not_buildable: 0, holding: 0, open: 0 };
    let front =
        vec![design([1, 3, 0], 11.204, 0.982, false), design([2, 5, 0], 12.618, 0.71, true)];
    Sizing {
        designs: 24,
        tally: Some(tally),
        better: Some(better),
        found: front.clone(),
        front,
        bounds: vec![SizeBound {
            row: row("weld.front-foot left", "weld: fillet, simplified method"),
            quantities: vec![0, 1],
            cells: 24,
            filled: 5,
            least_utilisation: 0.44,
            cut: 14,
        }],
        constant_rows: 96,
        miss: None,
        confirmed: vec![ConfirmedDesign {
            choice: vec![1, 3, 0],
            verdict: Verdict::Provisional as i32,
            sentence: "Provisional: what was checked holds, but 1 points are open.".to_owned(),
            utilisation: 0.982,
            governing: "bush bolt, M12 10.9: slip of a joint tightened by torque wrench".to_owned(),
            provisional_reasons: vec!["guessed: rail-steel, yield, 235 MPa".to_owned()],
        }],
        sentence: "5 of 24 designs hold; 1 more hold as far as they could be checked.".to_owned(),
    }
}

fn missed() -> Sizing {
    let tally = SizeTally { cut: 20, known: 0, run: 4, not_buildable: 0, holding: 0, open: 0 };
    let exceeding = |utilisation| ExceedingRow {
        row: row("bolt.front-bush left", "bush bolt: faces slip"),
        utilisation,
    };
    Sizing {
        designs: 24,
        tally: Some(tally),
        miss: Some(NearestMiss {
            design: Some(design([2, 7, 0], 13.4, 1.18, false)),
            rows: vec![exceeding(1.18)],
            always: vec![exceeding(1.18)],
        }),
        sentence: "None of 24 designs holds; the nearest is used to 118 %.".to_owned(),
        ..Sizing::default()
    }
}

fn plain(sizing: &Sizing, width: usize, ascii: bool) -> String {
    let text = size(&asked(), sizing, Look::new(width, ascii));
    anstream::adapter::strip_str(&text).to_string()
}

#[test]
fn the_head_says_what_was_found() {
    let text = plain(&found(), 80, false);
    for line in [
        "PROVISIONAL   Light van, rear cradle",
        "5 of 24 designs hold; 1 more hold as far as they could be checked.",
        "     a U 5 mm S275 · b 3.5 mm · c M12 10.9, 13 mm, 24 x 2.5 mm",
    ] {
        assert!(text.lines().any(|l| l == line), "no line\n{line}\nin\n{text}");
    }
    let joined = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        joined.contains("8 combinations have less, and none of them holds: 7 cut off"),
        "{text}"
    );
}

#[test]
fn where_none_holds_the_nearest_miss_is_told() {
    let text = plain(&missed(), 80, false);
    for part in ["NONE HOLDS", "Nearest miss", "exceeds whatever is chosen", "1.18"] {
        assert!(text.contains(part), "no {part} in\n{text}");
    }
}

#[test]
fn every_line_fits() {
    for sizing in [found(), missed()] {
        for width in [60, 80, 160] {
            for ascii in [false, true] {
                let text = plain(&sizing, width, ascii);
                let widest = text.lines().map(|l| l.chars().count()).max().unwrap();
                assert!(widest <= width, "{widest} > {width}\n{text}");
                assert!(!ascii || text.is_ascii(), "{text}");
            }
        }
    }
}

#[test]
fn the_layout_is_pinned() {
    assert_eq!(plain(&found(), 80, false), include_str!("golden/size-narrow.txt"));
    assert_eq!(plain(&found(), 160, false), include_str!("golden/size-wide.txt"));
}
