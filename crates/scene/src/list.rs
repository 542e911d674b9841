//! The display list: few item kinds, stored flat, kept and refilled each frame.

use core::fmt::{Arguments, Write};
use core::ops::Range;

use crate::palette::Role;

/// A place on the sheet [CSS px], x to the right, y down.
pub type Point = [f64; 2];

/// One piece of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Segment {
    /// Starts a new part of the path here.
    Move(Point),
    /// Straight line to here.
    Line(Point),
    /// Cubic Bézier curve: two control points, then the end.
    Cubic(Point, Point, Point),
    /// Circular arc; a straight line joins it to the current point if there is one.
    Arc {
        /// Centre [px].
        centre: Point,
        /// Radius [px], never negative.
        radius: f64,
        /// Where it starts [rad], clockwise from the x axis as seen.
        start: f64,
        /// How far it goes [rad], clockwise positive, at most a full turn either way.
        sweep: f64,
    },
    /// Closes the part of the path.
    Close,
}

/// How a line is broken. Caps are butt, joins round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Dash {
    /// Unbroken.
    #[default]
    Solid,
    /// Long dashes.
    Dashed,
    /// Dash and dot, as for axes and the second robot.
    DashDot,
    /// Short dashes.
    Dotted,
}

impl Dash {
    /// Lengths of line and gap in turn [px]; empty for a solid line.
    #[must_use]
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Dash::Solid => &[],
            Dash::Dashed => &[7.0, 4.0],
            Dash::DashDot => &[9.0, 3.0, 2.0, 3.0],
            Dash::Dotted => &[2.0, 3.0],
        }
    }
}

/// How a path is drawn: filled first (non-zero rule), then stroked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Filling.
    pub fill: Option<Role>,
    /// Line.
    pub stroke: Option<Role>,
    /// Line width [px].
    pub width: f64,
    /// Line's dashes.
    pub dash: Dash,
}

impl Style {
    /// A solid line.
    #[must_use]
    pub fn line(role: Role, width: f64) -> Style {
        Style {
            fill: None,
            stroke: Some(role),
            width,
            dash: Dash::Solid,
        }
    }

    /// A filling without an edge.
    #[must_use]
    pub fn fill(role: Role) -> Style {
        Style {
            fill: Some(role),
            stroke: None,
            width: 0.0,
            dash: Dash::Solid,
        }
    }

    /// The same with a filling.
    #[must_use]
    pub fn filled(self, role: Role) -> Style {
        Style {
            fill: Some(role),
            ..self
        }
    }

    /// The same with dashes.
    #[must_use]
    pub fn dashed(self, dash: Dash) -> Style {
        Style { dash, ..self }
    }
}

/// Which part of a text stands at its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Align {
    /// Its start.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// How a text is drawn; its place is on the alphabetic baseline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TextStyle {
    /// Colour.
    pub role: Role,
    /// Font size [px]; the font is the system's sans serif.
    pub size: f64,
    /// Alignment.
    pub align: Align,
    /// Bold.
    pub bold: bool,
    /// Turned about its place [rad], clockwise positive.
    pub angle: f64,
    /// Edge of this colour, 4 px wide, drawn before the text so that lines do not cut it.
    pub halo: Option<Role>,
}

impl TextStyle {
    /// Plain, level, starting at its place.
    #[must_use]
    pub fn new(role: Role, size: f64) -> TextStyle {
        TextStyle {
            role,
            size,
            align: Align::Start,
            bold: false,
            angle: 0.0,
            halo: None,
        }
    }

    /// The same, aligned.
    #[must_use]
    pub fn align(self, align: Align) -> TextStyle {
        TextStyle { align, ..self }
    }

    /// The same in bold.
    #[must_use]
    pub fn bold(self) -> TextStyle {
        TextStyle { bold: true, ..self }
    }

    /// The same, turned [rad], clockwise positive.
    #[must_use]
    pub fn turned(self, angle: f64) -> TextStyle {
        TextStyle { angle, ..self }
    }

