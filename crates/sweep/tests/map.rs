//! Maps: cells against plain trials, runs in haste against plain ones, the linear edge against simulation.
#![allow(clippy::unwrap_used)]

use kickstill_analysis::{About, Model, smooth_twin};
use kickstill_rig::quick::{Haste, Quicker};
use kickstill_rig::{Event, Level, OutcomeClass, Rig, Setting, Trial, run_trial};
use kickstill_robot::{Kind, Robot, View, catalogue, demo, knob};
use kickstill_sweep::map::{Axis, Map, Spreads, class_number, digest};

const DEG: f64 = core::f64::consts::PI / 180.0;

/// Uniform in 0 … 1 from a linear congruential generator (Knuth's MMIX constants).
fn uniform(seed: &mut u64) -> f64 {
    *seed = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 11) as f64 / (1_u64 << 53) as f64
}

fn axis(key: &str, from: f64, to: f64, count: usize) -> Axis {
    Axis::new(knob(key).unwrap(), from, to, count).unwrap()
}

fn map(robot: &Robot, trial: Trial, view: View, x: Axis, y: Axis, measure: &'static str) -> Map {
    Map {
        robot: robot.clone(),
        setting: Setting::new(trial, view, Level::Steadied, robot),
        x,
        y,
        measure: Some(measure),
        spreads: Spreads::default(),
        haste: None,
    }
}

#[test]
fn an_exact_cell_is_the_plain_trial_to_the_last_bit() {
    let robot = demo("cobnut").unwrap();
    let x = axis("lean.damping", 0.0, 0.6, 8);
    let y = axis("lean.dead_band", 0.0, 3.0 * DEG, 8);
    let map = map(&robot, Trial::Kick, View::Front, x, y, "peak");
    let mut quicker = Quicker::new();
    for cell in [0, 13, 37, 63] {
        let mut same = robot.clone();
        (knob("lean.damping").unwrap().put)(&mut same, map.x.values()[cell % 8]);
        (knob("lean.dead_band").unwrap().put)(&mut same, map.y.values()[cell / 8]);
        let run = run_trial(&same, &map.setting);
        let found = map.cell(cell, &mut quicker);
        assert_eq!(found.class, run.outcome.class, "{cell}");
        let bits = |v: Option<f64>| v.map(f64::to_bits);
        assert_eq!(bits(found.value), bits(run.value("peak")), "{cell}");
    }
}

/// What one map comes to when its cells are run in this order.
fn digest_in_order(map: &Map, cells: impl Iterator<Item = usize>, workers: usize) -> u64 {
    let mut quickers = vec![Quicker::new(); workers];
    let (mut classes, mut values) = (vec![0; map.len()], vec![f64::NAN; map.len()]);
    for (i, cell) in cells.enumerate() {
        let found = map.cell(cell, &mut quickers[i % workers]);
        classes[cell] = class_number(found.class);
        values[cell] = found.value.unwrap_or(f64::NAN);
    }
    digest(&classes, &values)
}

#[test]
fn the_digest_does_not_depend_on_who_runs_what_when() {
    let robot = demo("cobnut").unwrap();
    let x = axis("travel.damping", 0.0, 0.3, 6);
    let y = axis("timing.delay_ticks", 0.0, 5.0, 6);
    let mut map = map(&robot, Trial::Kick, View::Side, x, y, "settling_time");
    map.setting.seconds = 4.0;
    map.haste = Some(Haste::default());
    let forward = digest_in_order(&map, 0..map.len(), 1);
    assert_eq!(digest_in_order(&map, (0..map.len()).rev(), 1), forward);
    let scattered = (0..map.len()).map(|i| i * 5 % 36);
    assert_eq!(digest_in_order(&map, scattered, 3), forward);
    // And it sees what is in the map.
    map.setting.seed = 2;
    assert_ne!(digest_in_order(&map, 0..map.len(), 1), forward);
}

