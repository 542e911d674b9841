//! The chain battery → driver → motors at one instant.

use kickstill_number::Within;
use kickstill_robot::{Battery, Drive};

/// What the driver does with the motors' terminals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Terminals {
    /// Driven at the commanded duty, within the current limit.
    Driven,
    /// Open: no current, unless the back-EMF exceeds the supply and the driver's diodes conduct.
    #[default]
    Coast,
    /// Winding shorted: the motor brakes, the supply sees nothing.
    Brake,
}

/// Electrical state of the chain at one instant.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Electrical {
    /// Torque of all motors seen at the drive joint, before gear losses, N·n·k·i [N·m].
    pub joint_torque: f64,
    /// Current of one motor i [A].
    pub motor_current: f64,
    /// Supply voltage at the driver V [V].
    pub bus_voltage: f64,
    /// Current from the battery, all loads together [A]; negative while the motors feed back.
    pub supply_current: f64,
    /// Whether the driver lowers the duty to hold its current limit.
    pub limited: bool,
    /// Whether the battery cannot carry the load, or the supply is below the voltage at which
    /// the electronics restart. The other fields are then finite but only indicative.
    pub brown_out: bool,
}

/// Battery, driver and the N equal motors of one drive, ready to be solved.
///
/// With e = k·n·ρ̇ the back-EMF, d the duty and P the power of all other loads:
///
/// - unlimited: i = (d·V − e)/R_m, V = V_oc − R_b·(N·d·i + P/V), that is
///   (1 + R_b·N·d²/R_m)·V² − (V_oc + R_b·N·d·e/R_m)·V + R_b·P = 0;
/// - limited: i = ±limit; the motors take the power N·(i·R_m + e)·i whatever the voltage:
///   V² − V_oc·V + R_b·(N·(i·R_m + e)·i + P) = 0.
///
/// Of two solutions the one with the greater V holds: it is the one a robot reaches that is
/// switched on and loaded from nothing. No real solution is a brown-out. Source: Ohm's and
/// Kirchhoff's laws with the direct-current motor's i·R_m + k·ω = v (motor textbooks).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chain {
    /// Back-EMF for each joint speed, k·n [V·s/rad].
    back_emf: f64,
    /// Joint torque for each ampere of one motor, N·n·k [N·m/A].
    torque: f64,
    /// R_m [Ω].
    resistance: f64,
    /// 1/R_m [1/Ω].
    conductance: f64,
    /// N.
    count: f64,
    /// Current limit of one motor [A].
    limit: f64,
    /// V_oc [V].
    open_voltage: f64,
    /// R_b [Ω].
    source_resistance: f64,
    /// R_b·N/R_m.
    source_share: f64,
    /// Brown-out voltage [V].
    brown_out_voltage: f64,
}

/// Joint speed beyond which the input is cut [rad/s]: far above any drive, low enough that
/// squares of the back-EMF stay finite.
const SPEED_CUT: f64 = 1e9;

/// Other loads beyond which the input is cut [W].
const LOAD_CUT: f64 = 1e12;

/// Supply voltage below which a collapsed battery is not followed, as a share of V_oc: keeps
/// P/V finite during a brown-out.
const COLLAPSE: f64 = 1e-3;

impl Chain {
    /// Chain of this drive on this battery.
    #[must_use]
    pub fn new(drive: &Drive, battery: &Battery) -> Self {
        let ratio = drive.ratio();
        let back_emf = drive.motor_constant * ratio;
        Self {
            back_emf,
            torque: drive.motor_count * back_emf,
            resistance: drive.motor_resistance,
            conductance: 1.0 / drive.motor_resistance,
            count: drive.motor_count,
            limit: drive.current_limit,
            open_voltage: battery.open_voltage,
            source_resistance: battery.resistance,
            source_share: battery.resistance * drive.motor_count / drive.motor_resistance,
            brown_out_voltage: battery.brown_out_voltage,
        }
    }

    /// Solves the chain at `duty` (−1 … 1, cut to that) and joint speed ρ̇ `joint_rate` [rad/s],
    /// with `extra_power` [W] taken from the same supply by everything else.
    ///
    /// Always finite; a value that is not a number counts as none.
    #[inline]
    #[must_use]
    pub fn solve(
        &self,
        duty: f64,
        joint_rate: f64,
        terminals: Terminals,
        extra_power: f64,
    ) -> Electrical {
        self.hold(duty, terminals).solve(joint_rate, extra_power)
    }

