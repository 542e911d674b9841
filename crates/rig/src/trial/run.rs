//! Running a trial.

use kickstill_number::Within;
use std::sync::Arc;

use kickstill_control::Drawn;
use kickstill_robot::{Robot, View};

use super::figures::{lip_impulse, steady_swing};
use super::kind::Trial;
use super::setting::{LONGEST, SETTLE_BEFORE, Setting};
use super::shoves::shove;
use crate::event::Event;
use crate::marks::Marks;
use crate::measure::{Judging, Measure, Stimulus, measure, numbers};
use crate::outcome::Outcome;
use crate::quick::{Haste, Hurried};
use crate::rig::Rig;
use crate::sample::{Level, Sample};

/// A finished run.
#[derive(Clone, Debug)]
pub struct Run {
    /// Samples from the start of the run; see `first`.
    pub samples: Vec<Sample>,
    /// Index of the sample at which what is tested begins.
    pub first: usize,
    /// Inputs, with the time [µs] at which each took effect.
    pub log: Vec<(u64, Event)>,
    /// Outcome.
    pub outcome: Outcome,
    /// Measures, from `first` on.
    pub measures: Vec<Measure>,
    /// Digest of all states and inputs.
    pub digest: u64,
    /// The digest so far at each whole second of the record.
    pub marks: Marks,
    /// Time between ticks [µs].
    pub tick_us: u32,
}

impl Run {
    /// The measure with this key.
    #[must_use]
    pub fn measure(&self, key: &str) -> Option<&Measure> {
        self.measures.iter().find(|m| m.key == key)
    }

    /// Value of a measure [SI].
    #[must_use]
    pub fn value(&self, key: &str) -> Option<f64> {
        self.measure(key).and_then(|m| m.value)
    }
}

/// Runs a trial to its end.
#[must_use]
pub fn run_trial(robot: &Robot, setting: &Setting) -> Run {
    let mut runner = Runner::new(setting.prepared(robot), setting);
    let from = runner.stimulate();
    runner.record_for(setting.seconds);
    runner.finish(from)
}

/// Time that all rests, and the output with it, before a run in haste is taken to rest for good [s].
const REST_TIME: f64 = 0.6;

/// Runs a trial in haste; see [`crate::quick`].
pub(crate) fn run_in_haste(
    robot: &Robot,
    setting: &Setting,
    haste: &Haste,
    samples: Vec<Sample>,
    drawn: Option<Arc<Drawn>>,
) -> Hurried {
    let mut runner = Runner::new(setting.prepared(robot), setting);
    if let Some(drawn) = drawn {
        runner.rig.use_drawn(drawn);
    }
    runner.samples = samples;
    runner.samples.clear();
    runner.rig.hasten(haste.longest_step);
    let from = runner.stimulate();
    // Only now: what rests before the test is to be set going yet.
    runner.haste = Some(*haste);
    runner.record_for(setting.seconds);
    runner.hurried(from)
}

struct Runner<'a> {
    rig: Rig,
    /// Ticks in a row in which all rested.
    resting: u32,
    /// Time that was not run because all rested [s].
    saved: f64,
    haste: Option<Haste>,
    setting: &'a Setting,
    samples: Vec<Sample>,
    marks: Marks,
    first: usize,
    /// Whether the speed lever is let go at the first contact with a wall.
    let_go: bool,
    /// Where along the floor a seam lies [m], until the ball has met it.
    seam: Option<f64>,
    /// What is still to come, soonest last: time [µs] and input.
    later: Vec<(u64, Event)>,
}

impl<'a> Runner<'a> {
    fn new(robot: Robot, setting: &'a Setting) -> Self {
        let mut rig = Rig::new(robot, setting.view, setting.seed);
        rig.apply(Event::Level(setting.level));
        Self {
            rig,
            resting: 0,
            saved: 0.0,
            haste: None,
            setting,
            samples: Vec::new(),
            marks: Marks::default(),
            first: 0,
            let_go: false,
            seam: None,
            later: Vec::new(),
        }
    }

    fn side(&self) -> bool {
        self.setting.view == View::Side
    }

