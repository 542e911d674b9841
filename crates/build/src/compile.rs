//! First stage: cargo compiles `kickstill-web` for the browser, once for each package.

use anyhow::{Context, Result, bail};

use crate::package::Package;
use crate::remap;
use crate::workspace::{Workspace, cargo};

const TARGET: &str = "wasm32-unknown-unknown";

/// Compiles and returns the raw wasm file's bytes. Cargo itself skips what is up to date.
///
/// # Errors
/// When cargo fails; its own messages have then been shown.
pub(crate) fn compile(
    workspace: &Workspace,
    package: &Package,
    cargo_flags: &[&str],
) -> Result<Vec<u8>> {
    let flags = remap::encoded_rustflags(&workspace.root)?;
    let status = cargo()
        .args(["build", "--package", "kickstill-web", "--lib"])
        .args(["--profile", package.profile])
        .args(["--no-default-features", "--features", package.features])
        .args(["--target", TARGET])
        .args(cargo_flags)
        .current_dir(&workspace.root)
        // Replaces any flags of the environment: they would change the shipped bits.
        .env("CARGO_ENCODED_RUSTFLAGS", flags)
        .env_remove("RUSTFLAGS")
        .status()
        .context("cannot start cargo")?;
    if !status.success() {
        bail!(
            "cargo could not build kickstill-web for {TARGET} \
             (is the target there? `rustup target add {TARGET}`)"
        );
    }
    let file = workspace
        .target
        .join(TARGET)
        .join(package.profile)
        .join("kickstill_web.wasm");
    std::fs::read(&file).with_context(|| format!("cannot read {}", file.display()))
}
