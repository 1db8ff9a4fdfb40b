use super::*;
use proptest::prelude::*;

fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance * expected.abs(), "{got} against {expected}");
}

fn wrench(n: f64, m_x: f64, m_y: f64) -> Wrench {
    let (force, moment) = (Vec3::new(0.0, 0.0, n), Vec3::new(m_x, m_y, 0.0));
    Wrench { force, moment, about: Vec3::zeros() }
}

fn foot() -> (BoltGroup, Bed) {
    let rows = [0.040, 0.110, 0.170];
    let bolts = rows.iter().flat_map(|&y| [-0.02, 0.02].map(|x| Bolt { x, y, area: 84.3e-6 }));
    let group = BoltGroup::new(bolts.collect()).unwrap();
    (group, Bed::rectangle([0.0, 0.1], [0.08, 0.2], 1e12).unwrap())
}

// Neutral-axis method (AISC Manual Part 7, from memory; derived: b c²/2 = Σ n A_s (d_i - c)):
// foot 200 × 80 mm, rows at 40, 110, 170 mm, two bolts of 84.3 mm² each, M = 4e6 N mm.
#[test]
fn foot_with_a_neutral_axis() {
    let (group, bed) = foot();
    let answer = bed.with_bolts(&group, 1e12, &wrench(0.0, 4000.0, 0.0)).unwrap();
    let [a, b, c] = answer.plane;
    near(-a / c, 30.943_758e-3, 1e-7);
    assert!(b.abs() < 1e-9 * c);
    near(answer.tension[0], 596.691_66, 1e-7);
    near(answer.tension[2], 5_208.805_3, 1e-7);
    near(answer.tension[4], 9_162.045_6, 1e-7);
    near(answer.peak_pressure, 24.185_075e6, 1e-7);
    near(answer.compression, 29_935.085, 1e-7);
    // M = K c I with I of the cracked section.
    near(4000.0 / (1e12 * c), 5_117_827e-12, 1e-6);
    assert!(answer.residual < 1e-12);
}

// Footing outside the kern (any foundation textbook): contact 3(B/2 - e), q = 2N/(3W(B/2 - e));
// block 300 × 120 mm, 50 kN at 95 mm.
#[test]
fn block_pressed_outside_its_kern() {
    let bed = Bed::rectangle([0.0, 0.0], [0.3, 0.12], 1e9).unwrap();
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.095, 0.0, 0.0));
    let answer = bed.press(&load).unwrap();
    near(answer.pressed_area / 0.12, 0.165, 1e-9);
    near(answer.peak_pressure, 5.050_505_1e6, 1e-8);
    near(answer.compression, 50e3, 1e-12);
}

// Inside the kern the bed is pressed all over: q = N/A (1 + 6 e/B), any foundation textbook.
#[test]
fn block_pressed_inside_its_kern() {
    let bed = Bed::rectangle([0.02, -0.01], [0.3, 0.12], 1e9).unwrap();
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.06, -0.01, 0.0));
    let answer = bed.press(&load).unwrap();
    near(answer.peak_pressure, 50e3 / 0.036 * (1.0 + 6.0 * 0.04 / 0.3), 1e-12);
}

// A square pressed on its diagonal so far out that a corner triangle alone carries: the
// pressure is a pyramid over a right isosceles triangle of legs s, N = p s²/6, its centre s/4
// from the corner along each leg (integrals of x, y over the triangle, by hand).
#[test]
fn corner_of_a_square_alone() {
    let bed = Bed::rectangle([0.0, 0.0], [0.2, 0.2], 1e9).unwrap();
    let reach = 0.1 - 0.16 / 4.0;
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, -10e3), Vec3::new(reach, reach, 0.0));
    let answer = bed.press(&load).unwrap();
    near(answer.pressed_area, 0.16 * 0.16 / 2.0, 1e-9);
    near(answer.peak_pressure, 6.0 * 10e3 / (0.16 * 0.16), 1e-9);
}

#[test]
fn a_push_beyond_the_outline_tips_the_block() {
    let bed = Bed::rectangle([0.0, 0.0], [0.3, 0.12], 1e9).unwrap();
    let load = Wrench::of_force(Vec3::new(0.0, 0.0, -50e3), Vec3::new(0.16, 0.0, 0.0));
    assert!(matches!(bed.press(&load), Err(GroupError::NoEquilibrium { .. })));
    assert!(matches!(bed.press(&wrench(1.0, 0.0, 0.0)), Err(GroupError::NoEquilibrium { .. })));
}

// Statics: a pull through the centroid of equal bolts is shared equally, nothing presses.
#[test]
fn a_plain_pull_leaves_the_bed() {
    let (group, bed) = foot();
    let pull = Wrench::of_force(Vec3::new(0.0, 0.0, 6e3), group.centroid());
    let answer = bed.with_bolts(&group, 1e12, &pull).unwrap();
    assert!(answer.tension.iter().all(|t| (t - 1e3).abs() < 1e-6));
    assert!(answer.pressed_area.abs() < 1e-15);
}

