//! Helpers makers need to come from what they can weigh, measure and look up to the knobs.

pub mod firmware;
pub mod gains;
pub mod inertia;
pub mod motor;
pub mod parts;
pub mod start;