    /// The lever put to a share of the trial's speed or lean.
    fn lever(&self, share: f64) -> Event {
        if self.side() {
            Event::Speed(share * self.setting.speed_for(self.rig.robot()))
        } else {
            Event::Lean(share * self.setting.lean_for(self.rig.robot()))
        }
    }

    /// Brings the robot to where the test begins and sets it going.
    fn stimulate(&mut self) -> Stimulus {
        let trial = self.setting.trial;
        if trial.begins_moving(self.setting.view) {
            self.bring_to_speed();
        }
        match trial {
            Trial::Kick => self.rig.apply(self.kick()),
            Trial::DoubleKick => {
                self.rig.apply(self.kick());
                self.after(self.setting.pause, self.kick());
            }
            Trial::Shoves => self.plan_shoves(),
            Trial::Bump => self.rig.apply(Event::Bump {
                impulse: self.setting.impulse,
            }),
            Trial::Start | Trial::SpeedStep | Trial::LeanStep => {
                self.rig.apply(self.lever(1.0));
                return Stimulus::Start;
            }
            Trial::SlopeStart => {
                // Standing first, so that the start is not mixed with finding the swing.
                self.record_for(SETTLE_BEFORE);
                self.first = self.samples.len();
                self.rig.apply(self.lever(1.0));
                return Stimulus::Start;
            }
            Trial::Reverse => {
                self.rig.apply(self.lever(-1.0));
                return Stimulus::Start;
            }
            Trial::Stop | Trial::LeanRelease => {
                self.rig.apply(self.lever(0.0));
                return Stimulus::Stop;
            }
            Trial::EmergencyStop => {
                self.rig.apply(Event::EmergencyStop);
                return Stimulus::Fault;
            }
            Trial::MotorsCut => {
                self.rig.apply(Event::Level(Level::Off));
                return Stimulus::Fault;
            }
            Trial::RadioLost => {
                self.after(self.setting.pause, self.lever(0.0));
                return Stimulus::Fault;
            }
            Trial::SlopeHold => {}
            Trial::Seam => self.seam = Some(self.rig.sample().travel + self.approach()),
            Trial::Wall => self.put_wall(),
        }
        Stimulus::Push
    }

    fn kick(&self) -> Event {
        Event::Kick {
            impulse: self.setting.impulse,
            height: self.setting.height_for(self.rig.robot()),
        }
    }

    /// Hands in an input at a time [s] from now.
    fn after(&mut self, seconds: f64, event: Event) {
        // The cast saturates; below a microsecond it is now.
        let at = self.rig.time_us() + (seconds.within(0.0, LONGEST) * 1e6).round() as u64;
        self.later.push((at, event));
    }

    /// Shoves in the run's first half, the first at once.
    fn plan_shoves(&mut self) {
        let radius = self.rig.robot().shell.outer_radius;
        let pause = self.setting.pause.max(1e-3);
        let mut time = 0.0;
        let mut number = 0;
        while time <= 0.5 * self.setting.seconds.min(LONGEST) {
            let shove = shove(self.setting.seed, number);
            self.after(
                time,
                Event::Kick {
                    impulse: shove.size * self.setting.impulse,
                    height: shove.height * radius,
                },
            );
            time += shove.gap * pause;
            number += 1;
        }
        self.later.reverse();
    }

    /// A little way on [m], so that the record shows the approach.
    fn approach(&self) -> f64 {
        (0.1 * self.setting.speed_for(self.rig.robot()).abs()).max(0.02)
    }

    fn put_wall(&mut self) {
        let radius = self.rig.robot().shell.outer_radius;
        let head = self.rig.robot().head.half_width;
        if self.side() {
            let face = self.rig.sample().travel + radius.max(head) + self.approach();
            self.rig.apply(Event::Wall(Some(face)));
            self.let_go = true;
        } else {
            self.rig
                .apply(Event::Wall(Some(radius.max(head) + 0.1 * radius)));
            self.rig.apply(self.kick());
        }
    }

