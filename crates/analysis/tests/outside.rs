//! Outside values: published examples and closed forms through the public API, and the loops of the
//! demo robots by python-control and SciPy.
#![allow(clippy::unwrap_used, clippy::panic)]
// Tables as they were printed.
#![allow(clippy::approx_constant)]

use kickstill_analysis::{
    About, Break, Doubt, Element, Loop, Model, Rule, Ultimate, backlash, oscillations,
};
use kickstill_number::Within;
use kickstill_robot::{View, demo};
use serde_json::Value;

const DEG: f64 = core::f64::consts::PI / 180.0;
const TAU: f64 = 2.0 * core::f64::consts::PI;

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} for {wanted}");
}

/// .01(20s + 1)/s²: crossover .2058 rad/s, phase margin 76.3° (Åström & Murray, *Feedback Systems*,
/// attitude control example; computed).
#[test]
fn margins_of_a_spacecraft() {
    let open = Loop::rational(&[0.2, 0.01], &[1.0, 0.0, 0.0], 0.0);
    let margins = open.margins();
    let (phase, hertz) = margins.phase.unwrap();
    near(phase / DEG, 76.3, 0.05);
    near(hertz * TAU, 0.2058, 5e-5);
    assert_eq!(margins.stable, Some(true));
}

/// Optimal gains [1, √2] on 1/s²: crossover 1.55377 rad/s, phase margin 65.53°, delay margin .7361 s
/// (computed); an optimal loop keeps |1 + L| ≥ 1 (Kalman 1964, from memory).
#[test]
fn margins_of_an_optimal_loop() {
    let open = Loop::rational(&[2.0_f64.sqrt(), 1.0], &[1.0, 0.0, 0.0], 0.0);
    let margins = open.margins();
    let (phase, hertz) = margins.phase.unwrap();
    near(hertz * TAU, 1.55377, 5e-6);
    near(phase / DEG, 65.53, 5e-3);
    near(margins.delay.unwrap().0, 0.7361, 5e-5);
    assert!(margins.modulus.0 >= 1.0 - 1e-9, "{margins:?}");
    assert!(margins.gain_up.is_none());
}

/// Second order, loop ω²/(s(s + 2ζω)): ζ → phase margin (computed from the closed form).
#[test]
fn margins_of_second_order() {
    for (zeta, degrees) in [
        (0.1, 11.42),
        (0.2, 22.60),
        (0.3, 33.27),
        (0.5, 51.83),
        (0.7, 65.16),
    ] {
        let open = Loop::rational(&[1.0], &[1.0, 2.0 * zeta, 0.0], 0.0);
        near(open.margins().phase.unwrap().0 / DEG, degrees, 5e-3);
    }
}

/// 1/[s(s + 1)(s + 5)] (Ogata, *Modern Control Engineering*): Ku 30, Pu 2.8099, PID 18, 1.405, .35124.
/// e^(−5s)/(600s² + 70s + 1) (Franklin, Powell, Emami-Naeini, 6th ed., fig. 4.18): Ku 15.2916,
/// Pu 43.56 (computed).
#[test]
fn ultimate_gains_and_rules() {
    let open = Loop::rational(&[1.0], &[1.0, 6.0, 5.0, 0.0], 0.0);
    let ultimate = Ultimate::of_loop(&open).unwrap();
    near(ultimate.gain, 30.0, 1e-6);
    near(ultimate.period, 2.8099, 5e-5);
    let pid = Rule::ZieglerNicholsPid.gains(ultimate);
    near(pid.gain, 18.0, 1e-6);
    near(pid.memory_time.unwrap(), 1.405, 5e-4);
    near(pid.damping_time.unwrap(), 0.35124, 5e-6);
    let softer = Rule::TyreusLuybenPid.gains(ultimate);
    near(softer.gain, 30.0 / 2.2, 1e-6);
    assert!(softer.memory_time > pid.memory_time);

    let delayed = Loop::rational(&[1.0], &[600.0, 70.0, 1.0], 5.0);
    let ultimate = Ultimate::of_loop(&delayed).unwrap();
    near(ultimate.gain, 15.2916, 5e-5);
    near(ultimate.period, 43.56, 5e-3);
}

