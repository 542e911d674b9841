//! What firmware can know of the robot's motion.

use kickstill_robot::{GRAVITY, RateSource, Sensing};

use crate::controller::Observed;
use crate::noise::{Channel, Noise, happens};

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// Motion as the firmware believes it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Felt {
    /// ρ [rad].
    pub(crate) drive_angle: f64,
    /// ρ̇ [rad/s].
    pub(crate) drive_rate: f64,
    /// ψ [rad].
    pub(crate) head_angle: f64,
    /// α from the vertical [rad].
    pub(crate) swing: f64,
    /// α̇ by the rate sensor [rad/s].
    pub(crate) swing_rate: f64,
    /// θ̇ = ρ̇ − α̇ by joint and rate sensor [rad/s].
    pub(crate) roll_rate: f64,
    /// α̇ by differences of the quantised angle [rad/s].
    pub(crate) swing_difference: f64,
    /// θ̇ by differences of the quantised angle [rad/s].
    pub(crate) roll_difference: f64,
}

impl Felt {
    /// Shell rotation θ = ρ − α, from the vertical [rad].
    pub(crate) fn roll(&self) -> f64 {
        self.drive_angle - self.swing
    }

    pub(crate) fn swing_rate_from(&self, source: RateSource) -> f64 {
        match source {
            RateSource::Gyro => self.swing_rate,
            RateSource::Difference => self.swing_difference,
        }
    }

    pub(crate) fn roll_rate_from(&self, source: RateSource) -> f64 {
        match source {
            RateSource::Gyro => self.roll_rate,
            RateSource::Difference => self.roll_difference,
        }
    }
}

/// One message of all sensors.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Message {
    drive_angle: f64,
    drive_rate: f64,
    head_angle: f64,
    swing_rate: f64,
    /// Swing the accelerometer shows [rad].
    apparent: f64,
}

/// Sensors, message line and angle filter.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Senses {
    message: Option<Message>,
    /// Filtered swing [rad].
    angle: f64,
    last: Option<Last>,
}

/// Readings of the tick before, for differences [rad, rad/s].
#[derive(Clone, Copy, Debug, PartialEq)]
struct Last {
    swing_rate: f64,
    drive: f64,
    swing: f64,
    roll: f64,
}

/// Swing that an accelerometer on the carriage shows [rad]: the direction, against the
/// carriage's own "up", of the specific force s = a − g it feels.
///
/// With swing α the carriage's forward axis is (cos α, sin α) and its up axis (−sin α, cos α);
/// at rest the reading is α. Accelerating to +x it reads α + atan(a/g): 5.8° for 1 m/s².
/// `along` and `up` are noise on the two axes [m/s²].
pub(crate) fn apparent_swing(swing: f64, acceleration: [f64; 2], along: f64, up: f64) -> f64 {
    let (sin, cos) = libm::sincos(swing);
    let (x, z) = (acceleration[0], acceleration[1] + GRAVITY);
    libm::atan2(x * cos + z * sin + along, z * cos - x * sin + up)
}

/// `angle` to the nearest of `counts` a turn.
fn quantised(angle: f64, counts: f64) -> f64 {
    (angle * counts / TAU).round() * TAU / counts
}

/// Difference of two angles, the short way round, in [−π, π].
fn short_way(angle: f64) -> f64 {
    angle - TAU * (angle / TAU).round()
}

impl Senses {
    /// Senses at a tick, `elapsed` [s] after the one before.
    pub(crate) fn feel(
        &mut self,
        sensing: &Sensing,
        noise: &Noise,
        tick: u64,
        seen: &Observed,
        elapsed: f64,
    ) -> Felt {
        let fresh = !self
            .message
            .is_some_and(|_| lost(sensing, noise.seed, tick));
        let message = match self.message {
            Some(kept) if !fresh => kept,
            _ => read(sensing, noise, tick, seen),
        };
        if sensing.ideal {
            self.angle = seen.swing;
        } else if self.message.is_none() {
            // Firmware waits at start until the angle has settled.
            self.angle = apparent_swing(seen.swing, seen.mount_acceleration, 0.0, 0.0);
        } else {
            self.angle += message.swing_rate * elapsed;
            let pull = elapsed / (sensing.angle_time + elapsed);
            self.angle += short_way(message.apparent - self.angle) * pull;
        }
        self.message = Some(message);
        self.believe(sensing, &message, elapsed)
    }

    fn believe(&mut self, sensing: &Sensing, message: &Message, elapsed: f64) -> Felt {
        let coarse = if sensing.ideal {
            self.angle
        } else {
            quantised(self.angle, sensing.joint_counts)
        };
        let now = Last {
            drive: message.drive_angle,
            swing: coarse,
            roll: message.drive_angle - coarse,
            swing_rate: message.swing_rate,
        };
        let before = self.last.replace(now).unwrap_or(now);
        let (drive_rate, roll_rate) = if sensing.ideal {
            (message.drive_rate, message.drive_rate - message.swing_rate)
        } else {
            // A difference shows the mean rate since the tick before, half a tick old. The
            // gyro's rate must be of the same age, or their own difference shows the joint's
            // acceleration, many times the shell's, as a shell rate: enough to make a quick loop
            // shake.
            let drive_rate = (now.drive - before.drive) / elapsed;
            let mean = 0.5 * (now.swing_rate + before.swing_rate);
            (drive_rate, drive_rate - mean)
        };
        Felt {
            drive_angle: message.drive_angle,
            drive_rate,
            roll_rate,
            head_angle: message.head_angle,
            swing: self.angle,
            swing_rate: message.swing_rate,
            swing_difference: (now.swing - before.swing) / elapsed,
            roll_difference: (now.roll - before.roll) / elapsed,
        }
    }
}

