//! One step: a fourth-order stage with frozen modes, events located, what they change put right.

use super::{End, Plant, Report};
use crate::energy::Work;
use crate::events::{Mark, WATCHES, aim};
use crate::frame::Frame;
use crate::hold::FallenHead;
use crate::modes::{Contact, SUBSPACES};
use crate::push::PushForce;
use crate::solve::{Solution, greater};
use crate::state::{CARRIAGE, HEAD, Motor, SHELL, State, X};
use crate::trig::Trig;

/// Events located in one step before the rest of it is taken at velocity level.
const EVENTS_PER_STEP: u32 = 8;
/// An event is located to this share of the step.
const EVENT_TOLERANCE: f64 = 1e-9;

struct Stage {
    h: f64,
    end: State,
    trig: Trig,
    solution: Solution,
}

/// Halves the weight of an end that was kept twice.
fn halve(mark: &mut Mark) {
    for w in &mut mark.watch {
        *w *= 0.5;
    }
    for s in &mut mark.slopes {
        *s *= 0.5;
    }
}

/// The state `dt` on from `y` with speeds `v` and accelerations of `s`.
#[inline(always)]
fn moved(y: &State, v: &[f64; 4], s: &Solution, dt: f64) -> State {
    let mut out = *y;
    for (q, v) in out.q.iter_mut().zip(v) {
        *q += dt * v;
    }
    for (v, a) in out.v.iter_mut().zip(&s.a) {
        *v += dt * a;
    }
    out.servo += dt * s.servo_rate;
    out
}

impl Plant {
    pub(super) fn step_within(&mut self, h: f64, motor: &impl Motor) -> Report {
        let mut report = Report::default();
        let last_good = self.state;
        let mut left = h;
        // What an input changed since the last step is settled first.
        self.settle(motor);
        while left > 0.0 {
            if report.events >= EVENTS_PER_STEP {
                self.coarse_step(left, motor);
                break;
            }
            let whole = self.stage(left, motor);
            let event = self.beyond(&whole) > 0.0;
            let taken = if event {
                report.events += 1;
                self.locate(left, motor, whole)
            } else {
                whole
            };
            if self.metered {
                let work = self.work_over(taken.h, motor);
                self.work.add(&work, 1.0);
            }
            self.accept(&taken);
            left -= taken.h;
            if left < h * EVENT_TOLERANCE {
                left = 0.0;
            }
            if !self.state.is_sane() {
                self.state = last_good;
                self.settled = false;
                report.end = Some(End::Diverged);
                return report;
            }
            if taken.solution.normal <= 0.0 {
                report.end = Some(End::Hop);
                return report;
            }
            if event {
                self.handle_event(&taken, motor, &mut report);
            }
            if left > 0.0 {
                self.settle(motor);
            }
        }
        report
    }

    /// How far a stage's end is beyond anything assumed.
    #[inline]
    fn beyond(&self, stage: &Stage) -> f64 {
        let f = &self.frame;
        let mut worst = f.excess(&stage.end, &self.modes, &self.plan, &stage.solution);
        worst = greater(worst, -stage.solution.normal * f.per_force);
        worst = greater(worst, self.head_beyond(stage));
        if self.wall.face.is_some() {
            worst = greater(worst, self.wall.watch(f, &stage.end, &stage.trig));
        }
        // A number that is none is beyond everything.
        if worst.is_nan() { 1.0 } else { worst }
    }

    /// How far the head is beyond its hold.
    #[inline]
    fn head_beyond(&self, stage: &Stage) -> f64 {
        let push = if self.pushes.any() || self.wall.touched() {
            let sum = self.pushes.sum(stage.h, self.params.radius);
            let sum = self.with_wall(&stage.end, &stage.trig, &sum);
            sum.head + sum.edge
        } else {
            0.0
        };
        self.frame
            .head_excess(&stage.end, &stage.trig, &stage.solution, push)
    }

