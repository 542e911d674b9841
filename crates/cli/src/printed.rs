//! Standard output takes one thing; progress goes where somebody sees it.

use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use kickstill_robot::Problem;

use crate::failure::Failure;

/// Checks that at most one of these options, each with its path, and `json` print to standard output; tells
/// whether one of the paths does, so that no text goes there.
///
/// # Errors
/// Two would print there.
pub(crate) fn one_printed(json: bool, paths: &[(&str, &Option<PathBuf>)]) -> Result<bool, Failure> {
    let mut printed: Vec<&str> = Vec::new();
    for (option, path) in paths {
        if path.as_deref() == Some(Path::new("-")) {
            printed.push(option);
        }
    }
    if let Some(option) = printed.get(usize::from(!json)) {
        let p = Problem::error(
            *option,
            "a file's path while something else prints to standard output",
        );
        return Err(p.found("-").kept("nothing was run").into());
    }
    Ok(!printed.is_empty())
}

/// How far a long order is, on standard error if that is a terminal.
pub(crate) struct Progress {
    seen: bool,
    last: String,
}

impl Progress {
    pub(crate) fn new() -> Self {
        Self {
            seen: io::stderr().is_terminal(),
            last: String::new(),
        }
    }

    /// Tells it in the place of what was told before.
    pub(crate) fn tell(&mut self, text: &str) {
        if !self.seen || self.last == text {
            return;
        }
        let width = self.last.chars().count();
        // With standard error closed there is nobody left to tell.
        let _ = write!(io::stderr(), "\r{text:<width$}");
        text.clone_into(&mut self.last);
    }

    /// Takes it away.
    pub(crate) fn done(&mut self) {
        if self.seen && !self.last.is_empty() {
            let width = self.last.chars().count();
            let _ = write!(io::stderr(), "\r{:<width$}\r", "");
            self.last.clear();
        }
    }
}
