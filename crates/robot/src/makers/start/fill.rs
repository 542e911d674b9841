//! What the ten numbers do not tell, filled in by rules.

use super::TenNumbers;
use super::outlines;
use crate::catalogue::{Kind, knob};
use crate::makers::gains::{carriage_gains, rocking_time, travel_gains};
use crate::makers::inertia::{solid_box, thin_shell};
use crate::model::{Chemistry, GRAVITY, Mark, Robot};
use kickstill_number::Within;

/// A floor: rolling resistance and grip.
pub(super) struct Floor {
    rolling: f64,
    grip: f64,
}

/// Floors in the order of their words. Rolling resistance of hard balls and wheels of this size and
/// grip of rubbery or painted shells: common practice, no published source.
pub(super) const FLOORS: [Floor; 5] = [
    Floor {
        rolling: 0.004,
        grip: 0.8,
    },
    Floor {
        rolling: 0.005,
        grip: 0.7,
    },
    Floor {
        rolling: 0.008,
        grip: 0.8,
    },
    Floor {
        rolling: 0.012,
        grip: 0.8,
    },
    Floor {
        rolling: 0.03,
        grip: 0.6,
    },
];

/// Mechanical time constant of small brushed motors without load [s], from which the rotor's
/// inertia follows, J = τ·k²/R. Sheets tell 4 to 20 ms; common practice, no published source.
const MOTOR_TIME: f64 = 0.006;
/// Winding to lever of a rim drive: rim radius in shell radii, and rim over roller radius.
const RIM: f64 = 0.955;
const RIM_OVER_ROLLER: f64 = 5.0;
/// Head's share in the balance times servo lag over rocking time up to which levelling the head in
/// full does not pump the rocking up; found by trying 150 made-up robots.
const PUMPING: f64 = 0.006;
/// Joint torque at the drivers' current limit, in greatest weight moments of the carriage.
const HURL: f64 = 4.0;
/// Energy that builders give the battery for each kilogram of robot [W·h/kg].
const ENERGY: f64 = 12.0;
/// Wires, connectors, fuse and protection in series with the cells [Ω].
const PATH: f64 = 0.02;

/// Resistance × capacity of one cell [Ω·A·h], the middle of what is usual.
fn resistance_capacity(chemistry: Chemistry) -> f64 {
    match chemistry {
        Chemistry::LithiumIronPhosphate | Chemistry::NickelMetalHydride => 0.035,
        Chemistry::LithiumIon => 0.07,
        Chemistry::LeadGlassMat => 0.026,
    }
}

/// A robot being filled in.
#[derive(Default)]
pub(super) struct Filler {
    pub(super) robot: Robot,
}

impl Filler {
    /// A value that was given: taken as it is.
    fn given(&mut self, key: &str, value: f64, mark: Mark) {
        if let Some(k) = knob(key) {
            (k.put)(&mut self.robot, value);
            self.robot.set_mark(key, Some(mark));
        }
    }

    /// Guesses: held to their ranges, to three digits, because more would look like knowledge.
    fn guess(&mut self, values: &[(&str, f64)]) {
        for (key, value) in values {
            if let Some(k) = knob(key) {
                let kept = if k.kind == Kind::Number {
                    three_digits(*value)
                } else {
                    value.round()
                };
                let kept = if kept.is_nan() { k.min } else { kept };
                (k.put)(&mut self.robot, kept.max(k.min).min(k.max));
                self.robot.set_mark(key, Some(Mark::Guessed));
            }
        }
    }

    pub(super) fn bodies(&mut self, n: &TenNumbers) {
        let radius = 0.5 * n.shell_diameter;
        for (key, value, from) in [
            ("shell.outer_radius", radius, "shell_diameter"),
            ("shell.mass", n.shell_mass, "shell_mass"),
            ("carriage.mass", n.carriage_mass, "carriage_mass"),
            ("carriage.below_centre", n.carriage_below, "carriage_below"),
            ("head.mass", n.head_mass, "head_mass"),
            ("head.above_centre", n.head_above, "head_above"),
        ] {
            self.given(key, value, n.worst(&[from]));
        }
        let half = outlines::HEAD_HALF_WIDTH * radius;
        let tall = outlines::head_top(radius, n.head_above) - 0.9 * radius;
        // A carriage as a box, 1.3 R wide and 0.7 R tall; a head as a box of its size.
        let carriage = solid_box(n.carriage_mass, 1.3 * radius, 0.7 * radius);
        let head = solid_box(n.head_mass, 2.0 * half, tall);
        self.guess(&[
            // The wall's middle lies a little inside.
            ("shell.inertia", thin_shell(n.shell_mass, 0.98 * radius)),
            ("carriage.inertia_side", carriage),
            ("carriage.inertia_front", carriage),
            ("carriage.lean_travel", 25_f64.to_radians()),
            ("head.inertia_side", head),
            ("head.inertia_front", head),
            ("head.half_width", half),
            ("head.widest_above_centre", outlines::HEAD_WIDEST * radius),
        ]);
    }