    /// One Runge-Kutta step of fourth order with frozen modes (Kutta 1901).
    #[inline]
    fn stage(&self, h: f64, motor: &impl Motor) -> Stage {
        let y0 = &self.state;
        let half = 0.5 * h;
        let (middle, late) = if self.pushes.any() {
            let r = self.params.radius;
            (self.pushes.sum(half, r), self.pushes.sum(h, r))
        } else {
            (PushForce::default(), PushForce::default())
        };
        let s1 = &self.solution;
        let y2 = moved(y0, &y0.v, s1, half);
        let (s2, _) = self.slope_at::<false>(&y2, motor, half, &middle);
        let y3 = moved(y0, &y2.v, &s2, half);
        let (s3, _) = self.slope_at::<false>(&y3, motor, half, &middle);
        let y4 = moved(y0, &y3.v, &s3, h);
        let (s4, _) = self.slope_at::<false>(&y4, motor, h, &late);
        let sixth = h / 6.0;
        let mut end = *y0;
        for i in 0..4 {
            end.q[i] += sixth * (y0.v[i] + 2.0 * (y2.v[i] + y3.v[i]) + y4.v[i]);
            end.v[i] += sixth * (s1.a[i] + 2.0 * (s2.a[i] + s3.a[i]) + s4.a[i]);
        }
        end.servo +=
            sixth * (s1.servo_rate + 2.0 * (s2.servo_rate + s3.servo_rate) + s4.servo_rate);
        if self.modes.rolls() {
            end.v[X] = self.params.radius * end.v[SHELL];
        }
        let (solution, trig) = self.slope_at::<true>(&end, motor, h, &late);
        Stage {
            h,
            end,
            trig,
            solution,
        }
    }

    /// Solution at a state a little way from the present one.
    #[inline(always)]
    fn slope_at<const FULL: bool>(
        &self,
        y: &State,
        motor: &impl Motor,
        ahead: f64,
        push: &PushForce,
    ) -> (Solution, Trig) {
        let from = &self.state;
        let t = self
            .trig
            .turned(y.q[CARRIAGE] - from.q[CARRIAGE], y.q[HEAD] - from.q[HEAD]);
        let torque = motor.torque(y.drive_rate(), self.into_step + ahead);
        let (f, plan) = (&self.frame, &self.plan);
        if self.wall.touched() {
            let push = self.with_wall(y, &t, push);
            let s = f.solve(y, &t, plan, torque, &push);
            return (f.limit_rollers(y, &t, plan, s, &push), t);
        }
        let s = f.solve_for::<FULL>(y, &t, plan, torque, push);
        (f.limit_rollers(y, &t, plan, s, push), t)
    }

    /// A push with the wall's force at this state.
    fn with_wall(&self, y: &State, t: &Trig, push: &PushForce) -> PushForce {
        let mut all = *push;
        self.wall.add_force(&self.frame, y, t, &mut all);
        all
    }

    /// All pushes at the present state.
    pub(super) fn push_now(&self) -> PushForce {
        let push = self.pushes.sum(0.0, self.params.radius);
        if self.wall.touched() {
            self.with_wall(&self.state, &Trig::of(&self.state), &push)
        } else {
            push
        }
    }

    /// Work over a step about to be accepted, by the same quadrature.
    fn work_over(&self, h: f64, motor: &impl Motor) -> Work {
        let (f, m, y0) = (&self.frame, &self.modes, &self.state);
        let half = 0.5 * h;
        let r = self.params.radius;
        let early = self.pushes.sum(0.0, r);
        let (middle, late) = (self.pushes.sum(half, r), self.pushes.sum(h, r));
        let y2 = moved(y0, &y0.v, &self.solution, half);
        let (s2, t2) = self.slope_at::<true>(&y2, motor, half, &middle);
        let y3 = moved(y0, &y2.v, &s2, half);
        let (s3, t3) = self.slope_at::<true>(&y3, motor, half, &middle);
        let y4 = moved(y0, &y3.v, &s3, h);
        let (s4, t4) = self.slope_at::<true>(&y4, motor, h, &late);
        let sixth = h / 6.0;
        let mut work = Work::default();
        for (y, t, s, p, share) in [
            (y0, &self.trig, &self.solution, &early, sixth),
            (&y2, &t2, &s2, &middle, 2.0 * sixth),
            (&y3, &t3, &s3, &middle, 2.0 * sixth),
            (&y4, &t4, &s4, &late, sixth),
        ] {
            work.add(&f.power(y, t, m, s, &self.with_wall(y, t, p)), share);
        }
        work
    }

    /// Finds the first event in a step; the end returned is just past it.
    ///
    /// Aims by the watched functions' own shape, takes both values at a look as new ends, halves
    /// the kept end's weight when the same side is hit twice (Illinois), and bisects when that
    /// does not close in.
    #[cold]
    fn locate(&self, h: f64, motor: &impl Motor, whole: Stage) -> Stage {
        let origin = Stage {
            h: 0.0,
            end: self.state,
            trig: self.trig,
            solution: self.solution,
        };
        let (mut lo, mut hi) = (self.mark(&origin), self.mark(&whole));
        let mut best = whole;
        let mut past = hi.worst();
        let mut side = 0;
        for i in 0..60 {
            let span = hi.at - lo.at;
            if span <= h * EVENT_TOLERANCE || past <= self.located {
                break;
            }
            let mut at = if i % 5 == 4 {
                0.5 * (lo.at + hi.at)
            } else {
                aim(&lo, &hi, self.located)
            };
            if !(at > lo.at && at < hi.at) {
                // The event is at an end as far as numbers go: step in from it.
                at = lo.at + span * 1e-3;
            }
            let stage = self.stage(at, motor);
            let mark = self.mark(&stage);
            let worst = mark.worst();
            if worst > 0.0 {
                past = worst;
                if side > 0 {
                    halve(&mut lo);
                }
                hi = mark;
                best = stage;
                side = 1;
            } else {
                if side < 0 {
                    halve(&mut hi);
                }
                lo = mark;
                side = -1;
            }
        }
        best
    }

