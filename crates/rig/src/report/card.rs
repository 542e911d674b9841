//! A card for the floor: what is tried by hand, what the simulation says will come of it, and room for what
//! comes of it.

use kickstill_robot::{Robot, Unit};

use super::by_hand::{CardTrial, given, how};
use super::tried::{digits, plain};
use super::{CAUTION, Table, trial_title};
use crate::limits::Limits;
use crate::spread::{Spreads, quantile, variant, varied};
use crate::trial::run_trial;

/// Variants of the robot that are run for the spread unless another number is asked for: enough for where the
/// middle four fifths lie, few enough for a moment's wait.
pub const USUAL_VARIANTS: u32 = 20;

/// Share of the variants below and above the span that a card gives.
const OUTSIDE: f64 = 0.1;
/// Seed of the variants' draws.
const SEED: u64 = 1;

/// One measure of one trial.
#[derive(Clone, Debug, PartialEq)]
pub struct CardRow {
    /// Name of the trial, such as `kick/side/on`.
    pub key: String,
    /// Trial, view and level in words.
    pub title: String,
    /// What is done.
    pub what: &'static str,
    /// The trial's numbers, labelled, in words.
    pub given: Vec<(&'static str, String)>,
    /// Key of the measure.
    pub measure: &'static str,
    /// What is measured.
    pub label: &'static str,
    /// How it is measured on the real robot.
    pub how: &'static str,
    /// Unit of the values below.
    pub unit: Unit,
    /// What the simulation gives [SI]; none where the run gives none.
    pub value: Option<f64>,
    /// The same in words, or why there is none.
    pub predicted: String,
    /// Where the middle four fifths of the variants lie within the spreads of the robot's marks [SI]; none
    /// where no number of the robot is marked, or fewer than half of the variants give a value.
    pub spread: Option<(f64, f64)>,
    /// The same in words; may be empty.
    pub spread_text: String,
    /// The limit asked for, in words; may be empty.
    pub limit: String,
}

/// A card.
#[derive(Clone, Debug, PartialEq)]
pub struct Card {
    /// One row a measure, those of a trial one after another.
    pub rows: Vec<CardRow>,
    /// Variants behind each spread.
    pub variants: u32,
}

/// What to mind on the floor.
#[must_use]
pub fn card_cautions() -> [&'static str; 2] {
    [
        CAUTION,
        "Before each trial: battery voltage in order, head seated, fuse as on the robot's sheet, floor clear. Begin \
         with a quarter of the push or speed given. Stop as soon as something smells, gets hot or does not do what \
         was asked of it.",
    ]
}

/// Runs the trials and, for the spread, so many variants of each; `say` writes a value [SI] with its unit, and
/// `go_on` is told how many runs are done, of how many: if it gives false there is no card.
pub fn card(
    robot: &Robot,
    trials: &[CardTrial],
    limits: &Limits,
    variants: u32,
    say: &dyn Fn(Unit, f64) -> String,
    mut go_on: impl FnMut(u32, u32) -> bool,
) -> Option<Card> {
    // The cast is safe: a few trials.
    let of = (trials.len() as u32).saturating_mul(1 + variants);
    let mut done = 0;
    let mut rows = Vec::new();
    for trial in trials {
        let setting = trial.setting(robot);
        let mut run = |robot: &Robot| {
            let asked = go_on(done, of).then(|| run_trial(robot, &setting));
            done += 1;
            asked
        };
        let nominal = run(robot)?;
        let moved = varied(robot, trial.view, &Spreads::default());
        let mut others = Vec::new();
        // Without marks every variant would be the robot itself.
        let count = if moved.is_empty() { 0 } else { variants };
        for number in 0..count {
            if let Some(other) = variant(robot, &moved, SEED, u64::from(number)) {
                let run = run(&other)?;
                let values: Vec<Option<f64>> =
                    trial.measures.iter().map(|m| run.value(m)).collect();
                others.push(values);
            }
        }
        for (at, key) in trial.measures.iter().enumerate() {
            let Some(found) = nominal.measure(key) else {
                continue;
            };
            let values = others
                .iter()
                .filter_map(|row| row.get(at).copied().flatten());
            let spread = middle(values.collect(), others.len());
            rows.push(CardRow {
                key: trial.key(),
                title: trial_title(&setting),
                what: trial.what,
                given: given(robot, &setting)
                    .into_iter()
                    .map(|(label, unit, value)| (label, say(unit, value)))
                    .collect(),
                measure: found.key,
                label: found.label,
                how: how(found.key),
                unit: found.unit,
                value: found.value,
                predicted: found
                    .value
                    .map_or_else(|| found.words.clone(), |v| say(found.unit, v)),
                spread,
                spread_text: spread.map_or_else(String::new, |(low, high)| {
                    format!("{} … {}", say(found.unit, low), say(found.unit, high))
                }),
                limit: limit(limits, trial, found.key, say),
            });
        }
    }
    Some(Card { rows, variants })
}

/// Where the middle of the values lies, if at least half of the variants have one.
fn middle(mut values: Vec<f64>, of: usize) -> Option<(f64, f64)> {
    values.sort_by(f64::total_cmp);
    let enough = !values.is_empty() && 2 * values.len() >= of;
    enough.then(|| (quantile(&values, OUTSIDE), quantile(&values, 1.0 - OUTSIDE)))
}

fn limit(
    limits: &Limits,
    trial: &CardTrial,
    measure: &str,
    say: &dyn Fn(Unit, f64) -> String,
) -> String {
    let same = |t: &&crate::limits::LimitedTrial| {
        t.trial == trial.trial && t.view == trial.view && t.level == trial.level
    };
    let of = limits.trials.iter().filter(same).flat_map(|t| &t.limits);
    let words = of.filter(|l| l.measure == measure).flat_map(|l| {
        let end = |sign: &str, v: Option<f64>| v.map(|v| format!("{sign} {}", say(l.unit, v)));
        [end("≥", l.min), end("≤", l.max)]
    });
    let words: Vec<String> = words.flatten().collect();
    words.join(", ")
}

/// As a table with room to write in.
#[must_use]
pub fn card_table(card: &Card) -> Table {
    let mut last = "";
    let rows = card.rows.iter().map(|row| {
        let first = row.key != last;
        last = &row.key;
        let given: Vec<String> = row.given.iter().map(|(l, v)| format!("{l} {v}")).collect();
        let what = if first {
            format!("{}: {} {}", row.title, row.what, given.join("; "))
        } else {
            String::new()
        };
        vec![
            what.trim_end().to_owned(),
            row.label.to_owned(),
            row.how.to_owned(),
            row.predicted.clone(),
            row.spread_text.clone(),
            row.limit.clone(),
            String::new(),
        ]
    });
    Table {
        head: vec![
            "trial",
            "measure",
            "how",
            "predicted",
            "with the guesses",
            "limit",
            "measured",
        ],
        rows: rows.collect(),
    }
}

/// As CSV, SI units, with an empty column to type what was measured.
#[must_use]
pub fn card_csv(card: &Card) -> String {
    let mut csv = csv::Writer::from_writer(Vec::new());
    let head = [
        "trial",
        "measure",
        "label",
        "unit",
        "predicted",
        "low",
        "high",
        "limit",
        "measured",
        "note",
    ];
    // Writing into memory cannot fail.
    let _ = csv.write_record(head).map_err(plain);
    for row in &card.rows {
        let number = |v: Option<f64>| v.map_or_else(String::new, digits);
        let record = [
            row.key.clone(),
            row.measure.to_owned(),
            row.label.to_owned(),
            row.unit.si_symbol().to_owned(),
            number(row.value),
            number(row.spread.map(|s| s.0)),
            number(row.spread.map(|s| s.1)),
            row.limit.clone(),
            String::new(),
            // What the run says where it gives no number.
            row.value
                .map_or_else(|| row.predicted.clone(), |_| String::new()),
        ];
        let _ = csv.write_record(record).map_err(plain);
    }
    String::from_utf8(csv.into_inner().unwrap_or_default()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limits::usual_limits;
    use crate::report::{card_trials, usual_card};
    use crate::trial::Trial;
    use kickstill_robot::{Mark, demo};

    fn say(unit: Unit, value: f64) -> String {
        unit.format(value)
    }

    #[test]
    fn a_row_says_what_the_trial_gives() {
        let mut robot = demo("thimble").unwrap();
        assert!(robot.set_mark("head.mass", Some(Mark::Guessed)));
        let one: Vec<CardTrial> = usual_card()
            .into_iter()
            .filter(|t| t.trial == Trial::Stop)
            .collect();
        let limits = usual_limits(&robot);
        let made = card(&robot, &one, &limits, 4, &say, |_, _| true).unwrap();
        let run = run_trial(&robot, &one[0].setting(&robot));
        let dip = made.rows.iter().find(|r| r.measure == "head_dip").unwrap();
        assert_eq!(dip.value, run.value("head_dip"));
        assert_eq!(dip.limit, "≤ 4.00°");
        let (low, high) = dip.spread.unwrap();
        assert!(low < high, "{low} {high}");
        let again = card(&robot, &one, &limits, 4, &say, |_, _| true).unwrap();
        assert_eq!(made, again);
    }

    #[test]
    fn without_marks_there_is_no_spread_and_no_run_for_it() {
        let mut robot = demo("thimble").unwrap();
        robot.marks.clear();
        let one = [usual_card()[0]];
        let mut runs = 0;
        let made = card(&robot, &one, &usual_limits(&robot), 50, &say, |_, _| {
            runs += 1;
            true
        });
        assert_eq!(runs, 1);
        assert!(made.unwrap().rows.iter().all(|r| r.spread.is_none()));
    }

    #[test]
    fn it_can_be_given_up() {
        let robot = demo("thimble").unwrap();
        let limits = usual_limits(&robot);
        assert!(card(&robot, card_trials(), &limits, 3, &say, |done, _| done < 2).is_none());
    }

    #[test]
    fn the_file_has_a_line_for_each_row_and_room_to_type() {
        let robot = demo("thimble").unwrap();
        let made = card(
            &robot,
            &usual_card()[..2],
            &usual_limits(&robot),
            0,
            &say,
            |_, _| true,
        );
        let made = made.unwrap();
        let text = card_csv(&made);
        let mut read = csv::Reader::from_reader(text.as_bytes());
        let at = read.headers().unwrap().iter().position(|h| h == "measured");
        let lines: Vec<csv::StringRecord> = read.records().map(Result::unwrap).collect();
        assert_eq!(lines.len(), made.rows.len());
        for (line, row) in lines.iter().zip(&made.rows) {
            assert_eq!(&line[at.unwrap()], "");
            assert_eq!(line[4].parse().ok(), row.value);
        }
    }

    #[test]
    fn the_middle_needs_half_of_the_variants() {
        assert_eq!(middle(vec![], 0), None);
        assert_eq!(middle(vec![1.0], 3), None);
        assert_eq!(middle(vec![2.0, 1.0], 4), Some((1.1, 1.9)));
    }
}
