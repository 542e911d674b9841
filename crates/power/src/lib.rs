//! Electrical half of a drive: battery, driver and motors, solved together.
//!
//! The mechanical half (gears, friction, lever on the shell) belongs to the plant. What the two
//! exchange is one number each way: the speed of the drive joint in, the motors' torque seen at
//! that joint, before gear losses, out.
//!
//! Winding inductance is left out: its time constant L/R_m (well under a millisecond for small
//! brushed motors) is far shorter than anything the carriage can follow. Duty is therefore the
//! mean over the driver's switching period, and a driver at duty d draws d times the motor
//! current from the supply (the standard averaged converter; R. W. Erickson and D. Maksimović,
//! *Fundamentals of Power Electronics*, chapter on averaged models, from memory).
#![forbid(unsafe_code)]

mod chain;
mod split;

pub use chain::{Chain, Electrical, Held, Terminals};
pub use split::PowerSplit;
