//! The double, and the record of a live run.

// Clippy knows a test by `#[test]` only.
#![allow(clippy::unwrap_used)]

use kickstill_rig::Level;
use kickstill_robot::View;

use super::run;
use crate::desk::Desk;

/// A file of the demo with one knob set, as a kept revision gives it.
fn file_with(desk: &mut Desk, key: &str, value: f64) -> String {
    let was = (kickstill_robot::knob(key).unwrap().get)(desk.robot());
    desk.set_knob(key, value).unwrap();
    let file = desk.robot_file();
    desk.set_knob(key, was).unwrap();
    file
}

/// Everything a hand can do, in turn.
fn play(desk: &mut Desk) {
    let slope = "floor.slope";
    desk.set_level(2).unwrap();
    run(desk, 0.3);
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    desk.kick(View::Front, 3.0, 0.24).unwrap();
    run(desk, 1.0);
    desk.bump(View::Side, 0.4).unwrap();
    desk.lever(View::Side, 0.7).unwrap();
    desk.lever(View::Front, -1.0).unwrap();
    run(desk, 0.7);
    desk.set_knob(slope, 0.02).unwrap();
    desk.lever(View::Side, 0.0).unwrap();
    run(desk, 0.7);
    desk.emergency_stop();
    run(desk, 0.4);
    desk.set_level(1).unwrap();
    run(desk, 0.4);
    desk.set_level(2).unwrap();
    run(desk, 0.4);
}

fn digests(desk: &Desk) -> [[u64; 2]; 2] {
    [View::Side, View::Front].map(|view| {
        [Some(desk.plane(view)), desk.double_plane(view)]
            .map(|plane| plane.map_or(0, |plane| plane.record().digest))
    })
}

#[test]
fn a_double_with_equal_settings_stays_equal_to_the_last_bit() {
    let mut desk = Desk::new();
    run(&mut desk, 1.0);
    let file = desk.robot_file();
    desk.double_robot(&file, &file, "same").unwrap();
    for _ in 0..2 {
        play(&mut desk);
        for [own, double] in digests(&desk) {
            assert_eq!(own, double);
        }
        for view in [View::Side, View::Front] {
            let (own, double) = (desk.plane(view), desk.double_plane(view).unwrap());
            assert_eq!(own.at(own.now()), double.at(double.now()));
            assert_eq!(own.record().log.len(), double.record().log.len());
            assert_eq!(own.number(), double.number());
        }
        assert!(desk.plane(View::Side).at(2.0).travel != 0.0);
        desk.reset_run();
    }
    // A knob of the board's robot is no input of the double.
    desk.set_knob("head.mass", 1.3).unwrap();
    play(&mut desk);
    for [own, double] in digests(&desk) {
        assert_ne!(own, double);
    }
}

#[test]
fn a_double_with_another_loop_rate_keeps_up_with_the_boards_time() {
    for rate in [20.0, 50.0, 333.0, 1000.0] {
        let mut desk = Desk::new();
        let file = file_with(&mut desk, "timing.loop_rate", rate);
        desk.double_robot(&file, &file, "").unwrap();
        desk.set_level(2).unwrap();
        run(&mut desk, 0.5);
        desk.kick(View::Side, 4.0, 0.24).unwrap();
        for _ in 0..100 {
            desk.advance(16_000.0);
            let (own, double) = (
                desk.plane(View::Side),
                desk.double_plane(View::Side).unwrap(),
            );
            let [own_us, double_us] = [own, double].map(|plane| plane.time_us());
            assert!(double_us >= own_us, "{rate} Hz: it lags");
            assert!(
                double_us < own_us + double.tick_us(),
                "{rate} Hz: it runs ahead"
            );
            let shown = desk.shown_time(View::Side);
            assert!(
                shown <= double.now() + 1e-9,
                "{rate} Hz: nothing to show yet"
            );
        }
        let kicks = desk.double_plane(View::Side).unwrap().record().log.iter();
        let times: Vec<u64> = kicks.map(|(time, _)| *time).collect();
        let own: Vec<u64> = desk
            .plane(View::Side)
            .record()
            .log
            .iter()
            .map(|(t, _)| *t)
            .collect();
        assert_eq!(times.len(), own.len());
        let tick = desk.double_plane(View::Side).unwrap().tick_us();
        for (double, own) in times.iter().zip(own) {
            assert!(
                (own..own + tick).contains(double),
                "{rate} Hz: {double} for {own}"
            );
        }
    }
}

