//! A map as SVG: one hue by lightness, hatches for what did not settle, the linear edge, axes.

use kickstill_number::Within;
use kickstill_rig::OutcomeClass;
use kickstill_rig::report::trial_title;
use kickstill_robot::Unit;
use kickstill_sweep::map::Axis;
use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::Found;
use super::told::{counts, ends};
use crate::failure::Failure;
use crate::plot::{self, Drawn, INK, LARGE, LIMIT, MUTED, PAPER, SMALL, figure, ticks};

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

/// Size of the figure, and of the field of cells in it [px].
const SIZE: (u32, u32) = (860, 640);
const LEFT: f64 = 76.0;
const TOP: f64 = 52.0;
const WIDE: f64 = 560.0;
const HIGH: f64 = 520.0;
/// Where the key stands [px].
const KEY: f64 = LEFT + WIDE + 28.0;
/// Least and greatest value in the one hue: pale is little.
const PALE: (f64, f64, f64) = (246.0, 243.0, 233.0);
const DEEP: (f64, f64, f64) = (20.0, 92.0, 92.0);
/// Distance of the hatches' lines [px].
const PITCH: f64 = 8.0;

/// # Errors
/// The drawing library fails.
pub(super) fn svg(found: &Found) -> Result<String, Failure> {
    plot::svg(SIZE, |area| {
        cells(area, found)?;
        let frame = [at(0.0, 0.0), at(1.0, 1.0)];
        area.draw(&Rectangle::new(frame, INK))?;
        contour(area, found)?;
        edge(area, found)?;
        stands(area, found)?;
        axes(area, found)?;
        key(area, found)
    })
}

/// A pixel by its shares of the field's width and height, from below.
fn at(x: f64, y: f64) -> (i32, i32) {
    // The casts saturate and stay on the figure.
    (
        (LEFT + x * WIDE).round() as i32,
        (TOP + (1.0 - y) * HIGH).round() as i32,
    )
}

fn letters(size: (&'static str, u32), color: &'static RGBColor, pos: Pos) -> TextStyle<'static> {
    TextStyle::from(size.into_font()).color(color).pos(pos)
}

const MIDDLE_BELOW: Pos = Pos {
    h_pos: HPos::Center,
    v_pos: VPos::Top,
};
const RIGHT: Pos = Pos {
    h_pos: HPos::Right,
    v_pos: VPos::Center,
};
const LEFT_OF: Pos = Pos {
    h_pos: HPos::Left,
    v_pos: VPos::Center,
};

/// The hue at a share from the least to the greatest value.
fn hue(share: f64) -> RGBColor {
    let mix = |a: f64, b: f64| (a + share.within(0.0, 1.0) * (b - a)).round() as u8;
    RGBColor(
        mix(PALE.0, DEEP.0),
        mix(PALE.1, DEEP.1),
        mix(PALE.2, DEEP.2),
    )
}

fn range(found: &Found) -> Option<(f64, f64)> {
    let (a, b) = ends(found)?;
    found.cells[a].value.zip(found.cells[b].value)
}

fn share_of(value: f64, (least, most): (f64, f64)) -> f64 {
    if most > least {
        (value - least) / (most - least)
    } else {
        0.0
    }
}

/// Left, bottom, right and top of a cell as shares of the field.
fn sides(found: &Found, cell: usize) -> [f64; 4] {
    let (nx, ny) = (found.map.x.count(), found.map.y.count());
    let (x, y) = ((cell % nx) as f64, (cell / nx) as f64);
    [
        x / nx as f64,
        y / ny as f64,
        (x + 1.0) / nx as f64,
        (y + 1.0) / ny as f64,
    ]
}

fn cells(area: &Area<'_>, found: &Found) -> Drawn {
    let range = range(found);
    let nx = found.map.x.count();
    let mut cell = 0;
    while cell < found.cells.len() {
        // Neighbours in a row that look the same are one shape.
        let one = &found.cells[cell];
        let fill = |c: usize| match (found.cells[c].value, range) {
            (Some(v), Some(range)) => hue(share_of(v, range)),
            _ => PAPER,
        };
        let mut last = cell;
        while (last + 1) % nx != 0
            && found.cells[last + 1].class == one.class
            && fill(last + 1) == fill(cell)
        {
            last += 1;
        }
        let [left, low, _, high] = sides(found, cell);
        let right = sides(found, last)[2];
        let corners = [at(left, low), at(right, high)];
        area.draw(&Rectangle::new(corners, fill(cell).filled()))?;
        hatch(area, one.class, corners)?;
        cell = last + 1;
    }
    Ok(())
}