// Statics: bolts and bed together give back the load, for a neutral axis in any direction.
#[test]
fn biaxial_bending_is_in_balance() {
    let (group, bed) = foot();
    for turn in 0..12 {
        let angle = f64::from(turn) * std::f64::consts::TAU / 12.0;
        let about = group.centroid();
        let load = Wrench { about, ..wrench(-2e3, 2e3 * angle.cos(), 700.0 * angle.sin()) };
        let answer = bed.with_bolts(&group, 1e11, &load).unwrap();
        let pull: f64 = answer.tension.iter().sum();
        near(answer.compression - pull, 2e3, 1e-9);
        // Mid-point quadrature of the pressure on a fine grid is the second method.
        let (mut m_x, mut m_y) = (0.0, 0.0);
        for (bolt, t) in group.bolts().iter().zip(&answer.tension) {
            m_x += t * (bolt.y - about.y);
            m_y -= t * (bolt.x - about.x);
        }
        let (columns, rows) = (1000, 2000);
        let cell = 0.08 * 0.2 / f64::from(columns * rows);
        for i in 0..columns {
            for j in 0..rows {
                let x = -0.04 + 0.08 * (f64::from(i) + 0.5) / f64::from(columns);
                let y = 0.2 * (f64::from(j) + 0.5) / f64::from(rows);
                let [a, b, c] = answer.plane;
                let push = 1e12 * positive(-(a + b * x + c * y)) * cell;
                m_x -= push * (y - about.y);
                m_y += push * (x - about.x);
            }
        }
        let size = load.moment.norm();
        assert!((m_x - load.moment.x).abs() < 1e-4 * size, "{m_x} at {angle}");
        assert!((m_y - load.moment.y).abs() < 1e-4 * size, "{m_y} at {angle}");
    }
}

// Own recomputation with a bed of small springs: plate 120 × 84 mm, two bolts 60 mm apart in a row
// 10 mm off its middle, bed 40 times as stiff as one bolt; greatest tension 6987 N at 1.5 times the
// load. The neutral axis runs aslant and cuts a corner off.
#[test]
fn end_plate_with_a_slanting_neutral_axis() {
    let bolt = |x| Bolt { x, y: 0.0, area: 84.3e-6 };
    let group = BoltGroup::new(vec![bolt(-0.03), bolt(0.03)]).unwrap();
    let modulus = 40.0 * 1e12 * 84.3e-6 / (0.12 * 0.084);
    let bed = Bed::rectangle([-0.01, 0.0], [0.12, 0.084], modulus).unwrap();
    let answer = bed.with_bolts(&group, 1e12, &wrench(4732.2, -54.2, 153.6)).unwrap();
    near(1.5 * answer.tension[0], 6987.0, 1e-3);
    assert_eq!(answer.pressed.len(), 3);
}

proptest! {
    // Statics: with a bolt inside the pressed face every load has an equilibrium; bolts never push,
    // and doubling the load doubles the answer.
    #[test]
    fn any_load_on_bolts_inside_the_bed_is_balanced(
        places in prop::collection::vec((-0.05..0.05_f64, -0.08..0.08_f64), 1..6),
        n in -20e3..20e3_f64,
        m_x in -2e3..2e3_f64,
        m_y in -2e3..2e3_f64,
        ratio in 0.1..100.0_f64,
    ) {
        let bolts = places.iter().map(|&(x, y)| Bolt { x, y, area: 84.3e-6 }).collect();
        let group = BoltGroup::new(bolts).unwrap();
        let bed = Bed::rectangle([0.0, 0.0], [0.12, 0.18], ratio * 1e11).unwrap();
        let once = bed.with_bolts(&group, 1e12, &wrench(n, m_x, m_y)).unwrap();
        prop_assert!(once.residual < 1e-9);
        prop_assert!(once.tension.iter().all(|&t| t >= 0.0));
        let pull: f64 = once.tension.iter().sum();
        let size = larger(pull, once.compression);
        prop_assert!((pull - once.compression - n).abs() <= 1e-8 * size);
        let twice = bed.with_bolts(&group, 1e12, &wrench(2.0 * n, 2.0 * m_x, 2.0 * m_y)).unwrap();
        for (a, b) in once.tension.iter().zip(&twice.tension) {
            prop_assert!((2.0 * a - b).abs() <= 1e-6 * size);
        }
    }
}

// Any handbook: b h³/12 and h b³/12 about the axes through the middle, wherever that lies.
#[test]
fn second_moments_of_a_rectangle() {
    let bed = Bed::rectangle([0.3, -0.1], [0.08, 0.2], 1e9).unwrap();
    let [about_x, about_y] = bed.second_moments();
    near(about_x, 0.08 * 0.2_f64.powi(3) / 12.0, 1e-9);
    near(about_y, 0.2 * 0.08_f64.powi(3) / 12.0, 1e-9);
}
