//! The orders and their options.

mod edge;
mod map;
mod suggest;

use std::path::{Path, PathBuf};

pub(crate) use edge::EdgeOrder;
pub(crate) use map::MapOrder;
pub(crate) use suggest::SuggestOrder;

use clap::builder::PossibleValue;
use clap::{Args, Parser, Subcommand, ValueEnum};
use kickstill_rig::budget::Sought;
use kickstill_rig::{Level, Trial};
use kickstill_robot::View;

/// Simulates ball robots: shell on the floor, motorised carriage hanging inside, head on top.
///
/// FILE is a robot file, a demo robot's name (cobnut, thimble, hayrick) or - for standard input.
/// A file that is named like a demo is reached by its path, as ./cobnut.
///
/// Exit codes: 0 done, 1 a limit is broken, 2 bad input.
#[derive(Debug, Parser)]
#[command(name = "kickstill", version)]
pub(crate) struct Cli {
    #[command(subcommand)]
    pub(crate) order: Order,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Order {
    /// Tells everything that is wrong with robot files
    Check(CheckOrder),
    /// Makes a whole robot file from about ten numbers that scale, tape and data sheets give
    ///
    /// All else is filled in by rules and marked as guessed. Numbers may carry a unit.
    Start(StartOrder),
    /// Runs a repeatable test of a robot and measures it
    ///
    /// Numbers may carry a unit, as "240mm" or "2 deg"; a bare number is in SI units and radians.
    Trial(TrialOrder),
    /// Searches for how much a robot bears, by repeated simulation
    ///
    /// Numbers may carry a unit, as "240mm" or "2 deg"; a bare number is in SI units and radians.
    Budget(BudgetOrder),
    /// Tells how far a robot is from the edge: poles, margins, stable spans, oscillations
    ///
    /// By the linear model of the sampled loop, exact to first order; no run is made.
    Edge(EdgeOrder),
    /// Maps two knobs against each other: each cell a trial, seen as one measure
    ///
    /// Numbers may carry a unit, as "240mm" or "2 deg"; a bare number is in SI units and radians.
    Map(MapOrder),
    /// Searches for better settings by repeated simulation, and explains what it found
    ///
    /// A simulated verdict is no permission: on the real robot raise gains in steps.
    Suggest(SuggestOrder),
    /// Tells whether fuse, wire, drivers, motors, regulators and battery bear a trial
    ///
    /// Numbers may carry a unit, as "240mm" or "2 deg"; a bare number is in SI units and radians.
    Power(PowerOrder),
    /// Draws a robot at a time of a trial, as SVG
    ///
    /// Numbers may carry a unit, as "240mm" or "2 deg"; a bare number is in SI units and radians.
    Draw(DrawOrder),
    /// Writes a robot's sheet: drawing, settings, trials against limits, power, cautions
    Sheet(SheetOrder),
    /// Writes a card for the floor: what each trial should show, with room for what it shows
    Card(CardOrder),
    /// Writes the software's settings for the firmware: C header, Markdown, CSV or JSON
    Gains(GainsOrder),
    /// Lists the knobs: what a robot file holds and --set takes
    Knobs(KnobsOrder),
    /// Prints a demo robot's file, or the demos' names
    Demo(DemoOrder),
    /// Prints the JSON Schema of robot files
    Schema,
}

#[derive(Args, Debug)]
pub(crate) struct CheckOrder {
    /// Robot files, demo names, or - for standard input
    #[arg(required = true, value_name = "FILE")]
    pub(crate) files: Vec<PathBuf>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct StartOrder {
    /// What was measured: shell_mass="4.2 kg"; may be repeated
    #[arg(value_name = "KEY=VALUE")]
    pub(crate) measured: Vec<String>,
    /// What stands on a data sheet: motor_torque="2.2 N·m"; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) sheet: Vec<String>,
    /// What is guessed; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) guessed: Vec<String>,
    /// Name of the robot
    #[arg(long)]
    pub(crate) name: Option<String>,
    /// List the keys with their usual values and how each is measured
    #[arg(long)]
    pub(crate) list: bool,
    /// List them as one JSON array
    #[arg(long, requires = "list")]
    pub(crate) json: bool,
    /// Where the file goes; - for standard output
    #[arg(short, long, value_name = "PATH", default_value = "-")]
    pub(crate) output: PathBuf,
}

/// What is run. Numbers may carry a unit; a bare number is in SI units and radians.
#[derive(Args, Debug)]
pub(crate) struct RunOptions {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Which test
    #[arg(long, value_enum, value_name = "NAME", default_value = "kick")]
    pub(crate) trial: TrialWord,
    /// Which plane
    #[arg(long, value_enum, default_value = "side")]
    pub(crate) view: ViewWord,
    /// The software switch: motors off, joints locked, or on (steadied)
    #[arg(long, value_enum, default_value = "on")]
    pub(crate) software: Software,
    /// Impulse of kicks or bump, greatest of the shoves, and of the kick into a wall in the front
    /// view: "4", "4 N·s". Usual: lively for the robot's mass
    #[arg(long, value_name = "N·s", allow_hyphen_values = true)]
    pub(crate) impulse: Option<String>,
    /// Height of the kick above the floor: "0.24", "240mm". Usual: the shell's centre
    #[arg(long, value_name = "m", allow_hyphen_values = true)]
    pub(crate) height: Option<String>,
    /// Ball speed, side view: "1", "3 km/h". Usual: the lever's
    #[arg(long, value_name = "m/s", allow_hyphen_values = true)]
    pub(crate) speed: Option<String>,
    /// Ramp of start, stop or both, side view: "0.5", "0.5 m/s2". Usual: the robot's
    #[arg(long, value_name = "m/s²", allow_hyphen_values = true)]
    pub(crate) ramp: Option<String>,
    /// Shell lean, front view: "10 deg". Usual: the lever's
    #[arg(long, value_name = "rad", allow_hyphen_values = true)]
    pub(crate) lean: Option<String>,
    /// From kick to kick (1 s), on average from shove to shove (1 s), or how long a lost radio's
    /// command stays (0.5 s): "0.5", "700 ms"
    #[arg(long, value_name = "s", allow_hyphen_values = true)]
    pub(crate) pause: Option<String>,
    /// Slope of slope-hold and slope-start: "3 deg". Usual: the robot's floor if it slopes, else
    /// half of what the hanging weight can hold, at most 3 deg
    #[arg(long, value_name = "rad", allow_hyphen_values = true)]
    pub(crate) slope: Option<String>,
    /// How much higher the far edge of a seam stands: "2 mm". Usual: 2 mm, at most a hundredth of
    /// the radius
    #[arg(long, value_name = "m", allow_hyphen_values = true)]
    pub(crate) lip: Option<String>,
    /// Length of the run after what sets it going: "8", "800 ms". Usual: 8 s, with shoves 20 s
    #[arg(long, value_name = "s", allow_hyphen_values = true)]
    pub(crate) seconds: Option<String>,
    /// Seed of the sensors' noise and of the shoves: a whole number
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
    /// Half width of the band that counts as settled: "2 deg", "0.035"
    #[arg(long, value_name = "rad", allow_hyphen_values = true)]
    pub(crate) band: Option<String>,
    /// Turn a knob: head.mass=1.2kg, floor.slope=3deg, lean.dead_band_shape=step; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
}

#[derive(Args, Debug)]
pub(crate) struct TrialOrder {
    #[command(flatten)]
    pub(crate) run: RunOptions,
    /// Run the trials of a limits file instead and judge them; exit code 1 if a limit is broken
    #[arg(long, value_name = "PATH", conflicts_with_all = [
        "trial", "view", "software", "impulse", "height", "speed", "ramp", "lean", "pause",
        "slope", "lip", "seconds", "seed", "band", "csv",
    ])]
    pub(crate) limits: Option<PathBuf>,
    /// Write the trace as CSV, SI units, one line a tick; - for standard output.
    /// Its time counts from the start of the record, which may begin with the way to speed
    #[arg(long, value_name = "PATH")]
    pub(crate) csv: Option<PathBuf>,
    /// Write the measures as CSV, SI units, one line a measure; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) results: Option<PathBuf>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// Print a Markdown table
    #[arg(long, conflicts_with = "json")]
    pub(crate) markdown: bool,
}

