//! What all drawn figures share: colours, letters, and axes with figures that read well.

use plotters::prelude::*;

pub(crate) const PAPER: RGBColor = RGBColor(0xfb, 0xf8, 0xef);
pub(crate) const INK: RGBColor = RGBColor(0x1d, 0x35, 0x4c);
pub(crate) const MUTED: RGBColor = RGBColor(0x6a, 0x61, 0x4f);
pub(crate) const GRID: RGBColor = RGBColor(0xeb, 0xe5, 0xd5);
pub(crate) const CURVE: RGBColor = RGBColor(0x1c, 0x6d, 0x5a);
pub(crate) const BEFORE: RGBColor = RGBColor(0x8a, 0x80, 0x68);
pub(crate) const LIMIT: RGBColor = RGBColor(0xad, 0x1f, 0x1c);
const FAMILY: &str = "Verdana, DejaVu Sans, sans-serif";
/// Letters [px].
pub(crate) const SMALL: (&str, u32) = (FAMILY, 11);
pub(crate) const LARGE: (&str, u32) = (FAMILY, 14);

/// What a drawing can fail by.
pub(crate) type Drawn = Result<(), Box<dyn std::error::Error>>;

/// Draws a figure of this size [px] as SVG.
///
/// # Errors
/// The words of the drawing library, should it fail.
pub(crate) fn svg(
    size: (u32, u32),
    draw: impl FnOnce(&DrawingArea<SVGBackend<'_>, plotters::coord::Shift>) -> Drawn,
) -> Result<String, crate::failure::Failure> {
    let mut text = String::new();
    let drawn = {
        let area = SVGBackend::with_string(&mut text, size).into_drawing_area();
        area.fill(&PAPER)
            .map_err(Into::into)
            .and_then(|()| draw(&area))
            .and_then(|()| area.present().map_err(Into::into))
    };
    match drawn {
        Ok(()) => Ok(text),
        Err(e) => Err(
            kickstill_robot::Problem::error("drawing", "a figure that can be drawn")
                .hint(e.to_string())
                .into(),
        ),
    }
}

/// About `count` round figures from `from` to `to`, of an axis that goes in even ratios if `logarithmic`.
pub(crate) fn ticks(from: f64, to: f64, count: usize, logarithmic: bool) -> Vec<f64> {
    if !(from.is_finite() && to.is_finite() && to > from) || count == 0 {
        return Vec::new();
    }
    if logarithmic && from > 0.0 {
        let decades = libm::log10(to) - libm::log10(from);
        let within: &[f64] = if decades > 4.0 {
            &[1.0]
        } else if decades > 1.0 {
            &[1.0, 2.0, 5.0]
        } else {
            &[1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 7.0]
        };
        let first = libm::log10(from).floor();
        return (0..=(decades.ceil() as i32 + 1))
            .flat_map(|d| {
                let decade = first + f64::from(d);
                within.iter().map(move |m| m * libm::exp10(decade))
            })
            .filter(|v| *v >= from * (1.0 - 1e-9) && *v <= to * (1.0 + 1e-9))
            .collect();
    }
    let rough = (to - from) / count as f64;
    let size = libm::exp10(libm::log10(rough).floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|m| m * size)
        .find(|s| *s >= rough * (1.0 - 1e-9))
        .unwrap_or(rough);
    let first = (from / step - 1e-9).ceil();
    let last = (to / step + 1e-9).floor();
    (0..=(last - first).max(0.0) as u32)
        .map(|i| (first + f64::from(i)) * step)
        .collect()
}

/// A tick's figure: no more digits than it needs.
pub(crate) fn figure(value: f64) -> String {
    let rounded = format!("{value:.6}");
    let short = rounded.trim_end_matches('0').trim_end_matches('.');
    if short == "-0" || short.is_empty() {
        "0".to_owned()
    } else if short == "0" && value != 0.0 {
        format!("{value:.1e}")
    } else {
        short.replace('-', "−")
    }
}
