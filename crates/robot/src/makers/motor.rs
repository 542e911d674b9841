//! Motor parameters from a motor's sheet.
//!
//! The usual direct-current motor: V = R·I + k·ω, shaft torque T = k·I − T_f − b·ω, with the same
//! k for torque and voltage in SI units. See for instance Hughes & Drury, *Electric Motors and
//! Drives*, ch. 3, or any motor maker's application note; the relations are textbook ones.

use core::f64::consts::PI;

/// One radian per second in revolutions per minute.
const RPM: f64 = PI / 30.0;

/// What a sheet says about a motor at one voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MotorSheet {
    /// Voltage of the test [V].
    pub voltage: f64,
    /// Speed without load [rad/s]; see [`rad_per_s`].
    pub no_load_speed: f64,
    /// Current without load [A].
    pub no_load_current: f64,
    /// Torque at standstill, if given [N·m].
    pub stall_torque: Option<f64>,
    /// Current at standstill [A].
    pub stall_current: f64,
}

/// A motor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motor {
    /// Motor constant k [N·m/A = V·s/rad].
    pub constant: f64,
    /// Winding resistance R [Ω].
    pub resistance: f64,
    /// Dry friction torque T_f of the bearings and brushes [N·m].
    pub friction: f64,
    /// Viscous friction b [N·m·s/rad].
    pub viscous: f64,
}

/// A motor read from a sheet, with how well the sheet agrees with itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FromSheet {
    /// The motor; all of its no-load loss is counted as dry friction.
    pub motor: Motor,
    /// Motor constant that the stall torque alone would give, T_s/(I_s − I_0) [N·m/A].
    pub constant_by_torque: Option<f64>,
    /// How far that is from the constant used, as a share of it. Above a tenth or so the sheet
    /// mixes conditions (warm and cold, or stall figures extrapolated): weigh and measure.
    pub disagreement: Option<f64>,
}

/// Why a sheet cannot be a motor's.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BadSheet {
    /// A value is not a finite number above zero (the no-load current may be zero).
    NotPositive,
    /// The current without load is not below the current at standstill.
    CurrentsCrossed,
}

impl core::fmt::Display for BadSheet {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(match self {
            BadSheet::NotPositive => "every value of the sheet must be a finite number above zero",
            BadSheet::CurrentsCrossed => {
                "the current without load must be below the current at standstill"
            }
        })
    }
}

/// Revolutions per minute in [rad/s].
#[must_use]
pub fn rad_per_s(rpm: f64) -> f64 {
    rpm * RPM
}

/// Radians per second in revolutions per minute.
#[must_use]
pub fn rpm(rad_per_s: f64) -> f64 {
    rad_per_s / RPM
}

impl MotorSheet {
    /// The motor behind the sheet: R = V/I_s, k = (V − R·I_0)/ω_0, T_f = k·I_0.
    ///
    /// # Errors
    /// If the sheet cannot be a motor's.
    pub fn motor(&self) -> Result<FromSheet, BadSheet> {
        let positive = |v: f64| v.is_finite() && v > 0.0;
        let sound = positive(self.voltage)
            && positive(self.no_load_speed)
            && positive(self.stall_current)
            && (self.no_load_current == 0.0 || positive(self.no_load_current))
            && self.stall_torque.is_none_or(positive);
        if !sound {
            return Err(BadSheet::NotPositive);
        }
        if self.no_load_current >= self.stall_current {
            return Err(BadSheet::CurrentsCrossed);
        }
        let resistance = self.voltage / self.stall_current;
        let constant = (self.voltage - resistance * self.no_load_current) / self.no_load_speed;
        let constant_by_torque = self
            .stall_torque
            .map(|t| t / (self.stall_current - self.no_load_current));
        Ok(FromSheet {
            motor: Motor {
                constant,
                resistance,
                friction: constant * self.no_load_current,
                viscous: 0.0,
            },
            constant_by_torque,
            disagreement: constant_by_torque.map(|k| (k - constant).abs() / constant),
        })
    }
}

