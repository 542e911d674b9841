//! How long a pack lasts under a programme that repeats.

use crate::cells::{ChargeCount, Pack};
use crate::source::within;

/// What one segment takes from the pack.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// Constant current [A], negative while fed back.
    Current(f64),
    /// Constant power at the terminals [W], not below 0: electronics, regulators, a mean drive.
    Power(f64),
}

/// One piece of a programme: so long this load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// How long [s].
    pub duration: f64,
    /// What is taken meanwhile.
    pub load: Load,
}

/// Why a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ending {
    /// The charge is used.
    Empty,
    /// The voltage under load fell to the floor.
    Floor,
    /// The power asked for is more than the pack can give at any current.
    TooMuchPower,
    /// Neither within the time looked at.
    NotEnded,
    /// The programme has no length.
    NoProgramme,
}

/// How long a pack lasted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunTime {
    /// Time until the end [s].
    pub time: f64,
    /// Programmes begun and ended, with the share of the last.
    pub repeats: f64,
    /// Why it ended.
    pub ending: Ending,
    /// Charge and energy taken.
    pub taken: ChargeCount,
    /// Lowest voltage met [V].
    pub lowest_voltage: f64,
    /// How full the pack is at the end, 0 … 1.
    pub fill: f64,
}

/// Longest run looked at [s]: 30 days.
pub const LONGEST_RUN: f64 = 30.0 * 86_400.0;

/// Longest step within a segment [s]; the open voltage is held over it.
const STEP: f64 = 5.0;

/// Steps after which the look is given up.
const STEPS: u32 = 2_000_000;

/// Current and terminal voltage of `load` on `pack` at `fill`; `None` where the power cannot be
/// given.
///
/// Constant power is V² − V_oc·V + R·P = 0, the greater root (textbook; the maximum is V_oc²/4R).
#[must_use]
pub fn solve_load(pack: &Pack, load: Load, fill: f64) -> Option<(f64, f64)> {
    let open = pack.open_voltage(fill);
    let ohms = pack.resistance();
    match load {
        Load::Current(current) => {
            let current = if current.is_nan() {
                0.0
            } else {
                within(current, -1e9, 1e9)
            };
            Some((current, (open - current * ohms).max(0.0)))
        }
        Load::Power(power) => {
            let power = within(power, 0.0, 1e9);
            let square = open * open - 4.0 * ohms * power;
            if square < 0.0 {
                return None;
            }
            let voltage = 0.5 * (open + square.sqrt());
            Some((power / voltage.max(1e-9), voltage))
        }
    }
}

/// How long `pack`, full to `start` (0 … 1), lasts while `programme` repeats.
///
/// Ends at the floor voltage under load, or when the charge (Peukert's law included) is used.
/// Takes no memory; the voltage is held over steps of at most 5 s.
#[must_use]
pub fn run_time(pack: &Pack, programme: &[Segment], start: f64) -> RunTime {
    let start = within(start, 0.0, 1.0);
    let mut run = RunTime {
        time: 0.0,
        repeats: 0.0,
        ending: Ending::NotEnded,
        taken: ChargeCount::default(),
        lowest_voltage: pack.open_voltage(start),
        fill: start,
    };
    let length: f64 = programme.iter().map(length_of).sum();
    if length <= 0.0 {
        run.ending = Ending::NoProgramme;
        return run;
    }
    if start <= 0.0 {
        run.ending = Ending::Empty;
        return run;
    }
    let mut steps = 0;
    'run: loop {
        for segment in programme {
            let mut left = length_of(segment);
            while left > 0.0 {
                steps += 1;
                if steps > STEPS || run.time >= LONGEST_RUN {
                    break 'run;
                }
                let dt = left.min(STEP);
                if let Some(ending) = step(&mut run, pack, segment.load, start, dt) {
                    run.ending = ending;
                    break 'run;
                }
                left -= dt;
            }
        }
    }
    run.repeats = run.time / length;
    run
}

fn length_of(segment: &Segment) -> f64 {
    within(segment.duration, 0.0, LONGEST_RUN)
}

/// One step; the ending if it came.
fn step(run: &mut RunTime, pack: &Pack, load: Load, start: f64, dt: f64) -> Option<Ending> {
    let Some((current, voltage)) = solve_load(pack, load, run.fill) else {
        return Some(Ending::TooMuchPower);
    };
    run.lowest_voltage = run.lowest_voltage.min(voltage);
    if voltage < pack.floor_voltage() {
        return Some(Ending::Floor);
    }
    let drain = pack.drain(current);
    let room = run.fill * pack.charge();
    let empty = drain * dt >= room;
    let dt = if empty && drain > 0.0 {
        room / drain
    } else {
        dt
    };
    run.taken.step(pack, current, voltage, dt);
    run.time += dt;
    run.fill = run.taken.fill(pack, start);
    (empty && drain > 0.0).then_some(Ending::Empty)
}

/// Mean, root-mean-square and peak of a recorded current.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Profile {
    /// Mean current, fed back taken off [A].
    pub mean: f64,
    /// Root of the mean square [A]: what heats wire and fuse.
    pub rms: f64,
    /// Greatest current out of the pack [A].
    pub peak: f64,
    /// Mean drain of the rated capacity, Peukert's law included [A].
    pub drain: f64,
    /// Length [s].
    pub duration: f64,
}

impl Profile {
    /// Of `current` [A] recorded every `dt` [s] on `pack`.
    #[must_use]
    pub fn of(pack: &Pack, current: &[f64], dt: f64) -> Self {
        let dt = within(dt, 0.0, 1e6);
        if current.is_empty() || dt <= 0.0 {
            return Self::default();
        }
        let (mut sum, mut square, mut peak, mut drain, mut count) = (0.0, 0.0, 0.0_f64, 0.0, 0.0);
        for &value in current {
            let i = if value.is_nan() {
                0.0
            } else {
                within(value, -1e9, 1e9)
            };
            sum += i;
            square += i * i;
            peak = peak.max(i);
            drain += pack.drain(i);
            count += 1.0;
        }
        Self {
            mean: sum / count,
            rms: (square / count).sqrt(),
            peak,
            drain: drain / count,
            duration: count * dt,
        }
    }

    /// How long `pack`, full to `start`, lasts while this repeats [s], closed form; `None` where
    /// the profile takes nothing on the whole.
    ///
    /// Ends when the charge is used or when the peak would pull the voltage to the floor,
    /// whichever is first.
    #[must_use]
    pub fn run_time(&self, pack: &Pack, start: f64) -> Option<(f64, Ending)> {
        if self.drain <= 0.0 {
            return None;
        }
        let start = within(start, 0.0, 1.0);
        let stop = fill_at_floor(pack, self.peak);
        let ending = if stop > 0.0 {
            Ending::Floor
        } else {
            Ending::Empty
        };
        let charge = (start - stop).max(0.0) * pack.charge();
        Some(((charge / self.drain).min(LONGEST_RUN), ending))
    }
}

/// Fill at which `current` [A] pulls the voltage to the floor, 0 … 1; 0 where it never does, 1
/// where it does when full.
#[must_use]
pub fn fill_at_floor(pack: &Pack, current: f64) -> f64 {
    let needed = pack.floor_voltage() + pack.sag(current.max(0.0));
    let (empty, half, full) = (
        pack.open_voltage(0.0),
        pack.open_voltage(0.5),
        pack.open_voltage(1.0),
    );
    if needed <= empty {
        0.0
    } else if needed <= half {
        0.5 * (needed - empty) / (half - empty)
    } else {
        within(0.5 + 0.5 * (needed - half) / (full - half), 0.0, 1.0)
    }
}