    pub(super) fn head_joint(&mut self, n: &TenNumbers) {
        let r = &self.robot;
        let radius = r.shell.outer_radius;
        // Moment of a level head, and what the head's share in the balance adds to it.
        let held = GRAVITY * r.head.mass * r.head.above_centre;
        let free = held / (1.0 - r.head_share());
        let inertia = r.head.mass * r.head.above_centre * r.head.above_centre + r.head.inertia_side;
        let stiffness = (20.0 * held).max(4.0 * free);
        let weight = GRAVITY * r.head.mass;
        let stall = n.servo_torque;
        self.given("head_joint.torque_limit", stall, n.worst(&["servo_torque"]));
        self.guess(&[
            ("head_joint.stiffness", stiffness),
            // Damping ratio one half.
            ("head_joint.damping", (stiffness * inertia).sqrt()),
            ("head_joint.servo_lag", 0.04),
            (
                "head_joint.servo_rate",
                (300.0 * (0.24 / radius).min(1.0)).to_radians(),
            ),
            ("head_joint.travel", 40_f64.to_radians()),
            ("head_joint.rotor_inertia", 0.02 * inertia),
            ("head_joint.dry", 0.06 * held),
            ("head_joint.breakaway", 0.08 * held),
            ("head_joint.viscous", 0.01 * held),
            ("head_joint.off_dry", 0.5 * stall),
            ("head_joint.off_breakaway", 0.57 * stall),
            ("head_joint.holding_power", 2.0),
            ("castors.dry", 0.02 * held),
            ("castors.breakaway", 0.026 * held),
            ("castors.viscous", 0.004 * held),
            // Strong enough for the servo, too: what it cannot turn it would tip off.
            (
                "hold.force",
                (7.0 * weight).max(1.3 * stall / (0.3 * radius)),
            ),
            ("hold.shear", 0.8),
            ("hold.base_radius", 0.3 * radius),
        ]);
    }

    pub(super) fn drives(&mut self, n: &TenNumbers) {
        let radius = 0.5 * n.shell_diameter;
        let hang = GRAVITY * n.carriage_mass * n.carriage_below;
        let battery = n.cells * chemistry(n).nominal_voltage();
        // The sheet's line from no load to standstill: k = V/ω₀ (the small no-load current left
        // out), R = V·k/T_s.
        let constant = n.motor_voltage / n.motor_speed;
        let resistance = n.motor_voltage * constant / n.motor_torque;
        let rotor = MOTOR_TIME * constant * constant / resistance;
        let most = battery / resistance;
        let rim = n.drive > 0.5;
        let lever = if rim { RIM_OVER_ROLLER } else { 1.0 };
        for (drive, motors) in [("travel_drive", n.motor_count), ("lean_drive", 1.0)] {
            let travel = drive == "travel_drive";
            let key = |name: &str| format!("{drive}.{name}");
            let mut put = |name: &str, value: f64, rows: &[&str]| {
                // The lean drive is taken to be of the same kind: a guess, whatever the rows say.
                let mark = if travel { n.worst(rows) } else { Mark::Guessed };
                self.given(&key(name), value, mark);
            };
            put("kind", n.drive, &["drive"]);
            put("gear_ratio", n.gear_ratio, &["gear_ratio"]);
            put("motor_count", motors, &["motor_count"]);
            let motor = ["motor_voltage", "motor_speed", "motor_torque"];
            put("motor_constant", constant, &motor);
            put("motor_resistance", resistance, &motor);
            // What the drive can give at the joint bounds its gears' friction as the load does.
            let stall = motors * n.gear_ratio * lever * constant * most;
            let dry = (if rim { 0.1 } else { 0.05 } * hang).min(0.04 * stall);
            let slip = 4.0 * hang;
            // Three quarters of what the battery could drive through a resting motor, drivers for
            // more than 70 A being rare; and no more than hurls the carriage about: beyond a few
            // times its greatest weight moment the shell only loses its grip on the floor.
            let hurl = HURL * hang / (motors * n.gear_ratio * lever * constant);
            let limit = (0.75 * most).min(70.0).min(hurl);
            self.guess(&[
                (&key("rim_radius"), RIM * radius),
                (&key("roller_radius"), RIM * radius / RIM_OVER_ROLLER),
                (&key("roller_preload"), slip / (0.8 * RIM * radius)),
                (&key("roller_friction"), 0.8),
                (&key("rotor_inertia"), rotor),
                (&key("current_limit"), limit),
                (&key("efficiency"), if travel { 0.75 } else { 0.7 }),
                (&key("backdrive_floor"), 0.25),
                (&key("dry"), dry),
                (&key("breakaway"), 1.45 * dry),
                (&key("viscous"), 0.003 * hang),
                (&key("off_mode"), 0.0),
                // A larger motor sheds more heat and warms more slowly.
                (
                    &key("thermal_resistance"),
                    140.0 / (most * battery).max(1e-6).sqrt(),
                ),
                (&key("thermal_time"), 60.0),
                (&key("winding_limit"), 120.0),
            ]);
        }
    }

