//! Second stage: JavaScript and TypeScript bindings around the wasm file.

use std::path::Path;

use anyhow::{Context, Result};
use wasm_bindgen_cli_support::Bindgen;

use crate::package::Package;

/// What decides the output besides the input; part of the stamp.
pub(crate) const SETTINGS: &str = "0.2.130 web typescript no-names no-producers no-default-path";

/// Writes the package for `raw` into `folder`, over what was there of it.
///
/// # Errors
/// When the bindings cannot be made or the folder cannot be written.
pub(crate) fn generate(raw: Vec<u8>, package: &Package, folder: &Path) -> Result<()> {
    for file in package.files() {
        match std::fs::remove_file(folder.join(&file)) {
            Err(error) if error.kind() != std::io::ErrorKind::NotFound => {
                return Err(error).with_context(|| format!("cannot remove {file}"));
            }
            _ => {}
        }
    }
    Bindgen::new()
        .input_bytes(package.name, raw)
        .web(true)?
        .typescript(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        // Else the bundler sees a second reference to the wasm file and ships it twice.
        .omit_default_module_path(true)
        .generate(folder)
        .with_context(|| format!("cannot write bindings into {}", folder.display()))
}
