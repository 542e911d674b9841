//! How far to the edge: the sampled closed loop as a linear model, its poles and mode shapes,
//! margins, stable spans of knobs, sustained oscillations by describing functions, and the classic
//! tuning rules.
//!
//! - [`Model`]: poles with frequency, damping ratio, time constant and [`Shape`]; [`root_track`];
//! - [`stable_spans`]: where on a knob's track all motions die away; [`knob_spans`] with what dry friction
//!   holds, [`follow_spans`] for a knob that is being turned;
//! - [`Loop`]: gain and phase along frequency at a [`Break`], and [`Margins`];
//! - [`Element`], [`oscillations`], [`predicted`]: sustained oscillations and whether to trust them; [`hunt`]: what
//!   the whole simulation does;
//! - [`Ultimate`], [`Rule`]: the hand methods and their rules;
//! - [`optimum`], [`riccati`]: the linear optimum on the structure that the firmware has.
//!
//! Everything here answers for one plane of one robot. [`Model`] is exact for the sampled loop to
//! first order: what it leaves out is said in [`About`].
#![forbid(unsafe_code)]

mod about;
mod crossing;
mod cycle;
mod describing;
mod eigen;
mod follow;
mod hunt;
mod knobs;
mod model;
mod optimum;
mod plant;
mod pole;
mod predict;
mod qr;
mod response;
mod rules;
mod scan;
mod slew;
mod smooth;
mod span;
mod tick;
mod track;

pub use about::{About, GearLoss, Rest};
pub use cycle::{
    Doubt, FrictionCycle, Oscillation, band_oscillations, friction_cycles, oscillations,
};
pub use describing::{Element, backlash};
pub use hunt::{Hunt, hunt};
pub use knobs::{Edge, KnobSpans, Known, Piece, State, follow_spans, knob_spans, span_knobs};
pub use model::{Model, NoModel};
pub use optimum::{Optimum, Rows, Weights, optimum, riccati};
pub use plant::Steady;
pub use pole::{Pole, Shape};
pub use predict::{Cause, Predicted, limit_cycle, predicted};
pub use response::{Loop, Margins, Point};
pub use rules::{Rule, Ruled, Ultimate};
pub use slew::rate_limit;
pub use smooth::{banded_twin, smooth_twin};
pub use span::{Span, pole_at, stable_spans};
pub use tick::Break;
pub use track::{RootTrack, root_track};
