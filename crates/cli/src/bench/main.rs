//! `kickstill-bench`: times the core natively; prints one JSON object.
//!
//! Whole closed loop and bare plant in simulated seconds a second, each the median of several
//! runs on one thread, with the digest of what was timed; allocations a tick, counted; and a map of two
//! knobs, its cells' simulated seconds a second on one thread.
#![forbid(unsafe_code)]

mod allocations;
mod map;

use std::io::{self, Write};
use std::process::ExitCode;
use std::time::Instant;

use clap::Parser;
use kickstill_rig::bench::{PLANT_STEP, bench_run, plant_run};
use kickstill_robot::{Robot, View, demo};
use serde_json::{Value, json};

/// Times the core natively: Cobnut, steadied and kicked every 4 s.
#[derive(Debug, Parser)]
#[command(name = "kickstill-bench", version)]
struct Cli {
    /// Print JSON (it always does; for scripts that say so)
    #[arg(long)]
    json: bool,
    /// Simulated seconds a run
    #[arg(long, default_value_t = 400, value_parser = clap::value_parser!(u32).range(2..=100_000))]
    seconds: u32,
    /// Runs, of which the median is reported
    #[arg(long, default_value_t = 7, value_parser = clap::value_parser!(u32).range(1..=1000))]
    repeats: u32,
}

/// Times that a map is made at most: each takes a second or two.
const MAPS: u32 = 3;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(e) => {
            let _ = e.print();
            return if e.use_stderr() {
                ExitCode::from(2)
            } else {
                ExitCode::SUCCESS
            };
        }
    };
    match demo("cobnut").ok_or_else(|| "the demo cobnut cannot be read".to_owned()) {
        Ok(robot) => match report(&robot, &cli) {
            Ok(value) => {
                let _ = writeln!(io::stdout(), "{value:#}");
                ExitCode::SUCCESS
            }
            Err(e) => fail(&e),
        },
        Err(e) => fail(&e),
    }
}

fn fail(words: &str) -> ExitCode {
    let _ = writeln!(io::stderr(), "kickstill-bench: {words}");
    ExitCode::from(2)
}

/// One thing timed.
struct Timed {
    /// Simulated seconds a second, median.
    rate: f64,
    /// The same of the fastest run.
    best: f64,
    /// Digest, the same in every run.
    digest: u64,
}

/// Times `run`, which takes the simulated seconds and gives a digest.
fn time(cli: &Cli, name: &str, run: impl Fn(u32) -> u64) -> Result<Timed, String> {
    // Warms up, and shows that the run goes on to its end: one that stood still before would
    // give the same digest a second earlier.
    let shorter = run(cli.seconds - 1);
    let mut digest = shorter;
    let mut rates = Vec::new();
    for i in 0..cli.repeats {
        let start = Instant::now();
        let now = run(cli.seconds);
        rates.push(f64::from(cli.seconds) / start.elapsed().as_secs_f64());
        if i > 0 && now != digest {
            return Err(format!("{name}: the same run gave two digests"));
        }
        digest = now;
    }
    if digest == shorter {
        return Err(format!("{name}: the run ended before its time"));
    }
    Ok(Timed {
        best: rates.iter().copied().fold(0.0, f64::max),
        rate: median(&mut rates),
        digest,
    })
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len();
    0.5 * (values[(n - 1) / 2] + values[n / 2])
}

fn report(robot: &Robot, cli: &Cli) -> Result<Value, String> {
    let side = time(cli, "side", |s| bench_run(robot, View::Side, s))?;
    let front = time(cli, "front", |s| bench_run(robot, View::Front, s))?;
    let plant = time(cli, "plant", |s| plant_run(robot, View::Side, s))?;
    let allocations =
        allocations::per_tick(robot, View::Side).max(allocations::per_tick(robot, View::Front));
    let mut all = json!({
        "robot": robot.name,
        "repeats": cli.repeats,
        "plane_view": View::Side.word(),
        "plane_sim_seconds": cli.seconds,
        "plane_native_sim_s_per_s": side.rate,
        "plane_native_best_sim_s_per_s": side.best,
        "plane_digest": format!("{:016x}", side.digest),
        "plane_front_native_sim_s_per_s": front.rate,
        "plane_front_digest": format!("{:016x}", front.digest),
        "plant_native_sim_s_per_s": plant.rate,
        "plant_native_best_sim_s_per_s": plant.best,
        "plant_steps_per_s": plant.rate / PLANT_STEP,
        "plant_digest": format!("{:016x}", plant.digest),
        "allocations_per_step": allocations,
    });
    let maps = map::report(robot, cli.repeats.min(MAPS))?;
    if let (Some(all), Some(maps)) = (all.as_object_mut(), maps.as_object()) {
        all.extend(maps.clone());
    }
    Ok(all)
}
