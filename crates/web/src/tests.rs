//! The board without its screen, tested natively; what only wasm can show is tested in the
//! browser.

use kickstill_robot::{View, demo, demos};
use kickstill_scene::{Theme, palette};

use crate::desk::{Desk, view_of};
use crate::look::{Look, place_names};
use crate::plane::LOOK_BACK;

mod double;

fn run(desk: &mut Desk, seconds: f64) {
    for _ in 0..(seconds / 0.016) as u32 {
        desk.advance(16_000.0);
    }
}

#[test]
fn speed_does_not_depend_on_the_screens_rate() {
    let ends = [4_000.0, 16_000.0, 50_000.0].map(|frame| {
        let mut desk = Desk::new();
        desk.set_level(2).unwrap();
        desk.kick(View::Side, 4.0, 0.24).unwrap();
        for _ in 0..(2_000_000.0 / frame) as u32 {
            desk.advance(frame);
        }
        desk.plane(View::Side).at(desk.plane(View::Side).now())
    });
    assert!(ends[0].time > 1.9 && ends[0].travel != 0.0);
    assert_eq!(ends[0], ends[1]);
    assert_eq!(ends[0], ends[2]);
}

#[test]
fn a_page_that_slept_does_not_race() {
    let mut desk = Desk::new();
    let tick = desk.plane(View::Side).tick_us();
    assert_eq!(desk.advance(3.6e9), (1_000_000 / tick) as u32);
    for nonsense in [f64::NAN, f64::NEG_INFINITY, -5.0, 0.0] {
        assert_eq!(desk.advance(nonsense), 0);
    }
    assert_eq!(u64::from(desk.advance(f64::INFINITY)), 1_000_000 / tick);
}

#[test]
fn what_is_refused_changes_nothing() {
    let mut desk = Desk::new();
    let before = desk.robot_file();
    for (impulse, height) in [
        (f64::NAN, 0.1),
        (f64::INFINITY, 0.1),
        (1e9, 0.1),
        (4.0, f64::NAN),
        (4.0, -0.1),
        (4.0, 9.0),
    ] {
        let problems = desk.kick(View::Side, impulse, height).unwrap_err();
        assert!(!problems.is_empty(), "{impulse} {height}");
        assert!(
            problems
                .iter()
                .all(|p| !p.expected.is_empty() && !p.kept.is_empty())
        );
    }
    assert_eq!(
        desk.kick(View::Side, f64::NAN, f64::NAN).unwrap_err().len(),
        2
    );
    for share in [f64::NAN, 1.01, -2.0, f64::INFINITY] {
        assert!(desk.lever(View::Side, share).is_err());
        assert!(desk.lever(View::Front, share).is_err());
    }
    for impulse in [f64::NAN, f64::NEG_INFINITY, 1e12] {
        assert!(desk.bump(View::Front, impulse).is_err());
    }
    assert!(desk.set_level(3).is_err());
    assert!(view_of(2).is_err());
    for (key, value) in [
        ("head.mass", f64::NAN),
        ("head.mass", -1.0),
        ("head.mass", 1e9),
        ("no.such", 1.0),
        ("", 0.0),
    ] {
        let problems = desk.set_knob(key, value).unwrap_err();
        assert!(
            problems.iter().all(|p| !p.expected.is_empty()),
            "{key} {value}"
        );
    }
    for text in [
        "",
        "heavy",
        "3 V",
        "1e999",
        "-1 kg",
        "\u{0}",
        &"9".repeat(100_000),
    ] {
        assert!(desk.type_knob("head.mass", text).is_err(), "{text:.20}");
    }
    assert!(desk.type_knob("travel_drive.kind", "sideways").is_err());
    assert!(
        desk.type_raw("head.mass", "3").is_err(),
        "no firmware has it as a number"
    );
    assert!(desk.type_raw("travel.damping", "x").is_err());
    for text in ["", "{", "[]", "null", "\u{feff}{}", &"[".repeat(100_000)] {
        assert!(desk.open(text).is_err());
        assert!(desk.restore(text, &before).is_err());
        assert!(desk.restore(&before, text).is_err());
    }
    assert_eq!(desk.robot_file(), before);
    run(&mut desk, 0.5);
    assert!(desk.plane(View::Side).now() > 0.4, "the robot goes on");
}

