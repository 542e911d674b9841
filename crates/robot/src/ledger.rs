//! The parts ledger: what was added to the robot or is planned, and what that does to its bodies.
//!
//! A part counts as a point at its height on the body's own line of centres; its own inertia and
//! how far it lies off that line are left out. Point and body together then have, by the
//! parallel-axis theorem (Huygens–Steiner; any mechanics textbook, for instance Meriam & Kraige,
//! *Engineering Mechanics: Dynamics*, app. B), for body mass m and part mass μ at the distance d
//! from each other:
//!
//! centre: (m·h + μ·h_p)/(m + μ); inertia: I + (m·μ/(m + μ))·d².
//!
//! The shell is the exception: its centre of mass stays in its middle, because the model's shell
//! is balanced, and a part adds μ·h_p², as a point at the radius |h_p| that turns about a level
//! axis, or a ring of that radius on the rolling line. Spread evenly over a sphere of that radius
//! it would add two thirds of it. A heavy part on one side of the shell makes it run unevenly,
//! which the model does not show.

use crate::catalogue::Knob;
use crate::file::{MOST_COORDINATE, MOST_NAME, MOST_PART_MASS, MOST_PARTS};
use crate::model::{Body, Part, Robot};
use crate::problem::{Problem, Severity};
use crate::unit::Unit;
use crate::validate::checks;
use kickstill_number::Shortest;

/// What a refused change of the parts leaves.
const UNCHANGED: &str = "nothing changed";

