//! What may come out worse than planned: the cases of a worst-case map.

use kickstill_robot::Robot;

/// Spreads; all zero: only the planned case.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spreads {
    /// Head mass, share both ways (0 … 0.9).
    pub head_mass: f64,
    /// Battery voltage, share down (0 … 0.5).
    pub voltage: f64,
    /// Rolling resistance and grip, share both ways (0 … 0.9).
    pub floor: f64,
    /// Further delay [ticks].
    pub delay: u32,
    /// Further seeds of the sensors' noise.
    pub seeds: u32,
}

pub(super) struct Case {
    pub(super) robot: Robot,
    pub(super) seed: u64,
}

/// One robot apart from plan: signs of head mass, voltage, floor, delay.
const ALONE: [[f64; 4]; 6] = [
    [1.0, 0.0, 0.0, 0.0],
    [-1.0, 0.0, 0.0, 0.0],
    [0.0, 1.0, 0.0, 0.0],
    [0.0, 0.0, 1.0, 0.0],
    [0.0, 0.0, -1.0, 0.0],
    [0.0, 0.0, 0.0, 1.0],
];
/// All at once: heavy head on a slippery floor that rolls easily, and light head on one that brakes.
const TOGETHER: [[f64; 4]; 2] = [[1.0, 1.0, -1.0, 1.0], [-1.0, 1.0, 1.0, 1.0]];

impl Spreads {
    /// Whether only the planned case is run.
    #[must_use]
    pub fn is_none(&self) -> bool {
        *self == Self::default()
    }

    /// Each case's signs: as planned, each spread alone both ways, and two with all at once. Common practice, no
    /// published source: corners one by one and the two that are worst together, not all of them.
    fn signs(&self) -> Vec<[f64; 4]> {
        let size = [
            self.head_mass,
            self.voltage,
            self.floor,
            f64::from(self.delay),
        ];
        let mut out = vec![[0.0; 4]];
        let add = |signs: &[f64; 4], out: &mut Vec<[f64; 4]>| {
            let mut kept = *signs;
            for (sign, size) in kept.iter_mut().zip(size) {
                if size == 0.0 {
                    *sign = 0.0;
                }
            }
            if !out.contains(&kept) {
                out.push(kept);
            }
        };
        for signs in ALONE.iter().chain(&TOGETHER) {
            add(signs, &mut out);
        }
        out
    }

    /// Runs in each cell.
    #[must_use]
    pub fn runs(&self) -> usize {
        self.signs().len() * (1 + self.seeds as usize)
    }

    /// The cases of a robot; the first is as planned.
    pub(super) fn cases(&self, robot: &Robot, seed: u64) -> Vec<Case> {
        let mut out = Vec::new();
        for [head, voltage, floor, delay] in self.signs() {
            let mut robot = robot.clone();
            robot.head.mass *= 1.0 + head * self.head_mass;
            robot.battery.open_voltage *= 1.0 - voltage * self.voltage;
            robot.floor.rolling_resistance *= 1.0 + floor * self.floor;
            robot.floor.grip *= 1.0 + floor * self.floor;
            robot.timing.delay_ticks += delay * f64::from(self.delay);
            for more in 0..=u64::from(self.seeds) {
                out.push(Case {
                    robot: robot.clone(),
                    // Far apart, and never that of a plain run but the first.
                    seed: seed.wrapping_add(1_000_003 * more),
                });
            }
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use kickstill_robot::demo;

    use super::*;

    #[test]
    fn none_is_the_planned_case_and_each_spread_has_its_cases() {
        let robot = demo("cobnut").unwrap();
        let none = Spreads::default();
        assert_eq!((none.runs(), none.cases(&robot, 7).len()), (1, 1));
        assert_eq!(none.cases(&robot, 7)[0].robot, robot);
        assert_eq!(none.cases(&robot, 7)[0].seed, 7);
        let heavy = Spreads {
            head_mass: 0.2,
            ..none
        };
        // As planned, heavier, lighter.
        assert_eq!(heavy.runs(), 3);
        let all = Spreads {
            head_mass: 0.2,
            voltage: 0.1,
            floor: 0.3,
            delay: 1,
            seeds: 2,
        };
        assert_eq!(all.runs(), 9 * 3);
        assert_eq!(all.cases(&robot, 1).len(), 27);
    }
}
