//! Solid outlines: tubes, angles, channels, built-up and worn sections. Unless a source is named, the expected values are
//! parallel-axis closed forms, checked by polygon integration in an independent program.

use super::{MM, agrees, agrees_mm};
use crate::section::{
    Angle, BuiltUp, BuiltUpTorsion, Channel, Edge, Flat, Placed, RectangularTube, RoundBar,
    RoundTube, SectionForces, SectionProperties, SectionShape, TorsionMethod, TubeWall,
    rectangle_coefficients,
};

fn tube(h: f64, b: f64, t: f64, outer: f64, inner: f64) -> SectionShape {
    RectangularTube::uniform(h * MM, b * MM, t * MM, outer * MM, inner * MM).unwrap().into()
}

fn angle(a: f64, b: f64, t: f64, r1: f64, r2: f64) -> SectionShape {
    Angle::new(a * MM, b * MM, t * MM, r1 * MM, r2 * MM).unwrap().into()
}

/// EN 10219-2 Annex B formulas (from memory); its table lists A 10.9 cm2, Iy 134, Iz 44.9, It 113 cm4. The exact torsion
/// constant is a finite-element solution of Saint-Venant's problem with quadratic quadrilaterals.
#[test]
fn rectangular_hollow_section_100x50x4() {
    let shape = tube(100.0, 50.0, 4.0, 8.0, 4.0);
    let p = shape.properties();
    agrees_mm("A", p.area, 2, 1_094.796_447_372_31, 1e-9);
    agrees_mm("Iy", p.i_y, 4, 1_341_383.528_778_867_6, 1e-5);
    agrees_mm("Iz", p.i_z, 4, 449_492.102_238_043_8, 1e-5);
    agrees_mm("Wel,y", p.w_el_y(), 3, 26_827.670_575_577_35, 1e-5);
    agrees_mm("Wel,z", p.w_el_z(), 3, 17_979.684_089_521_75, 1e-5);
    agrees_mm("Wpl,y", p.w_pl_y, 3, 34_098.784_122_970_355, 1e-5);
    agrees_mm("Wpl,z", p.w_pl_z, 3, 20_928.872_938_662_604, 1e-5);
    assert_eq!(p.torsion.method, TorsionMethod::En10219);
    agrees_mm("It", p.torsion.constant, 4, 1_129_939.230_975_415_6, 1e-5);
    agrees_mm("Ct", p.torsion.modulus, 3, 31_349.583_617_650_103, 1e-5);
    let bredt = shape.torsion(TorsionMethod::Bredt).unwrap();
    agrees_mm("It Bredt", bredt.constant, 4, 1_124_100.316_589_43, 1e-5);
    agrees_mm("It exact", p.torsion.constant, 4, 1_132_731.330_806_779_7, 5e-3);
    agrees("shear centre", p.shear_centre.y.abs() + p.shear_centre.z.abs(), 0.0, 0.0);
    // Flat width b - 3 t of EN 1993-1-1 Table 5.2 as used for cold-formed tubes: 100 - 12 and 50 - 12.
    let flats: Vec<f64> = p.walls.iter().map(|w| (w.c / MM).round()).collect();
    assert_eq!(flats, [38.0, 88.0, 38.0, 88.0]);
    // Closed tubes: shear area against a force along the sides is close to A h / (b + h), EN 1993-1-1 6.2.6(3).
    agrees("shear area", p.shear_area_z, p.area * 100.0 / 150.0, 0.06);
}

