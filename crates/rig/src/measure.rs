//! The measures of a run, each defined here once for page, command line, maps and tests.

use kickstill_robot::{Unit, View};

use crate::extremes::{Extremes, find};
use crate::outcome::{Outcome, OutcomeClass, judge};
use crate::rig::RunEnd;
use crate::sample::{Sample, flag};

/// One number a run reports.
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    /// Key, the same everywhere.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// Value [SI]; none where the run gives none.
    pub value: Option<f64>,
    /// Unit of the value.
    pub unit: Unit,
    /// The value in words, or why there is none.
    pub words: String,
}

/// What a run is judged against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Judging {
    /// Plane.
    pub view: View,
    /// Half width of the band in which it counts as settled [rad].
    pub band: f64,
    /// Time between samples [s].
    pub tick: f64,
    /// Swing that a slope asks for once standing (side view) [rad].
    pub steady_swing: f64,
    /// What set the run going.
    pub from: Stimulus,
    /// Why the run ended before its time, if it did.
    pub end: Option<RunEnd>,
}

/// What set a run going; decides what overshoot and stopping mean.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stimulus {
    /// A kick, a bump, a wall, or nothing.
    Push,
    /// A start to a speed or a lean.
    Start,
    /// A stop to standing.
    Stop,
    /// Something failed in motion: emergency stop, motors cut, radio lost.
    Fault,
}

/// Everything about a run that the measures and the outcome share.
pub(crate) struct Course<'a> {
    pub(crate) samples: &'a [Sample],
    pub(crate) judging: &'a Judging,
    /// Judged angle less its set point [rad].
    pub(crate) error: Vec<f64>,
    pub(crate) extremes: Extremes,
    /// Whether anyone reads the words: putting a number in words takes longer than finding it.
    pub(crate) words: bool,
}

/// Length of the last stretch in which a residual wobble is looked for [s].
pub const WOBBLE_TIME: f64 = 3.0;
/// A run counts as settled if it stayed in the band for at least this long at its end [s].
pub const STAY_TIME: f64 = 0.5;
/// Extremes below this are rest [rad]: 0.05°.
const SMALLEST_SWING: f64 = 8.7e-4;
/// Speed below which the ball counts as stopped [m/s].
pub const STANDING_SPEED: f64 = 0.02;

impl<'a> Course<'a> {
    fn new(samples: &'a [Sample], judging: &'a Judging, words: bool) -> Self {
        let error: Vec<f64> = samples.iter().map(|s| error_of(s, judging)).collect();
        let extremes = find(&error, SMALLEST_SWING);
        Self {
            samples,
            judging,
            error,
            extremes,
            words,
        }
    }

    pub(crate) fn length(&self) -> f64 {
        match (self.samples.first(), self.samples.last()) {
            // The last sample stands for the tick that follows it.
            (Some(a), Some(b)) => b.time - a.time + self.judging.tick,
            _ => 0.0,
        }
    }

    fn start(&self) -> f64 {
        self.samples.first().map_or(0.0, |s| s.time)
    }

    /// Samples of the last `seconds`.
    pub(crate) fn tail(&self, seconds: f64) -> core::ops::Range<usize> {
        let n = self.samples.len();
        let count = ((seconds / self.judging.tick).round() as usize + 1).min(n);
        n - count..n
    }

    /// Whether the sample is within the band: swing and dip in the side view, lean in the front.
    fn within(&self, i: usize) -> bool {
        let band = self.judging.band;
        let head = match self.judging.view {
            View::Side if !self.samples[i].head_lost() => self.samples[i].tilt.abs(),
            _ => 0.0,
        };
        self.error[i].abs() <= band && head <= band
    }

    /// Time after which it stays in the band, from the start of the run; none if it does not.
    pub(crate) fn settling_time(&self) -> Option<f64> {
        if self.judging.end.is_some() || self.samples.is_empty() {
            return None;
        }
        let last_out = (0..self.samples.len()).rev().find(|&i| !self.within(i));
        let Some(last) = last_out else {
            return Some(0.0);
        };
        let time = self.samples[last].time - self.start() + self.judging.tick;
        (time <= self.length() - STAY_TIME).then_some(time)
    }

    /// Peak to peak of the judged angle in the last `seconds`, `back` seconds before the end.
    pub(crate) fn wobble(&self, back: f64) -> f64 {
        let part = self.stretch(back);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for e in part {
            low = low.min(*e);
            high = high.max(*e);
        }
        if part.is_empty() { 0.0 } else { high - low }
    }

    /// Root mean square of the judged angle about its mean in [`WOBBLE_TIME`], `back` seconds
    /// before the end.
    fn agitation(&self, back: f64) -> f64 {
        let part = self.stretch(back);
        let n = part.len().max(1) as f64;
        let mean = part.iter().sum::<f64>() / n;
        (part.iter().map(|e| (e - mean) * (e - mean)).sum::<f64>() / n).sqrt()
    }

