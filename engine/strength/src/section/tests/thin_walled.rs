//! Midline sections against Bredt, Batho and Vlasov (Megson, Aircraft Structures; from memory), evaluated by hand or by an
//! independent program.

use super::{MM, agrees, agrees_mm};
use crate::section::{
    BuiltUp, BuiltUpTorsion, Channel, Flat, Hat, Midline, MidlineWall, MultiCell, Placed,
    RectangularTube, SectionShape, TorsionMethod, WallSupport,
};

#[test]
fn top_hat_rail_open_and_closed() {
    let open = Hat::open(60.0 * MM, 45.0 * MM, 18.0 * MM, 1.5 * MM).unwrap();
    let p = SectionShape::from(open).properties();
    agrees_mm("open A", p.area, 2, 279.0, 1e-6);
    agrees_mm("open centroid", p.centroid_z, 1, 25.403_225_806_451_612, 1e-6);
    agrees_mm("open Iy", p.i_y, 4, 93_329.637_096_774_2, 1e-6);
    agrees_mm("open Iz", p.i_z, 4, 232_092.0, 1e-6);
    agrees_mm("open It", p.torsion.constant, 4, 209.25, 1e-6);
    assert!(p.enclosed_area.is_none() && p.warping_constant > 0.0);
    let supports: Vec<WallSupport> = p.walls.iter().map(|w| w.support).collect();
    let (i, o) = (WallSupport::Internal, WallSupport::Outstand);
    assert_eq!(supports, [o, i, i, i, o]);

    let closed =
        Hat::closed(60.0 * MM, 45.0 * MM, 18.0 * MM, 1.5 * MM, 96.0 * MM, 1.2 * MM).unwrap();
    let flows = closed.midline().torsion_flows();
    let shape = SectionShape::from(closed);
    let p = shape.properties();
    agrees_mm("closed A", p.area, 2, 394.2, 1e-6);
    agrees_mm("closed centroid", p.centroid_z, 1, 17.979_452_054_794_52, 1e-6);
    agrees_mm("closed Iy", p.i_y, 4, 145_945.633_561_643_83, 1e-6);
    agrees_mm("closed Iz", p.i_z, 4, 320_565.6, 1e-6);
    let cell = shape.torsion(TorsionMethod::Bredt).unwrap();
    agrees_mm("cell", cell.constant, 4, 194_400.0, 1e-6);
    agrees_mm("with overhangs", p.torsion.constant, 4, 194_461.236, 1e-6);
    assert_eq!(p.torsion.method, TorsionMethod::BredtWithOpenWalls);
    agrees(
        "hat wall at 500 N m, MPa",
        500.0 * flows[2].abs() / 0.0015 / 1e6,
        61.728_395_061_728_4,
        1e-6,
    );
    agrees("plate, MPa", 500.0 * flows[5].abs() / 0.0012 / 1e6, 77.160_493_827_160_5, 1e-6);
    agrees("least modulus is the plate's", 500.0 / cell.modulus / 1e6, 77.160_493_827_160_5, 1e-6);
    agrees_mm("enclosed", p.enclosed_area.unwrap(), 2, 2700.0, 1e-12);
    // Symmetric about z, so the shear centre lies on it.
    agrees("shear centre y", p.shear_centre.y, 0.0, 1e-12);
}

