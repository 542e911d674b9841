//! Results as tables: the same rows, words, Markdown and CSV wherever they are shown.

mod asked;
mod checked;
mod table;
mod tried;

pub use asked::{answer_rows, told};
pub use checked::{Set, set_summary, set_table};
pub use table::Table;
pub use tried::{begins, digits, numbers, plain, results_csv, trial_rows, trial_title};

use kickstill_robot::Knob;

/// Knobs that were turned for a run, with their values [SI].
pub type Turned = [(&'static Knob, f64)];
