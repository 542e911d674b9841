//! Compiler flags that keep local folders out of the wasm file.
//!
//! Panic messages carry source paths. Without these flags the file would differ from folder to
//! folder and tell the world where it was built.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

/// Separator of `CARGO_ENCODED_RUSTFLAGS`: unlike `RUSTFLAGS` it allows blanks in a path.
pub(crate) const SEPARATOR: &str = "\u{1f}";

/// One `--remap-path-prefix FROM=TO`.
type Mapping = (PathBuf, String);

/// Encoded compiler flags for the workspace at `root`.
///
/// # Errors
/// When the compiler cannot be asked for its version and sysroot.
pub(crate) fn encoded_rustflags(root: &Path) -> Result<String> {
    let sysroot = rustc(&["--print", "sysroot"])?;
    let version = rustc(&["-vV"])?;
    let commit = version
        .lines()
        .find_map(|line| line.strip_prefix("commit-hash: "))
        .unwrap_or("unknown");
    let cargo_home = cargo_home()?;
    Ok(encode(&mappings(
        root,
        &cargo_home,
        Path::new(sysroot.trim()),
        commit,
        &registries(&cargo_home),
    )))
}

/// All mappings. Where several match, rustc takes the last, so the more special come later.
fn mappings(
    root: &Path,
    cargo_home: &Path,
    sysroot: &Path,
    commit: &str,
    registries: &[PathBuf],
) -> Vec<Mapping> {
    let mut list = vec![(cargo_home.to_owned(), "/cargo".to_owned())];
    // The folder below `registry/src` is named after the registry in use, a mirror perhaps.
    list.extend(
        registries
            .iter()
            .map(|folder| (folder.clone(), "/cargo/registry".to_owned())),
    );
    list.push((sysroot.to_owned(), "/rust".to_owned()));
    // With the component rust-src installed rustc would name the local copy of std's sources.
    list.push((
        sysroot.join("lib/rustlib/src/rust"),
        format!("/rustc/{commit}"),
    ));
    list.push((root.to_owned(), "/kickstill".to_owned()));
    list
}

fn encode(mappings: &[Mapping]) -> String {
    let flags: Vec<String> = mappings
        .iter()
        .map(|(from, to)| format!("--remap-path-prefix={}={to}", from.display()))
        .collect();
    flags.join(SEPARATOR)
}

fn rustc(arguments: &[&str]) -> Result<String> {
    let compiler = std::env::var_os("RUSTC").unwrap_or_else(|| "rustc".into());
    let output = Command::new(compiler)
        .args(arguments)
        .output()
        .context("cannot start rustc")?;
    if !output.status.success() {
        bail!("rustc {} failed", arguments.join(" "));
    }
    String::from_utf8(output.stdout).context("rustc did not answer in UTF-8")
}

fn cargo_home() -> Result<PathBuf> {
    if let Some(folder) = std::env::var_os("CARGO_HOME") {
        return Ok(PathBuf::from(folder));
    }
    let home = std::env::home_dir().context("neither CARGO_HOME nor a home folder is set")?;
    Ok(home.join(".cargo"))
}

/// Folders below `registry/src`, sorted, so that the flags do not depend on directory order.
fn registries(cargo_home: &Path) -> Vec<PathBuf> {
    let Ok(entries) = std::fs::read_dir(cargo_home.join("registry/src")) else {
        return Vec::new();
    };
    let mut folders: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).collect();
    folders.sort();
    folders
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn special_folders_come_after_those_that_contain_them() {
        let list = mappings(
            Path::new("/home/a/.cargo/project"),
            Path::new("/home/a/.cargo"),
            Path::new("/home/a/.rustup/toolchains/x"),
            "abc",
            &[PathBuf::from("/home/a/.cargo/registry/src/mirror-1")],
        );
        for (position, (from, _)) in list.iter().enumerate() {
            for (later, _) in &list[position + 1..] {
                assert!(
                    !from.starts_with(later) || from == later,
                    "{} is overruled by {}",
                    from.display(),
                    later.display()
                );
            }
        }
    }

    #[test]
    fn blanks_in_a_path_survive() {
        let flags = encode(&[
            (PathBuf::from("/a b"), "/x".to_owned()),
            (PathBuf::from("/c"), "/y".to_owned()),
        ]);
        let flags: Vec<&str> = flags.split(SEPARATOR).collect();
        assert_eq!(
            flags,
            ["--remap-path-prefix=/a b=/x", "--remap-path-prefix=/c=/y"]
        );
    }
}
