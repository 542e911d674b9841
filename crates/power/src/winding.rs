//! How warm a motor's winding gets.
//!
//! One heat store: C·dT/dt = i²·R(T) − (T − T_a)/R_th, R(T) = R₀(1 + α(T − T₀)), C = τ/R_th. A
//! motor has at least two (winding and housing), so for the first seconds the sheet's winding time
//! constant belongs here, for many minutes the housing's (small-motor makers' application notes,
//! read in part). Iron and brush losses are left out.

use crate::source::{LARGE, size, within};
use crate::wire::COPPER_COEFFICIENT;

/// A winding and its way to the surrounding air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Winding {
    /// Resistance at the reference temperature R₀ [Ω].
    pub resistance: f64,
    /// Reference temperature T₀ of the resistance [°C].
    pub reference: f64,
    /// Thermal resistance to the air R_th, winding to housing plus housing to air [K/W].
    pub thermal_resistance: f64,
    /// Time constant τ [s].
    pub time_constant: f64,
    /// Greatest temperature the winding may reach [°C].
    pub limit: f64,
    /// Temperature of the air T_a [°C].
    pub surroundings: f64,
}

/// Temperature beyond which nothing is followed [°C].
const TEMPERATURE_CUT: f64 = 1e6;

/// Half a step over the winding's own time up to which the trapezoidal rule is used: its error is
/// then below 1e-9 of the change.
const SHORT_STEP: f64 = 1e-3;

/// The linear rise law at one current: dx/dt = heating − rate·x, x = T − T_a.
#[derive(Clone, Copy)]
struct Law {
    heating: f64,
    rate: f64,
}

impl Winding {
    fn law(&self, current: f64) -> Law {
        let current = size(current).min(1e6);
        let time = within(self.time_constant, 1e-3, 1e9);
        let ohms = within(self.resistance, 0.0, 1e6);
        let thermal = within(self.thermal_resistance, 0.0, 1e6);
        // Rise for each ohm-factor 1 [K], and its growth with temperature.
        let rise = current * current * ohms * thermal;
        let offset = within(self.surroundings, -273.0, 1e4) - within(self.reference, -273.0, 1e4);
        Law {
            heating: rise * (1.0 + COPPER_COEFFICIENT * offset).max(0.0) / time,
            rate: (1.0 - COPPER_COEFFICIENT * rise) / time,
        }
    }

    /// Resistance at `temperature` [°C], in [Ω].
    #[must_use]
    pub fn resistance_at(&self, temperature: f64) -> f64 {
        let reference = within(self.reference, -273.0, 1e4);
        let offset = within(temperature, -273.0, TEMPERATURE_CUT) - reference;
        within(self.resistance, 0.0, 1e6) * (1.0 + COPPER_COEFFICIENT * offset).max(0.0)
    }

    /// Temperature after `time` [s] at a steady `current` [A] from `start` [°C], closed form.
    #[must_use]
    pub fn temperature_after(&self, start: f64, current: f64, time: f64) -> f64 {
        let law = self.law(current);
        let time = within(time, 0.0, LARGE);
        let x = self.rise_of(start);
        let turn = within(law.rate * time, -700.0, 700.0);
        // (1 − e^(−λt))/λ, which is t where λ vanishes.
        let reach = if turn.abs() < 1e-12 {
            time
        } else {
            -libm::expm1(-turn) / law.rate
        };
        self.kept(x * libm::exp(-turn) + law.heating * reach)
    }

    /// One step of `dt` [s] at `current` [A] from `temperature` [°C]: the temperature after it.
    ///
    /// Trapezoidal for short steps, closed form for long ones. Allocates nothing.
    #[inline]
    #[must_use]
    pub fn step(&self, temperature: f64, current: f64, dt: f64) -> f64 {
        let law = self.law(current);
        let dt = within(dt, 0.0, LARGE);
        let half = 0.5 * law.rate * dt;
        if half.abs() > SHORT_STEP {
            return self.temperature_after(temperature, current, dt);
        }
        let x = self.rise_of(temperature);
        self.kept((x * (1.0 - half) + law.heating * dt) / (1.0 + half))
    }

    /// Where a steady `current` [A] ends [°C]; `None` where it ends nowhere because the growing
    /// resistance heats faster than the air cools.
    #[must_use]
    pub fn steady_temperature(&self, current: f64) -> Option<f64> {
        let law = self.law(current);
        (law.rate > 0.0).then(|| self.kept(law.heating / law.rate))
    }

    /// Time from `start` [°C] to the limit at a steady `current` [A], in [s]; 0 at or beyond it,
    /// `None` where it is never reached.
    #[must_use]
    pub fn time_to_limit(&self, start: f64, current: f64) -> Option<f64> {
        let law = self.law(current);
        let x = self.rise_of(start);
        let gap = self.rise_of(self.limit) - x;
        if gap <= 0.0 {
            return Some(0.0);
        }
        let slope = law.heating - law.rate * x;
        if slope <= 0.0 {
            return None;
        }
        let turn = law.rate * gap / slope;
        if turn >= 1.0 {
            return None;
        }
        let time = if turn.abs() < 1e-12 {
            gap / slope
        } else {
            -libm::log1p(-turn) / law.rate
        };
        Some(time).filter(|t| t.is_finite() && *t < LARGE)
    }

    /// Greatest current that never passes the limit [A]: √((T_l − T_a)/(R_th·R(T_l))), as
    /// small-motor makers reckon it (read). 0 where the air is as warm as the limit.
    #[must_use]
    pub fn continuous_current(&self) -> f64 {
        let allowed = self.rise_of(self.limit).max(0.0);
        let thermal = within(self.thermal_resistance, 0.0, 1e6);
        let path = thermal * self.resistance_at(self.limit);
        within((allowed / within(path, 1e-12, LARGE)).sqrt(), 0.0, 1e6)
    }

    fn rise_of(&self, temperature: f64) -> f64 {
        let air = within(self.surroundings, -273.0, 1e4);
        within(temperature, -273.0, TEMPERATURE_CUT) - air
    }

    fn kept(&self, rise: f64) -> f64 {
        let air = within(self.surroundings, -273.0, 1e4);
        within(air + rise, -273.0, TEMPERATURE_CUT)
    }
}
