//! Steadying by hand: the kicks of a try, and what the try is scored by.

use kickstill_robot::{Robot, Unit, View};

use crate::event::Event;
use crate::measure::{Judging, Measure, Stimulus, measure, time_within};
use crate::outcome::Outcome;
use crate::random::uniform;
use crate::rig::Rig;
use crate::sample::{Level, Sample};
use crate::trial::{BAND, steady_swing, usual_kick};

/// Stream of chance of the kicks.
const STREAM: u64 = 0x0068_616e_6473;
/// Time before the first kick [s]: enough to find the lever.
const FIRST: f64 = 1.0;
/// Shortest time between two kicks [s].
const PAUSE: f64 = 3.5;
/// By how much more it may be [s]: the next kick must not be known beforehand.
const PAUSE_MORE: f64 = 2.0;
/// Nothing is kicked in the last stretch [s]: what cannot be answered any more tells nothing.
const LAST: f64 = 3.0;
/// Knob of the software's delay.
const DELAY: &str = "timing.delay_ticks";
/// Share of the usual kick that a kick has at least.
const LEAST: f64 = 0.4;

/// A kick of a try.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Planned {
    /// Time from the beginning of the try [s].
    pub time: f64,
    /// Impulse along +x [N·s].
    pub impulse: f64,
    /// Height above the floor [m].
    pub height: f64,
}

/// The kicks of a try of so many seconds: the same for the same robot and seed. Sizes are 0.4 to 1 of the usual
/// kick, at the height of the ball's centre, from either side.
#[must_use]
pub fn kicks(robot: &Robot, seed: u64, seconds: f64) -> Vec<Planned> {
    let usual = usual_kick(robot);
    let mut list = Vec::new();
    let mut time = FIRST;
    for number in 0.. {
        let draw = |draw: u64| uniform(seed, STREAM, number, draw);
        if time > seconds - LAST {
            break;
        }
        let size = usual * (LEAST + (1.0 - LEAST) * draw(0));
        list.push(Planned {
            time,
            impulse: if draw(1) < 0.5 { -size } else { size },
            height: robot.shell.outer_radius,
        });
        time += PAUSE + PAUSE_MORE * draw(2);
    }
    list
}

/// A run of a try as it was recorded.
#[derive(Clone, Copy, Debug)]
pub struct Recording<'a> {
    /// Robot as it stood at rest.
    pub robot: &'a Robot,
    /// Plane.
    pub view: View,
    /// Seed of the sensors' noise.
    pub seed: u64,
    /// Ticks of the whole run.
    pub ticks: u64,
    /// Its inputs, with their times [µs].
    pub log: &'a [(u64, Event)],
    /// Time at which the try begins [µs].
    pub from_us: u64,
    /// Time at which it would end [µs].
    pub until_us: u64,
    /// Kicks of the whole try: a person whose run ended early did not get the last of them, the software does.
    pub kicks: &'a [Planned],
}

/// Who has the drive in a try made again.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Who {
    /// The person, as recorded.
    Person,
    /// Nobody: the lever stays in the middle.
    Nobody,
    /// The software, instead of the person; with another delay [ticks] if one is given.
    Software(Option<f64>),
}

/// A try made again.
#[derive(Clone, Debug)]
pub struct Tried {
    /// Outcome from its beginning on.
    pub outcome: Outcome,
    /// What it is scored by.
    pub rows: Vec<Measure>,
    /// Seconds it lasted; less than planned if the run could not go on.
    pub seconds: f64,
    /// Digest of the whole run.
    pub digest: u64,
    /// The try's samples.
    pub samples: Vec<Sample>,
    /// Time between them [µs].
    pub tick_us: u32,
}

