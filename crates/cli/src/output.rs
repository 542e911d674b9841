//! Where results go: a file, or standard output that may close at any time.

use std::fs::File;
use std::io::{self, BufWriter, ErrorKind, Write};
use std::path::Path;

use kickstill_robot::Problem;
use kickstill_robot::problem::shorten;

use crate::failure::Failure;

/// A place to write to, buffered.
pub(crate) struct Output {
    to: BufWriter<Box<dyn Write>>,
    name: String,
}

impl Output {
    /// Standard output.
    pub(crate) fn standard() -> Self {
        Self {
            to: BufWriter::new(Box::new(io::stdout())),
            name: "standard output".to_owned(),
        }
    }

    /// The file at `path`, made anew, or standard output for `-`.
    ///
    /// # Errors
    /// The file cannot be written.
    pub(crate) fn at(path: &Path) -> Result<Self, Failure> {
        if path == Path::new("-") {
            return Ok(Self::standard());
        }
        let name = shorten(&path.to_string_lossy());
        let file = File::create(path).map_err(|e| cannot_write(&name, &e))?;
        Ok(Self {
            to: BufWriter::new(Box::new(file)),
            name,
        })
    }

    /// Writes `text` and sees it through.
    ///
    /// # Errors
    /// The place takes no more.
    pub(crate) fn finish(self, text: &str) -> Result<(), Failure> {
        self.fill(|to| to.write_all(text.as_bytes()))
    }

    /// Lets `write` write and sees it through.
    ///
    /// # Errors
    /// The place takes no more.
    pub(crate) fn fill(
        mut self,
        write: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), Failure> {
        write(&mut self.to)
            .and_then(|()| self.to.flush())
            .map_err(|e| match e.kind() {
                ErrorKind::BrokenPipe => Failure::PipeClosed,
                _ => cannot_write(&self.name, &e),
            })
    }
}

fn cannot_write(name: &str, e: &io::Error) -> Failure {
    Problem::error(name, "a place that can be written to")
        .hint(e.to_string())
        .into()
}

/// Lines of two columns, the second aligned.
pub(crate) fn aligned(rows: &[(String, String)]) -> String {
    let width = rows.iter().map(|r| r.0.chars().count()).max().unwrap_or(0);
    rows.iter()
        .map(|(left, right)| {
            let gap = width - left.chars().count() + 2;
            format!("{left}{}{right}\n", " ".repeat(gap))
        })
        .collect()
}
