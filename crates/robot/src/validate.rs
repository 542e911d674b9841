//! Checks across the knobs of a robot: what the simulator cannot take (errors) and what a
//! builder should look at again (warnings).

use crate::catalogue::{catalogue, knob};
use crate::model::{Body, Drive, DriveKind, GRAVITY, Robot};
use crate::problem::{Problem, Severity, plain};
use crate::unit::Unit;
use kickstill_number::shortest;

/// One failed check with the knobs it looks at.
pub(crate) struct Check {
    pub(crate) keys: Vec<&'static str>,
    pub(crate) problem: Problem,
}

/// Everything that is wrong or odd about a robot: knobs out of their range, then the checks
/// across knobs. Errors stand before warnings.
#[must_use]
pub fn validate(robot: &Robot) -> Vec<Problem> {
    let mut problems: Vec<Problem> = catalogue()
        .iter()
        .filter_map(|k| {
            let v = (k.get)(robot);
            k.admits(v)
                .err()
                .map(|refusal| k.problem(robot, refusal, &shortest(v)).kept(""))
        })
        .collect();
    problems.extend(checks(robot).into_iter().map(|c| c.problem));
    // Within a severity the order stays that of the catalogue.
    let (mut sorted, warnings): (Vec<Problem>, Vec<Problem>) = problems
        .into_iter()
        .partition(|p| p.severity == Severity::Error);
    sorted.extend(warnings);
    sorted
}

/// The checks across knobs that fail.
pub(crate) fn checks(robot: &Robot) -> Vec<Check> {
    let mut list = List {
        robot,
        out: Vec::new(),
    };
    list.order();
    list.drives();
    list.power();
    list.cells();
    list.balance();
    list.head_joint();
    list.look();
    list.parts();
    list.out
}

struct List<'a> {
    robot: &'a Robot,
    out: Vec<Check>,
}

