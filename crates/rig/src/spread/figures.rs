//! Distributions of measures.

use kickstill_number::Within;
use kickstill_robot::Unit;

use crate::measure::Measure;
use crate::trial::Run;

/// Distribution of one measure over the variants.
#[derive(Clone, Debug, PartialEq)]
pub struct Distribution {
    /// Key of the measure.
    pub key: &'static str,
    /// Its label.
    pub label: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// Value of the robot as described [SI].
    pub nominal: Option<f64>,
    /// Variants with a value.
    pub count: u32,
    /// Variants without one, such as a settling time of what does not settle.
    pub none: u32,
    /// Least, lower quartile, median, upper quartile, greatest [SI]; none without values.
    pub five: Option<[f64; 5]>,
}

impl Distribution {
    pub(super) fn of(measure: &Measure, runs: &[Run]) -> Self {
        let mut values: Vec<f64> = runs.iter().filter_map(|r| r.value(measure.key)).collect();
        values.sort_by(f64::total_cmp);
        Self {
            key: measure.key,
            label: measure.label,
            unit: measure.unit,
            nominal: measure.value,
            count: values.len() as u32,
            none: (runs.len() - values.len()) as u32,
            five: (!values.is_empty())
                .then(|| [0.0, 0.25, 0.5, 0.75, 1.0].map(|share| quantile(&values, share))),
        }
    }
}

/// Value below which `share` (0 … 1) of the `sorted` values lie, straight between neighbours
/// (definition 7 of R. J. Hyndman and Y. Fan, "Sample quantiles in statistical packages", The
/// American Statistician 50, 1996); 0 of none.
#[must_use]
pub fn quantile(sorted: &[f64], share: f64) -> f64 {
    let Some(last) = sorted.len().checked_sub(1) else {
        return 0.0;
    };
    let place = share.within(0.0, 1.0) * last as f64;
    // The cast cuts towards zero, to a place within.
    let below = (place.floor() as usize).min(last);
    let above = (below + 1).min(last);
    sorted[below] + (place - below as f64) * (sorted[above] - sorted[below])
}

#[cfg(test)]
mod tests {
    use super::quantile;

    /// Of 1, 2, 4, 8: 1.75, 3 and 5 (definition 7, worked out by hand).
    #[test]
    fn quartiles_of_four_values() {
        let list = [1.0, 2.0, 4.0, 8.0];
        let found = [0.0, 0.25, 0.5, 0.75, 1.0].map(|s| quantile(&list, s));
        assert_eq!(found, [1.0, 1.75, 3.0, 5.0, 8.0]);
        assert_eq!(quantile(&[], 0.5), 0.0);
        assert_eq!(quantile(&[3.0], 0.9), 3.0);
    }
}
