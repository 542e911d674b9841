//! A winding's heat against direct integration.

use kickstill_power::Winding;
use proptest::prelude::*;

/// An invented small motor.
const SMALL: Winding = Winding {
    resistance: 0.346,
    reference: 25.0,
    thermal_resistance: 6.0,
    time_constant: 40.0,
    limit: 125.0,
    surroundings: 25.0,
};

/// The law written out, integrated by the classical Runge–Kutta method in fine steps.
fn integrated(w: &Winding, start: f64, current: f64, time: f64) -> f64 {
    let slope = |t: f64| {
        let ohms = w.resistance * (1.0 + 0.003_93 * (t - w.reference));
        (current * current * ohms * w.thermal_resistance - (t - w.surroundings)) / w.time_constant
    };
    let steps = 20_000;
    let h = time / f64::from(steps);
    let mut t = start;
    for _ in 0..steps {
        let a = slope(t);
        let b = slope(t + 0.5 * h * a);
        let c = slope(t + 0.5 * h * b);
        let d = slope(t + h * c);
        t += h / 6.0 * (a + 2.0 * b + 2.0 * c + d);
    }
    t
}

#[test]
fn closed_form_and_steps_agree_with_direct_integration() {
    for current in [0.0, 3.0, 6.0, 9.0, 12.0] {
        for start in [25.0, 90.0] {
            let direct = integrated(&SMALL, start, current, 60.0);
            let closed = SMALL.temperature_after(start, current, 60.0);
            assert!(
                (closed - direct).abs() < 1e-6,
                "{current} A: {closed}, {direct}"
            );
            let mut stepped = start;
            for _ in 0..60_000 {
                stepped = SMALL.step(stepped, current, 0.001);
            }
            assert!(
                (stepped - direct).abs() < 1e-4,
                "{current} A: {stepped}, {direct}"
            );
            let mut coarse = start;
            for _ in 0..6 {
                coarse = SMALL.step(coarse, current, 10.0);
            }
            assert!((coarse - direct).abs() < 1e-6);
        }
    }
}

/// Small-motor makers (read): allowed rise over thermal resistance is the power that may be lost
/// for ever; that over the hot resistance is the current's square.
#[test]
fn continuous_current_ends_at_the_limit() {
    let current = SMALL.continuous_current();
    let power = 100.0 / 6.0;
    let hot = 0.346 * (1.0 + 0.003_93 * 100.0);
    assert!((current * current - power / hot).abs() < 1e-9);
    assert!((SMALL.steady_temperature(current).unwrap() - 125.0).abs() < 1e-9);
    assert_eq!(SMALL.time_to_limit(25.0, 0.999 * current), None);
    assert!(SMALL.time_to_limit(25.0, 1.001 * current).is_some());
}

#[test]
fn time_to_the_limit_is_where_the_temperature_passes_it() {
    for current in [7.0, 9.0, 11.0, 12.5, 20.0, 60.0] {
        let time = SMALL.time_to_limit(25.0, current).unwrap();
        let there = SMALL.temperature_after(25.0, current, time);
        assert!(
            (there - 125.0).abs() < 1e-6,
            "{current} A: {time} s, {there}"
        );
    }
    assert_eq!(SMALL.time_to_limit(130.0, 1.0), Some(0.0));
    // Without growth of the resistance worth the name: τ·ln(1/(1 − Δ/Δ∞)), the textbook's.
    let stiff = Winding {
        resistance: 0.346,
        limit: 26.0,
        ..SMALL
    };
    let rise: f64 = 36.0 * 0.346 * 6.0;
    let textbook = -40.0 * libm::log1p(-1.0 / rise);
    assert!((stiff.time_to_limit(25.0, 6.0).unwrap() / textbook - 1.0).abs() < 0.01);
}

#[test]
fn a_runaway_has_no_steady_temperature() {
    // α·i²·R·R_th beyond 1: heat grows faster than cooling.
    let current = 1.01 * (1.0_f64 / (0.003_93 * 0.346 * 6.0)).sqrt();
    assert_eq!(SMALL.steady_temperature(current), None);
    assert!(SMALL.time_to_limit(25.0, current).unwrap() < 40.0);
    assert!(SMALL.temperature_after(25.0, current, 1e9).is_finite());
}

proptest! {
    #[test]
    fn all_stays_finite(
        v in prop::array::uniform6(prop::num::f64::ANY),
        temperature in prop::num::f64::ANY, current in prop::num::f64::ANY,
        time in prop::num::f64::ANY,
    ) {
        let w = Winding {
            resistance: v[0], reference: v[1], thermal_resistance: v[2], time_constant: v[3],
            limit: v[4], surroundings: v[5],
        };
        prop_assert!(w.step(temperature, current, time).is_finite());
        prop_assert!(w.temperature_after(temperature, current, time).is_finite());
        prop_assert!(w.resistance_at(temperature).is_finite());
        prop_assert!(w.continuous_current().is_finite());
        prop_assert!(w.steady_temperature(current).is_none_or(f64::is_finite));
        prop_assert!(w.time_to_limit(temperature, current).is_none_or(f64::is_finite));
    }

    #[test]
    fn more_current_is_warmer_and_sooner(current in 1.0f64..30.0, more in 1.01f64..1.5) {
        prop_assert!(
            SMALL.temperature_after(25.0, current * more, 5.0)
                > SMALL.temperature_after(25.0, current, 5.0)
        );
        if let Some(time) = SMALL.time_to_limit(25.0, current) {
            prop_assert!(SMALL.time_to_limit(25.0, current * more).unwrap() < time);
        }
    }
}