    /// The chain while the driver holds `duty` (−1 … 1, cut to that), as it does from tick to
    /// tick: what depends on the duty alone is worked out once.
    #[inline]
    #[must_use]
    pub fn hold(&self, duty: f64, terminals: Terminals) -> Held {
        let duty = within(duty, 1.0);
        Held {
            chain: *self,
            duty,
            terminals,
            curve: self.curve(duty),
        }
    }

    #[inline]
    fn curve(&self, duty: f64) -> Curve {
        let share = self.source_share * duty;
        let square = 1.0 + share * duty;
        Curve {
            share,
            fourfold: 4.0 * square,
            inverse: 0.5 / square,
        }
    }

    #[inline]
    fn driven(&self, duty: f64, curve: &Curve, emf: f64, sag: f64) -> Raw {
        let free = self.on_curve(duty, curve, emf, sag);
        // Below half the open voltage a second, limited solution with a higher supply voltage may
        // exist although this one keeps the limit; only then is it worth the look.
        if free.current.abs() <= self.limit && free.voltage >= 0.5 * self.open_voltage {
            return free;
        }
        self.held_back(duty, emf, sag, free)
    }

    /// The driver's current limit at work, or a supply close to collapse.
    ///
    /// As a function of V the load is continuous and piecewise: from high V to low, current held
    /// on the duty's side, free, held on the other side; a held current gives way to the full
    /// bridge where the back-EMF exceeds what the bridge can oppose. So the first piece whose
    /// upper root lies in its own range holds the greatest solution.
    fn held_back(&self, duty: f64, emf: f64, sag: f64, free: Raw) -> Raw {
        let side = if duty < 0.0 { -1.0 } else { 1.0 };
        let strength = side * duty;

        // Terminal voltage at the limit, counted towards the duty's side.
        let ahead = side * emf + self.limit * self.resistance;
        let held = self.at_current(side, ahead, sag);
        if held.real
            && strength * held.voltage >= ahead - held.slack(ahead)
            && -ahead <= held.voltage
        {
            return held;
        }
        let full = self.full_bridge(-side, emf, sag);
        if full.real && full.voltage <= -ahead + full.slack(ahead) {
            return full;
        }
        if free.real && free.current.abs() <= self.limit {
            return free;
        }
        let behind = side * emf - self.limit * self.resistance;
        let held = self.at_current(-side, -behind, sag);
        if held.real
            && strength * held.voltage <= behind + held.slack(behind)
            && behind <= held.voltage
        {
            return held;
        }
        let full = self.full_bridge(side, emf, sag);
        if full.real && full.voltage <= behind + full.slack(behind) {
            return full;
        }
        Raw {
            real: false,
            current: free.current.within(-self.limit, self.limit),
            ..free
        }
    }

    /// Current held at the limit on `side`, with `terminal` volts at the motor counted towards it.
    fn at_current(&self, side: f64, terminal: f64, sag: f64) -> Raw {
        let load = self.source_resistance * self.count * terminal * self.limit + sag;
        let (voltage, real) = Curve::FLAT.upper_root(self.open_voltage, load);
        Raw {
            voltage,
            current: side * self.limit,
            duty: side * terminal / voltage.max(COLLAPSE * self.open_voltage),
            limited: true,
            real,
        }
    }

    /// The bridge fully on one side, the current beyond the limit for all that.
    fn full_bridge(&self, side: f64, emf: f64, sag: f64) -> Raw {
        Raw {
            limited: true,
            ..self.at_duty(side, emf, sag)
        }
    }

    #[inline]
    fn coasting(&self, emf: f64, sag: f64) -> Raw {
        let open = self.unloaded(sag);
        if emf.abs() <= open.voltage {
            return open;
        }
        // The diodes rectify the back-EMF into the supply.
        self.at_duty(if emf < 0.0 { -1.0 } else { 1.0 }, emf, sag)
    }

    #[inline]
    fn braking(&self, emf: f64, sag: f64) -> Raw {
        Raw {
            current: -emf * self.conductance,
            ..self.unloaded(sag)
        }
    }

    #[inline]
    fn unloaded(&self, sag: f64) -> Raw {
        let (voltage, real) = Curve::FLAT.upper_root(self.open_voltage, sag);
        Raw {
            voltage,
            current: 0.0,
            duty: 0.0,
            limited: false,
            real,
        }
    }

    /// The linear motor at this duty.
    fn at_duty(&self, duty: f64, emf: f64, sag: f64) -> Raw {
        self.on_curve(duty, &self.curve(duty), emf, sag)
    }

