//! Resting or sliding: the torques that resting elements must give, whether they can, and the
//! choice of modes at an event.
//!
//! Coulomb's law with a breakaway and a sliding level (common practice; for instance Olsson,
//! Åström, Canudas de Wit, Gäfvert, Lischinsky, "Friction Models and Friction Compensation",
//! European Journal of Control 4 (1998), section 3). A resting element is a constraint whose
//! torque is solved for, never a steep slope.

use crate::frame::{Frame, Plan};
use crate::modes::{Contact, Modes, ServoMode, element};
use crate::push::PushForce;
use crate::solve::{Solution, greater};
use crate::state::{SHELL, State, X};
use crate::trig::Trig;
use kickstill_number::Within;

/// Number of elements with dry friction: drive, bearing, castors, rolling, grip.
pub(crate) const ELEMENTS: usize = 5;

/// Torques that the resting elements give (N for the grip), by element.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Holding {
    pub(crate) drive: f64,
    pub(crate) bearing: f64,
    pub(crate) castors: f64,
    pub(crate) rolling: f64,
}

/// How far an element is over what it can hold: above zero it lets go, in the sense of `sign`.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Excess {
    pub(crate) amount: f64,
    sign: f64,
}

impl Frame {
    /// Shares the residual torques out among the resting elements.
    ///
    /// Drive, bearing and castors resting together are redundant; then the share-out of least
    /// weighted norm is taken, each weighted by what it can hold.
    pub(crate) fn holding(&self, modes: &Modes, r: &[f64; 3]) -> Holding {
        use element::{BEARING, CASTORS, DRIVE, ROLLING};
        let bits = modes.stuck_bits();
        let joints = bits & (DRIVE | BEARING | CASTORS);
        let mut out = Holding::default();
        let floor = bits & ROLLING != 0;
        if joints == DRIVE {
            out.drive = if floor { r[1] } else { 0.5 * (r[0] + r[1]) };
        } else if joints == BEARING {
            out.bearing = 0.5 * (r[1] + r[2]);
        } else if joints == CASTORS {
            out.castors = if floor { -r[2] } else { 0.5 * (r[0] - r[2]) };
        } else if joints == DRIVE | BEARING {
            out.bearing = r[2];
            out.drive = r[1] - r[2];
        } else if joints == DRIVE | CASTORS {
            out.drive = r[1];
            out.castors = -r[2];
        } else if joints == BEARING | CASTORS {
            out.bearing = r[1];
            out.castors = r[1] - r[2];
        } else if joints != 0 {
            // λ_D = r1 − r2 − c, λ_H = r2 + c, λ_C = c.
            let weight = |limit: f64, locked: bool| {
                if locked {
                    0.0
                } else {
                    1.0 / (limit * limit).max(1e-12)
                }
            };
            let gears = &self.p.gears;
            let d0 = r[1] - r[2];
            let drive_limit = gears.friction.breakaway + gears.load_share() * d0.abs();
            let w_d = weight(drive_limit, self.inputs.drive_locked);
            let w_b = weight(self.bearing().breakaway, self.inputs.head_locked);
            let limit = self.castors().breakaway;
            let w_c = weight(limit, false);
            let c = (w_d * d0 - w_b * r[2]) / (w_d + w_b + w_c);
            let c = c.within(-limit, limit);
            out.castors = c;
            out.bearing = r[2] + c;
            out.drive = d0 - c;
        }
        if floor {
            out.rolling = r[0] - out.drive - out.castors;
        }
        out
    }

