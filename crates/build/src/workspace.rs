//! Where things are: asked from cargo, so that any target folder setting is respected.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, bail};
use serde_json::Value;

/// Places of this workspace on this machine.
pub(crate) struct Workspace {
    /// Folder of the root `Cargo.toml`.
    pub(crate) root: PathBuf,
    /// Cargo's target folder.
    pub(crate) target: PathBuf,
}

impl Workspace {
    /// Finds the workspace that this tool was built from, or that of the current folder.
    ///
    /// # Errors
    /// When `cargo metadata` fails or does not name the two folders.
    pub(crate) fn locate() -> Result<Self> {
        let mut command = cargo();
        command.args(["metadata", "--no-deps", "--format-version", "1"]);
        // Set by `cargo run`; it makes the tool independent of the current folder.
        if let Some(folder) = std::env::var_os("CARGO_MANIFEST_DIR") {
            command.current_dir(folder);
        }
        let output = command.output().context("cannot start cargo")?;
        if !output.status.success() {
            bail!(
                "cargo metadata failed: {}",
                String::from_utf8_lossy(&output.stderr).trim()
            );
        }
        let metadata: Value =
            serde_json::from_slice(&output.stdout).context("cargo metadata gave no JSON")?;
        let folder = |key: &str| -> Result<PathBuf> {
            let text = metadata[key]
                .as_str()
                .with_context(|| format!("cargo metadata has no `{key}`"))?;
            Ok(PathBuf::from(text))
        };
        Ok(Self {
            root: folder("workspace_root")?,
            target: folder("target_directory")?,
        })
    }
}

/// The cargo that runs this tool, else the one on the path.
pub(crate) fn cargo() -> Command {
    Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()))
}