#[test]
fn two_cells_in_torsion() {
    let nodes = [(0.0, 0.0), (60.0, 0.0), (100.0, 0.0), (100.0, 50.0), (60.0, 50.0), (0.0, 50.0)];
    let nodes = nodes.map(|(y, z)| (y * MM, z * MM)).to_vec();
    let wall = |from, to, t: f64| MidlineWall { from, to, t: t * MM };
    let outer = vec![
        wall(0, 1, 2.0),
        wall(1, 2, 3.0),
        wall(2, 3, 3.0),
        wall(3, 4, 3.0),
        wall(4, 5, 2.0),
        wall(5, 0, 2.0),
    ];
    let mut walls = outer.clone();
    walls.push(wall(1, 4, 1.5));
    let midline = Midline::new(nodes.clone(), walls).unwrap();
    let flows = midline.torsion_flows();
    let cells = midline.torsion(TorsionMethod::Bredt).unwrap();
    agrees_mm("It", cells.constant, 4, 785_484.996_510_816_5, 1e-6);
    let per_mm = |flow: f64| 800.0 * flow.abs() / 1e3;
    agrees("cell 1", per_mm(flows[0]), 75.906_183_368_869_92, 1e-6);
    agrees("cell 2", per_mm(flows[2]), 86.140_724_946_695_1, 1e-6);
    agrees("common web", per_mm(flows[6]), 10.234_541_577_825_174, 1e-6);
    agrees("stress in cell 1, MPa", per_mm(flows[5]) / 2.0, 37.953_091_684_434_96, 1e-6);
    agrees("least modulus", 800.0 / cells.modulus / 1e6, 37.953_091_684_434_96, 1e-6);
    let single = Midline::new(nodes, outer).unwrap();
    let constant = single.torsion(TorsionMethod::Bredt).unwrap().constant;
    agrees_mm("without the web", constant, 4, 779_220.779_220_779_2, 1e-6);
    let p = SectionShape::from(MultiCell::new(single)).properties();
    agrees_mm("enclosed", p.enclosed_area.unwrap(), 2, 5000.0, 1e-9);
    let two = SectionShape::from(MultiCell::new(midline)).properties();
    assert!(two.enclosed_area.is_none());
}

/// Doubly symmetric I section by midline: Iw = Iz h^2 / 4 (Vlasov; EN 1993-1-1 background), shear centre at the centroid.
#[test]
fn warping_of_an_i_section() {
    let (b, h) = (0.08, 0.16);
    let nodes =
        vec![(-b / 2.0, 0.0), (0.0, 0.0), (b / 2.0, 0.0), (-b / 2.0, h), (0.0, h), (b / 2.0, h)];
    let wall = |from, to, t| MidlineWall { from, to, t };
    let walls = vec![
        wall(0, 1, 0.008),
        wall(1, 2, 0.008),
        wall(3, 4, 0.008),
        wall(4, 5, 0.008),
        wall(1, 4, 0.005),
    ];
    let shape = SectionShape::from(MultiCell::new(Midline::new(nodes, walls).unwrap()));
    let p = shape.properties();
    agrees("Iw", p.warping_constant, p.i_z * h * h / 4.0, 1e-12);
    agrees("shear centre", p.shear_centre.y.abs() + p.shear_centre.z.abs(), 0.0, 1e-12);
    agrees(
        "It",
        p.torsion.constant,
        (2.0 * b * 0.008_f64.powi(3) + h * 0.005_f64.powi(3)) / 3.0,
        1e-12,
    );
    // A force in the web's direction is carried by the web (within 10 per cent of its area).
    agrees("shear area", p.shear_area_z, h * 0.005, 0.1);
    // A force across is carried by two flanges as parabolic flow: 5/6 of their area.
    agrees("shear area across", p.shear_area_y, 2.0 * b * 0.008 * 5.0 / 6.0, 1e-9);
}

/// Cut open along one line, a thin round tube has It = 2 pi r t^3 / 3, shear centre 2 r from its centre on the far side of the
/// slit (Timoshenko, Strength of Materials, Part II; Megson). A 120-sided midline stands in for the circle.
#[test]
fn slit_tube_has_its_shear_centre_outside() {
    let (n, r, t) = (120_u32, 0.03, 0.001);
    let angle = |i: u32| f64::from(i) * std::f64::consts::TAU / f64::from(n);
    let nodes = (0..=n).map(|i| (r * angle(i).cos(), r * angle(i).sin())).collect();
    let walls = (0..n as usize).map(|i| MidlineWall { from: i, to: i + 1, t }).collect();
    let p = SectionShape::from(MultiCell::new(Midline::new(nodes, walls).unwrap())).properties();
    agrees("shear centre", p.centroid_y + p.shear_centre.y, -2.0 * r, 1e-3);
    agrees("It", p.torsion.constant, std::f64::consts::TAU * r * t.powi(3) / 3.0, 1e-3);
}

