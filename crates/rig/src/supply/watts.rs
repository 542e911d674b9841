//! Where the watts go, from the cells to the motion.

use kickstill_physics::PlaneParams;
use kickstill_robot::{Robot, View};

use super::drive_of;
use crate::sample::{Sample, flag};

/// Power of one moment, or means over a run, split by where it goes [W].
///
/// source = battery_loss + electronics + head_servo + copper + gears + friction + rotors + rollers +
/// rolling + motion. While the motors feed back, parts are negative.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Watts {
    /// Given by the cells, V_oc·I.
    pub source: f64,
    /// Heat in battery, fuse and wires, R_b·I².
    pub battery_loss: f64,
    /// Electronics' constant load.
    pub electronics: f64,
    /// The head servo's supply, all counted as heat: its work on the head is another model's.
    pub head_servo: f64,
    /// Heat in the windings, N·R_m·i².
    pub copper: f64,
    /// Lost in the gears' teeth in proportion to the load, (1/κ − 1)·T_o·ρ̇.
    pub gears: f64,
    /// Lost in the drive's load-free friction, (T_0·|ρ̇| + b·ρ̇²).
    pub friction: f64,
    /// Into the rotors' own turning, J_d·ρ̈·ρ̇; comes back when they slow down.
    pub rotors: f64,
    /// Lost where rim rollers slip, gears included.
    pub rollers: f64,
    /// Rolling resistance of the floor.
    pub rolling: f64,
    /// Into the motion of shell, carriage and head: what the drive joint gives less the rolling
    /// resistance. On the way it is lost in castors and bearing, or comes back.
    pub motion: f64,
    /// Mechanical power of the motors before the gears: gears, friction, rotors, rollers, rolling and
    /// motion together.
    pub mechanical: f64,
}

impl Watts {
    /// The parts by key and label, in the order of the flow; their sum is `source`.
    #[must_use]
    pub fn parts(&self) -> [(&'static str, &'static str, f64); 10] {
        [
            ("battery_loss", "battery and wires, heat", self.battery_loss),
            ("electronics", "electronics", self.electronics),
            ("head_servo", "head servo", self.head_servo),
            ("copper", "windings, heat", self.copper),
            ("gears", "gears under load, heat", self.gears),
            ("friction", "drive friction, heat", self.friction),
            ("rotors", "into the rotors", self.rotors),
            ("rollers", "slipping rollers, heat", self.rollers),
            ("rolling", "rolling resistance", self.rolling),
            ("motion", "into motion", self.motion),
        ]
    }

    /// What is left over when the parts are taken from the source [W]: nothing but rounding, unless
    /// the battery collapsed.
    #[must_use]
    pub fn imbalance(&self) -> f64 {
        self.source - self.parts().iter().map(|p| p.2).sum::<f64>()
    }

    /// Of one sample.
    ///
    /// Battery and windings by Ohm's law; the motors by T_m = N·n·k·i; the gears by their law
    /// T_o = κ(T_m − b·ρ̇ − T_0·sgn ρ̇ − J_d·ρ̈), solved for the rotors' share; the head servo is what
    /// the bus gives beyond electronics and motors.
    #[must_use]
    pub fn of(robot: &Robot, view: View, s: &Sample) -> Self {
        Self::with(robot, &PlaneParams::new(robot, view), view, s)
    }

    fn with(robot: &Robot, p: &PlaneParams, view: View, s: &Sample) -> Self {
        let drive = drive_of(robot, view);
        let (i, supply) = (s.motor_current, s.supply_current);
        let rate = s.roll_rate + s.swing_rate;
        let count = drive.motor_count;
        let motor_torque = count * drive.ratio() * drive.motor_constant * i;
        let mechanical = motor_torque * rate;
        let copper = count * drive.motor_resistance * i * i;
        // What the motors take from the bus is copper and mechanical power together; with shorted
        // windings the two cancel, and nothing comes from the bus.
        let bus = s.bus_voltage * supply;
        let electronics = robot.battery.electronics_power;
        let joint = s.drive_torque * rate;
        let mut out = Self {
            source: robot.battery.open_voltage * supply,
            battery_loss: robot.battery.resistance * supply * supply,
            electronics,
            head_servo: bus - electronics - copper - mechanical,
            copper,
            mechanical,
            ..Self::default()
        };
        let floor = p.rolling_resistance * s.floor_force * p.radius * s.roll_rate.abs()
            + p.rolling_viscous * s.roll_rate * s.roll_rate;
        out.rolling = floor;
        out.motion = joint - floor;
        let through = mechanical - joint;
        if s.flags & flag::ROLLERS != 0 {
            out.rollers = through;
        } else if rate != 0.0 {
            let g = &p.gears;
            let loaded = s.drive_torque * rate >= 0.0;
            out.gears = (1.0 / g.kappa(loaded) - 1.0) * joint;
            out.friction = g.friction.dry * rate.abs() + g.friction.viscous * rate * rate;
            out.rotors = through - out.gears - out.friction;
        }
        out
    }

    /// Means over the samples; zero without any.
    ///
    /// A sample shows the instant after a new duty was put out, which the joint then follows within
    /// the tick: means are of these instants.
    #[must_use]
    pub fn mean(robot: &Robot, view: View, samples: &[Sample]) -> Self {
        let p = PlaneParams::new(robot, view);
        let mut sum = Self::default();
        for s in samples {
            let w = Self::with(robot, &p, view, s);
            for (to, from) in sum.all_mut().into_iter().zip(w.all()) {
                *to += from;
            }
        }
        let n = samples.len().max(1) as f64;
        for to in sum.all_mut() {
            *to /= n;
        }
        sum
    }

    fn all(&self) -> [f64; 12] {
        [
            self.source,
            self.battery_loss,
            self.electronics,
            self.head_servo,
            self.copper,
            self.gears,
            self.friction,
            self.rotors,
            self.rollers,
            self.rolling,
            self.motion,
            self.mechanical,
        ]
    }

    fn all_mut(&mut self) -> [&mut f64; 12] {
        [
            &mut self.source,
            &mut self.battery_loss,
            &mut self.electronics,
            &mut self.head_servo,
            &mut self.copper,
            &mut self.gears,
            &mut self.friction,
            &mut self.rotors,
            &mut self.rollers,
            &mut self.rolling,
            &mut self.motion,
            &mut self.mechanical,
        ]
    }
}
