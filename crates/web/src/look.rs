//! How one plane is looked at: camera, layers, trail, arrows; and where things then are on the
//! sheet, for the page's callouts and hands.

use kickstill_number::Within;
use kickstill_rig::{Sample, Trial};
use kickstill_robot::{Robot, View};
use kickstill_scene::{
    ANCHORS, Arrow, Camera, Layers, Push as Pushed, Sheet, Spot, Target, Theme, anchors,
    head_centre, hit, slope_handle,
};

use crate::plane::Plane;

/// Bits of `paint`'s layers.
const NIGHT: u32 = 1;
const FORCES: u32 = 2;
const CENTRES: u32 = 4;
const TRAIL: u32 = 8;
const GRID: u32 = 16;
const FORCED: u32 = 32;
const STILL: u32 = 64;

/// How far the ball may leave the middle, as a share of the sheet's width.
const SLACK: f64 = 0.07;
/// How far it may leave it where motion is to be kept low: then the view steps after it.
const STEP: f64 = 0.28;
/// How fast the camera comes back to it [1/s].
const RETURN: f64 = 1.5;
/// How long the head's trail reaches back [s], and its points.
const TRAIL_TIME: f64 = 4.0;
const TRAIL_POINTS: usize = 240;
/// Room above the head, where it may tilt [px].
const HEADROOM: f64 = 40.0;
/// Narrower sheets have no callouts beside the robot [px].
const NARROW: f64 = 860.0;
/// How long the arrow of a kick stays after it [s].
const ARROW_STAYS: f64 = 0.9;

/// Numbers before the anchors of the scene.
const OWN: [&str; 8] = [
    "ball_x",
    "ball_y",
    "ball_radius",
    "scale",
    "floor_y",
    "slope_x",
    "slope_y",
    "head_top_y",
];

/// How one plane is looked at.
pub(crate) struct Look {
    view: View,
    camera_x: f64,
    painted_at: f64,
    size: [f64; 2],
    layers: u32,
    trail: Vec<[f64; 2]>,
    aim: Option<Arrow>,
    places: Vec<f64>,
}

/// Names of the numbers that [`Look::places`] gives, in order.
pub(crate) fn place_names() -> Vec<String> {
    let own = OWN.iter().map(|name| (*name).to_owned());
    let spots = ANCHORS
        .iter()
        .flat_map(|spot| [format!("{}_x", spot.key()), format!("{}_y", spot.key())]);
    own.chain(spots).collect()
}

impl Look {
    pub(crate) fn new(view: View) -> Look {
        Look {
            view,
            camera_x: 0.0,
            painted_at: 0.0,
            size: [640.0, 400.0],
            layers: 0,
            trail: Vec::with_capacity(TRAIL_POINTS),
            aim: None,
            places: vec![f64::NAN; place_names().len()],
        }
    }

    /// Size of the sheet [CSS px] and layers; sizes that are none are left alone.
    pub(crate) fn set(&mut self, width: f64, height: f64, layers: u32) {
        let sound = |size: f64| size.is_finite() && (1.0..=20_000.0).contains(&size);
        if sound(width) && sound(height) {
            self.size = [width, height];
        }
        self.layers = layers;
    }

    pub(crate) fn size(&self) -> [f64; 2] {
        self.size
    }

    pub(crate) fn theme(&self) -> Theme {
        if self.layers & FORCED != 0 {
            Theme::Forced
        } else if self.layers & NIGHT != 0 {
            Theme::Night
        } else {
            Theme::Day
        }
    }

    /// Shows a kick that is being aimed, or no longer.
    pub(crate) fn aim(&mut self, aim: Option<Arrow>) {
        self.aim = aim;
    }

    /// Places of the last sheet, see [`place_names`].
    pub(crate) fn places(&self) -> &[f64] {
        &self.places
    }

    /// Moves the camera for the state to be shown, and remembers where everything is.
    pub(crate) fn follow(&mut self, robot: &Robot, sample: &Sample, plane: &Plane) {
        let scale = self.fitted(robot).camera.scale;
        let passed = (sample.time - self.painted_at).abs().min(0.1);
        self.painted_at = sample.time;
        if self.layers & STILL != 0 {
            if (sample.travel - self.camera_x).abs() > STEP * self.size[0] / scale {
                self.camera_x = sample.travel;
            }
        } else if sample.travel.is_finite() {
            self.camera_x += (sample.travel - self.camera_x) * (RETURN * passed).min(1.0);
            let slack = SLACK * self.size[0] / scale;
            self.camera_x = self
                .camera_x
                .within(sample.travel - slack, sample.travel + slack);
        }
        self.trail.clear();
        if self.layers & TRAIL != 0 {
            let every = TRAIL_TIME / TRAIL_POINTS as f64;
            let mut next = f64::INFINITY;
            for past in plane.back_from(sample.time) {
                if past.time < sample.time - TRAIL_TIME {
                    break;
                }
                if past.time <= next {
                    let [along, above] = head_centre(robot, past);
                    self.trail.push([along, above]);
                    next = past.time - every;
                }
            }
            self.trail.reverse();
        }
    }