#[test]
fn knobs_turn_while_it_runs_and_go_back() {
    let mut desk = Desk::new();
    let opened = desk.robot_file();
    desk.set_level(2).unwrap();
    desk.kick(View::Front, 4.0, 0.24).unwrap();
    run(&mut desk, 0.3);
    assert_eq!(
        desk.type_knob("head.mass", "2 lb").unwrap().key,
        "head.mass"
    );
    assert!((desk.robot().head.mass - 0.907_184_74).abs() < 1e-12);
    desk.type_knob("timing.loop_rate", "250").unwrap();
    desk.type_knob("travel_drive.kind", "axle").unwrap();
    let before = desk.plane(View::Front).now();
    run(&mut desk, 0.3);
    assert_eq!(desk.plane(View::Front).tick_us(), 4000);
    assert!(desk.plane(View::Front).now() > before + 0.25);
    assert_ne!(desk.robot_file(), opened);
    desk.reset_knobs();
    run(&mut desk, 0.1);
    assert_eq!(desk.robot_file(), opened);
    assert_eq!(desk.opened_file(), opened);
    assert_eq!(desk.plane(View::Front).tick_us(), 10_000);
}

#[test]
fn the_run_before_is_kept_and_a_stub_is_not() {
    let mut desk = Desk::new();
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    run(&mut desk, 3.0);
    assert!(desk.plane(View::Side).shown_before().is_none());
    desk.kick(View::Side, 2.0, 0.24).unwrap();
    assert_eq!(
        desk.plane(View::Side).shown_before().unwrap().push.impulse,
        4.0
    );
    run(&mut desk, 0.3);
    desk.kick(View::Side, 1.0, 0.24).unwrap();
    let before = desk.plane(View::Side).shown_before().unwrap();
    assert_eq!(
        before.push.impulse, 4.0,
        "a run of 0.3 s compares with nothing"
    );
    assert_eq!(desk.plane(View::Side).number(), 3);
    let mut flat = Vec::new();
    desk.plane(View::Side)
        .strip(|sample| sample.swing, &mut flat);
    let count = flat[0] as usize;
    let rest = &flat[1 + 2 * count..];
    assert_eq!(rest.len(), 1 + 2 * rest[0] as usize);
    assert!(rest[0] > 100.0, "the first run's trace");
}

#[test]
fn results_stand_when_the_push_has_left_the_history() {
    let mut desk = Desk::new();
    desk.set_level(2).unwrap();
    desk.kick(View::Front, 4.0, 0.24).unwrap();
    run(&mut desk, LOOK_BACK - 1.0);
    let early = desk.plane_mut(View::Front).shown().unwrap();
    run(&mut desk, 15.0);
    let plane = desk.plane_mut(View::Front);
    let late = plane.shown().unwrap();
    let peak = |shown: &crate::plane::Shown| {
        shown
            .measures
            .iter()
            .find(|m| m.key == "peak")
            .and_then(|m| m.value)
    };
    assert_eq!(
        peak(&early),
        peak(&late),
        "the peak was in the first second"
    );
    assert!(!plane.going(&late));
    assert!(plane.now() - plane.oldest() <= LOOK_BACK + 0.02);
}

#[test]
fn looking_back_shows_what_was() {
    let mut desk = Desk::new();
    desk.kick(View::Side, 4.0, 0.24).unwrap();
    run(&mut desk, 1.0);
    let then = desk.plane(View::Side).at(0.8);
    run(&mut desk, 2.0);
    let now = desk.plane(View::Side).now();
    desk.scrub(now - 0.8);
    assert!((desk.shown_time(View::Side) - 0.8).abs() < 1e-12);
    assert_eq!(desk.plane(View::Side).at(0.8), then);
    desk.scrub(f64::NAN);
    assert!(desk.shown_time(View::Side) > 2.8);
    desk.scrub(1e9);
    assert_eq!(desk.shown_time(View::Side), desk.plane(View::Side).oldest());
}

