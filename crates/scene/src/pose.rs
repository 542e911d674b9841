//! Where every body of the robot is on the sheet at one sample.

use kickstill_number::Within;
use kickstill_rig::{Sample, flag};
use kickstill_robot::{Drive, DriveKind, Robot, View};

use crate::list::Point;
use crate::outline::Outline;
use crate::place::Place;
use crate::sheet::Sheet;

/// The robot placed on the sheet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pose<'a> {
    pub(crate) robot: &'a Robot,
    pub(crate) view: View,
    /// Pixels a metre.
    pub(crate) scale: f64,
    /// Floor: origin at the ball's contact, along the floor and up from it.
    pub(crate) floor: Place,
    /// Upright, about the shell's centre.
    pub(crate) upright: Place,
    /// Shell, turned by its roll.
    pub(crate) shell: Place,
    /// Carriage, turned by its swing.
    pub(crate) carriage: Place,
    /// Mast and inner magnets, turned by the servo against the carriage.
    pub(crate) mast: Place,
    /// Head; falling once it is lost.
    pub(crate) head: Place,
    /// Outer radius [m].
    pub(crate) radius: f64,
    /// Inner radius as drawn [m].
    pub(crate) inner: f64,
    pub(crate) roll: f64,
    pub(crate) swing: f64,
    pub(crate) tilt: f64,
    pub(crate) slope: f64,
    pub(crate) travel: f64,
    pub(crate) lost: bool,
}

/// One roller of a rim drive, in the carriage's metres.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Roller {
    pub(crate) centre: [f64; 2],
    pub(crate) radius: f64,
    /// Where its arm is fixed to the carriage.
    pub(crate) foot: [f64; 2],
    /// Direction from the shell's centre to it: angle from straight up, clockwise [rad].
    pub(crate) from_top: f64,
}

/// The drawing of a sample that is not a number would be no drawing; zero stands in for it.
fn sound(value: f64) -> f64 {
    if value.is_finite() { value } else { 0.0 }
}

