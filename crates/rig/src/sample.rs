//! What one tick of one plane looks like from outside: the row of every trace, strip, drawing
//! and measure.

use kickstill_robot::{Unit, View};

/// The software's three levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Level {
    /// Motors off: drivers in their off mode, servo unpowered.
    #[default]
    Off,
    /// Both joints held where they were at the switch.
    Locked,
    /// The loops run.
    Steadied,
}

impl Level {
    /// Word for it on page and command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Level::Off => "motors off",
            Level::Locked => "locked",
            Level::Steadied => "steadied",
        }
    }

    /// Key on command line and in files.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Level::Off => "off",
            Level::Locked => "locked",
            Level::Steadied => "on",
        }
    }

    /// The level with this key.
    #[must_use]
    pub fn keyed(key: &str) -> Option<Self> {
        [Level::Off, Level::Locked, Level::Steadied]
            .into_iter()
            .find(|level| level.key() == key)
    }
}

/// State and effort of one plane at one tick.
///
/// Angles are from the vertical and level, as people see them; `swing` is positive when the
/// carriage's centre of mass moved to +x, `tilt` when the head moved to +x, `roll` when the
/// shell rolled to +x.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Sample {
    /// Time [s].
    pub time: f64,
    /// Ball centre along the floor x [m].
    pub travel: f64,
    /// Ball speed ẋ [m/s].
    pub speed: f64,
    /// Shell rotation θ [rad].
    pub roll: f64,
    /// θ̇ [rad/s].
    pub roll_rate: f64,
    /// Carriage swing from hanging, from the vertical [rad].
    pub swing: f64,
    /// Its rate [rad/s].
    pub swing_rate: f64,
    /// Head tilt from upright, from the vertical [rad]; frozen at the loss once the head is lost.
    pub tilt: f64,
    /// Its rate [rad/s].
    pub tilt_rate: f64,
    /// Servo position, head against carriage [rad].
    pub servo: f64,
    /// Slope of the floor γ [rad].
    pub slope: f64,
    /// What the loop is asked for: ball speed (side view) [m/s] or shell lean (front view) [rad].
    pub set_point: f64,
    /// Duty of the drive (−1 … 1).
    pub duty: f64,
    /// Target of the head servo ψ [rad].
    pub head_target: f64,
    /// Target of the carriage against the shell ρ (front view) [rad].
    pub carriage_target: f64,
    /// Torque of the drive joint on the carriage, after the gears [N·m].
    pub drive_torque: f64,
    /// Torque of the head joint on the head [N·m].
    pub head_torque: f64,
    /// Friction force of the floor on the ball along +x [N].
    pub traction: f64,
    /// Floor force N [N].
    pub floor_force: f64,
    /// Share of the grip in use |F_t|/(μN); 1 while slipping.
    pub grip_used: f64,
    /// Supply voltage [V].
    pub bus_voltage: f64,
    /// Supply current [A].
    pub supply_current: f64,
    /// Current of one motor [A].
    pub motor_current: f64,
    /// Force of kick, bump or wall now at work along +x [N].
    pub push: f64,
    /// Share of the magnets' hold in use (1: the head comes off).
    pub hold_used: f64,
    /// Bits: 1 duty limited, 2 current limited, 4 lean travel at its end, 8 servo at an end,
    /// 16 ball slips, 32 swing guard holds, 64 head lost, 128 rollers slip, 256 slew limited.
    pub flags: u32,
    /// Software level at this tick: 0 off, 1 locked, 2 steadied.
    pub level: u32,
    /// Falling head once lost: place of its centre of mass along the floor [m].
    pub head_x: f64,
    /// Falling head: height of its centre of mass above the floor line through the ball's
    /// contact [m].
    pub head_z: f64,
}

/// Bits of [`Sample::flags`].
pub mod flag {
    /// Duty at its limit.
    pub const DUTY: u32 = 1;
    /// Motor current at the driver's limit.
    pub const CURRENT: u32 = 2;
    /// Carriage target at the end of the lean travel.
    pub const TRAVEL: u32 = 4;
    /// Head servo at the end of its travel, rate or torque.
    pub const SERVO: u32 = 8;
    /// The ball slips on the floor.
    pub const SLIP: u32 = 16;
    /// The swing guard holds the duty back.
    pub const GUARD: u32 = 32;
    /// The head is lost.
    pub const HEAD_LOST: u32 = 64;
    /// The drive's rollers slip on the rim.
    pub const ROLLERS: u32 = 128;
    /// The output's slew is limited.
    pub const SLEW: u32 = 256;
}

/// One column of a trace.
#[derive(Clone, Copy)]
pub struct Column {
    /// Key in CSV and page.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// Unit.
    pub unit: Unit,
    /// Reads it [SI].
    pub get: fn(&Sample) -> f64,
}