#[test]
fn swapped_twice_all_is_as_it_was() {
    let trace = |swaps: bool| {
        let mut desk = Desk::new();
        desk.double_at(Level::Off, "motors off");
        desk.set_level(2).unwrap();
        desk.kick(View::Side, 4.0, 0.24).unwrap();
        run(&mut desk, 0.5);
        let (level, file) = (desk.level(), desk.robot_file());
        if swaps {
            let before = digests(&desk);
            desk.swap("steadied").unwrap();
            assert_eq!(desk.level(), kickstill_rig::Level::Off);
            assert_eq!(desk.double().unwrap().label, "steadied");
            for ([a, b], [c, d]) in before.into_iter().zip(digests(&desk)) {
                assert_eq!([a, b], [d, c]);
            }
            desk.swap("motors off").unwrap();
        }
        assert_eq!((desk.level(), desk.robot_file()), (level, file));
        run(&mut desk, 1.0);
        desk.bump(View::Front, 0.3).unwrap();
        run(&mut desk, 1.0);
        digests(&desk)
    };
    assert_eq!(trace(true), trace(false));
}

#[test]
fn the_runs_go_on_through_a_swap_and_the_switch_is_the_boards() {
    let mut desk = Desk::new();
    desk.double_at(Level::Off, "off");
    desk.set_level(2).unwrap();
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    run(&mut desk, 0.5);
    desk.swap("was the board's").unwrap();
    run(&mut desk, 0.5);
    let [own, double] = [
        desk.plane(View::Side),
        desk.double_plane(View::Side).unwrap(),
    ];
    assert_eq!(own.at(own.now()).level, 0);
    assert_eq!(
        double.at(double.now()).level,
        2,
        "it keeps the level it had"
    );
    assert!(own.now() > 0.9 && double.now() > 0.9);
    desk.set_level(1).unwrap();
    run(&mut desk, 0.1);
    let [own, double] = [
        desk.plane(View::Side),
        desk.double_plane(View::Side).unwrap(),
    ];
    assert_eq!(
        [own, double].map(|plane| plane.at(plane.now()).level),
        [1, 2]
    );
}

#[test]
fn becoming_the_double_takes_its_settings_and_its_run() {
    let mut desk = Desk::new();
    let heavy = file_with(&mut desk, "head.mass", 1.4);
    assert!(desk.become_double().is_err() && desk.swap("").is_err());
    desk.double_robot(&heavy, &heavy, "heavy").unwrap();
    desk.set_level(2).unwrap();
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    run(&mut desk, 0.5);
    let [[_, double], _] = digests(&desk);
    desk.become_double().unwrap();
    assert!(desk.double().is_none() && desk.double_plane(View::Side).is_none());
    assert_eq!(desk.robot_file(), heavy);
    assert_eq!(desk.opened_file(), heavy);
    assert_eq!(digests(&desk)[0], [double, 0]);
    run(&mut desk, 0.5);
    desk.set_knob("head.mass", 1.0).unwrap();
    desk.reset_knobs();
    assert_eq!(desk.robot().head.mass, 1.4);
}

#[test]
fn a_double_that_is_refused_leaves_all_as_it_was() {
    let mut desk = Desk::new();
    let good = desk.robot_file();
    desk.double_at(Level::Off, "first");
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    run(&mut desk, 0.5);
    let before = digests(&desk);
    for bad in ["", "{", "[1]", "{\"version\": 99}"] {
        assert!(desk.double_robot(bad, &good, "").is_err());
        assert!(desk.double_robot(&good, bad, "").is_err());
    }
    assert_eq!(digests(&desk), before);
    assert_eq!(desk.double().unwrap().label, "first");
}

