//! Rule packs: one folder per standard, each a static set of clause lists.
//!
//! ```
//! use fishplate_quantity::{Provenance, Trace};
//! use fishplate_strength::clause::Origins;
//! use fishplate_strength::clause::input::SleeveInput;
//! use fishplate_strength::packs::{Rules, pack};
//!
//! let en_1993 = pack("EN 1993").ok_or("no such pack")?;
//! let factors = en_1993.factors(&Rules::RECOMMENDED).map_err(|faults| faults[0].to_string())?;
//! let sleeve = SleeveInput {
//!     f_m: 84_607.0, d_out: 0.028, d_in: 0.015, f_y: 235e6,
//!     origins: Origins::all(Provenance::Given("part.front-sleeve".to_owned()))
//!         .with("f_m", || Provenance::Table("preload of an M14-10.9".to_owned())),
//! };
//! let mut trace = Trace::on();
//! for clause in en_1993.sleeves {
//!     let checked = clause.evaluate(&sleeve, &factors, &mut trace)?;
//!     assert!((checked.utilisation.value() - 0.820).abs() < 1e-3);
//!     assert_eq!(trace.entries().last().map(|e| e.symbol), Some("utilisation"));
//! }
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

#[cfg(test)]
mod contract;
mod flat_sections;
mod flats;
mod pack;
mod plane;

pub use pack::{Clauses, OwnFactor, Pack, Rules, Visitor};

// The next lines follow from the folders beside this file; the test below writes them.
// packs: begin
pub mod allowable;
pub mod american;
pub mod en_1993;

/// Every pack, in the order of their folders.
pub const PACKS: &[&Pack] = &[&allowable::PACK, &american::PACK, &en_1993::PACK];
// packs: end

/// The pack a project names in `rules`: `EN 1993`.
#[must_use]
pub fn pack(id: &str) -> Option<&'static Pack> {
    PACKS.iter().find(|pack| pack.id == id).copied()
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::path::Path;

    const BEGIN: &str = "// packs: begin\n";
    const END: &str = "// packs: end\n";

    /// A pack is a folder and nothing else: with `FISHPLATE_WRITE_PACKS=1` this test writes the
    /// lines that name it.
    #[test]
    fn the_list_of_packs_is_the_list_of_folders() {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/packs");
        let mut names: Vec<String> = fs::read_dir(&folder)
            .unwrap()
            .map(|entry| entry.unwrap())
            .filter(|entry| entry.path().join("mod.rs").is_file())
            .map(|entry| entry.file_name().into_string().unwrap())
            .collect();
        names.sort();
        let file = folder.join("mod.rs");
        let text = fs::read_to_string(&file).unwrap();
        let (head, rest) = text.split_once(BEGIN).unwrap();
        let (found, tail) = rest.split_once(END).unwrap();
        let modules: String = names.iter().map(|name| format!("pub mod {name};\n")).collect();
        let all: Vec<_> = names.iter().map(|name| format!("&{name}::PACK")).collect();
        let wanted = format!(
            "{modules}\n/// Every pack, in the order of their folders.\n\
             pub const PACKS: &[&Pack] = &[{}];\n",
            all.join(", ")
        );
        if std::env::var_os("FISHPLATE_WRITE_PACKS").is_some() {
            fs::write(&file, format!("{head}{BEGIN}{wanted}{END}{tail}")).unwrap();
        } else {
            assert_eq!(found, wanted, "renew with FISHPLATE_WRITE_PACKS=1");
        }
    }
}
