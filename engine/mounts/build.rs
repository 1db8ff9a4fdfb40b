//! Names the engine by the content of its sources and tables: results that were kept are only used
//! again by the engine that made them, whoever forgets to count a version up.

use std::path::{Path, PathBuf};
use std::{env, error::Error, fs, io};

/// What the numbers of an answer are made by, from the root of the workspace.
const MADE_BY: [&str; 8] = [
    "Cargo.lock",
    "engine/mounts/src",
    "engine/quantity/src",
    "engine/quantity/tables",
    "engine/solver/src",
    "engine/strength/src",
    "engine/strength/tables",
    "rust-toolchain.toml",
];

fn main() -> Result<(), Box<dyn Error>> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?).join("../..");
    let mut hasher = blake3::Hasher::new();
    for name in MADE_BY {
        let path = root.join(name);
        println!("cargo:rerun-if-changed={}", path.display());
        add(&mut hasher, &path)?;
    }
    println!("cargo:rustc-env=FISHPLATE_ENGINE={}", hasher.finalize().to_hex());
    Ok(())
}

/// Adds a file, or all files of a folder in the order of their names.
fn add(hasher: &mut blake3::Hasher, path: &Path) -> io::Result<()> {
    if !path.is_dir() {
        let bytes = fs::read(path)?;
        hasher.update(&(bytes.len() as u64).to_le_bytes()).update(&bytes);
        return Ok(());
    }
    let mut inside: Vec<PathBuf> =
        fs::read_dir(path)?.map(|entry| entry.map(|e| e.path())).collect::<io::Result<_>>()?;
    inside.sort();
    inside.iter().try_for_each(|path| add(hasher, path))
}