    /// The scene's own fit, with the robot grown until it fills the height: it is what the page
    /// is about.
    fn fitted(&self, robot: &Robot) -> Sheet<'static> {
        let [width, height] = self.size;
        let fit = Sheet::fit(robot, self.view, width, height);
        let narrow = width < NARROW;
        let floor_y = height - if narrow { 66.0 } else { 78.0 };
        let outline = match self.view {
            View::Side => &robot.outlines.head_side,
            View::Front => &robot.outlines.head_front,
        };
        let radius = robot.shell.outer_radius;
        let top = outline
            .iter()
            .map(|point| point[1])
            .fold(radius.max(robot.head.above_centre), f64::max);
        let wide = outline
            .iter()
            .map(|point| point[0].abs())
            .fold(radius, f64::max);
        let by_height = (floor_y - HEADROOM) / (radius + top);
        let by_width = width * if narrow { 0.66 } else { 0.44 } / (2.0 * wide);
        let scale = by_height.min(by_width).max(fit.camera.scale);
        Sheet {
            camera: Camera {
                floor_y: if scale > fit.camera.scale {
                    floor_y
                } else {
                    fit.camera.floor_y
                },
                scale,
                ..fit.camera
            },
            ..fit
        }
    }

    /// The sheet to draw.
    pub(crate) fn sheet(&self, robot: &Robot, sample: &Sample, plane: &Plane) -> Sheet<'_> {
        let fitted = self.fitted(robot);
        let bit = |bit: u32| self.layers & bit != 0;
        Sheet {
            camera: Camera {
                x: self.camera_x,
                ..fitted.camera
            },
            layers: Layers {
                forces: bit(FORCES),
                centres: bit(CENTRES),
                trail: bit(TRAIL),
                grid: bit(GRID),
                ..fitted.layers
            },
            // Numbers and leaders are the page's, which knows where its callouts are.
            balloons: false,
            arrow: self.aim.or_else(|| given(sample, plane)),
            trail: &self.trail,
            ..fitted
        }
    }

    /// Where everything is on this sheet.
    pub(crate) fn place(&mut self, robot: &Robot, sample: &Sample, plane: &Plane) {
        let sheet = self.sheet(robot, sample, plane);
        let radius = robot.shell.outer_radius;
        let centre = sheet.camera.to_sheet(sample.travel, radius, sample.slope);
        let handle = slope_handle(sample, &sheet);
        let top = centre[1] - (robot.head.widest_above_centre.max(radius)) * sheet.camera.scale;
        let mut places = vec![
            centre[0],
            centre[1],
            radius * sheet.camera.scale,
            sheet.camera.scale,
            sheet.camera.floor_y,
            handle[0],
            handle[1],
            top,
        ];
        for anchor in anchors(robot, sample, &sheet) {
            places.extend(anchor.at);
        }
        self.places = places;
    }

    /// What a pointer touches: 0 nothing, 1 to kick, 2 to bump; and its height above the floor
    /// [m], within the shell's.
    pub(crate) fn touch(
        &self,
        robot: &Robot,
        sample: &Sample,
        plane: &Plane,
        at: [f64; 2],
        slack: f64,
    ) -> [f64; 2] {
        let sheet = self.sheet(robot, sample, plane);
        let tall = 2.0 * robot.shell.outer_radius;
        let slack = if slack.is_finite() {
            slack.within(0.0, 40.0)
        } else {
            0.0
        };
        // A finger is wide: look around it too, the middle first.
        for [dx, dy] in [[0.0, 0.0], [1.0, 0.0], [-1.0, 0.0], [0.0, 1.0], [0.0, -1.0]] {
            let found = hit(
                robot,
                sample,
                &sheet,
                at[0] + dx * slack,
                at[1] + dy * slack,
            );
            let Some(found) = found else { continue };
            let height = found.height.within(0.0, tall);
            match found.target {
                Target::Shell | Target::Carriage | Target::CarriageCentre => return [1.0, height],
                Target::Head => return [2.0, height],
                Target::SlopeHandle | Target::Floor => {}
            }
        }
        [0.0, 0.0]
    }

    /// How far down the carriage's own line from the shell's centre a place lies [m].
    pub(crate) fn below(&self, robot: &Robot, sample: &Sample, plane: &Plane, at: [f64; 2]) -> f64 {
        let sheet = self.sheet(robot, sample, plane);
        let radius = robot.shell.outer_radius;
        let centre = sheet.camera.to_sheet(sample.travel, radius, sample.slope);
        let hangs = anchors(robot, sample, &sheet)
            .iter()
            .find(|anchor| anchor.spot == Spot::CarriageCentre)
            .map_or(centre, |anchor| anchor.at);
        let [along, down] = [hangs[0] - centre[0], hangs[1] - centre[1]];
        let length = (along * along + down * down).sqrt();
        // A centre of mass in the middle hangs nowhere: then straight down.
        let [along, down] = if length < 1.0 {
            [0.0, 1.0]
        } else {
            [along / length, down / length]
        };
        ((at[0] - centre[0]) * along + (at[1] - centre[1]) * down) / sheet.camera.scale
    }

    /// Impulse that an arrow of this length [px] means [N·s].
    pub(crate) fn impulse(&self, robot: &Robot, bump: bool, length: f64) -> f64 {
        let push = if bump { Pushed::Bump } else { Pushed::Kick };
        self.fitted(robot).arrow_impulse(robot, push, length)
    }
}

/// The arrow of the push that began this run, while it is fresh.
fn given(sample: &Sample, plane: &Plane) -> Option<Arrow> {
    let (push, seconds) = plane.run();
    let push = push?;
    let age = seconds - (plane.now() - sample.time);
    if !(0.0..ARROW_STAYS).contains(&age) {
        return None;
    }
    let kind = match push.trial {
        Trial::Kick => Pushed::Kick,
        Trial::Bump => Pushed::Bump,
        _ => return None,
    };
    Some(Arrow {
        push: kind,
        impulse: push.impulse,
        height: push.height,
        speed: None,
        preview: false,
    })
}
