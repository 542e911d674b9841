//! How far to the edge: the sampled closed loop as a linear model, its poles and mode shapes,
//! margins, stable spans of knobs, sustained oscillations by describing functions, and the classic
//! tuning rules.
//!
//! - [`Model`]: poles with frequency, damping ratio, time constant and [`Shape`];
//! - [`stable_spans`]: where on a knob's track all motions die away;
//! - [`Loop`]: gain and phase along frequency at a [`Break`], and [`Margins`];
//! - [`Element`], [`oscillations`], [`band_oscillations`]: sustained oscillations and whether to trust
//!   them;
//! - [`Ultimate`], [`Rule`]: the hand methods and their rules.
//!
//! Everything here answers for one plane of one robot. [`Model`] is exact for the sampled loop to
//! first order: what it leaves out is said in [`About`].
#![forbid(unsafe_code)]

mod about;
mod crossing;
mod cycle;
mod describing;
mod eigen;
mod model;
mod plant;
mod pole;
mod response;
mod rules;
mod smooth;
mod span;
mod tick;

pub use about::{About, GearLoss, Rest};
pub use cycle::{
    Doubt, FrictionCycle, Oscillation, band_oscillations, friction_cycles, oscillations,
};
pub use describing::{Element, backlash};
pub use model::{Model, NoModel};
pub use plant::Steady;
pub use pole::{Pole, Shape};
pub use response::{Loop, Margins};
pub use rules::{Rule, Ruled, Ultimate};
pub use smooth::smooth_twin;
pub use span::{Span, pole_at, stable_spans};
pub use tick::Break;
