//! One plane's numbers, taken from a robot and a view.

use kickstill_robot::{GRAVITY, Robot, View};

/// Dry and viscous friction of one element.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Friction {
    /// Sliding (kinetic) level [N·m].
    pub dry: f64,
    /// Breakaway (static) level [N·m], at least `dry`.
    pub breakaway: f64,
    /// Viscous part [N·m·s/rad].
    pub viscous: f64,
}

/// Gears with load-dependent loss, seen at the drive joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gears {
    /// Load-free friction.
    pub friction: Friction,
    /// Efficiency η while the motor drives the load.
    pub efficiency: f64,
    /// Least efficiency η_b while the load drives the motor; the efficiency used is
    /// max(2 − 1/η, this).
    pub backdrive_floor: f64,
    /// Rotor inertia J_d of all motors at the joint [kg·m²].
    pub rotor_inertia: f64,
    /// Joint torque at which rim rollers slip [N·m]; infinite on an axle.
    pub slip_torque: f64,
}

impl Gears {
    /// Share c = 1/η − 1 of the load that a resting gear holds by itself.
    #[must_use]
    pub fn load_share(&self) -> f64 {
        1.0 / self.efficiency - 1.0
    }

    /// Torque ratio κ from motor side to joint: η loaded, 1/η_b driven back.
    #[must_use]
    pub fn kappa(&self, loaded: bool) -> f64 {
        if loaded {
            self.efficiency
        } else {
            1.0 / (2.0 - 1.0 / self.efficiency).max(self.backdrive_floor)
        }
    }

    /// Whether the gears have any dry friction at all.
    #[must_use]
    pub fn is_dry(&self) -> bool {
        self.friction.breakaway > 0.0 || self.efficiency < 1.0
    }
}

/// The head servo and the magnets it works through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Servo {
    /// Magnet stiffness k [N·m/rad].
    pub stiffness: f64,
    /// Magnet damping d [N·m·s/rad], above zero.
    pub damping: f64,
    /// Torque limit while powered [N·m].
    pub torque_limit: f64,
    /// Lag τ [s].
    pub lag: f64,
    /// Rate limit [rad/s].
    pub rate: f64,
    /// Gear friction while unpowered, sliding [N·m].
    pub off_dry: f64,
    /// Gear friction while unpowered, breakaway [N·m].
    pub off_breakaway: f64,
}

/// What holds the head on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hold {
    /// Pull that opens the magnets [N].
    pub force: f64,
    /// Shear coefficient μ_h.
    pub shear: f64,
    /// Radius of the base patch [m].
    pub base_radius: f64,
}

/// All numbers of the plane model.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaneParams {
    /// Acceleration of free fall g [m/s²].
    pub gravity: f64,
    /// Shell radius R [m].
    pub radius: f64,
    /// Shell mass m_s [kg].
    pub shell_mass: f64,
    /// Shell inertia I_s [kg·m²].
    pub shell_inertia: f64,
    /// Carriage mass m_c [kg].
    pub carriage_mass: f64,
    /// Carriage centre of mass below the centre l_c [m].
    pub carriage_below: f64,
    /// Carriage inertia I_c about its centre of mass [kg·m²].
    pub carriage_inertia: f64,
    /// Head mass m_h [kg].
    pub head_mass: f64,
    /// Head centre of mass above the centre l_h [m].
    pub head_above: f64,
    /// Head inertia I_h about its centre of mass [kg·m²].
    pub head_inertia: f64,
    /// Servo rotor inertia J_e at the head joint [kg·m²].
    pub servo_inertia: f64,
    /// Drive gears.
    pub gears: Gears,
    /// Head joint bearing.
    pub bearing: Friction,
    /// Head on shell.
    pub castors: Friction,
    /// Rolling resistance coefficient c_rr.
    pub rolling_resistance: f64,
    /// Viscous rolling friction b_r [N·m·s/rad].
    pub rolling_viscous: f64,
    /// Grip μ.
    pub grip: f64,
    /// Head servo.
    pub servo: Servo,
    /// Head hold.
    pub hold: Hold,
    /// Half of the head's greatest width [m].
    pub head_half_width: f64,
    /// Height of the widest point above the centre [m].
    pub head_widest_above: f64,
}