/// The columns of every trace, in order.
pub const COLUMNS: &[Column] = &[
    col("time", "time", Unit::Second, |s| s.time),
    col("travel", "travel", Unit::Metre, |s| s.travel),
    col("speed", "speed", Unit::MetrePerSecond, |s| s.speed),
    col("roll", "shell", Unit::Radian, |s| s.roll),
    col("roll_rate", "shell rate", Unit::RadianPerSecond, |s| {
        s.roll_rate
    }),
    col("swing", "swing", Unit::Radian, |s| s.swing),
    col("swing_rate", "swing rate", Unit::RadianPerSecond, |s| {
        s.swing_rate
    }),
    col("tilt", "head tilt", Unit::Radian, |s| s.tilt),
    col("tilt_rate", "head tilt rate", Unit::RadianPerSecond, |s| {
        s.tilt_rate
    }),
    col("servo", "head servo", Unit::Radian, |s| s.servo),
    col("slope", "slope", Unit::Radian, |s| s.slope),
    col("set_point", "set point", Unit::One, |s| s.set_point),
    col("duty", "duty", Unit::Duty, |s| s.duty),
    col("head_target", "head target", Unit::Radian, |s| {
        s.head_target
    }),
    col("carriage_target", "carriage target", Unit::Radian, |s| {
        s.carriage_target
    }),
    col("drive_torque", "drive torque", Unit::NewtonMetre, |s| {
        s.drive_torque
    }),
    col("head_torque", "head torque", Unit::NewtonMetre, |s| {
        s.head_torque
    }),
    col("traction", "traction", Unit::Newton, |s| s.traction),
    col("floor_force", "floor force", Unit::Newton, |s| {
        s.floor_force
    }),
    col("grip_used", "grip used", Unit::Share, |s| s.grip_used),
    col("bus_voltage", "supply voltage", Unit::Volt, |s| {
        s.bus_voltage
    }),
    col("supply_current", "supply current", Unit::Ampere, |s| {
        s.supply_current
    }),
    col("motor_current", "motor current", Unit::Ampere, |s| {
        s.motor_current
    }),
    col("push", "push", Unit::Newton, |s| s.push),
    col("hold_used", "magnet hold used", Unit::Share, |s| {
        s.hold_used
    }),
    col("flags", "flags", Unit::Count, |s| f64::from(s.flags)),
    col("level", "software", Unit::Count, |s| f64::from(s.level)),
    col("head_x", "fallen head x", Unit::Metre, |s| s.head_x),
    col("head_z", "fallen head z", Unit::Metre, |s| s.head_z),
];

const fn col(
    key: &'static str,
    label: &'static str,
    unit: Unit,
    get: fn(&Sample) -> f64,
) -> Column {
    Column {
        key,
        label,
        unit,
        get,
    }
}

impl Sample {
    /// The sample whose columns are these, each asked for by its key. What is no number counts as zero.
    #[must_use]
    pub fn of_columns(column: impl Fn(&str) -> f64) -> Sample {
        let get = |key: &str| {
            let value = column(key);
            if value.is_finite() { value } else { 0.0 }
        };
        // Whole numbers of at most nine bits; the cast cuts off what is not.
        let bits = |key: &str| get(key) as u32;
        Sample {
            time: get("time"),
            travel: get("travel"),
            speed: get("speed"),
            roll: get("roll"),
            roll_rate: get("roll_rate"),
            swing: get("swing"),
            swing_rate: get("swing_rate"),
            tilt: get("tilt"),
            tilt_rate: get("tilt_rate"),
            servo: get("servo"),
            slope: get("slope"),
            set_point: get("set_point"),
            duty: get("duty"),
            head_target: get("head_target"),
            carriage_target: get("carriage_target"),
            drive_torque: get("drive_torque"),
            head_torque: get("head_torque"),
            traction: get("traction"),
            floor_force: get("floor_force"),
            grip_used: get("grip_used"),
            bus_voltage: get("bus_voltage"),
            supply_current: get("supply_current"),
            motor_current: get("motor_current"),
            push: get("push"),
            hold_used: get("hold_used"),
            flags: bits("flags"),
            level: bits("level"),
            head_x: get("head_x"),
            head_z: get("head_z"),
        }
    }

    /// What a run in this view is judged by: swing in the side view, shell lean in the front
    /// view [rad].
    #[must_use]
    pub fn judged(&self, view: View) -> f64 {
        match view {
            View::Side => self.swing,
            View::Front => self.roll,
        }
    }

    /// Whether the head is lost.
    #[must_use]
    pub fn head_lost(&self) -> bool {
        self.flags & flag::HEAD_LOST != 0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sample_comes_back_from_its_columns() {
        let place = |key: &str| COLUMNS.iter().position(|c| c.key == key).unwrap();
        let sample = Sample::of_columns(|key| place(key) as f64 + 1.0);
        for (at, column) in COLUMNS.iter().enumerate() {
            assert_eq!((column.get)(&sample), at as f64 + 1.0, "{}", column.key);
        }
        assert_eq!(Sample::of_columns(|_| f64::NAN), Sample::default());
    }
}
