//! The units in which lengths, masses, speeds and forces are said: metric, or inches and pounds.
//! Inside everything stays SI; what is typed with its unit is understood either way.

use kickstill_robot::{Bare, Kind, Knob, Spelling, Unit};

/// Which units people read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Units {
    /// Millimetres and kilograms.
    #[default]
    Metric,
    /// Inches and pounds.
    Inch,
}

/// What stands in for the metric unit shown, where anything does.
const INCH: [&str; 4] = ["in", "lb", "ft/s", "lbf"];

impl Units {
    /// The spelling in which a number of this unit is shown.
    pub(crate) fn shown(self, unit: Unit) -> Spelling {
        let mut inch = unit.spellings().iter();
        match self {
            Units::Metric => unit.shown(),
            Units::Inch => inch
                .find(|spelling| INCH.contains(&spelling.symbol))
                .copied()
                .unwrap_or_else(|| unit.shown()),
        }
    }

    /// A value [SI] with its unit.
    pub(crate) fn words(self, unit: Unit, si: f64) -> String {
        let shown = self.shown(unit);
        if shown == unit.shown() {
            unit.format(si)
        } else {
            let number = Unit::One.format(shown.from_si(si));
            format!("{number} {}", shown.symbol)
        }
    }

    /// A knob's value [SI] as it is shown.
    pub(crate) fn knob(self, knob: &Knob, si: f64) -> String {
        match knob.kind {
            Kind::Choice(_) => knob.format(si),
            _ => self.words(knob.unit, si),
        }
    }

    /// What a knob takes, where these units say it otherwise than the catalogue.
    #[cfg(feature = "board")]
    pub(crate) fn range(self, knob: &Knob) -> Option<String> {
        let other = self.shown(knob.unit) != knob.unit.shown();
        other.then(|| {
            let [least, most] = [knob.min, knob.max].map(|end| self.words(knob.unit, end));
            format!("a number from {least} to {most}")
        })
    }

    /// Step of a knob [SI]: a round number of what is shown, no coarser than the catalogue's.
    #[cfg(feature = "board")]
    pub(crate) fn step(self, knob: &Knob) -> f64 {
        let shown = self.shown(knob.unit);
        if shown == knob.unit.shown() {
            return knob.step;
        }
        let least = shown.from_si(knob.step);
        let mut step = 1e3;
        while step > 1e-6 {
            for part in [1.0, 0.5, 0.2] {
                if step * part <= least {
                    return shown.to_si(step * part);
                }
            }
            step *= 0.1;
        }
        knob.step
    }

    /// Symbol of the unit in which parts are weighed.
    pub(crate) fn weighed(self) -> &'static str {
        match self {
            Units::Metric => "g",
            Units::Inch => "oz",
        }
    }

    /// A part's mass [kg] in words.
    pub(crate) fn part(self, mass: f64) -> String {
        let symbol = self.weighed();
        let mut all = Unit::Kilogram.spellings().iter();
        let spelling = all.find(|s| s.symbol == symbol);
        let number = spelling.map_or(f64::NAN, |s| s.from_si(mass));
        format!("{} {symbol}", Unit::One.format(number))
    }

    /// What was typed, with the unit shown put behind a number that has none.
    pub(crate) fn completed(self, unit: Unit, text: &str) -> String {
        let shown = self.shown(unit);
        let bare = text
            .trim_end()
            .ends_with(|c: char| c.is_ascii_digit() || c == '.');
        if bare && shown != unit.shown() {
            format!("{text} {}", shown.symbol)
        } else {
            text.to_owned()
        }
    }

    /// A dimension of the drawing, which writes millimetres.
    pub(crate) fn dimension(self, text: &str) -> Option<String> {
        if self == Units::Metric {
            return None;
        }
        let before = text.strip_suffix(" mm")?;
        let start = before.rfind(' ').map_or(0, |at| at + 1);
        let (words, number) = before.split_at_checked(start)?;
        let millimetres = Unit::One.parse(number, Bare::Si).ok()?;
        Some(words.to_owned() + &self.words(Unit::Metre, millimetres * 1e-3))
    }
}

#[cfg(all(test, feature = "board"))]
mod tests {
    use super::*;
    use kickstill_robot::knob;

    #[test]
    fn inches_and_pounds() {
        // 1 in = 25.4 mm, 1 lb = 0.45359237 kg exactly (international yard and pound, 1959).
        assert_eq!(Units::Inch.words(Unit::Metre, 0.48), "18.9 in");
        assert_eq!(Units::Inch.words(Unit::Kilogram, 0.9), "1.98 lb");
        assert_eq!(Units::Metric.words(Unit::Kilogram, 0.9), "0.900 kg");
        assert_eq!(
            Units::Inch.words(Unit::Radian, 0.0),
            Unit::Radian.format(0.0)
        );
        assert_eq!(
            Units::Inch.dimension("Ø 480 mm").as_deref(),
            Some("Ø 18.9 in")
        );
        assert_eq!(Units::Inch.dimension("0.1 m"), None);
        assert_eq!(Units::Metric.dimension("Ø 480 mm"), None);
    }

    #[test]
    fn a_bare_number_is_of_the_unit_shown() {
        let read = |units: Units, text: &str| {
            let typed = units.completed(Unit::Kilogram, text);
            Unit::Kilogram.parse(&typed, Bare::Shown).unwrap()
        };
        assert_eq!(read(Units::Inch, "2"), 2.0 * 0.453_592_37);
        assert_eq!(read(Units::Inch, "2 kg"), 2.0);
        assert_eq!(read(Units::Metric, "2"), 2.0);
        assert_eq!(read(Units::Metric, "2 lb"), 2.0 * 0.453_592_37);
    }

    #[test]
    fn steps_are_round_numbers_of_what_is_shown() {
        let head = knob("head.mass").unwrap();
        let pounds = Units::Inch.step(head) / 0.453_592_37;
        let round = [0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001];
        assert!(
            round.iter().any(|round| (pounds - round).abs() < 1e-9),
            "{pounds}"
        );
        assert!(Units::Inch.step(head) <= head.step * (1.0 + 1e-9));
        assert_eq!(Units::Metric.step(head), head.step);
    }
}
