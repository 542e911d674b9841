//! What a person does to a running robot: the inputs of a run, kept as a log.

use kickstill_robot::Knob;

use crate::sample::Level;

/// One input. It takes effect at the next tick.
#[derive(Clone, Copy, Debug)]
pub enum Event {
    /// A kick on the shell.
    Kick {
        /// Impulse along +x [N·s].
        impulse: f64,
        /// Height above the floor [m].
        height: f64,
    },
    /// A bump on the head's centre of mass.
    Bump {
        /// Impulse along +x [N·s].
        impulse: f64,
    },
    /// The software switch. Ends an emergency stop.
    Level(Level),
    /// The emergency stop at the driver: software off and windings shorted, whatever the
    /// driver's off mode, until the software switch is used again.
    EmergencyStop,
    /// Ball speed asked for (side view) [m/s].
    Speed(f64),
    /// Shell lean asked for (front view) [rad].
    Lean(f64),
    /// Head tilt asked for [rad].
    Head(f64),
    /// Slope of the floor [rad].
    Slope(f64),
    /// A wall with its face at this place [m], or none.
    Wall(Option<f64>),
    /// A knob turned, to this SI value.
    Knob(&'static Knob, f64),
    /// The drive taken by hand, at this duty (−1 … 1, cut to it): the software is out of the loop until the
    /// software switch or the emergency stop is used.
    Duty(f64),
}

/// Duration of kicks and bumps [s].
pub const PULSE_TIME: f64 = 0.1;

impl Event {
    /// The numbers of the event, for the digest: a kind and two values.
    pub(crate) fn words(&self) -> [u64; 3] {
        let (kind, a, b) = match *self {
            Event::Kick { impulse, height } => (1, impulse, height),
            Event::Bump { impulse } => (2, impulse, 0.0),
            Event::Level(level) => (3, f64::from(level as u8), 0.0),
            Event::Speed(v) => (4, v, 0.0),
            Event::Lean(v) => (5, v, 0.0),
            Event::Head(v) => (6, v, 0.0),
            Event::Slope(v) => (7, v, 0.0),
            Event::Wall(None) => (8, 0.0, 0.0),
            Event::Wall(Some(x)) => (9, x, 0.0),
            Event::Knob(knob, v) => {
                let mut key = crate::digest::Digest::new();
                for byte in knob.key.bytes() {
                    key.word(u64::from(byte));
                }
                return [10, key.value(), v.to_bits()];
            }
            Event::EmergencyStop => (11, 0.0, 0.0),
            Event::Duty(v) => (12, v, 0.0),
        };
        [kind, a.to_bits(), b.to_bits()]
    }

    /// Whether all its numbers are finite.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        match *self {
            Event::Kick { impulse, height } => impulse.is_finite() && height.is_finite(),
            Event::Wall(None) | Event::Level(_) | Event::EmergencyStop => true,
            Event::Bump { impulse: v }
            | Event::Speed(v)
            | Event::Lean(v)
            | Event::Head(v)
            | Event::Slope(v)
            | Event::Wall(Some(v))
            | Event::Knob(_, v)
            | Event::Duty(v) => v.is_finite(),
        }
    }
}