/// EN 10219-2 table for 48.3 x 3.2 (from memory): A 4.53 cm2, I 11.6, Wel 4.80, Wpl 6.52, It 23.2; digits from the closed forms
/// pi/4 (D^2 - d^2), pi/64 (D^4 - d^4), (D^3 - d^3)/6.
#[test]
fn round_hollow_section_48_3x3_2() {
    let p = SectionShape::from(RoundTube::new(48.3 * MM, 3.2 * MM).unwrap()).properties();
    agrees_mm("A", p.area, 2, 453.394_651_766_078_94, 1e-9);
    agrees_mm("I", p.i_y, 4, 115_856.502_109_100_81, 1e-9);
    agrees_mm("Iz", p.i_z, 4, 115_856.502_109_100_81, 1e-9);
    agrees_mm("Wel", p.w_el_y(), 3, 4_797.370_687_747_446, 1e-9);
    agrees_mm("Wpl", p.w_pl_y, 3, 6_519.754_666_666_665, 1e-9);
    agrees_mm("It", p.torsion.constant, 4, 231_713.004_218_201_62, 1e-9);
    agrees_mm("Wt", p.torsion.modulus, 3, 9_594.741_375_494_892, 1e-9);
}

struct AngleCase {
    a: f64,
    centroid: (f64, f64),
    i_y: f64,
    i_z: f64,
    i_yz: f64,
    i_max: f64,
    i_min: f64,
    degrees: f64,
    w_pl_y: f64,
}

fn check_angle(p: &SectionProperties, c: &AngleCase) {
    agrees_mm("A", p.area, 2, c.a, 1e-5);
    agrees_mm("centroid y", p.centroid_y, 1, c.centroid.0, 1e-5);
    agrees_mm("centroid z", p.centroid_z, 1, c.centroid.1, 1e-5);
    agrees_mm("Iy", p.i_y, 4, c.i_y, 1e-5);
    agrees_mm("Iz", p.i_z, 4, c.i_z, 1e-5);
    agrees_mm("Iyz", p.i_yz, 4, c.i_yz, 1e-5);
    agrees_mm("Imax", p.i_max, 4, c.i_max, 1e-5);
    agrees_mm("Imin", p.i_min, 4, c.i_min, 1e-5);
    assert!((p.principal_angle.to_degrees() - c.degrees).abs() < 0.01, "{}", p.principal_angle);
    agrees_mm("Wpl,y", p.w_pl_y, 3, c.w_pl_y, 1e-4);
}

/// Dimensions of EN 10056-1 (root radius 7, toe radius 3.5); its table (from memory) lists A 4.80 cm2, c 1.40 cm, I 11.0, Iu 17.4,
/// Iv 4.55 cm4. Exact torsion constant and shear centre: finite-element solution of Saint-Venant's problem.
#[test]
fn equal_angle_50x50x5() {
    let rolled = angle(50.0, 50.0, 5.0, 7.0, 3.5);
    let expected = AngleCase {
        a: 480.257_942_822_657_24,
        centroid: (14.036_289_380_460_284, 14.036_289_380_460_293),
        i_y: 109_642.762_455_750_77,
        i_z: 109_642.762_455_750_81,
        i_yz: -64_173.333_301_748_73,
        i_max: 173_816.095_757_499_5,
        i_min: 45_469.429_154_001_99,
        degrees: 45.0,
        w_pl_y: 5_584.524_350_240_357,
    };
    check_angle(&rolled.properties(), &expected);
    let sharp = angle(50.0, 50.0, 5.0, 0.0, 0.0);
    let expected = AngleCase {
        a: 475.0,
        centroid: (14.342_105_263_157_896, 14.342_105_263_157_896),
        i_y: 112_502.741_228_070_18,
        i_z: 112_502.741_228_070_18,
        i_yz: -66_611.842_105_263_16,
        i_max: 179_114.583_333_333_34,
        i_min: 45_890.899_122_807_02,
        degrees: 45.0,
        w_pl_y: 5684.375,
    };
    let p = sharp.properties();
    check_angle(&p, &expected);
    let by = |m| sharp.torsion(m).unwrap().constant;
    agrees_mm("It exact", by(TorsionMethod::JunctionCorrected), 4, 3_874.169_517_481_205, 1e-2);
    agrees_mm("It sum", by(TorsionMethod::ThinWallSum), 4, 3_958.333_333_333_333_5, 1e-9);
    agrees("softer one", p.torsion.constant, by(TorsionMethod::JunctionCorrected), 0.0);
    for from_heel in [p.centroid_y + p.shear_centre.y, p.centroid_z + p.shear_centre.z] {
        agrees_mm("meeting of the midlines", from_heel, 1, 2.5, 1e-9);
        assert!((from_heel / MM - 2.649_416_537_884_727_4).abs() < 0.25 * 5.0);
    }
}