#[test]
fn a_remembered_robot_comes_back_with_its_knobs() {
    let mut desk = Desk::new();
    desk.open(demos()[2].text).unwrap();
    let opened = desk.opened_file();
    desk.type_knob("head.mass", "4.2 kg").unwrap();
    let now = desk.robot_file();
    let mut again = Desk::new();
    again.restore(&opened, &now).unwrap();
    assert_eq!(
        (again.opened_file(), again.robot_file()),
        (opened.clone(), now)
    );
    again.reset_knobs();
    assert_eq!(again.robot_file(), opened);
}

#[test]
fn the_robot_stays_on_the_sheet_wherever_it_rolls() {
    let mut desk = Desk::new();
    desk.set_level(2).unwrap();
    desk.lever(View::Side, 1.0).unwrap();
    let mut look = Look::new(View::Side);
    for (width, height) in [(1040.0, 540.0), (360.0, 388.0), (500.0, 380.0)] {
        look.set(width, height, 8);
        for _ in 0..200 {
            desk.advance(16_000.0);
            let plane = desk.plane(View::Side);
            let sample = plane.at(desk.shown_time(View::Side));
            look.follow(desk.robot(), &sample, plane);
            look.place(desk.robot(), &sample, plane);
            let place = |name: &str| {
                let at = place_names().iter().position(|one| one == name).unwrap();
                look.places()[at]
            };
            let (x, radius) = (place("ball_x"), place("ball_radius"));
            assert!(
                x - radius > 0.0 && x + radius < width,
                "{width}: {x} ± {radius}"
            );
            assert!(place("head_y") > 0.0 && place("floor_y") < height);
        }
    }
    assert!(desk.plane(View::Side).at(1e9).travel > 2.0);
}

#[test]
fn touching_tells_ball_from_head() {
    let desk = Desk::new();
    let mut look = Look::new(View::Side);
    look.set(1000.0, 540.0, 0);
    let plane = desk.plane(View::Side);
    let sample = plane.at(0.0);
    look.follow(desk.robot(), &sample, plane);
    look.place(desk.robot(), &sample, plane);
    let place =
        |name: &str| look.places()[place_names().iter().position(|one| one == name).unwrap()];
    let touch = |x, y| look.touch(desk.robot(), &sample, plane, [x, y], 3.0);
    let centre = touch(place("ball_x"), place("ball_y"));
    assert_eq!(centre[0], 1.0);
    assert!(
        (centre[1] - 0.24).abs() < 1e-9,
        "height of the centre: {}",
        centre[1]
    );
    assert_eq!(touch(place("head_x"), place("head_y"))[0], 2.0);
    assert_eq!(touch(5.0, 5.0)[0], 0.0);
    assert_eq!(touch(f64::NAN, 5.0)[0], 0.0);
}

/// The page's first paint comes before the core: its colours are a copy, which must not go stale.
#[test]
fn the_style_sheet_has_the_drawings_colours() {
    let css = include_str!("../../../www/src/style/sheet.css");
    let night = css.find("data-theme='night'").unwrap();
    let (day, rest) = css.split_at(night);
    let night = rest.split('}').next().unwrap();
    for (theme, block) in [(Theme::Day, day), (Theme::Night, night)] {
        let mut found = 0;
        for (name, colour) in palette(theme).entries() {
            if let Some(at) = block.find(&format!("--{name}: ")) {
                let value = &block[at + name.len() + 4..];
                assert!(
                    value.starts_with(colour),
                    "{theme:?} --{name}: {value:.9} is not {colour}"
                );
                found += 1;
            }
        }
        assert!(found >= 10, "{theme:?}: {found}");
    }
}

#[test]
fn the_first_robot_is_the_first_demo() {
    assert_eq!(Desk::new().robot(), &demo("cobnut").unwrap());
}
