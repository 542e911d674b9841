//! Gains and the software's other settings, to be carried to the real firmware: as rows, as a table,
//! as CSV, as a C header.

use core::fmt::Write;

use kickstill_robot::makers::firmware;
use kickstill_robot::{Kind, Knob, Robot, Unit, catalogue};

use super::named::{CAUTION, Origin};
use super::tried::digits;
use super::{Table, plain};

/// Sections of the robot file that the firmware holds, in the file's order.
pub const SOFTWARE: [&str; 7] = [
    "timing",
    "lean",
    "carriage_loop",
    "travel",
    "levelling",
    "guard",
    "firmware",
];

/// A whole number stands for the firmware's one only if it is off by no more than this share.
const WHOLE_TOLERANCE: f64 = 0.02;

/// One setting of the software.
#[derive(Clone, Debug, PartialEq)]
pub struct Gain {
    /// Its knob's key.
    pub key: &'static str,
    /// Its knob's symbol; may be empty.
    pub symbol: &'static str,
    /// Its knob's label.
    pub label: &'static str,
    /// What it is and does.
    pub help: &'static str,
    /// Unit of the value.
    pub unit: Unit,
    /// Value [SI]; of a choice the word's place, from 0.
    pub value: f64,
    /// Value with its unit, or the word chosen.
    pub text: String,
    /// Words of a choice; empty for numbers.
    pub words: &'static [&'static str],
    /// Whether only whole numbers are taken.
    pub whole: bool,
    /// The firmware's number.
    pub raw: Option<f64>,
    /// Its unit; empty without one.
    pub raw_unit: &'static str,
    /// The firmware's number as a whole one, where that is close enough.
    pub raw_whole: Option<i64>,
}

/// The software's settings, physical and as the firmware has them; `say` writes a value [SI] with its unit.
#[must_use]
pub fn gains(robot: &Robot, say: &dyn Fn(&Knob, f64) -> String) -> Vec<Gain> {
    let section = |knob: &Knob| knob.key.split('.').next().unwrap_or(knob.key);
    let of = |&wanted| catalogue().iter().filter(move |k| section(k) == wanted);
    SOFTWARE
        .iter()
        .flat_map(of)
        .map(|knob| {
            let value = (knob.get)(robot);
            let raw = firmware::raw(robot, knob.key);
            Gain {
                key: knob.key,
                symbol: knob.symbol,
                label: knob.label,
                help: knob.help,
                unit: knob.unit,
                value,
                text: say(knob, value),
                words: match knob.kind {
                    Kind::Choice(words) => words,
                    _ => &[],
                },
                whole: knob.kind == Kind::Whole,
                raw: raw.map(|(number, _)| number),
                raw_unit: raw.map_or("", |(_, unit)| unit),
                raw_whole: raw.and_then(|(number, _)| whole(number)),
            }
        })
        .collect()
}

/// The nearest whole number of 32 bits, if it is close enough.
fn whole(raw: f64) -> Option<i64> {
    let round = raw.round();
    let close = (round - raw).abs() <= WHOLE_TOLERANCE * raw.abs();
    // The cast is exact: a whole number of 32 bits.
    (close && round.abs() <= f64::from(i32::MAX)).then_some(round as i64)
}

impl Gain {
    /// The firmware's number to six digits; empty without one.
    #[must_use]
    pub fn raw_digits(&self) -> String {
        let six = |raw: f64| format!("{raw:.5e}").parse().unwrap_or(raw);
        self.raw.map_or_else(String::new, |raw| digits(six(raw)))
    }
}

/// As a table for people.
#[must_use]
pub fn gains_table(gains: &[Gain]) -> Table {
    let row = |gain: &Gain| {
        vec![
            gain.label.to_owned(),
            gain.text.clone(),
            format!("{} {}", gain.raw_digits(), gain.raw_unit)
                .trim()
                .to_owned(),
            gain.raw_whole.map_or_else(String::new, |n| n.to_string()),
            gain.key.to_owned(),
        ]
    };
    Table {
        head: vec!["setting", "value", "firmware", "as a whole number", "knob"],
        rows: gains.iter().map(row).collect(),
    }
}

/// As Markdown, with what it belongs to.
#[must_use]
pub fn gains_markdown(origin: &Origin, gains: &[Gain]) -> String {
    let title = Table::words(&origin.robot);
    format!(
        "# Gains of {title}\n\n{}\n\n{}\n> {CAUTION}\n",
        Table::words(&origin.line()),
        gains_table(gains).markdown()
    )
}

