//! Vectors of three.

/// Three components in one set of axes.
pub(crate) type Vec3 = [f64; 3];

pub(crate) fn dot(a: Vec3, b: Vec3) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

pub(crate) fn cross(a: Vec3, b: Vec3) -> Vec3 {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

pub(crate) fn add(a: Vec3, b: Vec3) -> Vec3 {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

pub(crate) fn sub(a: Vec3, b: Vec3) -> Vec3 {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

pub(crate) fn scale(s: f64, a: Vec3) -> Vec3 {
    [s * a[0], s * a[1], s * a[2]]
}

pub(crate) fn norm(a: Vec3) -> f64 {
    dot(a, a).sqrt()
}

/// First three of six: translations or forces.
pub(crate) fn head(six: &[f64; 6]) -> Vec3 {
    [six[0], six[1], six[2]]
}

/// Last three of six: rotations or moments.
pub(crate) fn tail(six: &[f64; 6]) -> Vec3 {
    [six[3], six[4], six[5]]
}

/// Six from two threes.
pub(crate) fn six(a: Vec3, b: Vec3) -> [f64; 6] {
    [a[0], a[1], a[2], b[0], b[1], b[2]]
}

/// Largest absolute component; NaN when a component is NaN.
pub(crate) fn largest(values: &[f64]) -> f64 {
    values.iter().fold(0.0, |top, v| fishplate_quantity::algebra::larger(top, v.abs()))
}

/// Whether a value is above its limit; NaN is.
pub(crate) fn exceeds(value: f64, limit: f64) -> bool {
    value > limit || value.is_nan()
}
