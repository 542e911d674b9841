//! Standard output takes one thing; progress goes where somebody sees it.

use std::io::{self, IsTerminal, Write};
use std::path::{Path, PathBuf};

use kickstill_robot::Problem;

use crate::failure::Failure;
use crate::output::Output;

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

/// The files that an order is written to beside its text, and whether there is any text.
pub(crate) struct Written {
    csv: Option<Output>,
    svg: Option<Output>,
    elsewhere: bool,
}

impl Written {
    /// Opens them; to be called before anything is run, so that a bad path costs no time. `elsewhere` as
    /// [`one_printed`] tells.
    ///
    /// # Errors
    /// A file that cannot be written to.
    pub(crate) fn open(
        csv: Option<&Path>,
        svg: Option<&Path>,
        elsewhere: bool,
    ) -> Result<Self, Failure> {
        Ok(Self {
            csv: csv.map(Output::at).transpose()?,
            svg: svg.map(Output::at).transpose()?,
            elsewhere,
        })
    }

    /// Writes each that was asked for.
    ///
    /// # Errors
    /// A figure that cannot be drawn, or a place that takes no more.
    pub(crate) fn write(
        self,
        csv: impl FnOnce(&mut dyn Write) -> io::Result<()>,
        svg: impl FnOnce() -> Result<String, Failure>,
        text: impl FnOnce() -> String,
    ) -> Result<(), Failure> {
        if let Some(out) = self.csv {
            out.fill(csv)?;
        }
        if let Some(out) = self.svg {
            out.finish(&svg()?)?;
        }
        if self.elsewhere {
            return Ok(());
        }
        Output::standard().finish(&text())
    }
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
