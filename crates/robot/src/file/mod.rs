//! The robot file: JSON with a format word and a version, every knob under its key in SI units
//! and radians (choices as words), and optionally outlines for the drawing and a parts list.

mod read;
mod tree;
mod write;

pub use read::read_robot;
pub use write::write_robot;
pub(crate) use write::{number, text};

/// Format word at the head of every robot file.
pub const FORMAT: &str = "kickstill-robot";
/// Version of the robot file that this program reads and writes.
pub const VERSION: u32 = 1;
/// Greatest size of a robot file [bytes].
pub const MOST_BYTES: usize = 1_000_000;
/// Problems that are listed one by one; the rest are counted.
pub const MOST_PROBLEMS: usize = 100;
/// Longest name [characters].
pub const MOST_NAME: usize = 80;
/// Longest summary [characters].
pub const MOST_SUMMARY: usize = 400;
/// Fewest points of an outline.
pub const FEWEST_POINTS: usize = 3;
/// Most points of an outline.
pub const MOST_POINTS: usize = 400;
/// Greatest coordinate of an outline, either way [m].
pub const MOST_COORDINATE: f64 = 3.0;
/// Most entries of the parts list.
pub const MOST_PARTS: usize = 200;
/// Greatest mass of one part [kg].
pub const MOST_PART_MASS: f64 = 300.0;

/// The four outlines' keys.
pub const OUTLINES: [&str; 4] = ["carriage_side", "carriage_front", "head_side", "head_front"];
/// The words for the bodies in a parts list.
pub const BODIES: [&str; 3] = ["shell", "carriage", "head"];