/// Marks of a class over a shape: lines that run on from cell to cell, so that they are told apart in print too.
fn hatch(area: &Area<'_>, class: OutcomeClass, corners: [(i32, i32); 2]) -> Drawn {
    let (left, right) = (f64::from(corners[0].0), f64::from(corners[1].0));
    let (top, low) = (f64::from(corners[1].1), f64::from(corners[0].1));
    let line = |a: (f64, f64), b: (f64, f64)| -> Drawn {
        let pixel = |p: (f64, f64)| (p.0.round() as i32, p.1.round() as i32);
        area.draw(&PathElement::new([pixel(a), pixel(b)], INK.mix(0.8)))?;
        Ok(())
    };
    let multiples = |from: f64, to: f64, pitch: f64| {
        let first = (from / pitch).ceil() as i32;
        let last = (to / pitch).floor() as i32;
        (first..=last).map(move |i| f64::from(i) * pitch)
    };
    // y − s·x = c, cut to the shape.
    let slanted = |s: f64, pitch: f64| -> Drawn {
        let (a, b) = if s > 0.0 {
            (right, left)
        } else {
            (left, right)
        };
        for c in multiples(top - s * a, low - s * b, pitch) {
            let y_at = |x: f64| s * x + c;
            let x_at = |y: f64| (y - c) / s;
            let (mut x1, mut x2) = (left, right);
            if s > 0.0 {
                (x1, x2) = (x1.max(x_at(top)), x2.min(x_at(low)));
            } else {
                (x1, x2) = (x1.max(x_at(low)), x2.min(x_at(top)));
            }
            if x2 > x1 {
                line((x1, y_at(x1)), (x2, y_at(x2)))?;
            }
        }
        Ok(())
    };
    let level = |pitch: f64| -> Drawn {
        multiples(top, low, pitch).try_for_each(|y| line((left, y), (right, y)))
    };
    let upright = |pitch: f64| -> Drawn {
        multiples(left, right, pitch).try_for_each(|x| line((x, top), (x, low)))
    };
    let dots = |pitch: f64, size: i32| -> Drawn {
        for y in multiples(top + 0.5, low - 0.5, pitch) {
            for x in multiples(left + 0.5, right - 0.5, pitch) {
                area.draw(&Circle::new((x as i32, y as i32), size, INK.filled()))?;
            }
        }
        Ok(())
    };
    match class {
        OutcomeClass::Settled => Ok(()),
        OutcomeClass::StillMoving => dots(PITCH, 1),
        OutcomeClass::RestsLeaning => level(PITCH),
        OutcomeClass::Sways => slanted(-1.0, PITCH),
        OutcomeClass::OutOfControl => slanted(-1.0, PITCH).and_then(|()| slanted(1.0, PITCH)),
        OutcomeClass::HeadLost => slanted(1.0, PITCH),
        OutcomeClass::Hop => upright(PITCH),
        OutcomeClass::BrownOut => level(PITCH).and_then(|()| upright(PITCH)),
        OutcomeClass::Diverged => dots(0.75 * PITCH, 2),
    }
}

/// Border between cells that keep the limit and cells that do not.
fn contour(area: &Area<'_>, found: &Found) -> Drawn {
    let Some(limit) = found.mapped.limit else {
        return Ok(());
    };
    let (nx, ny) = (found.map.x.count(), found.map.y.count());
    let keeps = |x: usize, y: usize| found.cells[y * nx + x].value.map(|v| v <= limit);
    let differ = |a: Option<bool>, b: Option<bool>| a.zip(b).is_some_and(|(a, b)| a != b);
    let style = LIMIT.stroke_width(2);
    for y in 0..ny {
        for x in 0..nx {
            let [left, low, right, high] = sides(found, y * nx + x);
            if x + 1 < nx && differ(keeps(x, y), keeps(x + 1, y)) {
                area.draw(&PathElement::new([at(right, low), at(right, high)], style))?;
            }
            if y + 1 < ny && differ(keeps(x, y), keeps(x, y + 1)) {
                area.draw(&PathElement::new([at(left, high), at(right, high)], style))?;
            }
        }
    }
    Ok(())
}