/// Dimensions of EN 10056-1 for 100 x 50 x 8 (root radius 8, toe radius 4); its table (from memory) lists A 11.4 cm2, c 3.60 and
/// 1.13 cm, I 116 and 19.7, Iu 123, Iv 12.8 cm4, tan alpha 0.258. Torsion and shear centre by finite elements.
#[test]
fn unequal_angle_100x50x8() {
    let expected = AngleCase {
        a: 1_142.867_517_156_124,
        centroid: (11.274_624_985_088_925, 35.974_173_836_857_3),
        i_y: 1_162_245.269_678_396,
        i_z: 196_645.493_278_187_93,
        i_yz: -266_882.712_488_797,
        i_max: 1_231_099.362_041_661_7,
        i_min: 127_791.400_914_922_12,
        degrees: 14.466_496_737_845_679,
        w_pl_y: 31_870.090_273_105_63,
    };
    check_angle(&angle(100.0, 50.0, 8.0, 8.0, 4.0).properties(), &expected);
    let sharp = angle(100.0, 50.0, 8.0, 0.0, 0.0);
    let expected = AngleCase {
        a: 1136.0,
        centroid: (11.394_366_197_183_098, 36.394_366_197_183_096),
        i_y: 1_169_145.990_610_328_5,
        i_z: 201_545.990_610_328_68,
        i_yz: -272_112.676_056_338,
        i_max: 1_240_420.533_775_966_4,
        i_min: 130_271.447_444_690_86,
        degrees: 14.677_760_121_227_001,
        w_pl_y: 31_928.0,
    };
    let p = sharp.properties();
    check_angle(&p, &expected);
    let by = |m| sharp.torsion(m).unwrap().constant;
    agrees_mm("It exact", by(TorsionMethod::JunctionCorrected), 4, 23_683.090_662_154_835, 1e-2);
    agrees_mm("It sum", by(TorsionMethod::ThinWallSum), 4, 24_234.666_666_666_668, 1e-9);
    assert!(((p.centroid_y + p.shear_centre.y) / MM - 3.798_026).abs() < 0.25 * 8.0);
    assert!(((p.centroid_z + p.shear_centre.z) / MM - 5.632_327).abs() < 0.25 * 8.0);
    // The legs of an angle meet in its shear centre, so it doesn't warp.
    assert!(p.warping_constant < 1e-24, "{}", p.warping_constant);
}

/// Timoshenko and Goodier, Theory of Elasticity, 3rd ed., art. 109 (from memory: 0.1406/0.208, 0.196/0.231, 0.229/0.246,
/// 0.263/0.267, 0.291/0.291, 0.312/0.312); digits from the series in an independent program, first and third
/// confirmed by finite elements.
#[test]
fn torsion_of_solid_rectangles() {
    let cases = [
        (1.0, 0.140_577_014_972_161_24, 0.208_165_259_957_689_03),
        (1.5, 0.195_760_708_886_882_38, 0.230_969_128_896_898_9),
        (2.0, 0.228_681_677_128_074_55, 0.245_878_342_032_570_78),
        (3.0, 0.263_316_931_000_707_24, 0.267_208_046_188_857_9),
        (5.0, 0.291_316_751_391_390_36, 0.291_500_204_378_088_6),
        (10.0, 0.312_325_037_458_906_1, 0.312_325_113_762_567),
    ];
    for (ratio, beta, alpha) in cases {
        let got = rectangle_coefficients(ratio);
        agrees("beta", got.0, beta, 1e-5);
        agrees("alpha", got.1, alpha, 1e-5);
    }
    for (w, h) in [(30.0, 12.0), (12.0, 30.0)] {
        let p = SectionShape::from(Flat::new(w * MM, h * MM).unwrap()).properties();
        agrees_mm("J of a 30x12 bar", p.torsion.constant, 4, 12_927.085_473_225_048, 1e-5);
        let tau = 100.0 / p.torsion.modulus / 1e6;
        agrees("largest shear stress at 100 N m, MPa", tau, 89.864_332_464_198_97, 1e-5);
    }
}

