//! Options of `kickstill suggest`.

use std::path::PathBuf;

use clap::builder::PossibleValue;
use clap::{Args, ValueEnum};
use kickstill_suggest::{Loop, USUAL_BUDGET};

#[derive(Args, Debug)]
pub(crate) struct SuggestOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Loops whose settings may change, with commas between. Usual: all
    #[arg(long, value_enum, value_name = "LOOP", value_delimiter = ',')]
    pub(crate) loops: Vec<LoopWord>,
    /// A knob that stays as it is although its loop may change; may be repeated
    #[arg(long, value_name = "KEY")]
    pub(crate) keep: Vec<String>,
    /// Limit not to pass: settling="1.5 s", dip="3 deg", residual="0.5 deg", grip="70 %", current="10 A", and
    /// at least margin=0.4, delay="20 ms"; may be repeated. Usual: 2 s, 4 deg, 0.5 deg, 80 %, three
    /// quarters of the main fuse, margins as it stands; where it stands worse, no worse than that
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) limit: Vec<String>,
    /// What is wanted most, 0 to 10: settling=5, dip=3, quiet=2, current=1, margin=1 (the usual ones); may
    /// be repeated
    #[arg(long, value_name = "KEY=N")]
    pub(crate) weight: Vec<String>,
    /// Settings to try on the whole simulation
    #[arg(long, value_name = "N", default_value_t = USUAL_BUDGET)]
    pub(crate) budget: u32,
    /// Seed of the search and of all that it tries: a whole number
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
    /// Turn a knob first: head.mass=1.2kg; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Where the robot file with the suggested settings goes, if any are better; - for standard output
    #[arg(short, long, value_name = "PATH")]
    pub(crate) out: Option<PathBuf>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// Write the numbers before and after as CSV, SI units; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) csv: Option<PathBuf>,
    /// Draw a kick before and after as SVG; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) svg: Option<PathBuf>,
}

/// A loop by its name.
#[derive(Clone, Copy, Debug)]
pub(crate) struct LoopWord(pub(crate) Loop);

/// All loops, as the parser wants them.
static LOOPS: [LoopWord; Loop::ALL.len()] = {
    let mut words = [LoopWord(Loop::Travel); Loop::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = LoopWord(Loop::ALL[i]);
        i += 1;
    }
    words
};

impl ValueEnum for LoopWord {
    fn value_variants<'a>() -> &'a [Self] {
        &LOOPS
    }

    fn to_possible_value(&self) -> Option<PossibleValue> {
        let about = match self.0 {
            Loop::Travel => "travel loop, side view",
            Loop::Lean => "lean loop, front view",
            Loop::Head => "head levelling, both views",
            Loop::Carriage => "carriage loop, front view",
        };
        Some(PossibleValue::new(self.0.word()).help(about))
    }
}