#[test]
fn the_worst_of_all_cases_is_no_better_than_any() {
    let robot = demo("thimble").unwrap();
    let x = axis("travel.damping", 0.05, 0.4, 2);
    let y = axis("timing.delay_ticks", 0.0, 4.0, 2);
    let mut plain = map(&robot, Trial::Kick, View::Side, x, y, "head_dip");
    plain.haste = Some(Haste::default());
    let mut worst = plain.clone();
    worst.spreads = Spreads {
        head_mass: 0.3,
        voltage: 0.1,
        floor: 0.2,
        delay: 2,
        seeds: 1,
    };
    let mut quicker = Quicker::new();
    for cell in 0..plain.len() {
        let (as_planned, found) = (
            plain.cell(cell, &mut quicker),
            worst.cell(cell, &mut quicker),
        );
        assert!(found.value >= as_planned.value, "{cell}: {found:?}");
        assert!(found.seconds > 17.0 * as_planned.seconds, "{cell}");
        if found.class == OutcomeClass::Settled {
            assert_eq!(as_planned.class, OutcomeClass::Settled);
        }
    }
}

/// Robots like a demo, four of their knobs turned by up to a factor of two.
fn like(demo: &Robot, seed: &mut u64) -> Robot {
    const TURNED: [&str; 5] = [
        "lean.",
        "travel.",
        "carriage_loop.",
        "levelling.",
        "head.mass",
    ];
    let knobs: Vec<_> = catalogue()
        .iter()
        .filter(|k| k.kind == Kind::Number && TURNED.iter().any(|t| k.key.starts_with(t)))
        .collect();
    let mut robot = demo.clone();
    for _ in 0..4 {
        let k = knobs[(uniform(seed) * knobs.len() as f64) as usize];
        let factor = libm::exp(0.7 * (2.0 * uniform(seed) - 1.0));
        let value = ((k.get)(&robot) * factor).max(k.min).min(k.max);
        (k.put)(&mut robot, value);
    }
    robot
}

const TRIALS: [(Trial, View); 6] = [
    (Trial::Kick, View::Side),
    (Trial::Kick, View::Front),
    (Trial::Bump, View::Side),
    (Trial::Start, View::Side),
    (Trial::Stop, View::Side),
    (Trial::LeanStep, View::Front),
];

/// How many cells lie within the tolerance told in [`kickstill_rig::quick`], of how many that have the measure.
#[derive(Default)]
struct Tally {
    cells: [usize; 4],
    within: [usize; 4],
}

impl Tally {
    fn add(
        &mut self,
        run: &kickstill_rig::quick::Quick,
        plain: &kickstill_rig::quick::Quick,
        tick: f64,
    ) {
        let mut count = |i: usize, within: bool| {
            self.cells[i] += 1;
            self.within[i] += usize::from(within);
        };
        count(0, run.class == plain.class);
        let head = if plain.value("head_dip").is_some() {
            "head_dip"
        } else {
            "head_sway"
        };
        for (i, key) in [(1, "settling_time"), (2, "peak"), (3, head)] {
            if let (Some(a), Some(b)) = (run.value(key), plain.value(key)) {
                let slack = if i == 1 { 1.01 * tick } else { 0.05 * DEG };
                let share = if i == 1 { 0.02 } else { 0.01 };
                count(i, (a - b).abs() <= slack.max(share * b.abs()));
            }
        }
    }

    fn join(&mut self, other: &Tally) {
        for i in 0..4 {
            self.cells[i] += other.cells[i];
            self.within[i] += other.within[i];
        }
    }

    fn share(&self, i: usize) -> f64 {
        self.within[i] as f64 / self.cells[i].max(1) as f64
    }
}

impl core::fmt::Display for Tally {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        for i in 0..4 {
            write!(f, " {:3}/{:3}", self.within[i], self.cells[i])?;
        }
        Ok(())
    }
}

