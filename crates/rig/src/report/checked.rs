//! A set of trials against its limits.

use super::{Table, trial_title};
use crate::limits::{Checked, LimitedTrial};

/// The trials of a set with what became of them.
pub type Set<'a> = [(&'a LimitedTrial, &'a Checked)];

fn verdict(holds: bool) -> String {
    if holds { "holds" } else { "BROKEN" }.to_owned()
}

/// One row a limit: trial, measure, limit, found, verdict. The trial stands in its first row only.
#[must_use]
pub fn set_table(set: &Set<'_>) -> Table {
    let mut rows = Vec::new();
    for (trial, checked) in set {
        let mut name = trial_title(&checked.setting);
        let mut row = |cells: [String; 4]| {
            let mut row = vec![core::mem::take(&mut name)];
            row.extend(cells);
            rows.push(row);
        };
        if let Some(holds) = checked.outcome_holds {
            let taken: Vec<&str> = trial.outcomes.iter().map(|o| o.key()).collect();
            row([
                "outcome".to_owned(),
                taken.join(" or "),
                checked.run.outcome.words.clone(),
                verdict(holds),
            ]);
        }
        for v in &checked.verdicts {
            row([
                v.limit.label.to_owned(),
                v.limit.words(),
                v.words.clone(),
                verdict(v.holds),
            ]);
        }
    }
    Table {
        head: vec!["trial", "measure", "limit", "found", "verdict"],
        rows,
    }
}

/// How many limits hold, in one line; `name` is the set's.
#[must_use]
pub fn set_summary(robot: &str, name: &str, set: &Set<'_>) -> String {
    let verdicts = set.iter().flat_map(|(_, c)| {
        let limits = c.verdicts.iter().map(|v| v.holds);
        c.outcome_holds.into_iter().chain(limits)
    });
    let (mut all, mut broken) = (0, 0);
    for holds in verdicts {
        all += 1;
        broken += usize::from(!holds);
    }
    let name = if name.is_empty() {
        String::new()
    } else {
        format!(", {name}")
    };
    match broken {
        0 => format!("{robot}{name}: all {all} limits hold\n"),
        1 => format!("{robot}{name}: 1 of {all} limits is broken\n"),
        n => format!("{robot}{name}: {n} of {all} limits are broken\n"),
    }
}