impl TrialOrder {
    /// Whether trace or measures take standard output, so that no table goes there.
    pub(crate) fn printed_elsewhere(&self) -> bool {
        [&self.csv, &self.results]
            .into_iter()
            .flatten()
            .any(|path| path == Path::new("-"))
    }
}

#[derive(Args, Debug)]
pub(crate) struct BudgetOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// What is sought
    #[arg(long, value_enum, value_name = "WHAT")]
    pub(crate) find: SoughtWord,
    /// Which plane
    #[arg(long, value_enum, default_value = "side")]
    pub(crate) view: ViewWord,
    /// Greatest head dip (front view: sway) that holds: "4 deg". Usual: 4 deg where a stop decides,
    /// none for kick and wall-speed
    #[arg(long, value_name = "rad", allow_hyphen_values = true)]
    pub(crate) dip: Option<String>,
    /// Greatest settling time that holds: "2 s". Usual: any
    #[arg(long, value_name = "s", allow_hyphen_values = true)]
    pub(crate) settling: Option<String>,
    /// How far below the shell's centre ballast goes: "180 mm". Usual: near the shell's bottom
    #[arg(long, value_name = "m", allow_hyphen_values = true)]
    pub(crate) place: Option<String>,
    /// Height of the kick above the floor: "0.24", "240mm". Usual: the shell's centre
    #[arg(long, value_name = "m", allow_hyphen_values = true)]
    pub(crate) height: Option<String>,
    /// Ball speed before the stop, side view: "1", "3 km/h". Usual: the lever's
    #[arg(long, value_name = "m/s", allow_hyphen_values = true)]
    pub(crate) speed: Option<String>,
    /// Ramp of the stop, side view: "0.5 m/s2". Usual: the robot's
    #[arg(long, value_name = "m/s²", allow_hyphen_values = true)]
    pub(crate) ramp: Option<String>,
    /// Shell lean before the stop, front view: "10 deg". Usual: the lever's
    #[arg(long, value_name = "rad", allow_hyphen_values = true)]
    pub(crate) lean: Option<String>,
    /// Length of each run after what sets it going: "8", "800 ms". Usual: 8 s
    #[arg(long, value_name = "s", allow_hyphen_values = true)]
    pub(crate) seconds: Option<String>,
    /// Seed of the sensors' noise: a whole number
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
    /// Turn a knob first: floor.slope=3deg; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct PowerOrder {
    #[command(flatten)]
    pub(crate) run: RunOptions,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// Print a Markdown table
    #[arg(long, conflicts_with = "json")]
    pub(crate) markdown: bool,
}