    fn stretch(&self, back: f64) -> &[f64] {
        let n = self.samples.len();
        let skip = ((back / self.judging.tick).round() as usize).min(n);
        let end = n - skip;
        let count = ((WOBBLE_TIME / self.judging.tick).round() as usize).min(end);
        &self.error[end - count..end]
    }

    /// Whether the wobble keeps up: peak to peak more than a tenth of the band, and by its root
    /// mean square at least 0.7 of what it was in the same time before. The mean square, because
    /// an oscillation with dry friction is seldom even.
    pub(crate) fn sustained(&self) -> bool {
        self.length() > 2.0 * WOBBLE_TIME - 0.5 * self.judging.tick
            && self.wobble(0.0) > 0.1 * self.judging.band
            && self.agitation(0.0) > 0.7 * self.agitation(WOBBLE_TIME)
    }

    /// Mean period of the last swings [s].
    pub(crate) fn period(&self) -> Option<f64> {
        self.extremes.period().map(|p| p * self.judging.tick)
    }

    fn over(&self, f: impl Fn(&Sample) -> f64) -> f64 {
        self.samples.iter().map(f).fold(0.0, f64::max)
    }

    fn mean(&self, f: impl Fn(&Sample) -> f64) -> f64 {
        let n = self.samples.len().max(1) as f64;
        self.samples.iter().map(f).sum::<f64>() / n
    }

    /// Time from the start after which the ball stands, and how far it went till then.
    fn stopping(&self) -> Option<(f64, f64)> {
        let moving = |s: &Sample| s.speed.abs() > STANDING_SPEED;
        let last = self.samples.iter().rposition(moving)?;
        let time = self.samples[last].time - self.start() + self.judging.tick;
        (time <= self.length() - STAY_TIME).then(|| {
            let way = self.samples[last].travel - self.samples[0].travel;
            (time, way.abs())
        })
    }

    /// After a fault: time until the ball stands, and its greatest distance from where the fault
    /// came, till the end. None while it still rolls.
    fn run_out(&self) -> Option<(f64, f64)> {
        let at = self.samples.first()?.travel;
        // A ball that never moved ran out at once.
        let moved = self.over(|s| s.speed.abs()) > STANDING_SPEED;
        let time = if moved { self.stopping()?.0 } else { 0.0 };
        Some((time, self.over(|s| (s.travel - at).abs())))
    }

    /// Overshoot as a share: after a push, the greatest swing to the other side against the
    /// first; after a start, how far the ball's speed (or the lean) went past what was asked.
    fn overshoot(&self) -> Option<f64> {
        match self.judging.from {
            Stimulus::Push => self.extremes.overshoot(),
            Stimulus::Start | Stimulus::Stop | Stimulus::Fault => {
                let of = |s: &Sample| match self.judging.view {
                    View::Side => s.speed,
                    View::Front => s.roll,
                };
                let (first, last) = (self.samples.first()?, self.samples.last()?);
                let (from, to) = match self.judging.from {
                    Stimulus::Stop | Stimulus::Fault => (of(first), 0.0),
                    _ => (of(first), last.set_point),
                };
                let step = to - from;
                if step.abs() < 1e-3 {
                    return None;
                }
                let past = self
                    .samples
                    .iter()
                    .map(|s| (of(s) - to) / step)
                    .fold(f64::NEG_INFINITY, f64::max);
                Some(past.max(0.0))
            }
        }
    }
}

fn error_of(s: &Sample, judging: &Judging) -> f64 {
    match judging.view {
        View::Side => s.swing - judging.steady_swing,
        View::Front => s.roll - s.set_point,
    }
}

