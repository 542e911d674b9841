//! Repeatable tests of a robot.

mod figures;
mod kind;
mod number;
mod run;
mod setting;
mod shoves;

pub use figures::{
    STANDARD_GRAVITY, kick_speed, lip_impulse, steady_swing, steepest_slope, usual_bump,
    usual_kick, usual_lip, usual_slope,
};
pub use kind::Trial;
pub use number::Number;
pub(crate) use run::run_in_haste;
pub use run::{Run, run_trial};
pub use setting::{BAND, LONGEST, LONGEST_PAUSE, SECONDS, SHOVES_SECONDS, Setting};