/// As CSV: SI units, full digits, one line a setting.
#[must_use]
pub fn gains_csv(gains: &[Gain]) -> String {
    let mut csv = csv::Writer::from_writer(Vec::new());
    let mut write = |row: [&str; 8]| csv.write_record(row).map_err(plain);
    let head = [
        "knob",
        "label",
        "value",
        "unit",
        "words",
        "firmware",
        "firmware_unit",
        "firmware_whole",
    ];
    // Writing into memory cannot fail.
    let _ = write(head);
    for gain in gains {
        let number = |v: Option<f64>| v.map_or_else(String::new, digits);
        let _ = write([
            gain.key,
            gain.label,
            &digits(gain.value),
            gain.unit.si_symbol(),
            &gain.text,
            &number(gain.raw),
            gain.raw_unit,
            &gain.raw_whole.map_or_else(String::new, |n| n.to_string()),
        ]);
    }
    let bytes = csv.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

/// As a header in C99, `kickstill_gains.h`: macros only, so that nothing is taken by what is not used.
#[must_use]
pub fn gains_header(robot: &Robot, origin: &Origin, gains: &[Gain]) -> String {
    let mut out = String::new();
    // Writing into a String cannot fail.
    let _ = header(&mut out, robot, origin, gains);
    out
}

fn header(out: &mut String, robot: &Robot, origin: &Origin, gains: &[Gain]) -> core::fmt::Result {
    writeln!(out, "/*")?;
    writeln!(out, " * Gains of the robot {}.", comment(&origin.robot))?;
    writeln!(out, " * {}", comment(&origin.line()))?;
    writeln!(out, " *")?;
    for line in [
        "Each setting with its value in SI units and radians (its unit is the end of its name),",
        "then, where a firmware of the common kind has a number for it, that number (…_RAW) and, where",
        "rounding moves it by no more than 2 %, the same as a whole one (…_RAW_INT).",
    ] {
        writeln!(out, " * {line}")?;
    }
    writeln!(
        out,
        " * Raw numbers hold for {} full scale, {} sensor counts a turn, {}, a tick of {}.",
        digits(robot.firmware.full_scale),
        digits(robot.firmware.sensor_counts),
        if robot.firmware.reversed {
            "a reversed sensor"
        } else {
            "a sensor that is not reversed"
        },
        Unit::Second.format(robot.timing.tick()),
    )?;
    writeln!(out, " *")?;
    for line in wrapped(CAUTION) {
        writeln!(out, " * {line}")?;
    }
    writeln!(out, " */")?;
    writeln!(out, "#ifndef KICKSTILL_GAINS_H")?;
    writeln!(out, "#define KICKSTILL_GAINS_H")?;
    writeln!(out)?;
    writeln!(
        out,
        "#define KICKSTILL_ROBOT_NAME {}",
        literal(&origin.robot)
    )?;
    writeln!(
        out,
        "#define KICKSTILL_ROBOT_DIGEST {}",
        literal(&origin.digest)
    )?;
    writeln!(out, "#define KICKSTILL_DATE {}", literal(&origin.date))?;
    writeln!(
        out,
        "#define KICKSTILL_REVISION {}",
        literal(&origin.revision)
    )?;
    writeln!(out, "#define KICKSTILL_MODEL_VERSION {}", origin.model)?;
    let mut section = "";
    for gain in gains {
        let of = gain.key.split('.').next().unwrap_or_default();
        if of != section {
            section = of;
            writeln!(out)?;
        }
        one(out, gain)?;
    }
    writeln!(out)?;
    writeln!(out, "#endif")
}

fn one(out: &mut String, gain: &Gain) -> core::fmt::Result {
    let name = format!("KICKSTILL_{}", gain.key.replace('.', "_").to_uppercase());
    let told = comment(&format!("{}: {}", gain.label, gain.text));
    if !gain.words.is_empty() {
        let words = gain.words.iter().enumerate();
        let words: Vec<String> = words.map(|(i, word)| format!("{i} {word}")).collect();
        writeln!(out, "/* {told} ({}) */", words.join(", "))?;
        // The cast is exact: a word's place.
        return writeln!(out, "#define {name} {}", gain.value as u32);
    }
    writeln!(out, "/* {told} */")?;
    let name_with_unit = match suffix(gain.unit) {
        "" => name.clone(),
        unit => format!("{name}_{unit}"),
    };
    if gain.whole {
        writeln!(
            out,
            "#define {name_with_unit} {}",
            signed(gain.value, false)
        )?;
    } else {
        writeln!(out, "#define {name_with_unit} {}", signed(gain.value, true))?;
    }
    let Some(raw) = gain.raw else { return Ok(()) };
    writeln!(
        out,
        "#define {name}_RAW {} /* {} */",
        signed(raw, true),
        gain.raw_unit
    )?;
    match gain.raw_whole {
        Some(n) => {
            let n = if n < 0 {
                format!("({n})")
            } else {
                n.to_string()
            };
            writeln!(out, "#define {name}_RAW_INT {n}")
        }
        None => writeln!(
            out,
            "/* no whole number: rounding moves it by more than 2 % */"
        ),
    }
}

/// A number as C reads it: a double with its point, or a whole one; brackets about a minus.
fn signed(value: f64, double: bool) -> String {
    let mut text = digits(value);
    if double && !text.contains(['.', 'e']) {
        text.push_str(".0");
    }
    if value < 0.0 {
        format!("({text})")
    } else {
        text
    }
}

/// A text within a comment of C: it cannot end it, open another, or join lines.
fn comment(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        let before = out.chars().last();
        match c {
            '/' if before == Some('*') => out.push_str(" /"),
            '*' if before == Some('/') => out.push_str(" *"),
            // Trigraphs are replaced before anything else is read; ??/ would be a backslash.
            '?' if before == Some('?') => out.push_str(" ?"),
            '\\' => out.push('/'),
            c => out.push(c),
        }
    }
    out
}