/// A channel boxed by a plate between its flange tips is a rectangular tube: same area, same second moments by the parallel-axis
/// theorem, same cell by Bredt.
#[test]
fn boxed_channel_rail() {
    let channel = Channel::new(0.100, 0.045, 0.003, 0.003, 0.0, 0.0).unwrap();
    let plate = Flat::new(0.003, 0.100).unwrap();
    let (left, right, half) = (0.0015, 0.0465, 0.0485);
    let nodes = vec![(left, -half), (right, -half), (right, half), (left, half)];
    let walls = (0..4).map(|i| MidlineWall { from: i, to: (i + 1) % 4, t: 0.003 }).collect();
    let cell = Midline::new(nodes, walls).unwrap();
    let parts = vec![
        Placed::at_offset(channel.into(), 0.0, 0.0),
        Placed::at_offset(plate.into(), 0.0465, 0.0),
    ];
    let built = BuiltUp::new(parts, BuiltUpTorsion::Cell(cell)).unwrap();
    let p = SectionShape::from(built).properties();
    let tube = RectangularTube::uniform(0.100, 0.048, 0.003, 0.0, 0.0).unwrap();
    let tube_shape = SectionShape::from(tube);
    let q = tube_shape.properties();
    agrees("A", p.area, q.area, 1e-12);
    agrees("Iy", p.i_y, q.i_y, 1e-12);
    agrees("Iz", p.i_z, q.i_z, 1e-12);
    agrees("Wpl,y", p.w_pl_y, q.w_pl_y, 1e-12);
    let bredt = tube_shape.torsion(TorsionMethod::Bredt).unwrap();
    agrees("It", p.torsion.constant, bredt.constant, 1e-12);
    agrees("shear centre at the centroid", p.shear_centre.y, 0.0, 1e-12);
    agrees("enclosed", p.enclosed_area.unwrap(), q.enclosed_area.unwrap(), 1e-12);
    // Boxing multiplies the torsion stiffness by hundreds: Bredt 4 A^2 t / s against sum b t^3 / 3.
    let open = Channel::new(0.100, 0.045, 0.003, 0.003, 0.0, 0.0).unwrap();
    let open = SectionShape::from(open).torsion(TorsionMethod::ThinWallSum).unwrap();
    agrees_mm("open sum", open.constant, 4, (2.0 * 43.5 + 97.0) * 9.0, 1e-12);
    agrees_mm("cell", bredt.constant, 4, 4.0 * (45.0 * 97.0_f64).powi(2) * 3.0 / 284.0, 1e-12);
}

/// Cut-and-close shear flow of Bredt and Batho (Megson, shear of closed thin-walled beams), evaluated exactly in an independent program: box 60 x 90
/// midline, webs 1.5 and 3 mm, flanges 2 mm: shear centre 41.28 mm from the thin web.
#[test]
fn box_with_unequal_webs() {
    let nodes = [(0.0, -45.0), (60.0, -45.0), (60.0, 45.0), (0.0, 45.0)];
    let nodes = nodes.map(|(y, z)| (y * MM, z * MM)).to_vec();
    let wall = |from, to, t: f64| MidlineWall { from, to, t: t * MM };
    let walls = vec![wall(0, 1, 2.0), wall(1, 2, 3.0), wall(2, 3, 2.0), wall(3, 0, 1.5)];
    let p = SectionShape::from(MultiCell::new(Midline::new(nodes, walls).unwrap())).properties();
    agrees_mm("centroid", p.centroid_y, 1, 36.279_069_767_441_86, 1e-12);
    agrees_mm("shear centre", p.centroid_y + p.shear_centre.y, 1, 41.28, 1e-12);
    agrees("on the axis of symmetry", p.shear_centre.z, 0.0, 1e-15);
}

