//! What stands in the head of everything that is printed or copied out: which robot, which
//! settings, which day, which model.

use kickstill_robot::{Problem, Robot, write_robot};

use crate::MODEL_VERSION;
use crate::digest::Digest;

/// The first caution of every sheet, card and list of gains.
pub const CAUTION: &str = "A simulation, not a permission: try the real robot slowly, with people clear of it and a hand at \
     the switch. A fuse protects the wire. Local rules and a qualified person's judgement come first.";

/// Longest name that is printed [characters].
const LONGEST: usize = 80;

/// Where a printed thing comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Origin {
    /// The robot's name, fit for one line.
    pub robot: String,
    /// Digest of the robot file: 16 hexadecimal digits. Another number, mark or part gives another.
    pub digest: String,
    /// Day, as 2031-05-17; empty if nobody has said.
    pub date: String,
    /// Name or letter of the revision, fit for one line; may be empty.
    pub revision: String,
    /// Version of the model.
    pub model: u32,
    /// Version of the program.
    pub program: &'static str,
}

impl Origin {
    /// Of this robot. What is no day or more than one line is not taken as it stands.
    ///
    /// # Errors
    /// A `date` that is neither empty nor a day.
    pub fn new(robot: &Robot, date: &str, revision: &str) -> Result<Origin, Box<Problem>> {
        if !(date.is_empty() || is_day(date)) {
            return Err(Box::new(
                Problem::error("date", "a day, such as 2031-05-17")
                    .found(one_line(date))
                    .kept("nothing was written"),
            ));
        }
        Ok(Origin {
            robot: one_line(&robot.name),
            digest: robot_digest(robot),
            date: date.to_owned(),
            revision: one_line(revision),
            model: MODEL_VERSION,
            program: env!("CARGO_PKG_VERSION"),
        })
    }
}

impl Origin {
    /// All but the robot's name, in one line.
    #[must_use]
    pub fn line(&self) -> String {
        let mut parts = Vec::new();
        if !self.revision.is_empty() {
            parts.push(format!("revision {}", self.revision));
        }
        if !self.date.is_empty() {
            parts.push(self.date.clone());
        }
        parts.push(format!("robot digest {}", self.digest));
        parts.push(format!("model version {}", self.model));
        parts.push(format!("kickstill {}", self.program));
        parts.join(", ")
    }
}

/// Digest of the robot's file as the program writes it.
#[must_use]
pub fn robot_digest(robot: &Robot) -> String {
    let file = write_robot(robot);
    let mut digest = Digest::new();
    digest.word(file.len() as u64);
    for part in file.as_bytes().chunks(8) {
        let mut word = [0; 8];
        word[..part.len()].copy_from_slice(part);
        digest.word(u64::from_le_bytes(word));
    }
    format!("{:016x}", digest.value())
}

/// A text of others on one line of bearable length: no breaks, no control characters, none that turn the
/// direction of writing (they would show a line otherwise than a compiler reads it).
#[must_use]
pub fn one_line(text: &str) -> String {
    let plain = |c: char| {
        let turns = matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
        let breaks = matches!(c, '\u{2028}' | '\u{2029}');
        if c.is_control() || turns || breaks {
            ' '
        } else {
            c
        }
    };
    let line: String = text.chars().map(plain).collect();
    let words: Vec<&str> = line.split_whitespace().collect();
    let line = words.join(" ");
    if line.chars().count() <= LONGEST {
        return line;
    }
    line.chars().take(LONGEST - 1).chain(['…']).collect()
}

/// Whether this is a day as ISO 8601 writes it, from 1970 to 9999.
fn is_day(text: &str) -> bool {
    let part = |at: core::ops::Range<usize>| -> Option<u32> {
        let digits = text.get(at)?;
        let all = digits.bytes().all(|b| b.is_ascii_digit());
        all.then(|| digits.parse().ok()).flatten()
    };
    let (Some(year), Some(month), Some(day)) = (part(0..4), part(5..7), part(8..10)) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    let bytes = text.as_bytes();
    let lines = [4, 7].iter().all(|&at| bytes.get(at) == Some(&b'-'));
    text.len() == 10 && lines && year >= 1970 && (1..=days).contains(&day)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kickstill_robot::{demo, knob};

    #[test]
    fn every_number_mark_and_part_counts_in_the_digest() {
        let robot = demo("cobnut").unwrap();
        let before = robot_digest(&robot);
        assert_eq!(before.len(), 16);
        assert_eq!(before, robot_digest(&robot.clone()));
        let mut other = robot.clone();
        let damping = knob("travel.damping").unwrap();
        let value = (damping.get)(&robot);
        damping.set(&mut other, value * (1.0 + 1e-12)).unwrap();
        assert_ne!(before, robot_digest(&other));
        let mut other = robot.clone();
        other.parts.pop();
        assert_ne!(before, robot_digest(&other));
        let mut other = robot;
        other.set_mark("head.mass", None);
        other.name.push('!');
        assert_ne!(before, robot_digest(&other));
    }

    #[test]
    fn a_day_is_a_day() {
        for good in ["2031-05-17", "2024-02-29", "2000-02-29", "1970-01-01"] {
            assert!(is_day(good), "{good}");
        }
        for bad in [
            "2023-02-29",
            "1900-02-29",
            "2031-13-01",
            "2031-00-10",
            "2031-05-32",
            "2031-05-1",
            "2031/05/17",
            "20310-5-17",
            "+031-05-17",
            "2031-05-17 ",
            "*/ x",
            "２０３１-05-17",
        ] {
            assert!(!is_day(bad), "{bad}");
        }
        let robot = demo("cobnut").unwrap();
        assert!(Origin::new(&robot, "today", "").is_err());
        assert!(Origin::new(&robot, "", "").is_ok());
    }

    #[test]
    fn a_name_is_one_line() {
        assert_eq!(one_line(" a\nb\t\u{202e}c\u{2028}d\u{0} "), "a b c d");
        assert_eq!(one_line(&"x".repeat(500)).chars().count(), LONGEST);
        assert_eq!(one_line("Kürbis 3 (µ)"), "Kürbis 3 (µ)");
    }
}
