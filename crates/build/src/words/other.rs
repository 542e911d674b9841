//! The other languages, held against the list.
//!
//! `www/src/words/LANGUAGE/core/FROM.json` maps each English text to its own. Places are `{}`; `{=}`
//! is a place whose words are said as they are.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use anyhow::{Context, Result};

use super::List;
use super::readable::PLACE;

/// A place whose words are not translated: what was typed, or words of a file.
const AS_IT_IS: &str = "{=}";

/// Every language of the page but English.
const LANGUAGES: [&str; 1] = ["de"];

/// What is missing, left over, or has other places than the English.
pub(super) fn faults(root: &Path, list: &List) -> Result<Vec<String>> {
    let mut faults = Vec::new();
    for language in LANGUAGES {
        let folder = root.join("www/src/words").join(language).join("core");
        let mut known: BTreeSet<String> = BTreeSet::new();
        for file in super::files(&folder, "json")? {
            let from = file.file_stem().unwrap_or_default().to_string_lossy();
            if !list.contains_key(from.as_ref()) {
                faults.push(format!("{language}: {from}.json is of nothing that speaks"));
            }
            known.insert(from.into_owned());
        }
        for (from, texts) in list {
            let path = folder.join(format!("{from}.json"));
            let told: BTreeMap<String, String> = if known.contains(from) {
                serde_json::from_str(&std::fs::read_to_string(&path)?)
                    .with_context(|| path.display().to_string())?
            } else {
                BTreeMap::new()
            };
            let said =
                |problem: &str, text: &str| format!("{language}: {from}: {problem}: {text:?}");
            for text in texts {
                match told.get(text) {
                    None => faults.push(said("not told", text)),
                    Some(other) if other.trim().is_empty() => faults.push(said("empty", text)),
                    Some(other) if places(text) != places(other) => {
                        faults.push(said("other places", text));
                    }
                    Some(_) => {}
                }
            }
            let texts: BTreeSet<&String> = texts.iter().collect();
            let left = told.keys().filter(|text| !texts.contains(text));
            faults.extend(left.map(|text| said("no longer said", text)));
        }
    }
    Ok(faults)
}

fn places(text: &str) -> usize {
    text.matches(PLACE).count() + text.matches(AS_IT_IS).count()
}

#[cfg(test)]
mod tests {
    use super::places;

    #[test]
    fn places_of_both_kinds_count_and_braces_of_a_file_do_not() {
        assert_eq!(places("von {} bis {}"), 2);
        assert_eq!(places("meintest du „{=}“?"), 1);
        assert_eq!(places("etwa {\"max\": 2}"), 0);
    }
}
