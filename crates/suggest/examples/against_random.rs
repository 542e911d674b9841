//! Suggested settings against the best of random ones and the hand rules, judged under seeds and conditions that
//! neither saw: `cargo run --release -p kickstill-suggest --example against_random [DRAWS] [BUDGET] [ROBOT]`.

#![allow(clippy::expect_used)] // an example has nobody to tell

use std::time::Instant;

use kickstill_robot::makers::start::{TenNumbers, start};
use kickstill_robot::{Mark, Robot, demo};
use kickstill_suggest::{Ask, Draw, Score, best_of_random, judge_unused, margins, suggest};

/// Robots that no part of the method was tuned on, by the guided start's ten numbers: a small one that was tried along
/// with the demos, and a large, heavy, slow one that was not looked at before the method stood.
const UNSEEN: [(&str, [f64; 12]); 2] = [
    (
        "Gooseberry",
        [
            0.36, 1.7, 3.9, 0.075, 0.55, 0.21, 30.0, 2.0, 12.0, 700.0, 0.35, 4.0,
        ],
    ),
    (
        "Medlar",
        [
            0.62, 4.6, 12.5, 0.15, 1.5, 0.36, 50.0, 2.0, 24.0, 520.0, 0.9, 8.0,
        ],
    ),
];
const KEYS: [&str; 12] = [
    "shell_diameter",
    "shell_mass",
    "carriage_mass",
    "carriage_below",
    "head_mass",
    "head_above",
    "gear_ratio",
    "motor_count",
    "motor_voltage",
    "motor_speed",
    "motor_torque",
    "cells",
];

fn unseen((name, numbers): &(&str, [f64; 12])) -> Robot {
    let mut ten = TenNumbers {
        name: (*name).to_owned(),
        ..TenNumbers::default()
    };
    for (key, value) in KEYS.iter().zip(numbers) {
        ten.set(key, *value, Mark::Measured).expect("in its range");
    }
    start(&ten).expect("a robot").robot
}

fn line(name: &str, score: Score, seconds: Option<f64>) {
    let kept = if score.limits_kept() {
        "kept"
    } else {
        "passed"
    };
    let took = seconds.map_or(String::new(), |s| format!("{s:.1} s"));
    println!(
        "| {name:<34} | {:>7.3} | {:>9.3} | {kept:<6} | {took:>8} |",
        score.cost, score.violation
    );
}

fn main() {
    let mut args = std::env::args().skip(1);
    let draws: u32 = args.next().and_then(|a| a.parse().ok()).unwrap_or(2000);
    let budget: u32 = args
        .next()
        .and_then(|a| a.parse().ok())
        .unwrap_or(kickstill_suggest::USUAL_BUDGET);
    let only = args.next();
    let mut robots: Vec<Robot> = ["cobnut", "thimble", "hayrick"]
        .into_iter()
        .filter_map(demo)
        .collect();
    robots.extend(UNSEEN.iter().map(unseen));
    for robot in robots {
        if only
            .as_ref()
            .is_some_and(|o| !robot.name.eq_ignore_ascii_case(o))
        {
            continue;
        }
        let ask = Ask {
            budget,
            ..Ask::default()
        };
        println!("\n{}", robot.name);
        println!(
            "| settings                           |    cost | violation | limits |     time |"
        );
        let began = Instant::now();
        let answer = suggest(&robot, &ask, |_| true).expect("there is something to search");
        let took = began.elapsed().as_secs_f64();
        for c in &answer.compared {
            let own = c.key == "suggested";
            line(c.label, c.score, own.then_some(took));
        }
        for (name, draw) in [("value", Draw::Value), ("track", Draw::Track)] {
            let began = Instant::now();
            let random = best_of_random(&robot, &ask, draws, draw, 99).expect("the same");
            let took = began.elapsed().as_secs_f64();
            let score = judge_unused(&robot, &ask, &[random]).expect("the same")[0];
            line(
                &format!("best of {draws} random, uniform in {name}"),
                score,
                Some(took),
            );
        }
        println!(
            "better {}; {} looked at, {} runs",
            answer.better, answer.evaluations, answer.simulated
        );
        for c in &answer.changes {
            println!(
                "  {:<26} {:>9.4} -> {:>9.4}  {}",
                c.key, c.from, c.to, c.raw
            );
        }
        for r in &answer.rows {
            println!(
                "  {:<52} {:>10} -> {:>10} (limit {}) {} {}",
                r.label(),
                r.words(r.before),
                r.words(r.after),
                r.words(r.limit),
                r.change.word(),
                if r.kept { "kept" } else { "PASSED" }
            );
        }
        for view in ask.views() {
            for (a, b) in margins(&robot, view)
                .iter()
                .zip(margins(&answer.robot, view))
            {
                println!(
                    "  {} {:?}: modulus {:.3} -> {:.3}, delay {:.0} -> {:.0} ms",
                    view.word(),
                    a.at,
                    a.modulus,
                    b.modulus,
                    1e3 * a.delay,
                    1e3 * b.delay
                );
            }
        }
        for s in &answer.explained {
            println!("  {s}");
        }
    }
}
