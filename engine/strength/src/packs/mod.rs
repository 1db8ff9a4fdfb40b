//! Rule packs: one folder per standard, each a static set of clause lists.
//!
//! ```
//! use fishplate_quantity::{Provenance, Trace};
//! use fishplate_strength::catalog::FuEdition;
//! use fishplate_strength::clause::input::SleeveInput;
//! use fishplate_strength::clause::{Factors, Origins};
//! use fishplate_strength::packs::pack;
//!
//! let en_1993 = pack("EN 1993").ok_or("no such pack")?;
//! let factors = Factors {
//!     gamma_m0: 1.0, gamma_m1: 1.0, gamma_m2: 1.25, gamma_m3: 1.25, gamma_m3_ser: 1.1,
//!     gamma_m5: 1.0, gamma_m7: 1.1,
//!     edition: FuEdition::ProductStandard,
//!     origins: Origins::all(Provenance::Factor("recommended".to_owned())),
//! };
//! let sleeve = SleeveInput {
//!     f_m: 84_607.0, d_out: 0.028, d_in: 0.015, f_y: 235e6,
//!     origins: Origins::all(Provenance::Given("part.front-sleeve".to_owned()))
//!         .with("f_m", Provenance::Table("preload of an M14-10.9".to_owned())),
//! };
//! let mut trace = Trace::on();
//! for clause in en_1993.sleeves {
//!     let checked = clause.evaluate(&sleeve, &factors, &mut trace)?;
//!     assert!((checked.utilisation.value() - 0.820).abs() < 1e-3);
//!     assert_eq!(trace.entries().last().map(|e| e.symbol), Some("utilisation"));
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod pack;

pub mod en_1993;

pub use pack::{Clauses, Pack};

/// Every pack, in the order in which they are shown.
pub const PACKS: &[&Pack] = &[&en_1993::PACK];

/// The pack a project names in `rules`: `EN 1993`.
#[must_use]
pub fn pack(id: &str) -> Option<&'static Pack> {
    PACKS.iter().find(|pack| pack.id == id).copied()
}
