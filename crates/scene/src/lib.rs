//! Robot, state and view in; a working drawing out, as a flat [`DisplayList`] that a canvas
//! painter walks and [`svg`] writes.
//!
//! The drawing is in section, in ink on paper: shell cut through, carriage hanging, head on
//! top, floor below with its marks. Items carry a [`Role`] and not a colour; a [`Palette`] turns
//! roles into CSS colours, so day, night and the system's forced colours share one drawing.
//!
//! Invariants: nothing here computes motion, nothing reads a clock, nothing touches a screen or
//! a file, and drawing into a list that has been drawn into before allocates nothing.
#![forbid(unsafe_code)]

mod anchor;
mod draw;
mod format;
mod hit;
mod list;
mod outline;
mod palette;
mod picture;
mod place;
mod pose;
mod sheet;
mod svg;
#[cfg(test)]
mod tests;

pub use anchor::{ANCHORS, Anchor, Spot, anchors, balloon_centre};
pub use draw::{draw, draw_outline};
pub use format::Fixed;
pub use hit::{Hit, Target, hit, slope_handle};
pub use list::{
    Align, Dash, DisplayList, Item, Point, Segment, Style, TextStyle, estimated_text_width,
};
pub use palette::{INK, Palette, Role, Theme, palette};
pub use picture::{Beside, Picture, at_rest};
pub use pose::head_centre;
pub use sheet::{Arrow, Camera, Layers, Leader, Push, Sheet};
pub use svg::{svg, svg_in};