fn lost(sensing: &Sensing, seed: u64, tick: u64) -> bool {
    !sensing.ideal && happens(seed, Channel::DropOut, tick, sensing.drop_out)
}

fn read(sensing: &Sensing, from: &Noise, tick: u64, seen: &Observed) -> Message {
    if sensing.ideal {
        return Message {
            drive_angle: seen.drive_angle,
            drive_rate: seen.drive_rate,
            head_angle: seen.head_angle,
            swing_rate: seen.swing_rate,
            apparent: seen.swing,
        };
    }
    let noise = |channel, deviation: f64| {
        if deviation > 0.0 {
            deviation * from.normal(channel, tick)
        } else {
            0.0
        }
    };
    Message {
        drive_angle: quantised(seen.drive_angle, sensing.joint_counts),
        drive_rate: 0.0,
        head_angle: quantised(seen.head_angle, sensing.joint_counts),
        swing_rate: seen.swing_rate + sensing.gyro_bias + noise(Channel::Gyro, sensing.gyro_noise),
        apparent: apparent_swing(
            seen.swing,
            seen.mount_acceleration,
            noise(Channel::AccelerometerAlong, sensing.accelerometer_noise),
            noise(Channel::AccelerometerUp, sensing.accelerometer_noise),
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEG: f64 = core::f64::consts::PI / 180.0;

    fn plain() -> Sensing {
        Sensing {
            joint_counts: 4096.0,
            angle_time: 1.0,
            ..Sensing::default()
        }
    }

    /// tan⁻¹(1/9.80665) = 5.82°: an accelerating mount looks like a tilted one (navigation
    /// textbooks).
    #[test]
    fn acceleration_reads_as_swing() {
        let reading = apparent_swing(0.0, [1.0, 0.0], 0.0, 0.0) / DEG;
        assert!((reading - 5.8224).abs() < 1e-3, "{reading}");
        for swing in [-70.0, -3.0, 0.0, 40.0, 120.0] {
            let at_rest = apparent_swing(swing * DEG, [0.0; 2], 0.0, 0.0);
            assert!((at_rest - swing * DEG).abs() < 1e-12);
            let pushed = apparent_swing(swing * DEG, [-2.0, 1.0], 0.0, 0.0);
            let expected = swing * DEG - libm::atan2(2.0, GRAVITY + 1.0);
            assert!((pushed - expected).abs() < 1e-12);
        }
    }

    /// A gyro bias b with an angle time T stands off by b·T (complementary filter, textbook).
    #[test]
    fn bias_stands_off_by_bias_times_time() {
        let sensing = Sensing {
            gyro_bias: 0.01,
            ..plain()
        };
        let mut senses = Senses::default();
        let mut felt = Felt::default();
        for tick in 0..3000 {
            felt = senses.feel(&sensing, &Noise::new(1), tick, &Observed::default(), 0.01);
        }
        assert!((felt.swing - 0.01).abs() < 1e-6, "{}", felt.swing);
    }

    #[test]
    fn lost_messages_stand() {
        let sensing = Sensing {
            drop_out: 0.5,
            ..plain()
        };
        let mut senses = Senses::default();
        let mut stale = 0;
        let mut before = f64::NAN;
        for tick in 0..1000_u32 {
            let seen = Observed {
                drive_angle: f64::from(tick) * 0.1,
                ..Observed::default()
            };
            let felt = senses.feel(&sensing, &Noise::new(1), u64::from(tick), &seen, 0.01);
            stale += i32::from(felt.drive_angle == before);
            before = felt.drive_angle;
        }
        // Binomial: four standard errors are 63.
        assert!((437..=563).contains(&stale), "{stale}");
    }

    #[test]
    fn ideal_is_exact() {
        let sensing = Sensing {
            ideal: true,
            gyro_bias: 1.0,
            gyro_noise: 1.0,
            drop_out: 0.9,
            ..plain()
        };
        let seen = Observed {
            drive_angle: 0.123,
            drive_rate: 0.4,
            head_angle: 0.01,
            swing: -0.7,
            swing_rate: 3.0,
            mount_acceleration: [5.0, 5.0],
        };
        let felt = Senses::default().feel(&sensing, &Noise::new(1), 0, &seen, 0.01);
        assert_eq!(
            (felt.drive_angle, felt.drive_rate, felt.head_angle),
            (0.123, 0.4, 0.01)
        );
        assert_eq!((felt.swing, felt.swing_rate), (-0.7, 3.0));
        assert_eq!(felt.roll_rate, 0.4 - 3.0);
    }

    /// Rounding to the nearest count errs by half a count at most.
    #[test]
    fn quantised_to_the_nearest_count() {
        for i in -50..50 {
            let angle = f64::from(i) * 0.0377;
            let error = (quantised(angle, 360.0) - angle).abs();
            assert!(error <= 0.5 * DEG + 1e-12);
        }
        assert!((quantised(1.4 * DEG, 360.0) - DEG).abs() < 1e-12);
    }
}
