#![allow(clippy::expect_used)] // Clippy knows a test by `#[test]` only.
//! Suggestions through the crate's public face, with budgets small enough for every day; the large
//! comparison is the example `against_random`.

use kickstill_robot::{demo, knob, read_robot};
use kickstill_suggest::{
    Ask, Draw, LimitKey, Loop, NoSearch, Stage, best_of_random, judge_unused, margins, suggest,
};

fn front(budget: u32) -> Ask {
    Ask {
        loops: vec![Loop::Lean, Loop::Carriage],
        budget,
        ..Ask::default()
    }
}

#[test]
fn it_is_better_on_what_it_never_saw_and_no_margin_is_lower() {
    let robot = demo("thimble").expect("a demo");
    let ask = front(40);
    let answer = suggest(&robot, &ask, |_| true).expect("there is something to search");
    assert!(answer.better && !answer.stopped, "{:?}", answer.explained);
    let score = |key: &str| {
        let row = answer.compared.iter().find(|c| c.key == key);
        row.map(|c| c.score).expect("judged")
    };
    let own = score("suggested");
    assert!(own.limits_kept() && own.cost < 0.95, "{own:?}");
    assert_eq!(score("as_it_stood").cost, 1.0);
    for c in answer.compared.iter().filter(|c| c.key != "suggested") {
        assert!(own.better_than(&c.score), "{} {:?}", c.key, c.score);
    }
    for view in ask.views() {
        for (before, after) in margins(&robot, view)
            .iter()
            .zip(margins(&answer.robot, view))
        {
            assert!(after.modulus >= before.modulus * (1.0 - 1e-9), "{after:?}");
            assert!(after.delay >= before.delay * (1.0 - 1e-9), "{after:?}");
        }
    }
    assert!(answer.rows.iter().all(|r| r.kept));

    // Chance with as many draws, by the same objective, judged alike.
    let random = best_of_random(&robot, &ask, 60, Draw::Value, 7).expect("the same");
    let judged = judge_unused(&robot, &ask, &[random, answer.robot.clone()]).expect("the same");
    assert!(judged[1].better_than(&judged[0]), "{judged:?}");
    // Judged apart, the suggestion has the score it was given.
    assert_eq!(judged[1], own);

    // The file holds just what was judged, on the knobs' steps, and nothing else changed.
    let (read, _) = read_robot(&answer.file).expect("a robot file");
    assert_eq!(read, answer.robot);
    let mut back = read.clone();
    for c in &answer.changes {
        let knob = knob(c.key).expect("a knob");
        assert!(c.key.starts_with("lean.") || c.key.starts_with("carriage_loop."));
        assert_eq!((knob.get)(&read), c.to);
        let steps = c.to / knob.step;
        assert!((steps - steps.round()).abs() < 1e-6, "{} {}", c.key, c.to);
        (knob.put)(&mut back, c.from);
    }
    assert_eq!(back, robot);
}

#[test]
fn the_same_question_has_the_same_answer_and_another_seed_another() {
    let robot = demo("cobnut").expect("a demo");
    let ask = front(12);
    let one = suggest(&robot, &ask, |_| true);
    assert_eq!(one, suggest(&robot, &ask, |_| true));
    let other = Ask { seed: 2, ..ask };
    assert_ne!(one, suggest(&robot, &other, |_| true));
}

#[test]
fn it_stops_when_told_and_judges_what_it_has() {
    let robot = demo("hayrick").expect("a demo");
    let (mut news, mut stages) = (0, Vec::new());
    let answer = suggest(&robot, &front(200), |n| {
        news += u32::from(n.stage == Stage::Search);
        if stages.last() != Some(&n.stage) {
            stages.push(n.stage);
        }
        assert!(n.done <= n.of);
        news < 3
    })
    .expect("there is something to search");
    assert!(answer.stopped);
    assert_eq!(news, 3);
    assert_eq!(stages, [Stage::Linear, Stage::Search, Stage::Unused]);
    assert!(answer.compared.len() >= 3 && !answer.explained.is_empty());
}

#[test]
fn limits_asked_for_hold_and_what_cannot_be_is_said() {
    let robot = demo("thimble").expect("a demo");
    // Nobody settles that fast.
    let ask = Ask {
        limits: vec![(LimitKey::Settling, 0.05), (LimitKey::Margin, 0.1)],
        ..front(8)
    };
    let answer = suggest(&robot, &ask, |_| true).expect("there is something to search");
    let row = |of| answer.rows.iter().find(|r| r.of == of).expect("a row");
    let settling = row(LimitKey::Settling);
    assert!(settling.asked && settling.limit == 0.05 && !settling.kept);
    assert_eq!(row(LimitKey::Margin).limit, 0.1);
    assert!(!row(LimitKey::Dip).asked);
    assert!(
        answer
            .explained
            .iter()
            .any(|s| s.starts_with("Not kept: longest settling time"))
    );
}

/// Two knobs have few settings once rounded to their steps: it once went on for ever when all drawn were known.
#[test]
fn a_search_of_two_knobs_comes_to_its_end() {
    let robot = demo("cobnut").expect("a demo");
    let ask = Ask {
        loops: vec![Loop::Carriage],
        budget: 30,
        ..Ask::default()
    };
    let answer = suggest(&robot, &ask, |_| true).expect("there is something to search");
    assert!(!answer.stopped && answer.evaluations > 0);
}

#[test]
fn nothing_to_search_is_told() {
    let robot = demo("cobnut").expect("a demo");
    let none = Ask {
        loops: Vec::new(),
        ..Ask::default()
    };
    assert_eq!(suggest(&robot, &none, |_| true), Err(NoSearch::NoLoop));
    let kept = ["carriage_loop.correction", "carriage_loop.damping"];
    let kept = Ask {
        loops: vec![Loop::Carriage],
        keep: kept.map(str::to_owned).to_vec(),
        ..Ask::default()
    };
    assert_eq!(suggest(&robot, &kept, |_| true), Err(NoSearch::AllKept));
}

/// The same answer in WebAssembly is a boundary test's affair, which reads the same file.
#[test]
fn the_answer_is_the_committed_one() {
    let robot = demo("thimble").expect("a demo");
    let answer = suggest(&robot, &front(12), |_| true).expect("there is something to search");
    let mut text = String::new();
    for c in &answer.changes {
        text += &format!("{} {:?}\n", c.key, c.to);
    }
    for c in &answer.compared {
        text += &format!("{} {:?}\n", c.key, c.score.number());
    }
    text += &format!("runs {}\n", answer.simulated);
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/answer.txt");
    if std::env::var_os("KICKSTILL_BLESS").is_some() {
        std::fs::write(path, &text).expect("written");
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default();
    assert_eq!(
        text, committed,
        "if meant: KICKSTILL_BLESS=1 cargo test -p kickstill-suggest"
    );
}
