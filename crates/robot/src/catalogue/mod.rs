//! The knob catalogue: the only source of keys, labels, units, ranges, steps and help.
//!
//! It feeds the page's knobs, the command line's `--set`, the robot file's checks and schema,
//! and the handbook's tables. A number of the robot that is not here does not exist.

mod bodies;
mod drives;
mod loops;
mod supply;
mod world;

use crate::model::Robot;
use crate::unit::Unit;

/// How a knob's track is divided.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// Even steps.
    Linear,
    /// Even ratios; the range must be above zero.
    Logarithmic,
}

/// What values a knob takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// Any number in the range.
    Number,
    /// A whole number in the range.
    Whole,
    /// One of these words; the value is the word's place, from 0.
    Choice(&'static [&'static str]),
}

/// One knob: a number of the robot that a person may turn.
#[derive(Clone, Copy)]
pub struct Knob {
    /// Key in robot file, links and command line, such as `head.mass`.
    pub key: &'static str,
    /// Symbol in formulas, such as `m_h`; may be empty.
    pub symbol: &'static str,
    /// Label on the page.
    pub label: &'static str,
    /// Unit; values are in its SI unit.
    pub unit: Unit,
    /// Least admissible value [SI].
    pub min: f64,
    /// Greatest admissible value [SI].
    pub max: f64,
    /// Step for keys and sliders [SI].
    pub step: f64,
    /// Division of the track.
    pub scale: Scale,
    /// Kind of value.
    pub kind: Kind,
    /// Whether a robot file may leave it out; it then has its usual value.
    pub optional: bool,
    /// What it is and what turning it does, in one or two sentences; empty without the feature
    /// `help`.
    pub help: &'static str,
    /// Reads it.
    pub get: fn(&Robot) -> f64,
    /// Writes it, unchecked; use [`Knob::set`].
    pub put: fn(&mut Robot, f64),
}

impl core::fmt::Debug for Knob {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(f, "Knob({})", self.key)
    }
}

/// Why a knob refused a value.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Refusal {
    /// Not a finite number.
    NotFinite,
    /// Below the least admissible value.
    TooSmall,
    /// Above the greatest admissible value.
    TooLarge,
    /// Not a whole number where one is asked.
    NotWhole,
}

impl Knob {
    /// Whether `value` [SI] is admissible.
    ///
    /// # Errors
    /// The reason why it is not.
    pub fn admits(&self, value: f64) -> Result<(), Refusal> {
        // A hair of slack, so that an end of the range typed in the shown unit passes.
        let slack = 1e-9 * (self.max - self.min);
        if !value.is_finite() {
            Err(Refusal::NotFinite)
        } else if value < self.min - slack {
            Err(Refusal::TooSmall)
        } else if value > self.max + slack {
            Err(Refusal::TooLarge)
        } else if self.kind != Kind::Number && value != value.round() {
            Err(Refusal::NotWhole)
        } else {
            Ok(())
        }
    }

    /// Sets the knob to `value` [SI].
    ///
    /// # Errors
    /// Refuses an inadmissible value; the robot then keeps the old one.
    pub fn set(&self, robot: &mut Robot, value: f64) -> Result<(), Refusal> {
        self.admits(value)?;
        (self.put)(robot, value.max(self.min).min(self.max));
        Ok(())
    }

    const fn optional(mut self) -> Self {
        self.optional = true;
        self
    }

    const fn log(mut self) -> Self {
        self.scale = Scale::Logarithmic;
        self
    }
}

/// All knobs, in the order of the robot file.
#[must_use]
pub fn catalogue() -> &'static [Knob] {
    static ALL: std::sync::OnceLock<Vec<Knob>> = std::sync::OnceLock::new();
    ALL.get_or_init(|| {
        [
            bodies::KNOBS,
            drives::KNOBS,
            supply::KNOBS,
            loops::KNOBS,
            world::KNOBS,
        ]
        .into_iter()
        .flatten()
        .copied()
        .collect()
    })
}

/// The knob with this key.
#[must_use]
pub fn knob(key: &str) -> Option<&'static Knob> {
    catalogue().iter().find(|k| k.key == key)
}

/// A number knob: key, symbol, label, unit, least, greatest, step, help, reader, writer.
#[allow(clippy::too_many_arguments)] // one row of a table, read as such
const fn num(
    key: &'static str,
    symbol: &'static str,
    label: &'static str,
    unit: Unit,
    range: [f64; 3],
    help: &'static str,
    get: fn(&Robot) -> f64,
    put: fn(&mut Robot, f64),
) -> Knob {
    let [min, max, step] = range;
    Knob {
        key,
        symbol,
        label,
        unit,
        min,
        max,
        step,
        scale: Scale::Linear,
        kind: Kind::Number,
        optional: false,
        help: if cfg!(feature = "help") { help } else { "" },
        get,
        put,
    }
}

/// A knob of whole numbers.
const fn whole(mut knob: Knob) -> Knob {
    knob.kind = Kind::Whole;
    knob
}

/// A knob of words.
const fn choice(
    key: &'static str,
    label: &'static str,
    words: &'static [&'static str],
    help: &'static str,
    get: fn(&Robot) -> f64,
    put: fn(&mut Robot, f64),
) -> Knob {
    let max = (words.len() - 1) as f64;
    let mut knob = num(key, "", label, Unit::One, [0.0, max, 1.0], help, get, put);
    knob.kind = Kind::Choice(words);
    knob
}

const NO_YES: &[&str] = &["no", "yes"];

const fn as_f64(b: bool) -> f64 {
    if b { 1.0 } else { 0.0 }
}
