//! Units of the wire in SI: a number that comes in is multiplied by one of these, one that goes
//! out is divided, each once.

use std::f64::consts::PI;

/// A millimetre, m.
pub(crate) const MM: f64 = 1e-3;
/// A square millimetre, m².
pub(crate) const MM2: f64 = 1e-6;
/// mm³ in m³.
pub(crate) const MM3: f64 = 1e-9;
/// mm⁴ in m⁴.
pub(crate) const MM4: f64 = 1e-12;
/// mm⁶ in m⁶.
pub(crate) const MM6: f64 = 1e-18;
/// N mm in N m.
pub(crate) const NMM: f64 = 1e-3;
/// N mm² in N m².
pub(crate) const NMM2: f64 = 1e-6;
/// A kilometre, m.
pub(crate) const KM: f64 = 1e3;
/// MPa in Pa.
pub(crate) const MPA: f64 = 1e6;
/// N/mm in N/m.
pub(crate) const N_PER_MM: f64 = 1e3;
/// K/mm in K/m.
pub(crate) const K_PER_MM: f64 = 1e3;
/// kg mm² in kg m².
pub(crate) const KG_MM2: f64 = 1e-6;
/// A degree, rad.
pub(crate) const DEG: f64 = PI / 180.0;
