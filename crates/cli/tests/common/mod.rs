//! Runs the built program as a user would.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]
#![allow(dead_code)] // each test file uses its part

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

/// The program with these arguments.
pub(crate) fn kickstill(args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_kickstill"));
    command.args(args);
    command
}

/// Runs it.
pub(crate) fn run(args: &[&str]) -> Output {
    kickstill(args).output().unwrap()
}

/// Runs it with this on standard input.
pub(crate) fn run_with(args: &[&str], input: &[u8]) -> Output {
    let mut child = kickstill(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // It may stop reading early, when the input is too long.
    let _ = child.stdin.take().unwrap().write_all(input);
    child.wait_with_output().unwrap()
}

/// Runs it, which must succeed in silence, and gives what it printed.
pub(crate) fn good(args: &[&str]) -> String {
    let out = run(args);
    assert_eq!(out.status.code(), Some(0), "{args:?}: {}", stderr(&out));
    assert_eq!(stderr(&out), "", "{args:?}");
    stdout(&out)
}

/// Runs it, which must refuse with code 2 and print nothing; gives what it said.
pub(crate) fn bad(args: &[&str]) -> String {
    refused(args, &run(args))
}

/// The same of an output.
pub(crate) fn refused(args: &[&str], out: &Output) -> String {
    assert_eq!(out.status.code(), Some(2), "{args:?}: {}", stderr(out));
    assert_eq!(stdout(out), "", "{args:?}");
    let said = stderr(out);
    assert!(!said.is_empty() && !said.contains("panicked"), "{said}");
    said
}

/// Runs it and reads the JSON it printed.
pub(crate) fn json(args: &[&str]) -> Value {
    serde_json::from_str(&good(args)).unwrap()
}

/// What it printed.
pub(crate) fn stdout(out: &Output) -> String {
    String::from_utf8(out.stdout.clone()).unwrap()
}

/// What it said.
pub(crate) fn stderr(out: &Output) -> String {
    String::from_utf8(out.stderr.clone()).unwrap()
}

/// A place for a test's file.
pub(crate) fn place(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name)
}

/// A file with these bytes; gives its path.
pub(crate) fn file(name: &str, bytes: &[u8]) -> String {
    let path = place(name);
    std::fs::write(&path, bytes).unwrap();
    path.to_str().unwrap().to_owned()
}

/// Whether every word is said.
pub(crate) fn says(said: &str, words: &[&str]) {
    for word in words {
        assert!(said.contains(word), "\"{word}\" is not in:\n{said}");
    }
}
