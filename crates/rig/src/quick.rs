//! Many runs of which each is seen as a few numbers: maps, searches, sensitivities.
//!
//! Such a run takes longer steps ([`Rig::hasten`](crate::Rig::hasten)), keeps neither log nor digest, takes the sensors' noise
//! from a table that all runs of its seed share, and is not run on once everything rests.
//!
//! What it costs, over robots like the three demos with some knobs turned, six trials, against plain runs
//! (`crates/sweep/tests/map.rs`, which prints the table): classes equal in at least 97 % of the cells, and in at
//! least 85 % settling time within a tick or 2 %, peak and dip within 1 % or .05°. Beyond that lie robots that
//! stick and slip about the edge of the band, whose plain runs differ as much with half the step or another seed of
//! noise; the test holds that haste changes no more than another seed does.

use kickstill_number::Within;
use std::sync::Arc;

use kickstill_control::Drawn;
use kickstill_robot::Robot;

use crate::outcome::OutcomeClass;
use crate::sample::Sample;
use crate::trial::{Setting, run_in_haste, run_trial};

/// Longest step of a run in haste [s]: a whole tick at 100 Hz. Steps of half a tick, or a quarter, come no nearer to
/// a plain run: what parts them is an event that falls into another tick, not the integrator.
pub const LONGEST_STEP: f64 = 1e-2;

/// Seeds whose noise is kept drawn.
const SEEDS: usize = 32;
/// Longest run whose noise is drawn ahead whole [s].
const DRAWN: f64 = 60.0;

/// How a run is hastened.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Haste {
    /// Longest step [s].
    pub longest_step: f64,
    /// Whether a run is taken to rest for good when all has rested for a while: the noise of its sensors could
    /// still wake it, and now and then would.
    pub stop_at_rest: bool,
}

impl Default for Haste {
    fn default() -> Self {
        Self {
            longest_step: LONGEST_STEP,
            stop_at_rest: true,
        }
    }
}

/// A run in haste with its samples, to be given back for the next.
pub(crate) struct Hurried {
    pub(crate) class: OutcomeClass,
    pub(crate) values: Vec<(&'static str, Option<f64>)>,
    pub(crate) seconds: f64,
    pub(crate) run: f64,
    pub(crate) samples: Vec<Sample>,
}

/// What a run came to.
#[derive(Clone, Debug, PartialEq)]
pub struct Quick {
    /// Class of its outcome.
    pub class: OutcomeClass,
    /// Each measure's key and value [SI]; none where the run gives none.
    pub values: Vec<(&'static str, Option<f64>)>,
    /// Time that it stands for, with what goes before the test [s].
    pub seconds: f64,
    /// Time that was really run [s].
    pub run: f64,
}

impl Quick {
    /// Value of a measure [SI].
    #[must_use]
    pub fn value(&self, key: &str) -> Option<f64> {
        self.values.iter().find(|v| v.0 == key).and_then(|v| v.1)
    }
}

/// Runs trials one after another, keeping its memory.
#[derive(Clone, Debug, Default)]
pub struct Quicker {
    samples: Vec<Sample>,
    /// Noise of the seeds used, the newest last.
    drawn: Vec<Arc<Drawn>>,
}

impl Quicker {
    /// One with nothing kept yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Runs a trial in haste; without haste as [`run_trial`] does, to the last bit.
    pub fn trial(&mut self, robot: &Robot, setting: &Setting, haste: Option<&Haste>) -> Quick {
        let Some(haste) = haste else {
            let run = run_trial(robot, setting);
            let seconds = run.samples.len() as f64 * f64::from(run.tick_us) * 1e-6;
            return Quick {
                class: run.outcome.class,
                values: run.measures.iter().map(|m| (m.key, m.value)).collect(),
                seconds,
                run: seconds,
            };
        };
        let samples = core::mem::take(&mut self.samples);
        let drawn = self.drawn_for(robot, setting);
        let hurried = run_in_haste(robot, setting, haste, samples, drawn);
        self.samples = hurried.samples;
        Quick {
            class: hurried.class,
            values: hurried.values,
            seconds: hurried.seconds,
            run: hurried.run,
        }
    }

    /// The noise of a run, drawn once for all runs of its seed; none for sensors that have none.
    fn drawn_for(&mut self, robot: &Robot, setting: &Setting) -> Option<Arc<Drawn>> {
        let sensing = &robot.sensing;
        if sensing.ideal || (sensing.gyro_noise == 0.0 && sensing.accelerometer_noise == 0.0) {
            return None;
        }
        // With what goes before most tests; beyond it noise is drawn tick by tick. The cast is safe: a loop runs at
        // no more than some thousand ticks a second.
        let ticks = ((setting.seconds.within(0.0, DRAWN) + 4.0) * robot.timing.loop_rate) as usize;
        let found = self.drawn.iter().position(|d| d.seed() == setting.seed);
        if let Some(at) = found {
            if self.drawn[at].len() >= ticks {
                return Some(self.drawn[at].clone());
            }
            self.drawn.remove(at);
        }
        if self.drawn.len() >= SEEDS {
            self.drawn.remove(0);
        }
        let drawn = Arc::new(Drawn::new(setting.seed, ticks));
        self.drawn.push(drawn.clone());
        Some(drawn)
    }
}