/// Runs in haste against plain ones, and, to see what that means, plain ones with another seed of the sensors'
/// noise against plain ones. Common practice, no published source: what another seed changes, no map can show.
#[test]
fn haste_changes_less_than_another_seed_of_noise() {
    const CELLS: usize = 12;
    println!("within tolerance: class, settling, peak, dip or sway; in haste | another seed");
    let (mut all, mut others) = (Tally::default(), Tally::default());
    let mut quicker = Quicker::new();
    for (trial, view) in TRIALS {
        for name in ["cobnut", "thimble", "hayrick"] {
            let plain = demo(name).unwrap();
            let setting = Setting::new(trial, view, Level::Steadied, &plain);
            let other = Setting { seed: 2, ..setting };
            let tick = 1.0 / plain.timing.loop_rate;
            let (mut hasty, mut seeds) = (Tally::default(), Tally::default());
            let mut seed = 7;
            for _ in 0..CELLS {
                let robot = like(&plain, &mut seed);
                let exact = quicker.trial(&robot, &setting, None);
                let fast = quicker.trial(&robot, &setting, Some(&Haste::default()));
                hasty.add(&fast, &exact, tick);
                seeds.add(&quicker.trial(&robot, &other, None), &exact, tick);
            }
            println!(
                "{:9} {:5} {name:7} {hasty} | {seeds}",
                trial.word(),
                view.word()
            );
            all.join(&hasty);
            others.join(&seeds);
        }
    }
    println!("all                     {all} | {others}");
    assert!(all.share(0) > 0.97, "classes");
    for i in 0..4 {
        assert!(all.share(i) > 0.85, "{i}: {}", all.share(i));
        assert!(all.share(i) > others.share(i) - 0.02, "{i}");
    }
}

/// Stopping at rest leaves out only what noise would wake: now and then a cell.
#[test]
fn stopping_at_rest_changes_next_to_nothing() {
    const CELLS: usize = 12;
    let full = Haste {
        stop_at_rest: false,
        ..Haste::default()
    };
    let mut quicker = Quicker::new();
    let (mut cells, mut same, mut saved, mut seconds) = (0, 0, 0.0, 0.0);
    for (trial, view) in TRIALS {
        for name in ["cobnut", "thimble", "hayrick"] {
            let plain = demo(name).unwrap();
            let setting = Setting::new(trial, view, Level::Steadied, &plain);
            let mut seed = 11;
            for _ in 0..CELLS {
                let robot = like(&plain, &mut seed);
                let stopped = quicker.trial(&robot, &setting, Some(&Haste::default()));
                let whole = quicker.trial(&robot, &setting, Some(&full));
                assert_eq!(stopped.class, whole.class, "{name} {}", trial.word());
                assert_eq!(whole.run, whole.seconds);
                assert!((stopped.seconds - whole.seconds).abs() < 1e-9);
                let of = |q: &kickstill_rig::quick::Quick| {
                    [
                        "settling_time",
                        "peak",
                        "head_dip",
                        "head_sway",
                        "residual_wobble",
                    ]
                    .map(|k| q.value(k))
                };
                cells += 1;
                same += usize::from(of(&stopped) == of(&whole));
                saved += stopped.seconds - stopped.run;
                seconds += stopped.seconds;
            }
        }
    }
    println!(
        "{same} of {cells} cells equal to the last bit; {:.0} % of the time not run",
        100.0 * saved / seconds
    );
    assert!(same as f64 > 0.97 * cells as f64, "{same} of {cells}");
    assert!(saved > 0.05 * seconds, "it stops at all");
}

