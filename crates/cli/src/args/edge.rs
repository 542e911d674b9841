//! Options of `kickstill edge`.

use std::path::PathBuf;

use clap::Args;

use super::ViewWord;

#[derive(Args, Debug)]
pub(crate) struct EdgeOrder {
    /// Robot file, demo name (cobnut, thimble, hayrick), or - for standard input
    #[arg(value_name = "FILE")]
    pub(crate) file: PathBuf,
    /// Which plane
    #[arg(long, value_enum, default_value = "side")]
    pub(crate) view: ViewWord,
    /// Ball speed at which it rolls steadily, side view: "0.5", "3 km/h". Usual: it stands still
    #[arg(long, value_name = "m/s", allow_hyphen_values = true)]
    pub(crate) speed: Option<String>,
    /// Span of this knob, as lean.damping; may be repeated. Usual: gains, times, masses and
    /// lengths that bear on the edge
    #[arg(long, value_name = "KEY")]
    pub(crate) knob: Vec<String>,
    /// Turn a knob first: head.mass=1.2kg; may be repeated
    #[arg(long, value_name = "KEY=VALUE")]
    pub(crate) set: Vec<String>,
    /// Print one JSON object
    #[arg(long)]
    pub(crate) json: bool,
    /// Write poles, margins, spans and oscillations as CSV, SI units; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) csv: Option<PathBuf>,
    /// Draw poles, gain and phase as SVG; - for standard output
    #[arg(long, value_name = "PATH")]
    pub(crate) svg: Option<PathBuf>,
}
