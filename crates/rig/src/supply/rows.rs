//! The report as labelled rows, in one wording for page, command line and sheets.

use kickstill_power::{Ending, FuseVerdict, RegulatorVerdict};
use kickstill_robot::Unit;

use super::{SUSTAINED, SupplyReport};

/// How a row stands to its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Within it.
    Within,
    /// Near it, or past what only some parts bear.
    Near,
    /// Past it.
    Past,
}

/// One row of the report.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyRow {
    /// What it belongs to: fuse, wire, driver, windings, regulators, battery, advice.
    pub group: &'static str,
    /// Key, the same everywhere.
    pub key: &'static str,
    /// Label for people.
    pub label: &'static str,
    /// Value [SI]; none where it is words only.
    pub value: Option<f64>,
    /// Unit of the value.
    pub unit: Unit,
    /// The value in words.
    pub words: String,
    /// How it stands to its limit, where it has one.
    pub verdict: Option<Verdict>,
}

pub(super) fn fuse_words(verdict: &FuseVerdict) -> String {
    let time = |t: f64| Unit::Second.format(t);
    match verdict {
        FuseVerdict::BearsIt { wear } => {
            format!(
                "bears it (wear {} of what opens it)",
                Unit::Share.format(*wear)
            )
        }
        FuseVerdict::MayOpen { earliest } => format!("may open, from {} on", time(*earliest)),
        FuseVerdict::Opens { earliest, latest } => {
            format!("opens, between {} and {}", time(*earliest), time(*latest))
        }
    }
}

pub(super) fn fuse_stands(verdict: &FuseVerdict) -> Verdict {
    match verdict {
        FuseVerdict::BearsIt { .. } => Verdict::Within,
        FuseVerdict::MayOpen { .. } => Verdict::Near,
        FuseVerdict::Opens { .. } => Verdict::Past,
    }
}

fn regulator_words(verdict: &RegulatorVerdict) -> (String, Verdict) {
    let share = |s: &f64| Unit::Share.format(*s);
    match verdict {
        RegulatorVerdict::Within { share: s } => {
            (format!("{} of the rating", share(s)), Verdict::Within)
        }
        RegulatorVerdict::Near { share: s } => (
            format!("near capacity: {} of the rating", share(s)),
            Verdict::Near,
        ),
        RegulatorVerdict::Over { share: s } => (
            format!("over the rating: {} of it", share(s)),
            Verdict::Past,
        ),
        RegulatorVerdict::InputTooLow { input } => (
            format!("input too low: {}", Unit::Volt.format(*input)),
            Verdict::Past,
        ),
    }
}

fn at_most(value: f64, limit: f64) -> Verdict {
    if value <= limit {
        Verdict::Within
    } else {
        Verdict::Past
    }
}

/// A time in words that people use for run times.
pub(super) fn long(seconds: f64) -> String {
    if seconds >= 5400.0 {
        format!("{:.1} h", seconds / 3600.0)
    } else if seconds >= 90.0 {
        format!("{:.0} min", seconds / 60.0)
    } else {
        Unit::Second.format(seconds)
    }
}

pub(super) fn ending(ending: Ending) -> &'static str {
    match ending {
        Ending::Empty => "then the charge is used",
        Ending::Floor => "then the peak pulls the voltage to the floor",
        Ending::TooMuchPower => "the pack cannot give that power",
        Ending::NotEnded => "and longer",
        Ending::NoProgramme => "no programme",
    }
}

/// Builds rows of one group.
struct Rows {
    group: &'static str,
    list: Vec<SupplyRow>,
}

impl Rows {
    fn number(
        &mut self,
        key: &'static str,
        label: &'static str,
        unit: Unit,
        value: f64,
    ) -> &mut Self {
        let words = unit.format(value);
        self.push(key, label, unit, Some(value), words)
    }

    fn text(&mut self, key: &'static str, label: &'static str, words: String) -> &mut Self {
        self.push(key, label, Unit::One, None, words)
    }

    fn push(
        &mut self,
        key: &'static str,
        label: &'static str,
        unit: Unit,
        value: Option<f64>,
        words: String,
    ) -> &mut Self {
        self.list.push(SupplyRow {
            group: self.group,
            key,
            label,
            value: value.filter(|v| v.is_finite()),
            unit,
            words,
            verdict: None,
        });
        self
    }

    /// Says how the row last made stands to its limit.
    fn stands(&mut self, verdict: Verdict) {
        if let Some(row) = self.list.last_mut() {
            row.verdict = Some(verdict);
        }
    }
}

impl SupplyReport {
    /// The report as rows.
    #[must_use]
    pub fn rows(&self) -> Vec<SupplyRow> {
        let mut r = Rows {
            group: "fuse",
            list: Vec::new(),
        };
        self.fuse_rows(&mut r);
        r.group = "wire";
        self.wire_rows(&mut r);
        r.group = "driver";
        let d = &self.driver;
        r.number(
            "driver_peak",
            "peak current of one motor",
            Unit::Ampere,
            d.peak,
        )
        .stands(if d.time_at_limit > 0.0 {
            Verdict::Near
        } else {
            Verdict::Within
        });
        r.number(
            "driver_share",
            "of the driver's limit",
            Unit::Share,
            d.share,
        );
        r.number(
            "driver_time",
            "time at the limit",
            Unit::Second,
            d.time_at_limit,
        );
        r.group = "windings";
        self.winding_rows(&mut r);
        r.group = "regulators";
        let g = &self.regulators;
        let (words, verdict) = regulator_words(&g.verdict);
        r.text("regulators", "head regulators", words)
            .stands(verdict);
        r.number(
            "regulator_current",
            "busiest regulator",
            Unit::Ampere,
            g.busiest,
        );
        r.number(
            "regulator_input",
            "from the battery",
            Unit::Watt,
            g.input_power,
        );
        if g.uncounted > 0.0 {
            let words = format!(
                "{} more than the battery's constant load counts for all electronics",
                Unit::Watt.format(g.uncounted)
            );
            r.text("regulator_uncounted", "not counted", words);
        }
        r.group = "battery";
        self.battery_rows(&mut r);
        r.group = "advice";
        for demand in self.advice.first {
            r.text("first", "first", demand.to_string());
        }
        let last = match &self.advice.larger {
            Ok(larger) => larger.to_string(),
            Err(refusal) => refusal.to_string(),
        };
        r.text("larger_fuse", "a larger fuse", last);
        r.list
    }

