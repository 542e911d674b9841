//! What holds for any admissible robot and any input.

use kickstill_control::{Command, Controller, Mode, Observed, Output, tick_us};
use kickstill_robot::{Kind, Robot, Scale, View, catalogue, demo};
use proptest::prelude::*;

fn base() -> Robot {
    demo("cobnut").unwrap_or_default()
}

/// Cobnut with every knob at an admissible place drawn from `draws`.
fn any_robot(draws: &[f64]) -> Robot {
    let mut robot = base();
    for (knob, draw) in catalogue().iter().zip(draws.iter().cycle()) {
        let mut value = match knob.scale {
            Scale::Linear => knob.min + (knob.max - knob.min) * draw,
            Scale::Logarithmic => knob.min * libm::pow(knob.max / knob.min, *draw),
        };
        if knob.kind != Kind::Number {
            value = value.round();
        }
        assert_eq!(knob.set(&mut robot, value), Ok(()));
    }
    robot
}

fn robots() -> impl Strategy<Value = Robot> {
    proptest::collection::vec(0.0..=1.0f64, 150).prop_map(|draws| any_robot(&draws))
}

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![4 => -3.0..3.0f64, 1 => any::<f64>()]
}

fn observed() -> impl Strategy<Value = Observed> {
    (
        number(),
        number(),
        number(),
        number(),
        number(),
        number(),
        number(),
    )
        .prop_map(
            |(drive_angle, drive_rate, head_angle, swing, swing_rate, x, z)| Observed {
                drive_angle,
                drive_rate,
                head_angle,
                swing,
                swing_rate,
                mount_acceleration: [x, z],
            },
        )
}

fn command() -> impl Strategy<Value = Command> {
    let mode = prop_oneof![
        1 => Just(Mode::Off),
        1 => Just(Mode::Locked),
        6 => Just(Mode::Steadied)
    ];
    (mode, number(), number(), number()).prop_map(|(mode, speed, lean, head)| Command {
        mode,
        speed,
        lean,
        head,
    })
}

fn check(robot: &Robot, view: View, command: &Command, output: &Output) {
    for value in [
        output.duty,
        output.head_target,
        output.carriage_target,
        output.set_point,
    ] {
        assert!(value.is_finite(), "{output:?}");
    }
    let limit = match view {
        View::Side => robot.travel.duty_limit,
        View::Front => robot.carriage_loop.duty_limit,
    };
    assert!(output.duty.abs() <= limit, "{output:?}");
    assert!(output.head_target.abs() <= robot.head_joint.travel);
    assert!(output.carriage_target.abs() <= robot.carriage.lean_travel);
    assert_eq!(output.powered, command.mode == Mode::Steadied);
    assert!(output.powered || output.duty == 0.0);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn finite_and_within_limits(
        robot in robots(),
        front in any::<bool>(),
        seed in any::<u64>(),
        ticks in proptest::collection::vec((observed(), command()), 1..80),
    ) {
        let view = if front { View::Front } else { View::Side };
        let mut controller = Controller::new(&robot, view, seed);
        for (seen, asked) in &ticks {
            let output = controller.tick(seen, asked);
            check(&robot, view, asked, &output);
        }
    }

    /// Knobs turned during a run: finite, and within the new limits once the delay has passed.
    #[test]
    fn finite_under_retuning(
        tuned in proptest::collection::vec(robots(), 2..5),
        front in any::<bool>(),
        ticks in proptest::collection::vec((observed(), command()), 40..60),
    ) {
        let view = if front { View::Front } else { View::Side };
        let mut controller = Controller::new(&tuned[0], view, 5);
        for robot in &tuned {
            controller.retune(robot);
            for (i, (seen, asked)) in ticks.iter().enumerate() {
                let output = controller.tick(seen, asked);
                prop_assert!(output.duty.is_finite() && output.duty.abs() <= 1.0);
                prop_assert!(output.head_target.is_finite());
                prop_assert!(output.carriage_target.is_finite());
                if i > 32 {
                    check(robot, view, asked, &output);
                }
            }
        }
    }

    /// The same robot, seed and inputs give the same outputs, bit for bit; so does a reset.
    #[test]
    fn repeatable(
        robot in robots(),
        seed in any::<u64>(),
        ticks in proptest::collection::vec((observed(), command()), 1..40),
    ) {
        let mut one = Controller::new(&robot, View::Side, seed);
        let mut run = || ticks.iter().map(|(s, c)| one.tick(s, c)).collect::<Vec<_>>();
        let first = run();
        let mut two = Controller::new(&robot, View::Side, seed);
        let second: Vec<_> = ticks.iter().map(|(s, c)| two.tick(s, c)).collect();
        prop_assert_eq!(&first, &second);
        two.reset(seed);
        let third: Vec<_> = ticks.iter().map(|(s, c)| two.tick(s, c)).collect();
        prop_assert_eq!(&first, &third);
    }
}

