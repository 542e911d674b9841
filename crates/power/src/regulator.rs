//! Voltage regulators that feed the head from the main battery.

use crate::source::{size, within};

/// Equal switching regulators side by side, each with its share of the load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RegulatorBank {
    /// Output voltage [V].
    pub output_voltage: f64,
    /// Current one regulator is rated for [A].
    pub rated_current: f64,
    /// Efficiency, 0 … 1.
    pub efficiency: f64,
    /// Power one regulator takes without load [W].
    pub idle_power: f64,
    /// Lowest input voltage at which the output still holds [V].
    pub minimum_input: f64,
    /// How many share the load.
    pub count: f64,
    /// By how much the busiest carries more than its even share, 0 … 1: separate loads or plain
    /// paralleling are never even.
    pub imbalance: f64,
}

/// Share of the rating from which a regulator counts as near its capacity. Common practice, no
/// published source.
pub const NEAR_CAPACITY: f64 = 0.8;

/// Whether the regulators carry the head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RegulatorVerdict {
    /// Below [`NEAR_CAPACITY`].
    Within {
        /// Load of the busiest as a share of its rating.
        share: f64,
    },
    /// From [`NEAR_CAPACITY`] to the rating: warm, no room for a stalled servo.
    Near {
        /// Load of the busiest as a share of its rating.
        share: f64,
    },
    /// Beyond the rating: the output may fall or shut off.
    Over {
        /// Load of the busiest as a share of its rating.
        share: f64,
    },
    /// The input is below what the regulator needs.
    InputTooLow {
        /// Input voltage [V].
        input: f64,
    },
}

impl RegulatorBank {
    /// Current of the busiest regulator [A] while the head takes `load` [W].
    #[must_use]
    pub fn busiest_current(&self, load: f64) -> f64 {
        let even = self.load_current(load) / within(self.count, 1.0, 1000.0);
        even * (1.0 + within(self.imbalance, 0.0, 1.0))
    }

    /// Current of all regulators together at the output [A].
    #[must_use]
    pub fn load_current(&self, load: f64) -> f64 {
        size(load) / within(self.output_voltage, 0.1, 1e4)
    }

    /// Power taken from the battery [W] while the head takes `load` [W]: load/η plus what idles.
    /// It does not depend on the battery's voltage, so a sagging battery gives more current (a
    /// constant-power load).
    #[must_use]
    pub fn input_power(&self, load: f64) -> f64 {
        let idle = size(self.idle_power).min(1e6) * within(self.count, 1.0, 1000.0);
        size(load) / within(self.efficiency, 0.01, 1.0) + idle
    }

    /// Current from the battery [A] at its voltage `input` [V].
    #[must_use]
    pub fn input_current(&self, load: f64, input: f64) -> f64 {
        self.input_power(load) / within(input, 0.1, 1e4)
    }

    /// Heat of all regulators [W].
    #[must_use]
    pub fn heat(&self, load: f64) -> f64 {
        self.input_power(load) - size(load)
    }

    /// Verdict while the head takes `load` [W] at the battery voltage `input` [V].
    #[must_use]
    pub fn verdict(&self, load: f64, input: f64) -> RegulatorVerdict {
        let input = within(input, 0.0, 1e6);
        if input < self.minimum_input {
            return RegulatorVerdict::InputTooLow { input };
        }
        let share = self.busiest_current(load) / within(self.rated_current, 1e-3, 1e6);
        if share > 1.0 {
            RegulatorVerdict::Over { share }
        } else if share >= NEAR_CAPACITY {
            RegulatorVerdict::Near { share }
        } else {
            RegulatorVerdict::Within { share }
        }
    }
}