/// Whether a small push of this robot dies away: the last quarter of a long run against the quarter before its
/// middle, and against its first seconds (where it grew until a limit held it), by the mean square of the
/// swing's and the shell's rate.
fn dies_away(robot: &Robot, view: View) -> bool {
    const SECONDS: f64 = 60.0;
    let mut rig = Rig::new(robot.clone(), view, 1);
    rig.apply(Event::Level(Level::Steadied));
    rig.apply(Event::Kick {
        impulse: 1e-3 * Setting::new(Trial::Kick, view, Level::Steadied, robot).impulse,
        height: robot.shell.outer_radius,
    });
    let (mut first, mut early, mut late) = (Mean::default(), Mean::default(), Mean::default());
    while rig.time_us() < (SECONDS * 1e6) as u64 {
        rig.tick();
        if rig.end().is_some() {
            return false;
        }
        let s = rig.sample();
        let share = s.time / SECONDS;
        let square = s.swing_rate * s.swing_rate + s.roll_rate * s.roll_rate;
        if s.time < 3.0 {
            first.add(square);
        } else if (0.25..0.5).contains(&share) {
            early.add(square);
        } else if share >= 0.75 {
            late.add(square);
        }
    }
    late.value() < early.value().min(first.value())
}

#[derive(Default)]
struct Mean(f64, u32);

impl Mean {
    fn add(&mut self, value: f64) {
        self.0 += value;
        self.1 += 1;
    }

    fn value(&self) -> f64 {
        self.0 / f64::from(self.1)
    }
}

/// Where the edge crosses each row of cells, by the lines over the map.
fn crossings(map: &Map) -> Vec<(f64, usize)> {
    let mut out: Vec<(f64, usize)> = Vec::new();
    for [x, y] in map.edge().into_iter().flatten() {
        let row = y.round();
        if (y - row).abs() < 1e-9 && (x - x.round()).abs() > 1e-9 {
            out.push((x, row as usize));
        }
    }
    out
}

/// One cell beside the edge, and a few further on, simulation and model agree on both sides of every crossing.
fn edge_is_met_within_a_cell(map: &Map, least: usize) {
    let found = crossings(map);
    assert!(found.len() >= least, "{} crossings", found.len());
    let last = map.x.count() as f64 - 1.0;
    let mut looks = 0;
    for (at, row) in &found {
        for away in [-4.0, -1.0, 1.0, 4.0] {
            let place = if away < 0.0 {
                (at + away).floor()
            } else {
                (at + away).ceil()
            };
            let other = found
                .iter()
                .any(|(x, r)| r == row && x != at && (x - place).abs() < 1.0);
            if !(0.0..=last).contains(&place) || other {
                continue;
            }
            let robot = map.robot_at(row * map.x.count() + place as usize);
            let radius = Model::new(&robot, map.setting.view, &About::default())
                .unwrap()
                .spectral_radius()
                .unwrap();
            let stands = dies_away(&robot, map.setting.view);
            assert_eq!(
                stands,
                radius < 1.0,
                "edge at {at:.2} in row {row}, cell {place}: radius {radius}"
            );
            looks += 1;
        }
    }
    assert!(
        looks > found.len(),
        "{looks} looks at {} crossings",
        found.len()
    );
    println!("{} crossings, {looks} cells beside them run", found.len());
}

#[test]
fn edge_by_poles_and_by_simulation_agree_damping_and_delay() {
    let robot = smooth_twin(&demo("cobnut").unwrap());
    let x = axis("travel.damping", 0.0, 0.8, 64);
    let y = axis("timing.delay_ticks", 0.0, 8.0, 9);
    let map = map(&robot, Trial::Kick, View::Side, x, y, "settling_time");
    edge_is_met_within_a_cell(&map, 3);
}

/// The model tells of motions large against the dead band: here it is a hundredth of them at most.
#[test]
fn edge_by_poles_and_by_simulation_agree_damping_and_dead_band() {
    let robot = smooth_twin(&demo("cobnut").unwrap());
    let x = axis("lean.damping", 0.0, 1.2, 64);
    let y = axis("lean.dead_band", 0.0, 1e-5, 5);
    let map = map(&robot, Trial::Kick, View::Front, x, y, "settling_time");
    edge_is_met_within_a_cell(&map, 3);
}
