//! Standard sections against the tables of their standards.
//!
//! The exact columns were computed from the nominal dimensions by composite areas and checked by polygon integration in an
//! independent program; each is asserted to half its last printed digit. The rounded handbook values (from memory) stand beside them
//! and must agree to 0.5 per cent, their rounding.

use super::{MM, agrees};
use crate::section::{Angle, RectangularTube, RoundTube, SectionProperties, SectionShape};

#[track_caller]
fn printed(what: &str, got: f64, expected: f64, half_digit: f64) {
    let off = (got - expected).abs();
    assert!(off <= half_digit * 1.001, "{what}: got {got}, printed {expected}");
}

/// EN 10056-1: legs, thickness, root radius (toe radius is half of it), then A mm2, x and y of the centroid from the heel mm, Ix, Iy, Ixy, Iu,
/// Iv cm4, Wx, Wy cm3, angle of the u axis in degrees; last A cm2, Ix cm4, Wx cm3 as the standard's table rounds them (from memory).
#[rustfmt::skip]
const ANGLES: [[f64; 18]; 15] = [
    [30.0, 30.0, 3.0, 5.0, 173.7, 8.35, 8.35, 1.405, 1.405, -0.819, 2.224, 0.585, 0.649, 0.649, 45.00, 1.74, 1.4, 0.649],
    [40.0, 40.0, 4.0, 6.0, 307.9, 11.20, 11.20, 4.473, 4.473, -2.615, 7.088, 1.858, 1.553, 1.553, 45.00, 3.08, 4.47, 1.55],
    [40.0, 40.0, 5.0, 6.0, 378.9, 11.62, 11.62, 5.427, 5.427, -3.166, 8.593, 2.261, 1.912, 1.912, 45.00, 3.79, 5.43, 1.91],
    [50.0, 50.0, 5.0, 7.0, 480.3, 14.04, 14.04, 10.964, 10.964, -6.417, 17.382, 4.547, 3.049, 3.049, 45.00, 4.8, 11.0, 3.05],
    [50.0, 50.0, 6.0, 7.0, 569.3, 14.45, 14.45, 12.841, 12.841, -7.502, 20.343, 5.339, 3.612, 3.612, 45.00, 5.69, 12.8, 3.61],
    [60.0, 60.0, 5.0, 8.0, 581.9, 16.44, 16.44, 19.371, 19.371, -11.340, 30.710, 8.031, 4.447, 4.447, 45.00, 5.82, 19.4, 4.45],
    [60.0, 60.0, 6.0, 8.0, 690.9, 16.88, 16.88, 22.792, 22.792, -13.352, 36.144, 9.441, 5.285, 5.285, 45.00, 6.91, 22.8, 5.29],
    [60.0, 60.0, 8.0, 8.0, 902.9, 17.69, 17.69, 29.153, 29.153, -16.993, 46.146, 12.161, 6.890, 6.890, 45.00, 9.03, 29.2, 6.89],
    [70.0, 70.0, 7.0, 9.0, 939.7, 19.71, 19.71, 42.298, 42.298, -24.793, 67.091, 17.505, 8.411, 8.411, 45.00, 9.4, 42.3, 8.41],
    [80.0, 80.0, 8.0, 10.0, 1226.7, 22.55, 22.55, 72.247, 72.247, -42.367, 114.614, 29.880, 12.576, 12.576, 45.00, 12.3, 72.2, 12.6],
    [60.0, 40.0, 5.0, 6.0, 478.9, 9.72, 19.55, 17.185, 6.106, -5.914, 19.749, 3.542, 4.249, 2.016, 23.44, 4.79, 17.2, 4.25],
    [65.0, 50.0, 5.0, 6.0, 553.9, 12.54, 19.94, 23.176, 11.932, -9.723, 28.785, 6.323, 5.143, 3.185, 29.98, 5.54, 23.2, 5.14],
    [75.0, 50.0, 6.0, 7.0, 719.3, 12.07, 24.38, 40.536, 14.443, -13.991, 46.619, 8.360, 8.008, 3.807, 23.50, 7.19, 40.5, 8.01],
    [80.0, 60.0, 7.0, 8.0, 937.9, 15.23, 25.09, 59.003, 28.372, -23.830, 72.015, 15.360, 10.744, 6.338, 28.64, 9.38, 59.0, 10.7],
    [100.0, 50.0, 6.0, 8.0, 870.9, 10.46, 35.07, 89.914, 15.390, -20.919, 95.385, 9.920, 13.848, 3.893, 14.65, 8.71, 89.9, 13.8],
];

