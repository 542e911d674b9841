//! The drawing as one SVG file: same drawing, same bytes, on every machine.

use core::fmt::Write;
use kickstill_number::{Within, fixed};

use crate::list::{Align, DisplayList, Item, Point, Segment};
use crate::palette::{Palette, Role};

/// A number with two decimals; never "-0.00", never a non-number.
struct Px(f64);

impl core::fmt::Display for Px {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        let value = if self.0.is_finite() { self.0 } else { 0.0 };
        if value.abs() < 0.005 {
            return f.write_str("0");
        }
        f.write_str(&fixed(value, 2))
    }
}

struct Escaped<'a>(&'a str);

impl core::fmt::Display for Escaped<'_> {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        for c in self.0.chars() {
            match c {
                '&' => f.write_str("&amp;")?,
                '<' => f.write_str("&lt;")?,
                '>' => f.write_str("&gt;")?,
                '"' => f.write_str("&quot;")?,
                '\t' | '\n' | '\r' => f.write_char(' ')?,
                // XML 1.0 (section 2.2) allows no other control characters, nor these two.
                c if c < ' ' || c == '\u{fffe}' || c == '\u{ffff}' => f.write_char('\u{fffd}')?,
                c => f.write_char(c)?,
            }
        }
        Ok(())
    }
}

/// Writes a drawing as SVG of this size [px], on the palette's paper.
#[must_use]
pub fn svg(list: &DisplayList, palette: &Palette, width: f64, height: f64) -> String {
    svg_in(list, palette, [width, height], &|_| None)
}

/// The same where `words` may say a text otherwise, such as in other units.
#[must_use]
pub fn svg_in(
    list: &DisplayList,
    palette: &Palette,
    size: [f64; 2],
    words: &dyn Fn(&str) -> Option<String>,
) -> String {
    let mut out = String::new();
    // Writing into a String cannot fail.
    let _ = write_svg(&mut out, list, palette, size, words);
    out
}

fn write_svg(
    out: &mut String,
    list: &DisplayList,
    palette: &Palette,
    [width, height]: [f64; 2],
    words: &dyn Fn(&str) -> Option<String>,
) -> core::fmt::Result {
    let (w, h) = (Px(width), Px(height));
    writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{w}\" height=\"{h}\" viewBox=\"0 0 {w} {h}\" role=\"img\" aria-labelledby=\"title desc\" font-family=\"system-ui, 'DejaVu Sans', Arial, sans-serif\" stroke-linejoin=\"round\">"
    )?;
    writeln!(out, "<title id=\"title\">{}</title>", Escaped(list.title()))?;
    writeln!(
        out,
        "<desc id=\"desc\">{}</desc>",
        Escaped(list.description())
    )?;
    let paper = palette.colour(Role::Paper);
    writeln!(out, "<rect width=\"{w}\" height=\"{h}\" fill=\"{paper}\"/>")?;
    let mut open = 0;
    for item in list.items() {
        match item {
            Item::Group(name) => {
                open += 1;
                writeln!(out, "<g data-part=\"{}\">", Escaped(name))?;
            }
            Item::End => {
                // A group that was never opened cannot be closed.
                if open > 0 {
                    open -= 1;
                    writeln!(out, "</g>")?;
                }
            }
            Item::Path { segments, style } => {
                if segments.is_empty() {
                    continue;
                }
                write!(out, "<path d=\"")?;
                path(out, segments)?;
                write!(out, "\" fill=\"{}\"", colour(palette, style.fill))?;
                if let Some(stroke) = style.stroke {
                    write!(
                        out,
                        " stroke=\"{}\" stroke-width=\"{}\"",
                        palette.colour(stroke),
                        Px(style.width)
                    )?;
                    let pattern = style.dash.pattern();
                    if !pattern.is_empty() {
                        write!(out, " stroke-dasharray=\"")?;
                        for (at, length) in pattern.iter().enumerate() {
                            write!(out, "{}{length}", if at > 0 { " " } else { "" })?;
                        }
                        write!(out, "\"")?;
                    }
                }
                writeln!(out, "/>")?;
            }
            Item::Text { text, at, style } => {
                write!(
                    out,
                    "<text x=\"{}\" y=\"{}\" font-size=\"{}\" fill=\"{}\"",
                    Px(at[0]),
                    Px(at[1]),
                    Px(style.size),
                    palette.colour(style.role)
                )?;
                match style.align {
                    Align::Start => {}
                    Align::Middle => write!(out, " text-anchor=\"middle\"")?,
                    Align::End => write!(out, " text-anchor=\"end\"")?,
                }
                if style.bold {
                    write!(out, " font-weight=\"600\"")?;
                }
                if style.angle != 0.0 {
                    write!(
                        out,
                        " transform=\"rotate({} {} {})\"",
                        Px(style.angle.to_degrees()),
                        Px(at[0]),
                        Px(at[1])
                    )?;
                }
                if let Some(halo) = style.halo {
                    write!(
                        out,
                        " stroke=\"{}\" stroke-width=\"4\" paint-order=\"stroke\"",
                        palette.colour(halo)
                    )?;
                }
                match words(text) {
                    Some(said) => writeln!(out, ">{}</text>", Escaped(&said))?,
                    None => writeln!(out, ">{}</text>", Escaped(text))?,
                }
            }
        }
    }
    for _ in 0..open {
        writeln!(out, "</g>")?;
    }
    writeln!(out, "</svg>")
}

