//! Reads the reference fixtures and drives the plant through their inputs.
//!
//! Layout and rules of the fixtures: `README.md` beside this folder.
#![allow(dead_code, unreachable_pub)]

use kickstill_number::Within;
use std::path::{Path, PathBuf};

use kickstill_physics::{
    CARRIAGE, Friction, Gears, HEAD, Hold, Inputs, Motor, PlaneParams, Plant, Push, PushAt, SHELL,
    Servo, State, X,
};
use serde_json::Value;

/// One millisecond [µs].
pub const MILLI: u64 = 1000;

/// Folder of the fixtures.
pub fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/reference/fixtures")
}

/// A fixture's text as JSON.
pub fn read(path: &Path) -> Value {
    let text = std::fs::read_to_string(path)
        .unwrap_or_else(|e| panic!("{} cannot be read: {e}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// The number at a JSON pointer.
pub fn num(value: &Value, pointer: &str) -> f64 {
    value
        .pointer(pointer)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("no number at {pointer}"))
}

/// The text at a JSON pointer.
pub fn text<'a>(value: &'a Value, pointer: &str) -> &'a str {
    value
        .pointer(pointer)
        .and_then(Value::as_str)
        .unwrap_or_else(|| panic!("no text at {pointer}"))
}

fn flag(value: &Value, pointer: &str) -> bool {
    value
        .pointer(pointer)
        .and_then(Value::as_bool)
        .unwrap_or_else(|| panic!("no flag at {pointer}"))
}

fn list<'a>(value: &'a Value, pointer: &str) -> &'a [Value] {
    value
        .pointer(pointer)
        .and_then(Value::as_array)
        .unwrap_or_else(|| panic!("no list at {pointer}"))
}

/// Bodies of a fixture's `parameters`, with no loss anywhere, grip to spare, a head that cannot
/// come off and a head joint that is free.
pub fn bodies(p: &Value) -> PlaneParams {
    let none = Friction::default();
    PlaneParams {
        gravity: num(p, "/gravity"),
        radius: num(p, "/shell_radius"),
        shell_mass: num(p, "/shell_mass"),
        shell_inertia: num(p, "/shell_inertia"),
        carriage_mass: num(p, "/carriage_mass"),
        carriage_below: num(p, "/carriage_com_below"),
        carriage_inertia: num(p, "/carriage_inertia"),
        head_mass: num(p, "/head_mass"),
        head_above: num(p, "/head_com_above"),
        head_inertia: num(p, "/head_inertia"),
        servo_inertia: num(p, "/head_rotor_inertia"),
        gears: Gears {
            friction: none,
            efficiency: 1.0,
            backdrive_floor: 1.0,
            rotor_inertia: num(p, "/drive_rotor_inertia"),
            slip_torque: f64::INFINITY,
        },
        bearing: none,
        castors: none,
        rolling_resistance: 0.0,
        rolling_viscous: 0.0,
        grip: 1e3,
        servo: Servo {
            stiffness: 0.0,
            damping: 0.0,
            torque_limit: f64::INFINITY,
            lag: 1.0,
            rate: f64::INFINITY,
            off_dry: 1.0,
            off_breakaway: 1.0,
        },
        hold: Hold {
            force: 1e12,
            shear: 1e12,
            base_radius: 1e12,
        },
        head_half_width: 0.1,
        head_widest_above: num(p, "/head_com_above"),
    }
}

fn dry(f: &Value, element: &str, viscous: f64) -> Friction {
    Friction {
        dry: num(f, &format!("/friction/{element}/kinetic")),
        breakaway: num(f, &format!("/friction/{element}/static")),
        viscous,
    }
}

/// A plane-trajectory fixture.
pub struct Case {
    /// The whole fixture.
    pub json: Value,
    /// Its name.
    pub name: String,
    params: PlaneParams,
    slips: bool,
}

/// One instant of a run, in the order of the fixtures' columns.
#[derive(Clone, Copy, Debug)]
pub struct Row {
    /// Time [s].
    pub t: f64,
    /// State.
    pub state: State,
    /// Traction [N].
    pub traction: f64,
    /// Floor force [N].
    pub normal: f64,
}

impl Row {
    /// The value of a column.
    pub fn column(&self, name: &str) -> f64 {
        match name {
            "t" => self.t,
            "theta" => self.state.q[SHELL],
            "alpha" => self.state.q[CARRIAGE],
            "beta" => self.state.q[HEAD],
            "x" => self.state.q[X],
            "theta_dot" => self.state.v[SHELL],
            "alpha_dot" => self.state.v[CARRIAGE],
            "beta_dot" => self.state.v[HEAD],
            "x_dot" => self.state.v[X],
            "traction" => self.traction,
            "normal_force" => self.normal,
            other => panic!("unknown column {other}"),
        }
    }
}

