//! Meshes by hand: two plates of 10 mm in one wall each, one above the other.

use super::*;

fn node(p: Space) -> v1::Position {
    v1::Position { x_mm: p[0], y_mm: p[1], z_mm: p[2] }
}

/// A square plate of `count` × `count` cells at a height.
fn plate(mount: &mut v1::PlateMount, name: &str, z: f64, low: f64, size: f64, count: u8) {
    let first = i32::try_from(mount.nodes.len()).unwrap();
    let row = i32::from(count) + 1;
    for j in 0..=count {
        for i in 0..=count {
            let at = |k: u8| low + size * f64::from(k) / f64::from(count);
            mount.nodes.push(node([at(i), at(j), z]));
        }
    }
    let mut cells = Vec::new();
    for j in 0..i32::from(count) {
        for i in 0..i32::from(count) {
            let corner = first + j * row + i;
            let nodes = vec![corner, corner + 1, corner + row + 1, corner + row];
            cells.push(v1::PlateCell { nodes });
        }
    }
    mount.parts.push(v1::PlatePart { name: name.to_owned(), cells, ..v1::PlatePart::default() });
}

/// A large plate with a small one 5 mm above its middle.
fn two() -> v1::PlateMount {
    let mut mount = v1::PlateMount::default();
    plate(&mut mount, "part.under", 0.0, 0.0, 30.0, 3);
    plate(&mut mount, "part.over", 5.0, 10.0, 10.0, 1);
    mount
}

/// 1 mm is 10 drawing units, so that numbers can be read off.
fn above(mesh: &Mesh) -> Surface<'_> {
    let sheet = Sheet { view: View::PLAN, scale: 10.0, shift: [0.0; 2] };
    Surface::new(mesh, &mesh.nodes, sheet)
}

fn painted<'f>(surface: &Surface<'_>, fill: impl Fn(&Wall) -> Fill<'f>) -> String {
    let mut figure = Figure::new();
    surface.paint(&mut figure, fill);
    figure.finish(1.0, "x", "t")
}

#[test]
fn what_lies_under_another_plate_is_left_out_and_the_rest_is_one_outline() {
    let mesh = Mesh::of(&two()).unwrap();
    let surface = above(&mesh);
    let shown = surface.flats.iter().filter(|f| f.shows).count();
    assert_eq!((surface.flats.len(), shown), (10, 9));
    let plain = |w: &Wall| match w.part.as_str() {
        "part.over" => Fill::Plain("side", "over"),
        _ => Fill::Plain("side", "under"),
    };
    let svg = painted(&surface, plain);
    assert_eq!(svg.matches("<path").count(), 2, "{svg}");
    // The eight cells around the hidden one: an outline of four corners and a hole of four.
    let under = svg.split("<path").find(|p| p.contains("class=\"under\"")).unwrap();
    assert_eq!(under.matches('z').count(), 2, "{under}");
    assert!(svg.find("class=\"under\"") < svg.find("class=\"over\""));
}

#[test]
fn a_place_shows_unless_a_plate_lies_before_it() {
    let mesh = Mesh::of(&two()).unwrap();
    let surface = above(&mesh);
    assert!(surface.shows([15.0, 15.0, 5.0]) && surface.shows([5.0, 5.0, 0.0]));
    assert!(!surface.shows([15.0, 15.0, 0.0]));
    // 5 mm under the plate: the eye still finds it there.
    assert!(surface.can_be_pointed_at([15.0, 15.0, 0.0]));
    assert!(!surface.can_be_pointed_at([15.0, 15.0, -5.0]));
}

#[test]
fn steps_end_where_the_value_passes_from_one_to_the_next() {
    let mut mount = v1::PlateMount::default();
    plate(&mut mount, "part.a", 0.0, 0.0, 10.0, 1);
    let mesh = Mesh::of(&mount).unwrap();
    let surface = above(&mesh);
    // From 0 to 20 along x over 10 mm: steps of 5 are 2.5 mm wide, the limit of 15 at 7.5 mm.
    let values = [0.0, 20.0, 20.0, 0.0];
    let steps = Steps { width: 5.0 };
    let svg = painted(&surface, |_| Fill::Steps { values: &values, steps, limit: Some(15.0) });
    let classes: Vec<&str> =
        svg.match_indices("class=\"m").map(|(at, _)| &svg[at + 7..at + 9]).collect();
    let mut sorted = classes.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, ["m0", "m1", "m2", "mx"]);
    // The plan has front left: x of 2.5 mm lies at −25.
    let first = svg.split("<path").find(|p| p.contains("class=\"m0\"")).unwrap();
    assert!(first.contains("-25 ") && !first.contains("-50 "), "{first}");
}

#[test]
fn cells_without_a_value_at_every_corner_stay_blank() {
    let mesh = Mesh::of(&two()).unwrap();
    let surface = above(&mesh);
    let values = [f64::NAN; 36];
    let steps = Steps { width: 5.0 };
    let svg = painted(&surface, |_| Fill::Steps { values: &values, steps, limit: None });
    assert!(!svg.contains("<path"), "{svg}");
    let svg = painted(&surface, |_| Fill::Steps { values: &[], steps, limit: None });
    assert!(!svg.contains("<path"));
}

