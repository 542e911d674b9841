//! A view of the robot as one SVG: what the command line draws, and what the page saves.

use kickstill_rig::Sample;
use kickstill_robot::{Robot, View};

use crate::draw::{draw, draw_outline};
use crate::list::DisplayList;
use crate::palette::Palette;
use crate::sheet::{Arrow, Camera, Layers, Sheet};
use crate::svg::svg_in;

/// A second robot drawn in outline.
#[derive(Clone, Copy, Debug)]
pub struct Beside<'a> {
    /// It.
    pub robot: &'a Robot,
    /// How it stands.
    pub sample: &'a Sample,
    /// What it is called.
    pub label: &'a str,
}

/// What is drawn with the robot, and how large.
#[derive(Clone, Copy, Debug)]
pub struct Picture<'a> {
    /// Which view.
    pub view: View,
    /// Width and height [px].
    pub size: [f64; 2],
    /// What is drawn beside the robot.
    pub layers: Layers,
    /// Whether parts carry numbered balloons.
    pub balloons: bool,
    /// Where the camera looks; none: the whole robot, in the middle.
    pub camera: Option<Camera>,
    /// Kick or bump to show.
    pub arrow: Option<Arrow>,
    /// Face of a wall: place along the floor [m].
    pub wall: Option<f64>,
    /// Trail of the head's centre of mass, oldest first [m].
    pub trail: &'a [[f64; 2]],
    /// A second robot.
    pub beside: Option<Beside<'a>>,
}

impl Picture<'_> {
    /// The robot alone, in the middle of a sheet of this size.
    #[must_use]
    pub fn of(view: View, size: [f64; 2]) -> Picture<'static> {
        Picture {
            view,
            size,
            layers: Layers::default(),
            balloons: false,
            camera: None,
            arrow: None,
            wall: None,
            trail: &[],
            beside: None,
        }
    }

    /// As SVG: same robot, sample and picture, same bytes, on every machine.
    #[must_use]
    pub fn svg(&self, robot: &Robot, sample: &Sample, palette: &Palette) -> String {
        self.svg_in(robot, sample, palette, &|_| None)
    }

    /// The same where `words` may say a text otherwise, such as in other units.
    #[must_use]
    pub fn svg_in(
        &self,
        robot: &Robot,
        sample: &Sample,
        palette: &Palette,
        words: &dyn Fn(&str) -> Option<String>,
    ) -> String {
        let [width, height] = self.size;
        let fit = Sheet::fit(robot, self.view, width, height);
        let whole = Camera {
            x: sample.travel,
            ..fit.camera
        };
        let sheet = Sheet {
            camera: self.camera.unwrap_or(whole),
            layers: self.layers,
            balloons: self.balloons,
            // Nobody can drag it on paper.
            handle: false,
            arrow: self.arrow,
            wall: self.wall,
            trail: self.trail,
            ..fit
        };
        let mut list = DisplayList::new();
        draw(robot, sample, &sheet, &mut list);
        if let Some(beside) = self.beside {
            draw_outline(
                beside.robot,
                beside.sample,
                &sheet,
                'B',
                beside.label,
                &mut list,
            );
        }
        svg_in(&list, palette, self.size, words)
    }
}

/// The robot at rest with centres of mass and lengths, as it stands on printed sheets.
#[must_use]
pub fn at_rest(
    robot: &Robot,
    view: View,
    size: [f64; 2],
    palette: &Palette,
    words: &dyn Fn(&str) -> Option<String>,
) -> String {
    let layers = Layers {
        centres: true,
        lengths: true,
        angles: false,
        ..Layers::default()
    };
    let picture = Picture {
        layers,
        ..Picture::of(view, size)
    };
    picture.svg_in(robot, &Sample::default(), palette, words)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::palette::{INK, Theme, palette};
    use kickstill_robot::demo;

    #[test]
    fn the_camera_asked_for_is_the_camera_used() {
        let robot = demo("cobnut").unwrap();
        let size = [600.0, 400.0];
        let sample = Sample {
            travel: 1.5,
            swing: 0.1,
            ..Sample::default()
        };
        let whole = Picture::of(View::Side, size);
        let fit = Sheet::fit(&robot, View::Side, size[0], size[1]);
        let same = Picture {
            camera: Some(Camera {
                x: 1.5,
                ..fit.camera
            }),
            ..whole
        };
        let day = palette(Theme::Day);
        assert_eq!(
            whole.svg(&robot, &sample, day),
            same.svg(&robot, &sample, day)
        );
        let other = Picture {
            camera: Some(fit.camera),
            ..whole
        };
        assert_ne!(
            whole.svg(&robot, &sample, day),
            other.svg(&robot, &sample, day)
        );
    }

    #[test]
    fn print_is_black_and_grey_and_a_second_robot_is_drawn() {
        let robot = demo("thimble").unwrap();
        let text = at_rest(&robot, View::Front, [640.0, 520.0], &INK, &|_| None);
        for colour in text.split('#').skip(1).filter_map(|rest| rest.get(..6)) {
            if let (Some(r), Some(g), Some(b)) =
                (colour.get(..2), colour.get(2..4), colour.get(4..))
            {
                assert!(r == g && g == b, "#{colour}");
            }
        }
        let sample = Sample::default();
        let both = Picture {
            beside: Some(Beside {
                robot: &robot,
                sample: &sample,
                label: "<b>",
            }),
            ..Picture::of(View::Side, [640.0, 520.0])
        };
        let text = both.svg(&robot, &sample, &INK);
        assert!(text.contains("data-part=\"double\"") && text.contains("&lt;b&gt;"));
    }
}
