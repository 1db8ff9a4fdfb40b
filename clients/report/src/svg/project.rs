//! Views: how car axes lie on the sheet, and the scale and place of the drawing.

use super::geometry::{Bounds, Point, Space, along, cross, dot, unit};

/// A direction of looking, orthographic.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct View {
    /// The direction that lies to the right on the sheet.
    pub(crate) right: Space,
    /// The direction that lies upward on the sheet.
    pub(crate) up: Space,
    /// The direction toward the eye.
    pub(crate) toward: Space,
}

impl View {
    /// From above: front to the left, the car's left side at the bottom.
    pub(crate) const PLAN: Self =
        Self { right: [-1.0, 0.0, 0.0], up: [0.0, -1.0, 0.0], toward: [0.0, 0.0, 1.0] };
    /// From the left: front to the left.
    pub(crate) const LEFT: Self =
        Self { right: [-1.0, 0.0, 0.0], up: [0.0, 0.0, 1.0], toward: [0.0, 1.0, 0.0] };
    /// From the right: front to the right.
    pub(crate) const RIGHT: Self =
        Self { right: [1.0, 0.0, 0.0], up: [0.0, 0.0, 1.0], toward: [0.0, -1.0, 0.0] };
    /// From the front, looking rearward: the car's left on the right.
    pub(crate) const FRONT: Self =
        Self { right: [0.0, 1.0, 0.0], up: [0.0, 0.0, 1.0], toward: [1.0, 0.0, 0.0] };

    /// From front, outside and above; mirrored for the right side of the car.
    pub(crate) fn oblique(left_side: bool) -> Self {
        Self::aslant([0.55, if left_side { 1.0 } else { -1.0 }, 0.75])
    }

    /// From all eight corners, the oblique view of the house first.
    pub(crate) fn obliques(left_side: bool) -> impl Iterator<Item = Self> {
        let outward = if left_side { 1.0 } else { -1.0 };
        let upright = [0.75, -0.75].into_iter();
        upright.flat_map(move |z| {
            [(0.55, outward), (-0.55, outward), (0.55, -outward), (-0.55, -outward)]
                .map(|(x, y)| Self::aslant([x, y, z]))
        })
    }

    /// From a direction that is neither up nor down alone; up stays up.
    fn aslant(from: Space) -> Self {
        let toward = unit(from).unwrap_or(Self::FRONT.toward);
        let right = unit(cross([0.0, 0.0, 1.0], toward)).unwrap_or(Self::FRONT.right);
        Self { right, up: cross(toward, right), toward }
    }

    /// From where one looks, in words: `front, left and above`.
    pub(crate) fn words(&self) -> String {
        let names = [("front", "behind"), ("left", "right"), ("above", "below")];
        let [x, y, z] = [0, 1, 2].map(|k| {
            let (plus, minus): (&str, &str) = names[k];
            if self.toward[k] > 0.0 { plus } else { minus }
        });
        format!("{x}, {y} and {z}")
    }

    /// The place of `p` in mm on the sheet, before scale; y grows downward.
    pub(crate) fn flat(&self, p: Space) -> Point {
        [dot(self.right, p), -dot(self.up, p)]
    }

    /// How near the eye `p` is, mm.
    pub(crate) fn depth(&self, p: Space) -> f64 {
        dot(self.toward, p)
    }

    /// The point of space at a place on the sheet and a depth.
    pub(crate) fn back(&self, flat: Point, depth: f64) -> Space {
        let across = along(self.right.map(|c| c * flat[0]), -flat[1], self.up);
        along(across, depth, self.toward)
    }
}

/// A view with scale and place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sheet {
    pub(crate) view: View,
    /// Drawing units per mm.
    pub(crate) scale: f64,
    /// What is added after the scale.
    pub(crate) shift: Point,
}

impl Sheet {
    /// The view with `bounds` (in mm on the sheet) centred on `middle`.
    pub(crate) fn centred(view: View, scale: f64, bounds: &Bounds<2>, middle: Point) -> Self {
        let own = bounds.middle();
        let shift = [middle[0] - scale * own[0], middle[1] - scale * own[1]];
        Self { view, scale, shift }
    }