    /// Drives to the wanted speed or lean and lets it settle there; without software the robot
    /// is set rolling as a whole.
    fn bring_to_speed(&mut self) {
        let speed = self.setting.speed_for(self.rig.robot());
        if self.setting.level != Level::Steadied {
            if self.side() {
                self.rig.roll_at(speed);
            }
            return;
        }
        self.rig.apply(self.lever(1.0));
        let time = if self.side() {
            speed.abs() / self.rig.robot().travel.acceleration + SETTLE_BEFORE
        } else {
            SETTLE_BEFORE
        };
        self.record_for(time);
        self.first = self.samples.len();
    }

    fn record_for(&mut self, seconds: f64) {
        let until = self.rig.time_us() + (seconds.within(0.0, LONGEST) * 1e6).round() as u64;
        while self.rig.time_us() < until && self.rig.end().is_none() {
            while let Some((at, event)) = self.later.last().copied()
                && at <= self.rig.time_us()
            {
                self.rig.apply(event);
                self.later.pop();
            }
            self.rig.tick();
            if self.haste.is_none() {
                self.marks.look(&self.rig);
            }
            let sample = *self.rig.sample();
            self.samples.push(sample);
            if self.rests_for_good() {
                self.fill(until);
                break;
            }
            if self.seam.is_some_and(|place| sample.travel >= place) {
                self.seam = None;
                self.meet_lip(&sample);
            }
            if self.let_go && sample.push < 0.0 {
                // At the wall the driver lets go of the lever.
                self.rig.apply(Event::Speed(0.0));
                self.let_go = false;
            }
        }
    }

    /// Whether a run in haste may be taken to rest from here on.
    fn rests_for_good(&mut self) -> bool {
        if !self.haste.is_some_and(|h| h.stop_at_rest) {
            return false;
        }
        if !self.rig.plant().rests() || !self.later.is_empty() || self.seam.is_some() {
            self.resting = 0;
            return false;
        }
        self.resting += 1;
        f64::from(self.resting) * f64::from(self.rig.tick_us()) * 1e-6 >= REST_TIME
    }

    /// The last sample again for each tick up to a time [µs].
    fn fill(&mut self, until: u64) {
        let Some(last) = self.samples.last().copied() else {
            return;
        };
        let tick = u64::from(self.rig.tick_us());
        let mut at = self.rig.time_us();
        self.saved += (until - at.min(until)) as f64 * 1e-6;
        while at < until {
            self.samples.push(Sample {
                time: at as f64 * 1e-6,
                ..last
            });
            at += tick;
        }
    }

    fn meet_lip(&mut self, sample: &Sample) {
        let robot = self.rig.robot();
        let impulse = lip_impulse(robot, sample.speed, self.setting.lip_for(robot));
        let height = robot.shell.outer_radius;
        self.rig.apply(Event::Kick {
            impulse: -impulse,
            height,
        });
    }

    /// A run that ended on its way to speed is judged whole.
    fn judged_from(&self) -> usize {
        if self.first < self.samples.len() {
            self.first
        } else {
            0
        }
    }

    fn judging(&self, from: Stimulus) -> Judging {
        Judging {
            view: self.setting.view,
            band: self.setting.band,
            tick: f64::from(self.rig.tick_us()) * 1e-6,
            // What the software holds; a robot whose motors went off hangs.
            steady_swing: if self.side() && self.rig.level() == Level::Steadied {
                steady_swing(self.rig.robot())
            } else {
                0.0
            },
            from,
            end: self.rig.end(),
        }
    }

    fn hurried(self, from: Stimulus) -> Hurried {
        let judging = self.judging(from);
        let (class, values) = numbers(&self.samples[self.judged_from()..], &judging);
        let length = self.samples.len() as f64 * judging.tick;
        Hurried {
            class,
            values,
            seconds: length,
            run: length - self.saved,
            samples: self.samples,
        }
    }

    fn finish(self, from: Stimulus) -> Run {
        let first = self.judged_from();
        let (outcome, measures) = measure(&self.samples[first..], &self.judging(from));
        Run {
            outcome,
            measures,
            digest: self.rig.digest(),
            marks: self.marks,
            tick_us: self.rig.tick_us(),
            log: self.rig.log().to_vec(),
            first,
            samples: self.samples,
        }
    }
}
