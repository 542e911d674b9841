//! A pose as SVG, by the writer that the command line uses.

use js_sys::Array;
use kickstill_number::Within;
use kickstill_rig::Sample;
use kickstill_robot::{Robot, Unit};
use kickstill_scene::{
    Arrow, Beside, Camera, INK, Layers, Palette, Picture, Push, Sheet, Theme, head_centre, palette,
};
use serde::Serialize;
use wasm_bindgen::{JsCast, JsValue};

use super::Answer;
use super::ask::{Ask, get};
use crate::give::object;

/// Least and greatest width and height [px].
const SIZES: (f64, f64) = (64.0, 10_000.0);
/// Most points of a trail.
const MOST_POINTS: u32 = 2_000;

#[derive(Serialize)]
struct PictureOut {
    svg: String,
}

/// The colours asked for.
#[derive(Clone, Copy)]
enum Colours {
    Day,
    Night,
    Ink,
}

impl Colours {
    fn palette(self) -> &'static Palette {
        match self {
            Colours::Day => palette(Theme::Day),
            Colours::Night => palette(Theme::Night),
            Colours::Ink => &INK,
        }
    }
}

/// A finite number of an object, else zero.
fn number(object: &JsValue, key: &str) -> f64 {
    let value = get(object, key).as_f64().unwrap_or(0.0);
    if value.is_finite() { value } else { 0.0 }
}

fn sample_of(object: &JsValue) -> Sample {
    Sample::of_columns(|key| number(object, key))
}

fn is_given(value: &JsValue) -> bool {
    !(value.is_undefined() || value.is_null())
}

/// Where the ball was painted tells where the camera looked.
fn camera(seen: &JsValue, robot: &Robot, sample: &Sample, fit: Camera) -> Camera {
    let (scale, floor_y) = (number(seen, "scale"), number(seen, "floorY"));
    let sound = scale > 1e-3 && scale < 1e6 && floor_y.abs() < 1e6;
    if !sound {
        return Camera {
            x: sample.travel,
            ..fit
        };
    }
    let here = Camera {
        x: 0.0,
        floor_y,
        scale,
        ..fit
    };
    let ball = [number(seen, "ballX"), number(seen, "ballY")];
    let along = here.to_floor(ball, sample.slope)[0];
    // A ball far off the sheet is one that was never painted.
    let widest = 1e3 * robot.shell.outer_radius.max(1e-3);
    let x = if along.is_finite() && along.abs() < widest {
        sample.travel - along
    } else {
        sample.travel
    };
    Camera { x, ..here }
}

fn arrow(value: &JsValue, robot: &Robot) -> Option<Arrow> {
    let push = match get(value, "push").as_string().as_deref() {
        Some("kick") => Push::Kick,
        Some("bump") => Push::Bump,
        _ => return None,
    };
    Some(Arrow {
        push,
        impulse: number(value, "impulse").within(-1e6, 1e6),
        height: number(value, "height").within(0.0, 2.0 * robot.shell.outer_radius),
        speed: None,
        preview: false,
    })
}

/// The head's way, from pairs of travel and tilt as strips give them, in the units shown.
fn trail(value: &JsValue, robot: &Robot, now: &Sample) -> Vec<[f64; 2]> {
    let Some(list) = value.dyn_ref::<Array>() else {
        return Vec::new();
    };
    let count = list.length().min(MOST_POINTS);
    (0..count)
        .filter_map(|at| {
            let pair = list.get(at).dyn_into::<Array>().ok()?;
            let (travel, tilt) = (pair.get(0).as_f64()?, pair.get(1).as_f64()?);
            let past = Sample {
                travel: Unit::Metre.shown().to_si(travel),
                tilt: Unit::Radian.shown().to_si(tilt),
                slope: now.slope,
                ..Sample::default()
            };
            (travel.is_finite() && tilt.is_finite()).then(|| head_centre(robot, &past))
        })
        .collect()
}

fn layers(ask: &mut Ask) -> Option<Layers> {
    let value = ask.get("layers");
    let mut layers = Layers {
        angles: false,
        ..Layers::default()
    };
    if !is_given(&value) {
        return Some(Layers::default());
    }
    let Some(list) = value.dyn_ref::<Array>() else {
        ask.wrong("layers", "a list of layers", &value);
        return None;
    };
    for item in list.iter().take(16) {
        match item.as_string().as_deref() {
            Some("forces") => layers.forces = true,
            Some("centres") => layers.centres = true,
            Some("trail") => layers.trail = true,
            Some("grid") => layers.grid = true,
            Some("angles") => layers.angles = true,
            Some("lengths") => layers.lengths = true,
            _ => {
                let all = "layers: forces, centres, trail, grid, angles, lengths";
                ask.wrong("layers", all, &item);
                return None;
            }
        }
    }
    Some(layers)
}

pub(super) fn picture(mut ask: Ask) -> Answer {
    let robot = ask.robot("robot");
    let whole = ask.whole_object();
    let view = ask.view(&whole);
    let colours = [
        ("day", Colours::Day),
        ("night", Colours::Night),
        ("ink", Colours::Ink),
    ];
    let colour = ask.word("colours", &get(&whole, "colours"), &colours);
    let layers = layers(&mut ask);
    let mut side = |key: &str| {
        let value = ask.get(key);
        let found = value.as_f64().filter(|v| (SIZES.0..=SIZES.1).contains(v));
        if found.is_none() {
            let (least, most) = SIZES;
            ask.wrong(
                key,
                format!("a number of pixels from {least} to {most}"),
                &value,
            );
        }
        found
    };
    let size = side("width").zip(side("height"));
    let beside = if ask.has("beside") {
        ask.robot("beside").map(Some)
    } else {
        Some(None)
    };
    let units = ask.units;
    let asked = robot
        .zip(view)
        .zip(colour.zip(layers))
        .zip(size.zip(beside));
    let (((robot, view), (colour, layers)), ((width, height), beside)) = ask.finish(asked)?;
    let sample = sample_of(&get(&whole, "sample"));
    let other = sample_of(&get(&whole, "besideSample"));
    let label = get(&whole, "besideLabel").as_string().unwrap_or_default();
    let seen = get(&whole, "seen");
    let fit = Sheet::fit(&robot, view, width, height).camera;
    let trail = trail(&get(&whole, "trail"), &robot, &sample);
    let picture = Picture {
        layers,
        camera: is_given(&seen).then(|| camera(&seen, &robot, &sample, fit)),
        arrow: arrow(&get(&whole, "arrow"), &robot),
        trail: &trail,
        beside: beside.as_ref().map(|robot| Beside {
            robot,
            sample: &other,
            label: &label,
        }),
        ..Picture::of(view, [width, height])
    };
    let words = |text: &str| units.dimension(text);
    Ok(object(&PictureOut {
        svg: picture.svg_in(&robot, &sample, colour.palette(), &words),
    }))
}
