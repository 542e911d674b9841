//! What a current over time does to a fuse.

use crate::fuse::Fuse;
use crate::source::{size, within};

/// Whether a fuse bears what it was asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FuseVerdict {
    /// No fuse that keeps the table opens.
    BearsIt {
        /// Wear of the quickest fuse allowed, 0 … 1: 1 opens it.
        wear: f64,
    },
    /// The quickest fuse allowed opens, the slowest does not.
    MayOpen {
        /// When the quickest opens [s].
        earliest: f64,
    },
    /// Every fuse that keeps the table opens.
    Opens {
        /// When the quickest opens [s].
        earliest: f64,
        /// When the last has opened [s].
        latest: f64,
    },
}

/// Where a trial lies in the time-current band.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BandMark {
    /// Steady current that wears the quickest fuse as much in the same overload time [A].
    pub current: f64,
    /// The same as a multiple of the rating at this temperature.
    pub multiple: f64,
    /// Time above 110 % of the rating, all of it together [s].
    pub time: f64,
}

/// Wear ∫dt/t_open of the quickest and of the slowest fuse allowed.
///
/// No cooling is credited: rests between overloads do not heal. So the earliest time is a careful
/// one, but a pulsed current is called to open sooner than it will: pulses much faster than the
/// fuse's own heat (seconds, at twice the rating) act as their root-mean-square, for which
/// [`Fuse::verdict`] of [`FuseWear::rms`] is the second opinion. Begin anew after a long rest.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct FuseWear {
    time: f64,
    quick: f64,
    slow: f64,
    earliest: Option<f64>,
    latest: Option<f64>,
    overload_time: f64,
    square: f64,
    peak: f64,
}

/// Wear beyond which no more is counted.
const WEAR_CUT: f64 = 1e9;

impl FuseWear {
    /// A fresh fuse at time 0.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// One step of `dt` [s] (not below 0) at `current` [A], held over the step. What is not a
    /// number counts as 0. Allocates nothing.
    #[inline]
    pub fn step(&mut self, fuse: &Fuse, current: f64, dt: f64) {
        let dt = within(dt, 0.0, 1e9);
        let (quick, slow) = fuse.wear_rates(current);
        let strength = size(current);
        self.peak = self.peak.max(strength);
        self.square += strength * strength * dt;
        if quick > 0.0 {
            self.overload_time += dt;
            let start = self.time;
            advance(&mut self.quick, &mut self.earliest, quick, dt, start);
            advance(&mut self.slow, &mut self.latest, slow, dt, start);
        }
        self.time += dt;
    }

    /// Time stepped so far [s].
    #[must_use]
    pub fn time(&self) -> f64 {
        self.time
    }

    /// Wear of the quickest fuse allowed and of the slowest; 1 opens it.
    #[must_use]
    pub fn wear(&self) -> (f64, f64) {
        (self.quick, self.slow)
    }

    /// Greatest current so far [A], whichever way.
    #[must_use]
    pub fn peak(&self) -> f64 {
        self.peak
    }

    /// Root of the mean square of the current so far [A].
    #[must_use]
    pub fn rms(&self) -> f64 {
        if self.time > 0.0 {
            (self.square / self.time).sqrt()
        } else {
            0.0
        }
    }

    /// The verdict so far.
    #[must_use]
    pub fn verdict(&self) -> FuseVerdict {
        match (self.earliest, self.latest) {
            (Some(earliest), Some(latest)) => FuseVerdict::Opens { earliest, latest },
            (Some(earliest), None) => FuseVerdict::MayOpen { earliest },
            _ => FuseVerdict::BearsIt { wear: self.quick },
        }
    }

    /// Mark of this trial in the band of `fuse`, on or past the quick curve exactly when the
    /// wear is 1 or more; `None` while the current stayed under 110 %.
    #[must_use]
    pub fn mark(&self, fuse: &Fuse) -> Option<BandMark> {
        if self.overload_time <= 0.0 || self.quick <= 0.0 {
            return None;
        }
        let current = fuse.current_for(self.overload_time / self.quick);
        Some(BandMark {
            current,
            multiple: current / fuse.effective_rating(),
            time: self.overload_time,
        })
    }
}

/// Adds a step's wear and notes when it first reaches 1.
#[inline]
fn advance(wear: &mut f64, opened: &mut Option<f64>, rate: f64, dt: f64, start: f64) {
    let before = *wear;
    *wear = (before + rate * dt).min(WEAR_CUT);
    if opened.is_none() && *wear >= 1.0 {
        let into = ((1.0 - before) / rate).min(dt);
        *opened = Some(start + into);
    }
}

impl Fuse {
    /// Verdict on a steady `current` [A] for `duration` [s], closed form.
    #[must_use]
    pub fn verdict(&self, current: f64, duration: f64) -> FuseVerdict {
        let duration = within(duration, 0.0, 1e9);
        let Some(earliest) = self.shortest_time(current) else {
            return FuseVerdict::BearsIt { wear: 0.0 };
        };
        if duration < earliest {
            return FuseVerdict::BearsIt {
                wear: duration / earliest,
            };
        }
        match self.longest_time(current) {
            Some(latest) if duration >= latest => FuseVerdict::Opens { earliest, latest },
            _ => FuseVerdict::MayOpen { earliest },
        }
    }
}
