//! The complete description of one ball robot, as plain data in SI units and radians.
//!
//! Every number here is reachable through exactly one entry of the [catalogue](crate::catalogue),
//! which holds its label, unit, range and help; the comments below give meaning and unit only.

mod software;
mod supply;

pub use software::{
    CarriageLoop, DeadBandShape, Firmware, Guard, HeadLoop, LeanLoop, RateSource, Sensing, Timing,
    TravelLoop,
};
pub use supply::{Chemistry, Fuse, FuseSize, Pack, Regulator, Wiring};

/// The spherical shell that rolls on the floor.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Shell {
    /// Outer radius R [m].
    pub outer_radius: f64,
    /// Mass m_s [kg].
    pub mass: f64,
    /// Moment of inertia I_s about the shell's centre [kg·m²], the same in every direction.
    pub inertia: f64,
}

/// The heavy carriage that hangs inside the shell.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Carriage {
    /// Mass m_c [kg].
    pub mass: f64,
    /// Distance l_c of the centre of mass below the shell's centre [m].
    pub below_centre: f64,
    /// I_c about the centre of mass for fore-aft swing [kg·m²].
    pub inertia_side: f64,
    /// I_c about the centre of mass for side-to-side swing [kg·m²].
    pub inertia_front: f64,
    /// How far the lean drive can move the carriage against the shell, each way [rad].
    pub lean_travel: f64,
}

/// The light head that rides on top of the shell.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Head {
    /// Mass m_h [kg].
    pub mass: f64,
    /// Distance l_h of the centre of mass above the shell's centre [m].
    pub above_centre: f64,
    /// I_h about the centre of mass for fore-aft tilt [kg·m²].
    pub inertia_side: f64,
    /// I_h about the centre of mass for side-to-side tilt [kg·m²].
    pub inertia_front: f64,
    /// Half of the head's greatest width [m]; what meets a wall first if wider than the shell.
    pub half_width: f64,
    /// Height of the head's widest point above the shell's centre [m].
    pub widest_above_centre: f64,
}

/// The joint between carriage and head: servo, magnets through the shell, bearing.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HeadJoint {
    /// Stiffness of the magnets between servo and head [N·m/rad].
    pub stiffness: f64,
    /// Damping of the magnets between servo and head [N·m·s/rad].
    pub damping: f64,
    /// Greatest torque the powered servo gives [N·m].
    pub torque_limit: f64,
    /// Time constant with which the servo follows its target [s].
    pub servo_lag: f64,
    /// Greatest speed of the servo at the joint [rad/s].
    pub servo_rate: f64,
    /// Travel of the servo, each way from the middle [rad].
    pub travel: f64,
    /// Rotor inertia J_e of the servo seen at the head joint [kg·m²].
    pub rotor_inertia: f64,
    /// Dry (sliding) friction of the joint's bearing [N·m].
    pub dry: f64,
    /// Static (breakaway) friction of the joint's bearing [N·m].
    pub breakaway: f64,
    /// Viscous friction of the joint's bearing [N·m·s/rad].
    pub viscous: f64,
    /// Sliding friction of the unpowered servo's gears [N·m].
    pub off_dry: f64,
    /// Breakaway friction of the unpowered servo's gears [N·m].
    pub off_breakaway: f64,
    /// Supply power of the servo per newton metre of torque it gives [W/(N·m)].
    pub holding_power: f64,
}

/// Friction of the head's castors on the shell.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Castors {
    /// Dry (sliding) friction [N·m].
    pub dry: f64,
    /// Static (breakaway) friction [N·m].
    pub breakaway: f64,
    /// Viscous friction [N·m·s/rad].
    pub viscous: f64,
}

/// What the magnets can hold before the head comes off.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HeadHold {
    /// Pull at which the head comes off [N].
    pub force: f64,
    /// Shear the magnets hold, as a share of the pressing force.
    pub shear: f64,
    /// Radius of the head's base patch about which it would tip [m].
    pub base_radius: f64,
}

/// Where the drive acts between carriage and shell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum DriveKind {
    /// On the axle through the shell's centre: lever 1.
    Axle,
    /// By rollers on the inside of the shell: lever rim radius / roller radius.
    #[default]
    Rim,
}

/// What an unpowered driver does with the motor's terminals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum OffMode {
    /// Terminals open.
    #[default]
    Coast,
    /// Winding shorted.
    Brake,
}

