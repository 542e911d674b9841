//! The named runs give the committed digests, in debug and in release.
//!
//! `KICKSTILL_BLESS=1 cargo test -p kickstill-rig --test digests` writes them anew.
//!
//! To see where a run first differs between two versions of the code, record it with the one and
//! compare with the other:
//! `KICKSTILL_SCENARIO="cobnut kick side steadied" KICKSTILL_TRACE=file
//! cargo test -p kickstill-rig --test digests -- --nocapture`
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use kickstill_rig::scenarios::scenarios;
use kickstill_rig::{COLUMNS, Level, Sample, Setting, Trial, run_trial};
use kickstill_robot::{View, demo};
use serde_json::{Value, json};

fn committed() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/digests/digests.json")
}

/// All columns of one sample, as bits.
type Row = Vec<u64>;

fn row(sample: &Sample) -> Row {
    COLUMNS
        .iter()
        .map(|c| ((c.get)(sample) + 0.0).to_bits())
        .collect()
}

/// Where two runs first differ: tick, column, and both values.
fn first_difference(a: &[Row], b: &[Row]) -> Option<(usize, &'static str, f64, f64)> {
    for (tick, (x, y)) in a.iter().zip(b).enumerate() {
        for ((column, x), y) in COLUMNS.iter().zip(x).zip(y) {
            if x != y {
                return Some((tick, column.key, f64::from_bits(*x), f64::from_bits(*y)));
            }
        }
    }
    let (m, n) = (a.len(), b.len());
    (m != n).then(|| (m.min(n), "length", m as f64, n as f64))
}

fn run(name: &str) -> Vec<Row> {
    for key in ["cobnut", "thimble", "hayrick"] {
        let robot = demo(key).expect("a demo robot");
        for trial in Trial::ALL {
            for view in [View::Side, View::Front] {
                for level in [Level::Off, Level::Locked, Level::Steadied] {
                    let word = format!("{key} {} {} {}", trial.word(), view.word(), level.word());
                    if word == name {
                        let setting = Setting::new(trial, view, level, &robot);
                        return run_trial(&robot, &setting)
                            .samples
                            .iter()
                            .map(row)
                            .collect();
                    }
                }
            }
        }
    }
    panic!("no scenario is called {name:?}");
}

#[test]
fn scenarios_give_the_committed_digests() {
    let found: Vec<(String, String)> = scenarios()
        .into_iter()
        .map(|s| (s.name, format!("{:016x}", s.digest)))
        .collect();
    assert!(found.len() >= 80, "only {} scenarios", found.len());
    if std::env::var_os("KICKSTILL_BLESS").is_some_and(|v| v == "1") {
        let list: Vec<Value> = found
            .iter()
            .map(|(name, digest)| json!({ "name": name, "digest": digest }))
            .collect();
        let text = serde_json::to_string_pretty(&list).unwrap();
        std::fs::write(committed(), text + "\n").unwrap();
        println!(
            "{} digests written to {}",
            found.len(),
            committed().display()
        );
        return;
    }
    let text = std::fs::read_to_string(committed()).expect("tests/digests/digests.json");
    let list: Vec<Value> = serde_json::from_str(&text).expect("an array of digests");
    let expected: Vec<(String, String)> = list
        .iter()
        .map(|e| {
            let part = |key: &str| e[key].as_str().expect("name and digest").to_owned();
            (part("name"), part("digest"))
        })
        .collect();
    let names = |l: &[(String, String)]| l.iter().map(|e| e.0.clone()).collect::<Vec<_>>();
    assert_eq!(names(&found), names(&expected), "the scenarios are others");
    let differing: Vec<_> = found
        .iter()
        .zip(&expected)
        .filter(|(f, e)| f != e)
        .collect();
    if let Some((f, e)) = differing.first() {
        panic!(
            "{} of {} scenarios differ, first {:?}: digest {}, committed {}.\n\
             To see its first differing tick and column, record it with the code the digests \
             came from and compare:\n  KICKSTILL_SCENARIO={:?} KICKSTILL_TRACE=run.trace cargo \
             test -p kickstill-rig --test digests -- --nocapture\n\
             If the change is meant, bless it: KICKSTILL_BLESS=1",
            differing.len(),
            found.len(),
            f.0,
            f.1,
            e.1,
            f.0
        );
    }
}

/// Within a view every scenario is a run of its own: no two digests are alike. (A locked robot
/// moves the same in both views.)
#[test]
fn digests_tell_scenarios_apart() {
    for view in [" side ", " front "] {
        let list = scenarios();
        let mut digests: Vec<u64> = list
            .iter()
            .filter(|s| s.name.contains(view))
            .map(|s| s.digest)
            .collect();
        digests.sort_unstable();
        let all = digests.len();
        digests.dedup();
        assert!(all >= 40);
        assert_eq!(all, digests.len(), "{view}");
    }
}

#[test]
fn the_first_difference_is_found() {
    let a = run("thimble kick side steadied");
    assert!(a.len() > 100);
    assert_eq!(first_difference(&a, &a), None);
    let swing = COLUMNS.iter().position(|c| c.key == "swing").unwrap();
    let mut b = a.clone();
    b[70][swing] ^= 1;
    b[80][0] ^= 1;
    let (tick, column, x, y) = first_difference(&a, &b).unwrap();
    assert_eq!((tick, column), (70, "swing"));
    assert!(x != y && (x - y).abs() < 1e-12);
    assert_eq!(
        first_difference(&a, &a[..90]).map(|d| (d.0, d.1)),
        Some((90, "length"))
    );
}

/// Any scenario runs twice to the same bits. With `KICKSTILL_SCENARIO` and `KICKSTILL_TRACE` it
/// also records that scenario to that file or, if the file exists, prints where the run now first
/// differs from it: the way to find what a change of a digest comes from.
#[test]
fn a_run_repeats_and_can_be_compared_with_a_recorded_one() {
    let name = std::env::var("KICKSTILL_SCENARIO")
        .unwrap_or_else(|_| "cobnut kick front steadied".to_owned());
    assert_eq!(first_difference(&run(&name), &run(&name)), None);
    let Ok(file) = std::env::var("KICKSTILL_TRACE") else {
        return;
    };
    let now = run(&name);
    if !Path::new(&file).exists() {
        let mut text = String::new();
        for row in &now {
            for bits in row {
                write!(text, "{bits:x} ").unwrap();
            }
            text.push('\n');
        }
        std::fs::write(&file, text).unwrap();
        println!("{} ticks of {name:?} recorded", now.len());
        return;
    }
    let before: Vec<Row> = std::fs::read_to_string(&file)
        .unwrap()
        .lines()
        .map(|line| {
            line.split_whitespace()
                .map(|word| u64::from_str_radix(word, 16).expect("a recorded trace"))
                .collect()
        })
        .collect();
    match first_difference(&before, &now) {
        None => println!("{name:?}: no difference in {} ticks", now.len()),
        Some((tick, column, a, b)) => {
            println!("{name:?} first differs at tick {tick} in {column}: {a:e} before, {b:e} now");
        }
    }
}