    pub(super) fn battery(&mut self, n: &TenNumbers) {
        let chemistry = chemistry(n);
        let voltage = n.cells * chemistry.nominal_voltage();
        let charge = ENERGY * self.robot.total_mass() / voltage;
        let cells = n.worst(&["chemistry", "cells"]);
        // A count of cells is a count; that each has its usual voltage is a table's word.
        self.given("battery.open_voltage", voltage, cells.max(Mark::Sheet));
        self.given("pack.chemistry", n.chemistry, n.worst(&["chemistry"]));
        self.given("pack.series", n.cells, n.worst(&["cells"]));
        self.guess(&[
            (
                "battery.resistance",
                n.cells * resistance_capacity(chemistry) / charge + PATH,
            ),
            (
                "battery.electronics_power",
                1.5 * self.robot.total_mass().sqrt(),
            ),
            ("battery.brown_out_voltage", 0.67 * voltage),
            ("pack.parallel", 1.0),
            ("pack.cell_charge", 3600.0 * charge),
        ]);
    }

    /// Fuse, wires and regulators: the fuse for a sixth of what all drivers together let through,
    /// the thinnest usual wire that bears it for hours.
    pub(super) fn supply(&mut self) {
        const FUSES: [(f64, f64); 8] = [
            (5.0, 0.75e-6),
            (7.5, 0.75e-6),
            (10.0, 0.75e-6),
            (15.0, 1e-6),
            (20.0, 1.5e-6),
            (25.0, 2.5e-6),
            (30.0, 2.5e-6),
            (40.0, 4e-6),
        ];
        let r = &self.robot;
        let all = [&r.travel_drive, &r.lean_drive]
            .iter()
            .map(|d| d.motor_count * d.current_limit)
            .sum::<f64>();
        let (rating, area) = FUSES
            .into_iter()
            .find(|(rating, _)| *rating >= all / 6.0)
            .unwrap_or((40.0, 4e-6));
        let open = r.battery.open_voltage;
        let output = if open > 15.0 { 12.0 } else { 5.0 };
        let values = [
            ("fuse.size", 0.0),
            ("fuse.rating", rating),
            ("fuse.surroundings", 25.0),
            ("wiring.area", area),
            ("wiring.length", 1.5 * r.shell.outer_radius),
            ("wiring.holder", 0.0),
            ("wiring.connectors", 0.0),
            ("wiring.switch", 0.0),
            ("wiring.battery", 0.0),
            ("regulator.count", 1.0),
            ("regulator.output_voltage", output),
            ("regulator.rated_current", 5.0),
            ("regulator.efficiency", 0.9),
            ("regulator.imbalance", 0.0),
            ("regulator.minimum_input", output + 1.0),
            ("regulator.idle_power", 0.1),
            ("regulator.load", r.battery.electronics_power),
        ];
        self.guess(&values);
    }