/// One drive: motors, gears and lever.
#[derive(Clone, Debug, PartialEq)]
pub struct Drive {
    /// Axle or rim.
    pub kind: DriveKind,
    /// Gear ratio, motor turns for one turn of the output.
    pub gear_ratio: f64,
    /// Radius on which the rollers run [m] (rim drive).
    pub rim_radius: f64,
    /// Radius of the rollers [m] (rim drive).
    pub roller_radius: f64,
    /// Force that presses the rollers on the rim [N] (rim drive).
    pub roller_preload: f64,
    /// Friction coefficient of the rollers on the rim (rim drive).
    pub roller_friction: f64,
    /// Number of equal motors in parallel.
    pub motor_count: f64,
    /// Motor constant k [N·m/A = V·s/rad].
    pub motor_constant: f64,
    /// Winding resistance R_m [Ω].
    pub motor_resistance: f64,
    /// Rotor inertia of one motor [kg·m²].
    pub rotor_inertia: f64,
    /// Driver's current limit for each motor [A].
    pub current_limit: f64,
    /// Efficiency η of the gears under load.
    pub efficiency: f64,
    /// Least efficiency η_b when the gears are driven backwards.
    pub backdrive_floor: f64,
    /// Load-free dry friction T_0 at the joint [N·m].
    pub dry: f64,
    /// Load-free breakaway friction T_0s at the joint [N·m].
    pub breakaway: f64,
    /// Viscous friction at the joint [N·m·s/rad].
    pub viscous: f64,
    /// What the driver does when motors are off.
    pub off_mode: OffMode,
    /// Thermal resistance of one motor's winding to the air, by way of its housing [K/W].
    pub thermal_resistance: f64,
    /// Time constant with which one motor's winding warms [s].
    pub thermal_time: f64,
    /// Greatest temperature the winding may reach [°C].
    pub winding_limit: f64,
}

impl Default for Drive {
    /// All zero but the heat's numbers, which a robot file may leave out: then they are those of
    /// a small brushed motor without a fan (a guess; the motor's sheet goes before it).
    fn default() -> Self {
        Self {
            kind: DriveKind::default(),
            gear_ratio: 0.0,
            rim_radius: 0.0,
            roller_radius: 0.0,
            roller_preload: 0.0,
            roller_friction: 0.0,
            motor_count: 0.0,
            motor_constant: 0.0,
            motor_resistance: 0.0,
            rotor_inertia: 0.0,
            current_limit: 0.0,
            efficiency: 0.0,
            backdrive_floor: 0.0,
            dry: 0.0,
            breakaway: 0.0,
            viscous: 0.0,
            off_mode: OffMode::default(),
            thermal_resistance: 4.0,
            thermal_time: 60.0,
            winding_limit: 120.0,
        }
    }
}

impl Drive {
    /// Lever between roller and shell: 1 on the axle, rim radius / roller radius on the rim.
    #[must_use]
    pub fn lever(&self) -> f64 {
        match self.kind {
            DriveKind::Axle => 1.0,
            DriveKind::Rim => self.rim_radius / self.roller_radius,
        }
    }

    /// Total ratio n: motor turns for one turn of the carriage in the shell.
    #[must_use]
    pub fn ratio(&self) -> f64 {
        self.gear_ratio * self.lever()
    }

    /// Rotor inertia of all motors seen at the drive joint, J_d = N·n²·J [kg·m²].
    #[must_use]
    pub fn joint_rotor_inertia(&self) -> f64 {
        let n = self.ratio();
        self.motor_count * n * n * self.rotor_inertia
    }

    /// Joint torque at which the rollers slip [N·m]; infinite for an axle drive.
    #[must_use]
    pub fn roller_slip_torque(&self) -> f64 {
        match self.kind {
            DriveKind::Axle => f64::INFINITY,
            DriveKind::Rim => self.roller_preload * self.roller_friction * self.rim_radius,
        }
    }
}

/// The battery as the drives see it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Battery {
    /// Open-circuit voltage V_oc [V].
    pub open_voltage: f64,
    /// Resistance R_b of cells, wires and connectors together [Ω].
    pub resistance: f64,
    /// Power the electronics draw all the time [W].
    pub electronics_power: f64,
    /// Supply voltage below which the electronics restart: a brown-out [V].
    pub brown_out_voltage: f64,
}

/// The floor.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Floor {
    /// Rolling resistance coefficient c_rr.
    pub rolling_resistance: f64,
    /// Viscous rolling friction b_r at the shell [N·m·s/rad].
    pub rolling_viscous: f64,
    /// Grip coefficient μ.
    pub grip: f64,
    /// Slope γ, uphill forward (side view) or to the right (front view) [rad].
    pub slope: f64,
}

/// Outlines of carriage and head for the drawing, as closed polygons [m] about the shell's
/// centre, x to the front (side view) or right (front view), z up.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Outlines {
    /// Carriage in the side view.
    pub carriage_side: Vec<[f64; 2]>,
    /// Carriage in the front view.
    pub carriage_front: Vec<[f64; 2]>,
    /// Head in the side view.
    pub head_side: Vec<[f64; 2]>,
    /// Head in the front view.
    pub head_front: Vec<[f64; 2]>,
}

/// Where a value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Mark {
    /// Weighed, taped or recorded on this robot.
    Measured,
    /// From the part's data sheet.
    Sheet,
    /// Neither: a guess.
    Guessed,
}

impl Mark {
    /// All marks.
    pub const ALL: [Self; 3] = [Self::Measured, Self::Sheet, Self::Guessed];