    /// The same with an edge.
    #[must_use]
    pub fn halo(self, role: Role) -> TextStyle {
        TextStyle {
            halo: Some(role),
            ..self
        }
    }

    /// Where level words meant to be placed at x have to stand on a sheet of this width [px] so that
    /// they do not leave it on the side to which they reach out.
    #[must_use]
    pub fn inside(&self, width: f64, x: f64, text: &str) -> f64 {
        let bolder = if self.bold { BOLD } else { 1.0 };
        let room = EDGE_ROOM + bolder * estimated_text_width(text, self.size);
        match self.align {
            Align::Start => x.min(width - room),
            Align::Middle => x,
            Align::End => x.max(room),
        }
    }
}

/// One item, as a painter meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Item<'a> {
    /// A path.
    Path {
        /// Its segments.
        segments: &'a [Segment],
        /// How it is drawn.
        style: Style,
    },
    /// A text.
    Text {
        /// Its words.
        text: &'a str,
        /// Where [px].
        at: Point,
        /// How it is drawn.
        style: TextStyle,
    },
    /// A named group starts; groups do not change how items are drawn.
    Group(&'static str),
    /// The group ends.
    End,
}

#[derive(Clone, Debug)]
enum Record {
    Path(Range<usize>, Style),
    Text(Range<usize>, Point, TextStyle),
    Group(&'static str),
    End,
}

/// A drawing, ready to paint.
#[derive(Clone, Debug, Default)]
pub struct DisplayList {
    records: Vec<Record>,
    segments: Vec<Segment>,
    text: String,
    title: Range<usize>,
    description: Range<usize>,
}

impl DisplayList {
    /// An empty drawing.
    #[must_use]
    pub fn new() -> DisplayList {
        DisplayList::default()
    }

    /// Empties it and keeps its memory.
    pub fn clear(&mut self) {
        self.records.clear();
        self.segments.clear();
        self.text.clear();
        self.title = 0..0;
        self.description = 0..0;
    }

    /// Room taken so far: items, segments, bytes of text.
    #[cfg(test)]
    pub(crate) fn room(&self) -> [usize; 3] {
        [
            self.records.capacity(),
            self.segments.capacity(),
            self.text.capacity(),
        ]
    }

    /// Number of items.
    #[must_use]
    pub fn len(&self) -> usize {
        self.records.len()
    }

    /// Whether nothing is drawn.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.records.is_empty()
    }

    /// The items, in the order of painting.
    pub fn items(&self) -> impl Iterator<Item = Item<'_>> + '_ {
        self.records.iter().map(|record| match record {
            Record::Path(range, style) => Item::Path {
                segments: &self.segments[range.clone()],
                style: *style,
            },
            Record::Text(range, at, style) => Item::Text {
                text: self.stored(range),
                at: *at,
                style: *style,
            },
            Record::Group(name) => Item::Group(name),
            Record::End => Item::End,
        })
    }

    /// One line that names the drawing; empty if none was set.
    #[must_use]
    pub fn title(&self) -> &str {
        self.stored(&self.title)
    }

    /// What the drawing shows, in words, for those who do not see it.
    #[must_use]
    pub fn description(&self) -> &str {
        self.stored(&self.description)
    }

    /// Words at a range that [`Self::write`] gave.
    fn stored(&self, range: &Range<usize>) -> &str {
        self.text.get(range.clone()).unwrap_or_default()
    }

    /// Names the drawing.
    pub fn set_title(&mut self, words: Arguments<'_>) {
        self.title = self.write(words);
    }

    /// Describes the drawing.
    pub fn set_description(&mut self, words: Arguments<'_>) {
        self.description = self.write(words);
    }

    fn write(&mut self, words: Arguments<'_>) -> Range<usize> {
        let start = self.text.len();
        // Writing into a String cannot fail; a Display that fails leaves what it wrote.
        let _ = self.text.write_fmt(words);
        start..self.text.len()
    }

