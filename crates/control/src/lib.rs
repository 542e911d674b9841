//! The firmware's side of a ball robot: sensing, dead band, loops, ramps and limits, run at a
//! fixed rate with a delay, as a small computer on the carriage would.
//!
//! Nothing here knows the plant. A [`Controller`] is given what sensors could feel
//! ([`Observed`]) and what the person at the levers asks for ([`Command`]), and answers with what
//! the drivers and the head servo are told ([`Output`]). The state is plain numbers; a tick
//! allocates nothing and takes all randomness from (seed, channel, tick).
//!
//! Signs: swing α and joint angle ρ = θ + α are positive with the carriage towards +x, shell
//! roll θ positive when rolling towards +x; positive duty drives both θ and α positive.
#![forbid(unsafe_code)]

mod controller;
mod elements;
mod head;
mod lean;
mod noise;
mod sense;
mod travel;

pub use controller::{Command, Controller, Mode, Observed, Output, tick_us};
pub use noise::Drawn;

/// Bits of [`Output::flags`]: which limits hold the output that is due now.
pub mod flag {
    /// Duty at its limit.
    pub const DUTY: u32 = 1;
    /// Carriage target at the end of the lean travel.
    pub const TRAVEL: u32 = 4;
    /// Head target at the end of the servo's travel.
    pub const SERVO: u32 = 8;
    /// The swing guard holds the duty back.
    pub const GUARD: u32 = 32;
    /// The output's slew is limited.
    pub const SLEW: u32 = 256;
}
