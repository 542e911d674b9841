//! The boundary to the page: the only crate that knows JavaScript.
//!
//! It is built twice. With the feature `board` it is what the page loads first: [`Board`] holds
//! both planes of one robot and paints them. With the feature `lab` it is what the page's workers
//! load when something is to be run faster than real time.
//! Every number that comes in is checked, no call panics, and what is refused changes nothing
//! and answers `{ problems: [{ path, value, expected, hint, kept, severity, line?, column? }] }`.

#[cfg(feature = "lab")]
mod bench;
#[cfg(feature = "board")]
mod board;
#[cfg(feature = "board")]
mod desk;
#[cfg(feature = "board")]
mod facts;
mod give;
#[cfg(feature = "lab")]
mod lab;
#[cfg(feature = "board")]
mod lerp;
#[cfg(feature = "board")]
mod look;
#[cfg(feature = "board")]
mod mode;
#[cfg(feature = "board")]
mod painter;
#[cfg(feature = "board")]
mod plane;
mod record;
#[cfg(all(test, feature = "board"))]
mod tests;
mod units;

#[cfg(feature = "lab")]
pub use bench::bench_plane;
#[cfg(feature = "board")]
pub use board::{Board, scenario_digests};
#[cfg(feature = "lab")]
pub use lab::{
    MapRun, lab_both_sides, lab_budget, lab_card, lab_compare, lab_contest, lab_edge, lab_gains,
    lab_hand, lab_head_story, lab_hunt, lab_kicks, lab_ledger, lab_lid, lab_limits, lab_matters,
    lab_picture, lab_power, lab_replay, lab_run, lab_set, lab_spread, lab_start, lab_suggest,
    lab_trials, map_digest, model_version,
};