impl PlaneParams {
    /// Takes one plane's numbers from a robot.
    #[must_use]
    pub fn new(robot: &Robot, view: View) -> Self {
        let (drive, carriage_inertia, head_inertia) = match view {
            View::Side => (
                &robot.travel_drive,
                robot.carriage.inertia_side,
                robot.head.inertia_side,
            ),
            View::Front => (
                &robot.lean_drive,
                robot.carriage.inertia_front,
                robot.head.inertia_front,
            ),
        };
        let joint = &robot.head_joint;
        Self {
            gravity: GRAVITY,
            radius: robot.shell.outer_radius,
            shell_mass: robot.shell.mass,
            shell_inertia: robot.shell.inertia,
            carriage_mass: robot.carriage.mass,
            carriage_below: robot.carriage.below_centre,
            carriage_inertia,
            head_mass: robot.head.mass,
            head_above: robot.head.above_centre,
            head_inertia,
            servo_inertia: joint.rotor_inertia,
            gears: Gears {
                friction: Friction {
                    dry: drive.dry,
                    breakaway: drive.breakaway.max(drive.dry),
                    viscous: drive.viscous,
                },
                efficiency: drive.efficiency,
                backdrive_floor: drive.backdrive_floor,
                rotor_inertia: drive.joint_rotor_inertia(),
                slip_torque: drive.roller_slip_torque(),
            },
            bearing: Friction {
                dry: joint.dry,
                breakaway: joint.breakaway.max(joint.dry),
                viscous: joint.viscous,
            },
            castors: Friction {
                dry: robot.castors.dry,
                breakaway: robot.castors.breakaway.max(robot.castors.dry),
                viscous: robot.castors.viscous,
            },
            rolling_resistance: robot.floor.rolling_resistance,
            rolling_viscous: robot.floor.rolling_viscous,
            grip: robot.floor.grip,
            servo: Servo {
                stiffness: joint.stiffness,
                damping: joint.damping,
                torque_limit: joint.torque_limit,
                lag: joint.servo_lag,
                rate: joint.servo_rate,
                off_dry: joint.off_dry,
                off_breakaway: joint.off_breakaway.max(joint.off_dry),
            },
            hold: Hold {
                force: robot.hold.force,
                shear: robot.hold.shear,
                base_radius: robot.hold.base_radius,
            },
            head_half_width: robot.head.half_width,
            head_widest_above: robot.head.widest_above_centre,
        }
    }

    /// The constant coefficients of the equations, with the head on or lost.
    #[must_use]
    pub fn coefficients(&self, head_on: bool) -> Coefficients {
        let (m_h, l_h) = if head_on {
            (self.head_mass, self.head_above)
        } else {
            (0.0, 0.0)
        };
        let j_e = if head_on { self.servo_inertia } else { 0.0 };
        let (m_c, l_c) = (self.carriage_mass, self.carriage_below);
        Coefficients {
            mass: self.shell_mass + m_c + m_h,
            hang: m_c * l_c,
            head: m_h * l_h,
            shell: self.shell_inertia,
            carriage: m_c * l_c * l_c + self.carriage_inertia + j_e,
            top: if head_on {
                m_h * l_h * l_h + self.head_inertia + j_e
            } else {
                1.0
            },
            joint: j_e,
        }
    }
}

/// Coefficients of the mass matrix and of gravity, see [`crate::equations`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Total mass M_t [kg].
    pub mass: f64,
    /// m_c·l_c [kg·m].
    pub hang: f64,
    /// m_h·l_h [kg·m].
    pub head: f64,
    /// I_s [kg·m²].
    pub shell: f64,
    /// m_c·l_c² + I_c + J_e [kg·m²] (the drive's rotor is added by the gears).
    pub carriage: f64,
    /// m_h·l_h² + I_h + J_e [kg·m²]; 1 once the head is lost, so that the row stays solvable.
    pub top: f64,
    /// J_e [kg·m²].
    pub joint: f64,
}