/// Closed forms of a rectangle and a circle.
#[test]
fn solid_bars() {
    let p = SectionShape::from(Flat::new(60.0 * MM, 8.0 * MM).unwrap()).properties();
    agrees_mm("Iy", p.i_y, 4, 60.0 * 512.0 / 12.0, 1e-12);
    agrees_mm("Wpl,z", p.w_pl_z, 3, 8.0 * 3600.0 / 4.0, 1e-12);
    agrees("turned a quarter", p.principal_angle.to_degrees(), 90.0, 1e-12);
    let p = SectionShape::from(RoundBar::new(20.0 * MM).unwrap()).properties();
    agrees_mm("I", p.i_y, 4, std::f64::consts::PI * 160_000.0 / 64.0, 1e-12);
    agrees_mm("Wpl", p.w_pl_y, 3, 8000.0 / 6.0, 1e-12);
    agrees_mm("It", p.torsion.constant, 4, std::f64::consts::PI * 160_000.0 / 32.0, 1e-12);
}

/// Thin-walled formulas of Megson, Aircraft Structures (from memory): e = b^2 h^2 t / (4 I); exact torsion constant and shear centre by finite
/// elements.
#[test]
fn channel_100x50x5() {
    let channel = Channel::new(0.1, 0.05, 0.005, 0.005, 0.0, 0.0).unwrap();
    let shape = SectionShape::from(channel);
    let p = shape.properties();
    agrees_mm("A", p.area, 2, 950.0, 1e-6);
    agrees_mm("centroid from web back", p.centroid_y, 1, 14.342_105_263_157_896, 1e-6);
    agrees_mm("Iy", p.i_y, 4, 1_432_916.666_666_666_5, 1e-6);
    agrees_mm("Iz", p.i_z, 4, 225_005.482_456_140_37, 1e-6);
    let from_web_back = p.centroid_y + p.shear_centre.y;
    agrees_mm("e from the web midline", 0.0025 - from_web_back, 1, 17.8125, 1e-5);
    assert!((from_web_back / MM + 15.113_508_049_811_223).abs() < 0.03 * 50.0);
    agrees("on the axis of symmetry", p.shear_centre.z, 0.0, 1e-12);
    agrees_mm("Iw", p.warping_constant, 6, 352_634_541.829_427_1, 1e-6);
    let by = |m| shape.torsion(m).unwrap().constant;
    agrees_mm("It sum", by(TorsionMethod::ThinWallSum), 4, 7_916.666_666_666_667, 1e-6);
    agrees_mm("It exact", by(TorsionMethod::JunctionCorrected), 4, 7_879.533_022_329_91, 1e-2);
    assert!(shape.torsion(TorsionMethod::Bredt).is_none());
    // Sectorial coordinate from first principles: zero in the middle of the web; e h / 2 at its corners; at the tips
    // (b - e) h / 2 of the other sign. Here e = 17.8125, h = 95, b = 47.5 (midline).
    let omega = |name: &str| p.points.iter().find(|q| q.name == name).unwrap().omega;
    let corner = omega("upper web corner");
    let tip = omega("upper flange tip, outer edge");
    agrees_mm("omega of the corner", corner.abs(), 2, 17.8125 * 47.5, 1e-9);
    agrees_mm("omega of the tip", tip.abs(), 2, (47.5 - 17.8125) * 47.5, 1e-9);
    assert!(corner * tip < 0.0 && (omega("lower web corner") + corner).abs() < 1e-12);
    // A bimoment stresses the tips by B omega / Iw.
    let forces = SectionForces { bimoment: 10.0, ..SectionForces::default() };
    let (worst, stress) = p.worst_point(&forces).unwrap();
    assert!(worst.name.contains("tip"));
    let expected = 10.0 * 1e6 * (47.5 - 17.8125) * 47.5 / 352_634_541.829_427_1;
    agrees("bimoment stress, MPa", stress.abs() / 1e6, expected, 1e-6);
}

