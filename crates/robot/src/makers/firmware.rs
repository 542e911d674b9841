//! Gains as a maker's firmware has them, and as physics has them.
//!
//! A firmware of the common kind works once a tick on whole sensor counts,
//!
//! > out = P·e + I·Σe + D·(e − e_before),
//!
//! with e in counts, Σe one addend a tick, and out a number whose full scale means full duty (or,
//! for an outer loop, the inner loop's target in counts). With N counts a turn, F full scale and
//! h the tick, c = N/2π counts make a radian, and therefore for a loop that gives duty
//!
//! > P = P_raw·c/F,  I = I_raw·c/(F·h),  D = D_raw·c·h/F,
//!
//! and for one that gives an angle F is replaced by c. That is plain bookkeeping of units (common
//! practice; no published source). A reversed sensor turns the sign of a gain that gives duty;
//! where input and output are counted by the same sense it cancels.

use core::f64::consts::PI;

use crate::catalogue::knob;
use crate::model::{Firmware, Robot};

/// How a physical value becomes a firmware number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Duty for each count of angle.
    DutyPerCount,
    /// Duty for each count of change a tick.
    DutyPerCountPerTick,
    /// Counts of target for each count of angle.
    CountPerCount,
    /// Counts of target for each count of change a tick.
    CountPerCountPerTick,
    /// Counts of target for each count summed up, one addend a tick.
    CountPerSummedCount,
    /// An angle in counts.
    Counts,
    /// An angle a second, in counts a tick.
    CountsPerTick,
    /// A duty in output numbers.
    Output,
    /// A duty a second, in output numbers a tick.
    OutputPerTick,
    /// A smoothing time as the weight of the newest value, h/(τ + h).
    Weight,
}

impl Form {
    /// The firmware's unit in words.
    #[must_use]
    pub fn unit(self) -> &'static str {
        match self {
            Form::DutyPerCount => "output per count",
            Form::DutyPerCountPerTick => "output per count a tick",
            Form::CountPerCount => "counts per count",
            Form::CountPerCountPerTick => "counts per count a tick",
            Form::CountPerSummedCount => "counts per summed count",
            Form::Counts => "counts",
            Form::CountsPerTick => "counts a tick",
            Form::Output => "output",
            Form::OutputPerTick => "output a tick",
            Form::Weight => "weight of the newest value",
        }
    }
}

/// The firmware form of a knob, if firmwares have it as a number.
#[must_use]
pub fn form(key: &str) -> Option<Form> {
    Some(match key {
        "lean.correction" => Form::CountPerCount,
        "lean.memory" => Form::CountPerSummedCount,
        "lean.damping" => Form::CountPerCountPerTick,
        "lean.memory_limit" | "lean.dead_band" | "travel.dead_band" => Form::Counts,
        "lean.slew" => Form::CountsPerTick,
        "lean.smoothing" | "travel.smoothing" => Form::Weight,
        // The travel loop's memory sums the speed error, counts a tick: that is counts again.
        "carriage_loop.correction" | "travel.correction" | "travel.memory" => Form::DutyPerCount,
        "carriage_loop.damping" | "travel.damping" | "travel.speed" => Form::DutyPerCountPerTick,
        "carriage_loop.duty_limit" | "travel.duty_limit" | "travel.memory_limit" => Form::Output,
        "travel.slew" => Form::OutputPerTick,
        _ => return None,
    })
}

/// The factor by which a physical value is multiplied; `None` for the weight, which is no factor.
fn factor(form: Form, firmware: &Firmware, tick: f64) -> Option<f64> {
    let count = 2.0 * PI / firmware.sensor_counts;
    let sense = if firmware.reversed { -1.0 } else { 1.0 };
    let full = firmware.full_scale;
    Some(match form {
        Form::DutyPerCount => sense * full * count,
        Form::DutyPerCountPerTick => sense * full * count / tick,
        Form::CountPerCount => 1.0,
        Form::CountPerCountPerTick => 1.0 / tick,
        Form::CountPerSummedCount => tick,
        Form::Counts => 1.0 / count,
        Form::CountsPerTick => tick / count,
        Form::Output => full,
        Form::OutputPerTick => full * tick,
        Form::Weight => return None,
    })
}

/// A physical value [SI] as a firmware number; `tick` is the loop's tick [s].
#[must_use]
pub fn to_raw(form: Form, firmware: &Firmware, tick: f64, value: f64) -> f64 {
    match factor(form, firmware, tick) {
        Some(f) => value * f,
        None => tick / (value + tick),
    }
}

/// A firmware number as a physical value [SI]; `tick` is the loop's tick [s].
///
/// A weight of zero would be smoothing for ever and gives infinity, which no knob admits.
#[must_use]
pub fn from_raw(form: Form, firmware: &Firmware, tick: f64, raw: f64) -> f64 {
    match factor(form, firmware, tick) {
        Some(f) => raw / f,
        None => tick / raw - tick,
    }
}

