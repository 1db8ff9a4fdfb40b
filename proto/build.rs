//! Compiles the contract without a system compiler: descriptors for reflection and JSON, code for
//! clients and servers.

use std::{env, error::Error, fs, path::PathBuf};

const FILES: [&str; 23] = [
    "fishplate/v1/batch.proto",
    "fishplate/v1/catalog.proto",
    "fishplate/v1/check.proto",
    "fishplate/v1/compare.proto",
    "fishplate/v1/designs.proto",
    "fishplate/v1/group.proto",
    "fishplate/v1/guesses.proto",
    "fishplate/v1/mesh.proto",
    "fishplate/v1/named.proto",
    "fishplate/v1/part.proto",
    "fishplate/v1/part_input.proto",
    "fishplate/v1/plate.proto",
    "fishplate/v1/plate_mount.proto",
    "fishplate/v1/project.proto",
    "fishplate/v1/quantity.proto",
    "fishplate/v1/rules.proto",
    "fishplate/v1/section.proto",
    "fishplate/v1/size.proto",
    "fishplate/v1/solver.proto",
    "fishplate/v1/strength.proto",
    "fishplate/v1/study.proto",
    "fishplate/v1/weld_need.proto",
    "fishplate/v1/what_if.proto",
];

fn main() -> Result<(), Box<dyn Error>> {
    let root = PathBuf::from(env::var("CARGO_MANIFEST_DIR")?);
    let out = PathBuf::from(env::var("OUT_DIR")?);
    for file in FILES {
        println!("cargo:rerun-if-changed={}", root.join(file).display());
    }
    let mut compiler = protox::Compiler::new([&root])?;
    compiler.include_source_info(true).include_imports(true).open_files(FILES)?;
    fs::write(out.join("fishplate.binpb"), compiler.encode_file_descriptor_set())?;
    tonic_prost_build::configure()
        .build_client(true)
        .build_server(true)
        .compile_fds(compiler.file_descriptor_set())?;
    Ok(())
}