/// Motor constant from a sheet's speed constant in revolutions per minute and volt.
#[must_use]
pub fn constant_from_rpm_per_volt(rpm_per_volt: f64) -> f64 {
    1.0 / (rpm_per_volt * RPM)
}

/// Where a motor is most efficient at a given voltage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BestPoint {
    /// Current there [A].
    pub current: f64,
    /// Speed there [rad/s].
    pub speed: f64,
    /// Shaft torque there [N·m].
    pub torque: f64,
    /// Mechanical power out over electrical power in.
    pub efficiency: f64,
}

impl Motor {
    /// Speed at a current [rad/s]: (V − R·I)/k.
    #[must_use]
    pub fn speed(&self, voltage: f64, current: f64) -> f64 {
        (voltage - self.resistance * current) / self.constant
    }

    /// Shaft torque at a current and speed [N·m]: k·I − T_f − b·ω.
    #[must_use]
    pub fn torque(&self, current: f64, speed: f64) -> f64 {
        self.constant * current - self.friction - self.viscous * speed
    }

    /// Current without load [A]: from k·I = T_f + b·(V − R·I)/k.
    #[must_use]
    pub fn no_load_current(&self, voltage: f64) -> f64 {
        let (a, b) = self.slopes(voltage);
        b / a
    }

    /// Current at standstill [A]: V/R.
    #[must_use]
    pub fn stall_current(&self, voltage: f64) -> f64 {
        voltage / self.resistance
    }

    /// Time constant of speeding up without load [s]: J·R/k², J the rotor inertia [kg·m²].
    #[must_use]
    pub fn mechanical_time(&self, rotor_inertia: f64) -> f64 {
        rotor_inertia * self.resistance / (self.constant * self.constant)
    }

    /// Shaft torque is a·I − b: a = k + bR/k, b = T_f + bV/k.
    fn slopes(&self, voltage: f64) -> (f64, f64) {
        (
            self.constant + self.viscous * self.resistance / self.constant,
            self.friction + self.viscous * voltage / self.constant,
        )
    }

