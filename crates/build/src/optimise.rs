//! Third stage: `wasm-opt` from the npm package that the page's lock file pins.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::workspace::Workspace;

/// Optimiser flags. Features are listed one by one because "all" lets in what browsers and Node
/// refuse. Anything that reorders floating-point arithmetic stays out: bits are a promise.
/// Low addresses may be taken for offsets: the linker puts the stack there, which ends above them.
pub(crate) const FLAGS: [&str; 9] = [
    "-O3",
    "--low-memory-unused",
    "--enable-bulk-memory",
    "--enable-bulk-memory-opt",
    "--enable-nontrapping-float-to-int",
    "--enable-sign-ext",
    "--enable-mutable-globals",
    "--enable-reference-types",
    "--enable-multivalue",
];

/// An installed `wasm-opt`.
pub(crate) struct Optimiser {
    script: PathBuf,
    /// Version of the npm package.
    pub(crate) version: String,
}

impl Optimiser {
    /// Finds the optimiser among the page's installed packages.
    ///
    /// # Errors
    /// When the page's packages are not installed.
    pub(crate) fn locate(workspace: &Workspace) -> Result<Self> {
        let package = workspace.root.join("www/node_modules/binaryen");
        let manifest = std::fs::read(package.join("package.json"))
            .context("wasm-opt is not installed: run `npm ci` in www first")?;
        let manifest: Value = serde_json::from_slice(&manifest)?;
        Ok(Self {
            script: package.join("bin/wasm-opt"),
            version: manifest["version"].as_str().unwrap_or("?").to_owned(),
        })
    }

    /// Optimises the file in place.
    ///
    /// # Errors
    /// When the optimiser cannot be started or refuses the file.
    pub(crate) fn run(&self, wasm: &Path) -> Result<()> {
        let output = wasm.with_extension("optimised");
        let status = Command::new("node")
            .arg(&self.script)
            .args(FLAGS)
            .arg(wasm)
            .arg("-o")
            .arg(&output)
            .status()
            .context("cannot start node for wasm-opt")?;
        if !status.success() {
            let _ = std::fs::remove_file(&output);
            bail!("wasm-opt failed on {}", wasm.display());
        }
        std::fs::rename(&output, wasm).with_context(|| format!("cannot replace {}", wasm.display()))
    }
}
