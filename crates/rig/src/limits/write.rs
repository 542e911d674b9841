//! Writing a limits file.

use serde_json::{Map, Value, json};

use kickstill_robot::{Bare, Unit, View};

use super::{FORMAT, Limits, VERSION};
use crate::sample::Level;

/// The limits file that reads back to the same set.
#[must_use]
pub fn write_limits(limits: &Limits) -> String {
    let trials: Vec<Value> = limits
        .trials
        .iter()
        .map(|t| {
            let mut out = Map::new();
            out.insert("trial".to_owned(), t.trial.word().into());
            if t.trial.has_view(View::Side) && t.view == View::Front {
                out.insert("view".to_owned(), t.view.word().into());
            }
            if t.level != Level::Steadied {
                out.insert("software".to_owned(), t.level.key().into());
            }
            for (number, value) in &t.numbers {
                out.insert(number.key().to_owned(), quantity(number.unit(), *value));
            }
            if let Some(seed) = t.seed {
                out.insert("seed".to_owned(), seed.into());
            }
            if !t.outcomes.is_empty() {
                let keys: Vec<&str> = t.outcomes.iter().map(|o| o.key()).collect();
                out.insert("outcomes".to_owned(), json!(keys));
            }
            let mut list = Map::new();
            for limit in &t.limits {
                let mut ends = Map::new();
                for (end, value) in [("min", limit.min), ("max", limit.max)] {
                    if let Some(value) = value {
                        ends.insert(end.to_owned(), quantity(limit.unit, value));
                    }
                }
                list.insert(limit.measure.to_owned(), Value::Object(ends));
            }
            if !list.is_empty() {
                out.insert("limits".to_owned(), Value::Object(list));
            }
            Value::Object(out)
        })
        .collect();
    let file = json!({
        "format": FORMAT,
        "version": VERSION,
        "name": limits.name,
        "trials": trials,
    });
    format!("{file:#}\n")
}

/// With its unit where that says the same to the last bit, else the bare SI value.
fn quantity(unit: Unit, value: f64) -> Value {
    let text = unit.format(value);
    if unit.parse(&text, Bare::Si) == Ok(value) {
        text.into()
    } else {
        json!(value)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{read_limits, usual_limits};
    use super::*;
    use kickstill_robot::demos;

    #[test]
    fn what_is_written_reads_back_the_same() {
        for demo in demos() {
            let (robot, _) = kickstill_robot::read_robot(demo.text).unwrap();
            let usual = usual_limits(&robot);
            assert_eq!(read_limits(&write_limits(&usual)), Ok(usual));
        }
        let text =
            "{\"format\": \"kickstill-limits\", \"version\": 1, \"name\": \"odd\", \"trials\": [
            {\"trial\": \"lean-step\", \"seed\": 7, \"outcomes\": [\"settled\", \"sways\"]},
            {\"trial\": \"stop\", \"software\": \"locked\", \"ramp\": 0.1234567,
             \"limits\": {\"drift\": {\"min\": -0.333333333333, \"max\": \"1 m\"}}}]}";
        let odd = read_limits(text).unwrap();
        assert_eq!(read_limits(&write_limits(&odd)), Ok(odd));
    }
}
