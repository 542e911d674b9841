//! One plane live on the board: its rig, the last 20 s, the run since the last push and the run
//! before it.

use std::collections::VecDeque;

use kickstill_rig::{
    BAND, Event, Judging, Level, Measure, Outcome, OutcomeClass, Rig, RunEnd, Sample, Stimulus,
    Trial, measure, steady_swing,
};
use kickstill_robot::{Robot, View};

use crate::lerp::between;

/// How far back the board can look [s].
pub(crate) const LOOK_BACK: f64 = 20.0;
/// A run shorter than this is not kept as the run before [s]: a second push at once would leave
/// nothing worth comparing.
const SHORT: f64 = 1.0;
/// Seed of the sensors' noise. The live board has one; trials choose theirs.
const SEED: u64 = 1;
/// Inputs that a rig logs; a record with as many may lack later ones.
const LONGEST_LOG: usize = 100_000;

/// What began a run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Push {
    /// Its kind.
    pub(crate) trial: Trial,
    /// Impulse of a kick or bump [N·s], else 0.
    pub(crate) impulse: f64,
    /// Height above the floor [m] of a kick, else 0.
    pub(crate) height: f64,
}

/// What a run has shown so far.
#[derive(Clone)]
pub(crate) struct Shown {
    pub(crate) push: Push,
    pub(crate) seconds: f64,
    pub(crate) outcome: Outcome,
    pub(crate) measures: Vec<Measure>,
}

/// A run that is over: what it showed, and its trace for the strips.
struct Before {
    shown: Shown,
    samples: Vec<Sample>,
    from: f64,
}

/// All that makes a live run again.
pub(crate) struct Record<'a> {
    /// The robot as it stood at rest, before any knob was turned.
    pub(crate) start: &'a Robot,
    pub(crate) view: View,
    pub(crate) seed: u64,
    /// Whole ticks made since then.
    pub(crate) ticks: u64,
    /// Of the last tick [µs].
    pub(crate) tick_us: u32,
    pub(crate) log: &'a [(u64, Event)],
    pub(crate) digest: u64,
    /// Whether no input was left out of the log.
    pub(crate) whole: bool,
}

/// One plane of the board.
pub(crate) struct Plane {
    rig: Rig,
    /// The robot that the rig began with: knobs turned since are in its log.
    start: Robot,
    /// Ticks since then.
    ticks: u64,
    /// The last 20 s, oldest first; never empty.
    history: VecDeque<Sample>,
    push: Option<Push>,
    /// When the run began [s].
    from: f64,
    /// Counts the runs.
    number: u32,
    /// Results that stand because the run's beginning has left the history.
    closed: Option<Shown>,
    /// The last run of each kind, the latest at the end: a kick is compared with a kick.
    before: Vec<Before>,
}

impl Plane {
    /// At rest.
    pub(crate) fn new(robot: &Robot, view: View) -> Plane {
        let rig = Rig::new(robot.clone(), view, SEED);
        let history = VecDeque::from([*rig.sample()]);
        Plane {
            rig,
            start: robot.clone(),
            ticks: 0,
            history,
            push: None,
            from: 0.0,
            number: 0,
            closed: None,
            before: Vec::new(),
        }
    }

    /// At rest again, as `robot` now is and at this software level; the run that was becomes the
    /// run before.
    pub(crate) fn restart(&mut self, robot: &Robot, level: Level) {
        self.close();
        let view = self.rig.view();
        let mut rig = Rig::new(robot.clone(), view, SEED);
        rig.apply(Event::Level(level));
        self.start = robot.clone();
        self.ticks = 0;
        self.history.clear();
        self.history.push_back(*rig.sample());
        self.rig = rig;
        self.from = 0.0;
    }

    pub(crate) fn tick_us(&self) -> u64 {
        u64::from(self.rig.tick_us())
    }

    /// Time of the next tick [µs].
    pub(crate) fn time_us(&self) -> u64 {
        self.rig.time_us()
    }

    /// Time of the push [s].
    pub(crate) fn from(&self) -> f64 {
        self.from
    }

