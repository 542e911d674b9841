//! Conditions under which settings are tried: seeds of the sensors' noise, and what a robot meets besides
//! the numbers in its file.

use kickstill_robot::Robot;

use crate::chance::{bits, uniform};

/// One condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Case {
    /// Factor on the head's mass and moments of inertia.
    head: f64,
    /// Factor on the battery's voltage.
    voltage: f64,
    /// Factor on the floor's rolling resistance.
    rolling: f64,
    /// Factor on the floor's grip.
    grip: f64,
    /// Ticks of delay more.
    late: f64,
    /// Seed of the sensors' noise.
    pub(crate) seed: u64,
}

/// How far the head's mass is off either way, as a share: a shirt, a lamp, a camera.
pub(crate) const HEAD: f64 = 0.2;
/// How far the voltage is off either way: full and nearly flat.
const VOLTAGE: f64 = 0.08;
/// Rolling resistance, least and greatest factor.
const ROLLING: (f64, f64) = (0.6, 1.6);
/// Grip, least and greatest factor.
const GRIP: (f64, f64) = (0.8, 1.1);

/// Streams of chance, so that what is tried in the end was never seen before.
const TRAINED: u64 = 0x7472_6169;
const CHOSEN: u64 = 0x6368_6f73;
const UNUSED: u64 = 0x756e_7573;
/// Conditions by which the best few are told apart.
const CHOOSING: u64 = 3;
/// Drawn conditions of the last judgement.
const JUDGING: u64 = 5;

impl Case {
    fn plain(seed: u64) -> Self {
        Self {
            head: 1.0,
            voltage: 1.0,
            rolling: 1.0,
            grip: 1.0,
            late: 0.0,
            seed,
        }
    }

    fn drawn(seed: u64, stream: u64, number: u64) -> Self {
        let u = |draw| uniform(seed, stream, number, draw);
        let between = |(low, high): (f64, f64), u: f64| low + (high - low) * u;
        Self {
            head: 1.0 + HEAD * (2.0 * u(0) - 1.0),
            voltage: 1.0 + VOLTAGE * (2.0 * u(1) - 1.0),
            rolling: between(ROLLING, u(2)),
            grip: between(GRIP, u(3)),
            // Every other one is a tick late.
            late: (number % 2) as f64,
            seed: bits(seed, stream, number, 4) >> 11,
        }
    }

    /// Whether anything but the noise differs from the robot's file.
    pub(crate) fn is_other(&self) -> bool {
        *self != Self::plain(self.seed)
    }

    /// The robot in this condition.
    pub(crate) fn of(&self, robot: &Robot) -> Robot {
        let mut r = robot.clone();
        r.head.mass *= self.head;
        r.head.inertia_side *= self.head;
        r.head.inertia_front *= self.head;
        r.battery.open_voltage *= self.voltage;
        r.floor.rolling_resistance *= self.rolling;
        r.floor.grip *= self.grip;
        r.timing.delay_ticks = (r.timing.delay_ticks + self.late).min(32.0);
        r
    }
}

/// The conditions of the search: as described, and three corners of the spread.
pub(crate) fn training(seed: u64) -> Vec<Case> {
    let of = |number| bits(seed, TRAINED, number, 0) >> 11;
    vec![
        Case::plain(of(0)),
        Case {
            head: 1.0 + HEAD,
            voltage: 1.0 - VOLTAGE,
            late: 1.0,
            ..Case::plain(of(1))
        },
        Case {
            head: 1.0 - HEAD,
            voltage: 1.0 + VOLTAGE,
            rolling: ROLLING.0,
            ..Case::plain(of(2))
        },
        Case {
            head: 1.0 + HEAD,
            rolling: ROLLING.1,
            grip: GRIP.0,
            ..Case::plain(of(3))
        },
    ]
}

/// The conditions by which the best few of the search are told apart.
pub(crate) fn choosing(seed: u64) -> Vec<Case> {
    (0..CHOOSING)
        .map(|n| Case::drawn(seed, CHOSEN, n))
        .collect()
}

/// The conditions of the last judgement, which the search never sees.
pub(crate) fn unused(seed: u64) -> Vec<Case> {
    let mut cases = vec![Case::plain(bits(seed, UNUSED, u64::MAX, 0) >> 11)];
    cases.extend((0..JUDGING).map(|n| Case::drawn(seed, UNUSED, n)));
    cases
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_seed_and_no_spread_is_used_twice() {
        for seed in [1, 2, 77] {
            let all: Vec<Case> = [training(seed), choosing(seed), unused(seed)].concat();
            for (i, a) in all.iter().enumerate() {
                for b in &all[i + 1..] {
                    assert_ne!(a.seed, b.seed);
                    let plain = a.head == 1.0 && b.head == 1.0;
                    assert!(
                        plain || (a.head, a.voltage, a.rolling) != (b.head, b.voltage, b.rolling)
                    );
                }
            }
        }
    }
}
