//! The plant: a ball robot's plane model. Equations of motion, friction that truly holds, grip
//! and slip, head hold, wall, and the integrator.
//!
//! One vertical plane; the side view and the front view are two instances. SI units and
//! radians; see [`state::State`] for coordinates and signs. Knows nothing of software, battery
//! or screen: torques come in through [`state::Motor`] and [`state::Inputs`].
//!
//! Stepping cannot fail: a run that cannot go on ends with a named [`plant::End`].
#![forbid(unsafe_code)]

pub mod energy;
mod events;
mod frame;
mod friction;
pub mod hold;
mod impulse;
mod linear;
pub mod modes;
pub mod params;
pub mod plant;
pub mod poles;
pub mod push;
mod solve;
pub mod state;
mod trig;
pub mod wall;

pub use energy::{Work, energy, rolling_momentum};
pub use hold::{FallenHead, HeadForces};
pub use modes::{Contact, Modes, ServoMode};
pub use params::{Friction, Gears, Hold, PlaneParams, Servo};
pub use plant::{Effort, End, Plant, Report};
pub use poles::{fastest_pole, step_divisor};
pub use push::{Push, PushAt, Pushes};
pub use state::{CARRIAGE, ConstantTorque, HEAD, Inputs, Motor, SHELL, State, X};