/// Makes a recorded run again, with the person's duty or with the software in its place: the same kicks in the same
/// ticks, the same knobs.
#[must_use]
pub fn try_again(recording: &Recording<'_>, who: Who) -> Tried {
    let mut rig = Rig::new(recording.robot.clone(), recording.view, recording.seed);
    let delay = kickstill_robot::knob(DELAY);
    if let (Who::Software(Some(ticks)), Some(knob)) = (who, delay) {
        rig.apply(Event::Knob(knob, ticks));
    }
    let mut samples: Vec<Sample> = Vec::new();
    let mut log = recording.log.iter().peekable();
    let recorded_until = recording.ticks;
    let mut kicks = recording.kicks.iter().peekable();
    let mut handed = false;
    let mut end = None;
    for tick in 0.. {
        let over = rig.time_us() >= recording.until_us;
        if tick >= recorded_until && (who == Who::Person || over) {
            break;
        }
        while let Some((_, event)) = log.next_if(|(time, _)| *time <= rig.time_us()) {
            match (who, *event) {
                // The software takes over where the person does; what the person does is left out.
                (Who::Software(_), Event::Duty(_)) => {
                    if !core::mem::replace(&mut handed, true) {
                        rig.apply(Event::Level(Level::Steadied));
                    }
                }
                (Who::Nobody, Event::Duty(_)) => rig.apply(Event::Duty(0.0)),
                (Who::Software(Some(_)), Event::Knob(knob, _)) if knob.key == DELAY => {}
                (_, event) => rig.apply(event),
            }
        }
        let past =
            |kick: &&Planned| recording.from_us as f64 + kick.time * 1e6 <= rig.time_us() as f64;
        if let Some(kick) = kicks.next_if(past)
            && tick >= recorded_until
        {
            let Planned {
                impulse, height, ..
            } = *kick;
            rig.apply(Event::Kick { impulse, height });
        }
        let began = rig.time_us() >= recording.from_us;
        rig.tick();
        // A record may go on for some frames after the try: they belong to its digest, not to its score.
        if !over {
            end = rig.end();
        }
        if began && !over {
            samples.push(*rig.sample());
        }
        if rig.end().is_some() {
            break;
        }
    }
    let judging = Judging {
        view: recording.view,
        band: BAND,
        tick: f64::from(rig.tick_us()) * 1e-6,
        // The same for all, so that all are measured by one rule.
        steady_swing: match recording.view {
            View::Side => steady_swing(rig.robot()),
            View::Front => 0.0,
        },
        from: Stimulus::Push,
        end,
    };
    let (outcome, rows) = score(&samples, &judging);
    Tried {
        outcome,
        rows,
        seconds: samples.len() as f64 * judging.tick,
        digest: rig.digest(),
        samples,
        tick_us: rig.tick_us(),
    }
}

/// Measures of a run that a try is scored by.
const SCORED: [&str; 8] = [
    "peak",
    "head_dip",
    "head_sway",
    "power_mean",
    "energy",
    "current_peak",
    "current_rms",
    "limit_time",
];

/// Scores a try: time within the band, then measures of the run.
#[must_use]
pub fn score(samples: &[Sample], judging: &Judging) -> (Outcome, Vec<Measure>) {
    let within = time_within(samples, judging);
    let (outcome, measures) = measure(samples, judging);
    let mut rows = vec![Measure {
        key: "within_band",
        label: "time within the band",
        value: Some(within),
        unit: Unit::Second,
        words: Unit::Second.format(within),
    }];
    rows.extend(measures.into_iter().filter(|m| SCORED.contains(&m.key)));
    (outcome, rows)
}

#[cfg(test)]
mod tests {
    use super::*;
    use kickstill_robot::demo;

    const SECONDS: f64 = 20.0;

    fn value(tried: &Tried, key: &str) -> f64 {
        let row = tried.rows.iter().find(|m| m.key == key);
        row.and_then(|m| m.value).unwrap()
    }

    /// A run of the whole try; `hand` answers a sample with a duty.
    fn played(key: &str, view: View, hand: impl Fn(&Sample) -> f64) -> (Robot, Rig, u64) {
        let robot = demo(key).unwrap();
        let mut rig = Rig::new(robot.clone(), view, 1);
        let plan = kicks(&robot, 7, SECONDS);
        let mut next = plan.iter().peekable();
        let mut ticks = 0;
        while rig.time_us() < (SECONDS * 1e6) as u64 && rig.end().is_none() {
            while let Some(kick) = next.next_if(|k| k.time * 1e6 <= rig.time_us() as f64) {
                rig.apply(Event::Kick {
                    impulse: kick.impulse,
                    height: kick.height,
                });
            }
            rig.apply(Event::Duty(hand(rig.sample())));
            rig.tick();
            ticks += 1;
        }
        (robot, rig, ticks)
    }