#[test]
fn the_double_stays_when_another_robot_is_opened_and_both_stand_at_rest() {
    let mut desk = Desk::new();
    desk.double_at(Level::Off, "off");
    desk.set_knob("floor.slope", 0.03).unwrap();
    run(&mut desk, 0.5);
    let other = kickstill_robot::demos()[1].text;
    desk.open(other).unwrap();
    let name = desk.robot().name.clone();
    let double = desk.double().unwrap();
    assert_ne!(double.robot.name, name);
    assert_eq!(double.robot.floor.slope, desk.robot().floor.slope);
    for view in [View::Side, View::Front] {
        assert_eq!(desk.double_plane(view).unwrap().now(), 0.0);
    }
    run(&mut desk, 0.5);
    let planes = [
        desk.plane(View::Side),
        desk.double_plane(View::Side).unwrap(),
    ];
    assert!(planes.iter().all(|plane| plane.now() > 0.4));
}

#[test]
fn where_the_boards_run_ends_the_doubles_goes_on_and_is_shown() {
    let mut desk = Desk::new();
    let file = desk.robot_file();
    // A battery that cannot carry its load ends the board's run.
    desk.double_robot(&file, &file, "sound").unwrap();
    desk.set_knob("battery.resistance", 2.0).unwrap();
    desk.set_knob("battery.brown_out_voltage", 23.0).unwrap();
    desk.set_level(2).unwrap();
    for _ in 0..20 {
        if desk.plane(View::Side).ended() {
            break;
        }
        desk.kick(View::Side, 12.0, 0.24).unwrap();
        run(&mut desk, 0.5);
    }
    assert!(
        desk.plane(View::Side).ended(),
        "no brown-out: choose another fault"
    );
    let at = desk.plane(View::Side).now();
    let shown = desk.shown_time(View::Side);
    run(&mut desk, 1.0);
    assert_eq!(desk.plane(View::Side).now(), at);
    assert!(desk.double_plane(View::Side).unwrap().now() > at + 0.9);
    assert!(desk.shown_time(View::Side) > shown + 0.9);
}

#[test]
fn a_record_makes_the_run_again() {
    use kickstill_rig::Rig;
    let mut desk = Desk::new();
    desk.set_knob("head.mass", 1.23).unwrap();
    // Turned before rest, so that it is the run's start; paused time loses no knob.
    desk.reset_run();
    play(&mut desk);
    desk.set_knob("head.mass", 1.31).unwrap();
    run(&mut desk, 0.5);
    for view in [View::Side, View::Front] {
        let record = desk.plane(view).record();
        assert!(record.whole && record.ticks > 100);
        assert_eq!(record.start.head.mass, 1.23);
        let mut rig = Rig::new(record.start.clone(), record.view, record.seed);
        let mut log = record.log.iter().peekable();
        for _ in 0..record.ticks {
            while let Some((_, event)) = log.next_if(|(time, _)| *time <= rig.time_us()) {
                rig.apply(*event);
            }
            rig.tick();
        }
        assert_eq!(rig.digest(), record.digest, "{view:?}");
    }
}

#[test]
fn a_records_file_gives_the_robot_to_the_last_bit() {
    let mut desk = Desk::new();
    for knob in kickstill_robot::catalogue() {
        // What no knob alone may be is refused, and left as it was.
        for share in [0.123_456_789, 0.333_333_333_333, 0.987_654_321] {
            let _ = desk.set_knob(knob.key, knob.min + share * (knob.max - knob.min));
            let robot = desk.robot();
            let (read, _) = kickstill_robot::read_robot(&desk.robot_file()).unwrap();
            assert!(read == *robot, "{} at {}", knob.key, (knob.get)(robot));
        }
    }
}
