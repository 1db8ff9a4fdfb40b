//! The scale measured by means that did not build it: CIELAB and published cone matrices.

use super::*;

type Rgb = [f64; 3];

fn linear(colour: [u8; 3]) -> Rgb {
    colour.map(|c| {
        let c = f64::from(c) / 255.0;
        // IEC 61966-2-1.
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    })
}

/// CIE 15:2004, 8.2.1, for D65 white and the primaries of IEC 61966-2-1.
fn cielab([r, g, b]: Rgb) -> [f64; 3] {
    let xyz = [
        (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505,
        0.2126 * r + 0.7152 * g + 0.0722 * b,
        (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089,
    ];
    let [x, y, z] = xyz.map(|t| {
        if t > (6.0f64 / 29.0).powi(3) {
            t.cbrt()
        } else {
            t * (29.0f64 / 6.0).powi(2) / 3.0 + 4.0 / 29.0
        }
    });
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// CIE 1976 colour difference, CIE 15:2004, 8.2.1.3.
fn apart(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (cielab(a), cielab(b));
    (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt()
}

/// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of
/// color vision deficiency", IEEE TVCG 15 (2009), severity 1.0, on linear RGB; from memory. Every row
/// sums to 1: grey stays grey.
const DICHROMATS: [(&str, [[f64; 3]; 3]); 3] = [
    (
        "without long cones",
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
    ),
    (
        "without middle cones",
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
    ),
    (
        "without short cones",
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ),
];

fn seen(matrix: &[[f64; 3]; 3], c: Rgb) -> Rgb {
    std::array::from_fn(|i| (0..3).map(|k| matrix[i][k] * c[k]).sum::<f64>().clamp(0.0, 1.0))
}

fn both() -> [(&'static str, [Rgb; 8]); 2] {
    [("light", colours(LIGHT).map(linear)), ("dark", colours(DARK).map(linear))]
}

/// What an eye just tells apart side by side: M. Mahy, L. Van Eycken, A. Oosterlinck, Color Research
/// and Application 19 (1994), p. 105; from memory.
const JUST_SEEN: f64 = 2.3;

/// Flat steps beside a legend need several times that. Common practice, no source: three times.
const TOLD_APART: f64 = 3.0 * JUST_SEEN;

#[test]
fn lightness_goes_one_way_in_even_steps() {
    for (scheme, scale) in both() {
        let lightness = scale.map(|c| cielab(c)[0]);
        let steps: Vec<f64> = lightness.windows(2).map(|w| w[1] - w[0]).collect();
        let mean = (lightness[7] - lightness[0]) / 7.0;
        assert!(mean.abs() > 8.0, "{scheme}: {mean}");
        for step in &steps {
            // The two colour spaces measure lightness by different primaries; eight bits add a
            // little.
            assert!((step / mean - 1.0).abs() < 0.08, "{scheme}: {steps:?}");
        }
    }
}

#[test]
fn neighbours_are_evenly_apart() {
    for (scheme, scale) in both() {
        let steps: Vec<f64> = scale.windows(2).map(|w| apart(w[0], w[1])).collect();
        let mean = steps.iter().sum::<f64>() / 7.0;
        for step in &steps {
            // No eye sees that one step is larger than another.
            assert!((step - mean).abs() < JUST_SEEN, "{scheme}: {steps:?}");
        }
    }
}

#[test]
fn whoever_lacks_one_kind_of_cone_tells_neighbours_apart_and_which_is_more() {
    for (scheme, scale) in both() {
        for (who, matrix) in &DICHROMATS {
            let shown = scale.map(|c| seen(matrix, c));
            let way = (cielab(shown[7])[0] - cielab(shown[0])[0]).signum();
            for pair in shown.windows(2) {
                let (a, b) = (pair[0], pair[1]);
                assert!(apart(a, b) > TOLD_APART, "{scheme}, {who}: {}", apart(a, b));
                assert!(way * (cielab(b)[0] - cielab(a)[0]) > TOLD_APART, "{scheme}, {who}");
            }
        }
    }
}

/// The warm of the house, which marks what exceeds, as it stands in the style sheet.
fn warm() -> [Rgb; 2] {
    let style = include_str!("../../../templates/style.css");
    let mut found = style.match_indices("--warm:#").map(|(at, name)| {
        let hex = &style[at + name.len()..at + name.len() + 6];
        let byte = |k: usize| u8::from_str_radix(&hex[k..k + 2], 16).unwrap();
        linear([byte(0), byte(2), byte(4)])
    });
    [found.next().unwrap(), found.next().unwrap()]
}

#[test]
fn what_exceeds_is_never_taken_for_a_step() {
    for ((scheme, scale), warm) in both().into_iter().zip(warm()) {
        for colour in scale {
            assert!(apart(colour, warm) > 3.0 * TOLD_APART, "{scheme}");
            for (who, matrix) in &DICHROMATS {
                let distance = apart(seen(matrix, colour), seen(matrix, warm));
                assert!(distance > 2.0 * TOLD_APART, "{scheme}, {who}: {distance}");
            }
        }
    }
}

#[test]
fn every_colour_can_be_shown() {
    // What cannot is cut off at 0 or 255: no channel of a step may lie there.
    for ends in [LIGHT, DARK] {
        let cut = |c: [u8; 3]| c.iter().any(|b| matches!(b, 0 | 255));
        assert!(!colours(ends).into_iter().any(cut), "{:?}", colours(ends));
    }
}

#[test]
fn the_largest_value_lies_in_one_of_the_last_steps() {
    for (largest, width) in [(212.0, 30.0), (235.0, 30.0), (8.0, 1.0), (0.47, 0.06), (1.0, 0.15)] {
        let steps = Steps::up_to(largest);
        assert!((steps.width / width - 1.0).abs() < 1e-9, "{largest}: {}", steps.width);
        assert!(steps.of(largest) >= 5 && steps.end() >= largest * (1.0 - 1e-9));
    }
    let steps = Steps { width: 25.0 };
    assert_eq!([0.0, 24.9, 25.0, 199.0, 400.0, f64::NAN].map(|v| steps.of(v)), [0, 0, 1, 7, 7, 0]);
    assert!((Steps::up_to(f64::NAN).width - 1.0).abs() < 1e-12);
}

#[test]
fn the_style_has_every_step_for_both_schemes_and_for_print() {
    let style = style();
    for class in CLASSES {
        assert_eq!(style.matches(&format!("--{class}:#")).count(), 3, "{class}");
    }
}