/// Relay on e^(−.2s)/(s + 1): exactly amplitude 1 − e^(−.2) = .18127, period .73318 (computed; method of
/// Åström & Hägglund 1984). The describing function's own answer lies near.
#[test]
fn relay_on_first_order_with_dead_time() {
    let open = Loop::rational(&[1.0], &[1.0, 1.0], 0.2);
    let true_gain = Ultimate::of_loop(&open).unwrap();
    let measured = Ultimate::of_relay(1.0, 0.18127, 0.73318);
    near(measured.gain / true_gain.gain, 1.0, 0.2);
    near(measured.period / true_gain.period, 1.0, 0.05);
    let predicted = oscillations(&open, &Element::Relay { level: 1.0 });
    near(
        predicted[0].amplitude,
        4.0 / core::f64::consts::PI / true_gain.gain,
        1e-9,
    );
}

/// Tables computed from Gelb & Vander Velde's formulas by python-control's `descfcn`.
#[test]
fn describing_functions() {
    for (ratio, gain) in [
        (1.1, 0.03245),
        (1.5, 0.21910),
        (2.0, 0.39100),
        (3.0, 0.58358),
        (5.0, 0.74706),
        (10.0, 0.87289),
    ] {
        near(
            Element::DeadBand { half_width: 0.3 }.gain(0.3 * ratio),
            gain,
            6e-6,
        );
        // A limit passes what a band takes away.
        near(
            Element::Limit { limit: 0.3 }.gain(0.3 * ratio),
            1.0 - gain,
            6e-6,
        );
    }
    for (ratio, gain) in [
        (1.1, 0.48221),
        (2.0_f64.sqrt(), 0.63662),
        (2.0, 0.55133),
        (3.0, 0.40014),
        (5.0, 0.24950),
    ] {
        let relay = Element::BandRelay {
            level: 2.0,
            half_width: 0.5,
        };
        near(relay.gain(0.5 * ratio) * 0.5 / 2.0, gain, 6e-6);
    }
    for (ratio, size, degrees) in [
        (1.5, 0.4064, -44.1),
        (2.0, 0.5927, -32.5),
        (3.0, 0.7626, -21.8),
        (5.0, 0.8815, -13.4),
    ] {
        let [re, im] = backlash(0.2, 0.2 * ratio);
        near((re * re + im * im).sqrt(), size, 6e-5);
        near(libm::atan2(im, re) / DEG, degrees, 0.06);
    }
}

/// Every formula against its definition: (2/πA)∫ y(A·sin φ)·sin φ dφ over half a turn, by the midpoint
/// rule.
#[test]
fn describing_functions_by_quadrature() {
    type Case = (Element, fn(f64) -> f64);
    let cases: [Case; 6] = [
        (Element::DeadBand { half_width: 1.0 }, |x| {
            (x.abs() - 1.0).max(0.0).copysign(x)
        }),
        (Element::StepBand { half_width: 1.0 }, |x| {
            if x.abs() > 1.0 { x } else { 0.0 }
        }),
        (Element::Limit { limit: 1.0 }, |x| x.within(-1.0, 1.0)),
        (Element::Relay { level: 1.0 }, |x| 1.0_f64.copysign(x)),
        (
            Element::BandRelay {
                level: 2.0,
                half_width: 1.0,
            },
            |x| {
                if x.abs() > 1.0 {
                    2.0_f64.copysign(x)
                } else {
                    0.0
                }
            },
        ),
        (Element::Steps { step: 1.0 }, f64::round),
    ];
    for (element, law) in cases {
        for amplitude in [0.3, 1.05, 1.7, 4.3] {
            let n = 200_000;
            let mut sum = 0.0;
            for i in 0..n {
                let sin = libm::sin((f64::from(i) + 0.5) / f64::from(n) * TAU / 2.0);
                sum += law(amplitude * sin) * sin;
            }
            let wanted = 2.0 * sum / f64::from(n) / amplitude;
            near(element.gain(amplitude), wanted, 1e-4);
        }
    }
}