    /// By how much each resting element is beyond its breakaway level.
    pub(crate) fn excesses(&self, modes: &Modes, s: &Solution) -> [Excess; ELEMENTS] {
        let h = self.holding(modes, &s.residual);
        let mut out = [Excess {
            amount: -1.0,
            sign: 0.0,
        }; ELEMENTS];
        if modes.drive.is_stuck() && !self.inputs.drive_locked {
            let gears = &self.p.gears;
            let carried = s.motor_torque - h.drive;
            let limit = gears.friction.breakaway + gears.load_share() * h.drive.abs();
            let by_gears = (carried.abs() - limit) * self.per_torque;
            let by_rollers = (h.drive.abs() - gears.slip_torque) * self.per_torque;
            out[0] = if by_gears >= by_rollers {
                Excess {
                    amount: by_gears,
                    sign: sign(carried),
                }
            } else {
                // Rollers cannot give the torque that would hold: the joint yields against it.
                Excess {
                    amount: by_rollers,
                    sign: -sign(h.drive),
                }
            };
        }
        let plain = |torque: f64, limit: f64| Excess {
            // The element gives `torque`; it lets go towards the load, against its own torque.
            amount: (torque.abs() - limit) * self.per_torque,
            sign: -sign(torque),
        };
        if modes.bearing.is_stuck() && !self.inputs.head_locked {
            out[1] = plain(h.bearing, self.bearing().breakaway);
        }
        if modes.castors.is_stuck() {
            out[2] = plain(h.castors, self.castors().breakaway);
        }
        if modes.rolling.is_stuck() {
            out[3] = plain(
                h.rolling,
                self.p.rolling_resistance * self.p.radius * s.normal.max(0.0),
            );
        }
        if modes.grip.is_stuck() {
            out[4] = Excess {
                amount: (s.traction.abs() - self.p.grip * s.normal) * self.per_force,
                sign: -sign(s.traction),
            };
        }
        out
    }

    /// Speed of each element; exactly zero where it rests.
    pub(crate) fn speeds(&self, y: &State) -> [f64; ELEMENTS] {
        [
            y.drive_rate(),
            y.head_rate(),
            y.castor_rate(),
            y.v[SHELL],
            y.v[X] - self.p.radius * y.v[SHELL],
        ]
    }

    /// Solves with these modes, finding the gears' load sign by itself; gives the modes' plan besides.
    ///
    /// The sign is unique: T_o·(1/κ + J_d·g) is a fixed torque, whatever κ (g the joint's
    /// mobility), so a wrong guess shows by its own result.
    pub(crate) fn solve_loaded(
        &self,
        y: &State,
        t: &Trig,
        modes: &mut Modes,
        motor_torque: f64,
        push: &PushForce,
    ) -> (Solution, Plan) {
        let solved = |modes: &Modes| {
            let plan = self.plan(modes);
            let s = self.solve(y, t, &plan, motor_torque, push);
            (self.limit_rollers(y, t, &plan, s, push), plan)
        };
        let first = solved(modes);
        let s = &first.0;
        let sliding = modes.drive.sign();
        if sliding == 0.0 || s.joint_torque == 0.0 {
            return first;
        }
        let loaded = s.joint_torque * sliding > 0.0;
        if loaded == modes.loaded {
            return first;
        }
        modes.loaded = loaded;
        solved(modes)
    }

    /// Chooses the modes for this state: elements that move slide, resting ones stay if they
    /// can; the one that is furthest beyond its limit is let go first.
    pub(crate) fn choose(
        &self,
        y: &State,
        t: &Trig,
        motor_torque: f64,
        push: &PushForce,
        before: ServoMode,
    ) -> (Modes, Solution) {
        let speeds = self.speeds(y);
        let start = self.all_resting(y, &speeds, before);
        let mut modes = start;
        // An element let go while others rested may turn out to rest once they slide; each may
        // change its mind a little before all combinations are tried.
        let mut changes = [0_u32; ELEMENTS];
        loop {
            let (s, _) = self.solve_loaded(y, t, &mut modes, motor_torque, push);
            let excesses = self.excesses(&modes, &s);
            let worst = place_of_greatest(excesses.map(|e| e.amount));
            let (element, to) = if excesses[worst].amount > 0.0 {
                (worst, Contact::sliding(excesses[worst].sign))
            } else {
                let against = self.contradictions(&modes, &speeds, &s);
                let worst = place_of_greatest(against);
                if against[worst] <= 0.0 {
                    return (modes, s);
                }
                (worst, Contact::Stuck)
            };
            changes[element] += 1;
            if changes[element] > 3 {
                break;
            }
            *contact_mut(&mut modes, element) = to;
        }
        self.enumerate(start, y, t, motor_torque, push, &speeds)
    }

