//! Linear algebra: the only module that names the library behind it.
//!
//! * [`pattern`]: which entries of a symmetric matrix exist, and the order of elimination.
//! * [`factor`]: Cholesky factor of a positive definite matrix, signs of an indefinite one.
//! * [`eigen`]: lowest modes of a pencil, dense or by Lanczos steps.
//! * [`double_double`]: residuals in doubled precision.
//!
//! Everything runs on one thread: at the sizes of frames threads lose, and one order of
//! operations gives one answer.

pub(crate) mod double_double;
pub(crate) mod eigen;
pub(crate) mod factor;
pub(crate) mod pattern;

pub(crate) use double_double::Double;
pub(crate) use factor::Factor;
pub(crate) use pattern::Pattern;
