//! What the engine does with plain numbers besides reckoning: bounds that cannot panic, and
//! decimal text from and to doubles.
//!
//! The standard library's own number texts weigh some twenty kilobytes in the page's first
//! download, most of it tables that do not compress. A browser has the same algorithms inside, so
//! with the feature `host` it is asked; everything else here is one code for all machines, and
//! both ways give the fewest digits that read back as the same double (IEEE 754-2019, 5.12.2;
//! ECMA-262, "Number::toString" and "StringToNumber"). Where two such texts are equally near, which
//! takes seventeen digits, each may choose another.
#![forbid(unsafe_code)]

mod bound;
mod digits;
mod read;
mod write;

pub use bound::Within;
pub use read::nearest_double;
pub use write::{Shortest, fixed, scientific, shortest, three_digits};
