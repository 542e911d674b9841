//! The chain against direct numeric solutions, energy balance and a worked motor.

use kickstill_number::Within;
use kickstill_power::{Chain, Electrical, Terminals};
use kickstill_robot::{Battery, Drive, DriveKind};
use proptest::prelude::*;

const PI: f64 = core::f64::consts::PI;

#[derive(Clone, Copy, Debug)]
struct Case {
    ratio: f64,
    count: f64,
    constant: f64,
    resistance: f64,
    limit: f64,
    open: f64,
    source: f64,
    brown_out: f64,
    load: f64,
    duty: f64,
    rate: f64,
}

impl Case {
    fn chain(&self) -> Chain {
        let drive = Drive {
            kind: DriveKind::Axle,
            gear_ratio: self.ratio,
            motor_count: self.count,
            motor_constant: self.constant,
            motor_resistance: self.resistance,
            current_limit: self.limit,
            ..Drive::default()
        };
        let battery = Battery {
            open_voltage: self.open,
            resistance: self.source,
            brown_out_voltage: self.brown_out,
            ..Battery::default()
        };
        Chain::new(&drive, &battery)
    }

    fn emf(&self) -> f64 {
        self.constant * self.ratio * self.rate
    }

    fn driven(&self) -> Electrical {
        self.chain()
            .solve(self.duty, self.rate, Terminals::Driven, self.load)
    }

    /// What the driver does when its supply is `v`: the limiter lowers the duty, within ±1.
    fn driver(&self, v: f64) -> (f64, f64) {
        let wanted = (self.duty * v - self.emf()) / self.resistance;
        if wanted.abs() <= self.limit {
            return (self.duty, wanted);
        }
        let held = self.limit.copysign(wanted);
        let duty = ((held * self.resistance + self.emf()) / v).within(-1.0, 1.0);
        (duty, (duty * v - self.emf()) / self.resistance)
    }

    /// Kirchhoff's law at supply voltage `v`: zero where it holds.
    fn residual(&self, v: f64) -> f64 {
        let (duty, current) = self.driver(v);
        v - self.open + self.source * (self.count * duty * current + self.load / v)
    }

    /// Greatest root by a scan from above and bisection.
    fn numeric(&self, from: f64) -> Option<f64> {
        let (mut high, mut found) = (from, None);
        for step in 1..6000 {
            let low = from * power(0.998, step);
            if self.residual(low) <= 0.0 {
                found = Some(low);
                break;
            }
            high = low;
        }
        let mut low = found?;
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if self.residual(middle) > 0.0 {
                high = middle;
            } else {
                low = middle;
            }
        }
        Some(0.5 * (low + high))
    }
}

fn power(base: f64, exponent: i32) -> f64 {
    (0..exponent).fold(1.0, |p, _| p * base)
}