/// Parallel-axis theorem.
#[test]
fn box_rail_with_a_plate_on_top() {
    let rail = Placed::at_offset(tube(80.0, 60.0, 2.0, 0.0, 0.0), 0.0, 0.0);
    let plate = Flat::new(0.080, 0.006).unwrap();
    let plate = Placed::at_offset(plate.into(), 0.0, 0.043);
    let built = BuiltUp::new(vec![rail, plate], BuiltUpTorsion::SumOfParts).unwrap();
    let s = built.part_first_moments(1).unwrap().0;
    let shape = SectionShape::from(built);
    let p = shape.properties();
    agrees_mm("A", p.area, 2, 1024.0, 1e-6);
    agrees_mm("centroid above the box centre", p.centroid_z, 1, 20.156_25, 1e-6);
    agrees("centroid y", p.centroid_y, 0.0, 1e-15);
    agrees_mm("Iy", p.i_y, 4, 984_380.333_333_333_3, 1e-6);
    agrees_mm("Iz", p.i_z, 4, 583_765.333_333_333_3, 1e-6);
    agrees("Iyz", p.i_yz, 0.0, 1e-18);
    agrees_mm("Wel,y top", p.w_el_y_top, 3, 38_089.686_416_767_43, 1e-6);
    agrees_mm("Wel,y bottom", p.w_el_y_bottom, 3, 16_363.725_021_645_021, 1e-6);
    agrees_mm("Wpl,y", p.w_pl_y, 3, 23_182.933_333_333_323, 1e-5);
    agrees_mm("S of the plate", s, 3, 10_965.0, 1e-6);
    let cut = shape.first_moment_beyond(Edge::Top, 0.040 - p.centroid_z);
    agrees_mm("S above the seam", cut, 3, 10_965.0, 1e-6);
    let below = shape.first_moment_beyond(Edge::Bottom, p.centroid_z - 0.040);
    agrees_mm("S below the seam", below, 3, 10_965.0, 1e-6);
    let flow = 10e3 * s / p.i_y / 1e3;
    agrees("shear flow at 10 kN, N/mm", flow, 111.389_872_681_324_75, 1e-6);
    let alone = tube(80.0, 60.0, 2.0, 0.0, 0.0).torsion(TorsionMethod::Bredt).unwrap();
    agrees_mm("It of the box alone", alone.constant, 4, 601_958.117_647_058_8, 1e-9);
    assert!(p.torsion.constant > alone.constant);
    assert_eq!(p.torsion.method, TorsionMethod::SumOfParts);
    // The force stays with the box: closed form of the energy of the shear flow round its midline, 58 x 78 mm.
    let (b, h, t) = (0.058_f64, 0.078_f64, 0.002);
    let second = t * h.powi(3) / 6.0 + t * b * h * h / 2.0;
    let webs = h.powi(3) * b * b / 16.0 + b * h.powi(4) / 24.0 + h.powi(5) / 120.0;
    let energy = t * h * h * b.powi(3) / 24.0 + 2.0 * t * webs;
    let alone = tube(80.0, 60.0, 2.0, 0.0, 0.0).properties();
    agrees("shear area of the box", alone.shear_area_z, second * second / energy, 1e-9);
    agrees("shear area of the whole", p.shear_area_z, alone.shear_area_z, 0.01);
}

