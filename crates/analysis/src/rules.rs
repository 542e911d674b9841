//! The classic hand methods: ultimate gain and period, by raising the gain or by a relay, and the
//! published rules that go from there.

use kickstill_rig::{Event, Level, Rig};
use kickstill_robot::{Knob, Robot, View, knob};

use crate::about::About;
use crate::model::NoModel;
use crate::response::Loop;
use crate::tick::Break;

const TAU: f64 = 2.0 * core::f64::consts::PI;

/// The gain at which a loop with correction alone just oscillates on, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ultimate {
    /// Ku [the gain's unit].
    pub gain: f64,
    /// Pu [s].
    pub period: f64,
}

/// A published rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Ziegler & Nichols, correction alone: ½·Ku.
    ZieglerNicholsP,
    /// Ziegler & Nichols, with memory: .45·Ku, Pu/1.2.
    ZieglerNicholsPi,
    /// Ziegler & Nichols, with memory and damping: .6·Ku, Pu/2, Pu/8.
    ZieglerNicholsPid,
    /// Tyreus & Luyben, with memory: Ku/3.2, 2.2·Pu.
    TyreusLuybenPi,
    /// Tyreus & Luyben, with memory and damping: Ku/2.2, 2.2·Pu, Pu/6.3.
    TyreusLuybenPid,
}

/// Gains by a rule: u = gain·(e + ∫e dt/memory_time + damping_time·ė).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ruled {
    /// Correction [unit of Ku].
    pub gain: f64,
    /// Memory (integral) time [s].
    pub memory_time: Option<f64>,
    /// Damping (derivative) time [s].
    pub damping_time: Option<f64>,
}

impl Rule {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::ZieglerNicholsP,
        Self::ZieglerNicholsPi,
        Self::ZieglerNicholsPid,
        Self::TyreusLuybenPi,
        Self::TyreusLuybenPid,
    ];

    /// Its name.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::ZieglerNicholsP => "Ziegler & Nichols, P",
            Self::ZieglerNicholsPi => "Ziegler & Nichols, PI",
            Self::ZieglerNicholsPid => "Ziegler & Nichols, PID",
            Self::TyreusLuybenPi => "Tyreus & Luyben, PI",
            Self::TyreusLuybenPid => "Tyreus & Luyben, PID",
        }
    }

    /// Where it was published.
    #[must_use]
    pub fn source(self) -> &'static str {
        match self {
            Self::ZieglerNicholsP | Self::ZieglerNicholsPi | Self::ZieglerNicholsPid => {
                "J. G. Ziegler, N. B. Nichols, Trans. ASME 64, 1942"
            }
            Self::TyreusLuybenPi | Self::TyreusLuybenPid => {
                "B. D. Tyreus, W. L. Luyben, Ind. Eng. Chem. Res. 31, 1992"
            }
        }
    }

    /// The knobs of a plane's loop that it sets, with values [SI] within their ranges. The travel loop has no
    /// memory of its swing (its memory is of the speed): of a rule's memory it takes nothing.
    #[must_use]
    pub fn knobs(self, view: View, ultimate: Ultimate) -> Vec<(&'static Knob, f64)> {
        let g = self.gains(ultimate);
        let damping = g.damping_time.map_or(0.0, |t| t * g.gain);
        let memory = g.memory_time.map_or(0.0, |t| g.gain / t);
        let rows: &[(&str, f64)] = match view {
            View::Side => &[("travel.correction", g.gain), ("travel.damping", damping)],
            View::Front => &[
                ("lean.correction", g.gain),
                ("lean.damping", damping),
                ("lean.memory", memory),
            ],
        };
        rows.iter()
            .filter_map(|(key, value)| {
                let knob = knob(key)?;
                Some((knob, value.max(knob.min).min(knob.max)))
            })
            .collect()
    }

    /// What it makes of Ku and Pu. Sources: J. G. Ziegler, N. B. Nichols, *Optimum settings for
    /// automatic controllers*, Trans. ASME 64, 1942; B. D. Tyreus, W. L. Luyben, *Tuning PI controllers
    /// for integrator/dead time processes*, Ind. Eng. Chem. Res. 31, 1992 (both second hand).
    #[must_use]
    pub fn gains(self, ultimate: Ultimate) -> Ruled {
        let (ku, pu) = (ultimate.gain, ultimate.period);
        let (gain, memory_time, damping_time) = match self {
            Self::ZieglerNicholsP => (0.5 * ku, None, None),
            Self::ZieglerNicholsPi => (0.45 * ku, Some(pu / 1.2), None),
            Self::ZieglerNicholsPid => (0.6 * ku, Some(pu / 2.0), Some(pu / 8.0)),
            Self::TyreusLuybenPi => (ku / 3.2, Some(2.2 * pu), None),
            Self::TyreusLuybenPid => (ku / 2.2, Some(2.2 * pu), Some(pu / 6.3)),
        };
        Ruled {
            gain,
            memory_time,
            damping_time,
        }
    }
}

