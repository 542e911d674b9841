//! Knobs of sensing, timing and the control loops.

use super::{Knob, NO_YES, as_f64, choice, num, whole};
use crate::model::{DeadBandShape, RateSource};
use crate::unit::Unit as U;

const DEG: f64 = core::f64::consts::PI / 180.0;
const SHAPES: &[&str] = &["continuous", "step"];
const SOURCES: &[&str] = &["gyro", "difference"];

const fn shape_value(s: DeadBandShape) -> f64 {
    match s {
        DeadBandShape::Continuous => 0.0,
        DeadBandShape::Step => 1.0,
    }
}

fn shape(v: f64) -> DeadBandShape {
    if v < 0.5 {
        DeadBandShape::Continuous
    } else {
        DeadBandShape::Step
    }
}

const fn source_value(s: RateSource) -> f64 {
    match s {
        RateSource::Gyro => 0.0,
        RateSource::Difference => 1.0,
    }
}

fn source(v: f64) -> RateSource {
    if v < 0.5 {
        RateSource::Gyro
    } else {
        RateSource::Difference
    }
}

pub(super) const KNOBS: &[Knob] = &[
    choice("sensing.ideal", "ideal sensing", NO_YES,
        "Perfect sensors instead of the modelled ones, to see what sensing costs.",
        |r| as_f64(r.sensing.ideal), |r, v| r.sensing.ideal = v > 0.5),
    whole(num("sensing.joint_counts", "", "joint sensor counts", U::Count, [64.0, 262_144.0, 1.0],
        "Counts a turn of the sensors on drive and head joint.",
        |r| r.sensing.joint_counts, |r, v| r.sensing.joint_counts = v).log()),
    num("sensing.gyro_bias", "", "gyro bias", U::RadianPerSecond, [-5.0 * DEG, 5.0 * DEG, 0.01 * DEG],
        "Constant error of the gyro.",
        |r| r.sensing.gyro_bias, |r, v| r.sensing.gyro_bias = v),
    num("sensing.gyro_noise", "", "gyro noise", U::RadianPerSecond, [0.0, 10.0 * DEG, 0.01 * DEG],
        "Standard deviation of the gyro's noise at each tick.",
        |r| r.sensing.gyro_noise, |r, v| r.sensing.gyro_noise = v),
    num("sensing.accelerometer_noise", "", "accelerometer noise", U::MetrePerSquareSecond, [0.0, 5.0, 0.01],
        "Standard deviation of the accelerometer's noise at each tick.",
        |r| r.sensing.accelerometer_noise, |r, v| r.sensing.accelerometer_noise = v),
    num("sensing.angle_time", "T", "angle time", U::Second, [0.05, 60.0, 0.05],
        "Time with which the gyro's angle is drawn to the accelerometer. Short: it follows every push; long: it drifts with the gyro.",
        |r| r.sensing.angle_time, |r, v| r.sensing.angle_time = v).log(),
    num("sensing.mount_below_centre", "", "sensor below centre", U::Metre, [-1.0, 1.0, 0.001],
        "Where the motion sensor is mounted on the carriage, below the shell's centre.",
        |r| r.sensing.mount_below_centre, |r, v| r.sensing.mount_below_centre = v),
    num("sensing.drop_out", "", "lost messages", U::Share, [0.0, 0.9, 0.01],
        "Share of ticks at which the sensor's message is lost and the last one stands.",
        |r| r.sensing.drop_out, |r, v| r.sensing.drop_out = v),
    num("timing.loop_rate", "", "loop rate", U::Hertz, [10.0, 1000.0, 1.0],
        "How often the software senses and acts.",
        |r| r.timing.loop_rate, |r, v| r.timing.loop_rate = v).log(),
    whole(num("timing.delay_ticks", "n_d", "delay", U::Count, [0.0, 32.0, 1.0],
        "Ticks between sensing and the output taking effect. Delay is poison to damping.",
        |r| r.timing.delay_ticks, |r, v| r.timing.delay_ticks = v)),
    num("lean.correction", "P", "correction P", U::RadianPerRadian, [0.0, 5.0, 0.01],
        "How far the carriage is moved against each degree of lean.",
        |r| r.lean.correction, |r, v| r.lean.correction = v),
    num("lean.memory", "I", "memory I", U::PerSecond, [0.0, 5.0, 0.01],
        "How fast a lasting lean builds up a lasting answer.",
        |r| r.lean.memory, |r, v| r.lean.memory = v),
    num("lean.memory_limit", "", "memory limit", U::Radian, [0.0, 60.0 * DEG, 0.5 * DEG],
        "Greatest share of the carriage target that memory may hold.",
        |r| r.lean.memory_limit, |r, v| r.lean.memory_limit = v),
    num("lean.damping", "D", "damping D", U::RadianSecondPerRadian, [0.0, 3.0, 0.01],
        "How far the carriage is moved against the speed of leaning. Too little rocks on, too much shakes.",
        |r| r.lean.damping, |r, v| r.lean.damping = v),
    num("lean.smoothing", "τ", "smoothing", U::Second, [0.0, 0.5, 0.001],
        "Smoothing of the damping term: less noise, more delay.",
        |r| r.lean.smoothing, |r, v| r.lean.smoothing = v),
    num("lean.dead_band", "w", "calm zone (dead band)", U::Radian, [0.0, 15.0 * DEG, 0.1 * DEG],
        "Half width of the zone about the set point inside which correction rests: quiet against sway.",
        |r| r.lean.dead_band, |r, v| r.lean.dead_band = v),
    choice("lean.dead_band_shape", "calm zone's form", SHAPES,
        "Continuous: outside the zone only the excess counts. Step: the whole error counts at once.",
        |r| shape_value(r.lean.dead_band_shape), |r, v| r.lean.dead_band_shape = shape(v)),
    choice("lean.gated_damping", "damping rests in calm zone", NO_YES,
        "Whether the damping term also rests inside the calm zone.",
        |r| as_f64(r.lean.gated_damping), |r, v| r.lean.gated_damping = v > 0.5),
    choice("lean.rate_source", "rate from", SOURCES,
        "Whether damping takes its rate from the gyro or from differences of the angle.",
        |r| source_value(r.lean.rate_source), |r, v| r.lean.rate_source = source(v)),
    num("lean.slew", "", "target slew", U::RadianPerSecond, [5.0 * DEG, 1500.0 * DEG, 5.0 * DEG],
        "Greatest speed at which the carriage target may move.",
        |r| r.lean.slew, |r, v| r.lean.slew = v).log(),
    num("lean.lever_lean", "", "lean at lever's end", U::Radian, [0.0, 30.0 * DEG, 0.5 * DEG],
        "Lean that the lever asks for at its end.",
        |r| r.lean.lever_lean, |r, v| r.lean.lever_lean = v),
    num("carriage_loop.correction", "", "carriage correction", U::DutyPerRadian, [0.0, 60.0, 0.1],
        "Duty for each degree the carriage is off its target.",
        |r| r.carriage_loop.correction, |r, v| r.carriage_loop.correction = v),
    num("carriage_loop.damping", "", "carriage damping", U::DutySecondPerRadian, [0.0, 5.0, 0.005],
        "Duty against the carriage's speed in the shell.",
        |r| r.carriage_loop.damping, |r, v| r.carriage_loop.damping = v),
    num("carriage_loop.duty_limit", "", "duty limit, lean", U::Duty, [0.05, 1.0, 0.01],
        "Greatest duty the carriage loop may give.",
        |r| r.carriage_loop.duty_limit, |r, v| r.carriage_loop.duty_limit = v),
    num("travel.correction", "P", "correction P", U::DutyPerRadian, [0.0, 20.0, 0.01],
        "Duty against each degree of swing.",
        |r| r.travel.correction, |r, v| r.travel.correction = v),
    num("travel.damping", "D", "damping D", U::DutySecondPerRadian, [0.0, 4.0, 0.005],
        "Duty against the speed of swinging. Too little rocks on, too much shakes.",
        |r| r.travel.damping, |r, v| r.travel.damping = v),
    num("travel.speed", "", "speed correction", U::DutySecondPerRadian, [0.0, 4.0, 0.005],
        "Duty against the ball turning faster or slower than asked.",
        |r| r.travel.speed, |r, v| r.travel.speed = v),
    num("travel.memory", "I", "memory I", U::DutyPerRadian, [0.0, 4.0, 0.005],
        "Duty that builds up while the ball's speed is off, so that it comes back to its place.",
        |r| r.travel.memory, |r, v| r.travel.memory = v),
    num("travel.memory_limit", "", "memory limit", U::Duty, [0.0, 1.0, 0.01],
        "Greatest duty that memory may hold.",
        |r| r.travel.memory_limit, |r, v| r.travel.memory_limit = v),
    num("travel.feed_forward", "", "feed-forward", U::One, [0.0, 1.5, 0.01],
        "Share of the swing a wanted acceleration needs that is asked for at once.",
        |r| r.travel.feed_forward, |r, v| r.travel.feed_forward = v),
    num("travel.smoothing", "τ", "smoothing", U::Second, [0.0, 0.5, 0.001],
        "Smoothing of the damping term: less noise, more delay.",
        |r| r.travel.smoothing, |r, v| r.travel.smoothing = v),
    num("travel.dead_band", "w", "calm zone (dead band)", U::Radian, [0.0, 15.0 * DEG, 0.1 * DEG],
        "Half width of the zone of swing inside which correction rests: quiet against sway.",
        |r| r.travel.dead_band, |r, v| r.travel.dead_band = v),
    choice("travel.dead_band_shape", "calm zone's form", SHAPES,
        "Continuous: outside the zone only the excess counts. Step: the whole error counts at once.",
        |r| shape_value(r.travel.dead_band_shape), |r, v| r.travel.dead_band_shape = shape(v)),
    choice("travel.gated_damping", "damping rests in calm zone", NO_YES,
        "Whether the damping term also rests inside the calm zone.",
        |r| as_f64(r.travel.gated_damping), |r, v| r.travel.gated_damping = v > 0.5),
    choice("travel.rate_source", "rate from", SOURCES,
        "Whether damping takes its rate from the gyro or from differences of the angle.",
        |r| source_value(r.travel.rate_source), |r, v| r.travel.rate_source = source(v)),
    num("travel.slew", "", "duty slew", U::PerSecond, [0.5, 1000.0, 0.5],
        "Greatest speed at which the duty may change.",
        |r| r.travel.slew, |r, v| r.travel.slew = v).log(),
    num("travel.duty_limit", "", "duty limit, travel", U::Duty, [0.05, 1.0, 0.01],
        "Greatest duty the travel loop may give.",
        |r| r.travel.duty_limit, |r, v| r.travel.duty_limit = v),
    num("travel.acceleration", "", "start ramp", U::MetrePerSquareSecond, [0.05, 10.0, 0.05],
        "How fast the wanted speed rises.",
        |r| r.travel.acceleration, |r, v| r.travel.acceleration = v).log(),
    num("travel.deceleration", "", "stop ramp", U::MetrePerSquareSecond, [0.05, 10.0, 0.05],
        "How fast the wanted speed falls. A hard stop swings the carriage and dips the head.",
        |r| r.travel.deceleration, |r, v| r.travel.deceleration = v).log(),
    num("travel.lever_speed", "", "speed at lever's end", U::MetrePerSecond, [0.05, 5.0, 0.05],
        "Speed that the lever asks for at its end.",
        |r| r.travel.lever_speed, |r, v| r.travel.lever_speed = v),
    num("levelling.compensation", "", "levelling", U::One, [0.0, 1.5, 0.01],
        "Share of the swing that the head servo takes back: 1 keeps the head level.",
        |r| r.levelling.compensation, |r, v| r.levelling.compensation = v),
    num("levelling.lead", "", "lead", U::One, [0.0, 3.0, 0.05],
        "How much the head moves ahead of a start or stop, as a share of the swing to come.",
        |r| r.levelling.lead, |r, v| r.levelling.lead = v),
    num("levelling.lead_time", "", "lead time", U::Second, [0.01, 2.0, 0.01],
        "How long the lead lasts: about the lag of servo and sensing.",
        |r| r.levelling.lead_time, |r, v| r.levelling.lead_time = v).log(),
    choice("levelling.levels_when_locked", "levels when locked", NO_YES,
        "Whether the head also levels while the robot is locked; a rocking locked robot can be pumped over by it.",
        |r| as_f64(r.levelling.levels_when_locked), |r, v| r.levelling.levels_when_locked = v > 0.5),
    num("guard.swing", "", "swing guard", U::Radian, [5.0 * DEG, 120.0 * DEG, 1.0 * DEG],
        "Swing beyond which the software gives no duty further that way.",
        |r| r.guard.swing, |r, v| r.guard.swing = v),
];