    pub(super) fn controller(&mut self, n: &TenNumbers) {
        let radius = self.robot.shell.outer_radius;
        let deg = 1_f64.to_radians();
        // Small robots rock faster and are given a faster loop.
        let rate = if radius < 0.15 { 200.0 } else { 100.0 };
        let floor = FLOORS.get(n.floor as usize).unwrap_or(&FLOORS[0]);
        let hang = GRAVITY * self.robot.carriage.mass * self.robot.carriage.below_centre;
        self.guess(&[
            ("sensing.ideal", 0.0),
            ("sensing.joint_counts", 16384.0),
            ("sensing.gyro_bias", 0.05 * deg),
            ("sensing.gyro_noise", 0.05 * deg),
            ("sensing.accelerometer_noise", 0.05),
            ("sensing.angle_time", 2.0),
            (
                "sensing.mount_below_centre",
                0.5 * self.robot.carriage.below_centre,
            ),
            ("sensing.drop_out", 0.0),
            ("timing.loop_rate", rate),
            ("timing.delay_ticks", 1.0),
            ("floor.rolling_resistance", floor.rolling),
            ("floor.rolling_viscous", 0.0014 * hang),
            ("floor.grip", floor.grip),
            ("floor.slope", 0.0),
            ("firmware.full_scale", 255.0),
            ("firmware.sensor_counts", 360.0),
            ("firmware.reversed", 0.0),
        ]);
        let r = &self.robot;
        // The rocking time as it would be if the head's weight did not soften it.
        let calm = rocking_time(r).unwrap_or(2.0) * (1.0 - r.head_share()).max(0.0).sqrt();
        // The swing that a start asks for stays near 11°.
        let acceleration = (0.2 / r.swing_per_acceleration().abs().max(0.05)).min(1.2);
        let d = &r.travel_drive;
        let fastest = r.battery.open_voltage / (d.motor_constant * d.ratio()) * radius;
        let speed = (5.0 * radius).min(1.0).min(0.6 * fastest);
        // A heavy head that a slow servo levels is always late, and pumps the rocking up: level it
        // by no more than the robot bears.
        let late = r.head_share() * r.head_joint.servo_lag / calm;
        let level = (PUMPING / late.max(1e-6)).within(0.5, 1.0);
        let carriage = carriage_gains(r);
        self.guess(&[("travel.smoothing", 0.01 * calm)]);
        let travel = travel_gains(&self.robot);
        let quick = if radius < 0.15 { 20.0 } else { 10.0 };
        self.guess(&[
            ("lean.correction", 0.3),
            ("lean.memory", 0.0),
            ("lean.memory_limit", 5.0 * deg),
            ("lean.damping", 0.145 * calm),
            ("lean.smoothing", 0.01 * calm),
            ("lean.dead_band", deg),
            ("lean.dead_band_shape", 0.0),
            ("lean.gated_damping", 0.0),
            ("lean.rate_source", 0.0),
            ("lean.slew", 3.0 / calm),
            ("lean.lever_lean", 8.0 * deg),
            ("carriage_loop.correction", carriage.correction),
            ("carriage_loop.damping", carriage.damping),
            ("carriage_loop.duty_limit", 1.0),
            ("travel.correction", travel.map_or(0.0, |g| g.correction)),
            ("travel.damping", travel.map_or(0.0, |g| g.damping)),
            ("travel.speed", travel.map_or(0.0, |g| g.speed)),
            ("travel.memory", travel.map_or(0.0, |g| g.memory)),
            ("travel.memory_limit", 0.4),
            ("travel.feed_forward", 1.0),
            ("travel.dead_band", deg),
            ("travel.dead_band_shape", 0.0),
            ("travel.gated_damping", 0.0),
            ("travel.rate_source", 0.0),
            ("travel.slew", quick),
            ("travel.duty_limit", 1.0),
            ("travel.acceleration", acceleration),
            ("travel.deceleration", acceleration),
            ("travel.lever_speed", speed),
            ("levelling.compensation", level),
            ("levelling.lead", 1.0),
            ("levelling.lead_time", 0.08),
            ("levelling.levels_when_locked", 0.0),
            ("guard.swing", 60.0 * deg),
        ]);
    }
}

fn chemistry(n: &TenNumbers) -> Chemistry {
    Chemistry::ALL
        .get(n.chemistry as usize)
        .copied()
        .unwrap_or_default()
}

/// To three significant digits.
fn three_digits(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    // Through text, so that the file shows no rounding noise.
    format!("{value:.2e}").parse().unwrap_or(value)
}