impl Robot {
    /// Adds `part` to the list and, if it is fitted, its mass to its body. Returns its place in
    /// the list.
    ///
    /// # Errors
    /// Everything that is wrong with the part, or with the robot that it would make; the robot
    /// then stays as it was.
    pub fn put_part(&mut self, part: Part) -> Result<usize, Vec<Problem>> {
        let index = self.parts.len();
        let mut problems = sound(&part, &format!("parts[{index}]"));
        if index >= MOST_PARTS {
            problems.push(
                Problem::error("parts", format!("at most {MOST_PARTS} parts"))
                    .found(format!("{}", index + 1))
                    .hint("put small parts together as one")
                    .kept(UNCHANGED),
            );
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut next = self.clone();
        if part.on {
            next.load(&part, part.mass);
        }
        next.parts.push(part);
        self.become_sound(next, index)?;
        Ok(index)
    }

    /// Fits the part at `index` or takes it off, keeping it in the list. One that already is so
    /// stays so.
    ///
    /// # Errors
    /// No such part, or what would be wrong with the robot; it then stays as it was.
    pub fn switch_part(&mut self, index: usize, on: bool) -> Result<(), Vec<Problem>> {
        let part = self.part_at(index)?;
        if part.on == on {
            return Ok(());
        }
        let mass = if on { part.mass } else { -part.mass };
        let mut next = self.clone();
        next.load(&part, mass);
        if let Some(entry) = next.parts.get_mut(index) {
            entry.on = on;
        }
        self.become_sound(next, index)
    }

    /// Strikes the part at `index` off the list, and its mass off its body if it was fitted.
    /// Returns the part.
    ///
    /// # Errors
    /// No such part, or what would be wrong with the robot; it then stays as it was.
    pub fn remove_part(&mut self, index: usize) -> Result<Part, Vec<Problem>> {
        let part = self.part_at(index)?;
        let mut next = self.clone();
        if part.on {
            next.load(&part, -part.mass);
        }
        next.parts.remove(index);
        self.become_sound(next, index)?;
        Ok(part)
    }

    fn part_at(&self, index: usize) -> Result<Part, Vec<Problem>> {
        self.parts.get(index).cloned().ok_or_else(|| {
            vec![
                Problem::error(
                    format!("parts[{index}]"),
                    format!("one of the {} parts of the list", self.parts.len()),
                )
                .kept(UNCHANGED),
            ]
        })
    }

    /// Adds `change` [kg] (negative: takes it off) at the part's height to its body, unchecked.
    fn load(&mut self, part: &Part, change: f64) {
        match part.body {
            Body::Shell => {
                self.shell.mass += change;
                self.shell.inertia += change * part.height * part.height;
            }
            Body::Carriage => {
                let c = &mut self.carriage;
                let mut height = -c.below_centre;
                let more = join(&mut c.mass, &mut height, change, part.height);
                c.below_centre = -height;
                c.inertia_side += more;
                c.inertia_front += more;
            }
            Body::Head => {
                let h = &mut self.head;
                let more = join(&mut h.mass, &mut h.above_centre, change, part.height);
                h.inertia_side += more;
                h.inertia_front += more;
            }
        }
    }

    /// Becomes `next`, unless the change at the part `index` made something wrong that was not
    /// wrong before.
    fn become_sound(&mut self, next: Self, index: usize) -> Result<(), Vec<Problem>> {
        let mut problems: Vec<Problem> = crate::catalogue()
            .iter()
            .filter_map(|k| {
                let (old, new) = ((k.get)(self), (k.get)(&next));
                if new == old {
                    return None;
                }
                k.admits(new).err().map(|_| too_far(k, new, index))
            })
            .collect();
        if problems.is_empty() {
            // Errors that stood before are not this part's doing.
            let before: Vec<String> = errors(self).into_iter().map(|p| p.path).collect();
            problems.extend(
                errors(&next)
                    .into_iter()
                    .filter(|p| !before.contains(&p.path))
                    .map(|p| p.kept(UNCHANGED)),
            );
        }
        if problems.is_empty() {
            *self = next;
            Ok(())
        } else {
            Err(problems)
        }
    }
}

fn errors(robot: &Robot) -> Vec<Problem> {
    checks(robot)
        .into_iter()
        .map(|c| c.problem)
        .filter(|p| p.severity == Severity::Error)
        .collect()
}

/// Joins a point of mass `change` at `place` to a body, and gives what its inertia about its own
/// centre grows by. A negative change takes away, from the body with the point in it.
fn join(mass: &mut f64, height: &mut f64, change: f64, place: f64) -> f64 {
    let whole = *mass + change;
    let apart = place - *height;
    // With the point in it the body's centre is nearer to the point than the rest's centre is, by
    // just the ratio of the masses: m·μ/(m + μ)·d² with μ and d's sign turned is the way back.
    let more = *mass * change / whole * apart * apart;
    *height = (*mass * *height + change * place) / whole;
    *mass = whole;
    more
}

fn too_far(knob: &Knob, value: f64, index: usize) -> Problem {
    let hint = if value.is_finite() && value > 0.0 {
        "the body would leave the knob's range"
    } else {
        "there is no such body: was the part ever part of it, and at that height?"
    };
    Problem::error(knob.key, knob.expectation())
        .found(format!("{} by parts[{index}]", knob.unit.format(value)))
        .hint(hint)
        .kept(UNCHANGED)
}

/// What is wrong with a part by itself.
fn sound(part: &Part, path: &str) -> Vec<Problem> {
    let mut out = Vec::new();
    let count = part.name.chars().count();
    if !(1..=MOST_NAME).contains(&count) || part.name.chars().any(char::is_control) {
        out.push(
            Problem::error(
                format!("{path}.name"),
                format!("a text of 1 to {MOST_NAME} characters on one line"),
            )
            .found(&part.name),
        );
    }
    if !(0.0..=MOST_PART_MASS).contains(&part.mass) {
        out.push(
            Problem::error(
                format!("{path}.mass"),
                format!("a mass from 0 to {} kg", Shortest(MOST_PART_MASS)),
            )
            .found(Unit::Kilogram.format(part.mass)),
        );
    }
    if !(-MOST_COORDINATE..=MOST_COORDINATE).contains(&part.height) {
        out.push(
            Problem::error(
                format!("{path}.height"),
                format!(
                    "a height above the shell's centre from -{0} to {0} m",
                    Shortest(MOST_COORDINATE)
                ),
            )
            .found(Unit::Metre.format(part.height)),
        );
    }
    out.into_iter().map(|p| p.kept(UNCHANGED)).collect()
}

/// The knobs that parts of a body change.
#[must_use]
pub fn knobs_of_parts(body: Body) -> &'static [&'static str] {
    match body {
        Body::Shell => &["shell.mass", "shell.inertia"],
        Body::Carriage => &[
            "carriage.mass",
            "carriage.below_centre",
            "carriage.inertia_side",
            "carriage.inertia_front",
        ],
        Body::Head => &[
            "head.mass",
            "head.above_centre",
            "head.inertia_side",
            "head.inertia_front",
        ],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::makers::parts::{Piece, assemble};
    use crate::{Mark, demo, demos, knob, validate};
    use proptest::prelude::*;

    fn part(body: Body, mass: f64, height: f64) -> Part {
        Part {
            name: "added".to_owned(),
            body,
            mass,
            height,
            on: true,
            mark: Some(Mark::Measured),
        }
    }

    /// Against [`assemble`], which sums over pieces about their common centre.
    #[test]
    fn a_part_on_the_carriage_is_a_piece_more() {
        let mut r = demo("cobnut").unwrap();
        let c = &r.carriage;
        let piece = |mass, height, inertia| Piece {
            mass,
            across: 0.0,
            height,
            inertia,
        };
        let whole = assemble(&[
            piece(c.mass, -c.below_centre, c.inertia_side),
            piece(2.0, -0.18, 0.0),
        ])
        .unwrap();
        assert_eq!(r.put_part(part(Body::Carriage, 2.0, -0.18)), Ok(11));
        assert!((r.carriage.mass - whole.mass).abs() < 1e-14);
        assert!((r.carriage.below_centre + whole.height).abs() < 1e-15);
        assert!((r.carriage.inertia_side - whole.inertia).abs() < 1e-15);
        assert!((r.carriage.inertia_front - whole.inertia).abs() < 1e-15);
        // The list still makes up the body.
        assert!(validate(&r).is_empty(), "{:?}", validate(&r));
    }

    #[test]
    fn planned_parts_weigh_nothing_until_fitted() {
        let start = demo("cobnut").unwrap();
        let mut r = start.clone();
        let mut planned = part(Body::Head, 0.1, 0.31);
        planned.on = false;
        let index = r.put_part(planned).unwrap();
        assert_eq!(r.head, start.head);
        r.switch_part(index, true).unwrap();
        assert!((r.head.mass - 1.0).abs() < 1e-15);
        let fitted = r.clone();
        r.switch_part(index, true).unwrap();
        assert_eq!(r, fitted);
        assert_eq!(r.remove_part(index).unwrap().mass, 0.1);
        assert_eq!(r.parts, start.parts);
        // A point at the rim of the shell: m·R² more, and the centre stays.
        r.put_part(part(Body::Shell, 0.5, 0.24)).unwrap();
        assert!((r.shell.inertia - start.shell.inertia - 0.5 * 0.0576).abs() < 1e-15);
    }

    #[test]
    fn what_cannot_be_is_refused_and_changes_nothing() {
        let start = demo("cobnut").unwrap();
        let mut r = start.clone();
        let tried = |r: &mut Robot, result: Result<(), Vec<Problem>>, word: &str| {
            let all: String = result
                .unwrap_err()
                .iter()
                .map(|p| format!("{p}\n"))
                .collect();
            assert!(
                all.contains(word) && all.contains("nothing changed"),
                "{all}"
            );
            assert_eq!(*r, start);
        };
        for (p, word) in [
            (
                part(Body::Carriage, -1.0, 0.0),
                "parts[11].mass is −1.00 kg",
            ),
            (part(Body::Carriage, f64::NAN, 0.0), "parts[11].mass"),
            (
                part(Body::Carriage, 1.0, 9.0),
                "parts[11].height is 9000 mm",
            ),
            (part(Body::Carriage, 299.0, -0.1), "carriage.mass is 310 kg"),
            (
                part(Body::Carriage, 12.0, 0.2),
                "carriage.below_centre is −",
            ),
            (
                part(Body::Carriage, 30.0, -0.5),
                "less than the shell's radius",
            ),
            (part(Body::Head, 0.5, f64::INFINITY), "parts[11].height"),
        ] {
            let result = r.put_part(p).map(|_| ());
            tried(&mut r, result, word);
        }
        let mut nameless = part(Body::Head, 0.1, 0.3);
        nameless.name = "two\nlines".to_owned();
        let result = r.put_part(nameless).map(|_| ());
        tried(&mut r, result, "parts[11].name");
        let result = r.switch_part(11, false);
        tried(&mut r, result, "one of the 11 parts");
        let result = r.remove_part(99).map(|_| ());
        tried(&mut r, result, "one of the 11 parts");

        // A part that the body's numbers never held: mass and inertia would turn negative.
        let mut odd = start.clone();
        odd.parts[3].mass = 20.0;
        let before = odd.clone();
        let e = odd.switch_part(3, false).unwrap_err();
        assert!(
            e[0].to_string().contains("there is no such body"),
            "{}",
            e[0]
        );
        assert_eq!(odd, before);
        odd.parts[3].mass = 5.0;
        odd.parts[3].height = -0.9;
        let before = odd.clone();
        assert!(odd.remove_part(3).is_err());
        assert_eq!(odd, before);
    }

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() <= 1e-12 * b.abs().max(a.abs())
    }

    proptest! {
        /// Up to three times the body's mass, anywhere from one radius below the centre to one
        /// and a half above; beyond that the digits that a large part takes with it grow.
        #[test]
        fn on_and_off_gives_the_body_back(which in 0_usize..3, body in 0_usize..3, share in 0.0..3.0_f64, place in -1.0..1.5_f64) {
            let start = demo(demos()[which].key).unwrap();
            let body = [Body::Shell, Body::Carriage, Body::Head][body];
            let mass = share * match body {
                Body::Shell => start.shell.mass,
                Body::Carriage => start.carriage.mass,
                Body::Head => start.head.mass,
            };
            let mut r = start.clone();
            let Ok(index) = r.put_part(part(body, mass, place * start.shell.outer_radius)) else {
                prop_assert_eq!(r, start);
                return Ok(());
            };
            let fitted = r.clone();
            prop_assert!(r.switch_part(index, false).is_ok());
            for key in knobs_of_parts(body) {
                let k = knob(key).unwrap();
                prop_assert!(near((k.get)(&r), (k.get)(&start)), "{key}: {:e} {:e}", (k.get)(&r), (k.get)(&start));
            }
            prop_assert!(r.switch_part(index, true).is_ok());
            for key in knobs_of_parts(body) {
                let k = knob(key).unwrap();
                prop_assert!(near((k.get)(&r), (k.get)(&fitted)), "{key}");
            }
            prop_assert!(r.remove_part(index).is_ok());
            prop_assert_eq!(&r.parts, &start.parts);
            // Nothing but the body has changed.
            for k in crate::catalogue() {
                if !knobs_of_parts(body).contains(&k.key) {
                    prop_assert_eq!((k.get)(&fitted), (k.get)(&start), "{}", k.key);
                }
            }
        }
    }
}
