//! Pictures of the invented mounts: what must be on them, what must not, and how large they are.

use super::*;
use crate::sections::plates::{PlateMount, mounts};
use crate::test_support::van::{self, plates};
use crate::test_support::wellformed::assert_closed;
use crate::units::Units;

/// The pictures of one mount.
fn shown(mount: v1::PlateMount) -> PlateMount {
    let request = van::request();
    let response = v1::CheckProjectResponse { plate_mounts: vec![mount], ..van::response() };
    mounts(crate::given::Given::new(&request, &response)).remove(0)
}

fn front() -> v1::PlateMount {
    plates::mounts(14.0).remove(0)
}

fn titled(mount: &PlateMount, title: &str) -> Picture {
    let told = mount.pictures.iter().find(|t| t.picture.title == title);
    told.unwrap_or_else(|| panic!("no picture {title}")).picture.clone()
}

#[test]
fn every_picture_is_sound_and_says_what_it_is() {
    let mount = shown(front());
    assert_eq!(mount.pictures.len() + mount.further.len(), 9);
    for Picture { svg, title, remark } in
        mount.pictures.iter().chain(&mount.further).map(|t| &t.picture)
    {
        assert_closed(svg);
        assert!(svg.contains("role=\"img\" aria-label=\"") && svg.contains("<title>"), "{title}");
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{title}");
        assert!(
            !svg.contains("style=") && !svg.contains("fill=\""),
            "{title}: colours are classes"
        );
        assert!(svg.contains("<text") && !remark.is_empty(), "{title}");
    }
}

/// The largest movement of the invented case by hand: at the free edge of the floor, 5.5 mm beside
/// the middle, it is exp(−(5.5/90)²) · √(0.62² + 0.12² + 0.48²) = 0.790 mm; cells are 11 mm wide.
#[test]
fn the_deflected_shape_states_its_scale_and_the_largest_movement() {
    let mount = shown(plates::mounts(12.0).remove(0));
    let picture = titled(&mount, "Deflected shape");
    assert!(picture.svg.contains(">0.79\u{A0}mm<"), "{}", picture.svg);
    assert!(picture.svg.contains(">movement × 20<") && picture.remark.contains("drawn 20 times"));
    assert!(picture.svg.contains("class=\"lat\""));
    assert!(mount.further.iter().all(|t| !t.picture.svg.contains("class=\"lat\"")));
    // Unloaded beside loaded, and the force of the case: √(7.14² + 2.4² + 5.3²) = 9.21 kN.
    assert!(picture.svg.contains("class=\"was\"") && picture.svg.contains(">9.21 kN<"));
}

#[test]
fn the_stress_map_has_numbers_yield_and_the_largest_value() {
    let mut given = front();
    for stress in given.views[0].stresses.iter_mut() {
        stress.largest_mpa = 101.0;
    }
    // Of three parts that are stressed alike the rail is nearest to its yield.
    given.views[0].stresses[0].largest_mpa = 187.0;
    let mount = shown(given);
    let picture = titled(&mount, "Stress on the parts");
    for text in ["187\u{A0}MPa", "Rail frame", "yield 210", "235", "MPa", "0"] {
        assert!(picture.svg.contains(&format!(">{text}<")), "{text}");
    }
    assert!(picture.svg.contains("yield 210: rail frame"));
    assert!(picture.remark.ends_with("Governs FL-6, FL-7."), "{}", picture.remark);
}

#[test]
fn above_yield_is_no_step_and_the_legend_says_so() {
    let mut given = front();
    given.parts[0].yield_mpa = 60.0;
    let mount = shown(given);
    let svg = titled(&mount, "Stress on the parts").svg;
    assert!(svg.matches("class=\"mx\"").count() >= 2 && svg.contains("above yield"));
    let svg = titled(&shown(front()), "Stress on the parts").svg;
    assert!(!svg.contains("class=\"mx\"") && !svg.contains("above yield"));
}

#[test]
fn a_run_shows_hand_limit_averaged_peak_and_its_length() {
    let mount = shown(front());
    let svg = titled(&mount, "Stress on the throat along each run").svg;
    // The numbers of the invented run 1: 28 + 0.73·138, 0.42·138 + 20.
    for text in ["peak 129\u{A0}MPa over 6\u{A0}mm", "hand 78\u{A0}MPa", "limit 208\u{A0}MPa"] {
        assert!(svg.contains(text), "{text}");
    }
    assert!(svg.contains("Front foot weld, left, run 1, P1"));
    // At the end of run 1, by hand: 2.8 mm · (28 + 138 + 11 · exp(−80/6)) MPa.
    assert!(svg.contains("80\u{A0}mm long, up to 464.8\u{A0}N/mm"));
    for class in ["basel", "scribe", "beam", "redge"] {
        assert!(svg.matches(&format!("class=\"{class}\"")).count() >= 2, "{class}");
    }
    let standing = titled(&mount, "Stress on the throat, on the runs").svg;
    assert!(standing.contains(">129<") && standing.contains(">104<"));
}

#[test]
fn stations_in_the_middle_of_their_stretches_leave_the_run_its_length() {
    let mut given = front();
    // By hand: nine stretches of 4 mm, then eleven of 3 and one of 11 mm are 80 mm.
    let stretches = [&[4.0; 9][..], &[3.0; 11], &[11.0]].concat();
    let mut end = 0.0;
    for (station, stretch) in given.runs[0].stations.iter_mut().zip(stretches) {
        station.at_mm = end + stretch / 2.0;
        end += stretch;
    }
    let svg = titled(&shown(given), "Stress on the throat along each run").svg;
    assert_eq!(svg.matches("80\u{A0}mm long").count(), 2, "{svg}");
}