/// A place in cells, 0 the middle of the first, as a pixel.
fn cell_pixel(found: &Found, [x, y]: [f64; 2]) -> (i32, i32) {
    let (nx, ny) = (found.map.x.count() as f64, found.map.y.count() as f64);
    at((x + 0.5) / nx, (y + 0.5) / ny)
}

/// The linear edge: ink on a seam of paper, so that it stands out on both ends of the hue.
fn edge(area: &Area<'_>, found: &Found) -> Drawn {
    for line in &found.edge {
        let points: Vec<(i32, i32)> = line.iter().map(|p| cell_pixel(found, *p)).collect();
        area.draw(&PathElement::new(points.clone(), PAPER.stroke_width(5)))?;
        area.draw(&PathElement::new(points, INK.stroke_width(2)))?;
    }
    Ok(())
}

/// Place of a value along an axis in cells.
fn place(axis: &Axis, value: f64) -> f64 {
    let values = axis.values();
    let (from, to) = (values[0], values[values.len() - 1]);
    let share = if axis.is_logarithmic() && value > 0.0 {
        libm::log(value / from) / libm::log(to / from)
    } else {
        (value - from) / (to - from)
    };
    share * (values.len() - 1) as f64
}

/// A cross where the robot stands.
fn stands(area: &Area<'_>, found: &Found) -> Drawn {
    let now = |a: &Axis| place(a, (a.knob().get)(&found.map.robot));
    let (x, y) = (now(&found.map.x), now(&found.map.y));
    let on = |v: f64, axis: &Axis| v >= -0.5 && v <= axis.count() as f64 - 0.5;
    if !on(x, &found.map.x) || !on(y, &found.map.y) {
        return Ok(());
    }
    let (px, py) = cell_pixel(found, [x, y]);
    for (style, reach) in [(PAPER.stroke_width(5), 10), (INK.stroke_width(2), 9)] {
        area.draw(&PathElement::new(
            [(px - reach, py), (px + reach, py)],
            style,
        ))?;
        area.draw(&PathElement::new(
            [(px, py - reach), (px, py + reach)],
            style,
        ))?;
    }
    Ok(())
}

/// Round figures along an axis with their places in cells.
fn marks(axis: &Axis) -> Vec<(String, f64)> {
    let shown = axis.knob().unit.shown();
    let values = axis.values();
    let ends = (values[0] / shown.si, values[values.len() - 1] / shown.si);
    ticks(ends.0, ends.1, 6, axis.is_logarithmic())
        .into_iter()
        .map(|t| (figure(t), place(axis, t * shown.si)))
        .collect()
}

fn titled(axis: &Axis) -> String {
    let knob = axis.knob();
    let unit = knob.unit.shown().symbol;
    let unit = if unit.is_empty() {
        String::new()
    } else {
        format!(" [{unit}]")
    };
    format!("{}{unit}", knob.key)
}

fn axes(area: &Area<'_>, found: &Found) -> Drawn {
    let map = &found.map;
    let (nx, ny) = (map.x.count() as f64, map.y.count() as f64);
    for (text, place) in marks(&map.x) {
        let (x, y) = at((place + 0.5) / nx, 0.0);
        area.draw(&PathElement::new([(x, y), (x, y + 5)], INK))?;
        area.draw(&Text::new(
            text,
            (x, y + 8),
            letters(SMALL, &INK, MIDDLE_BELOW),
        ))?;
    }
    for (text, place) in marks(&map.y) {
        let (x, y) = at(0.0, (place + 0.5) / ny);
        area.draw(&PathElement::new([(x - 5, y), (x, y)], INK))?;
        area.draw(&Text::new(text, (x - 8, y), letters(SMALL, &INK, RIGHT)))?;
    }
    let (x, y) = at(0.5, 0.0);
    area.draw(&Text::new(
        titled(&map.x),
        (x, y + 28),
        letters(SMALL, &INK, MIDDLE_BELOW),
    ))?;
    let (x, y) = at(0.0, 1.0);
    let over = Pos::new(HPos::Left, VPos::Bottom);
    area.draw(&Text::new(
        titled(&map.y),
        (x - 60, y - 6),
        letters(SMALL, &INK, over),
    ))?;
    let title = format!("{}: {}", map.robot.name, trial_title(&map.setting));
    area.draw(&Text::new(
        title,
        (16, 10),
        letters(LARGE, &INK, Pos::default()),
    ))?;
    Ok(())
}

