//! Many runs over knobs: maps of two knobs, what a measure depends on most, the story of grams on the
//! head.
#![forbid(unsafe_code)]

pub mod head_story;
pub mod map;
pub mod matters;
