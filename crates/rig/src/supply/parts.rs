//! Wire, driver, windings and regulators under a run.

use kickstill_power::wire::{area_gauge, open_air_rise};
use kickstill_power::{RegulatorBank, RegulatorVerdict, Winding, WirePair, pair_current};
use kickstill_robot::{Drive, Robot};

use super::fuse::FuseReport;
use super::{greatest, rms};
use crate::sample::{Sample, flag};

/// The wires from battery to drivers.
#[derive(Clone, Debug, PartialEq)]
pub struct WireReport {
    /// Cross-section of each [m²].
    pub area: f64,
    /// Gauge whose cross-section that is, seldom whole [AWG].
    pub gauge: f64,
    /// Distance from battery to drivers [m].
    pub length: f64,
    /// Copper temperature the rest is reckoned at [°C]: surroundings and the rough rise at the
    /// root-mean-square current.
    pub temperature: f64,
    /// Resistance there and back [Ω]; part of the battery's R_b in the simulation, not beside it.
    pub resistance: f64,
    /// Voltage lost there and back at the peak [V].
    pub drop_peak: f64,
    /// Voltage lost there and back at the root-mean-square current [V].
    pub drop_rms: f64,
    /// Heat of each metre of one wire at the root-mean-square current [W/m].
    pub heat_per_metre: f64,
    /// The same at the peak [W/m].
    pub heat_per_metre_peak: f64,
    /// Current the pair bears for hours in open air [A].
    pub bears: f64,
    /// Whether that is at least the fuse's rating: a fuse protects the wire.
    pub bears_fuse: bool,
}

pub(super) fn wire(robot: &Robot, fuse: &FuseReport) -> WireReport {
    let area = robot.wiring.area;
    let rise = open_air_rise(area, fuse.rms).value.min(200.0);
    let pair = WirePair::described(&robot.wiring, robot.fuse.surroundings + rise);
    let bears = pair_current(area);
    WireReport {
        area,
        gauge: area_gauge(area),
        length: pair.length,
        temperature: pair.temperature,
        resistance: pair.resistance(),
        drop_peak: pair.drop(fuse.peak),
        drop_rms: pair.drop(fuse.rms),
        heat_per_metre: pair.heat_per_metre(fuse.rms),
        heat_per_metre_peak: pair.heat_per_metre(fuse.peak),
        bears,
        bears_fuse: bears >= fuse.rating,
    }
}

/// The driver of the view's drive.
#[derive(Clone, Debug, PartialEq)]
pub struct DriverReport {
    /// Current limit of each motor [A].
    pub limit: f64,
    /// Greatest current of one motor, either way [A].
    pub peak: f64,
    /// That as a share of the limit.
    pub share: f64,
    /// Time at the limit [s].
    pub time_at_limit: f64,
}

pub(super) fn driver(drive: &Drive, samples: &[Sample], tick: f64) -> DriverReport {
    let peak = greatest(samples, |s| s.motor_current.abs());
    let at_limit = samples.iter().filter(|s| s.flags & flag::CURRENT != 0);
    DriverReport {
        limit: drive.current_limit,
        peak,
        share: peak / drive.current_limit.max(1e-9),
        time_at_limit: at_limit.count() as f64 * tick,
    }
}

/// The windings of the view's motors, all equal.
#[derive(Clone, Debug, PartialEq)]
pub struct WindingReport {
    /// How many motors.
    pub count: f64,
    /// Temperature at the start: that of the surroundings [°C].
    pub start: f64,
    /// At the run's end [°C].
    pub end: f64,
    /// Highest in the run [°C].
    pub peak: f64,
    /// Greatest it may reach [°C].
    pub limit: f64,
    /// Root-mean-square current of one motor [A].
    pub rms: f64,
    /// Current that never passes the limit [A].
    pub continuous: f64,
    /// Where it ends if the run repeats for ever [°C]; none: it ends nowhere. By the
    /// root-mean-square current, the run's ripple left out.
    pub steady: Option<f64>,
    /// When it reaches its limit if the run repeats for ever [s]; none: never.
    pub time_to_limit: Option<f64>,
}

pub(super) fn windings(
    drive: &Drive,
    surroundings: f64,
    samples: &[Sample],
    tick: f64,
) -> WindingReport {
    let winding = Winding::described(drive, surroundings);
    let (mut now, mut peak, mut reached) = (surroundings, surroundings, None);
    for (i, s) in samples.iter().enumerate() {
        now = winding.step(now, s.motor_current, tick);
        peak = peak.max(now);
        if reached.is_none() && now >= winding.limit {
            reached = Some((i + 1) as f64 * tick);
        }
    }
    let rms = rms(samples, |s| s.motor_current);
    WindingReport {
        count: drive.motor_count,
        start: surroundings,
        end: now,
        peak,
        limit: winding.limit,
        rms,
        continuous: winding.continuous_current(),
        steady: winding.steady_temperature(rms),
        time_to_limit: reached.or_else(|| winding.time_to_limit(surroundings, rms)),
    }
}

/// The head's regulators.
#[derive(Clone, Debug, PartialEq)]
pub struct RegulatorReport {
    /// Verdict at the run's lowest supply voltage.
    pub verdict: RegulatorVerdict,
    /// Lowest supply voltage [V].
    pub input: f64,
    /// Power the head takes from them [W].
    pub load: f64,
    /// Current of the busiest [A].
    pub busiest: f64,
    /// Rated current of each [A].
    pub rated: f64,
    /// Power they take from the battery [W].
    pub input_power: f64,
    /// Current they take from the battery at that voltage [A].
    pub input_current: f64,
    /// Heat of all [W].
    pub heat: f64,
    /// Power they take beyond what the battery's constant load counts for all electronics [W];
    /// above 0 the simulated battery bears less than the real one.
    pub uncounted: f64,
}

pub(super) fn regulators(robot: &Robot, samples: &[Sample]) -> RegulatorReport {
    let bank = RegulatorBank::from(&robot.regulator);
    let input = lowest_voltage(robot, samples);
    let load = robot.regulator.load;
    let input_power = bank.input_power(load);
    RegulatorReport {
        verdict: bank.verdict(load, input),
        input,
        load,
        busiest: bank.busiest_current(load),
        rated: bank.rated_current,
        input_power,
        input_current: bank.input_current(load, input),
        heat: bank.heat(load),
        uncounted: (input_power - robot.battery.electronics_power).max(0.0),
    }
}

/// Lowest supply voltage of the samples [V]; the open one without any.
pub(super) fn lowest_voltage(robot: &Robot, samples: &[Sample]) -> f64 {
    samples
        .iter()
        .map(|s| s.bus_voltage)
        .reduce(f64::min)
        .unwrap_or(robot.battery.open_voltage)
}
