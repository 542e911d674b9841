//! The parts ledger and the marks of the board's robot. The run goes on: what a part changes
//! reaches the rigs as turns of the knobs of its body.

use kickstill_robot::{Bare, Body, Mark, Part, Problem, Robot, Unit, knob, knobs_of_parts};

use super::{Desk, Problems, refuse};

/// Words for the bodies.
pub(crate) const BODIES: [(&str, Body); 3] = [
    ("shell", Body::Shell),
    ("carriage", Body::Carriage),
    ("head", Body::Head),
];

/// A part as it was typed.
pub(crate) struct Typed {
    pub(crate) name: String,
    pub(crate) body: String,
    pub(crate) mass: String,
    pub(crate) height: String,
    pub(crate) on: bool,
    pub(crate) mark: String,
}

impl Desk {
    /// Adds a part as it was typed: a bare mass is in grams (ounces), a bare height in the unit
    /// shown.
    pub(crate) fn put_part(&mut self, typed: &Typed) -> Result<(), Problems> {
        let mut problems = Vec::new();
        let body = BODIES.iter().find(|b| b.0 == typed.body).map(|b| b.1);
        if body.is_none() {
            problems.extend(refuse("body", &typed.body, "shell, carriage or head"));
        }
        let mut number = |path: &str, unit: Unit, given: &str, text: String| {
            let read = unit.parse(&text, Bare::Shown);
            read.map_err(|wrong| {
                problems.push(
                    Problem::error(path, wrong.expected)
                        .found(given.trim())
                        .hint(wrong.hint)
                        .kept("nothing was added"),
                );
            })
            .ok()
        };
        let bare = typed
            .mass
            .trim_end()
            .ends_with(|c: char| c.is_ascii_digit() || c == '.');
        let weighed = if bare {
            format!("{} {}", typed.mass.trim_end(), self.units.weighed())
        } else {
            typed.mass.clone()
        };
        let mass = number("mass", Unit::Kilogram, &typed.mass, weighed);
        let tall = self.units.completed(Unit::Metre, &typed.height);
        let height = number("height", Unit::Metre, &typed.height, tall);
        let mark = mark_of(&typed.mark).unwrap_or_else(|mut wrong| {
            problems.append(&mut wrong);
            None
        });
        let (Some(body), Some(mass), Some(height), true) =
            (body, mass, height, problems.is_empty())
        else {
            return Err(problems);
        };
        let part = Part {
            name: typed.name.trim().to_owned(),
            body,
            mass,
            height,
            on: typed.on,
            mark,
        };
        self.change_parts(|robot| robot.put_part(part).map(|_| ()))
            .map_err(|problems| problems.into_iter().map(under_its_field).collect())
    }

    /// Fits a part, or takes it off and keeps it in the list.
    pub(crate) fn switch_part(&mut self, index: usize, on: bool) -> Result<(), Problems> {
        self.change_parts(|robot| robot.switch_part(index, on))
    }

    /// Strikes a part off the list.
    pub(crate) fn remove_part(&mut self, index: usize) -> Result<(), Problems> {
        self.change_parts(|robot| robot.remove_part(index).map(|_| ()))
    }

    fn change_parts(
        &mut self,
        change: impl FnOnce(&mut Robot) -> Result<(), Problems>,
    ) -> Result<(), Problems> {
        let mut changed = self.robot.clone();
        change(&mut changed)?;
        let before = std::mem::replace(&mut self.robot, changed);
        for (_, body) in BODIES {
            for knob in knobs_of_parts(body).iter().filter_map(|key| knob(key)) {
                let value = (knob.get)(&self.robot);
                if value != (knob.get)(&before) {
                    self.turn(knob, value);
                }
            }
        }
        Ok(())
    }

    /// Says where a knob's value comes from; an empty word takes the mark off.
    pub(crate) fn set_mark(&mut self, key: &str, word: &str) -> Result<(), Problems> {
        let mark = mark_of(word)?;
        if self.robot.set_mark(key, mark) {
            Ok(())
        } else {
            Err(refuse(key, key, "a key of the knob catalogue"))
        }
    }
}

fn mark_of(word: &str) -> Result<Option<Mark>, Problems> {
    if word.is_empty() {
        return Ok(None);
    }
    let mark = Mark::of_word(word);
    if mark.is_none() {
        return Err(refuse("mark", word, "measured, sheet or guessed"));
    }
    Ok(mark)
}

/// `parts[3].mass` is the form's `mass`.
fn under_its_field(mut problem: Problem) -> Problem {
    // Searched by character: by text, the search alone weighs kilobytes in the page.
    let rest = problem.path.split_once(']').map(|(_, rest)| rest);
    if let Some(field) = rest.and_then(|rest| rest.strip_prefix('.')) {
        problem.path = field.to_owned();
    }
    problem
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Units;

    fn typed(mass: &str, height: &str) -> Typed {
        Typed {
            name: "brass feet".to_owned(),
            body: "carriage".to_owned(),
            mass: mass.to_owned(),
            height: height.to_owned(),
            on: true,
            mark: "measured".to_owned(),
        }
    }

    #[test]
    fn a_part_goes_on_and_off_while_the_run_goes_on() {
        let mut desk = Desk::new();
        desk.tick();
        let before = desk.robot().clone();
        let index = before.parts.len();
        desk.put_part(&typed("500", "-150 mm")).unwrap();
        assert!((desk.robot().carriage.mass - before.carriage.mass - 0.5).abs() < 1e-12);
        let view = kickstill_robot::View::Side;
        assert!(desk.plane(view).time_us() > 0);
        desk.switch_part(index, false).unwrap();
        assert!((desk.robot().carriage.below_centre - before.carriage.below_centre).abs() < 1e-12);
        desk.remove_part(index).unwrap();
        assert_eq!(desk.robot().parts, before.parts);
    }

    #[test]
    fn a_wrong_part_tells_all_its_errors_by_field() {
        let mut desk = Desk::new();
        let before = desk.robot().clone();
        let mut wrong = typed("heavy", "up");
        wrong.body = "tail".to_owned();
        wrong.mark = "sworn".to_owned();
        let paths =
            |problems: Problems| -> Vec<String> { problems.into_iter().map(|p| p.path).collect() };
        let found = paths(desk.put_part(&wrong).unwrap_err());
        assert_eq!(found, ["body", "mass", "height", "mark"]);
        let mut nameless = typed("1 g", "0");
        nameless.name = " ".to_owned();
        assert_eq!(paths(desk.put_part(&nameless).unwrap_err()), ["name"]);
        assert_eq!(*desk.robot(), before);
        assert!(desk.switch_part(99, true).is_err());
        assert!(desk.set_mark("head.mass", "sworn").is_err());
        assert!(desk.set_mark("head.maas", "guessed").is_err());
        desk.set_mark("head.mass", "guessed").unwrap();
        assert_eq!(desk.robot().mark("head.mass"), Some(Mark::Guessed));
    }

    #[test]
    fn ounces_for_who_reads_inches() {
        let mut desk = Desk::new();
        desk.units = Units::Inch;
        let before = desk.robot().carriage.mass;
        desk.put_part(&typed("16", "-6")).unwrap();
        // 16 oz = 1 lb = 0.45359237 kg exactly (international yard and pound, 1959).
        assert!((desk.robot().carriage.mass - before - 0.453_592_37).abs() < 1e-12);
        let part = desk.robot().parts.last().unwrap();
        assert!((part.height + 0.1524).abs() < 1e-12);
        assert_eq!(Units::Inch.part(part.mass), "16.0 oz");
        assert_eq!(Units::Metric.part(0.12), "120 g");
    }
}
