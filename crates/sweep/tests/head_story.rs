//! The story of grams on the head against budgets, margins and poles.
#![allow(clippy::unwrap_used)]

use kickstill_analysis::{About, Break, Loop, Model};
use kickstill_rig::budget::{Question, Sought, ask};
use kickstill_rig::{Level, Setting, Trial, run_trial};
use kickstill_robot::{Robot, View, demo, demos};
use kickstill_sweep::head_story::{HeadStory, StoryOrder, head_story, least_margin};

fn story(robot: &Robot, order: &StoryOrder) -> HeadStory {
    head_story(robot, robot, order, |_, _| true).unwrap()
}

/// The search of budgets is another program: where it finds a sharp edge, the story passes the limit
/// there, to the two brackets' widths and 1 % of the head.
#[test]
fn limits_are_passed_where_budgets_say() {
    let mut checked = 0;
    for one in demos() {
        let robot = demo(one.key).unwrap();
        let settling = 2.0;
        let order = StoryOrder {
            settling,
            ..StoryOrder::default()
        };
        let told = story(&robot, &order);
        let Some(passed) = told.settling.filter(|p| p.holds.is_some()) else {
            continue;
        };
        // The longer of both views is the one that decides.
        let answers = [View::Side, View::Front].map(|view| {
            let question = Question {
                setting: Setting::new(Trial::Kick, view, Level::Steadied, &robot),
                dip: None,
                settling: Some(settling),
                ..Question::new(Sought::HeadMass, view, &robot)
            };
            ask(&robot, &question, |_, _| true).unwrap()
        });
        let least = answers
            .iter()
            .filter_map(|a| Some((a.best.as_ref()?.value, a)))
            .reduce(|a, b| if b.0 < a.0 { b } else { a })
            .unwrap();
        let found = robot.head.mass + passed.at();
        println!(
            "{} settling {settling}: story {found:.4} kg, budget {:.4} kg, sharp {}",
            one.key,
            least.0,
            least.1.sharp()
        );
        if least.1.sharp() {
            let width =
                passed.breaks - passed.holds.unwrap() + least.1.tolerance().unwrap() * least.0;
            assert!(
                (found - least.0).abs() <= width + 0.01 * least.0,
                "{} {settling}",
                one.key
            );
            checked += 1;
        }
    }
    assert!(checked >= 2, "{checked}");
}

/// Both sides of what is said to fail, by plain trials.
#[test]
fn it_fails_where_it_is_said_to() {
    for one in demos() {
        let robot = demo(one.key).unwrap();
        let Some(fails) = story(&robot, &StoryOrder::default()).fails else {
            continue;
        };
        let survives = |added: f64| {
            let mut heavier = robot.clone();
            heavier.head.mass += added;
            heavier.parts.clear();
            [
                (Trial::Stop, View::Side),
                (Trial::Kick, View::Side),
                (Trial::Kick, View::Front),
            ]
            .into_iter()
            .all(|(trial, view)| {
                let setting = Setting {
                    impulse: Setting::new(trial, view, Level::Steadied, &robot).impulse,
                    ..Setting::new(trial, view, Level::Steadied, &heavier)
                };
                kickstill_rig::budget::survives(&run_trial(&heavier, &setting))
            })
        };
        assert!(survives(fails.holds.unwrap()), "{}", one.key);
        assert!(!survives(fails.breaks), "{}", one.key);
    }
}

/// The margin falls to nothing where the spectral radius of either plane reaches 1, found here by
/// halving on poles instead of margins.
#[test]
fn the_margin_ends_where_the_poles_leave_the_circle() {
    let mut checked = 0;
    for one in demos() {
        let robot = demo(one.key).unwrap();
        let told = story(&robot, &StoryOrder::default());
        let Some(edge) = told.edge.filter(|e| e.holds.is_some()) else {
            continue;
        };
        let stable = |added: f64| {
            let mut heavier = robot.clone();
            heavier.head.mass += added;
            [View::Side, View::Front].into_iter().all(|view| {
                let model = Model::new(&heavier, view, &About::default()).unwrap();
                model.spectral_radius().unwrap() < 1.0
            })
        };
        let (mut low, mut high) = (0.0, told.points.last().unwrap().added);
        assert!(stable(low) && !stable(high));
        for _ in 0..30 {
            let middle = 0.5 * (low + high);
            if stable(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        println!(
            "{}: margin gone at {:.4} kg, poles at {low:.4} kg",
            one.key,
            edge.at()
        );
        let width = edge.breaks - edge.holds.unwrap();
        assert!(
            (edge.at() - low).abs() <= width + 1e-3 * robot.head.mass,
            "{}",
            one.key
        );
        checked += 1;
    }
    assert!(checked >= 1);
}

/// The least over a scan of frequencies of |1 + L| by `Loop::at` alone.
#[test]
fn the_margin_is_the_least_distance_of_any_loop() {
    for one in demos() {
        let robot = demo(one.key).unwrap();
        let (margin, (view, at)) = least_margin(&robot).unwrap();
        let scanned = |view: View, at: Break| {
            let open = Loop::new(&robot, view, &About::default(), at).ok()?;
            let most = 0.5 / open.step()?;
            let steps = 40_000;
            (1..steps)
                .map(|i| open.at(most * f64::from(i) / f64::from(steps)))
                .map(|[re, im]| ((1.0 + re) * (1.0 + re) + im * im).sqrt())
                .reduce(f64::min)
        };
        let of_it = scanned(view, at).unwrap();
        println!(
            "{}: {margin:.4} at {at:?} {view:?}, scan {of_it:.4}",
            one.key
        );
        assert!(
            (margin - of_it).abs() < 2e-3 * margin,
            "{}: {margin} {of_it}",
            one.key
        );
        for view in [View::Side, View::Front] {
            for at in [
                Break::Duty,
                Break::CarriageTarget,
                Break::HeadTarget,
                Break::DeadBand,
            ] {
                if let Some(other) = scanned(view, at) {
                    assert!(other >= margin * 0.998, "{} {view:?} {at:?}", one.key);
                }
            }
        }
    }
}

#[test]
fn the_robot_as_it_stands_is_one_of_the_points() {
    for one in demos() {
        let robot = demo(one.key).unwrap();
        let told = story(&robot, &StoryOrder::default());
        assert_eq!(told.points[told.now].added, 0.0);
        let stop = run_trial(
            &robot,
            &Setting::new(Trial::Stop, View::Side, Level::Steadied, &robot),
        );
        assert_eq!(told.points[told.now].dip, stop.value("head_dip"));
        assert!(
            told.points.len() >= 15 && told.points.len() <= 34,
            "{}",
            told.points.len()
        );
        let grams = (told.points[1].added - told.points[0].added) * 1e3;
        assert!(
            (grams - (grams * 10.0).round() / 10.0).abs() < 1e-6,
            "{grams}"
        );
    }
    // Given up.
    let robot = demo("thimble").unwrap();
    assert!(head_story(&robot, &robot, &StoryOrder::default(), |done, _| done < 9).is_none());
}

/// A head that fails as it stands: the picture looks for the mass that would hold.
#[test]
fn a_robot_that_fails_is_told_what_it_would_bear() {
    let mut robot = demo("cobnut").unwrap();
    robot.head.mass += 3.0;
    let told = story(&robot, &StoryOrder::default());
    assert!(!told.points[told.now].survives);
    let fails = told.fails.unwrap();
    assert!(fails.holds.unwrap() < 0.0, "{fails:?}");
}
