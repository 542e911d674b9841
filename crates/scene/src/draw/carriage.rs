//! Carriage with battery, controller, drive, post and mast.

use kickstill_number::Within;
use kickstill_rig::{Level, Sample};

use crate::draw::{EDGE, HATCH, PART, THIN, level};
use crate::list::{Align, Dash, DisplayList, Style, TextStyle};
use crate::palette::Role;
use crate::place::{Place, along};
use crate::pose::{Pose, Roller};
use crate::sheet::Sheet;

pub(crate) fn draw(pose: &Pose<'_>, sample: &Sample, sheet: &Sheet<'_>, out: &mut DisplayList) {
    let level = level(sample);
    out.group("carriage");
    // Motors off: the carriage is drawn as what it then is, a weight, with a broken edge.
    let edge = match level {
        Level::Off => Style::line(Role::Ink, EDGE).dashed(Dash::Dashed),
        Level::Locked | Level::Steadied => Style::line(Role::Ink, EDGE),
    };
    let rollers = pose.rollers();
    for roller in rollers.iter().flatten() {
        arm(pose, roller, out);
    }
    post(pose, rollers.is_none(), out);
    out.polygon(
        pose.carriage_outline()
            .points()
            .map(|p| pose.carriage.at(p)),
        edge.filled(Role::Carriage),
    );
    battery(pose, out);
    controller(pose, level, sheet, out);
    for roller in rollers.iter().flatten() {
        wheel(pose, roller, out);
    }
    mast(pose, out);
    match rollers {
        Some(_) => out.circle(
            pose.centre(),
            pose.px(0.045 * pose.radius),
            Style::line(Role::Ink, PART).filled(Role::Box),
        ),
        None => hub(pose, out),
    }
    if level == Level::Locked {
        locks(pose, &rollers, out);
    }
    out.end();
}

/// The post that carries the mast's bearing at the shell's centre; on an axle drive it is the
/// arm on which the carriage hangs.
fn post(pose: &Pose<'_>, hanging: bool, out: &mut DisplayList) {
    let r = pose.radius;
    let (_, high) = pose.carriage_outline().bounds();
    let foot = high[1] - 0.02 * r;
    let (top, bottom) = if hanging {
        (0.11, 0.20)
    } else {
        (0.035, 0.075)
    };
    out.polygon(
        [
            [-top * r, 0.0],
            [top * r, 0.0],
            [bottom * r, foot],
            [-bottom * r, foot],
        ]
        .map(|p| pose.carriage.at(p)),
        Style::line(Role::Ink, PART).filled(Role::Box),
    );
}

fn battery(pose: &Pose<'_>, out: &mut DisplayList) {
    let (centre, half) = pose.battery();
    let corner = |x: f64, z: f64| {
        pose.carriage
            .at([centre[0] + x * half[0], centre[1] + z * half[1]])
    };
    out.polygon(
        [
            corner(-1.0, -1.0),
            corner(1.0, -1.0),
            corner(1.0, 1.0),
            corner(-1.0, 1.0),
        ],
        Style::line(Role::Ink, PART).filled(Role::Box),
    );
    // A bought part, drawn as its crossed box.
    out.path(Style::line(Role::Ink, HATCH))
        .move_to(corner(-1.0, -1.0))
        .line_to(corner(1.0, 1.0))
        .move_to(corner(-1.0, 1.0))
        .line_to(corner(1.0, -1.0));
    out.path(Style::line(Role::Ink, EDGE));
    for x in [-0.5, 0.5] {
        out.move_to(corner(x - 0.16, 1.12))
            .line_to(corner(x + 0.16, 1.12));
    }
}

/// The controller's box tells the software's level by word and by colour.
fn controller(pose: &Pose<'_>, level: Level, sheet: &Sheet<'_>, out: &mut DisplayList) {
    let (centre, half) = pose.controller();
    let corner = |x: f64, z: f64| {
        pose.carriage
            .at([centre[0] + x * half[0], centre[1] + z * half[1]])
    };
    let (role, word) = match level {
        Level::Off => (Role::WithoutSoftware, "off"),
        Level::Locked => (Role::Ink, "lock"),
        Level::Steadied => (Role::WithSoftware, "on"),
    };
    out.polygon(
        [
            corner(-1.0, -1.0),
            corner(1.0, -1.0),
            corner(1.0, 1.0),
            corner(-1.0, 1.0),
        ],
        Style::line(role, PART).filled(Role::Box),
    );
    // Solder pins along its foot.
    out.path(Style::line(role, THIN));
    for x in [-0.75, -0.25, 0.25, 0.75] {
        out.move_to(corner(x, -1.0)).line_to(corner(x, -1.25));
    }
    let room = (2.0 * pose.px(half[0]) / 2.5).min(2.0 * pose.px(half[1]) * 0.62);
    let size = room.min(sheet.text_size());
    if size >= 6.0 {
        let drop = 0.36 * size / pose.px(half[1]).max(1e-6);
        out.words(
            corner(0.0, -drop),
            TextStyle::new(role, size)
                .align(Align::Middle)
                .bold()
                .turned(-pose.swing),
            format_args!("{word}"),
        );
    }
}