#[test]
fn angles_of_en_10056_1() {
    for row in ANGLES {
        let [
            a,
            b,
            t,
            r,
            area,
            x,
            y,
            i_x,
            i_y,
            i_xy,
            i_u,
            i_v,
            w_x,
            w_y,
            degrees,
            area_m,
            i_x_m,
            w_x_m,
        ] = row;
        let shape = Angle::new(a * MM, b * MM, t * MM, r * MM, r / 2.0 * MM).unwrap();
        let p = SectionShape::from(shape).properties();
        let name = |what: &str| format!("{a}x{b}x{t} {what}");
        printed(&name("A"), p.area * 1e6, area, 0.05);
        printed(&name("x"), p.centroid_y * 1e3, x, 0.005);
        printed(&name("y"), p.centroid_z * 1e3, y, 0.005);
        printed(&name("Ix"), p.i_y * 1e8, i_x, 0.0005);
        printed(&name("Iy"), p.i_z * 1e8, i_y, 0.0005);
        printed(&name("Ixy"), p.i_yz * 1e8, i_xy, 0.0005);
        printed(&name("Iu"), p.i_max * 1e8, i_u, 0.0005);
        printed(&name("Iv"), p.i_min * 1e8, i_v, 0.0005);
        printed(&name("Wx"), p.w_el_y() * 1e6, w_x, 0.0005);
        printed(&name("Wy"), p.w_el_z() * 1e6, w_y, 0.0005);
        printed(&name("angle"), p.principal_angle.to_degrees(), degrees, 0.005);
        agrees(&name("A in the table"), p.area * 1e4, area_m, 5e-3);
        agrees(&name("Ix in the table"), p.i_y * 1e8, i_x_m, 5e-3);
        agrees(&name("Wx in the table"), p.w_el_y() * 1e6, w_x_m, 5e-3);
    }
}

