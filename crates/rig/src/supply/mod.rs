//! What a run asked of the supply: fuse, wire, driver, motors, regulators, battery, and where the
//! watts went. All of it from the samples of one plane.
//!
//! Caution: figures to choose by, never a claim of compliance. Local codes, the parts' own sheets
//! and licensed practice come before anything said here.

mod axle;
mod battery;
mod fuse;
mod parts;
mod programme;
mod remedy;
mod rows;
mod watts;

pub use axle::{DriveDemand, Held, USUAL_SWING, axle_against_rim};
pub use battery::{BatteryReport, Preset, ProgrammeStep, Taken, preset, programme_run_time};
pub use fuse::{FuseBand, FuseReport, SUSTAINED, fuse_band, fuse_bears_peak};
pub use parts::{DriverReport, RegulatorReport, WindingReport, WireReport};
pub use programme::{programme_rows, read_programme};
pub use remedy::{Again, Remedy, Tried, most_remedy_runs, remedies};
pub use rows::{SupplyRow, Verdict};
pub use watts::Watts;

use kickstill_power::{Fuse, FuseAdvice, Pack, SupplyPath};
use kickstill_robot::{Drive, Robot, View};

use crate::sample::Sample;
use crate::trial::Run;

/// What has to be said beside every report.
pub const ONE_PLANE: &str = "of one view: each view has a battery of its own in the model, and what \
                             both drives take at once is not added";

/// The drive of a view.
pub(crate) fn drive_of(robot: &Robot, view: View) -> &Drive {
    match view {
        View::Side => &robot.travel_drive,
        View::Front => &robot.lean_drive,
    }
}

/// What a run asked of the supply.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyReport {
    /// Length of the run looked at [s].
    pub seconds: f64,
    /// Main fuse.
    pub fuse: FuseReport,
    /// Wires to the drivers.
    pub wire: WireReport,
    /// Driver of the view's drive.
    pub driver: DriverReport,
    /// Windings of the view's motors.
    pub windings: WindingReport,
    /// Head regulators.
    pub regulators: RegulatorReport,
    /// Battery.
    pub battery: BatteryReport,
    /// Where the watts went, means over the run.
    pub watts: Watts,
    /// What to do about the fuse: first what lowers the demand.
    pub advice: FuseAdvice,
    /// What each part of the supply path bears.
    pub path: SupplyPath,
}

impl SupplyReport {
    /// Report of a robot's `samples`, `tick` [s] apart, in a view. Without samples all demands are
    /// zero.
    #[must_use]
    pub fn of(robot: &Robot, view: View, samples: &[Sample], tick: f64) -> Self {
        let drive = drive_of(robot, view);
        let pack = Pack::described(&robot.pack, &robot.battery);
        let path = SupplyPath::described(&robot.wiring, &pack);
        let fuse = Fuse::from(&robot.fuse);
        let (wear, fuse_report) = fuse::report(robot, &fuse, samples, tick);
        Self {
            seconds: samples.len() as f64 * tick,
            wire: parts::wire(robot, &fuse_report),
            driver: parts::driver(drive, samples, tick),
            windings: parts::windings(drive, robot.fuse.surroundings, samples, tick),
            regulators: parts::regulators(robot, samples),
            battery: battery::report(robot, &pack, samples, tick),
            watts: Watts::mean(robot, view, samples),
            advice: FuseAdvice::new(&fuse, &wear, &path),
            fuse: fuse_report,
            path,
        }
    }

    /// Report of a whole run, the way to its speed included.
    #[must_use]
    pub fn of_run(robot: &Robot, view: View, run: &Run) -> Self {
        Self::of(robot, view, &run.samples, f64::from(run.tick_us) * 1e-6)
    }
}

/// Greatest value over the samples, not below 0.
fn greatest(samples: &[Sample], of: impl Fn(&Sample) -> f64) -> f64 {
    samples.iter().map(of).fold(0.0, f64::max)
}

/// Root of the mean square over the samples.
fn rms(samples: &[Sample], of: impl Fn(&Sample) -> f64) -> f64 {
    let n = samples.len().max(1) as f64;
    let sum: f64 = samples.iter().map(|s| of(s) * of(s)).sum();
    (sum / n).sqrt()
}
