//! Plausibility: common practice, no published source, unless a line says otherwise.

use kickstill_power::{
    Fuse, FuseSize, FuseVerdict, FuseWear, NEAR_CAPACITY, RegulatorBank, RegulatorVerdict,
};
use kickstill_robot::{Drive, DriveKind};
use proptest::prelude::*;

const HEAD: RegulatorBank = RegulatorBank {
    output_voltage: 12.0,
    rated_current: 5.0,
    efficiency: 0.9,
    idle_power: 0.3,
    minimum_input: 14.0,
    count: 1.0,
    imbalance: 0.0,
};

/// Common practice, no published source: a 35 A blade fuse on 24 V is 840 W; a full-size robot
/// held stable on three drive motors can ask for nearly 1 kW and blow it.
#[test]
fn a_35_ampere_fuse_on_24_volts() {
    let fuse = Fuse::new(FuseSize::Medium, 35.0);
    let volts = 24.0;
    assert_eq!(fuse.rating() * volts, 840.0);
    // 1 kW is 119 % of it: above what every fuse bears, below what opens every one.
    let current = 1000.0 / volts;
    let multiple = fuse.multiple(current);
    assert!((1.10..1.35).contains(&multiple));
    let FuseVerdict::MayOpen { earliest } = fuse.verdict(current, 3600.0) else {
        panic!("1 kW for an hour: {:?}", fuse.verdict(current, 3600.0));
    };
    // Straight in logarithms between 110 %, 100 h and 135 %, .75 s, worked out here.
    let share = libm::log(multiple / 1.10) / libm::log(1.35 / 1.10);
    let expected = libm::exp((1.0 - share) * libm::log(360_000.0) + share * libm::log(0.75));
    assert!((earliest / expected - 1.0).abs() < 1e-9);
    // Bursts between twice that and nothing, the same power on the whole, open it far sooner:
    // what a balancing loop asks is not its mean.
    let mut wear = FuseWear::new();
    for tick in 0..60_000 {
        let on = tick % 100 < 50;
        wear.step(&fuse, if on { 2.0 * current } else { 0.0 }, 0.001);
    }
    let FuseVerdict::Opens { earliest, latest } = wear.verdict() else {
        panic!("{:?}", wear.verdict());
    };
    // By the table: at 238 % from .123 to 2.42 s of current, half of the time on.
    let (quick, slow) = (
        fuse.shortest_time(2.0 * current).unwrap(),
        fuse.longest_time(2.0 * current).unwrap(),
    );
    assert!((earliest - (0.2 + quick - 0.1)).abs() < 1e-6);
    assert!((latest - 2.0 * slow).abs() < 0.05);
    // So fast, they heat as their root-mean-square, √2 times the mean: every fuse still opens,
    // but it may take tens of seconds.
    assert!((wear.rms() / current - core::f64::consts::SQRT_2).abs() < 1e-6);
    let FuseVerdict::Opens { latest, .. } = fuse.verdict(wear.rms(), wear.time()) else {
        panic!("{:?}", fuse.verdict(wear.rms(), wear.time()));
    };
    assert!((30.0..60.0).contains(&latest), "{latest}");
}

/// Common practice, no published source: a full-size robot's 5 A, 12 V head regulators run near
/// capacity.
#[test]
fn head_regulators_near_capacity() {
    // 52 W of servos, lights and sound on one regulator of 60 W.
    let verdict = HEAD.verdict(52.0, 24.0);
    assert!(
        matches!(verdict, RegulatorVerdict::Near { share } if (share - 52.0 / 60.0).abs() < 1e-12)
    );
    assert!(matches!(
        HEAD.verdict(61.0, 24.0),
        RegulatorVerdict::Over { .. }
    ));
    assert!(matches!(
        HEAD.verdict(20.0, 24.0),
        RegulatorVerdict::Within { .. }
    ));
    assert!(matches!(
        HEAD.verdict(20.0, 13.0),
        RegulatorVerdict::InputTooLow { .. }
    ));
    // Two that share by halves are far from it; by 70 to 30, less far.
    let pair = RegulatorBank { count: 2.0, ..HEAD };
    assert!((pair.busiest_current(52.0) - 52.0 / 24.0).abs() < 1e-12);
    let uneven = RegulatorBank {
        imbalance: 0.4,
        ..pair
    };
    assert!((uneven.busiest_current(52.0) / pair.busiest_current(52.0) - 1.4).abs() < 1e-12);
    assert_eq!(NEAR_CAPACITY, 0.8);
}

/// Efficiency's definition (textbook): input = load/η and the rest is heat; at constant power
/// the current grows as the battery sags.
#[test]
fn regulators_are_a_constant_power_load() {
    let power = HEAD.input_power(45.0);
    assert!((power - 50.3).abs() < 1e-12);
    assert!((HEAD.heat(45.0) - 5.3).abs() < 1e-12);
    for input in [18.0, 24.0, 29.4] {
        assert!((HEAD.input_current(45.0, input) * input - power).abs() < 1e-9);
    }
}

/// Common practice, no published source: rim drive takes about a fifth of the axle's torque, and
/// turns that much faster.
#[test]
fn rim_drive_takes_a_fifth_of_the_torque() {
    let axle = Drive {
        kind: DriveKind::Axle,
        gear_ratio: 40.0,
        ..Drive::default()
    };
    let rim = Drive {
        kind: DriveKind::Rim,
        rim_radius: 0.23,
        roller_radius: 0.045,
        ..axle.clone()
    };
    let share = axle.ratio() / rim.ratio();
    assert!((0.15..0.25).contains(&share), "{share}");
}

/// Common practice, no published source: a fuse carries three quarters of its rating for hours.
#[test]
fn continuous_current() {
    let fuse = Fuse::new(FuseSize::Medium, 40.0);
    assert_eq!(fuse.continuous_current(), 30.0);
    let warm = fuse.at_temperature(65.0);
    assert!((warm.continuous_current() - 24.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn regulators_stay_finite(
        v in prop::array::uniform7(prop::num::f64::ANY), load in prop::num::f64::ANY,
        input in prop::num::f64::ANY,
    ) {
        let bank = RegulatorBank {
            output_voltage: v[0], rated_current: v[1], efficiency: v[2], idle_power: v[3],
            minimum_input: v[4], count: v[5], imbalance: v[6],
        };
        for value in [
            bank.busiest_current(load), bank.input_power(load), bank.input_current(load, input),
            bank.heat(load), bank.load_current(load),
        ] {
            prop_assert!(value.is_finite());
        }
        match bank.verdict(load, input) {
            RegulatorVerdict::Within { share }
            | RegulatorVerdict::Near { share }
            | RegulatorVerdict::Over { share } => prop_assert!(share.is_finite()),
            RegulatorVerdict::InputTooLow { input } => prop_assert!(input.is_finite()),
        }
    }

    #[test]
    fn more_load_is_never_a_milder_verdict(load in 0.0f64..70.0, more in 0.0f64..20.0) {
        let rank = |load| match HEAD.verdict(load, 24.0) {
            RegulatorVerdict::Within { .. } => 0,
            RegulatorVerdict::Near { .. } => 1,
            _ => 2,
        };
        prop_assert!(rank(load) <= rank(load + more));
    }
}