/// The knob's value as the robot's firmware would have it, with the firmware's unit.
#[must_use]
pub fn raw(robot: &Robot, key: &str) -> Option<(f64, &'static str)> {
    let form = form(key)?;
    let value = (knob(key)?.get)(robot);
    let raw = to_raw(form, &robot.firmware, robot.timing.tick(), value);
    raw.is_finite().then_some((raw, form.unit()))
}

/// The knob's physical value [SI] for a number typed as in the robot's firmware; not yet checked
/// against the knob's range, and `None` if the knob has no such form or the result is not finite.
#[must_use]
pub fn physical(robot: &Robot, key: &str, raw: f64) -> Option<f64> {
    let form = form(key)?;
    let value = from_raw(form, &robot.firmware, robot.timing.tick(), raw);
    value.is_finite().then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::catalogue;
    use crate::demos::{demo, demos};

    const FORMS: [Form; 10] = [
        Form::DutyPerCount,
        Form::DutyPerCountPerTick,
        Form::CountPerCount,
        Form::CountPerCountPerTick,
        Form::CountPerSummedCount,
        Form::Counts,
        Form::CountsPerTick,
        Form::Output,
        Form::OutputPerTick,
        Form::Weight,
    ];

    /// By hand: 255 full scale, 360 counts a turn, 10 ms. One count is one degree. P_raw 10 gives
    /// 10/255 duty a degree, which is 2.24689 duty/rad; D_raw 10 gives 10/255 duty for a degree in
    /// 10 ms, 0.0224689 duty·s/rad.
    #[test]
    fn worked_by_hand() {
        let f = Firmware {
            full_scale: 255.0,
            sensor_counts: 360.0,
            reversed: false,
        };
        let p = from_raw(Form::DutyPerCount, &f, 0.01, 10.0);
        assert!((p - 2.246_893).abs() < 1e-6, "{p}");
        let d = from_raw(Form::DutyPerCountPerTick, &f, 0.01, 10.0);
        assert!((d - 0.022_468_93).abs() < 1e-8, "{d}");
        assert!((to_raw(Form::Counts, &f, 0.01, PI / 180.0) - 1.0).abs() < 1e-12);
        assert!((from_raw(Form::Weight, &f, 0.01, 1.0 / 3.0) - 0.02).abs() < 1e-15);
        let back = Firmware {
            reversed: true,
            ..f
        };
        assert_eq!(
            to_raw(Form::DutyPerCount, &back, 0.01, p),
            -to_raw(Form::DutyPerCount, &f, 0.01, p)
        );
        assert_eq!(to_raw(Form::CountPerCount, &back, 0.01, 0.3), 0.3);
    }

    /// The law itself, run in counts and in radians side by side over a made-up error.
    #[test]
    fn the_raw_law_gives_the_physical_law() {
        let f = Firmware {
            full_scale: 1000.0,
            sensor_counts: 4096.0,
            reversed: true,
        };
        let h = 0.005;
        let (p, d) = (1.49, 0.201);
        let p_raw = to_raw(Form::DutyPerCount, &f, h, p);
        let d_raw = to_raw(Form::DutyPerCountPerTick, &f, h, d);
        let (mut before, mut before_counts) = (0.0, 0.0);
        for k in 0..200 {
            let e = 0.1 * libm::sin(0.07 * f64::from(k));
            let counts = -e * 4096.0 / (2.0 * PI);
            let duty = p * e + d * (e - before) / h;
            let out = p_raw * counts + d_raw * (counts - before_counts);
            assert!((out / 1000.0 - duty).abs() < 1e-12);
            before = e;
            before_counts = counts;
        }
    }

    #[test]
    fn every_form_goes_there_and_back() {
        for d in demos() {
            let mut robot = demo(d.key).unwrap();
            for reversed in [false, true] {
                robot.firmware.reversed = reversed;
                let mut count = 0;
                for k in catalogue() {
                    let Some((number, unit)) = raw(&robot, k.key) else {
                        continue;
                    };
                    count += 1;
                    assert!(!unit.is_empty());
                    let v = (k.get)(&robot);
                    let back = physical(&robot, k.key, number).unwrap();
                    assert!(
                        (back - v).abs() <= 1e-12 * v.abs().max(1e-3),
                        "{} {v} {back}",
                        k.key
                    );
                }
                assert_eq!(count, 19);
            }
        }
        for f in FORMS {
            assert!(!f.unit().is_empty());
        }
        assert!(raw(&demo("cobnut").unwrap(), "head.mass").is_none());
        assert!(physical(&demo("cobnut").unwrap(), "lean.smoothing", 0.0).is_none());
    }
}
