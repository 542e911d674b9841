//! A written programme of drive and idle: one step a line, such as `20 s this trial`,
//! `5 min idle`, `30 s 40 W`.

use kickstill_power::{LONGEST_RUN, RunTime};
use kickstill_robot::{Bare, Problem, Unit};

use super::rows::{ending, long};
use super::{ProgrammeStep, SupplyReport, SupplyRow, Taken};

/// Most lines that are read.
const MOST_LINES: usize = 200;
/// Greatest power of a step [W].
const MOST_POWER: f64 = 100_000.0;
const EXPECTED: &str = "a time and what is taken, such as 20 s this trial, 5 min idle, 30 s 40 W";
const NOT_TAKEN: &str = "no run time was reckoned";

/// Reads a programme. `idle` [W] is what is taken while nothing moves. Empty lines and what follows
/// a # are passed over.
///
/// # Errors
/// Everything that is wrong with it, by line.
pub fn read_programme(text: &str, idle: f64) -> Result<Vec<ProgrammeStep>, Vec<Problem>> {
    let mut steps = Vec::new();
    let mut problems = Vec::new();
    let wrong = |line: usize, found: &str, hint: &str| {
        let line = u32::try_from(line + 1).unwrap_or(u32::MAX);
        let p = Problem::error("programme", EXPECTED)
            .found(found)
            .hint(hint);
        p.kept(NOT_TAKEN).at(Some((line, 1)))
    };
    for (number, line) in text.lines().enumerate() {
        let line = line.split('#').next().unwrap_or_default().trim();
        if line.is_empty() {
            continue;
        }
        if number >= MOST_LINES {
            problems.push(wrong(
                number,
                line,
                &format!("at most {MOST_LINES} lines are read"),
            ));
            break;
        }
        match step(line, idle) {
            Ok(step) => steps.push(step),
            Err(hint) => problems.push(wrong(number, line, &hint)),
        }
    }
    if steps.is_empty() && problems.is_empty() {
        problems.push(wrong(0, "", "write at least one line"));
    }
    if problems.is_empty() {
        Ok(steps)
    } else {
        Err(problems)
    }
}

/// A number at the head of a text, and the rest.
fn number(text: &str) -> Option<(f64, &str)> {
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','))
        .unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    let value = Unit::One.parse(digits, Bare::Si).ok()?;
    Some((value, rest.trim_start()))
}

fn step(line: &str, idle: f64) -> Result<ProgrammeStep, String> {
    let (time, rest) = number(line).ok_or("it begins with a time")?;
    let end = rest
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(rest.len());
    let (unit, rest) = rest.split_at(end);
    let scale = match unit {
        "s" => 1.0,
        "min" => 60.0,
        "h" => 3600.0,
        _ => return Err("the time is in s, min or h".to_owned()),
    };
    let seconds = time * scale;
    if seconds <= 0.0 || seconds > LONGEST_RUN {
        return Err("the time is above 0 and at most 30 days".to_owned());
    }
    let rest = rest.trim();
    let taken = match rest {
        "this trial" => Taken::Run,
        "idle" => Taken::Watts(idle),
        "" => return Err("what is taken is missing".to_owned()),
        _ => {
            let power = number(rest).filter(|(_, unit)| *unit == "W");
            let (watts, _) = power.ok_or("what is taken is: this trial, idle, or a power in W")?;
            if watts > MOST_POWER {
                return Err(format!("at most {}", Unit::Watt.format(MOST_POWER)));
            }
            Taken::Watts(watts)
        }
    };
    Ok(ProgrammeStep { seconds, taken })
}

impl SupplyReport {
    /// What is taken from the battery while nothing moves [W]: the electronics' constant load, and
    /// what the head's regulators take beyond it.
    #[must_use]
    pub fn idle_power(&self) -> f64 {
        self.watts.electronics + self.regulators.uncounted
    }
}

/// A programme's run time as rows.
#[must_use]
pub fn programme_rows(run: &RunTime) -> Vec<SupplyRow> {
    let row = |key, label, value: f64, unit: Unit, words: String| SupplyRow {
        group: "programme",
        key,
        label,
        value: value.is_finite().then_some(value),
        unit,
        words,
        verdict: None,
    };
    let words = format!("{}, {}", long(run.time), ending(run.ending));
    let charge = format!("{:.2} A·h", run.taken.delivered / 3600.0);
    vec![
        row("programme_time", "run time", run.time, Unit::Second, words),
        row(
            "programme_repeats",
            "times through",
            run.repeats,
            Unit::One,
            format!("{:.1}", run.repeats),
        ),
        row(
            "programme_charge",
            "charge used",
            run.taken.delivered,
            Unit::AmpereSecond,
            charge,
        ),
        row(
            "programme_voltage",
            "lowest voltage",
            run.lowest_voltage,
            Unit::Volt,
            Unit::Volt.format(run.lowest_voltage),
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_read() {
        let text = "20 s this trial\n\n  5 min idle # between numbers\n0.5h 40 W\n3s 1500W";
        let steps = read_programme(text, 12.0).unwrap();
        let expected = [
            (20.0, Taken::Run),
            (300.0, Taken::Watts(12.0)),
            (1800.0, Taken::Watts(40.0)),
            (3.0, Taken::Watts(1500.0)),
        ];
        assert_eq!(steps.len(), 4);
        for (step, (seconds, taken)) in steps.iter().zip(expected) {
            assert_eq!((step.seconds, step.taken), (seconds, taken));
        }
    }

    #[test]
    fn every_wrong_line_is_told_with_its_number() {
        let text = "20 s this trial\nsoon idle\n5 weeks idle\n\n0 s idle\n5 s\n5 s 40\n5 s 1e9 W\n5 s 900000 W";
        let problems = read_programme(text, 12.0).unwrap_err();
        let lines: Vec<Option<u32>> = problems.iter().map(|p| p.line).collect();
        assert_eq!(lines, [2, 3, 5, 6, 7, 8, 9].map(Some));
        assert!(
            problems
                .iter()
                .all(|p| !p.hint.is_empty() && !p.value.is_empty())
        );
        assert_eq!(read_programme(" \n# nothing", 1.0).unwrap_err().len(), 1);
        assert!(read_programme(&"1 s idle\n".repeat(300), 1.0).is_err());
    }
}