/// What is painted last over a place is what lies nearest there: the order against a second method,
/// the nearest of all pieces place by place.
#[test]
fn what_is_painted_last_lies_nearest() {
    let mount = crate::test_support::van::plates::mounts(14.0).remove(0);
    let mesh = Mesh::of(&mount).unwrap();
    let values: Vec<&[f64]> = mount.views[0].stresses.iter().map(|s| &*s.von_mises_mpa).collect();
    for view in View::obliques(true) {
        let sheet = fitted(view, &mesh.bounds(&mesh.nodes), [400.0, 320.0]);
        let surface = Surface::new(&mesh, &mesh.nodes, sheet);
        let steps = Steps { width: 30.0 };
        let (pieces, classes) =
            surface.pieces(|w| Fill::Steps { values: values[w.index], steps, limit: w.yield_mpa });
        let batches = order::batches(&pieces, classes.len());
        assert_eq!(batches.iter().map(|b| b.pieces.len()).sum::<usize>(), pieces.len());
        let painted: Vec<&Piece> =
            batches.iter().flat_map(|b| &b.pieces).map(|p| &pieces[*p]).collect();
        let mut places = 0;
        for x in 0..50u8 {
            for y in 0..40u8 {
                let p = [8.0 * f64::from(x) + 0.37, 8.0 * f64::from(y) + 0.61];
                let here = |q: &&&Piece| {
                    crate::svg::geometry::inside(&q.corners, p)
                        && crate::svg::geometry::from_edge(&q.corners, p) > 0.05
                };
                let Some(last) = painted.iter().rev().find(here) else { continue };
                let depth = |q: &Piece| q.plane.depth(p);
                let all = painted.iter().filter(here);
                let nearest = all.max_by(|a, b| depth(a).total_cmp(&depth(b))).unwrap();
                places += 1;
                // Pieces of one class may lie in any order: they have one colour.
                let same = last.class == nearest.class || depth(last) > depth(nearest) - 1e-3;
                assert!(same, "{view:?} at {p:?}");
            }
        }
        assert!(places > 300, "{places}");
    }
}

#[test]
fn lines_are_drawn_once_and_only_where_they_show() {
    let mesh = Mesh::of(&two()).unwrap();
    let surface = above(&mesh);
    let drawn = |lattice: bool| {
        let mut figure = Figure::new();
        match lattice {
            true => surface.lattice(&mut figure, "x"),
            false => surface.outline(&mut figure, "x"),
        }
        figure.finish(1.0, "x", "t")
    };
    // Two squares; of the lattice the part under the small plate is left out.
    assert_eq!(drawn(false).matches('M').count(), 2);
    assert!(drawn(true).matches('M').count() >= 4);
}

#[test]
fn where_the_drawing_ends_there_is_no_line() {
    let mut mount = v1::PlateMount::default();
    plate(&mut mount, "part.a", 0.0, 0.0, 30.0, 3);
    let whole = Mesh::of(&mount).unwrap();
    let half = whole.inside(&Bounds { low: [-1.0; 3], high: [21.0, 31.0, 1.0] }).unwrap();
    assert_eq!(half.walls[0].cells.len(), 6);
    // Values are found by the places they had in the whole.
    assert_eq!(half.walls[0].cells[2].first, 12);
    let mut figure = Figure::new();
    above(&half).outline(&mut figure, "x");
    let svg = figure.finish(1.0, "x", "t");
    // Three sides in one stroke: it begins and ends at x = 20, which lies at −200.
    let d = svg.split("d=\"").nth(1).and_then(|d| d.split('"').next()).unwrap();
    assert!(d.starts_with("M-200 ") && d.matches('M').count() == 1 && !d.contains('z'), "{d}");
    assert!(whole.inside(&Bounds { low: [90.0; 3], high: [91.0; 3] }).is_none());
}

#[test]
fn what_is_no_cell_is_left_out() {
    let mut mount = two();
    mount.parts[0].cells[0].nodes[0] = 999;
    mount.parts[0].cells[1].nodes[1] = -1;
    mount.parts[0].cells[2].nodes.truncate(2);
    mount.nodes[15].x_mm = f64::NAN;
    let mesh = Mesh::of(&mount).unwrap();
    // Of nine cells three are broken, one more has the node that is no place.
    assert_eq!(mesh.walls[0].cells.len(), 5);
    // Values stay with the cells they were given for: four, four and two corners come before.
    assert_eq!(mesh.walls[0].cells[0].first, 10);
    assert!(Mesh::of(&v1::PlateMount::default()).is_none());
    assert!(mesh.moved(&[], 1.0).is_none());
}

#[test]
fn a_view_from_below_is_chosen_for_what_shows_only_there() {
    let mut mount = v1::PlateMount::default();
    plate(&mut mount, "part.under", 0.0, 10.0, 10.0, 1);
    plate(&mut mount, "part.over", 5.0, 0.0, 30.0, 3);
    let mesh = Mesh::of(&mount).unwrap();
    // All that matters is the small plate, which the large one covers from above: looked at aslant
    // its shadow is moved by 5 · 1/0.75 = 6.7 mm, less than the 10 that it reaches farther.
    let middle = |(w, _): (usize, usize)| if w == 0 { 1.0 } else { 0.0 };
    let mut seen = Vec::new();
    let (view, share) = best_view(&mesh, &mesh.nodes, middle, &mut seen);
    assert!(view.toward[2] < 0.0 && (share - 1.0).abs() < 1e-12);
    // Nothing new is left for a second view.
    assert!(best_view(&mesh, &mesh.nodes, middle, &mut seen).1 < 1e-12);
}
