//! Spans of a robot whose knobs are being turned, followed and scanned.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{About, KnobSpans, Known, Rest, follow_spans, knob_spans, span_knobs};
use kickstill_robot::{Kind, Knob, Robot, Scale, View, demo, demos, knob};

/// Place along a knob's track, 0 to 1.
fn share(knob: &Knob, value: f64) -> f64 {
    match knob.scale {
        Scale::Linear => (value - knob.min) / (knob.max - knob.min),
        Scale::Logarithmic => libm::log(value / knob.min) / libm::log(knob.max / knob.min),
    }
}

/// Whether two tracks have the same pieces, edges within a hundredth of the track.
fn alike(a: &KnobSpans, b: &KnobSpans) -> bool {
    // A piece that is narrower than can be seen does not count.
    let seen = |s: &KnobSpans| {
        let wide =
            |p: &&kickstill_analysis::Piece| share(s.knob, p.to) - share(s.knob, p.from) > 0.01;
        let mut pieces: Vec<(f64, kickstill_analysis::State)> = Vec::new();
        for p in s.pieces.iter().filter(wide) {
            match pieces.last_mut() {
                Some(last) if last.1 == p.state => last.0 = share(s.knob, p.to),
                _ => pieces.push((share(s.knob, p.to), p.state)),
            }
        }
        pieces
    };
    let (a, b) = (seen(a), seen(b));
    let last = a.len().saturating_sub(1);
    a.len() == b.len()
        && a.iter()
            .zip(&b)
            .enumerate()
            .all(|(i, (x, y))| x.1 == y.1 && (i == last || (x.0 - y.0).abs() < 0.01))
}

/// A plain congruential generator: the next number from 0 to 1.
fn draw(seed: &mut u64) -> f64 {
    *seed = seed
        .wrapping_mul(6_364_136_223_846_793_005)
        .wrapping_add(1_442_695_040_888_963_407);
    (*seed >> 11) as f64 / (1_u64 << 53) as f64
}

/// Robots' knobs turned at random by up to 3 % and a step: followed tracks are those of a full scan but for at most one
/// in fifty, which the next full scan mends (what is printed says how many).
#[test]
fn following_gives_the_spans_of_a_full_scan() {
    let about = About::default();
    let (mut compared, mut missed, mut again) = (0_u32, 0_u32, 0_u32);
    let mut seed = 2024;
    for d in demos() {
        for view in [View::Side, View::Front] {
            let knobs = span_knobs(view, Rest::Free);
            let mut robot = demo(d.key).unwrap();
            let mut before = follow_spans(&robot, view, &about, &knobs, &[]);
            assert!(before.iter().all(|s| s.known == Known::Scanned));
            for step in 0..24 {
                let turned = knobs[(draw(&mut seed) * knobs.len() as f64) as usize];
                let value = (turned.get)(&robot);
                let by = (0.06 * (draw(&mut seed) - 0.5) * value)
                    + turned.step * (draw(&mut seed) - 0.5).signum();
                let wanted = if turned.kind == Kind::Number {
                    value + by
                } else {
                    value
                };
                turned
                    .set(&mut robot, wanted.max(turned.min).min(turned.max))
                    .unwrap();
                before = follow_spans(&robot, view, &about, &knobs, &before);
                again += before.iter().filter(|s| s.known == Known::Scanned).count() as u32;
                // A full scan now and then is enough to compare with.
                if step % 6 != 5 {
                    continue;
                }
                for s in &before {
                    compared += 1;
                    let whole = knob_spans(&robot, view, &about, s.knob);
                    if !alike(s, &whole) {
                        missed += 1;
                        println!(
                            "{} {view:?} {} {:?}: {:?} for {:?}",
                            d.key, s.knob.key, s.known, s.pieces, whole.pieces
                        );
                    }
                }
            }
        }
    }
    println!("{missed} of {compared} tracks differ; {again} looked at again");
    assert!(
        compared > 400 && missed * 50 < compared,
        "{missed} of {compared}"
    );
}

/// Nothing is looked at again where only the knob itself was turned; and what is no track is not believed.
#[test]
fn a_knobs_own_value_does_not_move_its_edges() {
    let about = About::default();
    let mut robot = demo("hayrick").unwrap();
    let damping = knob("travel.damping").unwrap();
    let before = follow_spans(&robot, View::Side, &about, &[damping], &[]);
    robot.travel.damping *= 1.5;
    let after = follow_spans(&robot, View::Side, &about, &[damping], &before);
    assert_eq!(after[0].known, Known::Same);
    assert_eq!(after[0].pieces, before[0].pieces);
    assert_eq!(after[0].value, robot.travel.damping);
    let mut broken = before[0].clone();
    broken.pieces[0].to = f64::MAX;
    broken.stamp = 0.0;
    let mended = follow_spans(&robot, View::Side, &about, &[damping], &[broken]);
    assert_eq!(mended[0].known, Known::Scanned);
    assert_eq!(mended[0].pieces, before[0].pieces);
}

/// Tracks are whole whatever the question: software off, locked, rolling.
#[test]
fn every_question_has_whole_tracks() {
    for d in demos() {
        let robot: Robot = demo(d.key).unwrap();
        for rest in [Rest::Free, Rest::Locked, Rest::Coasting, Rest::Braked] {
            for speed in [0.0, 0.4] {
                let about = About {
                    rest,
                    speed,
                    ..About::default()
                };
                for s in follow_spans(
                    &robot,
                    View::Side,
                    &about,
                    &span_knobs(View::Side, rest),
                    &[],
                ) {
                    assert_eq!(s.pieces[0].from, s.knob.min, "{}", s.knob.key);
                    assert_eq!(s.pieces.last().unwrap().to, s.knob.max);
                    assert_eq!(s.edges.len() + 1, s.pieces.len());
                    assert!(
                        s.edges
                            .iter()
                            .all(|e| e.value.is_finite() && e.slope.is_finite())
                    );
                    assert!(
                        s.pieces
                            .windows(2)
                            .all(|p| p[0].to == p[1].from && p[0].state != p[1].state)
                    );
                }
            }
        }
    }
}
