//! What the firmware knows, does and how its maker writes it.

/// What the firmware can know of the robot.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sensing {
    /// Perfect sensors instead of the modelled ones.
    pub ideal: bool,
    /// Counts a turn of the joint sensors.
    pub joint_counts: f64,
    /// Constant error of the gyro [rad/s].
    pub gyro_bias: f64,
    /// Gyro noise, standard deviation at each tick [rad/s].
    pub gyro_noise: f64,
    /// Accelerometer noise, standard deviation at each tick [m/s²].
    pub accelerometer_noise: f64,
    /// Time constant T with which the angle is drawn to the accelerometer [s].
    pub angle_time: f64,
    /// Distance of the sensor below the shell's centre [m].
    pub mount_below_centre: f64,
    /// Share of ticks at which the sensor message is lost and the last one stands.
    pub drop_out: f64,
}

/// When the controller runs.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Timing {
    /// Loop rate [Hz].
    pub loop_rate: f64,
    /// Ticks between sensing and the output taking effect.
    pub delay_ticks: f64,
}

impl Timing {
    /// The loop's tick in whole microseconds, as a firmware's timer counts it: 10⁶/rate, rounded,
    /// between 1 µs and 1 s.
    #[must_use]
    pub fn tick_us(&self) -> u32 {
        ((1e6 / self.loop_rate).round() as u32).clamp(1, 1_000_000)
    }

    /// The loop's tick [s].
    #[must_use]
    pub fn tick(&self) -> f64 {
        f64::from(self.tick_us()) / 1e6
    }
}

/// Form of a dead band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum DeadBandShape {
    /// Outside the band the loop sees the error less the half width.
    #[default]
    Continuous,
    /// Outside the band the loop sees the whole error.
    Step,
}

/// Where the damping term takes its rate from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum RateSource {
    /// From the rate sensor.
    #[default]
    Gyro,
    /// From the difference of the quantised angle between ticks.
    Difference,
}

/// The lean loop (front view): shell lean → target for the carriage.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct LeanLoop {
    /// Correction P [rad/rad].
    pub correction: f64,
    /// Memory I [rad/(rad·s)].
    pub memory: f64,
    /// Limit of the memory's share of the output [rad].
    pub memory_limit: f64,
    /// Damping D [rad·s/rad].
    pub damping: f64,
    /// Smoothing time of the damping term [s].
    pub smoothing: f64,
    /// Dead band (calm zone), half width [rad].
    pub dead_band: f64,
    /// Form of the dead band.
    pub dead_band_shape: DeadBandShape,
    /// Whether the damping term also rests inside the dead band.
    pub gated_damping: bool,
    /// Where the rate comes from.
    pub rate_source: RateSource,
    /// Greatest rate of change of the carriage target [rad/s].
    pub slew: f64,
    /// Greatest lean the lever asks for [rad].
    pub lever_lean: f64,
}

/// The carriage loop (front view): carriage target → duty.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct CarriageLoop {
    /// Correction [duty/rad].
    pub correction: f64,
    /// Damping [duty·s/rad].
    pub damping: f64,
    /// Greatest duty.
    pub duty_limit: f64,
}

/// The travel loop (side view): ball speed, swing and swing rate → duty.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct TravelLoop {
    /// Correction P on the swing [duty/rad].
    pub correction: f64,
    /// Damping D on the swing rate [duty·s/rad].
    pub damping: f64,
    /// Gain on the ball's turning speed error [duty·s/rad].
    pub speed: f64,
    /// Memory I on the speed error's integral [duty/rad].
    pub memory: f64,
    /// Limit of the memory's share of the output [duty].
    pub memory_limit: f64,
    /// Feed-forward of the swing that the wanted acceleration needs (0 none, 1 all).
    pub feed_forward: f64,
    /// Smoothing time of the damping term [s].
    pub smoothing: f64,
    /// Dead band (calm zone) on the swing, half width [rad].
    pub dead_band: f64,
    /// Form of the dead band.
    pub dead_band_shape: DeadBandShape,
    /// Whether the damping term also rests inside the dead band.
    pub gated_damping: bool,
    /// Where the rate comes from.
    pub rate_source: RateSource,
    /// Greatest rate of change of the duty [1/s].
    pub slew: f64,
    /// Greatest duty.
    pub duty_limit: f64,
    /// Ramp with which the speed command rises [m/s²].
    pub acceleration: f64,
    /// Ramp with which the speed command falls [m/s²].
    pub deceleration: f64,
    /// Speed that the lever asks for at its end [m/s].
    pub lever_speed: f64,
}

/// The head loop: keeps the head level.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HeadLoop {
    /// Share of the measured swing that is compensated (1 = level).
    pub compensation: f64,
    /// Lead as a share of the swing that the wanted acceleration needs.
    pub lead: f64,
    /// Washout time of the lead [s].
    pub lead_time: f64,
    /// Whether the head also levels while the robot is locked.
    pub levels_when_locked: bool,
}

/// What stops the software from throwing the carriage over.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Guard {
    /// Swing beyond which no duty is given further that way [rad].
    pub swing: f64,
}

/// The maker's raw firmware numbers: how gains are typed there.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Firmware {
    /// Output number that means full duty.
    pub full_scale: f64,
    /// Sensor counts a full turn.
    pub sensor_counts: f64,
    /// Whether the sensor counts the other way round.
    pub reversed: bool,
}