    /// Tries every combination of the resting elements and keeps the most consistent one, the
    /// one with most at rest among equals.
    fn enumerate(
        &self,
        start: Modes,
        y: &State,
        t: &Trig,
        motor_torque: f64,
        push: &PushForce,
        speeds: &[f64; ELEMENTS],
    ) -> (Modes, Solution) {
        let locked = [
            self.inputs.drive_locked,
            self.inputs.head_locked,
            false,
            false,
            false,
        ];
        let mut resting = [0_usize; ELEMENTS];
        let mut count = 0;
        for (i, lock) in locked.iter().enumerate() {
            if contact(&start, i).is_stuck() && !lock {
                resting[count] = i;
                count += 1;
            }
        }
        let mut best: Option<(f64, Modes, Solution)> = None;
        let combinations = (0..count).fold(1_u32, |n, _| n * 3);
        for code in 0..combinations {
            let mut modes = start;
            let mut rest = code;
            for &i in resting.iter().take(count) {
                *contact_mut(&mut modes, i) =
                    [Contact::Stuck, Contact::Plus, Contact::Minus][(rest % 3) as usize];
                rest /= 3;
            }
            let (s, _) = self.solve_loaded(y, t, &mut modes, motor_torque, push);
            let mut amount: f64 = 0.0;
            for a in self.contradictions(&modes, speeds, &s) {
                amount = amount.max(a);
            }
            for e in self.excesses(&modes, &s) {
                amount = amount.max(e.amount);
            }
            if best.as_ref().is_none_or(|b| amount < b.0) {
                best = Some((amount, modes, s));
            }
        }
        match best {
            Some((_, modes, s)) => (modes, s),
            None => {
                let mut modes = start;
                let (s, _) = self.solve_loaded(y, t, &mut modes, motor_torque, push);
                (modes, s)
            }
        }
    }

    /// How much each element that was just let go accelerates against its own sense; above zero
    /// the choice contradicts itself.
    fn contradictions(
        &self,
        modes: &Modes,
        speeds: &[f64; ELEMENTS],
        s: &Solution,
    ) -> [f64; ELEMENTS] {
        let mut out = [
            s.a[1] + s.a[2],
            s.a[2] + s.a[3],
            s.a[1] - s.a[3],
            s.a[1],
            s.a[0] - self.p.radius * s.a[1],
        ];
        for (i, a) in out.iter_mut().enumerate() {
            let sign = contact(modes, i).sign();
            *a = if sign != 0.0 && speeds[i] == 0.0 {
                // Rounding of accelerations that are zero because other elements rest.
                -sign * *a - 1e-9
            } else {
                -1.0
            };
        }
        out
    }

    /// Modes by speed alone: what moves slides, what does not rests.
    fn all_resting(&self, y: &State, speeds: &[f64; ELEMENTS], before: ServoMode) -> Modes {
        let by = |dry: bool, locked: bool, speed: f64| {
            if locked {
                Contact::Stuck
            } else if !dry {
                Contact::Free
            } else if speed == 0.0 {
                Contact::Stuck
            } else {
                Contact::sliding(speed)
            }
        };
        let head_locked = self.inputs.head_locked && self.head_on;
        let mut grip = by(true, false, speeds[4]);
        if self.p.grip == 0.0 {
            grip = Contact::sliding(speeds[4]);
        }
        Modes {
            drive: by(self.p.gears.is_dry(), self.inputs.drive_locked, speeds[0]),
            loaded: true,
            bearing: by(self.bearing().breakaway > 0.0, head_locked, speeds[1]),
            castors: by(self.castors().breakaway > 0.0, false, speeds[2]),
            rolling: by(self.p.rolling_resistance > 0.0, false, speeds[3]),
            grip,
            servo: self.servo_mode(y, before),
        }
    }

    /// Regime of the servo by its state.
    ///
    /// An unpowered servo that is being turned goes on with its sliding friction until it stops:
    /// that is what `before` is for.
    pub(crate) fn servo_mode(&self, y: &State, before: ServoMode) -> ServoMode {
        let s = &self.p.servo;
        let spring = s.stiffness * (y.servo - y.head_angle());
        let damped = |rate: f64| spring + s.damping * (rate - y.head_rate());
        if !self.inputs.head_powered {
            let turned = before == ServoMode::SlipPlus || before == ServoMode::SlipMinus;
            if turned && self.servo_excess(y, before) < 0.0 {
                return before;
            }
            let torque = damped(0.0);
            return if torque > s.off_breakaway {
                ServoMode::SlipPlus
            } else if torque < -s.off_breakaway {
                ServoMode::SlipMinus
            } else {
                ServoMode::Held
            };
        }
        let wanted = (self.inputs.head_target - y.servo) * self.per_servo[0];
        let torque = damped(wanted.within(-s.rate, s.rate));
        if torque > s.torque_limit {
            ServoMode::LimitPlus
        } else if torque < -s.torque_limit {
            ServoMode::LimitMinus
        } else if wanted > s.rate {
            ServoMode::RatePlus
        } else if wanted < -s.rate {
            ServoMode::RateMinus
        } else {
            ServoMode::Follow
        }
    }