    /// The same, moved on the sheet.
    pub(crate) fn shifted(self, by: Point) -> Self {
        Self { shift: [self.shift[0] + by[0], self.shift[1] + by[1]], ..self }
    }

    /// The place of `p` in drawing units.
    pub(crate) fn at(&self, p: Space) -> Point {
        let flat = self.view.flat(p);
        [self.scale * flat[0] + self.shift[0], self.scale * flat[1] + self.shift[1]]
    }

    /// The vector `v`, of any unit, times `factor`, on the sheet.
    pub(crate) fn vector(&self, v: Space, factor: f64) -> Point {
        self.view.flat(v).map(|c| c * factor)
    }
}

/// The bounds on the sheet, in mm, of a box in space.
pub(crate) fn flat_bounds(view: &View, bounds: &Bounds<3>) -> Bounds<2> {
    let mut out = Bounds::empty();
    for corner in 0..8 {
        let pick = |axis: usize| {
            if corner >> axis & 1 == 0 { bounds.low[axis] } else { bounds.high[axis] }
        };
        out.add(view.flat([pick(0), pick(1), pick(2)]));
    }
    out
}

// Points by hand: axes of ISO 8855 (x forward, y left, z up) seen from the stated sides.
#[cfg(test)]
mod tests {
    use super::*;

    fn close(got: Point, wanted: Point) {
        assert!((got[0] - wanted[0]).abs() < 1e-9, "{got:?} {wanted:?}");
        assert!((got[1] - wanted[1]).abs() < 1e-9, "{got:?} {wanted:?}");
    }

    #[test]
    fn the_views_lay_the_car_as_they_say() {
        let mount = [330.0, 480.0, 420.0];
        close(View::PLAN.flat(mount), [-330.0, 480.0]);
        close(View::LEFT.flat(mount), [-330.0, -420.0]);
        close(View::RIGHT.flat(mount), [330.0, -420.0]);
        close(View::FRONT.flat(mount), [480.0, -420.0]);
    }

    #[test]
    fn every_view_is_seen_from_a_side_of_right_and_up() {
        for view in [
            View::PLAN,
            View::LEFT,
            View::RIGHT,
            View::FRONT,
            View::oblique(true),
            View::oblique(false),
        ] {
            let toward = cross(view.right, view.up);
            assert!((dot(toward, view.toward) - 1.0).abs() < 1e-12);
            assert!(dot(view.right, view.up).abs() < 1e-12);
        }
    }

    #[test]
    fn the_oblique_view_shows_three_axes() {
        // By hand, with n = √(0.55² + 1 + 0.75²) = 1.365650 and m = √(0.55² + 1) = 1.141271:
        // x goes (−1/m, 0.55·0.75/(n m)), y goes (0.55/m, 0.75/(n m)), z goes (0, −m/n).
        let view = View::oblique(true);
        close_to(view.flat([1.0, 0.0, 0.0]), [-0.876_216, 0.264_664]);
        close_to(view.flat([0.0, 1.0, 0.0]), [0.481_919, 0.481_208]);
        close_to(view.flat([0.0, 0.0, 1.0]), [0.0, -0.835_698]);
    }

    fn close_to(got: Point, wanted: Point) {
        assert!((got[0] - wanted[0]).abs() < 1e-5 && (got[1] - wanted[1]).abs() < 1e-5, "{got:?}");
    }

    #[test]
    fn a_place_on_the_sheet_leads_back_to_its_point() {
        let (view, p) = (View::oblique(false), [12.0, -7.0, 3.0]);
        let back = view.back(view.flat(p), view.depth(p));
        assert!((0..3).all(|i| (back[i] - p[i]).abs() < 1e-9));
    }

    #[test]
    fn a_sheet_centres_what_it_shows() {
        let bounds = Bounds { low: [0.0, 0.0], high: [100.0, 50.0] };
        let sheet = Sheet::centred(View::FRONT, 2.0, &bounds, [230.0, 100.0]);
        close(sheet.at([0.0, 50.0, -25.0]), [230.0, 100.0]);
        close(sheet.at([0.0, 60.0, -25.0]), [250.0, 100.0]);
    }
}
