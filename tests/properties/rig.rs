//! What holds for every robot and every hand on its levers.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod support;

use std::cell::RefCell;
use std::collections::BTreeMap;

use kickstill_rig::{COLUMNS, Event, Level, Rig, Sample, usual_bump, usual_kick};
use kickstill_robot::{Robot, View, catalogue};
use proptest::prelude::*;
use support::{at, config, robots};

/// Length of a run [s].
const SECONDS: f64 = 3.0;

/// An input in terms that fit every robot; numbers are shares of the usual.
#[derive(Clone, Copy, Debug)]
enum Hand {
    Kick(f64, f64),
    Bump(f64),
    Level(u8),
    Speed(f64),
    Lean(f64),
    Head(f64),
    Slope(f64),
    Wall(f64),
    NoWall,
    Duty(f64),
    Knob(usize, f64),
}

impl Hand {
    fn event(self, robot: &Robot) -> Event {
        match self {
            Hand::Kick(size, height) => Event::Kick {
                impulse: size * usual_kick(robot),
                height: height * 2.0 * robot.shell.outer_radius,
            },
            Hand::Bump(size) => Event::Bump {
                impulse: size * usual_bump(robot),
            },
            Hand::Level(0) => Event::Level(Level::Off),
            Hand::Level(1) => Event::Level(Level::Locked),
            Hand::Level(_) => Event::Level(Level::Steadied),
            Hand::Speed(v) => Event::Speed(v * robot.travel.lever_speed),
            Hand::Lean(v) => Event::Lean(v * robot.lean.lever_lean),
            Hand::Head(v) => Event::Head(v),
            Hand::Slope(v) => Event::Slope(v),
            Hand::Wall(ahead) => Event::Wall(Some((1.0 + ahead) * robot.shell.outer_radius)),
            Hand::NoWall => Event::Wall(None),
            Hand::Duty(v) => Event::Duty(v),
            Hand::Knob(i, u) => {
                let knob = &catalogue()[i];
                Event::Knob(knob, at(knob, u))
            }
        }
    }

    /// The same seen in a mirror; none where the world has no mirror image.
    fn mirrored(self) -> Self {
        match self {
            Hand::Kick(size, height) => Hand::Kick(-size, height),
            Hand::Bump(size) => Hand::Bump(-size),
            Hand::Speed(v) => Hand::Speed(-v),
            Hand::Lean(v) => Hand::Lean(-v),
            Hand::Head(v) => Hand::Head(-v),
            Hand::Slope(v) => Hand::Slope(-v),
            Hand::Duty(v) => Hand::Duty(-v),
            other => other,
        }
    }

    fn has_mirror_image(self) -> bool {
        !matches!(self, Hand::Wall(_) | Hand::Knob(..))
    }
}

fn hands() -> impl Strategy<Value = Hand> {
    let signed = || -2.0..2.0_f64;
    prop_oneof![
        4 => (signed(), 0.0..1.0_f64).prop_map(|(s, h)| Hand::Kick(s, h)),
        2 => signed().prop_map(Hand::Bump),
        4 => (0..3_u8).prop_map(Hand::Level),
        2 => signed().prop_map(Hand::Speed),
        2 => signed().prop_map(Hand::Lean),
        1 => (-0.5..0.5_f64).prop_map(Hand::Head),
        1 => (-0.2..0.2_f64).prop_map(Hand::Slope),
        1 => (0.0..2.0_f64).prop_map(Hand::Wall),
        1 => Just(Hand::NoWall),
        2 => signed().prop_map(Hand::Duty),
        2 => (0..catalogue().len(), 0.0..=1.0).prop_map(|(i, u)| Hand::Knob(i, u)),
    ]
}

/// Inputs with the times [s] at which they come.
fn hours() -> impl Strategy<Value = Vec<(f64, Hand)>> {
    prop::collection::vec((0.0..SECONDS, hands()), 0..12).prop_map(|mut list| {
        list.push((0.0, Hand::Level(2)));
        list.sort_by(|a, b| a.0.total_cmp(&b.0));
        list
    })
}

/// Runs a rig under these hands, handing every sample to `look`.
fn play(rig: &mut Rig, plan: &[(f64, Hand)], mut look: impl FnMut(&Rig)) {
    let mut next = 0;
    while (rig.time_us() as f64) < SECONDS * 1e6 && rig.end().is_none() {
        while next < plan.len() && plan[next].0 * 1e6 <= rig.time_us() as f64 {
            let event = plan[next].1.event(rig.robot());
            rig.apply(event);
            next += 1;
        }
        rig.tick();
        look(rig);
    }
}

fn finite(sample: &Sample) -> Result<(), TestCaseError> {
    for column in COLUMNS {
        let value = (column.get)(sample);
        prop_assert!(
            value.is_finite(),
            "{} is {value} at {} s",
            column.key,
            sample.time
        );
    }
    Ok(())
}