/// Bredt and Batho (Timoshenko, Strength of Materials, Part II; Megson); round tube by the closed forms.
#[test]
fn worn_tubes() {
    let new = SectionShape::from(RoundTube::new(60.3 * MM, 3.6 * MM).unwrap()).properties();
    let worn = RoundTube::worn(60.3 * MM, 3.6 * MM, 0.8 * MM, 0.0).unwrap();
    agrees_mm("remaining diameter", worn.diameter(), 1, 58.7, 1e-12);
    agrees_mm("remaining wall", worn.thickness(), 1, 2.8, 1e-12);
    let worn = SectionShape::from(worn).properties();
    agrees_mm("A as new", new.area, 2, 641.261_892_450_749, 1e-6);
    agrees_mm("A worn", worn.area, 2, 491.722_082_139_874_7, 1e-6);
    agrees_mm("I as new", new.i_y, 4, 258_737.149_943_393_68, 1e-6);
    agrees_mm("I worn", worn.i_y, 4, 192_549.147_576_934_75, 1e-6);
    agrees_mm("Wel worn", worn.w_el_y(), 3, 6_560.447_958_328_271, 1e-6);
    agrees_mm("It worn", worn.torsion.constant, 4, 385_098.295_153_869_5, 1e-6);
    agrees("Wel ratio", worn.w_el_y() / new.w_el_y(), 0.764_472_770_867_544, 1e-6);

    let wall = TubeWall::sound(0.0025);
    let thin = TubeWall { loss_inside: 0.0011, ..wall };
    let shape = RectangularTube::new(0.070, 0.050, [wall, thin, wall, wall], 0.0, 0.0).unwrap();
    agrees_mm("thinnest wall", shape.thinnest(), 1, 1.4, 1e-12);
    let p = SectionShape::from(shape).properties();
    agrees_mm("A", p.area, 2, 525.5, 1e-6);
    agrees_mm("centroid from the bottom", p.centroid_z + 0.035, 1, 38.113_177_925_784_95, 1e-6);
    agrees_mm("Iy", p.i_y, 4, 340_155.870_409_531_64, 1e-6);
    agrees_mm("Iz", p.i_z, 4, 227_219.791_666_666_5, 1e-6);
    agrees_mm("Wel,y bottom", p.w_el_y_bottom, 3, 8_924.888_684_745_54, 1e-6);
    agrees_mm("Wel,y top", p.w_el_y_top, 3, 10_667.600_227_386_572, 1e-6);
    assert_eq!(p.torsion.method, TorsionMethod::Bredt);
    agrees_mm("It", p.torsion.constant, 4, 389_247.914_975_784_37, 1e-5);
    let flow = 1000.0 / (2.0 * p.enclosed_area.unwrap());
    agrees("thinned wall, MPa", 1000.0 / p.torsion.modulus / 1e6, 110.489_301_873_346_12, 1e-5);
    agrees("sound walls, MPa", flow / 0.0025 / 1e6, 61.874_009_049_073_82, 1e-5);
    let intact = tube(70.0, 50.0, 2.5, 0.0, 0.0).properties();
    agrees_mm("Iy intact", intact.i_y, 4, 399_322.916_666_667, 1e-6);
    // Losing the same depth all round is the same as a tube of that size.
    let all = TubeWall { nominal: 0.004, loss_outside: 0.001, loss_inside: 0.0 };
    let all = RectangularTube::new(0.1, 0.05, [all; 4], 0.008, 0.004).unwrap();
    let got = SectionShape::from(all).properties();
    let same = tube(98.0, 48.0, 3.0, 7.0, 4.0).properties();
    agrees("A of an evenly worn tube", got.area, same.area, 1e-12);
    agrees("It of an evenly worn tube", got.torsion.constant, same.torsion.constant, 1e-12);
}