impl Case {
    /// Reads one fixture.
    pub fn open(path: &Path) -> Self {
        let json = read(path);
        let mut p = bodies(&json["parameters"]);
        p.gears.friction = dry(&json, "drive", num(&json, "/viscous/drive"));
        p.bearing = dry(&json, "head", num(&json, "/viscous/head"));
        p.castors = dry(&json, "head_on_shell", num(&json, "/viscous/head_on_shell"));
        p.rolling_viscous = num(&json, "/viscous/floor");
        p.rolling_resistance = num(&json, "/friction/rolling_resistance");
        let slips = !json["friction"]["grip"].is_null();
        if slips {
            p.grip = num(&json, "/friction/grip");
        }
        let inputs = &json["inputs"];
        if !inputs["servo"].is_null() {
            let servo = &inputs["servo"];
            p.servo.stiffness = num(servo, "/stiffness");
            p.servo.damping = num(servo, "/damping");
            p.servo.lag = num(servo, "/lag");
            p.servo.rate = num(servo, "/rate_limit");
        }
        if !list(inputs, "/head_torque").is_empty() {
            // A further torque at the head joint has no input of its own. A servo whose lag is
            // damping/stiffness gives k(s − ψ) + d((target − s)/lag − ψ̇) = k·(target − ψ) − d·ψ̇,
            // so its target sets that torque directly.
            assert!(
                list(inputs, "/servo/targets")
                    .iter()
                    .all(|t| num(t, "/value") == 0.0)
                    && num(inputs, "/servo/initial") == 0.0,
                "a head torque beside a servo that moves cannot be driven"
            );
            p.servo.lag = p.servo.damping / p.servo.stiffness;
            p.servo.rate = f64::INFINITY;
        }
        Self {
            name: text(&json, "/header/name").to_owned(),
            params: p,
            slips,
            json,
        }
    }

    fn has_continuous(&self, torque: &str) -> bool {
        list(&self.json, torque)
            .iter()
            .any(|t| t["kind"] == "sine" && num(t, "/hold") == 0.0)
    }

    /// Whether the head joint's torque changes within a step.
    pub fn has_continuous_head_torque(&self) -> bool {
        self.has_continuous("/inputs/head_torque")
    }

    /// Runs to `until` [s] in steps of `step_us`, giving a row every `row_us`.
    pub fn run(&self, step_us: u64, row_us: u64, until: f64) -> Vec<Row> {
        let json = &self.json;
        let inputs = &json["inputs"];
        let mut plant = Plant::new(self.params);
        let mut given = Inputs {
            slope: num(json, "/parameters/slope"),
            drive_locked: flag(json, "/locked/carriage"),
            head_locked: flag(json, "/locked/head"),
            ..Inputs::default()
        };
        plant.set_inputs(given);
        plant.set_state(self.start());
        let mut controller = Loop::new(&inputs["loop"]);
        let last = (until * 1e6).round() as u64;
        let mut rows = Vec::new();
        let mut now = 0_u64;
        loop {
            let (t, h) = (now as f64 * 1e-6, step_us as f64 * 1e-6);
            for pulse in list(inputs, "/pulses") {
                if micros(num(pulse, "/start")) == now {
                    plant.push(push_of(pulse));
                }
            }
            if !inputs["servo"].is_null() {
                given.head_powered = true;
                for target in list(inputs, "/servo/targets") {
                    if micros(num(target, "/time")) <= now {
                        given.head_target = num(target, "/value");
                    }
                }
                let terms = list(inputs, "/head_torque");
                if !terms.is_empty() {
                    given.head_target =
                        mean_torque(terms, now, step_us) / self.params.servo.stiffness;
                }
                plant.set_inputs(given);
            }
            let motor = Law::new(
                list(inputs, "/drive_torque"),
                now,
                controller.torque(plant.state(), now),
            );
            if now.is_multiple_of(row_us) {
                let state = *plant.state();
                let effort = plant.effort(&motor);
                rows.push(Row {
                    t,
                    state,
                    traction: effort.traction,
                    normal: effort.normal,
                });
            }
            if now >= last {
                return rows;
            }
            let report = plant.step(h, &motor);
            assert_eq!(report.end, None, "{} at {t} s", self.name);
            assert!(!report.head_lost, "{} at {t} s", self.name);
            now += step_us;
        }
    }

    fn start(&self) -> State {
        let at = |key: &str| num(&self.json, &format!("/initial/{key}"));
        let r = self.params.radius;
        let (theta, theta_dot) = (at("theta"), at("theta_dot"));
        let (x, x_dot) = if self.slips {
            (at("x"), at("x_dot"))
        } else {
            (r * theta, r * theta_dot)
        };
        let servo = &self.json["inputs"]["servo"];
        State {
            q: [x, theta, at("alpha"), at("beta")],
            v: [x_dot, theta_dot, at("alpha_dot"), at("beta_dot")],
            servo: if servo.is_null() {
                0.0
            } else {
                num(servo, "/initial")
            },
        }
    }
}

fn micros(seconds: f64) -> u64 {
    (seconds * 1e6).round() as u64
}

