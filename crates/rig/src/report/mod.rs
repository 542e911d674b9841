//! Results as tables: the same rows, words, Markdown and CSV wherever they are shown.

mod asked;
mod by_hand;
mod card;
mod checked;
mod gains;
mod lid;
mod named;
mod table;
mod tried;

pub use asked::{answer_rows, told};
pub use by_hand::{CardTrial, card_trials, usual_card};
pub use card::{Card, CardRow, USUAL_VARIANTS, card, card_cautions, card_csv, card_table};
pub use checked::{Set, set_summary, set_table};
pub use gains::{Gain, SOFTWARE, gains, gains_csv, gains_header, gains_markdown, gains_table};
pub use lid::{Group, Lid, LidLimit, Line, hardest, lid, lid_limits};
pub use named::{CAUTION, Origin, one_line, robot_digest};
pub use table::Table;
pub use tried::{begins, digits, numbers, plain, results_csv, trial_rows, trial_title};

use kickstill_robot::Knob;

/// Knobs that were turned for a run, with their values [SI].
pub type Turned = [(&'static Knob, f64)];
