//! The sheet: its size, where the camera looks, what is shown beside the robot.

use kickstill_number::Within;
use kickstill_robot::{Robot, View};

use crate::anchor::Spot;
use crate::list::Point;
use crate::outline::Outline;
use crate::place::Place;

/// Which place of the floor lies where on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Camera {
    /// Place along the floor [m] that is drawn at `centre_x`, `floor_y`.
    pub x: f64,
    /// Where that place is on the sheet, from the left [px].
    pub centre_x: f64,
    /// Where that place is on the sheet, from the top [px].
    pub floor_y: f64,
    /// Pixels a metre.
    pub scale: f64,
}

impl Camera {
    /// Follows the ball, letting it go `slack` [m] to either side before the sheet moves.
    pub fn follow(&mut self, travel: f64, slack: f64) {
        if travel.is_finite() {
            self.x = self.x.within(travel - slack, travel + slack);
        }
    }

    /// The floor: along it to the right, from it upward, turned by the slope [rad].
    pub(crate) fn floor(&self, slope: f64) -> Place {
        Place::new([self.centre_x, self.floor_y], self.scale, slope)
    }

    /// Where a place of the floor's plane is on the sheet [px].
    #[must_use]
    pub fn to_sheet(&self, along: f64, height: f64, slope: f64) -> Point {
        self.floor(slope).at([along - self.x, height])
    }

    /// Which place of the floor's plane a point of the sheet is: along the floor, above it [m].
    #[must_use]
    pub fn to_floor(&self, point: Point, slope: f64) -> [f64; 2] {
        let [along, height] = self.floor(slope).back(point);
        [along + self.x, height]
    }
}

/// What is drawn beside the robot itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layers {
    /// Weight, floor force, traction, push.
    pub forces: bool,
    /// Centres of mass of every body and of the whole.
    pub centres: bool,
    /// Trail of the head's centre of mass.
    pub trail: bool,
    /// Grid in the floor's marks.
    pub grid: bool,
    /// Swing, lean and head angle with their numbers.
    pub angles: bool,
    /// Dimension of the carriage below the centre.
    pub lengths: bool,
}

impl Default for Layers {
    fn default() -> Layers {
        Layers {
            forces: false,
            centres: false,
            trail: false,
            grid: false,
            angles: true,
            lengths: false,
        }
    }
}

/// What an arrow pushes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Push {
    /// The shell.
    Kick,
    /// The head.
    Bump,
}

/// A kick or bump, drawn as an arrow.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arrow {
    /// What it pushes.
    pub push: Push,
    /// Impulse [N·s]; positive along +x.
    pub impulse: f64,
    /// Height above the floor [m] (a bump is drawn at the head's widest point).
    pub height: f64,
    /// Speed that it gives the ball [m/s], if known.
    pub speed: Option<f64>,
    /// While it is still being aimed: drawn in outline.
    pub preview: bool,
}

/// A leader line from a callout beside the drawing to its part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leader {
    /// The part.
    pub part: Spot,
    /// Where the line starts [px].
    pub from: Point,
}

/// One view of the robot and what is drawn with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet<'a> {
    /// Width [CSS px].
    pub width: f64,
    /// Height [CSS px].
    pub height: f64,
    /// Which view.
    pub view: View,
    /// Where the camera looks.
    pub camera: Camera,
    /// What is drawn beside the robot.
    pub layers: Layers,
    /// Whether parts carry numbered balloons (the numbers of [`ANCHORS`](crate::ANCHORS)).
    pub balloons: bool,
    /// Whether the floor's tilting handle is drawn, and can be hit.
    pub handle: bool,
    /// Whether the floor is marked in inches and feet; otherwise in metres.
    pub feet: bool,
    /// Kick or bump to show.
    pub arrow: Option<Arrow>,
    /// Face of a wall: place along the floor [m].
    pub wall: Option<f64>,
    /// Trail of the head's centre of mass, oldest first: along the floor, above it [m].
    pub trail: &'a [[f64; 2]],
    /// Leader lines to draw.
    pub leaders: &'a [Leader],
}

/// Narrower sheets than this [px] get balloons in place of callouts.
const NARROW: f64 = 720.0;

impl Sheet<'static> {
    /// A sheet of this size with the robot in the middle: about 62 % of its height, less where
    /// the callouts beside it (or the balloons on a narrow sheet) need the width.
    #[must_use]
    pub fn fit(robot: &Robot, view: View, width: f64, height: f64) -> Sheet<'static> {
        let (width, height) = (width.max(1.0), height.max(1.0));
        let narrow = width < NARROW;
        let radius = robot.shell.outer_radius.max(1e-3);
        let (low, high) = Outline::head(robot, view).bounds();
        let top = high[1].max(robot.head.above_centre).max(radius);
        let across = 2.0 * radius.max(high[0]).max(-low[0]);
        // Below the floor stand its marks and the diameter's dimension line.
        let below = if narrow { 62.0_f64 } else { 74.0 }.min(0.25 * height);
        let by_height = (0.62 * height).min(height - below - 28.0).max(1.0) / (radius + top);
        let columns = if narrow { 0.72 } else { 0.46 };
        let by_width = columns * width / across;
        let scale = by_height.min(by_width).max(1e-3);
        // What is left over is shared: two thirds above the robot, where the head may tilt.
        let spare = height - below - (radius + top) * scale;
        Sheet {
            width,
            height,
            view,
            camera: Camera {
                x: 0.0,
                centre_x: 0.5 * width,
                floor_y: height - below - 0.3 * (spare - 28.0).max(0.0),
                scale,
            },
            layers: Layers::default(),
            balloons: narrow,
            handle: true,
            feet: false,
            arrow: None,
            wall: None,
            trail: &[],
            leaders: &[],
        }
    }
}

impl Sheet<'_> {
    /// Size of the drawing's words [px].
    pub(crate) fn text_size(&self) -> f64 {
        if self.width < 480.0 { 11.0 } else { 12.5 }
    }

    /// How long an arrow of this impulse is drawn [px]: half a second's way at the speed the
    /// impulse would give the whole robot (a quarter of its mass for a bump).
    #[must_use]
    pub fn arrow_length(&self, robot: &Robot, push: Push, impulse: f64) -> f64 {
        let length = impulse.abs() / pushed_mass(robot, push) * ARROW_TIME * self.camera.scale;
        length.within(18.0, 0.4 * self.width.max(45.0))
    }

    /// Which impulse an arrow of this length means [N·s]: the inverse of
    /// [`arrow_length`](Sheet::arrow_length), signed like `length` [px].
    #[must_use]
    pub fn arrow_impulse(&self, robot: &Robot, push: Push, length: f64) -> f64 {
        length / (ARROW_TIME * self.camera.scale) * pushed_mass(robot, push)
    }
}

/// Way of drawing for speed: an arrow is as long as the way in this time [s].
const ARROW_TIME: f64 = 0.5;

fn pushed_mass(robot: &Robot, push: Push) -> f64 {
    let share = match push {
        Push::Kick => 1.0,
        Push::Bump => 0.25,
    };
    (share * robot.total_mass()).max(1e-6)
}
