//! The battery under a run, and how long it lasts.

use kickstill_power::{
    CellFigures, ChargeCount, Chemistry, Ending, Load, Pack, Profile, RunTime, Segment, run_time,
};
use kickstill_robot::Robot;

use super::parts::lowest_voltage;
use crate::sample::Sample;

/// The battery.
#[derive(Clone, Debug, PartialEq)]
pub struct BatteryReport {
    /// The cells, with what the battery's R_b has beyond them as path.
    pub pack: Pack,
    /// Usual figures of a cell of this chemistry.
    pub figures: &'static CellFigures,
    /// Lowest supply voltage in the run [V].
    pub lowest_voltage: f64,
    /// Greatest loss below the open-circuit voltage [V].
    pub sag: f64,
    /// Floor of the pack under load [V].
    pub floor: f64,
    /// Whether the cells' usual resistance alone is more than the battery's R_b: the real one may
    /// sag more than the simulated.
    pub softer: bool,
    /// Charge and energy taken in the run.
    pub taken: ChargeCount,
    /// The current's mean, root mean square, peak.
    pub profile: Profile,
    /// Peak current over the pack's charge in an hour [1/h]: the "C rate".
    pub peak_rate: f64,
    /// How long the full pack lasts if the run repeats [s], and why it ends; none where the run takes
    /// nothing.
    pub repeated: Option<(f64, Ending)>,
}

pub(super) fn report(robot: &Robot, pack: &Pack, samples: &[Sample], tick: f64) -> BatteryReport {
    let current: Vec<f64> = samples.iter().map(|s| s.supply_current).collect();
    let profile = Profile::of(pack, &current, tick);
    let mut taken = ChargeCount::default();
    for s in samples {
        taken.step(pack, s.supply_current, s.bus_voltage, tick);
    }
    let lowest = lowest_voltage(robot, samples);
    BatteryReport {
        pack: *pack,
        figures: pack.chemistry.figures(),
        lowest_voltage: lowest,
        sag: (robot.battery.open_voltage - lowest).max(0.0),
        floor: pack.floor_voltage(),
        softer: pack.resistance() > robot.battery.resistance * (1.0 + 1e-9),
        taken,
        profile,
        peak_rate: profile.peak / (pack.charge() / 3600.0),
        repeated: profile.run_time(pack, 1.0),
    }
}

/// What a step of a programme takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Taken {
    /// Constant power at the battery's terminals [W].
    Watts(f64),
    /// What the run took: its mean current, after a moment at its peak, so that its worst sag counts.
    Run,
}

/// One step of a written programme of drive and idle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProgrammeStep {
    /// How long [s].
    pub seconds: f64,
    /// What is taken meanwhile.
    pub taken: Taken,
}

/// How long the peak is held at the head of each step of a run [s].
const PEAK_TIME: f64 = 0.01;

/// How long the full pack of a report lasts while the programme repeats.
#[must_use]
pub fn programme_run_time(battery: &BatteryReport, programme: &[ProgrammeStep]) -> RunTime {
    let profile = &battery.profile;
    let mut segments = Vec::new();
    for step in programme {
        match step.taken {
            Taken::Watts(watts) => segments.push(Segment {
                duration: step.seconds,
                load: Load::Power(watts),
            }),
            Taken::Run => {
                let short = PEAK_TIME.min(0.5 * step.seconds.max(0.0));
                let rest = step.seconds - short;
                // The charge of all of it stays the run's.
                let mean = if rest > 0.0 {
                    (profile.mean * step.seconds - profile.peak * short) / rest
                } else {
                    profile.mean
                };
                segments.push(Segment {
                    duration: short,
                    load: Load::Current(profile.peak),
                });
                segments.push(Segment {
                    duration: rest,
                    load: Load::Current(mean),
                });
            }
        }
    }
    run_time(&battery.pack, &segments, 1.0)
}

/// What a pack makes of the battery's numbers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Preset {
    /// Open-circuit voltage half full [V]: for `battery.open_voltage`.
    pub open_voltage: f64,
    /// The same full [V].
    pub full: f64,
    /// The same empty [V].
    pub empty: f64,
    /// Floor under load [V].
    pub floor: f64,
    /// Voltage at the end of charging [V].
    pub charged: f64,
    /// Resistance of cells and path [Ω]: for `battery.resistance`.
    pub resistance: f64,
    /// Rated charge [C].
    pub charge: f64,
}

/// V_oc and R_b of a pack by its chemistry's usual figures, cells in series and side by side, and
/// the resistance [Ω] of fuse, wires and connectors.
#[must_use]
pub fn preset(
    chemistry: Chemistry,
    series: u32,
    parallel: u32,
    cell_charge: f64,
    path_resistance: f64,
) -> Preset {
    let pack = Pack {
        path_resistance,
        ..Pack::usual(chemistry, series, parallel, cell_charge)
    };
    Preset {
        open_voltage: pack.open_voltage(0.5),
        full: pack.open_voltage(1.0),
        empty: pack.open_voltage(0.0),
        floor: pack.floor_voltage(),
        charged: pack.highest_voltage(),
        resistance: pack.resistance(),
        charge: pack.charge(),
    }
}