    /// How far the servo is beyond the bounds of its regime, as a share; above zero it has left.
    pub(crate) fn servo_excess(&self, y: &State, mode: ServoMode) -> f64 {
        if !self.head_on {
            return -1.0;
        }
        let s = &self.p.servo;
        let [per_lag, per_rate, per_limit] = self.per_servo;
        let spring = s.stiffness * (y.servo - y.head_angle());
        let damped = |rate: f64| spring + s.damping * (rate - y.head_rate());
        let wanted = (self.inputs.head_target - y.servo) * per_lag;
        let commanded = || damped(wanted.within(-s.rate, s.rate));
        let over_torque = |torque: f64| torque.abs() * per_limit - 1.0;
        match mode {
            ServoMode::Follow => {
                greater(wanted.abs() * per_rate - 1.0, over_torque(damped(wanted)))
            }
            ServoMode::RatePlus => (1.0 - wanted * per_rate).max(over_torque(damped(s.rate))),
            ServoMode::RateMinus => (1.0 + wanted * per_rate).max(over_torque(damped(-s.rate))),
            ServoMode::LimitPlus => 1.0 - commanded() * per_limit,
            ServoMode::LimitMinus => 1.0 + commanded() * per_limit,
            ServoMode::Held => (damped(0.0).abs() - s.off_breakaway) * self.per_torque,
            // Pushed back: the servo turns against its own torque until that ends.
            ServoMode::SlipPlus => self.servo_law(mode).at(y).1,
            ServoMode::SlipMinus => -self.servo_law(mode).at(y).1,
        }
    }

    /// How far anything is beyond what the modes assume; above zero an event has been passed.
    /// `plan` is what the modes make of the laws.
    #[inline]
    pub(crate) fn excess(&self, y: &State, modes: &Modes, plan: &Plan, s: &Solution) -> f64 {
        let senses = &plan.senses;
        let mut worst = self.servo_excess(y, modes.servo);
        // Sliding elements that turned back.
        worst = greater(worst, -senses[0] * y.drive_rate());
        worst = greater(worst, -senses[1] * y.head_rate());
        worst = greater(worst, -senses[2] * y.castor_rate());
        worst = greater(worst, -senses[3] * y.v[SHELL]);
        let slip = y.v[X] * self.per_radius - y.v[SHELL];
        worst = greater(worst, -senses[4] * slip);
        // Gears whose load changed sides.
        worst = greater(worst, plan.wrong_load * s.joint_torque);
        // Resting elements over their limit.
        if plan.space.rank < 3 {
            for e in self.excesses(modes, s) {
                worst = greater(worst, e.amount);
            }
        } else if plan.rolls {
            let grip = s.traction.abs() - self.p.grip * s.normal;
            worst = greater(worst, grip * self.per_force);
        }
        worst
    }
}

fn place_of_greatest(values: [f64; ELEMENTS]) -> usize {
    let mut best = 0;
    for (i, v) in values.iter().enumerate() {
        if *v > values[best] {
            best = i;
        }
    }
    best
}

fn sign(v: f64) -> f64 {
    if v < 0.0 { -1.0 } else { 1.0 }
}

fn contact(m: &Modes, element: usize) -> Contact {
    [m.drive, m.bearing, m.castors, m.rolling, m.grip][element]
}

fn contact_mut(m: &mut Modes, element: usize) -> &mut Contact {
    match element {
        0 => &mut m.drive,
        1 => &mut m.bearing,
        2 => &mut m.castors,
        3 => &mut m.rolling,
        _ => &mut m.grip,
    }
}