/// EN 10219-2 (corner radii 2 t and t up to 6 mm wall): height, width, wall, then A cm2, Iy cm4, Wel,y, Wpl,y cm3, Iz, Wel,z, Wpl,z, It cm4, Ct cm3; last
/// A, Iy, Wel,y as the standard's table rounds them (from memory).
#[rustfmt::skip]
const TUBES: [[f64; 15]; 15] = [
    [25.0, 25.0, 2.0, 1.737, 1.483, 1.187, 1.466, 1.483, 1.187, 1.466, 2.526, 1.804, 1.74, 1.48, 1.19],
    [30.0, 30.0, 2.0, 2.137, 2.722, 1.815, 2.205, 2.722, 1.815, 2.205, 4.540, 2.747, 2.14, 2.72, 1.81],
    [40.0, 40.0, 2.0, 2.937, 6.940, 3.470, 4.134, 6.940, 3.470, 4.134, 11.277, 5.230, 2.94, 6.94, 3.47],
    [40.0, 40.0, 3.0, 4.208, 9.324, 4.662, 5.724, 9.324, 4.662, 5.724, 15.755, 7.074, 4.21, 9.32, 4.66],
    [50.0, 50.0, 3.0, 5.408, 19.467, 7.787, 9.388, 19.467, 7.787, 9.388, 32.135, 11.765, 5.41, 19.5, 7.79],
    [50.0, 50.0, 4.0, 6.948, 23.736, 9.494, 11.729, 23.736, 9.494, 11.729, 40.418, 14.431, 6.95, 23.7, 9.49],
    [60.0, 60.0, 3.0, 6.608, 35.135, 11.712, 13.952, 35.135, 11.712, 13.952, 57.091, 17.652, 6.61, 35.1, 11.7],
    [60.0, 60.0, 4.0, 8.548, 43.551, 14.517, 17.643, 43.551, 14.517, 17.643, 72.644, 21.973, 8.55, 43.6, 14.5],
    [80.0, 80.0, 4.0, 11.748, 111.043, 27.761, 33.071, 111.043, 27.761, 33.071, 180.436, 41.843, 11.7, 111.0, 27.8],
    [50.0, 30.0, 3.0, 4.208, 12.831, 5.132, 6.568, 5.700, 3.800, 4.579, 13.528, 6.489, 4.21, 12.8, 5.13],
    [60.0, 40.0, 3.0, 5.408, 25.379, 8.460, 10.532, 13.440, 6.720, 7.944, 29.284, 11.175, 5.41, 25.4, 8.46],
    [60.0, 40.0, 4.0, 6.948, 30.986, 10.329, 13.163, 16.280, 8.140, 9.895, 36.669, 13.653, 6.95, 31.0, 10.3],
    [80.0, 40.0, 3.0, 6.608, 52.251, 13.063, 16.540, 17.556, 8.778, 10.164, 43.879, 15.283, 6.61, 52.3, 13.1],
    [80.0, 40.0, 4.0, 8.548, 64.793, 16.198, 20.911, 21.485, 10.743, 12.775, 55.244, 18.844, 8.55, 64.8, 16.2],
    [100.0, 50.0, 4.0, 10.948, 134.138, 26.828, 34.099, 44.949, 17.980, 20.929, 112.994, 31.350, 10.9, 134.0, 26.8],
];

#[test]
fn tubes_of_en_10219_2() {
    for row in TUBES {
        let [h, b, t, area, i_y, w_y, wpl_y, i_z, w_z, wpl_z, i_t, c_t, area_m, i_y_m, w_y_m] = row;
        let shape = RectangularTube::uniform(h * MM, b * MM, t * MM, 2.0 * t * MM, t * MM).unwrap();
        let p = SectionShape::from(shape).properties();
        let name = |what: &str| format!("{h}x{b}x{t} {what}");
        printed(&name("A"), p.area * 1e4, area, 0.0005);
        printed(&name("Iy"), p.i_y * 1e8, i_y, 0.0005);
        printed(&name("Wel,y"), p.w_el_y() * 1e6, w_y, 0.0005);
        printed(&name("Wpl,y"), p.w_pl_y * 1e6, wpl_y, 0.0005);
        printed(&name("Iz"), p.i_z * 1e8, i_z, 0.0005);
        printed(&name("Wel,z"), p.w_el_z() * 1e6, w_z, 0.0005);
        printed(&name("Wpl,z"), p.w_pl_z * 1e6, wpl_z, 0.0005);
        printed(&name("It"), p.torsion.constant * 1e8, i_t, 0.0005);
        printed(&name("Ct"), p.torsion.modulus * 1e6, c_t, 0.0005);
        agrees(&name("A in the table"), p.area * 1e4, area_m, 5e-3);
        agrees(&name("Iy in the table"), p.i_y * 1e8, i_y_m, 5e-3);
        agrees(&name("Wel,y in the table"), p.w_el_y() * 1e6, w_y_m, 5e-3);
    }
}

const INCH: f64 = 0.0254;

fn inch(got: f64, power: i32) -> f64 {
    got / INCH.powi(power)
}

