//! The main fuse under a run.

use kickstill_power::{BandMark, Fuse, FuseVerdict, FuseWear};
use kickstill_robot::Robot;

use crate::sample::Sample;

/// How long a repeated run is looked at for the second opinion [s]: an hour's show.
pub const SUSTAINED: f64 = 3600.0;

/// The main fuse and what the run's current does to it.
#[derive(Clone, Debug, PartialEq)]
pub struct FuseReport {
    /// Rating printed on it [A].
    pub rating: f64,
    /// Rating in its surroundings [A].
    pub effective_rating: f64,
    /// Current it is loaded with for hours [A] (common practice, no published source).
    pub continuous: f64,
    /// Power at its rating and the open-circuit voltage [W].
    pub rated_power: f64,
    /// Verdict by wear over the run; calls a pulsed current to open too soon.
    pub verdict: FuseVerdict,
    /// Wear of the quickest and the slowest fuse allowed; 1 opens it.
    pub wear: (f64, f64),
    /// Where the run lies in the time-current band; none while it stayed under 110 %.
    pub mark: Option<BandMark>,
    /// Second opinion: the root-mean-square current, steady for as long as the run. Right for pulses
    /// much quicker than the fuse's own heat, too mild for a single long one.
    pub by_rms: FuseVerdict,
    /// The same for [`SUSTAINED`]: the run over and over.
    pub repeated: FuseVerdict,
    /// Root-mean-square current [A].
    pub rms: f64,
    /// Greatest current, either way [A].
    pub peak: f64,
    /// Greatest power at the drivers [W].
    pub peak_power: f64,
    /// Time above 110 % of the rating, all together [s].
    pub overload_time: f64,
    /// Voltage lost in the warm fuse at the peak [V].
    pub drop: f64,
    /// Where the opening times come from.
    pub source: &'static str,
}

/// Whether a peak current [A] stays below what every fuse of this size and rating bears for hours, 110 % of
/// the rating in its surroundings. Above it, only the whole report can tell.
#[must_use]
pub fn fuse_bears_peak(robot: &Robot, peak: f64) -> bool {
    Fuse::from(&robot.fuse).shortest_time(peak).is_none()
}

/// Wear of the robot's fuse over the samples, and its report.
pub(super) fn report(
    robot: &Robot,
    fuse: &Fuse,
    samples: &[Sample],
    tick: f64,
) -> (FuseWear, FuseReport) {
    let mut wear = FuseWear::new();
    for s in samples {
        wear.step(fuse, s.supply_current, tick);
    }
    let mark = wear.mark(fuse);
    let report = FuseReport {
        rating: fuse.rating(),
        effective_rating: fuse.effective_rating(),
        continuous: fuse.continuous_current(),
        rated_power: fuse.rating() * robot.battery.open_voltage,
        verdict: wear.verdict(),
        wear: wear.wear(),
        mark,
        by_rms: fuse.verdict(wear.rms(), wear.time()),
        repeated: fuse.verdict(wear.rms(), SUSTAINED),
        rms: wear.rms(),
        peak: wear.peak(),
        peak_power: super::greatest(samples, |s| s.bus_voltage * s.supply_current),
        overload_time: mark.map_or(0.0, |m| m.time),
        drop: fuse.hot_drop(wear.peak()),
        source: fuse.size().opening_table(fuse.rating()).source,
    };
    (wear, report)
}

/// The two opening-time curves of a fuse, for drawing: current [A] against time [s], straight in
/// log-log between the points.
#[derive(Clone, Debug, PartialEq)]
pub struct FuseBand {
    /// No fuse may open sooner.
    pub quick: Vec<(f64, f64)>,
    /// Every fuse must have opened by then.
    pub slow: Vec<(f64, f64)>,
}

/// Multiples of the rating at which the band is drawn: the tables' corners, and one end further on.
const MULTIPLES: [f64; 8] = [1.10, 1.35, 1.60, 2.00, 2.75, 3.50, 6.00, 10.0];

/// The band of a fuse.
#[must_use]
pub fn fuse_band(fuse: &Fuse) -> FuseBand {
    // A hair above, so that rounding does not fall below where a curve begins.
    let points = |time: &dyn Fn(f64) -> Option<f64>| {
        MULTIPLES
            .iter()
            .map(|m| m * (1.0 + 1e-12) * fuse.effective_rating())
            .filter_map(|current| Some((current, time(current)?)))
            .collect()
    };
    FuseBand {
        quick: points(&|current| fuse.shortest_time(current)),
        slow: points(&|current| fuse.longest_time(current)),
    }
}
