//! Second stage: JavaScript and TypeScript bindings around the wasm file.

use std::path::Path;

use anyhow::{Context, Result};
use wasm_bindgen_cli_support::Bindgen;

/// What decides the output besides the input; part of the stamp.
pub(crate) const SETTINGS: &str = "0.2.130 web typescript no-names no-producers no-default-path";

/// The wasm file in the package.
pub(crate) const WASM_FILE: &str = "kickstill_bg.wasm";

/// Files that a complete package holds.
pub(crate) const FILES: [&str; 3] = ["kickstill.js", "kickstill.d.ts", WASM_FILE];

/// Writes the package for `raw` into `folder`, replacing what was there.
///
/// # Errors
/// When the bindings cannot be made or the folder cannot be written.
pub(crate) fn generate(raw: Vec<u8>, folder: &Path) -> Result<()> {
    if folder.exists() {
        std::fs::remove_dir_all(folder)
            .with_context(|| format!("cannot clear {}", folder.display()))?;
    }
    Bindgen::new()
        .input_bytes("kickstill", raw)
        .web(true)?
        .typescript(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        // Else the bundler sees a second reference to the wasm file and ships it twice.
        .omit_default_module_path(true)
        .generate(folder)
        .with_context(|| format!("cannot write bindings into {}", folder.display()))
}