fn colour(palette: &Palette, role: Option<Role>) -> &'static str {
    role.map_or("none", |role| palette.colour(role))
}

fn on_circle(centre: Point, radius: f64, angle: f64) -> Point {
    let (sin, cos) = libm::sincos(angle);
    [centre[0] + radius * cos, centre[1] + radius * sin]
}

fn path(out: &mut String, segments: &[Segment]) -> core::fmt::Result {
    let mut current: Option<Point> = None;
    let mut first = None;
    for segment in segments {
        match *segment {
            Segment::Move(to) => {
                write!(out, "M{} {}", Px(to[0]), Px(to[1]))?;
                current = Some(to);
                first = current;
            }
            Segment::Line(to) => {
                let verb = if current.is_some() { 'L' } else { 'M' };
                write!(out, "{verb}{} {}", Px(to[0]), Px(to[1]))?;
                current = Some(to);
                first = first.or(current);
            }
            Segment::Cubic(a, b, to) => {
                if current.is_none() {
                    write!(out, "M{} {}", Px(a[0]), Px(a[1]))?;
                    first = Some(a);
                }
                write!(
                    out,
                    "C{} {} {} {} {} {}",
                    Px(a[0]),
                    Px(a[1]),
                    Px(b[0]),
                    Px(b[1]),
                    Px(to[0]),
                    Px(to[1])
                )?;
                current = Some(to);
            }
            Segment::Arc {
                centre,
                radius,
                start,
                sweep,
            } => {
                let from = on_circle(centre, radius, start);
                let verb = if current.is_some() { 'L' } else { 'M' };
                write!(out, "{verb}{} {}", Px(from[0]), Px(from[1]))?;
                first = first.or(Some(from));
                // In parts of less than half a turn an arc by its end points is unambiguous.
                let sweep = sweep.within(-core::f64::consts::TAU, core::f64::consts::TAU);
                let parts = if sweep.abs() > 3.1 { 3 } else { 1 };
                let turn = u8::from(sweep > 0.0);
                for part in 1..=parts {
                    let to = on_circle(
                        centre,
                        radius,
                        start + sweep * f64::from(part) / f64::from(parts),
                    );
                    write!(
                        out,
                        "A{r} {r} 0 0 {turn} {} {}",
                        Px(to[0]),
                        Px(to[1]),
                        r = Px(radius)
                    )?;
                    current = Some(to);
                }
            }
            Segment::Close => {
                write!(out, "Z")?;
                current = first;
                first = None;
            }
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::list::{Style, TextStyle};
    use crate::palette::{Theme, palette};

    #[test]
    fn text_is_escaped_and_groups_are_closed() {
        let mut list = DisplayList::new();
        list.end();
        list.group("a");
        list.set_title(format_args!("<b> & \"c\"\u{1}"));
        list.words(
            [1.0, -0.001],
            TextStyle::new(Role::Ink, 12.0),
            format_args!("</text><script>"),
        );
        let text = svg(&list, palette(Theme::Day), 10.0, 10.0);
        assert!(text.contains("&lt;b&gt; &amp; &quot;c&quot;\u{fffd}"));
        assert!(text.contains("&lt;/text&gt;&lt;script&gt;"));
        assert!(text.contains("y=\"0\""));
        assert_eq!(text.matches("<g").count(), text.matches("</g>").count());
        assert!(!text.contains("<script"));
    }

    #[test]
    fn nothing_that_is_not_a_number_is_written() {
        let mut list = DisplayList::new();
        list.circle([f64::NAN, 1.0], f64::INFINITY, Style::fill(Role::Ink));
        let text = svg(&list, palette(Theme::Day), 10.0, 10.0);
        assert!(!text.contains("NaN") && !text.contains("inf"));
    }

    #[test]
    fn a_circle_closes() {
        let mut list = DisplayList::new();
        list.circle([5.0, 5.0], 2.0, Style::fill(Role::Ink));
        let text = svg(&list, palette(Theme::Day), 10.0, 10.0);
        assert!(text.contains("M7.00 5.00L7.00 5.00A2.00 2.00 0 0 1 4.00 6.73"));
        assert!(text.contains("7.00 5.00Z"));
    }
}