/// Inch units from the nominal dimensions (corner radii 2 t and t), computed in an independent program: A in2, Ix in4, Sx, Zx in3, Iy, J in4.
#[test]
fn inch_tubes() {
    let rows: [(f64, f64, f64, [f64; 6]); 4] = [
        (1.5, 1.5, 0.120, [0.6253, 0.1923, 0.2563, 0.3167, 0.1923, 0.3274]),
        (2.0, 2.0, 0.120, [0.8653, 0.4984, 0.4984, 0.6008, 0.4984, 0.8226]),
        (2.0, 1.0, 0.083, [0.4527, 0.2208, 0.2208, 0.2812, 0.0739, 0.1863]),
        // A500 design thickness 0.93 x 3/16 in rounded to 0.174 in.
        (3.0, 2.0, 0.174, [1.5409, 1.7646, 1.1764, 1.4809, 0.9309, 2.0612]),
    ];
    for (h, b, t, expected) in rows {
        let t = t * INCH;
        let shape = RectangularTube::uniform(h * INCH, b * INCH, t, 2.0 * t, t).unwrap();
        let p = SectionShape::from(shape).properties();
        check_inch(&format!("{h}x{b}"), &p, expected);
    }
    // AISC Manual, HSS 3x2x3/16 (from memory): A 1.54 in2, Ix 1.77 in4, Sx 1.18 in3; it uses slightly different corners.
    let t = 0.174 * INCH;
    let shape = RectangularTube::uniform(3.0 * INCH, 2.0 * INCH, t, 2.0 * t, t).unwrap();
    let p = SectionShape::from(shape).properties();
    agrees("A", inch(p.area, 2), 1.54, 5e-3);
    agrees("Ix", inch(p.i_y, 4), 1.77, 5e-3);
    agrees("Sx", inch(p.w_el_y(), 3), 1.18, 5e-3);
    for (d, t, expected) in [
        (1.5, 0.095, [0.4193, 0.1039, 0.1386, 0.1878, 0.1039, 0.2079]),
        (1.75, 0.120, [0.6145, 0.2052, 0.2345, 0.3194, 0.2052, 0.4104]),
    ] {
        let p = SectionShape::from(RoundTube::new(d * INCH, t * INCH).unwrap()).properties();
        check_inch(&format!("round {d}"), &p, expected);
    }
}

fn check_inch(name: &str, p: &SectionProperties, expected: [f64; 6]) {
    let got = [
        inch(p.area, 2),
        inch(p.i_y, 4),
        inch(p.w_el_y(), 3),
        inch(p.w_pl_y, 3),
        inch(p.i_z, 4),
        inch(p.torsion.constant, 4),
    ];
    for (what, (got, expected)) in
        ["A", "Ix", "Sx", "Zx", "Iy", "J"].iter().zip(got.iter().zip(expected))
    {
        printed(&format!("{name} {what}"), *got, expected, 0.000_05);
    }
}

/// Sharp-cornered; AISC Manual with fillets (from memory) for 2 x 2 x 1/4: A 0.944 in2, I 0.346, S 0.244, y 0.586; for 2 x 2 x 3/16: A 0.722, I 0.271, S 0.188, y 0.561.
#[test]
fn inch_angles() {
    for (t, expected, manual) in [
        (0.25, [0.9375, 0.3476, 0.2468, 0.5917], [0.944, 0.346, 0.244, 0.586]),
        (0.1875, [0.7148, 0.2724, 0.1904, 0.5692], [0.722, 0.271, 0.188, 0.561]),
    ] {
        let shape = Angle::sharp(2.0 * INCH, 2.0 * INCH, t * INCH).unwrap();
        let p = SectionShape::from(shape).properties();
        let got = [inch(p.area, 2), inch(p.i_y, 4), inch(p.w_el_y(), 3), inch(p.centroid_z, 1)];
        for i in 0..4 {
            printed(&format!("2x2x{t} no. {i}"), got[i], expected[i], 0.000_05);
            agrees(&format!("2x2x{t} no. {i} in the manual"), got[i], manual[i], 0.016);
        }
    }
}
