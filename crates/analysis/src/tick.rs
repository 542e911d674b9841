//! A tick of the firmware as difference equations.
//!
//! Every signal is a row of coefficients over the state at a tick and the input of a broken loop;
//! the lines below are those of the firmware, written with such rows.

use kickstill_number::Within;
use kickstill_robot::{GRAVITY, RateSource, Robot, View};

use crate::about::{About, Rest};
use crate::plant::{Held, Plant, RATE, ROLL, SERVO, STATES, SWING, TILT};

/// Where a loop is cut open: what goes in there is a free input, what would have gone in is the
/// output.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Break {
    /// Duty, as it leaves the software (after the delay).
    Duty,
    /// Target of the carriage, between lean loop and carriage loop (front view).
    CarriageTarget,
    /// Target of the head servo (after the delay).
    HeadTarget,
    /// The dead band: in goes what it passes, out comes the error it is given.
    DeadBand,
}

/// A break, or one more that is for design only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Cut {
    /// Where loops are laid open.
    At(Break),
    /// Duty as the loops compute it, before the delay.
    Computed,
}

/// Coefficients over (state, input).
#[derive(Clone, Debug, PartialEq)]
struct Row(Vec<f64>);

impl Row {
    fn add(&mut self, factor: f64, other: &Row) {
        for (to, from) in self.0.iter_mut().zip(&other.0) {
            *to += factor * from;
        }
    }

    fn plus(mut self, factor: f64, other: &Row) -> Row {
        self.add(factor, other);
        self
    }

    fn times(mut self, factor: f64) -> Row {
        for to in &mut self.0 {
            *to *= factor;
        }
        self
    }
}

/// Places of the state at a tick; what a robot does not use has none.
#[derive(Clone, Copy, Debug)]
struct Places {
    /// θ, dropped where nothing depends on it.
    roll: Option<usize>,
    /// α; then β, rates, servo.
    swing: usize,
    /// Angle of the tick before [rad].
    angle: Option<usize>,
    /// ρ now less ρ at the tick before [rad].
    advance: Option<usize>,
    /// α̇ of the tick before [rad/s].
    gyro: Option<usize>,
    /// Smoothed rate [rad/s].
    rate: Option<usize>,
    /// Memory's share of the output.
    memory: Option<usize>,
    /// Duty and head target held since the tick before, which the accelerometer feels.
    held: Option<usize>,
    /// Computed duty 1, 2 … ticks ago.
    duty: usize,
    /// Computed head target 1, 2 … ticks ago.
    head: usize,
    /// Ticks kept of each.
    kept: usize,
    /// How many states.
    size: usize,
}

impl Places {
    fn new(robot: &Robot, view: View, rest: Rest, delay: usize) -> Self {
        let mut size = 0;
        let mut take = |wanted: bool| {
            wanted.then(|| {
                size += 1;
                size - 1
            })
        };
        let ideal = robot.sensing.ideal;
        let (source, damping, smoothing, memory, limit) = match view {
            View::Side => {
                let l = &robot.travel;
                (
                    l.rate_source,
                    l.damping,
                    l.smoothing,
                    l.memory,
                    l.memory_limit,
                )
            }
            View::Front => {
                let l = &robot.lean;
                (
                    l.rate_source,
                    l.damping,
                    l.smoothing,
                    l.memory,
                    l.memory_limit,
                )
            }
        };
        let differs = source == RateSource::Difference && damping != 0.0;
        // Locked, the joint turns no more, and θ is −α.
        let roll = take(view == View::Front && rest == Rest::Free);
        let swing = take(true).unwrap_or(0);
        for _ in SWING + 1..STATES {
            take(true);
        }
        let angle = take(!ideal || differs);
        let advance = take(!ideal || differs);
        let gyro = take(!ideal);
        let rate = take(damping != 0.0 && smoothing > 0.0);
        let memory = take(memory != 0.0 && limit > 0.0);
        let held = take(!ideal);
        take(!ideal);
        let kept = delay;
        let duty = size;
        Self {
            roll,
            swing,
            angle,
            advance,
            gyro,
            rate,
            memory,
            held,
            duty,
            head: duty + kept,
            kept,
            size: duty + 2 * kept,
        }
    }
}

