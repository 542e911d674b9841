//! Tables for people, as every result is written.

pub(crate) use kickstill_rig::report::Table;
