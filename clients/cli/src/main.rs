//! The `fishplate` program.

use std::process::ExitCode;

fn main() -> ExitCode {
    fishplate_cli::run()
}
