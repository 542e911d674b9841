//! `kickstill`: checks robot files, runs trials, answers budgets, maps, suggests and draws, from the command line.
//!
//! The only crate that reads and writes files. Exit codes: 0 done, 1 a limit is broken, 2 bad input. What is wrong
//! goes to standard error, everything at once: where, what was found, what was expected.
#![forbid(unsafe_code)]

mod args;
mod budget;
mod card;
mod check;
mod draw;
mod edge;
mod failure;
mod gains;
mod input;
mod knobs;
mod limits;
mod map;
mod output;
mod plan;
mod plot;
mod power;
mod printed;
mod sheet;
mod start;
mod suggest;
mod trial;

use std::process::ExitCode;

use clap::Parser;
use kickstill_robot::{Problem, demos, schema};

use crate::args::{Cli, Order};
use crate::failure::Failure;
use crate::output::Output;

fn main() -> ExitCode {
    let cli = match Cli::try_parse() {
        Ok(cli) => cli,
        Err(e) => {
            // Help goes to standard output and is no failure; a closed pipe is none either.
            let _ = e.print();
            return if e.use_stderr() {
                ExitCode::from(2)
            } else {
                ExitCode::SUCCESS
            };
        }
    };
    match run(&cli) {
        Ok(()) | Err(Failure::PipeClosed) => ExitCode::SUCCESS,
        Err(Failure::Broken) => ExitCode::from(1),
        Err(failure) => {
            failure.report();
            ExitCode::from(2)
        }
    }
}

fn run(cli: &Cli) -> Result<(), Failure> {
    match &cli.order {
        Order::Check(o) => check::run(o),
        Order::Start(o) => start::run(o),
        Order::Trial(o) => trial::run(o),
        Order::Budget(o) => budget::run(o),
        Order::Edge(o) => edge::run(o),
        Order::Map(o) => map::run(o),
        Order::Suggest(o) => suggest::run(o),
        Order::Power(o) => power::run(o),
        Order::Draw(o) => draw::run(o),
        Order::Sheet(o) => sheet::run(o),
        Order::Card(o) => card::run(o),
        Order::Gains(o) => gains::run(o),
        Order::Knobs(o) => knobs::run(o),
        Order::Demo(o) => demo(o.name.as_deref()),
        Order::Schema => Output::standard().finish(&schema()),
    }
}

/// Prints a demo robot's file, or the names of all.
fn demo(name: Option<&str>) -> Result<(), Failure> {
    let Some(name) = name else {
        let names: String = demos()
            .iter()
            .map(|d| format!("{:<10}{}\n", d.key, d.name))
            .collect();
        return Output::standard().finish(&names);
    };
    let found = demos().iter().find(|d| d.key.eq_ignore_ascii_case(name));
    let demo = found.ok_or_else(|| {
        let keys: Vec<&str> = demos().iter().map(|d| d.key).collect();
        Problem::error("NAME", format!("a demo robot: {}", keys.join(", "))).found(name)
    })?;
    Output::standard().finish(demo.text)
}