fn key(area: &Area<'_>, found: &Found) -> Drawn {
    let mut y = TOP as i32;
    let x = KEY as i32;
    if let (Some(_), Some(range)) = (found.mapped.key, range(found)) {
        y = scale(area, found, range)?;
    }
    for (class, n) in counts(found) {
        let box_ = [(x, y + 16), (x + 24, y)];
        area.draw(&Rectangle::new(box_, hue(0.3).filled()))?;
        hatch(area, class, box_)?;
        area.draw(&Rectangle::new(box_, INK))?;
        let share = 100.0 * n as f64 / found.cells.len() as f64;
        let text = format!("{}, {share:.0} %", class.key());
        area.draw(&Text::new(
            text,
            (x + 32, y + 8),
            letters(SMALL, &INK, LEFT_OF),
        ))?;
        y += 24;
    }
    let lines = [
        (!found.edge.is_empty()).then_some(("linear edge", INK)),
        found.mapped.limit.map(|_| ("limit", LIMIT)),
    ];
    y += 6;
    for (text, color) in lines.into_iter().flatten() {
        area.draw(&PathElement::new(
            [(x, y), (x + 24, y)],
            color.stroke_width(2),
        ))?;
        let limit = found.mapped.limit.filter(|_| text == "limit");
        let text = limit.map_or_else(
            || text.to_owned(),
            |v| format!("{text} {}", found.mapped.unit.format(v)),
        );
        area.draw(&Text::new(text, (x + 32, y), letters(SMALL, &INK, LEFT_OF)))?;
        y += 22;
    }
    area.draw(&PathElement::new(
        [(x + 3, y), (x + 21, y)],
        INK.stroke_width(2),
    ))?;
    area.draw(&PathElement::new(
        [(x + 12, y - 9), (x + 12, y + 9)],
        INK.stroke_width(2),
    ))?;
    area.draw(&Text::new(
        "as it stands",
        (x + 32, y),
        letters(SMALL, &INK, LEFT_OF),
    ))?;
    if !found.map.spreads.is_none() {
        let text = format!("worst of {} runs", found.map.spreads.runs());
        area.draw(&Text::new(
            text,
            (x, y + 24),
            letters(SMALL, &MUTED, LEFT_OF),
        ))?;
    }
    Ok(())
}

/// The hue's scale; gives where the next row begins.
fn scale(
    area: &Area<'_>,
    found: &Found,
    (least, most): (f64, f64),
) -> Result<i32, Box<dyn std::error::Error>> {
    const STEPS: i32 = 64;
    const TALL: i32 = 192;
    let (x, top) = (KEY as i32, TOP as i32 + 18);
    let unit: Unit = found.mapped.unit;
    let shown = unit.shown();
    let title = if shown.symbol.is_empty() {
        found.mapped.label.to_owned()
    } else {
        format!("{} [{}]", found.mapped.label, shown.symbol)
    };
    area.draw(&Text::new(
        title,
        (x, TOP as i32),
        letters(SMALL, &INK, Pos::default()),
    ))?;
    for i in 0..STEPS {
        let share = (f64::from(i) + 0.5) / f64::from(STEPS);
        let low = top + TALL - TALL * i / STEPS;
        let box_ = [(x, low), (x + 24, low - TALL / STEPS)];
        area.draw(&Rectangle::new(box_, hue(share).filled()))?;
    }
    area.draw(&Rectangle::new([(x, top + TALL), (x + 24, top)], INK))?;
    for t in ticks(least / shown.si, most / shown.si, 5, false) {
        let share = share_of(t * shown.si, (least, most));
        let y = top + TALL - (share * f64::from(TALL)).round() as i32;
        area.draw(&PathElement::new([(x + 24, y), (x + 29, y)], INK))?;
        area.draw(&Text::new(
            figure(t),
            (x + 32, y),
            letters(SMALL, &INK, LEFT_OF),
        ))?;
    }
    Ok(top + TALL + 22)
}