proptest! {
    #![proptest_config(config(48))]

    /// Whatever robot and whatever is done to it: samples are finite, or the run has a named end
    /// and still shows finite numbers.
    #[test]
    fn every_sample_is_finite(robot in robots(), plan in hours(), seed in any::<u64>()) {
        for view in [View::Side, View::Front] {
            let mut rig = Rig::new(robot.clone(), view, seed);
            finite(rig.sample())?;
            let mut bad = Ok(());
            play(&mut rig, &plan, |rig| {
                if bad.is_ok() {
                    bad = finite(rig.sample());
                }
            });
            bad?;
            tally(&rig);
            // After an end nothing moves any more.
            if rig.end().is_some() {
                let (time, digest) = (rig.time_us(), rig.digest());
                rig.apply(Event::Speed(1.0));
                rig.tick();
                prop_assert_eq!((time, digest), (rig.time_us(), rig.digest()));
            }
        }
    }

    /// Inputs that are not numbers change nothing.
    #[test]
    fn what_is_no_number_is_dropped(robot in robots(), which in 0..4_usize) {
        let odd = [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, f64::NAN][which];
        let mut plain = Rig::new(robot.clone(), View::Side, 1);
        let mut teased = Rig::new(robot, View::Side, 1);
        for _ in 0..20 {
            for event in [
                Event::Kick { impulse: odd, height: 0.1 },
                Event::Kick { impulse: 1.0, height: odd },
                Event::Bump { impulse: odd },
                Event::Speed(odd),
                Event::Lean(odd),
                Event::Head(odd),
                Event::Slope(odd),
                Event::Duty(odd),
                Event::Wall(Some(odd)),
                Event::Knob(&catalogue()[0], odd),
            ] {
                teased.apply(event);
            }
            plain.tick();
            teased.tick();
        }
        prop_assert!(teased.log().is_empty());
        prop_assert_eq!(plain.digest(), teased.digest());
    }
}

thread_local! {
    static ENDS: RefCell<BTreeMap<String, u32>> = const { RefCell::new(BTreeMap::new()) };
}

/// Prints what became of the runs, so that a reader sees they were not all alike.
fn tally(rig: &Rig) {
    ENDS.with_borrow_mut(|ends| {
        let lost = if rig.sample().head_lost() {
            ", head lost"
        } else {
            ""
        };
        let word = rig.end().map_or("ran on".to_owned(), |e| format!("{e:?}"));
        *ends.entry(format!("{word}{lost}")).or_default() += 1;
        println!("runs so far: {ends:?}");
    });
}

proptest! {
    #![proptest_config(config(32))]

    /// Kicked from the other side, on the mirrored slope, everything moves mirrored, to the bit.
    #[test]
    fn a_mirrored_run_moves_mirrored(robot in robots(), plan in hours(), seed in any::<u64>()) {
        let mut robot = robot;
        // Noise has no mirror image.
        robot.sensing.gyro_noise = 0.0;
        robot.sensing.accelerometer_noise = 0.0;
        let mut mirror = robot.clone();
        mirror.floor.slope = -robot.floor.slope;
        mirror.sensing.gyro_bias = -robot.sensing.gyro_bias;
        let plan: Vec<(f64, Hand)> =
            plan.into_iter().filter(|(_, h)| h.has_mirror_image()).collect();
        let image: Vec<(f64, Hand)> = plan.iter().map(|(t, h)| (*t, h.mirrored())).collect();
        for view in [View::Side, View::Front] {
            let mut here = Vec::new();
            let mut there = Vec::new();
            play(&mut Rig::new(robot.clone(), view, seed), &plan, |r| here.push(*r.sample()));
            play(&mut Rig::new(mirror.clone(), view, seed), &image, |r| there.push(*r.sample()));
            prop_assert_eq!(here.len(), there.len());
            for (a, b) in here.iter().zip(&there) {
                for (what, a, b) in [
                    ("travel", a.travel, b.travel),
                    ("roll", a.roll, b.roll),
                    ("swing", a.swing, b.swing),
                    ("tilt", a.tilt, b.tilt),
                    ("duty", a.duty, b.duty),
                    ("traction", a.traction, b.traction),
                ] {
                    prop_assert_eq!(a + b, 0.0, "{}: {} and {} at {} s", what, a, b, here[0].time);
                }
                prop_assert_eq!(a.floor_force, b.floor_force);
                prop_assert_eq!(a.supply_current, b.supply_current);
                prop_assert_eq!(a.flags, b.flags);
            }
        }
    }
}

proptest! {
    #![proptest_config(config(24))]

    /// A run is its robot, its seed and its log: played back they give the same digest. Two
    /// planes run in turn are what each is alone.
    #[test]
    fn the_log_gives_the_run_again(robot in robots(), plan in hours(), seed in any::<u64>()) {
        let mut digests = Vec::new();
        for view in [View::Side, View::Front] {
            let mut live = Rig::new(robot.clone(), view, seed);
            play(&mut live, &plan, |_| ());
            let mut again = Rig::new(robot.clone(), view, seed);
            let mut log = live.log().iter().peekable();
            while again.time_us() < live.time_us() && again.end().is_none() {
                while let Some((_, event)) = log.next_if(|(t, _)| *t <= again.time_us()) {
                    again.apply(*event);
                }
                again.tick();
            }
            prop_assert_eq!(live.digest(), again.digest());
            prop_assert_eq!(live.sample(), again.sample());
            prop_assert_eq!(live.end(), again.end());
            digests.push(live.digest());
        }
        let mut planes = [View::Side, View::Front].map(|v| Rig::new(robot.clone(), v, seed));
        let mut next = [0; 2];
        loop {
            let mut moved = false;
            for (rig, next) in planes.iter_mut().zip(&mut next) {
                if (rig.time_us() as f64) >= SECONDS * 1e6 || rig.end().is_some() {
                    continue;
                }
                while *next < plan.len() && plan[*next].0 * 1e6 <= rig.time_us() as f64 {
                    let event = plan[*next].1.event(rig.robot());
                    rig.apply(event);
                    *next += 1;
                }
                rig.tick();
                moved = true;
            }
            if !moved {
                break;
            }
        }
        prop_assert_eq!(digests, planes.map(|r| r.digest()).to_vec());
    }
}
