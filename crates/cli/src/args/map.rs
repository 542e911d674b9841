//! Options of `kickstill map`.

use std::path::PathBuf;

use clap::Args;

use super::RunOptions;

#[derive(Args, Debug)]
pub(crate) struct MapOrder {
    #[command(flatten)]
    pub(crate) run: RunOptions,
    /// Knob along x, with its ends and number of cells if they are not the usual ones: lean.damping,
    /// lean.damping=0..0.6, timing.delay_ticks=0..8/9
    #[arg(long, value_name = "KNOB[=FROM..TO[/N]]")]
    pub(crate) x: String,
    /// Knob along y
    #[arg(long, value_name = "KNOB[=FROM..TO[/N]]")]
    pub(crate) y: String,
    /// Cells along an axis that does not name its own number
    #[arg(long, value_name = "N", default_value_t = 64)]
    pub(crate) cells: usize,
    /// What is mapped: a measure's key as in `kickstill trial --json`, or outcome. Usual: the settling
    /// time where the trial has one
    #[arg(long, value_name = "KEY")]
    pub(crate) measure: Option<String>,
    /// Limit drawn as a line, in the measure's unit: "2 s". Usual: that of the show-day check, if it has one
    #[arg(long, value_name = "VALUE", allow_hyphen_values = true)]
    pub(crate) limit: Option<String>,
    /// Map the worst case over what may come out otherwise: head_mass="20 %", voltage="10 %" (less),
    /// floor="30 %" (rolling resistance and grip), delay=1 (more ticks), seeds=2 (more of them); may be
    /// repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) spread: Vec<String>,
    /// Make each run as `kickstill trial` does, to the last bit; else steps are longer and a run ends when all
    /// rests
    #[arg(long)]
    pub(crate) exact: bool,
    /// Threads. Usual: one for each core
    #[arg(long, value_name = "N")]
    pub(crate) threads: Option<usize>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// Write all cells as CSV, SI units; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) csv: Option<PathBuf>,
    /// Draw the map as SVG; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) svg: Option<PathBuf>,
}
