//! Why an order was not carried out.

use std::io::{self, Write};

use kickstill_robot::{Problem, Severity};

/// Why an order was not carried out.
#[derive(Debug)]
pub(crate) enum Failure {
    /// The input is bad: everything that is wrong with it, each with the file it is in, if any.
    Bad(Vec<(Option<String>, Problem)>),
    /// All was said already.
    Told,
    /// The order was carried out, and what it found breaks a limit.
    Broken,
    /// Whoever read the output has gone; that is their right.
    PipeClosed,
}

impl From<Problem> for Failure {
    fn from(problem: Problem) -> Self {
        Self::Bad(vec![(None, problem)])
    }
}

impl From<Vec<Problem>> for Failure {
    fn from(problems: Vec<Problem>) -> Self {
        Self::Bad(problems.into_iter().map(|p| (None, p)).collect())
    }
}

impl Failure {
    /// These problems of one file.
    pub(crate) fn of_file(file: &str, problems: Vec<Problem>) -> Self {
        Self::Bad(
            problems
                .into_iter()
                .map(|p| (Some(file.to_owned()), p))
                .collect(),
        )
    }

    /// Tells it on standard error.
    pub(crate) fn report(&self) {
        if let Self::Bad(problems) = self {
            for (file, problem) in problems {
                tell(file.as_deref(), problem);
            }
        }
    }
}

/// Writes one problem to standard error.
pub(crate) fn tell(file: Option<&str>, problem: &Problem) {
    // With standard error closed there is nobody left to tell.
    let _ = match file {
        Some(file) => writeln!(io::stderr(), "{file}: {problem}"),
        None => writeln!(io::stderr(), "{problem}"),
    };
}

/// Writes the warnings among the problems to standard error.
pub(crate) fn warn(file: Option<&str>, problems: &[Problem]) {
    for p in problems {
        if p.severity == Severity::Warning {
            tell(file, p);
        }
    }
}