    fn mark(&self, stage: &Stage) -> Mark {
        let f = &self.frame;
        let mut watch = f.watch(&stage.end, &self.modes, &self.plan, &stage.solution);
        watch[WATCHES - 2] = self.head_beyond(stage);
        watch[WATCHES - 1] = self.wall.watch(f, &stage.end, &stage.trig);
        for w in &mut watch {
            // A number that is none is beyond everything.
            if w.is_nan() {
                *w = 1.0;
            }
        }
        Mark {
            at: stage.h,
            watch,
            slopes: f.watch_slopes(&self.plan, &stage.solution),
        }
    }

    fn accept(&mut self, stage: &Stage) {
        self.state = stage.end;
        self.into_step += stage.h;
        self.keep_trig(stage.trig);
        self.solution = stage.solution;
        self.settled = true;
        self.pass_time(stage.h);
    }

    fn pass_time(&mut self, h: f64) {
        self.pushes.advance(h);
        if let Some(head) = &mut self.fallen {
            head.advance(&self.frame, h);
        }
    }

    /// Puts right what an event changed: head off, wall met, speeds that came to rest.
    fn handle_event(&mut self, stage: &Stage, motor: &impl Motor, report: &mut Report) {
        let push = self.push_now();
        if self.fallen.is_none() {
            let used = self
                .frame
                .head_forces(
                    &stage.end,
                    &stage.trig,
                    &stage.solution,
                    push.head + push.edge,
                )
                .used;
            if used >= 1.0 {
                self.lose_head(&stage.trig);
                report.head_lost = true;
            }
        }
        if self.wall.face.is_some() && self.wall.watch(&self.frame, &self.state, &stage.trig) > 0.0
        {
            report.wall_met |= self
                .wall
                .change(&self.frame, &self.state, &stage.trig, &self.modes);
        }
        self.rest_speeds();
        self.rechoose(motor);
    }

    /// The head leaves the equations and flies on by itself.
    fn lose_head(&mut self, trig: &Trig) {
        self.wall.release();
        self.fallen = Some(FallenHead::leaving(&self.frame, &self.state, trig));
        self.state.v[HEAD] = 0.0;
        self.frame = Frame::new(&self.params, &self.inputs, false);
    }

    /// Sets the speeds of elements that just turned back, or still rest, to exactly zero.
    fn rest_speeds(&mut self) {
        let y = &mut self.state;
        let turned = |m: Contact, speed: f64| m.is_stuck() || m.sign() * speed < 0.0;
        let (roll, drive) = (y.v[SHELL], y.drive_rate());
        let (head, castor) = (y.head_rate(), y.castor_rate());
        let mut bits = 0;
        for (bit, hit) in [
            turned(self.modes.drive, drive),
            turned(self.modes.bearing, head),
            turned(self.modes.castors, castor),
            turned(self.modes.rolling, roll),
        ]
        .into_iter()
        .enumerate()
        {
            if hit {
                bits |= 1_usize << bit;
            }
        }
        let slip = y.v[X] - self.params.radius * roll;
        let grips = turned(self.modes.grip, slip);
        let space = &SUBSPACES[bits];
        let old = [y.v[SHELL], y.v[CARRIAGE], y.v[HEAD]];
        let mut new = [0.0; 3];
        for (vector, carrier) in space.basis.iter().zip(space.carrier).take(space.rank) {
            for (n, g) in new.iter_mut().zip(vector) {
                *n += g * old[carrier];
            }
        }
        y.v[SHELL] = new[0];
        y.v[CARRIAGE] = new[1];
        y.v[HEAD] = new[2];
        if grips {
            y.v[X] = self.params.radius * y.v[SHELL];
        }
    }

    /// The rest of a step with too many events, at velocity level (Moreau's scheme).
    fn coarse_step(&mut self, h: f64, motor: &impl Motor) {
        let trig = Trig::of(&self.state);
        let torque = motor.torque(self.state.drive_rate(), self.into_step);
        let push = self.push_now();
        self.state = self
            .frame
            .velocity_step(&self.state, &trig, torque, &push, h);
        self.settled = false;
        self.pass_time(h);
    }
}