/// Any admissible robot: the catalogue's ranges, speeds up to a shell turning ten times a second.
fn any_case() -> impl Strategy<Value = Case> {
    (
        (1.0..1000.0f64, 1u32..7, -7.6..0.69f64, -5.3..4.6f64),
        (-2.3..5.7f64, 1.0..100.0f64, 0.0..5.0f64, 0.02..0.98f64),
        (0.0..300.0f64, -1.0..1.0f64, -60.0..60.0f64),
    )
        .prop_map(
            |((ratio, count, k, r), (limit, open, source, brown), (load, duty, rate))| {
                // Logarithmic knobs are drawn by exponent; the cube favours small sources.
                Case {
                    ratio,
                    count: f64::from(count),
                    constant: libm::exp(k),
                    resistance: libm::exp(r),
                    limit: libm::exp(limit),
                    open,
                    source: source * source * source / 25.0,
                    brown_out: brown * open,
                    load,
                    duty,
                    rate,
                }
            },
        )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    /// Kirchhoff's law holds at the answer and nowhere above it; a refused case has no answer.
    #[test]
    fn greatest_numeric_solution(case in any_case()) {
        let found = case.driven();
        prop_assert!(finite(&found), "{found:?}");
        let scale = case.open + case.emf().abs();
        let numeric = case.numeric(4.0 * scale.max(found.bus_voltage));
        if !found.brown_out {
            let miss = case.residual(found.bus_voltage).abs();
            // A root where the slope is flat is only as sharp as the square root of rounding.
            let stiff = 1.0 + case.source * case.count / case.resistance;
            prop_assert!(miss < 1e-9 * scale * stiff, "residual {miss} at {found:?}");
            if let Some(v) = numeric {
                prop_assert!((v - found.bus_voltage).abs() < 1e-5 * scale, "{v} {found:?}");
            }
            let (duty, current) = case.driver(found.bus_voltage);
            prop_assert!((current - found.motor_current).abs() < 1e-7 * (1.0 + current.abs()) * stiff);
            prop_assert!(duty.abs() <= 1.0);
        } else if let Some(v) = numeric {
            prop_assert!(v < case.brown_out + 1e-5 * scale, "{v} would do: {found:?}");
        }
    }

    /// V_oc·I = battery loss + other loads + copper loss + mechanical power, in every mode.
    #[test]
    fn energy_balance(case in any_case()) {
        let chain = case.chain();
        for terminals in [Terminals::Driven, Terminals::Coast] {
            let found = chain.solve(case.duty, case.rate, terminals, case.load);
            if found.brown_out {
                continue;
            }
            let split = chain.split(&found, case.rate, case.load);
            let size = split.source.abs() + split.battery_loss + split.other_loads
                + split.copper_loss + split.mechanical.abs() + 1e-9;
            prop_assert!(split.imbalance().abs() < 1e-9 * size, "{split:?} {found:?}");
        }
        // A shorted winding turns mechanical power into heat and leaves the supply alone.
        let braked = chain.solve(case.duty, case.rate, Terminals::Brake, 0.0);
        let split = chain.split(&braked, case.rate, 0.0);
        prop_assert!((split.mechanical + split.copper_loss).abs() <= 1e-9 * split.copper_loss);
        prop_assert_eq!(braked.supply_current, 0.0);
    }

    /// The mirrored input gives the mirrored answer, bit for bit.
    #[test]
    fn mirrored(case in any_case()) {
        let other = Case { duty: -case.duty, rate: -case.rate, ..case }.driven();
        let one = case.driven();
        prop_assert_eq!(one.motor_current, -other.motor_current);
        prop_assert_eq!(one.bus_voltage, other.bus_voltage);
        prop_assert_eq!(one.supply_current, other.supply_current);
    }

    /// Whatever comes in, finite numbers go out.
    #[test]
    fn finite_whatever_comes_in(
        case in any_case(),
        duty in any::<f64>(),
        rate in any::<f64>(),
        load in any::<f64>(),
    ) {
        for terminals in [Terminals::Driven, Terminals::Coast, Terminals::Brake] {
            let found = case.chain().solve(duty, rate, terminals, load);
            prop_assert!(finite(&found), "{found:?}");
        }
    }
}

fn finite(e: &Electrical) -> bool {
    e.joint_torque.is_finite()
        && e.motor_current.is_finite()
        && e.bus_voltage.is_finite()
        && e.supply_current.is_finite()
}

/// Cobnut-like travel drive on its battery.
fn plain() -> Case {
    Case {
        ratio: 45.0,
        count: 2.0,
        constant: 0.025,
        resistance: 0.3,
        limit: 60.0,
        open: 24.0,
        source: 0.06,
        brown_out: 9.0,
        load: 6.0,
        duty: 0.5,
        rate: 2.0,
    }
}

#[test]
fn stall_without_other_loads_is_a_plain_divider() {
    // Two windings in parallel at full duty behind the battery: V = V_oc·(R/N)/(R/N + R_b),
    // Ohm's law.
    let found = Case {
        duty: 1.0,
        rate: 0.0,
        load: 0.0,
        ..plain()
    }
    .driven();
    assert!((found.bus_voltage - 24.0 * 0.15 / 0.21).abs() < 1e-12);
    assert!((found.motor_current - found.bus_voltage / 0.3).abs() < 1e-12);
    assert!((found.supply_current - 2.0 * found.motor_current).abs() < 1e-12);
    assert!((found.joint_torque - 2.0 * 45.0 * 0.025 * found.motor_current).abs() < 1e-12);
}

#[test]
fn stiff_battery() {
    let found = Case {
        source: 0.0,
        ..plain()
    }
    .driven();
    assert_eq!(found.bus_voltage, 24.0);
    let current = (0.5 * 24.0 - 0.025 * 45.0 * 2.0) / 0.3;
    assert!((found.motor_current - current).abs() < 1e-12);
    assert!((found.supply_current - (2.0 * 0.5 * current + 0.25)).abs() < 1e-12);
}

