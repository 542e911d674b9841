//! `kickstill-build`: the workspace's build tool.
//!
//! It turns the crate `kickstill-web` into the packages that the page imports: its board, what its
//! workers run, and both in one for the page that is one file. The same sources
//! give the same bytes in any folder and for any user, which is what lets one committed digest
//! speak for the shipped file.

use std::path::Path;
use std::process::ExitCode;

use anyhow::{Result, bail};

mod bindgen;
mod compile;
mod optimise;
mod package;
mod remap;
mod words;
mod workspace;

use optimise::Optimiser;
use package::Package;

const USAGE: &str = "\
usage: kickstill-build wasm [--offline] [--locked]
       kickstill-build words

  wasm       compile kickstill-web, write JavaScript and TypeScript bindings, optimise;
             for the page's board, for its workers, and for both in one file;
             the packages go to www/src/core/pkg/
  --offline  do not let cargo touch the network
  --locked   fail when Cargo.lock would have to change
  words      hold the page's languages against what the core says;
             KICKSTILL_BLESS=1 writes www/src/words/core.en.json first";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let result = match arguments.as_slice() {
        ["wasm", cargo_flags @ ..] => {
            match cargo_flags
                .iter()
                .find(|flag| !["--offline", "--locked"].contains(flag))
            {
                None => wasm(cargo_flags),
                Some(unknown) => return usage_error(&format!("unknown option `{unknown}`")),
            }
        }
        ["words"] => words(),
        ["help" | "--help" | "-h"] => {
            println!("{USAGE}");
            Ok(())
        }
        [] => return usage_error("a subcommand is missing"),
        [unknown, ..] => return usage_error(&format!("unknown subcommand `{unknown}`")),
    };
    match result {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("kickstill-build: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn usage_error(message: &str) -> ExitCode {
    eprintln!("kickstill-build: {message}\n{USAGE}");
    ExitCode::from(2)
}

/// The list of what the core says, and the languages held against it.
fn words() -> Result<()> {
    let bless = std::env::var_os("KICKSTILL_BLESS").is_some();
    words::words(&workspace::Workspace::locate()?.root, bless)
}

/// Runs the whole chain for each package: cargo, bindings, optimiser. All packages at once: most of
/// the time goes into steps that keep one core busy, and each package has a profile, and so a folder
/// and a lock of cargo's, of its own.
fn wasm(cargo_flags: &[&str]) -> Result<()> {
    let workspace = workspace::Workspace::locate()?;
    let optimiser = optimise::Optimiser::locate(&workspace)?;
    let folder = workspace.root.join("www/src/core/pkg");
    std::thread::scope(|scope| {
        let chains: Vec<_> = package::PACKAGES
            .iter()
            .map(|package| {
                scope.spawn(|| {
                    let raw = compile::compile(&workspace, package, cargo_flags)?;
                    finish(raw, package, &optimiser, &folder)
                })
            })
            .collect();
        // All are awaited, so that one run tells everything that is wrong.
        let results: Vec<Result<()>> = chains
            .into_iter()
            .map(|chain| {
                chain
                    .join()
                    .unwrap_or_else(|_| bail!("a thread of the build panicked"))
            })
            .collect();
        results.into_iter().collect()
    })
}

/// Bindings and optimiser. Skipped when nothing they read changed.
fn finish(raw: Vec<u8>, package: &Package, optimiser: &Optimiser, folder: &Path) -> Result<()> {
    let stamp = format!(
        "input {}\nbindings {}\noptimiser {} {}\n",
        content_hash(&raw),
        bindgen::SETTINGS,
        optimiser.version,
        optimise::FLAGS.join(" "),
    );
    let stamp_path = folder.join(format!(".{}.stamp", package.name));
    if std::fs::read_to_string(&stamp_path).is_ok_and(|old| old == stamp)
        && package
            .files()
            .iter()
            .all(|file| folder.join(file).is_file())
    {
        println!("wasm: {} unchanged ({})", package.name, folder.display());
        return Ok(());
    }

    // A stamp must never outlive the files it vouches for.
    let _ = std::fs::remove_file(&stamp_path);
    bindgen::generate(raw, package, folder)?;
    let wasm_path = folder.join(package.wasm());
    let before = std::fs::metadata(&wasm_path)?.len();
    optimiser.run(&wasm_path)?;
    let after = std::fs::metadata(&wasm_path)?.len();
    if after == 0 {
        bail!("the optimiser left an empty {}", wasm_path.display());
    }
    std::fs::write(&stamp_path, stamp)?;
    println!(
        "wasm: {before} bytes, {after} after optimising ({})",
        wasm_path.display()
    );
    Ok(())
}

/// FNV-1a over the bytes, 64 bit, in hex: enough to notice a change; nobody attacks this.
fn content_hash(bytes: &[u8]) -> String {
    let hash = bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}

#[cfg(test)]
mod tests {
    use super::content_hash;

    /// The test vectors of 64-bit FNV-1a by its authors (Fowler, Noll, Vo); values from memory.
    #[test]
    fn content_hash_is_fnv_1a() {
        assert_eq!(content_hash(b""), "cbf29ce484222325");
        assert_eq!(content_hash(b"a"), "af63dc4c8601ec8c");
        assert_eq!(content_hash(b"foobar"), "85944171f73967e8");
    }
}