fn arm(pose: &Pose<'_>, roller: &Roller, out: &mut DisplayList) {
    let (from, to) = (
        pose.carriage.at(roller.foot),
        pose.carriage.at(roller.centre),
    );
    let width = pose.px(0.045 * pose.radius).within(3.0, 8.0);
    out.line(from, to, Style::line(Role::Ink, width));
    out.line(from, to, Style::line(Role::Box, (width - 2.4).max(0.6)));
}

/// A roller, with its spokes turned as it rolls on the rim.
fn wheel(pose: &Pose<'_>, roller: &Roller, out: &mut DisplayList) {
    let centre = pose.carriage.at(roller.centre);
    let radius = pose.px(roller.radius);
    out.circle(
        centre,
        radius - 0.5,
        Style::line(Role::Ink, EDGE).filled(Role::Box),
    );
    out.circle(centre, 0.78 * radius, Style::line(Role::Ink, HATCH));
    // Inside a rim both turn the same way, the roller by the lever faster.
    let turned = pose.relative_roll() * pose.inner / roller.radius - pose.swing;
    let spokes = Place::new(centre, pose.scale, -turned);
    out.path(Style::line(Role::Ink, PART));
    for spoke in 0..3 {
        let angle = f64::from(spoke) * core::f64::consts::TAU / 3.0;
        out.move_to(spokes.polar(0.25 * roller.radius, angle))
            .line_to(spokes.polar(0.78 * roller.radius, angle));
    }
    out.circle(centre, (0.2 * radius).max(2.0), Style::fill(Role::Ink));
}

/// Hub of an axle drive: fixed to the shell, so its key turns with it; the pinion drives it.
fn hub(pose: &Pose<'_>, out: &mut DisplayList) {
    let centre = pose.centre();
    let r = pose.px(pose.radius);
    let edge = Style::line(Role::Ink, PART).filled(Role::Box);
    let pinion = pose.carriage.at([0.0, -0.245 * pose.radius]);
    out.circle(pinion, 0.065 * r, edge);
    out.circle(pinion, 0.018 * r, Style::fill(Role::Ink));
    out.circle(
        centre,
        0.18 * r,
        Style::line(Role::Ink, EDGE).filled(Role::Box),
    );
    out.circle(
        centre,
        0.155 * r,
        Style::line(Role::Hidden, HATCH).dashed(Dash::DashDot),
    );
    out.circle(centre, 0.075 * r, edge);
    let key = 0.022 * pose.radius;
    let (low, high) = (0.055 * pose.radius, 0.098 * pose.radius);
    out.polygon(
        [[-key, low], [key, low], [key, high], [-key, high]].map(|p| pose.shell.at(p)),
        Style::fill(Role::Ink),
    );
    out.path(Style::line(Role::Ink, THIN));
    for spoke in 1..4 {
        let angle = f64::from(spoke) * core::f64::consts::FRAC_PI_2;
        out.move_to(pose.shell.polar(low * 1.4, angle))
            .line_to(pose.shell.polar(0.14 * pose.radius, angle));
    }
}

/// The mast with the inner magnets, turned by the servo.
fn mast(pose: &Pose<'_>, out: &mut DisplayList) {
    let r = pose.radius;
    let carrier = pose.inner - 0.05 * r;
    out.polygon(
        [
            [-0.018 * r, 0.0],
            [0.018 * r, 0.0],
            [0.013 * r, carrier],
            [-0.013 * r, carrier],
        ]
        .map(|p| pose.mast.at(p)),
        Style::line(Role::Ink, THIN).filled(Role::Ink),
    );
    let width = pose.px(0.022 * r).within(2.0, 5.0);
    out.arc(
        pose.centre(),
        pose.px(carrier),
        pose.mast.sheet_angle(-0.2),
        0.4,
        Style::line(Role::Ink, width),
    );
    magnets(pose, &pose.mast, pose.inner - 0.028 * r, out);
}

/// Magnets in pairs along an arc about the shell's centre.
pub(crate) fn magnets(pose: &Pose<'_>, place: &Place, radius: f64, out: &mut DisplayList) {
    let thick = pose.px(0.030 * pose.radius).within(2.5, 6.0);
    for at in [-0.135, 0.0, 0.135] {
        out.arc(
            place.origin,
            pose.px(radius),
            place.sheet_angle(at - 0.043),
            0.086,
            Style::line(Role::Ink, thick),
        );
    }
}

/// Lock bars across the joints that are held.
fn locks(pose: &Pose<'_>, rollers: &Option<[Roller; 2]>, out: &mut DisplayList) {
    let long = pose.px(0.075 * pose.radius).within(6.0, 14.0);
    let mut bar = |at: [f64; 2], across: [f64; 2]| {
        let (from, to) = (along(at, across, -long), along(at, across, long));
        out.line(from, to, Style::line(Role::Ink, 6.5));
        out.line(
            along(at, across, -long + 1.5),
            along(at, across, long - 1.5),
            Style::line(Role::Box, 3.0),
        );
    };
    match rollers {
        Some(rollers) => {
            for roller in rollers {
                let (sin, cos) = libm::sincos(roller.from_top);
                bar(
                    pose.carriage.polar(pose.inner, roller.from_top),
                    pose.carriage.direction([sin, cos]),
                );
            }
        }
        None => bar(
            pose.carriage.at([0.0, -0.175 * pose.radius]),
            pose.carriage.direction([1.0, 0.0]),
        ),
    }
    bar(
        pose.mast.at([0.0, 0.13 * pose.radius]),
        pose.mast.direction([1.0, 0.0]),
    );
}
