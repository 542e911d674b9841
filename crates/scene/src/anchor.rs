//! Where the callouts' leader lines end, and the balloons that stand for them on narrow sheets.

use kickstill_rig::Sample;
use kickstill_robot::Robot;

use crate::list::Point;
use crate::pose::Pose;
use crate::sheet::Sheet;

/// A spot of the drawing to which a callout can point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Spot {
    /// The shell's wall.
    Shell,
    /// The head.
    Head,
    /// The carriage.
    Carriage,
    /// The carriage's centre of mass.
    CarriageCentre,
    /// The controller's box on the carriage.
    Controller,
    /// Magnets between mast and head.
    HeadJoint,
    /// The drive of this view.
    Drive,
    /// The floor.
    Floor,
    /// The battery on the carriage.
    Battery,
}

/// Every spot, in the order of their balloons' numbers from 1.
pub const ANCHORS: [Spot; 9] = [
    Spot::Shell,
    Spot::Head,
    Spot::Carriage,
    Spot::CarriageCentre,
    Spot::Controller,
    Spot::HeadJoint,
    Spot::Drive,
    Spot::Floor,
    Spot::Battery,
];

impl Spot {
    /// Key for page and command line.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Spot::Shell => "shell",
            Spot::Head => "head",
            Spot::Carriage => "carriage",
            Spot::CarriageCentre => "carriage_centre",
            Spot::Controller => "controller",
            Spot::HeadJoint => "head_joint",
            Spot::Drive => "drive",
            Spot::Floor => "floor",
            Spot::Battery => "battery",
        }
    }

    /// The spot with this key.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Spot> {
        ANCHORS.into_iter().find(|spot| spot.key() == key)
    }

    /// Number in its balloon, from 1.
    #[must_use]
    pub fn number(self) -> u32 {
        self as u32 + 1
    }

    /// Its balloon's side (−1 left, 1 right) and place down the side (0 top … 1 floor): fixed,
    /// so that balloons rest while the robot moves.
    fn balloon(self) -> (f64, f64) {
        match self {
            Spot::HeadJoint => (-1.0, 0.26),
            Spot::Battery => (-1.0, 0.62),
            Spot::Drive => (-1.0, 0.82),
            Spot::Head => (1.0, 0.08),
            Spot::Shell => (1.0, 0.30),
            Spot::Controller => (1.0, 0.50),
            Spot::Carriage => (1.0, 0.66),
            Spot::CarriageCentre => (1.0, 0.82),
            Spot::Floor => (-1.0, 1.0),
        }
    }
}

/// A spot's place on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// Which.
    pub spot: Spot,
    /// Number of its balloon.
    pub number: u32,
    /// Where [px].
    pub at: Point,
}

/// All anchors, in the order of [`ANCHORS`].
#[must_use]
pub fn anchors(robot: &Robot, sample: &Sample, sheet: &Sheet<'_>) -> [Anchor; 9] {
    let pose = Pose::new(robot, sample, sheet);
    ANCHORS.map(|spot| Anchor {
        spot,
        number: spot.number(),
        at: place(&pose, sheet, spot),
    })
}

/// Where a spot is [px].
pub(crate) fn place(pose: &Pose<'_>, sheet: &Sheet<'_>, spot: Spot) -> Point {
    let wall = 0.5 * (pose.radius + pose.inner);
    match spot {
        Spot::Shell => pose.upright.polar(wall, 1.2),
        Spot::Head => {
            let (low, high) = pose.head_outline().bounds();
            let above = pose.robot.head.above_centre;
            let x = 0.22 * (high[0] - low[0]);
            let z = above + 0.3 * (high[1] - above).max(0.0);
            // A ragged outline may leave this corner out; its centre of mass is safe.
            if pose.head_outline().holds([x, z]) {
                pose.head.at([x, z])
            } else {
                pose.head_centre()
            }
        }
        Spot::Carriage => {
            let (low, high) = pose.carriage_outline().bounds();
            pose.carriage.at([
                low[0] + 0.80 * (high[0] - low[0]),
                low[1] + 0.22 * (high[1] - low[1]),
            ])
        }
        Spot::CarriageCentre => pose.carriage_centre(),
        Spot::Controller => {
            let (centre, half) = pose.controller();
            pose.carriage
                .at([centre[0] + 0.55 * half[0], centre[1] + 0.6 * half[1]])
        }
        Spot::HeadJoint => pose.mast.polar(pose.inner * 0.955, -0.16),
        Spot::Drive => match pose.rollers() {
            Some([left, _]) => pose.carriage.at(left.centre),
            None => pose.centre(),
        },
        Spot::Floor => {
            let shift = -0.5 * (sheet.camera.centre_x / pose.scale + pose.radius);
            let x = sheet.camera.x - pose.travel + shift;
            pose.floor.at([x, 0.0])
        }
        Spot::Battery => {
            let (centre, half) = pose.battery();
            pose.carriage
                .at([centre[0] - 0.55 * half[0], centre[1] + 0.3 * half[1]])
        }
    }
}

/// Radius of a balloon [px].
pub(crate) const BALLOON: f64 = 11.0;

/// Centre of a spot's balloon [px].
#[must_use]
pub fn balloon_centre(sheet: &Sheet<'_>, spot: Spot) -> Point {
    let (side, down) = spot.balloon();
    let margin = BALLOON + 7.0;
    let x = if side < 0.0 {
        margin
    } else {
        sheet.width - margin
    };
    let top = 0.06 * sheet.camera.floor_y;
    let bottom = sheet.camera.floor_y - BALLOON - 8.0;
    [x, top + down * (bottom - top)]
}
