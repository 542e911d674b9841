//! The board's run once more, with its samples.

use kickstill_rig::{Event, Rig, Sample};
use kickstill_robot::{Knob, Robot};

use super::Ran;
use crate::lab::ask::{Ask, Progress, Recorded, get};

/// Longest run that is made again [ticks]: a day at 1 kHz.
const MOST_TICKS: f64 = 86_400_000.0;
/// Longest stretch looked at [s].
const MOST_SECONDS: f64 = 120.0;
/// Ticks between two words of progress.
const TICKS_PER_WORD: u64 = 20_000;

pub(super) struct Live {
    run: Recorded,
    /// How much of its end is looked at [s].
    seconds: f64,
    title: String,
}

/// `live: { view, seed, ticks, log, seconds, title }`.
pub(super) fn read(ask: &mut Ask) -> Option<Live> {
    let object = ask.get("live");
    let run = ask.recorded(&object, MOST_TICKS);
    let seconds = get(&object, "seconds");
    let Some(seconds) = seconds.as_f64().filter(|v| *v > 0.0) else {
        ask.wrong("seconds", "how much of its end is looked at", &seconds);
        return None;
    };
    Some(Live {
        run: run?,
        seconds: seconds.min(MOST_SECONDS),
        title: get(&object, "title").as_string().unwrap_or_default(),
    })
}

/// Makes the run again and keeps its end. What stands in `instead`: these knobs are set from the start and stay
/// whatever the log says of them.
pub(super) fn run(
    robot: Robot,
    live: &Live,
    progress: &Progress,
    instead: &[(&'static Knob, f64)],
) -> Ran {
    let mut rig = Rig::new(robot, live.run.view, live.run.seed);
    for (knob, value) in instead {
        rig.apply(Event::Knob(knob, *value));
    }
    let tick_us = rig.tick_us();
    let tick = f64::from(tick_us) * 1e-6;
    // The cast saturates.
    let kept = (live.seconds / tick) as u64;
    let from = live.run.ticks.saturating_sub(kept);
    let mut samples: Vec<Sample> = Vec::new();
    let mut log = live.run.log.iter().peekable();
    let words = |n: u64| u32::try_from(n / TICKS_PER_WORD).unwrap_or(u32::MAX);
    for number in 0..live.run.ticks {
        if number % TICKS_PER_WORD == 0 && live.run.ticks > TICKS_PER_WORD {
            progress.tell(words(number), words(live.run.ticks).max(1));
        }
        while let Some((_, event)) = log.next_if(|(time, _)| *time <= rig.time_us()) {
            let kept =
                matches!(event, Event::Knob(k, _) if instead.iter().any(|(i, _)| i.key == k.key));
            if !kept {
                rig.apply(*event);
            }
        }
        rig.tick();
        if number >= from {
            samples.push(*rig.sample());
        }
        if rig.end().is_some() {
            break;
        }
    }
    Ran {
        robot: rig.robot().clone(),
        view: live.run.view,
        title: live.title.clone(),
        outcome: String::new(),
        outcome_class: "",
        samples,
        tick,
    }
}