/// 8/(s³ + 2s² + 2s + 1) with a unit limit: L(j√2) = −8/3, so that N(A) = 3/8 and A = 3.34400 (computed;
/// python-control's documentation prints 3.3438 from a table); simulated 3.380, 1.4067.
#[test]
fn oscillation_with_a_limit() {
    let open = Loop::rational(&[8.0], &[1.0, 2.0, 2.0, 1.0], 0.0);
    let found = oscillations(&open, &Element::Limit { limit: 1.0 });
    assert_eq!(found.len(), 1);
    near(found[0].amplitude, 3.3440, 5e-5);
    near(found[0].amplitude, 3.3438, 3e-4);
    near(found[0].amplitude / 3.380, 1.0, 0.02);
    near(found[0].frequency * TAU, 1.4142, 5e-5);
    assert_eq!(found[0].attracts, Some(true));
    assert!(!found[0].doubts.contains(&Doubt::Harmonics));
}

/// A dead band in a loop that is unstable outside it keeps it in bounds from within only: it repels.
/// And a loop stable outside and unstable inside has one that attracts: −1/N ends at the gain a loop
/// must have at least (conditionally stable, signs by Loeb's criterion, from memory).
#[test]
fn dead_band_oscillations_attract_where_the_gain_must_rise() {
    // Unstable plant (s + 1)²·k/s³ wants gain: k > ½ (Routh).
    let open = Loop::rational(&[2.0, 4.0, 2.0], &[1.0, 0.0, 0.0, 0.0], 0.0);
    assert_eq!(open.margins().stable, Some(true));
    near(open.margins().gain_down.unwrap().0, 0.25, 1e-6);
    let found = oscillations(&open, &Element::DeadBand { half_width: 0.1 });
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].attracts, Some(true));
    near(found[0].frequency * TAU, 1.0, 1e-6);
    near(
        Element::DeadBand { half_width: 0.1 }.gain(found[0].amplitude),
        0.25,
        1e-9,
    );
    let unstable = Loop::rational(&[60.0], &[1.0, 6.0, 5.0, 0.0], 0.0);
    let found = oscillations(&unstable, &Element::DeadBand { half_width: 0.1 });
    assert_eq!(found[0].attracts, Some(false));
}

/// PID on b/s² is stable iff b·Kd·Kp > Ki (Routh).
#[test]
fn routh_on_a_double_integrator() {
    let b = 1.7;
    for (kp, ki, kd, stable) in [
        (2.0, 3.0, 0.9, true),
        (2.0, 3.1, 0.9, false),
        (0.5, 0.1, 1.0, true),
    ] {
        let open = Loop::rational(&[b * kd, b * kp, b * ki], &[1.0, 0.0, 0.0, 0.0], 0.0);
        assert_eq!(open.margins().stable, Some(stable), "{kp} {ki} {kd}");
        // The gain may fall until b²·k·Kd·Kp = b·Ki.
        if stable {
            near(
                open.margins().gain_down.unwrap().0,
                ki / (b * kd * kp),
                1e-6,
            );
        }
    }
}

/// Held and sampled PD on 1/s²: stable iff Kd·T < 2 and Kd > Kp·T/2 (Jury; computed).
#[test]
fn sampled_damping_has_its_bounds() {
    let t = 0.1;
    for (kp, kd, stable) in [
        (1.0, 1.0, true),
        (1.0, 19.9, true),
        (1.0, 20.1, false),
        (1.0, 0.0501, true),
        (1.0, 0.0499, false),
    ] {
        let a = [vec![1.0, t], vec![0.0, 1.0]];
        let open = Loop::sampled(&a, &[0.5 * t * t, t], &[-kp, -kd], t).unwrap();
        assert_eq!(open.margins().stable, Some(stable), "{kp} {kd}");
    }
    // The gain of both may rise until Kd·T = 2.
    let a = [vec![1.0, t], vec![0.0, 1.0]];
    let open = Loop::sampled(&a, &[0.5 * t * t, t], &[-1.0, -4.0], t).unwrap();
    near(open.margins().gain_up.unwrap().0, 2.0 / (4.0 * t), 1e-6);
}

