//! What the core says, as a list: every text of its crates that a person may read. The page's other
//! languages are checked against it.
//!
//! The core itself speaks English: it is smaller so, and files and the command line stay one.

mod literals;
mod other;
mod readable;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use serde_json::Value;

/// Crates whose words reach the page.
const CRATES: [&str; 10] = [
    "robot", "physics", "control", "power", "rig", "analysis", "sweep", "suggest", "scene", "web",
];

/// Files that say nothing on the page, and why.
const SILENT: [(&str, &str); 5] = [
    (
        "robot/src/schema.rs",
        "the schema and KNOBS.md are files, in English",
    ),
    ("robot/src/file/write.rs", "the form of the robot file"),
    (
        "rig/src/report/gains.rs",
        "the C header and its tables are files, in English",
    ),
    ("scene/src/svg.rs", "the form of a drawing's file"),
    ("web/src/painter.rs", "names of fonts"),
];

/// Where the list is committed.
const LIST: &str = "www/src/words/core.en.json";

/// Texts by where they are from: a crate, or the demos.
type List = BTreeMap<String, Vec<String>>;

/// `kickstill-build words`: writes the list when `bless`, else says what is wrong with list and
/// languages.
pub(crate) fn words(root: &Path, bless: bool) -> Result<()> {
    let list = list(root)?;
    let written = serde_json::to_string_pretty(&list)? + "\n";
    let path = root.join(LIST);
    if bless {
        std::fs::write(&path, &written)?;
    }
    let mut faults = Vec::new();
    if std::fs::read_to_string(&path).unwrap_or_default() != written {
        faults.push(format!(
            "{LIST} is not what the core says; KICKSTILL_BLESS=1 kickstill-build words writes it"
        ));
    }
    faults.extend(other::faults(root, &list)?);
    if !faults.is_empty() {
        bail!("{}", faults.join("\n"));
    }
    let count: usize = list.values().map(Vec::len).sum();
    println!("words: {count} texts of the core, all of them in every language");
    Ok(())
}

/// In the order of files and lines; a text that is said again stands where it was said first.
fn list(root: &Path) -> Result<List> {
    let mut seen = BTreeSet::new();
    let mut list = List::new();
    let mut put = |from: &str, text: String| {
        if seen.insert(text.clone()) {
            list.entry(from.to_owned()).or_default().push(text);
        }
    };
    for name in CRATES {
        for file in files(&root.join("crates").join(name).join("src"), "rs")? {
            if SILENT.iter().any(|(silent, _)| file.ends_with(silent)) {
                continue;
            }
            let read = std::fs::read_to_string(&file).context("it cannot be read");
            let said = read.and_then(|source| literals::literals(&source));
            for said in said.with_context(|| file.display().to_string())? {
                if let Some(text) = readable::readable(&said) {
                    put(name, text);
                }
            }
        }
    }
    for file in files(&root.join("crates/robot/demos"), "json")? {
        let robot: Value = serde_json::from_str(&std::fs::read_to_string(&file)?)?;
        let parts = robot["parts"].as_array().into_iter().flatten();
        let names = parts.map(|part| &part["name"]);
        for text in std::iter::once(&robot["summary"]).chain(names) {
            put("demos", text.as_str().unwrap_or_default().to_owned());
        }
    }
    let unsaid: Vec<&str> = readable::unsaid(|word| seen.contains(word)).collect();
    if !unsaid.is_empty() {
        bail!("no source says any more: {}", unsaid.join(", "));
    }
    Ok(list)
}

/// Files of a kind under a folder, without those of tests, in order.
fn files(folder: &Path, kind: &str) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(folder) = folders.pop() {
        let read = std::fs::read_dir(&folder).with_context(|| folder.display().to_string())?;
        for entry in read {
            let path = entry?.path();
            let name = path.file_name().unwrap_or_default();
            let name = name.to_string_lossy();
            if name == "tests" || name.ends_with("tests.rs") {
                continue;
            }
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|it| it == kind) {
                files.push(path);
            }
        }
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn root() -> PathBuf {
        let build = Path::new(env!("CARGO_MANIFEST_DIR"));
        build.join("../..").canonicalize().unwrap()
    }

    /// Every text of the core has its words in each language, and none is left over.
    #[test]
    fn the_core_is_told_in_every_language() {
        let bless = std::env::var_os("KICKSTILL_BLESS").is_some();
        words(&root(), bless).unwrap();
    }

    /// The list is not empty by mistake, and holds what must be in it.
    #[test]
    fn the_list_has_labels_sentences_and_single_words() {
        let list = list(&root()).unwrap();
        let has = |from: &str, text: &str| list[from].iter().any(|it| it == text);
        assert!(has("robot", "head weight"));
        assert!(has("robot", "a number from {} to {}"));
        assert!(has("rig", "settled in {}"));
        assert!(has("rig", "overshoot"));
        assert!(!list.values().flatten().any(|text| text == "head.mass"));
    }
}
