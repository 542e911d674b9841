//! Side view: the travel loop on ball speed, swing and swing rate.

use kickstill_number::Within;
use kickstill_robot::TravelLoop;

use crate::elements::{Memory, Smooth, approach, dead_band, guarded};
use crate::flag;
use crate::sense::Felt;

/// State of the travel loop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Travel {
    memory: Memory,
    rate: Smooth,
    /// Speed asked for now, after the ramps [m/s].
    speed: f64,
    /// Its rate of change [m/s²].
    acceleration: f64,
    /// Duty of the tick before.
    duty: f64,
}

/// What the loop needs of the robot.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct TravelSettings {
    pub(crate) gains: TravelLoop,
    /// R [m].
    pub(crate) radius: f64,
    /// Swing per acceleration K [rad/(m/s²)].
    pub(crate) swing_per_acceleration: f64,
    /// Duty that meets the back-EMF at a ball speed, k·n/(R·V_oc) [s/m].
    pub(crate) duty_per_speed: f64,
    /// Swing guard [rad].
    pub(crate) guard: f64,
}

/// Duty and limits met.
pub(crate) struct TravelAnswer {
    pub(crate) duty: f64,
    pub(crate) flags: u32,
}

/// Share of the back-EMF's duty given at once, for a feed-forward of 1.
///
/// With none the memory must supply it all, and the ball creeps up to its speed with the memory's
/// slow pole; with the whole, what the ball falls behind while the swing builds up is made good
/// by a speed overshoot of a tenth. Half leaves under 3 % in either direction, for balls of
/// 0.2 to 0.8 m.
const BACK_EMF_SHARE: f64 = 0.5;

impl Travel {
    /// Speed asked for after the ramps [m/s].
    pub(crate) fn speed(&self) -> f64 {
        self.speed
    }

    /// Acceleration asked for [m/s²].
    pub(crate) fn acceleration(&self) -> f64 {
        self.acceleration
    }

    /// One tick: speed command → ramps → duty.
    ///
    /// With e = θ̇ − v/R and α_f the swing that the wanted acceleration needs:
    /// duty = −speed·e − P·db(α − α_f) − D·α̇ − I∫e dt + feed-forward of the back-EMF.
    /// All four gains positive is the only choice of signs that is stable: positive duty turns
    /// the ball on (so it answers a ball too slow) and swings the carriage to +x (so it answers a
    /// carriage hanging back).
    pub(crate) fn tick(
        &mut self,
        settings: &TravelSettings,
        felt: &Felt,
        goal: f64,
        step: f64,
    ) -> TravelAnswer {
        let gains = &settings.gains;
        self.ramp(gains, goal, step);
        let ahead = gains.feed_forward * settings.swing_per_acceleration * self.acceleration;
        let error = felt.swing - ahead;
        let banded = dead_band(error, gains.dead_band, gains.dead_band_shape);
        let rate = self.rate.follow(
            felt.swing_rate_from(gains.rate_source),
            gains.smoothing,
            step,
        );
        let resting = gains.gated_damping && error.abs() <= gains.dead_band;
        let damped = if resting { 0.0 } else { gains.damping * rate };
        let slip = felt.roll_rate - self.speed / settings.radius;
        let asked = -gains.speed * slip - gains.correction * banded - damped
            + self.memory.bound(gains.memory_limit)
            + BACK_EMF_SHARE * gains.feed_forward * settings.duty_per_speed * self.speed;

        let mut flags = 0;
        let within = asked.within(-gains.duty_limit, gains.duty_limit);
        if within != asked {
            flags |= flag::DUTY;
        }
        let slewed = approach(self.duty, within, gains.slew * step)
            .within(-gains.duty_limit, gains.duty_limit);
        // A hair, or rounding alone would raise the flag.
        if (slewed - within).abs() > 1e-12 {
            flags |= flag::SLEW;
        }
        // Last, so that no slew delays it.
        let duty = guarded(slewed, felt.swing, settings.guard);
        if duty != slewed {
            flags |= flag::GUARD;
        }
        self.duty = duty;
        self.memory.add(
            gains.memory,
            -slip,
            gains.memory_limit,
            step,
            &[asked - duty],
        );
        TravelAnswer { duty, flags }
    }

    /// Moves the speed asked for towards `goal`: by the start ramp while its size rises, by the
    /// stop ramp while it falls; a reversal first comes to a halt.
    fn ramp(&mut self, gains: &TravelLoop, goal: f64, step: f64) {
        let before = self.speed;
        let rising = before * goal >= 0.0 && goal.abs() > before.abs();
        self.speed = if rising {
            approach(before, goal, gains.acceleration * step)
        } else {
            let halt_first = if before * goal < 0.0 { 0.0 } else { goal };
            approach(before, halt_first, gains.deceleration * step)
        };
        self.acceleration = (self.speed - before) / step;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ramps() {
        let gains = TravelLoop {
            acceleration: 1.0,
            deceleration: 2.0,
            ..TravelLoop::default()
        };
        let mut travel = Travel::default();
        let mut run = |goal: f64, ticks: u32| {
            for _ in 0..ticks {
                travel.ramp(&gains, goal, 0.01);
            }
            (travel.speed, travel.acceleration)
        };
        let near = |(speed, acceleration): (f64, f64), v: f64, a: f64| {
            assert!((speed - v).abs() < 1e-9, "{speed} for {v}");
            assert!((acceleration - a).abs() < 1e-9, "{acceleration} for {a}");
        };
        near(run(1.0, 50), 0.5, 1.0);
        near(run(1.0, 60), 1.0, 0.0);
        near(run(0.5, 10), 0.8, -2.0);
        near(run(-1.0, 40), 0.0, -2.0);
        near(run(-1.0, 30), -0.3, -1.0);
        near(run(0.0, 10), -0.1, 2.0);
    }
}