    /// Its word in files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Sheet => "sheet",
            Self::Guessed => "guessed",
        }
    }

    /// The mark with this word.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|m| m.word() == word)
    }
}

/// Which body an entry of the parts list belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Body {
    /// The shell.
    Shell,
    /// The carriage.
    Carriage,
    /// The head.
    Head,
}

/// One entry of the parts list.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: String,
    /// Body it is fixed to.
    pub body: Body,
    /// Mass [kg].
    pub mass: f64,
    /// Height of its centre of mass above the shell's centre [m].
    pub height: f64,
    /// Whether it is fitted; one that is not is planned, and weighs nothing.
    pub on: bool,
    /// Where its mass and height come from, if told.
    pub mark: Option<Mark>,
}

/// One ball robot, whole.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Robot {
    /// Name, one line.
    pub name: String,
    /// A sentence about it.
    pub summary: String,
    /// Shell.
    pub shell: Shell,
    /// Carriage.
    pub carriage: Carriage,
    /// Head.
    pub head: Head,
    /// Head joint.
    pub head_joint: HeadJoint,
    /// Castors of the head on the shell.
    pub castors: Castors,
    /// Head hold.
    pub hold: HeadHold,
    /// Drive for travel (side view).
    pub travel_drive: Drive,
    /// Drive for lean (front view).
    pub lean_drive: Drive,
    /// Battery.
    pub battery: Battery,
    /// Cells of the battery.
    pub pack: Pack,
    /// Main fuse.
    pub fuse: Fuse,
    /// Wires from battery to drivers.
    pub wiring: Wiring,
    /// Head regulators.
    pub regulator: Regulator,
    /// Sensing.
    pub sensing: Sensing,
    /// Timing.
    pub timing: Timing,
    /// Lean loop.
    pub lean: LeanLoop,
    /// Carriage loop.
    pub carriage_loop: CarriageLoop,
    /// Travel loop.
    pub travel: TravelLoop,
    /// Head loop.
    pub levelling: HeadLoop,
    /// Guard.
    pub guard: Guard,
    /// Floor.
    pub floor: Floor,
    /// Firmware numbers.
    pub firmware: Firmware,
    /// Drawing outlines.
    pub outlines: Outlines,
    /// Parts list: what the bodies are made of.
    pub parts: Vec<Part>,
    /// Where the knobs' values come from, by key, in the catalogue's order; a knob that is not
    /// here has no mark. Use [`Robot::mark`] and [`Robot::set_mark`].
    pub marks: Vec<(&'static str, Mark)>,
}

impl Robot {
    /// Where the value of the knob `key` comes from; `None` if nobody has said, or there is no such
    /// knob.
    #[must_use]
    pub fn mark(&self, key: &str) -> Option<Mark> {
        self.marks.iter().find(|(k, _)| *k == key).map(|(_, m)| *m)
    }

    /// Says where the value of the knob `key` comes from, or takes the mark off. Whether there is
    /// such a knob; without one nothing changes. Setting a knob leaves its mark as it is.
    pub fn set_mark(&mut self, key: &str, mark: Option<Mark>) -> bool {
        let place = |key: &str| crate::catalogue().iter().position(|k| k.key == key);
        let Some(index) = place(key) else {
            return false;
        };
        self.marks.retain(|(k, _)| *k != key);
        if let Some(mark) = mark {
            let before = self
                .marks
                .iter()
                .take_while(|(k, _)| place(k).is_some_and(|i| i < index))
                .count();
            self.marks
                .insert(before, (crate::catalogue()[index].key, mark));
        }
        true
    }

    /// Total mass M_t [kg].
    #[must_use]
    pub fn total_mass(&self) -> f64 {
        self.shell.mass + self.carriage.mass + self.head.mass
    }

    /// Swing per acceleration, level and small [rad/(m/s²)]:
    /// K = (M_t·R + I_s/R + m_h·l_h − m_c·l_c)/(m_c·l_c·g).
    ///
    /// Moment balance of a steadily accelerating ball with its head upright, linearised.
    #[must_use]
    pub fn swing_per_acceleration(&self) -> f64 {
        let r = self.shell.outer_radius;
        let hang = self.carriage.mass * self.carriage.below_centre;
        let head = self.head.mass * self.head.above_centre;
        (self.total_mass() * r + self.shell.inertia / r + head - hang) / (hang * GRAVITY)
    }

    /// Share of the head in the balance, m_h·l_h/(m_c·l_c); the robot stands only below 1.
    #[must_use]
    pub fn head_share(&self) -> f64 {
        self.head.mass * self.head.above_centre / (self.carriage.mass * self.carriage.below_centre)
    }
}

/// Standard acceleration of free fall g [m/s²] (ISO 80000-3; CGPM 1901).
pub const GRAVITY: f64 = 9.806_65;

/// Which vertical plane is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum View {
    /// Fore-aft: the travel drive.
    #[default]
    Side,
    /// Side to side: the lean drive.
    Front,
}

impl View {
    /// Word for it on page and command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            View::Side => "side",
            View::Front => "front",
        }
    }
}
