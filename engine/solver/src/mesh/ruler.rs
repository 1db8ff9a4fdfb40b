//! A length measured in elements whose size changes along it.

use super::divide::TooMany;
use fishplate_quantity::algebra::smaller;

/// Elements counted along a length.
#[derive(Debug)]
pub(super) struct Ruler {
    /// Elements from the start, distance from the start: both rising.
    marks: Vec<(f64, f64)>,
}

impl Ruler {
    /// Measures `length` by the size at each distance from its start; takes its steps from
    /// `left`.
    pub(super) fn new(
        length: f64,
        size_at: impl Fn(f64) -> f64,
        left: &mut usize,
    ) -> Result<Self, TooMany> {
        let mut marks = vec![(0.0, 0.0)];
        let (mut elements, mut s, mut size) = (0.0, 0.0, size_at(0.0));
        while s < length {
            *left = left.checked_sub(1).ok_or(TooMany)?;
            let next = smaller(length, s + 0.25 * size);
            let size_there = size_at(next);
            elements += 0.5 * (next - s) * (1.0 / size + 1.0 / size_there);
            marks.push((elements, next));
            (s, size) = (next, size_there);
        }
        Ok(Self { marks })
    }

    /// How many pairs of elements there should be: one or more.
    pub(super) fn pairs(&self) -> usize {
        // A tenth of a pair is made up by the others.
        (0.5 * self.elements() - 0.1).ceil().clamp(1.0, 1e9) as usize
    }

    /// Distances of the places between `count` elements, without the ends.
    pub(super) fn between(&self, count: usize) -> impl Iterator<Item = f64> + '_ {
        (1..count).map(move |k| self.distance(k as f64 / count as f64))
    }

    fn elements(&self) -> f64 {
        self.marks.last().map_or(0.0, |mark| mark.0)
    }

    /// The distance that has a share of the elements before it.
    fn distance(&self, share: f64) -> f64 {
        let sought = share * self.elements();
        let after =
            self.marks.partition_point(|mark| mark.0 < sought).clamp(1, self.marks.len() - 1);
        let ((e0, s0), (e1, s1)) = (self.marks[after - 1], self.marks[after]);
        if e1 > e0 { s0 + (s1 - s0) * (sought - e0) / (e1 - e0) } else { s1 }
    }
}