    fn fuse_rows(&self, r: &mut Rows) {
        let f = &self.fuse;
        r.text("fuse", "main fuse", fuse_words(&f.verdict))
            .stands(fuse_stands(&f.verdict));
        let steady = format!(
            "{}: as {} steady for as long",
            fuse_words(&f.by_rms),
            Unit::Ampere.format(f.rms)
        );
        r.text("fuse_rms", "second opinion", steady)
            .stands(fuse_stands(&f.by_rms));
        let again = format!(
            "{}: over and over for {}",
            fuse_words(&f.repeated),
            long(SUSTAINED)
        );
        r.text("fuse_repeated", "repeated", again)
            .stands(fuse_stands(&f.repeated));
        r.number("fuse_rating", "rating", Unit::Ampere, f.rating);
        r.number(
            "fuse_power",
            "power at the rating",
            Unit::Watt,
            f.rated_power,
        );
        r.number("fuse_peak", "peak current", Unit::Ampere, f.peak);
        r.number("fuse_peak_power", "peak power", Unit::Watt, f.peak_power);
        r.number(
            "fuse_overload",
            "time above 110 %",
            Unit::Second,
            f.overload_time,
        );
        if let Some(mark) = f.mark {
            let words = format!(
                "{} of the rating for {}",
                Unit::Share.format(mark.multiple),
                Unit::Second.format(mark.time)
            );
            r.text("fuse_mark", "in the band", words);
        }
    }

    fn wire_rows(&self, r: &mut Rows) {
        let w = &self.wire;
        let words = format!(
            "{:.2} mm², about {:.0} AWG, {} one way",
            w.area * 1e6,
            w.gauge,
            Unit::Metre.format(w.length)
        );
        r.text("wire", "wire", words);
        let words = format!(
            "bears {} in open air, {} the fuse's {}",
            Unit::Ampere.format(w.bears),
            if w.bears_fuse {
                "as much as"
            } else {
                "less than"
            },
            Unit::Ampere.format(self.fuse.rating)
        );
        r.push(
            "wire_bears",
            "for hours",
            Unit::Ampere,
            Some(w.bears),
            words,
        )
        .stands(if w.bears_fuse {
            Verdict::Within
        } else {
            Verdict::Past
        });
        r.number("wire_resistance", "there and back", Unit::Ohm, w.resistance);
        r.number("wire_drop", "lost at the peak", Unit::Volt, w.drop_peak);
        let words = format!("{:.2} W/m", w.heat_per_metre);
        r.push(
            "wire_heat",
            "heat of each wire",
            Unit::One,
            Some(w.heat_per_metre),
            words,
        );
    }

    fn winding_rows(&self, r: &mut Rows) {
        let w = &self.windings;
        r.number("winding_end", "windings at the end", Unit::Celsius, w.end)
            .stands(at_most(w.peak, w.limit));
        r.number("winding_limit", "limit", Unit::Celsius, w.limit);
        match w.steady {
            Some(t) => r.number("winding_steady", "repeated for ever", Unit::Celsius, t),
            None => r.text(
                "winding_steady",
                "repeated for ever",
                "without end: it heats faster than it cools".to_owned(),
            ),
        }
        .stands(w.steady.map_or(Verdict::Past, |t| at_most(t, w.limit)));
        let words = w
            .time_to_limit
            .map_or_else(|| "never".to_owned(), |t| format!("after {}", long(t)));
        r.push(
            "winding_time",
            "limit reached, repeated",
            Unit::Second,
            w.time_to_limit,
            words,
        );
        r.number(
            "winding_rms",
            "root mean square of one motor",
            Unit::Ampere,
            w.rms,
        );
    }

    fn battery_rows(&self, r: &mut Rows) {
        let b = &self.battery;
        r.number(
            "lowest_voltage",
            "lowest voltage",
            Unit::Volt,
            b.lowest_voltage,
        )
        .stands(if b.lowest_voltage < b.floor {
            Verdict::Past
        } else {
            Verdict::Within
        });
        r.number("sag", "sag", Unit::Volt, b.sag);
        let words = format!("{:.3} A·h", b.taken.delivered / 3600.0);
        r.push(
            "charge",
            "charge used",
            Unit::AmpereSecond,
            Some(b.taken.delivered),
            words,
        );
        r.number("energy", "energy", Unit::Joule, b.taken.energy);
        let words = format!("{:.1} C", b.peak_rate);
        r.push(
            "peak_rate",
            "peak against charge",
            Unit::One,
            Some(b.peak_rate),
            words,
        );
        let words = b.repeated.map_or_else(
            || "takes nothing on the whole".to_owned(),
            |(time, end)| format!("{}, {}", long(time), ending(end)),
        );
        r.push(
            "run_time",
            "run time, repeated",
            Unit::Second,
            b.repeated.map(|t| t.0),
            words,
        );
        if b.softer {
            let words = format!(
                "these cells alone usually have {}, more than the battery's own number",
                Unit::Ohm.format(b.pack.resistance())
            );
            r.text("softer", "resistance", words);
        }
    }
}
