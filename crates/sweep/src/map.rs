//! Maps of two knobs.