/// Timoshenko and Gere, Theory of Elastic Stability, appendix (from memory): Z section of depth h, flanges b, one thickness t: shear centre at the
/// centroid, Iw = b^3 h^2 t (b + 2 h) / (12 (2 b + h)). Its product of inertia is not zero.
#[test]
fn z_section() {
    let (b, h, t) = (0.05_f64, 0.12_f64, 0.003);
    let nodes = vec![(-b, h / 2.0), (0.0, h / 2.0), (0.0, -h / 2.0), (b, -h / 2.0)];
    let walls = (0..3).map(|i| MidlineWall { from: i, to: i + 1, t }).collect();
    let p = SectionShape::from(MultiCell::new(Midline::new(nodes, walls).unwrap())).properties();
    let expected = b.powi(3) * h * h * t * (b + 2.0 * h) / (12.0 * (2.0 * b + h));
    agrees("Iw", p.warping_constant, expected, 1e-12);
    agrees("shear centre", p.shear_centre.y.abs() + p.shear_centre.z.abs(), 0.0, 1e-14);
    agrees("Iyz", p.i_yz, -b * b * t * h / 2.0, 1e-12);
}

/// Timoshenko and Gere, Theory of Elastic Stability, appendix (from memory): hat of web h, sides b, lips c turned outwards:
/// e = b (3 h^2 b + 6 h^2 c - 8 c^3) / (h^3 + 6 h^2 b + 6 h^2 c + 8 c^3 + 12 h c^2) beyond the web.
#[test]
fn shear_centre_of_a_hat_lies_above_its_top() {
    let (h, b, c) = (60.0_f64, 45.0, 18.0_f64);
    let h2 = h * h;
    let lips = 8.0 * c.powi(3);
    let e = b * (3.0 * h2 * b + 6.0 * h2 * c - lips)
        / (h.powi(3) + 6.0 * h2 * b + 6.0 * h2 * c + lips + 12.0 * h * c * c);
    let hat = Hat::open(h * MM, b * MM, c * MM, 1.5 * MM).unwrap();
    let p = SectionShape::from(hat).properties();
    agrees_mm("shear centre", p.centroid_z + p.shear_centre.z, 1, b + e, 1e-12);
}

/// A light ladder-frame rail, sharp-cornered C 100 x 45 x 3 (closed forms by hand): A 552 mm2, I 842 956 mm4, W 16 859 mm3, It 1656 mm4 (sum b t^3 / 3 of
/// 184 mm midline); worn to 2.2 mm inside, W 12 674 mm3; boxed, It 716 438 mm4.
#[test]
fn ladder_frame_rail() {
    let rail =
        |t: f64| SectionShape::from(Channel::new(0.100, 0.045, t * MM, t * MM, 0.0, 0.0).unwrap());
    let p = rail(3.0).properties();
    agrees_mm("A", p.area, 2, 552.0, 1e-9);
    agrees_mm("I", p.i_y, 4, 842_956.0, 1e-6);
    agrees_mm("W", p.w_el_y(), 3, 16_859.12, 1e-6);
    let sum = rail(3.0).torsion(TorsionMethod::ThinWallSum).unwrap();
    agrees_mm("It", sum.constant, 4, 1656.0, 1e-9);
    agrees_mm("W worn", rail(2.2).properties().w_el_y(), 3, 12_674.0, 1e-4);
    let boxed = RectangularTube::uniform(0.100, 0.045, 0.003, 0.0, 0.0).unwrap();
    let boxed = SectionShape::from(boxed).torsion(TorsionMethod::Bredt).unwrap();
    agrees_mm("It boxed", boxed.constant, 4, 716_438.0, 1e-6);
}