#[derive(Args, Debug)]
pub(crate) struct DrawOrder {
    #[command(flatten)]
    pub(crate) run: RunOptions,
    /// Time since what set the trial going: "0.5", "500 ms"
    #[arg(long, value_name = "s", allow_hyphen_values = true)]
    pub(crate) at: String,
    /// Pale line on dark blue-grey, rather than ink on paper
    #[arg(long)]
    pub(crate) night: bool,
    /// Width and height in pixels
    #[arg(long, value_name = "WxH", default_value = "1200x900")]
    pub(crate) size: String,
    /// What is drawn beside the robot, with commas between
    #[arg(long, value_enum, value_delimiter = ',', default_value = "angles")]
    pub(crate) layers: Vec<Layer>,
    /// Where the SVG goes; - for standard output
    #[arg(short, long, value_name = "PATH", default_value = "-")]
    pub(crate) output: PathBuf,
}

#[derive(Args, Debug)]
pub(crate) struct SheetOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// The trials and limits of this file rather than the usual ones
    #[arg(long, value_name = "PATH")]
    pub(crate) limits: Option<PathBuf>,
    /// One HTML file with drawings and charts, rather than Markdown
    #[arg(long)]
    pub(crate) html: bool,
    /// Turn a knob first: head.mass=1.2kg; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Where the sheet goes; - for standard output
    #[arg(short, long, value_name = "PATH", default_value = "-")]
    pub(crate) output: PathBuf,
}