#[test]
fn what_a_run_has_above_its_limit_is_marked() {
    let mut given = front();
    given.runs[0].limit_mpa = 100.0;
    let svg = titled(&shown(given), "Stress on the throat along each run").svg;
    assert_eq!(svg.matches("class=\"mx\"").count(), 1);
}

#[test]
fn a_single_point_at_the_end_of_a_run_does_not_flatten_the_rest() {
    let mut given = front();
    given.runs.truncate(1);
    given.runs[0].stations[20].stress_mpa = 4000.0;
    let mount = shown(given);
    let svg = titled(&mount, "Stress on the throat along each run").svg;
    assert!(svg.contains("cut off: single points reach 4000\u{A0}MPa") && svg.contains(">4000<"));
    // Cut off at 1.3 times the limit of 208 MPa: eight steps of 40 reach as far as 270.
    assert!(svg.contains(">320<") && !svg.contains(">3500<"), "{svg}");
    assert!(svg.contains("class=\"mx\""));
    let usual = titled(&shown(front()), "Stress on the throat along each run").svg;
    assert!(!usual.contains("cut off"));
}

#[test]
fn bolts_show_preload_hand_and_prying() {
    let svg = titled(&shown(front()), "Forces in the bolts").svg;
    // By hand: 0.86 · (39.8 − 5.1) = 29.84.
    for text in [
        "tension 39.80",
        "of it prying 5.10",
        "hand 29.84",
        "preload",
        "shear 7.53",
        "Front doubler bolt, left, no. 2, P1",
    ] {
        assert!(svg.contains(text), "{text}");
    }
    assert!(svg.contains("class=\"bt2\"") && svg.contains("class=\"scribe\""));
}

#[test]
fn buckling_names_factor_case_and_part() {
    let mount = shown(front());
    let picture = titled(&mount, "Lowest way of buckling");
    assert!(picture.svg.contains(">× 6.4<") && picture.svg.contains(">Front bracket<"));
    let words = mount.buckling.unwrap();
    assert!(words.contains("6.4 times the factored loads of P1, pothole"), "{words}");
}

#[test]
fn what_is_missing_leaves_no_frame() {
    let bare = v1::PlateMount { mount_id: "FL".to_owned(), ..v1::PlateMount::default() };
    let mount = shown(bare);
    assert!(mount.pictures.is_empty() && mount.further.is_empty());
    assert!(mount.buckling.is_none() && mount.hardpoint.is_none() && mount.size.is_none());
    let mut given = front();
    given.views[0].movements.clear();
    given.views[1].stresses.clear();
    given.runs.iter_mut().for_each(|r| r.stations.clear());
    given.bolts.clear();
    given.buckling.as_mut().unwrap().shape.clear();
    let mount = shown(given);
    let titles: Vec<&str> = mount.pictures.iter().map(|t| &*t.picture.title).collect();
    assert!(!titles.is_empty() && titles.iter().all(|t| *t == "Stress on the parts"), "{titles:?}");
    let titles: Vec<&str> = mount.further.iter().map(|t| &*t.picture.title).collect();
    assert_eq!(titles, ["Deflected shape"]);
    // The factor is still told in words.
    assert!(mount.buckling.is_some());
}

#[test]
fn numbers_that_are_none_draw_nothing() {
    let mut given = front();
    given.nodes[0].x_mm = f64::NAN;
    for view in &mut given.views {
        view.movements[5].y_mm = f64::INFINITY;
        view.stresses[0].von_mises_mpa[3] = f64::NAN;
        view.stresses[1].largest_mpa = f64::NAN;
        view.stresses[2].largest_at = None;
    }
    given.runs[0].stations[3].stress_mpa = f64::NAN;
    given.runs[1].hand_mpa = f64::NAN;
    given.bolts[0].tension_n = f64::NAN;
    given.bolts[1].preload_n = f64::INFINITY;
    given.buckling.as_mut().unwrap().load_factor = f64::NAN;
    given.hardpoint.as_mut().unwrap().move_x_n_per_mm = f64::NAN;
    let mount = shown(given);
    assert!(mount.buckling.is_none());
    for told in mount.pictures.iter().chain(&mount.further) {
        let svg = &told.picture.svg;
        assert_closed(svg);
        assert!(!svg.contains("NaN") && !svg.contains("inf"), "{}", told.picture.title);
        assert_ne!(told.picture.title, "Deflected shape", "a node has no movement");
    }
    assert_eq!(mount.hardpoint.unwrap().stiffness[0].1, "–\u{A0}kN/mm");
}

/// A page has four mounts and at most 3 MB: common practice, no source.
#[test]
fn a_mount_of_five_thousand_elements_stays_small() {
    let given = plates::mounts(4.2).remove(0);
    let cells: usize = given.parts.iter().map(|p| p.cells.len()).sum();
    assert!(cells > 5000, "{cells}");
    let mount = shown(given);
    let all = mount.pictures.iter().chain(&mount.further);
    let bytes: usize = all.map(|t| t.picture.svg.len()).sum();
    assert!(bytes < 650_000, "{bytes}");
}

#[test]
fn in_inches_the_numbers_and_the_steps_are_round_there() {
    let request = van::request();
    let response = v1::CheckProjectResponse { plate_mounts: vec![front()], ..van::response() };
    let given = crate::given::Given::new(&request, &response).in_units(Units::Us);
    let mount = mounts(given).remove(0);
    let svg = titled(&mount, "Stress on the parts").svg;
    // By hand: 210 MPa over 6.894 757 is 30.5 ksi.
    assert!(svg.contains(">yield 30.5<") && svg.contains(">ksi<"), "{svg}");
}