/// z⁺ = A·z + b·v, y = c·z: the sampled loop with its break, or closed (b and c then 0).
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sampled {
    /// A, row by row.
    pub(crate) a: Vec<Vec<f64>>,
    /// b.
    pub(crate) b: Vec<f64>,
    /// c.
    pub(crate) c: Vec<f64>,
    /// θ⁺ − θ over the state.
    pub(crate) advance: Vec<f64>,
    /// Place of θ, where it is a state.
    pub(crate) roll: Option<usize>,
    /// Place of α; β follows.
    pub(crate) swing: usize,
    /// Duty as the loops compute it, over the state.
    pub(crate) duty: Vec<f64>,
    /// What the slew limit holds, over the state: duty in the side view, carriage target in the front view.
    pub(crate) slewed: Vec<f64>,
}

impl Sampled {
    /// The loop of `plant` and software; `broken` cuts it there.
    pub(crate) fn new(
        robot: &Robot,
        view: View,
        about: &About,
        plant: &Plant,
        held: &Held,
        broken: Option<Cut>,
    ) -> Self {
        let delay = robot.timing.delay_ticks.within(0.0, 32.0) as usize;
        let places = Places::new(robot, view, about.rest, delay);
        let step = robot.timing.tick();
        let none = Row(vec![0.0; places.size + 1]);
        let unit = |place: Option<usize>| {
            let mut row = none.clone();
            if let Some(place) = place {
                row.0[place] = 1.0;
            }
            row
        };
        let input = unit(Some(places.size));
        let mut output = none.clone();
        // The plant's states as rows.
        let mut x: Vec<Row> = vec![unit(places.roll)];
        x.extend((0..STATES - 1).map(|i| unit(Some(places.swing + i))));
        let kept = |first: usize, ago: usize| unit(Some(first + ago - 1));

        let mut cut = |at: Cut, signal: Row| {
            if broken == Some(at) {
                output = signal;
                input.clone()
            } else {
                signal
            }
        };

        // Sensing.
        let sensing = &robot.sensing;
        let joint = x[ROLL].clone().plus(1.0, &x[SWING]);
        let swing_rate = &x[RATE + SWING];
        let before = unit(places.angle);
        let angle = if sensing.ideal {
            x[SWING].clone()
        } else {
            let mut shell = none.clone();
            let mut carriage = none.clone();
            let held = [unit(places.held), unit(places.held.map(|p| p + 1))];
            for (row, place) in [(&mut shell, RATE + ROLL), (&mut carriage, RATE + SWING)] {
                let law = plant.a[place].iter().chain(&plant.b[place]);
                for (share, of) in law.zip(x.iter().chain(&held)) {
                    row.add(*share, of);
                }
            }
            // Level acceleration of the mount, from that along the floor and normal to it.
            let (sin, cos) = libm::sincos(plant.steady.swing);
            let (sin_slope, cos_slope) = libm::sincos(robot.floor.slope);
            let below = sensing.mount_below_centre;
            let along = shell
                .times(robot.shell.outer_radius)
                .plus(below * cos, &carriage);
            let level = along
                .times(cos_slope)
                .plus(-sin_slope * below * sin, &carriage);
            let apparent = x[SWING].clone().plus(1.0 / GRAVITY, &level);
            let turned = before.clone().plus(step, swing_rate);
            let pull = step / (sensing.angle_time + step);
            turned.times(1.0 - pull).plus(pull, &apparent)
        };
        let advance = unit(places.advance);
        let turned = angle.clone().plus(-1.0, &before);
        let (drive_rate, roll_rate) = if sensing.ideal {
            let rate = x[RATE + ROLL].clone().plus(1.0, swing_rate);
            (rate, x[RATE + ROLL].clone())
        } else {
            let rate = advance.clone().times(1.0 / step);
            let mean = swing_rate.clone().plus(1.0, &unit(places.gyro)).times(0.5);
            (rate.clone(), rate.plus(-1.0, &mean))
        };
        let swing_difference = turned.clone().times(1.0 / step);
        let roll_difference = advance.plus(-1.0, &turned).times(1.0 / step);
        let smooth = |rate: &Row, time: f64| {
            let old = unit(places.rate);
            let share = step / (time + step);
            old.times(1.0 - share).plus(share, rate)
        };
        // Loops.
        let memory = unit(places.memory);
        let (duty, rate, fed, slewed) = match view {
            View::Side => {
                let gains = &robot.travel;
                let raw = match gains.rate_source {
                    RateSource::Gyro => swing_rate,
                    RateSource::Difference => &swing_difference,
                };
                let rate = smooth(raw, gains.smoothing);
                let banded = match cut(Cut::At(Break::DeadBand), angle.clone()) {
                    row if broken == Some(Cut::At(Break::DeadBand)) => row,
                    row => row.times(about.band_gain),
                };
                let duty = memory
                    .clone()
                    .plus(-gains.speed, &roll_rate)
                    .plus(-gains.correction, &banded)
                    .plus(-gains.damping, &rate);
                let slewed = duty.clone();
                (duty, rate, roll_rate.times(-gains.memory * step), slewed)
            }
            View::Front => {
                let (outer, inner) = (&robot.lean, &robot.carriage_loop);
                let error = angle.clone().plus(-1.0, &joint);
                let raw = match outer.rate_source {
                    RateSource::Gyro => &roll_rate,
                    RateSource::Difference => &roll_difference,
                };
                let rate = smooth(raw, outer.smoothing);
                let banded = match cut(Cut::At(Break::DeadBand), error) {
                    row if broken == Some(Cut::At(Break::DeadBand)) => row,
                    row => row.times(about.band_gain),
                };
                let wanted = memory
                    .clone()
                    .plus(outer.correction, &banded)
                    .plus(-outer.damping, &rate);
                let slewed = wanted.clone();
                let target = cut(Cut::At(Break::CarriageTarget), wanted);
                let duty = target
                    .plus(-1.0, &joint)
                    .times(inner.correction)
                    .plus(-inner.damping, &drive_rate);
                (duty, rate, banded.times(outer.memory * step), slewed)
            }
        };
        let computed_duty = duty.clone();
        let duty = cut(Cut::Computed, duty);
        let head = angle.clone().times(robot.levelling.compensation);

        // Delay and output.
        let due = |first: usize, computed: &Row| {
            if delay == 0 {
                computed.clone()
            } else {
                kept(first, delay)
            }
        };
        let out = [
            cut(Cut::At(Break::Duty), due(places.duty, &duty)),
            cut(Cut::At(Break::HeadTarget), due(places.head, &head)),
        ];

        // The state at the next tick.
        let (held_a, held_b) = held;
        let next_x: Vec<Row> = (0..STATES)
            .map(|i| {
                let mut row = none.clone();
                let law = held_a[i].iter().chain(&held_b[i]);
                for (share, of) in law.zip(x.iter().chain(&out)) {
                    row.add(*share, of);
                }
                row
            })
            .collect();
        let mut next = vec![none.clone(); places.size];
        let mut set = |place: Option<usize>, row: Row| {
            if let Some(place) = place {
                next[place] = row;
            }
        };
        // θ⁺ − θ does not depend on θ, even where θ is no state.
        let rolled = next_x[ROLL].clone().plus(-1.0, &x[ROLL]);
        set(
            places.advance,
            rolled
                .clone()
                .plus(1.0, &next_x[SWING])
                .plus(-1.0, &x[SWING]),
        );
        set(places.roll, next_x[ROLL].clone());
        for (i, row) in next_x[SWING..=SERVO].iter().enumerate() {
            set(Some(places.swing + i), row.clone());
        }
        set(places.gyro, swing_rate.clone());
        let [duty_out, head_out] = out;
        set(places.held, duty_out);
        set(places.held.map(|p| p + 1), head_out);
        set(places.angle, angle);
        set(places.rate, rate);
        set(places.memory, memory.plus(1.0, &fed));
        for (first, computed) in [(places.duty, duty), (places.head, head)] {
            for ago in 1..=places.kept {
                let row = if ago == 1 {
                    computed.clone()
                } else {
                    kept(first, ago - 1)
                };
                set(Some(first + ago - 1), row);
            }
        }
        let size = places.size;
        Self {
            a: next.iter().map(|row| row.0[..size].to_vec()).collect(),
            b: next.iter().map(|row| row.0[size]).collect(),
            c: output.0[..size].to_vec(),
            advance: rolled.0[..size].to_vec(),
            roll: places.roll,
            swing: places.swing,
            duty: computed_duty.0[..size].to_vec(),
            slewed: slewed.0[..size].to_vec(),
        }
    }

    /// Place of β.
    pub(crate) fn tilt(&self) -> usize {
        self.swing + TILT - SWING
    }
}