#[derive(Args, Debug)]
pub(crate) struct CardOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Which trials, with commas between; --list tells them all
    #[arg(long, value_delimiter = ',', value_name = "TRIAL/VIEW/SOFTWARE")]
    pub(crate) trials: Vec<String>,
    /// List the trials that a card can hold
    #[arg(long)]
    pub(crate) list: bool,
    /// The limits of this file rather than the usual ones
    #[arg(long, value_name = "PATH")]
    pub(crate) limits: Option<PathBuf>,
    /// Variants run for what the guesses leave open; none needs marks in the robot file
    #[arg(long, value_name = "N", default_value_t = kickstill_rig::report::USUAL_VARIANTS,
        value_parser = clap::value_parser!(u32).range(0..=1000))]
    pub(crate) variants: u32,
    /// The form
    #[arg(long, value_enum, default_value = "markdown")]
    pub(crate) format: CardForm,
    /// The day on it, such as 2031-05-17
    #[arg(long, value_name = "DAY", default_value = "")]
    pub(crate) date: String,
    /// Turn a knob first: head.mass=1.2kg; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Where the card goes; - for standard output
    #[arg(short, long, value_name = "PATH", default_value = "-")]
    pub(crate) output: PathBuf,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum CardForm {
    /// A table
    Markdown,
    /// One HTML file to be printed
    Html,
    /// One line a measure, SI units, a column to type into
    Csv,
}

#[derive(Args, Debug)]
pub(crate) struct GainsOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// The form
    #[arg(long, value_enum, default_value = "c")]
    pub(crate) format: GainsForm,
    /// The day in it, such as 2031-05-17
    #[arg(long, value_name = "DAY", default_value = "")]
    pub(crate) date: String,
    /// Name of the revision in it
    #[arg(long, value_name = "NAME", default_value = "")]
    pub(crate) revision: String,
    /// Turn a knob first: travel.damping=0.2; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Where they go; - for standard output
    #[arg(short, long, value_name = "PATH", default_value = "-")]
    pub(crate) output: PathBuf,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum GainsForm {
    /// A header in C99
    C,
    /// A table
    Markdown,
    /// One line a setting, SI units
    Csv,
    /// One object
    Json,
}

#[derive(Args, Debug)]
pub(crate) struct KnobsOrder {
    /// Print one JSON array
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Args, Debug)]
pub(crate) struct DemoOrder {
    /// The demo: cobnut, thimble or hayrick; none lists them
    #[arg(value_name = "NAME")]
    pub(crate) name: Option<String>,
}

/// A trial by its name.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TrialWord(pub(crate) Trial);

/// All trials, as the parser wants them.
static TRIALS: [TrialWord; Trial::ALL.len()] = {
    let mut words = [TrialWord(Trial::Kick); Trial::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = TrialWord(Trial::ALL[i]);
        i += 1;
    }
    words
};

impl ValueEnum for TrialWord {
    fn value_variants<'a>() -> &'a [Self] {
        &TRIALS
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.word()).help(self.0.about()))
    }
}

/// What a budget seeks, by its name.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SoughtWord(pub(crate) Sought);

/// All that can be sought, as the parser wants them.
static SOUGHT: [SoughtWord; Sought::ALL.len()] = {
    let mut words = [SoughtWord(Sought::HeadMass); Sought::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = SoughtWord(Sought::ALL[i]);
        i += 1;
    }
    words
};

impl ValueEnum for SoughtWord {
    fn value_variants<'a>() -> &'a [Self] {
        &SOUGHT
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        Some(PossibleValue::new(self.0.key()).help(self.0.about()))
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum ViewWord {
    /// Fore-aft
    Side,
    /// Side to side
    Front,
}

impl From<ViewWord> for View {
    fn from(word: ViewWord) -> Self {
        match word {
            ViewWord::Side => View::Side,
            ViewWord::Front => View::Front,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum Software {
    /// Motors off
    Off,
    /// Both joints held
    Locked,
    /// Steadied
    On,
}

impl From<Software> for Level {
    fn from(word: Software) -> Self {
        match word {
            Software::Off => Level::Off,
            Software::Locked => Level::Locked,
            Software::On => Level::Steadied,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum Layer {
    /// Nothing but the robot
    None,
    /// Everything
    All,
    /// Swing, lean and head angle
    Angles,
    /// Weight, floor force, traction, push
    Forces,
    /// Centres of mass
    Centres,
    /// Way of the head in the last two seconds
    Trail,
    /// Grid
    Grid,
    /// Dimensions
    Lengths,
    /// Numbers on the parts
    Balloons,
}