fn pair(value: &Value) -> Option<(f64, f64)> {
    Some((value.get(0)?.as_f64()?, value.get(1)?.as_f64()?))
}

/// Poles and margins of the demos' loops by tests/reference/loops.py (python-control, SciPy, NumPy; tools
/// and tolerances in the fixture's header).
#[test]
fn loops_of_the_demos_by_python_control() {
    let text = include_str!("../../../tests/reference/fixtures/loops.json");
    let fixture: Value = serde_json::from_str(text).unwrap();
    let tolerance = |key: &str| fixture["header"]["tolerance"][key].as_f64().unwrap();
    let (for_poles, for_margins) = (tolerance("poles"), tolerance("margins"));
    let (mut worst_pole, mut worst_margin) = (0.0_f64, 0.0_f64);
    for case in fixture["cases"].as_array().unwrap() {
        let mut robot = demo(case["robot"].as_str().unwrap()).unwrap();
        robot.timing.delay_ticks = case["delay_ticks"].as_f64().unwrap();
        robot.sensing.ideal = case["ideal"] == "yes";
        let view = if case["view"] == "side" {
            View::Side
        } else {
            View::Front
        };
        let poles = Model::new(&robot, view, &About::default())
            .unwrap()
            .poles()
            .unwrap();
        let step = case["step"].as_f64().unwrap();
        let wanted = case["poles"].as_array().unwrap();
        let seen = poles
            .iter()
            .filter(|p| p.z[0] * p.z[0] + p.z[1] * p.z[1] > 4e-4)
            .count();
        assert_eq!(seen, wanted.len(), "{} {view:?}", robot.name);
        for row in wanted {
            let at: Vec<f64> = row
                .as_array()
                .unwrap()
                .iter()
                .map(|v| v.as_f64().unwrap())
                .collect();
            let (apart, pole) = poles
                .iter()
                .map(|p| {
                    let (re, im) = (p.z[0] - at[0], p.z[1] - at[1]);
                    ((re * re + im * im).sqrt(), p)
                })
                .min_by(|a, b| a.0.total_cmp(&b.0))
                .unwrap();
            assert!(
                apart < for_poles,
                "{} {view:?} {at:?} {apart:e}",
                robot.name
            );
            worst_pole = worst_pole.max(apart);
            near(pole.frequency * TAU * step, at[2], 1e-5);
            near(pole.damping_ratio, at[3], 1e-5);
        }
        for (name, at) in [
            ("duty", Break::Duty),
            ("dead band", Break::DeadBand),
            ("carriage target", Break::CarriageTarget),
        ] {
            let Some(wanted) = case["margins"].get(name) else {
                continue;
            };
            let found = Loop::new(&robot, view, &About::default(), at)
                .unwrap()
                .margins();
            // The fixture's frequencies stop short of both ends.
            let fastest = 0.4999 / step;
            let slowest = wanted["from"].as_f64().unwrap();
            for (key, found) in [
                ("up", found.gain_up),
                ("down", found.gain_down),
                ("phase", found.phase),
                ("delay", found.delay),
                ("modulus", Some(found.modulus)),
            ] {
                let Some((value, omega)) = pair(&wanted[key]) else {
                    assert!(
                        found.is_none_or(|(_, hertz)| hertz * TAU < slowest || hertz > fastest),
                        "{} {view:?} {name} {key} {found:?}",
                        robot.name
                    );
                    continue;
                };
                let (mine, hertz) = found.unwrap();
                let apart = (mine - value).abs() / value.abs();
                assert!(
                    apart < for_margins,
                    "{} {view:?} {name} {key} {mine} at {hertz} Hz for {value} at {omega} rad/s",
                    robot.name
                );
                worst_margin = worst_margin.max(apart);
            }
        }
    }
    println!("poles within {worst_pole:e}, margins within {worst_margin:e}");
}
