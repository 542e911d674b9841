//! Bringing modes, plan and solution to what holds at the present state.

use super::Plant;
use crate::frame::Frame;
use crate::modes::Contact;
use crate::state::{CARRIAGE, HEAD, Motor, SHELL, X};
use crate::trig::Trig;

impl Plant {
    /// Brings trigonometry, solution and modes to what holds at the present state.
    #[inline]
    pub(super) fn settle(&mut self, motor: &impl Motor) {
        if !self.settled || self.stamp != motor.stamp() {
            self.resettle(motor);
        }
    }

    fn resettle(&mut self, motor: &impl Motor) {
        let push = &self.push_now();
        self.stamp = motor.stamp();
        let trig = self.trig_now();
        let torque = motor.torque(self.state.drive_rate(), self.into_step);
        self.modes.servo = self.frame.servo_mode(&self.state, self.modes.servo);
        // A new torque mostly changes no more than the side on which the gears are loaded.
        let f = &self.frame;
        let (mut s, plan) = f.solve_loaded(&self.state, &trig, &mut self.modes, torque, push);
        self.plan = plan;
        if f.excess(&self.state, &self.modes, &self.plan, &s) > 0.0 || self.stale() {
            let (modes, solution) =
                self.frame
                    .choose(&self.state, &trig, torque, push, self.modes.servo);
            self.modes = modes;
            self.plan = self.frame.plan(&modes);
            s = solution;
        }
        self.keep_trig(trig);
        self.solution = s;
        self.settled = true;
    }

    /// Sines and cosines of the present state: in haste those carried along, if they are of this state.
    fn trig_now(&self) -> Trig {
        let q = &self.state.q;
        if self.in_haste && self.trig_at == [q[CARRIAGE], q[HEAD]] {
            self.trig
        } else {
            Trig::of(&self.state)
        }
    }

    pub(super) fn keep_trig(&mut self, trig: Trig) {
        self.trig = trig;
        self.trig_at = [self.state.q[CARRIAGE], self.state.q[HEAD]];
    }

    /// Whether the modes do not fit the elements the numbers now have.
    fn stale(&self) -> bool {
        let fits = |m: Contact, dry: bool, locked: bool, speed: f64| match m {
            Contact::Free => !dry && !locked,
            Contact::Stuck => speed == 0.0 && (dry || locked),
            Contact::Plus | Contact::Minus => dry && !locked && m.sign() * speed >= 0.0,
        };
        let (f, y, m) = (&self.frame, &self.state, &self.modes);
        let head_locked = self.inputs.head_locked && f.head_on;
        let slip = y.v[X] - self.params.radius * y.v[SHELL];
        !(fits(
            m.drive,
            self.params.gears.is_dry(),
            self.inputs.drive_locked,
            y.drive_rate(),
        ) && fits(
            m.bearing,
            f.bearing().breakaway > 0.0,
            head_locked,
            y.head_rate(),
        ) && fits(
            m.castors,
            f.castors().breakaway > 0.0,
            false,
            y.castor_rate(),
        ) && fits(
            m.rolling,
            self.params.rolling_resistance > 0.0,
            false,
            y.v[SHELL],
        ) && fits(m.grip, true, false, slip))
    }

    pub(super) fn rechoose(&mut self, motor: &impl Motor) {
        let trig = self.trig_now();
        let torque = motor.torque(self.state.drive_rate(), self.into_step);
        let push = self.push_now();
        let (modes, s) = self
            .frame
            .choose(&self.state, &trig, torque, &push, self.modes.servo);
        self.modes = modes;
        self.plan = self.frame.plan(&modes);
        self.keep_trig(trig);
        self.solution = s;
        self.settled = true;
    }

    pub(super) fn refresh(&mut self) {
        self.frame = Frame::new(&self.params, &self.inputs, self.fallen.is_none());
        self.settled = false;
    }

    /// A lock closed: the joints it holds stop at once, momentum is kept otherwise.
    pub(super) fn catch(&mut self) {
        let mut modes = self.modes;
        if self.inputs.drive_locked {
            modes.drive = Contact::Stuck;
        } else if modes.drive.is_stuck() {
            modes.drive = Contact::Free;
        }
        modes.bearing = if self.inputs.head_locked && self.fallen.is_none() {
            Contact::Stuck
        } else {
            Contact::Free
        };
        modes.castors = Contact::Free;
        modes.rolling = Contact::Free;
        let trig = Trig::of(&self.state);
        self.state.v = self.frame.project_speeds(&self.state, &trig, &modes);
        self.settled = false;
    }
}
