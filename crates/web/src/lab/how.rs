//! How a builder gets a value that is still a guess. Common practice, no published source.

use kickstill_robot::makers::start::row;

/// How to measure the knob `key`: what the guided start says of it, or a bench test; empty where
/// nothing better than its help is known.
pub(super) fn how_to_measure(key: &str) -> &'static str {
    let asked = match key {
        "shell.outer_radius" => "shell_diameter",
        "shell.mass" => "shell_mass",
        "carriage.mass" => "carriage_mass",
        "carriage.below_centre" => "carriage_below",
        "head.mass" => "head_mass",
        "head.above_centre" => "head_above",
        "head_joint.torque_limit" => "servo_torque",
        _ => "",
    };
    if let Some(row) = row(asked) {
        return row.help;
    }
    // Both drives are measured alike.
    let of_drive = key.split_once("_drive.").map(|(_, rest)| rest);
    match of_drive.unwrap_or(key) {
        "shell.inertia" => {
            "Hang the shell from two equal strings, twist it a little and time ten turns back and forth; or roll it down a short slope beside a solid ball and compare the times."
        }
        "carriage.inertia_side"
        | "carriage.inertia_front"
        | "head.inertia_side"
        | "head.inertia_front" => {
            "Hang it on a rod through it as a pendulum and time ten swings: m·g·a·(T/2π)² less m·a², where a is from the rod to its centre of mass."
        }
        "head_joint.stiffness" => {
            "Lock the servo, push the head sideways with a spring scale at a known height, and read by how many degrees it gives: torque by angle."
        }
        "head_joint.damping" => {
            "Lock the servo, tap the head and film it: from how much smaller each swing is follows the damping."
        }
        "head_joint.servo_lag" | "head_joint.servo_rate" => {
            "Film the servo with a step command: the time to 63 % of a small step, and the speed in a large one."
        }
        "head_joint.rotor_inertia" => {
            "From the servo's sheet: its motor's rotor, times the square of the gearing."
        }
        "head_joint.dry" | "head_joint.breakaway" | "head_joint.viscous" => {
            "Servo uncoupled, pull the head's arm with a spring scale: the pull that starts it, the pull that keeps it going slowly, and going fast; each times the arm."
        }
        "head_joint.off_dry" | "head_joint.off_breakaway" => {
            "Servo without power, pull at its arm with a spring scale: the pull that starts it, and the pull that keeps it turning; each times the arm."
        }
        "head_joint.travel" => "Drive the servo to both ends and read the angle with a protractor.",
        "head_joint.holding_power" => {
            "An ammeter in the servo's supply while it holds a known weight on an arm: watts by newton metres."
        }
        "castors.dry" | "castors.breakaway" | "castors.viscous" => {
            "Head on the shell, servo uncoupled, pull it sideways with a spring scale: the pull that starts it and the pull that keeps it going, times the height, less the bearing's share."
        }
        "hold.force" => {
            "Pull the head straight off the shell with a luggage scale and read the greatest pull."
        }
        "hold.shear" => {
            "Pull the head sideways at its base until it slides: that pull by the magnets' pull."
        }
        "hold.base_radius" | "head.half_width" | "head.widest_above_centre" => {
            "With a tape on the head."
        }
        "carriage.lean_travel" => {
            "Lean the carriage by hand to both stops and read the angle with a protractor or a phone."
        }
        "gear_ratio" => {
            "Mark both shafts, turn the motor by hand and count its turns for one turn behind."
        }
        "rim_radius" | "roller_radius" => "With callipers, where they touch.",
        "roller_preload" => {
            "Pull the roller off the rim with a luggage scale and read when a strip of paper between them slides out."
        }
        "roller_friction" => {
            "Hold the roller still and pull the rim round with a spring scale until it slips: that pull by the preload."
        }
        "motor_constant" => {
            "Spin the motor by a drill at a known speed and read the open voltage: volts by radians a second."
        }
        "motor_resistance" => {
            "A small current from a bench supply with the shaft held: volts by amperes, at a few places of the shaft."
        }
        "rotor_inertia" => {
            "From the motor's sheet; or film how it runs up without load: the time to 63 % of its speed."
        }
        "efficiency" | "backdrive_floor" => {
            "Lift a known weight by the output and note motor current and speed: work out by work in; and let the weight pull the gears the other way."
        }
        "dry" | "breakaway" | "viscous" => {
            "Carriage on a stand, motor leads open: pull the shell round with a spring scale at its rim. The pull that starts it and the pull that keeps it going, times the radius; faster for the viscous share."
        }
        "battery.open_voltage" => "A voltmeter on the charged battery with nothing switched on.",
        "battery.resistance" => {
            "Read the battery's voltage at the drivers without load and with a known load of some amperes: the drop by the current."
        }
        "battery.electronics_power" => {
            "An ammeter in the supply with the robot standing still: amperes times volts."
        }
        "battery.brown_out_voltage" => {
            "From the controller's sheet; or lower a bench supply slowly until it restarts."
        }
        "floor.rolling_resistance" | "floor.rolling_viscous" => {
            "Let the ball roll out with its motors off, carriage tied fast: the speed lost by the distance; or find the slope on which it just keeps rolling."
        }
        "floor.grip" => {
            "Hold the shell from turning and pull it along the floor with a luggage scale: that pull by its weight."
        }
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kickstill_rig::spread::{Spreads, varied};
    use kickstill_robot::{View, demo};

    #[test]
    fn every_guess_can_be_measured() {
        let robot = demo("cobnut").unwrap();
        let all = Spreads {
            unmarked: 0.3,
            ..Spreads::default()
        };
        for view in [View::Side, View::Front] {
            let list = varied(&robot, view, &all);
            assert!(list.len() > 30);
            for one in list {
                assert!(!how_to_measure(one.key).is_empty(), "{}", one.key);
            }
        }
        assert_eq!(how_to_measure("timing.loop_rate"), "");
    }
}