    /// What makes this run again, from rest to now.
    pub(crate) fn record(&self) -> Record<'_> {
        Record {
            start: &self.start,
            view: self.rig.view(),
            seed: SEED,
            ticks: self.ticks,
            tick_us: self.rig.tick_us(),
            log: self.rig.log(),
            digest: self.rig.digest(),
            whole: self.rig.log().len() < LONGEST_LOG,
        }
    }

    /// Counts its runs from here: those of a double go by the numbers of the board's robot.
    pub(crate) fn count_from(&mut self, number: u32) {
        self.number = number;
    }

    pub(crate) fn step_divisor(&self) -> u32 {
        self.rig.step_divisor()
    }

    /// The robot as its knobs now stand.
    pub(crate) fn robot(&self) -> &Robot {
        self.rig.robot()
    }

    pub(crate) fn ended(&self) -> bool {
        self.rig.end().is_some()
    }

    /// Why nothing moves any more, if so.
    pub(crate) fn end(&self) -> Option<RunEnd> {
        self.rig.end()
    }

    pub(crate) fn number(&self) -> u32 {
        self.number
    }

    /// What began the run, and how long it lasts [s].
    pub(crate) fn run(&self) -> (Option<Push>, f64) {
        (self.push, self.now() - self.from)
    }

    pub(crate) fn apply(&mut self, event: Event) {
        self.rig.apply(event);
    }

    /// Applies the event that begins a run.
    pub(crate) fn push(&mut self, push: Push, event: Event) {
        self.close();
        self.push = Some(push);
        self.from = self.now();
        self.number = self.number.wrapping_add(1);
        self.rig.apply(event);
    }

    /// One controller tick.
    pub(crate) fn tick(&mut self) {
        if self.ended() {
            return;
        }
        self.rig.tick();
        self.ticks += 1;
        let sample = *self.rig.sample();
        self.history.push_back(sample);
        let oldest = sample.time - LOOK_BACK;
        if self.from < oldest && self.push.is_some() && self.closed.is_none() {
            self.closed = self.measure();
        }
        while self.history.len() > 2 && self.history[1].time <= oldest {
            self.history.pop_front();
        }
    }

    /// Time of the last tick [s].
    pub(crate) fn now(&self) -> f64 {
        self.history.back().map_or(0.0, |sample| sample.time)
    }

    /// Time of the oldest sample kept [s].
    pub(crate) fn oldest(&self) -> f64 {
        self.history.front().map_or(0.0, |sample| sample.time)
    }

    /// The state at `time` [s], between two ticks if need be.
    pub(crate) fn at(&self, time: f64) -> Sample {
        let after = self.history.partition_point(|sample| sample.time < time);
        match (after.checked_sub(1), self.history.get(after)) {
            (Some(before), Some(b)) => {
                let a = &self.history[before];
                let share = (time - a.time) / (b.time - a.time);
                between(a, b, if share.is_finite() { share } else { 1.0 })
            }
            (None, Some(first)) => *first,
            (_, None) => self.history.back().copied().unwrap_or_default(),
        }
    }

    /// Samples up to `time` [s], newest first.
    pub(crate) fn back_from(&self, time: f64) -> impl Iterator<Item = &Sample> {
        self.history
            .iter()
            .rev()
            .skip_while(move |sample| sample.time > time)
    }

    /// What this run has shown so far; nothing before the first push.
    pub(crate) fn shown(&mut self) -> Option<Shown> {
        match &self.closed {
            Some(shown) => Some(shown.clone()),
            None => self.measure(),
        }
    }

    /// Whether the run's outcome may still change.
    pub(crate) fn going(&self, shown: &Shown) -> bool {
        let open = self.closed.is_none() && !self.ended();
        open && (shown.seconds < SHORT || shown.outcome.class == OutcomeClass::StillMoving)
    }

    /// The last run of the present one's kind; before the first push the last of all.
    fn before(&self) -> Option<&Before> {
        match self.push {
            Some(push) => self
                .before
                .iter()
                .find(|one| one.shown.push.trial == push.trial),
            None => self.before.last(),
        }
    }

    /// What the run before showed.
    pub(crate) fn shown_before(&self) -> Option<&Shown> {
        self.before().map(|before| &before.shown)
    }

    /// Trace of one column for the strips, this run's and the run before's: count, times since
    /// the push [s], values.
    pub(crate) fn strip(&self, read: impl Fn(&Sample) -> f64, out: &mut Vec<f64>) {
        out.clear();
        let first = self
            .history
            .partition_point(|sample| sample.time < self.from);
        trace(self.history.range(first..), self.from, &read, out);
        match self.before() {
            Some(before) => trace(before.samples.iter(), before.from, &read, out),
            None => out.push(0.0),
        }
    }

    /// Trace of one column since `from` [s], whatever began then: a double's beside the run's.
    pub(crate) fn trace_from(&self, from: f64, read: impl Fn(&Sample) -> f64, out: &mut Vec<f64>) {
        let first = self.history.partition_point(|sample| sample.time < from);
        trace(self.history.range(first..), from, &read, out);
    }

    fn measure(&mut self) -> Option<Shown> {
        let push = self.push?;
        let view = self.rig.view();
        let steadied = self.rig.level() == Level::Steadied;
        let judging = Judging {
            view,
            band: BAND,
            tick: f64::from(self.rig.tick_us()) * 1e-6,
            steady_swing: if view == View::Side && steadied {
                steady_swing(self.rig.robot())
            } else {
                0.0
            },
            from: match push.trial {
                Trial::Start => Stimulus::Start,
                Trial::Stop => Stimulus::Stop,
                _ => Stimulus::Push,
            },
            end: self.rig.end(),
        };
        let first = self
            .history
            .partition_point(|sample| sample.time < self.from);
        let samples = self.history.make_contiguous().get(first..)?;
        let seconds = samples.last()?.time - self.from;
        let (outcome, measures) = measure(samples, &judging);
        Some(Shown {
            push,
            seconds,
            outcome,
            measures,
        })
    }

    /// The run that now ends becomes the run before, if it was one.
    fn close(&mut self) {
        let shown = self.shown();
        self.closed = None;
        self.push = None;
        let Some(shown) = shown.filter(|shown| shown.seconds >= SHORT) else {
            return;
        };
        let first = self
            .history
            .partition_point(|sample| sample.time < self.from);
        self.before
            .retain(|one| one.shown.push.trial != shown.push.trial);
        self.before.push(Before {
            shown,
            samples: self.history.range(first..).copied().collect(),
            from: self.from,
        });
    }
}

/// Most points of one trace: more than a strip has pixels would only cost time.
const MOST_POINTS: usize = 1200;

fn trace<'a>(
    samples: impl Iterator<Item = &'a Sample> + Clone,
    from: f64,
    read: &impl Fn(&Sample) -> f64,
    out: &mut Vec<f64>,
) {
    let every = samples.clone().count().div_ceil(MOST_POINTS).max(1);
    let chosen = samples.step_by(every);
    out.push(chosen.clone().count() as f64);
    out.extend(chosen.clone().map(|sample| sample.time - from));
    out.extend(chosen.map(read));
}
