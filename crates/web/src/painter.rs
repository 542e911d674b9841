//! Walks a display list and paints it on a canvas.

use js_sys::{Array, Float64Array};
use kickstill_number::Shortest;
use kickstill_scene::{
    Align, Dash, DisplayList, Item, Palette, Point, Role, Segment, Style, TextStyle,
};
use wasm_bindgen::JsValue;
use web_sys::CanvasRenderingContext2d;

use crate::units::Units;

/// Width of the edge around words that lines must not cut [px].
const HALO: f64 = 4.0;
/// Font of all words on the drawing: as the page's.
const FONT: &str = "Verdana, \"DejaVu Sans\", \"Segoe UI\", system-ui, sans-serif";

/// Paints display lists; keeps what would otherwise be made anew for every line.
pub(crate) struct Painter {
    dashes: [JsValue; 4],
    font: String,
}

/// What the canvas is set to, so that it is not set again.
#[derive(Default)]
struct Set {
    fill: Option<Role>,
    stroke: Option<Role>,
    width: f64,
    dash: Option<Dash>,
    font: Option<(f64, bool)>,
    align: Option<Align>,
}

impl Painter {
    pub(crate) fn new() -> Painter {
        let pattern = |dash: Dash| JsValue::from(Array::from(&Float64Array::from(dash.pattern())));
        Painter {
            dashes: [
                pattern(Dash::Solid),
                pattern(Dash::Dashed),
                pattern(Dash::DashDot),
                pattern(Dash::Dotted),
            ],
            font: String::new(),
        }
    }

    /// Clears a canvas of `size` [CSS px] and paints the list, `dpr` device pixels a CSS pixel.
    pub(crate) fn paint(
        &mut self,
        canvas: &CanvasRenderingContext2d,
        list: &DisplayList,
        palette: &Palette,
        size: [f64; 2],
        dpr: f64,
        units: Units,
    ) {
        // A canvas refuses a transformation only for want of a number; ours are checked.
        let _ = canvas.set_transform(dpr, 0.0, 0.0, dpr, 0.0, 0.0);
        canvas.clear_rect(0.0, 0.0, size[0], size[1]);
        canvas.set_line_cap("butt");
        canvas.set_line_join("round");
        canvas.set_text_baseline("alphabetic");
        let mut set = Set::default();
        for item in list.items() {
            match item {
                Item::Path { segments, style } => {
                    self.path(canvas, segments, style, palette, &mut set);
                }
                Item::Text { text, at, style } => {
                    let other = units.dimension(text);
                    let text = other.as_deref().unwrap_or(text);
                    self.text(canvas, text, at, style, palette, &mut set);
                }
                Item::Group(_) | Item::End => {}
            }
        }
    }

    fn path(
        &self,
        canvas: &CanvasRenderingContext2d,
        segments: &[Segment],
        style: Style,
        palette: &Palette,
        set: &mut Set,
    ) {
        canvas.begin_path();
        for segment in segments {
            match *segment {
                Segment::Move(p) => canvas.move_to(p[0], p[1]),
                Segment::Line(p) => canvas.line_to(p[0], p[1]),
                Segment::Cubic(a, b, p) => {
                    canvas.bezier_curve_to(a[0], a[1], b[0], b[1], p[0], p[1]);
                }
                Segment::Arc {
                    centre,
                    radius,
                    start,
                    sweep,
                } => {
                    // Refused only for a negative radius.
                    let _ = canvas.arc_with_anticlockwise(
                        centre[0],
                        centre[1],
                        radius.max(0.0),
                        start,
                        start + sweep,
                        sweep < 0.0,
                    );
                }
                Segment::Close => canvas.close_path(),
            }
        }
        if let Some(role) = style.fill {
            fill_with(canvas, role, palette, set);
            canvas.fill();
        }
        if let Some(role) = style.stroke {
            self.pen(canvas, role, style.width, style.dash, palette, set);
            canvas.stroke();
        }
    }

    fn pen(
        &self,
        canvas: &CanvasRenderingContext2d,
        role: Role,
        width: f64,
        dash: Dash,
        palette: &Palette,
        set: &mut Set,
    ) {
        if set.stroke != Some(role) {
            canvas.set_stroke_style_str(palette.colour(role));
            set.stroke = Some(role);
        }
        if set.width != width {
            canvas.set_line_width(width);
            set.width = width;
        }
        if set.dash != Some(dash) {
            let pattern = match dash {
                Dash::Solid => 0,
                Dash::Dashed => 1,
                Dash::DashDot => 2,
                Dash::Dotted => 3,
            };
            let _ = canvas.set_line_dash(&self.dashes[pattern]);
            set.dash = Some(dash);
        }
    }

    fn text(
        &mut self,
        canvas: &CanvasRenderingContext2d,
        text: &str,
        at: Point,
        style: TextStyle,
        palette: &Palette,
        set: &mut Set,
    ) {
        if set.font != Some((style.size, style.bold)) {
            use core::fmt::Write;
            self.font.clear();
            let weight = if style.bold { "700 " } else { "" };
            // Writing into a String cannot fail.
            let _ = write!(self.font, "{weight}{}px {FONT}", Shortest(style.size));
            canvas.set_font(&self.font);
            set.font = Some((style.size, style.bold));
        }
        if set.align != Some(style.align) {
            canvas.set_text_align(match style.align {
                Align::Start => "left",
                Align::Middle => "center",
                Align::End => "right",
            });
            set.align = Some(style.align);
        }
        let turned = style.angle != 0.0;
        let [x, y] = if turned {
            canvas.save();
            let _ = canvas.translate(at[0], at[1]);
            let _ = canvas.rotate(style.angle);
            [0.0, 0.0]
        } else {
            at
        };
        if let Some(halo) = style.halo {
            self.pen(canvas, halo, HALO, Dash::Solid, palette, set);
            let _ = canvas.stroke_text(text, x, y);
        }
        fill_with(canvas, style.role, palette, set);
        let _ = canvas.fill_text(text, x, y);
        if turned {
            canvas.restore();
            // What was set since `save` is undone.
            *set = Set::default();
        }
    }
}

fn fill_with(canvas: &CanvasRenderingContext2d, role: Role, palette: &Palette, set: &mut Set) {
    if set.fill != Some(role) {
        canvas.set_fill_style_str(palette.colour(role));
        set.fill = Some(role);
    }
}