impl List<'_> {
    /// Adds `problem` with the value of the first knob, if `failed`.
    fn add(&mut self, failed: bool, keys: &[&'static str], problem: Problem) {
        if !failed {
            return;
        }
        let value = keys
            .first()
            .and_then(|key| knob(key))
            .map(|k| k.format((k.get)(self.robot)))
            .unwrap_or_default();
        self.out.push(Check {
            keys: keys.to_vec(),
            problem: problem.found(value),
        });
    }

    /// Pairs of which the first must not be below the second.
    fn order(&mut self) {
        let pairs: [[&'static str; 2]; 5] = [
            ["head_joint.breakaway", "head_joint.dry"],
            ["head_joint.off_breakaway", "head_joint.off_dry"],
            ["castors.breakaway", "castors.dry"],
            ["travel_drive.breakaway", "travel_drive.dry"],
            ["lean_drive.breakaway", "lean_drive.dry"],
        ];
        for [high, low] in pairs {
            let (Some(h), Some(l)) = (knob(high), knob(low)) else {
                continue;
            };
            let least = (l.get)(self.robot);
            self.add(
                (h.get)(self.robot) < least,
                &[high, low],
                Problem::error(high, format!("at least {low}, {}", l.format(least))).hint(
                    "what starts a resting joint cannot be less than what holds a moving one",
                ),
            );
        }
        let open = self.robot.battery.open_voltage;
        self.add(
            self.robot.battery.brown_out_voltage >= open,
            &["battery.brown_out_voltage", "battery.open_voltage"],
            Problem::error(
                "battery.brown_out_voltage",
                format!("below the battery's {}", Unit::Volt.format(open)),
            )
            .hint("the electronics would restart at once"),
        );
        let outer = self.robot.shell.outer_radius;
        self.add(
            self.robot.carriage.below_centre >= outer,
            &["carriage.below_centre", "shell.outer_radius"],
            Problem::error(
                "carriage.below_centre",
                format!(
                    "less than the shell's radius, {}",
                    Unit::Metre.format(outer)
                ),
            )
            .hint("the carriage hangs inside the shell"),
        );
    }

    fn drives(&mut self) {
        let robot = self.robot;
        let travel = [
            "travel_drive.rim_radius",
            "travel_drive.roller_radius",
            "travel_drive.roller_preload",
        ];
        let lean = [
            "lean_drive.rim_radius",
            "lean_drive.roller_radius",
            "lean_drive.roller_preload",
        ];
        self.drive(&robot.travel_drive, travel);
        self.drive(&robot.lean_drive, lean);
    }

    fn drive(&mut self, drive: &Drive, [rim, roller, preload]: [&'static str; 3]) {
        if drive.kind != DriveKind::Rim {
            return;
        }
        let outer = self.robot.shell.outer_radius;
        self.add(
            drive.rim_radius >= outer,
            &[rim, "shell.outer_radius"],
            Problem::error(
                rim,
                format!(
                    "less than the shell's radius, {}",
                    Unit::Metre.format(outer)
                ),
            )
            .hint("the rollers run inside the shell"),
        );
        self.add(
            drive.roller_radius >= drive.rim_radius,
            &[roller, rim],
            Problem::error(
                roller,
                format!(
                    "less than the rim's {}",
                    Unit::Metre.format(drive.rim_radius)
                ),
            )
            .hint("the rollers run inside the rim"),
        );
        // Half the carriage's greatest weight moment: what a swing of 30° takes.
        let swing = 0.5 * self.robot.carriage.mass * GRAVITY * self.robot.carriage.below_centre;
        self.add(
            drive.roller_slip_torque() < swing,
            &[preload, rim, "carriage.mass", "carriage.below_centre"],
            Problem::warning(
                preload,
                format!(
                    "enough to hold a swing of 30°, {}",
                    Unit::NewtonMetre.format(swing)
                ),
            )
            .hint(format!(
                "the rollers slip at {}",
                Unit::NewtonMetre.format(drive.roller_slip_torque())
            )),
        );
    }

    /// Whether drives and battery are strong enough for what is asked of them.
    fn power(&mut self) {
        let r = self.robot;
        let b = &r.battery;
        // At the brown-out voltage V the battery gives V·(V_oc − V)/R_b.
        let most = b.brown_out_voltage * (b.open_voltage - b.brown_out_voltage) / b.resistance;
        self.add(
            b.electronics_power >= most && b.open_voltage > b.brown_out_voltage,
            &[
                "battery.electronics_power",
                "battery.resistance",
                "battery.open_voltage",
                "battery.brown_out_voltage",
            ],
            Problem::warning(
                "battery.electronics_power",
                format!("less than {}", Unit::Watt.format(most)),
            )
            .hint("the electronics alone pull the battery down to a brown-out"),
        );
        let travel = [
            "travel_drive.motor_constant",
            "travel_drive.gear_ratio",
            "travel_drive.motor_resistance",
            "travel_drive.current_limit",
        ];
        let lean = [
            "lean_drive.motor_constant",
            "lean_drive.gear_ratio",
            "lean_drive.motor_resistance",
            "lean_drive.current_limit",
        ];
        self.torque(&r.travel_drive, travel);
        self.torque(&r.lean_drive, lean);
        // Without load the motor turns until its own voltage is the battery's.
        let d = &r.travel_drive;
        let fastest = b.open_voltage / (d.motor_constant * d.ratio()) * r.shell.outer_radius;
        self.add(
            r.travel.lever_speed > fastest,
            &[
                "travel.lever_speed",
                "travel_drive.motor_constant",
                "travel_drive.gear_ratio",
                "travel_drive.rim_radius",
                "travel_drive.roller_radius",
                "battery.open_voltage",
                "shell.outer_radius",
            ],
            Problem::warning(
                "travel.lever_speed",
                format!("at most {}", Unit::MetrePerSecond.format(fastest)),
            )
            .hint("the travel motors reach that without any load; the lever asks for more"),
        );
    }

    /// A quarter either way holds every usual cell between empty and full, and no other count of
    /// few cells.
    fn cells(&mut self) {
        let r = self.robot;
        let nominal = r.pack.series * r.pack.chemistry.nominal_voltage();
        let open = r.battery.open_voltage;
        self.add(
            (open - nominal).abs() > 0.25 * nominal,
            &["pack.series", "pack.chemistry", "battery.open_voltage"],
            Problem::warning(
                "pack.series",
                format!("cells that give the battery's {}", Unit::Volt.format(open)),
            )
            .hint(format!(
                "so many give about {}; the motion goes by the battery voltage",
                Unit::Volt.format(nominal)
            )),
        );
    }

    fn torque(&mut self, drive: &Drive, [constant, gear, resistance, limit]: [&'static str; 4]) {
        // Small enough that a drive below it can do next to nothing: a swing of 5°, whose sine
        // is 0.087.
        let r = self.robot;
        let swing = 0.087 * r.carriage.mass * GRAVITY * r.carriage.below_centre;
        let current = drive
            .current_limit
            .min(r.battery.open_voltage / drive.motor_resistance);
        let torque = drive.motor_count * drive.ratio() * drive.motor_constant * current;
        let at_joint = drive.efficiency * (torque - drive.dry);
        self.add(
            at_joint < swing,
            &[
                constant,
                gear,
                resistance,
                limit,
                "battery.open_voltage",
                "carriage.mass",
                "carriage.below_centre",
            ],
            Problem::warning(
                constant,
                format!(
                    "a drive that can swing the carriage by 5°, {}",
                    Unit::NewtonMetre.format(swing)
                ),
            )
            .hint(format!(
                "motors, gears and current limit together give {}",
                Unit::NewtonMetre.format(at_joint.max(0.0))
            )),
        );
    }

    fn balance(&mut self) {
        let r = self.robot;
        let hang = r.carriage.mass * r.carriage.below_centre;
        let head = r.head.mass * r.head.above_centre;
        self.add(
            head >= hang,
            &[
                "head.mass",
                "head.above_centre",
                "carriage.mass",
                "carriage.below_centre",
            ],
            Problem::warning(
                "head.mass",
                format!(
                    "less than {} at that height",
                    Unit::Kilogram.format(hang / r.head.above_centre)
                ),
            )
            .hint("the hanging weight does not outweigh the head: it does not stand"),
        );
        let solid = r.shell.mass * r.shell.outer_radius * r.shell.outer_radius;
        let share = r.shell.inertia / solid;
        self.add(
            !(0.3..=1.0).contains(&share),
            &["shell.inertia", "shell.mass", "shell.outer_radius"],
            Problem::warning(
                "shell.inertia",
                format!(
                    "{} to {} for such a shell",
                    Unit::KilogramSquareMetre.format(0.3 * solid),
                    Unit::KilogramSquareMetre.format(solid)
                ),
            )
            .hint("a thin shell has 2/3 of mass times radius squared"),
        );
        self.add(
            r.lean.lever_lean > r.carriage.lean_travel,
            &["lean.lever_lean", "carriage.lean_travel"],
            Problem::warning(
                "lean.lever_lean",
                format!(
                    "within the lean travel, {}",
                    Unit::Radian.format(r.carriage.lean_travel)
                ),
            )
            .hint("the carriage cannot move far enough to hold such a lean"),
        );
        self.add(
            r.sensing.mount_below_centre.abs() > r.shell.outer_radius,
            &["sensing.mount_below_centre", "shell.outer_radius"],
            Problem::warning("sensing.mount_below_centre", "a place inside the shell"),
        );
    }

    /// The head stays up on its magnets only if they are stiff enough: linearised about upright,
    /// k > m_h g l_h with the carriage held, k > g m_c l_c m_h l_h/(m_c l_c − m_h l_h) with it
    /// free, from the definiteness of the potential energy's second derivative.
    fn head_joint(&mut self) {
        let r = self.robot;
        let hang = r.carriage.mass * r.carriage.below_centre;
        let head = r.head.mass * r.head.above_centre;
        let held = GRAVITY * head;
        let free = GRAVITY * hang * head / (hang - head);
        let k = r.head_joint.stiffness;
        let keys = [
            "head_joint.stiffness",
            "head.mass",
            "head.above_centre",
            "carriage.mass",
            "carriage.below_centre",
        ];
        self.add(
            k <= held,
            &keys,
            Problem::warning(
                keys[0],
                format!("more than {}", Unit::NewtonMetrePerRadian.format(held)),
            )
            .hint("the head tips over even with the carriage held"),
        );
        self.add(
            k > held && hang > head && k <= free,
            &keys,
            Problem::warning(
                keys[0],
                format!("more than {}", Unit::NewtonMetrePerRadian.format(free)),
            )
            .hint("the head tips over while the carriage swings freely"),
        );
        // A head that leans by 5° pulls at its joint with the sine of it, 0.087, of its moment.
        let leaning = 0.087 * held;
        for (key, torque, hint) in [
            (
                "head_joint.torque_limit",
                r.head_joint.torque_limit,
                "the servo cannot hold a head that leans by 5°",
            ),
            (
                "head_joint.off_breakaway",
                r.head_joint.off_breakaway,
                "with the motors off the head sinks from a lean of 5°",
            ),
        ] {
            self.add(
                torque < leaning,
                &[key, "head.mass", "head.above_centre"],
                Problem::warning(
                    key,
                    format!("at least {}", Unit::NewtonMetre.format(leaning)),
                )
                .hint(hint),
            );
        }
    }

    fn look(&mut self) {
        let r = self.robot;
        let outer = r.shell.outer_radius;
        for (name, points) in [
            ("outlines.carriage_side", &r.outlines.carriage_side),
            ("outlines.carriage_front", &r.outlines.carriage_front),
        ] {
            let far = points
                .iter()
                .map(|[x, z]| (x * x + z * z).sqrt())
                .fold(0.0, f64::max);
            if far > outer {
                self.out.push(Check {
                    keys: vec!["shell.outer_radius"],
                    problem: Problem::warning(
                        name,
                        format!("an outline inside the shell, {}", Unit::Metre.format(outer)),
                    )
                    .found(format!("{} from the centre", Unit::Metre.format(far)))
                    .hint("it is drawn as it is; the motion does not heed outlines"),
                });
            }
        }
    }

    /// The parts list is for people; the bodies' numbers are what is simulated.
    fn parts(&mut self) {
        let r = self.robot;
        let bodies: [(Body, &'static str, f64, &'static str, f64, f64); 3] = [
            (
                Body::Shell,
                "shell.mass",
                r.shell.mass,
                "shell.outer_radius",
                0.0,
                r.shell.outer_radius,
            ),
            (
                Body::Carriage,
                "carriage.mass",
                r.carriage.mass,
                "carriage.below_centre",
                -r.carriage.below_centre,
                r.carriage.below_centre,
            ),
            (
                Body::Head,
                "head.mass",
                r.head.mass,
                "head.above_centre",
                r.head.above_centre,
                r.head.above_centre,
            ),
        ];
        for (body, mass_key, mass, height_key, height, scale) in bodies {
            let Some(centre) = crate::makers::parts::centre_of_mass(&r.parts, body) else {
                continue;
            };
            self.add(
                (centre.mass - mass).abs() > 0.02 * mass,
                &[mass_key],
                Problem::warning(
                    mass_key,
                    format!("the parts list's {} kg", plain(centre.mass)),
                )
                .hint("the parts do not add up; the robot runs with the knob's value"),
            );
            self.add(
                (centre.height - height).abs() > 0.02 * scale,
                &[height_key],
                Problem::warning(
                    height_key,
                    format!(
                        "the parts list's centre of mass, {} above the shell's centre",
                        Unit::Metre.format(centre.height)
                    ),
                )
                .hint("the parts do not agree; the robot runs with the knob's value"),
            );
        }
    }
}