/// The same without words: class, and each measure's key and value.
#[must_use]
pub(crate) fn numbers(
    samples: &[Sample],
    judging: &Judging,
) -> (OutcomeClass, Vec<(&'static str, Option<f64>)>) {
    let course = Course::new(samples, judging, false);
    let class = judge(&course).class;
    let values = all(&course).into_iter().map(|m| (m.key, m.value)).collect();
    (class, values)
}

/// Time within the band [s], by the same band as the settling time: swing and dip in the side view, lean in the front.
#[must_use]
pub fn time_within(samples: &[Sample], judging: &Judging) -> f64 {
    let course = Course::new(samples, judging, false);
    let within = (0..samples.len()).filter(|&i| course.within(i)).count();
    within as f64 * judging.tick
}

/// Judges a run: its outcome and all its measures. `samples` begin with what set it going.
#[must_use]
pub fn measure(samples: &[Sample], judging: &Judging) -> (Outcome, Vec<Measure>) {
    let course = Course::new(samples, judging, true);
    let outcome = judge(&course);
    let measures = all(&course);
    (outcome, measures)
}

fn all(c: &Course<'_>) -> Vec<Measure> {
    let entry = |key, label, unit: Unit, value: Option<f64>, none: &str| {
        let value = value.filter(|v| v.is_finite());
        let in_words = || value.map_or_else(|| none.to_owned(), |v| unit.format(v));
        Measure {
            key,
            label,
            value,
            unit,
            words: if c.words { in_words() } else { String::new() },
        }
    };
    let side = c.judging.view == View::Side;
    let tick = c.judging.tick;
    let peak = c.error.iter().map(|e| e.abs()).fold(0.0, f64::max);
    let head = c.over(|s| if s.head_lost() { 0.0 } else { s.tilt.abs() });
    let limits = flag::DUTY | flag::CURRENT | flag::TRAVEL | flag::SERVO;
    let limited = c.samples.iter().filter(|s| s.flags & limits != 0).count();
    let stop = c.stopping();
    let never = format!("not within {}", Unit::Second.format(c.length()));
    let decay = c.extremes.decay_ratio();
    let energy: f64 = c
        .samples
        .iter()
        .map(|s| s.bus_voltage * s.supply_current * tick)
        .sum();
    let drift = match (c.samples.first(), c.samples.last()) {
        (Some(a), Some(b)) => b.travel - a.travel,
        _ => 0.0,
    };
    let wobble = c.wobble(0.0);
    let few = "too few swings";
    let mut list = vec![
        entry(
            "settling_time",
            "settling time",
            Unit::Second,
            c.settling_time(),
            &never,
        ),
        entry(
            "peak",
            if side { "peak swing" } else { "peak lean" },
            Unit::Radian,
            Some(peak),
            "",
        ),
        entry("overshoot", "overshoot", Unit::Share, c.overshoot(), "none"),
        entry(
            "swings",
            "swings",
            Unit::Count,
            Some(f64::from(c.extremes.beyond(c.judging.band))),
            "",
        ),
        entry("decay_ratio", "decay ratio", Unit::One, decay, few),
        entry(
            "log_decrement",
            "log decrement",
            Unit::One,
            decay.filter(|d| *d > 0.0).map(|d| -libm::log(d)),
            few,
        ),
        entry("period", "period", Unit::Second, c.period(), few),
        entry(
            "residual_wobble",
            "residual wobble",
            Unit::Radian,
            // Earlier the time would still hold the first swings.
            (c.length() > 2.0 * WOBBLE_TIME - 0.5 * tick).then_some(wobble),
            "run too short",
        ),
        entry(
            if side { "head_dip" } else { "head_sway" },
            if side { "head dip" } else { "head sway" },
            Unit::Radian,
            Some(head),
            "",
        ),
        entry("drift", "drift", Unit::Metre, Some(drift), ""),
        entry(
            "stopping_time",
            "stopping time",
            Unit::Second,
            stop.map(|s| s.0),
            &never,
        ),
        entry(
            "stopping_distance",
            "stopping distance",
            Unit::Metre,
            stop.map(|s| s.1),
            &never,
        ),
        entry(
            "grip_used",
            "grip used",
            Unit::Share,
            Some(c.over(|s| s.grip_used)),
            "",
        ),
        entry(
            "hold_used",
            "magnet hold used",
            Unit::Share,
            Some(c.over(|s| s.hold_used)),
            "",
        ),
        entry(
            "limit_time",
            "time at a limit",
            Unit::Second,
            Some(limited as f64 * tick),
            "",
        ),
        entry(
            "current_peak",
            "peak current",
            Unit::Ampere,
            Some(c.over(|s| s.supply_current)),
            "",
        ),
        entry(
            "current_rms",
            "current, root mean square",
            Unit::Ampere,
            Some(c.mean(|s| s.supply_current * s.supply_current).sqrt()),
            "",
        ),
        entry(
            "power_mean",
            "mean power",
            Unit::Watt,
            Some(c.mean(|s| s.bus_voltage * s.supply_current)),
            "",
        ),
        entry("energy", "energy", Unit::Joule, Some(energy), ""),
    ];
    if c.judging.from == Stimulus::Fault {
        let run_out = c.run_out();
        let rolls = "still rolls at the end of the run";
        list.push(entry(
            "run_out_time",
            "run-out time",
            Unit::Second,
            run_out.map(|r| r.0),
            rolls,
        ));
        list.push(entry(
            "run_out_distance",
            "run-out distance",
            Unit::Metre,
            run_out.map(|r| r.1),
            rolls,
        ));
    }
    if c.words
        && wobble < 0.05 * c.judging.band
        && c.length() > 2.0 * WOBBLE_TIME - 0.5 * tick
        && let Some(m) = list.iter_mut().find(|m| m.key == "residual_wobble")
    {
        "none".clone_into(&mut m.words);
    }
    list
}
