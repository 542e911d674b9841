//! What matters: derivatives agree with finer steps, noise is not taken for an effect, what is left out
//! does nothing.
#![allow(clippy::unwrap_used)]

use kickstill_rig::{Level, Setting, Trial, run_trial};
use kickstill_robot::{Robot, View, catalogue, demo, demos, knob};
use kickstill_sweep::matters::{SEEDS, Way, fair_step, matters, plays_a_part, with};

fn setting(trial: Trial, view: View, robot: &Robot) -> Setting {
    Setting::new(trial, view, Level::Steadied, robot)
}

/// A demo that is told the truth by its sensors and has no calm zone, so that its measures are smooth.
fn smooth(key: &str) -> Robot {
    let mut robot = demo(key).unwrap();
    robot.sensing.ideal = true;
    robot.sensing.drop_out = 0.0;
    robot.lean.dead_band = 0.0;
    robot.travel.dead_band = 0.0;
    robot
}

/// Common practice, no published source: a central difference of a smooth measure hardly changes when
/// its step is cut to a fifth.
#[test]
fn slopes_agree_with_those_of_a_finer_step() {
    let mut checked = 0;
    for key in ["cobnut", "hayrick"] {
        let robot = smooth(key);
        let setting = setting(Trial::Kick, View::Side, &robot);
        let found = matters(&robot, &setting, "peak", None, |_, _| true).unwrap();
        assert_eq!(found.seeds, 1, "nothing here is left to chance");
        let names = [
            "carriage.mass",
            "carriage.below_centre",
            "shell.mass",
            "head.mass",
        ];
        for row in found.rows.iter().filter(|r| names.contains(&r.knob.key)) {
            let (down, up) = (row.down.as_ref().unwrap(), row.up.as_ref().unwrap());
            let coarse = (up.measure.unwrap() - down.measure.unwrap()) / (up.value - down.value);
            let fine = 0.2 * fair_step(row.knob, row.now);
            let at = |value: f64| {
                let other = with(&robot, row.knob, value).unwrap();
                run_trial(&other, &setting).value("peak").unwrap()
            };
            let slope = (at(row.now + fine) - at(row.now - fine)) / (2.0 * fine);
            println!(
                "{key} {}: {coarse:.5} by steps, {slope:.5} finer",
                row.knob.key
            );
            assert!(
                (coarse - slope).abs() <= 0.06 * slope.abs(),
                "{key} {}: {coarse} against {slope}",
                row.knob.key
            );
            checked += 1;
        }
    }
    assert!(checked >= 6, "{checked}");
}

/// More hanging weight is swung less by the same kick; the better way is that of the lesser number.
#[test]
fn the_better_way_leads_to_less() {
    let robot = smooth("cobnut");
    let setting = setting(Trial::Kick, View::Side, &robot);
    let found = matters(&robot, &setting, "peak", None, |_, _| true).unwrap();
    let weight = found
        .rows
        .iter()
        .find(|r| r.knob.key == "carriage.mass")
        .unwrap();
    assert_eq!(weight.better, Some(Way::Up));
    let stands = found.now.measure.unwrap();
    let mut ways = 0;
    for row in &found.rows {
        let Some(way) = row.better else { continue };
        assert!(
            row.side(way).unwrap().measure.unwrap() < stands,
            "{}",
            row.knob.key
        );
        ways += 1;
    }
    assert!(ways >= 10, "{ways}");
    let effects: Vec<(usize, f64)> = found.rows.iter().map(|r| (r.turns(), r.effect())).collect();
    assert!(effects.windows(2).all(|w| w[0] >= w[1]), "{effects:?}");
}

/// A little more or less noise moves the dip of a stop by chance alone; how deep the carriage hangs
/// does not.
#[test]
fn noise_is_not_taken_for_an_effect() {
    let robot = demo("cobnut").unwrap();
    let setting = setting(Trial::Stop, View::Side, &robot);
    let found = matters(&robot, &setting, "head_dip", None, |_, _| true).unwrap();
    assert_eq!(found.seeds, SEEDS);
    let row = |key: &str| found.rows.iter().find(|r| r.knob.key == key).unwrap();
    for key in ["sensing.gyro_noise", "sensing.accelerometer_noise"] {
        assert!(row(key).only_noise(), "{key}");
        assert_eq!(row(key).better, None);
    }
    for key in ["carriage.below_centre", "levelling.compensation"] {
        assert!(!row(key).only_noise(), "{key}");
    }
    for found in &found.rows {
        assert!(
            found
                .better
                .is_none_or(|way| !found.side(way).unwrap().noise),
            "{}",
            found.knob.key
        );
    }
    let last_real = found.rows.iter().rposition(|r| !r.only_noise()).unwrap();
    assert!(
        found.rows[..last_real].iter().all(|r| !r.only_noise()),
        "noise stands last"
    );
}

/// What changes the outcome stands above any number.
#[test]
fn a_turned_outcome_ranks_first() {
    let mut robot = smooth("cobnut");
    // Just below where the loop oscillates by delay.
    let delay = knob("timing.delay_ticks").unwrap();
    let setting = setting(Trial::Kick, View::Side, &robot);
    let settles = |ticks: f64| {
        let other = with(&robot, delay, ticks).unwrap();
        run_trial(&other, &setting).value("settling_time").is_some()
    };
    let mut ticks = (delay.get)(&robot);
    while ticks < delay.max && settles(ticks + 1.0) {
        ticks += 1.0;
    }
    (delay.put)(&mut robot, ticks);
    let found = matters(&robot, &setting, "settling_time", None, |_, _| true).unwrap();
    let turned = found.rows.iter().filter(|r| r.turns() > 0).count();
    assert!(turned > 0);
    assert!(found.rows[..turned].iter().all(|r| r.turns() > 0));
    let row = found.rows[..turned]
        .iter()
        .find(|r| r.knob.key == delay.key)
        .unwrap();
    assert!(row.up.as_ref().unwrap().turns && !row.down.as_ref().unwrap().turns);
}

/// The sections that are never tried are so rightly: moved, they leave every bit of the motion alone.
#[test]
fn knobs_left_out_by_their_section_do_nothing() {
    let mut checked = 0;
    for one in demos() {
        let robot = demo(one.key).unwrap();
        for (trial, view) in [(Trial::Stop, View::Side), (Trial::Kick, View::Front)] {
            let mut setting = setting(trial, view, &robot);
            setting.seconds = 2.0;
            let digest = run_trial(&robot, &setting).digest;
            for knob in catalogue().iter().filter(|k| !plays_a_part(k, view)) {
                let now = (knob.get)(&robot);
                for sign in [-1.0, 1.0] {
                    let value = (now + sign * fair_step(knob, now))
                        .max(knob.min)
                        .min(knob.max);
                    let Some(other) = with(&robot, knob, value) else {
                        continue;
                    };
                    assert_eq!(
                        run_trial(&other, &setting).digest,
                        digest,
                        "{} {} {value}",
                        one.key,
                        knob.key
                    );
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 200, "{checked}");
}

#[test]
fn it_can_be_given_up_and_refuses_a_measure_the_trial_has_not() {
    let robot = demo("thimble").unwrap();
    let setting = setting(Trial::Kick, View::Side, &robot);
    let mut told = 0;
    let none = matters(&robot, &setting, "peak", None, |_, _| {
        told += 1;
        told < 3
    });
    assert!(none.is_none() && told == 3);
    assert!(matters(&robot, &setting, "run_out_time", None, |_, _| true).is_none());
}