    #[inline]
    fn on_curve(&self, duty: f64, curve: &Curve, emf: f64, sag: f64) -> Raw {
        let (voltage, real) = curve.upper_root(self.open_voltage + curve.share * emf, sag);
        Raw {
            voltage,
            current: (duty * voltage - emf) * self.conductance,
            duty,
            limited: false,
            real,
        }
    }

    pub(crate) fn count(&self) -> f64 {
        self.count
    }

    pub(crate) fn resistance(&self) -> f64 {
        self.resistance
    }

    pub(crate) fn open_voltage(&self) -> f64 {
        self.open_voltage
    }

    pub(crate) fn source_resistance(&self) -> f64 {
        self.source_resistance
    }
}

/// A chain whose driver holds one duty; see [`Chain::hold`].
#[derive(Clone, Copy, Debug)]
pub struct Held {
    chain: Chain,
    duty: f64,
    terminals: Terminals,
    curve: Curve,
}

impl Held {
    /// Solves the chain at joint speed ρ̇ `joint_rate` [rad/s], with `extra_power` [W] taken from
    /// the same supply by everything else; equal to [`Chain::solve`] bit for bit.
    #[inline]
    #[must_use]
    pub fn solve(&self, joint_rate: f64, extra_power: f64) -> Electrical {
        let chain = &self.chain;
        let emf = chain.back_emf * within(joint_rate, SPEED_CUT);
        let power = within(extra_power, LOAD_CUT);
        let sag = chain.source_resistance * power;
        match self.terminals {
            Terminals::Driven => chain.driven(self.duty, &self.curve, emf, sag),
            Terminals::Coast => chain.coasting(emf, sag),
            Terminals::Brake => chain.braking(emf, sag),
        }
        .finished(chain, power)
    }

    /// Torque at the drive joint only, [`Electrical::joint_torque`] of [`Held::solve`] bit for
    /// bit; what an integrator asks for millions of times. `extra_power` must be finite.
    #[inline]
    #[must_use]
    pub fn torque(&self, joint_rate: f64, extra_power: f64) -> f64 {
        let chain = &self.chain;
        if self.terminals == Terminals::Driven && joint_rate.abs() <= SPEED_CUT {
            let emf = chain.back_emf * joint_rate;
            let sag = chain.source_resistance * extra_power;
            let free = chain.on_curve(self.duty, &self.curve, emf, sag);
            if free.current.abs() <= chain.limit && free.voltage >= 0.5 * chain.open_voltage {
                return chain.torque * free.current;
            }
        }
        self.solve(joint_rate, extra_power).joint_torque
    }
}

/// The quadratic a·V² − b·V + c = 0 as far as the duty alone decides it; a = 1 + R_b·N·d²/R_m.
#[derive(Clone, Copy, Debug)]
struct Curve {
    /// R_b·N·d/R_m, by which the back-EMF enters b.
    share: f64,
    /// 4·a.
    fourfold: f64,
    /// 1/(2·a).
    inverse: f64,
}

impl Curve {
    /// No motor, or one whose power does not depend on V: a = 1.
    const FLAT: Self = Self {
        share: 0.0,
        fourfold: 4.0,
        inverse: 0.5,
    };

    /// Greater root, never below zero, and whether it is real; without a real root the vertex
    /// stands in.
    #[inline]
    fn upper_root(&self, b: f64, c: f64) -> (f64, bool) {
        let square = b * b - self.fourfold * c;
        let root = (b + square.max(0.0).sqrt()) * self.inverse;
        (root.max(0.0), square >= 0.0)
    }
}

/// A solution before it is dressed.
#[derive(Clone, Copy)]
struct Raw {
    voltage: f64,
    current: f64,
    duty: f64,
    limited: bool,
    real: bool,
}

impl Raw {
    /// Rounding allowed at the seam between two pieces, so that none is left out [V].
    fn slack(&self, terminal: f64) -> f64 {
        1e-12 * (self.voltage + terminal.abs())
    }

    #[inline]
    fn finished(self, chain: &Chain, power: f64) -> Electrical {
        let floor = COLLAPSE * chain.open_voltage;
        let voltage = self.voltage.max(floor);
        Electrical {
            joint_torque: chain.torque * self.current,
            motor_current: self.current,
            bus_voltage: voltage,
            supply_current: chain.count * self.duty * self.current + power / voltage,
            limited: self.limited,
            brown_out: !self.real || self.voltage < chain.brown_out_voltage,
        }
    }
}

/// `value` cut to ±`bound`; not a number counts as 0.
#[inline]
fn within(value: f64, bound: f64) -> f64 {
    if value.abs() <= bound {
        value
    } else if value.is_nan() {
        0.0
    } else {
        bound.copysign(value)
    }
}