fn push_of(pulse: &Value) -> Push {
    Push {
        at: match text(pulse, "/on") {
            "shell" => PushAt::Shell(num(pulse, "/height")),
            "head" => PushAt::Head,
            other => panic!("a pulse on {other}"),
        },
        peak: num(pulse, "/peak"),
        duration: num(pulse, "/duration"),
        elapsed: 0.0,
    }
}

fn acts(term: &Value, now: u64) -> bool {
    // 1e9 s stands for no end.
    micros(num(term, "/start")) <= now && (now as f64) < num(term, "/end") * 1e6 - 0.5
}

fn sine(term: &Value, t: f64) -> f64 {
    let w = num(term, "/angular_frequency");
    num(term, "/amplitude") * libm::sin(w * t + num(term, "/phase"))
}

/// When a sampled term was last sampled [s].
fn sampled(term: &Value, now: u64) -> f64 {
    let hold = micros(num(term, "/hold"));
    (now / hold * hold) as f64 * 1e-6
}

/// Torque at an instant [N·m].
fn torque_at(terms: &[Value], now: u64) -> f64 {
    terms
        .iter()
        .filter(|t| acts(t, now))
        .map(|t| match text(t, "/kind") {
            "constant" => num(t, "/value"),
            _ if num(t, "/hold") > 0.0 => sine(t, sampled(t, now)),
            _ => sine(t, now as f64 * 1e-6),
        })
        .sum()
}

/// The drive's torque from an instant on: terms of the fixture and the sampled loop.
struct Law {
    held: f64,
    /// Amplitude, angular frequency, phase at that instant.
    sines: Vec<[f64; 3]>,
    stamp: u64,
}

impl Law {
    fn new(terms: &[Value], now: u64, looped: f64) -> Self {
        let continuous = |t: &&Value| t["kind"] == "sine" && num(t, "/hold") == 0.0;
        let mut law = Law {
            held: looped,
            sines: Vec::new(),
            stamp: 0,
        };
        for term in terms.iter().filter(|t| acts(t, now)) {
            if continuous(&term) {
                let w = num(term, "/angular_frequency");
                let phase = w * (now as f64 * 1e-6) + num(term, "/phase");
                law.sines.push([num(term, "/amplitude"), w, phase]);
            } else {
                law.held += torque_at(core::slice::from_ref(term), now);
            }
        }
        law.stamp = law.held.to_bits() ^ (law.sines.len() as u64);
        law
    }
}

impl Motor for Law {
    fn torque(&self, _joint_rate: f64, ahead: f64) -> f64 {
        let sines = self.sines.iter();
        self.held
            + sines
                .map(|[a, w, p]| a * libm::sin(w * ahead + p))
                .sum::<f64>()
    }

    fn stamp(&self) -> u64 {
        self.stamp
    }
}

/// Mean torque over a step [N·m].
fn mean_torque(terms: &[Value], now: u64, step_us: u64) -> f64 {
    let (t, h) = (now as f64 * 1e-6, step_us as f64 * 1e-6);
    terms
        .iter()
        .filter(|t| acts(t, now))
        .map(|term| {
            if term["kind"] == "sine" && num(term, "/hold") == 0.0 {
                let w = num(term, "/angular_frequency");
                // Mean of a sine: its middle value times sin(ωh/2)/(ωh/2).
                let half = 0.5 * w * h;
                sine(term, t + 0.5 * h) * libm::sin(half) / half
            } else {
                torque_at(core::slice::from_ref(term), now)
            }
        })
        .sum()
}

/// The sampled loop of a fixture.
struct Loop<'a> {
    law: &'a Value,
    /// Outputs by the tick that sensed them.
    outputs: Vec<f64>,
}

impl<'a> Loop<'a> {
    fn new(law: &'a Value) -> Self {
        Self {
            law,
            outputs: Vec::new(),
        }
    }

    fn torque(&mut self, y: &State, now: u64) -> f64 {
        if self.law.is_null() {
            return 0.0;
        }
        let tick = micros(num(self.law, "/tick"));
        if now.is_multiple_of(tick) {
            self.outputs.push(self.law_of(y));
        }
        let delay = num(self.law, "/delay_ticks") as usize;
        let k = (now / tick) as usize;
        if k >= delay {
            self.outputs[k - delay]
        } else {
            0.0
        }
    }

    fn law_of(&self, y: &State) -> f64 {
        let (angle, rate) = match text(self.law, "/measured") {
            "theta" => (y.q[SHELL], y.v[SHELL]),
            "alpha" => (y.q[CARRIAGE], y.v[CARRIAGE]),
            "beta" => (y.q[HEAD], y.v[HEAD]),
            "rho" => (y.drive_angle(), y.drive_rate()),
            "psi" => (y.head_angle(), y.head_rate()),
            other => panic!("a loop on {other}"),
        };
        let error = angle - num(self.law, "/target");
        let band = num(self.law, "/dead_band");
        let past = error - error.within(-band, band);
        let limit = num(self.law, "/torque_limit");
        let torque = -num(self.law, "/proportional") * past - num(self.law, "/derivative") * rate;
        torque.within(-limit, limit)
    }
}
