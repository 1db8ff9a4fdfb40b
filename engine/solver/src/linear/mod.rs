//! Linear algebra: the only module that names the library behind it.
//!
//! [`Pattern`] and [`Factor`] are open to measurements and to tests from outside.
//!
//! * `pattern`: which entries of a symmetric matrix exist. Unknowns that no element tells apart
//!   are bundled (`bundles`), the bundles ordered (`ordering`, `degree`, `dissection`, `separator`), the
//!   columns of the factor gathered in dense panels (`symbolic`).
//! * `factor`: Cholesky factor of a positive definite matrix, signs of an indefinite one, panel
//!   by panel (`front`, `kernel`); solutions for many right-hand sides (`substitution`).
//! * `dense`: Cholesky factor of a full matrix.
//! * `eigen`: lowest modes of a pencil, dense or by Lanczos steps.
//! * `double_double`: residuals in doubled precision.
//!
//! One thread unless more are asked for. However many there are (`threads`), every number comes
//! from the same operations in the same order, so they change no bit.

mod bundles;
mod degree;
pub(crate) mod dense;
mod dissection;
pub(crate) mod double_double;
pub(crate) mod eigen;
pub(crate) mod factor;
mod front;
mod kernel;
mod ordering;
pub(crate) mod pattern;
#[cfg(test)]
mod samples;
mod separator;
mod substitution;
mod symbolic;
mod threads;

pub(crate) use dense::DenseFactor;
pub(crate) use double_double::Double;
pub use factor::{Factor, NotPositive};
pub(crate) use ordering::order_of_elimination;
pub use pattern::Pattern;
pub(crate) use threads::share;
