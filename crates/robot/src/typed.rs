//! Setting a knob by what a person typed.

use crate::catalogue::{Kind, Knob, catalogue, knob};
use crate::model::Robot;
use crate::problem::{Problem, nearest, shorten};
use crate::quantity::Bare;

/// Sets the knob `key` to what `text` says: "4 kg", "2.5deg", a bare number in SI, or a word.
/// Returns the value kept [SI; a word's place for words].
///
/// Only the knob's own range is checked; once all knobs are set, [`validate`](crate::validate)
/// tells whether they fit together.
///
/// # Errors
/// What is wrong; the robot then keeps the old value.
#[allow(clippy::result_large_err)] // once a keystroke; a box would only burden the callers
pub fn set_by_text(robot: &mut Robot, key: &str, text: &str) -> Result<f64, Problem> {
    let key = key.trim();
    let Some(knob) = knob(key) else {
        let problem = Problem::error(shorten(key), "the key of a knob").kept("nothing changed");
        return Err(problem.hint(suggest(key)));
    };
    let kept = knob.format((knob.get)(robot));
    let value = match knob.kind {
        Kind::Choice(words) => word(knob, words, text),
        Kind::Number | Kind::Whole => knob.unit.parse(text, Bare::Si).map_err(|e| {
            Problem::error(knob.key, format!("{}; {}", knob.expectation(), e.expected))
                .found(shorten(text.trim()))
                .hint(e.hint)
        }),
    }
    .map_err(|p| p.kept(format!("{kept} kept")))?;
    knob.set(robot, value)
        .map_err(|refusal| knob.problem(robot, refusal, text.trim()))?;
    Ok((knob.get)(robot))
}

#[allow(clippy::result_large_err)] // as above
fn word(knob: &Knob, words: &[&str], text: &str) -> Result<f64, Problem> {
    let typed = text.trim().to_ascii_lowercase();
    let meant = match typed.as_str() {
        "true" | "on" if words == ["no", "yes"] => "yes",
        "false" | "off" if words == ["no", "yes"] => "no",
        other => other,
    };
    words
        .iter()
        .position(|w| *w == meant)
        .map(|i| i as f64)
        .ok_or_else(|| {
            Problem::error(knob.key, knob.expectation())
                .found(shorten(text.trim()))
                .hint(
                    nearest(meant, words.iter().copied())
                        .map_or_else(String::new, |w| format!("did you mean \"{w}\"?")),
                )
        })
}

/// The key that an unknown one was likely meant to be.
fn suggest(key: &str) -> String {
    let keys = || catalogue().iter().map(|k| k.key);
    if let Some(near) = nearest(key, keys()) {
        return format!("did you mean {near}?");
    }
    // A key without its section, or with a wrong one.
    let last = key.rsplit('.').next().unwrap_or(key);
    let same: Vec<&str> = keys()
        .filter(|k| k.split_once('.').is_some_and(|(_, l)| l == last))
        .take(4)
        .collect();
    if same.is_empty() {
        "keys look like head.mass".to_owned()
    } else {
        format!("did you mean {}?", same.join(" or "))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::demos::demo;
    use crate::model::DeadBandShape;

    #[test]
    fn texts_set_knobs() {
        let mut r = demo("cobnut").unwrap();
        assert_eq!(set_by_text(&mut r, "head.mass", "1.3 kg"), Ok(1.3));
        assert_eq!(r.head.mass, 1.3);
        assert_eq!(set_by_text(&mut r, "lean.dead_band_shape", "Step"), Ok(1.0));
        assert_eq!(r.lean.dead_band_shape, DeadBandShape::Step);
        assert_eq!(set_by_text(&mut r, "sensing.ideal", "on"), Ok(1.0));
        assert_eq!(set_by_text(&mut r, "timing.delay_ticks", "5"), Ok(5.0));
        let end = set_by_text(&mut r, "lean.dead_band", "15 deg").unwrap();
        assert!(end <= crate::knob("lean.dead_band").unwrap().max);
    }

    #[test]
    fn bad_texts_leave_the_robot_alone() {
        let start = demo("cobnut").unwrap();
        for (key, text, words) in [
            ("head.mass", "900", ["too large", "0.900 kg kept"]),
            ("head.mass", "900 mm", ["kg, g, lb, oz", "0.900 kg kept"]),
            ("head.mass", "1,3", ["1.3", "kept"]),
            ("head.mas", "1", ["head.mass", "nothing changed"]),
            (
                "mass",
                "1",
                ["shell.mass or carriage.mass or head.mass", "nothing"],
            ),
            (
                "lean.dead_band_shape",
                "steps",
                ["\"step\"?", "continuous kept"],
            ),
            ("timing.delay_ticks", "1.5", ["whole", "1 kept"]),
            ("sensing.ideal", "perhaps", ["\"no\", \"yes\"", "no kept"]),
            ("floor.slope", "-90°", ["too small", "0° kept"]),
        ] {
            let mut r = start.clone();
            let p = set_by_text(&mut r, key, text).unwrap_err().to_string();
            assert_eq!(r, start, "{key}");
            for w in words {
                assert!(p.contains(w), "{key} {text}: {p}");
            }
        }
    }
}
