//! One number of several designs at once.

use pulp::Simd;
use pulp::bytemuck::{cast_slice, cast_slice_mut};
use std::ops::{Add, Div, Mul, Neg, Sub};

/// The same number of as many designs as fit into a register, one a lane.
///
/// Every operation is that of IEEE 754 in each lane on its own and none is fused, so a design has
/// the same bits in a register of any width and whatever its neighbours are.
#[derive(Clone, Copy, Debug)]
pub(super) struct Num<S: Simd> {
    simd: S,
    lanes: S::f64s,
}

impl<S: Simd> Num<S> {
    /// The same value in all lanes.
    #[inline(always)]
    pub(super) fn of(simd: S, value: f64) -> Self {
        Num { simd, lanes: simd.splat_f64s(value) }
    }

    /// The same value in all lanes, beside another number.
    #[inline(always)]
    pub(super) fn like(self, value: f64) -> Self {
        Num::of(self.simd, value)
    }

    /// The values, one a lane.
    #[inline(always)]
    pub(super) fn lanes(&self) -> &[f64] {
        cast_slice(std::slice::from_ref(&self.lanes))
    }

    /// The values to be written, one a lane.
    #[inline(always)]
    pub(super) fn lanes_mut(&mut self) -> &mut [f64] {
        cast_slice_mut(std::slice::from_mut(&mut self.lanes))
    }

    /// Square root; not a number below 0.
    #[inline(always)]
    pub(super) fn root(self) -> Self {
        Num { simd: self.simd, lanes: self.simd.sqrt_f64s(self.lanes) }
    }

    /// Without its sign.
    #[inline(always)]
    pub(super) fn size(self) -> Self {
        Num { simd: self.simd, lanes: self.simd.abs_f64s(self.lanes) }
    }

    /// In each lane `then` where this is above `limit`, else `otherwise`; also where either is not
    /// a number.
    #[inline(always)]
    pub(super) fn where_above(self, limit: Self, then: Self, otherwise: Self) -> Self {
        let mask = self.simd.greater_than_f64s(self.lanes, limit.lanes);
        Num { simd: self.simd, lanes: self.simd.select_f64s(mask, then.lanes, otherwise.lanes) }
    }
}

macro_rules! operator {
    ($name:ident, $method:ident, $lanes:ident) => {
        impl<S: Simd> $name for Num<S> {
            type Output = Self;

            #[inline(always)]
            fn $method(self, other: Self) -> Self {
                Num { simd: self.simd, lanes: self.simd.$lanes(self.lanes, other.lanes) }
            }
        }
    };
}

operator!(Add, add, add_f64s);
operator!(Sub, sub, sub_f64s);
operator!(Mul, mul, mul_f64s);
operator!(Div, div, div_f64s);

impl<S: Simd> Mul<f64> for Num<S> {
    type Output = Self;

    #[inline(always)]
    fn mul(self, other: f64) -> Self {
        self * self.like(other)
    }
}

impl<S: Simd> Neg for Num<S> {
    type Output = Self;

    #[inline(always)]
    fn neg(self) -> Self {
        Num { simd: self.simd, lanes: self.simd.neg_f64s(self.lanes) }
    }
}

/// A vector of three, one a design.
pub(super) type Three<S> = [Num<S>; 3];

/// Product with a vector that all designs share.
#[inline(always)]
pub(super) fn along<S: Simd>(v: Three<S>, axis: &[f64; 3]) -> Num<S> {
    v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2]
}

/// Cross product with a vector that all designs share: `v x arm`.
#[inline(always)]
pub(super) fn turned<S: Simd>(v: Three<S>, arm: &[f64; 3]) -> Three<S> {
    [v[1] * arm[2] - v[2] * arm[1], v[2] * arm[0] - v[0] * arm[2], v[0] * arm[1] - v[1] * arm[0]]
}
