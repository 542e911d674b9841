//! Where the battery's power goes.

use crate::chain::{Chain, Electrical};

/// Power of the chain at one instant, split by where it goes [W].
///
/// source = battery_loss + other_loads + copper_loss + mechanical.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct PowerSplit {
    /// Power the cells give, V_oc·I [W].
    pub source: f64,
    /// Lost in the battery's resistance, R_b·I² [W].
    pub battery_loss: f64,
    /// Taken by everything but the motors [W].
    pub other_loads: f64,
    /// Heat in the windings of all motors, N·R_m·i² [W].
    pub copper_loss: f64,
    /// Mechanical power of all motors before the gears, joint torque × joint speed [W].
    pub mechanical: f64,
}

impl PowerSplit {
    /// What is left over when the parts are taken from the source [W]: zero, but for a brown-out
    /// (where the chain has no solution).
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        self.source - self.battery_loss - self.other_loads - self.copper_loss - self.mechanical
    }
}

impl Chain {
    /// Power split of a solved instant at joint speed `joint_rate` [rad/s] with `extra_power` [W]
    /// of other loads, the same numbers [`Chain::solve`] was given.
    #[must_use]
    pub fn split(&self, solved: &Electrical, joint_rate: f64, extra_power: f64) -> PowerSplit {
        let supply = solved.supply_current;
        let current = solved.motor_current;
        PowerSplit {
            source: self.open_voltage() * supply,
            battery_loss: self.source_resistance() * supply * supply,
            other_loads: extra_power,
            copper_loss: self.count() * self.resistance() * current * current,
            mechanical: solved.joint_torque * joint_rate,
        }
    }
}