impl<'a> Pose<'a> {
    pub(crate) fn new(robot: &'a Robot, sample: &Sample, sheet: &Sheet<'_>) -> Pose<'a> {
        let view = sheet.view;
        let scale = sheet.camera.scale;
        let radius = robot.shell.outer_radius.max(1e-3);
        let slope = sound(sample.slope);
        let travel = sound(sample.travel);
        let (roll, swing, tilt) = (sound(sample.roll), sound(sample.swing), sound(sample.tilt));
        let contact = sheet.camera.to_sheet(travel, 0.0, slope);
        let floor = Place::new(contact, scale, slope);
        let centre = floor.at([0.0, radius]);
        let lost = sample.flags & flag::HEAD_LOST != 0;
        let mut head = Place::new(centre, scale, -tilt);
        if lost {
            let place = [sound(sample.head_x) - travel, sound(sample.head_z)];
            let mass_centre = floor.at(place);
            let offset = head.direction([0.0, robot.head.above_centre]);
            head = Place::new(
                [
                    mass_centre[0] - scale * offset[0],
                    mass_centre[1] - scale * offset[1],
                ],
                scale,
                -tilt,
            );
        }
        let drive = drive_of(robot, view);
        // The drawing needs a wall that can be hatched; thinner ones are drawn thicker.
        let inner = match drive.kind {
            DriveKind::Rim if drive.rim_radius > 0.0 => {
                drive.rim_radius.within(0.91 * radius, 0.945 * radius)
            }
            _ => 0.945 * radius,
        };
        Pose {
            robot,
            view,
            scale,
            floor,
            upright: Place::new(centre, scale, 0.0),
            shell: Place::new(centre, scale, -roll),
            carriage: Place::new(centre, scale, swing),
            mast: Place::new(centre, scale, swing - sound(sample.servo)),
            head,
            radius,
            inner,
            roll,
            swing,
            tilt,
            slope,
            travel,
            lost,
        }
    }

    pub(crate) fn drive(&self) -> &'a Drive {
        drive_of(self.robot, self.view)
    }

    /// Shell's centre [px].
    pub(crate) fn centre(&self) -> Point {
        self.upright.origin
    }

    /// A length in pixels.
    pub(crate) fn px(&self, metres: f64) -> f64 {
        self.scale * metres
    }

    pub(crate) fn carriage_outline(&self) -> Outline<'a> {
        Outline::carriage(self.robot, self.view)
    }

    pub(crate) fn head_outline(&self) -> Outline<'a> {
        Outline::head(self.robot, self.view)
    }

    /// Carriage's centre of mass [px].
    pub(crate) fn carriage_centre(&self) -> Point {
        self.carriage.at([0.0, -self.robot.carriage.below_centre])
    }

    /// Head's centre of mass [px].
    pub(crate) fn head_centre(&self) -> Point {
        self.head.at([0.0, self.robot.head.above_centre])
    }

    /// Centre of mass of the whole (of what is left, once the head is lost) [px].
    pub(crate) fn total_centre(&self) -> Point {
        let (shell, carriage) = (self.robot.shell.mass, self.robot.carriage.mass);
        let head = if self.lost { 0.0 } else { self.robot.head.mass };
        let total = (shell + carriage + head).max(1e-9);
        let (s, c, h) = (self.centre(), self.carriage_centre(), self.head_centre());
        [0, 1].map(|axis| (shell * s[axis] + carriage * c[axis] + head * h[axis]) / total)
    }

    /// Angle of the carriage against the shell ρ = θ + α [rad].
    pub(crate) fn relative_roll(&self) -> f64 {
        self.roll + self.swing
    }

    /// Box of the controller on the carriage: centre and half sizes [m].
    pub(crate) fn controller(&self) -> ([f64; 2], [f64; 2]) {
        self.on_carriage(0.195, 0.12, 0.19)
    }

    /// Box of the battery on the carriage: centre and half sizes [m].
    pub(crate) fn battery(&self) -> ([f64; 2], [f64; 2]) {
        self.on_carriage(-0.19, 0.14, 0.22)
    }

    fn on_carriage(&self, right: f64, half_width: f64, half_height: f64) -> ([f64; 2], [f64; 2]) {
        let (low, high) = self.carriage_outline().bounds();
        let (width, height) = (high[0] - low[0], high[1] - low[1]);
        (
            [
                0.5 * (low[0] + high[0]) + right * width,
                low[1] + 0.60 * height,
            ],
            [half_width * width, half_height * height.min(0.6 * width)],
        )
    }

    /// The rollers of a rim drive: as low as the carriage leaves room for them.
    pub(crate) fn rollers(&self) -> Option<[Roller; 2]> {
        let drive = self.drive();
        if drive.kind != DriveKind::Rim {
            return None;
        }
        let outline = self.carriage_outline();
        let radius = drive
            .roller_radius
            .within(0.06 * self.radius, 0.28 * self.radius);
        let reach = self.inner - radius;
        Some([-1.0, 1.0].map(|side: f64| {
            let mut from_bottom = 42.0_f64.to_radians();
            loop {
                let (sin, cos) = libm::sincos(from_bottom);
                let centre = [side * reach * sin, -reach * cos];
                let (foot, gap) = outline.nearest(centre);
                let free = gap > radius + 0.025 * self.radius && !outline.holds(centre);
                if free || from_bottom > 1.75 {
                    return Roller {
                        centre,
                        radius,
                        foot,
                        from_top: side * (core::f64::consts::PI - from_bottom),
                    };
                }
                from_bottom += 0.03;
            }
        }))
    }
}

fn drive_of(robot: &Robot, view: View) -> &Drive {
    match view {
        View::Side => &robot.travel_drive,
        View::Front => &robot.lean_drive,
    }
}

/// Head's centre of mass: along the floor, above it [m]; points of the trail.
#[must_use]
pub fn head_centre(robot: &Robot, sample: &Sample) -> [f64; 2] {
    if sample.head_lost() {
        return [sound(sample.head_x), sound(sample.head_z)];
    }
    // The floor's normal is turned anticlockwise by the slope, the tilt goes clockwise.
    let (sin, cos) = libm::sincos(sound(sample.tilt) + sound(sample.slope));
    let above = robot.head.above_centre;
    [
        sound(sample.travel) + above * sin,
        robot.shell.outer_radius + above * cos,
    ]
}
