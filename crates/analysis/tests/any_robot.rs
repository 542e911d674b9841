//! Whatever the knobs say, the answers are finite or refused, and agree among themselves.
#![allow(clippy::unwrap_used, clippy::panic)]

use kickstill_analysis::{
    About, Break, GearLoss, Loop, Model, Rest, band_oscillations, stable_spans,
};
use kickstill_robot::{Kind, Knob, Robot, View, catalogue, demo, knob};

/// A robot with one knob at each end of its track in turn.
fn at_the_ends() -> impl Iterator<Item = (&'static Knob, Robot)> {
    let plain = demo("cobnut").unwrap();
    catalogue().iter().flat_map(move |knob| {
        let plain = plain.clone();
        [knob.min, knob.max].into_iter().map(move |value| {
            let mut robot = plain.clone();
            (knob.put)(&mut robot, value);
            (knob, robot)
        })
    })
}

#[test]
fn finite_or_refused_at_the_ends_of_every_track() {
    let mut seen = 0;
    for (knob, robot) in at_the_ends() {
        for view in [View::Side, View::Front] {
            for rest in [Rest::Free, Rest::Coasting, Rest::Braked] {
                let about = About {
                    rest,
                    gears: GearLoss::Driving,
                    ..About::default()
                };
                let Ok(model) = Model::new(&robot, view, &about) else {
                    continue;
                };
                let poles = model.poles().unwrap();
                assert!(!poles.is_empty(), "{}", knob.key);
                for pole in poles {
                    assert!(
                        pole.growth.is_finite() && pole.damping_ratio.is_finite(),
                        "{} {pole:?}",
                        knob.key
                    );
                    assert_eq!(
                        pole.is_stable(),
                        pole.z[0] * pole.z[0] + pole.z[1] * pole.z[1] < 1.0
                    );
                }
                seen += 1;
            }
            if let Ok(open) = Loop::new(&robot, view, &About::default(), Break::Duty) {
                let margins = open.margins();
                assert!(margins.modulus.0.is_finite(), "{}", knob.key);
                for (value, hertz) in [
                    margins.gain_up,
                    margins.gain_down,
                    margins.phase,
                    margins.delay,
                ]
                .into_iter()
                .flatten()
                {
                    assert!(value.is_finite() && hertz > 0.0, "{} {margins:?}", knob.key);
                }
            }
            for oscillation in
                band_oscillations(&robot, view, &About::default()).unwrap_or_default()
            {
                assert!(oscillation.amplitude.is_finite() && oscillation.frequency > 0.0);
            }
        }
    }
    assert!(seen > 800, "{seen}");
}

/// At a gain margin the loop with that gain has a pole on its edge: margins, poles and knob agree.
#[test]
fn gain_margin_of_the_band_is_the_edge_of_its_gain() {
    for key in ["cobnut", "hayrick"] {
        let robot = demo(key).unwrap();
        let open = Loop::new(&robot, View::Side, &About::default(), Break::DeadBand).unwrap();
        let margins = open.margins();
        let knob = knob("travel.correction").unwrap();
        let spans = stable_spans(&robot, View::Side, &About::default(), knob).unwrap();
        for (factor, _) in [margins.gain_up, margins.gain_down].into_iter().flatten() {
            let value = factor * robot.travel.correction;
            let apart = spans
                .iter()
                .map(|s| (s.to - value).abs().min((s.from - value).abs()))
                .fold(f64::INFINITY, f64::min);
            assert!(apart < 1e-9 || value > knob.max, "{key} {value} {spans:?}");
        }
    }
}

/// Every span of every number's track is told, side by side, from end to end.
#[test]
fn spans_cover_every_track() {
    let robot = demo("thimble").unwrap();
    for knob in catalogue()
        .iter()
        .filter(|k| matches!(k.kind, Kind::Number | Kind::Whole))
    {
        for view in [View::Side, View::Front] {
            let spans = stable_spans(&robot, view, &About::default(), knob).unwrap();
            assert_eq!(spans[0].from, knob.min, "{}", knob.key);
            assert_eq!(spans[spans.len() - 1].to, knob.max, "{}", knob.key);
            for pair in spans.windows(2) {
                assert_eq!(pair[0].to, pair[1].from, "{}", knob.key);
                assert!(pair[0].from < pair[0].to && pair[0].stable != pair[1].stable);
            }
        }
    }
}