/// General bending formula (Timoshenko, Strength of Materials, Part I; Megson): sharp angle 80 (vertical) x 50 x 6, cantilever of 800 mm, 600 N down at
/// the tip. Confirmed by a principal-axes computation in an independent program.
#[test]
fn skew_bending_of_an_angle() {
    let p = angle(80.0, 50.0, 6.0, 0.0, 0.0).properties();
    agrees_mm("Imax", p.i_max, 4, 551_811.958_630_714_9, 1e-6);
    agrees_mm("Imin", p.i_min, 4, 88_635.267_175_736_72, 1e-6);
    agrees("angle", p.principal_angle.to_degrees(), 21.433_348_736_252_263, 1e-6);
    let forces = SectionForces { m_y: 480.0, ..SectionForces::default() };
    let at = |y: f64, z: f64| {
        p.bending_stress(&forces, y * MM - p.centroid_y, z * MM - p.centroid_z) / 1e6
    };
    agrees("outer top", at(0.0, 80.0), 60.108_413_217_476_1, 1e-6);
    agrees("inner top", at(6.0, 80.0), 69.385_439_414_088_89, 1e-6);
    agrees("heel", at(0.0, 0.0), -58.038_605_594_942_95, 1e-6);
    agrees("toe", at(50.0, 0.0), 19.269_946_043_496_983, 1e-6);
    let (worst, stress) = p.worst_point(&forces).unwrap();
    assert_eq!(worst.name, "toe of vertical leg, inner edge");
    agrees("worst", stress / 1e6, 69.385_439_414_088_89, 1e-6);
    let neutral = p.neutral_axis(480.0, 0.0).to_degrees();
    agrees("neutral axis", neutral, -46.313_859_573_137_144, 1e-6);
    // Axial force spreads evenly; a moment about z alone puts -y into tension.
    let pull = SectionForces { n: 744e-6 * 1e8, ..SectionForces::default() };
    agrees("axial", p.bending_stress(&pull, 0.01, 0.02), 1e8, 1e-9);
    let bar = SectionShape::from(Flat::new(0.02, 0.04).unwrap()).properties();
    let sideways = SectionForces { m_z: 100.0, ..SectionForces::default() };
    let edge = bar.bending_stress(&sideways, -0.01, 0.0);
    agrees("m_z", edge, 100.0 * 0.01 / (0.04 * 0.02_f64.powi(3) / 12.0), 1e-12);
}

/// A bend of constant thickness is a quarter ring: its area is pi/4 (ro^2 - ri^2), and the developed midline times the thickness is the area.
#[test]
fn folded_sections_have_the_area_of_their_blank() {
    let (t, ri) = (3.0, 4.0);
    let bend = std::f64::consts::FRAC_PI_2 * (ri + t / 2.0);
    let folded = SectionShape::from(Angle::folded(0.060, 0.040, t * MM, ri * MM).unwrap());
    let p = folded.properties();
    let blank = (60.0 - ri - t) + (40.0 - ri - t) + bend;
    agrees_mm("angle", p.area, 2, blank * t, 1e-12);
    agrees_mm("its torsion", p.torsion.constant, 4, blank * 27.0 / 3.0, 1e-12);
    assert!(folded.torsion(TorsionMethod::JunctionCorrected).is_none());
    let u = SectionShape::from(Channel::folded(0.080, 0.040, t * MM, ri * MM).unwrap());
    let p = u.properties();
    let blank = (80.0 - 2.0 * (ri + t)) + 2.0 * (40.0 - ri - t) + 2.0 * bend;
    agrees_mm("channel", p.area, 2, blank * t, 1e-12);
    agrees_mm("its torsion", p.torsion.constant, 4, blank * 27.0 / 3.0, 1e-12);
}
