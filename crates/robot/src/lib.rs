//! What a builder describes: a ball robot's parts, drives, battery, sensing, loops and floor;
//! the knob catalogue; the robot file; the demo robots; and helpers makers need.
//!
//! Plain data in SI units and radians. This crate knows no physics beyond the data's own
//! meaning, no screen and no file system.
#![forbid(unsafe_code)]

pub mod catalogue;
pub mod demos;
pub mod file;
mod ledger;
pub mod makers;
pub mod model;
pub mod problem;
mod quantity;
pub mod schema;
mod typed;
pub mod unit;
mod validate;

pub use catalogue::{Kind, Knob, Refusal, Scale, catalogue, knob};
pub use demos::{Demo, demo, demos};
pub use file::{read_robot, write_robot};
pub use ledger::knobs_of_parts;
pub use model::*;
pub use problem::{Problem, Severity};
pub use quantity::{Bare, NotAQuantity};
pub use schema::{knob_table, schema};
pub use typed::set_by_text;
pub use unit::{Spelling, Unit};
pub use validate::validate;
