//! Reading robot files: a path, a demo's name, or standard input.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use kickstill_robot::file::MOST_BYTES;
use kickstill_robot::problem::{nearest, shorten};
use kickstill_robot::{Problem, Robot, demos, read_robot};

/// What is done with a file that cannot be read.
const REFUSED: &str = "the file is not taken";

/// A robot that was read, with its warnings.
pub(crate) struct Taken {
    /// The robot.
    pub(crate) robot: Robot,
    /// What to look at again.
    pub(crate) warnings: Vec<Problem>,
}

/// The name by which a FILE is spoken of.
pub(crate) fn name(file: &Path) -> String {
    if is_standard(file) {
        "standard input".to_owned()
    } else {
        shorten(&file.to_string_lossy())
    }
}

/// Reads the robot that FILE names.
///
/// # Errors
/// Everything that is wrong with it.
pub(crate) fn robot(file: &Path) -> Result<Taken, Vec<Problem>> {
    let text = match demo_text(file) {
        Some(text) => text.to_owned(),
        None => text_of(file).map_err(|p| vec![p.kept(REFUSED)])?,
    };
    let (robot, warnings) = read_robot(&text)?;
    Ok(Taken { robot, warnings })
}

fn is_standard(file: &Path) -> bool {
    file == Path::new("-")
}

fn demo_text(file: &Path) -> Option<&'static str> {
    let key = file.to_str()?;
    let demo = demos().iter().find(|d| d.key.eq_ignore_ascii_case(key))?;
    Some(demo.text)
}

/// The text of a file that is no robot file; `what` names its kind.
///
/// # Errors
/// It cannot be read, is longer than `most` bytes, or is no UTF-8.
#[allow(clippy::result_large_err)] // once a run
pub(crate) fn text(file: &Path, most: usize, what: &str) -> Result<String, Problem> {
    bytes_of(file, most, what)
        .and_then(|read| match read {
            Ok(bytes) => Ok(bytes),
            Err(e) => {
                let expected = format!("{what} that can be read");
                Err(
                    Problem::error("", expected).hint(if e.kind() == io::ErrorKind::NotFound {
                        "no such file".to_owned()
                    } else {
                        e.to_string()
                    }),
                )
            }
        })
        .and_then(in_utf8)
        .map_err(|p| p.kept(REFUSED))
}

#[allow(clippy::result_large_err)] // once a run
fn text_of(file: &Path) -> Result<String, Problem> {
    let bytes = bytes_of(file, MOST_BYTES, "a robot file")?.map_err(|e| unreadable(file, &e))?;
    in_utf8(bytes)
}

/// The bytes of a file, or the system's reason why not.
#[allow(clippy::result_large_err)] // once a run
fn bytes_of(file: &Path, most: usize, what: &str) -> Result<io::Result<Vec<u8>>, Problem> {
    let mut bytes = Vec::new();
    // One byte more than is taken tells that there are too many; what follows is left unread.
    let limit = most as u64 + 1;
    let read = if is_standard(file) {
        io::stdin().lock().take(limit).read_to_end(&mut bytes)
    } else if file.is_dir() {
        return Err(Problem::error("", what).found("a directory"));
    } else {
        File::open(file).and_then(|f| f.take(limit).read_to_end(&mut bytes))
    };
    if read.is_ok() && bytes.len() > most {
        let p = Problem::error("", format!("a file of at most {most} bytes"));
        return Err(p
            .found("a longer one")
            .hint(format!("{what} has some ten thousand bytes")));
    }
    Ok(read.map(|_| bytes))
}

#[allow(clippy::result_large_err)] // once a run
fn in_utf8(bytes: Vec<u8>) -> Result<String, Problem> {
    String::from_utf8(bytes).map_err(|e| not_text(e.as_bytes(), e.utf8_error().valid_up_to()))
}

fn unreadable(file: &Path, e: &io::Error) -> Problem {
    let keys = || demos().iter().map(|d| d.key);
    let mut hint = e.to_string();
    if e.kind() == io::ErrorKind::NotFound {
        let near = file.to_str().and_then(|f| nearest(f, keys()));
        hint = match near {
            Some(key) => format!("no such file; did you mean the demo {key}?"),
            None => "no such file".to_owned(),
        };
    }
    let demos: Vec<&str> = keys().collect();
    Problem::error(
        "",
        format!(
            "a robot file that can be read, or a demo's name ({})",
            demos.join(", ")
        ),
    )
    .hint(hint)
}

/// The problem of bytes that are no UTF-8 from `at` on.
fn not_text(bytes: &[u8], at: usize) -> Problem {
    let before = &bytes[..at.min(bytes.len())];
    let start = before
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |i| i + 1);
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    // Column in characters: continuation bytes are none.
    let column = before[start..]
        .iter()
        .filter(|b| **b & 0xc0 != 0x80)
        .count()
        + 1;
    let place = u32::try_from(line).ok().zip(u32::try_from(column).ok());
    let found = bytes
        .get(at)
        .map_or_else(String::new, |b| format!("byte 0x{b:02x}"));
    let hint = match bytes {
        [0xff, 0xfe, ..] | [0xfe, 0xff, ..] => "this looks like UTF-16: save it as UTF-8",
        _ => "save the file as UTF-8",
    };
    Problem::error("", "text in UTF-8")
        .found(found)
        .hint(hint)
        .at(place)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_place_of_a_bad_byte_is_told() {
        let bytes = b"{\n  \"n\xc3\xa4\xff\"".to_vec();
        let e = String::from_utf8(bytes).unwrap_err();
        let p = not_text(e.as_bytes(), e.utf8_error().valid_up_to());
        assert_eq!((p.line, p.column), (Some(2), Some(6)));
        assert!(p.value.contains("0xff"));
        let p = not_text(&[0xff, 0xfe, b'{', 0], 0);
        assert!(p.hint.contains("UTF-16") && p.line == Some(1));
    }
}