    /// Starts a named group.
    pub fn group(&mut self, name: &'static str) {
        self.records.push(Record::Group(name));
    }

    /// Ends the group.
    pub fn end(&mut self) {
        self.records.push(Record::End);
    }

    /// Starts a path; the segments pushed next belong to it.
    pub fn path(&mut self, style: Style) -> &mut DisplayList {
        let at = self.segments.len();
        self.records.push(Record::Path(at..at, style));
        self
    }

    /// Adds a segment to the path started last.
    pub fn push(&mut self, segment: Segment) -> &mut DisplayList {
        if let Some(Record::Path(range, _)) = self.records.last_mut() {
            self.segments.push(segment);
            range.end = self.segments.len();
        }
        self
    }

    /// Moves to a point.
    pub fn move_to(&mut self, to: Point) -> &mut DisplayList {
        self.push(Segment::Move(to))
    }

    /// Line to a point.
    pub fn line_to(&mut self, to: Point) -> &mut DisplayList {
        self.push(Segment::Line(to))
    }

    /// Closes the part of the path.
    pub fn close(&mut self) -> &mut DisplayList {
        self.push(Segment::Close)
    }

    /// Arc, see [`Segment::Arc`].
    pub fn arc_to(
        &mut self,
        centre: Point,
        radius: f64,
        start: f64,
        sweep: f64,
    ) -> &mut DisplayList {
        self.push(Segment::Arc {
            centre,
            radius,
            start,
            sweep,
        })
    }

    /// A whole circle as part of the path started last; `sweep` −2π makes a hole in another.
    pub fn ring(&mut self, centre: Point, radius: f64, sweep: f64) -> &mut DisplayList {
        self.move_to([centre[0] + radius, centre[1]]);
        self.arc_to(centre, radius, 0.0, sweep).close()
    }

    /// A circle.
    pub fn circle(&mut self, centre: Point, radius: f64, style: Style) {
        self.path(style)
            .ring(centre, radius, core::f64::consts::TAU);
    }

    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, style: Style) {
        self.path(style).move_to(from).line_to(to);
    }

    /// An arc alone.
    pub fn arc(&mut self, centre: Point, radius: f64, start: f64, sweep: f64, style: Style) {
        self.path(style).arc_to(centre, radius, start, sweep);
    }

    /// A closed polygon.
    pub fn polygon(&mut self, points: impl IntoIterator<Item = Point>, style: Style) {
        self.path(style);
        for (at, point) in points.into_iter().enumerate() {
            if at == 0 {
                self.move_to(point);
            } else {
                self.line_to(point);
            }
        }
        self.close();
    }

    /// A text.
    pub fn words(&mut self, at: Point, style: TextStyle, words: Arguments<'_>) {
        let range = self.write(words);
        self.records.push(Record::Text(range, at, style));
    }

    /// Writes level words that are moved back onto a sheet of this width [px]; see [`TextStyle::inside`].
    pub fn words_inside(&mut self, width: f64, at: Point, style: TextStyle, words: Arguments<'_>) {
        let range = self.write(words);
        let text = self.text.get(range.clone()).unwrap_or_default();
        let x = style.inside(width, at[0], text);
        self.records.push(Record::Text(range, [x, at[1]], style));
    }
}

/// What is kept free between words and the sheet's edge [px]; another language takes some of it.
const EDGE_ROOM: f64 = 6.0;

/// How much wider bold words are.
const BOLD: f64 = 1.1;

/// How wide a text will be, roughly [px]: for gaps in dimension lines and for narrow sheets, where
/// a few pixels do not matter. The drawing cannot measure fonts, since it must come out alike everywhere.
#[must_use]
pub fn estimated_text_width(text: &str, size: f64) -> f64 {
    let mut ems = 0.0;
    for c in text.chars() {
        ems += match c {
            'i' | 'l' | 'j' | '.' | ',' | '·' | '\'' | ' ' => 0.32,
            'm' | 'w' | 'M' | 'W' => 0.9,
            _ => 0.6,
        };
    }
    ems * size
}