    fn again(run: &(Robot, Rig, u64), view: View, who: Who) -> Tried {
        let recording = Recording {
            robot: &run.0,
            view,
            seed: 1,
            ticks: run.2,
            log: run.1.log(),
            from_us: 0,
            until_us: (SECONDS * 1e6) as u64,
            kicks: &kicks(&run.0, 7, SECONDS),
        };
        try_again(&recording, who)
    }

    #[test]
    fn kicks_are_those_of_the_seed_and_leave_time_to_answer() {
        let robot = demo("cobnut").unwrap();
        let plan = kicks(&robot, 1, SECONDS);
        assert_eq!(plan, kicks(&robot, 1, SECONDS));
        assert_ne!(plan, kicks(&robot, 2, SECONDS));
        assert!((3..=5).contains(&plan.len()), "{}", plan.len());
        for pair in plan.windows(2) {
            let pause = pair[1].time - pair[0].time;
            assert!((PAUSE..=PAUSE + PAUSE_MORE).contains(&pause), "{pause}");
        }
        assert!(plan.iter().all(|k| k.time <= SECONDS - LAST));
        let most = usual_kick(&robot);
        assert!(plan.iter().all(|k| k.impulse.abs() <= most));
        let sides: Vec<bool> = (0..20)
            .flat_map(|seed| kicks(&robot, seed, SECONDS))
            .map(|k| k.impulse > 0.0)
            .collect();
        assert!(sides.contains(&true) && sides.contains(&false));
    }

    #[test]
    fn a_try_comes_out_the_same_and_the_software_takes_the_same_kicks() {
        for view in [View::Side, View::Front] {
            let run = played("cobnut", view, |s| -0.1 * s.swing);
            let person = again(&run, view, Who::Person);
            assert_eq!(person.digest, run.1.digest());
            assert!((person.seconds - SECONDS).abs() < 0.02);
            let software = again(&run, view, Who::Software(None));
            assert_ne!(software.digest, person.digest);
            let [own, theirs] = [&person, &software].map(|t| value(t, "within_band"));
            assert!(theirs > own, "{view:?} {own} {theirs}");
        }
    }

    #[test]
    fn a_run_that_ends_early_leaves_the_software_its_whole_try() {
        // Full lever against the swing, as long as it is there: over and off the floor.
        let run = played("cobnut", View::Side, |s| 10.0 * s.swing);
        let person = again(&run, View::Side, Who::Person);
        assert!(run.1.end().is_some() && person.seconds < SECONDS / 2.0);
        let software = again(&run, View::Side, Who::Software(None));
        assert!((software.seconds - SECONDS).abs() < 0.02);
        let whole = played("cobnut", View::Side, |_| 0.0);
        let same = again(&whole, View::Side, Who::Software(None));
        // Which tick of the last kicks is the same too, or the rows would differ.
        assert_eq!(software.rows, same.rows);
    }

    #[test]
    fn the_software_with_a_person_s_delay_is_no_longer_steady() {
        let run = played("cobnut", View::Side, |_| 0.0);
        let [quick, late] = [None, Some(25.0)].map(|d| again(&run, View::Side, Who::Software(d)));
        let [quick, late] = [&quick, &late].map(|t| value(t, "within_band"));
        println!("software {quick} s, delayed by 250 ms {late} s");
        assert!(late < quick / 2.0, "{quick} {late}");
    }

    #[test]
    fn one_who_answers_the_swing_at_once_does_better_than_nobody() {
        // The software's own answer to the swing, without its delay and dead band.
        let robot = demo("cobnut").unwrap();
        let gains = robot.travel;
        let run = played("cobnut", View::Side, |s| {
            -gains.correction * s.swing - gains.damping * s.swing_rate - gains.speed * s.roll_rate
        });
        let [person, nobody] = [Who::Person, Who::Nobody].map(|w| again(&run, View::Side, w));
        let [held, left] = [&person, &nobody].map(|t| value(t, "within_band"));
        println!("held {held} s, left alone {left} s");
        assert!(held > left + 2.0, "{held} {left}");
    }
}