/// A text as a string literal of C, in ASCII.
fn literal(text: &str) -> String {
    let mut out = String::from("\"");
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z'
            | b'A'..=b'Z'
            | b'0'..=b'9'
            | b' '
            | b'-'
            | b'_'
            | b'.'
            | b','
            | b'('
            | b')' => {
                out.push(char::from(byte));
            }
            // Three octal digits end by themselves, whatever follows.
            other => out.push_str(&format!("\\{other:03o}")),
        }
    }
    out.push('"');
    out
}

/// A text in lines of about a hundred characters.
fn wrapped(text: &str) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            if line.is_empty() {
                line.push_str(word);
            } else if line.len() + word.len() < 100 {
                line.push(' ');
                line.push_str(word);
            } else {
                lines.push(word.to_owned());
            }
        }
    }
    lines
}

/// A unit's SI symbol as the end of a name; empty for plain numbers.
fn suffix(unit: Unit) -> &'static str {
    match unit {
        Unit::One | Unit::Count => "",
        Unit::Metre => "M",
        Unit::Kilogram => "KG",
        Unit::KilogramSquareMetre => "KG_M2",
        Unit::Radian => "RAD",
        Unit::RadianPerSecond | Unit::RevolutionsPerMinute => "RAD_PER_S",
        Unit::Second => "S",
        Unit::Hertz => "HZ",
        Unit::MetrePerSecond => "M_PER_S",
        Unit::MetrePerSquareSecond => "M_PER_S2",
        Unit::Newton => "N",
        Unit::NewtonSecond => "N_S",
        Unit::NewtonMetre => "N_M",
        Unit::NewtonMetrePerRadian => "N_M_PER_RAD",
        Unit::NewtonMetreSecondPerRadian => "N_M_S_PER_RAD",
        Unit::NewtonMetrePerAmpere => "N_M_PER_A",
        Unit::Ohm => "OHM",
        Unit::Volt => "V",
        Unit::Ampere => "A",
        Unit::Watt => "W",
        Unit::Joule => "J",
        Unit::WattPerNewtonMetre => "W_PER_N_M",
        Unit::AmpereSecond => "A_S",
        Unit::SquareMetre => "M2",
        Unit::Celsius => "CELSIUS",
        Unit::KelvinPerWatt => "K_PER_W",
        Unit::RadianPerRadian => "RAD_PER_RAD",
        Unit::RadianSecondPerRadian => "RAD_S_PER_RAD",
        Unit::PerSecond => "PER_S",
        Unit::DutyPerRadian => "DUTY_PER_RAD",
        Unit::DutySecondPerRadian => "DUTY_S_PER_RAD",
        Unit::Duty => "DUTY",
        Unit::Share => "SHARE",
    }
}

#[cfg(test)]
#[path = "gains_tests.rs"]
mod tests;
