//! The scale of a map: eight flat steps of one hue, even in lightness.
//!
//! A step is built in OKLab (B. Ottosson, "A perceptual color space for image processing", 2020):
//! lightness goes in equal steps, because that is what the eye reads as more and what is left in
//! grey print and without any one kind of cone; hue stays that of the house, 285°; chroma follows
//! a flat parabola inside what a screen can show, so slow that it does not upset the evenness.
//! On dark paper the scale is turned round, so that little stays near the paper in both schemes.

use std::fmt::Write as _;

/// Steps of the scale.
pub(crate) const STEPS: u8 = 8;

/// The classes of the steps in the style sheet, the least first.
pub(crate) const CLASSES: [&str; 8] = ["m0", "m1", "m2", "m3", "m4", "m5", "m6", "m7"];

/// The class of what lies above a limit: never a step, always with a line around it.
pub(crate) const OVER: &str = "mx";

/// Hue of all steps, degrees. Common practice, no source: the violet of the house's ramps.
const HUE: f64 = 285.0;
/// Lightness of the least step and of the most on light paper.
const LIGHT: [f64; 2] = [0.92, 0.30];
/// Lightness of the least step and of the most on dark paper.
const DARK: [f64; 2] = [0.34, 0.92];
/// Chroma at its widest, the lightness where it is, and how far from there it would be none.
const CHROMA: [f64; 3] = [0.085, 0.42, 0.66];

/// Widths of steps that read as round; between two of them lies a factor of 1.5 at most.
const ROUND: [f64; 10] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0];

/// The steps of one map, from 0 up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Steps {
    /// Width of a step, in the unit of the map.
    pub(crate) width: f64,
}

impl Steps {
    /// The narrowest round steps that reach as far as `largest`.
    pub(crate) fn up_to(largest: f64) -> Self {
        if !(largest.is_finite() && largest > 0.0) {
            return Self { width: 1.0 };
        }
        let raw = largest / f64::from(STEPS);
        let power = 10f64.powf(raw.log10().floor());
        let fits = |w: &f64| w * f64::from(STEPS) >= largest * (1.0 - 1e-9);
        let width = ROUND.into_iter().map(|r| r * power).find(fits).unwrap_or(10.0 * power);
        Self { width }
    }

    /// Where the scale ends.
    pub(crate) fn end(self) -> f64 {
        self.width * f64::from(STEPS)
    }

    /// The step that a value lies in; what lies above the end belongs to the last.
    pub(crate) fn of(self, value: f64) -> usize {
        let last = CLASSES.len() - 1;
        (1..=last).rev().find(|k| value >= self.from(*k)).unwrap_or(0)
    }

    /// Where a step begins.
    pub(crate) fn from(self, step: usize) -> f64 {
        // There are eight steps.
        #[allow(clippy::cast_precision_loss)]
        let step = step as f64;
        self.width * step
    }
}

/// The variables of the style sheet for both schemes; print is on light paper.
pub(crate) fn style() -> String {
    let (light, dark) = (variables(LIGHT), variables(DARK));
    format!(
        ":root{{{light}}}@media (prefers-color-scheme:dark){{:root{{{dark}}}}}@media print{{:root{{{light}}}}}"
    )
}

fn variables(ends: [f64; 2]) -> String {
    let mut out = String::new();
    for (class, [r, g, b]) in CLASSES.iter().zip(colours(ends)) {
        let _ = write!(out, "--{class}:#{r:02X}{g:02X}{b:02X};");
    }
    out
}

/// The colours of the steps between two lightnesses.
fn colours([from, to]: [f64; 2]) -> [[u8; 3]; 8] {
    std::array::from_fn(|step| {
        #[allow(clippy::cast_precision_loss)]
        let t = step as f64 / f64::from(STEPS - 1);
        let lightness = from + t * (to - from);
        let [most, middle, reach] = CHROMA;
        let chroma = most * (1.0 - ((lightness - middle) / reach).powi(2));
        let (sin, cos) = HUE.to_radians().sin_cos();
        srgb([lightness, chroma * cos, chroma * sin])
    })
}

/// OKLab to sRGB of eight bits (Ottosson 2020; the curve of IEC 61966-2-1).
fn srgb([lightness, a, b]: [f64; 3]) -> [u8; 3] {
    let cones = [
        lightness + 0.396_337_777_4 * a + 0.215_803_757_3 * b,
        lightness - 0.105_561_345_8 * a - 0.063_854_172_8 * b,
        lightness - 0.089_484_177_5 * a - 1.291_485_548_0 * b,
    ]
    .map(|c| c * c * c);
    let [l, m, s] = cones;
    let linear = [
        4.076_741_662_1 * l - 3.307_711_591_3 * m + 0.230_969_929_2 * s,
        -1.268_438_004_6 * l + 2.609_757_401_1 * m - 0.341_319_396_5 * s,
        -0.004_196_086_3 * l - 0.703_418_614_7 * m + 1.707_614_701_0 * s,
    ];
    linear.map(|c| {
        let c = c.clamp(0.0, 1.0);
        let curved = if c <= 0.003_130_8 { 12.92 * c } else { 1.055 * c.powf(1.0 / 2.4) - 0.055 };
        // Between 0 and 255 by the clamp above.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let byte = (curved * 255.0).round() as u8;
        byte
    })
}

#[cfg(test)]
mod tests;