/// A tick's place for robots that run at `rate`.
#[test]
fn ticks_are_whole_microseconds() {
    assert_eq!(tick_us(100.0), 10_000);
    assert_eq!(tick_us(300.0), 3_333);
    assert_eq!(tick_us(1000.0), 1_000);
    assert_eq!(tick_us(0.0), 1_000_000);
    assert_eq!(tick_us(f64::NAN), 1);
    let controller = Controller::new(&base(), View::Side, 0);
    assert_eq!(controller.period(), 0.01);
}

fn quiet(delay: f64) -> Robot {
    let mut robot = base();
    robot.sensing.ideal = true;
    robot.timing.delay_ticks = delay;
    robot
}

fn swung(swing: f64) -> Observed {
    Observed {
        swing,
        drive_angle: swing,
        ..Observed::default()
    }
}

const ON: Command = Command {
    mode: Mode::Steadied,
    speed: 0.0,
    lean: 0.0,
    head: 0.0,
};

/// With a delay of n ticks the outputs are those without, n ticks later.
#[test]
fn delay_shifts_the_outputs() {
    let outputs = |delay: f64| {
        let mut controller = Controller::new(&quiet(delay), View::Side, 0);
        (0..60)
            .map(|i| controller.tick(&swung(0.01 * f64::from(i)), &ON).duty)
            .collect::<Vec<_>>()
    };
    let at_once = outputs(0.0);
    assert!(at_once[20] != 0.0);
    for delay in [1_u8, 4, 32] {
        let late = outputs(f64::from(delay));
        let n = usize::from(delay);
        assert!(late[..n].iter().all(|&d| d == 0.0));
        assert_eq!(late[n..], at_once[..60 - n]);
    }
}

#[test]
fn levels_act_at_once() {
    let mut controller = Controller::new(&quiet(3.0), View::Side, 0);
    for _ in 0..10 {
        controller.tick(&swung(0.3), &ON);
    }
    assert!(controller.tick(&swung(0.3), &ON).duty < 0.0);
    let off = controller.tick(&swung(0.3), &Command::default());
    assert!(!off.powered && !off.head_powered && off.duty == 0.0);
    let locked = Command {
        mode: Mode::Locked,
        ..Command::default()
    };
    let held = controller.tick(&swung(0.3), &locked);
    assert!(!held.powered && !held.head_powered && held.duty == 0.0);

    let mut robot = quiet(0.0);
    robot.levelling.levels_when_locked = true;
    controller.retune(&robot);
    let levelling = controller.tick(&swung(0.3), &locked);
    assert!(!levelling.powered && levelling.head_powered);
    // A level head on a carriage swung by α stands at ψ = α.
    assert_eq!(levelling.head_target, 0.3);
}

/// A gain turned to nothing lets memory fade; any other turn leaves the output where it was.
#[test]
fn retuning_memory_does_not_kick() {
    let mut robot = quiet(0.0);
    robot.travel.memory = 0.5;
    let rolling = Observed {
        drive_rate: -1.0,
        ..Observed::default()
    };
    let mut controller = Controller::new(&robot, View::Side, 0);
    let mut before = 0.0;
    for _ in 0..50 {
        before = controller.tick(&rolling, &ON).duty;
    }
    for gain in [2.0, 0.1, 0.0] {
        robot.travel.memory = gain;
        controller.retune(&robot);
        let after = controller.tick(&rolling, &ON).duty;
        assert!((after - before).abs() < 0.03, "{before} → {after}");
        before = after;
    }
    for _ in 0..1000 {
        before = controller.tick(&rolling, &ON).duty;
    }
    assert!(
        (before - robot.travel.speed).abs() < 1e-3,
        "only the speed term is left: {before}"
    );
}

/// Noise of one channel does not depend on whether another is switched on.
#[test]
fn channels_are_apart() {
    let mut robot = base();
    robot.sensing.ideal = false;
    robot.sensing.accelerometer_noise = 0.0;
    robot.sensing.gyro_noise = 0.01;
    robot.sensing.angle_time = 60.0;
    robot.travel.correction = 0.0;
    let duties = |robot: &Robot| {
        let mut controller = Controller::new(robot, View::Side, 9);
        (0..50)
            .map(|_| controller.tick(&Observed::default(), &ON).duty)
            .collect::<Vec<_>>()
    };
    let alone = duties(&robot);
    assert!(alone.iter().any(|&d| d != 0.0));
    robot.sensing.accelerometer_noise = 1.0;
    assert_eq!(alone, duties(&robot));
}