impl Ultimate {
    /// By raising the gain of `open`: the least factor at which it oscillates on, being stable just below
    /// it (a loop with a dead time is taken to be). None if it never does.
    #[must_use]
    pub fn of_loop(open: &Loop) -> Option<Self> {
        let mut places = open.phase_crossovers();
        places.sort_by(|a, b| a.1.total_cmp(&b.1));
        places
            .into_iter()
            .find(|(_, k)| open.stable_with(0.999 * k).unwrap_or(true))
            .map(|(omega, gain)| Self {
                gain,
                period: TAU / omega,
            })
    }

    /// By a relay of `level` that made an oscillation of `amplitude` and `period` [s]:
    /// Ku = 4·level/(π·amplitude). Source: K. J. Åström, T. Hägglund, *Automatic tuning of simple
    /// regulators*, Automatica 20, 1984.
    #[must_use]
    pub fn of_relay(level: f64, amplitude: f64, period: f64) -> Self {
        Self {
            gain: 4.0 * level / (core::f64::consts::PI * amplitude),
            period,
        }
    }

    /// Ku of `robot`'s own loop in the plane of `view`, its correction alone raised on the linear
    /// model: duty against swing in the side view, carriage target against lean in the front view. None
    /// if correction alone never oscillates on.
    ///
    /// # Errors
    /// See [`NoModel`].
    pub fn by_raising(robot: &Robot, view: View) -> Result<Option<Self>, NoModel> {
        let robot = correction_alone(robot, view, 1.0);
        let open = Loop::new(&robot, view, &About::default(), Break::DeadBand)?;
        Ok(Self::of_loop(&open))
    }

    /// The same by a relay on the whole simulation, friction and all: the firmware's correction so high
    /// that it is always at its limit, `level` (duty in the side view, carriage target [rad] in the front
    /// view). None if no steady oscillation comes of it within half a minute.
    #[must_use]
    pub fn by_relay(robot: &Robot, view: View, level: f64) -> Option<Self> {
        let mut robot = correction_alone(robot, view, RELAY);
        match view {
            View::Side => robot.travel.duty_limit = level,
            View::Front => robot.carriage.lean_travel = level,
        }
        let mut rig = Rig::new(robot.clone(), view, 1);
        rig.apply(Event::Level(Level::Steadied));
        rig.tick();
        rig.roll_at(0.05 * robot.shell.outer_radius);
        let tick = f64::from(rig.tick_us()) * 1e-6;
        let ticks = (30.0 / tick) as usize;
        let mut seen = Vec::with_capacity(ticks);
        for _ in 0..ticks {
            rig.tick();
            if rig.end().is_some() || rig.sample().head_lost() {
                return None;
            }
            seen.push(rig.sample().judged(view));
        }
        swings(&seen[ticks / 2..])
            .map(|(amplitude, swing)| Self::of_relay(level, amplitude, swing * tick))
    }
}

/// Correction at which a loop is a relay for all but the smallest errors: at its limit from a 10,000th
/// of a radian on.
const RELAY: f64 = 1e4;

/// `robot` with nothing but `correction` in its outer loop, and no calm zone nor slew.
fn correction_alone(robot: &Robot, view: View, correction: f64) -> Robot {
    let mut robot = robot.clone();
    match view {
        View::Side => {
            let l = &mut robot.travel;
            (l.correction, l.damping, l.speed, l.memory) = (correction, 0.0, 0.0, 0.0);
            (l.dead_band, l.slew) = (0.0, 1e6);
        }
        View::Front => {
            let l = &mut robot.lean;
            (l.correction, l.damping, l.memory) = (correction, 0.0, 0.0);
            (l.dead_band, l.slew) = (0.0, 1e6);
        }
    }
    robot
}

/// Amplitude and period [samples] of a steady oscillation: half of peak to peak, and the mean time
/// between rises through the middle. None where first and last swings differ by more than a tenth.
pub(crate) fn swings(seen: &[f64]) -> Option<(f64, f64)> {
    let middle = seen.iter().sum::<f64>() / seen.len() as f64;
    let mut rises = Vec::new();
    for (i, pair) in seen.windows(2).enumerate() {
        if pair[0] < middle && pair[1] >= middle {
            rises.push(i as f64 + (middle - pair[0]) / (pair[1] - pair[0]));
        }
    }
    if rises.len() < 4 {
        return None;
    }
    let period = (rises[rises.len() - 1] - rises[0]) / (rises.len() - 1) as f64;
    let half = seen.len() / 2;
    let reach = |part: &[f64]| {
        let top = part.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let bottom = part.iter().copied().fold(f64::INFINITY, f64::min);
        0.5 * (top - bottom)
    };
    let (first, last) = (reach(&seen[..half]), reach(&seen[half..]));
    (first > 0.0 && (first / last - 1.0).abs() < 0.1).then_some((last, period))
}
