//! The closed loop of plant, software, battery and drives; inputs with a tick; trials;
//! recording; measures and outcomes, each defined once.
//!
//! A run is its robot, its seed and its log of (time, input): the same three give the same
//! samples and the same digest on every machine.
#![forbid(unsafe_code)]

pub mod bench;
pub mod budget;
pub mod digest;
pub mod event;
mod extremes;
pub mod hand;
pub mod ledger;
pub mod limits;
pub mod marks;
pub mod measure;
pub mod outcome;
pub mod quick;
mod random;
pub mod report;
pub mod rig;
pub mod sample;
pub mod scenarios;
pub mod spread;
pub mod supply;
pub mod trial;

/// Version of the model: what moves, in numbers. It is raised by one whenever the committed digests
/// are blessed anew, so that a kept run can tell whether it was made by the same model.
pub const MODEL_VERSION: u32 = 2;

pub use event::{Event, PULSE_TIME};
pub use measure::{Judging, Measure, Stimulus, measure};
pub use outcome::{Outcome, OutcomeClass};
pub use rig::{Rig, RunEnd};
pub use sample::{COLUMNS, Column, Level, Sample, flag};
pub use trial::{
    BAND, Number, Run, Setting, Trial, kick_speed, lip_impulse, run_trial, steady_swing,
    steepest_slope, usual_bump, usual_kick, usual_lip, usual_slope,
};
