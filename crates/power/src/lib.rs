//! Electrical half of a drive: battery, driver and motors, solved together.
//!
//! The mechanical half (gears, friction, lever on the shell) belongs to the plant. What the two
//! exchange is one number each way: the speed of the drive joint in, the motors' torque seen at
//! that joint, before gear losses, out.
//!
//! Beside the chain stand the parts that must bear its current, each alone and after the run:
//! blade fuses between their two opening-time curves with the wear of a trial and what to do
//! about it, wire, a winding's heat, the head's regulators, cells and how long they last. Their
//! tables carry a [`Mark`] that says how far each figure can be trusted; none of it is a claim of
//! compliance with a standard, and local codes and licensed practice come first.
//!
//! Winding inductance is left out: its time constant L/R_m (well under a millisecond for small
//! brushed motors) is far shorter than anything the carriage can follow. Duty is therefore the
//! mean over the driver's switching period, and a driver at duty d draws d times the motor
//! current from the supply (the standard averaged converter; R. W. Erickson and D. Maksimović,
//! *Fundamentals of Power Electronics*, chapter on averaged models, from memory).
#![forbid(unsafe_code)]

mod advice;
mod cells;
mod chain;
mod described;
mod fuse;
mod fuse_table;
mod regulator;
mod runtime;
mod source;
mod split;
mod wear;
mod winding;
pub mod wire;

pub use advice::{Demand, FuseAdvice, LargerFuse, PathPart, Refusal, SupplyPath};
pub use cells::{Caution, CellFigures, ChargeCount, Chemistry, Pack, peukert_share};
pub use chain::{Chain, Electrical, Held, Terminals};
pub use described::pair_current;
pub use fuse::Fuse;
pub use fuse_table::{FuseSize, OpeningPoint, OpeningTable};
pub use regulator::{NEAR_CAPACITY, RegulatorBank, RegulatorVerdict};
pub use runtime::{
    Ending, LONGEST_RUN, Load, Profile, RunTime, Segment, fill_at_floor, run_time, solve_load,
};
pub use source::{Mark, Sourced};
pub use split::PowerSplit;
pub use wear::{BandMark, FuseVerdict, FuseWear};
pub use winding::Winding;
pub use wire::WirePair;