    /// The most efficient point at this voltage.
    ///
    /// η(I) = (V − R·I)(a·I − b)/(k·V·I) has its maximum at I = √(V·b/(R·a)). Without viscous
    /// friction this is the well-known I = √(I_0·I_s), η = (1 − √(I_0/I_s))².
    #[must_use]
    pub fn best_point(&self, voltage: f64) -> BestPoint {
        let (a, b) = self.slopes(voltage);
        let current = (voltage * b / (self.resistance * a)).sqrt();
        let speed = self.speed(voltage, current);
        let torque = self.torque(current, speed);
        // Without any friction the best point is no load at all, where power is 0/0.
        let efficiency = if current > 0.0 {
            torque * speed / (voltage * current)
        } else {
            1.0
        };
        BestPoint {
            current,
            speed,
            torque,
            efficiency,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A worked motor: K_T 0.0327 N·m/A, T_f 0.011 N·m, 12 V, no load 3456 rpm at 0.469 A, stall
    /// torque 1.13 N·m, best η 0.784 at 4.03 A, J 2.1e-5 kg·m², 6.8 ms (datasheet figures as
    /// transcribed; R 0.346 Ω inferred).
    ///
    /// T_f alone would take 0.336 A without load and run at 3470 rpm; the figures agree with each
    /// other only with a viscous part, (k·I_0 − T_f)/ω_0 = 1.20e-5 N·m·s/rad. With it all do.
    #[test]
    fn worked_motor() {
        let (k, tf, i0) = (0.0327, 0.011, 0.469);
        let m = Motor {
            constant: k,
            resistance: 0.346,
            friction: tf,
            viscous: (k * i0 - tf) / rad_per_s(3456.0),
        };
        assert!((m.viscous - 1.198e-5).abs() < 1e-8, "{}", m.viscous);
        assert!((m.no_load_current(12.0) - i0).abs() < 5e-4);
        assert!((rpm(m.speed(12.0, m.no_load_current(12.0))) - 3456.0).abs() < 1.5);
        assert!((m.torque(m.stall_current(12.0), 0.0) - 1.13).abs() < 0.01);
        let best = m.best_point(12.0);
        assert!((best.current - 4.03).abs() < 0.01, "{best:?}");
        assert!((best.efficiency - 0.784).abs() < 0.0005, "{best:?}");
        assert!((m.mechanical_time(2.1e-5) - 6.8e-3).abs() < 0.05e-3);

        let dry = Motor { viscous: 0.0, ..m };
        assert!((dry.no_load_current(12.0) - 0.336).abs() < 5e-4);
        assert!((rpm(dry.speed(12.0, dry.no_load_current(12.0))) - 3470.0).abs() < 1.0);
    }

    #[test]
    fn sheets_that_cannot_be() {
        let sheet = MotorSheet {
            voltage: 12.0,
            no_load_speed: 362.0,
            no_load_current: 0.469,
            stall_torque: Some(1.13),
            stall_current: 34.68,
        };
        let read = sheet.motor().unwrap();
        assert!((read.motor.resistance - 0.346).abs() < 1e-3);
        assert!((read.motor.constant - 0.0327).abs() < 1e-4);
        assert!(read.disagreement.unwrap() < 0.02, "{read:?}");
        for bad in [
            MotorSheet {
                voltage: 0.0,
                ..sheet
            },
            MotorSheet {
                no_load_speed: f64::NAN,
                ..sheet
            },
            MotorSheet {
                stall_torque: Some(-1.0),
                ..sheet
            },
        ] {
            assert_eq!(bad.motor(), Err(BadSheet::NotPositive));
        }
        let crossed = MotorSheet {
            no_load_current: 40.0,
            ..sheet
        };
        assert_eq!(crossed.motor(), Err(BadSheet::CurrentsCrossed));
        // 100 rpm/V is 0.0955 N·m/A: 60/(2π·100).
        assert!((constant_from_rpm_per_volt(100.0) - 0.095_493).abs() < 1e-6);
    }

    proptest! {
        #[test]
        fn a_motors_own_sheet_gives_the_motor_back(k in 0.001..0.5_f64, r in 0.01..10.0_f64, share in 0.0..0.3_f64, v in 1.0..60.0_f64) {
            let m = Motor { constant: k, resistance: r, friction: share * k * v / r, viscous: 0.0 };
            let i0 = m.no_load_current(v);
            let sheet = MotorSheet {
                voltage: v,
                no_load_speed: m.speed(v, i0),
                no_load_current: i0,
                stall_torque: Some(m.torque(m.stall_current(v), 0.0)),
                stall_current: m.stall_current(v),
            };
            let back = sheet.motor().unwrap();
            prop_assert!((back.motor.constant - k).abs() < 1e-9 * k);
            prop_assert!((back.motor.resistance - r).abs() < 1e-9 * r);
            prop_assert!((back.motor.friction - m.friction).abs() < 1e-9 * k * v / r);
            prop_assert!(back.disagreement.unwrap() < 1e-9);
        }

        #[test]
        fn no_other_current_is_more_efficient(k in 0.001..0.5_f64, r in 0.01..10.0_f64, share in 0.001..0.3_f64, b in 0.0..0.1_f64, at in 0.01..0.99_f64) {
            let v = 12.0;
            let m = Motor { constant: k, resistance: r, friction: share * k * v / r, viscous: b * k * k / r };
            let best = m.best_point(v);
            let i = at * m.stall_current(v);
            let w = m.speed(v, i);
            prop_assert!(m.torque(i, w) * w / (v * i) <= best.efficiency + 1e-12);
        }
    }
}
