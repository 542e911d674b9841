//! `kickstill check`: everything that is wrong with robot files.

use kickstill_robot::{Problem, Severity};
use serde_json::{Value, json};

use crate::args::CheckOrder;
use crate::failure::{Failure, tell};
use crate::input;
use crate::output::Output;

/// One file's findings.
struct Finding {
    file: String,
    robot: Option<String>,
    problems: Vec<Problem>,
}

/// Checks all files.
///
/// # Errors
/// [`Failure::Told`] if any file has an error.
pub(crate) fn run(order: &CheckOrder) -> Result<(), Failure> {
    let findings: Vec<Finding> = order
        .files
        .iter()
        .map(|file| {
            let (robot, problems) = match input::robot(file) {
                Ok(taken) => (Some(taken.robot.name), taken.warnings),
                Err(problems) => (None, problems),
            };
            Finding {
                file: input::name(file),
                robot,
                problems,
            }
        })
        .collect();
    let good = findings.iter().all(|f| f.robot.is_some());
    let text = if order.json {
        format!("{:#}\n", report(&findings, good))
    } else {
        for f in &findings {
            for p in &f.problems {
                tell(Some(&f.file), p);
            }
        }
        findings.iter().map(summary).collect()
    };
    Output::standard().finish(&text)?;
    if good { Ok(()) } else { Err(Failure::Told) }
}

fn count(f: &Finding, severity: Severity) -> usize {
    f.problems.iter().filter(|p| p.severity == severity).count()
}

fn summary(f: &Finding) -> String {
    let number = |n: usize, word: &str| match n {
        0 => format!("no {word}s"),
        1 => format!("1 {word}"),
        n => format!("{n} {word}s"),
    };
    let warnings = number(count(f, Severity::Warning), "warning");
    match &f.robot {
        Some(robot) => format!("{}: {robot} is taken, {warnings}\n", f.file),
        None => {
            let errors = number(count(f, Severity::Error), "error");
            format!("{}: not taken, {errors}, {warnings}\n", f.file)
        }
    }
}

fn report(findings: &[Finding], good: bool) -> Value {
    let files: Vec<Value> = findings
        .iter()
        .map(|f| {
            json!({
                "file": f.file,
                "taken": f.robot.is_some(),
                "robot": f.robot,
                "errors": count(f, Severity::Error),
                "warnings": count(f, Severity::Warning),
                "problems": f.problems.iter().map(problem).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({ "taken": good, "files": files })
}

fn problem(p: &Problem) -> Value {
    json!({
        "severity": match p.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
        },
        "path": p.path,
        "value": p.value,
        "expected": p.expected,
        "hint": p.hint,
        "kept": p.kept,
        "line": p.line,
        "column": p.column,
    })
}