#[test]
fn limit_holds_the_current_and_draws_less_than_it() {
    let found = Case {
        duty: 1.0,
        rate: 0.0,
        limit: 20.0,
        load: 0.0,
        ..plain()
    }
    .driven();
    assert!(found.limited && !found.brown_out);
    assert_eq!(found.motor_current, 20.0);
    // Power into the stalled windings: N·i²·R = 240 W, drawn at the sagging voltage.
    assert!((found.supply_current * found.bus_voltage - 240.0).abs() < 1e-9);
    assert!(found.supply_current < 20.0);
}

#[test]
fn braking_feeds_back_and_lifts_the_supply() {
    let found = Case {
        duty: 0.1,
        rate: 10.0,
        load: 0.0,
        ..plain()
    }
    .driven();
    assert!(found.supply_current < 0.0 && found.bus_voltage > 24.0);
}

#[test]
fn open_terminals_conduct_only_past_the_supply() {
    let chain = plain().chain();
    let slow = chain.solve(1.0, 20.0, Terminals::Coast, 0.0);
    assert_eq!(slow.motor_current, 0.0);
    let fast = chain.solve(0.0, 30.0, Terminals::Coast, 0.0);
    assert!(fast.motor_current < 0.0 && fast.supply_current < 0.0);
    assert!(fast.bus_voltage > 24.0 && fast.bus_voltage < 0.025 * 45.0 * 30.0);
    let back = chain.solve(0.0, -30.0, Terminals::Coast, 0.0);
    assert_eq!(back.motor_current, -fast.motor_current);
}

#[test]
fn load_that_the_battery_cannot_carry() {
    // The greatest power of a source is V_oc²/(4·R_b), power matching (textbook): 2,400 W here.
    let below = Case {
        duty: 0.0,
        rate: 0.0,
        load: 2399.0,
        brown_out: 0.5,
        ..plain()
    }
    .driven();
    assert!(!below.brown_out && below.bus_voltage > 12.0);
    let above = Case {
        load: 2401.0,
        duty: 0.0,
        rate: 0.0,
        brown_out: 0.5,
        ..plain()
    }
    .driven();
    assert!(above.brown_out && finite(&above));
    // Sag below the restart voltage is a brown-out too.
    let sagging = Case {
        duty: 1.0,
        rate: 0.0,
        brown_out: 20.0,
        ..plain()
    }
    .driven();
    assert!(sagging.brown_out);
}

/// Worked motor: K_T 0.0327 N·m/A, R 0.346 Ω, J 2.1e-5 kg·m², 12 V: no load 3456 rpm at 0.469 A,
/// stall 1.13 N·m, best efficiency 0.784 at 4.03 A, time constant 6.8 ms.
///
/// Source: a motor maker's datasheet figures, R inferred from them; η_max = (1 − √(I0/I_s))² at
/// √(I0·I_s) and τ_m = J·R/k² are textbook relations (the sheet's η is 0.3 % above the formula).
#[test]
fn worked_motor() {
    let case = |rate: f64| Case {
        ratio: 1.0,
        count: 1.0,
        constant: 0.0327,
        resistance: 0.346,
        limit: 300.0,
        open: 12.0,
        source: 0.0,
        brown_out: 1.0,
        load: 0.0,
        duty: 1.0,
        rate,
    };
    let stall = case(0.0).driven();
    assert!((stall.joint_torque - 1.13).abs() < 0.005, "{stall:?}");
    let no_load = case(3456.0 * 2.0 * PI / 60.0).driven();
    // One revolution a minute, the last digit given, is worth k·ω/R = 0.01 A.
    assert!((no_load.motor_current - 0.469).abs() < 0.01, "{no_load:?}");
    // Speed at which the sheet's 4.03 A flow; the no-load current is what friction takes.
    let rate = (12.0 - 0.346 * 4.03) / 0.0327;
    let best = case(rate).driven();
    assert!((best.motor_current - 4.03).abs() < 1e-9);
    let output = (best.joint_torque - 0.0327 * 0.469) * rate;
    let efficiency = output / (12.0 * best.supply_current);
    assert!((efficiency - 0.784).abs() < 0.005, "{efficiency}");
    let slope = (stall.joint_torque - best.joint_torque) / rate;
    assert!((2.1e-5 / slope - 6.8e-3).abs() < 5e-5);
}
