//! Settings suggested for a robot: from guided start, hand rules and linear optimum to a search on the whole
//! simulation.
//!
//! [`suggest`] tries settings of the loops asked for in every view they touch, by kicks, bumps, starts and
//! stops, under several seeds of the sensors' noise and several conditions: a head that is lighter or
//! heavier, a battery full or nearly flat, floors, a tick more of delay. Limits come first, then what is
//! wanted, weighed, against the robot as it stands; half of each number is the mean over the conditions, half
//! their worst. Settings that the linear model finds unstable, or with a margin lower than wanted, are not
//! simulated at all. In the end everything is judged under seeds and conditions that the search never saw.
//!
//! The planes are searched one after the other, because no setting but the levelling of the head bears on both.
//! The same question gives the same answer everywhere.
#![forbid(unsafe_code)]

mod ask;
mod bench;
mod candidate;
mod case;
mod chance;
mod knobs;
mod linear;
mod point;
mod random;
mod score;
mod search;
mod suggest;
mod tally;
mod verdict;

pub use ask::{Ask, LimitKey, Loop, MOST_BUDGET, USUAL_BUDGET, Weights};
pub use candidate::Candidate;
pub use knobs::{Searched, is_searched, searched};
pub use linear::{LONG_DELAY, Margin, margins};
pub use random::{Draw, best_of_random, judge_unused};
pub use score::Score;
pub use suggest::{News, NoSearch, Stage, suggest};
pub use verdict::{Change, Compared, Direction, Row, Suggested};
